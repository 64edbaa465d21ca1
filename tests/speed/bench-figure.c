/*
 * Measures the figure in a window: bench-figure [--json] [--quick] FIGURE.svg
 *
 * Times are printed, beside what they should be; they fail nothing. That the picture and the picks are right is checked too, and
 * that does: exit status 1. --quick does everything once and briefly: a test that the program still works, no measurement.
 */
#include <glib/gstdio.h>
#include <locale.h>
#include <math.h>
#include <stdlib.h>

#include "app/pawl-figure-canvas.h"
#include "speed-check.h"
#include "speed-stage.h"
#include "speed-table.h"

#define WIDTH 1600
#define HEIGHT 1000
#define MOST_DIFFERENCE 4 /* of 255, any channel of any pixel */
#define SLIDE_PARTS 3

typedef struct {
  SpeedStage *stage;
  SpeedTable *table;
  GPtrArray  *regions; /* (element-type PawlRegion), owned by the figure; (nullable) before it is loaded */
  const char *path;
  gboolean    is_quick;
  int         is_enough; /* tells the thread that draws to end */
} Bench;

static PawlFigureCanvas *
get_canvas (Bench *self)
{
  return PAWL_FIGURE_CANVAS (self->stage->canvas);
}

static double
msec_since (gint64 begin_usec)
{
  return (g_get_monotonic_time () - begin_usec) / 1000.0;
}

static int
compare_doubles (const void *a, const void *b)
{
  double first = *(const double *) a, second = *(const double *) b;

  return (first > second) - (first < second);
}

static double
take_median (double *values, guint n)
{
  qsort (values, n, sizeof *values, compare_doubles);
  return n % 2 ? values[n / 2] : (values[n / 2 - 1] + values[n / 2]) / 2;
}

/* ---- a full redraw by the drawing library, in a process of its own: its memory is not the window's ---- */

static RsvgHandle *
load_handle (const char *path)
{
  g_autoptr(GFile) file = g_file_new_for_path (path);
  g_autoptr(GError) error = NULL;
  RsvgHandle *handle = rsvg_handle_new_from_gfile_sync (file, RSVG_HANDLE_FLAGS_NONE, NULL, &error);

  if (handle == NULL)
    g_error ("%s", error->message);
  return handle;
}

static int
print_redraw_msec (const char *path)
{
  g_autoptr(RsvgHandle) handle = load_handle (path);
  RsvgRectangle whole = { 0, 0, WIDTH, HEIGHT };
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (image);
  gint64 begin = g_get_monotonic_time (), begin_cpu = speed_watch_get_cpu_time ();

  rsvg_handle_render_document (handle, cr, &whole, NULL);
  cairo_surface_flush (image);
  g_print ("%.3f %.3f\n", msec_since (begin), (speed_watch_get_cpu_time () - begin_cpu) / 1000.0);
  cairo_destroy (cr);
  cairo_surface_destroy (image);
  return 0;
}

static void
measure_redraw (const char *program, const char *path, double *msec, double *cpu_msec)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *output = NULL;
  const char *argv[] = { program, "--redraw", path, NULL };
  char *end;

  if (!g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, &output, NULL, NULL, &error))
    g_error ("%s", error->message);
  *msec = g_ascii_strtod (output, &end);
  *cpu_msec = g_ascii_strtod (end, NULL);
}

/* ---- openings ---- */

typedef struct {
  double load_msec, whole_msec, longest_msec;
} Opening;

static Opening
open_figure (Bench *self)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = NULL;
  Opening opening;
  gint64 begin = g_get_monotonic_time ();

  if (!(figure = pawl_figure_load (self->path, &error)))
    g_error ("%s", error->message);
  opening.load_msec = msec_since (begin);
  speed_watch_reset (self->stage->watch);
  speed_stage_open (self->stage, figure);
  opening.whole_msec = (speed_stage_settle (self->stage) - begin) / 1000.0;
  opening.longest_msec = speed_watch_get_longest_msec (self->stage->watch);
  self->regions = pawl_figure_list_part_regions (figure);
  return opening;
}

