/*
 * Saying in words where a file leaves the schema. libxml2 judges well but speaks of interleaves and invalid sequences; so this walks
 * file and schema together and stops at the first thing that has no place. The words are drawn from the schema itself: there
 * is no second list of elements and attributes to keep.
 *
 * It understands what procedure.rng uses: sequences, optional, zeroOrMore, oneOrMore, choice, named patterns, values and lists.
 */
#include <string.h>

#include "procedure/pawl-xml-private.h"

#define NAMESPACE "urn:pawl:procedure:1"

/* A child element that may stand at a place of a sequence. */
typedef struct {
  const xmlNode *pattern;
  const char    *name;     /* owned by the grammar's tree, see get_name */
  guint          position; /* all of one choice share a position */
  gboolean       is_required, is_many;
  guint          count;
} Place;

typedef struct {
  const xmlNode *pattern;
  const char    *name;     /* likewise */
  gboolean       is_required;
} Attribute;

/* What may stand in one element. */
typedef struct {
  GArray  *places;     /* (element-type Place) */
  GArray  *attributes; /* (element-type Attribute) */
  gboolean has_text;
  guint    position;
  GString *one_of;     /* elements of which one must stand here, for the message; empty when none */
} Content;

typedef struct {
  xmlDoc  *grammar;
  GString *words;
  int      line;
} Explainer;

typedef struct { gboolean is_required, is_many, is_fixed; } Mode;

static void collect (Explainer *self, const xmlNode *patterns, Mode mode, Content *content);
static gboolean explain_element (Explainer *self, xmlNode *element, const xmlNode *pattern);

static void
content_init (Content *self)
{
  self->places = g_array_new (FALSE, FALSE, sizeof (Place));
  self->attributes = g_array_new (FALSE, FALSE, sizeof (Attribute));
  self->has_text = FALSE;
  self->position = 0;
  self->one_of = g_string_new (NULL);
}

static void
content_clear (Content *self)
{
  g_array_unref (self->places);
  g_array_unref (self->attributes);
  g_string_free (self->one_of, TRUE);
}

/* Lent by the grammar's tree. */
static const char *
get_name (const xmlNode *pattern)
{
  xmlAttr *name = xmlHasProp (pattern, BAD_CAST "name");

  return name != NULL && name->children != NULL ? (const char *) name->children->content : "";
}

static gboolean
say (Explainer *self, const xmlNode *node, const char *format, ...) G_GNUC_PRINTF (3, 4);

static gboolean
say (Explainer *self, const xmlNode *node, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  g_string_vprintf (self->words, format, args);
  va_end (args);
  self->line = pawl_xml_get_line (node);
  return TRUE;
}

/* ---- what may stand where ---- */

static const xmlNode *
find_define (Explainer *self, const char *name)
{
  for (xmlNode *node = pawl_xml_skip (xmlDocGetRootElement (self->grammar)->children); node != NULL; node = pawl_xml_skip (node->next))
    if (pawl_xml_is (node, "define") && strcmp (get_name (node), name) == 0)
      return node;
  return NULL;
}

static void
collect_choice (Explainer *self, const xmlNode *choice, Mode mode, Content *content)
{
  guint first = content->places->len;
  gboolean had_text = content->has_text;
  Mode inner = { FALSE, mode.is_many, TRUE };

  collect (self, choice->children, inner, content);
  if (!mode.is_fixed)
    content->position++;
  if (!mode.is_required || (content->has_text && !had_text))
    return;
  for (guint i = first; i < content->places->len; i++)
    g_string_append_printf (content->one_of, "%s<%s>", i == first ? "" : " or ", g_array_index (content->places, Place, i).name);
}

