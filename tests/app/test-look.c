/* How the window looks in each light: contrast worked out from the colours that are in force, sizes from the monitor; and what outlives a window. */
#include <glib/gstdio.h>
#include <gtk/gtk.h>
#include <locale.h>
#include <math.h>

#include "app/pawl-drafts.h"
#include "app/pawl-look.h"

/* Source: WCAG 2.2, relative luminance and contrast ratio; 7:1 is its 1.4.6. From memory. */
static double
get_luminance (const GdkRGBA *color)
{
  const double parts[3] = { color->red, color->green, color->blue }, weights[3] = { 0.2126, 0.7152, 0.0722 };
  double sum = 0;

  for (int i = 0; i < 3; i++)
    sum += weights[i] * (parts[i] <= 0.04045 ? parts[i] / 12.92 : pow ((parts[i] + 0.055) / 1.055, 2.4));
  return sum;
}

static double
get_contrast (GdkRGBA ink, GdkRGBA paper)
{
  double a, b;

  ink.red = ink.red * ink.alpha + paper.red * (1 - ink.alpha);
  ink.green = ink.green * ink.alpha + paper.green * (1 - ink.alpha);
  ink.blue = ink.blue * ink.alpha + paper.blue * (1 - ink.alpha);
  a = get_luminance (&ink);
  b = get_luminance (&paper);
  return (MAX (a, b) + 0.05) / (MIN (a, b) + 0.05);
}

static void
test_contrast_itself (void)
{
  const GdkRGBA black = { 0, 0, 0, 1 }, white = { 1, 1, 1, 1 }, grey = { 0x76 / 255.0f, 0x76 / 255.0f, 0x76 / 255.0f, 1 };

  g_assert_cmpfloat_with_epsilon (get_contrast (black, white), 21, 1e-9);
  g_assert_cmpfloat_with_epsilon (get_contrast (grey, white), 4.54, 0.01); /* the lightest grey that holds 4.5 on white; from memory */
}

/* The colour that a label of @css_class has within a window of this look, and what it stands on. */
static void
check_label (GtkWindow *window, const char *css_class, const char *ground)
{
  GtkWidget *label = gtk_window_get_child (window);
  GdkRGBA ink, paper;

  gtk_widget_add_css_class (label, css_class);
  gtk_style_context_get_color (gtk_widget_get_style_context (label), &ink);
  gtk_widget_remove_css_class (label, css_class);
  g_assert_true (gtk_style_context_lookup_color (gtk_widget_get_style_context (label), ground, &paper));
  g_test_message ("%s on %s: %.2f", css_class, ground, get_contrast (ink, paper));
  g_assert_cmpfloat (get_contrast (ink, paper), >=, 7.0);
}

static void
test_contrast (void)
{
  static const struct { gboolean is_dark, is_glare; } looks[] = { { FALSE, FALSE }, { TRUE, FALSE }, { FALSE, TRUE } };
  static const char *const classes[] = { "command", "secondary", "verdict", "status-word", "ask-name", "limits", "wait-line" };
  GtkWindow *window = GTK_WINDOW (gtk_window_new ());

  gtk_window_set_child (window, gtk_label_new ("88"));
  gtk_window_present (window);
  for (guint look = 0; look < G_N_ELEMENTS (looks); look++)
    {
      pawl_look_set_dark (gdk_display_get_default (), looks[look].is_dark);
      pawl_look_set_glare (window, looks[look].is_glare);
      for (guint i = 0; i < G_N_ELEMENTS (classes); i++)
        {
          check_label (window, classes[i], "theme_bg_color");
          check_label (window, classes[i], "theme_base_color");
        }
      g_assert_cmpint (pawl_look_get_palette (GTK_WIDGET (window)), ==,
                       looks[look].is_glare ? PAWL_PALETTE_GLARE : looks[look].is_dark ? PAWL_PALETTE_DARK : PAWL_PALETTE_LIGHT);
    }
  pawl_look_set_glare (window, FALSE);
  gtk_window_destroy (window);
}

