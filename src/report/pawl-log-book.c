#include "report/pawl-log-book.h"

#include <math.h>

#include "report/pawl-table.h"

#define BAR_HEIGHT_PT 10
#define CHART_HEIGHT_PT 120
#define LABEL_ROOM_PT 34
#define MOST_LABELS 20 /* of jobs under the chart */

static char *
format_day (GDateTime *time)
{
  return time ? g_date_time_format (time, "%Y-%m-%d") : g_strdup ("");
}

static char *
format_minutes (double minutes)
{
  guint whole = (guint) lround (minutes);

  return g_strdup_printf ("%u h %02u min", whole / 60, whole % 60);
}

/* ---- head ---- */

static void
add_head (PawlFlow *flow, const PawlLearner *learner, const PawlLogBookOptions *options)
{
  double minutes = 0;
  guint n_steps = 0;
  const PawlClassJob *first = learner->jobs->len > 0 ? g_ptr_array_index (learner->jobs, 0) : NULL;
  g_autofree char *from = format_day (first ? first->at : NULL), *to = format_day (learner->last), *title = g_strdup_printf ("Log book: %s", learner->name);
  g_autofree char *jobs = g_strdup_printf ("%u", learner->jobs->len), *steps = NULL, *hours = NULL, *issued = format_day (options->issued);

  for (guint i = 0; i < learner->jobs->len; i++)
    {
      minutes += ((PawlClassJob *) g_ptr_array_index (learner->jobs, i))->minutes;
      n_steps += ((PawlClassJob *) g_ptr_array_index (learner->jobs, i))->n_steps;
    }
  steps = g_strdup_printf ("%u", n_steps);
  hours = format_minutes (minutes);
  pawl_flow_add_title (flow, title);
  pawl_flow_add_fields (flow, (const PawlField[]) {
    { "Shop", options->shop, 6 }, { "From", from, 2 }, { "To", to, 2 }, { "Printed", issued, 2 },
    { "Jobs", jobs, 2 }, { "Steps finished", steps, 2 }, { "Attended time", hours, 4 },
  }, 7);
}

/* ---- tasks and hours ---- */

enum { JOB_DATE, JOB_UNIT, JOB_ID, JOB_STEPS, JOB_TIME, JOB_RATIO, N_JOB_COLUMNS };

static const PawlColumn job_columns[N_JOB_COLUMNS] = {
  { "Opened", 16, PAWL_COLUMN_TEXT }, { "Unit", 40, PAWL_COLUMN_TEXT }, { "Job", 14, PAWL_COLUMN_TEXT }, { "Steps finished", 14, PAWL_COLUMN_NUMBER },
  { "Attended", 18, PAWL_COLUMN_NUMBER }, { "Of median", 12, PAWL_COLUMN_NUMBER },
};

static void
add_jobs (PawlFlow *flow, const PawlLearner *learner)
{
  g_autoptr (PawlTable) table = pawl_table_new (job_columns, N_JOB_COLUMNS);
  g_autofree char *note = g_strdup_printf ("Attended: the time between one answer and the next, in whichever job. Left out are gaps over %d minutes, or over twice what the "
                                           "procedure says of a long step, and the end of waits. Of median: against everybody's whole jobs by the same procedure; blank "
                                           "where the job is no whole one, or there are under %d.", PAWL_CLASS_PAUSE_MINUTES, PAWL_CLASS_LEAST_TIMES);

  for (guint i = 0; i < learner->jobs->len; i++)
    {
      const PawlClassJob *job = g_ptr_array_index (learner->jobs, i);
      g_autofree char *at = format_day (job->at), *id = g_strndup (job->job, 8), *steps = g_strdup_printf ("%u", job->n_steps);
      g_autofree char *time = format_minutes (job->minutes), *ratio = isnan (job->ratio) ? g_strdup ("") : g_strdup_printf ("%.2f", job->ratio);

      pawl_table_begin_row (table);
      pawl_table_add (table, JOB_DATE, PAWL_LETTER_CELL, at);
      pawl_table_add (table, JOB_UNIT, PAWL_LETTER_CELL_STRONG, job->unit);
      pawl_table_add (table, JOB_ID, PAWL_LETTER_NOTE, id);
      pawl_table_add (table, JOB_STEPS, PAWL_LETTER_CELL, steps);
      pawl_table_add (table, JOB_TIME, PAWL_LETTER_CELL, time);
      pawl_table_add (table, JOB_RATIO, PAWL_LETTER_CELL, ratio);
    }
  pawl_flow_add_heading (flow, "Hours and tasks");
  pawl_table_set_note (table, note);
  pawl_flow_add_table (flow, table);
}

