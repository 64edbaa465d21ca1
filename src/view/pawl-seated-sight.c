#include "view/pawl-seated-sight.h"

#include <string.h>

#include "drawing/pawl-scene.h"

/* Cells along the longer side of the sheet: a screw of one percent of it still has a dozen. */
#define CELLS 480
/* Parts beyond these are not drawn: a file from elsewhere may have two thousand of them. */
#define MOST_PARTS 400

typedef struct {
  guint    order; /* drawing order in the figure */
  guint64 *cells; /* a bit for each cell that has its ink */
} Mask;

struct _PawlSeatedSight {
  guint       n_words;
  GHashTable *masks; /* part id → GArray of Mask */
};

static void
mask_clear (gpointer data)
{
  g_free (((Mask *) data)->cells);
}

/* ---- drawing ---- */

typedef struct {
  PawlScene       *scene;
  cairo_surface_t *surface; /* A8 */
  int              width, height;
} Easel;

static void
easel_init (Easel *self, PawlFigure *figure)
{
  PawlBox box = pawl_figure_get_view_box (figure);
  double scale = CELLS / MAX (box.width, box.height);

  self->width = MAX (1, (int) (box.width * scale));
  self->height = MAX (1, (int) (box.height * scale));
  self->surface = cairo_image_surface_create (CAIRO_FORMAT_A8, self->width, self->height);
  self->scene = pawl_scene_new (figure);
  pawl_scene_set_paints_paper (self->scene, FALSE);
  pawl_scene_set_number_size (self->scene, 0);
  pawl_scene_set_all (self->scene, PAWL_STATE_HIDDEN);
}

static void
easel_clear (Easel *self)
{
  cairo_surface_destroy (self->surface);
  g_object_unref (self->scene);
}

/* Half transparent and more counts as ink. */
static guint64 *
draw_region (Easel *self, const PawlPart *part, const char *region, guint n_words)
{
  guint64 *cells = g_new0 (guint64, n_words);
  cairo_t *cr = cairo_create (self->surface);
  const guint8 *rows;
  int stride = cairo_image_surface_get_stride (self->surface);

  cairo_set_operator (cr, CAIRO_OPERATOR_CLEAR);
  cairo_paint (cr);
  cairo_set_operator (cr, CAIRO_OPERATOR_OVER);
  pawl_scene_set_slide (self->scene, region, part->slide, part->n_slide);
  pawl_scene_set_state (self->scene, region, PAWL_STATE_SEATED);
  pawl_scene_draw (self->scene, cr, self->width, self->height);
  pawl_scene_set_state (self->scene, region, PAWL_STATE_HIDDEN);
  cairo_destroy (cr);
  cairo_surface_flush (self->surface);
  rows = cairo_image_surface_get_data (self->surface);
  for (int y = 0; y < self->height; y++)
    for (int x = 0; x < self->width; x++)
      if (rows[y * stride + x] >= 128)
        {
          guint cell = (guint) (y * self->width + x);

          cells[cell / 64] |= (guint64) 1 << (cell % 64);
        }
  return cells;
}

PawlSeatedSight *
pawl_seated_sight_new (PawlProcedure *procedure, PawlFigure *figure)
{
  PawlSeatedSight *self = g_new0 (PawlSeatedSight, 1);
  GPtrArray *parts = pawl_procedure_get_parts (procedure);
  Easel easel;

  easel_init (&easel, figure);
  self->n_words = (guint) (easel.width * easel.height + 63) / 64;
  self->masks = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_array_unref);
  for (guint i = 0; i < parts->len && i < MOST_PARTS; i++)
    {
      const PawlPart *part = parts->pdata[i];
      GArray *masks = g_array_new (FALSE, FALSE, sizeof (Mask));

      g_array_set_clear_func (masks, mask_clear);
      for (char **id = part->regions; *id != NULL; id++)
        {
          const PawlRegion *region = pawl_figure_lookup_region (figure, *id);
          Mask mask = { region != NULL ? region->order : 0, NULL };

          if (region == NULL || region->depth != 1)
            continue;
          mask.cells = draw_region (&easel, part, *id, self->n_words);
          g_array_append_val (masks, mask);
        }
      g_hash_table_insert (self->masks, g_strdup (part->id), masks);
    }
  easel_clear (&easel);
  return self;
}

void
pawl_seated_sight_free (PawlSeatedSight *self)
{
  g_hash_table_unref (self->masks);
  g_free (self);
}

/* ---- asking ---- */

static guint
count_bits (guint64 word)
{
  return (guint) __builtin_popcountll (word);
}

/* Adds to @over what regions of @other cover that are drawn after @order. */
static void
lay_over (const PawlSeatedSight *self, const char *other, guint order, guint64 *over)
{
  GArray *masks = g_hash_table_lookup (self->masks, other);

  for (guint i = 0; masks != NULL && i < masks->len; i++)
    {
      const Mask *mask = &g_array_index (masks, Mask, i);

      for (guint j = 0; mask->order > order && j < self->n_words; j++)
        over[j] |= mask->cells[j];
    }
}

double
pawl_seated_sight_get_hidden (const PawlSeatedSight *self, const char *part, const char * const *others)
{
  GArray *masks = g_hash_table_lookup (self->masks, part);
  g_autofree guint64 *over = g_new (guint64, self->n_words);
  guint n_ink = 0, n_hidden = 0;

  for (guint i = 0; masks != NULL && i < masks->len; i++)
    {
      const Mask *mask = &g_array_index (masks, Mask, i);

      memset (over, 0, self->n_words * sizeof *over);
      for (const char * const *other = others; *other != NULL; other++)
        if (g_strcmp0 (*other, part) != 0)
          lay_over (self, *other, mask->order, over);
      for (guint j = 0; j < self->n_words; j++)
        {
          n_ink += count_bits (mask->cells[j]);
          n_hidden += count_bits (mask->cells[j] & over[j]);
        }
    }
  return n_ink > 0 ? (double) n_hidden / n_ink : -1;
}
