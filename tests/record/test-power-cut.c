/*
 * The power goes at any operation, and the disk has lost any part of what was not synced: what was acknowledged is there, what was not is
 * there whole or not at all, and the record is sound. And the proof that this can fail: with less syncing it does.
 *
 * PAWL_ROUNDS sets how often; without it, as often as a quick test allows.
 */
#include <glib/gstdio.h>
#include <string.h>

#include "power-cut.h"
#include "record-fixture.h"
#include "record/pawl-merge.h"
#include "record/pawl-record-private.h"

#define N_QUICK_ROUNDS 150
#define N_BASE 4   /* answers in the job that each round begins with */
#define N_WRITES 5 /* transactions that a round tries */

typedef struct {
  char *bytes;
  gsize size;
  char *job_id;
} Base;

static guint
get_n_rounds (void)
{
  const char *text = g_getenv ("PAWL_ROUNDS");

  return text != NULL ? (guint) g_ascii_strtoull (text, NULL, 10) : N_QUICK_ROUNDS;
}

static void
make_base (Fixture *fixture,
           Base    *base)
{
  g_autoptr (PawlRecord) record = fixture_open (fixture);

  base->job_id = fixture_make_job (fixture, record, N_BASE);
  g_clear_object (&record);
  g_assert_true (g_file_get_contents (fixture->path, &base->bytes, &base->size, NULL));
}

static void
clear_base (Base *base)
{
  g_free (base->bytes);
  g_free (base->job_id);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Base, clear_base)

static void
put_base (Fixture    *fixture,
          const Base *base)
{
  g_autofree char *journal = g_strconcat (fixture->path, "-journal", NULL);

  g_unlink (journal);
  fixture_write (fixture->path, base->bytes, base->size);
}

/* ---- appending ---- */

/* Entries in transaction @t of a round. */
static guint
get_size (guint t)
{
  return 1 + t % 3;
}

static guint
count_entries (guint n_transactions)
{
  guint n = 1 + N_BASE;

  for (guint t = 0; t < n_transactions; t++)
    n += get_size (t);
  return n;
}

/* Appends until the power goes or all is done. Returns how many transactions were acknowledged. */
static guint
append_until_cut (Fixture    *fixture,
                  PawlRecord *record,
                  const char *job_id)
{
  g_autofree char *long_text = g_strnfill (3000, 'm');

  for (guint t = 0; t < N_WRITES; t++)
    {
      g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);

      for (guint i = 0; i < get_size (t); i++)
        g_ptr_array_add (entries, fixture_make_answer (fixture, "float-height", long_text));
      if (!pawl_record_append (record, job_id, entries, NULL))
        return t;
    }
  return N_WRITES;
}

/* -1: there is no sound record any more. */
static int
count_sound_entries (Fixture    *fixture,
                     const char *job_id)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlRecord) record = pawl_record_open (fixture->path, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error);
  g_autoptr (GPtrArray) findings = record != NULL ? pawl_record_verify (record, NULL, &error) : NULL;
  g_autoptr (GPtrArray) entries = findings != NULL ? pawl_record_load_entries (record, job_id, &error) : NULL;

  return entries != NULL && findings->len == 0 ? (int) entries->len : -1;
}

/* Whether all is as it has to be after a cut at the @n_good-th operation. */
static gboolean
is_kept (Fixture    *fixture,
         const Base *base,
         const char *synchronous, /* (nullable): instead of what the record sets */
         GRand      *rand,
         guint       n_good)
{
  PawlRecord *record;
  guint n_acknowledged;
  int n_there;

  put_base (fixture, base);
  record = fixture_open (fixture);
  if (synchronous != NULL)
    g_assert_cmpint (sqlite3_exec (pawl_record_peek_handle (record), synchronous, NULL, NULL, NULL), ==, SQLITE_OK);
  power_cut_arm (fixture->path, rand, n_good);
  n_acknowledged = append_until_cut (fixture, record, base->job_id);
  power_cut_now (); /* when it has not come yet: between two entries, which is when it mostly comes */
  g_object_unref (record);
  power_cut_reboot ();

  n_there = count_sound_entries (fixture, base->job_id);
  return n_there == (int) count_entries (n_acknowledged)
         || (n_acknowledged < N_WRITES && n_there == (int) count_entries (n_acknowledged + 1));
}

/* An even chance for each operation of a round, and for a while afterwards. */
static guint
choose_moment (GRand *rand)
{
  return (guint) g_rand_int_range (rand, 0, 260);
}

static void
test_append (Fixture      *fixture,
             gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed ((guint32) g_test_rand_int ());
  g_auto (Base) base = { 0 };

  make_base (fixture, &base);
  for (guint round = 0; round < get_n_rounds (); round++)
    {
      guint n_good = choose_moment (rand);

      if (!is_kept (fixture, &base, NULL, rand, n_good))
        g_error ("round %u: an acknowledged entry is lost, or half of others is there, after a cut at operation %u", round, n_good);
    }
  g_test_message ("%u cuts, nothing lost", get_n_rounds ());
}

