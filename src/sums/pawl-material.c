#include "sums/pawl-material.h"

#include <string.h>

struct _PawlMaterial {
  const char *name, *other; /* @other: (nullable) */
  const char *constants[PAWL_MATERIAL_EXPANSION + 1];
};

/*
 * Plain grades at room temperature. Modulus and Poisson's ratio as in J. E. Shigley, Mechanical Engineering Design, table of physical constants of
 * materials, from memory; expansion from memory. Grades differ by some per cent, cast irons by more: what is typed goes before it.
 */
static const PawlMaterial materials[] = {
  { "steel", NULL, { [PAWL_MATERIAL_MODULUS] = "207 GPa", [PAWL_MATERIAL_POISSON] = "0.29", [PAWL_MATERIAL_EXPANSION] = "11.5 ppm/K" } },
  { "cast iron", "iron", { [PAWL_MATERIAL_MODULUS] = "100 GPa", [PAWL_MATERIAL_POISSON] = "0.21", [PAWL_MATERIAL_EXPANSION] = "10.5 ppm/K" } },
  { "brass", NULL, { [PAWL_MATERIAL_MODULUS] = "106 GPa", [PAWL_MATERIAL_POISSON] = "0.32", [PAWL_MATERIAL_EXPANSION] = "19 ppm/K" } },
  { "bronze", NULL, { [PAWL_MATERIAL_MODULUS] = "111 GPa", [PAWL_MATERIAL_POISSON] = "0.35", [PAWL_MATERIAL_EXPANSION] = "18 ppm/K" } },
  { "aluminium", "aluminum", { [PAWL_MATERIAL_MODULUS] = "71 GPa", [PAWL_MATERIAL_POISSON] = "0.33", [PAWL_MATERIAL_EXPANSION] = "23 ppm/K" } },
};

const PawlMaterial *
pawl_material_lookup (const char *name)
{
  g_autofree char *plain = g_strstrip (g_ascii_strdown (name, -1));

  for (guint i = 0; i < G_N_ELEMENTS (materials); i++)
    if (g_str_equal (materials[i].name, plain) || g_strcmp0 (materials[i].other, plain) == 0)
      return &materials[i];
  return NULL;
}

const char *
pawl_material_get_name (const PawlMaterial *self)
{
  return self->name;
}

const char *
pawl_material_get (const PawlMaterial *self, PawlMaterialConstant constant)
{
  g_return_val_if_fail (constant > PAWL_MATERIAL_NOTHING && constant <= PAWL_MATERIAL_EXPANSION, NULL);
  return self->constants[constant];
}

const char *
pawl_material_list (void)
{
  return "steel, cast iron, brass, bronze or aluminium";
}
