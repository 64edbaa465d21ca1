/* The manifest: what must be in a bundle, member by member. */
#include "bundle/pawl-bundle-private.h"

#include <string.h>

#include <json-glib/json-glib.h>

G_DEFINE_QUARK (pawl-bundle-error-quark, pawl_bundle_error)

#define KEPT_FOLDER "kept/"
#define ENTRIES_FOLDER "entries/"
#define ENTRIES_ENDING ".jsonl"
#define MAX_ID_LENGTH 64
#define MAX_DEPTH 3 /* the manifest, its list, a member */

/* ---- members ---- */

PawlMember *
pawl_member_new (PawlMemberKind kind,
                 const char    *id)
{
  PawlMember *self = g_new0 (PawlMember, 1);

  self->kind = kind;
  self->id = g_strdup (id);
  if (kind == PAWL_MEMBER_README)
    self->name = g_strdup (PAWL_BUNDLE_README);
  else if (kind == PAWL_MEMBER_KEPT)
    self->name = g_strconcat (KEPT_FOLDER, id, NULL);
  else
    self->name = g_strconcat (ENTRIES_FOLDER, id, ENTRIES_ENDING, NULL);
  return self;
}

void
pawl_member_free (PawlMember *self)
{
  g_free (self->name);
  g_free (self->id);
  g_free (self->sha256);
  g_free (self->media_type);
  g_free (self->ends);
  g_clear_pointer (&self->content, g_bytes_unref);
  g_free (self);
}

/* A name that is no path: nothing of a bundle is ever unpacked, and still no name shall look like a way out. */
static gboolean
is_plain_id (const char *id)
{
  return *id != '\0' && strlen (id) <= MAX_ID_LENGTH && strspn (id, "0123456789abcdefghijklmnopqrstuvwxyz-") == strlen (id);
}

PawlMember *
pawl_member_new_from_name (const char *name)
{
  g_autofree char *id = NULL;

  if (g_str_equal (name, PAWL_BUNDLE_README))
    return pawl_member_new (PAWL_MEMBER_README, "");
  if (g_str_has_prefix (name, KEPT_FOLDER))
    {
      id = g_strdup (name + strlen (KEPT_FOLDER));
      return is_plain_id (id) && strlen (id) == MAX_ID_LENGTH ? pawl_member_new (PAWL_MEMBER_KEPT, id) : NULL;
    }
  if (g_str_has_prefix (name, ENTRIES_FOLDER) && g_str_has_suffix (name, ENTRIES_ENDING)
      && strlen (name) > strlen (ENTRIES_FOLDER) + strlen (ENTRIES_ENDING))
    {
      id = g_strndup (name + strlen (ENTRIES_FOLDER), strlen (name) - strlen (ENTRIES_FOLDER) - strlen (ENTRIES_ENDING));
      return is_plain_id (id) ? pawl_member_new (PAWL_MEMBER_ENTRIES, id) : NULL;
    }
  return NULL;
}

/* ---- to text ---- */

static void
add_text (JsonBuilder *builder,
          const char  *name,
          const char  *value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_string_value (builder, value);
}

static void
add_number (JsonBuilder *builder,
            const char  *name,
            guint64      value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_int_value (builder, (gint64) value);
}

static void
add_member (JsonBuilder      *builder,
            const PawlMember *member)
{
  json_builder_begin_object (builder);
  add_text (builder, "name", member->name);
  add_number (builder, "size", member->size);
  add_text (builder, "sha256", member->sha256);
  if (member->kind == PAWL_MEMBER_KEPT)
    add_text (builder, "media-type", member->media_type);
  if (member->kind == PAWL_MEMBER_ENTRIES)
    {
      add_number (builder, "entries", member->n_entries);
      add_text (builder, "ends", member->ends);
    }
  json_builder_end_object (builder);
}

