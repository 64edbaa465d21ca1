/* What an outcome looks like, beside its word. */
#pragma once

#include <gtk/gtk.h>

#include "app/pawl-session.h"
#include "drawing/pawl-figure.h"

G_BEGIN_DECLS

/* (transfer full): for pawl_session_take_pictures(); may run in the thread that has @figure to itself. */
GHashTable *pawl_outcome_pictures_draw (PawlProcedure *procedure, PawlFigure *figure);
/* @picture: borrowed from the session's procedure. Empty until the session has its pictures. */
GtkWidget  *pawl_outcome_picture_new   (PawlSession *session, const PawlOutcomePicture *picture);

G_END_DECLS
