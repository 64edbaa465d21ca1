/* What holds of every demo unit: its procedure and its figure are made from one set of dimensions. */
#include <libxml/parser.h>
#include <libxml/xpath.h>
#include <libxml/xpathInternals.h>

#include "unit-figures.h"

static const char *const units[] = { "sd3-carburetor", "wd4-winch-hub", "m1-magneto", "bp2-bilge-pump" };

static const PawlSolidRegion *
find_region (const PawlSolids *solids, const char *id)
{
  for (guint i = 0; i < solids->regions->len; i++)
    {
      const PawlSolidRegion *region = g_ptr_array_index (solids->regions, i);

      if (g_str_equal (region->region, id))
        return region;
    }
  g_error ("the figure has no region \"%s\"", id);
}

static void
check_part (const PawlSolids *solids, xmlNode *node)
{
  xmlChar *id = xmlGetProp (node, (const xmlChar *) "id"), *regions = xmlGetProp (node, (const xmlChar *) "regions");
  xmlChar *slide = xmlGetProp (node, (const xmlChar *) "slide");
  g_auto(GStrv) names = g_strsplit (regions != NULL ? (char *) regions : (char *) id, " ", -1);

  for (guint i = 0; names[i] != NULL && *names[i] != '\0'; i++)
    {
      g_autofree char *drawn = pawl_solid_part_slide (solids, find_region (solids, names[i])->part);

      if (!g_str_equal (slide != NULL ? (char *) slide : "0,0", drawn))
        g_error ("part \"%s\" slides by \"%s\", the figure says \"%s\"", id, slide, drawn);
    }
  xmlFree (id);
  xmlFree (regions);
  xmlFree (slide);
}

/* The elements of the unit's procedure that @path names, each handed to @check; returns how many. */
static int
check_procedure (const PawlSolids *solids, const char *unit, const char *path, void (*check) (const PawlSolids *solids, xmlNode *node))
{
  g_autofree char *file = g_strdup_printf ("%s/data/procedures/%s.xml", g_getenv ("PAWL_SOURCE_ROOT"), unit);
  xmlDoc *doc = xmlReadFile (file, NULL, XML_PARSE_NONET);
  xmlXPathContext *context;
  xmlXPathObject *found;
  int n;

  g_assert_nonnull (doc);
  context = xmlXPathNewContext (doc);
  xmlXPathRegisterNs (context, (const xmlChar *) "p", (const xmlChar *) "urn:pawl:procedure:1");
  found = xmlXPathEvalExpression ((const xmlChar *) path, context);
  g_assert_nonnull (found);
  n = found->nodesetval->nodeNr;
  for (int i = 0; i < n; i++)
    check (solids, found->nodesetval->nodeTab[i]);
  xmlXPathFreeObject (found);
  xmlXPathFreeContext (context);
  xmlFreeDoc (doc);
  return n;
}

/* The procedure names the parts of this figure, all of them, and slides each along its own way. */
static void
test_procedure_agrees (gconstpointer unit)
{
  g_autoptr(PawlSolids) solids = load_unit (unit);

  g_assert_cmpint (check_procedure (solids, unit, "//p:part", check_part), ==, solids->parts->len);
}

/* As the figure has them, or turned end for end, when the sketch looks the other way. */
static gboolean
is_profile (GArray *profile, char **points, gboolean is_turned)
{
  for (guint i = 0; i < profile->len; i++)
    {
      const PawlSolidCorner *corner = &g_array_index (profile, PawlSolidCorner, is_turned ? profile->len - 1 - i : i);
      g_auto(GStrv) pair = g_strsplit (points[i], ",", 2);
      double axial = g_ascii_strtod (pair[0], NULL), radius = g_ascii_strtod (pair[1], NULL);

      if (fabs (axial - (is_turned ? -corner->x : corner->x)) > 1e-9 || fabs (radius - corner->y) > 1e-9)
        return FALSE;
    }
  return TRUE;
}

static void
check_turned (const PawlSolids *solids, xmlNode *node)
{
  xmlChar *id = xmlGetProp (node->parent, (const xmlChar *) "part"), *text = xmlGetProp (node, (const xmlChar *) "points");
  const PawlSolidPart *part = pawl_solids_find_part (solids, (char *) id);
  g_auto(GStrv) points = g_strsplit ((char *) text, " ", -1);

  g_assert_nonnull (part);
  g_assert_cmpuint (part->profile->len, ==, g_strv_length (points));
  if (!is_profile (part->profile, points, FALSE) && !is_profile (part->profile, points, TRUE))
    g_error ("the sketch of \"%s\" has other corners than the figure", id);
  xmlFree (id);
  xmlFree (text);
}

/* The trap sketches have the dimensions of the parts as drawn. */
static void
test_profiles_agree (gconstpointer unit)
{
  g_autoptr(PawlSolids) solids = load_unit (unit);

  g_assert_cmpint (check_procedure (solids, unit, "//p:turned", check_turned), >, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    {
      g_autofree char *parts = g_strdup_printf ("/solids/units/%s/procedure-agrees", units[i]);
      g_autofree char *profiles = g_strdup_printf ("/solids/units/%s/profiles-agree", units[i]);

      g_test_add_data_func (parts, units[i], test_procedure_agrees);
      g_test_add_data_func (profiles, units[i], test_profiles_agree);
    }
  return g_test_run ();
}
