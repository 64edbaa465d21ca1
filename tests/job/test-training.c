/* What a trainer does to a job: lists of what is tightened, levels, a fixed order, readings by two, seals. */
#include <string.h>

#include "job/pawl-job.h"
#include "job/pawl-seal.h"
#include "procedure/pawl-reader.h"

static const char procedure_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='small' revision='1' xml:lang='en'>"
  "<title>Small</title><unit maker='Invented' model='S'>Small unit</unit><author>Pawl</author><licence>CC0-1.0</licence>"
  "<verified how='no'>Never.</verified><attended>1 h</attended><skill>Any.</skill>"
  "<tools><tool id='gauge' name='Depth gauge' error='0.03 mm' step='0.01 mm'/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<figure file='small.svg'/>"
  "<parts><part id='body' item='1' name='Body' stays='yes'/><part id='cover' item='2' name='Cover'/><part id='float' item='3' name='Float'/></parts>"
  "<phase id='all' title='All'>"
  "<step id='off' attended='5 min' remove='cover float'><do>Take the cover off.</do><note id='mark' name='Mark'>What?</note></step>"
  "<step id='float-in' attended='5 min' needs='off' install='float'><do>Hang the float.</do>"
  "  <fit id='float-way' kind='sense' part='float' if-wrong='fails' verify='sight'><says>Tang to the needle.</says><datum>needle</datum><wrong>Floods.</wrong><tell>Tang.</tell><verify>Look.</verify>"
  "  <outline seat='0' points='0,0 10,0 10,4 0,2'/></fit></step>"
  "<step id='set-height' attended='5 min' needs='float-in' hold='witness'><do>Set the height.</do>"
  "  <reading id='height' name='Height' limits='10.0 mm ± 0.5 mm' unit='mm' source='x' tool='gauge' repeats='2'><says>How high?</says></reading></step>"
  "<step id='note-it' attended='1 min' needs='off'><do>Write the care card.</do>"
  "  <reading id='half' name='Half' limits='5 mm ± 1 mm' unit='mm' source='x' formula='height / 2'><says>Half.</says></reading></step>"
  "<step id='cover-on' attended='5 min' needs='set-height note-it' install='cover' covers='height'><do>Put the cover on.</do></step>"
  "</phase></procedure>";

typedef struct {
  PawlProcedure *procedure;
  GPtrArray     *entries;
  GDateTime     *start;
} Fixture;

static PawlEntry *
make (Fixture *fixture, PawlEntryKind kind, const char *subject, const char *person)
{
  g_autoptr(GDateTime) at = g_date_time_add_minutes (fixture->start, (int) fixture->entries->len);

  return pawl_entry_new (kind, subject, person, at);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (procedure_xml, sizeof procedure_xml - 1);
  g_autoptr(GError) error = NULL;

  fixture->procedure = pawl_procedure_load_bytes (bytes, "small.xml", NULL, &error);
  g_assert_no_error (error);
  fixture->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  fixture->start = g_date_time_new_from_iso8601 ("2026-11-25T08:00:00+00:00", NULL);
  g_ptr_array_add (fixture->entries, make (fixture, PAWL_ENTRY_OPENED, "", "Ann"));
  pawl_entry_set (fixture->entries->pdata[0], "learner", "Ann");
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_object_unref (fixture->procedure);
  g_ptr_array_unref (fixture->entries);
  g_date_time_unref (fixture->start);
}

static void
tighten_opening (Fixture *fixture, const char *field, const char *text)
{
  pawl_entry_set (fixture->entries->pdata[0], field, text);
}

static PawlJob *
fold (Fixture *fixture)
{
  return pawl_job_fold (fixture->procedure, fixture->entries, fixture->start);
}

/* -1: taken, and then it is among the entries; else the code of the refusal. Owns @entry. */
static int
try (Fixture *fixture, PawlEntry *entry)
{
  g_autoptr(PawlJob) job = pawl_job_fold_in_sight (fixture->procedure, fixture->entries, fixture->start);
  g_autoptr(GError) error = NULL;

  if (pawl_job_check (job, entry, &error))
    {
      g_assert_no_error (error);
      g_ptr_array_add (fixture->entries, entry);
      return -1;
    }
  g_assert_cmpint (error->domain, ==, PAWL_JOB_ERROR);
  pawl_entry_unref (entry);
  return error->code;
}

