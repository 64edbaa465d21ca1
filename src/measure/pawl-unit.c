/* Units: finding one in typed text, and converting exactly. */
#include <string.h>

#include "measure/pawl-unit-private.h"

/* What may stand after a bare number and is no unit. */
static const char * const words_after_number[] = {
  "goes", "does", "doesn", "doesnt", "not", "no", "will", "won", "to", "max", "maximum", "minimum",
};

typedef struct {
  const char     *end;    /* NULL while nothing matches */
  const PawlUnit *unit;
  gboolean        is_own; /* matched by a name that is not shared */
} Match;

static const char *
skip_joint (const char *at)
{
  while (*at == ' ')
    at++;
  if (*at == '*' || *at == '-' || (*at == '.' && at[1] != '.'))
    at++;
  while (*at == ' ')
    at++;
  return at;
}

static const char *
skip_slash (const char *at)
{
  while (*at == ' ')
    at++;
  if (*at != '/')
    return NULL;
  at++;
  while (*at == ' ')
    at++;
  return at;
}

static gboolean
ends_here (const char *at, gboolean is_letter)
{
  return !is_letter || !(g_ascii_isalpha (*at) || (guchar) *at >= 0x80);
}

/* Where @name ends when it stands at @at, else NULL. */
static const char *
match_name (const char *at, const char *name, gsize length, gboolean any_case, gboolean may_be_plural)
{
  const char *start = at;
  gboolean is_letter;

  for (gsize i = 0; at != NULL && i < length; i++)
    if (name[i] == '.')
      at = skip_joint (at);
    else if (name[i] == '/')
      at = skip_slash (at);
    else
      {
        if (*at == '^' && g_ascii_isdigit (name[i]))
          at++;
        if (*at == '\0' || (any_case ? g_ascii_tolower (*at) != name[i] : *at != name[i]))
          return NULL;
        at++;
      }
  if (at == NULL || at == start)
    return NULL;
  is_letter = g_ascii_isalpha (at[-1]);
  if (may_be_plural && is_letter && (*at == 's' || *at == 'S') && ends_here (at + 1, TRUE))
    at++;
  return ends_here (at, is_letter) ? at : NULL;
}

static const char *
match_names (const char *at, const char *names, gboolean any_case, gboolean may_be_plural)
{
  const char *best = NULL;

  while (names != NULL && *names != '\0')
    {
      gsize length = strcspn (names, "|");
      const char *end = match_name (at, names, length, any_case, may_be_plural);

      if (end != NULL && (best == NULL || end > best))
        best = end;
      names += length + (names[length] == '|' ? 1 : 0);
    }
  return best;
}

/* The later of two places in one text, either of which may be missing. */
static const char *
find_later (const char *a, const char *b)
{
  if (a == NULL || b == NULL)
    return a != NULL ? a : b;
  return b > a ? b : a;
}

static Match
match_unit (const char *at, const PawlUnit *unit)
{
  const char *exact = match_names (at, unit->exact, FALSE, FALSE);
  const char *word = match_names (at, unit->words, TRUE, TRUE);
  const char *shared = match_names (at, unit->shared, TRUE, FALSE);
  const char *own = find_later (exact, word);

  return find_later (own, shared) == own ? (Match) { own, unit, own != NULL } : (Match) { shared, unit, FALSE };
}

/*
 * Of the units that match as far as @end: the expected one, else the one of the expected dimension, else the one that
 * owns the name. NULL when two could be meant.
 */
static const PawlUnit *
choose_unit (const char *at, const char *end, const PawlUnit *expected)
{
  const PawlUnit *owner = NULL;
  const PawlUnit *fitting = NULL;
  guint n_fitting = 0;

  for (gsize i = 0; i < pawl_n_units; i++)
    {
      Match match = match_unit (at, &pawl_units[i]);

      if (match.end != end)
        continue;
      if (match.unit == expected)
        return expected;
      if (match.is_own)
        owner = match.unit;
      if (expected != NULL && match.unit->dimension == expected->dimension)
        {
          fitting = match.unit;
          n_fitting++;
        }
    }
  return n_fitting > 0 ? (n_fitting == 1 ? fitting : NULL) : owner;
}

static const char *
find_end (const char *at)
{
  const char *end = NULL;

  for (gsize i = 0; i < pawl_n_units; i++)
    {
      Match match = match_unit (at, &pawl_units[i]);

      if (match.end != NULL && (end == NULL || match.end > end))
        end = match.end;
    }
  return end;
}

static gboolean
refuse_shared (PawlScan *self, const char *end, GError **error)
{
  g_autofree char *name = g_strndup (self->at, (gsize) (end - self->at));
  g_autoptr(GString) meanings = g_string_new (NULL);

  for (gsize i = 0; i < pawl_n_units; i++)
    if (match_unit (self->at, &pawl_units[i]).end == end)
      g_string_append_printf (meanings, "%s%s", meanings->len > 0 ? " or " : "", pawl_units[i].symbol);
  return pawl_scan_fault (self, error, PAWL_READING_ERROR_AMBIGUOUS, "“%s” could be %s; write the one that is meant", name, meanings->str);
}

