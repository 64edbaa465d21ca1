/* Printing: pages through the desktop's print dialog, as they were laid out. */
#pragma once

#include <gtk/gtk.h>
#include "report/pawl-sheaf.h"

G_BEGIN_DECLS

/* (transfer full): prints @sheaf, which is taken, on the paper that it was laid out for unless the user chooses another. Not run yet. */
GtkPrintOperation *pawl_printing_new_operation (PawlSheaf *sheaf);

/* What became of it, a sentence; NULL when the user thought better of it. */
typedef void (*PawlPrintingSaid) (const char *words, gpointer data);

/**
 * pawl_printing_ask:
 * @sheaf: (transfer full)
 * @page: a widget of the window that the dialog stands over; the printer chosen is remembered while that window is open
 * @said: called once, later, also when the window is gone by then
 */
void pawl_printing_ask (PawlSheaf *sheaf, GtkWidget *page, PawlPrintingSaid said, gpointer data);

G_END_DECLS
