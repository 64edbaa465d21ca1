/*
 * Parsing under guard. The handlers below see each DOCTYPE and each start tag before the tree does, and stop the parser at the
 * first thing that a procedure may not hold. libxml2 prints nothing: its messages arrive here as structs.
 */
#include <string.h>

#include <libxml/parser.h>
#include <libxml/parserInternals.h>
#include <libxml/SAX2.h>

#include "procedure/pawl-xml-private.h"

#define XINCLUDE_2001 "http://www.w3.org/2001/XInclude"
#define XINCLUDE_2003 "http://www.w3.org/2003/XInclude"

typedef struct {
  PawlFault *fault;
  guint      n_elements;
  guint      depth;
} Guard;

gboolean
pawl_fault_set (PawlFault *fault, PawlProcedureError code, int line, const char *format, ...)
{
  va_list args;

  if (fault->is_set)
    return FALSE;
  va_start (args, format);
  fault->message = g_strdup_vprintf (format, args);
  va_end (args);
  fault->is_set = TRUE;
  fault->code = code;
  fault->line = line;
  return FALSE;
}

void
pawl_fault_clear (PawlFault *fault)
{
  g_free (fault->message);
  *fault = (PawlFault) { 0 };
}

/* ---- lines ---- */

/*
 * The parser stands behind the attributes when it reports a start tag. Walk back to its "<": a well-formed attribute value holds
 * none, and the parser keeps the whole tag in its buffer until then.
 */
static int
find_tag_line (xmlParserCtxt *parser)
{
  int line = parser->input->line;

  for (const xmlChar *at = parser->input->cur; at > parser->input->base && *at != '<'; )
    if (*--at == '\n')
      line--;
  return MAX (line, 1);
}

int
pawl_xml_get_line (const xmlNode *node)
{
  if (node->_private != NULL)
    return GPOINTER_TO_INT (node->_private);
  return (int) xmlGetLineNo ((xmlNode *) node);
}

gboolean
pawl_xml_is (const xmlNode *node, const char *name)
{
  return node->type == XML_ELEMENT_NODE && strcmp ((const char *) node->name, name) == 0;
}

xmlNode *
pawl_xml_skip (xmlNode *node)
{
  while (node != NULL && node->type != XML_ELEMENT_NODE)
    node = node->next;
  return node;
}

/* ---- attributes ---- */

char *
pawl_xml_dup_value (const xmlAttr *attribute)
{
  xmlChar *value = xmlNodeListGetString (attribute->doc, attribute->children, 1);
  char *copy = g_strdup (value != NULL ? (const char *) value : "");

  xmlFree (value);
  return copy;
}

char *
pawl_xml_dup_attribute (const xmlNode *element, const char *name)
{
  xmlAttr *attribute = xmlHasNsProp (element, BAD_CAST name, NULL);

  return attribute != NULL ? pawl_xml_dup_value (attribute) : NULL;
}

char *
pawl_xml_shorten (const char *text)
{
  enum { LONGEST = 60 };
  g_autofree char *line = g_strstrip (g_strdelimit (g_strdup (text), "\t\r\n", ' '));
  g_autofree char *start = NULL;

  if (g_utf8_strlen (line, -1) <= LONGEST)
    return g_steal_pointer (&line);
  start = g_utf8_substring (line, 0, LONGEST);
  return g_strconcat (start, "…", NULL);
}

/* ---- guarding handlers ---- */

static void
refuse (xmlParserCtxt *parser, int line, const char *message)
{
  Guard *guard = parser->_private;

  pawl_fault_set (guard->fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, line, "%s", message);
  xmlStopParser (parser);
}

static void
doctype_cb (void *user_data, const xmlChar *name G_GNUC_UNUSED, const xmlChar *external_id G_GNUC_UNUSED,
            const xmlChar *system_id G_GNUC_UNUSED)
{
  xmlParserCtxt *parser = user_data;

  refuse (parser, parser->input->line,
          "a procedure may not have a DOCTYPE, since entities could read other files or fill the memory; take it out and write what it stood for");
}

static void
start_element_cb (void *user_data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri, int n_namespaces,
                  const xmlChar **namespaces, int n_attributes, int n_defaulted, const xmlChar **attributes)
{
  xmlParserCtxt *parser = user_data;
  Guard *guard = parser->_private;
  int line = find_tag_line (parser);

  if (uri != NULL && (strcmp ((const char *) uri, XINCLUDE_2001) == 0 || strcmp ((const char *) uri, XINCLUDE_2003) == 0))
    {
      refuse (parser, line, "a procedure may not include other files (XInclude); write their content here");
      return;
    }
  if (++guard->depth > PAWL_XML_MAX_DEPTH)
    {
      refuse (parser, line, "elements stand more than " G_STRINGIFY (PAWL_XML_MAX_DEPTH) " deep; a procedure needs six or seven");
      return;
    }
  if (++guard->n_elements > PAWL_XML_MAX_ELEMENTS)
    {
      refuse (parser, line, "more than " G_STRINGIFY (PAWL_XML_MAX_ELEMENTS) " elements; split the work into several procedures");
      return;
    }

  xmlSAX2StartElementNs (user_data, name, prefix, uri, n_namespaces, namespaces, n_attributes, n_defaulted, attributes);
  if (parser->node != NULL)
    parser->node->_private = GINT_TO_POINTER (line);
}

