/* pawl verify: recompute every digest of a job, or of the whole record. */
#include <stdio.h>
#include <string.h>

#include "cli/pawl-cli-share.h"
#include "cli/pawl-cli.h"
#include "record/pawl-merge.h"
#include "register/pawl-register.h"

#define MIN_HEAD_LENGTH 8

/* "job 1a2b3c4d, entry 17: MESSAGE", "instrument MIC-3, entry 2: MESSAGE", "person Ann, entry 1: …"; number 0 is about no entry. */
static void
print_finding (const PawlRecordFinding *finding)
{
  g_autofree char *whose = finding->instrument ? g_strdup_printf ("instrument %s", finding->instrument)
                           : finding->person ? g_strdup_printf ("person %s", finding->person)
                           : finding->job_id && *finding->job_id ? g_strdup_printf ("job %.8s", finding->job_id) : NULL;

  if (!whose)
    printf ("%s\n", finding->message);
  else if (finding->number > 0)
    printf ("%s, entry %u: %s\n", whose, finding->number, finding->message);
  else
    printf ("%s: %s\n", whose, finding->message);
}

/* "job 1a2b3c4d: 61 entries, the chain holds, head …"; a merged one whose branches no entry has joined yet says how many there are. */
static gboolean
print_chain (PawlRecord *record, const char *what, const char *chain, guint n_entries, GError **error)
{
  g_autofree char *head = pawl_record_dup_head (record, chain, error);
  g_autofree char *ends = head ? pawl_record_dup_ends (record, chain, error) : NULL;
  g_auto (GStrv) each = ends ? g_strsplit (ends, " ", -1) : NULL;
  g_autofree char *branches = NULL;

  if (!ends)
    return FALSE;
  branches = each[1] ? g_strdup_printf (" in %u branches", g_strv_length (each)) : g_strdup ("");
  printf ("%s: %u %s%s, the chain holds, head %s\n", what, n_entries, n_entries == 1 ? "entry" : "entries", branches, head);
  return TRUE;
}

static gboolean
print_head (PawlRecord *record, const char *job_id, GError **error)
{
  g_autofree char *what = g_strdup_printf ("job %.8s", job_id);
  g_autoptr (GPtrArray) entries = pawl_record_load_entries (record, job_id, error);

  return entries && print_chain (record, what, job_id, entries->len, error);
}

static gboolean
print_instruments (PawlRecord *record, GError **error)
{
  g_autoptr (PawlRegister) instruments = pawl_register_load (record, error);

  for (guint i = 0; instruments && i < pawl_register_list (instruments)->len; i++)
    {
      const PawlGauge *gauge = g_ptr_array_index (pawl_register_list (instruments), i);
      g_autofree char *what = g_strdup_printf ("instrument %s", gauge->mark);

      if (!print_chain (record, what, gauge->chain, gauge->entries->len, error))
        return FALSE;
    }
  return instruments != NULL;
}

/* Those who learn: a chain for each, and more than one of a name that came from several benches. */
static gboolean
print_people (PawlRecord *record, GError **error)
{
  g_autoptr (GPtrArray) entries = pawl_record_load_learners (record, error);

  for (guint i = 0, n; entries && i < entries->len; i += n)
    {
      const PawlEntry *first = g_ptr_array_index (entries, i);
      g_autofree char *what = g_strdup_printf ("person %s", pawl_entry_get_subject (first));

      for (n = 1; i + n < entries->len && g_str_equal (pawl_entry_get_job (g_ptr_array_index (entries, i + n)), pawl_entry_get_job (first)); n++)
        ;
      if (!print_chain (record, what, pawl_entry_get_job (first), n, error))
        return FALSE;
    }
  return entries != NULL;
}

static gboolean
print_heads (PawlRecord *record, const char *job_id, GError **error)
{
  g_autoptr (GPtrArray) jobs = NULL;

  if (job_id)
    return print_head (record, job_id, error);
  if (!(jobs = pawl_record_list_jobs (record, error)))
    return FALSE;
  for (guint i = 0; i < jobs->len; i++)
    if (!print_head (record, ((const PawlJobLine *) g_ptr_array_index (jobs, i))->id, error))
      return FALSE;
  return print_instruments (record, error) && print_people (record, error);
}

