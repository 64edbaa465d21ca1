/* One table of tests for both kinds of store: what a file of SQLite does, a server of PostgreSQL does too. */
#include <string.h>

#include "faulty-disk.h"
#include "share-fixture.h"
#include "record/pawl-people.h"
#include "record/pawl-record-private.h"

#define N_BENCHES 3
#define N_ROUNDS 4

/* A store that is new, and the benches that share it. */
typedef struct {
  const Driver *driver;
  char         *address;
  Bench         benches[N_BENCHES];
  guint         n_benches;
} Shop;

static void
shop_set_up (Shop         *self,
             Fixture      *fixture,
             const Driver *driver,
             guint         n_benches)
{
  self->driver = driver;
  self->address = driver->make (fixture);
  self->n_benches = n_benches;
  for (guint i = 0; i < n_benches; i++)
    bench_set_up (&self->benches[i], fixture, i, self->address);
}

static void
shop_clear (Shop *self)
{
  for (guint i = 0; i < self->n_benches; i++)
    bench_clear (&self->benches[i]);
  g_free (self->address);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Shop, shop_clear)

static guint
count_entries_at (const Driver *driver,
                  const char   *address)
{
  g_autofree char *n = driver->query (address, "SELECT count (*) FROM @entry");

  return (guint) g_ascii_strtoull (n, NULL, 10);
}

static guint
count_entries (const Shop *self)
{
  return count_entries_at (self->driver, self->address);
}

/* What the copies of all benches say, entries and kept bytes, is the same. */
static void
assert_same (const Shop *self)
{
  g_autofree char *first = fixture_dump_union (self->benches[0].path);

  for (guint i = 1; i < self->n_benches; i++)
    {
      g_autofree char *other = fixture_dump_union (self->benches[i].path);

      g_assert_cmpstr (other, ==, first);
    }
}

/* ---- the verbs ---- */

static void
test_verbs (Fixture      *fixture,
            gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *bench = shop.benches;
  g_auto (PawlStoreState) state = { 0 };
  g_auto (PawlStoreBatch) batch = { 0 };
  g_autoptr (GPtrArray) rows = NULL;
  g_autoptr (GPtrArray) again = NULL;
  g_autoptr (GPtrArray) some = g_ptr_array_new ();
  g_autoptr (GHashTable) found = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *job = NULL;
  gint64 before, after, first;

  shop_set_up (&shop, fixture, data, 1);
  job = bench_open_job (bench, "SN-1");
  bench_note (bench, job, "quotes \" and ' and \\ and {braces}, a tab\t, Māra, two\nlines, NULL");
  bench_note (bench, job, "second");
  bench_note (bench, job, "third");
  rows = pawl_record_load_rows (bench->copy, job, &error);
  g_assert_cmpuint (rows->len, ==, 4);

  g_assert_true (pawl_store_open (bench->store, &error));
  g_assert_true (pawl_store_open (bench->store, &error)); /* again: anew */
  g_assert_no_error (error);
  g_assert_true (pawl_store_look (bench->store, 0, &state, &error));
  g_assert_cmpint (state.place, ==, 0);
  g_assert_cmpstr (state.mark, ==, "");

  g_ptr_array_add (some, rows->pdata[0]);
  g_ptr_array_add (some, rows->pdata[1]);
  bench_sync (bench);
  g_assert_true (pawl_store_take (bench->store, some, &before, &after, &error));
  g_assert_no_error (error);
  g_assert_cmpint (after, ==, 0); /* nothing was new */
  g_assert_cmpuint (count_entries (&shop), ==, 4);
  first = before;
  g_assert_true (pawl_store_look (bench->store, before, &state, &error));
  g_assert_cmpint (state.place, ==, first);
  g_assert_cmpstr (state.mark, ==, ((PawlEntryRow *) rows->pdata[3])->id);

  g_assert_true (pawl_store_list (bench->store, 0, 3, &batch, &error));
  g_assert_cmpuint (batch.rows->len, ==, 3);
  for (guint i = 0; i < 3; i++)
    {
      const PawlEntryRow *sent = rows->pdata[i];
      const PawlEntryRow *came = batch.rows->pdata[i];
      g_autofree char *digest = pawl_entry_row_dup_digest (came);

      g_assert_cmpstr (came->id, ==, sent->id);
      g_assert_cmpstr (came->body, ==, sent->body);
      g_assert_cmpstr (came->digest, ==, digest); /* which covers the rest */
    }
  first = batch.place;
  g_assert_true (pawl_store_list (bench->store, first, 3, &batch, &error));
  g_assert_cmpuint (batch.rows->len, ==, 1);
  g_assert_cmpint (batch.place, >, first);
  first = batch.place;
  g_assert_true (pawl_store_list (bench->store, first, 3, &batch, &error));
  g_assert_cmpuint (batch.rows->len, ==, 0);
  g_assert_cmpint (batch.place, ==, first);

  again = pawl_store_list_job (bench->store, job, &error);
  g_assert_cmpuint (again->len, ==, 4);
  found = pawl_store_find (bench->store, rows, &error);
  g_assert_cmpuint (g_hash_table_size (found), ==, 4);
}

