#include "hostile.h"

#include <string.h>

#define OPEN "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" viewBox=\"0 0 1000 1000\">\n"
#define CLOSE "</svg>\n"

/* @extra is the file. */
static void
make_whole (GString *text, const char *extra)
{
  g_string_append (text, extra);
}

/* @extra is what stands in the <svg> element. */
static void
make_body (GString *text, const char *extra)
{
  g_string_append_printf (text, OPEN "%s\n" CLOSE, extra);
}

/* @extra is the attributes of the <svg> element. */
static void
make_sheet (GString *text, const char *extra)
{
  g_string_append_printf (text, "<svg xmlns=\"http://www.w3.org/2000/svg\" %s><rect id=\"r\" width=\"5\" height=\"5\"/></svg>\n", extra);
}

static void
repeat (GString *text, guint n, const char *piece)
{
  for (guint i = 0; i < n; i++)
    g_string_append (text, piece);
}

/* ---- bytes ---- */

/* 64 MiB of spaces, packed into 64 KiB. */
static void
make_packed (GString *text, const char *extra)
{
  g_autoptr(GZlibCompressor) packer = g_zlib_compressor_new (G_ZLIB_COMPRESSOR_FORMAT_GZIP, 9);
  g_autoptr(GOutputStream) memory = g_memory_output_stream_new_resizable ();
  g_autoptr(GOutputStream) stream = g_converter_output_stream_new (memory, G_CONVERTER (packer));
  g_autofree char *blank = g_strnfill (1024 * 1024, ' ');

  g_output_stream_write_all (stream, OPEN, strlen (OPEN), NULL, NULL, NULL);
  for (guint i = 0; i < 64; i++)
    g_output_stream_write_all (stream, blank, 1024 * 1024, NULL, NULL, NULL);
  g_output_stream_close (stream, NULL, NULL);
  g_string_append_len (text, g_memory_output_stream_get_data (G_MEMORY_OUTPUT_STREAM (memory)),
                       (gssize) g_memory_output_stream_get_data_size (G_MEMORY_OUTPUT_STREAM (memory)));
}

static void
make_packed_cut_off (GString *text, const char *extra)
{
  make_packed (text, extra);
  g_string_truncate (text, 1000);
}

static void
make_null_byte (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<g/>");
  g_string_append_c (text, '\0');
  g_string_append (text, CLOSE);
}

static void
make_utf16 (GString *text, const char *extra)
{
  static const char letters[] = "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9\"/>";

  g_string_append_len (text, "\xff\xfe", 2);
  for (const char *letter = letters; *letter; letter++)
    {
      g_string_append_c (text, *letter);
      g_string_append_c (text, '\0');
    }
}

/* One entity of 20,000 letters, called 20,000 times. */
static void
make_quadratic_entity (GString *text, const char *extra)
{
  g_autofree char *letters = g_strnfill (20000, 'a');

  g_string_append_printf (text, "<!DOCTYPE svg [\n<!ENTITY a \"%s\">]>\n" OPEN "<text y=\"9\">", letters);
  repeat (text, 20000, "&a;");
  g_string_append (text, "</text>" CLOSE);
}

static void
make_laughs (GString *text, const char *extra)
{
  g_string_append (text, "<!DOCTYPE svg [\n<!ENTITY l0 \"ha\">\n");
  for (guint i = 1; i < 10; i++)
    {
      g_string_append_printf (text, "<!ENTITY l%u \"", i);
      for (guint j = 0; j < 10; j++)
        g_string_append_printf (text, "&l%u;", i - 1);
      g_string_append (text, "\">\n");
    }
  g_string_append (text, "]>\n" OPEN "<text y=\"9\">&l9;</text>" CLOSE);
}

static void
make_long_attribute (GString *text, const char *extra)
{
  g_autofree char *letters = g_strnfill (9 * 1000 * 1000, 'a');

  g_string_append_printf (text, OPEN "<g class=\"%s\"/>" CLOSE, letters);
}

static void
make_long_comment (GString *text, const char *extra)
{
  g_autofree char *letters = g_strnfill (12 * 1000 * 1000, 'a');

  g_string_append_printf (text, OPEN "<!--%s--><g id=\"a\"/>" CLOSE, letters);
}

/* ---- nesting and number ---- */

