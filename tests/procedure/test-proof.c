/* The proof-reader: good files have no finding; each file of tests/data/bad has exactly the one that its second line expects. */
#include <stdlib.h>
#include <string.h>

#include "regions.h"
#include "snippet.h"

/* <!-- expect: CODE LINE [FILE] -->, FILE when the finding is about another one than the procedure. */
typedef struct {
  char *code;
  int   line;
  char *file; /* (nullable) */
} Expected;

static void
read_expected (const char *path, Expected *expected)
{
  g_autofree char *contents = NULL;
  g_auto(GStrv) words = NULL;
  const char *start;
  g_autofree char *comment = NULL;

  g_assert_true (g_file_get_contents (path, &contents, NULL, NULL));
  start = strstr (contents, "<!-- expect: ");
  g_assert_nonnull (start);
  start += strlen ("<!-- expect: ");
  comment = g_strndup (start, strstr (start, " -->") - start);
  words = g_strsplit (comment, " ", -1);
  g_assert_cmpuint (g_strv_length (words), >=, 2);
  expected->code = g_strdup (words[0]);
  expected->line = atoi (words[1]);
  expected->file = g_strdup (words[2]);
}

static void
expected_clear (Expected *self)
{
  g_free (self->code);
  g_free (self->file);
}

/* With the regions of its own figure, when it can be loaded so far. */
static GPtrArray *
check (const char *path)
{
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load (path, NULL, NULL);
  Regions regions;
  GPtrArray *findings;

  if (procedure == NULL || *pawl_procedure_get_figure (procedure) == '\0')
    return pawl_procedure_check_file (path, NULL, NULL);
  regions_init (&regions, pawl_procedure_dup_figure_path (procedure, NULL));
  findings = pawl_procedure_check_file (path, &regions.list, NULL);
  regions_clear (&regions);
  return findings;
}

static void
print_findings (const char *path, GPtrArray *findings)
{
  g_test_message ("%s:", path);
  for (guint i = 0; i < findings->len; i++)
    {
      g_autofree char *text = pawl_finding_format (g_ptr_array_index (findings, i));

      g_test_message ("  %s", text);
    }
}

static void
test_good (gconstpointer user_data)
{
  const char *path = user_data;
  g_autoptr(GPtrArray) findings = check (path);

  print_findings (path, findings);
  g_assert_cmpuint (findings->len, ==, 0);
}

static gboolean
is_advice (const char *code)
{
  return g_strv_contains ((const char * const []) { "command-tells", "covers-suggested", "hold-suggested", "verified-not", NULL }, code);
}

static void
test_bad (gconstpointer user_data)
{
  const char *path = user_data;
  g_autoptr(GPtrArray) findings = check (path);
  Expected expected;
  const PawlFinding *finding;
  g_autofree char *name = NULL;

  read_expected (path, &expected);
  print_findings (path, findings);
  g_assert_cmpuint (findings->len, ==, 1);
  finding = g_ptr_array_index (findings, 0);
  g_assert_cmpstr (finding->code, ==, expected.code);
  g_assert_cmpint (finding->line, ==, expected.line);
  name = g_path_get_basename (finding->file);
  if (expected.file != NULL)
    g_assert_cmpstr (name, ==, expected.file);
  else
    g_assert_cmpstr (finding->file, ==, path);
  g_assert_cmpint (finding->severity == PAWL_SEVERITY_ADVICE, ==, is_advice (finding->code));
  /* What is wrong, then what would be right. */
  g_assert_true (strpbrk (finding->message, ";:?") != NULL);
  expected_clear (&expected);
}

/* ---- both sides of a finding ---- */

#define LOOK "<step id='look'><do>Look.</do><note id='n' name='N'>N?</note></step>"

