#include "sums/pawl-pitch.h"

/* Two digits before the point and three behind it are more than any thread has. */
#define METRIC "^\\s*M\\s*[0-9.,]{1,6}\\s*[x×*]\\s*([0-9]{0,2})(?:[.,]([0-9]{1,3}))?(?:\\s*mm)?\\s*$"
#define INCH "^\\s*(?:(?:#|No\\.?\\s*)?[0-9]{1,2}(?:[ -][0-9]{1,2}/[0-9]{1,2}|/[0-9]{1,2})?|\\.[0-9]{2,4})\\s*(?:in|\")?\\s*-\\s*([0-9]{1,2})(?:[.]([0-9]))?\\s*(?:UNC|UNF|UNEF|UNS|UN|BSW|BSF)?\\s*$"
#define PER_INCH "^\\s*([0-9]{1,3})(?:[.,]([0-9]{1,2}))?\\s*(?:tpi|threads?\\s*(?:per|an|/)\\s*inch|per\\s*inch|/\\s*in)\\s*$"
#define UNSAID "^\\s*(?:M\\s*[0-9.]{1,5}|.{1,12}\\s(?:UNC|UNF|UNEF|BSW|BSF))\\s*$"

static gboolean
take_number (const char *pattern, const char *text, mpq_t value)
{
  g_autoptr(GRegex) regex = g_regex_new (pattern, G_REGEX_CASELESS, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;
  g_autofree char *whole = NULL, *decimals = NULL, *digits = NULL;
  gulong below = 1;

  if (!g_regex_match (regex, text, 0, &match))
    return FALSE;
  whole = g_match_info_fetch (match, 1);
  decimals = g_match_info_fetch (match, 2);
  digits = g_strconcat (whole, decimals, NULL); /* ends early when there are no decimals */
  for (const char *at = decimals; at != NULL && *at != '\0'; at++)
    below *= 10;
  mpq_set_ui (value, (gulong) g_ascii_strtoull (digits, NULL, 10), below);
  mpq_canonicalize (value);
  return mpq_sgn (value) > 0;
}

gboolean
pawl_pitch_parse (const char *text, mpq_t value, const PawlUnit **unit)
{
  *unit = pawl_unit_lookup ("mm");
  if (take_number (METRIC, text, value))
    return TRUE;
  *unit = pawl_unit_lookup ("in");
  if (!take_number (INCH, text, value) && !take_number (PER_INCH, text, value))
    return FALSE;
  mpq_inv (value, value);
  return TRUE;
}

gboolean
pawl_pitch_is_unsaid (const char *text)
{
  return g_regex_match_simple (UNSAID, text, G_REGEX_CASELESS, 0);
}
