/* What of a step's parts looks alike, and by how much it differs: in words, and drawn to scale in its places on the trays. */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"
#include "procedure/pawl-trays.h"

G_BEGIN_DECLS

/* Fills @box, emptied by the caller, for the parts that @step takes off. FALSE when nothing of them looks alike. */
gboolean pawl_alike_view_fill (GtkWidget *box, PawlSession *session, const PawlTrays *trays, const PawlStep *step);

G_END_DECLS
