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

/* (transfer full) (nullable): the dictionary that is object @number of @pdf, from its "<<" to before the ">>" that closes it. */
static char *
dup_dictionary (GByteArray *pdf, guint64 number)
{
  const char *text = (const char *) pdf->data, *object, *close;
  g_autofree char *mark = g_strdup_printf ("\n%" G_GUINT64_FORMAT " 0 obj", number);

  if (number == 0 || !(object = find_last (text, pdf->len, mark)))
    return NULL;
  object += strlen (mark);
  close = find_dictionary_end (object, text + pdf->len);
  return close ? g_strndup (object, (gsize) (close - object)) : NULL;
}

/* ---- what is written behind the end ---- */

typedef struct {
  GString *objects;
  GString *section; /* of the cross-reference table: an entry has twenty bytes */
  gsize    offset;  /* of the first object in the file */
} Update;

static void
update_clear (Update *self)
{
  g_string_free (self->objects, TRUE);
  g_string_free (self->section, TRUE);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Update, update_clear)

/* @dictionary: without the ">>" that closes it */
static void
add_object (Update *self, guint64 number, const char *dictionary)
{
  g_string_append_printf (self->section, "%" G_GUINT64_FORMAT " 1\n%010" G_GSIZE_FORMAT " 00000 n \n", number, self->offset + self->objects->len);
  g_string_append_printf (self->objects, "%" G_GUINT64_FORMAT " 0 obj%s>>\nendobj\n", number, dictionary);
}

/* (transfer full): @text with @old, which stands in it once, replaced; NULL when it doesn't. */
static char *
replace_once (const char *text, const char *old, const char *new)
{
  const char *at = strstr (text, old);

  if (!at || strstr (at + 1, old))
    return NULL;
  return g_strdup_printf ("%.*s%s%s", (int) (at - text), text, new, at + strlen (old));
}

/*
 * Cairo hangs every heading, paragraph and table on the root of the structure, which in a tagged document has one child, the document itself (ISO 32000-1,
 * 14.8.4.2). So what was the root becomes that element, and object @number the root: then what names its parent still names the right one.
 *
 * Returns: (transfer full) (nullable): @catalog with the new root; NULL when there is no structure that looks as expected
 */
static char *
add_document (Update *self, GByteArray *pdf, const char *catalog, guint64 number)
{
  guint64 old = read_number (catalog, "/StructTreeRoot "), parents;
  g_autofree char *tree = dup_dictionary (pdf, old), *element = NULL, *without = NULL, *root = NULL;
  g_autofree char *type = g_strdup_printf ("/Type /StructElem\n   /S /Document\n   /P %" G_GUINT64_FORMAT " 0 R", number);
  g_autofree char *old_name = g_strdup_printf ("/StructTreeRoot %" G_GUINT64_FORMAT " 0 R", old);
  g_autofree char *new_name = g_strdup_printf ("/StructTreeRoot %" G_GUINT64_FORMAT " 0 R", number);
  g_autofree char *parent_tree = NULL, *changed = NULL;

  if (!tree || (parents = read_number (tree, "/ParentTree ")) == 0)
    return NULL;
  parent_tree = g_strdup_printf ("/ParentTree %" G_GUINT64_FORMAT " 0 R", parents);
  element = replace_once (tree, "/Type /StructTreeRoot", type);
  without = element ? replace_once (element, parent_tree, "") : NULL;
  changed = without ? replace_once (catalog, old_name, new_name) : NULL;
  if (!changed)
    return NULL;
  root = g_strdup_printf ("\n<< /Type /StructTreeRoot\n   %s\n   /K [ %" G_GUINT64_FORMAT " 0 R ]\n", parent_tree, old);
  add_object (self, old, without);
  add_object (self, number, root);
  return g_steal_pointer (&changed);
}

static char *
complete_catalog (const char *catalog, const char *language)
{
  gboolean wants_mark = strstr (catalog, "/StructTreeRoot") && !strstr (catalog, "/MarkInfo");

  return g_strdup_printf ("%s   /Lang (%s)\n   /ViewerPreferences << /DisplayDocTitle true >>\n%s", catalog, language,
                          wants_mark ? "   /MarkInfo << /Marked true >>\n" : "");
}

/* The cross-reference section and the trailer, which point back to those before. */
static void
append_update (GByteArray *pdf, const Update *update, const char *trailer, guint64 size)
{
  gsize section = update->offset + update->objects->len;
  guint64 info = read_number (trailer, "/Info ");
  g_autofree char *info_line = info > 0 ? g_strdup_printf ("   /Info %" G_GUINT64_FORMAT " 0 R\n", info) : g_strdup ("");
  g_autofree char *end = g_strdup_printf ("xref\n%strailer\n<< /Size %" G_GUINT64_FORMAT "\n   /Root %" G_GUINT64_FORMAT " 0 R\n%s   /Prev %" G_GUINT64_FORMAT
                                          "\n>>\nstartxref\n%" G_GSIZE_FORMAT "\n%%%%EOF\n", update->section->str, size, read_number (trailer, "/Root "),
                                          info_line, read_number (trailer, "startxref"), section);

  g_byte_array_append (pdf, (const guint8 *) update->objects->str, (guint) update->objects->len);
  g_byte_array_append (pdf, (const guint8 *) end, (guint) strlen (end));
}

gboolean
pawl_pdf_catalog_complete (GByteArray *pdf, const char *language)
{
  const char *text = (const char *) pdf->data, *trailer, *startxref;
  g_autofree char *tail = NULL, *catalog = NULL, *with_document = NULL, *completed = NULL;
  g_auto (Update) update = { g_string_new (NULL), g_string_new (NULL), pdf->len };
  guint64 root, size;

  if (!is_language (language) || !(trailer = find_last (text, pdf->len, "trailer")) || !(startxref = find_last (text, pdf->len, "startxref"))
      || startxref < trailer)
    return FALSE;
  tail = g_strndup (trailer, (gsize) (text + pdf->len - trailer));
  root = read_number (tail, "/Root ");
  size = read_number (tail, "/Size ");
  if (size == 0 || read_number (tail, "startxref") == 0 || !(catalog = dup_dictionary (pdf, root)) || strstr (catalog, "/Lang"))
    return FALSE;
  with_document = add_document (&update, pdf, catalog, size);
  completed = complete_catalog (with_document ? with_document : catalog, language);
  add_object (&update, root, completed);
  append_update (pdf, &update, tail, with_document ? size + 1 : size);
  return TRUE;
}
