/* A check: free movement, a passage, a leak, a look, a line of the kit. One button for each outcome. */
#include "app/pawl-ask-row-private.h"

#include <glib/gi18n.h>
#include "app/pawl-outcome-picture.h"
#include "app/pawl-phrases.h"
#include "job/pawl-job-parts.h"

#define N_COLUMNS_WITH_PICTURES 3

#define PAWL_TYPE_CHECK_ROW (pawl_check_row_get_type ())
G_DECLARE_FINAL_TYPE (PawlCheckRow, pawl_check_row, PAWL, CHECK_ROW, PawlAskRow)

struct _PawlCheckRow {
  PawlAskRow parent_instance;
  GtkWidget *buttons, *verdict;
  GtkWidget *expected, *line, *count; /* (nullable): of what is counted */
};

G_DEFINE_FINAL_TYPE (PawlCheckRow, pawl_check_row, PAWL_TYPE_ASK_ROW)

static void
outcome_clicked_cb (GtkButton *button, PawlCheckRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  const char *outcome = g_object_get_data (G_OBJECT (button), "outcome");
  g_autofree char *word = pawl_phrase_format_outcome (outcome);
  g_autofree char *words = g_strdup_printf ("%s: %s", ask->name, word);

  pawl_ask_row_take (row, pawl_answer_new_outcome (ask, outcome, pawl_session_make_hand (pawl_ask_row_get_session (row))), words);
}

static char *
describe_how (const PawlCheck *check)
{
  g_autoptr(GString) text = g_string_new (NULL);

  if (check->from != NULL && check->to != NULL)
    g_string_append_printf (text, _("From %s to %s"), check->from, check->to);
  if (check->with != NULL && *check->with != '\0')
    g_string_append_printf (text, text->len > 0 ? _(", with %s") : _("With %s"), check->with);
  return g_strdup (text->str);
}

static const PawlOutcomePicture *
find_picture (const PawlCheck *check, const char *outcome)
{
  for (guint i = 0; i < check->pictures->len; i++)
    if (g_str_equal (((PawlOutcomePicture *) check->pictures->pdata[i])->outcome, outcome))
      return check->pictures->pdata[i];
  return NULL;
}

/* Picture, word, and what else the author says of it, one under the other. */
static void
add_picture (PawlCheckRow *self, GtkWidget *button, const PawlOutcomePicture *picture)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4), *label = g_object_ref (gtk_button_get_child (GTK_BUTTON (button)));

  gtk_button_set_child (GTK_BUTTON (button), NULL);
  gtk_box_append (GTK_BOX (box), pawl_outcome_picture_new (pawl_ask_row_get_session (PAWL_ASK_ROW (self)), picture));
  gtk_box_append (GTK_BOX (box), label);
  g_object_unref (label);
  if (picture->says != NULL)
    {
      GtkWidget *says = gtk_label_new (picture->says);

      gtk_label_set_wrap (GTK_LABEL (says), TRUE);
      gtk_label_set_justify (GTK_LABEL (says), GTK_JUSTIFY_CENTER);
      gtk_widget_add_css_class (says, "secondary");
      gtk_box_append (GTK_BOX (box), says);
    }
  gtk_button_set_child (GTK_BUTTON (button), box);
}

static void
build_buttons (PawlCheckRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlCheck *check = pawl_ask_row_get_ask (row)->check;
  const char * const *outcomes = pawl_limits_peek_outcomes (check->limits);
  guint n_columns = check->pictures->len > 0 ? N_COLUMNS_WITH_PICTURES : outcomes != NULL ? g_strv_length ((char **) outcomes) : 1;

  self->buttons = gtk_grid_new ();
  gtk_grid_set_column_homogeneous (GTK_GRID (self->buttons), TRUE);
  gtk_grid_set_column_spacing (GTK_GRID (self->buttons), 12);
  gtk_grid_set_row_spacing (GTK_GRID (self->buttons), 12);
  for (guint i = 0; outcomes != NULL && outcomes[i] != NULL; i++)
    {
      g_autofree char *word = pawl_phrase_format_outcome (outcomes[i]);
      GtkWidget *button = pawl_ask_row_make_button (row, word, G_CALLBACK (outcome_clicked_cb), self);

      g_object_set_data_full (G_OBJECT (button), "outcome", g_strdup (outcomes[i]), g_free);
      gtk_label_set_wrap (GTK_LABEL (gtk_button_get_child (GTK_BUTTON (button))), TRUE);
      gtk_widget_add_css_class (button, "answer");
      gtk_widget_set_hexpand (button, TRUE);
      if (find_picture (check, outcomes[i]) != NULL)
        add_picture (self, button, find_picture (check, outcomes[i]));
      gtk_grid_attach (GTK_GRID (self->buttons), button, (int) (i % n_columns), (int) (i / n_columns), 1, 1);
    }
  pawl_ask_row_append (row, self->buttons);
}

/* ---- what is counted: a line of the kit, what is left over ---- */

static void
counted_cb (GtkWidget *widget, PawlCheckRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  g_autofree char *typed = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->count))));
  g_autofree char *words = g_strdup_printf ("%s: %s", ask->name, typed);

  if (pawl_ask_row_take (row, pawl_answer_new_outcome (ask, typed, pawl_session_make_hand (pawl_ask_row_get_session (row))), words))
    pawl_session_keep_draft (pawl_ask_row_get_session (row), ask->id, "count", "");
}

