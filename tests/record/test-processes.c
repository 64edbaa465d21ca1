/* A process that is killed at any instant, and two processes on one record. PAWL_ROUNDS sets how often it is killed. */
#include <glib/gstdio.h>
#include <poll.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "record-fixture.h"
#include "record/pawl-merge.h"

/* ---- killed ---- */

#define N_QUICK_ROUNDS 120

/* Entries in transaction @t: the opening by itself, then 1 to 4. */
static guint
get_size (guint t)
{
  return t == 0 ? 1 : 1 + t % 4;
}

static void
acknowledge (int to)
{
  if (write (to, "a", 1) != 1)
    _exit (1);
}

/* In a child: makes the record, opens a job, appends without end; says so after each call that returned. */
static void
append_for_ever (const char *path,
                 int         to)
{
  g_autoptr (PawlRecord) record = pawl_record_open (path, PAWL_RECORD_OPEN_CREATE, NULL, NULL);
  g_autoptr (GDateTime) now = NULL;
  g_autoptr (PawlEntry) opened = NULL;
  g_autofree char *job_id = NULL;
  g_autofree char *long_text = g_strnfill (2000, 'm');

  if (record == NULL)
    _exit (1);
  now = pawl_record_dup_now (record);
  opened = pawl_entry_new (PAWL_ENTRY_OPENED, NULL, FIXTURE_PERSON, now);
  if (!(job_id = pawl_record_open_job (record, opened, NULL)))
    _exit (1);
  acknowledge (to);

  for (guint t = 1;; t++)
    {
      g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);

      for (guint i = 0; i < get_size (t); i++)
        {
          g_autofree char *subject = g_strdup_printf ("%u-%u", t, i);
          PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_NOTED, subject, FIXTURE_PERSON, now);

          pawl_entry_set (entry, "text", long_text);
          g_ptr_array_add (entries, entry);
        }
      if (!pawl_record_append (record, job_id, entries, NULL))
        _exit (1);
      acknowledge (to);
    }
}

/* Lets some transactions go by, then a little more, then kills. Returns how many transactions were acknowledged. */
static guint
kill_some_time (pid_t child,
                int   from,
                GRand *rand)
{
  guint n_to_wait_for = (guint) g_rand_int_range (rand, 0, 4);
  guint n_acknowledged = 0;
  int status;
  char c;

  while (n_acknowledged < n_to_wait_for && read (from, &c, 1) == 1)
    n_acknowledged++;
  g_usleep ((gulong) g_rand_int_range (rand, 0, 6000));
  g_assert_cmpint (kill (child, SIGKILL), ==, 0);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFSIGNALED (status)); /* else it had failed by itself */

  while (read (from, &c, 1) == 1)
    n_acknowledged++;
  return n_acknowledged;
}

/* Every entry is the one it should be, in its order; the last transaction is whole. Returns how many transactions are there. */
static guint
check_entries (PawlRecord *record)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) findings = pawl_record_verify (record, NULL, &error);
  g_autoptr (GPtrArray) jobs = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  guint t = 1;
  guint next = 1;

  g_assert_no_error (error);
  g_assert_cmpuint (findings->len, ==, 0);
  jobs = pawl_record_list_jobs (record, &error);
  g_assert_no_error (error);
  if (jobs->len == 0)
    return 0;

  g_assert_cmpuint (jobs->len, ==, 1);
  entries = pawl_record_load_entries (record, ((PawlJobLine *) jobs->pdata[0])->id, &error);
  g_assert_no_error (error);
  for (; next < entries->len; t++)
    for (guint i = 0; i < get_size (t); i++, next++)
      {
        g_autofree char *subject = g_strdup_printf ("%u-%u", t, i);

        g_assert_cmpuint (next, <, entries->len);
        g_assert_cmpstr (pawl_entry_get_subject (entries->pdata[next]), ==, subject);
        g_assert_cmpuint (strlen (pawl_entry_get (entries->pdata[next], "text")), ==, 2000);
      }

  return t;
}

