/* What the window works out without a display: keys, sizes, bars, words, settings. */
#include <glib/gstdio.h>
#include <math.h>

#include "app/pawl-key-plan.h"
#include "view/pawl-limits-scale.h"
#include "app/pawl-look.h"
#include "app/pawl-phrases.h"
#include "app/pawl-renderer.h"
#include "app/pawl-settings.h"

static void
test_keys (void)
{
  static const struct { guint key; gboolean modifiers; PawlFocus focus; PawlKeyPlan plan; } rows[] = {
    { GDK_KEY_space, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_ADVANCE },
    { GDK_KEY_Return, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_ADVANCE },
    { GDK_KEY_KP_Enter, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_ADVANCE },
    { GDK_KEY_Page_Down, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_ADVANCE },
    { GDK_KEY_Page_Down, FALSE, PAWL_FOCUS_CONTROL, PAWL_KEY_ADVANCE },
    { GDK_KEY_Page_Down, FALSE, PAWL_FOCUS_TEXT, PAWL_KEY_ADVANCE },
    { GDK_KEY_Page_Down, FALSE, PAWL_FOCUS_LONG_TEXT, PAWL_KEY_PASS },
    { GDK_KEY_Page_Up, FALSE, PAWL_FOCUS_TEXT, PAWL_KEY_BACK },
    { GDK_KEY_BackSpace, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_BACK },
    { GDK_KEY_BackSpace, FALSE, PAWL_FOCUS_CONTROL, PAWL_KEY_BACK },
    /* rubbing out the last digit must not leave the step */
    { GDK_KEY_BackSpace, FALSE, PAWL_FOCUS_TEXT, PAWL_KEY_PASS },
    { GDK_KEY_BackSpace, FALSE, PAWL_FOCUS_EMPTY_TEXT, PAWL_KEY_PASS },
    /* a button's own keys stay its own; a foot switch in an empty line still goes on */
    { GDK_KEY_space, FALSE, PAWL_FOCUS_CONTROL, PAWL_KEY_PASS },
    { GDK_KEY_Return, FALSE, PAWL_FOCUS_CONTROL, PAWL_KEY_PASS },
    { GDK_KEY_space, FALSE, PAWL_FOCUS_TEXT, PAWL_KEY_PASS },
    { GDK_KEY_Return, FALSE, PAWL_FOCUS_TEXT, PAWL_KEY_PASS },
    { GDK_KEY_space, FALSE, PAWL_FOCUS_EMPTY_TEXT, PAWL_KEY_ADVANCE },
    { GDK_KEY_Return, FALSE, PAWL_FOCUS_EMPTY_TEXT, PAWL_KEY_ADVANCE },
    /* a gauge types anywhere */
    { GDK_KEY_3, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_READING },
    { GDK_KEY_3, FALSE, PAWL_FOCUS_CONTROL, PAWL_KEY_READING },
    { GDK_KEY_KP_7, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_READING },
    { GDK_KEY_KP_Decimal, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_READING },
    { GDK_KEY_minus, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_READING },
    { GDK_KEY_3, FALSE, PAWL_FOCUS_TEXT, PAWL_KEY_PASS },
    { GDK_KEY_3, FALSE, PAWL_FOCUS_EMPTY_TEXT, PAWL_KEY_PASS },
    /* on every page of a job; its other keys are the page's own */
    { GDK_KEY_3, FALSE, PAWL_FOCUS_ELSEWHERE, PAWL_KEY_READING },
    { GDK_KEY_KP_Subtract, FALSE, PAWL_FOCUS_ELSEWHERE, PAWL_KEY_READING },
    { GDK_KEY_comma, FALSE, PAWL_FOCUS_ELSEWHERE, PAWL_KEY_READING },
    { GDK_KEY_space, FALSE, PAWL_FOCUS_ELSEWHERE, PAWL_KEY_PASS },
    { GDK_KEY_Page_Down, FALSE, PAWL_FOCUS_ELSEWHERE, PAWL_KEY_PASS },
    { GDK_KEY_BackSpace, FALSE, PAWL_FOCUS_ELSEWHERE, PAWL_KEY_PASS },
    { GDK_KEY_0, TRUE, PAWL_FOCUS_ELSEWHERE, PAWL_KEY_PASS },
    { GDK_KEY_3, FALSE, PAWL_FOCUS_LONG_TEXT, PAWL_KEY_PASS },
    /* one key rejects what a gauge has typed; within a text it rubs out */
    { GDK_KEY_Delete, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_REJECT },
    { GDK_KEY_Delete, FALSE, PAWL_FOCUS_EMPTY_TEXT, PAWL_KEY_REJECT },
    { GDK_KEY_KP_Delete, FALSE, PAWL_FOCUS_CONTROL, PAWL_KEY_REJECT },
    { GDK_KEY_Delete, FALSE, PAWL_FOCUS_TEXT, PAWL_KEY_PASS },
    { GDK_KEY_Delete, TRUE, PAWL_FOCUS_NOWHERE, PAWL_KEY_PASS },
    /* no single letter is a command */
    { GDK_KEY_n, FALSE, PAWL_FOCUS_NOWHERE, PAWL_KEY_PASS },
    { GDK_KEY_0, TRUE, PAWL_FOCUS_NOWHERE, PAWL_KEY_PASS },
    { GDK_KEY_space, TRUE, PAWL_FOCUS_NOWHERE, PAWL_KEY_PASS },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_test_message ("row %u", i);
      g_assert_cmpint (pawl_key_plan (rows[i].key, rows[i].modifiers, rows[i].focus), ==, rows[i].plan);
    }
}

