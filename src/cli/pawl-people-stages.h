/* What “pawl people” does with stages. */
#pragma once

#include "training/pawl-progress.h"

G_BEGIN_DECLS

/* SKILL STAGE; or STAGE with rules; or a clean run. Each (nullable). */
typedef struct {
  const char *first, *second;
  char       *reason, *clean_run;
  char       *rules[PAWL_N_TIGHTENINGS];
} PawlStageWords;

/* Asks for the trainer's PIN, and for the learner's, when they have one and go on to a further stage: both sign. */
gboolean pawl_people_state_stage (PawlRecord *record, const char *name, const char *by, const PawlStageWords *words, GError **error);
gboolean pawl_people_show_stages (PawlRecord *record, const char *name, gboolean is_json, GError **error);

G_END_DECLS
