/* Where everything stands: lanes one below another, waits that overlap in rows of their own. */
#include "plan/pawl-lanes-private.h"

#define HEAD_HEIGHT  2.1
#define WORK_HEIGHT  1.8
#define LEVEL_HEIGHT 1.5
#define GAP          0.5

static void
lane_free (PawlLane *lane)
{
  g_ptr_array_unref (lane->items);
  g_free (lane);
}

static int
compare_starts (gconstpointer a, gconstpointer b)
{
  const PawlWorkPlanItem *left = *(PawlWorkPlanItem *const *) a, *right = *(PawlWorkPlanItem *const *) b;

  return (left->start > right->start) - (left->start < right->start);
}

/* Until when a wait takes up its row: to its maximum, as far as that is in the day at all. */
static gint64
get_wait_end (const PawlLanes *self, const PawlWorkPlanItem *item)
{
  gint64 end = MAX (item->finish, item->min_finish);

  return item->max_finish == PAWL_NETWORK_NO_MAX ? end : MAX (end, MIN (item->max_finish, self->last));
}

/* Each wait in the first row that is free when it begins. */
static void
place_waits (PawlLanes *self, PawlLane *lane)
{
  g_autoptr(GArray) ends = g_array_new (FALSE, FALSE, sizeof (gint64));

  for (guint i = 0; i < lane->items->len; i++)
    {
      const PawlWorkPlanItem *item = lane->items->pdata[i];
      gint64 end = get_wait_end (self, item);
      guint level = 0;

      if (item->wait == NULL)
        continue;
      while (level < ends->len && g_array_index (ends, gint64, level) > item->start)
        level++;
      if (level == ends->len)
        g_array_append_val (ends, end);
      g_array_index (ends, gint64, level) = end;
      self->level[item->node] = level;
    }
  lane->n_levels = ends->len;
}

static void
add_lanes (PawlLanes *self, guint job)
{
  const PawlWorkPlanJob *planned = g_ptr_array_index (pawl_work_plan_get_jobs (self->plan), job);

  for (guint i = 0; i < planned->lanes->len; i++)
    {
      PawlLane *lane = g_new0 (PawlLane, 1);

      lane->job = job;
      lane->lane = i;
      lane->items = g_ptr_array_new ();
      lane->over = planned->over->pdata[i];
      lane->first_over = self->n;
      self->n += lane->over->len;
      self->has_over |= lane->over->len > 0;
      g_ptr_array_add (self->lanes, lane);
    }
}

static void
add_items (PawlLanes *self, const guint *first_lane)
{
  const GPtrArray *items = pawl_work_plan_get_items (self->plan);

  for (guint i = 0; i < items->len; i++)
    {
      const PawlWorkPlanItem *item = items->pdata[i];

      self->lane_of[i] = self->lanes->pdata[first_lane[item->job] + item->lane];
      g_ptr_array_add (self->lane_of[i]->items, (gpointer) item);
      self->first = MIN (self->first, item->start);
    }
}

static void
place_lanes (PawlLanes *self)
{
  guint job = G_MAXUINT;
  double y = 0;

  for (guint i = 0; i < self->lanes->len; i++)
    {
      PawlLane *lane = self->lanes->pdata[i];

      g_ptr_array_sort (lane->items, compare_starts);
      place_waits (self, lane);
      if (lane->job != job)
        {
          self->heads[lane->job] = y;
          y += HEAD_HEIGHT * self->text;
        }
      job = lane->job;
      lane->y = y;
      lane->work_height = WORK_HEIGHT * self->text;
      lane->height = lane->work_height + lane->n_levels * LEVEL_HEIGHT * self->text;
      y += lane->height + GAP * self->text;
    }
  self->height = y;
}

PawlLanes *
pawl_lanes_new (const PawlWorkPlan *plan, double text)
{
  PawlLanes *self = g_new0 (PawlLanes, 1);
  const GPtrArray *jobs = pawl_work_plan_get_jobs (plan);
  guint n = pawl_work_plan_get_items (plan)->len;
  g_autofree guint *first_lane = g_new0 (guint, jobs->len + 1);

  g_return_val_if_fail (text > 0, NULL);
  self->plan = plan;
  self->text = text;
  self->lanes = g_ptr_array_new_with_free_func ((GDestroyNotify) lane_free);
  self->heads = g_new0 (double, jobs->len + 1);
  self->level = g_new0 (guint, n + 1);
  self->lane_of = g_new0 (PawlLane *, n + 1);
  self->n = n;
  self->last = MAX (pawl_work_plan_get_schedule (plan)->makespan, 60);
  for (guint i = 0; i < jobs->len; i++)
    {
      first_lane[i] = self->lanes->len;
      add_lanes (self, i);
    }
  add_items (self, first_lane);
  place_lanes (self);
  /* What began long ago doesn't crowd the day to come. */
  self->first = MAX (self->first, -self->last / 8);
  return self;
}

