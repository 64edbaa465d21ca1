#include "drawing/pawl-chunk-worker.h"

#include <string.h>

#include "drawing/pawl-chunk-artist.h"

/* One to draw while the other reads the next chunk out of the figure. More would only wait for the figure, and for memory. */
#define MOST_THREADS 2

/* What is known of one chunk. Touched by one thread at a time: whose job it is. */
typedef struct {
  cairo_surface_t *recording; /* (nullable) */
  PawlBox          extents;
  gboolean         is_measured;
} Known;

struct _PawlChunkWorker {
  /* set before the threads begin */
  PawlChunkWorkerDone done;
  gpointer            data;
  GMainContext       *context;
  GBytes             *text;
  char               *name;
  PawlBox             view_box;
  char              **ids;
  guint               n_chunks;
  guint               n_threads;
  GThread            *threads[MOST_THREADS];
  Known              *known;

  GMutex              figure_lock; /* over the artist, which is for one thread at a time */
  PawlArtist         *artist;      /* (nullable) */
  gboolean            is_unreadable;

  GMutex              lock;    /* over all below */
  GCond               changed;
  GArray             *jobs;    /* (element-type PawlChunkJob) */
  guint               next;    /* jobs before it are begun */
  PawlChunkJob        busy[MOST_THREADS]; /* n is G_MAXUINT: idle */
  GPtrArray          *results; /* (element-type PawlChunkResult) not brought yet */
  GSource            *bringing; /* (nullable) */
  gboolean            is_stopped;
  guint               n_running;
  GDestroyNotify      ended;
  gpointer            ended_data;
};

/* ---- jobs and results ---- */

static void
clear_job (gpointer data)
{
  g_clear_pointer (&((PawlChunkJob *) data)->ink, pawl_chunk_image_unref);
}

GArray *
pawl_chunk_jobs_new (void)
{
  GArray *jobs = g_array_new (FALSE, TRUE, sizeof (PawlChunkJob));

  g_array_set_clear_func (jobs, clear_job);
  return jobs;
}

static void
free_result (gpointer data)
{
  PawlChunkResult *result = data;

  g_clear_pointer (&result->image, pawl_chunk_image_unref);
  g_clear_pointer (&result->silhouette, g_ptr_array_unref);
  g_free (result);
}

static gboolean
is_same (const PawlGrid *a, const PawlGrid *b)
{
  return pawl_grid_fits (a, b) && a->look == b->look && a->palette == b->palette;
}

/* ---- in a thread ---- */

/* The first call opens the figure, which takes as long as reading it did. */
static cairo_surface_t *
record (PawlChunkWorker *self, guint n)
{
  cairo_surface_t *recording = NULL;

  g_mutex_lock (&self->figure_lock);
  if (!self->artist && !self->is_unreadable)
    {
      self->artist = pawl_artist_new (self->text, self->name, self->view_box, NULL);
      self->is_unreadable = !self->artist;
    }
  if (self->artist)
    recording = pawl_artist_record (self->artist, self->ids[n], NULL);
  g_mutex_unlock (&self->figure_lock);
  return recording ? recording : cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
}

static Known *
get_known (PawlChunkWorker *self, guint n)
{
  Known *known = &self->known[n];

  if (!known->recording)
    known->recording = record (self, n);
  return known;
}

static void
measure (PawlChunkWorker *self, guint n, PawlChunkResult *result)
{
  Known *known = get_known (self, n);

  if (!known->is_measured)
    known->extents = pawl_recording_measure (known->recording, self->view_box);
  known->is_measured = TRUE;
  result->extents = known->extents;
  result->is_measured = TRUE;
}

/* What is drawn shows as well what the recording's reach takes in too much. */
static void
measure_by_image (PawlChunkWorker *self, Known *known, PawlBox reach, const PawlChunkImage *image)
{
  PawlBox box = pawl_chunk_image_get_box (image);

  if (known->is_measured || !image->is_whole)
    return;
  known->extents = pawl_box_intersect (reach, box);
  known->is_measured = TRUE;
}

