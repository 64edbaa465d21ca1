/*
 * Readings that a gauge types go in from any page of the job. Whether a gauge typed is known only when its last key has come; until then
 * its keys do what they would do for a hand. Then what they did is taken back, and its value goes to the reading, with its mark.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-step-panel.h"

G_BEGIN_DECLS

typedef struct _PawlGaugeTyping PawlGaugeTyping;

/* Brings the panel before the eyes, at the reading that is waited for: somebody may look at another page while the gauge types. */
typedef void (*PawlGaugeBring) (gpointer data);

/* @panel: borrowed; outlives it */
PawlGaugeTyping *pawl_gauge_typing_new         (PawlStepPanel *panel, PawlGaugeBring bring, gpointer data);
void             pawl_gauge_typing_free        (PawlGaugeTyping *self);
/* (nullable) @session: what was typed so far is forgotten */
void             pawl_gauge_typing_set_session (PawlGaugeTyping *self, PawlSession *session);

/**
 * pawl_gauge_typing_press:
 * @keyval: without modifiers other than Shift
 * @at_usec: when it was pressed, any zero
 * @focus: (nullable): who would get the key
 *
 * Notes a key before it does anything.
 *
 * Returns: whether it is used up: it ends what a gauge typed, or is a space within it
 */
gboolean         pawl_gauge_typing_press       (PawlGaugeTyping *self, guint keyval, gint64 at_usec, GtkWidget *focus);
/* Something else happened: what comes is another run of keys. */
void             pawl_gauge_typing_reset       (PawlGaugeTyping *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlGaugeTyping, pawl_gauge_typing_free)

G_END_DECLS
