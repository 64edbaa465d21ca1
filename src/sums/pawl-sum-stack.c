#include "sums/pawl-sum-stack.h"

/* A stack of 50 mm in microns. */
#define MOST_SUMS 50000
#define NEVER G_MAXUINT

typedef struct {
  mpq_t     measure; /* base units: every size is a whole number of it */
  guint     n_items;
  guint    *sizes;   /* (array length=n_items) in measures */
  guint     n_sums;  /* 0 to n_sums - 1 are looked at */
  guint    *fewest;  /* (array length=n_sums): pieces that make the sum; NEVER: none do */
  guint16 **used;    /* (array length=n_items) of (array length=n_sums): how many of the item stand in the best stack of it and the items before */
} Search;

static void
search_clear (Search *self)
{
  mpq_clear (self->measure);
  g_free (self->sizes);
  g_free (self->fewest);
  for (guint i = 0; self->used != NULL && i < self->n_items; i++)
    g_free (self->used[i]);
  g_free (self->used);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Search, search_clear)

static void
get_size (GPtrArray *items, guint i, mpq_t size)
{
  mpq_t high;

  mpq_init (high);
  pawl_quantity_get_base (((PawlSumItem *) items->pdata[i])->size, size, high);
  mpq_clear (high);
}

/* gcd (a/b, c/d) = gcd (a d, c b) / (b d) */
static void
find_measure (GPtrArray *items, mpq_t measure)
{
  mpq_t size;

  mpq_init (size);
  for (guint i = 0; i < items->len; i++)
    {
      get_size (items, i, size);
      if (i == 0)
        {
          mpq_set (measure, size);
          continue;
        }
      mpz_mul (mpq_numref (measure), mpq_numref (measure), mpq_denref (size));
      mpz_mul (mpq_numref (size), mpq_numref (size), mpq_denref (measure));
      mpz_gcd (mpq_numref (measure), mpq_numref (measure), mpq_numref (size));
      mpz_mul (mpq_denref (measure), mpq_denref (measure), mpq_denref (size));
      mpq_canonicalize (measure);
    }
  mpq_clear (size);
}

/* @value in measures, rounded down, at most MOST_SUMS. */
static guint
count_measures (const Search *self, const mpq_t value)
{
  mpq_t ratio;
  mpz_t whole;
  guint n;

  mpq_init (ratio);
  mpz_init (whole);
  mpq_div (ratio, value, self->measure);
  mpz_fdiv_q (whole, mpq_numref (ratio), mpq_denref (ratio));
  n = mpz_cmp_ui (whole, MOST_SUMS) >= 0 ? MOST_SUMS : (guint) mpz_get_ui (whole);
  mpq_clear (ratio);
  mpz_clear (whole);
  return n;
}

/* Any number of pieces: one more on a stack that may hold some already. */
static void
use_any (Search *self, guint item)
{
  guint size = self->sizes[item];

  for (guint sum = size; sum < self->n_sums; sum++)
    if (self->fewest[sum - size] != NEVER && self->fewest[sum - size] + 1 < self->fewest[sum])
      {
        self->fewest[sum] = self->fewest[sum - size] + 1;
        self->used[item][sum] = (guint16) (self->used[item][sum - size] + 1);
      }
}

/*
 * Up to @count pieces on a stack that holds none. Sums that are a whole number of pieces apart make a row; with k pieces of the row's k-th sum taken
 * off, the best stack below it is the least of fewest - k among the last @count of them. A queue holds those that may yet be the least, rising, so that
 * each is looked at twice, however many pieces there are.
 */
static void
use_some_in_row (Search *self, guint item, guint count, guint first, gint64 *worth, guint *queue)
{
  guint size = self->sizes[item], head = 0, tail = 0;

  for (guint k = 0, sum = first; sum < self->n_sums; k++, sum += size)
    {
      worth[k] = self->fewest[sum] == NEVER ? G_MAXINT64 : (gint64) self->fewest[sum] - k;
      while (tail > head && worth[queue[tail - 1]] >= worth[k])
        tail--;
      queue[tail++] = k;
      while (queue[head] + count < k)
        head++;
      if (worth[queue[head]] == G_MAXINT64 || queue[head] == k)
        continue;
      self->fewest[sum] = (guint) (worth[queue[head]] + k);
      self->used[item][sum] = (guint16) (k - queue[head]);
    }
}

