#include "drawing/pawl-chunk-worker.h"

#ifdef __GLIBC__
#include <malloc.h>
#endif
#include <string.h>

#include "drawing/pawl-chunk-artist.h"

/* Each has the figure open for itself, which takes memory. */
#define MOST_THREADS 2
/* Results of so long are brought together. */
#define GATHER_MSEC 4

/* What is known of one chunk. Touched by one thread at a time: whose job it is. */
typedef struct {
  PawlBox  reach;      /* what its recording says it covers */
  PawlBox  extents;
  gboolean has_reach;
  gboolean is_measured;
} Known;

typedef struct {
  PawlChunkWorker *worker;
  guint            index;
  PawlArtist      *artist; /* (nullable) */
  gboolean         has_tried; /* to open the figure */
} Hand;

struct _PawlChunkWorker {
  /* set before the threads begin */
  PawlChunkWorkerDone done;
  gpointer            data;
  GMainContext       *context;
  GBytes             *text;
  char               *name;
  PawlBox             view_box;
  char              **ids;
  gboolean           *has_layers; /* PawlChunk.has_layers */
  guint               n_chunks;
  PawlChunkStore     *store; /* (nullable) */
  guint               n_threads;
  GThread            *threads[MOST_THREADS];
  Hand                hands[MOST_THREADS]; /* each its thread's own */
  Known              *known;

  GMutex              lock;    /* over all below */
  GCond               changed;
  GArray             *jobs;    /* (element-type PawlChunkJob) */
  guint               next;    /* jobs before it are begun */
  GArray             *kept;    /* (nullable) (element-type PawlKeptImage) to be put into the store */
  gboolean            is_open; /* what the store knows has been read */
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

/* (nullable): the first call opens the figure, which takes as long as reading it did. */
static PawlArtist *
get_artist (Hand *hand)
{
  const PawlChunkWorker *worker = hand->worker;

  if (!hand->artist && !hand->has_tried)
    hand->artist = pawl_artist_new (worker->text, worker->name, worker->view_box, NULL);
  hand->has_tried = TRUE;
  return hand->artist;
}

/* What can't be drawn is empty: the trial and the proof-reader say so, not the window. */
static cairo_surface_t *
record (Hand *hand, guint n)
{
  PawlArtist *artist = get_artist (hand);

