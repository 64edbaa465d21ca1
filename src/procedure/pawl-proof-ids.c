/* Ids: each given once, and none that leads nowhere. */
#include <string.h>

#include "procedure/pawl-proof-private.h"
#include "procedure/pawl-variant.h"

/* ---- given once ---- */

typedef struct {
  const char *id;
  const char *what; /* "step", "part" */
  int         line;
} Owner;

static int
compare_owners_cb (gconstpointer a, gconstpointer b)
{
  return ((const Owner *) a)->line - ((const Owner *) b)->line;
}

static void
report_duplicates (PawlProof *self, GArray *owners)
{
  g_autoptr(GHashTable) first_of = g_hash_table_new (g_str_hash, g_str_equal);

  g_array_sort (owners, compare_owners_cb);
  for (guint i = 0; i < owners->len; i++)
    {
      Owner *owner = &g_array_index (owners, Owner, i);
      Owner *first = g_hash_table_lookup (first_of, owner->id);

      if (first == NULL)
        g_hash_table_insert (first_of, (gpointer) owner->id, owner);
      else
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "id-duplicate", owner->line,
                        "this %s has the id \"%s\" of the %s in line %d; give it another one", owner->what, owner->id, first->what, first->line);
    }
}

/* All the structs begin with their id; @line_offset says where their line is. */
static void
add_owners (GArray *owners, GPtrArray *array, const char *what, gsize line_offset)
{
  for (guint i = 0; i < array->len; i++)
    {
      char *element = g_ptr_array_index (array, i);
      Owner owner = { *(char **) element, what, *(int *) (element + line_offset) };

      g_array_append_val (owners, owner);
    }
}

static void
add_ask_owners (GArray *owners, GPtrArray *steps)
{
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = g_ptr_array_index (steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = g_ptr_array_index (step->asks, j);
          Owner owner = { ask->id, "ask", ask->line };

          g_array_append_val (owners, owner);
        }
    }
}

/* Steps, parts and asks share one set of ids, since covers and answers name them alike; the others have a set each. */
static void
check_duplicates (PawlProof *self)
{
  PawlProcedure *procedure = self->procedure;
  const struct { GPtrArray *array; const char *what; gsize line_offset; } sets[] = {
    { procedure->phases, "phase", G_STRUCT_OFFSET (PawlPhase, line) },
    { procedure->tools, "tool", G_STRUCT_OFFSET (PawlTool, line) },
    { procedure->supplies, "supply", G_STRUCT_OFFSET (PawlSupply, line) },
    { procedure->cautions, "caution", G_STRUCT_OFFSET (PawlCaution, line) },
    { procedure->variants, "variant", G_STRUCT_OFFSET (PawlVariant, line) },
    { procedure->books, "book", G_STRUCT_OFFSET (PawlBook, line) },
  };
  g_autoptr(GArray) owners = g_array_new (FALSE, FALSE, sizeof (Owner));

  add_owners (owners, procedure->parts, "part", G_STRUCT_OFFSET (PawlPart, line));
  add_owners (owners, procedure->steps, "step", G_STRUCT_OFFSET (PawlStep, line));
  add_ask_owners (owners, procedure->steps);
  report_duplicates (self, owners);
  for (gsize i = 0; i < G_N_ELEMENTS (sets); i++)
    {
      g_array_set_size (owners, 0);
      add_owners (owners, sets[i].array, sets[i].what, sets[i].line_offset);
      report_duplicates (self, owners);
    }
}

static void
check_items (PawlProof *self)
{
  g_autoptr(GHashTable) first_of = g_hash_table_new (g_str_hash, g_str_equal);
  GPtrArray *parts = self->procedure->parts;

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPart *part = g_ptr_array_index (parts, i);
      const PawlPart *first = g_hash_table_lookup (first_of, part->item);

      if (first == NULL)
        g_hash_table_insert (first_of, part->item, (gpointer) part);
      else
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "item-duplicate", part->line,
                        "item number %s is that of \"%s\" in line %d as well; each part has its own number in the figure", part->item, first->id, first->line);
    }
}

/* ---- leading somewhere ---- */

#define ANY_KIND -1

static void
check_part_id (PawlProof *self, const char *id, int line, const char *where)
{
  g_autofree char *hint = NULL;

  if (pawl_procedure_lookup_part (self->procedure, id) != NULL)
    return;
  hint = pawl_proof_dup_hint (self, id, self->procedure->parts, "add it to <parts>");
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "part-unknown", line, "%s names the part \"%s\", which the parts list does not have; %s", where, id, hint);
}

