/* Verify finds what was done to a record past Pawl, and says where. */
#include <string.h>

#include "record-fixture.h"

/* Entry 1 opens the job, 2 to 6 are answers, 7 is a photo. */
#define N_ENTRIES 7

typedef struct {
  const char *sql;
  guint       number;     /* of the finding */
  gboolean    has_entry;  /* whether the finding names an entry that is there */
  guint       n_findings; /* of the job */
  const char *word;       /* of the message */
} Tampering;

static char *
make_job (Fixture *fixture)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);
  g_autoptr (GBytes) bytes = g_bytes_new_static ("not really a picture", 20);
  g_autoptr (PawlEntry) photo = pawl_entry_new (PAWL_ENTRY_PHOTO, "step-3", FIXTURE_PERSON, fixture->now);
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = NULL;
  char *job_id = fixture_make_job (fixture, record, N_ENTRIES - 2);

  digest = pawl_record_keep (record, bytes, "image/jpeg", &error);
  g_assert_no_error (error);
  pawl_entry_set (photo, "digest", digest);
  pawl_entry_set (photo, "media-type", "image/jpeg");
  g_assert_true (pawl_record_append_one (record, job_id, photo, &error));
  g_assert_no_error (error);

  return job_id;
}

static GPtrArray *
verify (Fixture    *fixture,
        const char *job_id)
{
  g_autoptr (PawlRecord) record = fixture_open_to_read (fixture);
  g_autoptr (GError) error = NULL;
  GPtrArray *findings = pawl_record_verify (record, job_id, &error);

  g_assert_no_error (error);
  return findings;
}

static void
test_sound (Fixture      *fixture,
            gconstpointer data)
{
  g_autofree char *first = make_job (fixture);
  g_autofree char *second = make_job (fixture);
  g_autoptr (GPtrArray) of_first = verify (fixture, first);
  g_autoptr (GPtrArray) of_second = verify (fixture, second);
  g_autoptr (GPtrArray) of_all = verify (fixture, NULL);

  g_assert_cmpuint (of_first->len, ==, 0);
  g_assert_cmpuint (of_second->len, ==, 0);
  g_assert_cmpuint (of_all->len, ==, 0);
}

static void
check_findings (Fixture         *fixture,
                const char      *job_id,
                const Tampering *case_)
{
  g_autoptr (GPtrArray) findings = verify (fixture, job_id);
  g_autoptr (GPtrArray) of_all = verify (fixture, NULL);
  const PawlRecordFinding *finding;

  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s: %s", case_->sql, ((PawlRecordFinding *) findings->pdata[i])->message);
  g_assert_cmpuint (findings->len, ==, case_->n_findings);
  finding = findings->pdata[0];
  g_assert_cmpstr (finding->job_id, ==, job_id);
  g_assert_cmpuint (finding->number, ==, case_->number);
  g_assert_true ((finding->entry_id != NULL) == case_->has_entry);
  g_assert_nonnull (strstr (finding->message, case_->word));
  g_assert_cmpuint (of_all->len, >=, findings->len);
}

