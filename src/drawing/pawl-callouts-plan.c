/* The places that numbers may choose from, and what each choice costs. Every cost is in heights of the figures; pawl-callouts.h lists them. */
#include <math.h>

#include "drawing/pawl-callouts-private.h"

/* The lattice, in heights: from row to row; from column to column, but never less than the widest number and a gap. */
#define ROW_PITCH 1.6
#define COLUMN_PITCH 2.7
#define COLUMN_GAP 0.9
/* From the drawing's edge to the middle of the outermost row and column. */
#define EDGE_ALONG 1.1
#define EDGE_ACROSS 1.6
/* Where there would be too few places: shares of the clearance, then of the pitches, each time. */
static const double clearance_shares[] = { 1.0, 0.5, 0.0 };
#define SHRINK 0.8
/* From a number to where its leader starts, to another's leader, to another number. */
#define GAP_TO_LEADER 0.35
#define GAP_TO_OTHER_LEADER 0.15
#define GAP_TO_OTHER_NUMBER 0.1

#define COST_OVER 0.6
#define COST_OTHER 0.7
#define COST_SMALL 2.5
#define SMALL_AREA 3.0
#define LEAST_HATCH_DEG 15.0
#define COST_NEAR_ANCHOR 3.0
#define NEAR_ANCHOR 0.6
#define COST_LEVEL 0.6
#define LEVEL_DEG 10.0
#define COST_GRAZING 1.0
#define GRAZING_DEG 25.0
#define COST_SHORT 2.0
#define SHORTEST 1.0
#define COST_GUIDE 1.5
#define COST_SHALLOW 1.0
#define DEEP_ENOUGH 0.6
#define COST_SECOND 3.0
#define COST_MOVE 6.0
#define WHOLE_MOVE 1.4
/* Two places are one, in heights. */
#define SAME_PLACE 0.01
/* Anchors that are kept for each place, and how much worse than the best they may be. */
#define MAX_ANCHORS 2
#define ANCHOR_SLACK 3.0

/* As hypot(), which minds overflow and takes ten times as long. */
static double
get_length (double x, double y)
{
  return sqrt (x * x + y * y);
}

static PawlCallout *
get_callout (const PawlPlan *self, guint n)
{
  return g_ptr_array_index (self->callouts->items, n);
}

const PawlChoice *
pawl_plan_peek (const PawlPlan *self, guint n, guint choice)
{
  return &g_array_index (self->choices[n], PawlChoice, choice);
}

static const PawlSlot *
get_slot (const PawlPlan *self, const PawlChoice *choice)
{
  return &g_array_index (self->slots, PawlSlot, choice->slot);
}

guint
pawl_plan_get_line (const PawlPlan *self, guint n, PawlSeat seat)
{
  const PawlSlot *slot = get_slot (self, pawl_plan_peek (self, n, seat.choice));

  return seat.which ? slot->column : slot->row;
}

/* ---- places ---- */

typedef struct {
  double first, step;
  guint  n;
} Comb;

/* Evenly from edge to edge. */
static Comb
lay_comb (double length, double edge, double least_step)
{
  double first = MIN (edge, length / 4), span = length - 2 * first;
  guint n = (guint) floor (span / least_step);

  return n ? (Comb) { first, span / n, n + 1 } : (Comb) { length / 2, 0, 1 };
}

static gboolean
is_free (const PawlPlan *self, PawlPoint at, double half_width, double clearance)
{
  double reach_x = half_width + clearance * self->height, reach_y = self->half.y + clearance * self->height;

  return pawl_id_map_is_free (self->map, (PawlBox) { at.x - reach_x, at.y - reach_y, 2 * reach_x, 2 * reach_y });
}

/* Who stood at @at and has room there still, or PAWL_PLAN_ANYBODY: ink may come close to where a number stands already before that must go. */
static guint
find_owner (const PawlPlan *self, PawlPoint at)
{
  for (guint i = 0; i < self->n; i++)
    {
      const PawlCallout *before = self->before[i];

      if (before && get_length (before->place.x - at.x, before->place.y - at.y) < SAME_PLACE * self->height
          && is_free (self, at, get_callout (self, i)->width / 2, 0))
        return i;
    }
  return PAWL_PLAN_ANYBODY;
}

