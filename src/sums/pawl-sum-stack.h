/*
 * The best stack from sizes at hand: the fewest pieces that land within a range, and of those stacks the nearest to the middle of it. Exact, by
 * dynamic programming over whole numbers of the sizes' common measure.
 */
#pragma once

#include "sums/pawl-sum-private.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_STACK_FOUND,
  PAWL_STACK_NONE,     /* nothing lands in the range: the nearest stack is given */
  PAWL_STACK_TOO_FINE, /* sizes so unlike that no bench has them; nothing is given */
} PawlStackOutcome;

/**
 * pawl_stack_find:
 * @items: (element-type PawlSumItem): sizes above zero
 * @low, @high: the range, base units, low <= high, high >= 0
 * @counts: (out caller-allocates) (array length=items->len): how many of each
 * @height: (out): of the stack, base units
 */
PawlStackOutcome pawl_stack_find (GPtrArray *items, const mpq_t low, const mpq_t high, guint *counts, mpq_t height);

G_END_DECLS
