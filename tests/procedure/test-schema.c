/* The schema as it is put to libxml2, which is written another way for speed, against the schema as it is published. */
#include <libxml/parser.h>
#include <libxml/relaxng.h>

#include "procedure/pawl-xml-private.h"

G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlRelaxNG, xmlRelaxNGFree)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlRelaxNGParserCtxt, xmlRelaxNGFreeParserCtxt)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlRelaxNGValidCtxt, xmlRelaxNGFreeValidCtxt)

typedef struct {
  xmlRelaxNG *published;
  guint       n_right;
  guint       n_wrong;
} Comparison;

static void
ignore_error_cb (void        *user_data G_GNUC_UNUSED,
                 xmlErrorPtr  problem G_GNUC_UNUSED)
{
}

static void
compare (Comparison *comparison,
         xmlDoc     *doc)
{
  g_autoptr(xmlRelaxNGValidCtxt) validator = xmlRelaxNGNewValidCtxt (comparison->published);
  PawlFault fault = { 0 };
  gboolean is_right;

  xmlRelaxNGSetValidStructuredErrors (validator, ignore_error_cb, NULL);
  is_right = xmlRelaxNGValidateDoc (validator, doc) == 0;
  g_assert_cmpint (pawl_schema_validate (doc, &fault), ==, is_right);
  comparison->n_right += is_right;
  comparison->n_wrong += !is_right;
  pawl_fault_clear (&fault);
}

/* Each attribute of @element left out, beside one that is unknown, and empty. */
static void
spoil_attributes (Comparison *comparison,
                  xmlNode    *element)
{
  g_autoptr(GHashTable) values = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  GHashTableIter iter;
  const char *name, *value;

  for (xmlAttr *attribute = element->properties; attribute != NULL; attribute = attribute->next)
    if (attribute->ns == NULL)
      g_hash_table_insert (values, g_strdup ((const char *) attribute->name), pawl_xml_dup_value (attribute));

  g_hash_table_iter_init (&iter, values);
  while (g_hash_table_iter_next (&iter, (gpointer *) &name, (gpointer *) &value))
    {
      xmlUnsetProp (element, BAD_CAST name);
      compare (comparison, element->doc);
      xmlSetProp (element, BAD_CAST "unknown", BAD_CAST value);
      compare (comparison, element->doc);
      xmlUnsetProp (element, BAD_CAST "unknown");
      xmlSetProp (element, BAD_CAST name, BAD_CAST "");
      compare (comparison, element->doc);
      xmlSetProp (element, BAD_CAST name, BAD_CAST value);
    }
}

/* That, and each element below @element left out, or moved behind the next one. */
static void
spoil (Comparison *comparison,
       xmlNode    *element)
{
  spoil_attributes (comparison, element);
  for (xmlNode *child = xmlFirstElementChild (element), *next; child != NULL; child = next)
    {
      next = xmlNextElementSibling (child);
      spoil (comparison, child);
      xmlUnlinkNode (child);
      compare (comparison, element->doc);
      if (next != NULL)
        {
          xmlAddNextSibling (next, child);
          compare (comparison, element->doc);
          xmlAddPrevSibling (next, child);
        }
      else
        {
          xmlAddChild (element, child);
        }
    }
  compare (comparison, element->doc);
}

static void
test_agrees (gconstpointer data)
{
  const char *root = g_getenv ("PAWL_SOURCE_ROOT");
  g_autofree char *grammar = g_build_filename (root, "data", "procedures", "procedure.rng", NULL);
  g_autofree char *path = g_build_filename (root, "tests", "data", "good", data, NULL);
  g_autoptr(xmlRelaxNGParserCtxt) parser = xmlRelaxNGNewParserCtxt (grammar);
  g_autoptr(xmlRelaxNG) published = xmlRelaxNGParse (parser);
  Comparison comparison = { .published = published };
  g_autofree char *text = NULL;
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(xmlDoc) doc = NULL;
  g_autoptr(GError) error = NULL;
  PawlFault fault = { 0 };
  gsize size;

  g_file_get_contents (path, &text, &size, &error);
  g_assert_no_error (error);
  bytes = g_bytes_new (text, size);
  doc = pawl_xml_parse (bytes, &fault);
  g_assert_false (fault.is_set);
  spoil (&comparison, xmlDocGetRootElement (doc));
  g_test_message ("%s: %u right, %u wrong, by both", (const char *) data, comparison.n_right, comparison.n_wrong);
  g_assert_cmpuint (comparison.n_right, >, 20);
  g_assert_cmpuint (comparison.n_wrong, >, 100);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_data_func ("/procedure/schema/minimal", "minimal.xml", test_agrees);
  g_test_add_data_func ("/procedure/schema/parts", "parts.xml", test_agrees);
  g_test_add_data_func ("/procedure/schema/derived", "derived.xml", test_agrees);
  return g_test_run ();
}