static void
test_kept (Fixture      *fixture,
           gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *bench = shop.benches;
  g_autoptr (GPtrArray) digests = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GPtrArray) none = g_ptr_array_new ();
  g_autoptr (GHashTable) there = NULL;
  g_autoptr (GPtrArray) loaded = NULL;
  g_autoptr (GError) error = NULL;
  /* Empty, with nuls, and two that don't go at once. */
  const gsize sizes[] = { 0, 5, 17 * 1024 * 1024, 17 * 1024 * 1024 + 1 };
  guint n_came = 0;

  shop_set_up (&shop, fixture, data, 1);
  g_assert_true (pawl_store_open (bench->store, &error));
  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_autoptr (GBytes) bytes = g_bytes_new_take (g_malloc0 (sizes[i] + 1), sizes[i]);

      g_ptr_array_add (digests, g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes));
      for (guint twice = 0; twice < 2; twice++)
        g_assert_true (pawl_store_keep (bench->store, digests->pdata[i], "image/jpeg", bytes, &error));
      g_assert_no_error (error);
    }
  g_ptr_array_add (digests, g_strnfill (64, '0')); /* nobody has that */
  there = pawl_store_find_kept (bench->store, digests, &error);
  g_assert_cmpuint (g_hash_table_size (there), ==, G_N_ELEMENTS (sizes));

  while ((loaded = pawl_store_load_kept (bench->store, digests, &error)) != NULL && loaded->len > 0)
    {
      g_assert_cmpuint (loaded->len, <, G_N_ELEMENTS (sizes)); /* not all at once */
      for (guint i = 0; i < loaded->len; i++)
        {
          const PawlStoreKept *kept = loaded->pdata[i];
          g_autofree char *actual = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, kept->bytes);
          guint place;

          g_assert_cmpstr (actual, ==, kept->digest);
          g_assert_true (g_ptr_array_find_with_equal_func (digests, kept->digest, g_str_equal, &place));
          g_ptr_array_remove_index (digests, place);
          n_came++;
        }
      g_clear_pointer (&loaded, g_ptr_array_unref);
    }
  g_assert_no_error (error);
  g_assert_cmpuint (n_came, ==, G_N_ELEMENTS (sizes));
}

/* ---- benches ---- */

