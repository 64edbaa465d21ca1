/* Records that went on separately become one: the same one, in any order and however often. */
#include <string.h>

#include "faulty-disk.h"
#include "record-fixture.h"
#include "record/pawl-merge.h"
#include "record/pawl-record-private.h"

#define N_BENCHES 3
#define N_INTERLEAVINGS 20

/* A bench of its own: ids and a clock that no other has. The zones differ, so that text does not sort as time does. */
typedef struct {
  char          *path;
  PawlRecordHost host;
  GDateTime     *now;
  guint          n_ids;
  guint          bench;
} Bench;

static GDateTime *
read_clock (gpointer data)
{
  Bench *self = data;
  g_autoptr (GDateTime) before = self->now;

  self->now = g_date_time_add_seconds (before, 7 + (self->bench * 5 + self->n_ids) % 11);
  return g_date_time_ref (before);
}

static char *
count_id (gpointer data)
{
  Bench *self = data;

  return g_strdup_printf ("%08x-000%u-4000-8000-000000000000", (0xb0000000u + self->n_ids++) ^ (self->bench * 0x5a5a), self->bench);
}

static void
bench_set_up (Bench   *self,
              Fixture *fixture,
              guint    i)
{
  g_autoptr (GTimeZone) zone = g_time_zone_new_offset (((int) i - 1) * 3600);
  g_autoptr (GDateTime) utc = g_date_time_new_utc (2026, 5, 4, 9, 15, (double) i);

  self->path = g_strdup_printf ("%s/bench-%u.db", fixture->folder, i);
  self->now = g_date_time_to_timezone (utc, zone);
  self->bench = i;
  self->host = (PawlRecordHost) { .now = read_clock, .new_id = count_id, .data = self };
}

static void
bench_clear (Bench *self)
{
  g_free (self->path);
  g_date_time_unref (self->now);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Bench, bench_clear)

static PawlRecord *
bench_open (Bench *self)
{
  g_autoptr (GError) error = NULL;
  PawlRecord *record = pawl_record_open (self->path, PAWL_RECORD_OPEN_CREATE, &self->host, &error);

  g_assert_no_error (error);
  return record;
}

static void
append (Bench      *self,
        const char *job_id,
        const char *text)
{
  g_autoptr (PawlRecord) record = bench_open (self);
  g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_NOTED, NULL, FIXTURE_PERSON, self->now);
  g_autoptr (GError) error = NULL;

  pawl_entry_set (entry, "text", text);
  g_assert_true (pawl_record_append_one (record, job_id, entry, &error));
  g_assert_no_error (error);
}

static void
correct_order (Bench      *self,
               const char *job_id,
               const char *work_order)
{
  g_autoptr (PawlRecord) record = bench_open (self);
  g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_CORRECTED, NULL, FIXTURE_PERSON, self->now);
  g_autoptr (GError) error = NULL;

  pawl_entry_set (entry, "work-order", work_order);
  pawl_entry_set (entry, "reason", "misread");
  g_assert_true (pawl_record_append_one (record, job_id, entry, &error));
  g_assert_no_error (error);
}

static void
append_photo (Bench      *self,
              const char *job_id,
              const char *picture)
{
  g_autoptr (PawlRecord) record = bench_open (self);
  g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_PHOTO, NULL, FIXTURE_PERSON, self->now);
  g_autoptr (GBytes) bytes = g_bytes_new (picture, strlen (picture));
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = pawl_record_keep (record, bytes, "image/jpeg", &error);

  pawl_entry_set (entry, "digest", digest);
  g_assert_true (pawl_record_append_one (record, job_id, entry, &error));
  g_assert_no_error (error);
}

