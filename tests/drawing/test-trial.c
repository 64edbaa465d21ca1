/* The trial: each end that a helper can come to is one sentence, and what it found is kept where nobody else can write it. */
#include <glib/gstdio.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <errno.h>

#include "drawing/pawl-trial.h"
#include "drawing/pawl-trial-private.h"
#include "fixtures.h"
#include "hostile.h"

static GBytes *
make_bytes (const char *text)
{
  return g_bytes_new (text, strlen (text));
}

static void
assert_no_child (void)
{
  g_assert_cmpint (waitpid (-1, NULL, WNOHANG), ==, -1);
  g_assert_cmpint (errno, ==, ECHILD);
}

static PawlTrial *
new_fake (const char *folder)
{
  return pawl_trial_new (g_getenv ("PAWL_TRIAL_FAKE"), folder);
}

/* ---- ends ---- */

typedef struct { const char *word; int code; const char *sentence; gboolean may_change; } End;

static const End ends[] = {
  { "failed", PAWL_TRIAL_ERROR_FAILED, "f.svg:7: the ink ran out", FALSE },
  { "crash", PAWL_TRIAL_ERROR_CRASHED, "f.svg:12: the drawing library crashed on what begins here (signal 11, ", FALSE },
  { "crash-after", PAWL_TRIAL_ERROR_CRASHED, "f.svg: the drawing library crashed on this figure (signal 11, ", FALSE },
  { "abort", PAWL_TRIAL_ERROR_CRASHED, "f.svg: the drawing library crashed on this figure (signal 6, ", FALSE },
  { "memory", PAWL_TRIAL_ERROR_MEMORY, "f.svg:5: drawing it took more than " G_STRINGIFY (PAWL_TRIAL_MEMORY_MIB) " MiB of memory; use ", TRUE },
  { "computed", PAWL_TRIAL_ERROR_TOO_LONG, "f.svg: drawing it took more than " G_STRINGIFY (PAWL_TRIAL_CPU_SECONDS) " s of computing; simplify ", TRUE },
  { "killed", PAWL_TRIAL_ERROR_NOT_TRIED, "f.svg: the trial drawing was ended from outside (signal 9, ", TRUE },
  { "nonsense", PAWL_TRIAL_ERROR_NOT_TRIED, "f.svg: the trial drawing ended without an answer (status 0)", TRUE },
  { "half", PAWL_TRIAL_ERROR_NOT_TRIED, "f.svg: the trial drawing ended without an answer (status 0)", TRUE },
  { "status", PAWL_TRIAL_ERROR_NOT_TRIED, "f.svg: the trial drawing ended without an answer (status 6)", TRUE },
  { "flood", PAWL_TRIAL_ERROR_NOT_TRIED, "f.svg: the trial drawing ended without an answer ", TRUE },
};

/* These compute nothing, so they may be waited for beside other work: "test-drawing-trial sleepers". */
static const End sleepers[] = {
  { "sleep", PAWL_TRIAL_ERROR_TOO_LONG, "f.svg:4: drawing it was not done after " G_STRINGIFY (PAWL_TRIAL_CLOCK_SECONDS) " s; check it again ", TRUE },
  { "sleep-deaf", PAWL_TRIAL_ERROR_TOO_LONG, "f.svg: drawing it was not done after " G_STRINGIFY (PAWL_TRIAL_CLOCK_SECONDS) " s; check it again ", TRUE },
};

static void
assert_end (const End *end)
{
  g_autoptr(PawlTrial) trial = new_fake (NULL);
  g_autoptr(GBytes) bytes = make_bytes (end->word);
  g_autoptr(GError) error = NULL;

  g_assert_false (pawl_trial_check (trial, bytes, "f.svg", PAWL_TRIAL_KEPT, NULL, &error));
  if (error->domain != PAWL_TRIAL_ERROR || error->code != end->code || !g_str_has_prefix (error->message, end->sentence))
    g_error ("%s: code %d, \"%s\"", end->word, error->code, error->message);
  g_assert_cmpint (pawl_trial_may_change (error), ==, end->may_change);
  assert_no_child ();
}

static void
test_ends (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (ends); i++)
    assert_end (&ends[i]);
}

