/* What is left of a job once names are left out. Everything is invented. */
#include <string.h>

#include "procedure/pawl-reader.h"
#include "record/pawl-entry-row.h"
#include "training/pawl-nameless.h"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='plug' revision='1' xml:lang='en'>"
  "<title>Plug</title><unit maker='Invented'>Unit</unit><author>Pawl</author><licence>CC0-1.0</licence>"
  "<verified how='no'>Never.</verified><attended>1 h</attended>"
  "<variants><variant id='rh' name='Right'/><variant id='lh' name='Left'/></variants>"
  "<tools><tool id='gauge' name='Depth gauge' error='0.03 mm' step='0.01 mm'/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<parts><part id='body' item='1' name='Body' stays='yes'/><part id='ring' item='2' name='Ring'/></parts><phase id='all' title='All'>"
  "<step id='off' remove='ring'><do>Take the ring off.</do><note id='mark' name='Mark'>Which?</note></step>"
  "<step id='on' needs='off' install='ring' hold='hold'><do>Put the ring on.</do><hold-reason>R</hold-reason>"
  "<fit id='lip' kind='sense' part='ring' if-wrong='fails' verify='sight' source='x'><says>S</says><datum>book</datum><wrong>W</wrong><tell>T</tell><verify>V</verify></fit>"
  "<reading id='depth' name='Depth' source='x' limits='4 mm ± 0.5 mm' unit='mm' tool='gauge'><says>S</says></reading></step>"
  "</phase></procedure>";

#define NAME "Zenobia Nancarrow"

/* All fields that any entry has, and one that none has yet. */
static const char * const FIELDS[] = {
  "answer", "instrument", "stage", "tool-serial", "error", "step", "reference", "calibrated", "due", "overdue", "asked", "agent", "choice", "reason", "source", "from", "lot",
  "what", "accepted-by", "text", "issued", "version", "digest", "wait", "clock-shift", "media-type", "caption", "role", "level", "by-pin", "shown", "right-view", "wrong-view",
  "state", "expected", "quantity", "remark", "variant", "variant-how", "statement", "name", "note", "order", "ask-first", "holds", "blind", "code", "found", "learner",
  "fault-kind", "procedure", "procedure-file", "procedure-id", "figure", "revision", "title", "unit", "serial", "work-order", "customer", "complaint", "authority", "shop",
  "policy", "out-of-date", "identified-by", "old-parts", "stages", "bench", "decimal-mark", "typed-over", "of-a-later-version",
};

typedef struct {
  PawlProcedure *procedure;
  GDateTime     *at;
  GPtrArray     *entries;
} Fixture;

static void
set_up (Fixture *self, gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (procedure_xml, sizeof procedure_xml - 1);
  g_autoptr(GError) error = NULL;

  self->procedure = pawl_procedure_load_bytes (bytes, "plug.xml", NULL, &error);
  g_assert_no_error (error);
  self->at = g_date_time_new_utc (2026, 3, 2, 9, 0, 0);
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
}

static void
tear_down (Fixture *self, gconstpointer data)
{
  g_object_unref (self->procedure);
  g_date_time_unref (self->at);
  g_ptr_array_unref (self->entries);
}

static PawlEntry *
add (Fixture *self, PawlEntryKind kind, const char *subject, const char *field, const char *value)
{
  PawlEntry *entry = pawl_entry_new (kind, subject, NAME, self->at);

  if (field != NULL)
    pawl_entry_set (entry, field, value);
  g_ptr_array_add (self->entries, entry);
  return entry;
}

static void
store_all (Fixture *self)
{
  for (guint i = 0; i < self->entries->len; i++)
    {
      g_autofree char *id = g_strdup_printf ("00000000-0000-4000-0000-%012u", i + 1);
      PawlEntryRow row = { .id = id, .job = (char *) "00000000-0000-4000-0000-000000000001", .number = i + 1, .previous = (char *) "", .digest = (char *) "" };

      pawl_entry_take_place (self->entries->pdata[i], &row, self->at);
    }
}

