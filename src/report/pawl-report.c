#include "report/pawl-report.h"

#include "report/pawl-content.h"
#include "report/pawl-words.h"

static const char * const print_names[] = { [PAWL_PRINT_FULL] = "full", [PAWL_PRINT_CUSTOMER] = "customer" };

gboolean
pawl_print_parse (const char *text, PawlPrint *print)
{
  for (guint i = 0; i < G_N_ELEMENTS (print_names); i++)
    if (g_str_equal (text, print_names[i]))
      {
        *print = (PawlPrint) i;
        return TRUE;
      }
  return FALSE;
}

const char *
pawl_print_get_name (PawlPrint print)
{
  return print_names[print];
}

struct _PawlReport {
  GObject parent_instance;

  PawlPages  *pages;
  PawlJob    *job;    /* what the pages lend from */
  PawlFigure *figure;
};

G_DEFINE_TYPE (PawlReport, pawl_report, G_TYPE_OBJECT)

static void
pawl_report_dispose (GObject *object)
{
  PawlReport *self = PAWL_REPORT (object);

  g_clear_pointer (&self->pages, pawl_pages_free);
  g_clear_object (&self->job);
  g_clear_object (&self->figure);
  G_OBJECT_CLASS (pawl_report_parent_class)->dispose (object);
}

static void
pawl_report_class_init (PawlReportClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pawl_report_dispose;
}

static void
pawl_report_init (PawlReport *self)
{
}

/* The whole record. */
static void
add_full (const PawlContent *content)
{
  pawl_content_add_front (content);
  pawl_content_add_figure (content);
  pawl_content_add_changes (content);
  pawl_content_add_word (content);
  pawl_content_add_readings (content);
  pawl_content_add_instruments (content);
  pawl_content_add_tests (content);
  pawl_content_add_fits (content);
  pawl_content_add_checks (content);
  pawl_content_add_parts (content);
  pawl_content_add_deviations (content);
  pawl_content_add_missing (content);
  pawl_content_add_waits (content);
  pawl_content_add_steps (content);
  pawl_content_add_notes (content);
  pawl_content_add_photos (content);
  pawl_content_add_unphotographed (content);
  pawl_content_add_history (content);
  pawl_content_add_settings (content);
  pawl_content_add_signature (content);
  pawl_content_add_limits (content);
}

/* What goes with the invoice. */
static void
add_for_customer (const PawlContent *content)
{
  pawl_content_add_front (content);
  pawl_content_add_changes (content);
  pawl_content_add_found_and_left (content);
  pawl_content_add_short_tests (content);
  pawl_content_add_new_parts (content);
  pawl_content_add_deviations (content);
  pawl_content_add_missing (content);
  pawl_content_add_chosen_photos (content);
  pawl_content_add_care (content);
  pawl_content_add_signature (content);
  pawl_content_add_limits (content);
}

static PawlPages *
make_pages (PawlJob *job, const PawlReportOptions *options, const char *title)
{
  g_autofree char *id = pawl_words_short_id (pawl_job_get_id (job));
  g_autofree char *running = g_strdup_printf ("%s · job %s", title, id);
  const PawlPagesSetting setting = {
    .paper = options->paper, .title = title, .running = running, .issued = options->issued,
    .footer = options->shop ? options->shop->footer : NULL,
    .author = options->shop && *options->shop->name ? options->shop->name : pawl_job_get_field (job, "shop"),
    .language = "en", /* the report's own words are English, whatever language the procedure is in */
  };

  return pawl_pages_new (&setting);
}

/* Two sheets are what is stapled to an invoice. */
#define CUSTOMER_PAGES 2

/* Sets all blocks on pages of their own, which follow from @content, @is_tight and nothing else. */
static PawlPages *
set_pages (const PawlContent *blank, gboolean is_tight)
{
  PawlPages *pages = make_pages (blank->job, blank->options, blank->title);
  PawlContent content = *blank;

  content.flow = pawl_pages_get_flow (pages);
  pawl_flow_set_tight (content.flow, is_tight);
  if (pawl_content_is_for_customer (&content))
    add_for_customer (&content);
  else
    add_full (&content);
  return pages;
}

/* With the usual air; with less where that keeps a customer's print to its two pages. */
static PawlPages *
fit_pages (const PawlContent *blank)
{
  PawlPages *pages = set_pages (blank, FALSE), *tight;

  if (!pawl_content_is_for_customer (blank) || pawl_pages_get_n (pages) <= CUSTOMER_PAGES)
    return pages;
  tight = set_pages (blank, TRUE);
  if (pawl_pages_get_n (tight) < pawl_pages_get_n (pages))
    {
      pawl_pages_free (pages);
      return tight;
    }
  pawl_pages_free (tight);
  return pages;
}

PawlReport *
pawl_report_new (PawlJob *job, PawlFigure *figure, const PawlReportOptions *options, PawlReportLoadKept load_kept, gpointer data)
{
  PawlReport *self;
  PawlContent content;
  g_autoptr (PawlClauses) own_clauses = NULL;
  g_autoptr (PawlWordGate) gate = NULL;
  g_autofree char *word = NULL, *title = NULL;

  g_return_val_if_fail (PAWL_IS_JOB (job), NULL);
  g_return_val_if_fail (options && options->issued, NULL);

  self = g_object_new (PAWL_TYPE_REPORT, NULL);
  self->job = g_object_ref (job);
  g_set_object (&self->figure, figure);
  if (!options->clauses)
    own_clauses = pawl_clauses_load_default ();
  gate = pawl_word_gate_judge (options->clauses ? options->clauses : own_clauses, job);
  word = pawl_word_gate_dup_title (gate);
  title = g_strdup_printf ("%s: %s", word, pawl_procedure_get_unit (pawl_job_get_procedure (job)));
  content = (PawlContent) {
    .job = job, .procedure = pawl_job_get_procedure (job), .figure = figure, .options = options,
    .clauses = options->clauses ? options->clauses : own_clauses, .gate = gate, .title = title, .load_kept = load_kept, .load_data = data,
    .opened = pawl_job_get_entries (job)->len > 0 ? pawl_entry_peek_at (g_ptr_array_index (pawl_job_get_entries (job), 0)) : NULL,
  };
  self->pages = fit_pages (&content);
  return self;
}

PawlPages *
pawl_report_get_pages (PawlReport *self)
{
  return self->pages;
}

guint
pawl_report_get_n_pages (PawlReport *self)
{
  return pawl_pages_get_n (self->pages);
}

void
pawl_report_get_page_size (PawlReport *self, double *width_pt, double *height_pt)
{
  pawl_pages_get_size (self->pages, width_pt, height_pt);
}

void
pawl_report_draw_page (PawlReport *self, guint n, cairo_t *cr)
{
  pawl_pages_draw (self->pages, n, cr);
}

GBytes *
pawl_report_make_pdf (PawlReport *self, GError **error)
{
  return pawl_pages_make_pdf (self->pages, error);
}

gboolean
pawl_report_write_pdf (PawlReport *self, const char *path, GError **error)
{
  g_autoptr (GBytes) pdf = pawl_report_make_pdf (self, error);

  return pdf && pawl_pages_write (pdf, path, error);
}
