/* The page of bench sums: a form for each sum of the table, the answer as it is typed, the working, the text that is copied, and a job that stays open. */
#include <gtk/gtk.h>
#include <string.h>

#include "window-fixture.h"
#include "app/pawl-look.h"
#include "app/pawl-sum-picture.h"
#include "app/pawl-sums-page.h"

typedef struct {
  PawlSettings *settings;
  GtkWidget    *window, *page;
} PageFixture;

static void
set_up (PageFixture *self, gconstpointer data)
{
  pawl_look_install (gdk_display_get_default ());
  self->settings = pawl_settings_load (NULL);
  self->page = g_object_new (PAWL_TYPE_SUMS_PAGE, NULL);
  self->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (self->window), 1000, 800);
  gtk_window_set_child (GTK_WINDOW (self->window), self->page);
  pawl_sums_page_set_settings (PAWL_SUMS_PAGE (self->page), self->settings);
  gtk_window_present (GTK_WINDOW (self->window));
  fixture_iterate ();
}

static void
tear_down (PageFixture *self, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  fixture_iterate ();
  pawl_settings_free (self->settings);
}

/* ---- finding ---- */

typedef gboolean (*Fits) (GtkWidget *widget, gconstpointer wanted);

static GtkWidget *
find (GtkWidget *within, Fits fits, gconstpointer wanted)
{
  if (gtk_widget_get_mapped (within) && fits (within, wanted))
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find (child, fits, wanted);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
is_entry_of (GtkWidget *widget, gconstpointer wanted)
{
  return GTK_IS_ENTRY (widget) && g_strcmp0 (g_object_get_data (G_OBJECT (widget), "input"), wanted) == 0;
}

static gboolean
says (GtkWidget *widget, gconstpointer wanted)
{
  return GTK_IS_LABEL (widget) && strstr (gtk_label_get_label (GTK_LABEL (widget)), wanted) != NULL;
}

static gboolean
has_class (GtkWidget *widget, gconstpointer wanted)
{
  return gtk_widget_has_css_class (widget, wanted);
}

static gboolean
is_button_of (GtkWidget *widget, gconstpointer wanted)
{
  return GTK_IS_BUTTON (widget) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), wanted) == 0;
}

static void
type (PageFixture *self, const char *input, const char *text)
{
  GtkWidget *entry = find (self->page, is_entry_of, input);

  g_assert_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  fixture_iterate ();
}

static void
show (PageFixture *self, const char *id)
{
  pawl_sums_page_show (PAWL_SUMS_PAGE (self->page), id);
  fixture_iterate ();
}

static void
type_examples (PageFixture *self, const PawlSum *sum)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (sum, &n);

  for (guint i = 0; i < n; i++)
    type (self, inputs[i].name, inputs[i].example);
}

/* ---- tests ---- */

/* Each sum has its form, which takes the examples that it shows, and answers. */
static void
test_every_sum (PageFixture *self, gconstpointer data)
{
  const PawlSum *sum;
  guint i;

  for (i = 0; (sum = pawl_sum_peek_nth (i)) != NULL; i++)
    {
      show (self, pawl_sum_get_id (sum));
      g_assert_null (find (self->page, has_class, "problem"));
      g_assert_false (gtk_widget_get_sensitive (find (self->page, is_button_of, "Copy")));
      type_examples (self, sum);
      g_assert_null (find (self->page, has_class, "problem"));
      g_assert_nonnull (find (self->page, has_class, "value"));
      g_assert_true (gtk_widget_get_sensitive (find (self->page, is_button_of, "Copy")));
    }
  g_assert_cmpuint (i, >, 20);
}

/* Four words as they are typed: nothing, still missing, wrong, right. */
static void
test_live (PageFixture *self, gconstpointer data)
{
  show (self, "bend");
  g_assert_nonnull (find (self->page, says, "Reading now is needed"));
  type (self, "reading", "35");
  g_assert_nonnull (find (self->page, says, "Reading wanted is needed"));
  type (self, "wanted", "1 5/16 in");
  type (self, "pivot-to-tang", "10 deg");
  g_assert_nonnull (find (self->page, says, "Pivot to tang: “10 deg” is an angle"));
  g_assert_nonnull (find (self->page, has_class, "problem"));
  type (self, "pivot-to-tang", "10");
  g_assert_null (find (self->page, has_class, "problem"));
  type (self, "pivot-to-point", "40");
  g_assert_nonnull (find (self->page, says, "-0.415625 mm"));
  g_assert_nonnull (find (self->page, says, "= (1.3125 in - 35 mm) × 10 mm / 40 mm"));
  type (self, "pivot-to-point", "0");
  g_assert_nonnull (find (self->page, has_class, "problem"));
  g_assert_null (find (self->page, has_class, "value"));
}

/* What was typed is there again after another sum was looked at. */
static void
test_drafts (PageFixture *self, gconstpointer data)
{
  show (self, "turns");
  type (self, "pitch", "0.75 mm");
  show (self, "arc");
  show (self, NULL);
  show (self, "turns");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find (self->page, is_entry_of, "pitch"))), ==, "0.75 mm");
}

