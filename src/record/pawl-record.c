/*
 * Opening a record, and what its connection is set to.
 *
 * What "acknowledged" rests on. The journal mode is DELETE: one file is the whole record whenever nobody writes, so it can be
 * copied, put on a read-only medium or a share, and read from a folder that can't be written. (WAL would sync once less for each
 * entry, but leaves two more files beside the record, needs a writable folder even to read, and does not work over a network
 * file system. A fitter makes an entry every few seconds at most; one sync more is not felt.) With synchronous=EXTRA, SQLite
 * syncs the journal before it changes the file, the file before it removes the journal, and then the folder, before COMMIT
 * returns. A killed program loses nothing of that; nor does a power cut, so far as the disk and its controller tell the truth
 * about what they have written, which no program can check.
 */
#include "record/pawl-record-private.h"

#include <errno.h>
#include <glib/gstdio.h>
#include <unistd.h>

#include "record/pawl-folder.h"
#include "record/pawl-schema.h"

#define BUSY_TIMEOUT_MSEC 5000

static const char SETTINGS[] =
  "PRAGMA foreign_keys = ON;"
  "PRAGMA recursive_triggers = ON;" /* so that INSERT OR REPLACE meets the triggers against deleting, too */
  "PRAGMA cache_size = -16000;"     /* kilobytes: what is searched in a record of 10,000 jobs lies within */
  "PRAGMA cell_size_check = ON;";
static const char SET_SYNCHRONOUS[] = "PRAGMA synchronous = EXTRA";
static const char SET_JOURNAL_MODE[] = "PRAGMA journal_mode = DELETE";
static const char SETTINGS_TO_READ[] =
  "PRAGMA query_only = ON;";

G_DEFINE_QUARK (pawl-record-error-quark, pawl_record_error)

G_DEFINE_FINAL_TYPE (PawlRecord, pawl_record, G_TYPE_OBJECT)

static void
pawl_record_finalize (GObject *object)
{
  PawlRecord *self = PAWL_RECORD (object);

  sqlite3_finalize (self->insert_entry);
  pawl_database_clear (&self->database);

  G_OBJECT_CLASS (pawl_record_parent_class)->finalize (object);
}

static void
pawl_record_class_init (PawlRecordClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pawl_record_finalize;
}

static void
pawl_record_init (PawlRecord *self)
{
  self->thread = g_thread_self ();
}

/* ---- opening ---- */

/* What SQLite would only call "unable to open database file". */
static gboolean
check_place (const char     *path,
             PawlRecordOpen  how,
             GError        **error)
{
  g_autofree char *folder = g_path_get_dirname (path);

  if (g_file_test (path, G_FILE_TEST_IS_DIR))
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NOT_A_RECORD, "%s: not a record: it is a folder", path);
      return FALSE;
    }

  if (how == PAWL_RECORD_OPEN_READ_ONLY)
    {
      int saved_errno;

      if (g_access (path, R_OK) == 0)
        return TRUE;
      saved_errno = errno;
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_IO, "%s: %s", path,
                   saved_errno == ENOENT ? "there is no record here" : g_strerror (saved_errno));
      return FALSE;
    }

  if (!pawl_folder_make (folder))
    {
      int saved_errno = errno;
      gboolean is_denied = saved_errno == EACCES || saved_errno == EROFS || saved_errno == EPERM;

      g_set_error (error, PAWL_RECORD_ERROR, is_denied ? PAWL_RECORD_ERROR_READ_ONLY : PAWL_RECORD_ERROR_IO,
                   "%s: the record's folder can't be made: %s", path, g_strerror (saved_errno));
      return FALSE;
    }

  if (g_access (folder, W_OK | X_OK) != 0)
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY,
                   "%s: the record's folder can't be written, and a write keeps its journal there", path);
      return FALSE;
    }

  return TRUE;
}

static gboolean
open_handle (PawlRecord     *self,
             PawlRecordOpen  how,
             GError        **error)
{
  /*
   * Also for reading: SQLite falls back to a read-only handle where the file can't be written, and where it can, the journal of
   * a write that was cut short must be played back before anything is read. query_only keeps us from writing.
   */
  int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE;

  if (how == PAWL_RECORD_OPEN_CREATE)
    flags |= SQLITE_OPEN_CREATE;

  if (sqlite3_open_v2 (self->database.path, &self->database.handle, flags, NULL) != SQLITE_OK
      || sqlite3_busy_timeout (self->database.handle, BUSY_TIMEOUT_MSEC) != SQLITE_OK
      || sqlite3_db_config (self->database.handle, SQLITE_DBCONFIG_DEFENSIVE, 1, NULL) != SQLITE_OK)
    {
      pawl_database_set_error (&self->database, error);
      return FALSE;
    }

  if (how == PAWL_RECORD_OPEN_CREATE && sqlite3_db_readonly (self->database.handle, "main") != 0)
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY,
                   "%s: the record can be read but not written", self->database.path);
      return FALSE;
    }

  return pawl_database_run (&self->database, SETTINGS, error);
}

