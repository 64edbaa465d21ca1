/* pawl class: what each person did right at once, how long it took, and which steps trip most people. */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "cli/pawl-cli.h"
#include "cli/pawl-cli-table.h"
#include "report/pawl-class-table.h"
#include "report/pawl-log-book.h"
#include "training/pawl-nameless.h"

/* A step that most people do right is no news. */
#define MOST_STEPS 10
#define MOST_SLOW 3

/* ---- text ---- */

static void
print_rate (const char *title, const PawlRate *rate)
{
  g_autofree char *text = pawl_rate_format (rate);

  printf ("  %-22s %s\n", title, text);
}

/* As pawl_learner_visit_rates() names them. */
static const struct { const char *figure, *title; } TITLES[] = {
  { "steps", "steps right at once" }, { "traps", "traps met" }, { "readings", "readings right at once" }, { "holds", "holds passed first" },
  { "asked-first", "asked first, right" }, { "planted", "planted faults caught" },
};

static void
print_figure (const char *name G_GNUC_UNUSED, const char *figure, const PawlRate *rate, gpointer data G_GNUC_UNUSED)
{
  const char *kind = strchr (figure, ':');
  g_autofree char *title = kind ? g_strdup_printf ("  of kind %s", kind + 1) : NULL;

  for (guint i = 0; !title && i < G_N_ELEMENTS (TITLES); i++)
    if (g_str_equal (TITLES[i].figure, figure))
      title = g_strdup (TITLES[i].title);
  print_rate (title, rate);
}

static void
print_curves (const PawlLearner *learner)
{
  g_autoptr (GPtrArray) procedures = pawl_learner_list_procedures (learner);

  for (guint i = 0; i < procedures->len; i++)
    {
      const char *procedure = g_ptr_array_index (procedures, i);
      PawlLearningCurve curve;

      if (pawl_learner_fit_curve (learner, procedure, &curve))
        printf ("  %-22s %s: twice as many jobs take %.0f %% of the time (%.0f to %.0f %%), first job about %.0f min, by %u jobs\n", "learning", procedure,
                100 * curve.rate, 100 * curve.rate_low, 100 * curve.rate_high, curve.first, curve.n);
      else
        printf ("  %-22s %s: under %d whole jobs, no curve\n", "learning", procedure, PAWL_LEARNING_LEAST_JOBS);
    }
}

static void
print_loops (const PawlClass *class, const PawlLearner *learner)
{
  if (learner->n_loops > 0)
    printf ("  %-22s %.1f on average, of what was out at first (%u); everybody %.1f (%u)\n", "tries until right", learner->attempts, learner->n_loops,
            class->attempts, class->n_loops);
}

static void
print_times (const PawlClass *class, const PawlLearner *learner)
{
  const PawlClassJob *newest = NULL;

  for (guint i = 0; i < learner->jobs->len; i++)
    if (!isnan (((PawlClassJob *) g_ptr_array_index (learner->jobs, i))->ratio))
      newest = g_ptr_array_index (learner->jobs, i);
  if (newest)
    printf ("  %-22s %s: %.0f min, %.2f of everybody's median of %.0f min\n", "newest whole job", newest->procedure, newest->minutes, newest->ratio,
            pawl_class_get_median_time (class, newest->procedure));
  else if (learner->jobs->len > 0)
    printf ("  %-22s under %d whole jobs of everybody, so no comparison\n", "attended time", PAWL_CLASS_LEAST_TIMES);
  for (guint i = 0; i < learner->times->len && i < MOST_SLOW; i++)
    {
      const PawlStepTime *time = g_ptr_array_index (learner->times, i);

      if (!(time->ratio > 1))
        break;
      printf ("  %-22s %s step %s: %.1f min in the middle of %u jobs, %.2f of everybody's %.1f min\n", i == 0 ? "slowest steps" : "", time->step->procedure,
              time->step->number, time->median, time->n, time->ratio, time->step->median);
    }
}

