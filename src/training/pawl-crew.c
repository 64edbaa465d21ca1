#include "training/pawl-crew.h"

#include <string.h>

#include "bench/pawl-job-loader.h"

static void
member_free (PawlCrewMember *self)
{
  g_free (self->name);
  g_clear_pointer (&self->person, pawl_person_free);
  pawl_stages_free (self->stages);
  g_clear_pointer (&self->progress, pawl_progress_free);
  g_free (self);
}

static void
skill_free (PawlSkill *self)
{
  g_free (self->word);
  g_free (self->title);
  g_free (self);
}

void
pawl_crew_free (PawlCrew *self)
{
  g_ptr_array_unref (self->members);
  g_ptr_array_unref (self->skills);
  g_free (self);
}

/* ---- skills ---- */

static PawlSkill *
find_skill (const PawlCrew *self, const char *word)
{
  for (guint i = 0; i < self->skills->len; i++)
    if (g_str_equal (((PawlSkill *) self->skills->pdata[i])->word, word))
      return self->skills->pdata[i];
  return NULL;
}

const PawlSkill *
pawl_crew_lookup_skill (const PawlCrew *self, const char *word)
{
  return find_skill (self, word);
}

/* @title: (nullable): the newest counts */
static void
add_skill (PawlCrew *self, const char *word, PawlSkillKind kind, const char *title)
{
  PawlSkill *skill = find_skill (self, word);

  if (skill == NULL)
    {
      skill = g_new0 (PawlSkill, 1);
      skill->word = g_strdup (word);
      skill->title = g_strdup (word);
      g_ptr_array_add (self->skills, skill);
    }
  skill->kind = kind;
  if (title == NULL)
    return;
  g_free (skill->title);
  skill->title = g_strdup (title);
}

static PawlSkillKind
get_kind_of_word (const char *word)
{
  PawlRuleKind rule;

  if (g_str_equal (word, PAWL_SKILL_ALL))
    return PAWL_SKILL_OF_ALL;
  return pawl_rule_kind_from_name (word, &rule) ? PAWL_SKILL_OF_RULE : PAWL_SKILL_OF_QUANTITY;
}

static void
add_known_skills (PawlCrew *self)
{
  add_skill (self, PAWL_SKILL_ALL, PAWL_SKILL_OF_ALL, NULL);
  for (guint kind = 0; kind < PAWL_N_RULE_KINDS; kind++)
    if (kind != PAWL_RULE_EITHER)
      add_skill (self, pawl_rule_kind_get_name ((PawlRuleKind) kind), PAWL_SKILL_OF_RULE, NULL);
}

static void
add_stated_skills (PawlCrew *self, const PawlStages *stages)
{
  for (guint i = 0; i < stages->skills->len; i++)
    {
      const PawlSkillStage *line = stages->skills->pdata[i];

      if (find_skill (self, line->skill) == NULL)
        add_skill (self, line->skill, get_kind_of_word (line->skill), NULL);
    }
}

static void
add_skills_of (PawlCrew *self, PawlProcedure *procedure)
{
  g_autoptr(GPtrArray) words = pawl_procedure_list_skills (procedure);

  for (guint i = 0; i < words->len; i++)
    {
      const PawlTool *tool = pawl_procedure_lookup_tool (procedure, words->pdata[i]);

      add_skill (self, words->pdata[i], tool != NULL ? PAWL_SKILL_OF_INSTRUMENT : get_kind_of_word (words->pdata[i]), tool != NULL ? tool->name : NULL);
    }
}

static int
compare_skills (gconstpointer a, gconstpointer b)
{
  const PawlSkill *first = *(PawlSkill *const *) a, *second = *(PawlSkill *const *) b;

  return first->kind != second->kind ? (int) first->kind - (int) second->kind : strcmp (first->word, second->word);
}

/* ---- people ---- */

static char *
dup_key (const char *name)
{
  g_autofree char *bare = g_strstrip (g_strdup (name));

  return g_utf8_casefold (bare, -1);
}

const PawlCrewMember *
pawl_crew_lookup (const PawlCrew *self, const char *name)
{
  g_autofree char *key = dup_key (name);

  for (guint i = 0; i < self->members->len; i++)
    {
      g_autofree char *other = dup_key (((PawlCrewMember *) self->members->pdata[i])->name);

      if (g_str_equal (key, other))
        return self->members->pdata[i];
    }
  return NULL;
}

/* @person: (transfer full) (nullable) */
static void
add_member (PawlCrew *self, const char *name, PawlPerson *person, GPtrArray *stated)
{
  PawlCrewMember *member = g_new0 (PawlCrewMember, 1);

  member->name = g_strdup (name);
  member->person = person;
  member->stages = pawl_stages_fold (stated, name);
  add_stated_skills (self, member->stages);
  g_ptr_array_add (self->members, member);
}

