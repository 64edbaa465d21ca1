#include "drawing/pawl-figure-scan.h"

#include <libxml/xmlreader.h>
#include <math.h>
#include <string.h>

#include "drawing/pawl-figure-links.h"

#define SVG_NAMESPACE "http://www.w3.org/2000/svg"
#define XINCLUDE_PREFIX "http://www.w3.org/2001/XInclude"

G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlTextReader, xmlFreeTextReader)

typedef struct {
  const char     *name;
  xmlTextReader  *reader;
  PawlFigureScan *scan;
  PawlLinks      *links;
  int             line; /* of the node in hand; of a start tag over several lines, its last one */
  guint           n_elements;
  guint           n_segments;
  gsize           n_text;
  guint           n_rules;
  int             sheet_line; /* of the last style sheet */
  double          n_pixels;
  char           *xml_fault; /* what the XML reader said first */
  int             xml_line;
  int             xml_code;
  GError        **error;
} Scanner;

static gboolean G_GNUC_PRINTF (3, 4)
refuse (Scanner *self, PawlFigureError code, const char *format, ...)
{
  g_autofree char *words = NULL;
  va_list list;

  va_start (list, format);
  words = g_strdup_vprintf (format, list);
  va_end (list);
  g_set_error (self->error, PAWL_FIGURE_ERROR, code, "%s:%d: %s", self->name, self->line, words);
  return FALSE;
}

static void
add_finding (Scanner *self, const char *words)
{
  g_ptr_array_add (self->scan->findings, g_strdup_printf ("%s:%d: %s", self->name, self->line, words));
}

/* ---- numbers in attributes ---- */

/* The numbers of a list, whatever stands between them. Returns how many were there; at most @max are kept. */
static guint
read_numbers (const char *text, double *numbers, guint max)
{
  guint n = 0;

  while (*text)
    {
      char *end;
      double number = g_ascii_strtod (text, &end);

      if (end == text)
        {
          text++;
          continue;
        }
      if (n < max)
        numbers[n] = number;
      n++;
      text = end;
    }
  return n;
}

static gboolean
check_view_box (Scanner *self, const char *view_box, const char *width, const char *height)
{
  double numbers[4] = { 0 }, size[2] = { 0 };
  gboolean has_size = width && height && read_numbers (width, &size[0], 1) == 1 && read_numbers (height, &size[1], 1) == 1
                      && !strchr (width, '%') && !strchr (height, '%');

  if (view_box)
    {
      if (read_numbers (view_box, numbers, 4) != 4)
        return refuse (self, PAWL_FIGURE_ERROR_SIZE, "viewBox=\"%.60s\" is not four numbers: x y width height", view_box);
    }
  else if (has_size)
    {
      numbers[2] = size[0];
      numbers[3] = size[1];
    }
  else
    return refuse (self, PAWL_FIGURE_ERROR_SIZE, "the <svg> element has no viewBox, which says how large the sheet is");
  for (guint i = 0; i < 4; i++)
    if (!isfinite (numbers[i]) || fabs (numbers[i]) > PAWL_FIGURE_MAX_EXTENT)
      return refuse (self, PAWL_FIGURE_ERROR_SIZE, "the sheet reaches to %g; no figure needs more than %g units", numbers[i], PAWL_FIGURE_MAX_EXTENT);
  if (!(numbers[2] > 0 && numbers[3] > 0))
    return refuse (self, PAWL_FIGURE_ERROR_SIZE, "the sheet is %g by %g; both must be more than 0", numbers[2], numbers[3]);
  if (MAX (numbers[2], numbers[3]) > 100 * MIN (numbers[2], numbers[3]))
    return refuse (self, PAWL_FIGURE_ERROR_SIZE, "the sheet is %g by %g, more than 100 times as long as wide", numbers[2], numbers[3]);
  if (has_size && MAX (size[0], size[1]) > PAWL_FIGURE_MAX_EXTENT)
    return refuse (self, PAWL_FIGURE_ERROR_SIZE, "width and height are %g by %g; no figure needs more than %g", size[0], size[1], PAWL_FIGURE_MAX_EXTENT);
  self->scan->view_box = (PawlBox) { numbers[0], numbers[1], numbers[2], numbers[3] };
  self->scan->has_view_box = view_box != NULL;
  return TRUE;
}

