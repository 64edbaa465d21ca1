/* Verdicts on both sides of every limit, exactly; guard bands against the published decision rules. */
#include <math.h>
#include <string.h>

#include "measure/pawl-verdict.h"
#include "testing.h"

static PawlLimits *
parse_limits (const char *text)
{
  g_autoptr(GError) error = NULL;
  PawlLimits *limits = pawl_limits_parse (text, NULL, &error);

  g_assert_no_error (error);
  return limits;
}

static PawlVerdict
judge (const PawlLimits *limits, const char *reading, const PawlInstrument *instrument, PawlPolicy policy)
{
  PawlTyping typing = { .decimal_mark = '.', .default_unit = pawl_limits_get_unit (limits) };
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlQuantity) quantity = pawl_quantity_parse (reading, &typing, &error);
  PawlVerdict verdict = { 0 };

  g_assert_no_error (error);
  g_assert_true (pawl_verdict_of (limits, quantity, NULL, instrument, policy, &verdict, &error));
  g_assert_no_error (error);
  return verdict;
}

typedef struct {
  const char     *limits;
  const char     *reading;
  PawlVerdictKind kind;
  PawlSide        side;
  gboolean        is_worn;
  double          excess; /* in the unit of the limits */
} Row;

#define IN PAWL_VERDICT_IN
#define OUT PAWL_VERDICT_OUT
#define CLOSE PAWL_VERDICT_TOO_CLOSE
#define NEITHER PAWL_SIDE_NEITHER
#define BELOW PAWL_SIDE_BELOW
#define ABOVE PAWL_SIDE_ABOVE

