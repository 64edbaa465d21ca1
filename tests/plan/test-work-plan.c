/* Plans of jobs: what is left, from when, with whom they share a bath, and what is said when a maximum is lost. */
#include "plan/pawl-work-plan.h"
#include "procedure/pawl-reader.h"

#define HOUR 3600

static PawlProcedure *
load (const char *folder, const char *name)
{
  g_autofree char *path = g_build_filename (g_getenv ("PAWL_SOURCE_ROOT"), folder, name, NULL);
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure = pawl_procedure_load (path, NULL, &error);

  g_assert_no_error (error);
  return procedure;
}

static GDateTime *
get_time (gint64 seconds)
{
  g_autoptr(GDateTime) eight = g_date_time_new_utc (2026, 11, 25, 8, 0, 0);

  return g_date_time_add_seconds (eight, (double) seconds);
}

static void
append (GPtrArray *entries, PawlEntryKind kind, const char *subject, gint64 at)
{
  g_autoptr(GDateTime) time = get_time (at);

  g_ptr_array_add (entries, pawl_entry_new (kind, subject, "Jenna Tregear", time));
}

/* A job in which all steps before @step are done, and @wait (or NULL) was begun at @begun; as it is at @now. */
static PawlJob *
fold_before (PawlProcedure *procedure, const char *step, const char *wait, gint64 begun, gint64 now)
{
  g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr(GDateTime) at = get_time (now);
  GPtrArray *steps = pawl_procedure_get_steps (procedure);

  append (entries, PAWL_ENTRY_OPENED, "", 0);
  for (guint i = 0; !g_str_equal (((PawlStep *) steps->pdata[i])->id, step); i++)
    append (entries, PAWL_ENTRY_STEP_DONE, ((PawlStep *) steps->pdata[i])->id, 0);
  if (wait != NULL)
    append (entries, PAWL_ENTRY_WAIT_STARTED, wait, begun);
  return pawl_job_fold (procedure, entries, at);
}

/* A job in which @step alone is left. */
static PawlJob *
fold_all_but (PawlProcedure *procedure, const char *step)
{
  g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr(GDateTime) at = get_time (0);
  GPtrArray *steps = pawl_procedure_get_steps (procedure);

  append (entries, PAWL_ENTRY_OPENED, "", 0);
  for (guint i = 0; i < steps->len; i++)
    if (!g_str_equal (((PawlStep *) steps->pdata[i])->id, step))
      append (entries, PAWL_ENTRY_STEP_DONE, ((PawlStep *) steps->pdata[i])->id, 0);
  return pawl_job_fold (procedure, entries, at);
}

static const PawlWorkPlanItem *
find_wait (const PawlWorkPlan *plan, guint job, const char *id)
{
  const GPtrArray *items = pawl_work_plan_get_items (plan);

  for (guint i = 0; i < items->len; i++)
    {
      const PawlWorkPlanItem *item = items->pdata[i];

      if (item->job == job && item->wait != NULL && g_str_equal (item->wait->ask->id, id))
        return item;
    }
  g_error ("job %u has no wait “%s” left", job, id);
}

static const PawlWorkPlanItem *
find_work (const PawlWorkPlan *plan, guint job, const char *id)
{
  const GPtrArray *items = pawl_work_plan_get_items (plan);

  for (guint i = 0; i < items->len; i++)
    {
      const PawlWorkPlanItem *item = items->pdata[i];

      if (item->job == job && item->wait == NULL && g_str_equal (item->state->step->id, id))
        return item;
    }
  return NULL;
}

static PawlWorkPlan *
make_plan (PawlJob **jobs, guint n, gint64 start, guint places)
{
  g_autoptr(GDateTime) at = get_time (start);
  PawlWorkPlan *plan = pawl_work_plan_new (at);
  g_autoptr(GError) error = NULL;

  if (places != 1)
    pawl_work_plan_set_places (plan, "cleaning agent for zinc", places);
  for (guint i = 0; i < n; i++)
    {
      pawl_work_plan_add_job (plan, jobs[i], "job", &error);
      g_assert_no_error (error);
    }
  pawl_work_plan_work_out (plan, PAWL_SCHEDULE_EFFORT);
  return plan;
}

