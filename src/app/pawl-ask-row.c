#include "app/pawl-ask-row-private.h"

#include <glib/gi18n.h>
#include "app/pawl-step-state.h"
#include "app/pawl-phrases.h"

typedef struct {
  PawlSession   *session; /* owned */
  const PawlAsk *ask;     /* borrowed from the procedure, which the session holds */
  char          *title;
  gboolean       is_open; /* as last applied */

  /* template children */
  GtkWidget *frame, *name, *status, *prompt, *body, *attempts, *problem, *again, *deviate, *deviate_reason, *deviate_by, *deviate_box;
} PawlAskRowPrivate;

G_DEFINE_TYPE_WITH_PRIVATE (PawlAskRow, pawl_ask_row, GTK_TYPE_WIDGET)

static PawlAskRowPrivate *
get_private (PawlAskRow *self)
{
  return pawl_ask_row_get_instance_private (self);
}

const PawlAsk *
pawl_ask_row_get_ask (PawlAskRow *self)
{
  return get_private (self)->ask;
}

const char *
pawl_ask_row_get_title (PawlAskRow *self)
{
  return get_private (self)->title;
}

PawlSession *
pawl_ask_row_get_session (PawlAskRow *self)
{
  return get_private (self)->session;
}

void
pawl_ask_row_append (PawlAskRow *self, GtkWidget *child)
{
  gtk_box_append (GTK_BOX (get_private (self)->body), child);
}

void
pawl_ask_row_show_prompt (PawlAskRow *self, gboolean is_shown)
{
  gtk_widget_set_visible (get_private (self)->prompt, is_shown && *get_private (self)->ask->says != '\0');
}

static void
keep_typed_cb (GtkEditable *editable, PawlAskRow *self)
{
  pawl_session_keep_draft (pawl_ask_row_get_session (self), pawl_ask_row_get_ask (self)->id,
                           g_object_get_data (G_OBJECT (editable), "field"), gtk_editable_get_text (editable));
}

void
pawl_ask_row_keep_typed (PawlAskRow *self, GtkEditable *editable, const char *field)
{
  gtk_editable_set_text (editable, pawl_session_peek_draft (pawl_ask_row_get_session (self), pawl_ask_row_get_ask (self)->id, field));
  g_object_set_data_full (G_OBJECT (editable), "field", g_strdup (field), g_free);
  g_signal_connect (editable, "changed", G_CALLBACK (keep_typed_cb), self);
}

GtkWidget *
pawl_ask_row_append_text (PawlAskRow *self, const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
  pawl_ask_row_append (self, label);
  return label;
}

void
pawl_ask_row_show_verdict (GtkWidget *label, const PawlAskState *state)
{
  g_autofree char *verdict = NULL;

  if (state->n_current > 0)
    {
      const PawlAttempt *last = state->attempts->pdata[state->attempts->len - 1];
      g_autofree char *words = pawl_phrase_describe_verdict (state->ask, last);

      verdict = g_strdup_printf ("%s %s", pawl_phrase_get_verdict_sign (last->verdict.kind), words);
    }
  gtk_label_set_label (GTK_LABEL (label), verdict != NULL ? verdict : "");
  gtk_widget_set_visible (label, verdict != NULL);
}

GtkWidget *
pawl_ask_row_make_button (PawlAskRow *self, const char *word, GCallback clicked, gpointer data)
{
  GtkWidget *button = gtk_button_new_with_label (word);
  g_autofree char *name = g_strdup_printf ("%s: %s", word, get_private (self)->title);

  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (button, "clicked", clicked, data);
  return button;
}

void
pawl_ask_row_say (PawlAskRow *self, const char *problem)
{
  GtkWidget *label = get_private (self)->problem;
  g_autofree char *sentence = problem != NULL ? pawl_phrase_make_sentence (problem) : NULL;

  gtk_label_set_label (GTK_LABEL (label), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (label, sentence != NULL);
}

gboolean
pawl_ask_row_take (PawlAskRow *self, PawlEntry *entry, const char *words)
{
  g_autoptr(PawlEntry) owned = entry;
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlAskRow) alive = g_object_ref (self); /* taking an answer may rebuild the panel */

  pawl_ask_row_say (self, NULL);
  if (pawl_session_take (get_private (self)->session, owned, words, &error))
    return TRUE;
  pawl_ask_row_say (self, error->message);
  return FALSE;
}

