#include "report/pawl-flow-private.h"

/* A line that has found its place in a row. */
typedef struct {
  double   x, y; /* from the upper left corner of the row */
  guint    cell;
  PawlLine line;
} Placed;

struct _PawlRow {
  double       height;
  PawlRowStyle style;
  GArray      *placed; /* (element-type Placed) */
};

typedef struct {
  PawlRow *row; /* borrowed from the flow */
  double   y;
} RowOnPage;

struct _PawlFlow {
  PawlPageFrame frame;
  PangoContext *context;
  GPtrArray    *rows;     /* owns every row */
  GPtrArray    *pages;    /* (element-type GArray of RowOnPage) */
  GPtrArray    *pending;  /* rows that wait for the one they are kept with; borrowed */
  PawlRow      *repeated; /* (nullable) borrowed */
  double        y;        /* next free place on the last page */
  guint         n_paragraphs;
  gboolean      is_tight, is_together;
};

static void
clear_placed (gpointer data)
{
  Placed *placed = data;

  g_clear_object (&placed->line.layout);
  if (placed->line.art)
    g_rc_box_release_full (placed->line.art, (GDestroyNotify) pawl_art_clear);
}

static PawlRow *
row_new (PawlFlow *self, const PawlRowStyle *style)
{
  PawlRow *row = g_new0 (PawlRow, 1);

  row->style = *style;
  row->placed = g_array_new (FALSE, TRUE, sizeof (Placed));
  g_array_set_clear_func (row->placed, clear_placed);
  g_ptr_array_add (self->rows, row);
  return row;
}

static void
row_free (gpointer data)
{
  PawlRow *row = data;

  g_array_unref (row->placed);
  g_free (row);
}

static void
page_free (gpointer data)
{
  g_array_unref (data);
}

PawlFlow *
pawl_flow_new (const PawlPageFrame *frame)
{
  PawlFlow *self = g_new0 (PawlFlow, 1);

  self->frame = *frame;
  self->context = pawl_lettering_new_context ();
  self->rows = g_ptr_array_new_with_free_func (row_free);
  self->pages = g_ptr_array_new_with_free_func (page_free);
  self->pending = g_ptr_array_new ();
  g_ptr_array_add (self->pages, g_array_new (FALSE, TRUE, sizeof (RowOnPage)));
  self->y = frame->top;
  return self;
}

void
pawl_flow_free (PawlFlow *self)
{
  if (!self)
    return;
  g_ptr_array_unref (self->pending);
  g_ptr_array_unref (self->pages);
  g_ptr_array_unref (self->rows);
  g_object_unref (self->context);
  g_free (self);
}

PangoContext *
pawl_flow_get_context (PawlFlow *self)
{
  return self->context;
}

double
pawl_flow_get_width (PawlFlow *self)
{
  return self->frame.right - self->frame.left;
}

double
pawl_flow_get_height (PawlFlow *self)
{
  return self->frame.bottom - self->frame.top;
}

static GArray *
last_page (PawlFlow *self)
{
  return g_ptr_array_index (self->pages, self->pages->len - 1);
}

double
pawl_flow_get_room (PawlFlow *self)
{
  double pending = 0;

  for (guint i = 0; i < self->pending->len; i++)
    {
      const PawlRow *row = g_ptr_array_index (self->pending, i);

      pending += row->style.space_before + row->height;
    }
  return self->frame.bottom - self->y - pending;
}

static void
put_row (PawlFlow *self, PawlRow *row)
{
  GArray *page = last_page (self);
  RowOnPage on_page = { .row = row };

  if (page->len > 0)
    self->y += row->style.space_before;
  on_page.y = self->y;
  g_array_append_val (page, on_page);
  self->y += row->height;
}

static void
begin_page (PawlFlow *self)
{
  g_ptr_array_add (self->pages, g_array_new (FALSE, TRUE, sizeof (RowOnPage)));
  self->y = self->frame.top;
  if (self->repeated)
    put_row (self, self->repeated);
}

static double
height_of_pending (PawlFlow *self, guint first)
{
  double height = 0;

  for (guint i = first; i < self->pending->len; i++)
    {
      const PawlRow *row = g_ptr_array_index (self->pending, i);

      if (i > first || last_page (self)->len > 0)
        height += row->style.space_before;
      height += row->height;
    }
  return height;
}