/* Every step once, after all that it needs. */
static void
test_whole (void)
{
  g_autoptr(PawlProcedure) procedure = load ("data/procedures", "sd3-carburetor.xml");
  g_autoptr(GDateTime) start = get_time (0);
  g_autoptr(PawlWorkPlan) plan = pawl_work_plan_new (start);
  g_autoptr(GError) error = NULL;
  GPtrArray *steps = pawl_procedure_get_steps (procedure);
  g_autoptr(GPtrArray) now = NULL, path = NULL;
  gint64 sum = 0;

  pawl_work_plan_add_procedure (plan, procedure, NULL, "carburetor", &error);
  g_assert_no_error (error);
  pawl_work_plan_work_out (plan, PAWL_SCHEDULE_EFFORT);
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = steps->pdata[i];
      const PawlWorkPlanItem *item = find_work (plan, 0, step->id);

      g_assert_nonnull (item);
      sum += item->finish - item->start;
      g_assert_cmpint (item->finish - item->start, ==, step->attended_seconds);
      for (char **need = step->needs; *need != NULL; need++)
        g_assert_cmpint (item->start, >=, find_work (plan, 0, *need)->finish);
    }
  g_assert_cmpint (sum, ==, pawl_work_plan_get_hands_seconds (plan));
  g_assert_cmpint (pawl_work_plan_get_schedule (plan)->makespan, >=, sum);
  g_assert_true (pawl_work_plan_get_schedule (plan)->is_least);

  /* "rinse" needs the soaked body: not before the soak is out, and that within its limits (procedure: 30 min to 4 h). */
  g_assert_cmpint (find_work (plan, 0, "rinse-body")->start, >=, find_wait (plan, 0, "soak")->finish);
  g_assert_cmpint (find_wait (plan, 0, "soak")->finish - find_wait (plan, 0, "soak")->start, >=, HOUR / 2);
  g_assert_cmpint (find_wait (plan, 0, "soak")->start, ==, find_work (plan, 0, "soak-body")->finish);

  now = pawl_work_plan_list_now (plan);
  g_assert_cmpuint (now->len, ==, 1);
  g_assert_cmpstr (((PawlWorkPlanItem *) now->pdata[0])->state->step->id, ==, ((PawlStep *) steps->pdata[0])->id);
  path = pawl_work_plan_list_critical (plan);
  sum = 0;
  for (guint i = 0; i < path->len; i++)
    sum += pawl_network_get_duration (pawl_work_plan_get_network (plan), ((PawlWorkPlanItem *) path->pdata[i])->node);
  g_assert_cmpint (sum, ==, pawl_work_plan_get_path_seconds (plan));
}

/* A body has been in the bath for 20 of its 30 to 240 minutes; the plan begins then. */
static void
test_running (void)
{
  g_autoptr(PawlProcedure) procedure = load ("data/procedures", "sd3-carburetor.xml");
  g_autoptr(PawlJob) job = fold_before (procedure, "soak-body", "soak", HOUR, HOUR + 1200);
  g_autoptr(PawlWorkPlan) plan = make_plan (&job, 1, HOUR + 1200, 1);
  const PawlWorkPlanItem *soak = find_wait (plan, 0, "soak");

  g_assert_true (soak->is_running);
  g_assert_false (soak->is_overdue);
  g_assert_cmpint (soak->start, ==, -1200);
  g_assert_cmpint (soak->min_finish, ==, 600);
  g_assert_cmpint (soak->max_finish, ==, 4 * HOUR - 1200);
  g_assert_cmpint (soak->finish, >=, 600);
  g_assert_null (find_work (plan, 0, "soak-body")); /* its work is done */
  g_assert_null (find_work (plan, 0, "jets-out"));
}

/* The same after five hours: the maximum is lost, it is said, and the body comes out before anything else. */
static void
test_overdue (void)
{
  g_autoptr(PawlProcedure) procedure = load ("data/procedures", "sd3-carburetor.xml");
  g_autoptr(PawlJob) job = fold_before (procedure, "soak-body", "soak", 0, 5 * HOUR);
  g_autoptr(PawlWorkPlan) plan = make_plan (&job, 1, 5 * HOUR, 1);
  g_autoptr(GPtrArray) order = pawl_work_plan_list_order (plan), now = pawl_work_plan_list_now (plan);
  const PawlWorkPlanItem *soak = find_wait (plan, 0, "soak");

  g_assert_true (soak->is_overdue);
  g_assert_cmpint (soak->finish, ==, 0);
  g_assert_cmpint (soak->max_finish, ==, -HOUR);
  g_assert_true (order->pdata[0] == soak);
  g_assert_true (now->pdata[0] == soak);
}

/* Two bodies and one bath, nothing else to do: 6 min to lower each, 30 min of soak. With two places both are in at once. */
static void
test_bath (void)
{
  g_autoptr(PawlProcedure) procedure = load ("data/procedures", "sd3-carburetor.xml");
  g_autoptr(PawlJob) first = fold_all_but (procedure, "soak-body"), second = fold_all_but (procedure, "soak-body");
  PawlJob *jobs[] = { first, second };

  for (guint places = 0; places <= 2; places++)
    {
      g_autoptr(PawlWorkPlan) plan = make_plan (jobs, 2, 0, places);

      g_assert_cmpint (pawl_work_plan_get_schedule (plan)->makespan, ==, places == 1 ? 72 * 60 : 42 * 60);
      g_assert_true (pawl_work_plan_get_schedule (plan)->is_least);
    }
}

