/* Bytes kept by their digest: procedures, figures, photos. */
#include "record/pawl-record-private.h"

static const char INSERT_KEPT[] = "INSERT INTO kept (digest, media_type, bytes) VALUES (?, ?, ?)";
static const char LOAD_KEPT[] = "SELECT bytes FROM kept WHERE digest = ?";

static GBytes *
copy_bytes (sqlite3_stmt *statement)
{
  gconstpointer data = sqlite3_column_blob (statement, 0);

  return g_bytes_new (data, (gsize) sqlite3_column_bytes (statement, 0));
}

/**
 * pawl_record_look_up_kept:
 * @self: a record
 * @digest: SHA-256 in hex
 * @state: (out): what became of the bytes
 * @bytes: (out) (optional) (transfer full): the bytes, when they are whole
 * @error: the errors of reading
 *
 * Returns: whether the record could be read; @state is then set
 */
gboolean
pawl_record_look_up_kept (PawlRecord    *self,
                          const char    *digest,
                          PawlKeptState *state,
                          GBytes       **bytes,
                          GError       **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_autoptr (GBytes) found = NULL;
  g_autofree char *actual = NULL;
  int more;

  *state = PAWL_KEPT_MISSING;
  if (!(statement = pawl_database_prepare (&self->database, error, LOAD_KEPT, "s", digest)))
    return FALSE;
  if ((more = pawl_database_step (&self->database, statement, error)) <= 0)
    return more == 0;

  found = copy_bytes (statement);
  actual = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, found);
  *state = g_str_equal (actual, digest) ? PAWL_KEPT_WHOLE : PAWL_KEPT_CHANGED;
  if (*state == PAWL_KEPT_WHOLE && bytes != NULL)
    *bytes = g_steal_pointer (&found);
  return TRUE;
}

static void
set_kept_error (PawlRecord   *self,
                const char   *digest,
                PawlKeptState state,
                GError      **error)
{
  if (state == PAWL_KEPT_CHANGED)
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED,
                 "%s: the bytes kept as %s were changed after they were kept", self->database.path, digest);
  else
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED,
                 "%s: nothing is kept as %s in this record", self->database.path, digest);
}

/**
 * pawl_record_keep:
 * @self: a record
 * @bytes: what to keep, empty is allowed
 * @media_type: what they are, as in "image/jpeg"; a hint for whoever opens the file, no digest covers it
 * @error: %PAWL_RECORD_ERROR_READ_ONLY, %PAWL_RECORD_ERROR_FULL, %PAWL_RECORD_ERROR_BUSY, %PAWL_RECORD_ERROR_IO;
 *   %PAWL_RECORD_ERROR_DAMAGED when the record holds these bytes already, but they were changed since
 *
 * Keeps bytes for good, on stable storage before it returns. The same bytes are kept once, with their first media type. Keep
 * first, then append the entry that names the digest: if the program dies between the two, the bytes are there unused, which
 * harms nothing.
 *
 * Returns: (transfer full): SHA-256 of @bytes in hex, to load them by
 */
char *
pawl_record_keep (PawlRecord *self,
                  GBytes     *bytes,
                  const char *media_type,
                  GError    **error)
{
  g_autoptr (PawlTransaction) transaction = NULL;
  g_autofree char *digest = NULL;
  PawlKeptState state;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);
  g_return_val_if_fail (bytes != NULL && media_type != NULL, NULL);

  if (!pawl_record_check_writable (self, error))
    return NULL;

  digest = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  if (!(transaction = pawl_transaction_begin (&self->database, PAWL_TRANSACTION_WRITE, error))
      || !pawl_record_look_up_kept (self, digest, &state, NULL, error))
    return NULL;

  /* Looked at, not trusted: "kept" means that they can be loaded again. */
  if (state == PAWL_KEPT_WHOLE)
    return g_steal_pointer (&digest);
  if (state == PAWL_KEPT_CHANGED)
    {
      set_kept_error (self, digest, state, error);
      return NULL;
    }

  if (!pawl_database_execute (&self->database, error, INSERT_KEPT, "ssb", digest, media_type, bytes)
      || !pawl_transaction_commit (g_steal_pointer (&transaction), error))
    return NULL;

  return g_steal_pointer (&digest);
}

/**
 * pawl_record_load_kept:
 * @self: a record
 * @digest: as pawl_record_keep() returned it
 * @error: %PAWL_RECORD_ERROR_DAMAGED when nothing is kept by @digest, or when it is no longer what was kept; the errors of reading
 *
 * Returns: (transfer full): the bytes, checked against @digest
 */
GBytes *
pawl_record_load_kept (PawlRecord *self,
                       const char *digest,
                       GError    **error)
{
  GBytes *bytes = NULL;
  PawlKeptState state;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);
  g_return_val_if_fail (digest != NULL, NULL);

  if (!pawl_record_look_up_kept (self, digest, &state, &bytes, error))
    return NULL;
  if (bytes == NULL)
    set_kept_error (self, digest, state, error);

  return bytes;
}
