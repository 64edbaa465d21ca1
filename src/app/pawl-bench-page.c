#include "app/pawl-bench-page.h"

#include <glib/gi18n.h>
#include "app/pawl-look.h"
#include "app/pawl-outcome-picture.h"
#include "app/pawl-teardown-panel.h"
#include "app/pawl-work.h"

#define PANEL_SHARE 0.40
#define PANEL_SHARE_BENCH 0.54
#define PANEL_LEAST 420
#define PANEL_MOST 760
#define FIGURE_SHARE_TALL 0.46

struct _PawlBenchPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *sheet, *figure, *film, *panel, *teardown, *picked, *check_again, *echo, *echo_value, *echo_verdict, *offer, *offer_head, *offer_words, *offer_about;

  /* owned */
  PawlSession  *session;
  GCancellable *cancellable; /* of the figure that is being tried and opened now */
  char         *apart_from;  /* (nullable): the step that was looked at when the unit was taken apart, only to look; NULL: the job is shown */

  PawlTrial    *trial;       /* borrowed */

  PawlPalette palette;
  gboolean is_bench_size;
};

G_DEFINE_FINAL_TYPE (PawlBenchPage, pawl_bench_page, GTK_TYPE_WIDGET)

/* ---- the figure ---- */

static void
apply_figure (PawlBenchPage *self)
{
  const PawlStepState *step = pawl_session_peek_step (self->session);

  pawl_figure_view_set_marked (PAWL_FIGURE_VIEW (self->figure), pawl_session_peek_marked (self->session));
  pawl_figure_view_apply (PAWL_FIGURE_VIEW (self->figure), pawl_session_get_job (self->session), step != NULL ? step->step : NULL, TRUE);
}

static void
spot_changed_cb (PawlSession *session, PawlBenchPage *self)
{
  const PawlReadingSpot *spot = pawl_session_peek_spot (session);
  const PawlPart *part = spot != NULL && spot->part != NULL ? pawl_procedure_lookup_part (pawl_bench_get_procedure (pawl_session_get_bench (session)), spot->part) : NULL;

  pawl_figure_view_set_mark (PAWL_FIGURE_VIEW (self->figure), spot != NULL && spot->has_mark ? &spot->mark : NULL, part != NULL ? part->regions[0] : NULL);
}

/* Over the foot of the figure: it takes no room from the step, and nothing moves when it comes. */
static void
echo_changed_cb (PawlSession *session, PawlBenchPage *self)
{
  const char *verdict, *value = pawl_session_peek_echo (session, &verdict);

  gtk_label_set_label (GTK_LABEL (self->echo_value), value != NULL ? value : "");
  gtk_label_set_label (GTK_LABEL (self->echo_verdict), verdict != NULL ? verdict : "");
  gtk_widget_set_visible (self->echo_verdict, verdict != NULL);
  gtk_widget_set_visible (self->echo, value != NULL);
}

static void
set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

/* In the echo's place: only one of the two has something to say. */
static void
offer_changed_cb (PawlSession *session, PawlBenchPage *self)
{
  const PawlOffer *offer = pawl_session_peek_offer (session);

  set_text (self->offer_head, offer != NULL ? offer->head : NULL);
  set_text (self->offer_words, offer != NULL ? offer->words : NULL);
  set_text (self->offer_about, offer != NULL ? offer->about : NULL);
  gtk_widget_set_visible (self->offer, offer != NULL);
}

/* What the worker is handed, and what it draws while it has the figure to itself. */
typedef struct {
  PawlTrial *trial;
  GBytes    *bytes;
  PawlProcedure *procedure;
  GHashTable *pictures; /* (nullable) */
  char      *name;
  PawlTrialUse use;
} Loading;

static void
loading_free (gpointer data)
{
  Loading *loading = data;

  g_object_unref (loading->trial);
  g_bytes_unref (loading->bytes);
  g_object_unref (loading->procedure);
  g_clear_pointer (&loading->pictures, g_hash_table_unref);
  g_free (loading->name);
  g_free (loading);
}

