/* Quantities: what they hold, and reading one from typed text. */
#include <math.h>

#include "measure/pawl-quantity-private.h"

/* Takes ownership of @typed. */
PawlQuantity *
pawl_quantity_new_base (const mpq_t low, const mpq_t high, gboolean is_interval, const PawlUnit *unit, char *typed, char decimal_mark)
{
  PawlQuantity *self = g_new0 (PawlQuantity, 1);

  g_atomic_ref_count_init (&self->ref_count);
  mpq_inits (self->low, self->high, NULL);
  mpq_set (self->low, low);
  mpq_set (self->high, high);
  self->is_interval = is_interval;
  self->unit = unit;
  self->decimal_mark = decimal_mark == ',' ? ',' : '.';
  self->typed = typed != NULL ? typed : pawl_quantity_format_exact (self, self->decimal_mark);
  return self;
}

/**
 * pawl_quantity_new:
 * @value: in @unit
 *
 * A quantity that nobody typed; pawl_quantity_get_typed() is then its exact value, with a decimal point.
 *
 * Returns: (transfer full)
 */
PawlQuantity *
pawl_quantity_new (const mpq_t value, const PawlUnit *unit)
{
  return pawl_quantity_new_interval (value, value, unit);
}

/**
 * pawl_quantity_new_interval:
 * @low: in @unit
 * @high: in @unit, at least @low; equal ends make a plain value
 *
 * Returns: (transfer full)
 */
PawlQuantity *
pawl_quantity_new_interval (const mpq_t low, const mpq_t high, const PawlUnit *unit)
{
  PawlQuantity *self;
  mpq_t base_low, base_high;

  g_return_val_if_fail (unit != NULL, NULL);
  g_return_val_if_fail (mpq_cmp (low, high) <= 0, NULL);

  mpq_inits (base_low, base_high, NULL);
  pawl_unit_to_base (unit, low, base_low);
  pawl_unit_to_base (unit, high, base_high);
  self = pawl_quantity_new_base (base_low, base_high, !mpq_equal (low, high), unit, NULL, '.');
  mpq_clears (base_low, base_high, NULL);
  return self;
}

/**
 * pawl_quantity_ref:
 *
 * Returns: (transfer full): @self; may be called from any thread
 */