static void
collect_one (Explainer *self, const xmlNode *pattern, Mode mode, Content *content)
{
  if (pawl_xml_is (pattern, "element"))
    {
      Place place = { pattern, get_name (pattern), content->position, mode.is_required, mode.is_many, 0 };

      g_array_append_val (content->places, place);
      if (!mode.is_fixed)
        content->position++;
    }
  else if (pawl_xml_is (pattern, "attribute"))
    {
      Attribute attribute = { pattern, get_name (pattern), mode.is_required };

      g_array_append_val (content->attributes, attribute);
    }
  else if (pawl_xml_is (pattern, "ref"))
    {
      const xmlNode *define = find_define (self, get_name (pattern));

      if (define != NULL)
        collect (self, define->children, mode, content);
    }
  else if (pawl_xml_is (pattern, "optional"))
    collect (self, pattern->children, (Mode) { FALSE, mode.is_many, mode.is_fixed }, content);
  else if (pawl_xml_is (pattern, "zeroOrMore"))
    collect (self, pattern->children, (Mode) { FALSE, TRUE, mode.is_fixed }, content);
  else if (pawl_xml_is (pattern, "oneOrMore"))
    collect (self, pattern->children, (Mode) { mode.is_required, TRUE, mode.is_fixed }, content);
  else if (pawl_xml_is (pattern, "choice"))
    collect_choice (self, pattern, mode, content);
  else if (pawl_xml_is (pattern, "text"))
    content->has_text = TRUE;
}

static void
collect (Explainer *self, const xmlNode *patterns, Mode mode, Content *content)
{
  for (const xmlNode *node = pawl_xml_skip ((xmlNode *) patterns); node != NULL; node = pawl_xml_skip (node->next))
    collect_one (self, node, mode, content);
}

/* ---- values of attributes ---- */

static gboolean
is_blank (const char *text)
{
  return text[strspn (text, " \t\r\n")] == '\0';
}

static gboolean
is_count (const char *text)
{
  gsize n_digits = strspn (text, "0123456789");
  gint64 value = n_digits > 0 && n_digits <= 6 && text[n_digits] == '\0' ? g_ascii_strtoll (text, NULL, 10) : 0;

  return value >= 1 && value <= 10000;
}

static gboolean
is_date (const char *text)
{
  int year, month, day, length = 0;

  return sscanf (text, "%4d-%2d-%2d%n", &year, &month, &day, &length) == 3 && text[length] == '\0' && length == 10
         && g_date_valid_dmy (day, month, year);
}

static gboolean
is_language (const char *text)
{
  return g_regex_match_simple ("^[A-Za-z]{1,8}(-[A-Za-z0-9]{1,8})*$", text, 0, 0);
}

/* (nullable) (transfer none): the text of <param name="maxLength">. */
static const char *
find_max_length (const xmlNode *data)
{
  for (xmlNode *param = pawl_xml_skip (data->children); param != NULL; param = pawl_xml_skip (param->next))
    if (strcmp (get_name (param), "maxLength") == 0)
      return (const char *) param->children->content;
  return NULL;
}

static gboolean
data_takes (const xmlNode *data, const char *value)
{
  g_autofree char *type = pawl_xml_dup_attribute (data, "type");
  g_autofree char *trimmed = g_strstrip (g_strdup (value));
  const char *max_length = find_max_length (data);

  if (max_length != NULL && (guint64) g_utf8_strlen (value, -1) > g_ascii_strtoull (max_length, NULL, 10))
    return FALSE;
  if (g_strcmp0 (type, "NCName") == 0)
    return xmlValidateNCName (BAD_CAST trimmed, 0) == 0;
  if (g_strcmp0 (type, "string") == 0)
    return !is_blank (value);
  if (g_strcmp0 (type, "token") == 0)
    return FALSE; /* an id with a placeholder: none is left when the schema is asked */
  if (g_strcmp0 (type, "positiveInteger") == 0)
    return is_count (trimmed);
  if (g_strcmp0 (type, "date") == 0)
    return is_date (trimmed);
  if (g_strcmp0 (type, "language") == 0)
    return is_language (trimmed);
  return TRUE;
}

static gboolean takes (Explainer *self, const xmlNode *patterns, const char *value);

static gboolean
list_takes (Explainer *self, const xmlNode *list, const char *value)
{
  const xmlNode *inner = pawl_xml_skip (list->children);
  g_auto(GStrv) words = g_strsplit_set (value, " \t\r\n", -1);
  guint n = 0;

  for (guint i = 0; words[i] != NULL; i++)
    if (words[i][0] != '\0' && (n++, !takes (self, inner->children, words[i])))
      return FALSE;
  return n > 0 || pawl_xml_is (inner, "zeroOrMore");
}

