/* What is not as it was written does not come in, nor any part of it. */
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

#include "bundle-fixture.h"
#include "faulty-disk.h"

/* ---- not as it was written ---- */

typedef struct {
  PawlRecord *record; /* where it must not come in */
  char       *path;   /* of the bundle */
  char       *before; /* all that the record has */
} Target;

static void
target_set_up (Target  *self,
               Fixture *fixture)
{
  g_autofree char *record_path = bundle_dup_place (fixture, "target.db");

  self->record = bundle_open_at (fixture, record_path);
  self->path = bundle_dup_place (fixture, "bad.zip");
  g_free (fixture_make_job (fixture, self->record, 1));
  self->before = fixture_dump (record_path);
}

static void
target_clear (Target *self)
{
  g_object_unref (self->record);
  g_free (self->path);
  g_free (self->before);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Target, target_clear)

/* @code: of PAWL_BUNDLE_ERROR, or -1 for any refusal. */
static void
check_refused (Target     *self,
               int         code,
               const char *word)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *after = NULL;

  g_assert_false (pawl_bundle_merge (self->record, self->path, NULL, &error));
  g_assert_nonnull (error);
  if (*word != '\0')
    g_test_message ("%s", error->message);
  fixture_check_sentence (error, self->path);
  if (code >= 0)
    g_assert_error (error, PAWL_BUNDLE_ERROR, code);
  if (strstr (error->message, word) == NULL)
    g_error ("“%s” does not say “%s”", error->message, word);
  after = fixture_dump (pawl_record_get_path (self->record));
  g_assert_cmpstr (after, ==, self->before);
}

static void
test_other_files (Fixture      *fixture,
                  gconstpointer data)
{
  g_auto (Target) target = { 0 };

  target_set_up (&target, fixture);
  check_refused (&target, PAWL_BUNDLE_ERROR_IO, "no such file");
  fixture_write (target.path, "", 0);
  check_refused (&target, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "not a bundle");
  fixture_write (target.path, "a letter to a customer", 22);
  check_refused (&target, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "not a bundle");
  g_assert_cmpint (g_unlink (target.path), ==, 0);
  g_assert_cmpint (g_mkdir (target.path, 0700), ==, 0);
  check_refused (&target, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "no plain file");
  g_assert_cmpint (g_rmdir (target.path), ==, 0);
  g_assert_cmpint (mkfifo (target.path, 0600), ==, 0);
  check_refused (&target, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "no plain file");
}

static void
test_cut_short (Fixture      *fixture,
                gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_auto (Target) target = { 0 };
  g_autofree char *job_id = NULL;
  g_autoptr (GBytes) whole = NULL;
  gsize size;

  target_set_up (&target, fixture);
  bundle_fill (fixture, record, &job_id);
  bundle_write (record, NULL, target.path);
  whole = bundle_load_file (target.path);
  size = g_bytes_get_size (whole);
  for (gsize length = 0; length < size; length += length + 64 < size ? 61 : 1)
    {
      fixture_write (target.path, g_bytes_get_data (whole, NULL), length);
      check_refused (&target, -1, "");
    }
}

/* A bit here and there: refused, or, where it meant nothing, taken as it was. */
static void
test_bits_turned (Fixture      *fixture,
                  gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_auto (Target) target = { 0 };
  g_autofree char *job_id = NULL;
  g_autofree char *copy_path = bundle_dup_place (fixture, "copy.db");
  g_autofree char *sound = NULL;
  g_autofree char *begun = NULL;
  g_autoptr (GBytes) whole = NULL;
  guint n_taken = 0, n_refused = 0;
  gsize begun_size;

  target_set_up (&target, fixture);
  bundle_fill (fixture, record, &job_id);
  bundle_write (record, NULL, target.path);
  whole = bundle_load_file (target.path);
  sound = fixture_dump_union (fixture->path);
  g_object_unref (bundle_open_at (fixture, copy_path));
  g_assert_true (g_file_get_contents (copy_path, &begun, &begun_size, NULL));

  for (gsize i = 0; i < g_bytes_get_size (whole); i += 7)
    {
      g_autofree char *bytes = g_memdup2 (g_bytes_get_data (whole, NULL), g_bytes_get_size (whole));
      g_autoptr (PawlRecord) copy = NULL;
      g_autoptr (GError) error = NULL;
      g_autofree char *after = NULL;

      bytes[i] ^= (char) (1 << (i % 8));
      fixture_write (target.path, bytes, g_bytes_get_size (whole));
      fixture_write (copy_path, begun, begun_size);
      copy = bundle_open_at (fixture, copy_path);
      if (!pawl_bundle_merge (copy, target.path, NULL, &error))
        {
          fixture_check_sentence (error, target.path);
          n_refused++;
          continue;
        }
      n_taken++;
      after = fixture_dump_union (copy_path);
      g_assert_cmpstr (after, ==, sound);
    }
  g_test_message ("%u refused, %u were of no meaning", n_refused, n_taken);
  g_assert_cmpuint (n_refused, >, n_taken);
}

