/* The register, folded from its entries. */
#include "register/pawl-register.h"

#include <string.h>

struct _PawlRegister {
  GPtrArray *gauges; /* (element-type PawlGauge), by mark */
};

G_DEFINE_QUARK (pawl-register-error-quark, pawl_register_error)

/* ---- one instrument ---- */

static void
gauge_free (PawlGauge *self)
{
  g_free (self->chain);
  g_free (self->mark);
  g_free (self->kind);
  g_free (self->name);
  g_free (self->range);
  g_clear_pointer (&self->instrument.max_error, pawl_quantity_unref);
  g_clear_pointer (&self->instrument.step, pawl_quantity_unref);
  g_clear_pointer (&self->instrument.reference, pawl_quantity_unref);
  g_clear_pointer (&self->calibrated, g_date_free);
  g_clear_pointer (&self->due, g_date_free);
  g_free (self->reason);
  g_free (self->note);
  pawl_burst_form_clear (&self->burst);
  g_ptr_array_unref (self->entries);
  g_free (self);
}

static PawlGauge *
gauge_new (PawlEntry *stated)
{
  PawlGauge *self = g_new0 (PawlGauge, 1);

  self->chain = g_strdup (pawl_entry_get_job (stated));
  self->mark = g_strdup (pawl_entry_get_subject (stated));
  self->kind = g_strdup ("");
  self->name = g_strdup ("");
  self->range = g_strdup ("");
  self->reason = g_strdup ("");
  self->note = g_strdup ("");
  self->burst = (PawlBurstForm) { g_strdup (""), g_strdup (""), '\n', '.', NULL };
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  return self;
}

/* What an entry does not name stays; "-" takes it back. */
static void
take_text (const PawlEntry *entry, const char *field, char **text)
{
  const char *value = pawl_entry_get (entry, field);

  if (value == NULL)
    return;
  g_free (*text);
  *text = g_strdup (g_str_equal (value, "-") ? "" : value);
}

/* Checked when it was appended, so what can't be read now counts as not stated. */
static void
take_quantity (const PawlEntry *entry, const char *field, PawlQuantity **quantity)
{
  const char *value = pawl_entry_get (entry, field);
  const PawlTyping typing = { .decimal_mark = '.' };

  if (value == NULL)
    return;
  g_clear_pointer (quantity, pawl_quantity_unref);
  *quantity = pawl_quantity_parse (g_str_has_prefix (value, "±") ? value + strlen ("±") : value, &typing, NULL);
}

static void
set_date (GDate **date, GDate *value)
{
  g_clear_pointer (date, g_date_free);
  *date = value;
}

static void
take_date (const PawlEntry *entry, const char *field, GDate **date)
{
  const char *value = pawl_entry_get (entry, field);
  GDate parsed;

  if (value == NULL)
    return;
  g_date_clear (&parsed, 1);
  if (strlen (value) == strlen ("2026-11-25"))
    g_date_set_parse (&parsed, value);
  set_date (date, g_date_valid (&parsed) ? g_date_copy (&parsed) : NULL);
}

static GDate *
get_day (GDateTime *time)
{
  return g_date_new_dmy ((GDateDay) g_date_time_get_day_of_month (time), (GDateMonth) g_date_time_get_month (time), (GDateYear) g_date_time_get_year (time));
}

static void
take_burst (PawlGauge *self, const PawlEntry *entry)
{
  const char *terminator = pawl_entry_get (entry, "terminator"), *mark = pawl_entry_get (entry, "decimal-mark"), *unit = pawl_entry_get (entry, "unit");

  take_text (entry, "prefix", &self->burst.prefix);
  take_text (entry, "suffix", &self->burst.suffix);
  if (terminator != NULL)
    self->is_typing = pawl_burst_parse_terminator (terminator, &self->burst.terminator); /* "-" is none of them */
  if (mark != NULL)
    self->burst.decimal_mark = *mark;
  if (unit != NULL)
    self->burst.unit = pawl_unit_lookup (unit);
}

