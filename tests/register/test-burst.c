/* Typed by a gauge, or by a hand? The bursts are invented: spacings as a USB keyboard has them, and as fast and slow hands have them. */
#include <string.h>

#include "register/pawl-burst.h"

/* A caliper that types bare millimetres and Enter, one with a prefix and a decimal comma, one without terminator, two of the same make. */
static const PawlBurstForm BARE = { (char *) "", (char *) "", '\n', '.', NULL };
static const PawlBurstForm MARKED = { (char *) "M3:", (char *) "mm", '\n', ',', NULL };
static const PawlBurstForm OPEN = { (char *) "", (char *) " in", 0, '.', NULL };

typedef struct {
  const char *text;
  guint       gap_ms;      /* between two keys */
  guint       last_gap_ms; /* before the last one, 0: as the others */
  guint       rest_ms;     /* since the last key */
  const PawlBurstForm *forms[3];
  PawlBurst   expected;
  guint       which;
  const char *reading;
} Case;

static const Case CASES[] = {
  /* a gauge */
  { "24.97\n", 10, 0, 0, { &BARE }, PAWL_BURST_GAUGE, 0, "24.97" },
  { "24.97\n", 35, 0, 0, { &BARE }, PAWL_BURST_GAUGE, 0, "24.97" },
  { "-0.012\n", 2, 0, 0, { &MARKED, &BARE }, PAWL_BURST_GAUGE, 1, "-0.012" },
  { "M3:24,97mm\n", 10, 0, 0, { &BARE, &MARKED }, PAWL_BURST_GAUGE, 1, "24,97" },
  { "M3:24,97mm\n", 80, 0, 0, { &BARE, &MARKED }, PAWL_BURST_GAUGE, 1, "24,97" }, /* slow, by its mark */
  { ".984 in", 10, 0, 150, { &OPEN }, PAWL_BURST_GAUGE, 0, ".984" },
  /* not yet */
  { "24.9", 10, 0, 20, { &BARE }, PAWL_BURST_UNFINISHED, 0, NULL },
  { ".984 in", 10, 0, 149, { &OPEN }, PAWL_BURST_UNFINISHED, 0, NULL },
  /* a hand */
  { "24.97\n", 36, 0, 0, { &BARE }, PAWL_BURST_BY_HAND, 0, NULL },
  { "24.97\n", 120, 0, 0, { &BARE }, PAWL_BURST_BY_HAND, 0, NULL },
  { "24.97\n", 10, 300, 0, { &BARE }, PAWL_BURST_BY_HAND, 0, NULL }, /* one long gap is enough */
  { "M3:24,97mm\n", 81, 0, 0, { &MARKED }, PAWL_BURST_BY_HAND, 0, NULL },
  { "2\n", 5, 0, 0, { &BARE }, PAWL_BURST_BY_HAND, 0, NULL },
  { "", 0, 0, 0, { &BARE }, PAWL_BURST_BY_HAND, 0, NULL },
  { "1111111", 33, 0, 150, { &OPEN, &BARE }, PAWL_BURST_BY_HAND, 0, NULL }, /* a key held down */
  { "sdf\n", 8, 0, 0, { &BARE }, PAWL_BURST_BY_HAND, 0, NULL }, /* a hand laid on the keys */
  /* fast, and none of these */
  { "24,97\n", 10, 0, 0, { &BARE }, PAWL_BURST_STRANGER, 0, "24,97" },
  { "24.97\t", 10, 0, 0, { &BARE }, PAWL_BURST_STRANGER, 0, "24.97" },
  { "X9 24.97\n", 10, 0, 0, { &BARE, &MARKED }, PAWL_BURST_STRANGER, 0, "X9 24.97" },
  { "24.97\n", 10, 0, 0, { NULL }, PAWL_BURST_STRANGER, 0, "24.97" },
  /* two of one make */
  { "24.97\n", 10, 0, 0, { &BARE, &BARE }, PAWL_BURST_SEVERAL, 0, "24.97" },
};

static void
test_case (gconstpointer data)
{
  const Case *c = data;
  g_autoptr(GArray) keys = g_array_new (FALSE, FALSE, sizeof (PawlKeyPress));
  g_autofree char *reading = NULL;
  gint64 at_usec = 5000000;
  guint n_forms = 0, which = 99;
  PawlBurst found;

  for (const char *text = c->text; *text != '\0'; text = g_utf8_next_char (text))
    {
      PawlKeyPress press;
      gboolean is_last = *g_utf8_next_char (text) == '\0';

      if (text != c->text)
        at_usec += 1000 * (gint64) (is_last && c->last_gap_ms != 0 ? c->last_gap_ms : c->gap_ms);
      press = (PawlKeyPress) { g_utf8_get_char (text), at_usec };
      g_array_append_val (keys, press);
    }
  while (n_forms < G_N_ELEMENTS (c->forms) && c->forms[n_forms] != NULL)
    n_forms++;
  found = pawl_burst_recognise ((const PawlKeyPress *) (gpointer) keys->data, keys->len, c->forms, n_forms, at_usec + 1000 * (gint64) c->rest_ms, &which, &reading);
  g_assert_cmpint (found, ==, c->expected);
  g_assert_cmpstr (reading, ==, c->reading);
  if (found == PAWL_BURST_GAUGE)
    g_assert_cmpuint (which, ==, c->which);
}

