/* pawl reading: one reading against its limits, without a job. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "cli/pawl-cli.h"
#include "measure/pawl-doubt.h"
#include "measure/pawl-verdict.h"

/* As given on the command line. */
typedef struct {
  char    *limits;
  char    *instrument;
  char    *policy;
  char    *unit;
  char    *decimal_mark;
  char   **repeats; /* (nullable) */
  gboolean has_working, is_json;
} Options;

/* As understood. */
typedef struct {
  PawlTyping     typing;
  PawlPolicy     policy;
  PawlLimits    *limits;
  PawlQuantity  *quantity;
  PawlInstrument instrument; /* its contents are owned here */
  GPtrArray     *readings;   /* (element-type PawlQuantity): the repeats, @quantity the first */
  PawlVerdict    verdict;
  PawlBudget     budget;
} Reading;

static void
options_clear (Options *self)
{
  g_free (self->limits);
  g_free (self->instrument);
  g_free (self->policy);
  g_free (self->unit);
  g_free (self->decimal_mark);
  g_strfreev (self->repeats);
}

static void
reading_clear (Reading *self)
{
  g_clear_pointer (&self->limits, pawl_limits_unref);
  g_clear_pointer (&self->quantity, pawl_quantity_unref);
  g_clear_pointer (&self->readings, g_ptr_array_unref);
  pawl_instrument_clear (&self->instrument);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Reading, reading_clear)

static gboolean
read_policy (const char *text, PawlPolicy *policy, GError **error)
{
  *policy = PAWL_POLICY_SIMPLE;
  return text == NULL || pawl_policy_parse (text, policy)
         || pawl_cli_refuse_value ("--policy", text, "simple, guard-band, proof, or a risk such as “risk 5 %”", error);
}

/* "caliper; error ±0.03 mm; step 0.01 mm" */
static gboolean
read_instrument (const char *text, Reading *reading, GError **error)
{
  return text == NULL || pawl_instrument_parse (text, &reading->typing, &reading->instrument, error);
}

/* Under simple acceptance an instrument that reads something else is passed over, and so is its budget. */
static gboolean
has_uncertainty (const Reading *reading)
{
  return reading->verdict.expanded > 0;
}

/* A bare number is in the stated unit, else in that of the limits; when those mix inch and metric it is asked back. */
static void
settle_typing (Reading *reading)
{
  if (reading->typing.default_unit != NULL)
    return;
  reading->typing.is_mixed = pawl_limits_mixes_systems (reading->limits);
  reading->typing.default_unit = reading->typing.is_mixed ? NULL : pawl_limits_get_unit (reading->limits);
}

static gboolean
read_reading (const char *text, Reading *reading, GError **error)
{
  PawlQuantity *quantity = pawl_quantity_parse (text, &reading->typing, error);

  if (quantity == NULL)
    {
      g_autofree char *quoted = pawl_cli_dup_quoted (text);

      g_prefix_error (error, "“%s”: ", quoted);
      return FALSE;
    }
  if (reading->readings == NULL)
    reading->readings = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_quantity_unref);
  g_ptr_array_add (reading->readings, quantity);
  return TRUE;
}

static gboolean
judge (Reading *reading, GError **error)
{
  PawlQuantity **readings = (PawlQuantity **) reading->readings->pdata;
  guint n = reading->readings->len;

  reading->quantity = pawl_readings_get_mean (readings, n);
  return pawl_verdict_of_set (reading->limits, readings, n, &reading->instrument, reading->policy, &reading->verdict, error)
         && (!has_uncertainty (reading) || pawl_budget_make (readings, n, &reading->instrument, pawl_limits_get_unit (reading->limits), &reading->budget, error));
}

static gboolean
read_all (const char *text, const Options *options, Reading *reading, GError **error)
{
  if (!read_policy (options->policy, &reading->policy, error) || !pawl_cli_read_typing (options->decimal_mark, options->unit, &reading->typing, error))
    return FALSE;
  if (!(reading->limits = pawl_limits_parse (options->limits, &reading->typing, error)))
    {
      g_autofree char *quoted = pawl_cli_dup_quoted (options->limits);

      g_prefix_error (error, "limits “%s”: ", quoted);
      return FALSE;
    }
  settle_typing (reading);
  if (!read_instrument (options->instrument, reading, error))
    return FALSE;
  if (!read_reading (text, reading, error))
    return FALSE;
  for (char **repeat = options->repeats; repeat != NULL && *repeat != NULL; repeat++)
    if (!read_reading (*repeat, reading, error))
      return FALSE;
  return judge (reading, error);
}

