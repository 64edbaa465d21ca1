/* The two tables of what was asked: readings, a line for each value that was held against limits; and all other answers. */
#include "export/pawl-export-private.h"

#define AS_FOUND "as found"
#define AS_LEFT "as left"
#define ATTEMPT "attempt"

GHashTable *
pawl_export_list_uses (PawlJob *job)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (job);
  GHashTable *uses = g_hash_table_new (NULL, NULL);

  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = results->pdata[i];

      if (result->found != NULL)
        g_hash_table_insert (uses, (gpointer) result->found, (gpointer) AS_FOUND);
      if (result->left != NULL)
        g_hash_table_insert (uses, (gpointer) result->left, (gpointer) AS_LEFT);
    }
  return uses;
}

const char *
pawl_export_get_use (GHashTable        *uses,
                     const PawlAttempt *attempt)
{
  const char *use = g_hash_table_lookup (uses, attempt);

  return use != NULL ? use : ATTEMPT;
}

char *
pawl_export_format_number (const PawlQuantity *quantity,
                           const PawlUnit     *unit)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  if (quantity == NULL)
    return g_strdup ("");
  return g_strdup (g_ascii_formatd (buffer, sizeof buffer, "%.15g", pawl_quantity_get_double (quantity, unit)));
}

const char *
pawl_export_get_field (const PawlEntry *entry,
                       const char      *field)
{
  const char *value = entry != NULL ? pawl_entry_get (entry, field) : NULL;

  return value != NULL ? value : "";
}

char *
pawl_export_format_time (GDateTime *time)
{
  return pawl_csv_format_time (time);
}

/* ---- readings ---- */

/* What stands on every line of a reading. */
typedef struct {
  const PawlStepState *step;
  const PawlAskState  *ask;
  const PawlAttempt   *attempt; /* (nullable): not measured */
  const char          *use;
  guint                number;  /* of the attempt, from 1 */
} Line;

static const char *
get_verdict (const PawlAttempt *attempt,
             PawlVerdictKind    kind)
{
  return attempt->is_void ? "void" : !attempt->is_whole ? "more to come" : pawl_verdict_get_word (kind);
}

static void
add_line (GString          *csv,
          const Line       *line,
          const PawlJudged *judged) /* (nullable): an outcome, or a value that nothing is known of */
{
  const PawlAttempt *attempt = line->attempt;
  const PawlEntry *entry = attempt != NULL ? attempt->entry : NULL;
  const PawlLimits *limits = judged != NULL ? judged->limits : line->ask->limits;
  const PawlQuantity *quantity = judged != NULL ? judged->quantity : attempt != NULL ? attempt->quantity : NULL;
  const PawlUnit *unit = limits != NULL && pawl_limits_get_unit (limits) != NULL ? pawl_limits_get_unit (limits)
                         : quantity != NULL ? pawl_quantity_get_unit (quantity) : NULL;
  g_autofree char *number = attempt != NULL ? g_strdup_printf ("%u", line->number) : g_strdup ("");
  g_autofree char *value = pawl_export_format_number (quantity, unit);
  g_autofree char *exact = quantity != NULL ? pawl_quantity_format_exact (quantity, '.') : g_strdup ("");
  g_autofree char *low = unit != NULL && limits != NULL ? pawl_export_format_number (pawl_limits_peek_low (limits), unit) : g_strdup ("");
  g_autofree char *high = unit != NULL && limits != NULL ? pawl_export_format_number (pawl_limits_peek_high (limits), unit) : g_strdup ("");
  g_autofree char *at = pawl_export_format_time (entry != NULL ? pawl_entry_peek_at (entry) : NULL);
  char expanded[G_ASCII_DTOSTR_BUF_SIZE] = "";

  if (judged != NULL && judged->verdict.expanded > 0) /* 0: nothing is known */
    g_ascii_formatd (expanded, sizeof expanded, "%.6g", judged->verdict.expanded);
  pawl_csv_append_line (csv, line->step->step->number, line->step->step->id, line->ask->ask->id, line->ask->ask->name,
                        judged != NULL ? judged->name : "", line->use, number,
                        attempt == NULL || attempt->is_derived ? "" : pawl_export_get_field (entry, "answer"),
                        attempt != NULL ? pawl_attempt_get_origin (attempt) : "", value, unit != NULL ? pawl_unit_get_symbol (unit) : "", exact,
                        limits != NULL ? pawl_limits_get_text (limits) : "", low, high,
                        attempt != NULL ? get_verdict (attempt, judged != NULL ? judged->verdict.kind : attempt->verdict.kind) : "",
                        judged != NULL && judged->verdict.is_worn ? "yes" : "", expanded, line->ask->ask->source, pawl_ask_status_get_word (line->ask->status),
                        pawl_export_get_field (entry, "instrument"), pawl_export_get_field (entry, "tool-serial"), pawl_export_get_field (entry, "due"),
                        pawl_export_get_field (entry, "overdue"), entry != NULL ? pawl_entry_get_person (entry) : "", at,
                        entry != NULL ? pawl_entry_get_id (entry) : "");
}

