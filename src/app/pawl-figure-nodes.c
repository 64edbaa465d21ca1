#include "app/pawl-figure-nodes.h"

#include <math.h>
#include <string.h>

#include "drawing/pawl-scene-chunks.h"

/* An image as a node, its upper left corner at the origin. */
typedef struct {
  PawlChunkImage *image; /* (nullable) */
  GskRenderNode  *node;  /* (nullable) */
} Leaf;

/* One chunk in the last picture. Leaves of both looks are kept: a unit that turns pale turns back. */
typedef struct {
  Leaf            leaves[PAWL_N_LOOKS];
  PawlChunkImage *image; /* (nullable), borrowed: what the node shows */
  GskRenderNode  *node;  /* (nullable) a leaf at its place */
  double          x, y, ratio;
} Shown;

/* A picture as it was, to be shown scaled. */
typedef struct {
  GskRenderNode *leaf; /* (nullable) */
  cairo_matrix_t matrix;
} Still;

struct _PawlFigureNodes {
  PawlScene *scene;
  int        device_scale;
  gboolean   uses_textures;

  Shown     *shown; /* (array length=n_shown) */
  guint      n_shown;

  cairo_matrix_t matrix;  /* of the last picture */
  double         width, height;
  gboolean       was_whole; /* nothing was cut off in it */
  GskRenderNode *picture; /* (nullable) chunks and bands of the last picture */
  GskRenderNode *bands;   /* (nullable) */
  GArray        *bands_key; /* (element-type double) what the bands were drawn for */
  GskRenderNode *edge;    /* (nullable) */
  PawlBox        edge_window; /* what it was drawn for */
  PawlPalette    edge_palette;
  GskRenderNode *numbers; /* (nullable) */
  gboolean       has_numbers;

  gboolean is_frozen;
  Still frozen;   /* the picture before the camera moved; until the next picture, too */
  Still overview; /* the last one in which everything was seen, for the edges when the camera goes back */
};

static void
clear_leaf (Leaf *leaf)
{
  g_clear_pointer (&leaf->image, pawl_chunk_image_unref);
  g_clear_pointer (&leaf->node, gsk_render_node_unref);
}

static void
clear_shown (Shown *shown)
{
  for (guint look = 0; look < PAWL_N_LOOKS; look++)
    clear_leaf (&shown->leaves[look]);
  g_clear_pointer (&shown->node, gsk_render_node_unref);
  shown->image = NULL;
}

static void
clear_still (Still *still)
{
  g_clear_pointer (&still->leaf, gsk_render_node_unref);
}

static void
forget_all (PawlFigureNodes *self)
{
  for (guint n = 0; n < self->n_shown; n++)
    clear_shown (&self->shown[n]);
  g_clear_pointer (&self->picture, gsk_render_node_unref);
  g_clear_pointer (&self->bands, gsk_render_node_unref);
  g_array_set_size (self->bands_key, 0);
  g_clear_pointer (&self->edge, gsk_render_node_unref);
  self->is_frozen = FALSE;
  clear_still (&self->frozen);
  clear_still (&self->overview);
  pawl_figure_nodes_forget_numbers (self);
}

PawlFigureNodes *
pawl_figure_nodes_new (PawlScene *scene, int device_scale)
{
  PawlFigureNodes *self = g_new0 (PawlFigureNodes, 1);

  self->scene = g_object_ref (scene);
  self->device_scale = device_scale;
  self->n_shown = pawl_scene_get_n_chunks (scene);
  self->shown = g_new0 (Shown, self->n_shown);
  self->bands_key = g_array_new (FALSE, FALSE, sizeof (double));
  return self;
}

void
pawl_figure_nodes_free (PawlFigureNodes *self)
{
  forget_all (self);
  g_free (self->shown);
  g_array_unref (self->bands_key);
  g_object_unref (self->scene);
  g_free (self);
}

void
pawl_figure_nodes_set_renderer (PawlFigureNodes *self, GskRenderer *renderer)
{
  gboolean uses_textures = renderer != NULL && !GSK_IS_CAIRO_RENDERER (renderer);

  if (self->uses_textures != uses_textures)
    forget_all (self);
  self->uses_textures = uses_textures;
}

void
pawl_figure_nodes_set_device_scale (PawlFigureNodes *self, int device_scale)
{
  forget_all (self);
  self->device_scale = device_scale;
}

/* ---- leaves ---- */

