/* A line of a list: texts below each other on the left, a column on the right. Used by all list pages, so that they look alike. */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

GtkWidget *pawl_list_line_new           (void);
/* Empty or NULL texts are left out. @css_class: (nullable). */
void       pawl_list_line_append        (GtkWidget *line, const char *text, const char *css_class);
void       pawl_list_line_append_end    (GtkWidget *line, const char *text, const char *css_class);
void       pawl_list_line_append_widget (GtkWidget *line, GtkWidget *child);
void       pawl_list_line_append_end_widget (GtkWidget *line, GtkWidget *child);
/* A row for a GtkListBox, with its accessible name and description. */
GtkWidget *pawl_list_line_wrap          (GtkWidget *line, const char *name, const char *description);
/* A row that only divides: can't be selected or activated. */
GtkWidget *pawl_list_line_make_heading  (const char *text);
void       pawl_list_line_clear         (GtkListBox *list);

G_END_DECLS
