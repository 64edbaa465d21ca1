/* Entries: what happened at the bench, one immutable line each. The vocabulary that the job folds and the record keeps. */
#pragma once

#include <gio/gio.h>

G_BEGIN_DECLS

/*
 * kind          subject            fields (all text)
 * opened        —                  ask-first ("yes": fits are asked before they are shown), procedure, figure (digests of kept bytes), procedure-id, revision, title, unit, serial, work-order,
 *                                  customer, complaint, authority, shop, variant (ids with blanks between), variant-how (what the serial number said of it), policy ("simple", "guard-band", "proof", "risk 5 %"),
 *                                  out-of-date ("say", "warn", "refuse"), identified-by, old-parts, bench (where the unit lies, when there are several), title-block items may be absent
 * answered      ask id             answer (outcome, typed reading, text), instrument (tool id), stage ("as-found", "attempt"), tool-serial, …
 *                                  of an instrument of the register, copied as known then: error, step, reference, calibrated, due, overdue ("yes")
 *                                  asked ("note": the answer is a text that somebody wrote down, and is searched; PawlBench says so)
 *                                  covers fits, checks, readings, marks, kit lines and questions: the procedure says which
 * wait-started  wait id            agent (what the user named)
 * wait-ended    wait id            —
 * disposed      part id            choice (reuse, repair, replace), reason, source (kit, donor, new, made), from (where the donor came from), lot
 * step-done     step id            —
 * deviated      step or ask id     what, reason, accepted-by
 * reopened      step id            reason
 * undone        entry id           reason (may be absent)
 * noted         step id or —       text; of a report that was issued also issued (its print), version, digest (of its kept bytes)
 *                                  of a clock that was put forward or back while a wait ran also wait (its id), clock-shift (seconds, "3600", "-60")
 *                                  of going on without a photo of what the step hides also no-photo (ids of the fits, with blanks between), reason (may be absent)
 * photo         step id or —       digest, media-type, caption
 * released      step id            role, level ("hold", "witness", "review"), by-pin ("yes": who released it proved it by a PIN)
 * guessed       ask id             choice ("right", "wrong": which picture of a fit was taken for right before its answer was shown), shown ("right-first",
 *                                  "wrong-first"), right-view, wrong-view (as pawl_view_get_name() has it). It changes nothing in the job's state
 * lacked        part or supply id  state (missing, ordered, low), from (who was asked for it), expected (a day, 2026-12-03), reason, quantity: it is not
 *                                  there; a later one says what is new of it
 * arrived       part or supply id  lot, source (kit, donor, new, made), from, remark
 * identified    —                  variant (the whole list of ids, as of the opening), reason: the unit is another variant than was taken
 * corrected     —                  any of the opening's fields that pawl-intake.h lists, as they should have been, "-" takes one back; reason
 * signed        —                  role, statement, name, by-pin
 * hold-called   step id            whom, note (may be absent): somebody is asked to come and look
 * tightened     — or step id       of the job: order, ask-first, holds, blind, as in the opening, "-" takes one back; of a step: level ("hold", "witness",
 *                                  "review", "none"); reason, by-pin. src/job/pawl-tightening.h says what they mean; the opening may have learner and stages too
 * remeasured    reading's ask id   as answered: somebody else's reading of the same, which judges nothing
 * sealed        step id            digest (SHA-256 of a code and a text, pawl-seal.h), by-pin: a fault that was planted, to be opened at that step
 * unsealed      id of the sealing  text, code, found ("yes", "no"), learner (whose finding it is), fault-kind (a rule kind, "reading", "statement"; may be absent); or reason alone: it can't be opened, and counts for nobody
 *
 * Of the register of instruments, each instrument in a chain of its own beside the jobs (src/register says what the fields mean):
 * instrument-stated     its mark   kind, name, range, error, step, reference, calibrated, due, note, prefix, suffix, terminator, decimal-mark, unit;
 *                                  the first one opens its chain; a later one, change="yes", changes what it names, and "-" takes it back
 * instrument-calibrated its mark   due, error, reference, certificate, note
 * instrument-retired    its mark   reason
 *
 * Of a person who learns, each in a chain of their own as well (src/training says what the fields mean):
 * person-stated         the name   skill and stage ("assist", "supervised", "independent"), or order, ask-first, holds, blind for one stage, or clean-run;
 *                                  reason, by-pin; the first one opens the chain
 */
