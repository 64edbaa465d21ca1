/* A desktop that takes notifications, on the session bus: what stands on it can be looked at and clicked. As the Desktop Notifications Specification 1.2 has it. */
#pragma once

#include <gio/gio.h>

typedef struct {
  guint  id;
  char  *title, *body;
  guint  n_shown; /* how often it was shown: once, and each time that it was replaced */
  gboolean has_sound;
} FakeNote;

typedef struct _FakeDesktop FakeDesktop;

FakeDesktop *fake_desktop_new    (void); /* owns org.freedesktop.Notifications once this returns */
void         fake_desktop_free   (FakeDesktop *self);
guint        fake_desktop_count  (FakeDesktop *self);
/* (nullable): the one that stands there with a title that begins so. */
const FakeNote *fake_desktop_find (FakeDesktop *self, const char *title);
/* Returns when whatever was answered has reached @connection, and lies in its main loop. */
void         fake_desktop_sync   (FakeDesktop *self, GDBusConnection *connection);
void         fake_desktop_click  (FakeDesktop *self, guint id);
/* How often anything was shown in all. */
guint        fake_desktop_get_n_shown (FakeDesktop *self);
