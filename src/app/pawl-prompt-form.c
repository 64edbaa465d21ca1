#include "app/pawl-prompt-form.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

struct _PawlPromptForm {
  GtkWidget parent_instance;
  PawlPromptKind kind;
  /* template children */
  GtkWidget *box, *heading, *problem, *take, *line_0, *line_1, *line_2, *pin;
};

enum { ANSWERED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlPromptForm, pawl_prompt_form, GTK_TYPE_WIDGET)

typedef struct {
  const char *heading, *take;
  const char *lines[PAWL_PROMPT_N_LINES];
} Wording;

static const Wording wordings[] = {
  [PAWL_PROMPT_NOTE]    = { N_("A note on this step"), N_("Keep the note"), { N_("Note") } },
  [PAWL_PROMPT_DEVIATE] = { N_("What was done differently here"), N_("Record this deviation"),
                            { N_("What was done instead"), N_("Reason"), N_("Accepted by") } },
  [PAWL_PROMPT_SKIP]    = { N_("Leave this step out"), N_("Leave it out"), { N_("Reason"), N_("Accepted by") } },
  [PAWL_PROMPT_REDO]    = { N_("Do this step again"), N_("Do it again"), { N_("Reason") } },
  [PAWL_PROMPT_RELEASE] = { N_("Release the hold: somebody who did not do this step"), N_("Release"), { N_("Name of who looked") } },
  [PAWL_PROMPT_SIGN]    = { N_("Sign off this job"), N_("Sign"), { N_("Name"), N_("Role"), N_("Statement") } },
  [PAWL_PROMPT_CALL]    = { N_("Call somebody to look at this step"), N_("Call"), { N_("Who is called"), N_("A word to them") } },
  [PAWL_PROMPT_PERSON]  = { N_("Who is at the bench now"), N_("It is me"), { N_("Name") } },
  [PAWL_PROMPT_FOUND]   = { N_("As found, before it comes off. It stands beside the step that fits it again."), N_("Write it down"), { N_("As found") } },
};

static GtkWidget *
get_line (PawlPromptForm *self, guint line)
{
  GtkWidget *lines[PAWL_PROMPT_N_LINES] = { self->line_0, self->line_1, self->line_2 };

  return lines[line];
}

static void
forget_pin (PawlPromptForm *self)
{
  gtk_editable_set_text (GTK_EDITABLE (self->pin), "");
  gtk_widget_hide (self->pin);
}

void
pawl_prompt_form_open (PawlPromptForm *self, PawlPromptKind kind)
{
  const Wording *wording = &wordings[kind];
  gboolean is_same = self->kind == kind;

  self->kind = kind;
  gtk_label_set_label (GTK_LABEL (self->heading), _(wording->heading));
  gtk_button_set_label (GTK_BUTTON (self->take), _(wording->take));
  for (guint i = 0; i < PAWL_PROMPT_N_LINES; i++)
    {
      GtkWidget *line = get_line (self, i);
      const char *prompt = wording->lines[i] != NULL ? _(wording->lines[i]) : "";

      gtk_widget_set_visible (line, *prompt != '\0');
      gtk_entry_set_placeholder_text (GTK_ENTRY (line), prompt);
      gtk_accessible_update_property (GTK_ACCESSIBLE (line), GTK_ACCESSIBLE_PROPERTY_LABEL, prompt, -1);
      if (!is_same)
        gtk_editable_set_text (GTK_EDITABLE (line), "");
    }
  forget_pin (self);
  pawl_prompt_form_say (self, NULL);
  gtk_widget_show (GTK_WIDGET (self));
  gtk_widget_grab_focus (self->line_0);
}

void
pawl_prompt_form_close (PawlPromptForm *self)
{
  for (guint i = 0; i < PAWL_PROMPT_N_LINES; i++)
    gtk_editable_set_text (GTK_EDITABLE (get_line (self, i)), "");
  forget_pin (self);
  gtk_widget_hide (GTK_WIDGET (self));
}

PawlPromptKind
pawl_prompt_form_get_kind (PawlPromptForm *self)
{
  return self->kind;
}

