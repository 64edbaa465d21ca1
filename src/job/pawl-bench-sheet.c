/* The bench sheet: rows of a CSV file, and the entries that they make. */
#include "job/pawl-bench-sheet.h"
#include "job/pawl-job-photos.h"
#include "job/pawl-job-private.h"

#include <string.h>

G_DEFINE_QUARK (pawl-bench-sheet-error-quark, pawl_bench_sheet_error)

#define MAX_SHEET_BYTES (4 * 1024 * 1024)

/* ---- CSV, RFC 4180 ---- */

typedef struct {
  const char *cursor;
  const char *name;
  int         line;
} CsvReader;

static gboolean
fail_row (GError **error, PawlBenchSheetError code, const char *name, int line, const char *what)
{
  g_set_error (error, PAWL_BENCH_SHEET_ERROR, (int) code, "%s:%d: %s", name, line, what);
  return FALSE;
}

/* Takes one quoted field; the cursor stands behind the opening quote. */
static gboolean
read_quoted (CsvReader *reader, GString *field, GError **error)
{
  int first_line = reader->line;

  for (; *reader->cursor != '\0'; reader->cursor++)
    {
      if (*reader->cursor == '"')
        {
          if (reader->cursor[1] != '"')
            {
              reader->cursor++;
              if (*reader->cursor != '\0' && strchr (",\r\n", *reader->cursor) == NULL)
                return fail_row (error, PAWL_BENCH_SHEET_ERROR_NOT_CSV, reader->name, reader->line,
                                 "text after a closing quote; a quote inside a field is written twice");
              return TRUE;
            }
          reader->cursor++;
        }
      else if (*reader->cursor == '\n')
        reader->line++;
      g_string_append_c (field, *reader->cursor);
    }
  return fail_row (error, PAWL_BENCH_SHEET_ERROR_NOT_CSV, reader->name, first_line, "a quoted field is never closed");
}

static gboolean
read_field (CsvReader *reader, GPtrArray *fields, GError **error)
{
  g_autoptr(GString) field = g_string_new (NULL);

  if (*reader->cursor == '"')
    {
      reader->cursor++;
      if (!read_quoted (reader, field, error))
        return FALSE;
    }
  else
    {
      size_t length = strcspn (reader->cursor, ",\r\n");

      g_string_append_len (field, reader->cursor, (gssize) length);
      reader->cursor += length;
    }
  g_ptr_array_add (fields, g_strstrip (g_string_free (g_steal_pointer (&field), FALSE)));
  return TRUE;
}

/* Takes one record; TRUE with an empty array for a blank line. */
static GPtrArray *
read_record (CsvReader *reader, GError **error)
{
  g_autoptr(GPtrArray) fields = g_ptr_array_new_with_free_func (g_free);

  while (TRUE)
    {
      if (!read_field (reader, fields, error))
        return NULL;
      if (*reader->cursor != ',')
        break;
      reader->cursor++;
    }
  if (*reader->cursor == '\r')
    reader->cursor++;
  if (*reader->cursor == '\n')
    {
      reader->cursor++;
      reader->line++;
    }
  return g_steal_pointer (&fields);
}

/* ---- rows ---- */

static const struct { const char *name; size_t offset; } columns[] = {
  { "at", G_STRUCT_OFFSET (PawlSheetRow, at) },
  { "step", G_STRUCT_OFFSET (PawlSheetRow, step) },
  { "item", G_STRUCT_OFFSET (PawlSheetRow, item) },
  { "answer", G_STRUCT_OFFSET (PawlSheetRow, answer) },
  { "instrument", G_STRUCT_OFFSET (PawlSheetRow, instrument) },
  { "person", G_STRUCT_OFFSET (PawlSheetRow, person) },
  { "source", G_STRUCT_OFFSET (PawlSheetRow, source) },
  { "lot", G_STRUCT_OFFSET (PawlSheetRow, lot) },
  { "deviation", G_STRUCT_OFFSET (PawlSheetRow, deviation) },
  { "accepted-by", G_STRUCT_OFFSET (PawlSheetRow, accepted_by) },
  { "note", G_STRUCT_OFFSET (PawlSheetRow, note) },
};