char *
pawl_manifest_to_text (GPtrArray  *members,
                       const char *what)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autoptr (JsonNode) root = NULL;
  g_autofree char *text = NULL;

  json_builder_begin_object (builder);
  add_text (builder, "what", what);
  add_number (builder, "format", PAWL_BUNDLE_FORMAT);
  json_builder_set_member_name (builder, "members");
  json_builder_begin_array (builder);
  for (guint i = 0; i < members->len; i++)
    add_member (builder, members->pdata[i]);
  json_builder_end_array (builder);
  json_builder_end_object (builder);

  root = json_builder_get_root (builder);
  text = json_to_string (root, TRUE);
  return g_strconcat (text, "\n", NULL);
}

char *
pawl_manifest_dup_seal (const char *text,
                        gsize       length)
{
  g_autofree char *digest = g_compute_checksum_for_string (G_CHECKSUM_SHA256, text, (gssize) length);

  return g_strconcat (digest, "  " PAWL_BUNDLE_MANIFEST "\n", NULL);
}

/* ---- from text ---- */

static gboolean
refuse (GError        **error,
        PawlBundleError code,
        const char     *format,
        ...) G_GNUC_PRINTF (3, 4);

static gboolean
refuse (GError        **error,
        PawlBundleError code,
        const char     *format,
        ...)
{
  va_list values;

  va_start (values, format);
  g_propagate_error (error, g_error_new_valist (PAWL_BUNDLE_ERROR, (int) code, format, values));
  va_end (values);
  return FALSE;
}

/* The parser calls itself for each level, so a deep one would exhaust the stack: it is refused before it is parsed. */
static gboolean
is_shallow (const char *text)
{
  gboolean is_inside_text = FALSE;
  int depth = 0;

  for (const char *c = text; *c != '\0'; c++)
    if (is_inside_text && *c == '\\' && c[1] != '\0')
      c++;
    else if (*c == '"')
      is_inside_text = !is_inside_text;
    else if (!is_inside_text && (*c == '[' || *c == '{') && ++depth > MAX_DEPTH)
      return FALSE;
    else if (!is_inside_text && (*c == ']' || *c == '}'))
      depth--;

  return TRUE;
}

/* (nullable) */
static const char *
peek_text (JsonObject *object,
           const char *name)
{
  JsonNode *node = json_object_get_member (object, name);

  return node != NULL && json_node_get_value_type (node) == G_TYPE_STRING ? json_node_get_string (node) : NULL;
}

/* -1 when there is none. */
static gint64
get_number (JsonObject *object,
            const char *name)
{
  JsonNode *node = json_object_get_member (object, name);

  return node != NULL && json_node_get_value_type (node) == G_TYPE_INT64 ? json_node_get_int (node) : -1;
}

static gboolean
take_facts (PawlMember *member,
            JsonObject *object)
{
  gint64 size = get_number (object, "size");
  gint64 n_entries = get_number (object, "entries");

  member->size = (guint64) size;
  member->sha256 = g_strdup (peek_text (object, "sha256"));
  member->media_type = g_strdup (peek_text (object, "media-type"));
  member->ends = g_strdup (peek_text (object, "ends"));
  member->n_entries = n_entries > 0 && n_entries <= G_MAXINT ? (guint) n_entries : 0;

  if (size < 0 || member->sha256 == NULL || strlen (member->sha256) != MAX_ID_LENGTH)
    return FALSE;
  if (member->kind == PAWL_MEMBER_KEPT)
    return member->media_type != NULL && g_str_equal (member->sha256, member->id);
  return member->kind == PAWL_MEMBER_README || (member->n_entries > 0 && member->ends != NULL);
}