/* ---- what was right at once ---- */

enum { SKILL_NAME, SKILL_RIGHT, SKILL_SHARE, SKILL_BAR, N_SKILL_COLUMNS };

static const PawlColumn skill_columns[N_SKILL_COLUMNS] = {
  { "What", 34, PAWL_COLUMN_TEXT }, { "Right at once", 18, PAWL_COLUMN_TEXT }, { "Share, 95 % interval", 24, PAWL_COLUMN_TEXT }, { "0 to 100 %", 30, PAWL_COLUMN_TEXT },
};

/* From 0 to 100 %: the interval a thick line, the share a diamond on it. */
static void
draw_rate (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  const PawlRate *rate = data;
  const double half = 3.2; /* of the diamond, which has room at either end */
  double middle = y + height / 2, at;

  x += half;
  width -= 2 * half;
  at = x + rate->share * width;

  cairo_set_source_rgb (cr, 0.6, 0.6, 0.6);
  cairo_set_line_width (cr, 0.5);
  cairo_rectangle (cr, x, y + 1, width, height - 2);
  cairo_stroke (cr);
  cairo_set_source_rgb (cr, 0.35, 0.35, 0.35);
  cairo_set_line_width (cr, 2.4);
  cairo_move_to (cr, x + rate->low * width, middle);
  cairo_line_to (cr, x + rate->high * width, middle);
  cairo_stroke (cr);
  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_move_to (cr, at, middle - half);
  cairo_line_to (cr, at + half, middle);
  cairo_line_to (cr, at, middle + half);
  cairo_line_to (cr, at - half, middle);
  cairo_fill (cr);
}

static void
add_skill (PawlTable *table, const char *name, const PawlRate *rate)
{
  g_autofree char *right = g_strdup_printf ("%u of %u", rate->n_right, rate->n), *share = NULL;

  if (rate->n == 0)
    return;
  share = g_strdup_printf ("%.0f %%, %.0f to %.0f %%", 100 * rate->share, 100 * rate->low, 100 * rate->high);
  pawl_table_begin_row (table);
  pawl_table_add (table, SKILL_NAME, PAWL_LETTER_CELL_STRONG, name);
  pawl_table_add (table, SKILL_RIGHT, PAWL_LETTER_CELL, right);
  pawl_table_add (table, SKILL_SHARE, PAWL_LETTER_CELL, share);
  pawl_table_add_art (table, SKILL_BAR, BAR_HEIGHT_PT, draw_rate, g_memdup2 (rate, sizeof *rate), g_free);
}

static void
add_tries (PawlFlow *flow, const PawlLearner *learner)
{
  g_autofree char *text = NULL;

  if (learner->n_loops == 0)
    return;
  text = g_strdup_printf ("What was out at first came right in %.1f tries on average (%u reading%s).", learner->attempts, learner->n_loops, learner->n_loops == 1 ? "" : "s");
  pawl_flow_add_space (flow, 4);
  pawl_flow_add_text (flow, PAWL_LETTER_BODY, text);
}

static void
add_skills (PawlFlow *flow, const PawlLearner *learner)
{
  static const char * const kinds[PAWL_N_RULE_KINDS] = {
    [PAWL_RULE_SENSE] = "Which end leads, which face", [PAWL_RULE_SIDE] = "Which side of a pin or web", [PAWL_RULE_INDEX] = "Hole to hole, mark to mark",
    [PAWL_RULE_SPREAD] = "Gaps kept apart", [PAWL_RULE_WHICH] = "Look-alikes to their places", [PAWL_RULE_ORDER] = "Order of a stack",
    [PAWL_RULE_MATE] = "Matched pieces together",
  };
  g_autoptr (PawlTable) table = pawl_table_new (skill_columns, N_SKILL_COLUMNS);
  g_autofree char *note = NULL;

  add_skill (table, "Steps", &learner->steps);
  for (guint kind = 0; kind < PAWL_N_RULE_KINDS; kind++)
    add_skill (table, kinds[kind], &learner->traps_of[kind]);
  add_skill (table, "Guessed before shown", &learner->guesses);
  add_skill (table, "Readings in their limits", &learner->readings);
  add_skill (table, "Holds passed first time", &learner->holds);
  add_skill (table, "Planted faults caught", &learner->planted);
  if (pawl_table_get_n_rows (table) == 0)
    return;
  note = g_strconcat ("The line is the 95 % interval by Wilson's formula: what so few tries are sure of. What was taken back by Undo is not counted.",
                      learner->guesses.n > 0 ? " Guessed before shown: one of two pictures, so half is right by chance." : NULL, NULL);
  pawl_flow_add_heading (flow, "Right at once");
  pawl_table_set_note (table, note);
  pawl_flow_add_table (flow, table);
  add_tries (flow, learner);
}

