#include "report/pawl-words.h"

#include <string.h>

#define SHORT_ID_LENGTH 8

char *
pawl_words_time (GDateTime *time)
{
  return time ? g_date_time_format (time, "%Y-%m-%d %H:%M %:z") : g_strdup ("");
}

char *
pawl_words_time_beside (GDateTime *time, GDateTime *reference)
{
  if (time && reference && g_date_time_get_utc_offset (time) == g_date_time_get_utc_offset (reference))
    return g_date_time_format (time, "%Y-%m-%d %H:%M");
  return pawl_words_time (time);
}

char *
pawl_words_duration (gint64 seconds)
{
  static const struct { gint64 seconds; const char *symbol; } units[] = { { 86400, "d" }, { 3600, "h" }, { 60, "min" }, { 1, "s" } };

  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    {
      gint64 whole = seconds / units[i].seconds;
      gint64 rest = i + 1 < G_N_ELEMENTS (units) ? (seconds - whole * units[i].seconds) / units[i + 1].seconds : 0;

      if (whole == 0)
        continue;
      if (rest == 0)
        return g_strdup_printf ("%" G_GINT64_FORMAT " %s", whole, units[i].symbol);
      return g_strdup_printf ("%" G_GINT64_FORMAT " %s %" G_GINT64_FORMAT " %s", whole, units[i].symbol, rest, units[i + 1].symbol);
    }
  return g_strdup ("0 s");
}

char *
pawl_words_wait_limits (const PawlWait *wait)
{
  g_autofree char *least = pawl_words_duration (wait->min_seconds);
  g_autofree char *most = pawl_words_duration (wait->max_seconds);

  return wait->max_seconds > 0 ? g_strdup_printf ("%s to %s", least, most) : g_strdup_printf ("at least %s", least);
}

char *
pawl_words_short_id (const char *id)
{
  return g_strndup (id, SHORT_ID_LENGTH);
}

char *
pawl_words_outcome (const char *outcome)
{
  return g_strdelimit (g_strdup (outcome ? outcome : ""), "-", ' ');
}

char *
pawl_words_outcomes (const char * const *outcomes)
{
  g_autofree char *joined = g_strjoinv (" or ", (char **) outcomes);

  return pawl_words_outcome (joined);
}

/* ---- readings ---- */

/* Whether a typed reading says its unit: by a word that is one, or by the sign for inch, foot, degree, minute or a numbered drill. */
static gboolean
names_unit (const char *typed)
{
  g_auto (GStrv) words = g_strsplit_set (typed, " 0123456789.,;/+-", -1);

  if (strpbrk (typed, "\"'#") || strstr (typed, "°") || strstr (typed, "″") || strstr (typed, "′"))
    return TRUE;
  for (guint i = 0; words[i]; i++)
    if (*words[i] && pawl_unit_lookup (words[i]))
      return TRUE;
  return FALSE;
}

static char
find_decimal_mark (const PawlAttempt *attempt)
{
  const char *mark = pawl_entry_get (attempt->entry, "decimal-mark");

  return mark && *mark == ',' ? ',' : '.';
}

char *
pawl_words_reading (const PawlAttempt *attempt)
{
  const char *typed = pawl_entry_get (attempt->entry, "answer");
  const PawlUnit *unit;

  if (!attempt->quantity)
    return pawl_words_outcome (typed);
  if (attempt->is_derived || attempt->n_in_set > 1)
    return pawl_attempt_describe_value (attempt, find_decimal_mark (attempt));
  if (attempt->values)
    return g_strdup (typed);
  unit = pawl_quantity_get_unit (attempt->quantity);
  if (!unit || names_unit (typed))
    return g_strdup (typed);
  if (pawl_quantity_is_interval (attempt->quantity)) /* ".003 goes, .004 does not" */
    return g_strdup_printf ("%s (%s)", typed, pawl_unit_get_symbol (unit));
  return g_strdup_printf ("%s %s", typed, pawl_unit_get_symbol (unit));
}

char *
pawl_words_conversion (const PawlAttempt *attempt)
{
  return attempt->quantity && !attempt->values ? pawl_quantity_format_beside (attempt->quantity, find_decimal_mark (attempt)) : NULL;
}

char *
pawl_words_verdict (const PawlAttempt *attempt)
{
  if (attempt->is_void)
    return g_strdup ("void");
  switch (attempt->verdict.kind)
    {
    case PAWL_VERDICT_OUT:
      return g_strdup ("out");
    case PAWL_VERDICT_TOO_CLOSE:
      return g_strdup ("too close to call");
    case PAWL_VERDICT_IN:
    default:
      return g_strdup (attempt->verdict.is_worn ? "in the wear limit, outside the limits for new" : "in");
    }
}

const char *
pawl_words_standing (PawlAskStatus status)
{
  switch (status)
    {
    case PAWL_ASK_DEVIATED:
      return "accepted as a deviation";
    case PAWL_ASK_STALE:
      return "to be taken again";
    default:
      return "";
    }
}

