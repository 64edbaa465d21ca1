#include "job/pawl-tightening.h"

#include <string.h>

#include "job/pawl-job.h"

static const char *const FIELDS[] = {
  [PAWL_TIGHTEN_ORDER] = "order", [PAWL_TIGHTEN_ASK_FIRST] = "ask-first", [PAWL_TIGHTEN_BLIND] = "blind", [PAWL_TIGHTEN_HOLDS] = "holds",
};

static const char *const LEVELS[] = {
  [PAWL_HOLD_NONE] = "none", [PAWL_HOLD_REVIEW] = "review", [PAWL_HOLD_WITNESS] = "witness", [PAWL_HOLD_HOLD] = "hold",
};

const char *
pawl_tighten_get_field (PawlTighten what)
{
  g_return_val_if_fail (what < PAWL_N_TIGHTENINGS, "");
  return FIELDS[what];
}

const char *
pawl_hold_get_name (PawlHold hold)
{
  g_return_val_if_fail (hold < G_N_ELEMENTS (LEVELS), "");
  return LEVELS[hold];
}

gboolean
pawl_hold_from_name (const char *name, PawlHold *hold)
{
  for (guint i = 0; i < G_N_ELEMENTS (LEVELS); i++)
    if (g_str_equal (LEVELS[i], name))
      {
        *hold = (PawlHold) i;
        return TRUE;
      }
  return FALSE;
}

/* ---- skills ---- */

gboolean
pawl_skill_is_word (const char *text)
{
  for (const char *c = text; *c != '\0'; c++)
    if (!g_ascii_isalnum (*c) && strchr ("-_.", *c) == NULL && (guchar) *c < 0x80)
      return FALSE;
  return *text != '\0' && g_utf8_validate (text, -1, NULL);
}

/* The dimension's name in one word: "temperature-difference". */
static char *
dup_quantity_skill (const PawlReading *reading)
{
  const PawlUnit *unit = pawl_limits_get_unit (reading->limits);

  return unit != NULL ? g_strdelimit (g_strdup (pawl_dimension_get_name (pawl_unit_get_dimension (unit))), " ", '-') : NULL;
}

char *
pawl_ask_dup_skill (const PawlAsk *ask)
{
  if (ask->kind == PAWL_ASK_FIT)
    return ask->rule->kind != PAWL_RULE_EITHER ? g_strdup (pawl_rule_kind_get_name (ask->rule->kind)) : NULL;
  if (ask->kind != PAWL_ASK_READING || ask->reading->derived != NULL)
    return NULL;
  return ask->reading->tool != NULL ? g_strdup (ask->reading->tool) : dup_quantity_skill (ask->reading);
}

static int
compare_texts (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char *const *) a, *(const char *const *) b);
}

GPtrArray *
pawl_procedure_list_skills (PawlProcedure *procedure)
{
  GPtrArray *steps = pawl_procedure_get_steps (procedure), *skills = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < steps->len; i++)
    {
      GPtrArray *asks = ((PawlStep *) steps->pdata[i])->asks;

      for (guint j = 0; j < asks->len; j++)
        {
          g_autofree char *skill = pawl_ask_dup_skill (asks->pdata[j]);

          if (skill != NULL && !g_ptr_array_find_with_equal_func (skills, skill, g_str_equal, NULL))
            g_ptr_array_add (skills, g_steal_pointer (&skill));
        }
    }
  g_ptr_array_sort (skills, compare_texts);
  return skills;
}

/* ---- lists ---- */

gboolean
pawl_tighten_lists (const char *list, const char *skill)
{
  g_auto(GStrv) words = NULL;

  if (list == NULL || skill == NULL)
    return FALSE;
  words = g_strsplit (list, " ", -1);
  return g_str_equal (list, "yes") || g_strv_contains ((const char *const *) words, skill);
}

/* "sense=hold", "side=+1": FALSE when @word is nothing of that kind. */
static gboolean
read_hold (const char *word, char **skill, PawlHold own, PawlHold *level)
{
  const char *sign = strchr (word, '=');

  if (sign == NULL || sign == word)
    return FALSE;
  *skill = g_strndup (word, (gsize) (sign - word));
  if (sign[1] == '+' && sign[2] >= '1' && sign[2] <= '3' && sign[3] == '\0')
    *level = MIN (own + (PawlHold) (sign[2] - '0'), PAWL_HOLD_HOLD);
  else if (!pawl_hold_from_name (sign + 1, level))
    return FALSE;
  return pawl_skill_is_word (*skill);
}

PawlHold
pawl_tighten_raise (const char *holds, const char *skill, PawlHold own)
{
  g_auto(GStrv) words = g_strsplit (holds != NULL && skill != NULL ? holds : "", " ", -1);
  PawlHold highest = own;

  for (guint i = 0; words[i] != NULL; i++)
    {
      g_autofree char *named = NULL;
      PawlHold level;

      if (read_hold (words[i], &named, own, &level) && (g_str_equal (named, "all") || g_str_equal (named, skill)))
        highest = MAX (highest, level);
    }
  return highest;
}

static gboolean
refuse (PawlTighten what, const char *text, const char *would_do, GError **error)
{
  g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” can't be taken for %s; it is %s", text, FIELDS[what], would_do);
  return FALSE;
}

gboolean
pawl_tighten_check (PawlTighten what, const char *text, GError **error)
{
  g_auto(GStrv) words = g_strsplit (text, " ", -1);

  g_return_val_if_fail (what < PAWL_N_TIGHTENINGS, FALSE);
  if (g_str_equal (text, "-"))
    return TRUE;
  if (what == PAWL_TIGHTEN_ORDER)
    return g_strv_contains ((const char *[]) { "fixed", "advice", NULL }, text) || refuse (what, text, "fixed or advice", error);
  if (words[0] == NULL)
    return refuse (what, text, "a word, or - for nothing", error);
  for (guint i = 0; words[i] != NULL; i++)
    {
      g_autofree char *skill = NULL;
      PawlHold level;

      if (what == PAWL_TIGHTEN_HOLDS && !read_hold (words[i], &skill, PAWL_HOLD_NONE, &level))
        return refuse (what, text, "a level for each skill, as in “sense=hold side=+1”", error);
      if (what != PAWL_TIGHTEN_HOLDS && !pawl_skill_is_word (words[i]))
        return refuse (what, text, "yes, or skills with a blank between, as in “sense side”", error);
    }
  return TRUE;
}
