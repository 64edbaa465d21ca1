/* Reading a procedure file: the tree, once it follows the schema, into the model. */
#include <string.h>

#include "procedure/pawl-reader-private.h"

static const char * const signal_words[] = { "danger", "warning", "caution", "notice", NULL };
static const char * const hold_words[] = { "", "review", "witness", "hold", NULL };
static const char * const verified_words[] = { "no", "on-paper", "on-object", "second-person", NULL };

G_DEFINE_QUARK (pawl-procedure-error-quark, pawl_procedure_error)

static xmlNode *
find_child (const xmlNode *parent, const char *name)
{
  for (xmlNode *node = pawl_xml_skip (parent->children); node != NULL; node = pawl_xml_skip (node->next))
    if (pawl_xml_is (node, name))
      return node;
  return NULL;
}

/* ---- identity ---- */

/* "Words (by, date)" */
static char *
dup_verified_statement (PawlReader *self, const xmlNode *node)
{
  g_autofree char *words = pawl_reader_prompt (self, node);
  g_autofree char *by = pawl_reader_string (node, "by", NULL);
  g_autofree char *date = pawl_reader_string (node, "date", NULL);
  g_autofree char *who = g_strjoin (", ", by != NULL ? by : date, by != NULL ? date : NULL, NULL);

  if (who == NULL || who[0] == '\0')
    return g_steal_pointer (&words);
  return words[0] != '\0' ? g_strdup_printf ("%s (%s)", words, who) : g_steal_pointer (&who);
}

static char *
dup_authors (PawlReader *self, const xmlNode *root)
{
  g_autoptr(GPtrArray) names = g_ptr_array_new_with_free_func (g_free);

  for (xmlNode *node = pawl_xml_skip (root->children); node != NULL; node = pawl_xml_skip (node->next))
    if (pawl_xml_is (node, "author"))
      g_ptr_array_add (names, pawl_reader_prompt (self, node));
  g_ptr_array_add (names, NULL);
  return g_strjoinv (", ", (char **) names->pdata);
}

static void
read_books (PawlReader *self, const xmlNode *root)
{
  for (xmlNode *node = pawl_xml_skip (root->children); node != NULL; node = pawl_xml_skip (node->next))
    {
      PawlBook *book;

      if (!pawl_xml_is (node, "book"))
        continue;
      book = g_new0 (PawlBook, 1);
      book->id = pawl_reader_string (node, "id", "");
      book->title = pawl_reader_string (node, "title", "");
      book->edition = pawl_reader_string (node, "edition", "");
      book->publisher = pawl_reader_string (node, "publisher", "");
      book->line = pawl_xml_get_line (node);
      g_ptr_array_add (self->procedure->books, book);
    }
}

/* A figure is looked for beside the procedure and nowhere else: "NAME" or "../svg/NAME". */
static gboolean
is_figure_allowed (const char *file)
{
  const char *name = g_str_has_prefix (file, "../svg/") ? file + strlen ("../svg/") : file;

  return name[0] != '\0' && name[0] != '.' && strpbrk (name, "/\\:") == NULL;
}

static gboolean
read_figure (PawlReader *self, const xmlNode *node)
{
  g_autofree char *file = pawl_reader_string (node, "file", "");
  g_autofree char *shown = pawl_xml_shorten (file);

  if (!is_figure_allowed (file))
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, pawl_xml_get_line (node),
                           "the figure \"%s\" is out of bounds; put it beside the procedure, file=\"NAME.svg\", "
                           "or in the folder svg beside the procedure's folder, file=\"../svg/NAME.svg\"", shown);
  g_free (self->procedure->figure);
  self->procedure->figure = g_steal_pointer (&file);
  self->procedure->figure_line = pawl_xml_get_line (node);
  return TRUE;
}