static gboolean
is_word_after_number (PawlScan *self)
{
  PawlScan ahead = *self;

  for (gsize i = 0; i < G_N_ELEMENTS (words_after_number); i++)
    if (pawl_scan_word (&ahead, words_after_number[i]))
      return TRUE;
  return FALSE;
}

/* "12 in." has a point, "12 in..13 in" has two. */
static void
skip_abbreviation_point (PawlScan *self)
{
  if (*self->at == '.' && self->at[1] != '.' && g_ascii_isalpha (self->at[-1]))
    self->at++;
}

gboolean
pawl_scan_unit (PawlScan *self, const PawlUnit *expected, const PawlUnit **unit, GError **error)
{
  PawlScan ahead = *self;
  const char *end;

  *unit = NULL;
  pawl_scan_spaces (&ahead);
  end = g_ascii_isdigit (*ahead.at) ? NULL : find_end (ahead.at);
  if (end == NULL)
    {
      g_autofree char *rest = NULL;

      if (!(g_ascii_isalpha (*ahead.at) || (guchar) *ahead.at >= 0x80) || is_word_after_number (&ahead))
        return TRUE;
      rest = pawl_plain_dup_word (&ahead.plain, ahead.at);
      return pawl_scan_fault (&ahead, error, PAWL_READING_ERROR_UNKNOWN_UNIT, "“%s” is no unit known here; write for example %s",
                              rest, pawl_unit_get_example (expected));
    }
  *unit = choose_unit (ahead.at, end, expected);
  if (*unit == NULL)
    return refuse_shared (&ahead, end, error);
  self->at = end;
  skip_abbreviation_point (self);
  return TRUE;
}

/**
 * pawl_unit_lookup:
 * @symbol: (nullable): a unit as a person writes it: "mm", "thou", "lbf·ft", "ft-lb", "N m", "°C"
 *
 * Returns: (nullable): the unit; NULL when it is none, or could be two (“fl oz” is US or imperial)
 */
const PawlUnit *
pawl_unit_lookup (const char *symbol)
{
  g_auto(PawlScan) scan = { 0 };
  const PawlUnit *unit = NULL;

  if (symbol == NULL || !pawl_scan_init (&scan, symbol, '.', NULL))
    return NULL;
  pawl_scan_spaces (&scan);
  if (g_str_equal (scan.at, "1"))
    return &pawl_units[0];
  if (!pawl_scan_unit (&scan, NULL, &unit, NULL) || !pawl_scan_is_at_end (&scan))
    return NULL;
  return unit;
}

/**
 * pawl_unit_get_symbol:
 *
 * Returns: the symbol to print after a number, UTF-8, understood by pawl_unit_lookup()
 */
const char *
pawl_unit_get_symbol (const PawlUnit *unit)
{
  g_return_val_if_fail (unit != NULL, "");
  return unit->symbol;
}

/**
 * pawl_unit_get_dimension:
 *
 * Returns: what kind of thing the unit measures
 */
PawlDimension
pawl_unit_get_dimension (const PawlUnit *unit)
{
  g_return_val_if_fail (unit != NULL, PAWL_DIMENSION_NONE);
  return unit->dimension;
}

gboolean
pawl_unit_is_inch (const PawlUnit *unit)
{
  g_return_val_if_fail (unit != NULL, FALSE);
  return unit->system == PAWL_SYSTEM_INCH;
}

