/* A fault is planted, and its seal opened at the hold. The record has a digest; code and words are on the trainer's paper. */
#include "app/pawl-trainer-acts.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"
#include "app/pawl-trainer-fields.h"
#include "job/pawl-seal.h"

/* The kinds of pawl-seal.h in the order of the choice, and last what is none of them. Where either way is right nothing can be planted. */
static guint
get_kind (guint place)
{
  return place < PAWL_RULE_EITHER ? place : place + 1;
}

#define N_KINDS (PAWL_N_PLANTED_KINDS - 1)

/* (transfer full) */
static char *
describe_kind (guint kind)
{
  if (kind == PAWL_PLANTED_READING)
    return g_strdup (_("A reading that is out"));
  if (kind == PAWL_PLANTED_STATEMENT)
    return g_strdup (_("A wrong statement"));
  return g_strdup_printf (_("A wrong part: %s"), pawl_phrase_get_rule_title ((PawlRuleKind) kind));
}

static void
add_kinds (PawlFieldForm *form)
{
  g_autoptr(GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < N_KINDS; i++)
    g_ptr_array_add (words, describe_kind (get_kind (i)));
  g_ptr_array_add (words, g_strdup (_("Something else")));
  g_ptr_array_add (words, NULL);
  pawl_field_form_add_choice (form, "kind", _("What kind"), (const char * const *) words->pdata);
}

/* (nullable): as the record has it; NULL for something else */
static const char *
get_kind_name (PawlFieldForm *form)
{
  guint place = pawl_field_form_get_choice (form, "kind");

  return place < N_KINDS ? pawl_planted_kind_get_name (get_kind (place)) : NULL;
}

/*
 * (transfer full): "which: the long screw stands in the short hole". The kind is sealed with the words, so that nobody chooses another one afterwards;
 * who opens it at the command types it like the words.
 */
static char *
dup_sealed_text (PawlFieldForm *form)
{
  const char *kind = get_kind_name (form), *words = pawl_field_form_get (form, "words");

  return kind != NULL ? g_strdup_printf ("%s: %s", kind, words) : g_strdup (words);
}

static PawlEntry *
new_entry (const PawlTrainerScene *scene, PawlEntryKind kind, const char *subject, const char *trainer)
{
  g_autoptr(GDateTime) now = pawl_bench_now (scene->bench);
  PawlEntry *entry = pawl_entry_new (kind, subject, trainer, now);

  pawl_entry_set (entry, "by-pin", "yes");
  return entry;
}

/* ---- planting ---- */

/* (transfer container) (element-type PawlStepState): where somebody will look yet */
static GPtrArray *
list_holds (const PawlTrainerScene *scene)
{
  GPtrArray *steps = pawl_job_get_steps (pawl_bench_get_job (scene->bench)), *list = g_ptr_array_new ();

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = steps->pdata[i];

      if (state->hold != PAWL_HOLD_NONE && state->release == NULL && state->waiver == NULL && state->status != PAWL_STEP_NOT_APPLICABLE
          && state->status != PAWL_STEP_SKIPPED)
        g_ptr_array_add (list, (gpointer) state);
    }
  return list;
}

/* The first hold that the step looked at does not lie behind is chosen. */
static void
add_steps (PawlFieldForm *form, PawlJob *job, GPtrArray *holds, const char *step)
{
  g_autoptr(GPtrArray) words = g_ptr_array_new_with_free_func (g_free);
  GPtrArray *steps = pawl_job_get_steps (job);
  guint here = 0, place = 0, chosen = 0;
  gboolean is_chosen = FALSE;

  g_ptr_array_find (steps, pawl_job_lookup_step (job, step), &here);

  for (guint i = 0; i < holds->len; i++)
    {
      const PawlStepState *state = holds->pdata[i];

      if (!is_chosen && g_ptr_array_find (steps, state, &place) && place >= here)
        {
          chosen = i;
          is_chosen = TRUE;
        }
      g_ptr_array_add (words, g_strdup_printf (_("Step %s, %s"), state->step->number, state->step->command));
    }
  g_ptr_array_add (words, NULL);
  pawl_field_form_add_choice (form, "step", _("Opened at the hold of"), (const char * const *) words->pdata);
  pawl_field_form_set_choice (form, "step", chosen);
}

void
pawl_plant_open (PawlFieldForm *form, const PawlTrainerScene *scene)
{
  g_autoptr(GPtrArray) holds = list_holds (scene);

  pawl_field_form_begin (form, _("Plant a fault"), _("Seal it"));
  if (holds->len == 0)
    {
      pawl_field_form_add_text (form, _("No step of this job has a hold before it at which the seal could be opened."), "strong");
      return;
    }
  pawl_field_form_add_text (form, _("Lay a wrong part out, or say something wrong, and write here what it is. It is sealed: until the hold nobody can read it, and Pawl says nothing of it."), NULL);
  add_steps (form, pawl_bench_get_job (scene->bench), holds, scene->step);
  add_kinds (form);
  pawl_field_form_add_line (form, "words", _("What is planted"), _("In words that you can type again at the hold"));
  pawl_trainer_fields_add (form, pawl_bench_get_record (scene->bench), _("Who plants it"), scene->person);
}

