/*
 * One ask of a step, as a row: what is asked, how it stands, and what answers it. The base has the head (name, status word), the prompt, the
 * place for the kind's own body, the answers so far and the line that says what went wrong. Kinds derive from it, one file each.
 * The row keeps what is typed until it is on disk.
 */
#pragma once

#include <gtk/gtk.h>
#include "app/pawl-session.h"

G_BEGIN_DECLS

#define PAWL_TYPE_ASK_ROW (pawl_ask_row_get_type ())
G_DECLARE_DERIVABLE_TYPE (PawlAskRow, pawl_ask_row, PAWL, ASK_ROW, GtkWidget)

struct _PawlAskRowClass {
  GtkWidgetClass parent_class;

  /* Builds the body once, after session and ask are known. */
  void       (*build)  (PawlAskRow *self);
  /* Puts @state on the body's widgets. @is_open: it may be answered now. @is_unfolded: all is shown; else what was settled takes little room. */
  void       (*update) (PawlAskRow *self, PawlJob *job, const PawlAskState *state, gboolean is_open, gboolean is_unfolded);
  /* Where the keyboard goes when this row is next. NULL: the row itself, so that Space does not answer by accident. */
  GtkWidget *(*get_focus) (PawlAskRow *self);
  /* (nullable) each: only readings that are typed have them; see below */
  void       (*begin_burst) (PawlAskRow *self);
  gboolean   (*take_burst)  (PawlAskRow *self, const char *value, const char *mark, const char *doubt);
  const char *(*get_instrument) (PawlAskRow *self);
  /* (nullable): a key while the keyboard is in the row, before the page looks at it. TRUE: it was the row's. */
  gboolean   (*press)  (PawlAskRow *self, guint keyval, gint64 at_usec);
};

/* The row of the ask's kind. @session outlives it. */
PawlAskRow    *pawl_ask_row_new       (PawlSession *session, const PawlAsk *ask);
void           pawl_ask_row_update    (PawlAskRow *self, PawlJob *job, const PawlAskState *state, gboolean is_open);
/* What another press would answer; NULL: nothing. Marks the row, and is what a screen reader says of it. */
void           pawl_ask_row_offer     (PawlAskRow *self, const char *words);
void           pawl_ask_row_go        (PawlAskRow *self); /* takes the focus */
gboolean       pawl_ask_row_press     (PawlAskRow *self, guint keyval, gint64 at_usec);
const PawlAsk *pawl_ask_row_get_ask   (PawlAskRow *self);
const char    *pawl_ask_row_get_title (PawlAskRow *self); /* what its controls are named by */

/* ---- what a gauge types ---- */
/* Keys come in, which may turn out to be a gauge's: whatever they do to the line is to be taken back then. */
void           pawl_ask_row_begin_burst (PawlAskRow *self);
/* One value of a gauge, in place of what its keys did. @mark: (nullable): of the instrument. @doubt: (nullable): the value is put into the line and
 * not taken, and this is said. FALSE: the row takes no number, or none now. */
gboolean       pawl_ask_row_take_burst  (PawlAskRow *self, const char *value, const char *mark, const char *doubt);
const char    *pawl_ask_row_get_instrument (PawlAskRow *self); /* (nullable): mark of what it is taken with, as it stands */

/* ---- for the kinds ---- */
PawlSession   *pawl_ask_row_get_session (PawlAskRow *self);
void           pawl_ask_row_append    (PawlAskRow *self, GtkWidget *child); /* into the body */
GtkWidget     *pawl_ask_row_append_text (PawlAskRow *self, const char *text, const char *css_class); /* a wrapped label */
/* The sentence that says what is right; shown unless it would give something away. */
void           pawl_ask_row_show_prompt (PawlAskRow *self, gboolean is_shown);
/* Keeps what is typed into @editable with the session, under @field, and puts there what was typed before the row was built anew. */
void           pawl_ask_row_keep_typed (PawlAskRow *self, GtkEditable *editable, const char *field);
/* The sign and words of the answer that counts on @label; hidden when there is none. */
void           pawl_ask_row_show_verdict (GtkWidget *label, const PawlAskState *state);
/* A button named "@word: title of the ask". */
GtkWidget     *pawl_ask_row_make_button (PawlAskRow *self, const char *word, GCallback clicked, gpointer data);
/* Takes @entry (transfer full), or says why not in the row. */
gboolean       pawl_ask_row_take      (PawlAskRow *self, PawlEntry *entry, const char *words);
void           pawl_ask_row_say       (PawlAskRow *self, const char *problem); /* NULL: clears */

G_END_DECLS
