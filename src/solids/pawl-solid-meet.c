/* Where the surfaces of two shapes cross: the surface of one is laid out as sheets with two parameters, and the line between
   their parts inside and outside the other shape is followed from cell to cell, each crossing found by halving. */
#include "solids/pawl-solid-curve.h"

#define CHORD_ERROR_MM 0.005

typedef enum { SHEET_SIDE, SHEET_WALL, SHEET_CAP } SheetKind;

/* A stretch of surface over the grid 0..n_u by 0..n_v. */
typedef struct {
  const PawlSolidShape   *shape;
  const PawlSolidShape   *other;
  const PawlSolidOutline *outline;
  SheetKind               kind;
  guint                   side;    /* SHEET_SIDE: of the turned outline; SHEET_WALL: of the plate's outline */
  double                  z;       /* SHEET_CAP */
  PawlFlat                low, high; /* SHEET_CAP */
  guint                   n_u, n_v;
} Sheet;

static PawlVec
sheet_local (const Sheet *sheet, double u, double v, PawlVec *normal)
{
  double s = u / sheet->n_u, t = v / sheet->n_v;

  if (sheet->kind == SHEET_CAP)
    {
      *normal = vec (0, 0, sheet->z == sheet->shape->z1 ? 1 : -1);
      return vec (sheet->low.x + s * (sheet->high.x - sheet->low.x), sheet->low.y + t * (sheet->high.y - sheet->low.y), sheet->z);
    }
  else
    {
      const PawlSolidOutline *o = sheet->outline;
      guint i = sheet->side;
      PawlFlat a = o->at[i], b = o->at[(i + 1) % o->n], m = o->start[i], n = o->end[i];
      PawlFlat p = { a.x + s * (b.x - a.x), a.y + s * (b.y - a.y) }, f = { m.x + s * (n.x - m.x), m.y + s * (n.y - m.y) };

      if (sheet->kind == SHEET_WALL)
        {
          *normal = vec_unit (vec (f.x, f.y, 0));
          return vec (p.x, p.y, sheet->shape->z0 + t * (sheet->shape->z1 - sheet->shape->z0));
        }
      *normal = vec_unit (vec (f.y * cos (2 * G_PI * t), f.y * sin (2 * G_PI * t), f.x));
      return vec (p.y * cos (2 * G_PI * t), p.y * sin (2 * G_PI * t), p.x);
    }
}

static PawlVec
sheet_point (const Sheet *sheet, double u, double v, PawlVec *normal)
{
  PawlVec n, p = frame_place (&sheet->shape->frame, sheet_local (sheet, u, v, &n));

  *normal = frame_turn (&sheet->shape->frame, n);
  return p;
}

static gboolean
sheet_inside (const Sheet *sheet, double u, double v)
{
  PawlVec n;

  return pawl_solid_shape_holds (sheet->other, sheet_point (sheet, u, v, &n));
}

typedef struct { double u, v; } Place;

static PawlSolidCurvePoint
crossing_point (const Sheet *sheet, Place place)
{
  PawlSolidCurvePoint point;

  point.p = sheet_point (sheet, place.u, place.v, &point.n1);
  point.n2 = pawl_solid_shape_normal (sheet->other, point.p);
  point.t1 = vec_unit (vec_step (point.n2, -vec_dot (point.n1, point.n2), point.n1));
  point.t2 = vec_unit (vec_step (point.n1, -vec_dot (point.n1, point.n2), point.n2));
  return point;
}

/* The crossing on the way from @a, inside or not, to @b, which is the other. */
static Place
find_crossing (const Sheet *sheet, Place a, Place b, gboolean inside)
{
  for (guint k = 0; k < 24; k++)
    {
      Place middle = { (a.u + b.u) / 2.0, (a.v + b.v) / 2.0 };

      if (sheet_inside (sheet, middle.u, middle.v) == inside)
        a = middle;
      else
        b = middle;
    }
  return a;
}

/* Grid edges are numbered: along u from (i, j): 2 (j (n_u + 1) + i); along v from it: one more. */
static guint
edge_id (const Sheet *sheet, guint i, guint j, gboolean along_v)
{
  return 2 * (j * (sheet->n_u + 1) + i) + (along_v ? 1 : 0);
}

typedef struct { guint to[2]; guint n; } Link;

static void
link_edges (GHashTable *links, guint a, guint b)
{
  for (guint k = 0; k < 2; k++)
    {
      guint from = k ? b : a, to = k ? a : b;
      Link *link = g_hash_table_lookup (links, GUINT_TO_POINTER (from + 1));

      if (link == NULL)
        {
          link = g_new0 (Link, 1);
          g_hash_table_insert (links, GUINT_TO_POINTER (from + 1), link);
        }
      if (link->n < 2)
        link->to[link->n++] = to;
    }
}

