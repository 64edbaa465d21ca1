/* The list of jobs and finding one, and that both stay quick when there are many. */
#include <string.h>

#include "record-fixture.h"
#include "record/pawl-record-private.h"
#include "record/pawl-record-queries.h"

static char *
open_job (Fixture    *fixture,
          PawlRecord *record,
          const char *serial,
          const char *work_order)
{
  g_autoptr (PawlEntry) opened = fixture_make_opened (fixture, serial, work_order);
  g_autoptr (GError) error = NULL;
  char *job_id = pawl_record_open_job (record, opened, &error);

  g_assert_no_error (error);
  return job_id;
}

static void
append (PawlRecord *record,
        const char *job_id,
        PawlEntry  *entry) /* (transfer full) */
{
  g_autoptr (PawlEntry) owned = entry;
  g_autoptr (GError) error = NULL;

  g_assert_true (pawl_record_append_one (record, job_id, owned, &error));
  g_assert_no_error (error);
}

static GPtrArray *
list_jobs (PawlRecord *record)
{
  g_autoptr (GError) error = NULL;
  GPtrArray *lines = pawl_record_list_jobs (record, &error);

  g_assert_no_error (error);
  return lines;
}

/* ---- the list ---- */

static void
test_list (Fixture      *fixture,
           gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *first = open_job (fixture, record, "SN-1907", "W-0412");
  g_autofree char *second = open_job (fixture, record, NULL, NULL);
  g_autofree char *third = open_job (fixture, record, "SN-2001", "W-0500");
  g_autoptr (GPtrArray) lines = NULL;
  const PawlJobLine *line;

  append (record, first, fixture_make_answer (fixture, "float-height", "33,3 mm"));

  lines = list_jobs (record);
  g_assert_cmpuint (lines->len, ==, 3);

  line = lines->pdata[0]; /* the one worked on last */
  g_assert_cmpstr (line->id, ==, first);
  g_assert_cmpstr (line->title, ==, "Sidedraft carburetor, full rebuild");
  g_assert_cmpstr (line->unit, ==, "Pellow & Daunt SD-3");
  g_assert_cmpstr (line->serial, ==, "SN-1907");
  g_assert_cmpstr (line->work_order, ==, "W-0412");
  g_assert_cmpstr (line->customer, ==, "Harbour launch No. 2");
  g_assert_cmpuint (line->n_entries, ==, 2);
  g_assert_false (line->is_signed);
  g_assert_cmpint (g_date_time_compare (line->opened, line->last), <, 0);

  g_assert_cmpstr (((PawlJobLine *) lines->pdata[1])->id, ==, third);
  line = lines->pdata[2];
  g_assert_cmpstr (line->id, ==, second);
  g_assert_cmpstr (line->serial, ==, "");
  g_assert_cmpstr (line->work_order, ==, "");
  g_assert_cmpuint (line->n_entries, ==, 1);
}

static gboolean
is_listed_as_signed (PawlRecord *record)
{
  g_autoptr (GPtrArray) lines = list_jobs (record);

  g_assert_cmpuint (lines->len, ==, 1);
  return ((PawlJobLine *) lines->pdata[0])->is_signed;
}

static void
test_signed (Fixture      *fixture,
             gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = open_job (fixture, record, NULL, NULL);
  g_autoptr (PawlEntry) signature = pawl_entry_new (PAWL_ENTRY_SIGNED, NULL, FIXTURE_PERSON, fixture->now);

  g_assert_false (is_listed_as_signed (record));
  append (record, job_id, pawl_entry_ref (signature));
  g_assert_true (is_listed_as_signed (record));
  append (record, job_id, pawl_entry_new (PAWL_ENTRY_NOTED, NULL, FIXTURE_PERSON, fixture->now));
  g_assert_true (is_listed_as_signed (record));
  append (record, job_id, pawl_entry_new (PAWL_ENTRY_UNDONE, pawl_entry_get_id (signature), FIXTURE_PERSON, fixture->now));
  g_assert_false (is_listed_as_signed (record));
  append (record, job_id, pawl_entry_new (PAWL_ENTRY_SIGNED, NULL, FIXTURE_PERSON, fixture->now));
  g_assert_true (is_listed_as_signed (record));
}

