/* What the files of the export share. */
#pragma once

#include "export/pawl-export.h"
#include "job/pawl-results.h"
#include "recall/pawl-csv.h"

G_BEGIN_DECLS


/* What an attempt was to its reading: "as found", "as left", "attempt". (transfer full): PawlAttempt → static text */
GHashTable *pawl_export_list_uses (PawlJob *job);
const char *pawl_export_get_use   (GHashTable *uses, const PawlAttempt *attempt);
/* (transfer full): a plain decimal, with a point, in @unit; "" for NULL. As many digits as a double has: the exact value stands beside it. */
char       *pawl_export_format_number (const PawlQuantity *quantity, const PawlUnit *unit);
const char *pawl_export_get_field (const PawlEntry *entry, const char *field); /* (nullable) @entry; "" when absent */
char       *pawl_export_format_time (GDateTime *time);                         /* (transfer full) (nullable) @time: "" */

void        pawl_export_add_readings (GString *csv, PawlJob *job);
void        pawl_export_add_answers  (GString *csv, PawlJob *job);

G_END_DECLS
