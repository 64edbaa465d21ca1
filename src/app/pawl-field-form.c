#include "app/pawl-field-form.h"

#include "app/pawl-phrases.h"

typedef struct {
  char      *id;
  char      *text;   /* (nullable) what pawl_field_form_get() lent last */
  GtkWidget *box, *input, *note;
  gboolean   is_pin;
} Field;

struct _PawlFieldForm {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box, *heading, *fields, *problem, *take;

  /* owned */
  GPtrArray *known; /* (element-type Field): in the order they stand */
};

enum { ANSWERED, LEFT, CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlFieldForm, pawl_field_form, GTK_TYPE_WIDGET)

static void
field_free (Field *field)
{
  g_free (field->id);
  g_free (field->text);
  g_free (field);
}

static Field *
find_field (PawlFieldForm *self, const char *id)
{
  for (guint i = 0; i < self->known->len; i++)
    if (g_str_equal (((Field *) self->known->pdata[i])->id, id))
      return self->known->pdata[i];
  return NULL;
}

static void
forget_pins (PawlFieldForm *self)
{
  for (guint i = 0; i < self->known->len; i++)
    {
      Field *field = self->known->pdata[i];

      if (field->is_pin)
        {
          gtk_editable_set_text (GTK_EDITABLE (field->input), "");
          g_clear_pointer (&field->text, g_free);
        }
    }
}

/* ---- what it asks ---- */

#define LINE_WIDTH 56 /* characters */
#define PIN_WIDTH 16

static void
clear (PawlFieldForm *self)
{
  GtkWidget *child;

  g_ptr_array_set_size (self->known, 0);
  while ((child = gtk_widget_get_first_child (self->fields)) != NULL)
    gtk_box_remove (GTK_BOX (self->fields), child);
}

void
pawl_field_form_begin (PawlFieldForm *self, const char *heading, const char *take)
{
  clear (self);
  gtk_label_set_label (GTK_LABEL (self->heading), heading);
  gtk_button_set_label (GTK_BUTTON (self->take), take);
  pawl_field_form_say (self, NULL);
  gtk_widget_show (GTK_WIDGET (self));
}

static GtkWidget *
make_label (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

void
pawl_field_form_add_text (PawlFieldForm *self, const char *text, const char *css_class)
{
  gtk_box_append (GTK_BOX (self->fields), make_label (text, css_class));
}

static Field *
add_field (PawlFieldForm *self, const char *id, const char *label, GtkWidget *input)
{
  Field *field = g_new0 (Field, 1);

  field->id = g_strdup (id);
  field->input = input;
  field->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  gtk_box_append (GTK_BOX (field->box), make_label (label, "strong"));
  gtk_box_append (GTK_BOX (field->box), input);
  field->note = make_label (NULL, "secondary");
  gtk_widget_hide (field->note);
  gtk_box_append (GTK_BOX (field->box), field->note);
  gtk_accessible_update_property (GTK_ACCESSIBLE (input), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  gtk_box_append (GTK_BOX (self->fields), field->box);
  g_ptr_array_add (self->known, field);
  return field;
}

/* Enter goes to the next field that is shown, and behind the last one takes the form. */
static void
activate_cb (GtkWidget *input, PawlFieldForm *self)
{
  gboolean is_found = FALSE;

  for (guint i = 0; i < self->known->len; i++)
    {
      Field *field = self->known->pdata[i];

      if (is_found && gtk_widget_get_visible (field->box))
        {
          gtk_widget_grab_focus (field->input);
          return;
        }
      is_found |= field->input == input;
    }
  g_signal_emit (self, signals[ANSWERED], 0);
}

/* As wide as what belongs into it. */
static void
set_width (GtkWidget *entry, int n_chars)
{
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), n_chars);
  gtk_widget_set_halign (entry, GTK_ALIGN_START);
}

