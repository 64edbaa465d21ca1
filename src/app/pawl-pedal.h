/*
 * Presses of the one key as a hand or a foot means them. Pure: a key that is held counts once, however often it repeats, and so do presses that come
 * faster than anybody means two.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Two presses closer together than this are one: a foot slips, a sleeve drags, a contact is worn. Nobody reads what the first press showed and answers it
 * within that time, and walking on at three presses a second is left. Common practice, no source.
 */
#define PAWL_PEDAL_BOUNCE_USEC (300 * 1000)
/* Between letting go and the next press: contacts bounce for some hundredths of a second, and displays far off tell a held key as pairs of both at one
 * instant. Common practice, no source. */
#define PAWL_PEDAL_CONTACT_USEC (50 * 1000)
/* Behind any other key: Enter at the end of what a gauge types is no press. As long as the pause that ends a burst: register/pawl-burst.h. */
#define PAWL_PEDAL_APART_USEC (150 * 1000)
/* A key that was last heard of longer ago than this does not repeat: that it was let go was told to another window. Desktops wait two seconds at most
 * before a key repeats: common practice, no source. */
#define PAWL_PEDAL_REPEAT_USEC (3 * G_USEC_PER_SEC)

typedef struct {
  guint    down;          /* the key that is held; 0: none */
  gboolean has_counted, has_released, has_other;
  gint64   seen_usec, counted_usec, released_usec, other_usec;
} PawlPedal; /* zeroed: nothing was pressed yet */

/* Whether this press counts. @key: as the X keysyms number them; @at_usec: any zero, the same for all calls */
gboolean pawl_pedal_press   (PawlPedal *self, guint key, gint64 at_usec);
void     pawl_pedal_release (PawlPedal *self, guint key, gint64 at_usec);
/* A key that is no press. */
void     pawl_pedal_pass    (PawlPedal *self, gint64 at_usec);
/* The keyboard went elsewhere: what is held is not known any more. */
void     pawl_pedal_forget  (PawlPedal *self);

G_END_DECLS
