/*
 * The lanes on the screen: scrolled, brought closer, walked through by arrow keys. Enter, Space or a click wants what is there.
 * Signals "spot-changed" (when another place, or none, is looked at) and "spot-wanted".
 */
#pragma once

#include <gtk/gtk.h>
#include "plan/pawl-lanes.h"

G_BEGIN_DECLS

#define PAWL_TYPE_LANES_AREA (pawl_lanes_area_get_type ())
G_DECLARE_FINAL_TYPE (PawlLanesArea, pawl_lanes_area, PAWL, LANES_AREA, GtkWidget)

/* @plan: (nullable): worked out; lent until another is set. What was looked at stays so when @plan has it too. */
void           pawl_lanes_area_set_plan   (PawlLanesArea *self, const PawlWorkPlan *plan);
/* The next plan is another picture: it is seen from its beginning. */
void           pawl_lanes_area_forget     (PawlLanesArea *self);
/* Moves the line of the moment. */
void           pawl_lanes_area_set_now    (PawlLanesArea *self, GDateTime *now);
/* Looks at a step of a job, and scrolls to it. */
void           pawl_lanes_area_look_at    (PawlLanesArea *self, const char *job_id, const char *step_id);
/* FALSE: nothing is looked at. */
gboolean       pawl_lanes_area_get_spot   (PawlLanesArea *self, PawlLanesSpot *spot);
/* What is said of the place that is looked at: read out, and shown beside the picture by the page. */
void           pawl_lanes_area_describe   (PawlLanesArea *self, const char *name, const char *description);
/* @factor: above 1 comes closer. 0: all of it. */
void           pawl_lanes_area_zoom_by    (PawlLanesArea *self, double factor);
GtkAdjustment *pawl_lanes_area_get_across (PawlLanesArea *self);
GtkAdjustment *pawl_lanes_area_get_down   (PawlLanesArea *self);

G_END_DECLS
