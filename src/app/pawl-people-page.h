/*
 * People: who works with this record, in what role; how far each is in each skill, who said so, and what follows from it.
 * Who trains sees everybody, by PIN where they have one; others see the names, and of themselves all.
 */
#pragma once

#include <gtk/gtk.h>
#include "record/pawl-record.h"

G_BEGIN_DECLS

#define PAWL_TYPE_PEOPLE_PAGE (pawl_people_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlPeoplePage, pawl_people_page, PAWL, PEOPLE_PAGE, GtkWidget)

/* @record: (nullable); @person: at the bench. A PIN that was given is asked for again. */
void pawl_people_page_apply (PawlPeoplePage *self, PawlRecord *record, const char *person);
void pawl_people_page_go    (PawlPeoplePage *self);

G_END_DECLS
