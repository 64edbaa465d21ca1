/*
 * Every operation of a write fails once, and at every operation the process dies once: what was acknowledged is there, what was not
 * is there whole or not at all, and the record is sound. What syncing gives beyond that is said in pawl-record.c, and not tested here.
 */
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/wait.h>
#include <unistd.h>

#include "faulty-disk.h"
#include "record-fixture.h"

#define N_TOGETHER 3 /* entries in one transaction */

/* A base that is worth losing, and the bytes of it to begin again from. */
typedef struct {
  char *job_id;
  char *bytes;
  gsize size;
} Base;

static void
make_base (Fixture *fixture,
           Base    *base)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);

  base->job_id = fixture_make_job (fixture, record, 4);
  g_clear_object (&record);
  g_assert_true (g_file_get_contents (fixture->path, &base->bytes, &base->size, NULL));
}

static void
begin_again (Fixture    *fixture,
             const Base *base)
{
  g_autofree char *journal = g_strconcat (fixture->path, "-journal", NULL);

  g_unlink (journal);
  fixture_write (fixture->path, base->bytes, base->size);
}

static void
clear_base (Base *base)
{
  g_free (base->job_id);
  g_free (base->bytes);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Base, clear_base)

static GPtrArray *
make_entries (Fixture *fixture)
{
  GPtrArray *entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autofree char *long_text = g_strnfill (3000, 'm');

  for (guint i = 0; i < N_TOGETHER; i++)
    g_ptr_array_add (entries, fixture_make_answer (fixture, "float-height", long_text));
  return entries;
}

static guint
count_sound_entries (PawlRecord *record,
                     const char *job_id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) findings = pawl_record_verify (record, NULL, &error);
  g_autoptr (GPtrArray) entries = NULL;

  g_assert_no_error (error);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s", ((PawlRecordFinding *) findings->pdata[i])->message);
  g_assert_cmpuint (findings->len, ==, 0);
  entries = pawl_record_load_entries (record, job_id, &error);
  g_assert_no_error (error);
  return entries->len;
}

/* ---- failing ---- */

static void
check_error (const GError *error,
             Fault         fault,
             const char   *path)
{
  g_assert_nonnull (error);
  g_assert_cmpuint (error->domain, ==, PAWL_RECORD_ERROR);
  g_assert_cmpint (error->code, ==, fault == FAULT_FULL ? PAWL_RECORD_ERROR_FULL : PAWL_RECORD_ERROR_IO);
  g_assert_true (g_str_has_prefix (error->message, path));
}

/* Appends while the @n-th operation fails, and again when the disk is well. FALSE when there is no @n-th operation any more. */
static gboolean
append_with_fault (Fixture    *fixture,
                   const Base *base,
                   Fault       fault,
                   guint       n)
{
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GPtrArray) entries = make_entries (fixture);
  g_autoptr (GError) error = NULL;
  gboolean is_stored, has_failed;
  guint n_entries;

  begin_again (fixture, base);
  record = fixture_open (fixture);
  faulty_disk_arm (fault, n);
  is_stored = pawl_record_append (record, base->job_id, entries, &error);
  has_failed = faulty_disk_disarm ();

  n_entries = count_sound_entries (record, base->job_id);
  if (is_stored)
    {
      g_assert_no_error (error);
      g_assert_cmpuint (n_entries, ==, 5 + N_TOGETHER);
      return has_failed;
    }

  check_error (error, fault, fixture->path);
  g_clear_error (&error);
  g_assert_null (pawl_entry_get_id (entries->pdata[0]));
  /* Only a disk that fails after it did as it was told may leave what was not acknowledged; then all of it. */
  if (fault != FAULT_IO_AFTER)
    g_assert_cmpuint (n_entries, ==, 5);
  else
    g_assert_true (n_entries == 5 || n_entries == 5 + N_TOGETHER);

  g_assert_true (pawl_record_append (record, base->job_id, entries, &error));
  g_assert_no_error (error);
  g_assert_cmpuint (count_sound_entries (record, base->job_id), ==, n_entries + N_TOGETHER);
  return TRUE;
}

static void
test_append_fails (Fixture      *fixture,
                   gconstpointer data)
{
  static const Fault faults[] = { FAULT_FULL, FAULT_IO, FAULT_IO_AFTER };
  g_auto (Base) base = { 0 };

  make_base (fixture, &base);
  for (guint i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      guint n = 0;

      while (append_with_fault (fixture, &base, faults[i], n))
        n++;
      g_test_message ("%u operations failed in turn", n);
      g_assert_cmpuint (n, >, 8);
    }
}

