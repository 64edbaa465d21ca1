/*
 * What a trainer tightens: texts that stand in a job's opening, in its "tightened" entries, and in what is stated of a person. Pure.
 *
 * order      "fixed": steps are done in the order of the file; "advice": in any order that the parts allow
 * ask-first  "yes", or the skills of which fits are asked before they are shown
 * blind      "yes", or the skills of which readings are taken by two, each hidden until the other is in
 * holds      for each skill a level, or by how much the procedure's own is raised: "sense=hold side=+1"; "all" is every skill
 *
 * Lists have blanks between. A skill is one word: the kind of a fit rule ("sense"), the tool that a reading asks for ("depth-gauge"), or where it
 * asks for none, what is measured ("torque"). Either way round is right, so that kind of rule is no skill.
 */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

typedef enum { PAWL_TIGHTEN_ORDER, PAWL_TIGHTEN_ASK_FIRST, PAWL_TIGHTEN_BLIND, PAWL_TIGHTEN_HOLDS, PAWL_N_TIGHTENINGS } PawlTighten;

/* Its field in entries: "order", "ask-first", … */
const char *pawl_tighten_get_field   (PawlTighten what);
/* PAWL_JOB_ERROR_BAD_ANSWER when @text is none that can be understood. */
gboolean    pawl_tighten_check       (PawlTighten what, const char *text, GError **error);
/* Whether @list, "yes" or skills, has @skill. @list: (nullable); @skill: (nullable) */
gboolean    pawl_tighten_lists       (const char *list, const char *skill);
/* The level of a step of level @own in which @skill is needed; never below @own. @holds: (nullable) */
PawlHold    pawl_tighten_raise       (const char *holds, const char *skill, PawlHold own);

const char *pawl_hold_get_name       (PawlHold hold); /* "none", "review", "witness", "hold" */
gboolean    pawl_hold_from_name      (const char *name, PawlHold *hold);

/* (transfer full) (nullable): what skill an ask takes; NULL when none is counted */
char       *pawl_ask_dup_skill       (const PawlAsk *ask);
/* (transfer full) (element-type utf8): of all its asks, sorted, each once */
GPtrArray  *pawl_procedure_list_skills (PawlProcedure *procedure);
gboolean    pawl_skill_is_word       (const char *text); /* letters, digits, hyphens */

G_END_DECLS