/* Simple acceptance. A limit met exactly is inside; the next digit is not. */
static const Row simple[] = {
  { "33.3375 mm ± 0", "1 5/16 in", IN, NEITHER, FALSE, 0 },
  { "33.3375 mm ± 0", "33.3375", IN, NEITHER, FALSE, 0 },
  { "33.3375 mm ± 0", "33.33750000000000000000000000001 mm", OUT, ABOVE, FALSE, 1e-29 },
  { "33.3375 mm ± 0", "33.33749999999999999999999999999 mm", OUT, BELOW, FALSE, 1e-29 },
  { "25..31 thou", "25", IN, NEITHER, FALSE, 0 },
  { "25..31 thou", "24.9", OUT, BELOW, FALSE, 0.1 },
  { "25..31 thou", "31", IN, NEITHER, FALSE, 0 },
  { "25..31 thou", "31.1", OUT, ABOVE, FALSE, 0.1 },
  { "25..31 thou", "0.635 mm", IN, NEITHER, FALSE, 0 },
  { "25..31 thou", "0.634 mm", OUT, BELOW, FALSE, 1 / 25.4 },
  { "1 5/16 in ± 1/64", "1 21/64", IN, NEITHER, FALSE, 0 },
  { "1 5/16 in ± 1/64", "1 43/128", OUT, ABOVE, FALSE, 1.0 / 128 },
  { "1 5/16 in ± 1/64", "1 19/64", IN, NEITHER, FALSE, 0 },
  { "1 5/16 in ± 1/64", "1 37/128", OUT, BELOW, FALSE, 1.0 / 128 },
  { "10 +0.1/-0.2 mm", "10.1", IN, NEITHER, FALSE, 0 },
  { "10 +0.1/-0.2 mm", "10.11", OUT, ABOVE, FALSE, 0.01 },
  { "10 +0.1/-0.2 mm", "9.8", IN, NEITHER, FALSE, 0 },
  { "10 +0.1/-0.2 mm", "9.79", OUT, BELOW, FALSE, 0.01 },
  { "max 0.05 mm", "0.05", IN, NEITHER, FALSE, 0 },
  { "max 0.05 mm", "0.051", OUT, ABOVE, FALSE, 0.001 },
  { "max 0.05 mm", "-3", IN, NEITHER, FALSE, 0 },
  { "min 12 mm", "12", IN, NEITHER, FALSE, 0 },
  { "min 12 mm", "11.999", OUT, BELOW, FALSE, 0.001 },
  { "1 1/2 ± 1/8 turns", "1 5/8", IN, NEITHER, FALSE, 0 },
  { "1 1/2 ± 1/8 turns", "585 deg", IN, NEITHER, FALSE, 0 },
  { "1 1/2 ± 1/8 turns", "585.36 deg", OUT, ABOVE, FALSE, 0.001 },
  { "20 °C ± 5 °C", "77 °F", IN, NEITHER, FALSE, 0 },
  { "20 °C ± 5 °C", "59 °F", IN, NEITHER, FALSE, 0 },
  { "20 °C ± 5 °C", "79.7 °F", OUT, ABOVE, FALSE, 1.5 },
  { "47 N m ± 0.5 N m", "35 lbf·ft", IN, NEITHER, FALSE, 0 },
  { "29..33 teeth", "33", IN, NEITHER, FALSE, 0 },
  { "29..33 teeth", "34", OUT, ABOVE, FALSE, 1 },
  /* new limits with a wear limit: the wear limit decides, and the part is worn in between */
  { "25..31 thou; wear max 35 thou", "31", IN, NEITHER, FALSE, 0 },
  { "25..31 thou; wear max 35 thou", "31.1", IN, NEITHER, TRUE, 0 },
  { "25..31 thou; wear max 35 thou", "35", IN, NEITHER, TRUE, 0 },
  { "25..31 thou; wear max 35 thou", "35.1", OUT, ABOVE, FALSE, 0.1 },
  { "25..31 thou; wear max 35 thou", "24.9", OUT, BELOW, FALSE, 0.1 },
  { "0.3115..0.3125 in; wear min 0.3105 in", "0.3115", IN, NEITHER, FALSE, 0 },
  { "0.3115..0.3125 in; wear min 0.3105 in", "0.3114", IN, NEITHER, TRUE, 0 },
  { "0.3115..0.3125 in; wear min 0.3105 in", "0.3105", IN, NEITHER, TRUE, 0 },
  { "0.3115..0.3125 in; wear min 0.3105 in", "0.3104", OUT, BELOW, FALSE, 0.0001 },
  { "0.3115..0.3125 in; wear min 0.3105 in", "0.3126", OUT, ABOVE, FALSE, 0.0001 },
  /* brackets */
  { "10..12 thou", ".010 in goes, .012 in does not", IN, NEITHER, FALSE, 0 },
  { "10..12 thou", "9 thou goes, 10 thou does not", CLOSE, BELOW, FALSE, 1 },
  { "10..12 thou", "11 goes, 13 does not", CLOSE, ABOVE, FALSE, 1 },
  { "10..12 thou", "9 goes, 14 does not", CLOSE, ABOVE, FALSE, 2 },
  { "10..12 thou", "12 goes, 13 does not", CLOSE, ABOVE, FALSE, 1 },
  { "10..12 thou", "13 goes, 14 does not", OUT, ABOVE, FALSE, 2 },
  { "10..12 thou", "7 goes, 8 does not", OUT, BELOW, FALSE, 3 },
  { "max 12 thou", "11 goes, 12 does not", IN, NEITHER, FALSE, 0 },
};

static void
check_row (const Row *row, const PawlInstrument *instrument, PawlPolicy policy)
{
  g_autoptr(PawlLimits) limits = parse_limits (row->limits);
  PawlVerdict verdict = judge (limits, row->reading, instrument, policy);

  if (verdict.kind != row->kind || verdict.side != row->side || verdict.is_worn != row->is_worn)
    g_test_message ("“%s” against “%s”: %s, side %d, worn %d", row->reading, row->limits,
                    pawl_verdict_get_word (verdict.kind), verdict.side, verdict.is_worn);
  g_assert_cmpint (verdict.kind, ==, row->kind);
  g_assert_cmpint (verdict.side, ==, row->side);
  g_assert_cmpint (verdict.is_worn, ==, row->is_worn);
  g_assert_cmpfloat_with_epsilon (verdict.excess, row->excess, 1e-12 * (1 + row->excess));
  g_assert_true ((verdict.excess > 0) == (row->excess > 0));
}

static void
test_simple (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (simple); i++)
    check_row (&simple[i], NULL, PAWL_POLICY_SIMPLE);
}

