/* Inside formulas. */
#pragma once

#include "measure/pawl-formula.h"

G_BEGIN_DECLS

/* No bench formula is longer or deeper; it also bounds what a hostile one may cost. */
#define PAWL_FORMULA_MAX_LENGTH 2000
#define PAWL_FORMULA_MAX_DEPTH  64
#define PAWL_FORMULA_MAX_POWER  8

typedef enum {
  NODE_CONSTANT,
  NODE_INPUT,
  NODE_NEGATE,
  NODE_ADD,
  NODE_SUBTRACT,
  NODE_MULTIPLY,
  NODE_DIVIDE,
  NODE_POWER,
  NODE_MIN,
  NODE_MAX,
  NODE_MEAN,
  NODE_SUM,
  NODE_SPREAD,
  NODE_ABS,
  NODE_SQRT,
  NODE_SIN,
  NODE_COS,
  NODE_TAN,
  NODE_ASIN,
  NODE_ACOS,
  NODE_ATAN,
  NODE_ARC,
  NODE_RAD,
} NodeKind;

typedef struct _Node Node;

struct _Node {
  NodeKind      kind;
  guint         place;     /* character in the text, from 1 */
  mpq_t         value;     /* constants: base units */
  PawlDimension dimension; /* constants */
  gboolean      is_rounded; /* constants: pi */
  guint         input;     /* inputs: index of the name */
  int           power;
  GPtrArray    *args;      /* (element-type Node) */
};

struct _PawlFormula {
  gatomicrefcount ref_count;
  char           *text;
  char          **names;
  guint           n_names;
  Node           *root;
};

Node       *pawl_formula_node_new  (NodeKind kind, guint place);
void        pawl_formula_node_free (Node *node);
/* The name of a function, or NULL. @least, @most: (out): arguments that it takes; 0: any number */
const char *pawl_formula_get_function (NodeKind kind, guint *least, guint *most);
gboolean    pawl_formula_fault     (GError **error, PawlFormulaError code, guint place, const char *format, ...) G_GNUC_PRINTF (4, 5);

G_END_DECLS
