/* The register: what it takes, what it says at a time, what a reading takes from it, and that its chains hold. */
#include <string.h>

#include "record-fixture.h"
#include "register/pawl-register.h"

static GDateTime *
make_time (const char *day)
{
  g_autofree char *text = g_strdup_printf ("%sT12:00:00Z", day);

  return g_date_time_new_from_iso8601 (text, NULL);
}

/* Then pairs of field and value, NULL last. */
static PawlEntry *
make_entry (PawlEntryKind kind, const char *mark, const char *day, ...)
{
  g_autoptr(GDateTime) at = make_time (day);
  PawlEntry *entry = pawl_entry_new (kind, mark, FIXTURE_PERSON, at);
  const char *field;
  va_list fields;

  va_start (fields, day);
  while ((field = va_arg (fields, const char *)) != NULL)
    pawl_entry_set (entry, field, va_arg (fields, const char *));
  va_end (fields);
  return entry;
}

static void
append (PawlRecord *record, PawlEntry *entry) /* (transfer full) entry */
{
  g_autoptr(PawlEntry) owned = entry;
  g_autoptr(GError) error = NULL;

  pawl_register_append (record, owned, &error);
  g_assert_no_error (error);
}

static void
refuse (PawlRecord *record, PawlRegisterError code, PawlEntry *entry) /* (transfer full) entry */
{
  g_autoptr(PawlEntry) owned = entry;
  g_autoptr(GError) error = NULL;

  g_assert_false (pawl_register_append (record, owned, &error));
  g_assert_error (error, PAWL_REGISTER_ERROR, (int) code);
}

static PawlRegister *
load (PawlRecord *record)
{
  g_autoptr(GError) error = NULL;
  PawlRegister *self = pawl_register_load (record, &error);

  g_assert_no_error (error);
  return self;
}

/* Invented instruments. */
static void
add_micrometer (PawlRecord *record)
{
  append (record, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "MIC-3", "2026-03-01", "kind", "micrometer", "range", "0..25 mm", "error", "±0.004 mm",
                              "step", "0.001 mm", "reference", "0.001 mm", "calibrated", "2026-02-20", "due", "2027-02-20", NULL));
}

static void
test_life (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlRecord) record = fixture_open (fixture);
  g_autoptr(PawlRegister) before = NULL, after = NULL, then = NULL;
  g_autoptr(GPtrArray) entries = NULL;
  g_autoptr(GDateTime) may = make_time ("2026-05-01");
  g_autofree char *error_text = NULL;
  const PawlGauge *gauge;

  before = load (record);
  g_assert_cmpuint (pawl_register_list (before)->len, ==, 0);
  add_micrometer (record);
  append (record, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "CAL-1", "2026-03-01", "kind", "caliper", NULL));
  append (record, make_entry (PAWL_ENTRY_INSTRUMENT_CALIBRATED, "mic-3", "2026-09-10", "due", "2027-09-10", "error", "0.006 mm", NULL));
  append (record, make_entry (PAWL_ENTRY_INSTRUMENT_RETIRED, "CAL-1", "2026-10-01", "reason", "jaw bent", NULL));
  refuse (record, PAWL_REGISTER_ERROR_RETIRED, make_entry (PAWL_ENTRY_INSTRUMENT_CALIBRATED, "CAL-1", "2026-10-02", "due", "2027-10-02", NULL));
  fixture_check_sound (record);

  after = load (record);
  g_assert_cmpuint (pawl_register_list (after)->len, ==, 2);
  gauge = pawl_register_lookup (after, "Mic-3");
  g_assert_cmpuint (gauge->entries->len, ==, 2);
  g_assert_cmpstr (gauge->range, ==, "0..25 mm");
  error_text = pawl_gauge_describe_error (gauge, '.');
  g_assert_cmpstr (error_text, ==, "error ±0.006 mm, step 0.001 mm, reference ±0.001 mm");
  g_assert_true (pawl_register_lookup (after, "CAL-1")->is_retired);

  /* as it was in May */
  entries = pawl_record_load_instruments (record, NULL);
  then = pawl_register_fold (entries, may);
  g_assert_cmpuint (pawl_register_lookup (then, "MIC-3")->entries->len, ==, 1);
  g_assert_false (pawl_register_lookup (then, "CAL-1")->is_retired);

  /* mended, and stated again: back in use, what is not named stays */
  append (record, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "CAL-1", "2026-11-01", "change", "yes", "step", "0.02 mm", NULL));
  g_clear_pointer (&after, pawl_register_free);
  after = load (record);
  gauge = pawl_register_lookup (after, "CAL-1");
  g_assert_false (gauge->is_retired);
  g_assert_cmpstr (gauge->kind, ==, "caliper");
  fixture_check_sound (record);
}

