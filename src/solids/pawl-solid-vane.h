/* The outlines of a pump's vane and of its volute. */
#pragma once

#include "solids/pawl-solid-outline.h"

G_BEGIN_DECLS

/* A vane whose middle line is a logarithmic spiral about the origin: it meets every circle at the same angle. */
typedef struct {
  double inner, outer; /* mm from the axis, 0 < inner < outer */
  double angle_deg;    /* between vane and circle, more than 0 to 90; below 0 when the vane leans clockwise on its way outward */
  double thick;        /* mm, square to the vane */
  double start_deg;    /* where its inner end lies, from +x anticlockwise */
} PawlSolidVane;

/* A casing whose radius grows evenly, anticlockwise, through one turn, and that may go on straight from there. */
typedef struct {
  double inner, outer; /* mm from the axis: at the start and after the turn */
  double start_deg;    /* where the turn begins and ends, from +x anticlockwise */
  double neck;         /* mm that it goes on straight, square to the start; 0: it ends with a step from outer to inner */
} PawlSolidVolute;

#define PAWL_SOLID_VANE_MIN_DEG 8.0 /* flatter than that a vane winds more than a figure can show */

double            pawl_solid_vane_wrap      (const PawlSolidVane *vane);
PawlSolidOutline *pawl_solid_vane_outline   (const PawlSolidVane *vane);
double            pawl_solid_volute_tongue  (const PawlSolidVolute *volute);
PawlSolidOutline *pawl_solid_volute_outline (const PawlSolidVolute *volute);

G_END_DECLS