/* Clocks of different offsets: 10:00+05:00 is before 09:00+02:00, whatever the text says. */
static void
test_order_across_offsets (Fixture      *fixture,
                           gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *later = NULL;
  g_autofree char *earlier = NULL;
  g_autoptr (GPtrArray) lines = NULL;

  g_date_time_unref (fixture->now);
  fixture->now = g_date_time_new_from_iso8601 ("2026-05-04T09:00:00+02:00", NULL);
  later = open_job (fixture, record, NULL, NULL);
  g_date_time_unref (fixture->now);
  fixture->now = g_date_time_new_from_iso8601 ("2026-05-04T10:00:00+05:00", NULL);
  earlier = open_job (fixture, record, NULL, NULL);

  lines = list_jobs (record);
  g_assert_cmpstr (((PawlJobLine *) lines->pdata[0])->id, ==, later);
  g_assert_cmpstr (((PawlJobLine *) lines->pdata[1])->id, ==, earlier);
}

/* One damaged job must not hide the others, and can still be chosen so that verify can name what is wrong. */
static void
test_list_with_damage (Fixture      *fixture,
                       gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *sound = open_job (fixture, record, "SN-1", "W-1");
  g_autofree char *damaged = open_job (fixture, record, "SN-2", "W-2");
  g_autofree char *sql = g_strdup_printf ("UPDATE entry SET body = '{', at = 'never' WHERE id = '%s'", damaged);
  g_autofree char *found = NULL;
  g_autoptr (GPtrArray) lines = NULL;
  g_autoptr (GError) error = NULL;

  fixture_tamper (fixture->path, sql);
  lines = list_jobs (record);
  g_assert_cmpuint (lines->len, ==, 2);
  g_assert_cmpstr (((PawlJobLine *) lines->pdata[0])->id, ==, damaged);
  g_assert_nonnull (strstr (((PawlJobLine *) lines->pdata[0])->title, "damaged"));
  g_assert_nonnull (((PawlJobLine *) lines->pdata[0])->opened);
  g_assert_cmpstr (((PawlJobLine *) lines->pdata[1])->id, ==, sound);
  g_assert_cmpstr (((PawlJobLine *) lines->pdata[1])->serial, ==, "SN-1");

  found = pawl_record_find_job (record, damaged, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (found, ==, damaged);
  g_assert_null (pawl_record_load_entries (record, damaged, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
  g_assert_nonnull (strstr (error->message, fixture->path));
}

/* ---- finding ---- */

/* Jobs a0000000… to a0000010…: 0 and 1 have the same serial, 2 has a work order that is 3's serial, 4 one that looks like an id. */
static void
make_jobs (Fixture    *fixture,
           PawlRecord *record)
{
  static const struct {
    const char *serial, *work_order;
  } jobs[] = {
    { "SN-1907", "W-0412" }, { "SN-1907", "W-0413" }, { NULL, "77" }, { "77", NULL }, { "Ö 12 %", "a0000001" },
  };

  for (guint i = 0; i < 17; i++)
    {
      g_autofree char *job_id = open_job (fixture, record, i < G_N_ELEMENTS (jobs) ? jobs[i].serial : NULL, i < G_N_ELEMENTS (jobs) ? jobs[i].work_order : NULL);

      g_assert_nonnull (job_id);
    }
}

static void
test_find (Fixture      *fixture,
           gconstpointer data)
{
  static const struct {
    const char *text;
    int         job; /* -1 none, -2 several */
  } cases[] = {
    { "a0000000-0000-4000-8000-000000000000", 0 }, /* the id */
    { "A0000000-0000-4000-8000-000000000000", 0 }, /* copied in capitals */
    { "  a0000002-0000-4000-8000-000000000000\n", 2 },
    { "a0000003-0000", 3 },  /* a beginning */
    { "a0000003", 3 },
    { "A0000003", 3 },
    { "a0000010", 16 },
    { "a000001", 16 },       /* of one job only: a0000010 */
    { "a00000", -2 },        /* of all */
    { "a0000", -1 },         /* five characters are too short */
    { "a0000001", -2 },      /* beginning of one, work order of another */
    { "a0000001-0000-4000-8000-000000000000", 1 },
    { "a0000001-0000-4000-8000-00000000000z", -1 },
    { "a0000001-0000-4000-8000-0000000000000", -1 },
    { "W-0412", 0 },         /* a work order */
    { "w-0413", 1 },
    { "W-041", -1 },         /* only whole ones */
    { "SN-1907", -2 },       /* the same unit came back */
    { "77", -2 },            /* work order of one, serial of another */
    { "Ö 12 %", 4 },
    { "Ö 12 _", -1 },        /* nothing is a wildcard */
    { "%", -1 },
    { "", -1 },
    { "'; DROP TABLE entry; --", -1 },
  };
  g_autoptr (PawlRecord) record = fixture_open (fixture);

  make_jobs (fixture, record);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *found = pawl_record_find_job (record, cases[i].text, &error);
      g_autofree char *expected = g_strdup_printf ("a00000%02x-0000-4000-8000-000000000000", cases[i].job);

      if (cases[i].job >= 0)
        {
          g_assert_no_error (error);
          g_assert_cmpstr (found, ==, expected);
          continue;
        }

      g_assert_null (found);
      g_assert_error (error, PAWL_RECORD_ERROR, (cases[i].job == -1 ? PAWL_RECORD_ERROR_NO_SUCH_JOB : PAWL_RECORD_ERROR_AMBIGUOUS_JOB));
      g_assert_nonnull (strstr (error->message, fixture->path));
    }
}

static void
test_ambiguous_tells_candidates (Fixture      *fixture,
                                 gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (GError) error = NULL;
  g_autoptr (GError) many = NULL;

  make_jobs (fixture, record);
  g_assert_null (pawl_record_find_job (record, "SN-1907", &error));
  g_assert_nonnull (strstr (error->message, "a0000000-0000-4000-8000-000000000000"));
  g_assert_nonnull (strstr (error->message, "a0000001-0000-4000-8000-000000000000"));
  g_assert_nonnull (strstr (error->message, "2026-05-04"));
  g_assert_null (pawl_record_find_job (record, "a00000", &many));
  g_assert_nonnull (strstr (many->message, "17 jobs"));
  g_assert_nonnull (strstr (many->message, "12 more"));
}

/* ---- corrected ---- */

static PawlEntry *
make_correction (Fixture    *fixture,
                 const char *field,
                 const char *value)
{
  PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_CORRECTED, NULL, FIXTURE_PERSON, fixture->now);

  pawl_entry_set (entry, field, value);
  pawl_entry_set (entry, "reason", "Read again");
  return entry;
}

static void
check_found (PawlRecord *record,
             const char *text,
             const char *job_id) /* (nullable): none */
{
  g_autoptr (GError) error = NULL;
  g_autofree char *found = pawl_record_find_job (record, text, &error);

  g_assert_cmpstr (found, ==, job_id);
  if (job_id == NULL)
    g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB);
}

