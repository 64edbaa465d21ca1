/* The word gate: what each kind of evidence wants, how a missing entry costs a word, and clauses that are refused. */
#include "procedure/pawl-reader.h"
#include "report/pawl-word-gate.h"

#include <string.h>

/* ---- a job by hand: one line an entry, "KIND SUBJECT FIELD=VALUE FIELD=VALUE" ---- */

/* Everything done, everything right, signed. What a row of a table drops or changes is found by its beginning. */
static const char * const whole_job[] = {
  "opened - serial=4711 variant=rh identified-by=tag",
  "answered condition answer=wet",
  "answered depth-found answer=5.25",
  "step-done look",
  "disposed rotor choice=reuse reason=sound",
  "step-done strip",
  "wait-started bath",
  "wait-ended bath",
  "step-done soak",
  "answered rotor-either answer=right",
  "answered spins answer=free",
  "answered end-float answer=0.05",
  "step-done rotor-in",
  "answered lip answer=right",
  "answered depth answer=4.05",
  "step-done seal-in",
  "released seal-in role=trainer",
  "answered leak answer=1.5",
  "step-done close",
  "signed - role=fitter statement=done",
};

static PawlEntry *
make_entry (const char *line, GDateTime *at)
{
  g_auto (GStrv) words = g_strsplit (line, " ", -1);
  PawlEntryKind kind;
  PawlEntry *entry;

  g_assert_true (pawl_entry_kind_from_name (words[0], &kind));
  entry = pawl_entry_new (kind, g_str_equal (words[1], "-") ? "" : words[1], "Jenna Tregear", at);
  for (guint i = 2; words[i]; i++)
    {
      g_auto (GStrv) pair = g_strsplit (words[i], "=", 2);

      pawl_entry_set (entry, pair[0], pair[1]);
    }
  return entry;
}

/* The whole job without the lines that begin with @dropped, with @changed in the place of the last of them, each (nullable). Twenty minutes an entry. */
static PawlJob *
fold (const char *dropped, const char *changed)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "report", "pump.xml", NULL);
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlProcedure) procedure = pawl_procedure_load (path, NULL, &error);
  g_autoptr (GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr (GDateTime) begin = g_date_time_new_utc (2026, 11, 25, 9, 0, 0), now = g_date_time_add_hours (begin, 12);
  guint n_dropped = 0;

  g_assert_no_error (error);
  for (guint i = 0; i < G_N_ELEMENTS (whole_job); i++)
    {
      g_autoptr (GDateTime) at = g_date_time_add_minutes (begin, 20 * (int) i);
      gboolean is_dropped = dropped && g_str_has_prefix (whole_job[i], dropped);

      n_dropped += is_dropped;
      if (!is_dropped)
        g_ptr_array_add (entries, make_entry (whole_job[i], at));
      else if (changed)
        g_ptr_array_add (entries, make_entry (changed, at));
    }
  if (dropped)
    g_assert_cmpuint (n_dropped, ==, 1);
  return pawl_job_fold (procedure, entries, now);
}

static PawlClauses *
parse (const char *words)
{
  g_autofree char *text = g_strdup_printf ("<clauses xmlns='urn:pawl:clauses:1' name='test' source='common practice, no source'>%s</clauses>", words);
  g_autoptr (GError) error = NULL;
  PawlClauses *clauses = pawl_clauses_parse (text, -1, "test.xml", &error);

  g_assert_no_error (error);
  return clauses;
}

/* ---- one kind of evidence at a time ---- */

typedef struct {
  const char *evidence; /* attributes of <evidence> */
  const char *dropped, *changed;
  const char *lack; /* (nullable): what is said; NULL: it is shown */
} EvidenceRow;

