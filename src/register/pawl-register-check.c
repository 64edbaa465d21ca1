/* What the register takes, and what a reading takes from it. */
#include "register/pawl-register.h"

#include <string.h>
#include "measure/pawl-limits.h"

#define MAX_MARK_LENGTH 40

static gboolean
refuse (GError **error, PawlRegisterError code, const char *format, ...) G_GNUC_PRINTF (3, 4);

static gboolean
refuse (GError **error, PawlRegisterError code, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  if (error != NULL)
    *error = g_error_new_valist (PAWL_REGISTER_ERROR, (int) code, format, arguments);
  va_end (arguments);
  return FALSE;
}

/* ---- fields ---- */

/* "-" takes a field back. */
static const char *
get_stated (PawlEntry *entry, const char *field)
{
  const char *value = pawl_entry_get (entry, field);

  return value != NULL && !g_str_equal (value, "-") ? value : NULL;
}

static gboolean
check_quantity (PawlEntry *entry, const char *field, PawlQuantity **quantity, GError **error)
{
  const char *value = get_stated (entry, field);
  const PawlTyping typing = { .decimal_mark = '.' };
  g_autoptr(GError) problem = NULL;
  g_autofree char *exact = NULL;
  mpq_t low, high;
  gboolean is_below;

  if (value == NULL)
    return TRUE;
  if (!(*quantity = pawl_quantity_parse (g_str_has_prefix (value, "±") ? value + strlen ("±") : value, &typing, &problem)))
    return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "%s, “%s”: %s", field, value, problem->message);
  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (*quantity, low, high);
  is_below = mpq_sgn (low) < 0;
  mpq_clears (low, high, NULL);
  if (is_below || pawl_quantity_is_interval (*quantity))
    return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "%s, “%s”: one value, not below zero, as in ±0.02 mm", field, value);
  exact = pawl_quantity_format_exact (*quantity, '.');
  pawl_entry_set (entry, field, exact);
  return TRUE;
}

/* Per cent of the reading goes with everything. */
static gboolean
agree (const PawlQuantity *a, const PawlQuantity *b)
{
  PawlDimension first, second;

  if (a == NULL || b == NULL)
    return TRUE;
  first = pawl_unit_get_dimension (pawl_quantity_get_unit (a));
  second = pawl_unit_get_dimension (pawl_quantity_get_unit (b));
  return first == second || first == PAWL_DIMENSION_NONE || second == PAWL_DIMENSION_NONE;
}

static gboolean
check_quantities (PawlEntry *entry, const PawlGauge *known, GError **error)
{
  g_autoptr(PawlQuantity) max_error = NULL;
  g_autoptr(PawlQuantity) step = NULL;
  g_autoptr(PawlQuantity) reference = NULL;
  const PawlQuantity *of_error, *of_step;

  if (!check_quantity (entry, "error", &max_error, error) || !check_quantity (entry, "step", &step, error)
      || !check_quantity (entry, "reference", &reference, error))
    return FALSE;
  of_error = max_error != NULL || known == NULL ? max_error : known->instrument.max_error;
  of_step = step != NULL || known == NULL ? step : known->instrument.step;
  if (!agree (of_error, of_step) || !agree (of_error, reference) || !agree (of_step, reference))
    return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "error, step and reference have to be of one kind: an instrument that reads millimetres has all three in a length");
  return TRUE;
}

static gboolean
check_range (PawlEntry *entry, GError **error)
{
  const char *value = get_stated (entry, "range");
  const PawlTyping typing = { .decimal_mark = '.' };
  g_autoptr(GError) problem = NULL;
  g_autoptr(PawlLimits) limits = NULL;

  if (value == NULL || (limits = pawl_limits_parse (value, &typing, &problem)))
    return TRUE;
  return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "range, “%s”: %s; a range is written like 0..25 mm", value, problem->message);
}

