/*
 * Writing a bundle. Twice through the record, in one view of it: once for the manifest, which comes first, and once for the members
 * themselves, so that no more than one of them is in memory.
 */
#include "bundle/pawl-bundle-private.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

typedef struct {
  PawlRecord *record;  /* (nullable): none where each member brings its content */
  const char *what;
  GPtrArray  *chains;  /* (element-type utf8) sorted ids */
  GPtrArray  *members; /* (element-type PawlMember) */
  PawlBundleCount count;
} Plan;

static void
clear_plan (Plan *self)
{
  g_clear_pointer (&self->chains, g_ptr_array_unref);
  g_clear_pointer (&self->members, g_ptr_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Plan, clear_plan)

/* ---- what goes in ---- */

static int
compare_texts (gconstpointer a,
               gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

static gboolean
choose_chains (Plan              *self,
               const char *const *chains,
               GError           **error)
{
  if (chains == NULL)
    return (self->chains = pawl_record_list_chains (self->record, error)) != NULL;

  self->chains = g_ptr_array_new_with_free_func (g_free);
  for (guint i = 0; chains[i] != NULL; i++)
    if (!g_ptr_array_find_with_equal_func (self->chains, chains[i], g_str_equal, NULL))
      g_ptr_array_add (self->chains, g_strdup (chains[i]));
  g_ptr_array_sort (self->chains, compare_texts);
  return TRUE;
}

static GBytes *
load_member (Plan             *self,
             const PawlMember *member,
             GError          **error)
{
  g_autoptr (GPtrArray) rows = NULL;

  if (member->content != NULL)
    return g_bytes_ref (member->content);
  switch (member->kind)
    {
    case PAWL_MEMBER_README:
      return g_bytes_new_static (pawl_bundle_peek_readme (), strlen (pawl_bundle_peek_readme ()));
    case PAWL_MEMBER_KEPT:
      return pawl_record_load_kept (self->record, member->id, error);
    case PAWL_MEMBER_ENTRIES:
    default:
      rows = pawl_record_load_rows (self->record, member->id, error);
      return rows != NULL ? pawl_lines_from_rows (rows, error) : NULL;
    }
}

/* Takes @member into the plan, with size and digest of @bytes. */
static gboolean
plan_member (Plan       *self,
             PawlMember *member, /* (transfer full) */
             GBytes     *bytes,
             GError    **error)
{
  member->size = g_bytes_get_size (bytes);
  member->sha256 = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  g_ptr_array_add (self->members, member);
  self->count.size += member->size;

  if (member->size <= PAWL_BUNDLE_MAX_MEMBER && self->members->len <= PAWL_BUNDLE_MAX_MEMBERS)
    return TRUE;
  g_set_error (error, PAWL_BUNDLE_ERROR, PAWL_BUNDLE_ERROR_TOO_LARGE, "a bundle has %d members of %d bytes at most; “%s” is number %u and has %"
               G_GUINT64_FORMAT, PAWL_BUNDLE_MAX_MEMBERS, PAWL_BUNDLE_MAX_MEMBER, member->name, self->members->len, member->size);
  return FALSE;
}

static void
note_kept (GHashTable *kept,
           GPtrArray  *rows)
{
  for (guint i = 0; i < rows->len; i++)
    {
      g_autoptr (PawlEntry) entry = pawl_entry_new_from_row (rows->pdata[i], NULL); /* was checked when it was loaded */
      const char *const *fields = pawl_chain_peek_kept_fields (pawl_entry_get_kind (entry));

      for (guint j = 0; fields[j] != NULL; j++)
        if (pawl_entry_get (entry, fields[j]) != NULL)
          g_hash_table_add (kept, g_strdup (pawl_entry_get (entry, fields[j])));
    }
}

static gboolean
plan_chain (Plan       *self,
            const char *chain,
            GPtrArray  *members,
            GHashTable *kept,
            GError    **error)
{
  g_autoptr (GPtrArray) rows = pawl_record_load_rows (self->record, chain, error);
  g_autoptr (PawlMember) member = pawl_member_new (PAWL_MEMBER_ENTRIES, chain);
  g_autoptr (PawlMember) readable = pawl_member_new_from_name (member->name);

  if (rows == NULL)
    return FALSE;
  if (readable == NULL)
    {
      g_set_error (error, PAWL_BUNDLE_ERROR, PAWL_BUNDLE_ERROR_DAMAGED, "“%s” is no id that Pawl gives to a job", chain);
      return FALSE;
    }

  note_kept (kept, rows);
  if (!(member->ends = pawl_record_dup_ends (self->record, chain, error)))
    return FALSE;
  member->n_entries = rows->len;
  self->count.n_chains++;
  self->count.n_entries += rows->len;
  g_ptr_array_add (members, g_steal_pointer (&member));
  return TRUE;
}

static gboolean
plan_kept (Plan       *self,
           GHashTable *kept,
           GError    **error)
{
  g_autoptr (GPtrArray) digests = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer digest;

  g_hash_table_iter_init (&iter, kept);
  while (g_hash_table_iter_next (&iter, &digest, NULL))
    g_ptr_array_add (digests, digest);
  g_ptr_array_sort (digests, compare_texts);
  for (guint i = 0; i < digests->len; i++)
    {
      g_autoptr (GBytes) bytes = pawl_record_load_kept (self->record, digests->pdata[i], error);
      PawlMember *member;

      if (bytes == NULL)
        return FALSE;
      member = pawl_member_new (PAWL_MEMBER_KEPT, digests->pdata[i]);
      member->media_type = pawl_record_dup_media_type (self->record, digests->pdata[i], NULL);
      if (!plan_member (self, member, bytes, error))
        return FALSE;
      self->count.n_kept++;
    }
  return TRUE;
}

/* The README, what is kept, then the entries. */
static gboolean
plan_all (Plan    *self,
          GError **error)
{
  g_autoptr (GHashTable) kept = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GPtrArray) chains = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_member_free);
  g_autoptr (GBytes) readme = NULL;
  PawlMember *first = pawl_member_new (PAWL_MEMBER_README, "");

  self->members = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_member_free);
  readme = load_member (self, first, error);
  if (!plan_member (self, first, readme, error))
    return FALSE;
  for (guint i = 0; i < self->chains->len; i++)
    if (!plan_chain (self, self->chains->pdata[i], chains, kept, error))
      return FALSE;
  if (!plan_kept (self, kept, error))
    return FALSE;

  while (chains->len > 0)
    {
      PawlMember *member = g_ptr_array_steal_index (chains, 0);
      g_autoptr (GBytes) bytes = load_member (self, member, error);

      if (bytes == NULL)
        {
          pawl_member_free (member);
          return FALSE;
        }
      if (!plan_member (self, member, bytes, error))
        return FALSE;
    }
  return TRUE;
}

