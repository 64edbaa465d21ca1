/*
 * Tolerance classes of ISO 286 and ISO 2768.
 *
 * Source: ISO 286-1:2010, tables 1, 4 and 5, and ISO 2768-1:1989, table 1: from memory. The sizes that are listed in
 * tests/data/check-values/iso286.csv are held against that, with what each was seen in; every grade from IT5 on is also held to the formula of
 * its basis in tests/measure/test-iso286.c. The standards themselves were not opened.
 */
#include <string.h>

#include "measure/pawl-iso286.h"

/* Of ISO 286-1, in millimetres, each up to and including. */
static const guint grade_sizes[] = { 3, 6, 10, 18, 30, 50, 80, 120, 180, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150 };

/* Tenths of a micrometre; 0: none given. */
static const guint grades[][G_N_ELEMENTS (grade_sizes)] = {
  { 3, 4, 4, 5, 6, 6, 8, 10, 12, 20, 25, 30, 40 }, /* IT01 */
  { 5, 6, 6, 8, 10, 10, 12, 15, 20, 30, 40, 50, 60 }, /* IT0 */
  { 8, 10, 10, 12, 15, 15, 20, 25, 35, 45, 60, 70, 80, 90, 100, 110, 130, 150, 180, 220, 260 }, /* IT1 */
  { 12, 15, 15, 20, 25, 25, 30, 40, 50, 70, 80, 90, 100, 110, 130, 150, 180, 210, 250, 300, 360 }, /* IT2 */
  { 20, 25, 25, 30, 40, 40, 50, 60, 80, 100, 120, 130, 150, 160, 180, 210, 240, 290, 350, 410, 500 }, /* IT3 */
  { 30, 40, 40, 50, 60, 70, 80, 100, 120, 140, 160, 180, 200, 220, 250, 280, 330, 390, 460, 550, 680 }, /* IT4 */
  { 40, 50, 60, 80, 90, 110, 130, 150, 180, 200, 230, 250, 270, 320, 360, 400, 470, 550, 650, 780, 960 }, /* IT5 */
  { 60, 80, 90, 110, 130, 160, 190, 220, 250, 290, 320, 360, 400, 440, 500, 560, 660, 780, 920, 1100, 1350 }, /* IT6 */
  { 100, 120, 150, 180, 210, 250, 300, 350, 400, 460, 520, 570, 630, 700, 800, 900, 1050, 1250, 1500, 1750, 2100 }, /* IT7 */
  { 140, 180, 220, 270, 330, 390, 460, 540, 630, 720, 810, 890, 970, 1100, 1250, 1400, 1650, 1950, 2300, 2800, 3300 }, /* IT8 */
  { 250, 300, 360, 430, 520, 620, 740, 870, 1000, 1150, 1300, 1400, 1550, 1750, 2000, 2300, 2600, 3100, 3700, 4400, 5400 }, /* IT9 */
  { 400, 480, 580, 700, 840, 1000, 1200, 1400, 1600, 1850, 2100, 2300, 2500, 2800, 3200, 3600, 4200, 5000, 6000, 7000, 8600 }, /* IT10 */
  { 600, 750, 900, 1100, 1300, 1600, 1900, 2200, 2500, 2900, 3200, 3600, 4000, 4400, 5000, 5600, 6600, 7800, 9200, 11000, 13500 }, /* IT11 */
  { 1000, 1200, 1500, 1800, 2100, 2500, 3000, 3500, 4000, 4600, 5200, 5700, 6300, 7000, 8000, 9000, 10500, 12500, 15000, 17500, 21000 }, /* IT12 */
  { 1400, 1800, 2200, 2700, 3300, 3900, 4600, 5400, 6300, 7200, 8100, 8900, 9700, 11000, 12500, 14000, 16500, 19500, 23000, 28000, 33000 }, /* IT13 */
  { 2500, 3000, 3600, 4300, 5200, 6200, 7400, 8700, 10000, 11500, 13000, 14000, 15500, 17500, 20000, 23000,
    26000, 31000, 37000, 44000, 54000 }, /* IT14 */
  { 4000, 4800, 5800, 7000, 8400, 10000, 12000, 14000, 16000, 18500, 21000, 23000, 25000, 28000, 32000,
    36000, 42000, 50000, 60000, 70000, 86000 }, /* IT15 */
  { 6000, 7500, 9000, 11000, 13000, 16000, 19000, 22000, 25000, 29000, 32000, 36000, 40000, 44000, 50000,
    56000, 66000, 78000, 92000, 110000, 135000 }, /* IT16 */
  { 10000, 12000, 15000, 18000, 21000, 25000, 30000, 35000, 40000, 46000, 52000, 57000, 63000, 70000, 80000,
    90000, 105000, 125000, 150000, 175000, 210000 }, /* IT17 */
  { 14000, 18000, 22000, 27000, 33000, 39000, 46000, 54000, 63000, 72000, 81000, 89000, 97000, 110000,
    125000, 140000, 165000, 195000, 230000, 280000, 330000 }, /* IT18 */
};

