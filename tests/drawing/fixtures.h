/* Small figures of our own, for the tests. */
#pragma once

#include <math.h>
#include <string.h>

#include "drawing/pawl-scene.h"

#define SVG(attributes, body) "<svg xmlns=\"http://www.w3.org/2000/svg\" xmlns:xlink=\"http://www.w3.org/1999/xlink\" " attributes ">\n" body "\n</svg>\n"

/* Sheet 400 by 300. A plate, a ring on it, a thin pin over both, a corner without id, axes below. Lines: the <svg> tag is line 1. */
#define PARTS \
  SVG ("viewBox=\"0 0 400 300\"", \
       "<g id=\"axes\" stroke=\"#000\" fill=\"none\"><path d=\"M0 150 H400\"/></g>\n" /* line 2 */ \
       "<g id=\"plate\"><rect x=\"100\" y=\"100\" width=\"200\" height=\"100\" fill=\"#f00\"/><g id=\"hole\"><circle cx=\"280\" cy=\"120\" r=\"6\" fill=\"#fff\"/></g></g>\n" \
       "<path d=\"M2 2 h20 v2 h-20 z\" fill=\"#888\"/>\n" \
       "<path id=\"ring\" fill-rule=\"evenodd\" fill=\"#00f\" d=\"M150 150 a30 30 0 1 0 60 0 a30 30 0 1 0 -60 0 M165 150 a15 15 0 1 0 30 0 a15 15 0 1 0 -30 0\"/>\n" \
       "<g id=\"pin\"><rect x=\"50\" y=\"40\" width=\"300\" height=\"2\" fill=\"#0a0\"/></g>")

static inline PawlFigure *
load_text (const char *text, GError **error)
{
  g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));

  return pawl_figure_load_bytes (bytes, "test.svg", error);
}

static inline PawlFigure *
load_parts (void)
{
  g_autoptr(GError) error = NULL;
  PawlFigure *figure = load_text (PARTS, &error);

  g_assert_no_error (error);
  return figure;
}