/* Rows that are kept together go to the next page together, unless one page can't hold them all. */
static void
put_pending (PawlFlow *self)
{
  const double slack = 0.01; /* sums of many heights */
  gboolean is_together = height_of_pending (self, 0) <= pawl_flow_get_height (self) + slack;

  for (guint i = 0; i < self->pending->len; i++)
    {
      PawlRow *row = g_ptr_array_index (self->pending, i);
      double wanted = is_together ? height_of_pending (self, i) : row->style.space_before + row->height;

      if (last_page (self)->len > 0 && self->y + wanted > self->frame.bottom + slack)
        begin_page (self);
      put_row (self, row);
    }
  g_ptr_array_set_size (self->pending, 0);
}

static void
take_row (PawlFlow *self, PawlRow *row)
{
  g_ptr_array_add (self->pending, row);
  if (!row->style.keep_next && !self->is_together)
    put_pending (self);
}

void
pawl_flow_set_tight (PawlFlow *self, gboolean is_tight)
{
  self->is_tight = is_tight;
}

gboolean
pawl_flow_is_tight (PawlFlow *self)
{
  return self->is_tight;
}

void
pawl_flow_set_together (PawlFlow *self, gboolean is_together)
{
  self->is_together = is_together;
  if (!is_together)
    put_pending (self);
}

void
pawl_flow_ensure_room (PawlFlow *self, double height)
{
  if (pawl_flow_get_room (self) < height && last_page (self)->len > 0)
    begin_page (self);
}

void
pawl_flow_set_repeated (PawlFlow *self, PawlRow *row)
{
  put_pending (self);
  self->repeated = row;
}

/* Moves lines of @cell, the row's cell @n, from @next on into @row, as many as @height holds; at least one, so that it always gets on. */
static double
fill_row (PawlRow *row, guint n, PawlCell *cell, guint *next, double x, double height)
{
  double y = 0;

  while (*next < cell->lines->len)
    {
      PawlLine *line = &g_array_index (cell->lines, PawlLine, *next);
      Placed placed = { .x = x + line->x, .y = row->style.padding + y, .cell = n, .line = *line };

      if (y > 0 && y + line->height > height)
        break;
      y += line->height;
      line->layout = NULL; /* moved */
      line->art = NULL;
      g_array_append_val (row->placed, placed);
      (*next)++;
    }
  return y;
}

PawlRow *
pawl_flow_take_cells (PawlFlow *self, PawlCell **cells, const double *x, guint n_cells, const PawlRowStyle *style)
{
  g_autofree guint *next = g_new0 (guint, n_cells);
  double repeated = self->repeated ? self->repeated->height : 0;
  double most = pawl_flow_get_height (self) - repeated - 2 * style->padding;
  gboolean is_more = TRUE;
  PawlRow *row = NULL;

  while (is_more)
    {
      double height = 0;

      row = row_new (self, style);
      is_more = FALSE;
      for (guint i = 0; i < n_cells; i++)
        {
          double filled = fill_row (row, i, cells[i], &next[i], x[i], most);

          height = MAX (height, filled);
          is_more = is_more || next[i] < cells[i]->lines->len;
        }
      row->height = height + 2 * style->padding;
      if (is_more)
        row->style.rule_below = 0;
      take_row (self, row);
    }
  for (guint i = 0; i < n_cells; i++)
    pawl_cell_free (cells[i]);
  return row;
}

void
pawl_flow_set_continued (PawlFlow *self, const char *text)
{
  const PawlRowStyle style = { .padding = 2 };
  PawlCell *cell = pawl_cell_new (self->context, pawl_flow_get_width (self));
  PawlRow *row = row_new (self, &style);
  guint next = 0;

  put_pending (self);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, text, 0);
  row->height = fill_row (row, 0, cell, &next, 0, pawl_cell_get_height (cell)) + 2 * style.padding;
  pawl_cell_free (cell);
  self->repeated = row;
}

void
pawl_flow_add_heading (PawlFlow *self, const char *text)
{
  const PawlRowStyle style = { .space_before = self->is_tight ? 6 : 11, .padding = self->is_tight ? 1.2 : 2.2, .rule_below = 0.9, .rule_grey = 0,
                               .keep_next = TRUE, .kind = PAWL_ROW_HEADING };
  const double x = 0;
  PawlCell *cell = pawl_cell_new (self->context, pawl_flow_get_width (self));

  pawl_cell_add_text (cell, PAWL_LETTER_HEADING, text, 0);
  pawl_flow_take_cells (self, &cell, &x, 1, &style);
  pawl_flow_add_space (self, 2.5);
}

