/*
 * Covers that nobody wrote: by the figure, a step lays its parts over a part that an earlier step asks about, and no step says that it covers it.
 *
 * The figure looks from one side, so this is advice, and it is kept to what is hardly doubtful: a fit or a reading in its place that would go unnoticed if
 * wrong, of whose part most was in sight when it was asked and next to nothing is afterwards. A part of the same sub-assembly doesn't count: the volute
 * is put on with its seat in it, and the seat is looked at from the other side. Who knows better says leaves-visible.
 */
#include <string.h>

#include "procedure/pawl-proof-private.h"
#include "procedure/pawl-variant.h"

/* So much of a part's ink is under others, before and after. Measured on the demonstration procedures: those that they cover jump from under .6 to over .8. */
#define IN_SIGHT_SHARE 0.60
#define HIDDEN_SHARE   0.80
/* Steps by what is asked; a unit of 300 parts and 300 steps is under it, and what is larger gets no such advice. */
#define MOST_PAIRS     100000

typedef struct {
  const PawlAsk  *ask;
  const PawlStep *asking;
  const PawlPart *part;
  double          hidden; /* share, as things stand */
} Looked;

static double
get_hidden (PawlProof *self, const PawlPart *part, GHashTable *seated)
{
  g_autofree gpointer *others = g_hash_table_get_keys_as_array (seated, NULL);

  return self->regions->get_hidden (part->id, (const char * const *) others, self->regions->hidden_data);
}

/* ---- what is asked about, in its place ---- */

static void
add_looked (GArray *list, PawlProof *self, const PawlStep *step, const PawlAsk *ask, const char *part_id, GHashTable *seated)
{
  const PawlPart *part = pawl_procedure_lookup_part (self->procedure, part_id);
  Looked looked = { ask, step, part, 0 };

  if (part == NULL || part->regions[0] == NULL)
    return;
  looked.hidden = get_hidden (self, part, seated);
  g_array_append_val (list, looked);
}

/* A fit that is stopped by itself when wrong needs no second look, and of what is either way there is none. */
static void
add_ask (GArray *list, PawlProof *self, const PawlStep *step, const PawlAsk *ask, GHashTable *seated)
{
  if (pawl_order_find_cover (self->procedure, ask->id) != NULL)
    return;
  if (ask->kind == PAWL_ASK_FIT && ask->rule->kind != PAWL_RULE_EITHER && ask->rule->if_wrong != PAWL_IF_WRONG_BLOCKED
      && g_hash_table_contains (seated, ask->rule->part))
    add_looked (list, self, step, ask, ask->rule->part, seated);
  else if (ask->kind == PAWL_ASK_READING && ask->reading->spots->len > 0)
    {
      const PawlReadingSpot *spot = ask->reading->spots->pdata[0];

      if (spot->part != NULL && g_hash_table_contains (seated, spot->part))
        add_looked (list, self, step, ask, spot->part, seated);
    }
}

/* What a step takes off can be looked at again, and so can what lay under it. */
static void
take_off (PawlProof *self, const PawlStep *step, GArray *list, GHashTable *seated)
{
  for (char **id = step->removes; *id != NULL; id++)
    g_hash_table_remove (seated, *id);
  for (guint i = list->len; step->removes[0] != NULL && i > 0; i--)
    {
      Looked *looked = &g_array_index (list, Looked, i - 1);

      if (g_hash_table_contains (seated, looked->part->id))
        looked->hidden = get_hidden (self, looked->part, seated);
      else
        g_array_remove_index_fast (list, i - 1);
    }
}

/* ---- one step ---- */

static gboolean
is_of_one_assembly (const PawlPart *a, const PawlPart *b)
{
  return *a->group != '\0' && (strcmp (a->group, b->group) == 0 || strcmp (a->group, b->id) == 0 || strcmp (a->id, b->group) == 0);
}

/* (nullable): of the parts that the step fits, the one that lies over most of it. */
static const PawlPart *
find_most_over (PawlProof *self, const PawlStep *step, const PawlPart *part)
{
  const PawlPart *most = NULL;
  double share = 0;

  for (char **id = step->installs; *id != NULL; id++)
    {
      const char *alone[] = { *id, NULL };
      double over = self->regions->get_hidden (part->id, alone, self->regions->hidden_data);

      if (over > share)
        most = pawl_procedure_lookup_part (self->procedure, *id);
      share = MAX (share, over);
    }
  return most;
}

/* Returns whether it is hidden now, said or not: it is told once. */
static gboolean
check_looked (PawlProof *self, const PawlStep *step, Looked *looked, GHashTable *seated)
{
  const PawlPart *over = find_most_over (self, step, looked->part);
  double before = looked->hidden;

  if (over != NULL)
    looked->hidden = get_hidden (self, looked->part, seated);
  if (looked->hidden < HIDDEN_SHARE)
    return FALSE;
  if (before > IN_SIGHT_SHARE || over == NULL || is_of_one_assembly (over, looked->part) || looked->asking == step
      || pawl_variant_excludes (self->procedure, looked->asking->variant, step->variant)
      || g_strv_contains ((const char * const *) step->leaves_visible, looked->ask->id))
    return TRUE;
  pawl_proof_add (self, PAWL_SEVERITY_ADVICE, "covers-suggested", step->line,
                  "by the figure, step \"%s\" hides what \"%s\" of step \"%s\" asks about: %.0f %% of %s (%s) lie under other parts then, mostly under %s (%s), and %.0f %% "
                  "before; say covers=\"%s\" on it, or leaves-visible=\"%s\" when it can still be seen or reached",
                  step->id, looked->ask->id, looked->asking->id, 100 * looked->hidden, looked->part->item, looked->part->name, over->item, over->name, 100 * MAX (before, 0),
                  looked->ask->id, looked->ask->id);
  return TRUE;
}

static void
check_step (PawlProof *self, const PawlStep *step, GArray *list, GHashTable *seated)
{
  take_off (self, step, list, seated);
  for (char **id = step->installs; *id != NULL; id++)
    g_hash_table_add (seated, *id);
  for (guint i = list->len; step->installs[0] != NULL && i > 0; i--)
    if (check_looked (self, step, &g_array_index (list, Looked, i - 1), seated))
      g_array_remove_index_fast (list, i - 1);
  for (guint i = 0; i < step->asks->len; i++)
    add_ask (list, self, step, step->asks->pdata[i], seated);
}

/* ---- the whole ---- */

void
pawl_proof_check_covers (PawlProof *self)
{
  GPtrArray *parts = self->procedure->parts, *steps = self->procedure->steps;
  g_autoptr(GHashTable) seated = g_hash_table_new (g_str_hash, g_str_equal);
  g_autoptr(GArray) list = g_array_new (FALSE, FALSE, sizeof (Looked));
  guint n_pairs = 0;

  if (self->regions == NULL || self->regions->get_hidden == NULL)
    return;
  for (guint i = 0; i < parts->len; i++)
    if (((PawlPart *) parts->pdata[i])->is_staying)
      g_hash_table_add (seated, ((PawlPart *) parts->pdata[i])->id);
  for (guint i = 0; i < steps->len && !self->is_cut && n_pairs < MOST_PAIRS; i++)
    {
      n_pairs += list->len;
      check_step (self, steps->pdata[i], list, seated);
    }
}
