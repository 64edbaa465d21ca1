/*
 * How far each person is in each skill, folded from what trainers stated of them. Pure: the same entries give the same stages.
 *
 * Three stages, as apprentices are initialled for: assists, works under supervision, works alone. What follows from a stage is a table
 * that a trainer can change for a person; what a job is opened with is written into its opening, so that later changes leave it as it was.
 * Nobody is moved on by a count: a run of clean jobs is a suggestion, and the trainer says so, with a PIN.
 */
#pragma once

#include "job/pawl-job.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

typedef enum { PAWL_STAGE_ASSIST, PAWL_STAGE_SUPERVISED, PAWL_STAGE_INDEPENDENT, PAWL_N_STAGES } PawlStage;

const char *pawl_stage_get_name  (PawlStage stage); /* "assist" */
gboolean    pawl_stage_from_name (const char *name, PawlStage *stage);

/* So many clean jobs in a row until the next stage is suggested, unless the trainer said another number. */
#define PAWL_STAGES_CLEAN_RUN 5
/* The skill that stands for all that nothing is stated of. */
#define PAWL_SKILL_ALL "all"

typedef struct {
  char      *skill;
  PawlStage  stage;
  GDateTime *since;
  char      *by;     /* the trainer */
  char      *reason; /* "" */
} PawlSkillStage;

typedef struct {
  char      *chain;  /* id in the record, where the next entry goes */
  char      *name;
  GPtrArray *skills; /* (element-type PawlSkillStage), by skill */
  char      *table[PAWL_N_STAGES][PAWL_N_TIGHTENINGS]; /* (nullable): this person's own; see pawl_stages_get_rule() */
  guint      clean_run;
  GPtrArray *entries; /* (element-type PawlEntry): oldest first */
} PawlStages;

/* @entries: (element-type PawlEntry): of pawl_record_load_learners(); all chains of @name, also of merged records, in the order of their time. */
PawlStages *pawl_stages_fold     (GPtrArray *entries, const char *name);
/* (transfer full): empty when nothing was stated of @name */
PawlStages *pawl_stages_load     (PawlRecord *record, const char *name, GError **error);
void        pawl_stages_free     (PawlStages *self);
/* (nullable): what is stated of @skill, or of all */
const PawlSkillStage *pawl_stages_lookup (const PawlStages *self, const char *skill);

/* What a stage means: order "fixed" or "advice"; ask-first and blind "yes" or "no"; holds "hold", "+1", "+2" or "none". */
const char *pawl_stage_get_rule   (PawlStage stage, PawlTighten what);
const char *pawl_stages_get_rule  (const PawlStages *self, PawlStage stage, PawlTighten what); /* of this person */

/**
 * pawl_stages_tighten:
 * @opened: PAWL_ENTRY_OPENED, not stored yet
 *
 * Writes into @opened what follows for a job by @procedure: learner, stages, order, ask-first, blind, holds. What it has already stays.
 * Nothing is written when nothing follows.
 */
void        pawl_stages_tighten  (const PawlStages *self, PawlProcedure *procedure, PawlEntry *opened);
/* The same for who opens the job, by what @record has of them. */
gboolean    pawl_stages_tighten_for (PawlRecord *record, PawlProcedure *procedure, PawlEntry *opened, GError **error);

/* Whether @entry, PAWL_ENTRY_PERSON_STATED, moves this person on in a skill: then who goes on signs as well, where they have a PIN. */
gboolean    pawl_stages_goes_on  (const PawlStages *self, const PawlEntry *entry);
/* Whether @entry, PAWL_ENTRY_PERSON_STATED, can be understood. PAWL_JOB_ERROR. */
gboolean    pawl_stages_check    (PawlEntry *entry, GError **error);
/* The one way in: checks, and stores @entry in its person's chain or as the first of one. */
gboolean    pawl_stages_append   (PawlRecord *record, PawlEntry *entry, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlStages, pawl_stages_free)

G_END_DECLS
