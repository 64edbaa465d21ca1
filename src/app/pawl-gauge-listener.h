/*
 * “Press the gauge’s button now”: a button that listens to one burst of keys, and learns from it how the gauge types. While it listens no key
 * does anything else; Escape, or the pointer elsewhere, ends it.
 * Signal "learnt": pawl_gauge_listener_peek_form() has what was learnt.
 */
#pragma once

#include <gtk/gtk.h>
#include "register/pawl-burst.h"

G_BEGIN_DECLS

#define PAWL_TYPE_GAUGE_LISTENER (pawl_gauge_listener_get_type ())
G_DECLARE_FINAL_TYPE (PawlGaugeListener, pawl_gauge_listener, PAWL, GAUGE_LISTENER, GtkWidget)

GtkWidget           *pawl_gauge_listener_new       (void);
void                 pawl_gauge_listener_start     (PawlGaugeListener *self);
gboolean             pawl_gauge_listener_is_on     (PawlGaugeListener *self);
/* A key pressed while it listens. @key: see pawl_gauge_key_from_keyval() */
void                 pawl_gauge_listener_press     (PawlGaugeListener *self, gunichar key, gint64 at_usec);
const PawlBurstForm *pawl_gauge_listener_peek_form (PawlGaugeListener *self);

G_END_DECLS