/* The list tells what is in force; found is a job by all that it was ever called. */
static void
test_corrected (Fixture      *fixture,
                gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *other = open_job (fixture, record, "SN-1", "W-1");
  g_autofree char *job_id = open_job (fixture, record, "SN-1970", "W-0412");
  g_autoptr (PawlEntry) slip = make_correction (fixture, "serial", "SN-7190");
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) lines = NULL;
  const PawlJobLine *line;

  append (record, job_id, make_correction (fixture, "serial", "SN-1790"));
  append (record, job_id, make_correction (fixture, "work-order", "-"));
  append (record, job_id, make_correction (fixture, "serial", "SN-1907"));
  append (record, job_id, pawl_entry_ref (slip));
  append (record, job_id, pawl_entry_new (PAWL_ENTRY_UNDONE, pawl_entry_get_id (slip), FIXTURE_PERSON, fixture->now));
  lines = list_jobs (record);
  line = lines->pdata[0];
  g_assert_cmpstr (line->serial, ==, "SN-1907");
  g_assert_cmpstr (line->work_order, ==, "");
  g_assert_cmpstr (line->customer, ==, "Harbour launch No. 2");
  g_assert_cmpuint (line->n_entries, ==, 6);
  line = lines->pdata[1];
  g_assert_cmpstr (line->serial, ==, "SN-1");
  check_found (record, "sn-1907", job_id);
  check_found (record, "SN-1970", job_id);
  check_found (record, "SN-1790", job_id);
  check_found (record, "SN-7190", job_id); /* a report with it may have been printed meanwhile */
  check_found (record, "w-0412", job_id);
  check_found (record, "SN-1", other);
  append (record, other, make_correction (fixture, "serial", "SN-1970"));
  g_assert_null (pawl_record_find_job (record, "SN-1970", &error)); /* the one is, the other was */
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_AMBIGUOUS_JOB);
  g_assert_nonnull (strstr (error->message, "2026-05-04, corrected since)"));
  g_assert_nonnull (strstr (error->message, "2026-05-04)"));
  check_found (record, "-", NULL);
  fixture_check_sound (record);
}