static void
load_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Loading *loading = data;
  GError *error = NULL;
  PawlFigure *figure = pawl_trial_load_bytes (loading->trial, loading->bytes, loading->name, loading->use, cancellable, &error);

  if (figure != NULL)
    {
      loading->pictures = pawl_outcome_pictures_draw (loading->procedure, figure);
      g_task_return_pointer (task, figure, g_object_unref);
    }
  else
    g_task_return_error (task, error);
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = g_task_propagate_pointer (G_TASK (result), &error);
  PawlBenchPage *self = PAWL_BENCH_PAGE (source);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || self->session == NULL)
    return; /* stale: another job is open, or none */
  if (figure != NULL)
    pawl_session_take_pictures (self->session, g_steal_pointer (&((Loading *) g_task_get_task_data (G_TASK (result)))->pictures));
  pawl_figure_view_set_figure (PAWL_FIGURE_VIEW (self->figure), figure, error != NULL ? error->message : NULL);
  gtk_widget_set_visible (self->check_again, pawl_trial_may_change (error));
  pawl_figure_view_set_palette (PAWL_FIGURE_VIEW (self->figure), self->palette);
  pawl_bench_page_set_bench_size (self, self->is_bench_size);
  apply_figure (self);
  if (self->apart_from != NULL)
    pawl_build_up_bar_step (PAWL_BUILD_UP_BAR (self->film), 0);
}

static void
stop_loading (PawlBenchPage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  gtk_widget_hide (self->check_again);
}

static void
load_figure (PawlBenchPage *self, PawlTrialUse use)
{
  PawlBench *bench = pawl_session_get_bench (self->session);
  GBytes *bytes = pawl_bench_peek_figure (bench);
  g_autoptr(GTask) task = NULL;
  Loading *loading;

  stop_loading (self);
  if (bytes == NULL)
    {
      pawl_figure_view_set_figure (PAWL_FIGURE_VIEW (self->figure), NULL, _("This procedure has no figure."));
      return;
    }
  pawl_figure_view_set_figure (PAWL_FIGURE_VIEW (self->figure), NULL, _("Checking the figure…"));
  self->cancellable = g_cancellable_new ();
  task = g_task_new (self, self->cancellable, loaded_cb, NULL);
  loading = g_new0 (Loading, 1);
  loading->trial = g_object_ref (self->trial);
  loading->bytes = g_bytes_ref (bytes);
  loading->procedure = g_object_ref (pawl_bench_get_procedure (bench));
  loading->name = g_path_get_basename (pawl_procedure_get_figure (pawl_bench_get_procedure (bench)));
  loading->use = use;
  g_task_set_task_data (task, loading, loading_free);
  pawl_work_start (task, GTK_WIDGET (self), load_in_thread);
}

/* In a corner of the figure: the picked part, or the step that the build-up has come to. */
static void
say (PawlBenchPage *self, const char *text)
{
  gtk_label_set_label (GTK_LABEL (self->picked), text != NULL ? text : "");
  gtk_widget_set_visible (self->picked, text != NULL);
}

static void
check_again_cb (GtkWidget *button, PawlBenchPage *self)
{
  if (self->session != NULL)
    load_figure (self, PAWL_TRIAL_ANEW);
}

static void
part_picked_cb (PawlFigureView *figure, const char *part_id, PawlBenchPage *self)
{
  const PawlPartState *part = self->session != NULL ? pawl_job_lookup_part (pawl_session_get_job (self->session), part_id) : NULL;
  g_autofree char *text = part != NULL ? g_strdup_printf ("%s  %s", part->part->item, part->part->name) : NULL;

  say (self, text);
}

/* ---- the build-up ---- */

static void
moved_cb (PawlBuildUpBar *film, double position, PawlBenchPage *self)
{
  g_autofree char *words = self->apart_from != NULL ? pawl_teardown_panel_describe (PAWL_TEARDOWN_PANEL (self->teardown), position)
                                                    : pawl_build_up_bar_describe (film);

  say (self, words);
  if (self->apart_from != NULL)
    pawl_teardown_panel_show_at (PAWL_TEARDOWN_PANEL (self->teardown), position);
  pawl_figure_view_show_film (PAWL_FIGURE_VIEW (self->figure), pawl_build_up_bar_peek_film (film), position);
}

static void
rested_cb (PawlBuildUpBar *film, PawlBenchPage *self)
{
  say (self, NULL);
  if (self->apart_from != NULL)
    pawl_bench_page_leave_apart (self);
  else if (self->session != NULL)
    apply_figure (self);
}