/* ---- made by hand ---- */

typedef struct {
  const char *name;
  const char *text;
  gssize      size; /* -1: of the text */
  mode_t      type; /* 0: a file */
} HandMember;

static void
write_zip (const char *path,
           GPtrArray  *members)
{
  struct archive *archive = archive_write_new ();

  g_assert_cmpint (archive_write_set_format_zip (archive), ==, ARCHIVE_OK);
  g_assert_cmpint (archive_write_open_filename (archive, path), ==, ARCHIVE_OK);
  for (guint i = 0; i < members->len; i++)
    {
      const HandMember *member = members->pdata[i];
      gsize size = member->size < 0 ? strlen (member->text) : (gsize) member->size;
      struct archive_entry *entry = archive_entry_new ();

      archive_entry_set_pathname (entry, member->name);
      archive_entry_set_filetype (entry, member->type != 0 ? member->type : AE_IFREG);
      archive_entry_set_perm (entry, 0644);
      if (member->type == AE_IFLNK)
        archive_entry_set_symlink (entry, member->text);
      archive_entry_set_size (entry, member->type == AE_IFLNK ? 0 : (la_int64_t) size);
      g_assert_cmpint (archive_write_header (archive, entry), ==, ARCHIVE_OK);
      if (member->type != AE_IFLNK)
        g_assert_cmpint (archive_write_data (archive, member->text, size), ==, (la_ssize_t) size);
      archive_entry_free (entry);
    }
  g_assert_cmpint (archive_write_close (archive), ==, ARCHIVE_OK);
  archive_write_free (archive);
}

/* A zip with @manifest and a seal that fits it, then @more. */
static void
write_sealed (const char *path,
              const char *manifest,
              GPtrArray  *more)
{
  g_autofree char *seal = pawl_manifest_dup_seal (manifest, strlen (manifest));
  g_autoptr (GPtrArray) all = g_ptr_array_new ();
  HandMember first = { PAWL_BUNDLE_MANIFEST, manifest, -1, 0 };
  HandMember second = { PAWL_BUNDLE_SEAL, seal, -1, 0 };

  g_ptr_array_add (all, &first);
  g_ptr_array_add (all, &second);
  for (guint i = 0; more != NULL && i < more->len; i++)
    g_ptr_array_add (all, more->pdata[i]);
  write_zip (path, all);
}

#define SHA "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"
#define MANIFEST(members) "{\"what\":\"Pawl bundle\",\"format\":1,\"members\":[" members "]}"

