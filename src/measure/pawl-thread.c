#include "measure/pawl-thread.h"

#include <string.h>

#include "measure/pawl-number-private.h"

#define METRIC "^M\\s*(?<size>[0-9]{1,3}(?:[.,][0-9]{1,2})?)\\s*(?:[x×*-]\\s*(?<pitch>[0-9]{1,2}(?:[.,][0-9]{1,3})?|[.,][0-9]{1,3})\\s*(?:mm)?|coarse)?$"
#define SIZE "(?:#|no\\.?\\s*)[0-9]{1,2}|[0-9]{1,2}(?:[ -][0-9]{1,2}/[0-9]{1,2}|/[0-9]{1,2})?|[0-9]?\\.[0-9]{1,4}"
#define INCH "^(?<size>" SIZE ")\\s*(?:in|inch|\")?\\s*(?:-\\s*(?<tpi>[0-9]{1,2}(?:\\.5)?))?\\s*(?<series>UNC|UNF|UNEF|UNS|UN)?$"
#define PER_INCH "^(?<tpi>[0-9]{1,3}(?:[.,][0-9]{1,2})?)\\s*(?:tpi|threads?\\s*(?:per|an|in\\s*an|/)\\s*inch|per\\s*inch|/\\s*in)$"
/* What means to be a thread: one of the above, or begins like it and has no other meaning. */
#define LIKE "^\\s*(?:M\\s*[0-9].*|.*\\bUN[CFSE]?F?\\b.*|.*\\b(?:tpi|per\\s*inch|an\\s*inch)\\s*|#?\\s*[.0-9][-0-9/ .]*(?:in|\")?\\s*-\\s*[0-9]{1,2}(?:\\.5)?)\\s*$"

/* ISO 261, coarse series, from memory: millimetres. */
static const struct { const char *size, *pitch; } metric[] = {
  { "1", "0.25" }, { "1.2", "0.25" }, { "1.4", "0.3" }, { "1.6", "0.35" }, { "1.8", "0.35" }, { "2", "0.4" }, { "2.2", "0.45" }, { "2.5", "0.45" },
  { "3", "0.5" }, { "3.5", "0.6" }, { "4", "0.7" }, { "4.5", "0.75" }, { "5", "0.8" }, { "6", "1" }, { "7", "1" }, { "8", "1.25" }, { "9", "1.25" },
  { "10", "1.5" }, { "11", "1.5" }, { "12", "1.75" }, { "14", "2" }, { "16", "2" }, { "18", "2.5" }, { "20", "2.5" }, { "22", "2.5" }, { "24", "3" },
  { "27", "3" }, { "30", "3.5" }, { "33", "3.5" }, { "36", "4" }, { "39", "4" }, { "42", "4.5" }, { "45", "4.5" }, { "48", "5" }, { "52", "5" },
  { "56", "5.5" }, { "60", "5.5" }, { "64", "6" },
};

/* ASME B1.1, coarse and fine series, from memory: threads in an inch; NULL: the series has none. */
static const struct { const char *size, *coarse, *fine; } inch[] = {
  { "#0", NULL, "80" }, { "#1", "64", "72" }, { "#2", "56", "64" }, { "#3", "48", "56" }, { "#4", "40", "48" }, { "#5", "40", "44" }, { "#6", "32", "40" },
  { "#8", "32", "36" }, { "#10", "24", "32" }, { "#12", "24", "28" }, { "1/4", "20", "28" }, { "5/16", "18", "24" }, { "3/8", "16", "24" },
  { "7/16", "14", "20" }, { "1/2", "13", "20" }, { "9/16", "12", "18" }, { "5/8", "11", "18" }, { "3/4", "10", "16" }, { "7/8", "9", "14" },
  { "1", "8", "12" }, { "1 1/8", "7", "12" }, { "1 1/4", "7", "12" }, { "1 3/8", "6", "12" }, { "1 1/2", "6", "12" }, { "1 3/4", "5", NULL },
  { "2", "4.5", NULL },
};

/* ---- numbers ---- */

