#include "app/pawl-holds-page.h"

#include <glib/gi18n.h>
#include "app/pawl-answer.h"
#include "app/pawl-list-line.h"
#include "app/pawl-prompt-form.h"
#include "app/pawl-signature.h"
#include "bench/pawl-bench.h"
#include "training/pawl-waiting-holds.h"

struct _PawlHoldsPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *scroller, *list, *empty, *problem, *form, *chosen;

  /* owned */
  PawlRecord *record; /* (nullable) */
  GPtrArray  *holds;  /* (element-type PawlWaitingHold) */
  char       *job, *step; /* (nullable): that the form is about */
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlHoldsPage, pawl_holds_page, GTK_TYPE_WIDGET)

static void
set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
}

/* ---- the list ---- */

static const char *
get_level_word (PawlHold level)
{
  switch (level)
    {
    case PAWL_HOLD_WITNESS: return _("Witness point");
    case PAWL_HOLD_REVIEW:  return _("Review point");
    case PAWL_HOLD_HOLD:
    case PAWL_HOLD_NONE:
    default:                return _("Hold");
    }
}

/* "SD-3 sidedraft carburetor, 4711, bench 2: step 23" */
static char *
describe_place (const PawlWaitingHold *hold)
{
  GString *text = g_string_new (hold->unit);

  if (*hold->serial != '\0')
    g_string_append_printf (text, ", %s", hold->serial);
  if (*hold->bench != '\0')
    g_string_append_printf (text, _(", bench %s"), hold->bench);
  g_string_append_printf (text, _(": step %s"), hold->number);
  return g_string_free (text, FALSE);
}

static char *
describe_since (const PawlWaitingHold *hold)
{
  g_autofree char *time = g_date_time_format (hold->since, "%Y-%m-%d %H:%M");
  g_autofree char *text = g_strdup_printf (hold->is_called ? _("%s asks for somebody since %s") : _("done by %s, %s"), hold->by, time);

  return *hold->note != '\0' ? g_strdup_printf ("%s: %s", text, hold->note) : g_steal_pointer (&text);
}

static void
append_labelled (GtkWidget *line, const char *format, const char *text)
{
  g_autofree char *prompt = *text != '\0' ? g_strdup_printf ("%s: %s", format, text) : NULL;

  pawl_list_line_append (line, prompt, "secondary");
}

static GtkWidget *
make_row (const PawlWaitingHold *hold)
{
  GtkWidget *line = pawl_list_line_new ();
  g_autofree char *place = describe_place (hold), *since = describe_since (hold), *waiting = g_strdup_printf ("%u", hold->n_waiting);

  pawl_list_line_append (line, place, "row-title");
  pawl_list_line_append (line, hold->command, NULL);
  pawl_list_line_append (line, since, hold->is_called ? "strong" : "secondary");
  append_labelled (line, _("Why"), hold->why);
  append_labelled (line, _("Will be hidden"), hold->hides);
  append_labelled (line, _("Steps that wait for it"), hold->n_waiting > 0 ? waiting : "");
  pawl_list_line_append_end (line, get_level_word (hold->level), hold->level == PAWL_HOLD_HOLD ? "strong" : NULL);
  return pawl_list_line_wrap (line, place, since);
}

static void
load (PawlHoldsPage *self)
{
  g_autoptr(GError) error = NULL;
  gboolean is_loaded;

  g_clear_pointer (&self->holds, g_ptr_array_unref);
  if (self->record != NULL)
    self->holds = pawl_waiting_holds_load (self->record, &error);
  is_loaded = self->holds != NULL;
  if (self->holds == NULL)
    self->holds = pawl_waiting_holds_new ();
  set_text (self->problem, error != NULL ? error->message : NULL);
  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  for (guint i = 0; i < self->holds->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (self->holds->pdata[i]));
  gtk_widget_set_visible (self->empty, is_loaded && self->holds->len == 0);
  gtk_widget_set_visible (self->list, self->holds->len > 0);
}

void
pawl_holds_page_apply (PawlHoldsPage *self, PawlRecord *record)
{
  g_set_object (&self->record, record);
  load (self);
}

void
pawl_holds_page_go (PawlHoldsPage *self)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);

  if (row != NULL)
    gtk_widget_grab_focus (GTK_WIDGET (row));
}

/* ---- releasing ---- */

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlHoldsPage *self)
{
  const PawlWaitingHold *hold = self->holds->pdata[gtk_list_box_row_get_index (row)];
  g_autofree char *place = describe_place (hold);

  g_free (self->job);
  g_free (self->step);
  self->job = g_strdup (hold->job);
  self->step = g_strdup (hold->step);
  set_text (self->chosen, place);
  pawl_prompt_form_open (PAWL_PROMPT_FORM (self->form), PAWL_PROMPT_RELEASE);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), 0);
}

static PawlEntry *
make_release (PawlHoldsPage *self, PawlBench *bench)
{
  g_autofree char *person = g_strstrip (g_strdup (pawl_prompt_form_get_line (PAWL_PROMPT_FORM (self->form), 0)));
  g_autoptr(GDateTime) now = pawl_bench_now (bench);

  return pawl_answer_new_release (pawl_job_lookup_step (pawl_bench_get_job (bench), self->step), (PawlHand) { person, now });
}

/* What the job would refuse is said before anybody types a PIN. */
static void
answered_cb (PawlPromptForm *form, PawlHoldsPage *self)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlBench) bench = pawl_bench_resume (self->record, self->job, NULL, &error);
  g_autoptr(PawlEntry) entry = bench != NULL ? make_release (self, bench) : NULL;

  if (entry == NULL || !pawl_job_check (pawl_bench_get_job (bench), entry, &error))
    {
      pawl_prompt_form_say (form, error->message);
      return;
    }
  if (!pawl_signature_prove (form, self->record, entry))
    return;
  if (!pawl_bench_append_one (bench, entry, &error))
    {
      pawl_prompt_form_say (form, error->message);
      return;
    }
  pawl_prompt_form_close (form);
  load (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

/* ---- widget ---- */

static void
pawl_holds_page_dispose (GObject *object)
{
  PawlHoldsPage *self = PAWL_HOLDS_PAGE (object);

  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  g_clear_object (&self->record);
  G_OBJECT_CLASS (pawl_holds_page_parent_class)->dispose (object);
}

static void
pawl_holds_page_finalize (GObject *object)
{
  PawlHoldsPage *self = PAWL_HOLDS_PAGE (object);

  g_clear_pointer (&self->holds, g_ptr_array_unref);
  g_free (self->job);
  g_free (self->step);
  G_OBJECT_CLASS (pawl_holds_page_parent_class)->finalize (object);
}

static void
pawl_holds_page_class_init (PawlHoldsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_holds_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_holds_page_finalize;
  g_type_ensure (PAWL_TYPE_PROMPT_FORM);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-holds-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlHoldsPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PawlHoldsPage, list);
  gtk_widget_class_bind_template_child (widget_class, PawlHoldsPage, empty);
  gtk_widget_class_bind_template_child (widget_class, PawlHoldsPage, problem);
  gtk_widget_class_bind_template_child (widget_class, PawlHoldsPage, form);
  gtk_widget_class_bind_template_child (widget_class, PawlHoldsPage, chosen);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, answered_cb);
  signals[CHANGED] = g_signal_new ("changed", PAWL_TYPE_HOLDS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_holds_page_init (PawlHoldsPage *self)
{
  self->holds = pawl_waiting_holds_new ();
  gtk_widget_init_template (GTK_WIDGET (self));
}
