#include "report/pawl-table.h"

#include <string.h>

#define GUTTER_PT 8.0

typedef struct {
  guint      column; /* G_MAXUINT: across the table */
  PawlLetter letter;
  char      *text;
  /* or a picture: */
  double         height;
  PawlArtDraw    draw; /* (nullable) */
  gpointer       data; /* given to the cell when it is set */
  GDestroyNotify free_data;
} Paragraph;

struct _PawlTable {
  PawlColumn *columns;
  guint       n_columns;
  GPtrArray  *rows; /* (element-type GArray of Paragraph) */
  char       *note; /* (nullable) */
};

static void
clear_paragraph (gpointer data)
{
  Paragraph *paragraph = data;

  g_free (paragraph->text);
  if (paragraph->data && paragraph->free_data)
    paragraph->free_data (paragraph->data);
}

static void
free_row (gpointer data)
{
  g_array_unref (data);
}

PawlTable *
pawl_table_new (const PawlColumn *columns, guint n_columns)
{
  PawlTable *self = g_new0 (PawlTable, 1);

  self->columns = g_memdup2 (columns, n_columns * sizeof *columns);
  self->n_columns = n_columns;
  self->rows = g_ptr_array_new_with_free_func (free_row);
  return self;
}

void
pawl_table_free (PawlTable *self)
{
  if (!self)
    return;
  g_ptr_array_unref (self->rows);
  g_free (self->note);
  g_free (self->columns);
  g_free (self);
}

void
pawl_table_begin_row (PawlTable *self)
{
  GArray *row = g_array_new (FALSE, FALSE, sizeof (Paragraph));

  g_array_set_clear_func (row, clear_paragraph);
  g_ptr_array_add (self->rows, row);
}

void
pawl_table_add (PawlTable *self, guint column, PawlLetter letter, const char *text)
{
  Paragraph paragraph = { .column = column, .letter = letter, .text = g_strdup (text) };

  g_return_if_fail (self->rows->len > 0);
  g_array_append_val ((GArray *) g_ptr_array_index (self->rows, self->rows->len - 1), paragraph);
}

void
pawl_table_add_art (PawlTable *self, guint column, double height_pt, PawlArtDraw draw, gpointer data, GDestroyNotify free_data)
{
  Paragraph paragraph = { .column = column, .height = height_pt, .draw = draw, .data = data, .free_data = free_data };

  g_return_if_fail (self->rows->len > 0);
  g_array_append_val ((GArray *) g_ptr_array_index (self->rows, self->rows->len - 1), paragraph);
}

void
pawl_table_add_wide (PawlTable *self, PawlLetter letter, const char *text)
{
  pawl_table_add (self, G_MAXUINT, letter, text);
}

void
pawl_table_set_note (PawlTable *self, const char *text)
{
  g_autofree char *old = g_steal_pointer (&self->note);

  self->note = g_strdup (text);
}

guint
pawl_table_get_n_rows (PawlTable *self)
{
  return self->rows->len;
}

/* ---- numbers ---- */

gsize
pawl_table_find_anchor (const char *text)
{
  const char *p = text;
  const char *start;

  /* Signs and "≈" go with the number that follows. */
  while (*p && !g_ascii_isdigit (*p) && *p != '.' && *p != ',')
    p++;
  start = p;
  while (g_ascii_isdigit (*p))
    p++;
  /* A bare fraction has no whole part: it stands where the places of a decimal do. */
  return (gsize) ((*p == '/' ? start : *p || p > start ? p : text) - text);
}

static double
measure_head (PangoContext *context, const Paragraph *paragraph)
{
  return pawl_text_width (context, paragraph->letter, paragraph->text, (gssize) pawl_table_find_anchor (paragraph->text));
}

/* The widest part left of the mark, among the numbers that fit their cell at all. */
static double
find_column_anchor (PawlTable *self, PangoContext *context, guint column, double width)
{
  double anchor = 0;

  for (guint i = 0; i < self->rows->len; i++)
    {
      GArray *row = g_ptr_array_index (self->rows, i);

      for (guint j = 0; j < row->len; j++)
        {
          const Paragraph *paragraph = &g_array_index (row, Paragraph, j);

          if (paragraph->column == column && paragraph->text && pawl_table_find_anchor (paragraph->text) > 0
              && pawl_text_width (context, paragraph->letter, paragraph->text, -1) <= width)
            {
              double head = measure_head (context, paragraph);

              anchor = MAX (anchor, head);
            }
        }
    }
  return anchor;
}

static double
find_indent (PangoContext *context, const Paragraph *paragraph, double anchor, double width)
{
  double indent;

  if (!paragraph->text || !strpbrk (paragraph->text, "0123456789"))
    return 0;
  indent = anchor - measure_head (context, paragraph);
  return indent > 0 && indent + pawl_text_width (context, paragraph->letter, paragraph->text, -1) <= width ? indent : 0;
}