/* One character more in each column, of the first, a middle and the last entry. */
static void
test_each_column (Fixture      *fixture,
                  gconstpointer data)
{
  static const char *const columns[] = { "id", "previous", "kind", "subject", "person", "at", "written", "body", "digest" };
  static const guint numbers[] = { 1, 3, N_ENTRIES };
  g_autofree char *job_id = make_job (fixture);
  g_autofree char *sound = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (fixture->path, &sound, &size, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    for (guint j = 0; j < G_N_ELEMENTS (numbers); j++)
      {
        g_autofree char *sql = g_strdup_printf ("UPDATE entry SET %s = CASE WHEN %s = '' THEN 'x'"
                                                " ELSE char (unicode (%s) + 1) || substr (%s, 2) END WHERE number = %u",
                                                columns[i], columns[i], columns[i], columns[i], numbers[j]);
        Tampering tampering = { sql, numbers[j], TRUE, 1, "does not fit its digest" };

        fixture_tamper (fixture->path, sql);
        check_findings (fixture, job_id, &tampering);
        fixture_write (fixture->path, sound, size);
      }
}

static const Tampering TAMPERINGS[] = {
  /* changed */
  { "UPDATE entry SET job = 'b' || substr (job, 2) WHERE number = 3", 3, FALSE, 1, "missing" },
  { "UPDATE entry SET number = 30 WHERE number = 3", 3, FALSE, 2, "missing" },
  { "UPDATE entry SET body = replace (body, '33,3', '33,4') WHERE number = 4", 4, TRUE, 1, "does not fit its digest" },
  { "UPDATE entry SET subject = subject || ' ' WHERE number = 4", 4, TRUE, 1, "does not fit its digest" },
  /* removed */
  { "DELETE FROM entry WHERE number = 1", 1, FALSE, 1, "missing" },
  { "DELETE FROM entry WHERE number = 3", 3, FALSE, 1, "missing" },
  { "DELETE FROM entry WHERE number IN (3, 4, 5)", 3, FALSE, 1, "entries 3 to 5 are missing" },
  { "DELETE FROM entry WHERE number = 7", 7, FALSE, 1, "missing" },
  { "DELETE FROM entry WHERE number > 4", 5, FALSE, 1, "entries 5 to 7 are missing" },
  { "DELETE FROM entry", 1, FALSE, 1, "entries 1 to 7 are missing" },
  /* removed, and those after it moved up */
  { "DELETE FROM entry WHERE number = 6; UPDATE entry SET number = 6 WHERE number = 7", 6, TRUE, 2, "does not fit its digest" },
  /* moved */
  { "UPDATE entry SET number = 99 WHERE number = 3; UPDATE entry SET number = 3 WHERE number = 4; UPDATE entry SET number = 4 WHERE number = 99",
    3, TRUE, 3, "does not fit its digest" },
  /* inserted */
  { "INSERT INTO entry SELECT 'new', job, 8, digest, 'noted', '', person, at, written, '{}', 'digest' FROM entry WHERE number = 7", 8, TRUE, 2, "does not fit its digest" },
  /* kept bytes */
  { "UPDATE kept SET bytes = CAST ('not really a picturE' AS BLOB)", 7, TRUE, 1, "were changed" },
  { "DELETE FROM kept", 7, TRUE, 1, "are missing" },
  /* the note of how far the job has come */
  { "DELETE FROM head", 7, TRUE, 1, "note of how far" },
  { "UPDATE head SET number = 6", 7, TRUE, 1, "not appended by Pawl" },
  { "UPDATE head SET number = 8", 8, FALSE, 1, "missing" },
  { "UPDATE head SET digest = 'b' || substr (digest, 2)", 7, TRUE, 1, "was replaced" },
};

static void
test_tampering (Fixture      *fixture,
                gconstpointer data)
{
  g_autofree char *job_id = make_job (fixture);
  g_autofree char *sound = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (fixture->path, &sound, &size, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (TAMPERINGS); i++)
    {
      fixture_tamper (fixture->path, TAMPERINGS[i].sql);
      check_findings (fixture, job_id, &TAMPERINGS[i]);
      fixture_write (fixture->path, sound, size);
    }
}

/* ---- somebody who can compute a digest ---- */

#define NETSTRING(column) "length (CAST (" column " AS BLOB)) || ':' || " column " || ','"

/* The documented serialisation, put together by SQLite and not by Pawl. */
static char *
compute_digest (Fixture *fixture,
                guint    number)
{
  g_autofree char *sql = g_strdup_printf ("SELECT '12:pawl-entry-1,' || " NETSTRING ("id") " || " NETSTRING ("job") " || " NETSTRING ("number")
                                          " || " NETSTRING ("previous") " || " NETSTRING ("kind") " || " NETSTRING ("subject")
                                          " || " NETSTRING ("person") " || " NETSTRING ("at") " || " NETSTRING ("written")
                                          " || " NETSTRING ("body") " FROM entry WHERE number = %u", number);
  g_autofree char *text = fixture_query_text (fixture->path, sql);

  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, -1);
}

