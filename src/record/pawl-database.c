#include "record/pawl-database.h"

#include <errno.h>

#include "record/pawl-record.h"

struct _PawlTransaction {
  const PawlDatabase *database;
};

void
pawl_database_clear (PawlDatabase *self)
{
  /* _v2 closes even when a statement outlives us by mistake: nothing keeps the file open for ever. */
  sqlite3_close_v2 (g_steal_pointer (&self->handle));
  g_clear_pointer (&self->path, g_free);
}

/* ---- errors ---- */

/*
 * What the system said to a write. SQLite's own note of it is errno as it stands when the call ends, by which time its cleaning up
 * has often overwritten it; the file remembers the error of its last write.
 */
static int
get_write_errno (const PawlDatabase *self)
{
  int write_errno = 0;

  if (sqlite3_file_control (self->handle, "main", SQLITE_FCNTL_LAST_ERRNO, &write_errno) == SQLITE_OK && write_errno != 0)
    return write_errno;

  return sqlite3_system_errno (self->handle);
}

/* SQLite calls only ENOSPC "full"; a quota or a size limit is the same to the person at the bench. */
static gboolean
is_out_of_room (const PawlDatabase *self,
                int                 extended)
{
  if (extended == SQLITE_IOERR_WRITE || extended == SQLITE_IOERR_FSYNC)
    {
      int write_errno = get_write_errno (self);

      return write_errno == EDQUOT || write_errno == EFBIG || write_errno == ENOSPC;
    }

  return (extended & 0xff) == SQLITE_FULL;
}

static const char *
explain_read_only (int extended)
{
  switch (extended)
    {
    case SQLITE_READONLY_DBMOVED:
      return "the record was moved, replaced or removed while it was open; nothing was written";
    case SQLITE_READONLY_ROLLBACK:
    case SQLITE_READONLY_RECOVERY:
    case SQLITE_READONLY_CANTLOCK:
      return "a write was cut short here; open the record once where it can be written, so that it is put right";
    case SQLITE_READONLY_DIRECTORY:
      return "the record's folder can't be written, and a write keeps its journal there; nothing was written";
    default:
      return "the record can be read but not written; nothing was written";
    }
}

void
pawl_database_set_error (const PawlDatabase *self,
                         GError            **error)
{
  int extended = self->handle != NULL ? sqlite3_extended_errcode (self->handle) : SQLITE_NOMEM;
  int system_errno = self->handle != NULL ? sqlite3_system_errno (self->handle) : 0;
  int primary = extended & 0xff;

  if (is_out_of_room (self, extended))
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_FULL,
                 "%s: there is no room left for the record; nothing was written. Make room, then try again", self->path);
  else if (primary == SQLITE_BUSY || primary == SQLITE_LOCKED)
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_BUSY,
                 "%s: another program holds the record; nothing was written. Try again when it has finished", self->path);
  else if (primary == SQLITE_READONLY || primary == SQLITE_PERM)
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY, "%s: %s", self->path, explain_read_only (extended));
  else if (primary == SQLITE_CANTOPEN && (system_errno == EACCES || system_errno == EROFS || system_errno == EPERM))
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_READ_ONLY,
                 "%s: no permission: %s", self->path, g_strerror (system_errno));
  else if (primary == SQLITE_CORRUPT)
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED,
                 "%s: the record is damaged and can't be read here (%s). Set this file aside as it is, and go on from the last good copy",
                 self->path, sqlite3_errmsg (self->handle));
  else if (primary == SQLITE_NOTADB)
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NOT_A_RECORD,
                 "%s: not a record: it does not begin as an SQLite file does", self->path);
  else if (system_errno != 0)
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_IO,
                 "%s: %s (%s)", self->path, sqlite3_errmsg (self->handle), g_strerror (system_errno));
  else
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_IO,
                 "%s: %s", self->path, self->handle != NULL ? sqlite3_errmsg (self->handle) : "out of memory");
}

/* ---- statements ---- */

static int
bind_bytes (sqlite3_stmt *statement,
            int           column,
            GBytes       *bytes)
{
  gsize size;
  gconstpointer data = g_bytes_get_data (bytes, &size);

  /* A NULL pointer would bind NULL, and no bytes are not the same as nothing. */
  return sqlite3_bind_blob64 (statement, column, size > 0 ? data : "", size, SQLITE_TRANSIENT);
}

static int
bind_all (sqlite3_stmt *statement,
          const char   *types,
          va_list       values)
{
  int rc = SQLITE_OK;

  for (int i = 0; types[i] != '\0' && rc == SQLITE_OK; i++)
    switch (types[i])
      {
      case 's':
        rc = sqlite3_bind_text (statement, i + 1, va_arg (values, const char *), -1, SQLITE_TRANSIENT);
        break;
      case 'i':
        rc = sqlite3_bind_int64 (statement, i + 1, va_arg (values, gint64));
        break;
      case 'b':
        rc = bind_bytes (statement, i + 1, va_arg (values, GBytes *));
        break;
      default:
        g_assert_not_reached ();
      }

  return rc;
}