/* Segments of a path, or corners of a polyline: each has two numbers or more, and an arc has seven, so this counts too many rather than too few. */
static gboolean
check_path (Scanner *self, const char *data)
{
  guint n = MAX (1, read_numbers (data, NULL, 0) / 2);

  pawl_links_set_corners (self->links, n);
  if (n > PAWL_FIGURE_MAX_SEGMENTS)
    return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "one path has about %u segments; split or simplify it to %d or fewer", n, PAWL_FIGURE_MAX_SEGMENTS);
  self->n_segments += n;
  if (self->n_segments > PAWL_FIGURE_MAX_ALL_SEGMENTS)
    return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "all paths together have over %d segments", PAWL_FIGURE_MAX_ALL_SEGMENTS);
  return TRUE;
}

/* Dashes so fine that drawing them never ends. */
static gboolean
check_dashes (Scanner *self, const char *value)
{
  double numbers[16] = { 0 }, period = 0;
  guint n = MIN (16, read_numbers (value, numbers, 16));

  for (guint i = 0; i < n; i++)
    period += fabs (numbers[i]);
  if (n > 0 && period > 0 && period * PAWL_FIGURE_MAX_DASHES < hypot (self->scan->view_box.width, self->scan->view_box.height))
    return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a dash pattern %g long is too fine for a sheet of this size", period);
  return TRUE;
}

static gboolean
check_filter_number (Scanner *self, const char *attribute, const char *value)
{
  double numbers[2] = { 0 };
  guint n = MIN (2, read_numbers (value, numbers, 2));

  for (guint i = 0; i < n; i++)
    {
      if (g_str_equal (attribute, "numOctaves") && !(numbers[i] <= PAWL_FIGURE_MAX_OCTAVES))
        return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a noise filter of %g octaves; %d is the most", numbers[i], PAWL_FIGURE_MAX_OCTAVES);
      if ((g_str_equal (attribute, "stdDeviation") || g_str_equal (attribute, "radius")) && !(numbers[i] <= PAWL_FIGURE_MAX_BLUR))
        return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a filter that reaches %g units; %g is the most", numbers[i], PAWL_FIGURE_MAX_BLUR);
      if (g_str_equal (attribute, "order") && !(numbers[i] <= 16))
        return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a filter matrix of order %g; 16 is the most", numbers[i]);
    }
  return TRUE;
}

/* ---- links ---- */

static guint
read_u32 (const guint8 *p)
{
  return (guint) p[0] << 24 | p[1] << 16 | p[2] << 8 | p[3];
}

/* Width times height as the picture's own header says, without unpacking it; 0 when that can't be found. */
static double
read_picture_pixels (const guint8 *data, gsize length)
{
  static const guint8 png[] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n' };

  if (length > 24 && memcmp (data, png, sizeof png) == 0)
    return (double) read_u32 (data + 16) * read_u32 (data + 20);
  if (length > 4 && data[0] == 0xff && data[1] == 0xd8)
    for (gsize at = 2; at + 9 < length && data[at] == 0xff;)
      {
        guint8 marker = data[at + 1];

        /* A frame header: C0 to CF, but for the three that are tables. */
        if (marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc)
          return (double) (data[at + 5] << 8 | data[at + 6]) * (data[at + 7] << 8 | data[at + 8]);
        at += 2 + (gsize) (data[at + 2] << 8 | data[at + 3]);
      }
  return 0;
}

static gboolean
check_picture (Scanner *self, const char *href)
{
  const char *comma = strchr (href, ',');
  g_autofree guint8 *data = NULL;
  gsize length;
  double n_pixels;

  if (!(g_str_has_prefix (href, "data:image/png;base64,") || g_str_has_prefix (href, "data:image/jpeg;base64,")))
    return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "a picture must lie in the file itself, as data:image/png;base64 or data:image/jpeg;base64, not \"%.60s\"", href);
  data = g_base64_decode (comma + 1, &length);
  n_pixels = read_picture_pixels (data, length);
  if (n_pixels <= 0)
    return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "a picture in the file is neither PNG nor JPEG");
  self->n_pixels += n_pixels;
  if (self->n_pixels > PAWL_FIGURE_MAX_PIXELS)
    return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "pictures of %.0f million pixels; %.0f million is the most", self->n_pixels / 1e6, PAWL_FIGURE_MAX_PIXELS / 1e6);
  return TRUE;
}

