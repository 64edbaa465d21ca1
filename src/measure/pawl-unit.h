/* Units: what a number on the bench is counted in, with exact factors. */
#pragma once

#include <glib.h>
#include <gmp.h>

G_BEGIN_DECLS

/* What kind of thing is measured. Quantities of different dimension never compare. */
typedef enum {
  PAWL_DIMENSION_NONE,                   /* plain numbers, per cent, ratio */
  PAWL_DIMENSION_COUNT,                  /* teeth, pieces */
  PAWL_DIMENSION_LENGTH,
  PAWL_DIMENSION_ANGLE,                  /* degrees, and turns of a screw */
  PAWL_DIMENSION_TIME,
  PAWL_DIMENSION_MASS,
  PAWL_DIMENSION_FORCE,
  PAWL_DIMENSION_TORQUE,
  PAWL_DIMENSION_PRESSURE,
  PAWL_DIMENSION_VOLUME,
  PAWL_DIMENSION_RESISTANCE,
  PAWL_DIMENSION_CAPACITANCE,
  PAWL_DIMENSION_TEMPERATURE,            /* a point on a scale */
  PAWL_DIMENSION_TEMPERATURE_DIFFERENCE, /* an interval of temperature */
  PAWL_DIMENSION_STIFFNESS,              /* force per length */
  PAWL_DIMENSION_ROTATION_RATE,          /* revolutions per minute */
  PAWL_DIMENSION_SPEED,                  /* of a piston that drifts */
  PAWL_DIMENSION_FLOW,                   /* volume per time */
  PAWL_DIMENSION_AREA,
  PAWL_DIMENSION_POWER,
  PAWL_DIMENSION_VOLTAGE,
  PAWL_DIMENSION_CURRENT,
  PAWL_DIMENSION_EXPANSION,              /* share of a length per difference of temperature */
} PawlDimension;

typedef struct _PawlUnit PawlUnit; /* static, never freed; compare by pointer */

const PawlUnit *pawl_unit_lookup       (const char *symbol);
const char     *pawl_unit_get_symbol   (const PawlUnit *unit);
PawlDimension   pawl_unit_get_dimension (const PawlUnit *unit);
gboolean        pawl_unit_is_inch       (const PawlUnit *unit); /* of the inch, pound and US or imperial measures */
const char     *pawl_dimension_get_name (PawlDimension dimension);
/* The name with its article: "a length", "an angle" */
const char     *pawl_dimension_get_phrase (PawlDimension dimension);
void            pawl_unit_to_base      (const PawlUnit *unit, const mpq_t value, mpq_t base);
/* How many base units a difference of one such unit is: for doubles. */
double          pawl_unit_get_scale    (const PawlUnit *unit);
void            pawl_unit_from_base    (const PawlUnit *unit, const mpq_t base, mpq_t value);

G_END_DECLS