static void
make_deep (GString *text, const char *extra)
{
  guint n = (guint) g_ascii_strtoull (extra, NULL, 10);

  g_string_append (text, OPEN);
  repeat (text, n, "<g>");
  g_string_append (text, "<rect width=\"9\" height=\"9\"/>");
  repeat (text, n, "</g>");
  g_string_append (text, CLOSE);
}

/* Sheets within sheets, each of a size of its own. */
static void
make_nested_sheets (GString *text, const char *extra)
{
  g_string_append (text, OPEN);
  repeat (text, 60, "<svg width=\"1e30\" height=\"1e30\" viewBox=\"0 0 1e-9 1e-9\">");
  g_string_append (text, "<rect width=\"9\" height=\"9\"/>");
  repeat (text, 60, "</svg>");
  g_string_append (text, CLOSE);
}

static void
make_many (GString *text, const char *extra)
{
  g_string_append (text, OPEN);
  repeat (text, 100001, extra);
  g_string_append (text, CLOSE);
}

/* More pieces at the root than a scene will handle one by one. */
static void
make_many_roots (GString *text, const char *extra)
{
  g_string_append (text, OPEN);
  for (guint i = 0; i < 3000; i++)
    g_string_append_printf (text, "<rect id=\"r%u\" width=\"9\" height=\"9\"/>\n", i);
  g_string_append (text, CLOSE);
}

/* ---- links ---- */

/* 1,200 groups, each using the one before. */
static void
make_use_chain (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<defs><g id=\"u0\"><rect width=\"9\" height=\"9\"/></g>\n");
  for (guint i = 1; i <= 1200; i++)
    g_string_append_printf (text, "<g id=\"u%u\"><use xlink:href=\"#u%u\"/></g>\n", i, i - 1);
  g_string_append (text, "</defs><use xlink:href=\"#u1200\"/>" CLOSE);
}

static void
make_use_chain_forwards (GString *text, const char *extra)
{
  g_string_append (text, OPEN);
  for (guint i = 0; i < 20000; i++)
    g_string_append_printf (text, "<g id=\"u%u\"><use xlink:href=\"#u%u\"/></g>\n", i, i + 1);
  g_string_append (text, CLOSE);
}

/* Nine levels of ten copies: @extra is what stands at the bottom. */
static void
make_copies (GString *text, const char *extra)
{
  g_string_append_printf (text, OPEN "<defs><g id=\"u0\">%s</g>\n", extra);
  for (guint i = 1; i <= 9; i++)
    {
      g_string_append_printf (text, "<g id=\"u%u\">", i);
      for (guint j = 0; j < 10; j++)
        g_string_append_printf (text, "<use xlink:href=\"#u%u\"/>", i - 1);
      g_string_append (text, "</g>\n");
    }
  g_string_append (text, "</defs><use xlink:href=\"#u9\"/>" CLOSE);
}

static void
make_copies_of_symbols (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<defs><symbol id=\"s0\" viewBox=\"0 0 9 9\"><path d=\"M0 0 L9 9\"/></symbol>\n");
  for (guint i = 1; i <= 9; i++)
    {
      g_string_append_printf (text, "<symbol id=\"s%u\" viewBox=\"0 0 9 9\">", i);
      for (guint j = 0; j < 10; j++)
        g_string_append_printf (text, "<use xlink:href=\"#s%u\"/>", i - 1);
      g_string_append (text, "</symbol>\n");
    }
  g_string_append (text, "</defs><use xlink:href=\"#s9\"/>" CLOSE);
}

/* 20 of an element, each of which is filled, masked or clipped by the one before. @extra: "ELEMENT PROPERTY". */
static void
make_server_chain (GString *text, const char *extra)
{
  g_auto(GStrv) words = g_strsplit (extra, " ", 2);

  g_string_append_printf (text, OPEN "<defs><%s id=\"s0\" width=\"9\" height=\"9\"><rect width=\"9\" height=\"9\"/></%s>\n", words[0], words[0]);
  for (guint i = 1; i <= 20; i++)
    g_string_append_printf (text, "<%s id=\"s%u\" width=\"9\" height=\"9\"><rect width=\"9\" height=\"9\" %s=\"url(#s%u)\"/></%s>\n", words[0], i, words[1], i - 1, words[0]);
  g_string_append_printf (text, "</defs><rect id=\"r\" width=\"900\" height=\"900\" %s=\"url(#s20)\"/>" CLOSE, words[1]);
}

