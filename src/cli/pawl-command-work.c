/* pawl work: a bench sheet that was filled in by pen, entered later. */
#include <stdio.h>
#include <string.h>

#include <glib/gstdio.h>

#include "cli/pawl-cli.h"
#include "job/pawl-bench-sheet.h"
#include "job/pawl-job-photos.h"
#include "job/pawl-results.h"
#include "procedure/pawl-reader.h"
#include "training/pawl-stages.h"

typedef struct {
  const char *command;   /* "pawl work" */
  const char *file;      /* of the procedure */
  char       *answers, *record, *report, *job, *shop, *paper;
  int         from;      /* first line of the sheet that counts */
} Options;

static void
options_clear (Options *self)
{
  g_free (self->answers);
  g_free (self->record);
  g_free (self->report);
  g_free (self->job);
  g_free (self->shop);
  g_free (self->paper);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* ---- the job ---- */

static GBytes *
load_figure (PawlProcedure *procedure, GError **error)
{
  g_autoptr (PawlFigure) figure = pawl_cli_load_procedure_figure (procedure, error);

  return figure ? g_bytes_ref (pawl_figure_peek_bytes (figure)) : NULL;
}

/* A new job by the sheet's "job" rows. Everything is read before a record is made: a slip leaves no empty one behind. */
static PawlBench *
open_new (const Options *options, GPtrArray *rows, GError **error)
{
  g_autoptr (PawlProcedure) procedure = pawl_procedure_load (options->file, NULL, error);
  g_autoptr (GBytes) figure = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GDateTime) now = NULL;
  g_autoptr (PawlEntry) opened = NULL;

  if (!procedure || (*pawl_procedure_get_figure (procedure) && !(figure = load_figure (procedure, error))))
    return NULL;
  if (!(record = pawl_cli_open_record (options->record, PAWL_RECORD_OPEN_CREATE, error)))
    return NULL;
  now = pawl_record_dup_now (record);
  opened = pawl_bench_sheet_make_opening (rows, now, error);
  if (opened && !pawl_stages_tighten_for (record, procedure, opened, error))
    return NULL;
  return opened ? pawl_bench_open (record, procedure, figure, opened, error) : NULL;
}

/* The job of --job, provided that it is done by the same procedure. */
static PawlBench *
take_up (const Options *options, GError **error)
{
  g_autoptr (PawlRecord) found = pawl_cli_open_record (options->record, PAWL_RECORD_OPEN_READ_ONLY, error); /* makes no new one */
  g_autofree char *id = found ? pawl_record_find_job (found, options->job, error) : NULL;
  g_autoptr (PawlRecord) record = id ? pawl_cli_open_record (options->record, PAWL_RECORD_OPEN_CREATE, error) : NULL;
  g_autoptr (PawlBench) bench = record ? pawl_bench_resume (record, id, NULL, error) : NULL;
  g_autoptr (PawlProcedure) procedure = bench ? pawl_procedure_load (options->file, NULL, error) : NULL;

  if (!procedure)
    return NULL;
  if (g_str_equal (pawl_procedure_get_digest (procedure), pawl_procedure_get_digest (pawl_bench_get_procedure (bench))))
    return g_steal_pointer (&bench);
  g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_UNKNOWN, "job %.8s was opened with another edition of %s; go on with the file that it was opened with",
               id, options->file);
  return NULL;
}

/* ---- one row ---- */

/* No camera makes a larger file. */
#define MAX_PHOTO_BYTES (64 * 1024 * 1024)

/* A picture lies beside the sheet, or in a folder there; a sheet from elsewhere reaches no further. */
static char *
find_photo (const Options *options, const char *file, GError **error)
{
  g_autofree char *folder = g_path_get_dirname (options->answers);
  g_auto (GStrv) parts = g_strsplit (file, "/", -1);

  if (!g_path_is_absolute (file) && !g_strv_contains ((const char * const *) parts, ".."))
    return g_build_filename (folder, file, NULL);
  g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is not beside the bench sheet; give the name of a picture in its folder", file);
  return NULL;
}

static gboolean
check_photo_size (const char *path, const char *file, GError **error)
{
  GStatBuf status;

  if (g_stat (path, &status) != 0 || (S_ISREG (status.st_mode) && status.st_size <= MAX_PHOTO_BYTES))
    return TRUE; /* what is not there is said when it is opened */
  g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is no picture file of at most %d MiB", file, MAX_PHOTO_BYTES / 1024 / 1024);
  return FALSE;
}

