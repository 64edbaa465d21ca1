/*
 * What a class has done, out of its jobs: for each person what was right at once, for each step how often it trips. Pure: the same jobs give the
 * same figures. What was taken back by Undo never happened; it is no fault. People are told apart by their names, whatever the capitals.
 *
 * - A step is right at once when whoever finished it first never saw it opened again.
 * - A trap is met when the first answer to its fit rule was right.
 * - Asked first: what a person took for right before it was shown; see fit/pawl-question.h. By chance alone half of it is right.
 * - A reading is right at once when the first whole attempt of it was in its limits; as-found readings are the unit's affair and not counted.
 * - An adjust loop is a reading that was out at first and came right: how many attempts it took.
 * - A hold is passed first time when its step was not opened again between the call to look at it, or where nobody was called, its being done, and
 *   its first release. It is whoever's finished the step. Witness and review points count as well; one that was waived, or waits, counts for nobody.
 * - A planted fault is caught or missed as the trainer says when its seal is opened; one whose words were lost counts for nobody.
 * - Attended time: pawl-class-time.c has the rule.
 */
#pragma once

#include "job/pawl-job.h"
#include "job/pawl-seal.h"
#include "training/pawl-learning-curve.h"
#include "training/pawl-rate.h"

G_BEGIN_DECLS

/* A longer gap between two entries is a pause, unless the procedure says that the step takes longer: see pawl-class-time.c. */
#define PAWL_CLASS_PAUSE_MINUTES 30
/* Fewer times than this are not held against a median. */
#define PAWL_CLASS_LEAST_TIMES 3
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
  gboolean   is_whole;  /* at least half as many as anybody finished in a job by this procedure: only these are compared */
  double     ratio;     /* minutes / median of all whole jobs by this procedure; NAN for others, and where there are too few */
} PawlClassJob;

/* A step of a procedure, over all jobs and people. */
typedef struct {
  char    *procedure, *step, *number, *command;
  PawlRate clean;          /* done without being opened again, a wrong fit or a reading that was out */
  guint    n_reopened, n_wrong, n_out;
  guint    n_people, n_tripped; /* who did it; who had trouble with it at least once */
  /*
   * How likely so many people had trouble by chance alone, did all steps of the procedure trip as many as they do on average: the binomial tail, times
   * the number of steps in the list by Holm's rule (Scand. J. Stat. 6 (1979) 65, from memory), because the worst of many always looks bad. By people,
   * not by troubles: what one person gets wrong again and again tells of that person.
   */
  double   chance;
  guint    n_times, n_timed; /* attended times of it, one for each job and person, and of how many people */
  double   median;           /* of these, minutes; NAN for none */
} PawlClassStep;

/* A step with less chance than this trips people more than the others do. */
#define PAWL_CLASS_LEAST_CHANCE 0.05

/* One person's time on one step, beside everybody's. */
typedef struct {
  const PawlClassStep *step; /* borrowed of the class */
  guint  n;       /* jobs in which this person finished it */
  double median;  /* of their attended times, minutes */
  double ratio;   /* median / the step's median; NAN with under PAWL_CLASS_LEAST_TIMES jobs, or when nobody else did the step */
} PawlStepTime;

/* What a person did that takes one skill: pawl_ask_dup_skill() has what that is. */
typedef struct {
  char      *skill;
  guint      n_jobs;
  GDateTime *last;  /* newest answer, to what this person answered first */
} PawlClassSkill;

typedef struct {
  char      *name;
  PawlRate   steps;
  PawlRate   traps;
  PawlRate   traps_of[PAWL_N_RULE_KINDS];
  PawlRate   guesses;
  PawlRate   guesses_of[PAWL_N_RULE_KINDS];
  PawlRate   readings;
  PawlRate   holds;
  PawlRate   planted;      /* caught */
  PawlRate   planted_of[PAWL_N_PLANTED_KINDS]; /* of those whose kind was said */
  guint      n_loops;      /* readings that were out at first and came right */
  double     attempts;     /* mean number of attempts of those; NAN for none */
  GDateTime *last;         /* newest step finished */
  GPtrArray *jobs;         /* (element-type PawlClassJob), oldest first */
  GPtrArray *times;        /* (element-type PawlStepTime), the slowest beside the class first, those without a ratio last */
  GPtrArray *skills;       /* (element-type PawlClassSkill) by skill */
} PawlLearner;

/* The jobs by one procedure. */
typedef struct {
  char  *id;
  guint  most_steps;       /* that anybody finished in one job */
  guint  n_whole;          /* whole jobs, of one person each */
  double median;           /* of their attended times, minutes; NAN for none */
} PawlClassProcedure;

typedef struct {
  GPtrArray *learners; /* (element-type PawlLearner) by name */
  GPtrArray *steps;    /* (element-type PawlClassStep): those that were done; after pawl_class_finish() the most surely troublesome first */
  GPtrArray *procedures; /* (element-type PawlClassProcedure) in the order of their first job */
  guint      n_jobs;
  guint      n_loops;  /* of everybody; see PawlLearner */
  double     attempts;
  struct _PawlClassDesk *desk; /* what is only needed while jobs are added */
} PawlClass;

PawlClass         *pawl_class_new           (void);
void               pawl_class_free          (PawlClass *self);
void               pawl_class_add_job       (PawlClass *self, PawlJob *job);
/* Once all are added. */
void               pawl_class_finish        (PawlClass *self);
const PawlLearner *pawl_class_lookup        (const PawlClass *self, const char *name); /* (nullable) */
const PawlClassProcedure *pawl_class_lookup_procedure (const PawlClass *self, const char *id); /* (nullable) */
/* Of one procedure's jobs; FALSE with too few of them, see pawl-learning-curve.h. Only whole jobs count. */
gboolean           pawl_learner_fit_curve   (const PawlLearner *self, const char *procedure, PawlLearningCurve *curve);
/* (transfer full) (array length=n): minutes of the jobs that the curve is fitted to, oldest first. */
double            *pawl_learner_list_times  (const PawlLearner *self, const char *procedure, guint *n);
/* Middle of the same; NAN when there is none. @n: (out): how many */
double             pawl_learner_get_median_time (const PawlLearner *self, const char *procedure, guint *n);
/* Minutes that half of all whole jobs, of everybody, took longer than; NAN when there is none. */
double             pawl_class_get_median_time (const PawlClass *self, const char *procedure);
/* (transfer container) (element-type utf8): ids of the procedures that this person worked by, in order of first use; borrowed */
GPtrArray         *pawl_learner_list_procedures (const PawlLearner *self);
gboolean           pawl_learner_has_faded   (const PawlLearner *self, GDateTime *now);
/* Whether what was done @last is so long ago. @last: (nullable): never, which doesn't fade */
gboolean           pawl_class_has_faded     (GDateTime *last, GDateTime *now);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlClass, pawl_class_free)

G_END_DECLS
