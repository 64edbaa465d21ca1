/* The report as another program reads it: pages, sizes, text, and what happens to the file when it can't be written. */
#include <glib/gstdio.h>
#include <poppler.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>

#include "procedure/pawl-reader.h"
#include "report/pawl-report.h"
#include "report/pawl-words.h"

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PopplerPage, g_object_unref)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PopplerStructureElement, g_object_unref)

#define HEAD "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"

/* ---- a job by hand, without a record ---- */

typedef struct {
  PawlProcedure *procedure;
  PawlFigure    *figure;
  GPtrArray     *entries;
  GDateTime     *now;
} Bench;

static Bench *
bench_new (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "report", "pump.xml", NULL);
  g_autofree char *figure = g_test_build_filename (G_TEST_DIST, "report", "pump.svg", NULL);
  g_autoptr (GError) error = NULL;
  Bench *bench = g_new0 (Bench, 1);

  bench->procedure = pawl_procedure_load (path, NULL, &error);
  g_assert_no_error (error);
  bench->figure = pawl_figure_load (figure, &error);
  g_assert_no_error (error);
  bench->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  bench->now = g_date_time_new_from_iso8601 ("2026-11-25T09:00:00+00:00", NULL);
  return bench;
}

static void
bench_free (Bench *bench)
{
  g_object_unref (bench->procedure);
  g_object_unref (bench->figure);
  g_ptr_array_unref (bench->entries);
  g_date_time_unref (bench->now);
  g_free (bench);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Bench, bench_free)

/* A minute later than the entry before, then pairs of field and value. */
static void add (Bench *bench, PawlEntryKind kind, const char *subject, ...) G_GNUC_NULL_TERMINATED;

static void
add (Bench *bench, PawlEntryKind kind, const char *subject, ...)
{
  GDateTime *later = g_date_time_add_minutes (bench->now, 1);
  PawlEntry *entry = pawl_entry_new (kind, subject, "Jenna Tregear", later);
  const char *field;
  va_list fields;

  g_date_time_unref (bench->now);
  bench->now = later;
  va_start (fields, subject);
  while ((field = va_arg (fields, const char *)))
    pawl_entry_set (entry, field, va_arg (fields, const char *));
  va_end (fields);
  g_ptr_array_add (bench->entries, entry);
}

static void
answer (Bench *bench, const char *ask, const char *text)
{
  add (bench, PAWL_ENTRY_ANSWERED, ask, "answer", text, NULL);
}

static void
finish (Bench *bench, const char *step)
{
  add (bench, PAWL_ENTRY_STEP_DONE, step, NULL);
}

/* The whole job but the last reading: a seal too deep at first, a rotor from a donor, an end float that somebody took the risk of. */
static void
do_work (Bench *bench)
{
  add (bench, PAWL_ENTRY_OPENED, "", "serial", "4711", "work-order", "TS-7", "customer", "Launch Kittiwake (invented)",
       "complaint", "Leaks at the shaft", "shop", "Trewarne Slip (invented)", "variant", "rh", NULL);
  answer (bench, "condition", "Oil on the flange");
  answer (bench, "depth-found", "5.25");
  finish (bench, "look");
  add (bench, PAWL_ENTRY_DISPOSED, "rotor", "choice", "replace", "reason", "scored", "source", "donor", "from", "pump no. 9", "lot", "D-12", NULL);
  finish (bench, "strip");
  add (bench, PAWL_ENTRY_WAIT_STARTED, "bath", NULL);
  bench->now = (g_date_time_unref (bench->now), g_date_time_new_from_iso8601 ("2026-11-25T09:40:00+00:00", NULL));
  add (bench, PAWL_ENTRY_WAIT_ENDED, "bath", NULL);
  finish (bench, "soak");
  answer (bench, "rotor-either", "right");
  answer (bench, "spins", "free");
  answer (bench, "end-float", "0.14");
  add (bench, PAWL_ENTRY_DEVIATED, "end-float", "what", "end float above the sheet", "reason", "no thicker plate to be had", "accepted-by", "Ossie Carne", NULL);
  finish (bench, "rotor-in");
  answer (bench, "lip", "wrong");
  answer (bench, "lip", "right");
  answer (bench, "depth", "3.25");
  answer (bench, "depth", "4.05");
  finish (bench, "seal-in");
}