static void
chosen_cb (PawlBuildUpBar *film, const char *step_id, PawlBenchPage *self)
{
  if (self->session != NULL)
    pawl_session_look_at (self->session, step_id);
}

static gboolean
key_pressed_cb (GtkEventControllerKey *controller, guint keyval, guint keycode, GdkModifierType state, PawlBenchPage *self)
{
  if (keyval != GDK_KEY_Escape || pawl_build_up_bar_is_at_rest (PAWL_BUILD_UP_BAR (self->film)))
    return FALSE;
  pawl_build_up_bar_leave (PAWL_BUILD_UP_BAR (self->film));
  return TRUE;
}

/* The slider rests at the step that is looked at. */
static void
rest_film (PawlBenchPage *self)
{
  PawlBuildUp *film = pawl_build_up_bar_peek_film (PAWL_BUILD_UP_BAR (self->film));
  const PawlStepState *step = pawl_session_peek_step (self->session);

  if (!pawl_build_up_bar_is_at_rest (PAWL_BUILD_UP_BAR (self->film)))
    say (self, NULL);
  if (film != NULL && step != NULL)
    pawl_build_up_bar_rest_at (PAWL_BUILD_UP_BAR (self->film), pawl_build_up_find (film, step->step->id));
}

static PawlBuildUp *
make_film (PawlSession *session)
{
  PawlJob *job = pawl_session_get_job (session);

  if (pawl_bench_peek_figure (pawl_session_get_bench (session)) == NULL)
    return NULL;
  return pawl_build_up_new (pawl_job_get_procedure (job), pawl_job_get_variant (job));
}

/* ---- how it comes apart ---- */

static void
walked_cb (PawlTeardownPanel *panel, guint step, PawlBenchPage *self)
{
  pawl_build_up_bar_go_to (PAWL_BUILD_UP_BAR (self->film), step);
}

static void
stepped_cb (PawlTeardownPanel *panel, int n_steps, PawlBenchPage *self)
{
  pawl_build_up_bar_step (PAWL_BUILD_UP_BAR (self->film), n_steps);
}

/* @step: (nullable): that is looked at; NULL: the job is shown again. */
static void
set_apart (PawlBenchPage *self, const char *step)
{
  g_free (self->apart_from);
  self->apart_from = g_strdup (step);
  gtk_widget_set_visible (self->teardown, step != NULL);
  gtk_widget_set_visible (self->panel, step == NULL);
}

void
pawl_bench_page_take_apart (PawlBenchPage *self)
{
  PawlJob *job = self->session != NULL ? pawl_session_get_job (self->session) : NULL;
  const PawlStepState *step = job != NULL ? pawl_session_peek_step (self->session) : NULL;
  PawlBuildUp *film;

  if (step == NULL || self->apart_from != NULL)
    return;
  film = pawl_build_up_new_mirrored (pawl_job_get_procedure (job), pawl_job_get_variant (job));
  set_apart (self, step->step->id);
  pawl_teardown_panel_set_film (PAWL_TEARDOWN_PANEL (self->teardown), self->session, film);
  pawl_build_up_bar_set_film (PAWL_BUILD_UP_BAR (self->film), film);
  pawl_build_up_bar_go_to (PAWL_BUILD_UP_BAR (self->film), 0);
  pawl_teardown_panel_go (PAWL_TEARDOWN_PANEL (self->teardown));
}

void
pawl_bench_page_leave_apart (PawlBenchPage *self)
{
  if (self->apart_from == NULL)
    return;
  set_apart (self, NULL);
  pawl_teardown_panel_set_film (PAWL_TEARDOWN_PANEL (self->teardown), NULL, NULL);
  pawl_build_up_bar_set_film (PAWL_BUILD_UP_BAR (self->film), make_film (self->session));
  say (self, NULL);
  pawl_bench_page_apply (self);
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    pawl_step_panel_rest (PAWL_STEP_PANEL (self->panel));
}

gboolean
pawl_bench_page_is_apart (PawlBenchPage *self)
{
  return self->apart_from != NULL;
}

/* ---- public ---- */

