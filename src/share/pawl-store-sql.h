/* The tables that a store in PostgreSQL consists of, also for whoever has no libpq at hand. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define PAWL_STORE_SQL_VERSION 1

/* All that makes them, to be run once by the owner of the database. */
const char *pawl_store_sql_peek_tables (void);
/* What lets a bench use them, with the role's name as “bench”. */
const char *pawl_store_sql_peek_grants (void);

G_END_DECLS