static const EvidenceRow evidence_rows[] = {
  { "kind='steps-done'", NULL, NULL, NULL },
  { "kind='steps-done' of='work'", NULL, NULL, NULL },
  { "kind='steps-done'", "step-done close", NULL, "step 7, “Tie on the care card”, is not done" },
  { "kind='steps-done' of='work'", "step-done close", "deviated close what=skipped reason=none", "step 7, “Tie on the care card”, was left out" },
  { "kind='steps-done' of='clean'", NULL, NULL, "the procedure has no phase “clean”" },
  { "kind='waits-kept'", NULL, NULL, NULL },
  { "kind='waits-kept'", "wait-ended bath", NULL, "Soak (step 3): still running" },
  { "kind='waits-kept'", "wait-started bath", NULL, "Soak (step 3): not answered" },
  { "kind='waits-kept' of='work'", "wait-started bath", NULL, "Soak (step 3): not answered" },
  { "kind='waits-kept' of='end'", "wait-started bath", NULL, NULL }, /* it is of another phase */
  { "kind='readings-taken'", NULL, NULL, NULL },
  { "kind='readings-taken'", "answered leak", NULL, "Leak in one minute (step 7): not measured" },
  { "kind='readings-taken'", "answered leak", "answered leak answer=9", NULL },
  { "kind='readings-in'", NULL, NULL, NULL }, /* out as found, in as left */
  { "kind='readings-in'", "answered leak", "answered leak answer=9", "Leak in one minute (step 7): out of limits as left" },
  { "kind='readings-in'", "answered leak", "answered leak answer=2", NULL }, /* a limit met exactly is inside */
  { "kind='checks-right'", NULL, NULL, NULL },
  { "kind='checks-right' of='free'", "answered spins", "answered spins answer=drags", "Rotor free (step 4): not right" },
  { "kind='checks-right' of='leak'", NULL, NULL, "the procedure has no check of the kind “leak”" },
  { "kind='fits-right'", NULL, NULL, NULL },
  { "kind='fits-right'", "answered lip", "answered lip answer=wrong", "Lip seal (step 5): not right" },
  { "kind='decided'", NULL, NULL, NULL },
  { "kind='decided'", "disposed rotor", NULL, "Rotor (step 2): not answered" },
  { "kind='dismantled'", NULL, NULL, NULL },
  { "kind='dismantled'", "step-done strip", NULL, "item 2, Lip seal, was not taken off" },
  { "kind='complete'", NULL, NULL, NULL },
  { "kind='complete'", "step-done seal-in", NULL, "item 2, Lip seal, is not fitted" },
  { "kind='one-way-renewed'", NULL, NULL, NULL },
  { "kind='one-way-renewed'", "step-done seal-in", NULL, "item 2, Lip seal, is not renewed" },
  { "kind='something-mended'", NULL, NULL, NULL },
  { "kind='holds-released'", NULL, NULL, NULL },
  { "kind='holds-released'", "released", NULL, "the hold at step 5, “Push the seal home”, is not released" },
  { "kind='no-deviation'", NULL, NULL, NULL },
  { "kind='no-deviation'", "answered leak", "deviated leak what=no-gauge reason=none", "a deviation: no-gauge" },
  { "kind='said' of='identified-by condition'", NULL, NULL, NULL },
  { "kind='said' of='condition'", "answered condition", NULL, "nothing is written down under “condition”" },
  { "kind='said' of='authority'", NULL, NULL, "nothing is written down under “authority”" },
  { "kind='signed'", NULL, NULL, NULL },
  { "kind='signed'", "signed", NULL, "nobody signed" },
};

static void
test_evidence (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (evidence_rows); i++)
    {
      const EvidenceRow *row = &evidence_rows[i];
      g_autofree char *text = g_strdup_printf ("<word id='w' title='W'><clause id='c' says='s'><evidence %s/></clause></word>", row->evidence);
      g_autoptr (PawlClauses) clauses = parse (text);
      g_autoptr (PawlJob) job = fold (row->dropped, row->changed);
      g_autoptr (PawlWordGate) gate = pawl_word_gate_judge (clauses, job);
      const PawlWordFinding *word = g_ptr_array_index (gate->words, 0);
      g_autofree char *lacks = pawl_clause_finding_describe (g_ptr_array_index (word->findings, 0), 1);

      g_test_message ("%s without %s", row->evidence, row->dropped ? row->dropped : "anything missing");
      if (row->lack)
        g_assert_true (g_str_has_prefix (lacks, row->lack));
      else
        g_assert_cmpstr (lacks, ==, "");
      g_assert_true ((gate->earned != NULL) == (row->lack == NULL));
    }
}

