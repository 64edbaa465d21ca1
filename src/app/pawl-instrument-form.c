#include "app/pawl-instrument-form.h"

#include <glib/gi18n.h>
#include "app/pawl-gauge-listener.h"
#include "app/pawl-phrases.h"

#define ON(kind) (1u << PAWL_INSTRUMENT_##kind)

/* A line of the form. The field is that of the entry, but for "mark", "person" and "on". */
typedef struct {
  const char *field, *label, *example;
  guint       kinds;
} Row;

static const Row rows[] = {
  { "mark", N_("Mark engraved on it"), N_("MIC-3"), ON (ADD) },
  { "kind", N_("Kind, as procedures call it"), N_("caliper"), ON (ADD) | ON (CHANGE) },
  { "name", N_("Maker and model"), "", ON (ADD) | ON (CHANGE) },
  { "range", N_("What it can read"), N_("0..25 mm"), ON (ADD) | ON (CHANGE) },
  { "error", N_("Maximum permissible error"), N_("±0.02 mm"), ON (ADD) | ON (CHANGE) | ON (CALIBRATE) },
  { "step", N_("Smallest step"), N_("0.01 mm"), ON (ADD) | ON (CHANGE) },
  { "reference", N_("Error of what it was set or checked by"), N_("±0.002 mm"), ON (ADD) | ON (CHANGE) | ON (CALIBRATE) },
  { "on", N_("Day of the calibration; today when left out"), N_("2026-03-01"), ON (CALIBRATE) },
  { "calibrated", N_("Day of its last calibration"), N_("2026-03-01"), ON (ADD) | ON (CHANGE) },
  { "due", N_("Day when the next is due"), N_("2027-03-01"), ON (ADD) | ON (CHANGE) | ON (CALIBRATE) },
  { "certificate", N_("Number of the certificate"), "", ON (CALIBRATE) },
  { "reason", N_("Why it goes out of use"), N_("dropped, spindle bent"), ON (RETIRE) },
  { "note", N_("Anything else"), "", ON (ADD) | ON (CHANGE) | ON (CALIBRATE) },
  { "person", N_("Who states it"), "", ON (ADD) | ON (CHANGE) | ON (CALIBRATE) | ON (RETIRE) },
  { "prefix", N_("Typed before the number"), N_("M3:"), ON (ADD) | ON (CHANGE) },
  { "suffix", N_("Typed after the number"), "", ON (ADD) | ON (CHANGE) },
  { "terminator", N_("What ends a reading"), "", ON (ADD) | ON (CHANGE) },
  { "decimal-mark", N_("Its decimal mark"), "", ON (ADD) | ON (CHANGE) },
  { "unit", N_("What its bare numbers are in"), N_("mm"), ON (ADD) | ON (CHANGE) },
};

#define FIRST_TYPING "prefix"

/* What a list offers, and what the entry says. */
typedef struct { const char *value, *words; } Choice;
static const Choice terminators[] = { { "-", N_("It does not type") }, { "enter", N_("Enter") }, { "tab", N_("Tab") }, { "none", N_("Nothing: a pause") } };
static const Choice marks[] = { { ".", N_("A point") }, { ",", N_("A comma") } };

static const char * const takes[] = {
  [PAWL_INSTRUMENT_ADD] = N_("Put it into the register"),
  [PAWL_INSTRUMENT_CHANGE] = N_("Keep the change"),
  [PAWL_INSTRUMENT_CALIBRATE] = N_("Keep the calibration"),
  [PAWL_INSTRUMENT_RETIRE] = N_("Retire it"),
};

struct _PawlInstrumentForm {
  GtkWidget parent_instance;

  /* children */
  GtkWidget *box, *heading, *grid, *problem, *take;
  GtkWidget *lines[G_N_ELEMENTS (rows)]; /* (nullable) each: of the kind on show */

  /* owned */
  PawlRecord *record; /* (nullable) */
  char       *mark;   /* "" for a new one */
  char       *before[G_N_ELEMENTS (rows)]; /* what stood in each line */

  PawlInstrumentFormKind kind;
  gboolean is_dumb_before; /* nobody had stated how it types */
};

enum { TAKEN, LEFT, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlInstrumentForm, pawl_instrument_form, GTK_TYPE_WIDGET)

/* ---- one line ---- */

/* (nullable) */
static const Choice *
list_choices (const Row *row, guint *n)
{
  *n = g_str_equal (row->field, "terminator") ? G_N_ELEMENTS (terminators) : g_str_equal (row->field, "decimal-mark") ? G_N_ELEMENTS (marks) : 0;
  return *n == 0 ? NULL : *n == G_N_ELEMENTS (marks) ? marks : terminators;
}

