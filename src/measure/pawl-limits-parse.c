/*
 * Limits in the styles that books print.
 *
 *   limits   = ["new"] spec [other] [(";" | ",") "wear" ("max" | "min" | "limit") term [other]]
 *   other    = "(" the same in other units ")"
 *   spec     = term (".." | "to") term | term "±" term | term deviation ["/"] deviation | ("max" | "min") term | term ("max" | "min")
 *            | class-spec, see pawl-limits-class.c
 *   term     = number [unit]
 *   deviation = ("+" | "-") term | "0"
 *
 * A unit may be written once: a term without one takes that of its neighbour, and failing all, the default unit.
 */
#include <string.h>

#include "measure/pawl-limits-class-private.h"
#include "measure/pawl-limits-private.h"

/* Every term of one text, in the order read. */
enum { FIRST, SECOND, THIRD, WEAR, N_TERMS };

typedef enum {
  WEAR_NONE,
  WEAR_MAX,
  WEAR_MIN,
  WEAR_EITHER, /* "wear limit": which side follows from its value */
} WearSide;

typedef struct {
  PawlScan          scan;
  const PawlTyping *typing;
  PawlLimitsKind    kind;
  PawlTerm          terms[N_TERMS];
  guint             n_terms; /* of the three before the wear limit */
  gboolean          is_class;
  WearSide          wear;
  char             *other;      /* (nullable): the same in other units, as it stands in brackets */
  char             *other_wear; /* (nullable) */
  const char       *other_start;
} Parse;

static gboolean
fault (Parse *self, guint term, GError **error, PawlReadingError code, const char *message)
{
  return pawl_plain_fault (&self->scan.plain, self->terms[term].start, error, code, "%s", message);
}

static gboolean
scan_term (Parse *self, guint index, GError **error)
{
  const PawlUnit *expected = self->typing != NULL ? self->typing->default_unit : NULL;

  for (guint i = 0; i < index; i++)
    if (self->terms[i].unit != NULL)
      expected = self->terms[i].unit;
  return pawl_scan_term (&self->scan, expected, &self->terms[index], error);
}

/* ---- the four styles ---- */

/* The term may stand before its word or after it. */
static gboolean
set_one_sided (Parse *self, PawlLimitsKind kind)
{
  self->kind = kind;
  self->n_terms = 1;
  return TRUE;
}

static gboolean
set_class (Parse *self)
{
  self->kind = PAWL_LIMITS_NOMINAL;
  self->n_terms = 3;
  return TRUE;
}

static gboolean
scan_range (Parse *self, GError **error)
{
  self->kind = PAWL_LIMITS_RANGE;
  self->n_terms = 2;
  return scan_term (self, SECOND, error);
}

static gboolean
scan_plus_minus (Parse *self, GError **error)
{
  self->kind = PAWL_LIMITS_NOMINAL;
  self->n_terms = 2;
  if (!scan_term (self, SECOND, error))
    return FALSE;
  if (mpq_sgn (self->terms[SECOND].value) < 0)
    return fault (self, SECOND, error, PAWL_READING_ERROR_BAD_LIMITS, "a tolerance after ± is not negative; write for example 10 mm ± 0.1");
  return TRUE;
}

/* A deviation has its sign, but for a plain 0. */
static gboolean
scan_deviation (Parse *self, guint index, GError **error)
{
  gboolean is_signed = *self->scan.at == '+' || *self->scan.at == '-';

  if (!scan_term (self, index, error))
    return FALSE;
  if (!is_signed && mpq_sgn (self->terms[index].value) != 0)
    return fault (self, index, error, PAWL_READING_ERROR_BAD_LIMITS, "a deviation has a sign; write for example 10 +0.1/-0.2 mm");
  return TRUE;
}

