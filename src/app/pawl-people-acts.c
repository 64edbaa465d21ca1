#include "app/pawl-people-acts.h"

#include <string.h>

#include <glib/gi18n.h>
#include "app/pawl-people-words.h"
#include "app/pawl-trainer-fields.h"

#define N_ROLES (PAWL_ROLE_OWNER + 1)

/* The values of a rule, in the order of its choice; the first one is what is usual. */
static const char * const RULES[PAWL_N_TIGHTENINGS][5] = {
  [PAWL_TIGHTEN_ORDER] = { "-", "fixed", "advice" },
  [PAWL_TIGHTEN_ASK_FIRST] = { "-", "yes", "no" },
  [PAWL_TIGHTEN_BLIND] = { "-", "yes", "no" },
  [PAWL_TIGHTEN_HOLDS] = { "-", "hold", "+1", "+2", "none" },
};

/* ---- fields ---- */

static void
add_roles (PawlFieldForm *form, PawlRole chosen)
{
  const char *words[N_ROLES + 1] = { NULL };

  for (guint i = 0; i < N_ROLES; i++)
    words[i] = pawl_role_get_words ((PawlRole) i);
  pawl_field_form_add_choice (form, "role", _("Role"), words);
  pawl_field_form_set_choice (form, "role", chosen);
}

static PawlRole
get_role (PawlFieldForm *form)
{
  return (PawlRole) MIN (pawl_field_form_get_choice (form, "role"), N_ROLES - 1);
}

static void
add_stages (PawlFieldForm *form, PawlStage chosen)
{
  const char *words[PAWL_N_STAGES + 1] = { NULL };

  for (guint i = 0; i < PAWL_N_STAGES; i++)
    words[i] = pawl_stage_get_words ((PawlStage) i);
  pawl_field_form_add_choice (form, "stage", _("Stage"), words);
  pawl_field_form_set_choice (form, "stage", chosen);
}

static PawlStage
get_stage (PawlFieldForm *form)
{
  return (PawlStage) MIN (pawl_field_form_get_choice (form, "stage"), PAWL_N_STAGES - 1);
}

static const PawlSkill *
get_skill (PawlFieldForm *form, const PawlCrew *crew)
{
  guint place = pawl_field_form_get_choice (form, "skill");

  return place < crew->skills->len ? crew->skills->pdata[place] : crew->skills->pdata[0];
}

static void
add_skills (PawlFieldForm *form, const PawlCrew *crew)
{
  g_autoptr(GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < crew->skills->len; i++)
    g_ptr_array_add (words, pawl_skill_describe (crew->skills->pdata[i]));
  g_ptr_array_add (words, NULL);
  pawl_field_form_add_choice (form, "skill", _("Skill"), (const char * const *) words->pdata);
}

static void
add_rules (PawlFieldForm *form)
{
  const char *labels[PAWL_N_TIGHTENINGS] = { _("Order of steps"), _("Asked before it is shown"), _("Readings taken by two"), _("Steps that somebody looks at") };
  const char *words[PAWL_N_TIGHTENINGS][6] = {
    { _("as usual"), _("as in the procedure"), _("as the parts allow"), NULL },
    { _("as usual"), _("yes"), _("no"), NULL },
    { _("as usual"), _("yes"), _("no"), NULL },
    { _("as usual"), _("each one, before the work goes on"), _("one level more strictly"), _("two levels more strictly"), _("as the procedure has it"), NULL },
  };

  for (guint i = 0; i < PAWL_N_TIGHTENINGS; i++)
    pawl_field_form_add_choice (form, pawl_tighten_get_field ((PawlTighten) i), labels[i], words[i]);
}

/* In plain words, under the stage that is chosen: what follows from it for this person now. */
static void
note_rules (PawlFieldForm *form, const PawlStages *stages)
{
  g_autofree char *rules = pawl_stage_describe_rules (stages, get_stage (form));

  pawl_field_form_set_note (form, "stage", rules);
}

/* Those of this person, for the stage that is chosen. */
static void
choose_rules (PawlFieldForm *form, const PawlStages *stages)
{
  note_rules (form, stages);
  for (guint i = 0; i < PAWL_N_TIGHTENINGS; i++)
    {
      const char *own = stages->table[get_stage (form)][i];
      guint place = 0;

      for (guint j = 0; own != NULL && j < G_N_ELEMENTS (RULES[i]) && RULES[i][j] != NULL; j++)
        if (g_str_equal (RULES[i][j], own))
          place = j;
      pawl_field_form_set_choice (form, pawl_tighten_get_field ((PawlTighten) i), place);
    }
}

