#include "solids/pawl-solid-curve.h"

PawlSolidCurve *
pawl_solid_curve_new (PawlSolidCurveKind kind, const PawlSolidShape *s1, const PawlSolidShape *s2)
{
  PawlSolidCurve *curve = g_new0 (PawlSolidCurve, 1);

  curve->kind = kind;
  curve->points = g_array_new (FALSE, FALSE, sizeof (PawlSolidCurvePoint));
  curve->s1 = s1;
  curve->s2 = s2;
  return curve;
}

void
pawl_solid_curve_free (PawlSolidCurve *curve)
{
  if (curve == NULL)
    return;
  g_array_unref (curve->points);
  g_free (curve);
}

/* Adds a point given in the shape's own frame. */
static void
add_local (PawlSolidCurve *curve, PawlVec p, PawlVec n1, PawlVec n2, PawlVec t1, PawlVec t2)
{
  const PawlFrame *frame = &curve->s1->frame;
  PawlSolidCurvePoint point = {
    frame_place (frame, p), frame_turn (frame, n1), frame_turn (frame, n2), frame_turn (frame, t1), frame_turn (frame, t2),
  };

  g_array_append_val (curve->points, point);
}

/* (axial, radial) turned to @angle about the local z axis. */
static PawlVec
turned (PawlFlat f, double angle)
{
  return vec (f.y * cos (angle), f.y * sin (angle), f.x);
}

static PawlFlat
side_direction (const PawlSolidOutline *o, guint side)
{
  PawlFlat n = o->normal[side];

  return (PawlFlat) { -n.y, n.x };
}

static PawlFlat
opposite (PawlFlat f)
{
  return (PawlFlat) { -f.x, -f.y };
}

static void
turned_crease (const PawlSolidShape *shape, const PawlSolidOutline *o, guint i, GPtrArray *curves)
{
  PawlSolidCurve *curve = pawl_solid_curve_new (PAWL_CURVE_CREASE, shape, shape);
  guint before = (i + o->n - 1) % o->n, steps = pawl_solid_arc_steps (o->at[i].y, 2.0 * G_PI);
  PawlFlat back = opposite (side_direction (o, before)), on = side_direction (o, i);

  for (guint k = 0; k <= steps; k++)
    {
      double angle = 2.0 * G_PI * (k % steps) / steps;

      add_local (curve, turned (o->at[i], angle), turned (o->end[before], angle), turned (o->start[i], angle),
                 turned (back, angle), turned (on, angle));
    }
  g_ptr_array_add (curves, curve);
}

/* The surface of a side turns away from the viewer where n · v = 0, that is at the angle (from that of v)
   acos (-n_axial v_axial / (n_radial v_across)). FALSE if it does so nowhere on the circle with normal @n. */
static gboolean
turning_angle (PawlFlat n, double v_axial, double v_across, double *angle)
{
  double cosine = -n.x * v_axial / (n.y * v_across);

  if (fabs (n.y) < 1e-9 || !(fabs (cosine) <= 1.0))
    return FALSE;
  *angle = acos (cosine);
  return TRUE;
}

/* How far along the side its normal, which turns evenly from @m to @n, is square to the view at @angle. */
static double
turning_share (PawlFlat m, PawlFlat n, double v_axial, double v_across, double angle)
{
  double c = v_across * cos (angle), change = (n.x - m.x) * v_axial + (n.y - m.y) * c;

  return fabs (change) > 1e-12 ? -(m.x * v_axial + m.y * c) / change : -1.0;
}

/* The angles at which the outline enters and leaves a side; where it leaves the side's own circle, it does so at 0 or π. */
static gboolean
turning_range (PawlFlat m, PawlFlat n, double v_axial, double v_across, double *from, double *to)
{
  gboolean at_start = turning_angle (m, v_axial, v_across, from), at_end = turning_angle (n, v_axial, v_across, to);
  double share = turning_share (m, n, v_axial, v_across, 0.0), apex = share >= 0.0 && share <= 1.0 ? 0.0 : G_PI;

  if (!at_start)
    *from = apex;
  if (!at_end)
    *to = apex;
  return at_start || at_end;
}

