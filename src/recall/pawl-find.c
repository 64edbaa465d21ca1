#include "recall/pawl-find.h"

/* A job that was found on the way: it stays one as long as every word so far was found in it. */
typedef struct {
  GPtrArray *said;    /* (element-type PawlSaid), borrowed */
  guint      n_words; /* found so far */
  gint64     newest;
  gboolean   is_by_mark; /* serial, work order or customer: what a job is known by comes first */
} Candidate;

G_DEFINE_QUARK (pawl-recall-error-quark, pawl_recall_error)

static void
free_candidate (Candidate *self)
{
  g_ptr_array_unref (self->said);
  g_free (self);
}

static void
free_hit (PawlHit *self)
{
  pawl_opening_free (self->opening);
  g_ptr_array_unref (self->said);
  g_free (self);
}

void
pawl_found_free (PawlFound *self)
{
  g_ptr_array_unref (self->hits);
  g_free (self);
}

static gboolean
has_letter_or_digit (const char *word)
{
  for (const char *c = word; *c != '\0'; c = g_utf8_next_char (c))
    if (g_unichar_isalnum (g_utf8_get_char (c)))
      return TRUE;
  return FALSE;
}

/* (transfer full): the words that can be looked for; a dash by itself is none. */
static char **
list_words (const char *text)
{
  g_autoptr (GStrvBuilder) words = g_strv_builder_new ();
  g_autoptr (GString) word = g_string_new (NULL);

  for (const char *c = text;; c = g_utf8_next_char (c))
    if (*c != '\0' && !g_unichar_isspace (g_utf8_get_char (c)))
      g_string_append_unichar (word, g_utf8_get_char (c));
    else
      {
        if (has_letter_or_digit (word->str))
          g_strv_builder_add (words, word->str);
        g_string_truncate (word, 0);
        if (*c == '\0')
          return g_strv_builder_end (words);
      }
}

static gboolean
is_told (const Candidate *candidate,
         const PawlSaid  *said)
{
  for (guint i = 0; i < candidate->said->len; i++)
    {
      const PawlSaid *other = candidate->said->pdata[i];

      if (g_str_equal (other->place, said->place) && g_str_equal (other->text, said->text))
        return TRUE;
    }
  return FALSE;
}

static void
take_said (GHashTable *candidates,
           PawlSaid   *said,
           guint       n_before)
{
  static const char *const marks[] = { "serial", "work order", "customer", NULL };
  Candidate *candidate = g_hash_table_lookup (candidates, said->job);

  if (candidate == NULL && n_before == 0)
    {
      candidate = g_new0 (Candidate, 1);
      candidate->said = g_ptr_array_new ();
      g_hash_table_insert (candidates, said->job, candidate);
    }
  if (candidate == NULL || candidate->n_words < n_before)
    return;

  candidate->n_words = n_before + 1;
  candidate->newest = MAX (candidate->newest, said->number);
  candidate->is_by_mark |= g_strv_contains (marks, said->place);
  if (!is_told (candidate, said))
    g_ptr_array_add (candidate->said, said);
}

static int
compare_candidates (gconstpointer a,
                    gconstpointer b)
{
  const Candidate *const *first = a;
  const Candidate *const *second = b;

  if ((*first)->is_by_mark != (*second)->is_by_mark)
    return (*first)->is_by_mark ? -1 : 1;
  return ((*first)->newest < (*second)->newest) - ((*first)->newest > (*second)->newest);
}

/* (transfer container): those in which all words were found, best first. */
static GPtrArray *
list_best (GHashTable *candidates,
           guint       n_words)
{
  GPtrArray *best = g_ptr_array_new ();
  GHashTableIter iter;
  gpointer candidate;

  g_hash_table_iter_init (&iter, candidates);
  while (g_hash_table_iter_next (&iter, NULL, &candidate))
    if (((Candidate *) candidate)->n_words == n_words)
      g_ptr_array_add (best, candidate);
  g_ptr_array_sort (best, compare_candidates);
  return best;
}

static PawlSaid *
copy_said (const PawlSaid *said)
{
  PawlSaid *copy = g_new0 (PawlSaid, 1);

  copy->number = said->number;
  copy->job = g_strdup (said->job);
  copy->entry = g_strdup (said->entry);
  copy->place = g_strdup (said->place);
  copy->text = g_strdup (said->text);
  return copy;
}

static PawlHit *
make_hit (const Candidate *candidate,
          PawlOpening     *opening) /* (transfer full) */
{
  PawlHit *hit = g_new0 (PawlHit, 1);

  hit->opening = opening;
  hit->said = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_said_free);
  for (guint i = 0; i < candidate->said->len; i++)
    g_ptr_array_add (hit->said, copy_said (candidate->said->pdata[i]));
  return hit;
}

/* A job of which the opening is lost can't be shown; verify tells of it. */
static PawlFound *
make_found (PawlRecord *record,
            GPtrArray  *best,
            guint       most,
            GError    **error)
{
  g_autoptr (PawlFound) found = g_new0 (PawlFound, 1);

  found->hits = g_ptr_array_new_with_free_func ((GDestroyNotify) free_hit);
  found->n_jobs = best->len;
  for (guint i = 0; i < best->len && found->hits->len < most; i++)
    {
      const Candidate *candidate = best->pdata[i];
      g_autoptr (GError) problem = NULL;
      PawlOpening *opening = pawl_record_load_opening (record, ((PawlSaid *) candidate->said->pdata[0])->job, &problem);

      if (opening != NULL)
        g_ptr_array_add (found->hits, make_hit (candidate, opening));
      else if (g_error_matches (problem, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_NO_SUCH_JOB))
        found->n_jobs--;
      else
        {
          g_propagate_error (error, g_steal_pointer (&problem));
          return NULL;
        }
    }
  return g_steal_pointer (&found);
}

/**
 * pawl_find:
 * @record: where to look
 * @text: words; each must be found somewhere in the job, whole or begun: "treg float" finds the job of Tregear with the float that was
 *   replaced. Capitals and accents don't matter. Nothing in it has a meaning of its own: no signs for "or" and "not"
 * @most: how many jobs are wanted at most
 * @error: %PAWL_RECALL_ERROR_NO_WORD, the errors of reading
 *
 * Finds jobs by what was said in them. Jobs that have a word in their serial, work order or customer come first, then those of which the
 * words reached this record last.
 *
 * Returns: (transfer full): the jobs; none when nothing was found
 */
PawlFound *
pawl_find (PawlRecord *record,
           const char *text,
           guint       most,
           GError    **error)
{
  g_autoptr (GHashTable) candidates = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) free_candidate);
  g_autoptr (GPtrArray) searched = g_ptr_array_new_with_free_func ((GDestroyNotify) g_ptr_array_unref);
  g_autoptr (GPtrArray) best = NULL;
  g_auto (GStrv) words = list_words (text);
  guint n_words = g_strv_length (words);

  if (n_words == 0)
    {
      g_set_error_literal (error, PAWL_RECALL_ERROR, PAWL_RECALL_ERROR_NO_WORD,
                           "there is nothing to look for: name a serial, a customer, a part, a word of a note");
      return NULL;
    }
  for (guint i = 0; i < n_words; i++)
    {
      GPtrArray *said = pawl_record_search (record, words[i], error);

      if (said == NULL)
        return NULL;
      g_ptr_array_add (searched, said); /* kept: the candidates point into it */
      for (guint j = 0; j < said->len; j++)
        take_said (candidates, said->pdata[j], i);
    }
  best = list_best (candidates, n_words);
  return make_found (record, best, most, error);
}