static void
measure_openings (Bench *self)
{
  Opening first = open_figure (self), second;

  speed_table_add (self->table, "load", "load", first.load_msec, "ms", (SpeedGoal) { 0 });
  speed_table_add (self->table, "first-opening", "first complete picture, first opening", first.whole_msec, "ms", (SpeedGoal) { 0 });
  g_clear_pointer (&self->regions, g_ptr_array_unref);
  speed_stage_close (self->stage);
  speed_stage_settle (self->stage);
  second = open_figure (self);
  speed_table_add (self->table, "second-opening", "first complete picture, second opening", second.whole_msec, "ms", (SpeedGoal) { 0 });
  speed_table_add (self->table, "opening-block", "longest stretch of the main thread while opening", MAX (first.longest_msec, second.longest_msec), "ms",
                   (SpeedGoal) { .most = 50 });
}

/* ---- changes: the work of the main thread from the change until all is at rest ---- */

static const char *
get_region (Bench *self, double share)
{
  return ((PawlRegion *) self->regions->pdata[(guint) (share * self->regions->len)])->id;
}

typedef struct {
  double work_msec[15], cpu_msec[15];
  guint  n;
} Changes;

static void
finish_change (Bench *self)
{
  speed_stage_refresh (self->stage);
  speed_stage_settle (self->stage);
}

static void
measure_change (Bench *self, Changes *changes)
{
  finish_change (self);
  changes->work_msec[changes->n] = speed_watch_get_busy_msec (self->stage->watch);
  changes->cpu_msec[changes->n++] = speed_watch_get_busy_cpu_msec (self->stage->watch);
}

static void
add_changes (Bench *self, Changes *changes, const char *key, const char *what, SpeedGoal goal)
{
  speed_table_add (self->table, key, what, take_median (changes->work_msec, changes->n), "ms", goal);
  speed_table_note_cpu (self->table, take_median (changes->cpu_msec, changes->n));
}

static void
measure_highlight (Bench *self)
{
  Changes changes = { 0 };
  guint n = self->is_quick ? 1 : 15;

  for (guint i = 0; i < n; i++)
    {
      speed_watch_reset (self->stage->watch);
      if (i > 0)
        pawl_scene_set_state (self->stage->scene, get_region (self, (i - 0.5) / n), PAWL_STATE_OUT);
      pawl_scene_set_state (self->stage->scene, get_region (self, (i + 0.5) / n), PAWL_STATE_HIGHLIGHT);
      measure_change (self, &changes);
    }
  add_changes (self, &changes, "highlight", "highlight another part", (SpeedGoal) { .most = 8, .most_ratio = 0.02 });
  pawl_scene_set_all (self->stage->scene, PAWL_STATE_OUT);
  finish_change (self);
}

static void
measure_dim (Bench *self)
{
  Changes changes = { 0 };

  for (guint i = 0; i < (self->is_quick ? 1 : 5); i++)
    {
      speed_watch_reset (self->stage->watch);
      pawl_scene_set_all (self->stage->scene, PAWL_STATE_LATER);
      measure_change (self, &changes);
      pawl_scene_set_all (self->stage->scene, PAWL_STATE_OUT);
      finish_change (self);
    }
  add_changes (self, &changes, "dim", "dim all", (SpeedGoal) { .most_ratio = 0.03 });
}

/* ---- moves ---- */

/* Of the move just made. */
static void
add_frames (Bench *self, const char *key, const char *what, SpeedGoal goal)
{
  speed_table_add (self->table, key, what, speed_watch_get_work_p95_msec (self->stage->watch), "ms", goal);
  speed_table_note_cpu (self->table, speed_watch_get_work_p95_cpu_msec (self->stage->watch));
}

static void
slide_step (SpeedStage *stage, double t)
{
  g_autoptr(GPtrArray) regions = pawl_figure_list_part_regions (pawl_scene_get_figure (stage->scene));

  for (guint i = 0; i < SLIDE_PARTS; i++)
    pawl_scene_set_fraction (stage->scene, ((PawlRegion *) regions->pdata[regions->len * (2 * i + 3) / 10])->id, t);
}

static void
prepare_slide (Bench *self)
{
  static const PawlPoint legs[] = { { 60, -35 }, { 60, 105 } };

  for (guint i = 0; i < SLIDE_PARTS; i++)
    pawl_scene_set_slide (self->stage->scene, get_region (self, (2 * i + 3) / 10.0), legs, G_N_ELEMENTS (legs));
  slide_step (self->stage, 0);
  finish_change (self);
}