/* Codes in order of line. The parts of the frame that no step touches are reported each time; those are left out. */
static const struct { const char *steps; const char *codes; } snippets[] = {
  /* A cover before what it hides; taken off again in between; for another variant; the asking step standing on it. */
  { "<step id='shut' install='d' covers='n'><do>Shut.</do></step>" LOOK, "check-hidden" },
  { "<step id='shut' install='d' covers='n'><do>Shut.</do></step><step id='open' remove='d'><do>Open.</do></step>" LOOK
    "<step id='shut-again' install='d'><do>Shut.</do></step>", "" },
  { "<step id='shut' variant='rh' covers='n'><do>Shut.</do></step><step id='look' variant='lh'><do>Look.</do><note id='n' name='N'>N?</note></step>", "" },
  { "<step id='look' needs='shut'><do>Look.</do><note id='n' name='N'>N?</note></step><step id='shut' covers='n'><do>Shut.</do></step>", "check-hidden" },
  { LOOK "<step id='shut' needs='look' covers='n'><do>Shut.</do></step>", "" },
  /* What a step covers of its own is asked in time. */
  { "<step id='look' covers='n'><do>Look.</do><note id='n' name='N'>N?</note></step>", "" },
  /* One cycle, told once; one through parts. */
  { "<step id='x' needs='y'><do>X.</do></step>\n<step id='y' needs='x'><do>Y.</do></step>", "cycle" },
  { "<step id='x' remove='a' needs='y'><do>X.</do></step>\n<step id='y' install='a'><do>Y.</do></step>", "cycle" },
  /* A kit part may be tried on first; another part may not. */
  { "<step id='x' install='d'><do>X.</do></step><step id='y' remove='d'><do>Y.</do></step><step id='z' install='d'><do>Z.</do></step>", "" },
  { "<step id='x' install='a'><do>X.</do></step><step id='y' remove='a'><do>Y.</do></step>", "install-before-remove" },
  /* Two sources may disagree; inch and metric of one source may not, past their rounding. */
  { "<step id='x'><do>X.</do><reading id='r' name='R' limits='1..2 mm' source='A' other-limits='1..3 mm' other-source='B'><says>S</says></reading></step>", "" },
  { "<step id='x'><do>X.</do><reading id='r' name='R' limits='1 in ± 1/64 in' source='A' other-limits='25.4 ± 0.4 mm' other-source='A'><says>S</says></reading></step>", "" },
  { "<step id='x'><do>X.</do><reading id='r' name='R' limits='1 in ± 1/64 in' source='A' other-limits='25.4 ± 1.0 mm' other-source='A'><says>S</says></reading></step>",
    "inch-metric-disagree" },
  { "<step id='x'><do>X.</do><reading id='r' name='R' limits='max 2 thou' source='A' other-limits='max 0.05 mm' other-source='A'><says>S</says></reading></step>", "" },
  { "<step id='x'><do>X.</do><reading id='r' name='R' limits='max 2 thou' source='A' other-limits='min 0.05 mm' other-source='A'><says>S</says></reading></step>",
    "inch-metric-disagree" },
  /* A tool whose uncertainty (2 × 0.01 mm/√3 = 0.0115 mm, GUM, rectangular) is 23 %, then 26 % of the tolerance to either side. */
  { "<step id='x'><do>X.</do><reading id='r' name='R' limits='1..1.10 mm' source='A' tool='gauge'><says>S</says></reading></step>", "" },
  { "<step id='x'><do>X.</do><reading id='r' name='R' limits='1..1.09 mm' source='A' tool='gauge'><says>S</says></reading></step>", "tool-too-coarse" },
  /* Of a spread it is √2 of that: 20 % of 0.08 mm, then 27 % of 0.06 mm. */
#define PAIR(limits) "<step id='x'><do>X.</do><reading id='r' name='R' limits='1..2 mm' source='A' tool='gauge'><says>S</says><spot id='a' name='A'/>" \
  "<spot id='b' name='B'/><judge of='spread' limits='" limits "'/></reading></step>"
  { PAIR ("max 0.08 mm"), "" },
  { PAIR ("max 0.06 mm"), "tool-too-coarse" },
  /* What follows from another reading comes after it; a table rises, of one kind; places, what is void, corrections. */
#define R(id, more, children) "<reading id='" id "' name='R' source='A' " more "><says>S</says>" children "</reading>"
#define BORE R ("bore", "limits='88.00..88.03 mm'", "")
#define STEP(id, asks) "<step id='" id "'><do>X.</do>" asks "</step>"
  { STEP ("x", BORE R ("play", "formula='bore - 87.95 mm' limits='max 0.1 mm'", "")), "" },
  { STEP ("x", R ("play", "formula='bore - 87.95 mm' limits='max 0.1 mm'", "")) STEP ("y", BORE), "follows-later" },
  { STEP ("x", R ("play", "formula='play + 1 mm' limits='max 0.1 mm'", "")), "follows-itself" },
  { STEP ("x", "<check id='mesh' kind='visual' name='C' outcomes='toe heel' accept='heel' source='x'><says>C?</says><picture of='heel' region='a'/></check>"), "" },
  { STEP ("x", "<check id='mesh' kind='visual' name='C' outcomes='toe heel' accept='heel' source='x'><says>C?</says><picture of='head' region='a'/></check>"),
    "picture-of-nothing" },
  /* Something may be divided by what may be zero, and a root taken of what may be negative. */
  { STEP ("x", BORE R ("div", "limits='-1..1 mm'", "") R ("r", "formula='bore / div * 1 mm' limits='max 5 mm'", "")), "follows-from-nothing" },
  { STEP ("x", BORE R ("div", "limits='1..2 mm'", "") R ("r", "formula='bore / div * 1 mm' limits='max 90 mm'", "")), "" },
  { STEP ("x", BORE R ("r", "formula='sqrt((bore - 88.01 mm) * 1 mm)' limits='max 5 mm'", "")), "follows-from-nothing" },
  { STEP ("x", BORE R ("div", "limits='0..1 mm'", "") R ("r", "formula='bore / div * 1 mm' limits='max 5 mm'", "")), "follows-from-nothing" },
  { STEP ("x", BORE R ("gap", "low='0.003 * bore' high='0.004 * bore' unit='mm'", "")), "" },
  { STEP ("x", R ("gap", "high='0.004 * bore' unit='mm'", "")) STEP ("y", BORE), "follows-later" },
  { STEP ("x", BORE R ("gap", "", "<table by='bore'><row at='80 mm' limits='0.2..0.3 mm'/><row at='90 mm' limits='0.3..0.4 mm'/></table>")), "" },
  { STEP ("x", BORE R ("gap", "", "<table by='bore'><row at='90 mm' limits='0.3..0.4 mm'/><row at='80 mm' limits='0.2..0.3 mm'/></table>")), "table-order" },
  { STEP ("x", BORE R ("gap", "", "<table by='bore'><row at='80 mm' limits='0.2..0.3 mm'/><row outcome='b' limits='0.3..0.4 mm'/></table>")), "table-mixed" },
  { STEP ("x", BORE R ("gap", "", "<table by='bore'><row at='80 mm' limits='0.2..0.3 mm'/><row at='90 mm' limits='3..4 deg'/></table>")), "table-mixed" },
  { STEP ("x", R ("gap", "", "<table by='bore'><row at='80 mm' limits='0.2..0.3 mm'/></table>")), "table-unknown" },
  { STEP ("x", R ("r", "limits='1..2 mm' of='spread'", "")), "judge-without-spots" },
  { STEP ("x", R ("r", "limits='1..2 mm'", "<spot id='a' name='A'/><spot id='b' name='B'/><judge of='spread' limits='max 0.1 mm'/>")), "" },
  { STEP ("x", R ("r", "limits='1..2 mm'", "<spot id='a' name='A'/><spot id='a' name='B'/>")), "spot-twice" },
  { STEP ("x", R ("r", "limits='1..2 mm'", "<spot id='a' name='A' at='1,2' part='a'/><spot id='b' name='B' at='1,2' part='z'/>")), "part-unknown" },
  { STEP ("x", R ("r", "limits='1..2 mm' repeats='2'", "<spot id='a' name='A'/><spot id='b' name='B'/>")), "spots-with-repeats" },
  { STEP ("x", BORE R ("r", "formula='bore' limits='1..2 mm' repeats='2'", "")), "derived-with-places" },
  { STEP ("x", R ("r", "limits='0.1..0.2 mm' valid='min 0.05 mm'", "<void>V</void>")), "" },
  { STEP ("x", R ("r", "limits='0.1..0.2 mm' valid='min 0.05 mm'", "")), "void-without-reason" },
  { STEP ("x", R ("r", "limits='0.1..0.2 mm' valid='min 0.15 mm'", "<void>V</void>")), "void-inside-limits" },
  { STEP ("x", R ("r", "limits='0.1..0.2 mm'", "<advice sum='turns'><let input='pitch' value='1 mm'/><let input='change' from='this'/></advice>")), "" },
  { STEP ("x", R ("r", "limits='0.1..0.2 mm'", "<advice sum='turn'><let input='pitch' value='1 mm'/></advice>")), "advice-unknown" },
  { STEP ("x", R ("r", "limits='0.1..0.2 mm'", "<advice sum='turns'><let input='change' from='this'/></advice>")), "advice-input-missing" },
  { STEP ("x", R ("r", "limits='0.1..0.2 mm'", "<advice sum='turns'><let input='pitch' value='1 mm'/><let input='chnge' from='this'/></advice>")), "advice-input-unknown" },
  { STEP ("x", R ("r", "limits='0.1..0.2 mm'", "<advice sum='turns'><let input='pitch' from='thread'/></advice>")), "advice-from-unknown" },
  /* What a material says is not wanted of the author. */
  { STEP ("x", BORE R ("r", "limits='0.01..0.03 mm'", "<advice sum='press'><let input='diameter' from='bore'/><let input='interference' from='this'/>"
          "<let input='outside' value='120 mm'/></advice>")), "" },
  /* Readings and checks are done once more; what is worked out follows by itself. */
#define LOOKED(more) "<check id='mark' kind='visual' name='C' outcomes='good bad' accept='good' " more ">C?</check>"
  { STEP ("x", R ("r", "limits='1..2 mm' reopens='mark'", "") LOOKED ("reopens='r'")), "" },
  { STEP ("x", LOOKED ("reopens='nowhere'")), "reopens-unknown" },
  { STEP ("x", BORE R ("play", "formula='bore - 87.95 mm' limits='max 0.1 mm'", "") LOOKED ("reopens='play'")), "reopens-derived" },
  /* A wait that ends when it begins to be long enough; an agent without a limit of its own. */
  { "<step id='x'><do>X.</do><wait id='w' name='W' min='1 h' max='60 min'>W</wait></step>", "" },
  { "<step id='x'><do>X.</do><wait id='w' name='W' min='1 h'>W</wait></step>", "" },
  /* Metering passages alone forbid the wire. */
  { "<step id='x'><do>X.</do><check id='k' kind='passage' name='K' with='soft wire'>Open?</check></step>", "" },
  { "<step id='x'><do>X.</do><check id='k' kind='passage' name='K' metering='yes' with='light'>Never a wire.</check></step>", "" },
  { "<step id='x'><do>X.</do><check id='k' kind='passage' name='K' metering='yes'>Pass a drill through.</check></step>", "wire-in-metering" },
  /* A decision about a part that is not spoilt, and one about nothing. */
  { "<step id='x'><do>X.</do><decide id='q' part='a' choices='reuse'>Q</decide></step>", "" },
  { "<step id='x'><do>X.</do><decide id='q' part='z' choices='reuse'>Q</decide></step>", "part-unknown" },
  /* The kit counted: what it brings is what the steps fit, and the spare. d is the kit's. */
#define FITS(more) "<step id='fit-it' install='d'><do>X.</do>" more "</step>"
#define LINE(id, more) "<check id='" id "' kind='kit' name='K' " more ">K?</check>"
  { STEP ("x", LINE ("k", "parts='d' quantity='1'")) FITS (""), "" },
  { STEP ("x", LINE ("k", "parts='d' quantity='3' spare='2'") LINE ("l", "quantity='1' use='no'")) FITS ("<check id='o' kind='left-over' name='O'>O?</check>"), "" },
  { STEP ("x", LINE ("k", "parts='d' quantity='2'")) FITS (""), "kit-count" },
  { STEP ("x", LINE ("k", "parts='d' quantity='1' spare='1'")) FITS (""), "kit-count" },
  { STEP ("x", LINE ("k", "parts='d'")) FITS (""), "kit-line-uncounted" },
  { STEP ("x", "<check id='k' kind='visual' name='K' quantity='1'>K?</check>"), "kit-line-uncounted" },
  { STEP ("x", LINE ("k", "parts='d' quantity='1'") LINE ("l", "parts='d' quantity='1'")) FITS (""), "kit-part-twice" },
  { STEP ("x", LINE ("k", "quantity='1' use='no'")) FITS (""), "kit-part-without-line" },
  { STEP ("x", LINE ("k", "parts='e' quantity='1' spare='1'")), "part-unknown" },
  { STEP ("x", "<check id='o' kind='left-over' name='O'>O?</check>"), "left-over-of-nothing" },
  /* A donor is proved in the step that fits it. */
  { "<step id='x' install='a'><do>X.</do>" R ("r", "limits='1..2 mm' donor='a'", "") "</step>", "" },
  { STEP ("x", R ("r", "limits='1..2 mm' donor='a'", "")), "donor-elsewhere" },
  { STEP ("x", R ("r", "limits='1..2 mm' donor='z'", "")), "part-unknown" },
  /* What is begun from was measured, or written down, before. */
  { STEP ("x", "<note id='n' name='N'>N</note>") STEP ("y", R ("r", "limits='1..2 mm' start='n'", "")), "" },
  { STEP ("x", R ("r", "limits='1..2 mm' start='n'", "")) STEP ("y", "<note id='n' name='N'>N</note>"), "start-too-late" },
  { STEP ("x", R ("r", "limits='1..2 mm' start='m'", "")), "start-unknown" },
  /* A fit by this job's own mark says where it was written down. */
#define MARKED(datum) "<fit id='f' kind='mate' if-wrong='blocked' as-found='yes'><says>S</says>" datum "<wrong>W</wrong><tell>T</tell><verify>V</verify><piece part='a'/><piece part='b'/></fit>"
  { STEP ("x", "<note id='n' name='N'>N</note>") STEP ("y", MARKED ("<datum note='n'>D</datum>")), "" },
  { STEP ("x", MARKED ("<datum>D</datum>")), "own-mark-without-note" },
  { STEP ("x", MARKED ("<datum note='n'>D</datum>")) STEP ("y", "<note id='n' name='N'>N</note>"), "noted-too-late" },
  { STEP ("x", MARKED ("<datum note='m'>D</datum>")), "datum-note-unknown" },
  /* Two parts with one outline, and nothing that tells them apart; a third of another; matched ones are told by their marks. */
#define DRAWN(id, part, end) "<fit id='" id "' kind='sense' part='" part "' if-wrong='blocked'><says>S</says><datum>D</datum><wrong>W</wrong><tell>T</tell><verify>V</verify>" \
  "<outline seat='0' points='0,0 20,0 " end ",8 0,10'/></fit>"
  { STEP ("x", DRAWN ("f", "a", "20") DRAWN ("g", "b", "20")), "alike-undeclared" },
  { STEP ("x", DRAWN ("f", "a", "20") DRAWN ("g", "b", "35")), "" },
  { STEP ("x", "<note id='n' name='N'>N</note>" DRAWN ("f", "a", "20") DRAWN ("g", "b", "20")) STEP ("y", "<fit id='h' kind='mate' if-wrong='blocked'><says>S</says><datum>D</datum>"
    "<wrong>W</wrong><tell>T</tell><verify>V</verify><piece part='a'/><piece part='b'/></fit>"), "" },
  /* A rule that is about no part. */
  { "<step id='x'><do>X.</do><fit id='f' kind='either'><says>S</says><symmetry>Y</symmetry></fit></step>", "part-unknown" },
  { "<step id='x'><do>X.</do><fit id='f' kind='mate' if-wrong='blocked'><says>S</says><datum>D</datum><wrong>W</wrong><tell>T</tell><verify>V</verify>"
    "<piece part='a'/><piece part='z'/></fit></step>", "part-unknown" },
};

