#include "drawing/pawl-labels.h"

#include <math.h>

/* Distance from label to label, as shares of the text's height. */
#define GAP_IN_COLUMN 0.45
#define GAP_IN_ROW 0.9
/* From the outline to the labels. */
#define GAP_TO_OUTLINE 0.6
/* Between a label and the start of its leader. */
#define GAP_TO_LEADER 0.25
/* What a crossing costs, in sheet diagonals. */
#define CROSSING_COST 10
#define MAX_ROUNDS 12

/* In the order of the bits of PawlLabelsSides. */
typedef enum { LEFT, RIGHT, TOP, BOTTOM, N_SIDES } Side;

typedef struct {
  PawlLabels *labels;
  PawlBox       outline, sheet;
  double        width, height; /* of the widest and the highest label */
  guint         n;
  Side         *sides;
  double        crossing_cost;
} Layout;

PawlLabels *
pawl_labels_new (void)
{
  PawlLabels *self = g_new0 (PawlLabels, 1);

  self->items = g_ptr_array_new ();
  self->sides = PAWL_LABELS_ALL;
  return self;
}

void
pawl_labels_free (PawlLabels *self)
{
  if (!self)
    return;
  for (guint i = 0; i < self->items->len; i++)
    {
      PawlLabel *label = g_ptr_array_index (self->items, i);

      g_free (label->text);
      g_free (label);
    }
  g_ptr_array_unref (self->items);
  g_free (self);
}

PawlLabel *
pawl_labels_add (PawlLabels *self, const char *text, PawlPoint anchor, double width, double height)
{
  PawlLabel *label = g_new0 (PawlLabel, 1);

  label->text = g_strdup (text);
  label->anchor = label->place = label->elbow = anchor;
  label->width = width;
  label->height = height;
  g_ptr_array_add (self->items, label);
  return label;
}

static PawlLabel *
get (const Layout *self, guint n)
{
  return g_ptr_array_index (self->labels->items, n);
}

/* ---- cost ---- */

static double
cross_product (PawlPoint a, PawlPoint b, PawlPoint c)
{
  return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x);
}

static gboolean
leaders_cross (const PawlLabel *p, const PawlLabel *q)
{
  double a = cross_product (p->elbow, p->anchor, q->elbow), b = cross_product (p->elbow, p->anchor, q->anchor);
  double c = cross_product (q->elbow, q->anchor, p->elbow), d = cross_product (q->elbow, q->anchor, p->anchor);

  return a * b < 0 && c * d < 0;
}

static double
get_length (const PawlLabel *label)
{
  return hypot (label->elbow.x - label->anchor.x, label->elbow.y - label->anchor.y);
}

static guint
count_crossings (const Layout *self)
{
  guint n = 0;

  for (guint i = 0; i < self->n; i++)
    for (guint j = i + 1; j < self->n; j++)
      n += leaders_cross (get (self, i), get (self, j));
  return n;
}

static double
get_cost (const Layout *self)
{
  double cost = self->crossing_cost * count_crossings (self);

  for (guint i = 0; i < self->n; i++)
    cost += get_length (get (self, i));
  return cost;
}

/* ---- one side: as near to where each would like to be, in order, none on another ---- */

static gboolean
is_column (Side side)
{
  return side == LEFT || side == RIGHT;
}

static double
get_wish (const Layout *self, guint n, Side side)
{
  PawlPoint anchor = get (self, n)->anchor;

  return is_column (side) ? anchor.y : anchor.x;
}

static double
get_step (const Layout *self, Side side)
{
  return is_column (side) ? (1 + GAP_IN_COLUMN) * self->height : self->width + GAP_IN_ROW * self->height;
}

/* First and last place along a side. Rows stop where the columns stand, so that corners stay free. */
static void
get_range (const Layout *self, Side side, double *from, double *to)
{
  double half = is_column (side) ? self->height / 2 : self->width / 2;

  *from = is_column (side) ? self->sheet.y + half : self->outline.x + half;
  *to = is_column (side) ? self->sheet.y + self->sheet.height - half : self->outline.x + self->outline.width - half;
  if (is_column (side))
    {
      /* Beside the outline; past its ends only when there are more labels than it is high. */
      double more = MAX (0.5 * self->height, (self->n * get_step (self, side) - self->outline.height) / 2);

      *from = MAX (*from, self->outline.y - more);
      *to = MIN (*to, self->outline.y + self->outline.height + more);
    }
  if (*to < *from)
    *from = *to = (*from + *to) / 2;
}

