/* Tracing backwards, in a record of 100 invented jobs: what is found is held against a count over all jobs, made without any index. */
#include "many-jobs.h"
#include "record-fixture.h"
#include "recall/pawl-trace.h"

#define N_JOBS 100
#define N_READINGS 4

typedef struct {
  Fixture     base;
  PawlRecord *record;
} Bench;

static void
set_up (Bench        *bench,
        gconstpointer data)
{
  fixture_set_up (&bench->base, NULL);
  many_jobs_make (bench->base.path, N_JOBS, N_READINGS);
  bench->record = fixture_open_to_read (&bench->base);
}

static void
tear_down (Bench        *bench,
           gconstpointer data)
{
  g_clear_object (&bench->record);
  fixture_tear_down (&bench->base, NULL);
}

/* How many entries of job @n the question is about, by what the job was made of. */
static guint
count_expected (const PawlTraceQuestion *question,
                guint                    n)
{
  ManyJob job = many_job_describe (n);
  guint n_last = N_READINGS - 1, count = 0;

  if ((question->from != NULL && strcmp (job.day, question->from) < 0) || (question->to != NULL && strcmp (job.day, question->to) > 0)
      || (question->procedure != NULL && !g_str_equal (question->procedure, MANY_JOBS_PROCEDURE)))
    return 0;
  switch (question->by)
    {
    case PAWL_TOUCHED_BY_INSTRUMENT:
      for (guint i = 0; i < N_READINGS; i++)
        count += g_str_equal (question->name, "depth-gauge") || g_str_equal (job.instruments[i % 2], question->name);
      if (many_job_has_undone (n))
        count += g_str_equal (question->name, "depth-gauge") || g_str_equal (job.instruments[n_last % 2], question->name);
      return count;
    case PAWL_TOUCHED_BY_LOT:
      return g_str_equal (job.lot, question->name);
    case PAWL_TOUCHED_BY_REVISION:
      return g_str_equal (job.revision, question->name);
    case PAWL_TOUCHED_BY_PERSON: /* opening, disposition, note, readings, and the undo with what came after it */
      return g_str_equal (job.person, question->name) ? 3 + N_READINGS + (many_job_has_undone (n) ? 2 : 0) : 0;
    default:
      g_assert_not_reached ();
    }
}

typedef struct {
  PawlTraceQuestion question;
  gboolean          is_found;
} Case;

static const Case cases[] = {
  { { PAWL_TOUCHED_BY_INSTRUMENT, "M-03", NULL, NULL, NULL }, TRUE },
  { { PAWL_TOUCHED_BY_INSTRUMENT, "M-00", NULL, NULL, NULL }, TRUE },
  { { PAWL_TOUCHED_BY_INSTRUMENT, "M-03", NULL, "2024-01-03", "2024-01-05" }, TRUE },
  { { PAWL_TOUCHED_BY_INSTRUMENT, "M-03", NULL, "2024-01-03", "2024-01-03" }, TRUE },
  { { PAWL_TOUCHED_BY_INSTRUMENT, "M-03", NULL, "2024-01-05", NULL }, TRUE },
  { { PAWL_TOUCHED_BY_INSTRUMENT, "M-03", NULL, NULL, "2024-01-02" }, TRUE },
  { { PAWL_TOUCHED_BY_INSTRUMENT, "M-03", NULL, "2025-01-01", NULL }, FALSE },
  { { PAWL_TOUCHED_BY_INSTRUMENT, "depth-gauge", NULL, NULL, NULL }, TRUE },
  { { PAWL_TOUCHED_BY_INSTRUMENT, "M-0", NULL, NULL, NULL }, FALSE }, /* a whole name, not the beginning of one */
  { { PAWL_TOUCHED_BY_INSTRUMENT, "%", NULL, NULL, NULL }, FALSE },
  { { PAWL_TOUCHED_BY_LOT, "L-0002", NULL, NULL, NULL }, TRUE },
  { { PAWL_TOUCHED_BY_LOT, "M-03", NULL, NULL, NULL }, FALSE },
  { { PAWL_TOUCHED_BY_REVISION, "2", NULL, NULL, NULL }, TRUE },
  { { PAWL_TOUCHED_BY_REVISION, "2", MANY_JOBS_PROCEDURE, NULL, NULL }, TRUE },
  { { PAWL_TOUCHED_BY_REVISION, "2", "another", NULL, NULL }, FALSE },
  { { PAWL_TOUCHED_BY_PERSON, "Ossie Carne", NULL, NULL, NULL }, TRUE },
};

