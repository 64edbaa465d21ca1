#include "record/pawl-intake.h"

static const PawlIntakeField FIELDS[] = {
  { "unit", "unit", TRUE },
  { "maker", "maker", FALSE },
  { "model", "model on the plate", FALSE },
  { "serial", "serial number", FALSE },
  { "work-order", "work order", FALSE },
  { "customer", "customer", FALSE },
  { "received", "day it was received", FALSE },
  { "complaint", "complaint", FALSE },
  { "authority", "authority", FALSE },
  { "identified-by", "note of how the unit was identified", FALSE },
  { "old-parts", "wish for the old parts", FALSE },
  { "shop", "shop", FALSE },
};

const PawlIntakeField *
pawl_intake_list_fields (guint *n_fields)
{
  *n_fields = G_N_ELEMENTS (FIELDS);
  return FIELDS;
}

const PawlIntakeField *
pawl_intake_lookup_field (const char *id)
{
  for (guint i = 0; i < G_N_ELEMENTS (FIELDS); i++)
    if (g_str_equal (FIELDS[i].id, id))
      return &FIELDS[i];
  return NULL;
}

char *
pawl_intake_name_fields (void)
{
  GString *names = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (FIELDS); i++)
    g_string_append_printf (names, "%s%s", i > 0 ? ", " : "", FIELDS[i].id);
  return g_string_free (names, FALSE);
}

const char *
pawl_intake_get_corrected (const PawlEntry *entry,
                           const char      *field)
{
  const char *value = pawl_entry_get (entry, field);

  return g_strcmp0 (value, PAWL_INTAKE_TAKEN_BACK) == 0 ? "" : value;
}
