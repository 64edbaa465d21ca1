/* A fit rule to confirm; in a job that asks first, two pictures to choose between, and only then the sketch of right and wrong, how to tell, how to verify, how large the difference is. */
#include "app/pawl-ask-row-private.h"

#include <glib/gi18n.h>
#include "app/pawl-question-view.h"
#include "app/pawl-sketch-view.h"
#include "app/pawl-phrases.h"
#include "job/pawl-job-parts.h"

#define PAWL_TYPE_FIT_ROW (pawl_fit_row_get_type ())
G_DECLARE_FINAL_TYPE (PawlFitRow, pawl_fit_row, PAWL, FIT_ROW, PawlAskRow)

struct _PawlFitRow {
  PawlAskRow parent_instance;
  GtkWidget *guess, *question, *question_text, *details, *sketch, *own_mark, *difference, *right, *wrong, *buttons, *verdict;
  PawlSketchOptions lengths; /* as shown, once has_lengths */
  gboolean has_lengths;
};

G_DEFINE_FINAL_TYPE (PawlFitRow, pawl_fit_row, PAWL_TYPE_ASK_ROW)

static void
answer (PawlFitRow *self, const char *outcome, const char *format)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  g_autofree char *words = g_strdup_printf ("%s: %s", pawl_ask_row_get_title (row), format);

  pawl_ask_row_take (row, pawl_answer_new_outcome (ask, outcome, pawl_session_make_hand (pawl_ask_row_get_session (row))), words);
}

static void
right_clicked_cb (GtkButton *button, PawlFitRow *self)
{
  answer (self, "right", _("right way round"));
}

static void
wrong_clicked_cb (GtkButton *button, PawlFitRow *self)
{
  answer (self, "wrong", _("wrong way round found"));
}

/* On disk before the screen says anything: what is shown then follows from the entry. */
static void
chosen_cb (PawlQuestionView *view, gboolean is_second, PawlFitRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  PawlQuestion question = pawl_question_view_get_question (view);
  gboolean is_right = pawl_question_is_right (&question, is_second);
  g_autofree char *words = g_strdup_printf (is_right ? _("%s: the right picture") : _("%s: the wrong picture"), pawl_ask_row_get_title (row));

  pawl_ask_row_take (row, pawl_answer_new_guess (pawl_ask_row_get_ask (row), &question, is_second, pawl_session_make_hand (pawl_ask_row_get_session (row))), words);
}

static GtkWidget *
append_text (GtkWidget *box, const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  gtk_box_append (GTK_BOX (box), label);
  return label;
}

static void
append_labelled (GtkWidget *box, const char *label, const char *text)
{
  g_autofree char *line = NULL;

  if (text == NULL || *text == '\0')
    return;
  line = g_strdup_printf ("%s %s", label, text);
  append_text (box, line, NULL);
}

static void
build_buttons (PawlFitRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  gboolean is_either = pawl_ask_row_get_ask (row)->rule->kind == PAWL_RULE_EITHER;

  self->buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_box_set_homogeneous (GTK_BOX (self->buttons), TRUE);
  self->right = pawl_ask_row_make_button (row, is_either ? _("Fitted, either way") : _("Right"), G_CALLBACK (right_clicked_cb), self);
  gtk_box_append (GTK_BOX (self->buttons), self->right);
  gtk_widget_add_css_class (self->right, "answer");
  if (!is_either)
    {
      self->wrong = pawl_ask_row_make_button (row, _("Wrong way round found"), G_CALLBACK (wrong_clicked_cb), self);
      gtk_label_set_wrap (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (self->wrong))), TRUE);
      gtk_label_set_justify (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (self->wrong))), GTK_JUSTIFY_CENTER);
      gtk_widget_add_css_class (self->wrong, "answer");
      gtk_box_append (GTK_BOX (self->buttons), self->wrong);
    }
  pawl_ask_row_append (row, self->buttons);
}

static void
build_question (PawlFitRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  PawlView views[4];
  gboolean is_seen_otherwise = pawl_rule_list_views (pawl_ask_row_get_ask (row)->rule, views) > 1;

  self->guess = pawl_ask_row_append_text (row, NULL, "banner");
  self->question_text = pawl_ask_row_append_text (row,
    is_seen_otherwise ? _("Which of the two is right? Each may be mirrored or turned, with all that is drawn on it.") : _("Which of the two is right?"), NULL);
  self->question = pawl_question_view_new (pawl_ask_row_get_ask (row)->rule, pawl_ask_row_get_title (row), pawl_ask_row_get_session (row));
  g_signal_connect (self->question, "chosen", G_CALLBACK (chosen_cb), self);
  pawl_ask_row_append (row, self->question);
}

static void
pawl_fit_row_build (PawlAskRow *row)
{
  PawlFitRow *self = PAWL_FIT_ROW (row);
  const PawlRule *rule = pawl_ask_row_get_ask (row)->rule;

  build_question (self);
  self->details = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->sketch = pawl_sketch_view_new (rule, pawl_ask_row_get_session (row));
  gtk_box_append (GTK_BOX (self->details), self->sketch);
  self->own_mark = append_text (self->details, NULL, "difference");
  self->difference = append_text (self->details, NULL, "difference");
  append_labelled (self->details, _("How to tell:"), rule->tell);
  append_labelled (self->details, _("Verify:"), rule->verify);
  append_labelled (self->details, _("If wrong:"), rule->consequence);
  append_labelled (self->details, _("Source:"), rule->source);
  pawl_ask_row_append (row, self->details);
  self->verdict = pawl_ask_row_append_text (row, NULL, "verdict");
  build_buttons (self);
}