static char *
open_job (Bench      *self,
          const char *serial)
{
  g_autoptr (PawlRecord) record = bench_open (self);
  g_autoptr (PawlEntry) opened = pawl_entry_new (PAWL_ENTRY_OPENED, NULL, FIXTURE_PERSON, self->now);
  g_autoptr (GError) error = NULL;
  char *job_id;

  pawl_entry_set (opened, "serial", serial);
  job_id = pawl_record_open_job (record, opened, &error);
  g_assert_no_error (error);
  return job_id;
}

static char *
open_instrument (Bench      *self,
                 const char *mark)
{
  g_autoptr (PawlRecord) record = bench_open (self);
  g_autoptr (PawlEntry) stated = pawl_entry_new (PAWL_ENTRY_INSTRUMENT_STATED, mark, FIXTURE_PERSON, self->now);
  g_autoptr (GError) error = NULL;
  char *chain;

  pawl_entry_set (stated, "kind", "caliper");
  chain = pawl_record_open_instrument (record, stated, &error);
  g_assert_no_error (error);
  return chain;
}

static void
copy_file (const char *from,
           const char *to)
{
  g_autofree char *bytes = NULL;
  gsize size;

  g_assert_true (g_file_get_contents (from, &bytes, &size, NULL));
  fixture_write (to, bytes, size);
}

/* ---- merging two ---- */

static gboolean
take_kept (PawlRecord *from,
           PawlMerge  *merge,
           GError    **error)
{
  sqlite3_stmt *statement = NULL;
  gboolean is_taken = TRUE;

  g_assert_cmpint (sqlite3_prepare_v2 (pawl_record_peek_handle (from), "SELECT digest FROM kept", -1, &statement, NULL), ==, SQLITE_OK);
  while (is_taken && sqlite3_step (statement) == SQLITE_ROW)
    {
      const char *digest = (const char *) sqlite3_column_text (statement, 0);
      g_autoptr (GBytes) bytes = pawl_record_load_kept (from, digest, error);

      is_taken = bytes != NULL && pawl_merge_add_kept (merge, digest, "image/jpeg", bytes, error);
    }
  sqlite3_finalize (statement);
  return is_taken;
}

static gboolean
merge_records (PawlRecord     *from,
               PawlRecord     *into,
               PawlMergeCount *count,
               GError        **error)
{
  g_autoptr (PawlMerge) merge = pawl_merge_begin (into, error);
  g_autoptr (GPtrArray) chains = pawl_record_list_chains (from, error);

  g_assert_true (merge != NULL && chains != NULL);
  for (guint i = 0; i < chains->len; i++)
    {
      g_autoptr (GPtrArray) rows = pawl_record_load_rows (from, chains->pdata[i], error);

      if (rows == NULL || !pawl_merge_add_chain (merge, rows, error))
        return FALSE;
    }
  return take_kept (from, merge, error) && pawl_merge_commit (g_steal_pointer (&merge), count, error);
}

static void
merge_benches (Bench          *from,
               Bench          *into,
               PawlMergeCount *count)
{
  g_autoptr (PawlRecord) source = bench_open (from);
  g_autoptr (PawlRecord) target = bench_open (into);
  g_autoptr (GError) error = NULL;

  merge_records (source, target, count, &error);
  g_assert_no_error (error);
  fixture_check_sound (target);
}

/* ---- three benches ---- */

typedef struct {
  Bench benches[N_BENCHES];
  char *common; /* a job that all of them go on with */
} Shop;

static void
shop_clear (Shop *self)
{
  for (guint i = 0; i < N_BENCHES; i++)
    bench_clear (&self->benches[i]);
  g_free (self->common);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Shop, shop_clear)