static const struct {
  const char *manifest;
  int         code;
  const char *word;
} BAD_MANIFESTS[] = {
  { "", PAWL_BUNDLE_ERROR_DAMAGED, "can't be read" },
  { "[]", PAWL_BUNDLE_ERROR_DAMAGED, "can't be read" },
  { "{\"what\":\"Pawl bundle\"", PAWL_BUNDLE_ERROR_DAMAGED, "can't be read" },
  { "{\"what\":\"something else\",\"format\":1,\"members\":[]}", PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "not that of a bundle" },
  { "{\"what\":\"Pawl bundle\",\"format\":2,\"members\":[]}", PAWL_BUNDLE_ERROR_NEWER, "made by a later Pawl" },
  { "{\"what\":\"Pawl bundle\",\"format\":\"1\",\"members\":[]}", PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "not that of a bundle" },
  { "{\"what\":\"Pawl bundle\",\"format\":1}", PAWL_BUNDLE_ERROR_DAMAGED, "lists no members" },
  { MANIFEST ("1"), PAWL_BUNDLE_ERROR_DAMAGED, "without a name" },
  { MANIFEST ("{\"name\":\"../../home/jory/.profile\",\"size\":1,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_DAMAGED, "nothing that a bundle has" },
  { MANIFEST ("{\"name\":\"/etc/passwd\",\"size\":1,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_DAMAGED, "nothing that a bundle has" },
  { MANIFEST ("{\"name\":\"kept/../../x\",\"size\":1,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_DAMAGED, "nothing that a bundle has" },
  { MANIFEST ("{\"name\":\"entries/../x.jsonl\",\"size\":1,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_DAMAGED, "nothing that a bundle has" },
  { MANIFEST ("{\"name\":\"entries/.jsonl\",\"size\":1,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_DAMAGED, "nothing that a bundle has" },
  { MANIFEST ("{\"name\":\"README.txt\",\"size\":1}"), PAWL_BUNDLE_ERROR_DAMAGED, "all that it has to" },
  { MANIFEST ("{\"name\":\"README.txt\",\"size\":-1,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_DAMAGED, "all that it has to" },
  { MANIFEST ("{\"name\":\"entries/a.jsonl\",\"size\":1,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_DAMAGED, "all that it has to" },
  { MANIFEST ("{\"name\":\"README.txt\",\"size\":1,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_DAMAGED, "is missing" },
  { MANIFEST ("{\"name\":\"README.txt\",\"size\":1,\"sha256\":\"" SHA "\"},{\"name\":\"README.txt\",\"size\":1,\"sha256\":\"" SHA "\"}"),
    PAWL_BUNDLE_ERROR_DAMAGED, "twice" },
  { MANIFEST ("{\"name\":\"README.txt\",\"size\":300000000,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_TOO_LARGE, "at most" },
  /* It would grow a hundred thousand times. */
  { MANIFEST ("{\"name\":\"README.txt\",\"size\":200000000,\"sha256\":\"" SHA "\"}"), PAWL_BUNDLE_ERROR_TOO_LARGE, "would grow" },
};

static void
test_bad_manifests (Fixture      *fixture,
                    gconstpointer data)
{
  g_auto (Target) target = { 0 };
  g_autofree char *deep = g_strnfill (500000, '[');

  target_set_up (&target, fixture);
  for (guint i = 0; i < G_N_ELEMENTS (BAD_MANIFESTS); i++)
    {
      write_sealed (target.path, BAD_MANIFESTS[i].manifest, NULL);
      check_refused (&target, BAD_MANIFESTS[i].code, BAD_MANIFESTS[i].word);
    }
  write_sealed (target.path, deep, NULL);
  check_refused (&target, PAWL_BUNDLE_ERROR_DAMAGED, "can't be read");
}

/* The README of a bundle by hand, so that the zip is what is wrong. */
static void
check_members (Target     *target,
               HandMember *members,
               guint       n_members,
               guint64     size,
               const char *word)
{
  g_autoptr (GPtrArray) more = g_ptr_array_new ();
  g_autoptr (GPtrArray) stated = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_member_free);
  PawlMember *readme = pawl_member_new (PAWL_MEMBER_README, "");
  g_autofree char *manifest = NULL;

  readme->size = size;
  readme->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, "hello", -1);
  g_ptr_array_add (stated, readme);
  manifest = pawl_manifest_to_text (stated, PAWL_BUNDLE_WHAT);
  for (guint i = 0; i < n_members; i++)
    g_ptr_array_add (more, &members[i]);
  write_sealed (target->path, manifest, more);
  if (word != NULL)
    check_refused (target, PAWL_BUNDLE_ERROR_DAMAGED, word);
  else
    g_assert_true (pawl_bundle_merge (target->record, target->path, NULL, NULL));
}

static void
test_bad_members (Fixture      *fixture,
                  gconstpointer data)
{
  g_auto (Target) target = { 0 };
  g_autofree char *zeros = g_malloc0 (8 << 20);
  HandMember good[] = { { "README.txt", "hello", -1, 0 } };
  HandMember changed[] = { { "README.txt", "hellO", -1, 0 } };
  HandMember shorter[] = { { "README.txt", "hell", -1, 0 } };
  HandMember other_name[] = { { "../README.txt", "hello", -1, 0 } };
  HandMember more[] = { { "README.txt", "hello", -1, 0 }, { "entries/a.jsonl", "{}", -1, 0 } };
  HandMember twice[] = { { "README.txt", "hello", -1, 0 }, { "README.txt", "hello", -1, 0 } };
  HandMember bomb[] = { { "README.txt", zeros, 8 << 20, 0 } };
  HandMember link[] = { { "README.txt", "/etc/passwd", -1, AE_IFLNK } };
  HandMember folder[] = { { "README.txt", "", -1, AE_IFDIR } };

  target_set_up (&target, fixture);
  check_members (&target, good, 1, 5, NULL);
  check_members (&target, changed, 1, 5, "does not fit its digest");
  check_members (&target, shorter, 1, 5, "does not fit its digest");
  check_members (&target, other_name, 1, 5, "should be where");
  check_members (&target, more, 2, 5, "does not name");
  check_members (&target, twice, 2, 5, "does not name");
  check_members (&target, bomb, 1, 5, "longer than");
  check_members (&target, link, 1, 5, "no plain file");
  check_members (&target, folder, 1, 5, "should be where");
}

/* ---- entries that are not what they were, all sums of the bundle put right ---- */

/* Writes a bundle of @lines as the job @job_id, with a manifest that fits. */
static void
write_lines (const char *path,
             const char *job_id,
             const char *lines,
             guint       n_entries,
             const char *ends)
{
  g_autoptr (GPtrArray) stated = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_member_free);
  g_autoptr (GPtrArray) more = g_ptr_array_new ();
  PawlMember *member = pawl_member_new (PAWL_MEMBER_ENTRIES, job_id);
  HandMember hand = { member->name, lines, -1, 0 };
  g_autofree char *manifest = NULL;

  member->size = strlen (lines);
  member->sha256 = g_compute_checksum_for_string (G_CHECKSUM_SHA256, lines, -1);
  member->n_entries = n_entries;
  member->ends = g_strdup (ends);
  g_ptr_array_add (stated, member);
  g_ptr_array_add (more, &hand);
  manifest = pawl_manifest_to_text (stated, PAWL_BUNDLE_WHAT);
  write_sealed (path, manifest, more);
}

static const struct {
  const char *find, *put; /* in the lines */
  int         code;       /* of PAWL_BUNDLE_ERROR, -1 for one of the record */
  const char *word;
} BAD_LINES[] = {
  { "33,3 mm", "33,4 mm", -1, "does not fit its digest" },
  { "\"number\":3", "\"number\":4", -1, "does not fit its digest" },
  { "\"number\":3", "\"number\":\"3\"", PAWL_BUNDLE_ERROR_DAMAGED, "line 3 is not an entry" },
  { "\"person\":", "\"persona\":", PAWL_BUNDLE_ERROR_DAMAGED, "line 1 is not an entry" },
  { "\"person\":", "\"more\":\"\",\"person\":", PAWL_BUNDLE_ERROR_DAMAGED, "line 1 is not an entry" },
  { "\"person\":\"", "\"person\":\"\\u0000", -1, "does not fit its digest" },
  { "\"answered\"", "\"dreamt\"", PAWL_BUNDLE_ERROR_NEWER, "a later Pawl" },
  { "\n", "", PAWL_BUNDLE_ERROR_DAMAGED, "line 1 is not an entry" },
  { "\n", "\n\n", PAWL_BUNDLE_ERROR_DAMAGED, "line 2 is not an entry" },
  { "\"body\":\"", "\"body\":[\"", PAWL_BUNDLE_ERROR_DAMAGED, "line 1 is not an entry" },
};

static char *
replace_first (const char *text,
               const char *find,
               const char *put)
{
  const char *at = strstr (text, find);

  g_assert_nonnull (at);
  return g_strdup_printf ("%.*s%s%s", (int) (at - text), text, put, at + strlen (find));
}

static void
test_bad_lines (Fixture      *fixture,
                gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_auto (Target) target = { 0 };
  g_autofree char *job_id = fixture_make_job (fixture, record, 4);
  g_autofree char *ends = pawl_record_dup_ends (record, job_id, NULL);
  g_autoptr (GPtrArray) rows = pawl_record_load_rows (record, job_id, NULL);
  g_autoptr (GBytes) lines = pawl_lines_from_rows (rows, NULL);
  g_autofree char *text = g_strndup (g_bytes_get_data (lines, NULL), g_bytes_get_size (lines));
  g_autofree char *without_third = NULL;
  g_auto (GStrv) each = g_strsplit (text, "\n", -1);

  target_set_up (&target, fixture);
  for (guint i = 0; i < G_N_ELEMENTS (BAD_LINES); i++)
    {
      g_autofree char *changed = replace_first (text, BAD_LINES[i].find, BAD_LINES[i].put);

      write_lines (target.path, job_id, changed, 5, ends);
      check_refused (&target, BAD_LINES[i].code, BAD_LINES[i].word);
    }

  without_third = g_strdup_printf ("%s\n%s\n%s\n%s\n", each[0], each[1], each[3], each[4]);
  write_lines (target.path, job_id, without_third, 4, ends);
  check_refused (&target, PAWL_BUNDLE_ERROR_DAMAGED, "not the entries that the manifest states");
  write_lines (target.path, job_id, text, 6, ends);
  check_refused (&target, PAWL_BUNDLE_ERROR_DAMAGED, "not the entries that the manifest states");
  write_lines (target.path, "another-job", text, 5, ends);
  check_refused (&target, PAWL_BUNDLE_ERROR_DAMAGED, "not the entries that the manifest states");
  write_lines (target.path, job_id, text, 5, SHA);
  check_refused (&target, PAWL_BUNDLE_ERROR_DAMAGED, "not the entries that the manifest states");
  write_lines (target.path, job_id, text, 5, ends);
  g_assert_true (pawl_bundle_merge (target.record, target.path, NULL, NULL));
}

/* The lines in another order are the same entries. */
static void
test_lines_in_any_order (Fixture      *fixture,
                         gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autofree char *path = bundle_dup_place (fixture, "turned.zip");
  g_autofree char *other_path = bundle_dup_place (fixture, "other.db");
  g_autoptr (PawlRecord) other = bundle_open_at (fixture, other_path);
  g_autofree char *job_id = fixture_make_job (fixture, record, 3);
  g_autofree char *ends = pawl_record_dup_ends (record, job_id, NULL);
  g_autoptr (GPtrArray) rows = pawl_record_load_rows (record, job_id, NULL);
  g_autoptr (GBytes) lines = pawl_lines_from_rows (rows, NULL);
  g_autofree char *text = g_strndup (g_bytes_get_data (lines, NULL), g_bytes_get_size (lines));
  g_autofree char *turned = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (GError) error = NULL;
  g_auto (GStrv) each = g_strsplit (text, "\n", -1);

  turned = g_strdup_printf ("%s\n%s\n%s\n%s\n", each[3], each[1], each[0], each[2]);
  write_lines (path, job_id, turned, 4, ends);
  pawl_bundle_merge (other, path, NULL, &error);
  g_assert_no_error (error);
  before = fixture_dump_union (fixture->path);
  after = fixture_dump_union (other_path);
  g_assert_cmpstr (after, ==, before);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_disk_install (); /* waits for no disk */

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/bad-bundles/other-files", test_other_files);
  ADD ("/bad-bundles/cut-short", test_cut_short);
  ADD ("/bad-bundles/bits-turned", test_bits_turned);
  ADD ("/bad-bundles/bad-manifests", test_bad_manifests);
  ADD ("/bad-bundles/bad-members", test_bad_members);
  ADD ("/bad-bundles/bad-lines", test_bad_lines);
  ADD ("/bad-bundles/lines-in-any-order", test_lines_in_any_order);

  return g_test_run ();
}
