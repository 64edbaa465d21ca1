/* What is added behind the end of a PDF: files that it understands, and files that it leaves as they are. */
#include <cairo-pdf.h>
#include <string.h>

#include "report/pawl-pdf-catalog.h"

static cairo_status_t
append_bytes (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static GByteArray *
make_pdf (void)
{
  GByteArray *bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append_bytes, bytes, 100, 100);

  cairo_surface_destroy (surface);
  return bytes;
}

/* Nothing before the end changes, and the last cross-reference section stands where the file says. */
static void
test_appends (void)
{
  g_autoptr (GByteArray) before = make_pdf (), after = make_pdf ();
  g_autofree char *tail = NULL;
  guint64 offset;

  g_assert_true (pawl_pdf_catalog_complete (after, "de-AT"));
  g_assert_cmpuint (after->len, >, before->len);
  g_assert_cmpmem (after->data, before->len, before->data, before->len);
  tail = g_strndup ((const char *) after->data + before->len, after->len - before->len);
  g_assert_nonnull (strstr (tail, "/Lang (de-AT)"));
  g_assert_nonnull (strstr (tail, "/DisplayDocTitle true"));
  offset = g_ascii_strtoull (strstr (tail, "startxref") + strlen ("startxref"), NULL, 10);
  g_assert_true (memcmp (after->data + offset, "xref\n", 5) == 0);
  g_assert_false (pawl_pdf_catalog_complete (after, "de-AT")); /* once is enough */
}

/* A heading on each of two pages. */
static GByteArray *
make_tagged_pdf (void)
{
  GByteArray *bytes = g_byte_array_new ();
  cairo_surface_t *surface = cairo_pdf_surface_create_for_stream (append_bytes, bytes, 100, 100);
  cairo_t *cr = cairo_create (surface);

  for (guint i = 0; i < 2; i++)
    {
      cairo_tag_begin (cr, "H1", NULL);
      cairo_move_to (cr, 10, 50);
      cairo_show_text (cr, "Heading");
      cairo_tag_end (cr, "H1");
      cairo_show_page (cr);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
  return bytes;
}

/* Bytes of a PDF are no text, at whose zeroes the string functions end. */
static gboolean
has_bytes (GByteArray *bytes, const char *what)
{
  gsize n = strlen (what);

  for (gsize i = 0; i + n <= bytes->len; i++)
    if (memcmp (bytes->data + i, what, n) == 0)
      return TRUE;
  return FALSE;
}

/* The structure has one root with one child, "Document", which is what the headings name as their parent. */
static void
test_document (void)
{
  g_autoptr (GByteArray) bytes = make_tagged_pdf ();
  gsize before = bytes->len;
  g_autofree char *tail = NULL, *child = NULL, *parent = NULL;
  guint64 root, document;

  g_assert_true (pawl_pdf_catalog_complete (bytes, "en"));
  tail = g_strndup ((const char *) bytes->data + before, bytes->len - before);
  root = g_ascii_strtoull (strstr (tail, "/StructTreeRoot ") + strlen ("/StructTreeRoot "), NULL, 10);
  document = g_ascii_strtoull (tail, NULL, 10); /* the first object of the update */
  g_assert_cmpuint (root, >, document);
  g_assert_nonnull (strstr (tail, "/S /Document"));
  child = g_strdup_printf ("\n%" G_GUINT64_FORMAT " 0 obj\n<< /Type /StructTreeRoot", root);
  g_assert_nonnull (strstr (tail, child));
  parent = g_strdup_printf ("/K [ %" G_GUINT64_FORMAT " 0 R ]", document);
  g_assert_nonnull (strstr (tail, parent));
  g_free (parent);
  parent = g_strdup_printf ("/S /H1\n   /P %" G_GUINT64_FORMAT " 0 R", document);
  g_assert_true (has_bytes (bytes, parent));
}

static const char * const left_alone[] = {
  "", "%PDF-1.5\n%%EOF\n", "trailer\n<< /Root 1 0 R /Size 2 >>\nstartxref\n0\n%%EOF\n", "trailer\n<< /Size 2 >>\nstartxref\n5\n",
  "\n1 0 obj\n<< /Type /Catalog\ntrailer\n<< /Root 1 0 R /Size 2 >>\nstartxref\n5\n%%EOF\n", /* never closed */
  "startxref\n5\ntrailer\n<< /Root 1 0 R /Size 2 >>\n",
};

static void
test_leaves_alone (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (left_alone); i++)
    {
      g_autoptr (GByteArray) bytes = g_byte_array_new ();

      g_test_message ("%s", left_alone[i]);
      g_byte_array_append (bytes, (const guint8 *) left_alone[i], (guint) strlen (left_alone[i]));
      g_assert_false (pawl_pdf_catalog_complete (bytes, "en"));
      g_assert_cmpmem (bytes->data, bytes->len, left_alone[i], strlen (left_alone[i]));
    }
}

/* A language comes from a file that nobody vouches for. */
static void
test_languages (void)
{
  static const struct { const char *language; gboolean is_taken; } rows[] = { { "en", TRUE }, { "de-AT", TRUE }, { "", FALSE }, { "en) /Evil (", FALSE }, { "é", FALSE } };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GByteArray) bytes = make_pdf ();

      g_assert_true (pawl_pdf_catalog_complete (bytes, rows[i].language) == rows[i].is_taken);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/pdf-catalog/appends", test_appends);
  g_test_add_func ("/pdf-catalog/document", test_document);
  g_test_add_func ("/pdf-catalog/leaves-alone", test_leaves_alone);
  g_test_add_func ("/pdf-catalog/languages", test_languages);
  return g_test_run ();
}