static void
turned_outline (const PawlSolidShape *shape, const PawlSolidOutline *o, guint side, int hand, GPtrArray *curves)
{
  PawlFlat a = o->at[side], b = o->at[(side + 1) % o->n], m = o->start[side], n = o->end[side];
  double v_axial = shape->local_toward.z, v_across = hypot (shape->local_toward.x, shape->local_toward.y), from, to;
  gboolean is_even = hypot (m.x - n.x, m.y - n.y) < 1e-9;
  PawlSolidCurve *curve;
  guint steps;

  if ((a.y < 1e-9 && b.y < 1e-9) || v_across < 1e-9 || !turning_range (m, n, v_axial, v_across, &from, &to))
    return;
  curve = pawl_solid_curve_new (PAWL_CURVE_OUTLINE, shape, shape);
  steps = is_even ? 1 : pawl_solid_arc_steps (MAX (a.y, b.y), to - from);
  for (guint k = 0; k <= steps; k++)
    {
      double angle = from + (to - from) * k / steps;
      double share = is_even || k == 0 || k == steps ? (double) k / steps : turning_share (m, n, v_axial, v_across, angle);
      double turn = atan2 (shape->local_toward.y, shape->local_toward.x) + hand * angle;
      PawlVec d;

      if ((k == 0 && (angle == 0.0 || angle == G_PI)) || (k == steps && (angle == 0.0 || angle == G_PI)))
        share = turning_share (m, n, v_axial, v_across, angle);
      share = CLAMP (share, 0.0, 1.0);
      d = vec_unit (turned ((PawlFlat) { m.x + share * (n.x - m.x), m.y + share * (n.y - m.y) }, turn));
      add_local (curve, turned ((PawlFlat) { a.x + share * (b.x - a.x), a.y + share * (b.y - a.y) }, turn), d, d, d, d);
    }
  g_ptr_array_add (curves, curve);
}

static void
turned_outlines (const PawlSolidShape *shape, const PawlSolidOutline *o, GPtrArray *curves)
{
  for (guint i = 0; i < o->n; i++)
    for (int hand = -1; hand <= 1; hand += 2)
      turned_outline (shape, o, i, hand, curves);
}

/* The outer radius of a turned outline at @axial, and the normal there. */
static double
radius_at (const PawlSolidOutline *o, double axial, PawlFlat *normal)
{
  double best = 0.0;

  for (guint i = 0; i < o->n; i++)
    {
      PawlFlat a = o->at[i], b = o->at[(i + 1) % o->n];
      double r;

      if (fabs (a.x - b.x) < 1e-9 || axial < MIN (a.x, b.x) || axial > MAX (a.x, b.x))
        continue;
      r = a.y + (b.y - a.y) * (axial - a.x) / (b.x - a.x);
      if (r > best)
        {
          best = r;
          *normal = o->normal[i];
        }
    }
  return best;
}

/* A helix over the surface from @from to @to; @pitch of zero is a ring. */
static void
add_helix (const PawlSolidShape *shape, double from, double to, double pitch, double start, GPtrArray *curves)
{
  const PawlSolidOutline *o = g_ptr_array_index (shape->outlines, 0);
  PawlFlat normal = { 0, 1 };
  double turns = pitch == 0.0 ? 1.0 : (to - from) / fabs (pitch);
  guint steps = (guint) ceil (turns * pawl_solid_arc_steps (radius_at (o, (from + to) / 2.0, &normal), 2.0 * G_PI));
  PawlSolidCurve *curve = pawl_solid_curve_new (PAWL_CURVE_STROKE, shape, shape);

  for (guint k = 0; k <= steps; k++)
    {
      double share = (double) k / steps, axial = pitch == 0.0 ? from : from + share * (to - from);
      double angle = start + (pitch < 0.0 ? -1.0 : 1.0) * 2.0 * G_PI * turns * share, r = radius_at (o, axial, &normal);
      PawlVec n = turned (normal, angle);

      add_local (curve, turned ((PawlFlat) { axial, r }, angle), n, n, n, n);
    }
  g_ptr_array_add (curves, curve);
}

