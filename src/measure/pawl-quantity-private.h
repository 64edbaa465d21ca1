/* Inside quantities: terms, as typed text is made of. */
#pragma once

#include "measure/pawl-unit-private.h"

G_BEGIN_DECLS

/* A number and its unit, before it is settled what a bare number means. */
typedef struct {
  mpq_t           value;       /* in @unit; bare while that is NULL */
  const PawlUnit *unit;        /* (nullable) */
  gboolean        is_fraction; /* typed with a slash, as inches are */
  const char     *start;       /* where it stands, for messages */
  const char     *end;         /* where its number ends */
} PawlTerm;

struct _PawlQuantity {
  gatomicrefcount ref_count;
  char           *typed;
  const PawlUnit *unit;
  mpq_t           low;         /* base units */
  mpq_t           high;
  gboolean        is_interval;
  char            decimal_mark;
};

void          pawl_term_init          (PawlTerm *self);
void          pawl_term_clear         (PawlTerm *self);
/* One term: a number with or without its unit, units in a row (12°30'), a drill. @expected: (nullable): see pawl_scan_unit() */
gboolean      pawl_scan_term          (PawlScan *self, const PawlUnit *expected, PawlTerm *term, GError **error);
/* Gives a bare term the unit that @typing says, or asks. */
gboolean      pawl_term_settle        (PawlTerm *self, const PawlScan *scan, const PawlTyping *typing, GError **error);
/* An error for whatever is left over at @self->at. */
gboolean      pawl_scan_refuse_rest   (PawlScan *self, GError **error);
/* @low, @high: in base units. @typed: (transfer full) */
PawlQuantity *pawl_quantity_new_base  (const mpq_t low, const mpq_t high, gboolean is_interval, const PawlUnit *unit, char *typed, char decimal_mark);
/* Places that a reading in @unit has, and as many more as keep three figures of one that is small for it. */
guint         pawl_value_choose_places (const mpq_t value, const PawlUnit *unit);
/* (transfer full): @value with @unit's symbol, in the singular where there is one; "≈ " before it when rounded. */
char         *pawl_value_format       (const mpq_t value, const PawlUnit *unit, char decimal_mark);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlTerm, pawl_term_clear)

G_END_DECLS