/* Would any of @patterns, as alternatives, take @value? */
static gboolean
takes (Explainer *self, const xmlNode *patterns, const char *value)
{
  g_autofree char *trimmed = g_strstrip (g_strdup (value));

  for (const xmlNode *node = pawl_xml_skip ((xmlNode *) patterns); node != NULL; node = pawl_xml_skip (node->next))
    {
      gboolean is_taken = FALSE;

      if (pawl_xml_is (node, "text"))
        is_taken = TRUE;
      else if (pawl_xml_is (node, "value"))
        is_taken = strcmp (trimmed, node->children != NULL ? (const char *) node->children->content : "") == 0;
      else if (pawl_xml_is (node, "data"))
        is_taken = data_takes (node, value);
      else if (pawl_xml_is (node, "list"))
        is_taken = list_takes (self, node, value);
      else if (pawl_xml_is (node, "choice"))
        is_taken = takes (self, node->children, value);
      else if (pawl_xml_is (node, "ref"))
        {
          const xmlNode *define = find_define (self, get_name (node));

          is_taken = define == NULL || takes (self, define->children, value);
        }
      if (is_taken)
        return TRUE;
    }
  return FALSE;
}

/* (transfer full) */
static char *
describe_data (const xmlNode *data)
{
  static const struct { const char *type, *words; } descriptions[] = {
    { "positiveInteger", "a whole number from 1 to 10000" },
    { "date", "a date like 2026-11-20" },
    { "language", "a language code like en or pt-BR" },
  };
  g_autofree char *type = pawl_xml_dup_attribute (data, "type");
  const char *max_length = find_max_length (data);

  for (gsize i = 0; i < G_N_ELEMENTS (descriptions); i++)
    if (g_strcmp0 (type, descriptions[i].type) == 0)
      return g_strdup (descriptions[i].words);
  if (g_strcmp0 (type, "NCName") == 0)
    return g_strdup_printf ("an id (a letter first, then letters, digits, - _ or ., at most %s)", max_length);
  return g_strdup_printf ("some words, at most %s characters", max_length);
}

/* An id with a placeholder, for an editor only: when the schema is asked, every <each> is written out. */
static gboolean
is_written_once (const xmlNode *data)
{
  g_autofree char *type = pawl_xml_is (data, "data") ? pawl_xml_dup_attribute (data, "type") : NULL;

  return g_strcmp0 (type, "token") == 0;
}

/* Appends what @patterns would take, parted by "or". */
static void
describe (Explainer *self, const xmlNode *patterns, GPtrArray *words)
{
  for (const xmlNode *node = pawl_xml_skip ((xmlNode *) patterns); node != NULL; node = pawl_xml_skip (node->next))
    {
      const xmlNode *define = pawl_xml_is (node, "ref") ? find_define (self, get_name (node)) : NULL;

      if (pawl_xml_is (node, "value") && node->children != NULL)
        g_ptr_array_add (words, g_strdup_printf ("\"%s\"", (const char *) node->children->content));
      else if (is_written_once (node))
        continue;
      else if (pawl_xml_is (node, "data"))
        g_ptr_array_add (words, describe_data (node));
      else if (define != NULL)
        describe (self, define->children, words);
      else if (pawl_xml_is (node, "choice") || pawl_xml_is (node, "oneOrMore") || pawl_xml_is (node, "zeroOrMore"))
        describe (self, node->children, words);
      else if (pawl_xml_is (node, "list"))
        {
          describe (self, node->children, words);
          g_ptr_array_add (words, g_strdup ("several of these with spaces between"));
        }
    }
}