typedef struct {
  const char     *text;
  guint           gap_ms;
  PawlBurstLesson expected;
  const char     *prefix, *suffix, *reading, *unit;
  char            mark;
} Lesson;

static const Lesson LESSONS[] = {
  { "24.97\n", 10, PAWL_LESSON_LEARNT, "", "", "24.97", NULL, '.' },
  { "  24.97\t", 10, PAWL_LESSON_LEARNT, "", "", "24.97", NULL, '.' },
  { "M3:24,97mm\n", 10, PAWL_LESSON_LEARNT, "M3:", "mm", "24,97", "mm", ',' },
  { "M3: -0.012 mm\n", 75, PAWL_LESSON_LEARNT, "M3:", "mm", "-0.012", "mm", '.' },
  { "01A+0012.345\n", 5, PAWL_LESSON_LEARNT, "01A", "", "+0012.345", NULL, '.' },
  { ".984 in", 10, PAWL_LESSON_LEARNT, "", "in", ".984", "in", '.' },
  { "D1 450 X\n", 10, PAWL_LESSON_LEARNT, "D1", "X", "450", NULL, '.' },
  { "24.97\n", 81, PAWL_LESSON_BY_HAND, NULL, NULL, NULL, NULL, 0 },
  { "2\n", 10, PAWL_LESSON_BY_HAND, NULL, NULL, NULL, NULL, 0 },
  { "7777777", 30, PAWL_LESSON_BY_HAND, NULL, NULL, NULL, NULL, 0 },
  { "ERROR\n", 10, PAWL_LESSON_NO_NUMBER, NULL, NULL, NULL, NULL, 0 },
};

/* What is learnt from a burst recognises the next one of that gauge, whatever its number. */
static void
test_lesson (gconstpointer data)
{
  const Lesson *lesson = data;
  PawlKeyPress keys[32];
  PawlBurstForm form = { 0 };
  const PawlBurstForm *forms[] = { &form };
  g_autofree char *reading = NULL, *again = NULL;
  guint n = (guint) strlen (lesson->text), which;

  for (guint i = 0; i < n; i++)
    keys[i] = (PawlKeyPress) { (gunichar) lesson->text[i], 1000 * (gint64) (lesson->gap_ms * i) };
  g_assert_cmpint (pawl_burst_learn (keys, n, &form, &reading), ==, lesson->expected);
  g_assert_cmpstr (reading, ==, lesson->reading);
  if (lesson->expected != PAWL_LESSON_LEARNT)
    return;
  g_assert_cmpstr (form.prefix, ==, lesson->prefix);
  g_assert_cmpstr (form.suffix, ==, lesson->suffix);
  g_assert_cmpstr (form.unit != NULL ? pawl_unit_get_symbol (form.unit) : NULL, ==, lesson->unit);
  g_assert_cmpint (form.decimal_mark, ==, lesson->mark);
  g_assert_cmpint (pawl_burst_recognise (keys, n, forms, 1, keys[n - 1].at_usec + PAWL_BURST_PAUSE_USEC, &which, &again), ==, PAWL_BURST_GAUGE);
  g_assert_cmpstr (again, ==, lesson->reading);
  pawl_burst_form_clear (&form);
}

static void
test_terminators (void)
{
  gunichar key = 'x';

  g_assert_false (pawl_burst_parse_terminator ("return", &key));
  g_assert_cmpuint (key, ==, 'x');
  g_assert_true (pawl_burst_parse_terminator ("enter", &key) && key == '\n');
  g_assert_true (pawl_burst_parse_terminator ("tab", &key) && key == '\t');
  g_assert_true (pawl_burst_parse_terminator ("none", &key) && key == 0);
  g_assert_cmpstr (pawl_burst_name_terminator (0), ==, "none");
  g_assert_cmpstr (pawl_burst_name_terminator ('\t'), ==, "tab");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (CASES); i++)
    {
      g_autofree char *path = g_strdup_printf ("/burst/%u", i);

      g_test_add_data_func (path, &CASES[i], test_case);
    }
  for (guint i = 0; i < G_N_ELEMENTS (LESSONS); i++)
    {
      g_autofree char *path = g_strdup_printf ("/burst/learn/%u", i);

      g_test_add_data_func (path, &LESSONS[i], test_lesson);
    }
  g_test_add_func ("/burst/terminators", test_terminators);
  return g_test_run ();
}
