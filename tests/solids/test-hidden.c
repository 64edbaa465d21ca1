/* What hides what. The viewer of these tests looks from -x, -y, +z: the top, the near side (-y) and the left side (-x) show. */
#include <string.h>

#include "small-figures.h"

#define BLOCK "<box from=\"-10,-10,-10\" to=\"10,10,10\"/>"
#define BORE "<turned do=\"cut\" points=\"-11,0 -11,4 11,4 11,0\"/>"
#define POCKET "<turned do=\"cut\" points=\"2,0 2,4 11,4 11,0\"/>"

typedef struct {
  const char *name;
  const char *solids;
  double      x, y, z;
  gboolean    drawn; /* wide */
} Case;

static const Case cases[] = {
  { "box: edge at the near top", BLOCK, 0, -10, 10, TRUE },
  { "box: edge at the far top is its outline", BLOCK, 0, 10, 10, TRUE },
  { "box: edge at the near bottom is its outline", BLOCK, 0, -10, -10, TRUE },
  { "box: edge at the far bottom is hidden", BLOCK, 2, 10, -10, FALSE },
  { "box: upright edge nearest to the viewer", BLOCK, -10, -10, 0, TRUE },
  { "box: upright edge farthest from the viewer is hidden", BLOCK, 10, 10, 3, FALSE },
  /* The rim on top is whole; the rim below is hidden by the block, but for what is seen through the bore: nothing, since
     the bore is 20 deep and 8 across and the line of sight falls too flat. */
  { "bore: upper rim, near side", BLOCK BORE, 0, -4, 10, TRUE },
  { "bore: upper rim, far side", BLOCK BORE, 0, 4, 10, TRUE },
  { "bore: lower rim", BLOCK BORE, 0, 4, -10, FALSE },
  { "bore: where the cutter ends in the air", BLOCK BORE, 0, 4, 11, FALSE },
  /* A shallow bore shows its floor at the far side; tan of the sight line's fall is d_z / hypot (d_x, d_y) = 0.707. */
  { "thin plate: far lower rim seen through the hole",
    "<box from=\"-10,-10,0\" to=\"10,10,2\"/><turned do=\"cut\" points=\"-1,0 -1,4 3,4 3,0\"/>", 2.828, 2.828, 0, TRUE },
  { "thin plate: near lower rim is hidden",
    "<box from=\"-10,-10,0\" to=\"10,10,2\"/><turned do=\"cut\" points=\"-1,0 -1,4 3,4 3,0\"/>", -2.828, -2.828, 0, FALSE },
  /* Joined solids: the line where they meet is drawn, what lies inside the other is not, flush faces show no seam. */
  { "boss: foot on the block, near side", BLOCK "<turned points=\"0,0 0,4 16,4 16,0\"/>", -2.828, -2.828, 10, TRUE },
  { "boss: its end inside the block", BLOCK "<turned points=\"0,0 0,4 16,4 16,0\"/>", 2.828, 2.828, 0, FALSE },
  { "boss: its far foot is hidden behind it", BLOCK "<turned points=\"0,0 0,4 16,4 16,0\"/>", 2.828, 2.828, 10, FALSE },
  { "flush: no seam on top", BLOCK "<box from=\"5,-5,-10\" to=\"25,5,10\"/>", 10, 0, 10, FALSE },
  { "flush: the corner beside the seam is there", BLOCK "<box from=\"5,-5,-10\" to=\"25,5,10\"/>", 10, -7, 10, TRUE },
  /* Kept: only the common part. */
  { "kept: top of the part in common", BLOCK "<box do=\"keep\" from=\"-20,-20,-20\" to=\"20,20,4\"/>", 0, -10, 4, TRUE },
  { "kept: the old top has gone", BLOCK "<box do=\"keep\" from=\"-20,-20,-20\" to=\"20,20,4\"/>", 0, -10, 10, FALSE },
};

static void
test_case (gconstpointer data)
{
  const Case *c = data;
  g_autoptr(PawlSolids) solids = load_one ("1,1,1", c->solids);
  g_autoptr(PawlSolidPicture) picture = picture_of_one (solids);

  if (is_drawn_at (solids, picture->wide, vec (c->x, c->y, c->z), 0.05) != c->drawn)
    g_error ("%s: expected %s", c->name, c->drawn ? "a line" : "no line");
}

