/* The photos of a step, as small pictures in a row. Decoding is done off the main loop. */
#pragma once

#include <gtk/gtk.h>
#include "bench/pawl-bench.h"

G_BEGIN_DECLS

#define PAWL_TYPE_PHOTO_STRIP (pawl_photo_strip_get_type ())
G_DECLARE_FINAL_TYPE (PawlPhotoStrip, pawl_photo_strip, PAWL, PHOTO_STRIP, GtkWidget)

/* @photos: (element-type PawlEntry) of kind photo, whose bytes @record keeps. Hidden when there are none. */
void pawl_photo_strip_apply (PawlPhotoStrip *self, PawlRecord *record, GPtrArray *photos);

G_END_DECLS
