/* What a reading was in one job after another. */
#include <math.h>
#include <string.h>

#include "history/pawl-history.h"
#include "job/pawl-results.h"

G_DEFINE_QUARK (pawl-history-error-quark, pawl_history_error)

/* Remarks are counted while jobs are added; kept beside the public part. */
typedef struct {
  PawlHistory public;
  GHashTable *remarks; /* text → count */
} Self;

static void
point_free (PawlHistoryPoint *self)
{
  g_free (self->job);
  g_free (self->serial);
  g_date_time_unref (self->at);
  g_free (self->of_variant);
  g_free (self);
}

PawlHistory *
pawl_history_new (const char *procedure, const char *reading, const char *serial)
{
  Self *self = g_new0 (Self, 1);

  self->public.procedure = g_strdup (procedure);
  self->public.reading = g_strdup (reading);
  self->public.serial = g_strdup (serial != NULL ? serial : "");
  self->public.name = g_strdup (reading);
  self->public.limits = g_strdup ("");
  self->public.remark = g_strdup ("");
  self->public.low = self->public.high = self->public.correction = NAN;
  self->public.points = g_ptr_array_new_with_free_func ((GDestroyNotify) point_free);
  self->remarks = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return &self->public;
}

void
pawl_history_free (PawlHistory *self)
{
  g_free (self->procedure);
  g_free (self->reading);
  g_free (self->serial);
  g_free (self->name);
  g_free (self->limits);
  g_free (self->remark);
  g_ptr_array_unref (self->points);
  g_hash_table_unref (((Self *) self)->remarks);
  g_free (self);
}

/* ---- one job ---- */

/* (nullable): the line of results that the reading is part of, as found or as left */
static const PawlResult *
find_result (GPtrArray *results, const char *id)
{
  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = results->pdata[i];

      if (g_str_equal (result->as_left->ask->id, id) || (result->as_found != NULL && g_str_equal (result->as_found->ask->id, id)))
        return result;
    }
  return NULL;
}

/* -1: the reading as a whole; else the place. FALSE when there is no such place, or one has to be named. */
static gboolean
find_spot (const PawlReading *reading, const char *spot, int *index)
{
  *index = -1;
  if (spot == NULL)
    return reading->spots->len == 0;
  for (guint i = 0; i < reading->spots->len; i++)
    if (g_str_equal (((PawlReadingSpot *) reading->spots->pdata[i])->id, spot))
      *index = (int) i;
  return *index >= 0;
}

/* A place has no name in the verdict but that of the one it was judged under: the values are in the order of the places. */
static PawlQuantity *
peek_value (const PawlAttempt *attempt, int spot)
{
  if (attempt == NULL || attempt->is_void)
    return NULL;
  if (spot < 0)
    return attempt->quantity;
  return attempt->values != NULL && (guint) spot < attempt->values->len ? attempt->values->pdata[spot] : NULL;
}

static double
take_value (PawlHistory *self, const PawlAttempt *attempt, int spot)
{
  const PawlQuantity *value = peek_value (attempt, spot);

  if (value == NULL)
    return NAN;
  if (self->unit == NULL)
    self->unit = pawl_quantity_get_unit (value);
  if (pawl_unit_get_dimension (pawl_quantity_get_unit (value)) != pawl_unit_get_dimension (self->unit))
    return NAN;
  return pawl_quantity_get_double (value, self->unit);
}

static double
get_end (const PawlHistory *self, const PawlQuantity *end)
{
  if (end == NULL || self->unit == NULL || pawl_unit_get_dimension (pawl_quantity_get_unit (end)) != pawl_unit_get_dimension (self->unit))
    return NAN;
  return pawl_quantity_get_double (end, self->unit);
}

/* The newest job's words and limits are the ones shown. */
static void
take_limits (PawlHistory *self, const PawlAskState *state, int spot)
{
  const PawlReading *reading = state->ask->reading;
  const PawlReadingSpot *place = spot >= 0 ? reading->spots->pdata[spot] : NULL;
  const PawlLimits *limits = place != NULL && place->limits != NULL ? place->limits : state->limits != NULL ? state->limits : reading->limits;

  g_free (self->name);
  self->name = place != NULL ? g_strdup_printf ("%s, %s", state->ask->name, place->name) : g_strdup (state->ask->name);
  g_free (self->limits);
  self->limits = g_strdup (pawl_limits_get_text (limits));
  self->low = self->high = NAN;
  if (spot >= 0 && place->limits == NULL && reading->of != PAWL_OF_EACH)
    return; /* they are for what the places come to */
  self->low = get_end (self, pawl_limits_peek_low (limits));
  self->high = get_end (self, pawl_limits_peek_high (limits));
}

