#include "app/pawl-run-page.h"

#include <glib/gi18n.h>
#include "app/pawl-list-line.h"
#include "app/pawl-phrases.h"

#define MOST_BLOCKERS 3

struct _PawlRunPage {
  GtkWidget parent_instance;
  GtkWidget *scroller, *list;
};

enum { STEP_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlRunPage, pawl_run_page, GTK_TYPE_WIDGET)

/* "Reassembly, body", or the whole unit's lane. */
static const char *
get_lane (const PawlStep *step)
{
  return *step->lane != '\0' ? step->lane : _("whole unit");
}

static char *
describe_blockers (const PawlStepState *state)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < state->blockers->len && i < MOST_BLOCKERS; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "; " : _("After "), ((PawlBlocker *) state->blockers->pdata[i])->text);
  if (state->blockers->len > MOST_BLOCKERS)
    g_string_append_printf (text, _("; and %u more"), state->blockers->len - MOST_BLOCKERS);
  return g_string_free (text, FALSE);
}

static const char *
get_sign (PawlStepStatus status)
{
  switch (status)
    {
    case PAWL_STEP_DONE:    return "✓";
    case PAWL_STEP_SKIPPED: return "–";
    case PAWL_STEP_OPEN:    return "▸";
    case PAWL_STEP_WAITING: return "⧗";
    case PAWL_STEP_REDO:    return "↺";
    case PAWL_STEP_BLOCKED:
    case PAWL_STEP_NOT_APPLICABLE:
    default:                return "·";
    }
}

static GtkWidget *
make_row (const PawlStepState *state)
{
  GtkWidget *line = pawl_list_line_new ();
  g_autofree char *title = g_strdup_printf ("%s  %s  %s", get_sign (state->status), state->step->number, state->step->command);
  g_autofree char *status = pawl_phrase_format_outcome (pawl_step_status_get_word (state->status));
  g_autofree char *blockers = describe_blockers (state);
  GtkWidget *row;

  pawl_list_line_append (line, title, state->status == PAWL_STEP_BLOCKED || state->status == PAWL_STEP_NOT_APPLICABLE ? NULL : "strong");
  pawl_list_line_append (line, blockers, "secondary");
  pawl_list_line_append (line, state->redo_reason, "secondary");
  pawl_list_line_append_end (line, status, "status-word");
  row = pawl_list_line_wrap (line, title, status);
  g_object_set_data_full (G_OBJECT (row), "step", g_strdup (state->step->id), g_free);
  return row;
}

/* Lanes in the order in which their first step comes. */
static GPtrArray *
list_lanes (PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job), *lanes = g_ptr_array_new ();

  for (guint i = 0; i < steps->len; i++)
    {
      const char *lane = get_lane (((PawlStepState *) steps->pdata[i])->step);

      if (!g_ptr_array_find_with_equal_func (lanes, lane, g_str_equal, NULL))
        g_ptr_array_add (lanes, (gpointer) lane);
    }
  return lanes;
}

static void
append_lane (PawlRunPage *self, PawlJob *job, const char *lane)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  g_autofree char *title = pawl_phrase_format_outcome (lane);

  gtk_list_box_append (GTK_LIST_BOX (self->list), pawl_list_line_make_heading (title));
  for (guint i = 0; i < steps->len; i++)
    if (g_str_equal (get_lane (((PawlStepState *) steps->pdata[i])->step), lane))
      gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (steps->pdata[i]));
}

void
pawl_run_page_apply (PawlRunPage *self, PawlJob *job)
{
  g_autoptr(GPtrArray) lanes = job != NULL ? list_lanes (job) : NULL;

  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  for (guint i = 0; lanes != NULL && i < lanes->len; i++)
    append_lane (self, job, lanes->pdata[i]);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlRunPage *self)
{
  const char *step = g_object_get_data (G_OBJECT (row), "step");

  if (step != NULL)
    g_signal_emit (self, signals[STEP_WANTED], 0, step);
}

static void
pawl_run_page_dispose (GObject *object)
{
  g_clear_pointer (&PAWL_RUN_PAGE (object)->scroller, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_run_page_parent_class)->dispose (object);
}

static void
pawl_run_page_class_init (PawlRunPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_run_page_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-run-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlRunPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PawlRunPage, list);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  signals[STEP_WANTED] = g_signal_new ("step-wanted", PAWL_TYPE_RUN_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pawl_run_page_init (PawlRunPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