/* A common beginning, then each for itself; two of them meet once on the way, so that there is a join inside. */
static void
shop_set_up (Shop    *self,
             Fixture *fixture)
{
  Bench *benches = self->benches;

  for (guint i = 0; i < N_BENCHES; i++)
    bench_set_up (&benches[i], fixture, i);
  self->common = open_job (&benches[0], "SN-COMMON");
  append (&benches[0], self->common, "before they parted");
  copy_file (benches[0].path, benches[1].path);
  copy_file (benches[0].path, benches[2].path);

  for (guint i = 0; i < N_BENCHES; i++)
    {
      g_autofree char *serial = g_strdup_printf ("SN-%u", i);
      g_autofree char *own = open_job (&benches[i], serial);
      g_autofree char *chain = open_instrument (&benches[i], "MIC-3");

      append (&benches[i], own, "alone");
      correct_order (&benches[i], self->common, serial); /* each of them to another */
      append_photo (&benches[i], self->common, "the same picture");
      append_photo (&benches[i], self->common, serial);
    }
  merge_benches (&benches[0], &benches[1], NULL);
  append (&benches[1], self->common, "joins the branches of bench 0 and 1");
  append (&benches[0], self->common, "not joined");
  append (&benches[2], self->common, "not joined either");
}

/* Any to any, until nothing is new anywhere. */
static void
merge_at_random (Shop  *shop,
                 GRand *rand)
{
  PawlMergeCount count;
  guint n_new;

  for (guint i = 0; i < 5; i++)
    {
      guint from = (guint) g_rand_int_range (rand, 0, N_BENCHES);

      merge_benches (&shop->benches[from], &shop->benches[(from + (guint) g_rand_int_range (rand, 1, N_BENCHES)) % N_BENCHES], NULL);
    }
  do
    {
      n_new = 0;
      for (guint i = 0; i < N_BENCHES * N_BENCHES; i++)
        if (i / N_BENCHES != i % N_BENCHES)
          {
            merge_benches (&shop->benches[i / N_BENCHES], &shop->benches[i % N_BENCHES], &count);
            n_new += count.n_new_entries + count.n_new_kept;
          }
    }
  while (n_new > 0);
}

static void
test_interleavings (Fixture      *fixture,
                    gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  g_autoptr (GRand) rand = g_rand_new_with_seed ((guint32) g_test_rand_int ());
  g_autofree char *first = NULL;
  char *begun[N_BENCHES] = { NULL };
  gsize sizes[N_BENCHES];

  shop_set_up (&shop, fixture);
  for (guint i = 0; i < N_BENCHES; i++)
    g_assert_true (g_file_get_contents (shop.benches[i].path, &begun[i], &sizes[i], NULL));

  for (guint round = 0; round < N_INTERLEAVINGS; round++)
    {
      for (guint i = 0; i < N_BENCHES; i++)
        fixture_write (shop.benches[i].path, begun[i], sizes[i]);
      merge_at_random (&shop, rand);
      for (guint i = 0; i < N_BENCHES; i++)
        {
          g_autofree char *dump = fixture_dump_union (shop.benches[i].path);

          if (first == NULL)
            first = g_steal_pointer (&dump);
          else
            g_assert_cmpstr (dump, ==, first);
        }
    }

  for (guint i = 0; i < N_BENCHES; i++)
    g_free (begun[i]);
}

