/* Parts: drawn, taken off, put back, and which way. */
#include <string.h>

#include "procedure/pawl-proof-private.h"
#include "procedure/pawl-xml-private.h"

/* What the steps do with a part. */
typedef struct {
  const PawlStep *first_install, *first_removal; /* (nullable) in file order */
  gboolean        has_rule;
} Use;

static Use *
get_use (GHashTable *uses, const char *part_id)
{
  Use *use = g_hash_table_lookup (uses, part_id);

  if (use == NULL)
    {
      use = g_new0 (Use, 1);
      g_hash_table_insert (uses, (gpointer) part_id, use);
    }
  return use;
}

static void
note_rule (GHashTable *uses, const PawlRule *rule)
{
  get_use (uses, rule->part)->has_rule = TRUE;
  for (guint i = 0; i < rule->candidates->len; i++)
    get_use (uses, ((PawlCandidate *) g_ptr_array_index (rule->candidates, i))->part)->has_rule = TRUE;
}

static void
note_step (GHashTable *uses, const PawlStep *step)
{
  for (char **id = step->removes; *id != NULL; id++)
    if (get_use (uses, *id)->first_removal == NULL)
      get_use (uses, *id)->first_removal = step;
  for (char **id = step->installs; *id != NULL; id++)
    if (get_use (uses, *id)->first_install == NULL)
      get_use (uses, *id)->first_install = step;
  for (guint i = 0; i < step->asks->len; i++)
    {
      const PawlAsk *ask = g_ptr_array_index (step->asks, i);

      if (ask->kind == PAWL_ASK_FIT)
        note_rule (uses, ask->rule);
    }
}

/* ---- one part ---- */

static void
check_installed (PawlProof *self, const PawlPart *part, const Use *use)
{
  if (part->is_staying && use->first_removal != NULL)
    pawl_proof_add (self, PAWL_SEVERITY_WARNING, "stays-removed", part->line,
                    "part \"%s\" is said to stay, but step \"%s\" removes it; take out one of the two", part->id, use->first_removal->id);
  if (part->is_staying || use->first_install != NULL)
    return;
  if (use->first_removal != NULL)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "part-never-installed", part->line,
                    "part \"%s\" is removed by step \"%s\" and never installed again; install it in a step", part->id, use->first_removal->id);
  else if (part->is_kit)
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "part-never-installed", part->line,
                    "part \"%s\" comes from the kit and is never installed; install it in a step", part->id);
  else
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "part-never-installed", part->line,
                    "no step removes or installs part \"%s\"; install it in a step, or say stays=\"yes\"", part->id);
}

/* A kit part may be tried on, taken off and fitted for good; anything else that is removed was on the unit from the start. */
static void
check_removed_first (PawlProof *self, const PawlPart *part, const Use *use)
{
  PawlProcedure *procedure = self->procedure;

  if (use->first_install == NULL || use->first_removal == NULL || part->is_kit)
    return;
  if (pawl_procedure_get_step_index (procedure, use->first_install->id) >= pawl_procedure_get_step_index (procedure, use->first_removal->id))
    return;
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "install-before-remove", use->first_install->line,
                  "step \"%s\" installs \"%s\" before step \"%s\" has removed it; put the removal first", use->first_install->id, part->id,
                  use->first_removal->id);
}

static void
check_rule (PawlProof *self, const PawlPart *part, const Use *use)
{
  if (use->first_install != NULL && !part->is_symmetric && !use->has_rule)
    pawl_proof_add (self, PAWL_SEVERITY_WARNING, "part-without-rule", part->line,
                    "part \"%s\" is installed without a word on which way it goes; add a <fit>, or say symmetric=\"yes\"", part->id);
}

/* ---- figure ---- */

/* @who: "part", "the picture of"; @otherwise: what to do when no other region is meant. */
static void
check_region (PawlProof *self, int line, const char *who, const char *id, const char *region, const char *otherwise)
{
  const char *near_one;

  if (g_strv_contains (self->regions->ids, region) || self->findings->len >= PAWL_PROOF_MAX_FINDINGS)
    return;
  near_one = pawl_suggest (region, self->regions->ids);
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "region-unknown", line, "%s \"%s\" names the region \"%s\", which the figure does not have; %s%s%s", who, id, region,
                  near_one != NULL ? "did you mean \"" : otherwise, near_one != NULL ? near_one : "", near_one != NULL ? "\"?" : "");
}

static void
check_regions (PawlProof *self, const PawlPart *part)
{
  for (char **id = part->regions; *id != NULL; id++)
    check_region (self, part->line, "part", part->id, *id, "draw it, or say regions=\"\" when the part is not illustrated");
}

static void
check_picture_regions (PawlProof *self)
{
  g_autoptr(GPtrArray) pictures = pawl_procedure_list_pictures (self->procedure);

  for (guint i = 0; i < pictures->len; i++)
    {
      const PawlOutcomePicture *picture = pictures->pdata[i];

      check_region (self, picture->line, "the picture of", picture->outcome, picture->region, "draw it at the top level of the figure, or take the picture out");
    }
}

static void
check_unused_regions (PawlProof *self)
{
  g_autoptr(GHashTable) named = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr(GPtrArray) pictures = pawl_procedure_list_pictures (self->procedure);
  GPtrArray *parts = self->procedure->parts;

  for (guint i = 0; i < parts->len; i++)
    for (char **id = ((PawlPart *) g_ptr_array_index (parts, i))->regions; *id != NULL; id++)
      g_hash_table_add (named, *id);
  for (guint i = 0; i < pictures->len; i++)
    g_hash_table_add (named, ((PawlOutcomePicture *) pictures->pdata[i])->region);
  for (guint i = 0; self->regions->ids[i] != NULL; i++)
    if (!g_hash_table_contains (named, self->regions->ids[i]))
      pawl_proof_add_in (self, self->regions->file != NULL ? self->regions->file : self->procedure->figure, PAWL_SEVERITY_WARNING, "region-unused",
                         self->regions->lines != NULL ? self->regions->lines[i] : 0,
                         "no part names the region \"%s\" of the figure; name it in the regions of a part, or take its id off", self->regions->ids[i]);
}

/* Once is enough: the fault is the missing <kit>, not each of its parts. */
static void
check_kit (PawlProof *self)
{
  GPtrArray *parts = self->procedure->parts;

  for (guint i = 0; self->procedure->kit[0] == '\0' && i < parts->len; i++)
    {
      const PawlPart *part = g_ptr_array_index (parts, i);

      if (!part->is_kit)
        continue;
      pawl_proof_add (self, PAWL_SEVERITY_WARNING, "kit-part-without-kit", part->line,
                      "part \"%s\" is said to come from the kit, but no kit is named; add <kit name=\"…\"/> before <parts>", part->id);
      return;
    }
}

void
pawl_proof_check_parts (PawlProof *self)
{
  g_autoptr(GHashTable) uses = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
  GPtrArray *parts = self->procedure->parts;
  GPtrArray *steps = self->procedure->steps;

  for (guint i = 0; i < steps->len; i++)
    note_step (uses, g_ptr_array_index (steps, i));
  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPart *part = g_ptr_array_index (parts, i);
      const Use *use = get_use (uses, part->id);

      check_installed (self, part, use);
      check_removed_first (self, part, use);
      check_rule (self, part, use);
      if (self->regions != NULL)
        check_regions (self, part);
    }
  if (self->regions != NULL)
    {
      check_picture_regions (self);
      check_unused_regions (self);
    }
  check_kit (self);
}