static char *
dup_description (Explainer *self, const xmlNode *pattern)
{
  g_autoptr(GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  GString *text = g_string_new (NULL);

  describe (self, pattern->children, words);
  for (guint i = 0; i < words->len; i++)
    g_string_append_printf (text, "%s%s", i == 0 ? "" : i + 1 == words->len ? " or " : ", ", (char *) g_ptr_array_index (words, i));
  return g_string_free (text, FALSE);
}

/* ---- attributes ---- */

/* (transfer full): "; did you mean …?", or what there is to choose from. */
static char *
dup_hint (const char *typed, GPtrArray *names)
{
  const char *near_one;
  g_autofree char *all = NULL;

  g_ptr_array_add (names, NULL);
  near_one = pawl_suggest (typed, (const char * const *) names->pdata);
  if (near_one != NULL)
    return g_strdup_printf ("did you mean %s?", near_one);
  all = g_strjoinv (", ", (char **) names->pdata);
  return names->len > 1 ? g_strdup_printf ("it takes %s", all) : g_strdup ("it takes none");
}

static char *
dup_attribute_name (const xmlAttr *attribute)
{
  if (attribute->ns != NULL && attribute->ns->prefix != NULL)
    return g_strdup_printf ("%s:%s", (const char *) attribute->ns->prefix, (const char *) attribute->name);
  return g_strdup ((const char *) attribute->name);
}

static const Attribute *
find_attribute (const Content *content, const char *name)
{
  for (guint i = 0; i < content->attributes->len; i++)
    if (strcmp (g_array_index (content->attributes, Attribute, i).name, name) == 0)
      return &g_array_index (content->attributes, Attribute, i);
  return NULL;
}

static gboolean
explain_attribute (Explainer *self, xmlNode *element, const xmlAttr *given, const Content *content)
{
  g_autofree char *name = dup_attribute_name (given);
  g_autofree char *value = pawl_xml_dup_value (given);
  const Attribute *attribute = find_attribute (content, name);
  g_autoptr(GPtrArray) names = NULL;
  g_autofree char *hint = NULL;
  g_autofree char *shown = NULL;

  if (attribute == NULL)
    {
      names = g_ptr_array_new ();
      for (guint i = 0; i < content->attributes->len; i++)
        g_ptr_array_add (names, (gpointer) g_array_index (content->attributes, Attribute, i).name);
      hint = dup_hint (name, names);
      return say (self, element, "unknown attribute \"%s\" on <%s>; %s", name, element->name, hint);
    }
  if (pawl_xml_skip (attribute->pattern->children) == NULL || takes (self, attribute->pattern->children, value))
    return FALSE;
  hint = dup_description (self, attribute->pattern);
  shown = pawl_xml_shorten (value);
  return say (self, element, "<%s> has %s=\"%s\"; it should be %s", element->name, name, shown, hint);
}

static gboolean
explain_attributes (Explainer *self, xmlNode *element, const Content *content)
{
  for (const xmlAttr *given = element->properties; given != NULL; given = given->next)
    if (explain_attribute (self, element, given, content))
      return TRUE;
  for (guint i = 0; i < content->attributes->len; i++)
    {
      const Attribute *attribute = &g_array_index (content->attributes, Attribute, i);
      gboolean is_language = strcmp (attribute->name, "xml:lang") == 0;
      gboolean is_given = is_language ? xmlHasNsProp (element, BAD_CAST "lang", XML_XML_NAMESPACE) != NULL
                                      : xmlHasNsProp (element, BAD_CAST attribute->name, NULL) != NULL;
      g_autofree char *description = NULL;

      if (is_given || !attribute->is_required)
        continue;
      if (is_language && element->parent != NULL && element->parent->type == XML_ELEMENT_NODE)
        return say (self, element, "<%s> is given a second time; keep one, or give this one the xml:lang of its language", element->name);
      description = dup_description (self, attribute->pattern);
      return say (self, element, "<%s> lacks the attribute %s; give it %s", element->name, attribute->name,
                  description[0] != '\0' ? description : "a value");
    }
  return FALSE;
}

/* ---- children ---- */

/* Lent by the tree: the first element before @child whose place is after @position; @child belongs before that one. */
static const char *
find_overtaken (const xmlNode *child, const Content *content, guint position)
{
  for (xmlNode *node = pawl_xml_skip (child->parent->children); node != child; node = pawl_xml_skip (node->next))
    for (guint i = 0; i < content->places->len; i++)
      {
        const Place *place = &g_array_index (content->places, Place, i);

        if (place->position > position && strcmp (place->name, (const char *) node->name) == 0)
          return place->name;
      }
  return (const char *) child->parent->name;
}

static gboolean
explain_misplaced (Explainer *self, xmlNode *child, const Content *content)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new ();
  g_autofree char *hint = NULL;

  for (guint i = 0; i < content->places->len; i++)
    {
      const Place *place = &g_array_index (content->places, Place, i);

      if (strcmp (place->name, (const char *) child->name) != 0)
        {
          if (!g_ptr_array_find_with_equal_func (names, place->name, g_str_equal, NULL))
            g_ptr_array_add (names, (gpointer) place->name);
          continue;
        }
      if (place->count > 0)
        return say (self, child, "<%s> is given a second time in <%s>; keep one", child->name, child->parent->name);
      return say (self, child, "<%s> stands too late in <%s>; move it before <%s>", child->name, child->parent->name,
                  find_overtaken (child, content, place->position));
    }
  hint = dup_hint ((const char *) child->name, names);
  return say (self, child, "unknown element <%s> in <%s>; %s", child->name, child->parent->name, hint);
}

