/* Finding jobs by what was said in them, in a record of 100 invented jobs; and that nothing that is typed is an error of SQLite's. */
#include "many-jobs.h"
#include "record-fixture.h"
#include "recall/pawl-find.h"

#define N_JOBS 100
#define N_READINGS 4

typedef struct {
  Fixture     base;
  PawlRecord *record;
} Bench;

static void
set_up (Bench        *bench,
        gconstpointer data)
{
  fixture_set_up (&bench->base, NULL);
  many_jobs_make (bench->base.path, N_JOBS, N_READINGS);
  bench->record = fixture_open_to_read (&bench->base);
}

static void
tear_down (Bench        *bench,
           gconstpointer data)
{
  g_clear_object (&bench->record);
  fixture_tear_down (&bench->base, NULL);
}

/* How many of the made jobs say it: counted without any index. */
static guint
count_customers (const char *customer)
{
  guint n = 0;

  for (guint i = 0; i < N_JOBS; i++)
    n += g_str_equal (many_job_describe (i).customer, customer);
  return n;
}

static guint
count_notes (const char *word)
{
  guint n = 0;

  for (guint i = 0; i < N_JOBS; i++)
    n += strstr (many_job_describe (i).note, word) != NULL;
  return n;
}

static PawlFound *
find (Bench      *bench,
      const char *text)
{
  g_autoptr (GError) error = NULL;
  PawlFound *found = pawl_find (bench->record, text, 1000, &error);

  g_assert_no_error (error);
  return found;
}

typedef struct {
  const char *text;
  guint       n_jobs;
  const char *serial; /* (nullable): of the first */
  const char *place;  /* (nullable): where it was found first */
} Case;

static const Case cases[] = {
  { "SN-00042", 1, "SN-00042", "serial" },
  { "sn-00042", 1, "SN-00042", "serial" },
  { "00042", 1, "SN-00042", "serial" },
  { "SN-0004", 10, NULL, "serial" },
  { "SN-1", 0, NULL, NULL },
  { "W-50007", 1, "SN-00007", "work order" },
  { "W 50007", 1, "SN-00007", NULL },
  { "L-0002", 25, NULL, "lot" },
  { "L-00", 100, NULL, "lot" },
  { "basket", 100, NULL, NULL },
  { "basket hol", 100, NULL, NULL },
  { "ST-9", 100, NULL, NULL },
  { MANY_JOBS_PROCEDURE, 100, NULL, "procedure" },
  { "muhle", 12, NULL, "customer" },
  { "Mühle mül", 12, NULL, "customer" },
  { "morwenna SN-00003", 1, "SN-00003", NULL },
  { "muehle", 0, NULL, NULL },
  { "SN-00042 basket", 1, "SN-00042", "serial" },
  { "SN-00042 SN-00043", 0, NULL, NULL },
  { "nothing-like-it", 0, NULL, NULL },
  /* what a search engine would take for its own */
  { "\"SN-00042\"", 1, "SN-00042", "serial" },
  { "SN-00042*", 1, "SN-00042", "serial" },
  { "\"", 0, NULL, "" },
  { "\"\"\" \"", 0, NULL, "" },
  { "*", 0, NULL, "" },
  { "- — …", 0, NULL, "" },
  { "", 0, NULL, "" },
  { "text:SN-00042", 0, NULL, NULL },
  { "^SN-00042", 1, "SN-00042", "serial" },
  { "{qq zz}", 0, NULL, NULL },
  { "NEAR(sn 00042)", 0, NULL, NULL },
  { "SN-00042 AND NOT basket", 0, NULL, NULL },
  { "sand OR", 0, NULL, NULL },
  { "'; DROP TABLE entry; --", 0, NULL, NULL },
  { "(((", 0, NULL, "" },
  { "plumber's", 14, NULL, "note" },
  { "sand\tin\nthe\xc2\xa0" "sump", 14, NULL, NULL },
};

static void
test_cases (Bench        *bench,
            gconstpointer data)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (PawlFound) found = pawl_find (bench->record, cases[i].text, 1000, &error);
      const PawlHit *hit;

      g_test_message ("“%s”", cases[i].text);
      if (cases[i].place != NULL && *cases[i].place == '\0')
        {
          g_assert_error (error, PAWL_RECALL_ERROR, PAWL_RECALL_ERROR_NO_WORD);
          g_assert_null (found);
          continue;
        }
      g_assert_no_error (error);
      g_assert_cmpuint (found->n_jobs, ==, cases[i].n_jobs);
      g_assert_cmpuint (found->hits->len, ==, cases[i].n_jobs);
      if (found->hits->len == 0)
        continue;
      hit = found->hits->pdata[0];
      if (cases[i].serial != NULL)
        g_assert_cmpstr (hit->opening->serial, ==, cases[i].serial);
      if (cases[i].place != NULL)
        g_assert_cmpstr (((PawlSaid *) hit->said->pdata[0])->place, ==, cases[i].place);
    }
}

static void
test_counts (Bench        *bench,
             gconstpointer data)
{
  g_autoptr (PawlFound) customers = find (bench, "zennor quarry");
  g_autoptr (PawlFound) notes = find (bench, "punch");

  g_assert_cmpuint (customers->n_jobs, ==, count_customers ("Zennor Quarry"));
  g_assert_cmpuint (notes->n_jobs, ==, count_notes ("punch"));
}

