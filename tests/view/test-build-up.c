/* The whole job as something to scrub through: every procedure of the shelf, every position. */
#include "procedure/pawl-reader.h"
#include "view/pawl-build-up.h"

static PawlProcedure *
load (const char *file)
{
  g_autofree char *path = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "procedures", file, NULL);
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure = pawl_procedure_load (path, NULL, &error);

  g_assert_no_error (error);
  return procedure;
}

static const PawlPartView *
find (GPtrArray *views, const char *part)
{
  for (guint i = 0; i < views->len; i++)
    if (g_str_equal (((PawlPartView *) views->pdata[i])->part->id, part))
      return views->pdata[i];
  g_assert_not_reached ();
}

static void
test_slides (void)
{
  g_autoptr(PawlProcedure) procedure = load ("sd3-carburetor.xml");
  g_autoptr(PawlBuildUp) film = pawl_build_up_new (procedure, "");
  double venturi = pawl_build_up_find (film, "venturi-in");
  g_autoptr(GPtrArray) before = pawl_build_up_view (film, venturi);
  g_autoptr(GPtrArray) amid = pawl_build_up_view (film, venturi + 0.5);
  g_autoptr(GPtrArray) after = pawl_build_up_view (film, venturi + 1);

  g_assert_cmpfloat (venturi, >, 0);
  g_assert_cmpstr (pawl_build_up_peek_step (film, venturi + 0.5)->id, ==, "venturi-in");
  g_assert_cmpfloat (find (before, "venturi")->fraction, ==, 0);
  g_assert_true (find (before, "venturi")->is_in_hand);
  /* The step names venturi, then locking screw: the one is further than the other half way. 0.675 and 0.325 by 1.35 t less 0.35 i. */
  g_assert_cmpfloat_with_epsilon (find (amid, "venturi")->fraction, 0.675, 1e-9);
  g_assert_cmpfloat_with_epsilon (find (amid, "venturi-screw")->fraction, 0.325, 1e-9);
  g_assert_cmpfloat (find (after, "venturi")->fraction, ==, 1);
  g_assert_cmpint (find (after, "venturi")->state, ==, PAWL_STATE_SEATED);
}

static void
test_ends (void)
{
  g_autoptr(PawlProcedure) procedure = load ("sd3-carburetor.xml");
  g_autoptr(PawlBuildUp) film = pawl_build_up_new (procedure, NULL);
  guint length = pawl_build_up_get_length (film);

  g_assert_cmpuint (length, ==, pawl_procedure_get_steps (procedure)->len);
  g_assert_null (pawl_build_up_peek_step (film, length));
  g_assert_cmpfloat (pawl_build_up_find (film, "no-such-step"), ==, -1);
  for (int i = 0; i < 2; i++)
    {
      /* Beyond either end is the end. */
      g_autoptr(GPtrArray) end = pawl_build_up_view (film, length + 7.5 * i);

      for (guint j = 0; j < end->len; j++)
        g_assert_cmpfloat (((PawlPartView *) end->pdata[j])->fraction, ==, 1);
    }
}

/* Whole at first, then off in the order of the mirror, and in the end nothing that was fitted is on. */
static void
test_mirrored (void)
{
  g_autoptr(PawlProcedure) procedure = load ("wd4-winch-hub.xml");
  g_autoptr(PawlBuildUp) film = pawl_build_up_new_mirrored (procedure, "");
  GPtrArray *mirror = pawl_build_up_get_mirror (film);
  g_autoptr(GPtrArray) whole = pawl_build_up_view (film, 0), amid = pawl_build_up_view (film, 1.5), end = pawl_build_up_view (film, mirror->len);
  const PawlMirrorStep *first = mirror->pdata[0], *second = mirror->pdata[1];
  guint n_off = 0;

  g_assert_cmpuint (pawl_build_up_get_length (film), ==, mirror->len);
  g_assert_true (pawl_build_up_peek_step (film, 1.5) == second->step);
  g_assert_cmpfloat (pawl_build_up_find (film, second->step->id), ==, 1);
  for (guint i = 0; i < whole->len; i++)
    g_assert_cmpfloat (((PawlPartView *) whole->pdata[i])->fraction, ==, 1);
  g_assert_true (find (whole, ((PawlPart *) first->parts->pdata[0])->id)->is_in_hand);
  g_assert_cmpint (find (amid, ((PawlPart *) first->parts->pdata[0])->id)->state, ==, PAWL_STATE_OUT);
  g_assert_cmpfloat (find (amid, ((PawlPart *) second->parts->pdata[0])->id)->fraction, <, 1);
  for (guint i = 0; i < mirror->len; i++)
    for (guint j = 0; j < ((PawlMirrorStep *) mirror->pdata[i])->parts->len; j++, n_off++)
      {
        const PawlPart *part = ((PawlMirrorStep *) mirror->pdata[i])->parts->pdata[j];

        if (part->regions[0] == NULL)
          continue;
        g_assert_cmpint (find (end, part->id)->place, ==, PAWL_PLACE_OFF);
        g_assert_cmpfloat (find (end, part->id)->fraction, ==, 0);
      }
  g_assert_cmpuint (n_off, >, 10);
}

/* No part jumps: a hair before a step ends, every part is a hair from where the next begins; and back is the way forward. */
static void
check_film (PawlProcedure *procedure, PawlBuildUp *film)
{
  guint length = pawl_build_up_get_length (film), n_moves = 0;

  g_assert_cmpuint (length, >, 0);
  for (guint n = length; n > 0; n--)
    {
      g_autoptr(GPtrArray) start = pawl_build_up_view (film, n - 1), late = pawl_build_up_view (film, n - 1e-6), end = pawl_build_up_view (film, n);

      for (guint i = 0; i < end->len; i++)
        {
          const PawlPartView *then = late->pdata[i], *there = end->pdata[i];

          if (ABS (then->fraction - there->fraction) > 1e-4)
            g_error ("%s: “%s” jumps at the end of “%s”", pawl_procedure_get_id (procedure), there->part->id, pawl_build_up_peek_step (film, n - 1)->id);
          n_moves += ((PawlPartView *) start->pdata[i])->fraction != there->fraction;
        }
    }
  g_assert_cmpuint (n_moves, >, pawl_build_up_get_mirror (film) != NULL ? length : pawl_procedure_get_parts (procedure)->len);
}

static void
check_films (PawlProcedure *procedure, const char *variant)
{
  g_autoptr(PawlBuildUp) film = pawl_build_up_new (procedure, variant), mirrored = pawl_build_up_new_mirrored (procedure, variant);

  check_film (procedure, film);
  check_film (procedure, mirrored);
}

static void
test_no_jumps (void)
{
  g_autofree char *folder = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), "data", "procedures", NULL);
  g_autoptr(GDir) dir = g_dir_open (folder, 0, NULL);
  guint n_files = 0;

  for (const char *name; (name = g_dir_read_name (dir)) != NULL;)
    if (g_str_has_suffix (name, ".xml"))
      {
        g_autoptr(PawlProcedure) procedure = load (name);
        GPtrArray *variants = pawl_procedure_get_variants (procedure);

        n_files++;
        check_films (procedure, NULL);
        for (guint i = 0; i < variants->len; i++)
          check_films (procedure, ((PawlVariant *) variants->pdata[i])->id);
      }
  g_assert_cmpuint (n_files, >, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/build-up/slides", test_slides);
  g_test_add_func ("/build-up/ends", test_ends);
  g_test_add_func ("/build-up/mirrored", test_mirrored);
  g_test_add_func ("/build-up/no-jumps", test_no_jumps);
  return g_test_run ();
}
