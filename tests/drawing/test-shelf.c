/* The sketches of the units that come with the program: every fit rule has what its sketch needs, and its words stand clear. */
#include "sketch-look.h"

#include "procedure/pawl-reader.h"

#define SHELF "data", "procedures"

static guint
check_fits (const char *path)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load (path, NULL, &error);
  GPtrArray *steps;
  guint n_fits = 0;

  g_assert_no_error (error);
  steps = pawl_procedure_get_steps (procedure);
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = g_ptr_array_index (steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = g_ptr_array_index (step->asks, j);
          g_autofree char *missing = NULL;

          if (!ask->rule)
            continue;
          g_test_message ("%s", ask->id);
          n_fits++;
          missing = pawl_rule_find_missing (ask->rule);
          g_assert_null (missing);
          assert_words_are_clear (ask->id, ask->rule, NULL, 520, 300);
          assert_words_are_clear (ask->id, ask->rule, NULL, 426, 240);
        }
    }
  return n_fits;
}

static void
test_shelf (void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), SHELF, NULL);
  g_autoptr(GDir) dir = g_dir_open (folder, 0, &error);
  const char *name;
  guint n_units = 0;

  g_assert_no_error (error);
  while ((name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);

      if (!g_str_has_suffix (name, ".xml"))
        continue;
      n_units++;
      g_assert_cmpuint (check_fits (path), >, 0);
    }
  g_assert_cmpuint (n_units, >=, 2);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/drawing/shelf/sketches", test_shelf);
  return g_test_run ();
}