static void
find_slots (PawlPlan *self, double shrink, double clearance, gboolean may_cover_ink)
{
  const PawlIdMap *map = self->map;
  double h = self->height;
  double pitch = MAX (COLUMN_PITCH * h, 2 * self->half.x + COLUMN_GAP * h) * shrink;
  Comb columns = lay_comb (map->width, MAX (EDGE_ACROSS * h, self->half.x), pitch);
  Comb rows = lay_comb (map->height, EDGE_ALONG * h, ROW_PITCH * h * shrink);

  self->n_rows = rows.n;
  self->n_lines = rows.n + columns.n;
  g_array_set_size (self->slots, 0);
  for (guint j = 0; j < rows.n; j++)
    for (guint i = 0; i < columns.n; i++)
      {
        PawlSlot slot = { { columns.first + i * columns.step, rows.first + j * rows.step }, j, rows.n + i, PAWL_PLAN_ANYBODY };
        gboolean is_open = may_cover_ink || is_free (self, slot.at, self->half.x, clearance);

        if (!is_open)
          slot.whose = find_owner (self, slot.at);
        if (is_open || slot.whose != PAWL_PLAN_ANYBODY)
          g_array_append_val (self->slots, slot);
      }
}

static gboolean
may_stand (const PawlPlan *self, guint n, guint slot)
{
  guint whose = g_array_index (self->slots, PawlSlot, slot).whose;

  return whose == PAWL_PLAN_ANYBODY || whose == n;
}

static guint
count_open (const PawlPlan *self)
{
  guint n = 0;

  for (guint s = 0; s < self->slots->len; s++)
    n += g_array_index (self->slots, PawlSlot, s).whose == PAWL_PLAN_ANYBODY;
  return n;
}

/* Off the ink if there is room at all; closer together if not, then closer to the ink, at last on it. */
static void
find_enough_slots (PawlPlan *self)
{
  self->slots = g_array_new (FALSE, FALSE, sizeof (PawlSlot));
  for (guint i = 0; i < G_N_ELEMENTS (clearance_shares) && count_open (self) < self->n; i++)
    find_slots (self, 1, clearance_shares[i] * self->callouts->clearance, FALSE);
  for (double shrink = 1; count_open (self) < self->n; shrink *= SHRINK)
    find_slots (self, shrink, 0, TRUE);
}

/* ---- what a choice costs by itself ---- */

/* Where the line from a number's middle leaves it: a rounded box. */
static PawlPoint
get_start (const PawlPlan *self, double width, PawlPoint middle, PawlPoint to)
{
  double gap = GAP_TO_LEADER * self->height;
  double dx = fabs (to.x - middle.x) / (width / 2 + gap), dy = fabs (to.y - middle.y) / (self->height / 2 + gap);
  double out = sqrt (sqrt (dx * dx * dx * dx + dy * dy * dy * dy));
  double share = out > 1 ? 1 / out : 1;

  return (PawlPoint) { middle.x + share * (to.x - middle.x), middle.y + share * (to.y - middle.y) };
}

static double
get_anchor_cost (const PawlPlan *self, const PawlAnchor *anchor)
{
  double depth = anchor->depth / (DEEP_ENOUGH * self->height);

  return (depth < 1 ? COST_SHALLOW * (1 - depth) : 0) + (anchor->is_second ? COST_SECOND : 0);
}

/* None where the number stays on the sheet, or goes with its part. */
static double
get_move_cost (const PawlPlan *self, const PawlCallout *before, gboolean same_sheet, PawlPoint place, PawlPoint anchor, double ratio)
{
  double with_part = get_length (place.x - anchor.x - ratio * (before->place.x - before->anchor.x),
                                 place.y - anchor.y - ratio * (before->place.y - before->anchor.y));
  double on_sheet = same_sheet ? get_length (place.x - before->place.x, place.y - before->place.y) : INFINITY;

  return COST_MOVE * MIN (1, MIN (with_part, on_sheet) / (WHOLE_MOVE * self->height));
}

/* 0 along the x axis, 90 along the y axis. */
static double
get_slope_deg (PawlPoint from, PawlPoint to)
{
  return atan2 (fabs (to.y - from.y), fabs (to.x - from.x)) * 180 / G_PI;
}

