/* A real server for a test: started from the system's PostgreSQL in a folder of its own, reached by a socket in it and by nothing else. */
#pragma once

#include <libpq-fe.h>

#include <glib.h>

typedef struct {
  char *folder;
  GPid  pid; /* 0 while it is down */
  guint n_databases;
  gboolean is_durable; /* it syncs what it acknowledges; said before it is set up */
} PostgresServer;

/* All assert that they work. As root, the server is run as the user “postgres”, because it refuses to be run by root. */
void  postgres_server_set_up    (PostgresServer *self);
void  postgres_server_start     (PostgresServer *self);
void  postgres_server_kill      (PostgresServer *self); /* SIGKILL, in the middle of whatever it does */
void  postgres_server_tear_down (PostgresServer *self);
/* (transfer full): the address of a database that is new and empty. */
char *postgres_server_make      (PostgresServer *self);
/* (transfer full): the same database for another role. */
char *postgres_server_dup_for   (const char *address, const char *role);
/* As the owner, past Pawl: (transfer full): the first column of the first row, "" when there is none. */
char *postgres_server_query     (const char *address, const char *sql);
/* (transfer full): a connection of one's own. */
PGconn *postgres_server_connect (const char *address);
