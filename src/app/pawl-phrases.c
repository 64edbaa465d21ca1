#include "app/pawl-phrases.h"

#include <glib/gi18n.h>
#include "fit/pawl-difference.h"

static void
append_piece (GString *text, const char *piece)
{
  if (piece == NULL || *piece == '\0')
    return;
  if (text->len > 0)
    g_string_append (text, " · ");
  g_string_append (text, piece);
}

static void
append_format (GString *text, const char *format, ...) G_GNUC_PRINTF (2, 3);

static void
append_format (GString *text, const char *format, ...)
{
  g_autofree char *piece = NULL;
  va_list arguments;

  va_start (arguments, format);
  piece = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  append_piece (text, piece);
}

char *
pawl_phrase_capitalise (const char *text)
{
  g_autofree char *first = NULL;

  if (*text == '\0')
    return g_strdup ("");
  first = g_utf8_strup (text, (gssize) (g_utf8_next_char (text) - text));
  return g_strconcat (first, g_utf8_next_char (text), NULL);
}

/* Words of Pawl's own, as the job has them: how a step, an ask and a reading stand, and outcomes of a check whose author names none. */
static const char * const own_words[] = {
  N_("Open"), N_("Done"), N_("Blocked"), N_("Waiting"), N_("Left out"), N_("To be done again"), N_("Not for this variant"),
  N_("Not answered"), N_("Right"), N_("Wrong"), N_("In"), N_("Out"), N_("Too close to call"), N_("Deviation"), N_("To be answered again"), N_("Running"),
  N_("Free"), N_("Drags"), N_("Binds"), N_("Holds"), N_("Leaks"), N_("Good"), N_("Bad"), N_("Used"), N_("Missing"), N_("Not needed"), N_("Put aside"),
  N_("As expected"), N_("More"), N_("Fewer"), N_("Reuse"), N_("Repair"), N_("Replace"), NULL
};

/* An author's words stay as they are. */
static char *
say_own (const char *words)
{
  g_autofree char *capital = pawl_phrase_capitalise (words);

  return g_strdup (g_strv_contains (own_words, capital) ? _(capital) : capital);
}

char *
pawl_phrase_describe_instrument (PawlProcedure *procedure, const PawlReading *reading)
{
  const PawlTool *tool = reading->tool != NULL ? pawl_procedure_lookup_tool (procedure, reading->tool) : NULL;
  g_autofree char *max_error = NULL;

  if (tool == NULL)
    return NULL;
  if (!tool->is_measuring || tool->instrument.max_error == NULL)
    return g_strdup (tool->name);
  max_error = pawl_quantity_format (tool->instrument.max_error, '.');
  return g_strdup_printf ("%s (± %s)", tool->name, max_error);
}

static void
append_instrument (GString *text, PawlProcedure *procedure, const PawlReading *reading)
{
  g_autofree char *instrument = pawl_phrase_describe_instrument (procedure, reading);

  if (instrument != NULL)
    append_format (text, _("with %s"), instrument);
}

static void
append_faces (GString *text, const PawlReading *reading)
{
  if (reading->from_face != NULL && reading->to_face != NULL)
    append_format (text, _("from %s to %s"), reading->from_face, reading->to_face);
  else if (reading->from_face != NULL)
    append_format (text, _("from %s"), reading->from_face);
  else if (reading->to_face != NULL)
    append_format (text, _("to %s"), reading->to_face);
}

char *
pawl_phrase_describe_conditions (PawlProcedure *procedure, const PawlAsk *ask)
{
  const PawlReading *reading = ask->reading;
  GString *text = g_string_new (NULL);
  g_autofree char *posture = NULL;

  if (reading->posture != NULL)
    append_piece (text, posture = pawl_phrase_capitalise (reading->posture));
  if (reading->gasket != NULL)
    append_format (text, _("gasket %s"), reading->gasket);
  append_faces (text, reading);
  append_piece (text, reading->load);
  append_piece (text, reading->places);
  if (reading->repeats > 1)
    append_format (text, _("taken %u times"), reading->repeats);
  append_instrument (text, procedure, reading);
  return g_string_free (text, FALSE);
}