/* Whether it types is stated by what ends its readings, and taken back there. */
static void
test_typing (Fixture *fixture, gconstpointer data)
{
  static const struct { const char *terminator; gboolean is_typing; } steps[] = { { NULL, FALSE }, { "none", TRUE }, { "-", FALSE }, { "tab", TRUE } };
  g_autoptr(PawlRecord) record = fixture_open (fixture);

  add_micrometer (record);
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_autoptr(PawlRegister) self = NULL;

      append (record, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "MIC-3", "2026-11-01", "change", "yes", "prefix", "M3:", "terminator", steps[i].terminator, NULL));
      self = load (record);
      g_assert_cmpint (pawl_register_lookup (self, "MIC-3")->is_typing, ==, steps[i].is_typing);
    }
}

static void
test_refusals (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlRecord) record = fixture_open (fixture);
  static const struct { const char *field, *value; } bad[] = {
    { "error", "wide" }, { "error", "-0.01 mm" }, { "error", "0.01..0.02 mm" }, { "error", "0.01" }, { "step", "1 N m" }, { "range", "25..0 mm" },
    { "due", "1 March" }, { "due", "2026-02-30" }, { "due", "2026-1-2" }, { "due", "2026-02-19" }, { "terminator", "return" }, { "decimal-mark", ";" }, { "unit", "mmm" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_test_message ("%s: %s", bad[i].field, bad[i].value);
      refuse (record, PAWL_REGISTER_ERROR_BAD_FIELD, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "MIC-3", "2026-03-01", "kind", "micrometer", "reference", "1 µm",
                                                                 "calibrated", "2026-02-20", bad[i].field, bad[i].value, NULL));
    }
  refuse (record, PAWL_REGISTER_ERROR_BAD_FIELD, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "", "2026-03-01", "kind", "micrometer", NULL));
  refuse (record, PAWL_REGISTER_ERROR_BAD_FIELD, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "MIC-3", "2026-03-01", NULL));
  refuse (record, PAWL_REGISTER_ERROR_UNKNOWN, make_entry (PAWL_ENTRY_INSTRUMENT_CALIBRATED, "MIC-3", "2026-03-01", "due", "2027-03-01", NULL));
  refuse (record, PAWL_REGISTER_ERROR_UNKNOWN, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "MIC-3", "2026-03-01", "change", "yes", "step", "1 µm", NULL));
  add_micrometer (record);
  refuse (record, PAWL_REGISTER_ERROR_TAKEN, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "mic-3", "2026-03-01", "kind", "caliper", NULL));
  refuse (record, PAWL_REGISTER_ERROR_BAD_FIELD, make_entry (PAWL_ENTRY_INSTRUMENT_RETIRED, "MIC-3", "2026-03-01", NULL));
  fixture_check_sound (record);
}

static void
test_standing (Fixture *fixture, gconstpointer data)
{
  static const struct { const char *day; PawlStanding standing; } cases[] = {
    { "2026-03-01", PAWL_STANDING_IN_DATE },  { "2027-01-20", PAWL_STANDING_IN_DATE },    { "2027-01-21", PAWL_STANDING_DUE_SOON },
    { "2027-02-20", PAWL_STANDING_DUE_SOON }, { "2027-02-21", PAWL_STANDING_OUT_OF_DATE },
  };
  g_autoptr(PawlRecord) record = fixture_open (fixture);
  g_autoptr(PawlRegister) self = NULL;

  add_micrometer (record);
  append (record, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "MIC-9", "2026-03-01", "kind", "Outside micrometer", NULL));
  self = load (record);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GDateTime) at = make_time (cases[i].day);

      g_assert_cmpint (pawl_gauge_get_standing (pawl_register_lookup (self, "MIC-3"), at), ==, cases[i].standing);
      g_assert_cmpint (pawl_gauge_get_standing (pawl_register_lookup (self, "MIC-9"), at), ==, PAWL_STANDING_NO_DATE);
    }
}

