/* Where everything stands in the picture, shared by placing and drawing. Heights in user units; times in seconds of the plan. */
#pragma once

#include "plan/pawl-lanes.h"

G_BEGIN_DECLS

typedef struct {
  guint      job, lane;
  double     y;          /* top, from the top of the lanes */
  double     work_height, height;
  guint      n_levels;   /* rows of waits below the work */
  GPtrArray *items;      /* (element-type PawlWorkPlanItem) as they start */
  const GPtrArray *over; /* (element-type PawlStepState) done or left out */
  guint      first_over; /* index of the first of them in the picture */
} PawlLane;

struct _PawlLanes {
  const PawlWorkPlan *plan;
  double              text;
  GPtrArray          *lanes;   /* (element-type PawlLane) */
  double             *heads;   /* (array): top of each job's title */
  guint              *level;   /* (array): of each item that is a wait */
  PawlLane          **lane_of; /* (array): of each item */
  double              height;  /* of all lanes */
  guint               n;       /* indices in the picture */
  gboolean            has_over;
  gint64              first, last; /* what the whole of it covers */
};

/* Heights of what doesn't scroll, by the height of the lettering. */
#define PAWL_LANES_AXIS 3.4
#define PAWL_LANES_KEY  2.2
#define PAWL_LANES_LABELS 15.0 /* width of the names to the left */
#define PAWL_LANES_OVER    3.0 /* width of a step that is over */
#define PAWL_LANES_N_OVER  3   /* so many of each lane are seen, where there is room */

/* From time to place. */
typedef struct {
  double left, right, top, bottom; /* the field that the lanes are seen in */
  double labels;                   /* right edge of the names; from here to @left is what is over */
  double scroll;
  gint64 from;
  double per_second;
} PawlLanesField;

PawlLanesField pawl_lanes_get_field (const PawlLanes *self, const PawlLanesView *view, double width, double height);
double         pawl_lanes_get_x     (const PawlLanesField *field, gint64 seconds);
/* The box of an item; of a wait up to its maximum, or where it is ended when it has none. */
void           pawl_lanes_get_box   (const PawlLanes *self, const PawlLanesField *field, const PawlWorkPlanItem *item, double *x, double *y, double *width, double *height);
/* Which steps of a lane that are over are seen: so many from @first on, the last of them next to the field. */
guint          pawl_lanes_list_over (const PawlLane *lane, const PawlLanesField *field, const PawlLanesView *view, double text, guint *first);
/* The box of the step that is over and @place places from the field, 0: the nearest. */
void           pawl_lanes_get_over_box (const PawlLanes *self, const PawlLanesField *field, const PawlLane *lane, guint place, double *x, double *y, double *width, double *height);

G_END_DECLS
