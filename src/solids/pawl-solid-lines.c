/* Hidden lines. Every curve is cut into short pieces. A piece is drawn if its faces are really there once everything is joined
   and cut, and if the line from just off the surface to the viewer is free. */
#include "solids/pawl-solid-curve.h"
#include "solids/pawl-solid-drawing.h"

#include <stdlib.h>

#define STEP_MM 0.3   /* longest piece */
#define NUDGE_MM 0.02 /* off the surface, well above the error of the chords */
#define ASIDE_MM 0.05 /* from an edge into its faces */
#define SHARP_COS 0.62 /* faces that turn by less than about 52° (a chamfer, a taper) meet in a narrow line */

typedef enum { HIDDEN, NARROW, WIDE } Seen;

GPtrArray *
pawl_solid_lines_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) g_array_unref);
}

/* 1: material below the face and air above; -1: the other way (a face of a cut); 0: no face here. */
static int
face_at (const PawlSolidNode *node, PawlVec p, PawlVec n)
{
  gboolean below = pawl_solid_node_holds (node, vec_step (p, -NUDGE_MM, n));
  gboolean above = pawl_solid_node_holds (node, vec_step (p, NUDGE_MM, n));

  return below == above ? 0 : below ? 1 : -1;
}

/* Whether nothing of the subject, nor of what may stand before it, lies between @p and the viewer. */
gboolean
pawl_solid_subject_sees (const PawlSolidSubject *subject, PawlVec p)
{
  if (pawl_solid_node_hides (subject->node, p, NUDGE_MM))
    return FALSE;
  for (guint i = 0; subject->before != NULL && i < subject->before->len; i++)
    if (pawl_solid_node_hides (g_ptr_array_index (subject->before, i), p, 0.1))
      return FALSE;
  return TRUE;
}

/* Finds on which side of the edge each face is there. */
static gboolean
find_faces (const PawlSolidNode *node, const PawlSolidCurve *curve, const PawlSolidCurvePoint *c, int *f1, int *f2)
{
  guint ways = curve->kind == PAWL_CURVE_MEET ? 4 : 1;
  double bend = vec_length (vec_cross (c->n1, c->n2)), aside;

  if (bend < 0.17)
    return FALSE; /* the faces run into one another: nothing to see */
  aside = ASIDE_MM / bend; /* so that each face is tried equally far from the other, however flat the angle */
  for (guint way = 0; way < ways; way++)
    {
      *f1 = face_at (node, vec_step (c->p, way & 1 ? -aside : aside, c->t1), c->n1);
      *f2 = *f1 == 0 ? 0 : face_at (node, vec_step (c->p, way & 2 ? -aside : aside, c->t2), c->n2);
      if (*f1 != 0 && *f2 != 0)
        return TRUE;
    }
  return FALSE;
}

static Seen
see_edge (const PawlSolidSubject *subject, const PawlSolidCurve *curve, const PawlSolidCurvePoint *c)
{
  PawlVec toward = subject->view->toward, n1, n2;
  int f1 = 0, f2 = 0;

  if (!find_faces (subject->node, curve, c, &f1, &f2))
    return HIDDEN;
  n1 = vec_scale (c->n1, f1);
  n2 = vec_scale (c->n2, f2);
  if (!pawl_solid_subject_sees (subject, vec_step (c->p, NUDGE_MM, vec_unit (vec_add (n1, n2)))))
    return HIDDEN;
  if (vec_dot (n1, toward) * vec_dot (n2, toward) < 0.0)
    return WIDE; /* one face turned away: part of the outline, however blunt */
  return vec_dot (n1, n2) > SHARP_COS ? NARROW : WIDE;
}

static Seen
see_point (const PawlSolidSubject *subject, const PawlSolidCurve *curve, const PawlSolidCurvePoint *c)
{
  int face;

  if (subject->before != NULL && curve->s1->is_cavity && curve->s2->is_cavity)
    return HIDDEN; /* the inside of a cavity never stands before what goes into it */
  if (curve->kind == PAWL_CURVE_CREASE || curve->kind == PAWL_CURVE_MEET)
    return see_edge (subject, curve, c);
  if ((face = face_at (subject->node, c->p, c->n1)) == 0)
    return HIDDEN;
  if (!pawl_solid_subject_sees (subject, vec_step (c->p, face * NUDGE_MM, c->n1)))
    return HIDDEN;
  return curve->kind == PAWL_CURVE_STROKE ? NARROW : WIDE;
}

