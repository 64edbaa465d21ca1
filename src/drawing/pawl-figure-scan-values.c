#include "drawing/pawl-figure-scan-private.h"

#include <math.h>
#include <string.h>

#include "drawing/pawl-figure-style.h"

/* What one of these costs, in plain shapes, measured at the size of a window: a plain shape takes some 10 µs, an effect some ms. */
#define SEGMENTS_A_SHAPE 20.0
#define LAYER_SHAPES     50
#define EFFECT_SHAPES    500
#define PIXELS_A_SHAPE   2000.0

/* ---- numbers ---- */

/* The numbers of a list, whatever stands between them. Returns how many were there; at most @max are kept. */
static guint
read_numbers (const char *text, double *numbers, guint max)
{
  guint n = 0;

  while (*text)
    {
      char *end;
      double number = g_ascii_strtod (text, &end);

      if (end == text)
        {
          text++;
          continue;
        }
      if (n < max)
        numbers[n] = number;
      n++;
      text = end;
    }
  return n;
}

gboolean
pawl_scan_check_view_box (PawlScanner *self, const char *view_box, const char *width, const char *height)
{
  double numbers[4] = { 0 }, size[2] = { 0 };
  gboolean has_size = width && height && read_numbers (width, &size[0], 1) == 1 && read_numbers (height, &size[1], 1) == 1
                      && !strchr (width, '%') && !strchr (height, '%');

  if (view_box)
    {
      if (read_numbers (view_box, numbers, 4) != 4)
        return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_SIZE, "viewBox=\"%.60s\" is not four numbers: x y width height", view_box);
    }
  else if (has_size)
    {
      numbers[2] = size[0];
      numbers[3] = size[1];
    }
  else
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_SIZE, "the <svg> element has no viewBox, which says how large the sheet is");
  for (guint i = 0; i < 4; i++)
    if (!isfinite (numbers[i]) || fabs (numbers[i]) > PAWL_FIGURE_MAX_EXTENT)
      return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_SIZE, "the sheet reaches to %g; no figure needs more than %g units", numbers[i], PAWL_FIGURE_MAX_EXTENT);
  if (!(numbers[2] > 0 && numbers[3] > 0))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_SIZE, "the sheet is %g by %g; both must be more than 0", numbers[2], numbers[3]);
  if (MIN (numbers[2], numbers[3]) < PAWL_FIGURE_MIN_EXTENT)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_SIZE, "the sheet is %g by %g; draw it at least %g units wide and high", numbers[2], numbers[3], PAWL_FIGURE_MIN_EXTENT);
  if (MAX (numbers[2], numbers[3]) > 100 * MIN (numbers[2], numbers[3]))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_SIZE, "the sheet is %g by %g, more than 100 times as long as wide", numbers[2], numbers[3]);
  if (has_size && MAX (size[0], size[1]) > PAWL_FIGURE_MAX_EXTENT)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_SIZE, "width and height are %g by %g; no figure needs more than %g", size[0], size[1], PAWL_FIGURE_MAX_EXTENT);
  self->scan->view_box = (PawlBox) { numbers[0], numbers[1], numbers[2], numbers[3] };
  self->scan->has_view_box = view_box != NULL;
  return TRUE;
}

/* How many numbers a segment of a path takes, by its letter: SVG 1.1, 8.3. The flags of an arc may stand together as one number, hence 5 of 7. */
static guint
get_arity (char letter)
{
  switch (g_ascii_tolower (letter))
    {
    case 'h': case 'v':
      return 1;
    case 'm': case 'l': case 't':
      return 2;
    case 's': case 'q':
      return 4;
    case 'c':
      return 6;
    case 'a':
      return 5;
    case 'z':
      return G_MAXUINT;
    default:
      return 0; /* no command */
    }
}

static const char *
skip_digits (const char *text)
{
  while (g_ascii_isdigit (*text))
    text++;
  return text;
}

/* The end of the number at the beginning of path data, as SVG writes numbers, or @text itself when none stands there. Its value is of no
 * interest, and working out the values of a large figure would take longer than all the rest of the scan. */
