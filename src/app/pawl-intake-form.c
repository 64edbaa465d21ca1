#include "app/pawl-intake-form.h"
#include "app/pawl-variant-choice.h"

static const char * const fields[] = {
  "unit", "maker", "model", "serial", "work-order", "customer", "received", "complaint", "authority", "identified-by", "old-parts",
};

#define N_LINES G_N_ELEMENTS (fields)

struct _PawlIntakeForm {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *grid, *person_box, *person, *variant_box, *bench_box, *bench, *ask_first;
  GtkWidget *unit_box, *maker_box, *model_box, *received_box, *identified_by_box, *old_parts_box;
  GtkWidget *unit, *maker, *model, *serial, *work_order, *customer, *received, *complaint, *authority, *identified_by, *old_parts;

  /* borrowed from the template: in the order of their fields */
  GtkWidget *lines[N_LINES];

  /* owned */
  PawlProcedure *procedure;        /* (nullable) */
  char          *variant;          /* (nullable) as lent last */
  char          *followed[N_LINES]; /* (nullable): what the job said of a line when it was filled in last */
};

enum { ACTIVATE, CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlIntakeForm, pawl_intake_form, GTK_TYPE_WIDGET)

static const char *
get_text (GtkWidget *entry)
{
  return gtk_editable_get_text (GTK_EDITABLE (entry));
}

static void
set_text (GtkWidget *entry, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
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
  return gtk_widget_get_visible (box) ? get_text (entry) : NULL;
}

PawlIntake
pawl_intake_form_get (PawlIntakeForm *self)
{
  g_free (self->variant);
  self->variant = self->procedure != NULL ? pawl_variant_choice_dup (GTK_BOX (self->variant_box), self->procedure) : NULL;
  return (PawlIntake) {
    .unit = get_shown (self->unit_box, self->unit), .maker = get_shown (self->maker_box, self->maker), .model = get_shown (self->model_box, self->model),
    .serial = get_text (self->serial), .work_order = get_text (self->work_order), .customer = get_text (self->customer),
    .received = get_shown (self->received_box, self->received), .complaint = get_text (self->complaint), .authority = get_text (self->authority),
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
  set_text (self->person, person);
}

void
pawl_intake_form_set_bench (PawlIntakeForm *self, const char *bench)
{
  set_text (self->bench, bench);
}

void
pawl_intake_form_set_ask_first (PawlIntakeForm *self, gboolean is_ask_first)
{
  gtk_check_button_set_active (GTK_CHECK_BUTTON (self->ask_first), is_ask_first);
}

void
pawl_intake_form_clear (PawlIntakeForm *self)
{
  for (guint i = 0; i < N_LINES; i++)
    set_text (self->lines[i], "");
}

void
pawl_intake_form_go (PawlIntakeForm *self)
{
  gboolean is_nobody = gtk_widget_get_visible (self->person_box) && *get_text (self->person) == '\0';

  gtk_widget_grab_focus (is_nobody ? self->person : self->serial);
}

/* ---- to correct ---- */

static gboolean
is_typed (PawlIntakeForm *self, guint line)
{
  return self->followed[line] != NULL && !g_str_equal (get_text (self->lines[line]), self->followed[line]);
}

/* What stands on the report where nothing else is stated. */
static void
hint (PawlIntakeForm *self, PawlJob *job)
{
  PawlProcedure *procedure = pawl_job_get_procedure (job);
  PawlEntry *opened = pawl_job_get_entries (job)->pdata[0];
  g_autofree char *day = g_date_time_format (pawl_entry_peek_at (opened), "%Y-%m-%d");

  gtk_entry_set_placeholder_text (GTK_ENTRY (self->maker), pawl_procedure_get_maker (procedure));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->model), pawl_procedure_get_model (procedure));
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->received), day);
}

static void
show_to_correct (PawlIntakeForm *self)
{
  GtkWidget *shown[] = { self->unit_box, self->maker_box, self->model_box, self->received_box };
  GtkWidget *hidden[] = { self->person_box, self->variant_box, self->bench_box, self->ask_first };

  for (guint i = 0; i < G_N_ELEMENTS (shown); i++)
    gtk_widget_set_visible (shown[i], TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (hidden); i++)
    gtk_widget_set_visible (hidden[i], FALSE);
}

void
pawl_intake_form_follow (PawlIntakeForm *self, PawlJob *job)
{
  pawl_intake_form_set_procedure (self, pawl_job_get_procedure (job));
  show_to_correct (self);
  hint (self, job);
  for (guint i = 0; i < N_LINES; i++)
    {
      g_autofree char *before = g_steal_pointer (&self->followed[i]);

      self->followed[i] = g_strdup (pawl_job_get_field (job, fields[i]));
      if (before == NULL || g_str_equal (get_text (self->lines[i]), before))
        set_text (self->lines[i], self->followed[i]);
    }
}

void
pawl_intake_form_forget (PawlIntakeForm *self)
{
  for (guint i = 0; i < N_LINES; i++)
    if (self->followed[i] != NULL)
      set_text (self->lines[i], self->followed[i]);
}

guint
pawl_intake_form_get_n_lines (void)
{
  return N_LINES;
}

const char *
pawl_intake_form_get_field (guint line)
{
  return fields[line];
}

const char *
pawl_intake_form_peek_typed (PawlIntakeForm *self, guint line)
{
  return is_typed (self, line) ? get_text (self->lines[line]) : "";
}

void
pawl_intake_form_type (PawlIntakeForm *self, guint line, const char *text)
{
  set_text (self->lines[line], text);
}

/* ---- widget ---- */

static void
activate_cb (PawlIntakeForm *self)
{
  g_signal_emit (self, signals[ACTIVATE], 0);
}

static void
changed_cb (PawlIntakeForm *self)
{
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
pawl_intake_form_dispose (GObject *object)
{
  PawlIntakeForm *self = PAWL_INTAKE_FORM (object);

  g_clear_object (&self->procedure);
  g_clear_pointer (&self->variant, g_free);
  for (guint i = 0; i < N_LINES; i++)
    g_clear_pointer (&self->followed[i], g_free);
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
  BIND (person_box);
  BIND (person);
  BIND (unit_box);
  BIND (unit);
  BIND (maker_box);
  BIND (maker);
  BIND (model_box);
  BIND (model);
  BIND (serial);
  BIND (work_order);
  BIND (customer);
  BIND (received_box);
  BIND (received);
  BIND (complaint);
  BIND (authority);
  BIND (identified_by);
  BIND (identified_by_box);
  BIND (old_parts);
  BIND (old_parts_box);
  BIND (variant_box);
  BIND (bench_box);
  BIND (bench);
  BIND (ask_first);
  gtk_widget_class_bind_template_callback (widget_class, activate_cb);
  gtk_widget_class_bind_template_callback (widget_class, changed_cb);
  signals[ACTIVATE] = g_signal_new ("activate", PAWL_TYPE_INTAKE_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[CHANGED] = g_signal_new ("changed", PAWL_TYPE_INTAKE_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

#undef BIND

static void
pawl_intake_form_init (PawlIntakeForm *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  {
    GtkWidget *lines[N_LINES] = {
      self->unit, self->maker, self->model, self->serial, self->work_order, self->customer, self->received, self->complaint, self->authority,
      self->identified_by, self->old_parts,
    };

    memcpy (self->lines, lines, sizeof lines);
  }
}
