#include "solids/pawl-solid-tree.h"

PawlSolidNode *
pawl_solid_node_new_group (PawlSolidDo act)
{
  PawlSolidNode *node = g_new0 (PawlSolidNode, 1);

  node->act = act;
  node->children = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_solid_node_free);
  return node;
}

PawlSolidNode *
pawl_solid_node_new_shape (PawlSolidDo act, PawlSolidShape *take_shape)
{
  PawlSolidNode *node = g_new0 (PawlSolidNode, 1);

  node->act = act;
  node->shape = take_shape;
  return node;
}

void
pawl_solid_node_free (PawlSolidNode *node)
{
  if (node == NULL)
    return;
  pawl_solid_shape_free (node->shape);
  g_clear_pointer (&node->children, g_ptr_array_unref);
  g_free (node);
}

static void
set_box (PawlSolidNode *node, PawlVec low, PawlVec high, PawlFlat sheet_low, PawlFlat sheet_high)
{
  node->low = low;
  node->high = high;
  node->sheet_low = sheet_low;
  node->sheet_high = sheet_high;
}

static void
widen_box (PawlSolidNode *node, const PawlSolidNode *by)
{
  set_box (node, vec (MIN (node->low.x, by->low.x), MIN (node->low.y, by->low.y), MIN (node->low.z, by->low.z)),
           vec (MAX (node->high.x, by->high.x), MAX (node->high.y, by->high.y), MAX (node->high.z, by->high.z)),
           (PawlFlat) { MIN (node->sheet_low.x, by->sheet_low.x), MIN (node->sheet_low.y, by->sheet_low.y) },
           (PawlFlat) { MAX (node->sheet_high.x, by->sheet_high.x), MAX (node->sheet_high.y, by->sheet_high.y) });
}

/* Fixes the view of every shape, and the boxes that let a question about a whole group be answered at once. */
void
pawl_solid_node_prepare (PawlSolidNode *node, const PawlSolidView *view)
{
  if (node->shape != NULL)
    {
      pawl_solid_shape_prepare (node->shape, view);
      set_box (node, node->shape->low, node->shape->high, node->shape->sheet_low, node->shape->sheet_high);
      return;
    }
  set_box (node, vec (INFINITY, INFINITY, INFINITY), vec (-INFINITY, -INFINITY, -INFINITY),
           (PawlFlat) { INFINITY, INFINITY }, (PawlFlat) { -INFINITY, -INFINITY });
  for (guint i = 0; i < node->children->len; i++)
    {
      PawlSolidNode *child = g_ptr_array_index (node->children, i);

      pawl_solid_node_prepare (child, view);
      if (child->act == PAWL_SOLID_ADD)
        widen_box (node, child);
    }
}

/* Adds every shape below @node to @shapes, borrowed, in the order of the file. */
void
pawl_solid_node_list (const PawlSolidNode *node, GPtrArray *shapes)
{
  if (node->shape != NULL)
    g_ptr_array_add (shapes, node->shape);
  for (guint i = 0; node->children != NULL && i < node->children->len; i++)
    pawl_solid_node_list (g_ptr_array_index (node->children, i), shapes);
}

/* Whether @p lies in the material. */
gboolean
pawl_solid_node_holds (const PawlSolidNode *node, PawlVec p)
{
  gboolean inside = FALSE;

  if (p.x < node->low.x || p.y < node->low.y || p.z < node->low.z || p.x > node->high.x || p.y > node->high.y || p.z > node->high.z)
    return FALSE;
  if (node->shape != NULL)
    return pawl_solid_shape_holds (node->shape, p);
  for (guint i = 0; i < node->children->len; i++)
    {
      const PawlSolidNode *child = g_ptr_array_index (node->children, i);

      if (inside != (child->act == PAWL_SOLID_ADD)) /* else the child can change nothing */
        {
          gboolean here = pawl_solid_node_holds (child, p);

          inside = child->act == PAWL_SOLID_ADD ? here : child->act == PAWL_SOLID_CUT ? !here : here;
        }
    }
  return inside;
}

static void
join (const PawlSolidSpans *a, const PawlSolidSpans *b, PawlSolidSpans *out)
{
  guint i = 0, j = 0;

  while (i < a->n || j < b->n)
    {
      PawlSolidSpan next = j == b->n || (i < a->n && a->at[i].from <= b->at[j].from) ? a->at[i++] : b->at[j++];
      PawlSolidSpan *last = out->n > 0 ? &out->at[out->n - 1] : NULL;

      if (last == NULL || next.from > last->to + 1e-6)
        pawl_solid_spans_add (out, next);
      else if (next.to > last->to)
        {
          last->to = next.to;
          last->leaves = next.leaves;
        }
    }
}

