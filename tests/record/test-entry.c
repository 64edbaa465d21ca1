/* Entries by themselves: kinds, fields, and the way into a row and back. */
#include "record/pawl-entry-row.h"
#include "record/pawl-record.h"

static PawlEntry *
make_entry (void)
{
  g_autoptr (GDateTime) at = g_date_time_new_from_iso8601 ("2026-05-04T09:15:00.250000+02:00", NULL);

  return pawl_entry_new (PAWL_ENTRY_ANSWERED, "float-height", "Jory Tregenza", at);
}

static void
fill_row (PawlEntryRow *row,
          PawlEntry    *entry)
{
  row->id = g_strdup ("a0000001-0000-4000-8000-000000000000");
  row->job = g_strdup ("a0000000-0000-4000-8000-000000000000");
  row->number = 2;
  row->previous = g_strnfill (64, '0');
  row->written = g_strdup ("2026-05-04T09:15:01.000000+02:00");
  pawl_entry_fill_row (entry, row);
  row->digest = pawl_entry_row_dup_digest (row);
}

static void
test_kinds (void)
{
  for (PawlEntryKind kind = PAWL_ENTRY_OPENED; kind <= PAWL_ENTRY_CORRECTED; kind++)
    {
      PawlEntryKind back = kind == PAWL_ENTRY_OPENED ? PAWL_ENTRY_SIGNED : PAWL_ENTRY_OPENED;

      g_assert_nonnull (pawl_entry_kind_get_name (kind));
      g_assert_true (pawl_entry_kind_from_name (pawl_entry_kind_get_name (kind), &back));
      g_assert_cmpint (back, ==, kind);
    }
}

static void
test_kind_unknown (void)
{
  const char *const names[] = { "", "Opened", "opened ", "step_done", "deleted" };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      PawlEntryKind kind = PAWL_ENTRY_PHOTO;

      g_assert_false (pawl_entry_kind_from_name (names[i], &kind));
      g_assert_cmpint (kind, ==, PAWL_ENTRY_PHOTO);
    }
}

static void
test_fields (void)
{
  g_autoptr (PawlEntry) entry = make_entry ();
  g_auto (GStrv) names = NULL;
  const char *const expected[] = { "answer", "stage", NULL };

  pawl_entry_set (entry, "stage", "as-found");
  pawl_entry_set (entry, "answer", "1 5/16");
  pawl_entry_set (entry, "answer", "1 5/16 in");
  pawl_entry_set (entry, "instrument", "rule-6");
  pawl_entry_set (entry, "instrument", NULL);
  pawl_entry_set (entry, "lot", "");

  names = pawl_entry_list_fields (entry);
  g_assert_cmpstrv (names, expected);
  g_assert_cmpstr (pawl_entry_get (entry, "answer"), ==, "1 5/16 in");
  g_assert_null (pawl_entry_get (entry, "instrument"));
  g_assert_null (pawl_entry_get (entry, "lot"));
  g_assert_null (pawl_entry_get_id (entry));
  g_assert_cmpuint (pawl_entry_get_number (entry), ==, 0);
}

static void
test_nothing_is_empty_text (void)
{
  g_autoptr (GDateTime) at = g_date_time_new_utc (2026, 5, 4, 9, 15, 0);
  g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_NOTED, NULL, NULL, at);

  g_assert_cmpstr (pawl_entry_get_subject (entry), ==, "");
  g_assert_cmpstr (pawl_entry_get_person (entry), ==, "");
}

/* A text that is not UTF-8 would make a row that no JSON reader takes. */
static void
test_text_not_utf8 (void)
{
  g_autoptr (PawlEntry) entry = make_entry ();

  pawl_entry_set (entry, "text", "caf\xe9");
  g_assert_cmpstr (pawl_entry_get (entry, "text"), ==, "caf\xef\xbf\xbd");
}

