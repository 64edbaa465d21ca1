/* A job's rows as lines of JSON: the columns by the names that they have in the record. */
#include "bundle/pawl-bundle-private.h"

#include <string.h>

#include <json-glib/json-glib.h>

typedef struct {
  const char *name;
  gsize       offset; /* of the text in a row */
} Column;

/* `number`, the only one that is no text, comes after `job`. */
static const Column COLUMNS[] = {
  { "id", G_STRUCT_OFFSET (PawlEntryRow, id) },
  { "job", G_STRUCT_OFFSET (PawlEntryRow, job) },
  { "previous", G_STRUCT_OFFSET (PawlEntryRow, previous) },
  { "kind", G_STRUCT_OFFSET (PawlEntryRow, kind) },
  { "subject", G_STRUCT_OFFSET (PawlEntryRow, subject) },
  { "person", G_STRUCT_OFFSET (PawlEntryRow, person) },
  { "at", G_STRUCT_OFFSET (PawlEntryRow, at) },
  { "written", G_STRUCT_OFFSET (PawlEntryRow, written) },
  { "body", G_STRUCT_OFFSET (PawlEntryRow, body) },
  { "digest", G_STRUCT_OFFSET (PawlEntryRow, digest) },
};
#define NUMBER "number"
#define AFTER_JOB 2

static char **
peek_column (PawlEntryRow *row,
             guint         i)
{
  return (char **) G_STRUCT_MEMBER_P (row, COLUMNS[i].offset);
}

/* ---- to lines ---- */

static gboolean
append_line (GString      *lines,
             PawlEntryRow *row,
             GError      **error)
{
  g_autoptr (JsonNode) root = json_node_new (JSON_NODE_OBJECT);
  g_autofree char *line = NULL;
  JsonObject *object = json_object_new ();

  json_node_take_object (root, object);
  for (guint i = 0; i < G_N_ELEMENTS (COLUMNS); i++)
    {
      const char *text = *peek_column (row, i);

      if (!g_utf8_validate (text, -1, NULL))
        {
          g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED,
                       "entry %" G_GINT64_FORMAT " of job %s can't be read: its column \"%s\" is damaged", row->number, row->job, COLUMNS[i].name);
          return FALSE;
        }
      if (i == AFTER_JOB)
        json_object_set_int_member (object, NUMBER, row->number);
      json_object_set_string_member (object, COLUMNS[i].name, text);
    }

  line = json_to_string (root, FALSE);
  g_string_append_printf (lines, "%s\n", line);
  return TRUE;
}

GBytes *
pawl_lines_from_rows (GPtrArray *rows,
                      GError   **error)
{
  g_autoptr (GString) lines = g_string_new (NULL);

  for (guint i = 0; i < rows->len; i++)
    if (!append_line (lines, rows->pdata[i], error))
      return NULL;

  return g_string_free_to_bytes (g_steal_pointer (&lines));
}

/* ---- from lines ---- */

static gboolean
take_columns (PawlEntryRow *row,
              JsonObject   *object)
{
  JsonNode *number = json_object_get_member (object, NUMBER);

  if (json_object_get_size (object) != G_N_ELEMENTS (COLUMNS) + 1 || number == NULL || json_node_get_value_type (number) != G_TYPE_INT64)
    return FALSE;

  row->number = json_node_get_int (number);
  for (guint i = 0; i < G_N_ELEMENTS (COLUMNS); i++)
    {
      JsonNode *node = json_object_get_member (object, COLUMNS[i].name);

      if (node == NULL || json_node_get_value_type (node) != G_TYPE_STRING)
        return FALSE;
      *peek_column (row, i) = json_node_dup_string (node);
    }
  return TRUE;
}

static gboolean
read_line (PawlEntryRow *row,
           JsonParser   *parser,
           const char   *line,
           gsize         length)
{
  g_autofree char *text = g_strndup (line, length);
  JsonNode *root;

  if (strlen (text) != length || !g_utf8_validate (text, -1, NULL) || !pawl_entry_body_is_flat (text)
      || !json_parser_load_from_data (parser, text, -1, NULL))
    return FALSE;

  root = json_parser_get_root (parser);
  return root != NULL && JSON_NODE_HOLDS_OBJECT (root) && take_columns (row, json_node_get_object (root));
}

/* What a later Pawl writes is no damage. */
static gboolean
check_kind (const PawlEntryRow *row,
            GError            **error)
{
  PawlEntryKind kind;

  if (pawl_entry_kind_from_name (row->kind, &kind))
    return TRUE;

  g_set_error (error, PAWL_BUNDLE_ERROR, PAWL_BUNDLE_ERROR_NEWER,
               "entry %" G_GINT64_FORMAT " of job %s is of the kind “%.40s”, which a later Pawl made; this one does not know it", row->number, row->job,
               row->kind);
  return FALSE;
}

GPtrArray *
pawl_lines_to_rows (GBytes  *lines,
                    GError **error)
{
  g_autoptr (GPtrArray) rows = pawl_chain_new_rows ();
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  gsize size;
  const char *text = g_bytes_get_data (lines, &size);
  const char *end = text + size;

  while (text < end)
    {
      const char *line_end = memchr (text, '\n', (gsize) (end - text));
      PawlEntryRow *row = g_new0 (PawlEntryRow, 1);

      g_ptr_array_add (rows, row);
      if (line_end == NULL || !read_line (row, parser, text, (gsize) (line_end - text)))
        {
          g_set_error (error, PAWL_BUNDLE_ERROR, PAWL_BUNDLE_ERROR_DAMAGED, "line %u is not an entry", rows->len);
          return NULL;
        }
      if (!check_kind (row, error))
        return NULL;
      text = line_end + 1;
    }
  return g_steal_pointer (&rows);
}
