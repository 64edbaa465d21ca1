/* The elements of a part: turned, plate, box, hex, gear, vane, volute, group, and those of wire. */
#include "solids/pawl-solid-elements-private.h"
#include "solids/pawl-solid-gear.h"
#include "solids/pawl-solid-vane.h"

/* Number @k of group @i, or @otherwise when it was left out. */
double
pawl_solid_group_number (const GArray *groups, guint i, guint k, double otherwise)
{
  double value = ((const double *) (gpointer) groups->data)[i * 4 + k];

  return isnan (value) ? otherwise : value;
}

PawlVec
pawl_solid_group_vector (const GArray *groups, guint i)
{
  return vec (pawl_solid_group_number (groups, i, 0, 0), pawl_solid_group_number (groups, i, 1, 0), pawl_solid_group_number (groups, i, 2, 0));
}

PawlSolidShape *
pawl_solid_place_shape (const PawlSolidPlace *place, PawlSolidShapeKind kind)
{
  PawlSolidShape *shape = pawl_solid_shape_new (kind);

  shape->frame = place->frame;
  shape->is_cavity = place->is_cavity;
  shape->hatch = place->hatch;
  return shape;
}

static PawlSolidCorner
corner_of (const GArray *groups, guint i)
{
  PawlVec v = pawl_solid_group_vector (groups, i);

  return (PawlSolidCorner) { v.x, v.y, v.z };
}

/* The outline through the corners; an error when they are fewer than three or lie on a line. */
static PawlSolidOutline *
outline_of (const PawlSolidReader *reader, const xmlNode *node, const GArray *groups, gboolean is_hole)
{
  g_autofree PawlSolidCorner *corners = g_new (PawlSolidCorner, groups->len);
  double area = 0.0;

  for (guint i = 0; i < groups->len; i++)
    corners[i] = corner_of (groups, i);
  for (guint i = 0; i < groups->len; i++)
    area += corners[i].x * corners[(i + 1) % groups->len].y - corners[(i + 1) % groups->len].x * corners[i].y;
  if (fabs (area) < 1e-6)
    {
      pawl_solid_reader_fail (reader, node, "the outline encloses no area; it needs at least three corners, not all on a line");
      return NULL;
    }
  return pawl_solid_outline_new (corners, groups->len, is_hole);
}

/* An outline by its corners, a circle or an ellipse. */
static PawlSolidOutline *
read_outline (const PawlSolidReader *reader, const xmlNode *node, gboolean is_hole)
{
  g_autoptr(GArray) groups = NULL;
  double rx;

  if (pawl_solid_reader_has (node, "circle"))
    {
      if (!(groups = pawl_solid_reader_groups (reader, node, "circle", 3, 4)))
        return NULL;
      rx = pawl_solid_group_number (groups, 0, 2, 0);
      if (rx <= 0.0)
        {
          pawl_solid_reader_fail (reader, node, "the radius of a circle must be more than 0");
          return NULL;
        }
      return pawl_solid_outline_circle (pawl_solid_group_number (groups, 0, 0, 0), pawl_solid_group_number (groups, 0, 1, 0), rx,
                                        pawl_solid_group_number (groups, 0, 3, rx), is_hole);
    }
  if (!(groups = pawl_solid_reader_groups (reader, node, "outline", 2, 3)))
    return NULL;
  return outline_of (reader, node, groups, is_hole);
}

static gboolean
read_stroke (const PawlSolidPlace *place, const char *attribute, PawlSolidStrokeKind kind, PawlSolidShape *shape)
{
  g_autoptr(GArray) groups = NULL;

  if (!pawl_solid_reader_has (place->node, attribute))
    return TRUE;
  if (!(groups = pawl_solid_reader_groups (place->reader, place->node, attribute, kind == PAWL_STROKE_RING ? 1 : 3, 3)))
    return FALSE;
  for (guint i = 0; i < groups->len; i++)
    {
      PawlSolidStroke stroke = {
        kind, pawl_solid_group_number (groups, i, 0, 0), pawl_solid_group_number (groups, i, 1, 0), pawl_solid_group_number (groups, i, 2, 1),
      };

      if (kind != PAWL_STROKE_RING && !(stroke.pitch >= PAWL_SOLID_MIN_PITCH_MM && stroke.to > stroke.from))
        return pawl_solid_reader_fail (place->reader, place->node, "%s is from,to,pitch with from before to and a pitch of %g or more",
                                       attribute, PAWL_SOLID_MIN_PITCH_MM);
      g_array_append_val (shape->strokes, stroke);
    }
  return TRUE;
}