static void
test_two_on_one_job (Fixture      *fixture,
                     gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *a = shop.benches, *b = a + 1;
  g_autofree char *job = NULL;
  g_autofree char *ends = NULL;
  PawlShareCount moved;

  shop_set_up (&shop, fixture, data, 2);
  job = bench_open_job (a, "SN-1");
  bench_photo (a, job, "the float bowl");
  moved = bench_sync (a);
  g_assert_cmpuint (moved.n_sent, ==, 2);
  moved = bench_sync (b);
  g_assert_cmpuint (moved.n_came, ==, 2);
  g_assert_cmpuint (moved.n_sent, ==, 0);

  /* Both go on at once: their entries stand beside one another, and the next one joins them. */
  bench_note (a, job, "on bench A");
  bench_note (b, job, "on bench B");
  bench_sync (a);
  moved = bench_sync (b);
  g_assert_cmpuint (moved.n_came, ==, 1);
  g_assert_cmpuint (moved.n_sent, ==, 1);
  bench_sync (a);
  ends = pawl_record_dup_ends (a->copy, job, NULL);
  g_assert_cmpuint (strlen (ends), ==, 2 * 64 + 1);
  bench_note (a, job, "joins");
  bench_sync (a);
  bench_sync (b);
  g_free (ends);
  ends = pawl_record_dup_ends (b->copy, job, NULL);
  g_assert_cmpuint (strlen (ends), ==, 64);

  assert_same (&shop);
  g_assert_cmpuint (count_entries (&shop), ==, 5);

  /* Nothing is new, so nothing moves. */
  moved = bench_sync (a);
  g_assert_cmpuint (moved.n_came + moved.n_sent, ==, 0);
}

/* Whoever does what when: in the end all are the same, and the store has each entry once. */
static void
test_interleavings (Fixture      *fixture,
                    gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed ((guint32) g_test_rand_int ());
  g_auto (Shop) shop = { 0 };
  g_autoptr (GPtrArray) jobs = g_ptr_array_new_with_free_func (g_free);
  guint n_written = 0;

  shop_set_up (&shop, fixture, data, N_BENCHES);
  for (guint round = 0; round < N_ROUNDS * 10; round++)
    {
      Bench *bench = &shop.benches[g_rand_int_range (rand, 0, N_BENCHES)];
      g_autofree char *text = g_strdup_printf ("round %u", round);
      const char *job = jobs->len > 0 ? jobs->pdata[g_rand_int_range (rand, 0, (int) jobs->len)] : NULL;
      g_autofree char *known = job != NULL ? pawl_record_dup_head (bench->copy, job, NULL) : NULL;

      switch (g_rand_int_range (rand, 0, 5))
        {
        case 0:
          bench_sync (bench);
          break;
        case 1:
          g_ptr_array_add (jobs, bench_open_job (bench, text));
          n_written++;
          break;
        case 2:
          if (known != NULL && *known != '\0')
            bench_photo (bench, job, text);
          n_written += known != NULL && *known != '\0' ? 1 : 0;
          break;
        default:
          if (known != NULL && *known != '\0')
            bench_note (bench, job, text);
          n_written += known != NULL && *known != '\0' ? 1 : 0;
          break;
        }
    }
  for (guint i = 0; i < 2 * N_BENCHES; i++)
    bench_sync (&shop.benches[i % N_BENCHES]);
  assert_same (&shop);
  g_assert_cmpuint (count_entries (&shop), ==, n_written);
}

/* How often the first copy asks does not grow with the entries, only with the batches. */
static void
test_first_copy (Fixture      *fixture,
                 gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *a = shop.benches, *b = a + 1;
  g_autoptr (GError) error = NULL;
  PawlShareCount moved;

  shop_set_up (&shop, fixture, data, 2);
  for (guint i = 0; i < 20; i++)
    {
      g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
      g_autofree char *job = bench_open_job (a, "SN-1");

      for (guint j = 0; j < 499; j++)
        g_ptr_array_add (entries, fixture_make_answer (fixture, "float-height", "33,3 mm"));
      pawl_record_append (a->copy, job, entries, &error);
      g_assert_no_error (error);
    }
  moved = bench_sync (a);
  g_assert_cmpuint (moved.n_sent, ==, 10000);
  moved = bench_sync (b);
  g_assert_cmpuint (moved.n_came, ==, 10000);
  g_test_message ("10,000 entries: %u questions to send, %u to fetch", pawl_store_get_n_trips (a->store), pawl_store_get_n_trips (b->store));
  g_assert_cmpuint (pawl_store_get_n_trips (a->store), <=, 10 + 20 * 6); /* each batch: who has it, which bytes, a transaction */
  g_assert_cmpuint (pawl_store_get_n_trips (b->store), <=, 10 + 20 + 1);
  assert_same (&shop);
}

