/* The window in one process, on a display: templates load, actions follow state, keys go where they should, widgets go away. */
#include <glib/gstdio.h>
#include <gtk/gtk.h>

#include "window-fixture.h"
#include "app/pawl-application.h"
#include "app/pawl-ask-row.h"
#include "app/pawl-history-page.h"
#include "app/pawl-intake-form.h"
#include "app/pawl-jobs-page.h"
#include "app/pawl-look.h"
#include "app/pawl-outcome-picture.h"
#include "app/pawl-procedures-page.h"
#include "app/pawl-readings-page.h"
#include "app/pawl-shop-window.h"
#include "bundle/pawl-bundle.h"
#include "view/pawl-job-view.h"

static void
set_up (WindowFixture *self, gconstpointer data)
{
  fixture_set_up (&self->base, data);
  window_fixture_open (self);
}

static gboolean
is_enabled (WindowFixture *self, const char *action)
{
  return g_action_group_get_action_enabled (G_ACTION_GROUP (self->window), action);
}

static void
activate (WindowFixture *self, const char *action)
{
  g_action_group_activate_action (G_ACTION_GROUP (self->window), action, NULL);
  fixture_iterate ();
}

static const char *
get_step (WindowFixture *self)
{
  return pawl_session_peek_step (pawl_window_get_session (self->window))->step->id;
}

/* The first visible widget of a kind, top down. */
static GtkWidget *
find_widget (GtkWidget *within, GType type, const char *css_class)
{
  if (G_TYPE_CHECK_INSTANCE_TYPE (within, type) && gtk_widget_get_mapped (within) && (css_class == NULL || gtk_widget_has_css_class (within, css_class)))
    return within;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      GtkWidget *found = find_widget (child, type, css_class);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static PawlStepPanel *
get_panel (WindowFixture *self)
{
  return pawl_bench_page_get_panel (pawl_window_get_bench_page (self->window));
}

static void
test_actions (WindowFixture *self, gconstpointer data)
{
  g_assert_false (is_enabled (self, "advance"));
  g_assert_false (is_enabled (self, "undo"));
  g_assert_true (is_enabled (self, "open"));
  window_fixture_open_job (self);
  g_assert_true (is_enabled (self, "advance"));
  g_assert_false (is_enabled (self, "undo"));
  g_assert_false (is_enabled (self, "retry-save"));
  g_assert_cmpstr (get_step (self), ==, "drain");
  activate (self, "show-jobs");
  g_assert_false (is_enabled (self, "advance"));
  g_assert_null (pawl_window_get_session (self->window));
}

/* Pressing too early says why, in a line that stays; a note typed and taken lets the press through. */
static void
test_advance (WindowFixture *self, gconstpointer data)
{
  GtkWidget *entry, *problem;

  window_fixture_open_job (self);
  activate (self, "advance");
  g_assert_cmpstr (get_step (self), ==, "drain");
  problem = find_widget (GTK_WIDGET (get_panel (self)), GTK_TYPE_LABEL, "problem");
  g_assert_nonnull (problem);
  g_assert_nonnull (strstr (gtk_label_get_label (GTK_LABEL (problem)), "Match mark"));
  entry = find_widget (GTK_WIDGET (get_panel (self)), GTK_TYPE_ENTRY, NULL);
  g_assert_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), "to the flange");
  g_signal_emit_by_name (entry, "activate");
  fixture_iterate ();
  g_assert_true (is_enabled (self, "undo"));
  g_assert_null (find_widget (GTK_WIDGET (get_panel (self)), GTK_TYPE_LABEL, "problem"));
  activate (self, "advance");
  g_assert_cmpstr (get_step (self), ==, "lift");
  activate (self, "back");
  g_assert_cmpstr (get_step (self), ==, "drain");
  activate (self, "undo");
  activate (self, "undo");
  g_assert_false (is_enabled (self, "undo"));
}