static void
draw (PawlChunkWorker *self, const PawlChunkJob *job, PawlChunkResult *result)
{
  Known *known;
  PawlBox reach;

  if (job->ink)
    {
      result->image = pawl_chunk_image_veil (job->ink);
      return;
    }
  known = get_known (self, job->n);
  reach = known->is_measured ? known->extents : pawl_recording_get_reach (known->recording, self->view_box);
  result->image = pawl_chunk_image_new (known->recording, reach, job->window, &job->grid);
  if (result->image)
    measure_by_image (self, known, reach, result->image);
  if (!known->is_measured)
    measure (self, job->n, result);
  result->extents = known->extents;
  result->is_measured = TRUE;
}

static PawlChunkResult *
do_job (PawlChunkWorker *self, const PawlChunkJob *job)
{
  PawlChunkResult *result = g_new0 (PawlChunkResult, 1);

  result->kind = job->kind;
  result->n = job->n;
  result->grid = job->grid;
  if (job->kind == PAWL_CHUNK_JOB_DRAW)
    draw (self, job, result);
  else
    measure (self, job->n, result);
  if (job->kind == PAWL_CHUNK_JOB_TRACE)
    result->silhouette = pawl_recording_trace (self->known[job->n].recording, result->extents);
  return result;
}

static gboolean bring_cb (gpointer data);

/* @lock is held. */
static void
call_back (PawlChunkWorker *self)
{
  if (self->bringing)
    return;
  self->bringing = g_idle_source_new ();
  /* Before the next frame, so that what is there is in it. */
  g_source_set_priority (self->bringing, G_PRIORITY_HIGH_IDLE);
  g_source_set_callback (self->bringing, bring_cb, self, NULL);
  g_source_attach (self->bringing, self->context);
}

/* @lock is held. A chunk that another thread is busy with is left to it: its recording is for one at a time. */
static gboolean
take_job (PawlChunkWorker *self, PawlChunkJob *job)
{
  for (guint i = self->next; self->jobs && i < self->jobs->len; i++)
    {
      PawlChunkJob *candidate = &g_array_index (self->jobs, PawlChunkJob, i);
      gboolean is_taken = candidate->n == G_MAXUINT;

      for (guint k = 0; k < self->n_threads; k++)
        is_taken |= self->busy[k].n == candidate->n;
      if (is_taken)
        continue;
      *job = *candidate;
      candidate->ink = NULL;
      candidate->n = G_MAXUINT;
      while (self->next < self->jobs->len && g_array_index (self->jobs, PawlChunkJob, self->next).n == G_MAXUINT)
        self->next++;
      return TRUE;
    }
  return FALSE;
}

typedef struct {
  PawlChunkWorker *worker;
  guint            index;
} Start;

static gpointer
run (gpointer data)
{
  g_autofree Start *start = data;
  PawlChunkWorker *self = start->worker;
  PawlChunkJob job;

  g_mutex_lock (&self->lock);
  while (!self->is_stopped)
    {
      PawlChunkResult *result;

      if (!take_job (self, &job))
        {
          g_cond_wait (&self->changed, &self->lock);
          continue;
        }
      self->busy[start->index] = job;
      g_mutex_unlock (&self->lock);
      result = do_job (self, &job);
      clear_job (&job);
      g_mutex_lock (&self->lock);
      self->busy[start->index].n = G_MAXUINT;
      g_ptr_array_add (self->results, result);
      /* The chunk is free for the job that waited for it. */
      g_cond_broadcast (&self->changed);
      if (!self->is_stopped)
        call_back (self);
    }
  self->n_running--;
  if (self->n_running == 0 && self->ended)
    call_back (self);
  g_mutex_unlock (&self->lock);
  return NULL;
}

/* ---- on the main context ---- */

static void
free_worker (PawlChunkWorker *self)
{
  for (guint i = 0; i < self->n_threads; i++)
    g_thread_join (self->threads[i]);
  for (guint n = 0; n < self->n_chunks; n++)
    g_clear_pointer (&self->known[n].recording, cairo_surface_destroy);
  g_free (self->known);
  g_clear_pointer (&self->artist, pawl_artist_free);
  g_bytes_unref (self->text);
  g_free (self->name);
  g_strfreev (self->ids);
  g_clear_pointer (&self->jobs, g_array_unref);
  g_ptr_array_unref (self->results);
  g_clear_pointer (&self->bringing, g_source_unref);
  g_main_context_unref (self->context);
  g_mutex_clear (&self->figure_lock);
  g_mutex_clear (&self->lock);
  g_cond_clear (&self->changed);
  g_free (self);
}