/* ---- setting ---- */

typedef struct {
  PawlFlow *flow;
  double    width;   /* of the table */
  double   *x;       /* of each column */
  double   *widths;
  double   *anchors; /* of number columns, else 0 */
} Setting;

/* The widest word of a column, its title too. A word of more than @limit (a digest, an address) has to be broken anyway. */
static double
find_widest_word (PawlTable *self, PangoContext *context, guint column, double limit)
{
  double widest = pawl_text_word_width (context, PAWL_LETTER_LABEL, self->columns[column].title);

  for (guint i = 0; i < self->rows->len; i++)
    {
      GArray *row = g_ptr_array_index (self->rows, i);

      for (guint j = 0; j < row->len; j++)
        {
          const Paragraph *paragraph = &g_array_index (row, Paragraph, j);

          if (paragraph->column == column && paragraph->text)
            {
              double width = pawl_text_word_width (context, paragraph->letter, paragraph->text);

              if (width <= limit)
                widest = MAX (widest, width);
            }
        }
    }
  return widest;
}

void
pawl_table_widen (double *widths, const double *words, guint n_columns)
{
  double lack = 0, spare = 0, taken;

  for (guint i = 0; i < n_columns; i++)
    {
      lack += MAX (words[i] - widths[i], 0);
      spare += MAX (widths[i] - words[i], 0);
    }
  if (lack <= 0 || lack > spare)
    return;
  taken = lack / spare;
  for (guint i = 0; i < n_columns; i++)
    widths[i] = widths[i] < words[i] ? words[i] : widths[i] - taken * (widths[i] - words[i]);
}

static void
measure_columns (PawlTable *self, Setting *setting)
{
  const double longest_share = 1.0 / 3;
  PangoContext *context = pawl_flow_get_context (setting->flow);
  double room = setting->width - GUTTER_PT * (self->n_columns - 1);
  g_autofree double *words = g_new0 (double, self->n_columns);
  double shares = 0, x = 0;

  setting->x = g_new0 (double, self->n_columns);
  setting->widths = g_new0 (double, self->n_columns);
  setting->anchors = g_new0 (double, self->n_columns);
  for (guint i = 0; i < self->n_columns; i++)
    shares += self->columns[i].share;
  for (guint i = 0; i < self->n_columns; i++)
    {
      setting->widths[i] = room * self->columns[i].share / shares;
      words[i] = find_widest_word (self, context, i, room * longest_share);
    }
  pawl_table_widen (setting->widths, words, self->n_columns);
  for (guint i = 0; i < self->n_columns; i++)
    {
      setting->x[i] = x;
      x += setting->widths[i] + GUTTER_PT;
      if (self->columns[i].kind == PAWL_COLUMN_NUMBER)
        setting->anchors[i] = find_column_anchor (self, context, i, setting->widths[i]);
    }
}

static void
clear_setting (Setting *setting)
{
  g_clear_pointer (&setting->x, g_free);
  g_clear_pointer (&setting->widths, g_free);
  g_clear_pointer (&setting->anchors, g_free);
}

static const PawlRowStyle header_style = { .padding = 2, .rule_below = 0.6, .rule_grey = 0.15, .keep_next = TRUE, .kind = PAWL_ROW_TABLE_HEAD };

static PawlRowStyle
make_style (PawlFlow *flow)
{
  const double hairline = 0.3;

  return (PawlRowStyle) { .padding = pawl_flow_is_tight (flow) ? 0.9 : 1.7, .rule_below = hairline, .rule_grey = 0.65, .kind = PAWL_ROW_TABLE };
}

static void
make_header (PawlTable *self, Setting *setting, PawlCell **cells)
{
  for (guint i = 0; i < self->n_columns; i++)
    {
      cells[i] = pawl_cell_new (pawl_flow_get_context (setting->flow), setting->widths[i]);
      pawl_cell_add_text (cells[i], PAWL_LETTER_LABEL, self->columns[i].title, 0);
    }
}

static PawlRow *
set_header (PawlTable *self, Setting *setting)
{
  g_autofree PawlCell **cells = g_new0 (PawlCell *, self->n_columns);

  make_header (self, setting, cells);
  return pawl_flow_take_cells (setting->flow, cells, setting->x, self->n_columns, &header_style);
}

static gboolean
has_wide (GArray *row)
{
  for (guint i = 0; i < row->len; i++)
    {
      const Paragraph *paragraph = &g_array_index (row, Paragraph, i);

      if (paragraph->column == G_MAXUINT && paragraph->text && *paragraph->text)
        return TRUE;
    }
  return FALSE;
}

