/* The figures of the demo units, and questions about the parts as seated. */
#pragma once

#include <string.h>

#include "solids/pawl-solids.h"

static inline PawlSolids *
load_unit (const char *name)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *path = g_strdup_printf ("%s/data/svg/%s.solids.xml", g_getenv ("PAWL_SOURCE_ROOT"), name);
  PawlSolids *solids = pawl_solids_load (path, &error);

  g_assert_no_error (error);
  return solids;
}

static inline const PawlSolidNode *
node_of (const PawlSolids *solids, const char *id)
{
  const PawlSolidPart *part = pawl_solids_find_part (solids, id);

  g_assert_nonnull (part);
  return part->node;
}

/* The distance from @from, which is inside (or outside), along @d to where that changes. */
static inline double
reach (const PawlSolidNode *node, PawlVec from, PawlVec d)
{
  gboolean inside = pawl_solid_node_holds (node, from);
  double low = 0.0, high;

  while (low < 200.0 && pawl_solid_node_holds (node, vec_step (from, low + 0.05, d)) == inside)
    low += 0.05;
  g_assert_cmpfloat (low, <, 200.0);
  high = low + 0.05;
  for (guint i = 0; i < 40; i++)
    {
      double middle = (low + high) / 2.0;

      if (pawl_solid_node_holds (node, vec_step (from, middle, d)) == inside)
        low = middle;
      else
        high = middle;
    }
  return low;
}

/* That none of a grid of points in the one part lies in the metal of the other: they touch or fit, neither bites. */
static inline void
assert_clear_of (const PawlSolids *solids, const char *id, const char *other)
{
  const PawlSolidNode *node = node_of (solids, id), *metal = node_of (solids, other);
  guint both = 0, n = 0;

  for (double x = node->low.x + 0.05; x < node->high.x; x += 0.71)
    for (double y = node->low.y; y < node->high.y; y += 0.73)
      for (double z = node->low.z; z < node->high.z; z += 0.77)
        if (pawl_solid_node_holds (node, vec (x, y, z)))
          {
            n++;
            both += pawl_solid_node_holds (metal, vec (x, y, z)) ? 1 : 0;
          }
  g_assert_cmpuint (n, >, 10);
  if (both > 0)
    g_error ("%s bites into %s: %u of %u points", id, other, both, n);
}
