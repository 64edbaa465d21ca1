/* How the window shows things: bench size, light or dark, units. */
#include "app/pawl-window-private.h"

#include "app/pawl-look.h"
#include "app/pawl-sums-page.h"

void
pawl_window_apply_bench_size (PawlWindow *self)
{
  if (self->job_pages != NULL)
    pawl_bench_page_set_bench_size (pawl_job_pages_get_bench (self->job_pages), self->setting.settings->is_bench_size);
}

static const char *
get_reader (PawlWindow *self, PawlSession *session)
{
  return session != NULL ? pawl_session_get_person (session) : self->setting.settings->person;
}

/* Of who is at the bench of @session, else of who was there last. */
void
pawl_window_apply_lengths (PawlWindow *self, PawlSession *session)
{
  PawlSettings *settings = self->setting.settings;

  pawl_settings_use_lengths_of (settings, get_reader (self, session));
  g_simple_action_set_state (G_SIMPLE_ACTION (g_action_map_lookup_action (G_ACTION_MAP (self), "inch")), g_variant_new_boolean (settings->is_inch));
  pawl_sums_page_set_settings (PAWL_SUMS_PAGE (self->sums), settings);
  if (session == NULL)
    return;
  pawl_session_set_lengths (session, settings->is_inch ? PAWL_LENGTH_INCH : PAWL_LENGTH_MM, settings->decimal_mark);
  pawl_session_set_own_lengths (session, settings->lengths);
}

void
pawl_window_apply_palette (PawlWindow *self)
{
  if (self->job_pages != NULL)
    pawl_bench_page_set_palette (pawl_job_pages_get_bench (self->job_pages), pawl_look_get_palette (GTK_WIDGET (self)));
}

void
pawl_window_set_bench_size (PawlWindow *self, gboolean is_bench_size)
{
  self->setting.settings->is_bench_size = is_bench_size;
  pawl_settings_save (self->setting.settings, NULL);
  pawl_look_set_bench_size (GTK_WINDOW (self), is_bench_size);
  pawl_window_apply_bench_size (self);
}

static void
monitor_entered_cb (PawlWindow *self)
{
  pawl_look_measure (GTK_WINDOW (self));
  pawl_window_apply_bench_size (self);
}

/* Which monitor a window is on is known only once it is there. */
static void
realized_cb (PawlWindow *self)
{
  g_signal_connect_object (gtk_native_get_surface (GTK_NATIVE (self)), "enter-monitor", G_CALLBACK (monitor_entered_cb), self, G_CONNECT_SWAPPED);
  monitor_entered_cb (self);
}

void
pawl_window_install_look (PawlWindow *self)
{
  const PawlSettings *settings = self->setting.settings;

  g_signal_connect (self, "realize", G_CALLBACK (realized_cb), NULL);
  pawl_look_measure (GTK_WINDOW (self));
  pawl_look_set_dark (gtk_widget_get_display (GTK_WIDGET (self)), settings->is_dark && !settings->is_glare);
  pawl_look_set_glare (GTK_WINDOW (self), settings->is_glare);
  pawl_look_set_bench_size (GTK_WINDOW (self), settings->is_bench_size);
}

void
pawl_window_set_dark (PawlWindow *self, gboolean is_dark)
{
  self->setting.settings->is_dark = is_dark;
  self->setting.settings->has_dark = TRUE;
  pawl_settings_save (self->setting.settings, NULL);
  pawl_look_set_dark (gtk_widget_get_display (GTK_WIDGET (self)), is_dark && !self->setting.settings->is_glare);
}

/* What is dark otherwise is so again afterwards. */
void
pawl_window_set_glare (PawlWindow *self, gboolean is_glare)
{
  self->setting.settings->is_glare = is_glare;
  pawl_settings_save (self->setting.settings, NULL);
  pawl_look_set_dark (gtk_widget_get_display (GTK_WIDGET (self)), self->setting.settings->is_dark && !is_glare);
  pawl_look_set_glare (GTK_WINDOW (self), is_glare);
  pawl_window_apply_palette (self);
}

void
pawl_window_set_sound (PawlWindow *self, gboolean has_sound)
{
  self->setting.settings->has_sound = has_sound;
  pawl_settings_save (self->setting.settings, NULL);
}

void
pawl_window_set_inch (PawlWindow *self, gboolean is_inch)
{
  pawl_settings_set_inch (self->setting.settings, get_reader (self, self->session), is_inch);
  pawl_settings_save (self->setting.settings, NULL);
  pawl_window_apply_lengths (self, self->session);
}