static void
test_lengths (PageFixture *self, gconstpointer data)
{
  show (self, "clearance");
  type (self, "bore", "1.005");
  type (self, "piston", "1.000");
  g_assert_nonnull (find (self->page, says, "0.005 mm"));
  self->settings->is_inch = TRUE;
  pawl_sums_page_set_settings (PAWL_SUMS_PAGE (self->page), self->settings);
  fixture_iterate ();
  g_assert_nonnull (find (self->page, says, "0.005 in"));
  self->settings->decimal_mark = ',';
  pawl_sums_page_set_settings (PAWL_SUMS_PAGE (self->page), self->settings);
  type (self, "bore", "1,005");
  type (self, "piston", "1,000");
  g_assert_nonnull (find (self->page, says, "0,005 in"));
}

static void
read_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  *(char **) data = gdk_clipboard_read_text_finish (GDK_CLIPBOARD (source), result, NULL);
}

static void
test_copy (PageFixture *self, gconstpointer data)
{
  g_autofree char *text = NULL;

  show (self, "clearance");
  type (self, "bore", "79.010 mm");
  type (self, "piston", "78.935 mm");
  g_signal_emit_by_name (find (self->page, is_button_of, "Copy"), "clicked");
  gdk_clipboard_read_text_async (gtk_widget_get_clipboard (self->page), NULL, read_cb, &text);
  for (guint i = 0; i < 1000 && text == NULL; i++)
    g_main_context_iteration (NULL, TRUE);
  g_assert_nonnull (text);
  g_assert_true (g_str_has_prefix (text, "Clearance\nBore: 79.010 mm\n"));
  g_assert_nonnull (strstr (text, "Clearance on the diameter: 0.075 mm"));
  g_assert_nonnull (strstr (text, "bore - piston"));
  g_assert_nonnull (strstr (text, "Source: "));
}

/* Every picture takes every number that can be typed, and draws something for the examples. */
static void
test_pictures (PageFixture *self, gconstpointer data)
{
  static const char * const numbers[] = { "", "0 mm", "-5 mm", "1e9 mm", "0.000001 mm", "400 deg", "-90 deg", "90 deg", "nonsense", "0.1..0.2 mm" };
  const PawlSum *sum;
  guint n_pictures = 0;

  for (guint i = 0; (sum = pawl_sum_peek_nth (i)) != NULL; i++)
    for (guint j = 0; pawl_sum_picture_has (sum) && j < G_N_ELEMENTS (numbers); j++)
      {
        g_autoptr(GHashTable) typed = g_hash_table_new (g_str_hash, g_str_equal);
        cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 300, 160);
        cairo_t *cr = cairo_create (surface);
        const guchar *pixels;
        guint n, n_inked = 0;
        const PawlSumInput *inputs = pawl_sum_peek_inputs (sum, &n);
        const PawlSumPicture picture = { sum, typed, NULL, pawl_palette_get_inks (PAWL_PALETTE_LIGHT), 13 };

        for (guint k = 0; k < n; k++)
          g_hash_table_insert (typed, (gpointer) inputs[k].name, (gpointer) numbers[j]);
        pawl_sum_picture_draw (&picture, cr, 300, 160);
        g_assert_cmpint (cairo_status (cr), ==, CAIRO_STATUS_SUCCESS);
        cairo_surface_flush (surface);
        pixels = cairo_image_surface_get_data (surface);
        for (int k = 0; k < cairo_image_surface_get_stride (surface) * 160; k++)
          n_inked += pixels[k] != 0;
        g_assert_cmpuint (n_inked, >, 300);
        g_assert_nonnull (pawl_sum_picture_describe (sum));
        cairo_destroy (cr);
        cairo_surface_destroy (surface);
        n_pictures++;
      }
  g_assert_cmpuint (n_pictures, ==, 6 * G_N_ELEMENTS (numbers));
}

/* ---- in the window ---- */

static void
set_up_window (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, NULL);
  window_fixture_open (self);
}

static void
activate (WindowFixture *self, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (self->window), action, NULL);
  fixture_iterate ();
}

/* A sum is looked up beside a job, which stays open; the jobs put it aside. */
static void
test_beside_job (WindowFixture *self, gconstpointer data)
{
  GtkWidget *window = GTK_WIDGET (self->window);

  activate (self, "show-sums");
  g_assert_nonnull (find (window, says, "What to bend, turn"));
  g_assert_null (find (window, is_button_of, "Back to the job"));
  g_assert_true (pawl_window_open_job (self->window, pawl_job_get_id (pawl_session_get_job (self->base.session))));
  fixture_iterate ();
  activate (self, "show-sums");
  g_assert_nonnull (pawl_window_get_session (self->window));
  g_assert_false (pawl_window_is_at_bench (self->window));
  g_assert_nonnull (find (window, is_button_of, "Back to the job"));
  activate (self, "show-bench");
  g_assert_true (pawl_window_is_at_bench (self->window));
  g_assert_nonnull (find (window, is_button_of, "All jobs"));
  activate (self, "show-sums");
  activate (self, "show-jobs");
  g_assert_null (pawl_window_get_session (self->window));
  g_assert_null (find (window, is_button_of, "Back to the job"));
}

#define ADD(path, func) g_test_add (path, PageFixture, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  window_fixture_init (&argc, &argv);
  ADD ("/app/sums/every-sum", test_every_sum);
  ADD ("/app/sums/live", test_live);
  ADD ("/app/sums/drafts", test_drafts);
  ADD ("/app/sums/lengths", test_lengths);
  ADD ("/app/sums/copy", test_copy);
  ADD ("/app/sums/pictures", test_pictures);
  g_test_add ("/app/sums/beside-job", WindowFixture, NULL, set_up_window, test_beside_job, window_fixture_tear_down);
  return g_test_run ();
}
