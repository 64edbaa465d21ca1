/* The procedure itself: it owns everything that was read, and lends it. */
#include "procedure/pawl-procedure-private.h"

G_DEFINE_FINAL_TYPE (PawlProcedure, pawl_procedure, G_TYPE_OBJECT)

static void
pawl_procedure_finalize (GObject *object)
{
  PawlProcedure *self = PAWL_PROCEDURE (object);

  g_clear_pointer (&self->order, pawl_order_free);
  g_clear_pointer (&self->traps, g_hash_table_unref);
  g_clear_pointer (&self->part_by_id, g_hash_table_unref);
  g_clear_pointer (&self->step_by_id, g_hash_table_unref);
  g_clear_pointer (&self->phase_by_id, g_hash_table_unref);
  g_clear_pointer (&self->tool_by_id, g_hash_table_unref);
  g_clear_pointer (&self->caution_by_id, g_hash_table_unref);
  g_clear_pointer (&self->ask_by_id, g_hash_table_unref);
  g_clear_pointer (&self->step_of_ask, g_hash_table_unref);
  g_clear_pointer (&self->index_of_step, g_hash_table_unref);

  g_ptr_array_unref (self->texts);
  g_ptr_array_unref (self->parts);
  g_ptr_array_unref (self->steps);
  g_ptr_array_unref (self->phases);
  g_ptr_array_unref (self->cautions);
  g_ptr_array_unref (self->tools);
  g_ptr_array_unref (self->supplies);
  g_ptr_array_unref (self->books);
  g_ptr_array_unref (self->variants);
  g_ptr_array_unref (self->variant_sets);
  g_ptr_array_unref (self->alikes);

  g_free (self->id);
  g_free (self->title);
  g_free (self->unit);
  g_free (self->maker);
  g_free (self->model);
  g_free (self->revision);
  g_free (self->language);
  g_free (self->author);
  g_free (self->licence);
  g_free (self->statement);
  g_free (self->skill);
  g_free (self->verified_statement);
  g_free (self->figure);
  g_free (self->kit);

  g_clear_pointer (&self->bytes, g_bytes_unref);
  g_free (self->digest);
  g_free (self->name);

  G_OBJECT_CLASS (pawl_procedure_parent_class)->finalize (object);
}

static void
pawl_procedure_class_init (PawlProcedureClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = pawl_procedure_finalize;
}

static GPtrArray *
new_owner (gpointer free_func)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify) free_func);
}

static void
pawl_procedure_init (PawlProcedure *self)
{
  self->parts = new_owner (pawl_part_free);
  self->steps = new_owner (pawl_step_free);
  self->phases = new_owner (pawl_phase_free);
  self->cautions = new_owner (pawl_caution_free);
  self->tools = new_owner (pawl_tool_free);
  self->supplies = new_owner (pawl_supply_free);
  self->books = new_owner (pawl_book_free);
  self->variants = new_owner (pawl_variant_free);
  self->variant_sets = new_owner (pawl_variant_set_free);
  self->alikes = new_owner (pawl_rule_free);
  self->texts = new_owner (pawl_text_free);
}

PawlProcedure *
pawl_procedure_new (void)
{
  return g_object_new (PAWL_TYPE_PROCEDURE, NULL);
}

/* ---- index ---- */

static int
compare_items_cb (gconstpointer a, gconstpointer b)
{
  const PawlPart *part_a = *(const PawlPart * const *) a;
  const PawlPart *part_b = *(const PawlPart * const *) b;
  int by_item = pawl_item_compare (part_a->item, part_b->item);

  return by_item != 0 ? by_item : part_a->line - part_b->line;
}

/* An id that is given twice keeps its first owner: the proof-reader names the second. */
static void
insert_first (GHashTable *table, char *id, gpointer owner)
{
  if (!g_hash_table_contains (table, id))
    g_hash_table_insert (table, id, owner);
}

/* All these structs begin with their id. */
static GHashTable *
index_by_id (GPtrArray *array)
{
  GHashTable *table = g_hash_table_new (g_str_hash, g_str_equal);

  for (guint i = 0; i < array->len; i++)
    insert_first (table, *(char **) g_ptr_array_index (array, i), g_ptr_array_index (array, i));
  return table;
}

static void
index_asks (PawlProcedure *self)
{
  self->ask_by_id = g_hash_table_new (g_str_hash, g_str_equal);
  self->step_of_ask = g_hash_table_new (NULL, NULL);
  self->index_of_step = g_hash_table_new (NULL, NULL);
  for (guint i = 0; i < self->steps->len; i++)
    {
      PawlStep *step = g_ptr_array_index (self->steps, i);

      g_hash_table_insert (self->index_of_step, step, GUINT_TO_POINTER (i + 1));
      for (guint j = 0; j < step->asks->len; j++)
        {
          PawlAsk *ask = g_ptr_array_index (step->asks, j);

          insert_first (self->ask_by_id, ask->id, ask);
          g_hash_table_insert (self->step_of_ask, ask, step);
        }
    }
}

