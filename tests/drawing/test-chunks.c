/* Chunks: drawn by the worker as by the caller, stopped at any time, kept on disk, and drawn again when what was kept is damaged. */
#include "fixtures.h"

#include <glib/gstdio.h>

#include "drawing/pawl-chunk-worker.h"
#include "drawing/pawl-scene-chunks.h"

typedef struct {
  PawlFigure      *figure;
  GPtrArray       *results; /* (element-type PawlChunkResult), emptied of nothing */
  char            *folder;
  guint            n_chunks;
} Fixture;

static void
set_up (Fixture *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  self->figure = load_parts ();
  self->n_chunks = pawl_figure_get_n_chunks (self->figure);
  self->results = g_ptr_array_new ();
  self->folder = g_dir_make_tmp ("pawl-chunks-XXXXXX", &error);
  g_assert_no_error (error);
}

static void
free_result (PawlChunkResult *result)
{
  g_clear_pointer (&result->image, pawl_chunk_image_unref);
  g_clear_pointer (&result->silhouette, g_ptr_array_unref);
  g_free (result);
}

static void
forget_results (Fixture *self)
{
  g_ptr_array_foreach (self->results, (GFunc) free_result, NULL);
  g_ptr_array_set_size (self->results, 0);
}

static void
for_each_file (Fixture *self, void (*action) (const char *path))
{
  g_autoptr(GDir) folder = g_dir_open (self->folder, 0, NULL);
  const char *name;

  while ((name = g_dir_read_name (folder)))
    {
      g_autofree char *path = g_build_filename (self->folder, name, NULL);

      action (path);
    }
}

static void
remove_file (const char *path)
{
  g_assert_cmpint (g_unlink (path), ==, 0);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  forget_results (self);
  g_ptr_array_unref (self->results);
  for_each_file (self, remove_file);
  g_assert_cmpint (g_rmdir (self->folder), ==, 0);
  g_free (self->folder);
  g_object_unref (self->figure);
}

static void
done_cb (GPtrArray *results, gpointer data)
{
  Fixture *self = data;

  for (guint i = 0; i < results->len; i++)
    {
      PawlChunkResult *result = g_ptr_array_index (results, i), *copy = g_memdup2 (result, sizeof *result);

      result->image = NULL;
      result->silhouette = NULL;
      g_ptr_array_add (self->results, copy);
    }
}

static void
wait_for (Fixture *self, guint n_results)
{
  while (self->results->len < n_results)
    g_main_context_iteration (NULL, TRUE);
}

static guint
get_chunk (Fixture *self, const char *id)
{
  guint n;

  g_assert_nonnull (pawl_figure_lookup_chunk (self->figure, id, &n));
  return n;
}

static PawlChunkJob
make_job (PawlChunkJobKind kind, guint n, double scale)
{
  return (PawlChunkJob) { .kind = kind, .n = n, .grid = { .scale = scale }, .window = { 0, 0, 400, 300 } };
}

static void
want_all (Fixture *self, PawlChunkWorker *worker, PawlChunkJobKind kind, double scale)
{
  GArray *jobs = pawl_chunk_jobs_new ();

  for (guint n = 0; n < self->n_chunks; n++)
    g_array_append_vals (jobs, (PawlChunkJob[]) { make_job (kind, n, scale) }, 1);
  pawl_chunk_worker_want (worker, jobs);
}

static const PawlChunkResult *
find (Fixture *self, guint n)
{
  for (guint i = self->results->len; i > 0; i--)
    if (((PawlChunkResult *) g_ptr_array_index (self->results, i - 1))->n == n)
      return g_ptr_array_index (self->results, i - 1);
  return NULL;
}

static void
draw_cb (cairo_t *cr, gpointer data)
{
  cairo_rectangle (cr, 100, 100, 200, 100);
  cairo_set_source_rgb (cr, 1, 0, 0);
  cairo_fill (cr);
}

/* ---- images ---- */