static char **
get_cell (PawlSheetRow *row, guint column)
{
  return G_STRUCT_MEMBER_P (row, columns[column].offset);
}

static void
row_free (gpointer data)
{
  PawlSheetRow *row = data;

  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    g_free (*get_cell (row, i));
  g_free (row);
}

/* Which column each field of a record belongs to, from the header line. */
static GArray *
read_header (CsvReader *reader, GError **error)
{
  g_autoptr(GPtrArray) fields = read_record (reader, error);
  g_autoptr(GArray) map = g_array_new (FALSE, FALSE, sizeof (guint));
  gboolean has_item = FALSE;

  if (fields == NULL)
    return NULL;
  if (fields->len == 1 && *(char *) fields->pdata[0] == '\0')
    {
      fail_row (error, PAWL_BENCH_SHEET_ERROR_NOT_CSV, reader->name, 1, "the first line is empty; it names the columns, as in item,answer,person");
      return NULL;
    }
  for (guint i = 0; i < fields->len; i++)
    {
      guint column = 0;

      while (column < G_N_ELEMENTS (columns) && !g_str_equal (columns[column].name, fields->pdata[i]))
        column++;
      if (column == G_N_ELEMENTS (columns))
        {
          g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_NOT_CSV,
                       "%s:1: there is no column “%s”; the columns, with commas between, are at, step, item, answer, instrument, person, source, lot, deviation, accepted-by, note",
                       reader->name, (char *) fields->pdata[i]);
          return NULL;
        }
      has_item = has_item || g_str_equal (columns[column].name, "item");
      g_array_append_val (map, column);
    }
  if (!has_item)
    {
      fail_row (error, PAWL_BENCH_SHEET_ERROR_NOT_CSV, reader->name, 1, "the header line has no column “item”");
      return NULL;
    }
  return g_steal_pointer (&map);
}

static PawlSheetRow *
make_row (GPtrArray *fields, GArray *map, int line)
{
  PawlSheetRow *row = g_new0 (PawlSheetRow, 1);

  row->line = line;
  for (guint i = 0; i < fields->len; i++)
    *get_cell (row, g_array_index (map, guint, i)) = g_strdup (fields->pdata[i]);
  for (guint i = 0; i < G_N_ELEMENTS (columns); i++)
    if (*get_cell (row, i) == NULL)
      *get_cell (row, i) = g_strdup ("");
  return row;
}

/* What was left open says nothing, whatever else stands on its row. */
static void
add_row (GPtrArray *rows, PawlSheetRow *row)
{
  if (g_str_equal (row->answer, PAWL_BENCH_SHEET_OPEN))
    row_free (row);
  else
    g_ptr_array_add (rows, row);
}

static gboolean
is_blank (GPtrArray *fields)
{
  for (guint i = 0; i < fields->len; i++)
    if (*(char *) fields->pdata[i] != '\0')
      return FALSE;
  return TRUE;
}

/**
 * pawl_bench_sheet_parse:
 * @text: the file's text, UTF-8
 * @name: for messages
 * @error: PAWL_BENCH_SHEET_ERROR_NOT_CSV or _BAD_ROW; the message begins with "name:line: "
 *
 * Returns: (transfer full) (element-type PawlSheetRow): rows in file order, without blank lines and those that were left open
 */
GPtrArray *
pawl_bench_sheet_parse (const char *text, const char *name, GError **error)
{
  CsvReader reader = { .cursor = text, .name = name, .line = 1 };
  g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func (row_free);
  g_autoptr(GArray) map = NULL;

  if (!g_utf8_validate (text, -1, NULL))
    {
      fail_row (error, PAWL_BENCH_SHEET_ERROR_NOT_CSV, name, 1, "the file is not UTF-8 text");
      return NULL;
    }
  if (g_str_has_prefix (text, "\xef\xbb\xbf")) /* spreadsheets write a byte order mark */
    reader.cursor += 3;
  if (!(map = read_header (&reader, error)))
    return NULL;
  while (*reader.cursor != '\0')
    {
      int line = reader.line;
      g_autoptr(GPtrArray) fields = read_record (&reader, error);

      if (fields == NULL)
        return NULL;
      if (is_blank (fields))
        continue;
      if (fields->len > map->len)
        {
          fail_row (error, PAWL_BENCH_SHEET_ERROR_BAD_ROW, name, line,
                    "more fields than the header line has; a field with a comma in it needs quotes");
          return NULL;
        }
      add_row (rows, make_row (fields, map, line));
    }
  return g_steal_pointer (&rows);
}