static gboolean
check_date (PawlEntry *entry, const char *field, GDate *date, GError **error)
{
  const char *value = get_stated (entry, field);

  g_date_clear (date, 1);
  if (value == NULL)
    return TRUE;
  if (g_regex_match_simple ("^\\d{4}-\\d\\d-\\d\\d$", value, 0, 0))
    g_date_set_parse (date, value);
  return g_date_valid (date) || refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "%s, “%s”: a date is written like 2027-03-01", field, value);
}

static gboolean
check_dates (PawlEntry *entry, GError **error)
{
  GDate calibrated, due;
  GDateTime *at = pawl_entry_peek_at (entry);

  if (!check_date (entry, "calibrated", &calibrated, error) || !check_date (entry, "due", &due, error))
    return FALSE;
  if (pawl_entry_get_kind (entry) == PAWL_ENTRY_INSTRUMENT_CALIBRATED)
    g_date_set_dmy (&calibrated, (GDateDay) g_date_time_get_day_of_month (at), (GDateMonth) g_date_time_get_month (at), (GDateYear) g_date_time_get_year (at));
  if (g_date_valid (&calibrated) && g_date_valid (&due) && g_date_compare (&due, &calibrated) < 0)
    return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "due %s is before the calibration itself", pawl_entry_get (entry, "due"));
  return TRUE;
}

static gboolean
check_burst (PawlEntry *entry, GError **error)
{
  const char *terminator = get_stated (entry, "terminator"), *mark = pawl_entry_get (entry, "decimal-mark"), *unit = get_stated (entry, "unit");
  gunichar key;

  if (terminator != NULL && !pawl_burst_parse_terminator (terminator, &key))
    return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "terminator, “%s”: a gauge ends with enter, tab or none", terminator);
  if (mark != NULL && !g_str_equal (mark, ".") && !g_str_equal (mark, ","))
    return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "decimal mark, “%s”: a point or a comma", mark);
  if (unit != NULL && pawl_unit_lookup (unit) == NULL)
    return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "unit, “%s”: not known; a gauge types mm, in, N m, …", unit);
  return TRUE;
}

/* ---- entries ---- */

static gboolean
check_mark (const PawlRegister *self, PawlEntry *entry, const PawlGauge **known, GError **error)
{
  const char *mark = pawl_entry_get_subject (entry);
  glong length = g_utf8_strlen (mark, -1);

  *known = length > 0 ? pawl_register_lookup (self, mark) : NULL;
  if (length == 0 || length > MAX_MARK_LENGTH || strpbrk (mark, "\n\t") != NULL || g_ascii_isspace (*mark))
    return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "an instrument is known by the mark engraved on it, of up to %d letters and figures, like MIC-3", MAX_MARK_LENGTH);
  return TRUE;
}

/* @entry of no kind: new. A later statement names only what changes. */
static gboolean
check_stated (PawlEntry *entry, const PawlGauge *known, GError **error)
{
  gboolean is_new = pawl_entry_get (entry, "change") == NULL;

  if (is_new && known != NULL)
    return refuse (error, PAWL_REGISTER_ERROR_TAKEN, "%s is in the register already: %s%s%s; “change” states it anew", known->mark, known->kind,
                   *known->name != '\0' ? ", " : "", known->name);
  if (!is_new && known == NULL)
    return refuse (error, PAWL_REGISTER_ERROR_UNKNOWN, "%s is not in the register; “add” puts it there", pawl_entry_get_subject (entry));
  if ((is_new || pawl_entry_get (entry, "kind") != NULL) && get_stated (entry, "kind") == NULL)
    return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "what kind of instrument is %s? Say it as procedures do, like caliper", pawl_entry_get_subject (entry));
  return check_quantities (entry, known, error) && check_range (entry, error) && check_dates (entry, error) && check_burst (entry, error);
}

static gboolean
check_known (PawlEntry *entry, const PawlGauge *known, GError **error)
{
  if (known == NULL)
    return refuse (error, PAWL_REGISTER_ERROR_UNKNOWN, "%s is not in the register; “add” puts it there", pawl_entry_get_subject (entry));
  if (known->is_retired)
    return refuse (error, PAWL_REGISTER_ERROR_RETIRED, "%s is retired%s%s; “change” takes it into use again", known->mark, *known->reason != '\0' ? ": " : "", known->reason);
  return TRUE;
}