/* ---- an entry missing costs the word, and the next lower one is the title ---- */

static const char *const three_words =
  "<word id='looked' title='Looked at'><clause id='a' says='Signed.'><evidence kind='signed'/></clause></word>"
  "<word id='tight' title='Tight' with='looked'><clause id='b' says='Tight.'><evidence kind='readings-in'/></clause></word>"
  "<word id='whole' title='Whole' with='tight'><clause id='c' says='All done.'><evidence kind='steps-done'/></clause>"
  "<clause id='d' says='Held.'><evidence kind='holds-released'/></clause></word>";

static const struct { const char *dropped, *title; guint n_lacking; const char *lack; } title_rows[] = {
  { NULL, "Whole", 0, NULL },
  { "step-done close", "Tight", 1, "All done." },
  { "released", "Tight", 1, "Held." },
  { "answered leak", "Looked at", 1, "Tight." },
  { "signed", "Record of work", 1, "Signed." },
  { "step-done seal-in", "Tight", 2, "All done." }, /* with the step its release is worth nothing */
};

static void
test_titles (void)
{
  g_autoptr (PawlClauses) clauses = parse (three_words);

  for (guint i = 0; i < G_N_ELEMENTS (title_rows); i++)
    {
      g_autoptr (PawlJob) job = fold (title_rows[i].dropped, NULL);
      g_autoptr (PawlWordGate) gate = pawl_word_gate_judge (clauses, job);
      const PawlWordFinding *highest = pawl_word_gate_peek_highest (gate);
      g_autofree char *title = pawl_word_gate_dup_title (gate);
      gboolean is_said = FALSE;

      g_test_message ("without %s", title_rows[i].dropped);
      g_assert_cmpstr (title, ==, title_rows[i].title);
      g_assert_true ((highest != NULL) == (title_rows[i].n_lacking > 0));
      if (!highest)
        continue;
      g_assert_cmpuint (highest->findings->len, ==, 4); /* with those of the words below, each once */
      for (guint j = 0; j < highest->findings->len; j++)
        {
          const PawlClauseFinding *finding = g_ptr_array_index (highest->findings, j);

          is_said |= g_str_equal (finding->clause->says, title_rows[i].lack) && finding->lacks->len > 0;
        }
      g_assert_true (is_said);
    }
}

/* Those that come with the program can be read, and know the five words in their order. */
static void
test_default (void)
{
  static const char * const ids[] = { "inspected", "cleaned", "repaired", "resealed", "rebuilt" };
  g_autoptr (PawlClauses) clauses = pawl_clauses_load_default ();

  g_assert_cmpuint (clauses->words->len, ==, G_N_ELEMENTS (ids));
  for (guint i = 0; i < G_N_ELEMENTS (ids); i++)
    g_assert_cmpstr (((PawlClauseWord *) g_ptr_array_index (clauses->words, i))->id, ==, ids[i]);
}

/* ---- refusals ---- */

#define ROOT "<clauses xmlns='urn:pawl:clauses:1' name='n' source='s'>\n"
#define CLAUSE "<clause id='c' says='s'><evidence kind='signed'/></clause>"

