/* Answers to readings in words: the value that counts, and how it stands. Words are those of src/measure, in English. */
#include "job/pawl-job.h"

char *
pawl_attempt_describe_verdict (const PawlAsk *ask, const PawlAttempt *attempt)
{
  const PawlReading *reading = ask->reading;
  g_autofree char *words = NULL;

  g_return_val_if_fail (reading != NULL, NULL);
  if (attempt->is_void)
    return g_strdup_printf ("void, measure again%s%s", reading->void_reason != NULL ? ": " : "", reading->void_reason != NULL ? reading->void_reason : "");
  if (!attempt->is_whole)
    return g_strdup_printf ("%u of %u taken", attempt->n_in_set, reading->repeats);
  if (attempt->quantity == NULL)
    return g_strdup (pawl_verdict_get_word (attempt->verdict.kind));
  words = pawl_verdict_describe (&attempt->verdict, attempt->limits, attempt->quantity);
  for (guint i = 0; i < attempt->judged->len; i++)
    {
      const PawlJudged *judged = attempt->judged->pdata[i];

      /* of several the one that decides is named, unless all are in */
      if (*judged->name != '\0' && judged->quantity == attempt->quantity && attempt->verdict.kind != PAWL_VERDICT_IN)
        return g_strdup_printf ("%s, %s", words, judged->name);
    }
  return g_steal_pointer (&words);
}

char *
pawl_attempt_describe_value (const PawlAttempt *attempt, char decimal_mark)
{
  const char *typed = attempt->entry != NULL ? pawl_entry_get (attempt->entry, "answer") : NULL;
  g_autofree char *value = NULL;

  if (attempt->quantity == NULL || attempt->values != NULL)
    return g_strdup (typed != NULL ? typed : "");
  value = pawl_quantity_format (attempt->quantity, decimal_mark);
  if (attempt->is_whole && attempt->n_in_set > 1)
    return g_strdup_printf ("%s, mean of %u", value, attempt->n_in_set);
  return g_steal_pointer (&value);
}

const char *
pawl_attempt_get_origin (const PawlAttempt *attempt)
{
  if (attempt->is_derived)
    return "worked out";
  if (attempt->is_typed_over)
    return "typed over";
  return attempt->is_whole && attempt->n_in_set > 1 ? "mean of repeats" : "typed";
}
