/* Limits of one reading that differ by variant: each unit that is asked has exactly one of them, and all are of one kind. */
#include "procedure/pawl-proof-private.h"
#include "procedure/pawl-variant.h"

/* (transfer full): what a unit is, for a sentence. */
static char *
name_unit (PawlProof *self, const char *combination)
{
  g_autofree char *name = pawl_variant_describe (self->procedure, combination);

  return *name != '\0' ? g_strdup_printf ("%s (%s)", combination, name) : g_strdup ("a unit without variants");
}

/* The first and the second of the limits that are for this unit. */
static guint
count_matching (const PawlReading *reading, const char *combination, const PawlVariantLimits *found[2])
{
  guint n = 0;

  for (guint i = 0; i < reading->by_variant->len; i++)
    {
      const PawlVariantLimits *one = reading->by_variant->pdata[i];

      if (!pawl_variant_matches (one->variant, combination))
        continue;
      if (n < 2)
        found[n] = one;
      n++;
    }
  return n;
}

/* Returns whether this unit is asked, and has one. @used: those that are some unit's. */
static gboolean
check_unit (PawlProof *self, const PawlAsk *ask, const char *combination, GHashTable *used)
{
  const PawlVariantLimits *found[2] = { NULL, NULL };
  guint n = count_matching (ask->reading, combination, found);
  g_autofree char *unit = n != 1 ? name_unit (self, combination) : NULL;

  for (guint i = 0; i < MIN (n, 2); i++)
    g_hash_table_add (used, (gpointer) found[i]);
  if (n == 0)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "limits-gap", ask->line, "reading \"%s\" has no limits for %s; add <limits variant=\"…\" is=\"…\"/> for it", ask->id, unit);
  else if (n > 1)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "limits-overlap", found[1]->line,
                    "reading \"%s\" has both %s and %s for %s; let variant=\"…\" of one of them exclude the other", ask->id, pawl_limits_get_text (found[0]->limits),
                    pawl_limits_get_text (found[1]->limits), unit);
  return n == 1;
}

/* One finding for a reading: the next unit mostly has the same fault. */
static void
check_units (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  g_autoptr(GPtrArray) combinations = pawl_variant_list_combinations (self->procedure);
  g_autoptr(GHashTable) used = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < combinations->len; i++)
    {
      const char *combination = combinations->pdata[i];

      if (pawl_variant_matches (step->variant, combination) && pawl_variant_matches (ask->variant, combination)
          && !check_unit (self, ask, combination, used))
        return;
    }
  for (guint i = 0; i < ask->reading->by_variant->len; i++)
    {
      const PawlVariantLimits *one = ask->reading->by_variant->pdata[i];

      if (!g_hash_table_contains (used, one))
        pawl_proof_add (self, PAWL_SEVERITY_WARNING, "limits-never", one->line,
                        "reading \"%s\" is never asked of \"%s\", so its limits %s are for no unit; take them out, or ask it of that variant", ask->id, one->variant,
                        pawl_limits_get_text (one->limits));
    }
}

static gboolean
is_of_one_kind (PawlProof *self, const PawlAsk *ask)
{
  PawlDimension wanted = pawl_unit_get_dimension (pawl_limits_get_unit (ask->reading->limits));

  for (guint i = 0; i < ask->reading->by_variant->len; i++)
    {
      const PawlVariantLimits *one = ask->reading->by_variant->pdata[i];

      if (pawl_unit_get_dimension (pawl_limits_get_unit (one->limits)) == wanted)
        continue;
      pawl_proof_add (self, PAWL_SEVERITY_ERROR, "limits-mixed", one->line, "the limits \"%s\" of reading \"%s\" are of another kind than those of the other variants; give one kind",
                      pawl_limits_get_text (one->limits), ask->id);
      return FALSE;
    }
  return TRUE;
}

static gboolean
has_known_variants (PawlProof *self, const PawlReading *reading)
{
  for (guint i = 0; i < reading->by_variant->len; i++)
    {
      g_autofree char *problem = NULL;

      if (!pawl_variant_check (self->procedure, ((PawlVariantLimits *) reading->by_variant->pdata[i])->variant, &problem))
        return FALSE;
    }
  return TRUE;
}

void
pawl_proof_check_variant_limits (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  /* An unknown variant is a finding already, and would make a gap of itself. */
  if (ask->reading->by_variant->len > 0 && is_of_one_kind (self, ask) && has_known_variants (self, ask->reading))
    check_units (self, step, ask);
}