const char *
pawl_prompt_form_get_line (PawlPromptForm *self, guint line)
{
  g_return_val_if_fail (line < PAWL_PROMPT_N_LINES, "");
  return gtk_editable_get_text (GTK_EDITABLE (get_line (self, line)));
}

void
pawl_prompt_form_set_line (PawlPromptForm *self, guint line, const char *text)
{
  g_return_if_fail (line < PAWL_PROMPT_N_LINES);
  gtk_editable_set_text (GTK_EDITABLE (get_line (self, line)), text);
}

void
pawl_prompt_form_ask_pin (PawlPromptForm *self, const char *name)
{
  g_autofree char *prompt = g_strdup_printf (_("PIN of %s"), name);

  gtk_editable_set_text (GTK_EDITABLE (self->pin), "");
  g_object_set (self->pin, "placeholder-text", prompt, NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->pin), GTK_ACCESSIBLE_PROPERTY_LABEL, prompt, -1);
  pawl_prompt_form_say (self, NULL);
  gtk_widget_show (self->pin);
  gtk_widget_grab_focus (self->pin);
}

const char *
pawl_prompt_form_peek_pin (PawlPromptForm *self)
{
  const char *pin = gtk_editable_get_text (GTK_EDITABLE (self->pin));

  return gtk_widget_get_visible (self->pin) && *pin != '\0' ? pin : NULL;
}

void
pawl_prompt_form_say (PawlPromptForm *self, const char *problem)
{
  g_autofree char *sentence = problem != NULL ? pawl_phrase_make_sentence (problem) : NULL;

  gtk_label_set_label (GTK_LABEL (self->problem), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (self->problem, sentence != NULL);
}

static void
take_cb (GtkWidget *widget, PawlPromptForm *self)
{
  g_signal_emit (self, signals[ANSWERED], 0);
}

/* Enter goes to the next line, and on the last one takes the form. */
static void
activate_cb (GtkEntry *entry, PawlPromptForm *self)
{
  for (guint i = 0; i + 1 < PAWL_PROMPT_N_LINES; i++)
    if (get_line (self, i) == GTK_WIDGET (entry) && gtk_widget_get_visible (get_line (self, i + 1)))
      {
        gtk_widget_grab_focus (get_line (self, i + 1));
        return;
      }
  g_signal_emit (self, signals[ANSWERED], 0);
}

/* What was typed stays, in case it was a slip of the finger. */
static void
cancel_cb (GtkWidget *widget, PawlPromptForm *self)
{
  forget_pin (self);
  gtk_widget_hide (GTK_WIDGET (self));
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  forget_pin (PAWL_PROMPT_FORM (widget));
  gtk_widget_hide (widget);
  return TRUE;
}

static void
pawl_prompt_form_dispose (GObject *object)
{
  g_clear_pointer (&PAWL_PROMPT_FORM (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_prompt_form_parent_class)->dispose (object);
}

static void
pawl_prompt_form_class_init (PawlPromptFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_prompt_form_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-prompt-form.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlPromptForm, box);
  gtk_widget_class_bind_template_child (widget_class, PawlPromptForm, heading);
  gtk_widget_class_bind_template_child (widget_class, PawlPromptForm, problem);
  gtk_widget_class_bind_template_child (widget_class, PawlPromptForm, take);
  gtk_widget_class_bind_template_child (widget_class, PawlPromptForm, line_0);
  gtk_widget_class_bind_template_child (widget_class, PawlPromptForm, line_1);
  gtk_widget_class_bind_template_child (widget_class, PawlPromptForm, line_2);
  gtk_widget_class_bind_template_child (widget_class, PawlPromptForm, pin);
  gtk_widget_class_bind_template_callback (widget_class, take_cb);
  gtk_widget_class_bind_template_callback (widget_class, cancel_cb);
  gtk_widget_class_bind_template_callback (widget_class, activate_cb);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, escape_cb, NULL);
  signals[ANSWERED] = g_signal_new ("answered", PAWL_TYPE_PROMPT_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_prompt_form_init (PawlPromptForm *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
