#include "app/pawl-step-panel-private.h"

#include <string.h>

#include <glib/gi18n.h>
#include "app/pawl-alike-view.h"
#include "app/pawl-ask-row.h"
#include "app/pawl-caution-panel.h"
#include "app/pawl-photo-ask.h"
#include "app/pawl-photo-strip.h"
#include "app/pawl-phrases.h"
#include "app/pawl-redo-list.h"


G_DEFINE_FINAL_TYPE (PawlStepPanel, pawl_step_panel, GTK_TYPE_WIDGET)

static void
set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
}

static void
remove_children (GtkWidget *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (box)) != NULL)
    gtk_box_remove (GTK_BOX (box), child);
}

/* ---- what a step always shows ---- */

/* A box is shown before it is filled: filled while hidden, it keeps the size that it had when it was empty. */
static void
build_cautions (PawlStepPanel *self, GPtrArray *cautions)
{
  remove_children (self->cautions);
  /* Shown before it is filled: a box that is filled while it is hidden gets no room from GTK 4.8, and the next text is drawn over it. */
  gtk_widget_set_visible (self->cautions, cautions->len > 0);
  for (guint i = 0; i < cautions->len; i++)
    gtk_box_append (GTK_BOX (self->cautions), pawl_caution_panel_new (cautions->pdata[i]));
}

static void
build_asks (PawlStepPanel *self, const PawlStepState *step)
{
  remove_children (self->asks);
  for (guint i = 0; i < step->asks->len; i++)
    {
      const PawlAskState *state = step->asks->pdata[i];

      if (state->status != PAWL_ASK_NOT_APPLICABLE)
        gtk_box_append (GTK_BOX (self->asks), GTK_WIDGET (pawl_ask_row_new (self->session, state->ask)));
    }
}

/* What looks alike among the parts that come off; shown before it is filled, as the cautions are. */
static void
build_alikes (PawlStepPanel *self, const PawlStepState *step)
{
  g_autoptr(PawlTrays) trays = pawl_trays_new (pawl_job_get_procedure (self->job), pawl_job_get_variant (self->job));

  remove_children (self->alikes);
  gtk_widget_set_visible (self->alikes, TRUE);
  gtk_widget_set_visible (self->alikes, pawl_alike_view_fill (self->alikes, self->session, trays, step->step));
}

static void
append_fact (GString *text, const char *label, const char *fact)
{
  g_autofree char *escaped = NULL;

  if (fact == NULL || *fact == '\0')
    return;
  escaped = g_markup_printf_escaped ("<b>%s</b>  %s", label, fact);
  g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", escaped);
}

/* One part stands behind its label; of several each has a line. */
static void
append_parts (GString *text, const char *label, const char *parts)
{
  g_autofree char *below = strchr (parts, '\n') != NULL ? g_strdup_printf ("\n%s", parts) : g_strdup (parts);

  append_fact (text, label, below);
}

static void
apply_facts (PawlStepPanel *self, const PawlStepPage *page)
{
  g_autoptr(GString) text = g_string_new (NULL);

  append_parts (text, _("Fits"), page->fits);
  append_parts (text, _("Takes off"), page->takes_off);
  append_fact (text, _("Tools"), page->tools);
  gtk_label_set_markup (GTK_LABEL (self->facts), text->str);
  gtk_widget_set_visible (self->facts, text->len > 0);
}

/* ---- covered by this step ---- */

static void
look_clicked_cb (GtkButton *button, PawlStepPanel *self)
{
  pawl_session_look_at (self->session, g_object_get_data (G_OBJECT (button), "step"));
}