static sqlite3_stmt *
prepare_and_bind (const PawlDatabase *self,
                  GError            **error,
                  const char         *sql,
                  const char         *types,
                  va_list             values)
{
  g_autoptr (sqlite3_stmt) statement = NULL;

  if (sqlite3_prepare_v2 (self->handle, sql, -1, &statement, NULL) != SQLITE_OK || bind_all (statement, types, values) != SQLITE_OK)
    {
      pawl_database_set_error (self, error);
      return NULL;
    }

  return g_steal_pointer (&statement);
}

sqlite3_stmt *
pawl_database_prepare (const PawlDatabase *self,
                       GError            **error,
                       const char         *sql,
                       const char         *types,
                       ...)
{
  sqlite3_stmt *statement;
  va_list values;

  va_start (values, types);
  statement = prepare_and_bind (self, error, sql, types, values);
  va_end (values);

  return statement;
}

int
pawl_database_step (const PawlDatabase *self,
                    sqlite3_stmt       *statement,
                    GError            **error)
{
  switch (sqlite3_step (statement))
    {
    case SQLITE_ROW:
      return 1;
    case SQLITE_DONE:
      return 0;
    default:
      pawl_database_set_error (self, error);
      return -1;
    }
}

gboolean
pawl_database_execute (const PawlDatabase *self,
                       GError            **error,
                       const char         *sql,
                       const char         *types,
                       ...)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  va_list values;

  va_start (values, types);
  statement = prepare_and_bind (self, error, sql, types, values);
  va_end (values);

  return statement != NULL && pawl_database_step (self, statement, error) == 0;
}

gboolean
pawl_database_execute_kept (const PawlDatabase *self,
                            sqlite3_stmt      **kept,
                            GError            **error,
                            const char         *sql,
                            const char         *types,
                            ...)
{
  gboolean is_done;
  va_list values;

  va_start (values, types);
  if (*kept == NULL)
    is_done = (*kept = prepare_and_bind (self, error, sql, types, values)) != NULL;
  else if (!(is_done = bind_all (*kept, types, values) == SQLITE_OK))
    pawl_database_set_error (self, error);
  va_end (values);

  is_done = is_done && pawl_database_step (self, *kept, error) == 0;
  sqlite3_reset (*kept); /* what it returns is the error of the step, told already; NULL is allowed */
  return is_done;
}

gboolean
pawl_database_run (const PawlDatabase *self,
                   const char         *sql,
                   GError            **error)
{
  if (sqlite3_exec (self->handle, sql, NULL, NULL, NULL) == SQLITE_OK)
    return TRUE;

  pawl_database_set_error (self, error);
  return FALSE;
}

gboolean
pawl_database_query_int (const PawlDatabase *self,
                         const char         *sql,
                         gint64             *value,
                         GError            **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  if (!(statement = pawl_database_prepare (self, error, sql, "")))
    return FALSE;
  if ((more = pawl_database_step (self, statement, error)) < 0)
    return FALSE;

  *value = more > 0 ? sqlite3_column_int64 (statement, 0) : 0;
  return TRUE;
}

const char *
pawl_statement_get_text (sqlite3_stmt *statement,
                         int           column)
{
  const char *text = (const char *) sqlite3_column_text (statement, column);

  return text != NULL ? text : "";
}

/* ---- transactions ---- */

PawlTransaction *
pawl_transaction_begin (const PawlDatabase *database,
                        PawlTransactionKind kind,
                        GError            **error)
{
  PawlTransaction *self;

  if (!pawl_database_run (database, kind == PAWL_TRANSACTION_WRITE ? "BEGIN IMMEDIATE" : "BEGIN", error))
    return NULL;

  self = g_new (PawlTransaction, 1);
  self->database = database;
  return self;
}

gboolean
pawl_transaction_commit (PawlTransaction *self,
                         GError         **error)
{
  g_autoptr (PawlTransaction) transaction = self;

  return pawl_database_run (transaction->database, "COMMIT", error);
}

void
pawl_transaction_free (PawlTransaction *self)
{
  /*
   * SQLite rolls back by itself on some errors, and is then back in autocommit. What a rollback itself reports adds nothing:
   * the error that led here is already told, and a journal left behind is played back at the next open.
   */
  if (!sqlite3_get_autocommit (self->database->handle))
    sqlite3_exec (self->database->handle, "ROLLBACK", NULL, NULL, NULL);

  g_free (self);
}
