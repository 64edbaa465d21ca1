/* The bench sheet's CSV (RFC 4180): what is read, and what is refused with its line. */
#include "job/pawl-bench-sheet.h"

static void
test_good (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) rows = pawl_bench_sheet_parse (
    "\xef\xbb\xbfitem,answer,step,note\r\n"
    "height,\".010 goes, .012 does not\",set-height,\"said \"\"tight\"\"\"\r\n"
    "\r\n"
    "clean,good,look,\"two\nlines\"\r\n"
    "done,,look\r\n"
    "last,x,,", "sheet.csv", &error);
  const PawlSheetRow *row;

  g_assert_no_error (error);
  g_assert_cmpuint (rows->len, ==, 4);
  row = rows->pdata[0];
  g_assert_cmpstr (row->item, ==, "height");
  g_assert_cmpstr (row->answer, ==, ".010 goes, .012 does not");
  g_assert_cmpstr (row->note, ==, "said \"tight\"");
  g_assert_cmpstr (row->person, ==, "");
  g_assert_cmpint (row->line, ==, 2);
  row = rows->pdata[1];
  g_assert_cmpstr (row->note, ==, "two\nlines");
  g_assert_cmpint (row->line, ==, 4);
  row = rows->pdata[2];
  g_assert_cmpint (row->line, ==, 6); /* the quoted line break counts */
  g_assert_cmpstr (row->note, ==, "");
}

static void
test_bad (void)
{
  static const struct { const char *text, *place; PawlBenchSheetError code; } cases[] = {
    { "", "s.csv:1:", PAWL_BENCH_SHEET_ERROR_NOT_CSV },
    { "step,answer\n", "s.csv:1:", PAWL_BENCH_SHEET_ERROR_NOT_CSV },
    { "item,colour\n", "s.csv:1:", PAWL_BENCH_SHEET_ERROR_NOT_CSV },
    { "item,answer\na,b\nc,\"d\n\n", "s.csv:3:", PAWL_BENCH_SHEET_ERROR_NOT_CSV },
    { "item,answer\na,\"b\"c\n", "s.csv:2:", PAWL_BENCH_SHEET_ERROR_NOT_CSV },
    { "item,answer\na,b\na,b,c\n", "s.csv:3:", PAWL_BENCH_SHEET_ERROR_BAD_ROW },
    { "item,answer\na,\xff\n", "s.csv:1:", PAWL_BENCH_SHEET_ERROR_NOT_CSV },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;

      g_assert_null (pawl_bench_sheet_parse (cases[i].text, "s.csv", &error));
      g_assert_error (error, PAWL_BENCH_SHEET_ERROR, (int) cases[i].code);
      g_assert_true (g_str_has_prefix (error->message, cases[i].place));
    }
}

static void
test_no_file (void)
{
  g_autoptr(GError) error = NULL;

  g_assert_null (pawl_bench_sheet_load ("/nonexistent/sheet.csv", &error));
  g_assert_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_IO);
}

static void
test_opening (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GDateTime) now = g_date_time_new_from_iso8601 ("2026-11-25T08:00:00+01:00", NULL);
  g_autoptr(GPtrArray) rows = pawl_bench_sheet_parse (
    "at,step,item,answer,person\n2026-11-20T09:15,job,serial,PD 1,Ann\n,job,customer,Launch,Ann\n", "s.csv", &error);
  g_autoptr(PawlEntry) opened = NULL;
  g_autofree char *at = NULL;

  g_assert_no_error (error);
  opened = pawl_bench_sheet_make_opening (rows, now, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (pawl_entry_get (opened, "serial"), ==, "PD 1");
  g_assert_cmpstr (pawl_entry_get (opened, "customer"), ==, "Launch");
  g_assert_cmpstr (pawl_entry_get_person (opened), ==, "Ann");
  at = g_date_time_format_iso8601 (pawl_entry_peek_at (opened));
  g_assert_cmpstr (at, ==, "2026-11-20T09:15:00+01"); /* a time without offset is the bench's own */
}

static void
test_bad_opening (void)
{
  static const struct { const char *text, *message; } cases[] = {
    { "step,item,answer\njob,serial,1\njob,colour,red\n", "bench sheet:3: a job has no “colour”" },
    { "step,item,answer\njob,policy,strict\n", "bench sheet:2: there is no policy “strict”; it is simple, guard-band, proof, or a risk such as risk 5 %" },
    { "step,item,answer\njob,ask-first,maybe\n", "bench sheet:2: “maybe”: fits are asked before they are shown, yes or no" },
    { "step,item,answer\njob,procedure,0\n", "bench sheet:2: a job has no “procedure”" },
  };
  g_autoptr(GDateTime) now = g_date_time_new_from_iso8601 ("2026-11-25T08:00:00+01:00", NULL);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(GPtrArray) rows = pawl_bench_sheet_parse (cases[i].text, "s.csv", &error);

      g_assert_no_error (error);
      g_assert_null (pawl_bench_sheet_make_opening (rows, now, &error));
      g_assert_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_BAD_ROW);
      g_assert_true (g_str_has_prefix (error->message, cases[i].message));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/bench-sheet/good", test_good);
  g_test_add_func ("/bench-sheet/bad", test_bad);
  g_test_add_func ("/bench-sheet/no-file", test_no_file);
  g_test_add_func ("/bench-sheet/opening", test_opening);
  g_test_add_func ("/bench-sheet/bad-opening", test_bad_opening);
  return g_test_run ();
}
