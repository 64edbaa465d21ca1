/* Which command a key means, given where the focus is. Pure. A gauge types digits; a foot switch types Space, Enter or Page Down. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  PAWL_FOCUS_NOWHERE,    /* nothing that takes Space or text: rows, the figure, the window */
  PAWL_FOCUS_CONTROL,    /* a button or the like: Space and Enter are its own */
  PAWL_FOCUS_EMPTY_TEXT, /* a line for text with nothing in it */
  PAWL_FOCUS_TEXT,       /* a line with text in it */
  PAWL_FOCUS_LONG_TEXT,  /* several lines: all keys are its own */
  PAWL_FOCUS_ELSEWHERE,  /* another page of the job, and nothing for text in it: all keys but those of a reading are its own */
} PawlFocus;

typedef enum {
  PAWL_KEY_PASS,    /* not ours */
  PAWL_KEY_ADVANCE,
  PAWL_KEY_BACK,
  PAWL_KEY_READING, /* begins a reading: goes to the first one that is open */
  PAWL_KEY_REJECT,  /* takes back the reading that was just taken */
} PawlKeyPlan;

/* @keyval: as the X keysyms number them; @has_modifiers: Control, Alt or Super is held. */
PawlKeyPlan pawl_key_plan (guint keyval, gboolean has_modifiers, PawlFocus focus);

G_END_DECLS
