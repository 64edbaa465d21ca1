/* The shopping list on paper: what there is to buy, to order or to wait for, over one job or several. */
#pragma once

#include "job/pawl-job.h"
#include "report/pawl-pages.h"
#include "report/pawl-shop.h"

G_BEGIN_DECLS

typedef struct {
  PawlPaper       paper;
  const PawlShop *shop;   /* (nullable) */
  GDateTime      *issued; /* stands on the list, and in the file as its date */
} PawlBuyListOptions;

/**
 * pawl_buy_list_new:
 * @jobs: (element-type PawlJob): a table for each that wants something; they have to outlive the pages
 *
 * Returns: (transfer full)
 */
PawlPages *pawl_buy_list_new (GPtrArray *jobs, const PawlBuyListOptions *options);
/* (transfer full): the same as CSV, with a header line. @jobs: (element-type PawlJob) */
char      *pawl_buy_list_make_csv (GPtrArray *jobs);

G_END_DECLS