static void
count_remarks (PawlHistory *self, const PawlAskState *state)
{
  GHashTable *remarks = ((Self *) self)->remarks;

  for (guint i = 0; i < state->attempts->len; i++)
    {
      const char *remark = pawl_entry_get (((PawlAttempt *) state->attempts->pdata[i])->entry, "remark");

      if (remark != NULL)
        g_hash_table_insert (remarks, g_strdup (remark), GUINT_TO_POINTER (GPOINTER_TO_UINT (g_hash_table_lookup (remarks, remark)) + 1));
    }
}

/* (nullable) (transfer full): the limits that a value is held against, when variants have different ones. */
static char *
dup_limits_of_variant (const PawlAskState *state, int spot)
{
  const PawlReading *reading = state->ask->reading;
  gboolean has_own = spot >= 0 && ((PawlReadingSpot *) reading->spots->pdata[spot])->limits != NULL;

  return reading->by_variant->len > 0 && !has_own && state->limits != NULL ? g_strdup (pawl_limits_get_text (state->limits)) : NULL;
}

static void
add_point (PawlHistory *self, PawlJob *job, const PawlResult *result, int spot)
{
  PawlHistoryPoint *point = g_new0 (PawlHistoryPoint, 1);
  GPtrArray *entries = pawl_job_get_entries (job);

  point->job = g_strdup (pawl_job_get_id (job));
  point->serial = g_strdup (pawl_job_get_field (job, "serial"));
  point->at = g_date_time_ref (pawl_entry_peek_at (entries->pdata[0]));
  point->found = take_value (self, result->found, spot);
  point->left = take_value (self, result->left, spot);
  point->n_attempts = result->n_attempts;
  point->of_variant = dup_limits_of_variant (result->as_left, spot);
  if (result->found != NULL)
    point->found_verdict = result->found->verdict.kind;
  if (result->left != NULL)
    {
      point->left_verdict = result->left->verdict.kind;
      point->is_overdue = pawl_entry_get (result->left->entry, "overdue") != NULL;
    }
  point->is_corrected = !isnan (point->found) && !isnan (point->left) && point->found_verdict == PAWL_VERDICT_OUT && point->left_verdict == PAWL_VERDICT_IN;
  if (point->is_corrected)
    count_remarks (self, result->as_left);
  if (isnan (point->found) && isnan (point->left))
    point_free (point);
  else
    g_ptr_array_add (self->points, point);
}

gboolean
pawl_history_add_job (PawlHistory *self, PawlJob *job, GError **error)
{
  g_auto(GStrv) names = g_strsplit (self->reading, ".", 2);
  g_autoptr(GPtrArray) results = NULL;
  const PawlResult *result;
  int spot = -1;

  g_return_val_if_fail (pawl_job_get_entries (job)->len > 0, FALSE);
  if (*self->serial != '\0' && g_ascii_strcasecmp (pawl_job_get_field (job, "serial"), self->serial) != 0)
    return TRUE;
  results = pawl_results_of_readings (job);
  result = names[0] != NULL ? find_result (results, names[0]) : NULL;
  if (result == NULL || pawl_limits_get_kind (result->as_left->ask->reading->limits) == PAWL_LIMITS_CHOICE)
    {
      g_set_error (error, PAWL_HISTORY_ERROR, PAWL_HISTORY_ERROR_NO_READING, "%s asks no reading “%s” that has a number", self->procedure, self->reading);
      return FALSE;
    }
  if (!find_spot (result->as_left->ask->reading, names[1], &spot))
    {
      const GPtrArray *spots = result->as_left->ask->reading->spots;

      if (spots->len > 0)
        g_set_error (error, PAWL_HISTORY_ERROR, PAWL_HISTORY_ERROR_NO_READING, "“%s” is taken at %u places; name one of them, like %s.%s", names[0], spots->len,
                     names[0], ((PawlReadingSpot *) spots->pdata[0])->id);
      else
        g_set_error (error, PAWL_HISTORY_ERROR, PAWL_HISTORY_ERROR_NO_READING, "“%s” is taken at one place; leave out “.%s”", names[0], names[1]);
      return FALSE;
    }
  self->n_jobs++;
  add_point (self, job, result, spot);
  take_limits (self, result->as_left, spot);
  return TRUE;
}

