/* What was measured on one figure, and what it should have been. */
#pragma once

#include <glib.h>

/* Limits that are 0 are not there. */
typedef struct {
  double most;       /* of the value */
  double least;      /* of the value */
  double most_ratio; /* of the value to a full redraw */
} SpeedGoal;

typedef struct {
  const char *key;   /* of the row, for programs */
  const char *what;
  const char *unit;
  double      value;
  double      ratio; /* to a full redraw; 0: not a time */
  double      cpu_msec; /* processor time of the main thread; 0: not measured */
  SpeedGoal   goal;
} SpeedRow;

typedef struct {
  char   *figure;      /* base name of the file */
  double  redraw_msec; /* the unit of all ratios */
  GArray *rows;        /* (element-type SpeedRow) */
} SpeedTable;

SpeedTable *speed_table_new    (const char *figure, double redraw_msec);
void        speed_table_free   (SpeedTable *self);
/* The strings are not copied. A time gets its ratio. */
void        speed_table_add    (SpeedTable *self, const char *key, const char *what, double value, const char *unit, SpeedGoal goal);
/* Of the row added last: the processor time in it, which a busy machine does not stretch. */
void        speed_table_note_cpu (SpeedTable *self, double msec);
gboolean    speed_row_is_met   (const SpeedRow *row);
/* (transfer full): "≤ 8 ms, ≤ 0.02"; empty without a goal. */
char       *speed_row_dup_goal (const SpeedRow *row);
void        speed_table_print  (SpeedTable *self);
void        speed_table_print_json (SpeedTable *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (SpeedTable, speed_table_free)
