#include "share-fixture.h"

#include <string.h>

#include "share/pawl-address.h"
#ifdef HAVE_POSTGRESQL
#include "postgres-server.h"
#endif

/* ---- a file ---- */

static char *
make_file (Fixture *fixture)
{
  return g_strdup_printf ("sqlite://%s/shop-%u.db", fixture->folder, fixture->n_ids++);
}

/* Tables are named as @entry, so that one statement is for both kinds. */
static char *
name_tables (const char *sql,
             const char *before)
{
  g_autoptr (GString) named = g_string_new (sql);

  g_string_replace (named, "@", before, 0);
  return g_string_free (g_steal_pointer (&named), FALSE);
}

static char *
query_file (const char *address,
            const char *sql)
{
  g_autofree char *named = name_tables (sql, "");

  return fixture_query_text (address + strlen ("sqlite://"), named);
}

static void
tamper_file (const char *address,
             const char *sql)
{
  g_autofree char *named = name_tables (sql, "");

  fixture_tamper (address + strlen ("sqlite://"), named);
}

/* ---- a server ---- */

#ifdef HAVE_POSTGRESQL
static PostgresServer server;

static char *
make_database (Fixture *fixture)
{
  return postgres_server_make (&server);
}

static char *
query_database (const char *address,
                const char *sql)
{
  g_autofree char *named = name_tables (sql, "pawl.");

  return postgres_server_query (address, named);
}

static void
tamper_database (const char *address,
                 const char *sql)
{
  g_autofree char *named = name_tables (sql, "pawl.");
  g_autofree char *all = g_strdup_printf ("SET session_replication_role = replica; %s", named); /* no trigger fires */

  g_free (postgres_server_query (address, all));
}
#endif

const Driver drivers[] = {
  { "sqlite", make_file, query_file, tamper_file,
    "DELETE FROM head; DELETE FROM entry WHERE number > 2; INSERT INTO head (job, digest, number) SELECT job, digest, number FROM entry WHERE number = 2" },
#ifdef HAVE_POSTGRESQL
  { "postgresql", make_database, query_database, tamper_database, "DELETE FROM pawl.entry WHERE number > 2" },
#endif
};
const guint n_drivers = G_N_ELEMENTS (drivers);

void
share_drivers_set_up (void)
{
#ifdef HAVE_POSTGRESQL
  postgres_server_set_up (&server);
#endif
}

void
share_drivers_tear_down (void)
{
#ifdef HAVE_POSTGRESQL
  postgres_server_tear_down (&server);
#endif
}

/* ---- benches ---- */

static GDateTime *
read_clock (gpointer data)
{
  Bench *self = data;
  g_autoptr (GDateTime) before = self->now;

  self->now = g_date_time_add_seconds (before, 7 + (self->number * 5 + self->n_ids) % 11);
  return g_date_time_ref (before);
}

static char *
count_id (gpointer data)
{
  Bench *self = data;

  return g_strdup_printf ("%08x-000%u-4000-8000-000000000000", (0xb0000000u + self->n_ids++) ^ (self->number * 0x5a5a), self->number);
}

void
bench_restart (Bench      *self,
               const char *address)
{
  g_autoptr (GError) error = NULL;

  g_clear_pointer (&self->share, pawl_share_free);
  g_clear_object (&self->store);
  self->store = pawl_address_new_store (address, &error);
  g_assert_no_error (error);
  self->share = pawl_share_new (self->copy, self->store);
}

void
bench_set_up (Bench      *self,
              Fixture    *fixture,
              guint       number,
              const char *address)
{
  g_autofree char *home = g_strdup_printf ("%s/bench-%u", fixture->folder, number);
  g_autoptr (GError) error = NULL;

  self->number = number;
  self->now = g_date_time_new_utc (2026, 5, 4, 9, 15, (double) number);
  self->host = (PawlRecordHost) { .now = read_clock, .new_id = count_id, .data = self };
  self->path = pawl_address_dup_copy_path (address, home, &error);
  g_assert_no_error (error);
  self->copy = pawl_address_open_copy (address, home, PAWL_RECORD_OPEN_CREATE, &self->host, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (pawl_record_get_path (self->copy), ==, self->path);
  bench_restart (self, address);
}

void
bench_clear (Bench *self)
{
  g_clear_pointer (&self->share, pawl_share_free);
  g_clear_object (&self->store);
  g_clear_object (&self->copy);
  g_clear_pointer (&self->now, g_date_time_unref);
  g_clear_pointer (&self->path, g_free);
}

char *
bench_open_job (Bench      *self,
                const char *serial)
{
  g_autoptr (PawlEntry) opened = pawl_entry_new (PAWL_ENTRY_OPENED, NULL, FIXTURE_PERSON, self->now);
  g_autoptr (GBytes) procedure = g_bytes_new_static ("<procedure/>", 12);
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = pawl_record_keep (self->copy, procedure, "application/xml", &error);
  char *job_id;

  pawl_entry_set (opened, "serial", serial);
  pawl_entry_set (opened, "procedure", digest);
  job_id = pawl_record_open_job (self->copy, opened, &error);
  g_assert_no_error (error);
  return job_id;
}

static void
append (Bench      *self,
        const char *job_id,
        PawlEntry  *entry)
{
  g_autoptr (GError) error = NULL;

  pawl_record_append_one (self->copy, job_id, entry, &error);
  g_assert_no_error (error);
}

void
bench_note (Bench      *self,
            const char *job_id,
            const char *text)
{
  g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_NOTED, NULL, FIXTURE_PERSON, self->now);

  pawl_entry_set (entry, "text", text);
  append (self, job_id, entry);
}

void
bench_photo (Bench      *self,
             const char *job_id,
             const char *picture)
{
  g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_PHOTO, NULL, FIXTURE_PERSON, self->now);
  g_autoptr (GBytes) bytes = g_bytes_new (picture, strlen (picture) + 1); /* with a nul in it */
  g_autoptr (GError) error = NULL;
  g_autofree char *digest = pawl_record_keep (self->copy, bytes, "image/jpeg", &error);

  g_assert_no_error (error);
  pawl_entry_set (entry, "digest", digest);
  append (self, job_id, entry);
}

PawlCopyState
bench_load_state (Bench *self)
{
  PawlCopyState state = { 0 };
  g_autoptr (GError) error = NULL;

  pawl_copy_load_state (self->copy, &state, &error);
  g_assert_no_error (error);
  return state;
}

PawlShareCount
bench_sync (Bench *self)
{
  g_auto (PawlCopyState) state = { 0 };
  g_autoptr (GError) error = NULL;
  PawlShareCount count;

  pawl_share_sync (self->share, &count, &error);
  g_assert_no_error (error);
  state = bench_load_state (self);
  g_assert_cmpuint (state.n_waiting, ==, 0);
  g_assert_cmpint (state.away_usec, ==, 0);
  fixture_check_sound (self->copy);
  return count;
}

char *
bench_fail_to_sync (Bench         *self,
                    PawlStoreError code)
{
  g_auto (PawlCopyState) state = { 0 };
  g_autoptr (GError) error = NULL;

  g_assert_false (pawl_share_sync (self->share, NULL, &error));
  g_assert_error (error, PAWL_STORE_ERROR, (int) code);
  g_assert_true (g_str_has_prefix (error->message, pawl_store_get_address (self->store)));
  g_assert_null (strchr (error->message, '\n'));
  state = bench_load_state (self);
  g_assert_cmpint (state.away_usec, !=, 0);
  return g_strdup (error->message);
}
