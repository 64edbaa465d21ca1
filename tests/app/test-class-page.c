/* Whose figures the page shows: everybody their own, a trainer all of them once the PIN was given. */
#include <gtk/gtk.h>
#include <locale.h>

#include "app-fixture.h"
#include "app/pawl-class-page.h"
#include "record/pawl-people.h"

#define TRAINER "Morwenna Pascoe"
#define PIN "4071"

typedef struct {
  Fixture       base;
  PawlSettings *settings;
  GtkApplication *application; /* waits in the end for what the page still reads */
  GtkWidget    *window, *page;
} PageFixture;

static void
set_up (PageFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, data);
  fixture_finish_first (&self->base);
  g_assert_true (pawl_people_add (self->base.record, TRAINER, PAWL_ROLE_TRAINER, NULL));
  g_assert_true (pawl_people_set_pin (self->base.record, TRAINER, PIN, NULL));
  g_assert_true (pawl_people_add (self->base.record, "Old Tamsin", PAWL_ROLE_OWNER, NULL));
  self->settings = pawl_settings_load (NULL);
  self->page = g_object_new (PAWL_TYPE_CLASS_PAGE, NULL);
  self->application = gtk_application_new ("org.pawl.Test", G_APPLICATION_NON_UNIQUE);
  g_assert_true (g_application_register (G_APPLICATION (self->application), NULL, NULL));
  self->window = gtk_application_window_new (self->application);
  gtk_window_set_child (GTK_WINDOW (self->window), self->page);
  gtk_window_present (GTK_WINDOW (self->window));
}

static void
activate_cb (GApplication *application)
{
}

static void
tear_down (PageFixture *self, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  g_signal_connect (self->application, "activate", G_CALLBACK (activate_cb), NULL);
  g_application_run (G_APPLICATION (self->application), 0, NULL);
  g_object_unref (self->application);
  pawl_settings_free (self->settings);
  fixture_tear_down (&self->base, data);
}

/* The first widget below @within of @type, or a label with @text when that is given. */
static GtkWidget *
find (GtkWidget *within, GType type, const char *text)
{
  if (g_type_is_a (G_OBJECT_TYPE (within), type) && (text == NULL || strstr (gtk_label_get_text (GTK_LABEL (within)), text) != NULL))
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find (child, type, text);

      if (found != NULL)
        return found;
    }
  return NULL;
}

/* (transfer full): who is in the list, with commas between; "" when it isn't shown */
static char *
list_people (PageFixture *self)
{
  GtkDropDown *people = GTK_DROP_DOWN (find (self->page, GTK_TYPE_DROP_DOWN, NULL));
  GListModel *model = gtk_drop_down_get_model (people);
  g_autoptr(GString) list = g_string_new (NULL);

  for (guint i = 0; gtk_widget_get_visible (GTK_WIDGET (people)) && i < g_list_model_get_n_items (model); i++)
    g_string_append_printf (list, "%s%s", i > 0 ? ", " : "", gtk_string_list_get_string (GTK_STRING_LIST (model), i));
  return g_string_free (g_steal_pointer (&list), FALSE);
}

static void
assert_seen_by (PageFixture *self, const char *person, const char *names, gboolean asks_pin)
{
  g_autofree char *list = NULL;

  pawl_class_page_apply (PAWL_CLASS_PAGE (self->page), self->base.record, person, self->settings);
  g_assert_nonnull (find (self->page, GTK_TYPE_LABEL, "Reading the jobs"));
  while (find (self->page, GTK_TYPE_LABEL, "Reading the jobs") != NULL)
    g_main_context_iteration (NULL, TRUE);
  list = list_people (self);
  g_assert_cmpstr (list, ==, names);
  g_assert_cmpint (gtk_widget_get_visible (find (self->page, GTK_TYPE_PASSWORD_ENTRY, NULL)), ==, asks_pin);
}

static void
test_own (PageFixture *self, gconstpointer data)
{
  assert_seen_by (self, FIXTURE_PERSON, FIXTURE_PERSON, FALSE);
  g_assert_nonnull (find (self->page, GTK_TYPE_LABEL, "1 job, last step finished"));
  g_assert_null (find (self->page, GTK_TYPE_LABEL, "Steps that trip"));
  assert_seen_by (self, "Denzel Rosewarne", "", FALSE);
  g_assert_nonnull (find (self->page, GTK_TYPE_LABEL, "Denzel Rosewarne has finished no step"));
  assert_seen_by (self, "", "", FALSE);
  assert_seen_by (self, "Old Tamsin", "Everybody, " FIXTURE_PERSON, FALSE); /* the owner has no PIN to prove anything by */
}

static void
test_trainer (PageFixture *self, gconstpointer data)
{
  GtkWidget *pin = find (self->page, GTK_TYPE_PASSWORD_ENTRY, NULL);
  g_autofree char *before = NULL, *after = NULL;

  assert_seen_by (self, TRAINER, "", TRUE);
  gtk_editable_set_text (GTK_EDITABLE (pin), "4072");
  g_signal_emit_by_name (pin, "activate");
  before = list_people (self);
  g_assert_cmpstr (before, ==, "");
  g_assert_nonnull (find (self->page, GTK_TYPE_LABEL, "not the PIN of " TRAINER));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (pin)), ==, "");

  gtk_editable_set_text (GTK_EDITABLE (pin), PIN);
  g_signal_emit_by_name (pin, "activate");
  after = list_people (self);
  g_assert_cmpstr (after, ==, "Everybody, " FIXTURE_PERSON);
  g_assert_nonnull (find (self->page, GTK_TYPE_LABEL, "Steps that trip most people"));
  assert_seen_by (self, TRAINER, "", TRUE); /* whoever comes next proves it anew */
}

/* A PIN that was given while the jobs are still being read counts when they are. */
static void
test_early_pin (PageFixture *self, gconstpointer data)
{
  GtkWidget *pin = find (self->page, GTK_TYPE_PASSWORD_ENTRY, NULL);
  g_autofree char *list = NULL;

  pawl_class_page_apply (PAWL_CLASS_PAGE (self->page), self->base.record, TRAINER, self->settings);
  g_assert_nonnull (find (self->page, GTK_TYPE_LABEL, "Reading the jobs"));
  gtk_editable_set_text (GTK_EDITABLE (pin), PIN);
  g_signal_emit_by_name (pin, "activate");
  g_assert_nonnull (find (self->page, GTK_TYPE_LABEL, "Reading the jobs"));
  while (find (self->page, GTK_TYPE_LABEL, "Reading the jobs") != NULL)
    g_main_context_iteration (NULL, TRUE);
  list = list_people (self);
  g_assert_cmpstr (list, ==, "Everybody, " FIXTURE_PERSON);
}

int
main (int argc, char **argv)
{
  setlocale (LC_ALL, "");
  g_test_init (&argc, &argv, NULL);
  gtk_init ();
  g_test_add ("/app/class-page/own", PageFixture, NULL, set_up, test_own, tear_down);
  g_test_add ("/app/class-page/trainer", PageFixture, NULL, set_up, test_trainer, tear_down);
  g_test_add ("/app/class-page/early-pin", PageFixture, NULL, set_up, test_early_pin, tear_down);
  return g_test_run ();
}
