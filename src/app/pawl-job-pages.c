#include "app/pawl-job-pages.h"

#include "app/pawl-history-page.h"
#include "app/pawl-intake-page.h"
#include "app/pawl-parts-page.h"
#include "app/pawl-readings-page.h"
#include "app/pawl-run-page.h"

struct _PawlJobPages {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *stack, *bench, *run, *readings, *history, *parts, *report, *intake;

  /* owned */
  PawlSession *session; /* (nullable) */

  GtkWidget *intake_from; /* (nullable): borrowed, the page that was left for the intake */
};

enum { STEP_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlJobPages, pawl_job_pages, GTK_TYPE_WIDGET)

/* Only the page on show is worth the work; the others are applied when they come up. */
void
pawl_job_pages_apply (PawlJobPages *self)
{
  const char *page = pawl_job_pages_get_shown (self);
  PawlJob *job = self->session != NULL ? pawl_session_get_job (self->session) : NULL;

  if (job == NULL || page == NULL)
    return;
  if (g_str_equal (page, "bench"))
    pawl_bench_page_apply (PAWL_BENCH_PAGE (self->bench));
  else if (g_str_equal (page, "run"))
    pawl_run_page_apply (PAWL_RUN_PAGE (self->run));
  else if (g_str_equal (page, "readings"))
    pawl_readings_page_apply (PAWL_READINGS_PAGE (self->readings), job, pawl_session_get_own_lengths (self->session));
  else if (g_str_equal (page, "history"))
    return; /* as of when it was asked for */
  else if (g_str_equal (page, "intake"))
    pawl_intake_page_apply (PAWL_INTAKE_PAGE (self->intake));
  else if (g_str_equal (page, "parts"))
    pawl_parts_page_apply (PAWL_PARTS_PAGE (self->parts));
  else
    pawl_report_page_apply (PAWL_REPORT_PAGE (self->report));
}

/* @reading: (nullable): the first */
static void
show_history (PawlJobPages *self, const char *reading)
{
  pawl_history_page_show (PAWL_HISTORY_PAGE (self->history), self->session, reading);
  gtk_stack_set_visible_child (GTK_STACK (self->stack), self->history);
  pawl_history_page_go (PAWL_HISTORY_PAGE (self->history));
}

static void
show_intake (PawlJobPages *self)
{
  GtkWidget *from = gtk_stack_get_visible_child (GTK_STACK (self->stack));

  if (from != self->intake)
    self->intake_from = from;
  gtk_stack_set_visible_child (GTK_STACK (self->stack), self->intake);
  pawl_intake_page_go (PAWL_INTAKE_PAGE (self->intake));
}

void
pawl_job_pages_set_session (PawlJobPages *self, PawlSession *session, PawlSettings *settings, PawlTrial *trial, const char *language)
{
  g_set_object (&self->session, session);
  pawl_bench_page_set_session (PAWL_BENCH_PAGE (self->bench), session, trial);
  pawl_run_page_set_session (PAWL_RUN_PAGE (self->run), session, settings, language);
  pawl_parts_page_set_session (PAWL_PARTS_PAGE (self->parts), session);
  pawl_report_page_set_session (PAWL_REPORT_PAGE (self->report), session, settings, trial);
  pawl_intake_page_set_session (PAWL_INTAKE_PAGE (self->intake), session);
}

void
pawl_job_pages_show (PawlJobPages *self, const char *page)
{
  if (g_str_equal (page, "history"))
    {
      show_history (self, NULL);
      return;
    }
  if (g_str_equal (page, "intake"))
    {
      show_intake (self);
      return;
    }
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page);
}

gboolean
pawl_job_pages_zoom_by (PawlJobPages *self, double factor)
{
  if (gtk_stack_get_visible_child (GTK_STACK (self->stack)) != self->run)
    return FALSE;
  pawl_run_page_zoom_by (PAWL_RUN_PAGE (self->run), factor);
  return TRUE;
}

const char *
pawl_job_pages_get_shown (PawlJobPages *self)
{
  return gtk_stack_get_visible_child_name (GTK_STACK (self->stack));
}

