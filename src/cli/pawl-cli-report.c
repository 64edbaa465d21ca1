/* What writes a report: the shop, its logo and clauses, the figure, and the job. */
#include "cli/pawl-cli.h"

#include <stdio.h>

#include "history/pawl-history.h"
#include "job/pawl-bench-sheet.h"
#include "report/pawl-issue.h"
#include "report/pawl-word-gate.h"

PawlShop *
pawl_cli_load_shop (GError **error)
{
  g_autofree char *path = pawl_shop_dup_default_path (g_get_user_config_dir ());

  return pawl_shop_load (path, error);
}

PawlClauses *
pawl_cli_load_clauses (const char *path, const PawlShop *shop, GError **error)
{
  if (path)
    return pawl_clauses_load (path, error);
  return *shop->clauses ? pawl_clauses_load (shop->clauses, error) : pawl_clauses_load_default ();
}

gboolean
pawl_cli_read_paper (const char *text, PawlPaper *paper, GError **error)
{
  if (!text || pawl_paper_parse (text, paper))
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "there is no paper “%s”; it is a4 or letter", text);
  return FALSE;
}

static gboolean
read_print (const char *text, PawlPrint *print, GError **error)
{
  if (!text || pawl_print_parse (text, print))
    return TRUE;
  return pawl_cli_refuse_value ("--print", text, "customer or full", error);
}

/* ---- words ---- */

/* So many lacks of one clause are listed; how many more there are is said. */
#define MOST_LACKS 5

static void
print_word (const PawlWordGate *gate, const PawlWordFinding *word)
{
  printf ("%s: %s\n", word->word->title, word == gate->earned ? "the title of the report" : word->n_lacking == 0 ? "shown" : "not shown");
  for (guint i = 0; i < word->findings->len; i++)
    {
      const PawlClauseFinding *finding = g_ptr_array_index (word->findings, i);
      g_autofree char *lacks = pawl_clause_finding_describe (finding, MOST_LACKS);

      if (finding->lacks->len > 0)
        printf ("  %s\n    lacking: %s\n", finding->clause->says, lacks);
    }
}

void
pawl_cli_print_words (const PawlClauses *clauses, PawlJob *job)
{
  g_autoptr (PawlWordGate) gate = pawl_word_gate_judge (clauses, job);
  g_autofree char *title = pawl_word_gate_dup_title (gate);

  printf ("Title: %s\nClauses: %s\nSource: %s\n", title, clauses->name, clauses->source);
  for (guint i = gate->words->len; i > 0; i--)
    print_word (gate, g_ptr_array_index (gate->words, i - 1));
}

