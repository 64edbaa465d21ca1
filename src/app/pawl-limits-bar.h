/* Limits as a bar with the readings on it: as found an open mark, as left a filled one with its uncertainty as a whisker; stripes where
 * the policy leaves a reading too close to call. */
#pragma once

#include <gtk/gtk.h>
#include "view/pawl-limits-scale.h"

G_BEGIN_DECLS

#define PAWL_TYPE_LIMITS_BAR (pawl_limits_bar_get_type ())
G_DECLARE_FINAL_TYPE (PawlLimitsBar, pawl_limits_bar, PAWL, LIMITS_BAR, GtkWidget)

/* @words: what the bar says, for who can't see it. */
GtkWidget *pawl_limits_bar_new (const PawlLimitsScale *scale, const char *words);

/* Writes what the limits are under their marks. (nullable) each */
void       pawl_limits_bar_set_ends (PawlLimitsBar *self, const char *low, const char *high);

G_END_DECLS
