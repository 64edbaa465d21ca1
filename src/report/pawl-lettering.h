/* Lettering: the few sizes and weights of type that a printed page uses. One unit is one point; the layout is the same on every surface. */
#pragma once

#include <pango/pangocairo.h>

G_BEGIN_DECLS

typedef enum {
  PAWL_LETTER_TITLE,
  PAWL_LETTER_HEADING,
  PAWL_LETTER_BODY,
  PAWL_LETTER_STRONG,      /* body, bold */
  PAWL_LETTER_CELL,        /* in tables */
  PAWL_LETTER_CELL_STRONG,
  PAWL_LETTER_NOTE,        /* the second line of a cell, captions, running heads */
  PAWL_LETTER_LABEL,       /* above a field, over a column */
  PAWL_LETTER_DIGEST,      /* hexadecimal, one width */
  PAWL_N_LETTERS
} PawlLetter;

/**
 * pawl_lettering_new_context:
 *
 * A context that measures type without hinting, so that lines break at the same place on paper and on screen.
 *
 * Returns: (transfer full): the context
 */
PangoContext *pawl_lettering_new_context (void);

/**
 * pawl_lettering_new_layout:
 * @context: from pawl_lettering_new_context()
 * @letter: size and weight
 * @text: what to set; what is no UTF-8 in it is shown as replacement characters
 * @width_pt: where lines break, points; below 0: never
 *
 * Lines break between words, inside a word only when it is longer than a line.
 *
 * Returns: (transfer full): the layout
 */
PangoLayout  *pawl_lettering_new_layout  (PangoContext *context, PawlLetter letter, const char *text, double width_pt);

/* The ink of a letter: 0 black … 1 white. */
double        pawl_lettering_get_grey    (PawlLetter letter);

G_END_DECLS
