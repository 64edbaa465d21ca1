/* Quantities: an exact number (or an interval) in a unit, that remembers how it was typed. */
#pragma once

#include "measure/pawl-unit.h"

G_BEGIN_DECLS

#define PAWL_READING_ERROR (pawl_reading_error_quark ())
GQuark pawl_reading_error_quark (void);

typedef enum {
  PAWL_READING_ERROR_EMPTY,        /* nothing typed */
  PAWL_READING_ERROR_NOT_A_NUMBER, /* the place of the fault is in the message */
  PAWL_READING_ERROR_UNKNOWN_UNIT,
  PAWL_READING_ERROR_WRONG_DIMENSION,
  PAWL_READING_ERROR_AMBIGUOUS,    /* two readings could be meant: ask */
  PAWL_READING_ERROR_BAD_LIMITS,   /* limits that cannot be understood, or reversed */
  PAWL_READING_ERROR_TOO_LONG,     /* over 200 characters, or a number of over 40 digits */
  PAWL_READING_ERROR_NOT_OFFERED,  /* an outcome that is none of those that may be answered */
} PawlReadingError;

/* How the typist types: handed in, never read from the process. */
typedef struct {
  char            decimal_mark;  /* '.' or ',' ; 0 means '.' */
  const PawlUnit *default_unit;  /* (nullable): the unit of a bare number; NULL: a bare number must be asked back */
  gboolean        is_mixed;      /* a bare number could be inch or metric: ask, never guess */
} PawlTyping;

typedef struct _PawlQuantity PawlQuantity; /* immutable, reference counted */

PawlQuantity   *pawl_quantity_parse        (const char *text, const PawlTyping *typing, GError **error);
PawlQuantity   *pawl_quantity_new          (const mpq_t value, const PawlUnit *unit);
PawlQuantity   *pawl_quantity_new_interval (const mpq_t low, const mpq_t high, const PawlUnit *unit);
PawlQuantity   *pawl_quantity_ref          (PawlQuantity *self);
void            pawl_quantity_unref        (PawlQuantity *self);

const char     *pawl_quantity_get_typed    (const PawlQuantity *self);
const PawlUnit *pawl_quantity_get_unit     (const PawlQuantity *self);
gboolean        pawl_quantity_is_interval  (const PawlQuantity *self);
/* The exact ends, in the dimension's base unit (m, kg, s, N, Pa, ohm, F, K, degree of angle, m3…); equal unless an interval. */
void            pawl_quantity_get_base     (const PawlQuantity *self, mpq_t low, mpq_t high);
/* For drawing and statistics only: middle of the value, in @unit (same dimension). */
double          pawl_quantity_get_double   (const PawlQuantity *self, const PawlUnit *unit);
/* -1, 0, 1 by exact middle; both must have one dimension. */
int             pawl_quantity_compare      (const PawlQuantity *a, const PawlQuantity *b);

/* (transfer full): shown in its own unit, exact when the decimal ends within 6 places, else marked "≈". */
char           *pawl_quantity_format       (const PawlQuantity *self, char decimal_mark);
/* (transfer full): nothing rounded, 1 1/3 turns; parses back to the same rational. */
char           *pawl_quantity_format_exact (const PawlQuantity *self, char decimal_mark);
/* (transfer full): the value in @unit to a sensible number of places, "≈" when rounded (half to even). */
char           *pawl_quantity_format_in    (const PawlQuantity *self, const PawlUnit *unit, char decimal_mark);
/* (transfer full) (nullable): the conversion to show beside it: inch for mm, mm for inch, N m for lbf·ft, …; NULL when none helps. */
char           *pawl_quantity_format_beside (const PawlQuantity *self, char decimal_mark);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlQuantity, pawl_quantity_unref)

G_END_DECLS