static int
enter (Fixture *fixture, PawlEntryKind kind, const char *subject, const char *person, const char *field, const char *text)
{
  PawlEntry *entry = make (fixture, kind, subject, person);

  pawl_entry_set (entry, field, text);
  if (kind == PAWL_ENTRY_TIGHTENED || kind == PAWL_ENTRY_SEALED || kind == PAWL_ENTRY_UNSEALED)
    pawl_entry_set (entry, "by-pin", "yes");
  if (kind == PAWL_ENTRY_ANSWERED || kind == PAWL_ENTRY_REMEASURED)
    {
      g_autoptr(PawlJob) job = fold (fixture);

      if (pawl_job_is_blind (job, pawl_job_lookup_ask (job, subject)))
        pawl_entry_set (entry, "blind", "yes");
    }
  return try (fixture, entry);
}

/* ---- lists ---- */

static void
test_lists (void)
{
  static const struct { const char *list, *skill; gboolean is_in; } lists[] = {
    { "yes", "sense", TRUE }, { "yes", NULL, FALSE }, { NULL, "sense", FALSE }, { "", "sense", FALSE },
    { "sense side", "side", TRUE }, { "sense side", "sid", FALSE }, { "sense", "yes", FALSE },
  };
  static const struct { const char *holds, *skill; PawlHold own, level; } levels[] = {
    { "sense=hold", "sense", PAWL_HOLD_NONE, PAWL_HOLD_HOLD }, { "sense=hold", "side", PAWL_HOLD_NONE, PAWL_HOLD_NONE },
    { "side=+1", "side", PAWL_HOLD_NONE, PAWL_HOLD_REVIEW }, { "side=+1", "side", PAWL_HOLD_REVIEW, PAWL_HOLD_WITNESS },
    { "side=+1", "side", PAWL_HOLD_HOLD, PAWL_HOLD_HOLD }, { "all=+2", "gauge", PAWL_HOLD_NONE, PAWL_HOLD_WITNESS },
    { "side=review", "side", PAWL_HOLD_WITNESS, PAWL_HOLD_WITNESS }, { "side=+1 side=hold", "side", PAWL_HOLD_NONE, PAWL_HOLD_HOLD },
    { "nonsense", "side", PAWL_HOLD_REVIEW, PAWL_HOLD_REVIEW }, { NULL, "side", PAWL_HOLD_NONE, PAWL_HOLD_NONE },
  };
  static const struct { PawlTighten what; const char *text; gboolean is_good; } texts[] = {
    { PAWL_TIGHTEN_ORDER, "fixed", TRUE }, { PAWL_TIGHTEN_ORDER, "yes", FALSE }, { PAWL_TIGHTEN_ORDER, "-", TRUE },
    { PAWL_TIGHTEN_ASK_FIRST, "sense side", TRUE }, { PAWL_TIGHTEN_ASK_FIRST, "sense  side", FALSE }, { PAWL_TIGHTEN_BLIND, "", FALSE },
    { PAWL_TIGHTEN_HOLDS, "sense=hold side=+1", TRUE }, { PAWL_TIGHTEN_HOLDS, "sense", FALSE }, { PAWL_TIGHTEN_HOLDS, "sense=+4", FALSE },
    { PAWL_TIGHTEN_HOLDS, "=hold", FALSE }, { PAWL_TIGHTEN_HOLDS, "sense=stop", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (lists); i++)
    g_assert_cmpint (pawl_tighten_lists (lists[i].list, lists[i].skill), ==, lists[i].is_in);
  for (guint i = 0; i < G_N_ELEMENTS (levels); i++)
    g_assert_cmpint (pawl_tighten_raise (levels[i].holds, levels[i].skill, levels[i].own), ==, levels[i].level);
  for (guint i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr(GError) error = NULL;

      g_assert_cmpint (pawl_tighten_check (texts[i].what, texts[i].text, &error), ==, texts[i].is_good);
      g_assert_cmpint (error == NULL, ==, texts[i].is_good);
    }
}

/* ---- seals ---- */

/* The digest is that of "k3f79qmdx2hw\nneedle the wrong way up", by sha256sum of coreutils. */
#define DIGEST "6440fb14667c8aa069246dffd4fa889148746c581f589ab841f8026e5a06d5cc"

static void
test_seal_text (void)
{
  const guint8 random[PAWL_SEAL_N_LETTERS] = { 0, 31, 32, 63, 10, 11, 12, 13, 14, 15, 16, 17 };
  g_autofree char *code = pawl_seal_make_code (random);
  g_autofree char *digest = pawl_seal_dup_digest ("k3f7-9qmd-x2hw", "Needle the wrong way up");
  static const struct { const char *code, *text; gboolean is_same; } cases[] = {
    { "K3F79QMD X2HW", "  needle the  wrong way up ", TRUE }, { "k3f7-9qmd-x2hv", "needle the wrong way up", FALSE },
    { "k3f7-9qmd-x2hw", "needle the right way up", FALSE }, { "k3f7-9qmd-x2hw", "", FALSE }, { "", "needle the wrong way up", FALSE },
    { "k3f7-9qmd-x2h", "wneedle the wrong way up", FALSE },
  };

  g_assert_cmpstr (code, ==, "0z0z-abcd-efgh");
  g_assert_cmpstr (digest, ==, DIGEST);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *other = pawl_seal_dup_digest (cases[i].code, cases[i].text);

      g_assert_cmpint (g_str_equal (digest, other), ==, cases[i].is_same);
    }
}

