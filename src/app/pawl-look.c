#include "app/pawl-look.h"

#define STYLE_SHEET "/org/pawl/Pawl/pawl.css"
#define THEME_KEPT "pawl-theme-kept"
#define HIGH_CONTRAST "Default-hc" /* of GTK itself, so that it is there on any desktop */
/* Cap height over font size of the common sans faces: DejaVu Sans 0.729, Cantarell 0.69 (measured from the fonts); the smaller is taken. */
#define CAP_RATIO 0.69
#define DEFAULT_PIXELS_PER_MM (96 / 25.4)

char *
pawl_look_make_bench_css (double pixels_per_mm)
{
  int large = (int) (PAWL_CAP_HEIGHT_MM / CAP_RATIO * pixels_per_mm + 0.5);
  int middle = large * 2 / 3;
  int far = (int) (PAWL_FAR_CAP_HEIGHT_MM / CAP_RATIO * pixels_per_mm + 0.5);
  int echo = (int) (PAWL_ECHO_CAP_HEIGHT_MM / CAP_RATIO * pixels_per_mm + 0.5);
  int target = (int) (PAWL_TARGET_MM * pixels_per_mm + 0.5);

  return g_strdup_printf (".echo label { font-size: %dpx; }\n"
                          ".offer .offer-words { font-size: %dpx; }\n"
                          ".offer .offer-about { font-size: %dpx; }\n"
                          "window.bench-size .offer .offer-head { font-size: %dpx; }\n"
                          "window.bench-size .offer .offer-words { font-size: %dpx; }\n"
                          "window.bench-size .offer .offer-about { font-size: %dpx; }\n"
                          "window.bench-size .command, window.bench-size .verdict, window.bench-size entry.reading, window.bench-size .unit, window.bench-size .advance {"
                          " font-size: %dpx; }\n"
                          "window.bench-size .step-panel, window.bench-size .step-footer, window.bench-size .sum-form,"
                          " window.bench-size .taken-bar, window.bench-size .bar { font-size: %dpx; }\n"
                          "window.bench-size .page { font-size: %dpx; }\n" /* lists are read from nearer, and have to fit on a tall tablet */
                          "window.bench-size .step-panel button, window.bench-size .step-footer button, window.bench-size .step-panel entry,"
                          " window.bench-size .sum-form button, window.bench-size .sum-form entry {"
                          " min-height: %dpx; min-width: %dpx; }\n",
                          echo, large, middle, far, echo, large, large, middle, large / 2, target, target);
}

double
pawl_look_measure_monitor (int pixels, int millimetres)
{
  double pixels_per_mm = millimetres > 0 ? (double) pixels / millimetres : 0;

  return pixels_per_mm >= 1.5 && pixels_per_mm <= 30 ? pixels_per_mm : DEFAULT_PIXELS_PER_MM;
}

void
pawl_look_install (GdkDisplay *display)
{
  g_autoptr(GtkCssProvider) provider = gtk_css_provider_new ();

  gtk_css_provider_load_from_resource (provider, STYLE_SHEET);
  gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider), GTK_STYLE_PROVIDER_PRIORITY_APPLICATION);
}

double
pawl_look_get_pixels_per_mm (GtkWidget *widget)
{
  GtkNative *native = gtk_widget_get_native (widget);
  GdkSurface *surface = native != NULL ? gtk_native_get_surface (native) : NULL;
  GdkMonitor *monitor = surface != NULL ? gdk_display_get_monitor_at_surface (gdk_surface_get_display (surface), surface) : NULL;
  GdkRectangle geometry;

  if (monitor == NULL)
    return DEFAULT_PIXELS_PER_MM;
  gdk_monitor_get_geometry (monitor, &geometry);
  return pawl_look_measure_monitor (geometry.width, gdk_monitor_get_width_mm (monitor));
}

