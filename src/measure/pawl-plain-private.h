/* Typed text in plain signs: what a scanner reads, with the place of each sign in what was typed. */
#pragma once

#include "measure/pawl-quantity.h"

G_BEGIN_DECLS

/* No reading and no limit that a person types is longer; what is longer is a paste by mistake, or hostile. */
#define PAWL_TYPED_MAX 200

typedef struct {
  const char *typed;  /* borrowed; what was typed */
  GString    *text;   /* letters and digits as typed; other signs folded, see pawl_plain_init() */
  GArray     *places; /* (element-type guint): for each byte of @text and its end, the character it came from, counted from 1 */
} PawlPlain;

gboolean pawl_plain_init     (PawlPlain *self, const char *typed, GError **error);
void     pawl_plain_clear    (PawlPlain *self);
/* (transfer full): the word of @typed that @at falls in, to quote in a message; a pointer into the plain text, as below */
char    *pawl_plain_dup_word (const PawlPlain *self, const char *at);
/* Sets @error to "at character n: …", where n is the place of @at, a pointer into the plain text. Returns FALSE. */
gboolean pawl_plain_fault    (const PawlPlain *self, const char *at, GError **error, PawlReadingError code,
                              const char *format, ...) G_GNUC_PRINTF (5, 6);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlPlain, pawl_plain_clear)

G_END_DECLS
