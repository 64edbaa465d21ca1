/* People, roles and PINs: who signs is who they say, and trying is slow. */
#include <string.h>

#include "faulty-disk.h"
#include "record-fixture.h"
#include "record/pawl-people.h"

#define PIN "4071"
#define PERSON "Morwenna Pascoe"

static void
move_clock (Fixture *fixture,
            gint64   usec)
{
  g_autoptr (GDateTime) before = fixture->now;

  fixture->now = g_date_time_add (before, usec);
}

static PawlRecord *
open_with_pin (Fixture *fixture)
{
  PawlRecord *record = fixture_open (fixture);
  g_autoptr (GError) error = NULL;

  g_assert_true (pawl_people_add (record, PERSON, PAWL_ROLE_TRAINER, &error));
  g_assert_true (pawl_people_set_pin (record, PERSON, PIN, &error));
  g_assert_no_error (error);
  return record;
}

static void
check_refused (PawlRecord *record,
               const char *name,
               const char *pin,
               int         code)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (pawl_people_check_pin (record, name, pin, &error));
  g_assert_error (error, PAWL_PEOPLE_ERROR, code);
  g_assert_null (strstr (error->message, pin));
}

static void
check_taken (PawlRecord *record,
             const char *name,
             const char *pin)
{
  g_autoptr (GError) error = NULL;

  pawl_people_check_pin (record, name, pin, &error);
  g_assert_no_error (error);
}

/* ---- the list ---- */

static void
test_list (Fixture      *fixture,
           gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (GPtrArray) people = NULL;
  g_autoptr (PawlPerson) person = NULL;
  g_autoptr (GError) error = NULL;

  g_assert_true (pawl_people_add (record, "Jory Tregenza", PAWL_ROLE_FITTER, &error));
  g_assert_true (pawl_people_add (record, "  Élodie Šmits ", PAWL_ROLE_CHECKER, &error));
  g_assert_true (pawl_people_add (record, "jory tregenza", PAWL_ROLE_OWNER, &error)); /* the same person, with another role */
  people = pawl_people_list (record, &error);
  g_assert_cmpuint (people->len, ==, 2);
  person = pawl_people_lookup (record, "JORY TREGENZA ", &error);
  g_assert_cmpint (person->role, ==, PAWL_ROLE_OWNER);
  g_assert_false (person->has_pin || person->is_retired);
  g_clear_pointer (&person, pawl_person_free);
  person = pawl_people_lookup (record, "ÉLODIE ŠMITS", &error);
  g_assert_cmpstr (person->name, ==, "Élodie Šmits");
  g_clear_pointer (&person, pawl_person_free);

  g_assert_null (pawl_people_lookup (record, "Nobody", &error));
  g_assert_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN);
  g_clear_error (&error);
  g_assert_true (pawl_people_retire (record, "Jory Tregenza", &error));
  g_assert_false (pawl_people_retire (record, "Jory Tregenza", &error));
  g_assert_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN);
  g_clear_pointer (&people, g_ptr_array_unref);
  people = pawl_people_list (record, NULL);
  g_assert_cmpuint (people->len, ==, 2);
  g_assert_true (((PawlPerson *) people->pdata[1])->is_retired); /* who left comes last */
  fixture_check_sound (record);
}

static void
test_bad_names (Fixture      *fixture,
                gconstpointer data)
{
  g_autofree char *long_name = g_strnfill (81, 'a');
  const char *const names[] = { "", "  ", "a\nb", "\xff", long_name };
  g_autoptr (PawlRecord) record = fixture_open (fixture);

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (pawl_people_add (record, names[i], PAWL_ROLE_FITTER, &error));
      g_assert_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_NAME);
    }
}

static void
test_roles (void)
{
  for (int i = PAWL_ROLE_FITTER; i <= PAWL_ROLE_OWNER; i++)
    {
      PawlRole role;

      g_assert_true (pawl_role_from_name (pawl_role_get_name ((PawlRole) i), &role));
      g_assert_cmpint ((int) role, ==, i);
    }
  g_assert_false (pawl_role_from_name ("king", &(PawlRole) { 0 }));
}

