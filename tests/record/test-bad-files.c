/* Files that are no record, or no longer a whole one: one sentence each, and they are left as they are. */
#include <glib/gstdio.h>
#include <unistd.h>

#include "record-fixture.h"

static void
make_text (Fixture *fixture)
{
  static const char text[] = "at,step,item,answer\n2026-05-04,1,float-height,33.3 mm\n";

  fixture_write (fixture->path, text, sizeof text - 1);
}

static void
make_noise (Fixture *fixture)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (1907);
  char noise[8192];

  for (gsize i = 0; i < sizeof noise; i++)
    noise[i] = (char) g_rand_int_range (rand, 0, 256);
  fixture_write (fixture->path, noise, sizeof noise);
}

static void
make_record (Fixture *fixture)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *job_id = fixture_make_job (fixture, record, 5);
}

static void
cut_record (Fixture *fixture,
            gsize    size)
{
  make_record (fixture);
  g_assert_cmpint (truncate (fixture->path, (off_t) size), ==, 0);
}

static void
make_half (Fixture *fixture)
{
  cut_record (fixture, 5 * 4096);
}

static void
make_stump (Fixture *fixture)
{
  cut_record (fixture, 50);
}

static void
make_other_program (Fixture *fixture)
{
  fixture_run_sql (fixture->path, "CREATE TABLE albums (title); INSERT INTO albums VALUES ('Harbour songs')");
}

/* Another program that counts versions, too. */
static void
make_other_versions (Fixture *fixture)
{
  fixture_run_sql (fixture->path, "PRAGMA user_version = 1; CREATE TABLE entry (id)");
}

static void
make_without_version (Fixture *fixture)
{
  fixture_run_sql (fixture->path, "PRAGMA application_id = 0x5061776c; CREATE TABLE entry (id)");
}

static void
make_newer (Fixture *fixture)
{
  make_record (fixture);
  fixture_run_sql (fixture->path, "PRAGMA user_version = 900");
}

static void
make_folder (Fixture *fixture)
{
  g_assert_cmpint (g_mkdir (fixture->path, 0700), ==, 0);
}

static void
make_nothing (Fixture *fixture)
{
}

static void
make_empty (Fixture *fixture)
{
  fixture_write (fixture->path, "", 0);
}

typedef struct {
  const char *name;
  void (*make) (Fixture *fixture);
  int         to_write; /* the code, -1: it opens */
  int         to_read;
} BadFile;

static const BadFile BAD_FILES[] = {
  { "text", make_text, PAWL_RECORD_ERROR_NOT_A_RECORD, PAWL_RECORD_ERROR_NOT_A_RECORD },
  { "noise", make_noise, PAWL_RECORD_ERROR_NOT_A_RECORD, PAWL_RECORD_ERROR_NOT_A_RECORD },
  { "half of a record", make_half, PAWL_RECORD_ERROR_DAMAGED, PAWL_RECORD_ERROR_DAMAGED },
  { "stump of a record", make_stump, PAWL_RECORD_ERROR_DAMAGED, PAWL_RECORD_ERROR_DAMAGED },
  { "another program's", make_other_program, PAWL_RECORD_ERROR_NOT_A_RECORD, PAWL_RECORD_ERROR_NOT_A_RECORD },
  { "another program's, with a version", make_other_versions, PAWL_RECORD_ERROR_NOT_A_RECORD, PAWL_RECORD_ERROR_NOT_A_RECORD },
  { "without a version", make_without_version, PAWL_RECORD_ERROR_NOT_A_RECORD, PAWL_RECORD_ERROR_NOT_A_RECORD },
  { "newer", make_newer, PAWL_RECORD_ERROR_NEWER, PAWL_RECORD_ERROR_NEWER },
  { "a folder", make_folder, PAWL_RECORD_ERROR_NOT_A_RECORD, PAWL_RECORD_ERROR_NOT_A_RECORD },
  { "nothing", make_nothing, -1, PAWL_RECORD_ERROR_IO },
  { "an empty file", make_empty, -1, PAWL_RECORD_ERROR_NOT_A_RECORD },
};

