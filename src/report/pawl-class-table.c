#include "report/pawl-class-table.h"

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
  if (learner->guesses.n > 0)
    visit (learner->name, "asked-first", &learner->guesses, data);
  visit_kinds (learner, "asked-first", learner->guesses_of, visit, data);
}

static void
add_csv_line (const char *name, const char *figure, const PawlRate *rate, gpointer csv)
{
  char share[G_ASCII_DTOSTR_BUF_SIZE] = "", low[G_ASCII_DTOSTR_BUF_SIZE], high[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *right = g_strdup_printf ("%u", rate->n_right), *n = g_strdup_printf ("%u", rate->n);

  if (rate->n > 0)
    g_ascii_formatd (share, sizeof share, "%.4f", rate->share);
  g_ascii_formatd (low, sizeof low, "%.4f", rate->low);
  g_ascii_formatd (high, sizeof high, "%.4f", rate->high);
  pawl_csv_append_line (csv, name, figure, right, n, share, low, high);
}

char *
pawl_class_make_csv (const PawlClass *class, const PawlLearner *only)
{
  GString *csv = g_string_new (NULL);

  pawl_csv_append_line (csv, "person", "figure", "right", "of", "share", "low", "high");
  for (guint i = 0; i < class->learners->len; i++)
    if (only == NULL || only == g_ptr_array_index (class->learners, i))
      pawl_learner_visit_rates (g_ptr_array_index (class->learners, i), add_csv_line, csv);
  return g_string_free (csv, FALSE);
}