static PawlEntry *
make_opening (Fixture *fixture, const char *sealed, const char *code, const char *text, const char *found)
{
  PawlEntry *entry = make (fixture, PAWL_ENTRY_UNSEALED, sealed, "Ossie");

  pawl_entry_set (entry, "by-pin", "yes");
  pawl_entry_set (entry, "code", code);
  pawl_entry_set (entry, "text", text);
  pawl_entry_set (entry, "found", found);
  pawl_entry_set (entry, "learner", "Ann");
  return entry;
}

/* Sealings get their ids from the record, so what opens them is tried by the command's tests; here what plants them. */
static void
test_sealed (Fixture *fixture, gconstpointer data)
{
  g_autofree char *digest = pawl_seal_dup_digest ("code", "text");
  g_autoptr(PawlJob) job = NULL;

  g_assert_cmpint (enter (fixture, PAWL_ENTRY_SEALED, "set-height", "Ann", "digest", digest), ==, PAWL_JOB_ERROR_HELD);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_SEALED, "nowhere", "Ossie", "digest", digest), ==, PAWL_JOB_ERROR_UNKNOWN);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_SEALED, "off", "Ossie", "digest", digest), ==, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_SEALED, "set-height", "Ossie", "digest", "text"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (try (fixture, make_opening (fixture, "none", "code", "text", "yes")), ==, PAWL_JOB_ERROR_UNKNOWN);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_SEALED, "set-height", "Ossie", "digest", digest), ==, -1);
  job = fold (fixture);
  g_assert_nonnull (pawl_job_peek_sealed (job));
  g_assert_null (pawl_job_peek_undoable (job)); /* a learner can't press it away */
}

/* ---- levels and order ---- */

static PawlHold
get_level (Fixture *fixture, const char *step)
{
  g_autoptr(PawlJob) job = fold (fixture);

  return pawl_job_lookup_step (job, step)->hold;
}

static void
test_levels (Fixture *fixture, gconstpointer data)
{
  PawlEntry *unproved = make (fixture, PAWL_ENTRY_TIGHTENED, "float-in", "Ossie");

  pawl_entry_set (unproved, "level", "hold");
  g_assert_cmpint (try (fixture, unproved), ==, PAWL_JOB_ERROR_HELD);
  g_assert_cmpint (get_level (fixture, "float-in"), ==, PAWL_HOLD_NONE);
  tighten_opening (fixture, "holds", "sense=hold gauge=+1");
  g_assert_cmpint (get_level (fixture, "off"), ==, PAWL_HOLD_NONE);
  g_assert_cmpint (get_level (fixture, "float-in"), ==, PAWL_HOLD_HOLD);
  g_assert_cmpint (get_level (fixture, "set-height"), ==, PAWL_HOLD_HOLD);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_TIGHTENED, "float-in", "Ossie", "level", "none"), ==, PAWL_JOB_ERROR_NEEDS_REASON);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_TIGHTENED, "float-in", "Ossie", "level", "stop"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_TIGHTENED, "", "Ossie", "holds", "sense=review"), ==, -1);
  g_assert_cmpint (get_level (fixture, "float-in"), ==, PAWL_HOLD_REVIEW);
  g_assert_cmpint (get_level (fixture, "set-height"), ==, PAWL_HOLD_WITNESS);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_TIGHTENED, "off", "Ossie", "level", "hold"), ==, -1);
  g_assert_cmpint (get_level (fixture, "off"), ==, PAWL_HOLD_HOLD);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_TIGHTENED, "", "Ossie", "holds", "-"), ==, -1);
  g_assert_cmpint (get_level (fixture, "float-in"), ==, PAWL_HOLD_NONE);
}

