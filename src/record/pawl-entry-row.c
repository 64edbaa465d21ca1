#include "record/pawl-entry-row.h"

void
pawl_entry_row_clear (PawlEntryRow *self)
{
  g_clear_pointer (&self->id, g_free);
  g_clear_pointer (&self->job, g_free);
  g_clear_pointer (&self->previous, g_free);
  g_clear_pointer (&self->kind, g_free);
  g_clear_pointer (&self->subject, g_free);
  g_clear_pointer (&self->person, g_free);
  g_clear_pointer (&self->at, g_free);
  g_clear_pointer (&self->written, g_free);
  g_clear_pointer (&self->body, g_free);
  g_clear_pointer (&self->digest, g_free);
}

/* (transfer full): with g_free() after pawl_entry_row_clear(). */
PawlEntryRow *
pawl_entry_row_copy (const PawlEntryRow *self)
{
  PawlEntryRow *copy = g_new (PawlEntryRow, 1);

  *copy = (PawlEntryRow) {
    .id = g_strdup (self->id),
    .job = g_strdup (self->job),
    .number = self->number,
    .previous = g_strdup (self->previous),
    .kind = g_strdup (self->kind),
    .subject = g_strdup (self->subject),
    .person = g_strdup (self->person),
    .at = g_strdup (self->at),
    .written = g_strdup (self->written),
    .body = g_strdup (self->body),
    .digest = g_strdup (self->digest),
  };
  return copy;
}

static char *
dup_column (sqlite3_stmt *statement,
            int           column)
{
  return g_strdup (pawl_statement_get_text (statement, column));
}

void
pawl_entry_row_read (PawlEntryRow *self,
                     sqlite3_stmt *statement)
{
  pawl_entry_row_clear (self);
  self->id = dup_column (statement, 0);
  self->job = dup_column (statement, 1);
  self->number = sqlite3_column_int64 (statement, 2);
  self->previous = dup_column (statement, 3);
  self->kind = dup_column (statement, 4);
  self->subject = dup_column (statement, 5);
  self->person = dup_column (statement, 6);
  self->at = dup_column (statement, 7);
  self->written = dup_column (statement, 8);
  self->body = dup_column (statement, 9);
  self->digest = dup_column (statement, 10);
}

/**
 * pawl_entry_row_dup_digest:
 * @self: a row with every column but the digest
 *
 * The digest of an entry: SHA-256, in lower-case hex, over these texts as UTF-8, each written as a netstring, one directly
 * after the other: "pawl-entry-1", id, job, number (decimal), previous, kind, subject, person, at, written, body.
 *
 * A netstring is the length in bytes as a decimal number, a colon, the bytes, a comma: "5:hello,"; the empty text is "0:,".
 * The length in front makes the serialisation unambiguous: nothing can be moved from one column to the next. `previous` is the
 * digest of the entry before in the same job, so each digest vouches for the whole job up to it.
 *
 * Without Pawl, with nothing but the sqlite3 and sha256sum commands (`body` and the others just as they are stored):
 * |[
 * sqlite3 record.db "SELECT '12:pawl-entry-1,' || group_concat (length (CAST (t AS BLOB)) || ':' || t || ',', '') FROM (
 *   SELECT id AS t FROM entry WHERE id = 'X' UNION ALL SELECT job FROM entry WHERE id = 'X' UNION ALL …)" | tr -d '\n' | sha256sum
 * ]|
 *
 * Source: netstrings as Bernstein describes them (1997); SHA-256 as in FIPS 180-4, by GLib.
 *
 * Returns: (transfer full): 64 hex digits
 */
char *
pawl_entry_row_dup_digest (const PawlEntryRow *self)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *number = g_strdup_printf ("%" G_GINT64_FORMAT, self->number);
  const char *const parts[] = {
    "pawl-entry-1", self->id, self->job, number, self->previous, self->kind,
    self->subject, self->person, self->at, self->written, self->body,
  };

  for (guint i = 0; i < G_N_ELEMENTS (parts); i++)
    g_string_append_printf (text, "%" G_GSIZE_FORMAT ":%s,", strlen (parts[i]), parts[i]);

  return g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) text->str, text->len);
}

/* ---- time ---- */

char *
pawl_time_to_text (GDateTime *time)
{
  return g_date_time_format (time, "%Y-%m-%dT%H:%M:%S.%f%:z");
}

GDateTime *
pawl_time_from_text (const char *text)
{
  return g_date_time_new_from_iso8601 (text, NULL);
}

gint64
pawl_time_get_usec (GDateTime *time)
{
  return g_date_time_to_unix (time) * G_USEC_PER_SEC + g_date_time_get_microsecond (time);
}
