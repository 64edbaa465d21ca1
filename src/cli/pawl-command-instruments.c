/* pawl instruments: the register of what the shop measures with. */
#include <stdio.h>

#include "cli/pawl-cli.h"
#include "register/pawl-register.h"

typedef struct {
  char    *record, *person, *on;
  char    *fields[16]; /* as the table in add_fields() */
  gboolean is_json;
} Options;

static const struct { const char *option, *field, *help, *example; } FIELDS[] = {
  { "kind", "kind", "What procedures call it, like caliper", "KIND" },
  { "name", "name", "Maker and model", "TEXT" },
  { "range", "range", "What it can read, like “0..25 mm”", "RANGE" },
  { "error", "error", "Maximum permissible error, like “±0.02 mm”", "ERROR" },
  { "step", "step", "Its smallest step, like “0.01 mm”", "STEP" },
  { "reference", "reference", "Error of what it was set or checked by", "ERROR" },
  { "calibrated", "calibrated", "Day of its last calibration, like 2026-03-01", "DAY" },
  { "due", "due", "Day when it has to be calibrated again", "DAY" },
  { "note", "note", "Anything else", "TEXT" },
  { "certificate", "certificate", "Number of the certificate, with “calibrated”", "TEXT" },
  { "reason", "reason", "Why it is retired", "TEXT" },
  { "prefix", "prefix", "What it types before a reading", "TEXT" },
  { "suffix", "suffix", "What it types after a reading", "TEXT" },
  { "terminator", "terminator", "What ends it: enter, tab or none", "KEY" },
  { "decimal-mark", "decimal-mark", "What it types as decimal mark", "MARK" },
  { "unit", "unit", "What its bare numbers are in", "UNIT" },
};
G_STATIC_ASSERT (G_N_ELEMENTS (FIELDS) == G_N_ELEMENTS (((Options *) NULL)->fields));

