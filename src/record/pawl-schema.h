/* The tables of a record, and how an older record becomes a newer one. Private to the record. */
#pragma once

#include "record/pawl-database.h"

G_BEGIN_DECLS

#define PAWL_SCHEMA_APPLICATION_ID 0x5061776c /* "Pawl", in the file's header */

/* How the jobs' own marks are found in an opening entry; the indexes of version 1 are built on exactly these words. */
#define PAWL_SQL_SERIAL     "CASE WHEN json_valid (body) THEN json_extract (body, '$.serial') END"
#define PAWL_SQL_WORK_ORDER "CASE WHEN json_valid (body) THEN json_extract (body, '$.work-order') END"

/* Migration n (from 0) takes a record of version n to version n + 1. */
extern const char *const pawl_schema_migrations[];
extern const guint       pawl_schema_n_migrations;

/* (not const) user_version of the file; 0 when it has no tables yet. Refuses the files of other programs and of later versions. */
gboolean pawl_schema_identify (const PawlDatabase *database, guint n_migrations, guint *version, GError **error);
/* Runs the migrations that the file still lacks, each in a transaction of its own. */
gboolean pawl_schema_migrate  (const PawlDatabase *database, const char *const *migrations, guint n_migrations, GError **error);
/* (transfer full): a line for every table, index and trigger with its SQL, sorted; equal for equal versions. */
GPtrArray *pawl_schema_list   (const PawlDatabase *database, GError **error);
/* (transfer full): the same, of a record fresh from the migrations. */
GPtrArray *pawl_schema_list_expected (GError **error);

G_END_DECLS
