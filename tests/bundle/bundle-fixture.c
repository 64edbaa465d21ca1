#include "bundle-fixture.h"

/* A record with a job of entries and a photo, a second job, and an instrument. */
void
bundle_fill (Fixture    *fixture,
             PawlRecord *record,
             char      **job_id)
{
  static const char PICTURE[] = "\xff\xd8 not really a picture\0 with a nul in it";
  g_autoptr (GBytes) picture = g_bytes_new_static (PICTURE, sizeof PICTURE);
  g_autoptr (PawlEntry) photo = pawl_entry_new (PAWL_ENTRY_PHOTO, "step-3", FIXTURE_PERSON, fixture->now);
  g_autoptr (PawlEntry) note = pawl_entry_new (PAWL_ENTRY_NOTED, NULL, "Māra \"Ķ\" Ōzola", fixture->now);
  g_autoptr (PawlEntry) stated = pawl_entry_new (PAWL_ENTRY_INSTRUMENT_STATED, "MIC-3", FIXTURE_PERSON, fixture->now);
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = pawl_record_keep (record, picture, "image/jpeg", &error);
  g_autofree char *chain = NULL;

  *job_id = fixture_make_job (fixture, record, 5);
  pawl_entry_set (photo, "digest", digest);
  pawl_entry_set (note, "text", "two lines\nand a tab\t{\"nothing\": [\"nested\"]} \\ \x01 end");
  pawl_entry_set (stated, "kind", "caliper");
  g_assert_true (pawl_record_append_one (record, *job_id, photo, &error));
  g_assert_true (pawl_record_append_one (record, *job_id, note, &error));
  g_assert_no_error (error);
  g_free (fixture_make_job (fixture, record, 1));
  chain = pawl_record_open_instrument (record, stated, &error);
  g_assert_no_error (error);
}

char *
bundle_dup_place (Fixture    *fixture,
                  const char *name)
{
  return g_build_filename (fixture->folder, name, NULL);
}

PawlRecord *
bundle_open_at (Fixture    *fixture,
                const char *path)
{
  g_autoptr (GError) error = NULL;
  PawlRecord *record = pawl_record_open (path, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error);

  g_assert_no_error (error);
  return record;
}

void
bundle_write (PawlRecord        *record,
              const char *const *chains,
              const char        *path)
{
  g_autoptr (GError) error = NULL;

  pawl_bundle_write (record, chains, path, NULL, &error);
  g_assert_no_error (error);
}

GBytes *
bundle_load_file (const char *path)
{
  g_autoptr (GError) error = NULL;
  char *bytes = NULL;
  gsize size;

  g_file_get_contents (path, &bytes, &size, &error);
  g_assert_no_error (error);
  return g_bytes_new_take (bytes, size);
}
