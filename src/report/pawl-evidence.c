#include "report/pawl-evidence.h"

#include "report/pawl-words.h"

#include <string.h>

#include "job/pawl-results.h"

/* What a kind may be narrowed to. */
typedef enum { OF_NOTHING, OF_PHASES, OF_FIELDS, OF_CHECKS } Narrowing;

typedef struct {
  const char *name;
  Narrowing   narrowing;
  gboolean    is_narrowed; /* it means nothing without */
  void      (*add_lacks) (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks);
} Kind;

struct _PawlEvidence {
  const Kind *kind;
  char      **of; /* NULL-terminated, may be empty */
};

static void lack (GPtrArray *lacks, const char *format, ...) G_GNUC_PRINTF (2, 3);

static void
lack (GPtrArray *lacks, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  g_ptr_array_add (lacks, g_strdup_vprintf (format, arguments));
  va_end (arguments);
}

static gboolean
is_named (const PawlEvidence *self, const char *word)
{
  return !*self->of || g_strv_contains ((const char * const *) self->of, word);
}

/* ---- steps ---- */

/* "step 26, “Bead-blast the body”": a command without its full stop. */
static char *
name_step (const PawlStep *step)
{
  size_t length = strlen (step->command);

  return g_strdup_printf ("step %s, “%.*s”", step->number, (int) (length - g_str_has_suffix (step->command, ".")), step->command);
}

static const char *
say_undone (PawlStepStatus status)
{
  switch (status)
    {
    case PAWL_STEP_DONE:
    case PAWL_STEP_NOT_APPLICABLE:
      return NULL;
    case PAWL_STEP_SKIPPED:
      return "was left out";
    case PAWL_STEP_REDO:
      return "is to be done again";
    case PAWL_STEP_BLOCKED:
    case PAWL_STEP_OPEN:
    case PAWL_STEP_WAITING:
    default:
      return "is not done";
    }
}

static void
want_steps (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  for (guint i = 0; self->of[i]; i++)
    if (!pawl_procedure_lookup_phase (pawl_job_get_procedure (job), self->of[i]))
      lack (lacks, "the procedure has no phase “%s”", self->of[i]);
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);
      const char *undone = is_named (self, state->step->phase) ? say_undone (state->status) : NULL;
      g_autofree char *name = undone ? name_step (state->step) : NULL;

      if (undone)
        lack (lacks, "%s, %s", name, undone);
    }
}

static void
want_released (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);
      g_autofree char *name = name_step (state->step);

      if (state->status == PAWL_STEP_NOT_APPLICABLE || state->step->hold != PAWL_HOLD_HOLD || state->release)
        continue;
      if (state->waiver)
        lack (lacks, "the hold at %s, was waived", name);
      else
        lack (lacks, "the hold at %s, is not released", name);
    }
}

/* ---- answers ---- */

typedef void (*Visit) (const PawlEvidence *self, const PawlAskState *state, GPtrArray *lacks);

/* Every ask of this kind that belongs to this variant. Returns how many there were. */
static guint
visit_asks (const PawlEvidence *self, PawlJob *job, PawlAskKind kind, Visit visit, GPtrArray *lacks)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  guint n = 0;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = g_ptr_array_index (steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *state = g_ptr_array_index (step->asks, j);

          if (state->ask->kind != kind || state->status == PAWL_ASK_NOT_APPLICABLE)
            continue;
          visit (self, state, lacks);
          n++;
        }
    }
  return n;
}

/* NULL when it is right. A deviation takes the risk of what is wrong; it does not make it right. */
static const char *
say_wrong (PawlAskStatus status)
{
  switch (status)
    {
    case PAWL_ASK_ACCEPTED:
    case PAWL_ASK_NOT_APPLICABLE:
      return NULL;
    case PAWL_ASK_OUT:
      return "not right";
    case PAWL_ASK_TOO_CLOSE:
      return "too close to call";
    case PAWL_ASK_DEVIATED:
      return "accepted as a deviation";
    case PAWL_ASK_STALE:
      return "to be answered again";
    case PAWL_ASK_RUNNING:
      return "still running";
    case PAWL_ASK_PENDING:
    default:
      return "not answered";
    }
}

