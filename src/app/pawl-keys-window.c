#include "app/pawl-keys-window.h"

#include <glib/gi18n.h>
#include "app/pawl-list-line.h"

typedef struct {
  const char *what; /* heading of a group when it has no keys */
  const char *keys;
} Row;

/* As pawl-window-actions.c and pawl-key-plan.c have them. */
static const Row rows[] = {
  { N_("At the bench"), NULL },
  { N_("Go to what is next; again: confirm it"), N_("Space, Enter, Page Down, a foot switch") },
  { N_("Back, to look"), N_("Backspace, Page Up") },
  { N_("A reading"), N_("type its digits, then Enter") },
  { N_("Asked first: the first, the second picture"), N_("1, 2; arrows and Space") },
  { N_("Take back the reading just taken"), N_("Delete") },
  { N_("Undo the newest answer"), N_("Ctrl+Z") },
  { N_("Where the work stopped"), N_("F7") },
  { N_("A note"), N_("Ctrl+N") },
  { N_("A photo"), N_("Ctrl+I") },
  { N_("The photo that a step asks for, or on without"), N_("F2, F3") },
  { N_("I did it differently"), N_("Ctrl+D") },
  { N_("Try a failed save again"), N_("Ctrl+S") },
  { N_("The figure"), NULL },
  { N_("Zoom to this step"), N_("F8") },
  { N_("Whole unit"), N_("Ctrl+0") },
  { N_("Closer, farther"), N_("Ctrl++, Ctrl+−, wheel, two fingers") },
  { N_("Pick a part by its number"), N_("Right, Left, on the figure") },
  { N_("Pick a part as they stand on the sheet"), N_("Down, Up, on the figure") },
  { N_("Move the figure"), N_("Shift and arrow keys, on the figure; drag it") },
  { N_("Figure back in its place"), N_("Home, on the figure") },
  { N_("See the unit build itself up, pause"), N_("F9") },
  { N_("How it comes apart: advice"), N_("Shift+F9") },
  { N_("One step on, one step back, only to look"), N_("Alt+Right, Alt+Left") },
  { N_("Back to the job"), N_("Escape") },
  { N_("Pages"), NULL },
  { N_("Bench, Run, Readings, Parts, Report"), N_("Alt+1 to Alt+5") },
  { N_("History of the readings"), N_("Ctrl+H") },
  { N_("Print the report"), N_("Ctrl+P") },
  { N_("Save the report"), N_("Ctrl+Shift+S") },
  { N_("All jobs"), N_("Ctrl+J") },
  { N_("Look for a job"), N_("Ctrl+F") },
  { N_("Bench sums"), N_("F4") },
  { N_("Instruments"), N_("F6") },
  { N_("Open a procedure file"), N_("Ctrl+O") },
  { N_("Bench size"), N_("Ctrl+B") },
  { N_("For a bench in the sun: black on white"), N_("Ctrl+G") },
  { N_("Full screen"), N_("F11") },
};

static GtkWidget *
make_row (const Row *row)
{
  GtkWidget *line;

  if (row->keys == NULL)
    return pawl_list_line_make_heading (_(row->what));
  line = pawl_list_line_new ();
  pawl_list_line_append (line, _(row->what), NULL);
  pawl_list_line_append_end (line, _(row->keys), "strong");
  return pawl_list_line_wrap (line, _(row->what), _(row->keys));
}

static void
close_on_escape (GtkWidget *window)
{
  GtkEventController *controller = gtk_shortcut_controller_new ();

  gtk_shortcut_controller_add_shortcut (GTK_SHORTCUT_CONTROLLER (controller),
                                        gtk_shortcut_new (gtk_keyval_trigger_new (GDK_KEY_Escape, 0), gtk_named_action_new ("window.close")));
  gtk_widget_add_controller (window, controller);
}

void
pawl_keys_window_show (GtkWindow *parent)
{
  GtkWidget *window = gtk_window_new (), *scroller = gtk_scrolled_window_new (), *list = gtk_list_box_new ();

  gtk_list_box_set_selection_mode (GTK_LIST_BOX (list), GTK_SELECTION_NONE);
  gtk_widget_add_css_class (list, "cards");
  gtk_accessible_update_property (GTK_ACCESSIBLE (list), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Keys"), -1);
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    gtk_list_box_append (GTK_LIST_BOX (list), make_row (&rows[i]));
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (scroller), list);
  gtk_window_set_child (GTK_WINDOW (window), scroller);
  gtk_window_set_title (GTK_WINDOW (window), _("Keys"));
  gtk_window_set_default_size (GTK_WINDOW (window), 620, 680);
  gtk_window_set_transient_for (GTK_WINDOW (window), parent);
  gtk_window_set_destroy_with_parent (GTK_WINDOW (window), TRUE);
  gtk_widget_add_css_class (window, "pawl");
  close_on_escape (window);
  gtk_window_present (GTK_WINDOW (window));
}
