/* Figures: regions, extents, and one sentence for each hostile file. */
#include "fixtures.h"

static void
assert_box (PawlBox box, double x, double y, double width, double height, double tolerance)
{
  if (fabs (box.x - x) > tolerance || fabs (box.y - y) > tolerance || fabs (box.width - width) > tolerance || fabs (box.height - height) > tolerance)
    g_error ("box is %g %g %g %g, wanted %g %g %g %g", box.x, box.y, box.width, box.height, x, y, width, height);
}

static void
test_regions (void)
{
  static const struct { const char *id; int line; guint depth; const char *within; } wanted[] = {
    { "axes", 2, 1, NULL }, { "plate", 3, 1, NULL }, { "hole", 3, 2, "plate" }, { "ring", 5, 1, NULL }, { "pin", 6, 1, NULL },
  };
  g_autoptr(PawlFigure) figure = load_parts ();
  GPtrArray *regions = pawl_figure_get_regions (figure);
  static const char * const parts[] = { "plate", "ring", "pin" }; /* neither the axis lines nor what is inside the plate */
  g_autoptr(GPtrArray) part_regions = pawl_figure_list_part_regions (figure);

  g_assert_cmpuint (regions->len, ==, G_N_ELEMENTS (wanted));
  for (guint i = 0; i < regions->len; i++)
    {
      const PawlRegion *region = g_ptr_array_index (regions, i);

      g_assert_cmpstr (region->id, ==, wanted[i].id);
      g_assert_cmpint (region->line, ==, wanted[i].line);
      g_assert_cmpuint (region->depth, ==, wanted[i].depth);
      g_assert_cmpuint (region->order, ==, i);
      g_assert_cmpstr (region->within, ==, wanted[i].within);
      g_assert_true (pawl_figure_lookup_region (figure, region->id) == region);
    }
  g_assert_cmpuint (part_regions->len, ==, G_N_ELEMENTS (parts));
  for (guint i = 0; i < part_regions->len; i++)
    g_assert_cmpstr (((PawlRegion *) g_ptr_array_index (part_regions, i))->id, ==, parts[i]);
  g_assert_null (pawl_figure_lookup_region (figure, "nothing"));
  g_assert_cmpuint (pawl_figure_get_findings (figure)->len, ==, 0);
}

static void
test_extents (void)
{
  g_autoptr(PawlFigure) figure = load_parts ();

  assert_box (pawl_figure_get_view_box (figure), 0, 0, 400, 300, 0);
  assert_box (pawl_figure_get_extents (figure, "plate"), 100, 100, 200, 100, 0.5);
  assert_box (pawl_figure_get_extents (figure, "hole"), 274, 114, 12, 12, 0.5);
  assert_box (pawl_figure_get_extents (figure, "ring"), 150, 120, 60, 60, 0.5);
  assert_box (pawl_figure_get_extents (figure, "pin"), 50, 40, 300, 2, 0.7);
  assert_box (pawl_figure_get_extents (figure, "nothing"), 0, 0, 0, 0, 0);
}

/* A straight line, a turned box and a shifted sheet: where computed boxes go wrong. */
static void
test_awkward_extents (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = load_text (SVG ("viewBox=\"-100 -50 400 300\"",
                                                 "<path id=\"line\" d=\"M100 100 L200 100\" stroke=\"#000\" stroke-width=\"4\"/>\n"
                                                 "<rect id=\"turned\" x=\"-10\" y=\"-10\" width=\"20\" height=\"20\" transform=\"rotate(45)\"/>\n"
                                                 "<g id=\"empty\"/>"), &error);

  g_assert_no_error (error);
  assert_box (pawl_figure_get_extents (figure, "line"), 100, 98, 100, 4, 0.5);
  assert_box (pawl_figure_get_extents (figure, "turned"), -14.14, -14.14, 28.28, 28.28, 0.5);
  assert_box (pawl_figure_get_extents (figure, "empty"), 0, 0, 0, 0, 0);
}