char *
pawl_words_conditions (const PawlReading *reading)
{
  g_autoptr (GPtrArray) parts = g_ptr_array_new_with_free_func (g_free);

  if (reading->posture)
    g_ptr_array_add (parts, g_strdup (reading->posture));
  if (reading->gasket)
    g_ptr_array_add (parts, g_strdup_printf ("gasket %s", reading->gasket));
  if (reading->from_face && reading->to_face)
    g_ptr_array_add (parts, g_strdup_printf ("%s to %s", reading->from_face, reading->to_face));
  else if (reading->from_face || reading->to_face)
    g_ptr_array_add (parts, g_strdup_printf ("%s %s", reading->from_face ? "from" : "to", reading->from_face ? reading->from_face : reading->to_face));
  if (reading->load)
    g_ptr_array_add (parts, g_strdup (reading->load));
  if (reading->places)
    g_ptr_array_add (parts, g_strdup (reading->places));
  g_ptr_array_add (parts, NULL);
  return g_strjoinv (", ", (char **) parts->pdata);
}

char *
pawl_words_attempts (const PawlAskState *state)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < state->attempts->len; i++)
    {
      const PawlAttempt *attempt = g_ptr_array_index (state->attempts, i);
      g_autofree char *reading = pawl_words_reading (attempt);
      g_autofree char *verdict = pawl_words_verdict (attempt);

      if (attempt->is_whole || attempt->is_void)
        g_string_append_printf (text, "%s%s: %s", text->len > 0 ? "; " : "", reading, verdict);
    }
  return g_string_free (text, FALSE);
}

char *
pawl_words_instrument (PawlProcedure *procedure, const PawlReading *reading, const PawlAttempt *attempt)
{
  const char *id = pawl_entry_get (attempt->entry, "instrument");
  const char *serial = pawl_entry_get (attempt->entry, "tool-serial");
  const char *max_error = pawl_entry_get (attempt->entry, "error"); /* as the register had it then */
  const PawlTool *tool = NULL;
  GString *text;

  if (!id)
    id = reading->tool;
  if (!id)
    return g_strdup ("not stated");
  tool = pawl_procedure_lookup_tool (procedure, id);
  text = g_string_new (tool ? tool->name : id);
  if (serial)
    g_string_append_printf (text, " no. %s", serial);
  if (!max_error && tool && tool->is_measuring && tool->instrument.max_error)
    max_error = pawl_quantity_get_typed (tool->instrument.max_error);
  if (max_error)
    {
      /* With no-break spaces: a narrow column would part the sign from its number, and the number from its unit. */
      g_auto (GStrv) words = g_strsplit (max_error, " ", -1);
      g_autofree char *unbroken = g_strjoinv ("\u00a0", words);

      g_string_append_printf (text, ", ±\u00a0%s", unbroken);
    }
  if (pawl_entry_get (attempt->entry, "overdue"))
    g_string_append_printf (text, "; out of date then, was due %s", pawl_entry_get (attempt->entry, "due") ? pawl_entry_get (attempt->entry, "due") : "");
  return g_string_free (text, FALSE);
}

/* ---- parts ---- */

/* By the first word of the source: "donor", "donor SD-3, engine no. 5". */
static char *
say_disposition (const PawlEntry *disposition)
{
  static const struct { const char *choice, *source, *words; } table[] = {
    { "reuse",   NULL,    "reused" },
    { "repair",  NULL,    "repaired" },
    { "replace", "kit",   "new from the kit" },
    { "replace", "new",   "new" },
    { "replace", "donor", "used part from a donor" },
    { "replace", "made",  "made in the shop" },
    { "replace", NULL,    "replaced" },
  };
  const char *choice = pawl_entry_get (disposition, "choice");
  const char *source = pawl_entry_get (disposition, "source");

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    if (g_strcmp0 (table[i].choice, choice) == 0 && (!table[i].source || (source && g_str_has_prefix (source, table[i].source))))
      return g_strdup (table[i].words);
  return g_strdup (choice ? choice : "");
}

char *
pawl_words_part (const PawlPartState *part)
{
  g_autofree char *fate = part->disposition ? say_disposition (part->disposition) : NULL;

  switch (part->place)
    {
    case PAWL_PLACE_SEATED:
      if (fate)
        return g_steal_pointer (&fate);
      return g_strdup (part->part->is_kit ? "new from the kit" : "refitted");
    case PAWL_PLACE_OFF:
      return fate ? g_strdup_printf ("%s; not refitted", fate) : g_strdup ("off, not refitted");
    case PAWL_PLACE_NOT_YET:
      return g_strdup ("not fitted");
    case PAWL_PLACE_ON_UNIT:
    default:
      return fate ? g_steal_pointer (&fate) : g_strdup ("left in place");
    }
}

