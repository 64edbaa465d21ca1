/* Which variant a unit is: a line for each set of variants, in a box of the caller's. */
#pragma once

#include <gtk/gtk.h>
#include "procedure/pawl-variant.h"

G_BEGIN_DECLS

/* Fills @box anew, and shows it when there is anything to choose. Of a set that the serial number tells, the first line leaves it to that. */
void  pawl_variant_choice_fill (GtkBox *box, PawlProcedure *procedure);
/* Chooses what @variant names, the rest stays; and calls @changed (swapped) with @data whenever another is chosen. */
void  pawl_variant_choice_select (GtkBox *box, PawlProcedure *procedure, const char *variant);
void  pawl_variant_choice_watch (GtkBox *box, GCallback changed, gpointer data);
/* (transfer full): the ids that are chosen in a box filled for @procedure; what is left to the serial number is not among them. */
char *pawl_variant_choice_dup  (GtkBox *box, PawlProcedure *procedure);

G_END_DECLS