static void
print_skills (const PawlLearner *learner, GDateTime *now)
{
  for (guint i = 0; i < learner->skills->len; i++)
    {
      const PawlClassSkill *skill = g_ptr_array_index (learner->skills, i);
      g_autofree char *last = g_date_time_format (skill->last, "%Y-%m-%d");

      printf ("  %-22s %s in %u job%s, last %s%s\n", i == 0 ? "skills" : "", skill->skill, skill->n_jobs, skill->n_jobs == 1 ? "" : "s", last,
              pawl_class_has_faded (skill->last, now) ? ": over a year ago, no longer sure" : "");
    }
}

static void
print_learner (const PawlClass *class, const PawlLearner *learner, GDateTime *now)
{
  g_autofree char *last = pawl_cli_format_time (learner->last);

  printf ("%s: %u job%s, last step finished %s%s\n", learner->name, learner->jobs->len, learner->jobs->len == 1 ? "" : "s", *last ? last : "never",
          pawl_learner_has_faded (learner, now) ? ", over a year ago" : "");
  pawl_learner_visit_rates (learner, print_figure, NULL);
  print_loops (class, learner);
  print_curves (learner);
  print_times (class, learner);
  print_skills (learner, now);
}

static void
print_steps (const PawlClass *class)
{
  guint n = 0;

  for (guint i = 0; i < class->steps->len && n < MOST_STEPS; i++)
    {
      const PawlClassStep *step = g_ptr_array_index (class->steps, i);
      g_autofree char *clean = pawl_rate_format (&step->clean);

      if (step->clean.n_right == step->clean.n)
        continue;
      if (n++ == 0)
        puts ("\nSteps that trip most people, the surest first");
      printf ("  %s step %s, %s\n    %u of %u %s; clean %s; wrong way %u, reading out %u, done again %u%s\n", step->procedure, step->number, step->command,
              step->n_tripped, step->n_people, step->n_people == 1 ? "person" : "people", clean, step->n_wrong, step->n_out, step->n_reopened,
              step->chance < PAWL_CLASS_LEAST_CHANCE ? "; more people than the other steps, beyond chance" : "");
    }
}

static void
print_text (const PawlClass *class, const PawlLearner *only, GDateTime *now)
{
  for (guint i = 0; i < class->learners->len; i++)
    if (!only || only == g_ptr_array_index (class->learners, i))
      print_learner (class, g_ptr_array_index (class->learners, i), now);
  if (!only)
    print_steps (class);
  puts ("\nIn brackets: 95 % interval by Wilson. Asked first: of two pictures, so half is right by chance. Undo is no fault. Not for a customer.");
}

/* ---- JSON ---- */

static void
add_double (JsonBuilder *builder, const char *member, double value)
{
  json_builder_set_member_name (builder, member);
  if (isnan (value))
    json_builder_add_null_value (builder);
  else
    json_builder_add_double_value (builder, value);
}

static void
add_json_rate (const char *name G_GNUC_UNUSED, const char *figure, const PawlRate *rate, gpointer builder)
{
  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "figure", figure);
  pawl_cli_add_int (builder, "right", rate->n_right);
  pawl_cli_add_int (builder, "of", rate->n);
  add_double (builder, "share", rate->share);
  add_double (builder, "low", rate->low);
  add_double (builder, "high", rate->high);
  json_builder_end_object (builder);
}

