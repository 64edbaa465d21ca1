/* What goes into a bundle comes out of it, whoever takes it and in whatever order. */
#include <glib/gstdio.h>
#include <string.h>

#include "bundle-fixture.h"
#include "faulty-disk.h"
#include "record/pawl-people.h"

/* ---- out and in ---- */

static void
test_round_trip (Fixture      *fixture,
                 gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *path = bundle_dup_place (fixture, "all.pawl.zip");
  g_autofree char *other_path = bundle_dup_place (fixture, "other.db");
  g_autofree char *again_path = bundle_dup_place (fixture, "again.pawl.zip");
  g_autoptr (PawlRecord) other = bundle_open_at (fixture, other_path);
  g_autofree char *job_id = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (GBytes) bundle = NULL;
  g_autoptr (GBytes) again = NULL;
  g_autoptr (GError) error = NULL;
  PawlBundleCount count;
  PawlMergeCount merged;

  bundle_fill (fixture, record, &job_id);
  g_assert_true (pawl_bundle_write (record, NULL, path, &count, &error));
  g_assert_cmpuint (count.n_chains, ==, 3);
  g_assert_cmpuint (count.n_entries, ==, 8 + 2 + 1);
  g_assert_cmpuint (count.n_kept, ==, 1);

  pawl_bundle_merge (other, path, &merged, &error);
  g_assert_no_error (error);
  g_assert_cmpuint (merged.n_jobs, ==, 3);
  g_assert_cmpuint (merged.n_new_jobs, ==, 3);
  g_assert_cmpuint (merged.n_new_entries, ==, 11);
  g_assert_cmpuint (merged.n_new_kept, ==, 1);
  fixture_check_sound (other);
  before = fixture_dump_union (fixture->path);
  after = fixture_dump_union (other_path);
  g_assert_cmpstr (after, ==, before);

  /* Again: nothing is new. And the other record makes the same bundle, byte for byte. */
  g_assert_true (pawl_bundle_merge (other, path, &merged, &error));
  g_assert_cmpuint (merged.n_new_jobs + merged.n_new_entries + merged.n_new_kept, ==, 0);
  bundle_write (other, NULL, again_path);
  bundle = bundle_load_file (path);
  again = bundle_load_file (again_path);
  g_assert_true (g_bytes_equal (again, bundle));
}

