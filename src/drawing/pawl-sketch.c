#include "drawing/pawl-sketch.h"

#include "drawing/pawl-sketch-private.h"

void
pawl_sketch_draw (const PawlRule *rule, const PawlSketchOptions *options, cairo_t *cr, double width, double height)
{
  g_autoptr(PawlSketchPlan) plan = NULL;

  g_return_if_fail (rule != NULL && cr != NULL && width > 0 && height > 0);
  plan = pawl_sketch_plan_new (rule, options, cr, width, height);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  for (int is_text = 0; is_text <= 1; is_text++)
    {
      pawl_sketch_pane_paint (plan->sheet, cr, plan->options.palette, is_text);
      for (int i = 0; i < 2; i++)
        if (plan->panes[i])
          pawl_sketch_pane_paint (plan->panes[i], cr, plan->options.palette, is_text);
    }
  cairo_restore (cr);
}

void
pawl_sketch_draw_question (const PawlRule *rule, const PawlQuestion *question, gboolean is_second, const PawlSketchOptions *options, cairo_t *cr,
                           double width, double height)
{
  g_autoptr(PawlSketchPlan) plan = NULL;
  int which = pawl_question_is_right (question, is_second) ? 0 : 1;

  g_return_if_fail (pawl_rule_can_be_asked (rule) && cr != NULL && width > 0 && height > 0);
  plan = pawl_sketch_plan_new_question (rule, question, options, cr, width, height);
  cairo_save (cr);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_clip (cr);
  for (int is_text = 0; is_text <= 1; is_text++)
    pawl_sketch_pane_paint (plan->panes[which], cr, plan->options.palette, is_text);
  cairo_restore (cr);
}

double
pawl_sketch_get_exaggeration (const PawlRule *rule, const PawlSketchOptions *options, double width, double height)
{
  g_autoptr(PawlSketchPlan) plan = NULL;
  cairo_surface_t *nowhere;
  cairo_t *cr;

  g_return_val_if_fail (rule != NULL && width > 0 && height > 0, 1);
  nowhere = cairo_image_surface_create (CAIRO_FORMAT_A8, 1, 1); /* for measuring text */
  cr = cairo_create (nowhere);
  plan = pawl_sketch_plan_new (rule, options, cr, width, height);
  cairo_destroy (cr);
  cairo_surface_destroy (nowhere);
  return plan->exaggeration;
}
