/* Fit rules and their geometry. What a dimension is worth to a kind is for src/fit to say; here only what is written is read. */
#include <string.h>

#include "procedure/pawl-reader-private.h"

typedef gboolean (*ReadGeometry) (PawlReader *self, const xmlNode *node, PawlRule *rule);

static const char * const if_wrong_words[] = { "blocked", "fails", "hides", NULL };
/* In the order of PawlLayerMistake; in its place is what nobody writes. */
static const char * const layer_mistakes[] = { "", "twice", "left-out", NULL };
enum { SEATS_IN_BORE, SEATS_ON_SHAFT };
static const char * const seats_words[] = { "in-bore", "on-shaft", NULL };
enum { SPIN_CLOCKWISE, SPIN_ANTICLOCKWISE, SPIN_NONE };
static const char * const spin_words[] = { "clockwise", "anticlockwise", NULL };
static const char * const verify_words[] = { "sight", "touch", "mark", "gauge", NULL };

/* ---- shapes ---- */

static const struct { const char *element; PawlFeatureKind kind; } details[] = {
  { "hole", PAWL_FEATURE_HOLE },
  { "notch", PAWL_FEATURE_NOTCH },
  { "mark", PAWL_FEATURE_MARK },
  { "bevel", PAWL_FEATURE_BEVEL },
};

static gboolean
read_detail (PawlReader *self, const xmlNode *node, PawlShape *shape)
{
  PawlFeature feature = { 0 };

  for (gsize i = 0; i < G_N_ELEMENTS (details); i++)
    if (pawl_xml_is (node, details[i].element))
      feature.kind = details[i].kind;
  if (!pawl_reader_number (self, node, "x", "mm", &feature.x)
      || !pawl_reader_number (self, node, "y", "mm", &feature.y)
      || !pawl_reader_number (self, node, "size", "mm", &feature.size))
    return FALSE;
  if (shape->features->len >= PAWL_READER_MAX_POINTS)
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, pawl_xml_get_line (node),
                           "the shape has over " G_STRINGIFY (PAWL_READER_MAX_POINTS) " details; keep those that tell its ways apart");
  feature.label = pawl_reader_label (self, node, "label", NULL);
  g_array_append_val (shape->features, feature);
  return TRUE;
}

/* (transfer full) (nullable): NULL with the fault set. */
static PawlShape *
read_shape (PawlReader *self, const xmlNode *node)
{
  g_autoptr(PawlShape) shape = pawl_shape_new ();

  shape->is_turned = pawl_xml_is (node, "turned");
  shape->is_on_shaft = pawl_reader_choice (node, "seats", seats_words, SEATS_IN_BORE) == SEATS_ON_SHAFT;
  if (!pawl_reader_number (self, node, "seat", "mm", &shape->seat)
      || !pawl_reader_points (self, node, "points", shape->is_turned ? 2 : 3, &shape->points, &shape->n_points))
    return NULL;
  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    if (!read_detail (self, child, shape))
      return NULL;
  return g_steal_pointer (&shape);
}

static gboolean
read_rule_shape (PawlReader *self, const xmlNode *node, PawlRule *rule)
{
  rule->shape = read_shape (self, node);
  return rule->shape != NULL;
}

/* ---- side, index, spread ---- */

static gboolean
read_line (PawlReader *self, const xmlNode *node, PawlRule *rule)
{
  return pawl_reader_number (self, node, "x", "mm", &rule->line_point.x)
         && pawl_reader_number (self, node, "y", "mm", &rule->line_point.y)
         && pawl_reader_number (self, node, "angle", "deg", &rule->line_angle)
         && pawl_reader_number (self, node, "pin", "mm", &rule->pin);
}

static gboolean
read_pivot (PawlReader *self, const xmlNode *node, PawlRule *rule)
{
  return pawl_reader_number (self, node, "x", "mm", &rule->pivot.x)
         && pawl_reader_number (self, node, "y", "mm", &rule->pivot.y)
         && pawl_reader_number (self, node, "sweep", "deg", &rule->sweep);
}

