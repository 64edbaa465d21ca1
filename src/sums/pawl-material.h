/* Constants of the materials that parts are made of. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  PAWL_MATERIAL_NOTHING,
  PAWL_MATERIAL_MODULUS,   /* of elasticity: a pressure */
  PAWL_MATERIAL_POISSON,   /* a plain number */
  PAWL_MATERIAL_EXPANSION, /* share of a length per difference of temperature */
} PawlMaterialConstant;

typedef struct _PawlMaterial PawlMaterial; /* static */

/* In any case, also by its other names. (nullable) */
const PawlMaterial *pawl_material_lookup   (const char *name);
const char         *pawl_material_get_name (const PawlMaterial *self);
/* As a reading would be typed: "207 GPa", "0.29", "11.5 ppm/K" */
const char         *pawl_material_get      (const PawlMaterial *self, PawlMaterialConstant constant);
/* "steel, cast iron, brass, bronze or aluminium" */
const char         *pawl_material_list     (void);

G_END_DECLS
