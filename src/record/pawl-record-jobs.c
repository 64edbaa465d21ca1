/* Reading: the entries of a job, the list of jobs, finding one. */
#include "record/pawl-record-private.h"

#include "record/pawl-chain.h"
#include "record/pawl-intake.h"
#include "record/pawl-record-queries.h"
#include "record/pawl-schema.h"

#define MIN_PREFIX_LENGTH 6
#define N_CANDIDATES_TOLD 5

/* ---- the entries of one job ---- */

static PawlLink
link_entry (PawlEntry *entry)
{
  return (PawlLink) {
    .id = pawl_entry_get_id (entry),
    .previous = pawl_entry_get_previous (entry),
    .digest = pawl_entry_get_digest (entry),
    .number = pawl_entry_get_number (entry),
    .written_usec = pawl_time_get_usec (pawl_entry_peek_written (entry)),
    .item = entry,
  };
}

/* The chain from @first to @end (excluded), which came by number: where it forks, the order is another, and numbers are places in it. */
static void
sort_chain (GPtrArray *entries,
            guint      first,
            guint      end)
{
  g_autoptr (GArray) links = g_array_new (FALSE, FALSE, sizeof (PawlLink));

  for (guint i = first; i < end; i++)
    {
      PawlLink link = link_entry (entries->pdata[i]);

      g_array_append_val (links, link);
    }
  if (!pawl_chain_is_forked (links))
    return;

  pawl_chain_sort (links);
  for (guint i = first; i < end; i++)
    {
      entries->pdata[i] = g_array_index (links, PawlLink, i - first).item;
      pawl_entry_set_place (entries->pdata[i], i - first + 1);
    }
}

static void
sort_chains (GPtrArray *entries)
{
  guint first = 0;

  for (guint i = 1; i <= entries->len; i++)
    if (i == entries->len || !g_str_equal (pawl_entry_get_job (entries->pdata[i]), pawl_entry_get_job (entries->pdata[first])))
      {
        sort_chain (entries, first, i);
        first = i;
      }
}

static GPtrArray *
read_entries (PawlRecord   *self,
              sqlite3_stmt *statement,
              GError      **error)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_auto (PawlEntryRow) row = { 0 };
  int more;

  while ((more = pawl_database_step (&self->database, statement, error)) > 0)
    {
      PawlEntry *entry;

      pawl_entry_row_read (&row, statement);
      if (!(entry = pawl_entry_new_from_row (&row, error)))
        {
          g_prefix_error (error, "%s: ", self->database.path);
          return NULL;
        }
      g_ptr_array_add (entries, entry);
    }

  if (more < 0)
    return NULL;

  sort_chains (entries);
  return g_steal_pointer (&entries);
}

/**
 * pawl_record_load_entries:
 * @self: a record
 * @job_id: the job
 * @error: %PAWL_RECORD_ERROR_NO_SUCH_JOB, %PAWL_RECORD_ERROR_DAMAGED when an entry can't be understood, the errors of reading
 *
 * Loads a job. Digests are not recomputed here, pawl_record_verify() does that.
 *
 * Returns: (transfer full) (element-type PawlEntry): its entries in the order they were appended, the opening first; of a job that was
 *   merged with another record's, in the order that pawl-chain.c states, numbered by it
 */
GPtrArray *
pawl_record_load_entries (PawlRecord *self,
                          const char *job_id,
                          GError    **error)
{
  g_autoptr (GPtrArray) entries = NULL;
  g_autoptr (sqlite3_stmt) statement = NULL;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);
  g_return_val_if_fail (job_id != NULL, NULL);

  if (!(statement = pawl_database_prepare (&self->database, error, PAWL_SQL_LOAD_ENTRIES, "s", job_id))
      || !(entries = read_entries (self, statement, error)))
    return NULL;

  if (entries->len == 0)
    {
      pawl_record_set_no_such_job (self, job_id, error);
      return NULL;
    }

  return g_steal_pointer (&entries);
}

static GPtrArray *
load_chains (PawlRecord *self,
             const char *query,
             GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = pawl_database_prepare (&self->database, error, query, "");

  return statement != NULL ? read_entries (self, statement, error) : NULL;
}

