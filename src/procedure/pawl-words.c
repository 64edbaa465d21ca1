/* Reading an author's words for what they give away: sizes said twice, drills, wires, dangers. */
#include <string.h>

#include "measure/pawl-quantity.h"
#include "procedure/pawl-words-private.h"

/* 1 5/16, 1-5/16, 5/16, .025, 0.0465, 33,5, 12; not the tail of a longer number. */
#define NUMBER "(?<![\\d./,])(\\d+[ -]\\d+/\\d+|\\d+/\\d+|\\d*[.,]\\d+|\\d+)"
#define INCH_UNIT "\\s*(in\\b\\.?|inch(?:es)?\\b|\"|″|thou\\b)"
#define METRIC_UNIT "\\s*(mm)\\b"

/* ---- a size and its rounding, exact ---- */

typedef struct {
  mpq_t metres;
  mpq_t half_step; /* half of the last place shown; 0 for fractions and whole inches, which are exact */
} Size;

static void
size_clear (Size *self)
{
  mpq_clears (self->metres, self->half_step, NULL);
}

/* Half of the last decimal place of @number, in @unit. A whole number of millimetres is taken as rounded to the millimetre. */
static void
set_half_step (Size *self, const char *number, const PawlUnit *unit, gboolean is_metric)
{
  const char *mark = strpbrk (number, ".");
  gsize n_places = mark != NULL ? strlen (mark + 1) : 0;
  mpz_t scale;
  mpq_t value;

  if (strchr (number, '/') != NULL || (mark == NULL && !is_metric))
    return;
  mpz_init (scale);
  mpq_init (value);
  mpz_ui_pow_ui (scale, 10, n_places);
  mpz_mul_ui (scale, scale, 2);
  mpq_set_ui (value, 1, 1);
  mpq_set_den (value, scale);
  pawl_unit_to_base (unit, value, self->half_step);
  mpq_clear (value);
  mpz_clear (scale);
}

/* FALSE, with nothing to clear, when it is no size after all. */
static gboolean
size_init (Size *self, const char *number_text, const char *unit_symbol)
{
  const PawlUnit *unit = pawl_unit_lookup (unit_symbol);
  PawlTyping typing = { .decimal_mark = '.', .default_unit = unit };
  g_autofree char *number = g_strdelimit (g_strdup (number_text), ",", '.');
  g_autoptr(PawlQuantity) quantity = unit != NULL ? pawl_quantity_parse (number, &typing, NULL) : NULL;
  mpq_t high;

  if (quantity == NULL)
    return FALSE;
  mpq_inits (self->metres, self->half_step, high, NULL);
  pawl_quantity_get_base (quantity, self->metres, high);
  mpq_clear (high);
  set_half_step (self, number, unit, strcmp (unit_symbol, "mm") == 0);
  return TRUE;
}

/* Either of the two may be the rounded form of the other. */
static gboolean
sizes_agree (const Size *a, const Size *b)
{
  mpq_t difference;
  gboolean result;

  mpq_init (difference);
  mpq_sub (difference, a->metres, b->metres);
  mpq_abs (difference, difference);
  result = mpq_cmp (difference, a->half_step) <= 0 || mpq_cmp (difference, b->half_step) <= 0;
  mpq_clear (difference);
  return result;
}

/* For messages only. */
static double
size_in (const Size *self, double unit_metres)
{
  return mpq_get_d (self->metres) / unit_metres;
}

/* ---- inch and metric ---- */

static const char *
inch_symbol (const char *typed)
{
  return strcmp (typed, "thou") == 0 ? "thou" : "in";
}

/* (transfer full) (nullable) */
static char *
compare_pair (const char *whole, const char *inch_number, const char *inch_unit, const char *metric_number)
{
  Size inch, metric;
  char *result = NULL;
  g_autofree char *millimetres = NULL;

  if (!size_init (&inch, inch_number, inch_symbol (inch_unit)))
    return NULL;
  if (!size_init (&metric, metric_number, "mm"))
    {
      size_clear (&inch);
      return NULL;
    }
  if (!sizes_agree (&inch, &metric))
    {
      millimetres = g_strdup_printf ("%.4g", size_in (&inch, 0.001));
      result = g_strdup_printf ("\"%s\" disagrees with itself: %s %s is %s mm", whole, inch_number, inch_symbol (inch_unit), millimetres);
    }
  size_clear (&metric);
  size_clear (&inch);
  return result;
}

