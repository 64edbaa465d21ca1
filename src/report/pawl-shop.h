/* The shop: who stands at the head of a report, and what a shop decides once for all of them. One key file, whose path is handed in. */
#pragma once

#include <glib.h>

#include "report/pawl-paper.h"

G_BEGIN_DECLS

#define PAWL_SHOP_ERROR (pawl_shop_error_quark ())
GQuark pawl_shop_error_quark (void);
typedef enum {
  PAWL_SHOP_ERROR_IO,
  PAWL_SHOP_ERROR_BAD, /* the message names the file, and says what would be right */
} PawlShopError;

/* Texts are never NULL; "" when the shop did not say. */
typedef struct {
  char     *name, *address, *registration;
  char     *logo;     /* file: PNG, JPEG or SVG */
  char     *warranty; /* the shop's own words, printed with the limits of a report */
  char     *footer;   /* a line at the foot of each page */
  char     *policy;   /* decision rule of jobs opened from now on, as PawlPolicy has it */
  char     *hours;    /* when hands are at the bench, as pawl_hours_parse() has it; "": any hour */
  char     *clauses;  /* file; "": those that come with the program */
  PawlPaper paper;
  guint     keep_years; /* how long reports are kept, printed with their limits; 0: not said */
} PawlShop;

/* (transfer full): what a shop is that never said anything. */
PawlShop *pawl_shop_new      (void);
/* @path: (nullable). A file that is not there is no error, and gives pawl_shop_new(). What the file does not say is as in it. */
PawlShop *pawl_shop_load     (const char *path, GError **error);
/* Writes beside, then renames; the folder is made. Keys that Pawl does not know stay in the file. */
gboolean  pawl_shop_save     (const PawlShop *self, const char *path, GError **error);
PawlShop *pawl_shop_copy     (const PawlShop *self);
void      pawl_shop_free     (PawlShop *self);
/* Puts @value (nullable: leaves it) in place of a text. */
void      pawl_shop_set_text (char **text, const char *value);
/* (transfer full): where the user's own is. */
char     *pawl_shop_dup_default_path (const char *config_folder);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlShop, pawl_shop_free)

G_END_DECLS
