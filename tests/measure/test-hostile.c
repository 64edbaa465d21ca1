/* Text that nobody vouches for: each is refused in a sentence, and none costs memory or crashes. */
#include <string.h>

#include "measure/pawl-doubt.h"
#include "measure/pawl-limits.h"
#include "testing.h"

#define LONGEST 200

static const struct {
  const char      *text;
  PawlReadingError code;
  guint            place;
} hostile[] = {
  { "1e999999999 mm", PAWL_READING_ERROR_TOO_LONG, 2 },
  { "1e-999999999 mm", PAWL_READING_ERROR_TOO_LONG, 2 },
  { "1E+99999999999999999999999999 mm", PAWL_READING_ERROR_TOO_LONG, 2 },
  { "1.5e41 mm", PAWL_READING_ERROR_TOO_LONG, 4 },
  { "12345678901234567890123456789012345678901 mm", PAWL_READING_ERROR_TOO_LONG, 1 },
  { "0.1234567890123456789012345678901234567890 mm", PAWL_READING_ERROR_TOO_LONG, 3 },
  { "1/12345678901234567890123456789012345678901 in", PAWL_READING_ERROR_TOO_LONG, 3 },
  { "0000000000000000000000000000000000000000000001 mm", PAWL_READING_ERROR_TOO_LONG, 1 },
  { "1/0", PAWL_READING_ERROR_NOT_A_NUMBER, 3 },
  { "0/0 in", PAWL_READING_ERROR_NOT_A_NUMBER, 3 },
  { "1 1/00000 in", PAWL_READING_ERROR_NOT_A_NUMBER, 5 },
  { "12\377 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 3 },
  { "12 m\303", PAWL_READING_ERROR_NOT_A_NUMBER, 5 },
  { "½\300\257 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 2 },
  { "\355\240\200", PAWL_READING_ERROR_NOT_A_NUMBER, 1 },
  { "12\001mm", PAWL_READING_ERROR_NOT_A_NUMBER, 3 },
  { "12\033[2Jmm", PAWL_READING_ERROR_NOT_A_NUMBER, 3 },
  { "%s%s%s%n", PAWL_READING_ERROR_NOT_A_NUMBER, 1 },
  { "1 ٪ mm", PAWL_READING_ERROR_UNKNOWN_UNIT, 3 },
  { "12 \342\200\256mm", PAWL_READING_ERROR_UNKNOWN_UNIT, 4 },
  { "((((((((((1 mm", PAWL_READING_ERROR_NOT_A_NUMBER, 1 },
  { "1 h 1 h 1 h 1 h 1 h", PAWL_READING_ERROR_NOT_A_NUMBER, 5 },
};

static void
test_hostile (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (hostile); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autoptr(GError) limits_error = NULL;
      g_autofree char *limits = g_strconcat (hostile[i].text, "..2 mm", NULL);

      g_assert_null (pawl_quantity_parse (hostile[i].text, NULL, &error));
      testing_assert_error (error, hostile[i].code, hostile[i].place, hostile[i].text);
      g_assert_null (pawl_limits_parse (limits, NULL, &limits_error));
      g_assert_nonnull (limits_error);
    }
}

/* The longest that are taken. */
static void
test_longest (void)
{
  static const char * const texts[] = {
    "1234567890123456789012345678901234567890 mm", "1e40 mm", "1e-40 mm", "12345678901234567890/12345678901234567891 in",
  };
  g_autofree char *padded = g_strnfill (LONGEST, ' ');

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr(PawlQuantity) quantity = testing_parse (texts[i], NULL);
      g_autofree char *exact = pawl_quantity_format_exact (quantity, '.');
      g_autofree char *printed = pawl_quantity_format (quantity, '.');
      g_autofree char *beside = pawl_quantity_format_beside (quantity, '.');

      g_assert_nonnull (exact);
      g_assert_nonnull (printed);
      g_assert_nonnull (beside);
    }
  memcpy (padded, "12 mm", 5);
  {
    g_autoptr(PawlQuantity) quantity = testing_parse (padded, NULL);

    testing_assert_value (quantity, "mm", "12");
  }
}