/* ---- PINs ---- */

static void
test_right_and_wrong (Fixture      *fixture,
                      gconstpointer data)
{
  g_autoptr (PawlRecord) record = open_with_pin (fixture);
  g_autoptr (GError) error = NULL;
  g_autofree char *hash = NULL;

  check_taken (record, PERSON, PIN);
  check_taken (record, "morwenna PASCOE", PIN);
  check_refused (record, PERSON, "4072", PAWL_PEOPLE_ERROR_WRONG_PIN);
  check_refused (record, PERSON, "407", PAWL_PEOPLE_ERROR_WRONG_PIN);
  check_refused (record, "Nobody", "4071", PAWL_PEOPLE_ERROR_UNKNOWN);
  check_taken (record, PERSON, PIN);

  /* What is stored is a hash of yescrypt, and another one each time. */
  hash = fixture_query_text (fixture->path, "SELECT hash FROM pin");
  g_assert_true (g_str_has_prefix (hash, "$y$"));
  g_assert_true (pawl_people_set_pin (record, PERSON, PIN, &error));
  g_free (hash);
  hash = fixture_query_text (fixture->path, "SELECT count (*) FROM pin WHERE hash LIKE '%4071%'");
  g_assert_cmpstr (hash, ==, "0");

  g_assert_true (pawl_people_set_pin (record, PERSON, "9035", &error));
  check_refused (record, PERSON, PIN, PAWL_PEOPLE_ERROR_WRONG_PIN);
  check_taken (record, PERSON, "9035");
  g_assert_true (pawl_people_set_pin (record, PERSON, NULL, &error));
  check_refused (record, PERSON, "9035", PAWL_PEOPLE_ERROR_NO_PIN);
}

static void
test_bad_pins (Fixture      *fixture,
               gconstpointer data)
{
  static const char *const pins[] = { "", "407", "4071407140714", "40 71", "407a", "-407", "4071\n", "1111", "123456", "9876", "٤٠٧١" };
  g_autoptr (PawlRecord) record = open_with_pin (fixture);

  for (guint i = 0; i < G_N_ELEMENTS (pins); i++)
    {
      g_autoptr (GError) error = NULL;

      g_assert_false (pawl_people_set_pin (record, PERSON, pins[i], &error));
      g_assert_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_PIN);
    }
  check_taken (record, PERSON, PIN);
}

static void
test_retired (Fixture      *fixture,
              gconstpointer data)
{
  g_autoptr (PawlRecord) record = open_with_pin (fixture);
  g_autoptr (GError) error = NULL;

  g_assert_true (pawl_people_retire (record, PERSON, &error));
  check_refused (record, PERSON, PIN, PAWL_PEOPLE_ERROR_UNKNOWN);
  g_assert_false (pawl_people_set_pin (record, PERSON, "9035", &error));
  g_assert_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN);
  g_assert_true (pawl_people_add (record, PERSON, PAWL_ROLE_TRAINER, NULL)); /* back again, and the PIN is not */
  check_refused (record, PERSON, PIN, PAWL_PEOPLE_ERROR_NO_PIN);
}

/* ---- the delay ---- */

/* After @n wrong tries in a row: how long until the next is looked at. */
static const struct {
  guint  n_wrong;
  gint64 delay_sec;
} DELAYS[] = { { 3, 5 }, { 4, 10 }, { 5, 20 }, { 10, 640 }, { 11, 900 }, { 12, 900 }, { 40, 900 } };

static void
test_delay (Fixture      *fixture,
            gconstpointer data)
{
  g_autoptr (PawlRecord) record = open_with_pin (fixture);

  for (guint i = 0; i < G_N_ELEMENTS (DELAYS); i++)
    {
      g_autofree char *sql = g_strdup_printf ("UPDATE pin SET n_wrong = %u", DELAYS[i].n_wrong - 1);

      fixture_run_sql (fixture->path, sql);
      move_clock (fixture, G_TIME_SPAN_HOUR);
      check_refused (record, PERSON, "4072", PAWL_PEOPLE_ERROR_WRONG_PIN);
      /* The fixture's clock moves on by 1.25 s with each look. */
      move_clock (fixture, (DELAYS[i].delay_sec - 3) * G_TIME_SPAN_SECOND);
      check_refused (record, PERSON, PIN, PAWL_PEOPLE_ERROR_WAIT);
      move_clock (fixture, 3 * G_TIME_SPAN_SECOND);
      check_taken (record, PERSON, PIN);
    }
}