/* ---- what was changed by hand ---- */

static void
test_tampered (Fixture      *fixture,
               gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *a = shop.benches, *b = a + 1;
  g_autofree char *bad = NULL;
  g_autofree char *good = NULL;
  g_autofree char *id = NULL;
  g_autofree char *sql = NULL;
  g_autofree char *head = NULL;
  g_autoptr (GPtrArray) refused = NULL;
  g_autoptr (GPtrArray) findings = NULL;
  PawlShareCount moved;

  shop_set_up (&shop, fixture, data, 2);
  bad = bench_open_job (a, "SN-BAD");
  bench_note (a, bad, "as it was");
  bench_note (a, bad, "after it");
  good = bench_open_job (a, "SN-GOOD");
  bench_sync (a);
  shop.driver->tamper (shop.address, "UPDATE @entry SET body = '{\"text\":\"as I like it\"}' WHERE body = '{\"text\":\"as it was\"}'");

  /* A bench that comes new: the job is refused, by the entry; the other one came. */
  moved = bench_sync (b);
  g_assert_cmpuint (moved.n_refused, ==, 1);
  g_assert_cmpuint (moved.n_came, ==, 1);
  id = shop.driver->query (shop.address, "SELECT id FROM @entry WHERE number = 2");
  refused = pawl_copy_list_refused (b->copy, NULL);
  g_assert_cmpuint (refused->len, ==, 1);
  g_assert_cmpstr (((PawlCopyRefusal *) refused->pdata[0])->job, ==, bad);
  g_assert_nonnull (strstr (((PawlCopyRefusal *) refused->pdata[0])->reason, id));
  head = pawl_record_dup_head (b->copy, good, NULL);
  g_assert_cmpuint (strlen (head), ==, 64);

  /* One that has it from before finds it when it compares, and keeps its own. */
  moved = bench_sync (a);
  g_assert_cmpuint (moved.n_refused, ==, 0);
  findings = pawl_share_compare (a->share, NULL);
  g_assert_cmpuint (findings->len, ==, 1);
  g_assert_cmpstr (((PawlRecordFinding *) findings->pdata[0])->entry_id, ==, id);
  g_assert_cmpuint (((PawlRecordFinding *) findings->pdata[0])->number, ==, 2);

  /* Put right there, it is taken at the next start. */
  shop.driver->tamper (shop.address, "UPDATE @entry SET body = '{\"text\":\"as it was\"}' WHERE number = 2");
  bench_restart (b, shop.address);
  moved = bench_sync (b);
  g_assert_cmpuint (moved.n_refused, ==, 0);
  g_assert_cmpuint (moved.n_came, ==, 3);
}

/* An entry that fits its own digest, and is another one than ours: neither side is changed. */
static void
test_other_under_same_id (Fixture      *fixture,
                          gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *a = shop.benches;
  g_auto (PawlEntryRow) forged = { 0 };
  g_autoptr (GPtrArray) rows = NULL;
  g_autoptr (GPtrArray) findings = NULL;
  g_autofree char *job = NULL;
  g_autofree char *sql = NULL;
  g_autofree char *before = NULL;
  g_autofree char *after = NULL;
  PawlEntryRow *copy;
  PawlShareCount moved;

  shop_set_up (&shop, fixture, data, 1);
  job = bench_open_job (a, "SN-1");
  bench_note (a, job, "mine");
  bench_sync (a);
  rows = pawl_record_load_rows (a->copy, job, NULL);
  copy = pawl_entry_row_copy (rows->pdata[1]);
  forged = *copy;
  g_free (copy);
  g_free (forged.body);
  forged.body = g_strdup ("{\"text\":\"forged\"}");
  g_free (forged.digest);
  forged.digest = pawl_entry_row_dup_digest (&forged);
  sql = g_strdup_printf ("UPDATE @entry SET body = '%s', digest = '%s' WHERE id = '%s'", forged.body, forged.digest, forged.id);
  shop.driver->tamper (shop.address, sql);

  before = fixture_dump_union (a->path);
  g_assert_true (pawl_share_start_over (a->share, NULL));
  bench_restart (a, shop.address);
  moved = bench_sync (a);
  g_assert_cmpuint (moved.n_refused, ==, 1);
  after = fixture_dump_union (a->path);
  g_assert_cmpstr (before, ==, after);
  findings = pawl_share_compare (a->share, NULL);
  g_assert_cmpuint (findings->len, ==, 1);
}

