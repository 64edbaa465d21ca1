/* A job on its figure: how each part stands while a step is looked at. Pure: job and step in, one view a part out. One code for window and pictures. */
#pragma once

#include "drawing/pawl-scene.h"
#include "job/pawl-job.h"

G_BEGIN_DECLS

typedef struct {
  const PawlPart *part;       /* borrowed from the job's procedure */
  const PawlPart *carrier;    /* (nullable): the part that its sub-assembly is named after, when that is not itself */
  PawlPlace       place;
  gboolean        is_in_hand; /* the step fits it, takes it off or asks about it */
  PawlState       state;
  double          fraction;   /* 0 as drawn, 1 home */
} PawlPartView;

/* (transfer full) (element-type PawlPartView): illustrated parts in item order. @step: (nullable). */
GPtrArray *pawl_job_view_new          (PawlJob *job, const PawlStep *step);
/* (transfer full): NULL-terminated regions of the parts in hand, for the camera. */
char     **pawl_job_view_list_in_hand (GPtrArray *views);
/* Marks @parts (NULL-terminated ids) as if they were in hand as well. */
void       pawl_job_view_mark         (GPtrArray *views, char **parts);
/* Sets state, slide and item number of every part on the scene. */
void       pawl_job_view_apply        (GPtrArray *views, PawlScene *scene);
/* How far home its carrier is: 1 without one. */
double     pawl_part_view_get_carried (const PawlPartView *self, GPtrArray *views);
/* Puts one part at @fraction of its way home; what it is carried by is @carried of its own way. For moving pictures. */
void       pawl_part_view_place       (const PawlPartView *self, PawlScene *scene, double fraction, double carried);

/* Takes the pictures of outcomes off the scene: they stand beside their words, not among the parts. Once for each scene. */
void       pawl_view_hide_pictures    (PawlProcedure *procedure, PawlScene *scene);
/* The whole exploded view, every illustrated part with its item number. */
void       pawl_view_apply_exploded   (PawlProcedure *procedure, PawlScene *scene);

G_END_DECLS
