#include "drawing/pawl-figure-scan-private.h"

#include <string.h>

#define SVG_NAMESPACE "http://www.w3.org/2000/svg"
#define XINCLUDE_PREFIX "http://www.w3.org/2001/XInclude"

#define LETTERS_A_SHAPE 4.0

G_DEFINE_AUTOPTR_CLEANUP_FUNC (xmlTextReader, xmlFreeTextReader)

gboolean
pawl_scan_refuse (PawlScanner *self, PawlFigureError code, const char *format, ...)
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
add_finding (PawlScanner *self, const char *words)
{
  g_ptr_array_add (self->scan->findings, g_strdup_printf ("%s:%d: %s", self->name, self->line, words));
}

/* ---- elements ---- */

static gboolean
check_attributes (PawlScanner *self)
{
  while (xmlTextReaderMoveToNextAttribute (self->reader) == 1)
    {
      const char *attribute = (const char *) xmlTextReaderConstLocalName (self->reader);
      const char *value = (const char *) xmlTextReaderConstValue (self->reader);

      if (value && !xmlTextReaderIsNamespaceDecl (self->reader) && !pawl_scan_check_attribute (self, attribute, value))
        return FALSE;
    }
  xmlTextReaderMoveToElement (self->reader);
  return TRUE;
}

static char *
dup_attribute (PawlScanner *self, const char *name)
{
  xmlChar *value = xmlTextReaderGetAttribute (self->reader, (const xmlChar *) name);
  char *copy = g_strdup ((const char *) value);

  xmlFree (value);
  return copy;
}

static gboolean
check_root (PawlScanner *self, const char *element, const char *uri)
{
  g_autofree char *view_box = dup_attribute (self, "viewBox");
  g_autofree char *width = dup_attribute (self, "width");
  g_autofree char *height = dup_attribute (self, "height");

  if (!g_str_equal (element, "svg"))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_NOT_SVG, "not an SVG drawing: it begins with <%s>, not <svg>", element);
  if (g_strcmp0 (uri, SVG_NAMESPACE) != 0)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_NOT_SVG, "the <svg> element lacks xmlns=\"" SVG_NAMESPACE "\"");
  return pawl_scan_check_view_box (self, view_box, width, height);
}

static gboolean
check_element (PawlScanner *self)
{
  const char *element = (const char *) xmlTextReaderConstLocalName (self->reader);
  const char *uri = (const char *) xmlTextReaderConstNamespaceUri (self->reader);
  int depth = xmlTextReaderDepth (self->reader);
  g_autofree char *id = dup_attribute (self, "id");

  if (++self->n_elements > PAWL_FIGURE_MAX_ELEMENTS)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "over %d elements", PAWL_FIGURE_MAX_ELEMENTS);
  if (depth >= PAWL_FIGURE_MAX_DEPTH)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "elements nested more than %d deep", PAWL_FIGURE_MAX_DEPTH);
  if (uri && g_str_has_prefix (uri, XINCLUDE_PREFIX))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "<%s> would take in another file; a figure must be complete in itself", element);
  if (depth == 0 && !check_root (self, element, uri))
    return FALSE;
  if (g_str_equal (element, "feDropShadow"))
    add_finding (self, "feDropShadow draws nothing here; use feGaussianBlur, feOffset and feMerge");
  if (g_str_equal (element, "script") || g_str_equal (element, "foreignObject"))
    add_finding (self, "scripts and foreign objects are neither run nor drawn");
  self->element = element;
  pawl_links_open (self->links, element, id, self->line);
  pawl_scan_weigh_element (self);
  if (!check_attributes (self))
    return FALSE;
  if (xmlTextReaderIsEmptyElement (self->reader))
    pawl_links_close (self->links);
  return TRUE;
}

static gboolean
check_text (PawlScanner *self, gsize length)
{
  static const char * const drawn[] = { "text", "tspan", "textPath", "tref", "a", NULL };

  if (!g_strv_contains (drawn, pawl_links_peek_element (self->links) ? pawl_links_peek_element (self->links) : ""))
    return TRUE;
  self->n_text += length;
  pawl_links_add_weight (self->links, length / LETTERS_A_SHAPE);
  if (length > PAWL_FIGURE_MAX_TEXT)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a text of over %d characters", PAWL_FIGURE_MAX_TEXT);
  if (self->n_text > PAWL_FIGURE_MAX_ALL_TEXT)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "all texts together have over %d characters", PAWL_FIGURE_MAX_ALL_TEXT);
  return TRUE;
}

