/* How the demo's parts stand on its figure. */
#include "procedure/pawl-reader.h"
#include "view/pawl-job-view.h"

typedef struct {
  PawlProcedure *procedure;
  PawlFigure    *figure;
  GPtrArray     *entries;
  GDateTime     *now;
} Fixture;

static void
add (Fixture *fixture, PawlEntryKind kind, const char *subject)
{
  g_ptr_array_add (fixture->entries, pawl_entry_new (kind, subject, "Ann", fixture->now));
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  const char *name = data != NULL ? data : "sd3-carburetor";
  g_autofree char *procedure = g_strdup_printf ("%s/data/procedures/%s.xml", g_getenv ("PAWL_SOURCE_ROOT"), name);
  g_autofree char *figure = g_strdup_printf ("%s/data/svg/%s.svg", g_getenv ("PAWL_SOURCE_ROOT"), name);
  g_autoptr(GError) error = NULL;

  fixture->procedure = pawl_procedure_load (procedure, NULL, &error);
  g_assert_no_error (error);
  fixture->figure = pawl_figure_load (figure, &error);
  g_assert_no_error (error);
  fixture->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  fixture->now = g_date_time_new_utc (2026, 11, 25, 8, 0, 0);
  add (fixture, PAWL_ENTRY_OPENED, "");
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_object_unref (fixture->procedure);
  g_object_unref (fixture->figure);
  g_ptr_array_unref (fixture->entries);
  g_date_time_unref (fixture->now);
}

static GPtrArray *
view_step (Fixture *fixture, const char *step, PawlJob **job)
{
  *job = pawl_job_fold (fixture->procedure, fixture->entries, fixture->now);
  return pawl_job_view_new (*job, pawl_procedure_lookup_step (fixture->procedure, step));
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
test_states (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) before = NULL, after = NULL, fitting = NULL;
  g_autoptr(GPtrArray) whole = view_step (fixture, "screws-off", &before);
  g_autoptr(GPtrArray) apart = NULL, first_fit = NULL;

  g_assert_cmpuint (whole->len, ==, 41);
  g_assert_cmpint (find (whole, "screw-long")->state, ==, PAWL_STATE_HIGHLIGHT);
  g_assert_cmpfloat (find (whole, "screw-long")->fraction, ==, 1);
  g_assert_cmpint (find (whole, "float")->state, ==, PAWL_STATE_SEATED);
  add (fixture, PAWL_ENTRY_STEP_DONE, "screws-off");
  apart = view_step (fixture, "cover-off", &after);
  g_assert_cmpint (find (apart, "screw-long")->state, ==, PAWL_STATE_OUT);
  g_assert_cmpfloat (find (apart, "screw-long")->fraction, ==, 0);
  g_assert_cmpint (find (apart, "cover")->state, ==, PAWL_STATE_HIGHLIGHT);
  /* Looked at from the first step that fits a part, what is off comes later. */
  first_fit = view_step (fixture, "press-plain", &fitting);
  g_assert_cmpint (find (first_fit, "screw-long")->state, ==, PAWL_STATE_LATER);
  g_assert_cmpint (find (first_fit, "bushing-plain")->state, ==, PAWL_STATE_HIGHLIGHT);
}

