#include "drawing/pawl-figure-style.h"

#include <string.h>

const char *
pawl_style_find (const char *text, const char *word)
{
  gsize length = strlen (word);

  for (; *text; text++)
    if (g_ascii_tolower (*text) == *word && g_ascii_strncasecmp (text, word, length) == 0)
      return text;
  return NULL;
}

/* Comments become spaces; one that never ends takes the rest with it, as CSS has it. */
static char *
dup_without_comments (const char *text)
{
  char *copy = g_strdup (text), *open = copy;

  while ((open = strstr (open, "/*")))
    {
      char *end = strstr (open + 2, "*/");
      gsize length = end ? (gsize) (end + 2 - open) : strlen (open);

      memset (open, ' ', length);
    }
  return copy;
}

/* Where the declaration that begins at @text ends: at a semicolon outside of quotes and brackets, or at the end. */
static char *
find_end (char *text)
{
  char quote = '\0';
  guint depth = 0;

  for (; *text; text++)
    if (quote)
      quote = *text == quote ? '\0' : quote;
    else if (*text == '"' || *text == '\'')
      quote = *text;
    else if (*text == '(')
      depth++;
    else if (*text == ')')
      depth -= depth > 0;
    else if (*text == ';' && depth == 0)
      break;
  return text;
}

/* Writes into @text. */
static gboolean
visit_declarations (char *text, PawlStyleVisit visit, gpointer data)
{
  while (*text)
    {
      char *end = find_end (text), *colon;
      gboolean is_last = *end == '\0';

      *end = '\0';
      if ((colon = strchr (text, ':')))
        {
          g_autofree char *name = g_ascii_strdown (text, colon - text);

          if (!visit (g_strstrip (name), g_strstrip (colon + 1), data))
            return FALSE;
        }
      text = is_last ? end : end + 1;
    }
  return TRUE;
}

gboolean
pawl_style_visit_declarations (const char *text, PawlStyleVisit visit, gpointer data)
{
  g_autofree char *copy = dup_without_comments (text);

  return visit_declarations (copy, visit, data);
}

/* Runs of letters, digits and stars: every name in a selector is one. */
static guint
count_parts (const char *selector, const char *end)
{
  guint n = 0;
  gboolean is_inside = FALSE;

  for (; selector < end; selector++)
    {
      gboolean is_name = g_ascii_isalnum (*selector) || *selector == '-' || *selector == '_' || (*selector & 0x80);

      n += *selector == '*' || (is_name && !is_inside);
      is_inside = is_name;
    }
  return MAX (n, 1);
}

gboolean
pawl_style_visit_sheet (const char *text, guint *n_selectors, PawlStyleVisit visit, gpointer data)
{
  g_autofree char *copy = dup_without_comments (text);
  char *at = copy, *brace;

  while ((brace = strchr (at, '{')))
    {
      char *end = brace + 1 + strcspn (brace + 1, "{}");

      at += strspn (at, "} \t\r\n");
      if (*at == '@' && *end == '{')
        {
          at = brace + 1; /* a block of blocks: what is inside is read as if it stood outside */
          continue;
        }
      *n_selectors += count_parts (at, brace);
      at = *end ? end + 1 : end;
      *end = '\0';
      if (!visit_declarations (brace + 1, visit, data))
        return FALSE;
    }
  return TRUE;
}
