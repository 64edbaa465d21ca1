/* Commands as actions, enabled from state. */
#include "app/pawl-window-private.h"

#include <glib/gi18n.h>
#include "app/pawl-holds-page.h"
#include "app/pawl-keys-window.h"
#include "app/pawl-shop-window.h"
#include "app/pawl-variant-window.h"

typedef void (*Command) (PawlWindow *self);

/* ---- commands that are short enough to stand here ---- */

static void
prompt (PawlWindow *self, PawlPromptKind kind)
{
  pawl_window_show_page (self, "bench");
  pawl_bench_page_leave_apart (pawl_window_get_bench_page (self));
  pawl_step_panel_prompt (pawl_bench_page_get_panel (pawl_window_get_bench_page (self)), kind);
}

static void note (PawlWindow *self)    { prompt (self, PAWL_PROMPT_NOTE); }
static void deviate (PawlWindow *self) { prompt (self, PAWL_PROMPT_DEVIATE); }
static void skip (PawlWindow *self)    { prompt (self, PAWL_PROMPT_SKIP); }
static void redo (PawlWindow *self)    { prompt (self, PAWL_PROMPT_REDO); }
static void release (PawlWindow *self) { prompt (self, PAWL_PROMPT_RELEASE); }

static PawlFigureView *
get_figure (PawlWindow *self)
{
  return pawl_bench_page_get_figure (pawl_window_get_bench_page (self));
}

/* The figure, or the lanes where these are shown. */
static void
zoom_by (PawlWindow *self, double factor)
{
  if (!pawl_window_zoom_run_by (self, factor))
    pawl_figure_view_zoom_by (get_figure (self), factor);
}

static void zoom_in (PawlWindow *self)    { zoom_by (self, 1.25); }
static void zoom_out (PawlWindow *self)   { zoom_by (self, 1 / 1.25); }
static void zoom_step (PawlWindow *self)  { pawl_figure_view_set_follows_step (get_figure (self), TRUE); }

static void
zoom_whole (PawlWindow *self)
{
  if (!pawl_window_zoom_run_by (self, 0))
    pawl_figure_view_set_follows_step (get_figure (self), FALSE);
}

static PawlBuildUpBar *
get_film (PawlWindow *self)
{
  pawl_window_show_page (self, "bench");
  return pawl_bench_page_get_film (pawl_window_get_bench_page (self));
}

static void
take_apart (PawlWindow *self)
{
  pawl_window_show_page (self, "bench");
  pawl_bench_page_take_apart (pawl_window_get_bench_page (self));
}

static void build_up (PawlWindow *self)      { pawl_build_up_bar_toggle (get_film (self)); }
static void build_up_on (PawlWindow *self)   { pawl_build_up_bar_step (get_film (self), 1); }
static void build_up_back (PawlWindow *self) { pawl_build_up_bar_step (get_film (self), -1); }

static void
sign (PawlWindow *self)
{
  pawl_window_show_page (self, "report");
  pawl_report_page_sign (pawl_window_get_report_page (self));
}

static void
save_report (PawlWindow *self)
{
  pawl_window_show_page (self, "report");
  pawl_report_page_save (pawl_window_get_report_page (self));
}

static void
print_report (PawlWindow *self)
{
  pawl_window_show_page (self, "report");
  pawl_report_page_print (pawl_window_get_report_page (self));
}

static void
issue_report (PawlWindow *self)
{
  pawl_window_show_page (self, "report");
  pawl_report_page_issue (pawl_window_get_report_page (self));
}

static void show_jobs (PawlWindow *self)       { pawl_window_show_start (self, "jobs"); }
static void show_procedures (PawlWindow *self) { pawl_window_show_start (self, "procedures"); }
static void show_sums (PawlWindow *self)       { pawl_window_show_start (self, "sums"); }
static void show_instruments (PawlWindow *self) { pawl_window_show_start (self, "instruments"); }
static void show_class (PawlWindow *self) { pawl_window_show_start (self, "class"); }
static void show_holds (PawlWindow *self)       { pawl_window_show_start (self, "holds"); }
static void show_buy (PawlWindow *self)         { pawl_window_show_start (self, "buy"); }
static void show_people (PawlWindow *self)      { pawl_window_show_start (self, "people"); }

