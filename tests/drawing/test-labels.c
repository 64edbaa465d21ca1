/* Labels: outside the outline, aligned, none on another, no leaders crossing, the same every time. */
#include <math.h>

#include "drawing/pawl-labels.h"

static const PawlBox outline = { 100, 60, 800, 500 };
static const PawlBox sheet = { 0, 0, 1000, 620 };

/* @n anchors scattered over the outline by a fixed sequence. */
static PawlLabels *
place_scattered (guint n, guint32 seed)
{
  PawlLabels *labels = pawl_labels_new ();
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *text = g_strdup_printf ("%u", i + 1);
      PawlPoint anchor = { g_rand_double_range (rand, 110, 890), g_rand_double_range (rand, 70, 550) };

      pawl_labels_add (labels, text, anchor, i < 9 ? 8 : 17, 14);
    }
  pawl_labels_place (labels, outline, sheet);
  return labels;
}

static PawlBox
get_box (const PawlLabel *label)
{
  return (PawlBox) { label->place.x - label->width / 2, label->place.y - label->height / 2, label->width, label->height };
}

static gboolean
overlap (PawlBox a, PawlBox b)
{
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

/* By its own arithmetic, not the layout's: do the segments meet? */
static gboolean
leaders_meet (const PawlLabel *p, const PawlLabel *q)
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
      g_autoptr(PawlLabels) labels = place_scattered (n, seed);

      g_assert_cmpuint (labels->items->len, ==, n);
      g_assert_cmpuint (labels->n_crossings, ==, 0);
      for (guint i = 0; i < n; i++)
        {
          const PawlLabel *p = g_ptr_array_index (labels->items, i);
          PawlBox box = get_box (p);

          g_assert_false (overlap (box, outline));
          g_assert_true (box.x >= sheet.x && box.y >= sheet.y && box.x + box.width <= sheet.x + sheet.width && box.y + box.height <= sheet.y + sheet.height);
          for (guint j = i + 1; j < n; j++)
            {
              const PawlLabel *q = g_ptr_array_index (labels->items, j);

              g_assert_false (overlap (box, get_box (q)));
              g_assert_false (leaders_meet (p, q));
            }
        }
    }
}

/* Every label stands in one of two rows or two columns. Columns are flush at the leader's end. */
static void
test_aligned (void)
{
  g_autoptr(PawlLabels) labels = place_scattered (40, 7);

  for (guint i = 0; i < 40; i++)
    {
      const PawlLabel *p = g_ptr_array_index (labels->items, i);
      double right = p->place.x + p->width / 2, left = p->place.x - p->width / 2;
      int n_lines = (fabs (right - (100 - 0.6 * 14)) < 1e-9) + (fabs (left - (900 + 0.6 * 14)) < 1e-9)
                    + (fabs (p->place.y - (60 - 1.1 * 14)) < 1e-9) + (fabs (p->place.y - (560 + 1.1 * 14)) < 1e-9);

      g_assert_cmpint (n_lines, >=, 1);
    }
}

static void
test_deterministic (void)
{
  g_autoptr(PawlLabels) a = place_scattered (40, 3);
  g_autoptr(PawlLabels) b = place_scattered (40, 3);

  g_assert_cmpfloat (a->cost, ==, b->cost);
  for (guint i = 0; i < 40; i++)
    {
      const PawlLabel *p = g_ptr_array_index (a->items, i), *q = g_ptr_array_index (b->items, i);

      g_assert_cmpfloat (p->place.x, ==, q->place.x);
      g_assert_cmpfloat (p->place.y, ==, q->place.y);
    }
}

/* One part near the left edge gets its label on the left, at its own height. */
static void
test_near_side (void)
{
  g_autoptr(PawlLabels) labels = pawl_labels_new ();
  PawlLabel *label = pawl_labels_add (labels, "1", (PawlPoint) { 120, 300 }, 8, 14);

  pawl_labels_place (labels, outline, sheet);
  g_assert_cmpfloat (label->place.x, <, outline.x);
  g_assert_cmpfloat (label->place.y, ==, 300);
}

/* More than there is room for: still inside, still in order, no crash. */
static void
test_crowded (void)
{
  g_autoptr(PawlLabels) labels = pawl_labels_new ();

  for (guint i = 0; i < 60; i++)
    pawl_labels_add (labels, "88", (PawlPoint) { 40 + i % 10, 40 + i / 10 }, 17, 14);
  pawl_labels_place (labels, (PawlBox) { 30, 30, 40, 40 }, (PawlBox) { 0, 0, 100, 100 });
  g_assert_cmpuint (labels->items->len, ==, 60);
  g_assert_true (isfinite (labels->cost));
}

static void
test_none (void)
{
  g_autoptr(PawlLabels) labels = pawl_labels_new ();

  pawl_labels_place (labels, outline, sheet);
  g_assert_cmpfloat (labels->cost, ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/labels/rules", test_rules);
  g_test_add_func ("/drawing/labels/aligned", test_aligned);
  g_test_add_func ("/drawing/labels/deterministic", test_deterministic);
  g_test_add_func ("/drawing/labels/near-side", test_near_side);
  g_test_add_func ("/drawing/labels/crowded", test_crowded);
  g_test_add_func ("/drawing/labels/none", test_none);
  return g_test_run ();
}
