/* Which instruments a reading is offered, and what is said of them before it is taken. No display; the instruments are invented. */
#include <string.h>

#include "app-fixture.h"
#include "app/pawl-instrument-offer.h"

#define READING "plug-size" /* 9.9..10.1 mm, by the micrometer */

static GPtrArray *
offer (Fixture *fixture, const char *draft, guint *chosen)
{
  return pawl_instrument_offer_list (pawl_session_peek_register (fixture->session), pawl_session_get_job (fixture->session),
                                     fixture_lookup_ask (fixture, READING), draft, chosen);
}

static const PawlGauge *
look_up (Fixture *fixture, const char *mark)
{
  return pawl_register_lookup (pawl_session_peek_register (fixture->session), mark);
}

static void
check_offer (Fixture *fixture, const char *draft, const char *expected, const char *expected_mark)
{
  guint chosen;
  g_autoptr(GPtrArray) gauges = offer (fixture, draft, &chosen);
  g_autoptr(GString) marks = g_string_new (NULL);

  for (guint i = 0; i < gauges->len; i++)
    g_string_append_printf (marks, "%s%s", i > 0 ? " " : "", ((const PawlGauge *) gauges->pdata[i])->mark);
  g_assert_cmpstr (marks->str, ==, expected);
  g_assert_cmpuint (chosen, <=, gauges->len);
  g_assert_cmpstr (chosen < gauges->len ? ((const PawlGauge *) gauges->pdata[chosen])->mark : NULL, ==, expected_mark);
}

static void
take (Fixture *fixture, const char *mark, const char *typed)
{
  const PawlAsk *ask = fixture_lookup_ask (fixture, READING);
  g_autoptr(PawlEntry) entry = pawl_answer_new_reading (ask, typed, ask->reading->tool, '.', pawl_session_make_hand (fixture->session));
  g_autoptr(GError) error = NULL;

  pawl_entry_set (entry, "tool-serial", mark);
  pawl_session_take (fixture->session, entry, NULL, &error);
  g_assert_no_error (error);
}

/* What is in the hand is not guessed: only one that is alone, or was used last, is chosen beforehand. */
static void
test_which (Fixture *fixture, gconstpointer data)
{
  fixture_finish_first (fixture);
  check_offer (fixture, "", "", NULL);
  fixture_put_in (fixture, "CAL-1", "kind", "caliper", NULL);
  check_offer (fixture, "", "", NULL);
  fixture_put_in (fixture, "MIC-3", "kind", "Micrometer", "due", "2026-10-01", NULL); /* the tool's name; out of date */
  check_offer (fixture, "", "MIC-3", "MIC-3");
  fixture_put_in (fixture, "MIC-4", "kind", "micrometer", "due", "2027-10-01", NULL); /* its id; in date first */
  fixture_put_in (fixture, "MIC-5", "kind", "micrometer", NULL);
  check_offer (fixture, "", "MIC-4 MIC-5 MIC-3", NULL);
  check_offer (fixture, "MIC-5", "MIC-4 MIC-5 MIC-3", "MIC-5");
  check_offer (fixture, "-", "MIC-4 MIC-5 MIC-3", NULL);
  check_offer (fixture, "CAL-1", "MIC-4 MIC-5 MIC-3 CAL-1", "CAL-1"); /* of another kind, and it typed */

  take (fixture, "MIC-5", "10.0");
  check_offer (fixture, "", "MIC-5 MIC-4 MIC-3", "MIC-5");
  check_offer (fixture, "-", "MIC-5 MIC-4 MIC-3", NULL);
  take (fixture, NULL, "10.0"); /* another one since: nothing is assumed */
  check_offer (fixture, "", "MIC-4 MIC-5 MIC-3", NULL);
}

/* What the register knew goes into the record with the answer. */
static void
test_taken (Fixture *fixture, gconstpointer data)
{
  const PawlAskState *state;
  PawlEntry *entry;

  fixture_finish_first (fixture);
  fixture_put_in (fixture, "MIC-3", "kind", "micrometer", "error", "0.01 mm", "due", "2026-10-01", NULL);
  take (fixture, "MIC-3", "10.0");
  state = pawl_job_lookup_ask (pawl_session_get_job (fixture->session), READING);
  entry = ((PawlAttempt *) state->attempts->pdata[0])->entry;
  g_assert_cmpstr (pawl_entry_get (entry, "tool-serial"), ==, "MIC-3");
  g_assert_cmpstr (pawl_entry_get (entry, "error"), ==, "0.01 mm");
  g_assert_cmpstr (pawl_entry_get (entry, "overdue"), ==, "yes");
}

static void
check_words (Fixture *fixture, const char *mark, gboolean is_doubtful, const char *words)
{
  PawlJob *job = pawl_session_get_job (fixture->session);
  const PawlAsk *ask = fixture_lookup_ask (fixture, READING);
  g_autofree char *text = pawl_instrument_offer_describe (look_up (fixture, mark), job, ask, fixture->now);

  g_test_message ("%s: %s", mark, text);
  g_assert_nonnull (strstr (text, words));
  g_assert_cmpint (pawl_instrument_offer_is_doubtful (look_up (fixture, mark), job, ask, fixture->now), ==, is_doubtful);
}

