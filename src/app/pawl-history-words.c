#include "app/pawl-history-words.h"

#include <glib/gi18n.h>
#include <math.h>

PawlRunChartWords
pawl_history_words_of_chart (void)
{
  return (PawlRunChartWords) {
    .limit = _("limit"), .chance = _("chance"), .mean = _("mean"), .as_left = _("as left"), .as_found = _("as found"), .beyond = _("beyond chance"),
    .run = _("end of a run"), .serial = _(", serial "), .ranges = _("from one job to the next"), .nothing = _("Not measured in any job."),
  };
}

static const char *
get_rule_words (PawlChartRule rule)
{
  switch (rule)
    {
    case PAWL_CHART_RULE_BEYOND_3:   return _("beyond the limits of chance");
    case PAWL_CHART_RULE_2_OF_3:     return _("2 of 3 far from the mean, on one side");
    case PAWL_CHART_RULE_4_OF_5:     return _("4 of 5 off the mean, on one side");
    case PAWL_CHART_RULE_8_IN_A_ROW: return _("8 in a row on one side of the mean");
    case PAWL_CHART_RULE_NONE:
    default:                         return "";
    }
}

static void
append_runs (GString *text, const PawlHistory *history)
{
  g_autoptr(GArray) runs = pawl_history_list_runs (history);
  guint first = runs->len > PAWL_HISTORY_MOST_RUNS ? runs->len - PAWL_HISTORY_MOST_RUNS : 0;

  if (runs->len == 0)
    {
      g_string_append (text, _("\nNothing stands out of chance."));
      return;
    }
  g_string_append (text, _("\nUnlike chance, newest first:"));
  for (guint i = runs->len; i > first; i--)
    {
      const PawlHistoryRun *run = &g_array_index (runs, PawlHistoryRun, i - 1);
      g_autofree char *day = g_date_time_format (((const PawlHistoryPoint *) history->points->pdata[run->last])->at, "%Y-%m-%d");

      g_string_append_printf (text, "\n%s %s  %s", run->rule == PAWL_CHART_RULE_BEYOND_3 ? "○" : "◇", day, get_rule_words (run->rule));
    }
  if (first > 0)
    g_string_append_printf (text, g_dngettext (NULL, "\nand %u before", "\nand %u before", first), first);
}

static void
append_chart (GString *text, const PawlHistory *history, char decimal_mark)
{
  g_autofree char *mean = pawl_history_format (history, history->chart.mean, decimal_mark);
  g_autofree char *low = pawl_history_format (history, history->chart.low, decimal_mark);
  g_autofree char *high = pawl_history_format (history, history->chart.high, decimal_mark);

  g_string_append_printf (text, _(" As left: mean %s; chance alone keeps it from %s to %s."), mean, low, high);
}

static void
append_correction (GString *text, const PawlHistory *history, char decimal_mark)
{
  g_autofree char *correction = pawl_history_format (history, history->correction, decimal_mark);

  g_string_append_printf (text, _("\nCorrected in %u: by %s%s on the mean."), history->n_corrected, history->correction > 0 ? "+" : "", correction);
  if (history->n_remark > 0)
    g_string_append_printf (text, _(" Noted with it most often (%u): %s."), history->n_remark, history->remark);
}

char *
pawl_history_words_describe (const PawlHistory *history, char decimal_mark)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, _("%s: measured in %u of %u jobs."), history->name, history->points->len, history->n_jobs);
  if (history->n_of_others > 0)
    g_string_append_printf (text, _(" Left out: %u of another variant, which has other limits."), history->n_of_others);
  if (history->has_chart)
    append_chart (text, history, decimal_mark);
  else if (history->points->len > 0)
    g_string_append (text, _(" Limits of chance take two values as left or more."));
  if (history->n_corrected > 0)
    append_correction (text, history, decimal_mark);
  if (history->has_chart)
    append_runs (text, history);
  return g_string_free (text, FALSE);
}