static gboolean
take_member (GPtrArray  *members,
             GHashTable *names,
             JsonNode   *node,
             GError    **error)
{
  g_autoptr (PawlMember) member = NULL;
  JsonObject *object = JSON_NODE_HOLDS_OBJECT (node) ? json_node_get_object (node) : NULL;
  const char *name = object != NULL ? peek_text (object, "name") : NULL;

  if (name == NULL)
    return refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "its manifest has a member without a name");
  if (!(member = pawl_member_new_from_name (name)))
    {
      g_autofree char *printable = g_strescape (name, NULL);

      return refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "its manifest names “%.100s”, which is nothing that a bundle has", printable);
    }
  if (!g_hash_table_add (names, g_strdup (name)))
    return refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "its manifest names “%s” twice", name);
  if (!take_facts (member, object))
    return refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "its manifest does not say of “%s” all that it has to", name);
  if (member->size > PAWL_BUNDLE_MAX_MEMBER)
    return refuse (error, PAWL_BUNDLE_ERROR_TOO_LARGE, "“%s” has %" G_GUINT64_FORMAT " bytes; a member has %d at most",
                   name, member->size, PAWL_BUNDLE_MAX_MEMBER);

  g_ptr_array_add (members, g_steal_pointer (&member));
  return TRUE;
}

static gboolean
take_members (GPtrArray *members,
              JsonArray *array,
              GError   **error)
{
  g_autoptr (GHashTable) names = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);

  if (json_array_get_length (array) > PAWL_BUNDLE_MAX_MEMBERS)
    return refuse (error, PAWL_BUNDLE_ERROR_TOO_LARGE, "it has more than %d members", PAWL_BUNDLE_MAX_MEMBERS);
  for (guint i = 0; i < json_array_get_length (array); i++)
    if (!take_member (members, names, json_array_get_element (array, i), error))
      return FALSE;

  return TRUE;
}

/* What is one of the two, but not the one that is wanted, has its own sentence. */
static gboolean
check_what (JsonObject *object,
            const char *wanted,
            GError    **error)
{
  const char *what = peek_text (object, "what");

  if (g_strcmp0 (what, wanted) == 0)
    return get_number (object, "format") >= 1 || refuse (error, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "its manifest is not that of a bundle: it states no format");
  if (g_strcmp0 (what, PAWL_BUNDLE_WHAT_NAMELESS) == 0)
    return refuse (error, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "these are jobs without people's names, for figures alone: “pawl class --from” reads them, and no record takes them in");
  if (g_strcmp0 (what, PAWL_BUNDLE_WHAT) == 0)
    return refuse (error, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "this is a bundle with people's names: take it into a record by “pawl merge”, and ask for its figures there");
  return refuse (error, PAWL_BUNDLE_ERROR_NOT_A_BUNDLE, "its manifest is not that of a bundle");
}

GPtrArray *
pawl_manifest_parse (const char *text,
                     gsize       length,
                     const char *what,
                     GError    **error)
{
  g_autoptr (GPtrArray) members = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_member_free);
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  JsonObject *object;
  JsonNode *list;
  gint64 format;

  if (!g_utf8_validate (text, (gssize) length, NULL) || !is_shallow (text) || !json_parser_load_from_data (parser, text, (gssize) length, NULL)
      || json_parser_get_root (parser) == NULL || !JSON_NODE_HOLDS_OBJECT (json_parser_get_root (parser)))
    {
      refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "its manifest can't be read");
      return NULL;
    }

  object = json_node_get_object (json_parser_get_root (parser));
  format = get_number (object, "format");
  list = json_object_get_member (object, "members");
  if (!check_what (object, what, error))
    return NULL;
  if (format > PAWL_BUNDLE_FORMAT)
    refuse (error, PAWL_BUNDLE_ERROR_NEWER, "the bundle is of format %" G_GINT64_FORMAT ", made by a later Pawl; this one reads up to format %d",
            format, PAWL_BUNDLE_FORMAT);
  else if (list == NULL || !JSON_NODE_HOLDS_ARRAY (list))
    refuse (error, PAWL_BUNDLE_ERROR_DAMAGED, "its manifest lists no members");
  else if (take_members (members, json_node_get_array (list), error))
    return g_steal_pointer (&members);
  return NULL;
}