static gboolean
is_of_this_variant (PawlBenchPage *self)
{
  PawlBuildUp *film = pawl_build_up_bar_peek_film (PAWL_BUILD_UP_BAR (self->film));

  return film == NULL || g_str_equal (pawl_build_up_get_variant (film), pawl_job_get_variant (pawl_session_get_job (self->session)));
}

/* Whoever goes to another step wants to see that; and another variant comes apart otherwise. */
static gboolean
stays_apart (PawlBenchPage *self)
{
  const PawlStepState *step = pawl_session_peek_step (self->session);

  return self->apart_from != NULL && step != NULL && g_str_equal (self->apart_from, step->step->id) && is_of_this_variant (self);
}

void
pawl_bench_page_apply (PawlBenchPage *self)
{
  if (self->session == NULL)
    return;
  if (stays_apart (self))
    {
      pawl_teardown_panel_apply (PAWL_TEARDOWN_PANEL (self->teardown));
      return;
    }
  if (self->apart_from != NULL)
    {
      pawl_bench_page_leave_apart (self);
      return;
    }
  if (!is_of_this_variant (self))
    pawl_build_up_bar_set_film (PAWL_BUILD_UP_BAR (self->film), make_film (self->session));
  pawl_step_panel_apply (PAWL_STEP_PANEL (self->panel));
  rest_film (self);
  apply_figure (self);
}

void
pawl_bench_page_set_session (PawlBenchPage *self, PawlSession *session, PawlTrial *trial)
{
  stop_loading (self);
  self->trial = trial;
  set_apart (self, NULL);
  pawl_teardown_panel_set_film (PAWL_TEARDOWN_PANEL (self->teardown), NULL, NULL);
  g_set_object (&self->session, session);
  pawl_figure_view_pick_part (PAWL_FIGURE_VIEW (self->figure), NULL);
  pawl_figure_view_set_mark (PAWL_FIGURE_VIEW (self->figure), NULL, NULL);
  if (session != NULL)
    {
      g_signal_connect_object (session, "spot-changed", G_CALLBACK (spot_changed_cb), self, 0);
      g_signal_connect_object (session, "echo-changed", G_CALLBACK (echo_changed_cb), self, 0);
      g_signal_connect_object (session, "offer-changed", G_CALLBACK (offer_changed_cb), self, 0);
    }
  gtk_widget_hide (self->echo);
  gtk_widget_hide (self->offer);
  pawl_step_panel_set_session (PAWL_STEP_PANEL (self->panel), session);
  pawl_build_up_bar_set_film (PAWL_BUILD_UP_BAR (self->film), session != NULL ? make_film (session) : NULL);
  if (session != NULL)
    load_figure (self, PAWL_TRIAL_KEPT);
  else
    pawl_figure_view_set_figure (PAWL_FIGURE_VIEW (self->figure), NULL, "");
}

PawlStepPanel *
pawl_bench_page_get_panel (PawlBenchPage *self)
{
  return PAWL_STEP_PANEL (self->panel);
}

PawlBuildUpBar *
pawl_bench_page_get_film (PawlBenchPage *self)
{
  return PAWL_BUILD_UP_BAR (self->film);
}

PawlFigureView *
pawl_bench_page_get_figure (PawlBenchPage *self)
{
  return PAWL_FIGURE_VIEW (self->figure);
}

void
pawl_bench_page_set_palette (PawlBenchPage *self, PawlPalette palette)
{
  self->palette = palette;
  pawl_figure_view_set_palette (PAWL_FIGURE_VIEW (self->figure), palette);
}

void
pawl_bench_page_set_bench_size (PawlBenchPage *self, gboolean is_bench_size)
{
  double pixels_per_mm = pawl_look_get_pixels_per_mm (GTK_WIDGET (self));

  self->is_bench_size = is_bench_size;
  pawl_figure_view_set_number_size (PAWL_FIGURE_VIEW (self->figure), is_bench_size ? PAWL_CAP_HEIGHT_MM * pixels_per_mm : 15);
  gtk_widget_queue_resize (GTK_WIDGET (self));
}

/* ---- layout: beside each other when there is room for it ---- */

static gboolean
is_wide (int width, int height)
{
  return width >= height && width >= 2 * PANEL_LEAST;
}

/* What stands beside the figure. */
static GtkWidget *
get_side (PawlBenchPage *self)
{
  return self->apart_from != NULL ? self->teardown : self->panel;
}

