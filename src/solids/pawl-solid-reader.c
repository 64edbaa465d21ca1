/* The file of a figure: projection, sheet, parts, order, axes. */
#include "solids/pawl-solid-reader-private.h"

#include <libxml/parser.h>
#include <string.h>

#define MAX_BYTES (4 * 1024 * 1024)

static void
free_part (PawlSolidPart *part)
{
  g_free (part->id);
  pawl_solid_node_free (part->node);
  g_array_unref (part->legs);
  g_array_unref (part->profile);
  g_free (part);
}

static void
free_region (PawlSolidRegion *region)
{
  g_free (region->region);
  g_free (region);
}

static void
free_axis (PawlSolidAxis *axis)
{
  g_array_unref (axis->at);
  g_array_unref (axis->path);
  g_ptr_array_unref (axis->parts);
  g_free (axis);
}

static void
groups_to_vectors (const GArray *groups, GArray *vectors)
{
  for (guint i = 0; i < groups->len; i++)
    {
      const double *g = (const double *) (gpointer) (groups->data + i * 4 * sizeof (double));
      PawlVec v = vec (g[0], g[1], g[2]);

      g_array_append_val (vectors, v);
    }
}

static gboolean
read_projection (const PawlSolidReader *reader, const xmlNode *node, PawlSolids *solids)
{
  g_autoptr(GArray) scale = NULL;
  g_autofree char *toward = pawl_solid_reader_text (node, "toward");
  g_auto(GStrv) words = toward != NULL ? g_strsplit (toward, " ", -1) : NULL;
  int sign[3] = { 0, 0, 0 };

  if (!pawl_solid_reader_allows (reader, node, "scale toward") || !(scale = pawl_solid_reader_groups (reader, node, "scale", 3, 3)))
    return FALSE;
  for (guint i = 0; words != NULL && words[i] != NULL; i++)
    {
      PawlVec d;

      if (!pawl_solid_reader_direction (words[i], &d))
        return pawl_solid_reader_fail (reader, node, "toward=\"%s\" is not three axis ends such as \"-x -y +z\"", toward);
      sign[0] += (int) d.x;
      sign[1] += (int) d.y;
      sign[2] += (int) d.z;
    }
  for (guint i = 0; i < 3; i++)
    {
      solids->axis_scale[i] = ((const double *) (gpointer) scale->data)[i];
      if (sign[i] != 1 && sign[i] != -1)
        return pawl_solid_reader_fail (reader, node, "toward must name an end of each of x, y and z once, such as \"-x -y +z\"");
    }
  return pawl_solid_view_set (&solids->view, solids->axis_scale, sign)
         || pawl_solid_reader_fail (reader, node, "no parallel view has these three axis scales");
}

static gboolean
read_sheet (const PawlSolidReader *reader, const xmlNode *node, PawlSolids *solids)
{
  if (!pawl_solid_reader_allows (reader, node, "ratio margin")
      || !pawl_solid_reader_number (reader, node, "ratio", NAN, &solids->ratio)
      || !pawl_solid_reader_number (reader, node, "margin", NAN, &solids->margin))
    return FALSE;
  return (solids->ratio > 0.1 && solids->ratio < 10.0 && solids->margin >= 0.0 && solids->margin < 0.4)
         || pawl_solid_reader_fail (reader, node, "ratio must lie between 0.1 and 10, margin between 0 and 0.4");
}

static gboolean
read_part (const PawlSolidReader *reader, const xmlNode *node, PawlSolids *solids)
{
  PawlSolidPart *part = g_new0 (PawlSolidPart, 1);

  part->id = pawl_solid_reader_text (node, "id");
  part->node = pawl_solid_node_new_group (PAWL_SOLID_ADD);
  part->legs = g_array_new (FALSE, FALSE, sizeof (PawlVec));
  part->profile = g_array_new (FALSE, FALSE, sizeof (PawlSolidCorner));
  if (part->id == NULL || *part->id == '\0' || pawl_solids_find_part (solids, part->id) != NULL)
    {
      pawl_solid_reader_fail (reader, node, part->id == NULL || *part->id == '\0' ? "<part> needs an id" : "part \"%s\" is there twice",
                              part->id);
      free_part (part);
      return FALSE;
    }
  g_ptr_array_add (solids->parts, part);
  if (!pawl_solid_reader_allows (reader, node, "id legs"))
    return FALSE;
  if (pawl_solid_reader_has (node, "legs"))
    {
      g_autoptr(GArray) groups = pawl_solid_reader_groups (reader, node, "legs", 3, 3);

      if (groups == NULL)
        return FALSE;
      groups_to_vectors (groups, part->legs);
    }
  if (!pawl_solid_reader_part (reader, node, part))
    return FALSE;
  if (part->node->children->len == 0)
    return pawl_solid_reader_fail (reader, node, "part \"%s\" has no solid", part->id);
  pawl_solid_node_prepare (part->node, &solids->view);
  if (!(vec_length (vec_sub (part->node->high, part->node->low)) <= PAWL_SOLID_MAX_SIZE_MM))
    return pawl_solid_reader_fail (reader, node, "part \"%s\" adds nothing, or is larger than %g mm", part->id, PAWL_SOLID_MAX_SIZE_MM);
  return TRUE;
}

