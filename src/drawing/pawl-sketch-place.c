/* Room for words: of all places where nothing else is, the one nearest to what they speak of. */
#include <math.h>

#include "drawing/pawl-sketch-private.h"

/* All as shares of the text's size. */
#define STEP 0.4         /* from one place that is tried to the next */
#define CLOSE 1.3        /* as near, words need no leader */
#define SHORTEST 0.7     /* of a leader */
#define AT_END 0.7       /* so near its end a leader may meet another line that begins there */
#define ON_PART 4.0      /* what it costs to stand on a part */
#define SLANT 0.25       /* what it costs a leader to be neither level nor upright, per its length */
#define DOT 0.13

typedef struct {
  double    cost;
  PawlPoint from;      /* where the leader begins */
  gboolean  has_leader;
} Way;

/* All but the last bit, where a dimension may begin as well. */
static gboolean
is_leader_free (const PawlSketchPane *pane, PawlPoint from, PawlPoint anchor)
{
  double length = hypot (anchor.x - from.x, anchor.y - from.y), share = MAX (0, 1 - AT_END * pane->text / MAX (length, 1e-9));
  PawlPoint near = { from.x + share * (anchor.x - from.x), from.y + share * (anchor.y - from.y) };

  return pawl_sketch_pane_line_is_free (pane, from, near, PAWL_CLEAR_OF_NOTES) && pawl_sketch_pane_line_is_free (pane, near, anchor, PAWL_CLEAR_OF_TEXT);
}

static PawlPoint
get_nearest_in_box (PawlBox box, PawlPoint p)
{
  return (PawlPoint) { CLAMP (p.x, box.x, box.x + box.width), CLAMP (p.y, box.y, box.y + box.height) };
}

/* Leaders begin at the middle of a side, a little off. */
static PawlPoint
get_begin (PawlBox box, PawlPoint anchor, double gap)
{
  PawlPoint middle = { box.x + box.width / 2, box.y + box.height / 2 };
  double beside = MAX (box.x - anchor.x, anchor.x - box.x - box.width), above = MAX (box.y - anchor.y, anchor.y - box.y - box.height);

  if (beside >= above)
    return (PawlPoint) { anchor.x < middle.x ? box.x - gap : box.x + box.width + gap, middle.y };
  return (PawlPoint) { CLAMP (anchor.x, box.x + MIN (gap, box.width / 2), box.x + MAX (box.width - gap, box.width / 2)),
                       anchor.y < middle.y ? box.y - 0.3 * gap : box.y + box.height + 0.3 * gap };
}

/* What it costs to stand in @box and speak of @anchor; infinite when that can't be. */
static Way
find_way (const PawlSketchPane *pane, PawlBox box, PawlPoint anchor, PawlSketchLeading leading, double longest, double best)
{
  double text = pane->text, length, dx, dy;
  PawlPoint near = get_nearest_in_box (box, anchor);
  Way way = { .cost = hypot (near.x - anchor.x, near.y - anchor.y) };

  way.has_leader = leading == PAWL_LEADING_ALWAYS || way.cost > CLOSE * text;
  if (way.has_leader && leading == PAWL_LEADING_NEVER)
    {
      way.cost = INFINITY;
      return way;
    }
  if (!way.has_leader)
    {
      /* Under it rather than above, and not off to the side. */
      way.cost += 0.4 * fabs (box.x + box.width / 2 - anchor.x) + (box.y < anchor.y ? 0.3 * text : 0);
      way.cost += ON_PART * text * pawl_sketch_pane_get_cover (pane, box);
      return way;
    }
  way.from = get_begin (box, anchor, 0.25 * text);
  dx = fabs (way.from.x - anchor.x);
  dy = fabs (way.from.y - anchor.y);
  length = hypot (dx, dy);
  way.cost = length + SLANT * MIN (dx, dy) + (leading == PAWL_LEADING_ALWAYS ? 0 : 3 * text) + ON_PART * text * pawl_sketch_pane_get_cover (pane, box);
  if (length < SHORTEST * text || length > longest * text || way.cost >= best || !is_leader_free (pane, way.from, anchor))
    way.cost = INFINITY;
  return way;
}

