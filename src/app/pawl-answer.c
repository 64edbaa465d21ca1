#include "app/pawl-answer.h"

#include "job/pawl-tightening.h"

static void
set_text (PawlEntry *entry, const char *field, const char *text)
{
  g_autofree char *stripped = g_strstrip (g_strdup (text != NULL ? text : ""));

  pawl_entry_set (entry, field, stripped);
}

static PawlEntry *
new_entry (PawlEntryKind kind, const char *subject, PawlHand hand)
{
  g_autofree char *person = g_strstrip (g_strdup (hand.person != NULL ? hand.person : ""));

  return pawl_entry_new (kind, subject, person, hand.at);
}

PawlEntry *
pawl_answer_new_outcome (const PawlAsk *ask, const char *answer, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_ANSWERED, ask->id, hand);

  set_text (entry, "answer", answer);
  return entry;
}

PawlEntry *
pawl_answer_new_reading (const PawlAsk *ask, const char *typed, const char *instrument, char decimal_mark, PawlHand hand)
{
  PawlEntry *entry = pawl_answer_new_outcome (ask, typed, hand);
  const char mark[] = { decimal_mark, '\0' };

  set_text (entry, "instrument", instrument);
  set_text (entry, "stage", ask->reading->is_as_found ? "as-found" : "attempt");
  if (decimal_mark != '.')
    pawl_entry_set (entry, "decimal-mark", mark);
  return entry;
}

PawlEntry *
pawl_answer_new_typed_over (const PawlAsk *ask, const char *typed, const char *why, char decimal_mark, PawlHand hand)
{
  PawlEntry *entry = pawl_answer_new_reading (ask, typed, NULL, decimal_mark, hand);

  pawl_entry_set (entry, "typed-over", "yes");
  set_text (entry, "remark", why);
  return entry;
}

PawlEntry *
pawl_answer_new_disposition (const PawlAsk *ask, const char *choice, const char *reason, const char *source, const char *lot, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_DISPOSED, ask->decide->part, hand);

  set_text (entry, "choice", choice);
  set_text (entry, "reason", reason);
  set_text (entry, "source", source);
  set_text (entry, "lot", lot);
  return entry;
}

PawlEntry *
pawl_answer_new_wait_start (const PawlAsk *ask, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_WAIT_STARTED, ask->id, hand);

  set_text (entry, "agent", ask->wait->agent);
  return entry;
}

PawlEntry *
pawl_answer_new_wait_end (const PawlAsk *ask, PawlHand hand)
{
  return new_entry (PAWL_ENTRY_WAIT_ENDED, ask->id, hand);
}

PawlEntry *
pawl_answer_new_done (const PawlStep *step, PawlHand hand)
{
  return new_entry (PAWL_ENTRY_STEP_DONE, step->id, hand);
}

PawlEntry *
pawl_answer_new_deviation (const char *subject, const char *what, const char *reason, const char *accepted_by, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_DEVIATED, subject, hand);

  set_text (entry, "what", what);
  set_text (entry, "reason", reason);
  set_text (entry, "accepted-by", accepted_by);
  return entry;
}

PawlEntry *
pawl_answer_new_guess (const PawlAsk *ask, const PawlQuestion *question, gboolean is_second, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_GUESSED, ask->id, hand);

  pawl_entry_set (entry, "choice", pawl_question_is_right (question, is_second) ? "right" : "wrong");
  pawl_entry_set (entry, "shown", question->is_right_first ? "right-first" : "wrong-first");
  pawl_entry_set (entry, "right-view", pawl_view_get_name (question->views[0]));
  pawl_entry_set (entry, "wrong-view", pawl_view_get_name (question->views[1]));
  return entry;
}

PawlEntry *
pawl_answer_new_reopening (const PawlStep *step, const char *reason, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_REOPENED, step->id, hand);

  set_text (entry, "reason", reason);
  return entry;
}

