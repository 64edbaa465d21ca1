/* Readings in full: places, what they come to, repeats, what follows from other readings, what is void, corrections. */
#include <string.h>

#include "job/pawl-bench-sheet.h"
#include "job/pawl-job.h"
#include "job/pawl-results.h"
#include "procedure/pawl-reader.h"

#define READING(id, name, more, children) "<reading id='" id "' name='" name "' source='x' " more "><says>S</says>" children "</reading>"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='readings' revision='1' xml:lang='en'>"
  "<title>Readings</title><unit maker='Invented'>Unit</unit><author>Pawl</author><licence>CC0-1.0</licence>"
  "<verified how='no'>Never.</verified><attended>1 h</attended>"
  "<tools><tool id='gauge' name='Bore gauge' error='0.004 mm' step='0.002 mm'/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<parts><part id='body' item='1' name='Body' stays='yes'/></parts>"
  "<phase id='all' title='All'>"
  "<step id='measure'><do>Measure.</do>"
  READING ("bore", "Cylinder bore", "limits='88.000..88.030 mm; wear max 88.200 mm' unit='mm' tool='gauge'",
           "<spot id='top' name='top'/><spot id='middle' name='middle'/><spot id='low' name='low'/><judge of='spread' limits='max 0.02 mm'/>")
  READING ("piston", "Piston", "limits='87.93..87.96 mm' unit='mm' tool='gauge'", "")
  READING ("clearance", "Clearance", "formula='max(bore) - piston' limits='0.05..0.09 mm' unit='mm'", "")
  READING ("gap", "Ring gap", "low='0.003 * mean(bore)' high='0.004 * mean(bore)' unit='mm'", "")
  READING ("compression", "Compression", "limits='min 100 psi' unit='psi'",
           "<spot id='one' name='1'/><spot id='two' name='2'/><judge of='ratio' limits='min 75 %'/><judge of='mean' limits='min 120 psi'/>")
  "</step>"
  "<step id='look-up'><do>Look up.</do>"
  "<check id='colour' kind='visual' name='Size mark' outcomes='red blue' accept='red blue' source='x'>Which?</check>"
  READING ("height", "Screw height", "limits='1..9 mm' unit='mm'", "")
  READING ("stepped", "Stepped", "", "<table by='height'><row at='2 mm' limits='10..20 psi'/><row at='4 mm' limits='30..40 psi'/></table>")
  READING ("lined", "Lined", "", "<table by='height' between='line'><row at='2 mm' limits='10..20 psi'/><row at='4 mm' limits='30..40 psi'/></table>")
  READING ("sized", "Sized", "", "<table by='colour'><row outcome='red' limits='max 1 mm'/><row outcome='blue' limits='max 2 mm'/></table>")
  "</step>"
  "<step id='set'><do>Set.</do>"
  READING ("play", "End play", "limits='0.05..0.15 mm' unit='mm' repeats='2' valid='min 0.005 mm' reopens='drag'",
           "<void>no play says nothing</void><loop tries='2'>The cups are not home.</loop>"
           "<advice sum='restack'><let input='play' from='this'/><let input='stack' from='stack'/><let input='limits' from='limits'/>"
           "<let input='sizes' value='0.10 x9 mm'/></advice>")
  READING ("drag", "Drag", "limits='3..12 N' unit='N'", "")
  "</step>"
  "<step id='shims'><do>Measure the shims.</do>" READING ("stack", "Shim stack", "limits='0.8..1.6 mm' unit='mm'", "") "</step>"
  "<step id='hold'><do>Hold the pressure.</do>"
  READING ("held", "Pressure held", "limits='min 37 kPa' unit='kPa'",
           "<spot id='start' name='at the start' limits='40 kPa ± 1 kPa'/><spot id='time' name='time' limits='min 30 s'/><spot id='end' name='at the end'/>")
  READING ("drop", "Drop", "formula='held.start - held.end' limits='max 2 kPa' unit='kPa'", "")
  "</step>"
  "</phase></procedure>";

typedef struct {
  PawlProcedure *procedure;
  GPtrArray     *entries;
  GDateTime     *start;
} Fixture;

static void
set_up (Fixture *self, gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (procedure_xml, sizeof procedure_xml - 1);
  g_autoptr(GError) error = NULL;
  PawlEntry *opened;

  self->procedure = pawl_procedure_load_bytes (bytes, "readings.xml", NULL, &error);
  g_assert_no_error (error);
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  self->start = g_date_time_new_from_iso8601 ("2026-11-25T08:00:00+00:00", NULL);
  opened = pawl_entry_new (PAWL_ENTRY_OPENED, "", "Ann", self->start);
  pawl_entry_set (opened, "policy", data);
  g_ptr_array_add (self->entries, opened);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_object_unref (self->procedure);
  g_ptr_array_unref (self->entries);
  g_date_time_unref (self->start);
}