static void
append_marker (GString *text)
{
  g_string_append (text, OPEN "<marker id=\"m\" markerWidth=\"9\" markerHeight=\"9\">");
  repeat (text, 200, "<circle r=\"4\" stroke=\"#000\"/>");
  g_string_append (text, "</marker>");
}

/* 200 circles at each of 15,000 corners. @extra: how the element, or the group round it, asks for the marker. */
static void
make_markers (GString *text, const char *extra)
{
  append_marker (text);
  g_string_append_printf (text, "<g %s><path id=\"p\" d=\"M0 0", extra);
  for (guint i = 0; i < 15000; i++)
    g_string_append_printf (text, " L%u %u", i % 997, i % 991);
  g_string_append (text, "\"/></g>" CLOSE);
}

/* A pattern of 100 shapes, inherited by 5,000 rectangles. */
static void
make_inherited_pattern (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<pattern id=\"p\" width=\"500\" height=\"500\" patternUnits=\"userSpaceOnUse\">");
  repeat (text, 100, "<circle r=\"200\" opacity=\".5\"/>");
  g_string_append (text, "</pattern><g id=\"g\" fill=\"url(#p)\">");
  repeat (text, 5000, "<rect width=\"900\" height=\"900\"/>");
  g_string_append (text, "</g>" CLOSE);
}

/* ---- effects ---- */

static void
make_filter (GString *text, const char *extra)
{
  g_string_append_printf (text, OPEN "<filter id=\"f\" x=\"0\" y=\"0\" width=\"1\" height=\"1\">%s</filter><rect id=\"r\" width=\"1000\" height=\"1000\" filter=\"url(#f)\"/>" CLOSE, extra);
}

/* 2,000 steps of noise within all caps of one step. */
static void
make_long_filter (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<filter id=\"f\" x=\"0\" y=\"0\" width=\"1\" height=\"1\">");
  repeat (text, 2000, "<feTurbulence baseFrequency=\".9\" numOctaves=\"6\"/>");
  g_string_append (text, "</filter><rect id=\"r\" width=\"1000\" height=\"1000\" filter=\"url(#f)\"/>" CLOSE);
}

/* One blur on each of 30 groups within one another, 40 times over. */
static void
make_filters_of_filters (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<filter id=\"f\" x=\"0\" y=\"0\" width=\"1\" height=\"1\"><feGaussianBlur stdDeviation=\"9\"/></filter>");
  for (guint i = 0; i < 40; i++)
    {
      repeat (text, 30, "<g filter=\"url(#f)\">");
      g_string_append (text, "<rect width=\"1000\" height=\"1000\"/>");
      repeat (text, 30, "</g>");
    }
  g_string_append (text, CLOSE);
}

static void
make_filter_functions (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<rect id=\"r\" width=\"1000\" height=\"1000\" style=\"filter:");
  repeat (text, 3000, " blur(9px)");
  g_string_append (text, "\"/>" CLOSE);
}

/* Half-transparent groups as large as the sheet: within the caps, and a picture of its own for each. */
static void
make_layers (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<g id=\"g\">");
  repeat (text, 3500, "<g opacity=\".9\"><path d=\"M0 0H1000V1000H0z\"/><path d=\"M9 9H900V900H9z\" fill=\"#fff\"/></g>");
  g_string_append (text, "</g>" CLOSE);
}

static void
make_masks (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<mask id=\"m\" maskUnits=\"userSpaceOnUse\" width=\"1000\" height=\"1000\"><circle r=\"900\" fill=\"#fff\"/></mask><g id=\"g\">");
  repeat (text, 3000, "<rect width=\"1000\" height=\"1000\" mask=\"url(#m)\"/>");
  g_string_append (text, "</g>" CLOSE);
}

/* Of the tile, what the rectangle shows is all that the drawing library makes. */
static void
make_large_tile (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<pattern id=\"p\" width=\"20000\" height=\"15000\" patternUnits=\"userSpaceOnUse\"><circle r=\"9000\"/></pattern>"
                         "<rect id=\"r\" width=\"1000\" height=\"1000\" fill=\"url(#p)\"/>" CLOSE);
}

/* ---- outlines and dashes ---- */

/* @extra: attributes of the path. */
static void
make_long_path (GString *text, const char *extra)
{
  g_string_append_printf (text, OPEN "<path id=\"p\" fill=\"none\" stroke=\"#000\" stroke-linejoin=\"round\" %s d=\"M0 0", extra);
  for (guint i = 0; i < 300000; i++)
    g_string_append_printf (text, " L%u %u", i * 7919 % 1000, i * 104729 % 1000);
  g_string_append (text, "\"/>" CLOSE);
}

