#include "app/pawl-figure-order.h"

#include <stdlib.h>

typedef struct {
  guint  index, row;
  double x, y, height;
} Thing;

static gboolean
has_area (PawlBox box)
{
  return box.width > 0 && box.height > 0;
}

static int
compare_numbers (double a, double b)
{
  return (a > b) - (a < b);
}

static int
compare_heights_cb (gconstpointer a, gconstpointer b)
{
  return compare_numbers (((const Thing *) a)->height, ((const Thing *) b)->height);
}

/* Equals are told apart by the index, so that the order is always the same one. */
static int
compare_downwards_cb (gconstpointer a, gconstpointer b)
{
  const Thing *thing_a = a, *thing_b = b;
  int order = compare_numbers (thing_a->y, thing_b->y);

  return order != 0 ? order : compare_numbers (thing_a->index, thing_b->index);
}

static int
compare_reading_cb (gconstpointer a, gconstpointer b)
{
  const Thing *thing_a = a, *thing_b = b;
  int order = compare_numbers (thing_a->row, thing_b->row);

  if (order == 0)
    order = compare_numbers (thing_a->x, thing_b->x);
  return order != 0 ? order : compare_numbers (thing_a->index, thing_b->index);
}

static void
number_rows (Thing *things, guint n)
{
  double height, first;

  qsort (things, n, sizeof *things, compare_heights_cb);
  height = things[n / 2].height;
  qsort (things, n, sizeof *things, compare_downwards_cb);
  first = things[0].y;
  for (guint i = 1; i < n; i++)
    {
      things[i].row = things[i - 1].row;
      if (things[i].y >= first + height)
        {
          first = things[i].y;
          things[i].row++;
        }
    }
}

guint *
pawl_figure_order_read (const PawlBox *boxes, guint n_boxes)
{
  g_autofree Thing *things = g_new0 (Thing, n_boxes + 1);
  guint *order = g_new (guint, n_boxes + 1), n = 0, last = n_boxes;

  for (guint i = n_boxes; i-- > 0;)
    if (!has_area (boxes[i]))
      order[--last] = i;
  for (guint i = 0; i < n_boxes; i++)
    if (has_area (boxes[i]))
      things[n++] = (Thing) { i, 0, boxes[i].x + boxes[i].width / 2, boxes[i].y + boxes[i].height / 2, boxes[i].height };
  if (n > 0)
    number_rows (things, n);
  qsort (things, n, sizeof *things, compare_reading_cb);
  for (guint i = 0; i < n; i++)
    order[i] = things[i].index;
  return order;
}

guint *
pawl_figure_order_views (GPtrArray *views, PawlScene *scene, double width, double height)
{
  g_autofree PawlBox *boxes = g_new0 (PawlBox, views->len + 1);

  for (guint i = 0; i < views->len && scene != NULL; i++)
    boxes[i] = pawl_scene_get_region_box (scene, ((PawlPartView *) views->pdata[i])->part->regions[0], width, height);
  return pawl_figure_order_read (boxes, views->len);
}