static void
test_monitor (void)
{
  /* 96 dpi is 3.7795 px/mm: 25.4 mm to the inch, by definition. */
  g_assert_cmpfloat_with_epsilon (pawl_look_measure_monitor (1920, 508), 3.7795, 0.001);
  g_assert_cmpfloat_with_epsilon (pawl_look_measure_monitor (1920, 0), 3.7795, 0.001);
  g_assert_cmpfloat_with_epsilon (pawl_look_measure_monitor (1920, -1), 3.7795, 0.001);
  g_assert_cmpfloat_with_epsilon (pawl_look_measure_monitor (1920, 16), 3.7795, 0.001); /* nonsense of a cheap television */
  g_assert_cmpfloat_with_epsilon (pawl_look_measure_monitor (3840, 344), 11.163, 0.001);
}

static void
test_bench_css (void)
{
  g_autofree char *css = pawl_look_make_bench_css (4);

  /* 6.4 mm of capitals at 0.69 of the font size: 9.275 mm, 37 px; a glove's 20 mm: 80 px. */
  g_assert_nonnull (strstr (css, "font-size: 37px"));
  g_assert_nonnull (strstr (css, "min-height: 80px"));
  g_assert_nonnull (strstr (css, ".echo label { font-size: 56px")); /* half as far again: 9.6 mm of capitals */
}

static void
check_scale (const char *limits_text, const char *left_text, double low, double high, gboolean is_left_inside)
{
  g_autoptr(GError) error = NULL;
  PawlTyping typing = { '.', pawl_unit_lookup ("mm"), FALSE };
  g_autoptr(PawlLimits) limits = pawl_limits_parse (limits_text, &typing, &error);
  g_autoptr(PawlQuantity) left = NULL;
  PawlLimitsScale scale;

  g_assert_no_error (error);
  left = pawl_quantity_parse (left_text, &typing, &error);
  g_assert_no_error (error);
  g_assert_true (pawl_limits_scale_make (limits, NULL, left, NULL, &scale));
  g_assert_true (isnan (low) ? isnan (scale.low) : fabs (scale.low - low) < 0.02);
  g_assert_true (isnan (high) ? isnan (scale.high) : fabs (scale.high - high) < 0.02);
  g_assert_true (isnan (scale.found));
  g_assert_cmpfloat (scale.left, >=, 0);
  g_assert_cmpfloat (scale.left, <=, 1);
  g_assert_true (((isnan (scale.low) || scale.left >= scale.low - 1e-9) && (isnan (scale.high) || scale.left <= scale.high + 1e-9)) == is_left_inside);
}

