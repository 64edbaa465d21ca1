/*
 * What readings by two come to: of one reading the difference; of one person, for each instrument, bias and spread against the other's, and a gauge study
 * once there are enough parts.
 */
#pragma once

#include <gtk/gtk.h>
#include "training/pawl-progress.h"

G_BEGIN_DECLS

/* What an instrument is called, by its skill. */
typedef const char *(*PawlSkillTitle) (const char *skill, gpointer data);

/* Appends to @box; nothing when @progress has none. @progress, @title: (nullable) */
void  pawl_pairs_view_append  (GtkWidget *box, const PawlProgress *progress, PawlSkillTitle title, gpointer data);
/* How many planted faults were found, when there were any. */
void  pawl_found_view_append  (GtkWidget *box, const PawlProgress *progress);
/* (transfer full) (nullable): of one reading, once both are in: "The second is 0.03 mm larger. That is within the uncertainty of both, U = 0.05 mm." */
char *pawl_pairs_describe_difference (const PawlAskState *ask);
/* (transfer full) (nullable): "Measured again by Ossie Carne: 2.07 mm. …" */
char *pawl_pairs_describe_second (const PawlAskState *ask);
/* (transfer full): "5 readings by two: 0.012 mm larger than the other's on average, spread 0.02 mm; 1 differs by more than the uncertainty of both" */
char *pawl_pairs_describe     (const PawlPairFigures *figures);
/* (transfer full) (nullable): of the gauge study, when there is one */
char *pawl_pairs_describe_study (const PawlPairFigures *figures);

G_END_DECLS
