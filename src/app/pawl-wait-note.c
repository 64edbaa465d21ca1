#include "app/pawl-wait-note.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

/* ---- on the desktop ---- */

char *
pawl_wait_note_make_title (const PawlWaiting *wait, PawlWaitingStage stage, GDateTime *now)
{
  g_autofree char *latest = wait->latest != NULL ? pawl_phrase_format_clock (wait->latest, now) : NULL;

  switch (stage)
    {
    case PAWL_WAITING_CLOSING:
      return g_strdup_printf (_("%s: must be out by %s"), wait->name, latest);
    case PAWL_WAITING_LATE:
      return g_strdup_printf (_("%s: should have been out by %s"), wait->name, latest);
    case PAWL_WAITING_EARLY:
    case PAWL_WAITING_RIPE:
    default:
      return g_strdup_printf (_("%s: may come out"), wait->name);
    }
}

static char *
make_body (const PawlWaiting *wait, PawlWaitingStage stage, GDateTime *now)
{
  g_autofree char *latest = wait->latest != NULL ? pawl_phrase_format_clock (wait->latest, now) : NULL;

  return stage == PAWL_WAITING_RIPE && latest != NULL ? g_strdup_printf (_("%s. By %s at the latest."), wait->title, latest) : g_strdup (wait->title);
}

GNotification *
pawl_wait_note_make_notification (const PawlWaiting *wait, PawlWaitingStage stage, GDateTime *now)
{
  g_autofree char *title = pawl_wait_note_make_title (wait, stage, now), *body = make_body (wait, stage, now);
  GNotification *notification = g_notification_new (title);

  g_notification_set_body (notification, body);
  g_notification_set_priority (notification, stage == PAWL_WAITING_RIPE ? G_NOTIFICATION_PRIORITY_NORMAL : G_NOTIFICATION_PRIORITY_HIGH);
  g_notification_set_default_action_and_target (notification, "app.open-job", "(ss)", wait->job, wait->step);
  return notification;
}

char *
pawl_wait_note_make_id (const PawlWaiting *wait)
{
  return g_strdup_printf ("wait-%s-%s", wait->job, wait->ask);
}

/* ---- in the record ---- */

char *
pawl_wait_note_describe_jump (gint64 jump_seconds)
{
  g_autofree char *duration = pawl_phrase_format_duration (ABS (jump_seconds));

  return jump_seconds > 0 ? g_strdup_printf (_("The clock was put forward by %s."), duration) : g_strdup_printf (_("The clock was put back by %s."), duration);
}

/* Another window, or this one before it was closed, may have seen the same. */
static gboolean
is_noted (PawlJob *job, const PawlWaiting *wait, GDateTime *since)
{
  GPtrArray *entries = pawl_job_get_entries (job);

  for (guint i = entries->len; i > 0; i--)
    {
      const PawlEntry *entry = entries->pdata[i - 1];

      if (pawl_entry_get (entry, "clock-shift") != NULL && g_strcmp0 (pawl_entry_get (entry, "wait"), wait->ask) == 0
          && g_date_time_compare (pawl_entry_peek_at (entry), since) >= 0)
        return TRUE;
    }
  return FALSE;
}

gboolean
pawl_wait_note_append (PawlBench *bench, const PawlWaiting *wait, gint64 jump_seconds, GDateTime *since, GError **error)
{
  g_autoptr(GDateTime) now = pawl_bench_now (bench), begun = g_date_time_add_seconds (wait->started, (double) jump_seconds);
  g_autoptr(PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_NOTED, wait->step, PAWL_WAIT_NOTE_PERSON, now);
  g_autofree char *jump = pawl_wait_note_describe_jump (jump_seconds), *shift = g_strdup_printf ("%" G_GINT64_FORMAT, jump_seconds);
  g_autofree char *at = pawl_phrase_format_clock (begun, now);
  g_autofree char *text = g_strdup_printf (_("%s “%s” ran meanwhile, and is counted by steady time: by the clock as it is now, it began at %s."), jump, wait->name, at);

  if (is_noted (pawl_bench_get_job (bench), wait, since))
    return TRUE;
  pawl_entry_set (entry, "text", text);
  pawl_entry_set (entry, "wait", wait->ask);
  pawl_entry_set (entry, "clock-shift", shift);
  return pawl_bench_append_one (bench, entry, error);
}