static void
note_profile (const PawlSolidPlace *place, const GArray *groups)
{
  if (place->part->profile->len > 0 || place->is_cavity || place->hatch.is_section)
    return;
  for (guint i = 0; i < groups->len; i++)
    {
      PawlSolidCorner corner = corner_of (groups, i);

      g_array_append_val (place->part->profile, corner);
    }
}

static PawlSolidShape *
read_turned (const PawlSolidPlace *place)
{
  g_autoptr(GArray) groups = NULL;
  PawlSolidOutline *outline;
  PawlSolidShape *shape;

  if (!pawl_solid_reader_allows (place->reader, place->node, PAWL_SOLID_PLACE " points thread knurl ring")
      || !(groups = pawl_solid_reader_groups (place->reader, place->node, "points", 2, 3)))
    return NULL;
  for (guint i = 0; i < groups->len; i++)
    if (pawl_solid_group_number (groups, i, 1, 0) < 0.0)
      {
        pawl_solid_reader_fail (place->reader, place->node, "point %u has a radius below 0; points are axial,radius", i + 1);
        return NULL;
      }
  if (groups->len < 3)
    {
      pawl_solid_reader_fail (place->reader, place->node, "a half-section needs at least three points");
      return NULL;
    }
  if (!(outline = outline_of (place->reader, place->node, groups, FALSE)))
    return NULL;
  note_profile (place, groups);
  shape = pawl_solid_place_shape (place, PAWL_SHAPE_TURNED);
  g_ptr_array_add (shape->outlines, outline);
  if (read_stroke (place, "thread", PAWL_STROKE_THREAD, shape) && read_stroke (place, "knurl", PAWL_STROKE_KNURL, shape)
      && read_stroke (place, "ring", PAWL_STROKE_RING, shape))
    return shape;
  pawl_solid_shape_free (shape);
  return NULL;
}

static gboolean
read_holes (const PawlSolidPlace *place, PawlSolidShape *shape)
{
  for (xmlNode *child = pawl_solid_reader_child (place->node); child != NULL; child = pawl_solid_reader_next (child))
    {
      PawlSolidOutline *hole;

      if (!pawl_solid_reader_element (child, "hole"))
        return pawl_solid_reader_fail (place->reader, child, "<%s> may hold <hole> only, not <%s>", place->node->name, child->name);
      if (!pawl_solid_reader_allows (place->reader, child, "circle outline")
          || !(hole = read_outline (place->reader, child, TRUE)))
        return FALSE;
      g_ptr_array_add (shape->outlines, hole);
    }
  return TRUE;
}

static PawlSolidShape *
read_plate (const PawlSolidPlace *place)
{
  PawlSolidOutline *outline;
  PawlSolidShape *shape;
  double height, soft;

  if (!pawl_solid_reader_allows (place->reader, place->node, PAWL_SOLID_PLACE " outline circle height soft")
      || !pawl_solid_reader_number (place->reader, place->node, "height", NAN, &height)
      || !pawl_solid_reader_number (place->reader, place->node, "soft", 0.0, &soft))
    return NULL;
  if (height <= 0.0)
    {
      pawl_solid_reader_fail (place->reader, place->node, "height must be more than 0");
      return NULL;
    }
  if (!(outline = read_outline (place->reader, place->node, FALSE)))
    return NULL;
  shape = pawl_solid_place_shape (place, PAWL_SHAPE_PLATE);
  shape->z1 = height;
  g_ptr_array_add (shape->outlines, outline);
  if (soft > 0.0)
    {
      PawlSolidStroke stroke = { PAWL_STROKE_SOFT, 0, 0, soft };

      g_array_append_val (shape->strokes, stroke);
    }
  if (read_holes (place, shape))
    return shape;
  pawl_solid_shape_free (shape);
  return NULL;
}

