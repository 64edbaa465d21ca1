/* Chain lines between the parts that share an axis, stopping clear of every part. */
#include "solids/pawl-solid-axes-private.h"

#define CLEAR_MM 1.6   /* between the end of a line and a part */
#define STEP_MM 0.5
#define SHORTEST_MM 2.5

/* Whether any of the part's material lies near the line, square to it at @p. */
static gboolean
is_near (const PawlSolidNode *node, PawlVec p, PawlVec along)
{
  static const double radius[] = { 0.0, 1.2, 2.4, 3.6, 5.2, 6.8 };
  PawlVec side = vec_unit (fabs (along.x) > 0.5 ? vec_cross (along, vec (0, 0, 1)) : vec_cross (along, vec (1, 0, 0)));
  PawlVec other = vec_cross (along, side);

  for (guint i = 0; i < G_N_ELEMENTS (radius); i++)
    for (guint k = 0; k < 12; k++)
      {
        double c = radius[i] * cos (G_PI * k / 6.0), s = radius[i] * sin (G_PI * k / 6.0);

        if (pawl_solid_node_holds (node, vec_add (p, vec_add (vec_scale (side, c), vec_scale (other, s)))))
          return TRUE;
      }
  return FALSE;
}

/* From where to where the drawn part reaches along the line through @at: only what lies near the line, if anything does, so
   that the line goes down to the hole that it is for. */
static void
part_reach (const PawlSolidPart *part, PawlVec at, PawlVec along, double *low, double *high)
{
  PawlVec offset = pawl_solid_part_offset (part), origin = vec_sub (at, offset);
  double base = vec_dot (origin, along), shift = vec_dot (offset, along), first = INFINITY, last = -INFINITY;

  *low = MIN (vec_dot (part->node->low, along), vec_dot (part->node->high, along));
  *high = MAX (vec_dot (part->node->low, along), vec_dot (part->node->high, along));
  for (double t = *low; t <= *high; t += STEP_MM)
    if (is_near (part->node, vec_step (origin, t - base, along), along))
      {
        first = MIN (first, t);
        last = t;
      }
  if (first <= last)
    {
      *low = first;
      *high = last;
    }
  *low += shift;
  *high += shift;
}

/* Whether @p must stay clear of @part: it stands before @p, or, unless it is drawn in its seat or is one of the parts that
   the axis is for, is anywhere on the line of sight. */
static gboolean
must_clear (const PawlSolidPart *part, const PawlSolidAxis *axis, const PawlVec *toward, PawlVec p)
{
  gboolean own = part->legs->len == 0 || g_ptr_array_find (axis->parts, part, NULL);

  return pawl_solid_node_hides (part->node, own ? p : vec_step (p, -1e4, *toward), 0.3);
}

/* Whether a line of @axis may not be drawn at @p, nor a little beside it on the sheet. */
static gboolean
is_covered (const PawlSolids *solids, const PawlSolidAxis *axis, PawlVec p)
{
  static const double aside[5][2] = { { 0, 0 }, { 1, 0 }, { -1, 0 }, { 0, 1 }, { 0, -1 } };

  for (guint i = 0; i < solids->parts->len; i++)
    {
      const PawlSolidPart *part = g_ptr_array_index (solids->parts, i);
      PawlVec q = vec_sub (p, pawl_solid_part_offset (part));

      for (guint k = 0; k < G_N_ELEMENTS (aside); k++)
        {
          PawlVec near = vec_step (vec_step (q, 0.8 * aside[k][0], solids->view.right), 0.8 * aside[k][1], solids->view.up);

          if (must_clear (part, axis, &solids->view.toward, near))
            return TRUE;
        }
    }
  return FALSE;
}

static void
add_line (const PawlSolids *solids, PawlVec a, PawlVec b, GPtrArray *lines)
{
  PawlFlat ends[2] = { pawl_solid_view_point (&solids->view, a), pawl_solid_view_point (&solids->view, b) };
  GArray *line;

  if (hypot (ends[0].x - ends[1].x, ends[0].y - ends[1].y) < SHORTEST_MM)
    return;
  line = g_array_new (FALSE, FALSE, sizeof (PawlFlat));
  g_array_append_vals (line, ends, 2);
  g_ptr_array_add (lines, line);
}

/* The stretches of the line from @a to @b that no part covers. */
static void
add_clear (const PawlSolids *solids, const PawlSolidAxis *axis, PawlVec a, PawlVec b, GPtrArray *lines)
{
  guint n = (guint) MAX (1.0, ceil (vec_length (vec_sub (b, a)) / STEP_MM)), from = 0;
  gboolean open = FALSE;

  for (guint i = 0; i <= n; i++)
    {
      gboolean covered = is_covered (solids, axis, vec_between (a, b, (double) i / n));

      if (!covered && !open)
        from = i;
      if ((covered || i == n) && open)
        add_line (solids, vec_between (a, b, (double) from / n), vec_between (a, b, (double) (covered ? i - 1 : i) / n), lines);
      open = !covered;
    }
}

static GPtrArray *
lines_to (GPtrArray *guides, const PawlSolidPart *part)
{
  PawlSolidGuide *guide;

  for (guint i = 0; i < guides->len; i++)
    if (((PawlSolidGuide *) g_ptr_array_index (guides, i))->part == part)
      return ((PawlSolidGuide *) g_ptr_array_index (guides, i))->lines;
  guide = g_new (PawlSolidGuide, 1);
  guide->part = part;
  guide->lines = pawl_solid_lines_new ();
  g_ptr_array_add (guides, guide);
  return guide->lines;
}

static void
add_axis (const PawlSolids *solids, const PawlSolidAxis *axis, GPtrArray *guides)
{
  for (guint i = 0; i < axis->at->len; i++)
    {
      PawlVec at = g_array_index (axis->at, PawlVec, i);
      double base = vec_dot (at, axis->along), from = base + axis->start + 0.5;

      for (guint k = 0; k < axis->parts->len; k++)
        {
          const PawlSolidPart *part = g_ptr_array_index (axis->parts, k);
          double low, high;

          part_reach (part, at, axis->along, &low, &high);
          if (low - CLEAR_MM > from)
            add_clear (solids, axis, vec_step (at, from - base, axis->along), vec_step (at, low - CLEAR_MM - base, axis->along),
                       lines_to (guides, part));
          from = high + CLEAR_MM;
        }
    }
  for (guint i = 0; i + 1 < axis->path->len; i++)
    add_clear (solids, axis, g_array_index (axis->path, PawlVec, i), g_array_index (axis->path, PawlVec, i + 1),
               lines_to (guides, g_ptr_array_index (axis->parts, 0)));
}

static void
guide_free (gpointer data)
{
  PawlSolidGuide *guide = data;

  g_ptr_array_unref (guide->lines);
  g_free (guide);
}

/* Returns: (transfer full) (element-type PawlSolidGuide): one for each part that a line leads to, in the order of the axes. */
GPtrArray *
pawl_solids_guides (const PawlSolids *solids)
{
  GPtrArray *guides = g_ptr_array_new_with_free_func (guide_free);

  for (guint i = 0; i < solids->axes->len; i++)
    add_axis (solids, g_ptr_array_index (solids->axes, i), guides);
  return guides;
}
