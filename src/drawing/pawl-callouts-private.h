/* The problem that placing numbers is, stated once: places, choices, costs. Shared by the files of the callouts and by their tests. */
#pragma once

#include "drawing/pawl-callouts.h"

G_BEGIN_DECLS

/* What one forbidden thing costs. */
#define PAWL_PLAN_FORBIDDEN 1000.0
/* What each row or column costs. */
#define PAWL_PLAN_LINE 5.0

#define PAWL_PLAN_ANYBODY G_MAXUINT

/* A place of the lattice where a number may stand. */
typedef struct {
  PawlPoint at;
  guint     row, column; /* lines: rows come first, columns after them */
  guint     whose;       /* the only number that may stand there, or PAWL_PLAN_ANYBODY */
} PawlSlot;

/* One way for one number: a place, an anchor, and what that costs by itself in the place's row and in its column. */
typedef struct {
  guint     slot, anchor;
  double    cost[2];
  double    least;
  PawlPoint from, to;
} PawlChoice;

typedef struct {
  PawlCallouts    *callouts;
  const PawlIdMap *map;
  const PawlCallouts *last;    /* (nullable) */
  const PawlCallout **before;  /* for each number, (nullable): how it stood in that */
  double           height;
  PawlPoint        half;     /* of the widest number's box */
  GArray          *slots;    /* (element-type PawlSlot) */
  guint            n_lines, n_rows; /* rows and columns of the lattice; rows */
  guint            n;        /* numbers */
  GArray         **choices;  /* for each number (element-type PawlChoice), the least costly first */
  guint           *stays;    /* for each number the choice by which it stays where it stood, or else its least costly one */
} PawlPlan;

/* Where one number stands: which choice, and whether it is counted to the row (0) or to the column (1). */
typedef struct {
  guint choice;
  guint which;
} PawlSeat;

/* Borrows @callouts, @map and @last. Each number may choose from the @n_near places that are nearest to it. */
PawlPlan         *pawl_plan_new       (PawlCallouts *callouts, const PawlIdMap *map, const PawlCallouts *last, guint n_near);
void              pawl_plan_free      (PawlPlan *self);
const PawlChoice *pawl_plan_peek      (const PawlPlan *self, guint n, guint choice);
guint             pawl_plan_get_line  (const PawlPlan *self, guint n, PawlSeat seat);
/* What two numbers cost each other. @p stands by its choice @a, @q by its choice @b. */
double            pawl_plan_get_pair  (const PawlPlan *self, guint p, guint a, guint q, guint b);
/* The whole cost of (array length=n) @seats, as pawl-callouts.h states it. */
double            pawl_plan_get_cost  (const PawlPlan *self, const PawlSeat *seats);
/* Makes a choice for each pair of number and place that has none: pairs far apart have none at first. Returns: its index. */
guint             pawl_plan_find_choice (PawlPlan *self, guint n, guint slot);

/* (transfer full) (array length=n_rows): the columns of the assignment of least total cost, one each; @costs is (array length=n_rows*n_columns), row by row,
 * with no more rows than columns. Kuhn and Munkres' method by shortest augmenting paths (from memory). */
guint            *pawl_assign         (const double *costs, guint n_rows, guint n_columns);

/* (transfer full) (array length=n): as good a placement as @n_work comparisons of two numbers find. */
PawlSeat         *pawl_plan_search    (PawlPlan *self, guint64 n_work);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlPlan, pawl_plan_free)

G_END_DECLS