void
pawl_field_form_add_line (PawlFieldForm *self, const char *id, const char *label, const char *hint)
{
  GtkWidget *entry = gtk_entry_new ();

  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), hint);
  set_width (entry, LINE_WIDTH);
  g_signal_connect (entry, "activate", G_CALLBACK (activate_cb), self);
  add_field (self, id, label, entry);
}

void
pawl_field_form_add_pin (PawlFieldForm *self, const char *id, const char *label)
{
  GtkWidget *entry = gtk_password_entry_new ();

  set_width (entry, PIN_WIDTH);
  g_signal_connect (entry, "activate", G_CALLBACK (activate_cb), self);
  add_field (self, id, label, entry)->is_pin = TRUE;
}

static void
chosen_cb (GtkDropDown *choice, GParamSpec *pspec, PawlFieldForm *self)
{
  for (guint i = 0; i < self->known->len; i++)
    {
      Field *field = self->known->pdata[i];

      if (field->input == GTK_WIDGET (choice))
        {
          g_signal_emit (self, signals[CHOSEN], 0, field->id);
          return;
        }
    }
}

void
pawl_field_form_add_choice (PawlFieldForm *self, const char *id, const char *label, const char * const *words)
{
  GtkWidget *choice = gtk_drop_down_new_from_strings (words);

  gtk_widget_set_halign (choice, GTK_ALIGN_START);
  add_field (self, id, label, choice);
  g_signal_connect (choice, "notify::selected", G_CALLBACK (chosen_cb), self);
}

void
pawl_field_form_set_note (PawlFieldForm *self, const char *id, const char *text)
{
  Field *field = find_field (self, id);

  if (field == NULL)
    return;
  gtk_label_set_label (GTK_LABEL (field->note), text);
  gtk_widget_set_visible (field->note, *text != '\0');
}

void
pawl_field_form_set_words (PawlFieldForm *self, const char *id, const char * const *words)
{
  Field *field = find_field (self, id);
  g_autoptr(GtkStringList) list = gtk_string_list_new (words);

  if (field != NULL && GTK_IS_DROP_DOWN (field->input))
    gtk_drop_down_set_model (GTK_DROP_DOWN (field->input), G_LIST_MODEL (list));
}

void
pawl_field_form_go (PawlFieldForm *self)
{
  for (guint i = 0; i < self->known->len; i++)
    {
      Field *field = self->known->pdata[i];

      if (gtk_widget_get_visible (field->box))
        {
          gtk_widget_grab_focus (field->input);
          return;
        }
    }
}

/* To what is still to be typed: a PIN that was refused, the next of a set of values. */
static void
go_to_empty (PawlFieldForm *self)
{
  for (guint i = 0; i < self->known->len; i++)
    {
      Field *field = self->known->pdata[i];

      if (gtk_widget_get_visible (field->box) && GTK_IS_EDITABLE (field->input) && *gtk_editable_get_text (GTK_EDITABLE (field->input)) == '\0')
        {
          gtk_widget_grab_focus (field->input);
          return;
        }
    }
  gtk_widget_grab_focus (self->take);
}

void
pawl_field_form_close (PawlFieldForm *self)
{
  clear (self);
  gtk_widget_hide (GTK_WIDGET (self));
}

/* ---- what was answered ---- */

gboolean
pawl_field_form_has (PawlFieldForm *self, const char *id)
{
  Field *field = find_field (self, id);

  return field != NULL && gtk_widget_get_visible (field->box);
}

const char *
pawl_field_form_get (PawlFieldForm *self, const char *id)
{
  Field *field = find_field (self, id);
  GtkStringObject *chosen;

  if (field == NULL || !gtk_widget_get_visible (field->box))
    return "";
  if (GTK_IS_DROP_DOWN (field->input))
    {
      chosen = gtk_drop_down_get_selected_item (GTK_DROP_DOWN (field->input));
      return chosen != NULL ? gtk_string_object_get_string (chosen) : "";
    }
  g_free (field->text);
  field->text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (field->input))));
  return field->text;
}