static gboolean
check_to_read (PawlRecord *self,
               GError    **error)
{
  guint version;

  if (!pawl_database_run (&self->database, SETTINGS_TO_READ, error)
      || !pawl_schema_identify (&self->database, pawl_schema_n_migrations, &version, error))
    return FALSE;

  if (version == 0)
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NOT_A_RECORD, "%s: not a record: it is empty", self->database.path);
  else if (version < pawl_schema_n_migrations)
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_OLDER,
                 "%s: the record is of the older version %u; open it once where it can be written, so that it is brought up to date",
                 self->database.path, version);

  return version == pawl_schema_n_migrations;
}

/* SQLite does not call it an error when it stays with another mode; it says which one it is in. */
static gboolean
set_journal_mode (PawlRecord *self,
                  GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;

  if (!(statement = pawl_database_prepare (&self->database, error, SET_JOURNAL_MODE, ""))
      || pawl_database_step (&self->database, statement, error) < 0)
    return FALSE;
  if (g_str_equal (pawl_statement_get_text (statement, 0), "delete"))
    return TRUE;

  g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_IO, "%s: the record's journal can't be set up: it stays \"%s\"",
               self->database.path, pawl_statement_get_text (statement, 0));
  return FALSE;
}

/* Identified before anything is set or changed: the file of another program is left as it is. */
static gboolean
prepare_to_write (PawlRecord *self,
                  GError    **error)
{
  guint version;

  return pawl_schema_identify (&self->database, pawl_schema_n_migrations, &version, error)
         && set_journal_mode (self, error)
         && pawl_database_run (&self->database, SET_SYNCHRONOUS, error)
         && pawl_schema_migrate (&self->database, pawl_schema_migrations, pawl_schema_n_migrations, error);
}

/**
 * pawl_record_open:
 * @path: the record's file
 * @how: whether to make it when it isn't there, or only to read
 * @host: (nullable): clock and ids, copied; NULL for pawl_record_host_get_system()
 * @error: %PAWL_RECORD_ERROR_NOT_A_RECORD for any other file, %PAWL_RECORD_ERROR_NEWER, %PAWL_RECORD_ERROR_OLDER only to read, %PAWL_RECORD_ERROR_READ_ONLY for a file or
 *   folder that can't be written, %PAWL_RECORD_ERROR_DAMAGED, %PAWL_RECORD_ERROR_BUSY, %PAWL_RECORD_ERROR_FULL, %PAWL_RECORD_ERROR_IO
 *
 * Opens a record. To write, it makes the folder and the file where they are missing and brings a record of an older version up
 * to date. To read, it changes nothing, and works on a read-only file in a read-only folder; only the leftover of a write that
 * was cut short is put right where that is possible.
 *
 * The record belongs to the thread that opened it. Any number of processes may have the same file open.
 *
 * Returns: (transfer full): the record
 */
PawlRecord *
pawl_record_open (const char           *path,
                  PawlRecordOpen        how,
                  const PawlRecordHost *host,
                  GError              **error)
{
  g_autoptr (PawlRecord) self = NULL;

  g_return_val_if_fail (path != NULL && *path != '\0', NULL);

  if (!check_place (path, how, error))
    return NULL;

  self = g_object_new (PAWL_TYPE_RECORD, NULL);
  self->database.path = g_strdup (path);
  self->host = *(host != NULL ? host : pawl_record_host_get_system ());
  self->is_read_only = how == PAWL_RECORD_OPEN_READ_ONLY;

  if (!open_handle (self, how, error))
    return NULL;
  if (!(self->is_read_only ? check_to_read (self, error) : prepare_to_write (self, error)))
    return NULL;

  return g_steal_pointer (&self);
}

/* ---- small things ---- */

/**
 * pawl_record_get_path:
 * @self: a record
 *
 * Returns: (transfer none): the path that it was opened by
 */
const char *
pawl_record_get_path (PawlRecord *self)
{
  g_return_val_if_fail (PAWL_IS_RECORD (self), NULL);

  return self->database.path;
}

const PawlRecordHost *
pawl_record_peek_host (PawlRecord *self)
{
  g_return_val_if_fail (PAWL_IS_RECORD (self), NULL);

  return &self->host;
}

/**
 * pawl_record_dup_now:
 * @self: a record
 *
 * Returns: (transfer full): what the host's clock says
 */
GDateTime *
pawl_record_dup_now (PawlRecord *self)
{
  g_return_val_if_fail (PAWL_IS_RECORD (self), NULL);

  return self->host.now (self->host.data);
}

gboolean
pawl_record_check_writable (PawlRecord *self,
                            GError    **error)
{
  if (!self->is_read_only)
    return TRUE;

  g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY,
               "%s: the record was opened for reading only; nothing was written", self->database.path);
  return FALSE;
}

void
pawl_record_set_no_such_job (PawlRecord *self,
                             const char *job_id,
                             GError    **error)
{
  g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB,
               "%s: no job \"%s\" in this record", self->database.path, job_id);
}
