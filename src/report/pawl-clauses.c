#include "report/pawl-clauses.h"

#include <string.h>

#include "pawl-report-resources.h"

G_DEFINE_QUARK (pawl-clauses-error-quark, pawl_clauses_error)

#define NAMESPACE "urn:pawl:clauses:1"
#define DEFAULT_RESOURCE "/pawl/report/us-ftc.xml"
#define MAX_BYTES (1024 * 1024)
/* Words that stand with each other are followed to the end of every chain, so there may not be any number of them. */
#define MAX_WORDS 12

static void
clause_free (gpointer data)
{
  PawlClause *clause = data;

  g_free (clause->id);
  g_free (clause->says);
  g_free (clause->source);
  g_ptr_array_unref (clause->evidence);
  g_free (clause);
}

static void
word_free (gpointer data)
{
  PawlClauseWord *word = data;

  g_free (word->id);
  g_free (word->title);
  g_ptr_array_unref (word->with);
  g_ptr_array_unref (word->clauses);
  g_free (word);
}

void
pawl_clauses_free (PawlClauses *self)
{
  if (!self)
    return;
  g_free (self->name);
  g_free (self->source);
  g_ptr_array_unref (self->words);
  g_free (self);
}

/* ---- reading ---- */

typedef struct {
  PawlClauses *clauses;
  const char  *file;
  GHashTable  *ids; /* of words and clauses, each once in the file */
  int          line; /* that is being read: the parser's own count is one ahead where a tag ends its line */
} Reader;

typedef struct {
  const char **names, **values;
} Attributes;

static void fail (Reader *reader, GError **error, const char *format, ...) G_GNUC_PRINTF (3, 4);

static void
fail (Reader *reader, GError **error, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error (error, PAWL_CLAUSES_ERROR, PAWL_CLAUSES_ERROR_BAD, "%s:%d: %s", reader->file, reader->line, message);
}

/* (nullable): without white space about it; one that is empty is as none. */
static char *
find (const Attributes *attributes, const char *name)
{
  for (guint i = 0; attributes->names[i]; i++)
    if (g_str_equal (attributes->names[i], name))
      {
        g_autofree char *value = g_strstrip (g_strdup (attributes->values[i]));

        return *value ? g_steal_pointer (&value) : NULL;
      }
  return NULL;
}

/* Whether it has what it must have, and nothing that it may not. @allowed, @needed: names with blanks between. */
static gboolean
check_attributes (Reader *reader, const char *element, const Attributes *attributes, const char *needed, const char *allowed,
                  GError **error)
{
  g_auto (GStrv) must = g_strsplit (needed, " ", -1), may = g_strsplit (allowed, " ", -1);

  for (guint i = 0; attributes->names[i]; i++)
    if (!g_strv_contains ((const char * const *) must, attributes->names[i]) && !g_strv_contains ((const char * const *) may, attributes->names[i]))
      {
        fail (reader, error, "<%s> has no “%s”; it has %s%s%s", element, attributes->names[i], needed, *allowed ? " " : "", allowed);
        return FALSE;
      }
  for (guint i = 0; must[i]; i++)
    {
      g_autofree char *value = find (attributes, must[i]);

      if (!value)
        {
          fail (reader, error, "<%s> needs %s=\"…\"", element, must[i]);
          return FALSE;
        }
    }
  return TRUE;
}

static gboolean
take_id (Reader *reader, const char *id, GError **error)
{
  if (g_hash_table_add (reader->ids, g_strdup (id)))
    return TRUE;
  fail (reader, error, "“%s” is there twice; each word and each clause has an id of its own", id);
  return FALSE;
}

static void
read_root (Reader *reader, const Attributes *attributes, GError **error)
{
  g_autofree char *space = find (attributes, "xmlns");

  if (!check_attributes (reader, "clauses", attributes, "xmlns name source", "", error))
    return;
  if (!g_str_equal (space, NAMESPACE))
    fail (reader, error, "these are no clauses: xmlns is “%s”, not “%s”", space, NAMESPACE);
  reader->clauses->name = find (attributes, "name");
  reader->clauses->source = find (attributes, "source");
}

