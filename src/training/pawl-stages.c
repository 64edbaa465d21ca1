#include "training/pawl-stages.h"

#include <string.h>

static const char *const STAGE_NAMES[] = {
  [PAWL_STAGE_ASSIST] = "assist", [PAWL_STAGE_SUPERVISED] = "supervised", [PAWL_STAGE_INDEPENDENT] = "independent",
};

/* What follows from a stage: common practice, no source. Who assists has somebody look at each step of the skill; under supervision one level more. */
static const char *const RULES[PAWL_N_STAGES][PAWL_N_TIGHTENINGS] = {
  [PAWL_STAGE_ASSIST]      = { [PAWL_TIGHTEN_ORDER] = "fixed", [PAWL_TIGHTEN_ASK_FIRST] = "yes", [PAWL_TIGHTEN_BLIND] = "yes", [PAWL_TIGHTEN_HOLDS] = "hold" },
  [PAWL_STAGE_SUPERVISED]  = { [PAWL_TIGHTEN_ORDER] = "advice", [PAWL_TIGHTEN_ASK_FIRST] = "yes", [PAWL_TIGHTEN_BLIND] = "no", [PAWL_TIGHTEN_HOLDS] = "+1" },
  [PAWL_STAGE_INDEPENDENT] = { [PAWL_TIGHTEN_ORDER] = "advice", [PAWL_TIGHTEN_ASK_FIRST] = "no", [PAWL_TIGHTEN_BLIND] = "no", [PAWL_TIGHTEN_HOLDS] = "none" },
};

static const char *const CHOICES[PAWL_N_TIGHTENINGS][6] = {
  [PAWL_TIGHTEN_ORDER] = { "fixed", "advice" },
  [PAWL_TIGHTEN_ASK_FIRST] = { "yes", "no" },
  [PAWL_TIGHTEN_BLIND] = { "yes", "no" },
  [PAWL_TIGHTEN_HOLDS] = { "hold", "+1", "+2", "none" },
};

const char *
pawl_stage_get_name (PawlStage stage)
{
  g_return_val_if_fail (stage < PAWL_N_STAGES, "");
  return STAGE_NAMES[stage];
}

gboolean
pawl_stage_from_name (const char *name, PawlStage *stage)
{
  for (guint i = 0; i < PAWL_N_STAGES; i++)
    if (g_str_equal (STAGE_NAMES[i], name))
      {
        *stage = (PawlStage) i;
        return TRUE;
      }
  return FALSE;
}

const char *
pawl_stage_get_rule (PawlStage stage, PawlTighten what)
{
  g_return_val_if_fail (stage < PAWL_N_STAGES && what < PAWL_N_TIGHTENINGS, "");
  return RULES[stage][what];
}

const char *
pawl_stages_get_rule (const PawlStages *self, PawlStage stage, PawlTighten what)
{
  const char *own = self->table[stage][what];

  return own != NULL ? own : pawl_stage_get_rule (stage, what);
}

/* ---- the fold ---- */

static void
skill_stage_free (PawlSkillStage *self)
{
  g_free (self->skill);
  g_date_time_unref (self->since);
  g_free (self->by);
  g_free (self->reason);
  g_free (self);
}

void
pawl_stages_free (PawlStages *self)
{
  g_free (self->chain);
  g_free (self->name);
  g_ptr_array_unref (self->skills);
  g_ptr_array_unref (self->entries);
  for (guint stage = 0; stage < PAWL_N_STAGES; stage++)
    for (guint what = 0; what < PAWL_N_TIGHTENINGS; what++)
      g_free (self->table[stage][what]);
  g_free (self);
}

static const PawlSkillStage *
find_skill (const PawlStages *self, const char *skill)
{
  for (guint i = 0; i < self->skills->len; i++)
    if (g_str_equal (((PawlSkillStage *) self->skills->pdata[i])->skill, skill))
      return self->skills->pdata[i];
  return NULL;
}

