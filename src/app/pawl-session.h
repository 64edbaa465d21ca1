/*
 * The session: one job in the window. Knows who is at the bench, which step is looked at, and whether the last save failed.
 * No widgets: pages listen to its signals and ask it to take answers.
 *
 * Signals
 *   changed                     the job was folded anew, or another step is looked at: pages apply their state again
 *   taken (char *words)         an answer is on disk; @words say which, for the bar that offers Undo
 *   save-failed-changed         pawl_session_get_save_problem() became a sentence, or NULL again
 *   spot-changed                another place is to be measured next, or none
 *   echo-changed                pawl_session_peek_echo() is another
 *   offer-changed               pawl_session_peek_offer() is another
 *   pictures-changed            pictures of outcomes are there
 */
#pragma once

#include "app/pawl-answer.h"
#include "app/pawl-own-unit.h"
#include "app/pawl-press.h"
#include "bench/pawl-bench.h"
#include "drawing/pawl-sketch.h"

G_BEGIN_DECLS

#define PAWL_TYPE_SESSION (pawl_session_get_type ())
G_DECLARE_FINAL_TYPE (PawlSession, pawl_session, PAWL, SESSION, GObject)

/* Looks at the step that the fitter was about to do. */
PawlSession *pawl_session_new            (PawlBench *bench, const char *person);

PawlBench   *pawl_session_get_bench      (PawlSession *self);
PawlJob     *pawl_session_get_job        (PawlSession *self); /* the newest state; hold it to keep it */
const char  *pawl_session_get_person     (PawlSession *self);
void         pawl_session_set_person     (PawlSession *self, const char *person);
/* How the program states lengths of its own accord, as in sketches: millimetres and "." unless set. */
void         pawl_session_set_lengths    (PawlSession *self, PawlLengthUnit unit, char decimal_mark);
/* Unit and mark of a sketch's options; the rest is zero. */
PawlSketchOptions pawl_session_get_lengths (PawlSession *self);
/* How readings are shown to who is at the bench: as typed unless set. */
void         pawl_session_set_own_lengths (PawlSession *self, PawlLengths lengths);
PawlLengths  pawl_session_get_own_lengths (PawlSession *self);
/* The hand that answers now; lent until the next call. */
PawlHand     pawl_session_make_hand      (PawlSession *self);

/* ---- looking ---- */
const PawlStepState *pawl_session_peek_step (PawlSession *self); /* (nullable) only when the procedure has no steps */
void         pawl_session_look_at        (PawlSession *self, const char *step_id);
void         pawl_session_look_back      (PawlSession *self); /* one step back in the file; nothing is taken back */
void         pawl_session_look_on        (PawlSession *self);
void         pawl_session_look_at_next   (PawlSession *self); /* where the work stopped */

/* The place that is measured next, to be shown on the figure; none when another step is looked at. @spot: (nullable) borrowed from the procedure */
void         pawl_session_point_at       (PawlSession *self, const PawlReadingSpot *spot);
const PawlReadingSpot *pawl_session_peek_spot (PawlSession *self); /* (nullable) */

/* What is typed for a reading now, and once it is taken its verdict, to be shown so large that it can be read from where the hands are. It stays until
 * something else is typed, another step is looked at, or it is taken back. Both (nullable). */
void         pawl_session_echo           (PawlSession *self, const char *value, const char *verdict);
const char  *pawl_session_peek_echo      (PawlSession *self, const char **verdict); /* (nullable) */

/* What another press would do, what the last one did, or what is wanted in its place: as large as the echo, in whose place it stands. It stays until
 * something is typed or answered, another step is looked at, or it is withdrawn. All (nullable) but the head. */
typedef struct {
  char *head;  /* "Press again:" */
  char *words; /* "Right way round" */
  char *about; /* smaller: "Inlet valve seat: in what order" */
  char *ask;   /* id of the one that the next press would confirm; @words is what it would answer */
} PawlOffer;

const PawlOffer *pawl_session_peek_offer (PawlSession *self); /* (nullable): none */
/* Something else than a press came: the next one begins anew. */
void         pawl_session_withdraw       (PawlSession *self);

/* Parts to be marked on the figure as well (NULL-terminated ids, or NULL): what opens again. Emits "changed" when they are others. */
void         pawl_session_mark_parts     (PawlSession *self, char **parts);
char       **pawl_session_peek_marked    (PawlSession *self); /* (nullable) */

/* What outcomes look like: (element-type utf8 GObject) pictures by region of the figure, drawn when that was opened. (transfer full) */
void         pawl_session_take_pictures  (PawlSession *self, GHashTable *pictures);
gpointer     pawl_session_peek_picture   (PawlSession *self, const char *region); /* (nullable) */

/* ---- answering ---- */
/* Takes an entry made by pawl_answer_new_…; @words: (nullable) for the bar. FALSE: not taken, @error says what would be right.
 * When the record could not write, the entry is held and offered again by pawl_session_retry(). */
gboolean     pawl_session_take           (PawlSession *self, PawlEntry *entry, const char *words, GError **error);
/* One press of the big button: finishes the step that is looked at when it is not finished, and goes on to the next. The first press in a step that is
 * asked for a photo is refused and says so; the second goes on without. */
gboolean     pawl_session_advance        (PawlSession *self, GError **error);
/* One press, as pawl-press.h has it. @kind: (out): what it was; after a SHOW or a WANT the panel goes to what is next. @wanted: (out) (transfer full)
 * (nullable): the sentence that says what is wanted */
gboolean     pawl_session_press          (PawlSession *self, PawlPressKind *kind, char **wanted, GError **error);
/* Takes the newest answer back, and looks at its step. */
gboolean     pawl_session_undo           (PawlSession *self, GError **error);
gboolean     pawl_session_can_undo       (PawlSession *self);
/* Notes that the work goes on without the photos that the step asks for before it hides something. @reason: "" when none. */
gboolean     pawl_session_go_without_photo (PawlSession *self, const char *reason, GError **error);
gboolean     pawl_session_attach_photo   (PawlSession *self, GBytes *bytes, const char *media_type, const char *caption, GError **error);

/* ---- instruments ---- */
/* (nullable): as read once; NULL when it can't be read. Lent until it is forgotten. */
const PawlRegister *pawl_session_peek_register (PawlSession *self);
/* It has another entry: read it anew when it is wanted next. Emits "changed". */
void         pawl_session_forget_register (PawlSession *self);

/* ---- what was typed and not yet taken ---- */
/* Kept in @folder (nullable) as well, so that it outlives the window: see pawl-drafts.h. Until this is said, kept in memory. */
void         pawl_session_keep_drafts_in (PawlSession *self, const char *folder);
/* @owner: an ask or a step; @field: which of its lines. An empty @text forgets it. */
void         pawl_session_keep_draft     (PawlSession *self, const char *owner, const char *field, const char *text);
const char  *pawl_session_peek_draft     (PawlSession *self, const char *owner, const char *field); /* "" when none */

/* ---- a save that failed ---- */
const char  *pawl_session_get_save_problem (PawlSession *self); /* (nullable) */
gboolean     pawl_session_retry          (PawlSession *self);

G_END_DECLS