/* In the sun everything of a figure has to hold, not only its ink. */
static void
test_glare_inks (void)
{
  const PawlInks inks = pawl_palette_get_inks (PAWL_PALETTE_GLARE);
  const PawlInk *all[] = { &inks.ink, &inks.faint, &inks.highlight, &inks.good, &inks.bad };
  const GdkRGBA paper = { (float) inks.paper.red, (float) inks.paper.green, (float) inks.paper.blue, 1 };

  for (guint i = 0; i < G_N_ELEMENTS (all); i++)
    g_assert_cmpfloat (get_contrast ((GdkRGBA) { (float) all[i]->red, (float) all[i]->green, (float) all[i]->blue, 1 }, paper), >=, 9.0);
}

/* What the desktop had is there again afterwards. */
static void
test_theme_comes_back (void)
{
  GtkWindow *window = GTK_WINDOW (gtk_window_new ());
  g_autofree char *before = NULL, *during = NULL, *after = NULL;

  g_object_get (gtk_settings_get_default (), "gtk-theme-name", &before, NULL);
  pawl_look_set_glare (window, TRUE);
  pawl_look_set_glare (window, TRUE);
  g_object_get (gtk_settings_get_default (), "gtk-theme-name", &during, NULL);
  pawl_look_set_glare (window, FALSE);
  g_object_get (gtk_settings_get_default (), "gtk-theme-name", &after, NULL);
  g_assert_cmpstr (during, !=, before);
  g_assert_cmpstr (after, ==, before);
  gtk_window_destroy (window);
}

static void
rest (void)
{
  GMainLoop *loop = g_main_loop_new (NULL, FALSE);

  g_timeout_add (400, G_SOURCE_FUNC (g_main_loop_quit), loop);
  g_main_loop_run (loop);
  g_main_loop_unref (loop);
}

/* On disk while the hand rests, without anybody closing anything: a crash comes unannounced. */
static void
test_drafts_outlive (void)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("pawl-drafts-XXXXXX", &error), *path = g_build_filename (folder, "job-1.ini", NULL);
  g_autoptr(PawlDrafts) first = pawl_drafts_load (folder, "job-1"), second = NULL, other = NULL, third = NULL;

  g_assert_no_error (error);
  pawl_drafts_set (first, "bore", "answer", "25.00; 2");
  pawl_drafts_set (first, "bore", "reason", "two\nlines = [odd]");
  rest ();
  second = pawl_drafts_load (folder, "job-1");
  g_assert_cmpstr (pawl_drafts_peek (second, "bore", "answer"), ==, "25.00; 2");
  g_assert_cmpstr (pawl_drafts_peek (second, "bore", "reason"), ==, "two\nlines = [odd]");
  g_assert_cmpstr (pawl_drafts_peek (second, "drop", "answer"), ==, "");
  other = pawl_drafts_load (folder, "job-2");
  g_assert_cmpstr (pawl_drafts_peek (other, "bore", "answer"), ==, "");
  pawl_drafts_set (second, "bore", "answer", "");
  pawl_drafts_set (second, "bore", "reason", "");
  g_clear_pointer (&second, pawl_drafts_free); /* writes at once */
  g_assert_false (g_file_test (path, G_FILE_TEST_EXISTS));
  g_assert_cmpint (g_rmdir (folder), ==, 0);
  third = pawl_drafts_load (NULL, "job-3"); /* memory only */
  pawl_drafts_set (third, "bore", "answer", "1");
  g_assert_cmpstr (pawl_drafts_peek (third, "bore", "answer"), ==, "1");
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8");
  pawl_look_install (gdk_display_get_default ());
  g_test_add_func ("/app/look/contrast-itself", test_contrast_itself);
  g_test_add_func ("/app/look/contrast", test_contrast);
  g_test_add_func ("/app/look/glare-inks", test_glare_inks);
  g_test_add_func ("/app/look/theme-comes-back", test_theme_comes_back);
  g_test_add_func ("/app/look/drafts-outlive", test_drafts_outlive);
  return g_test_run ();
}
