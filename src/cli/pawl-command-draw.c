/* pawl draw: the figure as at one step, or the sketch of one fit rule, as a picture file. */
#include <stdio.h>

#include "cli/pawl-cli.h"
#include "drawing/pawl-picture.h"
#include "procedure/pawl-reader.h"
#include "view/pawl-build-up.h"
#include "procedure/pawl-variant.h"

typedef struct {
  char  *output, *step, *sketch, *size, *palette;
  double part_way;
} Options;

static void
options_clear (Options *self)
{
  g_free (self->output);
  g_free (self->step);
  g_free (self->sketch);
  g_free (self->size);
  g_free (self->palette);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* Pixels for pictures, points for pages: A4 lying down. */
static const double default_png[2] = { 1600, 1000 };
static const double default_page[2] = { 842, 595 };

static gboolean
bad_value (GError **error, const char *format, const char *value)
{
  g_autofree char *message = g_strdup_printf ("“%s” %s", value, format);

  g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, message);
  return FALSE;
}

static gboolean
read_size (const Options *options, double *width, double *height, GError **error)
{
  const double *fallback = g_str_has_suffix (options->output, ".png") ? default_png : default_page;
  guint w, h;
  char rest;

  *width = fallback[0];
  *height = fallback[1];
  if (!options->size)
    return TRUE;
  if (sscanf (options->size, "%5ux%5u%c", &w, &h, &rest) != 2 || w == 0 || h == 0)
    return bad_value (error, "is no size; it is WIDTHxHEIGHT, for instance 1600x1000", options->size);
  *width = w;
  *height = h;
  return TRUE;
}

static gboolean
read_palette (const Options *options, PawlPalette *palette, GError **error)
{
  static const struct { const char *name; PawlPalette palette; } names[] = {
    { "light", PAWL_PALETTE_LIGHT }, { "dark", PAWL_PALETTE_DARK }, { "print", PAWL_PALETTE_PRINT },
  };

  *palette = PAWL_PALETTE_LIGHT;
  if (!options->palette)
    return TRUE;
  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_str_equal (names[i].name, options->palette))
      {
        *palette = names[i].palette;
        return TRUE;
      }
  return bad_value (error, "is no palette; it is light, dark or print", options->palette);
}

/* ---- the figure as at a step ---- */

/* By id, or by its number in the file. */
static const PawlStep *
find_step (PawlProcedure *procedure, const char *text, GError **error)
{
  const PawlStep *step = pawl_procedure_lookup_step (procedure, text);
  GPtrArray *steps = pawl_procedure_get_steps (procedure);

  for (guint i = 0; i < steps->len && !step; i++)
    if (g_str_equal (((const PawlStep *) g_ptr_array_index (steps, i))->number, text))
      step = g_ptr_array_index (steps, i);
  if (!step)
    bad_value (error, "is no step of this procedure; give its id or its number", text);
  return step;
}

/* As when every step before @step is done and @part_way of the step itself. */
static void
stand_as_at (PawlScene *scene, PawlProcedure *procedure, const PawlStep *step, double part_way)
{
  g_autofree char *variant = step->variant ? pawl_variant_dup_first (procedure, step->variant) : NULL;
  g_autoptr (PawlBuildUp) film = pawl_build_up_new (procedure, variant);
  g_autoptr (GPtrArray) views = pawl_build_up_view (film, pawl_build_up_find (film, step->id) + part_way);

  pawl_view_hide_pictures (procedure, scene);
  pawl_job_view_apply (views, scene);
}

/* @step: (nullable): the whole exploded view. */
static gboolean
draw_step (PawlProcedure *procedure, const PawlStep *step, double part_way, PawlPalette palette, const char *output, double width, double height, GError **error)
{
  g_autoptr (PawlFigure) figure = pawl_cli_load_procedure_figure (procedure, error);
  g_autoptr (PawlScene) scene = NULL;

  if (!figure)
    return FALSE;
  scene = pawl_scene_new (figure);
  pawl_scene_set_palette (scene, palette);
  pawl_scene_set_number_size (scene, MAX (height / 45, 8));
  if (step)
    stand_as_at (scene, procedure, step, part_way);
  else
    pawl_view_apply_exploded (procedure, scene);
  pawl_scene_show_all (scene);
  return pawl_picture_write_scene (output, scene, width, height, error);
}

/* ---- the sketch of a rule ---- */

static gboolean
draw_sketch (PawlProcedure *procedure, const Options *options, PawlPalette palette, double width, double height, GError **error)
{
  const PawlAsk *ask = pawl_procedure_lookup_ask (procedure, options->sketch, NULL);
  PawlSketchOptions sketch = { .palette = palette, .text_size = MAX (height / 32, 9) };

  if (!ask || !ask->rule)
    return bad_value (error, "is no fit rule of this procedure", options->sketch);
  return pawl_picture_write_sketch (options->output, ask->rule, &sketch, width, height, error);
}

static gboolean
draw (const char *file, const Options *options, GError **error)
{
  g_autoptr (PawlProcedure) procedure = pawl_procedure_load (file, NULL, error);
  const PawlStep *step = NULL;
  PawlPalette palette;
  double width, height;

  if (!procedure || !read_size (options, &width, &height, error) || !read_palette (options, &palette, error))
    return FALSE;
  if (options->sketch)
    return draw_sketch (procedure, options, palette, width, height, error);
  if (!(options->part_way >= 0 && options->part_way < 1) || (options->part_way > 0 && !options->step))
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, "--part-way is a share of a step, from 0 to less than 1, and needs --step");
      return FALSE;
    }
  if (options->step && !(step = find_step (procedure, options->step, error)))
    return FALSE;
  return draw_step (procedure, step, options->part_way, palette, options->output, width, height, error);
}

int
pawl_command_draw (int argc, char **argv)
{
  g_auto (Options) options = { NULL };
  const GOptionEntry entries[] = {
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output, "Picture to write; its ending says which kind: .png, .svg or .pdf", "OUT" },
    { "step", 0, 0, G_OPTION_ARG_FILENAME, &options.step, "Draw the figure as at this step, by its id or number; without it, the whole exploded view", "ID" },
    { "part-way", 0, 0, G_OPTION_ARG_DOUBLE, &options.part_way, "With --step: its parts this far on their way, 0.5 for half", "SHARE" },
    { "sketch", 0, 0, G_OPTION_ARG_FILENAME, &options.sketch, "Draw the right/wrong sketch of this fit rule instead", "FIT-ID" },
    { "size", 0, 0, G_OPTION_ARG_FILENAME, &options.size, "Pixels of a .png (1600x1000), points of the others (842x595)", "WxH" },
    { "palette", 0, 0, G_OPTION_ARG_FILENAME, &options.palette, "light, dark or print", "NAME" },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, "FILE", "Draws the figure of a procedure as it stands at one step: the step's parts stand out and carry "
                       "their item numbers, what is seated is in its place, what comes later is pale.", 1, 1))
    return PAWL_EXIT_COULD_NOT;
  if (!options.output)
    {
      pawl_cli_complain (argv[0], "which picture shall be written? Name it with -o, for instance -o figure.png");
      return PAWL_EXIT_COULD_NOT;
    }
  return draw (argv[1], &options, &error) ? PAWL_EXIT_FINE : pawl_cli_fail (argv[0], error);
}