static void
test_type_reading (WindowFixture *self, gconstpointer data)
{
  GtkWidget *focus;

  window_fixture_open_job (self);
  g_assert_false (pawl_step_panel_type_reading (get_panel (self), "3"));
  fixture_answer (&self->base, "mark", "x"); /* by another window: this one is told when it opens the job again */
  fixture_finish_first (&self->base);
  window_fixture_open_job (self);
  g_assert_cmpstr (get_step (self), ==, "lift");
  g_assert_true (pawl_step_panel_type_reading (get_panel (self), "1"));
  focus = gtk_window_get_focus (GTK_WINDOW (self->window));
  g_assert_true (GTK_IS_EDITABLE (focus));
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (focus)), ==, "1");
}

/* Every kind of ask builds its row and shows each of its states. */
static void
test_rows (WindowFixture *self, gconstpointer data)
{
  GPtrArray *steps = pawl_job_get_steps (pawl_session_get_job (self->base.session));
  guint seen = 0;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *step = steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAskState *state = step->asks->pdata[j];
          g_autoptr(GtkWidget) row = g_object_ref_sink (GTK_WIDGET (pawl_ask_row_new (self->base.session, state->ask)));

          pawl_ask_row_update (PAWL_ASK_ROW (row), pawl_session_get_job (self->base.session), state, TRUE);
          pawl_ask_row_update (PAWL_ASK_ROW (row), pawl_session_get_job (self->base.session), state, FALSE);
          gtk_test_accessible_assert_role (row, GTK_ACCESSIBLE_ROLE_GROUP);
          gtk_test_accessible_assert_property (row, GTK_ACCESSIBLE_PROPERTY_LABEL, pawl_ask_row_get_title (PAWL_ASK_ROW (row)));
          seen |= 1u << state->ask->kind;
        }
    }
  g_assert_cmphex (seen, ==, (1u << PAWL_ASK_FIT) | (1u << PAWL_ASK_CHECK) | (1u << PAWL_ASK_READING) | (1u << PAWL_ASK_WAIT)
                              | (1u << PAWL_ASK_DECIDE) | (1u << PAWL_ASK_NOTE));
}

static void
test_pages (WindowFixture *self, gconstpointer data)
{
  static const char * const pages[] = { "keys", "show-run", "show-readings", "show-parts", "show-report", "show-bench" };

  window_fixture_open_job (self);
  for (guint i = 0; i < G_N_ELEMENTS (pages); i++)
    activate (self, pages[i]);
  g_assert_true (pawl_window_is_at_bench (self->window));
}

static void
test_sizes (WindowFixture *self, gconstpointer data)
{
  window_fixture_open_job (self);
  g_action_group_change_action_state (G_ACTION_GROUP (self->window), "bench-size", g_variant_new_boolean (TRUE));
  fixture_iterate ();
  g_assert_true (gtk_widget_has_css_class (GTK_WIDGET (self->window), "bench-size"));
  g_assert_true (self->settings->is_bench_size);
  g_action_group_change_action_state (G_ACTION_GROUP (self->window), "dark", g_variant_new_boolean (TRUE));
  fixture_iterate ();
  g_assert_true (pawl_look_is_dark (GTK_WIDGET (self->window)));
  g_action_group_change_action_state (G_ACTION_GROUP (self->window), "dark", g_variant_new_boolean (FALSE));
  fixture_iterate ();
  g_assert_false (pawl_look_is_dark (GTK_WIDGET (self->window)));
}

static void
test_lengths (WindowFixture *self, gconstpointer data)
{
  static const PawlLengthUnit units[] = { PAWL_LENGTH_INCH, PAWL_LENGTH_MM };

  window_fixture_open_job (self);
  for (guint i = 0; i < G_N_ELEMENTS (units); i++)
    {
      g_action_group_change_action_state (G_ACTION_GROUP (self->window), "inch", g_variant_new_boolean (units[i] == PAWL_LENGTH_INCH));
      fixture_iterate ();
      g_assert_cmpint (pawl_session_get_lengths (pawl_window_get_session (self->window)).unit, ==, units[i]);
      g_assert_cmpint (self->settings->is_inch, ==, units[i] == PAWL_LENGTH_INCH);
    }
}

