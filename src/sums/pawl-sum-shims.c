/* Shims for an end play, blades for a gap, and the shim of a valve: which sizes to take. */
#include "sums/pawl-sum-stack.h"

#define NOT_WITHIN "Nothing lands within the limits. The nearest is"

static void
get_base (const PawlQuantity *quantity, mpq_t value)
{
  mpq_t high;

  mpq_init (high);
  pawl_quantity_get_base (quantity, value, high);
  mpq_clear (high);
}

static gboolean
refuse (GError **error, PawlSumError code, const char *message)
{
  g_set_error_literal (error, PAWL_SUM_ERROR, (int) code, message);
  return FALSE;
}

/* "0.25 mm + 2 × 0.10 mm"; "none" */
static char *
describe_stack (PawlSumRun *run, GPtrArray *items, const guint *counts)
{
  GString *text = g_string_new (NULL);

  for (guint i = items->len; i-- > 0;)
    if (counts[i] > 0)
      {
        g_autofree char *size = pawl_quantity_format (((PawlSumItem *) items->pdata[i])->size, run->typing.decimal_mark);

        if (text->len > 0)
          g_string_append (text, " + ");
        if (counts[i] > 1)
          g_string_append_printf (text, "%u × ", counts[i]);
        g_string_append (text, size);
      }
  return g_string_free (text->len > 0 ? text : g_string_append (text, "none"), FALSE);
}

static int
compare_sizes (gconstpointer a, gconstpointer b)
{
  const PawlSumItem * const *one = a, * const *other = b;

  return pawl_quantity_compare ((*one)->size, (*other)->size);
}

/* Answers with the stack for @low to @high, of which @like is measured. @none: said when no stack is that high. @height: (out): of the stack */
static gboolean
answer_stack (PawlSumRun *run, const mpq_t low, const mpq_t high, const char *like, const char *none, mpq_t height, GError **error)
{
  GPtrArray *items = pawl_sum_run_get_list (run, "sizes");
  g_autofree guint *counts = g_new0 (guint, items->len + 1);
  PawlStackOutcome outcome;

  g_ptr_array_sort (items, compare_sizes);
  outcome = pawl_stack_find (items, low, high, counts, height);
  if (outcome == PAWL_STACK_TOO_FINE)
    return refuse (error, PAWL_SUM_ERROR_NO_ANSWER, "sizes: they have no common measure that a bench could tell, or the stack is over 50000 of it");
  pawl_sum_run_answer (run, outcome == PAWL_STACK_FOUND ? "Take" : none, NULL, FALSE,
                       describe_stack (run, items, counts));
  pawl_sum_run_answer (run, "Height of the stack", pawl_sum_run_make (run, height, like), FALSE, NULL);
  return TRUE;
}

static void
tell_stack (PawlSumRun *run, const mpq_t low, const mpq_t high, const char *like)
{
  g_autoptr(PawlQuantity) least = pawl_sum_run_make (run, low, like), most = pawl_sum_run_make (run, high, like);
  g_autofree char *from = pawl_sum_run_format (run, least), *to = pawl_sum_run_format (run, most);

  pawl_sum_run_answer (run, "The stack may be", NULL, FALSE, g_strdup_printf ("%s to %s", from, to));
}

/* What takes the middle of the limits, and how far to either side a stack may go. */
static void
tell_range (PawlSumRun *run, const mpq_t low, const mpq_t high)
{
  g_autofree char *gap = pawl_quantity_format (pawl_sum_run_get (run, "gap"), run->typing.decimal_mark);
  g_autofree char *fitted = pawl_quantity_format (pawl_sum_run_get (run, "fitted"), run->typing.decimal_mark);
  mpq_t middle;

  mpq_init (middle);
  mpq_add (middle, low, high);
  mpq_div_2exp (middle, middle, 1);
  pawl_sum_run_work (run, "Stack = play measured + shims that are in - play wanted");
  pawl_sum_run_work (run, "  = %s + %s - (%s)", gap, fitted, pawl_limits_get_text (pawl_sum_run_get_limits (run, "limits")));
  tell_stack (run, low, high, "gap");
  pawl_sum_run_answer (run, "Best would be", pawl_sum_run_make (run, middle, "gap"), FALSE, NULL);
  mpq_clear (middle);
}

/*
 * Measured without shims, the play is the gap g. With a stack t it is g - t, which shall lie in the limits: g - high <= t <= g - low.
 * A gap under the least play can't be mended by adding: the measurement is void, or the bearings were not seated.
 */