static void
test_words (Fixture *fixture, gconstpointer data)
{
  fixture_put_in (fixture, "A", "kind", "micrometer", "due", "2026-10-01", NULL);
  fixture_put_in (fixture, "B", "kind", "micrometer", "due", "2026-12-01", NULL);
  fixture_put_in (fixture, "C", "kind", "micrometer", "due", "2027-12-01", "error", "0.004 mm", NULL);
  fixture_put_in (fixture, "D", "kind", "caliper", "due", "2027-12-01", NULL);
  check_words (fixture, "A", TRUE, "✗ Out of date: was due 2026-10-01. The report will say so.");
  check_words (fixture, "B", TRUE, "! Due soon: 2026-12-01");
  check_words (fixture, "C", FALSE, "✓ In date, due 2027-12-01 · error ±0.004 mm");
  check_words (fixture, "D", TRUE, "D is entered as “caliper”; the procedure asks for Micrometer.");
}

/* The job's policy: one that is out of date is only printed, said before as well, or refused. */
static void
test_policy (Fixture *fixture, gconstpointer data)
{
  static const struct { const char *policy, *words; gboolean is_doubtful, is_refused; } cases[] = {
    { "say", "✗ Out of date: was due 2026-10-01 · error not stated", FALSE, FALSE },
    { "warn", "The report will say so.", TRUE, FALSE },
    { "refuse", "This job takes no reading by it", TRUE, TRUE },
  };

  fixture_put_in (fixture, "A", "kind", "micrometer", "due", "2026-10-01", NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlEntry) opening = pawl_answer_new_opening (&(PawlIntake) { .serial = "DC1-8" }, (PawlHand) { FIXTURE_PERSON, fixture->now });
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlBench) bench = NULL;
      g_autoptr(PawlSession) session = NULL;
      const PawlAsk *ask = fixture_lookup_ask (fixture, READING);
      g_autoptr(PawlEntry) entry = NULL;
      g_autofree char *text = NULL;

      pawl_entry_set (opening, "out-of-date", cases[i].policy);
      bench = pawl_bench_open (fixture->record, fixture->procedure, NULL, opening, &error);
      g_assert_no_error (error);
      session = pawl_session_new (bench, FIXTURE_PERSON);
      text = pawl_instrument_offer_describe (look_up (fixture, "A"), pawl_session_get_job (session), ask, fixture->now);
      g_test_message ("%s: %s", cases[i].policy, text);
      g_assert_nonnull (strstr (text, cases[i].words));
      g_assert_cmpint (pawl_instrument_offer_is_doubtful (look_up (fixture, "A"), pawl_session_get_job (session), ask, fixture->now), ==, cases[i].is_doubtful);
      entry = pawl_answer_new_reading (ask, "10.0", ask->reading->tool, '.', pawl_session_make_hand (session));
      pawl_entry_set (entry, "tool-serial", "A");
      pawl_session_take (session, entry, NULL, &error);
      g_assert_cmpint (g_error_matches (error, PAWL_REGISTER_ERROR, PAWL_REGISTER_ERROR_OUT_OF_DATE), ==, cases[i].is_refused);
    }
}

/* By the chosen instrument's own error: U of ±0.1 mm is over a quarter of the plus-or-minus 0.1 mm, that of ±0.01 mm is not. */
static void
test_coarse (Fixture *fixture, gconstpointer data)
{
  PawlJob *job = pawl_session_get_job (fixture->session);
  const PawlAskState *state = pawl_job_lookup_ask (job, READING);
  g_autofree char *coarse = NULL, *fine = NULL, *unknown = NULL;

  fixture_put_in (fixture, "A", "kind", "micrometer", "error", "0.1 mm", NULL);
  fixture_put_in (fixture, "B", "kind", "micrometer", "error", "0.01 mm", NULL);
  fixture_put_in (fixture, "C", "kind", "micrometer", NULL);
  coarse = pawl_instrument_offer_warn_coarse (look_up (fixture, "A"), job, state);
  fine = pawl_instrument_offer_warn_coarse (look_up (fixture, "B"), job, state);
  unknown = pawl_instrument_offer_warn_coarse (look_up (fixture, "C"), job, state);
  /* u = 0.1/√3, U = 2 u = 0.1155 mm (JCGM 100 4.3.7, from memory): 115 % of 0.1 mm */
  g_assert_nonnull (coarse);
  g_assert_nonnull (strstr (coarse, "A is coarse for these limits: its uncertainty is 115 %"));
  g_assert_null (fine);
  g_assert_null (unknown); /* judged by the procedure's tool, ±0.004 mm */
}

#define ADD(path, func) g_test_add (path, Fixture, NULL, fixture_set_up, func, fixture_tear_down)

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  ADD ("/app/offer/which", test_which);
  ADD ("/app/offer/taken", test_taken);
  ADD ("/app/offer/words", test_words);
  ADD ("/app/offer/policy", test_policy);
  ADD ("/app/offer/coarse", test_coarse);
  return g_test_run ();
}
