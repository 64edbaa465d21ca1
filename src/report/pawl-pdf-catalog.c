#include "report/pawl-pdf-catalog.h"

#include <string.h>

/* The catalog's dictionary, which has others in it: to the ">>" that closes it. NULL when there is none. */
static const char *
find_dictionary_end (const char *p, const char *end)
{
  int depth = 0;

  for (; p + 1 < end; p++)
    if (p[0] == '<' && p[1] == '<')
      depth++, p++;
    else if (p[0] == '>' && p[1] == '>')
      {
        if (--depth == 0)
          return p;
        p++;
      }
  return NULL;
}

/* A PDF has zero bytes, at which the string functions of libraries end. */
static const char *
find_last (const char *text, gsize length, const char *what)
{
  gsize n = strlen (what);

  for (gsize i = length; i >= n; i--)
    if (memcmp (text + i - n, what, n) == 0)
      return text + i - n;
  return NULL;
}

/* The number behind @key in the trailer; 0 when it is not there. */
static guint64
read_number (const char *trailer, const char *key)
{
  const char *at = strstr (trailer, key);

  return at ? g_ascii_strtoull (at + strlen (key), NULL, 10) : 0;
}

static gboolean
is_language (const char *text)
{
  return *text && strspn (text, "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-") == strlen (text);
}

/* The cross-reference section of the one object in @update, which will stand at @offset of the file. An entry has twenty bytes. */
static void
append_section (GString *update, gsize offset, guint64 root, guint64 size, guint64 info, guint64 previous)
{
  gsize section = offset + update->len;

  g_string_append_printf (update, "xref\n%" G_GUINT64_FORMAT " 1\n%010" G_GSIZE_FORMAT " 00000 n \ntrailer\n<< /Size %" G_GUINT64_FORMAT
                          "\n   /Root %" G_GUINT64_FORMAT " 0 R\n", root, offset, size, root);
  if (info > 0)
    g_string_append_printf (update, "   /Info %" G_GUINT64_FORMAT " 0 R\n", info);
  g_string_append_printf (update, "   /Prev %" G_GUINT64_FORMAT "\n>>\nstartxref\n%" G_GSIZE_FORMAT "\n%%%%EOF\n", previous, section);
}

gboolean
pawl_pdf_catalog_complete (GByteArray *pdf, const char *language)
{
  const char *text = (const char *) pdf->data, *trailer, *startxref, *catalog, *dictionary, *close;
  g_autofree char *tail = NULL, *mark = NULL;
  g_autoptr (GString) update = g_string_new (NULL);
  guint64 root, size, previous;

  if (!is_language (language) || !(trailer = find_last (text, pdf->len, "trailer")) || !(startxref = find_last (text, pdf->len, "startxref"))
      || startxref < trailer)
    return FALSE;
  tail = g_strndup (trailer, (gsize) (text + pdf->len - trailer));
  root = read_number (tail, "/Root ");
  size = read_number (tail, "/Size ");
  previous = read_number (tail, "startxref");
  mark = g_strdup_printf ("\n%" G_GUINT64_FORMAT " 0 obj", root);
  if (root == 0 || size == 0 || previous == 0 || !(catalog = find_last (text, pdf->len, mark)))
    return FALSE;
  dictionary = catalog + strlen (mark);
  close = find_dictionary_end (dictionary, text + pdf->len);
  if (!close || g_strstr_len (dictionary, close - dictionary, "/Lang"))
    return FALSE;
  g_string_append_printf (update, "%" G_GUINT64_FORMAT " 0 obj", root);
  g_string_append_len (update, dictionary, close - dictionary);
  g_string_append_printf (update, "   /Lang (%s)\n   /ViewerPreferences << /DisplayDocTitle true >>\n", language);
  if (!g_strstr_len (dictionary, close - dictionary, "/MarkInfo") && g_strstr_len (dictionary, close - dictionary, "/StructTreeRoot"))
    g_string_append (update, "   /MarkInfo << /Marked true >>\n");
  g_string_append (update, ">>\nendobj\n");
  append_section (update, pdf->len, root, size, read_number (tail, "/Info "), previous);
  g_byte_array_append (pdf, (const guint8 *) update->str, (guint) update->len);
  return TRUE;
}
