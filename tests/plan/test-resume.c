/* A job taken up again: what waits and when it is called for, what is due first, what others did meanwhile. */
#include "invented-jobs.h"
#include "plan/pawl-resume.h"

typedef struct {
  PawlProcedure *procedure;
  GPtrArray     *entries;
  GDateTime     *start;
} Fixture;

static void
set_up (Fixture *self, gconstpointer data)
{
  self->procedure = make_procedure (30);
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  self->start = g_date_time_new_utc (2026, 11, 25, 8, 0, 0);
  g_ptr_array_add (self->entries, pawl_entry_new (PAWL_ENTRY_OPENED, "", "Jenna Tregear", self->start));
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_object_unref (self->procedure);
  g_ptr_array_unref (self->entries);
  g_date_time_unref (self->start);
}

static PawlEntry *
append (Fixture *self, int minutes, PawlEntryKind kind, const char *subject, const char *person)
{
  g_autoptr(GDateTime) at = g_date_time_add_minutes (self->start, minutes);
  PawlEntry *entry = pawl_entry_new (kind, subject, person, at);

  g_ptr_array_add (self->entries, entry);
  return entry;
}

static PawlResume *
resume_at (Fixture *self, int minutes, const char *person, const char *revision)
{
  g_autoptr(GDateTime) now = g_date_time_add_minutes (self->start, minutes);
  g_autoptr(PawlJob) job = pawl_job_fold (self->procedure, self->entries, now);

  return pawl_resume_new (job, person, NULL, revision);
}

/* The soak w5 may come out after 40 min, is called for 10 min before its 3 h, and is late after them. */
static void
test_stages (Fixture *self, gconstpointer data)
{
  static const struct { int at; PawlWaitingStage stage; int next; } cases[] = {
    { 10, PAWL_WAITING_EARLY, 50 }, { 49, PAWL_WAITING_EARLY, 50 }, { 50, PAWL_WAITING_RIPE, 180 }, { 179, PAWL_WAITING_RIPE, 180 },
    { 180, PAWL_WAITING_CLOSING, 190 }, { 190, PAWL_WAITING_CLOSING, 190 }, { 191, PAWL_WAITING_LATE, -1 },
  };
  g_autoptr(PawlResume) resume = NULL;
  const PawlWaiting *wait;

  append (self, 10, PAWL_ENTRY_WAIT_STARTED, "w5", "Jenna Tregear");
  resume = resume_at (self, 10, NULL, NULL);
  g_assert_cmpuint (resume->waits->len, ==, 1);
  wait = resume->waits->pdata[0];
  g_assert_cmpstr (wait->name, ==, "Soak 5");
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GDateTime) now = g_date_time_add_minutes (self->start, cases[i].at);
      g_autoptr(GDateTime) next = pawl_waiting_dup_next (wait, now);

      g_assert_cmpint (pawl_waiting_get_stage (wait, now), ==, cases[i].stage);
      if (cases[i].next < 0)
        g_assert_null (next);
      else
        g_assert_cmpint (g_date_time_difference (next, self->start) / G_TIME_SPAN_MINUTE, ==, cases[i].next);
    }
}

static void
test_due (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlResume) idle = resume_at (self, 5, NULL, NULL), waiting = NULL;
  g_autoptr(GDateTime) sooner = g_date_time_add_minutes (self->start, 1);

  g_assert_null (idle->due);
  g_assert_cmpstr (idle->next, ==, "You were about to do step 1, Do what the sheet says at 0");
  append (self, 10, PAWL_ENTRY_WAIT_STARTED, "w15", "Jenna Tregear");
  append (self, 20, PAWL_ENTRY_WAIT_STARTED, "w5", "Jenna Tregear");
  waiting = resume_at (self, 30, NULL, NULL);
  g_assert_cmpuint (waiting->waits->len, ==, 2);
  g_assert_cmpint (g_date_time_difference (waiting->due, self->start) / G_TIME_SPAN_MINUTE, ==, 190);
  g_assert_cmpint (pawl_resume_compare (waiting->due, idle->due), <, 0);
  g_assert_cmpint (pawl_resume_compare (idle->due, waiting->due), >, 0);
  g_assert_cmpint (pawl_resume_compare (waiting->due, sooner), >, 0);
  g_assert_cmpint (pawl_resume_compare (NULL, NULL), ==, 0);
}

static void
expect_changes (Fixture *self, const char *person, const char *revision, const char *expected)
{
  g_autoptr(PawlResume) resume = resume_at (self, 60, person, revision);
  g_autofree char *changes = NULL;

  g_ptr_array_add (resume->changes, NULL);
  changes = g_strjoinv ("; ", (char **) resume->changes->pdata);
  g_assert_cmpstr (changes, ==, expected);
}

/* What others did since one's own last entry; nobody's name is no absence. */
static void
test_changes (Fixture *self, gconstpointer data)
{
  append (self, 1, PAWL_ENTRY_STEP_DONE, "s0", "Jago Penrose");
  append (self, 2, PAWL_ENTRY_STEP_DONE, "s1", "Jenna Tregear");
  expect_changes (self, "Jenna Tregear", NULL, "");
  expect_changes (self, "Jago Penrose", NULL, "1 entry by Jenna Tregear");
  append (self, 3, PAWL_ENTRY_STEP_DONE, "s2", "Jago Penrose");
  append (self, 4, PAWL_ENTRY_NOTED, "s2", "Kerra Moon");
  append (self, 5, PAWL_ENTRY_STEP_DONE, "s3", "Jago Penrose");
  expect_changes (self, "jenna tregear", NULL, "2 entries by Jago Penrose; 1 entry by Kerra Moon");
  expect_changes (self, NULL, NULL, "");
  expect_changes (self, "Nobody Here", NULL, "");
  expect_changes (self, NULL, "1", "");
  expect_changes (self, NULL, "2", "the procedure is at revision 2 by now; this job goes on by 1");
}

static void
test_clock (Fixture *self, gconstpointer data)
{
  append (self, 10, PAWL_ENTRY_WAIT_STARTED, "w5", "Jenna Tregear");
  pawl_entry_set (append (self, 20, PAWL_ENTRY_NOTED, "s5", "Pawl"), "clock-shift", "3600");
  expect_changes (self, "Jenna Tregear", NULL, "the clock was changed while a wait ran");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, tear_down)
  ADD ("/plan/resume/stages", test_stages);
  ADD ("/plan/resume/due", test_due);
  ADD ("/plan/resume/changes", test_changes);
  ADD ("/plan/resume/clock", test_clock);
  return g_test_run ();
}
