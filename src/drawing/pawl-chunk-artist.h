/* The drawing library behind one figure: an open handle and what it draws. For one thread at a time; each thread has its own, or hands it on. */
#pragma once

#include "drawing/pawl-figure-private.h"

G_BEGIN_DECLS

typedef struct _PawlArtist PawlArtist;

/* @text: the figure as it was made ready for drawing: pawl_figure_peek_text(). Returns: (transfer full) (nullable). */
PawlArtist      *pawl_artist_new    (GBytes *text, const char *name, PawlBox view_box, GError **error);
void             pawl_artist_free   (PawlArtist *self);
/* Draws one element as the figure has it, in user units. FALSE: nothing was drawn, @error says why. */
gboolean         pawl_artist_draw   (PawlArtist *self, const char *id, cairo_t *cr, GError **error);
/**
 * pawl_artist_draw_within:
 * @tile: of the sheet, user units; its corner on a whole pixel of what is drawn on
 *
 * The same, right within @tile only. The library makes the surfaces for masks, filters and half-transparent groups as large as the whole sheet
 * at that scale, and draws nothing where cairo has none so large; here they are as large as @tile. A filter sees nothing of what lies outside
 * of it. The first call for another @tile opens the figure anew, which takes as long as reading it did.
 */
gboolean         pawl_artist_draw_within (PawlArtist *self, const char *id, cairo_t *cr, PawlBox tile, GError **error);
/* Frees what the last tile takes. */
void             pawl_artist_close_tile (PawlArtist *self);
/* (transfer full): what pawl_artist_draw() draws, into a surface that keeps vectors and has no edges; empty when nothing can be drawn. */
cairo_surface_t *pawl_artist_record (PawlArtist *self, const char *id, GError **error);

/* Paints from a recording, its origin at @x, @y, exactly at any scale. */
void             pawl_recording_set_source   (cairo_surface_t *recording, cairo_t *cr, double x, double y);
/* What a recording says it covers: takes in whole mitres, and all that a filter or a mask may reach. Within @view_box. */
PawlBox          pawl_recording_get_reach    (cairo_surface_t *recording, PawlBox view_box);
/* Ink box: its reach, trimmed to what has alpha in a small drawing of it. */
PawlBox          pawl_recording_measure      (cairo_surface_t *recording, PawlBox view_box);
/* (transfer full) (element-type GArray of PawlPoint): closed outer outlines of what it covers within @box, clockwise, user units. */
GPtrArray       *pawl_recording_trace        (cairo_surface_t *recording, PawlBox box);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlArtist, pawl_artist_free)

G_END_DECLS
