/* What can be wrong unseen, and was hidden without a photo of it: who went on without one, and where nobody said a word. */
#include "job/pawl-job-photos.h"
#include "report/pawl-content.h"
#include "report/pawl-words.h"

/* Each note has a line, with all that it is about. */
static void
add_note (const PawlContent *content, const PawlEntry *note)
{
  g_autofree char *time = pawl_words_time_beside (pawl_entry_peek_at (note), content->opened);
  g_autofree char *line = g_strdup_printf ("%s. Declined by %s, %s.", pawl_entry_get (note, "text"), pawl_entry_get_person (note), time);

  pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, line);
}

static void
add_silent (const PawlContent *content, GPtrArray *asks)
{
  g_autofree char *what = pawl_photos_describe (content->job, asks);
  g_autofree char *line = g_strdup_printf ("No photo, and nobody declined one, of %s.", what);

  if (asks->len > 0)
    pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, line);
}

void
pawl_content_add_unphotographed (const PawlContent *content)
{
  guint n_hidden = 0;
  g_autoptr (GPtrArray) asks = pawl_job_list_unphotographed (content->job, &n_hidden);
  g_autoptr (GPtrArray) silent = g_ptr_array_new ();
  g_autoptr (GHashTable) said = g_hash_table_new (NULL, NULL);
  g_autofree char *count = g_strdup_printf ("Photos show %u of %u fits that can be wrong unseen and are hidden now.", n_hidden - asks->len, n_hidden);

  if (asks->len == 0)
    return;
  pawl_flow_add_heading (content->flow, "Hidden without a photo");
  pawl_flow_add_text (content->flow, PAWL_LETTER_BODY, count);
  for (guint i = 0; i < asks->len; i++)
    {
      PawlAskState *ask = g_ptr_array_index (asks, i);

      if (!ask->no_photo)
        g_ptr_array_add (silent, ask);
      else if (g_hash_table_add (said, ask->no_photo))
        add_note (content, ask->no_photo);
    }
  add_silent (content, silent);
}