static void
test_image (void)
{
  const PawlGrid grid = { .scale = 0.5, .phase_x = 0.25, .phase_y = 0.5 };
  g_autoptr(PawlChunkImage) image = pawl_chunk_image_new (draw_cb, NULL, (PawlBox) { 0, 0, 400, 300 }, (PawlBox) { 0 }, &grid);
  g_autoptr(PawlChunkImage) pale = pawl_chunk_image_veil (image);

  /* 100 to 300 by 100 to 200 at half size: pixels 50.25 to 150.25 by 50.5 to 100.5, so 101 by 51 are touched. */
  g_assert_cmpint (image->x, ==, 50);
  g_assert_cmpint (image->y, ==, 50);
  g_assert_cmpint (image->width, ==, 101);
  g_assert_cmpint (image->height, ==, 51);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (image, 200, 150), ==, 255);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (image, 98, 150), ==, 0);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (image, 302, 150), ==, 0);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (image, 200, 99.5), ==, 127 + 1); /* half a row */
  /* 74 % paper over red: ff, bd, bd; alpha as before. */
  g_assert_cmphex (((const guint32 *) g_bytes_get_data (pale->pixels, NULL))[25 * 101 + 50], ==, 0xffffbdbd);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (pale, 200, 99.5), ==, 128);
}

static void
test_grids (void)
{
  const PawlGrid grid = { .scale = 2, .phase_x = 0.5, .phase_y = 0 };
  PawlGrid other = grid;

  g_assert_true (pawl_grid_fits (&grid, &other));
  other.phase_x = 0.53;
  g_assert_false (pawl_grid_fits (&grid, &other));
  other = grid;
  other.scale = 2.00001;
  g_assert_false (pawl_grid_fits (&grid, &other));
}

/* Too large to be drawn whole: only what is looked at is. */
static void
test_large_image (void)
{
  const PawlGrid grid = { .scale = 40 }, far_too_close = { .scale = 80 };
  const PawlBox window = { 150, 140, 20, 10 };
  g_autoptr(PawlChunkImage) image = pawl_chunk_image_new (draw_cb, NULL, (PawlBox) { 100, 100, 200, 100 }, window, &grid);

  g_assert_false (image->is_whole);
  g_assert_cmpint (image->width, ==, 800);
  g_assert_cmpint (image->height, ==, 400);
  g_assert_cmpfloat (image->covers.x, ==, 150);
  /* A caller who looks at all of it eighty times as large gets nothing, and the machine keeps its memory. */
  g_assert_null (pawl_chunk_image_new (draw_cb, NULL, (PawlBox) { 100, 100, 200, 100 }, (PawlBox) { 0, 0, 1000, 1000 }, &far_too_close));
}

/* Both looks stay while they are of the camera's scale; then the one that is not wanted goes, and the other is shown until a sharp one is there. */
static void
test_spares (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlScene) scene = pawl_scene_new (self->figure);
  guint plate = get_chunk (self, "plate");
  cairo_matrix_t matrix;
  PawlChunkImage *ink;

  pawl_scene_set_waits (scene, TRUE);
  pawl_scene_get_matrix (scene, 400, 300, &matrix);
  ink = pawl_chunk_image_new (draw_cb, NULL, (PawlBox) { 0, 0, 400, 300 }, (PawlBox) { 0 }, &(PawlGrid) { .scale = matrix.xx });
  pawl_scene_take_image (scene, plate, pawl_chunk_image_veil (ink));
  pawl_scene_take_image (scene, plate, ink);
  pawl_scene_drop_spares (scene, 400, 300);
  g_assert_nonnull (pawl_scene_peek_image (scene, plate, PAWL_LOOK_PALE));
  pawl_scene_zoom (scene, 2, 200, 150);
  pawl_scene_drop_spares (scene, 400, 300);
  g_assert_null (pawl_scene_peek_image (scene, plate, PAWL_LOOK_PALE));
  g_assert_true (pawl_scene_peek_image (scene, plate, PAWL_LOOK_INK) == ink);
}

/* ---- the worker ---- */

static void
test_worker (Fixture *self, gconstpointer data)
{
  PawlChunkWorker *worker = pawl_chunk_worker_new (self->figure, NULL, done_cb, self);
  guint plate = get_chunk (self, "plate");
  const PawlChunkResult *result;
  g_autoptr(PawlChunkImage) ink = NULL;
  GArray *jobs = pawl_chunk_jobs_new ();
  PawlChunkJob job;

  want_all (self, worker, PAWL_CHUNK_JOB_MEASURE, 1);
  wait_for (self, self->n_chunks);
  result = find (self, plate);
  g_assert_true (result->is_measured);
  g_assert_cmpfloat_with_epsilon (result->extents.x, 100, 0.5);
  g_assert_cmpfloat_with_epsilon (result->extents.width, 200, 0.5);
  forget_results (self);
  want_all (self, worker, PAWL_CHUNK_JOB_DRAW, 1.5);
  wait_for (self, self->n_chunks);
  result = find (self, plate);
  g_assert_cmpuint (pawl_chunk_image_get_alpha (result->image, 110, 110), ==, 255);
  g_assert_cmpint (result->image->width, ==, 300);
  ink = pawl_chunk_image_ref (result->image);
  forget_results (self);
  job = make_job (PAWL_CHUNK_JOB_DRAW, plate, 1.5);
  job.grid.look = PAWL_LOOK_PALE;
  job.ink = pawl_chunk_image_ref (ink);
  g_array_append_val (jobs, job);
  job = make_job (PAWL_CHUNK_JOB_TRACE, get_chunk (self, "ring"), 1.5);
  g_array_append_val (jobs, job);
  pawl_chunk_worker_want (worker, jobs);
  wait_for (self, 2);
  g_assert_cmpint (find (self, plate)->image->grid.look, ==, PAWL_LOOK_PALE);
  g_assert_cmpuint (find (self, get_chunk (self, "ring"))->silhouette->len, ==, 1); /* the outer outline only */
  pawl_chunk_worker_stop (worker, NULL, NULL);
}

