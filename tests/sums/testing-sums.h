/* Asking a sum as the command does. */
#pragma once

#include <string.h>

#include "sums/pawl-sum.h"

/* @inputs: "name=value; name=value". (transfer full) (nullable) */
static inline PawlSumResult *
ask (const char *sum, const char *inputs, GError **error)
{
  g_autoptr(GHashTable) typed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_auto(GStrv) pairs = g_strsplit (inputs, "; ", -1);

  for (guint i = 0; pairs[i] != NULL && *pairs[i] != '\0'; i++)
    {
      char *value = strchr (pairs[i], '=');

      g_assert_nonnull (value);
      *value++ = '\0';
      g_hash_table_insert (typed, g_strdup (pairs[i]), g_strdup (value));
    }
  g_assert_nonnull (pawl_sum_lookup (sum));
  return pawl_sum_solve (pawl_sum_lookup (sum), typed, NULL, error);
}

/* (nullable) */
static inline const PawlSumAnswer *
find_answer (const PawlSumResult *result, const char *title)
{
  for (guint i = 0; i < result->answers->len; i++)
    if (g_str_equal (((PawlSumAnswer *) result->answers->pdata[i])->title, title))
      return result->answers->pdata[i];
  return NULL;
}
