#include "speed-check.h"

#include <math.h>
#include <string.h>

/* A region is felt from alpha 24; two drawings of one part may differ by 4 (see the comparison), and these are twice as far off. */
#define FELT_NOT 16
#define FELT_SURELY 32

static guint8
get_alpha (cairo_surface_t *image, int x, int y)
{
  const guint8 *row = cairo_image_surface_get_data (image) + (gsize) y * cairo_image_surface_get_stride (image);

  return ((const guint32 *) (const void *) row)[x] >> 24;
}

cairo_surface_t *
speed_check_draw_whole (RsvgHandle *handle, PawlBox view_box, const cairo_matrix_t *matrix, int width, int height)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (image);
  RsvgRectangle sheet = { view_box.x, view_box.y, view_box.width, view_box.height };
  g_autoptr(GError) error = NULL;

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  cairo_set_matrix (cr, matrix);
  rsvg_handle_render_document (handle, cr, &sheet, &error);
  g_assert_no_error (error);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  return image;
}

guint
speed_check_compare (cairo_surface_t *a, cairo_surface_t *b)
{
  int width = cairo_image_surface_get_width (a), height = cairo_image_surface_get_height (a);
  int most = 0;

  g_assert_cmpint (width, ==, cairo_image_surface_get_width (b));
  g_assert_cmpint (height, ==, cairo_image_surface_get_height (b));
  for (int y = 0; y < height; y++)
    {
      const guint8 *row_a = cairo_image_surface_get_data (a) + (gsize) y * cairo_image_surface_get_stride (a);
      const guint8 *row_b = cairo_image_surface_get_data (b) + (gsize) y * cairo_image_surface_get_stride (b);

      for (int i = 0; i < 4 * width; i++)
        most = MAX (most, ABS (row_a[i] - row_b[i]));
    }
  return most;
}

typedef struct {
  int     x, y;    /* pixel */
  int     topmost; /* index of the topmost region that is surely felt, -1 for none */
  GArray *thin;    /* (element-type int) those above it that may be felt */
} Point;

static void
clear_point (void *data)
{
  g_array_unref (((Point *) data)->thin);
}

static GArray *
scatter_points (guint n_points, int width, int height, guint32 seed)
{
  GArray *points = g_array_sized_new (FALSE, FALSE, sizeof (Point), n_points);
  GRand *random = g_rand_new_with_seed (seed);

  g_array_set_clear_func (points, clear_point);
  for (guint i = 0; i < n_points; i++)
    {
      Point point = { .x = g_rand_int_range (random, 0, width), .y = g_rand_int_range (random, 0, height), .topmost = -1 };

      point.thin = g_array_new (FALSE, FALSE, sizeof (int));
      g_array_append_val (points, point);
    }
  g_rand_free (random);
  return points;
}

/* Draws one region alone and notes what it covers. Called from the lowest region to the topmost. */
static void
lay_region (GArray *points, int index, cairo_surface_t *image)
{
  for (guint i = 0; i < points->len; i++)
    {
      Point *point = &g_array_index (points, Point, i);
      guint8 alpha = get_alpha (image, point->x, point->y);

      if (alpha >= FELT_SURELY)
        {
          point->topmost = index;
          g_array_set_size (point->thin, 0);
        }
      else if (alpha > FELT_NOT)
        g_array_append_val (point->thin, index);
    }
}

static void
lay_regions (GArray *points, GPtrArray *regions, RsvgHandle *handle, PawlBox view_box, const cairo_matrix_t *matrix, int width, int height)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  RsvgRectangle sheet = { view_box.x, view_box.y, view_box.width, view_box.height };

  for (guint n = 0; n < regions->len; n++)
    {
      g_autofree char *selector = g_strconcat ("#", ((PawlRegion *) regions->pdata[n])->id, NULL);
      g_autoptr(GError) error = NULL;
      cairo_t *cr = cairo_create (image);

      cairo_set_operator (cr, CAIRO_OPERATOR_CLEAR);
      cairo_paint (cr);
      cairo_set_operator (cr, CAIRO_OPERATOR_OVER);
      cairo_set_matrix (cr, matrix);
      rsvg_handle_render_layer (handle, cr, selector, &sheet, &error);
      g_assert_no_error (error);
      cairo_destroy (cr);
      cairo_surface_flush (image);
      lay_region (points, (int) n, image);
    }
  cairo_surface_destroy (image);
}

static gboolean
is_right (const Point *point, GPtrArray *regions, const char *answer)
{
  const PawlRegion *topmost = point->topmost >= 0 ? regions->pdata[point->topmost] : NULL;

  if (g_strcmp0 (answer, topmost ? topmost->id : NULL) == 0)
    return TRUE;
  for (guint i = 0; i < point->thin->len; i++)
    if (g_strcmp0 (answer, ((PawlRegion *) regions->pdata[g_array_index (point->thin, int, i)])->id) == 0)
      return TRUE;
  return FALSE;
}

guint
speed_check_pick (PawlScene *scene, RsvgHandle *handle, int width, int height, guint n_points, guint32 seed, SpeedPick pick, gpointer data)
{
  PawlFigure *figure = pawl_scene_get_figure (scene);
  g_autoptr(GPtrArray) regions = pawl_figure_list_part_regions (figure);
  g_autoptr(GArray) points = scatter_points (n_points, width, height, seed);
  cairo_matrix_t matrix;
  guint n_right = 0;

  pawl_scene_get_matrix (scene, width, height, &matrix);
  lay_regions (points, regions, handle, pawl_figure_get_view_box (figure), &matrix, width, height);
  for (guint i = 0; i < points->len; i++)
    {
      const Point *point = &g_array_index (points, Point, i);
      const char *answer = pick (data, point->x + 0.5, point->y + 0.5);

      if (is_right (point, regions, answer))
        n_right++;
      else
        g_printerr ("Pixel %d, %d: \"%s\" was picked, but \"%s\" lies topmost\n", point->x, point->y, answer ? answer : "",
                    point->topmost >= 0 ? ((PawlRegion *) regions->pdata[point->topmost])->id : "");
    }
  return n_right;
}