/* ---- who may ---- */

/* Once somebody trains here and has a PIN, nobody becomes or stops being one without such a PIN. */
static gboolean
needs_voucher (PawlRecord *record)
{
  g_autoptr(GPtrArray) trainers = pawl_trainers_list (record, TRUE, NULL);

  return trainers != NULL && trainers->len > 0;
}

static gboolean
is_vouched_role (PawlFieldForm *form, const PawlPeopleScene *scene)
{
  const PawlPerson *person = scene->member != NULL ? scene->member->person : NULL;

  return pawl_role_trains (get_role (form)) || (person != NULL && !person->is_retired && pawl_role_trains (person->role));
}

/* Themselves first, then the owners. */
static void
add_provers (PawlFieldForm *form, const PawlPeopleScene *scene)
{
  g_autoptr(GPtrArray) people = pawl_people_list (scene->record, NULL), names = g_ptr_array_new ();

  g_ptr_array_add (names, scene->member->name);
  for (guint i = 0; people != NULL && i < people->len; i++)
    {
      const PawlPerson *other = people->pdata[i];

      if (other->role == PAWL_ROLE_OWNER && !other->is_retired && other->has_pin && !g_str_equal (other->name, scene->member->name))
        g_ptr_array_add (names, other->name);
    }
  g_ptr_array_add (names, NULL);
  if (names->len > 2)
    pawl_field_form_add_choice (form, "prover", _("Who says so, by PIN"), (const char * const *) names->pdata);
  pawl_field_form_add_pin (form, "pin-now", names->len > 2 ? _("Their PIN") : _("PIN so far"));
}

static gboolean
prove (PawlFieldForm *form, const PawlPeopleScene *scene, GError **error)
{
  const char *prover = pawl_field_form_get (form, "prover");

  return !pawl_field_form_has (form, "pin-now")
         || pawl_people_check_pin (scene->record, *prover != '\0' ? prover : scene->member->name, pawl_field_form_get (form, "pin-now"), error);
}

/* ---- opening ---- */

/* What is stated of the skill that is chosen, so that the next one is offered; and whether who goes on signs as well. */
static void
choose_skill (PawlFieldForm *form, const PawlPeopleScene *scene)
{
  const PawlSkillStage *line = pawl_stages_lookup (scene->member->stages, get_skill (form, scene->crew)->word);
  const PawlPerson *person = scene->member->person;

  note_rules (form, scene->member->stages);
  pawl_field_form_set_shown (form, "learner-pin", person != NULL && person->has_pin && line != NULL && get_stage (form) > line->stage);
}

static void
open_stage (PawlFieldForm *form, const PawlPeopleScene *scene)
{
  g_autofree char *heading = g_strdup_printf (_("State a stage of %s"), scene->member->name);
  g_autofree char *label = g_strdup_printf (_("PIN of %s, who goes on and signs as well"), scene->member->name);

  pawl_field_form_begin (form, heading, _("State it"));
  pawl_field_form_add_text (form, _("It applies to jobs opened from now on; a job that is under way keeps what it was opened with."), "secondary");
  add_skills (form, scene->crew);
  add_stages (form, PAWL_STAGE_ASSIST);
  pawl_field_form_add_line (form, "reason", _("Why"), _("What was seen; it stands in the record"));
  pawl_trainer_fields_add (form, scene->record, _("Who states it"), scene->person);
  pawl_field_form_add_pin (form, "learner-pin", label);
  choose_skill (form, scene);
}

static void
open_rules (PawlFieldForm *form, const PawlPeopleScene *scene)
{
  g_autofree char *heading = g_strdup_printf (_("What follows from a stage for %s"), scene->member->name);

  pawl_field_form_begin (form, heading, _("State it"));
  add_stages (form, PAWL_STAGE_ASSIST);
  add_rules (form);
  choose_rules (form, scene->member->stages);
  pawl_field_form_add_line (form, "reason", _("Why"), _("What was seen; it stands in the record"));
  pawl_trainer_fields_add (form, scene->record, _("Who states it"), scene->person);
}

