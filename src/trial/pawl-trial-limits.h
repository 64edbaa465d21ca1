/* The limits that the helper puts on itself. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Memory, computing time, open files; no file grows, no core is left, no rights are won, and the process ends with the thread that
 * started it. FALSE when one of them can't be set: then nothing may be drawn. */
gboolean pawl_trial_limit_self (void);

G_END_DECLS