static void
want_right (const PawlEvidence *self, const PawlAskState *state, GPtrArray *lacks)
{
  const char *wrong = say_wrong (state->status);

  if (wrong)
    lack (lacks, "%s (step %s): %s", state->ask->name, state->step->number, wrong);
}

static void
want_right_wait (const PawlEvidence *self, const PawlAskState *state, GPtrArray *lacks)
{
  g_autofree char *late = pawl_ask_is_only_late (state) ? pawl_words_late (state) : NULL;

  if (!is_named (self, state->step->phase))
    return;
  if (late)
    lack (lacks, "%s (step %s): %s, and no reason is given", state->ask->name, state->step->number, late);
  else
    want_right (self, state, lacks);
}

static void
want_waits (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  visit_asks (self, job, PAWL_ASK_WAIT, want_right_wait, lacks);
}

static void
want_fits (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  visit_asks (self, job, PAWL_ASK_FIT, want_right, lacks);
}

static void
want_decided (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  visit_asks (self, job, PAWL_ASK_DECIDE, want_right, lacks);
}

/* In the order of PawlCheckKind. */
static const char * const check_kinds[] = { "free", "passage", "leak", "visual", "kit", "left-over", NULL };

static void
want_check (const PawlEvidence *self, const PawlAskState *state, GPtrArray *lacks)
{
  if (is_named (self, check_kinds[state->ask->check->kind]))
    want_right (self, state, lacks);
}

static gboolean
has_check (PawlJob *job, const char *kind)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = g_ptr_array_index (steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *state = g_ptr_array_index (step->asks, j);

          if (state->ask->kind == PAWL_ASK_CHECK && state->status != PAWL_ASK_NOT_APPLICABLE && g_str_equal (check_kinds[state->ask->check->kind], kind))
            return TRUE;
        }
    }
  return FALSE;
}

static void
want_checks (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  for (guint i = 0; self->of[i]; i++)
    if (!has_check (job, self->of[i]))
      lack (lacks, "the procedure has no check of the kind “%s”", self->of[i]);
  visit_asks (self, job, PAWL_ASK_CHECK, want_check, lacks);
}

/* What was answered to a note, or said when the job was opened. */
static void
want_said (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  for (guint i = 0; self->of[i]; i++)
    {
      const PawlAskState *state = pawl_job_lookup_ask (job, self->of[i]);

      if (!*pawl_job_get_field (job, self->of[i]) && !(state && state->ask->kind == PAWL_ASK_NOTE && state->n_current > 0))
        lack (lacks, "nothing is written down under “%s”", self->of[i]);
    }
}

/* ---- readings ---- */

/* Taken only as found: nothing is left of it that could be out. */
static gboolean
is_found_only (const PawlResult *result)
{
  return result->as_left->ask->reading->is_as_found;
}

static void
want_readings (PawlJob *job, gboolean is_in_wanted, GPtrArray *lacks)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (job);

  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = g_ptr_array_index (results, i);
      const PawlAskState *state = result->as_left;
      const PawlAttempt *taken = is_found_only (result) ? result->found : result->left;

      if (!taken)
        lack (lacks, "%s (step %s): not measured", state->ask->name, state->step->number);
      else if (is_in_wanted && !is_found_only (result) && (taken->is_void || taken->verdict.kind != PAWL_VERDICT_IN))
        lack (lacks, "%s (step %s): %s", state->ask->name, state->step->number,
              taken->is_void ? "the measurement is void" : taken->verdict.kind == PAWL_VERDICT_OUT ? "out of limits as left" : "too close to call");
    }
}

