#include "solids/pawl-solid-drawing.h"

#define LINE_TOLERANCE 0.012
#define AREA_TOLERANCE 0.03
#define JOIN_REACH 0.02
#define SPECK 0.3 /* lines shorter than this say nothing */
#define SPECK_AREA 0.25 /* of a tone over another; in a front a speck may have nothing under it, and stays */

static double
line_length (const GArray *line)
{
  double sum = 0.0;

  for (guint i = 0; i + 1 < line->len; i++)
    {
      const PawlFlat *p = &g_array_index (line, PawlFlat, i);

      sum += hypot (p[1].x - p[0].x, p[1].y - p[0].y);
    }
  return sum;
}

static double
ring_area (const GArray *line)
{
  double sum = 0.0;

  for (guint i = 0; i + 1 < line->len; i++)
    {
      const PawlFlat *p = &g_array_index (line, PawlFlat, i);

      sum += p[0].x * p[1].y - p[1].x * p[0].y;
    }
  return fabs (sum) / 2.0;
}

/* @least: shorter lines, or smaller rings, go. */
static GPtrArray *
tidy (GPtrArray *take_lines, double reach, double tolerance, double least, gboolean are_rings)
{
  GPtrArray *joined = pawl_solid_lines_join (take_lines, reach);

  for (guint i = joined->len; i > 0; i--)
    {
      GArray *line = g_ptr_array_index (joined, i - 1);

      if ((are_rings ? ring_area (line) : line_length (line)) < least)
        g_ptr_array_remove_index (joined, i - 1);
      else
        pawl_solid_line_thin (line, tolerance);
    }
  return joined;
}

/**
 * pawl_solid_picture_new:
 * @subject: its nodes prepared for its view
 *
 * Returns: (transfer full): the lines and tones that the viewer sees.
 */
PawlSolidPicture *
pawl_solid_picture_new (const PawlSolidSubject *subject)
{
  PawlSolidPicture *picture = g_new0 (PawlSolidPicture, 1);

  picture->wide = pawl_solid_lines_new ();
  picture->narrow = pawl_solid_lines_new ();
  picture->hatch = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < G_N_ELEMENTS (picture->area); i++)
    picture->area[i] = pawl_solid_lines_new ();
  pawl_solid_lines_draw (subject, picture->wide, picture->narrow);
  pawl_solid_tones_draw (subject, picture->area);
  picture->wide = tidy (picture->wide, JOIN_REACH, LINE_TOLERANCE, SPECK, FALSE);
  picture->narrow = tidy (picture->narrow, JOIN_REACH, LINE_TOLERANCE, SPECK, FALSE);
  pawl_solid_hatch_draw (subject, picture->narrow, picture->hatch); /* not to be joined: each line stands alone */
  for (guint i = 0; i < G_N_ELEMENTS (picture->area); i++)
    picture->area[i] = tidy (picture->area[i], 1e-6, AREA_TOLERANCE, subject->before != NULL ? 0.0 : SPECK_AREA, TRUE);
  return picture;
}

void
pawl_solid_picture_free (PawlSolidPicture *picture)
{
  if (picture == NULL)
    return;
  g_ptr_array_unref (picture->wide);
  g_ptr_array_unref (picture->narrow);
  g_array_unref (picture->hatch);
  for (guint i = 0; i < G_N_ELEMENTS (picture->area); i++)
    g_ptr_array_unref (picture->area[i]);
  g_free (picture);
}
