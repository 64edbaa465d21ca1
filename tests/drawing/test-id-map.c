/* The map: who is seen where, free paper, spots that stand for a part, what a line passes over. */
#include <math.h>

#include "drawing/pawl-id-map.h"

#define A 0
#define B 1
#define UNSEEN 2

/* One cell a unit, 200 by 100. A: 40..100 by 20..80, under B: 70..160 by 40..60. */
static PawlIdMap *
new_map (void)
{
  PawlIdMap *map = pawl_id_map_new (200, 100, 200, 3);

  pawl_id_map_cover (map, UNSEEN, (PawlBox) { 50, 30, 10, 10 });
  pawl_id_map_cover (map, A, (PawlBox) { 40, 20, 60, 60 });
  pawl_id_map_cover (map, B, (PawlBox) { 70, 40, 90, 20 });
  return map;
}

static void
test_area (void)
{
  g_autoptr(PawlIdMap) map = new_map ();

  pawl_id_map_finish (map);
  g_assert_cmpfloat (pawl_id_map_get_area (map, A), ==, 60 * 60 - 30 * 20);
  g_assert_cmpfloat (pawl_id_map_get_area (map, B), ==, 90 * 20);
  g_assert_cmpfloat (pawl_id_map_get_area (map, UNSEEN), ==, 0);
}

static void
test_free (void)
{
  static const struct { PawlBox box; gboolean is_free; } cases[] = {
    { { 0, 0, 40, 100 }, TRUE },     /* up to the edge of A */
    { { 0, 0, 40.5, 100 }, FALSE },  /* touches its first cell */
    { { 100, 0, 100, 40 }, TRUE },   /* into the corner between A and B */
    { { 100, 0, 100, 41 }, FALSE },
    { { -0.5, 0, 10, 10 }, FALSE },  /* off the sheet */
    { { 191, 0, 10, 10 }, FALSE },
    { { 120, 70, 20, 20 }, FALSE },  /* on the paper that a frame shuts in, below */
  };
  g_autoptr(PawlIdMap) map = new_map ();

  pawl_id_map_cover (map, B, (PawlBox) { 110, 65, 50, 30 });
  pawl_id_map_cover (map, B, (PawlBox) { 150, 55, 10, 10 });
  for (int y = 67; y < 93; y++)
    for (int x = 112; x < 158; x++)
      map->who[y * map->n_columns + x] = PAWL_ID_MAP_NOBODY;
  pawl_id_map_finish (map);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpint (pawl_id_map_is_free (map, cases[i].box), ==, cases[i].is_free);
}

static void
test_guide (void)
{
  g_autoptr(PawlIdMap) map = new_map ();

  for (int y = 0; y < map->n_rows; y++)
    map->has_guide[y * map->n_columns + 20] = 1;
  pawl_id_map_finish (map);
  g_assert_true (pawl_id_map_has_guide (map, (PawlBox) { 15, 10, 10, 10 }));
  g_assert_false (pawl_id_map_has_guide (map, (PawlBox) { 21, 10, 10, 10 }));
  g_assert_true (pawl_id_map_is_free (map, (PawlBox) { 15, 10, 10, 10 })); /* an axis line is no ink */
}

static void
test_spots (void)
{
  g_autoptr(PawlIdMap) map = new_map ();
  PawlSpot spots[6];
  guint n;

  pawl_id_map_finish (map);
  n = pawl_id_map_find_spots (map, A, 5, spots, 6);
  g_assert_cmpuint (n, ==, 6);
  /* What is seen of A is 60 by 60 less the bite that B takes, so the deepest point is the middle of the 30 that are left beside it. */
  g_assert_cmpfloat_with_epsilon (spots[0].depth, 15, 1.5);
  for (guint i = 0; i < n; i++)
    {
      double x = spots[i].at.x, y = spots[i].at.y;

      g_assert_true (x > 44 && x < 96 && y > 24 && y < 76 && !(x > 67 && y > 37 && y < 63));
      g_assert_cmpfloat (spots[i].depth, >=, 5 - 1e-9);
      for (guint k = 0; k < i; k++)
        g_assert_cmpfloat (hypot (x - spots[k].at.x, y - spots[k].at.y), >=, 5);
    }
  g_assert_cmpuint (pawl_id_map_find_spots (map, UNSEEN, 5, spots, 6), ==, 0);
}

static void
test_walk (void)
{
  static const double hatch_deg = 45;
  g_autoptr(PawlIdMap) map = new_map ();
  PawlWalk walk;

  pawl_id_map_set_hatch (map, B, &hatch_deg, 1);
  pawl_id_map_finish (map);
  walk = pawl_id_map_walk (map, A, (PawlPoint) { 180, 50 }, (PawlPoint) { 60, 50 }, 100, 15);
  g_assert_cmpfloat_with_epsilon (walk.over, 90, 2);
  g_assert_cmpuint (walk.n_others, ==, 1);
  g_assert_cmpuint (walk.n_small, ==, 0);
  g_assert_false (walk.is_parallel);
  g_assert_cmpuint (pawl_id_map_walk (map, A, (PawlPoint) { 180, 50 }, (PawlPoint) { 60, 50 }, 2000, 15).n_small, ==, 1);
  /* Down to the right at 45 degrees, y down, as rotate(45) turns: along the hatching. At right angles to it, and beside it: not. */
  g_assert_true (pawl_id_map_walk (map, B, (PawlPoint) { 100, 0 }, (PawlPoint) { 150, 50 }, 100, 15).is_parallel);
  g_assert_true (pawl_id_map_walk (map, B, (PawlPoint) { 150, 50 }, (PawlPoint) { 100, 0 }, 100, 15).is_parallel);
  g_assert_false (pawl_id_map_walk (map, B, (PawlPoint) { 190, 10 }, (PawlPoint) { 150, 50 }, 100, 15).is_parallel);
  g_assert_false (pawl_id_map_walk (map, A, (PawlPoint) { 0, 0 }, (PawlPoint) { 50, 50 }, 100, 15).is_parallel);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/id-map/area", test_area);
  g_test_add_func ("/drawing/id-map/free", test_free);
  g_test_add_func ("/drawing/id-map/guide", test_guide);
  g_test_add_func ("/drawing/id-map/spots", test_spots);
  g_test_add_func ("/drawing/id-map/walk", test_walk);
  return g_test_run ();
}