static gboolean
read_feature (PawlReader *self, const xmlNode *node, PawlRule *rule)
{
  return pawl_reader_number (self, node, "x", "mm", &rule->feature_point.x)
         && pawl_reader_number (self, node, "y", "mm", &rule->feature_point.y);
}

static gboolean
read_offset (PawlReader *self, const xmlNode *node, PawlRule *rule)
{
  static const char * const kinds[] = { "hole", "angle", "depth", NULL };
  const char *unit;

  rule->index_kind = pawl_reader_choice (node, "of", kinds, PAWL_INDEX_HOLE);
  unit = rule->index_kind == PAWL_INDEX_ANGLE ? "deg" : "mm";
  return pawl_reader_number (self, node, "diameter", "mm", &rule->diameter)
         && pawl_reader_number (self, node, "radius", "mm", &rule->radius)
         && pawl_reader_number (self, node, "wrong", unit, &rule->wrong)
         && pawl_reader_number (self, node, "tolerance", unit, &rule->tolerance)
         && pawl_reader_number (self, node, "period", "deg", &rule->period);
}

/* The radius at which the gaps are looked at is that of the outside. */
static gboolean
read_gaps (PawlReader *self, const xmlNode *node, PawlRule *rule)
{
  if (!pawl_reader_number (self, node, "inside", "mm", &rule->inside)
      || !pawl_reader_number (self, node, "outside", "mm", &rule->outside)
      || !pawl_reader_number (self, node, "apart", "deg", &rule->min_separation)
      || !pawl_reader_numbers (self, node, "right", &rule->angles, &rule->n_angles)
      || !pawl_reader_numbers (self, node, "wrong", &rule->wrong_angles, &rule->n_wrong_angles))
    return FALSE;
  rule->radius = rule->outside / 2;
  return TRUE;
}

static gboolean
read_keep_clear (PawlReader *self, const xmlNode *node, PawlRule *rule)
{
  double from = 0, to = 0;

  if (!pawl_reader_number (self, node, "from", "deg", &from) || !pawl_reader_number (self, node, "to", "deg", &to))
    return FALSE;
  rule->forbidden = g_renew (double, rule->forbidden, rule->n_forbidden + 2);
  rule->forbidden[rule->n_forbidden++] = from;
  rule->forbidden[rule->n_forbidden++] = to;
  return TRUE;
}

/* ---- which, order, mate, either ---- */

/* The parts list stands before the steps, so that it has been read. */
static char *
dup_item (PawlReader *self, const char *part_id)
{
  for (guint i = 0; i < self->procedure->parts->len; i++)
    {
      const PawlPart *part = g_ptr_array_index (self->procedure->parts, i);

      if (g_strcmp0 (part->id, part_id) == 0 && part->item && part->item[0] != '\0')
        return g_strdup (part->item);
    }
  return NULL;
}

/* A candidate, a layer or a piece: the same thing under the name of its kind. */
static gboolean
read_candidate (PawlReader *self, const xmlNode *node, PawlRule *rule)
{
  g_autoptr(PawlCandidate) candidate = pawl_candidate_new ();
  xmlNode *shape = pawl_xml_skip (node->children);

  if (rule->candidates->len >= PAWL_READER_MAX_POINTS)
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, pawl_xml_get_line (node),
                           "the rule has over " G_STRINGIFY (PAWL_READER_MAX_POINTS) " <%s>; it needs a handful", node->name);
  candidate->part = pawl_reader_string (node, "part", "");
  candidate->item = dup_item (self, candidate->part);
  candidate->name = pawl_reader_label (self, node, "name", candidate->part);
  candidate->place = pawl_reader_label (self, node, "place", "");
  if (!pawl_reader_number (self, node, "size", "mm", &candidate->dimension)
      || !pawl_reader_number (self, node, "thickness", "mm", &candidate->dimension))
    return FALSE;
  if (shape != NULL && !(candidate->shape = read_shape (self, shape)))
    return FALSE;
  candidate->mistake = (PawlLayerMistake) pawl_reader_choice (node, "mistake", layer_mistakes, PAWL_LAYER_IN_PLACE);
  g_ptr_array_add (rule->candidates, g_steal_pointer (&candidate));
  return TRUE;
}