/* ---- accepting it as it is ---- */

/* Once the form has its place, so that the view scrolls to where it really is. */
static gboolean
focus_reason_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  PawlAskRowPrivate *priv = get_private (PAWL_ASK_ROW (widget));

  if (gtk_widget_get_height (priv->deviate_reason) == 0)
    return G_SOURCE_CONTINUE;
  gtk_widget_grab_focus (priv->deviate_by); /* the last line first: both come into view */
  gtk_widget_grab_focus (priv->deviate_reason);
  return G_SOURCE_REMOVE;
}

static void
deviate_clicked_cb (GtkButton *button, PawlAskRow *self)
{
  gtk_widget_show (get_private (self)->deviate_box);
  gtk_widget_add_tick_callback (GTK_WIDGET (self), focus_reason_cb, NULL, NULL);
}

static void
deviate_cancel_cb (GtkButton *button, PawlAskRow *self)
{
  gtk_widget_hide (get_private (self)->deviate_box);
  pawl_ask_row_say (self, NULL);
}

static void
deviate_taken_cb (GtkWidget *widget, PawlAskRow *self)
{
  PawlAskRowPrivate *priv = get_private (self);
  g_autofree char *words = g_strdup_printf (_("Accepted as it is: %s"), priv->title);
  PawlEntry *entry = pawl_answer_new_deviation (priv->ask->id, _("accepted as it is"), gtk_editable_get_text (GTK_EDITABLE (priv->deviate_reason)),
                                                gtk_editable_get_text (GTK_EDITABLE (priv->deviate_by)), pawl_session_make_hand (priv->session));

  if (!pawl_ask_row_take (self, entry, words))
    return;
  gtk_editable_set_text (GTK_EDITABLE (priv->deviate_reason), "");
  gtk_editable_set_text (GTK_EDITABLE (priv->deviate_by), "");
  gtk_widget_hide (priv->deviate_box);
}

/* ---- state to widgets ---- */

static char *
describe_attempt (PawlAskRow *self, PawlJob *job, const PawlAttempt *attempt, gboolean is_current)
{
  const PawlAsk *ask = get_private (self)->ask;
  g_autofree char *verdict = pawl_phrase_describe_verdict (ask, attempt);
  g_autofree char *clock = pawl_phrase_format_clock (pawl_entry_peek_at (attempt->entry), pawl_job_peek_now (job));
  const char *sign = pawl_phrase_get_verdict_sign (attempt->verdict.kind);
  const char *typed = pawl_entry_get (attempt->entry, "answer");

  if (ask->kind == PAWL_ASK_READING && typed != NULL)
    return g_strdup_printf ("%s %s  %s  %s%s", sign, typed, verdict, clock, is_current ? "" : _(" (before the step was opened again)"));
  return g_strdup_printf ("%s %s  %s%s", sign, verdict, clock, is_current ? "" : _(" (before the step was opened again)"));
}

/* The last answer is shown by the body; the ones before it are listed here, none is lost. */
static void
update_attempts (PawlAskRow *self, PawlJob *job, const PawlAskState *state)
{
  g_autoptr(GString) text = g_string_new (NULL);
  GtkWidget *label = get_private (self)->attempts;
  guint n = state->attempts->len;
  guint n_listed = state->n_current > 0 && n > 0 ? n - 1 : n;

  for (guint i = 0; i < n_listed; i++)
    {
      g_autofree char *line = describe_attempt (self, job, state->attempts->pdata[i], i + state->n_current >= n);

      g_string_append_printf (text, "%s%s", i > 0 ? "\n" : _("Earlier: "), line);
    }
  gtk_label_set_label (GTK_LABEL (label), text->str);
  gtk_widget_set_visible (label, text->len > 0);
}

