/* Inside limits. */
#pragma once

#include "measure/pawl-limits.h"
#include "measure/pawl-quantity-private.h"

G_BEGIN_DECLS

struct _PawlLimits {
  gatomicrefcount ref_count;
  PawlLimitsKind  kind;
  char           *text;
  const PawlUnit *unit;        /* (nullable) */
  gboolean        mixes_systems;
  gboolean        is_class;    /* the text names a tolerance class, and not the limits */
  char            decimal_mark;
  PawlQuantity   *low;         /* (nullable) the five: limits of a new part, and how far wear may take it */
  PawlQuantity   *high;
  PawlQuantity   *nominal;
  PawlQuantity   *wear_low;
  PawlQuantity   *wear_high;
  char          **outcomes;    /* (nullable) */
  char          **acceptable;  /* (nullable) */
};

PawlLimits   *pawl_limits_new_empty      (PawlLimitsKind kind, char *text);
/* (nullable): the limit that decides: the wear limit where there is one, else that of a new part */
PawlQuantity *pawl_limits_peek_last_low  (const PawlLimits *self);
PawlQuantity *pawl_limits_peek_last_high (const PawlLimits *self);

G_END_DECLS
