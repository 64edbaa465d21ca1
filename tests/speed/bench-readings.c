/*
 * Readings: how many a second are parsed, judged and shown, beside a plain strtod() and two comparisons in the same run; a formula of 20 readings with
 * its uncertainty; the fold of a long job. Prints a table; asserts nothing of time, but that the verdicts are those of strtod().
 * Usage: bench-readings [--quick] [--only KEY COUNT]    the second does one kind COUNT times and prints nothing: for callgrind
 */
#include <stdlib.h>
#include <string.h>
#include <time.h>

#include "job/pawl-job.h"
#include "measure/pawl-formula.h"
#include "measure/pawl-verdict.h"
#include "procedure/pawl-reader.h"

#define LOW 24.5
#define HIGH 25.5
#define N_TEXTS 1000
#define N_TERMS 20
#define ANSWERS_PER_STEP 19

/* What is measured: @work does it @n times, and gives back how many came out in, or 0. */
typedef struct {
  const char *key, *what;
  guint     (*work) (guint n);
  guint       n, n_quick;
} Case;

/* ---- readings ---- */

/* As a gauge sends them: about half lie within the limits. */
static char **
make_gauge_texts (void)
{
  char **texts = g_new0 (char *, N_TEXTS + 1);
  g_autoptr(GRand) rand = g_rand_new_with_seed (25);

  for (guint i = 0; i < N_TEXTS; i++)
    {
      guint um = (guint) g_rand_int_range (rand, 24000, 26001);

      texts[i] = g_strdup_printf ("%u.%03u", um / 1000, um % 1000);
    }
  return texts;
}

static guint
read_plainly (guint n)
{
  g_auto(GStrv) texts = make_gauge_texts ();
  guint n_in = 0;

  for (guint i = 0; i < n; i++)
    {
      const char *text = texts[i % N_TEXTS];
      char *end;
      double value = strtod (text, &end);

      if (*end == '\0' && value >= LOW && value <= HIGH)
        n_in++;
    }
  return n_in;
}

/* Parsed, judged, and written out as a page shows it. */
static gboolean
read_one (const char *text, const PawlTyping *typing, const PawlLimits *limits)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlQuantity) quantity = pawl_quantity_parse (text, typing, &error);
  g_autofree char *shown = NULL;
  PawlVerdict verdict;

  if (quantity == NULL || !pawl_verdict_of (limits, quantity, NULL, NULL, PAWL_POLICY_SIMPLE, &verdict, &error))
    g_error ("%s: %s", text, error->message);
  shown = pawl_quantity_format (quantity, '.');
  return verdict.kind == PAWL_VERDICT_IN;
}

static guint
read_all (char **texts, guint n_texts, guint n)
{
  const PawlTyping typing = { .decimal_mark = '.', .default_unit = pawl_unit_lookup ("mm") };
  g_autoptr(PawlLimits) limits = pawl_limits_parse ("24.5..25.5 mm", &typing, NULL);
  guint n_in = 0;

  for (guint i = 0; i < n; i++)
    if (read_one (texts[i % n_texts], &typing, limits))
      n_in++;
  return n_in;
}

static guint
read_gauge (guint n)
{
  g_auto(GStrv) texts = make_gauge_texts ();

  return read_all (texts, N_TEXTS, n);
}

static guint
read_mechanic (guint n)
{
  static const char * const texts[] = {
    "25.01 mm", "63/64 in", "1 1/64 in", "1-1/64\"", "984 thou", "0.985 in", ".985\"", "25mm", "2.5 cm", "24.9..25.1 mm", "0.984 in goes, 0.986 in does not", "Ø25 mm",
  };

  return read_all ((char **) texts, G_N_ELEMENTS (texts), n);
}

/* ---- a formula ---- */

static guint
propagate (guint n)
{
  g_autoptr(GString) text = g_string_new ("(r1");
  char *names[N_TERMS + 1] = { NULL };
  PawlFormulaInput inputs[N_TERMS];
  g_autoptr(PawlFormula) formula = NULL;
  g_autoptr(GError) error = NULL;
  mpq_t value;

  mpq_init (value);
  for (guint i = 0; i < N_TERMS; i++)
    {
      mpq_set_ui (value, 25000 + i, 1000);
      mpq_canonicalize (value);
      names[i] = g_strdup_printf ("r%u", i + 1);
      inputs[i] = (PawlFormulaInput) { pawl_quantity_new (value, pawl_unit_lookup ("mm")), 5e-6 };
      if (i > 0)
        g_string_append_printf (text, i % 3 == 0 ? " * (%s / r1)" : i % 3 == 1 ? " + %s" : " - %s", names[i]);
    }
  g_string_append (text, ") / 2");
  formula = pawl_formula_parse (text->str, (const char * const *) names, &error);
  g_assert_no_error (error);
  for (guint i = 0; i < n; i++)
    {
      double u;
      g_autoptr(PawlQuantity) result = pawl_formula_evaluate (formula, inputs, pawl_unit_lookup ("mm"), &u, NULL, &error);

      g_assert_no_error (error);
      g_assert_cmpfloat (u, >, 0);
    }
  for (guint i = 0; i < N_TERMS; i++)
    {
      pawl_quantity_unref (inputs[i].quantity);
      g_free (names[i]);
    }
  mpq_clear (value);
  return 0;
}

/* ---- the fold ---- */

