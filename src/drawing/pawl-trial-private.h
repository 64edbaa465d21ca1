/* Pieces of the trial: limits that helper and parent share, what a helper found, one run of it, and verdicts on disk. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/* Raised whenever the helper draws otherwise, or its limits change: verdicts of another edition count no more. */
#define PAWL_TRIAL_EDITION 1

#define PAWL_TRIAL_MEMORY_MIB     512
/* The whole address space, room for the reserves of thread pools included. Memory proper is limited above. */
#define PAWL_TRIAL_ADDRESSES_MIB  4096
/* Test builds with AddressSanitizer draw at half the speed or less. */
#if defined (__SANITIZE_ADDRESS__)
#define PAWL_TRIAL_CPU_SECONDS    10
#define PAWL_TRIAL_CLOCK_SECONDS  12
#else
#define PAWL_TRIAL_CPU_SECONDS    4
#define PAWL_TRIAL_CLOCK_SECONDS  5
#endif
#define PAWL_TRIAL_FILES          48 /* open at once; fonts need some */

/* The helper writes lines to this descriptor: "at LINE" before each piece of the figure, and one verdict, "fine" or "failed WORDS". */
#define PAWL_TRIAL_ANSWER_FD      3

/* The window that the helper draws for. */
#define PAWL_TRIAL_WIDTH          1600
#define PAWL_TRIAL_HEIGHT         1000

typedef enum {
  PAWL_TRIAL_FINE,
  PAWL_TRIAL_FAILED,   /* words */
  PAWL_TRIAL_CRASHED,  /* number: the signal */
  PAWL_TRIAL_COMPUTED, /* over the limit of computing time */
  PAWL_TRIAL_LATE,     /* over the limit by the clock */
  PAWL_TRIAL_MEMORY,
  PAWL_TRIAL_KILLED,   /* number: the signal; not by us */
  PAWL_TRIAL_NO_HELPER, /* words */
  PAWL_TRIAL_NO_ANSWER, /* number: the exit status */
} PawlTrialKind;

typedef struct {
  PawlTrialKind kind;
  int           line;   /* of the figure, of what was being drawn; 0: not known */
  int           number;
  char         *words;  /* (nullable) one line, UTF-8 */
} PawlTrialFound;

void            pawl_trial_found_free (PawlTrialFound *self);
PawlTrialFound *pawl_trial_found_new  (PawlTrialKind kind, int line, int number, const char *words);
/* Whether it says something about the figure, and not about the moment. */
gboolean        pawl_trial_found_lasts (const PawlTrialFound *self);
/* Letters that end up in a message: one line of valid UTF-8, no control characters, at most 300 bytes. (transfer full). */
char           *pawl_trial_clean_words (const char *words, gssize length);

/* Starts @helper on @bytes and waits for it, in this thread. (transfer full) (nullable): NULL only when cancelled. No process is left behind. */
PawlTrialFound *pawl_trial_run        (const char *helper, GBytes *bytes, GCancellable *cancellable);

/* What draws, and in which edition; a verdict counts for the same ones only. (transfer full). */
char           *pawl_trial_store_dup_versions (void);
/* (transfer full) (nullable): the verdict on the figure of that digest, if a whole one is there, of the same @versions, that nobody else can write. */
PawlTrialFound *pawl_trial_store_load (const char *folder, const char *digest, const char *versions);
/* Keeps a verdict. That it can't be kept is no error: the figure is tried again next time. */
void            pawl_trial_store_save (const char *folder, const char *digest, const char *versions, const PawlTrialFound *found);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlTrialFound, pawl_trial_found_free)

G_END_DECLS