static const char *
skip_number (const char *text)
{
  const char *whole = text + (*text == '+' || *text == '-'), *end = skip_digits (whole), *exponent;
  gboolean has_digits = end > whole;

  if (*end == '.')
    {
      const char *fraction = end + 1;

      end = skip_digits (fraction);
      has_digits |= end > fraction;
    }
  if (!has_digits)
    return text;
  if (*end != 'e' && *end != 'E')
    return end;
  exponent = end + 1 + (end[1] == '+' || end[1] == '-');
  return g_ascii_isdigit (*exponent) ? skip_digits (exponent) : end;
}

/* Never too few: a broken path counts to its end, though drawing stops where it breaks. */
static guint
count_segments (const char *data)
{
  guint n = 0, n_numbers = 0, arity = 2;

  while (*data)
    {
      guint next = *data == 'e' || *data == 'E' ? 0 : get_arity (*data);
      const char *end;

      if (next)
        {
          n += (n_numbers + arity - 1) / arity + (next == G_MAXUINT);
          n_numbers = 0;
          arity = next == G_MAXUINT ? 2 : next;
          data++;
          continue;
        }
      end = skip_number (data);
      n_numbers += end != data;
      data = end != data ? end : data + 1;
    }
  return n + (n_numbers + arity - 1) / arity;
}

static gboolean
check_path (PawlScanner *self, const char *data)
{
  guint n = MAX (1, count_segments (data));

  pawl_links_set_corners (self->links, n);
  pawl_links_add_weight (self->links, n / SEGMENTS_A_SHAPE);
  if (n > PAWL_FIGURE_MAX_SEGMENTS)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "one path has about %u segments; split or simplify it to %d or fewer", n, PAWL_FIGURE_MAX_SEGMENTS);
  self->n_segments += n;
  if (self->n_segments > PAWL_FIGURE_MAX_ALL_SEGMENTS)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "all paths together have over %d segments", PAWL_FIGURE_MAX_ALL_SEGMENTS);
  return TRUE;
}

/* Dashes so fine that drawing them never ends. */
static gboolean
check_dashes (PawlScanner *self, const char *value)
{
  double numbers[PAWL_FIGURE_MAX_DASH_NUMBERS] = { 0 }, period = 0;
  guint n = read_numbers (value, numbers, PAWL_FIGURE_MAX_DASH_NUMBERS);

  if (n > PAWL_FIGURE_MAX_DASH_NUMBERS)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a dash pattern of %u numbers; %d is the most", n, PAWL_FIGURE_MAX_DASH_NUMBERS);
  for (guint i = 0; i < n; i++)
    period += fabs (numbers[i]);
  if (n > 0 && period > 0 && period / n * PAWL_FIGURE_MAX_DASHES < hypot (self->scan->view_box.width, self->scan->view_box.height))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a dash pattern %g long is too fine for a sheet of this size", period);
  return TRUE;
}

/* ---- effects ---- */

static gboolean
check_reach (PawlScanner *self, double reach, double most)
{
  if (!(reach <= most))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a filter that reaches %g units; %g is the most", reach, most);
  return TRUE;
}

static gboolean
check_filter_number (PawlScanner *self, const char *attribute, const char *value)
{
  double numbers[2] = { 0 };
  guint n = MIN (2, read_numbers (value, numbers, 2));

  for (guint i = 0; i < n; i++)
    {
      if (g_str_equal (attribute, "numOctaves") && !(numbers[i] <= PAWL_FIGURE_MAX_OCTAVES))
        return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a noise filter of %g octaves; %d is the most", numbers[i], PAWL_FIGURE_MAX_OCTAVES);
      if (g_str_equal (attribute, "stdDeviation") && !check_reach (self, numbers[i], PAWL_FIGURE_MAX_BLUR))
        return FALSE;
      if (g_str_equal (attribute, "radius") && !check_reach (self, numbers[i], PAWL_FIGURE_MAX_RADIUS))
        return FALSE;
      if (g_str_equal (attribute, "order") && !(numbers[i] <= 16))
        return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "a filter matrix of order %g; 16 is the most", numbers[i]);
    }
  return TRUE;
}

