/* Networks: cycles, what follows anyway, floats of waits. */
#include "plan/pawl-network.h"

static void
test_cycle (void)
{
  g_autoptr(PawlNetwork) network = pawl_network_new ();
  g_autoptr(GArray) cycle = NULL;

  for (guint i = 0; i < 5; i++)
    pawl_network_add_work (network, 1);
  pawl_network_add_need (network, 4, 3); /* behind the cycle, not on it */
  pawl_network_add_need (network, 1, 0);
  pawl_network_add_need (network, 2, 1);
  g_assert_null (pawl_network_find_cycle (network));
  pawl_network_add_need (network, 3, 2);
  pawl_network_add_need (network, 1, 3);
  cycle = pawl_network_find_cycle (network);
  g_assert_nonnull (cycle);
  g_assert_cmpuint (cycle->len, ==, 4);
  g_assert_cmpuint (g_array_index (cycle, guint, 0), ==, g_array_index (cycle, guint, 3));
  for (guint i = 0; i + 1 < cycle->len; i++)
    {
      const GArray *needs = pawl_network_peek_needs (network, g_array_index (cycle, guint, i));
      gboolean is_needed = FALSE;

      for (guint j = 0; j < needs->len; j++)
        is_needed |= g_array_index (needs, guint, j) == g_array_index (cycle, guint, i + 1);
      g_assert_true (is_needed);
    }
}

static void
test_itself (void)
{
  g_autoptr(PawlNetwork) network = pawl_network_new ();
  g_autoptr(GArray) cycle = NULL;

  pawl_network_add_need (network, pawl_network_add_work (network, 1), 0);
  cycle = pawl_network_find_cycle (network);
  g_assert_nonnull (cycle);
  g_assert_cmpuint (cycle->len, ==, 2);
}

/* A wait is on the path with its minimum; its maximum moves nothing. */
static void
test_wait (void)
{
  g_autoptr(PawlNetwork) network = pawl_network_new ();
  guint in = pawl_network_add_work (network, 5), soak = pawl_network_add_wait (network, 30, 90);
  guint rinse = pawl_network_add_work (network, 8), measure = pawl_network_add_work (network, 12);
  g_autoptr(PawlCriticalPath) path = NULL;

  pawl_network_add_need (network, soak, in);
  pawl_network_add_need (network, rinse, soak);
  pawl_network_add_need (network, measure, in);
  path = pawl_critical_path_new (network);
  g_assert_cmpint (path->duration, ==, 43);
  g_assert_cmpint (path->earliest[rinse], ==, 35);
  g_assert_cmpint (path->total_float[soak], ==, 0);
  g_assert_cmpint (path->total_float[measure], ==, 26);
  g_assert_cmpint (path->free_float[measure], ==, 26);
  g_assert_cmpint (path->tail[in], ==, 38);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/network/cycle", test_cycle);
  g_test_add_func ("/plan/network/itself", test_itself);
  g_test_add_func ("/plan/network/wait", test_wait);
  return g_test_run ();
}
