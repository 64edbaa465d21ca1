/* Dimensions: extension lines, a dimension line with arrowheads, and the words at it, where there is room. ISO 129-1, from memory. */
#include <math.h>

#include "drawing/pawl-sketch-private.h"

/* All as shares of the text's size. */
#define NEAREST 1.0      /* of the dimension line to what it measures */
#define STEP 0.3
#define BEYOND 0.3       /* of the extension line past the dimension line */
#define HEAD 0.75        /* length of an arrowhead */
#define TAIL 1.3         /* of an arrow that stands outside, as the inside is tight */
#define WORDS_GAP 0.3
#define ON_PART 3.0      /* what it costs to lie on a part */
/* Under this slope a dimension is drawn level or upright. */
#define LEVEL_SLOPE 0.12
#define MOST_STEPS 90
#define EXTENSION_PROBES 40
/* A dimension line inside its arc costs so much more, and is not drawn nearer to the middle than this share. */
#define INSIDE_COST 1.6
#define INSIDE_SHARE 0.5

typedef struct {
  PawlPoint a, b;     /* ends of the dimension line */
  PawlPoint u;        /* unit, a to b */
  double    length;
  gboolean  is_tight; /* arrows outside */
  PawlBox   words;
} Line;

static PawlPoint
move (PawlPoint p, PawlPoint direction, double by)
{
  return (PawlPoint) { p.x + by * direction.x, p.y + by * direction.y };
}

static PawlPoint
get_unit (PawlPoint p, PawlPoint q)
{
  double length = MAX (hypot (q.x - p.x, q.y - p.y), 1e-9);

  return (PawlPoint) { (q.x - p.x) / length, (q.y - p.y) / length };
}

static PawlBox
centre_box (PawlPoint middle, double width, double height)
{
  return (PawlBox) { middle.x - width / 2, middle.y - height / 2, width, height };
}

/* Half of what a box takes up in a direction. */
static double
get_extent (double width, double height, PawlPoint direction)
{
  return fabs (direction.x) * width / 2 + fabs (direction.y) * height / 2;
}

static void
add_line (PawlSketchPane *pane, PawlPoint from, PawlPoint to)
{
  PawlPoint points[] = { from, to };

  pawl_sketch_pane_add_line (pane, PAWL_LOOK_THIN, points, 2, FALSE);
}

/* ---- straight ---- */

/* Where words may stand at a dimension line: beyond its middle, or past its ends. */
static PawlBox
get_words_box (const PawlSketchPane *pane, const Line *line, PawlPoint outward, int place, double width, double height)
{
  PawlPoint middle = { (line->a.x + line->b.x) / 2, (line->a.y + line->b.y) / 2 };
  double gap = WORDS_GAP * pane->text, tail = (line->is_tight ? TAIL + HEAD : 0.3) * pane->text;

  switch (place)
    {
    case 0:
      return centre_box (move (middle, outward, gap + get_extent (width, height, outward)), width, height);
    case 1:
      return centre_box (move (line->b, line->u, tail + gap + get_extent (width, height, line->u)), width, height);
    default:
      return centre_box (move (line->a, line->u, -tail - gap - get_extent (width, height, line->u)), width, height);
    }
}

static gboolean
is_line_free (const PawlSketchPane *pane, const Line *line)
{
  double tail = line->is_tight ? (TAIL + 0.2) * pane->text : 0;
  PawlPoint from = move (line->a, line->u, -tail), to = move (line->b, line->u, tail);
  PawlPoint n = { -line->u.y, line->u.x };
  double half = 0.25 * pane->text;

  /* Its heads need room as well. */
  for (int i = -1; i <= 1; i++)
    if (!pawl_sketch_pane_line_is_free (pane, move (from, n, i * half), move (to, n, i * half), PAWL_CLEAR_OF_ALL))
      return FALSE;
  return TRUE;
}

/* The dimension line on the @side of pq, @off from the farther of the two. */
static Line
draw_line_at (const PawlSketchPane *pane, PawlPoint p, PawlPoint q, PawlPoint *outward, int side, double off)
{
  double dx = fabs (q.x - p.x), dy = fabs (q.y - p.y);
  Line line = { .a = p, .b = q, .u = get_unit (p, q) };

  *outward = (PawlPoint) { -side * line.u.y, side * line.u.x };
  if (dy < LEVEL_SLOPE * dx)
    {
      *outward = (PawlPoint) { 0, side };
      line.a.y = line.b.y = side * MAX (side * p.y, side * q.y);
    }
  else if (dx < LEVEL_SLOPE * dy)
    {
      *outward = (PawlPoint) { side, 0 };
      line.a.x = line.b.x = side * MAX (side * p.x, side * q.x);
    }
  line.a = move (line.a, *outward, off);
  line.b = move (line.b, *outward, off);
  line.u = get_unit (line.a, line.b);
  line.length = hypot (line.b.x - line.a.x, line.b.y - line.a.y);
  line.is_tight = line.length < 2.6 * HEAD * pane->text;
  return line;
}

