#include "postgres-server.h"

#include <glib/gstdio.h>
#include <grp.h>
#include <pwd.h>
#include <signal.h>
#include <string.h>
#include <sys/prctl.h>
#include <sys/wait.h>
#include <unistd.h>

#define PATIENCE 1200 /* times 50 ms: for a busy machine */

static const struct passwd *
find_user (void)
{
  return geteuid () == 0 ? getpwnam ("postgres") : NULL;
}

/* After the fork: nobody's, and gone when the test is. */
static void
become_server (gpointer data)
{
  const struct passwd *user = data;

  if (user != NULL && (setgroups (0, NULL) != 0 || setgid (user->pw_gid) != 0 || setuid (user->pw_uid) != 0))
    _exit (127);
  prctl (PR_SET_PDEATHSIG, SIGQUIT);
}

static void
run (const char *const *arguments)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *output = NULL;
  g_autofree char *errors = NULL;
  int status;

  g_spawn_sync ("/", (char **) arguments, NULL, G_SPAWN_DEFAULT, become_server, (gpointer) find_user (), &output, &errors, &status, &error);
  g_assert_no_error (error);
  if (!g_spawn_check_wait_status (status, &error))
    g_error ("%s: %s %s", arguments[0], output, errors);
}

void
postgres_server_set_up (PostgresServer *self)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *data = NULL;
  const struct passwd *user = find_user ();

  if (geteuid () == 0 && user == NULL)
    g_error ("there is no user “postgres” to run the server as; the package postgresql makes one");
  self->folder = g_dir_make_tmp ("pawl-pg-XXXXXX", &error);
  g_assert_no_error (error);
  if (user != NULL)
    g_assert_cmpint (chown (self->folder, user->pw_uid, user->pw_gid), ==, 0);
  g_assert_cmpint (g_chmod (self->folder, 0755), ==, 0); /* the test looks for its socket */
  data = g_build_filename (self->folder, "data", NULL);
  run ((const char *const[]) { PAWL_POSTGRES_BIN "/initdb", "--pgdata", data, "--username=owner", "--auth=trust", "--encoding=UTF8", "--locale=C", "--no-sync", NULL });
  postgres_server_start (self);
}

static char *
dup_address (PostgresServer *self,
             const char     *database)
{
  return g_strdup_printf ("postgresql://owner@/%s?host=%s", database, self->folder);
}

/* After a SIGKILL the old processes may hold the memory for a moment still; then the server goes at once, and is tried again. */
static void
spawn (PostgresServer *self)
{
  g_autofree char *data = g_build_filename (self->folder, "data", NULL);
  g_autofree char *sockets = g_strdup_printf ("unix_socket_directories=%s", self->folder);
  const char *const arguments[] = {
    PAWL_POSTGRES_BIN "/postgres", "-D", data, "-c", "listen_addresses=", "-c", sockets, "-c", "max_connections=30",
    "-c", "shared_buffers=16MB", "-c", "log_min_messages=fatal", "-c", self->is_durable ? "fsync=on" : "fsync=off", NULL,
  };
  g_autoptr (GError) error = NULL;

  g_spawn_async ("/", (char **) arguments, NULL, G_SPAWN_DO_NOT_REAP_CHILD | G_SPAWN_STDERR_TO_DEV_NULL | G_SPAWN_STDOUT_TO_DEV_NULL, become_server,
                 (gpointer) find_user (), &self->pid, &error);
  g_assert_no_error (error);
}

void
postgres_server_start (PostgresServer *self)
{
  g_autofree char *address = dup_address (self, "postgres");

  for (guint i = 0; i < PATIENCE; i++)
    {
      if (self->pid == 0 || waitpid (self->pid, NULL, WNOHANG) == self->pid)
        spawn (self);
      if (PQping (address) == PQPING_OK)
        return;
      g_usleep (50 * 1000);
    }
  g_error ("the server does not come up in %s", self->folder);
}

void
postgres_server_kill (PostgresServer *self)
{
  g_assert_cmpint (kill (self->pid, SIGKILL), ==, 0);
  g_assert_cmpint (waitpid (self->pid, NULL, 0), ==, self->pid);
  self->pid = 0;
}

void
postgres_server_tear_down (PostgresServer *self)
{
  const char *const arguments[] = { "/bin/rm", "-rf", self->folder, NULL };
  int status;

  g_assert_cmpint (kill (self->pid, SIGQUIT), ==, 0);
  g_assert_cmpint (waitpid (self->pid, NULL, 0), ==, self->pid);
  g_assert_true (g_spawn_sync ("/", (char **) arguments, NULL, G_SPAWN_DEFAULT, NULL, NULL, NULL, NULL, &status, NULL));
  g_free (self->folder);
}

PGconn *
postgres_server_connect (const char *address)
{
  PGconn *connection = PQconnectdb (address);

  if (PQstatus (connection) != CONNECTION_OK)
    g_error ("%s", PQerrorMessage (connection));
  return connection;
}

char *
postgres_server_query (const char *address,
                       const char *sql)
{
  PGconn *connection = postgres_server_connect (address);
  PGresult *result = PQexec (connection, sql);
  char *text;

  if (PQresultStatus (result) != PGRES_TUPLES_OK && PQresultStatus (result) != PGRES_COMMAND_OK)
    g_error ("%s: %s", sql, PQerrorMessage (connection));
  text = g_strdup (PQntuples (result) > 0 ? PQgetvalue (result, 0, 0) : "");
  PQclear (result);
  PQfinish (connection);
  return text;
}

char *
postgres_server_make (PostgresServer *self)
{
  g_autofree char *name = g_strdup_printf ("shop%u", self->n_databases++);
  g_autofree char *sql = g_strdup_printf ("CREATE DATABASE %s", name);
  g_autofree char *first = dup_address (self, "postgres");

  g_free (postgres_server_query (first, sql));
  return dup_address (self, name);
}

char *
postgres_server_dup_for (const char *address,
                         const char *role)
{
  g_autoptr (GString) other = g_string_new (address);
  g_autofree char *user = g_strdup_printf ("//%s@", role);

  g_assert_cmpuint (g_string_replace (other, "//owner@", user, 1), ==, 1);
  return g_string_free (g_steal_pointer (&other), FALSE);
}