static PawlJob *
fold (Fixture *self)
{
  return pawl_job_fold (self->procedure, self->entries, self->start);
}

/* NULL: accepted, and appended; else what the job says (transfer full). */
static char *
offer (Fixture *self, PawlEntryKind kind, const char *subject, const char *answer, const char *typed_over)
{
  g_autoptr(PawlJob) job = fold (self);
  PawlEntry *entry = pawl_entry_new (kind, subject, "Ann", self->start);
  g_autoptr(GError) error = NULL;

  pawl_entry_set (entry, "answer", answer);
  pawl_entry_set (entry, "typed-over", typed_over != NULL ? "yes" : NULL);
  pawl_entry_set (entry, "remark", typed_over);
  if (pawl_job_check (job, entry, &error))
    {
      g_ptr_array_add (self->entries, entry);
      return NULL;
    }
  pawl_entry_unref (entry);
  return g_strdup (error->message);
}

static void
say (Fixture *self, const char *ask, const char *answer)
{
  g_autofree char *refusal = offer (self, PAWL_ENTRY_ANSWERED, ask, answer, NULL);

  g_assert_cmpstr (refusal, ==, NULL);
}

static void
assert_refused (Fixture *self, PawlEntryKind kind, const char *subject, const char *answer, const char *words)
{
  g_autofree char *refusal = offer (self, kind, subject, answer, NULL);

  if (refusal == NULL || strstr (refusal, words) == NULL)
    g_error ("%s %s: “%s”, and not “%s”", subject, answer, refusal, words);
}

/* How an ask stands, its value and its verdict in words: "accepted | 0.072 mm | in". */
static void
assert_stands (Fixture *self, const char *id, PawlAskStatus status, const char *value, const char *verdict)
{
  g_autoptr(PawlJob) job = fold (self);
  const PawlAskState *state = pawl_job_lookup_ask (job, id);
  const PawlAttempt *last = state->n_current > 0 ? state->attempts->pdata[state->attempts->len - 1] : NULL;
  g_autofree char *is_value = last != NULL ? pawl_attempt_describe_value (last, '.') : NULL;
  g_autofree char *is_verdict = last != NULL ? pawl_attempt_describe_verdict (state->ask, last) : NULL;

  g_test_message ("%s: %s, %s", id, is_value, is_verdict);
  g_assert_cmpstr (is_value, ==, value);
  g_assert_cmpstr (is_verdict, ==, verdict);
  g_assert_cmpint (state->status, ==, status);
}

/* ---- places ---- */

static void
test_places (Fixture *self, gconstpointer data)
{
  assert_refused (self, PAWL_ENTRY_ANSWERED, "bore", "88.01; 88.02", "2 of 3 values; write them parted by ; in this order: top; middle; low");
  assert_refused (self, PAWL_ENTRY_ANSWERED, "bore", "88.01; rubbish; 88.02", "middle: at character 1");
  say (self, "bore", "88.01; 88.02; 88.015");
  assert_stands (self, "bore", PAWL_ASK_ACCEPTED, "88.01; 88.02; 88.015", "in");
  say (self, "bore", "88.01; 88.30; 88.015");
  assert_stands (self, "bore", PAWL_ASK_OUT, "88.01; 88.30; 88.015", "out: 0.1 mm above the limit 88.2 mm, middle");
  say (self, "bore", "88.000; 88.029; 88.015");
  assert_stands (self, "bore", PAWL_ASK_OUT, "88.000; 88.029; 88.015", "out: 0.009 mm above the limit 0.02 mm, spread");
}

static void
test_ratio (Fixture *self, gconstpointer data)
{
  say (self, "compression", "120; 160");
  assert_stands (self, "compression", PAWL_ASK_ACCEPTED, "120; 160", "in"); /* 75 % exactly */
  say (self, "compression", "119; 160");
  assert_stands (self, "compression", PAWL_ASK_OUT, "119; 160", "out: 0.625 % below the limit 75 %, smallest by largest");
  say (self, "compression", "110; 125");
  assert_stands (self, "compression", PAWL_ASK_OUT, "110; 125", "out: 2.5 psi below the limit 120 psi, mean");
}

