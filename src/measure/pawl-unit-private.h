/* The table of units, and how a unit is found in typed text. */
#pragma once

#include "measure/pawl-number-private.h"

G_BEGIN_DECLS

typedef enum {
  PAWL_SYSTEM_NEITHER,
  PAWL_SYSTEM_INCH,
  PAWL_SYSTEM_METRIC,
} PawlSystem;

/* Units that are typed in a row: 1 h 30 min, 12°30'15", 5 ft 3 in, 2 lb 3 oz. */
typedef enum {
  PAWL_ROW_NONE,
  PAWL_ROW_CLOCK,
  PAWL_ROW_ARC,
  PAWL_ROW_FOOT,
  PAWL_ROW_POUND,
} PawlRow;

struct _PawlUnit {
  const char   *symbol;
  const char   *singular;  /* (nullable): "turn" for "turns" */
  PawlDimension dimension;
  PawlSystem    system;
  PawlRow       row;
  guint         places;    /* how many a bench reading in this unit sensibly has */
  const char   *factor;    /* one unit in base units: numbers joined by * and / */
  const char   *zero;      /* (nullable): what to add to a value in this unit to count from the base unit's zero */
  const char   *beside;    /* (nullable): symbol of the unit of a helpful conversion */
  /*
   * Names, joined by |, in plain signs (pawl_plain_init()). A point in a name stands for a space, a hyphen, a dot or nothing;
   * a slash may have spaces round it.
   */
  const char   *exact;     /* (nullable): upper and lower case matter */
  const char   *words;     /* (nullable): in any case, with or without a plural s */
  const char   *shared;    /* (nullable): in any case; names that mean this unit only where its dimension is expected */
};

extern const PawlUnit pawl_units[];
extern const gsize    pawl_n_units;

/*
 * Takes the longest unit that stands next. @expected: (nullable): what a bare number would be in; it decides between units that share a name.
 * @unit is NULL, and TRUE is returned, when no letter stands next, or one of the words that follow a bare number.
 * Errors: _UNKNOWN_UNIT, _AMBIGUOUS
 */
gboolean        pawl_scan_unit              (PawlScan *self, const PawlUnit *expected, const PawlUnit **unit, GError **error);
void            pawl_unit_get_factor        (const PawlUnit *unit, mpq_t factor);
/* The unit of differences: Δ°C for °C; any other unit is its own. */
const PawlUnit *pawl_unit_get_difference    (const PawlUnit *unit);
/* Readings of the dimension of @unit that are understood, lengths for NULL: "1 5/16 in, .025 in or 0.635 mm" */
const char     *pawl_unit_get_example       (const PawlUnit *unit);

G_END_DECLS