static PawlClauseWord *
find_word (Reader *reader, const char *id)
{
  GPtrArray *words = reader->clauses->words;

  for (guint i = 0; i < words->len; i++)
    if (g_str_equal (((PawlClauseWord *) g_ptr_array_index (words, i))->id, id))
      return g_ptr_array_index (words, i);
  return NULL;
}

static void
read_word (Reader *reader, const Attributes *attributes, GError **error)
{
  g_autofree char *with = find (attributes, "with");
  g_auto (GStrv) lower = g_strsplit_set (with ? with : "", " \t\n\r", -1);
  PawlClauseWord *word;

  if (!check_attributes (reader, "word", attributes, "id title", "with", error))
    return;
  if (reader->clauses->words->len == MAX_WORDS)
    {
      fail (reader, error, "more than %d words; a title is one of a few", MAX_WORDS);
      return;
    }
  word = g_new0 (PawlClauseWord, 1);
  word->id = find (attributes, "id");
  word->title = find (attributes, "title");
  word->with = g_ptr_array_new ();
  word->clauses = g_ptr_array_new_with_free_func (clause_free);
  for (guint i = 0; lower[i] && !*error; i++)
    if (*lower[i] && find_word (reader, lower[i]))
      g_ptr_array_add (word->with, find_word (reader, lower[i]));
    else if (*lower[i])
      fail (reader, error, "“%s” stands with “%s”, which is no word above it; the lowest word stands first", word->id, lower[i]);
  g_ptr_array_add (reader->clauses->words, word);
  if (!*error)
    take_id (reader, word->id, error);
}

static PawlClauseWord *
last_word (Reader *reader)
{
  return g_ptr_array_index (reader->clauses->words, reader->clauses->words->len - 1);
}

static void
read_clause (Reader *reader, const Attributes *attributes, GError **error)
{
  PawlClause *clause;

  if (!check_attributes (reader, "clause", attributes, "id says", "source", error))
    return;
  clause = g_new0 (PawlClause, 1);
  clause->id = find (attributes, "id");
  clause->says = find (attributes, "says");
  clause->source = find (attributes, "source");
  clause->evidence = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_evidence_free);
  clause->line = reader->line;
  g_ptr_array_add (last_word (reader)->clauses, clause);
  take_id (reader, clause->id, error);
}

static void
read_evidence (Reader *reader, const Attributes *attributes, GError **error)
{
  g_autofree char *kind = find (attributes, "kind"), *of = find (attributes, "of"), *problem = NULL;
  GPtrArray *clauses = last_word (reader)->clauses;
  PawlEvidence *evidence;

  if (!check_attributes (reader, "evidence", attributes, "kind", "of", error))
    return;
  if ((evidence = pawl_evidence_new (kind, of, &problem)))
    g_ptr_array_add (((PawlClause *) g_ptr_array_index (clauses, clauses->len - 1))->evidence, evidence);
  else
    fail (reader, error, "%s", problem);
}

static const struct {
  const char *name, *parent; /* @parent "": none */
  void      (*read) (Reader *reader, const Attributes *attributes, GError **error);
} elements[] = {
  { "clauses", "", read_root },
  { "word", "clauses", read_word },
  { "clause", "word", read_clause },
  { "evidence", "clause", read_evidence },
};

static void
start_element_cb (GMarkupParseContext *context, const char *name, const char **names, const char **values, gpointer data, GError **error)
{
  const GSList *stack = g_markup_parse_context_get_element_stack (context);
  const char *parent = stack->next ? stack->next->data : "";
  const Attributes attributes = { names, values };

  for (guint i = 0; i < G_N_ELEMENTS (elements); i++)
    if (g_str_equal (elements[i].name, name) && g_str_equal (elements[i].parent, parent))
      {
        elements[i].read (data, &attributes, error);
        return;
      }
  if (!*parent)
    fail (data, error, "the file begins with <%s>; clauses begin with <clauses xmlns=\"" NAMESPACE "\">", name);
  else
    fail (data, error, "<%s> does not belong in <%s>", name, parent);
}