/* What was wanted before and is not any more is not begun; the most wanted comes first. */
static void
test_replaced_wishes (Fixture *self, gconstpointer data)
{
  PawlChunkWorker *worker = pawl_chunk_worker_new (self->figure, NULL, done_cb, self);
  guint n_last = 0;

  for (guint i = 1; i <= 200; i++)
    want_all (self, worker, PAWL_CHUNK_JOB_DRAW, 1 + i / 100.0);
  while (n_last < self->n_chunks)
    {
      wait_for (self, self->results->len + 1);
      n_last = 0;
      for (guint i = 0; i < self->results->len; i++)
        n_last += ((PawlChunkResult *) g_ptr_array_index (self->results, i))->grid.scale == 3;
    }
  g_assert_cmpuint (n_last, ==, self->n_chunks); /* each once */
  g_assert_cmpuint (self->results->len, <, 200 * self->n_chunks / 2);
  pawl_chunk_worker_stop (worker, NULL, NULL);
}

static void
ended_cb (gpointer data)
{
  *(gboolean *) data = TRUE;
}

/* At once, while it opens the figure, while it draws, and when results lie ready: nothing is brought after that. */
static void
test_stop (Fixture *self, gconstpointer data)
{
  for (guint i = 0; i < 60; i++)
    {
      PawlChunkWorker *worker = pawl_chunk_worker_new (self->figure, NULL, done_cb, self);
      gboolean has_ended = FALSE;
      guint n_results;

      if (i % 3 > 0)
        want_all (self, worker, PAWL_CHUNK_JOB_DRAW, 1 + i);
      if (i % 3 > 1)
        wait_for (self, self->results->len + 1);
      g_usleep (100 * (i % 7));
      pawl_chunk_worker_stop (worker, i % 2 ? ended_cb : NULL, &has_ended);
      n_results = self->results->len;
      while (i % 2 && !has_ended)
        g_main_context_iteration (NULL, TRUE);
      g_assert_cmpuint (self->results->len, ==, n_results);
    }
}

/* ---- the store ---- */

static PawlChunkStore *
open_store (Fixture *self)
{
  return pawl_chunk_store_new (self->folder, pawl_figure_get_digest (self->figure), self->n_chunks, pawl_figure_get_view_box (self->figure));
}

/* Draws everything, puts it into the store, and forgets it. */
static void
fill_store (Fixture *self, double scale)
{
  PawlChunkWorker *worker = pawl_chunk_worker_new (self->figure, open_store (self), done_cb, self);
  GArray *images = pawl_kept_images_new ();
  gboolean has_ended = FALSE;

  want_all (self, worker, PAWL_CHUNK_JOB_DRAW, scale);
  wait_for (self, self->n_chunks);
  for (guint n = 0; n < self->n_chunks; n++)
    g_array_append_vals (images, (PawlKeptImage[]) { { n, pawl_chunk_image_ref (find (self, n)->image) } }, 1);
  pawl_chunk_worker_keep (worker, images);
  pawl_chunk_worker_stop (worker, ended_cb, &has_ended);
  while (!has_ended)
    g_main_context_iteration (NULL, TRUE);
}

static guint n_files, n_bytes;

static void
count_file (const char *path)
{
  GStatBuf status;

  g_assert_true (g_str_has_suffix (path, ".chunks")); /* no temporary name is left */
  g_assert_cmpint (g_stat (path, &status), ==, 0);
  g_assert_cmpint (status.st_mode & 0777, ==, 0600);
  n_files++;
  n_bytes += status.st_size;
}