void
pawl_field_form_set (PawlFieldForm *self, const char *id, const char *text)
{
  Field *field = find_field (self, id);

  if (field != NULL && GTK_IS_EDITABLE (field->input))
    gtk_editable_set_text (GTK_EDITABLE (field->input), text);
}

guint
pawl_field_form_get_choice (PawlFieldForm *self, const char *id)
{
  Field *field = find_field (self, id);

  return field != NULL && GTK_IS_DROP_DOWN (field->input) ? gtk_drop_down_get_selected (GTK_DROP_DOWN (field->input)) : GTK_INVALID_LIST_POSITION;
}

void
pawl_field_form_set_choice (PawlFieldForm *self, const char *id, guint place)
{
  Field *field = find_field (self, id);

  if (field != NULL && GTK_IS_DROP_DOWN (field->input))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (field->input), place);
}

void
pawl_field_form_set_shown (PawlFieldForm *self, const char *id, gboolean is_shown)
{
  Field *field = find_field (self, id);

  if (field != NULL)
    gtk_widget_set_visible (field->box, is_shown);
}

/* Digits that were refused are of no more use. */
void
pawl_field_form_say (PawlFieldForm *self, const char *problem)
{
  g_autofree char *sentence = problem != NULL ? pawl_phrase_make_sentence (problem) : NULL;

  if (problem != NULL)
    forget_pins (self);
  gtk_label_set_label (GTK_LABEL (self->problem), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (self->problem, sentence != NULL);
  if (problem != NULL)
    go_to_empty (self);
}

void
pawl_field_form_go_on (PawlFieldForm *self)
{
  pawl_field_form_say (self, NULL);
  go_to_empty (self);
}

/* ---- buttons ---- */

static void
take_cb (GtkWidget *widget, PawlFieldForm *self)
{
  g_signal_emit (self, signals[ANSWERED], 0);
}

static void
leave (PawlFieldForm *self)
{
  pawl_field_form_close (self);
  g_signal_emit (self, signals[LEFT], 0);
}

static void
leave_cb (GtkWidget *widget, PawlFieldForm *self)
{
  leave (self);
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  leave (PAWL_FIELD_FORM (widget));
  return TRUE;
}

/* ---- widget ---- */

static void
pawl_field_form_dispose (GObject *object)
{
  g_clear_pointer (&PAWL_FIELD_FORM (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_field_form_parent_class)->dispose (object);
}

static void
pawl_field_form_finalize (GObject *object)
{
  g_ptr_array_unref (PAWL_FIELD_FORM (object)->known);
  G_OBJECT_CLASS (pawl_field_form_parent_class)->finalize (object);
}

static void
pawl_field_form_class_init (PawlFieldFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_field_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_field_form_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-field-form.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlFieldForm, box);
  gtk_widget_class_bind_template_child (widget_class, PawlFieldForm, heading);
  gtk_widget_class_bind_template_child (widget_class, PawlFieldForm, fields);
  gtk_widget_class_bind_template_child (widget_class, PawlFieldForm, problem);
  gtk_widget_class_bind_template_child (widget_class, PawlFieldForm, take);
  gtk_widget_class_bind_template_callback (widget_class, take_cb);
  gtk_widget_class_bind_template_callback (widget_class, leave_cb);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, escape_cb, NULL);
  signals[ANSWERED] = g_signal_new ("answered", PAWL_TYPE_FIELD_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[LEFT] = g_signal_new ("left", PAWL_TYPE_FIELD_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHOSEN] = g_signal_new ("chosen", PAWL_TYPE_FIELD_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pawl_field_form_init (PawlFieldForm *self)
{
  self->known = g_ptr_array_new_with_free_func ((GDestroyNotify) field_free);
  gtk_widget_init_template (GTK_WIDGET (self));
}
