/* Files that nobody vouches for: too large, too deep, too many, cut off, damaged. Never a crash, always a line or a model. */
#include <string.h>

#include <glib/gstdio.h>

#include "procedure/pawl-order.h"
#include "snippet.h"

/* Loads and proof-reads whatever it is. */
static void
try_bytes (const char *data, gsize size)
{
  g_autoptr(GBytes) bytes = g_bytes_new (data, size);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load_bytes (bytes, "try.xml", NULL, &error);
  g_autoptr(GPtrArray) findings = NULL;

  if (procedure == NULL)
    {
      g_assert_nonnull (error);
      g_assert_true (error->domain == PAWL_PROCEDURE_ERROR);
      g_assert_true (g_regex_match_simple ("^try\\.xml:[1-9][0-9]*: .", error->message, 0, 0));
      g_assert_true (g_utf8_validate (error->message, -1, NULL));
      /* The last resort, libxml2's own words, is never needed. */
      g_test_message ("%s", error->message);
      g_assert_null (strstr (error->message, "procedure.rng"));
      return;
    }
  g_assert_no_error (error);
  findings = pawl_procedure_proof_read (procedure, NULL);
  g_assert_nonnull (findings);
}

static char *
load_good (gsize *size)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "good", "minimal.xml", NULL);
  char *contents;

  g_assert_true (g_file_get_contents (path, &contents, size, NULL));
  return contents;
}

static void
test_truncated (void)
{
  gsize size;
  g_autofree char *contents = load_good (&size);

  for (gsize length = 0; length < size; length += 100)
    try_bytes (contents, length);
}

static void
test_flipped (void)
{
  gsize size;
  g_autofree char *contents = load_good (&size);
  g_autoptr(GRand) random = g_rand_new_with_seed (19);

  for (int round = 0; round < 500; round++)
    {
      g_autofree char *copy = g_memdup2 (contents, size);

      for (int i = g_rand_int_range (random, 1, 4); i > 0; i--)
        copy[g_rand_int_range (random, 0, size)] ^= 1 << g_rand_int_range (random, 0, 8);
      try_bytes (copy, size);
    }
}

/* Whole attribute values and elements changed places: well-formed more often than a flipped byte leaves it. */
static void
test_shuffled (void)
{
  gsize size;
  g_autofree char *contents = load_good (&size);
  g_autoptr(GRand) random = g_rand_new_with_seed (23);

  for (int round = 0; round < 300; round++)
    {
      g_auto(GStrv) pieces = g_strsplit (contents, round % 2 == 0 ? "\"" : "\n", -1);
      guint n = g_strv_length (pieces);
      guint a = g_rand_int_range (random, 0, n);
      guint b = g_rand_int_range (random, 0, n);
      g_autofree char *text = NULL;
      char *kept = pieces[a];

      pieces[a] = pieces[b];
      pieces[b] = kept;
      text = g_strjoinv (round % 2 == 0 ? "\"" : "\n", pieces);
      try_bytes (text, strlen (text));
    }
}

static void
assert_refused (const char *data, gsize size, PawlProcedureError code, int line)
{
  g_autoptr(GBytes) bytes = g_bytes_new (data, size);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load_bytes (bytes, "try.xml", NULL, &error);
  g_autofree char *prefix = g_strdup_printf ("try.xml:%d: ", line);

  g_assert_null (procedure);
  g_assert_error (error, PAWL_PROCEDURE_ERROR, (int) code);
  g_test_message ("%s", error->message);
  g_assert_true (g_str_has_prefix (error->message, prefix));
}

static void
test_empty (void)
{
  assert_refused ("", 0, PAWL_PROCEDURE_ERROR_NOT_XML, 1);
  assert_refused (" \n", 2, PAWL_PROCEDURE_ERROR_NOT_XML, 2);
  assert_refused ("<a/>\0<b/>", 9, PAWL_PROCEDURE_ERROR_NOT_XML, 1);
  assert_refused ("\xff\xfe<\0a\0/\0>\0", 10, PAWL_PROCEDURE_ERROR_NOT_XML, 1);
}

