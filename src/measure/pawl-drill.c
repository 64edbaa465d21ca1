/*
 * Number and letter drills.
 *
 * Source: standard number and letter drill sizes (ANSI B94.11M, Machinery's Handbook), as given in the table of GNU units 2.22, which holds
 * some numbers as the middle of their neighbours; the sizes tested against other tables are in tests/data/check-values/drills.csv.
 */
#include "measure/pawl-drill.h"

#include "measure/pawl-drill-private.h"

/* In ten-thousandths of an inch. */
static const guint16 number_drills[] = {
  2280, 2210, 2130, 2090, 2055, 2040, 2010, 1990, 1960, 1935, /* 1 to 10 */
  1910, 1890, 1850, 1820, 1800, 1770, 1730, 1695, 1660, 1610, /* 11 to 20 */
  1590, 1570, 1540, 1520, 1495, 1470, 1440, 1405, 1360, 1285, /* 21 to 30 */
  1200, 1160, 1130, 1110, 1100, 1065, 1040, 1015,  995,  980, /* 31 to 40 */
   960,  935,  890,  860,  820,  810,  785,  760,  730,  700, /* 41 to 50 */
   670,  635,  595,  550,  520,  465,  430,  420,  410,  400, /* 51 to 60 */
   390,  380,  370,  360,  350,  330,  320,  310,  292,  280, /* 61 to 70 */
   260,  250,  240,  225,  210,  200,  180,  160,  145,  135, /* 71 to 80 */
};

/* In thousandths of an inch, A to Z. */
static const guint16 letter_drills[] = {
  234, 238, 242, 246, 250, 257, 261, 266, 272, 277, 281, 290, 295,
  302, 316, 323, 332, 339, 348, 358, 368, 377, 386, 397, 404, 413,
};

gboolean
pawl_drill_get_number (guint number, mpq_t inches)
{
  if (number < 1 || number > G_N_ELEMENTS (number_drills))
    return FALSE;
  mpq_set_ui (inches, number_drills[number - 1], 10000);
  mpq_canonicalize (inches);
  return TRUE;
}

gboolean
pawl_drill_get_letter (char letter, mpq_t inches)
{
  letter = g_ascii_toupper (letter);
  if (letter < 'A' || letter > 'Z')
    return FALSE;
  mpq_set_ui (inches, letter_drills[letter - 'A'], 1000);
  mpq_canonicalize (inches);
  return TRUE;
}

/* Whether @size is larger than @largest so far, and fits; then it is taken over. */
static gboolean
take_larger (const mpq_t size, const mpq_t most, mpq_t largest)
{
  if (mpq_cmp (size, most) > 0 || mpq_cmp (size, largest) <= 0)
    return FALSE;
  mpq_set (largest, size);
  return TRUE;
}

/* "1/8", "1 1/64" */
static char *
format_fraction (const mpq_t size)
{
  gulong above = mpz_get_ui (mpq_numref (size)), below = mpz_get_ui (mpq_denref (size));

  if (below == 1)
    return g_strdup_printf ("%lu", above);
  return above < below ? g_strdup_printf ("%lu/%lu", above, below) : g_strdup_printf ("%lu %lu/%lu", above / below, above % below, below);
}

char *
pawl_drill_find_largest (const mpq_t most, mpq_t size)
{
  guint number = 0;
  char letter = '\0';
  mpq_t drill;

  mpq_init (drill);
  mpq_mul_2exp (drill, most, 6);
  mpz_fdiv_q (mpq_numref (size), mpq_numref (drill), mpq_denref (drill));
  mpz_set_ui (mpq_denref (size), 1);
  mpq_div_2exp (size, size, 6);
  for (guint i = 1; pawl_drill_get_number (i, drill); i++)
    if (take_larger (drill, most, size))
      number = i;
  for (char i = 'A'; pawl_drill_get_letter (i, drill); i++)
    if (take_larger (drill, most, size))
      letter = i;
  mpq_clear (drill);
  if (mpq_sgn (size) == 0)
    return NULL;
  if (letter != '\0')
    return g_strdup_printf ("letter %c", letter);
  if (number > 0)
    return g_strdup_printf ("#%u", number);
  return format_fraction (size);
}

static gboolean
scan_number_drill (PawlScan *self, mpq_t inches, GError **error)
{
  const char *start = self->at;
  guint64 number = g_ascii_strtoull (self->at, NULL, 10);

  while (g_ascii_isdigit (*self->at))
    self->at++;
  if (g_ascii_isalnum (*self->at) || *self->at == '/' || (*self->at == '.' && g_ascii_isdigit (self->at[1])) || *self->at == ','
      || number > G_MAXUINT || !pawl_drill_get_number ((guint) number, inches))
    {
      self->at = start;
      return pawl_scan_fault (self, error, PAWL_READING_ERROR_NOT_A_NUMBER, "number drills known here run from #1 to #%d, whole numbers, as in #56",
                              (int) G_N_ELEMENTS (number_drills));
    }
  pawl_scan_word (self, "drill");
  return TRUE;
}

/* "letter F", "letter F drill", "F drill" */
static gboolean
scan_letter_drill (PawlScan *self, mpq_t inches)
{
  PawlScan ahead = *self;
  gboolean is_named = pawl_scan_word (&ahead, "letter");
  char letter = *ahead.at;

  if (!g_ascii_isalpha (letter) || g_ascii_isalnum (ahead.at[1]))
    return FALSE;
  ahead.at++;
  if (!pawl_scan_word (&ahead, "drill") && !is_named)
    return FALSE;
  if (!pawl_drill_get_letter (letter, inches))
    return FALSE;
  *self = ahead;
  return TRUE;
}

/* Where the number starts after "#", "No.", "number" or "drill". */
static gboolean
scan_prefix (PawlScan *self)
{
  static const char * const prefixes[] = { "#", "no.", "no", "number", "drill #", "drill no.", "drill no", "drill" };

  for (gsize i = 0; i < G_N_ELEMENTS (prefixes); i++)
    {
      const char *at = self->at;
      const char *sign = prefixes[i];

      for (; *sign != '\0' && (g_ascii_tolower (*at) == *sign); sign++)
        at++;
      while (*at == ' ')
        at++;
      if (*sign != '\0' || !g_ascii_isdigit (*at))
        continue;
      self->at = at;
      return TRUE;
    }
  return FALSE;
}

gboolean
pawl_scan_drill (PawlScan *self, mpq_t inches, gboolean *is_drill, GError **error)
{
  pawl_scan_spaces (self);
  *is_drill = TRUE;
  if (scan_letter_drill (self, inches))
    return TRUE;
  if (scan_prefix (self))
    return scan_number_drill (self, inches, error);
  *is_drill = FALSE;
  return TRUE;
}