/* Bytes that the server lost, or that were changed there. */
static void
test_kept_gone (Fixture      *fixture,
                gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *a = shop.benches, *b = a + 1;
  g_autofree char *job = NULL;
  g_autoptr (GPtrArray) refused = NULL;
  PawlShareCount moved;

  shop_set_up (&shop, fixture, data, 2);
  job = bench_open_job (a, "SN-1");
  bench_photo (a, job, "the float bowl");
  bench_sync (a);
  shop.driver->tamper (shop.address, "DELETE FROM @kept WHERE media_type = 'image/jpeg'");
  moved = bench_sync (b);
  g_assert_cmpuint (moved.n_refused, ==, 1);
  g_assert_cmpuint (moved.n_came, ==, 0);
  refused = pawl_copy_list_refused (b->copy, NULL);
  g_assert_nonnull (strstr (((PawlCopyRefusal *) refused->pdata[0])->reason, "kept bytes that are missing"));

  /* The bench that has them brings them back when it compares anew. */
  g_assert_true (pawl_share_start_over (a->share, NULL));
  bench_sync (a);
  bench_restart (b, shop.address);
  moved = bench_sync (b);
  g_assert_cmpuint (moved.n_refused, ==, 0);
  g_assert_cmpuint (moved.n_came, ==, 2);
}

/* ---- stores that are not what they were ---- */

static void
test_put_back (Fixture      *fixture,
               gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *a = shop.benches, *b = a + 1;
  g_autofree char *job = NULL;
  PawlShareCount moved;

  shop_set_up (&shop, fixture, data, 2);
  job = bench_open_job (a, "SN-1");
  bench_note (a, job, "before");
  bench_sync (a);
  bench_note (a, job, "lost");
  bench_sync (a);
  bench_sync (b);
  /* As from last night's backup: what came later is not there. */
  shop.driver->tamper (shop.address, shop.driver->put_back);
  bench_note (b, job, "went on");
  moved = bench_sync (b);
  g_assert_cmpuint (moved.n_sent, ==, 2);
  bench_sync (a);
  assert_same (&shop);
  g_assert_cmpuint (count_entries (&shop), ==, 4);
}

static void
test_other_set (Fixture      *fixture,
                gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  g_auto (Shop) other = { 0 };
  Bench *a = shop.benches, *b = other.benches + 1; /* whose ids are not those of a */
  g_autofree char *job = NULL;
  g_autofree char *theirs = NULL;
  g_autofree char *words = NULL;
  PawlShareCount moved;

  shop_set_up (&shop, fixture, data, 1);
  shop_set_up (&other, fixture, data, 2);
  job = bench_open_job (a, "SN-1");
  theirs = bench_open_job (b, "SN-2");
  bench_sync (a);
  bench_sync (a); /* a file has a name for itself from its first entry on */
  bench_sync (b);

  bench_restart (a, other.address);
  words = bench_fail_to_sync (a, PAWL_STORE_ERROR_DIFFERS);
  g_assert_nonnull (strstr (words, "pawl share --again"));
  g_assert_cmpuint (count_entries (&other), ==, 1);

  g_assert_true (pawl_share_start_over (a->share, NULL));
  moved = bench_sync (a);
  g_assert_cmpuint (moved.n_sent, ==, 1);
  g_assert_cmpuint (moved.n_came, ==, 1);
}

/* ---- what stays here ---- */

