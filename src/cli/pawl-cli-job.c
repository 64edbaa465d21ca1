/* A job and its entries as JSON: what show and export share. */
#include "cli/pawl-cli.h"
#include "job/pawl-job-photos.h"
#include "job/pawl-results.h"

/* Ids of fits that it is about to hide, without a photo or a word about one. */
static void
add_photos_wanted (JsonBuilder *builder, const PawlStepState *state)
{
  g_autoptr (GPtrArray) wanted = pawl_step_list_photos_wanted (state);

  json_builder_set_member_name (builder, "photos-wanted");
  json_builder_begin_array (builder);
  for (guint i = 0; i < wanted->len; i++)
    json_builder_add_string_value (builder, ((PawlAskState *) g_ptr_array_index (wanted, i))->ask->id);
  json_builder_end_array (builder);
}

static void
add_steps (JsonBuilder *builder, PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);

  json_builder_set_member_name (builder, "steps");
  json_builder_begin_array (builder);
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "id", state->step->id);
      pawl_cli_add_string (builder, "number", state->step->number);
      pawl_cli_add_string (builder, "status", pawl_step_status_get_word (state->status));
      pawl_cli_add_string (builder, "command", state->step->command);
      add_photos_wanted (builder, state);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/* Each value that was held against limits, and what several came to. */