static void
open_pin (PawlFieldForm *form, const PawlPeopleScene *scene)
{
  g_autofree char *heading = g_strdup_printf (_("PIN of %s"), scene->member->name);
  g_autofree char *label = g_strdup_printf (_("New PIN, %d to %d digits"), PAWL_PIN_MIN_LENGTH, PAWL_PIN_MAX_LENGTH);

  pawl_field_form_begin (form, heading, _("Set it"));
  pawl_field_form_add_text (form, _("It is never shown, leaves this machine with no bundle, and can’t be read back: who forgot it asks an owner."), "secondary");
  if (scene->member->person->has_pin)
    add_provers (form, scene);
  pawl_field_form_add_pin (form, "pin-new", label);
  pawl_field_form_add_pin (form, "pin-again", _("The same again"));
}

static void
open_role (PawlFieldForm *form, const PawlPeopleScene *scene, const char *heading, const char *take)
{
  const PawlPerson *person = scene->member != NULL ? scene->member->person : NULL;

  pawl_field_form_begin (form, heading, take);
  if (scene->member == NULL)
    pawl_field_form_add_line (form, "name", _("Name"), NULL);
  add_roles (form, person != NULL ? person->role : PAWL_ROLE_FITTER);
  if (needs_voucher (scene->record))
    pawl_trainer_fields_add (form, scene->record, _("Who vouches for it"), scene->person);
  pawl_trainer_fields_set_shown (form, is_vouched_role (form, scene));
}

static void
open_leave (PawlFieldForm *form, const PawlPeopleScene *scene)
{
  g_autofree char *heading = g_strdup_printf (_("%s leaves"), scene->member->name);

  pawl_field_form_begin (form, heading, _("They left"));
  pawl_field_form_add_text (form, _("The name stays in the list, as somebody who left, and in all that was signed. The PIN goes."), NULL);
  if (scene->member->person->has_pin)
    add_provers (form, scene);
}

void
pawl_people_act_open (PawlFieldForm *form, PawlPeopleAct act, const PawlPeopleScene *scene)
{
  g_autofree char *role = scene->member != NULL ? g_strdup_printf (_("Role of %s"), scene->member->name) : NULL;

  switch (act)
    {
    case PAWL_PEOPLE_ROLE:  open_role (form, scene, role, _("Change it")); break;
    case PAWL_PEOPLE_PIN:   open_pin (form, scene); break;
    case PAWL_PEOPLE_LEAVE: open_leave (form, scene); break;
    case PAWL_PEOPLE_STAGE: open_stage (form, scene); break;
    case PAWL_PEOPLE_RULES: open_rules (form, scene); break;
    case PAWL_PEOPLE_ADD:
    default:                open_role (form, scene, _("Somebody new"), _("Put in the list")); break;
    }
  pawl_field_form_go (form);
}

void
pawl_people_act_choose (PawlFieldForm *form, PawlPeopleAct act, const char *id, const PawlPeopleScene *scene)
{
  if (act == PAWL_PEOPLE_RULES && g_str_equal (id, "stage"))
    choose_rules (form, scene->member->stages);
  else if (act == PAWL_PEOPLE_STAGE)
    choose_skill (form, scene);
  else if (act == PAWL_PEOPLE_ADD || act == PAWL_PEOPLE_ROLE)
    pawl_trainer_fields_set_shown (form, is_vouched_role (form, scene));
}

/* ---- taking ---- */

static gboolean
take_role (PawlFieldForm *form, const PawlPeopleScene *scene, const char *name, GError **error)
{
  g_autofree char *voucher = NULL;

  if (is_vouched_role (form, scene) && needs_voucher (scene->record) && !(voucher = pawl_trainer_fields_prove (form, scene->record, error)))
    return FALSE;
  return pawl_people_add (scene->record, name, get_role (form), error);
}

/* Whoever is in the list already is not put into another role by a name that was typed anew. */
static gboolean
take_new (PawlFieldForm *form, const PawlPeopleScene *scene, const char *name, GError **error)
{
  const PawlCrewMember *known = pawl_crew_lookup (scene->crew, name);

  if (known != NULL && known->person != NULL && !known->person->is_retired)
    {
      g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_NAME, _("%s is in the list already; their role is changed there"), known->name);
      return FALSE;
    }
  return take_role (form, scene, name, error);
}

