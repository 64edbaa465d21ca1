/* Tables: a header line that is repeated on every page, rows that are never split, numbers with their decimal marks under each other. */
#pragma once

#include "report/pawl-flow.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_COLUMN_TEXT,
  PAWL_COLUMN_NUMBER, /* aligned on the end of the whole part */
} PawlColumnKind;

typedef struct {
  const char    *title;
  double         share; /* of the width, against the sum of all shares */
  PawlColumnKind kind;
} PawlColumn;

typedef struct _PawlTable PawlTable;

PawlTable *pawl_table_new       (const PawlColumn *columns, guint n_columns);
void       pawl_table_free      (PawlTable *self);
void       pawl_table_begin_row (PawlTable *self);
/* Adds a paragraph to cell @column of the row begun last; NULL or "" adds none. */
void       pawl_table_add       (PawlTable *self, guint column, PawlLetter letter, const char *text);
/* Adds a picture as wide as the cell. Takes @data, freed with @free_data. */
void       pawl_table_add_art   (PawlTable *self, guint column, double height_pt, PawlArtDraw draw, gpointer data, GDestroyNotify free_data);
/* Adds a paragraph under the cells, across the whole table. */
void       pawl_table_add_wide  (PawlTable *self, PawlLetter letter, const char *text);
/* A paragraph under the table, on the page of its last rows. NULL: none. */
void       pawl_table_set_note  (PawlTable *self, const char *text);
guint      pawl_table_get_n_rows (PawlTable *self);
/* Sets the table; nothing when it has no rows. */
void       pawl_flow_add_table  (PawlFlow *flow, PawlTable *table);
/* The same in two halves side by side: each page reads down the left half, then down the right one. Wide paragraphs and the note are left out. */
void       pawl_flow_add_halves (PawlFlow *flow, PawlTable *table);

/* Fields of a form: a small label over its value, side by side, a new line when twelve twelfths are full. Empty values are left out. */
typedef struct {
  const char *label;
  const char *value; /* (nullable) */
  guint       span;  /* twelfths of the width */
} PawlField;

void       pawl_flow_add_fields (PawlFlow *flow, const PawlField *fields, guint n_fields);

/**
 * pawl_table_find_anchor:
 *
 * Where a number is aligned: at the end of its whole part, so that places after a decimal mark and a vulgar fraction stand to the right of it.
 *
 * Returns: bytes from the beginning of @text ("33.3 mm": 2, "1 5/16 in": 1, ".025 in" and "27/32 in": 0); 0 without a number
 */
gsize      pawl_table_find_anchor (const char *text);

/**
 * pawl_table_widen:
 * @widths: (inout): of @n_columns columns by their shares
 * @words: the widest word of each
 *
 * Widens columns that would break a word, by room that the others don't need for theirs, each giving in proportion to what it can spare. The sum stays;
 * nothing changes when there isn't room enough for all.
 */
void       pawl_table_widen       (double *widths, const double *words, guint n_columns);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlTable, pawl_table_free)

G_END_DECLS
