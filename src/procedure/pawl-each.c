/*
 * What is written once and stands for several: <each of="cylinder" names="1 2"> with steps, asks or parts in it. Written out in the tree
 * before the schema and the reader see it, so that everything above knows ordinary steps only. {cylinder} in a value or in words becomes
 * the name; <with name="gap" is="0.20 mm; 0.25 mm"/> gives {gap}, one for each name. What is written out keeps the lines of the file.
 */
#include <string.h>

#include "procedure/pawl-each-private.h"

typedef struct _Frame Frame;

/* What the placeholders of one <each> stand for while one of its names is written out. */
struct _Frame {
  const Frame *outer; /* (nullable) */
  const char  *of;
  const char  *name;
  GHashTable  *values; /* placeholder → what it stands for, @of too */
  char        *which;  /* "cylinder 2", with what the outer one says before it */
};

typedef struct {
  xmlDoc     *doc;
  PawlFault  *fault;
  GHashTable *which;      /* xmlNode → "cylinder 2" */
  guint       n_elements; /* written out */
} Expander;

static gboolean
refuse (Expander *self, const xmlNode *node, const char *format, ...) G_GNUC_PRINTF (3, 4);

static gboolean
refuse (Expander *self, const xmlNode *node, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list args;

  va_start (args, format);
  message = g_strdup_vprintf (format, args);
  va_end (args);
  return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_SCHEMA, pawl_xml_get_line (node), "%s", message);
}

/* ---- placeholders ---- */

static gboolean
is_name_char (char c)
{
  return g_ascii_isalnum (c) || c == '-' || c == '_';
}

/* (transfer full) (nullable): the name in "{name}" when @at begins with one; @end: what follows it. */
static char *
read_placeholder (const char *at, const char **end)
{
  const char *from = at + 1;

  if (*at != '{' || !g_ascii_isalpha (*from))
    return NULL;
  for (*end = from; is_name_char (**end); )
    ++*end;
  if (**end != '}')
    return NULL;
  return g_strndup (from, (gsize) ((*end)++ - from));
}

static const char *
find_value (const Frame *frame, const char *name)
{
  for (; frame != NULL; frame = frame->outer)
    {
      const char *value = g_hash_table_lookup (frame->values, name);

      if (value != NULL)
        return value;
    }
  return NULL;
}

static char *
list_placeholders (const Frame *frame)
{
  GString *list = g_string_new (NULL);

  for (; frame != NULL; frame = frame->outer)
    {
      g_autoptr(GList) names = g_list_sort (g_hash_table_get_keys (frame->values), (GCompareFunc) strcmp);

      for (const GList *name = names; name != NULL; name = name->next)
        g_string_append_printf (list, "%s{%s}", list->len > 0 ? ", " : "", (char *) name->data);
    }
  return g_string_free (list, FALSE);
}

/* (transfer full) (nullable): @text written out; NULL with the fault set. @frame: (nullable): outside of every <each>. */
static char *
write_out (Expander *self, const Frame *frame, const xmlNode *node, const char *text)
{
  g_autoptr(GString) out = g_string_new (NULL);

  for (const char *at = text; *at != '\0'; )
    {
      const char *end = NULL;
      g_autofree char *name = read_placeholder (at, &end);
      const char *value = name != NULL ? find_value (frame, name) : NULL;
      g_autofree char *known = NULL;

      if (name != NULL && value == NULL)
        {
          known = list_placeholders (frame);
          if (frame == NULL)
            refuse (self, node, "{%s} stands outside of every <each>; move it into one, or take the braces out", name);
          else
            refuse (self, node, "{%s} is not known here; there is %s", name, known);
          return NULL;
        }
      if (name != NULL)
        {
          g_string_append (out, value);
          at = end;
        }
      else
        g_string_append_c (out, *at++);
    }
  return g_string_free (g_steal_pointer (&out), FALSE);
}

/* ---- what an <each> says of itself ---- */

static gboolean
is_word (const char *text)
{
  if (!g_ascii_isalnum (*text))
    return FALSE;
  while (is_name_char (*text))
    text++;
  return *text == '\0';
}

static gboolean
is_twice (char **names, const char *name)
{
  guint n = 0;

  for (; *names != NULL; names++)
    n += strcmp (*names, name) == 0;
  return n > 1;
}

static gboolean
check_names (Expander *self, const xmlNode *each, char **names)
{
  guint n = g_strv_length (names);

  if (n < 2 || n > PAWL_EACH_MAX_NAMES)
    return refuse (self, each, "<each> has %u name%s; give it 2 to " G_STRINGIFY (PAWL_EACH_MAX_NAMES) ", with spaces between", n, n == 1 ? "" : "s");
  for (guint i = 0; i < n; i++)
    if (!is_word (names[i]))
      return refuse (self, each, "<each> has the name \"%s\"; a name has letters, digits and hyphens, since it becomes part of ids", names[i]);
    else if (is_twice (names, names[i]))
      return refuse (self, each, "<each> has the name \"%s\" twice; give each once", names[i]);
  return TRUE;
}

