/* What is not there, and what came: a part that is missing stops what fits it, and nothing else. Donors, and what proves them. */
#include <string.h>

#include "job/pawl-job-parts.h"
#include "job/pawl-job-private.h"

gboolean
pawl_source_is (const PawlEntry *entry, const char *source)
{
  const char *said = entry != NULL ? pawl_entry_get (entry, "source") : NULL;
  size_t length = strlen (source);

  return said != NULL && strncmp (said, source, length) == 0 && !g_ascii_isalnum (said[length]);
}

/* ---- what is not there ---- */

/* Newest word first; of a part the fold keeps it, of a supply there is no other place. */
PawlEntry *
pawl_job_peek_lack (PawlJob *self, const char *id)
{
  for (guint i = self->entries->len; i > 0; i--)
    {
      PawlEntry *entry = self->entries->pdata[i - 1];
      PawlEntryKind kind = pawl_entry_get_kind (entry);

      if ((kind == PAWL_ENTRY_LACKED || kind == PAWL_ENTRY_ARRIVED) && g_str_equal (pawl_entry_get_subject (entry), id) && !pawl_job_is_undone (self, entry))
        return kind == PAWL_ENTRY_LACKED ? entry : NULL;
    }
  return NULL;
}

void
pawl_job_apply_supply (PawlJob *self, PawlEntry *entry)
{
  PawlPartState *part = g_hash_table_lookup (self->part_by_id, pawl_entry_get_subject (entry));
  gboolean is_lacking = pawl_entry_get_kind (entry) == PAWL_ENTRY_LACKED;

  if (part == NULL)
    return;
  part->lack = is_lacking ? entry : NULL;
  part->arrival = is_lacking ? NULL : entry;
}

GPtrArray *
pawl_job_list_lacking (PawlJob *self)
{
  GPtrArray *list = g_ptr_array_new ();

  for (guint i = 0; i < self->parts->len; i++)
    if (((PawlPartState *) self->parts->pdata[i])->lack != NULL)
      g_ptr_array_add (list, self->parts->pdata[i]);
  return list;
}

/* ---- in words ---- */

static gboolean
is_overdue (const char *expected, GDateTime *now)
{
  g_autofree char *today = g_date_time_format (now, "%F");

  return g_strcmp0 (expected, today) < 0; /* days written alike compare as text */
}

char *
pawl_lack_describe (const PawlEntry *lack, GDateTime *now)
{
  const char *state = pawl_entry_get (lack, "state"), *from = pawl_entry_get (lack, "from"), *expected = pawl_entry_get (lack, "expected");
  g_autoptr(GString) text = g_string_new (g_strcmp0 (state, "low") == 0 ? "running out" : state);

  if (from != NULL)
    g_string_append_printf (text, " from %s", from);
  if (expected != NULL)
    g_string_append_printf (text, is_overdue (expected, now) ? ", overdue since %s" : ", expected %s", expected);
  return g_strdup (text->str);
}

char *
pawl_part_describe_lack (PawlJob *self, const PawlPartState *part)
{
  g_autofree char *words = pawl_lack_describe (part->lack, self->now);

  return g_strdup_printf ("the arrival of “%s” (%s)", part->part->name, words);
}

/* ---- refusals ---- */

static const PawlSupply *
find_supply (PawlJob *self, const char *id)
{
  GPtrArray *supplies = pawl_procedure_get_supplies (self->procedure);

  for (guint i = 0; i < supplies->len; i++)
    if (g_str_equal (((PawlSupply *) supplies->pdata[i])->id, id))
      return supplies->pdata[i];
  return NULL;
}

/* @part: (out) (nullable): NULL for a supply. */
static gboolean
check_subject (PawlJob *self, PawlEntry *entry, const PawlPartState **part, GError **error)
{
  const char *id = pawl_entry_get_subject (entry);

  *part = pawl_job_lookup_part (self, id);
  if (*part != NULL || find_supply (self, id) != NULL)
    return TRUE;
  g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_UNKNOWN, "the procedure has no part and no supply “%s”", id);
  return FALSE;
}

