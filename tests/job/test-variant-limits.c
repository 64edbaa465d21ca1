/* Limits of one reading that differ by variant: which are in force, what a corrected variant makes of what was measured, and what is not known. The unit is
 * invented. */
#include "small-job.h"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='small' revision='1' xml:lang='en'>"
  "<title>Small</title><unit>Small unit, invented</unit><author>Pawl</author><licence>CC0-1.0</licence><verified how='on-paper'/><attended>1 h</attended>"
  "<variants><variant id='early' name='Early'/><variant id='late' name='Late'/></variants>"
  "<tools><none/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<parts><part id='lid' item='1' name='Lid' symmetric='yes' stays='yes'/></parts>"
  "<phase id='all' title='All'>"
  "<step id='measure'><do>Measure.</do>"
  "<reading id='lift' name='Lift' source='x' repeats='2'><says>S</says><limits variant='early' is='1.0..2.0 mm'/><limits variant='late' is='1.5..2.5 mm'/></reading></step>"
  "<step id='look'><do>Look.</do>"
  "<reading id='twice' name='Twice' source='x' formula='2 * lift' unit='mm'><says>S</says><limits variant='early' is='max 4 mm'/><limits variant='late' is='max 3 mm'/></reading></step>"
  "</phase></procedure>";

static void
set_up (Fixture *self, gconstpointer variant)
{
  small_job_set_up (self, procedure_xml, variant);
}

#define fold small_job_fold

static int
offer (Fixture *self, PawlEntryKind kind, const char *subject, const char *field, const char *value)
{
  PawlEntry *entry = pawl_entry_new (kind, subject, "Ann", self->now);

  if (field != NULL)
    pawl_entry_set (entry, field, value);
  if (kind == PAWL_ENTRY_IDENTIFIED)
    pawl_entry_set (entry, "reason", "the plate");
  return small_job_offer (self, entry);
}

static void
measure (Fixture *self, const char *first, const char *second)
{
  g_assert_cmpint (offer (self, PAWL_ENTRY_ANSWERED, "lift", "answer", first), ==, SMALL_JOB_ACCEPTED);
  g_assert_cmpint (offer (self, PAWL_ENTRY_ANSWERED, "lift", "answer", second), ==, SMALL_JOB_ACCEPTED);
}

static void
assert_stands (Fixture *self, const char *limits, PawlAskStatus ask, PawlStepStatus step)
{
  g_autoptr(PawlJob) job = fold (self);
  const PawlAskState *state = pawl_job_lookup_ask (job, "lift");

  g_assert_cmpstr (pawl_limits_get_text (state->limits), ==, limits);
  g_assert_cmpint (state->status, ==, ask);
  g_assert_cmpint (pawl_job_lookup_step (job, "measure")->status, ==, step);
}

/* 1.2 is in for an early one, out for a late one: at both ends, by the mean of two. */
static void
test_in_force (Fixture *self, gconstpointer variant)
{
  gboolean is_early = g_str_equal (variant, "early");

  measure (self, "1.1", "1.3");
  assert_stands (self, is_early ? "1.0..2.0 mm" : "1.5..2.5 mm", is_early ? PAWL_ASK_ACCEPTED : PAWL_ASK_OUT, PAWL_STEP_OPEN);
}

/* What is in for both stands, and nothing is done again; the limits in force are the other ones. */
static void
test_corrected_in (Fixture *self, gconstpointer data)
{
  measure (self, "1.7", "1.7");
  g_assert_cmpint (offer (self, PAWL_ENTRY_STEP_DONE, "measure", NULL, NULL), ==, SMALL_JOB_ACCEPTED);
  g_assert_cmpint (offer (self, PAWL_ENTRY_IDENTIFIED, "", "variant", "late"), ==, SMALL_JOB_ACCEPTED);
  assert_stands (self, "1.5..2.5 mm", PAWL_ASK_ACCEPTED, PAWL_STEP_DONE);
}

/* What is out for the right one is measured again; the reason is the variant. */
static void
test_corrected_out (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;

  measure (self, "1.1", "1.3");
  g_assert_cmpint (offer (self, PAWL_ENTRY_STEP_DONE, "measure", NULL, NULL), ==, SMALL_JOB_ACCEPTED);
  g_assert_cmpint (offer (self, PAWL_ENTRY_IDENTIFIED, "", "variant", "late"), ==, SMALL_JOB_ACCEPTED);
  assert_stands (self, "1.5..2.5 mm", PAWL_ASK_STALE, PAWL_STEP_REDO);
  job = fold (self);
  g_assert_cmpint (pawl_job_lookup_step (job, "measure")->redo.kind, ==, PAWL_REDO_VARIANT);
  measure (self, "1.5", "1.5"); /* met exactly */
  assert_stands (self, "1.5..2.5 mm", PAWL_ASK_ACCEPTED, PAWL_STEP_REDO);
}

/* Limits that nobody knows judge nothing. */
static void
test_unknown (Fixture *self, gconstpointer data)
{
  g_assert_cmpint (offer (self, PAWL_ENTRY_ANSWERED, "lift", "answer", "1.7"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  assert_stands (self, "Early: 1.0..2.0 mm; Late: 1.5..2.5 mm", PAWL_ASK_PENDING, PAWL_STEP_OPEN);
  g_assert_cmpint (offer (self, PAWL_ENTRY_IDENTIFIED, "", "variant", "early"), ==, SMALL_JOB_ACCEPTED);
  measure (self, "1.7", "1.7");
  assert_stands (self, "1.0..2.0 mm", PAWL_ASK_ACCEPTED, PAWL_STEP_OPEN);
}

/* What is worked out follows by itself. */
static void
test_worked_out (Fixture *self, gconstpointer variant)
{
  g_autoptr(PawlJob) job = NULL;

  measure (self, "1.8", "1.8");
  job = fold (self);
  g_assert_cmpint (pawl_job_lookup_ask (job, "twice")->status, ==, g_str_equal (variant, "early") ? PAWL_ASK_ACCEPTED : PAWL_ASK_OUT);
}

#define ADD(path, variant, function) g_test_add ("/job/variant-limits/" path, Fixture, variant, set_up, function, small_job_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("in-force/early", "early", test_in_force);
  ADD ("in-force/late", "late", test_in_force);
  ADD ("corrected-in", "early", test_corrected_in);
  ADD ("corrected-out", "early", test_corrected_out);
  ADD ("unknown", "", test_unknown);
  ADD ("worked-out/early", "early", test_worked_out);
  ADD ("worked-out/late", "late", test_worked_out);
  return g_test_run ();
}
