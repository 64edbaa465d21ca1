/* Boxes to be filled in by pen: ticks beside words, and room for a number or a line, with wet hands in mind. */
#pragma once

#include "report/pawl-flow.h"

G_BEGIN_DECLS

/* A square beside each word, as many in a line as there is room for. @words: NULL-terminated, copied. */
void pawl_cell_add_ticks (PawlCell *self, const char * const *words);
/* A large square alone. */
void pawl_cell_add_tick  (PawlCell *self);
/* A frame to write in, as wide as @width_pt; @label stands small in its corner, @unit at its right end; each (nullable), copied. */
void pawl_cell_add_box   (PawlCell *self, double width_pt, double height_pt, const char *label, const char *unit);

G_END_DECLS
