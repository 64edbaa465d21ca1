/* Palettes: the few colours that the drawings use. */
#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  PAWL_PALETTE_LIGHT, /* window, light */
  PAWL_PALETTE_DARK,  /* window, dark: the author's ink and paper change places, hues stay */
  PAWL_PALETTE_PRINT, /* paper: white ground, black ink, no tint that a copier would lose */
  PAWL_PALETTE_GLARE, /* window in the sun: black and white, lines of the figure thickened, the part in hand filled deep */
} PawlPalette;

typedef struct {
  double red, green, blue;
} PawlInk;

typedef struct {
  PawlInk paper;     /* the sheet */
  PawlInk ink;       /* wide and narrow lines, numbers */
  PawlInk faint;     /* leaders, axes, hatching */
  PawlInk highlight; /* the part in hand */
  PawlInk halo;      /* between the highlight and what is around it */
  PawlInk good;      /* beside the word and the tick, never alone */
  PawlInk bad;       /* beside the word and the cross, never alone */
  PawlInk fill;      /* body of a part in a sketch */
} PawlInks;

/* The colours of @palette. Contrast of ink, highlight, good and bad on paper is at least 4.5:1, of ink 7:1 (WCAG 2.2, 1.4.3 and 1.4.6). */
PawlInks pawl_palette_get_inks (PawlPalette palette);
void     pawl_ink_set_source   (const PawlInk *ink, cairo_t *cr, double alpha);

G_END_DECLS
