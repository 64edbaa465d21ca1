#include "app/pawl-instrument-words.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

const char *
pawl_instrument_get_sign (PawlStanding standing)
{
  switch (standing)
    {
    case PAWL_STANDING_IN_DATE:     return "✓";
    case PAWL_STANDING_DUE_SOON:    return "!";
    case PAWL_STANDING_OUT_OF_DATE: return "✗";
    case PAWL_STANDING_RETIRED:     return "–";
    case PAWL_STANDING_NO_DATE:
    default:                        return "?";
    }
}

char *
pawl_instrument_describe_standing (const PawlGauge *gauge, GDateTime *at)
{
  char due[32] = "";

  if (gauge->due != NULL)
    g_date_strftime (due, sizeof due, "%Y-%m-%d", gauge->due);
  switch (pawl_gauge_get_standing (gauge, at))
    {
    case PAWL_STANDING_IN_DATE:     return g_strdup_printf (_("In date, due %s"), due);
    case PAWL_STANDING_DUE_SOON:    return g_strdup_printf (_("Due soon: %s"), due);
    case PAWL_STANDING_OUT_OF_DATE: return g_strdup_printf (_("Out of date: was due %s"), due);
    case PAWL_STANDING_RETIRED:     return g_strdup_printf (_("Retired: %s"), gauge->reason);
    case PAWL_STANDING_NO_DATE:
    default:                        return g_strdup (_("No due date stated"));
    }
}

static void
append_part (GString *text, const char *word, const PawlQuantity *quantity, char decimal_mark)
{
  g_autofree char *value = quantity != NULL ? pawl_quantity_format (quantity, decimal_mark) : NULL;

  if (value != NULL)
    g_string_append_printf (text, "%s%s%s", text->len > 0 ? " · " : "", word, value);
}

char *
pawl_instrument_describe_error (const PawlGauge *gauge, char decimal_mark)
{
  GString *text = g_string_new (NULL);

  append_part (text, _("error ±"), gauge->instrument.max_error, decimal_mark);
  append_part (text, _("step "), gauge->instrument.step, decimal_mark);
  append_part (text, _("reference ±"), gauge->instrument.reference, decimal_mark);
  if (text->len == 0)
    g_string_append (text, _("error not stated"));
  return g_string_free (text, FALSE);
}

static const char *
get_ending (gunichar terminator)
{
  return terminator == '\n' ? _("Enter") : terminator == '\t' ? _("Tab") : _("a pause");
}

char *
pawl_instrument_describe_typing (const PawlGauge *gauge)
{
  const PawlBurstForm *burst = &gauge->burst;
  GString *text;

  if (!gauge->is_typing)
    return g_strdup ("");
  text = g_string_new (_("Types "));
  if (*burst->prefix != '\0')
    g_string_append_printf (text, "“%s”, ", burst->prefix);
  g_string_append (text, burst->decimal_mark == ',' ? _("the number with a decimal comma") : _("the number"));
  if (*burst->suffix != '\0')
    g_string_append_printf (text, ", “%s”", burst->suffix);
  g_string_append_printf (text, _(", then %s"), get_ending (burst->terminator));
  if (burst->unit != NULL)
    g_string_append_printf (text, _("; in %s"), pawl_unit_get_symbol (burst->unit));
  return g_string_free (text, FALSE);
}

char *
pawl_instrument_describe_kind (const PawlGauge *gauge)
{
  g_autofree char *kind = pawl_phrase_capitalise (gauge->kind);

  return g_strdup_printf ("%s%s%s%s%s", kind, *gauge->name != '\0' ? ", " : "", gauge->name, *gauge->range != '\0' ? ", " : "", gauge->range);
}

/* 0: has a due date, 1: none, 2: retired */
static int
get_rank (const PawlGauge *gauge)
{
  return gauge->is_retired ? 2 : gauge->due == NULL ? 1 : 0;
}

static int
compare_due (gconstpointer a, gconstpointer b)
{
  const PawlGauge *first = *(const PawlGauge *const *) a, *second = *(const PawlGauge *const *) b;
  int order = get_rank (first) - get_rank (second);

  if (order == 0 && get_rank (first) == 0)
    order = g_date_compare (first->due, second->due);
  return order != 0 ? order : g_ascii_strcasecmp (first->mark, second->mark);
}

GPtrArray *
pawl_instruments_sort (const PawlRegister *instruments)
{
  GPtrArray *sorted = g_ptr_array_copy (pawl_register_list (instruments), NULL, NULL);

  g_ptr_array_set_free_func (sorted, NULL);
  g_ptr_array_sort (sorted, compare_due);
  return sorted;
}