/* At the step that is looked at. */
static void
act (PawlWindow *self, PawlTrainerAct act)
{
  PawlSession *session = pawl_window_get_session (self);
  g_autofree char *job = g_strdup (pawl_job_get_id (pawl_session_get_job (session))), *step = g_strdup (pawl_session_peek_step (session)->step->id);

  pawl_window_show_start (self, "holds");
  pawl_holds_page_act (PAWL_HOLDS_PAGE (self->holds), act, job, step);
}

static void measure_again (PawlWindow *self)   { act (self, PAWL_TRAINER_MEASURE); }
static void plant (PawlWindow *self)           { act (self, PAWL_TRAINER_PLANT); }
static void call_somebody (PawlWindow *self)   { prompt (self, PAWL_PROMPT_CALL); }
static void show_bench (PawlWindow *self)      { pawl_window_show_page (self, "bench"); }
static void show_run (PawlWindow *self)        { pawl_window_show_page (self, "run"); }
static void show_readings (PawlWindow *self)   { pawl_window_show_page (self, "readings"); }
static void show_history (PawlWindow *self)     { pawl_window_show_page (self, "history"); }
static void show_parts (PawlWindow *self)      { pawl_window_show_page (self, "parts"); }
static void show_report (PawlWindow *self)     { pawl_window_show_page (self, "report"); }
static void show_intake (PawlWindow *self)     { pawl_window_show_page (self, "intake"); }
static void close_notice (PawlWindow *self)    { pawl_window_say (self, NULL); }
static void show_keys (PawlWindow *self)       { pawl_keys_window_show (GTK_WINDOW (self)); }

static void
show_shop (PawlWindow *self)
{
  PawlShopWindow *shop = pawl_shop_window_new (GTK_WINDOW (self), pawl_window_get_settings (self));

  g_signal_connect_object (shop, "saved", G_CALLBACK (pawl_report_page_refresh), pawl_window_get_report_page (self), G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (shop));
}

static void
correct_variant (PawlWindow *self)
{
  gtk_window_present (GTK_WINDOW (pawl_variant_window_new (GTK_WINDOW (self), pawl_window_get_session (self))));
}

static void
look_at_next (PawlWindow *self)
{
  pawl_window_show_page (self, "bench");
  pawl_bench_page_leave_apart (pawl_window_get_bench_page (self));
  pawl_session_look_at_next (pawl_window_get_session (self));
}

static void
toggle_fullscreen (PawlWindow *self)
{
  if (gtk_window_is_fullscreen (GTK_WINDOW (self)))
    gtk_window_unfullscreen (GTK_WINDOW (self));
  else
    gtk_window_fullscreen (GTK_WINDOW (self));
}

static void
about (PawlWindow *self)
{
  gtk_show_about_dialog (GTK_WINDOW (self), "program-name", "Pawl", "version", PAWL_VERSION, "logo-icon-name", "org.pawl.Pawl",
                         "comments", _("A bench guide for rebuilding mechanical units"), "license-type", GTK_LICENSE_GPL_3_0, NULL);
}

/* ---- the table ---- */

/* When a command can be given. */
typedef enum { ALWAYS, IN_JOB, HAS_VARIANTS, CAN_UNDO, SAVE_FAILED } When;

typedef struct {
  const char *name;
  Command     command;
  When        when;
  const char *accels[3]; /* never a single letter or digit: a gauge may be typing */
} Row;

