/* Finding jobs by what was said in them: serial, work order, customer, unit, procedure, complaint, parts, lots, notes. */
#pragma once

#include "record/pawl-record-recall.h"

G_BEGIN_DECLS

#define PAWL_RECALL_ERROR (pawl_recall_error_quark ())
GQuark pawl_recall_error_quark (void);

typedef enum {
  PAWL_RECALL_ERROR_NO_WORD, /* nothing in it that could be looked for */
  PAWL_RECALL_ERROR_BAD_DAY,
} PawlRecallError;

typedef struct {
  PawlOpening *opening;
  GPtrArray   *said; /* (element-type PawlSaid): where the words were found, each place once */
} PawlHit;

typedef struct {
  GPtrArray *hits;   /* (element-type PawlHit) */
  guint      n_jobs; /* found in all; more than hits when there were too many */
} PawlFound;

PawlFound *pawl_find      (PawlRecord *record, const char *text, guint most, GError **error);
void       pawl_found_free (PawlFound *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlFound, pawl_found_free)

G_END_DECLS
