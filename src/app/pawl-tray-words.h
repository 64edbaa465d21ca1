/* Where parts lie and come from, in words of the user's language. Pure; all results (transfer full). */
#pragma once

#include "drawing/pawl-sketch.h"
#include "job/pawl-job.h"
#include "procedure/pawl-alike.h"
#include "procedure/pawl-trays.h"

G_BEGIN_DECLS

/* "tray 2, place 5", "old parts" */
char *pawl_tray_words_describe_place (const PawlTrayPlace *place);
/* "4 Bowl screw, short × 4 → tray 1, place 1", a line for each part that the step takes off; "" when it takes none. */
char *pawl_tray_words_list_laid      (PawlJob *job, const PawlTrays *trays, const PawlStep *step);
/* The same of @parts (element-type PawlPart). */
char *pawl_tray_words_list_off       (PawlJob *job, const PawlTrays *trays, GPtrArray *parts);
/* "4 Bowl screw, short × 4 ← tray 1, place 1", "3 Bowl cover gasket ← new, from the kit", a line for each part that the step fits. */
char *pawl_tray_words_list_fetched   (PawlJob *job, const PawlTrays *trays, const PawlStep *step);
/* "Length under the head 22.2 mm, 9.5 mm more than “Short”: seen by eye" */
char *pawl_tray_words_describe_alike (const PawlAlike *alike, const PawlSketchOptions *lengths);
/* "ordered from Quay Stores, expected 2026-12-03" */
char *pawl_tray_words_describe_lack  (const PawlEntry *lack, GDateTime *now);

G_END_DECLS
