/* A line of the shopping list over several jobs: what stands in each column, and whose it is. For a GtkColumnView. */
#pragma once

#include <glib-object.h>
#include "job/pawl-job-parts.h"

G_BEGIN_DECLS

typedef enum { PAWL_BUY_JOB, PAWL_BUY_WHAT, PAWL_BUY_QUANTITY, PAWL_BUY_WHY, PAWL_BUY_FROM, PAWL_BUY_EXPECTED, PAWL_BUY_N_COLUMNS } PawlBuyColumn;

#define PAWL_TYPE_BUY_LINE (pawl_buy_line_get_type ())
G_DECLARE_FINAL_TYPE (PawlBuyLine, pawl_buy_line, PAWL, BUY_LINE, GObject)

PawlBuyLine *pawl_buy_line_new      (PawlJob *job, const PawlWant *want); /* copies what it shows */
const char  *pawl_buy_line_get_text (PawlBuyLine *self, PawlBuyColumn column);
const char  *pawl_buy_line_get_job  (PawlBuyLine *self); /* id */

/* (transfer full): "SD-3 sidedraft carburetor, PD 30718, TS-1042": what tells a job from the others */
char        *pawl_buy_describe_job  (PawlJob *job);
/* "Missing", "Ordered", … */
const char  *pawl_buy_get_word      (PawlWantKind kind);

G_END_DECLS