/* What a job is known by comes before what was only mentioned in it. */
static void
test_marks_first (Bench        *bench,
                  gconstpointer data)
{
  g_autoptr (PawlFound) found = NULL;
  g_autoptr (PawlRecord) record = fixture_open (&bench->base);
  g_autoptr (PawlEntry) note = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *other = pawl_record_find_job (record, "SN-00090", &error);

  g_assert_no_error (error);
  note = pawl_entry_new (PAWL_ENTRY_NOTED, "", FIXTURE_PERSON, bench->base.now);
  pawl_entry_set (note, "text", "Same crack as in SN-00013");
  g_assert_true (pawl_record_append_one (record, other, note, &error));
  g_assert_no_error (error);

  found = find (bench, "sn-00013");
  g_assert_cmpuint (found->n_jobs, ==, 2);
  g_assert_cmpstr (((PawlHit *) found->hits->pdata[0])->opening->serial, ==, "SN-00013");
  g_assert_cmpstr (((PawlHit *) found->hits->pdata[1])->opening->serial, ==, "SN-00090");
  g_assert_cmpstr (((PawlSaid *) ((PawlHit *) found->hits->pdata[1])->said->pdata[0])->text, ==, "Same crack as in SN-00013");
}

static void
test_most (Bench        *bench,
           gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlFound) found = pawl_find (bench->record, "strainer", 7, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (found->n_jobs, ==, N_JOBS);
  g_assert_cmpuint (found->hits->len, ==, 7);
}

static PawlOpening *
load_touched_opening (Bench *bench,
                      const char *lot)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) touched = pawl_record_list_touched (bench->record, PAWL_TOUCHED_BY_LOT, lot, NULL, NULL, &error);
  PawlOpening *opening;

  g_assert_no_error (error);
  opening = g_steal_pointer (&((PawlTouched *) touched->pdata[0])->opening);
  g_assert_nonnull (opening);
  return opening;
}

/* What was taken in wrongly is found by what it is and by what it was; told is what it is. The same when the index is made anew. */
static void
test_corrected (Bench        *bench,
                gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (&bench->base);
  g_autoptr (PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_CORRECTED, "", FIXTURE_PERSON, bench->base.now);
  g_autoptr (GError) error = NULL;
  g_autofree char *job = pawl_record_find_job (record, "SN-00000", &error);
  g_autoptr (PawlOpening) touched = NULL;

  g_assert_no_error (error);
  pawl_entry_set (entry, "serial", "QX-77");
  pawl_entry_set (entry, "customer", "-");
  pawl_entry_set (entry, "reason", "Under the paint");
  g_assert_true (pawl_record_append_one (record, job, entry, &error));
  for (guint i = 0; i < 2; i++)
    {
      static const char *const words[] = { "QX-77", "SN-00000", "under the paint" };

      for (guint j = 0; j < G_N_ELEMENTS (words); j++)
        {
          g_autoptr (PawlFound) found = find (bench, words[j]);
          const PawlHit *hit = found->hits->pdata[0];

          g_assert_cmpuint (found->n_jobs, ==, 1);
          g_assert_cmpstr (hit->opening->job, ==, job);
          g_assert_cmpstr (hit->opening->serial, ==, "QX-77");
          g_assert_cmpstr (hit->opening->customer, ==, "");
        }
      fixture_check_sound (record);
      g_assert_true (pawl_record_rebuild_index (record, &error));
      g_assert_no_error (error);
    }
  touched = load_touched_opening (bench, many_job_describe (0).lot);
  g_assert_cmpstr (touched->serial, ==, "QX-77");
}

/* An answer is searched when it was written down, not when it was chosen or measured. */
static void
test_answers (Bench        *bench,
              gconstpointer data)
{
  g_autoptr (PawlRecord) record = fixture_open (&bench->base);
  g_autoptr (PawlEntry) plate = pawl_entry_new (PAWL_ENTRY_ANSWERED, "plate", FIXTURE_PERSON, bench->base.now);
  g_autoptr (PawlEntry) outcome = pawl_entry_new (PAWL_ENTRY_ANSWERED, "spins", FIXTURE_PERSON, bench->base.now);
  g_autoptr (PawlFound) of_plate = NULL;
  g_autoptr (PawlFound) of_outcome = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *job = pawl_record_find_job (record, "SN-00090", &error);

  g_assert_no_error (error);
  pawl_entry_set (plate, "asked", "note");
  pawl_entry_set (plate, "answer", "QX77/b");
  pawl_entry_set (outcome, "answer", "qxfree");
  g_assert_true (pawl_record_append_one (record, job, plate, &error));
  g_assert_true (pawl_record_append_one (record, job, outcome, &error));

  of_plate = find (bench, "qx77");
  g_assert_cmpuint (of_plate->n_jobs, ==, 1);
  of_outcome = find (bench, "qxfree");
  g_assert_cmpuint (of_outcome->n_jobs, ==, 0);
}

int
main (int    argc,
      char **argv)
{
  g_test_init (&argc, &argv, NULL);

#define ADD(path, test) g_test_add (path, Bench, NULL, set_up, test, tear_down)
  ADD ("/find/cases", test_cases);
  ADD ("/find/counts", test_counts);
  ADD ("/find/marks-first", test_marks_first);
  ADD ("/find/most", test_most);
  ADD ("/find/corrected", test_corrected);
  ADD ("/find/answers", test_answers);

  return g_test_run ();
}