static void
test_finalise (WindowFixture *self, gconstpointer data)
{
  gpointer weak = self->window;

  window_fixture_open_job (self);
  activate (self, "show-report");
  g_object_add_weak_pointer (G_OBJECT (self->window), &weak);
  gtk_window_destroy (GTK_WINDOW (self->window));
  self->window = NULL;
  for (guint i = 0; i < 500 && weak != NULL; i++) /* a layout that is under way ends first */
    g_main_context_iteration (NULL, TRUE);
  g_assert_null (weak);
}

/* What is typed and not taken is there again after another step was looked at, and gone once it is taken. */
static void
test_drafts (WindowFixture *self, gconstpointer data)
{
  PawlSession *session;
  GtkWidget *entry;

  window_fixture_open_job (self);
  session = pawl_window_get_session (self->window);
  entry = find_widget (GTK_WIDGET (get_panel (self)), GTK_TYPE_ENTRY, NULL);
  gtk_editable_set_text (GTK_EDITABLE (entry), "half a mark");
  pawl_step_panel_prompt (get_panel (self), PAWL_PROMPT_SKIP);
  entry = find_widget (find_widget (GTK_WIDGET (get_panel (self)), PAWL_TYPE_PROMPT_FORM, NULL), GTK_TYPE_ENTRY, NULL);
  gtk_editable_set_text (GTK_EDITABLE (entry), "half a reason");
  pawl_session_look_at (session, "lift");
  fixture_iterate ();
  pawl_step_panel_prompt (get_panel (self), PAWL_PROMPT_SKIP);
  entry = find_widget (find_widget (GTK_WIDGET (get_panel (self)), PAWL_TYPE_PROMPT_FORM, NULL), GTK_TYPE_ENTRY, NULL);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "");
  pawl_session_look_at (session, "drain");
  fixture_iterate ();
  entry = find_widget (GTK_WIDGET (get_panel (self)), GTK_TYPE_ENTRY, NULL);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "half a mark");
  g_signal_emit_by_name (entry, "activate");
  fixture_iterate ();
  g_assert_cmpstr (pawl_session_peek_draft (session, "mark", "answer"), ==, "");
  pawl_step_panel_prompt (get_panel (self), PAWL_PROMPT_SKIP);
  entry = find_widget (find_widget (GTK_WIDGET (get_panel (self)), PAWL_TYPE_PROMPT_FORM, NULL), GTK_TYPE_ENTRY, NULL);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "half a reason");
}

/* Putting a job aside takes nothing away, nor does a crash: the second session reads what the first one wrote. What a hand types stands large over the figure. */
static void
test_drafts_stay (WindowFixture *self, gconstpointer data)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *folder = g_dir_make_tmp ("pawl-drafts-XXXXXX", &error);
  const char *verdict;
  PawlSession *session;
  GtkWidget *entry;

  g_assert_no_error (error);
  self->window->setting.drafts = folder;
  fixture_answer (&self->base, "mark", "x");
  fixture_finish_first (&self->base);
  window_fixture_open_job (self);
  g_assert_true (pawl_step_panel_type_reading (get_panel (self), "1"));
  session = pawl_window_get_session (self->window);
  g_assert_true (g_str_has_prefix (pawl_session_peek_echo (session, &verdict), "1"));
  g_assert_null (verdict);
  pawl_session_look_at (session, "drain");
  g_assert_null (pawl_session_peek_echo (session, &verdict));
  pawl_window_close_job (self->window);
  window_fixture_open_job (self);
  entry = find_widget (GTK_WIDGET (get_panel (self)), GTK_TYPE_ENTRY, "reading");
  g_assert_nonnull (entry);
  g_assert_cmpstr (gtk_editable_get_text (GTK_EDITABLE (entry)), ==, "1");
  gtk_editable_set_text (GTK_EDITABLE (entry), "");
  pawl_window_close_job (self->window);
  self->window->setting.drafts = NULL;
  g_assert_cmpint (g_rmdir (folder), ==, 0); /* the last draft takes its file along */
}

