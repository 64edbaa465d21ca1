/*
 * The line at the foot of the window of a shop with a server: whether the server has all of it, or since when it is away and what waits.
 * It is there only when the record is a shared one, and stays.
 *
 * Signal "came": entries of other benches are in the record now.
 */
#pragma once

#include <gtk/gtk.h>

#include "record/pawl-record.h"

G_BEGIN_DECLS

#define PAWL_TYPE_SHARE_LINE (pawl_share_line_get_type ())
G_DECLARE_FINAL_TYPE (PawlShareLine, pawl_share_line, PAWL, SHARE_LINE, GtkBox)

/*
 * Opens the record at @place: a file, or the copy of a shop's, which is kept together with its server from then on, away from the main loop.
 * Errors as of pawl_record_open(); and PAWL_STORE_ERROR_ADDRESS.
 */
PawlRecord *pawl_share_line_open (PawlShareLine *self, const char *place, PawlRecordOpen how, const PawlRecordHost *host, GError **error);
/* Something may have been appended. */
void        pawl_share_line_tell (PawlShareLine *self);
/* Lets go of the server, and waits until what is under way there has ended. */
void        pawl_share_line_stop (PawlShareLine *self);
const char *pawl_share_line_get_text (PawlShareLine *self); /* "" while it says nothing */

G_END_DECLS