gboolean
pawl_register_check (const PawlRegister *self, PawlEntry *entry, GError **error)
{
  const PawlGauge *known = NULL;

  g_return_val_if_fail (pawl_entry_kind_is_of_instrument (pawl_entry_get_kind (entry)), FALSE);
  if (!check_mark (self, entry, &known, error))
    return FALSE;
  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_INSTRUMENT_STATED:
      return check_stated (entry, known, error);
    case PAWL_ENTRY_INSTRUMENT_CALIBRATED:
      return check_known (entry, known, error) && check_quantities (entry, known, error) && check_dates (entry, error);
    default:
      if (pawl_entry_get (entry, "reason") == NULL)
        return refuse (error, PAWL_REGISTER_ERROR_BAD_FIELD, "why is %s retired? Say it, as in “dropped, spindle bent”", pawl_entry_get_subject (entry));
      return check_known (entry, known, error);
    }
}

gboolean
pawl_register_append (PawlRecord *record, PawlEntry *entry, GError **error)
{
  g_autoptr(PawlRegister) self = pawl_register_load (record, error);
  const PawlGauge *known;
  g_autofree char *chain = NULL;

  if (self == NULL || !pawl_register_check (self, entry, error))
    return FALSE;
  if ((known = pawl_register_lookup (self, pawl_entry_get_subject (entry))) != NULL)
    return pawl_record_append_one (record, known->chain, entry, error);
  chain = pawl_record_open_instrument (record, entry, error);
  return chain != NULL;
}

/* ---- a reading ---- */

static void
copy_quantity (PawlEntry *answer, const char *field, const PawlQuantity *quantity)
{
  g_autofree char *text = quantity != NULL ? pawl_quantity_format_exact (quantity, '.') : NULL;

  pawl_entry_set (answer, field, text);
}

static void
copy_date (PawlEntry *answer, const char *field, const GDate *date)
{
  char text[32] = "";

  if (date != NULL)
    g_date_strftime (text, sizeof text, "%Y-%m-%d", date);
  pawl_entry_set (answer, field, text);
}

gboolean
pawl_register_describe_use (const PawlRegister *self, PawlEntry *answer, PawlOverdue overdue, GError **error)
{
  const char *mark = pawl_entry_get (answer, "tool-serial");
  const PawlGauge *gauge = mark != NULL ? pawl_register_lookup (self, mark) : NULL;
  PawlStanding standing;

  if (gauge == NULL)
    return TRUE;
  standing = pawl_gauge_get_standing (gauge, pawl_entry_peek_at (answer));
  if (standing == PAWL_STANDING_RETIRED)
    return refuse (error, PAWL_REGISTER_ERROR_RETIRED, "%s is retired%s%s; take another instrument", gauge->mark, *gauge->reason != '\0' ? ": " : "", gauge->reason);
  if (standing == PAWL_STANDING_OUT_OF_DATE && overdue == PAWL_OVERDUE_REFUSE)
    {
      g_autofree char *text = pawl_gauge_describe_standing (gauge, pawl_entry_peek_at (answer));

      return refuse (error, PAWL_REGISTER_ERROR_OUT_OF_DATE, "%s is %s; this job takes no reading by it: calibrate it, or take another", gauge->mark, text);
    }
  pawl_entry_set (answer, "tool-serial", gauge->mark);
  copy_quantity (answer, "error", gauge->instrument.max_error);
  copy_quantity (answer, "step", gauge->instrument.step);
  copy_quantity (answer, "reference", gauge->instrument.reference);
  copy_date (answer, "calibrated", gauge->calibrated);
  copy_date (answer, "due", gauge->due);
  pawl_entry_set (answer, "overdue", standing == PAWL_STANDING_OUT_OF_DATE ? "yes" : NULL);
  return TRUE;
}
