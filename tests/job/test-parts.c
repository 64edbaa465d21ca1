/* Parts in a job: the kit counted, what is missing and what it stops, donors and what proves them, the shopping list, and what goes from the way
 * out to the way in. The unit is invented. */
#include <string.h>

#include "small-job.h"
#include "job/pawl-job-parts.h"

#define R(id, more) "<reading id='" id "' name='" id "' source='x' unit='mm' " more "><says>S</says></reading>"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='small' revision='1' xml:lang='en'>"
  "<title>Small</title><unit>Small unit, invented</unit><author>Pawl</author><licence>CC0-1.0</licence><verified how='on-paper'/><attended>1 h</attended>"
  "<tools><none/></tools><supplies><supply id='oil' name='Light oil'/></supplies><cautions><none/></cautions><kit name='Kit (invented)'/>"
  "<parts><part id='lid' item='1' name='Lid' symmetric='yes'/><part id='float' item='2' name='Float' symmetric='yes'><interchange reading='wear'>Float of another</interchange></part>"
  "<part id='gasket' item='3' name='Gasket' symmetric='yes' kit='yes'/><part id='washer' item='4' name='Washer' symmetric='yes' kit='yes' quantity='2'/></parts>"
  "<phase id='all' title='All'>"
  "<step id='kit'><do>Lay the kit out.</do><check id='k-gasket' kind='kit' name='Gaskets' parts='gasket' quantity='1'>Q</check>"
  "<check id='k-washer' kind='kit' name='Washers' parts='washer' quantity='3' spare='1'>Q</check><check id='k-thick' kind='kit' name='Thick gasket' quantity='1' use='no'>Q</check></step>"
  "<step id='off' remove='lid float gasket'><do>Take it off.</do>" R ("found", "limits='10 mm ± 1 mm' as-found='yes' same-as='height'")
  "<note id='mark' name='Mark'>Where?</note><note id='shims' name='Shims'>Which?</note></step>"
  "<step id='measure' needs='off'><do>Measure.</do>" R ("wear", "limits='max 2 mm'") "<decide id='fate' part='float' choices='reuse replace'>Q</decide></step>"
  "<step id='float-in' needs='measure' install='float'><do>Hang it.</do>" R ("hinge", "limits='41.0 mm ± 0.2 mm' donor='float'") "</step>"
  "<step id='set' needs='float-in'><do>Set it.</do>" R ("height", "limits='10 mm ± 1 mm'") R ("pack", "limits='1..2 mm' start='shims'") "</step>"
  "<step id='close' needs='set kit' install='washer gasket lid'><do>Close it.</do><fit id='lid-mate' kind='mate' part='lid' if-wrong='fails' as-found='yes'><says>S</says>"
  "<datum note='mark'>own mark</datum><wrong>W</wrong><tell>T</tell><verify>V</verify><piece part='lid'/><piece part='float'/></fit></step>"
  "<step id='count' needs='close'><do>Count.</do><check id='over' kind='left-over' name='Left over'>Q</check></step>"
  "<step id='other'><do>Clean the box.</do></step>"
  "</phase></procedure>";

static void
set_up (Fixture *self, gconstpointer data)
{
  small_job_set_up (self, procedure_xml, NULL);
}

#define fold small_job_fold

/* Pairs of field and value, NULL last. As small_job_offer(). */
static int
offer (Fixture *self, PawlEntryKind kind, const char *subject, ...) G_GNUC_NULL_TERMINATED;

static int
offer (Fixture *self, PawlEntryKind kind, const char *subject, ...)
{
  PawlEntry *entry = pawl_entry_new (kind, subject, "Ann", self->now);
  const char *field;
  va_list fields;

  va_start (fields, subject);
  while ((field = va_arg (fields, const char *)))
    pawl_entry_set (entry, field, va_arg (fields, const char *));
  va_end (fields);
  return small_job_offer (self, entry);
}

