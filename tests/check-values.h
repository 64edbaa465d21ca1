/*
 * Figures from outside, one file for each area in tests/data/check-values (see its README.md). Each row of a file is either checked, or named as
 * what another part of the program is to be held to; a row that is neither fails the test.
 */
#pragma once

#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "measure/pawl-quantity.h"

typedef struct {
  char *id, *inputs, *expected, *unit, *tolerance, *source, *provenance, *note;
} CheckRow;

/* FALSE: not this part's to check. Fails by itself when the row does not come out. */
typedef gboolean (*CheckFunc) (const CheckRow *row);

/* One field of RFC 4180; @at goes behind the comma or the line's end. */
static inline char *
check_take_field (const char **at, gboolean *is_last)
{
  GString *field = g_string_new (NULL);
  gboolean is_quoted = **at == '"';

  if (is_quoted)
    ++*at;
  for (;; ++*at)
    {
      if (is_quoted && (*at)[0] == '"' && (*at)[1] == '"')
        ++*at;
      else if (is_quoted && **at == '"')
        {
          is_quoted = FALSE;
          continue;
        }
      else if (!is_quoted && strchr (",\r\n", **at) != NULL) /* the NUL as well */
        break;
      g_assert_cmpint (**at, !=, '\0');
      g_string_append_c (field, **at);
    }
  *is_last = **at != ',';
  *at += *is_last ? strspn (*at, "\r\n") : 1;
  return g_string_free (field, FALSE);
}

static inline void
check_take_row (const char **at, char *fields[8])
{
  gboolean is_last = FALSE;
  guint n = 0;

  while (!is_last)
    {
      g_assert_cmpuint (n, <, 8);
      fields[n++] = check_take_field (at, &is_last);
    }
  g_assert_cmpuint (n, ==, 8);
}

static inline void
check_values (const char *name, CheckFunc check)
{
  g_autofree char *path = g_strdup_printf ("%s/tests/data/check-values/%s", g_getenv ("PAWL_SOURCE_ROOT"), name);
  g_autofree char *text = NULL;
  g_autoptr(GError) error = NULL;
  const char *at;
  guint n_checked = 0, n_others = 0, n_rows = 0;

  g_file_get_contents (path, &text, NULL, &error);
  g_assert_no_error (error);
  for (at = text; *at != '\0'; n_rows++)
    {
      char *fields[8];

      check_take_row (&at, fields);
      if (n_rows > 0) /* the head */
        {
          const CheckRow row = { fields[0], fields[1], fields[2], fields[3], fields[4], fields[5], fields[6], fields[7] };

          if (check (&row))
            n_checked++;
          else
            n_others++;
        }
      for (guint i = 0; i < 8; i++)
        g_free (fields[i]);
    }
  g_test_message ("%s: %u of %u rows checked, %u are another part's", name, n_checked, n_rows - 1, n_others);
  g_assert_cmpuint (n_checked, >, 0);
}

/* A decimal, a fraction or a number with an exponent, exactly. FALSE when @text is none. */
static inline gboolean
check_set_number (mpq_t value, const char *text)
{
  g_autoptr(GRegex) regex = g_regex_new ("^(-?)(?:(\\d+) )?(\\d*)(?:\\.(\\d*))?(?:/(\\d+))?(?:[eE]([-+]?\\d+))?$", 0, 0, NULL);
  g_autoptr(GMatchInfo) match = NULL;
  g_autofree char *sign = NULL, *whole = NULL, *digits = NULL, *decimals = NULL, *below = NULL, *power = NULL, *fraction = NULL;
  mpq_t more;
  mpz_t ten;

  if (!g_regex_match (regex, text, 0, &match))
    return FALSE;
  sign = g_match_info_fetch (match, 1);
  whole = g_match_info_fetch (match, 2);
  digits = g_match_info_fetch (match, 3);
  decimals = g_match_info_fetch (match, 4);
  below = g_match_info_fetch (match, 5);
  power = g_match_info_fetch (match, 6);
  fraction = g_strdup_printf ("%s%s", digits, decimals != NULL ? decimals : "");
  if (*fraction == '\0')
    return FALSE;
  mpq_init (more);
  mpz_init (ten);
  mpz_set_str (mpq_numref (value), fraction, 10);
  mpz_set_ui (mpq_denref (value), 1);
  mpz_ui_pow_ui (ten, 10, decimals != NULL ? strlen (decimals) : 0);
  mpq_set_z (more, ten);
  mpq_div (value, value, more);
  if (below != NULL && *below != '\0')
    {
      mpz_set_str (mpq_numref (more), below, 10);
      mpz_set_ui (mpq_denref (more), 1);
      mpq_div (value, value, more);
    }
  if (whole != NULL && *whole != '\0')
    {
      mpz_set_str (mpq_numref (more), whole, 10);
      mpz_set_ui (mpq_denref (more), 1);
      mpq_add (value, value, more);
    }
  if (power != NULL && *power != '\0')
    {
      mpz_ui_pow_ui (ten, 10, (gulong) labs (strtol (power, NULL, 10)));
      mpq_set_z (more, ten);
      if (*power == '-')
        mpq_div (value, value, more);
      else
        mpq_mul (value, value, more);
    }
  if (*sign == '-')
    mpq_neg (value, value);
  mpz_clear (ten);
  mpq_clear (more);
  return TRUE;
}

/* @value, in the row's unit, is @expected within the row's tolerance. */
static inline void
check_near (const CheckRow *row, const char *expected, const mpq_t value)
{
  mpq_t want, off, bound;
  gboolean is_near;

  mpq_inits (want, off, bound, NULL);
  if (!check_set_number (want, expected))
    g_error ("%s: “%s” is no number", row->id, expected);
  mpq_sub (off, value, want);
  mpq_abs (off, off);
  if (!g_str_equal (row->tolerance, "exact"))
    {
      if (!check_set_number (bound, row->tolerance + 4))
        g_error ("%s: “%s” is no tolerance", row->id, row->tolerance);
      if (g_str_has_prefix (row->tolerance, "rel:"))
        {
          mpq_abs (want, want);
          mpq_mul (bound, bound, want);
        }
    }
  is_near = mpq_cmp (off, bound) <= 0;
  if (!is_near)
    g_error ("%s: %s: %.17g, not %s (%s; source: %s)", row->id, row->inputs, mpq_get_d (value), expected, row->tolerance, row->source);
  mpq_clears (want, off, bound, NULL);
}

static inline void
check_near_double (const CheckRow *row, const char *expected, double value)
{
  mpq_t exact;

  g_assert_true (isfinite (value));
  mpq_init (exact);
  mpq_set_d (exact, value);
  check_near (row, expected, exact);
  mpq_clear (exact);
}

/* @quantity in @unit. */
static inline void
check_near_quantity (const CheckRow *row, const char *expected, const PawlQuantity *quantity, const PawlUnit *unit)
{
  mpq_t low, high;

  g_assert_nonnull (unit);
  g_assert_cmpint (pawl_unit_get_dimension (unit), ==, pawl_unit_get_dimension (pawl_quantity_get_unit (quantity)));
  mpq_inits (low, high, NULL);
  pawl_quantity_get_base (quantity, low, high);
  pawl_unit_from_base (unit, low, low);
  check_near (row, expected, low);
  mpq_clears (low, high, NULL);
}