static void
price (const PawlPlan *self, guint n, PawlChoice *choice)
{
  const PawlCallouts *last = self->last;
  const PawlCallout *before = self->before[n];
  const PawlAnchor *anchor = &g_array_index (get_callout (self, n)->anchors, PawlAnchor, choice->anchor);
  const PawlSlot *slot = get_slot (self, choice);
  double h = self->height, length, slope, level, cost;
  PawlWalk walk;

  choice->from = get_start (self, get_callout (self, n)->width, slot->at, anchor->at);
  choice->to = anchor->at;
  length = get_length (choice->to.x - choice->from.x, choice->to.y - choice->from.y) / h;
  slope = get_slope_deg (choice->from, choice->to);
  level = MIN (slope, 90 - slope);
  walk = pawl_id_map_walk (self->map, (guint16) anchor->who, choice->from, choice->to, SMALL_AREA * h * h, LEAST_HATCH_DEG);
  cost = length + COST_OVER * walk.over / h + COST_OTHER * walk.n_others + COST_SMALL * walk.n_small + get_anchor_cost (self, anchor);
  cost += walk.is_parallel ? PAWL_PLAN_FORBIDDEN : 0;
  cost += level < LEVEL_DEG ? COST_LEVEL * (1 - level / LEVEL_DEG) : 0;
  cost += length < SHORTEST ? COST_SHORT * (1 - length / SHORTEST) : 0;
  if (pawl_id_map_has_guide (self->map, (PawlBox) { slot->at.x - self->half.x, slot->at.y - self->half.y, 2 * self->half.x, 2 * self->half.y }))
    cost += COST_GUIDE;
  if (before)
    cost += get_move_cost (self, before, last->width == self->map->width && last->tallness == self->map->height, slot->at, anchor->at, h / last->height);
  choice->cost[0] = cost + (slope < GRAZING_DEG ? COST_GRAZING : 0);
  choice->cost[1] = cost + (slope > 90 - GRAZING_DEG ? COST_GRAZING : 0);
  choice->least = MIN (choice->cost[0], choice->cost[1]);
}

/* ---- the choices of one number ---- */

typedef struct {
  guint  slot;
  double bound;
} Near;

static int
compare_near (gconstpointer a, gconstpointer b)
{
  const Near *p = a, *q = b;

  return p->bound != q->bound ? (p->bound < q->bound ? -1 : 1) : (p->slot > q->slot) - (p->slot < q->slot);
}

static int
compare_choices (gconstpointer a, gconstpointer b)
{
  const PawlChoice *p = a, *q = b;

  if (p->least != q->least)
    return p->least < q->least ? -1 : 1;
  if (p->slot != q->slot)
    return p->slot < q->slot ? -1 : 1;
  return (p->anchor > q->anchor) - (p->anchor < q->anchor);
}

static double
get_distance (const PawlPlan *self, guint n, guint anchor, guint slot)
{
  PawlPoint a = g_array_index (get_callout (self, n)->anchors, PawlAnchor, anchor).at, b = g_array_index (self->slots, PawlSlot, slot).at;

  return get_length (a.x - b.x, a.y - b.y);
}

/* The nearest places, as their anchors' costs have it; a place near to where the number stood comes before all. */
static GArray *
find_near (const PawlPlan *self, guint n)
{
  const PawlCallout *before = self->before[n];
  const GArray *anchors = get_callout (self, n)->anchors;
  GArray *near = g_array_sized_new (FALSE, FALSE, sizeof (Near), self->slots->len);

  for (guint s = 0; s < self->slots->len; s++)
    {
      PawlPoint at = g_array_index (self->slots, PawlSlot, s).at;
      Near one = { s, INFINITY };

      if (!may_stand (self, n, s))
        continue;
      for (guint a = 0; a < anchors->len; a++)
        one.bound = MIN (one.bound, get_distance (self, n, a, s) / self->height + get_anchor_cost (self, &g_array_index (anchors, PawlAnchor, a)));
      if (before && get_length (at.x - before->place.x, at.y - before->place.y) < WHOLE_MOVE * self->height)
        one.bound = 0;
      g_array_append_val (near, one);
    }
  g_array_sort (near, compare_near);
  return near;
}