/* A raised hold stops what follows as the procedure's own does, and is asked for once. */
static void
test_raised_hold (Fixture *fixture, gconstpointer data)
{
  tighten_opening (fixture, "holds", "sense=hold");
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_HOLD_CALLED, "off", "Ann", "note", "please"), ==, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "mark", "Ann", "answer", "dot"), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_STEP_DONE, "off", "Ann", "x", NULL), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "float-way", "Ann", "answer", "right"), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_STEP_DONE, "float-in", "Ann", "x", NULL), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "height", "Ann", "answer", "10.0"), ==, PAWL_JOB_ERROR_HELD);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_HOLD_CALLED, "float-in", "Ann", "note", "please"), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_HOLD_CALLED, "float-in", "Ann", "note", "please"), ==, PAWL_JOB_ERROR_NOT_OPEN);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_RELEASED, "float-in", "ann ", "role", "x"), ==, PAWL_JOB_ERROR_HELD);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_DEVIATED, "float-in", "ann ", "reason", "in a hurry"), ==, PAWL_JOB_ERROR_HELD); /* nor is it waived */
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_RELEASED, "float-in", "Ossie", "role", "x"), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "height", "Ann", "answer", "10.0"), ==, -1);
}

static void
test_order (Fixture *fixture, gconstpointer data)
{
  static const struct { const char *order; const char *lifted_by; int code; } cases[] = {
    { NULL, NULL, -1 }, { "fixed", NULL, PAWL_JOB_ERROR_BLOCKED }, { "fixed", "Ann", PAWL_JOB_ERROR_BLOCKED }, { "fixed", "Ossie", -1 },
    { "advice", NULL, -1 },
  };
  guint n;

  g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "mark", "Ann", "answer", "dot"), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_STEP_DONE, "off", "Ann", "x", NULL), ==, -1);
  n = fixture->entries->len;
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      PawlEntry *typed = make (fixture, PAWL_ENTRY_ANSWERED, "half", "Ann");

      pawl_entry_set (typed, "answer", "5.1");
      pawl_entry_set (typed, "typed-over", "yes");
      pawl_entry_set (typed, "remark", "by hand");
      tighten_opening (fixture, "order", cases[i].order);
      if (cases[i].lifted_by != NULL)
        g_assert_cmpint (enter (fixture, PAWL_ENTRY_DEVIATED, "note-it", cases[i].lifted_by, "reason", "a free hour"), ==, -1);
      g_assert_cmpint (try (fixture, typed), ==, cases[i].code);
      g_ptr_array_set_size (fixture->entries, (int) n);
    }
}

/* ---- readings by two ---- */

static void
go_to_height (Fixture *fixture)
{
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "mark", "Ann", "answer", "dot"), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_STEP_DONE, "off", "Ann", "x", NULL), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "float-way", "Ann", "answer", "right"), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_STEP_DONE, "float-in", "Ann", "x", NULL), ==, -1);
}

static void
check_hidden (Fixture *fixture, gboolean is_hidden)
{
  g_autoptr(PawlJob) job = fold (fixture);
  const PawlAskState *height = pawl_job_lookup_ask (job, "height"), *half = pawl_job_lookup_ask (job, "half");

  g_assert_cmpint (height->is_hidden, ==, is_hidden);
  g_assert_cmpint (pawl_job_has_hidden (job), ==, is_hidden);
  for (guint i = 0; i < height->attempts->len; i++)
    g_assert_cmpint (((PawlAttempt *) height->attempts->pdata[i])->quantity == NULL, ==, is_hidden);
  for (guint i = 0; i < height->again->attempts->len; i++)
    g_assert_cmpint (((PawlAttempt *) height->again->attempts->pdata[i])->quantity == NULL, ==, is_hidden);
  for (guint i = 0; i < half->attempts->len; i++) /* what is worked out would tell it */
    g_assert_cmpint (((PawlAttempt *) half->attempts->pdata[i])->quantity == NULL, ==, is_hidden);
}