/* ---- when each skill was used last ---- */

enum { USED_SKILL, USED_JOBS, USED_LAST, USED_FADED, N_USED_COLUMNS };

static const PawlColumn used_columns[N_USED_COLUMNS] = {
  { "Skill", 34, PAWL_COLUMN_TEXT }, { "Jobs", 12, PAWL_COLUMN_NUMBER }, { "Last done", 20, PAWL_COLUMN_TEXT }, { "", 40, PAWL_COLUMN_TEXT },
};

static void
add_used (PawlFlow *flow, const PawlLearner *learner, GDateTime *now)
{
  g_autoptr (PawlTable) table = pawl_table_new (used_columns, N_USED_COLUMNS);

  if (learner->skills->len == 0)
    return;
  for (guint i = 0; i < learner->skills->len; i++)
    {
      const PawlClassSkill *skill = g_ptr_array_index (learner->skills, i);
      g_autofree char *jobs = g_strdup_printf ("%u", skill->n_jobs), *last = format_day (skill->last);

      pawl_table_begin_row (table);
      pawl_table_add (table, USED_SKILL, PAWL_LETTER_CELL_STRONG, skill->skill);
      pawl_table_add (table, USED_JOBS, PAWL_LETTER_CELL, jobs);
      pawl_table_add (table, USED_LAST, PAWL_LETTER_CELL, last);
      pawl_table_add (table, USED_FADED, PAWL_LETTER_CELL, pawl_class_has_faded (skill->last, now) ? "over a year ago, so no longer sure" : "");
    }
  pawl_flow_add_heading (flow, "Skills, last used");
  pawl_table_set_note (table, "A skill is a kind of trap, the tool that a reading asks for, or what is measured.");
  pawl_flow_add_table (flow, table);
}

/* ---- how fast it became ---- */

typedef struct {
  PangoContext     *context; /* borrowed of the flow, which outlives the row */
  PawlLearningCurve curve;
  double           *minutes; /* (array length=curve.n) */
  double            most;
} Chart;

static void
chart_free (gpointer data)
{
  Chart *self = data;

  g_free (self->minutes);
  g_free (self);
}

static void
draw_label (const Chart *self, cairo_t *cr, double x, double y, double share, const char *text)
{
  g_autoptr (PangoLayout) layout = pawl_lettering_new_layout (self->context, PAWL_LETTER_NOTE, text, -1);
  PangoRectangle logical;

  pango_layout_get_extents (layout, NULL, &logical);
  cairo_move_to (cr, x - share * logical.width / PANGO_SCALE, y);
  pango_cairo_show_layout (cr, layout);
}

static void
draw_curve (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  const Chart *self = data;
  const PawlLearningCurve *curve = &self->curve;
  double left = x + LABEL_ROOM_PT, right = x + width - 6, top = y + 6, bottom = y + height - 22, step = (right - left) / (curve->n > 1 ? curve->n - 1 : 1);
  g_autofree char *most = g_strdup_printf ("%.0f min", self->most);
  guint every = 5 * (1 + curve->n / (5 * MOST_LABELS));

  cairo_set_source_rgb (cr, 0, 0, 0);
  cairo_set_line_width (cr, 0.6);
  cairo_move_to (cr, left - 4, top);
  cairo_line_to (cr, left - 4, bottom);
  cairo_line_to (cr, right, bottom);
  cairo_stroke (cr);
  draw_label (self, cr, left - 7, top - 5, 1, most);
  draw_label (self, cr, left - 7, bottom - 5, 1, "0");
  for (guint i = 0; i < curve->n; i++)
    {
      g_autofree char *number = g_strdup_printf ("%u", i + 1);
      double at = left + i * step;

      if (curve->n <= MOST_LABELS || (i + 1) % every == 0)
        draw_label (self, cr, at, bottom + 2, 0.5, number);
      cairo_new_path (cr);
      cairo_arc (cr, at, bottom - self->minutes[i] / self->most * (bottom - top), 2.4, 0, 2 * G_PI);
      cairo_fill (cr);
    }
  draw_label (self, cr, (left + right) / 2, bottom + 11, 0.5, "job");
  cairo_new_path (cr);
  for (guint i = 0; i <= 100; i++)
    {
      double n = 1 + (curve->n - 1) * i / 100.0, minutes = curve->first * pow (n, curve->slope);

      cairo_line_to (cr, left + (n - 1) * step, bottom - minutes / self->most * (bottom - top));
    }
  cairo_set_line_width (cr, 0.9);
  cairo_stroke (cr);
}

