/* Making and freeing the plain structs of a procedure. */
#include "procedure/pawl-procedure-private.h"

PawlPart *
pawl_part_new (void)
{
  PawlPart *self = g_new0 (PawlPart, 1);

  self->quantity = 1;
  return self;
}

void
pawl_part_free (PawlPart *self)
{
  g_free (self->id);
  g_free (self->item);
  g_free (self->name);
  g_strfreev (self->regions);
  g_free (self->slide);
  g_free (self->group);
  g_free (self->variant);
  g_free (self->which);
  g_free (self->interchange);
  g_strfreev (self->proofs);
  g_free (self);
}

void
pawl_caution_free (PawlCaution *self)
{
  g_free (self->id);
  g_free (self->topic);
  g_free (self->hazard);
  g_free (self->consequence);
  g_free (self->avoid);
  g_free (self);
}

static void
picture_free (PawlOutcomePicture *self)
{
  g_free (self->outcome);
  g_free (self->region);
  g_free (self->says);
  g_free (self);
}

static PawlCheck *
check_new (void)
{
  PawlCheck *self = g_new0 (PawlCheck, 1);

  self->pictures = g_ptr_array_new_with_free_func ((GDestroyNotify) picture_free);
  return self;
}

static void
check_free (PawlCheck *self)
{
  g_ptr_array_unref (self->pictures);
  g_free (self->from);
  g_free (self->to);
  g_free (self->with);
  g_strfreev (self->reopens);
  g_strfreev (self->parts);
  g_clear_pointer (&self->limits, pawl_limits_unref);
  g_free (self);
}

static void
judgement_free (PawlJudgement *self)
{
  g_clear_pointer (&self->limits, pawl_limits_unref);
  g_free (self);
}

static void
spot_free (PawlReadingSpot *self)
{
  g_free (self->id);
  g_free (self->name);
  g_free (self->part);
  g_clear_pointer (&self->limits, pawl_limits_unref);
  g_free (self);
}

static void
worked_out_free (PawlWorkedOut *self)
{
  g_free (self->text);
  g_clear_pointer (&self->formula, pawl_formula_unref);
  g_free (self);
}

static void
table_row_free (PawlTableRow *self)
{
  g_clear_pointer (&self->at, pawl_quantity_unref);
  g_clear_pointer (&self->limits, pawl_limits_unref);
  g_free (self->outcome);
  g_free (self);
}

PawlLimitsTable *
pawl_limits_table_new (void)
{
  PawlLimitsTable *self = g_new0 (PawlLimitsTable, 1);

  self->rows = g_ptr_array_new_with_free_func ((GDestroyNotify) table_row_free);
  return self;
}

static void
limits_table_free (PawlLimitsTable *self)
{
  g_free (self->by);
  g_ptr_array_unref (self->rows);
  g_free (self);
}

static void
variant_limits_free (PawlVariantLimits *self)
{
  g_free (self->variant);
  g_clear_pointer (&self->limits, pawl_limits_unref);
  g_free (self);
}

static void
let_free (PawlLet *self)
{
  g_free (self->input);
  g_free (self->value);
  g_free (self->from);
  g_free (self);
}

PawlAdvice *
pawl_advice_new (void)
{
  PawlAdvice *self = g_new0 (PawlAdvice, 1);

  self->lets = g_ptr_array_new_with_free_func ((GDestroyNotify) let_free);
  return self;
}

static void
advice_free (PawlAdvice *self)
{
  g_free (self->sum);
  g_ptr_array_unref (self->lets);
  g_free (self);
}

static PawlReading *
reading_new (void)
{
  PawlReading *self = g_new0 (PawlReading, 1);

  self->spots = g_ptr_array_new_with_free_func ((GDestroyNotify) spot_free);
  self->judgements = g_ptr_array_new_with_free_func ((GDestroyNotify) judgement_free);
  self->by_variant = g_ptr_array_new_with_free_func ((GDestroyNotify) variant_limits_free);
  return self;
}

static void
reading_free (PawlReading *self)
{
  g_ptr_array_unref (self->spots);
  g_ptr_array_unref (self->judgements);
  g_ptr_array_unref (self->by_variant);
  g_clear_pointer (&self->derived, worked_out_free);
  g_clear_pointer (&self->low, worked_out_free);
  g_clear_pointer (&self->high, worked_out_free);
  g_clear_pointer (&self->table, limits_table_free);
  g_clear_pointer (&self->valid, pawl_limits_unref);
  g_clear_pointer (&self->advice, advice_free);
  g_free (self->void_reason);
  g_free (self->cause);
  g_clear_pointer (&self->limits, pawl_limits_unref);
  g_clear_pointer (&self->other_limits, pawl_limits_unref);
  g_free (self->posture);
  g_free (self->from_face);
  g_free (self->to_face);
  g_free (self->gasket);
  g_free (self->load);
  g_free (self->places);
  g_free (self->tool);
  g_free (self->correct);
  g_free (self->leave_alone);
  g_strfreev (self->reopens);
  g_free (self->start);
  g_free (self->same_as);
  g_free (self->other_source);
  g_free (self);
}

