/* Words: what was measured, under which conditions and by what. */
#include "report/pawl-words.h"

#include <string.h>

/* Whether a typed reading says its unit: by a word that is one, or by the sign for inch, foot, degree, minute or a numbered drill. */
static gboolean
names_unit (const char *typed)
{
  g_auto (GStrv) words = g_strsplit_set (typed, " 0123456789.,;/+-", -1);

  if (strpbrk (typed, "\"'#") || strstr (typed, "°") || strstr (typed, "″") || strstr (typed, "′"))
    return TRUE;
  for (guint i = 0; words[i]; i++)
    if (*words[i] && pawl_unit_lookup (words[i]))
      return TRUE;
  return FALSE;
}

static char
find_decimal_mark (const PawlAttempt *attempt)
{
  const char *mark = pawl_entry_get (attempt->entry, "decimal-mark");

  return mark && *mark == ',' ? ',' : '.';
}

/* What was typed of one value, with the unit that it was understood in when none was typed. */
static char *
say_typed (const PawlQuantity *quantity)
{
  const char *typed = pawl_quantity_get_typed (quantity);
  const PawlUnit *unit = pawl_quantity_get_unit (quantity);

  if (!unit || names_unit (typed))
    return g_strdup (typed);
  if (pawl_quantity_is_interval (quantity)) /* ".003 goes, .004 does not" */
    return g_strdup_printf ("%s (%s)", typed, pawl_unit_get_symbol (unit));
  return g_strdup_printf ("%s %s", typed, pawl_unit_get_symbol (unit));
}

static gboolean
are_alike (const PawlAttempt *attempt)
{
  const PawlUnit *first = pawl_quantity_get_unit (attempt->values->pdata[0]);

  for (guint i = 1; i < attempt->values->len; i++)
    if (pawl_unit_get_dimension (pawl_quantity_get_unit (attempt->values->pdata[i])) != pawl_unit_get_dimension (first))
      return FALSE;
  return TRUE;
}

static char *
list_values (const PawlAttempt *attempt)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < attempt->values->len; i++)
    {
      g_autofree char *value = say_typed (attempt->values->pdata[i]);

      g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", value);
    }
  return g_string_free (text, FALSE);
}

/* Of several values of one kind the smallest and the largest, since each has its place in a line below; of a pressure and a time all. */
static char *
say_values (const PawlAttempt *attempt)
{
  guint low = 0, high = 0;
  g_autofree char *least = NULL, *most = NULL;

  if (attempt->values->len <= 2 || !are_alike (attempt))
    return list_values (attempt);
  for (guint i = 1; i < attempt->values->len; i++)
    {
      if (pawl_quantity_compare (attempt->values->pdata[i], attempt->values->pdata[low]) < 0)
        low = i;
      if (pawl_quantity_compare (attempt->values->pdata[i], attempt->values->pdata[high]) > 0)
        high = i;
    }
  least = say_typed (attempt->values->pdata[low]);
  most = say_typed (attempt->values->pdata[high]);
  return low == high ? g_steal_pointer (&least) : g_strdup_printf ("%s to %s", least, most);
}

char *
pawl_words_reading (const PawlAttempt *attempt)
{
  if (!attempt->quantity)
    return pawl_words_outcome (pawl_entry_get (attempt->entry, "answer"));
  if (attempt->is_derived || attempt->n_in_set > 1)
    return pawl_attempt_describe_value (attempt, find_decimal_mark (attempt));
  return attempt->values ? say_values (attempt) : say_typed (attempt->quantity);
}

char *
pawl_words_conversion (const PawlAttempt *attempt)
{
  return attempt->quantity && !attempt->values ? pawl_quantity_format_beside (attempt->quantity, find_decimal_mark (attempt)) : NULL;
}

char *
pawl_words_verdict (const PawlAttempt *attempt)
{
  if (attempt->is_void)
    return g_strdup ("void");
  switch (attempt->verdict.kind)
    {
    case PAWL_VERDICT_OUT:
      return g_strdup ("out");
    case PAWL_VERDICT_TOO_CLOSE:
      return g_strdup ("too close to call");
    case PAWL_VERDICT_IN:
    default:
      return g_strdup (attempt->verdict.is_worn ? "in, worn" : "in");
    }
}

const char *
pawl_words_standing (PawlAskStatus status)
{
  switch (status)
    {
    case PAWL_ASK_DEVIATED:
      return "accepted as a deviation";
    case PAWL_ASK_STALE:
      return "to be taken again";
    default:
      return "";
    }
}

char *
pawl_words_conditions (const PawlReading *reading)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  if (reading->posture)
    g_ptr_array_add (parts, g_strdup (reading->posture));
  if (reading->gasket)
    g_ptr_array_add (parts, g_strdup_printf ("gasket %s", reading->gasket));
  if (reading->from_face && reading->to_face)
    g_ptr_array_add (parts, g_strdup_printf ("%s to %s", reading->from_face, reading->to_face));
  else if (reading->from_face || reading->to_face)
    g_ptr_array_add (parts, g_strdup_printf ("%s %s", reading->from_face ? "from" : "to", reading->from_face ? reading->from_face : reading->to_face));
  if (reading->load)
    g_ptr_array_add (parts, g_strdup (reading->load));
  if (reading->places)
    g_ptr_array_add (parts, g_strdup (reading->places));
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (", ", (char **) parts->pdata);
}

