#include "plan/pawl-times.h"

typedef struct {
  gint64 from, until; /* both within a period */
} Span;

struct _PawlTimes {
  gint64  period;
  GArray *spans; /* (element-type Span): sorted, apart from one another */
};

PawlTimes *
pawl_times_new (gint64 period)
{
  PawlTimes *self = g_new0 (PawlTimes, 1);

  self->period = period;
  self->spans = g_array_new (FALSE, FALSE, sizeof (Span));
  return self;
}

void
pawl_times_free (PawlTimes *self)
{
  g_array_unref (self->spans);
  g_free (self);
}

static const Span *
get_span (const PawlTimes *self, guint i)
{
  return &g_array_index (self->spans, Span, i);
}

/* The beginning of the period that @at is in. */
static gint64
find_period (const PawlTimes *self, gint64 at)
{
  gint64 rest = at % self->period;

  return at - (rest < 0 ? rest + self->period : rest);
}

/* ---- making ---- */

static int
compare_spans (gconstpointer a, gconstpointer b)
{
  const Span *left = a, *right = b;

  return (left->from > right->from) - (left->from < right->from);
}

/* Joins what meets: seconds are whole, so what begins a second later goes on. */
static void
normalise (PawlTimes *self)
{
  guint n = 0;

  g_array_sort (self->spans, compare_spans);
  for (guint i = 0; i < self->spans->len; i++)
    {
      Span span = *get_span (self, i), *last = n > 0 ? &g_array_index (self->spans, Span, n - 1) : NULL;

      if (last != NULL && span.from <= last->until + 1)
        last->until = MAX (last->until, span.until);
      else
        g_array_index (self->spans, Span, n++) = span;
    }
  g_array_set_size (self->spans, n);
}

static void
append (PawlTimes *self, gint64 from, gint64 until)
{
  Span span = { from, until };

  g_array_append_val (self->spans, span);
}

static void
append_anywhere (PawlTimes *self, gint64 from, gint64 until)
{
  gint64 base = find_period (self, from);

  if (until - from >= self->period - 1)
    append (self, 0, self->period - 1);
  else if (until - base < self->period)
    append (self, from - base, until - base);
  else
    {
      append (self, from - base, self->period - 1);
      append (self, 0, until - base - self->period);
    }
}

void
pawl_times_add (PawlTimes *self, gint64 from, gint64 until)
{
  append_anywhere (self, from, until);
  normalise (self);
}

/* ---- looking ---- */

gint64
pawl_times_get_period (const PawlTimes *self)
{
  return self->period;
}

gboolean
pawl_times_is_empty (const PawlTimes *self)
{
  return self->spans->len == 0;
}

gboolean
pawl_times_is_whole (const PawlTimes *self)
{
  return self->spans->len == 1 && get_span (self, 0)->from == 0 && get_span (self, 0)->until == self->period - 1;
}

gint64
pawl_times_find_next (const PawlTimes *self, gint64 at)
{
  gint64 base = find_period (self, at);

  for (guint i = 0; i < self->spans->len; i++)
    if (at - base <= get_span (self, i)->until)
      return MAX (at, base + get_span (self, i)->from);
  return base + self->period + get_span (self, 0)->from;
}

gint64
pawl_times_find_last (const PawlTimes *self, gint64 at)
{
  gint64 base = find_period (self, at);

  for (guint i = self->spans->len; i > 0; i--)
    if (at - base >= get_span (self, i - 1)->from)
      return MIN (at, base + get_span (self, i - 1)->until);
  return base - self->period + get_span (self, self->spans->len - 1)->until;
}

/* Whether the last goes on as the first of the next period. */
static gboolean
goes_on (const PawlTimes *self)
{
  return get_span (self, 0)->from == 0 && get_span (self, self->spans->len - 1)->until == self->period - 1;
}

/* The interval that begins as @i-th of the period at 0, whole; FALSE: it is the end of one that began in the period before. */
static gboolean
get_whole_span (const PawlTimes *self, guint i, Span *span)
{
  *span = *get_span (self, i);
  if (!goes_on (self))
    return TRUE;
  if (i + 1 == self->spans->len)
    span->until = self->period + get_span (self, 0)->until;
  return i > 0;
}

gboolean
pawl_times_find_interval (const PawlTimes *self, gint64 at, gint64 *from, gint64 *until)
{
  if (pawl_times_is_empty (self) || pawl_times_is_whole (self))
    return FALSE;
  for (gint64 base = find_period (self, at) - self->period;; base += self->period)
    for (guint i = 0; i < self->spans->len; i++)
      {
        Span span;

        if (!get_whole_span (self, i, &span) || base + span.until <= at)
          continue;
        *from = base + span.from;
        *until = base + span.until;
        return TRUE;
      }
}

/* ---- from one to another ---- */

void
pawl_times_intersect (PawlTimes *self, const PawlTimes *other)
{
  GArray *mine = self->spans;

  self->spans = g_array_new (FALSE, FALSE, sizeof (Span));
  for (guint i = 0, j = 0; i < mine->len && j < other->spans->len;)
    {
      Span a = g_array_index (mine, Span, i), b = *get_span (other, j);

      if (MAX (a.from, b.from) <= MIN (a.until, b.until))
        append (self, MAX (a.from, b.from), MIN (a.until, b.until));
      if (a.until < b.until)
        i++;
      else
        j++;
    }
  g_array_unref (mine);
}

PawlTimes *
pawl_times_shift (const PawlTimes *self, gint64 seconds)
{
  return pawl_times_spread_back (self, -seconds, -seconds);
}

PawlTimes *
pawl_times_spread_back (const PawlTimes *self, gint64 min, gint64 max)
{
  PawlTimes *times = pawl_times_new (self->period);

  for (guint i = 0; i < self->spans->len; i++)
    append_anywhere (times, get_span (self, i)->from - max, get_span (self, i)->until - min);
  normalise (times);
  return times;
}

PawlTimes *
pawl_times_fit (const PawlTimes *self, gint64 seconds)
{
  PawlTimes *times = pawl_times_new (self->period);

  if (pawl_times_is_whole (self))
    append (times, 0, self->period - 1);
  else
    for (guint i = 0; i < self->spans->len; i++)
      {
        Span span;

        if (get_whole_span (self, i, &span) && span.from + seconds <= span.until)
          append_anywhere (times, span.from + seconds, span.until);
      }
  normalise (times);
  return times;
}