static const struct {
  const char *phrase; /* with its article */
  const char *example;
} dimensions[] = {
  [PAWL_DIMENSION_NONE] = { "a plain number", "12.5 %" },
  [PAWL_DIMENSION_COUNT] = { "a count", "31 teeth" },
  [PAWL_DIMENSION_LENGTH] = { "a length", "1 5/16 in, .025 in or 0.635 mm" },
  [PAWL_DIMENSION_ANGLE] = { "an angle", "12°30', 12.5 deg or 1 1/2 turns" },
  [PAWL_DIMENSION_TIME] = { "a time", "45 s or 1 h 30 min" },
  [PAWL_DIMENSION_MASS] = { "a mass", "31.6 g or 1 1/8 oz" },
  [PAWL_DIMENSION_FORCE] = { "a force", "4.5 N, 16 ozf or 1 lbf" },
  [PAWL_DIMENSION_TORQUE] = { "a torque", "48 N m or 35 lbf·ft" },
  [PAWL_DIMENSION_PRESSURE] = { "a pressure", "14.7 psi or 101 kPa" },
  [PAWL_DIMENSION_VOLUME] = { "a volume", "30 mL, 30 cc or 1 fl oz US" },
  [PAWL_DIMENSION_RESISTANCE] = { "a resistance", "2.5 kΩ or 0.8 ohm" },
  [PAWL_DIMENSION_CAPACITANCE] = { "a capacitance", "0.18 µF" },
  [PAWL_DIMENSION_TEMPERATURE] = { "a temperature", "20 °C or 68 °F" },
  [PAWL_DIMENSION_TEMPERATURE_DIFFERENCE] = { "a temperature difference", "15 Δ°C or 27 °F difference" },
  [PAWL_DIMENSION_STIFFNESS] = { "a stiffness", "1.2 N/mm or 6.8 lbf/in" },
  [PAWL_DIMENSION_ROTATION_RATE] = { "a rotation rate", "1200 rpm" },
  [PAWL_DIMENSION_SPEED] = { "a speed", "2 mm/min" },
  [PAWL_DIMENSION_FLOW] = { "a flow", "40 L/min or 10 gpm US" },
  [PAWL_DIMENSION_AREA] = { "an area", "58 mm² or 0.09 in²" },
  [PAWL_DIMENSION_POWER] = { "a power", "1.5 kW or 2 hp" },
  [PAWL_DIMENSION_VOLTAGE] = { "a voltage", "12.6 V" },
  [PAWL_DIMENSION_CURRENT] = { "a current", "1.5 A or 20 mA" },
  [PAWL_DIMENSION_EXPANSION] = { "an expansion per degree", "11.5 ppm/K" },
};

/**
 * pawl_dimension_get_name:
 *
 * Returns: the words for the dimension: "length", "temperature difference"
 */
const char *
pawl_dimension_get_name (PawlDimension dimension)
{
  g_return_val_if_fail ((guint) dimension < G_N_ELEMENTS (dimensions), "");
  return strchr (dimensions[dimension].phrase, ' ') + 1;
}

const char *
pawl_dimension_get_phrase (PawlDimension dimension)
{
  g_return_val_if_fail ((guint) dimension < G_N_ELEMENTS (dimensions), "");
  return dimensions[dimension].phrase;
}

const char *
pawl_unit_get_example (const PawlUnit *unit)
{
  return dimensions[unit != NULL ? unit->dimension : PAWL_DIMENSION_LENGTH].example;
}

/* ---- conversion ---- */

double
pawl_unit_get_scale (const PawlUnit *unit)
{
  double scale;
  mpq_t factor;

  g_return_val_if_fail (unit != NULL, 1);
  mpq_init (factor);
  pawl_unit_get_factor (unit, factor);
  scale = mpq_get_d (factor);
  mpq_clear (factor);
  return scale;
}

/* "0.45359237*9.80665/0.0254", worked out exactly. */
static void
set_product (mpq_t value, const char *product)
{
  mpq_t term;
  char joint = '*';

  mpq_init (term);
  mpq_set_ui (value, 1, 1);
  while (joint != '\0')
    {
      gsize length = strcspn (product, "*/");

      pawl_number_set_digits (term, product, length);
      if (joint == '*')
        mpq_mul (value, value, term);
      else
        mpq_div (value, value, term);
      joint = product[length];
      product += length + 1;
    }
  mpq_clear (term);
}

void
pawl_unit_get_factor (const PawlUnit *unit, mpq_t factor)
{
  set_product (factor, unit->factor);
}

/**
 * pawl_unit_to_base:
 * @value: a value in @unit
 * @base: (out): the same in the base unit of its dimension, exactly; may be @value
 */
void
pawl_unit_to_base (const PawlUnit *unit, const mpq_t value, mpq_t base)
{
  mpq_t number;

  g_return_if_fail (unit != NULL);
  mpq_init (number);
  if (unit->zero != NULL)
    {
      set_product (number, unit->zero);
      mpq_add (base, value, number);
    }
  else
    mpq_set (base, value);
  pawl_unit_get_factor (unit, number);
  mpq_mul (base, base, number);
  mpq_clear (number);
}

/**
 * pawl_unit_from_base:
 * @base: a value in the base unit of @unit's dimension
 * @value: (out): the same in @unit, exactly; may be @base
 */
void
pawl_unit_from_base (const PawlUnit *unit, const mpq_t base, mpq_t value)
{
  mpq_t number;

  g_return_if_fail (unit != NULL);
  mpq_init (number);
  pawl_unit_get_factor (unit, number);
  mpq_div (value, base, number);
  if (unit->zero != NULL)
    {
      set_product (number, unit->zero);
      mpq_sub (value, value, number);
    }
  mpq_clear (number);
}

const PawlUnit *
pawl_unit_get_difference (const PawlUnit *unit)
{
  if (unit->dimension != PAWL_DIMENSION_TEMPERATURE)
    return unit;
  for (gsize i = 0; i < pawl_n_units; i++)
    if (pawl_units[i].dimension == PAWL_DIMENSION_TEMPERATURE_DIFFERENCE && pawl_units[i].system == unit->system)
      return &pawl_units[i];
  g_assert_not_reached ();
}