void
pawl_procedure_index (PawlProcedure *self)
{
  g_return_if_fail (!self->is_indexed);

  g_ptr_array_sort (self->parts, compare_items_cb);
  self->part_by_id = index_by_id (self->parts);
  self->step_by_id = index_by_id (self->steps);
  self->phase_by_id = index_by_id (self->phases);
  self->tool_by_id = index_by_id (self->tools);
  self->caution_by_id = index_by_id (self->cautions);
  index_asks (self);
  self->is_indexed = TRUE;
  self->order = pawl_order_new (self);
  self->traps = pawl_hidden_new_traps (self);
}

/* ---- lending ---- */

#define DEFINE_GETTER(type, name, field) \
  type \
  pawl_procedure_get_##name (PawlProcedure *self) \
  { \
    g_return_val_if_fail (PAWL_IS_PROCEDURE (self), 0); \
    return self->field; \
  }

DEFINE_GETTER (const char *, id, id)
DEFINE_GETTER (const char *, title, title)
DEFINE_GETTER (const char *, unit, unit)
DEFINE_GETTER (const char *, maker, maker)
DEFINE_GETTER (const char *, model, model)
DEFINE_GETTER (const char *, revision, revision)
DEFINE_GETTER (const char *, language, language)
DEFINE_GETTER (const char *, author, author)
DEFINE_GETTER (const char *, licence, licence)
DEFINE_GETTER (const char *, statement, statement)
DEFINE_GETTER (const char *, skill, skill)
DEFINE_GETTER (PawlVerified, verified, verified)
DEFINE_GETTER (const char *, verified_statement, verified_statement)
DEFINE_GETTER (const char *, figure, figure)
DEFINE_GETTER (const char *, kit, kit)
DEFINE_GETTER (gint64, attended_seconds, attended_seconds)
DEFINE_GETTER (GPtrArray *, parts, parts)
DEFINE_GETTER (GPtrArray *, steps, steps)
DEFINE_GETTER (GPtrArray *, phases, phases)
DEFINE_GETTER (GPtrArray *, cautions, cautions)
DEFINE_GETTER (GPtrArray *, tools, tools)
DEFINE_GETTER (GPtrArray *, supplies, supplies)
DEFINE_GETTER (GPtrArray *, books, books)
DEFINE_GETTER (GPtrArray *, variants, variants)
DEFINE_GETTER (GPtrArray *, variant_sets, variant_sets)
DEFINE_GETTER (GPtrArray *, alikes, alikes)

#define DEFINE_LOOKUP(type, name) \
  const type * \
  pawl_procedure_lookup_##name (PawlProcedure *self, const char *id) \
  { \
    g_return_val_if_fail (PAWL_IS_PROCEDURE (self), NULL); \
    return id != NULL ? g_hash_table_lookup (self->name##_by_id, id) : NULL; \
  }

DEFINE_LOOKUP (PawlPart, part)
DEFINE_LOOKUP (PawlStep, step)
DEFINE_LOOKUP (PawlPhase, phase)
DEFINE_LOOKUP (PawlTool, tool)
DEFINE_LOOKUP (PawlCaution, caution)

const PawlStep *
pawl_procedure_peek_step_of (PawlProcedure *self, const PawlAsk *ask)
{
  return g_hash_table_lookup (self->step_of_ask, ask);
}

GPtrArray *
pawl_procedure_list_pictures (PawlProcedure *self)
{
  GPtrArray *list;

  g_return_val_if_fail (PAWL_IS_PROCEDURE (self), NULL);
  list = g_ptr_array_new ();
  for (guint i = 0; i < self->steps->len; i++)
    {
      const PawlStep *step = self->steps->pdata[i];

      for (guint j = 0; j < step->asks->len; j++)
        {
          const PawlAsk *ask = step->asks->pdata[j];

          if (ask->kind == PAWL_ASK_CHECK)
            g_ptr_array_extend (list, ask->check->pictures, NULL, NULL);
        }
    }
  return list;
}

const PawlAsk *
pawl_procedure_lookup_ask (PawlProcedure *self, const char *id, const PawlStep **step)
{
  const PawlAsk *ask = NULL;

  g_return_val_if_fail (PAWL_IS_PROCEDURE (self), NULL);

  if (id != NULL)
    ask = g_hash_table_lookup (self->ask_by_id, id);
  if (step != NULL)
    *step = ask != NULL ? pawl_procedure_peek_step_of (self, ask) : NULL;
  return ask;
}

int
pawl_procedure_get_step_index (PawlProcedure *self, const char *id)
{
  const PawlStep *step = pawl_procedure_lookup_step (self, id);

  return step != NULL ? (int) GPOINTER_TO_UINT (g_hash_table_lookup (self->index_of_step, step)) - 1 : -1;
}