static void
test_no_view_box_but_size (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = load_text (SVG ("width=\"120px\" height=\"80\"", "<rect id=\"r\" width=\"120\" height=\"80\"/>"), &error);

  g_assert_no_error (error);
  assert_box (pawl_figure_get_view_box (figure), 0, 0, 120, 80, 0);
  assert_box (pawl_figure_get_extents (figure, "r"), 0, 0, 120, 80, 0.5);
}

/* The digest is of the bytes as they came, before anything is added to them. */
static void
test_digest (void)
{
  g_autoptr(PawlFigure) figure = load_parts ();
  g_autofree char *digest = g_compute_checksum_for_string (G_CHECKSUM_SHA256, PARTS, -1);

  g_assert_cmpstr (pawl_figure_get_digest (figure), ==, digest);
  g_assert_cmpuint (g_bytes_get_size (pawl_figure_peek_bytes (figure)), ==, strlen (PARTS));
}

static void
test_findings (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = load_text (SVG ("viewBox=\"0 0 10 10\"",
                                                 "<filter id=\"f\"><feDropShadow dx=\"1\"/></filter>\n"
                                                 "<rect id=\"a\" width=\"1\" height=\"1\"/>\n"
                                                 "<rect id=\"a\" width=\"2\" height=\"2\"/>"), &error);
  GPtrArray *findings;

  g_assert_no_error (error);
  findings = pawl_figure_get_findings (figure);
  g_assert_cmpuint (findings->len, ==, 2);
  g_assert_true (g_str_has_prefix (g_ptr_array_index (findings, 0), "test.svg:2: feDropShadow"));
  g_assert_true (g_str_has_prefix (g_ptr_array_index (findings, 1), "test.svg:4: id \"a\" is taken by line 3"));
  g_assert_cmpuint (pawl_figure_get_regions (figure)->len, ==, 1);
}

/* ---- files that nobody vouches for ---- */

static void
assert_refused (const char *name, const char *text, gsize length, int code, int line)
{
  g_autoptr(GBytes) bytes = g_bytes_new (text, length);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = pawl_figure_load_bytes (bytes, "bad.svg", &error);
  g_autofree char *prefix = g_strdup_printf ("bad.svg:%d: ", line);

  if (figure)
    g_error ("%s: was let in", name);
  if (error->domain != PAWL_FIGURE_ERROR || error->code != code || !g_str_has_prefix (error->message, prefix))
    g_error ("%s: code %d, \"%s\"; wanted code %d, \"%s\"", name, error->code, error->message, code, prefix);
  g_assert_null (strchr (error->message, '\n'));
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
}

#define BOX "viewBox=\"0 0 10 10\""