static void
check_tool_id (PawlProof *self, const char *id, int line, const char *where)
{
  g_autofree char *hint = NULL;

  if (pawl_procedure_lookup_tool (self->procedure, id) != NULL)
    return;
  hint = pawl_proof_dup_hint (self, id, self->procedure->tools, "add it to <tools>");
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "tool-unknown", line, "%s names the tool \"%s\", which the list of tools does not have; %s", where, id, hint);
}

/* Each id of the list is known, and no two of one set: no unit is both. */
static void
check_variant_id (PawlProof *self, const char *variant, int line, const char *where)
{
  g_auto(GStrv) ids = g_strsplit (variant != NULL ? variant : "", " ", -1);
  gboolean is_known = TRUE;

  for (char **id = ids; *id != NULL; id++)
    {
      g_autofree char *hint = NULL;

      if (**id == '\0' || pawl_variant_check (self->procedure, *id, &hint))
        continue;
      is_known = FALSE;
      g_free (hint);
      hint = pawl_proof_dup_hint (self, *id, self->procedure->variants, "add it to <variants>");
      pawl_proof_add (self, PAWL_SEVERITY_ERROR, "variant-unknown", line, "%s is for the variant \"%s\", which is not listed; %s", where, *id, hint);
    }
  if (is_known)
    {
      g_autofree char *problem = NULL;

      if (!pawl_variant_check (self->procedure, variant, &problem))
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "variant-never", line, "%s is for no unit: %s", where, problem);
    }
}

static void
check_part_variants (PawlProof *self)
{
  for (guint i = 0; i < self->procedure->parts->len; i++)
    {
      const PawlPart *part = g_ptr_array_index (self->procedure->parts, i);
      g_autofree char *where = g_strdup_printf ("part \"%s\"", part->id);

      check_variant_id (self, part->variant, part->line, where);
    }
}

/* Serial numbers go on from one variant to the next, without a gap, and each belongs to one. */
static void
check_serials (PawlProof *self)
{
  GPtrArray *variants = self->procedure->variants;

  for (guint i = 0; i < variants->len; i++)
    {
      const PawlVariant *variant = g_ptr_array_index (variants, i), *next = i + 1 < variants->len ? g_ptr_array_index (variants, i + 1) : NULL;
      const PawlVariantSet *set = g_ptr_array_index (self->procedure->variant_sets, variant->set);

      if (!set->is_by_serial && (variant->from != 0 || variant->to != 0))
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "serial-break", variant->line,
                        "variant \"%s\" has serial numbers, and its <variants> is not told by them; write <variants by=\"serial\">", variant->id);
      else if (set->is_by_serial && next != NULL && next->set == variant->set && (variant->to == 0 || next->from != variant->to + 1))
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "serial-break", next->line,
                        "variant \"%s\" does not go on where \"%s\" ends; give \"%s\" to=\"N\" and this one from=\"N + 1\"", next->id, variant->id, variant->id);
    }
}

/* Adds the ids of the asks of @kind to @ids, for a hint; none when there are findings enough. */
static void
add_ask_ids (PawlProof *self, int kind, GPtrArray *ids)
{
  GPtrArray *steps = self->procedure->steps;

  for (guint i = 0; i < steps->len && self->findings->len < PAWL_PROOF_MAX_FINDINGS; i++)
    {
      const PawlStep *step = g_ptr_array_index (steps, i);

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = g_ptr_array_index (step->asks, j);

          if (kind == ANY_KIND || (int) ask->kind == kind)
            g_ptr_array_add (ids, ask->id);
        }
    }
}

/* An ask of @kind by that id, else one finding under @code. @what: "reading", "wait" */
static void
check_ask_id (PawlProof *self, const char *id, PawlAskKind kind, const char *code, int line, const char *what, const char *attribute)
{
  const PawlAsk *ask = pawl_procedure_lookup_ask (self->procedure, id, NULL);
  g_autoptr(GPtrArray) ids = g_ptr_array_new ();
  g_autofree char *hint = NULL;

  if (ask != NULL && ask->kind == kind)
    return;
  add_ask_ids (self, kind, ids);
  hint = pawl_proof_dup_hint_from (self, id, ids, "give the id of one");
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, code, line, "%s names \"%s\", which is no %s of this procedure; %s", attribute, id, what, hint);
}