/* The spread of two readings is known half as well again as one: √2 u (JCGM 100:2008, 5.1.2, uncorrelated). */
static void
test_uncertain_spread (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  const PawlAttempt *attempt;
  const PawlJudged *each, *spread;

  say (self, "bore", "88.005; 88.02; 88.01");
  job = fold (self);
  attempt = pawl_job_lookup_ask (job, "bore")->attempts->pdata[0];
  g_assert_cmpuint (attempt->judged->len, ==, 4);
  each = attempt->judged->pdata[0];
  spread = attempt->judged->pdata[3];
  g_assert_cmpstr (spread->name, ==, "spread");
  g_assert_cmpfloat_with_epsilon (spread->verdict.expanded / each->verdict.expanded, 1.41421356, 1e-6);
  g_assert_cmpint (attempt->verdict.kind, ==, PAWL_VERDICT_TOO_CLOSE); /* 0.015 of 0.02, U 0.0068 */
}

/* A hold: three values of three kinds, each with its own limits, and the drop worked out of two of them. */
static void
test_hold (Fixture *self, gconstpointer data)
{
  assert_stands (self, "drop", PAWL_ASK_PENDING, NULL, NULL);
  say (self, "held", "40.2 kPa; 31 s; 38.9 kPa");
  assert_stands (self, "held", PAWL_ASK_ACCEPTED, "40.2 kPa; 31 s; 38.9 kPa", "in");
  assert_stands (self, "drop", PAWL_ASK_ACCEPTED, "1.3 kPa", "in");
  say (self, "held", "40.2 kPa; 20 s; 38.9 kPa");
  assert_stands (self, "held", PAWL_ASK_OUT, "40.2 kPa; 20 s; 38.9 kPa", "out: 10 s below the limit 30 s, time");
  assert_refused (self, PAWL_ENTRY_ANSWERED, "held", "40.2; 20 kPa; 38.9", "time: ");
}

/* ---- what follows ---- */

static void
test_derived (Fixture *self, gconstpointer data)
{
  g_autofree char *over = NULL;
  g_autoptr(PawlJob) job = NULL;

  assert_refused (self, PAWL_ENTRY_ANSWERED, "clearance", "0.07", "“Clearance” is worked out: max(bore) - piston");
  assert_refused (self, PAWL_ENTRY_ANSWERED, "gap", "0.3", "the limits of “Ring gap” follow from “Cylinder bore”, which is not measured yet");
  say (self, "bore", "88.01; 88.02; 88.015");
  assert_stands (self, "clearance", PAWL_ASK_PENDING, NULL, NULL);
  say (self, "piston", "87.95");
  assert_stands (self, "clearance", PAWL_ASK_ACCEPTED, "0.07 mm", "in");
  say (self, "piston", "87.93");
  assert_stands (self, "clearance", PAWL_ASK_ACCEPTED, "0.09 mm", "in"); /* on the limit */
  say (self, "bore", "88.01; 88.025; 88.015");
  assert_stands (self, "clearance", PAWL_ASK_OUT, "0.095 mm", "out: 0.005 mm above the limit 0.09 mm");
  over = offer (self, PAWL_ENTRY_ANSWERED, "clearance", "0.06", "measured with plastic strip");
  g_assert_null (over);
  assert_stands (self, "clearance", PAWL_ASK_ACCEPTED, "0.06 mm", "in");
  job = fold (self);
  g_assert_true (((PawlAttempt *) pawl_job_lookup_ask (job, "clearance")->attempts->pdata[0])->is_typed_over);
}

/* Of a step that is finished nothing is missing, and what is missing is named. */
static void
test_derived_holds_the_step (Fixture *self, gconstpointer data)
{
  say (self, "bore", "88.01; 88.02; 88.015");
  say (self, "gap", "0.3");
  assert_refused (self, PAWL_ENTRY_STEP_DONE, "measure", NULL, "still asks “Piston”");
  say (self, "piston", "87.95");
  say (self, "bore", "88.10; 88.10; 88.10");
  assert_stands (self, "clearance", PAWL_ASK_OUT, "0.15 mm", "out: 0.06 mm above the limit 0.09 mm");
  assert_refused (self, PAWL_ENTRY_STEP_DONE, "measure", NULL, "“Clearance” of step 1 is not right yet");
}

/* The ring gap is judged by the bore as it is now: bored out, another gap is right. */
static void
test_limits_follow (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;

  say (self, "bore", "88.00; 88.00; 88.00");
  say (self, "gap", "0.3521");
  assert_stands (self, "gap", PAWL_ASK_OUT, "0.3521 mm", "out: 0.0001 mm above the limit 0.352 mm");
  say (self, "bore", "88.03; 88.03; 88.03");
  assert_stands (self, "gap", PAWL_ASK_ACCEPTED, "0.3521 mm", "in");
  job = fold (self);
  g_assert_cmpstr (pawl_limits_get_text (pawl_job_lookup_ask (job, "gap")->limits), ==,
                   "0.26409 mm to 0.35212 mm (0.003 * mean(bore) to 0.004 * mean(bore))");
}