static void
add_json_jobs (JsonBuilder *builder, const PawlLearner *learner)
{
  json_builder_set_member_name (builder, "jobs");
  json_builder_begin_array (builder);
  for (guint i = 0; i < learner->jobs->len; i++)
    {
      const PawlClassJob *job = g_ptr_array_index (learner->jobs, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "job", job->job);
      pawl_cli_add_string (builder, "procedure", job->procedure);
      pawl_cli_add_time (builder, "opened", job->at);
      pawl_cli_add_int (builder, "steps-done", job->n_steps);
      add_double (builder, "minutes", job->minutes);
      add_double (builder, "of-median", job->ratio);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_json_times (JsonBuilder *builder, const PawlLearner *learner)
{
  json_builder_set_member_name (builder, "times");
  json_builder_begin_array (builder);
  for (guint i = 0; i < learner->times->len; i++)
    {
      const PawlStepTime *time = g_ptr_array_index (learner->times, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "procedure", time->step->procedure);
      pawl_cli_add_string (builder, "step", time->step->step);
      pawl_cli_add_int (builder, "job-count", time->n);
      add_double (builder, "median-minutes", time->median);
      add_double (builder, "of-median", time->ratio);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_json_skills (JsonBuilder *builder, const PawlLearner *learner, GDateTime *now)
{
  json_builder_set_member_name (builder, "skills");
  json_builder_begin_array (builder);
  for (guint i = 0; i < learner->skills->len; i++)
    {
      const PawlClassSkill *skill = g_ptr_array_index (learner->skills, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "skill", skill->skill);
      pawl_cli_add_int (builder, "job-count", skill->n_jobs);
      pawl_cli_add_time (builder, "last", skill->last);
      json_builder_set_member_name (builder, "faded");
      json_builder_add_boolean_value (builder, pawl_class_has_faded (skill->last, now));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_json_learner (JsonBuilder *builder, const PawlLearner *learner, GDateTime *now)
{
  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "person", learner->name);
  pawl_cli_add_time (builder, "last", learner->last);
  json_builder_set_member_name (builder, "rates");
  json_builder_begin_array (builder);
  pawl_learner_visit_rates (learner, add_json_rate, builder);
  json_builder_end_array (builder);
  pawl_cli_add_int (builder, "loops", learner->n_loops);
  add_double (builder, "tries", learner->attempts);
  add_json_jobs (builder, learner);
  add_json_times (builder, learner);
  add_json_skills (builder, learner, now);
  json_builder_end_object (builder);
}

static void
add_json_steps (JsonBuilder *builder, const PawlClass *class)
{
  json_builder_set_member_name (builder, "steps");
  json_builder_begin_array (builder);
  for (guint i = 0; i < class->steps->len; i++)
    {
      const PawlClassStep *step = g_ptr_array_index (class->steps, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "procedure", step->procedure);
      pawl_cli_add_string (builder, "step", step->step);
      pawl_cli_add_string (builder, "number", step->number);
      json_builder_set_member_name (builder, "clean");
      add_json_rate (NULL, "clean", &step->clean, builder);
      pawl_cli_add_int (builder, "wrong", step->n_wrong);
      pawl_cli_add_int (builder, "out", step->n_out);
      pawl_cli_add_int (builder, "reopened", step->n_reopened);
      pawl_cli_add_int (builder, "people-count", step->n_people);
      pawl_cli_add_int (builder, "tripped", step->n_tripped);
      add_double (builder, "chance", step->chance);
      add_double (builder, "median-minutes", step->median);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
print_json (const PawlClass *class, const PawlLearner *only, GDateTime *now)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  pawl_cli_add_int (builder, "job-count", class->n_jobs);
  pawl_cli_add_int (builder, "loops", class->n_loops);
  add_double (builder, "tries", class->attempts);
  json_builder_set_member_name (builder, "people");
  json_builder_begin_array (builder);
  for (guint i = 0; i < class->learners->len; i++)
    if (!only || only == g_ptr_array_index (class->learners, i))
      add_json_learner (builder, g_ptr_array_index (class->learners, i), now);
  json_builder_end_array (builder);
  if (!only)
    add_json_steps (builder, class);
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}

/* ---- the log book ---- */

static gboolean
write_log_book (const PawlLearner *learner, const char *output, const char *paper, GDateTime *now, GError **error)
{
  g_autoptr (PawlShop) shop = pawl_cli_load_shop (error);
  PawlLogBookOptions options = { .issued = now };
  g_autoptr (PawlPages) pages = NULL;
  g_autoptr (GBytes) pdf = NULL;

  if (!shop)
    return FALSE;
  options.shop = shop->name;
  options.paper = shop->paper;
  if (!pawl_cli_read_paper (paper, &options.paper, error))
    return FALSE;
  pages = pawl_log_book_new (learner, &options);
  if (!(pdf = pawl_pages_make_pdf (pages, error)) || !pawl_pages_write (pdf, output, error))
    return FALSE;
  printf ("%s: %u page%s\n", output, pawl_pages_get_n (pages), pawl_pages_get_n (pages) == 1 ? "" : "s");
  return TRUE;
}

/* @now: (out) */
static PawlClass *
load (const char *record_path, const char *from, const char *procedure, GDateTime **now, GError **error)
{
  g_autoptr (PawlRecord) record = NULL;

  if (from)
    {
      *now = pawl_record_host_get_system ()->now (NULL);
      return pawl_nameless_load_class (from, procedure, *now, error);
    }
  if (!(record = pawl_cli_open_record (record_path, PAWL_RECORD_OPEN_READ_ONLY, error)))
    return NULL;
  *now = pawl_record_dup_now (record);
  return pawl_class_load (record, procedure, error);
}

int
pawl_command_class (int argc, char **argv)
{
  g_autofree char *record_path = NULL, *person = NULL, *procedure = NULL, *output = NULL, *paper = NULL, *table_name = NULL, *from = NULL;
  gboolean is_json = FALSE, is_csv = FALSE;
  PawlClassTable table = PAWL_CLASS_TABLE_FIGURES;
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &record_path, "The record; without it, the one in your data folder", "DB" },
    { "from", 0, 0, G_OPTION_ARG_FILENAME, &from, "Of a file that “pawl bundle --without-names” wrote, in place of a record", "FILE" },
    { "person", 0, 0, G_OPTION_ARG_FILENAME, &person, "Only this person's own figures", "NAME" },
    { "procedure", 0, 0, G_OPTION_ARG_FILENAME, &procedure, "Only jobs by this procedure", "ID" },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &output, "Write the log book of --person, to be printed and signed", "OUT.pdf" },
    { "paper", 0, 0, G_OPTION_ARG_FILENAME, &paper, "Paper of the log book: a4 or letter", "PAPER" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &is_json, "Print JSON", NULL },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &is_csv, "Print a table for other programs (RFC 4180)", NULL },
    { "table", 0, 0, G_OPTION_ARG_FILENAME, &table_name, "With --csv: figures (as without it), jobs, times, tries, skills or steps", "TABLE" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlClass) class = NULL;
  g_autoptr (GDateTime) now = NULL;
  const PawlLearner *only = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, "",
                       "What each person did right at once, how long it took, and which steps trip most people, out of the jobs of the record.", 0, 0)
      || !pawl_cli_check_table_options (argv[0], is_json, is_csv))
    return PAWL_EXIT_COULD_NOT;
  if (table_name && (!is_csv || !pawl_class_table_from_name (table_name, &table)))
    {
      pawl_cli_complain (argv[0], is_csv ? "“%s” is no table; it is figures, jobs, times, tries, skills or steps" : "--table %s goes with --csv", table_name);
      return PAWL_EXIT_COULD_NOT;
    }
  if (from && record_path)
    {
      pawl_cli_complain (argv[0], "either --from a file, or --record, not both");
      return PAWL_EXIT_COULD_NOT;
    }
  if (!(class = load (record_path, from, procedure, &now, &error)))
    return pawl_cli_fail (argv[0], error);
  if (person && !(only = pawl_class_lookup (class, person)))
    {
      pawl_cli_complain (argv[0], "“%s” has finished no step%s; without --person it lists who has", person, procedure ? " by that procedure" : "");
      return PAWL_EXIT_COULD_NOT;
    }
  if (output && !only)
    {
      pawl_cli_complain (argv[0], "a log book is one person's; name who by --person");
      return PAWL_EXIT_COULD_NOT;
    }
  if (output)
    return write_log_book (only, output, paper, now, &error) ? PAWL_EXIT_FINE : pawl_cli_fail (argv[0], error);
  if (is_csv)
    {
      g_autofree char *csv = pawl_class_make_csv (class, only, table, now);

      fputs (csv, stdout);
    }
  else if (is_json)
    print_json (class, only, now);
  else
    print_text (class, only, now);
  return PAWL_EXIT_FINE;
}
