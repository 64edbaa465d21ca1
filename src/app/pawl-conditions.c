#include "app/pawl-conditions.h"

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"

static GtkWidget *
make_label (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_yalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_widget_add_css_class (label, css_class);
  return label;
}

static void
add_line (GtkGrid *grid, guint *n, const char *name, const char *words)
{
  GtkWidget *value;

  if (words == NULL || *words == '\0')
    return;
  value = make_label (words, "conditions");
  gtk_widget_set_hexpand (value, TRUE);
  gtk_grid_attach (grid, make_label (name, "secondary"), 0, (int) *n, 1, 1);
  gtk_grid_attach (grid, value, 1, (int) *n, 1, 1);
  ++*n;
}

GtkWidget *
pawl_conditions_new (PawlProcedure *procedure, const PawlAsk *ask)
{
  const PawlReading *reading = ask->reading;
  GtkWidget *grid = gtk_grid_new ();
  g_autofree char *instrument = pawl_phrase_describe_instrument (procedure, reading);
  g_autofree char *repeats = reading->repeats > 1 ? g_strdup_printf (_("%u times, the mean counts"), reading->repeats) : NULL;
  guint n = 0;

  gtk_grid_set_column_spacing (GTK_GRID (grid), 12);
  add_line (GTK_GRID (grid), &n, _("Worked out"), reading->derived != NULL ? reading->derived->text : NULL);
  add_line (GTK_GRID (grid), &n, _("Stands"), reading->posture);
  add_line (GTK_GRID (grid), &n, _("From"), reading->from_face);
  add_line (GTK_GRID (grid), &n, _("To"), reading->to_face);
  add_line (GTK_GRID (grid), &n, _("Gasket"), reading->gasket);
  add_line (GTK_GRID (grid), &n, _("Load"), reading->load);
  add_line (GTK_GRID (grid), &n, _("Where"), reading->places);
  add_line (GTK_GRID (grid), &n, _("Taken"), repeats);
  add_line (GTK_GRID (grid), &n, _("With"), instrument);
  gtk_widget_set_visible (grid, n > 0);
  return grid;
}
