#include "cli/pawl-cli-share.h"

#include <stdio.h>

#include "cli/pawl-cli.h"
#include "share/pawl-address.h"

static struct {
  PawlRecord *copy;  /* (nullable): our own connection, beside the command's */
  PawlShare  *share;
  gboolean    is_there; /* the server was, when it was tried last */
  gboolean    is_said;  /* what is to be said of it was */
} shared;

/* ---- before ---- */

static void
sync_and_say (const char *command)
{
  g_autoptr (GError) error = NULL;

  shared.is_there = pawl_share_sync (shared.share, NULL, &error);
  if (!shared.is_there)
    pawl_cli_complain (command, "%s", error->message);
}

gboolean
pawl_cli_share_begin (const char *address, gboolean is_again, GError **error)
{
  g_autoptr (PawlStore) store = NULL;

  if (shared.share != NULL)
    return TRUE;
  if (!(store = pawl_address_new_store (address, error))
      || !(shared.copy = pawl_address_open_copy (address, NULL, PAWL_RECORD_OPEN_CREATE, NULL, error)))
    return FALSE;
  shared.share = pawl_share_new (shared.copy, store);
  if (is_again && !pawl_share_start_over (shared.share, error))
    return FALSE;
  sync_and_say ("pawl");
  return TRUE;
}

PawlRecord *
pawl_cli_share_open (const char *address, PawlRecordOpen how, GError **error)
{
  return pawl_cli_share_begin (address, FALSE, error)
         ? pawl_address_open_copy (address, NULL, how, pawl_record_host_get_system (), error) : NULL;
}

/* ---- saying ---- */

/* "14:02", with its day when that is another one. */
static char *
format_since (gint64 usec)
{
  g_autoptr (GDateTime) utc = g_date_time_new_from_unix_utc (usec / G_USEC_PER_SEC);
  g_autoptr (GDateTime) since = g_date_time_to_local (utc);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  gboolean is_today = g_date_time_get_year (since) == g_date_time_get_year (now) && g_date_time_get_day_of_year (since) == g_date_time_get_day_of_year (now);

  return g_date_time_format (since, is_today ? "%H:%M" : "%Y-%m-%d %H:%M");
}

static char *
describe (const PawlCopyState *state)
{
  g_autofree char *since = state->away_usec != 0 ? format_since (state->away_usec) : NULL;
  g_autofree char *waiting = state->n_waiting == 0 ? g_strdup ("nothing waits")
                             : g_strdup_printf ("%u %s", state->n_waiting, state->n_waiting == 1 ? "entry waits" : "entries wait");

  if (since != NULL)
    return g_strdup_printf ("server away since %s: %s", since, waiting);
  return state->n_waiting == 0 ? g_strdup ("the server has all of it") : g_steal_pointer (&waiting);
}

static gboolean
print_refused (void)
{
  g_autoptr (GPtrArray) refused = pawl_copy_list_refused (shared.copy, NULL);

  for (guint i = 0; refused != NULL && i < refused->len; i++)
    {
      const PawlCopyRefusal *one = refused->pdata[i];

      printf ("job %.8s: not taken from the server: %s\n", one->job, one->reason);
    }
  return refused != NULL && refused->len == 0;
}

gboolean
pawl_cli_share_print (void)
{
  g_auto (PawlCopyState) state = { 0 };
  g_autofree char *words = NULL;

  if (shared.share == NULL || !pawl_copy_load_state (shared.copy, &state, NULL))
    return TRUE;
  words = describe (&state);
  printf ("%s: %s\n", state.address, words);
  shared.is_said = TRUE;
  return print_refused () && state.away_usec == 0 && state.n_waiting == 0;
}

/* ---- after ---- */

static void
say_what_waits (const char *command)
{
  g_auto (PawlCopyState) state = { 0 };
  g_autofree char *words = NULL;

  if (shared.is_said || !pawl_copy_load_state (shared.copy, &state, NULL) || state.n_waiting == 0)
    return;
  words = describe (&state);
  pawl_cli_complain (command, "%s: %s", state.address, words);
}

/* A server that was away a moment ago is not waited for once more. */
void
pawl_cli_share_finish (const char *command)
{
  g_auto (PawlCopyState) state = { 0 };

  if (shared.share == NULL)
    return;
  if (shared.is_there && pawl_copy_load_state (shared.copy, &state, NULL) && state.n_waiting > 0)
    sync_and_say (command);
  say_what_waits (command);
  g_clear_pointer (&shared.share, pawl_share_free);
  g_clear_object (&shared.copy);
}

/* ---- verify ---- */

gboolean
pawl_cli_share_compare (const char *job_id, GPtrArray *findings, GError **error)
{
  g_autoptr (GPtrArray) there = NULL;

  if (shared.share == NULL || !shared.is_there)
    return TRUE;
  if (!(there = pawl_share_compare (shared.share, error)))
    return FALSE;
  while (there->len > 0)
    {
      PawlRecordFinding *finding = g_ptr_array_steal_index (there, 0);

      if (job_id == NULL || g_str_equal (finding->job_id, job_id))
        g_ptr_array_add (findings, finding);
      else
        pawl_record_finding_free (finding);
    }
  return TRUE;
}
