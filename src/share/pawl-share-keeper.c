#include "share/pawl-share-keeper.h"

#include <poll.h>
#include <sys/eventfd.h>
#include <unistd.h>

#include "share/pawl-address.h"

/* While it is away: soon at first, then now and then. */
#define FIRST_PAUSE_MSEC 2000
#define LONGEST_PAUSE_MSEC 60000
/* While it is there, in case that it could not tell. */
#define REST_MSEC 60000

struct _PawlShareKeeper {
  GObject parent_instance;

  /* the main thread's */
  PawlShareNews news;

  /* set once, read by both */
  PawlStore     *store; /* used by the thread alone */
  char          *copy_path;
  PawlRecordHost host;
  GMainContext  *context;
  gpointer       handle; /* what the thread knows us by */
  GCancellable  *cancellable;
  int            wake_fd;
  GThread       *thread; /* (nullable) once it has ended */
};

G_DEFINE_FINAL_TYPE (PawlShareKeeper, pawl_share_keeper, G_TYPE_OBJECT)

enum { CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

static void
clear_news (PawlShareNews *news)
{
  g_free (news->problem);
  g_free (news->refusal);
  *news = (PawlShareNews) { 0 };
}

/* ---- to the main thread ---- */

/* Made on the main thread, where the keeper goes: its thread only hands it on. */
typedef struct {
  GWeakRef keeper;
} Handle;

static void
clear_handle (gpointer handle)
{
  g_weak_ref_clear (&((Handle *) handle)->keeper);
}

static void
unref_handle (Handle *handle)
{
  g_atomic_rc_box_release_full (handle, clear_handle);
}

typedef struct {
  Handle       *handle;
  PawlShareNews news;
} Report;

static void
free_report (Report *report)
{
  unref_handle (report->handle);
  clear_news (&report->news);
  g_free (report);
}

static gboolean
say_the_same (const PawlShareNews *a,
              const PawlShareNews *b)
{
  return a->has_tried == b->has_tried && a->is_away == b->is_away && a->n_waiting == b->n_waiting && a->away_usec == b->away_usec && a->n_refused == b->n_refused
         && a->n_came == b->n_came && g_strcmp0 (a->problem, b->problem) == 0 && g_strcmp0 (a->refusal, b->refusal) == 0;
}

static gboolean
report_cb (gpointer data)
{
  Report *report = data;
  g_autoptr (PawlShareKeeper) self = g_weak_ref_get (&report->handle->keeper);
  PawlShareNews before;

  if (self == NULL || say_the_same (&self->news, &report->news))
    return G_SOURCE_REMOVE;
  before = self->news;
  self->news = report->news;
  report->news = before;
  g_signal_emit (self, signals[CHANGED], 0);
  return G_SOURCE_REMOVE;
}

/* ---- in the thread ---- */

typedef struct {
  PawlShareKeeper *keeper; /* outlives the thread, which is joined before it goes */
  PawlRecord      *copy;   /* (nullable) until it could be opened */
  PawlShare       *share;
  guint            n_came;
} Work;

static char *
dup_first_refusal (PawlRecord *copy)
{
  g_autoptr (GPtrArray) refused = pawl_copy_list_refused (copy, NULL);

  return refused != NULL && refused->len > 0 ? g_strdup (((PawlCopyRefusal *) refused->pdata[0])->reason) : NULL;
}

static void
report_news (Work         *work,
             guint         n_refused,
             const GError *problem)
{
  g_auto (PawlCopyState) state = { 0 };
  Report *report = g_new0 (Report, 1);
  /* Not g_main_context_invoke(), which would run it here while the main loop is not running yet. */
  g_autoptr (GSource) source = g_idle_source_new ();

  report->handle = g_atomic_rc_box_acquire (work->keeper->handle);
  if (work->copy != NULL && pawl_copy_load_state (work->copy, &state, NULL))
    {
      report->news.n_waiting = state.n_waiting;
      report->news.away_usec = state.away_usec;
      report->news.refusal = n_refused > 0 ? dup_first_refusal (work->copy) : NULL;
    }
  report->news.has_tried = TRUE;
  report->news.is_away = g_error_matches (problem, PAWL_STORE_ERROR, PAWL_STORE_ERROR_AWAY);
  report->news.problem = problem != NULL ? g_strdup (problem->message) : NULL;
  report->news.n_refused = n_refused;
  report->news.n_came = work->n_came;
  g_source_set_priority (source, G_PRIORITY_DEFAULT);
  g_source_set_callback (source, report_cb, report, (GDestroyNotify) free_report);
  g_source_attach (source, work->keeper->context);
}

static gboolean
open_copy (Work    *work,
           GError **error)
{
  PawlShareKeeper *self = work->keeper;

  if (work->copy != NULL)
    return TRUE;
  if (!(work->copy = pawl_record_open (self->copy_path, PAWL_RECORD_OPEN_CREATE, &self->host, error)))
    return FALSE;
  work->share = pawl_share_new (work->copy, self->store);
  return pawl_copy_begin (work->copy, pawl_store_get_address (self->store), error);
}

static gboolean
sync_once (Work *work)
{
  PawlShareCount count = { 0 };
  g_autoptr (GError) error = NULL;
  gboolean is_done = open_copy (work, &error) && pawl_share_sync (work->share, &count, &error);

  work->n_came += count.n_came;
  report_news (work, count.n_refused, error);
  return is_done;
}

/* Awake when something was appended; for news only while the store is there. */
static void
wait_for_something (PawlShareKeeper *self,
                    gboolean         is_there,
                    int              pause_msec)
{
  struct pollfd wake = { .fd = self->wake_fd, .events = POLLIN };
  guint64 n;

  if (is_there)
    pawl_store_wait (self->store, self->wake_fd, REST_MSEC);
  else
    poll (&wake, 1, pause_msec);
  if (poll (&wake, 1, 0) > 0 && read (self->wake_fd, &n, sizeof n) < 0)
    g_debug ("woken by nothing");
}

static gpointer
keep_together (gpointer data)
{
  PawlShareKeeper *self = data;
  Work work = { .keeper = self };
  int pause_msec = FIRST_PAUSE_MSEC;

  while (!g_cancellable_is_cancelled (self->cancellable))
    {
      gboolean is_there = sync_once (&work);

      wait_for_something (self, is_there, pause_msec);
      pause_msec = is_there ? FIRST_PAUSE_MSEC : MIN (pause_msec * 2, LONGEST_PAUSE_MSEC);
    }

  g_clear_pointer (&work.share, pawl_share_free);
  g_clear_object (&work.copy);
  return NULL;
}

/* ---- the object ---- */

void
pawl_share_keeper_tell (PawlShareKeeper *self)
{
  const guint64 one = 1;

  if (write (self->wake_fd, &one, sizeof one) < 0)
    g_debug ("it is awake already"); /* the counter is full */
}

const PawlShareNews *
pawl_share_keeper_peek (PawlShareKeeper *self)
{
  return &self->news;
}

const char *
pawl_share_keeper_get_address (PawlShareKeeper *self)
{
  return pawl_store_get_address (self->store);
}

static void
pawl_share_keeper_finalize (GObject *object)
{
  PawlShareKeeper *self = PAWL_SHARE_KEEPER (object);

  if (self->thread != NULL)
    {
      g_cancellable_cancel (self->cancellable);
      pawl_share_keeper_tell (self);
      g_thread_join (self->thread);
    }
  g_clear_object (&self->store);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->context, g_main_context_unref);
  unref_handle (self->handle);
  g_free (self->copy_path);
  close (self->wake_fd);
  clear_news (&self->news);
  G_OBJECT_CLASS (pawl_share_keeper_parent_class)->finalize (object);
}

