#include "share/pawl-store.h"

typedef struct {
  char *address;
  guint n_trips;
  GCancellable *cancellable; /* (nullable) */
} PawlStorePrivate;

G_DEFINE_ABSTRACT_TYPE_WITH_PRIVATE (PawlStore, pawl_store, G_TYPE_OBJECT)
G_DEFINE_QUARK (pawl-store-error-quark, pawl_store_error)

#define PRIVATE(self) ((PawlStorePrivate *) pawl_store_get_instance_private (self))

static void
pawl_store_finalize (GObject *object)
{
  PawlStorePrivate *priv = PRIVATE (PAWL_STORE (object));

  g_free (priv->address);
  g_clear_object (&priv->cancellable);
  G_OBJECT_CLASS (pawl_store_parent_class)->finalize (object);
}

static void
pawl_store_class_init (PawlStoreClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pawl_store_finalize;
}

static void
pawl_store_init (PawlStore *self)
{
}

/* ---- the verbs ---- */

gboolean
pawl_store_open (PawlStore *self,
                 GError   **error)
{
  return PAWL_STORE_GET_CLASS (self)->open (self, error);
}

gboolean
pawl_store_look (PawlStore      *self,
                 gint64          place,
                 PawlStoreState *state,
                 GError        **error)
{
  pawl_store_state_clear (state);
  return PAWL_STORE_GET_CLASS (self)->look (self, place, state, error);
}

gboolean
pawl_store_list (PawlStore      *self,
                 gint64          after,
                 guint           limit,
                 PawlStoreBatch *batch,
                 GError        **error)
{
  pawl_store_batch_clear (batch);
  batch->rows = pawl_chain_new_rows ();
  batch->place = after;
  return PAWL_STORE_GET_CLASS (self)->list (self, after, limit, batch, error);
}

GPtrArray *
pawl_store_list_job (PawlStore  *self,
                     const char *job_id,
                     GError    **error)
{
  return PAWL_STORE_GET_CLASS (self)->list_job (self, job_id, error);
}

GHashTable *
pawl_store_find (PawlStore *self,
                 GPtrArray *rows,
                 GError   **error)
{
  return PAWL_STORE_GET_CLASS (self)->find (self, rows, error);
}

gboolean
pawl_store_take (PawlStore *self,
                 GPtrArray *rows,
                 gint64    *before,
                 gint64    *after,
                 GError   **error)
{
  return PAWL_STORE_GET_CLASS (self)->take (self, rows, before, after, error);
}

GHashTable *
pawl_store_find_kept (PawlStore *self,
                      GPtrArray *digests,
                      GError   **error)
{
  return PAWL_STORE_GET_CLASS (self)->find_kept (self, digests, error);
}

GPtrArray *
pawl_store_load_kept (PawlStore *self,
                      GPtrArray *digests,
                      GError   **error)
{
  return PAWL_STORE_GET_CLASS (self)->load_kept (self, digests, error);
}

gboolean
pawl_store_keep (PawlStore  *self,
                 const char *digest,
                 const char *media_type,
                 GBytes     *bytes,
                 GError    **error)
{
  return PAWL_STORE_GET_CLASS (self)->keep (self, digest, media_type, bytes, error);
}

void
pawl_store_wait (PawlStore *self,
                 int        wake_fd,
                 int        timeout_msec)
{
  PAWL_STORE_GET_CLASS (self)->wait (self, wake_fd, timeout_msec);
}

/* ---- small things ---- */

const char *
pawl_store_get_address (PawlStore *self)
{
  return PRIVATE (self)->address;
}

guint
pawl_store_get_n_trips (PawlStore *self)
{
  return PRIVATE (self)->n_trips;
}

void
pawl_store_take_address (PawlStore *self,
                         char      *address)
{
  g_free (PRIVATE (self)->address);
  PRIVATE (self)->address = address;
}

void
pawl_store_set_cancellable (PawlStore    *self,
                            GCancellable *cancellable)
{
  g_set_object (&PRIVATE (self)->cancellable, cancellable);
}

GCancellable *
pawl_store_get_cancellable (PawlStore *self)
{
  return PRIVATE (self)->cancellable;
}

void
pawl_store_count_trip (PawlStore *self)
{
  PRIVATE (self)->n_trips++;
}

GPtrArray *
pawl_store_split_by_job (GPtrArray *rows)
{
  g_autoptr (GHashTable) by_job = g_hash_table_new (g_str_hash, g_str_equal);
  GPtrArray *parts = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);

  for (guint i = 0; i < rows->len; i++)
    {
      PawlEntryRow *row = rows->pdata[i];
      GPtrArray *part = g_hash_table_lookup (by_job, row->job);

      if (part == NULL)
        {
          part = g_ptr_array_new ();
          g_hash_table_insert (by_job, row->job, part);
          g_ptr_array_add (parts, part);
        }
      g_ptr_array_add (part, row);
    }
  return parts;
}

void
pawl_store_state_clear (PawlStoreState *self)
{
  g_free (self->id);
  g_free (self->mark);
  *self = (PawlStoreState) { 0 };
}

void
pawl_store_batch_clear (PawlStoreBatch *self)
{
  g_clear_pointer (&self->rows, g_ptr_array_unref);
  self->place = 0;
}

PawlStoreKept *
pawl_store_kept_new (const char   *digest,
                     const char   *media_type,
                     gconstpointer bytes,
                     gsize         length)
{
  PawlStoreKept *self = g_new0 (PawlStoreKept, 1);

  self->digest = g_strdup (digest);
  self->media_type = g_strdup (media_type);
  self->bytes = g_bytes_new (bytes, length);
  return self;
}

void
pawl_store_kept_free (PawlStoreKept *self)
{
  g_free (self->digest);
  g_free (self->media_type);
  g_bytes_unref (self->bytes);
  g_free (self);
}
