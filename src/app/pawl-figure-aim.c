#include "app/pawl-figure-aim.h"

#define STEP_MARGIN 0.6
#define LEAST_FILL 0.62
#define LEAST_WHOLE 0.5

void
pawl_figure_aim_at_whole (PawlScene *scene)
{
  PawlBox sheet = pawl_figure_get_view_box (pawl_scene_get_figure (scene)), view;
  double width, height;

  pawl_scene_show_all (scene);
  view = pawl_scene_get_view (scene);
  width = MAX (view.width, sheet.width * LEAST_WHOLE);
  height = MAX (view.height, sheet.height * LEAST_WHOLE);
  view.x -= (width - view.width) / 2;
  view.y -= (height - view.height) / 2;
  view.width = width;
  view.height = height;
  pawl_scene_set_view (scene, view);
}

void
pawl_figure_aim_at_step (PawlScene *scene, const char * const *regions)
{
  pawl_scene_show_regions (scene, regions, STEP_MARGIN);
}

static gboolean
contains (PawlBox outer, PawlBox inner)
{
  return inner.x >= outer.x && inner.y >= outer.y && inner.x + inner.width <= outer.x + outer.width
         && inner.y + inner.height <= outer.y + outer.height;
}

void
pawl_figure_aim_steadily (PawlScene *scene, PawlBox before)
{
  PawlBox after = pawl_scene_get_view (scene);

  if (contains (before, after) && MAX (after.width / before.width, after.height / before.height) > LEAST_FILL)
    pawl_scene_set_view (scene, before);
}
