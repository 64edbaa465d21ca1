/* Reading typed text: words, signs, and numbers as a mechanic or a gauge writes them. */
#include <string.h>

#include "measure/pawl-number-private.h"

gboolean
pawl_scan_init (PawlScan *self, const char *typed, char decimal_mark, GError **error)
{
  gboolean is_plain = pawl_plain_init (&self->plain, typed, error);

  self->decimal_mark = decimal_mark == ',' ? ',' : '.';
  self->at = self->plain.text->str;
  return is_plain;
}

void
pawl_scan_clear (PawlScan *self)
{
  pawl_plain_clear (&self->plain);
}

void
pawl_scan_spaces (PawlScan *self)
{
  while (*self->at == ' ')
    self->at++;
}

gboolean
pawl_scan_is_at_end (PawlScan *self)
{
  pawl_scan_spaces (self);
  return *self->at == '\0';
}

void
pawl_scan_diameter (PawlScan *self)
{
  static const char * const signs[] = { "Ø", "ø", "⌀", "∅" };

  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    if (pawl_scan_signs (self, signs[i]))
      return;
}

gboolean
pawl_scan_signs (PawlScan *self, const char *signs)
{
  const char *at = self->at;

  while (*at == ' ')
    at++;
  if (!g_str_has_prefix (at, signs))
    return FALSE;
  self->at = at + strlen (signs);
  pawl_scan_spaces (self);
  return TRUE;
}

gboolean
pawl_scan_range (PawlScan *self, gboolean *is_range, GError **error)
{
  pawl_scan_spaces (self);
  *is_range = g_str_has_prefix (self->at, "..");
  if (!*is_range)
    return TRUE;
  if (self->at[2] == '.')
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_AMBIGUOUS,
                            "three dots could be a range and a decimal point, or a range only; write two dots with spaces, as in .010 .. .012 in");
  return pawl_scan_signs (self, "..");
}

gboolean
pawl_scan_word (PawlScan *self, const char *word)
{
  const char *at = self->at;

  while (*at == ' ')
    at++;
  for (; *word != '\0'; word++)
    if (*word == ' ')
      while (*at == ' ')
        at++;
    else if (g_ascii_tolower (*at++) != *word)
      return FALSE;
  if (g_ascii_isalnum (*at) || (guchar) *at >= 0x80)
    return FALSE;
  self->at = at;
  pawl_scan_spaces (self);
  return TRUE;
}

gboolean
pawl_scan_fault (const PawlScan *self, GError **error, PawlReadingError code, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return pawl_plain_fault (&self->plain, self->at, error, code, "%s", message);
}

/* ---- numbers ---- */

static gboolean
is_mark (const PawlScan *self, const char *at)
{
  /* Two dots are a range, 25..31. */
  return *at == self->decimal_mark && !(*at == '.' && (at[1] == '.'));
}

gboolean
pawl_scan_is_at_number (const PawlScan *self)
{
  const char *at = self->at;

  if (*at == '-' || *at == '+')
    at++;
  return g_ascii_isdigit (*at) || ((*at == '.' || *at == ',') && g_ascii_isdigit (at[1]));
}

static gsize
count_digits (const char *at)
{
  gsize n = 0;

  while (g_ascii_isdigit (at[n]))
    n++;
  return n;
}

/* Takes a run of digits onto @number; @n_digits counts over the whole number. */
static gboolean
scan_digits (PawlScan *self, mpz_t number, gsize *n_digits, GError **error)
{
  gsize n = count_digits (self->at);

  if (n == 0)
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "a digit should stand here, as in 12.5 or 1 5/16");
  *n_digits += n;
  if (*n_digits > PAWL_DIGITS_MAX)
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_TOO_LONG, "a number of over %d digits; no gauge shows so many", PAWL_DIGITS_MAX);
  for (; g_ascii_isdigit (*self->at); self->at++)
    {
      mpz_mul_ui (number, number, 10);
      mpz_add_ui (number, number, (gulong) (*self->at - '0'));
    }
  return TRUE;
}

/* Whether a fraction n/d stands at @at. */
static gboolean
is_fraction_at (const char *at)
{
  gsize n = count_digits (at);

  return n > 0 && at[n] == '/' && g_ascii_isdigit (at[n + 1]);
}

static gboolean
scan_fraction (PawlScan *self, mpq_t value, GError **error)
{
  gsize n_digits = 0;
  const char *under;

  if (!scan_digits (self, mpq_numref (value), &n_digits, error))
    return FALSE;
  under = ++self->at;
  mpz_set_ui (mpq_denref (value), 0);
  if (!scan_digits (self, mpq_denref (value), &n_digits, error))
    {
      mpz_set_ui (mpq_denref (value), 1);
      return FALSE;
    }
  if (mpz_sgn (mpq_denref (value)) == 0)
    {
      mpz_set_ui (mpq_denref (value), 1);
      self->at = under;
      return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "a fraction over zero; write for example 5/16");
    }
  mpq_canonicalize (value);
  if (is_mark (self, self->at))
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "a fraction and a decimal mark together; write 5/16 or 0.3125");
  if (*self->at == '/' && g_ascii_isdigit (self->at[1]))
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "a second slash; a fraction has one, as in 1 5/16");
  return TRUE;
}

/* The fraction of a mixed number: 1 5/16 or 1-5/16. */
static gboolean
scan_mixed (PawlScan *self, mpq_t value, GError **error)
{
  mpq_t part;
  gboolean is_good;

  mpq_init (part);
  is_good = scan_fraction (self, part, error);
  if (is_good && mpz_cmp (mpq_numref (part), mpq_denref (part)) >= 0)
    is_good = pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER,
                               "after a whole number the fraction must be under 1, as in 1 5/16; is a digit wrong?");
  if (is_good)
    mpq_add (value, value, part);
  mpq_clear (part);
  return is_good;
}