char *
pawl_words_attempts (const PawlAskState *state)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < state->attempts->len; i++)
    {
      const PawlAttempt *attempt = g_ptr_array_index (state->attempts, i);
      g_autofree char *reading = pawl_words_reading (attempt);
      g_autofree char *verdict = pawl_words_verdict (attempt);
      const char *why = attempt->is_void ? state->ask->reading->void_reason : NULL;

      if (attempt->is_whole || attempt->is_void)
        g_string_append_printf (text, "%s%s, judged %s%s%s%s", text->len > 0 ? "; " : "", reading, verdict, why ? " (" : "", why ? why : "", why ? ")" : "");
    }
  return g_string_free (text, FALSE);
}

char *
pawl_words_instrument (PawlProcedure *procedure, const PawlReading *reading, const PawlAttempt *attempt)
{
  const char *id = pawl_entry_get (attempt->entry, "instrument");
  const char *serial = pawl_entry_get (attempt->entry, "tool-serial");
  const char *max_error = pawl_entry_get (attempt->entry, "error"); /* as the register had it then */
  const PawlTool *tool = NULL;
  GString *text;

  if (attempt->is_derived)
    return g_strdup ("worked out");
  if (!id)
    id = reading->tool;
  if (!id)
    return g_strdup ("not stated");
  tool = pawl_procedure_lookup_tool (procedure, id);
  text = g_string_new (tool ? tool->name : id);
  if (serial)
    g_string_append_printf (text, " no. %s", serial);
  if (!max_error && tool && tool->is_measuring && tool->instrument.max_error)
    max_error = pawl_quantity_get_typed (tool->instrument.max_error);
  if (max_error)
    {
      /* With no-break spaces: a narrow column would part the sign from its number, and the number from its unit. */
      g_auto (GStrv) words = g_strsplit (max_error, " ", -1);
      g_autofree char *unbroken = g_strjoinv ("\u00a0", words);

      g_string_append_printf (text, ", ±\u00a0%s", unbroken);
    }
  if (pawl_entry_get (attempt->entry, "overdue"))
    g_string_append_printf (text, "; out of date then, was due %s", pawl_entry_get (attempt->entry, "due") ? pawl_entry_get (attempt->entry, "due") : "");
  return g_string_free (text, FALSE);
}

static char *
say_uncertainty (double expanded, const PawlUnit *unit, char decimal_mark)
{
  g_autofree char *text = expanded > 0 ? pawl_uncertainty_format (expanded, unit, decimal_mark) : NULL;

  return text ? g_strdup_printf ("U = %s", text) : g_strdup ("");
}

char *
pawl_words_uncertainty (const PawlAttempt *attempt)
{
  const PawlUnit *unit;

  if (!attempt->quantity || attempt->is_void)
    return g_strdup ("");
  if (!attempt->values)
    return say_uncertainty (attempt->verdict.expanded, pawl_limits_get_unit (attempt->limits), find_decimal_mark (attempt));
  /* The verdict may be that of what they come to; here each value is meant, and none of them was repeated, so k is 2. */
  unit = pawl_quantity_get_unit (attempt->values->pdata[0]);
  return say_uncertainty (2 * attempt->u / pawl_unit_get_scale (unit), unit, find_decimal_mark (attempt));
}

static gboolean
is_place (const PawlReading *reading, const char *name)
{
  for (guint i = 0; i < reading->spots->len; i++)
    if (g_str_equal (((PawlReadingSpot *) reading->spots->pdata[i])->name, name))
      return TRUE;
  return FALSE;
}

/* What the values come to, beside its own limits: "spread 0.012 mm, U = 0.004 mm, limits max 0.02 mm, judged in". */
static void
add_together (GString *text, const PawlJudged *judged, char decimal_mark)
{
  g_autofree char *value = pawl_quantity_format (judged->quantity, decimal_mark), *limits = pawl_limits_describe (judged->limits);
  g_autofree char *uncertainty = say_uncertainty (judged->verdict.expanded, pawl_limits_get_unit (judged->limits), decimal_mark);

  g_string_append_printf (text, "; %s %s%s%s, limits %s, judged %s", judged->name, value, *uncertainty ? ", " : "", uncertainty, limits,
                          pawl_verdict_get_word (judged->verdict.kind));
}

char *
pawl_words_places (const PawlReading *reading, const PawlAttempt *attempt)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; attempt->values && i < attempt->values->len; i++)
    {
      g_autofree char *value = say_typed (attempt->values->pdata[i]);

      g_string_append_printf (text, "%s%s %s", i > 0 ? "; " : "", ((PawlReadingSpot *) reading->spots->pdata[i])->name, value);
    }
  for (guint i = 0; attempt->values && i < attempt->judged->len; i++)
    {
      const PawlJudged *judged = g_ptr_array_index (attempt->judged, i);

      if (!is_place (reading, judged->name))
        add_together (text, judged, find_decimal_mark (attempt));
    }
  return g_string_free (text, FALSE);
}