static void
pawl_share_keeper_class_init (PawlShareKeeperClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pawl_share_keeper_finalize;
  signals[CHANGED] = g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_share_keeper_init (PawlShareKeeper *self)
{
  self->handle = g_atomic_rc_box_new0 (Handle);
  g_weak_ref_init (&((Handle *) self->handle)->keeper, self);
  self->cancellable = g_cancellable_new ();
  self->wake_fd = eventfd (0, EFD_CLOEXEC | EFD_NONBLOCK);
  if (self->wake_fd < 0)
    g_error ("no descriptor is left"); /* as GLib does for its own */
}

PawlShareKeeper *
pawl_share_keeper_new (const char           *address,
                       const char           *copy_path,
                       const PawlRecordHost *host,
                       GError              **error)
{
  PawlStore *store = pawl_address_new_store (address, error);
  PawlShareKeeper *self;

  if (store == NULL)
    return NULL;

  self = g_object_new (PAWL_TYPE_SHARE_KEEPER, NULL);
  self->store = store;
  self->copy_path = g_strdup (copy_path);
  self->host = *(host != NULL ? host : pawl_record_host_get_system ());
  self->context = g_main_context_ref_thread_default ();
  pawl_store_set_cancellable (store, self->cancellable);
  self->thread = g_thread_new ("share", keep_together, self);
  return self;
}
