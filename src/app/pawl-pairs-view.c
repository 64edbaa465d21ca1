#include "app/pawl-pairs-view.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/pawl-class-charts.h"
#include "app/pawl-class-figures.h"
#include "app/pawl-phrases.h"

static char *
describe_bias (const PawlPairFigures *figures)
{
  double bias = figures->bias / pawl_unit_get_scale (figures->unit);
  const char *symbol = pawl_unit_get_symbol (figures->unit);

  if (fabs (bias) < 1e-12)
    return g_strdup (_("on average the same as the other’s"));
  return g_strdup_printf (bias > 0 ? _("on average %.3g %s larger than the other’s") : _("on average %.3g %s smaller than the other’s"), fabs (bias), symbol);
}

char *
pawl_pairs_describe (const PawlPairFigures *figures)
{
  g_autofree char *bias = describe_bias (figures);
  g_autofree char *count = g_strdup_printf (g_dngettext (NULL, "%u reading by two", "%u readings by two", figures->n), figures->n);
  g_autofree char *spread = isnan (figures->spread) ? g_strdup (_("no spread out of one"))
                                                    : g_strdup_printf (_("spread %.3g %s"), figures->spread / pawl_unit_get_scale (figures->unit),
                                                                       pawl_unit_get_symbol (figures->unit));
  g_autofree char *beyond = g_strdup_printf (g_dngettext (NULL, "%u differs by more than the uncertainty of both", "%u differ by more than the uncertainty of both", figures->n_beyond),
                                             figures->n_beyond);

  return g_strdup_printf (_("%s: %s, %s; %s."), count, bias, spread, beyond);
}

char *
pawl_pairs_describe_study (const PawlPairFigures *figures)
{
  double scale = pawl_unit_get_scale (figures->unit);
  const char *symbol = pawl_unit_get_symbol (figures->unit);

  if (!figures->has_study)
    return NULL;
  return g_strdup_printf (_("Gauge study of %u parts, each measured %u times by both: %.3g %s in one hand (repeatability), %.3g %s between the two (reproducibility), "
                            "%.0f %% of all spread; standard deviations, by analysis of variance."),
                          figures->study.n_parts, figures->study.n_trials, figures->study.repeatability / scale, symbol,
                          figures->study.reproducibility / scale, symbol, 100 * figures->study.share);
}

/* ---- one reading ---- */

static char *
describe_difference (const PawlPairDifference *pair)
{
  double scale = pawl_unit_get_scale (pair->unit), difference = fabs (pair->difference) / scale;
  const char *symbol = pawl_unit_get_symbol (pair->unit);
  g_autofree char *words = difference < 1e-12 ? g_strdup (_("Both are the same."))
                           : g_strdup_printf (pair->difference > 0 ? _("The second is %.4g %s larger.") : _("The second is %.4g %s smaller."), difference, symbol);

  if (pair->expanded <= 0)
    return g_strdup_printf (_("%s The uncertainty of both is not known."), words);
  return g_strdup_printf (pair->is_beyond ? _("%s That is more than the uncertainty of both, U = %.2g %s.") : _("%s That is within the uncertainty of both, U = %.2g %s."), words,
                          pair->expanded / scale, symbol);
}

char *
pawl_pairs_describe_difference (const PawlAskState *ask)
{
  PawlPairDifference pair;

  return pawl_ask_compare_pair (ask, &pair) ? describe_difference (&pair) : NULL;
}

char *
pawl_pairs_describe_second (const PawlAskState *ask)
{
  const PawlAttempt *second = ask->is_hidden ? NULL : ask->paired[1];
  g_autofree char *value = second != NULL ? pawl_phrase_describe_value (second, '.') : NULL, *difference = pawl_pairs_describe_difference (ask);

  if (value == NULL)
    return NULL;
  return g_strdup_printf (difference != NULL ? _("Measured again by %s: %s. %s") : _("Measured again by %s: %s."), pawl_entry_get_person (second->entry), value,
                          difference);
}

/* ---- all of a person ---- */

static GtkWidget *
append (GtkWidget *box, const char *text, const char *css_class)
{
  GtkWidget *label = pawl_class_text_new (text, css_class);

  gtk_box_append (GTK_BOX (box), label);
  return label;
}

void
pawl_pairs_view_append (GtkWidget *box, const PawlProgress *progress, PawlSkillTitle title, gpointer data)
{
  if (progress == NULL || progress->pairs->len == 0)
    return;
  gtk_widget_set_margin_top (append (box, _("Readings by two, this person’s against the other’s"), "row-title"), 14);
  for (guint i = 0; i < progress->pairs->len; i++)
    {
      const PawlPairFigures *figures = progress->pairs->pdata[i];
      g_autofree char *words = pawl_pairs_describe (figures), *study = pawl_pairs_describe_study (figures);

      append (box, title != NULL ? title (figures->instrument, data) : figures->instrument, "strong");
      append (box, words, NULL);
      if (study != NULL)
        append (box, study, NULL);
    }
}

void
pawl_found_view_append (GtkWidget *box, const PawlProgress *progress)
{
  g_autofree char *rate = NULL, *text = NULL;

  if (progress == NULL || progress->found.n == 0)
    return;
  rate = pawl_class_words_of_rate (&progress->found);
  text = g_strdup_printf (_("Planted faults found before they were shown: %s"), rate);
  append (box, text, NULL);
}
