/* A connection to PostgreSQL on which nothing waits without an end. Private to its driver. */
#pragma once

#include <libpq-fe.h>

#include "share/pawl-store.h"

G_BEGIN_DECLS

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PGresult, PQclear)

typedef struct {
  PGconn    *handle; /* (nullable) while it is away */
  PawlStore *store;  /* borrowed: whose it is */
} PawlPostgres;

/* What goes with a $ of a statement. */
typedef struct {
  const char *text;  /* (nullable) */
  GBytes     *bytes; /* (nullable): as they are */
} PawlPostgresValue;

/* (transfer full): what of @uri may be shown. PAWL_STORE_ERROR_ADDRESS, with nothing of it in the message, when it can't be read. */
char     *pawl_postgres_dup_address (const char *uri, GError **error);
/* (transfer full): all that says which database that is, with what the environment adds; for a digest. */
char     *pawl_postgres_dup_place   (const char *uri, GError **error);

gboolean  pawl_postgres_connect (PawlPostgres *self, const char *uri, GError **error);
void      pawl_postgres_close   (PawlPostgres *self);
/* One statement with @n values, or with none several between semicolons; the result of the last one. @is_binary: what comes back. */
PGresult *pawl_postgres_run     (PawlPostgres *self, const char *sql, const PawlPostgresValue *values, int n, gboolean is_binary, GError **error);
gboolean  pawl_postgres_do      (PawlPostgres *self, const char *sql, GError **error);
/* Leaves a transaction that failed; a connection that is gone has none. */
void      pawl_postgres_roll_back (PawlPostgres *self);
/* As pawl_store_wait(). */
void      pawl_postgres_wait    (PawlPostgres *self, int wake_fd, int timeout_msec);

/* (transfer full): {"one","two"} of texts. */
typedef const char *(*PawlPostgresText) (gconstpointer item);
char     *pawl_postgres_dup_array (GPtrArray *items, PawlPostgresText get_text);

G_END_DECLS
