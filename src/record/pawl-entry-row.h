/* An entry as the file holds it: the text of every column. Private to the record and to bundles. */
#pragma once

#include "record/pawl-database.h"
#include "record/pawl-entry.h"

G_BEGIN_DECLS

typedef struct {
  char  *id;
  char  *job;
  gint64 number;   /* from 1 */
  char  *previous; /* "" for the first; see pawl-chain.h */
  char  *kind;
  char  *subject;
  char  *person;
  char  *at;
  char  *written;
  char  *body;
  char  *digest;
} PawlEntryRow;

/* The columns in the order that pawl_entry_row_read expects. */
#define PAWL_SQL_ENTRY_COLUMNS "id, job, number, previous, kind, subject, person, at, written, body, digest"

void     pawl_entry_row_clear      (PawlEntryRow *self);
/* Fills @self, which is cleared first, with the row that @statement stands on. */
void     pawl_entry_row_read       (PawlEntryRow *self, sqlite3_stmt *statement);
PawlEntryRow *pawl_entry_row_copy  (const PawlEntryRow *self);
/* (transfer full): what the digest column should say. */
char    *pawl_entry_row_dup_digest (const PawlEntryRow *self);

char      *pawl_time_to_text   (GDateTime *time); /* (transfer full): 2026-05-04T09:15:00.000000+02:00 */
GDateTime *pawl_time_from_text (const char *text); /* (transfer full) (nullable) */
gint64     pawl_time_get_usec  (GDateTime *time);  /* the instant, microseconds of the UNIX epoch */

/* What the entry itself brings: kind, subject, person, at, body. */
void       pawl_entry_fill_row     (const PawlEntry *self, PawlEntryRow *row);
/* The entry is stored: it takes id, job, number, digests and written from @row, and is frozen. */
void       pawl_entry_take_place   (PawlEntry *self, const PawlEntryRow *row, GDateTime *written);
/* In a forked chain an entry's number is not its place in the job; whoever knows the order says it. */
void       pawl_entry_set_place    (PawlEntry *self, guint number);
/* (transfer full): a stored entry. PAWL_RECORD_ERROR_DAMAGED, with no path in the message, when a column can't be understood. */
PawlEntry *pawl_entry_new_from_row (const PawlEntryRow *row, GError **error);

/* Whether JSON is one object with nothing nested in it, which is all that a body may be. */
gboolean   pawl_entry_body_is_flat (const char *body);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlEntryRow, pawl_entry_row_clear)

G_END_DECLS
