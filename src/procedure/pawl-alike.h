/*
 * Parts that look alike, and the dimension that tells them apart. They are the candidates of a fit of the kind which, and those of an <alike>
 * in the parts list. Pure functions of the procedure.
 */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

/* A part, and one that it may be taken for. All borrowed from the procedure. */
typedef struct {
  const PawlRule      *rule;  /* of kind which: its sketch shows the two to scale */
  const PawlCandidate *part, *other;
} PawlAlike;

/* (transfer full) (element-type PawlAlike): what the part may be taken for in @variant ("" for none), each other part once. */
GPtrArray *pawl_alike_list       (PawlProcedure *procedure, const char *variant, const char *part_id);
/* Whether another part is in such a list. */
gboolean   pawl_alike_list_has   (GPtrArray *list, const char *part_id);
/* How much larger the part is than the other in that dimension, mm; below 0: smaller. */
double     pawl_alike_get_difference_mm (const PawlAlike *self);

/* How to tell: what the eye makes of the difference with the two side by side. Thresholds as in fit/pawl-difference.h. */
typedef enum {
  PAWL_ALIKE_BY_MARK,  /* nothing differs but a mark */
  PAWL_ALIKE_BY_GAUGE, /* too little for the eye */
  PAWL_ALIKE_BY_RULE,  /* side by side, or with a rule; not by eye */
  PAWL_ALIKE_BY_EYE,
} PawlAlikeBy;

PawlAlikeBy pawl_alike_get_by    (const PawlAlike *self);
/* (transfer full): "length under the head 22.2 mm, 9.5 mm more than “Bowl screw, short”: seen by eye". */
char      *pawl_alike_describe   (const PawlAlike *self);

G_END_DECLS
