/*
 * What a class has done, out of its jobs: for each person what was right at once, for each step how often it trips. Pure: the same jobs give the
 * same figures. What was taken back by Undo never happened; it is no fault.
 *
 * - A step is right at once when whoever finished it first never saw it opened again.
 * - A trap is met when the first answer to its fit rule was right.
 * - Asked first: what a person took for right before it was shown; see fit/pawl-question.h. By chance alone half of it is right.
 * - A reading is right at once when the first whole attempt of it was in its limits; as-found readings are the unit's affair and not counted.
 * - Attended time is the time between one person's entries in a job, gaps over PAWL_CLASS_PAUSE_MINUTES left out: a soak is not work.
 */
#pragma once

#include "job/pawl-job.h"
#include "training/pawl-learning-curve.h"
#include "training/pawl-rate.h"

G_BEGIN_DECLS

#define PAWL_CLASS_PAUSE_MINUTES 30
/* What was not done for so long is no longer sure. */
#define PAWL_CLASS_FADES_AFTER_MONTHS 12

/* One job, as far as this person worked on it. */
typedef struct {
  char      *procedure; /* id */
  char      *unit;      /* as its title block says */
  char      *job;
  GDateTime *at;        /* opened */
  double     minutes;   /* attended */
  guint      n_steps;   /* finished by this person */
} PawlClassJob;

typedef struct {
  char      *name;
  PawlRate   steps;
  PawlRate   traps;
  PawlRate   traps_of[PAWL_N_RULE_KINDS];
  PawlRate   guesses;
  PawlRate   guesses_of[PAWL_N_RULE_KINDS];
  PawlRate   readings;
  guint      n_loops;      /* readings that were out at first and came right */
  double     attempts;     /* mean number of attempts of those; NAN for none */
  GDateTime *last;         /* newest step finished */
  GPtrArray *jobs;         /* (element-type PawlClassJob), oldest first */
} PawlLearner;

/* A step of a procedure, over all jobs and people. */
typedef struct {
  char    *procedure, *step, *number, *command;
  PawlRate clean;          /* done without being opened again, a wrong fit or a reading that was out */
  guint    n_reopened, n_wrong, n_out;
  /*
   * How likely so many troubles are by chance alone, did all steps of the procedure trip people as often as they do on average: the binomial tail,
   * times the number of steps looked at by Holm's rule (Scand. J. Stat. 6 (1979) 65, from memory), because the worst of many always looks bad.
   */
  double   chance;
} PawlClassStep;

/* A step with less chance than this trips people more than the others do. */
#define PAWL_CLASS_LEAST_CHANCE 0.05

typedef struct {
  GPtrArray *learners; /* (element-type PawlLearner) by name */
  GPtrArray *steps;    /* (element-type PawlClassStep): those that were done; after pawl_class_finish() the most surely troublesome first */
  guint      n_jobs;
} PawlClass;

PawlClass         *pawl_class_new           (void);
void               pawl_class_free          (PawlClass *self);
void               pawl_class_add_job       (PawlClass *self, PawlJob *job);
/* Once all are added. */
void               pawl_class_finish        (PawlClass *self);
const PawlLearner *pawl_class_lookup        (const PawlClass *self, const char *name); /* (nullable) */
/* Of one procedure's jobs; FALSE with too few of them, see pawl-learning-curve.h. Jobs in which less than half of the most steps were done are left out. */
gboolean           pawl_learner_fit_curve   (const PawlLearner *self, const char *procedure, PawlLearningCurve *curve);
/* (transfer full) (array length=n): minutes of the jobs that the curve is fitted to, oldest first. */
double            *pawl_learner_list_times  (const PawlLearner *self, const char *procedure, guint *n);
/* Minutes that half of all such jobs, of everybody, took longer than; NAN when there is none. */
double             pawl_class_get_median_time (const PawlClass *self, const char *procedure);
/* (transfer container) (element-type utf8): ids of the procedures that this person worked by, in order of first use; borrowed */
GPtrArray         *pawl_learner_list_procedures (const PawlLearner *self);
gboolean           pawl_learner_has_faded   (const PawlLearner *self, GDateTime *now);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlClass, pawl_class_free)

G_END_DECLS
