/* Who releases or signs proves it by a PIN, when the list of people has one for them. */
#pragma once

#include "app/pawl-prompt-form.h"
#include "record/pawl-record.h"

G_BEGIN_DECLS

/**
 * pawl_signature_prove:
 * @form: where the name was typed, and where the PIN is asked for
 * @entry: a release or a sign-off, not stored yet; its person is who signs
 *
 * TRUE: it may be stored. Then it carries the role that the list of people has for them, and by-pin="yes" when they proved it. Who is not in the
 * list, or has no PIN, signs as before. FALSE: @form has said what it waits for.
 */
gboolean pawl_signature_prove (PawlPromptForm *form, PawlRecord *record, PawlEntry *entry);

G_END_DECLS
