#include "share/pawl-store-postgres.h"

#include "share/pawl-postgres.h"
#include "share/pawl-store-sql.h"

/* Whoever makes the tables, or gives places, holds this until it commits: places become visible in their order, so nobody who has all up to
 * one of them can miss an entry before it. It frees itself when a bench dies. */
#define LOCK "SELECT pg_advisory_xact_lock (1348564844)"

/* A bench that hangs in the middle of sending must not keep the others waiting. */
static const char SETTINGS[] = "SET idle_in_transaction_session_timeout = '20s'; SET lock_timeout = '20s'; LISTEN pawl";
static const char LOOK_AROUND[] =
  "SELECT current_setting ('server_encoding'), EXISTS (SELECT 1 FROM pg_catalog.pg_class c JOIN pg_catalog.pg_namespace n ON n.oid = c.relnamespace"
  " WHERE n.nspname = 'pawl' AND c.relname = 'shop')";
static const char GET_SHOP[] = "SELECT version, id FROM pawl.shop";

#define COLUMNS "id, job, number, previous, kind, subject, person, at, written, body, digest"

static const char LOOK[] =
  "SELECT s.id, coalesce ((SELECT max (place) FROM pawl.entry), 0), coalesce ((SELECT e.id FROM pawl.entry e WHERE e.place = $1::bigint), '') FROM pawl.shop s";
static const char LIST[] = "SELECT " COLUMNS ", place FROM pawl.entry WHERE place > $1::bigint ORDER BY place LIMIT $2::bigint";
static const char LIST_JOB[] = "SELECT " COLUMNS ", place FROM pawl.entry WHERE job = $1 ORDER BY place";
static const char FIND[] = "SELECT id, digest FROM pawl.entry WHERE id = ANY ($1::text[])";
static const char BEGIN_TAKING[] = "BEGIN; " LOCK;
static const char TAKE[] =
  "WITH newest AS (SELECT coalesce (max (place), 0) AS place FROM pawl.entry),"
  " added AS (INSERT INTO pawl.entry (" COLUMNS ") SELECT " COLUMNS
  "  FROM unnest ($1::text[], $2::text[], $3::bigint[], $4::text[], $5::text[], $6::text[], $7::text[], $8::text[], $9::text[], $10::text[], $11::text[])"
  "  WITH ORDINALITY AS given (" COLUMNS ", turn) ORDER BY turn ON CONFLICT (id) DO NOTHING RETURNING place)"
  " SELECT newest.place, coalesce ((SELECT max (added.place) FROM added), 0) FROM newest";
static const char END_TAKING[] = "NOTIFY pawl; COMMIT";
static const char FIND_KEPT[] = "SELECT digest FROM pawl.kept WHERE digest = ANY ($1::text[])";
/* As many as are carried well at once, and always the first. */
static const char LOAD_KEPT[] =
  "SELECT digest, media_type, bytes FROM (SELECT *, sum (octet_length (bytes)) OVER upto AS size, row_number () OVER upto AS n"
  " FROM pawl.kept WHERE digest = ANY ($1::text[]) WINDOW upto AS (ORDER BY digest)) all_of_them WHERE size <= 16777216 OR n = 1";
static const char KEEP[] = "INSERT INTO pawl.kept (digest, media_type, bytes) VALUES ($1, $2, $3::bytea) ON CONFLICT (digest) DO NOTHING";

struct _PawlStorePostgres {
  PawlStore parent_instance;

  char        *uri;
  PawlPostgres server;
};

G_DEFINE_FINAL_TYPE (PawlStorePostgres, pawl_store_postgres, PAWL_TYPE_STORE)

static PGresult *
ask (PawlStore               *store,
     const char              *sql,
     const PawlPostgresValue *values,
     int                      n,
     GError                 **error)
{
  return pawl_postgres_run (&PAWL_STORE_POSTGRES (store)->server, sql, values, n, FALSE, error);
}

static gint64
get_number (const PGresult *result,
            int             row,
            int             column)
{
  return g_ascii_strtoll (PQgetvalue (result, row, column), NULL, 10);
}

/* ---- opening ---- */

