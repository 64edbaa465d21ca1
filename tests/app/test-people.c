/*
 * A trainer and a learner, from an empty list of people to a released hold, all of it in the window: put in, stages, a fault that is planted, somebody called,
 * a reading taken by two, the seal opened, and what is refused on the way. All invented.
 */
#include <gtk/gtk.h>
#include <locale.h>
#include <string.h>

#include "app/pawl-field-form.h"
#include "app/pawl-holds-page.h"
#include "app/pawl-people-page.h"
#include "record/pawl-people.h"
#include "training/pawl-stages.h"
#include "window-fixture.h"

#define TRAINER "Ossie Carne"
#define PIN "4071"
#define FIRST "10.02"
#define SECOND "10.05"
#define FAULT "The washer of the tin is too thick"

/* ---- what a hand does ---- */

static void
activate (WindowFixture *self, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (self->window), action, NULL);
  fixture_iterate ();
}

static GtkWidget *
find_button (GtkWidget *within, const char *label)
{
  if (GTK_IS_BUTTON (within) && gtk_widget_get_mapped (within) && g_strcmp0 (gtk_button_get_label (GTK_BUTTON (within)), label) == 0)
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_button (child, label);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static void
press (GtkWidget *within, const char *label)
{
  GtkWidget *button = find_button (within, label);

  g_assert_nonnull (button);
  g_signal_emit_by_name (button, "clicked");
  fixture_iterate ();
}

/* The form of a page, and what is typed into it. */
static PawlFieldForm *
get_form (GtkWidget *page)
{
  return PAWL_FIELD_FORM (fixture_find (page, PAWL_TYPE_FIELD_FORM));
}

static void
choose (GtkWidget *page, const char *id, const char *word)
{
  for (guint i = 0; i < 100 && !g_str_has_prefix (pawl_field_form_get (get_form (page), id), word); i++)
    pawl_field_form_set_choice (get_form (page), id, i);
  g_assert_true (g_str_has_prefix (pawl_field_form_get (get_form (page), id), word));
}

static void
answer (GtkWidget *page)
{
  g_signal_emit_by_name (get_form (page), "answered");
  fixture_iterate ();
}

static void
answer_with_pin (GtkWidget *page, const char *pin)
{
  pawl_field_form_set (get_form (page), "trainer-pin", pin);
  answer (page);
}

/* The row of a list that has these words in a label. */
static GtkListBoxRow *
find_row (GtkWidget *page, const char *words)
{
  GtkListBox *list = GTK_LIST_BOX (fixture_find (page, GTK_TYPE_LIST_BOX));
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    if (fixture_shows (GTK_WIDGET (row), words))
      return row;
  return NULL;
}

static void
open_row (GtkWidget *page, const char *words)
{
  GtkListBoxRow *row = find_row (page, words);

  g_assert_nonnull (row);
  g_assert_true (gtk_list_box_row_get_activatable (row));
  g_signal_emit_by_name (fixture_find (page, GTK_TYPE_LIST_BOX), "row-activated", row);
  fixture_iterate ();
}

/* ---- people ---- */

static void
put_in (GtkWidget *page, const char *name, const char *role)
{
  press (page, "Somebody new…");
  pawl_field_form_set (get_form (page), "name", name);
  choose (page, "role", role);
  answer (page);
}

static void
set_pin (GtkWidget *page, const char *pin, const char *again)
{
  pawl_field_form_set (get_form (page), "pin-new", pin);
  pawl_field_form_set (get_form (page), "pin-again", again);
  answer (page);
}

static void
state_stage (WindowFixture *self, GtkWidget *page)
{
  g_autoptr(PawlStages) stages = NULL;
  const PawlSkillStage *line;

  press (page, "State a stage…");
  choose (page, "skill", "sense");
  choose (page, "stage", "under");
  answer_with_pin (page, PIN);
  g_assert_true (fixture_shows (page, "Why? A word on what was seen stays with it"));
  pawl_field_form_set (get_form (page), "reason", "Asks before pressing");
  answer_with_pin (page, "4072");
  g_assert_true (fixture_shows (page, "That is not the PIN of " TRAINER));
  answer_with_pin (page, PIN);
  g_assert_true (fixture_shows (page, "sense: which way round"));
  g_assert_true (fixture_shows (page, "stated by " TRAINER ": Asks before pressing"));
  g_assert_true (fixture_shows (page, "Asked before the right way is shown."));
  stages = pawl_stages_load (self->base.record, FIXTURE_PERSON, NULL);
  line = pawl_stages_lookup (stages, "sense");
  g_assert_nonnull (line);
  g_assert_cmpint (line->stage, ==, PAWL_STAGE_SUPERVISED);
}

/* Who learns sees the names, and of themselves what is stated; once the trainer gave the PIN, everybody is seen. */
static void
look_as_learner (WindowFixture *self, GtkWidget *page)
{
  pawl_settings_set_person (self->settings, FIXTURE_PERSON);
  activate (self, "show-jobs");
  activate (self, "show-people");
  g_assert_false (gtk_list_box_row_get_activatable (find_row (page, TRAINER)));
  g_assert_true (fixture_shows (page, "Under supervision in 1"));
  open_row (page, FIXTURE_PERSON);
  g_assert_null (find_button (page, "State a stage…"));
  g_assert_null (find_button (page, "Another role…"));
  press (page, "All people");
  gtk_editable_set_text (GTK_EDITABLE (fixture_find (page, GTK_TYPE_PASSWORD_ENTRY)), PIN);
  g_signal_emit_by_name (fixture_find (page, GTK_TYPE_PASSWORD_ENTRY), "activate");
  fixture_iterate ();
  g_assert_true (gtk_list_box_row_get_activatable (find_row (page, TRAINER)));
}

static void
test_people (WindowFixture *self, gconstpointer data)
{
  GtkWidget *page = fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_PEOPLE_PAGE);
  g_autoptr(PawlPerson) person = NULL;
  g_autoptr(GError) error = NULL;

  activate (self, "show-people");
  put_in (page, TRAINER, "Trainer");
  press (page, "Set a PIN…");
  set_pin (page, PIN, "4072");
  g_assert_true (fixture_shows (page, "The two are not the same; nothing was changed."));
  set_pin (page, PIN, PIN);
  g_assert_true (fixture_shows (page, "Trainer · has a PIN"));
  press (page, "All people");
  put_in (page, "Piran Nancarrow", "Owner"); /* nobody makes themselves one */
  g_assert_true (fixture_shows (page, "This needs the PIN of " TRAINER));
  choose (page, "role", "Fitter");
  pawl_field_form_set (get_form (page), "name", FIXTURE_PERSON);
  answer (page);
  g_assert_null (pawl_people_lookup (self->base.record, "Piran Nancarrow", &error));
  person = pawl_people_lookup (self->base.record, FIXTURE_PERSON, NULL);
  g_assert_nonnull (person);
  state_stage (self, page);
  look_as_learner (self, page);
}

