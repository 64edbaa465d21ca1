#include "app/pawl-wait-watch.h"

#include <glib/gi18n.h>
#include "app/pawl-alarm.h"
#include "app/pawl-wait-memory.h"
#include "app/pawl-wait-note.h"
#include "app/pawl-wait-task.h"

/* More than enough for the bus, which is on this machine. */
#define BUS_LIMIT_MS 500

struct _PawlWaitWatch {
  GObject parent_instance;

  /* borrowed */
  GtkWidget        *window;
  GApplication     *application;
  const PawlSteady *steady;

  /* owned */
  PawlRecord     *record;      /* (nullable) */
  PawlBench      *bench;       /* (nullable) */
  char           *language;    /* (nullable) */
  GCancellable   *cancellable; /* (nullable) of the list that is being read */
  GPtrArray      *waits;       /* (element-type PawlWaiting) */
  GHashTable     *sent;        /* (element-type utf8) ids of what stands on the desktop */
  char           *said_id;     /* (nullable) id of what was said here last, without a desktop, */
  char           *said;        /* and what it was */
  PawlWaitMemory *memory;
  PawlAlarm      *alarm;

  gboolean        is_ready;
};

enum { JOB_WANTED, SAID, UNSAID, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlWaitWatch, pawl_wait_watch, G_TYPE_OBJECT)

static void read_waits (PawlWaitWatch *self);

/* ---- the desktop ---- */

static void
say (PawlWaitWatch *self, const char *text)
{
  g_signal_emit (self, signals[SAID], 0, text);
}

static void
withdraw (PawlWaitWatch *self, const char *id)
{
  g_application_withdraw_notification (self->application, id);
}

/* Whether the bus knows of @name: owned, or started when it is wanted. */
static gboolean
is_name_known (GDBusConnection *bus, const char *name)
{
  g_autoptr(GVariant) owned = g_dbus_connection_call_sync (bus, "org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus", "NameHasOwner", g_variant_new ("(s)", name),
                                                           G_VARIANT_TYPE ("(b)"), G_DBUS_CALL_FLAGS_NONE, BUS_LIMIT_MS, NULL, NULL);
  g_autoptr(GVariant) startable = NULL;
  g_autofree const char **names = NULL;
  gboolean has_owner = FALSE;

  if (owned != NULL)
    g_variant_get (owned, "(b)", &has_owner);
  if (has_owner)
    return TRUE;
  startable = g_dbus_connection_call_sync (bus, "org.freedesktop.DBus", "/org/freedesktop/DBus", "org.freedesktop.DBus", "ListActivatableNames", NULL,
                                           G_VARIANT_TYPE ("(as)"), G_DBUS_CALL_FLAGS_NONE, BUS_LIMIT_MS, NULL, NULL);
  if (startable == NULL)
    return FALSE;
  g_variant_get (startable, "(^a&s)", &names);
  return g_strv_contains (names, name);
}

/* Whether there is a desktop that takes notifications; GIO finds out only when it is too late to tell the user otherwise. The bus itself answers at once. */
static gboolean
has_desktop (PawlWaitWatch *self)
{
  GDBusConnection *bus = g_application_get_dbus_connection (self->application);

  return bus != NULL && (is_name_known (bus, "org.freedesktop.Notifications") || is_name_known (bus, "org.gtk.Notifications")
                         || (g_file_test ("/.flatpak-info", G_FILE_TEST_EXISTS) && is_name_known (bus, "org.freedesktop.portal.Desktop")));
}

/* What is true no longer goes: the wait was ended, or taken back. */
static void
withdraw_old (PawlWaitWatch *self)
{
  g_autoptr(GHashTable) true_still = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  GHashTableIter iter;
  gpointer id;

  for (guint i = 0; i < self->waits->len; i++)
    g_hash_table_add (true_still, pawl_wait_note_make_id (self->waits->pdata[i]));
  if (self->said_id != NULL && !g_hash_table_contains (true_still, self->said_id))
    {
      g_signal_emit (self, signals[UNSAID], 0, self->said);
      g_clear_pointer (&self->said_id, g_free);
    }
  g_hash_table_iter_init (&iter, self->sent);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    if (!g_hash_table_contains (true_still, id))
      {
        withdraw (self, id);
        g_hash_table_iter_remove (&iter);
      }
}

/* In the window, in place of the desktop. */
static void
say_here (PawlWaitWatch *self, const PawlWaiting *wait, PawlWaitingStage stage, GDateTime *now)
{
  g_autofree char *title = pawl_wait_note_make_title (wait, stage, now);

  g_free (self->said_id);
  g_free (self->said);
  self->said_id = pawl_wait_note_make_id (wait);
  self->said = g_strdup_printf ("%s (%s)", title, wait->title);
  say (self, self->said);
}