/* An instrument that is too coarse is said before the verdict, for it takes its worth away. */
static void
warn_coarse (const char *command, const Reading *reading)
{
  const char *name = reading->instrument.name != NULL ? reading->instrument.name : "the instrument";
  double ratio;

  if (!pawl_instrument_is_too_coarse (&reading->instrument, reading->limits, &ratio))
    {
      if (reading->instrument.max_error == NULL && pawl_instrument_is_coarsely_divided (&reading->instrument, reading->limits))
        pawl_cli_complain (command, "%s is coarse for these limits: its step is over a tenth of the tolerance", name);
      return;
    }
  if (isinf (ratio))
    pawl_cli_complain (command, "%s is coarse for these limits: they leave no tolerance at all", name);
  else
    pawl_cli_complain (command, "%s is coarse for these limits: its U is %.0f %% of the tolerance", name, ratio * 100);
}

/* "96 %": what a mechanic is told; 99.9 is never called 100. */
static void
print_probability (double probability)
{
  double percent = probability * 100;

  printf ("Conforms with a probability of %s%.*f %%\n", percent > 99.9 && percent < 100 ? "over " : percent < 0.1 && percent > 0 ? "under " : "",
          percent > 99 || percent < 1 ? 1 : 0, CLAMP (percent, percent > 0 ? 0.1 : 0, percent < 100 ? 99.9 : 100));
}

static void
print_uncertainty (const Reading *reading)
{
  g_autofree char *budget = pawl_budget_describe (&reading->budget, pawl_limits_get_unit (reading->limits), reading->typing.decimal_mark);

  printf ("Known to %s\n", budget);
  print_probability (reading->verdict.probability);
}

static void
print_text (const Reading *reading, const char *exact, const char *beside, const char *sentence, gboolean has_working)
{
  g_autofree char *rule = pawl_policy_describe (reading->policy);
  g_autofree char *limits = pawl_limits_describe (reading->limits);
  g_autofree char *doubt = NULL;

  for (guint i = 0; i < reading->readings->len; i++)
    printf ("Reading  %s\n", pawl_quantity_get_typed (reading->readings->pdata[i]));
  printf ("Exactly  %s%s%s\n", exact, beside != NULL ? " · " : "", beside != NULL ? beside : "");
  printf ("Limits   %s\n", limits);
  printf ("Verdict  %s\n", sentence);
  if (pawl_reading_is_absurd (reading->limits, reading->quantity, &doubt))
    printf ("Doubt    %s\n", doubt);
  printf ("Rule     %s\n", rule);
  if (has_working && has_uncertainty (reading))
    print_uncertainty (reading);
}

static void
add_double (JsonBuilder *builder, const char *member, double value)
{
  json_builder_set_member_name (builder, member);
  json_builder_add_double_value (builder, value);
}

/* In the limits' unit. */
static void
add_budget (JsonBuilder *builder, const PawlBudget *budget)
{
  json_builder_set_member_name (builder, "uncertainty");
  json_builder_begin_object (builder);
  pawl_cli_add_int (builder, "readings", budget->n);
  add_double (builder, "error", budget->error);
  add_double (builder, "step", budget->step);
  add_double (builder, "reference", budget->reference);
  add_double (builder, "repeats", budget->repeats);
  add_double (builder, "standard", budget->combined);
  json_builder_set_member_name (builder, "degrees-of-freedom");
  if (isinf (budget->degrees))
    json_builder_add_null_value (builder);
  else
    json_builder_add_double_value (builder, budget->degrees);
  add_double (builder, "coverage-factor", budget->coverage);
  add_double (builder, "expanded", budget->expanded);
  json_builder_end_object (builder);
}

