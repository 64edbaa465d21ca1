/* Malformed input: one clear sentence with file and line. */
#include <string.h>

#include "solids/pawl-solids.h"

#define HEAD "<solids xmlns=\"urn:pawl:solids:1\">\n<projection scale=\"1,1,1\" toward=\"-x -y +z\"/>\n"
#define PART(s) HEAD "<part id=\"p\">\n" s "\n</part>\n<order><draw part=\"p\"/></order>\n</solids>"
#define COPIES "<group at=\"0,0,0 1,0,0 2,0,0 3,0,0 4,0,0 5,0,0 6,0,0 7,0,0 8,0,0 9,0,0\">"
#define BOX "<box from=\"0,0,0\" to=\"1,1,1\"/>"

static const struct {
  const char *text;
  int         code;
  const char *message; /* how it begins */
} cases[] = {
  { "<solids", PAWL_SOLIDS_ERROR_NOT_XML, "t.xml:1: not well-formed" },
  { "", PAWL_SOLIDS_ERROR_NOT_XML, "t.xml:" },
  { "<!DOCTYPE solids [<!ENTITY a \"b\">]>\n<solids xmlns=\"urn:pawl:solids:1\"/>", PAWL_SOLIDS_ERROR_NOT_XML, "t.xml:1: a document type" },
  { "<figure/>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:1: the file must begin with <solids" },
  { "<solids xmlns=\"urn:pawl:solids:1\"><part id=\"a\"/></solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:1: <projection> must come before" },
  { "<solids xmlns=\"urn:pawl:solids:1\"><projection scale=\"1,1\" toward=\"x y z\"/></solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:1: in scale" },
  { "<solids xmlns=\"urn:pawl:solids:1\"><projection scale=\"1,1,1\" toward=\"x y\"/></solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:1: toward must name" },
  { "<solids xmlns=\"urn:pawl:solids:1\"><projection scale=\"1,1,9\" toward=\"x y z\"/></solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:1: no parallel view" },
  { PART ("<ball/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: <ball> is no solid" },
  { PART (""), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:3: part \"p\" has no solid" },
  { PART ("<turned/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: <turned> needs points" },
  { PART ("<turned points=\"0,0 0,5\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a half-section needs" },
  { PART ("<turned points=\"0,0 0,5 4,x\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: in points, \"4,x\"" },
  { PART ("<turned points=\"0,0 0,-5 4,3\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: point 2 has a radius below 0" },
  { PART ("<turned points=\"0,0 0,1e999 4,3\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: in points" },
  { PART ("<turned points=\"0,0 0,nan 4,3\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: in points" },
  { PART ("<turned points=\"0,0 0,5 4,5 4,0\" thread=\"3,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: thread is from,to,pitch" },
  { PART ("<turned points=\"0,0 0,5 4,5 4,0\" colour=\"red\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: <turned> has no attribute \"colour\"" },
  { PART ("<turned points=\"0,0 5,0 9,0\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: the outline encloses no area" },
  { PART ("<plate outline=\"0,0 1,0 1,1\" height=\"0\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: height must be more than 0" },
  { PART ("<plate outline=\"0,0 1,0 1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: <plate> needs height" },
  { PART ("<plate circle=\"0,0,0\" height=\"1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: the radius of a circle" },
  { PART ("<plate circle=\"0,0,5\" height=\"1\">\n<dot/></plate>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:5: <plate> may hold <hole> only" },
  { PART ("<gear teeth=\"18\" width=\"6\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a gear needs module or pitch" },
  { PART ("<gear teeth=\"18\" width=\"6\" module=\"1\" pitch-diameter=\"18\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a gear needs module or pitch" },
  { PART ("<gear teeth=\"18\" width=\"6\" module=\"0\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: module and pitch-diameter must be" },
  { PART ("<gear teeth=\"18\" width=\"6\" pitch-diameter=\"-18\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: module and pitch-diameter must be" },
  { PART ("<gear teeth=\"18\" width=\"0\" module=\"1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a gear needs a width above 0" },
  { PART ("<gear teeth=\"5\" width=\"6\" module=\"1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a gear needs a width above 0" },
  { PART ("<gear teeth=\"18.5\" width=\"6\" module=\"1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a gear needs a width above 0" },
  { PART ("<gear teeth=\"999\" width=\"6\" module=\"1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a gear needs a width above 0" },
  { PART ("<gear width=\"6\" module=\"1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: <gear> needs teeth" },
  { PART ("<gear teeth=\"18\" width=\"6\" module=\"1\">\n<dot/></gear>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:5: <gear> may hold <hole> only" },
  { PART ("<vane inner=\"14\" outer=\"42\" angle=\"-32\" height=\"9\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: <vane> needs thick" },
  { PART ("<vane inner=\"42\" outer=\"14\" angle=\"-32\" thick=\"3\" height=\"9\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a vane needs" },
  { PART ("<vane inner=\"14\" outer=\"42\" angle=\"7\" thick=\"3\" height=\"9\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: the angle of a vane" },
  { PART ("<vane inner=\"14\" outer=\"42\" angle=\"-91\" thick=\"3\" height=\"9\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: the angle of a vane" },
  { PART ("<volute inner=\"45\" outer=\"45\" height=\"9\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a volute needs" },
  { PART ("<volute inner=\"45\" outer=\"62\" height=\"9\" neck=\"1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a volute needs" },
  { PART ("<volute inner=\"45\" outer=\"62\" height=\"9\" neck=\"-9\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a volute needs" },
  { PART ("<box from=\"0,0,0\" to=\"1,0,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: from must be below to" },
  { PART ("<box do=\"melt\" from=\"0,0,0\" to=\"1,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: do=\"melt\" is not add, cut, keep or section" },
  { PART (BOX "<box do=\"section\" hatch=\"180\" from=\"0,0,0\" to=\"1,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: hatch is an angle from 0" },
  { PART (BOX "<box do=\"section\" hatch=\"45\" pitch=\"0\" from=\"0,0,0\" to=\"1,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: hatch is an angle from 0" },
  { PART (BOX "<box do=\"cut\" hatch=\"45\" from=\"0,0,0\" to=\"1,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: hatch and pitch belong to" },
  { PART (BOX "<box copies=\"2.5\" from=\"0,0,0\" to=\"1,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: copies must be a whole number" },
  { PART (BOX "<box copies=\"0\" from=\"0,0,0\" to=\"1,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: copies must be a whole number" },
  { PART ("<box axis=\"w\" from=\"0,0,0\" to=\"1,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: axis=\"w\" is not" },
  { PART ("<box tilt=\"12\" from=\"0,0,0\" to=\"1,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: tilt=\"12\" is not an axis and degrees" },
  { PART ("<helix radius=\"3\" wire=\"1\" turns=\"1\" closed=\"1\" length=\"9\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a helix needs" },
  { PART ("<helix radius=\"3\" end-radius=\"0\" wire=\"1\" turns=\"5\" length=\"9\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a helix needs" },
  { PART ("<wire wire=\"1\" points=\"0,0,0\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: a wire needs" },
  { PART ("<turned points=\"0,0 0,5 40,5 40,0\" thread=\"1,39,0.0001\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: thread is from,to,pitch" },
  { PART ("<box from=\"0,0,0\" to=\"9000,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:3: part \"p\" adds nothing, or is larger" },
  { PART ("<box do=\"cut\" from=\"0,0,0\" to=\"1,1,1\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:3: part \"p\" adds nothing, or is larger" },
  { PART (COPIES COPIES COPIES COPIES BOX "</group></group></group></group>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: more than 5000 solids" },
  { PART ("<hex across=\"10\" height=\"1\" chamfer=\"round\"/>"), PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: chamfer=\"round\" is not" },
  { HEAD "<part id=\"a\">" BOX "</part>\n<part id=\"a\">" BOX "</part></solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: part \"a\" is there twice" },
  { HEAD "<part>" BOX "</part></solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:3: <part> needs an id" },
  { HEAD "<order>\n<draw part=\"q\"/></order></solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: there is no part \"q\"" },
  { HEAD "</solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:1: <order> names no region" },
  { HEAD "<part id=\"a\">" BOX "</part><axes>\n<axis at=\"0,0,0\" along=\"x\"/></axes></solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:4: an axis needs parts" },
  { HEAD "<sheet ratio=\"0\" margin=\"0\"/></solids>", PAWL_SOLIDS_ERROR_CONTENT, "t.xml:3: ratio must lie" },
};

static void
test_bad (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlSolids) solids = pawl_solids_parse (cases[i].text, strlen (cases[i].text), "t.xml", &error);

      g_assert_null (solids);
      g_assert_error (error, PAWL_SOLIDS_ERROR, cases[i].code);
      if (!g_str_has_prefix (error->message, cases[i].message))
        g_error ("case %u: \"%s\" does not begin with \"%s\"", i, error->message, cases[i].message);
    }
}

static void
test_missing_file (void)
{
  g_autoptr(GError) error = NULL;

  g_assert_null (pawl_solids_load ("/nowhere/at-all.xml", &error));
  g_assert_error (error, PAWL_SOLIDS_ERROR, PAWL_SOLIDS_ERROR_READ);
}

/* Slides go back along the legs, last leg first; on an isometric sheet 10 along x is (8.66, -5), and z is straight up. */
static void
test_slide (void)
{
  const char *text = HEAD "<part id=\"a\" legs=\"10,0,0 0,0,7\">" BOX "</part><part id=\"b\">" BOX "</part>"
                     "<order><draw part=\"a\"/><draw part=\"b\" region=\"b-behind\"/></order></solids>";
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlSolids) solids = pawl_solids_parse (text, strlen (text), "t.xml", &error);
  g_autofree char *slides = NULL;

  g_assert_no_error (error);
  slides = pawl_solids_slides (solids);
  g_assert_cmpstr (slides, ==, "a 0.00,7.00 -8.66,5.00\nb-behind 0,0\n");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solids/reader/bad", test_bad);
  g_test_add_func ("/solids/reader/missing-file", test_missing_file);
  g_test_add_func ("/solids/reader/slide", test_slide);
  return g_test_run ();
}
