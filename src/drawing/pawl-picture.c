#include "drawing/pawl-picture.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <math.h>

#define LEAST_SIDE 16.0
#define LARGEST_SIDE 16000.0

G_DEFINE_QUARK (pawl-picture-error-quark, pawl_picture_error)

static cairo_status_t
append_cb (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static gboolean
has_ending (const char *path, const char *ending)
{
  g_autofree char *lower = g_ascii_strdown (path, -1);

  return g_str_has_suffix (lower, ending);
}

static cairo_surface_t *
create_surface (const char *path, double width, double height, GByteArray *bytes)
{
  cairo_surface_t *surface = NULL;

  if (has_ending (path, ".png"))
    surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, (int) ceil (width), (int) ceil (height));
  else if (has_ending (path, ".svg"))
    {
      surface = cairo_svg_surface_create_for_stream (append_cb, bytes, width, height);
      cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PT);
    }
  else if (has_ending (path, ".pdf"))
    {
      surface = cairo_pdf_surface_create_for_stream (append_cb, bytes, width, height);
      cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, "Pawl");
    }
  return surface;
}

gboolean
pawl_picture_write (const char *path, double width, double height, PawlPictureDraw draw, gpointer data, GError **error)
{
  g_autoptr(GByteArray) bytes = g_byte_array_new ();
  g_autoptr(GError) fault = NULL;
  cairo_surface_t *surface;
  cairo_status_t status;
  cairo_t *cr;

  g_return_val_if_fail (path != NULL && draw != NULL, FALSE);
  if (!(width >= LEAST_SIDE && height >= LEAST_SIDE && width <= LARGEST_SIDE && height <= LARGEST_SIDE))
    {
      g_set_error (error, PAWL_PICTURE_ERROR, PAWL_PICTURE_ERROR_SIZE, "a picture of %g by %g; each side must be from %g to %g", width, height, LEAST_SIDE, LARGEST_SIDE);
      return FALSE;
    }
  if (!(surface = create_surface (path, width, height, bytes)))
    {
      g_set_error (error, PAWL_PICTURE_ERROR, PAWL_PICTURE_ERROR_KIND, "%s: the name must end in .png, .svg or .pdf", path);
      return FALSE;
    }
  cr = cairo_create (surface);
  draw (cr, width, height, data);
  status = cairo_status (cr);
  cairo_destroy (cr);
  if (status == CAIRO_STATUS_SUCCESS && cairo_surface_get_type (surface) == CAIRO_SURFACE_TYPE_IMAGE)
    status = cairo_surface_write_to_png_stream (surface, append_cb, bytes);
  cairo_surface_finish (surface);
  if (status == CAIRO_STATUS_SUCCESS)
    status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, PAWL_PICTURE_ERROR, PAWL_PICTURE_ERROR_IO, "%s: can't be drawn: %s", path, cairo_status_to_string (status));
      return FALSE;
    }
  if (!g_file_set_contents_full (path, (const char *) bytes->data, bytes->len, G_FILE_SET_CONTENTS_CONSISTENT, 0666, &fault))
    {
      g_set_error (error, PAWL_PICTURE_ERROR, PAWL_PICTURE_ERROR_IO, "%s: can't be written: %s", path, fault->message);
      return FALSE;
    }
  return TRUE;
}

static void
draw_scene_cb (cairo_t *cr, double width, double height, gpointer data)
{
  pawl_scene_draw (data, cr, width, height);
}

gboolean
pawl_picture_write_scene (const char *path, PawlScene *scene, double width, double height, GError **error)
{
  g_return_val_if_fail (PAWL_IS_SCENE (scene), FALSE);
  return pawl_picture_write (path, width, height, draw_scene_cb, scene, error);
}

typedef struct {
  const PawlRule          *rule;
  const PawlSketchOptions *options;
} SketchJob;

static void
draw_sketch_cb (cairo_t *cr, double width, double height, gpointer data)
{
  const SketchJob *job = data;
  const PawlInks inks = pawl_palette_get_inks (job->options->palette);

  pawl_ink_set_source (&inks.paper, cr, 1);
  cairo_paint (cr);
  pawl_sketch_draw (job->rule, job->options, cr, width, height);
}

gboolean
pawl_picture_write_sketch (const char *path, const PawlRule *rule, const PawlSketchOptions *options, double width, double height, GError **error)
{
  SketchJob job = { rule, options };

  g_return_val_if_fail (rule != NULL, FALSE);
  return pawl_picture_write (path, width, height, draw_sketch_cb, &job, error);
}

cairo_surface_t *
pawl_picture_draw_region (PawlFigure *figure, const char *region, int width, int height)
{
  g_autoptr(PawlScene) scene = NULL;
  cairo_surface_t *surface;
  cairo_t *cr;

  g_return_val_if_fail (PAWL_IS_FIGURE (figure) && region != NULL, NULL);
  scene = pawl_scene_new (figure);
  pawl_scene_set_all (scene, PAWL_STATE_HIDDEN);
  if (!pawl_scene_set_state (scene, region, PAWL_STATE_OUT))
    return NULL;
  pawl_scene_show_regions (scene, (const char *[]) { region, NULL }, 0.06);
  surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cr = cairo_create (surface);
  pawl_scene_draw (scene, cr, width, height);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}