/* Their words were taken from the parent already, in the wanted language. */
static gboolean
read_nothing (PawlReader *self G_GNUC_UNUSED, const xmlNode *node G_GNUC_UNUSED, PawlRule *rule G_GNUC_UNUSED)
{
  return TRUE;
}

/* ---- which geometry a kind takes ---- */

#define KIND(kind) (1u << PAWL_RULE_##kind)
#define SHAPED (KIND (SENSE) | KIND (SIDE) | KIND (INDEX) | KIND (MATE) | KIND (EITHER))

static const struct {
  const char  *element;
  guint        kinds;
  gboolean     is_many;
  ReadGeometry read;
} geometries[] = {
  { "turned", SHAPED, FALSE, read_rule_shape },
  { "outline", SHAPED, FALSE, read_rule_shape },
  { "line", KIND (SIDE), FALSE, read_line },
  { "pivot", KIND (SIDE), FALSE, read_pivot },
  { "feature", KIND (SIDE), FALSE, read_feature },
  { "offset", KIND (INDEX), FALSE, read_offset },
  { "gaps", KIND (SPREAD), FALSE, read_gaps },
  { "keep-clear", KIND (SPREAD), TRUE, read_keep_clear },
  { "candidate", KIND (WHICH), TRUE, read_candidate },
  { "compare", KIND (WHICH), TRUE, read_nothing },
  { "layer", KIND (ORDER), TRUE, read_candidate },
  { "piece", KIND (MATE), TRUE, read_candidate },
  { "symmetry", KIND (EITHER), TRUE, read_nothing },
};

static gboolean
refuse_geometry (PawlReader *self, const xmlNode *node, PawlRuleKind kind)
{
  GString *own = g_string_new (NULL);
  gboolean result;

  for (gsize i = 0; i < G_N_ELEMENTS (geometries); i++)
    if (geometries[i].kinds & (1u << kind))
      g_string_append_printf (own, "%s<%s>", own->len > 0 ? ", " : "", geometries[i].element);
  result = pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_SCHEMA, pawl_xml_get_line (node),
                           "<%s> means nothing to a fit rule of kind %s; that one takes %s", node->name, pawl_rule_kind_get_name (kind),
                           own->str);
  g_string_free (own, TRUE);
  return result;
}

static gboolean
read_geometry (PawlReader *self, const xmlNode *node, PawlRule *rule, guint *seen)
{
  for (gsize i = 0; i < G_N_ELEMENTS (geometries); i++)
    {
      /* One shape, whichever of the two it is. */
      guint bit = geometries[i].read == read_rule_shape ? 1u : 1u << i;

      if (!pawl_xml_is (node, geometries[i].element))
        continue;
      if (!(geometries[i].kinds & (1u << rule->kind)))
        return refuse_geometry (self, node, rule->kind);
      if (!geometries[i].is_many && (*seen & bit))
        return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_SCHEMA, pawl_xml_get_line (node),
                               "<%s> would be the second of its kind in this <fit>; keep one", node->name);
      *seen |= bit;
      return geometries[i].read (self, node, rule);
    }
  return TRUE;
}

/* A rule about several parts that names none of them as the one in hand is about the first. */
static void
default_part (PawlRule *rule)
{
  if (rule->part[0] != '\0' || rule->candidates->len == 0)
    return;
  g_free (rule->part);
  rule->part = g_strdup (((PawlCandidate *) g_ptr_array_index (rule->candidates, 0))->part);
}

/* Of the first <datum>: the languages after it say the same. */
static char *
dup_datum_note (const xmlNode *node)
{
  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    if (pawl_xml_is (child, "datum"))
      return pawl_reader_string (child, "note", NULL);
  return NULL;
}

