/*
 * Reading a bundle that nobody vouches for. Its members are read in their order and held against the manifest: a name, a size or a digest
 * that is not the one stated, something more or something less, and the whole is refused. No member is unpacked anywhere.
 */
#include "bundle/pawl-bundle-private.h"

#include <errno.h>
#include <fcntl.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

typedef struct {
  struct archive *archive;
  int             fd;
  guint64         file_size;
  const char     *what;
  GPtrArray      *members; /* (element-type PawlMember), once the manifest is read */
} Reader;

static void
clear_reader (Reader *self)
{
  if (self->archive != NULL)
    archive_read_free (self->archive);
  if (self->fd >= 0)
    close (self->fd);
  g_clear_pointer (&self->members, g_ptr_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reader, clear_reader)

static gboolean
refuse (GError        **error,
        PawlBundleError code,
        const char     *format,
        ...) G_GNUC_PRINTF (3, 4);

static gboolean
refuse (GError        **error,
        PawlBundleError code,
        const char     *format,
        ...)
{
  va_list values;

  va_start (values, format);
  g_propagate_error (error, g_error_new_valist (PAWL_BUNDLE_ERROR, (int) code, format, values));
  va_end (values);
  return FALSE;
}

/* ---- the zip ---- */

char *
pawl_bundle_dup_reason (struct archive *archive)
{
  const char *text = archive_error_string (archive);
  char *reason = text != NULL ? g_utf8_make_valid (text, -1) : g_strdup ("no reason given");

  g_strdelimit (reason, "\n\r", ' ');
  return g_strstrip (reason);
}

/* By its directory, which is at the end: the beginning of a bundle alone is none. */
static gboolean
open_zip (Reader  *self,
          GError **error)
{
  self->archive = archive_read_new ();
  if (archive_read_support_format_zip_seekable (self->archive) == ARCHIVE_OK && archive_read_open_fd (self->archive, self->fd, 65536) == ARCHIVE_OK)
    return TRUE;

  return refuse (error, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "not a bundle, or only the beginning of one");
}

static gboolean
open_file (Reader     *self,
           const char *path,
           GError    **error)
{
  struct stat facts;
  int saved_errno;

  self->fd = open (path, O_RDONLY | O_CLOEXEC | O_NONBLOCK); /* never waits for somebody to fill a pipe */
  if (self->fd < 0 || fstat (self->fd, &facts) != 0)
    {
      saved_errno = errno;
      return refuse (error, PAWL_BUNDLE_ERROR_IO, "%s", saved_errno == ENOENT ? "there is no such file" : g_strerror (saved_errno));
    }
  if (!S_ISREG (facts.st_mode))
    return refuse (error, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "not a bundle: it is no plain file");

  self->file_size = (guint64) facts.st_size;
  return open_zip (self, error);
}

static gboolean
enter_member (Reader     *self,
              const char *name,
              GError    **error)
{
  struct archive_entry *entry;
  int rc = archive_read_next_header (self->archive, &entry);
  const char *actual;

  if (rc == ARCHIVE_EOF)
    return refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "“%s” is missing", name);
  if (rc != ARCHIVE_OK)
    {
      g_autofree char *reason = pawl_bundle_dup_reason (self->archive);

      return refuse (error, g_str_equal (name, PAWL_BUNDLE_MANIFEST) ? PAWL_BUNDLE_ERROR_NOT_A_BUNDLE : PAWL_BUNDLE_ERROR_DAMAGED,
                     "“%s” can't be found: %s", name, reason);
    }

  actual = archive_entry_pathname (entry);
  if (actual == NULL || !g_str_equal (actual, name))
    {
      g_autofree char *printable = g_strescape (actual != NULL ? actual : "", NULL);

      return refuse (error, g_str_equal (name, PAWL_BUNDLE_MANIFEST) ? PAWL_BUNDLE_ERROR_NOT_A_BUNDLE : PAWL_BUNDLE_ERROR_DAMAGED,
                     "“%s” should be where “%.100s” is", name, printable);
    }
  return archive_entry_filetype (entry) == AE_IFREG || refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "“%s” is no plain file", name);
}