static PawlAskRow *
find_row (GtkWidget *within, const char *ask_id)
{
  if (PAWL_IS_ASK_ROW (within) && g_str_equal (pawl_ask_row_get_ask (PAWL_ASK_ROW (within))->id, ask_id))
    return PAWL_ASK_ROW (within);
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    {
      PawlAskRow *found = find_row (child, ask_id);

      if (found != NULL)
        return found;
    }
  return NULL;
}

static gboolean
shows (GtkWidget *within, const char *words)
{
  if (GTK_IS_LABEL (within) && gtk_widget_get_mapped (within) && strstr (gtk_label_get_label (GTK_LABEL (within)), words) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (shows (child, words))
      return TRUE;
  return FALSE;
}

static void
type (GtkWidget *row, const char *css_class, const char *text, gboolean enters)
{
  GtkWidget *entry = find_widget (row, GTK_TYPE_ENTRY, css_class);

  g_assert_nonnull (entry);
  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  if (enters)
    g_signal_emit_by_name (entry, "activate");
  fixture_iterate ();
}

/* What can hardly be meant is doubted while it is typed, at each place; once it is taken the doubt is gone. */
static void
test_doubts (WindowFixture *self, gconstpointer data)
{
  GtkWidget *row;

  window_fixture_open_job (self);
  row = GTK_WIDGET (find_row (GTK_WIDGET (get_panel (self)), "bore"));
  type (row, "reading", "8.01 in", FALSE);
  g_assert_true (shows (row, "is the unit right?"));
  type (row, "reading", "8.01", FALSE);
  g_assert_false (shows (row, "is the unit right?"));
  type (row, "reading", "8.01; 80100", FALSE);
  g_assert_true (shows (row, "80100 is over 1000 times"));
  type (row, "reading", "8.01; 8.02", TRUE);
  g_assert_false (shows (row, "80100 is over 1000 times"));
}

/* Over what was worked out nobody types by chance: a button, a value, a reason. */
static void
test_typed_over (WindowFixture *self, gconstpointer data)
{
  const PawlAttempt *attempt;
  GtkWidget *row;

  window_fixture_open_job (self);
  row = GTK_WIDGET (find_row (GTK_WIDGET (get_panel (self)), "clearance"));
  g_assert_true (shows (row, "Waits for"));
  g_assert_null (find_widget (row, GTK_TYPE_ENTRY, NULL));
  type (GTK_WIDGET (find_row (GTK_WIDGET (get_panel (self)), "bore")), "reading", "8.01; 8.02", TRUE);
  type (GTK_WIDGET (find_row (GTK_WIDGET (get_panel (self)), "shaft")), "reading", "7.98", TRUE);
  g_assert_true (shows (row, "0.04 mm · ≈ 0.00157 in · worked out"));
  g_signal_emit_by_name (find_widget (row, GTK_TYPE_TOGGLE_BUTTON, NULL), "clicked"); /* it is settled, so folded */
  g_signal_emit_by_name (find_widget (row, GTK_TYPE_BUTTON, "over"), "clicked");
  type (row, "reading", "0.03", TRUE);
  g_assert_true (shows (row, "needs the reason why"));
  type (row, "why", "strip, twice", TRUE);
  g_assert_true (shows (row, "typed over what was worked out"));
  g_assert_null (find_widget (row, GTK_TYPE_ENTRY, NULL));
  attempt = g_ptr_array_index (pawl_job_lookup_ask (pawl_session_get_job (pawl_window_get_session (self->window)), "clearance")->attempts, 0);
  g_assert_true (attempt->is_typed_over);
  g_assert_cmpstr (pawl_entry_get (attempt->entry, "remark"), ==, "strip, twice");
}

/* Each outcome that has a picture shows its own, once the figure is open; the picture is of that region alone, and no part of the figure. */
static void
test_pictures (WindowFixture *self, gconstpointer data)
{
  g_autofree char *path = fixture_dup_data_path ("svg/patterns.svg");
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFigure) figure = pawl_figure_load (path, &error);
  GHashTable *drawn = pawl_outcome_pictures_draw (self->base.procedure, figure);
  const PawlAsk *ask = fixture_lookup_ask (&self->base, "row-60");
  g_autoptr(GtkWidget) row = NULL;
  g_autoptr(PawlScene) scene = pawl_scene_new (figure);

  g_assert_no_error (error);
  g_assert_cmpuint (g_hash_table_size (drawn), ==, 5);
  row = g_object_ref_sink (GTK_WIDGET (pawl_ask_row_new (self->base.session, ask)));
  g_assert_null (gtk_picture_get_paintable (GTK_PICTURE (fixture_find (row, GTK_TYPE_PICTURE))));
  pawl_session_take_pictures (self->base.session, drawn);
  g_assert_true (gtk_picture_get_paintable (GTK_PICTURE (fixture_find (row, GTK_TYPE_PICTURE))) == g_hash_table_lookup (drawn, "look-centred"));
  pawl_view_hide_pictures (self->base.procedure, scene);
  g_assert_cmpint (pawl_scene_get_state (scene, "look-toe"), ==, PAWL_STATE_HIDDEN);
  g_assert_cmpint (pawl_scene_get_state (scene, "body"), ==, PAWL_STATE_OUT);
  pawl_scene_show_all (scene);
  g_assert_cmpfloat (pawl_scene_get_view (scene).width, <, 120); /* the body is 80 wide; with the pictures it would be 360 */
}

