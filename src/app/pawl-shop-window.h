/* The shop's settings: what stands on every report, and what a shop decides once. */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-settings.h"

G_BEGIN_DECLS

#define PAWL_TYPE_SHOP_WINDOW (pawl_shop_window_get_type ())
G_DECLARE_FINAL_TYPE (PawlShopWindow, pawl_shop_window, PAWL, SHOP_WINDOW, GtkWindow)

/* Emits "saved" when the shop's file was written. @settings: borrowed, outlives the window. */
PawlShopWindow *pawl_shop_window_new  (GtkWindow *parent, PawlSettings *settings);
/* What is in the fields becomes the shop, and is written. FALSE: it is said in the window why not. */
gboolean        pawl_shop_window_save (PawlShopWindow *self);

G_END_DECLS