static gboolean
check_link (Scanner *self, const char *element, const char *href)
{
  while (g_ascii_isspace (*href))
    href++;
  if (*href == '#')
    {
      pawl_links_add (self->links, href + 1, FALSE);
      return TRUE;
    }
  if (g_str_equal (element, "image") || g_str_equal (element, "feImage"))
    return check_picture (self, href);
  return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "<%s> links to \"%.60s\", outside the file; a figure must be complete in itself", element, href);
}

/* url(…) in an attribute, a style or a style sheet. */
static gboolean
check_urls (Scanner *self, const char *text, gboolean is_marker, gboolean is_sheet)
{
  while ((text = strstr (text, "url(")))
    {
      g_autofree char *target = NULL;
      const char *end;

      text += 4;
      while (g_ascii_isspace (*text) || *text == '"' || *text == '\'')
        text++;
      end = text + strcspn (text, "\"')");
      target = g_strstrip (g_strndup (text, end - text));
      if (*target != '#')
        return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "url(%.60s) lies outside the file; a figure must be complete in itself", target);
      if (is_sheet)
        pawl_links_add_for_all (self->links, target + 1);
      else
        pawl_links_add (self->links, target + 1, is_marker);
      text = end;
    }
  return TRUE;
}

static gboolean
check_sheet (Scanner *self, const char *text)
{
  const char *dash = strstr (text, "stroke-dasharray:");

  self->sheet_line = self->line;
  for (const char *brace = strchr (text, '{'); brace; brace = strchr (brace + 1, '{'))
    self->n_rules++;
  if (strstr (text, "@import"))
    return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "@import in a style sheet reaches outside the file");
  if (strstr (text, "marker:") || strstr (text, "marker-"))
    return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "markers set by a style sheet can't be counted; set them on the elements");
  if (strchr (text, '\\'))
    return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "escapes (\\) in a style sheet are not read; write the characters themselves");
  for (; dash; dash = strstr (dash + 1, "stroke-dasharray:"))
    {
      g_autofree char *value = g_strndup (dash + 17, strcspn (dash + 17, ";}"));

      if (!check_dashes (self, value))
        return FALSE;
    }
  return check_urls (self, text, FALSE, TRUE);
}

/* ---- elements ---- */

static gboolean
check_attribute (Scanner *self, const char *element, const char *attribute, const char *value)
{
  if (g_str_equal (attribute, "href"))
    return check_link (self, element, value);
  if (g_str_equal (attribute, "d") || g_str_equal (attribute, "points"))
    return check_path (self, value);
  if (g_str_equal (attribute, "stroke-dasharray"))
    return check_dashes (self, value);
  if (g_str_equal (attribute, "style"))
    {
      const char *dash = strstr (value, "stroke-dasharray:");
      g_autofree char *dashes = dash ? g_strndup (dash + 17, strcspn (dash + 17, ";")) : NULL;

      if (strchr (value, '\\'))
        return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "escapes (\\) in a style are not read; write the characters themselves");
      return (!dashes || check_dashes (self, dashes)) && check_urls (self, value, strstr (value, "marker") != NULL, FALSE);
    }
  if (g_str_has_prefix (element, "fe") && !check_filter_number (self, attribute, value))
    return FALSE;
  return check_urls (self, value, g_str_has_prefix (attribute, "marker"), FALSE);
}

static gboolean
check_attributes (Scanner *self, const char *element)
{
  while (xmlTextReaderMoveToNextAttribute (self->reader) == 1)
    {
      const char *attribute = (const char *) xmlTextReaderConstLocalName (self->reader);
      const char *value = (const char *) xmlTextReaderConstValue (self->reader);

      if (value && !xmlTextReaderIsNamespaceDecl (self->reader) && !check_attribute (self, element, attribute, value))
        return FALSE;
    }
  xmlTextReaderMoveToElement (self->reader);
  return TRUE;
}