/* What a worker brings. */
static GtkWidget *
wait_for (GtkWidget *within, GType type)
{
  GtkWidget *found = NULL;

  for (guint i = 0; i < 500 && (found = find_widget (within, type, NULL)) == NULL; i++)
    g_main_context_iteration (NULL, TRUE);
  g_assert_nonnull (found);
  return found;
}

#define ADD(path, func) g_test_add (path, WindowFixture, NULL, set_up, func, window_fixture_tear_down)
#define ADD_DERIVED(path, func) g_test_add (path, WindowFixture, "good/derived.xml", set_up, func, window_fixture_tear_down)

/* From a line of the readings to its chart, and back. */
static void
test_history (WindowFixture *self, gconstpointer data)
{
  GtkWidget *window, *row, *history;

  window_fixture_open_job (self);
  window = GTK_WIDGET (self->window);
  activate (self, "show-readings");
  row = find_widget (find_widget (window, PAWL_TYPE_READINGS_PAGE, NULL), GTK_TYPE_LIST_BOX_ROW, NULL);
  g_signal_emit_by_name (find_widget (row, GTK_TYPE_BUTTON, NULL), "clicked");
  fixture_iterate ();
  g_assert_null (find_widget (window, PAWL_TYPE_READINGS_PAGE, NULL));
  history = find_widget (window, PAWL_TYPE_HISTORY_PAGE, NULL);
  g_assert_nonnull (history);
  wait_for (history, GTK_TYPE_DRAWING_AREA);
  g_signal_emit_by_name (history, "back");
  fixture_iterate ();
  g_assert_null (find_widget (window, PAWL_TYPE_HISTORY_PAGE, NULL));
  g_assert_nonnull (find_widget (window, PAWL_TYPE_READINGS_PAGE, NULL));
}