/* ---- all of them ---- */

static int
compare_points (gconstpointer a, gconstpointer b)
{
  const PawlHistoryPoint *first = *(const PawlHistoryPoint *const *) a, *second = *(const PawlHistoryPoint *const *) b;
  int order = g_date_time_compare (first->at, second->at);

  return order != 0 ? order : strcmp (first->job, second->job);
}

static void
find_remark (PawlHistory *self)
{
  GHashTableIter iter;
  gpointer text, count;

  g_hash_table_iter_init (&iter, ((Self *) self)->remarks);
  while (g_hash_table_iter_next (&iter, &text, &count))
    if (GPOINTER_TO_UINT (count) > self->n_remark || (GPOINTER_TO_UINT (count) == self->n_remark && strcmp (text, self->remark) < 0))
      {
        self->n_remark = GPOINTER_TO_UINT (count);
        g_free (self->remark);
        self->remark = g_strdup (text);
      }
}

/* Two variants are two kinds of part: their values make no one chart. */
static void
leave_out_others (PawlHistory *self)
{
  for (guint i = self->points->len; i > 0; i--)
    {
      const PawlHistoryPoint *point = self->points->pdata[i - 1];

      if (point->of_variant == NULL || g_strcmp0 (self->limits, point->of_variant) == 0)
        continue;
      g_ptr_array_remove_index (self->points, i - 1);
      self->n_of_others++;
    }
}

void
pawl_history_finish (PawlHistory *self, PawlChartFactors factors)
{
  g_autofree double *left = NULL;
  double sum = 0;
  guint n = 0;

  g_ptr_array_sort (self->points, compare_points);
  leave_out_others (self);
  self->n_corrected = 0;
  for (guint i = 0; i < self->points->len; i++)
    {
      const PawlHistoryPoint *point = self->points->pdata[i];

      if (!point->is_corrected)
        continue;
      self->n_corrected++;
      sum += point->left - point->found;
    }
  self->correction = self->n_corrected > 0 ? sum / self->n_corrected : NAN;
  find_remark (self);
  left = pawl_history_list_left (self, &n);
  self->has_chart = pawl_control_chart_make (left, n, factors, &self->chart);
}

double *
pawl_history_list_left (const PawlHistory *self, guint *n)
{
  double *values = g_new (double, self->points->len + 1);

  *n = 0;
  for (guint i = 0; i < self->points->len; i++)
    {
      double left = ((const PawlHistoryPoint *) self->points->pdata[i])->left;

      if (!isnan (left))
        values[(*n)++] = left;
    }
  return values;
}

/* ---- runs ---- */

PawlChartRule *
pawl_history_list_rules (const PawlHistory *self)
{
  PawlChartRule *rules = g_new0 (PawlChartRule, self->points->len + 1);
  g_autofree double *left = NULL;
  guint n, index = 0;

  left = pawl_history_list_left (self, &n);
  for (guint i = 0; self->has_chart && i < self->points->len; i++)
    if (!isnan (((const PawlHistoryPoint *) self->points->pdata[i])->left))
      rules[i] = pawl_control_chart_find_rule (&self->chart, left, n, index++);
  return rules;
}

/* A job without a value parts no run: what follows it follows the one before. */
GArray *
pawl_history_list_runs (const PawlHistory *self)
{
  GArray *runs = g_array_new (FALSE, FALSE, sizeof (PawlHistoryRun));
  g_autofree PawlChartRule *rules = pawl_history_list_rules (self);
  PawlChartRule before = PAWL_CHART_RULE_NONE;

  for (guint i = 0; i < self->points->len; i++)
    {
      const PawlHistoryRun run = { rules[i], i };

      if (isnan (((const PawlHistoryPoint *) self->points->pdata[i])->left))
        continue;
      if (rules[i] != PAWL_CHART_RULE_NONE && rules[i] == before)
        g_array_index (runs, PawlHistoryRun, runs->len - 1).last = i;
      else if (rules[i] != PAWL_CHART_RULE_NONE)
        g_array_append_val (runs, run);
      before = rules[i];
    }
  return runs;
}