/* Learner 10.00 and 10.10, trainer 10.04 and 10.02: means 10.05 and 10.03. */
static void
test_blind (Fixture *fixture, gconstpointer data)
{
  PawlPairDifference difference;
  g_autofree char *words = NULL;
  g_autoptr(PawlJob) job = NULL;

  tighten_opening (fixture, "blind", "gauge");
  go_to_height (fixture);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_REMEASURED, "height", "Ossie", "answer", "10.04"), ==, -1); /* whoever comes first */
  check_hidden (fixture, TRUE);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "height", "Ann", "answer", "10.00"), ==, -1);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "height", "Ann", "answer", "10.10"), ==, -1);
  check_hidden (fixture, TRUE);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_REMEASURED, "height", "Ann", "answer", "10.02"), ==, PAWL_JOB_ERROR_HELD);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_REMEASURED, "half", "Ossie", "answer", "5.02"), ==, PAWL_JOB_ERROR_UNKNOWN);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_REMEASURED, "height", "Ossie", "answer", "high"), ==, PAWL_JOB_ERROR_BAD_ANSWER);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_REMEASURED, "height", "Ossie", "answer", "10.02"), ==, -1);
  check_hidden (fixture, FALSE);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_REMEASURED, "height", "Ossie", "answer", "10.02"), ==, PAWL_JOB_ERROR_NOT_OPEN);

  job = fold (fixture);
  g_assert_true (pawl_ask_compare_pair (pawl_job_lookup_ask (job, "height"), &difference));
  g_assert_cmpfloat_with_epsilon (difference.difference / pawl_unit_get_scale (difference.unit), -0.02, 1e-9);
  g_assert_cmpfloat (difference.expanded, >, 0);
  g_assert_false (difference.is_beyond);
  g_assert_cmpint (pawl_job_lookup_ask (job, "height")->status, ==, PAWL_ASK_ACCEPTED);
  words = pawl_pair_describe (&difference);
  g_assert_nonnull (strstr (words, "-0.02 mm, within its U"));
}

/* The other's reading judges nothing, and says when the two are too far apart. */
static void
test_beyond (Fixture *fixture, gconstpointer data)
{
  PawlPairDifference difference;
  g_autoptr(PawlJob) job = NULL;

  go_to_height (fixture);
  for (guint i = 0; i < 2; i++)
    g_assert_cmpint (enter (fixture, PAWL_ENTRY_ANSWERED, "height", "Ann", "answer", "10.0"), ==, -1);
  check_hidden (fixture, FALSE);
  for (guint i = 0; i < 2; i++)
    g_assert_cmpint (enter (fixture, PAWL_ENTRY_REMEASURED, "height", "Ossie", "answer", "10.9"), ==, -1);
  job = fold (fixture);
  g_assert_true (pawl_ask_compare_pair (pawl_job_lookup_ask (job, "height"), &difference));
  g_assert_true (difference.is_beyond);
  g_assert_cmpint (pawl_job_lookup_ask (job, "height")->status, ==, PAWL_ASK_ACCEPTED);
  g_assert_cmpuint (pawl_job_lookup_ask (job, "height")->n_out, ==, 0);
}

/* ---- asked first, for some skills only ---- */

static void
test_ask_first (Fixture *fixture, gconstpointer data)
{
  static const struct { const char *list; gboolean asks; } cases[] = { { NULL, FALSE }, { "yes", TRUE }, { "sense", TRUE }, { "side mate", FALSE } };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlJob) job = NULL;

      tighten_opening (fixture, "ask-first", cases[i].list);
      job = fold (fixture);
      g_assert_cmpint (pawl_job_asks_first (job, pawl_job_lookup_ask (job, "float-way")), ==, cases[i].asks);
    }
}

static void
test_signing (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_SIGNED, "", "Ann", "role", "fitter"), ==, PAWL_JOB_ERROR_HELD);
  g_assert_cmpint (enter (fixture, PAWL_ENTRY_SIGNED, "", "Ossie", "role", "trainer"), ==, PAWL_JOB_ERROR_UNANSWERED);
}

int
main (int argc, char **argv)
{
  const struct { const char *path; void (*test) (Fixture *, gconstpointer); } tests[] = {
    { "/job/training/sealed", test_sealed }, { "/job/training/levels", test_levels }, { "/job/training/raised-hold", test_raised_hold },
    { "/job/training/order", test_order }, { "/job/training/blind", test_blind }, { "/job/training/beyond", test_beyond },
    { "/job/training/ask-first", test_ask_first }, { "/job/training/signing", test_signing },
  };

  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/job/training/lists", test_lists);
  g_test_add_func ("/job/training/seal-text", test_seal_text);
  for (guint i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
