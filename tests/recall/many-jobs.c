#include "many-jobs.h"

#include "record/pawl-record-private.h"

#define DAYS_FROM "2024-01-01T08:00:00+01:00"
#define JOBS_PER_DAY 10

typedef struct {
  PawlRecord *record;
  GRand      *rand;
  GDateTime  *now;
  char       *procedures[MANY_JOBS_N_REVISIONS]; /* digests */
  guint       n_readings;
} Maker;

/* ---- what is in a job ---- */

static const char *const CUSTOMERS[] = {
  "Trevanion Boatyard", "Pellow & Daunt", "Hosken Farm", "Zennor Quarry", "Müller Mühle", "Carrick Launch Co", "Lanyon Pumps", "Nance Mill",
};
static const char *const COMPLAINTS[] = {
  "Weeps at the lid when it is warm", "Flow drops after an hour", "Came in a box, in pieces", "Rattles; smells of burnt paint", "Won't prime",
};
static const char *const NOTES[] = {
  "Two punch marks on the flange, toward the inlet", "Old gasket glued in with red compound", "Basket split along the seam",
  "Lid stud bent, straightened cold", "Previous repair with plumber's tape", "Sand in the sump", "Thread of the drain worn",
};
static const char *const PEOPLE[] = { "Jory Tregenza", "Jenna Tregear", "Ossie Carne", "Morwenna Pascoe", "Denzil Rowe" };

ManyJob
many_job_describe (guint n)
{
  g_autoptr (GDateTime) begin = g_date_time_new_from_iso8601 (DAYS_FROM, NULL);
  g_autoptr (GDateTime) at = g_date_time_add_days (begin, (int) (n / JOBS_PER_DAY));
  g_autofree char *day = g_date_time_format (at, "%Y-%m-%d");
  ManyJob job = {
    .customer = CUSTOMERS[n % G_N_ELEMENTS (CUSTOMERS)],
    .complaint = COMPLAINTS[n % G_N_ELEMENTS (COMPLAINTS)],
    .note = NOTES[n % G_N_ELEMENTS (NOTES)],
    .person = PEOPLE[n % G_N_ELEMENTS (PEOPLE)],
  };

  g_snprintf (job.serial, sizeof job.serial, "SN-%05u", n);
  g_snprintf (job.work_order, sizeof job.work_order, "W-%05u", 50000 + n);
  g_snprintf (job.lot, sizeof job.lot, "L-%04u", n / MANY_JOBS_PER_LOT);
  g_snprintf (job.revision, sizeof job.revision, "%u", 1 + n % MANY_JOBS_N_REVISIONS);
  g_snprintf (job.instruments[0], sizeof job.instruments[0], "M-%02u", n % MANY_JOBS_N_INSTRUMENTS);
  g_snprintf (job.instruments[1], sizeof job.instruments[1], "M-%02u", (n / MANY_JOBS_N_INSTRUMENTS) % MANY_JOBS_N_INSTRUMENTS);
  g_strlcpy (job.day, day, sizeof job.day);
  return job;
}

gboolean
many_job_has_undone (guint n)
{
  return n % 10 == 0;
}

/* ---- making it ---- */

static GDateTime *
now_cb (gpointer data)
{
  Maker *self = data;

  return g_date_time_ref (self->now);
}

static char *
new_id_cb (gpointer data)
{
  Maker *self = data;

  return g_strdup_printf ("%08x-%04x-4%03x-8%03x-%08x%04x", g_rand_int (self->rand), g_rand_int (self->rand) & 0xffff, g_rand_int (self->rand) & 0xfff,
                          g_rand_int (self->rand) & 0xfff, g_rand_int (self->rand), g_rand_int (self->rand) & 0xffff);
}

static char *
make_procedure (guint revision,
                guint n_readings)
{
  GString *xml = g_string_new (NULL);

  g_string_append_printf (xml,
    "<procedure xmlns='urn:pawl:procedure:1' id='" MANY_JOBS_PROCEDURE "' revision='%u' xml:lang='en'>"
    "<title>Rebuild of the ST-9 strainer</title><unit maker='Pellow &amp; Daunt' model='ST-9'>ST-9 strainer</unit>"
    "<statement>Invented unit, for tests.</statement><author>Pawl project</author><licence>CC0-1.0</licence>"
    "<book id='sheet' title='ST-9 bench sheet (invented)' edition='1'/>"
    "<verified how='no'>Never built.</verified><attended>1 h</attended><tools><tool id='depth-gauge' name='Depth gauge' error='0.03 mm'/></tools>"
    "<supplies><none/></supplies><cautions><none/></cautions><figure file='st-9.svg'/><kit name='ST-9 kit (invented)'/>"
    "<parts><part id='body' item='1' name='Body' stays='yes'/><part id='basket' item='2' name='Basket' stays='yes'/></parts>"
    "<phase id='all' title='All'><step id='look' attended='1 min'><do>Look at the basket.</do>"
    "<decide id='basket-again' part='basket' name='Basket' choices='reuse replace'>Can it go on?</decide></step>", revision);
  for (guint i = 0; i < n_readings; i++)
    g_string_append_printf (xml, "<step id='step-%u' attended='1 min'><do>Measure place %u.</do><reading id='place-%u' name='Place %u'"
                            " limits='24.5..25.5 mm' unit='mm' source='sheet p. 1' tool='depth-gauge'><says>How deep?</says></reading></step>", i, i, i, i);
  g_string_append (xml, "</phase></procedure>");
  return g_string_free (xml, FALSE);
}

