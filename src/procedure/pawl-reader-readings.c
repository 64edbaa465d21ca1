/* Readings: limits, places, tables, corrections. What is worked out from other readings is read once all are known. */
#include <string.h>

#include "procedure/pawl-reader-private.h"
#include "procedure/pawl-variant.h"

static const char * const of_words[] = { "each", "mean", "min", "max", "spread", "ratio", NULL };

/* ---- limits and units ---- */

/* Absent or empty leaves @limits as it is. */
static gboolean
read_limits (PawlReader *self, const xmlNode *node, const char *attribute, const PawlUnit *unit, PawlLimits **limits)
{
  PawlTyping typing = { .decimal_mark = '.', .default_unit = unit };
  g_autofree char *text = pawl_reader_string (node, attribute, NULL);
  g_autoptr(GError) error = NULL;

  if (text == NULL)
    return TRUE;
  *limits = pawl_limits_parse (text, &typing, &error);
  return *limits != NULL || pawl_reader_refuse (self, node, attribute, text, error->message);
}

static gboolean
read_unit (PawlReader *self, const xmlNode *node, const PawlUnit **unit)
{
  g_autofree char *symbol = pawl_reader_string (node, "unit", NULL);

  if (symbol == NULL)
    return TRUE;
  *unit = pawl_unit_lookup (symbol);
  return *unit != NULL || pawl_reader_refuse (self, node, "unit", symbol, "this is no unit known here; write in, mm, thou, deg, N m and the like");
}

/* A number typed bare is in the stated unit, else in that of the limits; when those mix inch and metric it is asked back. */
static gboolean
set_typing (PawlReader *self, const xmlNode *node, const PawlLimits *limits, const PawlUnit *unit, PawlTyping *typing)
{
  const PawlUnit *limits_unit = pawl_limits_get_unit (limits);

  typing->decimal_mark = '.';
  typing->default_unit = unit;
  if (unit == NULL && pawl_limits_mixes_systems (limits))
    typing->is_mixed = TRUE;
  else if (unit == NULL)
    typing->default_unit = limits_unit;
  if (unit != NULL && limits_unit != NULL && pawl_unit_get_dimension (unit) != pawl_unit_get_dimension (limits_unit))
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_BAD_QUANTITY, pawl_xml_get_line (node),
                           "<%s> has unit=\"%s\", but its limits \"%s\" are for %s; give a unit of the same kind", (const char *) node->name,
                           pawl_unit_get_symbol (unit), pawl_limits_get_text (limits),
                           pawl_dimension_get_phrase (pawl_unit_get_dimension (limits_unit)));
  return TRUE;
}

/* ---- limits that follow from another reading ---- */

/* Kept until all readings are known. */
static PawlWorkedOut *
read_worked_out (const xmlNode *node, const char *attribute)
{
  g_autofree char *text = pawl_reader_string (node, attribute, NULL);
  PawlWorkedOut *self;

  if (text == NULL)
    return NULL;
  self = g_new0 (PawlWorkedOut, 1);
  self->text = g_steal_pointer (&text);
  return self;
}

static gboolean
read_row (PawlReader *self, const xmlNode *node, const PawlUnit *unit, PawlLimitsTable *table)
{
  PawlTableRow *row = g_new0 (PawlTableRow, 1);
  g_autofree char *at = pawl_reader_string (node, "at", NULL);
  PawlTyping typing = { .decimal_mark = '.' };
  g_autoptr(GError) error = NULL;

  g_ptr_array_add (table->rows, row);
  row->line = pawl_xml_get_line (node);
  row->outcome = pawl_reader_string (node, "outcome", NULL);
  if (at != NULL && !(row->at = pawl_quantity_parse (at, &typing, &error)))
    return pawl_reader_refuse (self, node, "at", at, error->message);
  return read_limits (self, node, "limits", unit, &row->limits);
}

static gboolean
read_table (PawlReader *self, const xmlNode *node, const PawlUnit *unit, PawlReading *reading)
{
  g_autofree char *between = pawl_reader_string (node, "between", "step");

  reading->table = pawl_limits_table_new ();
  reading->table->by = pawl_reader_string (node, "by", "");
  reading->table->is_line = g_str_equal (between, "line");
  reading->table->line = pawl_xml_get_line (node);
  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    if (!read_row (self, child, unit, reading->table))
      return FALSE;
  return TRUE;
}