/* One row for each line, so that a long text may go on overleaf, but never with a single line on either page. */
static void
add_paragraph (PawlFlow *self, PawlCell *cell, double x, PawlRowKind kind)
{
  guint n = cell->lines->len;
  guint next = 0;

  self->n_paragraphs++;
  while (next < n)
    {
      PawlRowStyle style = { .keep_next = n > 1 && (next == 0 || next == n - 2), .kind = kind, .paragraph = self->n_paragraphs };
      PawlRow *row = row_new (self, &style);

      row->height = fill_row (row, 0, cell, &next, x, 0);
      take_row (self, row);
    }
  pawl_cell_free (cell);
}

void
pawl_flow_add_title (PawlFlow *self, const char *text)
{
  PawlCell *cell = pawl_cell_new (self->context, pawl_flow_get_width (self));

  pawl_cell_add_text (cell, PAWL_LETTER_TITLE, text, 0);
  add_paragraph (self, cell, 0, PAWL_ROW_TITLE);
}

void
pawl_flow_add_text (PawlFlow *self, PawlLetter letter, const char *text)
{
  PawlCell *cell = pawl_cell_new (self->context, pawl_flow_get_width (self));

  pawl_cell_add_text (cell, letter, text, 0);
  add_paragraph (self, cell, 0, PAWL_ROW_PARAGRAPHS);
}

void
pawl_flow_add_lead_in (PawlFlow *self, PawlLetter letter, const char *text)
{
  const PawlRowStyle style = { .padding = 1.5, .keep_next = TRUE };
  const double x = 0;
  PawlCell *cell = pawl_cell_new (self->context, pawl_flow_get_width (self));

  pawl_cell_add_text (cell, letter, text, 0);
  pawl_flow_take_cells (self, &cell, &x, 1, &style);
}

void
pawl_flow_add_item (PawlFlow *self, PawlLetter letter, const char *text)
{
  const double indent = 10;
  PawlCell *cells[2];
  const double x[2] = { 1, indent };
  const PawlRowStyle style = { .padding = 0.8 };

  cells[0] = pawl_cell_new (self->context, indent);
  pawl_cell_add_text (cells[0], letter, "–", 0);
  cells[1] = pawl_cell_new (self->context, pawl_flow_get_width (self) - indent);
  pawl_cell_add_text (cells[1], letter, text, 0);
  pawl_flow_take_cells (self, cells, x, 2, &style);
}

void
pawl_flow_add_space (PawlFlow *self, double height_pt)
{
  const PawlRowStyle style = { .space_before = height_pt, .keep_next = TRUE };

  /* All of it is space before nothing: at the top of a page it vanishes. */
  g_ptr_array_add (self->pending, row_new (self, &style));
}

void
pawl_flow_add_rule (PawlFlow *self, double thickness, double grey)
{
  PawlRowStyle style = { .rule_below = thickness, .rule_grey = grey };
  PawlRow *row = row_new (self, &style);

  row->height = thickness;
  take_row (self, row);
}

guint
pawl_flow_get_n_pages (PawlFlow *self)
{
  put_pending (self);
  return self->pages->len;
}

double
pawl_flow_get_filled (PawlFlow *self, guint page)
{
  GArray *rows = g_ptr_array_index (self->pages, page);
  const RowOnPage *last = rows->len > 0 ? &g_array_index (rows, RowOnPage, rows->len - 1) : NULL;

  return last ? last->y + last->row->height - self->frame.top : 0;
}

PawlRowKind
pawl_flow_get_last_kind (PawlFlow *self, guint page)
{
  GArray *rows = g_ptr_array_index (self->pages, page);

  for (guint i = rows->len; i > 0; i--)
    if (g_array_index (rows, RowOnPage, i - 1).row->placed->len > 0)
      return g_array_index (rows, RowOnPage, i - 1).row->style.kind;
  return PAWL_ROW_PARAGRAPHS;
}

static void
draw_rule (PawlFlow *self, cairo_t *cr, double y, double thickness, double grey)
{
  if (thickness <= 0)
    return;
  cairo_set_source_rgb (cr, grey, grey, grey);
  cairo_set_line_width (cr, thickness);
  cairo_move_to (cr, self->frame.left, y);
  cairo_line_to (cr, self->frame.right, y);
  cairo_stroke (cr);
}

static void
draw_line (cairo_t *cr, const PawlLine *line, double x, double y)
{
  if (line->art)
    {
      cairo_save (cr);
      line->art->draw (cr, x, y, line->art->width, line->height, line->art->data);
      cairo_restore (cr);
    }
  else if (line->layout)
    {
      cairo_set_source_rgb (cr, line->grey, line->grey, line->grey);
      cairo_move_to (cr, x, y + line->baseline);
      pango_cairo_show_layout_line (cr, pango_layout_get_line_readonly (line->layout, line->index));
    }
}

