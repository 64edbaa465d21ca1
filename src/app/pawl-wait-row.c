/* A wait: a soak or a cure, started and ended, with the clock times between which it has to come out. */
#include "app/pawl-ask-row-private.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

#define PAWL_TYPE_WAIT_ROW (pawl_wait_row_get_type ())
G_DECLARE_FINAL_TYPE (PawlWaitRow, pawl_wait_row, PAWL, WAIT_ROW, PawlAskRow)

struct _PawlWaitRow {
  PawlAskRow parent_instance;
  GtkWidget *clock, *start, *end;
};

G_DEFINE_FINAL_TYPE (PawlWaitRow, pawl_wait_row, PAWL_TYPE_ASK_ROW)

static void
start_clicked_cb (GtkButton *button, PawlAskRow *row)
{
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  g_autofree char *words = g_strdup_printf (_("Started: %s"), ask->name);

  pawl_ask_row_take (row, pawl_answer_new_wait_start (ask, pawl_session_make_hand (pawl_ask_row_get_session (row))), words);
}

static void
end_clicked_cb (GtkButton *button, PawlAskRow *row)
{
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  g_autofree char *words = g_strdup_printf (_("Ended: %s"), ask->name);

  pawl_ask_row_take (row, pawl_answer_new_wait_end (ask, pawl_session_make_hand (pawl_ask_row_get_session (row))), words);
}

static void
pawl_wait_row_build (PawlAskRow *row)
{
  PawlWaitRow *self = PAWL_WAIT_ROW (row);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  g_autofree char *agent = *ask->wait->agent != '\0' ? g_strdup_printf (_("In %s"), ask->wait->agent) : NULL;

  pawl_ask_row_append_text (row, agent, "conditions");
  if (ask->wait->is_limited_by_agent)
    pawl_ask_row_append_text (row, _("The agent’s own sheet may set a shorter longest time: read it."), "difference");
  self->clock = pawl_ask_row_append_text (row, "", "value");
  gtk_box_set_homogeneous (GTK_BOX (buttons), TRUE);
  self->start = pawl_ask_row_make_button (row, _("Start"), G_CALLBACK (start_clicked_cb), self);
  self->end = pawl_ask_row_make_button (row, _("End"), G_CALLBACK (end_clicked_cb), self);
  gtk_widget_add_css_class (self->start, "answer");
  gtk_widget_add_css_class (self->end, "answer");
  gtk_box_append (GTK_BOX (buttons), self->start);
  gtk_box_append (GTK_BOX (buttons), self->end);
  pawl_ask_row_append (row, buttons);
}

static void
pawl_wait_row_update (PawlAskRow *row, PawlJob *job, const PawlAskState *state, gboolean is_open, gboolean is_unfolded)
{
  PawlWaitRow *self = PAWL_WAIT_ROW (row);
  g_autofree char *clock = pawl_phrase_describe_wait (job, state);
  g_autofree char *sentence = pawl_phrase_capitalise (clock);
  gboolean is_running = state->status == PAWL_ASK_RUNNING;

  gtk_label_set_label (GTK_LABEL (self->clock), sentence);
  gtk_widget_show (self->clock);
  gtk_widget_set_visible (self->start, is_open && !is_running);
  gtk_widget_set_visible (self->end, is_running);
}

static void
pawl_wait_row_class_init (PawlWaitRowClass *klass)
{
  PAWL_ASK_ROW_CLASS (klass)->build = pawl_wait_row_build;
  PAWL_ASK_ROW_CLASS (klass)->update = pawl_wait_row_update;
}

static void
pawl_wait_row_init (PawlWaitRow *self)
{
}
