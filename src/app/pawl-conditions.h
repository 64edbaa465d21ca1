/* How a reading is taken, as a small table: how it stands, from where to where, gasket, load, places, what with. */
#pragma once

#include <gtk/gtk.h>
#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

GtkWidget *pawl_conditions_new (PawlProcedure *procedure, const PawlAsk *ask);

G_END_DECLS