static void
want_taken (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  want_readings (job, FALSE, lacks);
}

static void
want_in (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  want_readings (job, TRUE, lacks);
}

/* ---- parts ---- */

static void
lack_part (GPtrArray *lacks, const PawlPart *part, const char *what)
{
  lack (lacks, "item %s, %s, %s", part->item, part->name, what);
}

/* Whether some step of this variant fits it. */
static gboolean
is_of_variant (PawlJob *job, const PawlPart *part)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);

      if (state->status != PAWL_STEP_NOT_APPLICABLE && g_strv_contains ((const char * const *) state->step->installs, part->id))
        return TRUE;
    }
  return FALSE;
}

/* Steps of this variant that take it off, and how many of them were done. */
static guint
count_removals (PawlJob *job, const PawlPart *part, guint *n_done)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  guint n = 0;

  *n_done = 0;
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);

      if (state->status == PAWL_STEP_NOT_APPLICABLE || !g_strv_contains ((const char * const *) state->step->removes, part->id))
        continue;
      n++;
      *n_done += state->status == PAWL_STEP_DONE;
    }
  return n;
}

/* Off by a step for it; a part that no step takes off came loose with others, but for what nothing ever touched. */
static void
want_dismantled (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  GPtrArray *parts = pawl_job_get_parts (job);

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *state = g_ptr_array_index (parts, i);
      guint n_done, n = count_removals (job, state->part, &n_done);

      if (!state->part->is_staying && (n > 0 ? n_done == 0 : state->place == PAWL_PLACE_ON_UNIT))
        lack_part (lacks, state->part, "was not taken off");
    }
}

static void
want_complete (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  GPtrArray *parts = pawl_job_get_parts (job);

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *state = g_ptr_array_index (parts, i);

      if ((state->place == PAWL_PLACE_OFF || state->place == PAWL_PLACE_NOT_YET) && is_of_variant (job, state->part))
        lack_part (lacks, state->part, "is not fitted");
    }
}

static gboolean
is_choice (const PawlPartState *state, const char *choice)
{
  return state->disposition && g_strcmp0 (pawl_entry_get (state->disposition, "choice"), choice) == 0;
}

/* New from the kit, unless it was decided otherwise; or replaced, or another came in its place. */
static gboolean
is_renewed (const PawlPartState *state)
{
  if (state->place == PAWL_PLACE_SEATED && state->arrival && pawl_entry_get (state->arrival, "source"))
    return TRUE;
  return state->place == PAWL_PLACE_SEATED && (state->disposition ? is_choice (state, "replace") : state->part->is_kit);
}

static void
want_renewed (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  GPtrArray *parts = pawl_job_get_parts (job);
  guint n = 0;

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *state = g_ptr_array_index (parts, i);

      if (!state->part->is_one_way || !is_of_variant (job, state->part))
        continue;
      n++;
      if (!is_renewed (state))
        lack_part (lacks, state->part, "is not renewed");
    }
  if (n == 0)
    lack (lacks, "the procedure names no part that is spoilt by taking it out");
}

/* A part repaired or renewed, or a reading that was not in and is in now. */
static void
want_mended (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  GPtrArray *parts = pawl_job_get_parts (job);
  g_autoptr (GPtrArray) results = pawl_results_of_readings (job);

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *state = g_ptr_array_index (parts, i);

      if (is_renewed (state) || (state->place == PAWL_PLACE_SEATED && is_choice (state, "repair")))
        return;
    }
  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = g_ptr_array_index (results, i);

      if (result->found && result->left && result->found->verdict.kind != PAWL_VERDICT_IN && result->left->verdict.kind == PAWL_VERDICT_IN)
        return;
    }
  lack (lacks, "no part was repaired or replaced, and no reading was brought back inside its limits");
}

/* ---- the whole ---- */