/* Joins the crossings on the edges of one cell in pairs. */
static void
link_cell (const Sheet *sheet, const gboolean *in, guint i, guint j, GHashTable *links)
{
  guint w = sheet->n_u + 1, crossed[4], n = 0;
  gboolean a = in[j * w + i], b = in[j * w + i + 1], c = in[(j + 1) * w + i + 1], d = in[(j + 1) * w + i];

  if (a != b)
    crossed[n++] = edge_id (sheet, i, j, FALSE);
  if (b != c)
    crossed[n++] = edge_id (sheet, i + 1, j, TRUE);
  if (c != d)
    crossed[n++] = edge_id (sheet, i, j + 1, FALSE);
  if (d != a)
    crossed[n++] = edge_id (sheet, i, j, TRUE);
  for (guint k = 0; k + 1 < n; k += 2)
    link_edges (links, crossed[k], crossed[k + 1]);
}

static Place
edge_place (const Sheet *sheet, const gboolean *in, guint id)
{
  guint i = (id / 2) % (sheet->n_u + 1), j = (id / 2) / (sheet->n_u + 1);
  Place a = { i, j }, b = id % 2 == 0 ? (Place) { i + 1, j } : (Place) { i, j + 1 };

  return find_crossing (sheet, a, b, in[j * (sheet->n_u + 1) + i]);
}

/* Adds points between two crossings of one cell until the chords are as near to the line as those of an arc. */
static void
refine (const Sheet *sheet, Place a, Place b, guint depth, PawlSolidCurve *curve)
{
  PawlSolidCurvePoint p = crossing_point (sheet, a), q = crossing_point (sheet, b), found;
  Place middle = { (a.u + b.u) / 2.0, (a.v + b.v) / 2.0 }, left, right;
  double across_u = -(b.v - a.v) / 2.0, across_v = (b.u - a.u) / 2.0;
  gboolean inside;

  left = (Place) { CLAMP (middle.u + across_u, 0.0, sheet->n_u), CLAMP (middle.v + across_v, 0.0, sheet->n_v) };
  right = (Place) { CLAMP (middle.u - across_u, 0.0, sheet->n_u), CLAMP (middle.v - across_v, 0.0, sheet->n_v) };
  inside = sheet_inside (sheet, left.u, left.v);
  if (depth == 0 || inside == sheet_inside (sheet, right.u, right.v))
    return;
  middle = find_crossing (sheet, left, right, inside);
  found = crossing_point (sheet, middle);
  if (vec_length (vec_sub (found.p, vec_between (p.p, q.p, 0.5))) < CHORD_ERROR_MM)
    return;
  refine (sheet, a, middle, depth - 1, curve);
  g_array_append_val (curve->points, found);
  refine (sheet, middle, b, depth - 1, curve);
}

/* Follows the links from @start until they end or come round. */
static void
follow (const Sheet *sheet, const gboolean *in, guint start, GHashTable *links, GHashTable *done, GPtrArray *curves)
{
  PawlSolidCurve *curve = pawl_solid_curve_new (PAWL_CURVE_MEET, sheet->shape, sheet->other);
  guint at = start, before = G_MAXUINT;
  Place last = { 0, 0 };
  gboolean goes_on = TRUE;

  while (goes_on)
    {
      Place place = edge_place (sheet, in, at);
      PawlSolidCurvePoint point = crossing_point (sheet, place);
      const Link *link = g_hash_table_lookup (links, GUINT_TO_POINTER (at + 1));
      guint next = G_MAXUINT;

      if (before != G_MAXUINT)
        refine (sheet, last, place, 4, curve);
      g_array_append_val (curve->points, point);
      if (!g_hash_table_add (done, GUINT_TO_POINTER (at + 1)))
        break; /* round and back: the first point closes the line */
      for (guint k = 0; k < link->n; k++)
        if (link->to[k] != before)
          next = link->to[k];
      goes_on = next != G_MAXUINT;
      last = place;
      before = at;
      at = next;
    }
  if (curve->points->len > 1)
    g_ptr_array_add (curves, curve);
  else
    pawl_solid_curve_free (curve);
}

