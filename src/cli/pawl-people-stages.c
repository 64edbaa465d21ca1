#include "cli/pawl-people-stages.h"

#include <math.h>
#include <stdio.h>

#include "bench/pawl-job-loader.h"
#include "cli/pawl-cli.h"
#include "cli/pawl-cli-pin.h"

/* ---- stating ---- */

/* Who goes on signs as well, so that nobody is told alone what they may do now. */
static gboolean
prove_learner (PawlRecord *record, const char *name, PawlEntry *entry, GError **error)
{
  g_autoptr (PawlStages) stages = pawl_stages_load (record, name, error);
  g_autoptr (PawlPerson) learner = stages ? pawl_people_lookup (record, name, error) : NULL;

  if (!learner)
    return FALSE;
  if (!learner->has_pin || !pawl_stages_goes_on (stages, entry))
    return TRUE;
  if (!pawl_cli_prove (record, learner->name, error))
    return FALSE;
  pawl_entry_set (entry, "learner-pin", "yes");
  return TRUE;
}

gboolean
pawl_people_state_stage (PawlRecord *record, const char *name, const char *by, const PawlStageWords *words, GError **error)
{
  g_autoptr (PawlPerson) trainer = pawl_cli_prove_trainer (record, by, error);
  g_autoptr (GDateTime) now = pawl_record_dup_now (record);
  g_autoptr (PawlEntry) entry = trainer ? pawl_entry_new (PAWL_ENTRY_PERSON_STATED, name, trainer->name, now) : NULL;

  if (!entry)
    return FALSE;
  pawl_entry_set (entry, "by-pin", "yes");
  pawl_entry_set (entry, "reason", words->reason);
  pawl_entry_set (entry, "clean-run", words->clean_run);
  pawl_entry_set (entry, "skill", words->second ? words->first : NULL);
  pawl_entry_set (entry, "stage", words->second ? words->second : words->first);
  for (guint i = 0; i < PAWL_N_TIGHTENINGS; i++)
    pawl_entry_set (entry, pawl_tighten_get_field ((PawlTighten) i), words->rules[i]);
  return pawl_stages_check (entry, error) && prove_learner (record, name, entry, error) && pawl_stages_append (record, entry, error);
}

/* ---- showing ---- */

static void
print_skill (const PawlProgress *progress, const PawlStages *stages, const PawlSkillStage *line)
{
  const PawlSkillRun *run = pawl_progress_lookup (progress, line->skill);
  g_autofree char *since = pawl_cli_format_time (line->since);
  PawlStage next;

  printf ("  %-18s %-12s since %s, by %s%s%s\n", line->skill, pawl_stage_get_name (line->stage), since, line->by, *line->reason ? ": " : "", line->reason);
  if (run)
    printf ("  %-18s %u job%s since, the last %u clean\n", "", run->n_jobs, run->n_jobs == 1 ? "" : "s", run->clean_run);
  if (pawl_progress_suggests (progress, stages, line->skill, &next))
    printf ("  %-18s %u clean jobs in a row: %s may be due; a trainer says so\n", "", run->clean_run, pawl_stage_get_name (next));
}

static void
print_table (const PawlStages *stages)
{
  printf ("What follows from a stage\n  %-12s %-8s %-10s %-6s %s\n", "", "order", "ask-first", "blind", "holds");
  for (guint i = 0; i < PAWL_N_STAGES; i++)
    printf ("  %-12s %-8s %-10s %-6s %s\n", pawl_stage_get_name ((PawlStage) i), pawl_stages_get_rule (stages, (PawlStage) i, PAWL_TIGHTEN_ORDER),
            pawl_stages_get_rule (stages, (PawlStage) i, PAWL_TIGHTEN_ASK_FIRST), pawl_stages_get_rule (stages, (PawlStage) i, PAWL_TIGHTEN_BLIND),
            pawl_stages_get_rule (stages, (PawlStage) i, PAWL_TIGHTEN_HOLDS));
}

static void
print_pairs (const PawlPairFigures *pairs)
{
  double scale = pawl_unit_get_scale (pairs->unit);
  const char *symbol = pawl_unit_get_symbol (pairs->unit);

  printf ("  %-18s %u reading%s by two, bias %+.4g %s", pairs->instrument, pairs->n, pairs->n == 1 ? "" : "s", pairs->bias / scale + 0.0, symbol);
  if (!isnan (pairs->spread))
    printf (", spread %.3g %s", pairs->spread / scale, symbol);
  printf (", %u beyond U\n", pairs->n_beyond);
  if (pairs->has_study)
    printf ("  %-18s gauge study of %u parts, %u trials: repeatability %.3g %s, reproducibility %.3g %s\n", "", pairs->study.n_parts, pairs->study.n_trials,
            pairs->study.repeatability / scale, symbol, pairs->study.reproducibility / scale, symbol);
}