static gboolean
take_pin (PawlFieldForm *form, const PawlPeopleScene *scene, GError **error)
{
  g_autofree char *pin = g_strdup (pawl_field_form_get (form, "pin-new"));
  gboolean is_set = g_str_equal (pin, pawl_field_form_get (form, "pin-again"));

  if (!is_set)
    g_set_error_literal (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_PIN, _("the two are not the same; nothing was changed"));
  is_set = is_set && prove (form, scene, error) && pawl_people_set_pin (scene->record, scene->member->name, pin, error);
  explicit_bzero (pin, strlen (pin));
  return is_set;
}

/* @entry says what is stated; here it gets who says so. */
static gboolean
take_stated (PawlFieldForm *form, const PawlPeopleScene *scene, PawlEntry *entry, GError **error)
{
  if (!pawl_stages_check (entry, error))
    return FALSE;
  if (pawl_field_form_has (form, "learner-pin") && pawl_stages_goes_on (scene->member->stages, entry))
    {
      if (!pawl_people_check_pin (scene->record, scene->member->name, pawl_field_form_get (form, "learner-pin"), error))
        return FALSE;
      pawl_entry_set (entry, "learner-pin", "yes");
    }
  return pawl_stages_append (scene->record, entry, error);
}

/* (transfer full) (nullable): without what is stated */
static PawlEntry *
make_stated (PawlFieldForm *form, const PawlPeopleScene *scene, GError **error)
{
  g_autofree char *trainer = pawl_trainer_fields_prove (form, scene->record, error);
  g_autoptr(GDateTime) now = pawl_record_dup_now (scene->record);
  PawlEntry *entry;

  if (trainer == NULL)
    return NULL;
  entry = pawl_entry_new (PAWL_ENTRY_PERSON_STATED, scene->member->name, trainer, now);
  pawl_entry_set (entry, "by-pin", "yes");
  pawl_entry_set (entry, "stage", pawl_stage_get_name (get_stage (form)));
  pawl_entry_set (entry, "reason", pawl_field_form_get (form, "reason"));
  return entry;
}

static gboolean
take_stage (PawlFieldForm *form, const PawlPeopleScene *scene, GError **error)
{
  g_autoptr(PawlEntry) entry = NULL;

  if (*pawl_field_form_get (form, "reason") == '\0')
    {
      g_set_error_literal (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NEEDS_REASON, _("why? A word on what was seen stays with it"));
      return FALSE;
    }
  if (!(entry = make_stated (form, scene, error)))
    return FALSE;
  pawl_entry_set (entry, "skill", get_skill (form, scene->crew)->word);
  return take_stated (form, scene, entry, error);
}

static gboolean
take_rules (PawlFieldForm *form, const PawlPeopleScene *scene, GError **error)
{
  g_autoptr(PawlEntry) entry = make_stated (form, scene, error);

  for (guint i = 0; entry != NULL && i < PAWL_N_TIGHTENINGS; i++)
    {
      const char *field = pawl_tighten_get_field ((PawlTighten) i);

      pawl_entry_set (entry, field, RULES[i][pawl_field_form_get_choice (form, field)]);
    }
  return entry != NULL && take_stated (form, scene, entry, error);
}

char *
pawl_people_act_take (PawlFieldForm *form, PawlPeopleAct act, const PawlPeopleScene *scene, GError **error)
{
  g_autofree char *name = g_strdup (scene->member != NULL ? scene->member->name : pawl_field_form_get (form, "name"));
  gboolean is_taken;

  switch (act)
    {
    case PAWL_PEOPLE_ROLE:  is_taken = take_role (form, scene, name, error); break;
    case PAWL_PEOPLE_PIN:   is_taken = take_pin (form, scene, error); break;
    case PAWL_PEOPLE_LEAVE: is_taken = prove (form, scene, error) && pawl_people_retire (scene->record, name, error); break;
    case PAWL_PEOPLE_STAGE: is_taken = take_stage (form, scene, error); break;
    case PAWL_PEOPLE_RULES: is_taken = take_rules (form, scene, error); break;
    case PAWL_PEOPLE_ADD:
    default:                is_taken = take_new (form, scene, name, error); break;
    }
  return is_taken ? g_steal_pointer (&name) : NULL;
}
