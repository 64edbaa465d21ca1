/*
 * Selective fit: which part to which place. As many pairs within the limits as there can be, and of those ways the one with the least sum of
 * distances from the middle. Exact: the assignment problem by shortest augmenting paths (H. W. Kuhn, 1955; J. Munkres, 1957), on rationals.
 */
#include "sums/pawl-sum-private.h"

#define MOST_PARTS 30

/* Square, n by n, and one row and column more for the method's own use. */
typedef struct {
  guint  n;
  mpq_t *cost;    /* (array length=n*n) part by place */
  mpq_t *part_worth, *place_worth, *slack; /* (array length=n+1) */
  guint *part_of; /* (array length=n+1): which part a place has; 0: none. Counted from 1 */
} Matching;

static mpq_t *
new_numbers (guint n)
{
  mpq_t *numbers = g_new0 (mpq_t, n);

  for (guint i = 0; i < n; i++)
    mpq_init (numbers[i]);
  return numbers;
}

static void
free_numbers (mpq_t *numbers, guint n)
{
  for (guint i = 0; i < n; i++)
    mpq_clear (numbers[i]);
  g_free (numbers);
}

static void
matching_init (Matching *self, guint n)
{
  self->n = n;
  self->cost = new_numbers (n * n);
  self->part_worth = new_numbers (n + 1);
  self->place_worth = new_numbers (n + 1);
  self->slack = new_numbers (n + 1);
  self->part_of = g_new0 (guint, n + 1);
}

static void
matching_clear (Matching *self)
{
  free_numbers (self->cost, self->n * self->n);
  free_numbers (self->part_worth, self->n + 1);
  free_numbers (self->place_worth, self->n + 1);
  free_numbers (self->slack, self->n + 1);
  g_free (self->part_of);
}

/* What is left of the cost of @part at @place once both are paid their worth. */
static void
get_rest (const Matching *self, guint part, guint place, mpq_t rest)
{
  mpq_sub (rest, self->cost[(part - 1) * self->n + place - 1], self->part_worth[part]);
  mpq_sub (rest, rest, self->place_worth[place]);
}

/* The place not yet reached with the least slack, after those next to @place were looked at. */
static guint
find_next (Matching *self, guint place, gboolean *is_reached, gboolean *has_slack, guint *from)
{
  guint next = 0;
  mpq_t rest;

  mpq_init (rest);
  for (guint j = 1; j <= self->n; j++)
    {
      if (is_reached[j])
        continue;
      get_rest (self, self->part_of[place], j, rest);
      if (!has_slack[j] || mpq_cmp (rest, self->slack[j]) < 0)
        {
          mpq_set (self->slack[j], rest);
          has_slack[j] = TRUE;
          from[j] = place;
        }
      if (next == 0 || mpq_cmp (self->slack[j], self->slack[next]) < 0)
        next = j;
    }
  mpq_clear (rest);
  return next;
}

static void
pay (Matching *self, const gboolean *is_reached, const mpq_t amount)
{
  mpq_t copy;

  mpq_init (copy);
  mpq_set (copy, amount);
  for (guint j = 0; j <= self->n; j++)
    if (is_reached[j])
      {
        mpq_add (self->part_worth[self->part_of[j]], self->part_worth[self->part_of[j]], copy);
        mpq_sub (self->place_worth[j], self->place_worth[j], copy);
      }
    else
      mpq_sub (self->slack[j], self->slack[j], copy);
  mpq_clear (copy);
}

/* Finds a place for @part, moving others where that is cheaper. */
static void
place_part (Matching *self, guint part)
{
  g_autofree gboolean *is_reached = g_new0 (gboolean, self->n + 1), *has_slack = g_new0 (gboolean, self->n + 1);
  g_autofree guint *from = g_new0 (guint, self->n + 1);
  guint place = 0;

  self->part_of[0] = part;
  do
    {
      guint next;

      is_reached[place] = TRUE;
      next = find_next (self, place, is_reached, has_slack, from);
      pay (self, is_reached, self->slack[next]);
      place = next;
    }
  while (self->part_of[place] != 0);
  for (; place != 0; place = from[place])
    self->part_of[place] = self->part_of[from[place]];
}

/* ---- clearances ---- */

static void
get_base (const PawlQuantity *quantity, mpq_t value)
{
  mpq_t high;

  mpq_init (high);
  pawl_quantity_get_base (quantity, value, high);
  mpq_clear (high);
}

/* (transfer full) (nullable): the list @name with each piece as often as it is there, which is a number here. */
static GPtrArray *
spread_out (PawlSumRun *run, const char *name, GError **error)
{
  GPtrArray *items = pawl_sum_run_get_list (run, name);
  g_autoptr(GPtrArray) sizes = g_ptr_array_new ();

  for (guint i = 0; i < items->len; i++)
    {
      const PawlSumItem *item = items->pdata[i];

      if (item->count == 0)
        {
          g_set_error (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_INPUT, "%s: “x any” can't be shared out; write how many there are, as in x4", name);
          return NULL;
        }
      for (guint j = 0; j < item->count; j++)
        g_ptr_array_add (sizes, item->size);
    }
  return g_steal_pointer (&sizes);
}