static void
test_sleepers (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (sleepers); i++)
    assert_end (&sleepers[i]);
}

/* However much the libraries say meanwhile, the figure is drawn to its end. */
static void
test_talk (void)
{
  g_autoptr(PawlTrial) trial = new_fake (NULL);
  g_autoptr(GBytes) bytes = make_bytes ("talk");
  g_autoptr(GError) error = NULL;

  pawl_trial_check (trial, bytes, "f.svg", PAWL_TRIAL_KEPT, NULL, &error);
  g_assert_no_error (error);
}

static void
test_no_helper (void)
{
  static const char * const helpers[] = { "/nowhere/pawl-trial", "/", "/etc/passwd" };

  for (guint i = 0; i < G_N_ELEMENTS (helpers); i++)
    {
      g_autoptr(PawlTrial) trial = pawl_trial_new (helpers[i], NULL);
      g_autoptr(GBytes) bytes = make_bytes (PARTS);
      g_autoptr(GError) error = NULL;
      g_autofree char *sentence = g_strdup_printf ("f.svg: can't be tried, so it is not drawn: %s: ", helpers[i]);

      g_assert_null (pawl_trial_load_bytes (trial, bytes, "f.svg", PAWL_TRIAL_KEPT, NULL, &error));
      g_assert_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_NOT_TRIED);
      g_assert_true (g_str_has_prefix (error->message, sentence));
      assert_no_child ();
    }
}

/* The real helper, started by hand, says what it is for and draws nothing. */
static void
test_started_by_hand (void)
{
  const char *argv[] = { g_getenv ("PAWL_TRIAL_HELPER"), NULL };
  g_autofree char *words = NULL;
  g_autoptr(GError) error = NULL;
  int status;

  g_spawn_sync (NULL, (char **) argv, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, &words, &status, &error);
  g_assert_no_error (error);
  g_assert_true (WIFEXITED (status) && WEXITSTATUS (status) != 0);
  g_assert_nonnull (strstr (words, "started by Pawl"));
}

static void
test_good_figure (void)
{
  g_autoptr(PawlTrial) trial = pawl_trial_new (g_getenv ("PAWL_TRIAL_HELPER"), NULL);
  g_autoptr(GBytes) bytes = make_bytes (PARTS);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = pawl_trial_load_bytes (trial, bytes, "f.svg", PAWL_TRIAL_KEPT, NULL, &error);

  g_assert_no_error (error);
  g_assert_cmpuint (pawl_figure_get_regions (figure)->len, ==, 5);
}

/* ---- what the limits alone stop, without the scan before them ---- */

typedef struct { const char *name; int code; } Unscanned;

static const Unscanned unscanned[] = {
  { "a chain of 1,200 copies", PAWL_TRIAL_ERROR_CRASHED },
  { "markers", PAWL_TRIAL_ERROR_MEMORY },
  { "noise of 1,000 octaves", PAWL_TRIAL_ERROR_TOO_LONG },
  { "a wide stroke of 300,000 segments", PAWL_TRIAL_ERROR_TOO_LONG },
};

static void
test_unscanned (gconstpointer data)
{
  const Unscanned *wanted = data;
  g_autoptr(PawlTrial) trial = pawl_trial_new (g_getenv ("PAWL_TRIAL_UNSCANNED"), NULL);
  g_autoptr(GBytes) bytes = hostile_make (hostile_find (wanted->name));
  g_autoptr(GError) error = NULL;

  g_assert_false (pawl_trial_check (trial, bytes, "f.svg", PAWL_TRIAL_KEPT, NULL, &error));
  g_test_message ("%s", error->message);
  g_assert_error (error, PAWL_TRIAL_ERROR, wanted->code);
  assert_no_child ();
}

/* ---- several at once, and none any more ---- */

typedef struct {
  PawlTrial    *trial;
  GBytes       *bytes;
  GCancellable *cancellable;
  GError       *error;
} Asking;

static gpointer
ask (gpointer data)
{
  Asking *asking = data;

  return GINT_TO_POINTER (pawl_trial_check (asking->trial, asking->bytes, "f.svg", PAWL_TRIAL_KEPT, asking->cancellable, &asking->error));
}