/**
 * pawl_bench_sheet_load:
 * @error: as pawl_bench_sheet_parse(), and PAWL_BENCH_SHEET_ERROR_IO; over 4 MiB is refused
 */
GPtrArray *
pawl_bench_sheet_load (const char *path, GError **error)
{
  g_autofree char *text = NULL;
  g_autofree char *name = g_path_get_basename (path);
  gsize length;
  g_autoptr(GError) local_error = NULL;

  if (!g_file_get_contents (path, &text, &length, &local_error))
    {
      g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_IO, "%s", local_error->message);
      return NULL;
    }
  if (length > MAX_SHEET_BYTES || strlen (text) != length)
    {
      fail_row (error, PAWL_BENCH_SHEET_ERROR_NOT_CSV, name, 1, length > MAX_SHEET_BYTES ? "over 4 MiB; no bench sheet is that long" : "the file is not text");
      return NULL;
    }
  return pawl_bench_sheet_parse (text, name, error);
}

/* ---- entries ---- */

/* Nobody writes seconds by pen, and GLib wants them: "T14:30" becomes "T14:30:00". */
static char *
add_seconds (const char *text)
{
  const char *clock = strchr (text, 'T');
  size_t to_minutes = clock != NULL && strlen (clock) >= 6 ? (size_t) (clock - text) + 6 : 0;

  if (to_minutes == 0 || text[to_minutes] == ':')
    return g_strdup (text);
  return g_strdup_printf ("%.*s:00%s", (int) to_minutes, text, text + to_minutes);
}

GDateTime *
pawl_bench_sheet_parse_time (const char *text, GTimeZone *zone)
{
  g_autofree char *with_seconds = add_seconds (text);

  return g_date_time_new_from_iso8601 (with_seconds, zone);
}

/* The time written on the row; a time without an offset is the bench's own. */
static GDateTime *
read_time (const PawlSheetRow *row, GDateTime *fallback, const char *name, GError **error)
{
  g_autoptr(GDateTime) time = NULL;

  if (*row->at == '\0')
    return g_date_time_ref (fallback);
  time = pawl_bench_sheet_parse_time (row->at, g_date_time_get_timezone (fallback));
  if (time == NULL)
    g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_BAD_ROW,
                 "%s:%d: “%s” is no time; write it as 2026-11-25T14:30", name, row->line, row->at);
  return g_steal_pointer (&time);
}

/* What a "job" row may say; "policy" decides how readings are judged, so a slip in it must not pass. */
static gboolean
check_job_row (const PawlSheetRow *row, const char *name, GError **error)
{
  static const char * const rules[] = { "variant", "policy", "out-of-date", "ask-first", "bench", NULL };
  static const char * const overdue[] = { "say", "warn", "refuse", NULL };
  PawlPolicy policy;

  if (pawl_intake_lookup_field (row->item) == NULL && !g_strv_contains (rules, row->item))
    {
      g_autofree char *fields = pawl_intake_name_fields (), *others = g_strjoinv (", ", (char **) rules);

      g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_BAD_ROW, "%s:%d: a job has no “%s”; it has %s, %s",
                   name, row->line, row->item, fields, others);
    }
  else if (g_str_equal (row->item, "out-of-date") && !g_strv_contains (overdue, row->answer))
    g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_BAD_ROW,
                 "%s:%d: “%s”: readings by an instrument that is out of date are to say (so on the report), warn or refuse", name, row->line, row->answer);
  else if (g_str_equal (row->item, "ask-first") && !g_str_equal (row->answer, "yes") && !g_str_equal (row->answer, "no"))
    g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_BAD_ROW, "%s:%d: “%s”: fits are asked before they are shown, yes or no",
                 name, row->line, row->answer);
  else if (g_str_equal (row->item, "policy") && !pawl_policy_parse (row->answer, &policy))
    g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_BAD_ROW,
                 "%s:%d: there is no policy “%s”; it is simple, guard-band, proof, or a risk such as risk 5 %%", name, row->line, row->answer);
  else
    return TRUE;
  return FALSE;
}

