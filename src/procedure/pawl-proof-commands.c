/*
 * Commands that tell what a job may ask first. Everybody reads the command, so a learner who reads "lip to the engine" guesses nothing.
 *
 * A command names parts and places anyway ("Press the seal into the rear plate"), and from which end a part goes in, so a word that it shares
 * with the fit's <says> and <datum> means little. It tells when such words come in twos without being the name of a part ("bevels to the bore"), when
 * a direction comes with one ("stud to the lead side"), or when the direction itself is the same ("dome outward"). English only: other
 * languages have other small words.
 */
#include <string.h>

#include "fit/pawl-question.h"
#include "procedure/pawl-proof-private.h"

static const char * const directions[] = { "toward", "towards", "facing", "inward", "inwards", "outward", "outwards", "upward", "upwards", "downward", "downwards",
                                           "uppermost", "lowermost", "topmost", "clockwise", "anticlockwise", "counterclockwise", NULL };

/* Said of anything: articles and the like, counts, and what every part has. */
static const char * const small_words[] = {
  "a", "an", "and", "as", "at", "before", "after", "between", "both", "by", "each", "every", "for", "from", "goes", "have", "has", "in", "into", "is", "it", "its", "itself", "lie", "lies", "must",
  "neither", "new", "no", "not", "of", "off", "on", "one", "or", "other", "out", "over", "own", "same", "so", "stands", "than", "that", "the", "their", "them", "then", "this", "those", "through", "to",
  "until", "up", "down", "under", "when", "where", "which", "with", "job", "two", "three", "four", "five", "six", "first", "last", "end", "ends", "side", "sides", "way", "place", "part", "parts",
  "hole", "holes", "right", "left", "round", "insertion", "left", NULL };

/* "bevels" and "bevelled" are one word, "pin" and "pinion" two. */
static gboolean
is_like (const char *a, const char *b)
{
  size_t length_a = strlen (a), length_b = strlen (b);
  size_t shorter = MIN (length_a, length_b), longer = MAX (length_a, length_b);

  if (shorter > 4 && (length_a < length_b ? a : b)[shorter - 1] == 's')
    shorter--;
  if (shorter < 4)
    return strcmp (a, b) == 0 || (longer == shorter + 1 && strncmp (a, b, shorter) == 0 && (length_a > length_b ? a : b)[shorter] == 's');
  return strncmp (a, b, shorter) == 0 && longer - shorter <= 4;
}

static gboolean
has_like (char **words, const char *word)
{
  for (; *words != NULL; words++)
    if (is_like (*words, word))
      return TRUE;
  return FALSE;
}

/* (transfer full) (element-type utf8): words of all names of the parts. */
static GPtrArray *
list_part_words (GPtrArray *parts)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < parts->len; i++)
    {
      char **words = g_str_tokenize_and_fold (((PawlPart *) g_ptr_array_index (parts, i))->name, "en", NULL);

      for (char **word = words; *word != NULL; word++)
        g_ptr_array_add (list, *word);
      g_free (words); /* the words are moved */
    }
  g_ptr_array_add (list, NULL);
  return list;
}

typedef struct {
  char  **command;
  char  **names;     /* words of the names of all parts */
  char  **own_names; /* of the part that is fitted */
} Words;

/* "to the lead side", but not "from the engine side". @side: its place in the command. */
static gboolean
is_to_the_side (char **command, char **side)
{
  return strcmp (*side, "side") == 0 && side - command >= 3 && strcmp (side[-2], "the") == 0 && strcmp (side[-3], "to") == 0;
}

/* (transfer full) (nullable): what of the command tells, "bevels … bore". */
static char *
find_telling (const Words *self, char **said)
{
  g_autoptr(GString) plain = g_string_new (NULL), shared = g_string_new (NULL);
  const char *direction = NULL;
  guint n_plain = 0, n_shared = 0;
  gboolean is_same_direction = FALSE;

  for (char **word = self->command; *word != NULL; word++)
    if (g_strv_contains (directions, *word) || is_to_the_side (self->command, word))
      {
        direction = *word;
        is_same_direction |= g_strv_contains (directions, *word) && has_like (said, *word);
      }
    else if (!g_strv_contains (small_words, *word) && has_like (said, *word) && !has_like (self->own_names, *word))
      {
        g_string_append_printf (shared, "%s%s", n_shared++ > 0 ? " … " : "", *word);
        if (has_like (self->names, *word))
          continue;
        g_string_append_printf (plain, "%s%s", n_plain++ > 0 ? " … " : "", *word);
      }
  if (is_same_direction)
    return g_strdup (direction);
  if (direction != NULL && (n_plain > 0 || n_shared > 1))
    return g_strdup_printf ("%s … %s", shared->str, direction);
  return n_plain >= 2 ? g_strdup (plain->str) : NULL;
}

static void
check_fit (PawlProof *self, const PawlStep *step, const PawlRule *rule, Words *words)
{
  const PawlPart *part = pawl_procedure_lookup_part (self->procedure, rule->part);
  g_autofree char *answer = g_strdup_printf ("%s %s", rule->says != NULL ? rule->says : "", rule->datum != NULL ? rule->datum : "");
  g_auto(GStrv) said = g_str_tokenize_and_fold (answer, "en", NULL);
  g_auto(GStrv) own_names = g_str_tokenize_and_fold (part != NULL ? part->name : "", "en", NULL);
  g_autofree char *telling = NULL;

  words->own_names = own_names;
  telling = find_telling (words, said);
  if (telling != NULL)
    pawl_proof_add (self, PAWL_SEVERITY_ADVICE, "command-tells", step->line,
                    "the command of step \"%s\" tells what \"%s\" may ask first (\"%s\"); say there only what to do, and which way round in <says> or <info>",
                    step->id, rule->id, telling);
}

void
pawl_proof_check_commands (PawlProof *self)
{
  GPtrArray *steps = self->procedure->steps;
  g_autoptr(GPtrArray) names = NULL;

  if (!g_str_has_prefix (self->procedure->language, "en"))
    return;
  names = list_part_words (self->procedure->parts);
  for (guint i = 0; i < steps->len && !self->is_cut; i++)
    {
      const PawlStep *step = g_ptr_array_index (steps, i);
      g_auto(GStrv) command = g_str_tokenize_and_fold (step->command, "en", NULL);
      Words words = { command, (char **) names->pdata, NULL };

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = g_ptr_array_index (step->asks, j);

          if (ask->kind == PAWL_ASK_FIT && pawl_rule_can_be_asked (ask->rule))
            check_fit (self, step, ask->rule, &words);
        }
    }
}