/* Within the caps of one path, but many: wide round joins all over one another. */
static void
make_wide_strokes (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<g id=\"g\" fill=\"none\" stroke=\"#000\" stroke-width=\"90\" stroke-linejoin=\"round\">");
  for (guint n = 0; n < 4; n++)
    {
      g_string_append (text, "<path d=\"M0 0");
      for (guint i = 0; i < 19000; i++)
        g_string_append_printf (text, " L%u %u", (i + n) * 7919 % 1000, i * 104729 % 1000);
      g_string_append (text, "\"/>");
    }
  g_string_append (text, "</g>" CLOSE);
}

/* One letter a segment: a cap that counted numbers by twos would see half. */
static void
make_short_segments (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<path id=\"p\" d=\"M0 0");
  repeat (text, 30000, "h1");
  g_string_append (text, "\"/>" CLOSE);
}

static void
make_dash_list (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<path id=\"p\" d=\"M0 0H1000\" stroke=\"#000\" stroke-dasharray=\"");
  repeat (text, 20000, "1 2 ");
  g_string_append (text, "\"/>" CLOSE);
}

/* ---- style sheets ---- */

static void
append_groups (GString *text)
{
  repeat (text, 20000, "<g class=\"a\"/>");
  g_string_append (text, CLOSE);
}

static void
make_many_rules (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<style>");
  for (guint i = 0; i < 3000; i++)
    g_string_append_printf (text, ".a%u{fill:#000}", i);
  g_string_append (text, "</style>");
  append_groups (text);
}

static void
make_one_rule (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<style>b");
  repeat (text, 20000, extra);
  g_string_append (text, "{fill:#000}</style>");
  append_groups (text);
}

/* ---- pictures and text ---- */

/* A PNG whose header claims 30,000 by 30,000 pixels, with nothing after it. */
static void
make_large_picture (GString *text, const char *extra)
{
  static const guint8 png[33] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n', 0, 0, 0, 13, 'I', 'H', 'D', 'R', 0, 0, 0x75, 0x30, 0, 0, 0x75, 0x30, 8, 6, 0, 0, 0 };
  g_autofree char *base64 = g_base64_encode (png, sizeof png);

  g_string_append_printf (text, OPEN "<image id=\"i\" width=\"9\" height=\"9\" xlink:href=\"data:image/png;base64,%s\"/>" CLOSE, base64);
}

/* The header of a small one, and rubbish for the rest. */
static void
make_broken_picture (GString *text, const char *extra)
{
  static const guint8 png[60] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n', 0, 0, 0, 13, 'I', 'H', 'D', 'R', 0, 0, 0, 9, 0, 0, 0, 9, 8, 6, 0, 0, 0, 1, 2, 3, 4 };
  g_autofree char *base64 = g_base64_encode (png, sizeof png);

  g_string_append_printf (text, OPEN "<image id=\"i\" width=\"9\" height=\"9\" xlink:href=\"data:image/png;base64,%s\"/>" CLOSE, base64);
}

/* @extra: attributes of each of eleven texts of 19,000 letters. */
static void
make_much_text (GString *text, const char *extra)
{
  g_autofree char *letters = g_strnfill (19000, 'a');

  g_string_append (text, OPEN);
  for (guint i = 0; i < 11; i++)
    g_string_append_printf (text, "<text y=\"9\" %s>%s</text>", extra, letters);
  g_string_append (text, CLOSE);
}

static void
make_stops (GString *text, const char *extra)
{
  g_string_append (text, OPEN "<linearGradient id=\"g\">");
  repeat (text, 2000, "<stop offset=\".5\" stop-color=\"#f00\"/>");
  g_string_append (text, "</linearGradient><rect id=\"r\" width=\"900\" height=\"900\" fill=\"url(#g)\"/>" CLOSE);
}

static void
make_long_id (GString *text, const char *extra)
{
  g_autofree char *letters = g_strnfill (60000, 'a');

  g_string_append_printf (text, OPEN "<rect id=\"%s\" width=\"9\" height=\"9\"/>" CLOSE, letters);
}

/* ---- the list ---- */

#define RECT "<rect id=\"r\" width=\"900\" height=\"900\""