static gboolean
read_identity (PawlReader *self, const xmlNode *root)
{
  PawlProcedure *procedure = self->procedure;
  xmlNode *unit = find_child (root, "unit");
  xmlNode *verified = find_child (root, "verified");
  xmlNode *figure = find_child (root, "figure");
  xmlNode *kit = find_child (root, "kit");
  xmlAttr *language = xmlHasNsProp (root, BAD_CAST "lang", XML_XML_NAMESPACE);

  procedure->line = pawl_xml_get_line (root);
  procedure->id = pawl_reader_string (root, "id", "");
  procedure->revision = pawl_reader_string (root, "revision", "");
  procedure->language = pawl_xml_dup_value (language);
  procedure->title = pawl_reader_words (self, root, "title", "");
  procedure->unit = pawl_reader_words (self, root, "unit", "");
  procedure->maker = pawl_reader_string (unit, "maker", "");
  procedure->model = pawl_reader_string (unit, "model", "");
  procedure->statement = pawl_reader_words (self, root, "statement", "");
  procedure->author = dup_authors (self, root);
  procedure->licence = pawl_reader_words (self, root, "licence", "");
  read_books (self, root);
  procedure->verified = pawl_reader_choice (verified, "how", verified_words, PAWL_VERIFIED_NOT);
  procedure->verified_line = pawl_xml_get_line (verified);
  procedure->verified_statement = dup_verified_statement (self, verified);
  procedure->skill = pawl_reader_words (self, root, "skill", "");
  procedure->kit = kit != NULL ? pawl_reader_label (self, kit, "name", "") : g_strdup ("");
  procedure->figure = g_strdup ("");
  return pawl_reader_seconds (self, find_child (root, "attended"), "attended", &procedure->attended_seconds)
         && (figure == NULL || read_figure (self, figure));
}

/* ---- what must be at hand ---- */

/* "1200"; 0 when it is not given. */
static gboolean
read_serial (PawlReader *self, const xmlNode *node, const char *name, guint64 *number)
{
  g_autofree char *text = pawl_reader_string (node, name, NULL);

  if (text != NULL && (!g_ascii_string_to_unsigned (text, 10, 1, 999999999999999999, number, NULL)))
    return pawl_reader_refuse (self, node, name, text, "this is no serial number; write its digits alone, as from=\"1200\"");
  return TRUE;
}

static gboolean
read_variant_set (PawlReader *self, const xmlNode *node)
{
  PawlVariantSet *set = g_new0 (PawlVariantSet, 1);

  set->name = pawl_reader_string (node, "name", "");
  set->tell = pawl_reader_string (node, "tell", NULL);
  set->is_by_serial = xmlHasNsProp (node, BAD_CAST "by", NULL) != NULL;
  set->line = pawl_xml_get_line (node);
  g_ptr_array_add (self->procedure->variant_sets, set);
  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    {
      PawlVariant *variant = g_new0 (PawlVariant, 1);

      g_ptr_array_add (self->procedure->variants, variant);
      variant->id = pawl_reader_string (child, "id", "");
      variant->name = pawl_reader_string (child, "name", "");
      variant->set = self->procedure->variant_sets->len - 1;
      variant->line = pawl_xml_get_line (child);
      if (!read_serial (self, child, "from", &variant->from) || !read_serial (self, child, "to", &variant->to))
        return FALSE;
    }
  return TRUE;
}

static gboolean
read_variants (PawlReader *self, const xmlNode *root)
{
  for (xmlNode *node = pawl_xml_skip (root->children); node != NULL; node = pawl_xml_skip (node->next))
    if (pawl_xml_is (node, "variants") && !read_variant_set (self, node))
      return FALSE;
  return TRUE;
}

/* Errors and resolutions are of any kind of quantity: a scale has grams, a gauge has millimetres. */
static gboolean
read_any_quantity (PawlReader *self, const xmlNode *node, const char *name, PawlQuantity **quantity)
{
  g_autofree char *value = pawl_reader_string (node, name, NULL);
  PawlTyping typing = { .decimal_mark = '.' };
  g_autoptr(GError) error = NULL;

  if (value == NULL)
    return TRUE;
  *quantity = pawl_quantity_parse (value, &typing, &error);
  return *quantity != NULL || pawl_reader_refuse (self, node, name, value, error->message);
}

