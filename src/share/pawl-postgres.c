#include "share/pawl-postgres.h"

#include <poll.h>
#include <string.h>

/* So short that a bench without the network goes on at once; a shop's own network needs a hundredth of it. */
#define CONNECT_MSEC 3000
/* As long as nothing comes or goes. */
#define ANSWER_MSEC 30000

#define INSUFFICIENT_PRIVILEGE "42501"

/* ---- addresses ---- */

static gboolean
refuse_address (GError **error)
{
  g_set_error_literal (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_ADDRESS,
                       "the address of the server can't be read; it is written postgresql://USER@HOST:PORT/DATABASE, or postgresql:///DATABASE on this machine");
  return FALSE;
}

static const char *
get_option (PQconninfoOption *options,
            const char       *keyword)
{
  for (; options != NULL && options->keyword != NULL; options++)
    if (g_str_equal (options->keyword, keyword))
      return options->val;
  return NULL;
}

/* libpq's own message quotes what it did not understand, which may be the password. */
char *
pawl_postgres_dup_address (const char *uri,
                           GError    **error)
{
  PQconninfoOption *options = PQconninfoParse (uri, NULL);
  const char *user = get_option (options, "user");
  const char *host = get_option (options, "host") != NULL ? get_option (options, "host") : get_option (options, "hostaddr");
  const char *port = get_option (options, "port");
  const char *name = get_option (options, "dbname");
  char *address = NULL;

  if (options != NULL)
    address = g_strdup_printf ("postgresql://%s%s%s%s%s/%s", user != NULL ? user : "", user != NULL ? "@" : "", host != NULL ? host : "",
                               port != NULL ? ":" : "", port != NULL ? port : "", name != NULL ? name : "");
  else
    refuse_address (error);
  PQconninfoFree (options);
  return address;
}

char *
pawl_postgres_dup_place (const char *uri,
                         GError    **error)
{
  static const char *const telling[] = { "service", "host", "hostaddr", "port", "dbname", "user" };
  PQconninfoOption *options = PQconninfoParse (uri, NULL);
  PQconninfoOption *defaults = PQconndefaults ();
  GString *place = g_string_new (NULL);

  for (guint i = 0; i < G_N_ELEMENTS (telling); i++)
    {
      const char *value = get_option (options, telling[i]);

      if (value == NULL)
        value = get_option (defaults, telling[i]);
      g_string_append_printf (place, "%s=%s\n", telling[i], value != NULL ? value : "");
    }
  if (options == NULL)
    {
      refuse_address (error);
      g_string_free (place, TRUE);
    }
  PQconninfoFree (defaults);
  if (options == NULL)
    return NULL;
  PQconninfoFree (options);
  return g_string_free (place, FALSE);
}

/* ---- errors ---- */

/* Never more than one line, and without its end. */
static char *
dup_line (const char *message)
{
  char *line = g_utf8_make_valid (message != NULL ? message : "", -1);

  g_strstrip (line);
  g_strdelimit (line, "\n\t", ' ');
  return line;
}

static void
set_away (PawlPostgres *self,
          const char   *why,
          GError      **error)
{
  g_autofree char *line = dup_line (why);

  g_set_error (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_AWAY, "%s: the server is away: %s", pawl_store_get_address (self->store), line);
  pawl_postgres_close (self);
}

/* A server that is being shut down says so before it hangs up. */
static gboolean
is_parting (const char *state)
{
  return state != NULL && (g_str_has_prefix (state, "57P") || g_str_has_prefix (state, "08"));
}

static void
set_result_error (PawlPostgres   *self,
                  const PGresult *result,
                  GError        **error)
{
  const char *state = PQresultErrorField (result, PG_DIAG_SQLSTATE);
  const char *message = PQresultErrorField (result, PG_DIAG_MESSAGE_PRIMARY);
  g_autofree char *line = dup_line (message != NULL ? message : PQresultErrorMessage (result));
  PawlStoreError code = g_strcmp0 (state, INSUFFICIENT_PRIVILEGE) == 0 ? PAWL_STORE_ERROR_NOT_ALLOWED : PAWL_STORE_ERROR_FAILED;

  if (PQstatus (self->handle) == CONNECTION_BAD || is_parting (state))
    set_away (self, line, error);
  else
    g_set_error (error, PAWL_STORE_ERROR, (int) code, "%s: the server refuses: %s", pawl_store_get_address (self->store), line);
}

/* ---- waiting ---- */