static void
check_touched (const PawlTraceQuestion *question,
               GPtrArray               *touched)
{
  guint n_jobs = 0;

  for (guint n = 0; n < N_JOBS; n++)
    n_jobs += count_expected (question, n) > 0;
  g_assert_cmpuint (touched->len, ==, n_jobs);
  for (guint i = 0; i < touched->len; i++)
    {
      const PawlTouched *line = touched->pdata[i];
      guint n = (guint) g_ascii_strtoull (line->opening->serial + strlen ("SN-"), NULL, 10);

      g_assert_cmpuint (line->n, ==, count_expected (question, n));
      g_assert_cmpstr (line->first, ==, many_job_describe (n).day);
      g_assert_cmpstr (line->last, ==, many_job_describe (n).day);
      if (i > 0)
        g_assert_cmpstr (((PawlTouched *) touched->pdata[i - 1])->first, <=, line->first);
    }
}

static void
test_cases (Bench        *bench,
            gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (GPtrArray) touched = pawl_trace (bench->record, &cases[i].question, &error);
      g_autoptr (GPtrArray) entries = NULL;
      guint n_entries = 0;

      g_assert_no_error (error);
      g_test_message ("%s: %u jobs", cases[i].question.name, touched->len);
      g_assert_true ((touched->len > 0) == cases[i].is_found);
      check_touched (&cases[i].question, touched);

      /* The entries themselves are as many as the index counts. */
      entries = pawl_trace_list_entries (bench->record, &cases[i].question, touched, &error);
      g_assert_no_error (error);
      for (guint j = 0; j < touched->len; j++)
        n_entries += ((PawlTouched *) touched->pdata[j])->n;
      g_assert_cmpuint (entries->len, ==, n_entries);
    }
}

static void
test_undone (Bench        *bench,
             gconstpointer data)
{
  const PawlTraceQuestion question = { PAWL_TOUCHED_BY_INSTRUMENT, "depth-gauge", NULL, NULL, NULL };
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) touched = pawl_trace (bench->record, &question, &error);
  g_autoptr (GPtrArray) entries = pawl_trace_list_entries (bench->record, &question, touched, &error);
  guint n_undone = 0;

  g_assert_no_error (error);
  for (guint i = 0; i < entries->len; i++)
    {
      const PawlTraceEntry *line = entries->pdata[i];

      n_undone += line->is_undone;
      if (line->is_undone)
        g_assert_cmpstr (pawl_entry_get_subject (line->entry), ==, "place-3");
    }
  g_assert_cmpuint (n_undone, ==, N_JOBS / 10);
}

/* "Between two dates" are days where the work was done, whatever the offset. */
static void
test_days (Bench        *bench,
           gconstpointer data)
{
  static const char *const times[] = { "2026-03-01T23:30:00-05:00", "2026-03-02T00:30:00+13:00", "2026-03-01T00:00:00Z" };
  const PawlTraceQuestion question = { PAWL_TOUCHED_BY_PERSON, "  nobody ELSE ", NULL, "2026-03-01", "2026-03-01" };
  g_autoptr (PawlRecord) record = fixture_open (&bench->base);
  g_autoptr (GPtrArray) touched = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *job = pawl_record_find_job (record, "SN-00001", &error);

  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (times); i++)
    {
      g_autoptr (GDateTime) at = g_date_time_new_from_iso8601 (times[i], NULL);
      g_autoptr (PawlEntry) note = pawl_entry_new (PAWL_ENTRY_NOTED, "", "Nobody Else", at);

      pawl_entry_set (note, "text", "Looked at it");
      g_assert_true (pawl_record_append_one (record, job, note, &error));
    }

  touched = pawl_trace (record, &question, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (touched->len, ==, 1);
  g_assert_cmpuint (((PawlTouched *) touched->pdata[0])->n, ==, 2);
  entries = pawl_trace_list_entries (record, &question, touched, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (entries->len, ==, 2);
}

static void
test_bad_days (Bench        *bench,
               gconstpointer data)
{
  static const char *const days[][2] = {
    { "2026-02-30", NULL }, { "26-02-03", NULL }, { "2026-2-3", NULL }, { "yesterday", NULL }, { "", NULL }, { NULL, "2026-13-01" },
    { "2026-03-02x", NULL }, { "0000-01-01", NULL }, { "2026-03-02", "2026-03-01" }, { "+026-03-02", NULL }, { "2026--3-02", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (days); i++)
    {
      const PawlTraceQuestion question = { PAWL_TOUCHED_BY_INSTRUMENT, "M-03", NULL, days[i][0], days[i][1] };
      g_autoptr (GError) error = NULL;

      g_assert_null (pawl_trace (bench->record, &question, &error));
      g_assert_error (error, PAWL_RECALL_ERROR, PAWL_RECALL_ERROR_BAD_DAY);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Bench, NULL, set_up, test, tear_down)
  ADD ("/trace/cases", test_cases);
  ADD ("/trace/undone", test_undone);
  ADD ("/trace/days", test_days);
  ADD ("/trace/bad-days", test_bad_days);

  return g_test_run ();
}