static void
keep_procedures (Maker *self)
{
  for (guint i = 0; i < MANY_JOBS_N_REVISIONS; i++)
    {
      g_autofree char *xml = make_procedure (i + 1, self->n_readings);
      g_autoptr (GBytes) bytes = g_bytes_new (xml, strlen (xml));
      g_autoptr (GError) error = NULL;

      self->procedures[i] = pawl_record_keep (self->record, bytes, "application/xml", &error);
      g_assert_no_error (error);
    }
}

static char *
open_job (Maker         *self,
          guint          n,
          const ManyJob *job)
{
  g_autoptr (PawlEntry) opened = pawl_entry_new (PAWL_ENTRY_OPENED, "", job->person, self->now);
  const char *const fields[][2] = {
    { "procedure", self->procedures[n % MANY_JOBS_N_REVISIONS] }, { "procedure-id", MANY_JOBS_PROCEDURE }, { "procedure-file", "st-9.xml" },
    { "revision", job->revision }, { "title", "Rebuild of the ST-9 strainer" }, { "unit", "ST-9 strainer" }, { "serial", job->serial },
    { "work-order", job->work_order }, { "customer", job->customer }, { "complaint", job->complaint },
  };
  g_autoptr (GError) error = NULL;
  char *id;

  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    pawl_entry_set (opened, fields[i][0], fields[i][1]);
  id = pawl_record_open_job (self->record, opened, &error);
  g_assert_no_error (error);
  return id;
}

static PawlEntry *
add_entry (GPtrArray     *entries,
           PawlEntryKind  kind,
           const char    *subject,
           const ManyJob *job,
           GDateTime     *at)
{
  PawlEntry *entry = pawl_entry_new (kind, subject, job->person, at);

  g_ptr_array_add (entries, entry);
  return entry;
}

static PawlEntry *
add_reading (Maker         *self,
             GPtrArray     *entries,
             guint          i,
             const ManyJob *job)
{
  g_autofree char *subject = g_strdup_printf ("place-%u", i);
  g_autofree char *answer = g_strdup_printf ("%.3f", g_rand_double_range (self->rand, 24.4, 25.6));
  g_autoptr (GDateTime) at = g_date_time_add_seconds (self->now, 20. * i);
  PawlEntry *entry = add_entry (entries, PAWL_ENTRY_ANSWERED, subject, job, at);

  pawl_entry_set (entry, "answer", answer);
  pawl_entry_set (entry, "instrument", "depth-gauge");
  pawl_entry_set (entry, "tool-serial", job->instruments[i % 2]);
  return entry;
}

/* The last reading again, after an undo: of every tenth job. Its id is known only once it is stored, so it goes by itself. */
static void
add_undone (Maker         *self,
            const char    *job_id,
            PawlEntry     *last,
            const ManyJob *job)
{
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr (GError) error = NULL;

  add_entry (entries, PAWL_ENTRY_UNDONE, pawl_entry_get_id (last), job, self->now);
  add_reading (self, entries, self->n_readings - 1, job);
  pawl_record_append (self->record, job_id, entries, &error);
  g_assert_no_error (error);
}

static void
make_job (Maker *self,
          guint  n)
{
  ManyJob job = many_job_describe (n);
  g_autofree char *at = g_strconcat (job.day, "T08:00:00+01:00", NULL);
  g_autofree char *id = NULL;
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr (GError) error = NULL;
  PawlEntry *entry;

  g_clear_pointer (&self->now, g_date_time_unref);
  self->now = g_date_time_new_from_iso8601 (at, NULL);
  id = open_job (self, n, &job);
  entry = add_entry (entries, PAWL_ENTRY_DISPOSED, "basket", &job, self->now);
  pawl_entry_set (entry, "choice", "replace");
  pawl_entry_set (entry, "lot", job.lot);
  pawl_entry_set (entry, "source", "kit");
  pawl_entry_set (entry, "reason", "holed");
  pawl_entry_set (add_entry (entries, PAWL_ENTRY_NOTED, "look", &job, self->now), "text", job.note);
  for (guint i = 0; i < self->n_readings; i++)
    entry = add_reading (self, entries, i, &job);
  pawl_record_append (self->record, id, entries, &error);
  g_assert_no_error (error);
  if (many_job_has_undone (n))
    add_undone (self, id, entry, &job);
}

void
many_jobs_make (const char *path,
                guint       n_jobs,
                guint       n_readings)
{
  Maker self = { .rand = g_rand_new_with_seed (9), .now = g_date_time_new_from_iso8601 (DAYS_FROM, NULL), .n_readings = n_readings };
  const PawlRecordHost host = { .now = now_cb, .new_id = new_id_cb, .data = &self };
  g_autoptr (GError) error = NULL;

  self.record = pawl_record_open (path, PAWL_RECORD_OPEN_CREATE, &host, &error);
  g_assert_no_error (error);
  g_assert_cmpint (sqlite3_exec (pawl_record_peek_handle (self.record), "PRAGMA synchronous = OFF; PRAGMA cache_size = -200000", NULL, NULL, NULL), ==, SQLITE_OK);
  keep_procedures (&self);
  for (guint n = 0; n < n_jobs; n++)
    make_job (&self, n);

  g_object_unref (self.record);
  for (guint i = 0; i < MANY_JOBS_N_REVISIONS; i++)
    g_free (self.procedures[i]);
  g_rand_free (self.rand);
  g_date_time_unref (self.now);
}