static void
print_text (const PawlStages *stages, const PawlProgress *progress)
{
  g_autofree char *found = pawl_rate_format (&progress->found);

  printf ("%s%s\n", stages->name, stages->skills->len == 0 ? ": no stage is stated" : "");
  for (guint i = 0; i < stages->skills->len; i++)
    print_skill (progress, stages, g_ptr_array_index (stages->skills, i));
  if (stages->skills->len > 0)
    print_table (stages);
  if (progress->pairs->len > 0)
    puts ("Readings by two, this person's less the other's");
  for (guint i = 0; i < progress->pairs->len; i++)
    print_pairs (g_ptr_array_index (progress->pairs, i));
  if (progress->found.n > 0)
    printf ("Planted faults found: %s\n", found);
}

static void
add_number (JsonBuilder *builder, const char *name, double value)
{
  json_builder_set_member_name (builder, name);
  if (isnan (value))
    json_builder_add_null_value (builder);
  else
    json_builder_add_double_value (builder, value);
}

static void
add_count (JsonBuilder *builder, const char *name, guint value)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_int_value (builder, value);
}

static void
add_skill (JsonBuilder *builder, const PawlStages *stages, const PawlProgress *progress, const PawlSkillStage *line)
{
  const PawlSkillRun *run = pawl_progress_lookup (progress, line->skill);
  PawlStage next;

  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "skill", line->skill);
  pawl_cli_add_string (builder, "stage", pawl_stage_get_name (line->stage));
  pawl_cli_add_time (builder, "since", line->since);
  pawl_cli_add_string (builder, "by", line->by);
  pawl_cli_add_string (builder, "reason", line->reason);
  add_count (builder, "jobs", run ? run->n_jobs : 0);
  add_count (builder, "clean-run", run ? run->clean_run : 0);
  pawl_cli_add_string (builder, "suggested", pawl_progress_suggests (progress, stages, line->skill, &next) ? pawl_stage_get_name (next) : NULL);
  json_builder_end_object (builder);
}

static void
add_pairs (JsonBuilder *builder, const PawlPairFigures *pairs)
{
  double scale = pawl_unit_get_scale (pairs->unit);

  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "instrument", pairs->instrument);
  pawl_cli_add_string (builder, "unit-symbol", pawl_unit_get_symbol (pairs->unit));
  add_count (builder, "readings", pairs->n);
  add_count (builder, "beyond-uncertainty", pairs->n_beyond);
  add_number (builder, "bias", pairs->bias / scale);
  add_number (builder, "spread", pairs->spread / scale);
  add_number (builder, "repeatability", pairs->has_study ? pairs->study.repeatability / scale : (double) NAN);
  add_number (builder, "reproducibility", pairs->has_study ? pairs->study.reproducibility / scale : (double) NAN);
  json_builder_end_object (builder);
}

static void
print_json (const PawlStages *stages, const PawlProgress *progress)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "name", stages->name);
  add_count (builder, "suggest-after", stages->clean_run);
  json_builder_set_member_name (builder, "skills");
  json_builder_begin_array (builder);
  for (guint i = 0; i < stages->skills->len; i++)
    add_skill (builder, stages, progress, g_ptr_array_index (stages->skills, i));
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "readings-by-two");
  json_builder_begin_array (builder);
  for (guint i = 0; i < progress->pairs->len; i++)
    add_pairs (builder, g_ptr_array_index (progress->pairs, i));
  json_builder_end_array (builder);
  add_count (builder, "planted-faults", progress->found.n);
  add_count (builder, "planted-faults-found", progress->found.n_right);
  json_builder_end_object (builder);
  pawl_cli_print_json (builder);
}

gboolean
pawl_people_show_stages (PawlRecord *record, const char *name, gboolean is_json, GError **error)
{
  g_autoptr (PawlStages) stages = pawl_stages_load (record, name, error);
  g_autoptr (GPtrArray) jobs = stages ? pawl_job_loader_fold_all (record, error) : NULL;
  g_autoptr (PawlProgress) progress = jobs ? pawl_progress_make (stages, jobs) : NULL;

  if (!progress)
    return FALSE;
  if (is_json)
    print_json (stages, progress);
  else
    print_text (stages, progress);
  return TRUE;
}