/* The worker's load without its results: the figure is drawn over and over by a handle of this thread's own. */
static gpointer
draw_in_thread (gpointer data)
{
  Bench *self = data;
  g_autoptr(RsvgHandle) handle = load_handle (self->path);

  while (!g_atomic_int_get (&self->is_enough))
    {
      cairo_matrix_t identity;

      cairo_matrix_init_identity (&identity);
      cairo_surface_destroy (speed_check_draw_whole (handle, (PawlBox) { 0, 0, WIDTH, HEIGHT }, &identity, WIDTH, HEIGHT));
    }
  return NULL;
}

static void
slide (Bench *self)
{
  prepare_slide (self);
  pawl_figure_canvas_set_sliding (get_canvas (self), TRUE);
  speed_stage_move (self->stage, self->is_quick ? 100 : 2000, slide_step);
  pawl_figure_canvas_set_sliding (get_canvas (self), FALSE);
}

static void
measure_slide (Bench *self)
{
  SpeedWatch *watch = self->stage->watch;
  GThread *thread;

  slide (self);
  speed_table_add (self->table, "slide-fps", "slide three parts", speed_watch_get_fps (watch), "fps", (SpeedGoal) { .least = 59 });
  add_frames (self, "slide-p95", "slide three parts, work for a frame, p95", (SpeedGoal) { .most = 8 });
  speed_stage_settle (self->stage);

  thread = g_thread_new ("busy", draw_in_thread, self);
  slide (self);
  speed_table_add (self->table, "slide-busy-fps", "slide while a thread draws", speed_watch_get_fps (watch), "fps", (SpeedGoal) { .least = 59 });
  add_frames (self, "slide-busy-p95", "slide while a thread draws, work for a frame, p95", (SpeedGoal) { .most = 8 });
  g_atomic_int_set (&self->is_enough, TRUE);
  g_thread_join (thread);
  speed_stage_settle (self->stage);
}

static void
zoom_step (SpeedStage *stage, double t)
{
  PawlBox sheet = pawl_figure_get_view_box (pawl_scene_get_figure (stage->scene));
  double size = 1 - 0.5 * t;

  pawl_scene_set_view (stage->scene, (PawlBox) { sheet.x + sheet.width * t / 4, sheet.y + sheet.height * t / 4, sheet.width * size, sheet.height * size });
}

static void
measure_zoom (Bench *self)
{
  SpeedWatch *watch = self->stage->watch;
  gint64 arrival, is_there;

  speed_stage_move (self->stage, self->is_quick ? 100 : 2000, zoom_step);
  arrival = g_get_monotonic_time ();
  speed_table_add (self->table, "zoom-fps", "zoom to twice the size", speed_watch_get_fps (watch), "fps", (SpeedGoal) { .least = 55 });
  add_frames (self, "zoom-p95", "zoom, work for a frame, p95", (SpeedGoal) { 0 });
  speed_watch_reset (watch);
  pawl_figure_canvas_settle (get_canvas (self));
  is_there = speed_stage_settle (self->stage);
  speed_table_add (self->table, "sharp", "all sharp after the zoom", MAX (is_there - arrival, 0) / 1000.0, "ms", (SpeedGoal) { .most_ratio = 0.35 });
  pawl_scene_show_sheet (self->stage->scene);
  finish_change (self);
}

/* ---- what it took, and whether it was right ---- */

static double
read_memory_mb (void)
{
  g_autofree char *status = NULL;
  const char *line;

  g_file_get_contents ("/proc/self/status", &status, NULL, NULL);
  line = strstr (status, "VmHWM:");
  return g_ascii_strtod (line + strlen ("VmHWM:"), NULL) / 1024;
}

static const char *
pick_on_canvas (gpointer canvas, double x, double y)
{
  return pawl_figure_canvas_pick (canvas, x, y, 0);
}