static const guint deviation_sizes[] = {
  3, 6, 10, 14, 18, 24, 30, 40, 50, 65, 80, 100, 120, 140, 160, 180, 200, 225, 250, 280, 315, 355, 400, 450, 500,
};

#define NONE G_MININT16

/* Fundamental deviations of shafts in micrometres: the upper one of a to h, the lower one of k to u (k: of the grades 4 to 7). */
static const struct {
  char   letter;
  gint16 um[G_N_ELEMENTS (deviation_sizes)];
} shafts[] = {
  { 'a', { -270, -270, -280, -290, -290, -300, -300, -310, -320, -340, -360, -380, -410, -460, -520, -580,
           -660, -740, -820, -920, -1050, -1200, -1350, -1500, -1650 } },
  { 'b', { -140, -140, -150, -150, -150, -160, -160, -170, -180, -190, -200, -220, -240, -260, -280, -310,
           -340, -380, -420, -480, -540, -600, -680, -760, -840 } },
  { 'c', { -60, -70, -80, -95, -95, -110, -110, -120, -130, -140, -150, -170, -180, -200, -210, -230, -240,
           -260, -280, -300, -330, -360, -400, -440, -480 } },
  { 'd', { -20, -30, -40, -50, -50, -65, -65, -80, -80, -100, -100, -120, -120, -145, -145, -145, -170, -170,
           -170, -190, -190, -210, -210, -230, -230 } },
  { 'e', { -14, -20, -25, -32, -32, -40, -40, -50, -50, -60, -60, -72, -72, -85, -85, -85, -100, -100, -100, -110, -110, -125, -125, -135, -135 } },
  { 'f', { -6, -10, -13, -16, -16, -20, -20, -25, -25, -30, -30, -36, -36, -43, -43, -43, -50, -50, -50, -56, -56, -62, -62, -68, -68 } },
  { 'g', { -2, -4, -5, -6, -6, -7, -7, -9, -9, -10, -10, -12, -12, -14, -14, -14, -15, -15, -15, -17, -17, -18, -18, -20, -20 } },
  { 'h', { 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0, 0 } },
  { 'k', { 0, 1, 1, 1, 1, 2, 2, 2, 2, 2, 2, 3, 3, 3, 3, 3, 4, 4, 4, 4, 4, 4, 4, 5, 5 } },
  { 'm', { 2, 4, 6, 7, 7, 8, 8, 9, 9, 11, 11, 13, 13, 15, 15, 15, 17, 17, 17, 20, 20, 21, 21, 23, 23 } },
  { 'n', { 4, 8, 10, 12, 12, 15, 15, 17, 17, 20, 20, 23, 23, 27, 27, 27, 31, 31, 31, 34, 34, 37, 37, 40, 40 } },
  { 'p', { 6, 12, 15, 18, 18, 22, 22, 26, 26, 32, 32, 37, 37, 43, 43, 43, 50, 50, 50, 56, 56, 62, 62, 68, 68 } },
  { 'r', { 10, 15, 19, 23, 23, 28, 28, 34, 34, 41, 43, 51, 54, 63, 65, 68, 77, 80, 84, 94, 98, 108, 114, 126, 132 } },
  { 's', { 14, 19, 23, 28, 28, 35, 35, 43, 43, 53, 59, 71, 79, 92, 100, 108, 122, 130, 140, 158, 170, 190, 208, 232, 252 } },
  { 't', { NONE, NONE, NONE, NONE, NONE, NONE, 41, 48, 54, 66, 75, 91, 104, 122, 134, 146, 166, 180, 196, 218, 240, 268, 294, 330, 360 } },
  { 'u', { 18, 23, 28, 33, 33, 41, 48, 60, 70, 87, 102, 124, 144, 170, 190, 210, 236, 258, 284, 315, 350, 390, 435, 490, 540 } },
};

/* Of ISO 2768-1, linear sizes; millimetres, each up to and including. The first begins at 0.5 mm. */
static const guint general_sizes[] = { 3, 6, 30, 120, 400, 1000, 2000, 4000 };

/* Hundredths of a millimetre; 0: none given. */
static const struct {
  char    letter;
  guint16 deviations[G_N_ELEMENTS (general_sizes)];
} generals[] = {
  { 'f', { 5, 5, 10, 15, 20, 30, 50, 0 } },
  { 'm', { 10, 10, 20, 30, 50, 80, 120, 200 } },
  { 'c', { 20, 30, 50, 80, 120, 200, 300, 400 } },
  { 'v', { 0, 50, 100, 150, 250, 400, 600, 800 } },
};