static void
add_dimension_line (PawlSketchPane *pane, const Line *line)
{
  double tail = TAIL * pane->text;

  add_line (pane, line->is_tight ? move (line->a, line->u, -tail) : line->a, line->is_tight ? move (line->b, line->u, tail) : line->b);
  pawl_sketch_pane_add_head (pane, PAWL_LOOK_HEAD, line->is_tight ? move (line->a, line->u, -tail) : line->b, line->a);
  pawl_sketch_pane_add_head (pane, PAWL_LOOK_HEAD, line->is_tight ? move (line->b, line->u, tail) : line->a, line->b);
}

static void
add_extensions (PawlSketchPane *pane, PawlPoint p, PawlPoint q, const Line *line, PawlPoint outward)
{
  add_line (pane, p, move (line->a, outward, BEYOND * pane->text));
  add_line (pane, q, move (line->b, outward, BEYOND * pane->text));
}

gboolean
pawl_sketch_pane_add_dimension (PawlSketchPane *self, PawlPoint p, PawlPoint q, PangoLayout *layout)
{
  double width, height, best = INFINITY;
  PawlPoint best_outward = { 0, 0 };
  Line best_line = { 0 };

  pawl_sketch_get_text_size (layout, &width, &height);
  for (int side = -1; side <= 1; side += 2)
    for (int step = 0; step < MOST_STEPS; step++)
      {
        double off = (NEAREST + step * STEP) * self->text;
        PawlPoint outward;
        Line line = draw_line_at (self, p, q, &outward, side, off);

        if (off >= best)
          break;
        if (!is_line_free (self, &line) || !pawl_sketch_pane_line_is_free (self, p, line.a, PAWL_CLEAR_OF_NOTES) || !pawl_sketch_pane_line_is_free (self, q, line.b, PAWL_CLEAR_OF_NOTES))
          continue;
        for (int place = 0; place < 3; place++)
          {
            PawlBox box = get_words_box (self, &line, outward, place, width, height);
            double cost = off + place * 0.7 * self->text + ON_PART * self->text * pawl_sketch_pane_get_cover (self, box);

            if (place == 0 && line.is_tight && fabs (line.u.x) < 0.7)
              cost += 0.6 * self->text; /* beside a short upright one the words hide its tails */
            if (cost < best && pawl_sketch_pane_is_free (self, box))
              {
                best = cost;
                best_line = line;
                best_line.words = box;
                best_outward = outward;
              }
          }
      }
  if (!isfinite (best))
    return FALSE;
  add_extensions (self, p, q, &best_line, best_outward);
  add_dimension_line (self, &best_line);
  pawl_sketch_pane_add_text (self, layout, (PawlPoint) { best_line.words.x, best_line.words.y }, PAWL_TONE_INK);
  return TRUE;
}

void
pawl_sketch_pane_add_lens_dimension (PawlSketchPane *self, PawlPoint p, PawlPoint q, int side)
{
  guint first = self->items->len;
  PawlPoint outward;
  Line line = draw_line_at (self, p, q, &outward, side, 1.2 * self->text);

  add_extensions (self, p, q, &line, outward);
  add_dimension_line (self, &line);
  for (guint i = first; i < self->items->len; i++)
    ((PawlSketchItem *) g_ptr_array_index (self->items, i))->is_in_lens = TRUE;
}

/* ---- along an arc ---- */

typedef struct {
  PawlPoint middle;
  double    near;     /* radius at which it is measured */
  double    from, to; /* radians, from < to, as on the surface: clockwise */
  double    radius;   /* of the dimension line */
  gboolean  is_tight;
  PawlBox   words;
} Arc;

static PawlPoint
get_on_arc (const Arc *arc, double radius, double angle)
{
  return (PawlPoint) { arc->middle.x + radius * cos (angle), arc->middle.y + radius * sin (angle) };
}

static gboolean
is_arc_free (const PawlSketchPane *pane, const Arc *arc)
{
  /* Its ends may lie on what it measures, as the extension lines do. */
  double more = (arc->is_tight ? 1.5 : -0.5) * pane->text / arc->radius, step = 0.5 * pane->text / arc->radius;

  for (double angle = arc->from - more; angle < arc->to + more; angle += step)
    for (int i = -1; i <= 1; i++)
      {
        double radius = arc->radius + 0.25 * i * pane->text;

        if (!pawl_sketch_pane_line_is_free (pane, get_on_arc (arc, radius, angle), get_on_arc (arc, radius, MIN (angle + step, arc->to + more)), PAWL_CLEAR_OF_ALL))
          return FALSE;
      }
  return TRUE;
}

static gboolean
is_in_box (PawlPoint p, PawlBox box, double margin)
{
  return p.x > box.x - margin && p.x < box.x + box.width + margin && p.y > box.y - margin && p.y < box.y + box.height + margin;
}

