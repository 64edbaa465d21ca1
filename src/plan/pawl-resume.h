/* A job to be taken up again, at a glance: what was about to be done, what waits, and what has changed since. Pure: the same job, register and clock give the same. */
#pragma once

#include "plan/pawl-waiting.h"
#include "register/pawl-register.h"

G_BEGIN_DECLS

typedef struct {
  char      *next;    /* "You were about to do step 14, Press in the drilled bushing" */
  GPtrArray *waits;   /* (element-type PawlWaiting): soonest limit first */
  GDateTime *due;     /* (nullable): when somebody has to be at it at the latest: the first maximum, or minimum of what has none; NULL: nothing waits */
  GPtrArray *changes; /* (element-type utf8): since then: "3 entries by Jago Penrose", "Depth gauge DG-2: overdue since 2026-11-20" */
  guint      n_done, n_steps;
} PawlResume;

/* @person: (nullable): who comes back; what others did since the last entry of this name is told. @instruments: (nullable). @revision: (nullable): of the procedure as
 * it is on the shelf now. */
PawlResume *pawl_resume_new     (PawlJob *job, const char *person, const PawlRegister *instruments, const char *revision);
void        pawl_resume_free    (PawlResume *self);
/* What is due first comes first; then those of which nothing is due, as they were. A GCompareFunc for two (nullable) due times. */
int         pawl_resume_compare (GDateTime *a, GDateTime *b);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlResume, pawl_resume_free)

G_END_DECLS