static void
test_ten_megabytes (void)
{
  static const char fills[] = "9 a-.\xff/";
  gsize length = 10 * 1024 * 1024;

  for (const char *fill = fills; *fill != '\0'; fill++)
    {
      g_autofree char *text = g_strnfill (length, *fill);
      g_autoptr(GError) error = NULL;
      g_autoptr(GError) limits_error = NULL;

      g_assert_null (pawl_quantity_parse (text, NULL, &error));
      testing_assert_error (error, PAWL_READING_ERROR_TOO_LONG, 0, text);
      g_assert_cmpuint (strlen (error->message), <, 200);
      g_assert_null (pawl_limits_parse (text, NULL, &limits_error));
      testing_assert_error (limits_error, PAWL_READING_ERROR_TOO_LONG, 0, text);
      g_assert_null (pawl_unit_lookup (text));
    }
}

static void
test_over_length (void)
{
  g_autofree char *text = g_strnfill (LONGEST + 1, '1');
  g_autoptr(GError) error = NULL;

  g_assert_null (pawl_quantity_parse (text, NULL, &error));
  testing_assert_error (error, PAWL_READING_ERROR_TOO_LONG, 0, text);
}

/* What was taken can be shown and doubted. */
static void
check_shown (const PawlLimits *limits, const PawlQuantity *quantity)
{
  g_autofree char *shown = limits != NULL ? pawl_limits_describe (limits) : NULL;
  g_autofree char *doubt = NULL;

  g_assert_true (shown == NULL || g_str_has_prefix (shown, pawl_limits_get_text (limits)));
  if (limits != NULL && quantity != NULL)
    g_assert_true (pawl_reading_is_absurd (limits, quantity, &doubt) == (doubt != NULL));
}

/* Pieces of sense in senseless order: whatever comes, there is a result or a sentence, never both and never neither. */
static void
test_shuffled (void)
{
  static const char * const pieces[] = {
    "1", "12", "0", "9", ".", ",", "/", "-", "+", "±", "+/-", "..", "…", " ", "  ", "5/16", "½", "#", "No. ", "letter ", "F", " drill", "in", "\"", "'", "mm",
    "thou", "°", "°C", "Δ", " goes", " does not", "max ", "min ", "; wear ", "limit ", "new ", "h", " min", "s", "ft-lb", "N m", "·", "Ω", "µ", "k", "e", "E9", "e-",
    "\377", "\303", "^", "²", "%", "(", "\001", "−", "–", "‐", "é",
    ")", "Ø", "H7", " g6", "K9", "za6", " ISO 2768-m", " ISO", ":", " tir", " to ", "between ", " and ", " flats", " (1 in)", " (25.4 mm)", " turns out from a light seat", "/K",
  };
  GRand *rand = g_rand_new_with_seed (19071123);
  PawlTyping typing = testing_typing ("in", '.');
  guint n_taken = 0;

  for (guint i = 0; i < 20000; i++)
    {
      g_autoptr(GString) text = g_string_new (NULL);
      g_autoptr(PawlQuantity) quantity = NULL;
      g_autoptr(PawlLimits) limits = NULL;
      g_autoptr(GError) error = NULL;
      g_autoptr(GError) limits_error = NULL;

      for (gint32 n = g_rand_int_range (rand, 1, 12); n > 0; n--)
        g_string_append (text, pieces[g_rand_int_range (rand, 0, G_N_ELEMENTS (pieces))]);
      typing.decimal_mark = i % 2 == 0 ? '.' : ',';
      typing.is_mixed = i % 3 == 0;
      quantity = pawl_quantity_parse (text->str, i % 5 == 0 ? NULL : &typing, &error);
      limits = pawl_limits_parse (text->str, i % 5 == 0 ? NULL : &typing, &limits_error);
      g_assert_true ((quantity == NULL) == (error != NULL));
      g_assert_true ((limits == NULL) == (limits_error != NULL));
      if (error != NULL)
        g_assert_true (g_utf8_validate (error->message, -1, NULL) && *error->message != '\0');
      if (limits_error != NULL)
        g_assert_true (g_utf8_validate (limits_error->message, -1, NULL) && *limits_error->message != '\0');
      n_taken += quantity != NULL;
      check_shown (limits, quantity);
    }
  g_rand_free (rand);
  /* Not all of it was nonsense. */
  g_assert_cmpuint (n_taken, >, 100);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/hostile/texts", test_hostile);
  g_test_add_func ("/hostile/longest", test_longest);
  g_test_add_func ("/hostile/ten-megabytes", test_ten_megabytes);
  g_test_add_func ("/hostile/over-length", test_over_length);
  g_test_add_func ("/hostile/shuffled", test_shuffled);
  return g_test_run ();
}