/* The dimension line and its extension lines are not on the pane yet, and the line bends: it may run into words that stand beside it. */
static gboolean
is_off_arc (const PawlSketchPane *pane, const Arc *arc, PawlBox box)
{
  double more = arc->is_tight ? (TAIL + HEAD) * pane->text / arc->radius : 0, step = 0.2 * pane->text / arc->radius, margin = 0.2 * pane->text;

  for (double angle = arc->from - more; angle <= arc->to + more; angle += step)
    if (is_in_box (get_on_arc (arc, arc->radius, angle), box, margin))
      return FALSE;
  for (int i = 0; i <= EXTENSION_PROBES; i++)
    {
      double radius = arc->near + (arc->radius + copysign (BEYOND * pane->text, arc->radius - arc->near) - arc->near) * i / EXTENSION_PROBES;

      if (is_in_box (get_on_arc (arc, radius, arc->from), box, margin) || is_in_box (get_on_arc (arc, radius, arc->to), box, margin))
        return FALSE;
    }
  return TRUE;
}

/* The words, outside of the dimension line or inside, as near the middle of the arc as there is room. */
static gboolean
find_arc_words (const PawlSketchPane *pane, Arc *arc, double width, double height, double *cost)
{
  double middle = (arc->from + arc->to) / 2, half = (arc->to - arc->from) / 2, best = INFINITY;

  for (int side = 1; side >= -1; side -= 2)
    for (int step = -14; step <= 14; step++)
      {
        double angle = middle + step * (half + (arc->is_tight ? 4 * pane->text / arc->radius : 0)) / 10, away, here;
        PawlPoint direction = { cos (angle), sin (angle) };
        PawlBox box;

        away = arc->radius + side * (WORDS_GAP * pane->text + get_extent (width, height, direction));
        if (away <= 0)
          continue;
        box = centre_box (get_on_arc (arc, away, angle), width, height);
        here = fabs (angle - middle) * arc->radius * 0.3 + (side < 0 ? 1.5 * pane->text : 0) + ON_PART * pane->text * pawl_sketch_pane_get_cover (pane, box);
        if (here < best && is_off_arc (pane, arc, box) && pawl_sketch_pane_is_free (pane, box))
          {
            best = here;
            arc->words = box;
          }
      }
  *cost += best;
  return isfinite (best);
}

static void
add_arc (PawlSketchPane *pane, const Arc *arc)
{
  double turn = HEAD * pane->text / arc->radius, tail = TAIL * pane->text / arc->radius;
  double beyond = arc->radius + copysign (BEYOND * pane->text, arc->radius - arc->near);
  int sign = arc->is_tight ? -1 : 1;

  add_line (pane, get_on_arc (arc, arc->near, arc->from), get_on_arc (arc, beyond, arc->from));
  add_line (pane, get_on_arc (arc, arc->near, arc->to), get_on_arc (arc, beyond, arc->to));
  pawl_sketch_pane_add_arc (pane, PAWL_LOOK_THIN, arc->middle, arc->radius, arc->from - (arc->is_tight ? tail : 0), arc->to + (arc->is_tight ? tail : 0));
  pawl_sketch_pane_add_head (pane, PAWL_LOOK_HEAD, get_on_arc (arc, arc->radius, arc->from + sign * turn), get_on_arc (arc, arc->radius, arc->from));
  pawl_sketch_pane_add_head (pane, PAWL_LOOK_HEAD, get_on_arc (arc, arc->radius, arc->to - sign * turn), get_on_arc (arc, arc->radius, arc->to));
}

gboolean
pawl_sketch_pane_add_arc_dimension (PawlSketchPane *self, PawlPoint middle, PawlPoint p, PawlPoint q, PangoLayout *layout)
{
  Arc arc = { .middle = middle, .near = hypot (p.x - middle.x, p.y - middle.y) }, best_arc = arc;
  double width, height, best = INFINITY, between;

  pawl_sketch_get_text_size (layout, &width, &height);
  arc.from = atan2 (p.y - middle.y, p.x - middle.x);
  between = remainder (atan2 (q.y - middle.y, q.x - middle.x) - arc.from, 2 * G_PI);
  arc.to = arc.from + fabs (between);
  if (between < 0)
    {
      arc.from += between;
      arc.to += between;
    }
  for (int side = 1; side >= -1; side -= 2)
    for (int step = 0; step < MOST_STEPS; step++)
      {
        double off = (NEAREST + step * STEP) * self->text, cost = off * (side < 0 ? INSIDE_COST : 1);

        arc.radius = arc.near + side * off;
        if (off >= best || arc.radius < MAX (INSIDE_SHARE * arc.near, 1.5 * self->text))
          break;
        arc.is_tight = (arc.to - arc.from) * arc.radius < 2.6 * HEAD * self->text;
        if (is_arc_free (self, &arc) && find_arc_words (self, &arc, width, height, &cost) && cost < best)
          {
            best = cost;
            best_arc = arc;
          }
      }
  if (!isfinite (best))
    return FALSE;
  add_arc (self, &best_arc);
  pawl_sketch_pane_add_text (self, layout, (PawlPoint) { best_arc.words.x, best_arc.words.y }, PAWL_TONE_INK);
  return TRUE;
}
