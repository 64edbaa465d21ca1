/*
 * Keeps a copy and its store together while a window is open: a thread of its own, with connections of its own, so that the main loop waits
 * for nobody. It sends what it is told of, takes what the store tells of, and tries again and again while the store is away.
 *
 * Signal "changed", on the main context of the thread that made it: pawl_share_keeper_peek() says something else.
 */
#pragma once

#include "share/pawl-share.h"

G_BEGIN_DECLS

typedef struct {
  gboolean has_tried;  /* FALSE until the store was tried for the first time */
  guint    n_waiting;  /* entries that the store does not have yet */
  gboolean is_away;    /* it can't be reached, while other problems are somebody's to mend */
  gint64   away_usec;  /* since when it can't be done, microseconds of the UNIX epoch; 0 when it can */
  char    *problem;    /* (nullable): why not */
  char    *refusal;    /* (nullable): why the first refused job was refused; of how many: */
  guint    n_refused;
  guint    n_came;     /* entries that came in all, since the keeper was made: the pages are to be read again when it rises */
} PawlShareNews;

#define PAWL_TYPE_SHARE_KEEPER (pawl_share_keeper_get_type ())
G_DECLARE_FINAL_TYPE (PawlShareKeeper, pawl_share_keeper, PAWL, SHARE_KEEPER, GObject)

/* @copy_path: pawl_address_dup_copy_path(). @host: (nullable): copied; its clock is asked from the thread. PAWL_STORE_ERROR_ADDRESS. */
PawlShareKeeper     *pawl_share_keeper_new  (const char *address, const char *copy_path, const PawlRecordHost *host, GError **error);
/* Something was appended to the copy. */
void                 pawl_share_keeper_tell (PawlShareKeeper *self);
/* Lent until the next "changed". */
const PawlShareNews *pawl_share_keeper_peek (PawlShareKeeper *self);
const char          *pawl_share_keeper_get_address (PawlShareKeeper *self); /* as it may be shown */

G_END_DECLS
