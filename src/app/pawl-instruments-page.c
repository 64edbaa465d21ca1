#include "app/pawl-instruments-page.h"

#include <glib/gi18n.h>
#include "app/pawl-instrument-form.h"
#include "app/pawl-instrument-words.h"
#include "app/pawl-list-line.h"

struct _PawlInstrumentsPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *stack, *list, *empty, *problem, *add, *title, *standing, *facts, *calibrate, *change, *retire, *life, *form, *form_scroller;

  /* owned */
  PawlRecord   *record;      /* (nullable) */
  PawlRegister *instruments; /* (nullable) when there is no record */
  char         *person;
  char         *mark;        /* of the one that was looked at last; "" for none */

  char decimal_mark;
};

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlInstrumentsPage, pawl_instruments_page, GTK_TYPE_WIDGET)

static void
set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
}

/* ---- the list ---- */

static GtkWidget *
make_row (PawlInstrumentsPage *self, const PawlGauge *gauge, GDateTime *now)
{
  GtkWidget *line = pawl_list_line_new (), *row;
  g_autofree char *kind = pawl_instrument_describe_kind (gauge), *error = pawl_instrument_describe_error (gauge, self->decimal_mark);
  g_autofree char *standing = pawl_instrument_describe_standing (gauge, now), *typing = pawl_instrument_describe_typing (gauge);
  g_autofree char *marked = g_strdup_printf ("%s %s", pawl_instrument_get_sign (pawl_gauge_get_standing (gauge, now)), standing);
  g_autofree char *description = g_strdup_printf ("%s. %s. %s", standing, kind, error);

  pawl_list_line_append (line, gauge->mark, "row-title");
  pawl_list_line_append (line, kind, NULL);
  pawl_list_line_append (line, error, "secondary");
  pawl_list_line_append (line, typing, "secondary");
  pawl_list_line_append_end (line, marked, pawl_gauge_get_standing (gauge, now) == PAWL_STANDING_IN_DATE ? NULL : "strong");
  row = pawl_list_line_wrap (line, gauge->mark, description);
  g_object_set_data_full (G_OBJECT (row), "mark", g_strdup (gauge->mark), g_free);
  return row;
}

static void
apply_list (PawlInstrumentsPage *self)
{
  g_autoptr(GDateTime) now = self->record != NULL ? pawl_record_dup_now (self->record) : NULL;
  g_autoptr(GPtrArray) gauges = self->instruments != NULL ? pawl_instruments_sort (self->instruments) : NULL;

  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  for (guint i = 0; gauges != NULL && i < gauges->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (self, gauges->pdata[i], now));
  gtk_widget_set_visible (self->empty, gauges != NULL && gauges->len == 0);
  gtk_widget_set_sensitive (self->add, gauges != NULL);
}

static GtkListBoxRow *
find_row (PawlInstrumentsPage *self)
{
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), i)) != NULL; i++)
    if (g_strcmp0 (g_object_get_data (G_OBJECT (row), "mark"), self->mark) == 0)
      return row;
  return gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);
}

/* ---- one instrument ---- */

static const PawlGauge *
get_gauge (PawlInstrumentsPage *self)
{
  return self->instruments != NULL && *self->mark != '\0' ? pawl_register_lookup (self->instruments, self->mark) : NULL;
}

static const char *
get_kind_words (PawlEntryKind kind, gboolean is_first)
{
  if (kind == PAWL_ENTRY_INSTRUMENT_STATED)
    return is_first ? _("Put into the register") : _("Changed");
  return kind == PAWL_ENTRY_INSTRUMENT_CALIBRATED ? _("Calibrated") : _("Retired");
}

/* The fields as they were stated, in the words of the record. */
static char *
list_fields (const PawlEntry *entry)
{
  g_auto(GStrv) names = pawl_entry_list_fields (entry);
  GString *text = g_string_new (NULL);

  for (char **name = names; *name != NULL; name++)
    if (!g_str_equal (*name, "change"))
      g_string_append_printf (text, "%s%s %s", text->len > 0 ? " · " : "", *name, pawl_entry_get (entry, *name));
  return g_string_free (text, FALSE);
}