static void
append_covered (PawlStepPanel *self, const PawlAskState *state)
{
  GtkWidget *line = gtk_button_new ();
  g_autofree char *title = pawl_phrase_make_title (state->ask);
  g_autofree char *status = pawl_phrase_format_outcome (pawl_ask_status_get_word (state->status));
  g_autofree char *text = g_strdup_printf (_("%s %s · step %s · %s"), pawl_ask_is_open (state) ? "○" : "✓", title, state->step->number, status);
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_button_set_child (GTK_BUTTON (line), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (line), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  gtk_widget_add_css_class (line, "covered-line");
  g_object_set_data_full (G_OBJECT (line), "step", g_strdup (state->step->id), g_free);
  g_signal_connect (line, "clicked", G_CALLBACK (look_clicked_cb), self);
  gtk_box_append (GTK_BOX (self->covered), line);
}

/* What is right already is one line; only what is still open is worth the room of a list. */
static void
apply_covered (PawlStepPanel *self, const PawlStepState *step)
{
  guint n = 0, n_open = 0;
  g_autofree char *title = NULL;

  remove_children (self->covered);
  gtk_widget_show (self->covered_box);
  gtk_widget_show (self->covered);
  for (guint i = 0; i < step->covered->len; i++)
    {
      const PawlAskState *state = step->covered->pdata[i];

      if (state->step == step->step || state->status == PAWL_ASK_NOT_APPLICABLE)
        continue;
      n++;
      if (!pawl_ask_is_open (state) && state->status != PAWL_ASK_RUNNING)
        continue;
      append_covered (self, state);
      n_open++;
    }
  title = n_open == 0 ? g_strdup_printf (g_dngettext (NULL, "✓ Covered by this step: %u answer, right", "✓ Covered by this step: %u answers, all right", n), n)
                      : g_strdup_printf (_("Covered by this step: %u of %u still to be right before it"), n_open, n);
  gtk_label_set_label (GTK_LABEL (self->covered_title), title);
  gtk_widget_set_visible (self->covered, n_open > 0);
  gtk_widget_set_visible (self->covered_box, n > 0);
}

/* ---- state to widgets ---- */

static void
apply_asks (PawlStepPanel *self, const PawlStepPage *page)
{
  for (GtkWidget *row = gtk_widget_get_first_child (self->asks); row != NULL; row = gtk_widget_get_next_sibling (row))
    {
      const PawlAskState *state = pawl_job_lookup_ask (self->job, pawl_ask_row_get_ask (PAWL_ASK_ROW (row))->id);

      if (state != NULL)
        pawl_ask_row_update (PAWL_ASK_ROW (row), self->job, state, !page->is_over && page->step->status != PAWL_STEP_BLOCKED);
    }
}

static void
apply_notes (PawlStepPanel *self, const PawlStepState *step)
{
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < step->notes->len; i++)
    {
      PawlEntry *note = step->notes->pdata[i];

      g_string_append_printf (text, _("%sNote by %s: %s"), i > 0 ? "\n" : "", pawl_entry_get_person (note), pawl_entry_get (note, "text"));
    }
  set_text (self->notes, text->str);
}

/* What the next press would confirm stands on the button that it presses, and at the ask that it answers. */
static void
apply_offer (PawlStepPanel *self, const PawlStepPage *page)
{
  const PawlOffer *offer = pawl_session_peek_offer (self->session);
  const char *shown = offer != NULL ? offer->ask : NULL;
  g_autofree char *label = shown != NULL ? g_strdup_printf (_("Press again: %s"), offer->words) : g_strdup (page->advance_label);

  for (GtkWidget *row = gtk_widget_get_first_child (self->asks); row != NULL; row = gtk_widget_get_next_sibling (row))
    pawl_ask_row_offer (PAWL_ASK_ROW (row), g_strcmp0 (pawl_ask_row_get_ask (PAWL_ASK_ROW (row))->id, shown) == 0 ? label : NULL);
  gtk_label_set_label (GTK_LABEL (self->advance_label), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->advance), GTK_ACCESSIBLE_PROPERTY_LABEL, label,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, page->why_not, -1);
  if (page->advance == PAWL_ADVANCE_REFUSED && shown == NULL)
    gtk_widget_add_css_class (self->advance, "not-yet");
  else
    gtk_widget_remove_css_class (self->advance, "not-yet");
}

static void
apply_footer (PawlStepPanel *self, const PawlStepPage *page)
{
  apply_offer (self, page);
  gtk_widget_set_visible (self->skip, page->can_skip);
  gtk_widget_set_visible (self->deviate, page->can_skip);
  gtk_widget_set_visible (self->redo, page->can_redo);
}

static void
apply_texts (PawlStepPanel *self, const PawlStepPage *page)
{
  set_text (self->place, page->place);
  set_text (self->status, page->status);
  set_text (self->command, page->step->step->command);
  set_text (self->info, page->info);
  set_text (self->expect, page->expect);
  set_text (self->banner, page->banner);
  set_text (self->hold, page->hold);
  gtk_widget_set_visible (self->release, page->needs_release);
  gtk_widget_set_visible (self->call, page->can_call);
  gtk_widget_set_visible (self->take_apart, page->wants_teardown);
}

/* Said once about a refused press, it stays as long as it is true: until something is answered, or another step is looked at. */
static void
apply_spoken (PawlStepPanel *self, gboolean is_other_step)
{
  if (is_other_step || pawl_job_get_entries (self->job)->len != self->n_entries)
    g_clear_pointer (&self->spoken, g_free);
  set_text (self->why_not, self->spoken);
}

