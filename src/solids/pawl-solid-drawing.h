/* The picture of one solid: which lines are seen, and the flat tones between them. Sheet units, y down. */
#pragma once

#include "solids/pawl-solid-tree.h"

G_BEGIN_DECLS

/* Widths of lines in sheet units, 2:1 as ISO 128-2 has them (the ratio from memory). */
#define PAWL_SOLID_WIDE 0.6
#define PAWL_SOLID_NARROW 0.3

/* What is looked at, and what may stand before it. */
typedef struct {
  const PawlSolidNode *node;
  const PawlSolidView *view;
  const GPtrArray     *before; /* (nullable): PawlSolidNode: picture only the outside that stands before all of these */
} PawlSolidSubject;

typedef enum {
  PAWL_TONE_NONE = -1, /* nothing there */
  PAWL_TONE_PAPER,
  PAWL_TONE_LIGHT,
  PAWL_TONE_MIDDLE,
  PAWL_TONE_DARK,
} PawlTone;

/* Lists of lines; each line a GArray of PawlFlat. A ring ends on its first point. */
typedef struct {
  GPtrArray *wide;    /* outlines and visible edges */
  GPtrArray *narrow;  /* fine features, tangent lines, strokes, hatching */
  GPtrArray *area[4]; /* rings round what is at least PAPER, LIGHT, MIDDLE, DARK, to be filled even-odd one over the other; of a front
                       * each goes only a little way under the next */
  GArray    *hatch;   /* of double: degrees of the hatching that is seen, clockwise from the right, 0 up to 180 */
} PawlSolidPicture;

PawlSolidPicture *pawl_solid_picture_new  (const PawlSolidSubject *subject);
void              pawl_solid_picture_free (PawlSolidPicture *picture);

GPtrArray *pawl_solid_lines_new  (void);
void       pawl_solid_lines_draw (const PawlSolidSubject *subject, GPtrArray *wide, GPtrArray *narrow);
void       pawl_solid_tones_draw (const PawlSolidSubject *subject, GPtrArray *area[4]);
void       pawl_solid_hatch_draw (const PawlSolidSubject *subject, GPtrArray *lines, GArray *angles);
gboolean   pawl_solid_subject_sees (const PawlSolidSubject *subject, PawlVec p);
const PawlSolidShape *pawl_solid_subject_face (const PawlSolidSubject *subject, PawlFlat sheet, PawlVec *p);

GPtrArray *pawl_solid_lines_join (GPtrArray *take_lines, double reach);
void       pawl_solid_line_thin  (GArray *line, double tolerance);

G_END_DECLS