static void
test_refusals (void)
{
  static const struct { const char *name, *text; int code, line; } cases[] = {
    { "empty", "", PAWL_FIGURE_ERROR_NOT_XML, 1 },
    { "packed", "\x1f\x8b\x08", PAWL_FIGURE_ERROR_NOT_XML, 1 },
    { "not UTF-8", "<svg>\n\xff</svg>", PAWL_FIGURE_ERROR_NOT_XML, 2 },
    { "cut off", "<svg xmlns=\"http://www.w3.org/2000/svg\" " BOX ">\n<g>\n", PAWL_FIGURE_ERROR_NOT_XML, 2 }, /* where what is not closed begins */
    { "crossed tags", SVG (BOX, "<g><path></g></path>"), PAWL_FIGURE_ERROR_NOT_XML, 2 },
    { "other XML", "<?xml version=\"1.0\"?>\n<drawing/>", PAWL_FIGURE_ERROR_NOT_SVG, 2 },
    { "no namespace", "<svg " BOX "/>", PAWL_FIGURE_ERROR_NOT_SVG, 1 },
    { "no viewBox", SVG ("", ""), PAWL_FIGURE_ERROR_SIZE, 1 },
    { "size in percent", SVG ("width=\"100%\" height=\"100%\"", ""), PAWL_FIGURE_ERROR_SIZE, 1 },
    { "three numbers", SVG ("viewBox=\"0 0 10\"", ""), PAWL_FIGURE_ERROR_SIZE, 1 },
    { "flat", SVG ("viewBox=\"0 0 10 0\"", ""), PAWL_FIGURE_ERROR_SIZE, 1 },
    { "not a number", SVG ("viewBox=\"0 0 nan nan\"", ""), PAWL_FIGURE_ERROR_SIZE, 1 },
    { "gigantic viewBox", SVG ("viewBox=\"0 0 1e30 1e30\"", ""), PAWL_FIGURE_ERROR_SIZE, 1 },
    { "gigantic width", SVG (BOX " width=\"1e9\" height=\"1e9\"", ""), PAWL_FIGURE_ERROR_SIZE, 1 },
    { "ribbon", SVG ("viewBox=\"0 0 10000 10\"", ""), PAWL_FIGURE_ERROR_SIZE, 1 },
    { "entities", "<!DOCTYPE svg [\n<!ENTITY a \"aaaa\">\n<!ENTITY b \"&a;&a;&a;&a;\">]>\n" SVG (BOX, "<text>&b;</text>"), PAWL_FIGURE_ERROR_REFUSED, 2 },
    { "file by entity", "<!DOCTYPE svg [<!ENTITY a SYSTEM \"file:///etc/passwd\">]>\n" SVG (BOX, "<text>&a;</text>"), PAWL_FIGURE_ERROR_REFUSED, 1 },
    { "xi:include", SVG (BOX, "<include xmlns=\"http://www.w3.org/2001/XInclude\" href=\"bad.svg\"/>"), PAWL_FIGURE_ERROR_REFUSED, 2 },
    { "picture from the net", SVG (BOX, "\n<image xlink:href=\"http://example.org/a.png\" width=\"1\" height=\"1\"/>"), PAWL_FIGURE_ERROR_REFUSED, 3 },
    { "picture from a file", SVG (BOX, "<image href=\"a.png\" width=\"1\" height=\"1\"/>"), PAWL_FIGURE_ERROR_REFUSED, 2 },
    { "SVG in a picture", SVG (BOX, "<image href=\"data:image/svg+xml;base64,PHN2Zy8+\" width=\"1\" height=\"1\"/>"), PAWL_FIGURE_ERROR_REFUSED, 2 },
    { "nonsense in a picture", SVG (BOX, "<image href=\"data:image/png;base64,AAAA\" width=\"1\" height=\"1\"/>"), PAWL_FIGURE_ERROR_REFUSED, 2 },
    { "use from a file", SVG (BOX, "<use href=\"other.svg#a\"/>"), PAWL_FIGURE_ERROR_REFUSED, 2 },
    { "fill from a file", SVG (BOX, "<rect fill=\"url(other.svg#a)\"/>"), PAWL_FIGURE_ERROR_REFUSED, 2 },
    { "fill from a file, in a style", SVG (BOX, "<rect style=\"fill: url( 'http://example.org/#a' )\"/>"), PAWL_FIGURE_ERROR_REFUSED, 2 },
    { "import", SVG (BOX, "<style>\n@import 'a.css';</style>"), PAWL_FIGURE_ERROR_REFUSED, 3 },
    { "style sheet link", "<?xml-stylesheet href=\"a.css\"?>\n" SVG (BOX, ""), PAWL_FIGURE_ERROR_REFUSED, 1 },
    { "uses itself", SVG (BOX, "<g id=\"a\"><use href=\"#a\"/></g>"), PAWL_FIGURE_ERROR_REFUSED, 2 },
    { "two that use each other", SVG (BOX, "<g id=\"a\"><use href=\"#b\"/></g>\n<g id=\"b\"><use href=\"#a\"/></g>"), PAWL_FIGURE_ERROR_REFUSED, 3 },
    { "noise", SVG (BOX, "<filter id=\"f\"><feTurbulence baseFrequency=\"1\" numOctaves=\"1000\"/></filter>"), PAWL_FIGURE_ERROR_TOO_LARGE, 2 },
    { "blur", SVG (BOX, "<filter id=\"f\"><feGaussianBlur stdDeviation=\"1 90000\"/></filter>"), PAWL_FIGURE_ERROR_TOO_LARGE, 2 },
    { "fine dashes", SVG ("viewBox=\"0 0 1000 1000\"", "<path d=\"M0 0 H1000\" stroke-dasharray=\"0.0001\"/>"), PAWL_FIGURE_ERROR_TOO_LARGE, 2 },
    { "fine dashes, in a style", SVG ("viewBox=\"0 0 1000 1000\"", "<path d=\"M0 0 H1000\" style=\"stroke-dasharray:0.0001,0\"/>"), PAWL_FIGURE_ERROR_TOO_LARGE, 2 },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    assert_refused (cases[i].name, cases[i].text, strlen (cases[i].text), cases[i].code, cases[i].line);
}

#define HEAD "<svg xmlns=\"http://www.w3.org/2000/svg\" " BOX ">\n"

/* 1,200 groups, each using the one before: valid, 70 kB, and more than the drawing library's stack. */
static void
test_use_chain (void)
{
  g_autoptr(GString) text = g_string_new (HEAD "<g id=\"u0\"><rect width=\"1\" height=\"1\"/></g>\n");

  for (int i = 1; i <= 1200; i++)
    g_string_append_printf (text, "<g id=\"u%d\"><use href=\"#u%d\"/></g>\n", i, i - 1);
  g_string_append (text, "</svg>");
  /* u0 is line 2; u17 on line 19 is the first with more than 16 links below it */
  assert_refused ("chain", text->str, text->len, PAWL_FIGURE_ERROR_TOO_LARGE, 19);
}

/* The same from the far end: the first group uses the second, and so on. */
static void
test_use_chain_forwards (void)
{
  g_autoptr(GString) text = g_string_new (HEAD);
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = NULL;

  for (int i = 0; i < 30000; i++)
    g_string_append_printf (text, "<g id=\"u%d\"><use href=\"#u%d\"/></g>\n", i, i + 1);
  g_string_append (text, "</svg>");
  bytes = g_bytes_new (text->str, text->len);
  g_assert_null (pawl_figure_load_bytes (bytes, "bad.svg", &error));
  g_assert_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_TOO_LARGE);
}

