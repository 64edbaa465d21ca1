#include "app/pawl-part-item.h"

struct _PawlPartItem {
  GtkWidget parent_instance;
  char *part_id;
};

G_DEFINE_FINAL_TYPE (PawlPartItem, pawl_part_item, GTK_TYPE_WIDGET)

static void
pawl_part_item_finalize (GObject *object)
{
  g_free (PAWL_PART_ITEM (object)->part_id);
  G_OBJECT_CLASS (pawl_part_item_parent_class)->finalize (object);
}

static void
pawl_part_item_class_init (PawlPartItemClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pawl_part_item_finalize;
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_LIST_ITEM);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "partitem");
}

static void
pawl_part_item_init (PawlPartItem *self)
{
  gtk_widget_set_can_target (GTK_WIDGET (self), FALSE); /* the figure picks by ink, not by boxes */
}

GtkWidget *
pawl_part_item_new (const char *part_id, const char *name)
{
  PawlPartItem *self = g_object_new (PAWL_TYPE_PART_ITEM, NULL);

  self->part_id = g_strdup (part_id);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  return GTK_WIDGET (self);
}

const char *
pawl_part_item_get_part (PawlPartItem *self)
{
  return self->part_id;
}

void
pawl_part_item_describe (PawlPartItem *self, const char *description)
{
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, description, -1);
}