/* ---- structure: what each piece is, for whoever has the pages read out ---- */

static const struct { const char *row, *cell; } tags[] = {
  [PAWL_ROW_PARAGRAPHS] = { NULL, "P" },
  [PAWL_ROW_TITLE] = { NULL, "H1" },
  [PAWL_ROW_HEADING] = { NULL, "H2" },
  [PAWL_ROW_TABLE_HEAD] = { "TR", "TH" },
  [PAWL_ROW_TABLE] = { "TR", "TD" },
};

static gboolean
is_of_table (const PawlRow *row)
{
  return row && tags[row->style.kind].row;
}

/* Only a PDF keeps them; cairo 1.16 crashes when it lets go of a recording that has some. */
static gboolean
has_tags (cairo_t *cr)
{
  return cairo_surface_get_type (cairo_get_target (cr)) == CAIRO_SURFACE_TYPE_PDF;
}

static void
begin_tag (cairo_t *cr, const char *tag)
{
  if (tag && has_tags (cr))
    cairo_tag_begin (cr, tag, NULL);
}

static void
end_tag (cairo_t *cr, const char *tag)
{
  if (tag && has_tags (cr))
    cairo_tag_end (cr, tag);
}

/* A picture alone in its cell is a figure, unless it is one of a table. */
static const char *
find_cell_tag (const PawlRow *row, const Placed *first)
{
  return first->line.art && !is_of_table (row) ? "Figure" : tags[row->style.kind].cell;
}

/* The lines of one cell, from @first on; returns the index after its last. */
static guint
draw_cell (PawlFlow *self, cairo_t *cr, const PawlRow *row, double y, guint first, gboolean is_begun, gboolean is_ended)
{
  const Placed *head = &g_array_index (row->placed, Placed, first);
  const char *tag = find_cell_tag (row, head);
  guint i = first;

  if (is_begun)
    begin_tag (cr, tag);
  for (; i < row->placed->len; i++)
    {
      const Placed *placed = &g_array_index (row->placed, Placed, i);

      if (placed->cell != head->cell)
        break;
      draw_line (cr, &placed->line, self->frame.left + placed->x, y + placed->y);
    }
  if (is_ended)
    end_tag (cr, tag);
  return i;
}

/* Whether two rows on a page are lines of one paragraph. */
static gboolean
is_one_paragraph (const PawlRow *a, const PawlRow *b)
{
  return a && b && a->style.paragraph != 0 && a->style.paragraph == b->style.paragraph;
}

static void
draw_row (PawlFlow *self, cairo_t *cr, const PawlRow *row, double y, const PawlRow *before, const PawlRow *after)
{
  draw_rule (self, cr, y, row->style.rule_above, row->style.rule_grey);
  draw_rule (self, cr, y + row->height, row->style.rule_below, row->style.rule_grey);
  if (row->placed->len == 0)
    return;
  if (is_of_table (row) && !is_of_table (before))
    begin_tag (cr, "Table");
  begin_tag (cr, tags[row->style.kind].row);
  for (guint i = 0; i < row->placed->len;)
    i = draw_cell (self, cr, row, y, i, !is_one_paragraph (before, row), !is_one_paragraph (row, after));
  end_tag (cr, tags[row->style.kind].row);
  if (is_of_table (row) && !is_of_table (after))
    end_tag (cr, "Table");
}

/* (nullable): the row with something in it that is @step beside row @i. */
static const PawlRow *
peek_beside (GArray *page, guint i, int step)
{
  for (gint64 j = (gint64) i + step; j >= 0 && j < page->len; j += step)
    {
      const PawlRow *row = g_array_index (page, RowOnPage, j).row;

      if (row->placed->len > 0)
        return row;
    }
  return NULL;
}

void
pawl_flow_draw_page (PawlFlow *self, guint n, cairo_t *cr)
{
  GArray *page;

  g_return_if_fail (n < pawl_flow_get_n_pages (self));
  page = g_ptr_array_index (self->pages, n);
  for (guint i = 0; i < page->len; i++)
    {
      const RowOnPage *on_page = &g_array_index (page, RowOnPage, i);

      draw_row (self, cr, on_page->row, on_page->y, peek_beside (page, i, -1), peek_beside (page, i, 1));
    }
}
