/* The fold and the refusals, on a small procedure: cover and float, a soak, a hold, a coupled pair of readings. */
#include "job/pawl-job.h"
#include "job/pawl-results.h"
#include "procedure/pawl-reader.h"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='small' revision='1' xml:lang='en'>"
  "<title>Small</title><unit maker='Invented' model='S'>Small unit</unit><author>Pawl</author><licence>CC0-1.0</licence>"
  "<verified how='no'>Never.</verified><attended>1 h</attended><skill>Any.</skill>"
  "<tools><tool id='gauge' name='Depth gauge' error='0.03 mm' step='0.01 mm'/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<figure file='small.svg'/>"
  "<parts><part id='body' item='1' name='Body' stays='yes'/><part id='cover' item='2' name='Cover'/><part id='float' item='3' name='Float'/>"
  "<part id='plug' item='4' name='Plug' one-way='yes' symmetric='yes'/></parts>"
  "<phase id='all' title='All'>"
  "<step id='off' attended='5 min' remove='cover float'><do>Take the cover off.</do>"
  "  <reading id='found' name='Height found' limits='10.0 mm ± 0.5 mm' unit='mm' source='x' tool='gauge' as-found='yes' same-as='height'><says>How high?</says></reading></step>"
  "<step id='soak-it' attended='5 min' needs='off'><do>Soak the body.</do><wait id='soak' name='Soak' min='30 min' max='2 h' agent='agent'>In and out?</wait></step>"
  "<step id='float-in' attended='5 min' needs='off' install='float'><do>Hang the float.</do>"
  "  <fit id='float-way' kind='sense' part='float' if-wrong='fails' verify='sight'><says>Tang to the needle.</says><datum>needle</datum><wrong>Floods.</wrong><tell>Tang.</tell><verify>Look.</verify>"
  "  <outline seat='0' points='0,0 10,0 10,4 0,2'/></fit></step>"
  "<step id='set-height' attended='5 min' needs='float-in'><do>Set the height.</do>"
  "  <reading id='height' name='Height' limits='10.0 mm ± 0.5 mm' unit='mm' source='x' tool='gauge' reopens='drop'><says>How high?</says><correct>Bend the tang.</correct></reading></step>"
  "<step id='set-drop' attended='5 min' needs='set-height'><do>Set the drop.</do>"
  "  <reading id='drop' name='Drop' limits='20.0 mm ± 0.5 mm' unit='mm' source='x' tool='gauge' reopens='height'><says>How low?</says></reading></step>"
  "<step id='look' attended='1 min' needs='set-drop' hold='hold'><do>Look into the bowl.</do><hold-reason>Last look.</hold-reason>"
  "  <check id='clean' kind='visual' name='Clean'>Clean?</check></step>"
  "<step id='cover-on' attended='5 min' needs='look soak-it' install='cover' covers='height drop float-way'><do>Put the cover on.</do>"
  "  <fit id='cover-way' kind='mate' part='cover' if-wrong='fails' verify='mark'><says>Marks in line.</says><datum>mark</datum><wrong>Weeps.</wrong><tell>Mark.</tell><verify>Thumb.</verify>"
  "  <piece part='cover' name='Cover'/><piece part='body' name='Body'/></fit></step>"
  "<step id='note-it' attended='1 min'><do>Write the care card.</do><note id='care' name='Care'>What?</note><decide id='plug-decision' part='plug' name='Plug' choices='replace'>Replace?</decide></step>"
  "</phase></procedure>";

typedef struct {
  PawlProcedure *procedure;
  GPtrArray     *entries;
  GDateTime     *start;
} Fixture;

/* Entries are stored by the record only; here the fold needs no more than what was said. */
static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (procedure_xml, sizeof procedure_xml - 1);
  g_autoptr(GError) error = NULL;
  PawlEntry *opened;

  fixture->procedure = pawl_procedure_load_bytes (bytes, "small.xml", NULL, &error);
  g_assert_no_error (error);
  fixture->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  fixture->start = g_date_time_new_from_iso8601 ("2026-11-25T08:00:00+00:00", NULL);
  opened = pawl_entry_new (PAWL_ENTRY_OPENED, "", "Ann", fixture->start);
  g_ptr_array_add (fixture->entries, opened);
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_object_unref (fixture->procedure);
  g_ptr_array_unref (fixture->entries);
  g_date_time_unref (fixture->start);
}

