/* The flow: what stays together, what is repeated, what is never cut. */
#include "report/pawl-flow-private.h"
#include "report/pawl-table.h"

/* A page of which the frame is easy to count on. */
static const PawlPageFrame frame = { .width = 300, .height = 400, .left = 20, .right = 280, .top = 20, .bottom = 380 };

/* ---- anchors of numbers ---- */

static void
test_anchor (void)
{
  static const struct { const char *text; gsize anchor; } cases[] = {
    { "33.3 mm", 2 },
    { "33,3 mm", 2 },
    { ".025 in", 0 },
    { "1 5/16 in", 1 },
    { "1-5/16 in", 1 },
    { "12", 2 },
    { "≈ 33.338 mm", 6 }, /* the sign takes three bytes */
    { "-2.5 mm", 2 },
    { "1 1/2 turns", 1 },
    { "27/32 in", 0 },
    { "≈ 27/32 in", 4 },
    { "not measured", 0 },
    { "–", 0 },
    { "", 0 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i].text);
      g_assert_cmpuint (pawl_table_find_anchor (cases[i].text), ==, cases[i].anchor);
    }
}

/* ---- pages ---- */

/* Ink inside a box of a page, for "is something drawn here". */
static gboolean
has_ink (PawlFlow *flow, guint page, int x, int y, int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, (int) frame.width, (int) frame.height);
  cairo_t *cr = cairo_create (surface);
  gboolean found = FALSE;
  const guchar *data;

  pawl_flow_draw_page (flow, page, cr);
  cairo_surface_flush (surface);
  data = cairo_image_surface_get_data (surface);
  for (int row = y; row < y + height; row++)
    for (int column = x; column < x + width; column++)
      found = found || data[row * cairo_image_surface_get_stride (surface) + column];
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return found;
}

static void
assert_inside_frame (PawlFlow *flow)
{
  for (guint i = 0; i < pawl_flow_get_n_pages (flow); i++)
    {
      g_assert_true (has_ink (flow, i, 0, 0, (int) frame.width, (int) frame.height));
      g_assert_false (has_ink (flow, i, 0, 0, (int) frame.width, (int) frame.top - 2));
      g_assert_false (has_ink (flow, i, 0, (int) frame.bottom + 2, (int) frame.width, (int) (frame.height - frame.bottom) - 2));
      g_assert_false (has_ink (flow, i, (int) frame.right + 2, 0, (int) (frame.width - frame.right) - 2, (int) frame.height));
    }
}

static char *
repeat (const char *word, guint n)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    g_string_append (text, word);
  return g_string_free (text, FALSE);
}

static void
test_empty (void)
{
  g_autoptr (PawlFlow) flow = pawl_flow_new (&frame);

  g_assert_cmpuint (pawl_flow_get_n_pages (flow), ==, 1);
  g_assert_false (has_ink (flow, 0, 0, 0, (int) frame.width, (int) frame.height));
}

static void
test_long_paragraph (void)
{
  g_autoptr (PawlFlow) flow = pawl_flow_new (&frame);
  g_autofree char *text = repeat ("Ream by hand, oil and patience. ", 200);

  pawl_flow_add_text (flow, PAWL_LETTER_BODY, text);
  g_assert_cmpuint (pawl_flow_get_n_pages (flow), >, 2);
  assert_inside_frame (flow);
}

/* A word longer than a line is broken, not run off the page. */
static void
test_long_word (void)
{
  g_autoptr (PawlFlow) flow = pawl_flow_new (&frame);
  g_autofree char *text = repeat ("x", 2000);

  pawl_flow_add_text (flow, PAWL_LETTER_BODY, text);
  assert_inside_frame (flow);
}

/* A flow whose first page has a row of @gap on it, which fills the frame at 360. */
static PawlFlow *
new_flow_below (double gap)
{
  PawlFlow *flow = pawl_flow_new (&frame);
  PawlCell *cell = pawl_cell_new (pawl_flow_get_context (flow), 100);
  const PawlRowStyle style = { .padding = 0 };
  const double x = 0;

  pawl_cell_add_gap (cell, MIN (gap, 360));
  pawl_flow_take_cells (flow, &cell, &x, 1, &style);
  return flow;
}

/* A heading goes overleaf with what it heads. */
static void
test_heading_stays_with_text (void)
{
  for (double gap = 300; gap < 380; gap += 1)
    {
      g_autoptr (PawlFlow) flow = new_flow_below (gap);

      pawl_flow_add_heading (flow, "Heading");
      pawl_flow_add_text (flow, PAWL_LETTER_BODY, "One line.");
      /* Both on the first page, or both on the second: below the gap is either nothing or more than a heading. */
      if (pawl_flow_get_n_pages (flow) == 2)
        g_assert_false (has_ink (flow, 0, 0, 0, (int) frame.width, (int) frame.height));
    }
}

static const PawlColumn columns[] = { { "Name", 1, PAWL_COLUMN_TEXT }, { "Value", 1, PAWL_COLUMN_NUMBER } };

