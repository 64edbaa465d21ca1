#include "drawing/pawl-trial.h"

#include <string.h>

#include "drawing/pawl-figure-scan.h"
#include "drawing/pawl-trial-private.h"

/* Helpers at once: each has the clock against it, so they must not have to share a processor with many others. */
#define MAX_AT_ONCE 2
/* How often somebody who waits for a helper of another looks whether he was told to stop waiting. */
#define LOOK_USEC (50 * 1000)

G_DEFINE_QUARK (pawl-trial-error-quark, pawl_trial_error)

struct _PawlTrial {
  GObject parent_instance;

  char       *helper;
  char       *folder;   /* (nullable) */
  char       *versions;

  GMutex      mutex;    /* of all below */
  GCond       ended;    /* a helper ended */
  GHashTable *running;  /* (element-type utf8): digests that are being tried */
  GHashTable *known;    /* (element-type utf8 PawlTrialFound) */
};

G_DEFINE_TYPE (PawlTrial, pawl_trial, G_TYPE_OBJECT)

static void
pawl_trial_finalize (GObject *object)
{
  PawlTrial *self = PAWL_TRIAL (object);

  g_free (self->helper);
  g_free (self->folder);
  g_free (self->versions);
  g_hash_table_unref (self->running);
  g_hash_table_unref (self->known);
  g_mutex_clear (&self->mutex);
  g_cond_clear (&self->ended);
  G_OBJECT_CLASS (pawl_trial_parent_class)->finalize (object);
}

static void
pawl_trial_class_init (PawlTrialClass *class)
{
  G_OBJECT_CLASS (class)->finalize = pawl_trial_finalize;
}

static void
pawl_trial_init (PawlTrial *self)
{
  g_mutex_init (&self->mutex);
  g_cond_init (&self->ended);
  self->running = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->known = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, (GDestroyNotify) pawl_trial_found_free);
}

PawlTrial *
pawl_trial_new (const char *helper, const char *folder)
{
  PawlTrial *self;

  g_return_val_if_fail (helper != NULL, NULL);
  self = g_object_new (PAWL_TYPE_TRIAL, NULL);
  self->helper = g_strdup (helper);
  self->folder = g_strdup (folder);
  self->versions = pawl_trial_store_dup_versions ();
  return self;
}

/* In the build folder src/cli/pawl and src/trial/pawl-trial lie side by side, so that a program under test never meets an installed helper. */
char *
pawl_trial_dup_helper_path (void)
{
  const char *named = g_getenv ("PAWL_TRIAL_HELPER");
  g_autofree char *program = g_file_read_link ("/proc/self/exe", NULL);
  g_autofree char *folder = program ? g_path_get_dirname (program) : NULL;
  g_autofree char *beside = folder ? g_build_filename (folder, "..", "trial", "pawl-trial", NULL) : NULL;

  if (named && *named)
    return g_strdup (named);
  if (beside && g_file_test (beside, G_FILE_TEST_IS_EXECUTABLE))
    return g_steal_pointer (&beside);
  return g_strdup (PAWL_LIBEXEC_DIR "/pawl-trial");
}

/* ---- the sentence ---- */

static void
set_error (const PawlTrialFound *found, const char *helper, const char *name, GError **error)
{
  g_autofree char *place = found->line > 0 ? g_strdup_printf ("%s:%d", name, found->line) : g_strdup (name);
  const char *here = found->line > 0 ? "on what begins here" : "on this figure";

  switch (found->kind)
    {
    case PAWL_TRIAL_CRASHED:
      g_set_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_CRASHED, "%s: the drawing library crashed %s (signal %d, %s); draw it with fewer links, effects and levels",
                   place, here, found->number, g_strsignal (found->number));
      break;
    case PAWL_TRIAL_COMPUTED:
      g_set_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_TOO_LONG, "%s: drawing it took more than %d s of computing; simplify %s: fewer effects, copies and points",
                   place, PAWL_TRIAL_CPU_SECONDS, found->line > 0 ? "what begins here" : "the figure");
      break;
    case PAWL_TRIAL_LATE:
      g_set_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_TOO_LONG, "%s: drawing it was not done after %d s; check it again when the computer is idle, or simplify %s",
                   place, PAWL_TRIAL_CLOCK_SECONDS, found->line > 0 ? "what begins here" : "the figure");
      break;
    case PAWL_TRIAL_MEMORY:
      g_set_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_MEMORY, "%s: drawing it took more than %d MiB of memory; use smaller pictures, patterns and effects",
                   place, PAWL_TRIAL_MEMORY_MIB);
      break;
    case PAWL_TRIAL_FAILED:
      g_set_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_FAILED, "%s: %s", place, found->words ? found->words : "can't be drawn");
      break;
    case PAWL_TRIAL_KILLED:
      g_set_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_NOT_TRIED,
                   "%s: the trial drawing was ended from outside (signal %d, %s), as when memory runs short; close other programs and check it again", place,
                   found->number, g_strsignal (found->number));
      break;
    case PAWL_TRIAL_NO_HELPER:
      g_set_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_NOT_TRIED, "%s: can't be tried, so it is not drawn: %s: %s; install Pawl whole", place, helper,
                   found->words ? found->words : "can't be started");
      break;
    case PAWL_TRIAL_NO_ANSWER:
    default:
      g_set_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_NOT_TRIED, "%s: the trial drawing ended without an answer (status %d), so it is not drawn; install Pawl whole",
                   place, found->number);
      break;
    }
}

