/* What is kept of a job's entries when names are left out: a list of what is known to be harmless, because a list of what is not would have gaps. */
#include "training/pawl-nameless.h"

#include <string.h>

#include "measure/pawl-policy.h"
#include "procedure/pawl-variant.h"
#include "record/pawl-entry-row.h"
#include "record/pawl-chain.h"

/* Where the fold takes a reason for a sign, there has to be one. */
#define LEFT_OUT "left out"

/* ---- who is who ---- */

struct _PawlPseudonyms {
  GHashTable *numbers; /* (element-type utf8 utf8): "person 3" by the name's key */
};

PawlPseudonyms *
pawl_pseudonyms_new (void)
{
  PawlPseudonyms *self = g_new0 (PawlPseudonyms, 1);

  self->numbers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  return self;
}

void
pawl_pseudonyms_free (PawlPseudonyms *self)
{
  g_hash_table_unref (self->numbers);
  g_free (self);
}

static char *
dup_key (const char *name)
{
  g_autofree char *plain = g_strstrip (g_strdup (name));

  return g_utf8_casefold (plain, -1);
}

void
pawl_pseudonyms_add (PawlPseudonyms *self, const char *name)
{
  g_autofree char *key = dup_key (name != NULL ? name : "");

  if (*key != '\0')
    g_hash_table_insert (self->numbers, g_steal_pointer (&key), g_strdup (""));
}

typedef struct { char *key, *lot; } Draw;

static int
compare_draws (gconstpointer a, gconstpointer b)
{
  return strcmp (((const Draw *) a)->lot, ((const Draw *) b)->lot);
}

void
pawl_pseudonyms_number (PawlPseudonyms *self, const char *salt)
{
  guint n;
  g_autofree gpointer *keys = g_hash_table_get_keys_as_array (self->numbers, &n);
  g_autofree Draw *draws = g_new0 (Draw, n + 1);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *salted = g_strconcat (salt, "\n", keys[i], NULL);

      draws[i] = (Draw) { g_strdup (keys[i]), g_compute_checksum_for_string (G_CHECKSUM_SHA256, salted, -1) };
    }
  qsort (draws, n, sizeof *draws, compare_draws);
  for (guint i = 0; i < n; i++)
    {
      g_hash_table_insert (self->numbers, draws[i].key, g_strdup_printf ("person %u", i + 1));
      g_free (draws[i].lot);
    }
}

const char *
pawl_pseudonyms_get (const PawlPseudonyms *self, const char *name)
{
  g_autofree char *key = dup_key (name != NULL ? name : "");
  const char *number = g_hash_table_lookup (self->numbers, key);

  return number != NULL ? number : "";
}

guint
pawl_pseudonyms_get_n (const PawlPseudonyms *self)
{
  return g_hash_table_size (self->numbers);
}

void
pawl_nameless_add_names (PawlJob *job, PawlPseudonyms *people)
{
  GPtrArray *entries = pawl_job_get_entries (job);

  for (guint i = 0; i < entries->len; i++)
    {
      pawl_pseudonyms_add (people, pawl_entry_get_person (entries->pdata[i]));
      pawl_pseudonyms_add (people, pawl_entry_get (entries->pdata[i], "accepted-by"));
      if (pawl_entry_get_kind (entries->pdata[i]) == PAWL_ENTRY_UNSEALED)
        pawl_pseudonyms_add (people, pawl_entry_get (entries->pdata[i], "learner"));
    }
}

/* ---- an entry ---- */

typedef struct {
  PawlJob    *job;
  GHashTable *places; /* (element-type utf8): place of an entry in the job, from 1, by its id */
  const PawlPseudonyms *people;
  const char *id, *procedure;
} Way;

static void
keep_one_of (const PawlEntry *entry, const char *field, const char * const *known, PawlEntry *kept)
{
  const char *text = pawl_entry_get (entry, field);

  if (text != NULL && g_strv_contains (known, text))
    pawl_entry_set (kept, field, text);
}
#define keep_one(entry, field, kept, ...) keep_one_of (entry, field, (const char * const[]) { __VA_ARGS__, NULL }, kept)