/* The attribute is called as that of an <each>: what it is, for this one. */
static gboolean
read_variant_limits (PawlReader *self, const xmlNode *node, const PawlUnit *unit, PawlReading *reading)
{
  PawlVariantLimits *one = g_new0 (PawlVariantLimits, 1);

  g_ptr_array_add (reading->by_variant, one);
  one->variant = pawl_reader_string (node, "variant", "");
  one->line = pawl_xml_get_line (node);
  return read_limits (self, node, "is", unit, &one->limits)
         && (pawl_limits_get_unit (one->limits) != NULL
             || pawl_reader_refuse (self, node, "is", pawl_limits_get_text (one->limits), "limits that differ by variant are numbers; of outcomes write a reading for each variant"));
}

/* "To serial 15000: 0.14..0.19 µF; from serial 15001: 0.18..0.24 µF" */
static char *
describe_variants (PawlReader *self, const PawlReading *reading)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < reading->by_variant->len; i++)
    {
      const PawlVariantLimits *one = reading->by_variant->pdata[i];
      g_autofree char *name = pawl_variant_describe (self->procedure, one->variant);

      g_string_append_printf (text, "%s%s: %s", i > 0 ? "; " : "", name, pawl_limits_get_text (one->limits));
    }
  return g_string_free (text, FALSE);
}

/* "0.003 * bore to 0.004 * bore", "by piston-class" */
static char *
describe_source (PawlReader *self, const PawlReading *reading)
{
  if (reading->by_variant->len > 0)
    return describe_variants (self, reading);
  if (reading->table != NULL)
    return g_strdup_printf ("by %s", reading->table->by);
  if (reading->low != NULL && reading->high != NULL)
    return g_strdup_printf ("%s to %s", reading->low->text, reading->high->text);
  return reading->low != NULL ? g_strdup_printf ("min %s", reading->low->text) : g_strdup_printf ("max %s", reading->high->text);
}

/* The unit of what the limits are looked up in; (nullable): of formulas it has to be said. */
static const PawlUnit *
find_unit (const PawlReading *reading)
{
  if (reading->table != NULL)
    return pawl_limits_get_unit (((PawlTableRow *) g_ptr_array_index (reading->table->rows, 0))->limits);
  return reading->by_variant->len > 0 ? pawl_limits_get_unit (((PawlVariantLimits *) g_ptr_array_index (reading->by_variant, 0))->limits) : NULL;
}

/* One of limits, formulas, table and limits by variant; for all but the first the reading's limits say only whence they come. */
static gboolean
settle_limits (PawlReader *self, const xmlNode *node, const PawlUnit *unit, PawlReading *reading)
{
  guint n = (reading->limits != NULL) + (reading->low != NULL || reading->high != NULL) + (reading->table != NULL) + (reading->by_variant->len > 0);
  g_autofree char *source = NULL;

  if (n != 1)
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_BAD_QUANTITY, pawl_xml_get_line (node),
                           n == 0 ? "<reading> has no limits; give limits=\"…\", low and high as formulas, a <table>, or <limits> for each variant"
                                  : "<reading> has limits in several ways; keep one of limits=\"…\", low and high, <table>, and <limits> for each variant");
  if (reading->limits != NULL)
    return TRUE;
  if (unit == NULL)
    unit = find_unit (reading);
  if (unit == NULL)
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_BAD_QUANTITY, pawl_xml_get_line (node),
                           "<reading> has limits that follow from another reading, and no unit; add unit=\"mm\" or the like");
  source = describe_source (self, reading);
  reading->limits = pawl_limits_new_follows (source, unit);
  return TRUE;
}

/* ---- places and judgements ---- */

static gboolean
read_mark (PawlReader *self, const xmlNode *node, PawlReadingSpot *spot)
{
  g_autofree PawlPoint *points = NULL;
  guint n = 0;

  if (!pawl_reader_points (self, node, "at", 0, &points, &n))
    return FALSE;
  spot->has_mark = n > 0;
  if (n > 0)
    spot->mark = points[0];
  return TRUE;
}

static gboolean
read_spot (PawlReader *self, const xmlNode *node, PawlReading *reading)
{
  PawlReadingSpot *spot = g_new0 (PawlReadingSpot, 1);
  const PawlUnit *unit = NULL;

  g_ptr_array_add (reading->spots, spot);
  spot->id = pawl_reader_string (node, "id", "");
  spot->name = pawl_reader_label (self, node, "name", "");
  spot->part = pawl_reader_string (node, "part", NULL);
  spot->line = pawl_xml_get_line (node);
  return read_unit (self, node, &unit)
         && read_limits (self, node, "limits", unit, &spot->limits)
         && read_mark (self, node, spot)
         && (spot->limits == NULL || set_typing (self, node, spot->limits, unit, &spot->typing));
}