/* What a message would have written instead. */
#define INSTEAD "; write the limits themselves, as in 25.000..25.021 mm"

static gboolean
refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

static gboolean
refuse (GError **error, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error_literal (error, PAWL_READING_ERROR, PAWL_READING_ERROR_BAD_LIMITS, message);
  return FALSE;
}

/* The step of @nominal_mm, or @n_sizes beyond the last. */
static gsize
find_size (const guint *sizes, gsize n_sizes, const mpq_t nominal_mm)
{
  gsize i = 0;

  while (i < n_sizes && mpq_cmp_ui (nominal_mm, sizes[i], 1) > 0)
    i++;
  return i;
}

static void
set_tenths_um (mpq_t mm, glong tenths)
{
  mpq_set_si (mm, tenths, 10000);
  mpq_canonicalize (mm);
}

/* ---- grades ---- */

gboolean
pawl_iso286_get_grade (int grade, const mpq_t nominal_mm, mpq_t tolerance_mm, GError **error)
{
  gsize size = find_size (grade_sizes, G_N_ELEMENTS (grade_sizes), nominal_mm);

  if (grade < PAWL_ISO286_IT01 || grade > PAWL_ISO286_IT18)
    return refuse (error, "the grades of ISO 286 run from 01, 0 and 1 to 18, as in H7" INSTEAD);
  if (mpq_sgn (nominal_mm) <= 0)
    return refuse (error, "a class of ISO 286 is for a size above zero, as in 25 mm H7");
  if (grade >= 14 && mpq_cmp_ui (nominal_mm, 1, 1) <= 0)
    return refuse (error, "ISO 286 has no grade IT%d up to 1 mm" INSTEAD, grade);
  if (size == G_N_ELEMENTS (grade_sizes))
    return refuse (error, "ISO 286 ends at 3150 mm" INSTEAD);
  if (grades[grade - PAWL_ISO286_IT01][size] == 0)
    return refuse (error, "ISO 286 has no grade IT%s over 500 mm" INSTEAD, grade == 0 ? "0" : "01");
  set_tenths_um (tolerance_mm, (glong) grades[grade - PAWL_ISO286_IT01][size]);
  return TRUE;
}

/* ---- deviations ---- */

typedef struct {
  const char *name;
  char        letter;  /* a small one; j for js */
  gboolean    is_hole;
  int         grade;
  gsize       size;
  mpq_t       tolerance;
} Class;

static gboolean
parse_name (Class *self, const char *name, GError **error)
{
  gsize n_letters = strspn (name, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz");
  const char *digits = name + n_letters;
  gboolean is_js = n_letters == 2 && (strncmp (name, "js", 2) == 0 || strncmp (name, "JS", 2) == 0);

  self->name = name;
  self->is_hole = g_ascii_isupper (name[0]);
  self->letter = is_js ? 'j' : g_ascii_tolower (name[0]);
  self->grade = g_str_equal (digits, "01") ? PAWL_ISO286_IT01 : (int) MIN (g_ascii_strtoull (digits, NULL, 10), 99);
  if (*digits == '\0' || strspn (digits, "0123456789") != strlen (digits))
    return refuse (error, "“%s” is no class of ISO 286; a letter and a grade, as in H7 or g6", name);
  if (is_js || (n_letters == 1 && self->letter != 'j' && strchr ("abcdefghkmnprstu", self->letter) != NULL))
    return TRUE;
  return refuse (error, "the class %s is not in the table here, which has a to h, js, k, m, n, p, r, s, t and u" INSTEAD, name);
}

static gboolean
lookup_shaft (const Class *self, int *um, GError **error)
{
  if (self->size == G_N_ELEMENTS (deviation_sizes) && self->letter != 'h')
    return refuse (error, "%s over 500 mm is not in the table here, which has h, H, js and JS beyond" INSTEAD, self->name);
  *um = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (shafts) && self->letter != 'h'; i++)
    if (shafts[i].letter == self->letter)
      *um = shafts[i].um[self->size];
  return *um != NONE || refuse (error, "ISO 286 has no %c up to 24 mm; u is used there" INSTEAD, self->name[0]);
}

/*
 * What a hole of K to N up to grade 8, and of P to U up to grade 7, has more than the shaft's deviation turned over: the difference of its
 * grade and the next finer one, so that H7/p6 and P7/h6 fit alike (ISO 286-1, 4.3.2.5). None up to 3 mm.
 */