static char *
dup_attribute (Scanner *self, const char *name)
{
  xmlChar *value = xmlTextReaderGetAttribute (self->reader, (const xmlChar *) name);
  char *copy = g_strdup ((const char *) value);

  xmlFree (value);
  return copy;
}

static gboolean
check_root (Scanner *self, const char *element, const char *uri)
{
  g_autofree char *view_box = dup_attribute (self, "viewBox");
  g_autofree char *width = dup_attribute (self, "width");
  g_autofree char *height = dup_attribute (self, "height");

  if (!g_str_equal (element, "svg"))
    return refuse (self, PAWL_FIGURE_ERROR_NOT_SVG, "not an SVG drawing: it begins with <%s>, not <svg>", element);
  if (g_strcmp0 (uri, SVG_NAMESPACE) != 0)
    return refuse (self, PAWL_FIGURE_ERROR_NOT_SVG, "the <svg> element lacks xmlns=\"" SVG_NAMESPACE "\"");
  return check_view_box (self, view_box, width, height);
}

static gboolean
check_element (Scanner *self)
{
  const char *element = (const char *) xmlTextReaderConstLocalName (self->reader);
  const char *uri = (const char *) xmlTextReaderConstNamespaceUri (self->reader);
  int depth = xmlTextReaderDepth (self->reader);
  g_autofree char *id = dup_attribute (self, "id");

  if (++self->n_elements > PAWL_FIGURE_MAX_ELEMENTS)
    return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "over %d elements", PAWL_FIGURE_MAX_ELEMENTS);
  if (depth >= PAWL_FIGURE_MAX_DEPTH)
    return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "elements nested more than %d deep", PAWL_FIGURE_MAX_DEPTH);
  if (uri && g_str_has_prefix (uri, XINCLUDE_PREFIX))
    return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "<%s> would take in another file; a figure must be complete in itself", element);
  if (depth == 0 && !check_root (self, element, uri))
    return FALSE;
  if (g_str_equal (element, "feDropShadow"))
    add_finding (self, "feDropShadow draws nothing here; use feGaussianBlur, feOffset and feMerge");
  if (g_str_equal (element, "script") || g_str_equal (element, "foreignObject"))
    add_finding (self, "scripts and foreign objects are neither run nor drawn");
  pawl_links_open (self->links, element, id, self->line);
  if (!check_attributes (self, element))
    return FALSE;
  if (xmlTextReaderIsEmptyElement (self->reader))
    pawl_links_close (self->links);
  return TRUE;
}

static gboolean
check_text (Scanner *self, gsize length)
{
  static const char * const drawn[] = { "text", "tspan", "textPath", "tref", "a", NULL };

  if (!g_strv_contains (drawn, pawl_links_peek_element (self->links) ? pawl_links_peek_element (self->links) : ""))
    return TRUE;
  self->n_text += length;
  if (length > PAWL_FIGURE_MAX_TEXT)
    return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a text of over %d characters", PAWL_FIGURE_MAX_TEXT);
  if (self->n_text > PAWL_FIGURE_MAX_ALL_TEXT)
    return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "all texts together have over %d characters", PAWL_FIGURE_MAX_ALL_TEXT);
  return TRUE;
}

static gboolean
check_node (Scanner *self)
{
  const char *value = (const char *) xmlTextReaderConstValue (self->reader);

  self->line = MAX (1, (int) xmlGetLineNo (xmlTextReaderCurrentNode (self->reader)));
  switch (xmlTextReaderNodeType (self->reader))
    {
    case XML_READER_TYPE_ELEMENT:
      return check_element (self);
    case XML_READER_TYPE_END_ELEMENT:
      pawl_links_close (self->links);
      return TRUE;
    case XML_READER_TYPE_TEXT:
    case XML_READER_TYPE_CDATA:
      if (value && g_strcmp0 (pawl_links_peek_element (self->links), "style") == 0)
        return check_sheet (self, value);
      return !value || check_text (self, strlen (value));
    case XML_READER_TYPE_ENTITY_REFERENCE:
      return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "&%s; is not known; only the five entities of XML itself are",
                     (const char *) xmlTextReaderConstName (self->reader));
    case XML_READER_TYPE_PROCESSING_INSTRUCTION:
      if (g_strcmp0 ((const char *) xmlTextReaderConstName (self->reader), "xml-stylesheet") == 0)
        return refuse (self, PAWL_FIGURE_ERROR_REFUSED, "<?xml-stylesheet?> reaches outside the file; put the style in the file");
      return TRUE;
    default:
      return TRUE;
    }
}

