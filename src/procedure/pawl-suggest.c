/* "Did you mean …": the nearest of some words. */
#include <string.h>

#include "procedure/pawl-xml-private.h"

#define LONGEST 64

/* Restricted edit distance (Levenshtein, plus swapped neighbours) of two words of at most LONGEST bytes. */
static guint
edit_distance (const char *a, const char *b)
{
  gsize n_a = strlen (a), n_b = strlen (b);
  guint rows[3][LONGEST + 1];
  guint *before = rows[0], *above = rows[1], *row = rows[2];

  for (gsize j = 0; j <= n_b; j++)
    above[j] = j;
  for (gsize i = 1; i <= n_a; i++)
    {
      guint *spare = before;

      row[0] = i;
      for (gsize j = 1; j <= n_b; j++)
        {
          guint change = above[j - 1] + (a[i - 1] != b[j - 1]);

          row[j] = MIN (change, MIN (above[j], row[j - 1]) + 1);
          if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
            row[j] = MIN (row[j], before[j - 2] + 1);
        }
      before = above;
      above = row;
      row = spare;
    }
  return above[n_b];
}

const char *
pawl_suggest (const char *typed, const char * const *words)
{
  gsize length = strlen (typed);
  guint limit = length <= 4 ? 1 : length <= 9 ? 2 : 3;
  const char *best = NULL;
  guint least = limit + 1;

  if (length > LONGEST)
    return NULL;
  for (; *words != NULL; words++)
    {
      guint distance = strlen (*words) <= LONGEST ? edit_distance (typed, *words) : G_MAXUINT;

      /* A distance of the whole word means that nothing agrees. */
      if (distance < least && distance < MAX (length, strlen (*words)))
        {
          least = distance;
          best = *words;
        }
    }
  return best;
}