static gboolean
set_delta (const Class *self, mpq_t delta, const mpq_t nominal_mm, GError **error)
{
  gboolean has_delta = self->size > 0 && self->grade >= 3 && self->grade <= (self->letter <= 'n' ? 8 : 7);

  mpq_set_ui (delta, 0, 1);
  if (!has_delta)
    return TRUE;
  if (!pawl_iso286_get_grade (self->grade - 1, nominal_mm, delta, error))
    return FALSE;
  mpq_sub (delta, self->tolerance, delta);
  return TRUE;
}

/* The end that lies next to the nominal size: of a to h the one nearer to it is the upper, of k to u the lower; for holes the other way round. */
static gboolean
set_near_end (const Class *self, mpq_t end, const mpq_t nominal_mm, GError **error)
{
  mpq_t delta;
  int um = 0;
  gboolean is_good;

  if (!lookup_shaft (self, &um, error))
    return FALSE;
  if (self->letter <= 'h' || !self->is_hole)
    {
      if (self->letter == 'k' && (self->grade <= 3 || self->grade > 7))
        um = 0;
      set_tenths_um (end, (self->is_hole ? -10L : 10L) * um);
      return TRUE;
    }
  if (self->size > 0 && (self->grade < 3 || (self->letter == 'k' && self->grade > 8)))
    return refuse (error, "ISO 286 has %s over 3 mm, not %s" INSTEAD,
                   self->letter == 'k' ? "K of the grades 3 to 8 only" : "holes K to U from grade 3 on only", self->name);
  if (self->letter == 'n' && self->grade > 8 && self->size > 0)
    um = 0;
  /* The one place where the standard's table departs from its rule. */
  if (self->letter == 'm' && self->grade == 6 && mpq_cmp_ui (nominal_mm, 250, 1) > 0 && mpq_cmp_ui (nominal_mm, 315, 1) <= 0)
    um = 18;
  mpq_init (delta);
  is_good = set_delta (self, delta, nominal_mm, error);
  set_tenths_um (end, -10L * um);
  mpq_add (end, end, delta);
  mpq_clear (delta);
  return is_good;
}

static gboolean
set_ends (const Class *self, const mpq_t nominal_mm, mpq_t lower_mm, mpq_t upper_mm, GError **error)
{
  if (self->letter == 'j') /* to either side alike; no rounding to whole micrometres */
    {
      mpq_div_2exp (upper_mm, self->tolerance, 1);
      mpq_neg (lower_mm, upper_mm);
      return TRUE;
    }
  if (self->is_hole == (self->letter <= 'h'))
    {
      if (!set_near_end (self, lower_mm, nominal_mm, error))
        return FALSE;
      mpq_add (upper_mm, lower_mm, self->tolerance);
      return TRUE;
    }
  if (!set_near_end (self, upper_mm, nominal_mm, error))
    return FALSE;
  mpq_sub (lower_mm, upper_mm, self->tolerance);
  return TRUE;
}

gboolean
pawl_iso286_get_deviations (const char *name, const mpq_t nominal_mm, mpq_t lower_mm, mpq_t upper_mm, GError **error)
{
  Class self = { .size = find_size (deviation_sizes, G_N_ELEMENTS (deviation_sizes), nominal_mm) };
  gboolean is_good;

  if (!parse_name (&self, name, error))
    return FALSE;
  if ((self.letter == 'a' || self.letter == 'b') && mpq_cmp_ui (nominal_mm, 1, 1) <= 0)
    return refuse (error, "ISO 286 has no a and no b up to 1 mm" INSTEAD);
  mpq_init (self.tolerance);
  is_good = pawl_iso286_get_grade (self.grade, nominal_mm, self.tolerance, error) && set_ends (&self, nominal_mm, lower_mm, upper_mm, error);
  mpq_clear (self.tolerance);
  return is_good;
}

/* ---- general tolerances ---- */

gboolean
pawl_iso2768_get_deviation (char letter, const mpq_t nominal_mm, mpq_t deviation_mm, GError **error)
{
  gsize size = find_size (general_sizes, G_N_ELEMENTS (general_sizes), nominal_mm);
  guint hundredths = 0;

  if (mpq_cmp_ui (nominal_mm, 1, 2) < 0)
    return refuse (error, "ISO 2768 gives nothing under 0.5 mm; the tolerance stands beside the size there, as in 0.4 mm ± 0.1");
  if (size == G_N_ELEMENTS (general_sizes))
    return refuse (error, "ISO 2768 ends at 4000 mm; write the tolerance, as in 4500 mm ± 3");
  for (gsize i = 0; i < G_N_ELEMENTS (generals); i++)
    if (generals[i].letter == letter)
      hundredths = generals[i].deviations[size];
  if (hundredths == 0)
    return refuse (error, "ISO 2768 gives nothing for class %c at this size; write the tolerance, as in 2 mm ± 0.2", letter);
  mpq_set_ui (deviation_mm, hundredths, 100);
  mpq_canonicalize (deviation_mm);
  return TRUE;
}