/* ---- a job ---- */

static void
tighten (WindowFixture *self, const char *step, const char *field, const char *value)
{
  g_autoptr(PawlEntry) entry = pawl_entry_new (PAWL_ENTRY_TIGHTENED, step, TRAINER, self->base.now);
  g_autoptr(GError) error = NULL;

  g_assert_true (pawl_bench_reload (self->base.bench, NULL)); /* the window went on with it */
  pawl_entry_set (entry, field, value);
  pawl_entry_set (entry, "by-pin", "yes");
  g_assert_true (pawl_bench_append_one (self->base.bench, entry, &error));
  g_assert_no_error (error);
}

/* By another connection to the record, as what came from a bundle or a server. */
static void
call_from_other_bench (WindowFixture *self)
{
  PawlHand hand = { "Piran Nancarrow", self->base.now };
  g_autoptr(PawlEntry) entry = NULL;
  g_autoptr(GError) error = NULL;

  g_assert_true (pawl_bench_reload (self->base.bench, &error));
  entry = pawl_answer_new_call (pawl_job_lookup_step (pawl_bench_get_job (self->base.bench), "seat")->step, "", "before lunch", hand);
  g_assert_true (pawl_bench_append_one (self->base.bench, entry, &error));
  g_assert_no_error (error);
}

static void
set_up_holds (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, NULL);
  g_assert_true (pawl_people_add (self->base.record, TRAINER, PAWL_ROLE_TRAINER, NULL));
  g_assert_true (pawl_people_set_pin (self->base.record, TRAINER, PIN, NULL));
  g_assert_true (pawl_people_add (self->base.record, FIXTURE_PERSON, PAWL_ROLE_FITTER, NULL));
  fixture_finish_first (&self->base);
  tighten (self, "lift", "level", "hold");
  tighten (self, "", "blind", "micrometer");
  window_fixture_open (self);
  window_fixture_open_job (self);
  g_assert_cmpstr (pawl_session_get_person (pawl_window_get_session (self->window)), ==, FIXTURE_PERSON); /* not who tightened it */
}

