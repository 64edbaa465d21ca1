#include "report/pawl-issue.h"

#include "report/pawl-words.h"

/* So many changes are listed; how many more there are is said. */
#define MOST_CHANGES 40

gboolean
pawl_issue_is_one (const PawlEntry *entry)
{
  return pawl_entry_get_kind (entry) == PAWL_ENTRY_NOTED && pawl_entry_get (entry, "issued");
}

/* The newest issue of @print (of @version, when that is not 0); NULL when there is none. */
static const PawlEntry *
find_issue (PawlJob *job, PawlPrint print, guint version)
{
  GPtrArray *entries = pawl_job_get_entries (job);

  for (guint i = entries->len; i > 0; i--)
    {
      const PawlEntry *entry = g_ptr_array_index (entries, i - 1);
      const char *number = pawl_issue_is_one (entry) ? pawl_entry_get (entry, "version") : NULL;

      if (number && g_str_equal (pawl_entry_get (entry, "issued"), pawl_print_get_name (print))
          && (version == 0 || g_ascii_strtoull (number, NULL, 10) == version))
        return entry;
    }
  return NULL;
}

guint
pawl_issue_next_version (PawlJob *job, PawlPrint print)
{
  const PawlEntry *last = find_issue (job, print, 0);

  return last ? (guint) g_ascii_strtoull (pawl_entry_get (last, "version"), NULL, 10) + 1 : 1;
}

const char *
pawl_issue_find (PawlJob *job, PawlPrint print, guint version)
{
  const PawlEntry *issue = version > 0 ? find_issue (job, print, version) : NULL;

  return issue ? pawl_entry_get (issue, "digest") : NULL;
}

/* ---- what changed ---- */

static char *say_entry (PawlJob *job, const PawlEntry *entry);

/* "taken back: Float drop (step 52): 1 5/8; read on the wrong face". */
static char *
say_undone (PawlJob *job, const PawlEntry *entry)
{
  GPtrArray *entries = pawl_job_get_entries (job);
  const char *reason = pawl_entry_get (entry, "reason");
  g_autofree char *what = NULL;

  for (guint i = 0; i < entries->len && !what; i++)
    if (g_str_equal (pawl_entry_get_id (entries->pdata[i]), pawl_entry_get_subject (entry)))
      what = say_entry (job, entries->pdata[i]);
  return g_strdup_printf ("taken back: %s%s%s", what ? what : "an entry", reason ? "; " : "", reason ? reason : "");
}

static char *
say_corrected (PawlJob *job, const PawlEntry *entry)
{
  g_autofree char *what = pawl_job_describe_corrected (job, entry);

  return g_strdup_printf ("what was taken in, corrected: %s", what);
}

/* What happened and what was said, without who and when; NULL for what changes no report. */
static char *
say_entry (PawlJob *job, const PawlEntry *entry)
{
  g_autofree char *subject = pawl_words_subject (job, pawl_entry_get_subject (entry));

  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_ANSWERED:
      return g_strdup_printf ("%s: %s", subject, pawl_entry_get (entry, "answer"));
    case PAWL_ENTRY_WAIT_STARTED:
      return g_strdup_printf ("%s: started", subject);
    case PAWL_ENTRY_WAIT_ENDED:
      return g_strdup_printf ("%s: ended", subject);
    case PAWL_ENTRY_DISPOSED:
      return g_strdup_printf ("%s: %s", subject, pawl_entry_get (entry, "choice"));
    case PAWL_ENTRY_STEP_DONE:
      return g_strdup_printf ("%s Done.", subject);
    case PAWL_ENTRY_DEVIATED:
      return g_strdup_printf ("%s: a deviation, %s", subject, pawl_entry_get (entry, "reason"));
    case PAWL_ENTRY_REOPENED:
      return g_strdup_printf ("%s To be done again: %s", subject, pawl_entry_get (entry, "reason"));
    case PAWL_ENTRY_UNDONE:
      return say_undone (job, entry);
    case PAWL_ENTRY_NOTED:
      return pawl_issue_is_one (entry) ? NULL : g_strdup_printf ("a note: %s", pawl_entry_get (entry, "text"));
    case PAWL_ENTRY_PHOTO:
      return g_strdup_printf ("a photo: %s", pawl_entry_get (entry, "caption") ? pawl_entry_get (entry, "caption") : "without a caption");
    case PAWL_ENTRY_RELEASED:
      return g_strdup_printf ("%s Released.", subject);
    case PAWL_ENTRY_LACKED:
      return g_strdup_printf ("%s: not there", subject);
    case PAWL_ENTRY_IDENTIFIED:
      return g_strdup_printf ("another variant: %s", pawl_entry_get (entry, "variant"));
    case PAWL_ENTRY_CORRECTED:
      return say_corrected (job, entry);
    case PAWL_ENTRY_ARRIVED:
      return g_strdup_printf ("%s: arrived", subject);
    case PAWL_ENTRY_SIGNED:
      return g_strdup ("the signature");
    case PAWL_ENTRY_OPENED:
    case PAWL_ENTRY_INSTRUMENT_STATED:
    case PAWL_ENTRY_INSTRUMENT_CALIBRATED:
    case PAWL_ENTRY_INSTRUMENT_RETIRED:
    default:
      return NULL;
    }
}

char **
pawl_issue_list_changes (PawlJob *job, PawlPrint print)
{
  GPtrArray *entries = pawl_job_get_entries (job);
  const PawlEntry *last = find_issue (job, print, 0);
  g_autoptr (GStrvBuilder) builder = g_strv_builder_new ();
  gboolean is_after = FALSE;
  guint n = 0;

  for (guint i = 0; last && i < entries->len; i++)
    {
      const PawlEntry *entry = g_ptr_array_index (entries, i);
      g_autofree char *what = is_after ? say_entry (job, entry) : NULL;
      g_autofree char *time = pawl_words_time (pawl_entry_peek_at (entry));
      g_autofree char *sentence = what ? g_strdup_printf ("%s, %s: %s", time, pawl_entry_get_person (entry), what) : NULL;

      is_after = is_after || entry == last;
      if (sentence && n++ < MOST_CHANGES)
        g_strv_builder_add (builder, sentence);
    }
  if (n > MOST_CHANGES)
    {
      g_autofree char *rest = g_strdup_printf ("and %u more entries", n - MOST_CHANGES);

      g_strv_builder_add (builder, rest);
    }
  if (last && n == 0)
    g_strv_builder_add (builder, "Nothing was entered since; what the shop says of itself may differ.");
  return g_strv_builder_end (builder);
}

PawlEntry *
pawl_issue_new_entry (PawlPrint print, guint version, guint n_pages, const char *digest, const char *person, GDateTime *at)
{
  PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_NOTED, "", person, at);
  g_autofree char *number = g_strdup_printf ("%u", version);
  g_autofree char *text = g_strdup_printf ("Report issued: %s print, version %u, %u pages, SHA-256 %s", pawl_print_get_name (print), version, n_pages, digest);

  pawl_entry_set (entry, "text", text);
  pawl_entry_set (entry, "issued", pawl_print_get_name (print));
  pawl_entry_set (entry, "version", number);
  pawl_entry_set (entry, "digest", digest);
  return entry;
}
