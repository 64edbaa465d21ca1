#include "plan/pawl-resume.h"

void
pawl_resume_free (PawlResume *self)
{
  g_free (self->next);
  g_ptr_array_unref (self->waits);
  g_clear_pointer (&self->due, g_date_time_unref);
  g_ptr_array_unref (self->changes);
  g_free (self);
}

int
pawl_resume_compare (GDateTime *a, GDateTime *b)
{
  if (a == NULL || b == NULL)
    return (a == NULL) - (b == NULL);
  return g_date_time_compare (a, b);
}

static GDateTime *
find_due (GPtrArray *waits)
{
  GDateTime *due = NULL;

  for (guint i = 0; i < waits->len; i++)
    {
      const PawlWaiting *wait = waits->pdata[i];
      GDateTime *limit = wait->latest != NULL ? wait->latest : wait->earliest;

      if (pawl_resume_compare (limit, due) < 0)
        due = limit;
    }
  return due != NULL ? g_date_time_ref (due) : NULL;
}

/* ---- what has changed ---- */

static void G_GNUC_PRINTF (2, 3)
add_change (PawlResume *self, const char *format, ...)
{
  va_list values;

  va_start (values, format);
  g_ptr_array_add (self->changes, g_strdup_vprintf (format, values));
  va_end (values);
}

static gboolean
is_by (const PawlEntry *entry, const char *person)
{
  g_autofree char *a = g_utf8_casefold (pawl_entry_get_person (entry), -1), *b = g_utf8_casefold (person, -1);

  return g_str_equal (a, b);
}

/* Index behind the last entry of @person; all of them when there is none. */
static guint
find_absence (GPtrArray *entries, const char *person)
{
  for (guint i = entries->len; i > 0; i--)
    if (is_by (entries->pdata[i - 1], person))
      return i;
  return entries->len;
}

static guint
count_by (GPtrArray *entries, guint first, const char *person)
{
  guint n = 0;

  for (guint i = first; i < entries->len; i++)
    n += is_by (entries->pdata[i], person);
  return n;
}

/* "3 entries by Jago Penrose": one line for each of the others, in the order in which they came. Entries of another bench that were merged are such, too. */
static void
add_others (PawlResume *self, PawlJob *job, const char *person)
{
  GPtrArray *entries = pawl_job_get_entries (job);
  guint first = find_absence (entries, person);

  for (guint i = first; i < entries->len; i++)
    {
      const PawlEntry *entry = entries->pdata[i];
      const char *other = pawl_entry_get_person (entry);
      guint n = count_by (entries, i, other);

      if (count_by (entries, first, other) > n)
        continue; /* told already */
      if (pawl_entry_get (entry, "clock-shift") != NULL)
        add_change (self, "the clock was changed while a wait ran");
      else
        add_change (self, "%u %s by %s", n, n == 1 ? "entry" : "entries", other);
    }
}

static void
add_instruments (PawlResume *self, PawlJob *job, const PawlRegister *instruments)
{
  GPtrArray *entries = pawl_job_get_entries (job);
  g_autoptr(GHashTable) told = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < entries->len; i++)
    {
      const char *mark = pawl_entry_get (entries->pdata[i], "tool-serial");
      const PawlGauge *gauge = mark != NULL ? pawl_register_lookup (instruments, mark) : NULL;
      g_autofree char *standing = NULL;

      if (gauge == NULL || pawl_gauge_get_standing (gauge, pawl_job_peek_now (job)) != PAWL_STANDING_OUT_OF_DATE || !g_hash_table_add (told, (gpointer) mark))
        continue;
      standing = pawl_gauge_describe_standing (gauge, pawl_job_peek_now (job));
      add_change (self, "%s: %s", mark, standing);
    }
}

static void
add_revision (PawlResume *self, PawlJob *job, const char *revision)
{
  const char *own = pawl_procedure_get_revision (pawl_job_get_procedure (job));

  if (*revision != '\0' && !g_str_equal (own, revision))
    add_change (self, "the procedure is at revision %s by now; this job goes on by %s", revision, own);
}

PawlResume *
pawl_resume_new (PawlJob *job, const char *person, const PawlRegister *instruments, const char *revision)
{
  PawlResume *self = g_new0 (PawlResume, 1);

  self->next = pawl_job_describe_about (job);
  self->waits = pawl_waiting_list (job);
  self->due = find_due (self->waits);
  self->changes = g_ptr_array_new_with_free_func (g_free);
  self->n_done = pawl_job_count_done (job, &self->n_steps);
  if (person != NULL && *person != '\0')
    add_others (self, job, person);
  if (instruments != NULL && pawl_job_peek_signature (job) == NULL)
    add_instruments (self, job, instruments);
  if (revision != NULL && pawl_job_peek_signature (job) == NULL)
    add_revision (self, job, revision);
  return self;
}