/* The best anchors for one place. */
static void
add_choices (PawlPlan *self, guint n, guint slot)
{
  g_autoptr(GArray) some = g_array_new (FALSE, TRUE, sizeof (PawlChoice));
  double best;

  for (guint a = 0; a < get_callout (self, n)->anchors->len; a++)
    {
      PawlChoice choice = { .slot = slot, .anchor = a };

      price (self, n, &choice);
      g_array_append_val (some, choice);
    }
  g_array_sort (some, compare_choices);
  best = g_array_index (some, PawlChoice, 0).least;
  for (guint i = 0; i < MIN (some->len, MAX_ANCHORS) && g_array_index (some, PawlChoice, i).least <= best + ANCHOR_SLACK; i++)
    g_array_append_val (self->choices[n], g_array_index (some, PawlChoice, i));
}

static guint
find_stay (const PawlPlan *self, guint n)
{
  const PawlCallout *before = self->before[n];

  for (guint i = 0; before && i < self->choices[n]->len; i++)
    {
      PawlPoint at = get_slot (self, pawl_plan_peek (self, n, i))->at;

      if (get_length (at.x - before->place.x, at.y - before->place.y) < SAME_PLACE * self->height)
        return i;
    }
  return 0;
}

PawlPlan *
pawl_plan_new (PawlCallouts *callouts, const PawlIdMap *map, const PawlCallouts *last, guint n_near)
{
  PawlPlan *self = g_new0 (PawlPlan, 1);

  self->callouts = callouts;
  self->map = map;
  self->last = last;
  self->height = callouts->height;
  self->n = callouts->items->len;
  self->half.y = self->height / 2;
  self->choices = g_new0 (GArray *, self->n + 1);
  self->stays = g_new0 (guint, self->n + 1);
  self->before = g_new0 (const PawlCallout *, self->n + 1);
  for (guint i = 0; last && i < self->n; i++)
    self->before[i] = pawl_callouts_lookup (last, get_callout (self, i)->number);
  for (guint i = 0; i < self->n; i++)
    self->half.x = MAX (self->half.x, get_callout (self, i)->width / 2);
  find_enough_slots (self);
  for (guint i = 0; i < self->n; i++)
    {
      g_autoptr(GArray) near = find_near (self, i);

      self->choices[i] = g_array_new (FALSE, TRUE, sizeof (PawlChoice));
      for (guint k = 0; k < MIN (near->len, n_near); k++)
        add_choices (self, i, g_array_index (near, Near, k).slot);
      g_array_sort (self->choices[i], compare_choices);
      self->stays[i] = find_stay (self, i);
    }
  return self;
}

void
pawl_plan_free (PawlPlan *self)
{
  if (!self)
    return;
  for (guint i = 0; i < self->n; i++)
    g_array_unref (self->choices[i]);
  g_free (self->choices);
  g_free (self->stays);
  g_free (self->before);
  g_array_unref (self->slots);
  g_free (self);
}

guint
pawl_plan_find_choice (PawlPlan *self, guint n, guint slot)
{
  PawlChoice choice = { .slot = slot };

  for (guint i = 0; i < self->choices[n]->len; i++)
    if (pawl_plan_peek (self, n, i)->slot == slot)
      return i;
  for (guint a = 1; a < get_callout (self, n)->anchors->len; a++)
    if (get_distance (self, n, a, slot) < get_distance (self, n, choice.anchor, slot))
      choice.anchor = a;
  price (self, n, &choice);
  g_array_append_val (self->choices[n], choice);
  return self->choices[n]->len - 1;
}

/* ---- what two choices cost each other ---- */