static gboolean
check_day (const char *day, GError **error)
{
  g_autoptr(GDateTime) time = NULL;
  g_autofree char *whole = day != NULL ? g_strdup_printf ("%sT00:00:00Z", day) : NULL;

  if (day == NULL || (strlen (day) == 10 && (time = g_date_time_new_from_iso8601 (whole, NULL)) != NULL))
    return TRUE;
  g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is no day that something is expected; write it as 2026-12-03", day);
  return FALSE;
}

gboolean
pawl_job_check_lacked (PawlJob *self, PawlEntry *entry, GError **error)
{
  const char *state = pawl_entry_get (entry, "state");
  const PawlPartState *part;

  if (!check_subject (self, entry, &part, error) || !check_day (pawl_entry_get (entry, "expected"), error))
    return FALSE;
  if (state == NULL || !g_strv_contains ((const char *[]) { "missing", "ordered", "low", NULL }, state))
    g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” says nothing of what is not there; it is missing, ordered, or low for a supply that is running out",
                 state != NULL ? state : "");
  else if (part != NULL && g_str_equal (state, "low"))
    g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is a part: it is there, missing or ordered; low is for a supply", part->part->name);
  else if (part != NULL && part->place == PAWL_PLACE_SEATED)
    g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN, "“%s” is fitted already, so it is not missing; do its step again first", part->part->name);
  else
    return TRUE;
  return FALSE;
}

gboolean
pawl_job_check_arrived (PawlJob *self, PawlEntry *entry, GError **error)
{
  const char *source = pawl_entry_get (entry, "source");
  gboolean is_source = pawl_source_is (entry, "kit") || pawl_source_is (entry, "new") || pawl_source_is (entry, "donor") || pawl_source_is (entry, "made");
  const PawlPartState *part;

  if (!check_subject (self, entry, &part, error))
    return FALSE;
  if (pawl_job_peek_lack (self, pawl_entry_get_subject (entry)) == NULL)
    g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN, "“%s” was not said to be missing or ordered, so it can't arrive", pawl_entry_get_subject (entry));
  else if (source != NULL && !is_source)
    g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, "“%s” is no source; it is kit, new, donor or made", source);
  else
    return TRUE;
  return FALSE;
}

/* ---- donors ---- */

gboolean
pawl_part_is_from_donor (const PawlPartState *part)
{
  if (part->arrival != NULL && pawl_entry_get (part->arrival, "source") != NULL)
    return pawl_source_is (part->arrival, "donor");
  return part->disposition != NULL && g_strcmp0 (pawl_entry_get (part->disposition, "choice"), "replace") == 0 && pawl_source_is (part->disposition, "donor");
}

gboolean
pawl_job_is_wanted (PawlJob *self, const PawlAsk *ask)
{
  const PawlPartState *part = ask->donor != NULL ? pawl_job_lookup_part (self, ask->donor) : NULL;

  return pawl_job_is_applicable (self, ask->variant) && (ask->donor == NULL || (part != NULL && pawl_part_is_from_donor (part)));
}

static const PawlAskState *
find_proof (PawlJob *self, const char *part_id)
{
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStepState *step = self->steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *state = step->asks->pdata[j];

          if (g_strcmp0 (state->ask->donor, part_id) == 0 && pawl_job_is_applicable (self, state->ask->variant))
            return state;
        }
    }
  return NULL;
}

gboolean
pawl_job_check_donor (PawlJob *self, PawlEntry *entry, GError **error)
{
  const PawlPartState *part = pawl_job_lookup_part (self, pawl_entry_get_subject (entry));
  gboolean is_donor = g_strcmp0 (pawl_entry_get (entry, "choice"), "replace") == 0 && pawl_source_is (entry, "donor");
  const PawlAskState *proof = is_donor && part->place == PAWL_PLACE_SEATED ? find_proof (self, part->part->id) : NULL;

  if (proof == NULL)
    return TRUE;
  g_set_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_COVERED, "“%s” is fitted already, and a donor's is proved by “%s” before it is; do step %s again first",
               part->part->name, proof->ask->name, proof->step->number);
  return FALSE;
}
