#include "procedure/pawl-hidden.h"

#include "fit/pawl-difference.h"
#include "procedure/pawl-order.h"
#include "procedure/pawl-procedure-private.h"

/* Measuring the difference takes time on a long outline, so it is done only where something hides the fit. */
static gboolean
is_trap (PawlProcedure *procedure, const PawlAsk *ask)
{
  PawlDifference difference;

  if (ask->kind != PAWL_ASK_FIT || (!ask->rule->is_hidden_after && pawl_order_find_cover (procedure, ask->id) == NULL))
    return FALSE;
  difference = pawl_difference_of (ask->rule, PAWL_BENCH_DISTANCE_MM);
  return pawl_difference_suggests_hold (&difference, ask->rule);
}

GHashTable *
pawl_hidden_new_traps (PawlProcedure *procedure)
{
  GHashTable *traps = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < procedure->steps->len; i++)
    {
      const PawlStep *step = procedure->steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        if (is_trap (procedure, step->asks->pdata[j]))
          g_hash_table_add (traps, step->asks->pdata[j]);
    }
  return traps;
}

gboolean
pawl_hidden_is_trap (PawlProcedure *procedure, const PawlAsk *ask)
{
  return g_hash_table_contains (procedure->traps, ask);
}

static gboolean
is_hidden_by_its_own (PawlProcedure *procedure, const PawlAsk *ask)
{
  return pawl_hidden_is_trap (procedure, ask) && pawl_order_find_cover (procedure, ask->id) == NULL;
}

GPtrArray *
pawl_hidden_list_traps (PawlProcedure *procedure, const PawlStep *step)
{
  g_autoptr(GPtrArray) covered = pawl_order_list_covered (procedure, step);
  GPtrArray *traps = g_ptr_array_new ();

  for (guint i = 0; i < covered->len; i++)
    if (pawl_hidden_is_trap (procedure, covered->pdata[i]))
      g_ptr_array_add (traps, covered->pdata[i]);
  for (guint i = 0; i < step->asks->len; i++)
    if (is_hidden_by_its_own (procedure, step->asks->pdata[i]))
      g_ptr_array_add (traps, step->asks->pdata[i]);
  return traps;
}