/* ---- the report of it ---- */

typedef struct {
  PawlReport      *report;
  PopplerDocument *document;
  char            *text; /* all pages, white space as single blanks */
} Print;

static void
print_free (Print *print)
{
  g_object_unref (print->report);
  g_object_unref (print->document);
  g_free (print->text);
  g_free (print);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Print, print_free)

static char *
squeeze (const char *text)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \n\t\f", -1);
  GString *out = g_string_new (NULL);

  for (guint i = 0; words[i]; i++)
    if (*words[i])
      g_string_append_printf (out, "%s%s", out->len > 0 ? " " : "", words[i]);
  return g_string_free (out, FALSE);
}

static PawlReport *
make_report_of (Bench *bench, const PawlReportOptions *wanted, PawlReportLoadKept load_kept, gpointer data)
{
  g_autoptr (GDateTime) issued = g_date_time_new_from_iso8601 ("2026-11-26T10:00:00+00:00", NULL);
  PawlReportOptions options = *wanted;
  g_autoptr (PawlJob) job = pawl_job_fold (bench->procedure, bench->entries, bench->now);

  options.issued = issued;
  options.head = HEAD;
  options.version = 2;
  return pawl_report_new (job, bench->figure, &options, load_kept, data);
}

static PawlReport *
make_report (Bench *bench, PawlPaper paper, PawlReportLoadKept load_kept, gpointer data)
{
  const PawlReportOptions options = { .paper = paper };

  return make_report_of (bench, &options, load_kept, data);
}

static char *
make_path (const char *name)
{
  g_autofree char *folder = g_dir_make_tmp ("pawl-report-XXXXXX", NULL);

  return g_build_filename (folder, name, NULL);
}

static void
remove_file (char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);

  g_unlink (path);
  g_assert_cmpint (g_rmdir (folder), ==, 0); /* nothing else was left beside it */
  g_free (path);
}

static Print *
print_new_of (Bench *bench, const PawlReportOptions *options, PawlReportLoadKept load_kept, gpointer data)
{
  Print *print = g_new0 (Print, 1);
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GBytes) bytes = NULL;
  char *path = make_path ("report.pdf");
  char *contents;
  gsize length;

  print->report = make_report_of (bench, options, load_kept, data);
  pawl_report_write_pdf (print->report, path, &error);
  g_assert_no_error (error);
  g_assert_true (g_file_get_contents (path, &contents, &length, NULL));
  remove_file (path);
  bytes = g_bytes_new_take (contents, length);
  print->document = poppler_document_new_from_bytes (bytes, NULL, &error);
  g_assert_no_error (error);
  for (int i = 0; i < poppler_document_get_n_pages (print->document); i++)
    {
      g_autoptr (PopplerPage) page = poppler_document_get_page (print->document, i);
      g_autofree char *part = poppler_page_get_text (page);

      g_string_append_printf (text, "%s\n", part);
    }
  print->text = squeeze (text->str);
  return print;
}

static Print *
print_new (Bench *bench, PawlPaper paper, PawlReportLoadKept load_kept, gpointer data)
{
  const PawlReportOptions options = { .paper = paper };

  return print_new_of (bench, &options, load_kept, data);
}

static void
assert_says (Print *print, const char *words)
{
  if (!strstr (print->text, words))
    g_test_message ("the report says: %s", print->text);
  g_test_message ("wanted: %s", words);
  g_assert_nonnull (strstr (print->text, words));
}

static void
assert_silent (Print *print, const char *words)
{
  g_autofree char *folded = g_utf8_casefold (print->text, -1);

  g_test_message ("not wanted: %s", words);
  g_assert_null (strstr (folded, words));
}

/* ---- tests ---- */