static void
set_right_digest (Fixture *fixture,
                  guint    number)
{
  g_autofree char *digest = compute_digest (fixture, number);
  g_autofree char *sql = g_strdup_printf ("UPDATE entry SET digest = '%s' WHERE number = %u", digest, number);

  fixture_tamper (fixture->path, sql);
}

static void
test_recomputed_without_pawl (Fixture      *fixture,
                              gconstpointer data)
{
  g_autofree char *job_id = make_job (fixture);

  for (guint number = 1; number <= N_ENTRIES; number++)
    {
      g_autofree char *sql = g_strdup_printf ("SELECT digest FROM entry WHERE number = %u", number);
      g_autofree char *stored = fixture_query_text (fixture->path, sql);
      g_autofree char *computed = compute_digest (fixture, number);

      g_assert_cmpstr (stored, ==, computed);
    }
}

static void
test_replaced_with_right_digest (Fixture      *fixture,
                                 gconstpointer data)
{
  static const Tampering middle = { "middle", 5, TRUE, 1, "does not follow" };
  static const Tampering last = { "last", 7, TRUE, 1, "was replaced" };
  g_autofree char *job_id = make_job (fixture);
  g_autofree char *sound = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (fixture->path, &sound, &size, NULL));
  fixture_tamper (fixture->path, "UPDATE entry SET body = '{}' WHERE number = 4");
  set_right_digest (fixture, 4);
  check_findings (fixture, job_id, &middle);

  fixture_write (fixture->path, sound, size);
  fixture_tamper (fixture->path, "UPDATE entry SET person = 'Nobody' WHERE number = 7");
  set_right_digest (fixture, 7);
  check_findings (fixture, job_id, &last);
}

/* An entry of the right digest, which follows; but Pawl did not append it. */
static void
test_inserted_with_right_digest (Fixture      *fixture,
                                 gconstpointer data)
{
  static const Tampering end = { "end", 8, TRUE, 1, "not appended by Pawl" };
  g_autofree char *job_id = make_job (fixture);

  fixture_run_sql (fixture->path, "INSERT INTO entry SELECT 'new', job, 8, digest, 'noted', '', person, at, written, '{}', 'digest' FROM entry WHERE number = 7");
  set_right_digest (fixture, 8);
  check_findings (fixture, job_id, &end);
}

/* The one forgery that only a head printed before can tell: see the top of pawl-record-verify.c. The head moves, and that is the proof. */
static void
test_whole_chain_forged (Fixture      *fixture,
                         gconstpointer data)
{
  g_autofree char *job_id = make_job (fixture);
  g_autofree char *printed = fixture_query_text (fixture->path, "SELECT digest FROM head");
  g_autoptr (GPtrArray) findings = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autofree char *head = NULL;

  fixture_tamper (fixture->path, "UPDATE entry SET body = '{}' WHERE number = 4");
  set_right_digest (fixture, 4);
  for (guint number = 5; number <= N_ENTRIES; number++)
    {
      g_autofree char *sql = g_strdup_printf ("UPDATE entry SET previous = (SELECT digest FROM entry WHERE number = %u) WHERE number = %u", number - 1, number);

      fixture_tamper (fixture->path, sql);
      set_right_digest (fixture, number);
    }
  fixture_tamper (fixture->path, "UPDATE head SET digest = (SELECT digest FROM entry WHERE number = 7)");

  findings = verify (fixture, job_id);
  g_assert_cmpuint (findings->len, ==, 0);
  record = fixture_open_to_read (fixture);
  head = pawl_record_dup_head (record, job_id, NULL);
  g_assert_cmpstr (head, !=, printed);
}

/* ---- the record as a whole ---- */