static gboolean
look_around (PawlStore *store,
             gboolean  *has_tables,
             GError   **error)
{
  g_autoptr (PGresult) result = ask (store, LOOK_AROUND, NULL, 0, error);

  if (result == NULL)
    return FALSE;
  *has_tables = g_str_equal (PQgetvalue (result, 0, 1), "t");
  if (g_str_equal (PQgetvalue (result, 0, 0), "UTF8"))
    return TRUE;

  g_set_error (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_NOT_A_STORE,
               "%s: the database writes its texts as %s, and can't hold all that is said at a bench; make it with: createdb --encoding=UTF8 --template=template0",
               pawl_store_get_address (store), PQgetvalue (result, 0, 0));
  return FALSE;
}

/* Two benches may come first at once. */
static gboolean
make_tables (PawlStorePostgres *self,
             GError           **error)
{
  PawlStore *store = PAWL_STORE (self);
  gboolean has_tables = FALSE;
  GError *problem = NULL;

  if (pawl_postgres_do (&self->server, BEGIN_TAKING, &problem) && look_around (store, &has_tables, &problem)
      && (has_tables || pawl_postgres_do (&self->server, pawl_store_sql_peek_tables (), &problem))
      && pawl_postgres_do (&self->server, "COMMIT", &problem))
    return TRUE;

  pawl_postgres_roll_back (&self->server);
  if (!g_error_matches (problem, PAWL_STORE_ERROR, PAWL_STORE_ERROR_NOT_ALLOWED))
    {
      g_propagate_error (error, problem);
      return FALSE;
    }
  g_set_error (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_NOT_ALLOWED,
               "%s: the shop's tables are not there yet, and this user may not make them; let the owner of the database run what “pawl share --sql” prints",
               pawl_store_get_address (store));
  g_error_free (problem);
  return FALSE;
}

static gboolean
check_version (PawlStore *store,
               GError   **error)
{
  g_autoptr (PGresult) result = ask (store, GET_SHOP, NULL, 0, error);
  gint64 version;

  if (result == NULL)
    return FALSE;
  if (PQntuples (result) != 1)
    {
      g_set_error (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_NOT_A_STORE, "%s: not a shop's tables: pawl.shop should have one row and has %d",
                   pawl_store_get_address (store), PQntuples (result));
      return FALSE;
    }
  version = get_number (result, 0, 0);
  if (version == PAWL_STORE_SQL_VERSION)
    return TRUE;

  g_set_error (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_NEWER,
               "%s: the shop's tables are of version %" G_GINT64_FORMAT ", and this Pawl knows version %d; bring this bench's Pawl up to date",
               pawl_store_get_address (store), version, PAWL_STORE_SQL_VERSION);
  return FALSE;
}

static gboolean
open_server (PawlStore *store,
             GError   **error)
{
  PawlStorePostgres *self = PAWL_STORE_POSTGRES (store);
  gboolean has_tables;

  if (pawl_postgres_connect (&self->server, self->uri, error) && pawl_postgres_do (&self->server, SETTINGS, error)
      && look_around (store, &has_tables, error) && (has_tables || make_tables (self, error)) && check_version (store, error))
    return TRUE;

  pawl_postgres_close (&self->server);
  return FALSE;
}

/* ---- out ---- */

static gboolean
look (PawlStore      *store,
      gint64          place,
      PawlStoreState *state,
      GError        **error)
{
  g_autofree char *asked = g_strdup_printf ("%" G_GINT64_FORMAT, place);
  const PawlPostgresValue values[] = { { .text = asked } };
  g_autoptr (PGresult) result = ask (store, LOOK, values, 1, error);

  if (result == NULL)
    return FALSE;
  state->id = g_strdup (PQgetvalue (result, 0, 0));
  state->place = get_number (result, 0, 1);
  state->mark = g_strdup (PQgetvalue (result, 0, 2));
  return TRUE;
}