/* Never more than @limit, whatever the zip says of the size. */
static GBytes *
read_member (Reader     *self,
             const char *name,
             gsize       limit,
             GError    **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_autofree guint8 *block = g_malloc (65536);
  la_ssize_t size;

  if (!enter_member (self, name, error))
    return NULL;
  while ((size = archive_read_data (self->archive, block, 65536)) > 0)
    {
      if ((gsize) size > limit - bytes->len)
        {
          refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "“%s” is longer than the %" G_GSIZE_FORMAT " bytes that it may have", name, limit);
          return NULL;
        }
      g_byte_array_append (bytes, block, (guint) size);
    }
  if (size < 0)
    {
      g_autofree char *reason = pawl_bundle_dup_reason (self->archive);

      refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "“%s” can't be read: %s", name, reason);
      return NULL;
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}

/* ---- the manifest ---- */

static gboolean
check_growth (Reader  *self,
              GError **error)
{
  guint64 total = 0;

  for (guint i = 0; i < self->members->len; i++)
    total += ((PawlMember *) self->members->pdata[i])->size; /* both factors are capped */
  if (total <= PAWL_BUNDLE_FREE_GROWTH || total / PAWL_BUNDLE_MAX_GROWTH <= self->file_size)
    return TRUE;

  return refuse (error, PAWL_BUNDLE_ERROR_TOO_LARGE, "it would grow from %" G_GUINT64_FORMAT " to %" G_GUINT64_FORMAT " bytes, more than %d times",
                 self->file_size, total, PAWL_BUNDLE_MAX_GROWTH);
}

static gboolean
read_manifest (Reader  *self,
               GError **error)
{
  g_autoptr (GBytes) manifest = read_member (self, PAWL_BUNDLE_MANIFEST, PAWL_BUNDLE_MAX_MANIFEST, error);
  g_autoptr (GBytes) seal = manifest != NULL ? read_member (self, PAWL_BUNDLE_SEAL, 256, error) : NULL;
  g_autofree char *text = NULL;
  g_autofree char *expected = NULL;
  gsize length;

  if (seal == NULL)
    return FALSE;

  length = g_bytes_get_size (manifest);
  text = length > 0 ? g_strndup (g_bytes_get_data (manifest, NULL), length) : g_strdup ("");
  expected = pawl_manifest_dup_seal (text, strlen (text));
  if (strlen (text) != length || g_bytes_get_size (seal) != strlen (expected)
      || memcmp (g_bytes_get_data (seal, NULL), expected, strlen (expected)) != 0)
    return refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "its manifest does not fit its digest: it was changed");

  return (self->members = pawl_manifest_parse (text, length, self->what, error)) != NULL && check_growth (self, error);
}

/* ---- all of it ---- */

typedef gboolean (*MemberFunc) (const PawlMember *member, GBytes *bytes, gpointer data, GError **error);

static gboolean
take_member (Reader           *self,
             const PawlMember *member,
             MemberFunc        take,
             gpointer          data,
             GError          **error)
{
  g_autoptr (GBytes) bytes = read_member (self, member->name, (gsize) member->size, error);
  g_autofree char *digest = NULL;

  if (bytes == NULL)
    return FALSE;
  digest = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  if (g_bytes_get_size (bytes) != member->size || !g_str_equal (digest, member->sha256))
    return refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "“%s” does not fit its digest: it was changed", member->name);
  if (take == NULL || take (member, bytes, data, error))
    return TRUE;

  g_prefix_error (error, "“%s”: ", member->name);
  return FALSE;
}

/* From the beginning to the end. @take: (nullable). */
static gboolean
go_through (const char *path,
            const char *what,
            MemberFunc  take,
            gpointer    data,
            GError    **error)
{
  g_auto (Reader) self = { .fd = -1, .what = what };
  struct archive_entry *entry;

  if (!open_file (&self, path, error) || !read_manifest (&self, error))
    return FALSE;
  for (guint i = 0; i < self.members->len; i++)
    if (!take_member (&self, self.members->pdata[i], take, data, error))
      return FALSE;

  return archive_read_next_header (self.archive, &entry) == ARCHIVE_EOF
         || refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "it has something in it that its manifest does not name");
}