static GtkWidget *
make_life_row (const PawlEntry *entry, gboolean is_first)
{
  GtkWidget *line = pawl_list_line_new ();
  g_autofree char *day = g_date_time_format (pawl_entry_peek_at (entry), "%Y-%m-%d"), *fields = list_fields (entry);
  g_autofree char *what = g_strdup_printf ("%s  %s", day, get_kind_words (pawl_entry_get_kind (entry), is_first));

  pawl_list_line_append (line, what, "strong");
  pawl_list_line_append (line, fields, "secondary");
  pawl_list_line_append_end (line, pawl_entry_get_person (entry), "secondary");
  return pawl_list_line_wrap (line, what, fields);
}

static void
apply_gauge (PawlInstrumentsPage *self)
{
  const PawlGauge *gauge = get_gauge (self);
  g_autoptr(GDateTime) now = NULL;
  g_autofree char *standing = NULL, *marked = NULL, *kind = NULL, *error = NULL, *typing = NULL, *facts = NULL;

  pawl_list_line_clear (GTK_LIST_BOX (self->life));
  if (gauge == NULL)
    return;
  now = pawl_record_dup_now (self->record);
  standing = pawl_instrument_describe_standing (gauge, now);
  marked = g_strdup_printf ("%s %s", pawl_instrument_get_sign (pawl_gauge_get_standing (gauge, now)), standing);
  kind = pawl_instrument_describe_kind (gauge);
  error = pawl_instrument_describe_error (gauge, self->decimal_mark);
  typing = pawl_instrument_describe_typing (gauge);
  facts = g_strjoin ("\n", kind, error, *gauge->note != '\0' ? gauge->note : typing, *gauge->note != '\0' && *typing != '\0' ? typing : NULL, NULL);
  gtk_label_set_label (GTK_LABEL (self->title), gauge->mark);
  set_text (self->standing, marked);
  set_text (self->facts, g_strchomp (facts));
  gtk_widget_set_visible (self->calibrate, !gauge->is_retired);
  gtk_widget_set_visible (self->retire, !gauge->is_retired);
  gtk_button_set_label (GTK_BUTTON (self->change), gauge->is_retired ? _("Take into use again…") : _("Change…"));
  for (guint i = gauge->entries->len; i > 0; i--)
    gtk_list_box_append (GTK_LIST_BOX (self->life), make_life_row (gauge->entries->pdata[i - 1], i == 1));
}

/* ---- going about ---- */

static const char *
get_shown (PawlInstrumentsPage *self)
{
  return gtk_stack_get_visible_child_name (GTK_STACK (self->stack));
}

static void
show (PawlInstrumentsPage *self, const char *page)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page);
  pawl_instruments_page_go (self);
}

void
pawl_instruments_page_go (PawlInstrumentsPage *self)
{
  GtkListBoxRow *row = find_row (self);

  if (g_str_equal (get_shown (self), "form"))
    gtk_widget_child_focus (self->form, GTK_DIR_TAB_FORWARD);
  else if (g_str_equal (get_shown (self), "gauge"))
    gtk_widget_grab_focus (gtk_widget_get_visible (self->calibrate) ? self->calibrate : self->change);
  else
    gtk_widget_grab_focus (row != NULL ? GTK_WIDGET (row) : self->add);
}

static void
load (PawlInstrumentsPage *self)
{
  g_autoptr(GError) error = NULL;

  g_clear_pointer (&self->instruments, pawl_register_free);
  if (self->record != NULL)
    self->instruments = pawl_register_load (self->record, &error);
  set_text (self->problem, error != NULL ? error->message : NULL);
  apply_list (self);
  apply_gauge (self);
}

void
pawl_instruments_page_apply (PawlInstrumentsPage *self, PawlRecord *record, const char *person, char decimal_mark)
{
  g_set_object (&self->record, record);
  g_free (self->person);
  self->person = g_strdup (person);
  self->decimal_mark = decimal_mark;
  load (self);
  if (g_str_equal (get_shown (self), "gauge") && get_gauge (self) == NULL)
    gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlInstrumentsPage *self)
{
  g_free (self->mark);
  self->mark = g_strdup (g_object_get_data (G_OBJECT (row), "mark"));
  apply_gauge (self);
  show (self, "gauge");
}

