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

/* Two fits of one part in one step mostly bear its name. */
static gboolean
is_named_before (PawlProcedure *procedure, GPtrArray *asks, guint index)
{
  const PawlAsk *ask = asks->pdata[index];

  for (guint i = 0; i < index; i++)
    {
      const PawlAsk *before = asks->pdata[i];

      if (pawl_procedure_peek_step_of (procedure, before) == pawl_procedure_peek_step_of (procedure, ask) && g_str_equal (before->name, ask->name))
        return TRUE;
    }
  return FALSE;
}

char *
pawl_hidden_describe (PawlProcedure *procedure, GPtrArray *asks)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < asks->len; i++)
    {
      const PawlAsk *ask = asks->pdata[i];

      if (!is_named_before (procedure, asks, i))
        g_string_append_printf (text, "%s“%s” (step %s)", i > 0 ? ", " : "", ask->name, pawl_procedure_peek_step_of (procedure, ask)->number);
    }
  return g_string_free (text, FALSE);
}
