#include "app/pawl-readings-page.h"

#include <glib/gi18n.h>
#include "app/pawl-limits-bar.h"
#include "app/pawl-list-line.h"
#include "app/pawl-readings-state.h"

struct _PawlReadingsPage {
  GtkWidget parent_instance;
  GtkWidget *scroller, *list;
};

enum { STEP_WANTED, HISTORY_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlReadingsPage, pawl_readings_page, GTK_TYPE_WIDGET)

static void
history_clicked_cb (GtkButton *button)
{
  GtkWidget *page = gtk_widget_get_ancestor (GTK_WIDGET (button), PAWL_TYPE_READINGS_PAGE);

  g_signal_emit (page, signals[HISTORY_WANTED], 0, g_object_get_data (G_OBJECT (button), "reading"));
}

static GtkWidget *
make_history_button (const PawlReadingLine *state)
{
  GtkWidget *button = gtk_button_new_with_label (_("History"));
  g_autofree char *name = g_strdup_printf (_("History of %s"), state->name);

  gtk_widget_add_css_class (button, "flat");
  gtk_widget_add_css_class (button, "small");
  gtk_widget_set_halign (button, GTK_ALIGN_END);
  gtk_widget_set_valign (button, GTK_ALIGN_CENTER);
  gtk_widget_set_tooltip_text (button, _("This reading in all jobs of the procedure"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_object_set_data_full (G_OBJECT (button), "reading", g_strdup (state->id), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (history_clicked_cb), NULL);
  return button;
}

/* The bar, and beside it the way to its history: a line of its own for that would make the page half as long again. */
static GtkWidget *
make_foot (const PawlReadingLine *state, const char *words)
{
  GtkWidget *foot = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);

  if (state->has_bar)
    {
      GtkWidget *bar = pawl_limits_bar_new (&state->scale, words);

      gtk_widget_set_hexpand (bar, TRUE);
      gtk_box_append (GTK_BOX (foot), bar);
    }
  if (state->has_history)
    gtk_box_append (GTK_BOX (foot), make_history_button (state));
  return foot;
}

/* @ends: the columns at the right are all as wide as the widest, so that the bars stand under each other. */
static GtkWidget *
make_row (const PawlReadingLine *state, GtkSizeGroup *ends)
{
  GtkWidget *line = pawl_list_line_new ();
  g_autofree char *found = g_strdup_printf (_("As found  %s"), state->found);
  g_autofree char *left = *state->left != '\0' ? g_strdup_printf (_("As left  %s"), state->left) : g_strdup ("");
  g_autofree char *words = g_strdup_printf ("%s. %s. %s. %s", state->limits, found, left, state->verdict);
  GtkWidget *row;

  pawl_list_line_append (line, state->name, "row-title");
  pawl_list_line_append (line, state->limits, NULL);
  pawl_list_line_append (line, state->conditions, "secondary");
  pawl_list_line_append_widget (line, make_foot (state, words));
  pawl_list_line_append_end (line, found, NULL);
  pawl_list_line_append_end (line, left, "strong");
  pawl_list_line_append_end (line, state->verdict, "strong");
  pawl_list_line_append_end (line, state->attempts, "secondary");
  gtk_size_group_add_widget (ends, gtk_widget_get_last_child (line));
  row = pawl_list_line_wrap (line, state->name, words);
  g_object_set_data_full (G_OBJECT (row), "step", g_strdup (state->step), g_free);
  return row;
}

void
pawl_readings_page_apply (PawlReadingsPage *self, PawlJob *job, PawlLengths lengths)
{
  g_autoptr(GPtrArray) lines = job != NULL ? pawl_readings_state_new (job, lengths) : NULL;
  g_autoptr(GtkSizeGroup) ends = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  for (guint i = 0; lines != NULL && i < lines->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (lines->pdata[i], ends));
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlReadingsPage *self)
{
  const char *step = g_object_get_data (G_OBJECT (row), "step");

  if (step != NULL)
    g_signal_emit (self, signals[STEP_WANTED], 0, step);
}

static void
pawl_readings_page_dispose (GObject *object)
{
  g_clear_pointer (&PAWL_READINGS_PAGE (object)->scroller, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_readings_page_parent_class)->dispose (object);
}

static void
pawl_readings_page_class_init (PawlReadingsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_readings_page_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-readings-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlReadingsPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PawlReadingsPage, list);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  signals[HISTORY_WANTED] = g_signal_new ("history-wanted", PAWL_TYPE_READINGS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[STEP_WANTED] = g_signal_new ("step-wanted", PAWL_TYPE_READINGS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pawl_readings_page_init (PawlReadingsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
