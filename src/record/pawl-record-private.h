/* What the files of the record share, and what its tests may look into. */
#pragma once

#include "record/pawl-entry-row.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

struct _PawlRecord {
  GObject        parent_instance;

  PawlDatabase   database;
  sqlite3_stmt  *insert_entry; /* (nullable) until something was appended */
  PawlRecordHost host;
  GThread       *thread; /* the only one that may use the connection */
  gboolean       is_read_only;
};

#define pawl_record_is_usable(self) (PAWL_IS_RECORD (self) && (self)->thread == g_thread_self ())

/* FALSE with PAWL_RECORD_ERROR_READ_ONLY when the record was opened for reading. */
gboolean pawl_record_check_writable (PawlRecord *self, GError **error);
void     pawl_record_set_no_such_job (PawlRecord *self, const char *job_id, GError **error);

typedef enum { PAWL_KEPT_WHOLE, PAWL_KEPT_MISSING, PAWL_KEPT_CHANGED } PawlKeptState;

gboolean pawl_record_look_up_kept (PawlRecord *self, const char *digest, PawlKeptState *state, GBytes **bytes, GError **error);

/* (transfer full) (element-type PawlEntryRow): all that @statement, of PAWL_SQL_ENTRY_COLUMNS, gives, in its order, and not looked at. */
GPtrArray *pawl_record_read_rows (PawlRecord *self, sqlite3_stmt *statement, GError **error);

/* A text of a job's opening, by its field: to be brought to what was corrected since. */
typedef struct {
  const char *field; /* of pawl-intake.h */
  char      **text;
} PawlOpenedText;

gboolean pawl_record_correct_texts (PawlRecord *self, const char *job_id, const PawlOpenedText *texts, guint n_texts, GError **error);

/* Inside a transaction: @row as it is; @row as an end of its job; an end no longer, because an entry follows it. */
gboolean pawl_record_insert_row (PawlRecord *self, const PawlEntryRow *row, GError **error);
gboolean pawl_record_insert_end (PawlRecord *self, const PawlEntryRow *row, GError **error);
gboolean pawl_record_delete_end (PawlRecord *self, const char *job_id, const char *digest, GError **error);

/* For tests: the record's own connection. */
static inline sqlite3 *
pawl_record_peek_handle (PawlRecord *self)
{
  return self->database.handle;
}

G_END_DECLS
