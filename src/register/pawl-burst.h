/*
 * A gauge that types: it sends its reading as key presses, much faster than a hand, with what it was set to put before and after.
 * Pure: key presses and times in, who typed it out. Nothing here reads a keyboard or a clock.
 */
#pragma once

#include <glib.h>
#include "measure/pawl-unit.h"

G_BEGIN_DECLS

/* How one gauge types. Texts are never NULL. */
typedef struct {
  char           *prefix;       /* before the number */
  char           *suffix;       /* after it */
  gunichar        terminator;   /* '\n' (also Enter of the key pad), '\t'; 0: none, the burst ends by a pause */
  char            decimal_mark; /* '.' or ',' */
  const PawlUnit *unit;         /* (nullable): of the bare number that it types */
} PawlBurstForm;

typedef struct {
  gunichar key;     /* '\n' for Enter, '\t' for Tab */
  gint64   at_usec; /* when it was pressed, any zero */
} PawlKeyPress;

/*
 * A keyboard of USB is asked every 8 to 10 ms, and a key takes two answers, pressed and released: a gauge needs 2 to 20 ms for each key. The fastest
 * typists reach 60 ms, a practised hand 120 ms (both from memory). Half way, by ratio, is 35 ms; a gap as long as PAUSE ends a burst that has no terminator.
 * A converter from a serial line may be slower; it is believed up to SLOW when the text begins as that gauge begins.
 */
#define PAWL_BURST_GAP_USEC       35000
#define PAWL_BURST_SLOW_GAP_USEC  80000
#define PAWL_BURST_PAUSE_USEC    150000
#define PAWL_BURST_MIN_KEYS           3 /* terminator included: two keys at once may be a slip of the hand */

typedef enum {
  PAWL_BURST_BY_HAND,   /* too slow, too short, or one key held down */
  PAWL_BURST_UNFINISHED, /* as fast as a gauge, and its terminator has not come */
  PAWL_BURST_STRANGER,  /* as fast as a gauge, of no form that is known */
  PAWL_BURST_SEVERAL,   /* more than one gauge types like this */
  PAWL_BURST_GAUGE,     /* typed by the gauge whose form it is */
} PawlBurst;

/**
 * pawl_burst_recognise:
 * @keys: (array length=n): in the order pressed, from the first that belongs to it
 * @forms: (array length=n_forms): of the gauges in use
 * @now_usec: the clock now, same zero: tells whether a burst without terminator is over
 * @which: (out): index of the form, for PAWL_BURST_GAUGE
 * @reading: (out) (transfer full) (nullable): for _GAUGE, _SEVERAL and _STRANGER the number as typed, without prefix, suffix and terminator
 */
PawlBurst pawl_burst_recognise (const PawlKeyPress *keys, guint n, const PawlBurstForm *const *forms, guint n_forms, gint64 now_usec,
                                guint *which, char **reading);

typedef enum {
  PAWL_LESSON_LEARNT,
  PAWL_LESSON_BY_HAND,   /* too slow, too short, or one key held down */
  PAWL_LESSON_NO_NUMBER,
} PawlBurstLesson;

/**
 * pawl_burst_learn:
 * @keys: (array length=n): one burst, in the order pressed
 * @form: (out): to be cleared
 * @reading: (out) (transfer full): the number in it
 *
 * How a gauge types, from one reading that it sent: what stands before and after the number, what ends it, its decimal mark, and its unit where
 * the suffix is one. The last number with a decimal mark is taken for the reading, else the longest; @reading shows whether that was right.
 * @form and @reading are set for PAWL_LESSON_LEARNT only.
 */
PawlBurstLesson pawl_burst_learn (const PawlKeyPress *keys, guint n, PawlBurstForm *form, char **reading);

void      pawl_burst_form_clear (PawlBurstForm *self);
/* "enter", "tab", "none" */
const char *pawl_burst_name_terminator (gunichar terminator);
/* '\n' of "enter", '\t' of "tab", 0 of "none". FALSE when @text is none of them. */
gboolean  pawl_burst_parse_terminator (const char *text, gunichar *terminator);

G_END_DECLS