static void
show_other_step (PawlStepPanel *self, const PawlStepPage *page)
{
  pawl_step_panel_keep_form (self);
  g_free (self->step_id);
  self->step_id = g_strdup (page->step->step->id);
  build_cautions (self, page->cautions);
  build_alikes (self, page->step);
  build_asks (self, page->step);
  pawl_prompt_form_close (PAWL_PROMPT_FORM (self->form));
  pawl_step_panel_restore_form (self);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), 0);
}

/* ---- what opens again ---- */

static gboolean
is_asked_to_redo (PawlStepPanel *self)
{
  return gtk_widget_get_visible (self->form) && pawl_prompt_form_get_kind (PAWL_PROMPT_FORM (self->form)) == PAWL_PROMPT_REDO;
}

/* (nullable): of the first ask that is out, when putting it right opens something. */
static PawlRedoPlan *
find_correction (PawlStepPanel *self, const PawlStepState *step, const PawlAskState **ask)
{
  for (guint i = 0; i < step->asks->len; i++)
    {
      g_autoptr(PawlRedoPlan) plan = NULL;

      *ask = step->asks->pdata[i];
      if ((*ask)->status != PAWL_ASK_OUT && (*ask)->status != PAWL_ASK_TOO_CLOSE)
        continue;
      plan = pawl_redo_plan_new_for_correction (self->job, *ask);
      if (plan->opens->len > 0)
        return g_steal_pointer (&plan);
    }
  return NULL;
}

/* Before it is done, while it can still be left: as long as the form that asks for the reason is open, the parts are marked on the figure too. */
void
pawl_step_panel_apply_opens (PawlStepPanel *self)
{
  const PawlStepState *step = self->job != NULL && self->step_id != NULL ? pawl_job_lookup_step (self->job, self->step_id) : NULL;
  gboolean is_redo = step != NULL && is_asked_to_redo (self);
  const PawlAskState *ask = NULL;
  g_autoptr(PawlRedoPlan) plan = is_redo ? pawl_redo_plan_new_for_step (self->job, self->step_id, NULL) : step != NULL ? find_correction (self, step, &ask) : NULL;
  g_autofree char *heading = ask != NULL ? g_strdup_printf (_("When “%s” comes right, this opens again:"), ask->ask->name) : g_strdup (_("This opens again with it:"));
  g_auto(GStrv) parts = is_redo && plan != NULL ? pawl_redo_plan_list_parts (plan) : NULL;

  pawl_redo_list_apply (PAWL_REDO_LIST (self->opens), plan, heading);
  if (self->session != NULL)
    pawl_session_mark_parts (self->session, parts);
}

static void
form_shown_cb (GtkWidget *form, GParamSpec *property, PawlStepPanel *self)
{
  pawl_step_panel_apply_opens (self);
}

static gboolean
has_focus_within (GtkWidget *widget)
{
  GtkRoot *root = gtk_widget_get_root (widget);
  GtkWidget *focus = root != NULL ? gtk_root_get_focus (root) : NULL;

  return focus != NULL && (focus == widget || gtk_widget_is_ancestor (focus, widget));
}

/* After an answer the keyboard goes on to the next ask; never onto a button, so that one press too many answers nothing. */
static void
move_on (PawlStepPanel *self, const PawlStepPage *page, gboolean is_other_step, gboolean was_in_asks)
{
  if (is_other_step)
    gtk_widget_grab_focus (self->advance);
  else if (was_in_asks)
    pawl_step_panel_go (self);
}

void
pawl_step_panel_apply (PawlStepPanel *self)
{
  g_autoptr(PawlStepPage) page = NULL;
  const PawlStepState *step;
  gboolean is_other_step, is_answered, was_in_asks = has_focus_within (self->asks);

  if (self->session == NULL || (step = pawl_session_peek_step (self->session)) == NULL)
    return;
  g_set_object (&self->job, pawl_session_get_job (self->session));
  is_answered = self->n_applied != pawl_job_get_entries (self->job)->len; /* else only the clock moved */
  self->n_applied = pawl_job_get_entries (self->job)->len;
  page = pawl_step_page_new (self->job, step->step->id);
  is_other_step = g_strcmp0 (self->step_id, step->step->id) != 0;
  if (is_other_step)
    show_other_step (self, page);
  apply_texts (self, page);
  apply_facts (self, page);
  apply_covered (self, page->step);
  apply_asks (self, page);
  if (pawl_photo_ask_apply (PAWL_PHOTO_ASK (self->photo_ask), self->job, page->step) && !is_other_step)
    pawl_step_panel_reveal (self, self->photo_ask);
  pawl_photo_strip_apply (PAWL_PHOTO_STRIP (self->photos), pawl_bench_get_record (pawl_session_get_bench (self->session)), page->step->photos);
  apply_notes (self, page->step);
  apply_footer (self, page);
  apply_spoken (self, is_other_step);
  pawl_step_panel_apply_opens (self);
  move_on (self, page, is_other_step, was_in_asks && is_answered);
}