static int
get_least (GtkWidget *child, GtkOrientation orientation, int for_size)
{
  int least = 0;

  gtk_widget_measure (child, orientation, for_size, &least, NULL, NULL, NULL);
  return least;
}

static void
pawl_bench_page_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural, int *minimum_baseline, int *natural_baseline)
{
  PawlBenchPage *self = PAWL_BENCH_PAGE (widget);
  int sheet = get_least (self->sheet, orientation, -1), panel = get_least (get_side (self), orientation, -1);

  *minimum = orientation == GTK_ORIENTATION_HORIZONTAL ? MAX (sheet, panel) : sheet + MIN (panel, 260);
  *natural = orientation == GTK_ORIENTATION_HORIZONTAL ? MAX (*minimum, 1180) : MAX (*minimum, 720);
  *minimum_baseline = *natural_baseline = -1;
}

static void
pawl_bench_page_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  PawlBenchPage *self = PAWL_BENCH_PAGE (widget);
  GtkAllocation sheet = { 0, 0, width, height }, panel = { 0, 0, width, height };

  if (is_wide (width, height))
    {
      int share = (int) (width * (self->is_bench_size ? PANEL_SHARE_BENCH : PANEL_SHARE));

      panel.width = MAX (CLAMP (share, PANEL_LEAST, self->is_bench_size ? width : PANEL_MOST), get_least (get_side (self), GTK_ORIENTATION_HORIZONTAL, -1));
      panel.x = width - panel.width;
      sheet.width = MAX (width - panel.width, get_least (self->sheet, GTK_ORIENTATION_HORIZONTAL, -1));
    }
  else
    {
      sheet.height = MAX ((int) (height * FIGURE_SHARE_TALL), get_least (self->sheet, GTK_ORIENTATION_VERTICAL, width));
      panel.y = sheet.height;
      panel.height = MAX (height - sheet.height, get_least (get_side (self), GTK_ORIENTATION_VERTICAL, width));
    }
  gtk_widget_size_allocate (self->sheet, &sheet, -1);
  gtk_widget_size_allocate (get_side (self), &panel, -1);
}

static void
pawl_bench_page_dispose (GObject *object)
{
  PawlBenchPage *self = PAWL_BENCH_PAGE (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_object (&self->session);
  g_clear_pointer (&self->sheet, gtk_widget_unparent);
  g_clear_pointer (&self->panel, gtk_widget_unparent);
  g_clear_pointer (&self->teardown, gtk_widget_unparent);
  g_clear_pointer (&self->apart_from, g_free);
  G_OBJECT_CLASS (pawl_bench_page_parent_class)->dispose (object);
}

static void
pawl_bench_page_class_init (PawlBenchPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_bench_page_dispose;
  widget_class->measure = pawl_bench_page_measure;
  widget_class->size_allocate = pawl_bench_page_size_allocate;
  g_type_ensure (PAWL_TYPE_FIGURE_VIEW);
  g_type_ensure (PAWL_TYPE_BUILD_UP_BAR);
  g_type_ensure (PAWL_TYPE_STEP_PANEL);
  g_type_ensure (PAWL_TYPE_TEARDOWN_PANEL);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-bench-page.ui");
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, sheet);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, figure);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, film);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, panel);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, teardown);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, picked);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, check_again);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, echo);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, echo_value);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, echo_verdict);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, offer);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, offer_head);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, offer_words);
  gtk_widget_class_bind_template_child (widget_class, PawlBenchPage, offer_about);
  gtk_widget_class_bind_template_callback (widget_class, check_again_cb);
  gtk_widget_class_bind_template_callback (widget_class, part_picked_cb);
  gtk_widget_class_bind_template_callback (widget_class, moved_cb);
  gtk_widget_class_bind_template_callback (widget_class, rested_cb);
  gtk_widget_class_bind_template_callback (widget_class, chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, walked_cb);
  gtk_widget_class_bind_template_callback (widget_class, stepped_cb);
  gtk_widget_class_bind_template_callback (widget_class, pawl_bench_page_leave_apart);
}

static void
pawl_bench_page_init (PawlBenchPage *self)
{
  GtkEventController *keys;

  gtk_widget_init_template (GTK_WIDGET (self));
  keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
