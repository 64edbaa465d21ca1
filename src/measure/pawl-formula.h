/*
 * Formulas of derived readings: "bore - piston", "(p1 - p2) / p1", "max(a, b, c) - min(a, b, c)". Infix, over named readings and constants
 * with units; exact as long as no root or angle function is called.
 *
 *   + - * / ^ (whole powers) and brackets; · × ÷ − are understood too. A name may hold hyphens and points (float-height, bore.top), so a minus between two names
 *   has spaces round it. A constant has its unit after it: 25.4 mm. pi.
 *   min max mean sum spread (largest less smallest) of one or more; abs sqrt sin cos tan asin acos atan of one;
 *   arc(radius, angle): length along the rim; rad(angle): its plain number.
 */
#pragma once

#include "measure/pawl-quantity.h"

G_BEGIN_DECLS

#define PAWL_FORMULA_ERROR (pawl_formula_error_quark ())
GQuark pawl_formula_error_quark (void);

typedef enum {
  PAWL_FORMULA_ERROR_SYNTAX,    /* "at character n: …" */
  PAWL_FORMULA_ERROR_NAME,      /* a name that is no reading */
  PAWL_FORMULA_ERROR_DIMENSION, /* lengths added to angles, or a result of another kind than its unit */
  PAWL_FORMULA_ERROR_VALUE,     /* no value with these readings: division by zero, the root of a negative number */
} PawlFormulaError;

typedef struct _PawlFormula PawlFormula; /* immutable, reference counted */

/* What stands for a name. */
typedef struct {
  PawlQuantity *quantity;             /* borrowed; an interval is carried as one */
  double        standard_uncertainty; /* of its middle, base units; 0 when unknown or exact */
} PawlFormulaInput;

/* @names: what may stand in it, NULL-terminated. */
PawlFormula        *pawl_formula_parse        (const char *text, const char * const *names, GError **error);
PawlFormula        *pawl_formula_ref          (PawlFormula *self);
void                pawl_formula_unref        (PawlFormula *self);
const char         *pawl_formula_get_text     (const PawlFormula *self);
/* NULL-terminated, each once, in the order that they first stand in: the order of the arrays below. */
const char * const *pawl_formula_peek_names   (const PawlFormula *self);
/**
 * pawl_formula_check:
 * @dimensions: (array): of each name
 * @unit: that the result shall be in
 *
 * Whether sums are of one kind and the result can be in @unit. Angles count as a kind of their own: an arc is arc(radius, angle).
 */
gboolean            pawl_formula_check        (const PawlFormula *self, const PawlDimension *dimensions, const PawlUnit *unit, GError **error);
/**
 * pawl_formula_evaluate:
 * @inputs: (array): for each name; of the dimensions that were checked
 * @standard_uncertainty: (out) (optional): of the result's middle, base units: the law of propagation of uncertainty, first order, uncorrelated
 *   inputs (JCGM 100:2008, 5.1.2); a reading that stands in several places counts once, with all its effect
 * @is_rounded: (out) (optional): a root or an angle function made it inexact: good to about 15 digits
 *
 * With intervals the result is an interval that holds every possible value. It is the narrowest one as long as each interval moves the result one
 * way only, which is looked for in up to 256 parts of them; else it may be a little wider, never narrower.
 * Returns: (transfer full) (nullable)
 */
PawlQuantity       *pawl_formula_evaluate     (const PawlFormula *self, const PawlFormulaInput *inputs, const PawlUnit *unit,
                                               double *standard_uncertainty, gboolean *is_rounded, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlFormula, pawl_formula_unref)

G_END_DECLS
