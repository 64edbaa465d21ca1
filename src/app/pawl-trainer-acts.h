/*
 * What a trainer does to a job from the list of what waits: each act is a form, what becomes of it in the record, and what is told afterwards.
 *   pawl-trainer-acts.c   which is which; a hold is waived     pawl-trainer-measure.c   a reading is taken again     pawl-trainer-planted.c   a fault is planted, a seal opened
 */
#pragma once

#include "app/pawl-field-form.h"
#include "bench/pawl-bench.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_TRAINER_MEASURE, /* a reading of a step by somebody else, who doesn't see the first */
  PAWL_TRAINER_PLANT,   /* a fault, sealed until the hold of a step */
  PAWL_TRAINER_OPEN,    /* what was planted, at its hold */
  PAWL_TRAINER_WAIVE,   /* nobody else will look at a hold, and why */
} PawlTrainerAct;

typedef struct {
  PawlBench  *bench;
  const char *step;   /* id */
  const char *ask;    /* (nullable) id of a reading of it */
  const char *person; /* who acts, unless somebody else is chosen */
} PawlTrainerScene;

/* What is told once an act is done; all owned. */
typedef struct {
  char *title;
  char *large; /* (nullable): a code, two readings */
  char *text;
} PawlTold;

PawlTold *pawl_told_new  (const char *title, const char *large, const char *text);
void      pawl_told_free (PawlTold *self);

/* Makes the form. */
void      pawl_trainer_act_open   (PawlFieldForm *form, PawlTrainerAct act, const PawlTrainerScene *scene);
void      pawl_trainer_act_choose (PawlFieldForm *form, PawlTrainerAct act, const PawlTrainerScene *scene);
/**
 * pawl_trainer_act_take:
 *
 * Returns: (transfer full) (nullable): what is told, when it is done. NULL without @error: the form goes on, and has said with what.
 */
PawlTold *pawl_trainer_act_take   (PawlFieldForm *form, PawlTrainerAct act, const PawlTrainerScene *scene, GError **error);

/* (transfer full): "SD-3 sidedraft carburetor, 4711, bench 2: step 23"; @serial, @bench: may be "" */
char     *pawl_place_describe     (const char *unit, const char *serial, const char *bench, const char *number);

/* ---- between these files ---- */
void      pawl_measure_open   (PawlFieldForm *form, const PawlTrainerScene *scene);
void      pawl_measure_choose (PawlFieldForm *form, const PawlTrainerScene *scene);
PawlTold *pawl_measure_take   (PawlFieldForm *form, const PawlTrainerScene *scene, GError **error);
void      pawl_plant_open     (PawlFieldForm *form, const PawlTrainerScene *scene);
PawlTold *pawl_plant_take     (PawlFieldForm *form, const PawlTrainerScene *scene, GError **error);
void      pawl_unseal_open    (PawlFieldForm *form, const PawlTrainerScene *scene);
PawlTold *pawl_unseal_take    (PawlFieldForm *form, const PawlTrainerScene *scene, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlTold, pawl_told_free)

G_END_DECLS