static void
set_wide (Setting *setting, GArray *row, const PawlRowStyle *style)
{
  const double x = 0;
  PawlCell *cell = pawl_cell_new (pawl_flow_get_context (setting->flow), pawl_flow_get_width (setting->flow));

  for (guint i = 0; i < row->len; i++)
    {
      const Paragraph *paragraph = &g_array_index (row, Paragraph, i);

      if (paragraph->column == G_MAXUINT)
        pawl_cell_add_text (cell, paragraph->letter, paragraph->text, 0);
    }
  pawl_flow_take_cells (setting->flow, &cell, &x, 1, style);
}

/* @row: (nullable): gives its pictures away; without one the cells stay empty. */
static void
make_cells (PawlTable *self, Setting *setting, GArray *row, PawlCell **cells)
{
  PangoContext *context = pawl_flow_get_context (setting->flow);

  for (guint i = 0; i < self->n_columns; i++)
    cells[i] = pawl_cell_new (context, setting->widths[i]);
  for (guint i = 0; row && i < row->len; i++)
    {
      Paragraph *paragraph = &g_array_index (row, Paragraph, i);
      guint column = paragraph->column;

      if (column < self->n_columns && paragraph->draw)
        pawl_cell_add_art (cells[column], setting->widths[column], paragraph->height, paragraph->draw, g_steal_pointer (&paragraph->data), paragraph->free_data);
      else if (column < self->n_columns)
        pawl_cell_add_text (cells[column], paragraph->letter, paragraph->text,
                            self->columns[column].kind == PAWL_COLUMN_NUMBER
                            ? find_indent (context, paragraph, setting->anchors[column], setting->widths[column]) : 0);
    }
}

static void
set_row (PawlTable *self, Setting *setting, GArray *row, gboolean keep_next)
{
  gboolean is_wide = has_wide (row);
  PawlRowStyle style = make_style (setting->flow), wide_style = style;
  g_autofree PawlCell **cells = g_new0 (PawlCell *, self->n_columns);

  style.keep_next = keep_next || is_wide;
  style.rule_below = is_wide ? 0 : style.rule_below;
  wide_style.keep_next = keep_next;
  wide_style.padding = MIN (style.padding, 1.2);
  make_cells (self, setting, row, cells);
  pawl_flow_take_cells (setting->flow, cells, setting->x, self->n_columns, &style);
  if (is_wide)
    set_wide (setting, row, &wide_style);
}

static void
set_note (PawlTable *self, PawlFlow *flow)
{
  const double x = 0;
  const PawlRowStyle style = { .padding = 3 };
  PawlCell *cell = pawl_cell_new (pawl_flow_get_context (flow), pawl_flow_get_width (flow));

  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, self->note, 0);
  pawl_flow_take_cells (flow, &cell, &x, 1, &style);
}

void
pawl_flow_add_table (PawlFlow *flow, PawlTable *table)
{
  Setting setting = { .flow = flow, .width = pawl_flow_get_width (flow) };
  PawlRow *header;
  gboolean has_note = table->note && *table->note;

  if (table->rows->len == 0)
    return;
  measure_columns (table, &setting);
  header = set_header (table, &setting);
  for (guint i = 0; i < table->rows->len; i++)
    {
      gboolean is_last = i == table->rows->len - 1;
      /* Neither the first nor the last row stands alone on its page, nor the note without them. */
      gboolean keep_next = is_last ? has_note : i == 0 || i == table->rows->len - 2;

      set_row (table, &setting, g_ptr_array_index (table->rows, i), keep_next);
      if (!keep_next && !is_last)
        pawl_flow_set_repeated (flow, header);
    }
  if (has_note)
    set_note (table, flow);
  pawl_flow_set_repeated (flow, NULL);
  clear_setting (&setting);
}

/* ---- halves ---- */

#define MIDDLE_PT 18.0
/* Fewer pairs than these don't begin at the foot of a page. */
#define LEAST_PAIRS 3

static double
measure_highest (PawlCell **cells, guint n_cells)
{
  double height = 0;

  for (guint i = 0; i < n_cells; i++)
    {
      double own = pawl_cell_get_height (cells[i]);

      height = MAX (height, own);
      pawl_cell_free (cells[i]);
    }
  return height;
}

/* Text alone: what a row of pictures takes is known only once. (transfer full) */
static double *
measure_rows (PawlTable *self, Setting *setting)
{
  g_autofree PawlCell **cells = g_new0 (PawlCell *, self->n_columns);
  double *heights = g_new0 (double, self->rows->len);

  for (guint i = 0; i < self->rows->len; i++)
    {
      make_cells (self, setting, g_ptr_array_index (self->rows, i), cells);
      heights[i] = measure_highest (cells, self->n_columns);
    }
  return heights;
}

