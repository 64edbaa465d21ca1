/* Which part comes next when the page is read. */
#include "app/pawl-figure-order.h"

typedef struct {
  const char *what;
  guint       n_boxes;
  PawlBox     boxes[8];
  guint       order[8];
} Case;

static const Case cases[] = {
  { "none", 0, { { 0, 0, 0, 0 } }, { 0 } },
  { "one", 1, { { 5, 5, 10, 10 } }, { 0 } },
  { "two rows of two", 4, { { 50, 50, 10, 10 }, { 0, 52, 10, 10 }, { 50, 0, 10, 10 }, { 0, 3, 10, 10 } }, { 3, 2, 1, 0 } },
  { "down an axis", 3, { { 0, 200, 30, 10 }, { 5, 0, 20, 10 }, { 10, 100, 10, 10 } }, { 1, 2, 0 } },
  { "a body as tall as all of them is in the row of its middle", 4, { { 100, 0, 50, 300 }, { 0, 0, 10, 10 }, { 0, 145, 10, 10 }, { 0, 290, 10, 10 } }, { 1, 2, 0, 3 } },
  { "a staircase whose steps are less than half a row each is a row and the next", 4, { { 30, 0, 10, 10 }, { 20, 4, 10, 10 }, { 10, 8, 10, 10 }, { 0, 12, 10, 10 } }, { 2, 1, 0, 3 } },
  { "what isn't shown comes last, in its own order", 4, { { 0, 0, 0, 0 }, { 9, 9, 5, 5 }, { 3, 3, 0, 5 }, { 0, 0, 5, 5 } }, { 3, 1, 0, 2 } },
  { "one upon another keep their order", 3, { { 0, 0, 5, 5 }, { 0, 0, 5, 5 }, { 0, 0, 5, 5 } }, { 0, 1, 2 } },
};

static void
test_read (gconstpointer data)
{
  const Case *test = data;
  g_autofree guint *order = pawl_figure_order_read (test->boxes, test->n_boxes);

  for (guint i = 0; i < test->n_boxes; i++)
    g_assert_cmpuint (order[i], ==, test->order[i]);
}

/* Each thing once. */
static void
test_any (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (11);

  for (guint round = 0; round < 200; round++)
    {
      PawlBox boxes[40];
      gboolean seen[40] = { FALSE };
      guint n = (guint) g_rand_int_range (random, 0, 41);
      g_autofree guint *order = NULL;

      for (guint i = 0; i < n; i++)
        boxes[i] = (PawlBox) { g_rand_int_range (random, 0, 20), g_rand_int_range (random, 0, 20), g_rand_int_range (random, 0, 5), g_rand_int_range (random, 0, 5) };
      order = pawl_figure_order_read (boxes, n);
      for (guint i = 0; i < n; i++)
        {
          g_assert_cmpuint (order[i], <, n);
          g_assert_false (seen[order[i]]);
          seen[order[i]] = TRUE;
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/figure-order/%s", cases[i].what);

      g_test_add_data_func (path, &cases[i], test_read);
    }
  g_test_add_func ("/figure-order/any", test_any);
  return g_test_run ();
}
