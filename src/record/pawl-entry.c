#include "record/pawl-entry.h"

#include <json-glib/json-glib.h>

#include "record/pawl-entry-row.h"
#include "record/pawl-record.h"

struct _PawlEntry {
  PawlEntryKind kind;
  char         *subject;
  char         *person;
  GDateTime    *at;
  GTree        *fields; /* name → text, sorted by name */
  /* once stored */
  char         *id;
  char         *job;
  guint         number;
  char         *previous;
  GDateTime    *written;
  char         *digest;
};

static const char *const KIND_NAMES[] = {
  [PAWL_ENTRY_OPENED] = "opened",
  [PAWL_ENTRY_ANSWERED] = "answered",
  [PAWL_ENTRY_WAIT_STARTED] = "wait-started",
  [PAWL_ENTRY_WAIT_ENDED] = "wait-ended",
  [PAWL_ENTRY_DISPOSED] = "disposed",
  [PAWL_ENTRY_STEP_DONE] = "step-done",
  [PAWL_ENTRY_DEVIATED] = "deviated",
  [PAWL_ENTRY_REOPENED] = "reopened",
  [PAWL_ENTRY_UNDONE] = "undone",
  [PAWL_ENTRY_NOTED] = "noted",
  [PAWL_ENTRY_PHOTO] = "photo",
  [PAWL_ENTRY_RELEASED] = "released",
  [PAWL_ENTRY_SIGNED] = "signed",
  [PAWL_ENTRY_GUESSED] = "guessed",
  [PAWL_ENTRY_INSTRUMENT_STATED] = "instrument-stated",
  [PAWL_ENTRY_INSTRUMENT_CALIBRATED] = "instrument-calibrated",
  [PAWL_ENTRY_INSTRUMENT_RETIRED] = "instrument-retired",
  [PAWL_ENTRY_LACKED] = "lacked",
  [PAWL_ENTRY_ARRIVED] = "arrived",
  [PAWL_ENTRY_HOLD_CALLED] = "hold-called",
  [PAWL_ENTRY_TIGHTENED] = "tightened",
  [PAWL_ENTRY_REMEASURED] = "remeasured",
  [PAWL_ENTRY_SEALED] = "sealed",
  [PAWL_ENTRY_UNSEALED] = "unsealed",
  [PAWL_ENTRY_PERSON_STATED] = "person-stated",
  [PAWL_ENTRY_IDENTIFIED] = "identified",
  [PAWL_ENTRY_CORRECTED] = "corrected",
};

/* ---- making one ---- */

static int
compare_names (gconstpointer a,
               gconstpointer b,
               gpointer      data)
{
  return strcmp (a, b);
}

static char *
dup_valid (const char *text)
{
  return text != NULL ? g_utf8_make_valid (text, -1) : g_strdup ("");
}

/**
 * pawl_entry_new:
 * @kind: what happened
 * @subject: (nullable): id of the step, ask, wait, part or entry that it happened to, as the table in the header has it
 * @person: (nullable): who did it
 * @at: when it happened, with the offset of the place
 *
 * A new entry, not in any record yet. It gets its id, digest and written time when a record stores it.
 *
 * A record holds UTF-8: what is not, in any text of an entry, is replaced by U+FFFD so that it shows.
 *
 * Returns: (transfer full): free with pawl_entry_unref()
 */
PawlEntry *
pawl_entry_new (PawlEntryKind kind,
                const char   *subject,
                const char   *person,
                GDateTime    *at)
{
  PawlEntry *self;

  g_return_val_if_fail (kind < G_N_ELEMENTS (KIND_NAMES), NULL);
  g_return_val_if_fail (at != NULL, NULL);

  self = g_atomic_rc_box_new0 (PawlEntry);
  self->kind = kind;
  self->subject = dup_valid (subject);
  self->person = dup_valid (person);
  self->at = g_date_time_ref (at);
  self->fields = g_tree_new_full (compare_names, NULL, g_free, g_free);
  return self;
}

PawlEntry *
pawl_entry_ref (PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return g_atomic_rc_box_acquire (self);
}

static void
clear_entry (PawlEntry *self)
{
  g_free (self->subject);
  g_free (self->person);
  g_date_time_unref (self->at);
  g_tree_unref (self->fields);
  g_free (self->id);
  g_free (self->job);
  g_free (self->previous);
  g_clear_pointer (&self->written, g_date_time_unref);
  g_free (self->digest);
}

void
pawl_entry_unref (PawlEntry *self)
{
  g_return_if_fail (self != NULL);

  g_atomic_rc_box_release_full (self, (GDestroyNotify) clear_entry);
}

/**
 * pawl_entry_set:
 * @self: an entry that is not stored yet
 * @field: name of the field, as the table in the header has it
 * @value: (nullable): its text; NULL or "" leaves the field out
 *
 * Sets a field. A stored entry is frozen: what it says was acknowledged, and a correction is another entry.
 */