static void
end_element_cb (GMarkupParseContext *context, const char *name, gpointer data, GError **error)
{
  Reader *reader = data;
  GPtrArray *words = reader->clauses->words;
  const PawlClauseWord *word = words->len > 0 ? last_word (reader) : NULL;

  if (g_str_equal (name, "clauses") && !word)
    fail (reader, error, "there is no <word> in it");
  else if (g_str_equal (name, "word") && word->clauses->len == 0)
    fail (reader, error, "the word “%s” has no <clause>: nothing would have to be shown for it", word->id);
  else if (g_str_equal (name, "clause"))
    {
      const PawlClause *clause = g_ptr_array_index (word->clauses, word->clauses->len - 1);

      if (clause->evidence->len == 0)
        fail (reader, error, "the clause “%s” names no <evidence>: nothing would have to be shown for it", clause->id);
    }
}

static void
text_cb (GMarkupParseContext *context, const char *text, gsize length, gpointer data, GError **error)
{
  g_autofree char *plain = g_strstrip (g_strndup (text, length));

  if (*plain)
    fail (data, error, "text between the elements: “%.40s”; what a clause says stands in says=\"…\"", plain);
}

/* Line by line, so that it is known which one a fault is in. */
static gboolean
feed (GMarkupParseContext *context, Reader *reader, const char *text, gsize length, GError **error)
{
  const char *end = text + length;

  for (reader->line = 1; text < end; reader->line++)
    {
      const char *newline = memchr (text, '\n', (gsize) (end - text));
      const char *next = newline ? newline + 1 : end;

      if (!g_markup_parse_context_parse (context, text, next - text, error))
        return FALSE;
      text = next;
    }
  reader->line = MAX (reader->line - 1, 1);
  return g_markup_parse_context_end_parse (context, error);
}

PawlClauses *
pawl_clauses_parse (const char *text, gssize length, const char *name, GError **error)
{
  const GMarkupParser parser = { .start_element = start_element_cb, .end_element = end_element_cb, .text = text_cb };
  g_autoptr (PawlClauses) clauses = g_new0 (PawlClauses, 1);
  g_autoptr (GHashTable) ids = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  g_autoptr (GError) local_error = NULL;
  Reader reader = { .clauses = clauses, .file = name, .ids = ids };
  g_autoptr (GMarkupParseContext) context = g_markup_parse_context_new (&parser, 0, &reader, NULL);

  clauses->words = g_ptr_array_new_with_free_func (word_free);
  if (feed (context, &reader, text, length < 0 ? strlen (text) : (gsize) length, &local_error))
    return g_steal_pointer (&clauses);
  if (local_error->domain == G_MARKUP_ERROR)
    g_set_error (error, PAWL_CLAUSES_ERROR, PAWL_CLAUSES_ERROR_NOT_XML, "%s:%d: not well-formed XML: %s", name, reader.line, local_error->message);
  else
    g_propagate_error (error, g_steal_pointer (&local_error));
  return NULL;
}

PawlClauses *
pawl_clauses_load (const char *path, GError **error)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFileInputStream) stream = NULL;
  g_autoptr (GBytes) bytes = NULL;
  g_autoptr (GError) local_error = NULL;

  if (!(stream = g_file_read (file, NULL, &local_error))
      || !(bytes = g_input_stream_read_bytes (G_INPUT_STREAM (stream), MAX_BYTES + 1, NULL, &local_error)))
    {
      g_set_error (error, PAWL_CLAUSES_ERROR, PAWL_CLAUSES_ERROR_IO, "%s: the clauses can't be read: %s", path, local_error->message);
      return NULL;
    }
  if (g_bytes_get_size (bytes) > MAX_BYTES)
    {
      g_set_error (error, PAWL_CLAUSES_ERROR, PAWL_CLAUSES_ERROR_BAD, "%s: over 1 MiB; no clauses are that long", path);
      return NULL;
    }
  return pawl_clauses_parse (g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), path, error);
}

PawlClauses *
pawl_clauses_load_default (void)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GBytes) bytes = g_resource_lookup_data (pawl_report_get_resource (), DEFAULT_RESOURCE, G_RESOURCE_LOOKUP_FLAGS_NONE, &error);
  PawlClauses *clauses = bytes ? pawl_clauses_parse (g_bytes_get_data (bytes, NULL), (gssize) g_bytes_get_size (bytes), "us-ftc.xml", &error) : NULL;

  g_assert_no_error (error);
  return clauses;
}