/* Expected: the escapes of RFC 8259, section 7; names sorted; no blanks; everything else as it is. */
static void
test_body (void)
{
  static const struct {
    const char *name, *value, *body;
  } cases[] = {
    { NULL, NULL, "{}" },
    { "answer", "33,3 mm", "{\"answer\":\"33,3 mm\"}" },
    { "text", "the \"B\" side \\ left", "{\"text\":\"the \\\"B\\\" side \\\\ left\"}" },
    { "text", "two\nlines\tand a tab", "{\"text\":\"two\\nlines\\tand a tab\"}" },
    { "text", "20 °C, Ø 12 – 平", "{\"text\":\"20 °C, Ø 12 – 平\"}" },
    { "text", "[{not a list}]", "{\"text\":\"[{not a list}]\"}" },
    { "text", "\x01", "{\"text\":\"\\u0001\"}" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (PawlEntry) entry = make_entry ();
      g_autoptr (PawlEntry) back = NULL;
      g_autoptr (GError) error = NULL;
      g_auto (PawlEntryRow) row = { 0 };

      if (cases[i].name != NULL)
        pawl_entry_set (entry, cases[i].name, cases[i].value);
      fill_row (&row, entry);
      g_assert_cmpstr (row.body, ==, cases[i].body);

      back = pawl_entry_new_from_row (&row, &error);
      g_assert_no_error (error);
      if (cases[i].name != NULL)
        g_assert_cmpstr (pawl_entry_get (back, cases[i].name), ==, cases[i].value);
    }
}

static void
test_fields_sorted_in_body (void)
{
  g_autoptr (PawlEntry) entry = make_entry ();
  g_auto (PawlEntryRow) row = { 0 };

  pawl_entry_set (entry, "stage", "as-found");
  pawl_entry_set (entry, "instrument", "rule-6");
  pawl_entry_set (entry, "answer", "1 5/16 in");
  fill_row (&row, entry);
  g_assert_cmpstr (row.body, ==, "{\"answer\":\"1 5/16 in\",\"instrument\":\"rule-6\",\"stage\":\"as-found\"}");
}

/*
 * Expected digest: computed outside Pawl with Python 3's hashlib from the serialisation as documented:
 *   texts = ['pawl-entry-1', id, job, '2', '0' * 64, 'answered', 'float-height', 'Jory Tregenza', at, written, body]
 *   hashlib.sha256 (b''.join (b'%d:%s,' % (len (t.encode ()), t.encode ()) for t in texts)).hexdigest ()
 */
static void
test_digest_known (void)
{
  g_autoptr (PawlEntry) entry = make_entry ();
  g_auto (PawlEntryRow) row = { 0 };

  pawl_entry_set (entry, "answer", "Ø 33,3 mm");
  fill_row (&row, entry);
  g_assert_cmpstr (row.at, ==, "2026-05-04T09:15:00.250000+02:00");
  g_assert_cmpstr (row.digest, ==, "b965a440fb43943ee9d652e75e7a99a586c43c44a5bdfeb3e0a9239e7040a1b2");
}

/* What stands at the end of one column must not read like the beginning of the next. */
static void
test_digest_unambiguous (void)
{
  g_autoptr (PawlEntry) entry = make_entry ();
  g_auto (PawlEntryRow) row = { 0 };
  g_autofree char *moved = NULL;

  fill_row (&row, entry);
  g_free (row.subject);
  g_free (row.person);
  row.subject = g_strdup ("float-heightJory");
  row.person = g_strdup (" Tregenza");
  moved = pawl_entry_row_dup_digest (&row);
  g_assert_cmpstr (moved, !=, row.digest);
}

static void
test_time_round_trip (void)
{
  static const int offsets_min[] = { 0, 60, 120, -210, 345, -720, 840 };

  for (guint i = 0; i < 7000; i++)
    {
      g_autoptr (GTimeZone) zone = g_time_zone_new_offset (offsets_min[i % G_N_ELEMENTS (offsets_min)] * 60);
      g_autoptr (GDateTime) start = g_date_time_new (zone, 2026, 12, 31, 23, 59, 0);
      g_autoptr (GDateTime) time = g_date_time_add (start, (GTimeSpan) i * 14285711);
      g_autofree char *text = pawl_time_to_text (time);
      g_autoptr (GDateTime) back = pawl_time_from_text (text);
      g_autofree char *again = back != NULL ? pawl_time_to_text (back) : NULL;

      g_assert_cmpstr (again, ==, text);
      g_assert_true (g_date_time_equal (time, back));
    }
}

static void
test_row_unreadable (void)
{
  static const struct {
    const char *column, *value;
  } cases[] = {
    { "kind", "answerez" },
    { "at", "yesterday" },
    { "written", "2026-05-04T09:15:00" },
    { "written", "" },
    { "body", "" },
    { "body", "{" },
    { "body", "[]" },
    { "body", "\"text\"" },
    { "body", "{\"answer\":1}" },
    { "body", "{\"answer\":null}" },
    { "body", "{\"answer\":{\"a\":\"b\"}}" },
    { "body", "{\"answer\":\"caf\xe9\"}" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (PawlEntry) entry = make_entry ();
      g_autoptr (PawlEntry) back = NULL;
      g_autoptr (GError) error = NULL;
      g_auto (PawlEntryRow) row = { 0 };
      const struct { const char *name; char **text; } columns[] = { { "kind", &row.kind }, { "at", &row.at }, { "written", &row.written }, { "body", &row.body } };

      fill_row (&row, entry);
      for (guint j = 0; j < G_N_ELEMENTS (columns); j++)
        if (g_str_equal (columns[j].name, cases[i].column))
          {
            g_free (*columns[j].text);
            *columns[j].text = g_strdup (cases[i].value);
          }

      back = pawl_entry_new_from_row (&row, &error);
      g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
      g_assert_null (back);
      g_assert_nonnull (strstr (error->message, cases[i].column));
    }
}

/* A parser that calls itself would run out of stack on this. */
static void
test_body_deep (void)
{
  g_autoptr (PawlEntry) entry = make_entry ();
  g_autoptr (PawlEntry) back = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (PawlEntryRow) row = { 0 };
  g_autofree char *deep = g_strnfill (2000000, '[');

  fill_row (&row, entry);
  g_free (row.body);
  row.body = g_strconcat ("{\"a\":", deep, NULL);
  back = pawl_entry_new_from_row (&row, &error);
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
  g_assert_null (back);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add_func ("/entry/kinds", test_kinds);
  g_test_add_func ("/entry/kind-unknown", test_kind_unknown);
  g_test_add_func ("/entry/fields", test_fields);
  g_test_add_func ("/entry/nothing-is-empty-text", test_nothing_is_empty_text);
  g_test_add_func ("/entry/text-not-utf8", test_text_not_utf8);
  g_test_add_func ("/entry/body", test_body);
  g_test_add_func ("/entry/fields-sorted-in-body", test_fields_sorted_in_body);
  g_test_add_func ("/entry/digest-known", test_digest_known);
  g_test_add_func ("/entry/digest-unambiguous", test_digest_unambiguous);
  g_test_add_func ("/entry/time-round-trip", test_time_round_trip);
  g_test_add_func ("/entry/row-unreadable", test_row_unreadable);
  g_test_add_func ("/entry/body-deep", test_body_deep);

  return g_test_run ();
}
