#include "app/pawl-people-words.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

const char *
pawl_role_get_words (PawlRole role)
{
  switch (role)
    {
    case PAWL_ROLE_TRAINER: return _("Trainer");
    case PAWL_ROLE_CHECKER: return _("Checker");
    case PAWL_ROLE_OWNER:   return _("Owner");
    case PAWL_ROLE_FITTER:
    default:                return _("Fitter");
    }
}

const char *
pawl_stage_get_words (PawlStage stage)
{
  switch (stage)
    {
    case PAWL_STAGE_ASSIST:      return _("assists");
    case PAWL_STAGE_SUPERVISED:  return _("under supervision");
    case PAWL_STAGE_INDEPENDENT: return _("alone");
    case PAWL_N_STAGES:
    default:                     return "";
    }
}

const char *
pawl_skill_kind_get_words (PawlSkillKind kind)
{
  switch (kind)
    {
    case PAWL_SKILL_OF_RULE:       return _("Which way a part goes");
    case PAWL_SKILL_OF_INSTRUMENT: return _("Instruments");
    case PAWL_SKILL_OF_QUANTITY:   return _("Other instruments and quantities");
    case PAWL_SKILL_OF_ALL: /* stands by itself */
    case PAWL_N_SKILL_KINDS:
    default:                       return "";
    }
}

char *
pawl_skill_describe (const PawlSkill *skill)
{
  PawlRuleKind rule;

  if (skill->kind == PAWL_SKILL_OF_ALL)
    return g_strdup (_("All that nothing else is stated of"));
  if (skill->kind == PAWL_SKILL_OF_RULE && pawl_rule_kind_from_name (skill->word, &rule))
    return g_strdup_printf ("%s: %s", skill->word, pawl_phrase_get_rule_title (rule));
  return g_strdup (skill->title);
}

char *
pawl_crew_member_describe (const PawlCrewMember *member)
{
  const PawlPerson *person = member->person;

  if (person == NULL)
    return g_strdup (_("Not in this record’s list"));
  if (person->is_retired)
    return g_strdup_printf (_("%s · left"), pawl_role_get_words (person->role));
  return g_strdup_printf (person->has_pin ? _("%s · has a PIN") : _("%s · no PIN"), pawl_role_get_words (person->role));
}

/* (transfer full) */
static char *
count_skills (PawlStage stage, guint n)
{
  switch (stage)
    {
    case PAWL_STAGE_ASSIST:     return g_strdup_printf (_("assists in %u"), n);
    case PAWL_STAGE_SUPERVISED: return g_strdup_printf (_("under supervision in %u"), n);
    case PAWL_STAGE_INDEPENDENT:
    case PAWL_N_STAGES:
    default:                    return g_strdup_printf (_("alone in %u"), n);
    }
}

char *
pawl_crew_member_summarise (const PawlCrewMember *member)
{
  g_autoptr(GString) text = g_string_new (NULL);
  guint n_at[PAWL_N_STAGES];

  pawl_crew_member_count (member, n_at);
  for (guint i = 0; i < PAWL_N_STAGES; i++)
    if (n_at[i] > 0)
      {
        g_autofree char *piece = count_skills ((PawlStage) i, n_at[i]);

        g_string_append_printf (text, "%s%s", text->len > 0 ? " · " : "", piece);
      }
  return pawl_phrase_capitalise (text->str);
}

/* ---- what follows ---- */

static const char *
get_rule_words (PawlTighten what, const char *rule)
{
  switch (what)
    {
    case PAWL_TIGHTEN_ORDER:
      return g_str_equal (rule, "fixed") ? _("Steps in the order of the procedure.") : "";
    case PAWL_TIGHTEN_ASK_FIRST:
      return g_str_equal (rule, "yes") ? _("Asked before the right way is shown.") : "";
    case PAWL_TIGHTEN_BLIND:
      return g_str_equal (rule, "yes") ? _("Readings taken by two, neither shown until both are in.") : "";
    case PAWL_TIGHTEN_HOLDS:
      return g_str_equal (rule, "hold") ? _("Somebody looks at each such step before the work goes on.")
             : g_str_equal (rule, "+1") ? _("Each such step is looked at one level more strictly than the procedure asks.")
             : g_str_equal (rule, "+2") ? _("Each such step is looked at two levels more strictly than the procedure asks.") : "";
    case PAWL_N_TIGHTENINGS:
    default:
      return "";
    }
}

char *
pawl_stage_describe_rules (const PawlStages *stages, PawlStage stage)
{
  GString *text = g_string_new (NULL);

  for (guint what = 0; what < PAWL_N_TIGHTENINGS; what++)
    {
      const char *words = get_rule_words ((PawlTighten) what, pawl_stages_get_rule (stages, stage, (PawlTighten) what));

      if (*words != '\0')
        g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", words);
    }
  if (text->len == 0)
    g_string_append (text, _("As the procedure has it; nothing is tightened."));
  return g_string_free (text, FALSE);
}

char *
pawl_skill_stage_describe (const PawlSkillStage *line)
{
  g_autofree char *day = g_date_time_format (line->since, "%Y-%m-%d");

  return *line->reason != '\0' ? g_strdup_printf (_("since %s, stated by %s: %s"), day, line->by, line->reason)
                               : g_strdup_printf (_("since %s, stated by %s"), day, line->by);
}

char *
pawl_skill_run_describe (const PawlSkillRun *run)
{
  if (run == NULL || run->n_jobs == 0)
    return g_strdup ("");
  return g_strdup_printf (g_dngettext (NULL, "%u job since; each first answer was right in the last %u", "%u jobs since; each first answer was right in the last %u",
                                       run->n_jobs), run->n_jobs, run->clean_run);
}

char *
pawl_crew_member_suggest (const PawlCrewMember *member, const char *skill)
{
  PawlStage next;

  if (member->progress == NULL || !pawl_progress_suggests (member->progress, member->stages, skill, &next))
    return NULL;
  return g_strdup_printf (_("“%s” may be due: %u clean jobs in a row. A trainer says so, or not."), pawl_stage_get_words (next),
                          pawl_progress_lookup (member->progress, skill)->clean_run);
}
