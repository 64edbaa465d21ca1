/*
 * The worker draws chunks away from the main loop: two threads at most, each with the figure open for itself (one open
 * figure in two threads aborts).
 *
 * There is no queue. The caller states what is wanted now, the most wanted first, and each statement replaces the last one: what a camera that
 * has moved on no longer needs is never begun. A draw that is under way is finished, and its result brought, as it can't be broken off.
 */
#pragma once

#include "drawing/pawl-chunk-store.h"
#include "drawing/pawl-figure.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_CHUNK_JOB_MEASURE, /* its ink box */
  PAWL_CHUNK_JOB_TRACE,   /* its silhouette */
  PAWL_CHUNK_JOB_DRAW,    /* its image */
} PawlChunkJobKind;

typedef struct {
  PawlChunkJobKind kind;
  guint            n;      /* the chunk */
  PawlGrid         grid;   /* to draw on */
  PawlBox          window; /* what is looked at, in the chunk's own space */
  PawlChunkImage  *ink;    /* (nullable) (owned): the chunk in ink on the same grid, when the pale look is wanted */
} PawlChunkJob;

typedef struct {
  PawlChunkJobKind kind;
  guint            n;
  PawlGrid         grid;
  PawlBox          extents;    /* its ink box; when it had not been measured yet */
  gboolean         is_measured;
  PawlChunkImage  *image;      /* (nullable): DRAW; NULL when it is too large to be drawn */
  GPtrArray       *silhouette; /* (nullable): TRACE */
} PawlChunkResult;

typedef struct _PawlChunkWorker PawlChunkWorker;
/* Called on the main context of the thread that made the worker. @results: (element-type PawlChunkResult), all that is there by now. The callee
 * may steal images and silhouettes out of it. */
typedef void (*PawlChunkWorkerDone) (GPtrArray *results, gpointer data);

/* @store: (nullable) (transfer full): where drawn chunks may be found. The boxes in it are brought without being asked for. */
PawlChunkWorker *pawl_chunk_worker_new  (PawlFigure *figure, PawlChunkStore *store, PawlChunkWorkerDone done, gpointer data);
/**
 * pawl_chunk_worker_stop:
 * @ended: (nullable): called on the main context when the threads have ended
 *
 * @done is not called any more. Frees the worker. Without @ended it waits for the draw that is under way. What
 * was to be kept is still put into the store.
 */
void             pawl_chunk_worker_stop (PawlChunkWorker *self, GDestroyNotify ended, gpointer data);
/* @jobs: (transfer full) (element-type PawlChunkJob): an array from pawl_chunk_jobs_new(). Jobs that are under way already are passed over. */
void             pawl_chunk_worker_want (PawlChunkWorker *self, GArray *jobs);
GArray          *pawl_chunk_jobs_new    (void);
/* Puts @images into the store when nothing is wanted any more. (transfer full) (element-type PawlKeptImage): from pawl_kept_images_new(). */
void             pawl_chunk_worker_keep (PawlChunkWorker *self, GArray *images);

G_END_DECLS
