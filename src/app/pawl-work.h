/* Work away from the main loop, which the program waits for before it ends. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/**
 * pawl_work_start:
 * @task: its callback has run when the work counts as done; what it holds is let go of on the main loop, never in the thread
 * @page: a widget in a window of the application; outside of one nothing waits
 * @work: runs in a thread, gets what g_task_run_in_thread() would give it, and returns from @task there
 *
 * Closing the last window while a report is being saved must not leave half a job undone, and a thread that is still shaping text
 * when main returns reads what the libraries' exit handlers have freed. So the application is held until then.
 *
 * Work for a window that is not on the screen yet begins after its first frame: on few processors it would only delay that.
 */
void pawl_work_start (GTask *task, GtkWidget *page, GTaskThreadFunc work);

G_END_DECLS
