/* A fit rule as a question: nothing that gives the answer away, no view that tells a lie, places that can't be learnt, and the same again from the same seed. */
#include "fixtures.h"

#include <math.h>

#include "fit/pawl-question.h"
#include "fit/pawl-shape.h"

/* ---- what may be asked, and from which sides ---- */

static PawlRule *
with_spin (PawlRule *rule)
{
  rule->is_spin = TRUE;
  return rule;
}

/* Of the other hand when mirrored. */
static PawlShape *
new_lever (void)
{
  return SHAPE (FALSE, 0, -14, 3, -4, 5, 4, 5, 10, -1, 15, -9, 11, -10, 6, -4, 0, -3, -14, -3);
}

static PawlRule *
with_shape (PawlRule *rule, PawlShape *shape)
{
  pawl_shape_free (rule->shape);
  rule->shape = shape;
  return rule;
}

#define BIT(view) (1u << (view))
#define ONLY_SHUFFLED BIT (PAWL_VIEW_AS_DRAWN)
#define LEFT_TO_RIGHT (ONLY_SHUFFLED | BIT (PAWL_VIEW_MIRRORED))
#define HALF_A_TURN (ONLY_SHUFFLED | BIT (PAWL_VIEW_TURNED))
#define ANY_WAY (LEFT_TO_RIGHT | HALF_A_TURN | BIT (PAWL_VIEW_UPSIDE_DOWN))

static void
test_views (void)
{
  struct { const char *name; PawlRule *rule; guint views; } cases[] = {
    { "sense, turned", new_sense (new_bushing (TRUE)), ANY_WAY },
    { "sense, outline", new_sense (new_lever ()), HALF_A_TURN },
    { "sense, spin", with_spin (new_sense (new_lever ())), ONLY_SHUFFLED },
    { "side", new_side (), ONLY_SHUFFLED },
    { "hole", new_index_hole (3, 1), ANY_WAY },
    { "hole of an outline", with_shape (new_index_hole (3, 9), new_lever ()), HALF_A_TURN },
    { "angle", new_index_angle (7, 90, 0), LEFT_TO_RIGHT },
    { "angle of an outline", with_shape (new_index_angle (7, 90, 0), new_lever ()), ONLY_SHUFFLED },
    { "depth", new_index_depth (1.5), ANY_WAY },
    { "spread", new_spread (), LEFT_TO_RIGHT },
    { "which", new_which (12.7, 22.225), ONLY_SHUFFLED },
    { "order", new_order (PAWL_LAYER_IN_PLACE, 0), ONLY_SHUFFLED },
    { "mate", new_mate (), LEFT_TO_RIGHT },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      PawlView views[4];
      guint n = pawl_rule_list_views (cases[i].rule, views), found = 0;

      for (guint j = 0; j < n; j++)
        found |= BIT (views[j]);
      if (found != cases[i].views || views[0] != PAWL_VIEW_AS_DRAWN)
        g_error ("%s: views %x, wanted %x", cases[i].name, found, cases[i].views);
      pawl_rule_free (cases[i].rule);
    }
}

static PawlRule *
with_same_names (PawlRule *rule)
{
  for (guint i = 0; i < rule->candidates->len; i++)
    {
      PawlCandidate *candidate = g_ptr_array_index (rule->candidates, i);

      g_free (candidate->name);
      candidate->name = g_strdup ("Screw");
    }
  return rule;
}

