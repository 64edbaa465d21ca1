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
  GtkWidget *stack, *scroller, *count, *list, *empty, *problem, *form, *chosen;
  GtkWidget *act_form, *told_title, *told_large, *told_text, *told_done;

  /* owned */
  PawlRecord *record;   /* (nullable) */
  GPtrArray  *holds;    /* (element-type PawlWaitingHold) */
  GPtrArray  *readings; /* (element-type PawlWaitingReading) */
  char       *person;   /* at the bench */
  char       *job, *step, *ask; /* (nullable): that a form is about */

  PawlTrainerAct act; /* of the form that fills the page */
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

/* (transfer full): who did it, or who asked for whom, and since when */
static char *
describe_since (const PawlWaitingHold *hold)
{
  g_autofree char *time = g_date_time_format (hold->since, "%Y-%m-%d %H:%M"), *text = NULL;

  if (!hold->is_called)
    text = g_strdup_printf (_("Done by %s, %s"), hold->by, time);
  else if (*hold->whom != '\0')
    text = g_strdup_printf (_("%s calls %s since %s"), hold->by, hold->whom, time);
  else
    text = g_strdup_printf (_("%s asks for somebody since %s"), hold->by, time);
  return *hold->note != '\0' ? g_strdup_printf ("%s: %s", text, hold->note) : g_steal_pointer (&text);
}

static void
append_labelled (GtkWidget *line, const char *format, const char *text)
{
  g_autofree char *prompt = *text != '\0' ? g_strdup_printf ("%s: %s", format, text) : NULL;

  pawl_list_line_append (line, prompt, "secondary");
}

static GtkWidget *
make_hold_row (const PawlWaitingHold *hold)
{
  GtkWidget *line = pawl_list_line_new ();
  g_autofree char *place = pawl_place_describe (hold->unit, hold->serial, hold->bench, hold->number), *since = describe_since (hold), *waiting = g_strdup_printf ("%u", hold->n_waiting);

  pawl_list_line_append (line, place, "row-title");
  pawl_list_line_append (line, hold->command, NULL);
  pawl_list_line_append (line, since, hold->is_called ? "strong" : "secondary");
  append_labelled (line, _("Why"), hold->why);
  append_labelled (line, _("Will be hidden"), hold->hides);
  append_labelled (line, _("Steps that wait for it"), hold->n_waiting > 0 ? waiting : "");
  pawl_list_line_append_end (line, get_level_word (hold->level), hold->level == PAWL_HOLD_HOLD ? "strong" : NULL);
  return pawl_list_line_wrap (line, place, since);
}

static GtkWidget *
make_reading_row (const PawlWaitingReading *reading)
{
  GtkWidget *line = pawl_list_line_new ();
  g_autofree char *place = pawl_place_describe (reading->unit, reading->serial, reading->bench, reading->number);
  g_autofree char *name = g_strdup_printf ("%s, %s", place, reading->name);
  g_autofree char *time = g_date_time_format (reading->since, "%Y-%m-%d %H:%M"), *since = g_strdup_printf (_("Taken by %s, %s; hidden until the other is in"), reading->by, time);
  g_autofree char *hidden = *reading->hidden_by != '\0' ? g_strdup_printf (_("Step %s hides the part: it has to be done again before anybody can measure."), reading->hidden_by)
                                                       : NULL;

  pawl_list_line_append (line, place, "row-title");
  pawl_list_line_append (line, reading->name, NULL);
  pawl_list_line_append (line, since, "secondary");
  pawl_list_line_append (line, hidden, "strong");
  pawl_list_line_append_end (line, _("To be measured again"), NULL);
  return pawl_list_line_wrap (line, name, since);
}

/* What a row is about: one of the two. */
static const char ROW_HOLD[] = "hold", ROW_READING[] = "reading";

static void
append_row (PawlHoldsPage *self, GtkWidget *row, const char *kind, gpointer what)
{
  g_object_set_data (G_OBJECT (row), kind, what);
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

static void
apply_list (PawlHoldsPage *self)
{
  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  for (guint i = 0; i < self->holds->len; i++)
    append_row (self, make_hold_row (self->holds->pdata[i]), ROW_HOLD, self->holds->pdata[i]);
  if (self->readings->len > 0)
    gtk_list_box_append (GTK_LIST_BOX (self->list), pawl_list_line_make_heading (_("Readings to be measured again")));
  for (guint i = 0; i < self->readings->len; i++)
    append_row (self, make_reading_row (self->readings->pdata[i]), ROW_READING, self->readings->pdata[i]);
  gtk_widget_set_visible (self->list, self->holds->len + self->readings->len > 0);
}

/* (transfer full): "5 steps to look at, 1 reading to be measured again" */
static char *
describe_count (PawlHoldsPage *self)
{
  guint n_holds = self->holds->len, n_readings = self->readings->len;
  g_autofree char *holds = g_strdup_printf (g_dngettext (NULL, "%u step to look at", "%u steps to look at", n_holds), n_holds);
  g_autofree char *readings = g_strdup_printf (g_dngettext (NULL, "%u reading to be measured again", "%u readings to be measured again", n_readings), n_readings);

  if (n_holds == 0 || n_readings == 0)
    return g_strdup (n_holds > 0 ? holds : n_readings > 0 ? readings : "");
  return g_strdup_printf ("%s, %s", holds, readings);
}

static void
load (PawlHoldsPage *self)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *count = NULL;
  gboolean is_loaded;

  pawl_list_line_clear (GTK_LIST_BOX (self->list)); /* its rows name what goes now */
  g_ptr_array_set_size (self->holds, 0);
  g_ptr_array_set_size (self->readings, 0);
  is_loaded = self->record != NULL && pawl_waiting_load (self->record, self->holds, self->readings, &error);
  set_text (self->problem, error != NULL ? error->message : NULL);
  apply_list (self);
  count = describe_count (self);
  set_text (self->count, count);
  gtk_widget_set_visible (self->empty, is_loaded && self->holds->len + self->readings->len == 0);
}