/* Sums of a way home, user units, as the drawing program gave them for the cover and the float. */
static void
test_carried (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlScene) scene = pawl_scene_new (fixture->figure);
  g_autoptr(PawlJob) on = NULL, off = NULL;
  g_autoptr(GPtrArray) home = view_step (fixture, "float-off", &on);
  g_autoptr(GPtrArray) away = NULL;
  PawlBox seated, hanging, cover_home, cover_away;

  pawl_job_view_apply (home, scene);
  pawl_scene_show_sheet (scene);
  seated = pawl_scene_get_region_box (scene, "float", 1000, 700);
  cover_home = pawl_scene_get_region_box (scene, "cover-front", 1000, 700);
  add (fixture, PAWL_ENTRY_STEP_DONE, "cover-off");
  away = view_step (fixture, "float-off", &off);
  g_assert_cmpstr (find (away, "float")->carrier->id, ==, "cover");
  g_assert_null (find (away, "cover")->carrier);
  pawl_job_view_apply (away, scene);
  pawl_scene_show_sheet (scene);
  hanging = pawl_scene_get_region_box (scene, "float", 1000, 700);
  cover_away = pawl_scene_get_region_box (scene, "cover-front", 1000, 700);
  /* The float went up with the cover, by as much. */
  g_assert_cmpfloat (cover_home.y - cover_away.y, >, 50);
  g_assert_cmpfloat_with_epsilon (seated.y - hanging.y, cover_home.y - cover_away.y, 1.0);
  g_assert_cmpfloat_with_epsilon (seated.x, hanging.x, 1.0);
}

/* The hub's brake shoe goes along and then down, its lining does both as well: on the shoe where that is drawn, it only rises. */
static void
test_carried_on_two_legs (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlScene) scene = pawl_scene_new (fixture->figure);
  g_autoptr(PawlJob) job = NULL;
  g_autoptr(GPtrArray) views = view_step (fixture, "receive", &job);
  const PawlPartView *lining = find (views, "brake-lining");
  PawlBox box[3];

  g_assert_cmpstr (lining->carrier->id, ==, "brake-shoe");
  g_assert_cmpuint (lining->carrier->n_slide, ==, 2);
  for (guint i = 0; i < G_N_ELEMENTS (box); i++)
    {
      pawl_part_view_place (lining, scene, i / 2.0, 0);
      pawl_scene_show_sheet (scene);
      box[i] = pawl_scene_get_region_box (scene, "brake-lining", 1000, 700);
    }
  for (guint i = 1; i < G_N_ELEMENTS (box); i++)
    g_assert_cmpfloat_with_epsilon (box[i].x, box[0].x, 0.1);
  g_assert_cmpfloat (box[0].y - box[1].y, >, 5);
  g_assert_cmpfloat (box[1].y - box[2].y, >, 5);
  /* and once on it, it goes wherever the shoe goes */
  {
    const PawlPartView *shoe = find (views, "brake-shoe");
    PawlBox first = { 0 };

    for (guint i = 0; i <= 8; i++)
      {
        PawlBox on, under;

        pawl_part_view_place (shoe, scene, i / 8.0, 1);
        pawl_part_view_place (lining, scene, 1, i / 8.0);
        pawl_scene_show_sheet (scene);
        on = pawl_scene_get_region_box (scene, "brake-shoe", 1000, 700);
        under = pawl_scene_get_region_box (scene, "brake-lining", 1000, 700);
        if (i == 0)
          first = (PawlBox) { under.x - on.x, under.y - on.y, 0, 0 };
        g_assert_cmpfloat_with_epsilon (under.x - on.x, first.x, 0.2);
        g_assert_cmpfloat_with_epsilon (under.y - on.y, first.y, 0.2);
      }
  }
}

static void
test_in_hand (Fixture *fixture, gconstpointer data)
{
  g_autoptr(PawlJob) job = NULL;
  g_autoptr(GPtrArray) views = view_step (fixture, "cover-off", &job);
  g_auto(GStrv) regions = pawl_job_view_list_in_hand (views);

  g_assert_cmpuint (g_strv_length (regions), ==, 2);
  g_assert_cmpstr (regions[0], ==, "cover-behind");
  g_assert_cmpstr (regions[1], ==, "cover-front");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add ("/job-view/states", Fixture, NULL, set_up, test_states, tear_down);
  g_test_add ("/job-view/carried", Fixture, NULL, set_up, test_carried, tear_down);
  g_test_add ("/job-view/carried-on-two-legs", Fixture, "wd4-winch-hub", set_up, test_carried_on_two_legs, tear_down);
  g_test_add ("/job-view/in-hand", Fixture, NULL, set_up, test_in_hand, tear_down);
  return g_test_run ();
}