static void
fill_instrument (PawlInstrument *instrument, const char *max_error, const char *step)
{
  *instrument = (PawlInstrument) { .id = "i", .name = "instrument" };
  if (max_error != NULL)
    instrument->max_error = testing_parse (max_error, NULL);
  if (step != NULL)
    instrument->step = testing_parse (step, NULL);
}

static void
clear_instrument (PawlInstrument *instrument)
{
  g_clear_pointer (&instrument->max_error, pawl_quantity_unref);
  g_clear_pointer (&instrument->step, pawl_quantity_unref);
}

/* An error of 0.03 mm is U = 2·0.03/√3 = 0.034641… mm: the row before and after it fall on the two sides. */
static const Row guarded[] = {
  { "10..12 mm", "11", IN, NEITHER, FALSE, 0 },
  { "10..12 mm", "11.9653", IN, NEITHER, FALSE, 0 },
  { "10..12 mm", "11.9654", CLOSE, ABOVE, FALSE, 0 },
  { "10..12 mm", "12", CLOSE, ABOVE, FALSE, 0 },
  { "10..12 mm", "12.0346", CLOSE, ABOVE, FALSE, 0.0346 },
  { "10..12 mm", "12.0347", OUT, ABOVE, FALSE, 0.0347 },
  { "10..12 mm", "10.0347", IN, NEITHER, FALSE, 0 },
  { "10..12 mm", "10.0346", CLOSE, BELOW, FALSE, 0 },
  { "10..12 mm", "9.9654", CLOSE, BELOW, FALSE, 0.0346 },
  { "10..12 mm", "9.9653", OUT, BELOW, FALSE, 0.0347 },
  { "10 mm ± 0", "10", CLOSE, ABOVE, FALSE, 0 },
  { "10..12 mm; wear max 13 mm", "12", IN, NEITHER, FALSE, 0 },
  { "10..12 mm; wear max 13 mm", "12.5", IN, NEITHER, TRUE, 0 },
  { "10..12 mm; wear max 13 mm", "12.99", CLOSE, ABOVE, FALSE, 0 },
  { "10..12 mm", "11.9 goes, 11.96 does not", IN, NEITHER, FALSE, 0 },
  { "10..12 mm", "11.9 goes, 11.97 does not", CLOSE, ABOVE, FALSE, 0 },
  { "10..12 mm", "12.03 goes, 12.1 does not", CLOSE, ABOVE, FALSE, 0.1 },
  { "10..12 mm", "12.04 goes, 12.1 does not", OUT, ABOVE, FALSE, 0.1 },
};

static void
test_guarded (void)
{
  PawlInstrument instrument;
  g_autoptr(PawlLimits) limits = parse_limits ("10..12 mm");

  fill_instrument (&instrument, "0.03 mm", NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (guarded); i++)
    check_row (&guarded[i], &instrument, PAWL_POLICY_GUARD_BAND);
  g_assert_cmpfloat_with_epsilon (judge (limits, "11", &instrument, PAWL_POLICY_GUARD_BAND).guard, 0.06 / sqrt (3), 1e-15);
  /* The same instrument under simple acceptance, and an unknown one: exact comparison decides. */
  g_assert_cmpint (judge (limits, "12", &instrument, PAWL_POLICY_SIMPLE).kind, ==, IN);
  g_assert_cmpfloat (judge (limits, "12", &instrument, PAWL_POLICY_SIMPLE).guard, ==, 0);
  g_assert_cmpint (judge (limits, "12", NULL, PAWL_POLICY_GUARD_BAND).kind, ==, IN);
  clear_instrument (&instrument);
}

/*
 * Decisions with w = U = 2u at every limit. u itself (0.0001 and so on) is irrational in terms of a maximum error e = u√3, so each row is
 * taken with e just under and just over. On DEC-038 and DEC-050 the reading is U away exactly: just under decides, just over does not.
 * Source: ISO 14253-1 / JCGM 106 8.2; provenance: computed with exact rationals.
 */
