/* The right/wrong sketch of a fit rule, as a widget. */
#pragma once

#include <gtk/gtk.h>
#include "drawing/pawl-sketch.h"

G_BEGIN_DECLS

/* @rule: borrowed; whoever holds the procedure outlives the widget's use of it. Rules are stated in millimetres, and so is the sketch. */
GtkWidget *pawl_sketch_view_new (const PawlRule *rule);

G_END_DECLS
