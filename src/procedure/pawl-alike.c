#include "procedure/pawl-alike.h"

#include <math.h>

#include "fit/pawl-difference.h"
#include "procedure/pawl-kit.h"

/* Under this share of the part's own size a length is not told without comparing: fit/pawl-difference.h, 3 to 5 %, from memory. */
#define LEAST_SHARE 0.04

static const PawlCandidate *
find_candidate (const PawlRule *rule, const char *part_id)
{
  for (guint i = 0; i < rule->candidates->len; i++)
    {
      const PawlCandidate *candidate = rule->candidates->pdata[i];

      if (g_str_equal (candidate->part, part_id))
        return candidate;
    }
  return NULL;
}

gboolean
pawl_alike_list_has (GPtrArray *list, const char *part_id)
{
  for (guint i = 0; i < list->len; i++)
    if (g_str_equal (((PawlAlike *) list->pdata[i])->other->part, part_id))
      return TRUE;
  return FALSE;
}

static void
add_rule (GPtrArray *list, const PawlRule *rule, const char *part_id)
{
  const PawlCandidate *part = find_candidate (rule, part_id);

  for (guint i = 0; part != NULL && i < rule->candidates->len; i++)
    {
      const PawlCandidate *other = rule->candidates->pdata[i];
      PawlAlike *alike;

      if (g_str_equal (other->part, part_id) || pawl_alike_list_has (list, other->part))
        continue;
      alike = g_new0 (PawlAlike, 1);
      *alike = (PawlAlike) { rule, part, other };
      g_ptr_array_add (list, alike);
    }
}

GPtrArray *
pawl_alike_list (PawlProcedure *procedure, const char *variant, const char *part_id)
{
  GPtrArray *steps = pawl_procedure_get_steps (procedure), *alikes = pawl_procedure_get_alikes (procedure);
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = steps->pdata[i];

      for (guint j = 0; pawl_variant_matches (step->variant, variant) && j < step->asks->len; j++)
        {
          const PawlAsk *ask = step->asks->pdata[j];

          if (ask->kind == PAWL_ASK_FIT && ask->rule->kind == PAWL_RULE_WHICH && pawl_variant_matches (ask->variant, variant))
            add_rule (list, ask->rule, part_id);
        }
    }
  for (guint i = 0; i < alikes->len; i++)
    add_rule (list, alikes->pdata[i], part_id);
  return list;
}

double
pawl_alike_get_difference_mm (const PawlAlike *self)
{
  return self->part->dimension - self->other->dimension;
}

PawlAlikeBy
pawl_alike_get_by (const PawlAlike *self)
{
  double size = fabs (pawl_alike_get_difference_mm (self)), own = MAX (self->part->dimension, self->other->dimension);

  if (size < 1e-9)
    return PAWL_ALIKE_BY_MARK;
  if (size < pawl_difference_get_least_mm (PAWL_BENCH_DISTANCE_MM))
    return PAWL_ALIKE_BY_GAUGE;
  return size < LEAST_SHARE * own ? PAWL_ALIKE_BY_RULE : PAWL_ALIKE_BY_EYE;
}

/* A difference of hundredths is not rounded to none. */
static char *
format_mm (double length_mm)
{
  return g_strdup_printf (fabs (length_mm) < 1 ? "%.2f mm" : "%.1f mm", fabs (length_mm));
}

char *
pawl_alike_describe (const PawlAlike *self)
{
  static const char * const hows[] = { "told by a mark only", "by gauge, not by eye", "by rule, not by eye", "seen by eye" };
  double difference = pawl_alike_get_difference_mm (self);
  g_autofree char *own = format_mm (self->part->dimension), *more = format_mm (difference);
  const char *how = hows[pawl_alike_get_by (self)];
  const char *what = self->rule->dimension_name != NULL && *self->rule->dimension_name != '\0' ? self->rule->dimension_name : "size";

  if (pawl_alike_get_by (self) == PAWL_ALIKE_BY_MARK)
    return g_strdup_printf ("looks like “%s”: %s", self->other->name, how);
  return g_strdup_printf ("%s %s, %s %s than “%s”: %s", what, own, more, difference > 0 ? "more" : "less", self->other->name, how);
}