static const struct {
  const char     *id;
  const char     *limits;
  const char     *reading;
  const char     *under;   /* e < u√3, 1.7320508075688772 u */
  const char     *over;
  PawlVerdictKind with_under;
  PawlVerdictKind with_over;
} decisions[] = {
  { "DEC-038", "0.0015..0.0035 in", "0.0033 in", "0.000173205 in", "0.000173206 in", IN, CLOSE },
  { "DEC-040", "0.0015..0.0035 in", "0.0034 in", "0.000173205 in", "0.000173206 in", CLOSE, CLOSE },
  { "DEC-048", "24.980..25.000 mm", "24.999 mm", "0.0069282 mm", "0.0069283 mm", CLOSE, CLOSE },
  { "DEC-050", "max 0.0160 in", "0.0150 in", "0.00086602 in", "0.00086603 in", IN, CLOSE },
  { "DEC-052", "min 1.3740 in", "1.3741 in", "0.000173205 in", "0.000173206 in", CLOSE, CLOSE },
};

static void
test_decisions (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (decisions); i++)
    {
      g_autoptr(PawlLimits) limits = parse_limits (decisions[i].limits);
      PawlInstrument instrument;

      fill_instrument (&instrument, decisions[i].under, NULL);
      g_assert_cmpint (judge (limits, decisions[i].reading, &instrument, PAWL_POLICY_GUARD_BAND).kind, ==, decisions[i].with_under);
      clear_instrument (&instrument);
      fill_instrument (&instrument, decisions[i].over, NULL);
      g_assert_cmpint (judge (limits, decisions[i].reading, &instrument, PAWL_POLICY_GUARD_BAND).kind, ==, decisions[i].with_over);
      /* "simple acceptance (w = 0) would say accept": the note of every one of these rows */
      g_assert_cmpint (judge (limits, decisions[i].reading, &instrument, PAWL_POLICY_SIMPLE).kind, ==, IN);
      clear_instrument (&instrument);
    }
}

/* A torque wrench is good to so many per cent of what it reads (common practice, no source): at 50 N m, 4 % is U = 2·2/√3 = 2.309 N m. */
static void
test_per_cent (void)
{
  g_autoptr(PawlLimits) limits = parse_limits ("45..60 N m");
  PawlInstrument instrument;

  fill_instrument (&instrument, "4 %", NULL);
  g_assert_cmpfloat_with_epsilon (judge (limits, "50", &instrument, PAWL_POLICY_GUARD_BAND).guard, 4 / sqrt (3), 1e-12);
  g_assert_cmpint (judge (limits, "50", &instrument, PAWL_POLICY_GUARD_BAND).kind, ==, IN);
  g_assert_cmpint (judge (limits, "47", &instrument, PAWL_POLICY_GUARD_BAND).kind, ==, CLOSE);
  g_assert_cmpfloat (pawl_instrument_get_expanded_uncertainty (&instrument, pawl_unit_lookup ("N m")), ==, 0);
  clear_instrument (&instrument);
}

static const struct {
  const char *max_error;
  const char *step;
  const char *unit;
  double      expanded;
  double      tolerance;
} uncertainties[] = {
  { NULL, NULL, "mm", 0, 0 },
  /* UNC-061: resolution 0.0001 in (nearest mark), rectangular: u = 0.00002886751346 in. JCGM 100:2008 F.2.2.1 (d/sqrt12); computed
     independently to 34 digits; nothing to look up */
  { NULL, "0.0001 in", "in", 2 * 0.00002886751346, 1e-12 },
  { NULL, "0.1 thou", "in", 2 * 0.00002886751346, 1e-12 },
  /* UNC-057: half-width 15 µV taken rectangular, u = 8.7 µV; the same half-width here in micrometres. JCGM 100:2008 4.3.7 Example 2, from memory */
  { "15 µm", NULL, "µm", 2 * 8.7, 2 * 0.05 },
  /* UNC-056: bounds ±0.40 taken rectangular: 0.23. JCGM 100:2008 4.3.7 Example 1, from memory */
  { "0.40 mm", NULL, "mm", 2 * 0.23, 2 * 0.005 },
  /* "Digital caliper ±.03 mm, step .01: U .035 mm" (trade table, common practice, no source) */
  { "0.03 mm", "0.01 mm", "mm", 0.035, 0.0005 },
  /* "Micrometer ±.004 mm: U .005 mm" (trade table, common practice, no source) */
  { "0.004 mm", "0.001 mm", "mm", 0.005, 0.0005 },
  { "0.03 mm", "0.01 mm", "in", 0.035 / 25.4, 0.0005 / 25.4 },
  /* an error of temperature is a difference, however it is written */
  { "1.8 °F", NULL, "°C", 2 / 1.7320508075688772, 1e-12 },
  { "1.8 Δ°F", NULL, "Δ°C", 2 / 1.7320508075688772, 1e-12 },
  { "1 Δ°C", NULL, "°C", 2 / 1.7320508075688772, 1e-12 },
  /* of another dimension: nothing is known */
  { "1 N", NULL, "mm", 0, 0 },
};

