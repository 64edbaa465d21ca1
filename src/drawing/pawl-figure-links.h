/* Links inside a figure: who uses whom, so that what a file draws in the end can be counted before it is drawn. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct _PawlLinks PawlLinks;

PawlLinks  *pawl_links_new          (void);
void        pawl_links_free         (PawlLinks *self);
/* Elements as they are read: open, its links, what is inside, close. @id: (nullable). */
void        pawl_links_open         (PawlLinks *self, const char *element, const char *id, int line);
void        pawl_links_close        (PawlLinks *self);
const char *pawl_links_peek_element (PawlLinks *self); /* (nullable): the innermost open one */
int         pawl_links_get_open_line (PawlLinks *self); /* where the innermost open one stands; 0: none is open */
/* The open element has so many corners: a marker on it is drawn at each. */
void        pawl_links_set_corners  (PawlLinks *self, guint n_corners);
/* The open element takes as much drawing as so many more plain shapes. */
void        pawl_links_add_weight   (PawlLinks *self, double weight);

typedef enum {
  PAWL_LINK_ONCE,       /* <use>, a mask, a filter, …: drawn once for the element that has it */
  PAWL_LINK_PER_SHAPE,  /* a fill or a stroke: for each shape inside as well, which inherits it */
  PAWL_LINK_PER_CORNER, /* a marker: for each corner of each shape inside */
} PawlLinkKind;

void        pawl_links_add          (PawlLinks *self, const char *target_id, PawlLinkKind kind);
/* Named by a style sheet, which may put it on any element. */
void        pawl_links_add_for_all  (PawlLinks *self, const char *target_id);
/* FALSE, with a PAWL_FIGURE_ERROR, when links go in a circle, too deep, or expand to too much. */
gboolean    pawl_links_check        (PawlLinks *self, const char *name, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlLinks, pawl_links_free)

G_END_DECLS