/* Ten links deep, ten times each: 10^10 rectangles from 2 kB. */
static void
test_use_bomb (void)
{
  g_autoptr(GString) text = g_string_new (HEAD "<g id=\"u0\"><rect width=\"1\" height=\"1\"/></g>\n");

  for (int i = 1; i <= 10; i++)
    {
      g_string_append_printf (text, "<g id=\"u%d\">", i);
      for (int j = 0; j < 10; j++)
        g_string_append_printf (text, "<use href=\"#u%d\"/>", i - 1);
      g_string_append (text, "</g>\n");
    }
  g_string_append (text, "</svg>");
  assert_refused ("bomb", text->str, text->len, PAWL_FIGURE_ERROR_TOO_LARGE, 7);
}

/* A marker of 100 shapes on each of 5,000 corners. */
static void
test_marker_bomb (void)
{
  g_autoptr(GString) text = g_string_new (HEAD "<marker id=\"m\">");

  for (int i = 0; i < 100; i++)
    g_string_append (text, "<circle r=\"1\"/>");
  g_string_append (text, "</marker>\n<path marker-mid=\"url(#m)\" d=\"M0 0");
  for (int i = 0; i < 5000; i++)
    g_string_append_printf (text, " L%d 1", i);
  g_string_append (text, "\"/></svg>");
  assert_refused ("markers", text->str, text->len, PAWL_FIGURE_ERROR_TOO_LARGE, 3);
}