static gboolean
scan_deviations (Parse *self, GError **error)
{
  self->kind = PAWL_LIMITS_NOMINAL;
  self->n_terms = 3;
  if (!scan_deviation (self, SECOND, error))
    return FALSE;
  if (!pawl_scan_signs (&self->scan, "/"))
    pawl_scan_signs (&self->scan, ",");
  pawl_scan_spaces (&self->scan);
  if (*self->scan.at != '+' && *self->scan.at != '-' && *self->scan.at != '0')
    return pawl_scan_fault (&self->scan, error, PAWL_READING_ERROR_BAD_LIMITS, "the other deviation is missing; write for example 10 +0.1/-0.2 mm");
  return scan_deviation (self, THIRD, error);
}

static gboolean
refuse_style (Parse *self, GError **error)
{
  if (*self->scan.at == '(')
    return pawl_scan_fault (&self->scan, error, PAWL_READING_ERROR_BAD_LIMITS,
                            "the other system stands in brackets after the whole, as in 25.4 ± 0.1 mm (1.000 ± .004 in)");
  if (*self->scan.at != '\0' && *self->scan.at != ';')
    return pawl_scan_refuse_rest (&self->scan, error);
  return pawl_scan_fault (&self->scan, error, PAWL_READING_ERROR_BAD_LIMITS,
                          "one number sets no limits; write for example 25..31 thou, 1 5/16 in ± 1/64, 10 +0.1/-0.2 mm, max 0.05 mm or min 12 mm");
}

/* "max", "max.", "maximum"; the point of "max .005" belongs to the number. */
static gboolean
scan_bound (Parse *self, const char *brief, const char *full)
{
  if (pawl_scan_word (&self->scan, full))
    return TRUE;
  if (!pawl_scan_word (&self->scan, brief))
    return FALSE;
  if (*self->scan.at == '.' && (self->scan.at[1] == ' ' || self->scan.at[1] == '\0' || self->scan.at[1] == ';'))
    self->scan.at++;
  return TRUE;
}

static gboolean
scan_spec (Parse *self, GError **error)
{
  gboolean is_range;

  if (scan_bound (self, "max", "maximum"))
    return set_one_sided (self, PAWL_LIMITS_MAX) && scan_term (self, FIRST, error);
  if (scan_bound (self, "min", "minimum"))
    return set_one_sided (self, PAWL_LIMITS_MIN) && scan_term (self, FIRST, error);
  if (!pawl_scan_size_class (&self->scan, self->typing, &self->terms[FIRST], &self->terms[SECOND], &self->terms[THIRD], &self->is_class, error))
    return FALSE;
  if (self->is_class)
    return set_class (self);
  if (!scan_term (self, FIRST, error) || !pawl_scan_range (&self->scan, &is_range, error))
    return FALSE;
  if (is_range || pawl_scan_word (&self->scan, "to"))
    return scan_range (self, error);
  if (pawl_scan_signs (&self->scan, "+/-") || pawl_scan_signs (&self->scan, "+-"))
    return scan_plus_minus (self, error);
  if (scan_bound (self, "max", "maximum"))
    return set_one_sided (self, PAWL_LIMITS_MAX);
  if (scan_bound (self, "min", "minimum"))
    return set_one_sided (self, PAWL_LIMITS_MIN);
  pawl_scan_spaces (&self->scan);
  if (*self->scan.at == '+' || (*self->scan.at == '-' && self->scan.at[-1] == ' ' && self->scan.at[1] != ' '))
    return scan_deviations (self, error);
  return refuse_style (self, error);
}

/* Brackets, where they stand next; what is in them is read once the rest is known. */
static gboolean
scan_other (Parse *self, char **other, GError **error)
{
  const char *end;

  pawl_scan_spaces (&self->scan);
  if (*self->scan.at != '(')
    return TRUE;
  if (self->other_start == NULL)
    self->other_start = self->scan.at;
  end = strchr (self->scan.at, ')');
  if (end == NULL)
    return pawl_scan_fault (&self->scan, error, PAWL_READING_ERROR_BAD_LIMITS, "a bracket is opened and not closed, as in 25.4..25.6 mm (1.000..1.008 in)");
  *other = g_strndup (self->scan.at + 1, (gsize) (end - self->scan.at - 1));
  self->scan.at = end + 1;
  return TRUE;
}

