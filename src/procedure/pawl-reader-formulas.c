/* Formulas of readings, once all readings of the file are known: names, and dimensions. */
#include <string.h>

#include "procedure/pawl-reader-private.h"

/* What may stand in a formula. */
typedef struct {
  GPtrArray  *names;      /* (element-type utf8), NULL at the end */
  GHashTable *dimensions; /* name → PawlDimension + 1 */
  GHashTable *spots;      /* reading id → its names, joined by ", ", where it has places without limits of their own */
} Known;

static void
known_clear (Known *self)
{
  g_ptr_array_unref (self->names);
  g_hash_table_unref (self->dimensions);
  g_hash_table_unref (self->spots);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Known, known_clear)

static void
add_name (Known *self, char *name, const PawlUnit *unit)
{
  g_ptr_array_add (self->names, name);
  g_hash_table_insert (self->dimensions, name, GINT_TO_POINTER ((int) pawl_unit_get_dimension (unit) + 1));
}

static void
add_spots (Known *self, const PawlAsk *ask)
{
  GString *joined = g_string_new (NULL);

  for (guint i = 0; i < ask->reading->spots->len; i++)
    {
      const PawlReadingSpot *spot = g_ptr_array_index (ask->reading->spots, i);
      char *name = g_strdup_printf ("%s.%s", ask->id, spot->id);

      add_name (self, name, pawl_limits_get_unit (spot->limits != NULL ? spot->limits : ask->reading->limits));
      if (spot->limits == NULL)
        g_string_append_printf (joined, "%s%s", joined->len > 0 ? ", " : "", name);
    }
  g_hash_table_insert (self->spots, ask->id, g_string_free (joined, FALSE));
}

/* A reading by outcomes is no number, and stands in none. */
static void
add_reading (Known *self, const PawlAsk *ask)
{
  const PawlUnit *unit = pawl_limits_get_unit (ask->reading->limits);

  if (unit == NULL)
    return;
  if (ask->reading->spots->len > 0)
    add_spots (self, ask);
  else
    add_name (self, g_strdup (ask->id), unit);
}

static const PawlAsk *
get_reading (const PawlStep *step, guint n)
{
  const PawlAsk *ask = g_ptr_array_index (step->asks, n);

  return ask->kind == PAWL_ASK_READING ? ask : NULL;
}

static void
collect (PawlReader *self, Known *known)
{
  known->names = g_ptr_array_new_with_free_func (g_free);
  known->dimensions = g_hash_table_new (g_str_hash, g_str_equal);
  known->spots = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  for (guint i = 0; i < self->procedure->steps->len; i++)
    {
      const PawlStep *step = g_ptr_array_index (self->procedure->steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        if (get_reading (step, j) != NULL)
          add_reading (known, get_reading (step, j));
    }
  g_ptr_array_add (known->names, NULL);
}

/* "max(bore)" is "max(bore.top, bore.middle, bore.low)". */
static char *
write_out (const Known *known, const char *text)
{
  GString *whole = g_string_new (NULL);

  for (const char *at = text; *at != '\0';)
    {
      const char *end = at;
      g_autofree char *word = NULL;
      const char *spots;

      while (g_ascii_isalnum (*end) || *end == '_' || (*end == '-' && end > at && g_ascii_isalnum (end[1]))
             || (*end == '.' && end > at && g_ascii_isalpha (end[1])))
        end++;
      if (end == at)
        {
          g_string_append_c (whole, *at++);
          continue;
        }
      word = g_strndup (at, (gsize) (end - at));
      spots = g_hash_table_lookup (known->spots, word);
      g_string_append (whole, spots != NULL && *spots != '\0' ? spots : word);
      at = end;
    }
  return g_string_free (whole, FALSE);
}

static gboolean
read_one (PawlReader *self, const Known *known, const PawlAsk *ask, const char *attribute, PawlWorkedOut *worked_out)
{
  g_autofree char *whole = NULL;
  g_autofree PawlDimension *dimensions = NULL;
  g_autoptr(GError) error = NULL;
  const char * const *names;
  guint n;

  if (worked_out == NULL)
    return TRUE;
  whole = write_out (known, worked_out->text);
  worked_out->formula = pawl_formula_parse (whole, (const char * const *) known->names->pdata, &error);
  if (worked_out->formula != NULL)
    {
      names = pawl_formula_peek_names (worked_out->formula);
      n = g_strv_length ((char **) names);
      dimensions = g_new0 (PawlDimension, n + 1);
      for (guint i = 0; i < n; i++)
        dimensions[i] = (PawlDimension) (GPOINTER_TO_INT (g_hash_table_lookup (known->dimensions, names[i])) - 1);
      if (pawl_formula_check (worked_out->formula, dimensions, pawl_limits_get_unit (ask->reading->limits), &error))
        return TRUE;
    }
  return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_BAD_QUANTITY, ask->line, "<reading> \"%s\" has %s=\"%s\": %s", ask->id, attribute,
                         worked_out->text, error->message);
}

gboolean
pawl_reader_read_formulas (PawlReader *self)
{
  g_auto(Known) known = { 0 };

  collect (self, &known);
  for (guint i = 0; i < self->procedure->steps->len; i++)
    {
      const PawlStep *step = g_ptr_array_index (self->procedure->steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = get_reading (step, j);

          if (ask != NULL && (!read_one (self, &known, ask, "formula", ask->reading->derived) || !read_one (self, &known, ask, "low", ask->reading->low)
                              || !read_one (self, &known, ask, "high", ask->reading->high)))
            return FALSE;
        }
    }
  return TRUE;
}