/* Whole numbers, decimals and mixed fractions, as the patterns let them through. */
static gboolean
set_number (mpq_t value, const char *text)
{
  const char *slash = strchr (text, '/'), *part = slash != NULL ? strpbrk (text, " -") : NULL;
  g_autofree char *decimal = g_strdelimit (g_strdup (text), ",", '.');
  mpq_t below;

  if (slash == NULL)
    {
      pawl_number_set_digits (value, decimal, strlen (decimal));
      return mpq_sgn (value) > 0;
    }
  mpq_init (below);
  pawl_number_set_digits (value, part != NULL ? part + 1 : text, (gsize) (slash - (part != NULL ? part + 1 : text)));
  pawl_number_set_digits (below, slash + 1, strlen (slash + 1));
  if (mpq_sgn (below) > 0)
    mpq_div (value, value, below);
  else
    mpq_set_ui (value, 0, 1);
  if (part != NULL)
    {
      pawl_number_set_digits (below, text, (gsize) (part - text));
      mpq_add (value, value, below);
    }
  mpq_clear (below);
  return mpq_sgn (value) > 0;
}

/* Diameter of an inch size. Numbers go by 0.060 in + 0.013 in × number (ASME B1.1, from memory). */
static gboolean
set_inch_size (mpq_t value, const char *size)
{
  const char *digits = strpbrk (size, "0123456789");

  if (*size == '.' || digits == size)
    return set_number (value, size);
  mpq_set_ui (value, (gulong) (60 + 13 * g_ascii_strtoull (digits, NULL, 10)), 1000);
  mpq_canonicalize (value);
  return TRUE;
}

static gboolean
is_equal (const char *a, const char *b, gboolean (*set) (mpq_t value, const char *text))
{
  gboolean result;
  mpq_t one, other;

  mpq_inits (one, other, NULL);
  result = set (one, a) && set (other, b) && mpq_equal (one, other);
  mpq_clears (one, other, NULL);
  return result;
}

/* ---- names ---- */

/* (transfer full) (nullable): a group of the pattern; NULL when it has no part in the match */
static char *
take_group (GMatchInfo *match, const char *name)
{
  char *text = g_match_info_fetch_named (match, name);

  if (text != NULL && *text == '\0')
    g_clear_pointer (&text, g_free);
  return text;
}

static GMatchInfo *
match (const char *pattern, const char *text)
{
  g_autoptr(GRegex) regex = g_regex_new (pattern, G_REGEX_CASELESS, 0, NULL);
  GMatchInfo *found = NULL;

  if (!g_regex_match (regex, text, 0, &found))
    g_clear_pointer (&found, g_match_info_free);
  return found;
}

static gboolean
refuse (GError **error, PawlReadingError code, const char *text, const char *reason)
{
  g_set_error (error, PAWL_READING_ERROR, (int) code, "“%s” %s, as in M6x1, 1/4-20 or 20 tpi", text, reason);
  return FALSE;
}

static const char *
find_coarse (const char *size)
{
  for (guint i = 0; i < G_N_ELEMENTS (metric); i++)
    if (is_equal (metric[i].size, size, set_number))
      return metric[i].pitch;
  return NULL;
}

/* @series: (nullable): any */
static const char *
find_series (const char *size, const char *series)
{
  for (guint i = 0; i < G_N_ELEMENTS (inch); i++)
    if (is_equal (inch[i].size, size, set_inch_size))
      return series == NULL ? NULL : g_ascii_strcasecmp (series, "UNC") == 0 ? inch[i].coarse : g_ascii_strcasecmp (series, "UNF") == 0 ? inch[i].fine : NULL;
  return NULL;
}

/* "10-32" and "4-36" are numbers, as no whole inches have so fine a thread and no number has a coarser one; "1-8" is one inch. */
static gboolean
is_number_size (const char *size, const char *tpi)
{
  return strspn (size, "0123456789") == strlen (size) && g_ascii_strtoull (tpi, NULL, 10) >= 24;
}

static PawlQuantity *
take_quantity (mpq_t value, const char *unit)
{
  return pawl_quantity_new (value, pawl_unit_lookup (unit));
}