/* Lines that cross on the skin of a knob or a gauze, @pitch apart along the axis, at 45° on the surface. */
static void
add_knurl (const PawlSolidShape *shape, const PawlSolidStroke *stroke, GPtrArray *curves)
{
  const PawlSolidOutline *o = g_ptr_array_index (shape->outlines, 0);
  PawlFlat normal = { 0, 1 };
  double lead = 2.0 * G_PI * radius_at (o, (stroke->from + stroke->to) / 2.0, &normal);
  guint starts = (guint) MAX (6.0, floor (lead / stroke->pitch));

  for (guint k = 0; k < starts; k++)
    for (int hand = -1; hand <= 1; hand += 2)
      add_helix (shape, stroke->from, stroke->to, hand * lead, 2.0 * G_PI * k / starts, curves);
}

static void
turned_curves (const PawlSolidShape *shape, GPtrArray *curves)
{
  const PawlSolidOutline *o = g_ptr_array_index (shape->outlines, 0);

  for (guint i = 0; i < o->n; i++)
    if (!o->smooth[i] && o->at[i].y > 1e-6)
      turned_crease (shape, o, i, curves);
  turned_outlines (shape, o, curves);
  for (guint k = 0; k < shape->strokes->len; k++)
    {
      const PawlSolidStroke *stroke = &g_array_index (shape->strokes, PawlSolidStroke, k);

      if (stroke->kind == PAWL_STROKE_KNURL)
        add_knurl (shape, stroke, curves);
      else
        add_helix (shape, stroke->from, stroke->to, stroke->kind == PAWL_STROKE_RING ? 0.0 : stroke->pitch, 0.0, curves);
    }
}

/* Both rims of one outline: a new line begins at every sharp corner, where the wall's normal jumps. */
static void
plate_rims (const PawlSolidShape *shape, const PawlSolidOutline *o, GPtrArray *curves)
{
  for (guint top = 0; top < 2; top++)
    {
      PawlVec cap = vec (0, 0, top ? 1 : -1), down = vec_scale (cap, -1);
      PawlSolidCurve *curve = NULL;

      for (guint i = 0; i < o->n; i++)
        for (guint end = 0; end < 2; end++)
          {
            PawlFlat at = o->at[(i + end) % o->n], n = end ? o->end[i] : o->start[i];

            if (end == 0 && (curve == NULL || !o->smooth[i]))
              {
                curve = pawl_solid_curve_new (PAWL_CURVE_CREASE, shape, shape);
                g_ptr_array_add (curves, curve);
              }
            else if (end == 0)
              continue; /* the point before is the same */
            add_local (curve, vec (at.x, at.y, top ? shape->z1 : shape->z0), cap, vec (n.x, n.y, 0), vec (-n.x, -n.y, 0), down);
          }
    }
}

static void
plate_walls (const PawlSolidShape *shape, const PawlSolidOutline *o, GPtrArray *curves)
{
  for (guint i = 0; i < o->n; i++)
    {
      guint before = (i + o->n - 1) % o->n;
      PawlFlat a = o->end[before], b = o->start[i], s = opposite (side_direction (o, before)), t = side_direction (o, i);
      PawlVec v = shape->local_toward;
      gboolean turns = (o->normal[before].x * v.x + o->normal[before].y * v.y < 0.0)
                       != (o->normal[i].x * v.x + o->normal[i].y * v.y < 0.0);
      PawlSolidCurve *curve;

      if (o->smooth[i] && !turns)
        continue;
      curve = pawl_solid_curve_new (o->smooth[i] ? PAWL_CURVE_OUTLINE : PAWL_CURVE_CREASE, shape, shape);
      for (guint k = 0; k < 2; k++)
        add_local (curve, vec (o->at[i].x, o->at[i].y, k ? shape->z1 : shape->z0), vec (a.x, a.y, 0), vec (b.x, b.y, 0),
                   vec (s.x, s.y, 0), vec (t.x, t.y, 0));
      g_ptr_array_add (curves, curve);
    }
}

