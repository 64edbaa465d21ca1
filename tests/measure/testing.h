/* What the tests of this folder share. */
#pragma once

#include "measure/pawl-quantity.h"

/* A decimal "-12.5" or a fraction "5/16", by GMP's own reader and not by the one under test. */
void          testing_set            (mpq_t value, const char *text);
/* @symbol: (nullable): default unit */
PawlTyping    testing_typing         (const char *symbol, char decimal_mark);
/* Must parse; a default unit may be NULL. */
PawlQuantity *testing_parse          (const char *text, const char *symbol);
/* Middle of @quantity in @symbol is exactly @expected. */
void          testing_assert_value   (const PawlQuantity *quantity, const char *symbol, const char *expected);
/* @error is a PAWL_READING_ERROR of @code, and says "at character @place"; 0: it names no place. */
void          testing_assert_error   (const GError *error, PawlReadingError code, guint place, const char *text);
