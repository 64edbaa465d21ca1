/* Before a step hides what can be wrong unseen: which photo is asked, and the two ways to answer. Hidden while there is nothing to ask. */
#pragma once

#include <gtk/gtk.h>
#include "job/pawl-job-photos.h"

G_BEGIN_DECLS

#define PAWL_TYPE_PHOTO_ASK (pawl_photo_ask_get_type ())
G_DECLARE_FINAL_TYPE (PawlPhotoAsk, pawl_photo_ask, PAWL, PHOTO_ASK, GtkWidget)

/* Its buttons are the actions win.photo-newest and win.no-photo. Returns whether something has come to be asked that was not before. */
gboolean    pawl_photo_ask_apply      (PawlPhotoAsk *self, PawlJob *job, const PawlStepState *step);
/* What was written beside "On without": why; "" when nothing. Lent until it is edited. */
const char *pawl_photo_ask_get_reason (PawlPhotoAsk *self);

G_END_DECLS