/* The size of the teeth, given as module="…" or pitch-diameter="…". */
static gboolean
read_module (const PawlSolidPlace *place, guint teeth, double *module)
{
  double pitch;

  if (!pawl_solid_reader_number (place->reader, place->node, "module", 0.0, module)
      || !pawl_solid_reader_number (place->reader, place->node, "pitch-diameter", 0.0, &pitch))
    return FALSE;
  if (pawl_solid_reader_has (place->node, "module") == pawl_solid_reader_has (place->node, "pitch-diameter"))
    return pawl_solid_reader_fail (place->reader, place->node, "a gear needs module or pitch-diameter, and one of them only");
  if (pitch != 0.0)
    *module = pitch / teeth;
  return *module > 0.0 || pawl_solid_reader_fail (place->reader, place->node, "module and pitch-diameter must be more than 0");
}

/* A spur gear is a plate whose outline has teeth. */
static PawlSolidShape *
read_gear (const PawlSolidPlace *place)
{
  PawlSolidShape *shape;
  PawlSolidGear gear;
  double teeth, width;

  if (!pawl_solid_reader_allows (place->reader, place->node, PAWL_SOLID_PLACE " teeth module pitch-diameter width start")
      || !pawl_solid_reader_number (place->reader, place->node, "teeth", NAN, &teeth)
      || !pawl_solid_reader_number (place->reader, place->node, "width", NAN, &width)
      || !pawl_solid_reader_number (place->reader, place->node, "start", 0.0, &gear.start_deg))
    return NULL;
  if (teeth != floor (teeth) || teeth < PAWL_SOLID_GEAR_MIN_TEETH || teeth > PAWL_SOLID_GEAR_MAX_TEETH || width <= 0.0)
    {
      pawl_solid_reader_fail (place->reader, place->node, "a gear needs a width above 0 and a whole number of teeth from %d to %d",
                              PAWL_SOLID_GEAR_MIN_TEETH, PAWL_SOLID_GEAR_MAX_TEETH);
      return NULL;
    }
  gear.teeth = (guint) teeth;
  if (!read_module (place, gear.teeth, &gear.module))
    return NULL;
  shape = pawl_solid_place_shape (place, PAWL_SHAPE_PLATE);
  shape->z1 = width;
  g_ptr_array_add (shape->outlines, pawl_solid_gear_outline (&gear));
  if (read_holes (place, shape))
    return shape;
  pawl_solid_shape_free (shape);
  return NULL;
}

/* A plate of @height with the outline taken over. */
static PawlSolidShape *
plate_take (const PawlSolidPlace *place, PawlSolidOutline *outline, double height)
{
  PawlSolidShape *shape = pawl_solid_place_shape (place, PAWL_SHAPE_PLATE);

  shape->z1 = height;
  g_ptr_array_add (shape->outlines, outline);
  return shape;
}

/* A plate along a spiral. */
static PawlSolidShape *
read_vane (const PawlSolidPlace *place)
{
  const PawlSolidReader *reader = place->reader;
  const xmlNode *node = place->node;
  PawlSolidVane vane;
  double height;

  if (!pawl_solid_reader_allows (reader, node, PAWL_SOLID_PLACE " inner outer angle thick height start")
      || !pawl_solid_reader_number (reader, node, "inner", NAN, &vane.inner)
      || !pawl_solid_reader_number (reader, node, "outer", NAN, &vane.outer)
      || !pawl_solid_reader_number (reader, node, "angle", NAN, &vane.angle_deg)
      || !pawl_solid_reader_number (reader, node, "thick", NAN, &vane.thick)
      || !pawl_solid_reader_number (reader, node, "height", NAN, &height)
      || !pawl_solid_reader_number (reader, node, "start", 0.0, &vane.start_deg))
    return NULL;
  if (vane.thick <= 0.0 || height <= 0.0 || vane.inner < vane.thick || vane.outer <= vane.inner)
    {
      pawl_solid_reader_fail (reader, node, "a vane needs thick and height above 0, inner not under thick, and outer above inner");
      return NULL;
    }
  if (fabs (vane.angle_deg) < PAWL_SOLID_VANE_MIN_DEG || fabs (vane.angle_deg) > 90.0)
    {
      pawl_solid_reader_fail (reader, node, "the angle of a vane is from %g to 90 degrees, or from -%g to -90", PAWL_SOLID_VANE_MIN_DEG,
                              PAWL_SOLID_VANE_MIN_DEG);
      return NULL;
    }
  return plate_take (place, pawl_solid_vane_outline (&vane), height);
}

