/* What an author's words give away. */
#include "procedure/pawl-words-private.h"

/* Exact conversion: 1 in = 25.4 mm, NIST SP 811. "agrees": one side is the other one rounded; both sides of the edge. */
static const struct { const char *text; gboolean agrees; } pairs[] = {
  { "Set it to 1 5/16 in (33.3 mm).", TRUE },
  { "Set it to 1 5/16 in (33.34 mm).", TRUE },
  { "Set it to 1 5/16 in (33.3375 mm).", TRUE },
  { "Set it to 1 5/16 in (33 mm).", TRUE },
  { "Set it to 1 5/16 in (33.5 mm).", FALSE },
  { "Set it to 1 5/16 in (33.35 mm).", FALSE },
  { "Set it to 1-5/16\" (33.4 mm).", FALSE },
  { "Set it to 1-5/16\" (33,3 mm).", TRUE },
  { "A gap of .025 in (0.635 mm), no less.", TRUE },
  { "A gap of .025 in (0.64 mm), no less.", TRUE },
  { "A gap of .025 in (0.65 mm), no less.", FALSE },
  { "A gap of 25 thou (0.64 mm).", TRUE },
  { "A gap of 25 thou (0.70 mm).", FALSE },
  { "A gap of 0.64 mm (25 thou).", TRUE },
  { "A gap of 0.70 mm (.025 in).", FALSE },
  { "1 in (25.4 mm) here, 2 in (50 mm) there.", FALSE },
  { "1 inch (25.4 mm) here, 2 inches (50.8 mm) there.", TRUE },
  { "± 1/64 in (0.4 mm)", TRUE },
  { "Nothing (of the kind) in mm.", TRUE },
  { "", TRUE },
};

static void
test_inch_metric (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (pairs); i++)
    {
      g_autofree char *found = pawl_words_find_inch_metric (pairs[i].text);

      g_test_message ("%s: %s", pairs[i].text, found != NULL ? found : "agrees");
      g_assert_cmpint (found == NULL, ==, pairs[i].agrees);
    }
}

/* Sizes: standard number drill sizes, seen in GNU units definitions.units and https://paperzz.com/doc/8844239 (CircuitousRoot table,
 * public domain): no. 54 0.0550 in (1.397 mm), no. 55 0.0520 in, no. 40 0.0980 in (2.4892 mm). No. 56 0.0465 in, F 0.257 in: from memory. */
static const struct { const char *text; gboolean agrees; } drills[] = {
  { "No. 54 (0.0550 in)", TRUE },
  { "No. 54 drill (0.055 in)", TRUE },
  { "No. 54 drill (0.056 in)", FALSE },
  { "no. 55 drill size (0.052 in)", TRUE },
  { "#55 (.055 in)", FALSE },
  { "#40 (0.0980)", TRUE },
  { "number 40 (2.49 mm)", TRUE },
  { "number 40 (2.5 mm)", TRUE },
  { "number 40 (2.6 mm)", FALSE },
  { "No. 56 (0.055 in)", FALSE },
  { "No. 56 (0.0465 in)", TRUE },
  { "F drill (0.257 in)", TRUE },
  { "F drill (0.250 in)", FALSE },
  { "letter F (0.257 in)", TRUE },
  { "letter F (0.256 in)", FALSE },
  { "Screw No. 10-32 (4.8 mm)", TRUE },
  { "No. 2 harbour launch (1 in all)", TRUE },
};

static void
test_drills (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (drills); i++)
    {
      g_autofree char *found = pawl_words_find_drill (drills[i].text);

      g_test_message ("%s: %s", drills[i].text, found != NULL ? found : "agrees");
      g_assert_cmpint (found == NULL, ==, drills[i].agrees);
    }
}

static const struct { const char *text; gboolean are_two; } sentences[] = {
  { "Press in the bushing.", FALSE },
  { "Press in the bushing", FALSE },
  { "Press in the bushing. Wipe it.", TRUE },
  { "Press in the bushing. wipe it.", TRUE },
  { "Is it clear? Then go on.", TRUE },
  { "Stop! Look.", TRUE },
  { "Look through with a No. 56 drill in mind.", FALSE },
  { "Set 1.5 mm, approx. half a turn.", FALSE },
  { "Use a soft drift, e.g. Brass.", FALSE },
  { "Fit it as in fig. 3.", FALSE },
  { "Fit it as in the figure (p. 31).", FALSE },
  { "Lift it off (and mark it).", FALSE },
  { "Lift it off (and mark it.) Then wash.", TRUE },
};

static void
test_sentences (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (sentences); i++)
    {
      g_test_message ("%s", sentences[i].text);
      g_assert_cmpint (pawl_words_are_two_sentences (sentences[i].text), ==, sentences[i].are_two);
    }
}

static const struct { const char *text; const char *tool; } wires[] = {
  { "Pass a soft wire through the jet.", "wire" },
  { "Clear it with a No. 56 drill.", "drill" },
  { "Push drills through.", "drill" },
  { "Look through the jet at a lamp.", NULL },
  { "Never pass a wire through the jet.", NULL },
  { "Use air, not wire.", NULL },
  { "Blow through; do not use a drill.", NULL },
  { "Use light. Never use wire.", NULL },
  { "Never use light. Use wire.", "wire" },
  { "Hold it to the light: No. 56 drill size.", NULL },
  { "The wireless is on.", NULL },
};

static void
test_wires (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (wires); i++)
    {
      g_test_message ("%s", wires[i].text);
      g_assert_cmpstr (pawl_words_ask_for_wire (wires[i].text), ==, wires[i].tool);
    }
}

static const struct { const char *text; const char *topic; const char *word; } topics[] = {
  { "Drain the fuel into a tin.", "fuel", "fuel" },
  { "Refuel it.", "fuel", NULL },
  { "Soak in Solvent.", "solvent", "Solvent" },
  { "Press in the bushing.", "press", "Press" },
  { "Pressure is low.", "press", NULL },
  { "The pin was pressed in at the works.", "press", NULL },
  { "Hook the springs.", "spring", "springs" },
  { "Mind the hairspring.", "spring", NULL },
  { "Glass-blast the body.", "blasting", "blast" },
  { "Blow out the passage.", "air", "Blow out" },
  { "Use compressed air.", "air", "compressed air" },
  { "Air the room.", "air", NULL },
};

static void
test_topics (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (topics); i++)
    {
      const PawlTopicWords *topic = pawl_topic_words;
      g_autoptr(GRegex) regex = NULL;
      g_autofree char *word = NULL;

      while (topic->topic != NULL && g_strcmp0 (topic->topic, topics[i].topic) != 0)
        topic++;
      g_assert_nonnull (topic->topic);
      regex = pawl_topic_words_compile (topic);
      word = pawl_words_find_topic (topics[i].text, regex);
      g_test_message ("%s", topics[i].text);
      g_assert_cmpstr (word, ==, topics[i].word);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/procedure/words/inch-metric", test_inch_metric);
  g_test_add_func ("/procedure/words/drills", test_drills);
  g_test_add_func ("/procedure/words/sentences", test_sentences);
  g_test_add_func ("/procedure/words/wires", test_wires);
  g_test_add_func ("/procedure/words/topics", test_topics);
  return g_test_run ();
}