static PawlJob *
fold_at (Fixture *fixture, int minutes)
{
  g_autoptr(GDateTime) now = g_date_time_add_minutes (fixture->start, minutes);

  return pawl_job_fold (fixture->procedure, fixture->entries, now);
}

/* What the job says to one entry; appended when it says yes. -1: accepted, else the PawlJobError. */
static int
offer (Fixture *fixture, int minutes, PawlEntryKind kind, const char *subject, const char *person, const char *field, const char *value)
{
  g_autoptr(PawlJob) job = fold_at (fixture, minutes);
  g_autoptr(GDateTime) at = g_date_time_add_minutes (fixture->start, minutes);
  PawlEntry *entry = pawl_entry_new (kind, subject, person, at);
  g_autoptr(GError) error = NULL;

  if (field != NULL)
    pawl_entry_set (entry, field, value);
  if (pawl_job_check (job, entry, &error))
    {
      g_assert_no_error (error);
      g_ptr_array_add (fixture->entries, entry);
      return -1;
    }
  g_assert_nonnull (error);
  g_assert_true (error->domain == PAWL_JOB_ERROR);
  pawl_entry_unref (entry);
  return error->code;
}

#define ACCEPTED (-1)
#define answer(f, t, ask, text) offer (f, t, PAWL_ENTRY_ANSWERED, ask, "Ann", "answer", text)
#define guess(f, t, ask, choice) offer (f, t, PAWL_ENTRY_GUESSED, ask, "Ann", "choice", choice)
#define done(f, t, step) offer (f, t, PAWL_ENTRY_STEP_DONE, step, "Ann", NULL, NULL)

static PawlStepStatus
status_of (Fixture *fixture, int minutes, const char *step)
{
  g_autoptr(PawlJob) job = fold_at (fixture, minutes);

  return pawl_job_lookup_step (job, step)->status;
}

static PawlAskStatus
ask_status_of (Fixture *fixture, int minutes, const char *ask)
{
  g_autoptr(PawlJob) job = fold_at (fixture, minutes);

  return pawl_job_lookup_ask (job, ask)->status;
}

static void
take_apart (Fixture *fixture)
{
  g_assert_cmpint (answer (fixture, 1, "found", "12.0"), ==, ACCEPTED); /* out, but as found: stops nothing */
  g_assert_cmpint (done (fixture, 2, "off"), ==, ACCEPTED);
}

static void
hang_float (Fixture *fixture)
{
  take_apart (fixture);
  g_assert_cmpint (answer (fixture, 3, "float-way", "right"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 4, "float-in"), ==, ACCEPTED);
}