static gboolean
keep_with_fault (Fixture    *fixture,
                 const Base *base,
                 GBytes     *bytes,
                 guint       n)
{
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GBytes) back = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = NULL;
  gboolean has_failed;

  begin_again (fixture, base);
  record = fixture_open (fixture);
  faulty_disk_arm (FAULT_FULL, n);
  digest = pawl_record_keep (record, bytes, "image/jpeg", &error);
  has_failed = faulty_disk_disarm ();

  g_assert_cmpuint (count_sound_entries (record, base->job_id), ==, 5);
  if (digest == NULL)
    {
      check_error (error, FAULT_FULL, fixture->path);
      g_clear_error (&error);
      digest = pawl_record_keep (record, bytes, "image/jpeg", &error);
    }
  g_assert_no_error (error);
  back = pawl_record_load_kept (record, digest, &error);
  g_assert_no_error (error);
  g_assert_true (g_bytes_equal (back, bytes));
  return has_failed;
}

static void
test_keep_fails (Fixture      *fixture,
                 gconstpointer data)
{
  g_autofree char *picture = g_strnfill (100000, 'p');
  g_autoptr (GBytes) bytes = g_bytes_new (picture, 100000);
  g_auto (Base) base = { 0 };
  guint n = 0;

  make_base (fixture, &base);
  while (keep_with_fault (fixture, &base, bytes, n))
    n++;
  g_assert_cmpuint (n, >, 20); /* it takes 25 pages */
}

/* A record that could not be made is made the next time. */
static gboolean
make_with_fault (Fixture *fixture,
                 guint    n)
{
  g_autofree char *journal = g_strconcat (fixture->path, "-journal", NULL);
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *job_id = NULL;
  gboolean has_failed;

  g_unlink (journal);
  g_unlink (fixture->path);
  faulty_disk_arm (FAULT_IO, n);
  record = pawl_record_open (fixture->path, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error);
  has_failed = faulty_disk_disarm ();
  if (record == NULL)
    {
      check_error (error, FAULT_IO, fixture->path);
      record = fixture_open (fixture);
    }

  job_id = fixture_make_job (fixture, record, 1);
  g_assert_cmpuint (count_sound_entries (record, job_id), ==, 2);
  return has_failed;
}

static void
test_making_fails (Fixture      *fixture,
                   gconstpointer data)
{
  guint n = 0;

  while (make_with_fault (fixture, n))
    n++;
  g_assert_cmpuint (n, >, 8);
}

/* ---- dying ---- */

/* In a child: appends twice, says so each time, and dies on the way. Does not return. */
static void
append_and_die (Fixture    *fixture,
                const Base *base,
                Fault       fault,
                guint       n,
                int         acknowledge)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);

  faulty_disk_arm (fault, n);
  for (guint i = 0; i < 2; i++)
    {
      g_autoptr (GPtrArray) entries = make_entries (fixture);

      if (!pawl_record_append (record, base->job_id, entries, NULL) || write (acknowledge, "a", 1) != 1)
        _exit (1);
    }
  _exit (0);
}

static guint
count_acknowledged (int from)
{
  guint n = 0;
  char c;

  while (read (from, &c, 1) == 1)
    n++;
  return n;
}

static gboolean
die_at (Fixture    *fixture,
        const Base *base,
        Fault       fault,
        guint       n)
{
  g_autoptr (PawlRecord) record = NULL;
  int ends[2], status;
  guint n_acknowledged, n_entries;
  pid_t child;

  begin_again (fixture, base);
  g_assert_cmpint (pipe (ends), ==, 0);
  child = fork ();
  g_assert_cmpint (child, >=, 0);
  if (child == 0)
    append_and_die (fixture, base, fault, n, ends[1]);

  close (ends[1]);
  n_acknowledged = count_acknowledged (ends[0]);
  close (ends[0]);
  g_assert_cmpint (waitpid (child, &status, 0), ==, child);

  record = n % 2 == 0 ? fixture_open (fixture) : fixture_open_to_read (fixture);
  n_entries = count_sound_entries (record, base->job_id);
  g_assert_true (n_entries == 5 + n_acknowledged * N_TOGETHER || n_entries == 5 + (n_acknowledged + 1) * N_TOGETHER);

  if (WIFSIGNALED (status))
    return TRUE;
  g_assert_cmpint (WEXITSTATUS (status), ==, 0);
  g_assert_cmpuint (n_acknowledged, ==, 2);
  return FALSE;
}

static void
test_death (Fixture      *fixture,
            gconstpointer data)
{
  static const Fault faults[] = { FAULT_DEATH, FAULT_DEATH_TORN };
  g_auto (Base) base = { 0 };

  make_base (fixture, &base);
  for (guint i = 0; i < G_N_ELEMENTS (faults); i++)
    {
      guint n = 0;

      while (die_at (fixture, &base, faults[i], n))
        n++;
      g_test_message ("died at each of %u operations", n);
      g_assert_cmpuint (n, >, 16);
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_disk_install ();

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/disk/append-fails", test_append_fails);
  ADD ("/disk/keep-fails", test_keep_fails);
  ADD ("/disk/making-fails", test_making_fails);
  ADD ("/disk/death", test_death);

  return g_test_run ();
}