/* (transfer full): codes parted by spaces. */
static char *
join_codes (GPtrArray *findings)
{
  GString *codes = g_string_new (NULL);

  for (guint i = 0; i < findings->len; i++)
    {
      const PawlFinding *finding = g_ptr_array_index (findings, i);

      if (strcmp (finding->code, "part-never-installed") != 0)
        g_string_append_printf (codes, "%s%s", codes->len > 0 ? " " : "", finding->code);
    }
  return g_string_free (codes, FALSE);
}

static void
test_snippets (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (snippets); i++)
    {
      g_autoptr(PawlProcedure) procedure = snippet_load (snippets[i].steps);
      g_autoptr(GPtrArray) findings = pawl_procedure_proof_read (procedure, NULL);
      g_autofree char *codes = join_codes (findings);

      print_findings (snippets[i].steps, findings);
      g_assert_cmpstr (codes, ==, snippets[i].codes);
    }
}

/* A caution guards the step that names it and the later ones, not the earlier ones. */
static void
test_cautions (void)
{
  static const struct { const char *first, *second, *codes; } cases[] = {
    { "cautions='fire'", "", "" },
    { "", "cautions='fire'", "caution-missing" },
    { "", "", "caution-unused caution-missing" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *steps = g_strdup_printf ("<step id='x' %s><do>Drain the fuel.</do></step>\n<step id='y' %s><do>Burn the fuel.</do></step>\n",
                                                cases[i].first, cases[i].second);
      g_autofree char *text = snippet_text (steps);
      g_auto(GStrv) halves = g_strsplit (text, "<cautions><none/></cautions>", 2);
      g_autofree char *whole = g_strjoin ("<cautions><caution id='fire' signal='danger' topic='fuel'><hazard>H</hazard><consequence>C</consequence>"
                                          "<avoid>A</avoid></caution></cautions>", halves[0], halves[1], NULL);
      g_autoptr(GBytes) bytes = g_bytes_new (whole, strlen (whole));
      g_autoptr(PawlProcedure) procedure = pawl_procedure_load_bytes (bytes, "fuel.xml", NULL, NULL);
      g_autoptr(GPtrArray) findings = pawl_procedure_proof_read (procedure, NULL);
      g_autofree char *codes = join_codes (findings);

      g_assert_cmpstr (codes, ==, cases[i].codes);
    }
}

/* What the strict reader refuses, it refuses with the same line and in the same words. */
static void
test_refusal_agrees (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "bad", "unknown-attribute.xml", NULL);
  g_autoptr(GPtrArray) findings = pawl_procedure_check_file (path, NULL, NULL);
  g_autoptr(PawlProcedure) procedure = NULL;
  g_autoptr(GError) error = NULL;
  const PawlFinding *finding = g_ptr_array_index (findings, 0);
  g_autofree char *wanted = g_strdup_printf ("%s:%d: %s", path, finding->line, finding->message);

  procedure = pawl_procedure_load (path, NULL, &error);
  g_assert_null (procedure);
  g_assert_error (error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_SCHEMA);
  g_assert_cmpstr (error->message, ==, wanted);
}