const char *
pawl_history_name_rule (PawlChartRule rule)
{
  switch (rule)
    {
    case PAWL_CHART_RULE_BEYOND_3:   return "beyond the limits of chance";
    case PAWL_CHART_RULE_2_OF_3:     return "2 of 3 far from the mean, on one side";
    case PAWL_CHART_RULE_4_OF_5:     return "4 of 5 off the mean, on one side";
    case PAWL_CHART_RULE_8_IN_A_ROW: return "8 in a row on one side of the mean";
    case PAWL_CHART_RULE_NONE:
    default:                         return "";
    }
}

/* ---- words ---- */

/* The newest of them; more would be read by nobody. */
static void
describe_runs (const PawlHistory *self, GString *text)
{
  g_autoptr(GArray) runs = pawl_history_list_runs (self);
  guint first = runs->len > PAWL_HISTORY_MOST_RUNS ? runs->len - PAWL_HISTORY_MOST_RUNS : 0;

  for (guint i = first; i < runs->len; i++)
    {
      const PawlHistoryRun *run = &g_array_index (runs, PawlHistoryRun, i);
      g_autofree char *day = g_date_time_format (((const PawlHistoryPoint *) self->points->pdata[run->last])->at, "%Y-%m-%d");

      g_string_append_printf (text, "%s %s: %s", i > first ? ";" : " Unlike chance:", day, pawl_history_name_rule (run->rule));
    }
  if (first > 0)
    g_string_append_printf (text, "; and %u before", first);
  if (runs->len > 0)
    g_string_append_c (text, '.');
}

char *
pawl_history_format (const PawlHistory *self, double value, char decimal_mark)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE + 8], format[8];
  double width = self->has_chart ? self->chart.high - self->chart.low : 0;
  int places;

  if (!(width > 0))
    width = !isnan (self->low) && !isnan (self->high) ? self->high - self->low : fabs (value);
  places = width > 0 ? CLAMP (3 - (int) ceil (log10 (width)), 0, 9) : 3;
  g_snprintf (format, sizeof format, "%%.%df", places);
  g_ascii_formatd (number, sizeof number, format, value);
  if (decimal_mark == ',')
    g_strdelimit (number, ".", ',');
  return g_strdup_printf ("%s %s", number, self->unit != NULL ? pawl_unit_get_symbol (self->unit) : "");
}

static void
describe_chart (const PawlHistory *self, char decimal_mark, GString *text)
{
  g_autofree char *mean = pawl_history_format (self, self->chart.mean, decimal_mark);
  g_autofree char *low = pawl_history_format (self, self->chart.low, decimal_mark);
  g_autofree char *high = pawl_history_format (self, self->chart.high, decimal_mark);
  g_autofree double *left = NULL;
  guint n = 0, n_outside = 0;

  left = pawl_history_list_left (self, &n);
  for (guint i = 0; i < n; i++)
    n_outside += pawl_control_chart_is_outside (&self->chart, left[i]);
  g_string_append_printf (text, " As left: mean %s, chance alone keeps it from %s to %s; %u of %u outside of that.", mean, low, high, n_outside, n);
  describe_runs (self, text);
}

char *
pawl_history_describe (const PawlHistory *self, char decimal_mark)
{
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, "%s: measured in %u of %u jobs.", self->name, self->points->len, self->n_jobs);
  if (self->n_of_others > 0)
    g_string_append_printf (text, " Left out: %u of another variant, which has other limits.", self->n_of_others);
  if (self->has_chart)
    describe_chart (self, decimal_mark, text);
  else if (self->points->len > 0)
    g_string_append (text, " Limits of chance take two values as left or more.");
  if (self->n_corrected > 0)
    {
      g_autofree char *correction = pawl_history_format (self, self->correction, decimal_mark);

      g_string_append_printf (text, " Corrected in %u: by %s%s on the mean.", self->n_corrected, self->correction > 0 ? "+" : "", correction);
    }
  if (self->n_remark > 0)
    g_string_append_printf (text, " Noted with it most often (%u): %s.", self->n_remark, self->remark);
  return g_string_free (text, FALSE);
}