/* Enter goes to the next line; only the button takes the form, so that no half of one is written for good. */
static void
activate_cb (GtkWidget *entry, PawlInstrumentForm *self)
{
  guint i = 0;

  while (self->lines[i] != entry)
    i++;
  while (++i < G_N_ELEMENTS (rows))
    if (self->lines[i] != NULL && gtk_widget_grab_focus (self->lines[i]))
      return;
  gtk_widget_grab_focus (self->take);
}

static GtkWidget *
make_line (PawlInstrumentForm *self, const Row *row)
{
  guint n;
  const Choice *choices = list_choices (row, &n);
  g_autoptr(GtkStringList) words = NULL;
  GtkWidget *entry;

  if (choices == NULL)
    {
      entry = gtk_entry_new ();
      gtk_entry_set_placeholder_text (GTK_ENTRY (entry), *row->example != '\0' ? _(row->example) : "");
      g_signal_connect (entry, "activate", G_CALLBACK (activate_cb), self);
      return entry;
    }
  words = gtk_string_list_new (NULL);
  for (guint i = 0; i < n; i++)
    gtk_string_list_append (words, _(choices[i].words));
  return gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&words)), NULL);
}

static const char *
get_typed (PawlInstrumentForm *self, guint index)
{
  guint n;
  const Choice *choices = list_choices (&rows[index], &n);

  if (self->lines[index] == NULL)
    return "";
  return choices != NULL ? choices[gtk_drop_down_get_selected (GTK_DROP_DOWN (self->lines[index]))].value
                         : gtk_editable_get_text (GTK_EDITABLE (self->lines[index]));
}

static void
set_typed (PawlInstrumentForm *self, guint index, const char *value)
{
  guint n;
  const Choice *choices = list_choices (&rows[index], &n);

  if (self->lines[index] == NULL)
    return;
  if (choices == NULL)
    gtk_editable_set_text (GTK_EDITABLE (self->lines[index]), value);
  for (guint i = 0; i < n; i++)
    if (g_str_equal (choices[i].value, value))
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->lines[index]), i);
}

static void
set_field (PawlInstrumentForm *self, const char *field, const char *value)
{
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_str_equal (rows[i].field, field))
      set_typed (self, i, value);
}

static const char *
get_field (PawlInstrumentForm *self, const char *field)
{
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_str_equal (rows[i].field, field))
      return get_typed (self, i);
  g_return_val_if_reached ("");
}

/* ---- what is known already ---- */

static char *
format_quantity (const PawlQuantity *quantity)
{
  return quantity != NULL ? pawl_quantity_format_exact (quantity, '.') : g_strdup ("");
}

static char *
format_date (const GDate *date)
{
  char text[32] = "";

  if (date != NULL)
    g_date_strftime (text, sizeof text, "%Y-%m-%d", date);
  return g_strdup (text);
}

static void
show_burst (PawlInstrumentForm *self, const PawlBurstForm *burst)
{
  const char mark[] = { burst->decimal_mark, '\0' };

  set_field (self, "prefix", burst->prefix);
  set_field (self, "suffix", burst->suffix);
  set_field (self, "terminator", pawl_burst_name_terminator (burst->terminator));
  set_field (self, "decimal-mark", mark);
  set_field (self, "unit", burst->unit != NULL ? pawl_unit_get_symbol (burst->unit) : "");
}

static void
show_gauge (PawlInstrumentForm *self, const PawlGauge *gauge)
{
  g_autofree char *max_error = format_quantity (gauge->instrument.max_error), *step = format_quantity (gauge->instrument.step);
  g_autofree char *reference = format_quantity (gauge->instrument.reference);
  g_autofree char *calibrated = format_date (gauge->calibrated), *due = format_date (gauge->due);

  set_field (self, "kind", gauge->kind);
  set_field (self, "name", gauge->name);
  set_field (self, "range", gauge->range);
  set_field (self, "error", max_error);
  set_field (self, "step", step);
  set_field (self, "reference", reference);
  set_field (self, "calibrated", calibrated);
  set_field (self, "due", due);
  set_field (self, "note", gauge->note);
  if (gauge->is_typing)
    show_burst (self, &gauge->burst);
}

static void
learnt_cb (PawlGaugeListener *listener, PawlInstrumentForm *self)
{
  show_burst (self, pawl_gauge_listener_peek_form (listener));
}

/* ---- building ---- */

static void
append_heading (PawlInstrumentForm *self, int *place, const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, "row-title");
  gtk_grid_attach (GTK_GRID (self->grid), label, 0, (*place)++, 2, 1);
}

