/*
 * Order: steps that wait for each other, and what is asked when it can't be seen any more.
 *
 * The order of the file is advice, and the job keeps a cover after what it hides anyway. But an author who writes the cover first, or
 * makes the asking step need the covering one, has not seen it: that is reported, at the ask.
 */
#include <string.h>

#include "procedure/pawl-proof-private.h"
#include "procedure/pawl-variant.h"

static gboolean
lists_share (char **a, char **b)
{
  for (; *a != NULL; a++)
    if (g_strv_contains ((const char * const *) b, *a))
      return TRUE;
  return FALSE;
}

/* What closed the unit has been taken off again between the two: it can be seen after all. */
static gboolean
is_opened_between (PawlProof *self, const PawlStep *cover, int from, int to)
{
  for (int i = from + 1; i < to; i++)
    {
      const PawlStep *step = g_ptr_array_index (self->procedure->steps, i);

      if (lists_share (step->removes, cover->installs))
        return TRUE;
    }
  return FALSE;
}

static void
report_covered (PawlProof *self, const PawlStep *cover, const PawlStep *asking, const PawlAsk *ask)
{
  if (ask->kind == PAWL_ASK_READING)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "reading-after-cover", ask->line,
                    "reading \"%s\" of step \"%s\" comes after step \"%s\", which covers it; take it before", ask->id, asking->id, cover->id);
  else
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "check-hidden", ask->line,
                    "\"%s\" of step \"%s\" is asked after step \"%s\", which hides it; ask it before", ask->id, asking->id, cover->id);
}

/* Returns whether anything was asked too late. @seen: asks reported already. */
static gboolean
check_cover (PawlProof *self, const PawlStep *cover, int cover_index, GHashTable *seen)
{
  g_autoptr(GPtrArray) covered = pawl_order_list_covered (self->procedure, cover);
  g_autofree guint8 *followers = covered->len > 0 ? pawl_order_mark_stated_followers (self->procedure, cover) : NULL;
  gboolean is_found = FALSE;

  for (guint i = 0; i < covered->len; i++)
    {
      const PawlAsk *ask = g_ptr_array_index (covered, i);
      const PawlStep *asking = pawl_procedure_peek_step_of (self->procedure, ask);
      int index = pawl_procedure_get_step_index (self->procedure, asking->id);
      gboolean is_late;

      if (asking == cover || index < 0 || pawl_variant_excludes (self->procedure, asking->variant, cover->variant))
        continue;
      is_late = index > cover_index ? !is_opened_between (self, cover, cover_index, index) : followers[index];
      if (!is_late)
        continue;
      is_found = TRUE;
      if (g_hash_table_add (seen, (gpointer) ask))
        report_covered (self, cover, asking, ask);
    }
  return is_found;
}

static void
report_cycle (PawlProof *self, GPtrArray *cycle)
{
  GString *way = g_string_new (NULL);
  const PawlStep *first = g_ptr_array_index (cycle, 0);

  for (guint i = 0; i < cycle->len && i < 12; i++)
    g_string_append_printf (way, "%s\"%s\"", i == 0 ? "" : " needs ", ((PawlStep *) g_ptr_array_index (cycle, i))->id);
  if (cycle->len > 12)
    g_string_append (way, " needs …");
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "cycle", first->line, "these steps wait for each other, so none can begin: %s; take one need out", way->str);
  g_string_free (way, TRUE);
}

void
pawl_proof_check_order (PawlProof *self)
{
  GPtrArray *steps = self->procedure->steps;
  g_autoptr(GHashTable) seen = g_hash_table_new (NULL, NULL);
  g_autoptr(GPtrArray) cycle = pawl_order_find_stated_cycle (self->procedure);
  gboolean is_late = FALSE;

  if (cycle != NULL)
    {
      report_cycle (self, cycle);
      return;
    }
  for (guint i = 0; i < steps->len; i++)
    is_late |= check_cover (self, g_ptr_array_index (steps, i), i, seen);
  /* A cycle through a cover is that same fault, said better. */
  if (is_late)
    return;
  cycle = pawl_order_find_cycle (self->procedure);
  if (cycle != NULL)
    report_cycle (self, cycle);
}
