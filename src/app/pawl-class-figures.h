/* The figures of a class as widgets: of one person, or of everybody. */
#pragma once

#include <gtk/gtk.h>
#include "training/pawl-class.h"

G_BEGIN_DECLS

/* A wrapping line of words. @css_class: (nullable) */
GtkWidget *pawl_class_text_new               (const char *text, const char *css_class);
/* Appends to @box. Nothing of @class is kept. */
void       pawl_class_figures_show_learner   (GtkBox *box, const PawlClass *class, const PawlLearner *learner, GDateTime *now);
void       pawl_class_figures_show_everybody (GtkBox *box, const PawlClass *class, GDateTime *now);

G_END_DECLS