static void
test_tables (Fixture *self, gconstpointer data)
{
  assert_refused (self, PAWL_ENTRY_ANSWERED, "stepped", "15 psi", "follow from “Screw height”, which is not measured yet");
  say (self, "height", "3.9");
  say (self, "stepped", "15 psi");
  assert_stands (self, "stepped", PAWL_ASK_ACCEPTED, "15 psi", "in");
  say (self, "lined", "15 psi"); /* 29..39 psi at 3.9 mm */
  assert_stands (self, "lined", PAWL_ASK_OUT, "15 psi", "out: 14 psi below the limit 29 psi");
  say (self, "height", "4");
  assert_stands (self, "stepped", PAWL_ASK_OUT, "15 psi", "out: 15 psi below the limit 30 psi");
  say (self, "height", "1.5");
  assert_refused (self, PAWL_ENTRY_ANSWERED, "stepped", "15 psi", "is outside of the table of limits, which goes from 2 mm to 4 mm");
  say (self, "colour", "red");
  say (self, "sized", "1.5 mm");
  assert_stands (self, "sized", PAWL_ASK_OUT, "1.5 mm", "out: 0.5 mm above the limit 1 mm");
  say (self, "colour", "blue");
  assert_stands (self, "sized", PAWL_ASK_ACCEPTED, "1.5 mm", "in");
}

/* ---- repeats, void, loops, corrections ---- */

static void
test_repeats (Fixture *self, gconstpointer data)
{
  say (self, "drag", "5");
  say (self, "play", "0.31");
  assert_stands (self, "play", PAWL_ASK_PENDING, "0.31 mm", "1 of 2 taken");
  assert_refused (self, PAWL_ENTRY_STEP_DONE, "set", NULL, "asks “End play” 2 times, and it was taken 1");
  say (self, "play", "0.29");
  assert_stands (self, "play", PAWL_ASK_OUT, "0.3 mm, mean of 2", "out: 0.15 mm above the limit 0.15 mm");
  /* the next set: the first of it changes nothing, and only the whole of it upsets what is coupled */
  say (self, "play", "0.11");
  assert_stands (self, "drag", PAWL_ASK_ACCEPTED, "5 N", "in");
  say (self, "play", "0.09");
  assert_stands (self, "play", PAWL_ASK_ACCEPTED, "0.1 mm, mean of 2", "in");
  assert_stands (self, "drag", PAWL_ASK_STALE, NULL, NULL);
}

static void
test_void (Fixture *self, gconstpointer data)
{
  say (self, "play", "0.1");
  say (self, "play", "0.0");
  assert_stands (self, "play", PAWL_ASK_OUT, "0.05 mm, mean of 2", "void, measure again: no play says nothing");
  say (self, "play", "0.1");
  assert_stands (self, "play", PAWL_ASK_ACCEPTED, "0.1 mm, mean of 2", "in");
}

static void
test_correction (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) before = NULL, job = NULL;
  g_autoptr(PawlSumResult) result = NULL;
  g_autoptr(GError) error = NULL;

  say (self, "play", "0.31");
  say (self, "play", "0.31");
  before = fold (self);
  g_assert_null (pawl_job_advise (before, pawl_job_lookup_ask (before, "play"), &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BLOCKED);
  g_assert_nonnull (strstr (error->message, "“Shim stack”"));
  g_assert_false (pawl_ask_is_looping (pawl_job_lookup_ask (before, "play")));
  g_clear_error (&error);
  say (self, "stack", "1.30");
  say (self, "play", "0.31");
  say (self, "play", "0.31");
  job = fold (self);
  result = pawl_job_advise (job, pawl_job_lookup_ask (job, "play"), &error);
  g_assert_no_error (error);
  /* 1.04 to 1.14 mm is wanted: eleven of 0.10 would be 1.10, but there are nine */
  g_assert_cmpstr (((PawlSumAnswer *) result->answers->pdata[0])->text, ==, "1.04 mm (≈ 0.0409 in) to 1.14 mm (≈ 0.0449 in)");
  g_assert_cmpstr (((PawlSumAnswer *) result->answers->pdata[1])->text, ==, "9 × 0.1 mm");
  g_assert_true (pawl_ask_is_looping (pawl_job_lookup_ask (job, "play")));
}