/**
 * pawl_bench_sheet_make_opening:
 * @fallback_at: the time when no "job" row has one; its time zone is the bench's
 * @error: PAWL_BENCH_SHEET_ERROR_BAD_ROW
 *
 * Returns: (transfer full): an opening entry with the fields of the "job" rows
 */
PawlEntry *
pawl_bench_sheet_make_opening (GPtrArray *rows, GDateTime *fallback_at, GError **error)
{
  const PawlSheetRow *first = NULL;
  const char *person = "";
  g_autoptr(GDateTime) at = NULL;
  PawlEntry *entry;

  for (guint i = 0; i < rows->len; i++)
    {
      const PawlSheetRow *row = rows->pdata[i];

      if (first == NULL && *row->at != '\0')
        first = row;
      if (*person == '\0')
        person = row->person;
    }
  at = first != NULL ? read_time (first, fallback_at, "bench sheet", error) : g_date_time_ref (fallback_at);
  if (at == NULL)
    return NULL;
  for (guint i = 0; i < rows->len; i++)
    if (g_str_equal (((PawlSheetRow *) rows->pdata[i])->step, "job") && !check_job_row (rows->pdata[i], "bench sheet", error))
      return NULL;
  entry = pawl_entry_new (PAWL_ENTRY_OPENED, "", person, at);
  for (guint i = 0; i < rows->len; i++)
    {
      const PawlSheetRow *row = rows->pdata[i];

      if (g_str_equal (row->step, "job"))
        pawl_entry_set (entry, row->item, row->answer);
    }
  return entry;
}

/* Then pairs of field and value, NULL last. */
static void
add_entry (GPtrArray *entries, PawlEntryKind kind, const char *subject, const PawlSheetRow *row, GDateTime *at, ...) G_GNUC_NULL_TERMINATED;

static void
add_entry (GPtrArray *entries, PawlEntryKind kind, const char *subject, const PawlSheetRow *row, GDateTime *at, ...)
{
  PawlEntry *entry = pawl_entry_new (kind, subject, row->person, at);
  const char *field;
  va_list fields;

  va_start (fields, at);
  while ((field = va_arg (fields, const char *)))
    pawl_entry_set (entry, field, va_arg (fields, const char *));
  va_end (fields);
  g_ptr_array_add (entries, entry);
}

static void
add_deviation (GPtrArray *entries, const char *subject, const PawlSheetRow *row, GDateTime *at, const char *what)
{
  add_entry (entries, PAWL_ENTRY_DEVIATED, subject, row, at, "what", what, "reason", row->deviation,
             "accepted-by", *row->accepted_by != '\0' ? row->accepted_by : row->person, NULL);
}

static gboolean
add_wait (GPtrArray *entries, const PawlAsk *ask, const PawlSheetRow *row, GDateTime *at, const char *name, GError **error)
{
  gboolean is_start = g_str_equal (row->answer, "start");

  if (!is_start && !g_str_equal (row->answer, "end"))
    return fail_row (error, PAWL_BENCH_SHEET_ERROR_BAD_ROW, name, row->line, "a wait is answered by “start” or “end”");
  /* Ending a wait before its minimum needs the word for it first. */
  if (!is_start && *row->deviation != '\0')
    add_deviation (entries, ask->id, row, at, "wait");
  add_entry (entries, is_start ? PAWL_ENTRY_WAIT_STARTED : PAWL_ENTRY_WAIT_ENDED, ask->id, row, at,
             "agent", is_start ? row->note : "", NULL);
  return TRUE;
}

/* Before the id of a fit: what was guessed of it. Before that of a part or a supply: that it is not there, or came. */
#define GUESS "guess "
#define LACKED "lacked "
#define ARRIVED "arrived "
/* Before a field of the intake: what it should have been. */
#define CORRECTED "corrected "

