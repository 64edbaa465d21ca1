#include "app/pawl-session-private.h"

#include <glib/gi18n.h>
#include "app/pawl-step-state.h"
#include "job/pawl-job-photos.h"
#include "job/pawl-redo.h"

enum { CHANGED, TAKEN, SAVE_FAILED_CHANGED, SPOT_CHANGED, PICTURES_CHANGED, ECHO_CHANGED, OFFER_CHANGED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlSession, pawl_session, G_TYPE_OBJECT)

static void
bench_changed_cb (PawlSession *self)
{
  pawl_session_check_offer (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

static void
pawl_session_dispose (GObject *object)
{
  PawlSession *self = PAWL_SESSION (object);

  if (self->bench != NULL)
    g_signal_handlers_disconnect_by_data (self->bench, self);
  g_clear_object (&self->bench);
  g_clear_pointer (&self->held, pawl_entry_unref);
  G_OBJECT_CLASS (pawl_session_parent_class)->dispose (object);
}

static void
pawl_session_finalize (GObject *object)
{
  PawlSession *self = PAWL_SESSION (object);

  g_clear_pointer (&self->hand_at, g_date_time_unref);
  g_clear_pointer (&self->instruments, pawl_register_free);
  pawl_drafts_free (self->drafts);
  g_free (self->echo_value);
  g_free (self->echo_verdict);
  pawl_offer_clear (&self->offer);
  g_clear_pointer (&self->pictures, g_hash_table_unref);
  g_strfreev (self->marked);
  g_free (self->person);
  g_free (self->step_id);
  g_free (self->held_words);
  g_free (self->photo_asked_at);
  g_free (self->save_problem);
  G_OBJECT_CLASS (pawl_session_parent_class)->finalize (object);
}

static void
pawl_session_class_init (PawlSessionClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);

  object_class->dispose = pawl_session_dispose;
  object_class->finalize = pawl_session_finalize;
  signals[CHANGED] = g_signal_new ("changed", PAWL_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[TAKEN] = g_signal_new ("taken", PAWL_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[SAVE_FAILED_CHANGED] = g_signal_new ("save-failed-changed", PAWL_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SPOT_CHANGED] = g_signal_new ("spot-changed", PAWL_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[ECHO_CHANGED] = g_signal_new ("echo-changed", PAWL_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[OFFER_CHANGED] = g_signal_new ("offer-changed", PAWL_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[PICTURES_CHANGED] = g_signal_new ("pictures-changed", PAWL_TYPE_SESSION, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_session_init (PawlSession *self)
{
  self->step_id = g_strdup ("");
}

PawlSession *
pawl_session_new (PawlBench *bench, const char *person)
{
  PawlSession *self = g_object_new (PAWL_TYPE_SESSION, NULL);

  self->bench = g_object_ref (bench);
  self->person = g_strdup (person != NULL ? person : "");
  self->decimal_mark = '.';
  self->drafts = pawl_drafts_load (NULL, pawl_job_get_id (pawl_bench_get_job (bench)));
  g_signal_connect_swapped (bench, "changed", G_CALLBACK (bench_changed_cb), self);
  pawl_session_look_at_next (self);
  return self;
}

PawlBench *
pawl_session_get_bench (PawlSession *self)
{
  return self->bench;
}

PawlJob *
pawl_session_get_job (PawlSession *self)
{
  return pawl_bench_get_job (self->bench);
}

const char *
pawl_session_get_person (PawlSession *self)
{
  return self->person;
}

void
pawl_session_set_person (PawlSession *self, const char *person)
{
  g_autofree char *stripped = g_strstrip (g_strdup (person));

  if (g_str_equal (self->person, stripped))
    return;
  g_free (self->person);
  self->person = g_steal_pointer (&stripped);
  g_signal_emit (self, signals[CHANGED], 0);
}

void
pawl_session_set_lengths (PawlSession *self, PawlLengthUnit unit, char decimal_mark)
{
  if (self->length_unit == unit && self->decimal_mark == decimal_mark)
    return;
  self->length_unit = unit;
  self->decimal_mark = decimal_mark;
  g_signal_emit_by_name (self, "changed");
}

PawlSketchOptions
pawl_session_get_lengths (PawlSession *self)
{
  return (PawlSketchOptions) { .unit = self->length_unit, .decimal_mark = self->decimal_mark };
}

void
pawl_session_set_own_lengths (PawlSession *self, PawlLengths lengths)
{
  if (self->own_lengths == lengths)
    return;
  self->own_lengths = lengths;
  g_signal_emit (self, signals[CHANGED], 0);
}

PawlLengths
pawl_session_get_own_lengths (PawlSession *self)
{
  return self->own_lengths;
}

PawlHand
pawl_session_make_hand (PawlSession *self)
{
  g_clear_pointer (&self->hand_at, g_date_time_unref);
  self->hand_at = pawl_bench_now (self->bench);
  return (PawlHand) { self->person, self->hand_at };
}

/* ---- looking ---- */

const PawlStepState *
pawl_session_peek_step (PawlSession *self)
{
  PawlJob *job = pawl_session_get_job (self);
  const PawlStepState *state = pawl_job_lookup_step (job, self->step_id);
  GPtrArray *steps = pawl_job_get_steps (job);

  if (state == NULL && steps->len > 0)
    state = steps->pdata[0];
  return state;
}

void
pawl_session_look_at (PawlSession *self, const char *step_id)
{
  if (g_strcmp0 (self->step_id, step_id) == 0)
    return;
  g_free (self->step_id);
  self->step_id = g_strdup (step_id);
  pawl_session_point_at (self, NULL);
  pawl_session_echo (self, NULL, NULL);
  pawl_session_withdraw (self);
  g_signal_emit (self, signals[CHANGED], 0);
}

void
pawl_session_point_at (PawlSession *self, const PawlReadingSpot *spot)
{
  if (self->spot == spot)
    return;
  self->spot = spot;
  g_signal_emit (self, signals[SPOT_CHANGED], 0);
}

const PawlReadingSpot *
pawl_session_peek_spot (PawlSession *self)
{
  return self->spot;
}

void
pawl_session_echo (PawlSession *self, const char *value, const char *verdict)
{
  char *new_value = g_strdup (value), *new_verdict = g_strdup (verdict);

  g_free (self->echo_value);
  g_free (self->echo_verdict);
  self->echo_value = new_value;
  self->echo_verdict = new_verdict;
  if (value != NULL)
    pawl_session_withdraw (self);
  g_signal_emit (self, signals[ECHO_CHANGED], 0);
}

const char *
pawl_session_peek_echo (PawlSession *self, const char **verdict)
{
  *verdict = self->echo_verdict;
  return self->echo_value;
}

void
pawl_session_mark_parts (PawlSession *self, char **parts)
{
  static const char *none[] = { NULL };
  const char * const *before = self->marked != NULL ? (const char * const *) self->marked : none;

  if (g_strv_equal (before, parts != NULL ? (const char * const *) parts : none))
    return;
  g_strfreev (self->marked);
  self->marked = g_strdupv (parts);
  g_signal_emit (self, signals[CHANGED], 0);
}

char **
pawl_session_peek_marked (PawlSession *self)
{
  return self->marked;
}

void
pawl_session_take_pictures (PawlSession *self, GHashTable *pictures)
{
  g_clear_pointer (&self->pictures, g_hash_table_unref);
  self->pictures = pictures;
  g_signal_emit (self, signals[PICTURES_CHANGED], 0);
}

gpointer
pawl_session_peek_picture (PawlSession *self, const char *region)
{
  return self->pictures != NULL ? g_hash_table_lookup (self->pictures, region) : NULL;
}

static void
look_aside (PawlSession *self, int direction)
{
  const PawlStepState *here = pawl_session_peek_step (self);
  GPtrArray *steps = pawl_job_get_steps (pawl_session_get_job (self));
  int index;

  if (here == NULL)
    return;
  index = pawl_procedure_get_step_index (pawl_bench_get_procedure (self->bench), here->step->id) + direction;
  for (; index >= 0 && index < (int) steps->len; index += direction)
    {
      const PawlStepState *state = steps->pdata[index];

      if (state->status == PAWL_STEP_NOT_APPLICABLE)
        continue;
      pawl_session_look_at (self, state->step->id);
      return;
    }
}

void
pawl_session_look_back (PawlSession *self)
{
  look_aside (self, -1);
}

void
pawl_session_look_on (PawlSession *self)
{
  look_aside (self, 1);
}

/* With nothing to do now the step that runs or is held is the one to look at, else the last one. */
static const char *
find_resting_place (PawlJob *job)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  g_autoptr(GPtrArray) running = pawl_job_list_running (job);

  if (running->len > 0)
    return ((PawlAskState *) running->pdata[0])->step->id;
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = steps->pdata[i];

      if (pawl_step_is_held (state))
        return state->step->id;
    }
  return steps->len > 0 ? ((PawlStepState *) steps->pdata[steps->len - 1])->step->id : "";
}

void
pawl_session_look_at_next (PawlSession *self)
{
  PawlJob *job = pawl_session_get_job (self);
  const PawlStep *next = pawl_job_peek_next (job);

  pawl_session_look_at (self, next != NULL ? next->id : find_resting_place (job));
}

/* ---- answering ---- */

static void
set_save_problem (PawlSession *self, const char *problem)
{
  if (g_strcmp0 (self->save_problem, problem) == 0)
    return;
  g_free (self->save_problem);
  self->save_problem = g_strdup (problem);
  g_signal_emit (self, signals[SAVE_FAILED_CHANGED], 0);
}

static void
hold (PawlSession *self, PawlEntry *entry, const char *words)
{
  if (self->held != entry)
    {
      g_clear_pointer (&self->held, pawl_entry_unref);
      self->held = pawl_entry_ref (entry);
    }
  if (self->held_words != words)
    {
      g_free (self->held_words);
      self->held_words = g_strdup (words);
    }
}

/* (transfer full): "The step is open again. Opens again: 14, 17": what an answer laid open beside the step that it belongs to. */
static char *
add_opened (PawlJob *before, PawlJob *after, const PawlEntry *entry, const char *words)
{
  g_autoptr(PawlRedoPlan) plan = pawl_redo_plan_compare (before, after);
  GString *text = g_string_new (words);
  guint n = 0;

  for (guint i = 0; i < plan->opens->len; i++)
    {
      const PawlStep *step = ((PawlRedoLine *) plan->opens->pdata[i])->state->step;

      if (!g_str_equal (step->id, pawl_entry_get_subject (entry)))
        g_string_append_printf (text, "%s%s", n++ == 0 ? _(". Opens again: ") : ", ", step->number);
    }
  return g_string_free (text, FALSE);
}

static gboolean
append (PawlSession *self, PawlEntry *entry, const char *words, GError **error)
{
  g_autoptr(GError) local_error = NULL;
  g_autoptr(PawlJob) before = g_object_ref (pawl_session_get_job (self));

  if (pawl_bench_append_one (self->bench, entry, &local_error))
    {
      g_autofree char *said = words != NULL ? add_opened (before, pawl_session_get_job (self), entry, words) : NULL;

      if (said != NULL)
        g_signal_emit (self, signals[TAKEN], 0, said);
      return TRUE;
    }
  if (local_error->domain == PAWL_RECORD_ERROR)
    {
      hold (self, entry, words);
      set_save_problem (self, local_error->message);
    }
  g_propagate_error (error, g_steal_pointer (&local_error));
  return FALSE;
}

/* Writes what is held. An answer that the job no longer wants is dropped: something else was answered in its place meanwhile. */
static gboolean
write_held (PawlSession *self, GError **error)
{
  g_autoptr(PawlEntry) entry = self->held != NULL ? pawl_entry_ref (self->held) : NULL;
  g_autofree char *words = g_strdup (self->held_words);
  g_autoptr(GError) local_error = NULL;

  if (entry == NULL)
    return TRUE;
  if (!append (self, entry, words, &local_error) && local_error->domain == PAWL_RECORD_ERROR)
    {
      g_propagate_error (error, g_steal_pointer (&local_error));
      return FALSE;
    }
  g_clear_pointer (&self->held, pawl_entry_unref);
  set_save_problem (self, NULL);
  return TRUE;
}

static gboolean
is_same_answer (PawlEntry *a, PawlEntry *b)
{
  return a != NULL && pawl_entry_get_kind (a) == pawl_entry_get_kind (b)
         && g_str_equal (pawl_entry_get_subject (a), pawl_entry_get_subject (b))
         && g_strcmp0 (pawl_entry_get (a, "answer"), pawl_entry_get (b, "answer")) == 0;
}

gboolean
pawl_session_take (PawlSession *self, PawlEntry *entry, const char *words, GError **error)
{
  gboolean is_held = is_same_answer (self->held, entry);

  if (!write_held (self, error))
    return FALSE;
  if (is_held)
    return TRUE; /* pressed again: it is the held one that has just been written */
  return append (self, entry, words, error);
}

gboolean
pawl_session_retry (PawlSession *self)
{
  return write_held (self, NULL);
}

/* The step that an entry belongs to, so that one sees what was taken back. */
static void
look_at_subject (PawlSession *self, const PawlEntry *entry)
{
  PawlJob *job = pawl_session_get_job (self);
  const char *subject = pawl_entry_get_subject (entry);
  const PawlAskState *ask = pawl_job_lookup_ask (job, subject);

  if (ask != NULL)
    pawl_session_look_at (self, ask->step->id);
  else if (pawl_job_lookup_step (job, subject) != NULL)
    pawl_session_look_at (self, subject);
}

gboolean
pawl_session_undo (PawlSession *self, GError **error)
{
  PawlEntry *undoable = pawl_job_peek_undoable (pawl_session_get_job (self));
  g_autoptr(PawlEntry) taken = NULL, entry = NULL;

  if (undoable == NULL)
    {
      g_set_error_literal (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN, _("there is nothing to undo"));
      return FALSE;
    }
  taken = pawl_entry_ref (undoable);
  entry = pawl_answer_new_undo (taken, pawl_session_make_hand (self));
  if (!pawl_session_take (self, entry, NULL, error))
    return FALSE;
  pawl_session_echo (self, NULL, NULL);
  look_at_subject (self, taken);
  return TRUE;
}

gboolean
pawl_session_can_undo (PawlSession *self)
{
  return pawl_job_peek_undoable (pawl_session_get_job (self)) != NULL;
}

gboolean
pawl_session_attach_photo (PawlSession *self, GBytes *bytes, const char *media_type, const char *caption, GError **error)
{
  const PawlStepState *state = pawl_session_peek_step (self);
  g_autoptr(GDateTime) at = pawl_bench_now (self->bench);
  g_autoptr(GPtrArray) wanted = state != NULL ? pawl_step_list_photos_wanted (state) : g_ptr_array_new ();
  g_autofree char *shows = pawl_photos_describe (pawl_session_get_job (self), wanted);

  if (!pawl_bench_attach_photo (self->bench, state != NULL ? state->step->id : "", self->person, bytes, media_type, wanted->len > 0 ? shows : caption, at, error))
    return FALSE;
  g_signal_emit (self, signals[TAKEN], 0, _("The photo is kept"));
  return TRUE;
}

const PawlRegister *
pawl_session_peek_register (PawlSession *self)
{
  if (self->instruments == NULL)
    self->instruments = pawl_register_load (pawl_bench_get_record (self->bench), NULL);
  return self->instruments;
}

void
pawl_session_forget_register (PawlSession *self)
{
  g_clear_pointer (&self->instruments, pawl_register_free);
  g_signal_emit (self, signals[CHANGED], 0);
}

void
pawl_session_keep_drafts_in (PawlSession *self, const char *folder)
{
  pawl_drafts_free (self->drafts);
  self->drafts = pawl_drafts_load (folder, pawl_job_get_id (pawl_session_get_job (self)));
}

void
pawl_session_keep_draft (PawlSession *self, const char *owner, const char *field, const char *text)
{
  pawl_drafts_set (self->drafts, owner, field, text);
}

const char *
pawl_session_peek_draft (PawlSession *self, const char *owner, const char *field)
{
  return pawl_drafts_peek (self->drafts, owner, field);
}

const char *
pawl_session_get_save_problem (PawlSession *self)
{
  return self->save_problem;
}