static void
apply_stated (PawlGauge *self, const PawlEntry *entry)
{
  take_text (entry, "kind", &self->kind);
  take_text (entry, "name", &self->name);
  take_text (entry, "range", &self->range);
  take_text (entry, "note", &self->note);
  take_quantity (entry, "error", &self->instrument.max_error);
  take_quantity (entry, "step", &self->instrument.step);
  take_quantity (entry, "reference", &self->instrument.reference);
  take_date (entry, "calibrated", &self->calibrated);
  take_date (entry, "due", &self->due);
  take_burst (self, entry);
  self->is_retired = FALSE; /* stated again: back in use */
  g_free (self->reason);
  self->reason = g_strdup ("");
}

static void
apply_calibrated (PawlGauge *self, const PawlEntry *entry)
{
  set_date (&self->calibrated, get_day (pawl_entry_peek_at (entry)));
  set_date (&self->due, NULL);
  take_date (entry, "due", &self->due);
  take_quantity (entry, "error", &self->instrument.max_error);
  take_quantity (entry, "reference", &self->instrument.reference);
  take_text (entry, "note", &self->note);
}

static void
apply (PawlGauge *self, PawlEntry *entry)
{
  g_ptr_array_add (self->entries, pawl_entry_ref (entry));
  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_INSTRUMENT_STATED:
      apply_stated (self, entry);
      break;
    case PAWL_ENTRY_INSTRUMENT_CALIBRATED:
      apply_calibrated (self, entry);
      break;
    case PAWL_ENTRY_INSTRUMENT_RETIRED:
      self->is_retired = TRUE;
      take_text (entry, "reason", &self->reason);
      break;
    default:
      break;
    }
  self->instrument.id = self->mark;
  self->instrument.name = *self->name != '\0' ? self->name : self->mark;
}

/* ---- all of them ---- */

static int
compare_marks (gconstpointer a, gconstpointer b)
{
  const PawlGauge *first = *(const PawlGauge *const *) a, *second = *(const PawlGauge *const *) b;
  int order = g_ascii_strcasecmp (first->mark, second->mark);

  return order != 0 ? order : strcmp (first->chain, second->chain);
}

PawlRegister *
pawl_register_fold (GPtrArray *entries, GDateTime *until)
{
  PawlRegister *self = g_new0 (PawlRegister, 1);
  PawlGauge *gauge = NULL;

  self->gauges = g_ptr_array_new_with_free_func ((GDestroyNotify) gauge_free);
  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntry *entry = entries->pdata[i];

      if (until != NULL && g_date_time_compare (pawl_entry_peek_at (entry), until) > 0)
        continue;
      if (gauge == NULL || !g_str_equal (gauge->chain, pawl_entry_get_job (entry)))
        g_ptr_array_add (self->gauges, gauge = gauge_new (entry));
      apply (gauge, entry);
    }
  g_ptr_array_sort (self->gauges, compare_marks);
  return self;
}

PawlRegister *
pawl_register_load (PawlRecord *record, GError **error)
{
  g_autoptr(GPtrArray) entries = pawl_record_load_instruments (record, error);

  return entries != NULL ? pawl_register_fold (entries, NULL) : NULL;
}

void
pawl_register_free (PawlRegister *self)
{
  g_ptr_array_unref (self->gauges);
  g_free (self);
}

GPtrArray *
pawl_register_list (const PawlRegister *self)
{
  return self->gauges;
}

/* Records that were merged may have two of one mark: the one in use is meant. */
const PawlGauge *
pawl_register_lookup (const PawlRegister *self, const char *mark)
{
  const PawlGauge *found = NULL;

  for (guint i = 0; i < self->gauges->len; i++)
    {
      const PawlGauge *gauge = self->gauges->pdata[i];

      if (g_ascii_strcasecmp (gauge->mark, mark) == 0 && (found == NULL || found->is_retired))
        found = gauge;
    }
  return found;
}

