/* Spur gears: sizes, teeth counted, volume, and that two of them run together. */
#include <string.h>

#include "solids/pawl-solid-gear.h"
#include "small-figures.h"

/* Tip, root and base diameter: d + 2 m, d - 2.5 m, d cos 20° with d = z m. Source of the formulas: T. Eritenel, "Geometry of spur
   gears", notebook, table of basic gear geometry; the numbers here are worked out from them by hand. */
static const struct { guint teeth; double module, tip, root; } sizes[] = {
  { 18, 1.5, 30.0, 23.25 },
  { 36, 1.5, 57.0, 50.25 },
  { 24, 1.0, 26.0, 21.5 },
  { 12, 2.0, 28.0, 19.0 },
};

static void
test_radii (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      PawlSolidGear gear = { sizes[i].teeth, sizes[i].module, 0.0 };
      PawlSolidOutline *outline = pawl_solid_gear_outline (&gear);
      double low = INFINITY, high = 0.0;

      for (guint k = 0; k < outline->n; k++)
        {
          double r = hypot (outline->at[k].x, outline->at[k].y);

          low = MIN (low, r);
          high = MAX (high, r);
        }
      g_assert_cmpfloat_with_epsilon (2.0 * high, sizes[i].tip, 1e-6);
      g_assert_cmpfloat_with_epsilon (2.0 * low, sizes[i].root, 1e-6);
      pawl_solid_outline_free (outline);
    }
}

/* How often a circle of @radius goes from outside the metal to inside. */
static guint
count_teeth (const PawlSolidOutline *outline, double radius)
{
  const guint steps = 7200;
  guint n = 0;

  for (guint i = 0; i < steps; i++)
    {
      double a = 2.0 * G_PI * (i + 0.5) / steps, b = 2.0 * G_PI * (i + 1.5) / steps;

      if (!pawl_solid_outline_holds (outline, radius * cos (a), radius * sin (a))
          && pawl_solid_outline_holds (outline, radius * cos (b), radius * sin (b)))
        n++;
    }
  return n;
}

static void
test_teeth (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      PawlSolidGear gear = { sizes[i].teeth, sizes[i].module, 37.0 };
      PawlSolidOutline *outline = pawl_solid_gear_outline (&gear);
      double pitch = pawl_solid_gear_pitch_radius (&gear), start = 37.0 * G_PI / 180.0, space = start + G_PI / gear.teeth;

      g_assert_cmpuint (count_teeth (outline, pitch), ==, gear.teeth);
      g_assert_cmpuint (count_teeth (outline, pitch + 0.9 * gear.module), ==, gear.teeth);
      g_assert_cmpuint (count_teeth (outline, pitch + 1.1 * gear.module), ==, 0);
      g_assert_cmpuint (count_teeth (outline, pitch - 1.3 * gear.module), ==, 0);
      g_assert_true (pawl_solid_outline_holds (outline, pitch * cos (start), pitch * sin (start)));
      g_assert_false (pawl_solid_outline_holds (outline, pitch * cos (space), pitch * sin (space)));
      /* on the pitch circle a tooth is as wide as a space */
      g_assert_cmpfloat_with_epsilon (2.0 * pitch * pawl_solid_gear_tooth_half_angle (&gear, pitch), G_PI * gear.module / 2.0, 1e-9);
      pawl_solid_outline_free (outline);
    }
}

/* The disc within the root circle and, ring by ring, the teeth above it: r from root to tip, z teeth of thickness
   2 r (π / 2z + inv 20° - inv α), cos α = base radius / r, straight to the centre under the base circle. */
static double
area_by_rings (double teeth, double module)
{
  const guint n = 20000;
  double pitch = teeth * module / 2.0, base = pitch * cos (20.0 * G_PI / 180.0), root = pitch - 1.25 * module, high = 2.25 * module;
  double at_pitch = tan (20.0 * G_PI / 180.0) - 20.0 * G_PI / 180.0, sum = G_PI * root * root;

  for (guint i = 0; i < n; i++)
    {
      double r = root + high * (i + 0.5) / n, alpha = r > base ? acos (base / r) : 0.0;

      sum += teeth * 2.0 * r * (G_PI / (2.0 * teeth) + at_pitch - (tan (alpha) - alpha)) * high / n;
    }
  return sum;
}

/* @node's volume from lines of sight: their lengths in the metal, one for each little square across the view. */
static double
volume_seen (const PawlSolidNode *node, const PawlSolidView *view, double step)
{
  double sum = 0.0;

  for (double x = node->sheet_low.x; x < node->sheet_high.x; x += step)
    for (double y = node->sheet_low.y; y < node->sheet_high.y; y += step)
      {
        PawlSolidSpans spans;

        pawl_solid_spans_init (&spans);
        pawl_solid_node_sight (node, pawl_solid_view_lift (view, (PawlFlat) { x, y }), &spans);
        for (guint i = 0; i < spans.n; i++)
          sum += (spans.at[i].to - spans.at[i].from) * step * step / (view->scale * view->scale);
        pawl_solid_spans_clear (&spans);
      }
  return sum;
}

static void
test_volume (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autofree char *text = g_strdup_printf ("<gear teeth=\"%u\" pitch-diameter=\"%g\" width=\"7\"><hole circle=\"0,0,4\"/></gear>", sizes[i].teeth,
                                               sizes[i].teeth * sizes[i].module);
      g_autoptr(PawlSolids) solids = load_one ("1,0.75,1", text);
      const PawlSolidPart *part = g_ptr_array_index (solids->parts, 0);
      double expected = 7.0 * (area_by_rings (sizes[i].teeth, sizes[i].module) - G_PI * 4.0 * 4.0);

      g_assert_cmpfloat_with_epsilon (volume_seen (part->node, &solids->view, 0.15), expected, 0.005 * expected);
    }
}

/* Points that both gears fill, the second turned by @wheel_start degrees and at the sum of the pitch radii above the first. */
static guint
count_bites (double wheel_start)
{
  PawlSolidGear pinion = { 18, 1.5, 90.0 }, wheel = { 36, 1.5, wheel_start };
  PawlSolidOutline *a = pawl_solid_gear_outline (&pinion), *b = pawl_solid_gear_outline (&wheel);
  guint n = 0;

  for (double x = -12.0; x < 12.0; x += 0.05)
    for (double y = 10.0; y < 16.0; y += 0.05)
      n += pawl_solid_outline_holds (a, x, y) && pawl_solid_outline_holds (b, x, y - 40.5);
  pawl_solid_outline_free (a);
  pawl_solid_outline_free (b);
  return n;
}

/* A tooth stands in a space, on whichever of the 36 it is set: that it goes together says nothing about the marks. */
static void
test_mesh (void)
{
  g_assert_cmpuint (count_bites (-85.0), ==, 0);
  g_assert_cmpuint (count_bites (-75.0), ==, 0);
  g_assert_cmpuint (count_bites (-90.0), >, 500);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solids/gear/radii", test_radii);
  g_test_add_func ("/solids/gear/teeth", test_teeth);
  g_test_add_func ("/solids/gear/volume", test_volume);
  g_test_add_func ("/solids/gear/mesh", test_mesh);
  return g_test_run ();
}