static void
add_clause (JsonBuilder *builder, const PawlClauses *clauses, const PawlClauseFinding *finding)
{
  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "clause", finding->clause->id);
  pawl_cli_add_string (builder, "says", finding->clause->says);
  pawl_cli_add_string (builder, "source", finding->clause->source ? finding->clause->source : clauses->source);
  json_builder_set_member_name (builder, "shown");
  json_builder_add_boolean_value (builder, finding->lacks->len == 0);
  json_builder_set_member_name (builder, "lacking");
  json_builder_begin_array (builder);
  for (guint i = 0; i < finding->lacks->len; i++)
    json_builder_add_string_value (builder, g_ptr_array_index (finding->lacks, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

static void
add_word (JsonBuilder *builder, const PawlClauses *clauses, const PawlWordGate *gate, const PawlWordFinding *word)
{
  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "word", word->word->id);
  pawl_cli_add_string (builder, "title", word->word->title);
  json_builder_set_member_name (builder, "is-title");
  json_builder_add_boolean_value (builder, word == gate->earned);
  json_builder_set_member_name (builder, "shown");
  json_builder_add_boolean_value (builder, word->n_lacking == 0);
  json_builder_set_member_name (builder, "clauses");
  json_builder_begin_array (builder);
  for (guint i = 0; i < word->findings->len; i++)
    add_clause (builder, clauses, g_ptr_array_index (word->findings, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
}

void
pawl_cli_print_words_as_json (const PawlClauses *clauses, PawlJob *job)
{
  g_autoptr (PawlWordGate) gate = pawl_word_gate_judge (clauses, job);
  g_autofree char *title = pawl_word_gate_dup_title (gate);
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "job", pawl_job_get_id (job));
  pawl_cli_add_string (builder, "title", title);
  pawl_cli_add_string (builder, "clause-set", clauses->name);
  pawl_cli_add_string (builder, "source", clauses->source);
  json_builder_set_member_name (builder, "words");
  json_builder_begin_array (builder);
  for (guint i = gate->words->len; i > 0; i--)
    add_word (builder, clauses, gate, g_ptr_array_index (gate->words, i - 1));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}

/* ---- the report ---- */

static GBytes *
load_kept (const char *digest, gpointer data)
{
  return pawl_record_load_kept (data, digest, NULL);
}

static GDateTime *
read_issued (PawlBench *bench, const char *text, GError **error)
{
  GDateTime *now = pawl_bench_now (bench);
  GDateTime *issued;

  if (!text)
    return now;
  issued = pawl_bench_sheet_parse_time (text, g_date_time_get_timezone (now));
  g_date_time_unref (now);
  if (!issued)
    g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "“%s” is no time; it is written like 2026-11-25T14:05", text);
  return issued;
}

/* The shop as it is in the settings, with what was said on the command line in its place. */
static PawlShop *
make_shop (const PawlCliReport *wanted, GError **error)
{
  PawlShop *shop = pawl_cli_load_shop (error);

  if (!shop)
    return NULL;
  pawl_shop_set_text (&shop->name, wanted->shop);
  pawl_shop_set_text (&shop->address, wanted->shop_address);
  pawl_shop_set_text (&shop->registration, wanted->shop_registration);
  return shop;
}

/* (nullable): a report is worth printing without the logo, and says nothing of it; the command does. */
static PawlLogo *
load_logo (const PawlCliReport *wanted, const PawlShop *shop)
{
  g_autoptr (PawlTrial) trial = NULL;
  g_autoptr (GError) error = NULL;
  PawlLogo *logo;

  if (!*shop->logo)
    return NULL;
  trial = pawl_cli_new_trial ();
  if (!(logo = pawl_logo_load (trial, shop->logo, NULL, &error)))
    pawl_cli_complain (wanted->command, "%s; the report is written without it", error->message);
  return logo;
}

/* First the file, then the entry: an entry never speaks of a report that nobody has. */
static gboolean
write_and_issue (PawlBench *bench, PawlReport *report, const PawlCliReport *wanted, const PawlReportOptions *options, GError **error)
{
  g_autoptr (GBytes) pdf = pawl_report_make_pdf (report, error);
  g_autofree char *digest = NULL;
  g_autoptr (PawlEntry) entry = NULL;

  if (!pdf || !pawl_pages_write (pdf, wanted->output, error))
    return FALSE;
  if (!wanted->issued_by)
    return TRUE;
  if ((digest = pawl_record_keep (pawl_bench_get_record (bench), pdf, "application/pdf", error)))
    {
      entry = pawl_issue_new_entry (options->print, options->version, pawl_report_get_n_pages (report), digest, wanted->issued_by, options->issued);
      if (pawl_bench_append_one (bench, entry, error))
        return TRUE;
    }
  g_prefix_error (error, "%s is written, but not entered as issued: ", wanted->output);
  return FALSE;
}

gboolean
pawl_cli_write_report (PawlBench *bench, const PawlCliReport *wanted, guint *n_pages, GError **error)
{
  PawlJob *job = pawl_bench_get_job (bench);
  PawlRecord *record = pawl_bench_get_record (bench);
  g_autoptr (PawlShop) shop = make_shop (wanted, error);
  g_autoptr (PawlClauses) clauses = shop ? pawl_cli_load_clauses (wanted->clauses, shop, error) : NULL;
  g_autoptr (GDateTime) issued = clauses ? read_issued (bench, wanted->issued, error) : NULL;
  g_autofree char *head = issued ? pawl_record_dup_head (record, pawl_job_get_id (job), error) : NULL;
  PawlReportOptions options = {
    .paper = shop ? shop->paper : PAWL_PAPER_A4, .shop = shop, .clauses = clauses, .issued = issued, .head = head,
  };
  g_autoptr (PawlFigure) figure = NULL;
  g_autoptr (PawlLogo) logo = NULL;
  g_autoptr (PawlReport) report = NULL;
  g_autoptr (GError) figure_error = NULL;
  g_autoptr (GPtrArray) histories = NULL;
  g_auto (GStrv) changes = NULL;

  if (!head || !pawl_cli_read_paper (wanted->paper, &options.paper, error) || !read_print (wanted->print, &options.print, error))
    return FALSE;
  options.logo = logo = load_logo (wanted, shop);
  options.version = wanted->version > 0 ? (guint) wanted->version : pawl_issue_next_version (job, options.print);
  changes = pawl_issue_list_changes (job, options.print);
  options.changes = (const char * const *) changes;
  /* The record of the work is worth printing without its picture. */
  figure = pawl_cli_load_figure (bench, &figure_error);
  if (figure_error)
    {
      pawl_cli_complain (wanted->command, "%s; the report is written without it", figure_error->message);
      options.figure_problem = figure_error->message;
    }
  if (wanted->has_history && !(histories = pawl_history_load_of_job (record, job, PAWL_CHART_AS_PRINTED, error)))
    return FALSE;
  options.histories = histories;
  report = pawl_report_new (job, figure, &options, load_kept, record);
  if (n_pages)
    *n_pages = pawl_report_get_n_pages (report);
  return write_and_issue (bench, report, wanted, &options, error);
}

gboolean
pawl_cli_write_issued (PawlBench *bench, const char *print, int version, const char *path, GError **error)
{
  PawlPrint which = PAWL_PRINT_FULL;
  const char *digest;
  g_autoptr (GBytes) pdf = NULL;

  if (!read_print (print, &which, error))
    return FALSE;
  if (!(digest = pawl_issue_find (pawl_bench_get_job (bench), which, version > 0 ? (guint) version : 0)))
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "no version %d of the %s print was issued; the next one is version %u", version,
                   pawl_print_get_name (which), pawl_issue_next_version (pawl_bench_get_job (bench), which));
      return FALSE;
    }
  pdf = pawl_record_load_kept (pawl_bench_get_record (bench), digest, error);
  return pdf && pawl_pages_write (pdf, path, error);
}
