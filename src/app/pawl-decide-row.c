/* Reuse, repair or replace. Repair and replacement want a reason, a replacement its source, before the choice is taken. */
#include "app/pawl-ask-row-private.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

#define PAWL_TYPE_DECIDE_ROW (pawl_decide_row_get_type ())
G_DECLARE_FINAL_TYPE (PawlDecideRow, pawl_decide_row, PAWL, DECIDE_ROW, PawlAskRow)

struct _PawlDecideRow {
  PawlAskRow parent_instance;
  GtkWidget *input, *reason, *source, *lot, *verdict;
};

G_DEFINE_FINAL_TYPE (PawlDecideRow, pawl_decide_row, PAWL_TYPE_ASK_ROW)

static const char * const sources[] = { "", "kit", "new", "donor", "made", NULL };

static const char * const fields[] = { "reason", "lot" };

static void
choice_clicked_cb (GtkButton *button, PawlDecideRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  const char *choice = g_object_get_data (G_OBJECT (button), "choice");
  const char *source = g_str_equal (choice, "replace") ? sources[gtk_drop_down_get_selected (GTK_DROP_DOWN (self->source))] : "";
  g_autofree char *word = pawl_phrase_format_outcome (choice);
  g_autofree char *words = g_strdup_printf ("%s: %s", ask->name, word);

  if (pawl_ask_row_take (row, pawl_answer_new_disposition (ask, choice, gtk_editable_get_text (GTK_EDITABLE (self->reason)), source,
                                                       gtk_editable_get_text (GTK_EDITABLE (self->lot)),
                                                       pawl_session_make_hand (pawl_ask_row_get_session (row))), words))
    for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
      pawl_session_keep_draft (pawl_ask_row_get_session (row), ask->id, fields[i], "");
}

static GtkWidget *
add_entry (PawlDecideRow *self, const char *prompt, const char *field)
{
  GtkWidget *entry = gtk_entry_new ();
  g_autofree char *name = g_strdup_printf ("%s: %s", prompt, pawl_ask_row_get_ask (PAWL_ASK_ROW (self))->name);

  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), prompt);
  pawl_ask_row_keep_typed (PAWL_ASK_ROW (self), GTK_EDITABLE (entry), field);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return entry;
}

static void
build_source (PawlDecideRow *self)
{
  const char *shown[] = { _("Source of a replacement"), _("Kit"), _("New"), _("Donor"), _("Made"), NULL };
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  g_autofree char *name = g_strdup_printf (_("Source: %s"), pawl_ask_row_get_ask (PAWL_ASK_ROW (self))->name);

  self->source = gtk_drop_down_new_from_strings (shown);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->source), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  self->lot = add_entry (self, _("Lot or number"), "lot");
  gtk_box_append (GTK_BOX (line), self->source);
  gtk_box_append (GTK_BOX (line), self->lot);
  gtk_box_append (GTK_BOX (self->input), line);
}

static void
build_choices (PawlDecideRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  char **choices = pawl_ask_row_get_ask (row)->decide->choices;
  GtkWidget *buttons = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  gtk_box_set_homogeneous (GTK_BOX (buttons), TRUE);
  for (guint i = 0; choices[i] != NULL; i++)
    {
      g_autofree char *word = pawl_phrase_format_outcome (choices[i]);
      GtkWidget *button = pawl_ask_row_make_button (row, word, G_CALLBACK (choice_clicked_cb), self);

      g_object_set_data_full (G_OBJECT (button), "choice", g_strdup (choices[i]), g_free);
      gtk_widget_add_css_class (button, "answer");
      gtk_box_append (GTK_BOX (buttons), button);
    }
  gtk_box_append (GTK_BOX (self->input), buttons);
}

/* (transfer full) (nullable): "A donor’s is proved by: Vane height". */
static char *
list_proofs (PawlProcedure *procedure, const PawlPart *part)
{
  GPtrArray *steps = pawl_procedure_get_steps (procedure);
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < steps->len; i++)
    for (guint j = 0; j < ((PawlStep *) steps->pdata[i])->asks->len; j++)
      {
        const PawlAsk *ask = ((PawlStep *) steps->pdata[i])->asks->pdata[j];

        if (g_strv_contains ((const char * const *) part->proofs, ask->id) || g_strcmp0 (ask->donor, part->id) == 0)
          g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", ask->name);
      }
  return text->len > 0 ? g_strdup_printf (_("A donor’s is proved by: %s"), text->str) : NULL;
}

static void
pawl_decide_row_build (PawlAskRow *row)
{
  PawlDecideRow *self = PAWL_DECIDE_ROW (row);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  PawlProcedure *procedure = pawl_bench_get_procedure (pawl_session_get_bench (pawl_ask_row_get_session (row)));
  const PawlPart *part = pawl_procedure_lookup_part (procedure, ask->decide->part);

  if (part != NULL && part->interchange != NULL)
    {
      g_autofree char *proofs = list_proofs (procedure, part);

      pawl_ask_row_append_text (row, part->interchange, "conditions");
      pawl_ask_row_append_text (row, proofs, "secondary");
    }
  self->verdict = pawl_ask_row_append_text (row, NULL, "verdict");
  self->input = gtk_box_new (GTK_ORIENTATION_VERTICAL, 8);
  self->reason = add_entry (self, _("Reason, when it is not simply reused"), "reason");
  gtk_box_append (GTK_BOX (self->input), self->reason);
  if (g_strv_contains ((const char * const *) ask->decide->choices, "replace"))
    build_source (self);
  else
    {
      self->source = NULL;
      self->lot = add_entry (self, _("Lot or number"), "lot");
      gtk_box_append (GTK_BOX (self->input), self->lot);
    }
  build_choices (self);
  pawl_ask_row_append (row, self->input);
}

static void
pawl_decide_row_update (PawlAskRow *row, PawlJob *job, const PawlAskState *state, gboolean is_open, gboolean is_unfolded)
{
  PawlDecideRow *self = PAWL_DECIDE_ROW (row);
  g_autofree char *verdict = NULL;

  if (state->n_current > 0)
    {
      const PawlAttempt *last = state->attempts->pdata[state->attempts->len - 1];
      g_autofree char *words = pawl_phrase_describe_verdict (state->ask, last);
      const char *reason = pawl_entry_get (last->entry, "reason");

      verdict = g_strdup_printf ("✓ %s%s%s", words, reason != NULL ? ": " : "", reason != NULL ? reason : "");
    }
  gtk_label_set_label (GTK_LABEL (self->verdict), verdict != NULL ? verdict : "");
  gtk_widget_set_visible (self->verdict, verdict != NULL);
  gtk_widget_set_visible (self->input, is_open && is_unfolded);
}

static void
pawl_decide_row_class_init (PawlDecideRowClass *klass)
{
  PAWL_ASK_ROW_CLASS (klass)->build = pawl_decide_row_build;
  PAWL_ASK_ROW_CLASS (klass)->update = pawl_decide_row_update;
}

static void
pawl_decide_row_init (PawlDecideRow *self)
{
}
