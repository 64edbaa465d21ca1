/* Charts of what people did right, and how fast they became. Each has its figures in words as its accessible description. */
#pragma once

#include <gtk/gtk.h>
#include "training/pawl-learning-curve.h"
#include "training/pawl-rate.h"

G_BEGIN_DECLS

/* Shares with their intervals, a line each, over one scale from 0 to 100 %. @name: of the chart. */
GtkWidget *pawl_rate_chart_new (const char *name);
/* @has_chance: a mark at one half, which who guesses reaches by chance. A rate of nothing yet has words alone. */
void       pawl_rate_chart_add (GtkWidget *chart, const char *label, const PawlRate *rate, gboolean has_chance);

/* (transfer full): "7 of 12, 58 % (32 to 81 %)", in the user's language */
char      *pawl_class_words_of_rate (const PawlRate *rate);

/* Attended minutes of one job after the other. @curve: (nullable): too few for one. @median: of everybody's jobs, minutes; NAN: none. All copied. */
GtkWidget *pawl_curve_chart_new (const char *name, const double *minutes, guint n, const PawlLearningCurve *curve, double median);

G_END_DECLS