static void
want_no_deviation (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  g_autoptr (GPtrArray) deviations = pawl_job_list_deviations (job);

  for (guint i = 0; i < deviations->len; i++)
    {
      const char *what = pawl_entry_get (g_ptr_array_index (deviations, i), "what");

      lack (lacks, "a deviation: %s", what ? what : "not as the book has it");
    }
}

static void
want_signed (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  if (!pawl_job_peek_signature (job))
    lack (lacks, "nobody signed");
}

static const Kind kinds[] = {
  { "steps-done", OF_PHASES, FALSE, want_steps },
  { "waits-kept", OF_PHASES, FALSE, want_waits },
  { "readings-taken", OF_NOTHING, FALSE, want_taken },
  { "readings-in", OF_NOTHING, FALSE, want_in },
  { "checks-right", OF_CHECKS, FALSE, want_checks },
  { "fits-right", OF_NOTHING, FALSE, want_fits },
  { "decided", OF_NOTHING, FALSE, want_decided },
  { "dismantled", OF_NOTHING, FALSE, want_dismantled },
  { "complete", OF_NOTHING, FALSE, want_complete },
  { "one-way-renewed", OF_NOTHING, FALSE, want_renewed },
  { "something-mended", OF_NOTHING, FALSE, want_mended },
  { "holds-released", OF_NOTHING, FALSE, want_released },
  { "no-deviation", OF_NOTHING, FALSE, want_no_deviation },
  { "said", OF_FIELDS, TRUE, want_said },
  { "signed", OF_NOTHING, FALSE, want_signed },
};

/* ---- made from words ---- */

static char *
list_kinds (void)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    g_string_append_printf (text, "%s%s", i == 0 ? "" : i + 1 < G_N_ELEMENTS (kinds) ? ", " : " or ", kinds[i].name);
  return g_string_free (text, FALSE);
}

static const Kind *
find_kind (const char *name)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_str_equal (kinds[i].name, name))
      return &kinds[i];
  return NULL;
}

/* (nullable): what is wrong with narrowing @kind to @of. */
static char *
find_problem (const Kind *kind, char **of)
{
  if (kind->is_narrowed && !*of)
    return g_strdup_printf ("“%s” needs of=\"…\": which fields or notes", kind->name);
  if (kind->narrowing == OF_NOTHING && *of)
    return g_strdup_printf ("“%s” takes no of=\"…\"", kind->name);
  for (guint i = 0; kind->narrowing == OF_CHECKS && of[i]; i++)
    if (!g_strv_contains (check_kinds, of[i]))
      return g_strdup_printf ("there is no kind of check “%s”; it is free, passage, leak, visual or kit", of[i]);
  return NULL;
}

/* g_strsplit_set() makes empty words of blanks beside each other. */
static char **
split (const char *text)
{
  g_auto (GStrv) words = g_strsplit_set (text, " \t\n\r", -1);
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();

  for (guint i = 0; words[i]; i++)
    if (*words[i])
      g_strv_builder_add (builder, words[i]);
  return g_strv_builder_end (builder);
}

PawlEvidence *
pawl_evidence_new (const char *kind, const char *of, char **problem)
{
  PawlEvidence *self = g_new0 (PawlEvidence, 1);

  self->kind = find_kind (kind);
  self->of = split (of ? of : "");
  if (!self->kind)
    {
      g_autofree char *all = list_kinds ();

      *problem = g_strdup_printf ("there is no evidence “%s”; it is %s", kind, all);
    }
  else
    *problem = find_problem (self->kind, self->of);
  if (*problem)
    g_clear_pointer (&self, pawl_evidence_free);
  return self;
}

void
pawl_evidence_free (PawlEvidence *self)
{
  if (!self)
    return;
  g_strfreev (self->of);
  g_free (self);
}

void
pawl_evidence_add_lacks (const PawlEvidence *self, PawlJob *job, GPtrArray *lacks)
{
  self->kind->add_lacks (self, job, lacks);
}
