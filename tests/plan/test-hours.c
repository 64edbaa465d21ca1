/* Working hours as they are written, and the moments that come again with each week. */
#include "plan/pawl-hours.h"

#define HOUR 3600
#define DAY (24 * HOUR)

/* Of each text the first and the last moment of the hours after Monday noon; "" where it is any hour. */
static void
test_parse (void)
{
  static const struct { const char *text; gint64 from, until; } cases[] = {
    { "08:00-17:00 Mon-Fri", 8 * HOUR, 17 * HOUR },
    { " 8:00 - 12:00 mon-fri , 13:00-17:00 Mon-Thu", 13 * HOUR, 17 * HOUR },
    { "08:00-17:00", 8 * HOUR, 17 * HOUR },
    { "22:00-06:00 Mon-Fri", 22 * HOUR, 30 * HOUR },
    { "09:00-13:00 Sat", 5 * DAY + 9 * HOUR, 5 * DAY + 13 * HOUR },
    { "00:00-24:00 Wed", 2 * DAY, 3 * DAY },
    { "00:00-24:00 Wed-Thu", 2 * DAY, 4 * DAY },
    { "00:00-24:00 Sun-Mon", -DAY, DAY },
    { "none", -1, -1 }, { "", -1, -1 }, { "00:00-24:00", -1, -1 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;
      PawlTimes *hours = NULL;
      gint64 from = 0, until = 0;

      g_assert_true (pawl_hours_parse (cases[i].text, &hours, &error));
      g_assert_no_error (error);
      if (cases[i].until < 0)
        g_assert_null (hours);
      else
        {
          g_assert_true (pawl_times_find_interval (hours, 12 * HOUR, &from, &until));
          g_assert_cmpint (from, ==, cases[i].from);
          g_assert_cmpint (until, ==, cases[i].until);
        }
      g_clear_pointer (&hours, pawl_times_free);
    }
}

static void
test_refuse (void)
{
  static const char *const cases[] = { "nine to five", "08:00", "25:00-26:00", "08:00-24:01", "08:60-17:00", "08:00-17:00 Mon-Foo", "08:00-17:00Mon", "08:00-08:00", "08:00-17:00,",
                                       "-8:00-17:00", "08:00-17:00 Mon Tue" };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;
      PawlTimes *hours = NULL;

      if (pawl_hours_parse (cases[i], &hours, &error))
        g_error ("“%s” was taken", cases[i]);
      g_assert_error (error, PAWL_HOURS_ERROR, PAWL_HOURS_ERROR_BAD);
      g_assert_null (hours);
    }
}

/* Against a line of moments, each with its answer: random sets of a short period. */
static void
test_times (void)
{
  g_autoptr(GRand) random = g_rand_new_with_seed (6);

  for (guint i = 0; i < 300; i++)
    {
      gint64 period = g_rand_int_range (random, 3, 12), min = g_rand_int_range (random, 0, 6), max = min + g_rand_int_range (random, 0, 4);
      g_autoptr(PawlTimes) a = pawl_times_new (period), b = pawl_times_new (period), both = NULL, begun = NULL;
      gboolean in_a[12] = { FALSE }, in_b[12] = { FALSE };

      for (guint j = 0; j < 2; j++)
        {
          gint64 from = g_rand_int_range (random, -20, 20), until = from + g_rand_int_range (random, 0, 3);

          pawl_times_add (j == 0 ? a : b, from, until);
          for (gint64 t = from; t <= until; t++)
            (j == 0 ? in_a : in_b)[((t % period) + period) % period] = TRUE;
        }
      both = pawl_times_shift (a, 0);
      pawl_times_intersect (both, b);
      begun = pawl_times_spread_back (a, min, max);
      for (gint64 t = -15; t < 15; t++)
        {
          gint64 next = t, last = t, place = ((t % period) + period) % period;
          gboolean can_begin = FALSE;

          while (!in_a[((next % period) + period) % period])
            next++;
          while (!in_a[((last % period) + period) % period])
            last--;
          for (gint64 d = min; d <= max; d++)
            can_begin |= in_a[(((t + d) % period) + period) % period];
          g_assert_cmpint (pawl_times_find_next (a, t), ==, next);
          g_assert_cmpint (pawl_times_find_last (a, t), ==, last);
          g_assert_cmpint (!pawl_times_is_empty (both) && pawl_times_find_next (both, t) == t, ==, in_a[place] && in_b[place]);
          g_assert_cmpint (pawl_times_find_next (begun, t) == t, ==, can_begin);
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/hours/parse", test_parse);
  g_test_add_func ("/plan/hours/refuse", test_refuse);
  g_test_add_func ("/plan/hours/times", test_times);
  return g_test_run ();
}