/* FALSE with an error when the time is over, or the store was told to stop. */
static gboolean
wait_for (PawlPostgres *self,
          short         events,
          int           timeout_msec,
          GError      **error)
{
  GCancellable *cancellable = pawl_store_get_cancellable (self->store);
  struct pollfd fds[] = {
    { .fd = PQsocket (self->handle), .events = events },
    { .fd = cancellable != NULL ? g_cancellable_get_fd (cancellable) : -1, .events = POLLIN },
  };
  int n = poll (fds, 2, timeout_msec);
  gboolean is_stopped = n > 0 && fds[1].revents != 0;

  if (cancellable != NULL)
    g_cancellable_release_fd (cancellable);
  if (is_stopped)
    set_away (self, "it was not waited for", error);
  else if (n == 0)
    set_away (self, "it does not answer", error);
  return n != 0 && !is_stopped;
}

/* What is told of, and what this connection told itself of. */
static gboolean
take_news (PawlPostgres *self)
{
  gboolean is_news = FALSE;
  PGnotify *notify;

  while ((notify = PQnotifies (self->handle)) != NULL)
    {
      is_news = is_news || notify->be_pid != PQbackendPID (self->handle);
      PQfreemem (notify);
    }
  return is_news;
}

void
pawl_postgres_wait (PawlPostgres *self,
                    int           wake_fd,
                    int           timeout_msec)
{
  gint64 end_usec = g_get_monotonic_time () + (gint64) timeout_msec * 1000;
  gboolean is_open = self->handle != NULL;

  while (!is_open || !take_news (self))
    {
      struct pollfd fds[] = {
        { .fd = wake_fd, .events = POLLIN },
        { .fd = is_open ? PQsocket (self->handle) : -1, .events = POLLIN },
      };
      gint64 left_msec = (end_usec - g_get_monotonic_time ()) / 1000;
      int n = poll (fds, 2, timeout_msec < 0 ? -1 : (int) MAX (left_msec, 0));

      if (n <= 0 || fds[0].revents != 0)
        return;
      if (PQconsumeInput (self->handle) != 1)
        return; /* gone: the next question finds out and says so */
    }
}

/* ---- connecting ---- */

void
pawl_postgres_close (PawlPostgres *self)
{
  PQfinish (g_steal_pointer (&self->handle)); /* NULL is allowed */
}

/* Notices of the server are for its administrator. */
static void
drop_notice (void       *data,
             const char *message)
{
}

static gboolean
finish_connecting (PawlPostgres *self,
                   GError      **error)
{
  gint64 end_usec = g_get_monotonic_time () + CONNECT_MSEC * 1000;
  PostgresPollingStatusType status = PQstatus (self->handle) == CONNECTION_BAD ? PGRES_POLLING_FAILED : PGRES_POLLING_WRITING;

  while (status != PGRES_POLLING_OK && status != PGRES_POLLING_FAILED)
    {
      gint64 left_msec = (end_usec - g_get_monotonic_time ()) / 1000;

      if (!wait_for (self, status == PGRES_POLLING_READING ? POLLIN : POLLOUT, (int) MAX (left_msec, 0), error))
        return FALSE;
      status = PQconnectPoll (self->handle);
    }
  if (status == PGRES_POLLING_OK)
    return TRUE;

  if (PQconnectionNeedsPassword (self->handle))
    set_away (self, "it wants a password; put it into ~/.pgpass, or into the file that PGPASSFILE names", error);
  else
    set_away (self, PQerrorMessage (self->handle), error);
  return FALSE;
}

gboolean
pawl_postgres_connect (PawlPostgres *self,
                       const char   *uri,
                       GError      **error)
{
  const char *const keywords[] = { "dbname", "client_encoding", "fallback_application_name", NULL };
  const char *const values[] = { uri, "UTF8", "pawl", NULL };

  pawl_postgres_close (self);
  self->handle = PQconnectStartParams (keywords, values, 1);
  if (self->handle == NULL)
    g_error ("out of memory"); /* as GLib does */
  PQsetNoticeProcessor (self->handle, drop_notice, NULL);
  pawl_store_count_trip (self->store);
  if (!finish_connecting (self, error))
    return FALSE;
  PQsetnonblocking (self->handle, 1);
  return TRUE;
}

/* ---- statements ---- */

static gboolean
fail_connection (PawlPostgres *self,
                 GError      **error)
{
  set_away (self, PQerrorMessage (self->handle), error);
  return FALSE;
}