static void
test_killed (Fixture      *fixture,
             gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed ((guint32) g_test_rand_int ());
  guint n_unacknowledged = 0;
  guint n_cut_short = 0;
  guint n_total = 0;
  const char *rounds = g_getenv ("PAWL_ROUNDS");
  guint n_rounds = rounds != NULL ? (guint) g_ascii_strtoull (rounds, NULL, 10) : N_QUICK_ROUNDS;

  for (guint round = 0; round < n_rounds; round++)
    {
      g_autofree char *path = g_strdup_printf ("%s/round-%u.db", fixture->folder, round);
      g_autofree char *journal = g_strconcat (path, "-journal", NULL);
      g_autoptr (PawlRecord) record = NULL;
      g_autoptr (GError) error = NULL;
      guint n_acknowledged, n_there;
      int ends[2];
      pid_t child;

      g_assert_cmpint (pipe (ends), ==, 0);
      child = fork ();
      g_assert_cmpint (child, >=, 0);
      if (child == 0)
        append_for_ever (path, ends[1]);
      close (ends[1]);
      n_acknowledged = kill_some_time (child, ends[0], rand);
      close (ends[0]);

      n_cut_short += g_file_test (journal, G_FILE_TEST_EXISTS) ? 1 : 0;
      record = pawl_record_open (path, PAWL_RECORD_OPEN_CREATE, NULL, &error);
      g_assert_no_error (error);
      n_there = check_entries (record);
      g_assert_cmpuint (n_there, >=, n_acknowledged);
      g_assert_cmpuint (n_there, <=, n_acknowledged + 1);
      n_unacknowledged += n_there - n_acknowledged;
      n_total += n_acknowledged;
    }

  g_test_message ("%u rounds, %u transactions acknowledged and there; %u kills fell into a write, %u between commit and acknowledgement",
                  n_rounds, n_total, n_cut_short, n_unacknowledged);
  g_assert_cmpuint (n_total, >, 0);
}

/* ---- two at once ---- */

#define N_EACH 150
#define N_MERGES 20

/* In a child: appends its entries one by one, on a connection of its own. Does not return. */
static void
append_many (const char *path,
             const char *job_id,
             const char *person)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = pawl_record_open (path, PAWL_RECORD_OPEN_CREATE, NULL, &error);
  g_autoptr (GDateTime) now = NULL;

  if (record == NULL)
    _exit (1);
  now = pawl_record_dup_now (record);
  for (guint i = 0; i < N_EACH; i++)
    {
      g_autofree char *subject = g_strdup_printf ("%u", i);
      g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_NOTED, subject, person, now);

      /* To wait one's turn is no error; to be told "busy" is, and then nothing was written and it may be tried again. */
      while (!pawl_record_append_one (record, job_id, entry, &error))
        {
          if (!g_error_matches (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_BUSY))
            {
              g_printerr ("%s\n", error->message);
              _exit (2);
            }
          g_clear_error (&error);
        }
      g_usleep (500); /* gives the other one its turn: whoever waits looks again only now and then */
    }
  _exit (0);
}

static void
wait_for (pid_t child)
{
  int status;

  g_assert_cmpint (waitpid (child, &status, 0), ==, child);
  g_assert_true (WIFEXITED (status));
  g_assert_cmpint (WEXITSTATUS (status), ==, 0);
}

/* One job, two writers: every entry once, each writer's in its own order, one chain. */
static void
test_two_writers (Fixture      *fixture,
                  gconstpointer data)
{
  static const char *const people[] = { "Jory Tregenza", "Morwenna Pascoe" };
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 0);
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GPtrArray) findings = NULL;
  g_autoptr (GError) error = NULL;
  guint next[G_N_ELEMENTS (people)] = { 0 };
  guint n_changes = 0;
  pid_t children[G_N_ELEMENTS (people)];

  g_clear_object (&record); /* a connection must not go through a fork */
  for (guint i = 0; i < G_N_ELEMENTS (people); i++)
    if ((children[i] = fork ()) == 0)
      append_many (fixture->path, job_id, people[i]);
  for (guint i = 0; i < G_N_ELEMENTS (people); i++)
    wait_for (children[i]);

  record = fixture_open (fixture);
  entries = pawl_record_load_entries (record, job_id, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (entries->len, ==, 1 + G_N_ELEMENTS (people) * N_EACH);
  for (guint i = 1; i < entries->len; i++)
    {
      guint who = g_str_equal (pawl_entry_get_person (entries->pdata[i]), people[0]) ? 0 : 1;
      g_autofree char *subject = g_strdup_printf ("%u", next[who]++);

      g_assert_cmpstr (pawl_entry_get_subject (entries->pdata[i]), ==, subject);
      g_assert_cmpuint (pawl_entry_get_number (entries->pdata[i]), ==, i + 1);
      n_changes += i > 1 && !g_str_equal (pawl_entry_get_person (entries->pdata[i]), pawl_entry_get_person (entries->pdata[i - 1])) ? 1 : 0;
    }
  findings = pawl_record_verify (record, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (findings->len, ==, 0);
  g_test_message ("the writers took turns %u times", n_changes);
}

/* Both find no record and make one: there is one, and both jobs are in it. */
static void
make_and_open_job (const char *path)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = pawl_record_open (path, PAWL_RECORD_OPEN_CREATE, NULL, &error);
  g_autoptr (GDateTime) now = g_date_time_new_utc (2026, 5, 4, 9, 15, 0);
  g_autoptr (PawlEntry) opened = pawl_entry_new (PAWL_ENTRY_OPENED, NULL, FIXTURE_PERSON, now);
  g_autofree char *job_id = record != NULL ? pawl_record_open_job (record, opened, &error) : NULL;

  if (error != NULL)
    g_printerr ("%s\n", error->message);
  _exit (job_id != NULL ? 0 : 1);
}

