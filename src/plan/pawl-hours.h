/*
 * Working hours of the bench: "08:00-17:00 Mon-Fri", "08:00-12:00 Mon-Fri, 13:00-17:00 Mon-Thu", or none. Hands are there only then; what waits, waits on through
 * the night. They are the hours of the clock on the wall; a plan takes them by the offset of its beginning, so that through a change of summer time it is an hour off.
 */
#pragma once

#include "plan/pawl-times.h"

G_BEGIN_DECLS

#define PAWL_HOURS_ERROR (pawl_hours_error_quark ())
GQuark pawl_hours_error_quark (void);

typedef enum {
  PAWL_HOURS_ERROR_BAD, /* the message says what would be right */
} PawlHoursError;

#define PAWL_HOURS_WEEK (7 * 24 * 3600)

/**
 * pawl_hours_parse:
 * @text: "" or "none" for any hour; else parts with commas between, each HH:MM-HH:MM and, unless it is every day, days: "Mon", "Mon-Fri", "Sat-Mon". 24:00 is
 *   midnight; a part that ends before it begins goes on until the next day
 * @hours: (out) (transfer full) (nullable): seconds of the week, from Monday 00:00; NULL: any hour
 * @error: PAWL_HOURS_ERROR_BAD
 */
gboolean   pawl_hours_parse (const char *text, PawlTimes **hours, GError **error);

G_END_DECLS