static void
tell (PawlWaitWatch *self, const PawlWaiting *wait, GDateTime *now)
{
  PawlWaitingStage stage = pawl_waiting_get_stage (wait, now), told = pawl_wait_memory_get_told (self->memory, wait);
  g_autofree char *id = pawl_wait_note_make_id (wait);
  g_autoptr(GNotification) notification = NULL;

  if (stage == told)
    return;
  pawl_wait_memory_set_told (self->memory, wait, stage);
  if (stage < told) /* it was begun anew */
    {
      withdraw (self, id);
      g_hash_table_remove (self->sent, id);
    }
  if (stage == PAWL_WAITING_EARLY)
    return;
  if (!has_desktop (self))
    {
      say_here (self, wait, stage, now);
      return;
    }
  notification = pawl_wait_note_make_notification (wait, stage, now);
  g_application_send_notification (self->application, id, notification);
  g_hash_table_add (self->sent, g_steal_pointer (&id));
}

/* ---- the clock ---- */

static void
note_jump (PawlWaitWatch *self, const PawlWaiting *wait, gint64 jump, GDateTime *since)
{
  gboolean is_in_hand = self->bench != NULL && g_str_equal (pawl_job_get_id (pawl_bench_get_job (self->bench)), wait->job);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlBench) bench = is_in_hand ? g_object_ref (self->bench) : pawl_bench_resume (self->record, wait->job, self->language, &error);

  if (bench == NULL || !pawl_wait_note_append (bench, wait, jump, since, &error))
    say (self, error->message);
}

/* Whoever set the clock right may not know that something soaks. @before: what the clocks showed last. */
static void
take_jump (PawlWaitWatch *self, const PawlClockSample *before, gint64 jump)
{
  g_autofree char *words = pawl_wait_note_describe_jump (jump), *text = NULL;
  g_autoptr(GDateTime) last = g_date_time_new_from_unix_utc (before->wall_usec / G_USEC_PER_SEC + 1), since = g_date_time_add_seconds (last, (double) jump - 1);
  g_autoptr(GPtrArray) waits = g_steal_pointer (&self->waits);
  guint n = 0;

  self->waits = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_waiting_free);
  self->is_ready = FALSE; /* until they are read anew, nothing is known */
  for (guint i = 0; i < waits->len; i++)
    {
      const PawlWaiting *wait = waits->pdata[i];

      if (g_date_time_compare (wait->started, last) > 0)
        continue; /* begun by the new clock */
      note_jump (self, wait, jump, since);
      n++;
    }
  if (n > 0)
    {
      text = g_strdup_printf ("%s %s", words, _("Waits that ran meanwhile go on by steady time; it is noted in their jobs."));
      say (self, text);
    }
  read_waits (self);
}

/* Returns whether the clock was changed, and all is read anew. Where nothing waits it is nobody's business. */
static gboolean
look_at_clock (PawlWaitWatch *self, GDateTime *now)
{
  PawlClockSample before = { NULL }, sample = { NULL };
  gint64 jump;

  pawl_wait_memory_get_clock (self->memory, &before);
  pawl_clock_sample_take (&sample, self->steady, now);
  pawl_wait_memory_set_clock (self->memory, &sample);
  jump = pawl_clock_find_jump (&before, &sample);
  if (jump != 0)
    {
      pawl_wait_memory_save (self->memory); /* first, so that nothing done about it finds it again */
      take_jump (self, &before, jump);
    }
  pawl_clock_sample_clear (&before);
  pawl_clock_sample_clear (&sample);
  return jump != 0;
}

/* When somebody has to be told again. */
static void
set_alarm (PawlWaitWatch *self, GDateTime *now)
{
  g_autoptr(GDateTime) first = NULL;

  for (guint i = 0; i < self->waits->len; i++)
    {
      g_autoptr(GDateTime) next = pawl_waiting_dup_next (self->waits->pdata[i], now);

      if (next != NULL && (first == NULL || g_date_time_compare (next, first) < 0))
        {
          g_clear_pointer (&first, g_date_time_unref);
          first = g_steal_pointer (&next);
        }
    }
  pawl_alarm_set (self->alarm, first, now);
}

void
pawl_wait_watch_check (PawlWaitWatch *self)
{
  g_autoptr(GDateTime) now = NULL;

  if (self->record == NULL || !self->is_ready)
    return;
  now = pawl_record_dup_now (self->record);
  if (self->waits->len > 0 && look_at_clock (self, now))
    return; /* they are read anew, and looked at then */
  withdraw_old (self);
  for (guint i = 0; i < self->waits->len; i++)
    tell (self, self->waits->pdata[i], now);
  pawl_wait_memory_keep_only (self->memory, self->waits);
  pawl_wait_memory_save (self->memory);
  set_alarm (self, now);
}

static void
went_off (gpointer data)
{
  pawl_wait_watch_check (data);
}

/* ---- what waits ---- */

/* Of the job in hand, what waits is as it is in the hand. */
static void
take_bench (PawlWaitWatch *self)
{
  PawlJob *job = self->bench != NULL ? pawl_bench_get_job (self->bench) : NULL;

  for (guint i = self->waits->len; job != NULL && i > 0; i--)
    if (g_str_equal (((const PawlWaiting *) self->waits->pdata[i - 1])->job, pawl_job_get_id (job)))
      g_ptr_array_remove_index (self->waits, i - 1);
  if (job != NULL)
    g_ptr_array_extend_and_steal (self->waits, pawl_waiting_list (job));
}

