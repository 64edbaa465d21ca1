/* Reading values of attributes, with errors that say the file, the line and what would be right. */
#pragma once

#include "solids/pawl-solids.h"

#include <libxml/tree.h>

G_BEGIN_DECLS

/* What a file may ask for at most: enough for any figure, too little to fill a machine. */
#define PAWL_SOLID_MAX_SOLIDS 5000
#define PAWL_SOLID_MAX_SIZE_MM 2000.0
#define PAWL_SOLID_MIN_PITCH_MM 0.2
#define PAWL_SOLID_MIN_HATCH 0.5 /* sheet units */

typedef struct {
  const char *name;  /* of the file, for messages */
  GError    **error;
  guint      *n_solids; /* read so far, copies counted */
} PawlSolidReader;

gboolean pawl_solid_reader_fail    (const PawlSolidReader *reader, const xmlNode *node, const char *format, ...) G_GNUC_PRINTF (3, 4);
gboolean pawl_solid_reader_allows  (const PawlSolidReader *reader, const xmlNode *node, const char *names);
gboolean pawl_solid_reader_has     (const xmlNode *node, const char *attribute);
char    *pawl_solid_reader_text    (const xmlNode *node, const char *attribute);
gboolean pawl_solid_reader_number  (const PawlSolidReader *reader, const xmlNode *node, const char *attribute, double otherwise, double *value);
GArray  *pawl_solid_reader_groups  (const PawlSolidReader *reader, const xmlNode *node, const char *attribute, guint least, guint most);
gboolean pawl_solid_reader_frame   (const PawlSolidReader *reader, const xmlNode *node, const PawlFrame *parent, GArray *frames);
gboolean pawl_solid_reader_direction (const char *text, PawlVec *direction);
gboolean pawl_solid_reader_element (const xmlNode *node, const char *name);
xmlNode *pawl_solid_reader_child   (const xmlNode *node);
xmlNode *pawl_solid_reader_next    (const xmlNode *node);

gboolean pawl_solid_reader_part    (const PawlSolidReader *reader, const xmlNode *node, PawlSolidPart *part);

G_END_DECLS