/* The text of what is told large. */
static const char *
peek_large (GtkWidget *within)
{
  if (GTK_IS_LABEL (within) && gtk_widget_get_mapped (within) && gtk_widget_has_css_class (within, "command"))
    return gtk_label_get_text (GTK_LABEL (within));
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      const char *found = peek_large (child);

      if (found != NULL)
        return found;
    }
  return NULL;
}

/* (transfer full): the code on the trainer's paper; it stays nowhere on the screen */
static char *
plant (WindowFixture *self, GtkWidget *page)
{
  char *code;

  activate (self, "plant");
  choose (page, "step", "Step 2");
  choose (page, "kind", "A wrong part: which one");
  pawl_field_form_set (get_form (page), "words", FAULT);
  answer_with_pin (page, "1111");
  g_assert_true (fixture_shows (page, "That is not the PIN of " TRAINER));
  answer_with_pin (page, PIN);
  g_assert_true (fixture_shows (page, "which: " FAULT));
  code = g_strdup (peek_large (page));
  g_assert_cmpuint (strlen (code), ==, 14);
  press (page, "To what waits");
  g_assert_false (fixture_shows (GTK_WIDGET (self->window), FAULT));
  g_assert_null (peek_large (page));
  return code;
}

static void
take (WindowFixture *self, PawlEntry *entry)
{
  g_autoptr(PawlEntry) owned = entry;
  g_autoptr(GError) error = NULL;

  pawl_session_take (pawl_window_get_session (self->window), entry, NULL, &error);
  g_assert_no_error (error);
}

/* The learner's step, with a reading that is taken blind, to its hold; and the trainer is called. */
static void
work_to_hold (WindowFixture *self)
{
  PawlSession *session = pawl_window_get_session (self->window);
  PawlHand hand = { FIXTURE_PERSON, self->base.now };
  PawlStepPanel *panel = pawl_window_get_panel (self->window);
  PawlPromptForm *form = PAWL_PROMPT_FORM (fixture_find (GTK_WIDGET (panel), PAWL_TYPE_PROMPT_FORM));

  activate (self, "show-bench");
  take (self, pawl_answer_new_outcome (fixture_lookup_ask (&self->base, "plug-face"), "good", hand));
  take (self, pawl_answer_new_reading (fixture_lookup_ask (&self->base, "plug-size"), FIRST, "micrometer", '.', hand));
  g_assert_true (pawl_job_lookup_ask (pawl_session_get_job (session), "plug-size")->is_hidden);
  take (self, pawl_answer_new_done (pawl_job_lookup_step (pawl_session_get_job (session), "lift")->step, hand));
  pawl_session_look_at (session, "lift");
  activate (self, "call");
  pawl_prompt_form_set_line (form, 0, TRAINER);
  pawl_prompt_form_set_line (form, 1, "The micrometer lies ready");
  g_signal_emit_by_name (form, "answered");
  fixture_iterate ();
  pawl_session_look_at (session, "lift");
  fixture_iterate ();
  g_assert_true (fixture_shows (GTK_WIDGET (panel), TRAINER " is called, since 09:00: The micrometer lies ready"));
  g_assert_null (find_button (GTK_WIDGET (panel), "Call for…"));
}

/* Neither value is seen until both are in. */
static void
measure_again (WindowFixture *self, GtkWidget *page)
{
  open_row (page, "To be measured again");
  g_assert_true (fixture_shows (page, "Limits 9.9..10.1 mm"));
  g_assert_false (fixture_shows (GTK_WIDGET (self->window), FIRST));
  pawl_field_form_set (get_form (page), "value", "ten");
  answer_with_pin (page, PIN);
  g_assert_true (gtk_widget_get_mapped (GTK_WIDGET (get_form (page)))); /* no number: said, and still to be typed */
  pawl_field_form_set (get_form (page), "value", SECOND);
  answer (page);
  g_assert_true (fixture_shows (page, FIXTURE_PERSON ": " FIRST " mm"));
  g_assert_true (fixture_shows (page, TRAINER ": " SECOND " mm"));
  g_assert_true (fixture_shows (page, "The second is 0.03 mm larger."));
  press (page, "To what waits");
  g_assert_null (find_row (page, "To be measured again"));
}