/* Some gauges send 1.25E-03. The exponent is bounded before anything is raised to it. */
static gboolean
scan_exponent (PawlScan *self, mpq_t value, GError **error)
{
  const char *start = self->at;
  gboolean is_negative;
  guint64 exponent;
  mpz_t scale;

  self->at++;
  is_negative = *self->at == '-';
  if (*self->at == '-' || *self->at == '+')
    self->at++;
  exponent = g_ascii_strtoull (self->at, NULL, 10);
  self->at += count_digits (self->at);
  if (exponent > PAWL_DIGITS_MAX)
    {
      self->at = start;
      return pawl_scan_fault (self, error, PAWL_READING_ERROR_TOO_LONG, "an exponent past %d; no reading is so large or so small", PAWL_DIGITS_MAX);
    }
  mpz_init (scale);
  mpz_ui_pow_ui (scale, 10, (gulong) exponent);
  if (is_negative)
    mpz_mul (mpq_denref (value), mpq_denref (value), scale);
  else
    mpz_mul (mpq_numref (value), mpq_numref (value), scale);
  mpz_clear (scale);
  mpq_canonicalize (value);
  return TRUE;
}

static gboolean
is_exponent_at (const char *at)
{
  if (*at != 'e' && *at != 'E')
    return FALSE;
  at++;
  if (*at == '-' || *at == '+')
    at++;
  return g_ascii_isdigit (*at);
}

/* The whole part has been read, or is missing as in .025 */
static gboolean
scan_places (PawlScan *self, mpq_t value, gsize n_digits, GError **error)
{
  gsize n;

  self->at++;
  n = count_digits (self->at);
  if (n == 0)
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER,
                            "nothing after the decimal mark; finish the number, as in 12.5, or leave the mark out");
  if (!scan_digits (self, mpq_numref (value), &n_digits, error))
    return FALSE;
  mpz_ui_pow_ui (mpq_denref (value), 10, n);
  mpq_canonicalize (value);
  return TRUE;
}

/* A mark that belongs to the other habit, or a thousands separator, is never silently taken. */
static gboolean
check_no_other_mark (PawlScan *self, GError **error)
{
  const char *next = self->at;

  while (*next == ' ')
    next++;
  if (*self->at == '.' && self->at[1] == '.')
    return TRUE;
  if (*self->at == self->decimal_mark && g_ascii_isdigit (self->at[1]))
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER,
                            "a second decimal mark; write thousands without a mark, as in 1234%c5", self->decimal_mark);
  if ((*self->at == '.' || *self->at == ',') && *self->at != self->decimal_mark && g_ascii_isdigit (self->at[1]))
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER,
                            "a %s, but the decimal mark here is a %s; write 33%c34, and thousands without a mark, as in 1200",
                            *self->at == ',' ? "comma" : "point", self->decimal_mark == ',' ? "comma" : "point", self->decimal_mark);
  if (*self->at == '\'' && g_ascii_isdigit (self->at[1]) && g_ascii_isdigit (self->at[2]) && g_ascii_isdigit (self->at[3]))
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "a mark between thousands; write 1200");
  if (next != self->at && g_ascii_isdigit (*next))
    return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER,
                            "two numbers side by side; write thousands without a gap, as in 1200, and a fraction as in 1 5/16");
  return TRUE;
}

static gboolean
scan_unsigned (PawlScan *self, mpq_t value, gboolean *is_fraction, GError **error)
{
  gsize n_digits = 0;
  const char *next;

  if (is_fraction_at (self->at))
    {
      *is_fraction = TRUE;
      return scan_fraction (self, value, error);
    }
  if ((*self->at == '.' || *self->at == ',') && !is_mark (self, self->at))
    return check_no_other_mark (self, error) && pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER,
                                                                 "a number should stand here, as in 12.5 or 1 5/16");
  if (!is_mark (self, self->at) && !scan_digits (self, mpq_numref (value), &n_digits, error))
    return FALSE;
  if (is_mark (self, self->at))
    return scan_places (self, value, n_digits, error)
           && (!is_exponent_at (self->at) || scan_exponent (self, value, error));
  if (is_exponent_at (self->at))
    return scan_exponent (self, value, error);

  next = self->at;
  if (*next == '-')
    next++;
  else
    while (*next == ' ')
      next++;
  if (next == self->at || !is_fraction_at (next))
    return TRUE;
  self->at = next;
  *is_fraction = TRUE;
  return scan_mixed (self, value, error);
}

/*
 * pawl_scan_number:
 *
 * [+|-] then one of: 12  12.5  .025  5/16  1 5/16  1-5/16  1.25e-3. The sign holds for the whole of a mixed number.
 * At most PAWL_DIGITS_MAX digits, and as large an exponent.
 */
gboolean
pawl_scan_number (PawlScan *self, mpq_t value, gboolean *is_fraction, GError **error)
{
  gboolean has_slash = FALSE;
  gboolean is_negative = *self->at == '-';

  mpq_set_ui (value, 0, 1);
  if (*self->at == '-' || *self->at == '+')
    self->at++;
  while (is_negative && *self->at == ' ')
    self->at++;
  if (!scan_unsigned (self, value, &has_slash, error) || !check_no_other_mark (self, error))
    return FALSE;
  if (is_negative)
    mpq_neg (value, value);
  if (is_fraction != NULL)
    *is_fraction = has_slash;
  return TRUE;
}