static void
build_count (PawlCheckRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  GtkWidget *button = pawl_ask_row_make_button (row, _("Count"), G_CALLBACK (counted_cb), self);
  g_autofree char *name = g_strdup_printf (_("Pieces: %s"), ask->name);

  self->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  self->count = gtk_entry_new ();
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->count), ask->check->kind == PAWL_CHECK_LEFT_OVER ? _("Pieces that lie there") : _("Pieces, when it is another number"));
  gtk_widget_set_hexpand (self->count, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->count), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (self->count, "activate", G_CALLBACK (counted_cb), self);
  pawl_ask_row_keep_typed (row, GTK_EDITABLE (self->count), "count");
  gtk_box_append (GTK_BOX (self->line), self->count);
  gtk_box_append (GTK_BOX (self->line), button);
  pawl_ask_row_append (row, self->line);
}

/* What is expected of a line is what it brings; of what is left over it is said only once it was counted, else nobody would count. */
static char *
describe_expected (PawlJob *job, const PawlAskState *state)
{
  const PawlCheck *check = state->ask->check;
  guint need = pawl_kit_count_need (pawl_job_get_procedure (job), state->ask, pawl_job_get_variant (job));
  g_autofree char *left = NULL;

  if (check->kind == PAWL_CHECK_KIT && check->is_unused)
    return g_strdup_printf (_("%u by the list, not for this unit"), check->quantity);
  if (check->kind == PAWL_CHECK_KIT)
    return g_strdup_printf (_("%u by the list, %u needed"), check->quantity, need);
  left = pawl_job_describe_left_over (job);
  return state->n_current > 0 ? g_strdup_printf (_("Expected: %s"), *left != '\0' ? left : _("nothing")) : NULL;
}

/* As pawl_kit_describe_count(), in the language of the window. */
static char *
describe_count (PawlJob *job, const PawlAsk *ask, const PawlAttempt *attempt)
{
  guint count, wanted;

  if (!pawl_kit_get_count (job, ask, attempt, &count, &wanted))
    return NULL;
  if (ask->check->kind == PAWL_CHECK_LEFT_OVER)
    return g_strdup_printf (_("%u left, %u expected"), count, wanted);
  if (count < wanted)
    return g_strdup_printf (_("%u in hand, %u needed: %u short"), count, wanted, wanted - count);
  return g_strdup_printf (_("%u in hand, %u needed"), count, wanted);
}

static void
show_count (PawlCheckRow *self, PawlJob *job, const PawlAskState *state, gboolean is_wanted)
{
  const PawlAttempt *last = state->n_current > 0 ? state->attempts->pdata[state->attempts->len - 1] : NULL;
  g_autofree char *counted = last != NULL ? describe_count (job, state->ask, last) : NULL;
  g_autofree char *expected = NULL, *verdict = NULL;

  if (self->count == NULL)
    return;
  expected = describe_expected (job, state);
  gtk_label_set_label (GTK_LABEL (self->expected), expected != NULL ? expected : "");
  gtk_widget_set_visible (self->expected, expected != NULL);
  gtk_widget_set_visible (self->line, is_wanted);
  if (counted == NULL)
    return;
  verdict = g_strdup_printf ("%s %s", pawl_phrase_get_verdict_sign (last->verdict.kind), counted);
  gtk_label_set_label (GTK_LABEL (self->verdict), verdict);
}

static void
pawl_check_row_build (PawlAskRow *row)
{
  PawlCheckRow *self = PAWL_CHECK_ROW (row);
  const PawlCheck *check = pawl_ask_row_get_ask (row)->check;
  g_autofree char *how = describe_how (check);

  pawl_ask_row_append_text (row, how, NULL);
  if (check->is_metering)
    pawl_ask_row_append_text (row, _("Metering passage: light or air only, never wire or a drill."), "difference");
  if (pawl_kit_takes_count (pawl_ask_row_get_ask (row)))
    self->expected = pawl_ask_row_append_text (row, NULL, "limits");
  self->verdict = pawl_ask_row_append_text (row, NULL, "verdict");
  if (check->kind != PAWL_CHECK_LEFT_OVER)
    build_buttons (self);
  if (self->expected != NULL)
    build_count (self);
}

static void
pawl_check_row_update (PawlAskRow *row, PawlJob *job, const PawlAskState *state, gboolean is_open, gboolean is_unfolded)
{
  PawlCheckRow *self = PAWL_CHECK_ROW (row);

  pawl_ask_row_show_verdict (self->verdict, state);
  show_count (self, job, state, is_open && is_unfolded);
  if (self->buttons != NULL)
    gtk_widget_set_visible (self->buttons, is_open && is_unfolded);
}

/* Where pieces are counted the number is typed at once. */
static GtkWidget *
pawl_check_row_get_focus (PawlAskRow *row)
{
  PawlCheckRow *self = PAWL_CHECK_ROW (row);

  return self->count != NULL && gtk_widget_get_visible (self->line) ? self->count : NULL;
}

static void
pawl_check_row_class_init (PawlCheckRowClass *klass)
{
  PAWL_ASK_ROW_CLASS (klass)->get_focus = pawl_check_row_get_focus;
  PAWL_ASK_ROW_CLASS (klass)->build = pawl_check_row_build;
  PAWL_ASK_ROW_CLASS (klass)->update = pawl_check_row_update;
}

static void
pawl_check_row_init (PawlCheckRow *self)
{
}
