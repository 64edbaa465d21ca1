/*
 * Recall: how long it takes to find, trace and open in a record of 10,000 jobs with 100 readings each, which the library makes in the same run,
 * beside the 100 rows of a job out of a plain SQLite table of as many rows by its index. Each is done on a connection just opened, with nothing in SQLite's cache.
 * Prints a table; asserts nothing of time, but that as many jobs are found as were made to be found.
 * Usage: bench-recall [--quick | N_JOBS [FOLDER]]    in FOLDER the record stays, and is taken as it is when it is there already
 */
#include <stdlib.h>

#include <glib/gstdio.h>
#include <sqlite3.h>

#include "bench/pawl-bench.h"
#include "many-jobs.h"
#include "recall/pawl-trace.h"

#define N_READINGS 100
#define N_RUNS 9
#define GOAL_RECALL_MSEC 100
#define GOAL_OPEN_MSEC 50

typedef struct {
  char *folder, *path, *plain_path;
  guint n_jobs;
} Place;

/* What is measured; gives back how much was found. */
typedef struct {
  const char *what;
  guint     (*work) (PawlRecord *record, const char *text);
  const char *text;
  guint     (*count) (guint n_jobs); /* (nullable): what must be found */
  double      goal_msec;             /* 0: none */
} Case;

/* ---- the plain table ---- */

static void
run (sqlite3 *handle, const char *sql)
{
  if (sqlite3_exec (handle, sql, NULL, NULL, NULL) != SQLITE_OK)
    g_error ("%s: %s", sqlite3_errmsg (handle), sql);
}

static void
make_plain (const Place *place)
{
  sqlite3 *handle = NULL;
  g_autofree char *fill = g_strdup_printf (
    "WITH RECURSIVE n (i) AS (SELECT 0 UNION ALL SELECT i + 1 FROM n WHERE i + 1 < %u)"
    " INSERT INTO reading SELECT printf ('job-%%05d', i / %d), i %% %d, 'place', '24.987', '2026-05-04T09:16:00+02:00', 'Jory Tregenza' FROM n",
    place->n_jobs * N_READINGS, N_READINGS, N_READINGS);

  g_assert_cmpint (sqlite3_open (place->plain_path, &handle), ==, SQLITE_OK);
  run (handle, "PRAGMA synchronous = OFF; CREATE TABLE reading (job TEXT, number INTEGER, ask TEXT, answer TEXT, at TEXT, person TEXT);"
               "CREATE INDEX reading_by_job ON reading (job, number)");
  run (handle, fill);
  sqlite3_close (handle);
}

/* The time of one select on a connection just opened, seconds. */
static double
select_plainly (const Place *place, guint n)
{
  sqlite3 *handle = NULL;
  sqlite3_stmt *statement = NULL;
  g_autofree char *job = g_strdup_printf ("job-%05u", n);
  guint n_rows = 0;
  gint64 begun;

  g_assert_cmpint (sqlite3_open (place->plain_path, &handle), ==, SQLITE_OK);
  run (handle, "SELECT count (*) FROM sqlite_schema");
  begun = g_get_monotonic_time ();
  g_assert_cmpint (sqlite3_prepare_v2 (handle, "SELECT * FROM reading WHERE job = ? ORDER BY number", -1, &statement, NULL), ==, SQLITE_OK);
  sqlite3_bind_text (statement, 1, job, -1, SQLITE_TRANSIENT);
  for (; sqlite3_step (statement) == SQLITE_ROW; n_rows++)
    for (int i = 0; i < sqlite3_column_count (statement); i++)
      sqlite3_column_text (statement, i);
  sqlite3_finalize (statement);
  begun = g_get_monotonic_time () - begun;
  g_assert_cmpuint (n_rows, ==, N_READINGS);
  sqlite3_close (handle);
  return (double) begun / 1e6;
}

/* ---- what is measured ---- */

static guint
find (PawlRecord *record, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlFound) found = pawl_find (record, text, 50, &error);

  g_assert_no_error (error);
  return found->n_jobs;
}

static guint
trace (PawlRecord *record, const PawlTraceQuestion *question)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) touched = pawl_trace (record, question, &error);

  g_assert_no_error (error);
  return touched->len;
}

static guint
trace_instrument (PawlRecord *record, const char *text)
{
  return trace (record, &(PawlTraceQuestion) { .by = PAWL_TOUCHED_BY_INSTRUMENT, .name = text });
}

