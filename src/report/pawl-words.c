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
pawl_words_late (const PawlAskState *wait)
{
  g_autofree char *late = pawl_words_duration (wait->late_seconds);

  return wait->ended ? g_strdup_printf ("out %s after its maximum", late) : g_strdup_printf ("%s after its maximum, and not out", late);
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

/* ---- parts ---- */

/* By the first word of the source: "donor", "donor SD-3, engine no. 5". What arrived takes the place of what was there. */
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
  const char *choice = pawl_entry_get_kind (disposition) == PAWL_ENTRY_ARRIVED ? "replace" : pawl_entry_get (disposition, "choice");
  const char *source = pawl_entry_get (disposition, "source");

  for (guint i = 0; i < G_N_ELEMENTS (table); i++)
    if (g_strcmp0 (table[i].choice, choice) == 0 && (!table[i].source || (source && g_str_has_prefix (source, table[i].source))))
      return g_strdup (table[i].words);
  return g_strdup (choice ? choice : "");
}

char *
pawl_words_part (const PawlPartState *part)
{
  const PawlEntry *got = part->arrival && pawl_entry_get (part->arrival, "source") ? part->arrival : part->disposition;
  g_autofree char *fate = got ? say_disposition (got) : NULL;

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

char *
pawl_words_origin (const PawlEntry *disposition)
{
  static const char * const fields[] = { "from", "source", "lot", "reason" };
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      const char *value = pawl_entry_get (disposition, fields[i]);

      if (value && !g_str_equal (value, "kit"))
        g_string_append_printf (text, "%s%s%s", text->len > 0 ? "; " : "", g_str_equal (fields[i], "lot") ? "lot " : "", value);
    }
  return g_string_free (text, FALSE);
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
