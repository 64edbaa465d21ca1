/* Units: finding one in typed text, and converting exactly. */
#include <string.h>

#include "measure/pawl-unit-private.h"

/* What may stand after a bare number and is no unit. */
static const char * const words_after_number[] = {
  "goes", "does", "doesn", "doesnt", "not", "no", "will", "won", "to", "and", "max", "maximum", "minimum", "drill", "tir", "iso",
};

typedef enum {
  NAME_EXACT,
  NAME_WORD,
  NAME_SHARED,
} NameKind;

/* One of the names of a unit, see pawl-unit-private.h. */
typedef struct {
  const PawlUnit *unit;
  const char     *text;
  gsize           length;
  NameKind        kind;
} Name;

/* What the table says, worked out once and never changed. */
typedef struct {
  GArray *names[128]; /* (nullable) (element-type Name) by their first sign, a letter as a small one; those of one unit in a row */
  struct {
    mpq_t factor, zero;
  } *factors;
} Index;

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
match_name (const char *at, const Name *name)
{
  const char *start = at;
  gboolean is_letter;

  for (gsize i = 0; at != NULL && i < name->length; i++)
    if (name->text[i] == '.')
      at = skip_joint (at);
    else if (name->text[i] == '/')
      at = skip_slash (at);
    else
      {
        if (*at == '^' && g_ascii_isdigit (name->text[i]))
          at++;
        if (*at == '\0' || (name->kind != NAME_EXACT ? g_ascii_tolower (*at) : *at) != name->text[i])
          return NULL;
        at++;
      }
  if (at == NULL || at == start)
    return NULL;
  is_letter = g_ascii_isalpha (at[-1]);
  if (name->kind == NAME_WORD && is_letter && (*at == 's' || *at == 'S') && ends_here (at + 1, TRUE))
    at++;
  return ends_here (at, is_letter) ? at : NULL;
}

static void
add_names (Index *index, const PawlUnit *unit, const char *names, NameKind kind)
{
  while (names != NULL && *names != '\0')
    {
      const Name name = { unit, names, strcspn (names, "|"), kind };
      GArray **list = &index->names[(guchar) g_ascii_tolower (*names)];

      if (*list == NULL)
        *list = g_array_new (FALSE, FALSE, sizeof (Name));
      g_array_append_val (*list, name);
      names += name.length + (names[name.length] == '|' ? 1 : 0);
    }
}

static void set_product (mpq_t value, const char *product);

static Index *
make_index (void)
{
  Index *index = g_new0 (Index, 1);

  index->factors = g_malloc_n (pawl_n_units, sizeof *index->factors);
  for (gsize i = 0; i < pawl_n_units; i++)
    {
      add_names (index, &pawl_units[i], pawl_units[i].exact, NAME_EXACT);
      add_names (index, &pawl_units[i], pawl_units[i].words, NAME_WORD);
      add_names (index, &pawl_units[i], pawl_units[i].shared, NAME_SHARED);
      mpq_inits (index->factors[i].factor, index->factors[i].zero, NULL);
      set_product (index->factors[i].factor, pawl_units[i].factor);
      if (pawl_units[i].zero != NULL)
        set_product (index->factors[i].zero, pawl_units[i].zero);
    }
  return index;
}

static const Index *
peek_index (void)
{
  static gsize made = 0;

  if (g_once_init_enter (&made))
    g_once_init_leave (&made, (gsize) make_index ());
  return (const Index *) made;
}

/* The names that may stand at @at. */
static const Name *
peek_names (const char *at, guint *n)
{
  const GArray *names = (guchar) *at < 128 ? peek_index ()->names[(guchar) g_ascii_tolower (*at)] : NULL;

  *n = names != NULL ? names->len : 0;
  return names != NULL ? (const Name *) names->data : NULL;
}

/*
 * Of the units that match as far as @end: the expected one, else the one of the expected dimension, else the one that
 * owns the name. NULL when two could be meant.
 */
static const PawlUnit *
choose_unit (const char *at, const char *end, const PawlUnit *expected)
{
  const PawlUnit *owner = NULL, *fitting = NULL;
  gboolean has_two = FALSE;
  guint n;
  const Name *names = peek_names (at, &n);

  for (guint i = 0; i < n; i++)
    {
      const PawlUnit *unit = names[i].unit;

      if (match_name (at, &names[i]) != end)
        continue;
      if (unit == expected)
        return expected;
      if (names[i].kind != NAME_SHARED)
        owner = unit;
      if (expected == NULL || unit->dimension != expected->dimension)
        continue;
      has_two |= fitting != NULL && fitting != unit;
      fitting = unit;
    }
  return fitting == NULL ? owner : has_two ? NULL : fitting;
}

/* Of the longest name that stands at @at; NULL when none does. */
static const char *
find_end (const char *at)
{
  const char *longest = NULL;
  guint n;
  const Name *names = peek_names (at, &n);

  for (guint i = 0; i < n; i++)
    {
      const char *end = match_name (at, &names[i]);

      if (end != NULL && (longest == NULL || end > longest))
        longest = end;
    }
  return longest;
}

static gboolean
refuse_shared (PawlScan *self, const char *end, GError **error)
{
  g_autofree char *name = g_strndup (self->at, (gsize) (end - self->at));
  g_autoptr(GString) meanings = g_string_new (NULL);
  const PawlUnit *last = NULL;
  guint n;
  const Name *names = peek_names (self->at, &n);

  for (guint i = 0; i < n; i++)
    {
      if (match_name (self->at, &names[i]) != end || names[i].unit == last)
        continue;
      last = names[i].unit;
      g_string_append_printf (meanings, "%s%s", meanings->len > 0 ? " or " : "", last->symbol);
    }
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

/* "0.45359237*9.80665/0.0254", worked out exactly. @value: initialised */
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
  mpq_set (factor, peek_index ()->factors[unit - pawl_units].factor);
}

double
pawl_unit_get_scale (const PawlUnit *unit)
{
  g_return_val_if_fail (unit != NULL, 1);
  return mpq_get_d (peek_index ()->factors[unit - pawl_units].factor);
}

/**
 * pawl_unit_to_base:
 * @value: a value in @unit
 * @base: (out): the same in the base unit of its dimension, exactly; may be @value
 */
void
pawl_unit_to_base (const PawlUnit *unit, const mpq_t value, mpq_t base)
{
  g_return_if_fail (unit != NULL);
  if (unit->zero != NULL)
    mpq_add (base, value, peek_index ()->factors[unit - pawl_units].zero);
  else
    mpq_set (base, value);
  mpq_mul (base, base, peek_index ()->factors[unit - pawl_units].factor);
}

/**
 * pawl_unit_from_base:
 * @base: a value in the base unit of @unit's dimension
 * @value: (out): the same in @unit, exactly; may be @base
 */
void
pawl_unit_from_base (const PawlUnit *unit, const mpq_t base, mpq_t value)
{
  g_return_if_fail (unit != NULL);
  mpq_div (value, base, peek_index ()->factors[unit - pawl_units].factor);
  if (unit->zero != NULL)
    mpq_sub (value, value, peek_index ()->factors[unit - pawl_units].zero);
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