static guint
trace_month (PawlRecord *record, const char *text)
{
  return trace (record, &(PawlTraceQuestion) { .by = PAWL_TOUCHED_BY_INSTRUMENT, .name = text, .from = "2024-01-01", .to = "2024-01-30" });
}

static guint
trace_lot (PawlRecord *record, const char *text)
{
  return trace (record, &(PawlTraceQuestion) { .by = PAWL_TOUCHED_BY_LOT, .name = text });
}

static guint
trace_revision (PawlRecord *record, const char *text)
{
  return trace (record, &(PawlTraceQuestion) { .by = PAWL_TOUCHED_BY_REVISION, .name = text, .procedure = MANY_JOBS_PROCEDURE });
}

static guint
trace_person (PawlRecord *record, const char *text)
{
  return trace (record, &(PawlTraceQuestion) { .by = PAWL_TOUCHED_BY_PERSON, .name = text });
}

/* The readings taken with an instrument in a month. */
static guint
list_readings (PawlRecord *record, const char *text)
{
  const PawlTraceQuestion question = { .by = PAWL_TOUCHED_BY_INSTRUMENT, .name = text, .from = "2024-01-01", .to = "2024-01-30" };
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) touched = pawl_trace (record, &question, &error);
  g_autoptr (GPtrArray) entries = pawl_trace_list_entries (record, &question, touched, &error);

  g_assert_no_error (error);
  return entries->len;
}

static guint
open_job (PawlRecord *record, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *id = pawl_record_find_job (record, text, &error);
  g_autoptr (PawlBench) bench = id != NULL ? pawl_bench_resume (record, id, NULL, &error) : NULL;

  g_assert_no_error (error);
  return pawl_job_get_entries (pawl_bench_get_job (bench))->len;
}

static guint
list_jobs (PawlRecord *record, const char *text)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) lines = pawl_record_list_jobs (record, &error);

  g_assert_no_error (error);
  return lines->len;
}

/* ---- what must be found ---- */

static guint count_one (guint n_jobs) { return 1; }
static guint count_all (guint n_jobs) { return n_jobs; }
static guint count_lot (guint n_jobs) { return MANY_JOBS_PER_LOT; }
static guint count_entries (guint n_jobs) { return N_READINGS + 3; } /* the opening, a disposition, a note; not one of every tenth job */

static guint
count_notes (guint n_jobs)
{
  guint count = 0;

  for (guint n = 0; n < n_jobs; n++)
    count += strstr (many_job_describe (n).note, "punch") != NULL;
  return count;
}

static guint
count_revision (guint n_jobs)
{
  guint count = 0;

  for (guint n = 0; n < n_jobs; n++)
    count += g_str_equal (many_job_describe (n).revision, "2");
  return count;
}

static guint
count_person (guint n_jobs)
{
  guint count = 0;

  for (guint n = 0; n < n_jobs; n++)
    count += g_str_equal (many_job_describe (n).person, "Ossie Carne");
  return count;
}

static guint
count_instrument_until (guint n_jobs, const char *last_day)
{
  guint count = 0;

  for (guint n = 0; n < n_jobs; n++)
    {
      ManyJob job = many_job_describe (n);

      count += strcmp (job.day, last_day) <= 0 && (g_str_equal (job.instruments[0], "M-03") || g_str_equal (job.instruments[1], "M-03"));
    }
  return count;
}

static guint count_instrument (guint n_jobs) { return count_instrument_until (n_jobs, "9999-12-31"); }
static guint count_month (guint n_jobs) { return count_instrument_until (n_jobs, "2024-01-30"); }

static const Case cases[] = {
  { "find a serial", find, "SN-00042", count_one, GOAL_RECALL_MSEC },
  { "find the beginning of all serials", find, "SN-", count_all, GOAL_RECALL_MSEC },
  { "find a word of some notes", find, "punch", count_notes, GOAL_RECALL_MSEC },
  { "find a part that is in all jobs", find, "basket", count_all, GOAL_RECALL_MSEC },
  { "find a serial and a part", find, "SN-00042 basket", count_one, GOAL_RECALL_MSEC },
  { "trace an instrument", trace_instrument, "M-03", count_instrument, GOAL_RECALL_MSEC },
  { "trace it through a month", trace_month, "M-03", count_month, GOAL_RECALL_MSEC },
  { "trace a tool that is in all jobs", trace_instrument, "depth-gauge", count_all, GOAL_RECALL_MSEC },
  { "trace a lot", trace_lot, "L-0001", count_lot, GOAL_RECALL_MSEC },
  { "trace a revision", trace_revision, "2", count_revision, GOAL_RECALL_MSEC },
  { "trace a person", trace_person, "Ossie Carne", count_person, GOAL_RECALL_MSEC },
  { "list an instrument's readings of a month", list_readings, "M-03", NULL, 0 },
  { "open a job", open_job, "SN-00041", count_entries, GOAL_OPEN_MSEC },
  { "list all jobs", list_jobs, "", count_all, 0 },
};

