#include "procedure/pawl-kit.h"

gboolean
pawl_kit_is_line (const PawlAsk *ask)
{
  return ask->kind == PAWL_ASK_CHECK && ask->check->kind == PAWL_CHECK_KIT && ask->check->quantity > 0;
}

gboolean
pawl_kit_takes_count (const PawlAsk *ask)
{
  return pawl_kit_is_line (ask) || (ask->kind == PAWL_ASK_CHECK && ask->check->kind == PAWL_CHECK_LEFT_OVER);
}

GPtrArray *
pawl_kit_list_lines (PawlProcedure *procedure, const char *variant)
{
  GPtrArray *steps = pawl_procedure_get_steps (procedure);
  GPtrArray *lines = g_ptr_array_new ();

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = steps->pdata[i];

      for (guint j = 0; pawl_variant_matches (step->variant, variant) && j < step->asks->len; j++)
        {
          PawlAsk *ask = step->asks->pdata[j];

          if (pawl_kit_is_line (ask) && pawl_variant_matches (ask->variant, variant))
            g_ptr_array_add (lines, ask);
        }
    }
  return lines;
}

const PawlAsk *
pawl_kit_find_line (PawlProcedure *procedure, const char *variant, const char *part_id)
{
  g_autoptr(GPtrArray) lines = pawl_kit_list_lines (procedure, variant);

  for (guint i = 0; i < lines->len; i++)
    {
      const PawlAsk *line = lines->pdata[i];

      if (g_strv_contains ((const char * const *) line->check->parts, part_id))
        return line;
    }
  return NULL;
}

gboolean
pawl_kit_is_fitted (PawlProcedure *procedure, const char *variant, const char *part_id)
{
  GPtrArray *steps = pawl_procedure_get_steps (procedure);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = steps->pdata[i];

      if (pawl_variant_matches (step->variant, variant) && g_strv_contains ((const char * const *) step->installs, part_id))
        return TRUE;
    }
  return FALSE;
}

guint
pawl_kit_count_need (PawlProcedure *procedure, const PawlAsk *line, const char *variant)
{
  guint need = 0;

  for (char **id = line->check->parts; !line->check->is_unused && *id != NULL; id++)
    {
      const PawlPart *part = pawl_procedure_lookup_part (procedure, *id);

      if (part != NULL && pawl_kit_is_fitted (procedure, variant, *id))
        need += part->quantity;
    }
  return need;
}

guint
pawl_kit_count_most (PawlProcedure *procedure, const PawlAsk *line)
{
  g_autoptr(GPtrArray) variants = pawl_variant_list_combinations (procedure);
  guint most = 0;

  for (guint i = 0; i < variants->len; i++)
    {
      const char *variant = variants->pdata[i];

      if (pawl_variant_matches (line->variant, variant))
        most = MAX (most, pawl_kit_count_need (procedure, line, variant));
    }
  return most;
}