static gboolean
find_clearance (PawlLimits *limits, const PawlQuantity *part, const PawlQuantity *place, mpq_t clearance, mpq_t miss)
{
  mpq_t low, high;
  gboolean is_inside;

  mpq_inits (low, high, NULL);
  get_base (place, clearance);
  get_base (part, low);
  mpq_sub (clearance, clearance, low);
  get_base (pawl_limits_peek_low (limits), low);
  get_base (pawl_limits_peek_high (limits), high);
  is_inside = mpq_cmp (clearance, low) >= 0 && mpq_cmp (clearance, high) <= 0;
  mpq_add (miss, low, high);
  mpq_div_2exp (miss, miss, 1);
  mpq_sub (miss, clearance, miss);
  mpq_abs (miss, miss);
  mpq_clears (low, high, NULL);
  return is_inside;
}

/* A pair out of limits costs more than all the distances that pairs inside could ever save. */
static void
set_costs (Matching *matching, PawlLimits *limits, GPtrArray *parts, GPtrArray *places)
{
  mpq_t clearance, fine;

  mpq_inits (clearance, fine, NULL);
  for (guint i = 0; i < matching->n * matching->n; i++)
    {
      find_clearance (limits, parts->pdata[i / matching->n], places->pdata[i % matching->n], clearance, matching->cost[i]);
      mpq_add (fine, fine, matching->cost[i]);
    }
  for (guint i = 0; i < matching->n * matching->n; i++)
    {
      mpq_t miss;

      mpq_init (miss);
      if (!find_clearance (limits, parts->pdata[i / matching->n], places->pdata[i % matching->n], clearance, miss))
        mpq_add (matching->cost[i], matching->cost[i], fine);
      mpq_clear (miss);
    }
  mpq_clears (clearance, fine, NULL);
}

static void
tell (PawlSumRun *run, const Matching *matching, PawlLimits *limits, GPtrArray *parts, GPtrArray *places)
{
  guint n_inside = 0;
  mpq_t clearance, miss;

  mpq_inits (clearance, miss, NULL);
  for (guint j = 1; j <= matching->n; j++)
    {
      PawlQuantity *part = parts->pdata[matching->part_of[j] - 1], *place = places->pdata[j - 1];
      g_autofree char *title = pawl_quantity_format (place, run->typing.decimal_mark), *size = pawl_quantity_format (part, run->typing.decimal_mark);
      g_autofree char *numbered = g_strdup_printf ("Place %u, %s", j, title);
      g_autoptr(PawlQuantity) quantity = NULL;
      g_autofree char *text = NULL;
      gboolean is_inside = find_clearance (limits, part, place, clearance, miss);
      mpq_t value;

      mpq_init (value);
      pawl_unit_from_base (pawl_quantity_get_unit (place), clearance, value);
      quantity = pawl_quantity_new (value, pawl_quantity_get_unit (place));
      mpq_clear (value);
      text = pawl_quantity_format (quantity, run->typing.decimal_mark);
      n_inside += is_inside;
      pawl_sum_run_answer (run, numbered, g_steal_pointer (&quantity), FALSE,
                           g_strdup_printf ("part %u, %s: clearance %s, %s", matching->part_of[j], size, text, is_inside ? "in" : "out"));
    }
  pawl_sum_run_work (run, "%u of %u pairs are within %s; no other way gives more, and none with as many lies nearer to the middle in all.", n_inside,
                     matching->n, pawl_limits_get_text (limits));
  mpq_clears (clearance, miss, NULL);
}

gboolean
pawl_sum_solve_select (PawlSumRun *run, GError **error)
{
  g_autoptr(GPtrArray) parts = spread_out (run, "parts", error), places = parts != NULL ? spread_out (run, "places", error) : NULL;
  PawlLimits *limits = pawl_sum_run_get_limits (run, "limits");
  Matching matching;

  if (places == NULL)
    return FALSE;
  if (parts->len != places->len || parts->len > MOST_PARTS)
    {
      g_set_error (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_INPUT, "parts: %u parts and %u places; there should be as many of one as of the other, at most %d",
                   parts->len, places->len, MOST_PARTS);
      return FALSE;
    }
  matching_init (&matching, parts->len);
  set_costs (&matching, limits, parts, places);
  for (guint part = 1; part <= matching.n; part++)
    place_part (&matching, part);
  tell (run, &matching, limits, parts, places);
  matching_clear (&matching);
  return TRUE;
}
