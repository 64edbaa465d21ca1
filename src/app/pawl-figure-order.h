/* The order in which keys go from part to part: by item number, or as a page is read, row after row, in a row from left to right. Pure. */
#pragma once

#include "view/pawl-job-view.h"

G_BEGIN_DECLS

/**
 * pawl_figure_order_read:
 * @boxes: (array length=n_boxes): where things stand, y down
 *
 * One row takes in all whose middle lies less than a middling height (the median) below the middle of its first. What has no box comes last.
 *
 * Returns: (transfer full) (array length=n_boxes): indices into @boxes
 */
guint *pawl_figure_order_read (const PawlBox *boxes, guint n_boxes);
/* (transfer full) (array length=views->len): the same for parts as they stand in a drawing of that size. @scene: (nullable): without it by item number. */
guint *pawl_figure_order_views (GPtrArray *views, PawlScene *scene, double width, double height);

G_END_DECLS