static gboolean
is_kit_line (const PawlAskState *state)
{
  return state && state->ask->kind == PAWL_ASK_CHECK && state->ask->check->kind == PAWL_CHECK_KIT;
}

char *
pawl_words_kit_lots (PawlJob *job)
{
  GPtrArray *entries = pawl_job_get_entries (job);
  g_autoptr (GPtrArray) lots = g_ptr_array_new ();

  for (guint i = 0; i < entries->len; i++)
    {
      const PawlEntry *entry = g_ptr_array_index (entries, i);
      const char *lot = pawl_entry_get (entry, "lot");

      if (lot && !pawl_job_is_undone (job, entry) && is_kit_line (pawl_job_lookup_ask (job, pawl_entry_get_subject (entry)))
          && !g_ptr_array_find_with_equal_func (lots, lot, g_str_equal, NULL))
        g_ptr_array_add (lots, (gpointer) lot);
    }
  g_ptr_array_add (lots, NULL);
  return g_strjoinv (", ", (char **) lots->pdata);
}

const char *
pawl_words_verify_by (PawlVerifyBy by)
{
  switch (by)
    {
    case PAWL_VERIFY_TOUCH:
      return "by touch";
    case PAWL_VERIFY_MARK:
      return "by mark";
    case PAWL_VERIFY_GAUGE:
      return "by gauge";
    case PAWL_VERIFY_SIGHT:
    default:
      return "by sight";
    }
}

const char *
pawl_words_release (PawlHold hold)
{
  switch (hold)
    {
    case PAWL_HOLD_WITNESS:
      return "Witnessed";
    case PAWL_HOLD_REVIEW:
      return "Reviewed";
    case PAWL_HOLD_HOLD:
    case PAWL_HOLD_NONE:
    default:
      return "Released the hold at";
    }
}

const char *
pawl_words_verified (PawlVerified verified)
{
  switch (verified)
    {
    case PAWL_VERIFIED_ON_PAPER:
      return "checked on paper";
    case PAWL_VERIFIED_ON_OBJECT:
      return "checked on the object";
    case PAWL_VERIFIED_BY_SECOND:
      return "checked by a second person";
    case PAWL_VERIFIED_NOT:
    default:
      return "not checked";
    }
}

char *
pawl_words_subject (PawlJob *job, const char *subject)
{
  const PawlStepState *step = pawl_job_lookup_step (job, subject);
  const PawlAskState *ask = pawl_job_lookup_ask (job, subject);
  const PawlPartState *part = pawl_job_lookup_part (job, subject);

  if (step)
    return g_strdup_printf ("Step %s, %s", step->step->number, step->step->command);
  if (ask)
    return g_strdup_printf ("%s (step %s)", ask->ask->name, ask->step->number);
  return g_strdup (part ? part->part->name : subject);
}

/* ---- counts ---- */

static void
append_count (GString *text, guint n, const char *words)
{
  if (n > 0)
    g_string_append_printf (text, "; %u %s", n, words);
}

char *
pawl_words_count_steps (PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  guint done = 0, skipped = 0, redo = 0, other_variant = 0, open = 0;
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < steps->len; i++)
    switch (((const PawlStepState *) g_ptr_array_index (steps, i))->status)
      {
      case PAWL_STEP_DONE:
        done++;
        break;
      case PAWL_STEP_SKIPPED:
        skipped++;
        break;
      case PAWL_STEP_REDO:
        redo++;
        break;
      case PAWL_STEP_NOT_APPLICABLE:
        other_variant++;
        break;
      case PAWL_STEP_BLOCKED:
      case PAWL_STEP_OPEN:
      case PAWL_STEP_WAITING:
      default:
        open++;
        break;
      }
  g_string_printf (text, "%u of %u steps done", done, steps->len - other_variant);
  append_count (text, skipped, "left out, with the reason given under deviations");
  append_count (text, open, "not done");
  append_count (text, redo, "to be done again");
  append_count (text, other_variant, "not for this variant");
  g_string_append_c (text, '.');
  return g_string_free (text, FALSE);
}

char *
pawl_words_count_readings (GPtrArray *results)
{
  guint in = 0, out = 0, close = 0, found_only = 0, missing = 0;
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = g_ptr_array_index (results, i);

      if (!result->left && result->as_left->ask->reading->is_as_found && result->found)
        found_only++;
      else if (!result->left)
        missing++;
      else if (result->left->verdict.kind == PAWL_VERDICT_IN)
        in++;
      else if (result->left->verdict.kind == PAWL_VERDICT_TOO_CLOSE)
        close++;
      else
        out++;
    }
  g_string_printf (text, "%u readings: %u in as left", results->len, in);
  append_count (text, out, "out as left");
  append_count (text, close, "too close to call");
  append_count (text, found_only, "taken as found only");
  append_count (text, missing, "not measured");
  g_string_append_c (text, '.');
  return g_string_free (text, FALSE);
}