/* Eight windows with one figure need one helper. The fake leaves a letter in a file for each start. */
static void
test_shared (void)
{
  g_autofree char *folder = g_dir_make_tmp ("pawl-trial-XXXXXX", NULL);
  g_autofree char *starts = g_build_filename (folder, "starts", NULL), *letters = NULL;
  g_autoptr(PawlTrial) trial = new_fake (NULL);
  g_autoptr(GBytes) bytes = make_bytes ("count");
  Asking asking = { trial, bytes, NULL, NULL };
  GThread *threads[8];

  g_setenv ("XDG_CACHE_HOME", folder, TRUE);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("window", ask, &asking);
  for (guint i = 0; i < G_N_ELEMENTS (threads); i++)
    g_assert_true (GPOINTER_TO_INT (g_thread_join (threads[i])));
  g_unsetenv ("XDG_CACHE_HOME");
  g_assert_true (g_file_get_contents (starts, &letters, NULL, NULL));
  g_assert_cmpstr (letters, ==, "x");
  g_unlink (starts);
  g_rmdir (folder);
  assert_no_child ();
}

static void
test_cancelled (void)
{
  g_autoptr(PawlTrial) trial = new_fake (NULL);
  g_autoptr(GBytes) bytes = make_bytes ("sleep");
  g_autoptr(GCancellable) cancellable = g_cancellable_new (), second = g_cancellable_new ();
  Asking first_asking = { trial, bytes, cancellable, NULL }, second_asking = { trial, bytes, second, NULL };
  GThread *first = g_thread_new ("first", ask, &first_asking), *waiting = g_thread_new ("waiting", ask, &second_asking);

  g_usleep (100 * 1000);
  g_cancellable_cancel (second);
  g_cancellable_cancel (cancellable);
  g_assert_false (GPOINTER_TO_INT (g_thread_join (first)));
  g_assert_false (GPOINTER_TO_INT (g_thread_join (waiting)));
  g_assert_error (first_asking.error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_assert_error (second_asking.error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
  g_clear_error (&first_asking.error);
  g_clear_error (&second_asking.error);
  assert_no_child ();
}

/* ---- verdicts on disk ---- */

typedef struct {
  char      *folder, *path; /* of verdicts, and of the one file */
  GBytes    *bytes;
  char      *digest;
} Store;

static void
set_up (Store *self, gconstpointer data)
{
  g_autofree char *root = g_dir_make_tmp ("pawl-trial-XXXXXX", NULL), *name = NULL;
  g_autoptr(PawlTrial) trial = NULL;

  self->folder = g_build_filename (root, "verdicts", NULL);
  self->bytes = make_bytes (data ? data : "fine");
  self->digest = g_compute_checksum_for_bytes (G_CHECKSUM_SHA256, self->bytes);
  name = g_strconcat (self->digest, ".verdict", NULL);
  self->path = g_build_filename (self->folder, name, NULL);
  trial = new_fake (self->folder);
  pawl_trial_check (trial, self->bytes, "f.svg", PAWL_TRIAL_KEPT, NULL, NULL);
}

static void
tear_down (Store *self, gconstpointer data)
{
  g_autofree char *root = g_path_get_dirname (self->folder);
  g_autoptr(GDir) directory = NULL;
  const char *name;

  g_chmod (self->folder, 0700);
  directory = g_dir_open (self->folder, 0, NULL);
  while (directory && (name = g_dir_read_name (directory)))
    {
      g_autofree char *path = g_build_filename (self->folder, name, NULL);

      g_remove (path);
    }
  g_remove (self->folder);
  g_rmdir (root);
  g_free (self->folder);
  g_free (self->path);
  g_free (self->digest);
  g_bytes_unref (self->bytes);
}

/* Whether a program that has no helper knows the figure: only a kept verdict can tell it. */
static gboolean
is_kept (Store *self, GError **error)
{
  g_autoptr(PawlTrial) trial = pawl_trial_new ("/nowhere/pawl-trial", self->folder);
  g_autoptr(GError) fault = NULL;

  if (pawl_trial_check (trial, self->bytes, "f.svg", PAWL_TRIAL_KEPT, NULL, &fault))
    return TRUE;
  if (g_error_matches (fault, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_NOT_TRIED))
    return FALSE;
  g_propagate_error (error, g_steal_pointer (&fault));
  return TRUE;
}

static void
test_kept (Store *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlTrial) trial = pawl_trial_new ("/nowhere/pawl-trial", self->folder);
  struct stat status;

  g_assert_true (is_kept (self, &error));
  g_assert_no_error (error);
  g_assert_cmpint (stat (self->path, &status), ==, 0);
  g_assert_cmpint (status.st_mode & 0777, ==, 0600);
  g_assert_cmpint (stat (self->folder, &status), ==, 0);
  g_assert_cmpint (status.st_mode & 0777, ==, 0700);
  g_assert_false (pawl_trial_check (trial, self->bytes, "f.svg", PAWL_TRIAL_ANEW, NULL, &error)); /* anew: not by the kept one */
  g_assert_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_NOT_TRIED);
}