/**
 * pawl_record_load_instruments:
 * @self: a record
 * @error: %PAWL_RECORD_ERROR_DAMAGED when an entry can't be understood, the errors of reading
 *
 * Loads the register of instruments. What stands in it now, or stood in it then, is for whoever folds it.
 *
 * Returns: (transfer full) (element-type PawlEntry): each instrument's entries in the order they were appended, one chain after another
 */
GPtrArray *
pawl_record_load_instruments (PawlRecord *self,
                              GError    **error)
{
  g_return_val_if_fail (pawl_record_is_usable (self), NULL);

  return load_chains (self, PAWL_SQL_LOAD_INSTRUMENTS, error);
}

/**
 * pawl_record_load_learners:
 * @self: a record
 * @error: as pawl_record_load_instruments()
 *
 * Loads what was stated of people who learn.
 *
 * Returns: (transfer full) (element-type PawlEntry): each person's entries in the order they were appended, one chain after another
 */
GPtrArray *
pawl_record_load_learners (PawlRecord *self,
                           GError    **error)
{
  g_return_val_if_fail (pawl_record_is_usable (self), NULL);

  return load_chains (self, PAWL_SQL_LOAD_LEARNERS, error);
}

/**
 * pawl_record_dup_head:
 * @self: a record
 * @job_id: the job
 * @error: %PAWL_RECORD_ERROR_NO_SUCH_JOB, the errors of reading
 *
 * The head of a job's chain. Printed on paper, it lets the paper be checked against the record: it vouches for every entry up to it.
 *
 * Returns: (transfer full): hex digest of the job's last entry; where a merged job has several ends, one for them all (pawl_chain_dup_head())
 */
char *
pawl_record_dup_head (PawlRecord *self,
                      const char *job_id,
                      GError    **error)
{
  g_autoptr (sqlite3_stmt) statement = NULL;
  g_autoptr (GString) ends = g_string_new (NULL);
  int more;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);
  g_return_val_if_fail (job_id != NULL, NULL);

  if (!(statement = pawl_database_prepare (&self->database, error, PAWL_SQL_LOAD_HEADS, "s", job_id)))
    return NULL;

  while ((more = pawl_database_step (&self->database, statement, error)) > 0)
    g_string_append_printf (ends, "%s%s", ends->len > 0 ? " " : "", pawl_statement_get_text (statement, 0));
  if (more < 0)
    return NULL;
  if (ends->len == 0)
    {
      pawl_record_set_no_such_job (self, job_id, error);
      return NULL;
    }

  return pawl_chain_dup_head (ends->str);
}

/* Where branches were joined, the head before that was one for all of them. */
static gboolean
had_head (const PawlEntry *join,
          const char      *head)
{
  g_autofree char *before = pawl_chain_dup_head (pawl_entry_get_previous (join));

  return strchr (pawl_entry_get_previous (join), ' ') != NULL && g_str_has_prefix (before, head);
}

/**
 * pawl_record_locate_head:
 * @self: a record
 * @job_id: the job
 * @head: a head that was printed, or the beginning of it, in lower case
 * @number: (out): how many entries the job had then; 0 when it never had this head
 * @error: %PAWL_RECORD_ERROR_NO_SUCH_JOB, the errors of reading
 *
 * Holds paper against the record. Together with pawl_record_verify() it proves that what the paper vouches for is still what the record
 * says: a record that was forged as a whole has other heads.
 *
 * Returns: whether the record could be read
 */
gboolean
pawl_record_locate_head (PawlRecord *self,
                         const char *job_id,
                         const char *head,
                         guint      *number,
                         GError    **error)
{
  g_autoptr (GPtrArray) entries = NULL;
  g_autofree char *now = NULL;

  g_return_val_if_fail (head != NULL && *head != '\0' && number != NULL, FALSE);

  if (!(entries = pawl_record_load_entries (self, job_id, error)) || !(now = pawl_record_dup_head (self, job_id, error)))
    return FALSE;

  *number = 0;
  for (guint i = 0; i < entries->len && *number == 0; i++)
    if (g_str_has_prefix (pawl_entry_get_digest (entries->pdata[i]), head))
      *number = i + 1;
    else if (had_head (entries->pdata[i], head))
      *number = i;
  if (*number == 0 && g_str_has_prefix (now, head))
    *number = entries->len;
  return TRUE;
}