static void
test_whole_record (Fixture      *fixture,
                   gconstpointer data)
{
  static const struct {
    const char *sql, *word;
  } cases[] = {
    { "DROP TRIGGER entry_not_updated", "lacks a part of its make" },
    { "DROP INDEX entry_serial", "lacks a part of its make" },
    { "CREATE TABLE extra (a)", "something that Pawl did not make" },
    { "CREATE TRIGGER sly AFTER INSERT ON entry BEGIN SELECT 1; END", "something that Pawl did not make" },
    { "DROP TRIGGER kept_not_updated; UPDATE kept SET bytes = x'00' WHERE digest NOT IN (SELECT json_extract (body, '$.digest') FROM entry WHERE kind = 'photo');"
      "CREATE TRIGGER kept_not_updated BEFORE UPDATE ON kept BEGIN SELECT RAISE (ABORT, 'kept bytes are never changed'); END", "kept bytes were changed" },
  };
  g_autofree char *job_id = make_job (fixture);
  g_autofree char *sound = NULL;
  g_autofree char *digest = NULL;
  gsize size;

  {
    g_autoptr (PawlRecord) record = fixture_open (fixture);
    g_autoptr (GBytes) unused = g_bytes_new_static ("named by no entry", 17);

    digest = pawl_record_keep (record, unused, "text/plain", NULL);
    g_assert_nonnull (digest);
  }

  g_assert_true (g_file_get_contents (fixture->path, &sound, &size, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) findings = NULL;
      g_autoptr (GPtrArray) of_job = NULL;

      fixture_run_sql (fixture->path, cases[i].sql);
      findings = verify (fixture, NULL);
      g_assert_cmpuint (findings->len, ==, 1);
      g_assert_cmpstr (((PawlRecordFinding *) findings->pdata[0])->job_id, ==, "");
      g_assert_nonnull (strstr (((PawlRecordFinding *) findings->pdata[0])->message, cases[i].word));
      of_job = verify (fixture, job_id);
      g_assert_cmpuint (of_job->len, ==, 0);
      fixture_write (fixture->path, sound, size);
    }
}

/* Nothing is built on top of damage. */
static void
test_append_on_damage (Fixture      *fixture,
                       gconstpointer data)
{
  static const char *const damages[] = {
    "DELETE FROM entry WHERE number = 7",
    "UPDATE entry SET digest = 'b' || substr (digest, 2) WHERE number = 7",
    "DELETE FROM head",
  };
  g_autofree char *job_id = make_job (fixture);
  g_autofree char *sound = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (fixture->path, &sound, &size, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (damages); i++)
    {
      g_autoptr (PawlRecord) record = NULL;
      g_autoptr (PawlEntry) entry = fixture_make_answer (fixture, "a", "1");
      g_autoptr (GError) error = NULL;

      fixture_tamper (fixture->path, damages[i]);
      record = fixture_open (fixture);
      g_assert_false (pawl_record_append_one (record, job_id, entry, &error));
      g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
      g_clear_object (&record);
      fixture_write (fixture->path, sound, size);
    }
}

/* ---- one byte of the file ---- */

/* Where entry @number lies in the file: its texts stand one after the other, from the id to the digest. */
static void
locate_entry (Fixture    *fixture,
              guint       number,
              const char *bytes,
              gsize       size,
              gsize      *start,
              gsize      *end)
{
  g_autofree char *first_sql = g_strdup_printf ("SELECT id || job FROM entry WHERE number = %u", number);
  g_autofree char *last_sql = g_strdup_printf ("SELECT body || digest FROM entry WHERE number = %u", number);
  g_autofree char *first = fixture_query_text (fixture->path, first_sql);
  g_autofree char *last = fixture_query_text (fixture->path, last_sql);
  const char *found_first = memmem (bytes, size, first, strlen (first));
  const char *found_last = memmem (bytes, size, last, strlen (last));

  g_assert_nonnull (found_first);
  g_assert_nonnull (found_last);
  *start = (gsize) (found_first - bytes);
  *end = (gsize) (found_last - bytes) + strlen (last);
  g_assert_cmpuint (*start, <, *end);
}

static gboolean
is_entry_named (GPtrArray  *findings,
                const char *id,
                guint       number)
{
  for (guint i = 0; i < findings->len; i++)
    {
      const PawlRecordFinding *finding = findings->pdata[i];

      if (finding->number == number || g_strcmp0 (finding->entry_id, id) == 0)
        return TRUE;
    }

  return FALSE;
}

