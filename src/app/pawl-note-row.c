/* Something to write down: a match mark, a number on a plate, a count. */
#include "app/pawl-ask-row-private.h"

#include <glib/gi18n.h>

#define PAWL_TYPE_NOTE_ROW (pawl_note_row_get_type ())
G_DECLARE_FINAL_TYPE (PawlNoteRow, pawl_note_row, PAWL, NOTE_ROW, PawlAskRow)

struct _PawlNoteRow {
  PawlAskRow parent_instance;
  GtkWidget *line, *entry, *text;
  guint      n_attempts;
};

G_DEFINE_FINAL_TYPE (PawlNoteRow, pawl_note_row, PAWL_TYPE_ASK_ROW)

static void
taken_cb (GtkWidget *widget, PawlNoteRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  g_autofree char *words = g_strdup_printf (_("Written down: %s"), ask->name);
  PawlEntry *entry = pawl_answer_new_outcome (ask, gtk_editable_get_text (GTK_EDITABLE (self->entry)),
                                              pawl_session_make_hand (pawl_ask_row_get_session (row)));

  pawl_ask_row_take (row, entry, words);
}

static void
pawl_note_row_build (PawlAskRow *row)
{
  PawlNoteRow *self = PAWL_NOTE_ROW (row);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  GtkWidget *button = pawl_ask_row_make_button (row, _("Keep"), G_CALLBACK (taken_cb), self);
  g_autofree char *name = g_strdup_printf (_("Write down: %s"), ask->name);

  self->text = pawl_ask_row_append_text (row, NULL, "value");
  self->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  self->entry = gtk_entry_new ();
  gtk_widget_set_hexpand (self->entry, TRUE);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), _("Write it down"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (self->entry, "activate", G_CALLBACK (taken_cb), self);
  self->n_attempts = pawl_job_lookup_ask (pawl_session_get_job (pawl_ask_row_get_session (row)), ask->id)->attempts->len;
  pawl_ask_row_keep_typed (row, GTK_EDITABLE (self->entry), "answer");
  gtk_widget_add_css_class (button, "answer");
  gtk_box_append (GTK_BOX (self->line), self->entry);
  gtk_box_append (GTK_BOX (self->line), button);
  pawl_ask_row_append (row, self->line);
}

static void
pawl_note_row_update (PawlAskRow *row, PawlJob *job, const PawlAskState *state, gboolean is_open, gboolean is_unfolded)
{
  PawlNoteRow *self = PAWL_NOTE_ROW (row);
  const char *text = "";

  if (state->attempts->len > self->n_attempts)
    gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
  self->n_attempts = state->attempts->len;
  if (state->n_current > 0)
    text = pawl_entry_get (((PawlAttempt *) state->attempts->pdata[state->attempts->len - 1])->entry, "answer");
  gtk_label_set_label (GTK_LABEL (self->text), text != NULL ? text : "");
  gtk_widget_set_visible (self->text, text != NULL && *text != '\0');
  gtk_widget_set_visible (self->line, is_open && is_unfolded);
}

static GtkWidget *
pawl_note_row_get_focus (PawlAskRow *row)
{
  return PAWL_NOTE_ROW (row)->entry;
}

static void
pawl_note_row_class_init (PawlNoteRowClass *klass)
{
  PAWL_ASK_ROW_CLASS (klass)->build = pawl_note_row_build;
  PAWL_ASK_ROW_CLASS (klass)->update = pawl_note_row_update;
  PAWL_ASK_ROW_CLASS (klass)->get_focus = pawl_note_row_get_focus;
}

static void
pawl_note_row_init (PawlNoteRow *self)
{
}
