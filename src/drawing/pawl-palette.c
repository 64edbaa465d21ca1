#include "drawing/pawl-palette.h"

PawlInks
pawl_palette_get_inks (PawlPalette palette)
{
  static const PawlInks light = {
    .paper = { 1.00, 1.00, 1.00 }, .ink = { 0.11, 0.12, 0.14 }, .faint = { 0.42, 0.44, 0.47 }, .highlight = { 0.05, 0.33, 0.71 },
    .halo = { 1.00, 1.00, 1.00 }, .good = { 0.04, 0.42, 0.25 }, .bad = { 0.66, 0.11, 0.16 }, .fill = { 0.88, 0.90, 0.93 },
  };
  static const PawlInks dark = {
    .paper = { 28 / 255.0, 31 / 255.0, 33 / 255.0 }, .ink = { 0.93, 0.94, 0.95 }, .faint = { 0.62, 0.64, 0.67 }, .highlight = { 0.50, 0.76, 1.00 },
    .halo = { 28 / 255.0, 31 / 255.0, 33 / 255.0 }, .good = { 0.46, 0.83, 0.62 }, .bad = { 1.00, 0.58, 0.58 }, .fill = { 0.24, 0.26, 0.29 },
  };
  static const PawlInks print = {
    .paper = { 1, 1, 1 }, .ink = { 0, 0, 0 }, .faint = { 0.35, 0.35, 0.35 }, .highlight = { 0, 0, 0 },
    .halo = { 1, 1, 1 }, .good = { 0, 0, 0 }, .bad = { 0, 0, 0 }, .fill = { 0.90, 0.90, 0.90 },
  };

  /* Each at least 9:1 on white, where the sun leaves little of a contrast. */
  static const PawlInks glare = {
    .paper = { 1, 1, 1 }, .ink = { 0, 0, 0 }, .faint = { 0.20, 0.20, 0.20 }, .highlight = { 0.00, 0.16, 0.55 },
    .halo = { 1, 1, 1 }, .good = { 0.00, 0.27, 0.13 }, .bad = { 0.50, 0.00, 0.06 }, .fill = { 0.90, 0.90, 0.90 },
  };

  switch (palette)
    {
    case PAWL_PALETTE_DARK:
      return dark;
    case PAWL_PALETTE_PRINT:
      return print;
    case PAWL_PALETTE_GLARE:
      return glare;
    case PAWL_PALETTE_LIGHT:
    default:
      return light;
    }
}

void
pawl_ink_set_source (const PawlInk *ink, cairo_t *cr, double alpha)
{
  cairo_set_source_rgba (cr, ink->red, ink->green, ink->blue, alpha);
}
