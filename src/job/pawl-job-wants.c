/* What there is to buy, to order or to wait for. */
#include "job/pawl-job-parts.h"
#include "job/pawl-job-private.h"

static void
want_free (gpointer data)
{
  PawlWant *self = data;

  g_free (self->why);
  g_free (self);
}

const char *
pawl_want_get_word (PawlWantKind kind)
{
  switch (kind)
    {
    case PAWL_WANT_MISSING: return "missing";
    case PAWL_WANT_ORDERED: return "ordered";
    case PAWL_WANT_REPLACE: return "to replace";
    case PAWL_WANT_KIT:     return "short in the kit";
    case PAWL_WANT_SUPPLY:  return "running out";
    default:                g_return_val_if_reached ("");
    }
}

static const char *
get_or_empty (const PawlEntry *entry, const char *field)
{
  const char *value = pawl_entry_get (entry, field);

  return value != NULL ? value : "";
}

/* The number that the entry says, or @usual. */
static guint
read_quantity (const PawlEntry *entry, guint usual)
{
  guint64 quantity;

  return g_ascii_string_to_unsigned (get_or_empty (entry, "quantity"), 10, 1, 10000, &quantity, NULL) ? (guint) quantity : usual;
}

static PawlWant *
add_want (GPtrArray *wants, PawlWantKind kind, const char *name, const char *item, guint quantity, const PawlEntry *entry)
{
  PawlWant *want = g_new0 (PawlWant, 1);

  *want = (PawlWant) { .kind = kind, .name = name, .item = item, .quantity = quantity, .entry = entry, .from = "", .expected = "" };
  if (entry != NULL)
    {
      want->from = get_or_empty (entry, "from");
      want->expected = get_or_empty (entry, "expected");
      want->why = g_strdup (get_or_empty (entry, "reason"));
    }
  g_ptr_array_add (wants, want);
  return want;
}

/* Decided, and not to be had without asking somebody: what has a lot, or a donor that is named, is in the hand. */
static gboolean
is_to_replace (const PawlPartState *part)
{
  const char *source = part->disposition != NULL ? get_or_empty (part->disposition, "source") : "";

  return part->disposition != NULL && g_str_equal (get_or_empty (part->disposition, "choice"), "replace")
         && (pawl_source_is (part->disposition, "new") || g_str_equal (source, "donor"))
         && pawl_entry_get (part->disposition, "lot") == NULL && part->arrival == NULL && part->place != PAWL_PLACE_SEATED;
}

static void
add_part (GPtrArray *wants, const PawlPartState *state)
{
  const PawlPart *part = state->part;
  PawlWant *want;

  if (state->lack != NULL)
    want = add_want (wants, g_str_equal (get_or_empty (state->lack, "state"), "ordered") ? PAWL_WANT_ORDERED : PAWL_WANT_MISSING, part->name, part->item,
                     read_quantity (state->lack, part->quantity), state->lack);
  else if (is_to_replace (state))
    want = add_want (wants, PAWL_WANT_REPLACE, part->name, part->item, part->quantity, state->disposition);
  else
    return;
  want->part = part;
}

static void
add_kit_line (GPtrArray *wants, const PawlKitLine *line)
{
  PawlWant *want;

  if (line->shortage == 0)
    return;
  want = add_want (wants, PAWL_WANT_KIT, line->state->ask->name, "", line->shortage, NULL);
  want->why = pawl_kit_line_describe (line);
}

static void
add_supply (PawlJob *self, GPtrArray *wants, const PawlSupply *supply)
{
  const PawlEntry *lack = pawl_job_peek_lack (self, supply->id);
  gboolean is_ordered = lack != NULL && g_str_equal (get_or_empty (lack, "state"), "ordered");

  if (lack != NULL)
    add_want (wants, is_ordered ? PAWL_WANT_ORDERED : PAWL_WANT_SUPPLY, supply->name, "", read_quantity (lack, 0), lack)->supply = supply;
}

GPtrArray *
pawl_job_list_wants (PawlJob *self)
{
  GPtrArray *wants = g_ptr_array_new_with_free_func (want_free);
  GPtrArray *supplies = pawl_procedure_get_supplies (self->procedure);
  g_autoptr(GPtrArray) kit = pawl_job_list_kit (self);

  for (guint i = 0; i < self->parts->len; i++)
    add_part (wants, self->parts->pdata[i]);
  for (guint i = 0; i < kit->len; i++)
    add_kit_line (wants, kit->pdata[i]);
  for (guint i = 0; i < supplies->len; i++)
    add_supply (self, wants, supplies->pdata[i]);
  return wants;
}