static void
check_covers (PawlProof *self, const PawlStep *step, const char *id)
{
  g_autoptr(GPtrArray) ids = g_ptr_array_new ();
  g_autofree char *hint = NULL;

  if (pawl_procedure_lookup_ask (self->procedure, id, NULL) != NULL || pawl_procedure_lookup_part (self->procedure, id) != NULL)
    return;
  add_ask_ids (self, ANY_KIND, ids);
  for (guint i = 0; i < self->procedure->parts->len; i++)
    g_ptr_array_add (ids, ((PawlPart *) g_ptr_array_index (self->procedure->parts, i))->id);
  hint = pawl_proof_dup_hint_from (self, id, ids, "give the id of an ask or a part");
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "covers-unknown", step->line, "step \"%s\" covers \"%s\", which is no ask and no part; %s", step->id, id, hint);
}

static void
check_need (PawlProof *self, const PawlStep *step, const char *id)
{
  g_autofree char *hint = NULL;

  if (pawl_procedure_lookup_step (self->procedure, id) != NULL)
    return;
  hint = pawl_proof_dup_hint (self, id, self->procedure->steps, "give the id of a step");
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "need-unknown", step->line, "step \"%s\" needs \"%s\", which is no step; %s", step->id, id, hint);
}

static void
check_caution_id (PawlProof *self, const PawlStep *step, const char *id)
{
  g_autofree char *hint = NULL;

  if (pawl_procedure_lookup_caution (self->procedure, id) != NULL)
    return;
  hint = pawl_proof_dup_hint (self, id, self->procedure->cautions, "add it to <cautions>");
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "caution-unknown", step->line,
                  "step \"%s\" names the caution \"%s\", which the list of cautions does not have; %s", step->id, id, hint);
}

static void
check_rule_ids (PawlProof *self, const PawlRule *rule)
{
  g_autofree char *where = g_strdup_printf ("fit rule \"%s\"", rule->id);

  check_part_id (self, rule->part, rule->line, where);
  if (rule->datum_note != NULL)
    check_ask_id (self, rule->datum_note, PAWL_ASK_NOTE, "datum-note-unknown", rule->line, "note", "the datum");
  for (char **id = rule->shown_by; *id != NULL; id++)
    {
      const PawlAsk *showing = pawl_procedure_lookup_ask (self->procedure, *id, NULL);

      if (showing == NULL || showing->kind != PAWL_ASK_CHECK)
        check_ask_id (self, *id, PAWL_ASK_READING, "shown-by-unknown", rule->line, "reading or check", "shown-by");
    }
  for (guint i = 0; i < rule->candidates->len; i++)
    {
      const PawlCandidate *candidate = g_ptr_array_index (rule->candidates, i);

      if (strcmp (candidate->part, rule->part) != 0)
        check_part_id (self, candidate->part, rule->line, where);
    }
}

static void
check_proof_ids (PawlProof *self, const PawlPart *part)
{
  for (char **id = part->proofs; *id != NULL; id++)
    check_ask_id (self, *id, PAWL_ASK_READING, "proof-unknown", part->line, "reading", "the interchange");
}

static void
check_alike_ids (PawlProof *self, const PawlRule *alike)
{
  for (guint i = 0; i < alike->candidates->len; i++)
    check_part_id (self, ((PawlCandidate *) alike->candidates->pdata[i])->part, alike->line, "an <alike>");
}

/* Only what is measured or looked at can be done once more. */
static void
check_reopens (PawlProof *self, const PawlAsk *ask, char **reopens)
{
  for (char **id = reopens; *id != NULL; id++)
    {
      const PawlAsk *coupled = pawl_procedure_lookup_ask (self->procedure, *id, NULL);

      if (coupled != NULL && coupled->kind == PAWL_ASK_READING && coupled->reading->derived != NULL)
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "reopens-derived", ask->line,
                        "\"%s\" reopens \"%s\", which is worked out and never taken; name what it is worked out of: %s", ask->id, *id, coupled->reading->derived->text);
      else if (coupled == NULL || coupled->kind != PAWL_ASK_CHECK)
        check_ask_id (self, *id, PAWL_ASK_READING, "reopens-unknown", ask->line, "reading or check", "reopens");
    }
}

/* What is begun from was measured, or written down. */
static void
check_start_id (PawlProof *self, const PawlAsk *ask)
{
  const PawlAsk *start = pawl_procedure_lookup_ask (self->procedure, ask->reading->start, NULL);

  if (start == NULL || start->kind != PAWL_ASK_NOTE)
    check_ask_id (self, ask->reading->start, PAWL_ASK_READING, "start-unknown", ask->line, "reading or note", "start");
}

