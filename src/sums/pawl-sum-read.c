#include "sums/pawl-sum-read.h"

#include <stdlib.h>
#include <string.h>

#include "measure/pawl-thread.h"
#include "sums/pawl-sum-check.h"

static void
item_free (PawlSumItem *self)
{
  g_clear_pointer (&self->size, pawl_quantity_unref);
  g_free (self);
}

static gboolean
refuse (const PawlSumInput *input, GError **error, PawlSumError code, const char *format, ...) G_GNUC_PRINTF (4, 5);

static gboolean
refuse (const PawlSumInput *input, GError **error, PawlSumError code, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error (error, PAWL_SUM_ERROR, (int) code, "%s: %s", input->name, message);
  return FALSE;
}

/* A plain number has no unit; another bare number has the typist's where it fits, and is asked back where it doesn't. */
static PawlTyping
get_typing (const PawlSumRun *run, const PawlSumInput *input)
{
  PawlTyping typing = run->typing;

  if (input->dimension == PAWL_DIMENSION_NONE)
    typing.default_unit = pawl_unit_lookup ("ratio");
  else if (typing.default_unit != NULL && pawl_unit_get_dimension (typing.default_unit) != input->dimension)
    typing.default_unit = NULL;
  return typing;
}

static PawlQuantity *
read_quantity (const PawlSumInput *input, const char *text, const PawlTyping *typing, GError **error)
{
  g_autoptr(GError) problem = NULL;
  g_autoptr(PawlQuantity) quantity = pawl_quantity_parse (text, typing, &problem);
  PawlDimension dimension;

  if (quantity == NULL)
    {
      refuse (input, error, PAWL_SUM_ERROR_INPUT, "“%s”: %s", text, problem->message);
      return NULL;
    }
  dimension = pawl_unit_get_dimension (pawl_quantity_get_unit (quantity));
  if (dimension != input->dimension)
    {
      refuse (input, error, PAWL_SUM_ERROR_INPUT, "“%s” is %s, and should be %s, for instance %s", text, pawl_dimension_get_phrase (dimension),
              pawl_dimension_get_phrase (input->dimension), input->example);
      return NULL;
    }
  return g_steal_pointer (&quantity);
}

/* Its pitch, and its diameter where the name says it. */
static gboolean
read_thread (PawlSumRun *run, guint i, const PawlSumInput *input, const char *text, const PawlTyping *typing, GError **error)
{
  g_auto(PawlThread) thread = { NULL, NULL };
  g_autoptr(GError) problem = NULL;

  if (!pawl_thread_looks_like (text))
    return (run->quantities[i] = read_quantity (input, text, typing, error)) != NULL;
  if (!pawl_thread_parse (text, &thread, &problem))
    return refuse (input, error, PAWL_SUM_ERROR_INPUT, "%s", problem->message);
  run->quantities[i] = g_steal_pointer (&thread.pitch);
  run->diameters[i] = g_steal_pointer (&thread.diameter);
  return TRUE;
}

static const PawlMaterial *
read_material (const PawlSumInput *input, const char *text, GError **error)
{
  const PawlMaterial *material = pawl_material_lookup (text);

  if (material == NULL)
    refuse (input, error, PAWL_SUM_ERROR_INPUT, "“%s” is not among the materials that are known: %s; for another one type its constants", text,
            pawl_material_list ());
  return material;
}

static PawlLimits *
read_limits (const PawlSumInput *input, const char *text, const PawlTyping *typing, GError **error)
{
  g_autoptr(GError) problem = NULL;
  g_autoptr(PawlLimits) limits = pawl_limits_parse (text, typing, &problem);

  if (limits == NULL)
    {
      refuse (input, error, PAWL_SUM_ERROR_INPUT, "“%s”: %s", text, problem->message);
      return NULL;
    }
  if (pawl_limits_peek_low (limits) == NULL || pawl_limits_peek_high (limits) == NULL
      || pawl_unit_get_dimension (pawl_limits_get_unit (limits)) != input->dimension)
    {
      refuse (input, error, PAWL_SUM_ERROR_INPUT, "“%s” should be %s between two limits, for instance %s", text,
              pawl_dimension_get_phrase (input->dimension), input->example);
      return NULL;
    }
  return g_steal_pointer (&limits);
}