static void
test_format (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "bad", "need-unknown.xml", NULL);
  g_autoptr(PawlProcedure) procedure = NULL;
  g_autoptr(GPtrArray) findings = pawl_procedure_check_file (path, NULL, &procedure);
  g_autofree char *text = NULL;

  g_assert_nonnull (procedure);
  g_assert_cmpuint (findings->len, ==, 1);
  text = pawl_finding_format (g_ptr_array_index (findings, 0));
  g_assert_true (g_str_has_prefix (text, path));
  g_assert_true (g_str_has_suffix (text, ": error: step \"clean\" needs \"lif\", which is no step; did you mean \"lift\"? (need-unknown)"));
}

static void
test_missing_file (void)
{
  g_autoptr(GPtrArray) findings = pawl_procedure_check_file ("/nowhere/at-all.xml", NULL, NULL);
  const PawlFinding *finding = g_ptr_array_index (findings, 0);

  g_assert_cmpuint (findings->len, ==, 1);
  g_assert_cmpstr (finding->code, ==, "not-readable");
  g_assert_cmpint (finding->line, ==, 0);
}

static int
compare_names_cb (gconstpointer a, gconstpointer b)
{
  return strcmp (*(const char * const *) a, *(const char * const *) b);
}

/* One test for each file of tests/data/@folder, in order of name. */
static guint
add_folder (const char *folder, GTestDataFunc test)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", folder, NULL);
  g_autoptr(GDir) dir = g_dir_open (path, 0, NULL);
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func (g_free);
  const char *name;

  g_assert_nonnull (dir);
  while ((name = g_dir_read_name (dir)) != NULL)
    if (g_str_has_suffix (name, ".xml"))
      g_ptr_array_add (names, g_strdup (name));
  g_ptr_array_sort (names, compare_names_cb);
  for (guint i = 0; i < names->len; i++)
    {
      g_autofree char *test_name = g_strdup_printf ("/procedure/proof/%s/%s", folder, (char *) g_ptr_array_index (names, i));

      g_test_add_data_func_full (test_name, g_build_filename (path, g_ptr_array_index (names, i), NULL), test, g_free);
    }
  return names->len;
}

