/* Small figures as text, and the lines of their pictures. */
#pragma once

#include "solids/pawl-solids.h"

/* A file with one part "p" whose solids are @solids, in a view with these axis scales. */
static inline PawlSolids *
load_one (const char *scale, const char *inside)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *text = g_strdup_printf ("<solids xmlns=\"urn:pawl:solids:1\"><projection scale=\"%s\" toward=\"-x -y +z\"/>"
                                           "<part id=\"p\">%s</part><order><draw part=\"p\"/></order></solids>", scale, inside);
  PawlSolids *solids = pawl_solids_parse (text, strlen (text), "test.xml", &error);

  g_assert_no_error (error);
  return solids;
}

static inline PawlSolidPicture *
picture_of_one (const PawlSolids *solids)
{
  const PawlSolidPart *part = g_ptr_array_index (solids->parts, 0);
  PawlSolidSubject subject = { part->node, &solids->view, NULL };

  return pawl_solid_picture_new (&subject);
}

/* Half the largest and half the smallest width of the points of @lines over all directions. */
static inline void
measure_widths (const GPtrArray *lines, double *largest, double *smallest)
{
  *largest = 0.0;
  *smallest = INFINITY;
  for (guint d = 0; d < 720; d++)
    {
      double c = cos (G_PI * d / 720.0), s = sin (G_PI * d / 720.0), low = INFINITY, high = -INFINITY;

      for (guint i = 0; i < lines->len; i++)
        {
          const GArray *line = g_ptr_array_index (lines, i);

          for (guint k = 0; k < line->len; k++)
            {
              PawlFlat p = g_array_index (line, PawlFlat, k);

              low = MIN (low, p.x * c + p.y * s);
              high = MAX (high, p.x * c + p.y * s);
            }
        }
      *largest = MAX (*largest, (high - low) / 2.0);
      *smallest = MIN (*smallest, (high - low) / 2.0);
    }
}

/* Whether a line passes within @reach of where the space point @p falls on the sheet. */
static inline gboolean
is_drawn_at (const PawlSolids *solids, const GPtrArray *lines, PawlVec p, double reach)
{
  PawlFlat s = pawl_solid_view_point (&solids->view, p);

  for (guint i = 0; i < lines->len; i++)
    {
      const GArray *line = g_ptr_array_index (lines, i);

      for (guint k = 0; k + 1 < line->len; k++)
        {
          PawlFlat a = g_array_index (line, PawlFlat, k), b = g_array_index (line, PawlFlat, k + 1);
          double dx = b.x - a.x, dy = b.y - a.y, length = dx * dx + dy * dy;
          double t = length > 0.0 ? CLAMP (((s.x - a.x) * dx + (s.y - a.y) * dy) / length, 0.0, 1.0) : 0.0;

          if (hypot (a.x + t * dx - s.x, a.y + t * dy - s.y) <= reach)
            return TRUE;
        }
    }
  return FALSE;
}

/* Whether the rings go round @p, on the sheet, an odd number of times. */
static inline gboolean
is_within (const PawlSolids *solids, const GPtrArray *rings, PawlVec p)
{
  PawlFlat s = pawl_solid_view_point (&solids->view, p);
  gboolean within = FALSE;

  for (guint i = 0; i < rings->len; i++)
    {
      const GArray *ring = g_ptr_array_index (rings, i);
      const PawlFlat *at = (const PawlFlat *) (gpointer) ring->data;

      for (guint k = 0; k + 1 < ring->len; k++)
        if ((at[k].y > s.y) != (at[k + 1].y > s.y)
            && s.x < at[k].x + (s.y - at[k].y) * (at[k + 1].x - at[k].x) / (at[k + 1].y - at[k].y))
          within = !within;
    }
  return within;
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSolidPicture, pawl_solid_picture_free)