static void
show (PawlHoldsPage *self, const char *page)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page);
  pawl_holds_page_go (self);
}

void
pawl_holds_page_apply (PawlHoldsPage *self, PawlRecord *record, const char *person)
{
  g_set_object (&self->record, record);
  g_free (self->person);
  self->person = g_strdup (person);
  pawl_prompt_form_close (PAWL_PROMPT_FORM (self->form));
  pawl_field_form_close (PAWL_FIELD_FORM (self->act_form));
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
  load (self);
}

void
pawl_holds_page_refresh (PawlHoldsPage *self)
{
  if (gtk_widget_get_mapped (self->scroller) && !gtk_widget_get_visible (self->form))
    load (self);
}

void
pawl_holds_page_go (PawlHoldsPage *self)
{
  const char *shown = gtk_stack_get_visible_child_name (GTK_STACK (self->stack));
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);

  if (g_str_equal (shown, "form"))
    pawl_field_form_go (PAWL_FIELD_FORM (self->act_form));
  else if (g_str_equal (shown, "told"))
    gtk_widget_grab_focus (self->told_done);
  else if (row != NULL)
    gtk_widget_child_focus (self->list, GTK_DIR_TAB_FORWARD);
}

/* ---- what it is about ---- */

/* @ask: (nullable). Copied: they may be the old ones. */
static void
choose (PawlHoldsPage *self, const char *job, const char *step, const char *ask)
{
  g_autofree char *old_job = self->job, *old_step = self->step, *old_ask = self->ask;

  self->job = g_strdup (job);
  self->step = g_strdup (step);
  self->ask = g_strdup (ask);
}

static void
open_release (PawlHoldsPage *self, const PawlWaitingHold *hold)
{
  g_autofree char *place = pawl_place_describe (hold->unit, hold->serial, hold->bench, hold->number);

  choose (self, hold->job, hold->step, NULL);
  set_text (self->chosen, place);
  pawl_prompt_form_open (PAWL_PROMPT_FORM (self->form), PAWL_PROMPT_RELEASE);
  if (*hold->whom != '\0')
    pawl_prompt_form_set_line (PAWL_PROMPT_FORM (self->form), 0, hold->whom);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), 0);
}

/* (transfer full) (nullable): the job of the form, as it is now, with nothing hidden in sight */
static PawlBench *
resume (PawlHoldsPage *self, GError **error)
{
  return pawl_bench_resume (self->record, self->job, NULL, error);
}

/* Whoever was called is who acts, unless somebody else is chosen. */
static PawlTrainerScene
make_scene (PawlHoldsPage *self, PawlBench *bench)
{
  const PawlStepState *state = bench != NULL ? pawl_job_lookup_step (pawl_bench_get_job (bench), self->step) : NULL;
  const char *called = state != NULL && state->called != NULL ? pawl_entry_get (state->called, "whom") : NULL;

  return (PawlTrainerScene) { bench, self->step, self->ask, called != NULL ? called : self->person };
}

static void
open_act (PawlHoldsPage *self, PawlTrainerAct act)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlBench) bench = resume (self, &error);
  PawlTrainerScene scene = make_scene (self, bench);

  if (bench == NULL)
    {
      set_text (self->problem, error->message);
      return;
    }
  self->act = act;
  pawl_prompt_form_close (PAWL_PROMPT_FORM (self->form));
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "form");
  pawl_trainer_act_open (PAWL_FIELD_FORM (self->act_form), act, &scene);
}

void
pawl_holds_page_act (PawlHoldsPage *self, PawlTrainerAct act, const char *job, const char *step)
{
  if (self->record == NULL)
    return;
  choose (self, job, step, NULL);
  open_act (self, act);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlHoldsPage *self)
{
  const PawlWaitingHold *hold = g_object_get_data (G_OBJECT (row), ROW_HOLD);
  const PawlWaitingReading *reading = g_object_get_data (G_OBJECT (row), ROW_READING);

  if (hold != NULL)
    open_release (self, hold);
  else if (reading != NULL)
    {
      choose (self, reading->job, reading->step, reading->ask);
      open_act (self, PAWL_TRAINER_MEASURE);
    }
}