static void
test_table_repeats_header (void)
{
  g_autoptr (PawlFlow) flow = pawl_flow_new (&frame);
  g_autoptr (PawlTable) table = pawl_table_new (columns, G_N_ELEMENTS (columns));

  for (guint i = 0; i < 100; i++)
    {
      pawl_table_begin_row (table);
      pawl_table_add (table, 1, PAWL_LETTER_CELL, i % 2 ? "10.25 mm" : "1 5/16 in");
    }
  pawl_flow_add_table (flow, table);
  g_assert_cmpuint (pawl_flow_get_n_pages (flow), >, 2);
  assert_inside_frame (flow);
  /* The first column holds nothing but its title, at the top of each page. */
  for (guint i = 0; i < pawl_flow_get_n_pages (flow); i++)
    {
      g_assert_true (has_ink (flow, i, 20, 20, 100, 10));
      g_assert_false (has_ink (flow, i, 0, 0, 20, 400));
    }
}

static void
test_widen (void)
{
  static const struct { double widths[3], words[3], widened[3]; } cases[] = {
    { { 50, 30, 20 }, { 50, 30, 20 }, { 50, 30, 20 } },  /* all words fit */
    { { 50, 30, 20 }, { 10, 30, 30 }, { 40, 30, 30 } },  /* from the one that has room */
    { { 60, 40, 20 }, { 20, 20, 50 }, { 40, 30, 50 } },  /* from both, as each can spare */
    { { 20, 60, 20 }, { 30, 40, 30 }, { 30, 40, 30 } },  /* the last of the room */
    { { 20, 60, 20 }, { 30, 41, 30 }, { 20, 60, 20 } },  /* not enough for all */
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double widths[3] = { cases[i].widths[0], cases[i].widths[1], cases[i].widths[2] };

      g_test_message ("case %u", i);
      pawl_table_widen (widths, cases[i].words, G_N_ELEMENTS (widths));
      for (guint j = 0; j < G_N_ELEMENTS (widths); j++)
        g_assert_cmpfloat_with_epsilon (widths[j], cases[i].widened[j], 1e-9);
    }
}

/* Lines of pixels with ink in a table whose narrow column holds @word. */
static guint
count_rows_of_ink (const char *word)
{
  static const PawlColumn narrow[] = { { "What was tried", 9, PAWL_COLUMN_TEXT }, { "R", 1, PAWL_COLUMN_TEXT } };
  g_autoptr (PawlFlow) flow = pawl_flow_new (&frame);
  g_autoptr (PawlTable) table = pawl_table_new (narrow, G_N_ELEMENTS (narrow));
  guint count = 0;

  pawl_table_begin_row (table);
  pawl_table_add (table, 0, PAWL_LETTER_CELL, "turned");
  pawl_table_add (table, 1, PAWL_LETTER_CELL, word);
  pawl_flow_add_table (flow, table);
  assert_inside_frame (flow);
  for (int y = 0; y < (int) frame.height; y++)
    count += has_ink (flow, 0, 0, y, (int) frame.width, 1);
  return count;
}

/* A long word takes one line, as a short one does; two words still take two; and what no width could hold is broken. */
static void
test_words_stay_whole (void)
{
  g_autofree char *digest = repeat ("0123456789", 8);

  g_assert_cmpuint (count_rows_of_ink ("pgd"), ==, count_rows_of_ink ("anticlockwisepgd"));
  g_assert_cmpuint (count_rows_of_ink ("pgd"), <, count_rows_of_ink ("anticlockwise handpgd"));
  g_assert_cmpuint (count_rows_of_ink ("anticlockwise handpgd"), <, count_rows_of_ink (digest));
}

/* What no line breaks within: words, quantities and times, but not the words round them. */
static void
test_unbroken (void)
{
  static const struct { const char *text, *piece; } cases[] = {
    { "of a part", "part" },
    { "to 0.0257 mm", "0.0257 mm" },
    { "to 3.0 N m", "3.0 N m" },
    { "wear min 31.9 mm", "min 31.9 mm" },
    { "up to 1 h 30 min", "1 h 30 min" },
    { "to ≈ 0.00394 in", "≈ 0.00394 in" },
    { "≈ .025", "≈ .025" },
    { "at ± 0.05 mm", "± 0.05 mm" },
    { "or 1 5/16 in", "1 5/16 in" },
    { "at 2026-11-25 15:16", "2026-11-25 15:16" },
    /* a number and what it counts for */
    { "so (step 45)", "(step 45)" },
    { "part, item 31", "item 31" },
    { "at No. 2", "No. 2" },
    { "a, of 3", "of 3" },
    /* neither */
    { "stop 3", "stop" },
    { "roof 3", "roof" },
    { "N mm", "mm" },
    { "12 34", "12" },
    { "± so", "so" },
    { "so ≈ .", "≈ ." }, /* a full stop is never parted from what it ends */
    { "", "" },
  };
  g_autoptr (PawlFlow) flow = pawl_flow_new (&frame);
  PangoContext *context = pawl_flow_get_context (flow);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_test_message ("%s", cases[i].text);
      g_assert_cmpfloat_with_epsilon (pawl_text_word_width (context, PAWL_LETTER_CELL, cases[i].text),
                                      pawl_text_width (context, PAWL_LETTER_CELL, cases[i].piece, -1), 0.2);
    }
}

