/* What a unit was taken in with, corrected: what is in force, what it replaced, and what no correction may be. */
#include "job/pawl-job.h"
#include "procedure/pawl-reader.h"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='v' revision='1' xml:lang='en'><title>V</title><unit>V</unit><author>Pawl</author><licence>CC0-1.0</licence>"
  "<verified how='no'>Never.</verified><attended>1 h</attended>"
  "<variants by='serial'><variant id='early' name='Early' to='99'/><variant id='late' name='Late' from='100'/></variants>"
  "<tools><none/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<parts><part id='spring' item='1' name='Spring'/></parts>"
  "<phase id='all' title='All'><step id='look'><do>Look.</do><check id='seen' kind='visual' name='Seen'>Good?</check></step></phase></procedure>";

typedef struct {
  PawlProcedure *procedure;
  GPtrArray     *entries;
  GDateTime     *at;
} Fixture;

/* @fields: name, value, …, NULL */
static PawlEntry *
make_entry (Fixture *fixture, PawlEntryKind kind, const char *const *fields)
{
  PawlEntry *entry = pawl_entry_new (kind, "", "Ann", fixture->at);

  for (; *fields != NULL; fields += 2)
    pawl_entry_set (entry, fields[0], fields[1]);
  return entry;
}

#define ENTRY(fixture, kind, ...) make_entry (fixture, kind, (const char *const[]) { __VA_ARGS__, NULL })

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (procedure_xml, sizeof procedure_xml - 1);
  g_autoptr(GError) error = NULL;

  fixture->procedure = pawl_procedure_load_bytes (bytes, "v.xml", NULL, &error);
  g_assert_no_error (error);
  fixture->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  fixture->at = g_date_time_new_from_iso8601 ("2026-11-25T08:00:00+00:00", NULL);
  g_ptr_array_add (fixture->entries, ENTRY (fixture, PAWL_ENTRY_OPENED, "unit", "V", "serial", "47", "customer", "Invented & Sons", "variant", "early"));
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_object_unref (fixture->procedure);
  g_ptr_array_unref (fixture->entries);
  g_date_time_unref (fixture->at);
}

static PawlJob *
fold (Fixture *fixture)
{
  return pawl_job_fold (fixture->procedure, fixture->entries, fixture->at);
}

/* -1: the job would take it, else why not. */
static int
try (Fixture *fixture, PawlEntry *entry)
{
  g_autoptr(PawlJob) job = fold (fixture);
  g_autoptr(GError) error = NULL;

  if (pawl_job_check (job, entry, &error))
    return -1;
  g_assert_true (error != NULL && error->domain == PAWL_JOB_ERROR);
  g_test_message ("%s", error->message);
  return error->code;
}

static void
take (Fixture *fixture, PawlEntry *entry) /* (transfer full) */
{
  g_assert_cmpint (try (fixture, entry), ==, -1);
  g_ptr_array_add (fixture->entries, entry);
}

static void
test_in_force (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  static const struct { const char *field, *before, *after, *says; } history[] = {
    { "serial", "47", "74", "serial number “74”, was “47”" },
    { "customer", "Invented & Sons", "", "no customer, was “Invented & Sons”" },
    { "complaint", "", "Floods", "complaint “Floods”, was not stated" },
    { "serial", "74", "47", "serial number “47”, was “74”" },
  };

  take (fixture, ENTRY (fixture, PAWL_ENTRY_CORRECTED, "serial", "74", "customer", "-", "reason", "The plate was under paint."));
  take (fixture, ENTRY (fixture, PAWL_ENTRY_CORRECTED, "complaint", "Floods", "reason", "The customer called."));
  take (fixture, ENTRY (fixture, PAWL_ENTRY_CORRECTED, "serial", "47", "reason", "Read again: it was right at first."));
  job = fold (fixture);
  g_assert_cmpuint (pawl_job_get_corrections (job)->len, ==, G_N_ELEMENTS (history));
  for (guint i = 0; i < G_N_ELEMENTS (history); i++)
    {
      const PawlCorrection *correction = pawl_job_get_corrections (job)->pdata[i];
      g_autofree char *says = pawl_correction_describe (correction);

      g_assert_cmpstr (correction->field->id, ==, history[i].field);
      g_assert_cmpstr (correction->before, ==, history[i].before);
      g_assert_cmpstr (correction->after, ==, history[i].after);
      g_assert_cmpstr (says, ==, history[i].says);
    }
  g_assert_cmpstr (pawl_job_get_field (job, "serial"), ==, "47");
  g_assert_cmpstr (pawl_job_get_field (job, "customer"), ==, "");
  g_assert_cmpstr (pawl_job_get_field (job, "complaint"), ==, "Floods");
  g_assert_cmpstr (pawl_job_get_field (job, "unit"), ==, "V");
  g_assert_true (pawl_job_peek_correction (job, "serial")->entry == fixture->entries->pdata[3]);
  g_assert_null (pawl_job_peek_correction (job, "unit"));
}

