/*
 * A shop with a server: how many entries a second are sent and fetched, beside appending them to a record on this disk, in one run. In batches, as
 * after a day without the server, and one by one, as at the bench. The server is a real one, and syncs what it acknowledges. Prints a table; asserts
 * nothing of time, but that both benches end with the same.
 * Usage: bench-share [--quick]
 */
#include "postgres-server.h"
#include "record-fixture.h"
#include "share/pawl-address.h"
#include "share/pawl-share.h"

typedef struct {
  PawlRecord *copy;
  PawlShare  *share;
} Bench;

static void
set_up (Bench      *self,
        Fixture    *fixture,
        const char *address,
        const char *name)
{
  g_autofree char *home = g_build_filename (fixture->folder, name, NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlStore) store = pawl_address_new_store (address, &error);

  g_assert_no_error (error);
  self->copy = pawl_address_open_copy (address, home, PAWL_RECORD_OPEN_CREATE, &fixture->host, &error);
  g_assert_no_error (error);
  self->share = pawl_share_new (self->copy, store);
  pawl_share_sync (self->share, NULL, &error);
  g_assert_no_error (error);
}

static void
clear (Bench *self)
{
  pawl_share_free (self->share);
  g_object_unref (self->copy);
}

static gint64
measure_sync (Bench *self)
{
  g_autoptr (GError) error = NULL;
  gint64 begun = g_get_monotonic_time ();

  pawl_share_sync (self->share, NULL, &error);
  g_assert_no_error (error);
  return g_get_monotonic_time () - begun;
}

static gint64
measure_append (Bench      *self,
                Fixture    *fixture,
                const char *job,
                guint       n)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr (GError) error = NULL;
  gint64 begun;

  for (guint i = 0; i < n; i++)
    g_ptr_array_add (entries, fixture_make_answer (fixture, "float-height", "33,3 mm"));
  begun = g_get_monotonic_time ();
  pawl_record_append (self->copy, job, entries, &error);
  g_assert_no_error (error);
  return g_get_monotonic_time () - begun;
}

static void
print (const char *what,
       guint       n,
       gint64      usec,
       gint64      local_usec)
{
  g_print ("%-44s %8.0f a second   %6.2f times the time of a local append\n", what, n * 1e6 / (double) usec, (double) usec / (double) local_usec);
}

/* @n entries, @together in a transaction. */
static void
measure (Bench      *a,
         Bench      *b,
         Fixture    *fixture,
         const char *job,
         guint       n,
         guint       together)
{
  gint64 local = 0, sent = 0, fetched = 0;
  g_autofree char *what = together == 1 ? g_strdup ("one by one") : g_strdup_printf ("%u together", together);
  g_autofree char *append = g_strdup_printf ("append here, %s", what);
  g_autofree char *send = g_strdup_printf ("send, %s", what);
  g_autofree char *fetch = g_strdup_printf ("fetch, %s", what);

  for (guint i = 0; i < n; i += together)
    {
      local += measure_append (a, fixture, job, together);
      sent += measure_sync (a);
      fetched += measure_sync (b);
    }
  print (append, n, local, local);
  print (send, n, sent, local);
  print (fetch, n, fetched, local);
}

int
main (int    argc,
      char **argv)
{
  gboolean is_quick = argc > 1 && g_str_equal (argv[1], "--quick");
  PostgresServer server = { .is_durable = TRUE };
  Fixture fixture = { 0 };
  Bench a, b;
  g_autofree char *address = NULL;
  g_autofree char *job = NULL;
  g_autofree char *of_a = NULL;
  g_autofree char *of_b = NULL;

  fixture_set_up (&fixture, NULL);
  postgres_server_set_up (&server);
  address = postgres_server_make (&server);
  set_up (&a, &fixture, address, "a");
  set_up (&b, &fixture, address, "b");
  job = fixture_make_job (&fixture, a.copy, 0);
  measure_sync (&a);
  measure_sync (&b);

  measure (&a, &b, &fixture, job, is_quick ? 3 : 200, 1);
  g_free (job);
  job = fixture_make_job (&fixture, a.copy, 0);
  measure (&a, &b, &fixture, job, is_quick ? 20 : 5000, is_quick ? 10 : 500);
  of_a = fixture_dump_union (pawl_record_get_path (a.copy));
  of_b = fixture_dump_union (pawl_record_get_path (b.copy));
  g_assert_cmpstr (of_a, ==, of_b);

  clear (&a);
  clear (&b);
  postgres_server_tear_down (&server);
  fixture_tear_down (&fixture, NULL);
  return 0;
}
