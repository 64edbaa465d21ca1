#include "app/pawl-part-items.h"

#include <glib/gi18n.h>
#include "app/pawl-part-item.h"
#include "app/pawl-phrases.h"

struct _PawlPartItems {
  GtkWidget  *parent;
  GHashTable *items; /* (element-type utf8 PawlPartItem) by part id; the parent's children */
};

PawlPartItems *
pawl_part_items_new (GtkWidget *parent)
{
  PawlPartItems *self = g_new0 (PawlPartItems, 1);

  self->parent = parent;
  self->items = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  return self;
}

void
pawl_part_items_free (PawlPartItems *self)
{
  pawl_part_items_clear (self);
  g_hash_table_unref (self->items);
  g_free (self);
}

void
pawl_part_items_clear (PawlPartItems *self)
{
  GHashTableIter iter;
  gpointer item;

  g_hash_table_iter_init (&iter, self->items);
  while (g_hash_table_iter_next (&iter, NULL, &item))
    gtk_widget_unparent (item);
  g_hash_table_remove_all (self->items);
}

char *
pawl_part_items_describe (const PawlPartView *view)
{
  return g_strdup_printf (view->is_in_hand ? _("%s %s: in this step, %s") : "%s %s: %s", view->part->item, view->part->name,
                          pawl_phrase_get_place (view->place));
}

static GtkWidget *
add_item (PawlPartItems *self, const PawlPart *part)
{
  g_autofree char *name = g_strdup_printf ("%s %s", part->item, part->name);
  GtkWidget *item = pawl_part_item_new (part->id, name);

  gtk_widget_set_parent (item, self->parent);
  g_hash_table_insert (self->items, g_strdup (part->id), item);
  return item;
}

void
pawl_part_items_update (PawlPartItems *self, GPtrArray *views)
{
  for (guint i = 0; i < views->len; i++)
    {
      const PawlPartView *view = views->pdata[i];
      GtkWidget *item = g_hash_table_lookup (self->items, view->part->id);
      g_autofree char *words = pawl_part_items_describe (view);

      pawl_part_item_describe (PAWL_PART_ITEM (item != NULL ? item : add_item (self, view->part)), words);
    }
}

void
pawl_part_items_allocate (PawlPartItems *self, const PawlPartView *view, PawlScene *scene, int width, int height)
{
  GtkWidget *item = g_hash_table_lookup (self->items, view->part->id);
  PawlBox box = pawl_scene_get_region_box (scene, view->part->regions[0], width, height);
  GtkAllocation place = { (int) box.x, (int) box.y, MAX ((int) box.width, 1), MAX ((int) box.height, 1) };

  if (item == NULL)
    return;
  gtk_widget_measure (item, GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_size_allocate (item, &place, -1);
}