static void
test_two_makers (Fixture      *fixture,
                 gconstpointer data)
{
  for (guint round = 0; round < 8; round++)
    {
      g_autofree char *path = g_strdup_printf ("%s/%u/new/record.db", fixture->folder, round);
      g_autoptr (PawlRecord) record = NULL;
      g_autoptr (GPtrArray) jobs = NULL;
      pid_t children[2];

      for (guint i = 0; i < G_N_ELEMENTS (children); i++)
        if ((children[i] = fork ()) == 0)
          make_and_open_job (path);
      for (guint i = 0; i < G_N_ELEMENTS (children); i++)
        wait_for (children[i]);

      record = pawl_record_open (path, PAWL_RECORD_OPEN_READ_ONLY, NULL, NULL);
      g_assert_nonnull (record);
      jobs = pawl_record_list_jobs (record, NULL);
      g_assert_cmpuint (jobs->len, ==, 2);
    }
}

/* In a child: takes the other record's chain of the job again and again, while somebody appends to it. Does not return. */
static void
merge_many (const char *from,
            const char *into,
            const char *job_id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) source = pawl_record_open (from, PAWL_RECORD_OPEN_READ_ONLY, NULL, &error);
  g_autoptr (PawlRecord) target = pawl_record_open (into, PAWL_RECORD_OPEN_CREATE, NULL, &error);

  if (source == NULL || target == NULL)
    _exit (1);
  for (guint i = 0; i < N_MERGES;)
    {
      g_autoptr (GPtrArray) rows = pawl_record_load_rows (source, job_id, &error);
      g_autoptr (PawlMerge) merge = rows != NULL ? pawl_merge_begin (target, &error) : NULL;

      if (merge != NULL && pawl_merge_add_chain (merge, rows, &error) && pawl_merge_commit (g_steal_pointer (&merge), NULL, &error))
        i++;
      else if (!g_error_matches (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_BUSY))
        {
          g_printerr ("%s\n", error->message);
          _exit (2);
        }
      g_clear_error (&error);
      g_usleep (500);
    }
  _exit (0);
}

/* One appends, one merges: nothing is lost, nothing is there twice, and the appended ones stay in their order. */
static void
test_merging_meanwhile (Fixture      *fixture,
                        gconstpointer data)
{
  g_autofree char *other_path = g_build_filename (fixture->folder, "other.db", NULL);
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 0);
  g_autofree char *bytes = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  guint next = 0;
  gsize size;
  pid_t children[2];

  g_clear_object (&record); /* a connection must not go through a fork */
  g_assert_true (g_file_get_contents (fixture->path, &bytes, &size, NULL));
  fixture_write (other_path, bytes, size);
  if ((children[0] = fork ()) == 0)
    append_many (other_path, job_id, "Morwenna Pascoe");
  wait_for (children[0]);

  if ((children[0] = fork ()) == 0)
    append_many (fixture->path, job_id, "Jory Tregenza");
  if ((children[1] = fork ()) == 0)
    merge_many (other_path, fixture->path, job_id);
  for (guint i = 0; i < G_N_ELEMENTS (children); i++)
    wait_for (children[i]);

  record = fixture_open (fixture);
  fixture_check_sound (record);
  entries = pawl_record_load_entries (record, job_id, NULL);
  g_assert_cmpuint (entries->len, ==, 1 + 2 * N_EACH);
  for (guint i = 1; i < entries->len; i++)
    if (g_str_equal (pawl_entry_get_person (entries->pdata[i]), "Jory Tregenza"))
      {
        g_autofree char *subject = g_strdup_printf ("%u", next++);

        g_assert_cmpstr (pawl_entry_get_subject (entries->pdata[i]), ==, subject);
      }
  g_assert_cmpuint (next, ==, N_EACH);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/processes/killed", test_killed);
  ADD ("/processes/two-writers", test_two_writers);
  ADD ("/processes/two-makers", test_two_makers);
  ADD ("/processes/merging-meanwhile", test_merging_meanwhile);

  return g_test_run ();
}
