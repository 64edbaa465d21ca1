/*
 * The store: a set of entries, and of bytes kept by digest, that all benches of a shop share. It grows and never changes. What it knows of
 * a job is what its entries say; it folds nothing, orders nothing and merges nothing, which is each bench's to do.
 *
 * Each entry has a place, counted up from 1 as entries arrive, with gaps: whoever has all up to a place, and asks for what comes after it,
 * misses nothing. A store is used by one thread.
 */
#pragma once

#include "record/pawl-merge.h"

G_BEGIN_DECLS

#define PAWL_STORE_ERROR (pawl_store_error_quark ())
GQuark pawl_store_error_quark (void);

typedef enum {
  PAWL_STORE_ERROR_ADDRESS,     /* it can't be read, or this program was built without what it needs */
  PAWL_STORE_ERROR_AWAY,        /* it can't be reached, or no longer answers; later it may */
  PAWL_STORE_ERROR_NOT_ALLOWED, /* the server does not let this user do it */
  PAWL_STORE_ERROR_NOT_A_STORE, /* something else is there */
  PAWL_STORE_ERROR_NEWER,       /* made by a later version of Pawl */
  PAWL_STORE_ERROR_FAILED,      /* the server could not: its disk is full, for one */
  PAWL_STORE_ERROR_DIFFERS,     /* it has something else under the id of an entry, or calls itself otherwise than it did */
} PawlStoreError;

/* What tells two moments of a store apart. */
typedef struct {
  char  *id;    /* what the set calls itself; "" when it has no name */
  gint64 place; /* of its newest entry; 0 when it is empty */
  char  *mark;  /* id of the entry at the place that was asked for; "" when there is none */
} PawlStoreState;

/* Entries one after another. */
typedef struct {
  GPtrArray *rows;  /* (element-type PawlEntryRow): in the order of their places */
  gint64     place; /* of the last one */
} PawlStoreBatch;

/* Bytes that came. */
typedef struct {
  char   *digest; /* as the store has it: not checked */
  char   *media_type;
  GBytes *bytes;
} PawlStoreKept;

#define PAWL_TYPE_STORE (pawl_store_get_type ())
G_DECLARE_DERIVABLE_TYPE (PawlStore, pawl_store, PAWL, STORE, GObject)

struct _PawlStoreClass {
  GObjectClass parent_class;

  gboolean    (*open)       (PawlStore *self, GError **error);
  gboolean    (*look)       (PawlStore *self, gint64 place, PawlStoreState *state, GError **error);
  gboolean    (*list)       (PawlStore *self, gint64 after, guint limit, PawlStoreBatch *batch, GError **error);
  GPtrArray  *(*list_job)   (PawlStore *self, const char *job_id, GError **error);
  GHashTable *(*find)       (PawlStore *self, GPtrArray *rows, GError **error);
  gboolean    (*take)       (PawlStore *self, GPtrArray *rows, gint64 *before, gint64 *after, GError **error);
  GHashTable *(*find_kept)  (PawlStore *self, GPtrArray *digests, GError **error);
  GPtrArray  *(*load_kept)  (PawlStore *self, GPtrArray *digests, GError **error);
  gboolean    (*keep)       (PawlStore *self, const char *digest, const char *media_type, GBytes *bytes, GError **error);
  void        (*wait)       (PawlStore *self, int wake_fd, int timeout_msec);
};

/* All may fail with PAWL_STORE_ERROR; after _AWAY, open it again. */

/* Connects, and makes what the store needs where that is missing and allowed. Opens it anew when it is open. */
gboolean    pawl_store_open      (PawlStore *self, GError **error);
/* @state: cleared first. */
gboolean    pawl_store_look      (PawlStore *self, gint64 place, PawlStoreState *state, GError **error);
/* What came after @after, no more than @limit; @batch is cleared first. */
gboolean    pawl_store_list      (PawlStore *self, gint64 after, guint limit, PawlStoreBatch *batch, GError **error);
/* (transfer full) (element-type PawlEntryRow): all that it has of one job, in the order of their places. */
GPtrArray  *pawl_store_list_job  (PawlStore *self, const char *job_id, GError **error);
/* (transfer full) (element-type utf8 utf8): those of @rows (element-type PawlEntryRow) that it has, id → digest as the store has it. */
GHashTable *pawl_store_find      (PawlStore *self, GPtrArray *rows, GError **error);
/*
 * Adds those of @rows that it does not have: all or none, on stable storage where the store is when it returns TRUE. What it has already is
 * left as it is. @before, @after: (out): the place of the newest entry before, and of the last that was added; 0 when none was.
 */
gboolean    pawl_store_take      (PawlStore *self, GPtrArray *rows, gint64 *before, gint64 *after, GError **error);
/* (transfer full): a set of those of @digests that it has. */
GHashTable *pawl_store_find_kept (PawlStore *self, GPtrArray *digests, GError **error);
/* (transfer full) (element-type PawlStoreKept): some of @digests, as many as are carried well at once; none when it has none of them. */
GPtrArray  *pawl_store_load_kept (PawlStore *self, GPtrArray *digests, GError **error);
/* Does nothing when it has them. */
gboolean    pawl_store_keep      (PawlStore *self, const char *digest, const char *media_type, GBytes *bytes, GError **error);
/* Sleeps until there may be news, @wake_fd can be read, or the time is over (-1: never); any store may wake for nothing. Not an error when it is gone. */
void        pawl_store_wait      (PawlStore *self, int wake_fd, int timeout_msec);

/* (nullable): ends whatever it is waiting for, with PAWL_STORE_ERROR_AWAY. */
void        pawl_store_set_cancellable (PawlStore *self, GCancellable *cancellable);
GCancellable *pawl_store_get_cancellable (PawlStore *self);
/* Where it is, as it may be shown: without a password. */
const char *pawl_store_get_address (PawlStore *self);
/* Questions that went to it and came back. */
guint       pawl_store_get_n_trips (PawlStore *self);

/* (transfer full) (element-type GPtrArray): @rows, borrowed, by job; jobs in the order of their first entry. */
GPtrArray  *pawl_store_split_by_job (GPtrArray *rows);
void        pawl_store_state_clear (PawlStoreState *self);
void        pawl_store_batch_clear (PawlStoreBatch *self);
void        pawl_store_kept_free   (PawlStoreKept *self);

/* For the drivers. */
PawlStoreKept *pawl_store_kept_new  (const char *digest, const char *media_type, gconstpointer bytes, gsize length); /* copies all */
void        pawl_store_take_address (PawlStore *self, char *address); /* (transfer full) address */
void        pawl_store_count_trip   (PawlStore *self);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlStoreState, pawl_store_state_clear)
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlStoreBatch, pawl_store_batch_clear)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlStoreKept, pawl_store_kept_free)

G_END_DECLS