static gboolean
merge_chain (PawlMerge        *merge,
             const PawlMember *member,
             GBytes           *bytes,
             GError          **error)
{
  g_autoptr (GPtrArray) rows = pawl_lines_to_rows (bytes, error);
  g_autoptr (GPtrArray) ends = NULL;
  g_autoptr (GString) digests = g_string_new (NULL);

  if (rows == NULL)
    return FALSE;

  ends = pawl_chain_list_ends (rows);
  for (guint i = 0; i < ends->len; i++)
    g_string_append_printf (digests, "%s%s", i > 0 ? " " : "", ((PawlEntryRow *) ends->pdata[i])->digest);
  if (rows->len != member->n_entries || !g_str_equal (digests->str, member->ends) || !g_str_equal (((PawlEntryRow *) rows->pdata[0])->job, member->id))
    return refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "these are not the entries that the manifest states");

  return pawl_merge_add_chain (merge, rows, error);
}

static gboolean
merge_member (const PawlMember *member,
              GBytes           *bytes,
              gpointer          data,
              GError          **error)
{
  PawlMerge *merge = data;

  switch (member->kind)
    {
    case PAWL_MEMBER_KEPT:
      return pawl_merge_add_kept (merge, member->id, member->media_type, bytes, error);
    case PAWL_MEMBER_ENTRIES:
      return merge_chain (merge, member, bytes, error);
    case PAWL_MEMBER_README:
    default:
      return TRUE;
    }
}

/* First through it without the record, so that a bad one never keeps a bench from writing. */
static gboolean
merge_file (PawlRecord     *record,
            const char     *path,
            PawlMergeCount *count,
            GError        **error)
{
  g_autoptr (PawlMerge) merge = NULL;

  return go_through (path, PAWL_BUNDLE_WHAT, NULL, NULL, error) && (merge = pawl_merge_begin (record, error)) != NULL
         && go_through (path, PAWL_BUNDLE_WHAT, merge_member, merge, error) && pawl_merge_commit (g_steal_pointer (&merge), count, error);
}

gboolean
pawl_bundle_merge (PawlRecord     *record,
                   const char     *path,
                   PawlMergeCount *count,
                   GError        **error)
{
  g_return_val_if_fail (path != NULL, FALSE);

  if (merge_file (record, path, count, error))
    return TRUE;

  g_prefix_error (error, "%s: ", path);
  return FALSE;
}

/* ---- without names ---- */

typedef struct {
  GPtrArray  *jobs;
  GHashTable *procedures;
} Nameless;

static gboolean
take_nameless_job (Nameless         *self,
                   const PawlMember *member,
                   GBytes           *bytes,
                   GError          **error)
{
  g_autoptr (GPtrArray) rows = pawl_lines_to_rows (bytes, error);

  if (rows == NULL)
    return FALSE;
  if (rows->len != member->n_entries || !g_str_equal (((PawlEntryRow *) rows->pdata[0])->job, member->id))
    return refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "these are not the entries that the manifest states");
  g_ptr_array_add (self->jobs, g_steal_pointer (&rows));
  return TRUE;
}

static gboolean
take_nameless (const PawlMember *member,
               GBytes           *bytes,
               gpointer          data,
               GError          **error)
{
  Nameless *self = data;

  if (member->kind == PAWL_MEMBER_ENTRIES)
    return take_nameless_job (self, member, bytes, error);
  if (member->kind == PAWL_MEMBER_KEPT)
    g_hash_table_insert (self->procedures, g_strdup (member->id), g_bytes_ref (bytes));
  return TRUE;
}

gboolean
pawl_bundle_read_nameless (const char  *path,
                           GPtrArray  **jobs,
                           GHashTable **procedures,
                           GError     **error)
{
  g_autoptr (GPtrArray) found = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  g_autoptr (GHashTable) kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) g_bytes_unref);
  Nameless self = { found, kept };

  if (!go_through (path, PAWL_BUNDLE_WHAT_NAMELESS, take_nameless, &self, error))
    {
      g_prefix_error (error, "%s: ", path);
      return FALSE;
    }
  *jobs = g_steal_pointer (&found);
  *procedures = g_steal_pointer (&kept);
  return TRUE;
}