static PawlSolidShape *
read_volute (const PawlSolidPlace *place)
{
  const PawlSolidReader *reader = place->reader;
  const xmlNode *node = place->node;
  PawlSolidVolute volute;
  double height;

  if (!pawl_solid_reader_allows (reader, node, PAWL_SOLID_PLACE " inner outer height start neck")
      || !pawl_solid_reader_number (reader, node, "inner", NAN, &volute.inner)
      || !pawl_solid_reader_number (reader, node, "outer", NAN, &volute.outer)
      || !pawl_solid_reader_number (reader, node, "height", NAN, &height)
      || !pawl_solid_reader_number (reader, node, "start", 0.0, &volute.start_deg)
      || !pawl_solid_reader_number (reader, node, "neck", 0.0, &volute.neck))
    return NULL;
  if (height <= 0.0 || volute.inner <= 0.0 || volute.outer <= volute.inner
      || (volute.neck != 0.0 && volute.neck <= volute.inner * tan (pawl_solid_volute_tongue (&volute))))
    {
      pawl_solid_reader_fail (reader, node, "a volute needs height and inner above 0, outer above inner, and a neck that reaches "
                                            "beyond its tongue, or none");
      return NULL;
    }
  return plate_take (place, pawl_solid_volute_outline (&volute), height);
}

static PawlSolidShape *
block_between (const PawlSolidPlace *place, PawlVec low, PawlVec high, double round)
{
  const PawlSolidCorner corners[] = {
    { low.x, low.y, round }, { high.x, low.y, round }, { high.x, high.y, round }, { low.x, high.y, round },
  };
  PawlSolidShape *shape = pawl_solid_place_shape (place, PAWL_SHAPE_PLATE);

  shape->z0 = low.z;
  shape->z1 = high.z;
  g_ptr_array_add (shape->outlines, pawl_solid_outline_new (corners, G_N_ELEMENTS (corners), FALSE));
  return shape;
}

static PawlSolidShape *
read_box (const PawlSolidPlace *place)
{
  g_autoptr(GArray) low = NULL, high = NULL;
  PawlVec a, b;
  double round;

  if (!pawl_solid_reader_allows (place->reader, place->node, PAWL_SOLID_PLACE " from to round")
      || !pawl_solid_reader_number (place->reader, place->node, "round", 0.0, &round)
      || !(low = pawl_solid_reader_groups (place->reader, place->node, "from", 3, 3))
      || !(high = pawl_solid_reader_groups (place->reader, place->node, "to", 3, 3)))
    return NULL;
  a = pawl_solid_group_vector (low, 0);
  b = pawl_solid_group_vector (high, 0);
  if (a.x >= b.x || a.y >= b.y || a.z >= b.z)
    {
      pawl_solid_reader_fail (place->reader, place->node, "from must be below to in x, y and z");
      return NULL;
    }
  return block_between (place, a, b, round);
}