/* A ratio has no unit of the reading's kind. */
static gboolean
read_judgement (PawlReader *self, const xmlNode *node, const PawlUnit *unit, PawlReading *reading)
{
  PawlJudgement *judgement = g_new0 (PawlJudgement, 1);

  g_ptr_array_add (reading->judgements, judgement);
  judgement->of = (PawlOf) pawl_reader_choice (node, "of", of_words, PAWL_OF_EACH);
  judgement->line = pawl_xml_get_line (node);
  return read_limits (self, node, "limits", judgement->of == PAWL_OF_RATIO ? pawl_unit_lookup ("ratio") : unit, &judgement->limits);
}

/* ---- corrections ---- */

static gboolean
read_advice (PawlReader *self, const xmlNode *node, PawlReading *reading)
{
  reading->advice = pawl_advice_new ();
  reading->advice->sum = pawl_reader_string (node, "sum", "");
  reading->advice->line = pawl_xml_get_line (node);
  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    {
      PawlLet *let = g_new0 (PawlLet, 1);

      let->input = pawl_reader_string (child, "input", "");
      let->value = pawl_reader_string (child, "value", NULL);
      let->from = pawl_reader_string (child, "from", NULL);
      g_ptr_array_add (reading->advice->lets, let);
    }
  return TRUE;
}

static gboolean
read_child (PawlReader *self, const xmlNode *node, const PawlUnit *unit, PawlReading *reading)
{
  if (pawl_xml_is (node, "spot"))
    return read_spot (self, node, reading);
  if (pawl_xml_is (node, "judge"))
    return read_judgement (self, node, unit, reading);
  if (pawl_xml_is (node, "table"))
    return read_table (self, node, unit, reading);
  if (pawl_xml_is (node, "limits"))
    return read_variant_limits (self, node, unit, reading);
  if (pawl_xml_is (node, "advice"))
    return read_advice (self, node, reading);
  if (pawl_xml_is (node, "loop"))
    {
      reading->tries = pawl_reader_count (node, "tries", 0);
      reading->cause = pawl_reader_prompt (self, node);
    }
  return TRUE;
}

static void
read_conditions (PawlReader *self, const xmlNode *node, PawlReading *reading)
{
  reading->posture = pawl_reader_label (self, node, "posture", NULL);
  reading->from_face = pawl_reader_label (self, node, "from", NULL);
  reading->to_face = pawl_reader_label (self, node, "to", NULL);
  reading->gasket = pawl_reader_label (self, node, "gasket", NULL);
  reading->load = pawl_reader_label (self, node, "load", NULL);
  reading->places = pawl_reader_label (self, node, "places", NULL);
  reading->repeats = pawl_reader_count (node, "repeats", 1);
  reading->tool = pawl_reader_string (node, "tool", NULL);
  reading->reopens = pawl_reader_list (node, "reopens", NULL);
  reading->is_as_found = pawl_reader_is_yes (node, "as-found");
  reading->start = pawl_reader_string (node, "start", NULL);
  reading->same_as = pawl_reader_string (node, "same-as", NULL);
  reading->other_source = pawl_reader_string (node, "other-source", NULL);
  reading->correct = pawl_reader_words (self, node, "correct", NULL);
  reading->leave_alone = pawl_reader_words (self, node, "leave-alone", NULL);
  reading->void_reason = pawl_reader_words (self, node, "void", NULL);
}

gboolean
pawl_reader_read_reading (PawlReader *self, const xmlNode *node, PawlAsk *ask)
{
  PawlReading *reading = ask->reading;
  const PawlUnit *unit = NULL;

  read_conditions (self, node, reading);
  ask->says = pawl_reader_words (self, node, "says", "");
  reading->of = (PawlOf) pawl_reader_choice (node, "of", of_words, PAWL_OF_EACH);
  reading->derived = read_worked_out (node, "formula");
  reading->low = read_worked_out (node, "low");
  reading->high = read_worked_out (node, "high");
  if (!read_unit (self, node, &unit)
      || !read_limits (self, node, "limits", unit, &reading->limits)
      || !read_limits (self, node, "other-limits", unit, &reading->other_limits)
      || !read_limits (self, node, "valid", unit, &reading->valid))
    return FALSE;
  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    if (!read_child (self, child, unit != NULL ? unit : reading->limits != NULL ? pawl_limits_get_unit (reading->limits) : NULL, reading))
      return FALSE;
  return settle_limits (self, node, unit, reading) && set_typing (self, node, reading->limits, unit, &reading->typing);
}