static void
add_attempts (GString             *csv,
              const PawlStepState *step,
              const PawlAskState  *ask,
              GHashTable          *uses)
{
  if (ask->attempts->len == 0)
    add_line (csv, &(Line) { step, ask, NULL, "not measured", 0 }, NULL);

  for (guint i = 0; i < ask->attempts->len; i++)
    {
      const PawlAttempt *attempt = ask->attempts->pdata[i];
      const Line line = { step, ask, attempt, pawl_export_get_use (uses, attempt), i + 1 };

      if (attempt->judged->len == 0)
        add_line (csv, &line, NULL);
      for (guint j = 0; j < attempt->judged->len; j++)
        add_line (csv, &line, attempt->judged->pdata[j]);
    }
}

void
pawl_export_add_readings (GString *csv,
                          PawlJob *job)
{
  g_autoptr (GHashTable) uses = pawl_export_list_uses (job);
  GPtrArray *steps = pawl_job_get_steps (job);

  pawl_csv_append_line (csv, "step-number", "step", "reading", "name", "place", "use", "attempt", "typed", "origin", "value", "unit", "exact",
                        "limits", "low", "high", "verdict", "worn", "expanded-uncertainty", "source", "status", "instrument", "mark", "calibration-due",
                        "out-of-date", "person", "at", "entry");
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *ask = step->asks->pdata[j];

          if (ask->ask->kind == PAWL_ASK_READING && ask->status != PAWL_ASK_NOT_APPLICABLE)
            add_attempts (csv, step, ask, uses);
        }
    }
}

/* ---- everything else that was asked ---- */

static void
add_answer (GString             *csv,
            const PawlStepState *step,
            const PawlAskState  *ask,
            const PawlAttempt   *attempt, /* (nullable) */
            guint                n)
{
  static const char *const kinds[] = {
    [PAWL_ASK_FIT] = "fit", [PAWL_ASK_CHECK] = "check", [PAWL_ASK_READING] = "reading", [PAWL_ASK_WAIT] = "wait", [PAWL_ASK_DECIDE] = "decide",
    [PAWL_ASK_NOTE] = "note",
  };
  const PawlEntry *entry = attempt != NULL ? attempt->entry : NULL;
  g_autofree char *number = attempt != NULL ? g_strdup_printf ("%u", n) : g_strdup ("");
  g_autofree char *at = pawl_export_format_time (entry != NULL ? pawl_entry_peek_at (entry) : NULL);
  g_autofree char *started = pawl_export_format_time (ask->started);
  g_autofree char *ended = pawl_export_format_time (ask->ended);
  const char *answer = *pawl_export_get_field (entry, "answer") != '\0' ? pawl_export_get_field (entry, "answer") : pawl_export_get_field (entry, "choice");

  pawl_csv_append_line (csv, step->step->number, step->step->id, kinds[ask->ask->kind], ask->ask->id, ask->ask->name, number, answer,
                        attempt != NULL && attempt->is_accepted ? "yes" : "", pawl_ask_status_get_word (ask->status), ask->ask->source, started, ended,
                        pawl_export_get_field (ask->deviation, "reason"), entry != NULL ? pawl_entry_get_person (entry) : "", at,
                        entry != NULL ? pawl_entry_get_id (entry) : "");
}

void
pawl_export_add_answers (GString *csv,
                         PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  pawl_csv_append_line (csv, "step-number", "step", "kind", "ask", "name", "attempt", "answer", "accepted", "status", "source", "started", "ended",
                        "deviation", "person", "at", "entry");
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *ask = step->asks->pdata[j];

          if (ask->ask->kind == PAWL_ASK_READING || ask->status == PAWL_ASK_NOT_APPLICABLE)
            continue;
          if (ask->attempts->len == 0)
            add_answer (csv, step, ask, NULL, 0);
          for (guint k = 0; k < ask->attempts->len; k++)
            add_answer (csv, step, ask, ask->attempts->pdata[k], k + 1);
        }
    }
}
