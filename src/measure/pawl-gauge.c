#include "measure/pawl-gauge.h"

#include <string.h>

#include "measure/pawl-number-private.h"
#include "measure/pawl-quantity-private.h"

#define MOST_ROWS 8

/* Up to and including @size it may be off by @limit; a row counts from the end of the one before. */
typedef struct {
  const char *size, *limit;
} Row;

typedef struct {
  const char *name;
  const char *over;                   /* (nullable) where the first row begins; NULL: at zero */
  const char *size_unit, *limit_unit;
  Row         rows[MOST_ROWS];        /* a row without a size ends them */
} Column;

static const Column columns[] = {
  { "gauge block grade K", NULL, "mm", "µm", { { "10", "0.2" }, { "25", "0.3" }, { "50", "0.4" }, { "75", "0.5" }, { "100", "0.6" }, { "150", "0.8" } } },
  { "gauge block grade 0", NULL, "mm", "µm", { { "10", "0.12" }, { "25", "0.14" }, { "50", "0.2" }, { "75", "0.25" }, { "100", "0.3" }, { "150", "0.4" } } },
  { "gauge block grade 1", NULL, "mm", "µm", { { "10", "0.2" }, { "25", "0.3" }, { "50", "0.4" }, { "75", "0.5" }, { "100", "0.6" }, { "150", "0.8" } } },
  { "gauge block grade 2", NULL, "mm", "µm", { { "10", "0.45" }, { "25", "0.6" }, { "50", "0.8" }, { "75", "1" }, { "100", "1.2" }, { "150", "1.6" } } },
  { "plug gauge class XX", "0.029", "in", "in", { { "0.825", "0.00002" }, { "1.51", "0.00003" }, { "2.51", "0.00004" } } },
  { "plug gauge class X", "0.029", "in", "in", { { "0.825", "0.00004" }, { "1.51", "0.00006" }, { "2.51", "0.00008" } } },
  { "plug gauge class Y", "0.029", "in", "in", { { "0.825", "0.00007" }, { "1.51", "0.00009" }, { "2.51", "0.00012" } } },
  { "plug gauge class Z", "0.029", "in", "in", { { "0.825", "0.0001" }, { "1.51", "0.00012" }, { "2.51", "0.00016" } } },
  { "micrometer", NULL, "mm", "µm", { { "50", "4" }, { "100", "5" }, { "150", "6" }, { "200", "7" } } },
  { "caliper 0.05 mm", NULL, "mm", "µm", { { "300", "50" }, { "400", "60" }, { "500", "70" } } },
  { "caliper 0.02 mm", NULL, "mm", "µm", { { "100", "20" }, { "400", "30" } } },
  { "caliper 0.01 mm", NULL, "mm", "µm", { { "100", "20" }, { "400", "30" } } },
};

/* (nullable): the column that @text names, whole words; the size follows at @rest. */
static const Column *
find_column (const char *text, const char **rest)
{
  for (gsize i = 0; i < G_N_ELEMENTS (columns); i++)
    {
      gsize length = strlen (columns[i].name);

      if (g_ascii_strncasecmp (text, columns[i].name, length) == 0 && text[length] == ' ')
        {
          *rest = text + length + 1;
          return &columns[i];
        }
    }
  return NULL;
}

gboolean
pawl_gauge_looks_like (const char *text)
{
  const char *rest;

  g_return_val_if_fail (text != NULL, FALSE);
  return find_column (text, &rest) != NULL;
}

static void
set_base (mpq_t base, const char *number, const char *unit)
{
  pawl_number_set_digits (base, number, strlen (number));
  pawl_unit_to_base (pawl_unit_lookup (unit), base, base);
}

/* (nullable): the row that @size lies in. */
static const Row *
find_row (const Column *column, const mpq_t size)
{
  const Row *found = NULL;
  mpq_t bound;

  mpq_init (bound);
  if (column->over != NULL)
    set_base (bound, column->over, column->size_unit);
  if (mpq_cmp (size, bound) > 0)
    for (const Row *row = column->rows; found == NULL && row < column->rows + MOST_ROWS && row->size != NULL; row++)
      {
        set_base (bound, row->size, column->size_unit);
        if (mpq_cmp (size, bound) <= 0)
          found = row;
      }
  mpq_clear (bound);
  return found;
}

static const char *
get_end (const Column *column)
{
  const Row *row = column->rows;

  while (row + 1 < column->rows + MOST_ROWS && row[1].size != NULL)
    row++;
  return row->size;
}

static PawlQuantity *
make_limit (const Column *column, const Row *row)
{
  PawlQuantity *limit;
  mpq_t value;

  mpq_init (value);
  pawl_number_set_digits (value, row->limit, strlen (row->limit));
  limit = pawl_quantity_new (value, pawl_unit_lookup (column->limit_unit));
  mpq_clear (value);
  return limit;
}

PawlQuantity *
pawl_gauge_parse (const char *text, const PawlTyping *typing, GError **error)
{
  const char *rest = NULL;
  const Column *column;
  const Row *row;
  g_autoptr(PawlQuantity) size = NULL;

  g_return_val_if_fail (text != NULL, NULL);
  if (!(column = find_column (text, &rest)))
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_NOT_A_NUMBER,
                   "“%.80s” is no gauge that a table is at hand for; write for example gauge block grade 1 30 mm, or micrometer 20 mm", text);
      return NULL;
    }
  if (!(size = pawl_quantity_parse (rest, typing, error)))
    return NULL;
  if (size->unit->dimension != PAWL_DIMENSION_LENGTH)
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_WRONG_DIMENSION, "“%s” is %s, but a gauge goes by a length; write for example %s 20 mm",
                   size->typed, pawl_dimension_get_phrase (size->unit->dimension), column->name);
      return NULL;
    }
  if (!(row = find_row (column, size->high)))
    {
      g_set_error (error, PAWL_READING_ERROR, PAWL_READING_ERROR_NOT_A_NUMBER, "%s: no table has %s; the sizes are over %s up to %s %s",
                   column->name, size->typed, column->over != NULL ? column->over : "0", get_end (column), column->size_unit);
      return NULL;
    }
  return make_limit (column, row);
}
