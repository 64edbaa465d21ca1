/* Drawings made up at random, for placing numbers. */
#pragma once

#include <math.h>

#include "drawing/pawl-callouts-private.h"
#include "drawing/pawl-figure-private.h"

#define FIXTURE_HEIGHT 14.0
#define FIXTURE_CELLS 480

typedef struct {
  PawlIdMap    *map;
  PawlCallouts *callouts;
  PawlBox      *boxes;
  guint         n;
} Drawing;

static inline double
get_number_width (guint number)
{
  return number < 10 ? 0.87 * FIXTURE_HEIGHT : 1.75 * FIXTURE_HEIGHT;
}

static inline PawlPoint
get_middle (PawlBox box)
{
  return (PawlPoint) { box.x + box.width / 2, box.y + box.height / 2 };
}

/* Numbers for all parts that can be seen, as a scene would add them; the others get one to the middle of where they are. */
static inline void
drawing_set_numbers (Drawing *self)
{
  g_clear_pointer (&self->callouts, pawl_callouts_free);
  self->callouts = pawl_callouts_new (FIXTURE_HEIGHT);
  for (guint i = 0; i < self->n; i++)
    {
      g_autofree char *number = g_strdup_printf ("%u", i + 1);
      PawlCallout *callout = pawl_callouts_add (self->callouts, number, get_number_width (i + 1));
      PawlSpot spots[6];
      guint n_spots = pawl_id_map_find_spots (self->map, (guint16) i, 0.6 * FIXTURE_HEIGHT, spots, G_N_ELEMENTS (spots));

      for (guint k = 0; k < n_spots; k++)
        pawl_callout_add_anchor (callout, (PawlAnchor) { i, spots[k].at, spots[k].depth, FALSE });
      callout->is_hidden = n_spots == 0;
      if (!n_spots)
        pawl_callout_add_anchor (callout, (PawlAnchor) { i, get_middle (self->boxes[i]), 0, FALSE });
    }
}

static inline void
drawing_draw (Drawing *self, double width, double height)
{
  g_clear_pointer (&self->map, pawl_id_map_free);
  self->map = pawl_id_map_new (width, height, FIXTURE_CELLS, self->n);
  for (guint i = 0; i < self->n; i++)
    pawl_id_map_cover (self->map, (guint16) i, self->boxes[i]);
  pawl_id_map_finish (self->map);
}

/* @n boxes, most of them small, some large, thrown onto a sheet with room round it. */
static inline Drawing *
drawing_new (guint n, guint32 seed, double width, double height)
{
  Drawing *self = g_new0 (Drawing, 1);
  g_autoptr(GRand) rand = g_rand_new_with_seed (seed);

  self->n = n;
  self->boxes = g_new0 (PawlBox, n + 1);
  for (guint i = 0; i < n; i++)
    {
      double most = g_rand_int_range (rand, 0, 5) ? 4 : 12;
      PawlBox box = { 0, 0, g_rand_double_range (rand, 0.4, most) * FIXTURE_HEIGHT, g_rand_double_range (rand, 0.4, most) * FIXTURE_HEIGHT };

      box.width = MIN (box.width, 0.4 * width);
      box.height = MIN (box.height, 0.4 * height);
      box.x = g_rand_double_range (rand, 3.2 * FIXTURE_HEIGHT, width - 3.2 * FIXTURE_HEIGHT - box.width);
      box.y = g_rand_double_range (rand, 2.2 * FIXTURE_HEIGHT, height - 2.2 * FIXTURE_HEIGHT - box.height);
      self->boxes[i] = box;
    }
  drawing_draw (self, width, height);
  drawing_set_numbers (self);
  return self;
}

static inline void
drawing_free (Drawing *self)
{
  pawl_callouts_free (self->callouts);
  pawl_id_map_free (self->map);
  g_free (self->boxes);
  g_free (self);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Drawing, drawing_free)

static inline const PawlCallout *
drawing_get (const Drawing *self, guint n)
{
  return g_ptr_array_index (self->callouts->items, n);
}
