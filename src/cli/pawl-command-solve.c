/* pawl solve: a bench sum, with its working. The options are the sum's inputs, out of the table of sums. */
#include <stdio.h>
#include <string.h>

#include "cli/pawl-cli.h"
#include "sums/pawl-sum.h"

typedef struct {
  const PawlSum *sum;
  char         **values;   /* (array): by input; what was given, or NULL */
  char          *unit, *decimal_mark;
  gboolean       is_json;
} Wish;

static void
wish_clear (Wish *self)
{
  guint n;

  /* An input that was left out is NULL between others, so that a string array's own free would stop at it. */
  pawl_sum_peek_inputs (self->sum, &n);
  for (guint i = 0; self->values != NULL && i < n; i++)
    g_free (self->values[i]);
  g_free (self->values);
  g_free (self->unit);
  g_free (self->decimal_mark);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Wish, wish_clear)

static void
list_sums (void)
{
  const PawlSum *sum;

  puts ("Sums:");
  for (guint i = 0; (sum = pawl_sum_peek_nth (i)) != NULL; i++)
    printf ("  %-12s %s\n", pawl_sum_get_id (sum), pawl_sum_get_title (sum));
  puts ("\n“pawl solve SUM” shows what a sum takes, with examples.");
}

/* What becomes of an input that nothing is said about. */
static char *
describe_unsaid (const PawlSumInput *input)
{
  if (input->from != NULL)
    return g_strdup_printf (" (otherwise as --%s has it)", input->from);
  if (input->fallback == NULL)
    return g_strdup ("");
  return *input->fallback == '\0' ? g_strdup (" (may be left out)") : g_strdup_printf (" (otherwise %s)", input->fallback);
}

static void
show_formulas (const PawlSum *sum)
{
  const char *name, *title, *formula;

  for (guint i = 0; (formula = pawl_sum_peek_formula (sum, i, &name, &title)) != NULL; i++)
    printf ("%s  %s%s%s%s = %s\n", i == 0 ? "\nFormulas, as a derived reading could have them:\n" : "", title, name != NULL ? " (" : "",
            name != NULL ? name : "", name != NULL ? ")" : "", formula);
}

/* What the sum takes, as a command that could be typed. */
static void
show_sum (const PawlSum *sum)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (sum, &n);

  printf ("%s\n%s\n\n", pawl_sum_get_title (sum), pawl_sum_get_says (sum));
  for (guint i = 0; i < n; i++)
    {
      g_autofree char *option = g_strdup_printf ("--%s \"%s\"", inputs[i].name, inputs[i].example);
      g_autofree char *unsaid = describe_unsaid (&inputs[i]);

      printf ("  %-38s %s%s\n", option, inputs[i].title, unsaid);
    }
  show_formulas (sum);
  printf ("\nSource: %s.\nHolds for: %s.\n", pawl_sum_get_source (sum), pawl_sum_get_validity (sum));
}

static const PawlSum *
find_sum (const char *command, const char *id)
{
  const PawlSum *sum = pawl_sum_lookup (id);

  if (sum == NULL)
    pawl_cli_complain (command, "there is no sum “%s”; “pawl solve” lists them", id);
  return sum;
}

static gboolean
read_wish (int *argc, char ***argv, Wish *wish)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (wish->sum, &n);
  g_autofree GOptionEntry *entries = g_new0 (GOptionEntry, n + 4);
  g_autofree char *summary = g_strdup_printf ("%s. %s", pawl_sum_get_title (wish->sum), pawl_sum_get_says (wish->sum));

  wish->values = g_new0 (char *, n + 1);
  for (guint i = 0; i < n; i++)
    entries[i] = (GOptionEntry) { inputs[i].name, 0, 0, G_OPTION_ARG_FILENAME, &wish->values[i], inputs[i].title, inputs[i].example };
  entries[n] = (GOptionEntry) { "unit", 0, 0, G_OPTION_ARG_FILENAME, &wish->unit, "The unit of numbers without one", "UNIT" };
  entries[n + 1] = (GOptionEntry) { "decimal-mark", 0, 0, G_OPTION_ARG_FILENAME, &wish->decimal_mark, "A point, or a comma", "MARK" };
  entries[n + 2] = (GOptionEntry) { "json", 0, 0, G_OPTION_ARG_NONE, &wish->is_json, "Print the result as JSON", NULL };
  return pawl_cli_parse (argc, argv, entries, "", summary, 0, 0);
}