static void
add_curve (PawlFlow *flow, const PawlLearner *learner, const char *procedure)
{
  static const PawlRowStyle style = { .space_before = 6 };
  PawlLearningCurve curve;
  PawlCell *cell;
  Chart *chart;
  double left = 0, width = pawl_flow_get_width (flow);
  g_autofree char *words = NULL;
  guint n;

  if (!pawl_learner_fit_curve (learner, procedure, &curve))
    return;
  chart = g_new0 (Chart, 1);
  chart->context = pawl_flow_get_context (flow);
  chart->curve = curve;
  chart->minutes = pawl_learner_list_times (learner, procedure, &n);
  chart->most = curve.first;
  for (guint i = 0; i < n; i++)
    chart->most = MAX (chart->most, chart->minutes[i]);
  words = g_strdup_printf ("%s: each doubling of the number of jobs takes %.0f %% of the time (95 %%: %.0f to %.0f %%), first job about %.0f min. Line: Wright's law, "
                           "least squares of the logarithms.", procedure, 100 * curve.rate, 100 * curve.rate_low, 100 * curve.rate_high, curve.first);
  cell = pawl_cell_new (chart->context, width);
  pawl_cell_add_text (cell, PAWL_LETTER_BODY, words, 0);
  pawl_cell_add_art (cell, width, CHART_HEIGHT_PT, draw_curve, chart, chart_free);
  pawl_flow_take_cells (flow, &cell, &left, 1, &style);
}

static void
add_curves (PawlFlow *flow, const PawlLearner *learner)
{
  g_autoptr (GPtrArray) procedures = pawl_learner_list_procedures (learner);
  gboolean has_one = FALSE;

  pawl_flow_add_heading (flow, "Attended time from job to job");
  for (guint i = 0; i < procedures->len; i++)
    {
      PawlLearningCurve curve;

      has_one = has_one || pawl_learner_fit_curve (learner, g_ptr_array_index (procedures, i), &curve);
      add_curve (flow, learner, g_ptr_array_index (procedures, i));
    }
  if (!has_one)
    {
      g_autofree char *none = g_strdup_printf ("Under %d whole jobs by one procedure: too few for a curve.", PAWL_LEARNING_LEAST_JOBS);

      pawl_flow_add_text (flow, PAWL_LETTER_BODY, none);
    }
}

/* ---- to be signed ---- */

static void
add_signatures (PawlFlow *flow)
{
  static const PawlField lines[] = { { "Apprentice", " ", 4 }, { "Date", " ", 2 }, { "Trainer", " ", 4 }, { "Date", " ", 2 } };

  pawl_flow_set_together (flow, TRUE); /* two people sign one sheet */
  pawl_flow_add_heading (flow, "Signatures");
  pawl_flow_add_space (flow, 14);
  pawl_flow_add_fields (flow, lines, G_N_ELEMENTS (lines));
  pawl_flow_add_space (flow, 10);
  pawl_flow_add_rule (flow, 0.6, 0.4);
  pawl_flow_add_space (flow, 6);
  pawl_flow_add_text (flow, PAWL_LETTER_NOTE, "Made from the shop's own record of jobs. It replaces no official log book. A signature is a judgement at that time, no warranty of what follows.");
  pawl_flow_set_together (flow, FALSE);
}

PawlPages *
pawl_log_book_new (const PawlLearner *learner, const PawlLogBookOptions *options)
{
  g_autofree char *title = g_strdup_printf ("Log book: %s", learner->name);
  const PawlPagesSetting setting = { .paper = options->paper, .title = title, .running = title, .author = options->shop ? options->shop : "", .language = "en",
                                     .issued = options->issued };
  PawlPages *pages = pawl_pages_new (&setting);
  PawlFlow *flow = pawl_pages_get_flow (pages);

  add_head (flow, learner, options);
  add_jobs (flow, learner);
  add_skills (flow, learner);
  add_used (flow, learner, options->issued);
  add_curves (flow, learner);
  add_signatures (flow);
  return pages;
}
