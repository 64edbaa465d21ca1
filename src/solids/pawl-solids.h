/* A figure of solids: parts by their dimensions, where each is seated and drawn, in what order, and the axes between them.
   File format: urn:pawl:solids:1, see data/svg/README.md. */
#pragma once

#include "solids/pawl-solid-drawing.h"

G_BEGIN_DECLS

#define PAWL_SOLIDS_NAMESPACE "urn:pawl:solids:1"

typedef enum {
  PAWL_SOLIDS_ERROR_READ,    /* the file cannot be read */
  PAWL_SOLIDS_ERROR_NOT_XML, /* not well-formed, or with a document type */
  PAWL_SOLIDS_ERROR_CONTENT, /* an element or a value that the format does not have */
} PawlSolidsError;

#define PAWL_SOLIDS_ERROR (pawl_solids_error_quark ())
GQuark pawl_solids_error_quark (void);

typedef struct {
  char           *id;
  PawlSolidNode  *node;    /* seated, in the unit's frame */
  GArray         *legs;    /* of PawlVec: from seated to where it is drawn */
  GArray         *profile; /* of PawlSolidCorner: corners (axial, radius) of its first turned shape as written; may be empty */
} PawlSolidPart;

/* One region of the figure, in the order of the document. */
typedef struct {
  char                *region;
  const PawlSolidPart *part;
  gboolean             is_front; /* only what stands before the parts drawn since the part's first region */
} PawlSolidRegion;

/* A chain line: either from part to part along a direction, or a stated path. */
typedef struct {
  GArray    *at;    /* of PawlVec: a point on each line */
  PawlVec    along; /* unit */
  double     start; /* mm from @at: where the line leaves the first, seated part */
  GPtrArray *parts; /* of const PawlSolidPart, in order outward */
  GArray    *path;  /* of PawlVec; empty unless a stated path */
} PawlSolidAxis;

typedef struct {
  char         *title;
  char         *desc;
  PawlSolidView view;
  double        axis_scale[3];
  double        ratio;   /* width to height of the sheet */
  double        margin;  /* share of the sheet kept free on each side */
  GPtrArray    *parts;   /* of PawlSolidPart */
  GPtrArray    *regions; /* of PawlSolidRegion */
  GPtrArray    *axes;    /* of PawlSolidAxis */
} PawlSolids;

PawlSolids    *pawl_solids_load      (const char *path, GError **error);
PawlSolids    *pawl_solids_parse     (const char *text, gsize length, const char *name, GError **error);
void           pawl_solids_free      (PawlSolids *solids);
PawlSolidPart *pawl_solids_find_part (const PawlSolids *solids, const char *id);
PawlVec        pawl_solid_part_offset (const PawlSolidPart *part);

char          *pawl_solids_draw      (const PawlSolids *solids, gboolean seated);
char          *pawl_solids_slides    (const PawlSolids *solids);
char          *pawl_solid_part_slide (const PawlSolids *solids, const PawlSolidPart *part);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSolids, pawl_solids_free)

G_END_DECLS