static guint
count_kept (Fixture *self, double scale)
{
  g_autoptr(PawlChunkStore) store = open_store (self);
  const PawlGrid grid = { .scale = scale };
  guint n_kept = 0;

  for (guint n = 0; n < self->n_chunks; n++)
    {
      g_autoptr(PawlChunkImage) image = pawl_chunk_store_read (store, n, &grid);

      n_kept += image != NULL;
    }
  return n_kept;
}

static void
test_kept (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlChunkStore) store = NULL;
  g_autofree PawlBox *boxes = g_new (PawlBox, self->n_chunks);
  PawlGrid grid = { .scale = 1.5 };
  const PawlChunkImage *drawn;
  guint plate = get_chunk (self, "plate");

  fill_store (self, 1.5);
  n_files = 0;
  for_each_file (self, count_file);
  g_assert_cmpuint (n_files, ==, 2);
  store = open_store (self);
  g_assert_true (pawl_chunk_store_read_boxes (store, boxes));
  g_assert_cmpfloat_with_epsilon (boxes[plate].x, 100, 0.7);
  drawn = find (self, plate)->image;
  for (guint n = 0; n < self->n_chunks; n++)
    {
      g_autoptr(PawlChunkImage) image = pawl_chunk_store_read (store, n, &grid);

      g_assert_nonnull (image);
      if (n == plate)
        g_assert_true (g_bytes_equal (image->pixels, drawn->pixels));
    }
  g_assert_cmpuint (count_kept (self, 1.6), ==, 0);
  grid.phase_x = 0.5;
  g_assert_null (pawl_chunk_store_read (store, plate, &grid));
  grid = (PawlGrid) { .scale = 1.5, .palette = PAWL_PALETTE_DARK };
  g_assert_null (pawl_chunk_store_read (store, plate, &grid));
  g_assert_null (pawl_chunk_store_read (store, self->n_chunks + 5, &grid));
}

/* A worker with a store that has everything brings the boxes without being asked, and the same pixels. */
static void
test_worker_with_store (Fixture *self, gconstpointer data)
{
  guint plate = get_chunk (self, "plate");
  g_autoptr(PawlChunkImage) drawn = NULL;
  PawlChunkWorker *worker;

  fill_store (self, 2);
  drawn = pawl_chunk_image_ref (find (self, plate)->image);
  forget_results (self);
  worker = pawl_chunk_worker_new (self->figure, open_store (self), done_cb, self);
  wait_for (self, self->n_chunks);
  g_assert_cmpint (find (self, plate)->kind, ==, PAWL_CHUNK_JOB_MEASURE);
  forget_results (self);
  want_all (self, worker, PAWL_CHUNK_JOB_DRAW, 2);
  wait_for (self, self->n_chunks);
  g_assert_true (g_bytes_equal (find (self, plate)->image->pixels, drawn->pixels));
  pawl_chunk_worker_stop (worker, NULL, NULL);
}

/* ---- what is damaged ---- */

static void
change_byte (const char *path, gsize at)
{
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  text[at < length ? at : length - 1] ^= 0x55;
  g_assert_true (g_file_set_contents (path, text, (gssize) length, NULL));
}

static void
truncate_file (const char *path)
{
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &text, &length, NULL));
  g_assert_true (g_file_set_contents (path, text, (gssize) length / 2, NULL));
}

static void change_magic (const char *path) { change_byte (path, 0); }
static void change_order (const char *path) { change_byte (path, 8); }
static void change_format (const char *path) { change_byte (path, 12); }
static void change_version (const char *path) { change_byte (path, 16); }
static void change_count (const char *path) { change_byte (path, 28); }
static void change_digest (const char *path) { change_byte (path, 60); }
static void change_index (const char *path) { change_byte (path, 110); }
static void change_last (const char *path) { change_byte (path, G_MAXSIZE); }
static void empty_file (const char *path) { g_assert_true (g_file_set_contents (path, "", 0, NULL)); }
static void fill_with_rubbish (const char *path) { g_assert_true (g_file_set_contents (path, "<svg/>", 6, NULL)); }