PawlEntry *
pawl_answer_new_release (const PawlStepState *step, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_RELEASED, step->step->id, hand);

  set_text (entry, "level", pawl_hold_get_name (step->hold));
  set_text (entry, "role", "second person");
  return entry;
}

PawlEntry *
pawl_answer_new_call (const PawlStep *step, const char *whom, const char *note, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_HOLD_CALLED, step->id, hand);

  set_text (entry, "whom", whom);
  set_text (entry, "note", note);
  return entry;
}

PawlEntry *
pawl_answer_new_note (const PawlStep *step, const char *text, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_NOTED, step != NULL ? step->id : "", hand);

  set_text (entry, "text", text);
  return entry;
}

PawlEntry *
pawl_answer_new_identified (const char *variant, const char *reason, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_IDENTIFIED, "", hand);

  set_text (entry, "variant", variant);
  set_text (entry, "reason", reason);
  return entry;
}

PawlEntry *
pawl_answer_new_undo (const PawlEntry *entry, PawlHand hand)
{
  return new_entry (PAWL_ENTRY_UNDONE, pawl_entry_get_id (entry), hand);
}

PawlEntry *
pawl_answer_new_signature (const char *role, const char *statement, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_SIGNED, "", hand);

  set_text (entry, "role", role);
  set_text (entry, "statement", statement);
  set_text (entry, "name", hand.person);
  return entry;
}

/* ---- intake ---- */

static const struct {
  const char *field;
  gsize       offset;
} intake_lines[] = {
  { "unit", G_STRUCT_OFFSET (PawlIntake, unit) },
  { "maker", G_STRUCT_OFFSET (PawlIntake, maker) },
  { "model", G_STRUCT_OFFSET (PawlIntake, model) },
  { "serial", G_STRUCT_OFFSET (PawlIntake, serial) },
  { "work-order", G_STRUCT_OFFSET (PawlIntake, work_order) },
  { "customer", G_STRUCT_OFFSET (PawlIntake, customer) },
  { "received", G_STRUCT_OFFSET (PawlIntake, received) },
  { "complaint", G_STRUCT_OFFSET (PawlIntake, complaint) },
  { "authority", G_STRUCT_OFFSET (PawlIntake, authority) },
  { "identified-by", G_STRUCT_OFFSET (PawlIntake, identified_by) },
  { "old-parts", G_STRUCT_OFFSET (PawlIntake, old_parts) },
};

static const char *
get_line (const PawlIntake *intake, guint i)
{
  return G_STRUCT_MEMBER (const char *, intake, intake_lines[i].offset);
}

PawlEntry *
pawl_answer_new_opening (const PawlIntake *intake, PawlHand hand)
{
  PawlEntry *entry = new_entry (PAWL_ENTRY_OPENED, "", hand);

  for (guint i = 0; i < G_N_ELEMENTS (intake_lines); i++)
    set_text (entry, intake_lines[i].field, get_line (intake, i));
  set_text (entry, "bench", intake->bench);
  set_text (entry, "variant", intake->variant);
  pawl_entry_set (entry, "ask-first", intake->is_ask_first ? "yes" : NULL);
  return entry;
}

PawlEntry *
pawl_answer_new_correction (PawlJob *job, const PawlIntake *intake, const char *reason, PawlHand hand)
{
  g_autoptr(PawlEntry) entry = new_entry (PAWL_ENTRY_CORRECTED, "", hand);
  guint n_changed = 0;

  for (guint i = 0; i < G_N_ELEMENTS (intake_lines); i++)
    {
      g_autofree char *line = get_line (intake, i) != NULL ? g_strstrip (g_strdup (get_line (intake, i))) : NULL;

      if (line == NULL || g_str_equal (line, pawl_job_get_field (job, intake_lines[i].field)))
        continue;
      pawl_entry_set (entry, intake_lines[i].field, *line != '\0' ? line : PAWL_INTAKE_TAKEN_BACK);
      n_changed++;
    }
  set_text (entry, "reason", reason);
  return n_changed > 0 ? g_steal_pointer (&entry) : NULL;
}