/* "ordered 2026-12-03" */
static void
add_lacked (GPtrArray *entries, const PawlSheetRow *row, GDateTime *at)
{
  g_auto(GStrv) words = g_strsplit (row->answer, " ", 2);
  const char *state = words[0] != NULL ? words[0] : "";

  add_entry (entries, PAWL_ENTRY_LACKED, row->item + strlen (LACKED), row, at, "state", state, "expected", *state != '\0' ? words[1] : NULL,
             "from", row->source, "reason", row->note, NULL);
}

/* "caliper", or with the mark engraved on it, "caliper CAL-1". A derived reading that stands in the sheet is typed over, by somebody who says why. */
static void
add_measured (GPtrArray *entries, const PawlAsk *ask, const PawlSheetRow *row, GDateTime *at)
{
  g_auto(GStrv) words = g_strsplit (row->instrument, " ", 2);
  const char *tool = words[0] != NULL ? words[0] : "";
  gboolean is_typed_over = ask->kind == PAWL_ASK_READING && ask->reading->derived != NULL;

  add_entry (entries, PAWL_ENTRY_ANSWERED, ask->id, row, at, "answer", row->answer, "instrument", tool,
             "tool-serial", *tool != '\0' && words[1] != NULL ? words[1] : "", "source", row->source, "lot", row->lot, "remark", row->note,
             "typed-over", is_typed_over ? "yes" : "", NULL);
}

static gboolean
add_answer (GPtrArray *entries, const PawlAsk *ask, const PawlSheetRow *row, GDateTime *at, const char *name, GError **error)
{
  switch (ask->kind)
    {
    case PAWL_ASK_WAIT:
      return add_wait (entries, ask, row, at, name, error);
    case PAWL_ASK_DECIDE:
      add_entry (entries, PAWL_ENTRY_DISPOSED, ask->decide->part, row, at, "choice", row->answer, "reason", row->note,
                 "source", row->source, "lot", row->lot, NULL);
      break;
    case PAWL_ASK_FIT:
    case PAWL_ASK_CHECK:
    case PAWL_ASK_READING:
    case PAWL_ASK_NOTE:
    default:
      add_measured (entries, ask, row, at);
      break;
    }
  if (*row->deviation != '\0')
    add_deviation (entries, ask->id, row, at, "not as the book has it");
  return TRUE;
}

/* Rows about the step itself: "done", "skip", "reopen", "release", "remark". */
static gboolean
add_step_word (GPtrArray *entries, const PawlSheetRow *row, GDateTime *at, const char *name, GError **error)
{
  const char *item = row->item;

  if (g_str_equal (item, "done"))
    {
      if (*row->deviation != '\0')
        add_deviation (entries, row->step, row, at, "out of order");
      add_entry (entries, PAWL_ENTRY_STEP_DONE, row->step, row, at, NULL);
    }
  else if (g_str_equal (item, "skip"))
    add_deviation (entries, row->step, row, at, "skipped");
  else if (g_str_equal (item, "reopen"))
    add_entry (entries, PAWL_ENTRY_REOPENED, row->step, row, at, "reason", row->note, NULL);
  else if (g_str_equal (item, "release"))
    add_entry (entries, PAWL_ENTRY_RELEASED, row->step, row, at, "role", row->answer, "remark", row->note, NULL);
  else if (g_str_equal (item, "remark"))
    add_entry (entries, PAWL_ENTRY_NOTED, row->step, row, at, "text", row->answer, NULL);
  else
    {
      g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_BAD_ROW,
                   "%s:%d: “%s” is nothing that the procedure asks; it is an ask's id, or done, skip, reopen, undo, identified, release, photo, no-photo, remark, sign, corrected and what was taken in (corrected serial), guess and a fit's id, or lacked or arrived and a part's or supply's id",
                   name, row->line, item);
      return FALSE;
    }
  return TRUE;
}

