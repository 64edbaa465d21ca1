/* Callouts: outside the outline, aligned, none on another, no leaders crossing, the same every time. */
#include "fixtures.h"

static const PawlBox outline = { 100, 60, 800, 500 };
static const PawlBox sheet = { 0, 0, 1000, 620 };

/* @n anchors scattered over the outline by a fixed sequence. */
static PawlCallouts *
place_scattered (guint n, guint32 seed)
{
  PawlCallouts *callouts = pawl_callouts_new ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *number = g_strdup_printf ("%u", i + 1);
      PawlPoint anchor = { g_rand_double_range (rand, 110, 890), g_rand_double_range (rand, 70, 550) };

      pawl_callouts_add (callouts, number, number, anchor, i < 9 ? 8 : 17, 14);
    }
  pawl_callouts_place (callouts, outline, sheet);
  return callouts;
}

static PawlBox
get_box (const PawlCallout *callout)
{
  return (PawlBox) { callout->place.x - callout->width / 2, callout->place.y - callout->height / 2, callout->width, callout->height };
}

static gboolean
overlap (PawlBox a, PawlBox b)
{
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

/* By its own arithmetic, not the layout's: do the segments meet? */
static gboolean
leaders_meet (const PawlCallout *p, const PawlCallout *q)
{
  double ax = p->anchor.x - p->elbow.x, ay = p->anchor.y - p->elbow.y, bx = q->anchor.x - q->elbow.x, by = q->anchor.y - q->elbow.y;
  double d = ax * by - ay * bx, ex = q->elbow.x - p->elbow.x, ey = q->elbow.y - p->elbow.y;
  double s = (ex * by - ey * bx) / d, t = (ex * ay - ey * ax) / d;

  return d != 0 && s > 0 && s < 1 && t > 0 && t < 1;
}

static void
test_rules (void)
{
  for (guint32 seed = 1; seed <= 12; seed++)
    {
      guint n = seed * 5;
      g_autoptr(PawlCallouts) callouts = place_scattered (n, seed);

      g_assert_cmpuint (callouts->items->len, ==, n);
      g_assert_cmpuint (callouts->n_crossings, ==, 0);
      for (guint i = 0; i < n; i++)
        {
          const PawlCallout *p = g_ptr_array_index (callouts->items, i);
          PawlBox box = get_box (p);

          g_assert_false (overlap (box, outline));
          g_assert_true (box.x >= sheet.x && box.y >= sheet.y && box.x + box.width <= sheet.x + sheet.width && box.y + box.height <= sheet.y + sheet.height);
          for (guint j = i + 1; j < n; j++)
            {
              const PawlCallout *q = g_ptr_array_index (callouts->items, j);

              g_assert_false (overlap (box, get_box (q)));
              g_assert_false (leaders_meet (p, q));
            }
        }
    }
}

/* Every number stands in one of two rows or two columns. Columns are flush at the leader's end. */
static void
test_aligned (void)
{
  g_autoptr(PawlCallouts) callouts = place_scattered (40, 7);

  for (guint i = 0; i < 40; i++)
    {
      const PawlCallout *p = g_ptr_array_index (callouts->items, i);
      double right = p->place.x + p->width / 2, left = p->place.x - p->width / 2;
      int n_lines = (fabs (right - (100 - 0.6 * 14)) < 1e-9) + (fabs (left - (900 + 0.6 * 14)) < 1e-9)
                    + (fabs (p->place.y - (60 - 1.1 * 14)) < 1e-9) + (fabs (p->place.y - (560 + 1.1 * 14)) < 1e-9);

      g_assert_cmpint (n_lines, >=, 1);
    }
}

static void
test_deterministic (void)
{
  g_autoptr(PawlCallouts) a = place_scattered (40, 3);
  g_autoptr(PawlCallouts) b = place_scattered (40, 3);

  g_assert_cmpfloat (a->cost, ==, b->cost);
  for (guint i = 0; i < 40; i++)
    {
      const PawlCallout *p = g_ptr_array_index (a->items, i), *q = g_ptr_array_index (b->items, i);

      g_assert_cmpfloat (p->place.x, ==, q->place.x);
      g_assert_cmpfloat (p->place.y, ==, q->place.y);
    }
}

/* One part near the left edge gets its number on the left, at its own height. */
static void
test_near_side (void)
{
  g_autoptr(PawlCallouts) callouts = pawl_callouts_new ();
  PawlCallout *callout = pawl_callouts_add (callouts, "1", "a", (PawlPoint) { 120, 300 }, 8, 14);

  pawl_callouts_place (callouts, outline, sheet);
  g_assert_cmpfloat (callout->place.x, <, outline.x);
  g_assert_cmpfloat (callout->place.y, ==, 300);
}

/* More than there is room for: still inside, still in order, no crash. */
static void
test_crowded (void)
{
  g_autoptr(PawlCallouts) callouts = pawl_callouts_new ();

  for (guint i = 0; i < 60; i++)
    pawl_callouts_add (callouts, "88", "a", (PawlPoint) { 40 + i % 10, 40 + i / 10 }, 17, 14);
  pawl_callouts_place (callouts, (PawlBox) { 30, 30, 40, 40 }, (PawlBox) { 0, 0, 100, 100 });
  g_assert_cmpuint (callouts->items->len, ==, 60);
  g_assert_true (isfinite (callouts->cost));
}

static void
test_none (void)
{
  g_autoptr(PawlCallouts) callouts = pawl_callouts_new ();

  pawl_callouts_place (callouts, outline, sheet);
  g_assert_cmpfloat (callouts->cost, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/callouts/rules", test_rules);
  g_test_add_func ("/drawing/callouts/aligned", test_aligned);
  g_test_add_func ("/drawing/callouts/deterministic", test_deterministic);
  g_test_add_func ("/drawing/callouts/near-side", test_near_side);
  g_test_add_func ("/drawing/callouts/crowded", test_crowded);
  g_test_add_func ("/drawing/callouts/none", test_none);
  return g_test_run ();
}
