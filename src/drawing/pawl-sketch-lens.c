/* The lens: the spot of a small difference once more, larger, in a circle beside the picture or below it, with what it is enlarged by. */
#include <math.h>

#include "drawing/pawl-sketch-plan-private.h"

/* Of a pane, what the lens takes beside or below the picture, and its words at most. */
#define BESIDE_SHARE 0.56
#define BELOW_SHARE 0.58
#define MOST_LENS_WORDS 0.6
/* Of the text's size. */
#define SPOT 0.6 /* least radius of the circle round the spot */

/* ---- where it is ---- */

/* Room for the words of the lens: both lines, for a factor of three digits. */
void
pawl_sketch_draft_measure_lens_words (PawlSketchDraft *self)
{
  g_autofree char *size = pawl_sketch_format_difference (self->telling, self->difference.size_mm, &self->options);
  g_autofree char *words = g_strdup_printf ("%s ×888\n%s", self->options.exaggerated_word, size);
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (self->cr, words, self->text, TRUE);

  pawl_sketch_wrap_text (layout, MOST_LENS_WORDS * self->rooms[0].width, 3);
  pawl_sketch_get_text_size (layout, &self->lens_words_width, &self->lens_words_height);
  self->lens_words_width += 1;
}

/* To the right of the picture, its words below it. */
void
pawl_sketch_draft_put_lens_beside (PawlSketchDraft *self)
{
  PawlBox room = self->rooms[0];
  double text = self->text, strip = MAX (BESIDE_SHARE * room.width, self->lens_words_width + text), words = self->lens_words_height + 0.5 * text;

  self->is_lens_below = FALSE;
  self->lens_radius = MAX (1, MIN (strip / 2 - PAWL_SKETCH_EDGE * text, (room.height - words - PAWL_SKETCH_EDGE * text) / 2));
  self->lens = (PawlPoint) { room.width - strip / 2, self->lens_radius + 0.5 * MAX (0, room.height - words - 2 * self->lens_radius) };
  self->has_lens_words_below = TRUE;
  self->lens_words = (PawlPoint) { self->lens.x, self->lens.y + self->lens_radius + 0.2 * text };
}

/* Below the picture, its words beside it or below it, whichever leaves it larger. */
void
pawl_sketch_draft_put_lens_below (PawlSketchDraft *self)
{
  PawlBox room = self->rooms[0];
  double text = self->text, strip = BELOW_SHARE * room.height, words_width = self->lens_words_width + 1.2 * text, words_height = self->lens_words_height + 0.5 * text;
  double below = MIN ((strip - words_height) / 2, 0.45 * room.width), beside = MIN (strip / 2, (room.width - words_width) / 2 - PAWL_SKETCH_EDGE * text);

  self->is_lens_below = TRUE;
  self->has_lens_words_below = below >= beside;
  self->lens_radius = MAX (1, MAX (below, beside));
  self->lens = (PawlPoint) { below >= beside ? room.width / 2 : self->lens_radius + PAWL_SKETCH_EDGE * text,
                             room.height - self->lens_radius - (below >= beside ? words_height : PAWL_SKETCH_EDGE * text) };
  self->lens_words = self->has_lens_words_below ? (PawlPoint) { self->lens.x, self->lens.y + self->lens_radius + 0.2 * text }
                                                : (PawlPoint) { self->lens.x + self->lens_radius + 0.6 * text, self->lens.y - self->lens_words_height / 2 };
}

/* ---- what it shows ---- */

/* On the side of the telling line where the part is not. */
static int
find_clear_side (const PawlSketchDraft *self)
{
  PawlPoint p = self->telling->points[0], q = self->telling->points[1];
  double mx = self->mm.x + self->mm.width / 2 - (p.x + q.x) / 2, my = self->mm.y + self->mm.height / 2 - (p.y + q.y) / 2;

  return -(q.y - p.y) * mx + (q.x - p.x) * my > 0 ? -1 : 1;
}