static void
test_order (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpint (status_of (fixture, 0, "off"), ==, PAWL_STEP_OPEN);
  g_assert_cmpint (status_of (fixture, 0, "float-in"), ==, PAWL_STEP_BLOCKED);
  g_assert_cmpint (status_of (fixture, 0, "note-it"), ==, PAWL_STEP_OPEN);
  g_assert_cmpint (done (fixture, 1, "float-in"), ==, PAWL_JOB_ERROR_BLOCKED);
  g_assert_cmpint (answer (fixture, 1, "float-way", "right"), ==, PAWL_JOB_ERROR_BLOCKED);
  g_assert_cmpint (done (fixture, 1, "off"), ==, PAWL_JOB_ERROR_UNANSWERED);
  take_apart (fixture);
  g_assert_cmpint (status_of (fixture, 3, "off"), ==, PAWL_STEP_DONE);
  g_assert_cmpint (status_of (fixture, 3, "float-in"), ==, PAWL_STEP_OPEN);
  g_assert_cmpint (done (fixture, 3, "off"), ==, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (done (fixture, 3, "nothing"), ==, PAWL_JOB_ERROR_UNKNOWN);
  g_assert_cmpint (answer (fixture, 3, "nothing", "1"), ==, PAWL_JOB_ERROR_UNKNOWN);
}

/* Both sides of each limit: 9.5 and 10.5 mm are inside, the next hundredth is not. */
static void
test_limits (Fixture *fixture, gconstpointer data)
{
  static const struct { const char *typed; PawlAskStatus status; } cases[] = {
    { "9.49", PAWL_ASK_OUT }, { "9.5", PAWL_ASK_ACCEPTED }, { "10.5", PAWL_ASK_ACCEPTED }, { "10.51", PAWL_ASK_OUT },
  };

  hang_float (fixture);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpint (answer (fixture, 5, "height", cases[i].typed), ==, ACCEPTED);
      g_assert_cmpint (ask_status_of (fixture, 5, "height"), ==, cases[i].status);
      g_assert_cmpint (done (fixture, 5, "off"), ==, PAWL_JOB_ERROR_NOT_OPEN);
    }
  g_assert_cmpint (done (fixture, 6, "set-height"), ==, PAWL_JOB_ERROR_OUT_OF_LIMITS);
  g_assert_cmpint (answer (fixture, 6, "height", "ten"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (answer (fixture, 6, "height", ""), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (offer (fixture, 6, PAWL_ENTRY_DEVIATED, "height", "Ann", "what", "as it is"), ==, PAWL_JOB_ERROR_NEEDS_REASON);
  g_assert_cmpint (offer (fixture, 6, PAWL_ENTRY_DEVIATED, "height", "Ann", "reason", "Old float"), ==, ACCEPTED);
  g_assert_cmpint (ask_status_of (fixture, 6, "height"), ==, PAWL_ASK_DEVIATED);
  g_assert_cmpint (done (fixture, 7, "set-height"), ==, ACCEPTED);
}

static void
test_wrong_way_round (Fixture *fixture, gconstpointer data)
{
  take_apart (fixture);
  g_assert_cmpint (answer (fixture, 3, "float-way", "perhaps"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (answer (fixture, 3, "float-way", "wrong"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 3, "float-in"), ==, PAWL_JOB_ERROR_OUT_OF_LIMITS);
  g_assert_cmpint (answer (fixture, 4, "float-way", "right"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 4, "float-in"), ==, ACCEPTED);
}

/* The soak has a minimum of 30 min and a maximum of 2 h, by the clock that is handed in. */
static void
test_wait (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;

  take_apart (fixture);
  g_assert_cmpint (offer (fixture, 5, PAWL_ENTRY_WAIT_ENDED, "soak", "Ann", NULL, NULL), ==, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (offer (fixture, 5, PAWL_ENTRY_WAIT_STARTED, "soak", "Ann", NULL, NULL), ==, ACCEPTED);
  g_assert_cmpint (offer (fixture, 6, PAWL_ENTRY_WAIT_STARTED, "soak", "Ann", NULL, NULL), ==, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (status_of (fixture, 6, "soak-it"), ==, PAWL_STEP_WAITING);
  g_assert_cmpint (done (fixture, 6, "soak-it"), ==, PAWL_JOB_ERROR_TOO_EARLY);
  g_assert_cmpint (offer (fixture, 34, PAWL_ENTRY_WAIT_ENDED, "soak", "Ann", NULL, NULL), ==, PAWL_JOB_ERROR_TOO_EARLY);
  /* What doesn't need it goes on meanwhile. */
  g_assert_cmpint (status_of (fixture, 34, "float-in"), ==, PAWL_STEP_OPEN);
  job = fold_at (fixture, 200);
  g_assert_cmpint (g_date_time_compare (pawl_job_peek_now (job), pawl_job_lookup_ask (job, "soak")->latest), >, 0);
  g_assert_cmpint (offer (fixture, 126, PAWL_ENTRY_WAIT_ENDED, "soak", "Ann", NULL, NULL), ==, ACCEPTED);
  g_assert_cmpint (ask_status_of (fixture, 126, "soak"), ==, PAWL_ASK_OUT); /* 121 min: a minute over */
  g_ptr_array_remove_index (fixture->entries, fixture->entries->len - 1);
  g_assert_cmpint (offer (fixture, 35, PAWL_ENTRY_WAIT_ENDED, "soak", "Ann", NULL, NULL), ==, ACCEPTED);
  g_assert_cmpint (ask_status_of (fixture, 35, "soak"), ==, PAWL_ASK_ACCEPTED); /* exactly 30 min */
  g_assert_cmpint (done (fixture, 36, "soak-it"), ==, ACCEPTED);
}

/* After its maximum a wait is a finding that asks for a reason, and nothing stands still for it. */
static void
test_late_wait (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;

  g_assert_cmpint (done (fixture, 5, "off"), ==, PAWL_JOB_ERROR_UNANSWERED);
  answer (fixture, 4, "found", "10.1 mm");
  done (fixture, 5, "off");
  offer (fixture, 5, PAWL_ENTRY_WAIT_STARTED, "soak", "Ann", NULL, NULL);
  job = fold_at (fixture, 125);
  g_assert_cmpint (pawl_job_lookup_ask (job, "soak")->late_seconds, ==, 0); /* exactly 2 h */
  g_clear_object (&job);
  job = fold_at (fixture, 126);
  g_assert_cmpint (pawl_job_lookup_ask (job, "soak")->late_seconds, ==, 60);
  g_assert_false (pawl_ask_is_only_late (pawl_job_lookup_ask (job, "soak"))); /* it is not out yet */
  g_clear_object (&job);
  g_assert_cmpint (done (fixture, 126, "soak-it"), ==, PAWL_JOB_ERROR_TOO_EARLY);
  offer (fixture, 165, PAWL_ENTRY_WAIT_ENDED, "soak", "Ann", NULL, NULL);
  job = fold_at (fixture, 400);
  g_assert_cmpint (pawl_job_lookup_ask (job, "soak")->late_seconds, ==, 40 * 60);
  g_assert_true (pawl_ask_is_only_late (pawl_job_lookup_ask (job, "soak")));
  g_assert_cmpint (done (fixture, 170, "soak-it"), ==, ACCEPTED);
  g_assert_cmpint (offer (fixture, 171, PAWL_ENTRY_DEVIATED, "soak", "Ann", "reason", "Called away"), ==, ACCEPTED);
  g_assert_cmpint (ask_status_of (fixture, 172, "soak"), ==, PAWL_ASK_DEVIATED);
}

static int
shift_clock (Fixture *fixture, int minutes, const char *wait, const char *shift)
{
  g_autoptr(PawlJob) job = fold_at (fixture, minutes);
  g_autoptr(GDateTime) at = g_date_time_add_minutes (fixture->start, minutes);
  g_autoptr(PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_NOTED, "soak-it", "Ann", at);
  g_autoptr(GError) error = NULL;

  pawl_entry_set (entry, "text", "The clock was changed");
  pawl_entry_set (entry, "wait", wait);
  pawl_entry_set (entry, "clock-shift", shift);
  if (!pawl_job_check (job, entry, &error))
    return error->code;
  g_ptr_array_add (fixture->entries, g_steal_pointer (&entry));
  return ACCEPTED;
}

/* The clock is put forward by an hour while it soaks: the soak has not become longer by it. */
static void
test_clock_shift (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;

  answer (fixture, 4, "found", "10.1 mm");
  done (fixture, 5, "off");
  g_assert_cmpint (shift_clock (fixture, 5, "soak", "3600"), ==, PAWL_JOB_ERROR_NOT_OPEN); /* it doesn't run */
  offer (fixture, 10, PAWL_ENTRY_WAIT_STARTED, "soak", "Ann", NULL, NULL);
  g_assert_cmpint (shift_clock (fixture, 75, "soak", "an hour"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (shift_clock (fixture, 75, "nothing", "3600"), ==, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (shift_clock (fixture, 75, "soak", "3600"), ==, ACCEPTED);
  job = fold_at (fixture, 75);
  g_assert_cmpint (g_date_time_difference (pawl_job_lookup_ask (job, "soak")->started, fixture->start) / G_TIME_SPAN_MINUTE, ==, 70);
  g_assert_cmpstr (pawl_entry_get_subject (pawl_job_peek_undoable (job)), ==, "soak"); /* nobody did that, so nobody takes it back */
  g_assert_cmpint (offer (fixture, 99, PAWL_ENTRY_WAIT_ENDED, "soak", "Ann", NULL, NULL), ==, PAWL_JOB_ERROR_TOO_EARLY);
  g_assert_cmpint (offer (fixture, 100, PAWL_ENTRY_WAIT_ENDED, "soak", "Ann", NULL, NULL), ==, ACCEPTED);
  g_assert_cmpint (ask_status_of (fixture, 100, "soak"), ==, PAWL_ASK_ACCEPTED);
}

static void
soak (Fixture *fixture)
{
  g_assert_cmpint (offer (fixture, 5, PAWL_ENTRY_WAIT_STARTED, "soak", "Ann", NULL, NULL), ==, ACCEPTED);
  g_assert_cmpint (offer (fixture, 45, PAWL_ENTRY_WAIT_ENDED, "soak", "Ann", NULL, NULL), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 45, "soak-it"), ==, ACCEPTED);
}

/* Correcting the drop upsets the height, which is coupled; correcting the height at its first reading upsets nothing. */
static void
test_coupled (Fixture *fixture, gconstpointer data)
{
  hang_float (fixture);
  g_assert_cmpint (answer (fixture, 5, "height", "10.0"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 5, "set-height"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 6, "drop", "22"), ==, ACCEPTED);
  g_assert_cmpint (status_of (fixture, 6, "set-height"), ==, PAWL_STEP_DONE);
  g_assert_cmpint (answer (fixture, 7, "drop", "20"), ==, ACCEPTED);
  g_assert_cmpint (status_of (fixture, 7, "set-height"), ==, PAWL_STEP_REDO);
  g_assert_cmpint (ask_status_of (fixture, 7, "height"), ==, PAWL_ASK_STALE);
  g_assert_cmpint (done (fixture, 7, "set-drop"), ==, PAWL_JOB_ERROR_BLOCKED);
  g_assert_cmpint (answer (fixture, 8, "height", "10.2"), ==, ACCEPTED);
  g_assert_cmpint (ask_status_of (fixture, 8, "drop"), ==, PAWL_ASK_ACCEPTED);
  g_assert_cmpint (done (fixture, 8, "set-height"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 9, "set-drop"), ==, ACCEPTED);
}

static void
measure_float (Fixture *fixture)
{
  hang_float (fixture);
  g_assert_cmpint (answer (fixture, 5, "height", "10.0"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 5, "set-height"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 6, "drop", "20"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 6, "set-drop"), ==, ACCEPTED);
}

static void
test_hold (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  g_autofree char *held = NULL;

  measure_float (fixture);
  soak (fixture);
  g_assert_cmpint (offer (fixture, 46, PAWL_ENTRY_RELEASED, "look", "Bob", "role", "trainer"), ==, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (answer (fixture, 46, "clean", "good"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 46, "look"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 47, "cover-way", "right"), ==, PAWL_JOB_ERROR_HELD);
  job = fold_at (fixture, 47);
  held = pawl_job_describe_next (job);
  g_assert_cmpstr (held, ==, "You were about to do step 8, Write the care card. The hold at step 6 waits to be released");
  g_assert_cmpint (offer (fixture, 47, PAWL_ENTRY_RELEASED, "look", "Ann", "role", "trainer"), ==, PAWL_JOB_ERROR_HELD); /* her own */
  g_assert_cmpint (offer (fixture, 47, PAWL_ENTRY_RELEASED, "look", "ann ", "role", "trainer"), ==, PAWL_JOB_ERROR_HELD); /* the same Ann */
  g_assert_cmpint (offer (fixture, 47, PAWL_ENTRY_RELEASED, "off", "Bob", "role", "trainer"), ==, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (offer (fixture, 47, PAWL_ENTRY_RELEASED, "look", "Bob", "role", "trainer"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 48, "cover-way", "right"), ==, ACCEPTED);
}

static void
close_up (Fixture *fixture)
{
  measure_float (fixture);
  soak (fixture);
  g_assert_cmpint (answer (fixture, 46, "clean", "good"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 46, "look"), ==, ACCEPTED);
  g_assert_cmpint (offer (fixture, 47, PAWL_ENTRY_RELEASED, "look", "Bob", "role", "trainer"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 48, "cover-way", "right"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 49, "cover-on"), ==, ACCEPTED);
}

/* Nobody else in the shop: the hold is waived with a reason, which is printed, and not by the way. */
static void
test_waiver (Fixture *fixture, gconstpointer data)
{
  measure_float (fixture);
  soak (fixture);
  g_assert_cmpint (answer (fixture, 46, "clean", "good"), ==, ACCEPTED);
  g_assert_cmpint (offer (fixture, 46, PAWL_ENTRY_DEVIATED, "look", "Ann", "reason", "Out of order"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 46, "look"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 47, "cover-way", "right"), ==, PAWL_JOB_ERROR_HELD);
  g_assert_cmpint (offer (fixture, 47, PAWL_ENTRY_DEVIATED, "look", "Ann", "reason", "Alone in the shop"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 48, "cover-way", "right"), ==, ACCEPTED);
}

/* Doing a covered step again lays open what covers it, and nothing else. */
static void
test_redo (Fixture *fixture, gconstpointer data)
{
  close_up (fixture);
  g_assert_cmpint (answer (fixture, 50, "height", "10.0"), ==, PAWL_JOB_ERROR_COVERED);
  g_assert_cmpint (offer (fixture, 50, PAWL_ENTRY_REOPENED, "set-height", "Ann", NULL, NULL), ==, PAWL_JOB_ERROR_NEEDS_REASON);
  g_assert_cmpint (offer (fixture, 50, PAWL_ENTRY_REOPENED, "set-height", "Ann", "reason", "Floods"), ==, ACCEPTED);
  g_assert_cmpint (status_of (fixture, 51, "set-height"), ==, PAWL_STEP_REDO);
  g_assert_cmpint (status_of (fixture, 51, "cover-on"), ==, PAWL_STEP_BLOCKED);
  g_assert_cmpint (status_of (fixture, 51, "set-drop"), ==, PAWL_STEP_DONE);
  g_assert_cmpint (status_of (fixture, 51, "soak-it"), ==, PAWL_STEP_DONE);
  g_assert_cmpint (answer (fixture, 52, "height", "10.1"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 52, "set-height"), ==, ACCEPTED);
  g_assert_cmpint (status_of (fixture, 53, "cover-on"), ==, PAWL_STEP_REDO);
  g_assert_cmpint (done (fixture, 53, "cover-on"), ==, PAWL_JOB_ERROR_UNANSWERED);
}

static void
test_deviate (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  g_autoptr(GPtrArray) deviations = NULL;
  g_autoptr(GPtrArray) missing = NULL;
  PawlEntry *skipped = pawl_entry_new (PAWL_ENTRY_DEVIATED, "set-drop", "Ann", fixture->start);

  /* Out of order, on somebody's word. */
  g_assert_cmpint (offer (fixture, 1, PAWL_ENTRY_DEVIATED, "float-in", "Ann", "reason", "Came apart"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 1, "float-way", "right"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 1, "float-in"), ==, ACCEPTED);
  pawl_entry_set (skipped, "what", "skipped");
  pawl_entry_set (skipped, "reason", "No gauge");
  g_ptr_array_add (fixture->entries, skipped);
  job = fold_at (fixture, 2);
  g_assert_cmpint (pawl_job_lookup_step (job, "set-drop")->status, ==, PAWL_STEP_SKIPPED);
  deviations = pawl_job_list_deviations (job);
  g_assert_cmpuint (deviations->len, ==, 2);
  missing = pawl_results_list_missing (job);
  g_assert_cmpstr (missing->pdata[0], ==, "Height found: not measured (step 1)");
}

static void
test_parts_and_decisions (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) before = fold_at (fixture, 0);
  g_autoptr(PawlJob) after = NULL;

  g_assert_cmpint (pawl_job_lookup_part (before, "body")->place, ==, PAWL_PLACE_ON_UNIT);
  g_assert_cmpint (pawl_job_lookup_part (before, "float")->place, ==, PAWL_PLACE_ON_UNIT);
  hang_float (fixture);
  g_assert_cmpint (offer (fixture, 9, PAWL_ENTRY_DISPOSED, "plug", "Ann", "choice", "replace"), ==, PAWL_JOB_ERROR_NEEDS_REASON);
  g_assert_cmpint (offer (fixture, 9, PAWL_ENTRY_DISPOSED, "plug", "Ann", "choice", "reuse"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (offer (fixture, 9, PAWL_ENTRY_DISPOSED, "bolt", "Ann", "choice", "reuse"), ==, PAWL_JOB_ERROR_UNKNOWN);
  after = fold_at (fixture, 9);
  g_assert_cmpint (pawl_job_lookup_part (after, "float")->place, ==, PAWL_PLACE_SEATED);
  g_assert_cmpint (pawl_job_lookup_part (after, "cover")->place, ==, PAWL_PLACE_OFF);
}

static void
test_next_and_sign (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) job = fold_at (fixture, 0);
  g_autofree char *first = pawl_job_describe_next (job);
  g_autoptr(PawlJob) waiting = NULL;
  g_autofree char *then = NULL;

  g_assert_cmpstr (first, ==, "You were about to do step 1, Take the cover off");
  g_assert_cmpint (offer (fixture, 1, PAWL_ENTRY_SIGNED, "", "Ann", "role", "fitter"), ==, PAWL_JOB_ERROR_UNANSWERED);
  take_apart (fixture);
  g_assert_cmpint (offer (fixture, 5, PAWL_ENTRY_WAIT_STARTED, "soak", "Ann", NULL, NULL), ==, ACCEPTED);
  waiting = fold_at (fixture, 6);
  then = pawl_job_describe_next (waiting);
  g_assert_cmpstr (then, ==, "You were about to do step 3, Hang the float. Soak: out from 08:35, by 10:05 at the latest");
}

static void
test_results (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  g_autoptr(GPtrArray) results = NULL;
  const PawlResult *height;

  hang_float (fixture);
  g_assert_cmpint (answer (fixture, 5, "height", "9.0"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 6, "height", "10.0"), ==, ACCEPTED);
  job = fold_at (fixture, 7);
  results = pawl_results_of_readings (job);
  g_assert_cmpuint (results->len, ==, 2); /* the twin shares a line */
  height = results->pdata[0];
  g_assert_cmpstr (height->as_left->ask->id, ==, "height");
  g_assert_cmpstr (pawl_quantity_get_typed (height->found->quantity), ==, "12.0");
  g_assert_cmpstr (pawl_quantity_get_typed (height->left->quantity), ==, "10.0");
  g_assert_cmpuint (height->n_attempts, ==, 2);
  g_assert_null (((PawlResult *) results->pdata[1])->left);
}

/* Same procedure, entries and clock: same state, whatever order of asking. */
static void
test_pure (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) one = NULL;
  g_autoptr(PawlJob) two = NULL;

  close_up (fixture);
  one = fold_at (fixture, 60);
  two = fold_at (fixture, 60);
  for (guint i = 0; i < pawl_job_get_steps (one)->len; i++)
    {
      const PawlStepState *a = pawl_job_get_steps (one)->pdata[i], *b = pawl_job_get_steps (two)->pdata[i];

      g_assert_cmpint (a->status, ==, b->status);
      g_assert_cmpuint (a->blockers->len, ==, b->blockers->len);
    }
}

static gboolean
asks_first (Fixture *fixture, int minutes, const char *ask)
{
  g_autoptr(PawlJob) job = fold_at (fixture, minutes);

  return pawl_job_asks_first (job, pawl_job_lookup_ask (job, ask));
}

/* A guess is listed and asked once; it is no answer, and nothing else follows from it. */
static void
test_guess (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) before = NULL, after = NULL;
  PawlQuestion one, two;

  g_assert_cmpint (guess (fixture, 1, "float-way", "right"), ==, PAWL_JOB_ERROR_BLOCKED);
  g_assert_cmpint (answer (fixture, 2, "found", "10.0"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 2, "off"), ==, ACCEPTED);
  g_assert_false (asks_first (fixture, 3, "float-way")); /* this job does not */
  pawl_entry_set (fixture->entries->pdata[0], "ask-first", "yes");
  g_assert_true (asks_first (fixture, 3, "float-way"));
  g_assert_false (asks_first (fixture, 3, "height"));
  g_assert_cmpint (guess (fixture, 4, "height", "right"), ==, PAWL_JOB_ERROR_BLOCKED);
  g_assert_cmpint (guess (fixture, 4, "nothing", "right"), ==, PAWL_JOB_ERROR_UNKNOWN);
  g_assert_cmpint (guess (fixture, 4, "care", "right"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (guess (fixture, 4, "float-way", "left"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (guess (fixture, 4, "float-way", NULL), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  before = fold_at (fixture, 5);
  g_assert_cmpint (guess (fixture, 5, "float-way", "wrong"), ==, ACCEPTED);
  after = fold_at (fixture, 5);
  g_assert_null (pawl_job_peek_guess (before, "float-way"));
  g_assert_nonnull (pawl_job_peek_guess (after, "float-way"));
  g_assert_null (pawl_job_peek_guess (after, "cover-way"));
  g_assert_false (asks_first (fixture, 5, "float-way"));
  g_assert_cmpint (ask_status_of (fixture, 5, "float-way"), ==, PAWL_ASK_PENDING);
  g_assert_cmpuint (pawl_job_lookup_ask (after, "float-way")->attempts->len, ==, 0);
  g_assert_true (pawl_job_peek_next (before) == pawl_job_peek_next (after));
  for (guint i = 0; i < pawl_job_get_steps (before)->len; i++)
    g_assert_cmpint (((PawlStepState *) pawl_job_get_steps (before)->pdata[i])->status, ==, ((PawlStepState *) pawl_job_get_steps (after)->pdata[i])->status);
  g_assert_cmpint (guess (fixture, 6, "float-way", "right"), ==, PAWL_JOB_ERROR_NOT_OPEN);
  one = pawl_job_make_question (before, pawl_job_lookup_ask (before, "float-way"));
  two = pawl_job_make_question (before, pawl_job_lookup_ask (before, "float-way"));
  g_assert_cmpint (one.is_right_first, ==, two.is_right_first);
  g_assert_cmpint (one.views[0], ==, two.views[0]);
  g_assert_cmpint (one.views[1], ==, two.views[1]);
}

/* What was answered is not guessed any more. */
static void
test_guess_too_late (Fixture *fixture, gconstpointer data)
{
  pawl_entry_set (fixture->entries->pdata[0], "ask-first", "yes");
  g_assert_cmpint (answer (fixture, 1, "found", "10.0"), ==, ACCEPTED);
  g_assert_cmpint (done (fixture, 1, "off"), ==, ACCEPTED);
  g_assert_cmpint (answer (fixture, 2, "float-way", "wrong"), ==, ACCEPTED);
  g_assert_false (asks_first (fixture, 2, "float-way"));
  g_assert_cmpint (guess (fixture, 3, "float-way", "right"), ==, PAWL_JOB_ERROR_NOT_OPEN);
}

int
main (int argc, char **argv)
{
  static const struct { const char *path; void (*test) (Fixture *, gconstpointer); } tests[] = {
    { "/job/order", test_order }, { "/job/limits", test_limits }, { "/job/wrong-way-round", test_wrong_way_round },
    { "/job/wait", test_wait }, { "/job/late-wait", test_late_wait }, { "/job/clock-shift", test_clock_shift }, { "/job/coupled", test_coupled }, { "/job/hold", test_hold }, { "/job/waiver", test_waiver }, { "/job/redo", test_redo },
    { "/job/deviate", test_deviate }, { "/job/parts-and-decisions", test_parts_and_decisions },
    { "/job/next-and-sign", test_next_and_sign }, { "/job/results", test_results }, { "/job/pure", test_pure },
    { "/job/guess", test_guess }, { "/job/guess-too-late", test_guess_too_late },
  };

  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