/* What stands in the fields becomes the shop, unless reports could not be written with it. */
static void
test_shop (WindowFixture *self, gconstpointer data)
{
  GtkWidget *shop = GTK_WIDGET (pawl_shop_window_new (NULL, self->settings));
  GtkWidget *first;

  gtk_window_present (GTK_WINDOW (shop));
  fixture_iterate ();
  first = find_widget (shop, GTK_TYPE_ENTRY, NULL);
  g_assert_nonnull (first);
  gtk_editable_set_text (GTK_EDITABLE (first), "  Polmear Engine Shop (invented) ");
  g_assert_true (pawl_shop_window_save (PAWL_SHOP_WINDOW (shop)));
  g_assert_cmpstr (self->settings->shop->name, ==, "Polmear Engine Shop (invented)");
  g_assert_cmpstr (self->settings->shop->policy, ==, "simple");
  gtk_window_destroy (GTK_WINDOW (shop));
  pawl_shop_set_text (&self->settings->shop->clauses, "/nonexistent/clauses.xml");
  shop = GTK_WIDGET (pawl_shop_window_new (NULL, self->settings));
  g_assert_false (pawl_shop_window_save (PAWL_SHOP_WINDOW (shop)));
  gtk_window_destroy (GTK_WINDOW (shop));
  fixture_iterate ();
}

/* From the list of jobs, and by its own command: the first reading of the job. */
static void
test_history_of_job (WindowFixture *self, gconstpointer data)
{
  GtkWidget *window = GTK_WIDGET (self->window), *history;

  g_signal_emit_by_name (find_widget (find_widget (find_widget (window, PAWL_TYPE_JOBS_PAGE, NULL), GTK_TYPE_LIST_BOX, NULL), GTK_TYPE_BUTTON, NULL), "clicked");
  fixture_iterate ();
  history = find_widget (window, PAWL_TYPE_HISTORY_PAGE, NULL);
  g_assert_nonnull (history);
  wait_for (history, GTK_TYPE_DRAWING_AREA);
  activate (self, "show-bench");
  activate (self, "show-history");
  g_assert_nonnull (find_widget (window, PAWL_TYPE_HISTORY_PAGE, NULL));
  wait_for (find_widget (window, PAWL_TYPE_HISTORY_PAGE, NULL), GTK_TYPE_DRAWING_AREA);
}

/* In the order in which they stand on the form. */
static void
list_mapped_entries (GtkWidget *within, GPtrArray *entries)
{
  if (GTK_IS_ENTRY (within) && gtk_widget_get_mapped (within))
    g_ptr_array_add (entries, within);
  for (GtkWidget *child = gtk_widget_get_first_child (within); child != NULL; child = gtk_widget_get_next_sibling (child))
    list_mapped_entries (child, entries);
}

/* What is typed at intake is what the job was opened with, and is not there for the next unit; who works, and at which bench, is. */
static void
test_intake (WindowFixture *self, gconstpointer data)
{
  static const struct { const char *field, *typed; } lines[] = {
    { NULL, FIXTURE_PERSON }, { "serial", "DC1-8" }, { "work-order", "TS-10" }, { "customer", "Launch Wren (invented)" }, { "complaint", "Weeps at the plug" },
    { "authority", "Clean and reseat, up to 40" }, { "identified-by", "Letters DC on the body" }, { "old-parts", "Wanted back" },
    { "bench", "2" },
  };
  GtkWidget *page = fixture_find (GTK_WIDGET (self->window), PAWL_TYPE_PROCEDURES_PAGE), *form = fixture_find (page, PAWL_TYPE_INTAKE_FORM);
  g_autoptr(GPtrArray) entries = g_ptr_array_new ();
  g_autofree char *path = fixture_dup_data_path ("good/minimal.xml");
  PawlJob *job;

  pawl_window_open_file (self->window, path);
  while (!gtk_widget_get_mapped (form))
    g_main_context_iteration (NULL, TRUE);
  list_mapped_entries (form, entries);
  g_assert_cmpuint (entries->len, ==, G_N_ELEMENTS (lines));
  for (guint i = 0; i < entries->len; i++)
    {
      gtk_editable_set_text (entries->pdata[i], lines[i].typed);
    }
  g_signal_emit_by_name (entries->pdata[1], "activate");
  fixture_iterate ();
  job = pawl_session_get_job (pawl_window_get_session (self->window));
  for (guint i = 1; i < entries->len; i++)
    {
      g_assert_cmpstr (pawl_job_get_field (job, lines[i].field), ==, lines[i].typed);
      g_assert_cmpstr (gtk_editable_get_text (entries->pdata[i]), ==, g_strcmp0 (lines[i].field, "bench") == 0 ? "2" : "");
    }
  g_assert_cmpstr (gtk_editable_get_text (entries->pdata[0]), ==, FIXTURE_PERSON);
  g_assert_cmpstr (self->settings->bench, ==, "2");
}