/* A hexagon prism along z; its chamfers are a turned solid that is kept. */
static PawlSolidNode *
read_hex (const PawlSolidPlace *place)
{
  static const char *const ends[] = { "top", "bottom", "both", "none", NULL };
  g_autofree char *chamfer = pawl_solid_reader_text (place->node, "chamfer");
  PawlSolidNode *group;
  PawlSolidShape *prism, *turned;
  PawlSolidCorner corners[6];
  double across, height, corner, flat, drop;
  gboolean top, bottom;

  if (!pawl_solid_reader_allows (place->reader, place->node, PAWL_SOLID_PLACE " across height chamfer")
      || !pawl_solid_reader_number (place->reader, place->node, "across", NAN, &across)
      || !pawl_solid_reader_number (place->reader, place->node, "height", NAN, &height))
    return NULL;
  if (across <= 0.0 || height <= 0.0)
    {
      pawl_solid_reader_fail (place->reader, place->node, "across and height must be more than 0");
      return NULL;
    }
  corner = across / sqrt (3.0);
  flat = 0.47 * across;
  drop = (corner * 1.02 - flat) * tan (30.0 * G_PI / 180.0);
  if (chamfer != NULL && !g_strv_contains (ends, chamfer))
    {
      pawl_solid_reader_fail (place->reader, place->node, "chamfer=\"%s\" is not top, bottom, both or none", chamfer);
      return NULL;
    }
  top = g_strcmp0 (chamfer, "top") == 0 || g_strcmp0 (chamfer, "both") == 0;
  bottom = g_strcmp0 (chamfer, "bottom") == 0 || g_strcmp0 (chamfer, "both") == 0;
  for (guint i = 0; i < 6; i++)
    corners[i] = (PawlSolidCorner) { corner * cos (G_PI * i / 3.0), corner * sin (G_PI * i / 3.0), 0 };
  prism = pawl_solid_place_shape (place, PAWL_SHAPE_PLATE);
  prism->z1 = height;
  g_ptr_array_add (prism->outlines, pawl_solid_outline_new (corners, 6, FALSE));
  group = pawl_solid_node_new_group (PAWL_SOLID_ADD);
  g_ptr_array_add (group->children, pawl_solid_node_new_shape (PAWL_SOLID_ADD, prism));
  if (top || bottom)
    {
      const PawlSolidCorner profile[] = {
        { bottom ? 0 : -1, 0, 0 }, { bottom ? 0 : -1, bottom ? flat : corner * 1.02, 0 }, { bottom ? drop : 0, corner * 1.02, 0 },
        { top ? height - drop : height, corner * 1.02, 0 }, { top ? height : height + 1, top ? flat : corner * 1.02, 0 },
        { top ? height : height + 1, 0, 0 },
      };

      turned = pawl_solid_place_shape (place, PAWL_SHAPE_TURNED);
      g_ptr_array_add (turned->outlines, pawl_solid_outline_new (profile, G_N_ELEMENTS (profile), FALSE));
      g_ptr_array_add (group->children, pawl_solid_node_new_shape (PAWL_SOLID_KEEP, turned));
    }
  return group;
}

static gboolean read_solids (const PawlSolidPlace *around, PawlSolidNode *group);

static PawlSolidNode *
read_group (const PawlSolidPlace *place)
{
  PawlSolidNode *group = pawl_solid_node_new_group (PAWL_SOLID_ADD);

  if (pawl_solid_reader_allows (place->reader, place->node, PAWL_SOLID_PLACE) && read_solids (place, group))
    return group;
  pawl_solid_node_free (group);
  return NULL;
}

static PawlSolidNode *
read_one (const PawlSolidPlace *place)
{
  PawlSolidShape *shape = NULL;

  if (pawl_solid_reader_element (place->node, "group"))
    return read_group (place);
  if (pawl_solid_reader_element (place->node, "hex"))
    return read_hex (place);
  if (pawl_solid_reader_element (place->node, "turned"))
    shape = read_turned (place);
  else if (pawl_solid_reader_element (place->node, "plate"))
    shape = read_plate (place);
  else if (pawl_solid_reader_element (place->node, "gear"))
    shape = read_gear (place);
  else if (pawl_solid_reader_element (place->node, "vane"))
    shape = read_vane (place);
  else if (pawl_solid_reader_element (place->node, "volute"))
    shape = read_volute (place);
  else if (pawl_solid_reader_element (place->node, "box"))
    shape = read_box (place);
  else if (pawl_solid_reader_element (place->node, "helix"))
    shape = pawl_solid_place_helix (place);
  else if (pawl_solid_reader_element (place->node, "wire"))
    shape = pawl_solid_place_wire (place);
  else
    pawl_solid_reader_fail (place->reader, place->node,
                            "<%s> is no solid; there are turned, plate, box, hex, gear, vane, volute, helix, wire and group", place->node->name);
  return shape != NULL ? pawl_solid_node_new_shape (PAWL_SOLID_ADD, shape) : NULL;
}

