/* Parts as things: the kit counted against the steps, look-alikes, donors, and what is noted on the way out for the way in. */
#include <math.h>
#include <string.h>

#include "fit/pawl-difference.h"
#include "fit/pawl-shape.h"
#include "procedure/pawl-alike.h"
#include "procedure/pawl-kit.h"
#include "procedure/pawl-proof-private.h"

typedef void (*AskFunc) (PawlProof *self, const PawlStep *step, const PawlAsk *ask);

static void
for_each_ask (PawlProof *self, AskFunc check)
{
  GPtrArray *steps = self->procedure->steps;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        check (self, step, step->asks->pdata[j]);
    }
}

/* ---- the kit ---- */

static void
check_kit_count (PawlProof *self, const PawlAsk *ask)
{
  const PawlCheck *check = ask->check;
  guint most = pawl_kit_count_most (self->procedure, ask);

  if (check->is_unused || check->quantity == most + check->spare)
    return;
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "kit-count", ask->line,
                  "the kit line \"%s\" brings %u, but the steps fit %u and %u %s spare; %s", ask->id, check->quantity, most, check->spare,
                  check->spare == 1 ? "is said to be" : "are said to be",
                  check->quantity > most ? "say spare=\"…\" for what is left over, or name all of its parts" : "a kit that is short can't be worked with: mend the quantity");
}

static void
check_kit_line (PawlProof *self, const PawlStep *step G_GNUC_UNUSED, const PawlAsk *ask)
{
  gboolean is_kit = ask->kind == PAWL_ASK_CHECK && ask->check->kind == PAWL_CHECK_KIT;

  if (is_kit && pawl_kit_is_line (ask))
    check_kit_count (self, ask);
  else if (ask->kind == PAWL_ASK_CHECK && (ask->check->quantity > 0 || ask->check->parts[0] != NULL))
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "kit-line-uncounted", ask->line, "check \"%s\" %s; %s", ask->id,
                    is_kit ? "names parts of the kit and no quantity" : "has parts or a quantity, but is no line of the kit",
                    is_kit ? "add quantity=\"…\"" : "make it kind=\"kit\", or take them out");
}

static void
check_left_over (PawlProof *self, const PawlStep *step G_GNUC_UNUSED, const PawlAsk *ask)
{
  if (ask->kind != PAWL_ASK_CHECK || ask->check->kind != PAWL_CHECK_LEFT_OVER)
    return;
  for (guint i = 0; i < self->procedure->steps->len; i++)
    {
      const PawlStep *other = self->procedure->steps->pdata[i];

      for (guint j = 0; j < other->asks->len; j++)
        if (pawl_kit_is_line (other->asks->pdata[j]))
          return;
    }
  pawl_proof_add (self, PAWL_SEVERITY_ERROR, "left-over-of-nothing", ask->line,
                  "check \"%s\" counts what is left over, but no line of the kit has a quantity to count from; add quantity=\"…\" to the kit's checks", ask->id);
}

/* Once somebody counts, all is counted, and once only; a line for each variant is another matter. */
static void
check_kit_parts (PawlProof *self, const char *variant)
{
  g_autoptr(GPtrArray) lines = pawl_kit_list_lines (self->procedure, variant);
  GPtrArray *parts = self->procedure->parts;

  for (guint i = 0; lines->len > 0 && i < parts->len; i++)
    {
      const PawlPart *part = parts->pdata[i];
      const PawlAsk *first = NULL;

      for (guint j = 0; j < lines->len; j++)
        {
          const PawlAsk *line = lines->pdata[j];

          if (!g_strv_contains ((const char * const *) line->check->parts, part->id))
            continue;
          if (first != NULL)
            pawl_proof_add (self, PAWL_SEVERITY_ERROR, "kit-part-twice", line->line,
                            "part \"%s\" is counted by the kit line \"%s\" already; name it in one of the two", part->id, first->id);
          else
            first = line;
        }
      if (first == NULL && part->is_kit && pawl_kit_is_fitted (self->procedure, variant, part->id))
        pawl_proof_add (self, PAWL_SEVERITY_WARNING, "kit-part-without-line", part->line,
                        "part \"%s\" comes from the kit, but no line of the kit counts it; name it in the parts of one", part->id);
    }
}

static void
check_kit (PawlProof *self)
{
  GPtrArray *variants = self->procedure->variants;

  for_each_ask (self, check_kit_line);
  for_each_ask (self, check_left_over);
  if (variants->len == 0)
    check_kit_parts (self, "");
  else
    check_kit_parts (self, ((PawlVariant *) variants->pdata[0])->id);
}

/* ---- look-alikes ---- */

static void
check_alikes (PawlProof *self)
{
  for (guint i = 0; i < self->procedure->alikes->len; i++)
    {
      const PawlRule *rule = self->procedure->alikes->pdata[i];
      g_autofree char *missing = pawl_rule_find_missing (rule);

      if (missing != NULL)
        pawl_proof_add (self, PAWL_SEVERITY_ERROR, "alike-incomplete", rule->line,
                        "how the parts that look alike differ can't be said: their <alike> lacks %s; add it", missing);
    }
}