static void
print_json (const Reading *reading, const char *exact, const char *beside, const char *sentence)
{
  static const char * const sides[] = { [PAWL_SIDE_NEITHER] = NULL, [PAWL_SIDE_BELOW] = "below", [PAWL_SIDE_ABOVE] = "above" };
  g_autoptr (JsonBuilder) builder = json_builder_new ();
  g_autofree char *policy = pawl_policy_format (reading->policy);
  g_autofree char *doubt = NULL;

  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "typed", pawl_quantity_get_typed (reading->quantity));
  pawl_cli_add_string (builder, "exact", exact);
  pawl_cli_add_string (builder, "beside", beside);
  pawl_cli_add_string (builder, "limits", pawl_limits_get_text (reading->limits));
  pawl_cli_add_string (builder, "limits-unit", pawl_unit_get_symbol (pawl_limits_get_unit (reading->limits)));
  pawl_cli_add_string (builder, "verdict", pawl_verdict_get_word (reading->verdict.kind));
  pawl_cli_add_string (builder, "side", sides[reading->verdict.side]);
  json_builder_set_member_name (builder, "worn");
  json_builder_add_boolean_value (builder, reading->verdict.is_worn);
  add_double (builder, "excess", reading->verdict.excess);
  add_double (builder, "guard", reading->verdict.guard);
  pawl_cli_add_string (builder, "sentence", sentence);
  pawl_reading_is_absurd (reading->limits, reading->quantity, &doubt);
  pawl_cli_add_string (builder, "doubt", doubt);
  pawl_cli_add_string (builder, "policy", policy);
  add_double (builder, "probability", reading->verdict.probability);
  if (has_uncertainty (reading))
    add_budget (builder, &reading->budget);
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}

static int
print_reading (const Reading *reading, const Options *options)
{
  char mark = reading->typing.decimal_mark;
  g_autofree char *exact = pawl_quantity_format_exact (reading->quantity, mark);
  g_autofree char *beside = pawl_quantity_format_beside (reading->quantity, mark);
  g_autofree char *sentence = pawl_verdict_describe (&reading->verdict, reading->limits, reading->quantity);

  if (options->is_json)
    print_json (reading, exact, beside, sentence);
  else
    print_text (reading, exact, beside, sentence, options->has_working);
  return reading->verdict.kind == PAWL_VERDICT_IN ? PAWL_EXIT_FINE : PAWL_EXIT_FINDINGS;
}

/* The options' parser leaves a -- where a reading with a minus follows it. NULL when that is not what came. */
static const char *
find_text (int argc, char **argv)
{
  if (argc == 2)
    return argv[1];
  return argc == 3 && g_str_equal (argv[1], "--") ? argv[2] : NULL;
}

int
pawl_command_reading (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  g_auto (Reading) reading = { 0 };
  g_autoptr (GError) error = NULL;
  const char *text;
  const GOptionEntry entries[] = {
    { "limits", 0, 0, G_OPTION_ARG_FILENAME, &options.limits, "What it must meet: “25..31 thou”, “1 5/16 in ± 1/64”, “max 0.05 mm”", "LIMITS" },
    { "instrument", 0, 0, G_OPTION_ARG_FILENAME, &options.instrument, "What it was read with: “caliper; error ±0.03 mm; step 0.01 mm”", "TEXT" },
    { "policy", 0, 0, G_OPTION_ARG_FILENAME, &options.policy, "How close is too close: simple, guard-band, proof, “risk 5 %”", "POLICY" },
    { "repeat", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.repeats, "The same measured again; may be given several times: the mean is judged", "TEXT" },
    { "working", 0, 0, G_OPTION_ARG_NONE, &options.has_working, "Print what the uncertainty is made of, and the conformance probability", NULL },
    { "unit", 0, 0, G_OPTION_ARG_FILENAME, &options.unit, "The unit of a number without one; otherwise that of the limits", "UNIT" },
    { "decimal-mark", 0, 0, G_OPTION_ARG_FILENAME, &options.decimal_mark, "A point, or a comma", "MARK" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print the result as JSON", NULL },
    G_OPTION_ENTRY_NULL
  };

  if (!pawl_cli_parse (&argc, &argv, entries, "TEXT --limits LIMITS", "Holds a reading, as typed, against its limits. "
                       "Exit code: 0 in, 1 out or too close to call, 2 not understood. Put -- before a reading that starts with a minus.", 1, 2))
    return PAWL_EXIT_COULD_NOT;
  if (!(text = find_text (argc, argv)))
    {
      pawl_cli_complain (argv[0], "one reading at a time; one with spaces in it is put in quotation marks");
      return PAWL_EXIT_COULD_NOT;
    }
  if (options.limits == NULL)
    {
      pawl_cli_complain (argv[0], "it needs the limits; for example --limits “25..31 thou”");
      return PAWL_EXIT_COULD_NOT;
    }
  if (!read_all (text, &options, &reading, &error))
    return pawl_cli_fail (argv[0], error);
  warn_coarse (argv[0], &reading);
  return print_reading (&reading, &options);
}