/* One provider for each display, kept on it, so that a second call replaces the first one's rules. */
static GtkCssProvider *
ensure_provider (GdkDisplay *display)
{
  GtkCssProvider *provider = g_object_get_data (G_OBJECT (display), "pawl-millimetres");

  if (provider == NULL)
    {
      provider = gtk_css_provider_new ();
      g_object_set_data_full (G_OBJECT (display), "pawl-millimetres", provider, g_object_unref);
      gtk_style_context_add_provider_for_display (display, GTK_STYLE_PROVIDER (provider), GTK_STYLE_PROVIDER_PRIORITY_APPLICATION + 1);
    }
  return provider;
}

void
pawl_look_measure (GtkWindow *window)
{
  g_autofree char *css = pawl_look_make_bench_css (pawl_look_get_pixels_per_mm (GTK_WIDGET (window)));

  gtk_css_provider_load_from_data (ensure_provider (gtk_widget_get_display (GTK_WIDGET (window))), css, -1);
}

static void
set_class (GtkWindow *window, const char *name, gboolean has_it)
{
  if (has_it)
    gtk_widget_add_css_class (GTK_WIDGET (window), name);
  else
    gtk_widget_remove_css_class (GTK_WIDGET (window), name);
}

void
pawl_look_set_bench_size (GtkWindow *window, gboolean is_bench_size)
{
  set_class (window, "bench-size", is_bench_size);
}

/* The theme of the desktop is kept on the display while the toolkit's own one of high contrast stands in for it. */
void
pawl_look_set_glare (GtkWindow *window, gboolean is_glare)
{
  GdkDisplay *display = gtk_widget_get_display (GTK_WIDGET (window));
  GtkSettings *settings = gtk_settings_get_for_display (display);
  const char *kept = g_object_get_data (G_OBJECT (display), THEME_KEPT);

  if (is_glare && kept == NULL)
    {
      char *theme = NULL;

      g_object_get (settings, "gtk-theme-name", &theme, NULL);
      g_object_set_data_full (G_OBJECT (display), THEME_KEPT, theme, g_free);
      g_object_set (settings, "gtk-theme-name", HIGH_CONTRAST, NULL);
    }
  else if (!is_glare && kept != NULL)
    {
      g_object_set (settings, "gtk-theme-name", kept, NULL);
      g_object_set_data (G_OBJECT (display), THEME_KEPT, NULL);
    }
  set_class (window, "glare", is_glare);
}

PawlPalette
pawl_look_get_palette (GtkWidget *widget)
{
  GtkRoot *root = gtk_widget_get_root (widget);

  if (root != NULL && gtk_widget_has_css_class (GTK_WIDGET (root), "glare"))
    return PAWL_PALETTE_GLARE;
  return pawl_look_is_dark (widget) ? PAWL_PALETTE_DARK : PAWL_PALETTE_LIGHT;
}

void
pawl_look_set_dark (GdkDisplay *display, gboolean is_dark)
{
  if (pawl_look_prefers_dark (display) != is_dark) /* setting it reads the whole theme again */
    g_object_set (gtk_settings_get_for_display (display), "gtk-application-prefer-dark-theme", is_dark, NULL);
}

gboolean
pawl_look_prefers_dark (GdkDisplay *display)
{
  gboolean is_dark = FALSE;

  g_object_get (gtk_settings_get_for_display (display), "gtk-application-prefer-dark-theme", &is_dark, NULL);
  return is_dark;
}

gboolean
pawl_look_is_dark (GtkWidget *widget)
{
  GdkRGBA text;

  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &text);
  return 0.2126 * text.red + 0.7152 * text.green + 0.0722 * text.blue > 0.5;
}

double
pawl_look_get_text_pixels (GtkWidget *widget)
{
  PangoContext *context = gtk_widget_get_pango_context (widget);
  const PangoFontDescription *font = pango_context_get_font_description (context);
  double size = pango_font_description_get_size (font) / (double) PANGO_SCALE;

  if (pango_font_description_get_size_is_absolute (font))
    return size;
  return size * pango_cairo_context_get_resolution (context) / 72.0;
}