const HostileFile hostile_files[] = {
  /* bytes that are no drawing */
  { "empty", HOSTILE_NOT_XML, make_whole, "" },
  { "white space alone", HOSTILE_NOT_XML, make_whole, " \n\t\n" },
  { "packed bomb", HOSTILE_NOT_XML, make_packed, NULL },
  { "packed, cut off", HOSTILE_NOT_XML, make_packed_cut_off, NULL },
  { "not UTF-8", HOSTILE_NOT_XML, make_body, "<g id=\"\xc3\x28\"/>" },
  { "UTF-16", HOSTILE_NOT_XML, make_utf16, NULL },
  { "a null byte", HOSTILE_NOT_XML, make_null_byte, NULL },
  { "UTF-7 that hides an entity", HOSTILE_NOT_XML, make_whole,
    "<?xml version=\"1.0\" encoding=\"UTF-7\"?>+ADwAIQ-DOCTYPE svg +AFsAPAAh-ENTITY a SYSTEM +ACI-file:///etc/passwd+ACIAPgBdAD4-<svg/>" },
  { "a declaration that does not end", HOSTILE_NOT_XML, make_whole, "<?xml version=\"1.0\" encoding=\"UTF-8\"" },
  { "cut off in a tag", HOSTILE_NOT_XML, make_whole, "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 9 9" },
  { "cut off in a CDATA section", HOSTILE_NOT_XML, make_whole, OPEN "<style><![CDATA[ .a { fill: red }" },
  { "two roots", HOSTILE_NOT_XML, make_whole, OPEN CLOSE OPEN CLOSE },
  { "an undeclared prefix", HOSTILE_NOT_XML, make_body, "<no:g/>" },
  { "12 MB of comment", HOSTILE_TOO_LARGE, make_long_comment, NULL },
  { "other XML", HOSTILE_NOT_SVG, make_whole, "<drawing/>" },
  { "another namespace", HOSTILE_NOT_SVG, make_whole, "<svg xmlns=\"http://example.org/not-svg\" viewBox=\"0 0 9 9\"/>" },
  /* entities and inclusions */
  { "quadratic entity", HOSTILE_REFUSED, make_quadratic_entity, NULL },
  { "a thousand million laughs", HOSTILE_REFUSED, make_laughs, NULL },
  { "a file by entity", HOSTILE_REFUSED, make_whole, "<!DOCTYPE svg [<!ENTITY a SYSTEM \"file:///etc/passwd\">]>\n" OPEN "<text y=\"9\">&a;</text>" CLOSE },
  { "a parameter entity", HOSTILE_REFUSED, make_whole, "<!DOCTYPE svg [<!ENTITY % a SYSTEM \"http://example.org/a.dtd\"> %a;]>\n" OPEN CLOSE },
  { "a link by default", HOSTILE_REFUSED, make_whole, "<!DOCTYPE svg [<!ATTLIST image href CDATA \"file:///etc/passwd\">]>\n" OPEN "<image width=\"9\" height=\"9\"/>" CLOSE },
  { "an entity nobody declared", HOSTILE_NOT_XML, make_body, "<text y=\"9\">&secret;</text>" },
  { "a DTD from a file", HOSTILE_LET_IN, make_whole, "<!DOCTYPE svg SYSTEM \"file:///etc/passwd\">\n" OPEN RECT "/>" CLOSE },
  { "an inclusion of itself", HOSTILE_REFUSED, make_body, "<xi:include xmlns:xi=\"http://www.w3.org/2001/XInclude\" href=\"figure.svg\"/>" },
  { "an inclusion of a file as text", HOSTILE_REFUSED, make_body, "<text><xi:include xmlns:xi=\"http://www.w3.org/2001/XInclude\" parse=\"text\" href=\"/etc/passwd\"/></text>" },
  /* sheets that no table is large enough for */
  { "width 0", HOSTILE_SIZE, make_sheet, "viewBox=\"0 0 0 9\"" },
  { "width below 0", HOSTILE_SIZE, make_sheet, "viewBox=\"0 0 -9 9\"" },
  { "width not a number", HOSTILE_SIZE, make_sheet, "viewBox=\"0 0 nan 9\"" },
  { "width without end", HOSTILE_SIZE, make_sheet, "viewBox=\"0 0 inf 9\"" },
  { "width 1e308", HOSTILE_SIZE, make_sheet, "viewBox=\"0 0 1e308 1e308\"" },
  { "width 1e400", HOSTILE_SIZE, make_sheet, "viewBox=\"0 0 1e400 1e400\"" },
  { "width 1e-300", HOSTILE_SIZE, make_sheet, "viewBox=\"0 0 1e-300 1e-300\"" },
  { "corner at 1e300", HOSTILE_SIZE, make_sheet, "viewBox=\"1e300 0 9 9\"" },
  { "no size at all", HOSTILE_SIZE, make_sheet, "" },
  { "a size of the window's", HOSTILE_SIZE, make_sheet, "width=\"100%\" height=\"100%\"" },
  { "sheets in sheets", HOSTILE_LET_IN, make_nested_sheets, NULL },
  /* links that lead out of the file */
  { "a picture from the network", HOSTILE_REFUSED, make_body, "<image xlink:href=\"http://example.org/a.png\" width=\"9\" height=\"9\"/>" },
  { "a picture from a file", HOSTILE_REFUSED, make_body, "<image href=\"/etc/passwd\" width=\"9\" height=\"9\"/>" },
  { "a drawing in a picture", HOSTILE_REFUSED, make_body, "<image href=\"data:image/svg+xml;base64,PHN2Zy8+\" width=\"9\" height=\"9\"/>" },
  { "a copy from a file", HOSTILE_REFUSED, make_body, "<use xlink:href=\"other.svg#a\"/>" },
  { "an effect's picture from a file", HOSTILE_REFUSED, make_body, "<filter id=\"f\"><feImage xlink:href=\"file:///etc/passwd\"/></filter>" },
  { "letters along a path from a file", HOSTILE_REFUSED, make_body, "<text><textPath xlink:href=\"other.svg#p\">a</textPath></text>" },
  { "a script from the network", HOSTILE_REFUSED, make_body, "<script xlink:href=\"http://example.org/a.js\"/>" },
  { "a script by a link", HOSTILE_REFUSED, make_body, "<a xlink:href=\"javascript:alert(1)\"><rect width=\"9\" height=\"9\"/></a>" },
  { "a style sheet by a link", HOSTILE_REFUSED, make_body, "<link xmlns=\"http://www.w3.org/1999/xhtml\" rel=\"stylesheet\" href=\"file:///etc/a.css\"/>" },
  { "a style sheet by an instruction", HOSTILE_REFUSED, make_whole, "<?xml-stylesheet type=\"text/css\" href=\"a.css\"?>\n" OPEN CLOSE },
  { "a style sheet by import", HOSTILE_REFUSED, make_body, "<style>@import url(http://example.org/a.css);</style>" },
  { "an import in capitals", HOSTILE_REFUSED, make_body, "<style>@IMPORT 'a.css';</style>" },
  { "a font from the network", HOSTILE_REFUSED, make_body, "<style>@font-face{font-family:a;src:url(http://example.org/a.ttf)}</style>" },
  { "a font by an element", HOSTILE_REFUSED, make_body, "<font-face><font-face-src><font-face-uri xlink:href=\"file:///a.svg#f\"/></font-face-src></font-face>" },
  { "a fill from a file", HOSTILE_REFUSED, make_body, RECT " fill=\"url(other.svg#a)\"/>" },
  { "a mask from a file, in capitals", HOSTILE_REFUSED, make_body, RECT " style=\"mask: URL( 'other.svg#a' )\"/>" },
  { "a fill behind an escape", HOSTILE_REFUSED, make_body, RECT " style=\"fill: u\\72l(other.svg#a)\"/>" },
  { "an HTML page", HOSTILE_LET_IN, make_body, "<foreignObject id=\"o\" width=\"9\" height=\"9\"><img xmlns=\"http://www.w3.org/1999/xhtml\" src=\"http://example.org/a.png\"/></foreignObject>" },
  { "a base elsewhere", HOSTILE_LET_IN, make_body, "<g xml:base=\"http://example.org/\">" RECT "/></g>" },
  /* links that expand */
  { "a chain of 1,200 copies", HOSTILE_TOO_LARGE, make_use_chain, NULL },
  { "a chain of 20,000 copies, forwards", HOSTILE_TOO_LARGE, make_use_chain_forwards, NULL },
  { "copies of copies", HOSTILE_TOO_LARGE, make_copies, "<rect width=\"9\" height=\"9\"/>" },
  { "copies of texts", HOSTILE_TOO_LARGE, make_copies, "<text y=\"9\">the quick brown fox jumps over the lazy dog</text>" },
  { "copies of symbols", HOSTILE_TOO_LARGE, make_copies_of_symbols, NULL },
  { "a copy of itself", HOSTILE_REFUSED, make_body, "<g id=\"a\"><use xlink:href=\"#a\"/></g>" },
  { "two that copy each other", HOSTILE_REFUSED, make_body, "<g id=\"a\"><use xlink:href=\"#b\"/></g><g id=\"b\"><use xlink:href=\"#a\"/></g>" },
  { "a pattern of itself", HOSTILE_REFUSED, make_body, "<pattern id=\"p\" width=\"9\" height=\"9\"><rect width=\"9\" height=\"9\" fill=\"url(#p)\"/></pattern>" RECT " fill=\"url(#p)\"/>" },
  { "a pattern in a pattern", HOSTILE_TOO_LARGE, make_server_chain, "pattern fill" },
  { "a mask of a mask", HOSTILE_TOO_LARGE, make_server_chain, "mask mask" },
  { "a clip of a clip", HOSTILE_TOO_LARGE, make_server_chain, "clipPath clip-path" },
  { "markers", HOSTILE_TOO_LARGE, make_markers, "marker-mid=\"url(#m)\"" },
  { "markers by a style", HOSTILE_TOO_LARGE, make_markers, "style=\"marker-mid : url(#m)\"" },
  { "markers by a short style", HOSTILE_TOO_LARGE, make_markers, "style=\"/* : */marker:url('#m')\"" },
  { "markers by a style sheet", HOSTILE_REFUSED, make_body, "<style>path{Marker-Mid:url(#m)}</style><marker id=\"m\"><circle r=\"1\"/></marker><path d=\"M0 0L9 9\"/>" },
  { "an inherited pattern", HOSTILE_TOO_LARGE, make_inherited_pattern, NULL },
  /* nesting and number */
  { "200 groups deep", HOSTILE_TOO_LARGE, make_deep, "200" },
  { "200,000 groups deep", HOSTILE_TOO_LARGE, make_deep, "200000" },
  { "100,001 elements", HOSTILE_TOO_LARGE, make_many, "<g/>" },
  { "3,000 parts", HOSTILE_FAILED, make_many_roots, NULL },
  { "an attribute of 9 MB", HOSTILE_TOO_LARGE, make_long_attribute, NULL },
  /* effects */
  { "noise of 1,000 octaves", HOSTILE_TOO_LARGE, make_filter, "<feTurbulence baseFrequency=\".9\" numOctaves=\"1000\"/>" },
  { "2,000 noises", HOSTILE_TOO_LARGE, make_long_filter, NULL },
  { "a blur of 90,000", HOSTILE_TOO_LARGE, make_filter, "<feGaussianBlur stdDeviation=\"90000\"/>" },
  { "a blur of no number", HOSTILE_TOO_LARGE, make_filter, "<feGaussianBlur stdDeviation=\"nan\"/>" },
  { "a thick outline", HOSTILE_TOO_LARGE, make_filter, "<feMorphology operator=\"dilate\" radius=\"150\"/>" },
  { "a matrix of 1,000", HOSTILE_TOO_LARGE, make_filter, "<feConvolveMatrix order=\"1000\" kernelMatrix=\"1\"/>" },
  { "filters of filters", HOSTILE_TOO_LARGE, make_filters_of_filters, NULL },
  { "3,000 blurs in a style", HOSTILE_TOO_LARGE, make_filter_functions, NULL },
  { "3,500 half-transparent sheets", HOSTILE_TOO_LONG, make_layers, NULL },
  { "3,000 masks", HOSTILE_MEMORY, make_masks, NULL },
  { "a tile of 300 million pixels", HOSTILE_LET_IN, make_large_tile, NULL },
  { "a tile of a millionth", HOSTILE_LET_IN, make_body, "<pattern id=\"p\" width=\"1e-6\" height=\"1e-6\" patternUnits=\"userSpaceOnUse\"><rect width=\"9\" height=\"9\"/></pattern>" RECT " fill=\"url(#p)\"/>" },
  /* outlines, dashes */
  { "a wide stroke of 300,000 segments", HOSTILE_TOO_LARGE, make_long_path, "stroke-width=\"90\"" },
  { "30,000 short segments", HOSTILE_TOO_LARGE, make_short_segments, NULL },
  { "wide strokes under the caps", HOSTILE_TOO_LONG, make_wide_strokes, NULL },
  { "fine dashes", HOSTILE_TOO_LARGE, make_body, "<path id=\"p\" d=\"M0 0H1000\" stroke=\"#000\" stroke-dasharray=\".0001\"/>" },
  { "fine dashes in a style", HOSTILE_TOO_LARGE, make_body, "<path id=\"p\" d=\"M0 0H1000\" stroke=\"#000\" style=\"STROKE-DASHARRAY /**/ : .0001, 0\"/>" },
  { "fine dashes in a style sheet", HOSTILE_TOO_LARGE, make_body, "<style>@media all{path{stroke-dasharray :.0001}}</style><path id=\"p\" d=\"M0 0H1000\" stroke=\"#000\"/>" },
  { "40,000 dashes of a pattern", HOSTILE_TOO_LARGE, make_dash_list, NULL },
  { "coordinates of 1e300", HOSTILE_LET_IN, make_body, "<path id=\"p\" d=\"M-1e300 0 L1e300 1e300 C1e308 -1e308 nan inf 0 0 z\" stroke=\"#000\"/>" },
  { "a scale of 1e300", HOSTILE_LET_IN, make_body, "<g transform=\"scale(1e300)\">" RECT " transform=\"scale(1e300) rotate(nan) matrix(0 0 0 0 0 0)\"/></g>" },
  /* style sheets */
  { "3,000 rules", HOSTILE_TOO_LARGE, make_many_rules, NULL },
  { "one rule of 20,000 selectors", HOSTILE_TOO_LARGE, make_one_rule, ",b" },
  { "one selector of 20,000 parts", HOSTILE_TOO_LARGE, make_one_rule, " *" },
  { "an unfinished style sheet", HOSTILE_LET_IN, make_body, "<style>}}} @media { /* .a { fill: red</style>" RECT "/>" },
  /* pictures and text */
  { "a picture of 900 million pixels", HOSTILE_TOO_LARGE, make_large_picture, NULL },
  { "a broken picture", HOSTILE_LET_IN, make_broken_picture, NULL },
  { "a picture of nonsense", HOSTILE_REFUSED, make_body, "<image href=\"data:image/png;base64,AAAA\" width=\"9\" height=\"9\"/>" },
  { "eleven long texts", HOSTILE_TOO_LARGE, make_much_text, "" },
  { "letters of 1e30", HOSTILE_CRASHED, make_body, "<text id=\"t\" y=\"9\" font-size=\"1e30\" letter-spacing=\"1e30\">a b</text>" },
  { "2,000 stops", HOSTILE_LET_IN, make_stops, NULL },
  /* ids */
  { "two of one id", HOSTILE_LET_IN, make_body, RECT "/>" RECT "/>" },
  { "odd ids", HOSTILE_LET_IN, make_body, "<g id=\"a b#c)'%41&quot;&lt;\"><rect width=\"9\" height=\"9\"/></g><g id=\"\"/><g id=\"\xd8\xa7\xe2\x80\xae\xf0\x9f\x94\xa9\"><rect width=\"9\" height=\"9\"/></g>" },
  { "an id of 60,000 letters", HOSTILE_TOO_LARGE, make_long_id, NULL },
  { "an id of Pawl's own", HOSTILE_REFUSED, make_body, "<rect width=\"9\" height=\"9\"/><g id=\"pawl-filler-0\"><rect width=\"9\" height=\"9\"/></g>" },
  { "a part where nothing is drawn", HOSTILE_LET_IN, make_body, "<clipPath id=\"c\"><g id=\"in-clip\"><rect width=\"9\" height=\"9\"/></g></clipPath><g id=\"part\" clip-path=\"url(#c)\" display=\"none\">" RECT "/></g>"
    "<switch id=\"s\"><g id=\"in-switch\" systemLanguage=\"tlh\"><rect width=\"9\" height=\"9\"/></g></switch>" },
};

const guint n_hostile_files = G_N_ELEMENTS (hostile_files);

GBytes *
hostile_make (const HostileFile *file)
{
  GString *text = g_string_new (NULL);

  file->make (text, file->extra);
  return g_string_free_to_bytes (text);
}

const HostileFile *
hostile_find (const char *name)
{
  for (guint i = 0; i < n_hostile_files; i++)
    if (g_str_equal (hostile_files[i].name, name))
      return &hostile_files[i];
  g_error ("there is no hostile file “%s”", name);
}
