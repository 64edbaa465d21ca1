#include "app/pawl-photo-strip.h"

#include <gdk-pixbuf/gdk-pixbuf.h>
#include <glib/gi18n.h>
#include "app/pawl-work.h"

#define THUMBNAIL_PIXELS 120

struct _PawlPhotoStrip {
  GtkWidget parent_instance;
  GtkWidget    *box;
  char         *shown;       /* digests on show, joined: nothing is done twice */
  GCancellable *cancellable; /* of what is being decoded now */
};

G_DEFINE_FINAL_TYPE (PawlPhotoStrip, pawl_photo_strip, GTK_TYPE_WIDGET)

static void
decode_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  g_autoptr(GInputStream) stream = g_memory_input_stream_new_from_bytes (data);
  GError *error = NULL;
  GdkPixbuf *picture = gdk_pixbuf_new_from_stream_at_scale (stream, THUMBNAIL_PIXELS * 2, THUMBNAIL_PIXELS * 2, TRUE, cancellable, &error);

  if (picture != NULL)
    g_task_return_pointer (task, picture, g_object_unref);
  else
    g_task_return_error (task, error);
}

static void
decoded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr(GtkPicture) view = data;
  g_autoptr(GError) error = NULL;
  g_autoptr(GdkPixbuf) picture = g_task_propagate_pointer (G_TASK (result), &error);
  g_autoptr(GdkTexture) texture = NULL;

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (picture == NULL)
    {
      gtk_picture_set_alternative_text (view, error->message);
      return;
    }
  texture = gdk_texture_new_for_pixbuf (picture);
  gtk_picture_set_paintable (view, GDK_PAINTABLE (texture));
}

static void
add_photo (PawlPhotoStrip *self, PawlRecord *record, PawlEntry *photo)
{
  GtkWidget *view = gtk_picture_new ();
  const char *caption = pawl_entry_get (photo, "caption");
  g_autoptr(GError) error = NULL;
  g_autoptr(GBytes) bytes = pawl_record_load_kept (record, pawl_entry_get (photo, "digest"), &error);
  g_autofree char *name = g_strdup_printf (_("Photo: %s"), caption != NULL ? caption : "");

  gtk_widget_set_size_request (view, THUMBNAIL_PIXELS, THUMBNAIL_PIXELS * 3 / 4);
  gtk_widget_set_tooltip_text (view, caption);
  gtk_widget_add_css_class (view, "photo");
  gtk_accessible_update_property (GTK_ACCESSIBLE (view), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  gtk_flow_box_append (GTK_FLOW_BOX (self->box), view);
  if (bytes == NULL)
    {
      gtk_picture_set_alternative_text (GTK_PICTURE (view), error->message);
      return;
    }
  {
    g_autoptr(GTask) task = g_task_new (self, self->cancellable, decoded_cb, g_object_ref (view));

    g_task_set_task_data (task, g_steal_pointer (&bytes), (GDestroyNotify) g_bytes_unref);
    pawl_work_start (task, GTK_WIDGET (self), decode_in_thread);
  }
}

static char *
join_digests (GPtrArray *photos)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < photos->len; i++)
    g_string_append_printf (text, "%s ", pawl_entry_get (photos->pdata[i], "digest"));
  return g_string_free (text, FALSE);
}

void
pawl_photo_strip_apply (PawlPhotoStrip *self, PawlRecord *record, GPtrArray *photos)
{
  g_autofree char *digests = join_digests (photos);
  GtkWidget *child;

  gtk_widget_set_visible (GTK_WIDGET (self), photos->len > 0);
  if (g_strcmp0 (digests, self->shown) == 0)
    return;
  g_free (self->shown);
  self->shown = g_steal_pointer (&digests);
  g_cancellable_cancel (self->cancellable);
  g_set_object (&self->cancellable, NULL);
  self->cancellable = g_cancellable_new ();
  while ((child = gtk_widget_get_first_child (self->box)) != NULL)
    gtk_flow_box_remove (GTK_FLOW_BOX (self->box), child);
  for (guint i = 0; i < photos->len; i++)
    add_photo (self, record, photos->pdata[i]);
}

static void
pawl_photo_strip_dispose (GObject *object)
{
  PawlPhotoStrip *self = PAWL_PHOTO_STRIP (object);

  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->shown, g_free);
  G_OBJECT_CLASS (pawl_photo_strip_parent_class)->dispose (object);
}

static void
pawl_photo_strip_class_init (PawlPhotoStripClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pawl_photo_strip_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static void
pawl_photo_strip_init (PawlPhotoStrip *self)
{
  self->box = gtk_flow_box_new ();
  gtk_flow_box_set_selection_mode (GTK_FLOW_BOX (self->box), GTK_SELECTION_NONE);
  gtk_flow_box_set_max_children_per_line (GTK_FLOW_BOX (self->box), 6);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->box), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Photos of this step"), -1);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}
