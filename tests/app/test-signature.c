/* The PIN in the small form: asked of who has one, looked at before anything is stored, and gone afterwards. */
#include <gtk/gtk.h>
#include <locale.h>

#include "app-fixture.h"
#include "app/pawl-answer.h"
#include "app/pawl-signature.h"
#include "record/pawl-people.h"

#define PERSON "Morwenna Pascoe"
#define PIN "4071"

typedef struct {
  Fixture    base;
  GtkWidget *window, *form;
} FormFixture;

static void
iterate (void)
{
  for (guint i = 0; i < 200 && g_main_context_iteration (NULL, FALSE); i++)
    ;
}

static void
set_up (FormFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, data);
  g_assert_true (pawl_people_add (self->base.record, PERSON, PAWL_ROLE_TRAINER, NULL));
  g_assert_true (pawl_people_set_pin (self->base.record, PERSON, PIN, NULL));
  g_assert_true (pawl_people_add (self->base.record, "Jory Tregenza", PAWL_ROLE_FITTER, NULL));
  self->form = g_object_new (PAWL_TYPE_PROMPT_FORM, NULL);
  self->window = gtk_window_new ();
  gtk_window_set_child (GTK_WINDOW (self->window), self->form);
  gtk_window_present (GTK_WINDOW (self->window));
  pawl_prompt_form_open (PAWL_PROMPT_FORM (self->form), PAWL_PROMPT_RELEASE);
  iterate ();
}

static void
tear_down (FormFixture *self, gconstpointer data)
{
  gtk_window_destroy (GTK_WINDOW (self->window));
  iterate ();
  fixture_tear_down (&self->base, data);
}

static GtkWidget *
find_pin (GtkWidget *within)
{
  if (GTK_IS_PASSWORD_ENTRY (within))
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_pin (child);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
prove (FormFixture *self, const char *person, PawlEntry **entry)
{
  g_autoptr(PawlEntry) release = pawl_answer_new_release (&(PawlStepState) { .step = &(PawlStep) { .id = (char *) "drain" }, .hold = PAWL_HOLD_HOLD }, (PawlHand) { person, self->base.now });
  gboolean is_proved = pawl_signature_prove (PAWL_PROMPT_FORM (self->form), self->base.record, release);

  if (entry != NULL)
    *entry = g_steal_pointer (&release);
  iterate ();
  return is_proved;
}

static void
test_asked (FormFixture *self, gconstpointer data)
{
  GtkWidget *pin = find_pin (self->form);
  g_autoptr(PawlEntry) entry = NULL;

  g_assert_false (gtk_widget_get_visible (pin));
  g_assert_false (prove (self, "morwenna pascoe", NULL));
  g_assert_true (gtk_widget_get_visible (pin));
  g_assert_true (gtk_widget_is_ancestor (gtk_window_get_focus (GTK_WINDOW (self->window)), pin));

  gtk_editable_set_text (GTK_EDITABLE (pin), "4072");
  g_assert_false (prove (self, PERSON, NULL));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (pin)), ==, "");
  gtk_editable_set_text (GTK_EDITABLE (pin), PIN);
  g_assert_true (prove (self, PERSON, &entry));
  g_assert_cmpstr (pawl_entry_get (entry, "by-pin"), ==, "yes");
  g_assert_cmpstr (pawl_entry_get (entry, "role"), ==, "trainer");

  pawl_prompt_form_close (PAWL_PROMPT_FORM (self->form));
  g_assert_false (gtk_widget_get_visible (pin));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (pin)), ==, "");
}

/* Three wrong ones: then the right one has to wait, too. */
static void
test_too_many (FormFixture *self, gconstpointer data)
{
  GtkWidget *pin = find_pin (self->form);

  prove (self, PERSON, NULL);
  for (guint i = 0; i < 3; i++)
    {
      gtk_editable_set_text (GTK_EDITABLE (pin), "4072");
      g_assert_false (prove (self, PERSON, NULL));
    }
  gtk_editable_set_text (GTK_EDITABLE (pin), PIN);
  g_assert_false (prove (self, PERSON, NULL));
  fixture_wait (&self->base, 1);
  gtk_editable_set_text (GTK_EDITABLE (pin), PIN);
  g_assert_true (prove (self, PERSON, NULL));
}

/* Who has none, and who is not in the list, sign as before; a role that is known is stated. */
static void
test_not_asked (FormFixture *self, gconstpointer data)
{
  g_autoptr(PawlEntry) of_fitter = NULL;
  g_autoptr(PawlEntry) of_stranger = NULL;

  g_assert_true (prove (self, "Jory Tregenza", &of_fitter));
  g_assert_cmpstr (pawl_entry_get (of_fitter, "role"), ==, "fitter");
  g_assert_null (pawl_entry_get (of_fitter, "by-pin"));
  g_assert_true (prove (self, "Ossie Carne", &of_stranger));
  g_assert_cmpstr (pawl_entry_get (of_stranger, "role"), ==, "second person");
  g_assert_false (gtk_widget_get_visible (find_pin (self->form)));
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8"); /* gtk_test_init asks for a locale that need not be installed */

  g_test_add ("/signature/asked", FormFixture, NULL, set_up, test_asked, tear_down);
  g_test_add ("/signature/too-many", FormFixture, NULL, set_up, test_too_many, tear_down);
  g_test_add ("/signature/not-asked", FormFixture, NULL, set_up, test_not_asked, tear_down);
  return g_test_run ();
}