static void
wait_free (PawlWait *self)
{
  g_free (self->agent);
  g_free (self);
}

static void
decide_free (PawlDecide *self)
{
  g_free (self->part);
  g_strfreev (self->choices);
  g_free (self);
}

/* An ask of @kind, with the empty struct of its kind; a fit gets its rule from whoever reads it. */
PawlAsk *
pawl_ask_new (PawlAskKind kind)
{
  PawlAsk *self = g_new0 (PawlAsk, 1);

  self->kind = kind;
  switch (kind)
    {
    case PAWL_ASK_CHECK:   self->check = check_new (); break;
    case PAWL_ASK_READING: self->reading = reading_new (); break;
    case PAWL_ASK_WAIT:    self->wait = g_new0 (PawlWait, 1); break;
    case PAWL_ASK_DECIDE:  self->decide = g_new0 (PawlDecide, 1); break;
    case PAWL_ASK_FIT:
    case PAWL_ASK_NOTE:
    default:               break;
    }
  return self;
}

void
pawl_ask_free (PawlAsk *self)
{
  g_free (self->id);
  g_free (self->name);
  g_free (self->says);
  g_free (self->source);
  g_free (self->which);
  g_free (self->variant);
  g_free (self->donor);
  g_clear_pointer (&self->rule, pawl_rule_free);
  g_clear_pointer (&self->check, check_free);
  g_clear_pointer (&self->reading, reading_free);
  g_clear_pointer (&self->wait, wait_free);
  g_clear_pointer (&self->decide, decide_free);
  g_free (self);
}

PawlStep *
pawl_step_new (void)
{
  PawlStep *self = g_new0 (PawlStep, 1);

  self->asks = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_ask_free);
  return self;
}

void
pawl_step_free (PawlStep *self)
{
  g_free (self->id);
  g_free (self->number);
  g_free (self->phase);
  g_free (self->lane);
  g_free (self->command);
  g_free (self->info);
  g_free (self->expect);
  g_strfreev (self->installs);
  g_strfreev (self->removes);
  g_strfreev (self->needs);
  g_strfreev (self->during);
  g_strfreev (self->covers);
  g_strfreev (self->leaves_visible);
  g_strfreev (self->tools);
  g_strfreev (self->cautions);
  g_free (self->cant_undo);
  g_free (self->which);
  g_free (self->variant);
  g_free (self->hold_reason);
  g_ptr_array_unref (self->asks);
  g_free (self);
}

void
pawl_phase_free (PawlPhase *self)
{
  g_free (self->id);
  g_free (self->title);
  g_free (self);
}

/* The instrument borrows the tool's id and name. */
void
pawl_tool_free (PawlTool *self)
{
  g_free (self->id);
  g_free (self->name);
  g_clear_pointer (&self->instrument.max_error, pawl_quantity_unref);
  g_clear_pointer (&self->instrument.step, pawl_quantity_unref);
  g_free (self);
}

void
pawl_supply_free (PawlSupply *self)
{
  g_free (self->id);
  g_free (self->name);
  g_free (self);
}

void
pawl_book_free (PawlBook *self)
{
  g_free (self->id);
  g_free (self->title);
  g_free (self->edition);
  g_free (self->publisher);
  g_free (self);
}

void
pawl_variant_set_free (PawlVariantSet *self)
{
  g_free (self->name);
  g_free (self->tell);
  g_free (self);
}

void
pawl_variant_free (PawlVariant *self)
{
  g_free (self->id);
  g_free (self->name);
  g_free (self);
}

void
pawl_text_free (PawlText *self)
{
  g_free (self->words);
  g_free (self);
}

int
pawl_item_compare (const char *a, const char *b)
{
  char *end_a, *end_b;
  guint64 number_a = g_ascii_strtoull (a, &end_a, 10);
  guint64 number_b = g_ascii_strtoull (b, &end_b, 10);

  if (number_a != number_b)
    return number_a < number_b ? -1 : 1;
  return g_strcmp0 (end_a, end_b);
}
