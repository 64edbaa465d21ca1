/* The kinds of ask rows, for pawl_ask_row_new() only. */
#pragma once

#include "app/pawl-ask-row.h"

G_BEGIN_DECLS

GType pawl_fit_row_get_type     (void);
GType pawl_check_row_get_type   (void);
GType pawl_reading_row_get_type (void);
GType pawl_wait_row_get_type    (void);
GType pawl_decide_row_get_type  (void);
GType pawl_note_row_get_type    (void);

G_END_DECLS
