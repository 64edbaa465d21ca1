#include "procedure/pawl-mirror.h"

#include "procedure/pawl-kit.h"
#include "procedure/pawl-order.h"

static void
mirror_step_free (PawlMirrorStep *self)
{
  g_ptr_array_unref (self->parts);
  g_ptr_array_unref (self->first);
  g_free (self->warning);
  g_free (self);
}

gboolean
pawl_mirror_is_stated (PawlProcedure *procedure, const char *variant)
{
  GPtrArray *steps = pawl_procedure_get_steps (procedure);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = steps->pdata[i];

      if (step->removes[0] != NULL && pawl_variant_matches (step->variant, variant))
        return TRUE;
    }
  return FALSE;
}

/* ---- the order ---- */

/* A step that fits something; it is free to be turned round once all that stands on it is off. */
typedef struct {
  const PawlStep *step;
  GArray         *bases;  /* (element-type guint): nodes that it stands on */
  guint           n_open; /* nodes that stand on it and are not off yet */
  gboolean        is_off;
} Node;

static void
node_clear (Node *self)
{
  g_array_unref (self->bases);
}

static void
add_nodes (GArray *nodes, PawlProcedure *procedure, const char *variant)
{
  GPtrArray *steps = pawl_procedure_get_steps (procedure);

  for (guint i = 0; i < steps->len; i++)
    {
      Node node = { .step = steps->pdata[i] };

      if (node.step->installs[0] == NULL || !pawl_variant_matches (node.step->variant, variant))
        continue;
      node.bases = g_array_new (FALSE, FALSE, sizeof (guint));
      g_array_append_val (nodes, node);
    }
}

static void
join_nodes (GArray *nodes, PawlProcedure *procedure)
{
  g_autoptr(GHashTable) index = g_hash_table_new (NULL, NULL); /* PawlStep → position + 1 */

  for (guint i = 0; i < nodes->len; i++)
    g_hash_table_insert (index, (gpointer) g_array_index (nodes, Node, i).step, GUINT_TO_POINTER (i + 1));
  for (guint i = 0; i < nodes->len; i++)
    {
      Node *node = &g_array_index (nodes, Node, i);
      g_autoptr(GPtrArray) followers = pawl_order_list_followers (procedure, node->step);

      for (guint j = 0; j < followers->len; j++)
        {
          guint follower = GPOINTER_TO_UINT (g_hash_table_lookup (index, followers->pdata[j]));

          if (follower == 0)
            continue;
          g_array_append_val (g_array_index (nodes, Node, follower - 1).bases, i);
          node->n_open++;
        }
    }
}

/* The last one in the file that nothing stands on any more; in a file whose needs go round in a circle, simply the last. */
static Node *
find_next (GArray *nodes)
{
  Node *last = NULL;

  for (guint i = nodes->len; i > 0; i--)
    {
      Node *node = &g_array_index (nodes, Node, i - 1);

      if (node->is_off)
        continue;
      if (node->n_open == 0)
        return node;
      if (last == NULL)
        last = node;
    }
  return last;
}

static void
take_off (GArray *nodes, Node *node)
{
  node->is_off = TRUE;
  for (guint i = 0; i < node->bases->len; i++)
    g_array_index (nodes, Node, g_array_index (node->bases, guint, i)).n_open--;
}

/* ---- one step ---- */

static char *
describe_warning (const PawlStep *step, GPtrArray *parts)
{
  g_autoptr(GString) text = g_string_new (step->cant_undo);

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPart *part = parts->pdata[i];

      if (part->is_one_way)
        g_string_append_printf (text, "%s“%s” is spoilt by removal", text->len > 0 ? "; " : "", part->name);
    }
  return text->len > 0 ? g_strdup (text->str) : NULL;
}

/* What it takes to loosen a screw doesn't tell what it was tightened to (common practice, no source). */
static gboolean
is_torque (const PawlReading *reading)
{
  const PawlUnit *unit = reading->limits != NULL ? pawl_limits_get_unit (reading->limits) : NULL;

  return unit != NULL && pawl_unit_get_dimension (unit) == PAWL_DIMENSION_TORQUE;
}

static gboolean
is_wanted_before (const PawlAsk *ask, const char *variant)
{
  if (!pawl_variant_matches (ask->variant, variant))
    return FALSE;
  if (ask->kind == PAWL_ASK_READING)
    return ask->reading->derived == NULL && ask->donor == NULL && !is_torque (ask->reading);
  return ask->kind == PAWL_ASK_FIT && ask->rule->is_as_found;
}

static PawlMirrorStep *
turn_round (PawlProcedure *procedure, const PawlStep *step, const char *variant, GHashTable *off)
{
  PawlMirrorStep *self = g_new0 (PawlMirrorStep, 1);

  self->step = step;
  self->parts = g_ptr_array_new ();
  self->first = g_ptr_array_new ();
  for (guint i = g_strv_length (step->installs); i > 0; i--)
    {
      const PawlPart *part = pawl_procedure_lookup_part (procedure, step->installs[i - 1]);

      if (part != NULL && g_hash_table_add (off, part->id))
        g_ptr_array_add (self->parts, (gpointer) part);
    }
  for (guint i = 0; i < step->asks->len; i++)
    if (is_wanted_before (step->asks->pdata[i], variant))
      g_ptr_array_add (self->first, step->asks->pdata[i]);
  self->warning = describe_warning (step, self->parts);
  return self;
}

GPtrArray *
pawl_mirror_list (PawlProcedure *procedure, const char *variant)
{
  g_autoptr(GArray) nodes = g_array_new (FALSE, FALSE, sizeof (Node));
  g_autoptr(GHashTable) off = g_hash_table_new (g_str_hash, g_str_equal);
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify) mirror_step_free);
  Node *node;

  g_array_set_clear_func (nodes, (GDestroyNotify) node_clear);
  add_nodes (nodes, procedure, variant);
  join_nodes (nodes, procedure);
  while ((node = find_next (nodes)) != NULL)
    {
      PawlMirrorStep *step = turn_round (procedure, node->step, variant, off);

      take_off (nodes, node);
      if (step->parts->len > 0)
        g_ptr_array_add (list, step);
      else
        mirror_step_free (step);
    }
  return list;
}