/* Those in date come first; the kind is the tool's id or its name. */
static void
test_of_kind (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlRecord) record = fixture_open (fixture);
  g_autoptr(PawlRegister) self = NULL;
  g_autoptr(GPtrArray) list = NULL;
  g_autoptr(GDateTime) late = make_time ("2027-06-01");

  add_micrometer (record);
  append (record, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "MIC-9", "2026-03-01", "kind", "Outside Micrometer", NULL));
  append (record, make_entry (PAWL_ENTRY_INSTRUMENT_STATED, "CAL-1", "2026-03-01", "kind", "caliper", NULL));
  self = load (record);
  list = pawl_register_list_of_kind (self, "micrometer", "outside micrometer", late);
  g_assert_cmpuint (list->len, ==, 2);
  g_assert_cmpstr (((PawlGauge *) list->pdata[0])->mark, ==, "MIC-9");
  g_assert_cmpstr (((PawlGauge *) list->pdata[1])->mark, ==, "MIC-3");
}

static void
test_use (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlRecord) record = fixture_open (fixture);
  g_autoptr(PawlRegister) self = NULL;
  g_autoptr(PawlEntry) in_date = make_entry (PAWL_ENTRY_ANSWERED, "bore", "2026-06-01", "answer", "20.01", "tool-serial", "mic-3", NULL);
  g_autoptr(PawlEntry) overdue = make_entry (PAWL_ENTRY_ANSWERED, "bore", "2027-06-01", "answer", "20.01", "tool-serial", "MIC-3", NULL);
  g_autoptr(PawlEntry) refused = make_entry (PAWL_ENTRY_ANSWERED, "bore", "2027-06-01", "answer", "20.01", "tool-serial", "MIC-3", NULL);
  g_autoptr(PawlEntry) stranger = make_entry (PAWL_ENTRY_ANSWERED, "bore", "2027-06-01", "answer", "20.01", "tool-serial", "borrowed", NULL);
  g_autoptr(GError) error = NULL;

  add_micrometer (record);
  self = load (record);
  g_assert_true (pawl_register_describe_use (self, in_date, PAWL_OVERDUE_REFUSE, &error));
  g_assert_no_error (error);
  g_assert_cmpstr (pawl_entry_get (in_date, "tool-serial"), ==, "MIC-3");
  g_assert_cmpstr (pawl_entry_get (in_date, "error"), ==, "0.004 mm");
  g_assert_cmpstr (pawl_entry_get (in_date, "step"), ==, "0.001 mm");
  g_assert_cmpstr (pawl_entry_get (in_date, "reference"), ==, "0.001 mm");
  g_assert_cmpstr (pawl_entry_get (in_date, "due"), ==, "2027-02-20");
  g_assert_null (pawl_entry_get (in_date, "overdue"));
  g_assert_true (pawl_register_describe_use (self, overdue, PAWL_OVERDUE_WARN, &error));
  g_assert_cmpstr (pawl_entry_get (overdue, "overdue"), ==, "yes");
  g_assert_true (pawl_register_describe_use (self, stranger, PAWL_OVERDUE_REFUSE, &error));
  g_assert_null (pawl_entry_get (stranger, "error"));
  g_assert_false (pawl_register_describe_use (self, refused, PAWL_OVERDUE_REFUSE, &error));
  g_assert_error (error, PAWL_REGISTER_ERROR, PAWL_REGISTER_ERROR_OUT_OF_DATE);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
#define ADD(path, func) g_test_add (path, Fixture, NULL, fixture_set_up, func, fixture_tear_down)
  ADD ("/register/life", test_life);
  ADD ("/register/refusals", test_refusals);
  ADD ("/register/typing", test_typing);
  ADD ("/register/standing", test_standing);
  ADD ("/register/of-kind", test_of_kind);
  ADD ("/register/use", test_use);
#undef ADD
  return g_test_run ();
}
