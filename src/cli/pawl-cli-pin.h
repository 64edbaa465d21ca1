/* Reading a PIN: never an argument, which every process may see. */
#pragma once

#include "record/pawl-people.h"

G_BEGIN_DECLS

#define PAWL_CLI_MAX_LINE 256 /* bytes with the end: a PIN, or the text of a seal */

/* From the terminal without showing it, or a line of standard input. */
gboolean    pawl_cli_read_pin      (const char *prompt, char pin[PAWL_CLI_MAX_LINE], GError **error);
/* Asks for @name's PIN, and checks it. */
gboolean    pawl_cli_prove         (PawlRecord *record, const char *name, GError **error);
/* (transfer full): @name, (nullable), who is a trainer or an owner and gave their PIN */
PawlPerson *pawl_cli_prove_trainer (PawlRecord *record, const char *name, GError **error);

G_END_DECLS
