/*
 * The sketch of a fit rule: right and wrong beside each other, to one scale, with the size of the difference. Lines as ISO 128 (from memory):
 * wide outlines, narrow details, long-dash double-dot for the pose that is not there. Right and wrong are told by a sign and a word.
 */
#pragma once

#include "drawing/pawl-palette.h"
#include "fit/pawl-question.h"

G_BEGIN_DECLS

typedef enum { PAWL_LENGTH_MM, PAWL_LENGTH_INCH } PawlLengthUnit;

typedef struct {
  PawlPalette    palette;
  PawlLengthUnit unit;         /* of the dimension */
  char           decimal_mark; /* '.' or ','; 0 means '.' */
  double         units_per_mm; /* surface units per millimetre of the eye's world: 72/25.4 on paper, the monitor's own on screen; 0: 96/25.4 */
  double         distance_mm;  /* from eye to screen or paper; 0: 350 */
  double         text_size;    /* font size of the words, surface units; 0: 13 */
  const char    *right_word, *wrong_word, *either_word; /* (nullable): "Right", "Wrong", "Either way" */
  const char    *nothing_word, *exaggerated_word, *lacks_word; /* (nullable): "nothing to see", "exaggerated", "No sketch. The rule lacks" */
  const char    *mark_word, *closed_word; /* (nullable): "only the mark tells", "nothing to see once it is closed" */
  const char    *open_word; /* (nullable): "open", as in "79 % open" */
} PawlSketchOptions;

/**
 * pawl_sketch_draw:
 * @options: (nullable)
 *
 * Draws the two poses of @rule side by side (above each other when taller than wide) into @width by @height at the origin of @cr, to one
 * scale; nothing is cut off. A difference that would be under 5 minutes of arc at the viewer's distance, or hidden by the arrowheads of its
 * own dimension, is shown once more in a circle, larger, and the circle says "exaggerated ×n". Words stand where nothing else is: the poses are made
 * smaller until there is room; words that find none even then are left out. A rule that lacks its dimensions gets what is missing instead of a
 * sketch. Expects paper under it and paints none, but where lines must not show through.
 */
void     pawl_sketch_draw          (const PawlRule *rule, const PawlSketchOptions *options, cairo_t *cr, double width, double height);
/* One of the two pictures of a question, the first or the second, alone; both are to one scale, and neither says which it is. A small difference is in a
 * circle in both, without its size. */
void     pawl_sketch_draw_question (const PawlRule *rule, const PawlQuestion *question, gboolean is_second, const PawlSketchOptions *options, cairo_t *cr,
                                    double width, double height);
/* By what the circle enlarges the difference beside the rest of the sketch in a drawing of that size; 1: no circle, all to one scale. */
double   pawl_sketch_get_exaggeration (const PawlRule *rule, const PawlSketchOptions *options, double width, double height);
/* (transfer full): the sketch in words, for who can't see it: "Right: … Wrong: … The difference is 6.0 mm." */
char    *pawl_sketch_describe      (const PawlRule *rule, const PawlSketchOptions *options);
/* (transfer full): "6.0 mm", "0.236 in"; no difference: "nothing to see". */
char    *pawl_sketch_format_size   (double size_mm, const PawlSketchOptions *options);

G_END_DECLS