static void
test_no_pins (Fixture      *fixture,
              gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *a = shop.benches, *b = a + 1;
  g_autofree char *job = NULL;
  g_autofree char *here = NULL;
  g_autofree char *there = NULL;

  shop_set_up (&shop, fixture, data, 2);
  fixture_run_sql (a->path, "INSERT INTO person VALUES ('jory tregenza', 'Jory Tregenza', 'foreman', 0);"
                           "INSERT INTO pin VALUES ('jory tregenza', '$y$j9T$invented', 0, 0)");
  job = bench_open_job (a, "SN-1");
  bench_sync (a);
  bench_sync (b);
  here = fixture_query_text (a->path, "SELECT count (*) FROM pin");
  there = fixture_query_text (b->path, "SELECT (SELECT count (*) FROM pin) + (SELECT count (*) FROM person)");
  g_assert_cmpstr (here, ==, "1");
  g_assert_cmpstr (there, ==, "0");
}

/* A copy that was changed by hand passes nothing on. */
static void
test_own_damage (Fixture      *fixture,
                 gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *a = shop.benches;
  g_autofree char *job = NULL;
  g_autoptr (GError) error = NULL;

  shop_set_up (&shop, fixture, data, 1);
  job = bench_open_job (a, "SN-1");
  bench_note (a, job, "as it was");
  fixture_tamper (a->path, "UPDATE entry SET body = '{\"text\":\"as I like it\"}' WHERE number = 2");
  g_assert_false (pawl_share_sync (a->share, NULL, &error));
  g_assert_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED);
  g_assert_nonnull (strstr (error->message, "nothing is sent"));
  g_assert_cmpuint (count_entries (&shop), ==, 0);
}

/* A bundle that is merged into a copy goes on to the others. */
static void
test_what_was_there_before (Fixture      *fixture,
                            gconstpointer data)
{
  g_auto (Shop) shop = { 0 };
  Bench *a = shop.benches;
  g_autoptr (PawlRecord) own = fixture_open (fixture);
  g_autofree char *job = fixture_make_job (fixture, own, 3);
  g_autoptr (GPtrArray) rows = pawl_record_load_rows (own, job, NULL);
  g_autoptr (GError) error = NULL;
  PawlMerge *merge;
  PawlShareCount moved;

  shop_set_up (&shop, fixture, data, 1);
  merge = pawl_merge_begin (a->copy, &error);
  g_assert_true (pawl_merge_add_chain (merge, rows, &error));
  g_assert_true (pawl_merge_commit (merge, NULL, &error));
  g_assert_no_error (error);
  moved = bench_sync (a);
  g_assert_cmpuint (moved.n_sent, ==, 4);
}

int
main (int    argc,
      char **argv)
{
  static const struct {
    const char *name;
    void (*run) (Fixture *fixture, gconstpointer data);
  } tests[] = {
    { "verbs", test_verbs },
    { "kept", test_kept },
    { "two-on-one-job", test_two_on_one_job },
    { "interleavings", test_interleavings },
    { "first-copy", test_first_copy },
    { "tampered", test_tampered },
    { "other-under-same-id", test_other_under_same_id },
    { "kept-gone", test_kept_gone },
    { "put-back", test_put_back },
    { "other-set", test_other_set },
    { "no-pins", test_no_pins },
    { "own-damage", test_own_damage },
    { "what-was-there-before", test_what_was_there_before },
  };
  int code;

  g_test_init (&argc, &argv, NULL);
  faulty_disk_install (); /* waits for no disk; the server does */
  share_drivers_set_up ();
  for (guint i = 0; i < n_drivers; i++)
    for (guint j = 0; j < G_N_ELEMENTS (tests); j++)
      {
        g_autofree char *path = g_strdup_printf ("/share/%s/%s", drivers[i].name, tests[j].name);

        g_test_add (path, Fixture, &drivers[i], fixture_set_up, tests[j].run, fixture_tear_down);
      }
  code = g_test_run ();
  share_drivers_tear_down ();
  return code;
}