/* A comment fills the file to the last byte allowed, then to one more; on disk and in memory. */
static void
test_oversized (void)
{
  g_autofree char *steps = g_strnfill (PAWL_PROCEDURE_MAX_BYTES, 'x');
  g_autofree char *text = NULL;
  g_autofree char *path = NULL;
  g_autoptr(GPtrArray) findings = NULL;
  const PawlFinding *finding;
  gsize frame;

  memcpy (steps, "<!--", 4);
  strcpy (steps + PAWL_PROCEDURE_MAX_BYTES - 60, "--><step id='one'><do>One.</do></step>");
  text = snippet_text (steps);
  frame = strlen (text) - PAWL_PROCEDURE_MAX_BYTES;
  memmove (steps + 4, steps + 4 + frame, strlen (steps + 4 + frame) + 1);
  g_free (text);
  text = snippet_text (steps);
  g_assert_cmpuint (strlen (text), ==, PAWL_PROCEDURE_MAX_BYTES);
  g_object_unref (snippet_load (steps));

  text = g_realloc (text, PAWL_PROCEDURE_MAX_BYTES + 2);
  strcat (text, "\n");
  assert_refused (text, PAWL_PROCEDURE_MAX_BYTES + 1, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, 1);

  path = g_build_filename (g_get_tmp_dir (), "pawl-oversized-XXXXXX.xml", NULL);
  g_close (g_mkstemp (path), NULL);
  g_assert_true (g_file_set_contents (path, text, PAWL_PROCEDURE_MAX_BYTES + 1, NULL));
  findings = pawl_procedure_check_file (path, NULL, NULL);
  g_unlink (path);
  g_assert_cmpuint (findings->len, ==, 1);
  finding = g_ptr_array_index (findings, 0);
  g_assert_cmpstr (finding->code, ==, "not-allowed");
}

static char *
repeat (const char *piece, guint n)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    g_string_append (text, piece);
  return g_string_free (text, FALSE);
}

/* <procedure> and 99,999 elements are let through to the schema, one more is not. */
static void
test_too_many_elements (void)
{
  g_autofree char *inner = repeat ("<a/>\n", 99999);
  g_autofree char *most = g_strconcat ("<procedure xmlns='urn:pawl:procedure:1'>\n", inner, "</procedure>", NULL);
  g_autofree char *over = g_strconcat ("<procedure xmlns='urn:pawl:procedure:1'>\n", inner, "<a/></procedure>", NULL);

  assert_refused (most, strlen (most), PAWL_PROCEDURE_ERROR_SCHEMA, 1);
  assert_refused (over, strlen (over), PAWL_PROCEDURE_ERROR_NOT_ALLOWED, 100001);
}

static void
test_too_many_steps (void)
{
  GString *steps = g_string_new (NULL);
  g_autofree char *most = NULL;
  g_autofree char *over = NULL;

  for (int i = 0; i < 2000; i++)
    g_string_append_printf (steps, "<step id='s%d'><do>Go.</do></step>\n", i);
  most = snippet_text (steps->str);
  try_bytes (most, strlen (most));
  g_object_unref (snippet_load (steps->str));
  g_string_append (steps, "<step id='one-more'><do>Go.</do></step>\n");
  over = snippet_text (steps->str);
  assert_refused (over, strlen (over), PAWL_PROCEDURE_ERROR_NOT_ALLOWED, 10 + 2000);
  g_string_free (steps, TRUE);
}

/* libxml2 counts lines to 65535 in its tree; ours go on. */
static void
test_many_lines (void)
{
  g_autofree char *lines = repeat ("\n", 70000);
  g_autofree char *good = g_strconcat (lines, "<step\n  id='one'><do>One.</do><check id='c'\n kind='free' name='C'>Free?</check></step>\n", NULL);
  g_autofree char *bad = g_strconcat (lines, "<step id='one'><do>One.</do>\n<chek/></step>\n", NULL);
  g_autofree char *broken = g_strconcat (lines, "<step id='one'><do>One.</step>\n", NULL);
  g_autofree char *bad_text = snippet_text (bad);
  g_autofree char *broken_text = snippet_text (broken);
  g_autoptr(PawlProcedure) procedure = snippet_load (good);

  g_assert_cmpint (pawl_procedure_lookup_step (procedure, "one")->line, ==, 70010);
  g_assert_cmpint (pawl_procedure_lookup_ask (procedure, "c", NULL)->line, ==, 70011);
  assert_refused (bad_text, strlen (bad_text), PAWL_PROCEDURE_ERROR_SCHEMA, 70011);
  assert_refused (broken_text, strlen (broken_text), PAWL_PROCEDURE_ERROR_NOT_XML, 70010);
}