static char *
describe_status (const PawlAskState *state)
{
  if (state->status == PAWL_ASK_DEVIATED)
    return g_strdup_printf (_("accepted as it is: %s"), pawl_entry_get (state->deviation, "reason"));
  return pawl_phrase_format_outcome (pawl_ask_status_get_word (state->status));
}

static gboolean
is_settled (PawlAskStatus status)
{
  return status == PAWL_ASK_ACCEPTED || status == PAWL_ASK_DEVIATED;
}

static void
set_status_class (GtkWidget *frame, PawlAskStatus status)
{
  static const char * const all[] = { "settled", "wanted", "not-right", "running" };
  const char *now = status == PAWL_ASK_OUT || status == PAWL_ASK_TOO_CLOSE ? "not-right" : status == PAWL_ASK_RUNNING ? "running"
                    : status == PAWL_ASK_PENDING || status == PAWL_ASK_STALE ? "wanted" : "settled";

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    if (g_str_equal (all[i], now))
      gtk_widget_add_css_class (frame, all[i]);
    else
      gtk_widget_remove_css_class (frame, all[i]);
}

void
pawl_ask_row_update (PawlAskRow *self, PawlJob *job, const PawlAskState *state, gboolean is_open)
{
  PawlAskRowPrivate *priv = get_private (self);
  g_autofree char *status = describe_status (state);
  gboolean is_out = state->status == PAWL_ASK_OUT || state->status == PAWL_ASK_TOO_CLOSE;

  gtk_label_set_label (GTK_LABEL (priv->status), status);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, status, -1);
  set_status_class (priv->frame, state->status);
  update_attempts (self, job, state);
  gtk_widget_set_visible (priv->deviate, (is_open && (is_out || state->status == PAWL_ASK_RUNNING)) || pawl_ask_is_only_late (state));
  if (!is_out && state->status != PAWL_ASK_RUNNING)
    gtk_widget_hide (priv->deviate_box);
  priv->is_open = is_open;
  gtk_widget_set_visible (priv->again, is_settled (state->status) && (is_open || priv->ask->kind == PAWL_ASK_FIT));
  PAWL_ASK_ROW_GET_CLASS (self)->update (self, job, state, is_open,
                                         !is_settled (state->status) || gtk_toggle_button_get_active (GTK_TOGGLE_BUTTON (priv->again)));
}

void
pawl_ask_row_offer (PawlAskRow *self, const char *words)
{
  PawlAskRowPrivate *priv = get_private (self);

  if (words == NULL && !gtk_widget_has_css_class (priv->frame, "offered"))
    return;
  if (words != NULL)
    gtk_widget_add_css_class (priv->frame, "offered");
  else
    gtk_widget_remove_css_class (priv->frame, "offered");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  words != NULL ? words : gtk_label_get_label (GTK_LABEL (priv->status)), -1);
}

static void
again_toggled_cb (GtkToggleButton *button, PawlAskRow *self)
{
  PawlAskRowPrivate *priv = get_private (self);
  PawlJob *job = pawl_session_get_job (priv->session);

  pawl_ask_row_update (self, job, pawl_job_lookup_ask (job, priv->ask->id), priv->is_open);
}

void
pawl_ask_row_go (PawlAskRow *self)
{
  PawlAskRowClass *klass = PAWL_ASK_ROW_GET_CLASS (self);
  GtkWidget *widget = klass->get_focus != NULL ? klass->get_focus (self) : NULL;

  if (widget == NULL || !gtk_widget_grab_focus (widget))
    {
      gtk_widget_set_focusable (GTK_WIDGET (self), TRUE);
      gtk_widget_grab_focus (GTK_WIDGET (self));
    }
}

gboolean
pawl_ask_row_press (PawlAskRow *self, guint keyval, gint64 at_usec)
{
  return PAWL_ASK_ROW_GET_CLASS (self)->press != NULL && PAWL_ASK_ROW_GET_CLASS (self)->press (self, keyval, at_usec);
}

/* ---- what a gauge types ---- */