static GHashTable *
collect (const Wish *wish)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (wish->sum, &n);
  GHashTable *typed = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < n; i++)
    if (wish->values[i] != NULL)
      g_hash_table_insert (typed, (gpointer) inputs[i].name, wish->values[i]);
  return typed;
}

static void
print_text (const Wish *wish, const PawlSumResult *result)
{
  for (guint i = 0; i < result->answers->len; i++)
    {
      const PawlSumAnswer *answer = result->answers->pdata[i];

      printf ("%s: %s\n", answer->title, answer->text);
    }
  for (guint i = 0; i < result->working->len; i++)
    printf ("%s  %s\n", i == 0 ? "\n" : "", (const char *) result->working->pdata[i]);
  printf ("\nSource: %s.\nHolds for: %s.\n", pawl_sum_get_source (wish->sum), pawl_sum_get_validity (wish->sum));
}

static void
add_answers (JsonBuilder *builder, const PawlSumResult *result)
{
  json_builder_set_member_name (builder, "answers");
  json_builder_begin_array (builder);
  for (guint i = 0; i < result->answers->len; i++)
    {
      const PawlSumAnswer *answer = result->answers->pdata[i];
      g_autofree char *exact = answer->quantity != NULL ? pawl_quantity_format_exact (answer->quantity, '.') : NULL;

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "title", answer->title);
      pawl_cli_add_string (builder, "text", answer->text);
      pawl_cli_add_string (builder, "exact", answer->is_rounded ? NULL : exact);
      json_builder_set_member_name (builder, "value");
      if (answer->quantity != NULL)
        json_builder_add_double_value (builder, pawl_quantity_get_double (answer->quantity, pawl_quantity_get_unit (answer->quantity)));
      else
        json_builder_add_null_value (builder);
      pawl_cli_add_string (builder, "unit-symbol", answer->quantity != NULL ? pawl_unit_get_symbol (pawl_quantity_get_unit (answer->quantity)) : NULL);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
print_json (const Wish *wish, const PawlSumResult *result)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "sum", pawl_sum_get_id (wish->sum));
  add_answers (builder, result);
  json_builder_set_member_name (builder, "working");
  json_builder_begin_array (builder);
  for (guint i = 0; i < result->working->len; i++)
    json_builder_add_string_value (builder, result->working->pdata[i]);
  json_builder_end_array (builder);
  pawl_cli_add_string (builder, "source", pawl_sum_get_source (wish->sum));
  pawl_cli_add_string (builder, "validity", pawl_sum_get_validity (wish->sum));
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}

/* @argv[0]: "pawl solve SUM" */
static int
solve (int argc, char **argv, const PawlSum *sum)
{
  g_auto (Wish) wish = { .sum = sum };
  g_autoptr (GHashTable) typed = NULL;
  g_autoptr (PawlSumResult) result = NULL;
  g_autoptr (GError) error = NULL;
  PawlTyping typing = { 0 };

  if (argc == 1)
    {
      show_sum (sum);
      return PAWL_EXIT_FINE;
    }
  if (!read_wish (&argc, &argv, &wish))
    return PAWL_EXIT_COULD_NOT;
  if (!pawl_cli_read_typing (wish.decimal_mark, wish.unit, &typing, &error))
    return pawl_cli_fail (argv[0], error);
  typed = collect (&wish);
  if (!(result = pawl_sum_solve (sum, typed, &typing, &error)))
    return g_error_matches (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_NO_ANSWER) ? (pawl_cli_fail (argv[0], error), PAWL_EXIT_FINDINGS)
                                                                             : pawl_cli_fail (argv[0], error);
  if (wish.is_json)
    print_json (&wish, result);
  else
    print_text (&wish, result);
  return PAWL_EXIT_FINE;
}

int
pawl_command_solve (int argc, char **argv)
{
  const GOptionEntry none[] = { G_OPTION_ENTRY_NULL };
  const PawlSum *sum;
  g_autofree char *name = NULL;

  if (argc > 1 && *argv[1] != '-')
    {
      if (!(sum = find_sum (argv[0], argv[1])))
        return PAWL_EXIT_COULD_NOT;
      name = g_strdup_printf ("%s %s", argv[0], argv[1]);
      argv[1] = name;
      return solve (argc - 1, argv + 1, sum);
    }
  if (!pawl_cli_parse (&argc, &argv, none, "[SUM [--INPUT VALUE…]]", "Works out a bench sum: what to bend, turn, shim, heat or set, with the working. "
                       "Without a sum it lists them; exit code 1: there is no answer.", 0, 0))
    return PAWL_EXIT_COULD_NOT;
  list_sums ();
  return PAWL_EXIT_FINE;
}