/* @inch_first: the order of the two sides in @pattern, which captures a number and a unit on each. */
static char *
find_pair (const char *text, const char *pattern, gboolean inch_first)
{
  g_autoptr(GRegex) regex = g_regex_new (pattern, 0, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;
  char *result = NULL;

  g_regex_match (regex, text, 0, &match);
  while (result == NULL && g_match_info_matches (match))
    {
      g_autofree char *whole = g_match_info_fetch (match, 0);
      g_autofree char *inch_number = g_match_info_fetch (match, inch_first ? 1 : 3);
      g_autofree char *inch_unit = g_match_info_fetch (match, inch_first ? 2 : 4);
      g_autofree char *metric_number = g_match_info_fetch (match, inch_first ? 3 : 1);

      result = compare_pair (whole, inch_number, inch_unit, metric_number);
      g_match_info_next (match, NULL);
    }
  return result;
}

char *
pawl_words_find_inch_metric (const char *text)
{
  char *found;

  if (strchr (text, '(') == NULL)
    return NULL;
  found = find_pair (text, NUMBER INCH_UNIT "\\s*\\(\\s*" NUMBER METRIC_UNIT "\\s*\\)", TRUE);

  return found != NULL ? found : find_pair (text, NUMBER METRIC_UNIT "\\s*\\(\\s*" NUMBER INCH_UNIT "\\s*\\)", FALSE);
}

/* ---- drills ---- */

/* "No. 56", "#56", "number 56"; or a letter, which needs the word drill so as not to be any capital. Then the size in brackets. */
#define DRILL_SIZE "\\s*\\(\\s*(\\d*[.,]?\\d+)\\s*(in\\b\\.?|\"|mm\\b)?\\s*\\)"
#define NUMBER_DRILL "(?:\\b[Nn]o\\.?|\\b[Nn]umber|#)\\s*(\\d{1,2})(?:\\s+drill)?(?:\\s+size)?" DRILL_SIZE
#define LETTER_DRILL "(?|\\b[Ll]etter\\s+([A-Z])(?:\\s+drill)?|\\b([A-Z])\\s+drill)" DRILL_SIZE

/* (transfer full) (nullable). @symbol: "#56" or "letter F", as the measure layer knows drills. */
static char *
compare_drill (const char *whole, const char *symbol, const char *number, const char *unit)
{
  g_autoptr(PawlQuantity) drill = pawl_quantity_parse (symbol, &(PawlTyping) { .decimal_mark = '.' }, NULL);
  gboolean is_metric = strcmp (unit, "mm") == 0;
  Size said, table;
  char *result = NULL;
  mpq_t high;

  if (drill == NULL || !size_init (&said, number, is_metric ? "mm" : "in"))
    return NULL;
  mpq_inits (table.metres, table.half_step, high, NULL);
  pawl_quantity_get_base (drill, table.metres, high);
  if (!sizes_agree (&said, &table))
    result = is_metric ? g_strdup_printf ("\"%s\" disagrees with the table of drills: %s is %.3f mm", whole, symbol, size_in (&table, 0.001))
                       : g_strdup_printf ("\"%s\" disagrees with the table of drills: %s is %.4f in", whole, symbol, size_in (&table, 0.0254));
  mpq_clear (high);
  size_clear (&table);
  size_clear (&said);
  return result;
}

static char *
find_drill (const char *text, const char *pattern, const char *symbol_prefix)
{
  g_autoptr(GRegex) regex = g_regex_new (pattern, 0, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;
  char *result = NULL;

  g_regex_match (regex, text, 0, &match);
  while (result == NULL && g_match_info_matches (match))
    {
      g_autofree char *whole = g_match_info_fetch (match, 0);
      g_autofree char *name = g_match_info_fetch (match, 1);
      g_autofree char *number = g_match_info_fetch (match, 2);
      g_autofree char *unit = g_match_info_fetch (match, 3);
      g_autofree char *symbol = g_strconcat (symbol_prefix, name, NULL);

      result = compare_drill (whole, symbol, number, unit != NULL ? unit : "");
      g_match_info_next (match, NULL);
    }
  return result;
}

char *
pawl_words_find_drill (const char *text)
{
  char *found;

  if (strchr (text, '(') == NULL)
    return NULL;
  found = find_drill (text, NUMBER_DRILL, "#");

  return found != NULL ? found : find_drill (text, LETTER_DRILL, "letter ");
}

/* ---- sentences ---- */

/* Does the word that ends with the full stop at @stop end a sentence? An abbreviation or a single letter does not. */
static gboolean
is_sentence_end (const char *text, const char *stop)
{
  static const char * const abbreviations[] = {
    "no", "nos", "e.g", "i.e", "etc", "approx", "fig", "figs", "p", "pp", "vs", "cf", "max", "min", "dia", "incl", "in", "ca", NULL,
  };
  const char *start = stop;
  g_autofree char *word = NULL;

  if (*stop != '.')
    return TRUE;
  while (start > text && !g_ascii_isspace (start[-1]) && strchr ("([\"'", start[-1]) == NULL)
    start--;
  word = g_ascii_strdown (start, stop - start);
  return strlen (word) > 1 && !g_strv_contains (abbreviations, word);
}

gboolean
pawl_words_are_two_sentences (const char *text)
{
  for (const char *at = text; *at != '\0'; at++)
    {
      const char *next = at + 1;

      if (strchr (".!?", *at) == NULL)
        continue;
      while (*next != '\0' && strchr (".!?)\"'", *next) != NULL)
        next++;
      if (!g_ascii_isspace (*next))
        continue;
      while (g_ascii_isspace (*next))
        next++;
      if (*next != '\0' && is_sentence_end (text, at))
        return TRUE;
    }
  return FALSE;
}

/* ---- wire and drills in metering passages ---- */

#define USE "\\b(?:with|us(?:e|ing)|pass|push|run|poke|insert|thread|clear|clean|probe)\\b"
#define FORBID "\\b(?:no|not|never|without|don't|do not|nor|neither|forbidden|instead of)\\b(?!\\.?\\s*\\d)"

const char *
pawl_words_ask_for_wire (const char *text)
{
  static const char * const tools[] = { "wire", "drill" };
  g_auto(GStrv) sentences = g_regex_split_simple ("(?<=[.!?;])\\s+(?=[A-Z])", text, 0, 0);

  for (char **sentence = sentences; *sentence != NULL; sentence++)
    {
      if (g_regex_match_simple (FORBID, *sentence, G_REGEX_CASELESS, 0))
        continue;
      for (gsize i = 0; i < G_N_ELEMENTS (tools); i++)
        {
          g_autofree char *pattern = g_strdup_printf (USE ".*\\b%ss?\\b(?!\\s+size)", tools[i]);

          if (g_regex_match_simple (pattern, *sentence, G_REGEX_CASELESS, 0))
            return tools[i];
        }
    }
  return NULL;
}

/* ---- dangers ---- */

const PawlTopicWords pawl_topic_words[] = {
  { "fuel", "\\b(?:fuel|petrol|gasoline)\\b" },
  { "solvent", "\\b(?:solvents?|thinners?|degreaser|acetone)\\b" },
  { "press", "\\bpress(?:es|ing)?\\b" },
  { "spring", "\\bsprings?\\b" },
  { "blasting", "\\b(?:bead-?)?blast(?:s|ed|ing)?\\b" },
  { "air", "\\b(?:compressed air|air ?line|blow[ -]?gun|blow(?: it| them)? (?:out|dry|through))\\b" },
  { NULL, NULL },
};

GRegex *
pawl_topic_words_compile (const PawlTopicWords *topic)
{
  return g_regex_new (topic->pattern, G_REGEX_CASELESS | G_REGEX_OPTIMIZE, 0, NULL);
}

char *
pawl_words_find_topic (const char *text, const GRegex *regex)
{
  g_autoptr(GMatchInfo) match = NULL;

  return g_regex_match (regex, text, 0, &match) ? g_match_info_fetch (match, 0) : NULL;
}