static void
test_refusals (Fixture *fixture, gconstpointer data)
{
  static const struct { int code; const char *fields[7]; } cases[] = {
    { -1, { "serial", "48", "reason", "Read again" } },
    { -1, { "customer", "-", "reason", "Not theirs" } },
    { -1, { "work-order", "W-1", "maker", "Invented", "reason", "Not stated before" } },
    { PAWL_JOB_ERROR_NEEDS_REASON, { "serial", "48" } },
    { PAWL_JOB_ERROR_NEEDS_REASON, { "serial", "48", "reason", "" } },
    { PAWL_JOB_ERROR_NOT_OPEN, { "serial", "47", "reason", "Is so already" } },
    { PAWL_JOB_ERROR_NOT_OPEN, { "customer", "Somebody else", "serial", "47", "reason", "One of them is so already" } },
    { PAWL_JOB_ERROR_NOT_OPEN, { "work-order", "-", "reason", "None was stated" } },
    { PAWL_JOB_ERROR_BAD_ANSWER, { "unit", "-", "reason", "A job has a unit" } },
    { PAWL_JOB_ERROR_BAD_ANSWER, { "serial", "", "reason", "Nothing is said" } },
    { PAWL_JOB_ERROR_BAD_ANSWER, { "reason", "Of what?" } },
    { PAWL_JOB_ERROR_UNKNOWN, { "serail", "48", "reason", "No such field" } },
    { PAWL_JOB_ERROR_UNKNOWN, { "serial", "48", "policy", "proof", "reason", "How it is judged was not taken in" } },
    { PAWL_JOB_ERROR_UNKNOWN, { "variant", "late", "reason", "Has an entry of its own" } },
  };
  g_autoptr(PawlEntry) late = ENTRY (fixture, PAWL_ENTRY_CORRECTED, "serial", "48", "reason", "After the signature");

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlEntry) entry = make_entry (fixture, PAWL_ENTRY_CORRECTED, cases[i].fields);

      g_assert_cmpint (try (fixture, entry), ==, cases[i].code);
    }
  g_ptr_array_add (fixture->entries, ENTRY (fixture, PAWL_ENTRY_SIGNED, "name", "Ann"));
  g_assert_cmpint (try (fixture, late), ==, PAWL_JOB_ERROR_NOT_OPEN);
}

/* A serial number that tells another variant is said to; the variant stays until somebody corrects it. */
static void
test_serial_doubt (Fixture *fixture, gconstpointer data)
{
  static const struct { const char *serial, *told; } cases[] = {
    { "74", NULL }, { "470", "late" }, { "B-99", NULL }, { "B-100", "late" }, { "-", NULL },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlJob) job = NULL;
      g_autofree char *doubt = NULL;

      take (fixture, ENTRY (fixture, PAWL_ENTRY_CORRECTED, "serial", cases[i].serial, "reason", "Read again"));
      job = fold (fixture);
      doubt = pawl_job_find_doubt (job);
      g_assert_cmpstr (doubt, ==, cases[i].told);
      g_assert_cmpstr (pawl_job_get_field (job, "variant"), ==, "early");
    }
  take (fixture, ENTRY (fixture, PAWL_ENTRY_CORRECTED, "serial", "470", "reason", "Read again"));
  take (fixture, ENTRY (fixture, PAWL_ENTRY_IDENTIFIED, "variant", "late", "reason", "Two screws"));
  {
    g_autoptr(PawlJob) job = fold (fixture);

    g_assert_null (pawl_job_find_doubt (job));
    g_assert_cmpstr (pawl_job_get_field (job, "variant"), ==, "late");
  }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/intake/in-force", Fixture, NULL, set_up, test_in_force, tear_down);
  g_test_add ("/intake/refusals", Fixture, NULL, set_up, test_refusals, tear_down);
  g_test_add ("/intake/serial-doubt", Fixture, NULL, set_up, test_serial_doubt, tear_down);
  return g_test_run ();
}