/* Every byte of one stored entry, each bit in turn: the job's own verify names the entry. */
static void
test_each_byte_of_entry (Fixture      *fixture,
                         gconstpointer data)
{
  const guint number = 3;
  g_autofree char *job_id = make_job (fixture);
  g_autofree char *id = fixture_query_text (fixture->path, "SELECT id FROM entry WHERE number = 3");
  g_autofree char *bytes = NULL;
  gsize size, start, end;

  g_assert_true (g_file_get_contents (fixture->path, &bytes, &size, NULL));
  locate_entry (fixture, number, bytes, size, &start, &end);
  g_assert_cmpuint (end - start, >, 250);

  for (gsize place = start; place < end; place++)
    {
      char mask = (char) (1 << ((place - start) % 8));
      g_autoptr (GPtrArray) findings = NULL;

      bytes[place] ^= mask;
      fixture_write (fixture->path, bytes, size);
      findings = verify (fixture, job_id);
      if (!is_entry_named (findings, id, number))
        g_error ("byte %" G_GSIZE_FORMAT " of the entry was changed unnoticed", place - start);
      bytes[place] ^= mask;
    }
}

/* Whether anybody would notice: opening fails with a sentence that names the file, or verify finds something. */
static gboolean
is_noticed (Fixture *fixture)
{
  g_autoptr (GPtrArray) findings = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = pawl_record_open (fixture->path, PAWL_RECORD_OPEN_READ_ONLY, &fixture->host, &error);

  if (record != NULL)
    findings = pawl_record_verify (record, NULL, &error);
  if (error != NULL)
    {
      g_assert_true (g_str_has_prefix (error->message, fixture->path));
      g_assert_false (g_error_matches (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB));
      return TRUE;
    }

  return findings->len > 0;
}

/*
 * A changed byte may go unnoticed only where it changes nothing: in space that no row uses. A prime stride visits every kind of
 * place in the pages; the bit changes from place to place.
 */
static void
test_each_byte_of_file (Fixture      *fixture,
                        gconstpointer data)
{
  const gsize stride = 211;
  g_autofree char *job_id = make_job (fixture);
  g_autofree char *second = make_job (fixture);
  g_autofree char *before = NULL;
  g_autofree char *bytes = NULL;
  guint n_noticed = 0;
  guint n_flipped = 0;
  gsize size;

  {
    g_autoptr (PawlRecord) record = fixture_open (fixture);
    g_autofree char *third = fixture_make_job (fixture, record, 40);
  }
  before = fixture_dump (fixture->path);
  g_assert_nonnull (before);

  g_assert_true (g_file_get_contents (fixture->path, &bytes, &size, NULL));
  for (gsize place = 0; place < size; place += stride, n_flipped++)
    {
      char mask = (char) (1 << (place / stride % 8));

      bytes[place] ^= mask;
      fixture_write (fixture->path, bytes, size);
      if (is_noticed (fixture))
        n_noticed++;
      else
        {
          g_autofree char *after = fixture_dump (fixture->path);

          if (g_strcmp0 (before, after) != 0)
            g_error ("byte %" G_GSIZE_FORMAT " was changed unnoticed", place);
        }
      bytes[place] ^= mask;
    }

  g_test_message ("%u of %u changed bytes noticed, the others changed nothing", n_noticed, n_flipped);
  g_assert_cmpuint (n_noticed, >, 0);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/verify/sound", test_sound);
  ADD ("/verify/each-column", test_each_column);
  ADD ("/verify/tampering", test_tampering);
  ADD ("/verify/recomputed-without-pawl", test_recomputed_without_pawl);
  ADD ("/verify/replaced-with-right-digest", test_replaced_with_right_digest);
  ADD ("/verify/inserted-with-right-digest", test_inserted_with_right_digest);
  ADD ("/verify/whole-chain-forged", test_whole_chain_forged);
  ADD ("/verify/whole-record", test_whole_record);
  ADD ("/verify/append-on-damage", test_append_on_damage);
  ADD ("/verify/each-byte-of-entry", test_each_byte_of_entry);
  ADD ("/verify/each-byte-of-file", test_each_byte_of_file);

  return g_test_run ();
}
