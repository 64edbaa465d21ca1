/*
 * A scene: a figure, how each region stands in it now, where each has slid to, and what part of the sheet is looked at.
 * One code for the window, PDF and pictures: image surfaces are painted from cached images, PDF and SVG surfaces get vectors.
 * Not a widget, not shared between threads.
 */
#pragma once

#include "drawing/pawl-callouts.h"
#include "drawing/pawl-figure.h"
#include "drawing/pawl-palette.h"

G_BEGIN_DECLS

/* How a region is shown. None is told by colour alone. */
typedef enum {
  PAWL_STATE_OUT,       /* lies taken off, where the figure draws it: normal ink. What every region starts as */
  PAWL_STATE_HIGHLIGHT, /* the step's own part: bold outline round its silhouette, on top of everything */
  PAWL_STATE_SEATED,    /* at its seat: normal ink, slid home */
  PAWL_STATE_LATER,     /* comes later: pale, where the figure draws it */
  PAWL_STATE_HIDDEN,    /* not shown, not picked */
} PawlState;

#define PAWL_TYPE_SCENE (pawl_scene_get_type ())
G_DECLARE_FINAL_TYPE (PawlScene, pawl_scene, PAWL, SCENE, GObject)

PawlScene  *pawl_scene_new          (PawlFigure *figure); /* takes a reference; whole sheet, light palette, all OUT */
PawlFigure *pawl_scene_get_figure   (PawlScene *self);
void        pawl_scene_set_palette  (PawlScene *self, PawlPalette palette);
PawlPalette pawl_scene_get_palette  (PawlScene *self);
/* Device pixels per unit of the surfaces drawn on, for sharp images: the window's scale factor. 1 at first. */
void        pawl_scene_set_device_scale (PawlScene *self, double scale);
/* TRUE while the camera or a part is on its way: images are drawn scaled as they are, and made sharp by the first draw after FALSE. */
void        pawl_scene_set_moving   (PawlScene *self, gboolean is_moving);
/* TRUE (as at first): paper is painted first. FALSE: the ground is left as it is. */
void        pawl_scene_set_paints_paper (PawlScene *self, gboolean paints_paper);

/* ---- regions. An id that the figure lacks, or one deeper than the root, is ignored and FALSE is returned ---- */
/* Sets how it looks, and puts it at its seat (SEATED) or back where it is drawn (all others). */
gboolean    pawl_scene_set_state    (PawlScene *self, const char *region, PawlState state);
PawlState   pawl_scene_get_state    (PawlScene *self, const char *region);
void        pawl_scene_set_all      (PawlScene *self, PawlState state);
/* The way home: @legs is (array length=n_legs), each a displacement in user units, one after the other. Copied. None at first. */
gboolean    pawl_scene_set_slide    (PawlScene *self, const char *region, const PawlPoint *legs, guint n_legs);
/* How far along its legs: 0 as drawn, 1 seated. Equal speed along the whole way. For moving pictures, after set_state. */
gboolean    pawl_scene_set_fraction (PawlScene *self, const char *region, double fraction);
double      pawl_scene_get_fraction (PawlScene *self, const char *region);
/* A region that is drawn only while @others (NULL-terminated) are not all at their seats, pale, under every other one: axis lines.
 * A root-level group "axis-REGION" is one of itself, for that region, and "axes" for all regions that have a slide. */
gboolean    pawl_scene_set_guide    (PawlScene *self, const char *region, const char * const *others);

/* ---- camera: the box of the sheet that is looked at, fitted whole and centred in what is drawn on ---- */
void        pawl_scene_show_sheet   (PawlScene *self); /* the whole sheet */
/* Ink of all that is shown, where it is now, with a margin of 4 %. */
void        pawl_scene_show_all     (PawlScene *self);
/* The box round @regions (NULL-terminated) where they are now, with @margin (0.5: half its size again on each side); never closer than
 * a fifth of the sheet. Unknown ids are passed over; with none left, the whole sheet. */
void        pawl_scene_show_regions (PawlScene *self, const char * const *regions, double margin);
void        pawl_scene_set_view     (PawlScene *self, PawlBox view);
PawlBox     pawl_scene_get_view     (PawlScene *self);
void        pawl_scene_pan          (PawlScene *self, double dx, double dy); /* user units */
/* By @factor (over 1: closer) about a point of the sheet. Between the whole sheet twice over and 40 times closer. */
void        pawl_scene_zoom         (PawlScene *self, double factor, double x, double y);
/* User units to pixels of a drawing of that size. The room that callouts need at the edge is already taken off. */
void        pawl_scene_get_matrix   (PawlScene *self, double width, double height, cairo_matrix_t *matrix);
/* How far a region has slid from where it is drawn, user units; nothing for one that is not there. */
PawlPoint   pawl_scene_get_slid     (PawlScene *self, const char *region);
/* Box of a region in pixels of a drawing of that size, where it is now; empty when hidden. For accessible items. */
PawlBox     pawl_scene_get_region_box (PawlScene *self, const char *region, double width, double height);

/* ---- item numbers ---- */
/* One number for all @regions (NULL-terminated) of a part: the first that can be seen gets the leader. Copied. */
void        pawl_scene_add_item     (PawlScene *self, const char *number, const char * const *regions);
void        pawl_scene_clear_items  (PawlScene *self);
/* Height of the figures in the surface's units. 14 at first; 0: no numbers are drawn. */
void        pawl_scene_set_number_size (PawlScene *self, double size);
/* (transfer none): where the numbers stand in a drawing of that size. Kept until something moves; placed once, not at every draw. */
PawlCallouts *pawl_scene_get_callouts (PawlScene *self, double width, double height);

/* ---- out ---- */
/* Draws at the origin of @cr, @width by @height of its units. On PDF and SVG surfaces in vectors, where dark is drawn as light. */
void        pawl_scene_draw         (PawlScene *self, cairo_t *cr, double width, double height);
/* (transfer none) (nullable): the region under a point of a drawing of that size, topmost first, by its ink and not by its box.
 * With nothing there, the nearest within @ring units (6 for a mouse, more for a finger), so that thin parts can be hit. */
const char *pawl_scene_pick         (PawlScene *self, double x, double y, double ring, double width, double height);

G_END_DECLS