/* (transfer full) (element-type PawlEntryRow) */
static GPtrArray *
make_rows (Fixture *self, PawlPseudonyms *people)
{
  g_autoptr(PawlJob) job = NULL;

  store_all (self);
  job = pawl_job_fold (self->procedure, self->entries, self->at);
  pawl_nameless_add_names (job, people);
  pawl_pseudonyms_number (people, "salt");
  return pawl_nameless_make_rows (job, "job-1", "0000", people);
}

static void
assert_nameless (const PawlEntryRow *row, const char *what)
{
  const char * const columns[] = { row->id, row->job, row->previous, row->kind, row->subject, row->person, row->at, row->written, row->body, row->digest };

  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    if (strstr (columns[i], "enobia") != NULL || strstr (columns[i], "ancarrow") != NULL)
      g_error ("%s: “%s”", what, columns[i]);
}

/* A name in every field of every kind, about a step, an ask, a part, the whole job, and about something that the procedure has not. */
static void
test_every_field (Fixture *self, gconstpointer data)
{
  static const char * const subjects[] = { "", "on", "lip", "depth", "mark", "ring", NAME };

  for (guint kind = 0; kind <= PAWL_ENTRY_IDENTIFIED; kind++)
    for (guint i = 0; i < G_N_ELEMENTS (subjects); i++)
      {
        g_autoptr(PawlPseudonyms) people = pawl_pseudonyms_new ();
        g_autoptr(GPtrArray) rows = NULL;
        PawlEntry *entry;

        g_ptr_array_set_size (self->entries, 0);
        add (self, PAWL_ENTRY_OPENED, "", NULL, NULL);
        entry = add (self, (PawlEntryKind) kind, subjects[i], NULL, NULL);
        for (guint j = 0; j < G_N_ELEMENTS (FIELDS); j++)
          pawl_entry_set (entry, FIELDS[j], NAME);
        rows = make_rows (self, people);
        g_assert_cmpuint (rows->len, ==, 2);
        assert_nameless (rows->pdata[1], pawl_entry_kind_get_name ((PawlEntryKind) kind));
        g_assert_cmpstr (((PawlEntryRow *) rows->pdata[1])->person, ==, "person 1");
      }
}

