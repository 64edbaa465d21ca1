/*
 * A record that a shop shares, for a command: the bench's copy, brought up to date before the command and sent after it. A server that is
 * away keeps no command from its work; it is said on stderr.
 *
 * What is kept here between the two is the process's one record, which is why it is no argument of forty commands.
 */
#pragma once

#include "share/pawl-share.h"

G_BEGIN_DECLS

/* As pawl_record_open(), of the copy. Fails on an address that can't be read and on a copy that can't, not on a server that is away. */
PawlRecord *pawl_cli_share_open    (const char *address, PawlRecordOpen how, GError **error);
/* What the command appended is sent, or said to wait. @command: "pawl work". Does nothing when no shared record was opened. */
void        pawl_cli_share_finish  (const char *command);
/* One line on stdout, and one for each job that is refused: whether the server has all. Returns FALSE when it has not, or something is refused. */
gboolean    pawl_cli_share_print   (void);
/* Adds what the server has and should not have, or the other way round, to @findings, of one job or of all; nothing when it is away. */
gboolean    pawl_cli_share_compare (const char *job_id, GPtrArray *findings, GError **error);
/* Opens the record of @address for “pawl share”; with @is_again everything is compared anew. */
gboolean    pawl_cli_share_begin   (const char *address, gboolean is_again, GError **error);

G_END_DECLS
