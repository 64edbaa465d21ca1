/* An entry's place is its row's number, which SQLite counts up as long as nothing is deleted, and nothing ever is. */
#include "share/pawl-store-sqlite.h"

#include <poll.h>

#include "record/pawl-record-private.h"

/* Nobody tells of news in a file, so it is looked at. */
#define LOOK_MSEC 3000
/* What is carried at once of kept bytes. */
#define KEPT_AT_ONCE (16 * 1024 * 1024)

/* A file has no name for itself; its oldest entry has. */
static const char LOOK[] =
  "SELECT coalesce (max (rowid), 0), coalesce ((SELECT id FROM entry WHERE rowid = ?), ''), coalesce ((SELECT id FROM entry ORDER BY rowid LIMIT 1), '')"
  " FROM entry";
static const char LIST[] = "SELECT " PAWL_SQL_ENTRY_COLUMNS ", rowid FROM entry WHERE rowid > ? ORDER BY rowid LIMIT ?";
static const char LIST_JOB[] = "SELECT " PAWL_SQL_ENTRY_COLUMNS " FROM entry WHERE job = ? ORDER BY rowid";
static const char GET_DIGEST[] = "SELECT digest FROM entry WHERE id = ?";
static const char GET_NEWEST[] = "SELECT max (rowid) FROM entry";
static const char HAS_KEPT[] = "SELECT 1 FROM kept WHERE digest = ?";
static const char LOAD_KEPT[] = "SELECT media_type, bytes FROM kept WHERE digest = ?";

struct _PawlStoreSqlite {
  PawlStore parent_instance;

  char       *path;
  PawlRecord *record; /* (nullable) until it is open */
};

G_DEFINE_FINAL_TYPE (PawlStoreSqlite, pawl_store_sqlite, PAWL_TYPE_STORE)

/* To whoever uses a store, a file that can't be reached or is held by another is away. */
static gboolean
translate (GError  *problem,
           GError **error)
{
  PawlStoreError code = PAWL_STORE_ERROR_AWAY;

  if (g_error_matches (problem, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NOT_A_RECORD))
    code = PAWL_STORE_ERROR_NOT_A_STORE;
  else if (g_error_matches (problem, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NEWER))
    code = PAWL_STORE_ERROR_NEWER;
  else if (g_error_matches (problem, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY))
    code = PAWL_STORE_ERROR_NOT_ALLOWED;
  else if (g_error_matches (problem, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_FULL) || g_error_matches (problem, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED))
    code = PAWL_STORE_ERROR_FAILED;

  g_set_error_literal (error, PAWL_STORE_ERROR, (int) code, problem->message);
  g_error_free (problem);
  return FALSE;
}

static const PawlDatabase *
database (PawlStore *store)
{
  return &PAWL_STORE_SQLITE (store)->record->database;
}

/* Where nothing is mounted, no new file is begun. */
static gboolean
open_record (PawlStore *store,
             GError   **error)
{
  PawlStoreSqlite *self = PAWL_STORE_SQLITE (store);
  g_autofree char *folder = g_path_get_dirname (self->path);
  GError *problem = NULL;

  if (!g_file_test (folder, G_FILE_TEST_IS_DIR))
    {
      g_set_error (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_AWAY, "%s: the shared folder is away", pawl_store_get_address (store));
      return FALSE;
    }
  g_clear_object (&self->record);
  self->record = pawl_record_open (self->path, PAWL_RECORD_OPEN_CREATE, NULL, &problem);
  return self->record != NULL || translate (problem, error);
}

static gboolean
look (PawlStore      *store,
      gint64          place,
      PawlStoreState *state,
      GError        **error)
{
  GError *problem = NULL;
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (database (store), &problem, LOOK, "i", place);

  pawl_store_count_trip (store);
  if (statement == NULL || pawl_database_step (database (store), statement, &problem) < 0)
    return translate (problem, error);
  state->id = g_strdup (pawl_statement_get_text (statement, 2));
  state->place = sqlite3_column_int64 (statement, 0);
  state->mark = g_strdup (pawl_statement_get_text (statement, 1));
  return TRUE;
}

static gboolean
list (PawlStore      *store,
      gint64          after,
      guint           limit,
      PawlStoreBatch *batch,
      GError        **error)
{
  GError *problem = NULL;
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (database (store), &problem, LIST, "ii", after, (gint64) limit);
  int more = -1;

  pawl_store_count_trip (store);
  while (statement != NULL && (more = pawl_database_step (database (store), statement, &problem)) > 0)
    {
      PawlEntryRow *row = g_new0 (PawlEntryRow, 1);

      pawl_entry_row_read (row, statement);
      g_ptr_array_add (batch->rows, row);
      batch->place = sqlite3_column_int64 (statement, 11);
    }
  return more == 0 || translate (problem, error);
}

static GPtrArray *
list_job (PawlStore  *store,
          const char *job_id,
          GError    **error)
{
  GError *problem = NULL;
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (database (store), &problem, LIST_JOB, "s", job_id);
  GPtrArray *rows = statement != NULL ? pawl_record_read_rows (PAWL_STORE_SQLITE (store)->record, statement, &problem) : NULL;

  pawl_store_count_trip (store);
  if (rows == NULL)
    translate (problem, error);
  return rows;
}

/* Asks for the one text that @sql has of @key, and puts it into @found when there is one. */
static gboolean
look_up (PawlStore  *store,
         const char *sql,
         const char *key,
         GHashTable *found,
         GError    **error)
{
  GError *problem = NULL;
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (database (store), &problem, sql, "s", key);
  int more = statement != NULL ? pawl_database_step (database (store), statement, &problem) : -1;

  if (more < 0)
    return translate (problem, error);
  if (more > 0)
    g_hash_table_insert (found, g_strdup (key), g_strdup (pawl_statement_get_text (statement, 0)));
  return TRUE;
}

