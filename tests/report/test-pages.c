/* Pages as they come out: both prints of the demo jobs in which things went wrong, on both papers, with photos and a shop that has much to say. */
#include "bench/pawl-bench.h"
#include "job/pawl-bench-sheet.h"
#include "report/pawl-flow-private.h"
#include "report/pawl-report.h"

#include <glib/gstdio.h>

#include <string.h>

static const char * const units[] = { "m1-magneto", "wd4-winch-hub" }; /* the longest lists, and the highest rows */

/* So many steps lie between two photos. */
#define STEPS_A_PHOTO 7

typedef struct {
  char       *folder, *path;
  PawlRecord *record;
  PawlBench  *bench;
} Fixture;

static char *
find_demo (const char *unit, const char *ending)
{
  g_autofree char *name = g_strconcat (unit, ending, NULL);

  return g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "procedures", name, NULL);
}

static GPtrArray *
load_sheet (const char *unit)
{
  g_autofree char *path = find_demo (unit, "-trouble.answers.csv");
  g_autoptr (GError) error = NULL;
  GPtrArray *rows = pawl_bench_sheet_load (path, &error);

  g_assert_no_error (error);
  return rows;
}

static void
append_photo (PawlBench *bench, const PawlSheetRow *row)
{
  g_autoptr (GTimeZone) utc = g_time_zone_new_utc ();
  g_autoptr (GDateTime) at = pawl_bench_sheet_parse_time (row->at, utc);
  g_autoptr (PawlEntry) photo = pawl_entry_new (PAWL_ENTRY_PHOTO, row->step, row->person, at);
  g_autoptr (GError) error = NULL;

  pawl_entry_set (photo, "digest", "a picture");
  pawl_entry_set (photo, "caption", "As it was found, with the old gasket still on the flange");
  pawl_bench_append_one (bench, photo, &error);
  g_assert_no_error (error);
}

static void
enter (PawlBench *bench, GPtrArray *rows)
{
  guint n_done = 0;

  for (guint i = 0; i < rows->len; i++)
    {
      const PawlSheetRow *row = g_ptr_array_index (rows, i);
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) entries = pawl_bench_sheet_make_entries (row, pawl_bench_get_job (bench), "sheet", &error);

      g_assert_no_error (error);
      if (g_str_equal (row->item, "done") && n_done++ % STEPS_A_PHOTO == 0)
        append_photo (bench, row);
      if (entries->len > 0)
        pawl_bench_append (bench, entries, &error);
      g_assert_no_error (error);
    }
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = find_demo (data, ".xml");
  g_autoptr (PawlProcedure) procedure = pawl_procedure_load (path, NULL, &error);
  g_autoptr (GPtrArray) rows = load_sheet (data);
  g_autoptr (GDateTime) now = g_date_time_new_utc (2026, 11, 26, 16, 0, 0);
  g_autoptr (PawlEntry) opening = pawl_bench_sheet_make_opening (rows, now, &error);

  g_assert_no_error (error);
  fixture->folder = g_dir_make_tmp ("pawl-pages-XXXXXX", &error);
  g_assert_no_error (error);
  fixture->path = g_build_filename (fixture->folder, "record.db", NULL);
  fixture->record = pawl_record_open (fixture->path, PAWL_RECORD_OPEN_CREATE, pawl_record_host_get_system (), &error);
  g_assert_no_error (error);
  fixture->bench = pawl_bench_open (fixture->record, procedure, NULL, opening, &error);
  g_assert_no_error (error);
  enter (fixture->bench, rows);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_clear_object (&fixture->bench);
  g_clear_object (&fixture->record);
  g_unlink (fixture->path);
  g_rmdir (fixture->folder);
  g_free (fixture->path);
  g_free (fixture->folder);
}

/* A picture of one pixel, as wide as it is high. */
static GBytes *
load_kept (const char *digest, gpointer data)
{
  static const char pixel[] = "P6 1 1 255 \x80\x80\x80";

  return g_bytes_new_static (pixel, sizeof pixel - 1);
}

/* Each page but the last is filled to a third at least, and none ends with a heading or with the titles of a table. */
static void
assert_pages (PawlReport *report)
{
  PawlFlow *flow = pawl_pages_get_flow (pawl_report_get_pages (report));
  guint n = pawl_report_get_n_pages (report);

  for (guint i = 0; i < n; i++)
    {
      PawlRowKind last = pawl_flow_get_last_kind (flow, i);

      g_test_message ("page %u of %u: %.0f of %.0f pt", i + 1, n, pawl_flow_get_filled (flow, i), pawl_flow_get_height (flow));
      g_assert_cmpfloat (pawl_flow_get_filled (flow, i), <=, pawl_flow_get_height (flow) + 0.1);
      g_assert_cmpfloat (pawl_flow_get_filled (flow, i), >=, i + 1 < n ? pawl_flow_get_height (flow) / 3 : 60);
      g_assert_cmpint (last, !=, PAWL_ROW_HEADING);
      g_assert_cmpint (last, !=, PAWL_ROW_TABLE_HEAD);
    }
}

static void
test_pages (Fixture *fixture, gconstpointer data)
{
  g_autoptr (PawlShop) shop = pawl_shop_new ();
  g_autoptr (GDateTime) issued = g_date_time_new_utc (2026, 11, 26, 16, 0, 0);

  pawl_shop_set_text (&shop->name, "Trewarne Slip (invented)");
  pawl_shop_set_text (&shop->address, "The Old Ropewalk, Porth Trewarne; telephone 0100 555 019 (invented)");
  pawl_shop_set_text (&shop->registration, "TS-REG-20417");
  pawl_shop_set_text (&shop->warranty, "Twelve months on parts that this shop fitted, when the unit is run with clean oil and the retorque was done.");
  shop->keep_years = 3;
  for (PawlPaper paper = PAWL_PAPER_A4; paper <= PAWL_PAPER_LETTER; paper++)
    for (PawlPrint print = PAWL_PRINT_FULL; print <= PAWL_PRINT_CUSTOMER; print++)
      {
        const PawlReportOptions options = { .print = print, .paper = paper, .shop = shop, .issued = issued, .version = 1, .head = "93b2214749d28c15" };
        g_autoptr (PawlReport) report = pawl_report_new (pawl_bench_get_job (fixture->bench), NULL, &options, load_kept, NULL);

        g_test_message ("%s, %s, %s", (const char *) data, pawl_print_get_name (print), pawl_paper_get_name (paper));
        assert_pages (report);
        if (print == PAWL_PRINT_CUSTOMER)
          g_assert_cmpuint (pawl_report_get_n_pages (report), <=, 2);
      }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    {
      g_autofree char *path = g_strconcat ("/pages/", units[i], NULL);

      g_test_add (path, Fixture, units[i], set_up, test_pages, tear_down);
    }
  return g_test_run ();
}
