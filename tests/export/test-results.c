/* The readings as XML: well-formed for libxml2 whatever was typed, and every id that is named is there, once. */
#include <libxml/parser.h>
#include <libxml/xpath.h>

#include "export/pawl-export.h"
#include "procedure/pawl-reader.h"

G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlDoc, xmlFreeDoc)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlXPathContext, xmlXPathFreeContext)

#define HEAD "0123456789abcdef0123456789abcdef0123456789abcdef0123456789abcdef"
#define PERSON "Jory Tregenza"

/* ---- a job by hand ---- */

typedef struct {
  PawlProcedure *procedure;
  GPtrArray     *entries;
  GDateTime     *now;
} Bench;

static void
set_up (Bench        *bench,
        gconstpointer data)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "good", data, NULL);
  g_autoptr (GError) error = NULL;

  bench->procedure = pawl_procedure_load (path, NULL, &error);
  g_assert_no_error (error);
  bench->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  bench->now = g_date_time_new_from_iso8601 ("2026-11-25T09:00:00+00:00", NULL);
}

static void
tear_down (Bench        *bench,
           gconstpointer data)
{
  g_object_unref (bench->procedure);
  g_ptr_array_unref (bench->entries);
  g_date_time_unref (bench->now);
}

static PawlEntry *
add (Bench         *bench,
     PawlEntryKind  kind,
     const char    *subject,
     const char    *answer)
{
  PawlEntry *entry = pawl_entry_new (kind, subject, PERSON, bench->now);

  pawl_entry_set (entry, "answer", answer);
  g_ptr_array_add (bench->entries, entry);
  return entry;
}

/* (transfer full): well-formed, and with nothing to complain of. */
static xmlDoc *
export (Bench *bench)
{
  g_autoptr (PawlJob) job = pawl_job_fold (bench->procedure, bench->entries, bench->now);
  g_autofree char *xml = pawl_export_format_results (job, HEAD);
  xmlDoc *document;

  g_assert_true (g_utf8_validate (xml, -1, NULL));
  document = xmlReadMemory (xml, (int) strlen (xml), "results.xml", NULL, XML_PARSE_NONET | XML_PARSE_PEDANTIC);
  g_assert_nonnull (document);
  g_assert_null (xmlGetLastError ());
  return document;
}

static double
evaluate (xmlDoc     *document,
          const char *expression)
{
  g_autoptr (xmlXPathContext) context = xmlXPathNewContext (document);
  xmlXPathObject *result = xmlXPathEval (BAD_CAST expression, context);
  double value;

  g_assert_nonnull (result);
  value = xmlXPathCastToNumber (result);
  xmlXPathFreeObject (result);
  return value;
}

static char *
evaluate_text (xmlDoc     *document,
               const char *expression)
{
  g_autoptr (xmlXPathContext) context = xmlXPathNewContext (document);
  xmlXPathObject *result = xmlXPathEval (BAD_CAST expression, context);
  xmlChar *value;
  char *text;

  g_assert_nonnull (result);
  value = xmlXPathCastToString (result);
  text = g_strdup ((const char *) value);
  xmlFree (value);
  xmlXPathFreeObject (result);
  return text;
}

static void
check_ids (xmlDoc *document)
{
  static const char *const counts[] = { "CharacteristicDefinitions", "CharacteristicItems", "CharacteristicMeasurements", "MeasurementDevices" };

  g_assert_cmpfloat (evaluate (document, "count(//@id)"), ==, evaluate (document, "number(/QIFDocument/@idMax)"));
  g_assert_cmpfloat (evaluate (document, "count(//@id[. = preceding::*/@id or . = ancestor::*[position() > 1]/@id])"), ==, 0);
  g_assert_cmpfloat (evaluate (document, "count(//CharacteristicItemId[not(. = //CharacteristicItems/*/@id)])"), ==, 0);
  g_assert_cmpfloat (evaluate (document, "count(//CharacteristicDefinitionId[not(. = //CharacteristicDefinitions/*/@id)])"), ==, 0);
  g_assert_cmpfloat (evaluate (document, "count(//MeasurementDeviceId[not(. = //MeasurementDevice/@id)])"), ==, 0);
  g_assert_cmpfloat (evaluate (document, "count(//PartId[not(. = //Part/@id)])"), ==, 0);
  for (guint i = 0; i < G_N_ELEMENTS (counts); i++)
    {
      g_autofree char *difference = g_strdup_printf ("number(//%s/@n) - count(//%s/*)", counts[i], counts[i]);

      g_assert_cmpfloat (evaluate (document, difference), ==, 0);
    }
}

/* ---- the tests ---- */