#define take(self, kind, ...) g_assert_cmpint (offer (self, kind, __VA_ARGS__, NULL), ==, SMALL_JOB_ACCEPTED)
#define refused(self, code, kind, ...) g_assert_cmpint (offer (self, kind, __VA_ARGS__, NULL), ==, code)
#define answer(self, ask, text) take (self, PAWL_ENTRY_ANSWERED, ask, "answer", text)
#define done(self, step) take (self, PAWL_ENTRY_STEP_DONE, step)

static PawlStepStatus
status_of (Fixture *self, const char *step)
{
  g_autoptr(PawlJob) job = fold (self);

  return pawl_job_lookup_step (job, step)->status;
}

static PawlAskStatus
ask_status_of (Fixture *self, const char *ask)
{
  g_autoptr(PawlJob) job = fold (self);

  return pawl_job_lookup_ask (job, ask)->status;
}

static void
unpack (Fixture *self, const char *gaskets, const char *washers)
{
  answer (self, "k-gasket", gaskets);
  answer (self, "k-washer", washers);
  answer (self, "k-thick", "put-aside");
  done (self, "kit");
}

static void
take_apart (Fixture *self)
{
  answer (self, "found", "12.4");
  answer (self, "mark", "two dots at 2 o'clock");
  answer (self, "shims", "one of 0.3, one of 0.5");
  done (self, "off");
}

static void
decide (Fixture *self, const char *choice, const char *source)
{
  answer (self, "wear", "1.5");
  take (self, PAWL_ENTRY_DISPOSED, "float", "choice", choice, "reason", "worn", "source", source);
  done (self, "measure");
}

static void
close_up (Fixture *self)
{
  done (self, "float-in");
  answer (self, "height", "10");
  answer (self, "pack", "1.5");
  done (self, "set");
  answer (self, "lid-mate", "right");
  done (self, "close");
}

/* ---- the kit ---- */

static const PawlKitLine *
find_line (GPtrArray *kit, const char *id)
{
  for (guint i = 0; i < kit->len; i++)
    if (g_str_equal (((PawlKitLine *) kit->pdata[i])->state->ask->id, id))
      return kit->pdata[i];
  g_assert_not_reached ();
}

static void
assert_line (Fixture *self, const char *id, guint in_hand, guint need, guint left, guint shortage)
{
  g_autoptr(PawlJob) job = fold (self);
  g_autoptr(GPtrArray) kit = pawl_job_list_kit (job);
  const PawlKitLine *line = find_line (kit, id);

  g_assert_cmpuint (line->in_hand, ==, in_hand);
  g_assert_cmpuint (line->need, ==, need);
  g_assert_cmpuint (line->left, ==, left);
  g_assert_cmpuint (line->shortage, ==, shortage);
}

static guint
count_remarks (Fixture *self)
{
  g_autoptr(PawlJob) job = fold (self);
  g_autoptr(GPtrArray) remarks = pawl_job_list_kit_remarks (job);

  return remarks->len;
}

static void
test_kit (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  g_autofree char *left = NULL;

  assert_line (self, "k-washer", 3, 2, 1, 0); /* as the list has it while nobody looked */
  unpack (self, "used", "used");
  assert_line (self, "k-gasket", 1, 1, 0, 0);
  assert_line (self, "k-thick", 1, 0, 1, 0);
  g_assert_cmpuint (count_remarks (self), ==, 0);
  take_apart (self);
  decide (self, "reuse", "");
  close_up (self);
  job = fold (self);
  left = pawl_job_describe_left_over (job);
  g_assert_cmpuint (pawl_job_count_left_over (job), ==, 2);
  g_assert_cmpstr (left, ==, "1 × Washers, 1 × Thick gasket");
}