static void
test_forks_are_there (Fixture      *fixture,
                      gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GPtrArray) lines = NULL;
  g_autofree char *ends = NULL;
  g_autofree char *head = NULL;
  PawlMergeCount count;
  guint number;

  shop_set_up (&shop, fixture);
  merge_benches (&shop.benches[1], &shop.benches[0], &count);
  g_assert_cmpuint (count.n_jobs, ==, 5); /* the common one, and a job and an instrument of each of the two */
  g_assert_cmpuint (count.n_new_jobs, ==, 2);
  g_assert_cmpuint (count.n_forked, ==, 1);
  merge_benches (&shop.benches[2], &shop.benches[0], &count);
  g_assert_cmpuint (count.n_forked, ==, 1);

  record = bench_open (&shop.benches[0]);
  ends = pawl_record_dup_ends (record, shop.common, NULL);
  g_assert_cmpuint (strlen (ends), ==, 3 * 64 + 2);
  /* 2 before they parted, 3 corrections and photos of each, a join, 2 that were not joined. */
  entries = pawl_record_load_entries (record, shop.common, NULL);
  g_assert_cmpuint (entries->len, ==, 2 + 9 + 1 + 2);
  for (guint i = 0; i < entries->len; i++)
    g_assert_cmpuint (pawl_entry_get_number (entries->pdata[i]), ==, i + 1);
  head = pawl_record_dup_head (record, shop.common, NULL);
  g_assert_cmpuint (strlen (head), ==, 64);
  g_assert_null (strstr (ends, head));

  lines = pawl_record_list_jobs (record, NULL);
  for (guint i = 0; i < lines->len; i++)
    if (g_str_equal (((PawlJobLine *) lines->pdata[i])->serial, "SN-COMMON"))
      g_assert_cmpuint (((PawlJobLine *) lines->pdata[i])->n_entries, ==, entries->len);

  pawl_record_locate_head (record, shop.common, head, &number, NULL);
  g_assert_cmpuint (number, ==, 14);

  /* The next entry joins all ends, and stands on all entries. The head that the ends had together is still known. */
  append (&shop.benches[0], shop.common, "joins");
  pawl_record_locate_head (record, shop.common, head, &number, NULL);
  g_assert_cmpuint (number, ==, 14);
  g_clear_pointer (&entries, g_ptr_array_unref);
  entries = pawl_record_load_entries (record, shop.common, NULL);
  g_assert_cmpuint (entries->len, ==, 15);
  g_assert_cmpstr (pawl_entry_get_previous (entries->pdata[14]), ==, ends);
  g_free (head);
  head = pawl_record_dup_head (record, shop.common, NULL);
  g_assert_cmpstr (head, ==, pawl_entry_get_digest (entries->pdata[14]));
  fixture_check_sound (record);
}

/* What each bench did stays in the order in which it did it; between benches the clock decides, by the instant. */
static void
test_order (Fixture      *fixture,
            gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (GHashTable) seen = g_hash_table_new (g_str_hash, g_str_equal);
  guint n_by_clock = 0;

  shop_set_up (&shop, fixture);
  merge_benches (&shop.benches[1], &shop.benches[2], NULL);
  record = bench_open (&shop.benches[2]);
  entries = pawl_record_load_entries (record, shop.common, NULL);
  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntry *entry = entries->pdata[i];
      g_auto (GStrv) names = g_strsplit (pawl_entry_get_previous (entry), " ", -1);

      for (guint j = 0; names[j] != NULL; j++)
        g_assert_true (g_hash_table_contains (seen, names[j]));
      g_hash_table_add (seen, (gpointer) pawl_entry_get_digest (entry));
      if (i > 0 && g_date_time_compare (pawl_entry_peek_written (entries->pdata[i - 1]), pawl_entry_peek_written (entry)) <= 0)
        n_by_clock++;
    }
  g_assert_cmpuint (n_by_clock, ==, entries->len - 1); /* these clocks never ran backwards along a branch */
}

/* A clock that was put back does not turn the order of its own bench. */
static void
test_clock_put_back (Fixture      *fixture,
                     gconstpointer data)
{
  static const char *const order[] = { "first", "second", "elsewhere", "third" };
  g_auto (Bench) a = { 0 };
  g_auto (Bench) b = { 0 };
  g_autofree char *job_id = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GPtrArray) entries = NULL;
  GDateTime *later;

  bench_set_up (&a, fixture, 0);
  bench_set_up (&b, fixture, 1);
  job_id = open_job (&a, "SN-1");
  append (&a, job_id, "first");
  copy_file (a.path, b.path);
  later = g_date_time_add_hours (b.now, 1);
  g_date_time_unref (b.now);
  b.now = later;
  append (&b, job_id, "elsewhere");

  /* "second" 30 minutes on, "third" again a day before */
  later = g_date_time_add_minutes (a.now, 30);
  g_date_time_unref (a.now);
  a.now = later;
  append (&a, job_id, "second");
  later = g_date_time_add_days (a.now, -1);
  g_date_time_unref (a.now);
  a.now = later;
  append (&a, job_id, "third");

  merge_benches (&a, &b, NULL);
  record = bench_open (&b);
  entries = pawl_record_load_entries (record, job_id, NULL);
  g_assert_cmpuint (entries->len, ==, 5);
  g_assert_cmpstr (pawl_entry_get (entries->pdata[1], "text"), ==, order[0]);
  g_assert_cmpstr (pawl_entry_get (entries->pdata[2], "text"), ==, order[1]);
  /* Once "second" has come, "third" is the older of the two that could come next. */
  g_assert_cmpstr (pawl_entry_get (entries->pdata[3], "text"), ==, order[3]);
  g_assert_cmpstr (pawl_entry_get (entries->pdata[4], "text"), ==, order[2]);
}

