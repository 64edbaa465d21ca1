/*
 * What there is to buy, to order or to wait for, over several jobs: which jobs (all that are open, unless one is left out), one table, as CSV and printed.
 * Signal "job-wanted" (char *job_id): a line was activated.
 */
#pragma once

#include <gtk/gtk.h>
#include "record/pawl-record.h"
#include "report/pawl-shop.h"

G_BEGIN_DECLS

#define PAWL_TYPE_BUY_PAGE (pawl_buy_page_get_type ())
G_DECLARE_FINAL_TYPE (PawlBuyPage, pawl_buy_page, PAWL, BUY_PAGE, GtkWidget)

/* @shop: where the shop stands that is named on paper; borrowed, outlives the page, as may change meanwhile. Before pawl_buy_page_apply(). */
void pawl_buy_page_set_shop (PawlBuyPage *self, const PawlShop * const *shop);
/* Reads the jobs that are not signed anew. @record: (nullable). @language: (nullable), of procedures. */
void pawl_buy_page_apply    (PawlBuyPage *self, PawlRecord *record, const char *language);
/* Gives the keyboard to the first job, or to the table. */
void pawl_buy_page_go       (PawlBuyPage *self);

G_END_DECLS