/* A photo's bytes go into the record, and its digest into the entry in place of the file's name. */
static gboolean
keep_photo (const Options *options, PawlRecord *record, PawlEntry *entry, GError **error)
{
  g_autofree char *file = g_strdup (pawl_entry_get (entry, "file"));
  g_autofree char *path = file ? find_photo (options, file, error) : NULL;
  g_autofree char *contents = NULL, *digest = NULL, *type = NULL, *media_type = NULL;
  g_autoptr (GBytes) bytes = NULL;
  gsize length;

  if (!file)
    return TRUE; /* the job will say that a photo needs its picture */
  if (!path || !check_photo_size (path, file, error) || !g_file_get_contents (path, &contents, &length, error))
    return FALSE;
  type = g_content_type_guess (NULL, (const guchar *) contents, length, NULL);
  media_type = g_content_type_get_mime_type (type);
  bytes = g_bytes_new_take (g_steal_pointer (&contents), length);
  if (!(digest = pawl_record_keep (record, bytes, media_type ? media_type : "application/octet-stream", error)))
    return FALSE;
  pawl_entry_set (entry, "digest", digest);
  pawl_entry_set (entry, "media-type", media_type);
  pawl_entry_set (entry, "file", NULL);
  return TRUE;
}

static gboolean
append_row (const Options *options, PawlBench *bench, GPtrArray *entries, GError **error)
{
  for (guint i = 0; i < entries->len; i++)
    if (pawl_entry_get_kind (g_ptr_array_index (entries, i)) == PAWL_ENTRY_PHOTO
        && !keep_photo (options, pawl_bench_get_record (bench), g_ptr_array_index (entries, i), error))
      return FALSE;
  return entries->len == 0 || pawl_bench_append (bench, entries, error);
}

/* A step that is finished, a verdict that is not in: said as they come. */
static void
tell_entry (const Options *options, const PawlSheetRow *row, PawlJob *job, const PawlEntry *entry)
{
  const PawlStepState *step = pawl_job_lookup_step (job, pawl_entry_get_subject (entry));
  const PawlAskState *ask = pawl_job_lookup_ask (job, pawl_entry_get_subject (entry));
  PawlEntryKind kind = pawl_entry_get_kind (entry);
  const PawlAttempt *last = ask && ask->attempts->len > 0 ? g_ptr_array_index (ask->attempts, ask->attempts->len - 1) : NULL;

  if (step && kind == PAWL_ENTRY_STEP_DONE)
    printf ("step %s done: %s\n", step->step->number, step->step->command);
  else if (step && kind == PAWL_ENTRY_DEVIATED && step->status == PAWL_STEP_SKIPPED)
    printf ("step %s left out: %s\n", step->step->number, pawl_entry_get (entry, "reason"));
  else if (kind == PAWL_ENTRY_ANSWERED && last && ((last->is_whole && last->verdict.kind != PAWL_VERDICT_IN) || last->is_void))
    {
      g_autofree char *detail = ask->ask->reading ? pawl_attempt_describe_verdict (ask->ask, last) : g_strdup (pawl_verdict_get_word (last->verdict.kind));

      printf ("%s:%d: %s: %s: %s\n", options->answers, row->line, ask->ask->name, row->answer, detail);
    }
}

/* What a refusal leaves behind, and how to go on. */
static void
tell_refusal (const Options *options, const PawlSheetRow *row, PawlBench *bench, const GError *error)
{
  const char *id = pawl_job_get_id (pawl_bench_get_job (bench));

  if (error->domain == PAWL_BENCH_SHEET_ERROR) /* begins with file and line already */
    fprintf (stderr, "%s\n", error->message);
  else
    fprintf (stderr, "%s:%d: %s: %s\n", options->answers, row->line, row->item, error->message);
  fprintf (stderr, "What stands before line %d is in the record, as job %.8s. Put line %d right, then go on with --job %.8s --from %d.\n",
           row->line, id, row->line, id, row->line);
}

/* The sheet is fine, the record is not: full, or its disk gone. */
static int
tell_failure (const Options *options, const PawlSheetRow *row, PawlBench *bench, const GError *error)
{
  const char *id = pawl_job_get_id (pawl_bench_get_job (bench));

  pawl_cli_complain (options->command, "%s", error->message);
  fprintf (stderr, "%s stands in the record up to line %d, as job %.8s; when that is put right, go on with --job %.8s --from %d.\n",
           options->answers, row->line - 1, id, id, row->line);
  return PAWL_EXIT_COULD_NOT;
}

static gboolean
is_refusal (const GError *error)
{
  return error->domain == PAWL_JOB_ERROR || error->domain == PAWL_REGISTER_ERROR || error->domain == PAWL_BENCH_SHEET_ERROR || error->domain == G_FILE_ERROR;
}

static int
enter_row (const Options *options, const PawlSheetRow *row, PawlBench *bench)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) entries = pawl_bench_sheet_make_entries (row, pawl_bench_get_job (bench), options->answers, &error);

  if (entries && append_row (options, bench, entries, &error))
    {
      for (guint i = 0; i < entries->len; i++)
        tell_entry (options, row, pawl_bench_get_job (bench), g_ptr_array_index (entries, i));
      return PAWL_EXIT_FINE;
    }
  if (!is_refusal (error))
    return tell_failure (options, row, bench, error);
  tell_refusal (options, row, bench, error);
  return PAWL_EXIT_FINDINGS;
}

/* ---- the end ---- */