static void
clear_options (Options *self)
{
  g_free (self->record);
  g_free (self->person);
  g_free (self->on);
  for (guint i = 0; i < G_N_ELEMENTS (self->fields); i++)
    g_free (self->fields[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

/* ---- showing ---- */

static void
print_line (const PawlGauge *gauge, GDateTime *now)
{
  g_autofree char *standing = pawl_gauge_describe_standing (gauge, now);
  g_autofree char *error = pawl_gauge_describe_error (gauge, '.');

  printf ("%s  %s%s%s%s%s, %s: %s\n", gauge->mark, gauge->kind, *gauge->name != '\0' ? ", " : "", gauge->name,
          *gauge->range != '\0' ? ", " : "", gauge->range, *error != '\0' ? error : "error not stated", standing);
}

static void
add_json (JsonBuilder *builder, const PawlGauge *gauge, GDateTime *now)
{
  const struct { const char *member; PawlQuantity *quantity; } parts[] = {
    { "error", gauge->instrument.max_error }, { "step", gauge->instrument.step }, { "reference", gauge->instrument.reference },
  };
  const struct { const char *member; const GDate *date; } dates[] = { { "calibrated", gauge->calibrated }, { "due", gauge->due } };

  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "mark", gauge->mark);
  pawl_cli_add_string (builder, "kind", gauge->kind);
  pawl_cli_add_string (builder, "name", gauge->name);
  pawl_cli_add_string (builder, "range", gauge->range);
  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      g_autofree char *text = parts[i].quantity != NULL ? pawl_quantity_format_exact (parts[i].quantity, '.') : NULL;

      pawl_cli_add_string (builder, parts[i].member, text);
    }
  for (guint i = 0; i < G_N_ELEMENTS (dates); i++)
    {
      char text[32] = "";

      if (dates[i].date != NULL)
        g_date_strftime (text, sizeof text, "%Y-%m-%d", dates[i].date);
      pawl_cli_add_string (builder, dates[i].member, *text != '\0' ? text : NULL);
    }
  pawl_cli_add_string (builder, "standing", pawl_standing_get_word (pawl_gauge_get_standing (gauge, now)));
  pawl_cli_add_string (builder, "reason", gauge->reason);
  pawl_cli_add_string (builder, "note", gauge->note);
  pawl_cli_add_string (builder, "prefix", gauge->burst.prefix);
  pawl_cli_add_string (builder, "suffix", gauge->burst.suffix);
  pawl_cli_add_string (builder, "unit-symbol", gauge->burst.unit != NULL ? pawl_unit_get_symbol (gauge->burst.unit) : NULL);
  pawl_cli_add_int (builder, "entry-count", gauge->entries->len);
  json_builder_end_object (builder);
}

static int
list (PawlRecord *record, const Options *options, GError **error)
{
  g_autoptr (PawlRegister) instruments = pawl_register_load (record, error);
  g_autoptr (GDateTime) now = pawl_record_dup_now (record);
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  gboolean is_any_overdue = FALSE;

  if (!instruments)
    return PAWL_EXIT_COULD_NOT;
  json_builder_begin_array (builder);
  for (guint i = 0; i < pawl_register_list (instruments)->len; i++)
    {
      const PawlGauge *gauge = g_ptr_array_index (pawl_register_list (instruments), i);

      is_any_overdue |= pawl_gauge_get_standing (gauge, now) == PAWL_STANDING_OUT_OF_DATE;
      if (options->is_json)
        add_json (builder, gauge, now);
      else
        print_line (gauge, now);
    }
  json_builder_end_array (builder);
  if (options->is_json)
    pawl_cli_print_json (builder);
  return is_any_overdue ? PAWL_EXIT_FINDINGS : PAWL_EXIT_FINE;
}

static void
print_life (const PawlGauge *gauge)
{
  for (guint i = 0; i < gauge->entries->len; i++)
    {
      const PawlEntry *entry = g_ptr_array_index (gauge->entries, i);
      g_autofree char *at = pawl_cli_format_time (pawl_entry_peek_at (entry));
      g_auto (GStrv) names = pawl_entry_list_fields (entry);

      printf ("  %s  %s, %s", at, pawl_entry_kind_get_name (pawl_entry_get_kind (entry)), pawl_entry_get_person (entry));
      for (char **name = names; *name; name++)
        printf ("; %s %s", *name, pawl_entry_get (entry, *name));
      printf ("\n");
    }
}

static int
show (PawlRecord *record, const char *mark, const Options *options, GError **error)
{
  g_autoptr (PawlRegister) instruments = pawl_register_load (record, error);
  g_autoptr (GDateTime) now = pawl_record_dup_now (record);
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  const PawlGauge *gauge;

  if (!instruments)
    return PAWL_EXIT_COULD_NOT;
  if (!(gauge = pawl_register_lookup (instruments, mark)))
    {
      g_set_error (error, PAWL_REGISTER_ERROR, PAWL_REGISTER_ERROR_UNKNOWN, "%s is not in the register; “pawl instruments” lists it", mark);
      return PAWL_EXIT_COULD_NOT;
    }
  if (options->is_json)
    {
      add_json (builder, gauge, now);
      pawl_cli_print_json (builder);
      return PAWL_EXIT_FINE;
    }
  print_line (gauge, now);
  print_life (gauge);
  return PAWL_EXIT_FINE;
}

/* ---- stating ---- */

static GDateTime *
find_time (PawlRecord *record, const char *on, GError **error)
{
  g_autoptr (GDateTime) now = pawl_record_dup_now (record);
  g_autofree char *noon = NULL;
  GDateTime *time;

  if (!on)
    return g_steal_pointer (&now);
  noon = g_strdup_printf ("%sT12:00:00", on);
  if (!(time = g_date_time_new_from_iso8601 (noon, g_date_time_get_timezone (now))))
    g_set_error (error, PAWL_REGISTER_ERROR, PAWL_REGISTER_ERROR_BAD_FIELD, "--on, “%s”: a day is written like 2026-03-01", on);
  return time;
}

static int
append (PawlRecord *record, PawlEntryKind kind, gboolean is_change, const char *mark, const Options *options, GError **error)
{
  g_autoptr (GDateTime) at = find_time (record, options->on, error);
  g_autoptr (PawlEntry) entry = NULL;

  if (!at)
    return PAWL_EXIT_COULD_NOT;
  entry = pawl_entry_new (kind, mark, options->person ? options->person : g_get_user_name (), at);
  for (guint i = 0; i < G_N_ELEMENTS (FIELDS); i++)
    pawl_entry_set (entry, FIELDS[i].field, options->fields[i]);
  if (is_change)
    pawl_entry_set (entry, "change", "yes");
  if (!pawl_register_append (record, entry, error))
    return g_error_matches (*error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB) || (*error)->domain != PAWL_REGISTER_ERROR ? PAWL_EXIT_COULD_NOT : PAWL_EXIT_FINDINGS;
  return show (record, mark, options, error);
}

static const struct { const char *name; PawlEntryKind kind; gboolean is_change; } VERBS[] = {
  { "add", PAWL_ENTRY_INSTRUMENT_STATED, FALSE },
  { "change", PAWL_ENTRY_INSTRUMENT_STATED, TRUE },
  { "calibrated", PAWL_ENTRY_INSTRUMENT_CALIBRATED, FALSE },
  { "retire", PAWL_ENTRY_INSTRUMENT_RETIRED, FALSE },
};

static int
run (int argc, char **argv, const Options *options, GError **error)
{
  const char *verb = argc > 1 ? argv[1] : "list";
  gboolean is_read = g_str_equal (verb, "list") || g_str_equal (verb, "show");
  g_autoptr (PawlRecord) record = pawl_cli_open_record (options->record, is_read ? PAWL_RECORD_OPEN_READ_ONLY : PAWL_RECORD_OPEN_CREATE, error);

  if (!record)
    return PAWL_EXIT_COULD_NOT;
  if (g_str_equal (verb, "list"))
    return list (record, options, error);
  if (is_read)
    return show (record, argv[2], options, error);
  for (guint i = 0; i < G_N_ELEMENTS (VERBS); i++)
    if (g_str_equal (VERBS[i].name, verb))
      return append (record, VERBS[i].kind, VERBS[i].is_change, argv[2], options, error);
  g_return_val_if_reached (PAWL_EXIT_COULD_NOT);
}

/* Before the record is opened, so that a slip of the pen makes no file. */
static gboolean
check_use (int argc, char **argv)
{
  const char *verb = argc > 1 ? argv[1] : "list";
  gboolean is_known = g_str_equal (verb, "list") || g_str_equal (verb, "show");

  for (guint i = 0; i < G_N_ELEMENTS (VERBS); i++)
    is_known |= g_str_equal (VERBS[i].name, verb);
  if (!is_known)
    pawl_cli_complain (argv[0], "“%s” is none of list, show, add, change, calibrated, retire", verb);
  else if (!g_str_equal (verb, "list") && argc < 3)
    pawl_cli_complain (argv[0], "which instrument? Say its mark, for instance pawl instruments %s MIC-3", verb);
  else
    return TRUE;
  return FALSE;
}

int
pawl_command_instruments (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  g_autoptr (GArray) entries = g_array_new (TRUE, TRUE, sizeof (GOptionEntry));
  const GOptionEntry common[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    { "person", 0, 0, G_OPTION_ARG_FILENAME, &options.person, "Who states it; without it, the user's name", "NAME" },
    { "on", 0, 0, G_OPTION_ARG_FILENAME, &options.on, "Day when it happened; without it, today", "DAY" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print JSON", NULL },
  };
  g_autoptr (GError) error = NULL;
  int code;

  g_array_append_vals (entries, common, G_N_ELEMENTS (common));
  for (guint i = 0; i < G_N_ELEMENTS (FIELDS); i++)
    {
      const GOptionEntry entry = { FIELDS[i].option, 0, 0, G_OPTION_ARG_FILENAME, &options.fields[i], FIELDS[i].help, FIELDS[i].example };

      g_array_append_val (entries, entry);
    }
  if (!pawl_cli_parse (&argc, &argv, (const GOptionEntry *) (gpointer) entries->data, "[list | show MARK | add MARK | change MARK | calibrated MARK | retire MARK]",
                       "The register of instruments: what the shop measures with, how well, and when each is due. Nothing in it is ever overwritten.", 0, 2)
      || !check_use (argc, argv))
    return PAWL_EXIT_COULD_NOT;
  code = run (argc, argv, &options, &error);
  if (!error)
    return code;
  pawl_cli_fail (argv[0], error);
  return code;
}
