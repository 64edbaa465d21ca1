/*
 * pawl-trial: draws one figure, so that another process learns whether the drawing library gets through with it. Started by Pawl alone:
 * the figure comes on standard input, limits are set before a byte of it is read, the answer goes to a descriptor of its own.
 */
#include <fcntl.h>
#include <math.h>
#include <pthread.h>
#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "drawing/pawl-chunk-artist.h"
#include "drawing/pawl-figure-scan.h"
#include "drawing/pawl-trial-private.h"
#include "trial/pawl-trial-limits.h"

#define ANSWER_WRITTEN 0
#define CANT_ANSWER 3
#define STARTED_WRONG 4

static void
tell (const char *line)
{
  gsize length = strlen (line);

  if (write (PAWL_TRIAL_ANSWER_FD, line, length) != (gssize) length)
    _exit (CANT_ANSWER);
}

/* @reason: "figure:LINE: WORDS"; the line goes ahead, the name is for Pawl to put before it. */
static void
tell_failure (const char *reason)
{
  const char *words = strstr (reason, ": ");
  g_autofree char *clean = pawl_trial_clean_words (words ? words + 2 : reason, -1);
  int line = 0;
  g_autofree char *answer = NULL;

  sscanf (reason, "figure:%9d", &line);
  answer = g_strdup_printf ("at %d\nfailed %s\n", line, clean);
  tell (answer);
}

static GBytes *
read_figure (void)
{
  GByteArray *bytes = g_byte_array_new ();
  guint8 buffer[65536];
  gssize n;

  while ((n = read (STDIN_FILENO, buffer, sizeof buffer)) > 0 && bytes->len <= PAWL_FIGURE_MAX_BYTES)
    g_byte_array_append (bytes, buffer, (guint) n);
  return g_byte_array_free_to_bytes (bytes);
}

/* PAWL_TRIAL_UNSCANNED is for tests: what only the limits of this process stop must not be stopped by the scan before. */
static PawlFigure *
open_figure (GBytes *bytes, GError **error)
{
  PawlFigureScan scan = { .view_box = { 0, 0, 1000, 1000 }, .has_view_box = TRUE };

#ifdef PAWL_TRIAL_UNSCANNED
  scan.findings = g_ptr_array_new_with_free_func (g_free);
#else
  if (!pawl_figure_scan (bytes, "figure", &scan, error))
    return NULL;
#endif
  return pawl_figure_new_scanned (bytes, "figure", &scan, error);
}

/* A surface that got no memory leaves the drawing unfinished, not the process. */
static gboolean
has_no_memory (PawlFigure *figure, cairo_t *cr)
{
  GPtrArray *findings = pawl_figure_get_findings (figure);

  if (cairo_status (cr) == CAIRO_STATUS_NO_MEMORY)
    return TRUE;
  return findings->len > 0 && strstr (g_ptr_array_index (findings, findings->len - 1), "out of memory");
}

/* What makes the drawing library draw into pictures of its own, whose size depends on the scale. */
static gboolean
makes_pictures (PawlFigure *figure)
{
  static const char * const words[] = { "filter", "mask", "pattern", "marker", "image", "clip", "opacity", "blend", "text" };
  gsize length;
  const char *text = g_bytes_get_data (pawl_figure_peek_bytes (figure), &length);

  for (guint i = 0; i < G_N_ELEMENTS (words); i++)
    if (memmem (text, length, words[i], strlen (words[i])))
      return TRUE;
  return FALSE;
}

/* As Pawl draws: into vectors without edges, and onto the sheet at the window's scale; then, where that may differ, the vectors onto the sheet.
 * Plain lines and fills are the same either way, and one way halves the time that a large figure takes. */
static void
draw_piece (PawlFigure *figure, guint n, cairo_t *sheet, gboolean is_vectors_too)
{
  g_autoptr(cairo_surface_t) recording = cairo_recording_surface_create (CAIRO_CONTENT_COLOR_ALPHA, NULL);
  g_autoptr(cairo_t) cr = cairo_create (recording);

  pawl_figure_draw_chunk (figure, n, cr, 1);
  pawl_figure_draw_chunk (figure, n, sheet, 1);
  if (!is_vectors_too)
    return;
  cairo_set_source_surface (sheet, recording, 0, 0);
  cairo_paint (sheet);
}

/* FALSE: there was no memory for all of it. */
static gboolean
draw_pieces (PawlFigure *figure)
{
  PawlBox sheet = pawl_figure_get_view_box (figure);
  double scale = MIN (PAWL_TRIAL_WIDTH / sheet.width, PAWL_TRIAL_HEIGHT / sheet.height);
  g_autoptr(cairo_surface_t) image = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, PAWL_TRIAL_WIDTH, PAWL_TRIAL_HEIGHT);
  g_autoptr(cairo_t) cr = cairo_create (image);
  gboolean is_vectors_too = makes_pictures (figure);

  cairo_scale (cr, scale, scale);
  cairo_translate (cr, -sheet.x, -sheet.y);
  for (guint n = 0; n < pawl_figure_get_n_chunks (figure); n++)
    {
      g_autofree char *line = g_strdup_printf ("at %d\n", pawl_figure_get_chunk (figure, n)->line);

      tell (line);
      draw_piece (figure, n, cr, is_vectors_too);
      if (has_no_memory (figure, cr))
        return FALSE;
    }
  return TRUE;
}

/* A figure that the library can't even read is opened by nobody, and said in the findings once. */
static void
tell_verdict (PawlFigure *figure, gboolean had_memory)
{
  GPtrArray *findings = pawl_figure_get_findings (figure);
  g_autoptr(PawlArtist) artist = pawl_figure_steal_artist (figure);

  if (!had_memory)
    tell ("memory\n");
  else if (!artist && pawl_figure_get_n_chunks (figure) > 0)
    tell_failure (findings->len > 0 ? g_ptr_array_index (findings, findings->len - 1) : "figure:1: can't be drawn");
  else
    tell ("fine\n");
}

static void *
draw_in_thread (void *data)
{
  g_autoptr(GBytes) bytes = read_figure ();
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = open_figure (bytes, &error);

  if (!figure)
    tell_failure (error->message);
  else
    tell_verdict (figure, draw_pieces (figure));
  /* At once: nothing is left to be put in order, and what the figure did to the heap is not asked about on the way out. */
  _exit (ANSWER_WRITTEN);
}

/* On half the stack that a worker of Pawl has: a figure that just fits here fits there with room to spare. */
int
main (void)
{
  pthread_attr_t attributes;
  pthread_t thread;
  size_t stack_size;

  if (fcntl (PAWL_TRIAL_ANSWER_FD, F_GETFD) < 0)
    {
      static const char words[] = "pawl-trial: started by Pawl, with a figure to try; not by hand\n";

      return write (STDERR_FILENO, words, sizeof words - 1) > 0 ? STARTED_WRONG : CANT_ANSWER;
    }
  if (!pawl_trial_limit_self ())
    return STARTED_WRONG;
  if (pthread_attr_init (&attributes) != 0 || pthread_attr_getstacksize (&attributes, &stack_size) != 0
      || pthread_attr_setstacksize (&attributes, stack_size / 2) != 0 || pthread_create (&thread, &attributes, draw_in_thread, NULL) != 0)
    return STARTED_WRONG;
  pthread_join (thread, NULL);
  return CANT_ANSWER;
}
