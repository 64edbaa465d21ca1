/*
 * The small picture beside a bench sum: where each length and angle is taken. To scale by what was typed, by the sum's examples until then, and never so
 * flat that nothing could be seen. Cairo, no widgets.
 */
#pragma once

#include <cairo.h>
#include "drawing/pawl-palette.h"
#include "sums/pawl-sum.h"

G_BEGIN_DECLS

/* What a picture is made of. */
typedef struct {
  const PawlSum    *sum;
  GHashTable       *typed;     /* (element-type utf8 utf8): as for pawl_sum_solve() */
  const PawlTyping *typing;
  PawlInks          inks;
  double            text_size; /* font size, surface units */
} PawlSumPicture;

gboolean    pawl_sum_picture_has      (const PawlSum *sum);
/* What it shows, for who can't see it. (nullable) when there is none */
const char *pawl_sum_picture_describe (const PawlSum *sum);
void        pawl_sum_picture_draw     (const PawlSumPicture *self, cairo_t *cr, double width, double height);

G_END_DECLS