static void
use_some (Search *self, guint item, guint count)
{
  g_autofree gint64 *worth = g_new (gint64, self->n_sums);
  g_autofree guint *queue = g_new (guint, self->n_sums);

  for (guint first = 0; first < MIN (self->sizes[item], self->n_sums); first++)
    use_some_in_row (self, item, count, first, worth, queue);
}

static gboolean
search_init (Search *self, GPtrArray *items, const mpq_t high)
{
  guint largest = 0;
  mpq_t size;

  mpq_init (self->measure);
  mpq_init (size);
  find_measure (items, self->measure);
  self->n_items = items->len;
  self->sizes = g_new0 (guint, items->len);
  for (guint i = 0; i < items->len; i++)
    {
      get_size (items, i, size);
      self->sizes[i] = count_measures (self, size);
      largest = MAX (largest, self->sizes[i]);
    }
  mpq_clear (size);
  /* One largest piece beyond the range, so that the nearest stack above it is seen too. */
  self->n_sums = count_measures (self, high) + largest + 1;
  return self->n_sums <= MOST_SUMS;
}

static void
search_run (Search *self, GPtrArray *items)
{
  self->fewest = g_new (guint, self->n_sums);
  self->used = g_new0 (guint16 *, self->n_items);
  for (guint sum = 0; sum < self->n_sums; sum++)
    self->fewest[sum] = sum == 0 ? 0 : NEVER;
  for (guint i = 0; i < self->n_items; i++)
    {
      guint count = ((PawlSumItem *) items->pdata[i])->count;

      self->used[i] = g_new0 (guint16, self->n_sums);
      if (count == 0)
        use_any (self, i);
      else
        use_some (self, i, count);
    }
}

/* ---- the best of all sums ---- */

typedef struct {
  gboolean is_inside;
  guint    n_pieces;
  mpq_t    miss;      /* inside: from the middle; outside: from the nearer end */
} Score;

static void
get_score (const Search *self, guint sum, const mpq_t low, const mpq_t high, Score *score)
{
  mpq_t height, middle;

  mpq_inits (height, middle, NULL);
  mpq_set_ui (height, sum, 1);
  mpq_mul (height, height, self->measure);
  score->is_inside = mpq_cmp (height, low) >= 0 && mpq_cmp (height, high) <= 0;
  score->n_pieces = self->fewest[sum];
  mpq_add (middle, low, high);
  mpq_div_2exp (middle, middle, 1);
  mpq_sub (score->miss, height, score->is_inside ? middle : mpq_cmp (height, low) < 0 ? low : high);
  mpq_abs (score->miss, score->miss);
  mpq_clears (height, middle, NULL);
}

static gboolean
is_better (const Score *a, const Score *b)
{
  if (a->is_inside != b->is_inside)
    return a->is_inside;
  if (a->is_inside && a->n_pieces != b->n_pieces)
    return a->n_pieces < b->n_pieces;
  if (!mpq_equal (a->miss, b->miss))
    return mpq_cmp (a->miss, b->miss) < 0;
  return a->n_pieces < b->n_pieces;
}

static guint
find_best (const Search *self, const mpq_t low, const mpq_t high, gboolean *is_inside)
{
  Score best = { 0 }, score = { 0 };
  guint best_sum = 0;

  mpq_inits (best.miss, score.miss, NULL);
  get_score (self, 0, low, high, &best);
  for (guint sum = 1; sum < self->n_sums; sum++)
    if (self->fewest[sum] != NEVER)
      {
        get_score (self, sum, low, high, &score);
        if (is_better (&score, &best))
          {
            best.is_inside = score.is_inside;
            best.n_pieces = score.n_pieces;
            mpq_swap (best.miss, score.miss);
            best_sum = sum;
          }
      }
  *is_inside = best.is_inside;
  mpq_clears (best.miss, score.miss, NULL);
  return best_sum;
}

PawlStackOutcome
pawl_stack_find (GPtrArray *items, const mpq_t low, const mpq_t high, guint *counts, mpq_t height)
{
  g_auto(Search) search = { 0 };
  gboolean is_inside;
  guint sum;

  if (!search_init (&search, items, high))
    return PAWL_STACK_TOO_FINE;
  search_run (&search, items);
  sum = find_best (&search, low, high, &is_inside);
  mpq_set_ui (height, sum, 1);
  mpq_mul (height, height, search.measure);
  for (guint i = search.n_items; i-- > 0;)
    {
      counts[i] = search.used[i][sum];
      sum -= counts[i] * search.sizes[i];
    }
  return is_inside ? PAWL_STACK_FOUND : PAWL_STACK_NONE;
}
