/* Fit rules: which way a part goes, as data with its real dimensions. All lengths millimetres, all angles degrees. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  PAWL_RULE_SENSE,  /* which end leads, which face goes toward what, which hand */
  PAWL_RULE_SIDE,   /* which side of a pin, post or web */
  PAWL_RULE_INDEX,  /* hole to hole, mark to mark, tooth, angle, depth */
  PAWL_RULE_SPREAD, /* gaps kept apart, and clear of forbidden arcs */
  PAWL_RULE_WHICH,  /* look-alikes to their own places */
  PAWL_RULE_ORDER,  /* the sequence of a stack */
  PAWL_RULE_MATE,   /* matched pieces, back together */
  PAWL_RULE_EITHER, /* no wrong way: say so */
  PAWL_N_RULE_KINDS
} PawlRuleKind;

typedef enum {
  PAWL_IF_WRONG_BLOCKED, /* will not go together */
  PAWL_IF_WRONG_FAILS,   /* goes together and is found at the next check */
  PAWL_IF_WRONG_HIDES,   /* goes together and is found by the customer */
} PawlIfWrong;

typedef enum {
  PAWL_VERIFY_SIGHT,
  PAWL_VERIFY_TOUCH,
  PAWL_VERIFY_MARK,
  PAWL_VERIFY_GAUGE,
} PawlVerifyBy;

typedef struct {
  double x;
  double y;
} PawlPoint;

/* What on a shape tells its ways apart. */
typedef enum {
  PAWL_FEATURE_HOLE,   /* x, y: centre; size: diameter */
  PAWL_FEATURE_NOTCH,  /* x, y: middle of the mouth; size: width */
  PAWL_FEATURE_MARK,   /* x, y: place; size: height of the mark */
  PAWL_FEATURE_BEVEL,  /* x, y: corner; size: leg */
} PawlFeatureKind;

typedef struct {
  PawlFeatureKind kind;
  double          x, y, size;
  char           *label; /* (nullable) */
} PawlFeature;

/* A part's section. Turned: points are (axial, radius) of the half-profile, revolved when drawn: a closed loop, whose closing line from last to first
 * is the bore of a hollow part; a solid one begins and ends on the axis (radius 0).
 * Outline: points are a closed outline in its plane. x runs along the direction of insertion or of the stated arrow: the end with the
 * largest x leads. y runs down; a turned part's radius is the same on both sides. */
typedef struct {
  gboolean   is_turned;
  PawlPoint *points; /* (array length=n_points) */
  guint      n_points;
  double     seat;   /* x of the seating shoulder, about which a wrong part is flipped; an end face: see pawl_shape_get_flip_x() */
  GArray    *features; /* (element-type PawlFeature), whose labels are freed with it */
  gboolean   is_on_shaft; /* a turned part that goes over a shaft, not into a bore */
} PawlShape;

/* What goes wrong with a layer of a stack, usually; when nothing is said of any, two neighbours change places. */
typedef enum { PAWL_LAYER_IN_PLACE, PAWL_LAYER_TWICE, PAWL_LAYER_LEFT_OUT } PawlLayerMistake;

/* One of several look-alikes (which), or one layer of a stack (order). */
typedef struct {
  char      *part;      /* part id */
  char      *item;      /* (nullable) item number in the figure */
  char      *name;
  char      *place;     /* which: where it belongs */
  double     dimension; /* which: the dimension that tells them apart; order: thickness */
  PawlLayerMistake mistake; /* order */
  PawlShape *shape;     /* (nullable) */
} PawlCandidate;

typedef enum {
  PAWL_INDEX_HOLE,  /* two holes: their centres `wrong` apart, `diameter` each */
  PAWL_INDEX_ANGLE, /* at `radius`, off by `wrong` degrees */
  PAWL_INDEX_DEPTH, /* off by `wrong` millimetres along the axis */
} PawlIndexKind;

typedef struct {
  /* What every rule says, in words of the trade. */
  PawlRuleKind kind;
  char        *id;
  char        *part;         /* part id */
  char        *says;         /* the right way, one sentence */
  char        *datum;        /* by function: "the end that enters first", "pressure side", this job's own match mark */
  char        *datum_note;   /* (nullable) id of the note that says what this job's own mark is */
  char        *consequence;  /* what happens if wrong */
  PawlIfWrong  if_wrong;
  char        *tell;         /* how to tell on the real part */
  PawlVerifyBy verify_by;
  char        *verify;       /* how to verify, one sentence */
  char        *source;       /* (nullable) book, page; or "common practice, no source" */
  gboolean     is_as_found;  /* datum taken from this job's own mark */
  char        *variant;      /* (nullable) only for this variant */
  gboolean     is_hidden_after; /* the step that fits it, or the next, hides it */
  char       **shown_by;     /* ids of later readings and checks that come out wrong with it; NULL-terminated */
  int          line;         /* in the procedure file */

  /* Geometry, by kind; what a kind does not use is zero. */
  PawlShape *shape;          /* sense, side, index, either, mate (nullable) */
  gboolean   is_spin;        /* sense: the arrow is a spin, not a direction: a mirrored view flips it */
  gboolean   is_clockwise;   /* which way it spins, as the outline is drawn */
  /* side: the line through `line_point` along `line_angle`, the feature that must lie on the stated side of it */
  PawlPoint  line_point;
  double     line_angle;
  PawlPoint  feature_point;
  double     pin;            /* side: diameter of the pin or post that stands at line_point; 0: only the line is known */
  PawlPoint  pivot;          /* side: what the part turns about, when sweep is given */
  double     sweep;          /* side: by how much it turns away from the line when it is right, degrees counter-clockwise; 0: not known */
  /* index */
  PawlIndexKind index_kind;
  double     radius;         /* index angle, spread */
  double     diameter;       /* index hole: of the holes */
  double     tolerance;      /* index: largest offset that still counts as right */
  double     wrong;          /* index: the offset of the usual mistake */
  double     period;         /* index angle: 360/n, from one tooth or notch to the next, in any of which it goes together; 0 when none */
  /* spread: angles of the gaps, counter-clockwise from +x */
  double    *angles;         guint n_angles;       /* each gap is of a ring of its own */
  double    *wrong_angles;   guint n_wrong_angles; /* none: all gaps in line */
  double     min_separation;
  double    *forbidden;      guint n_forbidden; /* pairs from, to */
  double     inside, outside; /* spread: diameters of the ring */
  /* which, order, mate */
  GPtrArray *candidates;     /* (element-type PawlCandidate) */
  char      *dimension_name; /* which: "length under the head" */
  char      *symmetry;       /* either: why it does not matter */
} PawlRule;

PawlRule   *pawl_rule_new            (PawlRuleKind kind);
void        pawl_rule_free           (PawlRule *self);
PawlShape  *pawl_shape_new           (void);
void        pawl_shape_free          (PawlShape *self);
PawlCandidate *pawl_candidate_new    (void);
void        pawl_candidate_free      (PawlCandidate *self);
const char *pawl_rule_kind_get_name  (PawlRuleKind kind);
gboolean    pawl_rule_kind_from_name (const char *name, PawlRuleKind *kind);
/* (transfer full) (nullable): what dimension is missing for this kind's sketch and size; NULL when complete. */
char       *pawl_rule_find_missing   (const PawlRule *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlRule, pawl_rule_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlShape, pawl_shape_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlCandidate, pawl_candidate_free)

G_END_DECLS
