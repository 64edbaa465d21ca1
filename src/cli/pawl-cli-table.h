/* What find and trace share: how a job is told in a line, in JSON and in a table. */
#pragma once

#include "cli/pawl-cli.h"
#include "recall/pawl-csv.h"
#include "record/pawl-record-recall.h"

G_BEGIN_DECLS

/* "a1b2c3d4  2026-05-04  ST-9 strainer, serial SN-1, work order none, Hosken Farm" without a line end. */
void     pawl_cli_print_opening (const PawlOpening *opening);
/* Members of an object that is begun. */
void     pawl_cli_add_opening   (JsonBuilder *builder, const PawlOpening *opening);

/* (transfer full): when it was opened, as other times of the command are written: 2026-05-04T09:15:00+02:00 */
char    *pawl_cli_format_opened (const PawlOpening *opening);

/* @opened: as pawl_cli_format_opened() gives it. */
#define PAWL_CLI_OPENING_COLUMNS "job", "opened", "unit", "serial", "work-order", "customer", "procedure", "revision"
#define PAWL_CLI_OPENING_FIELDS(o, opened) (o)->job, (opened), (o)->unit, (o)->serial, (o)->work_order, (o)->customer, (o)->procedure, (o)->revision

/* FALSE, and said, when both are wanted. */
gboolean pawl_cli_check_table_options (const char *command, gboolean is_json, gboolean is_csv);

G_END_DECLS