/* ---- the list of jobs ---- */

void
pawl_job_line_free (PawlJobLine *self)
{
  g_free (self->id);
  g_free (self->procedure);
  g_free (self->title);
  g_free (self->unit);
  g_free (self->serial);
  g_free (self->work_order);
  g_free (self->customer);
  g_clear_pointer (&self->opened, g_date_time_unref);
  g_clear_pointer (&self->last, g_date_time_unref);
  g_free (self);
}

static char *
dup_field (const PawlEntry *entry,
           const char      *field)
{
  const char *value = entry != NULL ? pawl_entry_get (entry, field) : NULL;

  return g_strdup (value != NULL ? value : "");
}

static GDateTime *
read_time (const char *text,
           GDateTime  *fallback)
{
  GDateTime *time = pawl_time_from_text (text);

  if (time != NULL)
    return time;
  return fallback != NULL ? g_date_time_ref (fallback) : g_date_time_new_from_unix_utc (0);
}

static gboolean
correct_line (PawlRecord  *self,
              PawlJobLine *line)
{
  const PawlOpenedText texts[] = {
    { "unit", &line->unit }, { "serial", &line->serial }, { "work-order", &line->work_order }, { "customer", &line->customer },
  };

  return pawl_record_correct_texts (self, line->id, texts, G_N_ELEMENTS (texts), NULL);
}

/* One damaged job must not hide all the others: it is listed with what can still be read. */
static PawlJobLine *
read_line (PawlRecord   *self,
           sqlite3_stmt *statement)
{
  g_auto (PawlEntryRow) row = { 0 };
  g_autoptr (PawlEntry) opened = NULL;
  PawlJobLine *line = g_new0 (PawlJobLine, 1);

  pawl_entry_row_read (&row, statement);
  opened = pawl_entry_new_from_row (&row, NULL);

  line->id = g_strdup (row.id);
  line->title = dup_field (opened, "title");
  line->procedure = dup_field (opened, "procedure-id");
  line->unit = dup_field (opened, "unit");
  line->serial = dup_field (opened, "serial");
  line->work_order = dup_field (opened, "work-order");
  line->customer = dup_field (opened, "customer");
  line->opened = read_time (row.at, NULL);
  line->last = read_time (pawl_statement_get_text (statement, PAWL_COLUMN_LAST_WRITTEN), line->opened);
  line->n_entries = (guint) sqlite3_column_int64 (statement, PAWL_COLUMN_N_ENTRIES);
  line->is_signed = sqlite3_column_int (statement, PAWL_COLUMN_IS_SIGNED) != 0;
  if (opened == NULL || (sqlite3_column_int (statement, PAWL_COLUMN_IS_CORRECTED) != 0 && !correct_line (self, line)))
    {
      g_free (line->title);
      line->title = g_strdup ("(damaged: verify tells more)");
    }
  return line;
}

static int
compare_lines (gconstpointer a,
               gconstpointer b)
{
  const PawlJobLine *const *first = a;
  const PawlJobLine *const *second = b;
  int order = g_date_time_compare ((*second)->last, (*first)->last);

  return order != 0 ? order : strcmp ((*first)->id, (*second)->id);
}

/**
 * pawl_record_list_jobs:
 * @self: a record
 * @error: the errors of reading
 *
 * Lists all jobs. `opened` is when the job was opened at the bench; `last` is when its newest entry reached the record. A job is
 * signed when it has a sign-off that no undo took back. What was taken in is told as it was corrected.
 *
 * Returns: (transfer full) (element-type PawlJobLine): newest activity first; empty when there are none
 */
GPtrArray *
pawl_record_list_jobs (PawlRecord *self,
                       GError    **error)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_job_line_free);
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);

  if (!(statement = pawl_database_prepare (&self->database, error, PAWL_SQL_LIST_JOBS, "")))
    return NULL;
  while ((more = pawl_database_step (&self->database, statement, error)) > 0)
    g_ptr_array_add (lines, read_line (self, statement));
  if (more < 0)
    return NULL;

  /* In C: text with different offsets does not sort by time. */
  g_ptr_array_sort (lines, compare_lines);
  return g_steal_pointer (&lines);
}

/* ---- finding one ---- */