static void
test_scale (void)
{
  check_scale ("9.9..10.1 mm", "10 mm", 0.25, 0.75, TRUE);
  check_scale ("9.9..10.1 mm", "10.1 mm", 0.25, 0.75, TRUE); /* met exactly is inside */
  check_scale ("9.9..10.1 mm", "10.11 mm", 0.25, 0.75, FALSE);
  check_scale ("max 0.05 mm", "0.02 mm", NAN, 0.5, TRUE);
  check_scale ("min 12 mm", "11 mm", 0.5, NAN, FALSE);
  check_scale ("max 0 mm", "0 mm", NAN, 0.5, TRUE);
}

/* What is worn but good yet stands between the limit of a new part and the wear limit, which is on the bar. */
static void
test_scale_wear (void)
{
  g_autoptr(GError) error = NULL;
  PawlTyping typing = { '.', pawl_unit_lookup ("mm"), FALSE };
  g_autoptr(PawlLimits) limits = pawl_limits_parse ("0.05..0.15 mm; wear max 0.25 mm", &typing, &error);
  g_autoptr(PawlQuantity) left = pawl_quantity_parse ("0.19 mm", &typing, &error);
  const PawlVerdict verdict = { .kind = PAWL_VERDICT_IN, .is_worn = TRUE };
  PawlLimitsScale scale;

  g_assert_no_error (error);
  g_assert_true (pawl_limits_scale_make (limits, NULL, left, &verdict, &scale));
  g_assert_true (isnan (scale.wear_low));
  g_assert_true (0 <= scale.low && scale.low < scale.high && scale.high < scale.left && scale.left < scale.wear_high && scale.wear_high <= 1);
}

/* A reading of ten times the limits stretches the bar and stays on it. */
static void
test_scale_far (void)
{
  g_autoptr(GError) error = NULL;
  PawlTyping typing = { '.', pawl_unit_lookup ("mm"), FALSE };
  g_autoptr(PawlLimits) limits = pawl_limits_parse ("1..2 mm", &typing, &error);
  g_autoptr(PawlQuantity) left = pawl_quantity_parse ("20 mm", &typing, &error), found = pawl_quantity_parse ("-5 mm", &typing, &error);
  const PawlVerdict verdict = { .kind = PAWL_VERDICT_OUT, .expanded = 0.5, .guard = 0.5, .policy = PAWL_POLICY_GUARD_BAND };
  PawlLimitsScale scale;

  g_assert_no_error (error);
  g_assert_true (pawl_limits_scale_make (limits, found, left, &verdict, &scale));
  g_assert_true (0 <= scale.found && scale.found < scale.low && scale.low < scale.high && scale.high < scale.left && scale.left <= 1);
  g_assert_true (scale.low_uncertainty < scale.left && scale.left <= scale.high_uncertainty);
  g_assert_true (scale.low_zone.from < scale.low && scale.low < scale.low_zone.to);
  g_assert_cmpfloat_with_epsilon (scale.low_zone.to, scale.high_zone.from, 1e-12); /* 0.5 to either side of 1 and of 2 */
}

