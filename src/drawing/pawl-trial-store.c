/* Verdicts on disk: one small file for each figure, named by its digest, that the user alone can read and write. */
#include "drawing/pawl-trial-private.h"

#include <cairo.h>
#include <errno.h>
#include <fcntl.h>
#include <glib/gstdio.h>
#include <librsvg/rsvg.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#define MAX_FILE 1024

/* As they stand in the file. Only verdicts that last are kept. */
static const char * const kind_words[] = {
  [PAWL_TRIAL_FINE] = "fine", [PAWL_TRIAL_FAILED] = "failed", [PAWL_TRIAL_CRASHED] = "crashed",
  [PAWL_TRIAL_COMPUTED] = "computed", [PAWL_TRIAL_LATE] = "late", [PAWL_TRIAL_MEMORY] = "memory",
};

char *
pawl_trial_store_dup_versions (void)
{
  return g_strdup_printf ("trial %d, librsvg %u.%u.%u, cairo %s", PAWL_TRIAL_EDITION, rsvg_major_version, rsvg_minor_version, rsvg_micro_version,
                          cairo_version_string ());
}

static char *
make_path (const char *folder, const char *digest)
{
  g_autofree char *name = g_strconcat (digest, ".verdict", NULL);

  return g_build_filename (folder, name, NULL);
}

/* A last line with the digest of what stands above it: a file that was cut off or overwritten in part does not count. It is no signature;
 * that nobody else writes here is the folder's doing. */
static char *
make_seal (const char *text, gsize length)
{
  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, (gssize) length);
}

/* ---- reading ---- */

static gboolean
is_ours_alone (const struct stat *status)
{
  return status->st_uid == geteuid () && (status->st_mode & 077) == 0;
}

/* The folder is opened first and the file in it, neither by a link, so that what was looked at is what is read. -1: not there, or not ours alone. */
static int
open_ours (const char *folder, const char *digest, int flags)
{
  g_autofree char *path = make_path (folder, digest);
  g_autofree char *name = g_path_get_basename (path);
  struct stat status;
  int folder_fd = open (folder, O_RDONLY | O_DIRECTORY | O_NOFOLLOW | O_CLOEXEC);
  int fd = -1;

  if (folder_fd >= 0 && fstat (folder_fd, &status) == 0 && is_ours_alone (&status))
    fd = openat (folder_fd, name, flags | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
  if (folder_fd >= 0)
    close (folder_fd);
  if (fd >= 0 && !(fstat (fd, &status) == 0 && S_ISREG (status.st_mode) && is_ours_alone (&status)))
    {
      close (fd);
      return -1;
    }
  return fd;
}

static char *
read_text (int fd)
{
  char text[MAX_FILE + 1];
  gssize length = read (fd, text, MAX_FILE);

  close (fd);
  if (length <= 0)
    return NULL;
  text[length] = '\0';
  return strlen (text) == (gsize) length ? g_strdup (text) : NULL;
}

static PawlTrialFound *
parse_kind (const char *text)
{
  g_auto(GStrv) words = g_strsplit (text, " ", 4);

  if (g_strv_length (words) == 4)
    for (guint i = 0; i < G_N_ELEMENTS (kind_words); i++)
      if (g_str_equal (words[0], kind_words[i]))
        return pawl_trial_found_new (i, (int) CLAMP (g_ascii_strtoll (words[1], NULL, 10), 0, G_MAXINT),
                                     (int) CLAMP (g_ascii_strtoll (words[2], NULL, 10), 0, 64), *words[3] ? words[3] : NULL);
  return NULL;
}

PawlTrialFound *
pawl_trial_store_load (const char *folder, const char *digest, const char *versions)
{
  int fd = open_ours (folder, digest, O_RDONLY);
  g_autofree char *text = fd >= 0 ? read_text (fd) : NULL;
  g_auto(GStrv) lines = text ? g_strsplit (text, "\n", -1) : NULL;
  g_autofree char *seal = NULL;

  if (!lines || g_strv_length (lines) != 5 || *lines[4])
    return NULL;
  seal = make_seal (text, strlen (text) - strlen (lines[3]) - 1);
  if (!g_str_equal (seal, lines[3]) || !g_str_equal (lines[0], versions) || !g_str_equal (lines[1], digest))
    return NULL;
  return parse_kind (lines[2]);
}

/* ---- writing ---- */

/* Under a name of its own first: another program that reads or writes the same verdict sees a whole file or none. */
static gboolean
write_beside (const char *folder, const char *path, const char *text)
{
  g_autofree char *draft = g_build_filename (folder, "draft-XXXXXX", NULL);
  int fd = g_mkstemp_full (draft, O_WRONLY | O_CLOEXEC, 0600);
  gsize length = strlen (text);
  gboolean is_written;

  if (fd < 0)
    return FALSE;
  is_written = write (fd, text, length) == (gssize) length;
  if (close (fd) != 0 || !is_written || g_rename (draft, path) != 0)
    {
      g_unlink (draft);
      return FALSE;
    }
  return TRUE;
}

void
pawl_trial_store_save (const char *folder, const char *digest, const char *versions, const PawlTrialFound *found)
{
  g_autofree char *path = make_path (folder, digest);
  g_autofree char *body = NULL, *seal = NULL, *text = NULL;
  GStatBuf status;

  g_return_if_fail (pawl_trial_found_lasts (found));
  if (g_mkdir_with_parents (folder, 0700) != 0 || g_lstat (folder, &status) != 0 || !S_ISDIR (status.st_mode) || !is_ours_alone (&status))
    return;
  body = g_strdup_printf ("%s\n%s\n%s %d %d %s\n", versions, digest, kind_words[found->kind], found->line, found->number, found->words ? found->words : "");
  seal = make_seal (body, strlen (body));
  text = g_strconcat (body, seal, "\n", NULL);
  write_beside (folder, path, text);
}
