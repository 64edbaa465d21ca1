/* The picture of the lanes: everything can be found where it is drawn, and is told apart without colour. */
#include "invented-jobs.h"
#include "plan/pawl-lanes.h"

#define TEXT 12.0
#define WIDTH 1400

typedef struct {
  PawlWorkPlan    *plan;
  PawlLanes       *lanes;
  PawlLanesView    view;
  cairo_surface_t *surface;
  int              height;
} Sheet;

static void
sheet_init (Sheet *self, guint n_steps, guint n_jobs, PawlPalette palette)
{
  g_autoptr(PawlProcedure) procedure = make_procedure (n_steps);
  cairo_t *cr;

  self->plan = make_work_plan (procedure, n_jobs);
  self->lanes = pawl_lanes_new (self->plan, TEXT);
  self->view = (PawlLanesView) { .palette = palette, .selected = -1 };
  self->height = (int) pawl_lanes_get_height (self->lanes);
  self->surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, self->height);
  cr = cairo_create (self->surface);
  pawl_lanes_draw (self->lanes, &self->view, cr, WIDTH, self->height);
  g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (self->surface);
}

static void
sheet_clear (Sheet *self)
{
  cairo_surface_destroy (self->surface);
  pawl_lanes_free (self->lanes);
  pawl_work_plan_free (self->plan);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Sheet, sheet_clear)

static guint32
get_pixel (const Sheet *self, int x, int y)
{
  const guint8 *row = cairo_image_surface_get_data (self->surface) + y * cairo_image_surface_get_stride (self->surface);

  return ((const guint32 *) (gconstpointer) row)[x] & 0xffffff;
}

static int
pick (const Sheet *self, int x, int y)
{
  return pawl_lanes_pick (self->lanes, &self->view, WIDTH, self->height, x, y);
}

/* Each item is picked somewhere, and what is picked further to the right in a row of work is planned later. */
static void
test_pick (void)
{
  g_auto(Sheet) sheet = { NULL };
  guint n;
  g_autofree gboolean *is_found = NULL;

  sheet_init (&sheet, 30, 1, PAWL_PALETTE_LIGHT);
  n = pawl_work_plan_get_items (sheet.plan)->len;
  is_found = g_new0 (gboolean, n);
  for (int y = 0; y < sheet.height; y++)
    {
      gint64 before = G_MININT64;

      for (int x = 0; x < WIDTH; x++)
        {
          int picked = pick (&sheet, x, y);
          const PawlWorkPlanItem *item;

          if (picked < 0)
            continue;
          item = g_ptr_array_index (pawl_work_plan_get_items (sheet.plan), picked);
          is_found[picked] = TRUE;
          g_assert_cmpint (item->start, >=, before);
          before = item->start;
        }
    }
  for (guint i = 0; i < n; i++)
    g_assert_true (is_found[i]);
  g_assert_cmpint (pick (&sheet, 0, sheet.height / 2), ==, -1);
  g_assert_cmpint (pick (&sheet, WIDTH - 1, 0), ==, -1);
}

/* The middle of the item's box near its right edge, where no words are. */
static gboolean
find_inside (const Sheet *self, int wanted, int *x, int *y)
{
  for (*y = 0; *y < self->height; ++*y)
    for (*x = WIDTH - 1; *x > 0; --*x)
      if (pick (self, *x, *y) == wanted)
        {
          *x -= 5;
          *y += 6;
          return TRUE;
        }
  return FALSE;
}

/* On paper, in black and white: what can be done now has a white ground, what is blocked a tint. */
static void
test_grey (void)
{
  g_auto(Sheet) sheet = { NULL };
  const GPtrArray *items;
  guint n_open = 0, n_blocked = 0;

  sheet_init (&sheet, 12, 1, PAWL_PALETTE_PRINT);
  items = pawl_work_plan_get_items (sheet.plan);
  for (guint i = 0; i < items->len; i++)
    {
      const PawlWorkPlanItem *item = items->pdata[i];
      int x, y;

      if (item->wait != NULL)
        continue;
      g_assert_true (find_inside (&sheet, (int) i, &x, &y));
      g_assert_cmpuint (get_pixel (&sheet, x, y), ==, pawl_work_plan_item_is_open (item) ? 0xffffff : 0xe6e6e6);
      n_open += pawl_work_plan_item_is_open (item);
      n_blocked += !pawl_work_plan_item_is_open (item);
    }
  g_assert_cmpuint (n_open, >, 0);
  g_assert_cmpuint (n_blocked, >, 0);
  for (int y = 0; y < sheet.height; y++) /* nothing but greys on paper */
    for (int x = 0; x < WIDTH; x++)
      {
        guint32 pixel = get_pixel (&sheet, x, y);

        g_assert_true ((pixel & 0xff) == (pixel >> 8 & 0xff) && (pixel & 0xff) == pixel >> 16);
      }
}

static void
test_sizes (void)
{
  static const struct { guint n_steps, n_jobs; } sizes[] = { { 1, 1 }, { 50, 40 }, { 2000, 1 } };

  for (guint i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      g_auto(Sheet) sheet = { NULL };

      sheet_init (&sheet, sizes[i].n_steps, sizes[i].n_jobs, PAWL_PALETTE_DARK);
      g_assert_cmpuint (pawl_work_plan_get_schedule (sheet.plan)->n, >=, sizes[i].n_steps * sizes[i].n_jobs);
      g_assert_cmpuint (get_pixel (&sheet, 1, 1), ==, 0x1c1f21);
    }
}

/* Nothing to do has a picture too. */
static void
test_empty (void)
{
  g_auto(Sheet) sheet = { NULL };

  sheet_init (&sheet, 1, 0, PAWL_PALETTE_LIGHT);
  g_assert_cmpint (pick (&sheet, WIDTH / 2, sheet.height / 2), ==, -1);
}