/* @surface: device pixels, (transfer none). */
static GskRenderNode *
make_surface_leaf (PawlFigureNodes *self, cairo_surface_t *surface)
{
  float unit = 1.0f / (float) self->device_scale;
  int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
  GskRenderNode *leaf = gsk_cairo_node_new (&GRAPHENE_RECT_INIT (0, 0, (float) width * unit, (float) height * unit));
  g_autoptr(cairo_t) cr = gsk_cairo_node_get_draw_context (leaf);

  cairo_scale (cr, unit, unit);
  cairo_set_source_surface (cr, surface, 0, 0);
  /* Pixel on pixel this is a copy; scaled, the default would look at every pixel of the image. */
  cairo_pattern_set_filter (cairo_get_source (cr), CAIRO_FILTER_BILINEAR);
  cairo_paint (cr);
  return leaf;
}

static GskRenderNode *
make_texture_leaf (PawlFigureNodes *self, GBytes *pixels, int width, int height)
{
  g_autoptr(GdkTexture) texture = gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, pixels, (gsize) width * 4);
  float unit = 1.0f / (float) self->device_scale;

  return gsk_texture_node_new (texture, &GRAPHENE_RECT_INIT (0, 0, (float) width * unit, (float) height * unit));
}

static GskRenderNode *
make_leaf (PawlFigureNodes *self, PawlChunkImage *image)
{
  g_autoptr(cairo_surface_t) surface = NULL;

  if (self->uses_textures)
    return make_texture_leaf (self, image->pixels, image->width, image->height);
  surface = pawl_chunk_image_create_surface (image);
  return make_surface_leaf (self, surface);
}

static GskRenderNode *
place_leaf (GskRenderNode *leaf, double x, double y, double ratio)
{
  GskTransform *transform = gsk_transform_translate (NULL, &GRAPHENE_POINT_INIT ((float) x, (float) y));
  GskRenderNode *node;

  if (ratio != 1)
    transform = gsk_transform_scale (transform, (float) ratio, (float) ratio);
  if (transform == NULL)
    return gsk_render_node_ref (leaf); /* GSK has no transform that moves nothing */
  node = gsk_transform_node_new (leaf, transform);
  gsk_transform_unref (transform);
  return node;
}

/* ---- chunks ---- */

/* The wanted look, or the other one until that is there; what is sharp before what is not. */
static PawlChunkImage *
choose_image (PawlFigureNodes *self, guint n, const PawlChunkPlace *place)
{
  PawlChunkImage *image = pawl_scene_peek_image (self->scene, n, place->grid.look);

  return image != NULL ? image : pawl_scene_peek_image (self->scene, n, !place->grid.look);
}

static GskRenderNode *
get_leaf (PawlFigureNodes *self, Shown *shown, PawlChunkImage *image)
{
  Leaf *leaf = &shown->leaves[image->grid.look];

  if (leaf->image != image)
    {
      clear_leaf (leaf);
      leaf->image = pawl_chunk_image_ref (image);
      leaf->node = make_leaf (self, image);
    }
  return leaf->node;
}

/* (transfer none) (nullable): the node that shows chunk @n, made anew only when it must look different. */
static GskRenderNode *
get_node (PawlFigureNodes *self, guint n, const PawlChunkPlace *place)
{
  Shown *shown = &self->shown[n];
  PawlChunkImage *image = choose_image (self, n, place);
  double ratio, x, y;

  if (image == NULL || image->pixels == NULL)
    return NULL;
  ratio = place->grid.scale / image->grid.scale;
  if (fabs (ratio - 1) < 1e-6)
    ratio = 1;
  x = place->origin.x + ratio * (image->x - image->grid.phase_x);
  y = place->origin.y + ratio * (image->y - image->grid.phase_y);
  /* At its own scale it is never laid between pixels. */
  x = (ratio == 1 ? round (x) : x) / self->device_scale;
  y = (ratio == 1 ? round (y) : y) / self->device_scale;
  if (shown->node == NULL || shown->image != image || shown->x != x || shown->y != y || shown->ratio != ratio)
    {
      GskRenderNode *leaf = get_leaf (self, shown, image);

      g_clear_pointer (&shown->node, gsk_render_node_unref);
      shown->node = place_leaf (leaf, x, y, ratio);
      shown->image = image;
      shown->x = x;
      shown->y = y;
      shown->ratio = ratio;
    }
  return shown->node;
}

/* In z-order, guides under all else. */
static void
add_chunks (PawlFigureNodes *self, double width, double height, GPtrArray *nodes)
{
  PawlChunkPlace place;
  guint n_guides = 0;

  for (guint n = 0; n < self->n_shown; n++)
    {
      GskRenderNode *node = pawl_scene_get_place (self->scene, n, width, height, &place) ? get_node (self, n, &place) : NULL;

      if (node != NULL)
        g_ptr_array_insert (nodes, place.is_guide ? (int) n_guides++ : -1, node);
    }
}

/* ---- bands ---- */

