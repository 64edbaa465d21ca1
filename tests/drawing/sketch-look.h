/* What a test asks of a sketch's looks: no word on a line, none on another word, none outside. */
#pragma once

#include <math.h>
#include <stdlib.h>

#include "drawing/pawl-sketch-private.h"

typedef struct {
  const char     *name;
  int             width, height;
  PawlSketchPlan *plan;
  GPtrArray      *texts; /* (element-type PawlSketchItem) of both panes and the sheet */
} Look;

static inline void
list_texts (Look *look, const PawlSketchPane *pane)
{
  for (guint i = 0; pane && i < pane->items->len; i++)
    {
      PawlSketchItem *item = g_ptr_array_index (pane->items, i);

      if (item->look == PAWL_LOOK_TEXT)
        g_ptr_array_add (look->texts, item);
    }
}

static inline const char *
get_words (const PawlSketchItem *item)
{
  return pango_layout_get_text (item->layout);
}

/* The lines without the words, on white, in black: whatever is neither paper nor the even tint of a part is a line. */
static inline cairo_surface_t *
paint_lines (const Look *look)
{
  cairo_surface_t *image = cairo_image_surface_create (CAIRO_FORMAT_RGB24, look->width, look->height);
  cairo_t *cr = cairo_create (image);

  cairo_set_source_rgb (cr, 1, 1, 1);
  cairo_paint (cr);
  pawl_sketch_pane_paint (look->plan->sheet, cr, PAWL_PALETTE_PRINT, FALSE);
  for (int i = 0; i < 2; i++)
    pawl_sketch_pane_paint (look->plan->panes[i], cr, PAWL_PALETTE_PRINT, FALSE);
  cairo_destroy (cr);
  cairo_surface_flush (image);
  return image;
}

static inline gboolean
is_line (cairo_surface_t *image, int x, int y)
{
  const guint32 *row = (const guint32 *) (const void *) (cairo_image_surface_get_data (image) + (gsize) y * cairo_image_surface_get_stride (image));
  guint blue = row[x] & 0xff;

  return blue < 0xf8 && abs ((int) blue - (int) (0.9 * 255)) > 2;
}

/* Where the letters are: the box of the ink, not of the line's height. */
static inline PawlBox
get_ink_box (const PawlSketchItem *item)
{
  PangoRectangle ink;

  pango_layout_get_extents (item->layout, &ink, NULL);
  return (PawlBox) { item->box.x + (double) ink.x / PANGO_SCALE, item->box.y + (double) ink.y / PANGO_SCALE,
                     (double) ink.width / PANGO_SCALE, (double) ink.height / PANGO_SCALE };
}

static inline void
assert_off_lines (const Look *look)
{
  cairo_surface_t *image = paint_lines (look);

  for (guint i = 0; i < look->texts->len; i++)
    {
      const PawlSketchItem *item = g_ptr_array_index (look->texts, i);
      PawlBox box = get_ink_box (item);

      for (int y = (int) floor (box.y); y < ceil (box.y + box.height); y++)
        for (int x = (int) floor (box.x); x < ceil (box.x + box.width); x++)
          if (x < 0 || y < 0 || x >= look->width || y >= look->height)
            g_error ("%s at %d x %d: \"%s\" reaches out of the sketch", look->name, look->width, look->height, get_words (item));
          else if (is_line (image, x, y))
            g_error ("%s at %d x %d: \"%s\" lies on a line at %d, %d", look->name, look->width, look->height, get_words (item), x, y);
    }
  cairo_surface_destroy (image);
}

static inline void
assert_off_each_other (const Look *look)
{
  for (guint i = 0; i < look->texts->len; i++)
    for (guint j = 0; j < i; j++)
      {
        PawlBox a = get_ink_box (g_ptr_array_index (look->texts, i)), b = get_ink_box (g_ptr_array_index (look->texts, j));

        if (a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height)
          g_error ("%s at %d x %d: \"%s\" lies on \"%s\"", look->name, look->width, look->height, get_words (g_ptr_array_index (look->texts, i)),
                   get_words (g_ptr_array_index (look->texts, j)));
      }
}

static inline void
assert_words_are_clear (const char *name, const PawlRule *rule, const PawlSketchOptions *options, int width, int height)
{
  cairo_surface_t *nowhere = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create (nowhere);
  g_autoptr(PawlSketchPlan) plan = pawl_sketch_plan_new (rule, options, cr, width, height);
  g_autoptr(GPtrArray) texts = g_ptr_array_new ();
  Look look = { name, width, height, plan, texts };

  list_texts (&look, plan->sheet);
  for (int i = 0; i < 2; i++)
    list_texts (&look, plan->panes[i]);
  g_assert_cmpuint (texts->len, >=, 2); /* the two titles */
  assert_off_lines (&look);
  assert_off_each_other (&look);
  cairo_destroy (cr);
  cairo_surface_destroy (nowhere);
}

/* Each picture of a question by itself: its words are clear, and none says which it is. */
static inline void
assert_question_is_clear (const char *name, const PawlRule *rule, const PawlQuestion *question, int width, int height)
{
  cairo_surface_t *nowhere = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1);
  cairo_t *cr = cairo_create (nowhere);
  g_autoptr(PawlSketchPlan) plan = pawl_sketch_plan_new_question (rule, question, NULL, cr, width, height);
  PawlSketchPane *panes[] = { plan->panes[0], plan->panes[1] };

  if (plan->n_left_out > 0)
    g_error ("%s at %d x %d: no room for %u of its words", name, width, height, plan->n_left_out);
  g_assert_cmpuint (plan->sheet->items->len, ==, 0);
  for (int i = 0; i < 2; i++)
    {
      g_autoptr(GPtrArray) texts = g_ptr_array_new ();
      Look look = { name, width, height, plan, texts };

      plan->panes[0] = plan->panes[1] = panes[i];
      list_texts (&look, panes[i]);
      assert_off_lines (&look);
      assert_off_each_other (&look);
      for (guint j = 0; j < panes[i]->items->len; j++)
        {
          const PawlSketchItem *item = g_ptr_array_index (panes[i]->items, j);

          if (item->look == PAWL_LOOK_TICK || item->look == PAWL_LOOK_CROSS || item->tone != PAWL_TONE_INK)
            g_error ("%s: a sign says which is which", name);
        }
    }
  plan->panes[0] = panes[0];
  plan->panes[1] = panes[1];
  cairo_destroy (cr);
  cairo_surface_destroy (nowhere);
}
