/* What the pages say of people: roles, stages, skills, and what follows from a stage. Pure; all (transfer full) unless const. */
#pragma once

#include "training/pawl-crew.h"

G_BEGIN_DECLS

const char *pawl_role_get_words        (PawlRole role);             /* "Trainer" */
const char *pawl_stage_get_words       (PawlStage stage);           /* "under supervision" */
const char *pawl_skill_kind_get_words  (PawlSkillKind kind);        /* "Which way a part goes"; "" of all */
char       *pawl_skill_describe        (const PawlSkill *skill);    /* "sense: which way round", "Depth gauge", "all that nothing else is stated of" */
/* "Trainer · has a PIN", "Left" */
char       *pawl_crew_member_describe  (const PawlCrewMember *member);
/* "Assists in 2 · alone in 4"; "" when nothing is stated */
char       *pawl_crew_member_summarise (const PawlCrewMember *member);
/* What a stage means for this person, as sentences: "Steps in the order of the procedure. …" */
char       *pawl_stage_describe_rules  (const PawlStages *stages, PawlStage stage);
/* "since 2026-11-03, by Ossie Carne: five clean jobs" */
char       *pawl_skill_stage_describe  (const PawlSkillStage *line);
/* "6 jobs since, the last 4 of them with each first answer right"; "" when there is none */
char       *pawl_skill_run_describe    (const PawlSkillRun *run); /* (nullable) @run */
/* (nullable): that the next stage may be due. */
char       *pawl_crew_member_suggest   (const PawlCrewMember *member, const char *skill);

G_END_DECLS
