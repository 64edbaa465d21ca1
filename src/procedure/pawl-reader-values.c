/* Attributes and words, from the tree into values. */
#include <errno.h>
#include <math.h>
#include <string.h>

#include "procedure/pawl-reader-private.h"

/* Ten years: longer than any job. */
#define LONGEST_SECONDS (G_GINT64_CONSTANT (10) * 366 * 24 * 3600)
/* Ten metres, and far past any figure's user units: what is larger is a slip of the pen. */
#define LARGEST_COORDINATE 1e5

/* Takes @text; runs of white space become one space, none at the ends. */
static char *
tidy (char *text)
{
  char *to = text;

  for (const char *from = text; *from != '\0'; from++)
    if (!g_ascii_isspace (*from))
      *to++ = *from;
    else if (to > text && to[-1] != ' ')
      *to++ = ' ';
  if (to > text && to[-1] == ' ')
    to--;
  *to = '\0';
  return text;
}

static void
keep_words (PawlReader *self, const char *words, const char *name, int line)
{
  PawlText *text;

  if (words == NULL || words[0] == '\0')
    return;
  if (strlen (words) > PAWL_READER_MAX_WORDS)
    {
      pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, line,
                      "the words of %s are over " G_STRINGIFY (PAWL_READER_MAX_WORDS) " bytes long; nobody reads that at the bench", name);
      return;
    }
  text = g_new0 (PawlText, 1);
  text->words = g_strdup (words);
  text->name = name;
  text->step = self->step;
  text->line = line;
  g_ptr_array_add (self->procedure->texts, text);
}

char *
pawl_reader_string (const xmlNode *node, const char *name, const char *fallback)
{
  char *value = pawl_xml_dup_attribute (node, name);

  if (value != NULL && tidy (value)[0] != '\0')
    return value;
  g_free (value);
  return g_strdup (fallback);
}

char *
pawl_reader_label (PawlReader *self, const xmlNode *node, const char *name, const char *fallback)
{
  char *value = pawl_reader_string (node, name, fallback);

  keep_words (self, value, name, pawl_xml_get_line (node));
  return value;
}

gboolean
pawl_reader_is_yes (const xmlNode *node, const char *name)
{
  g_autofree char *value = pawl_reader_string (node, name, "no");

  return strcmp (value, "yes") == 0;
}

guint
pawl_reader_count (const xmlNode *node, const char *name, guint fallback)
{
  g_autofree char *value = pawl_reader_string (node, name, NULL);

  return value != NULL ? (guint) g_ascii_strtoull (value, NULL, 10) : fallback;
}

char **
pawl_reader_list (const xmlNode *node, const char *name, const char *fallback)
{
  g_autofree char *value = pawl_xml_dup_attribute (node, name);

  if (value == NULL)
    value = g_strdup (fallback != NULL ? fallback : "");
  tidy (value);
  return value[0] != '\0' ? g_strsplit (value, " ", -1) : g_new0 (char *, 1);
}

char *
pawl_reader_dup_which (PawlReader *self, const xmlNode *node)
{
  return g_strdup (g_hash_table_lookup (self->which, node));
}

int
pawl_reader_choice (const xmlNode *node, const char *name, const char * const *words, int fallback)
{
  g_autofree char *value = pawl_reader_string (node, name, NULL);

  for (int i = 0; value != NULL && words[i] != NULL; i++)
    if (strcmp (value, words[i]) == 0)
      return i;
  return fallback;
}

/* ---- words ---- */

static gboolean
is_wanted (PawlReader *self, const xmlNode *node)
{
  xmlAttr *attribute = xmlHasNsProp (node, BAD_CAST "lang", XML_XML_NAMESPACE);
  g_autofree char *language = NULL;

  if (self->language == NULL || attribute == NULL)
    return FALSE;
  language = pawl_xml_dup_value (attribute);
  return g_ascii_strcasecmp (language, self->language) == 0;
}

static char *
dup_content (const xmlNode *node)
{
  xmlChar *content = xmlNodeGetContent (node);
  char *words = tidy (g_strdup ((const char *) content));

  xmlFree (content);
  return words;
}