/* A DOCTYPE that names a public one is harmless, for nothing is fetched; one that declares things of its own may change what is read. */
static gboolean
check_doctype (PawlScanner *self)
{
  const xmlNode *node = xmlTextReaderCurrentNode (self->reader);

  if (node && node->children)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "declarations inside the DOCTYPE are refused; leave out what stands in its brackets");
  return TRUE;
}

static gboolean
check_node (PawlScanner *self)
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
        return pawl_scan_check_sheet (self, value);
      return !value || check_text (self, strlen (value));
    case XML_READER_TYPE_DOCUMENT_TYPE:
      return check_doctype (self);
    case XML_READER_TYPE_ENTITY_REFERENCE:
      return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "&%s; is not known; only the five entities of XML itself are",
                     (const char *) xmlTextReaderConstName (self->reader));
    case XML_READER_TYPE_PROCESSING_INSTRUCTION:
      if (g_strcmp0 ((const char *) xmlTextReaderConstName (self->reader), "xml-stylesheet") == 0)
        return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "<?xml-stylesheet?> reaches outside the file; put the style in the file");
      return TRUE;
    default:
      return TRUE;
    }
}

static void
xml_error_cb (void *data, xmlErrorPtr fault)
{
  PawlScanner *self = data;

  if (self->xml_fault || fault->level < XML_ERR_ERROR)
    return;
  self->xml_fault = g_strchomp (g_strdup (fault->message));
  self->xml_line = fault->line;
  self->xml_code = fault->code;
}

static gboolean
scan_nodes (PawlScanner *self)
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
  if (self->xml_fault && strstr (self->xml_fault, "Huge")) /* the reader's own cap, of 10 million bytes */
    {
      self->line = MAX (1, self->xml_line);
      return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "one text, comment or value has millions of characters; shorten or remove it");
    }
  if (more < 0 || self->xml_fault)
    {
      g_set_error (self->error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:%d: not well-formed XML: %s", self->name,
                   MAX (1, self->xml_line), self->xml_fault ? self->xml_fault : "it ends too early");
      return FALSE;
    }
  self->line = self->sheet_line;
  if ((double) self->n_selectors * self->n_elements > PAWL_FIGURE_MAX_MATCHES)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "%u style selectors for %u elements take too long to match; set the styles on groups", self->n_selectors, self->n_elements);
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

/* Letters that say another encoding than the bytes are in would hide from the looks below what the reader then sees. (transfer full)
 * (nullable): what the XML declaration says, when that is not UTF-8. */
static char *
dup_other_encoding (const char *text, gsize length)
{
  static const char * const fine[] = { "utf-8", "utf8", "us-ascii", "ascii" };
  gsize skip = length >= 3 && memcmp (text, "\xef\xbb\xbf", 3) == 0 ? 3 : 0;
  g_autofree char *head = g_strndup (text + skip, MIN (length - skip, 400));
  const char *end = g_str_has_prefix (head, "<?xml") ? strstr (head, "?>") : NULL;
  const char *at = end ? g_strstr_len (head, end - head, "encoding") : NULL;
  g_autofree char *encoding = NULL;

  if (!at)
    return g_str_has_prefix (head, "<?xml") && !end ? g_strdup ("(it never ends)") : NULL;
  at += strlen ("encoding");
  at += strspn (at, " \t\r\n=\"'");
  encoding = g_strndup (at, strcspn (at, "\"'?> \t\r\n"));
  for (guint i = 0; i < G_N_ELEMENTS (fine); i++)
    if (g_ascii_strcasecmp (encoding, fine[i]) == 0)
      return NULL;
  return g_strndup (encoding, 40);
}

static gboolean
check_bytes (const char *text, gsize length, const char *name, GError **error)
{
  const char *bad, *entity;
  g_autofree char *encoding = NULL;

  if (length > PAWL_FIGURE_MAX_BYTES)
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_TOO_LARGE, "%s:1: the file has over %d MiB; a figure has some hundred KiB at most",
                 name, PAWL_FIGURE_MAX_BYTES / 1024 / 1024);
  else if (length >= 2 && (guint8) text[0] == 0x1f && (guint8) text[1] == 0x8b)
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:1: a packed file (.svgz); unpack it first, as plain SVG", name);
  else if (length == 0)
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:1: the file is empty", name);
  else if (!g_utf8_validate (text, length, &bad))
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:%d: not UTF-8 text; save the figure as UTF-8", name, count_lines (text, bad));
  else if ((encoding = dup_other_encoding (text, length)))
    g_set_error (error, PAWL_FIGURE_ERROR, PAWL_FIGURE_ERROR_NOT_XML, "%s:1: the XML declaration says encoding %s; save the figure as UTF-8", name, encoding);
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
  PawlScanner self = { .name = name, .scan = scan, .links = links, .error = error };
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