static void
xml_error_cb (void *data, xmlErrorPtr fault)
{
  Scanner *self = data;

  if (self->xml_fault || fault->level < XML_ERR_ERROR)
    return;
  self->xml_fault = g_strchomp (g_strdup (fault->message));
  self->xml_line = fault->line;
  self->xml_code = fault->code;
}

static gboolean
scan_nodes (Scanner *self)
{
  int more;

  while ((more = xmlTextReaderRead (self->reader)) == 1)
    if (!check_node (self))
      return FALSE;
  if ((more < 0 || self->xml_fault) && self->xml_code == XML_ERR_DOCUMENT_END && pawl_links_peek_element (self->links))
    {
      g_set_error (self->error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:%d: not well-formed XML: <%s> is never closed", self->name,
                   pawl_links_get_open_line (self->links), pawl_links_peek_element (self->links));
      return FALSE;
    }
  if (more < 0 || self->xml_fault)
    {
      g_set_error (self->error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:%d: not well-formed XML: %s", self->name,
                   MAX (1, self->xml_line), self->xml_fault ? self->xml_fault : "it ends too early");
      return FALSE;
    }
  self->line = self->sheet_line;
  if ((double) self->n_rules * self->n_elements > PAWL_FIGURE_MAX_MATCHES)
    return refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "%u style rules for %u elements take too long to match; set the styles on groups", self->n_rules, self->n_elements);
  return pawl_links_check (self->links, self->name, self->error);
}

/* ---- bytes ---- */

static int
count_lines (const char *text, const char *end)
{
  int line = 1;

  for (; text < end; text++)
    line += *text == '\n';
  return line;
}

static gboolean
check_bytes (const char *text, gsize length, const char *name, GError **error)
{
  const char *bad, *entity;

  if (length > PAWL_FIGURE_MAX_BYTES)
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_TOO_LARGE, "%s:1: the file has over %d MiB; a figure has some hundred KiB at most",
                 name, PAWL_FIGURE_MAX_BYTES / 1024 / 1024);
  else if (length >= 2 && (guint8) text[0] == 0x1f && (guint8) text[1] == 0x8b)
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:1: a packed file (.svgz); unpack it first, as plain SVG", name);
  else if (length == 0)
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:1: the file is empty", name);
  else if (!g_utf8_validate (text, length, &bad))
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:%d: not UTF-8 text; save the figure as UTF-8", name, count_lines (text, bad));
  else if ((entity = g_strstr_len (text, length, "<!ENTITY")))
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_REFUSED, "%s:%d: <!ENTITY> is refused; write out what it stands for", name, count_lines (text, entity));
  else
    return TRUE;
  return FALSE;
}

gboolean
pawl_figure_scan (GBytes *bytes, const char *name, PawlFigureScan *scan, GError **error)
{
  gsize length;
  const char *text = g_bytes_get_data (bytes, &length);
  g_autoptr(xmlTextReader) reader = NULL;
  g_autoptr(PawlLinks) links = pawl_links_new ();
  g_autoptr(GPtrArray) findings = g_ptr_array_new_with_free_func (g_free);
  Scanner self = { .name = name, .scan = scan, .links = links, .error = error };
  gboolean is_fine;

  if (!check_bytes (text, length, name, error))
    return FALSE;
  scan->findings = findings;
  reader = xmlReaderForMemory (text, (int) length, NULL, NULL, XML_PARSE_NONET);
  self.reader = reader;
  xmlTextReaderSetStructuredErrorHandler (reader, xml_error_cb, &self);
  is_fine = scan_nodes (&self);
  g_free (self.xml_fault);
  scan->findings = is_fine ? g_steal_pointer (&findings) : NULL;
  return is_fine;
}