static gboolean
is_of_kind (const PawlGauge *gauge, const char *id, const char *name)
{
  g_autofree char *kind = g_utf8_casefold (gauge->kind, -1);
  g_autofree char *folded_id = g_utf8_casefold (id, -1);
  g_autofree char *folded_name = g_utf8_casefold (name != NULL ? name : id, -1);

  return g_str_equal (kind, folded_id) || g_str_equal (kind, folded_name);
}

GPtrArray *
pawl_register_list_of_kind (const PawlRegister *self, const char *id, const char *name, GDateTime *at)
{
  GPtrArray *list = g_ptr_array_new ();
  guint n_in_date = 0;

  for (guint i = 0; i < self->gauges->len; i++)
    {
      PawlGauge *gauge = self->gauges->pdata[i];

      if (gauge->is_retired || !is_of_kind (gauge, id, name))
        continue;
      if (pawl_gauge_get_standing (gauge, at) == PAWL_STANDING_OUT_OF_DATE)
        g_ptr_array_add (list, gauge);
      else
        g_ptr_array_insert (list, (int) n_in_date++, gauge);
    }
  return list;
}

/* ---- standing ---- */

PawlStanding
pawl_gauge_get_standing (const PawlGauge *self, GDateTime *at)
{
  g_autoptr(GDate) day = get_day (at);
  int n_days;

  if (self->is_retired)
    return PAWL_STANDING_RETIRED;
  if (self->due == NULL)
    return PAWL_STANDING_NO_DATE;
  n_days = g_date_days_between (day, self->due);
  if (n_days < 0)
    return PAWL_STANDING_OUT_OF_DATE;
  return n_days <= PAWL_DUE_SOON_DAYS ? PAWL_STANDING_DUE_SOON : PAWL_STANDING_IN_DATE;
}

const char *
pawl_standing_get_word (PawlStanding standing)
{
  switch (standing)
    {
    case PAWL_STANDING_IN_DATE:     return "in date";
    case PAWL_STANDING_DUE_SOON:    return "due soon";
    case PAWL_STANDING_OUT_OF_DATE: return "out of date";
    case PAWL_STANDING_RETIRED:     return "retired";
    case PAWL_STANDING_NO_DATE:
    default:                        return "no due date";
    }
}

static char *
format_day (const GDate *day)
{
  return g_strdup_printf ("%04u-%02u-%02u", g_date_get_year (day), (guint) g_date_get_month (day), g_date_get_day (day));
}

char *
pawl_gauge_describe_standing (const PawlGauge *self, GDateTime *at)
{
  PawlStanding standing = pawl_gauge_get_standing (self, at);
  g_autofree char *due = self->due != NULL ? format_day (self->due) : NULL;

  switch (standing)
    {
    case PAWL_STANDING_RETIRED:
      return *self->reason != '\0' ? g_strdup_printf ("retired: %s", self->reason) : g_strdup ("retired");
    case PAWL_STANDING_IN_DATE:
      return g_strdup_printf ("in date, due %s", due);
    case PAWL_STANDING_DUE_SOON:
      return g_strdup_printf ("due soon, %s", due);
    case PAWL_STANDING_OUT_OF_DATE:
      return g_strdup_printf ("out of date, was due %s", due);
    case PAWL_STANDING_NO_DATE:
    default:
      return g_strdup ("no due date stated");
    }
}

char *
pawl_gauge_describe_error (const PawlGauge *self, char decimal_mark)
{
  const struct { const char *word; const PawlQuantity *quantity; } parts[] = {
    { "error ±", self->instrument.max_error }, { "step ", self->instrument.step }, { "reference ±", self->instrument.reference },
  };
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    if (parts[i].quantity != NULL)
      {
        g_autofree char *value = pawl_quantity_format (parts[i].quantity, decimal_mark);

        g_string_append_printf (text, "%s%s%s", text->len > 0 ? ", " : "", parts[i].word, value);
      }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

PawlOverdue
pawl_overdue_from_text (const char *text)
{
  if (text != NULL && g_str_equal (text, "refuse"))
    return PAWL_OVERDUE_REFUSE;
  return text != NULL && g_str_equal (text, "say") ? PAWL_OVERDUE_SAY : PAWL_OVERDUE_WARN;
}
