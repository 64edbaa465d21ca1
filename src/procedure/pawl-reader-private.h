/* Reading a valid tree into the model: what the files of the reader share. */
#pragma once

#include "procedure/pawl-procedure-private.h"
#include "procedure/pawl-xml-private.h"

G_BEGIN_DECLS

/* What hostile files may not exceed; the work that follows from them grows with the square. */
#define PAWL_READER_MAX_STEPS 2000
#define PAWL_READER_MAX_PARTS 2000
#define PAWL_READER_MAX_POINTS 400        /* of one outline */
#define PAWL_READER_MAX_ALL_POINTS 20000  /* of all outlines and slides */
#define PAWL_READER_MAX_WORDS 10000

typedef struct {
  PawlProcedure  *procedure; /* borrowed, being built */
  const char     *language;  /* (nullable) wanted */
  PawlFault      *fault;     /* borrowed */
  const PawlStep *step;      /* (nullable) the one being read, for the texts */
  guint           n_points;  /* read so far */
  GHashTable     *which;     /* borrowed: of an element that an <each> wrote out, which one it is */
} PawlReader;

/* ---- attributes (pawl-reader-values.c) ---- */

/* (transfer full): value with runs of white space made one space; @fallback (nullable) when it is not given or empty. */
char    *pawl_reader_string   (const xmlNode *node, const char *name, const char *fallback);
/* As pawl_reader_string, and kept for the proof-reader, as words that a person reads. */
char    *pawl_reader_label    (PawlReader *self, const xmlNode *node, const char *name, const char *fallback);
gboolean pawl_reader_is_yes   (const xmlNode *node, const char *name);
guint    pawl_reader_count    (const xmlNode *node, const char *name, guint fallback);
/* (transfer full): never NULL; @fallback: (nullable) what an absent attribute means. */
char   **pawl_reader_list     (const xmlNode *node, const char *name, const char *fallback);
/* Position in @words of the attribute's value; @fallback when it is not given. The schema has seen to the rest. */
int      pawl_reader_choice   (const xmlNode *node, const char *name, const char * const *words, int fallback);

/* (transfer full) (nullable): "cylinder 2" of an element that an <each> wrote out. */
char    *pawl_reader_dup_which (PawlReader *self, const xmlNode *node);

/* ---- words in the wanted language ---- */

/* (transfer full): words of the child elements @name: those in the wanted language, else the first; @fallback (nullable) when there are none. */
char    *pawl_reader_words    (PawlReader *self, const xmlNode *parent, const char *name, const char *fallback);
/* (transfer full): words straight in @node, or of its <says>. */
char    *pawl_reader_prompt   (PawlReader *self, const xmlNode *node);

/* Always FALSE: sets the fault _BAD_QUANTITY for the attribute (or element) @name and its @value. */
gboolean pawl_reader_refuse   (PawlReader *self, const xmlNode *node, const char *name, const char *value, const char *why);

/* ---- quantities; FALSE with the fault set when one can't be understood; absent attributes leave the value as it is ---- */

gboolean pawl_reader_quantity (PawlReader *self, const xmlNode *node, const char *name, PawlDimension dimension, PawlQuantity **quantity);
/* A bare number is in @unit_symbol, and so is the result. */
gboolean pawl_reader_number   (PawlReader *self, const xmlNode *node, const char *name, const char *unit_symbol, double *number);
gboolean pawl_reader_seconds  (PawlReader *self, const xmlNode *node, const char *name, gint64 *seconds);
/* Plain numbers parted by spaces. (transfer full) in @numbers. */
gboolean pawl_reader_numbers  (PawlReader *self, const xmlNode *node, const char *name, double **numbers, guint *n_numbers);
/* "x,y x,y". (transfer full) in @points. */
gboolean pawl_reader_points   (PawlReader *self, const xmlNode *node, const char *name, guint least, PawlPoint **points, guint *n_points);

/* ---- asks (pawl-reader-asks.c, pawl-reader-fit.c) ---- */

/* (transfer full) (nullable): NULL with the fault set. */
PawlAsk *pawl_reader_read_ask (PawlReader *self, const xmlNode *node);
gboolean pawl_reader_read_fit (PawlReader *self, const xmlNode *node, PawlAsk *ask);
/* A set of parts that look alike, of the parts list. */
gboolean pawl_reader_read_alike (PawlReader *self, const xmlNode *node);
gboolean pawl_reader_read_reading (PawlReader *self, const xmlNode *node, PawlAsk *ask);
/* Once all readings are known: the formulas of all of them. */
gboolean pawl_reader_read_formulas (PawlReader *self);

/* The whole tree; FALSE with the fault set. */
gboolean pawl_reader_read     (PawlReader *self, const xmlNode *root);

G_END_DECLS