/* What is short is out, and stays so until enough are there; a number that will do is right, also when the list has another. */
static void
test_kit_counts (Fixture *self, gconstpointer data)
{
  answer (self, "k-washer", "1");
  g_assert_cmpint (ask_status_of (self, "k-washer"), ==, PAWL_ASK_OUT);
  assert_line (self, "k-washer", 1, 2, 0, 1);
  g_assert_cmpuint (count_remarks (self), ==, 1);
  refused (self, PAWL_JOB_ERROR_BAD_ANSWER, PAWL_ENTRY_ANSWERED, "k-washer", "answer", "a few");
  refused (self, PAWL_JOB_ERROR_BAD_ANSWER, PAWL_ENTRY_ANSWERED, "k-washer", "answer", "-1");
  answer (self, "k-washer", " 2 ");
  g_assert_cmpint (ask_status_of (self, "k-washer"), ==, PAWL_ASK_ACCEPTED);
  assert_line (self, "k-washer", 2, 2, 0, 0);
  g_assert_cmpuint (count_remarks (self), ==, 1); /* the list said three */
  answer (self, "k-washer", "missing");
  g_assert_cmpint (ask_status_of (self, "k-washer"), ==, PAWL_ASK_OUT);
}

/* Three left where two should be: the step is not done, nobody signs, and it is said. */
static void
test_left_over (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  g_autofree char *words = NULL;
  const PawlAskState *over;

  unpack (self, "used", "used");
  take_apart (self);
  decide (self, "reuse", "");
  close_up (self);
  done (self, "other");
  answer (self, "over", "3");
  g_assert_cmpint (ask_status_of (self, "over"), ==, PAWL_ASK_OUT);
  refused (self, PAWL_JOB_ERROR_OUT_OF_LIMITS, PAWL_ENTRY_STEP_DONE, "count");
  refused (self, PAWL_JOB_ERROR_UNANSWERED, PAWL_ENTRY_SIGNED, "", "role", "fitter");
  g_assert_cmpuint (count_remarks (self), ==, 1);
  job = fold (self);
  over = pawl_job_lookup_ask (job, "over");
  words = pawl_kit_describe_count (job, over->ask, over->attempts->pdata[over->attempts->len - 1]);
  g_assert_cmpstr (words, ==, "3 left, 2 expected");
  answer (self, "over", "2");
  done (self, "count");
  take (self, PAWL_ENTRY_SIGNED, "", "role", "fitter");
}

/* A kit part for which the old one was kept stays over, and a step left out takes nothing. */
static void
test_kept (Fixture *self, gconstpointer data)
{
  take (self, PAWL_ENTRY_DISPOSED, "gasket", "choice", "reuse");
  assert_line (self, "k-gasket", 1, 0, 1, 0);
  take (self, PAWL_ENTRY_DEVIATED, "close", "what", "skipped", "reason", "no time");
  assert_line (self, "k-washer", 3, 0, 3, 0);
}

/* ---- what is not there ---- */

static guint
count_wants (Fixture *self, PawlWantKind kind)
{
  g_autoptr(PawlJob) job = fold (self);
  g_autoptr(GPtrArray) wants = pawl_job_list_wants (job);
  guint n = 0;

  for (guint i = 0; i < wants->len; i++)
    n += ((PawlWant *) wants->pdata[i])->kind == kind;
  return n;
}