PawlTold *
pawl_plant_take (PawlFieldForm *form, const PawlTrainerScene *scene, GError **error)
{
  g_autoptr(GPtrArray) holds = list_holds (scene);
  guint place = pawl_field_form_get_choice (form, "step");
  g_autofree char *trainer = NULL, *id = g_uuid_string_random (), *code = pawl_seal_make_code_of (id), *text = dup_sealed_text (form), *digest = NULL, *paper = NULL;
  const PawlStep *step = place < holds->len ? ((PawlStepState *) holds->pdata[place])->step : NULL;
  g_autoptr(PawlEntry) entry = NULL;

  if (step == NULL || *pawl_field_form_get (form, "words") == '\0')
    {
      g_set_error_literal (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, _("what is planted? Say it in words"));
      return NULL;
    }
  if (!(trainer = pawl_trainer_fields_prove (form, pawl_bench_get_record (scene->bench), error)))
    return NULL;
  digest = pawl_seal_dup_digest (code, text);
  entry = new_entry (scene, PAWL_ENTRY_SEALED, step->id, trainer);
  pawl_entry_set (entry, "digest", digest);
  if (!pawl_bench_append_one (scene->bench, entry, error))
    return NULL;
  paper = g_strdup_printf (_("%s\n\nWrite the code and these words on paper, and keep it away from the bench. The record has neither, and this is shown once. "
                             "Both are typed at the hold of step %s."), text, step->number);
  return pawl_told_new (_("Sealed"), code, paper);
}

/* ---- opening ---- */

/* (nullable): what was sealed at this step and nobody has opened yet */
static const PawlEntry *
find_sealed (const PawlTrainerScene *scene)
{
  g_autoptr(GArray) seals = pawl_job_list_seals (pawl_bench_get_job (scene->bench));

  for (guint i = 0; i < seals->len; i++)
    {
      const PawlSeal *seal = &g_array_index (seals, PawlSeal, i);

      if (seal->opened == NULL && g_strcmp0 (pawl_entry_get_subject (seal->sealed), scene->step) == 0)
        return seal->sealed;
    }
  return NULL;
}

/* Who learns in this job; else who did the step. */
static const char *
get_learner (const PawlTrainerScene *scene)
{
  PawlJob *job = pawl_bench_get_job (scene->bench);
  const char *learner = pawl_job_get_field (job, "learner");
  const PawlStepState *state = pawl_job_lookup_step (job, scene->step);

  if (*learner != '\0')
    return learner;
  return state->done != NULL ? pawl_entry_get_person (state->done) : "";
}

/* The same for each hold, whether anything was planted there or not. */
void
pawl_unseal_open (PawlFieldForm *form, const PawlTrainerScene *scene)
{
  const PawlStep *step = pawl_job_lookup_step (pawl_bench_get_job (scene->bench), scene->step)->step;
  g_autofree char *heading = g_strdup_printf (_("Open what was sealed at step %s"), step->number);

  pawl_field_form_begin (form, heading, _("Open it"));
  pawl_trainer_fields_add (form, pawl_bench_get_record (scene->bench), _("Who opens it"), scene->person);
  pawl_field_form_add_line (form, "code", _("Code"), _("From your paper"));
  add_kinds (form);
  pawl_field_form_add_line (form, "words", _("What was planted"), _("The words on your paper"));
  pawl_field_form_add_choice (form, "found", _("Was it found before it was shown?"), (const char *[]) { _("Not said yet"), _("Yes, found"), _("No, gone past"), NULL });
  pawl_field_form_add_line (form, "learner", _("By whom"), NULL);
  pawl_field_form_set (form, "learner", get_learner (scene));
  pawl_field_form_add_line (form, "reason", _("If code or words are lost: why it can’t be opened"), _("Else leave this empty; it then counts for nobody"));
}

static PawlTold *
tell_opened (PawlFieldForm *form, const char *text, gboolean is_found)
{
  const char *learner = pawl_field_form_get (form, "learner");
  g_autofree char *words = g_strdup_printf (is_found ? _("%s found it before it was shown.")
                                                     : _("%s went past it. That is what the hold is for: nothing was buried. Look at the part together, and at how to tell."), learner);

  return pawl_told_new (is_found ? _("Found") : _("Not found this time"), text, words);
}

PawlTold *
pawl_unseal_take (PawlFieldForm *form, const PawlTrainerScene *scene, GError **error)
{
  static const char * const FOUND[] = { NULL, "yes", "no" };
  g_autofree char *trainer = pawl_trainer_fields_prove (form, pawl_bench_get_record (scene->bench), error), *text = dup_sealed_text (form);
  const PawlEntry *sealed = find_sealed (scene);
  guint found = MIN (pawl_field_form_get_choice (form, "found"), G_N_ELEMENTS (FOUND) - 1);
  gboolean is_lost = *pawl_field_form_get (form, "code") == '\0' && *pawl_field_form_get (form, "reason") != '\0';
  g_autoptr(PawlEntry) entry = NULL;

  if (trainer == NULL)
    return NULL;
  if (sealed == NULL)
    {
      g_set_error_literal (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN, _("nothing is sealed at this step"));
      return NULL;
    }
  entry = new_entry (scene, PAWL_ENTRY_UNSEALED, pawl_entry_get_id (sealed), trainer);
  if (is_lost)
    pawl_entry_set (entry, "reason", pawl_field_form_get (form, "reason"));
  else
    {
      pawl_entry_set (entry, "code", pawl_field_form_get (form, "code"));
      pawl_entry_set (entry, "text", text);
      pawl_entry_set (entry, "found", FOUND[found]);
      pawl_entry_set (entry, "fault-kind", get_kind_name (form));
      pawl_entry_set (entry, "learner", pawl_field_form_get (form, "learner"));
    }
  if (!pawl_bench_append_one (scene->bench, entry, error))
    return NULL;
  return is_lost ? pawl_told_new (_("Set aside"), NULL, _("The seal stays shut, and counts for nobody.")) : tell_opened (form, text, found == 1);
}
