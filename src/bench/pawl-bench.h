/*
 * The bench: one job in the hand. Holds the record, the procedure and figure that the job was opened with, and the state folded from its entries.
 * The one way round: check, append (on disk), fold, tell.
 */
#pragma once

#include "job/pawl-job.h"
#include "procedure/pawl-reader.h"
#include "record/pawl-record.h"
#include "register/pawl-register.h"

G_BEGIN_DECLS

#define PAWL_TYPE_BENCH (pawl_bench_get_type ())
G_DECLARE_FINAL_TYPE (PawlBench, pawl_bench, PAWL, BENCH, GObject)

/* Signal "changed": the job was folded anew; a PawlJob got earlier stays valid while held. */

/* Keeps the procedure and figure (nullable) in the record, and opens a job. @opened: PAWL_ENTRY_OPENED with the user's fields; digests and titles are filled in here. */
PawlBench     *pawl_bench_open       (PawlRecord *record, PawlProcedure *procedure, GBytes *figure, PawlEntry *opened, GError **error);
/* Takes up a job again, by its own kept copies. @language: (nullable). */
PawlBench     *pawl_bench_resume     (PawlRecord *record, const char *job_id, const char *language, GError **error);

PawlJob       *pawl_bench_get_job    (PawlBench *self); /* (transfer none): the newest state */
PawlProcedure *pawl_bench_get_procedure (PawlBench *self);
PawlRecord    *pawl_bench_get_record (PawlBench *self);
GBytes        *pawl_bench_peek_figure (PawlBench *self); /* (nullable) */

/* Copies what the register knows of the instrument of an answer into it, then checks each entry against the job as it would then be, appends all in one transaction, folds, emits "changed". On error nothing is appended. */
gboolean       pawl_bench_append     (PawlBench *self, GPtrArray *entries, GError **error);
gboolean       pawl_bench_append_one (PawlBench *self, PawlEntry *entry, GError **error);
/* Keeps the picture's bytes and appends a photo entry. */
gboolean       pawl_bench_attach_photo (PawlBench *self, const char *step_id, const char *person, GBytes *bytes, const char *media_type, const char *caption, GDateTime *at, GError **error);
/* Folds again by the host's clock, for waits. */
void           pawl_bench_refresh    (PawlBench *self);
/* Reads the job again, for what somebody else appended to it, and folds. */
gboolean       pawl_bench_reload     (PawlBench *self, GError **error);
/* (transfer full): the host's clock. */
GDateTime     *pawl_bench_now        (PawlBench *self);

G_END_DECLS