/* It stops the step that fits it and no other, until it is there. */
static void
test_missing (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  const PawlBlocker *blocker;

  unpack (self, "used", "used");
  take_apart (self);
  refused (self, PAWL_JOB_ERROR_UNKNOWN, PAWL_ENTRY_LACKED, "flot", "state", "missing");
  refused (self, PAWL_JOB_ERROR_BAD_ANSWER, PAWL_ENTRY_LACKED, "float", "state", "gone");
  refused (self, PAWL_JOB_ERROR_BAD_ANSWER, PAWL_ENTRY_LACKED, "float", "state", "low");
  refused (self, PAWL_JOB_ERROR_BAD_ANSWER, PAWL_ENTRY_LACKED, "float", "state", "ordered", "expected", "next week");
  refused (self, PAWL_JOB_ERROR_NOT_OPEN, PAWL_ENTRY_ARRIVED, "float", "source", "new");
  take (self, PAWL_ENTRY_LACKED, "float", "state", "missing");
  g_assert_cmpuint (count_wants (self, PAWL_WANT_MISSING), ==, 1);
  take (self, PAWL_ENTRY_LACKED, "float", "state", "ordered", "from", "Quay Stores (invented)", "expected", "2026-12-03");
  g_assert_cmpuint (count_wants (self, PAWL_WANT_MISSING), ==, 0);
  g_assert_cmpuint (count_wants (self, PAWL_WANT_ORDERED), ==, 1);
  decide (self, "reuse", "");
  g_assert_cmpint (status_of (self, "float-in"), ==, PAWL_STEP_BLOCKED);
  g_assert_cmpint (status_of (self, "other"), ==, PAWL_STEP_OPEN);
  job = fold (self);
  blocker = pawl_job_lookup_step (job, "float-in")->blockers->pdata[0];
  g_assert_cmpint (blocker->kind, ==, PAWL_BLOCKED_BY_PART);
  g_assert_cmpstr (blocker->text, ==, "the arrival of “Float” (ordered from Quay Stores (invented), expected 2026-12-03)");
  refused (self, PAWL_JOB_ERROR_BLOCKED, PAWL_ENTRY_STEP_DONE, "float-in");
  refused (self, PAWL_JOB_ERROR_BAD_ANSWER, PAWL_ENTRY_ARRIVED, "float", "source", "found");
  take (self, PAWL_ENTRY_ARRIVED, "float", "source", "new", "lot", "L-7");
  g_assert_cmpint (status_of (self, "float-in"), ==, PAWL_STEP_OPEN);
  g_assert_cmpuint (count_wants (self, PAWL_WANT_ORDERED), ==, 0);
  done (self, "float-in");
  refused (self, PAWL_JOB_ERROR_NOT_OPEN, PAWL_ENTRY_LACKED, "float", "state", "missing");
}