static gboolean
read_act (const PawlSolidReader *reader, const xmlNode *node, PawlSolidDo *act, gboolean *is_section)
{
  g_autofree char *text = pawl_solid_reader_text (node, "do");

  *is_section = g_strcmp0 (text, "section") == 0;
  if (text == NULL || g_str_equal (text, "add"))
    *act = PAWL_SOLID_ADD;
  else if (g_str_equal (text, "cut") || *is_section)
    *act = PAWL_SOLID_CUT;
  else if (g_str_equal (text, "keep"))
    *act = PAWL_SOLID_KEEP;
  else
    return pawl_solid_reader_fail (reader, node, "do=\"%s\" is not add, cut, keep or section", text);
  return TRUE;
}

/* hatch="45" pitch="3" of a section; what stands inside one is part of it. */
static gboolean
read_hatch (const PawlSolidReader *reader, const xmlNode *node, gboolean is_section, PawlSolidHatch *hatch)
{
  if (!is_section)
    return (!pawl_solid_reader_has (node, "hatch") && !pawl_solid_reader_has (node, "pitch"))
           || pawl_solid_reader_fail (reader, node, "hatch and pitch belong to do=\"section\"");
  hatch->is_section = TRUE;
  hatch->angle_deg = NAN;
  if (!pawl_solid_reader_has (node, "hatch"))
    return TRUE;
  if (!pawl_solid_reader_number (reader, node, "hatch", NAN, &hatch->angle_deg)
      || !pawl_solid_reader_number (reader, node, "pitch", 3.0, &hatch->pitch))
    return FALSE;
  return (hatch->angle_deg >= 0.0 && hatch->angle_deg < 180.0 && hatch->pitch >= PAWL_SOLID_MIN_HATCH)
         || pawl_solid_reader_fail (reader, node, "hatch is an angle from 0 to less than 180 degrees, pitch %g or more", PAWL_SOLID_MIN_HATCH);
}

/* Adds the solids below @around's element to @group, once for each place. */
static gboolean
read_solids (const PawlSolidPlace *around, PawlSolidNode *group)
{
  const PawlSolidReader *reader = around->reader;

  for (xmlNode *child = pawl_solid_reader_child (around->node); child != NULL; child = pawl_solid_reader_next (child))
    {
      g_autoptr(GArray) frames = g_array_new (FALSE, FALSE, sizeof (PawlFrame));
      g_autofree char *outside = pawl_solid_reader_text (child, "outside");
      PawlSolidNode *copies;
      PawlSolidDo act = PAWL_SOLID_ADD;
      PawlSolidPlace place = *around;
      gboolean is_section = FALSE;

      if (!read_act (reader, child, &act, &is_section) || !read_hatch (reader, child, is_section, &place.hatch)
          || !pawl_solid_reader_frame (reader, child, &around->frame, frames))
        return FALSE;
      copies = pawl_solid_node_new_group (act);
      g_ptr_array_add (group->children, copies);
      place.node = child;
      place.is_cavity = (around->is_cavity || act == PAWL_SOLID_CUT) && !place.hatch.is_section && g_strcmp0 (outside, "yes") != 0;
      for (guint i = 0; i < frames->len; i++)
        {
          PawlSolidNode *one;

          place.frame = g_array_index (frames, PawlFrame, i);
          if (++*reader->n_solids > PAWL_SOLID_MAX_SOLIDS)
            return pawl_solid_reader_fail (reader, child, "more than %d solids, copies counted", PAWL_SOLID_MAX_SOLIDS);
          if (!(one = read_one (&place)))
            return FALSE;
          g_ptr_array_add (copies->children, one);
        }
    }
  return TRUE;
}

/**
 * pawl_solid_reader_part:
 * @part: the solids below @node are added to its node; its profile is noted
 */
gboolean
pawl_solid_reader_part (const PawlSolidReader *reader, const xmlNode *node, PawlSolidPart *part)
{
  const PawlSolidPlace around = {
    .reader = reader, .node = node, .frame = { vec (0, 0, 0), vec (1, 0, 0), vec (0, 1, 0), vec (0, 0, 1) }, .part = part,
  };

  return read_solids (&around, part->node);
}
