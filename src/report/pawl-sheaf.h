/*
 * A sheaf: pages as the commands that draw them, apart from what they were laid out with. Made in one thread, it may be drawn in another, which is how
 * pages that a worker laid out come onto a printer's paper.
 */
#pragma once

#include "report/pawl-pages.h"

G_BEGIN_DECLS

typedef struct _PawlSheaf PawlSheaf;

/* Draws all of @pages once; they may go before the sheaf. */
PawlSheaf  *pawl_sheaf_new       (PawlPages *pages);
void        pawl_sheaf_free      (PawlSheaf *self);
guint       pawl_sheaf_get_n     (PawlSheaf *self);
const char *pawl_sheaf_get_title (PawlSheaf *self); /* of the document */
PawlPaper   pawl_sheaf_get_paper (PawlSheaf *self); /* that it was laid out for */

/**
 * pawl_sheaf_draw:
 * @n: page, from 0
 * @width_pt, @height_pt: the paper, points, its corner at the origin of @cr; > 0
 *
 * On paper of the size it was laid out for a page is drawn as it is, to the point. On smaller paper it is made smaller, both ways alike; on larger paper
 * it stays as it is. Either way it stands in the middle.
 */
void        pawl_sheaf_draw      (PawlSheaf *self, guint n, cairo_t *cr, double width_pt, double height_pt);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSheaf, pawl_sheaf_free)

G_END_DECLS