static void
describe_bands (PawlFigureNodes *self, double width, double height, GArray *key)
{
  cairo_matrix_t matrix;
  PawlChunkPlace place;

  pawl_scene_get_matrix (self->scene, width, height, &matrix);
  g_array_append_vals (key, (double[]) { matrix.xx, matrix.x0, matrix.y0, width, height, pawl_scene_get_palette (self->scene) }, 6);
  for (guint n = 0; n < self->n_shown; n++)
    if (pawl_scene_is_highlighted (self->scene, n) && pawl_scene_get_place (self->scene, n, width, height, &place))
      {
        gboolean is_traced = pawl_figure_get_chunk (pawl_scene_get_figure (self->scene), n)->silhouette != NULL;

        g_array_append_vals (key, (double[]) { n, is_traced, place.origin.x, place.origin.y }, 4);
      }
}

static GskRenderNode *
draw_bands (PawlFigureNodes *self, double width, double height)
{
  PawlBox box = pawl_scene_get_bands_box (self->scene, width, height);
  GskRenderNode *node;
  g_autoptr(cairo_t) cr = NULL;

  if (pawl_box_is_empty (box))
    return NULL;
  node = gsk_cairo_node_new (&GRAPHENE_RECT_INIT ((float) floor (box.x), (float) floor (box.y), (float) ceil (box.width) + 1, (float) ceil (box.height) + 1));
  cr = gsk_cairo_node_get_draw_context (node);
  pawl_scene_draw_bands (self->scene, cr, width, height);
  return node;
}

static void
add_bands (PawlFigureNodes *self, double width, double height, GPtrArray *nodes)
{
  g_autoptr(GArray) key = g_array_new (FALSE, FALSE, sizeof (double));

  describe_bands (self, width, height, key);
  if (key->len != self->bands_key->len || memcmp (key->data, self->bands_key->data, key->len * sizeof (double)) != 0)
    {
      g_clear_pointer (&self->bands, gsk_render_node_unref);
      self->bands = draw_bands (self, width, height);
      g_array_set_size (self->bands_key, 0);
      g_array_append_vals (self->bands_key, key->data, key->len);
    }
  if (self->bands != NULL)
    g_ptr_array_add (nodes, self->bands);
}

/* ---- standing in ---- */

static void
take_still (PawlFigureNodes *self, Still *still)
{
  g_autoptr(cairo_surface_t) surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int) (self->width * self->device_scale), (int) (self->height * self->device_scale));
  g_autoptr(cairo_t) cr = cairo_create (surface);

  cairo_scale (cr, self->device_scale, self->device_scale);
  gsk_render_node_draw (self->picture, cr);
  cairo_surface_flush (surface);
  clear_still (still);
  still->matrix = self->matrix;
  if (self->uses_textures)
    {
      int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
      g_autoptr(GBytes) pixels = g_bytes_new (cairo_image_surface_get_data (surface), (gsize) width * height * 4);

      still->leaf = make_texture_leaf (self, pixels, width, height);
    }
  else
    still->leaf = make_surface_leaf (self, surface);
}

/* What the picture was made of: while a still stands in for it, its images are in nobody's sight, and go as the new ones come. */
static void
drop_picture (PawlFigureNodes *self)
{
  for (guint n = 0; n < self->n_shown; n++)
    clear_shown (&self->shown[n]);
  g_clear_pointer (&self->picture, gsk_render_node_unref);
}

gboolean
pawl_figure_nodes_follow_camera (PawlFigureNodes *self, double width, double height)
{
  cairo_matrix_t matrix;

  pawl_scene_get_matrix (self->scene, width, height, &matrix);
  if ((self->picture == NULL && self->frozen.leaf == NULL) || fabs (matrix.xx - self->matrix.xx) < 1e-6 * matrix.xx)
    return FALSE;
  self->is_frozen = TRUE;
  if (self->picture != NULL)
    {
      clear_still (&self->frozen);
      take_still (self, &self->frozen);
      drop_picture (self);
      if (self->was_whole)
        {
          clear_still (&self->overview);
          self->overview = (Still) { gsk_render_node_ref (self->frozen.leaf), self->frozen.matrix };
        }
    }
  return TRUE;
}

gboolean
pawl_figure_nodes_is_frozen (PawlFigureNodes *self)
{
  return self->is_frozen;
}

void
pawl_figure_nodes_thaw (PawlFigureNodes *self)
{
  self->is_frozen = FALSE;
}

static GskRenderNode *
place_still (const Still *still, const cairo_matrix_t *matrix)
{
  double ratio = matrix->xx / still->matrix.xx;

  return place_leaf (still->leaf, matrix->x0 - ratio * still->matrix.x0, matrix->y0 - ratio * still->matrix.y0, ratio);
}

