/* Inside the row of a reading: pawl-reading-row.c has what is typed, -shown.c what came of it. */
#pragma once

#include "app/pawl-ask-row-private.h"

G_BEGIN_DECLS

#define PAWL_TYPE_READING_ROW (pawl_reading_row_get_type ())
G_DECLARE_FINAL_TYPE (PawlReadingRow, pawl_reading_row, PAWL, READING_ROW, PawlAskRow)

struct _PawlReadingRow {
  PawlAskRow parent_instance;
  GtkWidget *conditions, *limits, *line, *echo, *doubt, *entry, *outcomes, *bar_box, *verdict, *value, *judged, *advice, *cause;
  GtkWidget *start_box, *start, *start_take; /* (nullable): where it stood when the unit came */
  GtkWidget *choice; /* (nullable) of a reading that is named, not typed */
  GtkWidget *over, *why; /* derived readings: the button that lets somebody type over what was worked out, and the reason */
  char      *before;     /* (nullable) what stood in the line when keys began to come in that may be a gauge's */
  guint      n_attempts; /* known so far: a new one empties the line */
  gboolean   is_over;    /* somebody is about to */
  gboolean   is_taking;  /* within take (): the next state has what stands in the line */
};

/* (nullable) @text: hides the label */
void        pawl_reading_row_set_text     (GtkWidget *label, const char *text);
PawlLengths pawl_reading_row_get_lengths  (PawlReadingRow *self);
/* The last attempt with its verdict, its limits as a bar, and what to do when it is out; or that there is none. */
void        pawl_reading_row_show_last    (PawlReadingRow *self, PawlJob *job, const PawlAskState *state);
void        pawl_reading_row_show_nothing (PawlReadingRow *self, const PawlAskState *state);
/* What was just taken, once, for eyes that are farther off than hands. */
void        pawl_reading_row_echo_taken   (PawlReadingRow *self, const PawlAskState *state);

G_END_DECLS