static gboolean
scan_wear (Parse *self, GError **error)
{
  if (!pawl_scan_signs (&self->scan, ";"))
    pawl_scan_signs (&self->scan, ",");
  pawl_scan_spaces (&self->scan);
  if (!pawl_scan_word (&self->scan, "wear"))
    return pawl_scan_is_at_end (&self->scan) || pawl_scan_refuse_rest (&self->scan, error);
  if (scan_bound (self, "max", "maximum"))
    self->wear = WEAR_MAX;
  else if (scan_bound (self, "min", "minimum"))
    self->wear = WEAR_MIN;
  else if (pawl_scan_word (&self->scan, "limit"))
    self->wear = WEAR_EITHER;
  else
    return pawl_scan_fault (&self->scan, error, PAWL_READING_ERROR_BAD_LIMITS,
                            "after wear comes max or min; write for example 25..31 thou; wear max 35 thou");
  return scan_term (self, WEAR, error) && scan_other (self, &self->other_wear, error) && (pawl_scan_is_at_end (&self->scan) || pawl_scan_refuse_rest (&self->scan, error));
}

static gboolean
scan_limits (Parse *self, GError **error)
{
  if (pawl_scan_is_at_end (&self->scan))
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_EMPTY, "no limits are given; write for example 25..31 thou or 1 5/16 in ± 1/64");
      return FALSE;
    }
  pawl_scan_word (&self->scan, "new");
  return scan_spec (self, error) && scan_other (self, &self->other, error) && scan_wear (self, error);
}

/* ---- units ---- */

/* A term without a unit takes that of the nearest one before it, else after it, else the default. */
static gboolean
settle_units (Parse *self, GError **error)
{
  const PawlUnit *carried = NULL;

  for (guint i = 0; i < self->n_terms; i++)
    {
      if (self->terms[i].unit == NULL)
        self->terms[i].unit = carried;
      carried = self->terms[i].unit;
    }
  for (guint i = self->n_terms; i-- > 0;)
    {
      if (self->terms[i].unit == NULL)
        self->terms[i].unit = carried;
      carried = self->terms[i].unit;
    }
  if (self->wear != WEAR_NONE && self->terms[WEAR].unit == NULL)
    self->terms[WEAR].unit = carried;
  else if (self->wear != WEAR_NONE && carried == NULL)
    for (guint i = 0; i < self->n_terms; i++)
      self->terms[i].unit = self->terms[WEAR].unit;
  for (guint i = 0; i < N_TERMS; i++)
    if ((i < self->n_terms || (i == WEAR && self->wear != WEAR_NONE))
        && !pawl_term_settle (&self->terms[i], &self->scan, self->typing, error))
      return FALSE;
  return TRUE;
}

/* 20 °C ± 2 °C: what stands after the nominal is a difference. */
static void
make_difference (Parse *self, guint index)
{
  self->terms[index].unit = pawl_unit_get_difference (self->terms[index].unit);
}

static gboolean
check_dimensions (Parse *self, GError **error)
{
  PawlDimension dimension = self->terms[FIRST].unit->dimension;

  for (guint i = SECOND; i < N_TERMS; i++)
    {
      const PawlUnit *unit = self->terms[i].unit;

      if ((i != WEAR && i >= self->n_terms) || (i == WEAR && self->wear == WEAR_NONE) || unit->dimension == dimension
          || (i != WEAR && self->kind == PAWL_LIMITS_NOMINAL && pawl_unit_get_difference (self->terms[FIRST].unit)->dimension == unit->dimension))
        continue;
      return pawl_plain_fault (&self->scan.plain, self->terms[i].start, error, PAWL_READING_ERROR_WRONG_DIMENSION,
                               "%s is %s, but the limits start with %s; one kind of unit throughout, as in 1 5/16 in ± 1/64 in",
                               unit->symbol, pawl_dimension_get_phrase (unit->dimension), pawl_dimension_get_phrase (dimension));
    }
  return TRUE;
}

static gboolean
mixes_systems (const Parse *self)
{
  gboolean has_inch = FALSE;
  gboolean has_metric = FALSE;

  for (guint i = 0; i < N_TERMS; i++)
    if (self->terms[i].unit != NULL)
      {
        has_inch |= self->terms[i].unit->system == PAWL_SYSTEM_INCH;
        has_metric |= self->terms[i].unit->system == PAWL_SYSTEM_METRIC;
      }
  return has_inch && has_metric;
}

