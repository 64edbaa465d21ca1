/* The proof-reader: good files have no finding; each file of tests/data/bad has exactly the one that its second line expects. */
#include <stdlib.h>
#include <string.h>

#include "procedure/pawl-reader.h"
#include "regions.h"

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

  if (procedure == NULL)
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
  return strcmp (code, "hold-suggested") == 0 || strcmp (code, "verified-not") == 0;
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

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_assert_cmpuint (add_folder ("good", test_good), >=, 1);
  g_assert_cmpuint (add_folder ("bad", test_bad), >=, 32);
  g_test_add_func ("/procedure/proof/refusal-agrees", test_refusal_agrees);
  g_test_add_func ("/procedure/proof/format", test_format);
  g_test_add_func ("/procedure/proof/missing-file", test_missing_file);
  return g_test_run ();
}