static GHashTable *
find (PawlStore *store,
      GPtrArray *rows,
      GError   **error)
{
  g_autoptr (GHashTable) found = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  pawl_store_count_trip (store);
  for (guint i = 0; i < rows->len; i++)
    if (!look_up (store, GET_DIGEST, ((PawlEntryRow *) rows->pdata[i])->id, found, error))
      return NULL;
  return g_steal_pointer (&found);
}

/* An ordinary record stays sound only when whole chains go in; what does not fit is refused, and then nothing is taken. */
static gboolean
merge_rows (PawlRecord *record,
            PawlMerge  *merge,
            GPtrArray  *rows,
            gint64     *before,
            gint64     *after,
            GError    **error)
{
  g_autoptr (GPtrArray) parts = pawl_store_split_by_job (rows);
  GError *refusal = NULL;

  if (!pawl_database_query_int (&record->database, GET_NEWEST, before, error))
    return FALSE;
  for (guint i = 0; i < parts->len; i++)
    {
      if (!pawl_merge_add_part (merge, parts->pdata[i], &refusal, error))
        return FALSE;
      if (refusal != NULL)
        {
          g_propagate_error (error, refusal);
          return FALSE;
        }
    }
  if (!pawl_database_query_int (&record->database, GET_NEWEST, after, error))
    return FALSE;
  if (*after == *before)
    *after = 0;
  return TRUE;
}

static gboolean
take (PawlStore *store,
      GPtrArray *rows,
      gint64    *before,
      gint64    *after,
      GError   **error)
{
  PawlRecord *record = PAWL_STORE_SQLITE (store)->record;
  GError *problem = NULL;
  g_autoptr (PawlMerge) merge = pawl_merge_begin (record, &problem);

  pawl_store_count_trip (store);
  return (merge != NULL && merge_rows (record, merge, rows, before, after, &problem) && pawl_merge_commit (g_steal_pointer (&merge), NULL, &problem))
         || translate (problem, error);
}

static GHashTable *
find_kept (PawlStore *store,
           GPtrArray *digests,
           GError   **error)
{
  g_autoptr (GHashTable) found = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);

  pawl_store_count_trip (store);
  for (guint i = 0; i < digests->len; i++)
    if (!look_up (store, HAS_KEPT, digests->pdata[i], found, error))
      return NULL;
  return g_steal_pointer (&found);
}

/* Not checked here: who asks for them does. */
static gboolean
load_one (PawlStore  *store,
          const char *digest,
          GPtrArray  *loaded,
          gsize      *size,
          GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (database (store), error, LOAD_KEPT, "s", digest);
  int more = statement != NULL ? pawl_database_step (database (store), statement, error) : -1;
  gsize length;

  if (more <= 0)
    return more == 0;
  length = (gsize) sqlite3_column_bytes (statement, 1);
  g_ptr_array_add (loaded, pawl_store_kept_new (digest, pawl_statement_get_text (statement, 0), sqlite3_column_blob (statement, 1), length));
  *size += length;
  return TRUE;
}

static GPtrArray *
load_kept (PawlStore *store,
           GPtrArray *digests,
           GError   **error)
{
  g_autoptr (GPtrArray) loaded = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_store_kept_free);
  GError *problem = NULL;
  gsize size = 0;

  pawl_store_count_trip (store);
  for (guint i = 0; i < digests->len && size < KEPT_AT_ONCE; i++)
    if (!load_one (store, digests->pdata[i], loaded, &size, &problem))
      {
        translate (problem, error);
        return NULL;
      }
  return g_steal_pointer (&loaded);
}

static gboolean
keep (PawlStore  *store,
      const char *digest,
      const char *media_type,
      GBytes     *bytes,
      GError    **error)
{
  GError *problem = NULL;
  g_autofree char *kept = pawl_record_keep (PAWL_STORE_SQLITE (store)->record, bytes, media_type, &problem);

  pawl_store_count_trip (store);
  return kept != NULL || translate (problem, error);
}

static void
wait_for_news (PawlStore *store,
               int        wake_fd,
               int        timeout_msec)
{
  struct pollfd wake = { .fd = wake_fd, .events = POLLIN };

  poll (&wake, 1, timeout_msec < 0 ? LOOK_MSEC : MIN (timeout_msec, LOOK_MSEC)); /* interrupted: awake for nothing */
}

static void
pawl_store_sqlite_finalize (GObject *object)
{
  PawlStoreSqlite *self = PAWL_STORE_SQLITE (object);

  g_clear_object (&self->record);
  g_free (self->path);
  G_OBJECT_CLASS (pawl_store_sqlite_parent_class)->finalize (object);
}

static void
pawl_store_sqlite_class_init (PawlStoreSqliteClass *klass)
{
  PawlStoreClass *store_class = PAWL_STORE_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = pawl_store_sqlite_finalize;
  store_class->open = open_record;
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
pawl_store_sqlite_init (PawlStoreSqlite *self)
{
}

PawlStore *
pawl_store_sqlite_new (const char *path,
                       const char *address)
{
  PawlStoreSqlite *self = g_object_new (PAWL_TYPE_STORE_SQLITE, NULL);

  self->path = g_strdup (path);
  pawl_store_take_address (PAWL_STORE (self), g_strdup (address));
  return PAWL_STORE (self);
}