/* ---- what is kept together ---- */

/* A block begins the next page rather than be parted, wherever the page before ends. */
static void
test_together (void)
{
  for (double gap = 250; gap < 380; gap += 5)
    {
      g_autoptr (PawlFlow) flow = new_flow_below (gap);

      pawl_flow_set_together (flow, TRUE);
      pawl_flow_add_heading (flow, "Heading");
      for (guint i = 0; i < 6; i++)
        pawl_flow_add_text (flow, PAWL_LETTER_BODY, "One line.");
      pawl_flow_set_together (flow, FALSE);
      if (pawl_flow_get_n_pages (flow) == 2)
        g_assert_cmpfloat (pawl_flow_get_filled (flow, 0), <=, MIN (gap, 360) + 0.01);
    }
}

/* A table of @n rows, the numbers from 1 in its first column; the k-th row has as many lines as @lines says of it. */
static PawlTable *
make_numbered (guint n, const guint *lines)
{
  PawlTable *table = pawl_table_new (columns, G_N_ELEMENTS (columns));

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *text = repeat ("x\n", lines[i % 5]);

      pawl_table_begin_row (table);
      pawl_table_add (table, 0, PAWL_LETTER_CELL, text);
    }
  return table;
}

/* What is said of a table is on the page of its last rows. */
static void
test_note_stays_with_table (void)
{
  static const guint lines[] = { 1, 2, 1, 1, 3 };

  for (guint n = 1; n < 60; n++)
    {
      g_autoptr (PawlFlow) flow = pawl_flow_new (&frame);
      g_autoptr (PawlTable) table = make_numbered (n, lines);
      guint last;

      pawl_table_set_note (table, "What the bars are.");
      pawl_flow_add_table (flow, table);
      last = pawl_flow_get_n_pages (flow) - 1;
      g_assert_cmpint (pawl_flow_get_last_kind (flow, last), ==, PAWL_ROW_PARAGRAPHS);
      g_assert_cmpfloat (pawl_flow_get_filled (flow, last), >, 40); /* titles, two rows and the note */
      assert_inside_frame (flow);
    }
}

/* Halves: every row is there, no page but the last has room for one more pair, and no titles stand alone. */
static void
test_halves (void)
{
  static const guint lines[] = { 1, 1, 4, 1, 2 };

  for (guint n = 1; n < 120; n += 7)
    {
      g_autoptr (PawlFlow) flow = pawl_flow_new (&frame);
      g_autoptr (PawlTable) table = make_numbered (n, lines);

      pawl_flow_add_heading (flow, "Parts");
      pawl_flow_add_halves (flow, table);
      for (guint page = 0; page < pawl_flow_get_n_pages (flow); page++)
        {
          g_assert_cmpint (pawl_flow_get_last_kind (flow, page), ==, PAWL_ROW_TABLE);
          if (page + 1 < pawl_flow_get_n_pages (flow))
            g_assert_cmpfloat (pawl_flow_get_filled (flow, page), >, 0.8 * pawl_flow_get_height (flow));
        }
      assert_inside_frame (flow);
    }
}

/* A row higher than a page is the only one that may be split: every line of it is there. */
static void
test_row_over_page (void)
{
  g_autoptr (PawlFlow) flow = pawl_flow_new (&frame);
  g_autoptr (PawlTable) table = pawl_table_new (columns, G_N_ELEMENTS (columns));
  g_autofree char *text = repeat ("line\n", 120);

  pawl_table_begin_row (table);
  pawl_table_add (table, 0, PAWL_LETTER_CELL, "Before");
  pawl_table_begin_row (table);
  pawl_table_add (table, 0, PAWL_LETTER_CELL, text);
  pawl_table_begin_row (table);
  pawl_table_add (table, 0, PAWL_LETTER_CELL, "After");
  pawl_flow_add_table (flow, table);
  g_assert_cmpuint (pawl_flow_get_n_pages (flow), >=, 3);
  assert_inside_frame (flow);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/flow/anchor", test_anchor);
  g_test_add_func ("/flow/empty", test_empty);
  g_test_add_func ("/flow/long-paragraph", test_long_paragraph);
  g_test_add_func ("/flow/long-word", test_long_word);
  g_test_add_func ("/flow/heading-stays-with-text", test_heading_stays_with_text);
  g_test_add_func ("/flow/table-repeats-header", test_table_repeats_header);
  g_test_add_func ("/flow/widen", test_widen);
  g_test_add_func ("/flow/words-stay-whole", test_words_stay_whole);
  g_test_add_func ("/flow/unbroken", test_unbroken);
  g_test_add_func ("/flow/together", test_together);
  g_test_add_func ("/flow/note-stays-with-table", test_note_stays_with_table);
  g_test_add_func ("/flow/halves", test_halves);
  g_test_add_func ("/flow/row-over-page", test_row_over_page);
  return g_test_run ();
}
