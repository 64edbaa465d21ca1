/*
 * Whether somebody may be ready for the next stage: clean jobs in a row for each skill, and what two readings of the same part say.
 * Suggestions and figures only; nothing here moves anybody on. Pure.
 */
#pragma once

#include "training/pawl-gauge-study.h"
#include "training/pawl-rate.h"
#include "training/pawl-stages.h"

G_BEGIN_DECLS

typedef struct {
  char *skill;
  guint n_jobs;    /* in which it was used by this person since the stage was stated */
  guint clean_run; /* of these, the last ones in a row in which each first answer was right */
} PawlSkillRun;

/* What readings by two of one person with one instrument come to. */
typedef struct {
  char          *instrument; /* the skill: tool id, or quantity */
  const PawlUnit *unit;
  guint          n, n_beyond; /* pairs; pairs that differ by more than their U */
  double         bias;       /* mean of this person's readings less the other's, base units */
  double         spread;     /* standard deviation of these differences; NAN under two */
  gboolean       has_study;  /* two or more parts, measured twice or more by both */
  PawlGaugeStudy study;      /* repeatability and reproducibility, base units, by analysis of variance */
} PawlPairFigures;

typedef struct {
  char      *name;
  GPtrArray *runs;  /* (element-type PawlSkillRun), by skill */
  GPtrArray *pairs; /* (element-type PawlPairFigures), by instrument */
  PawlRate   found; /* planted faults that were opened */
} PawlProgress;

/* @jobs: (element-type PawlJob): oldest first */
PawlProgress *pawl_progress_make (const PawlStages *stages, GPtrArray *jobs);
void          pawl_progress_free (PawlProgress *self);
const PawlSkillRun *pawl_progress_lookup (const PawlProgress *self, const char *skill); /* (nullable) */
/* Whether the trainer may want to state the next stage of @skill, which is returned in @next. */
gboolean      pawl_progress_suggests (const PawlProgress *self, const PawlStages *stages, const char *skill, PawlStage *next);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlProgress, pawl_progress_free)

G_END_DECLS