/* One outline of a part, as the fits have it. */
typedef struct {
  const char      *part;
  const PawlShape *shape;
} Outlined;

static void
add_outlined (GArray *list, const char *part, const PawlShape *shape)
{
  Outlined outlined = { part, shape };

  for (guint i = 0; i < list->len; i++)
    if (g_str_equal (g_array_index (list, Outlined, i).part, part))
      return;
  if (shape != NULL && part[0] != '\0')
    g_array_append_val (list, outlined);
}

static GArray *
list_outlined (PawlProof *self)
{
  GArray *list = g_array_new (FALSE, FALSE, sizeof (Outlined));

  for (guint i = 0; i < self->procedure->steps->len; i++)
    {
      const PawlStep *step = self->procedure->steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = step->asks->pdata[j];

          if (ask->kind == PAWL_ASK_FIT)
            add_outlined (list, ask->rule->part, ask->rule->shape);
        }
    }
  return list;
}

/* Lengths within 4 % are not told apart without comparing (3 to 5 %, from memory). */
#define SAME_SIZE 0.04

/* (transfer full) (array length=shape->n_points): from the left end, about its own middle; or turned end for end. */
static PawlPoint *
dup_laid_out (const PawlShape *shape, gboolean is_turned_round)
{
  PawlBounds bounds = pawl_shape_get_bounds (shape);
  double middle = shape->is_turned ? 0 : (bounds.y0 + bounds.y1) / 2;
  PawlPoint *points = g_new (PawlPoint, shape->n_points);

  for (guint i = 0; i < shape->n_points; i++)
    {
      points[i].x = is_turned_round ? bounds.x1 - shape->points[i].x : shape->points[i].x - bounds.x0;
      points[i].y = shape->points[i].y - middle;
    }
  return points;
}

/* Alike by the outlines that the fits draw them with: nowhere farther apart than the eye would see, or than would tell in parts of that size. */
static gboolean
is_alike (const PawlShape *a, const PawlShape *b)
{
  PawlBounds bounds = pawl_shape_get_bounds (a), other = pawl_shape_get_bounds (b);
  double size = MAX (bounds.x1 - bounds.x0, bounds.y1 - bounds.y0);
  double least = MAX (SAME_SIZE * size, pawl_difference_get_least_mm (PAWL_BENCH_DISTANCE_MM));
  g_autofree PawlPoint *first = NULL, *second = NULL, *turned = NULL;

  if (a->is_turned != b->is_turned || fabs ((bounds.x1 - bounds.x0) - (other.x1 - other.x0)) > least)
    return FALSE;
  first = dup_laid_out (a, FALSE);
  second = dup_laid_out (b, FALSE);
  turned = dup_laid_out (b, TRUE);
  return (pawl_outline_distance (first, a->n_points, second, b->n_points) < least
          || pawl_outline_distance (first, a->n_points, turned, b->n_points) < least);
}

/* Matched pieces (mate) are told by their marks, and that fit says so. */
static gboolean
is_mated (PawlProof *self, const char *a, const char *b)
{
  for (guint i = 0; i < self->procedure->steps->len; i++)
    {
      const PawlStep *step = self->procedure->steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = step->asks->pdata[j];
          guint n = 0;

          for (guint k = 0; ask->kind == PAWL_ASK_FIT && ask->rule->kind == PAWL_RULE_MATE && k < ask->rule->candidates->len; k++)
            {
              const char *part = ((PawlCandidate *) ask->rule->candidates->pdata[k])->part;

              n += g_str_equal (part, a) || g_str_equal (part, b);
            }
          if (n == 2)
            return TRUE;
        }
    }
  return FALSE;
}

/* Two of the kit's come in their bags and never lie on a tray. */
static void
check_undeclared (PawlProof *self, const Outlined *a, const Outlined *b)
{
  g_autoptr(GPtrArray) alikes = NULL;
  const PawlPart *part = pawl_procedure_lookup_part (self->procedure, b->part), *other = pawl_procedure_lookup_part (self->procedure, a->part);

  if (part == NULL || (part->is_kit && other != NULL && other->is_kit) || !is_alike (a->shape, b->shape))
    return;
  for (guint i = 0; i <= self->procedure->variants->len; i++)
    {
      const char *variant = i < self->procedure->variants->len ? ((PawlVariant *) self->procedure->variants->pdata[i])->id : "";

      g_clear_pointer (&alikes, g_ptr_array_unref);
      alikes = pawl_alike_list (self->procedure, variant, a->part);
      if (pawl_alike_list_has (alikes, b->part))
        return;
    }
  if (is_mated (self, a->part, b->part))
    return;
  pawl_proof_add (self, PAWL_SEVERITY_WARNING, "alike-undeclared", part->line,
                  "parts \"%s\" and \"%s\" have the same outline, and nothing says how to tell them apart; add an <alike> with the dimension behind the parts",
                  a->part, b->part);
}

