/* The assignment of least total cost. */
#include <math.h>

#include "drawing/pawl-callouts-private.h"

/* Rows and columns are counted from 1 here; column 0 stands for the row that is being added. */
typedef struct {
  double *row_price, *column_price;
  guint  *taken_by; /* for each column, its row; 0: none */
  guint  *way;      /* for each column, the one before it on the shortest path */
  double *least;
  gboolean *is_done;
} Work;

/* One step of the shortest path: to the free column that is nearest in price. */
static guint
find_nearest (const Work *work, const double *costs, guint n_columns, guint from)
{
  guint row = work->taken_by[from], nearest = 0;
  double delta = INFINITY;

  for (guint j = 1; j <= n_columns; j++)
    {
      double reduced;

      if (work->is_done[j])
        continue;
      reduced = costs[(row - 1) * n_columns + j - 1] - work->row_price[row] - work->column_price[j];
      if (reduced < work->least[j])
        {
          work->least[j] = reduced;
          work->way[j] = from;
        }
      if (work->least[j] < delta)
        {
          delta = work->least[j];
          nearest = j;
        }
    }
  for (guint j = 0; j <= n_columns; j++)
    if (work->is_done[j])
      {
        work->row_price[work->taken_by[j]] += delta;
        work->column_price[j] -= delta;
      }
    else
      work->least[j] -= delta;
  return nearest;
}

static void
add_row (const Work *work, const double *costs, guint row, guint n_columns)
{
  guint at = 0;

  work->taken_by[0] = row;
  for (guint j = 0; j <= n_columns; j++)
    {
      work->least[j] = INFINITY;
      work->is_done[j] = FALSE;
    }
  do
    {
      work->is_done[at] = TRUE;
      at = find_nearest (work, costs, n_columns, at);
    }
  while (work->taken_by[at]);
  for (; at; at = work->way[at])
    work->taken_by[at] = work->taken_by[work->way[at]];
}

guint *
pawl_assign (const double *costs, guint n_rows, guint n_columns)
{
  g_autofree double *row_price = g_new0 (double, n_rows + 1), *column_price = g_new0 (double, n_columns + 1), *least = g_new (double, n_columns + 1);
  g_autofree guint *taken_by = g_new0 (guint, n_columns + 1), *way = g_new0 (guint, n_columns + 1);
  g_autofree gboolean *is_done = g_new (gboolean, n_columns + 1);
  const Work work = { row_price, column_price, taken_by, way, least, is_done };
  guint *columns = g_new0 (guint, n_rows + 1);

  g_return_val_if_fail (n_rows <= n_columns, columns);
  for (guint row = 1; row <= n_rows; row++)
    add_row (&work, costs, row, n_columns);
  for (guint j = 1; j <= n_columns; j++)
    if (taken_by[j])
      columns[taken_by[j] - 1] = j - 1;
  return columns;
}
