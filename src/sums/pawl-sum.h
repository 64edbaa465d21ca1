/*
 * Bench sums: what to bend, turn, shim, heat or set, with the working shown. Each is a line of a table: inputs with the kind of thing that they
 * are, answers as formulas, source, and where it holds. Pure; the command and the window both read the table.
 */
#pragma once

#include "measure/pawl-formula.h"
#include "measure/pawl-limits.h"
#include "sums/pawl-material.h"

G_BEGIN_DECLS

#define PAWL_SUM_ERROR (pawl_sum_error_quark ())
GQuark pawl_sum_error_quark (void);

typedef enum {
  PAWL_SUM_ERROR_MISSING,  /* an input that the sum can't do without */
  PAWL_SUM_ERROR_INPUT,    /* one that can't be understood, or is of the wrong kind; begins with its name */
  PAWL_SUM_ERROR_NO_ANSWER, /* understood, but there is none: the measurement is void, a divisor is zero */
} PawlSumError;

typedef enum {
  PAWL_SUM_QUANTITY,
  PAWL_SUM_LIMITS,
  PAWL_SUM_THREAD,   /* the name of a thread, or its pitch; stands for the pitch */
  PAWL_SUM_MATERIAL, /* "bronze" */
  PAWL_SUM_LIST,     /* "0.05 x4, 0.10, 0.25 mm": sizes, how many of each; "x any"; parted by ; where the comma is the decimal mark */
} PawlSumInputKind;

/* What an input can be at all. */
typedef enum {
  PAWL_SUM_ANY,            /* also below zero: a position, a difference */
  PAWL_SUM_ABOVE_ZERO,     /* a size */
  PAWL_SUM_NOT_BELOW_ZERO, /* an amount that may be none */
  PAWL_SUM_SHARE,          /* 0 to 100 % */
} PawlSumRange;

typedef struct {
  const char      *name;      /* "hinge-to-tang" */
  const char      *title;
  PawlSumInputKind kind;
  PawlSumRange     range;
  PawlDimension    dimension;
  const char      *fallback;  /* (nullable): what it is when nothing is said; "": the sum can do without it */
  const char      *example;
  const char      *from;      /* (nullable): the input before it, a material or a thread, that says it when nothing is typed */
  PawlMaterialConstant constant; /* which of the material's; a thread says its diameter */
} PawlSumInput;

typedef struct _PawlSum PawlSum; /* static */

const char         *pawl_sum_get_id       (const PawlSum *self);
const char         *pawl_sum_get_title    (const PawlSum *self);
const char         *pawl_sum_get_says     (const PawlSum *self); /* what it is for, which way is which */
const char         *pawl_sum_get_source   (const PawlSum *self);
const char         *pawl_sum_get_validity (const PawlSum *self); /* where it holds */
const PawlSumInput *pawl_sum_peek_inputs  (const PawlSum *self, guint *n);
/**
 * pawl_sum_peek_formula:
 * @n: from 0
 * @name: (out) (nullable): what it is called in later formulas
 * @title: (out): of the answer
 *
 * The answers that are formulas, in order: a procedure may have one as it stands for a derived reading, with its readings named as the inputs are.
 * Returns: (nullable): NULL: none more
 */
const char         *pawl_sum_peek_formula (const PawlSum *self, guint n, const char **name, const char **title);
const PawlSum      *pawl_sum_lookup       (const char *id); /* (nullable) */
const PawlSum      *pawl_sum_peek_nth     (guint n);        /* (nullable): the table, in its order */

typedef struct {
  char         *title;     /* "Move the tang by" */
  PawlQuantity *quantity;  /* (nullable) */
  gboolean      is_rounded;
  char         *text;      /* the answer as read: "0.08 mm (0.0031 in)", or words */
} PawlSumAnswer;

typedef struct {
  GPtrArray *answers; /* (element-type PawlSumAnswer) */
  GPtrArray *working; /* (element-type utf8): line by line */
} PawlSumResult;

/**
 * pawl_sum_solve:
 * @typed: (element-type utf8 utf8): input name to what was typed; others are passed over
 * @typing: (nullable): decimal mark, and the unit of bare numbers where its dimension is wanted
 *
 * Returns: (transfer full) (nullable)
 */
PawlSumResult *pawl_sum_solve       (const PawlSum *self, GHashTable *typed, const PawlTyping *typing, GError **error);
void           pawl_sum_result_free (PawlSumResult *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSumResult, pawl_sum_result_free)

G_END_DECLS