/* Takes @path in, as when it is dropped on the window, and holds what is said then against @says. */
static void
take_in (WindowFixture *self, const char *path, const char *says)
{
  pawl_window_take_bundle (self->window, path);
  while (g_str_has_suffix (gtk_label_get_label (GTK_LABEL (self->window->notice_label)), "…"))
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpstr (gtk_label_get_label (GTK_LABEL (self->window->notice_label)), ==, says);
}

/* A job of another bench, as a bundle. */
static char *
make_bundle (WindowFixture *self)
{
  g_autofree char *record_path = g_build_filename (self->base.folder, "other.db", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlRecord) record = pawl_record_open (record_path, PAWL_RECORD_OPEN_CREATE, &self->base.host, &error);
  g_autoptr(PawlEntry) opening = pawl_answer_new_opening (&(PawlIntake) { .serial = "DC1-9" }, (PawlHand) { FIXTURE_PERSON, self->base.now });
  g_autoptr(PawlBench) bench = pawl_bench_open (record, self->base.procedure, NULL, opening, &error);
  char *path = g_build_filename (self->base.folder, "other.pawl.zip", NULL);

  g_assert_no_error (error);
  g_assert_nonnull (bench);
  pawl_bundle_write (record, NULL, path, NULL, &error);
  g_assert_no_error (error);
  return path;
}

static void
test_bundle (WindowFixture *self, gconstpointer data)
{
  g_autofree char *path = make_bundle (self), *broken = g_build_filename (self->base.folder, "broken.zip", NULL), *refusal = NULL, *found = NULL;
  g_autoptr(GError) error = NULL;

  g_assert_true (is_enabled (self, "take-bundle"));
  g_assert_true (is_enabled (self, "save-record"));
  g_assert_false (is_enabled (self, "save-job"));
  take_in (self, path, "The bundle is taken in: 1 entry came, 1 job or instrument is new.");
  found = pawl_record_find_job (self->base.record, "DC1-9", &error);
  g_assert_no_error (error);
  take_in (self, path, "Nothing in the bundle is new; the record has all of it.");
  g_file_set_contents (broken, "PK, and no more", -1, &error);
  g_assert_no_error (error);
  g_assert_false (pawl_bundle_merge (self->base.record, broken, NULL, &error));
  refusal = g_strdup_printf ("%s; nothing was taken from it", error->message);
  take_in (self, broken, refusal);
  g_assert_true (pawl_window_open_job (self->window, found));
  g_assert_true (is_enabled (self, "save-job"));
}

int
main (int argc, char **argv)
{
  window_fixture_init (&argc, &argv);
  ADD ("/app/window/actions", test_actions);
  ADD ("/app/window/advance", test_advance);
  ADD ("/app/window/type-reading", test_type_reading);
  ADD ("/app/window/rows", test_rows);
  ADD ("/app/window/pages", test_pages);
  ADD ("/app/window/history", test_history);
  ADD ("/app/window/intake", test_intake);
  ADD ("/app/window/bundle", test_bundle);
  ADD ("/app/window/shop", test_shop);
  ADD ("/app/window/history-of-job", test_history_of_job);
  ADD ("/app/window/sizes", test_sizes);
  ADD ("/app/window/lengths", test_lengths);
  ADD ("/app/window/drafts", test_drafts);
  ADD ("/app/window/drafts-stay", test_drafts_stay);
  ADD_DERIVED ("/app/window/doubts", test_doubts);
  ADD_DERIVED ("/app/window/typed-over", test_typed_over);
  g_test_add ("/app/window/pictures", WindowFixture, "good/every-measurement.xml", set_up, test_pictures, window_fixture_tear_down);
  ADD ("/app/window/finalise", test_finalise);
  return g_test_run ();
}