/* Also: what is refused is left exactly as it is. */
static void
check_open (Fixture        *fixture,
            PawlRecordOpen  how,
            int             code)
{
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = NULL;
  gsize size_before = 0;
  gsize size_after = 0;

  g_file_get_contents (fixture->path, &before, &size_before, NULL);
  record = pawl_record_open (fixture->path, how, &fixture->host, &error);
  if (code < 0)
    {
      g_assert_no_error (error);
      fixture_check_sound (record);
      return;
    }

  g_assert_null (record);
  g_assert_error (error, PAWL_RECORD_ERROR, code);
  fixture_check_sentence (error, fixture->path);
  g_test_message ("%s", error->message);
  g_file_get_contents (fixture->path, &after, &size_after, NULL);
  g_assert_cmpmem (before, size_before, after, size_after);
}

static void
test_bad_file (Fixture      *fixture,
               gconstpointer data)
{
  const BadFile *case_ = data;

  case_->make (fixture);
  check_open (fixture, PAWL_RECORD_OPEN_READ_ONLY, case_->to_read);
  check_open (fixture, PAWL_RECORD_OPEN_CREATE, case_->to_write);
}

static void
test_folder_is_file (Fixture      *fixture,
                     gconstpointer data)
{
  g_autofree char *inside = g_build_filename (fixture->path, "record.db", NULL);
  g_autoptr (GError) error = NULL;

  make_text (fixture);
  g_assert_null (pawl_record_open (inside, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_IO);
  fixture_check_sentence (error, inside);
}

/* Pages in the middle overwritten: whatever is asked, a sentence or a finding, never a crash; what is told is DAMAGED. */
static void
test_overwritten_pages (Fixture      *fixture,
                        gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed (42);
  g_autofree char *sound = NULL;
  gsize size;
  guint n_told = 0, n_of_make = 0;

  make_record (fixture);
  g_assert_true (g_file_get_contents (fixture->path, &sound, &size, NULL));
  for (gsize page = 1; page < size / 4096; page++)
    {
      g_autofree char *bytes = g_memdup2 (sound, size);
      g_autoptr (PawlRecord) record = NULL;
      g_autoptr (GPtrArray) findings = NULL;
      g_autoptr (GPtrArray) entries = NULL;
      g_autoptr (GError) error = NULL;
      g_autoptr (GError) load_error = NULL;

      for (gsize i = 0; i < 4096; i++)
        bytes[page * 4096 + i] = (char) g_rand_int_range (rand, 0, 256);
      fixture_write (fixture->path, bytes, size);

      if (!(record = pawl_record_open (fixture->path, PAWL_RECORD_OPEN_READ_ONLY, &fixture->host, &error)))
        {
          /* A page that says what the tables are. */
          g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
          fixture_check_sentence (error, fixture->path);
          n_of_make++;
          continue;
        }
      findings = pawl_record_verify (record, NULL, &error);
      g_assert_no_error (error);
      g_assert_cmpuint (findings->len, >, 0);

      entries = pawl_record_load_entries (record, "a0000000-0000-4000-8000-000000000000", &load_error);
      if (load_error != NULL)
        {
          g_assert_error (load_error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
          fixture_check_sentence (load_error, fixture->path);
          n_told++;
        }
    }

  g_assert_cmpuint (n_told, >, 0);
  g_test_message ("%u of %" G_GSIZE_FORMAT " pages say what the tables are", n_of_make, size / 4096);
  g_assert_cmpuint (n_of_make, <, size / 4096 / 4);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (BAD_FILES); i++)
    {
      g_autofree char *path = g_strconcat ("/bad-files/", BAD_FILES[i].name, NULL);

      g_test_add (path, Fixture, &BAD_FILES[i], fixture_set_up, test_bad_file, fixture_tear_down);
    }

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/bad-files/folder-is-file", test_folder_is_file);
  ADD ("/bad-files/overwritten-pages", test_overwritten_pages);

  return g_test_run ();
}
