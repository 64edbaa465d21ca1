/* Words: facts as they are said on paper. */
#include "procedure/pawl-reader.h"
#include "report/pawl-words.h"

static void
test_durations (void)
{
  static const struct { gint64 seconds; const char *words; } cases[] = {
    { 0, "0 s" }, { 59, "59 s" }, { 60, "1 min" }, { 61, "1 min 1 s" }, { 1800, "30 min" }, { 3599, "59 min 59 s" }, { 3600, "1 h" },
    { 5400, "1 h 30 min" }, { 5430, "1 h 30 min" }, { 86400, "1 d" }, { 187200, "2 d 4 h" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *words = pawl_words_duration (cases[i].seconds);

      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

static void
test_wait_limits (void)
{
  const PawlWait both = { .min_seconds = 1800, .max_seconds = 14400 }, open = { .min_seconds = 1800 };
  g_autofree char *with_most = pawl_words_wait_limits (&both), *without = pawl_words_wait_limits (&open);

  g_assert_cmpstr (with_most, ==, "30 min to 4 h");
  g_assert_cmpstr (without, ==, "at least 30 min");
}

static void
test_times (void)
{
  g_autoptr (GDateTime) winter = g_date_time_new_from_iso8601 ("2026-11-25T14:05:30+00:00", NULL);
  g_autoptr (GDateTime) summer = g_date_time_new_from_iso8601 ("2026-07-25T14:05:30+01:00", NULL);
  g_autofree char *whole = pawl_words_time (winter), *none = pawl_words_time (NULL);
  g_autofree char *same = pawl_words_time_beside (winter, winter), *other = pawl_words_time_beside (summer, winter);

  g_assert_cmpstr (whole, ==, "2026-11-25 14:05 +00:00");
  g_assert_cmpstr (none, ==, "");
  g_assert_cmpstr (same, ==, "2026-11-25 14:05");
  g_assert_cmpstr (other, ==, "2026-07-25 14:05 +01:00");
}

static void
test_outcomes (void)
{
  static const char * const accepted[] = { "used", "not-needed", NULL };
  g_autofree char *one = pawl_words_outcome ("all-plugged"), *several = pawl_words_outcomes (accepted), *none = pawl_words_outcome (NULL);

  g_assert_cmpstr (one, ==, "all plugged");
  g_assert_cmpstr (several, ==, "used or not needed");
  g_assert_cmpstr (none, ==, "");
}

/* A number without a unit gets the one that it was understood in; what names a unit stays as typed. */
static void
test_readings (void)
{
  static const struct { const char *typed, *unit, *words; } cases[] = {
    { "4.05", "mm", "4.05 mm" },
    { "4.05 mm", "mm", "4.05 mm" },
    { "1 5/16", "in", "1 5/16 in" },
    { "1-5/16\"", "in", "1-5/16\"" },
    { "25 thou", "in", "25 thou" },
    { "12°30'", "deg", "12°30'" },
    { "#56", "in", "#56" },
    { "29 lbf·in", "lbf·in", "29 lbf·in" },
    { ".003 goes, .004 does not", "in", ".003 goes, .004 does not (in)" },
  };
  g_autoptr (GDateTime) at = g_date_time_new_from_unix_utc (0);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const PawlTyping typing = { .default_unit = pawl_unit_lookup (cases[i].unit) };
      g_autoptr (GError) error = NULL;
      g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_ANSWERED, "x", "", at);
      g_autoptr (PawlQuantity) quantity = pawl_quantity_parse (cases[i].typed, &typing, &error);
      const PawlAttempt attempt = { .entry = entry, .quantity = quantity };
      g_autofree char *words = NULL;

      g_assert_no_error (error);
      pawl_entry_set (entry, "answer", cases[i].typed);
      words = pawl_words_reading (&attempt);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='places' revision='1' xml:lang='en'>"
  "<title>Places</title><unit maker='Invented'>Unit</unit><author>Pawl</author><licence>CC0-1.0</licence>"
  "<verified how='no'>Never.</verified><attended>1 h</attended>"
  "<tools><tool id='gauge' name='Bore gauge' error='0.004 mm' step='0.002 mm'/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<parts><part id='body' item='1' name='Body' stays='yes'/></parts><phase id='all' title='All'><step id='measure'><do>Measure.</do>"
  "<reading id='bore' name='Bore' source='x' limits='88.00..88.03 mm' unit='mm' tool='gauge'><says>S</says>"
  "<spot id='top' name='top'/><spot id='middle' name='middle'/><spot id='low' name='low'/><judge of='spread' limits='max 0.02 mm'/></reading>"
  "<reading id='hold' name='Hold' source='x' limits='min 37 kPa' unit='kPa'><says>S</says>"
  "<spot id='start' name='start'/><spot id='time' name='time' limits='min 30 s'/><spot id='end' name='end'/></reading>"
  "<reading id='taper' name='Taper' source='x' limits='max 0.02 mm' formula='abs(bore.top - bore.low)' unit='mm'><says>S</says></reading>"
  "<reading id='play' name='Play' source='x' limits='0.05..0.15 mm' unit='mm' valid='min 0.01 mm'><says>S</says><void>no play says nothing</void></reading>"
  "</step></phase></procedure>";

/* The column has room for the smallest and the largest; the line below has each place, and what they come to. */
static void
test_places (void)
{
  static const struct { const char *ask, *cell, *uncertainty, *instrument, *places, *attempts; } cases[] = {
    { "bore", "88.003 mm to 88.027 mm", "U = 0.0048 mm", "Bore gauge, ±\302\240" "0.004\302\240mm",
      "top 88.003 mm; middle 88.02 mm; low 88.027 mm; spread 0.024 mm, U = 0.0067 mm, limits max 0.02 mm, judged out", "88.003 mm to 88.027 mm, judged out" },
    { "hold", "40 kPa; 31 s; 38 kPa", "", "not stated", "start 40 kPa; time 31 s; end 38 kPa", "40 kPa; 31 s; 38 kPa, judged in" },
    { "taper", "0.024 mm", "U = 0.0067 mm", "worked out", "", "0.024 mm, judged out" }, /* √2 of the bore's */
    { "play", "0.1 mm", "", "not stated", "", "0 mm, judged void (no play says nothing); 0.1 mm, judged in" },
  };
  static const char * const answers[][2] = { { "bore", "88.003; 88.02; 88.027" }, { "hold", "40; 31 s; 38" }, { "play", "0" }, { "play", "0.1" } };
  g_autoptr (GBytes) bytes = g_bytes_new_static (procedure_xml, sizeof procedure_xml - 1);
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlProcedure) procedure = pawl_procedure_load_bytes (bytes, "places.xml", NULL, &error);
  g_autoptr (GDateTime) at = g_date_time_new_from_unix_utc (0);
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr (PawlJob) job = NULL;

  g_assert_no_error (error);
  g_ptr_array_add (entries, pawl_entry_new (PAWL_ENTRY_OPENED, "", "Ann", at));
  for (guint i = 0; i < G_N_ELEMENTS (answers); i++)
    {
      PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_ANSWERED, answers[i][0], "Ann", at);

      pawl_entry_set (entry, "answer", answers[i][1]);
      g_ptr_array_add (entries, entry);
    }
  job = pawl_job_fold (procedure, entries, at);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const PawlAskState *state = pawl_job_lookup_ask (job, cases[i].ask);
      const PawlReading *reading = state->ask->reading;
      const PawlAttempt *last = g_ptr_array_index (state->attempts, state->attempts->len - 1);
      g_autofree char *cell = pawl_words_reading (last), *uncertainty = pawl_words_uncertainty (last);
      g_autofree char *instrument = pawl_words_instrument (procedure, reading, last);
      g_autofree char *places = pawl_words_places (reading, last), *attempts = pawl_words_attempts (state);

      g_assert_cmpstr (cell, ==, cases[i].cell);
      g_assert_cmpstr (uncertainty, ==, cases[i].uncertainty);
      g_assert_cmpstr (places, ==, cases[i].places);
      g_assert_cmpstr (attempts, ==, cases[i].attempts);
      g_assert_cmpstr (instrument, ==, cases[i].instrument);
    }
}