const PawlSkillStage *
pawl_stages_lookup (const PawlStages *self, const char *skill)
{
  const PawlSkillStage *found = find_skill (self, skill);

  return found != NULL ? found : find_skill (self, PAWL_SKILL_ALL);
}

static void
apply_skill (PawlStages *self, const PawlEntry *entry, PawlStage stage)
{
  const char *skill = pawl_entry_get (entry, "skill"), *reason = pawl_entry_get (entry, "reason");
  PawlSkillStage *line = g_new0 (PawlSkillStage, 1);
  const PawlSkillStage *before = find_skill (self, skill);

  if (before != NULL)
    g_ptr_array_remove (self->skills, (gpointer) before);
  line->skill = g_strdup (skill);
  line->stage = stage;
  line->since = g_date_time_ref (pawl_entry_peek_at (entry));
  line->by = g_strdup (pawl_entry_get_person (entry));
  line->reason = g_strdup (reason != NULL ? reason : "");
  g_ptr_array_add (self->skills, line);
}

static void
apply_table (PawlStages *self, const PawlEntry *entry, PawlStage stage)
{
  for (guint what = 0; what < PAWL_N_TIGHTENINGS; what++)
    {
      const char *rule = pawl_entry_get (entry, pawl_tighten_get_field ((PawlTighten) what));

      if (rule == NULL)
        continue;
      g_free (self->table[stage][what]);
      self->table[stage][what] = g_str_equal (rule, "-") ? NULL : g_strdup (rule);
    }
}

static void
apply (PawlStages *self, PawlEntry *entry)
{
  const char *stage_name = pawl_entry_get (entry, "stage"), *clean_run = pawl_entry_get (entry, "clean-run");
  PawlStage stage;

  g_free (self->chain);
  self->chain = g_strdup (pawl_entry_get_job (entry));
  g_ptr_array_add (self->entries, pawl_entry_ref (entry));
  if (clean_run != NULL)
    self->clean_run = (guint) CLAMP (g_ascii_strtoull (clean_run, NULL, 10), 1, 1000);
  if (stage_name == NULL || !pawl_stage_from_name (stage_name, &stage))
    return;
  if (pawl_entry_get (entry, "skill") != NULL)
    apply_skill (self, entry, stage);
  else
    apply_table (self, entry, stage);
}

static int
compare_skills (gconstpointer a, gconstpointer b)
{
  return strcmp ((*(PawlSkillStage *const *) a)->skill, (*(PawlSkillStage *const *) b)->skill);
}

/* Records that were merged may have two chains of one person: what was said later counts. */
static int
compare_times (gconstpointer a, gconstpointer b)
{
  const PawlEntry *first = *(PawlEntry *const *) a, *second = *(PawlEntry *const *) b;
  int order = g_date_time_compare (pawl_entry_peek_at (first), pawl_entry_peek_at (second));

  if (order == 0 && g_strcmp0 (pawl_entry_get_job (first), pawl_entry_get_job (second)) == 0)
    return pawl_entry_get_number (first) < pawl_entry_get_number (second) ? -1 : 1;
  return order != 0 ? order : g_strcmp0 (pawl_entry_get_id (first), pawl_entry_get_id (second));
}

static char *
dup_key (const char *name)
{
  g_autofree char *stripped = g_strstrip (g_strdup (name));

  return g_utf8_casefold (stripped, -1);
}

PawlStages *
pawl_stages_fold (GPtrArray *entries, const char *name)
{
  PawlStages *self = g_new0 (PawlStages, 1);
  g_autoptr(GPtrArray) own = g_ptr_array_new ();
  g_autofree char *key = dup_key (name);

  self->name = g_strstrip (g_strdup (name));
  self->skills = g_ptr_array_new_with_free_func ((GDestroyNotify) skill_stage_free);
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  self->clean_run = PAWL_STAGES_CLEAN_RUN;
  for (guint i = 0; i < entries->len; i++)
    {
      g_autofree char *other = dup_key (pawl_entry_get_subject (entries->pdata[i]));

      if (g_str_equal (key, other))
        g_ptr_array_add (own, entries->pdata[i]);
    }
  g_ptr_array_sort (own, compare_times);
  for (guint i = 0; i < own->len; i++)
    apply (self, own->pdata[i]);
  g_ptr_array_sort (self->skills, compare_skills);
  return self;
}