static void
check_all_undeclared (PawlProof *self)
{
  g_autoptr(GArray) list = list_outlined (self);

  for (guint i = 0; i < list->len && self->findings->len < PAWL_PROOF_MAX_FINDINGS; i++)
    for (guint j = i + 1; j < list->len; j++)
      check_undeclared (self, &g_array_index (list, Outlined, i), &g_array_index (list, Outlined, j));
}

/* ---- donors ---- */

static gboolean
has_donor_reading (PawlProof *self, const char *part_id)
{
  for (guint i = 0; i < self->procedure->steps->len; i++)
    {
      const PawlStep *step = self->procedure->steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        if (g_strcmp0 (((PawlAsk *) step->asks->pdata[j])->donor, part_id) == 0)
          return TRUE;
    }
  return FALSE;
}

/* A reading that proves a part is taken before it is fitted for the first time. */
static void
check_proof (PawlProof *self, const PawlPart *part, const char *id)
{
  const PawlStep *taking = NULL, *fitting = NULL;
  const PawlAsk *proof = pawl_procedure_lookup_ask (self->procedure, id, &taking);

  for (guint i = 0; fitting == NULL && i < self->procedure->steps->len; i++)
    if (g_strv_contains ((const char * const *) ((PawlStep *) self->procedure->steps->pdata[i])->installs, part->id))
      fitting = self->procedure->steps->pdata[i];
  if (proof != NULL && fitting != NULL
      && pawl_procedure_get_step_index (self->procedure, taking->id) > pawl_procedure_get_step_index (self->procedure, fitting->id))
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "proof-too-late", part->line, "part \"%s\" is proved by \"%s\", which step \"%s\" takes after step \"%s\" has fitted it; take it before",
                    part->id, id, taking->id, fitting->id);
}

static void
check_interchange (PawlProof *self)
{
  for (guint i = 0; i < self->procedure->parts->len; i++)
    {
      const PawlPart *part = self->procedure->parts->pdata[i];

      if (part->interchange != NULL && part->proofs[0] == NULL && !has_donor_reading (self, part->id))
        pawl_proof_add (self, PAWL_SEVERITY_WARNING, "interchange-unproven", part->line,
                        "part \"%s\" may come from elsewhere, but nothing asks for the dimension that proves it; name its <interchange reading=\"…\">, or add a <reading donor=\"%s\"> to the step that fits it",
                        part->id, part->id);
      for (char **id = part->proofs; *id != NULL; id++)
        check_proof (self, part, *id);
    }
}

static void
check_donor (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  if (ask->donor == NULL || pawl_procedure_lookup_part (self->procedure, ask->donor) == NULL)
    return;
  if (!g_strv_contains ((const char * const *) step->installs, ask->donor))
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "donor-elsewhere", ask->line,
                    "reading \"%s\" proves a donor's \"%s\", but step \"%s\" does not fit that part; put it into the step that does", ask->id, ask->donor, step->id);
}

/* ---- what is noted on the way out ---- */

static void
check_datum (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  const PawlStep *noting = NULL;
  const PawlAsk *note;

  if (ask->kind != PAWL_ASK_FIT)
    return;
  if (ask->rule->datum_note == NULL)
    {
      if (ask->rule->is_as_found)
        pawl_proof_add (self, PAWL_SEVERITY_WARNING, "own-mark-without-note", ask->line,
                        "fit rule \"%s\" goes by this job's own mark, but does not say where it was written down; add <datum note=\"…\"> with the id of the note",
                        ask->id);
      return;
    }
  if ((note = pawl_procedure_lookup_ask (self->procedure, ask->rule->datum_note, &noting)) == NULL || note->kind != PAWL_ASK_NOTE)
    return; /* said by its id */
  if (pawl_procedure_get_step_index (self->procedure, noting->id) >= pawl_procedure_get_step_index (self->procedure, step->id))
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "noted-too-late", ask->line,
                    "fit rule \"%s\" goes by the note \"%s\", which is written down in step \"%s\", after it; write it down before that part comes off", ask->id, note->id,
                    noting->id);
}

static void
check_start (PawlProof *self, const PawlStep *step, const PawlAsk *ask)
{
  const PawlStep *taking = NULL;
  const PawlAsk *start = ask->kind == PAWL_ASK_READING && ask->reading->start != NULL ? pawl_procedure_lookup_ask (self->procedure, ask->reading->start, &taking) : NULL;

  if (start != NULL && pawl_procedure_get_step_index (self->procedure, taking->id) >= pawl_procedure_get_step_index (self->procedure, step->id))
    pawl_proof_add (self, PAWL_SEVERITY_ERROR, "start-too-late", ask->line,
                    "reading \"%s\" starts from \"%s\", which step \"%s\" takes after it; take it on the way out, before", ask->id, start->id, taking->id);
}

void
pawl_proof_check_kit (PawlProof *self)
{
  check_kit (self);
  check_alikes (self);
  check_all_undeclared (self);
  check_interchange (self);
  for_each_ask (self, check_donor);
  for_each_ask (self, check_datum);
  for_each_ask (self, check_start);
}
