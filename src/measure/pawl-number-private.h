/* Exact numbers: read from digits, rounded, written. */
#pragma once

#include "measure/pawl-plain-private.h"

G_BEGIN_DECLS

/* A number of more digits is not a reading; it also bounds what a hostile exponent may cost. */
#define PAWL_DIGITS_MAX 40

/* Reads @self from @at on; nothing here looks back. */
typedef struct {
  PawlPlain   plain;
  const char *at;
  char        decimal_mark;
} PawlScan;

gboolean pawl_scan_init       (PawlScan *self, const char *typed, char decimal_mark, GError **error);
void     pawl_scan_clear      (PawlScan *self);
void     pawl_scan_spaces     (PawlScan *self);
/* Takes @word, in any case, when it stands next and ends there; spaces before it and after it are taken too. A blank in @word stands for any. */
gboolean pawl_scan_word       (PawlScan *self, const char *word);
/* Takes @signs when they stand next, and spaces before and after them. */
gboolean pawl_scan_signs      (PawlScan *self, const char *signs);
/* Takes the two dots of a range. Three dots could be 0.1 to 0.5 or 0.1 to 5, and are asked back: _AMBIGUOUS. @is_range: (out) */
gboolean pawl_scan_range      (PawlScan *self, gboolean *is_range, GError **error);
/* Takes the sign of a diameter, Ø. */
void     pawl_scan_diameter   (PawlScan *self);
gboolean pawl_scan_is_at_end  (PawlScan *self);
gboolean pawl_scan_is_at_number (const PawlScan *self);
/* @is_fraction: (optional) (out): written with a slash */
gboolean pawl_scan_number     (PawlScan *self, mpq_t value, gboolean *is_fraction, GError **error);
gboolean pawl_scan_fault      (const PawlScan *self, GError **error, PawlReadingError code, const char *format, ...) G_GNUC_PRINTF (4, 5);

/* Plain digits "12.345", no sign: for the tables of this folder. */
void     pawl_number_set_digits (mpq_t value, const char *digits, gsize length);
/* value × 10^places, rounded to a whole number, half to even (ISO 80000-1, Annex B, rule A) */
void     pawl_number_round    (mpz_t rounded, const mpq_t value, guint places);
/* TRUE when the decimal ends; @places: (out): after how many places */
gboolean pawl_number_ends     (const mpq_t value, guint *places);
/* (transfer full): to @places, half to even; @trims drops zeros at the end */
char    *pawl_number_format   (const mpq_t value, guint places, gboolean trims, char decimal_mark);
/* (transfer full): nothing lost: a decimal that ends, else a mixed fraction, as in -1 1/3 */
char    *pawl_number_format_exact (const mpq_t value, char decimal_mark);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlScan, pawl_scan_clear)

G_END_DECLS