/* ---- many ---- */

/*
 * 2,000 jobs of 20 entries, put in past Pawl in one transaction: their digests are made up, and nothing here looks at them.
 * Every third one is signed.
 */
static void
fill (Fixture *fixture)
{
  static const char sql[] =
    "BEGIN;"
    "WITH RECURSIVE job (j) AS (SELECT 1 UNION ALL SELECT j + 1 FROM job WHERE j < 2000),"
    "  place (n) AS (SELECT 1 UNION ALL SELECT n + 1 FROM place WHERE n < 20)"
    " INSERT INTO entry SELECT printf ('%08x-%04x', j, CASE n WHEN 1 THEN 0 ELSE n END), printf ('%08x-%04x', j, 0), n, '',"
    "  CASE WHEN n = 1 THEN 'opened' WHEN n = 20 AND j % 3 = 0 THEN 'signed' ELSE 'answered' END, '', 'Jory Tregenza',"
    "  '2026-05-04T09:15:00.000000+02:00', printf ('2026-05-04T%02d:%02d:%02d.000000+02:00', j / 3600, j / 60 % 60, j % 60),"
    "  CASE n WHEN 1 THEN json_object ('serial', 'SN-' || j, 'title', 'Job ' || j, 'work-order', 'W-' || j) ELSE '{\"answer\":\"1\"}' END, 'x'"
    "  FROM job, place;"
    "INSERT INTO head (job, number, digest) SELECT job, max (number), 'x' FROM entry GROUP BY job;"
    "COMMIT;";

  fixture_run_sql (fixture->path, sql);
}

/* These hold the opening entries and no others, or what is stated of instruments: to walk one is to walk the jobs, or the register. */
static gboolean
is_walk_of_jobs (const char *line)
{
  return g_str_has_suffix (line, " USING INDEX entry_opened") || g_str_has_suffix (line, " USING INDEX entry_serial")
         || g_str_has_suffix (line, " USING INDEX entry_work_order") || g_str_has_suffix (line, " USING INDEX entry_instrument")
         || g_str_has_suffix (line, " USING INDEX entry_person");
}