static void
test_long_path (void)
{
  g_autoptr(GString) text = g_string_new (HEAD "<path d=\"M0 0");

  for (int i = 0; i < 300000; i++)
    g_string_append_printf (text, " L%d 1", i % 10);
  g_string_append (text, "\"/></svg>");
  assert_refused ("path", text->str, text->len, PAWL_FIGURE_ERROR_TOO_LARGE, 2);
}

/* A PNG whose header claims 30,000 by 30,000 pixels. */
static void
test_large_picture (void)
{
  static const guint8 png[33] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n', 0, 0, 0, 13, 'I', 'H', 'D', 'R', 0, 0, 0x75, 0x30, 0, 0, 0x75, 0x30, 8, 0, 0, 0, 0 };
  g_autofree char *base64 = g_base64_encode (png, sizeof png);
  g_autofree char *text = g_strdup_printf (HEAD "<image width=\"1\" height=\"1\" href=\"data:image/png;base64,%s\"/></svg>", base64);

  assert_refused ("picture", text, strlen (text), PAWL_FIGURE_ERROR_TOO_LARGE, 2);
}

static void
test_many_elements (void)
{
  g_autoptr(GString) text = g_string_new (HEAD);

  for (int i = 0; i < 100001; i++)
    g_string_append (text, "<g/>");
  g_string_append (text, "</svg>");
  assert_refused ("elements", text->str, text->len, PAWL_FIGURE_ERROR_TOO_LARGE, 2);
}

/* Each rule is tried on each element: 3,000 times 10,000. */
static void
test_many_rules (void)
{
  g_autoptr(GString) text = g_string_new (HEAD "<style>");

  for (int i = 0; i < 3000; i++)
    g_string_append_printf (text, ".a%d{fill:#000}", i);
  g_string_append (text, "</style>");
  for (int i = 0; i < 10000; i++)
    g_string_append (text, "<g/>");
  g_string_append (text, "</svg>");
  assert_refused ("rules", text->str, text->len, PAWL_FIGURE_ERROR_TOO_LARGE, 2);
}

static void
test_much_text (void)
{
  g_autofree char *word = g_strnfill (19000, 'a');
  g_autoptr(GString) text = g_string_new (HEAD);

  for (int i = 0; i < 12; i++)
    g_string_append_printf (text, "<text>%s</text>\n", word);
  g_string_append (text, "</svg>");
  assert_refused ("text", text->str, text->len, PAWL_FIGURE_ERROR_TOO_LARGE, 12); /* the 11th text */
}

static void
test_deep (void)
{
  g_autoptr(GString) text = g_string_new (HEAD);

  for (int i = 0; i < 200; i++)
    g_string_append (text, "<g>\n");
  for (int i = 0; i < 200; i++)
    g_string_append (text, "</g>");
  g_string_append (text, "</svg>");
  assert_refused ("deep", text->str, text->len, PAWL_FIGURE_ERROR_TOO_LARGE, 65);
}

static void
test_large_file (void)
{
  gsize length = 16 * 1024 * 1024 + 1;
  g_autofree char *text = g_malloc (length);

  memset (text, ' ', length);
  assert_refused ("file", text, length, PAWL_FIGURE_ERROR_TOO_LARGE, 1);
}

static void
test_missing_file (void)
{
  g_autoptr(GError) error = NULL;

  g_assert_null (pawl_figure_load ("/nowhere/at-all.svg", &error));
  g_assert_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_IO);
  g_assert_true (g_str_has_prefix (error->message, "at-all.svg: "));
}

