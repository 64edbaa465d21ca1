/*
 * Holds suggested: a fit that can be wrong without being seen, goes together all the same, and is hidden before anybody else has looked.
 *
 * Somebody looks when the step that fits it has a point of any kind (at a review they see the photo that is asked for), or when a step in between
 * has one that the covering step waits for. And nobody needs to where a later reading or check is said to show it.
 */
#include <string.h>

#include "fit/pawl-difference.h"
#include "procedure/pawl-proof-private.h"
#include "procedure/pawl-variant.h"

static int
get_index (PawlProof *self, const PawlStep *step)
{
  return pawl_procedure_get_step_index (self->procedure, step->id);
}

/* A step with a point after @fitting, on which @cover stands. */
static gboolean
is_looked_at_between (PawlProof *self, const PawlStep *fitting, const PawlStep *cover)
{
  for (int i = get_index (self, fitting) + 1; i < get_index (self, cover); i++)
    {
      const PawlStep *step = g_ptr_array_index (self->procedure->steps, i);
      g_autoptr(GPtrArray) followers = NULL;

      if (step->hold == PAWL_HOLD_NONE || (step->variant != NULL && !pawl_variant_matches (step->variant, fitting->variant)))
        continue;
      followers = pawl_order_list_followers (self->procedure, step);
      if (g_ptr_array_find (followers, cover, NULL))
        return TRUE;
    }
  return FALSE;
}

/* What is said to show it is asked of every unit, and not before it is fitted; else nobody finds it by that. */
static gboolean
check_shown_by (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  gboolean is_shown = FALSE;

  for (char **id = ask->rule->shown_by; *id != NULL; id++)
    {
      const PawlStep *showing = NULL;
      const PawlAsk *shows = pawl_procedure_lookup_ask (self->procedure, *id, &showing);

      if (shows == NULL || (shows->kind != PAWL_ASK_READING && shows->kind != PAWL_ASK_CHECK))
        continue; /* a finding of its own */
      if (get_index (self, showing) < get_index (self, step))
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "shown-too-early", ask->line,
                        "\"%s\" is said to be shown by \"%s\", which step \"%s\" asks before it is fitted; name one that is asked afterwards", ask->id, *id, showing->id);
      else if (shows->is_optional)
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "shown-optional", ask->line,
                        "\"%s\" is said to be shown by \"%s\", which may be left out; take its optional=\"yes\" away, or name another", ask->id, *id);
      else
        is_shown = TRUE;
    }
  return is_shown;
}

void
pawl_proof_check_hold (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  PawlDifference difference = pawl_difference_of (ask->rule, PAWL_BENCH_DISTANCE_MM);
  const PawlStep *cover = pawl_order_find_cover (self->procedure, ask->id);
  gboolean is_shown = check_shown_by (self, step, ask);
  g_autofree char *before = NULL;

  if (is_shown || step->hold != PAWL_HOLD_NONE || !pawl_difference_suggests_hold (&difference, ask->rule)
      || (cover != NULL && cover != step && is_looked_at_between (self, step, cover)))
    return;
  before = cover != NULL && cover != step ? g_strdup_printf (" before step \"%s\" hides it", cover->id) : g_strdup ("");
  pawl_proof_add (self, PAWL_SEVERITY_ADVICE, "hold-suggested", ask->line,
                  "\"%s\" can be wrong without being seen (%s) and goes together all the same, and nobody else looks%s; consider hold=\"hold\" or hold=\"witness\" on "
                  "step \"%s\", or say shown-by=\"…\" when a later reading or check comes out wrong with it",
                  ask->id, pawl_visibility_get_name (difference.visibility), before, step->id);
}