static PawlSolidPart *
named_part (const PawlSolidReader *reader, const xmlNode *node, const PawlSolids *solids, const char *id)
{
  PawlSolidPart *part = id != NULL ? pawl_solids_find_part (solids, id) : NULL;

  if (part == NULL)
    pawl_solid_reader_fail (reader, node, "there is no part \"%s\" before this line", id != NULL ? id : "");
  return part;
}

static gboolean
has_region_of (const PawlSolids *solids, const PawlSolidPart *part)
{
  for (guint i = 0; i < solids->regions->len; i++)
    if (((const PawlSolidRegion *) g_ptr_array_index (solids->regions, i))->part == part)
      return TRUE;
  return FALSE;
}

/* The order from behind to before; a part named twice is whole first and its front second. */
static gboolean
read_order (const PawlSolidReader *reader, const xmlNode *node, PawlSolids *solids)
{
  for (xmlNode *child = pawl_solid_reader_child (node); child != NULL; child = pawl_solid_reader_next (child))
    {
      g_autofree char *id = pawl_solid_reader_text (child, "part");
      PawlSolidRegion *region;
      PawlSolidPart *part;

      if (!pawl_solid_reader_element (child, "draw"))
        return pawl_solid_reader_fail (reader, child, "<order> may hold <draw> only, not <%s>", child->name);
      if (!pawl_solid_reader_allows (reader, child, "part region") || !(part = named_part (reader, child, solids, id)))
        return FALSE;
      region = g_new0 (PawlSolidRegion, 1);
      region->part = part;
      region->region = pawl_solid_reader_text (child, "region");
      if (region->region == NULL)
        region->region = g_strdup (part->id);
      region->is_front = has_region_of (solids, part);
      g_ptr_array_add (solids->regions, region);
    }
  return TRUE;
}

static gboolean
read_axis (const PawlSolidReader *reader, const xmlNode *node, PawlSolids *solids)
{
  g_autofree char *along = pawl_solid_reader_text (node, "along"), *parts = pawl_solid_reader_text (node, "parts");
  g_auto(GStrv) ids = parts != NULL ? g_strsplit (parts, " ", -1) : NULL;
  g_autoptr(GArray) groups = NULL;
  gboolean is_path = pawl_solid_reader_has (node, "path");
  PawlSolidAxis *axis = g_new0 (PawlSolidAxis, 1);

  axis->at = g_array_new (FALSE, FALSE, sizeof (PawlVec));
  axis->path = g_array_new (FALSE, FALSE, sizeof (PawlVec));
  axis->parts = g_ptr_array_new ();
  g_ptr_array_add (solids->axes, axis);
  if (!pawl_solid_reader_allows (reader, node, is_path ? "path parts" : "at along start parts")
      || !(groups = pawl_solid_reader_groups (reader, node, is_path ? "path" : "at", 3, 3)))
    return FALSE;
  groups_to_vectors (groups, is_path ? axis->path : axis->at);
  if (!is_path && (along == NULL || !pawl_solid_reader_direction (along, &axis->along)))
    return pawl_solid_reader_fail (reader, node, "an axis needs along=\"x\", \"-x\", \"y\", …");
  if (ids == NULL)
    return pawl_solid_reader_fail (reader, node, "an axis needs parts=\"…\", in order outward");
  if (!pawl_solid_reader_number (reader, node, "start", 0.0, &axis->start))
    return FALSE;
  for (guint i = 0; ids[i] != NULL; i++)
    {
      PawlSolidPart *part = named_part (reader, node, solids, ids[i]);

      if (part == NULL)
        return FALSE;
      g_ptr_array_add (axis->parts, part);
    }
  return TRUE;
}

static gboolean
read_axes (const PawlSolidReader *reader, const xmlNode *node, PawlSolids *solids)
{
  for (xmlNode *child = pawl_solid_reader_child (node); child != NULL; child = pawl_solid_reader_next (child))
    {
      if (!pawl_solid_reader_element (child, "axis"))
        return pawl_solid_reader_fail (reader, child, "<axes> may hold <axis> only, not <%s>", child->name);
      if (!read_axis (reader, child, solids))
        return FALSE;
    }
  return TRUE;
}

static char *
element_text (const xmlNode *node)
{
  xmlChar *content = xmlNodeGetContent (node);
  g_auto(GStrv) words = g_strsplit_set ((const char *) content, " \t\n", -1);
  GString *text = g_string_new (NULL);

  for (guint i = 0; words[i] != NULL; i++)
    if (*words[i] != '\0')
      g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", words[i]);
  xmlFree (content);
  return g_string_free (text, FALSE);
}

