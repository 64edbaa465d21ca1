/* Formulas: what they hold, and whether their sums are of one kind. */
#include "measure/pawl-formula-private.h"

G_DEFINE_QUARK (pawl-formula-error, pawl_formula_error)

PawlFormula *
pawl_formula_ref (PawlFormula *self)
{
  g_return_val_if_fail (self != NULL, NULL);
  g_atomic_ref_count_inc (&self->ref_count);
  return self;
}

void
pawl_formula_unref (PawlFormula *self)
{
  g_return_if_fail (self != NULL);
  if (!g_atomic_ref_count_dec (&self->ref_count))
    return;
  pawl_formula_node_free (self->root);
  g_strfreev (self->names);
  g_free (self->text);
  g_free (self);
}

const char *
pawl_formula_get_text (const PawlFormula *self)
{
  return self->text;
}

const char * const *
pawl_formula_peek_names (const PawlFormula *self)
{
  return (const char * const *) self->names;
}

/* ---- kinds: powers of length, mass, time, angle, temperature and current ---- */

enum { LENGTH, MASS, TIME, ANGLE, HEAT, CURRENT, N_POWERS };

typedef struct {
  int powers[N_POWERS];
  int n_points; /* of temperature: 1 a point on the scale, 0 a difference; any other number is no temperature at all */
} Kind;

static const Kind kinds[] = {
  [PAWL_DIMENSION_NONE] = { { 0 }, 0 },
  [PAWL_DIMENSION_COUNT] = { { 0 }, 0 },
  [PAWL_DIMENSION_LENGTH] = { { [LENGTH] = 1 }, 0 },
  [PAWL_DIMENSION_ANGLE] = { { [ANGLE] = 1 }, 0 },
  [PAWL_DIMENSION_TIME] = { { [TIME] = 1 }, 0 },
  [PAWL_DIMENSION_MASS] = { { [MASS] = 1 }, 0 },
  [PAWL_DIMENSION_FORCE] = { { [LENGTH] = 1, [MASS] = 1, [TIME] = -2 }, 0 },
  [PAWL_DIMENSION_TORQUE] = { { [LENGTH] = 2, [MASS] = 1, [TIME] = -2 }, 0 },
  [PAWL_DIMENSION_PRESSURE] = { { [LENGTH] = -1, [MASS] = 1, [TIME] = -2 }, 0 },
  [PAWL_DIMENSION_VOLUME] = { { [LENGTH] = 3 }, 0 },
  [PAWL_DIMENSION_RESISTANCE] = { { [LENGTH] = 2, [MASS] = 1, [TIME] = -3, [CURRENT] = -2 }, 0 },
  [PAWL_DIMENSION_CAPACITANCE] = { { [LENGTH] = -2, [MASS] = -1, [TIME] = 4, [CURRENT] = 2 }, 0 },
  [PAWL_DIMENSION_TEMPERATURE] = { { [HEAT] = 1 }, 1 },
  [PAWL_DIMENSION_TEMPERATURE_DIFFERENCE] = { { [HEAT] = 1 }, 0 },
  [PAWL_DIMENSION_STIFFNESS] = { { [MASS] = 1, [TIME] = -2 }, 0 },
  /* Not an angle by a time: its base is the revolution a minute, and nothing on a bench multiplies it by seconds. */
  [PAWL_DIMENSION_ROTATION_RATE] = { { [TIME] = -1 }, 0 },
  [PAWL_DIMENSION_SPEED] = { { [LENGTH] = 1, [TIME] = -1 }, 0 },
  [PAWL_DIMENSION_FLOW] = { { [LENGTH] = 3, [TIME] = -1 }, 0 },
  [PAWL_DIMENSION_AREA] = { { [LENGTH] = 2 }, 0 },
  [PAWL_DIMENSION_POWER] = { { [LENGTH] = 2, [MASS] = 1, [TIME] = -3 }, 0 },
  [PAWL_DIMENSION_VOLTAGE] = { { [LENGTH] = 2, [MASS] = 1, [TIME] = -3, [CURRENT] = -1 }, 0 },
  [PAWL_DIMENSION_CURRENT] = { { [CURRENT] = 1 }, 0 },
  [PAWL_DIMENSION_EXPANSION] = { { [HEAT] = -1 }, 0 },
};

typedef struct {
  const PawlDimension *dimensions;
  GError             **error;
} Check;

static gboolean find_kind (const Check *check, const Node *node, Kind *kind);

static gboolean
is_same (const Kind *a, const Kind *b)
{
  for (int i = 0; i < N_POWERS; i++)
    if (a->powers[i] != b->powers[i])
      return FALSE;
  return TRUE;
}

static gboolean
is_plain (const Kind *kind)
{
  return is_same (kind, &kinds[PAWL_DIMENSION_NONE]);
}

/* "a length", "an angle", or what a product of several is. */
static const char *
get_phrase (const Kind *kind)
{
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (is_same (kind, &kinds[i]) && kind->n_points == kinds[i].n_points)
      return pawl_dimension_get_phrase ((PawlDimension) i);
  return "a product of several kinds";
}

static gboolean
refuse (const Check *check, const Node *node, const char *what, const Kind *kind, const char *wanted)
{
  return pawl_formula_fault (check->error, PAWL_FORMULA_ERROR_DIMENSION, node->place, "%s is %s, and should be %s", what, get_phrase (kind), wanted);
}