PawlStages *
pawl_stages_load (PawlRecord *record, const char *name, GError **error)
{
  g_autoptr(GPtrArray) entries = pawl_record_load_learners (record, error);

  return entries != NULL ? pawl_stages_fold (entries, name) : NULL;
}

/* ---- what a job is opened with ---- */

static void
append_word (GString *list, const char *skill, const char *sign, const char *value)
{
  g_string_append_printf (list, "%s%s%s%s", list->len > 0 ? " " : "", skill, sign, value);
}

static void
set_unless_there (PawlEntry *opened, const char *field, const GString *text)
{
  if (pawl_entry_get (opened, field) == NULL)
    pawl_entry_set (opened, field, text->str);
}

typedef struct {
  GString *stages, *lists[PAWL_N_TIGHTENINGS];
} Opening;

static void
add_skill (const PawlStages *self, const char *skill, PawlStage stage, Opening *opening)
{
  const char *holds = pawl_stages_get_rule (self, stage, PAWL_TIGHTEN_HOLDS);

  append_word (opening->stages, skill, "=", pawl_stage_get_name (stage));
  if (g_str_equal (pawl_stages_get_rule (self, stage, PAWL_TIGHTEN_ORDER), "fixed"))
    g_string_assign (opening->lists[PAWL_TIGHTEN_ORDER], "fixed");
  for (guint what = PAWL_TIGHTEN_ASK_FIRST; what <= PAWL_TIGHTEN_BLIND; what++)
    if (g_str_equal (pawl_stages_get_rule (self, stage, (PawlTighten) what), "yes"))
      append_word (opening->lists[what], skill, "", "");
  if (!g_str_equal (holds, "none"))
    append_word (opening->lists[PAWL_TIGHTEN_HOLDS], skill, "=", holds);
}

void
pawl_stages_tighten (const PawlStages *self, PawlProcedure *procedure, PawlEntry *opened)
{
  g_autoptr(GPtrArray) skills = pawl_procedure_list_skills (procedure);
  Opening opening = { g_string_new (NULL), { NULL } };
  gboolean is_any = FALSE;

  for (guint what = 0; what < PAWL_N_TIGHTENINGS; what++)
    opening.lists[what] = g_string_new (NULL);
  for (guint i = 0; i < skills->len; i++)
    {
      const PawlSkillStage *line = pawl_stages_lookup (self, skills->pdata[i]);

      if (line != NULL)
        add_skill (self, skills->pdata[i], line->stage, &opening);
    }
  for (guint what = 0; what < PAWL_N_TIGHTENINGS; what++)
    {
      is_any |= opening.lists[what]->len > 0;
      set_unless_there (opened, pawl_tighten_get_field ((PawlTighten) what), opening.lists[what]);
      g_string_free (opening.lists[what], TRUE);
    }
  if (is_any)
    {
      pawl_entry_set (opened, "learner", self->name);
      pawl_entry_set (opened, "stages", opening.stages->str);
    }
  g_string_free (opening.stages, TRUE);
}

gboolean
pawl_stages_tighten_for (PawlRecord *record, PawlProcedure *procedure, PawlEntry *opened, GError **error)
{
  g_autoptr(PawlStages) self = pawl_stages_load (record, pawl_entry_get_person (opened), error);

  if (self == NULL)
    return FALSE;
  pawl_stages_tighten (self, procedure, opened);
  return TRUE;
}

/* ---- the way in ---- */