static gboolean
check (Bench *self)
{
  g_autoptr(RsvgHandle) handle = load_handle (self->path);
  int width = self->stage->width, height = self->stage->height;
  guint n_points = self->is_quick ? 500 : 10000, n_right, difference;
  cairo_surface_t *shown, *right;
  cairo_matrix_t matrix;

  pawl_scene_set_all (self->stage->scene, PAWL_STATE_OUT);
  pawl_scene_show_sheet (self->stage->scene);
  finish_change (self);
  pawl_scene_get_matrix (self->stage->scene, width, height, &matrix);
  shown = speed_stage_take_picture (self->stage);
  right = speed_check_draw_whole (handle, pawl_figure_get_view_box (pawl_scene_get_figure (self->stage->scene)), &matrix, width, height);
  difference = speed_check_compare (shown, right);
  cairo_surface_destroy (shown);
  cairo_surface_destroy (right);
  n_right = speed_check_pick (self->stage->scene, handle, width, height, n_points, 1, pick_on_canvas, self->stage->canvas);
  speed_table_add (self->table, "difference", "picture, most that a channel differs", difference, "/255", (SpeedGoal) { .most = MOST_DIFFERENCE });
  speed_table_add (self->table, "picks", "picks that are right", n_right, self->is_quick ? "of 500" : "of 10000", (SpeedGoal) { .least = n_points });
  return difference <= MOST_DIFFERENCE && n_right == n_points;
}

static gboolean
measure (Bench *self)
{
  measure_openings (self);
  measure_highlight (self);
  measure_dim (self);
  measure_zoom (self);
  speed_table_add (self->table, "memory", "memory at its most", read_memory_mb (), "MB", (SpeedGoal) { .most = 256 });
  measure_slide (self); /* after it, as it opens a second handle */
  return check (self);
}

static void
remove_folder (const char *path)
{
  GDir *folder = g_dir_open (path, 0, NULL);
  const char *name;

  while (folder != NULL && (name = g_dir_read_name (folder)) != NULL)
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);

      if (g_file_test (inside, G_FILE_TEST_IS_DIR))
        remove_folder (inside);
      else
        g_unlink (inside);
    }
  g_clear_pointer (&folder, g_dir_close);
  g_rmdir (path);
}

static gboolean show_json, is_quick, only_redraw;
static char **paths;
static const GOptionEntry options[] = {
  { "json", 0, 0, G_OPTION_ARG_NONE, &show_json, "Print JSON", NULL },
  { "quick", 0, 0, G_OPTION_ARG_NONE, &is_quick, "Do everything once and briefly", NULL },
  { "redraw", 0, 0, G_OPTION_ARG_NONE, &only_redraw, "Print the milliseconds of one redraw by the drawing library, and no more", NULL },
  { G_OPTION_REMAINING, 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &paths, NULL, "FIGURE" },
  { NULL }
};

int
main (int argc, char **argv)
{
  g_autoptr(GOptionContext) context = g_option_context_new (NULL);
  g_autoptr(GError) error = NULL;
  g_autofree char *cache = NULL, *program = g_file_read_link ("/proc/self/exe", NULL);
  Bench bench = { 0 };
  double redraws[3], redraws_cpu[3];
  gboolean is_right;

  setlocale (LC_ALL, "");
  g_log_set_always_fatal (G_LOG_FATAL_MASK | G_LOG_LEVEL_CRITICAL | G_LOG_LEVEL_WARNING);
  g_option_context_add_main_entries (context, options, NULL);
  if (!g_option_context_parse (context, &argc, &argv, &error) || paths == NULL)
    g_error ("%s", error ? error->message : "name a figure");
  if (only_redraw)
    return print_redraw_msec (paths[0]);
  if (!gtk_init_check ())
    g_error ("there is no display");
  cache = g_dir_make_tmp ("pawl-speed-XXXXXX", &error);
  bench.path = paths[0];
  bench.is_quick = is_quick;
  for (guint i = 0; i < G_N_ELEMENTS (redraws); i++)
    measure_redraw (program, bench.path, &redraws[i], &redraws_cpu[i]);
  bench.table = speed_table_new (bench.path, take_median (redraws, G_N_ELEMENTS (redraws)));
  speed_table_add (bench.table, "redraw", "full redraw by librsvg", bench.table->redraw_msec, "ms", (SpeedGoal) { 0 });
  speed_table_note_cpu (bench.table, take_median (redraws_cpu, G_N_ELEMENTS (redraws_cpu)));
  bench.stage = speed_stage_new (WIDTH, HEIGHT, cache);
  is_right = measure (&bench);
  (show_json ? speed_table_print_json : speed_table_print) (bench.table);

  speed_stage_free (bench.stage);
  remove_folder (cache);
  speed_table_free (bench.table);
  g_ptr_array_unref (bench.regions);
  return is_right ? 0 : 1;
}
