/* A window on the record of app-fixture.h, in this process: how it opens, what it shows, and how it goes. */
#pragma once

#include <gtk/gtk.h>

#include "app-fixture.h"
#include "app/pawl-window-private.h"

typedef struct {
  Fixture         base;
  PawlSettings   *settings;
  PawlTrial      *trial;
  GtkApplication *application;
  PawlWindow     *window;     /* a test that closes it sets it to NULL */
  const char     *folders[2]; /* of procedures */
  gint64          clock;      /* of the keyboard, for tests that press keys, in a unit of their own */
} WindowFixture;

/* In place of gtk_test_init(): without animations, in a locale that is there. */
void       window_fixture_init       (int *argc, char ***argv);
/* What is ready to be done now, as far as it goes. */
void       fixture_iterate           (void);
/* After fixture_set_up() of its base: the window, with no job open. */
void       window_fixture_open       (WindowFixture *self);
/* The base's job. */
void       window_fixture_open_job   (WindowFixture *self);
/* The program ends by itself after its last window, but not before the work that a page has under way. */
void       window_fixture_tear_down  (WindowFixture *self, gconstpointer data);
/* (nullable): the first of a kind, seen or not. */
GtkWidget *fixture_find              (GtkWidget *within, GType type);
/* Whether a label that is on show has these words. */
gboolean   fixture_shows             (GtkWidget *within, const char *words);
