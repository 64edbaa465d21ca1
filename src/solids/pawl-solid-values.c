#include "solids/pawl-solid-reader-private.h"

#include <string.h>

/* Sets the error, "file:line: what". Always FALSE. */
gboolean
pawl_solid_reader_fail (const PawlSolidReader *reader, const xmlNode *node, const char *format, ...)
{
  va_list list;
  g_autofree char *message = NULL;

  va_start (list, format);
  message = g_strdup_vprintf (format, list);
  va_end (list);
  if (reader->error != NULL && *reader->error == NULL)
    g_set_error (reader->error, PAWL_SOLIDS_ERROR, PAWL_SOLIDS_ERROR_CONTENT, "%s:%ld: %s", reader->name, xmlGetLineNo (node), message);
  return FALSE;
}

gboolean
pawl_solid_reader_has (const xmlNode *node, const char *attribute)
{
  return xmlHasProp (node, (const xmlChar *) attribute) != NULL;
}

/* Returns: (transfer full) (nullable) */
char *
pawl_solid_reader_text (const xmlNode *node, const char *attribute)
{
  xmlChar *value = xmlGetNoNsProp (node, (const xmlChar *) attribute);
  char *text = g_strdup ((const char *) value);

  xmlFree (value);
  return text;
}

/* Refuses an attribute that is not among @names, which are parted by spaces. */
gboolean
pawl_solid_reader_allows (const PawlSolidReader *reader, const xmlNode *node, const char *names)
{
  g_auto(GStrv) known = g_strsplit (names, " ", -1);

  for (const xmlAttr *attribute = node->properties; attribute != NULL; attribute = attribute->next)
    if (!g_strv_contains ((const char *const *) known, (const char *) attribute->name))
      return pawl_solid_reader_fail (reader, node, "<%s> has no attribute \"%s\"; it may have: %s", node->name, attribute->name, names);
  return TRUE;
}

static gboolean
parse_number (const char *text, double *value)
{
  char *end = NULL;

  *value = g_ascii_strtod (text, &end);
  return end != text && *end == '\0' && isfinite (*value) && fabs (*value) <= 1e5;
}

/* A number in millimetres or degrees; @otherwise when the attribute is absent, an error when that is NAN. */
gboolean
pawl_solid_reader_number (const PawlSolidReader *reader, const xmlNode *node, const char *attribute, double otherwise, double *value)
{
  g_autofree char *text = pawl_solid_reader_text (node, attribute);

  *value = otherwise;
  if (text == NULL)
    return !isnan (otherwise) || pawl_solid_reader_fail (reader, node, "<%s> needs %s=\"number\"", node->name, attribute);
  return parse_number (text, value)
         || pawl_solid_reader_fail (reader, node, "%s=\"%s\" is not a number such as 12.5", attribute, text);
}

/**
 * pawl_solid_reader_groups:
 * @least: fewest numbers in a group
 * @most: most numbers in a group, up to 4
 *
 * Reads "1,2 3,4": groups of numbers parted by spaces, numbers by commas.
 *
 * Returns: (transfer full) (nullable) (element-type double): four doubles for each group, NAN where a number was not given;
 *   NULL with the error set.
 */
GArray *
pawl_solid_reader_groups (const PawlSolidReader *reader, const xmlNode *node, const char *attribute, guint least, guint most)
{
  g_autofree char *text = pawl_solid_reader_text (node, attribute);
  g_auto(GStrv) words = NULL;
  g_autoptr(GArray) groups = g_array_new (FALSE, FALSE, 4 * sizeof (double));

  if (text == NULL)
    {
      pawl_solid_reader_fail (reader, node, "<%s> needs %s=\"…\"", node->name, attribute);
      return NULL;
    }
  words = g_strsplit_set (text, " \t\n", -1);
  for (guint i = 0; words[i] != NULL; i++)
    {
      g_auto(GStrv) numbers = g_strsplit (words[i], ",", -1);
      guint n = g_strv_length (numbers);
      double group[4] = { NAN, NAN, NAN, NAN };
      gboolean good = n >= least && n <= most;

      if (n == 0)
        continue;
      for (guint k = 0; good && k < n; k++)
        good = parse_number (numbers[k], &group[k]);
      if (!good)
        {
          pawl_solid_reader_fail (reader, node, "in %s, \"%s\" is not %u to %u numbers parted by commas", attribute, words[i], least, most);
          return NULL;
        }
      g_array_append_val (groups, group);
    }
  if (groups->len == 0)
    {
      pawl_solid_reader_fail (reader, node, "%s=\"\" is empty", attribute);
      return NULL;
    }
  return g_steal_pointer (&groups);
}

/* "x", "-y", "+z" */
gboolean
pawl_solid_reader_direction (const char *text, PawlVec *direction)
{
  double sign = *text == '-' ? -1.0 : 1.0;

  if (*text == '-' || *text == '+')
    text++;
  if (strlen (text) != 1 || *text < 'x' || *text > 'z')
    return FALSE;
  *direction = vec (*text == 'x' ? sign : 0.0, *text == 'y' ? sign : 0.0, *text == 'z' ? sign : 0.0);
  return TRUE;
}

