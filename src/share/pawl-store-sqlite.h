/* A record's file as a store: on a folder that the benches share, or beside them in a test. It is an ordinary record, and stays one. */
#pragma once

#include "share/pawl-store.h"

G_BEGIN_DECLS

#define PAWL_TYPE_STORE_SQLITE (pawl_store_sqlite_get_type ())
G_DECLARE_FINAL_TYPE (PawlStoreSqlite, pawl_store_sqlite, PAWL, STORE_SQLITE, PawlStore)

/* @path: made when it isn't there. @address: as it is shown. */
PawlStore *pawl_store_sqlite_new (const char *path, const char *address);

G_END_DECLS