/* ---- the zip ---- */

static gboolean
set_archive_error (struct archive *archive,
                   GError        **error)
{
  g_autofree char *reason = pawl_bundle_dup_reason (archive);

  g_set_error (error, PAWL_BUNDLE_ERROR, PAWL_BUNDLE_ERROR_IO, "the bundle can't be written: %s", reason);
  return FALSE;
}

/* Without times and owners: they are of no use here, and would be other ones each time. */
static gboolean
write_member (struct archive *archive,
              const char     *name,
              gconstpointer   data,
              gsize           size,
              GError        **error)
{
  struct archive_entry *entry = archive_entry_new ();
  gboolean is_written;

  archive_entry_set_pathname (entry, name);
  archive_entry_set_filetype (entry, AE_IFREG);
  archive_entry_set_perm (entry, 0644);
  archive_entry_set_size (entry, (la_int64_t) size);
  is_written = archive_write_header (archive, entry) == ARCHIVE_OK && archive_write_data (archive, data, size) == (la_ssize_t) size
               && archive_write_finish_entry (archive) == ARCHIVE_OK;
  archive_entry_free (entry);

  return is_written || set_archive_error (archive, error);
}

static gboolean
write_members (Plan           *self,
               struct archive *archive,
               GError        **error)
{
  g_autofree char *manifest = pawl_manifest_to_text (self->members, self->what);
  g_autofree char *seal = pawl_manifest_dup_seal (manifest, strlen (manifest));

  if (strlen (manifest) > PAWL_BUNDLE_MAX_MANIFEST)
    {
      g_set_error (error, PAWL_BUNDLE_ERROR, PAWL_BUNDLE_ERROR_TOO_LARGE, "its manifest would have more than %d bytes", PAWL_BUNDLE_MAX_MANIFEST);
      return FALSE;
    }
  if (!write_member (archive, PAWL_BUNDLE_MANIFEST, manifest, strlen (manifest), error)
      || !write_member (archive, PAWL_BUNDLE_SEAL, seal, strlen (seal), error))
    return FALSE;

  for (guint i = 0; i < self->members->len; i++)
    {
      const PawlMember *member = self->members->pdata[i];
      g_autoptr (GBytes) bytes = load_member (self, member, error);

      if (bytes == NULL || !write_member (archive, member->name, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
write_zip (Plan    *self,
           int      fd,
           GError **error)
{
  struct archive *archive = archive_write_new ();
  gboolean is_written = archive_write_set_format_zip (archive) == ARCHIVE_OK
                        && archive_write_set_format_option (archive, "zip", "compression", "deflate") == ARCHIVE_OK
                        && archive_write_set_bytes_in_last_block (archive, 1) == ARCHIVE_OK
                        && archive_write_open_fd (archive, fd) == ARCHIVE_OK;

  is_written = is_written ? write_members (self, archive, error) : set_archive_error (archive, error);
  if (is_written && archive_write_close (archive) != ARCHIVE_OK)
    is_written = set_archive_error (archive, error);
  archive_write_free (archive);

  return is_written;
}

/* ---- the file ---- */

static gboolean
set_file_error (GError **error)
{
  int saved_errno = errno;

  g_set_error (error, PAWL_BUNDLE_ERROR, PAWL_BUNDLE_ERROR_IO, "the bundle can't be written: %s", g_strerror (saved_errno));
  return FALSE;
}

static gboolean
sync_folder_of (const char *path)
{
  g_autofree char *folder = g_path_get_dirname (path);
  int fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  gboolean is_synced = fd >= 0 && (fsync (fd) == 0 || errno == EINVAL); /* EINVAL: a file system that knows no such thing */

  if (fd >= 0)
    close (fd);
  return is_synced;
}

/* Beside its place first: whoever finds a file of that name finds a whole one. */
static gboolean
write_file (Plan       *self,
            const char *path,
            GError    **error)
{
  g_autofree char *beside = g_strconcat (path, ".XXXXXX", NULL);
  int fd = g_mkstemp_full (beside, O_RDWR | O_CLOEXEC, 0666);
  gboolean is_written;

  if (fd < 0)
    return set_file_error (error);

  is_written = write_zip (self, fd, error) && (fsync (fd) == 0 || set_file_error (error));
  close (fd);
  if (is_written && (g_rename (beside, path) != 0 || !sync_folder_of (path)))
    is_written = set_file_error (error);
  if (!is_written)
    g_unlink (beside);
  return is_written;
}

gboolean
pawl_bundle_write (PawlRecord        *record,
                   const char *const *chains,
                   const char        *path,
                   PawlBundleCount   *count,
                   GError           **error)
{
  g_autoptr (PawlTransaction) view = NULL;
  g_auto (Plan) plan = { .record = record, .what = PAWL_BUNDLE_WHAT };

  g_return_val_if_fail (path != NULL && *path != '\0', FALSE);

  if (!(view = pawl_record_begin_view (record, error)) || !choose_chains (&plan, chains, error) || !plan_all (&plan, error))
    return FALSE;
  if (!write_file (&plan, path, error))
    {
      g_prefix_error (error, "%s: ", path);
      return FALSE;
    }

  if (count != NULL)
    *count = plan.count;
  return TRUE;
}

/* ---- without names ---- */

static gboolean
plan_content (Plan       *self,
              PawlMember *member, /* (transfer full) */
              GBytes     *content, /* (transfer full) */
              GError    **error)
{
  member->content = content;
  return plan_member (self, member, content, error);
}

static gboolean
plan_nameless_job (Plan      *self,
                   GPtrArray *rows,
                   GError   **error)
{
  GBytes *lines = pawl_lines_from_rows (rows, error);
  PawlMember *member;

  if (lines == NULL)
    return FALSE;
  member = pawl_member_new (PAWL_MEMBER_ENTRIES, ((PawlEntryRow *) rows->pdata[0])->job);
  member->n_entries = rows->len;
  member->ends = g_strdup ("");
  self->count.n_chains++;
  self->count.n_entries += rows->len;
  return plan_content (self, member, lines, error);
}

static gboolean
plan_nameless (Plan      *self,
               GPtrArray *jobs,
               GPtrArray *procedures,
               GError   **error)
{
  const char *readme = pawl_bundle_peek_nameless_readme ();

  self->members = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_member_free);
  if (!plan_content (self, pawl_member_new (PAWL_MEMBER_README, ""), g_bytes_new_static (readme, strlen (readme)), error))
    return FALSE;
  for (guint i = 0; i < procedures->len; i++)
    {
      g_autofree char *digest = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, procedures->pdata[i]);
      PawlMember *member = pawl_member_new (PAWL_MEMBER_KEPT, digest);

      member->media_type = g_strdup ("application/xml");
      self->count.n_kept++;
      if (!plan_content (self, member, g_bytes_ref (procedures->pdata[i]), error))
        return FALSE;
    }
  for (guint i = 0; i < jobs->len; i++)
    if (!plan_nameless_job (self, jobs->pdata[i], error))
      return FALSE;
  return TRUE;
}

gboolean
pawl_bundle_write_nameless (GPtrArray       *jobs,
                            GPtrArray       *procedures,
                            const char      *path,
                            PawlBundleCount *count,
                            GError         **error)
{
  g_auto (Plan) plan = { .what = PAWL_BUNDLE_WHAT_NAMELESS };

  if (!plan_nameless (&plan, jobs, procedures, error) || !write_file (&plan, path, error))
    {
      g_prefix_error (error, "%s: ", path);
      return FALSE;
    }
  if (count != NULL)
    *count = plan.count;
  return TRUE;
}