/* All arguments are of one kind, which becomes that of the whole. */
static gboolean
find_common_kind (const Check *check, const Node *node, Kind *kind)
{
  if (!find_kind (check, node->args->pdata[0], kind))
    return FALSE;
  for (guint i = 1; i < node->args->len; i++)
    {
      const Node *arg = node->args->pdata[i];
      Kind other;

      if (!find_kind (check, arg, &other))
        return FALSE;
      if (!is_same (kind, &other))
        return pawl_formula_fault (check->error, PAWL_FORMULA_ERROR_DIMENSION, node->place, "%s and %s don't go together in one sum or comparison",
                                   get_phrase (kind), get_phrase (&other));
      if (node->kind == NODE_ADD || node->kind == NODE_SUM)
        kind->n_points += other.n_points;
      else if (node->kind == NODE_SUBTRACT)
        kind->n_points -= other.n_points;
      else if (kind->n_points != other.n_points)
        return pawl_formula_fault (check->error, PAWL_FORMULA_ERROR_DIMENSION, node->place, "a temperature and a difference of temperatures don't compare");
    }
  if (node->kind == NODE_SPREAD)
    kind->n_points = 0;
  if (kind->n_points != 0 && kind->n_points != 1)
    return pawl_formula_fault (check->error, PAWL_FORMULA_ERROR_DIMENSION, node->place, "two temperatures can't be added; one of them should be a difference");
  return TRUE;
}

static gboolean
find_product_kind (const Check *check, const Node *node, int sign, Kind *kind)
{
  Kind other;

  if (!find_kind (check, node->args->pdata[0], kind) || !find_kind (check, node->args->pdata[1], &other))
    return FALSE;
  for (int i = 0; i < N_POWERS; i++)
    kind->powers[i] += sign * other.powers[i];
  kind->n_points = 0;
  return TRUE;
}

static gboolean
find_angle_kind (const Check *check, const Node *node, Kind *kind)
{
  const Node *arg = node->args->pdata[node->args->len - 1];

  if (!find_kind (check, arg, kind))
    return FALSE;
  if (!is_same (kind, &kinds[PAWL_DIMENSION_ANGLE]))
    return refuse (check, arg, "this", kind, "an angle");
  *kind = kinds[PAWL_DIMENSION_NONE];
  return node->kind != NODE_ARC || find_kind (check, node->args->pdata[0], kind);
}

static gboolean
find_root_kind (const Check *check, const Node *node, Kind *kind)
{
  if (!find_kind (check, node->args->pdata[0], kind))
    return FALSE;
  for (int i = 0; i < N_POWERS; i++)
    {
      if (kind->powers[i] % 2 != 0)
        return refuse (check, node, "what the root is taken of", kind, "a square, as length × length is");
      kind->powers[i] /= 2;
    }
  return TRUE;
}

static gboolean
find_kind (const Check *check, const Node *node, Kind *kind)
{
  switch (node->kind)
    {
    case NODE_CONSTANT:
      *kind = kinds[node->dimension];
      return TRUE;
    case NODE_INPUT:
      *kind = kinds[check->dimensions[node->input]];
      return TRUE;
    case NODE_NEGATE: case NODE_ABS:
      return find_kind (check, node->args->pdata[0], kind);
    case NODE_ADD: case NODE_SUBTRACT: case NODE_MIN: case NODE_MAX: case NODE_MEAN: case NODE_SUM: case NODE_SPREAD:
      return find_common_kind (check, node, kind);
    case NODE_MULTIPLY:
      return find_product_kind (check, node, 1, kind);
    case NODE_DIVIDE:
      return find_product_kind (check, node, -1, kind);
    case NODE_POWER:
      if (!find_kind (check, node->args->pdata[0], kind))
        return FALSE;
      for (int i = 0; i < N_POWERS; i++)
        kind->powers[i] *= node->power;
      return TRUE;
    case NODE_SQRT:
      return find_root_kind (check, node, kind);
    case NODE_SIN: case NODE_COS: case NODE_TAN: case NODE_RAD: case NODE_ARC:
      return find_angle_kind (check, node, kind);
    case NODE_ASIN: case NODE_ACOS: case NODE_ATAN:
      if (!find_kind (check, node->args->pdata[0], kind))
        return FALSE;
      if (!is_plain (kind))
        return refuse (check, node->args->pdata[0], "this", kind, "a plain number");
      *kind = kinds[PAWL_DIMENSION_ANGLE];
      return TRUE;
    default:
      g_return_val_if_reached (FALSE);
    }
}

gboolean
pawl_formula_check (const PawlFormula *self, const PawlDimension *dimensions, const PawlUnit *unit, GError **error)
{
  Check check = { dimensions, error };
  const Kind *wanted = &kinds[pawl_unit_get_dimension (unit)];
  Kind kind;

  if (!find_kind (&check, self->root, &kind))
    return FALSE;
  if (is_same (&kind, wanted) && kind.n_points == wanted->n_points)
    return TRUE;
  g_set_error (error, PAWL_FORMULA_ERROR, PAWL_FORMULA_ERROR_DIMENSION, "“%s” gives %s, and should give %s", self->text, get_phrase (&kind),
               pawl_dimension_get_phrase (pawl_unit_get_dimension (unit)));
  return FALSE;
}