static PawlSolidCurvePoint
point_between (const PawlSolidCurvePoint *a, const PawlSolidCurvePoint *b, double share)
{
  return (PawlSolidCurvePoint) {
    vec_between (a->p, b->p, share), vec_unit (vec_between (a->n1, b->n1, share)), vec_unit (vec_between (a->n2, b->n2, share)),
    vec_unit (vec_between (a->t1, b->t1, share)), vec_unit (vec_between (a->t2, b->t2, share)),
  };
}

/* The curve as one line of samples, with what is seen at each. */
typedef struct {
  const PawlSolidSubject *subject;
  const PawlSolidCurve   *curve;
  GPtrArray              *out[3]; /* by Seen */
  GArray                 *line;   /* being drawn; NULL between lines */
  Seen                    seen;
} Pen;

static void
pen_to (Pen *pen, PawlVec p)
{
  PawlFlat s = pawl_solid_view_point (pen->subject->view, p);

  if (pen->line != NULL)
    g_array_append_val (pen->line, s);
}

static void
pen_change (Pen *pen, Seen seen, PawlVec p)
{
  pen_to (pen, p);
  pen->line = NULL;
  pen->seen = seen;
  if (seen == HIDDEN)
    return;
  pen->line = g_array_new (FALSE, FALSE, sizeof (PawlFlat));
  g_ptr_array_add (pen->out[seen], pen->line);
  pen_to (pen, p);
}

/* Halves the piece between two samples until the place of the change is known to a hundredth of the piece. */
static PawlVec
find_change (const Pen *pen, PawlSolidCurvePoint a, PawlSolidCurvePoint b, Seen seen_a)
{
  for (guint k = 0; k < 7; k++)
    {
      PawlSolidCurvePoint middle = point_between (&a, &b, 0.5);

      if (see_point (pen->subject, pen->curve, &middle) == seen_a)
        a = middle;
      else
        b = middle;
    }
  return vec_between (a.p, b.p, 0.5);
}

static void
draw_curve (Pen *pen)
{
  const GArray *points = pen->curve->points;
  PawlSolidCurvePoint last = { 0 };
  gboolean first = TRUE;

  pen->line = NULL;
  pen->seen = HIDDEN;
  for (guint i = 0; i + 1 < points->len; i++)
    {
      const PawlSolidCurvePoint *a = &g_array_index (points, PawlSolidCurvePoint, i), *b = a + 1;
      guint pieces = (guint) MAX (1.0, ceil (vec_length (vec_sub (b->p, a->p)) / STEP_MM));

      for (guint k = 0; k < pieces; k++)
        {
          PawlSolidCurvePoint middle = point_between (a, b, (k + 0.5) / pieces);
          Seen seen = see_point (pen->subject, pen->curve, &middle);

          if (first)
            pen_change (pen, seen, a->p);
          else if (seen != pen->seen)
            pen_change (pen, seen, find_change (pen, last, middle, pen->seen));
          first = FALSE;
          last = middle;
        }
      pen_to (pen, b->p);
    }
}

static GPtrArray *
list_curves (const PawlSolidNode *node)
{
  GPtrArray *curves = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_solid_curve_free);
  g_autoptr(GPtrArray) shapes = g_ptr_array_new ();

  pawl_solid_node_list (node, shapes);
  for (guint i = 0; i < shapes->len; i++)
    {
      pawl_solid_shape_curves (g_ptr_array_index (shapes, i), curves);
      for (guint j = 0; j < i; j++)
        pawl_solid_shapes_meet (g_ptr_array_index (shapes, i), g_ptr_array_index (shapes, j), curves);
    }
  return curves;
}

/* Adds the lines that are seen, not yet joined, to @wide and @narrow. */
void
pawl_solid_lines_draw (const PawlSolidSubject *subject, GPtrArray *wide, GPtrArray *narrow)
{
  g_autoptr(GPtrArray) curves = list_curves (subject->node);

  for (guint i = 0; i < curves->len; i++)
    {
      Pen pen = { .subject = subject, .curve = g_ptr_array_index (curves, i), .out = { NULL, narrow, wide } };

      draw_curve (&pen);
    }
}