void
pawl_lanes_free (PawlLanes *self)
{
  g_ptr_array_unref (self->lanes);
  g_free (self->heads);
  g_free (self->level);
  g_free (self->lane_of);
  g_free (self);
}

double
pawl_lanes_get_height (const PawlLanes *self)
{
  return self->height + (PAWL_LANES_AXIS + PAWL_LANES_KEY) * self->text;
}

PawlLanesField
pawl_lanes_get_field (const PawlLanes *self, const PawlLanesView *view, double width, double height)
{
  gboolean is_whole = view->from == 0 && view->until == 0, has_room = width > 60 * self->text;
  gint64 from = is_whole ? self->first : view->from, until = is_whole ? self->last : view->until;
  double labels = MIN (PAWL_LANES_LABELS * self->text, 0.4 * width);
  double left = labels + (self->has_over && has_room ? (PAWL_LANES_N_OVER * (PAWL_LANES_OVER + 0.2) + 0.5) * self->text : 0);
  PawlLanesField field = { left, MAX (width - 0.8 * self->text, left + 1), PAWL_LANES_AXIS * self->text, height - PAWL_LANES_KEY * self->text, labels, view->top, from, 0 };

  field.per_second = (field.right - field.left) / (double) MAX (until - from, 1);
  return field;
}

double
pawl_lanes_get_x (const PawlLanesField *field, gint64 seconds)
{
  return field->left + (double) (seconds - field->from) * field->per_second;
}

void
pawl_lanes_get_box (const PawlLanes *self, const PawlLanesField *field, const PawlWorkPlanItem *item, double *x, double *y, double *width, double *height)
{
  const PawlLane *lane = self->lane_of[item->node];
  gint64 end = item->wait != NULL ? get_wait_end (self, item) : item->finish;

  *x = pawl_lanes_get_x (field, item->start);
  *width = pawl_lanes_get_x (field, end) - *x;
  *y = field->top - field->scroll + lane->y;
  *height = lane->work_height;
  if (item->wait == NULL)
    return;
  *y += lane->work_height + (self->level[item->node] * LEVEL_HEIGHT + 0.2) * self->text;
  *height = (LEVEL_HEIGHT - 0.3) * self->text;
}

guint
pawl_lanes_list_over (const PawlLane *lane, const PawlLanesField *field, const PawlLanesView *view, double text, guint *first)
{
  guint room = (guint) ((field->left - field->labels) / ((PAWL_LANES_OVER + 0.2) * text)), n = MIN (room, lane->over->len), end = lane->over->len;

  if (view->selected >= (int) lane->first_over && view->selected < (int) (lane->first_over + end))
    end = MAX ((guint) view->selected - lane->first_over + 1, n); /* what is looked at is seen */
  *first = end - n;
  return n;
}

void
pawl_lanes_get_over_box (const PawlLanes *self, const PawlLanesField *field, const PawlLane *lane, guint place, double *x, double *y, double *width, double *height)
{
  *width = PAWL_LANES_OVER * self->text;
  *x = field->left - 0.5 * self->text - (place + 1) * (*width + 0.2 * self->text);
  *y = field->top - field->scroll + lane->y;
  *height = lane->work_height;
}

static gboolean
is_within (double x, double y, double left, double top, double width, double height)
{
  return x >= left && x <= left + MAX (width, 2) && y >= top && y <= top + height;
}

static int
pick_over (const PawlLanes *self, const PawlLanesView *view, const PawlLanesField *field, double x, double y)
{
  for (guint i = 0; i < self->lanes->len; i++)
    {
      const PawlLane *lane = self->lanes->pdata[i];
      guint first, n = pawl_lanes_list_over (lane, field, view, self->text, &first);

      for (guint place = 0; place < n; place++)
        {
          double left, top, across, down;

          pawl_lanes_get_over_box (self, field, lane, place, &left, &top, &across, &down);
          if (is_within (x, y, left, top, across, down))
            return (int) (lane->first_over + first + n - 1 - place);
        }
    }
  return -1;
}

int
pawl_lanes_pick (const PawlLanes *self, const PawlLanesView *view, double width, double height, double x, double y)
{
  PawlLanesField field = pawl_lanes_get_field (self, view, width, height);
  const GPtrArray *items = pawl_work_plan_get_items (self->plan);

  if (x < 0 || x > field.right || y < field.top || y > field.bottom)
    return -1;
  if (x < field.left)
    return pick_over (self, view, &field, x, y);
  for (guint i = 0; i < items->len; i++)
    {
      double left, top, across, down;

      pawl_lanes_get_box (self, &field, items->pdata[i], &left, &top, &across, &down);
      if (is_within (x, y, left, top, across, down))
        return (int) i;
    }
  return -1;
}
