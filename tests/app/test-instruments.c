/* The register in the window: the page of instruments by its form, what a gauge teaches it, and the order of the list. Instruments are invented. */
#include <gtk/gtk.h>
#include <locale.h>
#include <string.h>

#include "app-fixture.h"
#include "app/pawl-gauge-listener.h"
#include "app/pawl-instrument-form.h"
#include "app/pawl-instrument-words.h"
#include "app/pawl-instruments-page.h"
#include "app/pawl-look.h"

typedef struct {
  Fixture    base;
  GtkWidget *window, *page;
  guint      n_changed;
} PageFixture;

static void
iterate (void)
{
  for (guint i = 0; i < 200 && g_main_context_iteration (NULL, FALSE); i++)
    ;
}

static void
count_cb (PageFixture *self)
{
  self->n_changed++;
}

static void
set_up (PageFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, NULL);
  pawl_look_install (gdk_display_get_default ());
  self->page = g_object_new (PAWL_TYPE_INSTRUMENTS_PAGE, NULL);
  g_signal_connect_swapped (self->page, "changed", G_CALLBACK (count_cb), self);
  self->window = gtk_window_new ();
  gtk_window_set_default_size (GTK_WINDOW (self->window), 1000, 800);
  gtk_window_set_child (GTK_WINDOW (self->window), self->page);
  pawl_instruments_page_apply (PAWL_INSTRUMENTS_PAGE (self->page), self->base.record, FIXTURE_PERSON, '.');
  gtk_window_present (GTK_WINDOW (self->window));
  iterate ();
}

static void
tear_down (PageFixture *self, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  iterate ();
  fixture_tear_down (&self->base, NULL);
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
says (GtkWidget *widget, gconstpointer wanted)
{
  return GTK_IS_LABEL (widget) && strstr (gtk_label_get_label (GTK_LABEL (widget)), wanted) != NULL;
}

static gboolean
is_button_of (GtkWidget *widget, gconstpointer wanted)
{
  return GTK_IS_BUTTON (widget) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (widget)), wanted) == 0;
}

static gboolean
is_a (GtkWidget *widget, gconstpointer wanted)
{
  return G_TYPE_CHECK_INSTANCE_TYPE (widget, *(const GType *) wanted);
}

static void
click (PageFixture *self, const char *label)
{
  GtkWidget *button = find (self->page, is_button_of, label);

  g_test_message ("click %s", label);
  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
  iterate ();
}

/* The line beside a label of the form. */
static GtkWidget *
find_line (PageFixture *self, const char *label)
{
  GtkWidget *name = find (self->page, says, label);

  g_test_message ("line %s", label);
  g_assert_nonnull (name);
  return gtk_widget_get_next_sibling (name);
}

static void
type (PageFixture *self, const char *label, const char *text)
{
  gtk_editable_set_text (GTK_EDITABLE (find_line (self, label)), text);
  iterate ();
}

static void
put_in (PageFixture *self, const char *mark, const char *kind, const char *due)
{
  click (self, "New instrument…");
  type (self, "Mark engraved", mark);
  type (self, "Kind, as", kind);
  type (self, "next is due", due);
  click (self, "Put it into the register");
}

static const PawlGauge *
look_up (PageFixture *self, PawlRegister **instruments, const char *mark)
{
  g_autoptr(GError) error = NULL;

  *instruments = pawl_register_load (self->base.record, &error);
  g_assert_no_error (error);
  return pawl_register_lookup (*instruments, mark);
}

/* ---- tests ---- */