static void
add_lens_words (PawlSketchDraft *self, int which)
{
  g_autofree char *size = pawl_sketch_format_difference (self->telling, self->difference.size_mm, &self->options);
  g_autofree char *words = g_strdup_printf ("%s ×%.0f", self->options.exaggerated_word, self->exaggeration);
  g_autofree char *markup = which && !self->is_question ? g_markup_printf_escaped ("%s\n<b>%s</b>", words, size) : g_markup_escape_text (words, -1);
  g_autoptr(PangoLayout) layout = pawl_sketch_new_text (self->cr, "", self->text, FALSE);
  PawlBox room = self->rooms[which];
  double width;

  pango_layout_set_markup (layout, markup, -1);
  pawl_sketch_wrap_text (layout, self->lens_words_width, 3);
  pango_layout_set_alignment (layout, self->has_lens_words_below ? PANGO_ALIGN_CENTER : PANGO_ALIGN_LEFT);
  pawl_sketch_get_text_size (layout, &width, NULL);
  pawl_sketch_pane_add_text (self->panes[which], layout,
                             (PawlPoint) { room.x + self->lens_words.x - (self->has_lens_words_below ? width / 2 : 0), room.y + self->lens_words.y }, PAWL_TONE_INK);
}

static double
get_overshoot (PawlBox room, PawlPoint at, double radius)
{
  double beside = MAX (room.x - at.x, at.x - room.x - room.width), above = MAX (room.y - at.y, at.y - room.y - room.height);

  return MAX (0, MAX (beside, above) + radius);
}

/* The spot of the difference once more, larger, in both panes; the dimension in the wrong one. */
void
pawl_sketch_draft_add_lens (PawlSketchDraft *self, int which)
{
  PawlSketchPane *pane = self->panes[which];
  const PawlStroke *telling = self->tellings[which];
  PawlPoint spot = { (telling->points[0].x + telling->points[1].x) / 2, (telling->points[0].y + telling->points[1].y) / 2 };
  PawlPoint at = pawl_sketch_draft_place_mm (self, which, telling, spot), middle = { pane->room.x + self->lens.x, pane->room.y + self->lens.y }, origin;
  double larger = self->scale * self->exaggeration, small = MAX (self->lens_radius / self->exaggeration, SPOT * self->text);
  double away = MAX (hypot (middle.x - at.x, middle.y - at.y), 1e-9), dx = (middle.x - at.x) / away, dy = (middle.y - at.y) / away;
  PawlPoint link[] = { { at.x + small * dx, at.y + small * dy }, { middle.x - self->lens_radius * dx, middle.y - self->lens_radius * dy } };

  self->badness += PAWL_SKETCH_BAD_SPOT * (get_overshoot (pane->room, at, small) + MAX (0, small + self->lens_radius - away)) / self->text;
  pane->lens = middle;
  pane->lens_radius = self->lens_radius;
  pawl_sketch_pane_add_circle (pane, PAWL_LOOK_THIN, at, small);
  pawl_sketch_pane_add_line (pane, PAWL_LOOK_THIN, link, 2, FALSE);
  pawl_sketch_pane_add_circle (pane, PAWL_LOOK_LENS, middle, self->lens_radius);
  origin = (PawlPoint) { middle.x - larger * spot.x, middle.y - larger * spot.y };
  for (guint i = 0; i < self->poses[which]->len; i++)
    pawl_sketch_pane_add_stroke (pane, g_ptr_array_index (self->poses[which], i), larger, origin, TRUE);
  if (which == 1 && !self->is_question)
    {
      PawlPoint p = self->telling->points[0], q = self->telling->points[1];

      pawl_sketch_pane_add_lens_dimension (pane, (PawlPoint) { origin.x + larger * p.x, origin.y + larger * p.y },
                                           (PawlPoint) { origin.x + larger * q.x, origin.y + larger * q.y }, find_clear_side (self));
    }
  pawl_sketch_pane_add_circle (pane, PAWL_LOOK_THIN, middle, self->lens_radius);
  add_lens_words (self, which);
}
