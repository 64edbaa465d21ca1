/* What is said of a wait: on the desktop, and in the record when the clock was changed while it ran. */
#pragma once

#include <gio/gio.h>
#include "bench/pawl-bench.h"
#include "plan/pawl-waiting.h"

G_BEGIN_DECLS

/* Whoever writes down that the clock was changed: nobody did it here. */
#define PAWL_WAIT_NOTE_PERSON "Pawl"

/* (transfer full): "Soak of the body: must be out by 14:40"; of a wait that has come to @stage: never PAWL_WAITING_EARLY. */
char          *pawl_wait_note_make_title        (const PawlWaiting *wait, PawlWaitingStage stage, GDateTime *now);
/* (transfer full): of a wait that has come to @stage: never PAWL_WAITING_EARLY. A click on it opens the job: "app.open-job", (ss). */
GNotification *pawl_wait_note_make_notification (const PawlWaiting *wait, PawlWaitingStage stage, GDateTime *now);
/* (transfer full): what it is sent and withdrawn by. */
char          *pawl_wait_note_make_id           (const PawlWaiting *wait);
/* (transfer full): "The clock was put forward by 1 h." */
char          *pawl_wait_note_describe_jump     (gint64 jump_seconds);
/* Notes in the job that the clock was put forward by @jump_seconds while @wait ran, unless that is noted already. @since: not before this was it changed, by the
 * clock as it is now. */
gboolean       pawl_wait_note_append            (PawlBench *bench, const PawlWaiting *wait, gint64 jump_seconds, GDateTime *since, GError **error);

G_END_DECLS
