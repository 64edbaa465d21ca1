/* Limits as a bar with the readings on it, for print: read in grey, and without colour at all. */
#pragma once

#include "report/pawl-table.h"
#include "view/pawl-limits-scale.h"

G_BEGIN_DECLS

/* Adds the bar to a cell. The inside of the limits is grey between two strokes, striped where the policy leaves a reading too close to call; as found is an
 * open diamond, as left a full one with its uncertainty as a line through it. */
void pawl_table_add_bar (PawlTable *table, guint column, const PawlLimitsScale *scale);
/* One sentence that says so, to stand under a table with bars. */
const char *pawl_bar_get_legend (void);

G_END_DECLS