static char *
join_source (const char *label, const PawlLimits *limits, const char *source)
{
  g_autofree char *text = pawl_limits_describe (limits);

  if (source == NULL || *source == '\0')
    return g_strdup_printf ("%s %s", label, text);
  return g_strdup_printf ("%s %s  (%s)", label, text, source);
}

char *
pawl_phrase_describe_limits (const PawlAsk *ask, const PawlLimits *limits)
{
  return join_source (_("Limits"), limits != NULL ? limits : ask->reading->limits, ask->source);
}

char *
pawl_phrase_describe_other_limits (const PawlAsk *ask)
{
  if (ask->reading->other_limits == NULL)
    return NULL;
  return join_source (_("Another source says"), ask->reading->other_limits, ask->reading->other_source);
}

char *
pawl_phrase_warn_coarse (PawlProcedure *procedure, const PawlAskState *state)
{
  const PawlReading *reading = state->ask->reading;
  const PawlLimits *limits = state->limits != NULL ? state->limits : reading->limits;
  const PawlTool *tool = reading->tool != NULL ? pawl_procedure_lookup_tool (procedure, reading->tool) : NULL;
  double ratio = 0;

  if (tool == NULL || !tool->is_measuring || pawl_limits_get_kind (limits) == PAWL_LIMITS_CHOICE
      || !pawl_instrument_is_too_coarse (&tool->instrument, limits, &ratio))
    return NULL;
  return g_strdup_printf (_("%s is coarse for these limits: its uncertainty is %.0f %% of the tolerance. Take a finer one if there is one."),
                          tool->name, ratio * 100.0);
}

const char *
pawl_phrase_get_origin (const PawlAttempt *attempt)
{
  return attempt->is_typed_over ? _(" · typed over what was worked out") : attempt->is_derived ? _(" · worked out") : "";
}

char *
pawl_phrase_describe_value (const PawlAttempt *attempt, char decimal_mark)
{
  g_autofree char *value = pawl_attempt_describe_value (attempt, decimal_mark);
  g_autofree char *beside = NULL;

  if (attempt->quantity == NULL)
    return pawl_phrase_format_outcome (value);
  beside = attempt->values == NULL ? pawl_quantity_format_beside (attempt->quantity, decimal_mark) : NULL;
  return g_strdup_printf ("%s%s%s%s", value, beside != NULL ? " · " : "", beside != NULL ? beside : "", pawl_phrase_get_origin (attempt));
}

char *
pawl_phrase_describe_verdict (const PawlAsk *ask, const PawlAttempt *attempt)
{
  g_autofree char *words = NULL;

  if (ask->kind == PAWL_ASK_READING)
    {
      words = pawl_attempt_describe_verdict (ask, attempt);
      if (attempt->verdict.is_worn)
        return g_strdup_printf (_("In by the wear limit, outside the limits of a new part (%s)"), words);
      return say_own (words);
    }
  if (ask->kind == PAWL_ASK_FIT)
    return g_strdup (attempt->is_accepted ? _("Right way round") : _("Wrong way round found: turn it, then answer again"));
  return pawl_phrase_format_outcome (pawl_entry_get (attempt->entry, ask->kind == PAWL_ASK_DECIDE ? "choice" : "answer"));
}

const char *
pawl_phrase_get_verdict_sign (PawlVerdictKind kind)
{
  switch (kind)
    {
    case PAWL_VERDICT_IN:        return "✓";
    case PAWL_VERDICT_OUT:       return "✗";
    case PAWL_VERDICT_TOO_CLOSE: return "≈";
    default:                     return "";
    }
}

const char *
pawl_phrase_get_rule_title (PawlRuleKind kind)
{
  switch (kind)
    {
    case PAWL_RULE_SENSE:  return _("which way round");
    case PAWL_RULE_SIDE:   return _("which side");
    case PAWL_RULE_INDEX:  return _("lined up");
    case PAWL_RULE_SPREAD: return _("gaps apart");
    case PAWL_RULE_WHICH:  return _("which one");
    case PAWL_RULE_ORDER:  return _("in what order");
    case PAWL_RULE_MATE:   return _("matched pieces");
    case PAWL_RULE_EITHER: return _("either way");
    default:               return "";
    }
}