/* A hold is to be released when what stands on it is to begin. */
static void
test_hold (void)
{
  g_autoptr(PawlProcedure) procedure = load ("data/procedures", "bp2-bilge-pump.xml");
  g_autoptr(PawlJob) job = fold_before (procedure, "lip-in", NULL, 0, 0);
  g_autoptr(PawlWorkPlan) plan = make_plan (&job, 1, 0, 1);

  g_assert_cmpint (find_work (plan, 0, "lip-in")->release_by, ==, find_work (plan, 0, "shaft-in")->start);
  g_assert_cmpint (find_work (plan, 0, "shaft-in")->release_by, ==, -1);
}

static void
test_blocked (void)
{
  g_autoptr(PawlProcedure) procedure = load ("data/procedures", "bp2-bilge-pump.xml");
  g_autoptr(PawlJob) job = fold_before (procedure, "rinse", NULL, 0, 0);
  g_autoptr(PawlWorkPlan) plan = make_plan (&job, 1, 0, 1);
  g_autofree char *blocked = pawl_work_plan_item_describe_blocked (find_work (plan, 0, "measure-plate"));

  g_assert_cmpstr (blocked, ==, "step 22, Rinse the bronze in clean water and wipe it dry");
  g_assert_null (pawl_work_plan_item_describe_blocked (find_work (plan, 0, "rinse")));
}

/* Nothing left is a plan as well. */
static void
test_done (void)
{
  g_autoptr(GDateTime) start = get_time (0);
  g_autoptr(PawlWorkPlan) plan = pawl_work_plan_new (start);

  pawl_work_plan_work_out (plan, PAWL_SCHEDULE_EFFORT);
  g_assert_cmpint (pawl_work_plan_get_schedule (plan)->makespan, ==, 0);
}

static void
test_cycle (void)
{
  g_autoptr(PawlProcedure) procedure = load ("tests/data/bad", "cycle.xml");
  g_autoptr(GDateTime) start = get_time (0);
  g_autoptr(PawlWorkPlan) plan = pawl_work_plan_new (start);
  g_autoptr(GError) error = NULL;

  g_assert_false (pawl_work_plan_add_procedure (plan, procedure, NULL, "in a circle", &error));
  g_assert_error (error, PAWL_WORK_PLAN_ERROR, PAWL_WORK_PLAN_ERROR_CYCLE);
  g_assert_cmpuint (pawl_work_plan_get_items (plan)->len, ==, 0);
}

/* From Wednesday, 15:00, hands are there until 17:00 and again from 8:00: what doesn't fit in is done the next morning, soaks go on through the night where they may. */
static void
test_hours (void)
{
  g_autoptr(PawlProcedure) procedure = load ("data/procedures", "sd3-carburetor.xml");
  g_autoptr(GDateTime) start = get_time (7 * HOUR);
  g_autoptr(PawlWorkPlan) plan = pawl_work_plan_new (start);
  g_autoptr(GError) error = NULL;
  PawlTimes *hours = NULL;
  gint64 open, close;

  g_assert_true (pawl_hours_parse ("08:00-17:00 Mon-Fri", &hours, &error));
  pawl_work_plan_take_hours (plan, hours);
  pawl_work_plan_add_procedure (plan, procedure, NULL, "job", &error);
  g_assert_no_error (error);
  pawl_work_plan_work_out (plan, PAWL_SCHEDULE_EFFORT);
  g_assert_true (pawl_work_plan_find_hours (plan, 0, &open, &close));
  g_assert_cmpint (open, ==, -7 * HOUR);
  g_assert_cmpint (close, ==, 2 * HOUR);
  g_assert_true (pawl_work_plan_find_hours (plan, close, &open, &close));
  g_assert_cmpint (open, ==, 17 * HOUR);
  g_assert_cmpint (pawl_work_plan_get_schedule (plan)->makespan, >, 17 * HOUR);
  for (guint i = 0; i < pawl_work_plan_get_items (plan)->len; i++)
    {
      const PawlWorkPlanItem *item = pawl_work_plan_get_items (plan)->pdata[i];
      gint64 from = item->wait != NULL ? item->finish : item->start;

      g_assert_false (item->is_outside);
      g_assert_true (item->finish <= 2 * HOUR || from >= 17 * HOUR);
      if (item->wait != NULL && item->max_finish != PAWL_NETWORK_NO_MAX)
        g_assert_cmpint (item->finish, <=, item->max_finish);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/work/whole", test_whole);
  g_test_add_func ("/plan/work/hours", test_hours);
  g_test_add_func ("/plan/work/running", test_running);
  g_test_add_func ("/plan/work/overdue", test_overdue);
  g_test_add_func ("/plan/work/bath", test_bath);
  g_test_add_func ("/plan/work/hold", test_hold);
  g_test_add_func ("/plan/work/blocked", test_blocked);
  g_test_add_func ("/plan/work/done", test_done);
  g_test_add_func ("/plan/work/cycle", test_cycle);
  return g_test_run ();
}
