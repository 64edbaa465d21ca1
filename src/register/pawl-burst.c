/* Was this typed by a gauge? */
#include "register/pawl-burst.h"

#include <string.h>

void
pawl_burst_form_clear (PawlBurstForm *self)
{
  g_clear_pointer (&self->prefix, g_free);
  g_clear_pointer (&self->suffix, g_free);
}

static const struct { const char *word; gunichar key; } words[] = { { "enter", '\n' }, { "tab", '\t' }, { "none", 0 } };

const char *
pawl_burst_name_terminator (gunichar terminator)
{
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (words[i].key == terminator)
      return words[i].word;
  g_return_val_if_reached ("none");
}

gboolean
pawl_burst_parse_terminator (const char *text, gunichar *terminator)
{
  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_str_equal (words[i].word, text))
      {
        *terminator = words[i].key;
        return TRUE;
      }
  return FALSE;
}

/* Every gap has to be short: one long one is a hand, whatever the mean. */
static gint64
find_longest_gap (const PawlKeyPress *keys, guint n)
{
  gint64 longest = 0;

  for (guint i = 1; i < n; i++)
    longest = MAX (longest, keys[i].at_usec - keys[i - 1].at_usec);
  return longest;
}

/* Held down, a key repeats 20 to 40 times a second, as fast as a gauge. */
static gboolean
is_held_down (const PawlKeyPress *keys, guint n)
{
  for (guint i = 1; i < n; i++)
    if (keys[i].key != keys[0].key)
      return FALSE;
  return TRUE;
}

static char *
join_keys (const PawlKeyPress *keys, guint n)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    g_string_append_unichar (text, keys[i].key);
  return g_string_free (text, FALSE);
}

static gboolean
is_terminator (gunichar key)
{
  return key == '\n' || key == '\t';
}

static gboolean
has_number (const char *text)
{
  return strpbrk (text, "0123456789") != NULL;
}

/* (transfer full) (nullable): what stands between prefix and suffix. */
static char *
cut_reading (const PawlBurstForm *form, const char *text)
{
  gsize length = strlen (text), n_before = strlen (form->prefix), n_after = strlen (form->suffix);
  g_autofree char *reading = NULL;

  if (length <= n_before + n_after || !g_str_has_prefix (text, form->prefix) || !g_str_has_suffix (text, form->suffix))
    return NULL;
  reading = g_strstrip (g_strndup (text + n_before, length - n_before - n_after));
  /* A gauge types a number: digits, sign, its own decimal mark. Letters would be another gauge's prefix or suffix. */
  if (!has_number (reading))
    return NULL;
  for (const char *c = reading; *c != '\0'; c++)
    if (!g_ascii_isdigit (*c) && *c != form->decimal_mark && strchr ("+- ", *c) == NULL)
      return NULL;
  return g_steal_pointer (&reading);
}

static gboolean
is_fast_enough (const PawlBurstForm *form, gint64 longest_usec)
{
  return longest_usec <= (*form->prefix != '\0' ? PAWL_BURST_SLOW_GAP_USEC : PAWL_BURST_GAP_USEC);
}

PawlBurst
pawl_burst_recognise (const PawlKeyPress *keys, guint n, const PawlBurstForm *const *forms, guint n_forms, gint64 now_usec,
                      guint *which, char **reading)
{
  gunichar terminator;
  gboolean is_over;
  gint64 longest_usec = find_longest_gap (keys, n);
  guint n_found = 0, n_awaited = 0;
  g_autofree char *text = NULL;

  g_return_val_if_fail (which != NULL && reading != NULL, PAWL_BURST_BY_HAND);
  *reading = NULL;
  if (n < PAWL_BURST_MIN_KEYS || longest_usec > PAWL_BURST_SLOW_GAP_USEC || is_held_down (keys, n))
    return PAWL_BURST_BY_HAND;

  terminator = is_terminator (keys[n - 1].key) ? keys[n - 1].key : 0;
  is_over = terminator != 0 || now_usec - keys[n - 1].at_usec >= PAWL_BURST_PAUSE_USEC;
  text = join_keys (keys, terminator != 0 ? n - 1 : n);
  for (guint i = 0; i < n_forms; i++)
    {
      g_autofree char *cut = is_fast_enough (forms[i], longest_usec) ? cut_reading (forms[i], text) : NULL;

      if (cut == NULL)
        continue;
      if (forms[i]->terminator != terminator)
        {
          n_awaited++;
          continue;
        }
      if (n_found++ > 0)
        continue;
      *which = i;
      *reading = g_steal_pointer (&cut);
    }

  if (!is_over && (longest_usec <= PAWL_BURST_GAP_USEC || n_found + n_awaited > 0))
    {
      g_clear_pointer (reading, g_free);
      return PAWL_BURST_UNFINISHED;
    }
  if (n_found > 0)
    return n_found == 1 ? PAWL_BURST_GAUGE : PAWL_BURST_SEVERAL;
  if (longest_usec > PAWL_BURST_GAP_USEC || !has_number (text))
    return PAWL_BURST_BY_HAND;
  *reading = g_steal_pointer (&text);
  return PAWL_BURST_STRANGER;
}

/* ---- learning ---- */

/* (nullable): the number that is the reading, a part of @text */
static const char *
find_number (const char *text, gsize *length)
{
  g_autoptr(GRegex) regex = g_regex_new ("[+-]?(?:[0-9]+[.,]?[0-9]*|[.,][0-9]+)", 0, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;
  const char *found = NULL;
  gboolean has_mark = FALSE;

  *length = 0;
  for (g_regex_match (regex, text, 0, &match); g_match_info_matches (match); g_match_info_next (match, NULL))
    {
      g_autofree char *number = g_match_info_fetch (match, 0);
      gboolean is_marked = strpbrk (number, ".,") != NULL;
      int start;

      if (found != NULL && !is_marked && (has_mark || strlen (number) < *length))
        continue;
      g_match_info_fetch_pos (match, 0, &start, NULL);
      found = text + start;
      has_mark = is_marked;
      *length = strlen (number);
    }
  return found;
}

PawlBurstLesson
pawl_burst_learn (const PawlKeyPress *keys, guint n, PawlBurstForm *form, char **reading)
{
  g_autofree char *text = NULL, *unit = NULL;
  const char *number;
  gsize length;
  gunichar terminator;

  g_return_val_if_fail (form != NULL && reading != NULL, PAWL_LESSON_BY_HAND);
  if (n < PAWL_BURST_MIN_KEYS || find_longest_gap (keys, n) > PAWL_BURST_SLOW_GAP_USEC || is_held_down (keys, n))
    return PAWL_LESSON_BY_HAND;
  terminator = is_terminator (keys[n - 1].key) ? keys[n - 1].key : 0;
  text = join_keys (keys, terminator != 0 ? n - 1 : n);
  if ((number = find_number (text, &length)) == NULL)
    return PAWL_LESSON_NO_NUMBER;
  *reading = g_strndup (number, length);
  /* Spaces beside the number pad it to a width, and are another number of them next time. */
  *form = (PawlBurstForm) { g_strchomp (g_strndup (text, (gsize) (number - text))), g_strchug (g_strdup (number + length)), terminator,
                            strchr (*reading, ',') != NULL ? ',' : '.', NULL };
  unit = g_strstrip (g_strdup (form->suffix));
  form->unit = *unit != '\0' ? pawl_unit_lookup (unit) : NULL;
  return PAWL_LESSON_LEARNT;
}
