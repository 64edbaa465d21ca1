/* The figure as SVG: one group for each region, one path for each kind of line or tone. Numbers are written from whole
   hundredths, so that the text is the same everywhere. */
#include "solids/pawl-solid-axes-private.h"

#define STYLE \
  "    .paper { fill: #ffffff; fill-rule: evenodd }\n" \
  "    .light { fill: #eff1f3; fill-rule: evenodd }\n" \
  "    .middle { fill: #dde1e6; fill-rule: evenodd }\n" \
  "    .dark { fill: #c6ccd4; fill-rule: evenodd }\n" \
  "    .wide { fill: none; stroke: #16191d; stroke-width: " G_STRINGIFY (PAWL_SOLID_WIDE) "; stroke-linecap: round; stroke-linejoin: round }\n" \
  "    .narrow { fill: none; stroke: #16191d; stroke-width: " G_STRINGIFY (PAWL_SOLID_NARROW) "; stroke-linecap: round; stroke-linejoin: round }\n" \
  "    .axis path { fill: none; stroke: #16191d; stroke-width: " G_STRINGIFY (PAWL_SOLID_NARROW) "; stroke-dasharray: 7.2 0.9 0.15 0.9; stroke-linecap: butt }\n"

static const char *const tone_class[] = { "paper", "light", "middle", "dark" };

typedef struct {
  double low_x, low_y, high_x, high_y;
} Bounds;

static void
widen (Bounds *bounds, const GPtrArray *lines, PawlFlat by)
{
  for (guint i = 0; i < lines->len; i++)
    {
      const GArray *line = g_ptr_array_index (lines, i);

      for (guint k = 0; k < line->len; k++)
        {
          PawlFlat p = g_array_index (line, PawlFlat, k);

          bounds->low_x = MIN (bounds->low_x, p.x + by.x);
          bounds->low_y = MIN (bounds->low_y, p.y + by.y);
          bounds->high_x = MAX (bounds->high_x, p.x + by.x);
          bounds->high_y = MAX (bounds->high_y, p.y + by.y);
        }
    }
}

/* @hundredths as a decimal number without needless characters: 0.5 is ".5". */
static void
append_number (GString *text, glong hundredths, gboolean first)
{
  gulong size = (gulong) ABS (hundredths);

  if (hundredths < 0)
    g_string_append_c (text, '-');
  else if (!first)
    g_string_append_c (text, ' ');
  if (size >= 100 || size == 0)
    g_string_append_printf (text, "%lu", size / 100);
  if (size % 10 != 0)
    g_string_append_printf (text, ".%02lu", size % 100);
  else if (size % 100 != 0)
    g_string_append_printf (text, ".%lu", size % 100 / 10);
}

static glong
hundredths (double x)
{
  return lround (x * 100.0);
}

static void
append_line (GString *text, const GArray *line, PawlFlat by, gboolean is_ring)
{
  glong x = 0, y = 0;

  for (guint i = 0; i < line->len - (is_ring ? 1 : 0); i++)
    {
      PawlFlat p = g_array_index (line, PawlFlat, i);
      glong px = hundredths (p.x + by.x), py = hundredths (p.y + by.y);

      if (i > 0 && px == x && py == y)
        continue;
      g_string_append (text, i == 0 ? "M" : i == 1 ? "l" : "");
      append_number (text, px - x, i < 2);
      append_number (text, py - y, FALSE);
      x = px;
      y = py;
    }
  if (is_ring)
    g_string_append_c (text, 'z');
}

static void
append_path (GString *svg, const char *class_name, const GPtrArray *lines, PawlFlat by, gboolean are_rings)
{
  if (lines->len == 0)
    return;
  g_string_append_printf (svg, "    <path class=\"%s\" d=\"", class_name);
  for (guint i = 0; i < lines->len; i++)
    append_line (svg, g_ptr_array_index (lines, i), by, are_rings);
  g_string_append (svg, "\"/>\n");
}

/* The directions of a region's hatching, so that no leader need be drawn parallel to it. */
static void
append_hatch (GString *svg, const GArray *angles)
{
  if (angles->len == 0)
    return;
  g_string_append (svg, " data-hatch=\"");
  for (guint i = 0; i < angles->len; i++)
    append_number (svg, hundredths (g_array_index (angles, double, i)), i == 0);
  g_string_append_c (svg, '"');
}

static void
append_region (GString *svg, const PawlSolidRegion *region, const PawlSolidPicture *picture, PawlFlat by)
{
  g_string_append_printf (svg, "  <g id=\"%s\"", region->region);
  append_hatch (svg, picture->hatch);
  g_string_append (svg, ">\n");
  for (guint i = 0; i < G_N_ELEMENTS (tone_class); i++)
    append_path (svg, tone_class[i], picture->area[i], by, TRUE);
  append_path (svg, "narrow", picture->narrow, by, FALSE);
  append_path (svg, "wide", picture->wide, by, FALSE);
  g_string_append (svg, "  </g>\n");
}

/* Whether a part has a front of its own later on: then it stands before whatever is drawn until there, and nothing need make room. */
static gboolean
has_front_after (const PawlSolids *solids, const PawlSolidPart *part, guint after)
{
  for (guint i = after + 1; i < solids->regions->len; i++)
    if (((PawlSolidRegion *) g_ptr_array_index (solids->regions, i))->part == part)
      return TRUE;
  return FALSE;
}

