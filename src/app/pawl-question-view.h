/*
 * Two pictures of a fit to choose between before its answer is shown, as two large buttons. Neither their places nor their names say which is right.
 * Signal "chosen" (gboolean is_second): one was pressed.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"

G_BEGIN_DECLS

#define PAWL_TYPE_QUESTION_VIEW (pawl_question_view_get_type ())
G_DECLARE_FINAL_TYPE (PawlQuestionView, pawl_question_view, PAWL, QUESTION_VIEW, GtkWidget)

/* @rule: one that can be asked, borrowed; whoever holds the procedure outlives the view's use of it. @title: what the buttons are named by. */
GtkWidget   *pawl_question_view_new   (const PawlRule *rule, const char *title, PawlSession *session);
/* How it is put now, and whether it may be answered. */
void         pawl_question_view_apply (PawlQuestionView *self, const PawlQuestion *question, gboolean is_open);
PawlQuestion pawl_question_view_get_question (PawlQuestionView *self);
/* 1 and 2 choose, arrows go to a picture. A digit counts when no other key comes close to it: what a gauge types is no choice. FALSE: no key of this. */
gboolean     pawl_question_view_press (PawlQuestionView *self, guint keyval, gint64 at_usec);

G_END_DECLS