char *
pawl_reader_words (PawlReader *self, const xmlNode *parent, const char *name, const char *fallback)
{
  const xmlNode *chosen = NULL;
  gboolean is_chosen_wanted = FALSE;
  char *words;

  for (xmlNode *node = pawl_xml_skip (parent->children); node != NULL && !is_chosen_wanted; node = pawl_xml_skip (node->next))
    if (pawl_xml_is (node, name) && (chosen == NULL || is_wanted (self, node)))
      {
        chosen = node;
        is_chosen_wanted = is_wanted (self, node);
      }
  if (chosen == NULL)
    return g_strdup (fallback);
  words = dup_content (chosen);
  keep_words (self, words, name, pawl_xml_get_line (chosen));
  return words;
}

char *
pawl_reader_prompt (PawlReader *self, const xmlNode *node)
{
  char *words;

  if (pawl_xml_skip (node->children) != NULL)
    return pawl_reader_words (self, node, "says", "");
  words = dup_content (node);
  keep_words (self, words, "says", pawl_xml_get_line (node));
  return words;
}

/* ---- quantities ---- */

gboolean
pawl_reader_refuse (PawlReader *self, const xmlNode *node, const char *name, const char *value, const char *why)
{
  g_autofree char *shown = pawl_xml_shorten (value);
  g_autofree char *which = pawl_reader_dup_which (self, node);

  return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_BAD_QUANTITY, pawl_xml_get_line (node), "<%s>%s%s%s has %s=\"%s\": %s",
                         node->name, which != NULL ? " (" : "", which != NULL ? which : "", which != NULL ? ")" : "", name, shown, why);
}

static gboolean
parse_quantity (PawlReader *self, const xmlNode *node, const char *name, const char *value, const PawlTyping *typing,
                PawlDimension dimension, PawlQuantity **quantity)
{
  g_autoptr(PawlQuantity) parsed = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *why = NULL;

  if (!(parsed = pawl_quantity_parse (value, typing, &error)))
    return pawl_reader_refuse (self, node, name, value, error->message);
  if (pawl_unit_get_dimension (pawl_quantity_get_unit (parsed)) != dimension)
    {
      why = g_strdup_printf ("this is %s; it should be %s",
                             pawl_dimension_get_phrase (pawl_unit_get_dimension (pawl_quantity_get_unit (parsed))),
                             pawl_dimension_get_phrase (dimension));
      return pawl_reader_refuse (self, node, name, value, why);
    }
  if (pawl_quantity_is_interval (parsed))
    return pawl_reader_refuse (self, node, name, value, "this is an interval; give one value");
  *quantity = g_steal_pointer (&parsed);
  return TRUE;
}

gboolean
pawl_reader_quantity (PawlReader *self, const xmlNode *node, const char *name, PawlDimension dimension, PawlQuantity **quantity)
{
  g_autofree char *value = pawl_reader_string (node, name, NULL);

  return value == NULL || parse_quantity (self, node, name, value, &(PawlTyping) { .decimal_mark = '.' }, dimension, quantity);
}

gboolean
pawl_reader_number (PawlReader *self, const xmlNode *node, const char *name, const char *unit_symbol, double *number)
{
  const PawlUnit *unit = pawl_unit_lookup (unit_symbol);
  PawlTyping typing = { .decimal_mark = '.', .default_unit = unit };
  g_autofree char *value = pawl_reader_string (node, name, NULL);
  g_autoptr(PawlQuantity) quantity = NULL;
  double result;

  if (value == NULL)
    return TRUE;
  if (!parse_quantity (self, node, name, value, &typing, pawl_unit_get_dimension (unit), &quantity))
    return FALSE;
  result = pawl_quantity_get_double (quantity, unit);
  if (!isfinite (result) || fabs (result) > LARGEST_COORDINATE)
    return pawl_reader_refuse (self, node, name, value, "this is far too large");
  *number = result;
  return TRUE;
}

