/*
 * One column of a steady width in the middle of a page, as wide as a line of text is read well. A box that is only centred takes a width that follows from
 * its height, so it would jump with every sentence that comes and goes.
 */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define PAWL_COLUMN_WIDTH 760 /* pixels; narrower where the page is, wider where a child can't be so narrow */

/* For a widget with one child that fills it. */
#define PAWL_TYPE_COLUMN_LAYOUT (pawl_column_layout_get_type ())
G_DECLARE_FINAL_TYPE (PawlColumnLayout, pawl_column_layout, PAWL, COLUMN_LAYOUT, GtkLayoutManager)

G_END_DECLS
