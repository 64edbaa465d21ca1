/* What a reading is taken with: the register's instruments of its kind, or another; how the chosen one stands, and whether it is fine enough. */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"

G_BEGIN_DECLS

#define PAWL_TYPE_INSTRUMENT_CHOICE (pawl_instrument_choice_get_type ())
G_DECLARE_FINAL_TYPE (PawlInstrumentChoice, pawl_instrument_choice, PAWL, INSTRUMENT_CHOICE, GtkWidget)

GtkWidget  *pawl_instrument_choice_new      (PawlSession *session, const PawlAsk *ask);
/* Puts the job's state and the register's on the widgets. @is_open: it can be answered now; else nothing is shown. */
void        pawl_instrument_choice_update   (PawlInstrumentChoice *self, PawlJob *job, const PawlAskState *state, gboolean is_open);
/* (nullable): mark of the chosen one; NULL for another, or not stated */
const char *pawl_instrument_choice_get_mark (PawlInstrumentChoice *self);
/* Chooses @mark, of whatever kind it is: it has typed. */
void        pawl_instrument_choice_take     (PawlInstrumentChoice *self, const char *mark);

G_END_DECLS
