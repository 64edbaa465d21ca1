#include "app/pawl-run-page.h"

#include <glib/gi18n.h>
#include "app/pawl-lanes-area.h"
#include "app/pawl-lanes-words.h"
#include "app/pawl-list-line.h"
#include "app/pawl-phrases.h"
#include "app/pawl-plan-task.h"

/* More than so many things to do now is no advice. */
#define MOST_NOW 3

struct _PawlRunPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box, *whole_bench, *day, *now_title, *now, *area, *across, *down, *name, *description, *problem;

  const PawlSettings *settings; /* borrowed */

  /* owned */
  PawlSession  *session;     /* (nullable) */
  char         *language;    /* (nullable) */
  GCancellable *cancellable; /* (nullable) of the plan that is being made */
  PawlDayPlan  *plan;        /* (nullable) that is shown */
};

enum { STEP_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlRunPage, pawl_run_page, GTK_TYPE_WIDGET)

static const PawlWorkPlanJob *
get_job (PawlRunPage *self, guint job)
{
  return pawl_work_plan_get_jobs (self->plan->plan)->pdata[job];
}

static gboolean
is_whole_bench (PawlRunPage *self)
{
  return gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (self->whole_bench));
}

/* ---- what to do now ---- */

static GtkWidget *
make_short_label (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_ellipsize (GTK_LABEL (label), PANGO_ELLIPSIZE_END);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, css_class);
  return label;
}

/* One line, however long: what, of which job, how urgent. */
static GtkWidget *
make_now_row (PawlRunPage *self, const PawlWorkPlanItem *item, guint place)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18), *label, *row;
  const char *job = get_job (self, item->job)->title;
  g_autofree char *what = pawl_work_plan_item_describe (item), *spare = pawl_lanes_words_spare (self->plan->plan, item);
  g_autofree char *title = item->wait != NULL ? g_strdup_printf (_("End the wait: %s"), what) : g_steal_pointer (&what);
  g_autofree char *description = is_whole_bench (self) ? g_strdup_printf ("%s, %s", job, spare) : g_strdup (spare);

  gtk_widget_add_css_class (line, "list-line");
  label = make_short_label (title, place == 0 ? "strong" : "later");
  gtk_widget_set_hexpand (label, TRUE);
  gtk_box_append (GTK_BOX (line), label);
  if (is_whole_bench (self))
    gtk_box_append (GTK_BOX (line), make_short_label (job, "secondary"));
  gtk_box_append (GTK_BOX (line), gtk_label_new (spare));
  row = pawl_list_line_wrap (line, title, description);
  g_object_set_data_full (G_OBJECT (row), "step", g_strdup (item->state->step->id), g_free);
  g_object_set_data_full (G_OBJECT (row), "job", g_strdup (pawl_job_get_id (get_job (self, item->job)->job)), g_free);
  return row;
}

static void
list_now (PawlRunPage *self)
{
  g_autoptr(GPtrArray) now = pawl_work_plan_list_now (self->plan->plan);

  pawl_list_line_clear (GTK_LIST_BOX (self->now));
  for (guint i = 0; i < now->len && i < MOST_NOW; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->now), make_now_row (self, now->pdata[i], i));
  gtk_widget_set_visible (self->now, now->len > 0);
  gtk_widget_set_visible (self->now_title, now->len > 0);
}

/* ---- what is looked at ---- */

static void
spot_changed_cb (PawlRunPage *self)
{
  PawlLanesSpot spot;
  gboolean is_any = pawl_lanes_area_get_spot (PAWL_LANES_AREA (self->area), &spot);
  g_autofree char *name = is_any ? pawl_lanes_words_name (&spot) : NULL;
  g_autofree char *words = is_any ? pawl_lanes_words_describe (self->plan->plan, &spot) : NULL;
  g_autofree char *description = is_any && is_whole_bench (self) ? g_strdup_printf ("%s. %s", get_job (self, spot.job)->title, words) : g_strdup (words);

  gtk_label_set_label (GTK_LABEL (self->name), is_any ? name : _("Arrow keys go through the lanes; Enter or a click goes to the step."));
  gtk_label_set_label (GTK_LABEL (self->description), is_any ? description : "");
  pawl_lanes_area_describe (PAWL_LANES_AREA (self->area), is_any ? name : "", is_any ? description : "");
}

static void
want (PawlRunPage *self, const char *job_id, const char *step_id)
{
  g_autofree char *job = g_strdup (job_id), *step = g_strdup (step_id); /* the page may be applied anew meanwhile */

  g_signal_emit (self, signals[STEP_WANTED], 0, job, step);
}

static void
spot_wanted_cb (PawlRunPage *self)
{
  PawlLanesSpot spot;

  if (pawl_lanes_area_get_spot (PAWL_LANES_AREA (self->area), &spot))
    want (self, pawl_job_get_id (get_job (self, spot.job)->job), spot.state->step->id);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlRunPage *self)
{
  want (self, g_object_get_data (G_OBJECT (row), "job"), g_object_get_data (G_OBJECT (row), "step"));
}

/* ---- planning ---- */

static void
show_problems (PawlRunPage *self, const char *more)
{
  g_autoptr(GString) text = g_string_new (more);

  for (guint i = 0; self->plan != NULL && i < self->plan->problems->len; i++)
    g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", (const char *) self->plan->problems->pdata[i]);
  gtk_label_set_label (GTK_LABEL (self->problem), text->str);
  gtk_widget_set_visible (self->problem, text->len > 0);
}