static guint
get_room (const Layout *self, Side side)
{
  double from, to;

  if (!(self->labels->sides & 1u << side))
    return 0;
  get_range (self, side, &from, &to);
  return 1 + (guint) floor ((to - from) / get_step (self, side));
}

typedef struct {
  double sum;   /* of wishes, each less its rank's share */
  guint  count;
} Block;

/* Places with a least step that stay nearest to their wishes: neighbours that would overlap become one block, which stands at its mean. */
static void
spread_out (const double *wishes, guint n, double step, double from, double to, double *places)
{
  g_autofree Block *blocks = g_new0 (Block, n + 1);
  guint n_blocks = 0, at = 0;

  if (n > 1 && step * (n - 1) > to - from)
    step = (to - from) / (n - 1);
  for (guint i = 0; i < n; i++)
    {
      blocks[n_blocks++] = (Block) { wishes[i] - i * step, 1 };
      while (n_blocks > 1 && blocks[n_blocks - 2].sum / blocks[n_blocks - 2].count > blocks[n_blocks - 1].sum / blocks[n_blocks - 1].count)
        {
          blocks[n_blocks - 2].sum += blocks[n_blocks - 1].sum;
          blocks[n_blocks - 2].count += blocks[n_blocks - 1].count;
          n_blocks--;
        }
    }
  for (guint b = 0; b < n_blocks; b++)
    for (guint k = 0; k < blocks[b].count; k++, at++)
      places[at] = CLAMP (blocks[b].sum / blocks[b].count, from, to - (n - 1) * step) + at * step;
}

static void
stand (const Layout *self, guint n, Side side, double along)
{
  PawlLabel *label = get (self, n);
  double gap = GAP_TO_OUTLINE * self->height, lead = GAP_TO_LEADER * self->height;
  double right = self->outline.x + self->outline.width, bottom = self->outline.y + self->outline.height;

  switch (side)
    {
    case LEFT: /* flush right, so that the leaders begin in one line */
      label->place = (PawlPoint) { self->outline.x - gap - label->width / 2, along };
      label->elbow = (PawlPoint) { self->outline.x - gap + lead, along };
      break;
    case RIGHT:
      label->place = (PawlPoint) { right + gap + label->width / 2, along };
      label->elbow = (PawlPoint) { right + gap - lead, along };
      break;
    case TOP:
      label->place = (PawlPoint) { along, self->outline.y - gap - self->height / 2 };
      label->elbow = (PawlPoint) { along, self->outline.y - gap + lead };
      break;
    case BOTTOM:
    case N_SIDES:
    default:
      label->place = (PawlPoint) { along, bottom + gap + self->height / 2 };
      label->elbow = (PawlPoint) { along, bottom + gap - lead };
      break;
    }
}

typedef struct {
  guint  n;
  double wish;
} Member;

static int
compare_members (gconstpointer a, gconstpointer b)
{
  const Member *p = a, *q = b;

  if (p->wish != q->wish)
    return p->wish < q->wish ? -1 : 1;
  return (p->n > q->n) - (p->n < q->n);
}

static void
place_side (const Layout *self, Side side)
{
  g_autoptr(GArray) members = g_array_new (FALSE, FALSE, sizeof (Member));
  g_autofree double *wishes = NULL, *places = NULL;
  double from, to;

  for (guint i = 0; i < self->n; i++)
    if (self->sides[i] == side)
      {
        Member member = { i, get_wish (self, i, side) };

        g_array_append_val (members, member);
      }
  if (!members->len)
    return;
  g_array_sort (members, compare_members);
  wishes = g_new (double, members->len);
  places = g_new (double, members->len);
  for (guint i = 0; i < members->len; i++)
    wishes[i] = g_array_index (members, Member, i).wish;
  get_range (self, side, &from, &to);
  spread_out (wishes, members->len, get_step (self, side), from, to, places);
  for (guint i = 0; i < members->len; i++)
    stand (self, g_array_index (members, Member, i).n, side, places[i]);
}

/* ---- all sides ---- */