/* What it costs at the least, without a look at what is there. */
static double
get_least_cost (const PawlSketchPane *pane, PawlBox box, PawlPoint anchor, PawlSketchLeading leading, double longest)
{
  PawlPoint near = get_nearest_in_box (box, anchor);
  double away = hypot (near.x - anchor.x, near.y - anchor.y);

  return away > (leading == PAWL_LEADING_NEVER ? CLOSE : longest) * pane->text ? INFINITY : away;
}

/* Where words can stand at all: in the room, and no farther from the anchor than they may. */
static PawlBox
get_window (const PawlSketchSpot *spot, double width, double height, double reach)
{
  PawlBox room = spot->pane->room;
  double x0 = MAX (room.x, spot->anchor.x - reach - width), y0 = MAX (room.y, spot->anchor.y - reach - height);
  double x1 = MIN (room.x + room.width, spot->anchor.x + reach + width), y1 = MIN (room.y + room.height, spot->anchor.y + reach + height);

  return (PawlBox) { x0, y0, x1 - x0, y1 - y0 };
}

static double
get_cost (const PawlSketchSpot *spots, guint n_spots, PawlBox box, PawlSketchLeading leading, double longest, double best)
{
  double cost = 0;

  for (guint i = 0; i < n_spots; i++)
    {
      PawlBox there = { box.x + spots[i].pane->room.x - spots[0].pane->room.x, box.y + spots[i].pane->room.y - spots[0].pane->room.y, box.width, box.height };

      if (cost + get_least_cost (spots[i].pane, there, spots[i].anchor, leading, longest) >= best || !pawl_sketch_pane_is_free (spots[i].pane, there))
        return INFINITY;
      cost += find_way (spots[i].pane, there, spots[i].anchor, leading, longest, best).cost;
      if (cost >= best)
        return INFINITY;
    }
  return cost;
}

static void
add_words (const PawlSketchSpot *spot, PawlBox box, PangoLayout *layout, PawlSketchLeading leading)
{
  Way way = find_way (spot->pane, box, spot->anchor, leading, INFINITY, INFINITY);

  if (way.has_leader)
    {
      PawlPoint leader[] = { way.from, spot->anchor };

      pawl_sketch_pane_add_line (spot->pane, PAWL_LOOK_THIN, leader, 2, FALSE);
      pawl_sketch_pane_add_circle (spot->pane, PAWL_LOOK_HEAD, spot->anchor, DOT * spot->pane->text);
    }
  pawl_sketch_pane_add_text (spot->pane, layout, (PawlPoint) { box.x, box.y }, PAWL_TONE_INK);
}

gboolean
pawl_sketch_place_words (const PawlSketchSpot *spots, guint n_spots, PangoLayout *layout, PawlSketchLeading leading, double longest)
{
  const PawlSketchPane *pane = spots[0].pane;
  double width, height, best = INFINITY;
  PawlBox at = { 0 }, window;

  pawl_sketch_get_text_size (layout, &width, &height);
  window = get_window (&spots[0], width, height, (leading == PAWL_LEADING_NEVER ? CLOSE : longest) * pane->text);
  for (double y = window.y; y + height <= window.y + window.height; y += STEP * pane->text)
    for (double x = window.x; x + width <= window.x + window.width; x += STEP * pane->text)
      {
        PawlBox box = { x, y, width, height };
        double cost = get_cost (spots, n_spots, box, leading, longest, best);

        if (cost < best)
          {
            best = cost;
            at = box;
          }
      }
  if (!isfinite (best))
    return FALSE;
  for (guint i = 0; i < n_spots; i++)
    add_words (&spots[i], (PawlBox) { at.x + spots[i].pane->room.x - pane->room.x, at.y + spots[i].pane->room.y - pane->room.y, width, height },
               layout, leading);
  return TRUE;
}