static const struct { const char *text; int code; const char *message; } bad_rows[] = {
  { "", PAWL_CLAUSES_ERROR_NOT_XML, "bad.xml:1: not well-formed XML" },
  { ROOT "<word id='w' title='W'>", PAWL_CLAUSES_ERROR_NOT_XML, "bad.xml:2: not well-formed XML" },
  { "<procedure/>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:1: the file begins with <procedure>" },
  { "<clauses xmlns='urn:other' name='n' source='s'/>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:1: these are no clauses" },
  { "<clauses xmlns='urn:pawl:clauses:1' name='n'/>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:1: <clauses> needs source" },
  { ROOT "</clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: there is no <word>" },
  { ROOT "<word id='w' title='W'/></clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: the word “w” has no <clause>" },
  { ROOT "<word id='w' title=' '>" CLAUSE "</word></clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: <word> needs title" },
  { ROOT "<word id='w' title='W' rank='1'>" CLAUSE "</word></clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: <word> has no “rank”" },
  { ROOT "<word id='w' title='W' with='v'>" CLAUSE "</word></clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: “w” stands with “v”, which is no word above it" },
  { ROOT "<word id='w' title='W' with='w'>" CLAUSE "</word></clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: “w” stands with “w”, which is no word above it" },
  { ROOT "<word id='w' title='W'><clause id='c' says='s'/></word></clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: the clause “c” names no <evidence>" },
  { ROOT "<word id='c' title='W'>" CLAUSE "</word></clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: “c” is there twice" },
  { ROOT "<word id='w' title='W'><clause id='c' says='s'>\n<evidence kind='luck'/></clause></word></clauses>", PAWL_CLAUSES_ERROR_BAD,
    "bad.xml:3: there is no evidence “luck”; it is steps-done" },
  { ROOT "<word id='w' title='W'><clause id='c' says='s'><evidence kind='signed' of='me'/></clause></word></clauses>", PAWL_CLAUSES_ERROR_BAD,
    "bad.xml:2: “signed” takes no of" },
  { ROOT "<word id='w' title='W'><clause id='c' says='s'><evidence kind='said'/></clause></word></clauses>", PAWL_CLAUSES_ERROR_BAD,
    "bad.xml:2: “said” needs of" },
  { ROOT "<word id='w' title='W'><clause id='c' says='s'><evidence kind='checks-right' of='smell'/></clause></word></clauses>", PAWL_CLAUSES_ERROR_BAD,
    "bad.xml:2: there is no kind of check “smell”" },
  { ROOT "<word id='w' title='W'>words" CLAUSE "</word></clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: text between the elements" },
  { ROOT "<clause id='c' says='s'/></clauses>", PAWL_CLAUSES_ERROR_BAD, "bad.xml:2: <clause> does not belong in <clauses>" },
};

static void
test_refusals (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (bad_rows); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (PawlClauses) clauses = pawl_clauses_parse (bad_rows[i].text, -1, "bad.xml", &error);

      g_test_message ("%s", bad_rows[i].text);
      g_assert_null (clauses);
      g_assert_error (error, PAWL_CLAUSES_ERROR, bad_rows[i].code);
      g_assert_true (g_str_has_prefix (error->message, bad_rows[i].message));
    }
}

/* Words that stand with all words before them would be followed along every chain. */
static void
test_too_many_words (void)
{
  g_autoptr (GString) text = g_string_new (ROOT);
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < 13; i++)
    g_string_append_printf (text, "<word id='w%u' title='W'><clause id='c%u' says='s'><evidence kind='signed'/></clause></word>\n", i, i);
  g_string_append (text, "</clauses>");
  g_assert_null (pawl_clauses_parse (text->str, -1, "many.xml", &error));
  g_assert_error (error, PAWL_CLAUSES_ERROR, PAWL_CLAUSES_ERROR_BAD);
  g_assert_true (g_str_has_prefix (error->message, "many.xml:14: more than 12 words"));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/word-gate/evidence", test_evidence);
  g_test_add_func ("/word-gate/titles", test_titles);
  g_test_add_func ("/word-gate/default", test_default);
  g_test_add_func ("/word-gate/refusals", test_refusals);
  g_test_add_func ("/word-gate/too-many-words", test_too_many_words);
  return g_test_run ();
}
