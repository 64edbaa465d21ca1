#include "report/pawl-class-table.h"

#include <math.h>

#include "bench/pawl-job-loader.h"
#include "recall/pawl-csv.h"

PawlClass *
pawl_class_load (PawlRecord *record, const char *procedure, GError **error)
{
  g_autoptr(PawlClass) class = pawl_class_new ();
  g_autoptr(GPtrArray) lines = pawl_record_list_jobs (record, error);
  g_autoptr(PawlJobLoader) loader = pawl_job_loader_new (record);

  if (lines == NULL)
    return NULL;
  for (guint i = 0; i < lines->len; i++)
    {
      const PawlJobLine *line = g_ptr_array_index (lines, i);
      g_autoptr(PawlJob) job = NULL;

      if (procedure != NULL && !g_str_equal (line->procedure, procedure))
        continue;
      job = pawl_job_loader_fold (loader, line->id, error);
      if (job == NULL)
        return NULL;
      pawl_class_add_job (class, job);
    }
  pawl_class_finish (class);
  return g_steal_pointer (&class);
}

static void
visit_kinds (const PawlLearner *learner, const char *of, const PawlRate *rates, PawlRateVisit visit, gpointer data)
{
  for (guint kind = 0; kind < PAWL_N_RULE_KINDS; kind++)
    if (rates[kind].n > 0)
      {
        g_autofree char *figure = g_strdup_printf ("%s:%s", of, pawl_rule_kind_get_name ((PawlRuleKind) kind));

        visit (learner->name, figure, &rates[kind], data);
      }
}

void
pawl_learner_visit_rates (const PawlLearner *learner, PawlRateVisit visit, gpointer data)
{
  visit (learner->name, "steps", &learner->steps, data);
  visit (learner->name, "traps", &learner->traps, data);
  visit_kinds (learner, "traps", learner->traps_of, visit, data);
  visit (learner->name, "readings", &learner->readings, data);
  if (learner->holds.n > 0)
    visit (learner->name, "holds", &learner->holds, data);
  if (learner->guesses.n > 0)
    visit (learner->name, "asked-first", &learner->guesses, data);
  visit_kinds (learner, "asked-first", learner->guesses_of, visit, data);
  if (learner->planted.n > 0)
    visit (learner->name, "planted", &learner->planted, data);
  for (guint kind = 0; kind < PAWL_N_PLANTED_KINDS; kind++)
    if (learner->planted_of[kind].n > 0)
      {
        g_autofree char *figure = g_strdup_printf ("planted:%s", pawl_planted_kind_get_name (kind));

        visit (learner->name, figure, &learner->planted_of[kind], data);
      }
}

/* ---- tables ---- */

/* A field that holds a number; "" for NAN. */
typedef struct { char text[G_ASCII_DTOSTR_BUF_SIZE]; } Number;

static Number
format_number (const char *format, double value)
{
  Number number = { "" };

  if (!isnan (value))
    g_ascii_formatd (number.text, sizeof number.text, format, value);
  return number;
}

static Number
format_count (guint n)
{
  Number number;

  g_snprintf (number.text, sizeof number.text, "%u", n);
  return number;
}

static const char *
say_yes (gboolean is_so)
{
  return is_so ? "yes" : "no";
}

static void
add_rate_line (const char *name, const char *figure, const PawlRate *rate, gpointer csv)
{
  pawl_csv_append_line (csv, name, figure, format_count (rate->n_right).text, format_count (rate->n).text, format_number ("%.4f", rate->share).text,
                        format_number ("%.4f", rate->low).text, format_number ("%.4f", rate->high).text);
}

static void
add_rates (GString *csv, const PawlClass *class G_GNUC_UNUSED, const PawlLearner *learner, GDateTime *now G_GNUC_UNUSED)
{
  pawl_learner_visit_rates (learner, add_rate_line, csv);
}

static void
add_jobs (GString *csv, const PawlClass *class G_GNUC_UNUSED, const PawlLearner *learner, GDateTime *now G_GNUC_UNUSED)
{
  for (guint i = 0; i < learner->jobs->len; i++)
    {
      const PawlClassJob *job = g_ptr_array_index (learner->jobs, i);
      g_autofree char *at = g_date_time_format_iso8601 (job->at);

      pawl_csv_append_line (csv, learner->name, job->job, job->procedure, job->unit, at, format_count (job->n_steps).text,
                            format_number ("%.2f", job->minutes).text, say_yes (job->is_whole), format_number ("%.4f", job->ratio).text);
    }
}