/* By the form from nothing to retired: each is an entry, and the page says how the instrument stands. */
static void
test_life (PageFixture *self, gconstpointer data)
{
  g_autoptr(PawlRegister) instruments = NULL;
  const PawlGauge *gauge;

  g_assert_nonnull (find (self->page, says, "No instrument is in the register yet"));
  put_in (self, "MIC-3", "micrometer", "2026-10-01");
  g_assert_nonnull (find (self->page, says, "✗ Out of date: was due 2026-10-01"));

  click (self, "It was calibrated…");
  type (self, "next is due", "2027-10-01");
  type (self, "permissible error", "±0.004 mm");
  click (self, "Keep the calibration");
  g_assert_nonnull (find (self->page, says, "✓ In date, due 2027-10-01"));
  g_assert_nonnull (find (self->page, says, "error ±0.004 mm"));

  click (self, "Change…");
  type (self, "Smallest step", "0.001 mm");
  type (self, "permissible error", "");
  click (self, "Keep the change");
  g_assert_nonnull (find (self->page, says, "step 0.001 mm"));
  g_assert_null (find (self->page, says, "error ±0.004 mm · "));

  click (self, "Retire it…");
  click (self, "Retire it");
  g_assert_nonnull (find (self->page, says, "Why is MIC-3 retired?"));
  type (self, "out of use", "dropped");
  click (self, "Retire it");
  g_assert_nonnull (find (self->page, says, "– Retired: dropped"));
  g_assert_null (find (self->page, is_button_of, "It was calibrated…"));
  g_assert_cmpuint (self->n_changed, ==, 4);

  gauge = look_up (self, &instruments, "MIC-3");
  g_assert_cmpuint (gauge->entries->len, ==, 4);
  g_assert_false (gauge->is_typing);
  /* a change names only what was changed */
  g_assert_null (pawl_entry_get (gauge->entries->pdata[2], "kind"));
  g_assert_cmpstr (pawl_entry_get (gauge->entries->pdata[2], "step"), ==, "0.001 mm");
  g_assert_cmpstr (pawl_entry_get (gauge->entries->pdata[2], "error"), ==, "-");
  g_assert_cmpstr (pawl_entry_get_person (gauge->entries->pdata[0]), ==, FIXTURE_PERSON);
}

/* What the register refuses stays in the form, with the reason. */
static void
test_refused (PageFixture *self, gconstpointer data)
{
  put_in (self, "MIC-3", "", "2026-10-01");
  g_assert_nonnull (find (self->page, says, "What kind of instrument is MIC-3?"));
  type (self, "Kind, as", "micrometer");
  type (self, "permissible error", "wide");
  click (self, "Put it into the register");
  g_assert_nonnull (find (self->page, says, "“wide”"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find_line (self, "Mark engraved"))), ==, "MIC-3");
  type (self, "permissible error", "0.004 mm");
  type (self, "Who states it", " ");
  click (self, "Put it into the register");
  g_assert_nonnull (find (self->page, says, "every entry carries a name"));
  click (self, "Never mind");
  g_assert_cmpuint (self->n_changed, ==, 0);
  g_assert_nonnull (find (self->page, says, "No instrument is in the register yet"));
}

/* The one that is due first at the top, then those without a date, the retired ones last. */
static void
test_order (PageFixture *self, gconstpointer data)
{
  static const struct { const char *mark, *due; } given[] = { { "A", "2027-06-01" }, { "B", "" }, { "C", "2026-12-01" }, { "D", "2026-11-01" } };
  static const char * const expected[] = { "D", "C", "A", "B" };
  static const PawlStanding standings[] = { PAWL_STANDING_OUT_OF_DATE, PAWL_STANDING_DUE_SOON, PAWL_STANDING_IN_DATE, PAWL_STANDING_NO_DATE };
  g_autoptr(PawlRegister) instruments = NULL;
  g_autoptr(GPtrArray) sorted = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (given); i++)
    {
      put_in (self, given[i].mark, "caliper", given[i].due);
      click (self, "All instruments");
    }
  look_up (self, &instruments, "A");
  sorted = pawl_instruments_sort (instruments);
  g_assert_cmpuint (sorted->len, ==, G_N_ELEMENTS (expected));
  for (guint i = 0; i < sorted->len; i++)
    {
      const PawlGauge *gauge = sorted->pdata[i];
      g_autofree char *words = pawl_instrument_describe_standing (gauge, self->base.now);
      g_autofree char *marked = NULL;

      g_assert_cmpstr (gauge->mark, ==, expected[i]);
      g_assert_cmpint (pawl_gauge_get_standing (gauge, self->base.now), ==, standings[i]);
      marked = g_strdup_printf ("%s %s", pawl_instrument_get_sign (standings[i]), words);
      g_assert_nonnull (find (self->page, says, marked));
    }
}

/* ---- how a gauge types ---- */