static void
keep_quantity (const PawlEntry *entry, const char *field, PawlEntry *kept)
{
  const char *text = pawl_entry_get (entry, field);
  const PawlTyping typing = { .decimal_mark = '.' };
  g_autoptr (PawlQuantity) quantity = text != NULL ? pawl_quantity_parse (text, &typing, NULL) : NULL;

  if (quantity != NULL)
    pawl_entry_set (kept, field, text);
}

static void
keep_tool (const Way *way, const PawlEntry *entry, PawlEntry *kept)
{
  const char *id = pawl_entry_get (entry, "instrument");

  if (id != NULL && pawl_procedure_lookup_tool (pawl_job_get_procedure (way->job), id) != NULL)
    pawl_entry_set (kept, "instrument", id);
}

/* A list of ids, if all of them are the procedure's. */
static void
keep_variant (const Way *way, const PawlEntry *entry, PawlEntry *kept)
{
  GPtrArray *variants = pawl_procedure_get_variants (pawl_job_get_procedure (way->job));
  g_auto (GStrv) ids = g_strsplit (pawl_entry_get (entry, "variant") != NULL ? pawl_entry_get (entry, "variant") : "", " ", -1);

  for (guint i = 0; ids[i] != NULL; i++)
    {
      gboolean is_known = FALSE;

      for (guint j = 0; j < variants->len; j++)
        is_known |= g_str_equal (((PawlVariant *) variants->pdata[j])->id, ids[i]);
      if (!is_known)
        return;
    }
  pawl_entry_set (kept, "variant", pawl_entry_get (entry, "variant"));
}

static gboolean
has_attempt (const PawlAskState *state, const PawlEntry *entry)
{
  for (guint i = 0; i < state->attempts->len; i++)
    {
      const PawlAttempt *attempt = state->attempts->pdata[i];

      if (attempt->entry == entry && !attempt->is_derived)
        return TRUE;
    }
  return state->again != NULL && has_attempt (state->again, entry);
}

/* An outcome or a value that the job could understand; a text that somebody wrote is neither. */
static void
keep_answer (const Way *way, const PawlEntry *entry, PawlEntry *kept)
{
  const PawlAskState *state = pawl_job_lookup_ask (way->job, pawl_entry_get_subject (entry));

  if (state != NULL && state->ask->kind != PAWL_ASK_NOTE && has_attempt (state, entry))
    pawl_entry_set (kept, "answer", pawl_entry_get (entry, "answer"));
  keep_tool (way, entry, kept);
  keep_quantity (entry, "error", kept);
  keep_quantity (entry, "step", kept);
  keep_quantity (entry, "reference", kept);
  keep_one (entry, "decimal-mark", kept, ".", ",");
  keep_one (entry, "stage", kept, "as-found", "attempt");
  keep_one (entry, "typed-over", kept, "yes");
  keep_one (entry, "blind", kept, "yes");
}

static void
keep_opening (const Way *way, const PawlEntry *entry, PawlEntry *kept)
{
  const char *policy = pawl_entry_get (entry, "policy");
  PawlPolicy known;

  pawl_entry_set (kept, "procedure", way->procedure);
  keep_variant (way, entry, kept);
  if (policy != NULL && pawl_policy_parse (policy, &known))
    pawl_entry_set (kept, "policy", policy);
}

static void
keep_finding (const Way *way, const PawlEntry *entry, PawlEntry *kept)
{
  const char *kind = pawl_entry_get (entry, "fault-kind");
  guint known;

  pawl_entry_set (kept, "learner", pawl_pseudonyms_get (way->people, pawl_entry_get (entry, "learner")));
  keep_one (entry, "found", kept, "yes", "no");
  if (kind != NULL && pawl_planted_kind_from_name (kind, &known))
    pawl_entry_set (kept, "fault-kind", kind);
}

