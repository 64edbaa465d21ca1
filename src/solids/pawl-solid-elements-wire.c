/* The elements that are bent round wire: helix, wire. */
#include "solids/pawl-solid-elements-private.h"

static void
add_along (GArray *along, PawlVec p)
{
  if (along->len == 0 || vec_length (vec_sub (p, g_array_index (along, PawlVec, along->len - 1))) > 1e-6)
    g_array_append_val (along, p);
}

static PawlSolidShape *
wire_take (const PawlSolidPlace *place, GArray *along, double radius)
{
  PawlSolidShape *shape = pawl_solid_place_shape (place, PAWL_SHAPE_WIRE);

  for (guint i = 0; i < along->len; i++)
    {
      PawlVec *p = &g_array_index (along, PawlVec, i);

      *p = frame_place (&place->frame, *p);
    }
  shape->n_along = along->len;
  shape->along = (PawlVec *) g_array_free (along, FALSE);
  shape->radius = radius;
  return shape;
}

/* Rounds the bend at @b with an arc of @radius, as points. */
static void
add_bend (GArray *along, PawlVec a, PawlVec b, PawlVec c, double radius)
{
  PawlVec u = vec_unit (vec_sub (a, b)), v = vec_unit (vec_sub (c, b)), centre, from, side;
  double half = acos (CLAMP (vec_dot (u, v), -1.0, 1.0)) / 2.0, sweep = G_PI - 2.0 * half;
  guint steps = (guint) MAX (1.0, ceil (sweep / 0.13));

  if (radius <= 0.0 || half < 1e-3 || half > G_PI / 2.0 - 1e-3)
    {
      add_along (along, b);
      return;
    }
  centre = vec_step (b, radius / sin (half), vec_unit (vec_add (u, v)));
  from = vec_unit (vec_sub (vec_step (b, radius / tan (half), u), centre));
  side = vec_scale (u, -1);
  for (guint i = 0; i <= steps; i++)
    {
      double angle = sweep * i / steps;

      add_along (along, vec_add (centre, vec_add (vec_scale (from, radius * cos (angle)), vec_scale (side, radius * sin (angle)))));
    }
}

/* Adds the points of @groups as a line whose bends are rounded by their fourth number. */
static void
add_bent (GArray *along, const GArray *groups)
{
  for (guint i = 0; i < groups->len; i++)
    add_bend (along, pawl_solid_group_vector (groups, i > 0 ? i - 1 : 0), pawl_solid_group_vector (groups, i),
              pawl_solid_group_vector (groups, MIN (i + 1, groups->len - 1)),
              i == 0 || i + 1 == groups->len ? 0.0 : pawl_solid_group_number (groups, i, 3, 0.0));
}

/* The tangs head="…" and tail="…" of a spring: lines that end at its first coil, and begin at its last. */
static gboolean
read_tang (const PawlSolidPlace *place, const char *attribute, GArray *along)
{
  g_autoptr(GArray) groups = NULL;

  if (!pawl_solid_reader_has (place->node, attribute))
    return TRUE;
  if (!(groups = pawl_solid_reader_groups (place->reader, place->node, attribute, 3, 4)))
    return FALSE;
  add_bent (along, groups);
  return TRUE;
}

/* A spring: @turns over @length, the last @closed turns at each end wound close; a conical one goes evenly from @radius to @end_radius. */
PawlSolidShape *
pawl_solid_place_helix (const PawlSolidPlace *place)
{
  double radius, end_radius, wire, turns, length, start, closed;
  GArray *along;
  guint steps;

  if (!pawl_solid_reader_allows (place->reader, place->node, PAWL_SOLID_PLACE " radius end-radius wire turns length start closed head tail")
      || !pawl_solid_reader_number (place->reader, place->node, "radius", NAN, &radius)
      || !pawl_solid_reader_number (place->reader, place->node, "end-radius", radius, &end_radius)
      || !pawl_solid_reader_number (place->reader, place->node, "wire", NAN, &wire)
      || !pawl_solid_reader_number (place->reader, place->node, "turns", NAN, &turns)
      || !pawl_solid_reader_number (place->reader, place->node, "length", NAN, &length)
      || !pawl_solid_reader_number (place->reader, place->node, "start", 0.0, &start)
      || !pawl_solid_reader_number (place->reader, place->node, "closed", 0.0, &closed))
    return NULL;
  if (radius <= 0.0 || end_radius <= 0.0 || wire <= 0.0 || length <= 0.0 || closed < 0.0 || turns <= 2.0 * closed || turns > 200.0)
    {
      pawl_solid_reader_fail (place->reader, place->node,
                              "a helix needs radius, end-radius, wire and length above 0, and turns from twice closed up to 200");
      return NULL;
    }
  along = g_array_new (FALSE, FALSE, sizeof (PawlVec));
  steps = (guint) ceil (turns * 48.0);
  if (!read_tang (place, "head", along))
    {
      g_array_unref (along);
      return NULL;
    }
  for (guint i = 0; i <= steps; i++)
    {
      double turn = turns * i / steps, close = closed * 1.05 * wire, open = length - wire - 2.0 * close, z, r;
      double angle = (start + 360.0 * turn) * G_PI / 180.0;

      z = wire / 2.0 + 1.05 * wire * MIN (turn, closed) + open * CLAMP ((turn - closed) / (turns - 2.0 * closed), 0.0, 1.0)
          + 1.05 * wire * MAX (turn - (turns - closed), 0.0);
      r = radius + (end_radius - radius) * (double) i / steps;
      add_along (along, vec (r * cos (angle), r * sin (angle), z));
    }
  if (!read_tang (place, "tail", along))
    {
      g_array_unref (along);
      return NULL;
    }
  return wire_take (place, along, wire / 2.0);
}

PawlSolidShape *
pawl_solid_place_wire (const PawlSolidPlace *place)
{
  g_autoptr(GArray) groups = NULL;
  GArray *along;
  double wire;

  if (!pawl_solid_reader_allows (place->reader, place->node, PAWL_SOLID_PLACE " points wire")
      || !pawl_solid_reader_number (place->reader, place->node, "wire", NAN, &wire)
      || !(groups = pawl_solid_reader_groups (place->reader, place->node, "points", 3, 4)))
    return NULL;
  if (wire <= 0.0 || groups->len < 2)
    {
      pawl_solid_reader_fail (place->reader, place->node, "a wire needs a diameter above 0 and two points or more");
      return NULL;
    }
  along = g_array_new (FALSE, FALSE, sizeof (PawlVec));
  add_bent (along, groups);
  return wire_take (place, along, wire / 2.0);
}