static void
test_parts (void)
{
  static const struct { const char *choice, *source; PawlPlace place; gboolean is_kit; const char *words; } cases[] = {
    { NULL, NULL, PAWL_PLACE_ON_UNIT, FALSE, "left in place" },
    { NULL, NULL, PAWL_PLACE_OFF, FALSE, "off, not refitted" },
    { NULL, NULL, PAWL_PLACE_NOT_YET, TRUE, "not fitted" },
    { NULL, NULL, PAWL_PLACE_SEATED, TRUE, "new from the kit" },
    { NULL, NULL, PAWL_PLACE_SEATED, FALSE, "refitted" },
    { "reuse", NULL, PAWL_PLACE_SEATED, FALSE, "reused" },
    { "repair", NULL, PAWL_PLACE_SEATED, FALSE, "repaired" },
    { "replace", "kit PD-K3", PAWL_PLACE_SEATED, FALSE, "new from the kit" },
    { "replace", "donor SD-3", PAWL_PLACE_SEATED, FALSE, "used part from a donor" },
    { "replace", "made", PAWL_PLACE_SEATED, FALSE, "made in the shop" },
    { "replace", "found in a drawer", PAWL_PLACE_SEATED, FALSE, "replaced" },
    { "reuse", NULL, PAWL_PLACE_OFF, FALSE, "reused; not refitted" },
  };
  g_autoptr (GDateTime) at = g_date_time_new_from_unix_utc (0);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const PawlPart part = { .is_kit = cases[i].is_kit };
      g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_DISPOSED, "x", "", at);
      const PawlPartState state = { .part = &part, .place = cases[i].place, .disposition = cases[i].choice ? entry : NULL };
      g_autofree char *words = NULL;

      pawl_entry_set (entry, "choice", cases[i].choice);
      pawl_entry_set (entry, "source", cases[i].source);
      words = pawl_words_part (&state);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/words/durations", test_durations);
  g_test_add_func ("/words/wait-limits", test_wait_limits);
  g_test_add_func ("/words/times", test_times);
  g_test_add_func ("/words/outcomes", test_outcomes);
  g_test_add_func ("/words/readings", test_readings);
  g_test_add_func ("/words/places", test_places);
  g_test_add_func ("/words/parts", test_parts);
  return g_test_run ();
}
