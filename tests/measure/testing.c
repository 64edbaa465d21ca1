#include <stdio.h>
#include <string.h>

#include "testing.h"

void
testing_set (mpq_t value, const char *text)
{
  g_auto(GStrv) halves = g_strsplit (text, ".", 2);
  g_autofree char *digits = NULL;

  if (halves[0] != NULL && halves[1] == NULL)
    g_assert_cmpint (mpq_set_str (value, text, 10), ==, 0);
  else
    {
      digits = g_strconcat (halves[0], halves[1], NULL);
      g_assert_cmpint (mpz_set_str (mpq_numref (value), digits, 10), ==, 0);
      mpz_ui_pow_ui (mpq_denref (value), 10, strlen (halves[1]));
    }
  mpq_canonicalize (value);
}

PawlTyping
testing_typing (const char *symbol, char decimal_mark)
{
  PawlTyping typing = { .decimal_mark = decimal_mark, .default_unit = pawl_unit_lookup (symbol) };

  g_assert_true ((symbol == NULL) == (typing.default_unit == NULL));
  return typing;
}

PawlQuantity *
testing_parse (const char *text, const char *symbol)
{
  PawlTyping typing = testing_typing (symbol, '.');
  g_autoptr(GError) error = NULL;
  PawlQuantity *quantity = pawl_quantity_parse (text, &typing, &error);

  g_assert_no_error (error);
  g_assert_nonnull (quantity);
  return quantity;
}

void
testing_assert_value (const PawlQuantity *quantity, const char *symbol, const char *expected)
{
  const PawlUnit *unit = pawl_unit_lookup (symbol);
  mpq_t low, high, wanted;

  g_assert_nonnull (unit);
  g_assert_cmpint (pawl_unit_get_dimension (unit), ==, pawl_unit_get_dimension (pawl_quantity_get_unit (quantity)));
  mpq_inits (low, high, wanted, NULL);
  testing_set (wanted, expected);
  pawl_quantity_get_base (quantity, low, high);
  mpq_add (low, low, high);
  mpq_div_2exp (low, low, 1);
  pawl_unit_from_base (unit, low, low);
  if (!mpq_equal (low, wanted))
    gmp_fprintf (stderr, "# “%s”: %Qd %s, expected %Qd\n", pawl_quantity_get_typed (quantity), low, symbol, wanted);
  g_assert_true (mpq_equal (low, wanted));
  mpq_clears (low, high, wanted, NULL);
}

void
testing_assert_error (const GError *error, PawlReadingError code, guint place, const char *text)
{
  guint found = 0;

  if (error == NULL || error->code != (int) code)
    g_test_message ("“%.60s”: %s", text, error != NULL ? error->message : "accepted");
  g_assert_error (error, PAWL_READING_ERROR, (int) code);
  g_assert_true (g_utf8_validate (error->message, -1, NULL));
  sscanf (error->message, "at character %u:", &found);
  if (found != place)
    g_test_message ("“%.60s”: %s", text, error->message);
  g_assert_cmpuint (found, ==, place);
}
