/* Exact numbers: rounding and writing. */
#include <string.h>

#include "measure/pawl-number-private.h"

/* Digits with at most one point, as in this folder's tables; the reader of typed text is pawl-scan.c. */
void
pawl_number_set_digits (mpq_t value, const char *digits, gsize length)
{
  gboolean is_past_point = FALSE;

  mpq_set_ui (value, 0, 1);
  for (gsize i = 0; i < length; i++)
    {
      if (digits[i] == '.')
        {
          is_past_point = TRUE;
          continue;
        }
      g_assert (g_ascii_isdigit (digits[i]));
      mpz_mul_ui (mpq_numref (value), mpq_numref (value), 10);
      mpz_add_ui (mpq_numref (value), mpq_numref (value), (gulong) (digits[i] - '0'));
      if (is_past_point)
        mpz_mul_ui (mpq_denref (value), mpq_denref (value), 10);
    }
  mpq_canonicalize (value);
}

/*
 * Half to even: of two whole numbers equally near, the even one.
 *
 * Source: ISO 80000-1:2009, Annex B, rule A (from memory).
 */
void
pawl_number_round (mpz_t rounded, const mpq_t value, guint places)
{
  mpz_t scale, rest;
  int order;

  mpz_inits (scale, rest, NULL);
  mpz_ui_pow_ui (scale, 10, places);
  mpz_mul (scale, scale, mpq_numref (value));
  mpz_fdiv_qr (rounded, rest, scale, mpq_denref (value));
  mpz_mul_2exp (rest, rest, 1);
  order = mpz_cmp (rest, mpq_denref (value));
  if (order > 0 || (order == 0 && mpz_odd_p (rounded)))
    mpz_add_ui (rounded, rounded, 1);
  mpz_clears (scale, rest, NULL);
}

/* A decimal ends when its denominator has no prime factor but 2 and 5; the larger power is the number of places. */
gboolean
pawl_number_ends (const mpq_t value, guint *places)
{
  mpz_t rest, prime;
  gulong twos, fives;
  gboolean ends;

  mpz_init (rest);
  mpz_init_set_ui (prime, 2);
  twos = mpz_remove (rest, mpq_denref (value), prime);
  mpz_set_ui (prime, 5);
  fives = mpz_remove (rest, rest, prime);
  ends = mpz_cmp_ui (rest, 1) == 0;
  mpz_clears (rest, prime, NULL);
  *places = ends ? (guint) MAX (twos, fives) : 0;
  return ends;
}

static char *
dup_digits (const mpz_t number)
{
  gsize size = mpz_sizeinbase (number, 10) + 2;
  char *digits = g_malloc (size);

  return mpz_get_str (digits, 10, number);
}

char *
pawl_number_format (const mpq_t value, guint places, gboolean trims, char decimal_mark)
{
  g_autofree char *digits = NULL;
  g_autoptr(GString) text = g_string_new (NULL);
  mpz_t rounded;
  gboolean is_negative;

  mpz_init (rounded);
  pawl_number_round (rounded, value, places);
  is_negative = mpz_sgn (rounded) < 0;
  mpz_abs (rounded, rounded);
  digits = dup_digits (rounded);
  mpz_clear (rounded);

  for (gsize i = strlen (digits); i <= places; i++)
    g_string_append_c (text, '0');
  g_string_append (text, digits);
  if (places > 0)
    {
      g_string_insert_c (text, (gssize) (text->len - places), decimal_mark);
      while (trims && text->str[text->len - 1] == '0')
        g_string_truncate (text, text->len - 1);
      if (text->str[text->len - 1] == decimal_mark)
        g_string_truncate (text, text->len - 1);
    }
  if (is_negative)
    g_string_prepend_c (text, '-');
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static char *
format_mixed (const mpq_t value)
{
  g_autofree char *whole_digits = NULL;
  g_autofree char *over = NULL;
  g_autofree char *under = dup_digits (mpq_denref (value));
  const char *sign = mpq_sgn (value) < 0 ? "-" : "";
  mpz_t whole, rest;
  gboolean has_whole;

  mpz_inits (whole, rest, NULL);
  mpz_abs (rest, mpq_numref (value));
  mpz_fdiv_qr (whole, rest, rest, mpq_denref (value));
  has_whole = mpz_sgn (whole) != 0;
  whole_digits = dup_digits (whole);
  over = dup_digits (rest);
  mpz_clears (whole, rest, NULL);
  return has_whole ? g_strdup_printf ("%s%s %s/%s", sign, whole_digits, over, under) : g_strdup_printf ("%s%s/%s", sign, over, under);
}

char *
pawl_number_format_exact (const mpq_t value, char decimal_mark)
{
  guint places;

  if (pawl_number_ends (value, &places) && places <= PAWL_DIGITS_MAX)
    return pawl_number_format (value, places, TRUE, decimal_mark);
  return format_mixed (value);
}
