/*
 * Settings of the window: who is at the bench, how large, how dark, which print of the report. One small key file, whose path is handed in. The shop has a file
 * of its own beside it, which the command reads as well.
 */
#pragma once

#include <glib.h>

#include "app/pawl-own-unit.h"
#include "report/pawl-report.h"

G_BEGIN_DECLS

typedef struct {
  char    *path;          /* (nullable): kept in memory only */
  char    *person;        /* "" when nobody said */
  char    *bench;         /* where the job that was begun last lies; "" */
  char    *shop_path;     /* (nullable): kept in memory only */
  PawlShop *shop;
  char    *shop_problem;  /* (nullable): why the shop's file could not be read; it is left as it is until somebody saves */
  PawlPrint print;        /* of the report that is looked at */
  gboolean has_histories; /* it has the history of each reading */
  gboolean has_dark;      /* the user chose light or dark; else the desktop says */
  gboolean is_dark;
  gboolean is_glare;      /* black on white with thick lines, for a bench in the sun; before is_dark */
  gboolean has_sound;     /* a tick when a reading is taken, two when it is not in; else silence */
  gboolean is_bench_size;
  gboolean is_inch;       /* of who is at the bench now: lengths that the program states are in inches; else millimetres. What was typed stays as typed */
  PawlLengths lengths;    /* of who is at the bench now: what readings are shown in */
  gboolean is_inch_for_all; /* of who never said */
  GHashTable *lengths_by_person; /* (element-type utf8 PawlLengths): those who said; names without regard to case */
  char     decimal_mark;
  char    *photo_folder;  /* that the photo chosen last came from; "" before the first */
  gboolean is_ask_first;  /* of the job that was begun last: fits are asked before they are shown */
} PawlSettings;

/* Reads @path; what is missing or cannot be read gets its default. */
PawlSettings *pawl_settings_load (const char *path);
/* Failing to write is no reason to stop anybody: FALSE with the reason. */
gboolean      pawl_settings_save (const PawlSettings *self, GError **error);
/* The shop alone, into its own file. */
gboolean      pawl_settings_save_shop (PawlSettings *self, GError **error);
void          pawl_settings_free (PawlSettings *self);
/* Makes is_inch and lengths those of @person; "": of nobody in particular. */
void          pawl_settings_use_lengths_of (PawlSettings *self, const char *person);
/* @person says which they read; "" says it for all who never did. */
void          pawl_settings_set_inch   (PawlSettings *self, const char *person, gboolean is_inch);
void          pawl_settings_set_person (PawlSettings *self, const char *person);
void          pawl_settings_set_photo_folder (PawlSettings *self, const char *folder);
void          pawl_settings_set_bench  (PawlSettings *self, const char *bench);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSettings, pawl_settings_free)

G_END_DECLS
