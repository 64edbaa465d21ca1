/*
 * What can be seen of each part when parts are home, by the figure: how much of its ink others lie over. The figure looks from one side only, so
 * this is a hint for authors and no proof: what it hides may be plain to see from the other side.
 */
#pragma once

#include "drawing/pawl-figure.h"
#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

typedef struct _PawlSeatedSight PawlSeatedSight;

/* Draws each region of the parts once, small and at its seat; some tenths of a second for a figure of a hundred regions. (transfer full) */
PawlSeatedSight *pawl_seated_sight_new       (PawlProcedure *procedure, PawlFigure *figure);
void             pawl_seated_sight_free      (PawlSeatedSight *self);
/* Share of the ink of @part that regions of @others (NULL-terminated part ids; itself doesn't count) lie over, 0 to 1; negative when it has none. */
double           pawl_seated_sight_get_hidden (const PawlSeatedSight *self, const char *part, const char * const *others);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSeatedSight, pawl_seated_sight_free)

G_END_DECLS