typedef enum {
  PAWL_ENTRY_OPENED,
  PAWL_ENTRY_ANSWERED,
  PAWL_ENTRY_WAIT_STARTED,
  PAWL_ENTRY_WAIT_ENDED,
  PAWL_ENTRY_DISPOSED,
  PAWL_ENTRY_STEP_DONE,
  PAWL_ENTRY_DEVIATED,
  PAWL_ENTRY_REOPENED,
  PAWL_ENTRY_UNDONE,
  PAWL_ENTRY_NOTED,
  PAWL_ENTRY_PHOTO,
  PAWL_ENTRY_RELEASED,
  PAWL_ENTRY_SIGNED,
  PAWL_ENTRY_GUESSED,
  PAWL_ENTRY_INSTRUMENT_STATED,
  PAWL_ENTRY_INSTRUMENT_CALIBRATED,
  PAWL_ENTRY_INSTRUMENT_RETIRED,
  PAWL_ENTRY_LACKED,
  PAWL_ENTRY_ARRIVED,
  PAWL_ENTRY_HOLD_CALLED,
  PAWL_ENTRY_TIGHTENED,
  PAWL_ENTRY_REMEASURED,
  PAWL_ENTRY_SEALED,
  PAWL_ENTRY_UNSEALED,
  PAWL_ENTRY_PERSON_STATED,
  PAWL_ENTRY_IDENTIFIED,
  PAWL_ENTRY_CORRECTED,
} PawlEntryKind;

typedef struct _PawlEntry PawlEntry; /* reference counted; frozen once stored */

PawlEntry  *pawl_entry_new         (PawlEntryKind kind, const char *subject, const char *person, GDateTime *at);
PawlEntry  *pawl_entry_ref         (PawlEntry *self);
void        pawl_entry_unref       (PawlEntry *self);
/* Sets a field; only before the entry is stored. NULL or "" leaves the field out. */
/* (transfer full): a stored entry with one field's text replaced, for showing: it keeps id and digest, and can't be stored. */
PawlEntry  *pawl_entry_dup_masked  (const PawlEntry *self, const char *field, const char *value);
void        pawl_entry_set         (PawlEntry *self, const char *field, const char *value);
const char *pawl_entry_get         (const PawlEntry *self, const char *field); /* (nullable) */
char      **pawl_entry_list_fields (const PawlEntry *self);                    /* (transfer full) sorted names */

PawlEntryKind pawl_entry_get_kind    (const PawlEntry *self);
const char   *pawl_entry_get_subject (const PawlEntry *self); /* "" when none */
const char   *pawl_entry_get_person  (const PawlEntry *self);
GDateTime    *pawl_entry_peek_at     (const PawlEntry *self); /* when it happened, with its offset */
/* Set when stored: */
const char   *pawl_entry_get_id      (const PawlEntry *self); /* unique across machines; of the first of a chain, the id of its job or instrument */
const char   *pawl_entry_get_job     (const PawlEntry *self);
guint         pawl_entry_get_number  (const PawlEntry *self); /* place in its job, from 1 */
GDateTime    *pawl_entry_peek_written (const PawlEntry *self); /* when it reached the record */
const char   *pawl_entry_get_previous (const PawlEntry *self); /* digest of the entry before in its job, "" for the first; of several where branches join */
const char   *pawl_entry_get_digest  (const PawlEntry *self); /* SHA-256, hex; covers every column and the digest before it */

const char   *pawl_entry_kind_get_name (PawlEntryKind kind);
gboolean      pawl_entry_kind_from_name (const char *name, PawlEntryKind *kind);
gboolean      pawl_entry_kind_is_of_instrument (PawlEntryKind kind); /* of the register, not of a job */
gboolean      pawl_entry_kind_is_of_person (PawlEntryKind kind);     /* of somebody who learns, not of a job */

G_DEFINE_AUTOPTR_CLEANUP_FUNC (PawlEntry, pawl_entry_unref)

G_END_DECLS