/* (transfer full) (nullable): the names, written out by the outer frame. */
static char **
read_names (Expander *self, const Frame *outer, const xmlNode *each)
{
  g_autofree char *given = pawl_xml_dup_attribute (each, "names");
  g_autofree char *text = given != NULL ? write_out (self, outer, each, given) : NULL;
  g_auto(GStrv) words = NULL;
  g_autoptr(GStrvBuilder) builder = g_strv_builder_new ();

  if (given == NULL)
    refuse (self, each, "<each> lacks the attribute names; give it names=\"1 2\"");
  if (text == NULL)
    return NULL;
  words = g_strsplit_set (text, " \t\r\n", -1);
  for (char **word = words; *word != NULL; word++)
    if (**word != '\0')
      g_strv_builder_add (builder, *word);
  g_strfreev (g_steal_pointer (&words));
  words = g_strv_builder_end (builder);
  return check_names (self, each, words) ? g_steal_pointer (&words) : NULL;
}

/* One value of <with name="gap" is="a; b"/> goes to the frame of one name. */
static gboolean
read_with (Expander *self, const Frame *outer, const xmlNode *with, guint index, guint n_names, GHashTable *values)
{
  g_autofree char *name = pawl_xml_dup_attribute (with, "name");
  g_autofree char *is = pawl_xml_dup_attribute (with, "is");
  g_autofree char *text = NULL;
  g_auto(GStrv) parts = NULL;

  if (name == NULL || is == NULL || !is_word (name) || !g_ascii_isalpha (*name))
    return refuse (self, with, "<with> gives a placeholder for each name; write <with name=\"gap\" is=\"0.20 mm; 0.25 mm\"/>");
  if (!(text = write_out (self, outer, with, is)))
    return FALSE;
  parts = g_strsplit (text, ";", -1);
  if (g_strv_length (parts) != n_names)
    return refuse (self, with, "{%s} has %u values for %u names; give one for each, with ; between", name, g_strv_length (parts), n_names);
  if (g_hash_table_contains (values, name) || find_value (outer, name) != NULL)
    return refuse (self, with, "{%s} is given twice; name one of them otherwise", name);
  g_hash_table_insert (values, g_steal_pointer (&name), g_strdup (g_strstrip (parts[index])));
  return TRUE;
}

static void
frame_clear (Frame *self)
{
  g_hash_table_unref (self->values);
  g_free (self->which);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Frame, frame_clear)

/* ---- writing out ---- */

static gboolean write_each (Expander *self, const Frame *outer, guint depth, xmlNode *each, xmlNode *target, xmlNode *before);

/* An id of these is one of a kind in the file; that of a spot is one in its reading. */
static gboolean
has_id_of_file (const xmlNode *node)
{
  static const char * const names[] = { "phase", "step", "part", "fit", "check", "reading", "wait", "decide", "note", NULL };

  return g_strv_contains (names, (const char *) node->name);
}

static gboolean
copy_attributes (Expander *self, const Frame *frame, const xmlNode *node, xmlNode *copy)
{
  for (const xmlAttr *attribute = node->properties; attribute != NULL; attribute = attribute->next)
    {
      g_autofree char *value = pawl_xml_dup_value (attribute);
      g_autofree char *written = write_out (self, frame, node, value);

      if (written == NULL)
        return FALSE;
      if (attribute->ns == NULL && strcmp ((const char *) attribute->name, "id") == 0 && strcmp (value, written) == 0 && has_id_of_file (node))
        return refuse (self, node, "id=\"%s\" would stand once for each %s; put {%s} into it: \"%s-{%s}\"", value, frame->of, frame->of, value, frame->of);
      xmlNewNsProp (copy, attribute->ns, attribute->name, BAD_CAST written);
    }
  return TRUE;
}

static gboolean copy_children (Expander *self, const Frame *frame, guint depth, const xmlNode *node, xmlNode *copy);

/* @before: (nullable): the copy goes before this one, else last into @target. */
static gboolean
copy_element (Expander *self, const Frame *frame, guint depth, const xmlNode *node, xmlNode *target, xmlNode *before)
{
  xmlNode *copy = xmlNewDocNode (self->doc, node->ns, node->name, NULL);

  if (before != NULL)
    xmlAddPrevSibling (before, copy);
  else
    xmlAddChild (target, copy);
  copy->_private = GINT_TO_POINTER (pawl_xml_get_line (node));
  g_hash_table_insert (self->which, copy, g_strdup (frame->which));
  if (++self->n_elements > PAWL_XML_MAX_ELEMENTS)
    return refuse (self, node, "with each <each> written out there are over " G_STRINGIFY (PAWL_XML_MAX_ELEMENTS) " elements; split the work into several procedures");
  return copy_attributes (self, frame, node, copy) && copy_children (self, frame, depth, node, copy);
}