static void
test_uncertainty (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (uncertainties); i++)
    {
      PawlInstrument instrument;
      double expanded;

      fill_instrument (&instrument, uncertainties[i].max_error, uncertainties[i].step);
      expanded = pawl_instrument_get_expanded_uncertainty (&instrument, pawl_unit_lookup (uncertainties[i].unit));
      g_assert_true (fabs (expanded - uncertainties[i].expanded) <= uncertainties[i].tolerance);
      clear_instrument (&instrument);
    }
  g_assert_cmpfloat (pawl_instrument_get_expanded_uncertainty (NULL, pawl_unit_lookup ("mm")), ==, 0);
}

/* U of an error e is 2e/√3: over a quarter of the tolerance when e > 0.2165 of it. */
static const struct {
  const char *max_error;
  const char *limits;
  double      ratio;
  gboolean    is_too_coarse;
} coarse[] = {
  { "0.03 mm", "10 mm ± 0.14 mm", 0.0346410 / 0.14, FALSE },
  { "0.03 mm", "10 mm ± 0.13 mm", 0.0346410 / 0.13, TRUE },
  { "0.03 mm", "10 mm ± 0.139 mm", 0.0346410 / 0.139, FALSE }, /* 0.2492 */
  { "0.03 mm", "10 mm ± 0.138 mm", 0.0346410 / 0.138, TRUE },  /* 0.2510 */
  { "0.03 mm", "9.87..10.13 mm", 0.0346410 / 0.13, TRUE },
  { "0.03 mm", "max 0.14 mm", 0.0346410 / 0.14, FALSE },
  { "0.03 mm", "max 0.13 mm", 0.0346410 / 0.13, TRUE },
  { "0.03 mm", "min 0.001 mm", 0, FALSE },
  { "0.03 mm", "10 mm ± 0", INFINITY, TRUE },
  { "0.03 mm", "9..11 N", 0, FALSE },
  { "5 Δ°C", "max 1 °C", 0, FALSE },
};

static void
test_coarse (void)
{
  static const char * const words[] = { "free", "binds", NULL };
  g_autoptr(PawlLimits) choice = pawl_limits_new_choice (words, words);

  for (gsize i = 0; i < G_N_ELEMENTS (coarse); i++)
    {
      g_autoptr(PawlLimits) limits = parse_limits (coarse[i].limits);
      PawlInstrument instrument;
      double ratio = -1;

      fill_instrument (&instrument, coarse[i].max_error, NULL);
      g_assert_cmpint (pawl_instrument_is_too_coarse (&instrument, limits, &ratio), ==, coarse[i].is_too_coarse);
      g_assert_true (ratio == coarse[i].ratio || fabs (ratio - coarse[i].ratio) < 1e-6);
      g_assert_false (pawl_instrument_is_too_coarse (&instrument, choice, NULL));
      clear_instrument (&instrument);
      g_assert_false (pawl_instrument_is_too_coarse (NULL, limits, &ratio));
      g_assert_cmpfloat (ratio, ==, 0);
    }
}

static void
test_choice (void)
{
  static const char * const outcomes[] = { "free", "drags", "binds", NULL };
  static const char * const acceptable[] = { "free", NULL };
  g_autoptr(PawlLimits) limits = pawl_limits_new_choice (outcomes, acceptable);
  PawlVerdict verdict;
  g_autoptr(GError) error = NULL;
  g_autoptr(GError) missing = NULL;

  g_assert_true (pawl_verdict_of (limits, NULL, "free", NULL, PAWL_POLICY_SIMPLE, &verdict, NULL));
  g_assert_cmpint (verdict.kind, ==, IN);
  g_assert_true (pawl_verdict_of (limits, NULL, " Drags", NULL, PAWL_POLICY_GUARD_BAND, &verdict, NULL));
  g_assert_cmpint (verdict.kind, ==, OUT);
  g_assert_false (pawl_verdict_of (limits, NULL, "stiff\377", NULL, PAWL_POLICY_SIMPLE, &verdict, &error));
  testing_assert_error (error, PAWL_READING_ERROR_NOT_OFFERED, 0, "stiff");
  g_assert_nonnull (strstr (error->message, "free, drags, binds"));
  g_assert_false (pawl_verdict_of (limits, NULL, NULL, NULL, PAWL_POLICY_SIMPLE, &verdict, &missing));
  testing_assert_error (missing, PAWL_READING_ERROR_EMPTY, 0, "");
}

