/*
 * A job for other programs: tables, and readings as results in XML. Pure: the same job gives the same bytes.
 *
 * Tables are several, each with its own columns, because an RFC 4180 file has one header: job, steps, answers, readings, parts, deviations,
 * entries. What was typed stays as it was typed, beside the number in the limits' unit.
 */
#pragma once

#include "job/pawl-job.h"

G_BEGIN_DECLS

typedef struct {
  const char *name; /* static: "readings" */
  GString    *csv;
} PawlExportTable;

/* @head: digest of the job's last entry. (transfer full) (element-type PawlExportTable) */
GPtrArray *pawl_export_list_tables   (PawlJob *job, const char *head);
/* (nullable): of @tables */
const PawlExportTable *pawl_export_find_table (GPtrArray *tables, const char *name);
/* (transfer full): "job, steps, …" */
char      *pawl_export_name_tables   (void);
/* NAME.csv of each into @folder, which is made when it is not there; other files in it stay. @error: G_FILE_ERROR */
gboolean   pawl_export_write_tables  (GPtrArray *tables, const char *folder, GError **error);

/* (transfer full): readings as XML, "QIF-shaped"; see pawl-export-results.c. */
char      *pawl_export_format_results (PawlJob *job, const char *head);

G_END_DECLS
