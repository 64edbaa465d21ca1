/* The area of a solid on the sheet, and its flat tones: lines of sight on a grid, the borders between found by halving. */
#include "solids/pawl-solid-drawing.h"

#include <string.h>

/* Light from the upper left, before the object. Tones by the cosine between the light and the face. */
#define LIGHT_FROM { -0.30, -0.50, 0.81 }
#define PAPER_ABOVE 0.62
#define LIGHT_ABOVE 0.36

/* How far a tone of a front goes on under the next darker one, in steps of the grid. */
#define LAP 2

typedef struct {
  const PawlSolidSubject *subject;
  PawlFlat                low;
  double                  step;
  guint                   n_x, n_y;
  gint8                  *tone; /* n_x by n_y */
  guint8                 *near; /* n_x by n_y, a bit for each tone that is found within LAP; NULL: every bit set */
} Grid;

static PawlTone
tone_of_face (const PawlSolidView *view, const PawlSolidShape *shape, PawlVec p)
{
  const PawlVec light = LIGHT_FROM;
  PawlVec n = pawl_solid_shape_normal (shape, p);
  double cosine;

  if (shape->hatch.is_section)
    return PAWL_TONE_PAPER; /* its hatching says what it is */
  if (vec_dot (n, view->toward) < 0.0)
    n = vec_scale (n, -1);
  cosine = vec_dot (n, vec_unit (light));
  return (cosine > PAPER_ABOVE ? PAWL_TONE_PAPER : cosine > LIGHT_ABOVE ? PAWL_TONE_LIGHT : PAWL_TONE_MIDDLE)
         + (shape->is_cavity ? 1 : 0);
}

/* Whether a part that may stand before the subject does so at @p or as near as the edge of that part's outline, which is as
   wide as its stroke: else the front would paint over half of it. */
static gboolean
is_behind (const PawlSolidSubject *subject, PawlVec p)
{
  for (guint k = 0; k < 9; k++)
    {
      double r = k == 0 ? 0.0 : 0.5 * PAWL_SOLID_WIDE / subject->view->scale;
      PawlVec near = vec_step (vec_step (p, r * cos (G_PI * k / 4.0), subject->view->right), r * sin (G_PI * k / 4.0), subject->view->up);

      for (guint i = 0; i < subject->before->len; i++)
        if (pawl_solid_node_hides (g_ptr_array_index (subject->before, i), near, 0.1))
          return TRUE;
    }
  return FALSE;
}

/**
 * pawl_solid_subject_face:
 * @p: (out): where the line of sight through @sheet meets the subject
 *
 * Returns: (transfer none) (nullable): the shape whose surface the viewer sees there; NULL where there is nothing of the subject.
 */
const PawlSolidShape *
pawl_solid_subject_face (const PawlSolidSubject *subject, PawlFlat sheet, PawlVec *p)
{
  PawlVec origin = pawl_solid_view_lift (subject->view, sheet);
  const PawlSolidShape *shape = NULL;
  PawlSolidSpans spans;

  pawl_solid_spans_init (&spans);
  pawl_solid_node_sight (subject->node, origin, &spans);
  if (spans.n > 0)
    {
      const PawlSolidSpan *nearest = &spans.at[spans.n - 1];

      *p = vec_step (origin, nearest->to, subject->view->toward);
      if (subject->before == NULL || !(nearest->leaves->is_cavity || is_behind (subject, *p)))
        shape = nearest->leaves;
    }
  pawl_solid_spans_clear (&spans);
  return shape;
}

static PawlTone
tone_at (const PawlSolidSubject *subject, double x, double y)
{
  PawlVec p;
  const PawlSolidShape *shape = pawl_solid_subject_face (subject, (PawlFlat) { x, y }, &p);

  return shape != NULL ? tone_of_face (subject->view, shape, p) : PAWL_TONE_NONE;
}

/* The place between two neighbours of the grid where the tone passes @least. */
static PawlFlat
find_border (const Grid *grid, PawlFlat a, PawlFlat b, gboolean a_in, int least)
{
  for (guint k = 0; k < 6; k++)
    {
      PawlFlat middle = { (a.x + b.x) / 2.0, (a.y + b.y) / 2.0 };

      if ((tone_at (grid->subject, middle.x, middle.y) >= least) == a_in)
        a = middle;
      else
        b = middle;
    }
  return (PawlFlat) { (a.x + b.x) / 2.0, (a.y + b.y) / 2.0 };
}

static PawlFlat
grid_point (const Grid *grid, guint i, guint j)
{
  return (PawlFlat) { grid->low.x + i * grid->step, grid->low.y + j * grid->step };
}

static gboolean
is_as_dark (const Grid *grid, guint i, guint j, int least)
{
  return grid->tone[j * grid->n_x + i] >= least;
}

/* A front ends in the middle of faces that the whole has drawn already. Half-covered pixels there would let a lighter tone through
   that lies under a darker one; so each tone of a front goes only a little way under the next. */