static void
test_durations (void)
{
  static const struct { gint64 seconds; const char *text; } rows[] = {
    { 45, "45 s" }, { 60, "1 min" }, { 1800, "30 min" }, { 3600, "1 h" }, { 5400, "1 h 30 min" }, { 86400, "1 d" }, { 187200, "2 d 4 h" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = pawl_phrase_format_duration (rows[i].seconds);

      g_assert_cmpstr (text, ==, rows[i].text);
    }
}

static void
test_words (void)
{
  g_autofree char *outcome = pawl_phrase_format_outcome ("not-needed"), *empty = pawl_phrase_format_outcome ("");
  g_autofree char *sentence = pawl_phrase_make_sentence ("step 3 still asks “Play”"), *ended = pawl_phrase_make_sentence ("Done already.");

  g_assert_cmpstr (outcome, ==, "Not needed");
  g_assert_cmpstr (empty, ==, "");
  g_assert_cmpstr (sentence, ==, "Step 3 still asks “Play”.");
  g_assert_cmpstr (ended, ==, "Done already.");
}

static void
test_settings (void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("pawl-settings-XXXXXX", &error);
  g_autofree char *inner = g_build_filename (folder, "inner", NULL), *path = g_build_filename (inner, "window.ini", NULL);
  g_autoptr(PawlSettings) first = pawl_settings_load (path);
  g_autoptr(PawlSettings) second = NULL;

  g_assert_no_error (error);
  g_assert_cmpstr (first->person, ==, "");
  g_assert_false (first->has_dark);
  pawl_settings_set_person (first, "Jory Tregenza");
  g_assert_false (first->has_sound || first->is_glare);
  pawl_settings_set_inch (first, "Jory Tregenza", TRUE);
  pawl_settings_set_inch (first, "Ann; Bee [1]=ß", FALSE); /* nothing in a name is syntax */
  first->is_bench_size = first->is_glare = first->has_sound = TRUE;
  first->print = PAWL_PRINT_CUSTOMER;
  pawl_settings_save (first, &error);
  g_assert_no_error (error);
  second = pawl_settings_load (path);
  g_assert_cmpstr (second->person, ==, "Jory Tregenza");
  g_assert_true (second->is_bench_size && second->print == PAWL_PRINT_CUSTOMER && second->is_inch && !second->has_dark && second->is_glare && second->has_sound);
  g_assert_cmpint (second->lengths, ==, PAWL_LENGTHS_IN_INCHES);
  pawl_settings_use_lengths_of (second, " ann; bee [1]=SS ");
  g_assert_cmpint (second->lengths, ==, PAWL_LENGTHS_IN_MM);
  pawl_settings_use_lengths_of (second, "Somebody Else");
  g_assert_cmpint (second->lengths, ==, PAWL_LENGTHS_AS_TYPED);
  g_assert_false (second->is_inch);
  pawl_settings_set_inch (second, "", TRUE);
  pawl_settings_use_lengths_of (second, "Somebody Else");
  g_assert_cmpint (second->lengths, ==, PAWL_LENGTHS_IN_INCHES);
  pawl_settings_use_lengths_of (second, "Ann; Bee [1]=ß");
  g_assert_cmpint (second->lengths, ==, PAWL_LENGTHS_IN_MM);
  g_remove (path);
  g_rmdir (inner);
  g_rmdir (folder);
}

/* Every caution defers to local rules, and says so once. */
static void
test_avoiding (void)
{
  static const struct { const char *avoid; gboolean defers; } rows[] = {
    { "Wear goggles.", FALSE },
    { "Wear goggles. Follow your local rules.", TRUE },
    { "Away from flames. Follow your local fire code.", TRUE },
    { "Lock it off. Follow your local rules for electrical work afloat.", TRUE },
    { "Bag the rags. Follow your national law; when in doubt leave it to a licensed firm.", TRUE },
    /* neither a local thing nor a rule alone is a deference */
    { "Use the local switch.", FALSE },
    { "Hold the steel rule flat.", FALSE },
    { "Use the local switch. Read the code on the plate.", FALSE },
    { "", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      PawlCaution caution = { .avoid = (char *) rows[i].avoid };
      g_autofree char *text = pawl_phrase_describe_avoiding (&caution);
      g_autofree char *longer = g_strdup_printf ("%s%sFollow your local rules.", rows[i].avoid, *rows[i].avoid ? " " : "");

      g_assert_cmpstr (text, ==, rows[i].defers ? rows[i].avoid : longer);
    }
}

/* Names as Mesa reports them (from memory; the first was read off a display without graphics hardware). */
static void
test_renderers (void)
{
  static const struct { const char *name; gboolean is_software; } rows[] = {
    { "llvmpipe (LLVM 15.0.6, 256 bits)", TRUE }, { "softpipe", TRUE }, { "Software Rasterizer", TRUE },
    { "virgl", FALSE }, { "zink", FALSE }, { "", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_cmpint (pawl_renderer_is_software (rows[i].name), ==, rows[i].is_software);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/app/keys", test_keys);
  g_test_add_func ("/app/look/monitor", test_monitor);
  g_test_add_func ("/app/look/bench-size", test_bench_css);
  g_test_add_func ("/app/limits-scale", test_scale);
  g_test_add_func ("/app/limits-scale/far", test_scale_far);
  g_test_add_func ("/app/limits-scale/wear", test_scale_wear);
  g_test_add_func ("/app/phrases/durations", test_durations);
  g_test_add_func ("/app/phrases/words", test_words);
  g_test_add_func ("/app/phrases/avoiding", test_avoiding);
  g_test_add_func ("/app/settings", test_settings);
  g_test_add_func ("/app/renderers", test_renderers);
  return g_test_run ();
}