gboolean
pawl_stages_goes_on (const PawlStages *self, const PawlEntry *entry)
{
  const char *skill = pawl_entry_get (entry, "skill"), *name = pawl_entry_get (entry, "stage");
  const PawlSkillStage *before = skill != NULL ? pawl_stages_lookup (self, skill) : NULL;
  PawlStage stage;

  return before != NULL && name != NULL && pawl_stage_from_name (name, &stage) && stage > before->stage;
}

static gboolean
refuse (GError **error, PawlJobError code, const char *message)
{
  g_set_error_literal (error, PAWL_JOB_ERROR, (int) code, message);
  return FALSE;
}

static gboolean
check_rule (PawlTighten what, const char *rule, GError **error)
{
  g_autofree char *choices = NULL;

  if (g_str_equal (rule, "-") || g_strv_contains (CHOICES[what], rule))
    return TRUE;
  choices = g_strjoinv (", ", (char **) CHOICES[what]);
  g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” can't be taken for %s; it is one of %s, or - for what is usual", rule,
               pawl_tighten_get_field (what), choices);
  return FALSE;
}

static gboolean
check_table (PawlEntry *entry, GError **error)
{
  guint n = 0;

  for (guint what = 0; what < PAWL_N_TIGHTENINGS; what++)
    {
      const char *rule = pawl_entry_get (entry, pawl_tighten_get_field ((PawlTighten) what));

      if (rule != NULL && !check_rule ((PawlTighten) what, rule, error))
        return FALSE;
      n += rule != NULL;
    }
  return n > 0 || refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "a stage is stated of a skill, as in “sense assist”, or what follows from it is changed");
}

static gboolean
check_clean_run (const char *text, GError **error)
{
  guint64 n;

  return g_ascii_string_to_unsigned (text, 10, 1, 1000, &n, NULL)
         || refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "how many clean jobs in a row is a whole number from 1 to 1000");
}

gboolean
pawl_stages_check (PawlEntry *entry, GError **error)
{
  const char *skill = pawl_entry_get (entry, "skill"), *name = pawl_entry_get (entry, "stage"), *clean_run = pawl_entry_get (entry, "clean-run");
  g_autofree char *subject = dup_key (pawl_entry_get_subject (entry)), *person = dup_key (pawl_entry_get_person (entry));
  PawlStage stage;

  g_return_val_if_fail (pawl_entry_get_kind (entry) == PAWL_ENTRY_PERSON_STATED, FALSE);
  if (*subject == '\0')
    return refuse (error, PAWL_JOB_ERROR_UNKNOWN, "of whom is it stated? Say the name");
  if (g_str_equal (subject, person))
    return refuse (error, PAWL_JOB_ERROR_HELD, "nobody states their own stage; a trainer does");
  if (g_strcmp0 (pawl_entry_get (entry, "by-pin"), "yes") != 0)
    return refuse (error, PAWL_JOB_ERROR_HELD, "a stage needs the PIN of the trainer who states it");
  if (clean_run != NULL)
    return check_clean_run (clean_run, error);
  if (name == NULL || !pawl_stage_from_name (name, &stage))
    return refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "a stage is assist, supervised or independent");
  if (skill == NULL)
    return check_table (entry, error);
  return pawl_skill_is_word (skill)
         || refuse (error, PAWL_JOB_ERROR_BAD_ANSWER, "a skill is one word: a rule kind as in “sense”, an instrument as in “depth-gauge”, a quantity as in “torque”, or all");
}

gboolean
pawl_stages_append (PawlRecord *record, PawlEntry *entry, GError **error)
{
  g_autoptr(PawlStages) self = NULL;
  g_autofree char *chain = NULL;

  if (!pawl_stages_check (entry, error) || !(self = pawl_stages_load (record, pawl_entry_get_subject (entry), error)))
    return FALSE;
  if (self->chain != NULL)
    return pawl_record_append_one (record, self->chain, entry, error);
  chain = pawl_record_open_learner (record, entry, error);
  return chain != NULL;
}
