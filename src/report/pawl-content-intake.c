/* What a unit was taken in with and was not right: papers with the first text may be out there, so the first page says what it was. */
#include "report/pawl-content.h"
#include "report/pawl-words.h"

/* What tells the unit and the job from others, and what was agreed: the customer is told when it was another on papers before. */
static gboolean
concerns_customer (const char *field)
{
  return g_strv_contains ((const char *[]) { "unit", "maker", "model", "serial", "work-order", "authority", NULL }, field);
}

/* (nullable): the first correction of a field. */
static const PawlCorrection *
find_first (PawlJob *job, const PawlIntakeField *field)
{
  GPtrArray *corrections = pawl_job_get_corrections (job);

  for (guint i = 0; i < corrections->len; i++)
    {
      const PawlCorrection *correction = g_ptr_array_index (corrections, i);

      if (correction->field == field)
        return correction;
    }
  return NULL;
}

/* One sentence of what is another than it was in the end: who was mistaken, and how often, is the shop's business. */
static void
add_short (const PawlContent *content)
{
  guint n_fields;
  const PawlIntakeField *fields = pawl_intake_list_fields (&n_fields);
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < n_fields; i++)
    {
      const PawlCorrection *first = find_first (content->job, &fields[i]);
      const char *now = pawl_job_get_field (content->job, fields[i].id);
      PawlCorrection whole;
      g_autofree char *change = NULL;

      if (!first || !concerns_customer (fields[i].id) || g_str_equal (first->before, now))
        continue;
      whole = (PawlCorrection) { first->entry, first->field, first->before, now };
      change = pawl_correction_describe (&whole);
      g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "Corrected since the unit was taken in: ", change);
    }
  if (text->len > 0)
    {
      g_string_append_c (text, '.');
      pawl_flow_add_space (content->flow, 4);
      pawl_flow_add_text (content->flow, PAWL_LETTER_NOTE, text->str);
    }
}

static char *
capitalise (const char *text)
{
  return g_strdup_printf ("%c%s", g_ascii_toupper (*text), text + 1);
}

static void
add_whole (const PawlContent *content)
{
  GPtrArray *corrections = pawl_job_get_corrections (content->job);

  if (corrections->len > 0)
    pawl_flow_add_heading (content->flow, "Corrected since the unit was taken in");
  for (guint i = 0; i < corrections->len; i++)
    {
      const PawlCorrection *correction = g_ptr_array_index (corrections, i);
      const PawlEntry *entry = correction->entry;
      g_autofree char *change = pawl_correction_describe (correction);
      g_autofree char *begin = capitalise (change);
      g_autofree char *time = pawl_words_time (pawl_entry_peek_at (entry));
      g_autofree char *sentence = g_strdup_printf ("%s: corrected by %s on %s, because: %s", begin, pawl_entry_get_person (entry), time,
                                                   pawl_entry_get (entry, "reason"));

      pawl_flow_add_text (content->flow, PAWL_LETTER_BODY, sentence);
    }
}

void
pawl_content_add_corrections (const PawlContent *content)
{
  if (pawl_content_is_for_customer (content))
    add_short (content);
  else
    add_whole (content);
}