static void
wait_for_pause (PawlGaugeListener *listener)
{
  gint64 until = g_get_monotonic_time () + 3 * PAWL_BURST_PAUSE_USEC;

  while (g_get_monotonic_time () < until)
    g_main_context_iteration (NULL, FALSE);
  iterate ();
}

static void
press (PawlGaugeListener *listener, const char *text, guint gap_ms)
{
  for (guint i = 0; text[i] != '\0'; i++)
    pawl_gauge_listener_press (listener, (gunichar) text[i], 1000000 + 1000 * (gint64) (i * gap_ms));
  wait_for_pause (listener);
}

static void
test_learn (PageFixture *self, gconstpointer data)
{
  const GType type_of_listener = PAWL_TYPE_GAUGE_LISTENER;
  g_autoptr(PawlRegister) instruments = NULL, after = NULL;
  PawlGaugeListener *listener;
  const PawlGauge *gauge;

  click (self, "New instrument…");
  type (self, "Mark engraved", "MIC-3");
  type (self, "Kind, as", "micrometer");
  click (self, "Let the gauge show how it types");
  listener = PAWL_GAUGE_LISTENER (find (self->page, is_a, &type_of_listener));
  g_assert_true (pawl_gauge_listener_is_on (listener));
  press (listener, "12.345\n", 130); /* a hand */
  g_assert_true (pawl_gauge_listener_is_on (listener));
  g_assert_nonnull (find (self->page, says, "too slowly for a gauge"));
  press (listener, "ERR\n", 10);
  g_assert_nonnull (find (self->page, says, "had no number"));
  press (listener, "M3: +12,345 mm\n\n", 10); /* two Enters, as some send */
  g_assert_false (pawl_gauge_listener_is_on (listener));
  g_assert_nonnull (find (self->page, says, "It reads as +12,345"));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find_line (self, "Typed before"))), ==, "M3:");
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (find_line (self, "Typed after"))), ==, "mm");
  click (self, "Put it into the register");
  g_assert_nonnull (find (self->page, says, "Types “M3:”, the number with a decimal comma, “mm”, then Enter; in mm"));
  gauge = look_up (self, &instruments, "MIC-3");
  g_assert_true (gauge->is_typing);
  g_assert_cmpint (gauge->burst.decimal_mark, ==, ',');
  g_assert_cmpuint (gauge->burst.terminator, ==, '\n');
  g_assert_cmpstr (pawl_unit_get_symbol (gauge->burst.unit), ==, "mm");

  /* its cable is gone: it does not type any more */
  click (self, "Change…");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (find_line (self, "What ends a reading")), 0);
  click (self, "Keep the change");
  gauge = look_up (self, &after, "MIC-3");
  g_assert_false (gauge->is_typing);
}

/* Each line is named for who can't see it, and every form can be left. */
static void
test_accessible (PageFixture *self, gconstpointer data)
{
  put_in (self, "MIC-3", "micrometer", "2026-10-01");
  click (self, "Change…");
  gtk_test_accessible_assert_property (find_line (self, "Smallest step"), GTK_ACCESSIBLE_PROPERTY_LABEL, "Smallest step");
  gtk_test_accessible_assert_property (find_line (self, "What ends a reading"), GTK_ACCESSIBLE_PROPERTY_LABEL, "What ends a reading");
  click (self, "Never mind");
  g_assert_nonnull (find (self->page, is_button_of, "All instruments"));
  click (self, "All instruments");
  g_assert_nonnull (find (self->page, is_button_of, "New instrument…"));
  g_assert_cmpuint (self->n_changed, ==, 1);
}

#define ADD(path, func) g_test_add (path, PageFixture, NULL, set_up, func, tear_down)

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8"); /* gtk_test_init asks for a locale that need not be installed */
  g_object_set (gtk_settings_get_default (), "gtk-enable-animations", FALSE, NULL);
  ADD ("/app/instruments/life", test_life);
  ADD ("/app/instruments/refused", test_refused);
  ADD ("/app/instruments/order", test_order);
  ADD ("/app/instruments/learn", test_learn);
  ADD ("/app/instruments/accessible", test_accessible);
  return g_test_run ();
}
