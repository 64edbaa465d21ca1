#include "app/pawl-intake-form.h"
#include "app/pawl-variant-choice.h"

struct _PawlIntakeForm {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *grid, *person, *serial, *work_order, *customer, *complaint, *authority, *identified_by, *identified_by_box, *old_parts, *old_parts_box;
  GtkWidget *variant_box, *bench, *ask_first;

  /* owned */
  PawlProcedure *procedure; /* (nullable) */
  char          *variant;   /* (nullable) as lent last */
};

enum { ACTIVATE, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlIntakeForm, pawl_intake_form, GTK_TYPE_WIDGET)

static const char *
get_text (GtkWidget *entry)
{
  return gtk_editable_get_text (GTK_EDITABLE (entry));
}

static void
show_unless_asked (PawlIntakeForm *self, GtkWidget *box, const char *note)
{
  gtk_widget_set_visible (box, pawl_procedure_lookup_ask (self->procedure, note, NULL) == NULL);
}

void
pawl_intake_form_set_procedure (PawlIntakeForm *self, PawlProcedure *procedure)
{
  g_set_object (&self->procedure, procedure);
  pawl_variant_choice_fill (GTK_BOX (self->variant_box), procedure);
  show_unless_asked (self, self->identified_by_box, "identified-by");
  show_unless_asked (self, self->old_parts_box, "old-parts");
}

/* What was typed for one procedure and is not shown for another stays unsaid there. */
static const char *
get_shown (GtkWidget *box, GtkWidget *entry)
{
  return gtk_widget_get_visible (box) ? get_text (entry) : "";
}

PawlIntake
pawl_intake_form_get (PawlIntakeForm *self)
{
  g_free (self->variant);
  self->variant = self->procedure != NULL ? pawl_variant_choice_dup (GTK_BOX (self->variant_box), self->procedure) : NULL;
  return (PawlIntake) {
    .serial = get_text (self->serial), .work_order = get_text (self->work_order), .customer = get_text (self->customer),
    .complaint = get_text (self->complaint), .authority = get_text (self->authority),
    .identified_by = get_shown (self->identified_by_box, self->identified_by), .old_parts = get_shown (self->old_parts_box, self->old_parts),
    .variant = self->variant, .bench = get_text (self->bench), .is_ask_first = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->ask_first)),
  };
}

const char *
pawl_intake_form_get_person (PawlIntakeForm *self)
{
  return get_text (self->person);
}

void
pawl_intake_form_set_person (PawlIntakeForm *self, const char *person)
{
  gtk_editable_set_text (GTK_EDITABLE (self->person), person);
}

void
pawl_intake_form_set_bench (PawlIntakeForm *self, const char *bench)
{
  gtk_editable_set_text (GTK_EDITABLE (self->bench), bench);
}

void
pawl_intake_form_set_ask_first (PawlIntakeForm *self, gboolean is_ask_first)
{
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->ask_first), is_ask_first);
}

void
pawl_intake_form_clear (PawlIntakeForm *self)
{
  GtkWidget *entries[] = { self->serial, self->work_order, self->customer, self->complaint, self->authority, self->identified_by, self->old_parts };

  for (guint i = 0; i < G_N_ELEMENTS (entries); i++)
    gtk_editable_set_text (GTK_EDITABLE (entries[i]), "");
}

void
pawl_intake_form_go (PawlIntakeForm *self)
{
  gtk_widget_grab_focus (*get_text (self->person) == '\0' ? self->person : self->serial);
}

/* ---- widget ---- */

static void
activate_cb (PawlIntakeForm *self)
{
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static void
pawl_intake_form_dispose (GObject *object)
{
  PawlIntakeForm *self = PAWL_INTAKE_FORM (object);

  g_clear_object (&self->procedure);
  g_clear_pointer (&self->variant, g_free);
  g_clear_pointer (&self->grid, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_intake_form_parent_class)->dispose (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlIntakeForm, child)

static void
pawl_intake_form_class_init (PawlIntakeFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_intake_form_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-intake-form.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  BIND (grid);
  BIND (person);
  BIND (serial);
  BIND (work_order);
  BIND (customer);
  BIND (complaint);
  BIND (authority);
  BIND (identified_by);
  BIND (identified_by_box);
  BIND (old_parts);
  BIND (old_parts_box);
  BIND (variant_box);
  BIND (bench);
  BIND (ask_first);
  gtk_widget_class_bind_template_callback (widget_class, activate_cb);
  signals[ACTIVATE] = g_signal_new ("activate", PAWL_TYPE_INTAKE_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

#undef BIND

static void
pawl_intake_form_init (PawlIntakeForm *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
