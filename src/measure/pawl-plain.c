/* Typed text in plain signs. Keyboards, books and gauges write one thing in many ways; after this there is one way. */
#include <string.h>

#include "measure/pawl-plain-private.h"

/* A message quotes no more than so many characters. */
#define QUOTED_MAX 20

G_DEFINE_QUARK (pawl-reading-error, pawl_reading_error)

typedef struct {
  gunichar    sign;
  const char *plain;
} Fold;

static const Fold folds[] = {
  { '\t', " " }, { '\n', " " }, { '\r', " " },
  { 0x00a0, " " }, { 0x2007, " " }, { 0x2008, " " }, { 0x2009, " " }, { 0x200a, " " }, { 0x202f, " " }, /* no-break, figure and thin spaces */
  { 0x2010, "-" }, { 0x2011, "-" }, { 0x2012, "-" }, { 0x2013, "-" }, { 0x2212, "-" },                  /* hyphens, en dash, minus */
  { 0x2032, "'" }, { 0x2019, "'" }, { 0x2033, "\"" }, { 0x201d, "\"" },                                 /* primes, and what smart quotes make of them */
  { 0x00b0, "deg" }, { 0x00ba, "deg" }, { 0x2103, "degC" }, { 0x2109, "degF" },
  { 0x00b5, "u" }, { 0x03bc, "u" },                                                                     /* micro sign, Greek mu */
  { 0x03a9, "ohm" }, { 0x2126, "ohm" },                                                                 /* Greek omega, ohm sign */
  { 0x0394, "delta " }, { 0x2206, "delta " },
  { 0x00b7, "*" }, { 0x22c5, "*" }, { 0x2219, "*" }, { 0x2022, "*" },                                   /* dots that join units */
  { 0x00b1, "+/-" },
  { 0x2264, "max " }, { 0x2265, "min " },                                                               /* at most, at least */
  { 0x2026, ".." },                                                                                     /* ellipsis */
  { 0x2044, "/" }, { 0x2215, "/" },
  { 0x00b2, "^2" }, { 0x00b3, "^3" },
  { 0x00bc, " 1/4" }, { 0x00bd, " 1/2" }, { 0x00be, " 3/4" },
  { 0x2150, " 1/7" }, { 0x2151, " 1/9" }, { 0x2152, " 1/10" }, { 0x2153, " 1/3" }, { 0x2154, " 2/3" },
  { 0x2155, " 1/5" }, { 0x2156, " 2/5" }, { 0x2157, " 3/5" }, { 0x2158, " 4/5" }, { 0x2159, " 1/6" }, { 0x215a, " 5/6" },
  { 0x215b, " 1/8" }, { 0x215c, " 3/8" }, { 0x215d, " 5/8" }, { 0x215e, " 7/8" },
};

static const char *
find_fold (gunichar sign)
{
  if (sign >= ' ' && sign < 0x80)
    return NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (folds); i++)
    if (folds[i].sign == sign)
      return folds[i].plain;
  return NULL;
}

static void
append (PawlPlain *self, const char *signs, gsize length, guint place)
{
  g_string_append_len (self->text, signs, (gssize) length);
  for (gsize i = 0; i < length; i++)
    g_array_append_val (self->places, place);
}

static gboolean
refuse_long (GError **error)
{
  g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_TOO_LONG,
               "this is over %d characters long; a reading is short, as in 1 5/16 in", PAWL_TYPED_MAX);
  return FALSE;
}

/* Looks no further than the longest text that is accepted, however long @typed is. */
static gboolean
check_typed (const char *typed, GError **error)
{
  gsize length = strnlen (typed, 4 * PAWL_TYPED_MAX + 1);
  const char *fault;

  if (length > 4 * PAWL_TYPED_MAX)
    return refuse_long (error);
  if (!g_utf8_validate (typed, (gssize) length, &fault))
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_NOT_A_NUMBER,
                   "at character %ld: this is not text (not UTF-8); type it again, as in 33.34 mm", g_utf8_pointer_to_offset (typed, fault) + 1);
      return FALSE;
    }
  return g_utf8_strlen (typed, (gssize) length) <= PAWL_TYPED_MAX || refuse_long (error);
}

/**
 * pawl_plain_init: (skip)
 * @typed: what was typed, in any encoding and of any length; hostile input is expected here
 * @error: PAWL_READING_ERROR_TOO_LONG; _NOT_A_NUMBER when it is not UTF-8 or holds a control character
 *
 * Folds signs that mean one thing into one: spaces, dashes, primes, dots, vulgar fractions (with a space before, so
 * that 1½ reads as 1 1/2), degree to "deg", µ to "u", Ω to "ohm", Δ to "delta", ± to "+/-", … to "..", ≤ to "max", ≥ to "min".
 * Letters, digits and signs that are not in the list stay, and are refused where they make no sense.
 * @typed is borrowed as long as @self is used. @self is to be cleared in either case.
 */
gboolean
pawl_plain_init (PawlPlain *self, const char *typed, GError **error)
{
  guint place = 1;

  self->typed = typed;
  self->text = g_string_new (NULL);
  self->places = g_array_new (FALSE, FALSE, sizeof (guint));
  if (!check_typed (typed, error))
    return FALSE;
  for (const char *p = typed; *p != '\0'; p = g_utf8_next_char (p), place++)
    {
      gunichar sign = g_utf8_get_char (p);
      const char *plain = find_fold (sign);

      if (plain != NULL)
        append (self, plain, strlen (plain), place);
      else if (g_unichar_iscntrl (sign))
        {
          g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_NOT_A_NUMBER,
                       "at character %u: a control character; type the reading again, as in 33.34 mm", place);
          return FALSE;
        }
      else
        append (self, p, (gsize) (g_utf8_next_char (p) - p), place);
    }
  g_array_append_val (self->places, place);
  return TRUE;
}

void
pawl_plain_clear (PawlPlain *self)
{
  if (self->text != NULL)
    g_string_free (g_steal_pointer (&self->text), TRUE);
  g_clear_pointer (&self->places, g_array_unref);
}

char *
pawl_plain_dup_word (const PawlPlain *self, const char *at)
{
  const char *start = g_utf8_offset_to_pointer (self->typed, (glong) g_array_index (self->places, guint, at - self->text->str) - 1);
  const char *end = start;

  for (guint n = 0; n < QUOTED_MAX && *end != '\0' && (end == start || !g_unichar_isspace (g_utf8_get_char (end))); n++)
    end = g_utf8_next_char (end);
  return g_strndup (start, (gsize) (end - start));
}

gboolean
pawl_plain_fault (const PawlPlain *self, const char *at, GError **error, PawlReadingError code, const char *format, ...)
{
  g_autofree char *message = NULL;
  va_list arguments;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error (error, PAWL_READING_ERROR, (int) code, "at character %u: %s",
               g_array_index (self->places, guint, at - self->text->str), message);
  return FALSE;
}
