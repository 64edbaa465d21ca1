/* Typed by a gauge, or by a hand? The bursts are invented: spacings as a USB keyboard has them, and as fast and slow hands have them. */
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

static void
test_terminators (void)
{
  gunichar key = 'x';

  g_assert_false (pawl_burst_parse_terminator ("return", &key));
  g_assert_cmpuint (key, ==, 'x');
  g_assert_true (pawl_burst_parse_terminator ("enter", &key) && key == '\n');
  g_assert_true (pawl_burst_parse_terminator ("tab", &key) && key == '\t');
  g_assert_true (pawl_burst_parse_terminator ("none", &key) && key == 0);
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
  g_test_add_func ("/burst/terminators", test_terminators);
  return g_test_run ();
}