/* Results list whole attempts, and the derived value beside the measured ones. */
static void
test_results (Fixture *self, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  g_autoptr(GPtrArray) results = NULL;

  say (self, "play", "0.31");
  say (self, "play", "0.29");
  say (self, "play", "0.11");
  say (self, "play", "0.09");
  say (self, "bore", "88.01; 88.02; 88.015");
  say (self, "piston", "87.95");
  job = fold (self);
  results = pawl_results_of_readings (job);
  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = results->pdata[i];

      if (g_str_equal (result->as_left->ask->id, "play"))
        {
          g_assert_cmpuint (result->n_attempts, ==, 2);
          g_assert_cmpint (result->found->verdict.kind, ==, PAWL_VERDICT_OUT);
          g_assert_cmpint (result->left->verdict.kind, ==, PAWL_VERDICT_IN);
        }
      else if (g_str_equal (result->as_left->ask->id, "clearance"))
        {
          g_assert_true (result->left->is_derived);
          g_assert_cmpstr (pawl_entry_get (result->left->entry, "answer"), !=, NULL);
        }
    }
}

/* ---- every measurement, from a bench sheet ---- */

/* What is put right in that sheet, and what it upsets: that has to be taken, or looked at, once more. */
static const struct { const char *corrected, *upset; } coupled[] = {
  { "row-01", "row-02" }, { "row-01", "row-03" }, { "row-14", "row-01" }, { "row-05", "row-01" }, { "row-08", "row-10" }, { "row-17", "row-16" },
  { "row-16", "row-17" }, { "row-59", "row-60" }, { "row-60", "row-59" }, { "row-57", "row-61-pull" },
};

static PawlJob *
append_row (Fixture *self, PawlProcedure *procedure, const PawlSheetRow *row, PawlJob *job)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) entries = pawl_bench_sheet_make_entries (row, job, "sheet", &error);

  g_assert_no_error (error);
  for (guint i = 0; i < entries->len; i++)
    {
      pawl_job_check (job, entries->pdata[i], &error);
      g_assert_no_error (error);
      g_ptr_array_add (self->entries, pawl_entry_ref (entries->pdata[i]));
    }
  return pawl_job_fold (procedure, self->entries, self->start);
}

static void
note_upset (PawlJob *job, const PawlSheetRow *row, gboolean *is_upset)
{
  for (guint i = 0; i < G_N_ELEMENTS (coupled); i++)
    if (g_str_equal (row->item, coupled[i].corrected) && pawl_job_lookup_ask (job, coupled[i].upset)->status == PAWL_ASK_STALE)
      is_upset[i] = TRUE;
}

static void
test_coupled (Fixture *self, gconstpointer data)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "good", "every-measurement.xml", NULL);
  g_autofree char *sheet = g_test_build_filename (G_TEST_DIST, "data", "good", "every-measurement.answers.csv", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load (path, NULL, &error);
  g_autoptr(GPtrArray) rows = pawl_bench_sheet_load (sheet, &error);
  g_autoptr(PawlJob) job = NULL;
  gboolean is_upset[G_N_ELEMENTS (coupled)] = { FALSE };
  guint done, total;

  g_assert_no_error (error);
  job = pawl_job_fold (procedure, self->entries, self->start);
  for (guint i = 0; i < rows->len; i++)
    {
      PawlJob *next = append_row (self, procedure, rows->pdata[i], job);

      g_object_unref (job);
      job = next;
      note_upset (job, rows->pdata[i], is_upset);
    }
  for (guint i = 0; i < G_N_ELEMENTS (coupled); i++)
    if (!is_upset[i])
      g_error ("%s never upset %s", coupled[i].corrected, coupled[i].upset);
  done = pawl_job_count_done (job, &total);
  g_assert_cmpuint (done, ==, total);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(name, function, policy) g_test_add ("/job/readings/" name, Fixture, policy, set_up, function, tear_down)
  ADD ("places", test_places, NULL);
  ADD ("ratio", test_ratio, NULL);
  ADD ("uncertain-spread", test_uncertain_spread, "guard-band");
  ADD ("hold", test_hold, NULL);
  ADD ("derived", test_derived, NULL);
  ADD ("derived-holds-the-step", test_derived_holds_the_step, NULL);
  ADD ("limits-follow", test_limits_follow, NULL);
  ADD ("tables", test_tables, NULL);
  ADD ("repeats", test_repeats, NULL);
  ADD ("void", test_void, NULL);
  ADD ("correction", test_correction, NULL);
  ADD ("coupled", test_coupled, NULL);
  ADD ("results", test_results, NULL);
  return g_test_run ();
}