static gboolean
read_tool (PawlReader *self, const xmlNode *node)
{
  g_autoptr(PawlTool) tool = g_new0 (PawlTool, 1);

  tool->id = pawl_reader_string (node, "id", "");
  tool->name = pawl_reader_label (self, node, "name", "");
  tool->line = pawl_xml_get_line (node);
  if (!read_any_quantity (self, node, "error", &tool->instrument.max_error)
      || !read_any_quantity (self, node, "step", &tool->instrument.step))
    return FALSE;
  tool->is_measuring = tool->instrument.max_error != NULL;
  tool->instrument.id = tool->id;
  tool->instrument.name = tool->name;
  g_ptr_array_add (self->procedure->tools, g_steal_pointer (&tool));
  return TRUE;
}

static gboolean
read_supply (PawlReader *self, const xmlNode *node)
{
  PawlSupply *supply = g_new0 (PawlSupply, 1);

  supply->id = pawl_reader_string (node, "id", "");
  supply->name = pawl_reader_label (self, node, "name", "");
  supply->line = pawl_xml_get_line (node);
  g_ptr_array_add (self->procedure->supplies, supply);
  return TRUE;
}

static gboolean
read_caution (PawlReader *self, const xmlNode *node)
{
  PawlCaution *caution = g_new0 (PawlCaution, 1);

  caution->id = pawl_reader_string (node, "id", "");
  caution->signal = pawl_reader_choice (node, "signal", signal_words, PAWL_SIGNAL_NOTICE);
  caution->topic = pawl_reader_string (node, "topic", "other");
  caution->hazard = pawl_reader_words (self, node, "hazard", "");
  caution->consequence = pawl_reader_words (self, node, "consequence", "");
  caution->avoid = pawl_reader_words (self, node, "avoid", "");
  caution->line = pawl_xml_get_line (node);
  g_ptr_array_add (self->procedure->cautions, caution);
  return TRUE;
}

/* ---- parts ---- */

static gboolean
read_part (PawlReader *self, const xmlNode *node)
{
  g_autoptr(PawlPart) part = pawl_part_new ();

  part->id = pawl_reader_string (node, "id", "");
  part->item = pawl_reader_string (node, "item", "");
  part->name = pawl_reader_label (self, node, "name", "");
  part->quantity = pawl_reader_count (node, "quantity", 1);
  part->regions = pawl_reader_list (node, "regions", part->id);
  part->group = pawl_reader_string (node, "group", "");
  part->is_kit = pawl_reader_is_yes (node, "kit");
  part->is_one_way = pawl_reader_is_yes (node, "one-way");
  part->is_staying = pawl_reader_is_yes (node, "stays");
  part->is_symmetric = pawl_reader_is_yes (node, "symmetric");
  part->interchange = pawl_reader_words (self, node, "interchange", NULL);
  part->proofs = part->interchange != NULL ? pawl_reader_list (find_child (node, "interchange"), "reading", NULL) : g_new0 (char *, 1);
  part->variant = pawl_reader_string (node, "variant", NULL);
  part->which = pawl_reader_dup_which (self, node);
  part->line = pawl_xml_get_line (node);
  if (!pawl_reader_points (self, node, "slide", 0, &part->slide, &part->n_slide))
    return FALSE;
  if (self->procedure->parts->len >= PAWL_READER_MAX_PARTS)
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, part->line,
                           "over " G_STRINGIFY (PAWL_READER_MAX_PARTS) " parts; split the unit into sub-assemblies with a procedure each");
  g_ptr_array_add (self->procedure->parts, g_steal_pointer (&part));
  return TRUE;
}

static gboolean
read_part_or_alike (PawlReader *self, const xmlNode *node)
{
  return pawl_xml_is (node, "alike") ? pawl_reader_read_alike (self, node) : read_part (self, node);
}

/* ---- steps ---- */

static void
read_step_lists (PawlStep *step, const xmlNode *node)
{
  step->installs = pawl_reader_list (node, "install", NULL);
  step->removes = pawl_reader_list (node, "remove", NULL);
  step->needs = pawl_reader_list (node, "needs", NULL);
  step->during = pawl_reader_list (node, "during", NULL);
  step->covers = pawl_reader_list (node, "covers", NULL);
  step->leaves_visible = pawl_reader_list (node, "leaves-visible", NULL);
  step->tools = pawl_reader_list (node, "tools", NULL);
  step->cautions = pawl_reader_list (node, "cautions", NULL);
}

