/* Asks: checks, readings, waits, decisions and notes. Fit rules have a file of their own. */
#include <string.h>

#include "procedure/pawl-reader-private.h"

static const char * const check_kinds[] = { "free", "passage", "leak", "visual", "kit", NULL };

/* What may be answered, and what of it is right, when the author says nothing else. In the order of PawlCheckKind. */
static const struct {
  const char *outcomes;
  const char *accept;
} check_defaults[] = {
  { "free drags binds", "free" },
  { "open blocked", "open" },
  { "holds leaks", "holds" },
  { "good bad", "good" },
  { "used missing not-needed", "used not-needed" },
};

static gboolean
read_check (PawlReader *self, const xmlNode *node, PawlAsk *ask)
{
  PawlCheck *check = ask->check;
  g_auto(GStrv) outcomes = NULL;
  g_auto(GStrv) accept = NULL;

  check->kind = pawl_reader_choice (node, "kind", check_kinds, PAWL_CHECK_VISUAL);
  check->from = pawl_reader_label (self, node, "from", NULL);
  check->to = pawl_reader_label (self, node, "to", NULL);
  check->with = pawl_reader_label (self, node, "with", NULL);
  check->is_metering = pawl_reader_is_yes (node, "metering");
  outcomes = pawl_reader_list (node, "outcomes", check_defaults[check->kind].outcomes);
  accept = pawl_reader_list (node, "accept", check_defaults[check->kind].accept);
  check->limits = pawl_limits_new_choice ((const char * const *) outcomes, (const char * const *) accept);
  ask->says = pawl_reader_prompt (self, node);
  return TRUE;
}

/* @attribute: "limits" or "other-limits". Absent or empty leaves @limits as it is. */
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
set_typing (PawlReader *self, const xmlNode *node, PawlReading *reading, const PawlUnit *unit)
{
  const PawlUnit *limits_unit = pawl_limits_get_unit (reading->limits);

  reading->typing.decimal_mark = '.';
  reading->typing.default_unit = unit;
  if (unit == NULL && pawl_limits_mixes_systems (reading->limits))
    reading->typing.is_mixed = TRUE;
  else if (unit == NULL)
    reading->typing.default_unit = limits_unit;
  if (unit != NULL && limits_unit != NULL && pawl_unit_get_dimension (unit) != pawl_unit_get_dimension (limits_unit))
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_BAD_QUANTITY, pawl_xml_get_line (node),
                           "<reading> has unit=\"%s\", but its limits \"%s\" are for %s; give a unit of the same kind",
                           pawl_unit_get_symbol (unit), pawl_limits_get_text (reading->limits),
                           pawl_dimension_get_phrase (pawl_unit_get_dimension (limits_unit)));
  return TRUE;
}

static gboolean
read_reading (PawlReader *self, const xmlNode *node, PawlAsk *ask)
{
  PawlReading *reading = ask->reading;
  const PawlUnit *unit = NULL;

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
  reading->same_as = pawl_reader_string (node, "same-as", NULL);
  reading->other_source = pawl_reader_string (node, "other-source", NULL);
  ask->says = pawl_reader_words (self, node, "says", "");
  reading->correct = pawl_reader_words (self, node, "correct", NULL);
  reading->leave_alone = pawl_reader_words (self, node, "leave-alone", NULL);

  return read_unit (self, node, &unit)
         && read_limits (self, node, "limits", unit, &reading->limits)
         && read_limits (self, node, "other-limits", unit, &reading->other_limits)
         && set_typing (self, node, reading, unit);
}

static gboolean
read_wait (PawlReader *self, const xmlNode *node, PawlAsk *ask)
{
  PawlWait *wait = ask->wait;

  wait->agent = pawl_reader_label (self, node, "agent", "");
  wait->is_limited_by_agent = pawl_reader_is_yes (node, "agent-limit");
  ask->says = pawl_reader_prompt (self, node);
  return pawl_reader_seconds (self, node, "min", &wait->min_seconds)
         && pawl_reader_seconds (self, node, "max", &wait->max_seconds);
}

static gboolean
read_decide (PawlReader *self, const xmlNode *node, PawlAsk *ask)
{
  ask->decide->part = pawl_reader_string (node, "part", "");
  ask->decide->choices = pawl_reader_list (node, "choices", NULL);
  ask->says = pawl_reader_prompt (self, node);
  return TRUE;
}

static gboolean
read_note (PawlReader *self, const xmlNode *node, PawlAsk *ask)
{
  ask->says = pawl_reader_prompt (self, node);
  return TRUE;
}

static const struct {
  const char  *element;
  PawlAskKind  kind;
  gboolean   (*read) (PawlReader *self, const xmlNode *node, PawlAsk *ask);
} ask_readers[] = {
  { "fit", PAWL_ASK_FIT, pawl_reader_read_fit },
  { "check", PAWL_ASK_CHECK, read_check },
  { "reading", PAWL_ASK_READING, read_reading },
  { "wait", PAWL_ASK_WAIT, read_wait },
  { "decide", PAWL_ASK_DECIDE, read_decide },
  { "note", PAWL_ASK_NOTE, read_note },
};

/* A fit or a decision without a name goes by the name of its part. The parts have been read by now. */
static const char *
find_part_name (PawlReader *self, const xmlNode *node)
{
  g_autofree char *id = pawl_reader_string (node, "part", "");
  GPtrArray *parts = self->procedure->parts;

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPart *part = g_ptr_array_index (parts, i);

      if (strcmp (part->id, id) == 0)
        return part->name;
    }
  return "";
}

PawlAsk *
pawl_reader_read_ask (PawlReader *self, const xmlNode *node)
{
  for (gsize i = 0; i < G_N_ELEMENTS (ask_readers); i++)
    {
      g_autoptr(PawlAsk) ask = NULL;

      if (!pawl_xml_is (node, ask_readers[i].element))
        continue;
      ask = pawl_ask_new (ask_readers[i].kind);
      ask->line = pawl_xml_get_line (node);
      ask->id = pawl_reader_string (node, "id", "");
      ask->name = pawl_reader_label (self, node, "name", NULL);
      if (ask->name == NULL)
        ask->name = g_strdup (find_part_name (self, node));
      ask->source = pawl_reader_string (node, "source", NULL);
      ask->variant = pawl_reader_string (node, "variant", NULL);
      ask->is_optional = pawl_reader_is_yes (node, "optional");
      return ask_readers[i].read (self, node, ask) ? g_steal_pointer (&ask) : NULL;
    }
  return NULL;
}