/* Several rules may stand about one part, so the part's name alone would not tell them apart. */
char *
pawl_phrase_make_title (const PawlAsk *ask)
{
  return ask->kind == PAWL_ASK_FIT ? g_strdup_printf ("%s: %s", ask->name, pawl_phrase_get_rule_title (ask->rule->kind)) : g_strdup (ask->name);
}

char *
pawl_phrase_describe_difference (const PawlRule *rule, const PawlSketchOptions *lengths)
{
  g_autofree char *size = NULL;
  PawlDifference difference = pawl_difference_of (rule, PAWL_BENCH_DISTANCE_MM);
  const char *advice = pawl_visibility_get_advice (difference.in_hand);

  if (rule->kind == PAWL_RULE_EITHER)
    return g_strdup_printf (_("There is no wrong way: %s"), rule->symmetry != NULL ? rule->symmetry : "");
  if (difference.size_mm <= 0)
    return g_strdup (advice);
  size = pawl_sketch_format_size (difference.size_mm, lengths);
  return g_strdup_printf (_("The difference is %s. %s"), size, advice);
}

char *
pawl_phrase_format_outcome (const char *outcome)
{
  g_autofree char *spaced = g_strdelimit (g_strdup (outcome != NULL ? outcome : ""), "-", ' ');

  return say_own (spaced);
}

char *
pawl_phrase_format_clock (GDateTime *time, GDateTime *now)
{
  g_autoptr(GDateTime) local = g_date_time_to_timezone (time, g_date_time_get_timezone (now));
  g_autofree char *day = g_date_time_format (local, "%F");
  g_autofree char *today = g_date_time_format (now, "%F");

  return g_date_time_format (local, g_str_equal (day, today) ? "%H:%M" : "%F %H:%M");
}

char *
pawl_phrase_format_duration (gint64 seconds)
{
  gint64 minutes = (seconds + 30) / 60, hours = minutes / 60, days = hours / 24;

  if (seconds < 60)
    return g_strdup_printf (_("%d s"), (int) seconds);
  if (hours == 0)
    return g_strdup_printf (_("%d min"), (int) minutes);
  if (days == 0)
    return minutes % 60 != 0 ? g_strdup_printf (_("%d h %d min"), (int) hours, (int) (minutes % 60)) : g_strdup_printf (_("%d h"), (int) hours);
  return hours % 24 != 0 ? g_strdup_printf (_("%d d %d h"), (int) days, (int) (hours % 24)) : g_strdup_printf (_("%d d"), (int) days);
}

static char *
describe_planned_wait (const PawlWait *wait)
{
  g_autofree char *least = pawl_phrase_format_duration (wait->min_seconds);
  g_autofree char *most = wait->max_seconds > 0 ? pawl_phrase_format_duration (wait->max_seconds) : NULL;

  return most != NULL ? g_strdup_printf (_("%s at least, %s at most"), least, most)
                      : g_strdup_printf (_("%s at least; no longest time is stated"), least);
}

static char *
describe_running_wait (PawlJob *job, const PawlAskState *state)
{
  GDateTime *now = pawl_job_peek_now (job);
  g_autofree char *earliest = pawl_phrase_format_clock (state->earliest, now);
  g_autofree char *latest = state->latest != NULL ? pawl_phrase_format_clock (state->latest, now) : NULL;

  if (latest != NULL && g_date_time_compare (now, state->latest) > 0)
    return g_strdup_printf (_("should have been out by %s"), latest);
  if (g_date_time_compare (now, state->earliest) >= 0)
    return latest != NULL ? g_strdup_printf (_("may come out now, must be out by %s"), latest) : g_strdup (_("may come out now"));
  return latest != NULL ? g_strdup_printf (_("out from %s, by %s at the latest"), earliest, latest)
                        : g_strdup_printf (_("out from %s"), earliest);
}