static void
add_times (GString *csv, const PawlClass *class G_GNUC_UNUSED, const PawlLearner *learner, GDateTime *now G_GNUC_UNUSED)
{
  for (guint i = 0; i < learner->times->len; i++)
    {
      const PawlStepTime *time = g_ptr_array_index (learner->times, i);

      pawl_csv_append_line (csv, learner->name, time->step->procedure, time->step->step, time->step->number, format_count (time->n).text,
                            format_number ("%.2f", time->median).text, format_count (time->step->n_times).text, format_count (time->step->n_timed).text,
                            format_number ("%.2f", time->step->median).text, format_number ("%.4f", time->ratio).text);
    }
}

static void
add_tries (GString *csv, const PawlClass *class, const PawlLearner *learner, GDateTime *now G_GNUC_UNUSED)
{
  pawl_csv_append_line (csv, learner->name, format_count (learner->n_loops).text, format_number ("%.4f", learner->attempts).text,
                        format_count (class->n_loops).text, format_number ("%.4f", class->attempts).text);
}

static void
add_skills (GString *csv, const PawlClass *class G_GNUC_UNUSED, const PawlLearner *learner, GDateTime *now)
{
  for (guint i = 0; i < learner->skills->len; i++)
    {
      const PawlClassSkill *skill = g_ptr_array_index (learner->skills, i);
      g_autofree char *last = g_date_time_format_iso8601 (skill->last);

      pawl_csv_append_line (csv, learner->name, skill->skill, format_count (skill->n_jobs).text, last, say_yes (pawl_class_has_faded (skill->last, now)));
    }
}

static void
add_steps (GString *csv, const PawlClass *class)
{
  for (guint i = 0; i < class->steps->len; i++)
    {
      const PawlClassStep *step = g_ptr_array_index (class->steps, i);

      pawl_csv_append_line (csv, step->procedure, step->step, step->number, step->command, format_count (step->clean.n_right).text,
                            format_count (step->clean.n).text, format_number ("%.4f", step->clean.share).text, format_number ("%.4f", step->clean.low).text,
                            format_number ("%.4f", step->clean.high).text, format_count (step->n_wrong).text, format_count (step->n_out).text,
                            format_count (step->n_reopened).text, format_count (step->n_tripped).text, format_count (step->n_people).text,
                            format_number ("%.6f", step->chance).text, say_yes (step->chance < PAWL_CLASS_LEAST_CHANCE));
    }
}

static const struct {
  const char *name, *head; /* head: as in the file */
  void      (*add) (GString *csv, const PawlClass *class, const PawlLearner *learner, GDateTime *now); /* (nullable) */
} TABLES[PAWL_N_CLASS_TABLES] = {
  [PAWL_CLASS_TABLE_FIGURES] = { "figures", "person,figure,right,of,share,low,high", add_rates },
  [PAWL_CLASS_TABLE_JOBS] = { "jobs", "person,job,procedure,unit,opened,steps,minutes,whole,of-median", add_jobs },
  [PAWL_CLASS_TABLE_TIMES] = { "times", "person,procedure,step,number,jobs,median,all-times,all-people,all-median,of-median", add_times },
  [PAWL_CLASS_TABLE_TRIES] = { "tries", "person,loops,tries,all-loops,all-tries", add_tries },
  [PAWL_CLASS_TABLE_SKILLS] = { "skills", "person,skill,jobs,last,faded", add_skills },
  [PAWL_CLASS_TABLE_STEPS] = { "steps", "procedure,step,number,command,clean,of,share,low,high,wrong,out,reopened,tripped,people,chance,beyond-chance", NULL },
};

const char *
pawl_class_table_get_name (PawlClassTable table)
{
  g_return_val_if_fail (table < PAWL_N_CLASS_TABLES, "");
  return TABLES[table].name;
}

gboolean
pawl_class_table_from_name (const char *name, PawlClassTable *table)
{
  for (guint i = 0; i < PAWL_N_CLASS_TABLES; i++)
    if (g_str_equal (TABLES[i].name, name))
      {
        *table = (PawlClassTable) i;
        return TRUE;
      }
  return FALSE;
}

char *
pawl_class_make_csv (const PawlClass *class, const PawlLearner *only, PawlClassTable table, GDateTime *now)
{
  GString *csv = g_string_new (NULL);

  g_string_append_printf (csv, "%s\r\n", TABLES[table].head);
  for (guint i = 0; TABLES[table].add != NULL && i < class->learners->len; i++)
    if (only == NULL || only == g_ptr_array_index (class->learners, i))
      TABLES[table].add (csv, class, g_ptr_array_index (class->learners, i), now);
  if (table == PAWL_CLASS_TABLE_STEPS && only == NULL)
    add_steps (csv, class);
  return g_string_free (csv, FALSE);
}