static void
trace_sheet (const Sheet *sheet, GPtrArray *curves)
{
  guint w = sheet->n_u + 1, h = sheet->n_v + 1;
  g_autofree gboolean *in = g_new (gboolean, w * h);
  g_autoptr(GHashTable) links = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  g_autoptr(GHashTable) done = g_hash_table_new (NULL, NULL);
  gboolean any = FALSE, all = TRUE;

  for (guint j = 0; j < h; j++)
    for (guint i = 0; i < w; i++)
      {
        in[j * w + i] = sheet_inside (sheet, i, j);
        any = any || in[j * w + i];
        all = all && in[j * w + i];
      }
  if (!any || all)
    return;
  for (guint j = 0; j + 1 < h; j++)
    for (guint i = 0; i + 1 < w; i++)
      link_cell (sheet, in, i, j, links);
  for (guint pass = 0; pass < 2; pass++) /* lines with ends first, then rings */
    for (guint id = 0; id < 2 * w * h; id++)
      {
        const Link *link = g_hash_table_lookup (links, GUINT_TO_POINTER (id + 1));

        if (link != NULL && (pass == 1 || link->n == 1) && !g_hash_table_contains (done, GUINT_TO_POINTER (id + 1)))
          follow (sheet, in, id, links, done, curves);
      }
}

static guint
cells (double length, double step)
{
  return (guint) CLAMP (ceil (length / step), 1, 160);
}

static void
trace_turned (const PawlSolidShape *shape, const PawlSolidShape *other, double step, GPtrArray *curves)
{
  const PawlSolidOutline *o = g_ptr_array_index (shape->outlines, 0);

  for (guint i = 0; i < o->n; i++)
    {
      PawlFlat a = o->at[i], b = o->at[(i + 1) % o->n];
      Sheet sheet = {
        .shape = shape, .other = other, .outline = o, .kind = SHEET_SIDE, .side = i,
        .n_u = cells (hypot (a.x - b.x, a.y - b.y), step), .n_v = pawl_solid_arc_steps (MAX (a.y, b.y), 2 * G_PI),
      };

      if (a.y > 1e-9 || b.y > 1e-9)
        trace_sheet (&sheet, curves);
    }
}

static void
trace_plate (const PawlSolidShape *shape, const PawlSolidShape *other, double step, GPtrArray *curves)
{
  const PawlSolidOutline *outside = g_ptr_array_index (shape->outlines, 0);
  Sheet cap = { .shape = shape, .other = other, .kind = SHEET_CAP, .low = { INFINITY, INFINITY }, .high = { -INFINITY, -INFINITY } };

  for (guint k = 0; k < shape->outlines->len; k++)
    {
      const PawlSolidOutline *o = g_ptr_array_index (shape->outlines, k);

      for (guint i = 0; i < o->n; i++)
        {
          PawlFlat a = o->at[i], b = o->at[(i + 1) % o->n];
          Sheet wall = {
            .shape = shape, .other = other, .outline = o, .kind = SHEET_WALL, .side = i,
            .n_u = cells (hypot (a.x - b.x, a.y - b.y), step), .n_v = cells (shape->z1 - shape->z0, step),
          };

          trace_sheet (&wall, curves);
        }
    }
  for (guint i = 0; i < outside->n; i++)
    {
      cap.low = (PawlFlat) { MIN (cap.low.x, outside->at[i].x), MIN (cap.low.y, outside->at[i].y) };
      cap.high = (PawlFlat) { MAX (cap.high.x, outside->at[i].x), MAX (cap.high.y, outside->at[i].y) };
    }
  cap.n_u = cells (cap.high.x - cap.low.x, step);
  cap.n_v = cells (cap.high.y - cap.low.y, step);
  for (guint top = 0; top < 2; top++)
    {
      cap.z = top ? shape->z1 : shape->z0;
      trace_sheet (&cap, curves);
    }
}

static double
size_of (const PawlSolidShape *shape)
{
  return vec_length (vec_sub (shape->high, shape->low));
}

/**
 * pawl_solid_shapes_meet:
 *
 * Adds the lines in which the surfaces of @a and @b cross. The smaller of the two is laid out, so that a small hole
 * through a large face is found. Wires are left out: nothing in a figure cuts a spring.
 */
void
pawl_solid_shapes_meet (const PawlSolidShape *a, const PawlSolidShape *b, GPtrArray *curves)
{
  const PawlSolidShape *small = size_of (a) <= size_of (b) ? a : b, *large = small == a ? b : a;
  double step = CLAMP (size_of (small) / 60.0, 0.1, 1.2);

  if (a->kind == PAWL_SHAPE_WIRE || b->kind == PAWL_SHAPE_WIRE)
    return;
  if (a->low.x > b->high.x || a->low.y > b->high.y || a->low.z > b->high.z
      || b->low.x > a->high.x || b->low.y > a->high.y || b->low.z > a->high.z)
    return;
  if (small->kind == PAWL_SHAPE_TURNED)
    trace_turned (small, large, step, curves);
  else
    trace_plate (small, large, step, curves);
}