void
pawl_entry_set (PawlEntry  *self,
                const char *field,
                const char *value)
{
  g_return_if_fail (self != NULL && self->id == NULL);
  g_return_if_fail (field != NULL && *field != '\0' && g_utf8_validate (field, -1, NULL));

  if (value == NULL || *value == '\0')
    g_tree_remove (self->fields, field);
  else
    g_tree_replace (self->fields, g_strdup (field), dup_valid (value));
}

PawlEntry *
pawl_entry_dup_masked (const PawlEntry *self,
                       const char      *field,
                       const char      *value)
{
  PawlEntry *copy;

  g_return_val_if_fail (self != NULL && self->id != NULL, NULL);

  copy = pawl_entry_new (self->kind, self->subject, self->person, self->at);
  for (GTreeNode *node = g_tree_node_first (self->fields); node != NULL; node = g_tree_node_next (node))
    pawl_entry_set (copy, g_tree_node_key (node), g_tree_node_value (node));
  pawl_entry_set (copy, field, value);
  copy->id = g_strdup (self->id);
  copy->job = g_strdup (self->job);
  copy->number = self->number;
  copy->previous = g_strdup (self->previous);
  copy->written = g_date_time_ref (self->written);
  copy->digest = g_strdup (self->digest);
  return copy;
}

/* ---- reading one ---- */

/**
 * pawl_entry_get:
 * @self: an entry
 * @field: name of the field
 *
 * Returns: (nullable) (transfer none): the field's text, never ""; NULL when the entry has no such field
 */
const char *
pawl_entry_get (const PawlEntry *self,
                const char      *field)
{
  g_return_val_if_fail (self != NULL && field != NULL, NULL);

  return g_tree_lookup (self->fields, field);
}

/**
 * pawl_entry_list_fields:
 * @self: an entry
 *
 * Returns: (transfer full): the names of its fields in byte order, NULL-terminated; free with g_strfreev()
 */
char **
pawl_entry_list_fields (const PawlEntry *self)
{
  g_autoptr (GStrvBuilder) names = g_strv_builder_new ();

  g_return_val_if_fail (self != NULL, NULL);

  for (GTreeNode *node = g_tree_node_first (self->fields); node != NULL; node = g_tree_node_next (node))
    g_strv_builder_add (names, g_tree_node_key (node));

  return g_strv_builder_end (names);
}

PawlEntryKind
pawl_entry_get_kind (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, PAWL_ENTRY_OPENED);

  return self->kind;
}

const char *
pawl_entry_get_subject (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return self->subject;
}

const char *
pawl_entry_get_person (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return self->person;
}

GDateTime *
pawl_entry_peek_at (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return self->at;
}

/**
 * pawl_entry_get_id:
 * @self: an entry
 *
 * Returns: (nullable) (transfer none): its id, unique across machines; NULL until the entry is stored. The id of a
 *   %PAWL_ENTRY_OPENED entry is the id of its job.
 */
const char *
pawl_entry_get_id (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return self->id;
}

/* (nullable) until stored. */
const char *
pawl_entry_get_job (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return self->job;
}

/* Place in its job, from 1; 0 until stored. */
guint
pawl_entry_get_number (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, 0);

  return self->number;
}

/* (nullable) until stored. */
GDateTime *
pawl_entry_peek_written (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return self->written;
}

/* (nullable) until stored; "" for the first entry of a job; several, with blanks between, where branches of a merged job join. */
const char *
pawl_entry_get_previous (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return self->previous;
}

/* (nullable) until stored. How it is computed: pawl_entry_row_dup_digest(). */
const char *
pawl_entry_get_digest (const PawlEntry *self)
{
  g_return_val_if_fail (self != NULL, NULL);

  return self->digest;
}

/* ---- kinds ---- */

const char *
pawl_entry_kind_get_name (PawlEntryKind kind)
{
  g_return_val_if_fail (kind < G_N_ELEMENTS (KIND_NAMES), NULL);

  return KIND_NAMES[kind];
}

/**
 * pawl_entry_kind_from_name:
 * @name: as pawl_entry_kind_get_name() gives it
 * @kind: (out): the kind, untouched when there is none of that name
 *
 * Returns: whether there is a kind of that name
 */
gboolean
pawl_entry_kind_from_name (const char    *name,
                           PawlEntryKind *kind)
{
  g_return_val_if_fail (name != NULL && kind != NULL, FALSE);

  for (guint i = 0; i < G_N_ELEMENTS (KIND_NAMES); i++)
    if (g_str_equal (KIND_NAMES[i], name))
      {
        *kind = (PawlEntryKind) i;
        return TRUE;
      }

  return FALSE;
}