/* The frame whose z axis lies along @axis; of the other two, x is the next axis in the cycle x, y, z. */
static PawlFrame
frame_along (PawlVec axis)
{
  PawlFrame frame = { .ez = axis };

  if (axis.x != 0.0)
    frame.ex = vec (0, 1, 0);
  else if (axis.y != 0.0)
    frame.ex = vec (0, 0, 1);
  else
    frame.ex = vec (1, 0, 0);
  frame.ey = vec_cross (frame.ez, frame.ex);
  return frame;
}

/* @v turned by @degrees about the unit vector @axis, right hand. (Rodrigues' formula.) */
static PawlVec
turn_about (PawlVec v, PawlVec axis, double degrees)
{
  double c = cos (degrees * G_PI / 180.0), s = sin (degrees * G_PI / 180.0);

  return vec_add (vec_add (vec_scale (v, c), vec_scale (vec_cross (axis, v), s)), vec_scale (axis, vec_dot (axis, v) * (1.0 - c)));
}

static void
turn_frame (PawlFrame *frame, PawlVec axis, double degrees)
{
  frame->ex = turn_about (frame->ex, axis, degrees);
  frame->ey = turn_about (frame->ey, axis, degrees);
  frame->ez = turn_about (frame->ez, axis, degrees);
}

/* copies="16": as many, turned evenly about the axis. */
static gboolean
read_copies (const PawlSolidReader *reader, const xmlNode *node, guint *copies)
{
  double n;

  if (!pawl_solid_reader_number (reader, node, "copies", 1.0, &n))
    return FALSE;
  *copies = (guint) CLAMP (n, 0.0, 360.0);
  return (*copies >= 1 && (double) *copies == n)
         || pawl_solid_reader_fail (reader, node, "copies must be a whole number from 1 to 360");
}

static gboolean
read_tilt (const PawlSolidReader *reader, const xmlNode *node, PawlFrame *frame)
{
  g_autofree char *text = pawl_solid_reader_text (node, "tilt");
  g_auto(GStrv) words = text != NULL ? g_strsplit (text, " ", 2) : NULL;
  PawlVec axis;
  double degrees;

  if (text == NULL)
    return TRUE;
  if (g_strv_length (words) != 2 || !pawl_solid_reader_direction (words[0], &axis) || !parse_number (words[1], &degrees))
    return pawl_solid_reader_fail (reader, node, "tilt=\"%s\" is not an axis and degrees such as \"y 12\"", text);
  turn_frame (frame, axis, degrees);
  return TRUE;
}

/**
 * pawl_solid_reader_frame:
 * @parent: the frame the element stands in
 * @frames: (element-type PawlFrame): one is added for each copy at each point of at="…"
 *
 * Reads at="x,y,z …" axis="-y" turn="degrees about the axis" copies="how many, turned evenly about the axis"
 * tilt="y degrees about an axis of the parent".
 */
gboolean
pawl_solid_reader_frame (const PawlSolidReader *reader, const xmlNode *node, const PawlFrame *parent, GArray *frames)
{
  g_autofree char *axis_text = pawl_solid_reader_text (node, "axis");
  g_autoptr(GArray) at = NULL;
  PawlVec axis = vec (0, 0, 1);
  double turn;
  guint copies;

  if (axis_text != NULL && !pawl_solid_reader_direction (axis_text, &axis))
    return pawl_solid_reader_fail (reader, node, "axis=\"%s\" is not x, -x, y, -y, z or -z", axis_text);
  if (!pawl_solid_reader_number (reader, node, "turn", 0.0, &turn) || !read_copies (reader, node, &copies))
    return FALSE;
  if (pawl_solid_reader_has (node, "at") && !(at = pawl_solid_reader_groups (reader, node, "at", 3, 3)))
    return FALSE;
  for (guint i = 0; i < (at != NULL ? at->len : 1); i++)
    for (guint k = 0; k < copies; k++)
      {
        const double *p = at != NULL ? (const double *) (gpointer) (at->data + i * 4 * sizeof (double)) : NULL;
        PawlFrame frame = frame_along (axis);

        turn_frame (&frame, frame.ez, turn + 360.0 * k / copies);
        if (!read_tilt (reader, node, &frame))
          return FALSE;
        frame = (PawlFrame) {
          frame_place (parent, p != NULL ? vec (p[0], p[1], p[2]) : vec (0, 0, 0)),
          frame_turn (parent, frame.ex), frame_turn (parent, frame.ey), frame_turn (parent, frame.ez),
        };
        g_array_append_val (frames, frame);
      }
  return TRUE;
}

gboolean
pawl_solid_reader_element (const xmlNode *node, const char *name)
{
  return g_str_equal ((const char *) node->name, name);
}

static xmlNode *
first_element (xmlNode *node)
{
  while (node != NULL && node->type != XML_ELEMENT_NODE)
    node = node->next;
  return node;
}

xmlNode *
pawl_solid_reader_child (const xmlNode *node)
{
  return first_element (node->children);
}

xmlNode *
pawl_solid_reader_next (const xmlNode *node)
{
  return first_element (node->next);
}