static double
cross_product (PawlPoint a, PawlPoint b, PawlPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static gboolean
leaders_cross (const PawlChoice *p, const PawlChoice *q)
{
  return cross_product (p->from, p->to, q->from) * cross_product (p->from, p->to, q->to) < 0
         && cross_product (q->from, q->to, p->from) * cross_product (q->from, q->to, p->to) < 0;
}

/* Narrows the shares of a line, @from and @to, to where one coordinate is within @half of a middle. FALSE: nowhere. */
static gboolean
narrow (double start, double step, double half, double *from, double *to)
{
  double a, b;

  if (step == 0)
    return fabs (start) < half;
  a = (-half - start) / step;
  b = (half - start) / step;
  *from = MAX (*from, MIN (a, b));
  *to = MIN (*to, MAX (a, b));
  return *from < *to;
}

static gboolean
crosses_number (const PawlPlan *self, const PawlChoice *leader, PawlPoint middle, double width)
{
  double gap = GAP_TO_OTHER_LEADER * self->height, from = 0, to = 1;

  return narrow (leader->from.x - middle.x, leader->to.x - leader->from.x, width / 2 + gap, &from, &to)
         && narrow (leader->from.y - middle.y, leader->to.y - leader->from.y, self->height / 2 + gap, &from, &to);
}

static double
get_near_cost (const PawlPlan *self, const PawlChoice *leader, PawlPoint p)
{
  double dx = leader->to.x - leader->from.x, dy = leader->to.y - leader->from.y, square = dx * dx + dy * dy;
  double share = square > 0 ? CLAMP (((p.x - leader->from.x) * dx + (p.y - leader->from.y) * dy) / square, 0, 1) : 0;
  double x = leader->from.x + share * dx - p.x, y = leader->from.y + share * dy - p.y, reach = NEAR_ANCHOR * self->height;
  double distance_square = x * x + y * y;

  return distance_square < reach * reach ? COST_NEAR_ANCHOR * (1 - sqrt (distance_square) / reach) : 0;
}

/* FALSE: so far apart that they cost each other nothing. */
static gboolean
may_meet (const PawlPlan *self, const PawlChoice *p, const PawlChoice *q, PawlPoint at_p, PawlPoint at_q)
{
  double reach = NEAR_ANCHOR * self->height;

  return MIN (at_p.x - self->half.x, p->to.x) - reach < MAX (at_q.x + self->half.x, q->to.x)
         && MIN (at_q.x - self->half.x, q->to.x) - reach < MAX (at_p.x + self->half.x, p->to.x)
         && MIN (at_p.y - self->half.y, p->to.y) - reach < MAX (at_q.y + self->half.y, q->to.y)
         && MIN (at_q.y - self->half.y, q->to.y) - reach < MAX (at_p.y + self->half.y, p->to.y);
}

double
pawl_plan_get_pair (const PawlPlan *self, guint p, guint a, guint q, guint b)
{
  const PawlChoice *x = pawl_plan_peek (self, p, a), *y = pawl_plan_peek (self, q, b);
  PawlPoint at_x = get_slot (self, x)->at, at_y = get_slot (self, y)->at;
  double width_x, width_y, cost = 0;

  if (!may_meet (self, x, y, at_x, at_y))
    return 0;
  width_x = get_callout (self, p)->width;
  width_y = get_callout (self, q)->width;
  if (fabs (at_x.x - at_y.x) < (width_x + width_y) / 2 + GAP_TO_OTHER_NUMBER * self->height
      && fabs (at_x.y - at_y.y) < (1 + GAP_TO_OTHER_NUMBER) * self->height)
    cost += PAWL_PLAN_FORBIDDEN;
  if (leaders_cross (x, y))
    cost += PAWL_PLAN_FORBIDDEN;
  if (crosses_number (self, x, at_y, width_y))
    cost += PAWL_PLAN_FORBIDDEN;
  if (crosses_number (self, y, at_x, width_x))
    cost += PAWL_PLAN_FORBIDDEN;
  return cost + get_near_cost (self, x, y->to) + get_near_cost (self, y, x->to);
}

double
pawl_plan_get_cost (const PawlPlan *self, const PawlSeat *seats)
{
  g_autofree gboolean *is_used = g_new0 (gboolean, self->n_lines + 1);
  double cost = 0;

  for (guint p = 0; p < self->n; p++)
    {
      guint line = pawl_plan_get_line (self, p, seats[p]);

      cost += pawl_plan_peek (self, p, seats[p].choice)->cost[seats[p].which] + (is_used[line] ? 0 : PAWL_PLAN_LINE);
      is_used[line] = TRUE;
      for (guint q = p + 1; q < self->n; q++)
        cost += pawl_plan_get_pair (self, p, seats[p].choice, q, seats[q].choice);
    }
  return cost;
}
