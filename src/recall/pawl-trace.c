#include "recall/pawl-trace.h"

#include <stdio.h>

/* Days are compared as text, so they have exactly the form that entries have. */
static gboolean
is_day (const char *text)
{
  static const char form[] = "dddd-dd-dd";
  guint year, month, day;

  for (gsize i = 0; i < sizeof form; i++)
    if (form[i] == 'd' ? !g_ascii_isdigit (text[i]) : text[i] != form[i])
      return FALSE;
  return sscanf (text, "%4u-%2u-%2u", &year, &month, &day) == 3 && year > 0
         && g_date_valid_dmy ((GDateDay) day, (GDateMonth) month, (GDateYear) year);
}

static gboolean
check_day (const char *day,
           GError    **error)
{
  if (day == NULL || is_day (day))
    return TRUE;

  g_set_error (error, PAWL_RECALL_ERROR, PAWL_RECALL_ERROR_BAD_DAY, "“%s” is no day; it is written like 2026-11-25", day);
  return FALSE;
}

static gboolean
check_question (const PawlTraceQuestion *question,
                GError                 **error)
{
  if (!check_day (question->from, error) || !check_day (question->to, error))
    return FALSE;
  if (question->from == NULL || question->to == NULL || strcmp (question->from, question->to) <= 0)
    return TRUE;

  g_set_error (error, PAWL_RECALL_ERROR, PAWL_RECALL_ERROR_BAD_DAY, "from %s to %s is no span: the second day is the earlier one",
               question->from, question->to);
  return FALSE;
}

/**
 * pawl_trace:
 * @record: where to look
 * @question: what touched the jobs
 * @error: %PAWL_RECALL_ERROR_BAD_DAY, the errors of reading
 *
 * Lists the jobs that were touched. An instrument is named by its mark, or by the id that procedures give the tool, which finds all
 * marks of that tool. An entry that was taken back has touched its job all the same.
 *
 * Returns: (transfer full) (element-type PawlTouched): the job touched first comes first
 */
GPtrArray *
pawl_trace (PawlRecord              *record,
            const PawlTraceQuestion *question,
            GError                 **error)
{
  g_autoptr (GPtrArray) touched = NULL;
  g_autofree char *name = g_strstrip (g_strdup (question->name));

  if (!check_question (question, error)
      || !(touched = pawl_record_list_touched (record, question->by, name, question->from, question->to, error)))
    return NULL;

  for (guint i = touched->len; question->procedure != NULL && i > 0; i--)
    if (g_ascii_strcasecmp (((PawlTouched *) touched->pdata[i - 1])->opening->procedure, question->procedure) != 0)
      g_ptr_array_remove_index (touched, i - 1);
  return g_steal_pointer (&touched);
}

/* ---- the entries ---- */

static void
free_trace_entry (PawlTraceEntry *self)
{
  pawl_entry_unref (self->entry);
  g_free (self);
}

static gboolean
names (const PawlEntry *entry,
       const char      *field,
       const char      *name)
{
  const char *value = pawl_entry_get (entry, field);
  g_autofree char *stripped = value != NULL ? g_strstrip (g_strdup (value)) : NULL;

  return stripped != NULL && g_ascii_strcasecmp (stripped, name) == 0;
}

static gboolean
is_by (const PawlEntry *entry,
       const char      *name)
{
  g_autofree char *person = g_strstrip (g_strdup (pawl_entry_get_person (entry)));

  return g_ascii_strcasecmp (person, name) == 0 || names (entry, "accepted-by", name);
}

static gboolean
touches (const PawlEntry         *entry,
         const PawlTraceQuestion *question,
         const char              *name)
{
  g_autofree char *day = g_date_time_format (pawl_entry_peek_at (entry), "%Y-%m-%d");

  if ((question->from != NULL && strcmp (day, question->from) < 0) || (question->to != NULL && strcmp (day, question->to) > 0))
    return FALSE;

  switch (question->by)
    {
    case PAWL_TOUCHED_BY_INSTRUMENT:
      return names (entry, "tool-serial", name) || names (entry, "instrument", name);
    case PAWL_TOUCHED_BY_LOT:
      return names (entry, "lot", name);
    case PAWL_TOUCHED_BY_REVISION:
      return pawl_entry_get_kind (entry) == PAWL_ENTRY_OPENED && names (entry, "revision", name);
    case PAWL_TOUCHED_BY_PERSON:
      return is_by (entry, name);
    default:
      g_assert_not_reached ();
    }
}

/* (transfer full): ids of the entries of a job that an undo took back, and that no undo of the undo brought back. */
static GHashTable *
list_undone (GPtrArray *entries)
{
  GHashTable *undone = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = entries->len; i > 0; i--)
    {
      const PawlEntry *entry = entries->pdata[i - 1];

      if (pawl_entry_get_kind (entry) == PAWL_ENTRY_UNDONE && !g_hash_table_contains (undone, pawl_entry_get_id (entry)))
        g_hash_table_add (undone, (gpointer) pawl_entry_get_subject (entry));
    }
  return undone;
}

static gboolean
add_entries_of (GPtrArray               *list,
                PawlRecord              *record,
                const PawlOpening       *opening,
                const PawlTraceQuestion *question,
                const char              *name,
                GError                 **error)
{
  g_autoptr (GPtrArray) entries = pawl_record_load_entries (record, opening->job, error);
  g_autoptr (GHashTable) undone = NULL;

  if (entries == NULL)
    return FALSE;
  undone = list_undone (entries);
  for (guint i = 0; i < entries->len; i++)
    {
      PawlTraceEntry *line;

      if (!touches (entries->pdata[i], question, name))
        continue;
      line = g_new0 (PawlTraceEntry, 1);
      line->opening = opening;
      line->entry = pawl_entry_ref (entries->pdata[i]);
      line->is_undone = g_hash_table_contains (undone, pawl_entry_get_id (line->entry));
      g_ptr_array_add (list, line);
    }
  return TRUE;
}

/**
 * pawl_trace_list_entries:
 * @record: where to look
 * @question: as asked of pawl_trace()
 * @touched: (element-type PawlTouched): what it answered; lent to the result
 * @error: %PAWL_RECORD_ERROR_DAMAGED, the errors of reading
 *
 * Lists the entries by which the jobs were touched: of an instrument the readings taken with it.
 *
 * Returns: (transfer full) (element-type PawlTraceEntry): job after job, in the order they were made
 */
GPtrArray *
pawl_trace_list_entries (PawlRecord              *record,
                         const PawlTraceQuestion *question,
                         GPtrArray               *touched,
                         GError                 **error)
{
  g_autoptr (GPtrArray) list = g_ptr_array_new_with_free_func ((GDestroyNotify) free_trace_entry);
  g_autofree char *name = g_strstrip (g_strdup (question->name));

  for (guint i = 0; i < touched->len; i++)
    if (!add_entries_of (list, record, ((PawlTouched *) touched->pdata[i])->opening, question, name, error))
      return NULL;
  return g_steal_pointer (&list);
}