GtkStack *
pawl_job_pages_get_stack (PawlJobPages *self)
{
  return GTK_STACK (self->stack);
}

PawlBenchPage *
pawl_job_pages_get_bench (PawlJobPages *self)
{
  return PAWL_BENCH_PAGE (self->bench);
}

PawlReportPage *
pawl_job_pages_get_report (PawlJobPages *self)
{
  return PAWL_REPORT_PAGE (self->report);
}

static void
page_changed_cb (GtkStack *stack, GParamSpec *pspec, PawlJobPages *self)
{
  if (gtk_stack_get_visible_child (stack) != self->bench)
    pawl_bench_page_leave_apart (PAWL_BENCH_PAGE (self->bench));
  pawl_job_pages_apply (self);
}

/* From a page of this job. */
static void
step_wanted_cb (GtkWidget *page, const char *step, PawlJobPages *self)
{
  g_signal_emit (self, signals[STEP_WANTED], 0, pawl_job_get_id (pawl_session_get_job (self->session)), step);
}

/* From the lanes, where other jobs are too. */
static void
step_of_job_wanted_cb (GtkWidget *page, const char *job, const char *step, PawlJobPages *self)
{
  g_signal_emit (self, signals[STEP_WANTED], 0, job, step);
}

static void
history_wanted_cb (GtkWidget *page, const char *reading, PawlJobPages *self)
{
  show_history (self, reading);
}

static void
history_back_cb (GtkWidget *page, PawlJobPages *self)
{
  pawl_job_pages_show (self, "readings");
}

static void
intake_back_cb (GtkWidget *page, PawlJobPages *self)
{
  gtk_stack_set_visible_child (GTK_STACK (self->stack), self->intake_from != NULL ? self->intake_from : self->bench);
}

static void
pawl_job_pages_dispose (GObject *object)
{
  PawlJobPages *self = PAWL_JOB_PAGES (object);

  g_clear_pointer (&self->stack, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (pawl_job_pages_parent_class)->dispose (object);
}

static void
pawl_job_pages_class_init (PawlJobPagesClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_job_pages_dispose;
  g_type_ensure (PAWL_TYPE_BENCH_PAGE);
  g_type_ensure (PAWL_TYPE_RUN_PAGE);
  g_type_ensure (PAWL_TYPE_READINGS_PAGE);
  g_type_ensure (PAWL_TYPE_HISTORY_PAGE);
  g_type_ensure (PAWL_TYPE_PARTS_PAGE);
  g_type_ensure (PAWL_TYPE_REPORT_PAGE);
  g_type_ensure (PAWL_TYPE_INTAKE_PAGE);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-job-pages.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlJobPages, stack);
  gtk_widget_class_bind_template_child (widget_class, PawlJobPages, bench);
  gtk_widget_class_bind_template_child (widget_class, PawlJobPages, run);
  gtk_widget_class_bind_template_child (widget_class, PawlJobPages, readings);
  gtk_widget_class_bind_template_child (widget_class, PawlJobPages, history);
  gtk_widget_class_bind_template_child (widget_class, PawlJobPages, parts);
  gtk_widget_class_bind_template_child (widget_class, PawlJobPages, report);
  gtk_widget_class_bind_template_child (widget_class, PawlJobPages, intake);
  gtk_widget_class_bind_template_callback (widget_class, page_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, step_wanted_cb);
  gtk_widget_class_bind_template_callback (widget_class, step_of_job_wanted_cb);
  gtk_widget_class_bind_template_callback (widget_class, history_wanted_cb);
  gtk_widget_class_bind_template_callback (widget_class, history_back_cb);
  gtk_widget_class_bind_template_callback (widget_class, intake_back_cb);
  signals[STEP_WANTED] = g_signal_new ("step-wanted", PAWL_TYPE_JOB_PAGES, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
}

static void
pawl_job_pages_init (PawlJobPages *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
pawl_job_pages_new (void)
{
  return g_object_new (PAWL_TYPE_JOB_PAGES, NULL);
}