static void
end_element_cb (void *user_data, const xmlChar *name, const xmlChar *prefix, const xmlChar *uri)
{
  xmlParserCtxt *parser = user_data;
  Guard *guard = parser->_private;

  guard->depth--;
  xmlSAX2EndElementNs (user_data, name, prefix, uri);
}

/* ---- messages ---- */

/* What to do about the faults that an author makes most; the rest say what libxml2 says. */
static const struct {
  int         code;
  const char *advice;
} advices[] = {
  { XML_ERR_TAG_NAME_MISMATCH, "close each element before the one that it stands in" },
  { XML_ERR_TAG_NOT_FINISHED, "close it with its end tag" },
  { XML_ERR_DOCUMENT_END, "nothing may follow </procedure>" },
  { XML_ERR_DOCUMENT_EMPTY, "a procedure begins with <procedure xmlns=\"urn:pawl:procedure:1\" …>" },
  { XML_ERR_UNDECLARED_ENTITY, "only &amp; &lt; &gt; &quot; and &apos; are known; write other characters themselves" },
  { XML_ERR_NAME_REQUIRED, "write & as &amp; and < as &lt;" },
  { XML_ERR_ENTITYREF_SEMICOL_MISSING, "write & as &amp;" },
  { XML_ERR_LT_IN_ATTRIBUTE, "write < as &lt;, or close the quotation mark before it" },
  { XML_ERR_ATTRIBUTE_NOT_STARTED, "put the value in quotation marks" },
  { XML_ERR_ATTRIBUTE_NOT_FINISHED, "close the quotation mark" },
  { XML_ERR_ATTRIBUTE_REDEFINED, "give each attribute once" },
  { XML_ERR_ATTRIBUTE_WITHOUT_VALUE, "write name=\"value\"" },
  { XML_ERR_SPACE_REQUIRED, "put a space between attributes" },
  { XML_ERR_GT_REQUIRED, "end the tag with >" },
  { XML_ERR_HYPHEN_IN_COMMENT, "a comment may not hold two hyphens in a row" },
  { XML_ERR_COMMENT_NOT_FINISHED, "end the comment with two hyphens and >" },
  { XML_ERR_INVALID_CHAR, "take the control character out" },
};

/* (transfer full): a message of libxml2 without the name of its function, on one line, to go on within a sentence. */
static char *
dup_words (const char *message)
{
  const char *colon = strstr (message, ": ");
  char *words;

  if (g_str_has_prefix (message, "xml") && colon != NULL)
    message = colon + 2;
  words = g_strchomp (g_strdelimit (g_strdup (message), "\n", ' '));
  if (g_ascii_isupper (words[0]) && g_ascii_islower (words[1]))
    words[0] = g_ascii_tolower (words[0]);
  return words;
}

static void
parse_error_cb (void *user_data, xmlErrorPtr problem)
{
  xmlParserCtxt *parser = user_data;
  Guard *guard = parser->_private;
  g_autofree char *words = NULL;
  const char *advice = "mend that place and check again";

  if (problem->level < XML_ERR_ERROR || problem->code == XML_ERR_USER_STOP)
    return;
  words = dup_words (problem->message != NULL ? problem->message : "the file can't be read");
  for (gsize i = 0; i < G_N_ELEMENTS (advices); i++)
    if (advices[i].code == problem->code)
      advice = advices[i].advice;
  pawl_fault_set (guard->fault, PAWL_PROCEDURE_ERROR_NOT_XML, MAX (problem->line, 1), "not well-formed, %s; %s", words, advice);
}

static int
count_lines (const char *data, gsize size)
{
  int n = 1;

  for (gsize i = 0; i < size; i++)
    n += data[i] == '\n';
  return n;
}

static gboolean
check_bytes (const char *data, gsize size, PawlFault *fault)
{
  const char *end;

  if (size > PAWL_PROCEDURE_MAX_BYTES)
    return pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, 1, PAWL_XML_TOO_LARGE);
  if (size == 0)
    return pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_NOT_XML, 1,
                           "the file is empty; a procedure begins with <procedure xmlns=\"urn:pawl:procedure:1\" …>");
  if (!g_utf8_validate (data, size, &end))
    return pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_NOT_XML, count_lines (data, end - data),
                           "byte 0x%02X is not UTF-8; save the file in UTF-8", (unsigned char) *end);
  return TRUE;
}

xmlDoc *
pawl_xml_parse (GBytes *bytes, PawlFault *fault)
{
  gsize size;
  const char *data = g_bytes_get_data (bytes, &size);
  Guard guard = { .fault = fault };
  xmlParserCtxt *parser;
  g_autoptr(xmlDoc) doc = NULL;

  if (!check_bytes (data, size, fault))
    return NULL;

  parser = xmlNewParserCtxt ();
  parser->_private = &guard;
  parser->sax->internalSubset = doctype_cb;
  parser->sax->startElementNs = start_element_cb;
  parser->sax->endElementNs = end_element_cb;
  parser->sax->serror = parse_error_cb;
  /* The bytes are UTF-8, whatever they declare. No option that loads, substitutes or recovers anything. */
  doc = xmlCtxtReadMemory (parser, data, (int) size, NULL, "UTF-8", XML_PARSE_NONET);
  xmlFreeParserCtxt (parser);

  if (!fault->is_set && (doc == NULL || xmlDocGetRootElement (doc) == NULL))
    pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_NOT_XML, 1, "no element was found; a procedure begins with <procedure xmlns=\"urn:pawl:procedure:1\" …>");
  return fault->is_set ? NULL : g_steal_pointer (&doc);
}