/* One that another time of day may change stands for whoever draws, and not for whoever asks. */
static void
test_kept_unless_asked (Store *self, gconstpointer data)
{
  static const struct { PawlTrialUse use; int code; } cases[] = {
    { PAWL_TRIAL_KEPT, PAWL_TRIAL_ERROR_MEMORY }, { PAWL_TRIAL_KEPT_IF_FINAL, PAWL_TRIAL_ERROR_NOT_TRIED }, { PAWL_TRIAL_ANEW, PAWL_TRIAL_ERROR_NOT_TRIED },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlTrial) trial = pawl_trial_new ("/nowhere/pawl-trial", self->folder);
      g_autoptr(GError) error = NULL;

      g_assert_false (pawl_trial_check (trial, self->bytes, "f.svg", cases[i].use, NULL, &error));
      g_assert_error (error, PAWL_TRIAL_ERROR, cases[i].code);
    }
}

/* The same sentence as the first time, line and all. */
static void
test_kept_crash (Store *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;

  g_assert_true (is_kept (self, &error));
  g_assert_error (error, PAWL_TRIAL_ERROR, PAWL_TRIAL_ERROR_CRASHED);
  g_assert_true (g_str_has_prefix (error->message, "f.svg:12: the drawing library crashed on what begins here (signal 11, "));
}

/* What says nothing about the figure is not kept. */
static void
test_not_kept (Store *self, gconstpointer data)
{
  g_assert_false (g_file_test (self->path, G_FILE_TEST_EXISTS));
}

static void
put (Store *self, const char *text, gsize length)
{
  g_autoptr(GError) error = NULL;

  g_file_set_contents_full (self->path, text, (gssize) length, G_FILE_SET_CONTENTS_CONSISTENT, 0600, &error);
  g_assert_no_error (error);
}

/* Cut off anywhere, or with any byte changed, it counts no more: the figure is tried again. */
static void
test_damaged (Store *self, gconstpointer data)
{
  g_autofree char *text = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (self->path, &text, &length, NULL));
  for (gsize at = 0; at < length; at++)
    {
      put (self, text, at);
      if (is_kept (self, NULL))
        g_error ("cut off at %" G_GSIZE_FORMAT " it still counts", at);
      text[at] ^= 1;
      put (self, text, length);
      if (is_kept (self, NULL))
        g_error ("with byte %" G_GSIZE_FORMAT " changed it still counts: %s", at, text);
      text[at] ^= 1;
    }
  put (self, text, length);
  g_assert_true (is_kept (self, NULL));
}

/* Whole, but of another edition of what draws, or of another figure. */
static void
test_of_another (Store *self, gconstpointer data)
{
  g_autoptr(PawlTrialFound) fine = pawl_trial_found_new (PAWL_TRIAL_FINE, 0, 0, NULL);
  g_autofree char *versions = pawl_trial_store_dup_versions (), *text = NULL, *other = g_strnfill (64, 'a'), *other_path = NULL;
  gsize length;

  pawl_trial_store_save (self->folder, self->digest, "trial 1, librsvg 9.9.9, cairo 1.16.0", fine);
  g_assert_false (is_kept (self, NULL));
  pawl_trial_store_save (self->folder, other, versions, fine);
  other_path = g_strdup_printf ("%s/%s.verdict", self->folder, other);
  g_assert_true (g_file_get_contents (other_path, &text, &length, NULL));
  put (self, text, length);
  g_assert_false (is_kept (self, NULL));
  pawl_trial_store_save (self->folder, self->digest, versions, fine);
  g_assert_true (is_kept (self, NULL));
}

