#include "app/pawl-caution-panel.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

static const char *
get_css_class (PawlSignal signal)
{
  switch (signal)
    {
    case PAWL_SIGNAL_DANGER:  return "danger";
    case PAWL_SIGNAL_WARNING: return "warning";
    case PAWL_SIGNAL_CAUTION: return "caution";
    case PAWL_SIGNAL_NOTICE:
    default:                  return "notice";
    }
}

/* The alert triangle goes with danger, warning and caution, not with notice (ANSI Z535.6). */
static char *
make_head (PawlSignal signal)
{
  return g_strdup_printf ("%s%s", signal != PAWL_SIGNAL_NOTICE ? "⚠ " : "", pawl_phrase_get_signal (signal));
}

static void
append_label (GtkWidget *box, const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  gtk_box_append (GTK_BOX (box), label);
}

GtkWidget *
pawl_caution_panel_new (const PawlCaution *caution)
{
  GtkWidget *panel = g_object_new (GTK_TYPE_BOX, "orientation", GTK_ORIENTATION_VERTICAL, "accessible-role", GTK_ACCESSIBLE_ROLE_GROUP, NULL);
  GtkWidget *body = gtk_box_new (GTK_ORIENTATION_VERTICAL, 2);
  g_autofree char *head = make_head (caution->signal);
  g_autofree char *text = g_strdup_printf ("%s %s", caution->hazard, caution->consequence);
  g_autofree char *avoid = pawl_phrase_describe_avoiding (caution);

  gtk_widget_add_css_class (panel, "caution-panel");
  gtk_widget_add_css_class (panel, get_css_class (caution->signal));
  append_label (panel, head, "signal-word");
  gtk_widget_add_css_class (body, "caution-body");
  append_label (body, text, NULL);
  append_label (body, avoid, "avoid");
  gtk_box_append (GTK_BOX (panel), body);
  gtk_accessible_update_property (GTK_ACCESSIBLE (panel), GTK_ACCESSIBLE_PROPERTY_LABEL, pawl_phrase_get_signal (caution->signal),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, text, -1);
  return panel;
}