void
pawl_ask_row_begin_burst (PawlAskRow *self)
{
  if (PAWL_ASK_ROW_GET_CLASS (self)->begin_burst != NULL)
    PAWL_ASK_ROW_GET_CLASS (self)->begin_burst (self);
}

gboolean
pawl_ask_row_take_burst (PawlAskRow *self, const char *value, const char *mark, const char *doubt)
{
  g_autoptr(PawlAskRow) alive = g_object_ref (self); /* taking an answer may rebuild the panel */

  if (PAWL_ASK_ROW_GET_CLASS (self)->take_burst == NULL || !PAWL_ASK_ROW_GET_CLASS (self)->take_burst (self, value, mark, doubt))
    return FALSE;
  if (doubt != NULL)
    pawl_ask_row_say (self, doubt);
  return TRUE;
}

const char *
pawl_ask_row_get_instrument (PawlAskRow *self)
{
  return PAWL_ASK_ROW_GET_CLASS (self)->get_instrument != NULL ? PAWL_ASK_ROW_GET_CLASS (self)->get_instrument (self) : NULL;
}

/* ---- widget ---- */

static void
pawl_ask_row_dispose (GObject *object)
{
  PawlAskRowPrivate *priv = get_private (PAWL_ASK_ROW (object));

  g_clear_pointer (&priv->frame, gtk_widget_unparent);
  g_clear_object (&priv->session);
  g_clear_pointer (&priv->title, g_free);
  G_OBJECT_CLASS (pawl_ask_row_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, frame);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, name);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, status);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, prompt);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, body);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, attempts);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, problem);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, again);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, deviate);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, deviate_box);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, deviate_reason);
  gtk_widget_class_bind_template_child_private (widget_class, PawlAskRow, deviate_by);
}

static void
pawl_ask_row_class_init (PawlAskRowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_ask_row_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-ask-row.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "askrow");
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, again_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, deviate_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, deviate_cancel_cb);
  gtk_widget_class_bind_template_callback (widget_class, deviate_taken_cb);
}

static void
pawl_ask_row_init (PawlAskRow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

static GType
find_type (PawlAskKind kind)
{
  switch (kind)
    {
    case PAWL_ASK_FIT:     return pawl_fit_row_get_type ();
    case PAWL_ASK_CHECK:   return pawl_check_row_get_type ();
    case PAWL_ASK_READING: return pawl_reading_row_get_type ();
    case PAWL_ASK_WAIT:    return pawl_wait_row_get_type ();
    case PAWL_ASK_DECIDE:  return pawl_decide_row_get_type ();
    case PAWL_ASK_NOTE:
    default:               return pawl_note_row_get_type ();
    }
}

static void
name_controls (PawlAskRow *self)
{
  PawlAskRowPrivate *priv = get_private (self);
  g_autofree char *accept = g_strdup_printf (_("Accept as it is: %s"), priv->title);
  g_autofree char *again = g_strdup_printf (_("Show: %s"), priv->title);

  gtk_accessible_update_property (GTK_ACCESSIBLE (priv->again), GTK_ACCESSIBLE_PROPERTY_LABEL, again, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (priv->deviate), GTK_ACCESSIBLE_PROPERTY_LABEL, accept, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (priv->deviate_reason), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Reason to accept it"), -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (priv->deviate_by), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Accepted by"), -1);
}

PawlAskRow *
pawl_ask_row_new (PawlSession *session, const PawlAsk *ask)
{
  PawlAskRow *self = g_object_new (find_type (ask->kind), NULL);
  PawlAskRowPrivate *priv = get_private (self);

  priv->session = g_object_ref (session);
  priv->ask = ask;
  priv->title = pawl_phrase_make_title (ask);
  gtk_label_set_label (GTK_LABEL (priv->name), priv->title);
  gtk_label_set_label (GTK_LABEL (priv->prompt), ask->says);
  gtk_widget_set_visible (priv->prompt, *ask->says != '\0');
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, priv->title, -1);
  name_controls (self);
  PAWL_ASK_ROW_GET_CLASS (self)->build (self);
  return self;
}