static void
test_can_be_asked (void)
{
  struct { const char *name; PawlRule *rule; gboolean is_asked; } cases[] = {
    { "sense", new_sense (new_bushing (TRUE)), TRUE },
    { "sense, small chamfer", new_sense (new_bushing (FALSE)), TRUE }, /* its spot is enlarged */
    { "sense, alike at both ends", new_sense (SHAPE (TRUE, 0, 0, 3, 0, 5, 10, 5, 10, 3)), FALSE },
    { "sense, no shape", new_sense (NULL), FALSE },
    { "side", new_side (), TRUE },
    { "hole", new_index_hole (3, 1), TRUE },
    { "hole, a hair off", new_index_hole (3, 0.2), FALSE },
    { "angle", new_index_angle (7, 90, 0), TRUE },
    { "angle, a hair off", new_index_angle (7, 1, 0), FALSE },
    { "depth", new_index_depth (1.5), TRUE },
    { "depth, a hair off", with_shape (new_index_depth (0.3), new_bushing (TRUE)), FALSE },
    { "spread", new_spread (), TRUE },
    { "which", new_which (12.7, 22.225), TRUE },
    { "which, only the name tells", new_which (14, 14), TRUE },
    { "which, nothing tells", with_same_names (new_which (14, 14)), FALSE },
    { "order, swapped", new_order (PAWL_LAYER_IN_PLACE, 0), TRUE },
    { "order, left out", new_order (PAWL_LAYER_LEFT_OUT, 2), TRUE },
    { "mate", new_mate (), TRUE },
    { "either", new_either (new_bushing (FALSE)), FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      if (pawl_rule_can_be_asked (cases[i].rule) != cases[i].is_asked)
        g_error ("%s: wanted %d", cases[i].name, cases[i].is_asked);
      pawl_rule_free (cases[i].rule);
    }
}

/* ---- chance ---- */

/* The same seed puts the same question; over many jobs each place and each view comes about as often as the others, whatever the other pane has. */
static void
test_shuffle (void)
{
  enum { N = 4000 };
  g_autoptr(PawlRule) rule = new_sense (new_bushing (TRUE));
  guint n_of[2][4][4] = { { { 0 } } };

  for (guint i = 0; i < N; i++)
    {
      g_autofree char *job = g_strdup_printf ("00000000-0000-4000-8000-%012u", i);
      guint32 seed = pawl_question_make_seed (job, "lip", 0);
      PawlQuestion question = pawl_question_make (rule, seed), again = pawl_question_make (rule, pawl_question_make_seed (job, "lip", 0));

      g_assert_cmpint (question.is_right_first, ==, again.is_right_first);
      g_assert_cmpint (question.views[0], ==, again.views[0]);
      g_assert_cmpint (question.views[1], ==, again.views[1]);
      n_of[question.is_right_first][question.views[0]][question.views[1]]++;
    }
  /* 32 cells of 125 expected, standard deviation 11: five of them either way is once in 60,000 such tests, and seeds don't change. */
  for (guint i = 0; i < 32; i++)
    g_assert_cmpfloat_with_epsilon (((guint *) n_of)[i], N / 32, 55);
}

static void
test_seeds (void)
{
  g_assert_cmpuint (pawl_question_make_seed ("a", "b", 0), ==, pawl_question_make_seed ("a", "b", 0));
  g_assert_cmpuint (pawl_question_make_seed ("a", "b", 0), !=, pawl_question_make_seed ("a", "b", 1));
  g_assert_cmpuint (pawl_question_make_seed ("ab", "c", 0), !=, pawl_question_make_seed ("a", "bc", 0));
  /* FNV-1a of four zero bytes, the ends of two empty texts and the count: the basis times the prime, four times. */
  {
    guint32 hash = 2166136261u;

    for (int i = 0; i < 4; i++)
      hash *= 16777619u;
    g_assert_cmpuint (pawl_question_make_seed ("", "", 0), ==, hash);
  }
}

static void
test_right (void)
{
  PawlQuestion question = { .is_right_first = TRUE };

  g_assert_true (pawl_question_is_right (&question, FALSE));
  g_assert_false (pawl_question_is_right (&question, TRUE));
  question.is_right_first = FALSE;
  g_assert_false (pawl_question_is_right (&question, FALSE));
  g_assert_true (pawl_question_is_right (&question, TRUE));
}

/* ---- what is drawn ---- */

static PawlBounds
get_frame (const PawlQuestionPoses *poses)
{
  PawlBounds frame = { INFINITY, INFINITY, -INFINITY, -INFINITY };

  for (int i = 0; i < 2; i++)
    for (guint j = 0; j < poses->poses[i]->len; j++)
      {
        const PawlStroke *stroke = g_ptr_array_index (poses->poses[i], j);

        for (guint k = 0; k < stroke->n_points; k++)
          frame = (PawlBounds) { MIN (frame.x0, stroke->points[k].x), MIN (frame.y0, stroke->points[k].y),
                                 MAX (frame.x1, stroke->points[k].x), MAX (frame.y1, stroke->points[k].y) };
      }
  return frame;
}

static void
assert_nothing_tells (const char *name, const PawlQuestionPoses *poses)
{
  guint n_kinds[2][PAWL_STROKE_NAME + 1] = { { 0 } };

  for (int i = 0; i < 2; i++)
    for (guint j = 0; j < poses->poses[i]->len; j++)
      {
        const PawlStroke *stroke = g_ptr_array_index (poses->poses[i], j);

        n_kinds[i][stroke->kind]++;
        if (stroke->kind == PAWL_STROKE_DIFFERENCE || stroke->kind == PAWL_STROKE_DIMENSION || stroke->kind == PAWL_STROKE_GHOST
            || stroke->kind == PAWL_STROKE_SWAP || stroke->kind == PAWL_STROKE_TRAVEL || stroke->kind == PAWL_STROKE_BLOCKED)
          g_error ("%s: a stroke of kind %d tells which is which", name, stroke->kind);
        if (stroke->kind != PAWL_STROKE_ROW && stroke->says != PAWL_SAYS_NOTHING)
          g_error ("%s: a number tells which is which", name);
      }
  g_assert_cmpuint (n_kinds[0][PAWL_STROKE_ARROW], ==, n_kinds[1][PAWL_STROKE_ARROW]);
  g_assert_cmpuint (n_kinds[0][PAWL_STROKE_OUTLINE], >, 0);
}

static void
test_nothing_tells (void)
{
  struct { const char *name; PawlRule *rule; } cases[] = {
    { "sense", new_sense (new_bushing (TRUE)) }, { "side", new_side () }, { "hole", new_index_hole (3, 1) }, { "angle", new_index_angle (7, 90, 0) },
    { "depth", new_index_depth (1.5) }, { "spread", new_spread () }, { "which", new_which (12.7, 22.225) }, { "order", new_order (PAWL_LAYER_IN_PLACE, 0) },
    { "order, doubled", new_order (PAWL_LAYER_TWICE, 2) }, { "order, left out", new_order (PAWL_LAYER_LEFT_OUT, 2) }, { "mate", new_mate () },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      PawlView views[4];
      guint n = pawl_rule_list_views (cases[i].rule, views);
      PawlBounds as_drawn = { 0 };

      for (guint j = 0; j < n * n; j++)
        {
          PawlQuestion question = { TRUE, { views[j / n], views[j % n] } };
          g_auto(PawlQuestionPoses) poses = { 0 };
          PawlBounds frame;

          pawl_question_draw (&question, cases[i].rule, &poses);
          assert_nothing_tells (cases[i].name, &poses);
          frame = get_frame (&poses);
          if (j == 0)
            as_drawn = frame;
          /* Both seen from one side fill the frame that they filled; each from its own side, they stay within it. */
          g_assert_cmpfloat (frame.x0, >=, as_drawn.x0 - 1e-9);
          g_assert_cmpfloat (frame.y0, >=, as_drawn.y0 - 1e-9);
          g_assert_cmpfloat (frame.x1, <=, as_drawn.x1 + 1e-9);
          g_assert_cmpfloat (frame.y1, <=, as_drawn.y1 + 1e-9);
        }
      pawl_rule_free (cases[i].rule);
    }
}

static const PawlStroke *
find_kind (GPtrArray *pose, PawlStrokeKind kind)
{
  for (guint i = 0; i < pose->len; i++)
    if (((PawlStroke *) g_ptr_array_index (pose, i))->kind == kind)
      return g_ptr_array_index (pose, i);
  return NULL;
}

/* A mirrored picture keeps what it says: part, bore and arrow go together, so the end that leads still leads. */
static void
test_mirror (void)
{
  g_autoptr(PawlRule) rule = new_sense (new_bushing (TRUE));
  PawlQuestion plain = { TRUE, { PAWL_VIEW_AS_DRAWN, PAWL_VIEW_AS_DRAWN } }, turned = { TRUE, { PAWL_VIEW_TURNED, PAWL_VIEW_MIRRORED } };
  g_auto(PawlQuestionPoses) before = { 0 }, after = { 0 };
  PawlBounds frame;

  pawl_question_draw (&plain, rule, &before);
  pawl_question_draw (&turned, rule, &after);
  frame = get_frame (&before);
  for (int i = 0; i < 2; i++)
    {
      const PawlStroke *arrow = find_kind (after.poses[i], PAWL_STROKE_ARROW);

      g_assert_cmpfloat (arrow->points[1].x, <, arrow->points[0].x);
      g_assert_cmpuint (before.poses[i]->len, ==, after.poses[i]->len);
      for (guint j = 0; j < before.poses[i]->len; j++)
        {
          const PawlStroke *p = g_ptr_array_index (before.poses[i], j), *q = g_ptr_array_index (after.poses[i], j);

          for (guint k = 0; k < p->n_points; k++)
            {
              g_assert_cmpfloat_with_epsilon (q->points[k].x, frame.x0 + frame.x1 - p->points[k].x, 1e-9);
              g_assert_cmpfloat_with_epsilon (q->points[k].y, i == 0 ? frame.y0 + frame.y1 - p->points[k].y : p->points[k].y, 1e-9);
            }
        }
    }
  g_assert_cmpfloat_with_epsilon (after.tellings[1]->points[0].x, frame.x0 + frame.x1 - before.tellings[1]->points[0].x, 1e-9);
}

/* A layer that is left out leaves no gap: the stack is one layer lower, each as far apart as in the stack that is right. */
static void
test_left_out (void)
{
  g_autoptr(PawlRule) rule = new_order (PAWL_LAYER_LEFT_OUT, 2);
  PawlQuestion question = { TRUE, { PAWL_VIEW_AS_DRAWN, PAWL_VIEW_AS_DRAWN } };
  g_auto(PawlQuestionPoses) poses = { 0 };
  guint n[2] = { 0 }, n_marked[2] = { 0 };

  pawl_question_draw (&question, rule, &poses);
  for (int i = 0; i < 2; i++)
    for (guint j = 0; j < poses.poses[i]->len; j++)
      {
        const PawlStroke *stroke = g_ptr_array_index (poses.poses[i], j);

        n[i] += stroke->kind == PAWL_STROKE_ROW;
        n_marked[i] += stroke->kind == PAWL_STROKE_ROW && stroke->verdict < 0;
      }
  g_assert_cmpuint (n[0], ==, rule->candidates->len);
  g_assert_cmpuint (n[1], ==, rule->candidates->len - 1);
  g_assert_cmpuint (n_marked[0], >, 0); /* in both: which layers differ is no answer */
  g_assert_cmpuint (n_marked[0], ==, n_marked[1] + 1);
}

/* Screws beside each other begin at one line, whether they would stand proud in their places or not, and the places are not drawn. */
static void
test_which_is_aligned (void)
{
  g_autoptr(PawlRule) rule = new_which (12.7, 22.225);
  PawlQuestion question = { TRUE, { PAWL_VIEW_AS_DRAWN, PAWL_VIEW_AS_DRAWN } };
  g_auto(PawlQuestionPoses) poses = { 0 };

  pawl_question_draw (&question, rule, &poses);
  for (int i = 0; i < 2; i++)
    {
      double least[2] = { INFINITY, INFINITY };

      g_assert_null (find_kind (poses.poses[i], PAWL_STROKE_NEIGHBOUR));
      for (guint j = 0; j < poses.poses[i]->len; j++)
        {
          const PawlStroke *stroke = g_ptr_array_index (poses.poses[i], j);

          for (guint k = 0; stroke->kind == PAWL_STROKE_OUTLINE && k < stroke->n_points; k++)
            least[stroke->row] = MIN (least[stroke->row], stroke->points[k].x);
        }
      g_assert_cmpfloat_with_epsilon (least[0], least[1], 1e-9);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/question/views", test_views);
  g_test_add_func ("/question/can-be-asked", test_can_be_asked);
  g_test_add_func ("/question/shuffle", test_shuffle);
  g_test_add_func ("/question/seeds", test_seeds);
  g_test_add_func ("/question/right", test_right);
  g_test_add_func ("/question/nothing-tells", test_nothing_tells);
  g_test_add_func ("/question/mirror", test_mirror);
  g_test_add_func ("/question/left-out", test_left_out);
  g_test_add_func ("/question/which-is-aligned", test_which_is_aligned);
  return g_test_run ();
}