static void
test_one_job (Fixture      *fixture,
              gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *path = bundle_dup_place (fixture, "job.pawl.zip");
  g_autofree char *other_path = bundle_dup_place (fixture, "other.db");
  g_autoptr (PawlRecord) other = bundle_open_at (fixture, other_path);
  g_autofree char *job_id = NULL;
  g_autoptr (GPtrArray) chains = NULL;
  g_autoptr (GError) error = NULL;
  const char *wanted[3] = { NULL };

  bundle_fill (fixture, record, &job_id);
  wanted[0] = wanted[1] = job_id; /* named twice, in it once */
  bundle_write (record, wanted, path);
  g_assert_true (pawl_bundle_merge (other, path, NULL, &error));
  chains = pawl_record_list_chains (other, &error);
  g_assert_cmpuint (chains->len, ==, 1);
  g_assert_cmpstr (chains->pdata[0], ==, job_id);
  fixture_check_sound (other);

  wanted[1] = "no-such-job";
  g_assert_false (pawl_bundle_write (record, wanted, path, NULL, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB);
}

/* The same bytes in another place and zone, over a file that was there. */
static void
test_same_bytes (Fixture      *fixture,
                 gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *path = bundle_dup_place (fixture, "a.zip");
  g_autofree char *path_east = bundle_dup_place (fixture, "b.zip");
  g_autofree char *job_id = NULL;
  g_autofree char *zone = g_strdup (g_getenv ("TZ"));
  g_autoptr (GBytes) a = NULL;
  g_autoptr (GBytes) b = NULL;

  bundle_fill (fixture, record, &job_id);
  bundle_write (record, NULL, path);
  g_setenv ("TZ", "Pacific/Kiritimati", TRUE);
  fixture_write (path_east, "what was here before", 20);
  /* Nor do people and their PINs change anything: they are not in it. */
  g_assert_true (pawl_people_add (record, "Morwenna Pascoe", PAWL_ROLE_TRAINER, NULL));
  g_assert_true (pawl_people_set_pin (record, "Morwenna Pascoe", "4071", NULL));
  bundle_write (record, NULL, path_east);
  g_setenv ("TZ", zone != NULL ? zone : "UTC", TRUE);
  a = bundle_load_file (path);
  b = bundle_load_file (path_east);
  g_assert_true (g_bytes_equal (a, b));
}

static void
test_empty_record (Fixture      *fixture,
                   gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *path = bundle_dup_place (fixture, "empty.zip");
  g_autoptr (GError) error = NULL;
  PawlMergeCount count;

  bundle_write (record, NULL, path);
  g_assert_true (pawl_bundle_merge (record, path, &count, &error));
  g_assert_cmpuint (count.n_jobs, ==, 0);
}

/* Three benches' bundles in all six orders, one of them twice. */
static void
test_any_order (Fixture      *fixture,
                gconstpointer data)
{
  static const guint orders[][3] = { { 0, 1, 2 }, { 0, 2, 1 }, { 1, 0, 2 }, { 1, 2, 0 }, { 2, 0, 1 }, { 2, 1, 0 } };
  g_autofree char *job_id = NULL;
  g_autofree char *begun = NULL;
  g_autofree char *first = NULL;
  char *bundles[3];
  gsize size;

  {
    g_autoptr (PawlRecord) record = fixture_open (fixture);

    bundle_fill (fixture, record, &job_id);
  }
  g_assert_true (g_file_get_contents (fixture->path, &begun, &size, NULL));
  for (guint i = 0; i < 3; i++)
    {
      g_autoptr (PawlRecord) record = NULL;
      g_autoptr (PawlEntry) entry = fixture_make_answer (fixture, "float-height", "33.3 mm");

      bundles[i] = g_strdup_printf ("%s/bench-%u.zip", fixture->folder, i);
      fixture_write (fixture->path, begun, size);
      record = fixture_open (fixture);
      g_assert_true (pawl_record_append_one (record, job_id, entry, NULL));
      bundle_write (record, NULL, bundles[i]);
    }

  for (guint i = 0; i < G_N_ELEMENTS (orders); i++)
    {
      g_autofree char *path = g_strdup_printf ("%s/order-%u.db", fixture->folder, i);
      g_autoptr (PawlRecord) record = bundle_open_at (fixture, path);
      g_autofree char *dump = NULL;

      for (guint j = 0; j < 4; j++)
        g_assert_true (pawl_bundle_merge (record, bundles[orders[i][j % 3]], NULL, NULL));
      fixture_check_sound (record);
      dump = fixture_dump_union (path);
      if (first == NULL)
        first = g_steal_pointer (&dump);
      else
        g_assert_cmpstr (dump, ==, first);
    }
  /* And the forked job goes through a bundle like any other. */
  {
    g_autofree char *forked_path = bundle_dup_place (fixture, "order-0.db");
    g_autofree char *fresh_path = bundle_dup_place (fixture, "fresh.db");
    g_autoptr (PawlRecord) forked = bundle_open_at (fixture, forked_path);
    g_autoptr (PawlRecord) fresh = bundle_open_at (fixture, fresh_path);
    g_autofree char *ends = pawl_record_dup_ends (forked, job_id, NULL);
    g_autofree char *dump = NULL;

    g_assert_cmpuint (strlen (ends), ==, 3 * 64 + 2);
    bundle_write (forked, NULL, bundles[0]);
    g_assert_true (pawl_bundle_merge (fresh, bundles[0], NULL, NULL));
    fixture_check_sound (fresh);
    dump = fixture_dump_union (fresh_path);
    g_assert_cmpstr (dump, ==, first);
  }
  for (guint i = 0; i < 3; i++)
    g_free (bundles[i]);
}

/* ---- writing fails ---- */

static void
test_nowhere_to_write (Fixture      *fixture,
                       gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *path = bundle_dup_place (fixture, "no-such-folder/a.zip");
  g_autofree char *taken = bundle_dup_place (fixture, "a-folder");
  g_autofree char *inside = g_build_filename (taken, "file", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (GDir) folder = NULL;
  const char *name;

  g_free (fixture_make_job (fixture, record, 1));
  g_assert_false (pawl_bundle_write (record, NULL, path, NULL, &error));
  g_assert_error (error, PAWL_BUNDLE_ERROR, PAWL_BUNDLE_ERROR_IO);
  fixture_check_sentence (error, path);
  g_clear_error (&error);

  /* A folder is there that can't be replaced: said, and nothing is left beside it. */
  g_assert_cmpint (g_mkdir (taken, 0700), ==, 0);
  fixture_write (inside, "", 0);
  g_assert_false (pawl_bundle_write (record, NULL, taken, NULL, &error));
  g_assert_error (error, PAWL_BUNDLE_ERROR, PAWL_BUNDLE_ERROR_IO);
  folder = g_dir_open (fixture->folder, 0, NULL);
  while ((name = g_dir_read_name (folder)) != NULL)
    g_assert_false (g_str_has_prefix (name, "a-folder."));
}

/* What is damaged is not handed on. */
static void
test_damaged_record (Fixture      *fixture,
                     gconstpointer data)
{
  static const char *const damages[] = {
    "UPDATE entry SET body = '{}' WHERE number = 3",
    "DELETE FROM entry WHERE number = 8",
    "UPDATE kept SET bytes = x'00'",
  };
  g_autofree char *path = bundle_dup_place (fixture, "a.zip");
  g_autofree char *job_id = NULL;
  g_autofree char *sound = NULL;
  gsize size;

  {
    g_autoptr (PawlRecord) record = fixture_open (fixture);

    bundle_fill (fixture, record, &job_id);
  }
  g_assert_true (g_file_get_contents (fixture->path, &sound, &size, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (damages); i++)
    {
      g_autoptr (PawlRecord) record = NULL;
      g_autoptr (GError) error = NULL;

      fixture_write (fixture->path, sound, size);
      fixture_tamper (fixture->path, damages[i]);
      record = fixture_open (fixture);
      g_assert_false (pawl_bundle_write (record, NULL, path, NULL, &error));
      g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
      fixture_check_sentence (error, fixture->path);
      g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_disk_install (); /* waits for no disk */

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/bundle/round-trip", test_round_trip);
  ADD ("/bundle/one-job", test_one_job);
  ADD ("/bundle/same-bytes", test_same_bytes);
  ADD ("/bundle/empty-record", test_empty_record);
  ADD ("/bundle/any-order", test_any_order);
  ADD ("/bundle/nowhere-to-write", test_nowhere_to_write);
  ADD ("/bundle/damaged-record", test_damaged_record);

  return g_test_run ();
}
