#include "drawing/pawl-figure-layers.h"

#include <string.h>

#include "drawing/pawl-figure-style.h"

/* A value that is not the one at first. What can't be read counts: nothing is lost by it but time. */
static gboolean
makes_layer (const char *name, const char *value)
{
  if (g_str_equal (name, "opacity"))
    return !g_str_equal (value, "1");
  if (g_str_equal (name, "mix-blend-mode"))
    return !g_str_equal (value, "normal");
  return (g_str_equal (name, "mask") || g_str_equal (name, "filter") || g_str_equal (name, "clip-path")) && !g_str_equal (value, "none");
}

/* Goes on until a declaration makes a layer. */
static gboolean
visit_cb (const char *name, const char *value, gpointer data)
{
  return !makes_layer (name, value);
}

static gboolean
has_layer (xmlNode *node)
{
  for (xmlAttr *attribute = node->properties; attribute; attribute = attribute->next)
    {
      xmlChar *value = xmlNodeGetContent ((xmlNode *) attribute);
      const char *name = (const char *) attribute->name, *text = value ? (const char *) value : "";
      gboolean is_found = g_str_equal (name, "style") ? !pawl_style_visit_declarations (text, visit_cb, NULL) : makes_layer (name, text);

      xmlFree (value);
      if (is_found)
        return TRUE;
    }
  return FALSE;
}

/* To something whose layers are then needed as well: what is used, a pattern, a marker. */
static gboolean
refers (xmlNode *node)
{
  if (strcmp ((const char *) node->name, "use") == 0)
    return TRUE;
  for (xmlAttr *attribute = node->properties; attribute; attribute = attribute->next)
    {
      xmlChar *value = xmlNodeGetContent ((xmlNode *) attribute);
      gboolean is_found = value && pawl_style_find ((const char *) value, "url(") != NULL;

      xmlFree (value);
      if (is_found)
        return TRUE;
    }
  return FALSE;
}

static gboolean
any_below (xmlNode *node, gboolean (*test) (xmlNode *node))
{
  if (node->type != XML_ELEMENT_NODE)
    return FALSE;
  if (test (node))
    return TRUE;
  for (xmlNode *child = node->children; child; child = child->next)
    if (any_below (child, test))
      return TRUE;
  return FALSE;
}

static gboolean
is_sheet_with_layer (xmlNode *node)
{
  xmlChar *text = strcmp ((const char *) node->name, "style") == 0 ? xmlNodeGetContent (node) : NULL;
  guint n_selectors = 0;
  gboolean is_found = text && !pawl_style_visit_sheet ((const char *) text, &n_selectors, visit_cb, NULL);

  xmlFree (text);
  return is_found;
}

PawlLayers
pawl_figure_layers_find (xmlNode *root)
{
  if (any_below (root, is_sheet_with_layer) || has_layer (root))
    return PAWL_LAYERS_EVERYWHERE;
  return any_below (root, has_layer) ? PAWL_LAYERS_SOMEWHERE : PAWL_LAYERS_NONE;
}

gboolean
pawl_figure_layers_need (xmlNode *node, PawlLayers figure)
{
  if (figure != PAWL_LAYERS_SOMEWHERE)
    return figure == PAWL_LAYERS_EVERYWHERE;
  return any_below (node, has_layer) || any_below (node, refers);
}