/* What is drawn between the whole of a part and this front of it, and needs room: what stands before things already, and what will
   not come before them later. */
static GPtrArray *
parts_between (const PawlSolids *solids, guint front)
{
  const PawlSolidRegion *region = g_ptr_array_index (solids->regions, front);
  GPtrArray *nodes = g_ptr_array_new ();
  gboolean is_after = FALSE;

  for (guint i = 0; i < front; i++)
    {
      const PawlSolidRegion *other = g_ptr_array_index (solids->regions, i);

      if (other->part == region->part)
        is_after = TRUE;
      else if (is_after && (other->is_front || !has_front_after (solids, other->part, front))
               && !g_ptr_array_find (nodes, other->part->node, NULL))
        g_ptr_array_add (nodes, other->part->node);
    }
  return nodes;
}

static PawlSolidPicture *
picture_of (const PawlSolids *solids, guint i)
{
  const PawlSolidRegion *region = g_ptr_array_index (solids->regions, i);
  g_autoptr(GPtrArray) before = region->is_front ? parts_between (solids, i) : NULL;
  PawlSolidSubject subject = { region->part->node, &solids->view, before };

  return pawl_solid_picture_new (&subject);
}

static PawlFlat
drawn_offset (const PawlSolids *solids, const PawlSolidPart *part, gboolean seated)
{
  return seated ? (PawlFlat) { 0, 0 } : pawl_solid_view_point (&solids->view, pawl_solid_part_offset (part));
}

static void
append_head (GString *svg, const PawlSolids *solids, double width, double height)
{
  g_autofree char *title = g_markup_escape_text (solids->title != NULL ? solids->title : "", -1);
  g_autofree char *desc = g_markup_escape_text (solids->desc != NULL ? solids->desc : "", -1);

  g_string_append_printf (svg, "<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%ldmm\" height=\"%ldmm\" "
                          "viewBox=\"0 0 %ld %ld\">\n", lround (width), lround (height), lround (width), lround (height));
  g_string_append_printf (svg, "  <title>%s</title>\n  <desc>%s</desc>\n", title, desc);
  g_string_append (svg, "  <style>\n" STYLE "  </style>\n");
}

/* A part's own axis lines, in a group named after its first region. */
static void
append_guide (GString *svg, const PawlSolids *solids, const PawlSolidGuide *guide, PawlFlat by)
{
  for (guint i = 0; i < solids->regions->len; i++)
    {
      const PawlSolidRegion *region = g_ptr_array_index (solids->regions, i);

      if (region->part != guide->part)
        continue;
      g_string_append_printf (svg, "  <g id=\"axis-%s\" class=\"axis\">\n    <path d=\"", region->region);
      for (guint k = 0; k < guide->lines->len; k++)
        append_line (svg, g_ptr_array_index (guide->lines, k), by, FALSE);
      g_string_append (svg, "\"/>\n  </g>\n");
      return;
    }
}

static void
append_guides (GString *svg, const PawlSolids *solids, PawlFlat by)
{
  g_autoptr(GPtrArray) guides = pawl_solids_guides (solids);

  for (guint i = 0; i < guides->len; i++)
    append_guide (svg, solids, g_ptr_array_index (guides, i), by);
}

/* The sheet that holds @bounds with its margin, and where the bounds go on it. */
static PawlFlat
fit_sheet (const PawlSolids *solids, const Bounds *bounds, double *width, double *height)
{
  double w = (bounds->high_x - bounds->low_x) / (1.0 - 2.0 * solids->margin);
  double h = (bounds->high_y - bounds->low_y) / (1.0 - 2.0 * solids->margin);

  *width = ceil (MAX (w, h * solids->ratio));
  *height = ceil (MAX (h, w / solids->ratio));
  return (PawlFlat) { (*width - bounds->low_x - bounds->high_x) / 2.0, (*height - bounds->low_y - bounds->high_y) / 2.0 };
}

/**
 * pawl_solids_draw:
 * @seated: draw every part in its seat, without the axes, instead of apart
 *
 * Returns: (transfer full): the figure, an SVG document; one user unit is one millimetre along an axis of scale 1.
 */
char *
pawl_solids_draw (const PawlSolids *solids, gboolean seated)
{
  g_autoptr(GPtrArray) pictures = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_solid_picture_free);
  Bounds bounds = { INFINITY, INFINITY, -INFINITY, -INFINITY };
  GString *svg = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n");
  double width, height;
  PawlFlat origin;

  for (guint i = 0; i < solids->regions->len; i++)
    {
      const PawlSolidRegion *region = g_ptr_array_index (solids->regions, i);
      PawlSolidPicture *picture = picture_of (solids, i);

      g_ptr_array_add (pictures, picture);
      widen (&bounds, picture->area[0], drawn_offset (solids, region->part, seated));
    }
  origin = fit_sheet (solids, &bounds, &width, &height);
  append_head (svg, solids, width, height);
  for (guint i = 0; i < solids->regions->len; i++)
    {
      const PawlSolidRegion *region = g_ptr_array_index (solids->regions, i);
      PawlFlat by = drawn_offset (solids, region->part, seated);

      append_region (svg, region, g_ptr_array_index (pictures, i), (PawlFlat) { origin.x + by.x, origin.y + by.y });
    }
  if (!seated)
    append_guides (svg, solids, origin);
  g_string_append (svg, "</svg>\n");
  return g_string_free (svg, FALSE);
}