char *
pawl_phrase_describe_wait (PawlJob *job, const PawlAskState *state)
{
  if (state->started == NULL)
    return describe_planned_wait (state->ask->wait);
  if (state->ended == NULL)
    return describe_running_wait (job, state);
  {
    GDateTime *now = pawl_job_peek_now (job);
    g_autofree char *started = pawl_phrase_format_clock (state->started, now);
    g_autofree char *ended = pawl_phrase_format_clock (state->ended, now);
    g_autofree char *took = pawl_phrase_format_duration (g_date_time_difference (state->ended, state->started) / G_TIME_SPAN_SECOND);

    if (state->late_seconds > 0)
      {
        g_autofree char *late = pawl_phrase_format_duration (state->late_seconds);

        return g_strdup_printf (pawl_ask_is_only_late (state) ? _("from %s to %s: %s. Out %s after its maximum: why? The reason is kept, and nothing waits for it")
                                                              : _("from %s to %s: %s. Out %s after its maximum"), started, ended, took, late);
      }
    return g_strdup_printf (_("from %s to %s: %s"), started, ended, took);
  }
}

const char *
pawl_phrase_get_signal (PawlSignal signal)
{
  switch (signal)
    {
    case PAWL_SIGNAL_DANGER:  return _("DANGER");
    case PAWL_SIGNAL_WARNING: return _("WARNING");
    case PAWL_SIGNAL_CAUTION: return _("CAUTION");
    case PAWL_SIGNAL_NOTICE:
    default:                  return _("NOTICE");
    }
}

/* Whether one sentence of @text names whose rules and rules: "local fire code", "national law". A translated file is known by the translated line. */
static gboolean
defers_to_rules (const char *text, const char *line)
{
  return strstr (text, line) != NULL
         || g_regex_match_simple ("\\b(local|national)\\b[^.;]*\\b(rules?|laws?|codes?|regulations?|by-?laws?)\\b", text, G_REGEX_CASELESS, 0);
}

char *
pawl_phrase_describe_avoiding (const PawlCaution *caution)
{
  const char *line = _("Follow your local rules.");

  if (*caution->avoid == '\0')
    return g_strdup (line);
  return defers_to_rules (caution->avoid, line) ? g_strdup (caution->avoid) : g_strdup_printf ("%s %s", caution->avoid, line);
}

const char *
pawl_phrase_get_place (PawlPlace place)
{
  switch (place)
    {
    case PAWL_PLACE_ON_UNIT: return _("on the unit");
    case PAWL_PLACE_OFF:     return _("off, on the tray");
    case PAWL_PLACE_SEATED:  return _("seated");
    case PAWL_PLACE_NOT_YET:
    default:                 return _("not fitted yet");
    }
}

const char *
pawl_phrase_get_verified (PawlVerified verified)
{
  switch (verified)
    {
    case PAWL_VERIFIED_ON_PAPER:  return _("Read through on paper, not tried on an object");
    case PAWL_VERIFIED_ON_OBJECT: return _("Tried on an object by its author");
    case PAWL_VERIFIED_BY_SECOND: return _("Tried on an object by a second person");
    case PAWL_VERIFIED_NOT:
    default:                      return _("Not verified by anybody");
    }
}

char *
pawl_phrase_list_parts (PawlProcedure *procedure, char **ids)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; ids != NULL && ids[i] != NULL; i++)
    {
      const PawlPart *part = pawl_procedure_lookup_part (procedure, ids[i]);

      if (part == NULL)
        continue;
      if (part->quantity > 1)
        append_format (text, "%s %s × %u", part->item, part->name, part->quantity);
      else
        append_format (text, "%s %s", part->item, part->name);
    }
  return g_string_free (text, FALSE);
}

char *
pawl_phrase_list_tools (PawlProcedure *procedure, const PawlStep *step)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; step->tools != NULL && step->tools[i] != NULL; i++)
    {
      const PawlTool *tool = pawl_procedure_lookup_tool (procedure, step->tools[i]);

      append_piece (text, tool != NULL ? tool->name : NULL);
    }
  return g_string_free (text, FALSE);
}

char *
pawl_phrase_make_sentence (const char *message)
{
  g_autofree char *capital = pawl_phrase_capitalise (message);

  if (*capital == '\0' || strchr (".!?", capital[strlen (capital) - 1]) != NULL)
    return g_steal_pointer (&capital);
  return g_strconcat (capital, ".", NULL);
}