static gboolean
bring_cb (gpointer data)
{
  PawlChunkWorker *self = data;
  g_autoptr(GPtrArray) results = NULL;

  g_mutex_lock (&self->lock);
  results = g_steal_pointer (&self->results);
  self->results = g_ptr_array_new_with_free_func (free_result);
  g_clear_pointer (&self->bringing, g_source_unref);
  if (self->is_stopped)
    {
      GDestroyNotify ended = self->ended;
      gpointer ended_data = self->ended_data;
      gboolean has_ended = self->n_running == 0;

      g_mutex_unlock (&self->lock);
      if (!has_ended)
        return G_SOURCE_REMOVE;
      free_worker (self);
      ended (ended_data);
      return G_SOURCE_REMOVE;
    }
  g_mutex_unlock (&self->lock);
  self->done (results, self->data);
  return G_SOURCE_REMOVE;
}

PawlChunkWorker *
pawl_chunk_worker_new (PawlFigure *figure, PawlChunkWorkerDone done, gpointer data)
{
  PawlChunkWorker *self = g_new0 (PawlChunkWorker, 1);

  g_mutex_init (&self->lock);
  g_mutex_init (&self->figure_lock);
  g_cond_init (&self->changed);
  self->done = done;
  self->data = data;
  self->context = g_main_context_ref_thread_default ();
  self->text = g_bytes_ref (pawl_figure_peek_text (figure));
  self->name = g_strdup (pawl_figure_get_name (figure));
  self->view_box = pawl_figure_get_view_box (figure);
  self->artist = pawl_figure_steal_artist (figure);
  self->n_chunks = pawl_figure_get_n_chunks (figure);
  self->known = g_new0 (Known, self->n_chunks);
  self->ids = g_new0 (char *, self->n_chunks + 1);
  for (guint n = 0; n < self->n_chunks; n++)
    self->ids[n] = g_strdup (pawl_figure_get_chunk (figure, n)->id);
  self->results = g_ptr_array_new_with_free_func (free_result);
  /* A picture inside the figure may be one surface in several recordings, and pixman counts its references without a lock. */
  self->n_threads = pawl_figure_has_pictures (figure) ? 1 : MIN (MOST_THREADS, g_get_num_processors ());
  self->n_running = self->n_threads;
  for (guint i = 0; i < self->n_threads; i++)
    self->busy[i].n = G_MAXUINT;
  for (guint i = 0; i < self->n_threads; i++)
    {
      Start *start = g_new0 (Start, 1);

      *start = (Start) { self, i };
      self->threads[i] = g_thread_new ("pawl-figure", run, start);
    }
  return self;
}

void
pawl_chunk_worker_stop (PawlChunkWorker *self, GDestroyNotify ended, gpointer data)
{
  g_mutex_lock (&self->lock);
  self->is_stopped = TRUE;
  self->ended = ended;
  self->ended_data = data;
  if (self->bringing)
    g_source_destroy (self->bringing);
  g_clear_pointer (&self->bringing, g_source_unref);
  g_cond_broadcast (&self->changed);
  g_mutex_unlock (&self->lock);
  if (!ended)
    free_worker (self);
}

/* @lock is held. Already being done, or done and about to be brought. */
static gboolean
is_under_way (PawlChunkWorker *self, const PawlChunkJob *job)
{
  for (guint i = 0; i < self->n_threads; i++)
    if (self->busy[i].n == job->n && self->busy[i].kind == job->kind && is_same (&self->busy[i].grid, &job->grid))
      return TRUE;
  for (guint i = 0; i < self->results->len; i++)
    {
      const PawlChunkResult *result = self->results->pdata[i];

      if (result->n == job->n && result->kind == job->kind && is_same (&result->grid, &job->grid))
        return TRUE;
    }
  return FALSE;
}

void
pawl_chunk_worker_want (PawlChunkWorker *self, GArray *jobs)
{
  GArray *before;

  g_mutex_lock (&self->lock);
  for (guint i = 0; i < jobs->len; i++)
    if (is_under_way (self, &g_array_index (jobs, PawlChunkJob, i)))
      {
        clear_job (&g_array_index (jobs, PawlChunkJob, i));
        g_array_index (jobs, PawlChunkJob, i).n = G_MAXUINT;
      }
  before = self->jobs;
  self->jobs = jobs;
  self->next = 0;
  g_cond_broadcast (&self->changed);
  g_mutex_unlock (&self->lock);
  g_clear_pointer (&before, g_array_unref);
}