static void
check_limits_variants (PawlProof *self, const PawlAsk *ask)
{
  for (guint i = 0; i < ask->reading->by_variant->len; i++)
    {
      const PawlVariantLimits *one = g_ptr_array_index (ask->reading->by_variant, i);
      g_autofree char *where = g_strdup_printf ("<limits is=\"%s\">", pawl_limits_get_text (one->limits));

      check_variant_id (self, one->variant, one->line, where);
    }
}

static void
check_reading_ids (PawlProof *self, const PawlAsk *ask)
{
  const PawlReading *reading = ask->reading;
  g_autofree char *where = g_strdup_printf ("reading \"%s\"", ask->id);

  if (reading->tool != NULL)
    check_tool_id (self, reading->tool, ask->line, where);
  if (reading->start != NULL)
    check_start_id (self, ask);
  if (reading->same_as != NULL)
    check_ask_id (self, reading->same_as, PAWL_ASK_READING, "same-as-unknown", ask->line, "reading", "same-as");
  check_reopens (self, ask, reading->reopens);
  check_limits_variants (self, ask);
}

static void
check_ask_ids (PawlProof *self, const PawlAsk *ask)
{
  g_autofree char *where = g_strdup_printf ("\"%s\"", ask->id);

  check_variant_id (self, ask->variant, ask->line, where);
  if (ask->donor != NULL)
    check_part_id (self, ask->donor, ask->line, where);
  if (ask->kind == PAWL_ASK_FIT)
    check_rule_ids (self, ask->rule);
  else if (ask->kind == PAWL_ASK_READING)
    check_reading_ids (self, ask);
  else if (ask->kind == PAWL_ASK_CHECK)
    {
      check_reopens (self, ask, ask->check->reopens);
      for (char **id = ask->check->parts; *id != NULL; id++)
        check_part_id (self, *id, ask->line, where);
    }
  else if (ask->kind == PAWL_ASK_DECIDE)
    check_part_id (self, ask->decide->part, ask->line, where);
}

static void
check_leaves (PawlProof *self, const PawlStep *step, const char *id)
{
  g_autoptr(GPtrArray) ids = g_ptr_array_new ();
  g_autofree char *hint = NULL;

  if (g_strv_contains ((const char * const *) step->covers, id))
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "covers-and-leaves", step->line, "step \"%s\" covers \"%s\" and leaves it visible; take out one of the two", step->id, id);
  if (pawl_procedure_lookup_ask (self->procedure, id, NULL) != NULL)
    return;
  add_ask_ids (self, ANY_KIND, ids);
  hint = pawl_proof_dup_hint_from (self, id, ids, "give the id of one");
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "leaves-unknown", step->line, "step \"%s\" leaves \"%s\" visible, which is no ask; %s", step->id, id, hint);
}

static void
check_step_ids (PawlProof *self, const PawlStep *step)
{
  g_autofree char *where = g_strdup_printf ("step \"%s\"", step->id);

  check_variant_id (self, step->variant, step->line, where);
  for (char **id = step->needs; *id != NULL; id++)
    check_need (self, step, *id);
  for (char **id = step->removes; *id != NULL; id++)
    check_part_id (self, *id, step->line, where);
  for (char **id = step->installs; *id != NULL; id++)
    check_part_id (self, *id, step->line, where);
  for (char **id = step->tools; *id != NULL; id++)
    check_tool_id (self, *id, step->line, where);
  for (char **id = step->cautions; *id != NULL; id++)
    check_caution_id (self, step, *id);
  for (char **id = step->covers; *id != NULL; id++)
    check_covers (self, step, *id);
  for (char **id = step->leaves_visible; *id != NULL; id++)
    check_leaves (self, step, *id);
  for (char **id = step->during; *id != NULL; id++)
    check_ask_id (self, *id, PAWL_ASK_WAIT, "during-unknown", step->line, "wait", "during");
  for (guint i = 0; i < step->asks->len; i++)
    check_ask_ids (self, g_ptr_array_index (step->asks, i));
}

void
pawl_proof_check_ids (PawlProof *self)
{
  GPtrArray *steps = self->procedure->steps;

  check_duplicates (self);
  check_items (self);
  check_part_variants (self);
  check_serials (self);
  for (guint i = 0; i < self->procedure->parts->len; i++)
    check_proof_ids (self, self->procedure->parts->pdata[i]);
  for (guint i = 0; i < self->procedure->alikes->len; i++)
    check_alike_ids (self, self->procedure->alikes->pdata[i]);
  for (guint i = 0; i < steps->len; i++)
    check_step_ids (self, g_ptr_array_index (steps, i));
}