static PawlProcedure *
make_procedure (guint n_steps)
{
  g_autoptr(GString) xml = g_string_new (
    "<procedure xmlns='urn:pawl:procedure:1' id='long' revision='1' xml:lang='en'>"
    "<title>Long</title><unit maker='Invented' model='L'>Long unit</unit><author>Pawl</author><licence>CC0-1.0</licence>"
    "<verified how='no'>Never.</verified><attended>1 h</attended><skill>Any.</skill><tools><tool id='gauge' name='Gauge' error='0.03 mm'/></tools>"
    "<supplies><none/></supplies><cautions><none/></cautions><figure file='long.svg'/><parts><part id='body' item='1' name='Body' stays='yes'/></parts>"
    "<phase id='all' title='All'>");
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure;

  for (guint i = 0; i < n_steps; i++)
    g_string_append_printf (xml, "<step id='step-%u' attended='1 min'><do>Measure place %u.</do><reading id='place-%u' name='Place %u' limits='24.5..25.5 mm' unit='mm' "
                            "source='x' tool='gauge'><says>How wide?</says></reading></step>", i, i, i, i);
  g_string_append (xml, "</phase></procedure>");
  bytes = g_bytes_new (xml->str, xml->len);
  procedure = pawl_procedure_load_bytes (bytes, "long.xml", NULL, &error);
  g_assert_no_error (error);
  return procedure;
}

/* (transfer full): the opening, then for each step its answers, the last one in, and that it is done */
static GPtrArray *
make_entries (guint n_steps, GDateTime *at)
{
  GPtrArray *entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_auto(GStrv) texts = make_gauge_texts ();

  g_ptr_array_add (entries, pawl_entry_new (PAWL_ENTRY_OPENED, "", "Ann", at));
  for (guint i = 0; i < n_steps; i++)
    {
      g_autofree char *ask = g_strdup_printf ("place-%u", i);
      g_autofree char *step = g_strdup_printf ("step-%u", i);

      for (guint k = 0; k < ANSWERS_PER_STEP; k++)
        {
          PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_ANSWERED, ask, "Ann", at);

          pawl_entry_set (entry, "answer", k == ANSWERS_PER_STEP - 1 ? "25.0 mm" : texts[(i * ANSWERS_PER_STEP + k) % N_TEXTS]);
          g_ptr_array_add (entries, entry);
        }
      g_ptr_array_add (entries, pawl_entry_new (PAWL_ENTRY_STEP_DONE, step, "Ann", at));
    }
  return entries;
}

/* @n entries, in one fold. */
static guint
fold (guint n)
{
  guint n_steps = MAX (n / (ANSWERS_PER_STEP + 1), 1), total;
  g_autoptr(PawlProcedure) procedure = make_procedure (n_steps);
  g_autoptr(GDateTime) at = g_date_time_new_utc (2026, 11, 25, 8, 0, 0);
  g_autoptr(GPtrArray) entries = make_entries (n_steps, at);
  g_autoptr(PawlJob) job = pawl_job_fold (procedure, entries, at);

  g_assert_cmpuint (pawl_job_count_done (job, &total), ==, n_steps);
  g_assert_cmpuint (total, ==, n_steps);
  return 0;
}

/* ---- the table ---- */

static const Case cases[] = {
  { "strtod", "strtod() and two comparisons", read_plainly, 1000000, 1000 },
  { "gauge", "parsed, judged, shown: as a gauge sends them", read_gauge, 1000000, 1000 },
  { "mechanic", "parsed, judged, shown: as mechanics type them", read_mechanic, 1000000, 1000 },
  { "formula", "a formula of 20 readings, with its uncertainty", propagate, 10000, 10 },
  { "fold", "one fold of 10,000 entries", fold, 10000, 200 },
};

/* Of this process, so that a busy machine does not stretch it. */
static double
get_processor_time (void)
{
  struct timespec now;

  clock_gettime (CLOCK_PROCESS_CPUTIME_ID, &now);
  return (double) now.tv_sec + (double) now.tv_nsec / 1e9;
}

static void
measure_all (gboolean is_quick)
{
  double plain = 0;
  guint n_in_plainly = 0;

  g_print ("%-48s  %9s  %12s  %10s\n", "what", "number", "a second", "to strtod");
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      guint n = is_quick ? cases[i].n_quick : cases[i].n;
      double begun = get_processor_time (), each;
      guint n_in = cases[i].work (n);

      each = MAX (get_processor_time () - begun, 1e-9) / n;
      if (i == 0)
        {
          plain = each;
          n_in_plainly = n_in;
        }
      else if (g_str_equal (cases[i].key, "gauge"))
        g_assert_cmpuint (n_in, ==, n_in_plainly);
      g_print ("%-48s  %9u  %12.0f  %10.1f\n", cases[i].what, n, 1 / each, each / plain);
    }
}

static int
measure_only (const char *key, guint n)
{
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    if (g_str_equal (cases[i].key, key))
      {
        cases[i].work (n);
        return 0;
      }
  g_printerr ("bench-readings: nothing is called %s\n", key);
  return 2;
}

int
main (int argc, char **argv)
{
  if (argc == 4 && g_str_equal (argv[1], "--only"))
    return measure_only (argv[2], (guint) g_ascii_strtoull (argv[3], NULL, 10));
  measure_all (argc > 1 && g_str_equal (argv[1], "--quick"));
  return 0;
}
