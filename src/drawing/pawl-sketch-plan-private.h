/* Between the files that plan a sketch: what is known of it, and the attempt in hand. */
#pragma once

#include "drawing/pawl-sketch-private.h"

G_BEGIN_DECLS

/* Largest radius of the circle round the spot that a lens enlarges, of the text's size. */
#define PAWL_SKETCH_LARGEST_SPOT 2.2
/* Between a pane's edge and what is on it, of the text's size. */
#define PAWL_SKETCH_EDGE 0.5
/* So few layers of a stack may take several lines each. */
#define PAWL_SKETCH_FEW_ROWS 4

typedef struct {
  const PawlRule   *rule;
  PawlSketchOptions options;
  cairo_t          *cr;         /* to measure text by */
  PawlDifference    difference;
  GPtrArray        *poses[2];   /* right, wrong */
  const PawlStroke *telling;    /* (nullable) the difference, in the wrong pose */
  const PawlStroke *tellings[2]; /* where it is in each pane: the same, unless each of a question is seen from its own side */
  gboolean          is_question; /* no word, sign or number may say which is which */
  double            telling_mm; /* how long it is */
  PawlBox           mm;         /* room that both poses take */
  double            text;
  double            least;      /* least difference that is plain to see, surface units */
  PawlBox           rooms[2];   /* of the panes, below their titles */
  gboolean          is_list;    /* the picture is a list itself, its rows moved apart for a line of words above each */
  guint             n_rows, telling_row;
  gboolean          has_tall_rows; /* two lines of words above each row of a list */
  double            row_gap, telling_gap; /* what each row, and the dimension, takes */
  double            row_width;  /* of the list beside the picture; 0: none */
  gboolean          has_signs;  /* in the list of the wrong pane */
  gboolean          has_lens, is_lens_below;
  PawlPoint         lens;       /* its middle, from the corner of a room */
  double            lens_radius, lens_words_width, lens_words_height;
  PawlPoint         lens_words; /* upper left corner, or, below the lens, the middle of the upper edge */
  gboolean          has_lens_words_below;
  double            exaggeration;
  /* the attempt */
  PawlSketchPane   *panes[2];
  PawlPoint         origins[2];
  double            scale;
  PawlBox           body;       /* of the poses, from the corner of a room */
  gboolean          is_trial;   /* to learn how bad it is; words that have no room nearby are not placed at all */
  gboolean          is_thorough; /* trials place all words as they would in the end, however long that takes */
  guint             n_tries;    /* what all trials took, about: an end to them for a rule of very many words */
  double            most_bad;   /* a trial that is as bad as this may end */
  double            badness;    /* what the attempt lacks, in steps of scale that it may cost to mend it */
  guint             n_left_out; /* words without room */
} PawlSketchDraft;

/* What each fault of an attempt is worth: so many steps smaller may the picture be to be rid of it. */
#define PAWL_SKETCH_BAD_FAR 4.0        /* words that are led to from afar, or that ought to stand close and do not */
#define PAWL_SKETCH_BAD_LEFT_OUT 12.0
#define PAWL_SKETCH_BAD_NO_SIZE 40.0   /* the dimension is left out */
#define PAWL_SKETCH_BAD_SPOT 3.0       /* for each text size that the circle round a spot reaches out of its pane, or into the lens */
#define PAWL_SKETCH_BAD_SIZE_IN_LIST 2.0 /* and stands in the list only */

/* Room that two poses take, mm. */
PawlBox   pawl_sketch_get_room_of (GPtrArray * const *poses);
/* Where the @n-th point of a stroke, or any other in its row, lies on the surface. */
PawlPoint pawl_sketch_draft_place    (const PawlSketchDraft *self, int which, const PawlStroke *stroke, guint n);
PawlPoint pawl_sketch_draft_place_mm (const PawlSketchDraft *self, int which, const PawlStroke *stroke, PawlPoint mm);
/* By how much what belongs to @row is moved down from where its pose has it, surface units. */
double    pawl_sketch_draft_get_offset (const PawlSketchDraft *self, guint row);

/* What the list needs, from its rooms; a list of more rows than there is room for loses those that are right. */
void      pawl_sketch_draft_measure_rows (PawlSketchDraft *self);
/* Room for the lens, of either way. */
void      pawl_sketch_draft_measure_lens_words (PawlSketchDraft *self);
void      pawl_sketch_draft_put_lens_beside (PawlSketchDraft *self);
void      pawl_sketch_draft_put_lens_below (PawlSketchDraft *self);

/* All that one pane shows but the words that stand in both; and those. Each prices what it has no room for. */
void      pawl_sketch_draft_add_picture (PawlSketchDraft *self, int which);
void      pawl_sketch_draft_add_lens (PawlSketchDraft *self, int which);
void      pawl_sketch_draft_add_rows (PawlSketchDraft *self, int which);
void      pawl_sketch_draft_add_dimensions (PawlSketchDraft *self, int which);
void      pawl_sketch_draft_add_labels (PawlSketchDraft *self);

G_END_DECLS