static void
test_wrong_dimension (void)
{
  g_autoptr(PawlLimits) limits = parse_limits ("10..12 mm");
  g_autoptr(PawlQuantity) pressure = testing_parse ("11 psi", NULL);
  g_autoptr(PawlQuantity) length = testing_parse ("11 mm", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(GError) guard_error = NULL;
  g_autoptr(GError) missing = NULL;
  PawlInstrument instrument;
  PawlVerdict verdict;

  g_assert_false (pawl_verdict_of (limits, pressure, NULL, NULL, PAWL_POLICY_SIMPLE, &verdict, &error));
  testing_assert_error (error, PAWL_READING_ERROR_WRONG_DIMENSION, 0, "11 psi");
  g_assert_false (pawl_verdict_of (limits, NULL, NULL, NULL, PAWL_POLICY_SIMPLE, &verdict, &missing));
  testing_assert_error (missing, PAWL_READING_ERROR_EMPTY, 0, "");

  /* A guard band that can't be worked out is said, not taken as none. */
  fill_instrument (&instrument, "1 N", NULL);
  g_assert_false (pawl_verdict_of (limits, length, NULL, &instrument, PAWL_POLICY_GUARD_BAND, &verdict, &guard_error));
  testing_assert_error (guard_error, PAWL_READING_ERROR_WRONG_DIMENSION, 0, "1 N");
  g_assert_true (pawl_verdict_of (limits, length, NULL, &instrument, PAWL_POLICY_SIMPLE, &verdict, NULL));
  clear_instrument (&instrument);
}

static const struct {
  const char *limits;
  const char *reading;
  const char *max_error; /* (nullable): with one, under the guard band */
  const char *words;
  char        decimal_mark;
} words[] = {
  { "33.0..33.5 mm", "33.2 mm", NULL, "in", '.' },
  { "33.0..33.5 mm", "33.7 mm", NULL, "out: 0.2 mm above the limit 33.5 mm", '.' },
  { "33.0..33.5 mm", "33,7 mm", NULL, "out: 0,2 mm above the limit 33,5 mm", ',' },
  { "33.0..33.5 mm", "32.9 mm", NULL, "out: 0.1 mm below the limit 33 mm", '.' },
  { "25..31 thou", "0.0315 in", NULL, "out: 0.0005 in above the limit 31 thou (0.031 in)", '.' },
  { "25..31 thou", "0.8 mm", NULL, "out: 0.0126 mm above the limit 31 thou (0.7874 mm)", '.' },
  { "1 ± 1/8 turns", "1 1/4 turns", NULL, "out: 0.125 turns above the limit 1.125 turns", '.' },
  { "max 5 turns", "6 turns", NULL, "out: 1 turn above the limit 5 turns", '.' },
  { "max 77 °F", "30 °C", NULL, "out: 5 Δ°C above the limit 77 °F (25 °C)", '.' },
  { "10..12 thou", "9 goes, 11 does not", NULL, "too close to call: the limit 10 thou lies in the bracket", '.' },
  { "10..12 thou", "13 goes, 14 does not", NULL, "out: up to 2 thou above the limit 12 thou", '.' },
  { "10..12 mm", "12.01 mm", "0.03 mm", "too close to call: less than its U, ≈ 0.0346 mm, from the limit 12 mm", '.' },
  { "25..31 thou; wear max 35 thou", "33 thou", NULL,
    "in, but worn: 2 thou above the limit 31 thou of a new part, inside the wear limit 35 thou", '.' },
};

static void
test_words (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    {
      g_autoptr(PawlLimits) limits = parse_limits (words[i].limits);
      PawlTyping typing = { .decimal_mark = words[i].decimal_mark, .default_unit = pawl_limits_get_unit (limits) };
      g_autoptr(PawlQuantity) quantity = pawl_quantity_parse (words[i].reading, &typing, NULL);
      g_autofree char *text = NULL;
      PawlInstrument instrument;
      PawlVerdict verdict;

      fill_instrument (&instrument, words[i].max_error, NULL);
      g_assert_true (pawl_verdict_of (limits, quantity, NULL, &instrument, words[i].max_error ? PAWL_POLICY_GUARD_BAND : PAWL_POLICY_SIMPLE, &verdict, NULL));
      text = pawl_verdict_describe (&verdict, limits, quantity);
      g_assert_cmpstr (text, ==, words[i].words);
      clear_instrument (&instrument);
    }
  g_assert_cmpstr (pawl_verdict_get_word (CLOSE), ==, "too close");
}

/* What decides is named: by a risk the probability, though the limit may lie outside of the bracket; after a few repeats it is no longer 1.65 u. */
static void
test_words_of_policies (void)
{
  static const struct { const char *limits, *first, *second; PawlPolicy policy; const char *words; } cases[] = {
    { "10..20 mm", "9..12 mm", NULL, { PAWL_DECIDES_BY_RISK, 50 }, "it conforms with a probability of 67 %, 95 % are wanted" }, /* two thirds of the bracket */
    { "10..20 mm", "10.5..11 mm", NULL, { PAWL_DECIDES_BY_RISK, 1 }, "it conforms with a probability of" },
    { "10..20 mm", "9..12 mm", NULL, { PAWL_DECIDES_SIMPLY, 0 }, "the limit 10 mm lies in the bracket" },
    { "10..20 mm", "10.1 mm", "10.3 mm", { PAWL_DECIDES_BY_PROOF, 0 },
      "less than what proves it to 95 %, ≈ 0.631 mm, from the limit 10 mm" }, /* t 6.314: the cotangent of 0.05 π, computed */
    { "10..20 mm", "10.1 mm", "10.3 mm", { PAWL_DECIDES_BY_U, 0 }, "less than its U, ≈ 1.397 mm, from the limit 10 mm" }, /* t 13.97: the cotangent of 0.02275 π, computed */
  };
  PawlInstrument instrument;

  fill_instrument (&instrument, "0.5 mm", NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlLimits) limits = parse_limits (cases[i].limits);
      g_autoptr(PawlQuantity) first = pawl_quantity_parse (cases[i].first, NULL, NULL), mean = NULL;
      g_autoptr(PawlQuantity) second = cases[i].second != NULL ? pawl_quantity_parse (cases[i].second, NULL, NULL) : NULL;
      PawlQuantity *readings[] = { first, second };
      guint n = second != NULL ? 2 : 1;
      gboolean is_known = second == NULL && cases[i].policy.risk == 1;
      g_autofree char *text = NULL;
      PawlVerdict verdict;

      mean = pawl_readings_get_mean (readings, n);
      g_assert_true (pawl_verdict_of_set (limits, readings, n, is_known ? &instrument : NULL, cases[i].policy, &verdict, NULL));
      g_assert_cmpint (verdict.kind, ==, CLOSE);
      text = pawl_verdict_describe (&verdict, limits, mean);
      if (strstr (text, cases[i].words) == NULL)
        g_error ("%s: %s", cases[i].first, text);
    }
  clear_instrument (&instrument);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/verdict/simple", test_simple);
  g_test_add_func ("/verdict/words-of-policies", test_words_of_policies);
  g_test_add_func ("/verdict/guarded", test_guarded);
  g_test_add_func ("/verdict/decisions", test_decisions);
  g_test_add_func ("/verdict/per-cent", test_per_cent);
  g_test_add_func ("/verdict/uncertainty", test_uncertainty);
  g_test_add_func ("/verdict/coarse", test_coarse);
  g_test_add_func ("/verdict/choice", test_choice);
  g_test_add_func ("/verdict/wrong-dimension", test_wrong_dimension);
  g_test_add_func ("/verdict/words", test_words);
  return g_test_run ();
}
