#include "app/pawl-own-unit.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"
#include "measure/pawl-shown.h"

const PawlUnit *
pawl_own_unit_find (PawlLengths lengths, const PawlUnit *unit)
{
  return lengths != PAWL_LENGTHS_AS_TYPED ? pawl_unit_in_system (unit, lengths == PAWL_LENGTHS_IN_INCHES) : NULL;
}

char *
pawl_own_unit_describe_value (PawlLengths lengths, const PawlAttempt *attempt, char decimal_mark)
{
  const PawlUnit *unit = attempt->quantity != NULL && attempt->values == NULL ? pawl_own_unit_find (lengths, pawl_quantity_get_unit (attempt->quantity)) : NULL;
  g_auto(PawlShown) shown = { NULL };
  g_autofree char *value = NULL;

  if (unit == NULL)
    return pawl_phrase_describe_value (attempt, decimal_mark);
  pawl_shown_make (attempt->quantity, attempt->limits, unit, decimal_mark, &shown);
  value = pawl_attempt_describe_value (attempt, decimal_mark);
  return g_strdup_printf ("%s · %s%s", shown.value, value, pawl_phrase_get_origin (attempt));
}

char *
pawl_own_unit_describe_limits (PawlLengths lengths, const PawlAsk *ask, const PawlLimits *limits, const PawlQuantity *quantity, char decimal_mark)
{
  const PawlLimits *now = limits != NULL ? limits : ask->reading->limits;
  const PawlUnit *unit = now != NULL ? pawl_own_unit_find (lengths, pawl_limits_get_unit (now)) : NULL;
  g_auto(PawlShown) shown = { NULL };
  g_autofree char *book = NULL;

  if (unit != NULL)
    pawl_shown_make (quantity, now, unit, decimal_mark, &shown);
  if (shown.limits == NULL)
    return pawl_phrase_describe_limits (ask, limits);
  book = pawl_limits_describe (now);
  if (ask->source == NULL || *ask->source == '\0')
    return g_strdup_printf (_("Limits %s (book: %s)"), shown.limits, book);
  return g_strdup_printf (_("Limits %s (book: %s; %s)"), shown.limits, book, ask->source);
}

char *
pawl_own_unit_ask_back (PawlLengths lengths, const char *typed, const PawlTyping *typing, const PawlLimits *limits)
{
  const PawlUnit *other = NULL;
  PawlBare bare = pawl_reading_check_bare (typed, typing, limits, &other);
  const char *here = typing->default_unit != NULL ? pawl_unit_get_symbol (typing->default_unit) : "";

  if (bare == PAWL_BARE_ELSEWHERE)
    return g_strdup_printf (_("Is it %s %s, or %s %s? The first is outside, the second inside: type the unit behind it"),
                            typed, here, typed, pawl_unit_get_symbol (other));
  if (bare == PAWL_BARE_EITHER && pawl_own_unit_find (lengths, typing->default_unit) == other)
    return g_strdup_printf (_("Is it %s %s, or %s %s? Both are inside: type the unit behind it"), typed, here, typed, pawl_unit_get_symbol (other));
  return NULL;
}