PawlQuantity *
pawl_quantity_ref (PawlQuantity *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

/**
 * pawl_quantity_unref:
 * @self: (transfer full)
 */
void
pawl_quantity_unref (PawlQuantity *self)
{
  g_return_if_fail (self != NULL);
  if (!g_atomic_ref_count_dec (&self->ref_count))
    return;
  mpq_clears (self->low, self->high, NULL);
  g_free (self->typed);
  g_free (self);
}

/**
 * pawl_quantity_get_typed:
 *
 * Returns: what was typed, to the letter
 */
const char *
pawl_quantity_get_typed (const PawlQuantity *self)
{
  return self->typed;
}

/**
 * pawl_quantity_get_unit:
 *
 * Returns: the unit it was typed in; of units in a row the smallest, for angles the largest
 */
const PawlUnit *
pawl_quantity_get_unit (const PawlQuantity *self)
{
  return self->unit;
}

/**
 * pawl_quantity_is_interval:
 *
 * Returns: whether it is a bracket, known only to lie between two ends
 */
gboolean
pawl_quantity_is_interval (const PawlQuantity *self)
{
  return self->is_interval;
}

/**
 * pawl_quantity_get_base:
 * @low: (out): lower end, in the dimension's base unit, exactly
 * @high: (out): upper end; equal to @low unless an interval
 */
void
pawl_quantity_get_base (const PawlQuantity *self, mpq_t low, mpq_t high)
{
  mpq_set (low, self->low);
  mpq_set (high, self->high);
}

/* Twice the middle, which needs no division. */
static void
get_sum (const PawlQuantity *self, mpq_t sum)
{
  mpq_add (sum, self->low, self->high);
}

/**
 * pawl_quantity_get_double:
 * @unit: of the same dimension
 *
 * For drawing and statistics only; verdicts are made on the exact value.
 *
 * Returns: the value, or the middle of the interval, in @unit, to the precision of a double; NAN when the dimension differs
 */
double
pawl_quantity_get_double (const PawlQuantity *self, const PawlUnit *unit)
{
  mpq_t middle;
  double number;

  g_return_val_if_fail (unit != NULL && unit->dimension == self->unit->dimension, NAN);
  mpq_init (middle);
  get_sum (self, middle);
  mpq_div_2exp (middle, middle, 1);
  pawl_unit_from_base (unit, middle, middle);
  number = mpq_get_d (middle);
  mpq_clear (middle);
  return number;
}

/**
 * pawl_quantity_compare:
 * @a: a quantity
 * @b: one of the same dimension
 *
 * Returns: -1, 0 or 1 as @a is less than, equal to or more than @b, by exact middles; 0 when the dimensions differ
 */
int
pawl_quantity_compare (const PawlQuantity *a, const PawlQuantity *b)
{
  mpq_t sum_a, sum_b;
  int order;

  g_return_val_if_fail (a->unit->dimension == b->unit->dimension, 0);
  mpq_inits (sum_a, sum_b, NULL);
  get_sum (a, sum_a);
  get_sum (b, sum_b);
  order = mpq_cmp (sum_a, sum_b);
  mpq_clears (sum_a, sum_b, NULL);
  return (order > 0) - (order < 0);
}

/* ---- reading ---- */

typedef enum {
  LINK_NONE,
  LINK_RANGE,      /* first and second are the ends */
  LINK_TO,         /* the same in words */
  LINK_GOES,       /* the first goes, the second does not */
  LINK_GOES_NOT,   /* the other way round */
} Link;

static gboolean
scan_not (PawlScan *scan)
{
  static const char * const words[] = {
    "does not go", "does not", "doesn't go", "doesn't", "doesnt", "no go", "no-go",
    "will not go", "will not", "won't go", "won't", "not",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (pawl_scan_word (scan, words[i]))
      return TRUE;
  return FALSE;
}

static void
scan_comma (PawlScan *scan)
{
  if (!pawl_scan_signs (scan, ","))
    pawl_scan_signs (scan, ";");
  if (!pawl_scan_word (scan, "but"))
    pawl_scan_word (scan, "and");
}

static gboolean
scan_link (PawlScan *scan, gboolean is_between, Link *link, GError **error)
{
  gboolean is_range;

  *link = LINK_NONE;
  if (is_between)
    {
      *link = LINK_TO;
      return pawl_scan_word (scan, "and") || pawl_scan_fault (scan, error, PAWL_READING_ERROR_NOT_A_NUMBER, "between two values, as in between .001 and .003 in");
    }
  if (!pawl_scan_range (scan, &is_range, error))
    return FALSE;
  if (is_range)
    *link = LINK_RANGE;
  else if (pawl_scan_word (scan, "to"))
    *link = LINK_TO;
  else if (pawl_scan_word (scan, "goes"))
    *link = LINK_GOES;
  else if (scan_not (scan))
    *link = LINK_GOES_NOT;
  if (*link == LINK_GOES || *link == LINK_GOES_NOT)
    scan_comma (scan);
  return TRUE;
}

static gboolean
scan_link_end (PawlScan *scan, Link link, GError **error)
{
  pawl_scan_spaces (scan);
  if ((link == LINK_GOES && !scan_not (scan)) || (link == LINK_GOES_NOT && !pawl_scan_word (scan, "goes")))
    return pawl_scan_fault (scan, error, PAWL_READING_ERROR_NOT_A_NUMBER, "say what goes and what does not, as in .010 goes, .012 does not");
  return TRUE;
}

/* One unit will do for both ends, wherever it is written. */
static gboolean
settle_ends (PawlScan *scan, PawlTerm *first, PawlTerm *second, const PawlTyping *typing, GError **error)
{
  if (first->unit == NULL)
    first->unit = second->unit;
  if (second->unit == NULL)
    second->unit = first->unit;
  if (!pawl_term_settle (first, scan, typing, error) || !pawl_term_settle (second, scan, typing, error))
    return FALSE;
  if (first->unit->dimension == second->unit->dimension)
    return TRUE;
  return pawl_plain_fault (&scan->plain, second->start, error, PAWL_READING_ERROR_WRONG_DIMENSION,
                           "%s after %s; both ends of a bracket are of one kind",
                           pawl_dimension_get_phrase (second->unit->dimension), pawl_dimension_get_phrase (first->unit->dimension));
}

static gboolean
is_reversed (const PawlTerm *first, const PawlTerm *second, Link link, mpq_t low, mpq_t high)
{
  pawl_unit_to_base (first->unit, first->value, low);
  pawl_unit_to_base (second->unit, second->value, high);
  if (link == LINK_GOES_NOT)
    mpq_swap (low, high);
  return mpq_cmp (low, high) >= 0;
}

static PawlQuantity *
make_interval (PawlScan *scan, PawlTerm *first, PawlTerm *second, Link link, const char *typed, GError **error)
{
  PawlQuantity *self = NULL;
  mpq_t low, high;

  mpq_inits (low, high, NULL);
  if (is_reversed (first, second, link, low, high))
    pawl_plain_fault (&scan->plain, second->start, error, PAWL_READING_ERROR_NOT_A_NUMBER, "%s",
                      link == LINK_RANGE || link == LINK_TO ? "the second end of a bracket is the larger one, as in 10..12 thou"
                                         : "what does not go is larger than what goes, as in .010 goes, .012 does not");
  else
    self = pawl_quantity_new_base (low, high, TRUE, first->unit, g_strdup (typed), scan->decimal_mark);
  mpq_clears (low, high, NULL);
  return self;
}

/* 3 to 4 of plain numbers; returns NULL */
static PawlQuantity *
refuse_ratio (PawlScan *scan, const PawlTerm *first, const PawlTerm *second, GError **error)
{
  g_autofree char *low = g_strndup (first->start, (gsize) (first->end - first->start));
  g_autofree char *high = g_strndup (second->start, (gsize) (second->end - second->start));

  pawl_plain_fault (&scan->plain, first->start, error, PAWL_READING_ERROR_AMBIGUOUS,
                    "this could be a ratio or a bracket; write %s:%s for the ratio, %s..%s for the bracket", low, high, low, high);
  return NULL;
}

static PawlQuantity *
parse_interval (PawlScan *scan, PawlTerm *first, gboolean is_between, Link link, const PawlTyping *typing, const char *typed, GError **error)
{
  g_auto(PawlTerm) second;
  const PawlUnit *expected = first->unit != NULL ? first->unit : typing != NULL ? typing->default_unit : NULL;

  pawl_term_init (&second);
  if (!pawl_scan_term (scan, expected, &second, error) || !scan_link_end (scan, link, error))
    return NULL;
  if (!pawl_scan_is_at_end (scan))
    return pawl_scan_refuse_rest (scan, error), NULL;
  if (!settle_ends (scan, first, &second, typing, error))
    return NULL;
  if (link == LINK_TO && !is_between && first->unit->dimension == PAWL_DIMENSION_NONE)
    return refuse_ratio (scan, first, &second, error);
  return make_interval (scan, first, &second, link, typed, error);
}

static PawlQuantity *
make_value (const PawlTerm *term, const PawlScan *scan, const char *typed)
{
  PawlQuantity *self;
  mpq_t base;

  mpq_init (base);
  pawl_unit_to_base (term->unit, term->value, base);
  self = pawl_quantity_new_base (base, base, FALSE, term->unit, g_strdup (typed), scan->decimal_mark);
  mpq_clear (base);
  return self;
}

/**
 * pawl_quantity_parse:
 * @text: as typed by a person or a gauge; anything at all may come, of any length
 * @typing: (nullable): how the typist types; NULL: a decimal point, and a bare number is asked back
 * @error: any of PAWL_READING_ERROR except _BAD_LIMITS
 *
 * Reads a number with its unit: 1 5/16 in, .025 in, 33,3 mm, 12°30', 1 1/2 turns, #56, 35 lbf·ft, 1 h 30 min; or a bracket:
 * .010 goes, .012 does not; 10..12 thou; between .001 and .003 in. The whole text counts. What can't be understood is an error that names its place and
 * shows what would do, never zero. Where two readings could be meant the error is _AMBIGUOUS, and the typist is to be asked.
 *
 * A unit that is typed stands, whatever the default is; whether it can be compared with the limits is for pawl_verdict_of().
 *
 * Returns: (transfer full) (nullable): the quantity, with @text kept to the letter
 */
PawlQuantity *
pawl_quantity_parse (const char *text, const PawlTyping *typing, GError **error)
{
  g_auto(PawlScan) scan = { 0 };
  g_auto(PawlTerm) first;
  gboolean is_between;
  Link link;

  pawl_term_init (&first);
  g_return_val_if_fail (text != NULL, NULL);
  if (!pawl_scan_init (&scan, text, typing != NULL ? typing->decimal_mark : '.', error))
    return NULL;
  if (pawl_scan_is_at_end (&scan))
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_EMPTY, "nothing is typed; write for example %s",
                   pawl_unit_get_example (typing != NULL ? typing->default_unit : NULL));
      return NULL;
    }
  is_between = pawl_scan_word (&scan, "between");
  if (!pawl_scan_term (&scan, typing != NULL ? typing->default_unit : NULL, &first, error) || !scan_link (&scan, is_between, &link, error))
    return NULL;
  if (link != LINK_NONE)
    return parse_interval (&scan, &first, is_between, link, typing, text, error);
  if (!pawl_scan_is_at_end (&scan))
    return pawl_scan_refuse_rest (&scan, error), NULL;
  return pawl_term_settle (&first, &scan, typing, error) ? make_value (&first, &scan, text) : NULL;
}
