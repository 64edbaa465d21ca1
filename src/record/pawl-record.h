/* The record: entries on disk, append-only, each on stable storage before it is acknowledged. */
#pragma once

#include "record/pawl-entry.h"

G_BEGIN_DECLS

#define PAWL_RECORD_ERROR (pawl_record_error_quark ())
GQuark pawl_record_error_quark (void);

typedef enum {
  PAWL_RECORD_ERROR_NOT_A_RECORD, /* some other file */
  PAWL_RECORD_ERROR_NEWER,        /* made by a later version of Pawl */
  PAWL_RECORD_ERROR_READ_ONLY,
  PAWL_RECORD_ERROR_FULL,         /* no room on the disk */
  PAWL_RECORD_ERROR_BUSY,         /* another program holds it */
  PAWL_RECORD_ERROR_DAMAGED,
  PAWL_RECORD_ERROR_NO_SUCH_JOB,
  PAWL_RECORD_ERROR_AMBIGUOUS_JOB,
  PAWL_RECORD_ERROR_IO,
  PAWL_RECORD_ERROR_OLDER,        /* to be read, but made by an earlier version of Pawl, and not brought up to date */
} PawlRecordError;

/* What the record needs from outside, so that tests can fix it. */
typedef struct {
  GDateTime *(*now)    (gpointer data); /* (transfer full): local time with offset */
  char      *(*new_id) (gpointer data); /* (transfer full): 128 random bits as a UUID, lower case */
  gpointer     data;
} PawlRecordHost;

const PawlRecordHost *pawl_record_host_get_system (void); /* wall clock, and random bits from the system */

#define PAWL_TYPE_RECORD (pawl_record_get_type ())
G_DECLARE_FINAL_TYPE (PawlRecord, pawl_record, PAWL, RECORD, GObject)

typedef enum {
  PAWL_RECORD_OPEN_CREATE,    /* make it, and its folder, when it isn't there */
  PAWL_RECORD_OPEN_READ_ONLY, /* for show, report, verify: works on a read-only file */
} PawlRecordOpen;

/* (transfer full): $XDG_DATA_HOME/pawl/record.db, or the same under @data_home when given. */
char       *pawl_record_dup_default_path (const char *data_home);
PawlRecord *pawl_record_open         (const char *path, PawlRecordOpen how, const PawlRecordHost *host, GError **error);
const char *pawl_record_get_path     (PawlRecord *self);
/* The host it was opened with: to open the same file again for another thread. */
const PawlRecordHost *pawl_record_peek_host (PawlRecord *self);
GDateTime  *pawl_record_dup_now      (PawlRecord *self); /* (transfer full): the host's clock */

/* Bytes kept by digest (procedure, figure, photos). Keeping the same bytes twice keeps one copy. */
char       *pawl_record_keep         (PawlRecord *self, GBytes *bytes, const char *media_type, GError **error);
GBytes     *pawl_record_load_kept    (PawlRecord *self, const char *digest, GError **error); /* checks the digest */

/* Opens a job: @opened is a PAWL_ENTRY_OPENED entry. Returns (transfer full) the job id. */
char       *pawl_record_open_job     (PawlRecord *self, PawlEntry *opened, GError **error);
/* Puts an instrument into the register: @stated, PAWL_ENTRY_INSTRUMENT_STATED, opens its chain. Returns (transfer full) the chain's id. */
char       *pawl_record_open_instrument (PawlRecord *self, PawlEntry *stated, GError **error);
/* Begins the chain of a person who learns: @stated is PAWL_ENTRY_PERSON_STATED. Returns (transfer full) the chain's id. */
char       *pawl_record_open_learner (PawlRecord *self, PawlEntry *stated, GError **error);
/* Appends in one transaction, synced before it returns: all or none. @entries: (element-type PawlEntry), given their id, digest and written time here. */
/* @job_id: a job, or an instrument's chain; entries of the register go to that, all others to jobs. */
gboolean    pawl_record_append       (PawlRecord *self, const char *job_id, GPtrArray *entries, GError **error);
gboolean    pawl_record_append_one   (PawlRecord *self, const char *job_id, PawlEntry *entry, GError **error);

/* (transfer full) (element-type PawlEntry): in the order they were appended. */
GPtrArray  *pawl_record_load_entries (PawlRecord *self, const char *job_id, GError **error);
/* (transfer full) (element-type PawlEntry): of all instruments, chain after chain; empty when there are none. */
GPtrArray  *pawl_record_load_instruments (PawlRecord *self, GError **error);
/* (transfer full) (element-type PawlEntry): of all people who learn, chain after chain; empty when there are none. */
GPtrArray  *pawl_record_load_learners (PawlRecord *self, GError **error);
/* (transfer full): hex digest of the job's last entry: the head of its chain. */
char       *pawl_record_dup_head     (PawlRecord *self, const char *job_id, GError **error);
/* Where a head from paper stands: @number: (out): the entries up to which it vouches, 0 when the job never had it. @head: its digest, or the beginning of it. */
gboolean    pawl_record_locate_head  (PawlRecord *self, const char *job_id, const char *head, guint *number, GError **error);

/* One line of the list of jobs. */
typedef struct {
  char      *id;
  char      *procedure;  /* its id; "" when none is stated */
  char      *title;      /* of the procedure */
  char      *unit;
  char      *serial;     /* "" when none */
  char      *work_order; /* "" when none */
  char      *customer;   /* "" when none */
  GDateTime *opened;
  GDateTime *last;       /* its newest entry */
  guint      n_entries;
  gboolean   is_signed;
} PawlJobLine;

void        pawl_job_line_free       (PawlJobLine *self);
GPtrArray  *pawl_record_list_jobs    (PawlRecord *self, GError **error); /* newest activity first */
/* (transfer full): job id from an id, a unique beginning of one (6 characters or more), a work order or a serial. */
char       *pawl_record_find_job     (PawlRecord *self, const char *text, GError **error);

/* Something that verify found; nothing found means the chain holds. */
typedef struct {
  char *job_id;     /* of an instrument or a person the chain */
  char *instrument; /* (nullable): its mark, when it is no job but the life of an instrument */
  char *person;     /* (nullable): the name, when it is no job but what was stated of somebody who learns */
  char *entry_id;   /* (nullable) */
  guint number;     /* the entry's place in its job, from 1 */
  char *message;
} PawlRecordFinding;

void        pawl_record_finding_free (PawlRecordFinding *self);
/* (transfer full) (element-type PawlRecordFinding): recomputes every digest of one job, or of all when @job_id is NULL; kept bytes too. */
GPtrArray  *pawl_record_verify       (PawlRecord *self, const char *job_id, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlJobLine, pawl_job_line_free)
G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlRecordFinding, pawl_record_finding_free)

G_END_DECLS