static void
take_plan (PawlRunPage *self, PawlDayPlan *plan)
{
  pawl_lanes_area_set_plan (PAWL_LANES_AREA (self->area), NULL);
  g_clear_pointer (&self->plan, pawl_day_plan_free);
  self->plan = plan;
  if (plan != NULL)
    {
      g_autofree char *day = pawl_lanes_words_day (plan->plan);

      gtk_label_set_label (GTK_LABEL (self->day), day);
      list_now (self);
      pawl_lanes_area_set_plan (PAWL_LANES_AREA (self->area), plan->plan);
    }
  spot_changed_cb (self);
}

static void
planned_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlRunPage *self = PAWL_RUN_PAGE (source);
  g_autoptr(GError) error = NULL;
  PawlDayPlan *plan = pawl_day_plan_finish (result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return; /* stale: it is planned anew already */
  if (plan != NULL)
    take_plan (self, plan);
  show_problems (self, error != NULL ? error->message : NULL);
}

static void
stop_planning (PawlRunPage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

void
pawl_run_page_apply (PawlRunPage *self)
{
  PawlBench *bench;

  stop_planning (self);
  if (self->session == NULL)
    return;
  bench = pawl_session_get_bench (self->session);
  self->cancellable = g_cancellable_new ();
  pawl_day_plan_async (GTK_WIDGET (self), pawl_bench_get_record (bench), is_whole_bench (self) ? NULL : pawl_job_get_id (pawl_bench_get_job (bench)),
                       self->settings->shop->hours, self->language, self->cancellable, planned_cb, NULL);
}

static void
scope_changed_cb (PawlRunPage *self)
{
  gtk_label_set_label (GTK_LABEL (self->day), _("Planning…"));
  pawl_lanes_area_forget (PAWL_LANES_AREA (self->area));
  pawl_run_page_apply (self);
}

/* Another job is another picture; the same one goes on. */
void
pawl_run_page_set_session (PawlRunPage *self, PawlSession *session, const PawlSettings *settings, const char *language)
{
  stop_planning (self);
  self->settings = settings;
  g_free (self->language);
  self->language = g_strdup (language);
  if (!g_set_object (&self->session, session))
    return;
  take_plan (self, NULL);
  pawl_lanes_area_forget (PAWL_LANES_AREA (self->area));
  pawl_list_line_clear (GTK_LIST_BOX (self->now));
  gtk_label_set_label (GTK_LABEL (self->day), _("Planning…"));
  show_problems (self, NULL);
  if (session != NULL && pawl_session_peek_step (session) != NULL)
    pawl_lanes_area_look_at (PAWL_LANES_AREA (self->area), pawl_job_get_id (pawl_session_get_job (session)), pawl_session_peek_step (session)->step->id);
}

void
pawl_run_page_go (PawlRunPage *self)
{
  gtk_widget_grab_focus (self->area);
}

void
pawl_run_page_zoom_by (PawlRunPage *self, double factor)
{
  pawl_lanes_area_zoom_by (PAWL_LANES_AREA (self->area), factor);
}

static void
closer_cb (PawlRunPage *self)
{
  pawl_run_page_zoom_by (self, 1.5);
}

static void
farther_cb (PawlRunPage *self)
{
  pawl_run_page_zoom_by (self, 1 / 1.5);
}

static void
all_cb (PawlRunPage *self)
{
  pawl_run_page_zoom_by (self, 0);
}

/* ---- widget ---- */

static void
pawl_run_page_dispose (GObject *object)
{
  PawlRunPage *self = PAWL_RUN_PAGE (object);

  stop_planning (self);
  if (self->area != NULL)
    pawl_lanes_area_set_plan (PAWL_LANES_AREA (self->area), NULL);
  gtk_widget_dispose_template (GTK_WIDGET (self), PAWL_TYPE_RUN_PAGE);
  g_clear_pointer (&self->plan, pawl_day_plan_free);
  g_clear_object (&self->session);
  g_clear_pointer (&self->language, g_free);
  G_OBJECT_CLASS (pawl_run_page_parent_class)->dispose (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlRunPage, child)
#define BIND_CALLBACK(callback) gtk_widget_class_bind_template_callback (widget_class, callback)

static void
pawl_run_page_class_init (PawlRunPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_run_page_dispose;
  g_type_ensure (PAWL_TYPE_LANES_AREA);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-run-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  BIND (box);
  BIND (whole_bench);
  BIND (day);
  BIND (now_title);
  BIND (now);
  BIND (area);
  BIND (across);
  BIND (down);
  BIND (name);
  BIND (description);
  BIND (problem);
  BIND_CALLBACK (scope_changed_cb);
  BIND_CALLBACK (spot_changed_cb);
  BIND_CALLBACK (spot_wanted_cb);
  BIND_CALLBACK (row_activated_cb);
  BIND_CALLBACK (closer_cb);
  BIND_CALLBACK (farther_cb);
  BIND_CALLBACK (all_cb);
  signals[STEP_WANTED] = g_signal_new ("step-wanted", PAWL_TYPE_RUN_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
}

#undef BIND
#undef BIND_CALLBACK

static void
pawl_run_page_init (PawlRunPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_scrollbar_set_adjustment (GTK_SCROLLBAR (self->across), pawl_lanes_area_get_across (PAWL_LANES_AREA (self->area)));
  gtk_scrollbar_set_adjustment (GTK_SCROLLBAR (self->down), pawl_lanes_area_get_down (PAWL_LANES_AREA (self->area)));
}