static gboolean
read_element (const PawlSolidReader *reader, const xmlNode *node, PawlSolids *solids)
{
  if (!pawl_solid_reader_element (node, "title") && !pawl_solid_reader_element (node, "desc")
      && !pawl_solid_reader_element (node, "projection") && solids->view.scale == 0.0)
    return pawl_solid_reader_fail (reader, node, "<projection> must come before <%s>", node->name);
  if (pawl_solid_reader_element (node, "title"))
    {
      g_free (solids->title);
      solids->title = element_text (node);
      return TRUE;
    }
  if (pawl_solid_reader_element (node, "desc"))
    {
      g_free (solids->desc);
      solids->desc = element_text (node);
      return TRUE;
    }
  if (pawl_solid_reader_element (node, "projection"))
    return read_projection (reader, node, solids);
  if (pawl_solid_reader_element (node, "sheet"))
    return read_sheet (reader, node, solids);
  if (pawl_solid_reader_element (node, "part"))
    return read_part (reader, node, solids);
  if (pawl_solid_reader_element (node, "order"))
    return read_order (reader, node, solids);
  if (pawl_solid_reader_element (node, "axes"))
    return read_axes (reader, node, solids);
  return pawl_solid_reader_fail (reader, node, "<%s> does not belong here; there are title, desc, projection, sheet, part, order and axes",
                                 node->name);
}

static gboolean
read_root (const PawlSolidReader *reader, const xmlNode *root, PawlSolids *solids)
{
  if (!pawl_solid_reader_element (root, "solids") || root->ns == NULL
      || !g_str_equal ((const char *) root->ns->href, PAWL_SOLIDS_NAMESPACE))
    return pawl_solid_reader_fail (reader, root, "the file must begin with <solids xmlns=\"" PAWL_SOLIDS_NAMESPACE "\">");
  for (xmlNode *node = pawl_solid_reader_child (root); node != NULL; node = pawl_solid_reader_next (node))
    if (!read_element (reader, node, solids))
      return FALSE;
  if (solids->regions->len == 0)
    return pawl_solid_reader_fail (reader, root, "<order> names no region: nothing to draw");
  return TRUE;
}

static PawlSolids *
new_solids (void)
{
  PawlSolids *solids = g_new0 (PawlSolids, 1);

  solids->ratio = 1.4;
  solids->margin = 0.09;
  solids->parts = g_ptr_array_new_with_free_func ((GDestroyNotify) free_part);
  solids->regions = g_ptr_array_new_with_free_func ((GDestroyNotify) free_region);
  solids->axes = g_ptr_array_new_with_free_func ((GDestroyNotify) free_axis);
  return solids;
}

static xmlDoc *
parse_document (const char *text, gsize length, const char *name, GError **error)
{
  xmlParserCtxt *context = xmlNewParserCtxt ();
  xmlDoc *doc = xmlCtxtReadMemory (context, text, (int) length, NULL, NULL,
                                   XML_PARSE_NONET | XML_PARSE_NOERROR | XML_PARSE_NOWARNING | XML_PARSE_BIG_LINES);

  if (doc == NULL)
    {
      const xmlError *problem = xmlCtxtGetLastError (context);
      g_autofree char *message = g_strdup (problem != NULL && problem->message != NULL ? problem->message : "no XML");

      g_set_error (error, PAWL_SOLIDS_ERROR, PAWL_SOLIDS_ERROR_NOT_XML, "%s:%d: not well-formed: %s", name,
                   problem != NULL ? problem->line : 1, g_strstrip (message));
    }
  else if (doc->intSubset != NULL)
    {
      g_set_error (error, PAWL_SOLIDS_ERROR, PAWL_SOLIDS_ERROR_NOT_XML, "%s:1: a document type is not taken here; remove <!DOCTYPE …>", name);
      g_clear_pointer (&doc, xmlFreeDoc);
    }
  xmlFreeParserCtxt (context);
  return doc;
}

/**
 * pawl_solids_parse:
 * @name: of the file, for messages
 *
 * Returns: (transfer full) (nullable)
 */
PawlSolids *
pawl_solids_parse (const char *text, gsize length, const char *name, GError **error)
{
  g_autoptr(PawlSolids) solids = new_solids ();
  guint n_solids = 0;
  PawlSolidReader reader = { name, error, &n_solids };
  xmlDoc *doc;
  gboolean good;

  if (length > MAX_BYTES)
    {
      g_set_error (error, PAWL_SOLIDS_ERROR, PAWL_SOLIDS_ERROR_READ, "%s:1: more than %d bytes", name, MAX_BYTES);
      return NULL;
    }
  if (!(doc = parse_document (text, length, name, error)))
    return NULL;
  good = read_root (&reader, xmlDocGetRootElement (doc), solids);
  xmlFreeDoc (doc);
  return good ? g_steal_pointer (&solids) : NULL;
}

PawlSolids *
pawl_solids_load (const char *path, GError **error)
{
  g_autofree char *text = NULL, *name = g_path_get_basename (path);
  g_autoptr(GError) problem = NULL;
  gsize length;

  if (!g_file_get_contents (path, &text, &length, &problem))
    {
      g_set_error (error, PAWL_SOLIDS_ERROR, PAWL_SOLIDS_ERROR_READ, "%s", problem->message);
      return NULL;
    }
  return pawl_solids_parse (text, length, name, error);
}
