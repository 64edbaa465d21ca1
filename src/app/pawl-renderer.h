/* Which renderer GTK is to draw with. */
#pragma once

#include <gdk/gdk.h>

G_BEGIN_DECLS

/**
 * pawl_renderer_choose:
 *
 * Where GL is computed by the processor, GTK's cairo renderer does the same work with less of it. Finds out what GL there is (some milliseconds), and
 * says so to GTK by $GSK_RENDERER, which only counts before the first window, and which a user who has set it knows better.
 */
void     pawl_renderer_choose      (GdkDisplay *display);
/* TRUE when a GL of that name (GL_RENDERER) is computed by the processor. The names are those of Mesa's drivers; from memory. */
gboolean pawl_renderer_is_software (const char *name);

G_END_DECLS
