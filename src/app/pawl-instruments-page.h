/*
 * Instruments: what the shop measures with, the one that is due first at the top; one of them with its life; the form for what happens to it.
 * Signal "changed": the register has another entry.
 */
#pragma once

#include <gtk/gtk.h>
#include "record/pawl-record.h"

G_BEGIN_DECLS

#define PAWL_TYPE_INSTRUMENTS_PAGE (pawl_instruments_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlInstrumentsPage, pawl_instruments_page, PAWL, INSTRUMENTS_PAGE, GtkWidget)

/* Reads the register anew. @record: (nullable). @person: who states what, unless another name is typed. */
void pawl_instruments_page_apply (PawlInstrumentsPage *self, PawlRecord *record, const char *person, char decimal_mark);
/* Keyboard to where one was: the list, one instrument, or the form. */
void pawl_instruments_page_go    (PawlInstrumentsPage *self);

G_END_DECLS
