/*
 * A sealed statement: what a trainer planted, as a digest that tells nothing until the text is shown and fits it.
 *
 * What is sealed is a code and the text. The code is drawn at random, told once, and kept by the trainer on paper with the text; the record has
 * neither. Without a code whoever can read the file could try likely texts until one fits.
 */
#pragma once

#include "fit/pawl-rule.h"

G_BEGIN_DECLS

/* What kind of fault it was, which is said when it is opened: against a rule, by its kind; a reading that is out; a statement that is wrong. */
enum { PAWL_PLANTED_READING = PAWL_N_RULE_KINDS, PAWL_PLANTED_STATEMENT, PAWL_N_PLANTED_KINDS };

const char *pawl_planted_kind_get_name  (guint kind);
/* FALSE for what is none; where either way is right nothing can be planted. */
gboolean    pawl_planted_kind_from_name (const char *name, guint *kind);

#define PAWL_SEAL_N_LETTERS 12 /* of 32: 60 bits */

/* (transfer full): "k3f7-9qmd-x2hw" out of @random, of which each of the first 12 bytes gives a letter. */
char *pawl_seal_make_code  (const guint8 random[PAWL_SEAL_N_LETTERS]);
/* (transfer full): the same out of an id that nobody can guess, as g_uuid_string_random() draws it. */
char *pawl_seal_make_code_of (const char *id);
/* (transfer full): SHA-256, hex. Capitals, and how many blanks or hyphens are typed, don't matter. */
char *pawl_seal_dup_digest (const char *code, const char *text);

G_END_DECLS