static void
test_empty (Bench        *bench,
            gconstpointer data)
{
  g_autoptr (xmlDoc) document = NULL;

  add (bench, PAWL_ENTRY_OPENED, "", NULL);
  document = export (bench);
  check_ids (document);
  g_assert_cmpfloat (evaluate (document, "count(//CharacteristicMeasurements/*)"), ==, 1);
  g_assert_cmpfloat (evaluate (document, "count(//CharacteristicStatusEnum[. = 'NOT_MEASURED'])"), ==, 1);
  g_assert_cmpfloat (evaluate (document, "count(//Value)"), ==, 0);
}

static void
test_hostile (Bench        *bench,
              gconstpointer data)
{
  static const char *const texts[] = {
    "<TS>&7\"'", "]]>", "--", "<!DOCTYPE x [<!ENTITY a 'b'>]>&a;", "two\nlines\ttab\rreturn", "\x01\x02\x1b[31m", "\xef\xbf\xbe\xef\xbf\xbf", "😀 ½ µm", "&#0;",
  };

  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (xmlDoc) document = NULL;
      PawlEntry *entry;

      g_ptr_array_set_size (bench->entries, 0);
      entry = add (bench, PAWL_ENTRY_OPENED, "", NULL);
      pawl_entry_set (entry, "serial", texts[i]);
      pawl_entry_set (entry, "work-order", texts[i]);
      entry = add (bench, PAWL_ENTRY_ANSWERED, "plug-size", "10.0");
      pawl_entry_set (entry, "instrument", texts[i]);
      pawl_entry_set (entry, "tool-serial", texts[i]);
      document = export (bench);
      check_ids (document);
      if (i < 3)
        {
          g_autofree char *serial = evaluate_text (document, "string(//Part/SerialNumber)");
          g_autofree char *order = evaluate_text (document, "string(//AttributeStr[@name = 'Work order']/@value)");

          g_assert_cmpstr (serial, ==, texts[i]);
          g_assert_cmpstr (order, ==, texts[i]);
        }
    }
}

typedef struct {
  const char *answer;
  const char *status;
  const char *value; /* (nullable) */
} Case;

/* Limits 9.9..10.1 mm, by a micrometer that may err by 0.004 mm; the job is judged by "guard-band". */
static const Case cases[] = {
  { "10.0", "PASS", "10" }, { "9.9", "UNKNOWN", "9.9" }, { "9.899", "UNKNOWN", "9.899" }, { "9.8", "FAIL", "9.8" }, { "1 cm", "PASS", "10" },
  { "10.25 mm", "FAIL", "10.25" }, { "1/2 in", "FAIL", "12.7" },
};

static void
test_statuses (Bench        *bench,
               gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (xmlDoc) document = NULL;
      g_autofree char *status = NULL;
      g_autofree char *value = NULL;
      PawlEntry *opened;

      g_ptr_array_set_size (bench->entries, 0);
      opened = add (bench, PAWL_ENTRY_OPENED, "", NULL);
      pawl_entry_set (opened, "policy", "guard-band");
      pawl_entry_set (add (bench, PAWL_ENTRY_ANSWERED, "plug-size", cases[i].answer), "instrument", "micrometer");
      document = export (bench);
      check_ids (document);
      status = evaluate_text (document, "string(//CharacteristicStatusEnum)");
      value = evaluate_text (document, "string(//Value)");
      g_test_message ("%s", cases[i].answer);
      g_assert_cmpstr (status, ==, cases[i].status);
      g_assert_cmpstr (value, ==, cases[i].value);
      g_assert_cmpfloat (evaluate (document, "count(//MeasurementDevice[Name = 'Micrometer'])"), ==, 1);
    }
}

/* Every kind of reading that a procedure can have, none of them taken. */
static void
test_every_kind (Bench        *bench,
                 gconstpointer data)
{
  g_autoptr (xmlDoc) document = NULL;

  add (bench, PAWL_ENTRY_OPENED, "", NULL);
  document = export (bench);
  check_ids (document);
  g_assert_cmpfloat (evaluate (document, "count(//CharacteristicDefinitions/*)"), >, 50);
  g_assert_cmpfloat (evaluate (document, "count(//CharacteristicDefinitions/*[not(string-length(QPId) = 36)])"), ==, 0);
  g_assert_cmpfloat (evaluate (document, "count(//CharacteristicDefinitions/*[QPId = preceding-sibling::*/QPId])"), ==, 0);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

  g_test_add ("/results/empty", Bench, "minimal.xml", set_up, test_empty, tear_down);
  g_test_add ("/results/hostile", Bench, "minimal.xml", set_up, test_hostile, tear_down);
  g_test_add ("/results/statuses", Bench, "minimal.xml", set_up, test_statuses, tear_down);
  g_test_add ("/results/every-kind", Bench, "every-measurement.xml", set_up, test_every_kind, tear_down);

  return g_test_run ();
}