void
pawl_step_panel_say (PawlStepPanel *self, const char *message)
{
  g_free (self->spoken);
  self->spoken = message != NULL ? pawl_phrase_make_sentence (message) : NULL;
  self->n_entries = self->job != NULL ? pawl_job_get_entries (self->job)->len : 0;
  set_text (self->why_not, self->spoken);
  if (message != NULL && gtk_widget_get_visible (self->photo_ask))
    pawl_step_panel_reveal (self, self->photo_ask); /* it is what the words are about */
}

static void
offer_changed_cb (PawlStepPanel *self)
{
  g_autoptr(PawlStepPage) page = self->job != NULL && self->step_id != NULL ? pawl_step_page_new (self->job, self->step_id) : NULL;

  if (page != NULL)
    apply_offer (self, page);
}

void
pawl_step_panel_set_session (PawlStepPanel *self, PawlSession *session)
{
  g_clear_pointer (&self->step_id, g_free);
  g_clear_object (&self->job);
  remove_children (self->asks);
  if (self->session != NULL)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_set_object (&self->session, session);
  if (session != NULL)
    g_signal_connect_object (session, "offer-changed", G_CALLBACK (offer_changed_cb), self, G_CONNECT_SWAPPED);
  pawl_step_panel_say (self, NULL);
  pawl_prompt_form_close (PAWL_PROMPT_FORM (self->form));
  pawl_step_panel_apply (self);
}

/* ---- widget ---- */

/* A double click is one press: its second half would answer what its first has only just shown. */
static void
pressed_cb (GtkGestureClick *click, int n_press, double x, double y, PawlStepPanel *self)
{
  if (n_press > 1)
    gtk_gesture_set_state (GTK_GESTURE (click), GTK_EVENT_SEQUENCE_CLAIMED);
}

static void
watch_double_clicks (PawlStepPanel *self)
{
  GtkGesture *click = gtk_gesture_click_new ();

  gtk_event_controller_set_propagation_phase (GTK_EVENT_CONTROLLER (click), GTK_PHASE_CAPTURE);
  g_signal_connect (click, "pressed", G_CALLBACK (pressed_cb), self);
  gtk_widget_add_controller (self->advance, GTK_EVENT_CONTROLLER (click));
}

static void
pawl_step_panel_dispose (GObject *object)
{
  PawlStepPanel *self = PAWL_STEP_PANEL (object);

  g_clear_weak_pointer (&self->revealed);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  if (self->session != NULL)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  g_clear_object (&self->job);
  G_OBJECT_CLASS (pawl_step_panel_parent_class)->dispose (object);
}

static void
pawl_step_panel_finalize (GObject *object)
{
  PawlStepPanel *self = PAWL_STEP_PANEL (object);

  g_free (self->step_id);
  g_free (self->spoken);
  G_OBJECT_CLASS (pawl_step_panel_parent_class)->finalize (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlStepPanel, child)

static void
bind_children (GtkWidgetClass *widget_class)
{
  BIND (box);
  BIND (scroller);
  BIND (content);
  BIND (place);
  BIND (status);
  BIND (cautions);
  BIND (command);
  BIND (info);
  BIND (expect);
  BIND (facts);
  BIND (alikes);
  BIND (banner);
  BIND (hold);
  BIND (release);
  BIND (call);
  BIND (take_apart);
  BIND (covered_box);
  BIND (covered_title);
  BIND (covered);
  BIND (photo_ask);
  BIND (asks);
  BIND (photos);
  BIND (notes);
  BIND (deviate);
  BIND (skip);
  BIND (redo);
  BIND (opens);
  BIND (form);
  BIND (why_not);
  BIND (back);
  BIND (advance);
  BIND (advance_label);
}

#undef BIND

static void
pawl_step_panel_class_init (PawlStepPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_step_panel_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_step_panel_finalize;
  g_type_ensure (PAWL_TYPE_PROMPT_FORM);
  g_type_ensure (PAWL_TYPE_PHOTO_ASK);
  g_type_ensure (PAWL_TYPE_PHOTO_STRIP);
  g_type_ensure (PAWL_TYPE_REDO_LIST);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-step-panel.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback_full (widget_class, "form_answered_cb", G_CALLBACK (pawl_step_panel_form_answered_cb));
}

static void
pawl_step_panel_init (PawlStepPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  watch_double_clicks (self);
  g_signal_connect (self->form, "notify::visible", G_CALLBACK (form_shown_cb), self);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->back), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Back, to look"), -1);
}