static void
append_listener (PawlInstrumentForm *self, int *place)
{
  GtkWidget *listener = pawl_gauge_listener_new ();

  append_heading (self, place, _("Does it type its readings?"));
  g_signal_connect (listener, "learnt", G_CALLBACK (learnt_cb), self);
  gtk_grid_attach (GTK_GRID (self->grid), listener, 0, (*place)++, 2, 1);
}

static void
append_line (PawlInstrumentForm *self, guint index, int *place)
{
  GtkWidget *label = gtk_label_new (_(rows[index].label)), *line = make_line (self, &rows[index]);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (label), 26);
  gtk_widget_add_css_class (label, "field-name");
  gtk_widget_set_hexpand (line, TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (line), GTK_ACCESSIBLE_PROPERTY_LABEL, _(rows[index].label), -1);
  gtk_grid_attach (GTK_GRID (self->grid), label, 0, *place, 1, 1);
  gtk_grid_attach (GTK_GRID (self->grid), line, 1, (*place)++, 1, 1);
  self->lines[index] = line;
}

static void
build_lines (PawlInstrumentForm *self)
{
  GtkWidget *child;
  int place = 0;

  while ((child = gtk_widget_get_first_child (self->grid)) != NULL)
    gtk_grid_remove (GTK_GRID (self->grid), child);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      self->lines[i] = NULL;
      if ((rows[i].kinds & (1u << self->kind)) == 0)
        continue;
      if (g_str_equal (rows[i].field, FIRST_TYPING))
        append_listener (self, &place);
      append_line (self, i, &place);
    }
}

static void
say (PawlInstrumentForm *self, const char *problem)
{
  g_autofree char *sentence = problem != NULL ? pawl_phrase_make_sentence (problem) : NULL;

  gtk_label_set_label (GTK_LABEL (self->problem), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (self->problem, sentence != NULL);
}

static GtkWidget *
find_first_line (PawlInstrumentForm *self)
{
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (self->lines[i] != NULL)
      return self->lines[i];
  return self->take;
}

static char *
make_heading (PawlInstrumentFormKind kind, const char *mark)
{
  switch (kind)
    {
    case PAWL_INSTRUMENT_CHANGE:    return g_strdup_printf (_("Change %s"), mark);
    case PAWL_INSTRUMENT_CALIBRATE: return g_strdup_printf (_("%s was calibrated"), mark);
    case PAWL_INSTRUMENT_RETIRE:    return g_strdup_printf (_("Retire %s"), mark);
    case PAWL_INSTRUMENT_ADD:
    default:                        return g_strdup (_("A new instrument"));
    }
}

void
pawl_instrument_form_open (PawlInstrumentForm *self, PawlInstrumentFormKind kind, PawlRecord *record, const PawlGauge *gauge, const char *person)
{
  g_autofree char *heading = make_heading (kind, gauge != NULL ? gauge->mark : "");

  g_set_object (&self->record, record);
  self->kind = kind;
  g_free (self->mark);
  self->mark = g_strdup (gauge != NULL ? gauge->mark : "");
  gtk_label_set_label (GTK_LABEL (self->heading), heading);
  gtk_button_set_label (GTK_BUTTON (self->take), _(takes[kind]));
  build_lines (self);
  if (kind == PAWL_INSTRUMENT_CHANGE)
    show_gauge (self, gauge);
  set_field (self, "person", person);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_free (self->before[i]);
      self->before[i] = g_strdup (get_typed (self, i));
    }
  self->is_dumb_before = gauge == NULL || !gauge->is_typing;
  say (self, NULL);
  gtk_widget_grab_focus (find_first_line (self));
}

/* ---- taking ---- */

static PawlEntryKind
get_entry_kind (PawlInstrumentFormKind kind)
{
  return kind == PAWL_INSTRUMENT_CALIBRATE ? PAWL_ENTRY_INSTRUMENT_CALIBRATED : kind == PAWL_INSTRUMENT_RETIRE ? PAWL_ENTRY_INSTRUMENT_RETIRED
                                                                                                               : PAWL_ENTRY_INSTRUMENT_STATED;
}

/* (transfer full) (nullable): noon of the day that was typed, or now. */
static GDateTime *
find_time (PawlInstrumentForm *self)
{
  g_autofree char *day = g_strstrip (g_strdup (get_field (self, "on")));
  g_autofree char *noon = g_strdup_printf ("%sT12:00:00", day);
  g_autoptr(GDateTime) now = pawl_record_dup_now (self->record);

  return *day == '\0' ? g_steal_pointer (&now) : g_date_time_new_from_iso8601 (noon, g_date_time_get_timezone (now));
}