static void
test_overdue (Fixture *self, gconstpointer data)
{
  static const struct { const char *expected, *words; } cases[] = {
    { "2026-11-24", "ordered, overdue since 2026-11-24" },
    { "2026-11-25", "ordered, expected 2026-11-25" },
    { "2026-11-26", "ordered, expected 2026-11-26" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlEntry) lack = pawl_entry_new (PAWL_ENTRY_LACKED, "float", "Ann", self->now);
      g_autofree char *words = NULL;

      pawl_entry_set (lack, "state", "ordered");
      pawl_entry_set (lack, "expected", cases[i].expected);
      words = pawl_lack_describe (lack, self->now);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

static void
test_wants (Fixture *self, gconstpointer data)
{
  take (self, PAWL_ENTRY_LACKED, "oil", "state", "low");
  g_assert_cmpuint (count_wants (self, PAWL_WANT_SUPPLY), ==, 1);
  answer (self, "k-washer", "1");
  g_assert_cmpuint (count_wants (self, PAWL_WANT_KIT), ==, 1);
  take (self, PAWL_ENTRY_LACKED, "washer", "state", "ordered"); /* the same pieces, once */
  g_assert_cmpuint (count_wants (self, PAWL_WANT_KIT), ==, 0);
  take_apart (self);
  decide (self, "replace", "new");
  g_assert_cmpuint (count_wants (self, PAWL_WANT_REPLACE), ==, 1);
  done (self, "float-in");
  g_assert_cmpuint (count_wants (self, PAWL_WANT_REPLACE), ==, 0);
  take (self, PAWL_ENTRY_ARRIVED, "oil", "lot", "7");
  g_assert_cmpuint (count_wants (self, PAWL_WANT_SUPPLY), ==, 0);
}

/* ---- donors ---- */

static void
test_donor (Fixture *self, gconstpointer data)
{
  take_apart (self);
  refused (self, PAWL_JOB_ERROR_NOT_OPEN, PAWL_ENTRY_ANSWERED, "hinge", "answer", "41.1");
  decide (self, "replace", "donor boat of another yard (invented)");
  g_assert_cmpint (ask_status_of (self, "hinge"), ==, PAWL_ASK_PENDING);
  refused (self, PAWL_JOB_ERROR_UNANSWERED, PAWL_ENTRY_STEP_DONE, "float-in");
  answer (self, "hinge", "41.5");
  refused (self, PAWL_JOB_ERROR_OUT_OF_LIMITS, PAWL_ENTRY_STEP_DONE, "float-in");
  answer (self, "hinge", "41.1");
  done (self, "float-in");
}

/* By what arrived as well; and of the one that is in already it is too late to measure. */
static void
test_donor_arrived (Fixture *self, gconstpointer data)
{
  take_apart (self);
  take (self, PAWL_ENTRY_LACKED, "float", "state", "missing");
  decide (self, "reuse", "");
  take (self, PAWL_ENTRY_ARRIVED, "float", "source", "donor");
  g_assert_cmpint (ask_status_of (self, "hinge"), ==, PAWL_ASK_PENDING);
}

static void
test_donor_too_late (Fixture *self, gconstpointer data)
{
  take_apart (self);
  decide (self, "reuse", "");
  done (self, "float-in");
  refused (self, PAWL_JOB_ERROR_COVERED, PAWL_ENTRY_DISPOSED, "float", "choice", "replace", "reason", "R", "source", "donor");
}

/* A measurement that proves the donor's part stops its fitting, even when its own step was left out. */
static void
test_proof (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;

  take_apart (self);
  take (self, PAWL_ENTRY_DISPOSED, "float", "choice", "replace", "reason", "R", "source", "donor");
  take (self, PAWL_ENTRY_DEVIATED, "measure", "what", "skipped", "reason", "R");
  g_assert_cmpint (status_of (self, "float-in"), ==, PAWL_STEP_BLOCKED);
  job = fold (self);
  g_assert_cmpint (((PawlBlocker *) pawl_job_lookup_step (job, "float-in")->blockers->pdata[0])->kind, ==, PAWL_BLOCKED_BY_ASK);
}

/* ---- from the way out to the way in ---- */

static void
test_found (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) before = fold (self), job = NULL;
  const PawlRule *rule = pawl_job_lookup_ask (before, "lid-mate")->ask->rule;
  g_autofree char *start = NULL, *mark = NULL, *none = pawl_job_describe_own_mark (before, rule);

  g_assert_null (pawl_job_peek_start (before, pawl_job_lookup_ask (before, "height")));
  g_assert_cmpstr (none, ==, "not written down in this job");
  take_apart (self);
  job = fold (self);
  g_assert_cmpstr (pawl_job_peek_start (job, pawl_job_lookup_ask (job, "height")), ==, "12.4"); /* out, and all the same where it stood */
  g_assert_cmpstr (pawl_job_peek_start (job, pawl_job_lookup_ask (job, "pack")), ==, "one of 0.3, one of 0.5");
  g_assert_null (pawl_job_peek_start (job, pawl_job_lookup_ask (job, "found")));
  start = pawl_job_describe_start (job, pawl_job_lookup_ask (job, "height"));
  g_assert_cmpstr (start, ==, "12.4, by Ann");
  mark = pawl_job_describe_own_mark (job, rule);
  g_assert_cmpstr (mark, ==, "“two dots at 2 o'clock”, noted by Ann");
  /* Never an answer by itself. */
  g_assert_cmpuint (pawl_job_lookup_ask (job, "height")->n_current, ==, 0);
}

#define ADD(path, test) g_test_add (path, Fixture, NULL, set_up, test, small_job_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/parts/kit", test_kit);
  ADD ("/parts/kit-counts", test_kit_counts);
  ADD ("/parts/left-over", test_left_over);
  ADD ("/parts/kept", test_kept);
  ADD ("/parts/missing", test_missing);
  ADD ("/parts/overdue", test_overdue);
  ADD ("/parts/wants", test_wants);
  ADD ("/parts/donor", test_donor);
  ADD ("/parts/donor-arrived", test_donor_arrived);
  ADD ("/parts/donor-too-late", test_donor_too_late);
  ADD ("/parts/proof", test_proof);
  ADD ("/parts/found", test_found);
  return g_test_run ();
}
