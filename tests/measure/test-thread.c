/* Threads by name: good beside bad. The sizes that follow from them are held to tests/data/check-values/threads.csv by tests/sums. */
#include <string.h>

#include "measure/pawl-thread.h"

/* Coarse pitches of ISO 261 and series of ASME B1.1, from memory; threads.csv has many of them from outside. */
static const struct { const char *name, *diameter, *pitch; } good[] = {
  { "M6", "6 mm", "1 mm" },
  { "m6", "6 mm", "1 mm" },
  { " M 6 x 0.75 ", "6 mm", "0.75 mm" },
  { "M8×1", "8 mm", "1 mm" },
  { "M10*1,25", "10 mm", "1.25 mm" },
  { "M14-1.25", "14 mm", "1.25 mm" },
  { "M4 coarse", "4 mm", "0.7 mm" },
  { "M2.5", "2.5 mm", "0.45 mm" },
  { "M24 x 2 mm", "24 mm", "2 mm" },
  { "1/4-20", "0.25 in", "0.05 in" },
  { "1/4-20 UNC", "0.25 in", "0.05 in" },
  { "1/4 UNF", "0.25 in", "1/28 in" },
  { "1/4 in UNC", "0.25 in", "0.05 in" },
  { "5/16\"-18", "0.3125 in", "1/18 in" },
  { "#10-32", "0.19 in", "0.03125 in" },
  { "10-32", "0.19 in", "0.03125 in" },
  { "No. 8 UNC", "0.164 in", "0.03125 in" },
  { "#0 UNF", "0.06 in", "0.0125 in" },
  { "4-36", "0.112 in", "1/36 in" },
  { "1-8", "1 in", "0.125 in" },
  { "1-12 UNF", "1 in", "1/12 in" },
  { "1 1/2-6", "1.5 in", "1/6 in" },
  { "1-1/2-12", "1.5 in", "1/12 in" },
  { "2-4.5", "2 in", "2/9 in" },
  { ".250-28", "0.25 in", "1/28 in" },
  { "20 tpi", NULL, "0.05 in" },
  { "11.5 threads per inch", NULL, "2/23 in" },
  { "40 per inch", NULL, "0.025 in" },
};

static PawlQuantity *
parse (const char *text)
{
  PawlTyping typing = { .decimal_mark = '.' };
  g_autoptr(GError) error = NULL;
  PawlQuantity *quantity = pawl_quantity_parse (text, &typing, &error);

  g_assert_no_error (error);
  return quantity;
}

static void
check_same (const char *name, const PawlQuantity *found, const char *expected)
{
  g_autoptr(PawlQuantity) quantity = expected != NULL ? parse (expected) : NULL;

  if ((found == NULL) != (quantity == NULL) || (quantity != NULL && pawl_quantity_compare (found, quantity) != 0))
    g_error ("%s: not %s", name, expected != NULL ? expected : "nothing");
}

static void
test_good (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (good); i++)
    {
      g_auto(PawlThread) thread = { NULL, NULL };
      g_autoptr(GError) error = NULL;

      g_assert_true (pawl_thread_looks_like (good[i].name));
      if (!pawl_thread_parse (good[i].name, &thread, &error))
        g_error ("%s: %s", good[i].name, error->message);
      check_same (good[i].name, thread.diameter, good[i].diameter);
      check_same (good[i].name, thread.pitch, good[i].pitch);
    }
}

static void
test_bad (void)
{
  static const struct { const char *name; PawlReadingError code; const char *words; } bad[] = {
    { "", PAWL_READING_ERROR_NOT_A_NUMBER, "is not the name of a thread" },
    { "M", PAWL_READING_ERROR_NOT_A_NUMBER, "is not the name of a thread" },
    { "M6y1", PAWL_READING_ERROR_NOT_A_NUMBER, "is not the name of a thread, as in M6x1, 1/4-20 or 20 tpi" },
    { "M0", PAWL_READING_ERROR_AMBIGUOUS, "no coarse pitch" },
    { "M0x1", PAWL_READING_ERROR_NOT_A_NUMBER, "diameter and pitch are above zero" },
    { "M6x0", PAWL_READING_ERROR_NOT_A_NUMBER, "diameter and pitch are above zero" },
    { "M6x-1", PAWL_READING_ERROR_NOT_A_NUMBER, "is not the name of a thread" },
    { "M6.3", PAWL_READING_ERROR_AMBIGUOUS, "say its pitch" },
    { "1/4", PAWL_READING_ERROR_AMBIGUOUS, "leaves the pitch open" },
    { "1/4 UNEF", PAWL_READING_ERROR_AMBIGUOUS, "leaves the pitch open" },
    { "1/0-20", PAWL_READING_ERROR_NOT_A_NUMBER, "above zero" },
    { "1/4-0", PAWL_READING_ERROR_NOT_A_NUMBER, "above zero" },
    { "#0 UNC", PAWL_READING_ERROR_AMBIGUOUS, "leaves the pitch open" },
    { "0 tpi", PAWL_READING_ERROR_NOT_A_NUMBER, "at least one in an inch" },
    { "M66666666666666666666666666666666666666666666666666666", PAWL_READING_ERROR_TOO_LONG, "too long" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      PawlThread thread;
      g_autoptr(GError) error = NULL;

      if (pawl_thread_parse (bad[i].name, &thread, &error))
        g_error ("“%s” was taken", bad[i].name);
      if (!g_error_matches (error, PAWL_READING_ERROR, (int) bad[i].code) || strstr (error->message, bad[i].words) == NULL)
        g_error ("“%s”: %s (%d)", bad[i].name, error->message, error->code);
      g_assert_null (thread.diameter);
      g_assert_null (thread.pitch);
    }
}

/* Lengths that are typed where a thread may stand. */
static void
test_lengths (void)
{
  static const char * const lengths[] = { "1 mm", "1.25", "1/20 in", "0.05 in", "1-5/16 in", "25 thou", "", "#56", "12°30'", "-1" };

  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    if (pawl_thread_looks_like (lengths[i]))
      g_error ("“%s” looks like a thread", lengths[i]);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/thread/good", test_good);
  g_test_add_func ("/thread/bad", test_bad);
  g_test_add_func ("/thread/lengths", test_lengths);
  return g_test_run ();
}
