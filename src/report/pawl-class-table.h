/* The figures of a class, out of a record, and as a table for other programs. */
#pragma once

#include "record/pawl-record.h"
#include "training/pawl-class.h"

G_BEGIN_DECLS

/**
 * pawl_class_load:
 * @procedure: (nullable): only jobs by the procedure of this id
 *
 * Folds all jobs of the record. Errors are those of the record and of the procedures' reader.
 * Returns: (transfer full): finished; %NULL with @error
 */
PawlClass *pawl_class_load          (PawlRecord *record, const char *procedure, GError **error);

/* @figure: "steps", "traps:sense", "asked-first", … */
typedef void (*PawlRateVisit) (const char *name, const char *figure, const PawlRate *rate, gpointer data);

/* All rates that @learner has, in the order in which they are shown everywhere. */
void       pawl_learner_visit_rates (const PawlLearner *learner, PawlRateVisit visit, gpointer data);
/* (transfer full): CSV with a line for each figure of each person. @only: (nullable): of this one alone */
char      *pawl_class_make_csv      (const PawlClass *class, const PawlLearner *only);

G_END_DECLS