/* ---- values ---- */

static PawlQuantity *
make_quantity (Parse *self, const mpq_t base, const PawlUnit *unit)
{
  return pawl_quantity_new_base (base, base, FALSE, unit, NULL, self->scan.decimal_mark);
}

static PawlQuantity *
make_from_term (Parse *self, guint index)
{
  PawlQuantity *quantity;
  mpq_t base;

  mpq_init (base);
  pawl_unit_to_base (self->terms[index].unit, self->terms[index].value, base);
  quantity = make_quantity (self, base, self->terms[index].unit);
  mpq_clear (base);
  return quantity;
}

static PawlQuantity *
make_offset (Parse *self, const mpq_t nominal, const mpq_t deviation)
{
  PawlQuantity *quantity;
  mpq_t base;

  mpq_init (base);
  mpq_add (base, nominal, deviation);
  quantity = make_quantity (self, base, self->terms[FIRST].unit);
  mpq_clear (base);
  return quantity;
}

/* N ± T, or N with two deviations, in whichever order they are printed. */
static void
set_nominal (Parse *self, PawlLimits *limits)
{
  mpq_t nominal, upper, lower;

  mpq_inits (nominal, upper, lower, NULL);
  make_difference (self, SECOND);
  pawl_unit_to_base (self->terms[FIRST].unit, self->terms[FIRST].value, nominal);
  pawl_unit_to_base (self->terms[SECOND].unit, self->terms[SECOND].value, upper);
  if (self->n_terms == 3)
    {
      make_difference (self, THIRD);
      pawl_unit_to_base (self->terms[THIRD].unit, self->terms[THIRD].value, lower);
    }
  else
    mpq_neg (lower, upper);
  if (mpq_cmp (lower, upper) > 0)
    mpq_swap (lower, upper);
  limits->nominal = make_from_term (self, FIRST);
  limits->high = make_offset (self, nominal, upper);
  limits->low = make_offset (self, nominal, lower);
  mpq_clears (nominal, upper, lower, NULL);
}

static gboolean
set_wear (Parse *self, PawlLimits *limits, GError **error)
{
  g_autoptr(PawlQuantity) wear = NULL;
  gboolean is_above, is_below;

  if (self->wear == WEAR_NONE)
    return TRUE;
  wear = make_from_term (self, WEAR);
  is_above = limits->high != NULL && pawl_quantity_compare (wear, limits->high) >= 0;
  is_below = limits->low != NULL && pawl_quantity_compare (wear, limits->low) <= 0;
  if (self->wear != WEAR_MIN && is_above)
    limits->wear_high = g_steal_pointer (&wear);
  else if (self->wear != WEAR_MAX && is_below)
    limits->wear_low = g_steal_pointer (&wear);
  else
    return fault (self, WEAR, error, PAWL_READING_ERROR_BAD_LIMITS,
                  "a wear limit lies outside the limits of a new part, on its own side, as in 25..31 thou; wear max 35 thou");
  return TRUE;
}

static gboolean
set_values (Parse *self, PawlLimits *limits, GError **error)
{
  switch (self->kind)
    {
    case PAWL_LIMITS_NOMINAL:
      set_nominal (self, limits);
      break;
    case PAWL_LIMITS_MAX:
      limits->high = make_from_term (self, FIRST);
      break;
    case PAWL_LIMITS_MIN:
      limits->low = make_from_term (self, FIRST);
      break;
    case PAWL_LIMITS_RANGE:
      limits->low = make_from_term (self, FIRST);
      limits->high = make_from_term (self, SECOND);
      if (pawl_quantity_compare (limits->low, limits->high) > 0)
        return fault (self, SECOND, error, PAWL_READING_ERROR_BAD_LIMITS, "the limits are reversed; the lower one comes first, as in 25..31 thou");
      break;
    case PAWL_LIMITS_CHOICE:
    default:
      g_assert_not_reached ();
    }
  return set_wear (self, limits, error);
}