/* Returns whether some answer stands out of limits and nobody accepted it. */
static gboolean
tell_out (PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  gboolean is_out = FALSE;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = g_ptr_array_index (steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *state = g_ptr_array_index (step->asks, j);

          if (state->status != PAWL_ASK_OUT && state->status != PAWL_ASK_TOO_CLOSE)
            continue;
          printf ("not right yet: %s (step %s): %s\n", state->ask->name, step->step->number, pawl_ask_is_only_late (state) ? "out after its maximum, and no reason is given" : pawl_ask_status_get_word (state->status));
          is_out = TRUE;
        }
    }
  return is_out;
}

/* One line, because a sheet on paper rarely has photos. */
static void
tell_unphotographed (PawlJob *job)
{
  guint n_hidden = 0;
  g_autoptr (GPtrArray) without = pawl_job_list_unphotographed (job, &n_hidden);

  if (without->len > 0)
    printf ("hidden without a photo: %u of %u fits that can be wrong unseen; the full record names them\n", without->len, n_hidden);
}

static int
tell_end (PawlJob *job)
{
  g_autoptr (GPtrArray) missing = pawl_results_list_missing (job);
  g_autofree char *progress = pawl_cli_describe_progress (job);
  PawlEntry *signature = pawl_job_peek_signature (job);

  printf ("job %s: %s, %s\n", pawl_job_get_id (job), progress, signature ? "signed" : "not signed");
  for (guint i = 0; i < pawl_job_get_steps (job)->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (pawl_job_get_steps (job), i);

      if (state->status != PAWL_STEP_DONE && state->status != PAWL_STEP_SKIPPED && state->status != PAWL_STEP_NOT_APPLICABLE)
        printf ("left open: step %s, %s\n", state->step->number, state->step->command);
    }
  for (guint i = 0; i < missing->len; i++)
    printf ("left open: %s\n", (const char *) g_ptr_array_index (missing, i));
  tell_unphotographed (job);
  return tell_out (job) ? PAWL_EXIT_FINDINGS : PAWL_EXIT_FINE;
}

static int
write_report (const Options *options, PawlBench *bench)
{
  const PawlCliReport wanted = { .command = options->command, .output = options->report, .paper = options->paper, .shop = options->shop };
  g_autoptr (GError) error = NULL;
  guint n_pages = 0;

  if (!pawl_cli_write_report (bench, &wanted, &n_pages, &error))
    return pawl_cli_fail (options->command, error);
  printf ("%s: %u pages\n", options->report, n_pages);
  return PAWL_EXIT_FINE;
}

static int
work (const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) rows = pawl_bench_sheet_load (options->answers, &error);
  g_autoptr (PawlBench) bench = NULL;
  int code = PAWL_EXIT_FINE;

  if (rows)
    bench = options->job ? take_up (options, &error) : open_new (options, rows, &error);
  if (!bench)
    return pawl_cli_fail (options->command, error);
  for (guint i = 0; i < rows->len && code == PAWL_EXIT_FINE; i++)
    {
      const PawlSheetRow *row = g_ptr_array_index (rows, i);

      if (row->line >= options->from)
        code = enter_row (options, row, bench);
    }
  if (code == PAWL_EXIT_FINE)
    code = tell_end (pawl_bench_get_job (bench));
  if (code != PAWL_EXIT_COULD_NOT && options->report)
    {
      int written = write_report (options, bench);

      code = MAX (code, written);
    }
  return code;
}

int
pawl_command_work (int argc, char **argv)
{
  g_auto (Options) options = { .command = "pawl work" };
  const GOptionEntry entries[] = {
    { "answers", 0, 0, G_OPTION_ARG_FILENAME, &options.answers, "The bench sheet: CSV, a header line, then a row for each answer", "CSV" },
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    { "report", 0, 0, G_OPTION_ARG_FILENAME, &options.report, "Write the report as well", "OUT.pdf" },
    { "shop", 0, 0, G_OPTION_ARG_FILENAME, &options.shop, "Name of the shop, for the report", "NAME" },
    { "paper", 0, 0, G_OPTION_ARG_FILENAME, &options.paper, "Paper of the report: a4 or letter", "PAPER" },
    { "job", 0, 0, G_OPTION_ARG_FILENAME, &options.job, "Go on with this job instead of opening one", "JOB" },
    { "from", 0, 0, G_OPTION_ARG_INT, &options.from, "Begin at this line of the sheet", "LINE" },
    G_OPTION_ENTRY_NULL
  };

  if (!pawl_cli_parse (&argc, &argv, entries, "FILE", "Enters a bench sheet that was filled in by pen. It stops at the first answer that the job would refuse, "
                      "unless the answer carries a deviation; what was accepted before stays in the record.", 1, 1))
    return PAWL_EXIT_COULD_NOT;
  if (!options.answers)
    {
      pawl_cli_complain (argv[0], "where are the answers? Name the bench sheet with --answers, for instance --answers sheet.csv");
      return PAWL_EXIT_COULD_NOT;
    }
  options.file = argv[1];
  return work (&options);
}