static int
compare_members (gconstpointer a, gconstpointer b)
{
  const PawlCrewMember *first = *(PawlCrewMember *const *) a, *second = *(PawlCrewMember *const *) b;
  gboolean first_left = first->person != NULL && first->person->is_retired, second_left = second->person != NULL && second->person->is_retired;

  return first_left != second_left ? first_left - second_left : g_utf8_collate (first->name, second->name);
}

PawlCrew *
pawl_crew_load (PawlRecord *record, GError **error)
{
  g_autoptr(GPtrArray) people = pawl_people_list (record, error), stated = people != NULL ? pawl_record_load_learners (record, error) : NULL;
  PawlCrew *self;

  if (stated == NULL)
    return NULL;
  self = g_new0 (PawlCrew, 1);
  self->members = g_ptr_array_new_with_free_func ((GDestroyNotify) member_free);
  self->skills = g_ptr_array_new_with_free_func ((GDestroyNotify) skill_free);
  add_known_skills (self);
  while (people->len > 0)
    {
      PawlPerson *person = g_ptr_array_steal_index (people, 0);

      add_member (self, person->name, person, stated);
    }
  for (guint i = 0; i < stated->len; i++)
    {
      g_autofree char *name = g_strstrip (g_strdup (pawl_entry_get_subject (stated->pdata[i])));

      if (pawl_crew_lookup (self, name) == NULL)
        add_member (self, name, NULL, stated);
    }
  g_ptr_array_sort (self->members, compare_members);
  g_ptr_array_sort (self->skills, compare_skills);
  return self;
}

void
pawl_crew_add_jobs (PawlCrew *self, GPtrArray *jobs)
{
  for (guint i = 0; i < jobs->len; i++)
    add_skills_of (self, pawl_job_get_procedure (jobs->pdata[i]));
  g_ptr_array_sort (self->skills, compare_skills);
  for (guint i = 0; i < self->members->len; i++)
    {
      PawlCrewMember *member = self->members->pdata[i];

      g_clear_pointer (&member->progress, pawl_progress_free);
      member->progress = pawl_progress_make (member->stages, jobs);
    }
}

PawlCrew *
pawl_crew_load_with_jobs (PawlRecord *record, GError **error)
{
  g_autoptr(PawlCrew) self = pawl_crew_load (record, error);
  g_autoptr(GPtrArray) jobs = self != NULL ? pawl_job_loader_fold_all (record, error) : NULL;

  if (jobs == NULL)
    return NULL;
  pawl_crew_add_jobs (self, jobs);
  return g_steal_pointer (&self);
}

/* ---- readings by two ---- */

static void
add_name (GPtrArray *names, const PawlAttempt *attempt)
{
  char *name = g_strstrip (g_strdup (pawl_entry_get_person (attempt->entry)));

  if (g_ptr_array_find_with_equal_func (names, name, g_str_equal, NULL))
    g_free (name);
  else
    g_ptr_array_add (names, name);
}

/* (transfer full) (element-type utf8) */
static GPtrArray *
list_paired (GPtrArray *jobs)
{
  GPtrArray *names = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < jobs->len; i++)
    {
      GPtrArray *steps = pawl_job_get_steps (jobs->pdata[i]);

      for (guint j = 0; j < steps->len; j++)
        {
          GPtrArray *asks = ((PawlStepState *) steps->pdata[j])->asks;

          for (guint k = 0; k < asks->len; k++)
            for (guint n = 0; n < 2 && ((PawlAskState *) asks->pdata[k])->paired[0] != NULL; n++)
              add_name (names, ((PawlAskState *) asks->pdata[k])->paired[n]);
        }
    }
  return names;
}

GPtrArray *
pawl_crew_load_pairs (PawlRecord *record, GError **error)
{
  g_autoptr(GPtrArray) jobs = pawl_job_loader_fold_all (record, error), none = g_ptr_array_new (), names = NULL;
  GPtrArray *all;

  if (jobs == NULL)
    return NULL;
  names = list_paired (jobs);
  all = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_progress_free);
  for (guint i = 0; i < names->len; i++)
    {
      g_autoptr(PawlStages) stages = pawl_stages_fold (none, names->pdata[i]);

      g_ptr_array_add (all, pawl_progress_make (stages, jobs));
    }
  return all;
}

void
pawl_crew_member_count (const PawlCrewMember *member, guint n_at[PAWL_N_STAGES])
{
  memset (n_at, 0, PAWL_N_STAGES * sizeof *n_at);
  for (guint i = 0; i < member->stages->skills->len; i++)
    n_at[((PawlSkillStage *) member->stages->skills->pdata[i])->stage]++;
}
