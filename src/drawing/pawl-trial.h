/*
 * The trial: before a figure that nobody vouches for is drawn in this process, a helper process draws it, with limits on memory, computing
 * time and clock. The drawing library can crash, hang or balloon on files that every scan finds harmless; here that is one sentence.
 *
 * What the helper found is kept by the digest of the figure and the versions of what draws, in memory and in a folder that is handed in, so
 * that a figure is tried once. A kept verdict says only whether a figure may be drawn: it carries no path, no command and no data.
 *
 * Not confined: the helper runs as the user does, may read what the user may read (fonts, of need), and has the network. The limits hold an
 * accident off, and a hostile file away from the record and the window; they are no jail for code that has taken the helper over.
 *
 * All calls may be made from any thread, several at once; two that try the same figure share one helper.
 */
#pragma once

#include "drawing/pawl-figure.h"

G_BEGIN_DECLS

#define PAWL_TRIAL_ERROR (pawl_trial_error_quark ())
GQuark pawl_trial_error_quark (void);

typedef enum {
  PAWL_TRIAL_ERROR_CRASHED,  /* the drawing library crashed */
  PAWL_TRIAL_ERROR_TOO_LONG, /* it computed, or was at it, for longer than the limit */
  PAWL_TRIAL_ERROR_MEMORY,   /* it asked for more memory than the limit */
  PAWL_TRIAL_ERROR_FAILED,   /* it said that the figure can't be drawn */
  PAWL_TRIAL_ERROR_NOT_TRIED, /* there is no helper, or something from outside ended it: nothing is known about the figure, and nothing kept */
} PawlTrialError;

/* What a kept verdict is good for. */
typedef enum {
  PAWL_TRIAL_KEPT,          /* it stands, whatever it is */
  PAWL_TRIAL_KEPT_IF_FINAL, /* not when another time of day may change it: somebody asks for it */
  PAWL_TRIAL_ANEW,          /* nothing: the figure is tried */
} PawlTrialUse;

#define PAWL_TYPE_TRIAL (pawl_trial_get_type ())
G_DECLARE_FINAL_TYPE (PawlTrial, pawl_trial, PAWL, TRIAL, GObject)

/**
 * pawl_trial_new:
 * @helper: path of the helper program
 * @folder: (nullable): where verdicts are kept; made when needed, for the user alone. NULL: in memory only
 */
PawlTrial  *pawl_trial_new             (const char *helper, const char *folder);
/* (transfer full): the helper that belongs to the running program: $PAWL_TRIAL_HELPER, else the one built beside it, else the installed one. */
char       *pawl_trial_dup_helper_path (void);

/**
 * pawl_trial_load_bytes:
 * @bytes: a figure as read
 * @name: stands for the file in messages
 * @use: of a kept verdict
 * @cancellable: (nullable): ends the helper
 * @error: PAWL_FIGURE_ERROR from scan and opening, PAWL_TRIAL_ERROR, or G_IO_ERROR_CANCELLED. One sentence that begins "NAME:LINE: ", or
 *   "NAME: " when no line is known
 *
 * Scans, tries and opens a figure. Blocks for as long as that takes, at most PAWL_TRIAL_CLOCK_SECONDS for a trial; in a window, call it in a
 * worker. Returns: (transfer full) (nullable).
 */
PawlFigure *pawl_trial_load_bytes      (PawlTrial *self, GBytes *bytes, const char *name, PawlTrialUse use, GCancellable *cancellable, GError **error);
/* The same from a file; PAWL_FIGURE_ERROR_IO besides. */
PawlFigure *pawl_trial_load            (PawlTrial *self, const char *path, PawlTrialUse use, GCancellable *cancellable, GError **error);
/* The trial alone, without scan: whether the helper got through with it. */
gboolean    pawl_trial_check           (PawlTrial *self, GBytes *bytes, const char *name, PawlTrialUse use, GCancellable *cancellable, GError **error);
/* TRUE for verdicts that another time of day may change: took too long, took too much memory, could not be tried. */
gboolean    pawl_trial_may_change      (const GError *error);

G_END_DECLS
