#include "solids/pawl-solids.h"

G_DEFINE_QUARK (pawl-solids-error-quark, pawl_solids_error)

void
pawl_solids_free (PawlSolids *solids)
{
  if (solids == NULL)
    return;
  g_free (solids->title);
  g_free (solids->desc);
  g_ptr_array_unref (solids->axes);
  g_ptr_array_unref (solids->regions);
  g_ptr_array_unref (solids->parts);
  g_free (solids);
}

/* Returns: (transfer none) (nullable) */
PawlSolidPart *
pawl_solids_find_part (const PawlSolids *solids, const char *id)
{
  for (guint i = 0; i < solids->parts->len; i++)
    {
      PawlSolidPart *part = g_ptr_array_index (solids->parts, i);

      if (g_str_equal (part->id, id))
        return part;
    }
  return NULL;
}

/* From where the part is seated to where it is drawn, mm in the unit's frame. */
PawlVec
pawl_solid_part_offset (const PawlSolidPart *part)
{
  PawlVec sum = { 0, 0, 0 };

  for (guint i = 0; i < part->legs->len; i++)
    sum = vec_add (sum, g_array_index (part->legs, PawlVec, i));
  return sum;
}

/**
 * pawl_solid_part_slide:
 *
 * Returns: (transfer full): the way from where the part is drawn to where it is seated, "dx,dy dx,dy" in sheet units, y down;
 *   "0,0" for a part drawn in its seat.
 */
char *
pawl_solid_part_slide (const PawlSolids *solids, const PawlSolidPart *part)
{
  GString *text = g_string_new (NULL);

  for (guint i = part->legs->len; i > 0; i--)
    {
      PawlFlat d = pawl_solid_view_point (&solids->view, vec_scale (g_array_index (part->legs, PawlVec, i - 1), -1));
      char x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE];

      g_ascii_formatd (x, sizeof x, "%.2f", d.x + 0.0);
      g_ascii_formatd (y, sizeof y, "%.2f", d.y + 0.0);
      g_string_append_printf (text, "%s%s,%s", text->len > 0 ? " " : "", g_str_equal (x, "-0.00") ? "0.00" : x,
                              g_str_equal (y, "-0.00") ? "0.00" : y);
    }
  if (text->len == 0)
    g_string_append (text, "0,0");
  return g_string_free (text, FALSE);
}

/* Returns: (transfer full): a line "region slide" for each region, in the order of the document. */
char *
pawl_solids_slides (const PawlSolids *solids)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < solids->regions->len; i++)
    {
      const PawlSolidRegion *region = g_ptr_array_index (solids->regions, i);
      g_autofree char *slide = pawl_solid_part_slide (solids, region->part);

      g_string_append_printf (text, "%s %s\n", region->region, slide);
    }
  return g_string_free (text, FALSE);
}