static Place *
find_place (Content *content, const xmlNode *child, guint position)
{
  for (guint i = 0; i < content->places->len; i++)
    {
      Place *place = &g_array_index (content->places, Place, i);

      if (place->position >= position && strcmp (place->name, (const char *) child->name) == 0 && (place->is_many || place->count == 0))
        return place;
    }
  return NULL;
}

static gboolean
is_our_namespace (const xmlNode *element)
{
  return element->ns != NULL && strcmp ((const char *) element->ns->href, NAMESPACE) == 0;
}

static gboolean
explain_children (Explainer *self, xmlNode *element, Content *content)
{
  guint position = 0;

  for (xmlNode *child = pawl_xml_skip (element->children); child != NULL; child = pawl_xml_skip (child->next))
    {
      Place *place = find_place (content, child, position);

      if (!is_our_namespace (child))
        return say (self, child, "<%s> belongs to another namespace; a procedure holds only " NAMESPACE, child->name);
      if (place == NULL)
        return explain_misplaced (self, child, content);
      position = place->position;
      place->count++;
      if (explain_element (self, child, place->pattern))
        return TRUE;
    }
  return FALSE;
}

static gboolean
explain_missing (Explainer *self, xmlNode *element, const Content *content)
{
  for (guint i = 0; i < content->places->len; i++)
    {
      const Place *place = &g_array_index (content->places, Place, i);

      if (place->is_required && place->count == 0)
        return say (self, element, "<%s> lacks <%s>; add it", element->name, place->name);
    }
  if (content->one_of->len > 0 && pawl_xml_skip (element->children) == NULL)
    return say (self, element, "<%s> is empty; put %s in it", element->name, content->one_of->str);
  return FALSE;
}

static gboolean
explain_text (Explainer *self, xmlNode *element, const Content *content)
{
  gboolean has_elements = pawl_xml_skip (element->children) != NULL;

  for (const xmlNode *node = element->children; node != NULL; node = node->next)
    {
      g_autofree char *words = NULL;

      if ((node->type != XML_TEXT_NODE && node->type != XML_CDATA_SECTION_NODE) || is_blank ((const char *) node->content))
        continue;
      if (content->has_text && !has_elements)
        continue;
      words = pawl_xml_shorten ((const char *) node->content);
      if (content->has_text)
        return say (self, element, "<%s> has words of its own, \"%s\", and elements as well; keep one or the other", element->name, words);
      return say (self, element, "words stand straight in <%s>, \"%s\"; put them in one of its elements, or make them a comment",
                  element->name, words);
    }
  return FALSE;
}

static gboolean
explain_element (Explainer *self, xmlNode *element, const xmlNode *pattern)
{
  Content content;
  gboolean is_said;

  content_init (&content);
  collect (self, pattern->children, (Mode) { TRUE, FALSE, FALSE }, &content);
  is_said = explain_attributes (self, element, &content)
            || explain_children (self, element, &content)
            || explain_missing (self, element, &content)
            || explain_text (self, element, &content);
  content_clear (&content);
  return is_said;
}

static gboolean
explain_root (Explainer *self, xmlNode *root)
{
  const xmlNode *start = pawl_xml_skip (xmlDocGetRootElement (self->grammar)->children);
  const xmlNode *pattern = pawl_xml_skip (start->children);

  if (!pawl_xml_is (root, get_name (pattern)))
    return say (self, root, "the file is a <%s>; a procedure begins with <procedure xmlns=\"" NAMESPACE "\" …>", root->name);
  if (!is_our_namespace (root))
    return say (self, root, "<procedure> is not in the namespace of procedures; write xmlns=\"" NAMESPACE "\"");
  return explain_element (self, root, pattern);
}

char *
pawl_schema_explain (xmlDoc *grammar, xmlDoc *doc, int *line)
{
  Explainer self = { grammar, g_string_new (NULL), 0 };
  gboolean is_said = explain_root (&self, xmlDocGetRootElement (doc));

  *line = self.line;
  return g_string_free (self.words, !is_said);
}
