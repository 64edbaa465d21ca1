/* The right/wrong sketch of a fit rule, as a widget. */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"

G_BEGIN_DECLS

/* @rule: borrowed; whoever holds the procedure outlives the widget's use of it. @session: says in which unit sizes are written. */
GtkWidget *pawl_sketch_view_new     (const PawlRule *rule, PawlSession *session);
/* When the session's lengths may have changed. */
void       pawl_sketch_view_refresh (GtkWidget *view);

/* Writes @datum, (nullable) the words that this job's own mark was written down in, in the place of the rule's. */
void       pawl_sketch_view_set_datum (GtkWidget *view, const char *datum);

/* How any sketch is drawn on @widget, with its words in the user's language. */
PawlSketchOptions pawl_sketch_view_make_options (GtkWidget *widget, PawlSession *session);

G_END_DECLS