/* The smallest text that no text beginning with @prefix reaches. @prefix is plain ASCII here, or matches no id anyway. */
static char *
dup_end_of_prefix (const char *prefix)
{
  return g_strconcat (prefix, "\x7f", NULL);
}

static GPtrArray *
list_candidates (PawlRecord *self,
                 const char *text,
                 GError    **error)
{
  g_autoptr (GPtrArray) lines = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_job_line_free);
  g_autoptr (sqlite3_stmt) statement = NULL;
  /* Ids are lower case; a person may have copied one from paper in capitals. */
  g_autofree char *prefix = g_ascii_strdown (text, -1);
  g_autofree char *end = NULL;
  const char *corrected = g_str_equal (text, PAWL_INTAKE_TAKEN_BACK) ? "" : text; /* no job is called by what was taken back */
  int more;

  end = strlen (text) >= MIN_PREFIX_LENGTH ? dup_end_of_prefix (prefix) : g_strdup (prefix); /* too short: nothing is in between */
  if (!(statement = pawl_database_prepare (&self->database, error, PAWL_SQL_FIND_JOBS, "sssssss", text, prefix, end, text, corrected, text, corrected)))
    return NULL;
  while ((more = pawl_database_step (&self->database, statement, error)) > 0)
    g_ptr_array_add (lines, read_line (self, statement));

  return more == 0 ? g_steal_pointer (&lines) : NULL;
}

/* Whether it was called so once, and is not any more. */
static gboolean
is_called_otherwise (const PawlJobLine *line,
                     const char        *text)
{
  return g_ascii_strcasecmp (line->serial, text) != 0 && g_ascii_strcasecmp (line->work_order, text) != 0
         && g_ascii_strncasecmp (line->id, text, strlen (text)) != 0;
}

static void
set_ambiguous (PawlRecord *self,
               const char *text,
               GPtrArray  *lines,
               GError    **error)
{
  g_autoptr (GString) list = g_string_new (NULL);

  for (guint i = 0; i < MIN (lines->len, N_CANDIDATES_TOLD); i++)
    {
      const PawlJobLine *line = lines->pdata[i];
      g_autofree char *day = g_date_time_format (line->opened, "%Y-%m-%d");

      g_string_append_printf (list, "%s%s (%s, opened %s%s)", i > 0 ? ", " : "", line->id, line->title, day,
                              is_called_otherwise (line, text) ? ", corrected since" : "");
    }
  if (lines->len > N_CANDIDATES_TOLD)
    g_string_append_printf (list, " and %u more", lines->len - N_CANDIDATES_TOLD);

  g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_AMBIGUOUS_JOB,
               "%s: \"%s\" fits %u jobs: %s. Name one by its id", self->database.path, text, lines->len, list->str);
}

/**
 * pawl_record_find_job:
 * @self: a record
 * @text: a job's id, the beginning of one (6 characters or more), a work order or a serial, also one that was corrected since; in capitals or not
 * @error: %PAWL_RECORD_ERROR_NO_SUCH_JOB; %PAWL_RECORD_ERROR_AMBIGUOUS_JOB, with the jobs it could be; the errors of reading
 *
 * Finds the one job that somebody means. A whole id wins over everything else that @text may be.
 *
 * Returns: (transfer full): the job's id
 */
char *
pawl_record_find_job (PawlRecord *self,
                      const char *text,
                      GError    **error)
{
  g_autoptr (GPtrArray) lines = NULL;
  g_autofree char *wanted = NULL;

  g_return_val_if_fail (pawl_record_is_usable (self), NULL);
  g_return_val_if_fail (text != NULL, NULL);

  wanted = g_strstrip (g_strdup (text));
  if (!(lines = list_candidates (self, wanted, error)))
    return NULL;

  for (guint i = 0; i < lines->len; i++)
    if (lines->len == 1 || g_ascii_strcasecmp (((PawlJobLine *) lines->pdata[i])->id, wanted) == 0)
      return g_strdup (((PawlJobLine *) lines->pdata[i])->id);

  if (lines->len == 0)
    pawl_record_set_no_such_job (self, wanted, error);
  else
    {
      g_ptr_array_sort (lines, compare_lines);
      set_ambiguous (self, wanted, lines, error);
    }
  return NULL;
}
