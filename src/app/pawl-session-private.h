/* The session's own files: pawl-session.c, and pawl-session-press.c for what a press does. */
#pragma once

#include "app/pawl-drafts.h"
#include "app/pawl-session.h"

G_BEGIN_DECLS

struct _PawlSession {
  GObject parent_instance;

  PawlBench *bench;
  char      *person;
  PawlLengthUnit length_unit;
  char       decimal_mark;
  PawlLengths own_lengths;
  char      *step_id;      /* looked at */
  GDateTime *hand_at;      /* of the hand lent last */
  PawlRegister *instruments; /* (nullable) until it is wanted */
  PawlDrafts *drafts;
  char       *echo_value, *echo_verdict; /* (nullable) */
  PawlOffer  offer;        /* its head NULL: none */
  guint      n_offered;    /* entries of the job when that was said */

  PawlEntry *held;         /* (nullable) the answer that could not be written */
  char      *held_words;
  char      *save_problem; /* (nullable) */
  const PawlReadingSpot *spot; /* (nullable) borrowed from the procedure */
  char     **marked;       /* (nullable) ids of parts */
  char      *photo_asked_at; /* (nullable) id of the step at which a press was used up by asking for a photo */
  GHashTable *pictures;    /* (nullable) (element-type utf8 GObject) by region */
};

void pawl_offer_clear         (PawlOffer *self);
/* The job may have become another: what was offered of it is withdrawn then. */
void pawl_session_check_offer (PawlSession *self);

G_END_DECLS