gboolean
pawl_entry_kind_is_of_instrument (PawlEntryKind kind)
{
  return kind >= PAWL_ENTRY_INSTRUMENT_STATED && kind <= PAWL_ENTRY_INSTRUMENT_RETIRED;
}

gboolean
pawl_entry_kind_is_of_person (PawlEntryKind kind)
{
  return kind == PAWL_ENTRY_PERSON_STATED;
}

/* ---- to and from the file ---- */

static char *
dup_body (const PawlEntry *self)
{
  g_autoptr (JsonNode) root = json_node_new (JSON_NODE_OBJECT);
  JsonObject *object = json_object_new ();

  /* Members come out in the order they go in: sorted, so that equal fields make equal bodies. */
  for (GTreeNode *node = g_tree_node_first (self->fields); node != NULL; node = g_tree_node_next (node))
    json_object_set_string_member (object, g_tree_node_key (node), g_tree_node_value (node));
  json_node_take_object (root, object);

  return json_to_string (root, FALSE);
}

/*
 * A body is one flat object. The parser calls itself for each object or array inside another, so a deep one from a file that
 * nobody vouches for would exhaust the stack: it is refused before it is parsed.
 */
gboolean
pawl_entry_body_is_flat (const char *body)
{
  gboolean is_inside_text = FALSE;
  guint n_objects = 0;

  for (const char *c = body; *c != '\0'; c++)
    if (is_inside_text && *c == '\\' && c[1] != '\0')
      c++;
    else if (*c == '"')
      is_inside_text = !is_inside_text;
    else if (!is_inside_text && (*c == '[' || (*c == '{' && ++n_objects > 1)))
      return FALSE;

  return TRUE;
}

static gboolean
read_fields (PawlEntry  *self,
             const char *body)
{
  g_autoptr (JsonParser) parser = json_parser_new_immutable ();
  JsonObjectIter iter;
  const char *name;
  JsonNode *value;

  if (!g_utf8_validate (body, -1, NULL) || !pawl_entry_body_is_flat (body) || !json_parser_load_from_data (parser, body, -1, NULL)
      || json_parser_get_root (parser) == NULL || !JSON_NODE_HOLDS_OBJECT (json_parser_get_root (parser)))
    return FALSE;

  json_object_iter_init (&iter, json_node_get_object (json_parser_get_root (parser)));
  while (json_object_iter_next (&iter, &name, &value))
    if (json_node_get_value_type (value) == G_TYPE_STRING)
      g_tree_replace (self->fields, g_strdup (name), json_node_dup_string (value));
    else
      return FALSE;

  return TRUE;
}

void
pawl_entry_fill_row (const PawlEntry *self,
                     PawlEntryRow    *row)
{
  row->kind = g_strdup (KIND_NAMES[self->kind]);
  row->subject = g_strdup (self->subject);
  row->person = g_strdup (self->person);
  row->at = pawl_time_to_text (self->at);
  row->body = dup_body (self);
}

void
pawl_entry_take_place (PawlEntry          *self,
                       const PawlEntryRow *row,
                       GDateTime          *written)
{
  g_assert (self->id == NULL);

  self->id = g_strdup (row->id);
  self->job = g_strdup (row->job);
  self->number = (guint) row->number;
  self->previous = g_strdup (row->previous);
  self->digest = g_strdup (row->digest);
  self->written = g_date_time_ref (written);
}

void
pawl_entry_set_place (PawlEntry *self,
                      guint      number)
{
  g_assert (self->id != NULL);

  self->number = number;
}

static const char *
find_unreadable_column (const PawlEntryRow *row,
                        PawlEntryKind      *kind,
                        GDateTime         **at,
                        GDateTime         **written)
{
  if (!pawl_entry_kind_from_name (row->kind, kind))
    return "kind";
  if (!(*at = pawl_time_from_text (row->at)))
    return "at";
  if (!(*written = pawl_time_from_text (row->written)))
    return "written";
  if (row->number < 1 || row->number > G_MAXINT)
    return "number";
  return NULL;
}

PawlEntry *
pawl_entry_new_from_row (const PawlEntryRow *row,
                         GError            **error)
{
  g_autoptr (PawlEntry) self = NULL;
  g_autoptr (GDateTime) at = NULL;
  g_autoptr (GDateTime) written = NULL;
  PawlEntryKind kind = PAWL_ENTRY_NOTED;
  const char *column = find_unreadable_column (row, &kind, &at, &written);

  if (column == NULL)
    {
      self = pawl_entry_new (kind, row->subject, row->person, at);
      if (!read_fields (self, row->body))
        column = "body";
    }
  if (column != NULL)
    {
      g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_DAMAGED,
                   "entry %" G_GINT64_FORMAT " of job %s can't be read: its column \"%s\" is damaged", row->number, row->job, column);
      return NULL;
    }

  pawl_entry_take_place (self, row, written);
  return g_steal_pointer (&self);
}
