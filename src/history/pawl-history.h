/*
 * The history of a reading: what it was in each job of a procedure, or of one unit by its serial number, as found and as left, and what usually
 * put it right. Pure but for pawl_history_load(): the same jobs give the same history. It judges nothing anew.
 */
#pragma once

#include "job/pawl-job.h"
#include "measure/pawl-control-chart.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

#define PAWL_HISTORY_ERROR (pawl_history_error_quark ())
GQuark pawl_history_error_quark (void);

typedef enum {
  PAWL_HISTORY_ERROR_NO_PROCEDURE, /* no job is of it */
  PAWL_HISTORY_ERROR_NO_READING,   /* the procedure has no such reading, or it has no number */
} PawlHistoryError;

/* One job. Values are in the history's unit, NAN where nothing was measured. */
typedef struct {
  char           *job;
  char           *serial;    /* "" when none */
  GDateTime      *at;        /* when the job was opened */
  double          found, left;
  PawlVerdictKind found_verdict, left_verdict; /* as judged then; of what was measured only */
  guint           n_attempts; /* whole ones */
  gboolean        is_corrected; /* out as found, then measured again and in */
  gboolean        is_overdue;   /* the instrument of the as-left reading was out of date */
  char           *of_variant;   /* (nullable): the limits of its variant, where they differ by variant */
} PawlHistoryPoint;

typedef struct {
  char             *procedure; /* id */
  char             *reading;   /* id, or READING.SPOT */
  char             *serial;    /* "" for all */
  char             *name, *limits; /* as the newest job has them */
  const PawlUnit   *unit;      /* (nullable) before the first value */
  double            low, high; /* of the newest job's limits, in @unit; NAN for none */
  GPtrArray        *points;    /* (element-type PawlHistoryPoint), oldest job first; those without any value are left out */
  guint             n_jobs;    /* looked at, with and without a value */
  guint             n_of_others; /* measured, and left out: of a variant that has other limits than those shown */
  guint             n_corrected;
  double            correction; /* mean of as left less as found over those corrected; NAN for none */
  char             *remark;    /* what was noted most often with a correction; "" for none */
  guint             n_remark;
  PawlControlChart  chart;     /* of the values as left */
  gboolean          has_chart; /* two values or more */
} PawlHistory;

/* @reading: id of a reading, or READING.SPOT for one of its places. @serial: (nullable). */
PawlHistory *pawl_history_new     (const char *procedure, const char *reading, const char *serial);
void         pawl_history_free    (PawlHistory *self);
/* Adds a job of that procedure; one of another serial is passed over. PAWL_HISTORY_ERROR_NO_READING when its edition has none such with a number. */
gboolean     pawl_history_add_job (PawlHistory *self, PawlJob *job, GError **error);
/* Once all are added: sorts by time, makes the chart and the usual correction. */
void         pawl_history_finish  (PawlHistory *self, PawlChartFactors factors);
/* (transfer full) (array length=n): the values as left, oldest first */
double      *pawl_history_list_left (const PawlHistory *self, guint *n);
/* (transfer full) (array length=points->len): the rule of runs that each value as left completes; none where none was measured, and without a chart */
PawlChartRule *pawl_history_list_rules (const PawlHistory *self);
/* Something that chance alone seldom makes; points of one rule that follow one another are one. */
typedef struct {
  PawlChartRule rule;
  guint         last; /* index of its newest point */
} PawlHistoryRun;
/* (transfer full) (element-type PawlHistoryRun): oldest first */
GArray      *pawl_history_list_runs (const PawlHistory *self);
/* So many of the newest are told. */
#define PAWL_HISTORY_MOST_RUNS 4
/* "8 in a row on one side of the mean" */
const char  *pawl_history_name_rule (PawlChartRule rule);
/* (transfer full): "30 jobs: mean 20.012 mm, limits of chance 20.003 to 20.021 mm …" sentences */
char        *pawl_history_describe  (const PawlHistory *self, char decimal_mark);
/* (transfer full): a value in the history's unit, to about a hundredth of the width of its limits */
char        *pawl_history_format    (const PawlHistory *self, double value, char decimal_mark);

/**
 * pawl_history_load:
 * @what: a procedure's id, or anything that names a job: its procedure is meant
 * @serial: (nullable)
 * @error: PAWL_HISTORY_ERROR, PAWL_RECORD_ERROR
 *
 * Folds every job of the procedure, each by its own kept edition; an edition that has no such reading is passed over, unless none has.
 *
 * Returns: (transfer full)
 */
PawlHistory *pawl_history_load (PawlRecord *record, const char *what, const char *reading, const char *serial, PawlChartFactors factors, GError **error);

/**
 * pawl_history_load_several:
 * @readings: (array zero-terminated=1): each as for pawl_history_load()
 *
 * Like pawl_history_load() for each of them, but each job is folded once.
 *
 * Returns: (transfer full) (element-type PawlHistory): one for each of @readings, in their order
 */
GPtrArray   *pawl_history_load_several (PawlRecord *record, const char *what, const char * const *readings, const char *serial, PawlChartFactors factors,
                                        GError **error);

/**
 * pawl_history_load_of_job:
 *
 * The history of each reading of @job that has one number, over all jobs of its procedure, in procedure order; those with less than two values
 * as left are left out. Each job is folded once.
 *
 * Returns: (transfer full) (element-type PawlHistory)
 */
GPtrArray   *pawl_history_load_of_job (PawlRecord *record, PawlJob *job, PawlChartFactors factors, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlHistory, pawl_history_free)

G_END_DECLS
