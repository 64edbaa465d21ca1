/*
 * The unit is another variant than was taken: which, how that is known, and, before anything is recorded, which steps, limits and parts come and go by
 * it and what is to be done again. One entry, which Undo takes back.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"

G_BEGIN_DECLS

#define PAWL_TYPE_VARIANT_WINDOW (pawl_variant_window_get_type ())
G_DECLARE_FINAL_TYPE (PawlVariantWindow, pawl_variant_window, PAWL, VARIANT_WINDOW, GtkWindow)

/* @session: of a job whose procedure has variants. Floating, like every window: owned by GTK. */
PawlVariantWindow *pawl_variant_window_new (GtkWindow *parent, PawlSession *session);

G_END_DECLS
