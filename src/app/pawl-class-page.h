/*
 * What people did right at once, and how fast they became. Everybody sees their own figures; all of them are for a trainer or an owner of the list of
 * people, who proves it by a PIN when they have one. None of it stands on a customer's print.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-settings.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

#define PAWL_TYPE_CLASS_PAGE (pawl_class_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlClassPage, pawl_class_page, PAWL, CLASS_PAGE, GtkWidget)

/* @record: (nullable). @person: who is at the bench, "" for nobody; whoever it is has to prove anew who they are. @settings: borrowed, outlives the page. */
void pawl_class_page_apply (PawlClassPage *self, PawlRecord *record, const char *person, const PawlSettings *settings);
void pawl_class_page_go    (PawlClassPage *self);

G_END_DECLS