/* Which points of the sheet a solid covers: a hole that goes through lets the ground show when one looks along it. */
static void
test_seen_through (void)
{
  static const struct { const char *solids; gboolean covers; } holes[] = {
    { "<box from=\"-10,-10,0\" to=\"10,10,2\"/>", TRUE },
    { "<box from=\"-10,-10,0\" to=\"10,10,2\"/><turned do=\"cut\" points=\"-1,0 -1,4 3,4 3,0\"/>", FALSE },
    { "<box from=\"-10,-10,-20\" to=\"10,10,2\"/><turned do=\"cut\" points=\"-30,0 -30,4 3,4 3,0\"/>", TRUE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (holes); i++)
    {
      g_autoptr(PawlSolids) solids = load_one ("1,1,1", holes[i].solids);
      const PawlSolidPart *part = g_ptr_array_index (solids->parts, 0);
      PawlSolidSpans spans;

      pawl_solid_spans_init (&spans);
      pawl_solid_node_sight (part->node, vec (0, 0, 1), &spans);
      g_assert_cmpint (spans.n > 0, ==, holes[i].covers);
      pawl_solid_spans_clear (&spans);
    }
}

/* The length of a line of sight inside a ball, a block and a block less a ball, against closed forms. */
static void
test_spans (void)
{
  g_autoptr(PawlSolids) ball = load_one ("1,1,1", "<turned points=\"-10,0 -10,10,9.9999 10,10,9.9999 10,0\"/>");
  g_autoptr(PawlSolids) shell = load_one ("1,1,1", "<turned points=\"-10,0 -10,10,9.9999 10,10,9.9999 10,0\"/>"
                                                   "<turned do=\"cut\" points=\"-6,0 -6,6,5.9999 6,6,5.9999 6,0\"/>");
  PawlSolidSpans spans;

  pawl_solid_spans_init (&spans);
  pawl_solid_node_sight (((PawlSolidPart *) g_ptr_array_index (ball->parts, 0))->node, vec (0.01, 0.02, 0.0), &spans);
  g_assert_cmpuint (spans.n, ==, 1);
  g_assert_cmpfloat_with_epsilon (spans.at[0].to - spans.at[0].from, 20.0, 0.02);
  pawl_solid_spans_clear (&spans);
  pawl_solid_node_sight (((PawlSolidPart *) g_ptr_array_index (shell->parts, 0))->node, vec (0.01, 0.02, 0.0), &spans);
  g_assert_cmpuint (spans.n, ==, 2);
  g_assert_cmpfloat_with_epsilon (spans.at[0].to - spans.at[0].from, 4.0, 0.02);
  g_assert_cmpfloat_with_epsilon (spans.at[1].to - spans.at[1].from, 4.0, 0.02);
  pawl_solid_spans_clear (&spans);
}

/* A front leaves out what a part before it hides, and the inside of cavities. */
static void
test_front (void)
{
  g_autoptr(PawlSolids) box = load_one ("1,1,1", BLOCK POCKET);
  g_autoptr(PawlSolids) lid = load_one ("1,1,1", "<box from=\"-10,-30,-4\" to=\"0,-12,14\"/>");
  g_autoptr(GPtrArray) before = g_ptr_array_new ();
  const PawlSolidPart *part = g_ptr_array_index (box->parts, 0), *other = g_ptr_array_index (lid->parts, 0);
  PawlSolidSubject subject = { part->node, &box->view, before };
  g_autoptr(PawlSolidPicture) all = picture_of_one (box), front = NULL;

  g_ptr_array_add (before, other->node);
  front = pawl_solid_picture_new (&subject);
  g_assert_true (is_drawn_at (box, all->wide, vec (-5, -10, -2), 0.05) == FALSE);
  g_assert_true (is_drawn_at (box, all->wide, vec (-6, -10, 10), 0.05));
  g_assert_false (is_drawn_at (box, front->wide, vec (-6, -10, 10), 0.05)); /* behind the other part */
  g_assert_true (is_drawn_at (box, front->wide, vec (9, -10, 10), 0.05));
  g_assert_true (is_drawn_at (box, front->wide, vec (2.828, 2.828, 10), 0.05)); /* rim: belongs to the outside too */
  g_assert_cmpuint (front->area[0]->len, >, 1);                                 /* the pocket is a hole in it */
  g_assert_cmpuint (all->area[0]->len, ==, 1);
}

/* A front has no lighter tone under the middle of a darker one, as the whole has, and leaves no point without any. */
static void
test_front_tones (void)
{
  g_autoptr(PawlSolids) box = load_one ("1,1,1", BLOCK);
  g_autoptr(GPtrArray) before = g_ptr_array_new ();
  const PawlSolidPart *part = g_ptr_array_index (box->parts, 0);
  PawlSolidSubject subject = { part->node, &box->view, before };
  g_autoptr(PawlSolidPicture) all = picture_of_one (box), front = pawl_solid_picture_new (&subject);
  const PawlVec left = vec (-10, 0, 0); /* the middle of the face that is in the shade */

  g_assert_true (is_within (box, all->area[PAWL_TONE_PAPER], left));
  g_assert_true (is_within (box, all->area[PAWL_TONE_MIDDLE], left));
  g_assert_false (is_within (box, front->area[PAWL_TONE_PAPER], left));
  g_assert_true (is_within (box, front->area[PAWL_TONE_MIDDLE], left));
  for (double y = -9.9; y <= 9.9; y += 0.3)
    for (double z = -9.9; z <= 9.9; z += 0.3)
      {
        PawlVec p[3] = { vec (-10, y, z), vec (y, -10, z), vec (y, z, 10) };

        for (guint k = 0; k < 3; k++)
          {
            gboolean any = FALSE;

            for (guint tone = 0; tone < 4; tone++)
              any = any || is_within (box, front->area[tone], p[k]);
            g_assert_true (any);
          }
      }
}

/* The lines of a region in a drawn figure, without its head. */
static char *
dup_region (const char *svg, const char *id)
{
  g_autofree char *head = g_strdup_printf ("<g id=\"%s\">", id);
  const char *from = strstr (svg, head), *to = from != NULL ? strstr (from, "</g>") : NULL;

  g_assert_nonnull (to);
  return g_strndup (from + strlen (head), to - from - strlen (head));
}

/* A third naming stands before all the parts since the first: here no more of them than the second. */
static void
test_third (void)
{
  static const char head[] =
    "<solids xmlns=\"urn:pawl:solids:1\"><projection scale=\"1,1,1\" toward=\"-x -y +z\"/>"
    "<part id=\"rod\"><turned axis=\"x\" points=\"-20,0 -20,3 20,3 20,0\"/></part>"
    "<part id=\"near\"><turned axis=\"x\" points=\"-15,3 -15,6 -10,6 -10,3\"/></part>"
    "<part id=\"far\"><turned axis=\"x\" points=\"5,3 5,6 10,6 10,3\"/></part>"
    "<order><draw part=\"rod\" region=\"rod-1\"/><draw part=\"far\"/><draw part=\"rod\" region=\"rod-2\"/>";
  static const char tail[] = "<draw part=\"rod\" region=\"rod-3\"/></order></solids>";
  static const struct { const char *between; gboolean is_same; } orders[] = { { "", TRUE }, { "<draw part=\"near\"/>", FALSE } };

  for (guint i = 0; i < G_N_ELEMENTS (orders); i++)
    {
      g_autoptr(GError) error = NULL;
      g_autofree char *all = g_strconcat (head, orders[i].between, tail, NULL), *svg = NULL, *second = NULL, *third = NULL;
      g_autoptr(PawlSolids) solids = pawl_solids_parse (all, strlen (all), "t.xml", &error);

      g_assert_no_error (error);
      svg = pawl_solids_draw (solids, FALSE);
      second = dup_region (svg, "rod-2");
      third = dup_region (svg, "rod-3");
      g_assert_cmpint (g_str_equal (second, third), ==, orders[i].is_same);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *path = g_strdup_printf ("/solids/hidden/%02u", i + 1);

      g_test_add_data_func (path, &cases[i], test_case);
    }
  g_test_add_func ("/solids/hidden/seen-through", test_seen_through);
  g_test_add_func ("/solids/hidden/spans", test_spans);
  g_test_add_func ("/solids/hidden/front", test_front);
  g_test_add_func ("/solids/hidden/front-tones", test_front_tones);
  g_test_add_func ("/solids/hidden/third", test_third);
  return g_test_run ();
}
