/* pawl jobs: one line for each job of the record, and below it where those that are open stand. */
#include <stdio.h>

#include "bench/pawl-bench.h"
#include "cli/pawl-cli-share.h"
#include "cli/pawl-cli.h"
#include "plan/pawl-resume.h"

/* Each job that is not signed is folded to say what was about to be done; more than so many, of those touched last, nobody has on a bench. */
#define MOST_FOLDED 60

/* A job of the list. */
typedef struct {
  const PawlJobLine *line;
  PawlResume        *resume;  /* (nullable): signed, too long ago, or it can't be read */
} Row;

static void
row_free (gpointer data)
{
  Row *row = data;

  g_clear_pointer (&row->resume, pawl_resume_free);
  g_free (row);
}

/* What can't be read is told by “pawl show” and “pawl verify”; here it is listed all the same. */
static PawlResume *
load_resume (PawlRecord *record, const PawlJobLine *line, const char *person, const PawlRegister *instruments)
{
  g_autoptr (PawlBench) bench = pawl_bench_resume (record, line->id, NULL, NULL);

  return bench ? pawl_resume_new (pawl_bench_get_job (bench), person, instruments, NULL) : NULL;
}

static int
compare_rows (gconstpointer a, gconstpointer b)
{
  const Row *left = *(const Row *const *) a, *right = *(const Row *const *) b;
  int by_due;

  if (left->line->is_signed != right->line->is_signed)
    return left->line->is_signed - right->line->is_signed;
  by_due = pawl_resume_compare (left->resume ? left->resume->due : NULL, right->resume ? right->resume->due : NULL);
  return by_due != 0 ? by_due : g_date_time_compare (right->line->last, left->line->last);
}

static GPtrArray *
load_rows (PawlRecord *record, GPtrArray *jobs, const char *person)
{
  g_autoptr (PawlRegister) instruments = pawl_register_load (record, NULL);
  GPtrArray *rows = g_ptr_array_new_with_free_func (row_free);

  for (guint i = 0; i < jobs->len; i++)
    {
      Row *row = g_new0 (Row, 1);

      row->line = g_ptr_array_index (jobs, i);
      if (i < MOST_FOLDED && !row->line->is_signed)
        row->resume = load_resume (record, row->line, person, instruments);
      g_ptr_array_add (rows, row);
    }
  g_ptr_array_sort (rows, compare_rows);
  return rows;
}

/* ---- as lines ---- */

static void
print_wait (const PawlWaiting *wait, GDateTime *now)
{
  g_autofree char *from = pawl_cli_format_time (wait->earliest), *by = pawl_cli_format_time (wait->latest);

  if (pawl_waiting_get_stage (wait, now) == PAWL_WAITING_LATE)
    printf ("          %s: should have been out by %s\n", wait->name, by);
  else
    printf ("          %s: out from %s%s%s\n", wait->name, from, wait->latest ? ", at the latest " : "", by);
}

static void
print_resume (const PawlResume *resume, GDateTime *now)
{
  for (guint i = 0; i < resume->waits->len; i++)
    print_wait (g_ptr_array_index (resume->waits, i), now);
  printf ("          %s\n", resume->next);
  for (guint i = 0; i < resume->changes->len; i++)
    printf ("          since then: %s\n", (const char *) g_ptr_array_index (resume->changes, i));
}

static void
print_lines (GPtrArray *rows, GDateTime *now)
{
  for (guint i = 0; i < rows->len; i++)
    {
      const Row *row = g_ptr_array_index (rows, i);
      const PawlJobLine *job = row->line;
      g_autofree char *last = pawl_cli_format_time (job->last);

      printf ("%.8s  %s  %s, serial %s, work order %s, %s: %u entries, %s\n", job->id, last, job->unit,
              *job->serial ? job->serial : "none", *job->work_order ? job->work_order : "none",
              *job->customer ? job->customer : "no customer stated", job->n_entries, job->is_signed ? "signed" : "not signed");
      if (row->resume)
        print_resume (row->resume, now);
    }
}

/* ---- JSON ---- */

/* Of a job that is signed, without @resume, nothing waits and nothing is next. */
static void
add_resume (JsonBuilder *builder, const PawlResume *resume)
{
  pawl_cli_add_string (builder, "next", resume ? resume->next : NULL);
  pawl_cli_add_time (builder, "due", resume ? resume->due : NULL);
  pawl_cli_add_count (builder, "steps-done", resume != NULL, resume ? resume->n_done : 0);
  pawl_cli_add_count (builder, "steps-total", resume != NULL, resume ? resume->n_steps : 0);
  json_builder_set_member_name (builder, "waits");
  json_builder_begin_array (builder);
  for (guint i = 0; resume && i < resume->waits->len; i++)
    {
      const PawlWaiting *wait = g_ptr_array_index (resume->waits, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "id", wait->ask);
      pawl_cli_add_string (builder, "name", wait->name);
      pawl_cli_add_time (builder, "started", wait->started);
      pawl_cli_add_time (builder, "earliest", wait->earliest);
      pawl_cli_add_time (builder, "latest", wait->latest);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "changes");
  json_builder_begin_array (builder);
  for (guint i = 0; resume && i < resume->changes->len; i++)
    json_builder_add_string_value (builder, g_ptr_array_index (resume->changes, i));
  json_builder_end_array (builder);
}

static void
print_json (GPtrArray *rows)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < rows->len; i++)
    {
      const Row *row = g_ptr_array_index (rows, i);
      const PawlJobLine *job = row->line;

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "job", job->id);
      pawl_cli_add_string (builder, "title", job->title);
      pawl_cli_add_string (builder, "unit", job->unit);
      pawl_cli_add_string (builder, "serial", job->serial);
      pawl_cli_add_string (builder, "work-order", job->work_order);
      pawl_cli_add_string (builder, "customer", job->customer);
      pawl_cli_add_time (builder, "opened", job->opened);
      pawl_cli_add_time (builder, "last", job->last);
      pawl_cli_add_int (builder, "entry-count", job->n_entries);
      json_builder_set_member_name (builder, "signed");
      json_builder_add_boolean_value (builder, job->is_signed);
      add_resume (builder, row->resume);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  pawl_cli_print_json (builder);
}

int
pawl_command_jobs (int argc, char **argv)
{
  g_autofree char *record_path = NULL, *person = NULL;
  gboolean is_json = FALSE;
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &record_path, "The record; without it, the one in your data folder", "DB" },
    { "person", 0, 0, G_OPTION_ARG_STRING, &person, "Who comes back: tells what others did since the last entry of this name", "NAME" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &is_json, "Print the jobs as JSON", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GPtrArray) jobs = NULL, rows = NULL;
  g_autoptr (GDateTime) now = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, NULL, "Lists the jobs of the record: what is due first, else the newest activity first; what was about to be done, and what waits.", 0, 0))
    return PAWL_EXIT_COULD_NOT;
  if (!(record = pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_READ_ONLY, &error)) || !(jobs = pawl_record_list_jobs (record, &error)))
    return pawl_cli_fail (argv[0], error);
  now = pawl_record_dup_now (record);
  rows = load_rows (record, jobs, person);
  if (is_json)
    print_json (rows);
  else
    {
      print_lines (rows, now);
      pawl_cli_share_print ();
    }
  return PAWL_EXIT_FINE;
}