static double
distance_to_side (const Layout *self, PawlPoint p, Side side)
{
  switch (side)
    {
    case LEFT:
      return p.x - self->outline.x;
    case RIGHT:
      return self->outline.x + self->outline.width - p.x;
    case TOP:
      return p.y - self->outline.y;
    case BOTTOM:
    case N_SIDES:
    default:
      return self->outline.y + self->outline.height - p.y;
    }
}

static guint
count_on (const Layout *self, Side side, guint but)
{
  guint n = 0;

  for (guint i = 0; i < self->n; i++)
    n += i != but && self->sides[i] == side;
  return n;
}

/* The nearest side that has room; with none, the one with the most. */
static void
choose_sides (Layout *self)
{
  for (guint i = 0; i < self->n; i++)
    self->sides[i] = N_SIDES;
  for (guint i = 0; i < self->n; i++)
    {
      Side best = LEFT;
      double least = INFINITY;

      for (Side side = LEFT; side < N_SIDES; side++)
        {
          double distance = distance_to_side (self, get (self, i)->anchor, side);
          double over = (double) count_on (self, side, i) + 1 - get_room (self, side);

          if (!(self->labels->sides & 1u << side))
            continue;
          if (over > 0)
            distance += over * self->crossing_cost;
          if (distance < least)
            {
              least = distance;
              best = side;
            }
        }
      self->sides[i] = best;
    }
}

static gboolean
try_sides (Layout *self, guint n, double *cost)
{
  Side was = self->sides[n];

  for (Side side = LEFT; side < N_SIDES; side++)
    {
      double other;

      if (side == was || count_on (self, side, n) >= get_room (self, side))
        continue;
      self->sides[n] = side;
      place_side (self, was);
      place_side (self, side);
      other = get_cost (self);
      if (other < *cost - 1e-9)
        {
          *cost = other;
          return TRUE;
        }
      self->sides[n] = was;
      place_side (self, was);
      place_side (self, side);
    }
  return FALSE;
}

/* Puts @p where @q stands and the other way round. Columns are flush, so the middle depends on the label's own width. */
static void
swap (Layout *self, guint p, guint q)
{
  PawlLabel *a = get (self, p), *b = get (self, q);
  Side side = self->sides[p];
  double along_a = is_column (self->sides[p]) ? a->place.y : a->place.x, along_b = is_column (self->sides[q]) ? b->place.y : b->place.x;

  self->sides[p] = self->sides[q];
  self->sides[q] = side;
  stand (self, p, self->sides[p], along_b);
  stand (self, q, self->sides[q], along_a);
}

static gboolean
try_swaps (Layout *self)
{
  gboolean has_changed = FALSE;

  for (guint p = 0; p < self->n; p++)
    for (guint q = p + 1; q < self->n; q++)
      {
        double before = get_length (get (self, p)) + get_length (get (self, q));

        swap (self, p, q);
        if (get_length (get (self, p)) + get_length (get (self, q)) < before - 1e-9)
          has_changed = TRUE;
        else
          swap (self, p, q);
      }
  return has_changed;
}

static void
improve (Layout *self)
{
  double cost = get_cost (self);

  for (guint round = 0; round < MAX_ROUNDS; round++)
    {
      gboolean has_changed = FALSE;

      for (guint i = 0; i < self->n; i++)
        has_changed |= try_sides (self, i, &cost);
      if (!has_changed)
        break;
    }
  /* Each swap makes the sum of lengths smaller, so this ends; and two leaders that cross can always be swapped. */
  while (try_swaps (self))
    ;
}

void
pawl_labels_place (PawlLabels *self, PawlBox outline, PawlBox sheet)
{
  Layout layout = { .labels = self, .outline = outline, .sheet = sheet, .n = self->items->len };
  g_autofree Side *sides = g_new0 (Side, layout.n + 1);

  g_return_if_fail (self != NULL);
  layout.sides = sides;
  layout.crossing_cost = CROSSING_COST * hypot (sheet.width, sheet.height);
  for (guint i = 0; i < layout.n; i++)
    {
      layout.width = MAX (layout.width, get (&layout, i)->width);
      layout.height = MAX (layout.height, get (&layout, i)->height);
    }
  choose_sides (&layout);
  for (Side side = LEFT; side < N_SIDES; side++)
    place_side (&layout, side);
  improve (&layout);
  self->cost = get_cost (&layout);
  self->n_crossings = count_crossings (&layout);
}