gboolean
pawl_sum_solve_shims (PawlSumRun *run, GError **error)
{
  PawlLimits *limits = pawl_sum_run_get_limits (run, "limits");
  gboolean is_solved = FALSE;
  mpq_t gap, low, high, height;

  mpq_inits (gap, low, high, height, NULL);
  get_base (pawl_sum_run_get (run, "gap"), gap);
  get_base (pawl_sum_run_get (run, "fitted"), low);
  mpq_add (gap, gap, low);
  get_base (pawl_limits_peek_high (limits), low);
  get_base (pawl_limits_peek_low (limits), high);
  mpq_sub (low, gap, low);
  mpq_sub (high, gap, high);
  if (mpq_sgn (high) < 0)
    refuse (error, PAWL_SUM_ERROR_NO_ANSWER, "gap: it is less than the least play wanted, and shims only take play away. The measurement is void: see that "
            "all shims are out and the bearings seated, and measure again");
  else
    {
      tell_range (run, low, high);
      if (mpq_sgn (low) < 0)
        mpq_set_ui (low, 0, 1);
      is_solved = pawl_sum_run_get_list (run, "sizes") == NULL || answer_stack (run, low, high, "gap", NOT_WITHIN, height, error);
    }
  if (is_solved && pawl_sum_run_get_list (run, "sizes") != NULL)
    {
      mpq_sub (height, gap, height);
      pawl_sum_run_answer (run, "Play with that stack", pawl_sum_run_make (run, height, "gap"), FALSE, NULL);
      pawl_sum_run_work (run, "Play with that stack = play measured + shims that are in - stack. Measure it again once it is together.");
    }
  mpq_clears (gap, low, high, height, NULL);
  return is_solved;
}

/* Each shim more gives as much more play: stack' = stack + wanted - play. */
gboolean
pawl_sum_solve_restack (PawlSumRun *run, GError **error)
{
  PawlLimits *limits = pawl_sum_run_get_limits (run, "limits");
  gboolean is_solved = FALSE;
  mpq_t base, stack, low, high;

  mpq_inits (base, stack, low, high, NULL);
  get_base (pawl_sum_run_get (run, "stack"), stack);
  get_base (pawl_sum_run_get (run, "play"), base);
  mpq_sub (base, base, stack); /* the play with no shims */
  get_base (pawl_limits_peek_low (limits), low);
  get_base (pawl_limits_peek_high (limits), high);
  mpq_sub (low, low, base);
  mpq_sub (high, high, base);
  if (mpq_sgn (high) < 0)
    refuse (error, PAWL_SUM_ERROR_NO_ANSWER, "play: there would be too much of it with no shim at all. See what is seated wrong, and measure again");
  else
    {
      if (mpq_sgn (low) < 0)
        mpq_set_ui (low, 0, 1);
      pawl_sum_run_work (run, "Stack = stack that is in + play wanted - play now");
      tell_stack (run, low, high, "stack");
      is_solved = pawl_sum_run_get_list (run, "sizes") == NULL || answer_stack (run, low, high, "stack", NOT_WITHIN, stack, error);
    }
  if (is_solved && pawl_sum_run_get_list (run, "sizes") != NULL)
    {
      mpq_add (stack, stack, base);
      pawl_sum_run_answer (run, "Play with that stack", pawl_sum_run_make (run, stack, "play"), FALSE, NULL);
    }
  mpq_clears (base, stack, low, high, NULL);
  return is_solved;
}

/* The fewest blades that make the gap exactly. Each more adds its error and its film of oil. */
gboolean
pawl_sum_solve_blades (PawlSumRun *run, GError **error)
{
  gboolean is_solved;
  mpq_t gap, height;

  mpq_inits (gap, height, NULL);
  get_base (pawl_sum_run_get (run, "gap"), gap);
  is_solved = answer_stack (run, gap, gap, "gap", "No blades make it exactly. The nearest is", height, error);
  pawl_sum_run_work (run, "Of all the ways to make the gap, exactly or as nearly as can be, the one with the fewest blades.");
  mpq_clears (gap, height, NULL);
  return is_solved;
}

/* The shim wanted is worked out by formula; of the sizes at hand the nearest is taken, the thinner of two, and what it leaves is told. */
gboolean
pawl_sum_solve_lash (PawlSumRun *run, GError **error)
{
  GPtrArray *items = pawl_sum_run_get_list (run, "sizes");
  const PawlSumAnswer *wanted = run->result->answers->pdata[0];
  const PawlSumItem *nearest = NULL;
  mpq_t size, miss, least, target;

  mpq_inits (size, miss, least, target, NULL);
  get_base (wanted->quantity, target);
  if (mpq_sgn (target) <= 0 || items == NULL)
    {
      gboolean is_solved = mpq_sgn (target) > 0
                           || refuse (error, PAWL_SUM_ERROR_NO_ANSWER, "wanted: no shim is thin enough for that clearance. Measure again, and see that the valve seats");

      mpq_clears (size, miss, least, target, NULL);
      return is_solved;
    }
  for (guint i = 0; i < items->len; i++)
    {
      const PawlSumItem *item = items->pdata[i];
      int order;

      get_base (item->size, size);
      mpq_sub (miss, size, target);
      mpq_abs (miss, miss);
      order = nearest != NULL ? mpq_cmp (miss, least) : -1;
      if (order < 0 || (order == 0 && pawl_quantity_compare (item->size, nearest->size) < 0))
        {
          nearest = item;
          mpq_set (least, miss);
        }
    }
  get_base (nearest->size, size);
  pawl_sum_run_answer (run, "Nearest at hand", pawl_quantity_ref (nearest->size), FALSE, NULL);
  /* wanted clearance - (nearest - wanted shim) */
  mpq_sub (miss, target, size);
  get_base (pawl_sum_run_get (run, "wanted"), least);
  mpq_add (miss, miss, least);
  pawl_sum_run_answer (run, "Clearance with it", pawl_sum_run_make (run, miss, "wanted"), FALSE, NULL);
  mpq_clears (size, miss, least, target, NULL);
  return TRUE;
}