/* ---- the table ---- */

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  return (*(const double *) a > *(const double *) b) - (*(const double *) a < *(const double *) b);
}

static double
get_median (double *seconds)
{
  qsort (seconds, N_RUNS, sizeof *seconds, compare_doubles);
  return seconds[N_RUNS / 2];
}

static double
measure_plain (const Place *place)
{
  double seconds[N_RUNS];

  for (guint i = 0; i < N_RUNS; i++)
    seconds[i] = select_plainly (place, (i * 7919) % place->n_jobs);
  return get_median (seconds);
}

static double
measure (const Place *place, const Case *case_, guint *n_found)
{
  double seconds[N_RUNS];

  for (guint i = 0; i < N_RUNS; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (PawlRecord) record = pawl_record_open (place->path, PAWL_RECORD_OPEN_READ_ONLY, NULL, &error);
      gint64 begun = g_get_monotonic_time ();

      g_assert_no_error (error);
      *n_found = case_->work (record, case_->text);
      seconds[i] = (double) (g_get_monotonic_time () - begun) / 1e6;
    }
  return get_median (seconds);
}

static void
measure_all (const Place *place)
{
  double plain = measure_plain (place);

  g_print ("%-42s  %9s  %9s  %9s  %s\n", "what", "found", "ms", "to plain", "goal");
  g_print ("%-42s  %9u  %9.2f  %9.1f\n", "100 rows of a plain table, by its index", N_READINGS, plain * 1e3, 1.);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      guint n_found = 0;
      double seconds = measure (place, &cases[i], &n_found);
      g_autofree char *goal = cases[i].goal_msec > 0
                              ? g_strdup_printf ("%.0f ms%s", cases[i].goal_msec, seconds * 1e3 <= cases[i].goal_msec ? "" : ", missed") : g_strdup ("");

      if (cases[i].count != NULL)
        g_assert_cmpuint (n_found, ==, cases[i].count (place->n_jobs));
      g_print ("%-42s  %9u  %9.2f  %9.1f  %s\n", cases[i].what, n_found, seconds * 1e3, seconds / plain, goal);
    }
}

static void
make (const Place *place)
{
  gint64 begun = g_get_monotonic_time ();
  GStatBuf info;

  if (g_file_test (place->path, G_FILE_TEST_EXISTS))
    return;
  many_jobs_make (place->path, place->n_jobs, N_READINGS);
  g_assert_cmpint (g_stat (place->path, &info), ==, 0);
  g_print ("%u jobs, %u readings: %.0f MB, made unsynced in %.0f s\n\n", place->n_jobs, place->n_jobs * N_READINGS, (double) info.st_size / 1e6,
           (double) (g_get_monotonic_time () - begun) / 1e6);
  make_plain (place);
}

int
main (int argc, char **argv)
{
  gboolean is_quick = argc > 1 && g_str_equal (argv[1], "--quick");
  Place place = { .n_jobs = is_quick ? 100 : argc > 1 ? (guint) g_ascii_strtoull (argv[1], NULL, 10) : 10000 };
  g_autoptr (GError) error = NULL;

  if (place.n_jobs < 100)
    {
      g_printerr ("bench-recall: %s: 100 jobs or more\n", argv[1]);
      return 2;
    }
  place.folder = argc > 2 ? g_strdup (argv[2]) : g_dir_make_tmp ("pawl-recall-XXXXXX", &error);
  g_assert_no_error (error);
  place.path = g_build_filename (place.folder, "record.db", NULL);
  place.plain_path = g_build_filename (place.folder, "plain.db", NULL);
  make (&place);
  measure_all (&place);

  if (argc <= 2)
    {
      g_remove (place.path);
      g_remove (place.plain_path);
      g_rmdir (place.folder);
    }
  g_free (place.path);
  g_free (place.plain_path);
  g_free (place.folder);
  return 0;
}
