/*
 * Entries and bytes go in and never change: triggers refuse it to everybody, the owner of the database included, and benches are granted
 * nothing but SELECT and INSERT. A place is given under a lock that a sender holds until it commits (pawl-store-postgres.c), so that places
 * become visible in their order.
 */
#include "share/pawl-store-sql.h"

const char *
pawl_store_sql_peek_tables (void)
{
  return
    "CREATE SCHEMA pawl;\n"
    "\n"
    "-- What this set calls itself, so that a bench notices when it comes to another one.\n"
    "CREATE TABLE pawl.shop (\n"
    "  version integer NOT NULL,\n"
    "  id      text    NOT NULL\n"
    ");\n"
    "INSERT INTO pawl.shop (version, id) VALUES (1, gen_random_uuid ()::text);\n"
    "\n"
    "CREATE TABLE pawl.entry (\n"
    "  place    bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY, -- counted up as entries arrive\n"
    "  id       text   NOT NULL UNIQUE,\n"
    "  job      text   NOT NULL,\n"
    "  number   bigint NOT NULL,\n"
    "  previous text   NOT NULL,\n"
    "  kind     text   NOT NULL,\n"
    "  subject  text   NOT NULL,\n"
    "  person   text   NOT NULL,\n"
    "  at       text   NOT NULL,\n"
    "  written  text   NOT NULL,\n"
    "  body     text   NOT NULL,\n"
    "  digest   text   NOT NULL -- SHA-256 over all columns but place, as in a bench's record\n"
    ");\n"
    "CREATE INDEX entry_by_job ON pawl.entry (job);\n"
    "\n"
    "CREATE TABLE pawl.kept (\n"
    "  digest     text  NOT NULL PRIMARY KEY CHECK (digest = encode (sha256 (bytes), 'hex')),\n"
    "  media_type text  NOT NULL,\n"
    "  bytes      bytea NOT NULL\n"
    ");\n"
    "\n"
    "CREATE FUNCTION pawl.refuse () RETURNS trigger LANGUAGE plpgsql AS\n"
    "  $$ BEGIN RAISE EXCEPTION 'what a shop shares is never changed'; END $$;\n"
    "CREATE TRIGGER never_changed BEFORE UPDATE OR DELETE OR TRUNCATE ON pawl.shop  FOR EACH STATEMENT EXECUTE FUNCTION pawl.refuse ();\n"
    "CREATE TRIGGER never_changed BEFORE UPDATE OR DELETE OR TRUNCATE ON pawl.entry FOR EACH STATEMENT EXECUTE FUNCTION pawl.refuse ();\n"
    "CREATE TRIGGER never_changed BEFORE UPDATE OR DELETE OR TRUNCATE ON pawl.kept  FOR EACH STATEMENT EXECUTE FUNCTION pawl.refuse ();\n";
}

const char *
pawl_store_sql_peek_grants (void)
{
  return
    "GRANT USAGE ON SCHEMA pawl TO bench;\n"
    "GRANT SELECT ON pawl.shop TO bench;\n"
    "GRANT SELECT, INSERT ON pawl.entry, pawl.kept TO bench;\n";
}
