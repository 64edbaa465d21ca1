/* SQLite with every result checked: statements, transactions, and errors that name the file. Private to the record. */
#pragma once

#include <gio/gio.h>
#include <sqlite3.h>

G_BEGIN_DECLS

G_DEFINE_AUTOPTR_CLEANUP_FUNC (sqlite3_stmt, sqlite3_finalize)

typedef struct {
  sqlite3 *handle;
  char    *path; /* for messages */
} PawlDatabase;

void          pawl_database_clear     (PawlDatabase *self);
/* Turns SQLite's latest error on this connection into a sentence with the path. */
void          pawl_database_set_error (const PawlDatabase *self, GError **error);

/*
 * @types: one letter for each ? of @sql, the values follow: s (const char *), i (gint64), b (GBytes *).
 * step: 1 a row, 0 no more rows, -1 error set.
 */
sqlite3_stmt *pawl_database_prepare   (const PawlDatabase *self, GError **error, const char *sql, const char *types, ...);
int           pawl_database_step      (const PawlDatabase *self, sqlite3_stmt *statement, GError **error);
gboolean      pawl_database_execute   (const PawlDatabase *self, GError **error, const char *sql, const char *types, ...);
/* The same with a statement that is prepared once and kept in *@kept, for what is done over and over; to be freed with sqlite3_finalize(). */
gboolean      pawl_database_execute_kept (const PawlDatabase *self, sqlite3_stmt **kept, GError **error, const char *sql, const char *types, ...);
/* Several statements that take and give nothing. */
gboolean      pawl_database_run       (const PawlDatabase *self, const char *sql, GError **error);
/* The single number that @sql gives, 0 when it gives no row. */
gboolean      pawl_database_query_int (const PawlDatabase *self, const char *sql, gint64 *value, GError **error);
/* (transfer none) valid until the next step; "" for NULL. */
const char   *pawl_statement_get_text (sqlite3_stmt *statement, int column);

typedef enum {
  PAWL_TRANSACTION_READ,  /* one unchanging view of the file */
  PAWL_TRANSACTION_WRITE, /* takes the write lock at once, so that what is read inside it stays true */
} PawlTransactionKind;

/* Freed before it is committed, it rolls back. */
typedef struct _PawlTransaction PawlTransaction;

PawlTransaction *pawl_transaction_begin  (const PawlDatabase *database, PawlTransactionKind kind, GError **error);
gboolean         pawl_transaction_commit (PawlTransaction *self, GError **error); /* (transfer full) self */
void             pawl_transaction_free   (PawlTransaction *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlTransaction, pawl_transaction_free)

G_END_DECLS