/* Two thousand steps that all take the same part off and put it on, need each other and cover it. */
static void
test_tangle (void)
{
  GString *steps = g_string_new (NULL);
  g_autoptr(PawlProcedure) procedure = NULL;
  g_autoptr(GPtrArray) findings = NULL;
  g_autoptr(GPtrArray) followers = NULL;

  for (int i = 0; i < 2000; i++)
    g_string_append_printf (steps, "<step id='s%d' %s='a' needs='s%d' covers='a n%d'><do>Go.</do><note id='n%d' name='N'>N?</note></step>\n", i,
                            i < 1000 ? "remove" : "install", (i * 7 + 3) % 2000, (i * 3) % 2000, i);
  procedure = snippet_load (steps->str);
  findings = pawl_procedure_proof_read (procedure, NULL);
  followers = pawl_order_list_followers (procedure, g_ptr_array_index (pawl_procedure_get_steps (procedure), 0));
  g_assert_cmpuint (findings->len, >, 0);
  g_assert_cmpuint (followers->len, >, 0);
  g_string_free (steps, TRUE);
}

/* Findings are capped, and it is said that there are more. */
static void
test_too_many_findings (void)
{
  g_autofree char *ids = repeat ("nowhere-at-all ", 5000);
  g_autofree char *step = g_strdup_printf ("<step id='one' needs='%s'><do>One.</do></step>\n", ids);
  g_autoptr(PawlProcedure) procedure = snippet_load (step);
  g_autoptr(GPtrArray) findings = pawl_procedure_proof_read (procedure, NULL);
  const PawlFinding *last = g_ptr_array_index (findings, findings->len - 1);

  g_assert_cmpuint (findings->len, ==, 1001);
  g_assert_cmpstr (last->code, ==, "too-many");
}

static void
test_long_words (void)
{
  g_autofree char *most = g_strnfill (10000, 'x');
  g_autofree char *over = g_strnfill (10001, 'x');
  g_autofree char *most_step = g_strdup_printf ("<step id='one'><do>%s</do></step>\n", most);
  g_autofree char *over_step = g_strdup_printf ("<step id='one'><do>%s</do></step>\n", over);
  g_autofree char *text = snippet_text (over_step);

  g_object_unref (snippet_load (most_step));
  assert_refused (text, strlen (text), PAWL_PROCEDURE_ERROR_NOT_ALLOWED, 10);
}

/* What a message shows of a long value is cut between characters, not within one. */
static void
test_long_values (void)
{
  static const char * const steps[] = {
    "<step id='%s'><do>One.</do></step>\n",
    "<step id='one' hold='%s'><do>One.</do></step>\n",
    "<step id='one'>%s<do>One.</do></step>\n",
    "<step id='one'><do>One.</do><reading id='r' name='N' limits='%s'><says>S</says></reading></step>\n",
    "<step id='one'><do>One.</do><reading id='r' name='N' limits='1..2 mm' unit='%s'><says>S</says></reading></step>\n",
    "<step id='one'><do>One.</do><fit id='f' kind='sense' if-wrong='hides'><says>S</says><turned points='%s'/></fit></step>\n",
  };
  g_autofree char *value = repeat ("é", 131);

  for (gsize i = 0; i < G_N_ELEMENTS (steps); i++)
    {
      g_auto(GStrv) halves = g_strsplit (steps[i], "%s", 2);
      g_autofree char *step = g_strjoin (value, halves[0], halves[1], NULL);
      g_autofree char *text = snippet_text (step);

      try_bytes (text, strlen (text));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/procedure/hostile/truncated", test_truncated);
  g_test_add_func ("/procedure/hostile/flipped", test_flipped);
  g_test_add_func ("/procedure/hostile/shuffled", test_shuffled);
  g_test_add_func ("/procedure/hostile/empty", test_empty);
  g_test_add_func ("/procedure/hostile/oversized", test_oversized);
  g_test_add_func ("/procedure/hostile/too-many-elements", test_too_many_elements);
  g_test_add_func ("/procedure/hostile/too-many-steps", test_too_many_steps);
  g_test_add_func ("/procedure/hostile/many-lines", test_many_lines);
  g_test_add_func ("/procedure/hostile/tangle", test_tangle);
  g_test_add_func ("/procedure/hostile/too-many-findings", test_too_many_findings);
  g_test_add_func ("/procedure/hostile/long-words", test_long_words);
  g_test_add_func ("/procedure/hostile/long-values", test_long_values);
  return g_test_run ();
}