static gboolean
copy_children (Expander *self, const Frame *frame, guint depth, const xmlNode *node, xmlNode *copy)
{
  for (xmlNode *child = node->children; child != NULL; child = child->next)
    {
      g_autofree char *written = NULL;

      if (pawl_xml_is (child, "each"))
        {
          if (!write_each (self, frame, depth + 1, child, copy, NULL))
            return FALSE;
        }
      else if (child->type == XML_ELEMENT_NODE)
        {
          if (!copy_element (self, frame, depth, child, copy, NULL))
            return FALSE;
        }
      else if (child->type == XML_TEXT_NODE || child->type == XML_CDATA_SECTION_NODE)
        {
          if (!(written = write_out (self, frame, node, (const char *) child->content)))
            return FALSE;
          xmlAddChild (copy, xmlNewDocText (self->doc, BAD_CAST written));
        }
    }
  return TRUE;
}

static gboolean
write_name (Expander *self, const Frame *outer, guint depth, xmlNode *each, char **names, guint index, const char *of, xmlNode *target, xmlNode *before)
{
  g_auto(Frame) frame = { outer, of, names[index], g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free), NULL };

  frame.which = outer != NULL ? g_strdup_printf ("%s, %s %s", outer->which, of, names[index]) : g_strdup_printf ("%s %s", of, names[index]);
  g_hash_table_insert (frame.values, g_strdup (of), g_strdup (names[index]));
  for (xmlNode *child = pawl_xml_skip (each->children); child != NULL; child = pawl_xml_skip (child->next))
    if (pawl_xml_is (child, "with") && !read_with (self, outer, child, index, g_strv_length (names), frame.values))
      return FALSE;
  for (xmlNode *child = pawl_xml_skip (each->children); child != NULL; child = pawl_xml_skip (child->next))
    if (pawl_xml_is (child, "each"))
      {
        if (!write_each (self, &frame, depth + 1, child, target, before))
          return FALSE;
      }
    else if (!pawl_xml_is (child, "with") && !copy_element (self, &frame, depth, child, target, before))
      return FALSE;
  return TRUE;
}

static gboolean
write_each (Expander *self, const Frame *outer, guint depth, xmlNode *each, xmlNode *target, xmlNode *before)
{
  g_autofree char *of = pawl_xml_dup_attribute (each, "of");
  g_auto(GStrv) names = NULL;

  if (depth > PAWL_EACH_MAX_DEPTH)
    return refuse (self, each, "an <each> stands in an <each> of an <each>; two deep is enough: write the third one out");
  if (of == NULL || !is_word (of) || !g_ascii_isalpha (*of))
    return refuse (self, each, "<each> needs to say of what, in one word: <each of=\"cylinder\" names=\"1 2\">");
  if (find_value (outer, of) != NULL)
    return refuse (self, each, "{%s} is given twice; name one of them otherwise", of);
  if (!(names = read_names (self, outer, each)))
    return FALSE;
  for (guint i = 0; names[i] != NULL; i++)
    if (!write_name (self, outer, depth, each, names, i, of, target, before))
      return FALSE;
  return TRUE;
}

static gboolean
may_stand_in (const xmlNode *parent)
{
  return pawl_xml_is (parent, "parts") || pawl_xml_is (parent, "phase") || pawl_xml_is (parent, "step") || pawl_xml_is (parent, "procedure");
}

/* Outside of every <each>, a placeholder is a slip. In words it may be anything. */
static gboolean
check_plain (Expander *self, const xmlNode *node)
{
  for (const xmlAttr *attribute = node->properties; attribute != NULL; attribute = attribute->next)
    {
      g_autofree char *value = pawl_xml_dup_value (attribute);
      g_autofree char *written = strchr (value, '{') != NULL ? write_out (self, NULL, node, value) : g_strdup ("");

      if (written == NULL)
        return FALSE;
    }
  return TRUE;
}

static gboolean
expand_within (Expander *self, xmlNode *parent)
{
  xmlNode *next;

  if (!check_plain (self, parent))
    return FALSE;
  for (xmlNode *child = pawl_xml_skip (parent->children); child != NULL; child = next)
    {
      next = pawl_xml_skip (child->next);
      if (!pawl_xml_is (child, "each"))
        {
          if (!expand_within (self, child))
            return FALSE;
          continue;
        }
      if (!may_stand_in (parent))
        return refuse (self, child, "<each> can't stand in <%s>; it may stand in <parts>, between phases, in a <phase> or in a <step>", parent->name);
      if (!write_each (self, NULL, 1, child, parent, child))
        return FALSE;
      xmlUnlinkNode (child);
      xmlFreeNode (child);
    }
  return TRUE;
}

GHashTable *
pawl_each_expand (xmlDoc *doc, PawlFault *fault)
{
  g_autoptr(GHashTable) which = g_hash_table_new_full (NULL, NULL, NULL, g_free);
  Expander self = { .doc = doc, .fault = fault, .which = which };

  return expand_within (&self, xmlDocGetRootElement (doc)) ? g_steal_pointer (&which) : NULL;
}