/* What is harmless goes through: a public DOCTYPE, links inside, a small picture, gradients by a style sheet. */
static void
test_let_in (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = load_text (
    "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
    "<!DOCTYPE svg PUBLIC \"-//W3C//DTD SVG 1.1//EN\" \"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd\">\n"
    SVG (BOX, "<defs><linearGradient id=\"g\"><stop offset=\"0\"/></linearGradient><g id=\"d\"><rect width=\"1\" height=\"1\"/></g></defs>\n"
              "<style>.a { fill: url(#g); stroke-dasharray: 2 1 }</style>\n"
              "<use id=\"u\" xlink:href=\"#d\" class=\"a\"/>\n"
              "<text>&amp;</text>"), &error);

  g_assert_no_error (error);
  g_assert_cmpuint (pawl_figure_get_regions (figure)->len, ==, 1);
  g_assert_false (pawl_figure_get_extents (figure, "u").width <= 0);
}

/* Directions of hatching are read; what is no list of angles is told with its line, and counts for nothing. */
static void
test_hatch (void)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = load_text (SVG ("viewBox=\"0 0 10 10\"", "<g id=\"a\" data-hatch=\"45\"><path d=\"M0 0 H1\"/></g>\n"
                                                                           "<g id=\"b\" data-hatch=\"-30  120.5\"><path d=\"M0 0 H1\"/></g>\n"
                                                                           "<g id=\"c\" data-hatch=\"45 steep\"><path d=\"M0 0 H1\"/></g>\n"
                                                                           "<g id=\"d\"><path d=\"M0 0 H1\"/></g>"), &error);

  g_assert_no_error (error);
  g_assert_cmpuint (pawl_figure_lookup_region (figure, "a")->n_hatch, ==, 1);
  g_assert_cmpfloat (pawl_figure_lookup_region (figure, "a")->hatch_deg[0], ==, 45);
  g_assert_cmpuint (pawl_figure_lookup_region (figure, "b")->n_hatch, ==, 2);
  g_assert_cmpfloat (pawl_figure_lookup_region (figure, "b")->hatch_deg[0], ==, -30);
  g_assert_cmpfloat (pawl_figure_lookup_region (figure, "b")->hatch_deg[1], ==, 120.5);
  g_assert_cmpuint (pawl_figure_lookup_region (figure, "c")->n_hatch, ==, 0);
  g_assert_cmpuint (pawl_figure_lookup_region (figure, "d")->n_hatch, ==, 0);
  g_assert_cmpuint (pawl_figure_get_findings (figure)->len, ==, 1);
  g_assert_true (g_str_has_prefix (g_ptr_array_index (pawl_figure_get_findings (figure), 0), "test.svg:4: data-hatch \"45 steep\""));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/figure/regions", test_regions);
  g_test_add_func ("/drawing/figure/extents", test_extents);
  g_test_add_func ("/drawing/figure/awkward-extents", test_awkward_extents);
  g_test_add_func ("/drawing/figure/no-view-box-but-size", test_no_view_box_but_size);
  g_test_add_func ("/drawing/figure/digest", test_digest);
  g_test_add_func ("/drawing/figure/findings", test_findings);
  g_test_add_func ("/drawing/figure/refusals", test_refusals);
  g_test_add_func ("/drawing/figure/use-chain", test_use_chain);
  g_test_add_func ("/drawing/figure/use-chain-forwards", test_use_chain_forwards);
  g_test_add_func ("/drawing/figure/use-bomb", test_use_bomb);
  g_test_add_func ("/drawing/figure/marker-bomb", test_marker_bomb);
  g_test_add_func ("/drawing/figure/long-path", test_long_path);
  g_test_add_func ("/drawing/figure/large-picture", test_large_picture);
  g_test_add_func ("/drawing/figure/many-elements", test_many_elements);
  g_test_add_func ("/drawing/figure/many-rules", test_many_rules);
  g_test_add_func ("/drawing/figure/much-text", test_much_text);
  g_test_add_func ("/drawing/figure/deep", test_deep);
  g_test_add_func ("/drawing/figure/large-file", test_large_file);
  g_test_add_func ("/drawing/figure/missing-file", test_missing_file);
  g_test_add_func ("/drawing/figure/let-in", test_let_in);
  g_test_add_func ("/drawing/figure/hatch", test_hatch);
  return g_test_run ();
}