static PawlEntryRow *
read_row (const PGresult *result,
          int             i)
{
  PawlEntryRow *row = g_new0 (PawlEntryRow, 1);

  row->id = g_strdup (PQgetvalue (result, i, 0));
  row->job = g_strdup (PQgetvalue (result, i, 1));
  row->number = get_number (result, i, 2);
  row->previous = g_strdup (PQgetvalue (result, i, 3));
  row->kind = g_strdup (PQgetvalue (result, i, 4));
  row->subject = g_strdup (PQgetvalue (result, i, 5));
  row->person = g_strdup (PQgetvalue (result, i, 6));
  row->at = g_strdup (PQgetvalue (result, i, 7));
  row->written = g_strdup (PQgetvalue (result, i, 8));
  row->body = g_strdup (PQgetvalue (result, i, 9));
  row->digest = g_strdup (PQgetvalue (result, i, 10));
  return row;
}

static void
read_rows (const PGresult *result,
           GPtrArray      *rows)
{
  for (int i = 0; i < PQntuples (result); i++)
    g_ptr_array_add (rows, read_row (result, i));
}

static gboolean
list (PawlStore      *store,
      gint64          after,
      guint           limit,
      PawlStoreBatch *batch,
      GError        **error)
{
  g_autofree char *place = g_strdup_printf ("%" G_GINT64_FORMAT, after);
  g_autofree char *most = g_strdup_printf ("%u", limit);
  const PawlPostgresValue values[] = { { .text = place }, { .text = most } };
  g_autoptr (PGresult) result = ask (store, LIST, values, 2, error);

  if (result == NULL)
    return FALSE;
  read_rows (result, batch->rows);
  if (PQntuples (result) > 0)
    batch->place = get_number (result, PQntuples (result) - 1, 11);
  return TRUE;
}

static GPtrArray *
list_job (PawlStore  *store,
          const char *job_id,
          GError    **error)
{
  const PawlPostgresValue values[] = { { .text = job_id } };
  g_autoptr (PGresult) result = ask (store, LIST_JOB, values, 1, error);
  GPtrArray *rows = result != NULL ? pawl_chain_new_rows () : NULL;

  if (rows != NULL)
    read_rows (result, rows);
  return rows;
}

#define GETTER(column) static const char *get_##column (gconstpointer row) { return ((const PawlEntryRow *) row)->column; }
GETTER (id)
GETTER (job)
GETTER (previous)
GETTER (kind)
GETTER (subject)
GETTER (person)
GETTER (at)
GETTER (written)
GETTER (body)
GETTER (digest)

static const char *
get_itself (gconstpointer text)
{
  return text;
}

static GHashTable *
find (PawlStore *store,
      GPtrArray *rows,
      GError   **error)
{
  g_autofree char *ids = pawl_postgres_dup_array (rows, get_id);
  const PawlPostgresValue values[] = { { .text = ids } };
  g_autoptr (PGresult) result = ask (store, FIND, values, 1, error);
  GHashTable *found = NULL;

  if (result == NULL)
    return NULL;
  found = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  for (int i = 0; i < PQntuples (result); i++)
    g_hash_table_insert (found, g_strdup (PQgetvalue (result, i, 0)), g_strdup (PQgetvalue (result, i, 1)));
  return found;
}

/* ---- in ---- */

static char *
dup_numbers (GPtrArray *rows)
{
  GString *numbers = g_string_new ("{");

  for (guint i = 0; i < rows->len; i++)
    g_string_append_printf (numbers, "%s%" G_GINT64_FORMAT, i > 0 ? "," : "", ((const PawlEntryRow *) rows->pdata[i])->number);
  g_string_append_c (numbers, '}');
  return g_string_free (numbers, FALSE);
}

static gboolean
insert (PawlStore *store,
        GPtrArray *rows,
        gint64    *before,
        gint64    *after,
        GError   **error)
{
  static const PawlPostgresText getters[] = { get_id, get_job, NULL, get_previous, get_kind, get_subject, get_person, get_at, get_written, get_body, get_digest };
  char *arrays[G_N_ELEMENTS (getters) + 1] = { NULL };
  PawlPostgresValue values[G_N_ELEMENTS (getters)] = { { 0 } };
  g_autoptr (PGresult) result = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (getters); i++)
    {
      arrays[i] = getters[i] != NULL ? pawl_postgres_dup_array (rows, getters[i]) : dup_numbers (rows);
      values[i].text = arrays[i];
    }
  result = ask (store, TAKE, values, G_N_ELEMENTS (values), error);
  for (guint i = 0; i < G_N_ELEMENTS (getters); i++)
    g_free (arrays[i]);
  if (result == NULL)
    return FALSE;

  *before = get_number (result, 0, 0);
  *after = get_number (result, 0, 1);
  return TRUE;
}

