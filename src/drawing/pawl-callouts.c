#include "drawing/pawl-callouts.h"

#include <math.h>

#include "drawing/pawl-callouts-private.h"

#define DOT_SHARE (1.0 / 7)
#define CLEARANCE 0.4
/* Places that each number may choose from: this many, and always more than there are numbers. */
#define N_NEAR 64
/* Comparisons of two numbers that one placement may take. */
#define WORK 1000000
/* When something forbidden is left by then. */
#define HARD_WORK 4000000
#define STAYED 1.0

static void
free_callout (PawlCallout *callout)
{
  g_free (callout->number);
  g_free (callout->region);
  g_array_unref (callout->anchors);
  g_free (callout);
}

PawlCallouts *
pawl_callouts_new (double height)
{
  PawlCallouts *self;

  g_return_val_if_fail (height > 0, NULL);
  self = g_new0 (PawlCallouts, 1);
  self->items = g_ptr_array_new_with_free_func ((GDestroyNotify) free_callout);
  self->height = height;
  self->dot_radius = DOT_SHARE * height;
  self->clearance = CLEARANCE;
  return self;
}

void
pawl_callouts_free (PawlCallouts *self)
{
  if (!self)
    return;
  g_ptr_array_unref (self->items);
  g_free (self);
}

PawlCallout *
pawl_callouts_add (PawlCallouts *self, const char *number, double width)
{
  PawlCallout *callout = g_new0 (PawlCallout, 1);

  callout->number = g_strdup (number);
  callout->width = width;
  callout->anchors = g_array_new (FALSE, FALSE, sizeof (PawlAnchor));
  g_ptr_array_add (self->items, callout);
  return callout;
}

void
pawl_callouts_drop_last (PawlCallouts *self)
{
  g_return_if_fail (self->items->len > 0);
  g_ptr_array_set_size (self->items, (int) self->items->len - 1);
}

void
pawl_callout_add_anchor (PawlCallout *self, PawlAnchor anchor)
{
  g_array_append_val (self->anchors, anchor);
}

void
pawl_callout_drop_anchor (PawlCallout *self)
{
  g_return_if_fail (self->anchors->len > 1);
  for (guint i = 0; i < self->anchors->len; i++)
    {
      const PawlAnchor *anchor = &g_array_index (self->anchors, PawlAnchor, i);

      if (anchor->who != self->who || anchor->at.x != self->anchor.x || anchor->at.y != self->anchor.y)
        continue;
      g_array_remove_index (self->anchors, i);
      return;
    }
}

const PawlCallout *
pawl_callouts_lookup (const PawlCallouts *self, const char *number)
{
  for (guint i = 0; i < self->items->len; i++)
    {
      const PawlCallout *callout = g_ptr_array_index (self->items, i);

      if (g_str_equal (callout->number, number))
        return callout;
    }
  return NULL;
}

gboolean
pawl_callout_has_stayed (const PawlCallout *now, const PawlCallout *before, double height)
{
  double dx = now->place.x - before->place.x, dy = now->place.y - before->place.y;

  return MIN (hypot (dx, dy), hypot (dx - (now->anchor.x - before->anchor.x), dy - (now->anchor.y - before->anchor.y))) <= STAYED * height;
}

/* ---- placing ---- */

static guint
count_forbidden (const PawlPlan *plan, const PawlSeat *seats)
{
  double sum = 0;

  for (guint p = 0; p < plan->n; p++)
    {
      sum += floor (pawl_plan_peek (plan, p, seats[p].choice)->least / PAWL_PLAN_FORBIDDEN);
      for (guint q = p + 1; q < plan->n; q++)
        sum += floor (pawl_plan_get_pair (plan, p, seats[p].choice, q, seats[q].choice) / PAWL_PLAN_FORBIDDEN);
    }
  return (guint) sum;
}

static guint
count_lines (const PawlPlan *plan, const PawlSeat *seats)
{
  g_autofree gboolean *is_used = g_new0 (gboolean, plan->n_lines + 1);
  guint n = 0;

  for (guint p = 0; p < plan->n; p++)
    is_used[pawl_plan_get_line (plan, p, seats[p])] = TRUE;
  for (guint i = 0; i < plan->n_lines; i++)
    n += is_used[i];
  return n;
}

static void
apply (PawlCallouts *self, const PawlPlan *plan, const PawlSeat *seats)
{
  for (guint p = 0; p < plan->n; p++)
    {
      PawlCallout *callout = g_ptr_array_index (self->items, p);
      const PawlChoice *choice = pawl_plan_peek (plan, p, seats[p].choice);
      const PawlAnchor *anchor = &g_array_index (callout->anchors, PawlAnchor, choice->anchor);

      callout->anchor = anchor->at;
      callout->who = anchor->who;
      callout->is_on_line = !callout->is_hidden && anchor->depth < 1.5 * self->dot_radius;
      callout->place = g_array_index (plan->slots, PawlSlot, choice->slot).at;
      callout->elbow = choice->from;
    }
}

void
pawl_callouts_place (PawlCallouts *self, const PawlIdMap *map, const PawlCallouts *last)
{
  g_autoptr(PawlPlan) plan = NULL;
  g_autofree PawlSeat *seats = NULL;

  g_return_if_fail (self != NULL && map != NULL);
  for (guint i = 0; i < self->items->len; i++)
    g_return_if_fail (((PawlCallout *) g_ptr_array_index (self->items, i))->anchors->len > 0);
  self->width = map->width;
  self->tallness = map->height;
  self->cost = self->n_forbidden = self->n_lines = 0;
  if (!self->items->len)
    return;
  plan = pawl_plan_new (self, map, last, MAX (N_NEAR, self->items->len + 4));
  seats = pawl_plan_search (plan, WORK);
  if (count_forbidden (plan, seats))
    {
      g_free (seats);
      seats = pawl_plan_search (plan, HARD_WORK);
    }
  apply (self, plan, seats);
  self->cost = pawl_plan_get_cost (plan, seats);
  self->n_forbidden = count_forbidden (plan, seats);
  self->n_lines = count_lines (plan, seats);
}
