#include "report/pawl-logo.h"

#include "drawing/pawl-scene.h"
#include "report/pawl-photo.h"

#define MAX_BYTES (4 * 1024 * 1024)
#define SIDE_PX 1200

struct _PawlLogo {
  PawlScene       *scene;   /* of an SVG */
  cairo_surface_t *picture; /* of anything else */
};

static void
clear (gpointer data)
{
  PawlLogo *self = data;

  g_clear_object (&self->scene);
  g_clear_pointer (&self->picture, cairo_surface_destroy);
}

PawlLogo *
pawl_logo_ref (PawlLogo *self)
{
  return g_rc_box_acquire (self);
}

void
pawl_logo_unref (PawlLogo *self)
{
  if (self)
    g_rc_box_release_full (self, clear);
}

static GBytes *
read_file (const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GFileInputStream) stream = g_file_read (file, cancellable, error);
  g_autoptr (GBytes) bytes = stream ? g_input_stream_read_bytes (G_INPUT_STREAM (stream), MAX_BYTES + 1, cancellable, error) : NULL;

  if (!bytes)
    g_prefix_error (error, "the logo %s can't be read: ", path);
  else if (g_bytes_get_size (bytes) > MAX_BYTES)
    {
      g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_SUPPORTED, "the logo %s has over %d MiB", path, MAX_BYTES / 1024 / 1024);
      return NULL;
    }
  return g_steal_pointer (&bytes);
}

static gboolean
load_drawing (PawlLogo *self, PawlTrial *trial, GBytes *bytes, const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (PawlFigure) figure = pawl_trial_load_bytes (trial, bytes, path, PAWL_TRIAL_KEPT, cancellable, error);

  if (!figure)
    {
      g_prefix_error (error, "the logo: ");
      return FALSE;
    }
  self->scene = pawl_scene_new (figure);
  pawl_scene_set_palette (self->scene, PAWL_PALETTE_PRINT);
  pawl_scene_set_paints_paper (self->scene, FALSE);
  pawl_scene_set_number_size (self->scene, 0);
  return TRUE;
}

PawlLogo *
pawl_logo_load (PawlTrial *trial, const char *path, GCancellable *cancellable, GError **error)
{
  g_autoptr (GBytes) bytes = read_file (path, cancellable, error);
  g_autoptr (PawlLogo) self = NULL;
  g_autofree char *folded = g_ascii_strdown (path, -1);

  if (!bytes)
    return NULL;
  self = g_rc_box_new0 (PawlLogo);
  if (g_str_has_suffix (folded, ".svg") || g_str_has_suffix (folded, ".svgz"))
    return load_drawing (self, trial, bytes, path, cancellable, error) ? g_steal_pointer (&self) : NULL;
  if ((self->picture = pawl_photo_load (bytes, SIDE_PX, error)))
    return g_steal_pointer (&self);
  g_prefix_error (error, "the logo %s can't be shown; it is to be PNG, JPEG or SVG: ", path);
  return NULL;
}

double
pawl_logo_get_aspect (PawlLogo *self)
{
  PawlBox box;

  if (self->picture)
    return (double) cairo_image_surface_get_width (self->picture) / cairo_image_surface_get_height (self->picture);
  box = pawl_figure_get_view_box (pawl_scene_get_figure (self->scene));
  return box.height > 0 ? box.width / box.height : 1;
}

void
pawl_logo_draw (PawlLogo *self, cairo_t *cr, double x, double y, double width, double height)
{
  if (self->picture)
    pawl_photo_draw (self->picture, cr, x, y, width, height);
  else
    {
      cairo_save (cr);
      cairo_translate (cr, x, y);
      cairo_rectangle (cr, 0, 0, width, height);
      cairo_clip (cr);
      pawl_scene_draw (self->scene, cr, width, height);
      cairo_restore (cr);
    }
}
