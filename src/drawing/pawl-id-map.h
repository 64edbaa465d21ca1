/*
 * The map of a drawing at low resolution: who is seen in each cell, how deep inside its visible area, and where the paper is free.
 * Item numbers are placed by it. Filled by the caller, then finished, then only asked. Lengths are the drawing's units, y down.
 */
#pragma once

#include <glib.h>

#include "drawing/pawl-figure.h"

G_BEGIN_DECLS

#define PAWL_ID_MAP_NOBODY G_MAXUINT16

typedef struct {
  double   width, height; /* of the drawing */
  double   scale;         /* cells per unit */
  int      n_columns, n_rows;
  guint    n_who;         /* those in the map are 0 to this, less one */
  guint16 *who;           /* (array length=n_columns*n_rows) who is on top, row by row; filled by the caller */
  guint8  *has_guide;     /* the same: not 0 where an axis line runs; filled by the caller */
  /* made by pawl_id_map_finish */
  guint16 *depth;         /* thirds of a cell to the edge of what is seen of that one there */
  guint32 *taken;         /* sums of cells that are not free, from the upper left corner: (n_columns + 1) * (n_rows + 1) */
  guint32 *guided;        /* sums of cells with axis lines, likewise */
  struct _PawlIdMapEntry *entries; /* (array length=n_who) */
} PawlIdMap;

/* @width and @height of the drawing; the longer side gets @n_cells. Nobody is anywhere. */
PawlIdMap *pawl_id_map_new       (double width, double height, guint n_cells, guint n_who);
void       pawl_id_map_free      (PawlIdMap *self);
/* Puts @who on top in all cells whose middle is in @box. */
void       pawl_id_map_cover     (PawlIdMap *self, guint16 who, PawlBox box);
/* Directions that @who is hatched in, degrees from the x axis towards the y axis. Copied. */
void       pawl_id_map_set_hatch (PawlIdMap *self, guint16 who, const double *angles_deg, guint n_angles);
/* After the last cell is filled, before anything is asked. Paper that is shut in by ink (the hole of a ring) is not free. */
void       pawl_id_map_finish    (PawlIdMap *self);

/* Inside the drawing, and neither ink nor shut in by ink. */
gboolean   pawl_id_map_is_free   (const PawlIdMap *self, PawlBox box);
gboolean   pawl_id_map_has_guide (const PawlIdMap *self, PawlBox box);
/* What can be seen of @who, square units. 0: nothing. */
double     pawl_id_map_get_area  (const PawlIdMap *self, guint16 who);

typedef struct {
  PawlPoint at;
  double    depth; /* to the edge of what is seen of the part */
} PawlSpot;

/**
 * pawl_id_map_find_spots:
 * @enough: a spot this deep is as good as any
 * @spots: (out caller-allocates) (array length=max_spots)
 *
 * Points that can stand for @who: first the deepest visible one, then those furthest from all before that are still @enough, or six tenths of the
 * deepest, deep. The first of equals, so that the same map gives the same spots. Returns: how many; 0 when nothing of @who is seen.
 */
guint      pawl_id_map_find_spots (const PawlIdMap *self, guint16 who, double enough, PawlSpot *spots, guint max_spots);

/* What a straight line passes over. */
typedef struct {
  double   over;        /* length over others than @own */
  guint    n_others;    /* how often another one begins */
  guint    n_small;     /* those of which less than a given area is seen */
  gboolean is_parallel; /* to hatching of one that it passes over, @own as well: less than a given angle */
} PawlWalk;

PawlWalk   pawl_id_map_walk      (const PawlIdMap *self, guint16 own, PawlPoint from, PawlPoint to, double small_area, double least_angle_deg);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlIdMap, pawl_id_map_free)

G_END_DECLS