/* "blur(3) opacity(.5)": each function is a step of an effect. */
static gboolean
check_filter_functions (PawlScanner *self, const char *value)
{
  double number;

  for (const char *open = strchr (value, '('); open; open = strchr (open + 1, '('))
    {
      gboolean is_url = open - value >= 3 && g_ascii_strncasecmp (open - 3, "url", 3) == 0;

      if (is_url)
        continue;
      pawl_links_add_weight (self->links, EFFECT_SHAPES);
      if (read_numbers (open + 1, &number, 1) > 0 && !check_reach (self, number, PAWL_FIGURE_MAX_BLUR))
        return FALSE;
    }
  return TRUE;
}

/* ---- pictures ---- */

static guint
read_u32 (const guint8 *p)
{
  return (guint) p[0] << 24 | p[1] << 16 | p[2] << 8 | p[3];
}

/* Width times height as the picture's own header says, without unpacking it; 0 when that can't be found. */
static double
read_picture_pixels (const guint8 *data, gsize length)
{
  static const guint8 png[] = { 0x89, 'P', 'N', 'G', '\r', '\n', 0x1a, '\n' };

  if (length > 24 && memcmp (data, png, sizeof png) == 0)
    return (double) read_u32 (data + 16) * read_u32 (data + 20);
  if (length > 4 && data[0] == 0xff && data[1] == 0xd8)
    for (gsize at = 2; at + 9 < length && data[at] == 0xff;)
      {
        guint8 marker = data[at + 1];

        /* A frame header: C0 to CF, but for the three that are tables. */
        if (marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc)
          return (double) (data[at + 5] << 8 | data[at + 6]) * (data[at + 7] << 8 | data[at + 8]);
        at += 2 + (gsize) (data[at + 2] << 8 | data[at + 3]);
      }
  return 0;
}

static gboolean
check_picture (PawlScanner *self, const char *href)
{
  const char *comma = strchr (href, ',');
  g_autofree guint8 *data = NULL;
  gsize length;
  double n_pixels;

  if (!(g_str_has_prefix (href, "data:image/png;base64,") || g_str_has_prefix (href, "data:image/jpeg;base64,")))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "a picture must lie in the file itself, as data:image/png;base64 or data:image/jpeg;base64, not \"%.60s\"", href);
  data = g_base64_decode (comma + 1, &length);
  n_pixels = read_picture_pixels (data, length);
  if (n_pixels <= 0)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "a picture in the file is neither PNG nor JPEG");
  pawl_links_add_weight (self->links, n_pixels / PIXELS_A_SHAPE);
  self->n_pixels += n_pixels;
  if (self->n_pixels > PAWL_FIGURE_MAX_PIXELS)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "pictures of %.0f million pixels; %.0f million is the most", self->n_pixels / 1e6, PAWL_FIGURE_MAX_PIXELS / 1e6);
  return TRUE;
}

/* ---- links ---- */

static gboolean
check_link (PawlScanner *self, const char *href)
{
  while (g_ascii_isspace (*href))
    href++;
  if (*href == '#')
    {
      pawl_links_add (self->links, href + 1, PAWL_LINK_ONCE);
      return TRUE;
    }
  if (g_str_equal (self->element, "image") || g_str_equal (self->element, "feImage"))
    return check_picture (self, href);
  return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "<%s> links to \"%.60s\", outside the file; a figure must be complete in itself", self->element, href);
}

/* url(…) in an attribute or a style. */
static gboolean
check_urls (PawlScanner *self, const char *text, PawlLinkKind kind)
{
  while ((text = pawl_style_find (text, "url(")))
    {
      g_autofree char *target = NULL;
      const char *end;

      text += 4;
      while (g_ascii_isspace (*text) || *text == '"' || *text == '\'')
        text++;
      end = text + strcspn (text, "\"')");
      target = g_strstrip (g_strndup (text, end - text));
      if (*target != '#')
        return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "url(%.60s) lies outside the file; a figure must be complete in itself", target);
      if (self->is_sheet)
        pawl_links_add_for_all (self->links, target + 1);
      else
        pawl_links_add (self->links, target + 1, kind);
      text = end;
    }
  return TRUE;
}

/* ---- properties: presentation attributes and declarations alike ---- */