/* In the unit that the user reads, which may have been changed. */
static void
show_lengths (PawlFitRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  PawlSketchOptions lengths = pawl_session_get_lengths (pawl_ask_row_get_session (row));
  g_autofree char *difference = NULL;

  if (self->has_lengths && lengths.unit == self->lengths.unit && lengths.decimal_mark == self->lengths.decimal_mark)
    return;
  self->lengths = lengths;
  self->has_lengths = TRUE;
  difference = pawl_phrase_describe_difference (pawl_ask_row_get_ask (row)->rule, &lengths);
  gtk_label_set_text (GTK_LABEL (self->difference), difference);
  pawl_sketch_view_refresh (self->sketch);
}

/* This job's own mark, in the words that it was written down in: what the rule goes by. */
static void
show_own_mark (PawlFitRow *self, PawlJob *job)
{
  const PawlRule *rule = pawl_ask_row_get_ask (PAWL_ASK_ROW (self))->rule;
  const char *mark = pawl_job_peek_own_mark (job, rule);
  g_autofree char *words = pawl_job_describe_own_mark (job, rule);
  g_autofree char *line = words == NULL ? NULL : mark != NULL ? g_strdup_printf (_("This job’s own mark: %s"), words)
                                                              : g_strdup (_("This job’s own mark was not written down: look for it, and note what you find."));

  gtk_label_set_label (GTK_LABEL (self->own_mark), line != NULL ? line : "");
  gtk_widget_set_visible (self->own_mark, line != NULL);
  pawl_sketch_view_set_datum (self->sketch, mark);
}

static gboolean
is_asked_first (PawlJob *job, const PawlAskState *state)
{
  PawlStepStatus status = pawl_job_lookup_step (job, state->step->id)->status;

  return status != PAWL_STEP_DONE && status != PAWL_STEP_SKIPPED && status != PAWL_STEP_NOT_APPLICABLE && pawl_job_asks_first (job, state);
}

/* Who was wrong reads how to tell before anything else. */
static void
show_guess (PawlFitRow *self, PawlJob *job, gboolean is_unfolded)
{
  const PawlAsk *ask = pawl_ask_row_get_ask (PAWL_ASK_ROW (self));
  const PawlEntry *guess = pawl_job_peek_guess (job, ask->id);
  gboolean is_right = guess != NULL && g_strcmp0 (pawl_entry_get (guess, "choice"), "right") == 0;
  g_autofree char *wrong = g_strdup_printf (_("✗ That was the wrong picture. How to tell: %s"), ask->rule->tell != NULL ? ask->rule->tell : "");

  gtk_label_set_label (GTK_LABEL (self->guess), is_right ? _("✓ That was the right picture.") : wrong);
  gtk_widget_set_visible (self->guess, guess != NULL && is_unfolded);
}

static void
show_question (PawlFitRow *self, PawlJob *job, const PawlAskState *state, gboolean is_asked, gboolean is_open)
{
  PawlQuestion question;

  if (is_asked)
    {
      question = pawl_job_make_question (job, state);
      pawl_question_view_apply (PAWL_QUESTION_VIEW (self->question), &question, is_open);
    }
  gtk_widget_set_visible (self->question_text, is_asked);
  gtk_widget_set_visible (self->question, is_asked);
  pawl_ask_row_show_prompt (PAWL_ASK_ROW (self), !is_asked);
}

static gboolean
pawl_fit_row_press (PawlAskRow *row, guint keyval, gint64 at_usec)
{
  PawlFitRow *self = PAWL_FIT_ROW (row);

  return gtk_widget_get_visible (self->question) && pawl_question_view_press (PAWL_QUESTION_VIEW (self->question), keyval, at_usec);
}

static void
pawl_fit_row_update (PawlAskRow *row, PawlJob *job, const PawlAskState *state, gboolean is_open, gboolean is_unfolded)
{
  PawlFitRow *self = PAWL_FIT_ROW (row);
  gboolean is_asked = is_asked_first (job, state);

  pawl_ask_row_show_verdict (self->verdict, state);
  show_lengths (self);
  show_own_mark (self, job);
  show_guess (self, job, is_unfolded);
  show_question (self, job, state, is_asked, is_open);
  gtk_widget_set_visible (self->details, is_unfolded && !is_asked);
  gtk_widget_set_visible (self->buttons, is_open && is_unfolded && !is_asked);
}

static void
pawl_fit_row_class_init (PawlFitRowClass *klass)
{
  PAWL_ASK_ROW_CLASS (klass)->build = pawl_fit_row_build;
  PAWL_ASK_ROW_CLASS (klass)->update = pawl_fit_row_update;
  PAWL_ASK_ROW_CLASS (klass)->press = pawl_fit_row_press;
}

static void
pawl_fit_row_init (PawlFitRow *self)
{
}
