/* Hatching of the faces that a section leaves: parallel lines over the sheet, each drawn where the viewer sees such a face. The
   lines of one part share one origin, so that faces that a bore or a rib parts look cut by one stroke. */
#include "solids/pawl-solid-drawing.h"

#define STEP 0.25     /* sheet units between looks along a line */
#define HALVINGS 6    /* to find where a line ends, to less than a hundredth */
#define SHORTEST 0.4  /* sheet units; shorter lines are specks */

typedef struct {
  const PawlSolidSubject *subject;
  PawlSolidHatch          hatch;
  PawlFlat                along, across; /* unit, on the sheet */
} Hatcher;

static gboolean
is_same (const PawlSolidHatch *a, const PawlSolidHatch *b)
{
  return a->angle_deg == b->angle_deg && a->pitch == b->pitch;
}

static PawlFlat
place (const Hatcher *hatcher, double across, double along)
{
  return (PawlFlat) { hatcher->across.x * across + hatcher->along.x * along, hatcher->across.y * across + hatcher->along.y * along };
}

static gboolean
is_hatched (const Hatcher *hatcher, double across, double along)
{
  PawlVec p;
  const PawlSolidShape *shape = pawl_solid_subject_face (hatcher->subject, place (hatcher, across, along), &p);

  return shape != NULL && shape->hatch.is_section && is_same (&shape->hatch, &hatcher->hatch);
}

/* Where between @a and @b, one of which is hatched, that changes. */
static double
find_end (const Hatcher *hatcher, double across, double a, double b)
{
  gboolean a_is_hatched = is_hatched (hatcher, across, a);

  for (guint i = 0; i < HALVINGS; i++)
    {
      double middle = (a + b) / 2.0;

      if (is_hatched (hatcher, across, middle) == a_is_hatched)
        a = middle;
      else
        b = middle;
    }
  return (a + b) / 2.0;
}

static gboolean
add_line (const Hatcher *hatcher, double across, double from, double to, GPtrArray *lines)
{
  const PawlFlat ends[2] = { place (hatcher, across, from), place (hatcher, across, to) };
  GArray *line;

  if (to - from < SHORTEST)
    return FALSE;
  line = g_array_new (FALSE, FALSE, sizeof (PawlFlat));
  g_array_append_vals (line, ends, 2);
  g_ptr_array_add (lines, line);
  return TRUE;
}

/* Draws one line from @low to @high, where its face is seen. TRUE if any of it is. */
static gboolean
draw_line (const Hatcher *hatcher, double across, double low, double high, GPtrArray *lines)
{
  gboolean was = FALSE, any = FALSE;
  double from = low;

  for (double t = low; t < high + 2.0 * STEP; t += STEP)
    {
      gboolean is = t <= high && is_hatched (hatcher, across, t);

      if (is && !was)
        from = find_end (hatcher, across, t - STEP, t);
      if (!is && was)
        any = add_line (hatcher, across, from, find_end (hatcher, across, t - STEP, t), lines) || any;
      was = is;
    }
  return any;
}

/* Where the corners of the subject's picture lie along @direction. */
static void
find_range (const PawlSolidNode *node, PawlFlat direction, double *low, double *high)
{
  *low = INFINITY;
  *high = -INFINITY;
  for (guint i = 0; i < 4; i++)
    {
      double x = i % 2 ? node->sheet_high.x : node->sheet_low.x, y = i / 2 ? node->sheet_high.y : node->sheet_low.y;

      *low = MIN (*low, x * direction.x + y * direction.y);
      *high = MAX (*high, x * direction.x + y * direction.y);
    }
}

static gboolean
draw_hatch (const PawlSolidSubject *subject, const PawlSolidHatch *hatch, GPtrArray *lines)
{
  double c = cos (hatch->angle_deg * G_PI / 180.0), s = sin (hatch->angle_deg * G_PI / 180.0);
  Hatcher hatcher = { subject, *hatch, { c, s }, { -s, c } };
  double low, high, first, last;
  gboolean any = FALSE;

  find_range (subject->node, hatcher.along, &low, &high);
  find_range (subject->node, hatcher.across, &first, &last);
  for (glong k = lround (floor (first / hatch->pitch)); k * hatch->pitch <= last; k++)
    any = draw_line (&hatcher, k * hatch->pitch, low, high, lines) || any;
  return any;
}

static void
note_angle (GArray *angles, double angle_deg)
{
  for (guint i = 0; i < angles->len; i++)
    if (g_array_index (angles, double, i) == angle_deg)
      return;
  g_array_append_val (angles, angle_deg);
}

/**
 * pawl_solid_hatch_draw:
 * @lines: the hatching that is seen is added to it
 * @angles: (element-type double): the angle of each hatching that is seen is added to it, once
 */
void
pawl_solid_hatch_draw (const PawlSolidSubject *subject, GPtrArray *lines, GArray *angles)
{
  g_autoptr(GPtrArray) shapes = g_ptr_array_new ();
  g_autoptr(GArray) done = g_array_new (FALSE, FALSE, sizeof (PawlSolidHatch));

  pawl_solid_node_list (subject->node, shapes);
  for (guint i = 0; i < shapes->len; i++)
    {
      const PawlSolidHatch *hatch = &((const PawlSolidShape *) g_ptr_array_index (shapes, i))->hatch;
      gboolean is_new = hatch->is_section && !isnan (hatch->angle_deg);

      for (guint k = 0; k < done->len; k++)
        is_new = is_new && !is_same (hatch, &g_array_index (done, PawlSolidHatch, k));
      if (!is_new)
        continue;
      g_array_append_val (done, *hatch);
      if (draw_hatch (subject, hatch, lines))
        note_angle (angles, hatch->angle_deg);
    }
}
