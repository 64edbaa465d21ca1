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
/* Tables for other programs, each a CSV of its own. */
typedef enum {
  PAWL_CLASS_TABLE_FIGURES, /* the rates: a line for each figure of each person */
  PAWL_CLASS_TABLE_JOBS,    /* each person's jobs, with attended time and its part of the median */
  PAWL_CLASS_TABLE_TIMES,   /* each person's steps, with their median beside everybody's */
  PAWL_CLASS_TABLE_TRIES,   /* each person's adjust loops beside everybody's */
  PAWL_CLASS_TABLE_SKILLS,  /* when each skill was used last */
  PAWL_CLASS_TABLE_STEPS,   /* of all people: how often each step trips, and whether beyond chance */
  PAWL_N_CLASS_TABLES,
} PawlClassTable;

const char *pawl_class_table_get_name  (PawlClassTable table); /* "figures", … */
gboolean    pawl_class_table_from_name (const char *name, PawlClassTable *table);
/* (transfer full): RFC 4180. @only: (nullable): of this one alone; the steps are everybody's, and then none. @now: what has faded depends on it */
char       *pawl_class_make_csv        (const PawlClass *class, const PawlLearner *only, PawlClassTable table, GDateTime *now);

G_END_DECLS