/* Takes " x4" or " × any" out of @text, which may have its unit before it or after. FALSE when what follows the x is neither a count nor "any". */
static char *
take_count (const char *text, guint *count)
{
  g_autoptr(GRegex) regex = g_regex_new ("^(.*?)\\s*[x×]\\s*(any|[0-9]{1,3})(?![0-9.,])\\s*(.*)$", 0, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;
  g_autofree char *size = NULL, *times = NULL, *unit = NULL;

  *count = 1;
  if (!g_regex_match (regex, text, 0, &match))
    return strchr (text, 'x') == NULL && strstr (text, "×") == NULL ? g_strdup (text) : NULL;
  size = g_match_info_fetch (match, 1);
  times = g_match_info_fetch (match, 2);
  unit = g_match_info_fetch (match, 3);
  *count = g_str_equal (times, "any") ? 0 : (guint) strtoul (times, NULL, 10);
  return *count > 0 || g_str_equal (times, "any") ? g_strdup_printf ("%s %s", size, unit) : NULL;
}

/* From the end, because a unit written once stands there. */
static GPtrArray *
read_list (const PawlSum *sum, const PawlSumInput *input, const char *text, const PawlTyping *typing, GError **error)
{
  g_autoptr(GPtrArray) items = g_ptr_array_new_with_free_func ((GDestroyNotify) item_free);
  g_auto(GStrv) words = g_strsplit (text, typing->decimal_mark == ',' || strchr (text, ';') != NULL ? ";" : ",", PAWL_SUM_MAX_ITEMS + 1);
  PawlTyping own = *typing;

  if (g_strv_length (words) > PAWL_SUM_MAX_ITEMS)
    {
      refuse (input, error, PAWL_SUM_ERROR_INPUT, "over %d sizes", PAWL_SUM_MAX_ITEMS);
      return NULL;
    }
  for (guint i = g_strv_length (words); i-- > 0;)
    {
      g_autofree PawlSumItem *item = g_new0 (PawlSumItem, 1);
      g_autofree char *size = take_count (g_strstrip (words[i]), &item->count);

      if (size == NULL)
        {
          refuse (input, error, PAWL_SUM_ERROR_INPUT, "“%s”: how many there are is written x4, or x any; for instance %s", words[i], input->example);
          return NULL;
        }
      if ((item->size = read_quantity (input, g_strstrip (size), &own, error)) == NULL)
        return NULL;
      if (!pawl_sum_check_input (sum, input, item->size, size, error))
        {
          pawl_quantity_unref (item->size);
          return NULL;
        }
      own.default_unit = pawl_quantity_get_unit (item->size);
      g_ptr_array_insert (items, 0, g_steal_pointer (&item));
    }
  return g_steal_pointer (&items);
}

static gboolean
understand (PawlSumRun *run, guint i, const PawlSumInput *input, const char *text, GError **error)
{
  PawlTyping typing = get_typing (run, input);

  switch (input->kind)
    {
    case PAWL_SUM_QUANTITY: return (run->quantities[i] = read_quantity (input, text, &typing, error)) != NULL;
    case PAWL_SUM_LIMITS:   return (run->limits[i] = read_limits (input, text, &typing, error)) != NULL;
    case PAWL_SUM_THREAD:   return read_thread (run, i, input, text, &typing, error);
    case PAWL_SUM_MATERIAL: return (run->materials[i] = read_material (input, text, error)) != NULL;
    case PAWL_SUM_LIST:     return (run->lists[i] = read_list (run->sum, input, text, &typing, error)) != NULL;
    default:                g_return_val_if_reached (FALSE);
    }
}

static gboolean
read_input (PawlSumRun *run, guint i, const PawlSumInput *input, const char *text, GError **error)
{
  return understand (run, i, input, text, error)
         && (run->quantities[i] == NULL || pawl_sum_check_input (run->sum, input, run->quantities[i], text, error));
}

/* The input before @i that says it. */
static guint
find_from (const PawlSumInput *inputs, guint i)
{
  for (guint j = 0; j < i; j++)
    if (g_str_equal (inputs[j].name, inputs[i].from))
      return j;
  g_return_val_if_reached (0);
}

/* TRUE when another input says @input: the constant of a material, the diameter of a thread. */
static gboolean
take_from (PawlSumRun *run, guint i, const PawlSumInput *input, guint from)
{
  const char *constant;

  if (run->materials[from] != NULL)
    {
      constant = pawl_material_get (run->materials[from], input->constant);
      pawl_sum_run_work (run, "%s: %s, of %s, from memory", input->title, constant, pawl_material_get_name (run->materials[from]));
      return read_input (run, i, input, constant, NULL);
    }
  if (run->diameters[from] != NULL)
    run->quantities[i] = pawl_quantity_ref (run->diameters[from]);
  return run->diameters[from] != NULL;
}

static gboolean
read_said_otherwise (PawlSumRun *run, guint i, const PawlSumInput *inputs, GError **error)
{
  const PawlSumInput *input = &inputs[i];

  if (input->from != NULL && take_from (run, i, input, find_from (inputs, i)))
    return TRUE;
  if (input->fallback == NULL)
    return refuse (input, error, PAWL_SUM_ERROR_MISSING, "%s is needed, for instance %s", input->title, input->example);
  return *input->fallback == '\0' || read_input (run, i, input, input->fallback, error);
}

/* What nobody typed is written as this program writes. */
static gboolean
read_unsaid (PawlSumRun *run, guint i, const PawlSumInput *inputs, GError **error)
{
  const PawlTyping typing = run->typing;
  gboolean is_read;

  run->typing = (PawlTyping) { .decimal_mark = '.' };
  is_read = read_said_otherwise (run, i, inputs, error);
  run->typing = typing;
  return is_read;
}

gboolean
pawl_sum_read (PawlSumRun *run, GHashTable *typed, GError **error)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (run->sum, &n);

  run->quantities = g_new0 (PawlQuantity *, n + 1);
  run->limits = g_new0 (PawlLimits *, n + 1);
  run->lists = g_new0 (GPtrArray *, n + 1);
  run->diameters = g_new0 (PawlQuantity *, n + 1);
  run->materials = g_new0 (const PawlMaterial *, n + 1);
  for (guint i = 0; i < n; i++)
    {
      const char *text = g_hash_table_lookup (typed, inputs[i].name);

      if (text == NULL || *text == '\0' ? !read_unsaid (run, i, inputs, error) : !read_input (run, i, &inputs[i], text, error))
        return FALSE;
    }
  return pawl_sum_check_orders (run, error);
}

void
pawl_sum_forget (PawlSumRun *run)
{
  guint n;

  pawl_sum_peek_inputs (run->sum, &n);
  for (guint i = 0; i < n; i++)
    {
      g_clear_pointer (&run->quantities[i], pawl_quantity_unref);
      g_clear_pointer (&run->diameters[i], pawl_quantity_unref);
      g_clear_pointer (&run->limits[i], pawl_limits_unref);
      g_clear_pointer (&run->lists[i], g_ptr_array_unref);
    }
  for (guint i = 0; i < PAWL_SUM_MAX_OUTPUTS; i++)
    g_clear_pointer (&run->answers[i], pawl_quantity_unref);
  g_free (run->quantities);
  g_free (run->limits);
  g_free (run->lists);
  g_free (run->diameters);
  g_free (run->materials);
}
