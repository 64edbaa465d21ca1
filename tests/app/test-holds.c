/* The page of what waits for somebody to look: a hold is there once its step is done, and gone once another person has released it by their PIN. */
#include <gtk/gtk.h>
#include <locale.h>

#include "app-fixture.h"
#include "app/pawl-holds-page.h"
#include "app/pawl-prompt-form.h"
#include "record/pawl-people.h"

#define TRAINER "Morwenna Pascoe" /* invented */
#define PIN "4071"

static void
iterate (void)
{
  for (guint i = 0; i < 200 && g_main_context_iteration (NULL, FALSE); i++)
    ;
}

static GtkWidget *
find (GtkWidget *within, GType type)
{
  if (g_type_is_a (G_OBJECT_TYPE (within), type))
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find (child, type);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static guint
count_rows (GtkWidget *page)
{
  GtkWidget *list = find (page, GTK_TYPE_LIST_BOX);
  guint n = 0;

  while (gtk_list_box_get_row_at_index (GTK_LIST_BOX (list), (int) n) != NULL)
    n++;
  return n;
}

static void
count_cb (GtkWidget *page, guint *n)
{
  (*n)++;
}

/* Fills the form in, and presses its button. */
static void
release (GtkWidget *page, const char *name, const char *pin)
{
  PawlPromptForm *form = PAWL_PROMPT_FORM (find (page, PAWL_TYPE_PROMPT_FORM));

  pawl_prompt_form_set_line (form, 0, name);
  if (pin != NULL)
    gtk_editable_set_text (GTK_EDITABLE (find (GTK_WIDGET (form), GTK_TYPE_PASSWORD_ENTRY)), pin);
  g_signal_emit_by_name (form, "answered");
  iterate ();
}

static void
call (Fixture *self)
{
  g_autoptr(PawlEntry) level = pawl_entry_new (PAWL_ENTRY_TIGHTENED, "drain", TRAINER, self->now);
  g_autoptr(GError) error = NULL;

  pawl_entry_set (level, "level", "hold");
  pawl_entry_set (level, "by-pin", "yes");
  g_assert_true (pawl_bench_append_one (self->bench, level, &error));
  g_assert_no_error (error);
}

static void
test_release (Fixture *self, gconstpointer data)
{
  GtkWidget *window = gtk_window_new (), *page = g_object_new (PAWL_TYPE_HOLDS_PAGE, NULL), *form;
  const PawlStepState *step;
  guint n_changed = 0;

  g_assert_true (pawl_people_add (self->record, TRAINER, PAWL_ROLE_TRAINER, NULL));
  g_assert_true (pawl_people_set_pin (self->record, TRAINER, PIN, NULL));
  gtk_window_set_child (GTK_WINDOW (window), page);
  gtk_window_present (GTK_WINDOW (window));
  g_signal_connect (page, "changed", G_CALLBACK (count_cb), &n_changed);
  call (self);
  pawl_holds_page_apply (PAWL_HOLDS_PAGE (page), self->record, FIXTURE_PERSON);
  g_assert_cmpuint (count_rows (page), ==, 0);
  fixture_finish_first (self);
  pawl_holds_page_apply (PAWL_HOLDS_PAGE (page), self->record, FIXTURE_PERSON);
  g_assert_cmpuint (count_rows (page), ==, 1);

  form = find (page, PAWL_TYPE_PROMPT_FORM);
  g_assert_false (gtk_widget_get_visible (form));
  g_signal_emit_by_name (find (page, GTK_TYPE_LIST_BOX), "row-activated",
                         gtk_list_box_get_row_at_index (GTK_LIST_BOX (find (page, GTK_TYPE_LIST_BOX)), 0));
  g_assert_true (gtk_widget_get_visible (form));
  release (page, FIXTURE_PERSON, NULL); /* who did the step */
  release (page, TRAINER, NULL);        /* without the PIN, which is asked for */
  release (page, TRAINER, "4072");
  g_assert_cmpuint (count_rows (page), ==, 1);
  g_assert_cmpuint (n_changed, ==, 0);
  release (page, TRAINER, PIN);
  g_assert_cmpuint (count_rows (page), ==, 0);
  g_assert_cmpuint (n_changed, ==, 1);
  g_assert_false (gtk_widget_get_visible (form));

  g_assert_true (pawl_bench_reload (self->bench, NULL));
  step = pawl_job_lookup_step (pawl_bench_get_job (self->bench), "drain");
  g_assert_nonnull (step->release);
  g_assert_cmpstr (pawl_entry_get (step->release, "by-pin"), ==, "yes");
  g_assert_cmpstr (pawl_entry_get (step->release, "role"), ==, "trainer");
  g_assert_cmpstr (pawl_entry_get (step->release, "level"), ==, "hold");
  gtk_window_destroy (GTK_WINDOW (window));
  iterate ();
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8"); /* gtk_test_init asks for a locale that need not be installed */
  g_test_add ("/holds/release", Fixture, NULL, fixture_set_up, test_release, fixture_tear_down);
  return g_test_run ();
}
