/* The schema as the judge: libxml2 says whether a file follows it, pawl-schema-explain.c says in words where it does not. */
#include <libxml/parser.h>
#include <libxml/relaxng.h>

#include "procedure/pawl-xml-private.h"
#include "pawl-procedure-resources.h"

#define SCHEMA_PATH "/pawl/procedure/procedure.rng"

G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlRelaxNG, xmlRelaxNGFree)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlRelaxNGParserCtxt, xmlRelaxNGFreeParserCtxt)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlRelaxNGValidCtxt, xmlRelaxNGFreeValidCtxt)

/* The schema is ours: a fault in it is a mistake of the build. */
static void
schema_error_cb (void *user_data G_GNUC_UNUSED, xmlErrorPtr problem)
{
  g_error ("procedure.rng:%d: %s", problem->line, problem->message);
}

/* (transfer full) */
static xmlDoc *
load_grammar (void)
{
  GResource *resource = pawl_procedure_get_resource ();
  g_autoptr(GBytes) bytes = g_resource_lookup_data (resource, SCHEMA_PATH, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  gsize size;
  const char *data;
  xmlDoc *grammar;

  g_assert (bytes != NULL);
  data = g_bytes_get_data (bytes, &size);
  grammar = xmlReadMemory (data, (int) size, "procedure.rng", NULL, XML_PARSE_NONET);
  g_assert (grammar != NULL);
  return grammar;
}

static gboolean
is_optional_attribute (xmlNode *node)
{
  xmlNode *inside = pawl_xml_is (node, "optional") ? xmlFirstElementChild (node) : NULL;

  return inside != NULL && pawl_xml_is (inside, "attribute") && xmlNextElementSibling (inside) == NULL;
}

/* Puts the optional attributes among the children of @pattern, and so on below, into an interleave. As attributes have no order it means the
 * same; but of each optional pattern in a sequence libxml2 goes on with both ways, present and left out, so that one reading with twelve of them
 * is judged 4,096 times, while in an interleave it goes on with the way that leaves fewer attributes unexplained: a few milliseconds, not 1.3 s,
 * for a procedure of 700 lines. An interleave of one thing libxml2 takes for a mistake. */
static void
interleave_optional_attributes (xmlNode *pattern)
{
  xmlNode *together = NULL, *next;
  guint n_optional = 0;

  for (xmlNode *node = xmlFirstElementChild (pattern); node != NULL; node = xmlNextElementSibling (node))
    {
      interleave_optional_attributes (node);
      n_optional += is_optional_attribute (node);
    }
  if (n_optional < 2)
    return;

  for (xmlNode *node = xmlFirstElementChild (pattern); node != NULL; node = next)
    {
      next = xmlNextElementSibling (node);
      if (!is_optional_attribute (node))
        continue;
      if (together == NULL)
        together = xmlAddPrevSibling (node, xmlNewDocNode (node->doc, node->ns, BAD_CAST "interleave", NULL));
      xmlUnlinkNode (node);
      xmlAddChild (together, node);
    }
}

/* libxml2 fills tables of its own the first time; two threads may not do that at once. */
static xmlRelaxNG *
compile_grammar (void)
{
  static GMutex first_time;
  g_autoptr(GMutexLocker) locker = g_mutex_locker_new (&first_time);
  g_autoptr(xmlDoc) grammar = load_grammar ();
  g_autoptr(xmlRelaxNGParserCtxt) parser = NULL;

  interleave_optional_attributes (xmlDocGetRootElement (grammar));
  parser = xmlRelaxNGNewDocParserCtxt (grammar);
  xmlRelaxNGSetParserStructuredErrors (parser, schema_error_cb, NULL);
  return xmlRelaxNGParse (parser);
}

/* Kept in case that nothing better can be said. */
static void
first_error_cb (void *user_data, xmlErrorPtr problem)
{
  PawlFault *raw = user_data;
  g_autofree char *words = g_strchomp (g_strdup (problem->message != NULL ? problem->message : "the schema is not followed"));
  int line = problem->node != NULL ? pawl_xml_get_line (problem->node) : problem->line;

  pawl_fault_set (raw, PAWL_PROCEDURE_ERROR_SCHEMA, MAX (line, 1), "%s; see procedure.rng for what may stand there", words);
}

gboolean
pawl_schema_validate (xmlDoc *doc, PawlFault *fault)
{
  g_autoptr(xmlDoc) grammar = NULL;
  g_autoptr(xmlRelaxNG) schema = compile_grammar ();
  g_autoptr(xmlRelaxNGValidCtxt) validator = NULL;
  PawlFault raw = { 0 };
  g_autofree char *words = NULL;
  int line = 1;

  g_assert (schema != NULL);
  validator = xmlRelaxNGNewValidCtxt (schema);
  xmlRelaxNGSetValidStructuredErrors (validator, first_error_cb, &raw);
  if (xmlRelaxNGValidateDoc (validator, doc) == 0)
    {
      pawl_fault_clear (&raw);
      return TRUE;
    }

  grammar = load_grammar ();
  words = pawl_schema_explain (grammar, doc, &line);
  if (words != NULL)
    pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_SCHEMA, line, "%s", words);
  else if (raw.is_set)
    pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_SCHEMA, raw.line, "%s", raw.message);
  else
    pawl_fault_set (fault, PAWL_PROCEDURE_ERROR_SCHEMA, 1, "the file does not follow the schema; load procedure.rng in an XML editor to see where");
  pawl_fault_clear (&raw);
  return FALSE;
}
