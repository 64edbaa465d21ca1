#include "app/pawl-variant-choice.h"

#include <glib/gi18n.h>

static GtkWidget *
make_line (PawlProcedure *procedure, const PawlVariantSet *set, guint number)
{
  GPtrArray *variants = pawl_procedure_get_variants (procedure);
  const char *title = *set->name != '\0' ? set->name : _("Variant");
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  GtkWidget *label = g_object_new (GTK_TYPE_LABEL, "label", title, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  GtkWidget *choice;

  if (set->is_by_serial)
    gtk_string_list_append (names, _("As the serial number says"));
  for (guint i = 0; i < variants->len; i++)
    if (((PawlVariant *) variants->pdata[i])->set == number)
      gtk_string_list_append (names, ((PawlVariant *) variants->pdata[i])->name);
  choice = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&names)), NULL);
  gtk_widget_set_hexpand (choice, TRUE);
  gtk_widget_set_tooltip_text (choice, set->tell);
  gtk_accessible_update_property (GTK_ACCESSIBLE (choice), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
  gtk_box_append (GTK_BOX (line), label);
  gtk_box_append (GTK_BOX (line), choice);
  return line;
}

void
pawl_variant_choice_fill (GtkBox *box, PawlProcedure *procedure)
{
  GPtrArray *sets = pawl_procedure_get_variant_sets (procedure);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (GTK_WIDGET (box))) != NULL)
    gtk_box_remove (box, child);
  gtk_widget_set_visible (GTK_WIDGET (box), sets->len > 0);
  for (guint i = 0; i < sets->len; i++)
    gtk_box_append (box, make_line (procedure, sets->pdata[i], i));
}

static GtkDropDown *
get_drop_down (GtkWidget *line)
{
  return GTK_DROP_DOWN (gtk_widget_get_last_child (line));
}

void
pawl_variant_choice_select (GtkBox *box, PawlProcedure *procedure, const char *variant)
{
  GPtrArray *variants = pawl_procedure_get_variants (procedure), *sets = pawl_procedure_get_variant_sets (procedure);
  GtkWidget *line = gtk_widget_get_first_child (GTK_WIDGET (box));

  for (guint set = 0; set < sets->len && line != NULL; set++, line = gtk_widget_get_next_sibling (line))
    {
      guint at = ((PawlVariantSet *) sets->pdata[set])->is_by_serial ? 1 : 0;

      for (guint i = 0; i < variants->len; i++)
        {
          const PawlVariant *one = variants->pdata[i];

          if (one->set != set)
            continue;
          if (pawl_variant_matches (one->id, variant))
            gtk_drop_down_set_selected (get_drop_down (line), at);
          at++;
        }
    }
}

void
pawl_variant_choice_watch (GtkBox *box, GCallback changed, gpointer data)
{
  for (GtkWidget *line = gtk_widget_get_first_child (GTK_WIDGET (box)); line != NULL; line = gtk_widget_get_next_sibling (line))
    g_signal_connect_object (get_drop_down (line), "notify::selected", changed, data, G_CONNECT_SWAPPED);
}

char *
pawl_variant_choice_dup (GtkBox *box, PawlProcedure *procedure)
{
  GPtrArray *variants = pawl_procedure_get_variants (procedure), *sets = pawl_procedure_get_variant_sets (procedure);
  GString *ids = g_string_new (NULL);
  GtkWidget *line = gtk_widget_get_first_child (GTK_WIDGET (box));

  for (guint set = 0; set < sets->len && line != NULL; set++, line = gtk_widget_get_next_sibling (line))
    {
      guint at = ((PawlVariantSet *) sets->pdata[set])->is_by_serial ? 1 : 0;
      guint selected = gtk_drop_down_get_selected (get_drop_down (line));

      for (guint i = 0; i < variants->len; i++)
        if (((PawlVariant *) variants->pdata[i])->set == set && at++ == selected)
          g_string_append_printf (ids, "%s%s", ids->len > 0 ? " " : "", ((PawlVariant *) variants->pdata[i])->id);
    }
  return g_string_free (ids, FALSE);
}