static void
back_cb (GtkWidget *button, PawlInstrumentsPage *self)
{
  show (self, "list");
}

/* ---- the form ---- */

static void
open_form (PawlInstrumentsPage *self, PawlInstrumentFormKind kind)
{
  const PawlGauge *gauge = kind != PAWL_INSTRUMENT_ADD ? get_gauge (self) : NULL;

  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "form");
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->form_scroller)), 0);
  pawl_instrument_form_open (PAWL_INSTRUMENT_FORM (self->form), kind, self->record, gauge, self->person);
  if (gauge == NULL)
    {
      g_free (self->mark);
      self->mark = g_strdup ("");
    }
}

static void add_cb (GtkWidget *button, PawlInstrumentsPage *self)       { open_form (self, PAWL_INSTRUMENT_ADD); }
static void change_cb (GtkWidget *button, PawlInstrumentsPage *self)    { open_form (self, PAWL_INSTRUMENT_CHANGE); }
static void calibrate_cb (GtkWidget *button, PawlInstrumentsPage *self) { open_form (self, PAWL_INSTRUMENT_CALIBRATE); }
static void retire_cb (GtkWidget *button, PawlInstrumentsPage *self)    { open_form (self, PAWL_INSTRUMENT_RETIRE); }

static void
taken_cb (PawlInstrumentForm *form, const char *mark, PawlInstrumentsPage *self)
{
  g_free (self->mark);
  self->mark = g_strdup (mark);
  load (self);
  show (self, "gauge");
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
left_cb (PawlInstrumentForm *form, PawlInstrumentsPage *self)
{
  show (self, get_gauge (self) != NULL ? "gauge" : "list");
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  PawlInstrumentsPage *self = PAWL_INSTRUMENTS_PAGE (widget);

  if (g_str_equal (get_shown (self), "list"))
    return FALSE;
  if (g_str_equal (get_shown (self), "form"))
    left_cb (NULL, self);
  else
    show (self, "list");
  return TRUE;
}

/* ---- widget ---- */

static void
pawl_instruments_page_dispose (GObject *object)
{
  PawlInstrumentsPage *self = PAWL_INSTRUMENTS_PAGE (object);

  g_clear_pointer (&self->stack, gtk_widget_unparent);
  g_clear_object (&self->record);
  G_OBJECT_CLASS (pawl_instruments_page_parent_class)->dispose (object);
}

static void
pawl_instruments_page_finalize (GObject *object)
{
  PawlInstrumentsPage *self = PAWL_INSTRUMENTS_PAGE (object);

  g_clear_pointer (&self->instruments, pawl_register_free);
  g_free (self->person);
  g_free (self->mark);
  G_OBJECT_CLASS (pawl_instruments_page_parent_class)->finalize (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlInstrumentsPage, child)

static void
bind_children (GtkWidgetClass *widget_class)
{
  BIND (stack);
  BIND (list);
  BIND (empty);
  BIND (problem);
  BIND (add);
  BIND (title);
  BIND (standing);
  BIND (facts);
  BIND (calibrate);
  BIND (change);
  BIND (retire);
  BIND (life);
  BIND (form);
  BIND (form_scroller);
}

#undef BIND

static void
pawl_instruments_page_class_init (PawlInstrumentsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_instruments_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_instruments_page_finalize;
  g_type_ensure (PAWL_TYPE_INSTRUMENT_FORM);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-instruments-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, back_cb);
  gtk_widget_class_bind_template_callback (widget_class, add_cb);
  gtk_widget_class_bind_template_callback (widget_class, change_cb);
  gtk_widget_class_bind_template_callback (widget_class, calibrate_cb);
  gtk_widget_class_bind_template_callback (widget_class, retire_cb);
  gtk_widget_class_bind_template_callback (widget_class, taken_cb);
  gtk_widget_class_bind_template_callback (widget_class, left_cb);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, escape_cb, NULL);
  signals[CHANGED] = g_signal_new ("changed", PAWL_TYPE_INSTRUMENTS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_instruments_page_init (PawlInstrumentsPage *self)
{
  self->person = g_strdup ("");
  self->mark = g_strdup ("");
  self->decimal_mark = '.';
  gtk_widget_init_template (GTK_WIDGET (self));
}
