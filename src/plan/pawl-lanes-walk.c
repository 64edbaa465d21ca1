/* Walking through the picture by arrow keys: along a lane in the order of time, and from lane to lane. */
#include "plan/pawl-lanes-private.h"

void
pawl_lanes_get_range (const PawlLanes *self, gint64 *first, gint64 *last)
{
  *first = self->first;
  *last = self->last;
}

guint
pawl_lanes_get_n (const PawlLanes *self)
{
  return self->n;
}

/* The lane that @index is in. */
static const PawlLane *
find_lane (const PawlLanes *self, guint index)
{
  if (index < pawl_work_plan_get_items (self->plan)->len)
    return self->lane_of[index];
  for (guint i = 0; i < self->lanes->len; i++)
    {
      const PawlLane *lane = self->lanes->pdata[i];

      if (index >= lane->first_over && index < lane->first_over + lane->over->len)
        return lane;
    }
  g_assert_not_reached ();
}

PawlLanesSpot
pawl_lanes_get_spot (const PawlLanes *self, guint index)
{
  const PawlLane *lane = find_lane (self, index);

  if (index < pawl_work_plan_get_items (self->plan)->len)
    {
      const PawlWorkPlanItem *item = pawl_work_plan_get_items (self->plan)->pdata[index];

      return (PawlLanesSpot) { item->job, item->state, item };
    }
  return (PawlLanesSpot) { lane->job, lane->over->pdata[index - lane->first_over], NULL };
}

int
pawl_lanes_find (const PawlLanes *self, guint job, const char *step_id)
{
  for (guint i = 0; i < self->n; i++)
    {
      PawlLanesSpot spot = pawl_lanes_get_spot (self, i);

      if (spot.job == job && g_str_equal (spot.state->step->id, step_id))
        return (int) i;
    }
  return -1;
}

/* ---- along a lane: what is over, then what is planned ---- */

static guint
count (const PawlLane *lane)
{
  return lane->over->len + lane->items->len;
}

static int
get_index (const PawlLane *lane, guint place)
{
  if (place < lane->over->len)
    return (int) (lane->first_over + place);
  return (int) ((const PawlWorkPlanItem *) lane->items->pdata[place - lane->over->len])->node;
}

static guint
get_place (const PawlLane *lane, int index)
{
  guint place = 0;

  while (get_index (lane, place) != index)
    place++;
  return place;
}

/* When it begins; what is over did so before everything else. */
static gint64
get_start (const PawlLane *lane, guint place)
{
  return place < lane->over->len ? G_MININT64 / 2 : ((const PawlWorkPlanItem *) lane->items->pdata[place - lane->over->len])->start;
}

/* The place in @lane that begins nearest to @start; of several the last, which is the latest that was done. */
static guint
find_nearest (const PawlLane *lane, gint64 start)
{
  guint nearest = 0;

  for (guint i = 1; i < count (lane); i++)
    if (ABS (get_start (lane, i) - start) <= ABS (get_start (lane, nearest) - start))
      nearest = i;
  return nearest;
}

/* ---- from lane to lane ---- */

static int
move_across (const PawlLanes *self, int index, int direction)
{
  const PawlLane *here = find_lane (self, (guint) index);
  guint at;

  g_ptr_array_find (self->lanes, here, &at);
  for (int i = (int) at + direction; i >= 0 && i < (int) self->lanes->len; i += direction)
    {
      const PawlLane *lane = self->lanes->pdata[i];

      if (count (lane) > 0)
        return get_index (lane, find_nearest (lane, get_start (here, get_place (here, index))));
    }
  return index;
}

/* What the hands come to first, else the first that there is. */
static int
find_first (const PawlLanes *self)
{
  const PawlSchedule *schedule = pawl_work_plan_get_schedule (self->plan);

  if (schedule->n > 0)
    return (int) schedule->order[0];
  return self->n > 0 ? 0 : -1;
}

int
pawl_lanes_move (const PawlLanes *self, int index, PawlLanesWay way)
{
  const PawlLane *lane;
  guint place;

  if (index < 0 || index >= (int) self->n)
    return find_first (self);
  if (way == PAWL_LANES_ABOVE || way == PAWL_LANES_BELOW)
    return move_across (self, index, way == PAWL_LANES_ABOVE ? -1 : 1);
  lane = find_lane (self, (guint) index);
  place = get_place (lane, index);
  if (way == PAWL_LANES_BEFORE)
    return place > 0 ? get_index (lane, place - 1) : index;
  return place + 1 < count (lane) ? get_index (lane, place + 1) : index;
}

gboolean
pawl_lanes_locate (const PawlLanes *self, guint index, gint64 *from, gint64 *until, double *top, double *bottom)
{
  const PawlLane *lane = find_lane (self, index);
  const PawlWorkPlanItem *item = pawl_lanes_get_spot (self, index).item;

  *top = lane->y;
  *bottom = lane->y + lane->height;
  if (item == NULL)
    return FALSE;
  *from = item->start;
  *until = item->finish;
  return TRUE;
}

gboolean
pawl_lanes_get_spot_box (const PawlLanes *self, const PawlLanesView *view, double width, double height, guint index, double *x, double *y, double *across, double *down)
{
  PawlLanesField field = pawl_lanes_get_field (self, view, width, height);
  const PawlLane *lane = find_lane (self, index);
  const PawlWorkPlanItem *item = pawl_lanes_get_spot (self, index).item;
  guint first, n;

  if (item != NULL)
    {
      pawl_lanes_get_box (self, &field, item, x, y, across, down);
      return TRUE;
    }
  n = pawl_lanes_list_over (lane, &field, view, self->text, &first);
  if (index < lane->first_over + first || index >= lane->first_over + first + n)
    return FALSE;
  pawl_lanes_get_over_box (self, &field, lane, lane->first_over + first + n - 1 - index, x, y, across, down);
  return TRUE;
}

double
pawl_lanes_get_field_height (const PawlLanes *self, double height)
{
  return MAX (height - (PAWL_LANES_AXIS + PAWL_LANES_KEY) * self->text, 1);
}

gint64
pawl_lanes_get_seconds (const PawlLanes *self, const PawlLanesView *view, double width, double x)
{
  PawlLanesField field = pawl_lanes_get_field (self, view, width, 1);

  return field.from + (gint64) ((CLAMP (x, field.left, field.right) - field.left) / field.per_second);
}
