/* The outline of a spur gear with involute flanks. */
#pragma once

#include "solids/pawl-solid-outline.h"

G_BEGIN_DECLS

/* With fewer teeth the root circle of this rack leaves the flanks no room; with more, a figure shows no teeth. */
#define PAWL_SOLID_GEAR_MIN_TEETH 6
#define PAWL_SOLID_GEAR_MAX_TEETH 120

typedef struct {
  guint  teeth;
  double module;    /* mm: pitch diameter over teeth */
  double start_deg; /* where the middle of the first tooth points, from +x anticlockwise */
} PawlSolidGear;

double            pawl_solid_gear_pitch_radius    (const PawlSolidGear *gear);
double            pawl_solid_gear_tip_radius      (const PawlSolidGear *gear);
double            pawl_solid_gear_root_radius     (const PawlSolidGear *gear);
double            pawl_solid_gear_tooth_half_angle (const PawlSolidGear *gear, double radius);
PawlSolidOutline *pawl_solid_gear_outline         (const PawlSolidGear *gear);

G_END_DECLS