static void
print_json (GPtrArray *findings)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < findings->len; i++)
    {
      const PawlRecordFinding *finding = g_ptr_array_index (findings, i);
      gboolean is_job = !finding->instrument && !finding->person && finding->job_id && *finding->job_id;

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "job", is_job ? finding->job_id : NULL);
      pawl_cli_add_string (builder, "instrument", finding->instrument);
      pawl_cli_add_string (builder, "person", finding->person);
      pawl_cli_add_string (builder, "entry", finding->entry_id);
      pawl_cli_add_int (builder, "entry-number", finding->number);
      pawl_cli_add_string (builder, "message", finding->message);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  pawl_cli_print_json (builder);
}

static int
verify (PawlRecord *record, const char *job_id, gboolean is_json, GError **error)
{
  g_autoptr (GPtrArray) findings = pawl_record_verify (record, job_id, error);

  if (!findings || !pawl_cli_share_compare (job_id, findings, error))
    return PAWL_EXIT_COULD_NOT;
  if (is_json)
    print_json (findings);
  for (guint i = 0; i < findings->len && !is_json; i++)
    print_finding (g_ptr_array_index (findings, i));
  if (findings->len == 0 && !is_json && !print_heads (record, job_id, error))
    return PAWL_EXIT_COULD_NOT;
  if (!is_json)
    pawl_cli_share_print ();
  return findings->len > 0 ? PAWL_EXIT_FINDINGS : PAWL_EXIT_FINE;
}

/* ---- paper ---- */

/* (transfer full) (nullable): a head as it was typed from paper: hex digits, with blanks between or not. */
static char *
read_head (const char *typed)
{
  g_autofree char *small = g_ascii_strdown (typed, -1);
  g_auto (GStrv) parts = g_strsplit_set (small, " \t-", -1);
  g_autofree char *head = g_strjoinv ("", parts);
  gsize length = strlen (head);

  return length >= MIN_HEAD_LENGTH && length <= 64 && strspn (head, "0123456789abcdef") == length ? g_steal_pointer (&head) : NULL;
}

/* Only where the chain holds does a head say something. */
static int
compare_head (PawlRecord *record, const char *job_id, const char *head, GError **error)
{
  g_autoptr (GPtrArray) entries = pawl_record_load_entries (record, job_id, error);
  guint number;

  if (!entries || !pawl_record_locate_head (record, job_id, head, &number, error))
    return PAWL_EXIT_COULD_NOT;
  if (number == 0)
    printf ("job %.8s: never had this head; the paper is of something else than what the record says now\n", job_id);
  else
    printf ("job %.8s: had this head at entry %u of %u, and is the same up to there\n", job_id, number, entries->len);
  return number == 0 ? PAWL_EXIT_FINDINGS : PAWL_EXIT_FINE;
}

int
pawl_command_verify (int argc, char **argv)
{
  g_autofree char *record_path = NULL;
  g_autofree char *typed_head = NULL;
  g_autofree char *head = NULL;
  gboolean is_json = FALSE;
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &record_path, "The record; without it, the one in your data folder", "DB" },
    { "head", 0, 0, G_OPTION_ARG_FILENAME, &typed_head, "The head on the last page of a report, or the beginning of it: was it this job's?", "DIGEST" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &is_json, "Print what was found as JSON", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autofree char *job_id = NULL;
  int code;

  if (!pawl_cli_parse (&argc, &argv, entries, "[JOB]", "Recomputes the digest of every entry, of jobs, of instruments and of people who learn, and of everything kept with it. "
                       "The head that it prints is the one on the last page of a report.", 0, 1))
    return PAWL_EXIT_COULD_NOT;
  if (typed_head && (!(head = read_head (typed_head)) || argc < 2))
    {
      if (argc < 2)
        pawl_cli_complain (argv[0], "of which job is this head? Say JOB as well");
      else
        pawl_cli_complain (argv[0], "a head has 64 hexadecimal digits; the first %d will do", MIN_HEAD_LENGTH);
      return PAWL_EXIT_COULD_NOT;
    }
  if (!(record = pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_READ_ONLY, &error))
      || (argc > 1 && !(job_id = pawl_record_find_job (record, argv[1], &error))))
    return pawl_cli_fail (argv[0], error);
  code = verify (record, job_id, is_json, &error);
  if (code == PAWL_EXIT_FINE && head)
    code = compare_head (record, job_id, head, &error);
  return error ? pawl_cli_fail (argv[0], error) : code;
}
