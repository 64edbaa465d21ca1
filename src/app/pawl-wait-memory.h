/* What has to outlive the program for waits: which of them was told of already, and what the clocks showed when they were looked at last. One small key file. */
#pragma once

#include "app/pawl-steady.h"
#include "plan/pawl-waiting.h"

G_BEGIN_DECLS

typedef struct _PawlWaitMemory PawlWaitMemory;

/* @path: (nullable): nothing outlives the program. What can't be read is forgotten. */
PawlWaitMemory  *pawl_wait_memory_load      (const char *path);
void             pawl_wait_memory_free      (PawlWaitMemory *self);
/* Up to which stage was told. */
PawlWaitingStage pawl_wait_memory_get_told  (PawlWaitMemory *self, const PawlWaiting *wait);
void             pawl_wait_memory_set_told  (PawlWaitMemory *self, const PawlWaiting *wait, PawlWaitingStage stage);
/* Forgets all that is not among @waits (element-type PawlWaiting). */
void             pawl_wait_memory_keep_only (PawlWaitMemory *self, GPtrArray *waits);
/* Fills @sample; to be cleared by the caller. */
void             pawl_wait_memory_get_clock (PawlWaitMemory *self, PawlClockSample *sample);
void             pawl_wait_memory_set_clock (PawlWaitMemory *self, const PawlClockSample *sample);
/* Writes what has changed. That it can't is no reason to stop anybody: then something is told twice. */
void             pawl_wait_memory_save      (PawlWaitMemory *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlWaitMemory, pawl_wait_memory_free)

G_END_DECLS