static void
read_step_words (PawlReader *self, PawlStep *step, const xmlNode *node)
{
  step->command = pawl_reader_words (self, node, "do", "");
  step->info = pawl_reader_words (self, node, "info", "");
  step->expect = pawl_reader_words (self, node, "expect", "");
  step->cant_undo = pawl_reader_words (self, node, "cant-undo", NULL);
  step->hold_reason = pawl_reader_words (self, node, "hold-reason", NULL);
}

static gboolean
read_step_asks (PawlReader *self, PawlStep *step, const xmlNode *node)
{
  static const char * const asks[] = { "fit", "check", "reading", "wait", "decide", "note", NULL };

  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    {
      PawlAsk *ask;

      if (!g_strv_contains (asks, (const char *) child->name))
        continue;
      if (!(ask = pawl_reader_read_ask (self, child)))
        return FALSE;
      g_ptr_array_add (step->asks, ask);
    }
  return TRUE;
}

static gboolean
read_step (PawlReader *self, const xmlNode *node, const char *phase_id)
{
  PawlStep *step;

  if (self->procedure->steps->len >= PAWL_READER_MAX_STEPS)
    return pawl_fault_set (self->fault, PAWL_PROCEDURE_ERROR_NOT_ALLOWED, pawl_xml_get_line (node),
                           "over " G_STRINGIFY (PAWL_READER_MAX_STEPS) " steps; split the work into several procedures");
  step = pawl_step_new ();
  g_ptr_array_add (self->procedure->steps, step);
  self->step = step;
  step->id = pawl_reader_string (node, "id", "");
  step->number = g_strdup_printf ("%u", self->procedure->steps->len);
  step->phase = g_strdup (phase_id);
  step->lane = pawl_reader_string (node, "lane", "");
  step->variant = pawl_reader_string (node, "variant", NULL);
  step->hold = pawl_reader_choice (node, "hold", hold_words, PAWL_HOLD_NONE);
  step->which = pawl_reader_dup_which (self, node);
  step->line = pawl_xml_get_line (node);
  read_step_lists (step, node);
  read_step_words (self, step, node);
  return pawl_reader_seconds (self, node, "attended", &step->attended_seconds) && read_step_asks (self, step, node);
}

static gboolean
read_phase (PawlReader *self, const xmlNode *node)
{
  PawlPhase *phase = g_new0 (PawlPhase, 1);

  phase->id = pawl_reader_string (node, "id", "");
  phase->title = pawl_reader_string (node, "title", "");
  phase->line = pawl_xml_get_line (node);
  g_ptr_array_add (self->procedure->phases, phase);
  for (xmlNode *child = pawl_xml_skip (node->children); child != NULL; child = pawl_xml_skip (child->next))
    if (!read_step (self, child, phase->id))
      return FALSE;
  self->step = NULL;
  return TRUE;
}

/* ---- the whole ---- */

/* Reads the children of @list_name; <none/> has nothing to read. */
static gboolean
read_list (PawlReader *self, const xmlNode *root, const char *list_name, gboolean (*read) (PawlReader *, const xmlNode *))
{
  xmlNode *list = find_child (root, list_name);

  if (list == NULL)
    return TRUE;
  for (xmlNode *child = pawl_xml_skip (list->children); child != NULL; child = pawl_xml_skip (child->next))
    if (!pawl_xml_is (child, "none") && !read (self, child))
      return FALSE;
  return TRUE;
}

static gboolean
read_phases (PawlReader *self, const xmlNode *root)
{
  for (xmlNode *node = pawl_xml_skip (root->children); node != NULL; node = pawl_xml_skip (node->next))
    if (pawl_xml_is (node, "phase") && !read_phase (self, node))
      return FALSE;
  return TRUE;
}

gboolean
pawl_reader_read (PawlReader *self, const xmlNode *root)
{
  return read_identity (self, root)
         && read_variants (self, root)
         && read_list (self, root, "tools", read_tool)
         && read_list (self, root, "supplies", read_supply)
         && read_list (self, root, "cautions", read_caution)
         && read_list (self, root, "parts", read_part_or_alike)
         && read_phases (self, root)
         && pawl_reader_read_formulas (self);
}