static void
test_says_all (void)
{
  static const char * const words[] = {
    "Record of work: GP-2 gear pump", "Trewarne Slip (invented)", "version 2", "TS-7", "Launch Kittiwake (invented)", "4711",
    "2026-11-26 10:00 +00:00", "Right-hand rotation", "Oil on the flange", "Leaks at the shaft",
    "Reseal of the GP-2 gear pump", "checked on paper", "GP-2 Service Sheet (invented), edition 3",
    "5 of 6 steps done; 1 not done; 1 not for this variant.",
    /* limits as printed and their source, as found, as left, conversion, verdict, attempts */
    "4.0 mm ± 0.5 mm", "sheet p. 5", "5.25 mm", "4.05 mm", "max 0.10 mm", "0.14 mm", "max 2 psi", "not measured",
    "as found: out", "flange up, flange to seal", "Depth gauge, ± 0.03 mm", "2 attempts: 3.25 mm, judged out; 4.05 mm, judged in",
    "Decision rule:",
    "The lip looks toward the pressure side.", "by touch", "found wrong once before, put right",
    "Rotor free", "used part from a donor", "pump no. 9", "D-12", "scored", "new from the kit", "GP-2 seal kit (invented)",
    "end float above the sheet", "no thicker plate to be had", "Ossie Carne", "accepted as a deviation",
    "Leak in one minute: not measured", "Step 7, Tie on the care card. Not done.",
    "10 min to 1 h", "paraffin", "Not signed.", "Performed by: Jenna Tregear.",
    "Results relate only to this unit", "not to be copied except in full",
    "Not an airworthiness, roadworthiness or pressure-vessel release.", "Unit, maker and values are invented, for tests.",
    HEAD, "End of report", "Exploded view",
  };
  static const char * const never[] = { "Rebuilt: GP-2", "compliant", "approved", " safe" };
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;

  do_work (bench);
  print = print_new (bench, PAWL_PAPER_A4, NULL, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    assert_says (print, words[i]);
  for (guint i = 0; i < G_N_ELEMENTS (never); i++)
    assert_silent (print, never[i]);
}

/* A narrow column breaks the line before the error of an instrument, never within. */
static void
test_instrument_error_holds_together (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (PawlJob) job = NULL;
  const PawlAskState *ask;
  g_autofree char *words = NULL;

  do_work (bench);
  job = pawl_job_fold (bench->procedure, bench->entries, bench->now);
  ask = pawl_job_lookup_ask (job, "depth");
  words = pawl_words_instrument (bench->procedure, ask->ask->reading, g_ptr_array_index (ask->attempts, ask->attempts->len - 1));
  g_assert_cmpstr (words, ==, "Depth gauge, ±\u00a00.03\u00a0mm");
}

static void
test_signed (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;

  do_work (bench);
  add (bench, PAWL_ENTRY_RELEASED, "seal-in", "role", "trainer", NULL);
  answer (bench, "leak", "1.5");
  finish (bench, "close");
  add (bench, PAWL_ENTRY_SIGNED, "", "role", "fitter", "statement", "Done as recorded here", "name", "Jenna Tregear", "by-pin", "yes", NULL);
  print = print_new (bench, PAWL_PAPER_A4, NULL, NULL);
  assert_says (print, "fitter, by PIN");
  assert_silent (print, "trainer, by PIN");
  assert_says (print, "6 of 6 steps done");
  assert_says (print, "Released the hold at step 5");
  assert_says (print, "Done as recorded here");
  assert_silent (print, "not signed.");
}

/* The print for the customer has what came of the work, and nothing of how often somebody tried. */
static void
test_for_customer (void)
{
  static const char * const words[] = {
    "Summary for the customer", "As found, as left", "Seal depth", "5.25", "4.05", "out", "accepted as a deviation", "used part from a donor", "D-12",
    "GP-2 seal kit (invented)", "1 of 3 items are the unit's own", "no thicker plate to be had", "Leak in one minute: not measured",
    "Performed by: Jenna Tregear", "Limits of this report", HEAD, "End of report", "Page 1 of ",
  };
  static const char * const never[] = { "attempts", "wrong once", "taken back", "Which way round", "SHA-256 of the procedure" };
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;

  do_work (bench);
  print = print_new_of (bench, &(PawlReportOptions) { .print = PAWL_PRINT_CUSTOMER }, NULL, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    assert_says (print, words[i]);
  for (guint i = 0; i < G_N_ELEMENTS (never); i++)
    assert_silent (print, never[i]);
  g_assert_cmpint (poppler_document_get_n_pages (print->document), <=, 2);
}

/* Whose report it is, in the shop's own words. */
static void
test_shop (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;
  g_autoptr (PawlShop) shop = pawl_shop_new ();

  do_work (bench);
  pawl_shop_set_text (&shop->name, "Polmear Engine Shop (invented)");
  pawl_shop_set_text (&shop->address, "2 Slip Lane\nPolmear");
  pawl_shop_set_text (&shop->registration, "R 12");
  pawl_shop_set_text (&shop->warranty, "We put right for a year what we did wrong.");
  pawl_shop_set_text (&shop->footer, "Open till six");
  shop->keep_years = 3;
  print = print_new_of (bench, &(PawlReportOptions) { .shop = shop }, NULL, NULL);
  assert_says (print, "Polmear Engine Shop (invented) Report");
  assert_says (print, "2 Slip Lane");
  assert_says (print, "Registration no. R 12");
  assert_says (print, "Warranty, in the shop's own words: We put right for a year what we did wrong.");
  assert_says (print, "for 3 years.");
  assert_says (print, "Open till six");
}

/* A version after the first says what changed. */
static void
test_changes (void)
{
  static const char * const changes[] = { "2026-11-25 09:50: a note by Jenna Tregear", NULL };
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;

  do_work (bench);
  print = print_new_of (bench, &(PawlReportOptions) { .changes = changes }, NULL, NULL);
  assert_says (print, "Changed since version 1");
  assert_says (print, changes[0]);
}

/* The first page has what is in force; the full record who corrected what, the customer what it is that their papers may have otherwise. */
static void
test_corrected (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) full = NULL, customer = NULL;

  do_work (bench);
  add (bench, PAWL_ENTRY_CORRECTED, "", "serial", "4712", "complaint", "Leaks at the cover", "reason", "The plate was under paint", NULL);
  add (bench, PAWL_ENTRY_CORRECTED, "", "work-order", "TS-8", "reason", "Misread", NULL);
  add (bench, PAWL_ENTRY_CORRECTED, "", "work-order", "TS-7", "reason", "It was right at first", NULL);
  add (bench, PAWL_ENTRY_CORRECTED, "", "serial", "4713", "reason", "Read again with a glass", NULL);
  full = print_new (bench, PAWL_PAPER_A4, NULL, NULL);
  assert_says (full, "Serial no.Condition on arrival 4713");
  assert_says (full, "UnitComplaint GP-2 gear pumpLeaks at the cover");
  assert_says (full, "Corrected since the unit was taken in Serial number “4712”, was “4711”: corrected by Jenna Tregear on 2026-11-25 09:");
  assert_says (full, ", because: The plate was under paint");
  assert_says (full, "Serial number “4713”, was “4712”: ");
  assert_says (full, "Work order “TS-7”, was “TS-8”: ");
  customer = print_new_of (bench, &(PawlReportOptions) { .print = PAWL_PRINT_CUSTOMER }, NULL, NULL);
  assert_says (customer, "Serial no.: 4713");
  assert_says (customer, "Corrected since the unit was taken in: serial number “4713”, was “4711”.");
  assert_silent (customer, "under paint");
  assert_silent (customer, "ts-8");
  g_assert_cmpint (poppler_document_get_n_pages (customer->document), <=, 2);
}

static void
count_elements (PopplerStructureElementIter *iter, guint *counts, GString *title)
{
  do
    {
      g_autoptr (PopplerStructureElement) element = poppler_structure_element_iter_get_element (iter);
      PopplerStructureElementKind kind = poppler_structure_element_get_kind (element);
      PopplerStructureElementIter *child = poppler_structure_element_iter_get_child (iter);
      g_autofree char *text = kind == POPPLER_STRUCTURE_ELEMENT_HEADING_1 ? poppler_structure_element_get_text (element, POPPLER_STRUCTURE_GET_TEXT_RECURSIVE) : NULL;

      counts[kind]++;
      if (text)
        g_string_append (title, text);
      if (child)
        {
          count_elements (child, counts, title);
          poppler_structure_element_iter_free (child);
        }
    }
  while (poppler_structure_element_iter_next (iter));
}

/* The file says what is title, heading, table and figure, for whoever has it read out. */
static void
test_structure (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;
  PopplerStructureElementIter *iter;
  guint counts[256] = { 0 };
  g_autoptr (GString) title = g_string_new (NULL);

  do_work (bench);
  print = print_new (bench, PAWL_PAPER_A4, NULL, NULL);
  iter = poppler_structure_element_iter_new (print->document);
  g_assert_nonnull (iter);
  count_elements (iter, counts, title);
  poppler_structure_element_iter_free (iter);
  g_assert_cmpstr (title->str, ==, "Record of work: GP-2 gear pump");
  g_assert_cmpuint (counts[POPPLER_STRUCTURE_ELEMENT_HEADING_1], ==, 1);
  g_assert_cmpuint (counts[POPPLER_STRUCTURE_ELEMENT_HEADING_2], >=, 12);
  g_assert_cmpuint (counts[POPPLER_STRUCTURE_ELEMENT_TABLE], >=, 6);
  g_assert_cmpuint (counts[POPPLER_STRUCTURE_ELEMENT_TABLE_HEADING], >=, 6 * 3);
  g_assert_cmpuint (counts[POPPLER_STRUCTURE_ELEMENT_TABLE_DATA], >, counts[POPPLER_STRUCTURE_ELEMENT_TABLE_HEADING]);
  g_assert_cmpuint (counts[POPPLER_STRUCTURE_ELEMENT_FIGURE], ==, 1);
}

/* A job that was only just opened is a report too, of nothing done. */
static void
test_nothing_done (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;

  add (bench, PAWL_ENTRY_OPENED, "", NULL);
  print = print_new (bench, PAWL_PAPER_A4, NULL, NULL);
  assert_says (print, "0 of 6 steps done; 6 not done; 1 not for this variant.");
  assert_says (print, "Performed by: nobody yet.");
  assert_says (print, "Not signed.");
}

static void
test_papers (void)
{
  static const struct { PawlPaper paper; double width, height; } papers[] = {
    { PAWL_PAPER_A4, 595.28, 841.89 },   /* ISO 216: 210 mm x 297 mm */
    { PAWL_PAPER_LETTER, 612.0, 792.0 }, /* ANSI Y14.1 size A: 8.5 in x 11 in */
  };
  g_autoptr (Bench) bench = bench_new ();

  do_work (bench);
  for (guint i = 0; i < G_N_ELEMENTS (papers); i++)
    {
      g_autoptr (Print) print = print_new (bench, papers[i].paper, NULL, NULL);
      int n = poppler_document_get_n_pages (print->document);

      g_assert_cmpint (n, ==, (int) pawl_report_get_n_pages (print->report));
      g_assert_cmpint (n, >=, 2);
      g_assert_cmpint (n, <=, 6);
      for (int j = 0; j < n; j++)
        {
          g_autoptr (PopplerPage) page = poppler_document_get_page (print->document, j);
          g_autofree char *mark = g_strdup_printf ("Page %d of %d", j + 1, n);
          g_autofree char *text = poppler_page_get_text (page);
          double width, height;

          poppler_page_get_size (page, &width, &height);
          g_assert_cmpfloat_with_epsilon (width, papers[i].width, 0.01);
          g_assert_cmpfloat_with_epsilon (height, papers[i].height, 0.01);
          g_assert_nonnull (strstr (text, mark));
          g_assert_nonnull (strstr (text, "Record of work"));
          /* The head of the chain stands on the last page alone. */
          g_assert_true ((strstr (text, HEAD) != NULL) == (j == n - 1));
        }
    }
}

static void
test_metadata (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;
  g_autofree char *title = NULL, *author = NULL;
  g_autoptr (GDateTime) created = NULL;

  do_work (bench);
  print = print_new (bench, PAWL_PAPER_A4, NULL, NULL);
  title = poppler_document_get_title (print->document);
  author = poppler_document_get_author (print->document);
  created = poppler_document_get_creation_date_time (print->document);
  g_assert_cmpstr (title, ==, "Record of work: GP-2 gear pump");
  g_assert_cmpstr (author, ==, "Trewarne Slip (invented)");
  g_assert_cmpint (g_date_time_to_unix (created), ==, 1795687200); /* 2026-11-26 10:00 UTC, by date -u +%s */
}

/* Every one of many notes is printed, and none of them outside the page. */
static void
test_many_notes (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;

  do_work (bench);
  for (guint i = 0; i < 200; i++)
    {
      g_autofree char *text = g_strdup_printf ("note-%03u-begins and goes on for a while, so that it takes more than a line of its cell, and note-%03u-ends", i, i);

      add (bench, PAWL_ENTRY_NOTED, "strip", "text", text, NULL);
    }
  print = print_new (bench, PAWL_PAPER_LETTER, NULL, NULL);
  g_assert_cmpint (poppler_document_get_n_pages (print->document), >, 6);
  for (guint i = 0; i < 200; i++)
    {
      g_autofree char *begin = g_strdup_printf ("note-%03u-begins", i), *end = g_strdup_printf ("note-%03u-ends", i);

      assert_says (print, begin);
      assert_says (print, end);
    }
  for (int i = 0; i < poppler_document_get_n_pages (print->document); i++)
    {
      g_autoptr (PopplerPage) page = poppler_document_get_page (print->document, i);
      g_autofree PopplerRectangle *boxes = NULL;
      guint n;

      g_assert_true (poppler_page_get_text_layout (page, &boxes, &n));
      for (guint j = 0; j < n; j++)
        {
          g_assert_cmpfloat (boxes[j].x1, >=, 0);
          g_assert_cmpfloat (boxes[j].x2, <=, 612);
          g_assert_cmpfloat (boxes[j].y1, >=, 0);
          g_assert_cmpfloat (boxes[j].y2, <=, 792);
        }
    }
}

/* One answer that is longer than a page, with a word that is longer than a line. */
static void
test_long_answer (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;
  g_autoptr (GString) text = g_string_new ("first-word ");

  add (bench, PAWL_ENTRY_OPENED, "", NULL);
  for (guint i = 0; i < 2000; i++)
    g_string_append (text, i % 100 == 0 ? "An-unbroken-run-of-letters-that-no-cell-of-any-table-on-this-page-could-ever-hold-on-one-line " : "word ");
  g_string_append (text, "last-word");
  answer (bench, "condition", text->str);
  print = print_new (bench, PAWL_PAPER_A4, NULL, NULL);
  assert_says (print, "first-word");
  assert_says (print, "last-word");
}

static char *
write_report (Bench *bench, gsize *length)
{
  g_autoptr (PawlReport) report = make_report (bench, PAWL_PAPER_A4, NULL, NULL);
  char *path = make_path ("report.pdf");
  char *contents;

  g_assert_true (pawl_report_write_pdf (report, path, NULL));
  g_assert_true (g_file_get_contents (path, &contents, length, NULL));
  remove_file (path);
  return contents;
}

static void
test_same_bytes (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autofree char *first = NULL, *second = NULL;
  gsize n_first, n_second;

  do_work (bench);
  first = write_report (bench, &n_first);
  second = write_report (bench, &n_second);
  g_assert_cmpmem (first, n_first, second, n_second);
}

/* ---- places that can't be written ---- */

static void
test_bad_places (void)
{
  static const char * const paths[] = { "/nonexistent/folder/report.pdf", "/proc/report.pdf", "/dev/full", "/tmp" };
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (PawlReport) report = NULL;

  do_work (bench);
  report = make_report (bench, PAWL_PAPER_A4, NULL, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (paths); i++)
    {
      g_autoptr (GError) error = NULL;

      g_test_message ("%s", paths[i]);
      g_assert_false (pawl_report_write_pdf (report, paths[i], &error));
      g_assert_error (error, PAWL_REPORT_ERROR, PAWL_REPORT_ERROR_IO);
      g_assert_nonnull (strstr (error->message, paths[i]));
    }
}

/* A disk with no room is played by a limit on the size of files, which binds root as well. */
static void
test_full_disk_leaves_old_file (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (PawlReport) report = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *contents = NULL;
  char *path = make_path ("report.pdf");
  struct rlimit before, small;

  do_work (bench);
  report = make_report (bench, PAWL_PAPER_A4, NULL, NULL);
  g_assert_true (g_file_set_contents (path, "the old report", -1, NULL));
  g_assert_cmpint (getrlimit (RLIMIT_FSIZE, &before), ==, 0);
  small = before;
  small.rlim_cur = 4096;
  signal (SIGXFSZ, SIG_IGN);
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &small), ==, 0);
  g_assert_false (pawl_report_write_pdf (report, path, &error));
  g_assert_cmpint (setrlimit (RLIMIT_FSIZE, &before), ==, 0);
  g_assert_error (error, PAWL_REPORT_ERROR, PAWL_REPORT_ERROR_IO);
  g_assert_true (g_file_get_contents (path, &contents, NULL, NULL));
  g_assert_cmpstr (contents, ==, "the old report");
  remove_file (path);
}

