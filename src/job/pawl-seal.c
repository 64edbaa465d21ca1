#include "job/pawl-seal.h"

/* No letter that is read as another: i, l, o and u are missing. */
static const char LETTERS[] = "0123456789abcdefghjkmnpqrstvwxyz";
G_STATIC_ASSERT (sizeof LETTERS == 32 + 1);

char *
pawl_seal_make_code (const guint8 random[PAWL_SEAL_N_LETTERS])
{
  GString *code = g_string_new (NULL);

  for (guint i = 0; i < PAWL_SEAL_N_LETTERS; i++)
    g_string_append_printf (code, "%s%c", i > 0 && i % 4 == 0 ? "-" : "", LETTERS[random[i] % 32]);
  return g_string_free (code, FALSE);
}

char *
pawl_seal_make_code_of (const char *id)
{
  g_autofree char *digest = g_compute_checksum_for_string (G_CHECKSUM_SHA256, id, -1);
  guint8 random[PAWL_SEAL_N_LETTERS];

  for (guint i = 0; i < PAWL_SEAL_N_LETTERS; i++)
    random[i] = (guint8) (g_ascii_xdigit_value (digest[2 * i]) * 16 + g_ascii_xdigit_value (digest[2 * i + 1]));
  return pawl_seal_make_code (random);
}

/* Letters and digits of any script, in small letters. */
static char *
dup_plain_code (const char *code)
{
  g_autofree char *small = g_utf8_casefold (code, -1);
  GString *plain = g_string_new (NULL);

  for (const char *c = small; *c != '\0'; c = g_utf8_next_char (c))
    if (g_unichar_isalnum (g_utf8_get_char (c)))
      g_string_append_unichar (plain, g_utf8_get_char (c));
  return g_string_free (plain, FALSE);
}

/* One blank between words. */
static char *
dup_plain_text (const char *text)
{
  g_autofree char *normal = g_utf8_normalize (text, -1, G_NORMALIZE_ALL_COMPOSE);
  g_autofree char *small = g_utf8_casefold (normal != NULL ? normal : "", -1);
  GString *plain = g_string_new (NULL);

  for (const char *c = small; *c != '\0'; c = g_utf8_next_char (c))
    if (!g_unichar_isspace (g_utf8_get_char (c)))
      g_string_append_unichar (plain, g_utf8_get_char (c));
    else if (plain->len > 0 && plain->str[plain->len - 1] != ' ')
      g_string_append_c (plain, ' ');
  return g_strchomp (g_string_free (plain, FALSE));
}

char *
pawl_seal_dup_digest (const char *code, const char *text)
{
  g_autofree char *plain_code = dup_plain_code (code);
  g_autofree char *plain_text = dup_plain_text (text);
  g_autofree char *sealed = g_strconcat (plain_code, "\n", plain_text, NULL);

  return g_compute_checksum_for_string (G_CHECKSUM_SHA256, sealed, -1);
}

const char *
pawl_planted_kind_get_name (guint kind)
{
  g_return_val_if_fail (kind < PAWL_N_PLANTED_KINDS, "");
  return kind == PAWL_PLANTED_READING ? "reading" : kind == PAWL_PLANTED_STATEMENT ? "statement" : pawl_rule_kind_get_name ((PawlRuleKind) kind);
}

gboolean
pawl_planted_kind_from_name (const char *name, guint *kind)
{
  for (*kind = 0; *kind < PAWL_N_PLANTED_KINDS; (*kind)++)
    if (*kind != PAWL_RULE_EITHER && g_str_equal (pawl_planted_kind_get_name (*kind), name))
      return TRUE;
  return FALSE;
}
