/* Recall: what the record's index finds. It gives jobs and texts; src/recall makes answers of them. */
#pragma once

#include "record/pawl-record.h"

G_BEGIN_DECLS

/* What tells a job from others, of its opening entry, as corrected since; "" where nothing is stated. */
typedef struct {
  char *job;
  char *opened; /* when, as the entry has it: 2026-05-04T09:15:00.000000+02:00 */
  char *procedure; /* its id */
  char *revision;
  char *title;
  char *unit;
  char *serial;
  char *work_order;
  char *customer;
} PawlOpening;

void         pawl_opening_free        (PawlOpening *self);
/* (transfer full) */
PawlOpening *pawl_record_load_opening (PawlRecord *self, const char *job_id, GError **error);

/* A text that was searched for and where it was said. */
typedef struct {
  gint64 number; /* rises as texts reach this record */
  char *job;
  char *entry; /* id */
  char *place; /* serial, work order, customer, unit, procedure, revision, complaint, person, part, lot, note, answer, reason, deviation, photo, source */
  char *text;
} PawlSaid;

void         pawl_said_free      (PawlSaid *self);
GPtrArray   *pawl_record_search  (PawlRecord *self, const char *words, GError **error);

typedef enum {
  PAWL_TOUCHED_BY_INSTRUMENT, /* its mark, or else the tool's id */
  PAWL_TOUCHED_BY_LOT,
  PAWL_TOUCHED_BY_REVISION,
  PAWL_TOUCHED_BY_PERSON,
} PawlTouchedBy;

/* A job that something touched. */
typedef struct {
  PawlOpening *opening;
  char        *first, *last; /* days of the calendar where the work was done, 2026-05-04 */
  guint        n;            /* entries */
} PawlTouched;

void         pawl_touched_free        (PawlTouched *self);
GPtrArray   *pawl_record_list_touched (PawlRecord *self, PawlTouchedBy by, const char *name, const char *from, const char *to, GError **error);

/* Makes anew what is searched, from the entries, when verify says that it does not agree with them. */
gboolean     pawl_record_rebuild_index (PawlRecord *self, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlOpening, pawl_opening_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlSaid, pawl_said_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlTouched, pawl_touched_free)

G_END_DECLS