/* Three wrong ones are free; a right one forgets them. */
static void
test_free_tries (Fixture      *fixture,
                 gconstpointer data)
{
  g_autoptr (PawlRecord) record = open_with_pin (fixture);

  for (guint round = 0; round < 2; round++)
    {
      check_refused (record, PERSON, "4072", PAWL_PEOPLE_ERROR_WRONG_PIN);
      check_refused (record, PERSON, "4073", PAWL_PEOPLE_ERROR_WRONG_PIN);
      check_taken (record, PERSON, PIN);
    }
  check_refused (record, PERSON, "4072", PAWL_PEOPLE_ERROR_WRONG_PIN);
  check_refused (record, PERSON, "4072", PAWL_PEOPLE_ERROR_WRONG_PIN);
  check_refused (record, PERSON, "4072", PAWL_PEOPLE_ERROR_WRONG_PIN);
  check_refused (record, PERSON, "4072", PAWL_PEOPLE_ERROR_WAIT);
}

static void
test_delay_survives (Fixture      *fixture,
                     gconstpointer data)
{
  g_autoptr (PawlRecord) record = open_with_pin (fixture);
  g_autoptr (PawlRecord) again = NULL;

  fixture_run_sql (fixture->path, "UPDATE pin SET n_wrong = 8");
  check_refused (record, PERSON, "4072", PAWL_PEOPLE_ERROR_WRONG_PIN);
  check_refused (record, PERSON, PIN, PAWL_PEOPLE_ERROR_WAIT);
  g_clear_object (&record);
  again = fixture_open (fixture); /* another window, or the same one started again */
  check_refused (again, PERSON, PIN, PAWL_PEOPLE_ERROR_WAIT);
}

/* Putting the clock back begins the wait anew, and does not lock anybody out until the day that it showed before. */
static void
test_clock_put_back (Fixture      *fixture,
                     gconstpointer data)
{
  g_autoptr (PawlRecord) record = open_with_pin (fixture);

  fixture_run_sql (fixture->path, "UPDATE pin SET n_wrong = 2");
  check_refused (record, PERSON, "4072", PAWL_PEOPLE_ERROR_WRONG_PIN);
  move_clock (fixture, -365 * G_TIME_SPAN_DAY);
  check_refused (record, PERSON, PIN, PAWL_PEOPLE_ERROR_WAIT);
  move_clock (fixture, 5 * G_TIME_SPAN_SECOND);
  check_taken (record, PERSON, PIN);
}

static void
test_read_only (Fixture      *fixture,
                gconstpointer data)
{
  g_autoptr (PawlRecord) record = open_with_pin (fixture);
  g_autoptr (PawlRecord) reader = NULL;
  g_autoptr (PawlPerson) person = NULL;
  g_autoptr (GError) error = NULL;

  g_clear_object (&record);
  reader = fixture_open_to_read (fixture);
  person = pawl_people_lookup (reader, PERSON, &error);
  g_assert_true (person->has_pin);
  /* A try that can't be counted is none. */
  g_assert_false (pawl_people_check_pin (reader, PERSON, PIN, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_disk_install (); /* waits for no disk */

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  g_test_add_func ("/people/roles", test_roles);
  ADD ("/people/list", test_list);
  ADD ("/people/bad-names", test_bad_names);
  ADD ("/people/right-and-wrong", test_right_and_wrong);
  ADD ("/people/bad-pins", test_bad_pins);
  ADD ("/people/retired", test_retired);
  ADD ("/people/delay", test_delay);
  ADD ("/people/free-tries", test_free_tries);
  ADD ("/people/delay-survives", test_delay_survives);
  ADD ("/people/clock-put-back", test_clock_put_back);
  ADD ("/people/read-only", test_read_only);

  return g_test_run ();
}
