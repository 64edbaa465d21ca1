/*
 * Procedures: what can be done, with how far each is verified and what the proof-reader found; and the small form that begins a job.
 * Signals "job-wanted" (PawlProcedureLine *line, PawlIntake *intake, char *person): the form was filled in; borrowed for the call. "listed": the folders were read.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-answer.h"
#include "app/pawl-procedure-line.h"
#include "record/pawl-record.h"
#include "report/pawl-shop.h"

G_BEGIN_DECLS

#define PAWL_TYPE_PROCEDURES_PAGE (pawl_procedures_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlProceduresPage, pawl_procedures_page, PAWL, PROCEDURES_PAGE, GtkWidget)

/* Lists the files of @folders (NULL-terminated), read off the main loop; their figures are tried after they are listed. @trial: borrowed, outlives
 * the page. */
void pawl_procedures_page_list   (PawlProceduresPage *self, const char * const *folders, const char *language, PawlTrial *trial);
/* Adds a file that the user opened, and shows its form, or what is wrong with it. */
void pawl_procedures_page_open   (PawlProceduresPage *self, const char *path);
void pawl_procedures_page_set_person (PawlProceduresPage *self, const char *person);
/* Whether fits are asked before they are shown, unless the user says otherwise on the form. */
void pawl_procedures_page_set_bench     (PawlProceduresPage *self, const char *bench); /* where jobs begun here lie; "" */
void pawl_procedures_page_set_ask_first (PawlProceduresPage *self, gboolean is_ask_first);
/* Whose name and paper bench sheets have. @shop: where the shop's settings are, which may be changed for others; both borrowed, outlive the page. */
void pawl_procedures_page_set_shop (PawlProceduresPage *self, const PawlShop * const *shop, const PawlRecordHost *host);
/* Why a job could not be opened, on the form. */
void pawl_procedures_page_say    (PawlProceduresPage *self, const char *problem);
/* A job was begun: back to the list, and what was said of its unit is not said of the next. */
void pawl_procedures_page_begun   (PawlProceduresPage *self);
/* (transfer full) (element-type utf8 utf8): the revision of each procedure that is listed, by its id. */
GHashTable *pawl_procedures_page_list_revisions (PawlProceduresPage *self);
/* Back from the form to the list. */
void pawl_procedures_page_show_list (PawlProceduresPage *self);

G_END_DECLS
