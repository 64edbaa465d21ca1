/* What the files of a class share. Jobs are counted one after another; shares, medians and chances are made once all are in. */
#pragma once

#include "training/pawl-class.h"

G_BEGIN_DECLS

/* A person's entry in a job, for the time between it and the one before. */
typedef struct {
  gint64         at;        /* microseconds of the UNIX epoch */
  guint          job;       /* place in the jobs of the desk */
  PawlClassStep *step;      /* (nullable) borrowed: what it belongs to */
  float          pause;     /* minutes: a longer gap before it is a pause; 0: what is before it is no work */
  gboolean       is_done;   /* the step was finished by it */
} PawlMoment;

/* What all people's lines of one job have in common. */
typedef struct {
  char      *id;
  GDateTime *at;
  PawlClassProcedure *procedure; /* borrowed */
  char      *unit;
} PawlClassSource;

typedef struct _PawlClassDesk {
  GHashTable *by_name;   /* (element-type utf8 PawlLearner) by pawl_class_dup_key() */
  GHashTable *by_step;   /* (element-type utf8 PawlClassStep) by procedure and step */
  GHashTable *people;    /* (element-type PawlClassStep GHashTable): of each step who did it, and whether they ever had trouble */
  GHashTable *moments;   /* (element-type utf8 GArray of PawlMoment) by pawl_class_dup_key(): of all people, also those who finish nothing */
  GPtrArray  *sources;   /* (element-type PawlClassSource) */
} PawlClassDesk;

char               *pawl_class_dup_key     (const char *name);
/* Made when it isn't there. */
PawlLearner        *pawl_class_get_learner (PawlClass *self, const char *name);
PawlClassStep      *pawl_class_get_step    (PawlClass *self, const char *procedure, const PawlStep *step);
PawlClassJob       *pawl_learner_add_job   (PawlLearner *learner, const PawlClassSource *source);

/* pawl-class-count.c. The last of the sources is @job's. */
void pawl_class_count_job      (PawlClass *self, PawlJob *job);
/* pawl-class-time.c */
void pawl_class_note_moments   (PawlClass *self, PawlJob *job);
void pawl_class_settle_times   (PawlClass *self);
/* pawl-class-chance.c. Of one job: @learner did @step. */
void pawl_class_count_clean    (PawlClass *self, PawlClassStep *step, PawlLearner *learner, gboolean is_clean);
void pawl_class_settle_chances (PawlClass *self);

G_END_DECLS