static gboolean
is_of_typing (guint index)
{
  for (guint i = 0; i <= index; i++)
    if (g_str_equal (rows[i].field, FIRST_TYPING))
      return TRUE;
  return FALSE;
}

/* Whether the entry names that line. How it types is stated as a whole when it didn't, and left out when it still doesn't. */
static gboolean
is_stated (PawlInstrumentForm *self, guint index)
{
  const char *field = rows[index].field;
  gboolean is_same = g_str_equal (get_typed (self, index), self->before[index]);
  gboolean is_dumb = g_str_equal (get_field (self, "terminator"), "-");

  if (self->lines[index] == NULL || g_str_equal (field, "mark") || g_str_equal (field, "person") || g_str_equal (field, "on"))
    return FALSE;
  if (is_of_typing (index))
    return is_dumb ? !is_same && g_str_equal (field, "terminator") : self->kind == PAWL_INSTRUMENT_ADD || self->is_dumb_before || !is_same;
  return self->kind != PAWL_INSTRUMENT_CHANGE || !is_same;
}

/* Of a change only what is another; a line that was emptied takes its field back. */
static void
fill_entry (PawlInstrumentForm *self, PawlEntry *entry)
{
  gboolean is_change = self->kind == PAWL_INSTRUMENT_CHANGE;

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (is_stated (self, i))
      {
        g_autofree char *typed = g_strstrip (g_strdup (get_typed (self, i)));

        pawl_entry_set (entry, rows[i].field, *typed != '\0' ? typed : is_change ? "-" : NULL);
      }
  if (is_change)
    pawl_entry_set (entry, "change", "yes");
}

static void
take_cb (GtkWidget *widget, PawlInstrumentForm *self)
{
  g_autofree char *mark = g_strstrip (g_strdup (self->kind == PAWL_INSTRUMENT_ADD ? get_field (self, "mark") : self->mark));
  g_autofree char *person = g_strstrip (g_strdup (get_field (self, "person")));
  g_autoptr(GDateTime) at = self->record != NULL ? find_time (self) : NULL;
  g_autoptr(PawlEntry) entry = NULL;
  g_autoptr(GError) error = NULL;

  if (self->record == NULL)
    say (self, _("there is no record to write it into"));
  else if (at == NULL)
    say (self, _("a day is written like 2026-03-01"));
  else if (*person == '\0')
    say (self, _("say who states it: every entry carries a name"));
  else
    {
      entry = pawl_entry_new (get_entry_kind (self->kind), mark, person, at);
      fill_entry (self, entry);
      if (pawl_register_append (self->record, entry, &error))
        g_signal_emit (self, signals[TAKEN], 0, mark);
      else
        say (self, error->message);
    }
}

static void
leave_cb (GtkWidget *button, PawlInstrumentForm *self)
{
  g_signal_emit (self, signals[LEFT], 0);
}

/* ---- widget ---- */

static void
pawl_instrument_form_dispose (GObject *object)
{
  PawlInstrumentForm *self = PAWL_INSTRUMENT_FORM (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->record);
  G_OBJECT_CLASS (pawl_instrument_form_parent_class)->dispose (object);
}

static void
pawl_instrument_form_finalize (GObject *object)
{
  PawlInstrumentForm *self = PAWL_INSTRUMENT_FORM (object);

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    g_free (self->before[i]);
  g_free (self->mark);
  G_OBJECT_CLASS (pawl_instrument_form_parent_class)->finalize (object);
}

static void
pawl_instrument_form_class_init (PawlInstrumentFormClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_instrument_form_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_instrument_form_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-instrument-form.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlInstrumentForm, box);
  gtk_widget_class_bind_template_child (widget_class, PawlInstrumentForm, heading);
  gtk_widget_class_bind_template_child (widget_class, PawlInstrumentForm, grid);
  gtk_widget_class_bind_template_child (widget_class, PawlInstrumentForm, problem);
  gtk_widget_class_bind_template_child (widget_class, PawlInstrumentForm, take);
  gtk_widget_class_bind_template_callback (widget_class, take_cb);
  gtk_widget_class_bind_template_callback (widget_class, leave_cb);
  signals[TAKEN] = g_signal_new ("taken", PAWL_TYPE_INSTRUMENT_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[LEFT] = g_signal_new ("left", PAWL_TYPE_INSTRUMENT_FORM, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_instrument_form_init (PawlInstrumentForm *self)
{
  self->mark = g_strdup ("");
  gtk_widget_init_template (GTK_WIDGET (self));
}