static void
test_damage (Fixture *self, gconstpointer data)
{
  static const struct { void (*damage) (const char *path); gboolean spares_some; } cases[] = {
    { change_magic, FALSE }, { change_order, FALSE }, { change_format, FALSE }, { change_version, FALSE }, { change_count, FALSE },
    { change_digest, FALSE }, { change_index, FALSE }, { change_last, TRUE }, { truncate_file, TRUE }, { empty_file, FALSE },
    { fill_with_rubbish, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlChunkStore) store = NULL;
      g_autofree PawlBox *boxes = g_new (PawlBox, self->n_chunks);

      forget_results (self);
      fill_store (self, 1.5);
      g_assert_cmpuint (count_kept (self, 1.5), ==, self->n_chunks);
      for_each_file (self, cases[i].damage);
      store = open_store (self);
      g_assert_false (pawl_chunk_store_read_boxes (store, boxes));
      if (cases[i].spares_some)
        g_assert_cmpuint (count_kept (self, 1.5), <, self->n_chunks);
      else
        g_assert_cmpuint (count_kept (self, 1.5), ==, 0);
      for_each_file (self, remove_file);
    }
}

/* Another figure's file under this one's name. */
static void
rename_to_other (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path), *name = g_path_get_basename (path), *other = NULL;

  memset (name, '0', 40);
  other = g_build_filename (folder, name, NULL);
  g_assert_cmpint (g_rename (path, other), ==, 0);
}

static void
test_other_figure (Fixture *self, gconstpointer data)
{
  g_autofree char *digest = g_strnfill (64, '0');
  g_autoptr(PawlChunkStore) store = NULL;
  g_autofree PawlBox *boxes = g_new (PawlBox, self->n_chunks);
  const PawlGrid grid = { .scale = 1.5 };

  fill_store (self, 1.5);
  for_each_file (self, rename_to_other);
  store = pawl_chunk_store_new (self->folder, digest, self->n_chunks, pawl_figure_get_view_box (self->figure));
  g_assert_false (pawl_chunk_store_read_boxes (store, boxes));
  g_assert_null (pawl_chunk_store_read (store, get_chunk (self, "plate"), &grid));
}

/* ---- size ---- */

static GArray *
make_images (double scale)
{
  const PawlGrid grid = { .scale = scale };
  GArray *images = pawl_kept_images_new ();

  g_array_append_vals (images, (PawlKeptImage[]) { { 1, pawl_chunk_image_new (draw_cb, NULL, (PawlBox) { 0, 0, 400, 300 }, (PawlBox) { 0 }, &grid) } }, 1);
  return images;
}

static void
test_room (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlChunkStore) store = open_store (self);

  pawl_chunk_store_set_most (store, 400000);
  for (guint i = 0; i < 12; i++)
    {
      g_autoptr(GArray) images = make_images (1 + i / 30.0); /* 80,000 bytes and more */

      g_assert_true (pawl_chunk_store_write (store, images));
      g_assert_cmpuint (count_kept (self, 1 + i / 30.0), ==, 1); /* what was written last is there */
      n_files = n_bytes = 0;
      for_each_file (self, count_file);
      g_assert_cmpuint (n_bytes, <=, 400000);
    }
  g_assert_cmpuint (n_files, <, 6);
  {
    g_autoptr(GArray) same = make_images (1 + 11 / 30.0), large = make_images (8);

    g_assert_false (pawl_chunk_store_write (store, same)); /* it is there already */
    g_assert_false (pawl_chunk_store_write (store, large)); /* it alone would take more than half of the room */
  }
}

static void
test_no_folder (Fixture *self, gconstpointer data)
{
  g_autofree char *file = g_build_filename (self->folder, "file", NULL), *folder = g_build_filename (file, "figures", NULL);
  g_autoptr(PawlChunkStore) store = NULL;
  g_autoptr(GArray) images = make_images (1);
  const PawlGrid grid = { .scale = 1 };

  g_assert_true (g_file_set_contents (file, "", 0, NULL));
  store = pawl_chunk_store_new (folder, pawl_figure_get_digest (self->figure), self->n_chunks, pawl_figure_get_view_box (self->figure));
  g_assert_false (pawl_chunk_store_write (store, images));
  g_assert_null (pawl_chunk_store_read (store, 1, &grid));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/chunks/image", test_image);
  g_test_add_func ("/drawing/chunks/grids", test_grids);
  g_test_add_func ("/drawing/chunks/large-image", test_large_image);
#define ADD(path, test) g_test_add ("/drawing/chunks/" path, Fixture, NULL, set_up, test, tear_down)
  ADD ("spares", test_spares);
  ADD ("worker", test_worker);
  ADD ("replaced-wishes", test_replaced_wishes);
  ADD ("stop", test_stop);
  ADD ("kept", test_kept);
  ADD ("worker-with-store", test_worker_with_store);
  ADD ("damage", test_damage);
  ADD ("other-figure", test_other_figure);
  ADD ("room", test_room);
  ADD ("no-folder", test_no_folder);
  return g_test_run ();
}
