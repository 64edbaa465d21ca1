/* pawl-solids: exploded views from dimensions. */
#include "solids/pawl-solids.h"

#include <locale.h>
#include <string.h>

static const char usage[] =
  "Usage: pawl-solids draw FILE [-o SVG] [--seated]\n"
  "       pawl-solids slides FILE\n"
  "       pawl-solids profile FILE PART\n"
  "\n"
  "Draws an exploded view from the dimensions of the parts.\n"
  "\n"
  "  draw     write the figure as SVG to standard output, or to the file after -o;\n"
  "           with --seated, every part in its seat\n"
  "  slides   list each region and the way from where it is drawn to its seat,\n"
  "           \"dx,dy dx,dy\" in user units of the figure, y down\n"
  "  profile  list the half-section of a turned part, \"axial,radius …\" in millimetres\n"
  "\n"
  "FILE is XML of the namespace " PAWL_SOLIDS_NAMESPACE ".\n"
  "Exit status: 0 done, 2 could not.\n";

static int
complain (const char *message)
{
  g_printerr ("pawl-solids: %s\n", message);
  return 2;
}

static int
write_out (const char *text, const char *path)
{
  g_autoptr(GError) error = NULL;

  if (path == NULL)
    g_print ("%s", text);
  else if (!g_file_set_contents (path, text, -1, &error))
    return complain (error->message);
  return 0;
}

static int
draw (const PawlSolids *solids, int n, char **words)
{
  const char *path = NULL;
  gboolean seated = FALSE;
  g_autofree char *svg = NULL;

  for (int i = 0; i < n; i++)
    if (g_str_equal (words[i], "--seated"))
      seated = TRUE;
    else if (g_str_equal (words[i], "-o") && i + 1 < n)
      path = words[++i];
    else
      return complain ("draw takes FILE, -o SVG and --seated; see --help");
  svg = pawl_solids_draw (solids, seated);
  return write_out (svg, path);
}

static int
list_profile (const PawlSolids *solids, const char *id)
{
  const PawlSolidPart *part = pawl_solids_find_part (solids, id);
  g_autofree char *message = NULL;
  g_autoptr(GString) text = g_string_new (NULL);

  if (part == NULL || part->profile->len == 0)
    {
      message = g_strdup_printf (part == NULL ? "there is no part \"%s\"" : "part \"%s\" has no turned shape", id);
      return complain (message);
    }
  for (guint i = 0; i < part->profile->len; i++)
    {
      const PawlSolidCorner *corner = &g_array_index (part->profile, PawlSolidCorner, i);
      char x[G_ASCII_DTOSTR_BUF_SIZE], y[G_ASCII_DTOSTR_BUF_SIZE];

      g_string_append_printf (text, "%s%s,%s", i > 0 ? " " : "", g_ascii_formatd (x, sizeof x, "%.6g", corner->x),
                              g_ascii_formatd (y, sizeof y, "%.6g", corner->y));
    }
  g_string_append_c (text, '\n');
  return write_out (text->str, NULL);
}

static int
run (int argc, char **argv)
{
  g_autoptr(PawlSolids) solids = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *slides = NULL;

  if (argc < 3 || !(g_str_equal (argv[1], "draw") || g_str_equal (argv[1], "slides") || g_str_equal (argv[1], "profile")))
    return complain ("say draw, slides or profile, and a file; see --help");
  if (!(solids = pawl_solids_load (argv[2], &error)))
    return complain (error->message);
  if (g_str_equal (argv[1], "draw"))
    return draw (solids, argc - 3, argv + 3);
  if (g_str_equal (argv[1], "profile"))
    return argc == 4 ? list_profile (solids, argv[3]) : complain ("profile takes FILE and PART; see --help");
  if (argc != 3)
    return complain ("slides takes FILE alone; see --help");
  slides = pawl_solids_slides (solids);
  return write_out (slides, NULL);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  for (int i = 1; i < argc; i++)
    if (g_str_equal (argv[i], "--help") || g_str_equal (argv[i], "-h"))
      return write_out (usage, NULL);
  return run (argc, argv);
}
