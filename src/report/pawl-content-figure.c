/* The figure on paper: the exploded view, with the item numbers of the parts table round it. */
#include "report/pawl-content.h"
#include "view/pawl-job-view.h"

#include <math.h>

/* Share of the page that the figure takes: about half, less when that saves a gap. */
#define HEIGHT_LEAST 0.29
#define HEIGHT_MOST  0.52
#define NUMBER_SIZE_PT 6.0
#define CAPTION_PT 18.0 /* room for the line under it, and the padding */

static void
draw_scene (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  PawlScene *scene = data;
  double dx = 1, dy = 0;

  /* On screen the bitmaps have to be as sharp as the page is shown. */
  cairo_user_to_device_distance (cr, &dx, &dy);
  pawl_scene_set_device_scale (scene, MAX (hypot (dx, dy), 1.0));
  cairo_translate (cr, x, y);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  pawl_scene_draw (scene, cr, width, height);
}

static PawlScene *
make_scene (PawlProcedure *procedure, PawlFigure *figure)
{
  PawlScene *scene = pawl_scene_new (figure);

  pawl_scene_set_palette (scene, PAWL_PALETTE_PRINT);
  pawl_scene_set_number_size (scene, NUMBER_SIZE_PT);
  pawl_view_apply_exploded (procedure, scene);
  pawl_scene_show_all (scene);
  return scene;
}

void
pawl_content_add_exploded (PawlCell *cell, PawlProcedure *procedure, PawlFigure *figure, double width_pt, double height_pt)
{
  pawl_cell_add_art (cell, width_pt, height_pt, draw_scene, make_scene (procedure, figure), g_object_unref);
}

/* As high as the sheet wants at full width, within the shares above. */
static double
find_height (const PawlContent *content)
{
  PawlBox box = pawl_figure_get_view_box (content->figure);
  double page = pawl_flow_get_height (content->flow);
  double room = pawl_flow_get_room (content->flow) - CAPTION_PT;
  double wanted = pawl_flow_get_width (content->flow) * box.height / box.width;

  wanted = CLAMP (wanted, page * HEIGHT_LEAST, page * HEIGHT_MOST);
  return room >= page * HEIGHT_LEAST ? MIN (wanted, room) : wanted;
}

void
pawl_content_add_figure (const PawlContent *content)
{
  const double x = 0;
  const PawlRowStyle style = { .padding = 2 };
  PawlCell *cell;

  pawl_flow_add_heading (content->flow, "Figure");
  if (!content->figure)
    {
      const char *problem = content->options->figure_problem;
      g_autofree char *text = problem ? g_strdup_printf ("The figure is kept with this job, but not drawn: %s.", problem) : g_strdup ("No figure is kept with this job.");

      pawl_flow_add_text (content->flow, PAWL_LETTER_BODY, text);
      return;
    }
  cell = pawl_cell_new (pawl_flow_get_context (content->flow), pawl_flow_get_width (content->flow));
  pawl_content_add_exploded (cell, content->procedure, content->figure, pawl_flow_get_width (content->flow), find_height (content));
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, "Exploded view. The numbers are the item numbers of the parts table.", 0);
  pawl_flow_take_cells (content->flow, &cell, &x, 1, &style);
}