static void
read_rule_words (PawlReader *self, const xmlNode *node, PawlRule *rule)
{
  g_free (rule->says);
  rule->says = pawl_reader_words (self, node, "says", "");
  g_free (rule->datum);
  rule->datum = pawl_reader_words (self, node, "datum", "");
  rule->datum_note = dup_datum_note (node);
  g_free (rule->consequence);
  rule->consequence = pawl_reader_words (self, node, "wrong", "");
  g_free (rule->tell);
  rule->tell = pawl_reader_words (self, node, "tell", "");
  g_free (rule->verify);
  rule->verify = pawl_reader_words (self, node, "verify", "");
  g_free (rule->dimension_name);
  rule->dimension_name = pawl_reader_words (self, node, "compare", rule->kind == PAWL_RULE_WHICH ? "" : NULL);
  g_free (rule->symmetry);
  rule->symmetry = pawl_reader_words (self, node, "symmetry", rule->kind == PAWL_RULE_EITHER ? "" : NULL);
}

gboolean
pawl_reader_read_fit (PawlReader *self, const xmlNode *node, PawlAsk *ask)
{
  g_autofree char *kind_name = pawl_reader_string (node, "kind", "");
  g_autofree char *part = pawl_reader_string (node, "part", "");
  PawlRuleKind kind;
  PawlRule *rule;
  int if_wrong, spin;
  guint seen = 0;

  if (!pawl_rule_kind_from_name (kind_name, &kind))
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_SCHEMA, ask->line, "<fit> has kind=\"%s\", which is no kind of fit rule", kind_name);
  if_wrong = pawl_reader_choice (node, "if-wrong", if_wrong_words, -1);
  if (if_wrong < 0 && kind != PAWL_RULE_EITHER)
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_SCHEMA, ask->line,
                           "<fit> does not say what becomes of a part fitted wrong; add if-wrong=\"blocked\", \"fails\" or \"hides\"");

  rule = ask->rule = pawl_rule_new (kind);
  g_free (rule->id);
  rule->id = g_strdup (ask->id);
  g_free (rule->part);
  rule->part = g_steal_pointer (&part);
  g_free (rule->source);
  rule->source = g_strdup (ask->source);
  g_free (rule->variant);
  rule->variant = g_strdup (ask->variant);
  rule->if_wrong = MAX (if_wrong, (int) PAWL_IF_WRONG_BLOCKED);
  rule->verify_by = pawl_reader_choice (node, "verify", verify_words, PAWL_VERIFY_SIGHT);
  rule->is_as_found = pawl_reader_is_yes (node, "as-found");
  rule->is_hidden_after = pawl_reader_is_yes (node, "hidden-after");
  g_strfreev (rule->shown_by);
  rule->shown_by = pawl_reader_list (node, "shown-by", NULL);
  spin = pawl_reader_choice (node, "spin", spin_words, SPIN_NONE);
  rule->is_spin = spin != SPIN_NONE;
  rule->is_clockwise = spin == SPIN_CLOCKWISE;
  rule->line = ask->line;
  read_rule_words (self, node, rule);
  ask->says = g_strdup (rule->says);

  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    if (!read_geometry (self, child, rule, &seen))
      return FALSE;
  default_part (rule);
  return TRUE;
}

/* Its line and its id are for the messages. */
gboolean
pawl_reader_read_alike (PawlReader *self, const xmlNode *node)
{
  PawlRule *rule = pawl_rule_new (PAWL_RULE_WHICH);

  g_ptr_array_add (self->procedure->alikes, rule);
  rule->line = pawl_xml_get_line (node);
  rule->part = g_strdup ("");
  rule->dimension_name = pawl_reader_words (self, node, "compare", "");
  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    if (pawl_xml_is (child, "candidate") && !read_candidate (self, child, rule))
      return FALSE;
  default_part (rule);
  rule->id = g_strdup (rule->part);
  return TRUE;
}
