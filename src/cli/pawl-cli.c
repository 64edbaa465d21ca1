#include "cli/pawl-cli.h"

#include <stdio.h>

#include "cli/pawl-cli-share.h"
#include "share/pawl-address.h"

/* A message quotes no more than so many characters. */
#define QUOTED_MAX 80

/* ---- options and messages ---- */

void
pawl_cli_complain (const char *command, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  fprintf (stderr, "%s: %s\n", command, message);
}

int
pawl_cli_fail (const char *command, const GError *error)
{
  pawl_cli_complain (command, "%s", error->message);
  return PAWL_EXIT_COULD_NOT;
}

static gboolean
check_arguments (int argc, char **argv, const char *parameters, int min, int max)
{
  int n = argc - 1;

  for (int i = 1; i < argc; i++)
    if (!g_utf8_validate (argv[i], -1, NULL))
      {
        pawl_cli_complain (argv[0], "argument %d is not UTF-8 text", i);
        return FALSE;
      }
  if (n >= min && (max < 0 || n <= max))
    return TRUE;
  pawl_cli_complain (argv[0], "%s; it is used as: %s %s", n < min ? "something is missing" : "too many arguments", argv[0], parameters);
  return FALSE;
}

gboolean
pawl_cli_parse (int *argc, char ***argv, const GOptionEntry *entries, const char *parameters, const char *summary, int min, int max)
{
  g_autoptr (GOptionContext) context = g_option_context_new (parameters);
  g_autoptr (GError) error = NULL;

  g_option_context_set_summary (context, summary);
  g_option_context_add_main_entries (context, entries, NULL);
  if (!g_option_context_parse (context, argc, argv, &error))
    {
      pawl_cli_complain ((*argv)[0], "%s; “%s --help” lists the options", error->message, (*argv)[0]);
      return FALSE;
    }
  return check_arguments (*argc, *argv, parameters, min, max);
}

/* Half of a letter is no letter, so the cut is made between two. */
char *
pawl_cli_dup_quoted (const char *typed)
{
  g_autofree char *valid = g_utf8_make_valid (typed, -1);

  return g_utf8_strlen (valid, -1) <= QUOTED_MAX ? g_steal_pointer (&valid) : g_utf8_substring (valid, 0, QUOTED_MAX);
}

gboolean
pawl_cli_refuse_value (const char *option, const char *value, const char *wanted, GError **error)
{
  g_autofree char *quoted = pawl_cli_dup_quoted (value);

  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "%s “%s” is not understood; it is %s", option, quoted, wanted);
  return FALSE;
}

gboolean
pawl_cli_read_typing (const char *decimal_mark, const char *unit, PawlTyping *typing, GError **error)
{
  *typing = (PawlTyping) { .decimal_mark = '.' };
  if (decimal_mark != NULL)
    {
      if (!g_str_equal (decimal_mark, ".") && !g_str_equal (decimal_mark, ","))
        return pawl_cli_refuse_value ("--decimal-mark", decimal_mark, "a point or a comma", error);
      typing->decimal_mark = *decimal_mark;
    }
  if (unit != NULL && (typing->default_unit = pawl_unit_lookup (unit)) == NULL)
    return pawl_cli_refuse_value ("--unit", unit, "a unit such as in, mm, thou, turns, N m or psi", error);
  return TRUE;
}

/* ---- record and job ---- */

PawlRecord *
pawl_cli_open_record (const char *path, PawlRecordOpen how, GError **error)
{
  g_autofree char *default_path = path ? NULL : pawl_record_dup_default_path (NULL);
  const PawlRecordHost *host = pawl_record_host_get_system ();
  g_autoptr (PawlRecord) updated = NULL, record = NULL;
  g_autoptr (GError) local_error = NULL;

  if (path && pawl_address_is_one (path))
    return pawl_cli_share_open (path, how, error);
  if (!path)
    path = default_path;
  record = pawl_record_open (path, how, host, &local_error);
  /* Of an older version: to open it to write brings it up to date. Where that can't be, the first sentence says what to do. */
  if (g_error_matches (local_error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_OLDER)
      && (updated = pawl_record_open (path, PAWL_RECORD_OPEN_CREATE, host, NULL)))
    {
      g_clear_error (&local_error);
      record = pawl_record_open (path, how, host, &local_error);
    }
  if (!record)
    g_propagate_error (error, g_steal_pointer (&local_error));
  return g_steal_pointer (&record);
}

PawlBench *
pawl_cli_open_job (const char *record_path, const char *text, GError **error)
{
  g_autoptr (PawlRecord) record = pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_READ_ONLY, error);
  g_autofree char *id = record ? pawl_record_find_job (record, text, error) : NULL;

  return id ? pawl_bench_resume (record, id, NULL, error) : NULL;
}

PawlBench *
pawl_cli_open_job_to_write (const char *record_path, const char *text, GError **error)
{
  g_autoptr (PawlRecord) found = pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_READ_ONLY, error); /* makes no new one */
  g_autofree char *id = found ? pawl_record_find_job (found, text, error) : NULL;
  g_autoptr (PawlRecord) record = id ? pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_CREATE, error) : NULL;

  return record ? pawl_bench_resume (record, id, NULL, error) : NULL;
}

char *
pawl_cli_describe_progress (PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  guint total, n_left_out = 0, n_over = pawl_job_count_done (job, &total);

  for (guint i = 0; i < steps->len; i++)
    n_left_out += ((const PawlStepState *) g_ptr_array_index (steps, i))->status == PAWL_STEP_SKIPPED;
  if (n_left_out == 0)
    return g_strdup_printf ("%u of %u steps done", n_over, total);
  return g_strdup_printf ("%u of %u steps done, %u left out", n_over - n_left_out, total, n_left_out);
}

/* ---- JSON ---- */

void
pawl_cli_print_json (JsonBuilder *builder)
{
  g_autoptr (JsonNode) root = json_builder_get_root (builder);
  g_autofree char *text = json_to_string (root, TRUE);

  puts (text);
}

void
pawl_cli_add_string (JsonBuilder *builder, const char *member, const char *value)
{
  json_builder_set_member_name (builder, member);
  if (value)
    json_builder_add_string_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

void
pawl_cli_add_time (JsonBuilder *builder, const char *member, GDateTime *time)
{
  g_autofree char *text = time ? pawl_csv_format_time (time) : NULL;

  pawl_cli_add_string (builder, member, text);
}

void
pawl_cli_add_int (JsonBuilder *builder, const char *member, gint64 value)
{
  json_builder_set_member_name (builder, member);
  json_builder_add_int_value (builder, value);
}

void
pawl_cli_add_count (JsonBuilder *builder, const char *member, gboolean is_known, gint64 value)
{
  json_builder_set_member_name (builder, member);
  if (is_known)
    json_builder_add_int_value (builder, value);
  else
    json_builder_add_null_value (builder);
}

char *
pawl_cli_format_time (GDateTime *time)
{
  return time ? g_date_time_format (time, "%Y-%m-%d %H:%M") : g_strdup ("");
}