/* The line inside a rounded edge, on the top face: drawn where the rounding would end. */
static void
plate_soft (const PawlSolidShape *shape, const PawlSolidOutline *o, double inset, GPtrArray *curves)
{
  PawlSolidCurve *curve = pawl_solid_curve_new (PAWL_CURVE_STROKE, shape, shape);
  PawlVec up = vec (0, 0, 1);

  for (guint k = 0; k <= o->n; k++)
    {
      guint i = k % o->n, before = (i + o->n - 1) % o->n;
      PawlFlat a = o->normal[before], b = o->normal[i];
      double grow = inset / (1.0 + a.x * b.x + a.y * b.y);

      add_local (curve, vec (o->at[i].x - (a.x + b.x) * grow, o->at[i].y - (a.y + b.y) * grow, shape->z1), up, up, up, up);
    }
  g_ptr_array_add (curves, curve);
}

static void
plate_curves (const PawlSolidShape *shape, GPtrArray *curves)
{
  for (guint i = 0; i < shape->outlines->len; i++)
    {
      const PawlSolidOutline *o = g_ptr_array_index (shape->outlines, i);

      plate_rims (shape, o, curves);
      plate_walls (shape, o, curves);
      for (guint k = 0; k < shape->strokes->len && i == 0; k++)
        plate_soft (shape, o, g_array_index (shape->strokes, PawlSolidStroke, k).pitch, curves);
    }
}

static void
add_world (PawlSolidCurve *curve, PawlVec p, PawlVec n)
{
  PawlSolidCurvePoint point = { p, n, n, n, n };

  g_array_append_val (curve->points, point);
}

static PawlVec
wire_direction (const PawlSolidShape *shape, guint i)
{
  guint a = i > 0 ? i - 1 : 0, b = MIN (i + 1, shape->n_along - 1);

  return vec_unit (vec_sub (shape->along[b], shape->along[a]));
}

/* The two sides of the wire, at right angles to its direction and to the view, and its rounded ends. */
static void
wire_curves (const PawlSolidShape *shape, GPtrArray *curves)
{
  PawlVec toward = shape->view.toward;

  for (int hand = -1; hand <= 1; hand += 2)
    {
      PawlSolidCurve *curve = pawl_solid_curve_new (PAWL_CURVE_OUTLINE, shape, shape);

      for (guint i = 0; i < shape->n_along; i++)
        {
          PawlVec side = vec_scale (vec_unit (vec_cross (toward, wire_direction (shape, i))), hand);

          add_world (curve, vec_step (shape->along[i], shape->radius, side), side);
        }
      g_ptr_array_add (curves, curve);
    }
  for (guint end = 0; end < 2; end++)
    {
      guint i = end ? shape->n_along - 1 : 0;
      PawlVec side = vec_unit (vec_cross (toward, wire_direction (shape, i))), out = vec_cross (side, toward);
      PawlSolidCurve *curve = pawl_solid_curve_new (PAWL_CURVE_OUTLINE, shape, shape);

      if (vec_dot (out, wire_direction (shape, i)) * (end ? 1 : -1) < 0.0)
        out = vec_scale (out, -1);
      for (guint k = 0; k <= 16; k++)
        {
          PawlVec n = vec_add (vec_scale (side, cos (G_PI * k / 16)), vec_scale (out, sin (G_PI * k / 16)));

          add_world (curve, vec_step (shape->along[i], shape->radius, n), n);
        }
      g_ptr_array_add (curves, curve);
    }
}

/* Adds every line that @shape alone may show. The shape must have been prepared for the view. */
void
pawl_solid_shape_curves (const PawlSolidShape *shape, GPtrArray *curves)
{
  if (shape->kind == PAWL_SHAPE_TURNED)
    turned_curves (shape, curves);
  else if (shape->kind == PAWL_SHAPE_PLATE)
    plate_curves (shape, curves);
  else
    wire_curves (shape, curves);
}