static gboolean
flush (PawlPostgres *self,
       GError      **error)
{
  int left;

  while ((left = PQflush (self->handle)) > 0)
    if (!wait_for (self, POLLIN | POLLOUT, ANSWER_MSEC, error))
      return FALSE;
    else if (PQconsumeInput (self->handle) != 1)
      return fail_connection (self, error);

  return left == 0 || fail_connection (self, error);
}

/* The next result, NULL when there is no more. */
static gboolean
read_result (PawlPostgres *self,
             PGresult    **result,
             GError      **error)
{
  while (PQisBusy (self->handle))
    if (!wait_for (self, POLLIN, ANSWER_MSEC, error))
      return FALSE;
    else if (PQconsumeInput (self->handle) != 1)
      return fail_connection (self, error);

  *result = PQgetResult (self->handle);
  return TRUE;
}

static gboolean
is_good (const PGresult *result)
{
  ExecStatusType status = PQresultStatus (result);

  return status == PGRES_TUPLES_OK || status == PGRES_COMMAND_OK;
}

/* The last result, or the first that is an error; all are read, so that the next statement can be sent. */
static PGresult *
read_results (PawlPostgres *self,
              GError      **error)
{
  g_autoptr (PGresult) kept = NULL;
  PGresult *next = NULL;

  while (read_result (self, &next, error))
    {
      if (next == NULL && kept == NULL)
        fail_connection (self, error);
      if (next == NULL && kept != NULL && !is_good (kept))
        set_result_error (self, kept, error);
      if (next == NULL)
        return kept != NULL && is_good (kept) ? g_steal_pointer (&kept) : NULL;
      if (kept != NULL && !is_good (kept))
        {
          PQclear (next);
          continue;
        }
      PQclear (kept);
      kept = next;
    }
  return NULL;
}

static gboolean
send (PawlPostgres            *self,
      const char              *sql,
      const PawlPostgresValue *values,
      int                      n,
      gboolean                 is_binary)
{
  g_autofree const char **texts = g_new0 (const char *, (gsize) n + 1);
  g_autofree int *lengths = g_new0 (int, (gsize) n + 1);
  g_autofree int *formats = g_new0 (int, (gsize) n + 1);

  for (int i = 0; i < n; i++)
    {
      texts[i] = values[i].text;
      if (values[i].bytes == NULL)
        continue;
      texts[i] = g_bytes_get_size (values[i].bytes) > 0 ? g_bytes_get_data (values[i].bytes, NULL) : "";
      lengths[i] = (int) g_bytes_get_size (values[i].bytes);
      formats[i] = 1;
    }
  if (n == 0 && !is_binary)
    return PQsendQuery (self->handle, sql) == 1;
  return PQsendQueryParams (self->handle, sql, n, NULL, texts, lengths, formats, is_binary) == 1;
}

PGresult *
pawl_postgres_run (PawlPostgres            *self,
                   const char              *sql,
                   const PawlPostgresValue *values,
                   int                      n,
                   gboolean                 is_binary,
                   GError                 **error)
{
  if (self->handle == NULL)
    {
      set_away (self, "it was not reached", error);
      return NULL;
    }
  pawl_store_count_trip (self->store);
  if (!send (self, sql, values, n, is_binary))
    {
      fail_connection (self, error);
      return NULL;
    }
  return flush (self, error) ? read_results (self, error) : NULL;
}

gboolean
pawl_postgres_do (PawlPostgres *self,
                  const char   *sql,
                  GError      **error)
{
  g_autoptr (PGresult) result = pawl_postgres_run (self, sql, NULL, 0, FALSE, error);

  return result != NULL;
}

void
pawl_postgres_roll_back (PawlPostgres *self)
{
  if (self->handle != NULL && PQtransactionStatus (self->handle) != PQTRANS_IDLE)
    pawl_postgres_do (self, "ROLLBACK", NULL);
}

char *
pawl_postgres_dup_array (GPtrArray       *items,
                         PawlPostgresText get_text)
{
  GString *array = g_string_new ("{");

  for (guint i = 0; i < items->len; i++)
    {
      g_string_append (array, i > 0 ? ",\"" : "\"");
      for (const char *c = get_text (items->pdata[i]); *c != '\0'; c++)
        {
          if (*c == '"' || *c == '\\')
            g_string_append_c (array, '\\');
          g_string_append_c (array, *c);
        }
      g_string_append_c (array, '"');
    }
  g_string_append_c (array, '}');
  return g_string_free (array, FALSE);
}