/* ---- releasing ---- */

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
  g_autoptr(PawlBench) bench = resume (self, &error);
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

static void open_seal_cb (GtkWidget *button, PawlHoldsPage *self) { open_act (self, PAWL_TRAINER_OPEN); }
static void waive_cb (GtkWidget *button, PawlHoldsPage *self)     { open_act (self, PAWL_TRAINER_WAIVE); }

/* ---- the form that fills the page ---- */

static void
tell (PawlHoldsPage *self, const PawlTold *told)
{
  gtk_label_set_label (GTK_LABEL (self->told_title), told->title);
  set_text (self->told_large, told->large);
  set_text (self->told_text, told->text);
  show (self, "told");
}

static void
act_answered_cb (PawlFieldForm *form, PawlHoldsPage *self)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlBench) bench = resume (self, &error);
  PawlTrainerScene scene = make_scene (self, bench);
  g_autoptr(PawlTold) told = bench != NULL ? pawl_trainer_act_take (form, self->act, &scene, &error) : NULL;

  if (error != NULL)
    {
      pawl_field_form_say (form, error->message);
      return;
    }
  if (told != NULL)
    {
      pawl_field_form_close (form);
      load (self);
      tell (self, told);
    }
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
act_chosen_cb (PawlFieldForm *form, const char *id, PawlHoldsPage *self)
{
  g_autoptr(PawlBench) bench = g_str_equal (id, "reading") ? resume (self, NULL) : NULL;
  PawlTrainerScene scene = make_scene (self, bench);

  if (bench != NULL)
    pawl_trainer_act_choose (form, self->act, &scene);
}

static void
act_left_cb (PawlFieldForm *form, PawlHoldsPage *self)
{
  load (self);
  show (self, "list");
}

/* What was told once is nowhere else: a code must not stay behind on the screen. */
static void
told_done_cb (GtkWidget *button, PawlHoldsPage *self)
{
  set_text (self->told_large, NULL);
  set_text (self->told_text, NULL);
  show (self, "list");
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  PawlHoldsPage *self = PAWL_HOLDS_PAGE (widget);

  if (!g_str_equal (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "told"))
    return FALSE;
  told_done_cb (NULL, self);
  return TRUE;
}

/* ---- widget ---- */

static void
pawl_holds_page_dispose (GObject *object)
{
  PawlHoldsPage *self = PAWL_HOLDS_PAGE (object);

  g_clear_pointer (&self->stack, gtk_widget_unparent);
  g_clear_object (&self->record);
  G_OBJECT_CLASS (pawl_holds_page_parent_class)->dispose (object);
}

static void
pawl_holds_page_finalize (GObject *object)
{
  PawlHoldsPage *self = PAWL_HOLDS_PAGE (object);

  g_ptr_array_unref (self->holds);
  g_ptr_array_unref (self->readings);
  g_free (self->person);
  g_free (self->job);
  g_free (self->step);
  g_free (self->ask);
  G_OBJECT_CLASS (pawl_holds_page_parent_class)->finalize (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlHoldsPage, child)
#define BIND_CALLBACK(callback) gtk_widget_class_bind_template_callback (widget_class, callback)

static void
bind_template (GtkWidgetClass *widget_class)
{
  BIND (stack);
  BIND (scroller);
  BIND (count);
  BIND (list);
  BIND (empty);
  BIND (problem);
  BIND (form);
  BIND (chosen);
  BIND (act_form);
  BIND (told_title);
  BIND (told_large);
  BIND (told_text);
  BIND (told_done);
  BIND_CALLBACK (row_activated_cb);
  BIND_CALLBACK (answered_cb);
  BIND_CALLBACK (open_seal_cb);
  BIND_CALLBACK (waive_cb);
  BIND_CALLBACK (act_answered_cb);
  BIND_CALLBACK (act_chosen_cb);
  BIND_CALLBACK (act_left_cb);
  BIND_CALLBACK (told_done_cb);
}

#undef BIND
#undef BIND_CALLBACK

static void
pawl_holds_page_class_init (PawlHoldsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_holds_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_holds_page_finalize;
  g_type_ensure (PAWL_TYPE_PROMPT_FORM);
  g_type_ensure (PAWL_TYPE_FIELD_FORM);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-holds-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  bind_template (widget_class);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, escape_cb, NULL);
  signals[CHANGED] = g_signal_new ("changed", PAWL_TYPE_HOLDS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_holds_page_init (PawlHoldsPage *self)
{
  self->holds = pawl_waiting_holds_new ();
  self->readings = pawl_waiting_readings_new ();
  self->person = g_strdup ("");
  gtk_widget_init_template (GTK_WIDGET (self));
}
