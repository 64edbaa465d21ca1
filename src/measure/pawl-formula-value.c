/* Intervals of exact rationals, and values that carry their derivatives along. */
#include <math.h>

#include "measure/pawl-formula-run-private.h"

/* ---- ranges ---- */

void
pawl_range_init (Range *self)
{
  mpq_inits (self->low, self->high, NULL);
}

void
pawl_range_clear (Range *self)
{
  mpq_clears (self->low, self->high, NULL);
}

void
pawl_range_set (Range *self, const Range *other)
{
  mpq_set (self->low, other->low);
  mpq_set (self->high, other->high);
}

void
pawl_range_set_double (Range *self, double low, double high)
{
  mpq_set_d (self->low, low);
  mpq_set_d (self->high, high);
}

gboolean
pawl_range_is_point (const Range *self)
{
  return mpq_equal (self->low, self->high) != 0;
}

gboolean
pawl_range_holds_zero (const Range *self)
{
  return mpq_sgn (self->low) <= 0 && mpq_sgn (self->high) >= 0;
}

void
pawl_range_add (Range *self, const Range *other)
{
  mpq_add (self->low, self->low, other->low);
  mpq_add (self->high, self->high, other->high);
}

void
pawl_range_negate (Range *self)
{
  mpq_neg (self->low, self->low);
  mpq_neg (self->high, self->high);
  mpq_swap (self->low, self->high);
}

void
pawl_range_join (Range *self, const Range *other)
{
  if (mpq_cmp (other->low, self->low) < 0)
    mpq_set (self->low, other->low);
  if (mpq_cmp (other->high, self->high) > 0)
    mpq_set (self->high, other->high);
}

void
pawl_range_multiply (Range *self, const Range *other)
{
  Range product;
  mpq_t corner;

  pawl_range_init (&product);
  mpq_init (corner);
  mpq_mul (product.low, self->low, other->low);
  mpq_set (product.high, product.low);
  for (int i = 1; i < 4 && !(pawl_range_is_point (self) && pawl_range_is_point (other)); i++)
    {
      mpq_mul (corner, i & 1 ? self->high : self->low, i & 2 ? other->high : other->low);
      if (mpq_cmp (corner, product.low) < 0)
        mpq_set (product.low, corner);
      if (mpq_cmp (corner, product.high) > 0)
        mpq_set (product.high, corner);
    }
  pawl_range_set (self, &product);
  pawl_range_clear (&product);
  mpq_clear (corner);
}

void
pawl_range_invert (Range *self)
{
  mpq_inv (self->low, self->low);
  mpq_inv (self->high, self->high);
  mpq_swap (self->low, self->high);
}

/* ---- values ---- */

Value *
pawl_value_new (guint n)
{
  Value *self = g_new0 (Value, 1);

  self->n = n;
  self->slopes = g_new0 (Range, MAX (n, 1));
  pawl_range_init (&self->value);
  for (guint i = 0; i < n; i++)
    pawl_range_init (&self->slopes[i]);
  return self;
}

void
pawl_value_free (Value *self)
{
  pawl_range_clear (&self->value);
  for (guint i = 0; i < self->n; i++)
    pawl_range_clear (&self->slopes[i]);
  g_free (self->slopes);
  g_free (self);
}

void
pawl_value_scale (Value *self, const Range *factor)
{
  for (guint i = 0; i < self->n; i++)
    pawl_range_multiply (&self->slopes[i], factor);
}

static void
add_slopes (Value *self, const Value *other)
{
  for (guint i = 0; i < self->n; i++)
    pawl_range_add (&self->slopes[i], &other->slopes[i]);
}

void
pawl_value_negate (Value *self)
{
  pawl_range_negate (&self->value);
  for (guint i = 0; i < self->n; i++)
    pawl_range_negate (&self->slopes[i]);
}

void
pawl_value_add (Value *self, const Value *other)
{
  pawl_range_add (&self->value, &other->value);
  add_slopes (self, other);
}

void
pawl_value_multiply (Value *self, Value *other)
{
  pawl_value_scale (self, &other->value);
  pawl_value_scale (other, &self->value);
  add_slopes (self, other);
  pawl_range_multiply (&self->value, &other->value);
}

/* d(1/x) = -1/x² dx */
void
pawl_value_invert (Value *self)
{
  Range slope;

  pawl_range_invert (&self->value);
  pawl_range_init (&slope);
  pawl_range_set (&slope, &self->value);
  pawl_range_multiply (&slope, &self->value);
  pawl_range_negate (&slope);
  pawl_value_scale (self, &slope);
  pawl_range_clear (&slope);
}

double
pawl_value_get_uncertainty (const Value *value, const PawlFormulaInput *inputs)
{
  double sum = 0;

  for (guint i = 0; i < value->n; i++)
    {
      double slope = MAX (fabs (mpq_get_d (value->slopes[i].low)), fabs (mpq_get_d (value->slopes[i].high)));

      sum += slope * slope * inputs[i].standard_uncertainty * inputs[i].standard_uncertainty;
    }
  return sqrt (sum);
}
