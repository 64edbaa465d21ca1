/* What only this folder sees of a procedure: how it is built, and what the proof-reader needs beside the model. */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

/* Words of the file with the place where they stand, for the proof-reader. */
typedef struct {
  char           *words;
  const char     *name; /* static: the element or attribute they came from, "do", "with" */
  const PawlStep *step; /* (nullable) borrowed: the step they belong to */
  int             line;
} PawlText;

/* What precedes what, worked out once; see pawl-order.c. */
typedef struct _PawlOrder PawlOrder;

PawlOrder *pawl_order_new  (PawlProcedure *procedure);
void       pawl_order_free (PawlOrder *self);
/* As pawl_order_find_cycle, by the needs that the author states and the parts require; covers are left out. */
GPtrArray *pawl_order_find_stated_cycle (PawlProcedure *procedure);
/* (transfer full) (array length=number of steps): 1 for each step that stands on @step by stated needs and parts, directly or not. */
guint8    *pawl_order_mark_stated_followers (PawlProcedure *procedure, const PawlStep *step);
/* (transfer full): fits that are hidden, and can be wrong without being seen; once the order is known. */
GHashTable *pawl_hidden_new_traps (PawlProcedure *procedure);

struct _PawlProcedure
{
  GObject parent_instance;

  /* owned: identity */
  char *id, *title, *unit, *maker, *model, *revision, *language, *author, *licence, *statement, *skill;
  char *verified_statement, *figure, *kit;
  PawlVerified verified;
  gint64 attended_seconds;
  int line, verified_line, figure_line;

  /* owned: content */
  GPtrArray *parts, *steps, *phases, *cautions, *tools, *supplies, *books, *variants, *variant_sets, *alikes;
  GPtrArray *texts;      /* (element-type PawlText) in file order */
  gboolean is_indexed;
  GHashTable *part_by_id, *step_by_id, *phase_by_id, *tool_by_id, *caution_by_id, *ask_by_id; /* keys borrowed from the content */
  GHashTable *step_of_ask; /* PawlAsk → PawlStep */
  GHashTable *index_of_step; /* PawlStep → position + 1 */
  PawlOrder *order;
  GHashTable *traps; /* set of PawlAsk: see pawl-hidden.h */

  /* owned: the file */
  GBytes *bytes;
  char *digest;
  char *name;   /* for messages, and to find the figure by */
};

PawlProcedure *pawl_procedure_new   (void);
/* To be called once, when the content is complete: sorts the parts by item and makes the lookups and the order. */
void           pawl_procedure_index (PawlProcedure *self);
/* (transfer none): the step that asks @ask. */
const PawlStep *pawl_procedure_peek_step_of (PawlProcedure *self, const PawlAsk *ask);

PawlPart    *pawl_part_new     (void);
void         pawl_part_free    (PawlPart *self);
void         pawl_caution_free (PawlCaution *self);
PawlLimitsTable *pawl_limits_table_new (void);
PawlAdvice  *pawl_advice_new   (void);
PawlAsk     *pawl_ask_new      (PawlAskKind kind);
void         pawl_ask_free     (PawlAsk *self);
PawlStep    *pawl_step_new     (void);
void         pawl_step_free    (PawlStep *self);
void         pawl_phase_free   (PawlPhase *self);
void         pawl_tool_free    (PawlTool *self);
void         pawl_supply_free  (PawlSupply *self);
void         pawl_book_free    (PawlBook *self);
void         pawl_variant_free (PawlVariant *self);
void         pawl_variant_set_free (PawlVariantSet *self);
void         pawl_text_free    (PawlText *self);

/* Orders item numbers as a parts list does: "2" before "12" before "12A". */
int          pawl_item_compare (const char *a, const char *b);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlPart, pawl_part_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlCaution, pawl_caution_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlAsk, pawl_ask_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlStep, pawl_step_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlTool, pawl_tool_free)

G_END_DECLS
