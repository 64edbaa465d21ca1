#include "report/pawl-photo.h"

#include <gdk-pixbuf/gdk-pixbuf.h>

G_DEFINE_AUTOPTR_CLEANUP_FUNC (cairo_surface_t, cairo_surface_destroy)

typedef struct {
  int      side_px;
  gboolean is_refused;
} Wanted;

/* Called when the head of the file has been read, before there is room for its pixels. */
static void
size_prepared_cb (GdkPixbufLoader *loader, int width, int height, gpointer data)
{
  Wanted *wanted = data;
  int longer = MAX (width, height);

  if ((gint64) width * height > PAWL_PHOTO_MAX_PIXELS)
    {
      wanted->is_refused = TRUE;
      gdk_pixbuf_loader_set_size (loader, 0, 0); /* makes the loader give up */
    }
  else if (longer > wanted->side_px)
    gdk_pixbuf_loader_set_size (loader, MAX (1, (int) ((gint64) width * wanted->side_px / longer)),
                                MAX (1, (int) ((gint64) height * wanted->side_px / longer)));
}

static GdkPixbuf *
decode (GBytes *bytes, int side_px, GError **error)
{
  Wanted wanted = { .side_px = side_px };
  g_autoptr (GdkPixbufLoader) loader = gdk_pixbuf_loader_new ();
  g_autoptr (GError) local_error = NULL;
  GdkPixbuf *pixbuf;
  gboolean is_written, is_closed;

  g_signal_connect (loader, "size-prepared", G_CALLBACK (size_prepared_cb), &wanted);
  is_written = gdk_pixbuf_loader_write_bytes (loader, bytes, &local_error);
  is_closed = gdk_pixbuf_loader_close (loader, is_written ? &local_error : NULL);
  pixbuf = gdk_pixbuf_loader_get_pixbuf (loader);
  if (wanted.is_refused)
    g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED, "the picture has over %d million pixels", PAWL_PHOTO_MAX_PIXELS / 1000000);
  else if (local_error)
    g_propagate_error (error, g_steal_pointer (&local_error));
  else if (!is_closed || !pixbuf)
    g_set_error_literal (error, G_IO_ERROR, G_IO_ERROR_INVALID_DATA, "the picture can't be read");
  else
    return gdk_pixbuf_apply_embedded_orientation (pixbuf);
  return NULL;
}

/* One pixel on white paper: what is transparent shows the paper. */
static guint32
blend (const guchar *pixel, gboolean has_alpha)
{
  guint alpha = has_alpha ? pixel[3] : 255;
  guint32 value = 0;

  for (int i = 0; i < 3; i++)
    value = value << 8 | (pixel[i] * alpha + 255 * (255 - alpha) + 127) / 255;
  return value;
}

static cairo_surface_t *
convert (GdkPixbuf *pixbuf)
{
  int width = gdk_pixbuf_get_width (pixbuf), height = gdk_pixbuf_get_height (pixbuf);
  int channels = gdk_pixbuf_get_n_channels (pixbuf), rowstride = gdk_pixbuf_get_rowstride (pixbuf);
  gboolean has_alpha = gdk_pixbuf_get_has_alpha (pixbuf);
  const guchar *pixels = gdk_pixbuf_read_pixels (pixbuf);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  guchar *out = cairo_image_surface_get_data (surface);

  cairo_surface_flush (surface);
  for (int y = 0; out && y < height; y++)
    {
      guint32 *row = (guint32 *) (gpointer) (out + (gsize) y * (gsize) cairo_image_surface_get_stride (surface));

      for (int x = 0; x < width; x++)
        row[x] = blend (pixels + (gsize) y * (gsize) rowstride + (gsize) x * (gsize) channels, has_alpha);
    }
  cairo_surface_mark_dirty (surface);
  return surface;
}

cairo_surface_t *
pawl_photo_load (GBytes *bytes, int side_px, GError **error)
{
  g_autoptr (GdkPixbuf) pixbuf = decode (bytes, side_px, error);

  return pixbuf ? convert (pixbuf) : NULL;
}

void
pawl_photo_draw (cairo_surface_t *surface, cairo_t *cr, double x, double y, double width, double height)
{
  double w = cairo_image_surface_get_width (surface), h = cairo_image_surface_get_height (surface);
  double scale = MIN (width / w, height / h);

  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_scale (cr, scale, scale);
  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_paint (cr);
  cairo_restore (cr);
}