static gboolean
grid_in (const Grid *grid, guint i, guint j, int least)
{
  return is_as_dark (grid, i, j, least) && (grid->near == NULL || (grid->near[j * grid->n_x + i] >> least & 1) != 0);
}

static PawlFlat
edge_border (const Grid *grid, guint i, guint j, gboolean down, int least)
{
  guint k = down ? i : i + 1, l = down ? j + 1 : j;
  PawlFlat a = grid_point (grid, i, j), b = grid_point (grid, k, l);

  if (is_as_dark (grid, i, j, least) && is_as_dark (grid, k, l, least))
    return (PawlFlat) { (a.x + b.x) / 2.0, (a.y + b.y) / 2.0 }; /* under a darker tone: anywhere will do */
  return find_border (grid, a, b, is_as_dark (grid, i, j, least), least);
}

static void
add_piece (GPtrArray *lines, PawlFlat a, PawlFlat b)
{
  GArray *line = g_array_new (FALSE, FALSE, sizeof (PawlFlat));

  g_array_append_val (line, a);
  g_array_append_val (line, b);
  g_ptr_array_add (lines, line);
}

static void
trace_cell (const Grid *grid, guint i, guint j, int least, GPtrArray *lines)
{
  gboolean a = grid_in (grid, i, j, least), b = grid_in (grid, i + 1, j, least);
  gboolean c = grid_in (grid, i + 1, j + 1, least), d = grid_in (grid, i, j + 1, least);
  PawlFlat border[4];
  guint n = 0;

  if (a != b)
    border[n++] = edge_border (grid, i, j, FALSE, least);
  if (b != c)
    border[n++] = edge_border (grid, i + 1, j, TRUE, least);
  if (c != d)
    border[n++] = edge_border (grid, i, j + 1, FALSE, least);
  if (d != a)
    border[n++] = edge_border (grid, i, j, TRUE, least);
  for (guint k = 0; k + 1 < n; k += 2)
    add_piece (lines, border[k], border[k + 1]);
}

static gboolean
set_grid (Grid *grid)
{
  g_autoptr(GPtrArray) shapes = g_ptr_array_new ();
  PawlFlat high = { -INFINITY, -INFINITY };

  grid->low = (PawlFlat) { INFINITY, INFINITY };
  pawl_solid_node_list (grid->subject->node, shapes);
  for (guint i = 0; i < shapes->len; i++)
    {
      const PawlSolidShape *shape = g_ptr_array_index (shapes, i);

      grid->low = (PawlFlat) { MIN (grid->low.x, shape->sheet_low.x), MIN (grid->low.y, shape->sheet_low.y) };
      high = (PawlFlat) { MAX (high.x, shape->sheet_high.x), MAX (high.y, shape->sheet_high.y) };
    }
  if (shapes->len == 0)
    return FALSE;
  grid->step = CLAMP (MAX (high.x - grid->low.x, high.y - grid->low.y) / 150.0, 0.12, 0.4);
  grid->low = (PawlFlat) { grid->low.x - grid->step * 1.37, grid->low.y - grid->step * 1.37 };
  grid->n_x = (guint) ceil ((high.x - grid->low.x) / grid->step) + 3;
  grid->n_y = (guint) ceil ((high.y - grid->low.y) / grid->step) + 3;
  grid->tone = g_new0 (gint8, (gsize) grid->n_x * grid->n_y);
  for (guint j = 0; j < grid->n_y; j++)
    for (guint i = 0; i < grid->n_x; i++)
      {
        PawlFlat p = grid_point (grid, i, j);

        grid->tone[j * grid->n_x + i] = (gint8) tone_at (grid->subject, p.x, p.y);
      }
  return TRUE;
}

static guint8 *
dup_near (const Grid *grid)
{
  guint8 *near = g_new0 (guint8, (gsize) grid->n_x * grid->n_y);

  for (guint j = 0; j < grid->n_y; j++)
    for (guint i = 0; i < grid->n_x; i++)
      for (guint l = j - MIN (j, LAP); l <= MIN (j + LAP, grid->n_y - 1); l++)
        for (guint k = i - MIN (i, LAP); k <= MIN (i + LAP, grid->n_x - 1); k++)
          if (grid->tone[l * grid->n_x + k] != PAWL_TONE_NONE)
            near[j * grid->n_x + i] |= 1u << grid->tone[l * grid->n_x + k];
  return near;
}

/* Adds the rings round each tone, not yet joined, to @area. */
void
pawl_solid_tones_draw (const PawlSolidSubject *subject, GPtrArray *area[4])
{
  Grid grid = { .subject = subject };

  if (!set_grid (&grid))
    return;
  if (subject->before != NULL)
    grid.near = dup_near (&grid);
  for (int least = PAWL_TONE_PAPER; least <= PAWL_TONE_DARK; least++)
    for (guint j = 0; j + 1 < grid.n_y; j++)
      for (guint i = 0; i + 1 < grid.n_x; i++)
        trace_cell (&grid, i, j, least, area[least]);
  g_free (grid.near);
  g_free (grid.tone);
}
