/* Cut-aways: a section takes the near half away, and the faces that it leaves are hatched. Expected areas and lengths are elementary
   geometry: parallel lines a pitch apart have, over an area, the length area / pitch. */
#include <string.h>

#include "small-figures.h"

#define BLOCK "<box from=\"-10,-10,-10\" to=\"10,10,10\"/>"
#define BORE "<turned do=\"cut\" axis=\"x\" points=\"-11,0 -11,4 11,4 11,0\"/>"
#define NEAR_HALF "from=\"-20,-20,-20\" to=\"20,0,20\""
#define HALVED BLOCK "<box do=\"section\" hatch=\"135\" pitch=\"0.8\" " NEAR_HALF "/>"

static double
line_length (const GArray *line)
{
  const PawlFlat *p = (const PawlFlat *) (gpointer) line->data;

  return hypot (p[1].x - p[0].x, p[1].y - p[0].y);
}

/* The hatching alone: lines of two points at @angle_deg. What else is narrow in these figures runs otherwise. */
static GPtrArray *
list_hatching (const PawlSolidPicture *picture, double angle_deg)
{
  GPtrArray *found = g_ptr_array_new ();

  for (guint i = 0; i < picture->narrow->len; i++)
    {
      GArray *line = g_ptr_array_index (picture->narrow, i);
      const PawlFlat *p = (const PawlFlat *) (gpointer) line->data;
      double angle = line->len == 2 ? atan2 (p[1].y - p[0].y, p[1].x - p[0].x) * 180.0 / G_PI : NAN;

      if (fabs (remainder (angle - angle_deg, 180.0)) < 0.01)
        g_ptr_array_add (found, line);
    }
  return found;
}

static double
sum_lengths (const GPtrArray *lines)
{
  double sum = 0.0;

  for (guint i = 0; i < lines->len; i++)
    sum += line_length (g_ptr_array_index (lines, i));
  return sum;
}

/* The area on the sheet of the face y = 0, @wide by @high mm. */
static double
face_area (const PawlSolids *solids, double wide, double high)
{
  PawlFlat x = pawl_solid_view_point (&solids->view, vec (wide, 0, 0)), z = pawl_solid_view_point (&solids->view, vec (0, 0, high));

  return fabs (x.x * z.y - x.y * z.x);
}

static void
test_face (void)
{
  g_autoptr(PawlSolids) solids = load_one ("1,1,1", HALVED);
  g_autoptr(PawlSolidPicture) picture = picture_of_one (solids);
  g_autoptr(GPtrArray) hatching = list_hatching (picture, 135.0);

  g_assert_cmpfloat_with_epsilon (sum_lengths (hatching), face_area (solids, 20, 20) / 0.8, 0.03 * face_area (solids, 20, 20) / 0.8);
  g_assert_cmpuint (picture->hatch->len, ==, 1);
  g_assert_cmpfloat (g_array_index (picture->hatch, double, 0), ==, 135.0);
  g_assert_true (is_drawn_at (solids, picture->wide, vec (0, 0, -10), 0.05));  /* the edge of the cut */
  g_assert_false (is_drawn_at (solids, picture->wide, vec (0, -10, -10), 0.05)); /* the half that has gone */
  /* every line ends on the outline of the face: no end lies farther inside than a hundredth */
  for (guint i = 0; i < hatching->len; i++)
    for (guint k = 0; k < 2; k++)
      {
        PawlFlat end = g_array_index ((GArray *) g_ptr_array_index (hatching, i), PawlFlat, k);
        PawlVec at = pawl_solid_view_lift (&solids->view, end);

        at = vec_step (at, -at.y / solids->view.toward.y, solids->view.toward); /* onto y = 0 */
        g_assert_cmpfloat_with_epsilon (MAX (fabs (at.x), fabs (at.z)), 10.0, 0.02);
      }
}

/* Where a bore was cut, there is nothing to hatch. */
static void
test_bore (void)
{
  g_autoptr(PawlSolids) solids = load_one ("1,1,1", BLOCK BORE "<box do=\"section\" hatch=\"135\" pitch=\"0.8\" " NEAR_HALF "/>");
  g_autoptr(PawlSolidPicture) picture = picture_of_one (solids);
  g_autoptr(GPtrArray) hatching = list_hatching (picture, 135.0);

  g_assert_cmpfloat_with_epsilon (sum_lengths (hatching), face_area (solids, 20, 12) / 0.8, 0.03 * face_area (solids, 20, 12) / 0.8);
  for (double z = -3.5; z < 3.6; z += 0.5)
    g_assert_false (is_drawn_at (solids, hatching, vec (1, 0, z), 0.1));
}

