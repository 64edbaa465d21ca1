/* Just enough of CSS to see what a style says: declarations one by one, in a style attribute or in the blocks of a style sheet. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* @name: in lower case; @value: as written. Neither has comments or white space round it. FALSE: stop. */
typedef gboolean (*PawlStyleVisit) (const char *name, const char *value, gpointer data);

/* "a: b; c: d". FALSE when @visit said so. */
gboolean pawl_style_visit_declarations (const char *text, PawlStyleVisit visit, gpointer data);
/**
 * pawl_style_visit_sheet:
 * @n_selectors: (inout): the simple parts of all selectors (".a > b:c" has three) are added to it: each is compared with each element
 *
 * Visits the declarations of every block, those inside @media and the like too.
 */
gboolean pawl_style_visit_sheet        (const char *text, guint *n_selectors, PawlStyleVisit visit, gpointer data);
/* (nullable): where @word, in lower case, begins in @text, whatever the case there. */
const char *pawl_style_find            (const char *text, const char *word);

G_END_DECLS