static const Row rows[] = {
  { "advance", pawl_window_advance, IN_JOB, { NULL } },   /* Space, Enter, Page Down: pawl-key-plan.c */
  { "back", pawl_window_look_back, IN_JOB, { NULL } },    /* Backspace, Page Up */
  { "undo", pawl_window_undo, CAN_UNDO, { "<Control>z" } },
  { "retry-save", pawl_window_retry_save, SAVE_FAILED, { "<Control>s" } },
  { "retry-record", pawl_window_retry_record, ALWAYS, { NULL } },
  { "close-notice", close_notice, ALWAYS, { NULL } },
  { "note", note, IN_JOB, { "<Control>n" } },
  { "photo", pawl_window_choose_photo, IN_JOB, { "<Control>i" } },
  { "photo-newest", pawl_window_take_newest_photo, IN_JOB, { "F2" } },
  { "no-photo", pawl_window_go_without_photo, IN_JOB, { "F3" } },
  { "deviate", deviate, IN_JOB, { "<Control>d" } },
  { "skip", skip, IN_JOB, { NULL } },
  { "redo", redo, IN_JOB, { NULL } },
  { "release", release, IN_JOB, { NULL } },
  { "call", call_somebody, IN_JOB, { NULL } },
  { "measure-again", measure_again, IN_JOB, { NULL } },
  { "plant", plant, IN_JOB, { NULL } },
  { "zoom-in", zoom_in, IN_JOB, { "<Control>plus", "<Control>equal" } },
  { "zoom-out", zoom_out, IN_JOB, { "<Control>minus" } },
  { "zoom-step", zoom_step, IN_JOB, { "F8" } },
  { "zoom-whole", zoom_whole, IN_JOB, { "<Control>0" } },
  { "build-up", build_up, IN_JOB, { "F9" } },
  { "build-up-on", build_up_on, IN_JOB, { "<Alt>Right" } },
  { "build-up-back", build_up_back, IN_JOB, { "<Alt>Left" } },
  { "take-apart", take_apart, IN_JOB, { "<Shift>F9" } },
  { "correct-variant", correct_variant, HAS_VARIANTS, { NULL } },
  { "next", look_at_next, IN_JOB, { "F7" } },
  { "sign", sign, IN_JOB, { NULL } },
  { "issue-report", issue_report, IN_JOB, { NULL } },
  { "print-report", print_report, IN_JOB, { "<Control>p" } },
  { "save-report", save_report, IN_JOB, { "<Control><Shift>s" } },
  { "show-jobs", show_jobs, ALWAYS, { "<Control>j" } },
  { "find-job", pawl_window_find_job, ALWAYS, { "<Control>f" } },
  { "show-procedures", show_procedures, ALWAYS, { NULL } },
  { "show-sums", show_sums, ALWAYS, { "F4" } },
  { "show-instruments", show_instruments, ALWAYS, { "F6" } },
  { "show-class", show_class, ALWAYS, { NULL } },
  { "show-holds", show_holds, ALWAYS, { NULL } },
  { "show-buy", show_buy, ALWAYS, { NULL } },
  { "show-people", show_people, ALWAYS, { NULL } },
  { "show-bench", show_bench, IN_JOB, { "<Alt>1" } },
  { "show-run", show_run, IN_JOB, { "<Alt>2", "<Control>l" } },
  { "show-readings", show_readings, IN_JOB, { "<Alt>3" } },
  { "show-history", show_history, IN_JOB, { "<Control>h" } },
  { "show-parts", show_parts, IN_JOB, { "<Alt>4" } },
  { "show-report", show_report, IN_JOB, { "<Alt>5" } },
  { "show-intake", show_intake, IN_JOB, { NULL } },
  { "open", pawl_window_choose_file, ALWAYS, { "<Control>o" } },
  { "save-job", pawl_window_save_job, IN_JOB, { NULL } },
  { "save-record", pawl_window_save_record, ALWAYS, { NULL } },
  { "take-bundle", pawl_window_choose_bundle, ALWAYS, { NULL } },
  { "fullscreen", toggle_fullscreen, ALWAYS, { "F11" } },
  { "shop", show_shop, ALWAYS, { NULL } },
  { "keys", show_keys, ALWAYS, { "F1" } },
  { "about", about, ALWAYS, { NULL } },
};

static void
activate_cb (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  const Row *row = g_object_get_data (G_OBJECT (action), "row");

  row->command (PAWL_WINDOW (data));
}

