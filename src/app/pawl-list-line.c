#include "app/pawl-list-line.h"

/* Characters. Up to here a text of the right column stays on one line, and is as wide as it is: a chip that wraps can't be read. */
#define WIDEST_END 36

static GtkWidget *
make_label (const char *text, const char *css_class, float align)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), align);
  gtk_label_set_justify (GTK_LABEL (label), align > 0.5f ? GTK_JUSTIFY_RIGHT : GTK_JUSTIFY_LEFT);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

GtkWidget *
pawl_list_line_new (void)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 18);
  GtkWidget *start = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3), *end = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);

  gtk_widget_set_hexpand (start, TRUE);
  gtk_widget_set_valign (end, GTK_ALIGN_START);
  gtk_box_append (GTK_BOX (line), start);
  gtk_box_append (GTK_BOX (line), end);
  gtk_widget_add_css_class (line, "list-line");
  return line;
}

void
pawl_list_line_append (GtkWidget *line, const char *text, const char *css_class)
{
  if (text != NULL && *text != '\0')
    gtk_box_append (GTK_BOX (gtk_widget_get_first_child (line)), make_label (text, css_class, 0));
}

void
pawl_list_line_append_end (GtkWidget *line, const char *text, const char *css_class)
{
  GtkWidget *label;

  if (text == NULL || *text == '\0')
    return;
  label = make_label (text, css_class, 1);
  if (g_utf8_strlen (text, -1) <= WIDEST_END)
    gtk_label_set_wrap (GTK_LABEL (label), FALSE);
  else
    gtk_label_set_width_chars (GTK_LABEL (label), WIDEST_END);
  gtk_label_set_max_width_chars (GTK_LABEL (label), WIDEST_END);
  gtk_widget_set_halign (label, GTK_ALIGN_END);
  gtk_box_append (GTK_BOX (gtk_widget_get_last_child (line)), label);
}

void
pawl_list_line_append_widget (GtkWidget *line, GtkWidget *child)
{
  gtk_box_append (GTK_BOX (gtk_widget_get_first_child (line)), child);
}

void
pawl_list_line_append_end_widget (GtkWidget *line, GtkWidget *child)
{
  gtk_box_append (GTK_BOX (gtk_widget_get_last_child (line)), child);
}

GtkWidget *
pawl_list_line_wrap (GtkWidget *line, const char *name, const char *description)
{
  GtkWidget *row = gtk_list_box_row_new ();

  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), line);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, name, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
  return row;
}

GtkWidget *
pawl_list_line_make_heading (const char *text)
{
  GtkWidget *row = gtk_list_box_row_new ();

  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (row), make_label (text, "list-heading", 0));
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_list_box_row_set_selectable (GTK_LIST_BOX_ROW (row), FALSE);
  gtk_widget_set_focusable (row, FALSE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (row), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  return row;
}

void
pawl_list_line_clear (GtkListBox *list)
{
  GtkWidget *row;

  while ((row = gtk_widget_get_first_child (GTK_WIDGET (list))) != NULL)
    gtk_list_box_remove (list, row);
}
