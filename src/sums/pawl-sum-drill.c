/* Which drill is at hand for a hole to be tapped. */
#include "measure/pawl-drill.h"
#include "sums/pawl-sum-private.h"

/* Inch threads only: for the others the hole is the drill, in tenths of a millimetre. Nothing is said where no drill is so small. */
gboolean
pawl_sum_solve_drill (PawlSumRun *run, GError **error)
{
  const PawlQuantity *hole = pawl_sum_run_get (run, "tap-hole");
  const PawlUnit *in = pawl_unit_lookup ("in");
  g_autofree char *name = NULL;
  mpq_t most, size;

  if (hole == NULL || !pawl_unit_is_inch (pawl_quantity_get_unit (run->quantities[0])))
    return TRUE;
  mpq_inits (most, size, NULL);
  pawl_quantity_get_base (hole, most, size);
  pawl_unit_from_base (in, most, most);
  name = mpq_sgn (most) > 0 ? pawl_drill_find_largest (most, size) : NULL;
  if (name != NULL)
    {
      PawlQuantity *quantity = pawl_quantity_new (size, in);
      g_autofree char *diameter = pawl_sum_run_format (run, quantity);

      pawl_sum_run_answer (run, "Largest inch drill that is no larger", quantity, FALSE, g_strdup_printf ("%s, %s", name, diameter));
    }
  mpq_clears (most, size, NULL);
  return TRUE;
}
