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
  g_test_add_func ("/pdf-catalog/leaves-alone", test_leaves_alone);
  g_test_add_func ("/pdf-catalog/languages", test_languages);
  return g_test_run ();
}