static void
add_judged (JsonBuilder *builder, const PawlAttempt *attempt)
{
  json_builder_set_member_name (builder, "judged");
  json_builder_begin_array (builder);
  for (guint i = 0; i < attempt->judged->len; i++)
    {
      const PawlJudged *judged = g_ptr_array_index (attempt->judged, i);
      g_autofree char *exact = pawl_quantity_format_exact (judged->quantity, '.');

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "what", judged->name);
      pawl_cli_add_string (builder, "exact", exact);
      pawl_cli_add_string (builder, "limits", pawl_limits_get_text (judged->limits));
      pawl_cli_add_string (builder, "verdict", pawl_verdict_get_word (judged->verdict.kind));
      json_builder_set_member_name (builder, "worn");
      json_builder_add_boolean_value (builder, judged->verdict.is_worn);
      json_builder_set_member_name (builder, "expanded-uncertainty");
      json_builder_add_double_value (builder, judged->verdict.expanded);
      pawl_cli_add_string (builder, "unit-symbol", pawl_unit_get_symbol (pawl_limits_get_unit (judged->limits)));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_attempt (JsonBuilder *builder, const char *member, const PawlAttempt *attempt)
{
  json_builder_set_member_name (builder, member);
  if (!attempt)
    {
      json_builder_add_null_value (builder);
      return;
    }
  json_builder_begin_object (builder);
  pawl_cli_add_string (builder, "typed", attempt->is_derived ? NULL : pawl_entry_get (attempt->entry, "answer"));
  add_judged (builder, attempt);
  pawl_cli_add_string (builder, "verdict", attempt->is_void ? "void" : pawl_verdict_get_word (attempt->verdict.kind));
  pawl_cli_add_string (builder, "origin", pawl_attempt_get_origin (attempt));
  pawl_cli_add_string (builder, "person", pawl_entry_get_person (attempt->entry));
  pawl_cli_add_time (builder, "at", pawl_entry_peek_at (attempt->entry));
  json_builder_end_object (builder);
}

static void
add_readings (JsonBuilder *builder, PawlJob *job)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (job);

  json_builder_set_member_name (builder, "readings");
  json_builder_begin_array (builder);
  for (guint i = 0; i < results->len; i++)
    {
      const PawlResult *result = g_ptr_array_index (results, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "id", result->as_left->ask->id);
      pawl_cli_add_string (builder, "name", result->as_left->ask->name);
      pawl_cli_add_string (builder, "limits", pawl_limits_get_text (result->as_left->limits));
      pawl_cli_add_string (builder, "source", result->as_left->ask->source);
      pawl_cli_add_string (builder, "status", pawl_ask_status_get_word (result->as_left->status));
      add_attempt (builder, "as-found", result->found);
      add_attempt (builder, "as-left", result->left);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_waits (JsonBuilder *builder, PawlJob *job)
{
  g_autoptr (GPtrArray) running = pawl_job_list_running (job);

  json_builder_set_member_name (builder, "waits");
  json_builder_begin_array (builder);
  for (guint i = 0; i < running->len; i++)
    {
      const PawlAskState *state = g_ptr_array_index (running, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "id", state->ask->id);
      pawl_cli_add_string (builder, "name", state->ask->name);
      pawl_cli_add_time (builder, "started", state->started);
      pawl_cli_add_time (builder, "earliest", state->earliest);
      pawl_cli_add_time (builder, "latest", state->latest);
      pawl_cli_add_int (builder, "late-seconds", state->late_seconds);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_deviations (JsonBuilder *builder, PawlJob *job)
{
  g_autoptr (GPtrArray) deviations = pawl_job_list_deviations (job);

  json_builder_set_member_name (builder, "deviations");
  json_builder_begin_array (builder);
  for (guint i = 0; i < deviations->len; i++)
    {
      const PawlEntry *entry = g_ptr_array_index (deviations, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "subject", pawl_entry_get_subject (entry));
      pawl_cli_add_string (builder, "what", pawl_entry_get (entry, "what"));
      pawl_cli_add_string (builder, "reason", pawl_entry_get (entry, "reason"));
      pawl_cli_add_string (builder, "accepted-by", pawl_entry_get (entry, "accepted-by"));
      pawl_cli_add_time (builder, "at", pawl_entry_peek_at (entry));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

static void
add_corrections (JsonBuilder *builder, PawlJob *job)
{
  GPtrArray *corrections = pawl_job_get_corrections (job);

  json_builder_set_member_name (builder, "corrections");
  json_builder_begin_array (builder);
  for (guint i = 0; i < corrections->len; i++)
    {
      const PawlCorrection *correction = g_ptr_array_index (corrections, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "field", correction->field->id);
      pawl_cli_add_string (builder, "before", correction->before);
      pawl_cli_add_string (builder, "after", correction->after);
      pawl_cli_add_string (builder, "reason", pawl_entry_get (correction->entry, "reason"));
      pawl_cli_add_string (builder, "person", pawl_entry_get_person (correction->entry));
      pawl_cli_add_time (builder, "at", pawl_entry_peek_at (correction->entry));
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

void
pawl_cli_add_job (JsonBuilder *builder, PawlJob *job)
{
  g_autofree char *next = pawl_job_describe_next (job);
  guint total, done = pawl_job_count_done (job, &total);

  pawl_cli_add_string (builder, "job", pawl_job_get_id (job));
  pawl_cli_add_string (builder, "unit", pawl_job_get_field (job, "unit"));
  pawl_cli_add_string (builder, "serial", pawl_job_get_field (job, "serial"));
  pawl_cli_add_string (builder, "work-order", pawl_job_get_field (job, "work-order"));
  pawl_cli_add_string (builder, "next-step", pawl_job_peek_next (job) ? pawl_job_peek_next (job)->id : NULL);
  pawl_cli_add_string (builder, "next", next);
  pawl_cli_add_int (builder, "steps-done", done);
  pawl_cli_add_int (builder, "steps-total", total);
  add_steps (builder, job);
  add_readings (builder, job);
  add_waits (builder, job);
  add_deviations (builder, job);
  add_corrections (builder, job);
}

void
pawl_cli_add_entry (JsonBuilder *builder, const PawlEntry *entry, gboolean is_undone)
{
  g_auto (GStrv) fields = pawl_entry_list_fields (entry);

  pawl_cli_add_int (builder, "entry-number", pawl_entry_get_number (entry));
  pawl_cli_add_string (builder, "entry", pawl_entry_get_id (entry));
  pawl_cli_add_string (builder, "kind", pawl_entry_kind_get_name (pawl_entry_get_kind (entry)));
  pawl_cli_add_string (builder, "subject", pawl_entry_get_subject (entry));
  pawl_cli_add_string (builder, "person", pawl_entry_get_person (entry));
  pawl_cli_add_time (builder, "at", pawl_entry_peek_at (entry));
  pawl_cli_add_time (builder, "written", pawl_entry_peek_written (entry));
  json_builder_set_member_name (builder, "taken-back");
  json_builder_add_boolean_value (builder, is_undone);
  json_builder_set_member_name (builder, "fields");
  json_builder_begin_object (builder);
  for (guint i = 0; fields[i] != NULL; i++)
    pawl_cli_add_string (builder, fields[i], pawl_entry_get (entry, fields[i]));
  json_builder_end_object (builder);
  pawl_cli_add_string (builder, "previous", pawl_entry_get_previous (entry));
  pawl_cli_add_string (builder, "digest", pawl_entry_get_digest (entry));
}
