/* The history of one reading: its run chart over the jobs of the procedure, and what it comes to in words. Signal "back". */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"

G_BEGIN_DECLS

#define PAWL_TYPE_HISTORY_PAGE (pawl_history_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlHistoryPage, pawl_history_page, PAWL, HISTORY_PAGE, GtkWidget)

/* @reading: (nullable): id of a reading of @session's job, else the first; of one with several places each gets a chart. What is shown is as of now. */
void pawl_history_page_show (PawlHistoryPage *self, PawlSession *session, const char *reading);
/* Puts the focus on the way back. */
void pawl_history_page_go   (PawlHistoryPage *self);

G_END_DECLS
