/* A database of PostgreSQL as a store. README tells how to make one, and for whom it grants what. */
#pragma once

#include "share/pawl-store.h"

G_BEGIN_DECLS

#define PAWL_TYPE_STORE_POSTGRES (pawl_store_postgres_get_type ())
G_DECLARE_FINAL_TYPE (PawlStorePostgres, pawl_store_postgres, PAWL, STORE_POSTGRES, PawlStore)

/* @uri: as libpq reads it. It may have a password in it, which is shown nowhere. */
PawlStore  *pawl_store_postgres_new      (const char *uri, GError **error);

G_END_DECLS