static gboolean
parse_metric (const char *text, GMatchInfo *found, PawlThread *thread, GError **error)
{
  g_autofree char *size = take_group (found, "size"), *said = take_group (found, "pitch");
  const char *pitch = said != NULL ? said : find_coarse (size);
  gboolean is_fine = FALSE;
  mpq_t value;

  if (pitch == NULL)
    return refuse (error, PAWL_READING_ERROR_AMBIGUOUS, text, "has no coarse pitch that is known; say its pitch");
  mpq_init (value);
  if (set_number (value, pitch))
    {
      thread->pitch = take_quantity (value, "mm");
      is_fine = set_number (value, size);
      thread->diameter = take_quantity (value, "mm");
    }
  mpq_clear (value);
  return is_fine || refuse (error, PAWL_READING_ERROR_NOT_A_NUMBER, text, "is no thread; diameter and pitch are above zero");
}

static gboolean
set_per_inch (PawlThread *thread, const char *tpi)
{
  gboolean is_fine;
  mpq_t value;

  mpq_init (value);
  if ((is_fine = set_number (value, tpi)))
    {
      mpq_inv (value, value);
      thread->pitch = take_quantity (value, "in");
    }
  mpq_clear (value);
  return is_fine;
}

static gboolean
parse_inch (const char *text, GMatchInfo *found, PawlThread *thread, GError **error)
{
  g_autofree char *size = take_group (found, "size"), *said = take_group (found, "tpi"), *series = take_group (found, "series");
  const char *tpi = said != NULL ? said : find_series (size, series);
  gboolean is_fine;
  mpq_t value;

  if (tpi == NULL)
    return refuse (error, PAWL_READING_ERROR_AMBIGUOUS, text, "leaves the pitch open, or is of no series that is known (UNC, UNF); say its threads in an inch");
  if (said != NULL && is_number_size (size, said))
    {
      char *number = g_strconcat ("#", size, NULL);

      g_free (size);
      size = number;
    }
  mpq_init (value);
  is_fine = set_inch_size (value, size);
  thread->diameter = take_quantity (value, "in");
  mpq_clear (value);
  return (set_per_inch (thread, tpi) && is_fine) || refuse (error, PAWL_READING_ERROR_NOT_A_NUMBER, text, "is no thread; diameter and pitch are above zero");
}

static gboolean
parse (const char *text, PawlThread *thread, GError **error)
{
  g_autofree char *plain = g_strstrip (g_strdup (text)), *tpi = NULL;
  g_autoptr(GMatchInfo) as_metric = match (METRIC, plain), as_inch = match (INCH, plain), per_inch = match (PER_INCH, plain);

  if (as_metric != NULL)
    return parse_metric (plain, as_metric, thread, error);
  if (per_inch != NULL)
    {
      tpi = take_group (per_inch, "tpi");
      return set_per_inch (thread, tpi) || refuse (error, PAWL_READING_ERROR_NOT_A_NUMBER, plain, "is no thread; there is at least one in an inch");
    }
  if (as_inch != NULL)
    return parse_inch (plain, as_inch, thread, error);
  return refuse (error, PAWL_READING_ERROR_NOT_A_NUMBER, plain, "is not the name of a thread");
}

gboolean
pawl_thread_looks_like (const char *text)
{
  g_return_val_if_fail (text != NULL, FALSE);
  return strlen (text) <= 40 && g_regex_match_simple (LIKE, text, G_REGEX_CASELESS, 0);
}

gboolean
pawl_thread_parse (const char *text, PawlThread *thread, GError **error)
{
  g_return_val_if_fail (text != NULL && thread != NULL, FALSE);
  *thread = (PawlThread) { NULL, NULL };
  if (strlen (text) <= 40 ? parse (text, thread, error) : refuse (error, PAWL_READING_ERROR_TOO_LONG, "…", "is too long for the name of a thread"))
    return TRUE;
  pawl_thread_clear (thread);
  return FALSE;
}

void
pawl_thread_clear (PawlThread *thread)
{
  g_clear_pointer (&thread->diameter, pawl_quantity_unref);
  g_clear_pointer (&thread->pitch, pawl_quantity_unref);
}