/* What the record rests on, taken away: then entries are lost, and this test sees it. FULL syncs all but the folder after a journal is deleted. */
static void
test_less_syncing (Fixture      *fixture,
                   gconstpointer data)
{
  static const char *const settings[] = { "PRAGMA synchronous = FULL", "PRAGMA synchronous = OFF" };
  g_autoptr (GRand) rand = g_rand_new_with_seed ((guint32) g_test_rand_int ());
  g_auto (Base) base = { 0 };

  make_base (fixture, &base);
  for (guint i = 0; i < G_N_ELEMENTS (settings); i++)
    {
      guint n_lost = 0, n_rounds = 0;

      for (; n_rounds < 400 && n_lost == 0; n_rounds++)
        n_lost += is_kept (fixture, &base, settings[i], rand, choose_moment (rand)) ? 0 : 1;
      g_test_message ("%s: lost at cut %u", settings[i], n_rounds);
      g_assert_cmpuint (n_lost, >, 0);
    }
}

/* ---- making a record ---- */

/* The first entry of a first record: its file, and the name of that, are on the disk as well. */
static void
test_make (Fixture      *fixture,
           gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed ((guint32) g_test_rand_int ());
  guint n_made = 0;

  for (guint round = 0; round < get_n_rounds () / 5; round++)
    {
      g_autofree char *journal = g_strconcat (fixture->path, "-journal", NULL);
      g_autofree char *job_id = NULL;
      g_autoptr (PawlEntry) opened = fixture_make_opened (fixture, "SN-1", "W-1");
      PawlRecord *record;

      g_unlink (fixture->path);
      g_unlink (journal);
      power_cut_arm (fixture->path, rand, (guint) g_rand_int_range (rand, 0, 500));
      record = pawl_record_open (fixture->path, PAWL_RECORD_OPEN_CREATE, &fixture->host, NULL);
      job_id = record != NULL ? pawl_record_open_job (record, opened, NULL) : NULL;
      power_cut_now ();
      g_clear_object (&record);
      power_cut_reboot ();

      if (job_id != NULL)
        g_assert_cmpint (count_sound_entries (fixture, job_id), ==, 1);
      n_made += job_id != NULL ? 1 : 0;
      record = fixture_open (fixture); /* what was cut short is made now */
      fixture_check_sound (record);
      g_object_unref (record);
    }
  g_test_message ("%u first jobs acknowledged and there", n_made);
}

/* ---- merging ---- */

/* A job of another record comes whole or not at all. */
static void
test_merge (Fixture      *fixture,
            gconstpointer data)
{
  g_autoptr (GRand) rand = g_rand_new_with_seed ((guint32) g_test_rand_int ());
  g_autofree char *other_path = g_build_filename (fixture->folder, "other.db", NULL);
  g_autoptr (PawlRecord) other = pawl_record_open (other_path, PAWL_RECORD_OPEN_CREATE, &fixture->host, NULL);
  g_autofree char *other_id = fixture_make_job (fixture, other, 20);
  g_auto (Base) base = { 0 };

  make_base (fixture, &base);
  for (guint round = 0; round < get_n_rounds () / 5; round++)
    {
      g_autoptr (GPtrArray) rows = pawl_record_load_rows (other, other_id, NULL);
      PawlRecord *record;
      PawlMerge *merge;
      gboolean is_taken;
      int n_there;

      put_base (fixture, &base);
      record = fixture_open (fixture);
      power_cut_arm (fixture->path, rand, (guint) g_rand_int_range (rand, 0, 120));
      merge = pawl_merge_begin (record, NULL);
      is_taken = pawl_merge_add_chain (merge, rows, NULL);
      if (is_taken)
        is_taken = pawl_merge_commit (merge, NULL, NULL);
      else
        pawl_merge_free (merge);
      power_cut_now ();
      g_object_unref (record);
      power_cut_reboot ();

      g_assert_cmpint (count_sound_entries (fixture, base.job_id), ==, 1 + N_BASE);
      n_there = count_sound_entries (fixture, other_id);
      g_assert_true (n_there == 21 || (!is_taken && n_there == -1));
    }
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  power_cut_install ();

#define ADD(path, test) g_test_add (path, Fixture, NULL, fixture_set_up, test, fixture_tear_down)
  ADD ("/power-cut/append", test_append);
  ADD ("/power-cut/less-syncing", test_less_syncing);
  ADD ("/power-cut/make", test_make);
  ADD ("/power-cut/merge", test_merge);

  return g_test_run ();
}