/* Of @n pairs from row @first on, the @n-th of each half beside each other. */
static double
measure_pairs (PawlTable *self, const double *heights, guint first, guint n, double padding)
{
  double height = 0;

  for (guint i = 0; i < n; i++)
    {
      double left = heights[first + i], right = first + n + i < self->rows->len ? heights[first + n + i] : 0;

      height += MAX (left, right) + 2 * padding;
    }
  return height;
}

/* As many pairs as fit @room, at least one; no more than are left. */
static guint
count_pairs (PawlTable *self, const double *heights, guint first, double padding, double room)
{
  guint n = (self->rows->len - first + 1) / 2;

  while (n > 1 && measure_pairs (self, heights, first, n, padding) > room)
    n--;
  return n;
}

/* @left, @right: (nullable): rows; NULL for both: the titles. */
static void
set_pair (PawlTable *self, Setting *setting, GArray *left, GArray *right, const PawlRowStyle *style)
{
  guint n = self->n_columns;
  g_autofree PawlCell **cells = g_new0 (PawlCell *, 2 * n);
  g_autofree double *x = g_new0 (double, 2 * n);

  for (guint i = 0; i < n; i++)
    {
      x[i] = setting->x[i];
      x[n + i] = setting->x[i] + setting->width + MIDDLE_PT;
    }
  if (left)
    {
      make_cells (self, setting, left, cells);
      make_cells (self, setting, right, cells + n);
    }
  else
    {
      make_header (self, setting, cells);
      make_header (self, setting, cells + n);
    }
  pawl_flow_take_cells (setting->flow, cells, x, 2 * n, style);
}

/* Sets @n pairs, which have room, under their titles. */
static void
set_pairs (PawlTable *self, Setting *setting, guint first, guint n)
{
  PawlRowStyle style = make_style (setting->flow);

  set_pair (self, setting, NULL, NULL, &header_style);
  for (guint i = 0; i < n; i++)
    {
      guint right = first + n + i;

      style.keep_next = i == 0 && n > 1;
      set_pair (self, setting, g_ptr_array_index (self->rows, first + i), right < self->rows->len ? g_ptr_array_index (self->rows, right) : NULL, &style);
    }
}

void
pawl_flow_add_halves (PawlFlow *flow, PawlTable *table)
{
  Setting setting = { .flow = flow, .width = (pawl_flow_get_width (flow) - MIDDLE_PT) / 2 };
  double padding = make_style (flow).padding, titles;
  g_autofree double *heights = NULL;
  g_autofree PawlCell **cells = g_new0 (PawlCell *, table->n_columns);

  if (table->rows->len == 0)
    return;
  measure_columns (table, &setting);
  heights = measure_rows (table, &setting);
  make_header (table, &setting, cells);
  titles = measure_highest (cells, table->n_columns) + 2 * header_style.padding;
  for (guint first = 0, n; first < table->rows->len; first += 2 * n)
    {
      guint least = MIN (LEAST_PAIRS, (table->rows->len - first + 1) / 2);

      pawl_flow_ensure_room (flow, first > 0 ? G_MAXDOUBLE : titles + measure_pairs (table, heights, first, least, padding));
      n = count_pairs (table, heights, first, padding, pawl_flow_get_room (flow) - titles);
      set_pairs (table, &setting, first, n);
    }
  clear_setting (&setting);
}

/* ---- fields ---- */

static void
set_field_line (PawlFlow *flow, GPtrArray *cells, GArray *x)
{
  const PawlRowStyle style = { .padding = 2.5 };

  if (cells->len > 0)
    pawl_flow_take_cells (flow, (PawlCell **) cells->pdata, (const double *) (gpointer) x->data, cells->len, &style);
  g_ptr_array_set_size (cells, 0);
  g_array_set_size (x, 0);
}

void
pawl_flow_add_fields (PawlFlow *flow, const PawlField *fields, guint n_fields)
{
  const guint twelve = 12;
  double twelfth = (pawl_flow_get_width (flow) + GUTTER_PT) / twelve;
  g_autoptr (GPtrArray) cells = g_ptr_array_new (); /* the flow takes each */
  g_autoptr (GArray) x = g_array_new (FALSE, FALSE, sizeof (double));
  guint used = 0;

  for (guint i = 0; i < n_fields; i++)
    {
      double left;
      PawlCell *cell;

      if (!fields[i].value || !*fields[i].value)
        continue;
      if (used + fields[i].span > twelve)
        {
          set_field_line (flow, cells, x);
          used = 0;
        }
      left = used * twelfth;
      cell = pawl_cell_new (pawl_flow_get_context (flow), fields[i].span * twelfth - GUTTER_PT);
      pawl_cell_add_text (cell, PAWL_LETTER_LABEL, fields[i].label, 0);
      pawl_cell_add_text (cell, PAWL_LETTER_BODY, fields[i].value, 0);
      g_ptr_array_add (cells, cell);
      g_array_append_val (x, left);
      used += fields[i].span;
    }
  set_field_line (flow, cells, x);
}
