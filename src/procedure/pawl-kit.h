/*
 * The kit as the procedure has it: what its lines bring, and what the steps of a variant need of it. What was found in the bag and fitted
 * in a job is in job/pawl-job-parts.h. A line is a check of kind kit with a quantity.
 */
#pragma once

#include "procedure/pawl-variant.h"

G_BEGIN_DECLS

/* Whether the ask is a line of the kit that is counted. */
gboolean   pawl_kit_is_line       (const PawlAsk *ask);
/* Whether a whole number may be answered to the check in place of one of its outcomes. */
gboolean   pawl_kit_takes_count   (const PawlAsk *ask);
/* (transfer container) (element-type PawlAsk): the counted lines for @variant ("" for none), file order. */
GPtrArray *pawl_kit_list_lines    (PawlProcedure *procedure, const char *variant);
/* (nullable): the line that serves this part in @variant. */
const PawlAsk *pawl_kit_find_line (PawlProcedure *procedure, const char *variant, const char *part_id);

/* Whether some step for @variant fits the part. */
gboolean   pawl_kit_is_fitted     (PawlProcedure *procedure, const char *variant, const char *part_id);
/* Pieces of a line that the steps for @variant fit: each part once, in its quantity, however often it is tried on. A line put aside needs none. */
guint      pawl_kit_count_need    (PawlProcedure *procedure, const PawlAsk *line, const char *variant);
/* The same for the variant that needs most. */
guint      pawl_kit_count_most    (PawlProcedure *procedure, const PawlAsk *line);

G_END_DECLS