  return artist ? pawl_artist_record (artist, hand->worker->ids[n], NULL) : cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
}

static void
note_reach (Hand *hand, guint n, cairo_surface_t *recording)
{
  Known *known = &hand->worker->known[n];

  known->reach = pawl_recording_get_reach (recording, hand->worker->view_box);
  known->has_reach = TRUE;
}

static void
measure (Hand *hand, guint n, PawlChunkResult *result)
{
  Known *known = &hand->worker->known[n];

  if (!known->is_measured)
    {
      g_autoptr(cairo_surface_t) recording = record (hand, n);

      note_reach (hand, n, recording);
      known->extents = pawl_recording_measure (recording, hand->worker->view_box);
      known->is_measured = TRUE;
    }
  result->extents = known->extents;
  result->is_measured = TRUE;
}

static void
trace (Hand *hand, guint n, PawlChunkResult *result)
{
  g_autoptr(cairo_surface_t) recording = record (hand, n);

  measure (hand, n, result);
  /* Within a box that doesn't depend on where the known one comes from, so that the band is the same in every picture. */
  result->silhouette = pawl_recording_trace (recording, pawl_recording_measure (recording, hand->worker->view_box));
}

typedef struct {
  PawlArtist    *artist; /* (nullable) */
  const char    *id;
  const PawlBox *tile; /* (nullable): NULL: the whole sheet */
} Drawn;

static void
draw_cb (cairo_t *cr, gpointer data)
{
  const Drawn *drawn = data;

  if (drawn->artist && drawn->tile)
    pawl_artist_draw_within (drawn->artist, drawn->id, cr, *drawn->tile, NULL);
  else if (drawn->artist)
    pawl_artist_draw (drawn->artist, drawn->id, cr, NULL);
}

/* What is drawn shows as well what the recording's reach takes in too much. */
static void
measure_by_image (Known *known, const PawlChunkImage *image)
{
  PawlBox box = pawl_chunk_image_get_box (image);
  double pixel = 1 / image->grid.scale;

  if (known->is_measured || !image->is_whole)
    return;
  known->extents = image->pixels ? pawl_box_intersect (known->reach, (PawlBox) { box.x - pixel, box.y - pixel, box.width + 2 * pixel, box.height + 2 * pixel }) : box;
  known->is_measured = TRUE;
}

/* As it was drawn some other day; its box must be known, too. */
static gboolean
find_in_store (Hand *hand, const PawlChunkJob *job, PawlChunkResult *result)
{
  const Known *known = &hand->worker->known[job->n];

  if (hand->worker->store && known->is_measured)
    result->image = pawl_chunk_store_read (hand->worker->store, job->n, &job->grid);
  if (result->image)
    result->image->covers = known->extents;
  return result->image != NULL;
}

/* Where there is a tile, not more than what is looked at is drawn, so that all chunks of a view share it. */
static PawlChunkImage *
make_image (Hand *hand, const PawlChunkJob *job, PawlBox reach, const PawlBox *tile)
{
  Drawn drawn = { get_artist (hand), hand->worker->ids[job->n], tile };
  PawlBox seen = pawl_box_intersect (reach, job->window);
  PawlChunkImage *image;

  if (!tile)
    return pawl_chunk_image_new (draw_cb, &drawn, reach, job->window, &job->grid);
  if ((image = pawl_chunk_image_new (draw_cb, &drawn, seen, seen, &job->grid)))
    image->is_whole = seen.width > reach.width * (1 - 1e-9) && seen.height > reach.height * (1 - 1e-9);
  return image;
}

static void
draw (Hand *hand, const PawlChunkJob *job, PawlChunkResult *result)
{
  Known *known = &hand->worker->known[job->n];
  PawlArtist *artist;
  PawlBox tile;
  gboolean is_close = pawl_chunk_image_find_tile (job->window, hand->worker->view_box, &job->grid, &tile);

  if (find_in_store (hand, job, result))
    return;
  artist = get_artist (hand);
  if (artist && !is_close)
    pawl_artist_close_tile (artist);
  if (!known->has_reach && !known->is_measured)
    {
      g_autoptr(cairo_surface_t) recording = record (hand, job->n);

      note_reach (hand, job->n, recording);
    }
  result->image = make_image (hand, job, known->is_measured ? known->extents : known->reach, is_close && hand->worker->has_layers[job->n] ? &tile : NULL);
  if (result->image)
    measure_by_image (known, result->image);
  measure (hand, job->n, result);
}

static PawlChunkResult *
do_job (Hand *hand, const PawlChunkJob *job)
{
  PawlChunkResult *result = g_new0 (PawlChunkResult, 1);

  result->kind = job->kind;
  result->n = job->n;
  result->grid = job->grid;
  if (job->kind == PAWL_CHUNK_JOB_MEASURE)
    measure (hand, job->n, result);
  else if (job->kind == PAWL_CHUNK_JOB_TRACE)
    trace (hand, job->n, result);
  else if (job->ink)
    result->image = pawl_chunk_image_veil (job->ink);
  else
    draw (hand, job, result);
  return result;
}

static gboolean bring_cb (gpointer data);

/* @lock is held. A little later, so that several are brought in one go; before the next frame, so that they are in it. */
static void
call_back (PawlChunkWorker *self)
{
  if (self->bringing)
    return;
  self->bringing = g_timeout_source_new (GATHER_MSEC);
  g_source_set_priority (self->bringing, G_PRIORITY_HIGH_IDLE);
  g_source_set_callback (self->bringing, bring_cb, self, NULL);
  g_source_attach (self->bringing, self->context);
}

/* @lock is held. A chunk that another thread is busy with is left to it: what is known of it is for one at a time. */
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

/* @lock is held. Nobody changes what is known of a chunk. */
static gboolean
is_idle (PawlChunkWorker *self)
{
  for (guint i = 0; i < self->n_threads; i++)
    if (self->busy[i].n != G_MAXUINT)
      return FALSE;
  return TRUE;
}

/* The boxes that the store knows, as if every chunk had been measured. */
static void
open_store (PawlChunkWorker *self)
{
  g_autofree PawlBox *boxes = g_new (PawlBox, self->n_chunks + 1);

  if (!self->store || !pawl_chunk_store_read_boxes (self->store, boxes))
    return;
  for (guint n = 0; n < self->n_chunks; n++)
    {
      PawlChunkResult *result = g_new0 (PawlChunkResult, 1);

      self->known[n].extents = boxes[n];
      self->known[n].is_measured = TRUE;
      *result = (PawlChunkResult) { .kind = PAWL_CHUNK_JOB_MEASURE, .n = n, .extents = boxes[n], .is_measured = TRUE };
      g_ptr_array_add (self->results, result);
    }
}

/* @lock is held, but not while it writes. */
static void
write_store (PawlChunkWorker *self, GArray *images)
{
  g_autofree PawlBox *boxes = g_new (PawlBox, self->n_chunks + 1);
  gboolean has_all = TRUE;

  for (guint n = 0; n < self->n_chunks; n++)
    {
      boxes[n] = self->known[n].extents;
      has_all &= self->known[n].is_measured;
    }
  g_mutex_unlock (&self->lock);
  if (has_all && pawl_chunk_store_write (self->store, images))
    pawl_chunk_store_write_boxes (self->store, boxes);
  g_array_unref (images);
  g_mutex_lock (&self->lock);
}

static gpointer
run (gpointer data)
{
  Hand *hand = data;
  PawlChunkWorker *self = hand->worker;
  PawlChunkJob job;

  g_mutex_lock (&self->lock);
  /* The other thread finds it done, or waits for the lock. */
  if (!self->is_open)
    open_store (self);
  self->is_open = TRUE;
  if (self->results->len > 0 && !self->is_stopped)
    call_back (self);
  while (!self->is_stopped)
    {
      PawlChunkResult *result;

      if (!take_job (self, &job))
        {
          if (self->kept && is_idle (self))
            {
              write_store (self, g_steal_pointer (&self->kept));
              continue;
            }
          g_cond_wait (&self->changed, &self->lock);
          continue;
        }
      self->busy[hand->index] = job;
      g_mutex_unlock (&self->lock);
      result = do_job (hand, &job);
      clear_job (&job);
      g_mutex_lock (&self->lock);
      self->busy[hand->index].n = G_MAXUINT;
      g_ptr_array_add (self->results, result);
      /* The chunk is free for the job that waited for it. */
      g_cond_broadcast (&self->changed);
      if (!self->is_stopped)
        call_back (self);
    }
  g_mutex_unlock (&self->lock);
  /* Letting go of a large figure takes 50 ms, and leaves its memory with the allocator: 90 MB. */
  g_clear_pointer (&hand->artist, pawl_artist_free);
  /*
   * Under AddressSanitizer glibc's own heap stays unused, so there is nothing to give back, and this call would be the first to
   * set it up: several workers at once then each take the main arena, and glibc aborts when the second of them ends.
   */
#if defined (__GLIBC__) && !defined (__SANITIZE_ADDRESS__)
  malloc_trim (0);
#endif
  g_mutex_lock (&self->lock);
  /* The last one writes what was to be kept when the figure was closed. */
  if (self->kept && self->n_running == 1)
    write_store (self, g_steal_pointer (&self->kept));
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
  g_free (self->known);
  g_bytes_unref (self->text);
  g_free (self->name);
  g_strfreev (self->ids);
  g_free (self->has_layers);
  g_clear_pointer (&self->store, pawl_chunk_store_free);
  g_clear_pointer (&self->kept, g_array_unref);
  g_clear_pointer (&self->jobs, g_array_unref);
  g_ptr_array_unref (self->results);
  g_clear_pointer (&self->bringing, g_source_unref);
  g_main_context_unref (self->context);
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
pawl_chunk_worker_new (PawlFigure *figure, PawlChunkStore *store, PawlChunkWorkerDone done, gpointer data)
{
  PawlChunkWorker *self = g_new0 (PawlChunkWorker, 1);
  guint n_chunks = pawl_figure_get_n_chunks (figure);

  g_mutex_init (&self->lock);
  g_cond_init (&self->changed);
  self->done = done;
  self->data = data;
  self->context = g_main_context_ref_thread_default ();
  self->text = g_bytes_ref (pawl_figure_peek_text (figure));
  self->name = g_strdup (pawl_figure_get_name (figure));
  self->view_box = pawl_figure_get_view_box (figure);
  self->n_chunks = n_chunks;
  self->store = store;
  self->known = g_new0 (Known, n_chunks);
  self->ids = g_new0 (char *, n_chunks + 1);
  self->has_layers = g_new (gboolean, n_chunks + 1);
  for (guint n = 0; n < n_chunks; n++)
    {
      self->ids[n] = g_strdup (pawl_figure_get_chunk (figure, n)->id);
      self->has_layers[n] = pawl_figure_get_chunk (figure, n)->has_layers;
    }
  self->results = g_ptr_array_new_with_free_func (free_result);
  self->n_threads = MIN (MOST_THREADS, g_get_num_processors ());
  self->n_running = self->n_threads;
  for (guint i = 0; i < self->n_threads; i++)
    {
      self->busy[i].n = G_MAXUINT;
      self->hands[i] = (Hand) { .worker = self, .index = i };
    }
  self->hands[0].artist = pawl_figure_steal_artist (figure);
  for (guint i = 0; i < self->n_threads; i++)
    self->threads[i] = g_thread_new ("pawl-figure", run, &self->hands[i]);
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

void
pawl_chunk_worker_keep (PawlChunkWorker *self, GArray *images)
{
  GArray *before;

  g_mutex_lock (&self->lock);
  before = self->kept;
  self->kept = images;
  g_cond_broadcast (&self->changed);
  g_mutex_unlock (&self->lock);
  g_clear_pointer (&before, g_array_unref);
}