static void
snapshot_stills (PawlFigureNodes *self, GtkSnapshot *snapshot, double width, double height)
{
  cairo_matrix_t matrix;
  GskRenderNode *node;
  graphene_rect_t bounds;

  pawl_scene_get_matrix (self->scene, width, height, &matrix);
  node = place_still (&self->frozen, &matrix);
  gsk_render_node_get_bounds (node, &bounds);
  /* Going back, the camera sees more than the last picture showed. */
  if (self->overview.leaf != NULL && self->overview.leaf != self->frozen.leaf
      && !graphene_rect_contains_rect (&bounds, &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height)))
    {
      GskRenderNode *overview = place_still (&self->overview, &matrix);

      gtk_snapshot_append_node (snapshot, overview);
      gsk_render_node_unref (overview);
    }
  gtk_snapshot_append_node (snapshot, node);
  gsk_render_node_unref (node);
}

/* ---- numbers ---- */

void
pawl_figure_nodes_forget_numbers (PawlFigureNodes *self)
{
  g_clear_pointer (&self->numbers, gsk_render_node_unref);
  self->has_numbers = FALSE;
}

void
pawl_figure_nodes_place_numbers (PawlFigureNodes *self, double width, double height)
{
  g_autoptr(cairo_t) cr = NULL;

  if (self->has_numbers)
    return;
  self->has_numbers = TRUE;
  if (pawl_scene_get_callouts (self->scene, width, height)->items->len == 0)
    return;
  self->numbers = gsk_cairo_node_new (&GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  cr = gsk_cairo_node_get_draw_context (self->numbers);
  pawl_scene_draw_numbers (self->scene, cr, width, height);
}

/* ---- all ---- */

static GskRenderNode *
get_edge (PawlFigureNodes *self, PawlBox window, double width, double height)
{
  PawlPalette palette = pawl_scene_get_palette (self->scene);
  g_autoptr(cairo_t) cr = NULL;

  if (self->edge != NULL && memcmp (&self->edge_window, &window, sizeof window) == 0 && self->edge_palette == palette)
    return self->edge;
  g_clear_pointer (&self->edge, gsk_render_node_unref);
  self->edge_window = window;
  self->edge_palette = palette;
  self->edge = gsk_cairo_node_new (&GRAPHENE_RECT_INIT ((float) window.x, (float) window.y, (float) window.width, (float) window.height));
  cr = gsk_cairo_node_get_draw_context (self->edge);
  pawl_scene_draw_edge (self->scene, cr, width, height);
  return self->edge;
}

static void
keep_picture (PawlFigureNodes *self, GPtrArray *nodes, double width, double height)
{
  clear_still (&self->frozen);
  g_clear_pointer (&self->picture, gsk_render_node_unref);
  self->picture = gsk_container_node_new ((GskRenderNode **) nodes->pdata, nodes->len);
  self->width = width;
  self->height = height;
  pawl_scene_get_matrix (self->scene, width, height, &self->matrix);
}

void
pawl_figure_nodes_snapshot (PawlFigureNodes *self, GtkSnapshot *snapshot, double width, double height, gboolean has_all)
{
  PawlInk paper = pawl_palette_get_inks (pawl_scene_get_palette (self->scene)).paper;
  PawlBox window = pawl_scene_get_window (self->scene, width, height);
  g_autoptr(GPtrArray) nodes = g_ptr_array_new ();

  gtk_snapshot_append_color (snapshot, &(GdkRGBA) { (float) paper.red, (float) paper.green, (float) paper.blue, 1 },
                             &GRAPHENE_RECT_INIT (0, 0, (float) width, (float) height));
  gtk_snapshot_push_clip (snapshot, &GRAPHENE_RECT_INIT ((float) window.x, (float) window.y, (float) window.width, (float) window.height));
  if (pawl_figure_nodes_is_frozen (self))
    snapshot_stills (self, snapshot, width, height);
  else
    {
      add_chunks (self, width, height, nodes);
      add_bands (self, width, height, nodes);
      keep_picture (self, nodes, width, height);
      gtk_snapshot_append_node (snapshot, self->picture);
    }
  self->was_whole = !pawl_scene_has_edge (self->scene, width, height);
  if (!self->was_whole)
    gtk_snapshot_append_node (snapshot, get_edge (self, window, width, height));
  gtk_snapshot_pop (snapshot);
  if (pawl_figure_nodes_is_frozen (self))
    return;
  if (has_all)
    pawl_figure_nodes_place_numbers (self, width, height);
  if (self->numbers != NULL)
    gtk_snapshot_append_node (snapshot, self->numbers);
}
