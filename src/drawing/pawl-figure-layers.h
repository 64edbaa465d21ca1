/*
 * Which elements the drawing library draws on a surface of its own first: what has a mask, a filter, a clip by its box, an opacity or a way of
 * blending. Those surfaces are as large as the whole sheet, which matters when the camera is close.
 */
#pragma once

#include <glib.h>
#include <libxml/tree.h>

G_BEGIN_DECLS

typedef enum {
  PAWL_LAYERS_NONE,
  PAWL_LAYERS_SOMEWHERE,  /* in some elements: needed by what holds one, and by what refers to anything */
  PAWL_LAYERS_EVERYWHERE, /* on the root or in a style sheet: by anything, as nobody here knows what a selector is for */
} PawlLayers;

/* What holds for the whole figure. */
PawlLayers pawl_figure_layers_find (xmlNode *root);
/* TRUE: drawing @node may need such a surface. @figure: what was found of the whole. */
gboolean   pawl_figure_layers_need (xmlNode *node, PawlLayers figure);

G_END_DECLS