/* Two hours of it: what lies outside is not picked, and what is selected is told by a frame. */
static void
test_part (void)
{
  g_auto(Sheet) sheet = { NULL };
  PawlLanesView view = { .from = 3600, .until = 3 * 3600, .selected = -1 };
  int picked;

  sheet_init (&sheet, 50, 2, PAWL_PALETTE_LIGHT);
  for (int y = 0; y < sheet.height; y++)
    for (int x = 0; x < WIDTH; x += 3)
      if ((picked = pawl_lanes_pick (sheet.lanes, &view, WIDTH, sheet.height, x, y)) >= 0)
        {
          const PawlWorkPlanItem *item = g_ptr_array_index (pawl_work_plan_get_items (sheet.plan), picked);

          g_assert_cmpint (item->start, <=, view.until);
          g_assert_cmpint (MAX (item->finish, item->max_finish), >=, view.from - 60);
        }
}

/* By arrow keys: along a lane everything once, in the order of time, and back; from lane to lane down to the last. */
static void
test_walk (void)
{
  g_auto(Sheet) sheet = { NULL };
  int index, before = -1;
  guint n_lanes = 1, n = 1;

  sheet_init (&sheet, 30, 2, PAWL_PALETTE_LIGHT);
  g_assert_cmpuint (pawl_lanes_get_n (sheet.lanes), ==, pawl_work_plan_get_items (sheet.plan)->len);
  index = pawl_lanes_move (sheet.lanes, -1, PAWL_LANES_BEHIND);
  g_assert_cmpint (index, ==, (int) pawl_work_plan_get_schedule (sheet.plan)->order[0]);
  for (; index != before; n++)
    {
      int next = pawl_lanes_move (sheet.lanes, index, PAWL_LANES_BEHIND);

      if (next != index)
        {
          g_assert_cmpint (pawl_lanes_move (sheet.lanes, next, PAWL_LANES_BEFORE), ==, index);
          g_assert_cmpint (pawl_lanes_get_spot (sheet.lanes, (guint) next).item->start, >=, pawl_lanes_get_spot (sheet.lanes, (guint) index).item->start);
        }
      before = index;
      index = next;
    }
  g_assert_cmpuint (n, >, 6);
  for (before = -1, index = 0; index != before; n_lanes++)
    {
      before = index;
      index = pawl_lanes_move (sheet.lanes, index, PAWL_LANES_BELOW);
    }
  g_assert_cmpuint (n_lanes, ==, 2 * 4 + 1); /* four lanes in each of two jobs */
  g_assert_cmpuint (pawl_lanes_get_spot (sheet.lanes, (guint) index).job, ==, 1);
}

/* Steps that are over stand to the left of the time, the last three of them; the one that is looked at is always seen. */
static void
test_over (void)
{
  g_autoptr(PawlProcedure) procedure = make_procedure (30);
  g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  g_autoptr(GDateTime) start = g_date_time_new_utc (2026, 11, 25, 8, 0, 0);
  g_autoptr(PawlWorkPlan) plan = pawl_work_plan_new (start);
  g_autoptr(PawlJob) job = NULL;
  g_autoptr(PawlLanes) lanes = NULL;
  PawlLanesView view = { .selected = -1 };
  double x, y, width, height;
  int first;

  g_ptr_array_add (entries, pawl_entry_new (PAWL_ENTRY_OPENED, "", "", start));
  for (guint i = 0; i < 17; i++) /* none of these waits, but for 5 and 15 */
    {
      g_autofree char *id = g_strdup_printf ("s%u", i);

      g_ptr_array_add (entries, pawl_entry_new (PAWL_ENTRY_STEP_DONE, id, "Jenna Tregear", start));
    }
  job = pawl_job_fold (procedure, entries, start);
  g_assert_true (pawl_work_plan_add_job (plan, job, "LJ-1", NULL));
  pawl_work_plan_work_out (plan, PAWL_SCHEDULE_EFFORT);
  lanes = pawl_lanes_new (plan, TEXT);
  first = pawl_lanes_find (lanes, 0, "s0");
  g_assert_cmpint (first, >=, (int) pawl_work_plan_get_items (plan)->len);
  g_assert_null (pawl_lanes_get_spot (lanes, (guint) first).item);
  g_assert_false (pawl_lanes_get_spot_box (lanes, &view, WIDTH, 400, (guint) first, &x, &y, &width, &height));
  view.selected = first;
  g_assert_true (pawl_lanes_get_spot_box (lanes, &view, WIDTH, 400, (guint) first, &x, &y, &width, &height));
  g_assert_cmpint (pawl_lanes_pick (lanes, &view, WIDTH, 400, x + width / 2, y + height / 2), ==, first);
  g_assert_cmpint (pawl_lanes_move (lanes, first, PAWL_LANES_BEFORE), ==, first);
  for (guint i = 0; i < 5; i++) /* s4, s8, s12, s16, then work */
    first = pawl_lanes_move (lanes, first, PAWL_LANES_BEHIND);
  g_assert_nonnull (pawl_lanes_get_spot (lanes, (guint) first).item);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/lanes/pick", test_pick);
  g_test_add_func ("/plan/lanes/grey", test_grey);
  g_test_add_func ("/plan/lanes/sizes", test_sizes);
  g_test_add_func ("/plan/lanes/empty", test_empty);
  g_test_add_func ("/plan/lanes/part", test_part);
  g_test_add_func ("/plan/lanes/walk", test_walk);
  g_test_add_func ("/plan/lanes/over", test_over);
  return g_test_run ();
}