/* What stands in brackets, with the words that need not be said there again. */
static char *
complete_other (const Parse *self)
{
  static const char * const sides[] = { [WEAR_MAX] = "max", [WEAR_MIN] = "min", [WEAR_EITHER] = "limit" };
  gboolean is_bare = self->kind == PAWL_LIMITS_MAX || self->kind == PAWL_LIMITS_MIN;
  GString *text = g_string_new (NULL);

  is_bare = is_bare && g_ascii_strncasecmp (g_strchug (self->other), "m", 1) != 0;
  g_string_append_printf (text, "%s%s", !is_bare ? "" : self->kind == PAWL_LIMITS_MAX ? "max " : "min ", self->other);
  if (self->other_wear != NULL)
    g_string_append_printf (text, "; wear %s %s", sides[self->wear], self->other_wear);
  return g_string_free (text, FALSE);
}

static gboolean
check_other (Parse *self, PawlLimits *limits, GError **error)
{
  const PawlTyping typing = { .decimal_mark = self->scan.decimal_mark };
  g_autofree char *text = NULL;
  g_autoptr(PawlLimits) other = NULL;
  g_autoptr(GError) problem = NULL;

  if (self->other_start == NULL)
    return TRUE;
  if (self->other == NULL)
    return pawl_plain_fault (&self->scan.plain, self->other_start, error, PAWL_READING_ERROR_BAD_LIMITS,
                             "in brackets only the wear limit; write the limits of a new part in both units, too");
  text = complete_other (self);
  other = pawl_limits_parse (text, &typing, &problem);
  if (other == NULL)
    return pawl_plain_fault (&self->scan.plain, self->other_start, error, problem->code, "in the brackets, “%s”: %s", text, problem->message);
  if (!pawl_limits_agree (limits, other))
    return pawl_plain_fault (&self->scan.plain, self->other_start, error, PAWL_READING_ERROR_BAD_LIMITS,
                             "the brackets say something else than what stands before them, by more than rounding; which of the two is right?");
  limits->mixes_systems |= limits->unit->system != other->unit->system;
  return TRUE;
}

static PawlLimits *
finish (Parse *self, const char *text, GError **error)
{
  g_autoptr(PawlLimits) limits = pawl_limits_new_empty (self->kind, g_strstrip (g_strdup (text)));

  limits->unit = self->terms[self->kind == PAWL_LIMITS_RANGE ? SECOND : FIRST].unit;
  limits->mixes_systems = mixes_systems (self);
  limits->decimal_mark = self->scan.decimal_mark;
  limits->is_class = self->is_class;
  return set_values (self, limits, error) && check_other (self, limits, error) ? g_steal_pointer (&limits) : NULL;
}

/**
 * pawl_limits_parse:
 * @text: limits as a book prints them, see the head of this file; anything may come
 * @typing: (nullable): decimal mark, and the unit of numbers where no unit is written
 * @error: any of PAWL_READING_ERROR; _BAD_LIMITS when the numbers make no limits, reversed ones among them
 *
 * Limits are inclusive on both sides and exact: "1 5/16 in ± 1/64" is from 83/64 in to 85/64 in.
 *
 * Returns: (transfer full) (nullable)
 */
PawlLimits *
pawl_limits_parse (const char *text, const PawlTyping *typing, GError **error)
{
  Parse self = { .typing = typing };
  PawlLimits *limits = NULL;

  g_return_val_if_fail (text != NULL, NULL);
  for (guint i = 0; i < N_TERMS; i++)
    pawl_term_init (&self.terms[i]);
  if (pawl_scan_init (&self.scan, text, typing != NULL ? typing->decimal_mark : '.', error)
      && scan_limits (&self, error) && settle_units (&self, error) && check_dimensions (&self, error))
    limits = finish (&self, text, error);
  for (guint i = 0; i < N_TERMS; i++)
    pawl_term_clear (&self.terms[i]);
  pawl_scan_clear (&self.scan);
  g_free (self.other);
  g_free (self.other_wear);
  return limits;
}