static void
open_seal (GtkWidget *page, const char *code, const char *words)
{
  pawl_field_form_set (get_form (page), "code", code);
  pawl_field_form_set (get_form (page), "words", words);
  choose (page, "kind", "A wrong part: which one");
  choose (page, "found", "Yes");
  answer_with_pin (page, PIN);
}

/* Another bench sends what it has, and the list that is on show has it. */
static void
hear_of_others (WindowFixture *self, GtkWidget *page)
{
  tighten (self, "seat", "level", "witness");
  g_assert_null (find_row (page, "step 4"));
  call_from_other_bench (self);
  pawl_window_take_note_of_others (self->window);
  fixture_iterate ();
  g_assert_nonnull (find_row (page, "step 4"));
}

/* Who did the step can't release it; what was planted is told by code and words alone. */
static void
look_at_hold (WindowFixture *self, GtkWidget *page, const char *code)
{
  PawlPromptForm *form = PAWL_PROMPT_FORM (fixture_find (page, PAWL_TYPE_PROMPT_FORM));

  open_row (page, FIXTURE_PERSON " calls " TRAINER);
  pawl_prompt_form_set_line (form, 0, FIXTURE_PERSON);
  g_signal_emit_by_name (form, "answered");
  g_assert_true (fixture_shows (page, "so somebody else looks and releases its hold"));
  press (page, "Open what was sealed…");
  open_seal (page, code, "The washer of the tin is too thin");
  g_assert_true (fixture_shows (page, "That is not what was sealed: code or text differ."));
  open_seal (page, code, FAULT);
  g_assert_true (fixture_shows (page, FIXTURE_PERSON " found it before it was shown."));
  press (page, "To what waits");
  open_row (page, FIXTURE_PERSON " calls " TRAINER);
  pawl_prompt_form_set_line (form, 0, TRAINER);
  g_signal_emit_by_name (form, "answered");
  gtk_editable_set_text (GTK_EDITABLE (fixture_find (GTK_WIDGET (form), GTK_TYPE_PASSWORD_ENTRY)), PIN);
  g_signal_emit_by_name (form, "answered");
  fixture_iterate ();
  g_assert_null (find_row (page, FIXTURE_PERSON " calls " TRAINER));
}

static void
test_holds (WindowFixture *self, gconstpointer data)
{
  GtkWidget *page = fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_HOLDS_PAGE);
  g_autofree char *code = plant (self, page);
  GtkWidget *panel;
  PawlJob *job;
  GArray *seals;

  work_to_hold (self);
  activate (self, "show-holds");
  measure_again (self, page);
  hear_of_others (self, page);
  look_at_hold (self, page, code);
  activate (self, "show-bench");
  panel = GTK_WIDGET (pawl_window_get_panel (self->window));
  pawl_session_look_at (pawl_window_get_session (self->window), "lift");
  fixture_iterate ();
  g_assert_true (fixture_shows (panel, "Released by " TRAINER));
  g_assert_true (fixture_shows (panel, "Measured again by " TRAINER ": " SECOND " mm"));
  g_assert_true (fixture_shows (panel, "Planted here by " TRAINER ": which: " FAULT ". It was found."));
  job = pawl_session_get_job (pawl_window_get_session (self->window));
  g_assert_cmpstr (pawl_entry_get (pawl_job_lookup_step (job, "lift")->release, "by-pin"), ==, "yes");
  seals = pawl_job_list_seals (job);
  g_assert_cmpuint (seals->len, ==, 1);
  g_assert_cmpstr (pawl_entry_get (g_array_index (seals, PawlSeal, 0).opened, "fault-kind"), ==, "which");
  g_array_unref (seals);
}

static void
set_up (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, NULL);
  window_fixture_open (self);
}

int
main (int argc, char **argv)
{
  gtk_test_init (&argc, &argv, NULL);
  setlocale (LC_ALL, "C.UTF-8"); /* gtk_test_init asks for a locale that need not be installed */
  g_test_add ("/people/page", WindowFixture, NULL, set_up, test_people, window_fixture_tear_down);
  g_test_add ("/people/holds", WindowFixture, NULL, set_up_holds, test_holds, window_fixture_tear_down);
  return g_test_run ();
}
