/* The readings page's state: one line for each characteristic. Pure. */
#pragma once

#include "app/pawl-own-unit.h"
#include "view/pawl-limits-scale.h"
#include "job/pawl-results.h"

G_BEGIN_DECLS

typedef struct {
  char    *id;         /* of the reading */
  char    *step;       /* id of its step, to go there */
  char    *name;       /* "Float height" */
  char    *conditions;
  char    *limits;     /* as printed in the source, and the source */
  char    *found;      /* "33.9 mm · 1.335 in"; "not taken" */
  char    *left;       /* the same; "not measured"; "" when it is only taken as found */
  char    *verdict;    /* in words; "" when there is none */
  char    *attempts;   /* "3 attempts"; "" when none or one */
  gboolean has_history; /* it has a number */
  gboolean has_bar;
  PawlLimitsScale scale;
} PawlReadingLine;

void       pawl_reading_line_free  (PawlReadingLine *self);
/* (transfer full) (element-type PawlReadingLine), procedure order. */
GPtrArray *pawl_readings_state_new (PawlJob *job, PawlLengths lengths);

G_END_DECLS