/* Nearest whole second, a half up. */
static gboolean
round_seconds (PawlQuantity *quantity, gint64 *seconds)
{
  mpq_t low, high;
  mpz_t rounded;
  gboolean fits;

  mpq_inits (low, high, NULL);
  mpz_init (rounded);
  pawl_quantity_get_base (quantity, low, high);
  mpq_set_ui (high, 1, 2);
  mpq_add (low, low, high);
  mpz_fdiv_q (rounded, mpq_numref (low), mpq_denref (low));
  fits = mpz_sgn (rounded) >= 0 && mpz_cmp_si (rounded, LONGEST_SECONDS) <= 0;
  if (fits)
    *seconds = mpz_get_si (rounded);
  mpz_clear (rounded);
  mpq_clears (low, high, NULL);
  return fits;
}

gboolean
pawl_reader_seconds (PawlReader *self, const xmlNode *node, const char *name, gint64 *seconds)
{
  g_autofree char *value = pawl_xml_is (node, name) ? dup_content (node) : pawl_reader_string (node, name, NULL);
  g_autoptr(PawlQuantity) quantity = NULL;

  if (value == NULL)
    return TRUE;
  if (!parse_quantity (self, node, name, value, &(PawlTyping) { .decimal_mark = '.' }, PAWL_DIMENSION_TIME, &quantity))
    return FALSE;
  if (!round_seconds (quantity, seconds))
    return pawl_reader_refuse (self, node, name, value, "a time is from 0 s to ten years");
  return TRUE;
}

/* ---- lists of plain numbers ---- */

/* One finite number that is the whole of @text. */
static gboolean
parse_plain (const char *text, double *number)
{
  char *end;

  if (!g_ascii_isdigit (text[0]) && strchr ("+-.", text[0]) == NULL)
    return FALSE;
  errno = 0;
  *number = g_ascii_strtod (text, &end);
  return end != text && *end == '\0' && errno == 0 && isfinite (*number) && fabs (*number) <= LARGEST_COORDINATE;
}

gboolean
pawl_reader_numbers (PawlReader *self, const xmlNode *node, const char *name, double **numbers, guint *n_numbers)
{
  g_auto(GStrv) words = pawl_reader_list (node, name, NULL);
  guint n = g_strv_length (words);
  g_autofree double *parsed = g_new0 (double, n + 1);

  if (n > PAWL_READER_MAX_POINTS)
    return pawl_reader_refuse (self, node, name, words[0], "the list has over " G_STRINGIFY (PAWL_READER_MAX_POINTS) " numbers");
  for (guint i = 0; i < n; i++)
    if (!parse_plain (words[i], &parsed[i]))
      return pawl_reader_refuse (self, node, name, words[i], "this should be plain numbers with spaces between, like \"90 270\"");
  *numbers = g_steal_pointer (&parsed);
  *n_numbers = n;
  return TRUE;
}

static gboolean
parse_point (const char *word, PawlPoint *point)
{
  g_auto(GStrv) halves = g_strsplit (word, ",", 3);

  return g_strv_length (halves) == 2 && parse_plain (halves[0], &point->x) && parse_plain (halves[1], &point->y);
}

gboolean
pawl_reader_points (PawlReader *self, const xmlNode *node, const char *name, guint least, PawlPoint **points, guint *n_points)
{
  g_auto(GStrv) words = pawl_reader_list (node, name, NULL);
  guint n = g_strv_length (words);
  g_autofree PawlPoint *parsed = g_new0 (PawlPoint, n + 1);
  g_autofree char *why = NULL;

  if (n > PAWL_READER_MAX_POINTS)
    return pawl_reader_refuse (self, node, name, words[0], "the list has over " G_STRINGIFY (PAWL_READER_MAX_POINTS) " points");
  for (guint i = 0; i < n; i++)
    if (!parse_point (words[i], &parsed[i]))
      return pawl_reader_refuse (self, node, name, words[i], "this should be pairs x,y with spaces between, like \"0,4.5 12,4.5\"");
  if (n < least)
    {
      why = g_strdup_printf ("at least %u points are needed", least);
      return pawl_reader_refuse (self, node, name, n > 0 ? words[0] : "", why);
    }
  self->n_points += n;
  if (self->n_points > PAWL_READER_MAX_ALL_POINTS)
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, pawl_xml_get_line (node),
                           "the outlines have over " G_STRINGIFY (PAWL_READER_MAX_ALL_POINTS) " points in all; give each only those that tell its ways apart");
  *points = g_steal_pointer (&parsed);
  *n_points = n;
  return TRUE;
}
