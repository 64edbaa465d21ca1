#include "app/pawl-class-figures.h"

#include <glib/gi18n.h>
#include <math.h>

#include "app/pawl-class-charts.h"
#include "report/pawl-class-table.h"

/* A step that most people do right is no news, nor one that takes them as long as others. */
#define MOST_STEPS 10
#define MOST_SLOW 5

GtkWidget *
pawl_class_text_new (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

static void
append_text (GtkBox *box, const char *text, const char *css_class)
{
  gtk_box_append (box, pawl_class_text_new (text, css_class));
}

static void
append_heading (GtkBox *box, const char *text)
{
  GtkWidget *heading = pawl_class_text_new (text, "row-title");

  gtk_widget_set_margin_top (heading, 14);
  gtk_box_append (box, heading);
}

/* ---- a small table ---- */

/* @heads: (array length=n) (element-type utf8). The first column takes the room that is left. */
static GtkGrid *
append_grid (GtkBox *box, const char * const *heads, guint n)
{
  GtkGrid *grid = GTK_GRID (gtk_grid_new ());

  gtk_grid_set_column_spacing (grid, 24);
  gtk_grid_set_row_spacing (grid, 4);
  for (guint i = 0; i < n; i++)
    gtk_grid_attach (grid, pawl_class_text_new (heads[i], "secondary"), (int) i, 0, 1, 1);
  gtk_box_append (box, GTK_WIDGET (grid));
  return grid;
}

static void
attach_row (GtkGrid *grid, guint row, const char * const *cells, guint n)
{
  for (guint i = 0; i < n; i++)
    gtk_grid_attach (grid, pawl_class_text_new (cells[i], NULL), (int) i, (int) row, 1, 1);
}

/* ---- one person ---- */

/* (transfer full) */
static char *
name_figure (const char *figure)
{
  if (g_str_equal (figure, "steps"))
    return g_strdup (_("Steps right at once"));
  if (g_str_equal (figure, "traps"))
    return g_strdup (_("Traps met"));
  if (g_str_equal (figure, "readings"))
    return g_strdup (_("Readings right at once"));
  if (g_str_equal (figure, "holds"))
    return g_strdup (_("Holds passed first time"));
  if (g_str_equal (figure, "asked-first"))
    return g_strdup (_("Asked first, right"));
  if (g_str_equal (figure, "planted"))
    return g_strdup (_("Planted faults caught"));
  return g_strdup_printf (_("of kind %s"), strchr (figure, ':') + 1);
}

static void
add_rate (const char *name, const char *figure, const PawlRate *rate, gpointer chart)
{
  g_autofree char *title = name_figure (figure);
  g_autofree char *label = strchr (figure, ':') != NULL ? g_strdup_printf ("    %s", title) : g_strdup (title);

  pawl_rate_chart_add (chart, label, rate, g_str_has_prefix (figure, "asked-first"));
}

static void
show_loops (GtkBox *box, const PawlClass *class, const PawlLearner *learner)
{
  g_autofree char *line = NULL;

  if (learner->n_loops == 0)
    return;
  line = g_strdup_printf (g_dngettext (NULL, "What was out at first came right in %.1f tries on average (%u reading); everybody’s in %.1f (%u).",
                                       "What was out at first came right in %.1f tries on average (%u readings); everybody’s in %.1f (%u).", learner->n_loops),
                          learner->attempts, learner->n_loops, class->attempts, class->n_loops);
  append_text (box, line, NULL);
}

static void
show_curve (GtkBox *box, const PawlClass *class, const PawlLearner *learner, const char *procedure)
{
  PawlLearningCurve curve;
  gboolean has_curve = pawl_learner_fit_curve (learner, procedure, &curve);
  double median = pawl_class_get_median_time (class, procedure);
  guint n;
  g_autofree double *minutes = pawl_learner_list_times (learner, procedure, &n);
  g_autofree char *title = g_strdup_printf (_("Attended time of %s"), procedure), *words = NULL;

  if (n == 0)
    return;
  append_heading (box, title);
  gtk_box_append (box, pawl_curve_chart_new (title, minutes, n, has_curve ? &curve : NULL, median));
  if (has_curve)
    words = g_strdup_printf (_("Twice as many jobs take %.0f %% of the time (%.0f to %.0f %%), by Wright’s law fitted to %u jobs; the band is where that line lies in 95 of 100 cases. "
                               "Half of all such jobs in this record took longer than %.0f min."),
                             100 * curve.rate, 100 * curve.rate_low, 100 * curve.rate_high, curve.n, median);
  else
    words = g_strdup_printf (_("No learning curve: it takes %d whole jobs. Half of all such jobs in this record took longer than %.0f min."), PAWL_LEARNING_LEAST_JOBS, median);
  append_text (box, words, NULL);
}

static void
add_slow_step (GtkGrid *grid, guint row, const PawlStepTime *time)
{
  g_autofree char *step = g_strdup_printf (_("%s, step %s: %s"), time->step->procedure, time->step->number, time->step->command);
  g_autofree char *own = g_strdup_printf (g_dngettext (NULL, "%.1f min, %u job", "%.1f min, %u jobs", time->n), time->median, time->n);
  g_autofree char *all = g_strdup_printf (g_dngettext (NULL, "%.1f min, %u time", "%.1f min, %u times", time->step->n_times), time->step->median, time->step->n_times);
  g_autofree char *ratio = g_strdup_printf ("%.2f", time->ratio);
  const char * const cells[] = { step, own, all, ratio };

  attach_row (grid, row, cells, G_N_ELEMENTS (cells));
}

/* Where there is nothing to compare with, it is said, once. */
static void
show_too_few (GtkBox *box, const PawlLearner *learner)
{
  g_autofree char *words = g_strdup_printf (_("Steps are compared with everybody’s once somebody else has done them too, and after %d jobs."), PAWL_CLASS_LEAST_TIMES);

  if (learner->times->len > 0 && isnan (((PawlStepTime *) learner->times->pdata[0])->ratio))
    append_text (box, words, "secondary");
}

static void
show_slow_steps (GtkBox *box, const PawlLearner *learner)
{
  const char * const heads[] = { _("Step"), _("Own median"), _("Everybody’s"), _("Ratio") };
  GtkGrid *grid = NULL;

  for (guint i = 0; i < learner->times->len && i < MOST_SLOW; i++)
    {
      const PawlStepTime *time = learner->times->pdata[i];

      if (!(time->ratio > 1))
        break;
      if (grid == NULL)
        {
          append_heading (box, _("Steps that take longer than everybody’s median"));
          grid = append_grid (box, heads, G_N_ELEMENTS (heads));
        }
      add_slow_step (grid, i + 1, time);
    }
}

static void
add_skill (GtkGrid *grid, guint row, const PawlClassSkill *skill, GDateTime *now)
{
  g_autofree char *jobs = g_strdup_printf ("%u", skill->n_jobs), *day = g_date_time_format (skill->last, "%Y-%m-%d");
  g_autofree char *last = pawl_class_has_faded (skill->last, now) ? g_strdup_printf (_("%s: over a year ago, so no longer sure"), day) : g_strdup (day);
  const char * const cells[] = { skill->skill, jobs, last };

  attach_row (grid, row, cells, G_N_ELEMENTS (cells));
}

static void
show_skills (GtkBox *box, const PawlLearner *learner, GDateTime *now)
{
  const char * const heads[] = { _("Skill"), _("Jobs"), _("Last done") };
  GtkGrid *grid;

  if (learner->skills->len == 0)
    return;
  append_heading (box, _("Skills, last used"));
  grid = append_grid (box, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < learner->skills->len; i++)
    add_skill (grid, i + 1, learner->skills->pdata[i], now);
}

void
pawl_class_figures_show_learner (GtkBox *box, const PawlClass *class, const PawlLearner *learner, GDateTime *now)
{
  g_autoptr(GPtrArray) procedures = pawl_learner_list_procedures (learner);
  g_autofree char *last = learner->last != NULL ? g_date_time_format (learner->last, "%Y-%m-%d") : NULL, *jobs = NULL;
  GtkWidget *chart = pawl_rate_chart_new (learner->name);

  jobs = g_strdup_printf (g_dngettext (NULL, "%u job", "%u jobs", learner->jobs->len), learner->jobs->len);
  if (last != NULL)
    {
      g_autofree char *line = g_strdup_printf (pawl_learner_has_faded (learner, now) ? _("%s, last step finished %s: over a year ago, so no longer sure")
                                                                                      : _("%s, last step finished %s"), jobs, last);

      append_text (box, line, NULL);
    }
  pawl_learner_visit_rates (learner, add_rate, chart);
  gtk_box_append (box, chart);
  if (learner->guesses.n > 0)
    append_text (box, _("Asked first: of two pictures, so half is right by chance; the mark stands there."), "secondary");
  show_loops (box, class, learner);
  for (guint i = 0; i < procedures->len; i++)
    show_curve (box, class, learner, procedures->pdata[i]);
  show_slow_steps (box, learner);
  show_too_few (box, learner);
  show_skills (box, learner, now);
}

/* ---- everybody ---- */

static void
show_rates (GtkBox *box, const PawlClass *class, const char *title, gsize offset)
{
  GtkWidget *chart = NULL;

  for (guint i = 0; i < class->learners->len; i++)
    {
      const PawlLearner *learner = class->learners->pdata[i];
      const PawlRate *rate = (const PawlRate *) G_STRUCT_MEMBER_P (learner, offset);

      if (rate->n == 0)
        continue;
      if (chart == NULL)
        {
          append_heading (box, title);
          gtk_box_append (box, chart = pawl_rate_chart_new (title));
        }
      pawl_rate_chart_add (chart, learner->name, rate, FALSE);
    }
}

static void
add_time (GtkGrid *grid, guint row, const PawlLearner *learner, const PawlClassProcedure *procedure)
{
  guint n;
  double median = pawl_learner_get_median_time (learner, procedure->id, &n);
  g_autofree char *jobs = g_strdup_printf ("%u", n), *minutes = g_strdup_printf (_("%.0f min"), median);
  g_autofree char *ratio = n < PAWL_CLASS_LEAST_TIMES ? g_strdup (_("too few jobs")) : g_strdup_printf ("%.2f", median / procedure->median);
  const char * const cells[] = { learner->name, jobs, minutes, ratio };

  if (n > 0)
    attach_row (grid, row, cells, G_N_ELEMENTS (cells));
}

static void
show_times (GtkBox *box, const PawlClass *class, const PawlClassProcedure *procedure)
{
  const char * const heads[] = { _("Person"), _("Whole jobs"), _("Own median"), _("Ratio") };
  g_autofree char *title = g_strdup_printf (_("Attended time of %s"), procedure->id);
  g_autofree char *words = g_strdup_printf (_("Half of all %u whole jobs took longer than %.0f min."), procedure->n_whole, procedure->median);
  GtkGrid *grid;

  if (procedure->n_whole == 0)
    return;
  append_heading (box, title);
  append_text (box, words, NULL);
  grid = append_grid (box, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < class->learners->len; i++)
    add_time (grid, i + 1, class->learners->pdata[i], procedure);
}

/* (transfer full): "gauge, sense"; "" when all are fresh */
static char *
list_faded (const PawlLearner *learner, GDateTime *now)
{
  g_autoptr(GString) list = g_string_new (NULL);

  for (guint i = 0; i < learner->skills->len; i++)
    {
      const PawlClassSkill *skill = learner->skills->pdata[i];

      if (pawl_class_has_faded (skill->last, now))
        g_string_append_printf (list, "%s%s", list->len > 0 ? ", " : "", skill->skill);
    }
  return g_string_free (g_steal_pointer (&list), FALSE);
}

static void
add_person (GtkGrid *grid, guint row, const PawlLearner *learner, GDateTime *now)
{
  g_autofree char *jobs = g_strdup_printf ("%u", learner->jobs->len), *last = learner->last != NULL ? g_date_time_format (learner->last, "%Y-%m-%d") : g_strdup ("–");
  g_autofree char *tries = learner->n_loops > 0 ? g_strdup_printf ("%.1f (%u)", learner->attempts, learner->n_loops) : g_strdup ("–");
  g_autofree char *faded = list_faded (learner, now);
  const char * const cells[] = { learner->name, jobs, tries, last, faded };

  attach_row (grid, row, cells, G_N_ELEMENTS (cells));
}

static void
show_people (GtkBox *box, const PawlClass *class, GDateTime *now)
{
  const char * const heads[] = { _("Person"), _("Jobs"), _("Tries until right (readings)"), _("Last step finished"), _("Skills not used for over a year") };
  GtkGrid *grid;

  append_heading (box, _("People"));
  grid = append_grid (box, heads, G_N_ELEMENTS (heads));
  for (guint i = 0; i < class->learners->len; i++)
    add_person (grid, i + 1, class->learners->pdata[i], now);
  if (class->n_loops > 0)
    {
      g_autofree char *words = g_strdup_printf (_("Everybody together: %.1f tries on average, of what was out at first (%u readings)."), class->attempts, class->n_loops);

      append_text (box, words, "secondary");
    }
}

static void
show_step (GtkBox *box, const PawlClassStep *step)
{
  g_autofree char *clean = pawl_class_words_of_rate (&step->clean);
  g_autofree char *title = g_strdup_printf (_("%s, step %s: %s"), step->procedure, step->number, step->command);
  g_autofree char *people = g_strdup_printf (g_dngettext (NULL, "Tripped %u of %u person.", "Tripped %u of %u people.", step->n_people), step->n_tripped, step->n_people);
  g_autofree char *counts = g_strdup_printf (_("Without trouble %s: wrong way %u, reading out %u, done again %u."), clean, step->n_wrong, step->n_out, step->n_reopened);
  g_autofree char *evidence = g_strjoin (" ", people, counts, step->chance < PAWL_CLASS_LEAST_CHANCE ? _("More people than the other steps, beyond chance.")
                                                                                                      : _("Not more than chance may do."), NULL);

  append_text (box, title, "strong");
  append_text (box, evidence, NULL);
}

static void
show_steps (GtkBox *box, const PawlClass *class)
{
  guint n = 0;

  append_heading (box, _("Steps that trip most people"));
  for (guint i = 0; i < class->steps->len && n < MOST_STEPS; i++)
    {
      const PawlClassStep *step = class->steps->pdata[i];

      if (step->clean.n_right == step->clean.n)
        continue;
      show_step (box, step);
      n++;
    }
  if (n == 0)
    append_text (box, _("None so far."), NULL);
}

void
pawl_class_figures_show_everybody (GtkBox *box, const PawlClass *class, GDateTime *now)
{
  show_steps (box, class);
  show_rates (box, class, _("Steps right at once"), G_STRUCT_OFFSET (PawlLearner, steps));
  show_rates (box, class, _("Traps met"), G_STRUCT_OFFSET (PawlLearner, traps));
  show_rates (box, class, _("Holds passed first time"), G_STRUCT_OFFSET (PawlLearner, holds));
  show_rates (box, class, _("Planted faults caught"), G_STRUCT_OFFSET (PawlLearner, planted));
  for (guint i = 0; i < class->procedures->len; i++)
    show_times (box, class, class->procedures->pdata[i]);
  show_people (box, class, now);
}