static void
cut (const PawlSolidSpans *a, const PawlSolidSpans *b, PawlSolidSpans *out)
{
  for (guint i = 0; i < a->n; i++)
    {
      PawlSolidSpan rest = a->at[i];

      for (guint j = 0; j < b->n && rest.from < rest.to; j++)
        {
          const PawlSolidSpan *gap = &b->at[j];

          if (gap->to <= rest.from || gap->from >= rest.to)
            continue;
          if (gap->from > rest.from)
            pawl_solid_spans_add (out, (PawlSolidSpan) { rest.from, gap->from, rest.enters, gap->enters });
          rest.from = gap->to;
          rest.enters = gap->leaves;
        }
      if (rest.from < rest.to)
        pawl_solid_spans_add (out, rest);
    }
}

static void
keep (const PawlSolidSpans *a, const PawlSolidSpans *b, PawlSolidSpans *out)
{
  for (guint i = 0; i < a->n; i++)
    for (guint j = 0; j < b->n; j++)
      {
        const PawlSolidSpan *p = &a->at[i], *q = &b->at[j];
        PawlSolidSpan both = {
          MAX (p->from, q->from), MIN (p->to, q->to),
          p->from > q->from ? p->enters : q->enters, p->to < q->to ? p->leaves : q->leaves,
        };

        if (both.from < both.to)
          pawl_solid_spans_add (out, both);
      }
}

static void sight_at (const PawlSolidNode *node, PawlVec origin, PawlFlat sheet, PawlSolidSpans *spans);

/* What @child does to @sum. */
static void
take_child (const PawlSolidNode *child, PawlVec origin, PawlFlat sheet, PawlSolidSpans *sum)
{
  PawlSolidSpans one, next;

  pawl_solid_spans_init (&one);
  sight_at (child, origin, sheet, &one);
  if (one.n > 0 || child->act == PAWL_SOLID_KEEP)
    {
      pawl_solid_spans_init (&next);
      (child->act == PAWL_SOLID_ADD ? join : child->act == PAWL_SOLID_CUT ? cut : keep) (sum, &one, &next);
      sum->n = 0;
      for (guint k = 0; k < next.n; k++)
        pawl_solid_spans_add (sum, next.at[k]);
      pawl_solid_spans_clear (&next);
    }
  pawl_solid_spans_clear (&one);
}

static void
sight_at (const PawlSolidNode *node, PawlVec origin, PawlFlat sheet, PawlSolidSpans *spans)
{
  if (sheet.x < node->sheet_low.x || sheet.y < node->sheet_low.y || sheet.x > node->sheet_high.x || sheet.y > node->sheet_high.y)
    return;
  if (node->shape != NULL)
    {
      pawl_solid_shape_sight (node->shape, origin, spans);
      return;
    }
  for (guint i = 0; i < node->children->len; i++)
    {
      const PawlSolidNode *child = g_ptr_array_index (node->children, i);

      if (spans->n > 0 || child->act == PAWL_SOLID_ADD)
        take_child (child, origin, sheet, spans);
    }
}

/**
 * pawl_solid_node_sight:
 * @origin: a point on the line of sight
 * @spans: empty; filled with the stretches of the line inside the material, farthest from the viewer first
 *
 * Intervals on one line joined, cut and kept: the usual way to look at solids that are built from simple ones. The node must
 * have been prepared for the view.
 */
void
pawl_solid_node_sight (const PawlSolidNode *node, PawlVec origin, PawlSolidSpans *spans)
{
  const PawlSolidNode *leaf = node;

  while (leaf->shape == NULL && leaf->children->len > 0)
    leaf = g_ptr_array_index (leaf->children, 0);
  if (leaf->shape != NULL)
    sight_at (node, origin, pawl_solid_view_point (&leaf->shape->view, origin), spans);
}

/* Whether more than @grace mm of material lies between @p and the viewer. */
gboolean
pawl_solid_node_hides (const PawlSolidNode *node, PawlVec p, double grace)
{
  PawlSolidSpans spans;
  gboolean hidden = FALSE;

  pawl_solid_spans_init (&spans);
  pawl_solid_node_sight (node, p, &spans);
  for (guint i = 0; i < spans.n; i++)
    if (spans.at[i].to - MAX (spans.at[i].from, 0.0) > grace && spans.at[i].to > grace)
      hidden = TRUE;
  pawl_solid_spans_clear (&spans);
  return hidden;
}
