/* Asks: checks, readings, waits, decisions and notes. Fit rules have a file of their own. */
#include <string.h>

#include "procedure/pawl-reader-private.h"

static const char * const check_kinds[] = { "free", "passage", "leak", "visual", "kit", "left-over", NULL };

static const char * const use_words[] = { "yes", "no", NULL };

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
  { "as-expected more fewer", "as-expected" },
};

static void
read_picture (PawlReader *self, const xmlNode *node, PawlCheck *check)
{
  PawlOutcomePicture *picture = g_new0 (PawlOutcomePicture, 1);

  picture->outcome = pawl_reader_string (node, "of", "");
  picture->region = pawl_reader_string (node, "region", "");
  picture->says = pawl_reader_label (self, node, "says", NULL);
  picture->line = pawl_xml_get_line (node);
  g_ptr_array_add (check->pictures, picture);
}

/* A line of the kit that is put aside is there or not, and neither stops the job. */
static void
read_kit_line (const xmlNode *node, PawlCheck *check)
{
  check->parts = pawl_reader_list (node, "parts", NULL);
  check->quantity = pawl_reader_count (node, "quantity", 0);
  check->spare = pawl_reader_count (node, "spare", 0);
  check->is_unused = pawl_reader_choice (node, "use", use_words, 0) == 1;
}

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
  check->reopens = pawl_reader_list (node, "reopens", NULL);
  read_kit_line (node, check);
  outcomes = pawl_reader_list (node, "outcomes", check->is_unused ? "put-aside missing" : check_defaults[check->kind].outcomes);
  accept = pawl_reader_list (node, "accept", check->is_unused ? "put-aside missing" : check_defaults[check->kind].accept);
  check->limits = pawl_limits_new_choice ((const char * const *) outcomes, (const char * const *) accept);
  ask->says = pawl_reader_prompt (self, node);
  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    if (pawl_xml_is (child, "picture"))
      read_picture (self, child, check);
  return TRUE;
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
  { "reading", PAWL_ASK_READING, pawl_reader_read_reading },
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
      ask->donor = pawl_reader_string (node, "donor", NULL);
      ask->which = pawl_reader_dup_which (self, node);
      ask->is_optional = pawl_reader_is_yes (node, "optional");
      return ask_readers[i].read (self, node, ask) ? g_steal_pointer (&ask) : NULL;
    }
  return NULL;
}