static PawlLinkKind
get_link_kind (const char *property)
{
  if (g_str_has_prefix (property, "marker"))
    return PAWL_LINK_PER_CORNER;
  return g_str_equal (property, "fill") || g_str_equal (property, "stroke") ? PAWL_LINK_PER_SHAPE : PAWL_LINK_ONCE;
}

static gboolean
check_property (PawlScanner *self, const char *property, const char *value)
{
  if (g_str_equal (property, "stroke-dasharray"))
    return check_dashes (self, value);
  if (g_str_equal (property, "filter") && !check_filter_functions (self, value))
    return FALSE;
  if (self->is_sheet && g_str_has_prefix (property, "marker") && pawl_style_find (value, "url("))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "markers set by a style sheet can't be counted; set them on the elements");
  if (!self->is_sheet && (g_str_equal (property, "mask") || g_str_equal (property, "opacity") || g_str_equal (property, "mix-blend-mode")))
    pawl_links_add_weight (self->links, LAYER_SHAPES);
  return check_urls (self, value, get_link_kind (property));
}

static gboolean
visit_declaration (const char *name, const char *value, gpointer data)
{
  return check_property (data, name, value);
}

static gboolean
check_escapes (PawlScanner *self, const char *text)
{
  return !strchr (text, '\\') || pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "escapes (\\) in a style are not read; write the characters themselves");
}

gboolean
pawl_scan_check_sheet (PawlScanner *self, const char *text)
{
  gboolean is_fine;

  self->sheet_line = self->line;
  if (!check_escapes (self, text))
    return FALSE;
  if (pawl_style_find (text, "@import"))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "@import in a style sheet reaches outside the file");
  self->is_sheet = TRUE;
  is_fine = pawl_style_visit_sheet (text, &self->n_selectors, visit_declaration, self)
            && check_urls (self, text, PAWL_LINK_ONCE); /* once more, wherever it stands: what this reader takes for no declaration, another may */
  self->is_sheet = FALSE;
  return is_fine;
}

/* ---- attributes ---- */

static gboolean
check_id (PawlScanner *self, const char *id)
{
  if (strlen (id) > PAWL_FIGURE_MAX_ID)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "an id of %" G_GSIZE_FORMAT " characters; %d is the most", strlen (id), PAWL_FIGURE_MAX_ID);
  if (g_str_has_prefix (id, PAWL_FILLER_PREFIX))
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_REFUSED, "id \"%s\": names that begin with \"" PAWL_FILLER_PREFIX "\" are used inside; give it another", id);
  return TRUE;
}

gboolean
pawl_scan_check_attribute (PawlScanner *self, const char *attribute, const char *value)
{
  if (g_str_equal (attribute, "d") || g_str_equal (attribute, "points"))
    return check_path (self, value);
  if (g_str_equal (attribute, "href"))
    return check_link (self, value);
  if (strlen (value) > PAWL_FIGURE_MAX_ATTRIBUTE)
    return pawl_scan_refuse (self, PAWL_FIGURE_ERROR_TOO_LARGE, "the attribute %.60s has over %d characters", attribute, PAWL_FIGURE_MAX_ATTRIBUTE);
  if (g_str_equal (attribute, "id"))
    return check_id (self, value);
  if (g_str_equal (attribute, "style"))
    return check_escapes (self, value) && pawl_style_visit_declarations (value, visit_declaration, self) && check_urls (self, value, PAWL_LINK_ONCE);
  if (g_str_has_prefix (self->element, "fe") && !check_filter_number (self, attribute, value))
    return FALSE;
  return check_property (self, attribute, value);
}

/* ---- elements ---- */

static gboolean
is_effect (const char *element)
{
  return g_str_has_prefix (element, "fe") && !g_str_has_prefix (element, "feFunc") && !g_str_has_suffix (element, "Light") && !g_str_equal (element, "feMergeNode");
}

void
pawl_scan_weigh_element (PawlScanner *self)
{
  if (is_effect (self->element))
    pawl_links_add_weight (self->links, EFFECT_SHAPES);
  if (g_str_equal (self->element, "line"))
    pawl_links_set_corners (self->links, 2);
}
