#include "app/pawl-figure-wishes.h"

/* Pale copies are made before they are asked for while all images together take no more than this. */
#define SPARE_BYTES (24 * 1024 * 1024)

static void
want (GArray *jobs, PawlChunkJobKind kind, guint n, const PawlChunkPlace *place, PawlChunkImage *ink)
{
  PawlChunkJob job = { .kind = kind, .n = n };

  if (place != NULL)
    {
      job.grid = place->grid;
      job.window = place->window;
    }
  job.ink = ink != NULL ? pawl_chunk_image_ref (ink) : NULL;
  g_array_append_val (jobs, job);
}

/* (nullable): ink from which the pale look can be made without drawing. */
static PawlChunkImage *
find_ink (PawlScene *scene, guint n, const PawlChunkPlace *place)
{
  PawlChunkPlace ink = *place;

  ink.grid.look = PAWL_LOOK_INK;
  return place->grid.look == PAWL_LOOK_PALE && pawl_scene_is_sharp (scene, n, &ink) ? pawl_scene_peek_image (scene, n, PAWL_LOOK_INK) : NULL;
}

/* Adds what is missing for chunk @n, and notes whether anything is. */
static void
want_chunk (PawlScene *scene, guint n, const PawlChunkPlace *place, gboolean *has_all, GArray *jobs)
{
  if (place->is_strong && pawl_figure_get_chunk (pawl_scene_get_figure (scene), n)->silhouette == NULL)
    want (jobs, PAWL_CHUNK_JOB_TRACE, n, NULL, NULL);
  if (!pawl_scene_is_sharp (scene, n, place))
    want (jobs, PAWL_CHUNK_JOB_DRAW, n, place, find_ink (scene, n, place));
  *has_all &= pawl_scene_peek_image (scene, n, PAWL_LOOK_INK) != NULL || pawl_scene_peek_image (scene, n, PAWL_LOOK_PALE) != NULL;
}

GArray *
pawl_figure_wishes_list (PawlScene *scene, double width, double height, gboolean is_at_rest, gboolean *has_all)
{
  GArray *jobs = pawl_chunk_jobs_new ();
  PawlChunkPlace place;

  *has_all = TRUE;
  if (is_at_rest)
    pawl_scene_drop_spares (scene, width, height);
  for (guint n = 0; n < pawl_scene_get_n_chunks (scene); n++)
    if (pawl_scene_get_place (scene, n, width, height, &place) && place.is_strong)
      want_chunk (scene, n, &place, has_all, jobs);
  for (guint n = 0; n < pawl_scene_get_n_chunks (scene); n++)
    if (pawl_scene_get_place (scene, n, width, height, &place) && !place.is_strong)
      want_chunk (scene, n, &place, has_all, jobs);
  return jobs;
}

void
pawl_figure_wishes_add_spares (PawlScene *scene, double width, double height, GArray *jobs)
{
  PawlChunkPlace place;
  gsize bytes = 0;

  for (guint n = 0; n < pawl_scene_get_n_chunks (scene); n++)
    {
      PawlChunkImage *ink = pawl_scene_peek_image (scene, n, PAWL_LOOK_INK);

      bytes += ink != NULL ? pawl_chunk_image_get_size (ink) : 0;
      if (bytes > SPARE_BYTES)
        break;
      if (ink == NULL || !pawl_scene_get_place (scene, n, width, height, &place) || place.grid.look == PAWL_LOOK_PALE)
        continue;
      place.grid.look = PAWL_LOOK_PALE;
      if (!pawl_scene_is_sharp (scene, n, &place))
        want (jobs, PAWL_CHUNK_JOB_DRAW, n, &place, ink);
    }
}

GArray *
pawl_figure_wishes_list_measures (PawlScene *scene)
{
  PawlFigure *figure = pawl_scene_get_figure (scene);
  GArray *jobs = pawl_chunk_jobs_new ();

  for (guint n = 0; n < pawl_scene_get_n_chunks (scene); n++)
    if (!pawl_figure_get_chunk (figure, n)->is_measured)
      want (jobs, PAWL_CHUNK_JOB_MEASURE, n, NULL, NULL);
  return jobs;
}

GArray *
pawl_figure_wishes_list_kept (PawlScene *scene, double width, double height)
{
  GArray *images = pawl_kept_images_new ();
  PawlChunkPlace place;

  for (guint n = 0; n < pawl_scene_get_n_chunks (scene); n++)
    if (pawl_scene_get_place (scene, n, width, height, &place) && pawl_scene_is_sharp (scene, n, &place))
      g_array_append_val (images, ((PawlKeptImage) { n, pawl_chunk_image_ref (pawl_scene_peek_image (scene, n, place.grid.look)) }));
  return images;
}