/* On without the photos that the step wants now; the caption of one that is there says what it shows, when nobody else does. */
static gboolean
add_photo_word (GPtrArray *entries, PawlJob *job, const PawlSheetRow *row, GDateTime *at, const char *name, GError **error)
{
  const PawlStepState *step = pawl_job_lookup_step (job, row->step);
  g_autoptr(GPtrArray) wanted = step != NULL ? pawl_step_list_photos_wanted (step) : g_ptr_array_new ();
  g_autofree char *caption = *row->note == '\0' ? pawl_photos_describe (job, wanted) : g_strdup (row->note);

  if (g_str_equal (row->item, "photo"))
    add_entry (entries, PAWL_ENTRY_PHOTO, row->step, row, at, "file", row->answer, "caption", caption, NULL);
  else if (wanted->len > 0)
    g_ptr_array_add (entries, pawl_job_new_no_photo (job, step, row->note, row->person, at));
  else
    {
      g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_BAD_ROW, "%s:%d: step “%s” asks for no photo now; take the row out", name, row->line, row->step);
      return FALSE;
    }
  return TRUE;
}

static gboolean
check_step_of (const PawlSheetRow *row, const PawlStep *step, const char *name, GError **error)
{
  if (*row->step == '\0' || g_str_equal (row->step, step->id))
    return TRUE;
  g_set_error (error, PAWL_BENCH_SHEET_ERROR, PAWL_BENCH_SHEET_ERROR_BAD_ROW,
               "%s:%d: “%s” belongs to step “%s”, not to “%s”", name, row->line, row->item, step->id, row->step);
  return FALSE;
}

/**
 * pawl_bench_sheet_make_entries:
 * @job: as it stands before this row
 * @name: the sheet's name, for messages
 * @error: PAWL_BENCH_SHEET_ERROR_BAD_ROW
 *
 * Says what one row appends; whether the job would take it is for pawl_job_check(). A photo entry carries its file's
 * name in the field "file"; whoever appends it keeps the bytes and puts their digest in its place.
 *
 * Returns: (transfer full) (element-type PawlEntry): to be appended together; empty for a "job" row
 */
GPtrArray *
pawl_bench_sheet_make_entries (const PawlSheetRow *row, PawlJob *job, const char *name, GError **error)
{
  g_autoptr(GPtrArray) entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  const PawlStep *step = NULL;
  const PawlAsk *ask = pawl_procedure_lookup_ask (pawl_job_get_procedure (job), row->item, &step);
  g_autoptr(GDateTime) at = read_time (row, pawl_job_peek_now (job), name, error);
  PawlEntry *undoable = pawl_job_peek_undoable (job);
  gboolean ok = TRUE;

  if (at == NULL)
    return NULL;
  if (g_str_equal (row->step, "job"))
    return g_steal_pointer (&entries);
  if (ask != NULL)
    ok = check_step_of (row, step, name, error) && add_answer (entries, ask, row, at, name, error);
  else if (g_str_equal (row->item, "sign"))
    add_entry (entries, PAWL_ENTRY_SIGNED, "", row, at, "role", row->answer, "statement", row->note, "name", row->person, NULL);
  else if (g_str_has_prefix (row->item, GUESS))
    add_entry (entries, PAWL_ENTRY_GUESSED, row->item + strlen (GUESS), row, at, "choice", row->answer, NULL);
  else if (g_str_has_prefix (row->item, LACKED))
    add_lacked (entries, row, at);
  else if (g_str_has_prefix (row->item, ARRIVED))
    add_entry (entries, PAWL_ENTRY_ARRIVED, row->item + strlen (ARRIVED), row, at, "source", row->answer, "from", row->source, "lot", row->lot, "remark", row->note, NULL);
  else if (g_str_equal (row->item, "identified"))
    add_entry (entries, PAWL_ENTRY_IDENTIFIED, "", row, at, "variant", row->answer, "reason", row->note, NULL);
  else if (g_str_has_prefix (row->item, CORRECTED))
    add_entry (entries, PAWL_ENTRY_CORRECTED, "", row, at, row->item + strlen (CORRECTED), row->answer, "reason", row->note, NULL);
  else if (g_str_equal (row->item, "undo"))
    add_entry (entries, PAWL_ENTRY_UNDONE, undoable != NULL ? pawl_entry_get_id (undoable) : "", row, at, "reason", row->note, NULL);
  else if (g_str_equal (row->item, "photo") || g_str_equal (row->item, "no-photo"))
    ok = add_photo_word (entries, job, row, at, name, error);
  else
    ok = add_step_word (entries, row, at, name, error);
  return ok ? g_steal_pointer (&entries) : NULL;
}