static gboolean
take (PawlStore *store,
      GPtrArray *rows,
      gint64    *before,
      gint64    *after,
      GError   **error)
{
  PawlPostgres *server = &PAWL_STORE_POSTGRES (store)->server;

  if (pawl_postgres_do (server, BEGIN_TAKING, error) && insert (store, rows, before, after, error) && pawl_postgres_do (server, END_TAKING, error))
    return TRUE;

  pawl_postgres_roll_back (server);
  return FALSE;
}

/* ---- kept bytes ---- */

static GHashTable *
find_kept (PawlStore *store,
           GPtrArray *digests,
           GError   **error)
{
  g_autofree char *wanted = pawl_postgres_dup_array (digests, get_itself);
  const PawlPostgresValue values[] = { { .text = wanted } };
  g_autoptr (PGresult) result = ask (store, FIND_KEPT, values, 1, error);
  GHashTable *found = NULL;

  if (result == NULL)
    return NULL;
  found = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  for (int i = 0; i < PQntuples (result); i++)
    g_hash_table_add (found, g_strdup (PQgetvalue (result, i, 0)));
  return found;
}

static GPtrArray *
load_kept (PawlStore *store,
           GPtrArray *digests,
           GError   **error)
{
  g_autofree char *wanted = pawl_postgres_dup_array (digests, get_itself);
  const PawlPostgresValue values[] = { { .text = wanted } };
  g_autoptr (PGresult) result = pawl_postgres_run (&PAWL_STORE_POSTGRES (store)->server, LOAD_KEPT, values, 1, TRUE, error);
  GPtrArray *loaded = NULL;

  if (result == NULL)
    return NULL;
  loaded = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_store_kept_free);
  for (int i = 0; i < PQntuples (result); i++)
    g_ptr_array_add (loaded, pawl_store_kept_new (PQgetvalue (result, i, 0), PQgetvalue (result, i, 1), PQgetvalue (result, i, 2),
                                                  (gsize) PQgetlength (result, i, 2)));
  return loaded;
}

static gboolean
keep (PawlStore  *store,
      const char *digest,
      const char *media_type,
      GBytes     *bytes,
      GError    **error)
{
  const PawlPostgresValue values[] = { { .text = digest }, { .text = media_type }, { .bytes = bytes } };
  g_autoptr (PGresult) result = ask (store, KEEP, values, 3, error);

  return result != NULL;
}

static void
wait_for_news (PawlStore *store,
               int        wake_fd,
               int        timeout_msec)
{
  pawl_postgres_wait (&PAWL_STORE_POSTGRES (store)->server, wake_fd, timeout_msec);
}

/* ---- the object ---- */

static void
pawl_store_postgres_finalize (GObject *object)
{
  PawlStorePostgres *self = PAWL_STORE_POSTGRES (object);

  pawl_postgres_close (&self->server);
  g_free (self->uri);
  G_OBJECT_CLASS (pawl_store_postgres_parent_class)->finalize (object);
}

static void
pawl_store_postgres_class_init (PawlStorePostgresClass *klass)
{
  PawlStoreClass *store_class = PAWL_STORE_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = pawl_store_postgres_finalize;
  store_class->open = open_server;
  store_class->look = look;
  store_class->list = list;
  store_class->list_job = list_job;
  store_class->find = find;
  store_class->take = take;
  store_class->find_kept = find_kept;
  store_class->load_kept = load_kept;
  store_class->keep = keep;
  store_class->wait = wait_for_news;
}

static void
pawl_store_postgres_init (PawlStorePostgres *self)
{
  self->server.store = PAWL_STORE (self);
}

PawlStore *
pawl_store_postgres_new (const char *uri,
                         GError    **error)
{
  char *address = pawl_postgres_dup_address (uri, error);
  PawlStorePostgres *self;

  if (address == NULL)
    return NULL;
  self = g_object_new (PAWL_TYPE_STORE_POSTGRES, NULL);
  self->uri = g_strdup (uri);
  pawl_store_take_address (PAWL_STORE (self), address);
  return PAWL_STORE (self);
}