/* What figures need is there, and what the procedure does not know is not. */
static void
test_kept (Fixture *self, gconstpointer data)
{
  static const struct { PawlEntryKind kind; const char *subject, *field, *value, *kept; } cases[] = {
    { PAWL_ENTRY_OPENED, "", "variant", "rh", "{\"procedure\":\"0000\",\"variant\":\"rh\"}" },
    { PAWL_ENTRY_ANSWERED, "mark", "answer", "two dots", "{}" },
    { PAWL_ENTRY_STEP_DONE, "off", NULL, NULL, "{}" },
    { PAWL_ENTRY_GUESSED, "lip", "choice", "wrong", "{\"choice\":\"wrong\"}" },
    { PAWL_ENTRY_ANSWERED, "lip", "answer", "wrong", "{\"answer\":\"wrong\"}" },
    { PAWL_ENTRY_ANSWERED, "lip", "answer", "as " NAME " said", "{}" },
    { PAWL_ENTRY_ANSWERED, "depth", "answer", "4.05 mm", "{\"answer\":\"4.05 mm\"}" },
    { PAWL_ENTRY_ANSWERED, "depth", "answer", "about four", "{}" },
    { PAWL_ENTRY_ANSWERED, "depth", "instrument", "gauge", "{\"instrument\":\"gauge\"}" },
    { PAWL_ENTRY_ANSWERED, "depth", "instrument", "borrowed", "{}" },
    { PAWL_ENTRY_ANSWERED, "depth", "error", "0.02 mm", "{\"error\":\"0.02 mm\"}" },
    { PAWL_ENTRY_DISPOSED, "ring", "choice", "reuse", "{\"choice\":\"reuse\"}" },
    { PAWL_ENTRY_REOPENED, "on", "reason", "the lip was nicked", "{\"reason\":\"left out\"}" },
    { PAWL_ENTRY_PHOTO, "on", "caption", "ours", "{}" },
    { PAWL_ENTRY_NOTED, "", "clock-shift", "3600", "{\"clock-shift\":\"0\"}" },
    { PAWL_ENTRY_UNDONE, "00000000-0000-4000-0000-000000000004", NULL, NULL, "{}" },
    { PAWL_ENTRY_UNSEALED, "", "fault-kind", "which", "{\"fault-kind\":\"which\"}" },
    { PAWL_ENTRY_UNSEALED, "", "fault-kind", "loud", "{}" },
    { PAWL_ENTRY_IDENTIFIED, "", "variant", "rh him", "{}" },
  };
  g_autoptr(PawlPseudonyms) people = pawl_pseudonyms_new ();
  g_autoptr(GPtrArray) rows = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    add (self, cases[i].kind, cases[i].subject, cases[i].field, cases[i].value);
  rows = make_rows (self, people);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      const PawlEntryRow *row = rows->pdata[i];
      g_autofree char *id = g_strdup_printf ("job-1-%u", i + 1);

      g_test_message ("%s %s", row->kind, row->body);
      g_assert_cmpstr (row->body, ==, cases[i].kept);
      g_assert_cmpstr (row->id, ==, id);
      g_assert_cmpstr (row->digest, ==, "");
    }
  g_assert_cmpstr (((PawlEntryRow *) rows->pdata[15])->subject, ==, "job-1-4"); /* what was taken back is named by its new id */
  g_assert_cmpstr (((PawlEntryRow *) rows->pdata[13])->kind, ==, "noted");
}

/* Numbers go by the lot alone: the same for the same salt, one person however the name is written, and over many salts each is first now and then. */
static void
test_pseudonyms (void)
{
  static const char * const names[] = { "Ann", "Bo", "Cy" };
  guint n_first[G_N_ELEMENTS (names)] = { 0 };

  for (guint i = 0; i < 60; i++)
    {
      g_autoptr(PawlPseudonyms) people = pawl_pseudonyms_new (), again = pawl_pseudonyms_new ();
      g_autofree char *salt = g_strdup_printf ("salt %u", i);

      for (guint j = 0; j < G_N_ELEMENTS (names); j++)
        {
          pawl_pseudonyms_add (people, names[j]);
          pawl_pseudonyms_add (again, names[G_N_ELEMENTS (names) - 1 - j]);
        }
      pawl_pseudonyms_add (people, " ANN");
      pawl_pseudonyms_add (people, "");
      pawl_pseudonyms_add (people, NULL);
      pawl_pseudonyms_number (people, salt);
      pawl_pseudonyms_number (again, salt);
      g_assert_cmpuint (pawl_pseudonyms_get_n (people), ==, 3);
      g_assert_cmpstr (pawl_pseudonyms_get (people, "ann"), ==, pawl_pseudonyms_get (people, "Ann "));
      g_assert_cmpstr (pawl_pseudonyms_get (people, "Nobody"), ==, "");
      for (guint j = 0; j < G_N_ELEMENTS (names); j++)
        {
          g_assert_cmpstr (pawl_pseudonyms_get (people, names[j]), ==, pawl_pseudonyms_get (again, names[j]));
          n_first[j] += g_str_equal (pawl_pseudonyms_get (people, names[j]), "person 1");
        }
    }
  for (guint j = 0; j < G_N_ELEMENTS (names); j++)
    g_assert_cmpuint (n_first[j], >, 5);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/training/nameless/every-field", Fixture, NULL, set_up, test_every_field, tear_down);
  g_test_add ("/training/nameless/kept", Fixture, NULL, set_up, test_kept, tear_down);
  g_test_add_func ("/training/nameless/pseudonyms", test_pseudonyms);
  return g_test_run ();
}
