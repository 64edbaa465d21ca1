/*
 * Everybody who works with a record or learns by it: who they are, what is stated of them, how far their jobs speak for the next stage;
 * and the skills that anything can be stated of. Pure once it is loaded.
 */
#pragma once

#include "record/pawl-people.h"
#include "training/pawl-progress.h"

G_BEGIN_DECLS

/* What a skill is of, which is how they are grouped. */
typedef enum { PAWL_SKILL_OF_ALL, PAWL_SKILL_OF_RULE, PAWL_SKILL_OF_INSTRUMENT, PAWL_SKILL_OF_QUANTITY, PAWL_N_SKILL_KINDS } PawlSkillKind;

typedef struct {
  char         *word;  /* as it is stated: "sense", "depth-gauge", "torque", "all" */
  PawlSkillKind kind;
  char         *title; /* of an instrument its name in the newest procedure that has it, "Depth gauge"; else the word */
} PawlSkill;

typedef struct {
  char         *name;
  PawlPerson   *person;   /* (nullable): something is stated of them, but they are not in this record's list */
  PawlStages   *stages;
  PawlProgress *progress; /* (nullable) until pawl_crew_add_jobs() */
} PawlCrewMember;

typedef struct {
  GPtrArray *members; /* (element-type PawlCrewMember): by name; those who left are last */
  GPtrArray *skills;  /* (element-type PawlSkill): by kind, then word */
} PawlCrew;

/* (transfer full): people and stages, at once; skills are rule kinds and what was stated so far. */
PawlCrew             *pawl_crew_load     (PawlRecord *record, GError **error);
/* @jobs: (element-type PawlJob): oldest first; the skills of their procedures, and everybody's progress by them. */
void                  pawl_crew_add_jobs (PawlCrew *self, GPtrArray *jobs);
/* Both: with all jobs of @record. */
PawlCrew             *pawl_crew_load_with_jobs (PawlRecord *record, GError **error);
void                  pawl_crew_free     (PawlCrew *self);
/* (nullable); without regard to case and blanks around @name */
const PawlCrewMember *pawl_crew_lookup   (const PawlCrew *self, const char *name);
const PawlSkill      *pawl_crew_lookup_skill (const PawlCrew *self, const char *word); /* (nullable) */
/*
 * (transfer full) (element-type PawlProgress): of everybody who took one of two readings of the same in any job of @record; only their pairs and what
 * was planted for them are worth looking at, because no stages are read.
 */
GPtrArray            *pawl_crew_load_pairs (PawlRecord *record, GError **error);
/* How many skills are stated of @member at each stage. */
void                  pawl_crew_member_count (const PawlCrewMember *member, guint n_at[PAWL_N_STAGES]);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlCrew, pawl_crew_free)

G_END_DECLS