/* A face is seen as paper whichever way it looks, where the far side of the block, which it replaces, is shaded. */
static void
test_tone (void)
{
  static const struct { const char *solids; gboolean is_section; } cases[] = {
    { BLOCK, FALSE },
    { BLOCK "<box do=\"section\" " NEAR_HALF "/>", TRUE },
    { BLOCK "<box do=\"cut\" " NEAR_HALF "/>", FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlSolids) solids = load_one ("1,1,1", cases[i].solids);
      g_autoptr(PawlSolidPicture) picture = picture_of_one (solids);
      const PawlSolidPart *part = g_ptr_array_index (solids->parts, 0);
      PawlSolidSubject subject = { part->node, &solids->view, NULL };
      PawlVec p;
      const PawlSolidShape *shape = pawl_solid_subject_face (&subject, pawl_solid_view_point (&solids->view, vec (0, 0, -5)), &p);

      g_assert_nonnull (shape);
      g_assert_cmpint (shape->hatch.is_section, ==, cases[i].is_section);
      g_assert_false (shape->hatch.is_section && shape->is_cavity);
      g_assert_cmpuint (picture->hatch->len, ==, 0); /* no hatch="…": plain */
      g_assert_cmpint (is_within (solids, picture->area[PAWL_TONE_LIGHT], vec (0, 0, -5)), ==, !cases[i].is_section);
      if (cases[i].is_section)
        g_assert_cmpfloat_with_epsilon (p.y, 0.0, 1e-6);
    }
}

/* A front shows no hatching where another part stands before it. */
static void
test_front (void)
{
  g_autoptr(PawlSolids) solids = load_one ("1,1,1", HALVED);
  g_autoptr(PawlSolids) lid = load_one ("1,1,1", "<box from=\"-11,-3,-11\" to=\"0,-1,11\"/>");
  g_autoptr(GPtrArray) before = g_ptr_array_new ();
  const PawlSolidPart *part = g_ptr_array_index (solids->parts, 0), *other = g_ptr_array_index (lid->parts, 0);
  PawlSolidSubject subject = { part->node, &solids->view, before };
  g_autoptr(PawlSolidPicture) all = picture_of_one (solids), front = NULL;
  g_autoptr(GPtrArray) all_lines = list_hatching (all, 135.0), front_lines = NULL;

  g_ptr_array_add (before, other->node);
  front = pawl_solid_picture_new (&subject);
  front_lines = list_hatching (front, 135.0);
  /* Along the line of sight x falls by as much as y: the lid, 3 mm before the face, hides it up to x = 3, all but 7 of 20. */
  g_assert_cmpfloat_with_epsilon (sum_lengths (front_lines) / sum_lengths (all_lines), 0.35, 0.03);
}

/* The region's group says in which direction its hatching runs. */
static void
test_attribute (void)
{
  static const struct { const char *solids, *group; } cases[] = {
    { HALVED, "<g id=\"p\" data-hatch=\"135\">" },
    { BLOCK, "<g id=\"p\">" },
    { BLOCK "<box do=\"section\" " NEAR_HALF "/>", "<g id=\"p\">" },
    { BLOCK "<box do=\"section\" hatch=\"22.5\" from=\"-20,-20,-20\" to=\"20,0,0\"/>"
            "<box do=\"section\" hatch=\"135\" from=\"-20,-20,0\" to=\"20,0,20\"/>", "<g id=\"p\" data-hatch=\"22.5 135\">" },
    { BLOCK "<box do=\"section\" hatch=\"60\" pitch=\"1\" from=\"-20,-20,-20\" to=\"20,0,0\"/>"
            "<box do=\"section\" hatch=\"60\" pitch=\"2\" from=\"-20,-20,0\" to=\"20,0,20\"/>", "<g id=\"p\" data-hatch=\"60\">" },
    /* what stands inside a section is part of it; and a section that misses the part leaves no face */
    { BLOCK "<group do=\"section\" hatch=\"60\"><box " NEAR_HALF "/></group>", "<g id=\"p\" data-hatch=\"60\">" },
    { BLOCK "<box do=\"section\" hatch=\"60\" from=\"30,30,30\" to=\"40,40,40\"/>", "<g id=\"p\">" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr(PawlSolids) solids = load_one ("1,1,1", cases[i].solids);
      g_autofree char *svg = pawl_solids_draw (solids, FALSE);

      if (strstr (svg, cases[i].group) == NULL)
        g_error ("case %u: no %s", i, cases[i].group);
    }
}

/* copies="3" turn="90": three, 120° apart, the first a quarter turn on. */
static void
test_copies (void)
{
  g_autoptr(PawlSolids) solids = load_one ("1,1,1", "<group axis=\"x\" turn=\"90\" copies=\"3\"><turned at=\"8,0,0\" points=\"0,0 0,1 5,1 5,0\"/></group>");
  const PawlSolidPart *part = g_ptr_array_index (solids->parts, 0);
  guint n = 0;

  for (guint k = 0; k < 36; k++) /* axis x: the frame's x is the unit's y, its y the unit's z */
    {
      gboolean holds = pawl_solid_node_holds (part->node, vec (2, 8 * cos (G_PI * k / 18), 8 * sin (G_PI * k / 18)));

      g_assert_cmpint (holds, ==, k == 9 || k == 21 || k == 33);
      n += holds ? 1 : 0;
    }
  g_assert_cmpuint (n, ==, 3);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/solids/section/face", test_face);
  g_test_add_func ("/solids/section/bore", test_bore);
  g_test_add_func ("/solids/section/tone", test_tone);
  g_test_add_func ("/solids/section/front", test_front);
  g_test_add_func ("/solids/section/attribute", test_attribute);
  g_test_add_func ("/solids/section/copies", test_copies);
  return g_test_run ();
}