static void
bench_changed_cb (PawlWaitWatch *self)
{
  take_bench (self);
  pawl_wait_watch_check (self);
}

static void
listed_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(PawlWaitWatch) self = data;
  g_autoptr(GError) error = NULL;
  GPtrArray *waits = pawl_wait_list_finish (result, &error);

  if (waits == NULL)
    return; /* stale; or a record that can't be read, which the window says */
  g_ptr_array_unref (self->waits);
  self->waits = waits;
  self->is_ready = TRUE;
  take_bench (self);
  pawl_wait_watch_check (self);
}

static void
stop_reading (PawlWaitWatch *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
read_waits (PawlWaitWatch *self)
{
  stop_reading (self);
  if (self->record == NULL)
    return;
  self->cancellable = g_cancellable_new ();
  pawl_wait_list_async (self->window, self->record, self->language, self->cancellable, listed_cb, g_object_ref (self));
}

void
pawl_wait_watch_set_record (PawlWaitWatch *self, PawlRecord *record, const char *language)
{
  g_set_object (&self->record, record);
  g_free (self->language);
  self->language = g_strdup (language);
  read_waits (self);
}

void
pawl_wait_watch_set_bench (PawlWaitWatch *self, PawlBench *bench)
{
  if (self->bench == bench)
    return;
  if (self->bench != NULL)
    g_signal_handlers_disconnect_by_data (self->bench, self);
  g_set_object (&self->bench, bench);
  if (bench == NULL)
    {
      read_waits (self);
      return;
    }
  g_signal_connect_swapped (bench, "changed", G_CALLBACK (bench_changed_cb), self);
  bench_changed_cb (self);
}

gboolean
pawl_wait_watch_is_ready (PawlWaitWatch *self)
{
  return self->is_ready;
}

/* ---- object ---- */

static void
open_job_cb (GSimpleAction *action, GVariant *parameter, PawlWaitWatch *self)
{
  const char *job, *step;

  g_variant_get (parameter, "(&s&s)", &job, &step);
  g_signal_emit (self, signals[JOB_WANTED], 0, job, step);
}

static void
withdraw_all (PawlWaitWatch *self)
{
  GHashTableIter iter;
  gpointer id;

  g_hash_table_iter_init (&iter, self->sent);
  while (g_hash_table_iter_next (&iter, &id, NULL))
    withdraw (self, id);
  g_hash_table_remove_all (self->sent);
}

/* Nobody would answer a click any more, nor take back what has become untrue. */
static void
pawl_wait_watch_dispose (GObject *object)
{
  PawlWaitWatch *self = PAWL_WAIT_WATCH (object);

  stop_reading (self);
  if (self->application != NULL)
    {
      withdraw_all (self);
      g_action_map_remove_action (G_ACTION_MAP (self->application), "open-job");
    }
  self->application = NULL;
  if (self->bench != NULL)
    g_signal_handlers_disconnect_by_data (self->bench, self);
  g_clear_object (&self->bench);
  g_clear_object (&self->record);
  g_clear_pointer (&self->alarm, pawl_alarm_free);
  G_OBJECT_CLASS (pawl_wait_watch_parent_class)->dispose (object);
}

static void
pawl_wait_watch_finalize (GObject *object)
{
  PawlWaitWatch *self = PAWL_WAIT_WATCH (object);

  g_free (self->language);
  g_free (self->said_id);
  g_free (self->said);
  g_ptr_array_unref (self->waits);
  g_hash_table_unref (self->sent);
  g_clear_pointer (&self->memory, pawl_wait_memory_free);
  G_OBJECT_CLASS (pawl_wait_watch_parent_class)->finalize (object);
}

static void
pawl_wait_watch_class_init (PawlWaitWatchClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pawl_wait_watch_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_wait_watch_finalize;
  signals[JOB_WANTED] = g_signal_new ("job-wanted", PAWL_TYPE_WAIT_WATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 2, G_TYPE_STRING, G_TYPE_STRING);
  signals[UNSAID] = g_signal_new ("unsaid", PAWL_TYPE_WAIT_WATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SAID] = g_signal_new ("said", PAWL_TYPE_WAIT_WATCH, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pawl_wait_watch_init (PawlWaitWatch *self)
{
  self->waits = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_waiting_free);
  self->sent = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
}

PawlWaitWatch *
pawl_wait_watch_new (GtkWidget *window, GApplication *application, const PawlSteady *steady, const char *path)
{
  PawlWaitWatch *self = g_object_new (PAWL_TYPE_WAIT_WATCH, NULL);
  g_autoptr(GSimpleAction) open = g_simple_action_new ("open-job", G_VARIANT_TYPE ("(ss)"));

  self->window = window;
  self->application = application;
  self->steady = steady != NULL ? steady : pawl_steady_get_system ();
  self->memory = pawl_wait_memory_load (path);
  self->alarm = pawl_alarm_new (went_off, self);
  g_signal_connect_object (open, "activate", G_CALLBACK (open_job_cb), self, 0);
  g_action_map_add_action (G_ACTION_MAP (application), G_ACTION (open));
  return self;
}