/* Each of the 68 measurements is asked once, in one file; those it is worked out of have names of their own. */
static void
test_every_measurement (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "good", "every-measurement.xml", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load (path, NULL, &error);
  static const guint worked_out[] = { 20, 28, 29, 31, 36, 37, 39, 43, 52, 58, 61, 65 };
  guint n_measured = 0;

  g_assert_no_error (error);
  for (guint row = 1; row <= 68; row++)
    {
      g_autofree char *id = g_strdup_printf ("row-%02u", row);
      const PawlAsk *ask = pawl_procedure_lookup_ask (procedure, id, NULL);

      if (ask == NULL)
        g_error ("nothing asks %s", id);
      n_measured++;
    }
  g_assert_cmpuint (n_measured, ==, 68);
  for (guint i = 0; i < G_N_ELEMENTS (worked_out); i++)
    {
      g_autofree char *id = g_strdup_printf ("row-%02u", worked_out[i]);

      g_assert_nonnull (pawl_procedure_lookup_ask (procedure, id, NULL)->reading->derived);
    }
  g_test_message ("every-measurement.xml: %u measurements", n_measured);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_cmpuint (add_folder ("good", test_good), >=, 2);
  g_assert_cmpuint (add_folder ("bad", test_bad), >=, 32);
  g_test_add_func ("/procedure/proof/every-measurement", test_every_measurement);
  g_test_add_func ("/procedure/proof/snippets", test_snippets);
  g_test_add_func ("/procedure/proof/cautions", test_cautions);
  g_test_add_func ("/procedure/proof/refusal-agrees", test_refusal_agrees);
  g_test_add_func ("/procedure/proof/format", test_format);
  g_test_add_func ("/procedure/proof/missing-file", test_missing_file);
  return g_test_run ();
}