static void
change_bench_size_cb (GSimpleAction *action, GVariant *state, gpointer data)
{
  g_simple_action_set_state (action, state);
  pawl_window_set_bench_size (PAWL_WINDOW (data), g_variant_get_boolean (state));
}

static void
change_dark_cb (GSimpleAction *action, GVariant *state, gpointer data)
{
  g_simple_action_set_state (action, state);
  pawl_window_set_dark (PAWL_WINDOW (data), g_variant_get_boolean (state));
}

static void
change_glare_cb (GSimpleAction *action, GVariant *state, gpointer data)
{
  g_simple_action_set_state (action, state);
  pawl_window_set_glare (PAWL_WINDOW (data), g_variant_get_boolean (state));
}

static void
change_sound_cb (GSimpleAction *action, GVariant *state, gpointer data)
{
  g_simple_action_set_state (action, state);
  pawl_window_set_sound (PAWL_WINDOW (data), g_variant_get_boolean (state));
}

static void
change_inch_cb (GSimpleAction *action, GVariant *state, gpointer data)
{
  g_simple_action_set_state (action, state);
  pawl_window_set_inch (PAWL_WINDOW (data), g_variant_get_boolean (state));
}

static void
add_toggle (PawlWindow *self, const char *name, gboolean state, GCallback change)
{
  g_autoptr(GSimpleAction) action = g_simple_action_new_stateful (name, NULL, g_variant_new_boolean (state));

  g_signal_connect (action, "change-state", change, self);
  g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (action));
}

void
pawl_window_install_actions (PawlWindow *self)
{
  const PawlSettings *settings = pawl_window_get_settings (self);

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr(GSimpleAction) action = g_simple_action_new (rows[i].name, NULL);

      g_object_set_data (G_OBJECT (action), "row", (gpointer) &rows[i]);
      g_signal_connect (action, "activate", G_CALLBACK (activate_cb), self);
      g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (action));
    }
  add_toggle (self, "bench-size", settings->is_bench_size, G_CALLBACK (change_bench_size_cb));
  add_toggle (self, "inch", settings->is_inch, G_CALLBACK (change_inch_cb));
  add_toggle (self, "dark", settings->is_dark, G_CALLBACK (change_dark_cb));
  add_toggle (self, "glare", settings->is_glare, G_CALLBACK (change_glare_cb));
  add_toggle (self, "sound", settings->has_sound, G_CALLBACK (change_sound_cb));
}

static gboolean
is_enabled (When when, PawlSession *session)
{
  switch (when)
    {
    case ALWAYS:      return TRUE;
    case IN_JOB:      return session != NULL;
    case HAS_VARIANTS:
      return session != NULL && pawl_procedure_get_variants (pawl_bench_get_procedure (pawl_session_get_bench (session)))->len > 0;
    case CAN_UNDO:    return session != NULL && pawl_session_can_undo (session);
    case SAVE_FAILED: return session != NULL && pawl_session_get_save_problem (session) != NULL;
    default:          return FALSE;
    }
}

void
pawl_window_update_actions (PawlWindow *self)
{
  PawlSession *session = pawl_window_get_session (self);

  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self), rows[i].name);

      g_simple_action_set_enabled (G_SIMPLE_ACTION (action), is_enabled (rows[i].when, session));
    }
}

void
pawl_window_set_accels (GtkApplication *application)
{
  for (guint i = 0; i < G_N_ELEMENTS (rows); i++)
    if (rows[i].accels[0] != NULL)
      {
        g_autofree char *name = g_strconcat ("win.", rows[i].name, NULL);

        gtk_application_set_accels_for_action (application, name, (const char * const *) rows[i].accels);
      }
  gtk_application_set_accels_for_action (application, "win.bench-size", (const char *[]) { "<Control>b", NULL });
  gtk_application_set_accels_for_action (application, "win.glare", (const char *[]) { "<Control>g", NULL });
  gtk_application_set_accels_for_action (application, "window.close", (const char *[]) { "<Control>w", "<Control>q", NULL });
}