/* ---- photos ---- */

static cairo_status_t
append_bytes (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

/* The head of a PNG that claims 60,000 by 60,000 pixels, and the beginning of its data. */
static const char huge_png[] =
  "\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR\0\0\xea\x60\0\0\xea\x60\x08\x02\0\0\0\x0f\xb0\xe2\x15\0\0\0\x0aIDAT";

static GBytes *
load_kept (const char *digest, gpointer data)
{
  cairo_surface_t *surface;
  GByteArray *bytes = g_byte_array_new ();

  (*(guint *) data)++;
  if (g_str_equal (digest, "gone"))
    return (g_byte_array_unref (bytes), NULL);
  if (g_str_equal (digest, "nonsense"))
    return (g_byte_array_unref (bytes), g_bytes_new_static ("not a picture at all", 20));
  if (g_str_equal (digest, "huge"))
    return (g_byte_array_unref (bytes), g_bytes_new_static (huge_png, sizeof huge_png - 1));
  surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 60, 40);
  cairo_surface_write_to_png_stream (surface, append_bytes, bytes);
  cairo_surface_destroy (surface);
  return g_byte_array_free_to_bytes (bytes);
}

static void
test_photos (void)
{
  g_autoptr (Bench) bench = bench_new ();
  g_autoptr (Print) print = NULL;
  guint n_asked = 0, n_pictures = 0;

  do_work (bench);
  add (bench, PAWL_ENTRY_PHOTO, "look", "digest", "good", "media-type", "image/png", "caption", "The flange", NULL);
  add (bench, PAWL_ENTRY_PHOTO, "look", "digest", "gone", "media-type", "image/png", "caption", "Lost one", NULL);
  add (bench, PAWL_ENTRY_PHOTO, "look", "digest", "nonsense", "media-type", "image/png", "caption", "Odd one", NULL);
  add (bench, PAWL_ENTRY_PHOTO, "look", "digest", "huge", "media-type", "image/png", "caption", "Vast one", NULL);
  print = print_new (bench, PAWL_PAPER_A4, load_kept, &n_asked);
  g_assert_cmpuint (n_asked, ==, 4);
  assert_says (print, "The flange");
  assert_says (print, "Lost one");
  assert_says (print, "Odd one");
  assert_says (print, "Vast one");
  assert_says (print, "its bytes are not in the record");
  assert_says (print, "the picture has over 120 million pixels");
  for (int i = 0; i < poppler_document_get_n_pages (print->document); i++)
    {
      g_autoptr (PopplerPage) page = poppler_document_get_page (print->document, i);
      GList *images = poppler_page_get_image_mapping (page);

      for (GList *image = images; image; image = image->next)
        {
          const PopplerImageMapping *mapping = image->data;
          cairo_surface_t *surface = poppler_page_get_image (page, mapping->image_id);

          if (surface && cairo_image_surface_get_width (surface) == 60 && cairo_image_surface_get_height (surface) == 40)
            n_pictures++;
          g_clear_pointer (&surface, cairo_surface_destroy);
        }
      poppler_page_free_image_mapping (images);
    }
  g_assert_cmpuint (n_pictures, ==, 1);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/report/says-all", test_says_all);
  g_test_add_func ("/report/instrument-error-holds-together", test_instrument_error_holds_together);
  g_test_add_func ("/report/signed", test_signed);
  g_test_add_func ("/report/for-customer", test_for_customer);
  g_test_add_func ("/report/shop", test_shop);
  g_test_add_func ("/report/changes", test_changes);
  g_test_add_func ("/report/corrected", test_corrected);
  g_test_add_func ("/report/structure", test_structure);
  g_test_add_func ("/report/nothing-done", test_nothing_done);
  g_test_add_func ("/report/papers", test_papers);
  g_test_add_func ("/report/metadata", test_metadata);
  g_test_add_func ("/report/many-notes", test_many_notes);
  g_test_add_func ("/report/long-answer", test_long_answer);
  g_test_add_func ("/report/same-bytes", test_same_bytes);
  g_test_add_func ("/report/bad-places", test_bad_places);
  g_test_add_func ("/report/full-disk-leaves-old-file", test_full_disk_leaves_old_file);
  g_test_add_func ("/report/photos", test_photos);
  return g_test_run ();
}
