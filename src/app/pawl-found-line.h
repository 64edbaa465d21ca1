/* A job that was found, as a line of the jobs page: what it is, and where the words stand. */
#pragma once

#include <gtk/gtk.h>
#include "recall/pawl-find.h"

G_BEGIN_DECLS

/* (transfer floating) */
GtkWidget *pawl_found_line_make (const PawlHit *hit);

G_END_DECLS