/* A verdict that others could have written is none, and none is written where others could change it. */
static void
test_open_to_others (Store *self, gconstpointer data)
{
  static const int file_modes[] = { 0620, 0602, 0640, 0604, 0666 }, folder_modes[] = { 0720, 0702, 0777, 0750, 0705 };
  g_autoptr(PawlTrial) trial = new_fake (self->folder);

  for (guint i = 0; i < G_N_ELEMENTS (file_modes); i++)
    {
      g_chmod (self->path, file_modes[i]);
      g_assert_false (is_kept (self, NULL));
    }
  g_chmod (self->path, 0600);
  for (guint i = 0; i < G_N_ELEMENTS (folder_modes); i++)
    {
      g_chmod (self->folder, folder_modes[i]);
      g_assert_false (is_kept (self, NULL));
    }
  g_unlink (self->path);
  g_assert_true (pawl_trial_check (trial, self->bytes, "f.svg", PAWL_TRIAL_ANEW, NULL, NULL)); /* still tried, and let in */
  g_assert_false (g_file_test (self->path, G_FILE_TEST_EXISTS));
}

static void
test_links (Store *self, gconstpointer data)
{
  g_autofree char *aside = g_strconcat (self->path, ".aside", NULL), *folder = g_strconcat (self->folder, "-link", NULL);
  char *own_folder = self->folder;

  g_assert_cmpint (g_rename (self->path, aside), ==, 0);
  g_assert_cmpint (symlink (aside, self->path), ==, 0);
  g_assert_false (is_kept (self, NULL));
  g_unlink (self->path);
  g_assert_cmpint (mkfifo (self->path, 0600), ==, 0);
  g_assert_false (is_kept (self, NULL)); /* and does not wait for a writer */
  g_unlink (self->path);
  g_assert_cmpint (g_rename (aside, self->path), ==, 0);
  g_assert_cmpint (symlink (self->folder, folder), ==, 0);
  self->folder = folder;
  g_assert_false (is_kept (self, NULL));
  self->folder = own_folder;
  g_unlink (folder);
  g_assert_true (is_kept (self, NULL));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  if (argc > 1 && g_str_equal (argv[1], "sleepers"))
    {
      g_test_add_func ("/drawing/trial/sleepers", test_sleepers);
      return g_test_run ();
    }
  g_test_add_func ("/drawing/trial/ends", test_ends);
  g_test_add_func ("/drawing/trial/talk", test_talk);
  g_test_add_func ("/drawing/trial/no-helper", test_no_helper);
  g_test_add_func ("/drawing/trial/by-hand", test_started_by_hand);
  g_test_add_func ("/drawing/trial/good", test_good_figure);
  g_test_add_func ("/drawing/trial/shared", test_shared);
  g_test_add_func ("/drawing/trial/cancelled", test_cancelled);
  g_test_add ("/drawing/trial/kept", Store, NULL, set_up, test_kept, tear_down);
  g_test_add ("/drawing/trial/kept-unless-asked", Store, "memory", set_up, test_kept_unless_asked, tear_down);
  g_test_add ("/drawing/trial/kept-crash", Store, "crash", set_up, test_kept_crash, tear_down);
  g_test_add ("/drawing/trial/not-kept", Store, "killed", set_up, test_not_kept, tear_down);
  g_test_add ("/drawing/trial/damaged", Store, NULL, set_up, test_damaged, tear_down);
  g_test_add ("/drawing/trial/of-another", Store, NULL, set_up, test_of_another, tear_down);
  g_test_add ("/drawing/trial/open-to-others", Store, NULL, set_up, test_open_to_others, tear_down);
  g_test_add ("/drawing/trial/links", Store, NULL, set_up, test_links, tear_down);
  for (guint i = 0; i < G_N_ELEMENTS (unscanned); i++)
    {
      g_autofree char *path = g_strdup_printf ("/drawing/trial/unscanned/%s", unscanned[i].name);

      g_test_add_data_func (path, &unscanned[i], test_unscanned);
    }
  return g_test_run ();
}
