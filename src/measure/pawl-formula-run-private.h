/* A formula being worked out: intervals, values with their derivatives, and what a pass through the tree goes by. Base units throughout. */
#pragma once

#include "measure/pawl-formula-private.h"

G_BEGIN_DECLS

typedef struct {
  mpq_t low, high;
} Range;

typedef struct {
  guint  n;        /* inputs */
  Range  value;
  Range *slopes;   /* (array length=n) derivative by each input */
} Value;

typedef struct {
  const PawlFormula      *formula;
  const PawlFormulaInput *inputs;
  Range                  *at;         /* (array): what each input is taken to be */
  gboolean                is_central; /* at the middles of the inputs: here an uncertain zero is no divisor */
  gboolean                is_rounded;
  GError                **error;
} Run;

void     pawl_range_init       (Range *self);
void     pawl_range_clear      (Range *self);
void     pawl_range_set        (Range *self, const Range *other);
void     pawl_range_set_double (Range *self, double low, double high);
gboolean pawl_range_is_point   (const Range *self);
gboolean pawl_range_holds_zero (const Range *self);
void     pawl_range_add        (Range *self, const Range *other);
void     pawl_range_negate     (Range *self);
/* The narrowest that holds both. */
void     pawl_range_join       (Range *self, const Range *other);
void     pawl_range_multiply   (Range *self, const Range *other);
/* Zero is not in @self. */
void     pawl_range_invert     (Range *self);

/* (transfer full): zero, with @n derivatives of zero */
Value   *pawl_value_new        (guint n);
void     pawl_value_free       (Value *self);
/* The derivatives alone by @factor. */
void     pawl_value_scale      (Value *self, const Range *factor);
void     pawl_value_add        (Value *self, const Value *other);
void     pawl_value_negate     (Value *self);
/* @other is spent: its derivatives are no longer its own. */
void     pawl_value_multiply   (Value *self, Value *other);
/* Zero is not in @self. */
void     pawl_value_invert     (Value *self);
/* u² = Σ (∂f/∂xᵢ uᵢ)² (JCGM 100:2008, equation 10). At a kink the steeper side counts. */
double   pawl_value_get_uncertainty (const Value *value, const PawlFormulaInput *inputs);

/* Roots, angles and what else has no last digit: @value becomes that of it. FALSE, with the error of @run set, where it has none. */
gboolean pawl_run_apply_curve  (Run *run, const Node *node, Value *value);
/* (transfer full) (nullable): what @node comes to; NULL with the error of @run set. */
Value   *pawl_run_evaluate     (Run *run, const Node *node);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Value, pawl_value_free)

G_END_DECLS