gboolean
pawl_trial_may_change (const GError *error)
{
  return g_error_matches (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_TOO_LONG) || g_error_matches (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_MEMORY)
         || g_error_matches (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_NOT_TRIED);
}

/* ---- trying ---- */

/* Waits until a helper may be started for @digest. With the mutex held. FALSE when cancelled. */
static gboolean
queue (PawlTrial *self, const char *digest, GCancellable *cancellable)
{
  while (g_hash_table_contains (self->running, digest) || g_hash_table_size (self->running) >= MAX_AT_ONCE)
    {
      g_cond_wait_until (&self->ended, &self->mutex, g_get_monotonic_time () + LOOK_USEC);
      if (g_cancellable_is_cancelled (cancellable))
        return FALSE;
    }
  return TRUE;
}

/* With the mutex held. (transfer none) (nullable). */
static const PawlTrialFound *
look_up (PawlTrial *self, const char *digest)
{
  PawlTrialFound *found = g_hash_table_lookup (self->known, digest);

  if (!found && self->folder && (found = pawl_trial_store_load (self->folder, digest, self->versions)))
    g_hash_table_replace (self->known, g_strdup (digest), found);
  return found;
}

static gboolean
is_final (const PawlTrialFound *found)
{
  return found->kind == PAWL_TRIAL_FINE || found->kind == PAWL_TRIAL_FAILED || found->kind == PAWL_TRIAL_CRASHED;
}

static PawlTrialFound *
copy_found (const PawlTrialFound *found)
{
  return pawl_trial_found_new (found->kind, found->line, found->number, found->words);
}

/* Runs the helper, with the mutex held before and after but not meanwhile. (nullable): NULL when cancelled. */
static PawlTrialFound *
try_out (PawlTrial *self, GBytes *bytes, const char *digest, GCancellable *cancellable)
{
  PawlTrialFound *found;

  g_hash_table_add (self->running, g_strdup (digest));
  g_mutex_unlock (&self->mutex);
  found = pawl_trial_run (self->helper, bytes, cancellable);
  if (found && pawl_trial_found_lasts (found) && self->folder)
    pawl_trial_store_save (self->folder, digest, self->versions, found);
  g_mutex_lock (&self->mutex);
  g_hash_table_remove (self->running, digest);
  if (found && pawl_trial_found_lasts (found))
    g_hash_table_replace (self->known, g_strdup (digest), copy_found (found));
  g_cond_broadcast (&self->ended);
  return found;
}

gboolean
pawl_trial_check (PawlTrial *self, GBytes *bytes, const char *name, PawlTrialUse use, GCancellable *cancellable, GError **error)
{
  g_autofree char *digest = NULL;
  g_autoptr(PawlTrialFound) found = NULL;
  const PawlTrialFound *known = NULL;

  g_return_val_if_fail (PAWL_IS_TRIAL (self) && bytes != NULL && name != NULL, FALSE);
  digest = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, bytes);
  g_mutex_lock (&self->mutex);
  if (queue (self, digest, cancellable))
    {
      if (use != PAWL_TRIAL_ANEW && (known = look_up (self, digest)) && (use == PAWL_TRIAL_KEPT || is_final (known)))
        found = copy_found (known);
      else
        found = try_out (self, bytes, digest, cancellable);
    }
  g_mutex_unlock (&self->mutex);
  if (!found)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_CANCELLED, "%s: no longer wanted", name);
  else if (found->kind != PAWL_TRIAL_FINE)
    set_error (found, self->helper, name, error);
  return found && found->kind == PAWL_TRIAL_FINE;
}

/* ---- loading ---- */

PawlFigure *
pawl_trial_load_bytes (PawlTrial *self, GBytes *bytes, const char *name, PawlTrialUse use, GCancellable *cancellable, GError **error)
{
  PawlFigureScan scan = { 0 };
  PawlFigure *figure = NULL;

  g_return_val_if_fail (PAWL_IS_TRIAL (self) && bytes != NULL && name != NULL, NULL);
  if (!pawl_figure_scan (bytes, name, &scan, error))
    return NULL;
  if (pawl_trial_check (self, bytes, name, use, cancellable, error))
    figure = pawl_figure_new_scanned (bytes, name, &scan, error);
  g_clear_pointer (&scan.findings, g_ptr_array_unref);
  return figure;
}

PawlFigure *
pawl_trial_load (PawlTrial *self, const char *path, PawlTrialUse use, GCancellable *cancellable, GError **error)
{
  g_autoptr(GBytes) bytes = pawl_figure_read_file (path, error);
  g_autofree char *name = bytes ? g_path_get_basename (path) : NULL;

  return bytes ? pawl_trial_load_bytes (self, bytes, name, use, cancellable, error) : NULL;
}
