/*
 * Steady time: what no hand sets, and what goes on while the computer sleeps. Held against the wall clock within one boot, it shows when the clock was put
 * forward or back. A change of summer time is none: that is another name for the same moment.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* From outside, so that tests can fix it. */
typedef struct {
  gint64 (*now_usec) (gpointer data); /* since the boot, sleep included */
  char  *(*dup_boot) (gpointer data); /* (transfer full): which boot; "" when that can't be known */
  gpointer data;
} PawlSteady;

const PawlSteady *pawl_steady_get_system (void);

/* What both clocks showed at one moment. */
typedef struct {
  char  *boot;                    /* "": there is none */
  gint64 wall_usec, steady_usec;
} PawlClockSample;

/* Less than this is the clock being kept right, bit by bit or after an hour without a net: common practice, no source. */
#define PAWL_CLOCK_JUMP_SECONDS 30

void   pawl_clock_sample_take  (PawlClockSample *self, const PawlSteady *steady, GDateTime *wall);
void   pawl_clock_sample_clear (PawlClockSample *self);
/* Seconds by which the wall clock was put forward between the two, less than 0: back; 0: not, or it can't be known. */
gint64 pawl_clock_find_jump    (const PawlClockSample *before, const PawlClockSample *now);

G_END_DECLS
