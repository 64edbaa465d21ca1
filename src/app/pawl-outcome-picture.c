#include "app/pawl-outcome-picture.h"

#include "app/pawl-phrases.h"
#include "drawing/pawl-picture.h"

/* Pixels: twice what it takes on the page, for screens of two pixels a unit and for bench size. */
#define WIDTH 320
#define HEIGHT 240

static GdkTexture *
make_texture (cairo_surface_t *surface)
{
  int stride = cairo_image_surface_get_stride (surface), width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
  g_autoptr(GBytes) pixels = g_bytes_new (cairo_image_surface_get_data (surface), (gsize) stride * (gsize) height);

  return gdk_memory_texture_new (width, height, GDK_MEMORY_DEFAULT, pixels, (gsize) stride);
}

GHashTable *
pawl_outcome_pictures_draw (PawlProcedure *procedure, PawlFigure *figure)
{
  GHashTable *drawn = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  g_autoptr(GPtrArray) pictures = pawl_procedure_list_pictures (procedure);

  for (guint i = 0; i < pictures->len; i++)
    {
      const PawlOutcomePicture *picture = pictures->pdata[i];
      cairo_surface_t *surface = pawl_picture_draw_region (figure, picture->region, WIDTH, HEIGHT);

      if (surface != NULL)
        {
          g_hash_table_replace (drawn, g_strdup (picture->region), make_texture (surface));
          cairo_surface_destroy (surface);
        }
    }
  return drawn;
}

static void
show (GtkPicture *widget, PawlSession *session)
{
  gtk_picture_set_paintable (widget, pawl_session_peek_picture (session, g_object_get_data (G_OBJECT (widget), "region")));
}

static void
pictures_changed_cb (PawlSession *session, GtkPicture *widget)
{
  show (widget, session);
}

GtkWidget *
pawl_outcome_picture_new (PawlSession *session, const PawlOutcomePicture *picture)
{
  GtkWidget *widget = gtk_picture_new ();
  g_autofree char *word = pawl_phrase_format_outcome (picture->outcome);

  g_object_set_data_full (G_OBJECT (widget), "region", g_strdup (picture->region), g_free);
  gtk_picture_set_alternative_text (GTK_PICTURE (widget), picture->says != NULL ? picture->says : word);
  gtk_widget_set_size_request (widget, WIDTH / 2, HEIGHT / 2);
  gtk_widget_add_css_class (widget, "outcome-picture");
  g_signal_connect_object (session, "pictures-changed", G_CALLBACK (pictures_changed_cb), widget, 0);
  show (GTK_PICTURE (widget), session);
  return widget;
}