static void
test_twice_changes_nothing (Fixture      *fixture,
                            gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  PawlMergeCount count;

  shop_set_up (&shop, fixture);
  merge_benches (&shop.benches[2], &shop.benches[1], NULL);
  before = fixture_dump (shop.benches[1].path);
  merge_benches (&shop.benches[2], &shop.benches[1], &count);
  after = fixture_dump (shop.benches[1].path);
  g_assert_cmpstr (after, ==, before);
  g_assert_cmpuint (count.n_new_entries, ==, 0);
  g_assert_cmpuint (count.n_new_kept, ==, 0);
  g_assert_cmpuint (count.n_new_jobs, ==, 0);
}

/* ---- refused ---- */

static const struct {
  const char *sql;  /* what was done to the record that is merged, past Pawl */
  const char *word; /* of the refusal */
} BAD_SOURCES[] = {
  { "UPDATE entry SET body = '{}' WHERE number = 3", "does not fit its digest" },
  { "DELETE FROM entry WHERE number = 3", "does not follow what is here" },
  { "DELETE FROM entry WHERE number = 5", "not as it was written" },
  { "DELETE FROM kept", "names kept bytes that are missing" },
};

static void
test_bad_source (Fixture      *fixture,
                 gconstpointer data)
{
  g_autoptr (PawlRecord) target = fixture_open (fixture);
  g_autofree char *before = NULL;

  g_free (fixture_make_job (fixture, target, 2));
  before = fixture_dump (fixture->path);
  for (guint i = 0; i < G_N_ELEMENTS (BAD_SOURCES); i++)
    {
      g_auto (Bench) bench = { 0 };
      g_autofree char *job_id = NULL;
      g_autofree char *after = NULL;
      g_autoptr (PawlRecord) source = NULL;
      g_autoptr (GError) error = NULL;

      bench_set_up (&bench, fixture, i);
      job_id = open_job (&bench, "SN-1");
      append_photo (&bench, job_id, "picture");
      append (&bench, job_id, "a");
      append (&bench, job_id, "b");
      append (&bench, job_id, "c");
      fixture_tamper (bench.path, BAD_SOURCES[i].sql);

      source = bench_open (&bench);
      g_assert_false (merge_records (source, target, NULL, &error));
      g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
      g_test_message ("%s", error->message);
      g_assert_nonnull (strstr (error->message, BAD_SOURCES[i].word));
      after = fixture_dump (fixture->path);
      g_assert_cmpstr (after, ==, before);
    }
}