/* Whether it would walk all entries of each job of the list, for one that it could have looked up. */
static gboolean
is_walk_of_a_job (const char *line)
{
  return g_str_has_suffix (line, " USING INDEX entry_by_job (job=?)");
}

/* How SQLite would go about it: by an index, or along an index of opening entries; never along all entries. */
static void
check_plan (PawlRecord *record,
            const char *sql)
{
  g_autofree char *explain = g_strconcat ("EXPLAIN QUERY PLAN ", sql, NULL);
  sqlite3_stmt *statement = NULL;
  guint n_lines = 0;

  g_assert_cmpint (sqlite3_prepare_v2 (pawl_record_peek_handle (record), explain, -1, &statement, NULL), ==, SQLITE_OK);
  while (sqlite3_step (statement) == SQLITE_ROW)
    {
      const char *line = (const char *) sqlite3_column_text (statement, 3);

      g_test_message ("%s", line);
      if (g_str_equal (sql, PAWL_SQL_LIST_JOBS) && is_walk_of_a_job (line))
        g_error ("this would walk all entries of each job: %s", line);
      if (g_str_has_prefix (line, "SCAN") && !is_walk_of_jobs (line))
        g_error ("this would walk all entries: %s", line);
      n_lines++;
    }
  sqlite3_finalize (statement);
  g_assert_cmpuint (n_lines, >, 0);
}

static void
test_many (Fixture      *fixture,
           gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (GPtrArray) lines = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *by_serial = NULL;
  g_autofree char *by_order = NULL;
  g_autofree char *by_prefix = NULL;
  const PawlJobLine *newest;
  guint n_signed = 0;

  fill (fixture);
  check_plan (record, PAWL_SQL_LIST_JOBS);
  check_plan (record, PAWL_SQL_FIND_JOBS);
  check_plan (record, PAWL_SQL_LOAD_CORRECTED);
  check_plan (record, PAWL_SQL_LOAD_OPENING);
  check_plan (record, PAWL_SQL_LOAD_ENTRIES);
  check_plan (record, PAWL_SQL_LOAD_HEADS);
  check_plan (record, PAWL_SQL_LOAD_INSTRUMENTS);
  check_plan (record, PAWL_SQL_LOAD_LEARNERS);

  lines = list_jobs (record);
  g_assert_cmpuint (lines->len, ==, 2000);
  newest = lines->pdata[0];
  g_assert_cmpstr (newest->title, ==, "Job 2000");
  g_assert_cmpuint (newest->n_entries, ==, 20);
  for (guint i = 0; i < lines->len; i++)
    n_signed += ((PawlJobLine *) lines->pdata[i])->is_signed ? 1 : 0;
  g_assert_cmpuint (n_signed, ==, 666); /* 2000 / 3 */

  by_serial = pawl_record_find_job (record, "sn-1234", &error);
  g_assert_no_error (error);
  by_order = pawl_record_find_job (record, "W-1234", &error);
  g_assert_no_error (error);
  by_prefix = pawl_record_find_job (record, "000004d2", &error); /* 1234 */
  g_assert_no_error (error);
  g_assert_cmpstr (by_serial, ==, "000004d2-0000");
  g_assert_cmpstr (by_order, ==, by_serial);
  g_assert_cmpstr (by_prefix, ==, by_serial);

  entries = pawl_record_load_entries (record, by_serial, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (entries->len, ==, 20);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/jobs/list", test_list);
  ADD ("/jobs/signed", test_signed);
  ADD ("/jobs/order-across-offsets", test_order_across_offsets);
  ADD ("/jobs/list-with-damage", test_list_with_damage);
  ADD ("/jobs/find", test_find);
  ADD ("/jobs/ambiguous-tells-candidates", test_ambiguous_tells_candidates);
  ADD ("/jobs/corrected", test_corrected);
  ADD ("/jobs/many", test_many);

  return g_test_run ();
}
