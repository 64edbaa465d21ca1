#include "app/pawl-supply-form.h"

#include <glib/gi18n.h>

/* What may be said, in the order of the list; the last one only of what is lacking. */
typedef enum { SAYS_LACKING, SAYS_ORDERED, SAYS_ARRIVED } Says;

static const char * const sources[] = { "", "new", "donor", "kit", "made" };

struct _PawlSupplyForm {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box, *heading, *what, *source, *from, *expected, *reason, *lot, *problem, *take;

  /* owned */
  char *id;
  gboolean is_supply;
};

enum { ANSWERED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlSupplyForm, pawl_supply_form, GTK_TYPE_WIDGET)

static Says
get_says (PawlSupplyForm *self)
{
  return (Says) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->what));
}

static void
what_changed_cb (GtkDropDown *what, GParamSpec *pspec, PawlSupplyForm *self)
{
  Says says = get_says (self);

  gtk_widget_set_visible (self->from, says != SAYS_LACKING);
  gtk_widget_set_visible (self->expected, says == SAYS_ORDERED);
  gtk_widget_set_visible (self->reason, says != SAYS_ARRIVED);
  gtk_widget_set_visible (self->source, says == SAYS_ARRIVED && !self->is_supply);
  gtk_widget_set_visible (self->lot, says == SAYS_ARRIVED);
  pawl_supply_form_say (self, NULL);
}

static void
set_choices (PawlSupplyForm *self, gboolean is_lacking)
{
  const char *choices[] = { self->is_supply ? _("It is running out") : _("It is missing"), _("It is ordered"), is_lacking ? _("It has arrived") : NULL, NULL };
  GtkStringList *list = gtk_string_list_new (choices);

  gtk_drop_down_set_model (GTK_DROP_DOWN (self->what), G_LIST_MODEL (list));
  g_object_unref (list);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->what), is_lacking ? SAYS_ARRIVED : SAYS_LACKING);
}

void
pawl_supply_form_open (PawlSupplyForm *self, const char *id, const char *name, gboolean is_supply, gboolean is_lacking)
{
  GtkWidget *lines[] = { self->from, self->expected, self->reason, self->lot };

  /* The same part again: what was typed is still there. */
  for (guint i = 0; g_strcmp0 (self->id, id) != 0 && i < G_N_ELEMENTS (lines); i++)
    gtk_editable_set_text (GTK_EDITABLE (lines[i]), "");
  g_free (self->id);
  self->id = g_strdup (id);
  self->is_supply = is_supply;
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
  gtk_label_set_label (GTK_LABEL (self->heading), name);
  set_choices (self, is_lacking);
  what_changed_cb (GTK_DROP_DOWN (self->what), NULL, self);
  gtk_widget_grab_focus (self->what);
}

void
pawl_supply_form_close (PawlSupplyForm *self)
{
  g_clear_pointer (&self->id, g_free);
  pawl_supply_form_say (self, NULL);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}

void
pawl_supply_form_say (PawlSupplyForm *self, const char *problem)
{
  gtk_label_set_label (GTK_LABEL (self->problem), problem != NULL ? problem : "");
  gtk_widget_set_visible (self->problem, problem != NULL);
}

static void
set_field (PawlEntry *entry, const char *field, GtkWidget *line)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (line))));

  if (gtk_widget_get_visible (line))
    pawl_entry_set (entry, field, text);
}

PawlEntry *
pawl_supply_form_make_entry (PawlSupplyForm *self, PawlHand hand)
{
  Says says = get_says (self);
  PawlEntry *entry = pawl_entry_new (says == SAYS_ARRIVED ? PAWL_ENTRY_ARRIVED : PAWL_ENTRY_LACKED, self->id != NULL ? self->id : "", hand.person, hand.at);

  if (says != SAYS_ARRIVED)
    pawl_entry_set (entry, "state", says == SAYS_ORDERED ? "ordered" : self->is_supply ? "low" : "missing");
  else if (!self->is_supply)
    pawl_entry_set (entry, "source", sources[gtk_drop_down_get_selected (GTK_DROP_DOWN (self->source))]);
  set_field (entry, "from", self->from);
  set_field (entry, "expected", self->expected);
  set_field (entry, "reason", self->reason);
  set_field (entry, "lot", self->lot);
  return entry;
}

static void
take_cb (GtkWidget *widget, PawlSupplyForm *self)
{
  g_signal_emit (self, signals[ANSWERED], 0);
}

static void
cancel_cb (GtkWidget *widget, PawlSupplyForm *self)
{
  pawl_supply_form_close (self);
}

static void
pawl_supply_form_dispose (GObject *object)
{
  g_clear_pointer (&PAWL_SUPPLY_FORM (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_supply_form_parent_class)->dispose (object);
}

static void
pawl_supply_form_finalize (GObject *object)
{
  g_free (PAWL_SUPPLY_FORM (object)->id);
  G_OBJECT_CLASS (pawl_supply_form_parent_class)->finalize (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlSupplyForm, child)

static void
pawl_supply_form_class_init (PawlSupplyFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_supply_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_supply_form_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-supply-form.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  BIND (box);
  BIND (heading);
  BIND (what);
  BIND (source);
  BIND (from);
  BIND (expected);
  BIND (reason);
  BIND (lot);
  BIND (problem);
  BIND (take);
  gtk_widget_class_bind_template_callback (widget_class, what_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, take_cb);
  gtk_widget_class_bind_template_callback (widget_class, cancel_cb);
  signals[ANSWERED] = g_signal_new ("answered", PAWL_TYPE_SUPPLY_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

#undef BIND

static void
pawl_supply_form_init (PawlSupplyForm *self)
{
  const char *shown[] = { _("Source not said"), _("New"), _("Donor"), _("Kit"), _("Made"), NULL };
  GtkStringList *list;

  gtk_widget_init_template (GTK_WIDGET (self));
  list = gtk_string_list_new (shown);
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->source), G_LIST_MODEL (list));
  g_object_unref (list);
}
