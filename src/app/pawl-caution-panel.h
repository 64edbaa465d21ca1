/* A caution before the step it guards: signal word, hazard, consequence, how to avoid it. */
#pragma once

#include <gtk/gtk.h>
#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

GtkWidget *pawl_caution_panel_new (const PawlCaution *caution);

G_END_DECLS