static void
keep_fields (const Way *way, const PawlEntry *entry, PawlEntry *kept)
{
  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_OPENED:
      keep_opening (way, entry, kept);
      break;
    case PAWL_ENTRY_ANSWERED:
    case PAWL_ENTRY_REMEASURED:
      keep_answer (way, entry, kept);
      break;
    case PAWL_ENTRY_DISPOSED:
      keep_one (entry, "choice", kept, "reuse", "repair", "replace");
      keep_one (entry, "source", kept, "kit", "donor", "new", "made");
      break;
    case PAWL_ENTRY_DEVIATED:
      keep_one (entry, "what", kept, "skipped");
      pawl_entry_set (kept, "reason", LEFT_OUT);
      pawl_entry_set (kept, "accepted-by", pawl_pseudonyms_get (way->people, pawl_entry_get (entry, "accepted-by")));
      break;
    case PAWL_ENTRY_REOPENED:
      pawl_entry_set (kept, "reason", LEFT_OUT);
      break;
    case PAWL_ENTRY_GUESSED:
      keep_one (entry, "choice", kept, "right", "wrong");
      break;
    case PAWL_ENTRY_RELEASED:
      keep_one (entry, "level", kept, "hold", "witness", "review");
      break;
    case PAWL_ENTRY_IDENTIFIED:
      keep_variant (way, entry, kept);
      break;
    case PAWL_ENTRY_UNSEALED:
      keep_finding (way, entry, kept);
      break;
    default:
      break;
    }
}

/* What is a free text, or bytes, is at most the moment at which it was made. */
static PawlEntryKind
choose_kind (const PawlEntry *entry)
{
  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_PHOTO:
    case PAWL_ENTRY_LACKED:
    case PAWL_ENTRY_ARRIVED:
    case PAWL_ENTRY_TIGHTENED:
      return PAWL_ENTRY_NOTED;
    default:
      return pawl_entry_get_kind (entry);
    }
}

/* (transfer full): an id that the procedure has, or another entry's id in the file; else "" */
static char *
dup_subject (const Way *way, const PawlEntry *entry)
{
  const char *subject = pawl_entry_get_subject (entry);
  guint place = GPOINTER_TO_UINT (g_hash_table_lookup (way->places, subject));

  if (place > 0)
    return g_strdup_printf ("%s-%u", way->id, place);
  if (pawl_job_lookup_step (way->job, subject) != NULL || pawl_job_lookup_ask (way->job, subject) != NULL || pawl_job_lookup_part (way->job, subject) != NULL)
    return g_strdup (subject);
  return g_strdup ("");
}

static PawlEntryRow *
make_row (const Way *way, PawlEntry *entry, guint place)
{
  g_autofree char *subject = dup_subject (way, entry);
  g_autoptr (PawlEntry) kept = pawl_entry_new (choose_kind (entry), subject, pawl_pseudonyms_get (way->people, pawl_entry_get_person (entry)), pawl_entry_peek_at (entry));
  PawlEntryRow *row = g_new0 (PawlEntryRow, 1);

  keep_fields (way, entry, kept);
  if (pawl_entry_get (entry, "clock-shift") != NULL) /* nobody's work, also without its number */
    pawl_entry_set (kept, "clock-shift", "0");
  pawl_entry_fill_row (kept, row);
  row->id = g_strdup_printf ("%s-%u", way->id, place);
  row->job = g_strdup (way->id);
  row->number = place;
  row->previous = g_strdup ("");
  row->digest = g_strdup ("");
  row->written = g_strdup (row->at);
  return row;
}

GPtrArray *
pawl_nameless_make_rows (PawlJob *job, const char *id, const char *procedure, const PawlPseudonyms *people)
{
  GPtrArray *entries = pawl_job_get_entries (job), *rows = pawl_chain_new_rows ();
  g_autoptr (GHashTable) places = g_hash_table_new (g_str_hash, g_str_equal);
  const Way way = { job, places, people, id, procedure };

  for (guint i = 0; i < entries->len; i++)
    g_hash_table_insert (places, (gpointer) pawl_entry_get_id (entries->pdata[i]), GUINT_TO_POINTER (i + 1));
  for (guint i = 0; i < entries->len; i++)
    g_ptr_array_add (rows, make_row (&way, entries->pdata[i], i + 1));
  return rows;
}
