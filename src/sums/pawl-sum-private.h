/* Inside bench sums. */
#pragma once

#include "sums/pawl-sum.h"

G_BEGIN_DECLS

#define PAWL_SUM_MAX_OUTPUTS 12
#define PAWL_SUM_MAX_INPUTS  12
#define PAWL_SUM_MAX_ORDERS  3
#define PAWL_SUM_MAX_ITEMS   100 /* of a list */

typedef enum { PAWL_SUM_ANY_MEASURES, PAWL_SUM_METRIC, PAWL_SUM_INCH } PawlSumMeasures;

/* One answer by a formula over the names of inputs and of answers before it. Left out when one of them is not given. */
typedef struct {
  const char *name;  /* (nullable): for later formulas */
  const char *title;
  const char *formula;
  const char *unit; /* a unit, or "=name": that of this input, "=name²": its square */
  gboolean    is_step; /* stands in the working, and is no answer */
  PawlSumMeasures measures; /* of the first input: left out for others */
} PawlSumOutput;

/* Two inputs, of which @less is the smaller. NULL: none more */
typedef struct {
  const char *less, *more;
  gboolean    may_be_equal;
} PawlSumOrder;

typedef struct {
  PawlQuantity *size;
  guint         count; /* 0: any number */
} PawlSumItem;

/* The inputs as understood. */
typedef struct {
  const PawlSum  *sum;
  PawlQuantity  **quantities; /* (array) (nullable) by input */
  PawlLimits    **limits;
  GPtrArray     **lists;      /* (element-type PawlSumItem) */
  PawlQuantity  **diameters;  /* (nullable) of a thread by name */
  const PawlMaterial **materials;
  PawlQuantity   *answers[PAWL_SUM_MAX_OUTPUTS]; /* (nullable) by output */
  PawlTyping      typing;
  PawlSumResult  *result;
} PawlSumRun;

typedef gboolean (*PawlSumSolve) (PawlSumRun *run, GError **error);

struct _PawlSum {
  const char   *id, *title, *says, *source, *validity;
  PawlSumInput  inputs[PAWL_SUM_MAX_INPUTS];
  PawlSumOrder  orders[PAWL_SUM_MAX_ORDERS];
  gboolean      wants_points; /* no intervals: it counts pieces or areas, which is no formula */
  PawlSumOutput outputs[PAWL_SUM_MAX_OUTPUTS];
  PawlSumSolve  check; /* (nullable): before the outputs, what no single input tells */
  PawlSumSolve  solve; /* (nullable): after them, for what is no formula */
};

extern const PawlSum pawl_sums[];
extern const guint   pawl_n_sums;

/* By name; must be an input of the sum, or the name of an output. (nullable) */
PawlQuantity *pawl_sum_run_get       (PawlSumRun *self, const char *name);
PawlLimits   *pawl_sum_run_get_limits (PawlSumRun *self, const char *name);
GPtrArray    *pawl_sum_run_get_list  (PawlSumRun *self, const char *name);
void          pawl_sum_run_work      (PawlSumRun *self, const char *format, ...) G_GNUC_PRINTF (2, 3);
/* @quantity: (transfer full) (nullable); @text: (transfer full) (nullable): @quantity as it reads */
void          pawl_sum_run_answer    (PawlSumRun *self, const char *title, PawlQuantity *quantity, gboolean is_rounded, char *text);
/* (transfer full): "0.08 mm (0.0031 in)" */
char         *pawl_sum_run_format    (PawlSumRun *self, const PawlQuantity *quantity);
/* (transfer full): @value, base units, in the unit of the input @like */
PawlQuantity *pawl_sum_run_make      (PawlSumRun *self, const mpq_t base, const char *like);

/* The sums that are no formula, each in a file of its own. */
gboolean      pawl_sum_solve_drill   (PawlSumRun *run, GError **error);
gboolean      pawl_sum_solve_stages  (PawlSumRun *run, GError **error);
gboolean      pawl_sum_solve_fit     (PawlSumRun *run, GError **error);
gboolean      pawl_sum_solve_shims   (PawlSumRun *run, GError **error);
gboolean      pawl_sum_solve_restack (PawlSumRun *run, GError **error);
gboolean      pawl_sum_solve_blades  (PawlSumRun *run, GError **error);
gboolean      pawl_sum_solve_lash    (PawlSumRun *run, GError **error);
gboolean      pawl_sum_solve_select  (PawlSumRun *run, GError **error);
gboolean      pawl_sum_solve_overlap (PawlSumRun *run, GError **error);
gboolean      pawl_sum_solve_torque  (PawlSumRun *run, GError **error);
gboolean      pawl_sum_check_plate   (PawlSumRun *run, GError **error);

G_END_DECLS