/* Somebody who computes digests anew can make a chain that is sound in itself; not one that fits what is known already. */
static void
test_same_id_says_otherwise (Fixture      *fixture,
                             gconstpointer data)
{
  g_auto (Bench) bench = { 0 };
  g_autofree char *job_id = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (PawlMerge) merge = NULL;
  g_autoptr (GPtrArray) rows = NULL;
  g_autoptr (GError) error = NULL;
  PawlEntryRow *last;

  bench_set_up (&bench, fixture, 0);
  job_id = open_job (&bench, "SN-1");
  append (&bench, job_id, "33.3 mm");
  record = bench_open (&bench);
  rows = pawl_record_load_rows (record, job_id, &error);
  last = rows->pdata[1];
  g_free (last->body);
  last->body = g_strdup ("{\"text\":\"33.4 mm\"}");
  g_free (last->digest);
  last->digest = pawl_entry_row_dup_digest (last);

  merge = pawl_merge_begin (record, &error);
  g_assert_false (pawl_merge_add_chain (merge, rows, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
  g_assert_nonnull (strstr (error->message, "says something else"));
}

static void
test_damaged_target (Fixture      *fixture,
                     gconstpointer data)
{
  g_auto (Bench) a = { 0 };
  g_auto (Bench) b = { 0 };
  g_autofree char *job_id = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  g_autoptr (PawlRecord) source = NULL;
  g_autoptr (PawlRecord) target = NULL;
  g_autoptr (GError) error = NULL;

  bench_set_up (&a, fixture, 0);
  bench_set_up (&b, fixture, 1);
  job_id = open_job (&a, "SN-1");
  append (&a, job_id, "a");
  copy_file (a.path, b.path);
  append (&a, job_id, "more");
  fixture_tamper (b.path, "DELETE FROM entry WHERE number = 2");
  before = fixture_dump (b.path);

  source = bench_open (&a);
  target = bench_open (&b);
  g_assert_false (merge_records (source, target, NULL, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
  fixture_check_sentence (error, b.path);
  after = fixture_dump (b.path);
  g_assert_cmpstr (after, ==, before);
}

/* ---- verify in a forked job ---- */

/* Opening 1, c0 2; branches: a1 a2 a3 are 3, 4, 5, and b1 b2 are 3, 4. */
static const struct {
  const char *sql;
  guint       number;
  guint       n_findings;
  const char *word;
} FORK_TAMPERINGS[] = {
  { "UPDATE entry SET body = '{}' WHERE number = 4 AND body LIKE '%a2%'", 4, 1, "does not fit its digest" },
  { "UPDATE entry SET body = '{}' WHERE number = 4 AND body LIKE '%b2%'", 4, 1, "does not fit its digest" },
  { "UPDATE entry SET previous = (SELECT digest FROM entry WHERE body LIKE '%b1%') WHERE body LIKE '%a2%'", 4, 1, "does not fit its digest" },
  { "DELETE FROM entry WHERE body LIKE '%a1%'", 4, 1, "follows an entry that is not here" },
  { "DELETE FROM entry WHERE body LIKE '%b1%'", 4, 1, "follows an entry that is not here" },
  { "DELETE FROM entry WHERE body LIKE '%a3%'", 5, 1, "missing" },
  { "DELETE FROM entry WHERE body LIKE '%b2%'", 4, 1, "missing" },
  { "DELETE FROM entry WHERE body LIKE '%b%' AND number > 2 AND (body LIKE '%b1%' OR body LIKE '%b2%')", 4, 1, "missing" },
  { "DELETE FROM entry WHERE number = 2", 2, 1, "missing" },
  { "DELETE FROM head WHERE number = 4", 4, 1, "no branch of the chain ends with it" },
  { "DELETE FROM head WHERE number = 5", 5, 1, "not appended by Pawl" },
  { "DELETE FROM head", 5, 1, "note of how far" },
  { "INSERT INTO head SELECT job, digest, number FROM entry WHERE number = 2", 2, 1, "others follow it" },
};

static void
make_fork (Fixture *fixture,
           Bench   *a,
           Bench   *b,
           char   **job_id)
{
  bench_set_up (a, fixture, 0);
  bench_set_up (b, fixture, 1);
  *job_id = open_job (a, "SN-1");
  append (a, *job_id, "c0");
  copy_file (a->path, b->path);
  append (a, *job_id, "a1");
  append (a, *job_id, "a2");
  append (a, *job_id, "a3");
  append (b, *job_id, "b1");
  append (b, *job_id, "b2");
  merge_benches (b, a, NULL);
}

static void
check_finding (const char *path,
               const char *sql,
               guint       number,
               guint       n_findings,
               const char *word)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = pawl_record_open (path, PAWL_RECORD_OPEN_READ_ONLY, NULL, &error);
  g_autoptr (GPtrArray) findings = pawl_record_verify (record, NULL, &error);
  const PawlRecordFinding *finding;

  g_assert_no_error (error);
  for (guint i = 0; i < findings->len; i++)
    g_test_message ("%s: %s", sql, ((PawlRecordFinding *) findings->pdata[i])->message);
  g_assert_cmpuint (findings->len, ==, n_findings);
  finding = findings->pdata[0];
  g_assert_cmpuint (finding->number, ==, number);
  g_assert_nonnull (strstr (finding->message, word));
}

static void
test_verify_fork (Fixture      *fixture,
                  gconstpointer data)
{
  g_auto (Bench) a = { 0 };
  g_auto (Bench) b = { 0 };
  g_autofree char *job_id = NULL;
  g_autofree char *sound = NULL;
  gsize size;

  make_fork (fixture, &a, &b, &job_id);
  g_assert_true (g_file_get_contents (a.path, &sound, &size, NULL));
  for (guint i = 0; i < G_N_ELEMENTS (FORK_TAMPERINGS); i++)
    {
      fixture_tamper (a.path, FORK_TAMPERINGS[i].sql);
      check_finding (a.path, FORK_TAMPERINGS[i].sql, FORK_TAMPERINGS[i].number, FORK_TAMPERINGS[i].n_findings, FORK_TAMPERINGS[i].word);
      fixture_write (a.path, sound, size);
    }
}

/* An entry with a digest that fits, on a branch of its own: sound in itself, but no branch that Pawl noted. */
static void
test_inserted_branch (Fixture      *fixture,
                      gconstpointer data)
{
  g_auto (Bench) a = { 0 };
  g_auto (Bench) b = { 0 };
  g_autofree char *job_id = NULL;
  g_autofree char *sql = NULL;
  g_autoptr (PawlRecord) record = NULL;
  g_autoptr (GPtrArray) rows = NULL;
  PawlEntryRow *row;

  make_fork (fixture, &a, &b, &job_id);
  record = bench_open (&a);
  rows = pawl_record_load_rows (record, job_id, NULL);
  row = rows->pdata[2];
  g_free (row->id);
  row->id = g_strdup ("new");
  g_free (row->digest);
  row->digest = pawl_entry_row_dup_digest (row);
  sql = sqlite3_mprintf ("INSERT INTO entry VALUES (%Q, %Q, %lld, %Q, %Q, %Q, %Q, %Q, %Q, %Q, %Q)", row->id, row->job, row->number,
                         row->previous, row->kind, row->subject, row->person, row->at, row->written, row->body, row->digest);
  fixture_run_sql (a.path, sql);
  sqlite3_free (g_steal_pointer (&sql));
  check_finding (a.path, "inserted", 3, 1, "no branch of the chain ends with it");
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  faulty_disk_install (); /* waits for no disk */

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/merge/interleavings", test_interleavings);
  ADD ("/merge/forks-are-there", test_forks_are_there);
  ADD ("/merge/order", test_order);
  ADD ("/merge/clock-put-back", test_clock_put_back);
  ADD ("/merge/twice-changes-nothing", test_twice_changes_nothing);
  ADD ("/merge/bad-source", test_bad_source);
  ADD ("/merge/same-id-says-otherwise", test_same_id_says_otherwise);
  ADD ("/merge/damaged-target", test_damaged_target);
  ADD ("/merge/verify-fork", test_verify_fork);
  ADD ("/merge/inserted-branch", test_inserted_branch);

  return g_test_run ();
}
