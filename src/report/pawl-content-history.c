/* The history of the readings: a run chart for each, only when it was asked for. */
#include "history/pawl-run-chart.h"
#include "report/pawl-content.h"

#define CHART_HEIGHT_PT 190
#define CHART_TEXT_PT 7.5

typedef struct {
  GPtrArray         *histories; /* kept as long as the page is */
  const PawlHistory *history;
  char              *job;
} Chart;

static void
chart_free (gpointer data)
{
  Chart *self = data;

  g_ptr_array_unref (self->histories);
  g_free (self->job);
  g_free (self);
}

static void
draw_chart (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  const Chart *self = data;
  const PawlRunChartOptions options = { .palette = PAWL_PALETTE_PRINT, .text = CHART_TEXT_PT, .decimal_mark = '.', .job = self->job };

  cairo_save (cr);
  cairo_translate (cr, x, y);
  pawl_run_chart_draw (self->history, &options, cr, width, height);
  cairo_restore (cr);
}

static void
add_chart (const PawlContent *content, const PawlHistory *history)
{
  static const PawlRowStyle style = { .space_before = 8 };
  double width = pawl_flow_get_width (content->flow), left = 0;
  PawlCell *cell = pawl_cell_new (pawl_flow_get_context (content->flow), width);
  g_autofree char *words = pawl_history_describe (history, '.');
  Chart *chart = g_new0 (Chart, 1);

  *chart = (Chart) { g_ptr_array_ref (content->options->histories), history, g_strdup (pawl_job_get_id (content->job)) };
  pawl_cell_add_art (cell, width, CHART_HEIGHT_PT, draw_chart, chart, chart_free);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, words, 0);
  pawl_flow_take_cells (content->flow, &cell, &left, 1, &style);
}

void
pawl_content_add_history (const PawlContent *content)
{
  const GPtrArray *histories = content->options->histories;

  if (!histories)
    return;
  pawl_flow_add_heading (content->flow, "History of the readings");
  pawl_flow_add_lead_in (content->flow, PAWL_LETTER_BODY, histories->len == 0
                         ? "No reading of this procedure was taken in two jobs or more."
                         : "All jobs of this procedure in the record; the arrow marks this one. “Chance” is where a value stays when nothing but chance is at work "
                           "(mean and 2.66 mean moving ranges; ASTM E2587): a value beyond it is unlike the others, not out of limits.");
  for (guint i = 0; i < histories->len; i++)
    add_chart (content, g_ptr_array_index (histories, i));
}
