/*
 * The lanes of 40 jobs and 2,000 steps: to plan them, to place them, and to redraw what a window shows of them. The budget for a redraw is a frame of a
 * screen that shows 60 in a second, 16.7 ms. Prints a table; asserts nothing of time.
 * Usage: bench-plan [--quick] [-o OUT.png]
 */
#include <stdio.h>
#include <string.h>
#include <time.h>

#include "invented-jobs.h"
#include "plan/pawl-lanes.h"

#define N_JOBS 40
#define N_STEPS 50
#define WIDTH 1600
#define HEIGHT 1000
#define TEXT 13.0
#define FRAME_MS (1000.0 / 60)

static double
get_cpu_ms (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double) now.tv_sec * 1e3 + (double) now.tv_nsec / 1e6;
}

static int
compare (gconstpointer a, gconstpointer b)
{
  double left = *(const double *) a, right = *(const double *) b;

  return (left > right) - (left < right);
}

/* Median and longest of @n redraws, the lanes scrolled on by a little each time. */
static void
redraw (const PawlLanes *lanes, const char *what, PawlLanesView view, guint n)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  g_autofree double *times = g_new (double, n);
  double reach = MAX (pawl_lanes_get_height (lanes) - HEIGHT, 0);

  for (guint i = 0; i < n; i++)
    {
      cairo_t *cr = cairo_create (surface);
      double before = get_cpu_ms ();

      view.top = reach * i / n;
      pawl_lanes_draw (lanes, &view, cr, WIDTH, HEIGHT);
      cairo_surface_flush (surface);
      times[i] = get_cpu_ms () - before;
      cairo_destroy (cr);
    }
  qsort (times, n, sizeof (double), compare);
  printf ("%-34s %8.2f ms median, %8.2f ms at worst of %u; budget %.1f ms: %s\n", what, times[n / 2], times[n - 1], n, FRAME_MS,
          times[n / 2] <= FRAME_MS ? "met" : "missed");
  cairo_surface_destroy (surface);
}

static void
write_picture (const PawlLanes *lanes, const char *path)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, (int) pawl_lanes_get_height (lanes));
  cairo_t *cr = cairo_create (surface);
  PawlLanesView view = { .selected = -1 };

  pawl_lanes_draw (lanes, &view, cr, WIDTH, pawl_lanes_get_height (lanes));
  cairo_destroy (cr);
  cairo_surface_write_to_png (surface, path);
  cairo_surface_destroy (surface);
}

int
main (int argc, char **argv)
{
  gboolean is_quick = argc > 1 && g_str_equal (argv[1], "--quick");
  guint n_jobs = is_quick ? 4 : N_JOBS, n = is_quick ? 5 : 200;
  g_autoptr(PawlProcedure) procedure = make_procedure (N_STEPS);
  double before = get_cpu_ms ();
  g_autoptr(PawlWorkPlan) plan = make_work_plan (procedure, n_jobs);
  double planned = get_cpu_ms () - before;
  g_autoptr(PawlLanes) lanes = NULL;
  const PawlSchedule *schedule = pawl_work_plan_get_schedule (plan);

  before = get_cpu_ms ();
  lanes = pawl_lanes_new (plan, TEXT);
  printf ("%u jobs, %u steps, %u items; window %ux%u, processor time\n", n_jobs, n_jobs * N_STEPS, schedule->n, WIDTH, HEIGHT);
  printf ("%-34s %8.2f ms, %.4f times the bound\n", "fold and plan", planned, (double) schedule->makespan / (double) schedule->bound);
  printf ("%-34s %8.2f ms\n", "place", get_cpu_ms () - before);
  redraw (lanes, "redraw, the whole time", (PawlLanesView) { .selected = -1 }, n);
  redraw (lanes, "redraw, a working day", (PawlLanesView) { .selected = -1, .until = 8 * 3600 }, n);
  redraw (lanes, "redraw, two hours", (PawlLanesView) { .selected = -1, .from = 3600, .until = 3 * 3600 }, n);
  if (argc > 2 && g_str_equal (argv[argc - 2], "-o"))
    write_picture (lanes, argv[argc - 1]);
  return 0;
}
