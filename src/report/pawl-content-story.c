/* The rest of the story: what differs from the book, what was not done, waits, notes, photos. */
#include "report/pawl-content.h"
#include "report/pawl-photo.h"
#include "report/pawl-words.h"

/* ---- deviations ---- */

static const PawlColumn deviation_columns[] = {
  { "Where", 34, PAWL_COLUMN_TEXT },
  { "What", 20, PAWL_COLUMN_TEXT },
  { "Reason", 40, PAWL_COLUMN_TEXT },
  { "Accepted by", 22, PAWL_COLUMN_TEXT },
};

static void
add_deviation_row (const PawlContent *content, PawlTable *table, const PawlEntry *entry)
{
  g_autofree char *where = pawl_words_subject (content->job, pawl_entry_get_subject (entry));
  g_autofree char *time = pawl_words_time_beside (pawl_entry_peek_at (entry), content->opened);
  const char *accepted = pawl_entry_get (entry, "accepted-by");

  pawl_table_begin_row (table);
  pawl_table_add (table, 0, PAWL_LETTER_CELL_STRONG, where);
  pawl_table_add (table, 1, PAWL_LETTER_CELL, pawl_entry_get (entry, "what"));
  pawl_table_add (table, 2, PAWL_LETTER_CELL, pawl_entry_get (entry, "reason"));
  pawl_table_add (table, 3, PAWL_LETTER_CELL, accepted ? accepted : pawl_entry_get_person (entry));
  pawl_table_add (table, 3, PAWL_LETTER_NOTE, time);
}

void
pawl_content_add_deviations (const PawlContent *content)
{
  g_autoptr (GPtrArray) deviations = pawl_job_list_deviations (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (deviation_columns, G_N_ELEMENTS (deviation_columns));

  pawl_flow_add_heading (content->flow, "Deviations");
  if (deviations->len == 0)
    pawl_flow_add_text (content->flow, PAWL_LETTER_BODY, "No deviation from the procedure is recorded.");
  for (guint i = 0; i < deviations->len; i++)
    add_deviation_row (content, table, g_ptr_array_index (deviations, i));
  pawl_flow_add_table (content->flow, table);
}

/* ---- what is missing ---- */

static guint
add_open_steps (const PawlContent *content)
{
  GPtrArray *steps = pawl_job_get_steps (content->job);
  guint n = 0;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);
      g_autofree char *line = NULL;
      g_autofree char *again = state->redo_reason ? g_strdup_printf ("To be done again: %s.", state->redo_reason) : NULL;

      if (state->status == PAWL_STEP_DONE || state->status == PAWL_STEP_SKIPPED || state->status == PAWL_STEP_NOT_APPLICABLE)
        continue;
      line = g_strdup_printf ("Step %s, %s %s", state->step->number, state->step->command,
                              again ? again : "Not done.");
      pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, line);
      n++;
    }
  return n;
}

void
pawl_content_add_missing (const PawlContent *content)
{
  g_autoptr (GPtrArray) missing = pawl_results_list_missing (content->job);
  guint n_steps;

  pawl_flow_add_heading (content->flow, "Not measured, not done");
  n_steps = add_open_steps (content);
  for (guint i = 0; i < missing->len; i++)
    pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, g_ptr_array_index (missing, i));
  if (n_steps + missing->len == 0)
    pawl_flow_add_text (content->flow, PAWL_LETTER_BODY, "Every reading and check of the procedure was taken. Nothing beyond them was measured.");
}

/* ---- waits ---- */

enum { WAIT_NAME, WAIT_AGENT, WAIT_LIMITS, WAIT_START, WAIT_END, WAIT_LASTED, N_WAIT_COLUMNS };

static const PawlColumn wait_columns[N_WAIT_COLUMNS] = {
  { "Wait", 24, PAWL_COLUMN_TEXT },
  { "Agent", 29, PAWL_COLUMN_TEXT },
  { "Limits", 22, PAWL_COLUMN_TEXT },
  { "Start", 21, PAWL_COLUMN_TEXT },
  { "End", 21, PAWL_COLUMN_TEXT },
  { "Lasted", 16, PAWL_COLUMN_TEXT },
};

/* What the fitter named when the wait was started last; else what the procedure names. */
static const char *
find_agent (const PawlContent *content, const PawlAsk *ask)
{
  GPtrArray *entries = pawl_job_get_entries (content->job);
  const char *agent = ask->wait->agent;

  for (guint i = 0; i < entries->len; i++)
    {
      const PawlEntry *entry = g_ptr_array_index (entries, i);

      if (pawl_entry_get_kind (entry) == PAWL_ENTRY_WAIT_STARTED && g_str_equal (pawl_entry_get_subject (entry), ask->id)
          && !pawl_job_is_undone (content->job, entry) && pawl_entry_get (entry, "agent"))
        agent = pawl_entry_get (entry, "agent");
    }
  return agent;
}

static void
add_wait_row (const PawlContent *content, const PawlAskState *state, gpointer data)
{
  PawlTable *table = data;
  g_autofree char *limits = pawl_words_wait_limits (state->ask->wait);
  g_autofree char *start = pawl_words_time_beside (state->started, content->opened);
  g_autofree char *end = pawl_words_time_beside (state->ended, content->opened);

  pawl_table_begin_row (table);
  pawl_table_add (table, WAIT_NAME, PAWL_LETTER_CELL_STRONG, state->ask->name);
  pawl_table_add (table, WAIT_AGENT, PAWL_LETTER_CELL, find_agent (content, state->ask));
  pawl_table_add (table, WAIT_LIMITS, PAWL_LETTER_CELL, limits);
  pawl_table_add (table, WAIT_LIMITS, PAWL_LETTER_NOTE, state->ask->source);
  pawl_table_add (table, WAIT_START, PAWL_LETTER_CELL, state->started ? start : "not started");
  pawl_table_add (table, WAIT_END, PAWL_LETTER_CELL, state->ended ? end : state->started ? "not ended" : "–");
  if (state->started && state->ended)
    {
      g_autofree char *lasted = pawl_words_duration (g_date_time_difference (state->ended, state->started) / G_TIME_SPAN_SECOND);

      pawl_table_add (table, WAIT_LASTED, PAWL_LETTER_CELL, lasted);
      if (state->late_seconds > 0)
        {
          g_autofree char *late = pawl_words_late (state);

          pawl_table_add (table, WAIT_LASTED, PAWL_LETTER_CELL_STRONG, late);
        }
      else if (state->status == PAWL_ASK_OUT)
        pawl_table_add (table, WAIT_LASTED, PAWL_LETTER_CELL_STRONG, "outside the limits");
    }
  pawl_table_add (table, WAIT_LASTED, PAWL_LETTER_NOTE, pawl_words_standing (state->status));
}

void
pawl_content_add_waits (const PawlContent *content)
{
  g_autoptr (PawlTable) table = pawl_table_new (wait_columns, G_N_ELEMENTS (wait_columns));

  pawl_content_visit_asks (content, PAWL_ASK_WAIT, add_wait_row, table);
  if (pawl_table_get_n_rows (table) == 0)
    return;
  pawl_flow_add_heading (content->flow, "Waits");
  pawl_flow_add_table (content->flow, table);
}

/* ---- notes, marks, corrections ---- */

enum { NOTE_WHERE, NOTE_TEXT, NOTE_BY, NOTE_WHEN, N_NOTE_COLUMNS };

static const PawlColumn note_columns[N_NOTE_COLUMNS] = {
  { "Where", 46, PAWL_COLUMN_TEXT },
  { "Text", 70, PAWL_COLUMN_TEXT },
  { "By", 17, PAWL_COLUMN_TEXT },
  { "When", 20, PAWL_COLUMN_TEXT },
};

static void
add_note_row (const PawlContent *content, PawlTable *table, const PawlEntry *entry, const char *text)
{
  g_autofree char *where = pawl_words_subject (content->job, pawl_entry_get_subject (entry));

  pawl_table_begin_row (table);
  pawl_table_add (table, NOTE_WHERE, PAWL_LETTER_CELL, *where ? where : "The job");
  pawl_table_add (table, NOTE_TEXT, PAWL_LETTER_CELL, text);
  pawl_content_add_person (content, table, NOTE_BY, NOTE_WHEN, entry);
}

/* A text that an ask wanted, or a remark made with an answer. */
static void
add_answered_note (const PawlContent *content, PawlTable *table, const PawlEntry *entry)
{
  const PawlAskState *state = pawl_job_lookup_ask (content->job, pawl_entry_get_subject (entry));

  if (state && state->ask->kind == PAWL_ASK_NOTE && !pawl_content_is_on_front (state->ask))
    add_note_row (content, table, entry, pawl_entry_get (entry, "answer"));
  if (pawl_entry_get (entry, "remark"))
    add_note_row (content, table, entry, pawl_entry_get (entry, "remark"));
}

/* (transfer full): "step 44 (covers step 43), step 45 (…)": what @entry laid open beside its own step; "" when nothing. */
static char *
list_opened (const PawlContent *content, const PawlEntry *entry)
{
  GPtrArray *reopenings = pawl_job_get_reopenings (content->job);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < reopenings->len; i++)
    {
      const PawlReopening *reopening = g_ptr_array_index (reopenings, i);
      g_autofree char *why = NULL;

      if (reopening->entry != entry || reopening->cause.kind == PAWL_REDO_ASKED)
        continue;
      why = pawl_redo_cause_describe (&reopening->cause);
      g_string_append_printf (text, "%sstep %s (%s)", text->len > 0 ? ", " : "", reopening->step->number, why);
    }
  return g_string_free (text, FALSE);
}

static void
add_note_entry (const PawlContent *content, PawlTable *table, const PawlEntry *entry)
{
  g_autofree char *again = NULL;
  g_autofree char *opened = list_opened (content, entry);

  switch (pawl_entry_get_kind (entry))
    {
    case PAWL_ENTRY_ANSWERED:
      add_answered_note (content, table, entry);
      break;
    case PAWL_ENTRY_NOTED:
      if (pawl_entry_get (entry, "no-photo")) /* has a block of its own */
        break;
      add_note_row (content, table, entry, pawl_entry_get (entry, "text"));
      break;
    case PAWL_ENTRY_IDENTIFIED:
      again = g_strdup_printf ("Another variant than was taken: %s. %s", pawl_entry_get (entry, "variant"), pawl_entry_get (entry, "reason"));
      add_note_row (content, table, entry, again);
      break;
    case PAWL_ENTRY_REOPENED:
      again = g_strdup_printf ("Done again: %s", pawl_entry_get (entry, "reason") ? pawl_entry_get (entry, "reason") : "no reason given");
      add_note_row (content, table, entry, again);
      break;
    default:
      break;
    }
  if (*opened)
    {
      g_autofree char *also = g_strdup_printf ("So done again as well: %s", opened);

      add_note_row (content, table, entry, also);
    }
}

void
pawl_content_add_notes (const PawlContent *content)
{
  GPtrArray *entries = pawl_job_get_entries (content->job);
  g_autoptr (PawlTable) table = pawl_table_new (note_columns, G_N_ELEMENTS (note_columns));
  guint n_undone = 0;

  for (guint i = 0; i < entries->len; i++)
    {
      const PawlEntry *entry = g_ptr_array_index (entries, i);

      if (pawl_job_is_undone (content->job, entry))
        n_undone++;
      else
        add_note_entry (content, table, entry);
    }
  if (pawl_table_get_n_rows (table) > 0)
    {
      pawl_flow_add_heading (content->flow, "Notes, marks and work done again");
      pawl_flow_add_table (content->flow, table);
    }
  if (n_undone > 0)
    {
      g_autofree char *text = g_strdup_printf ("Entries taken back at the bench, and kept in the record: %u.", n_undone);

      pawl_flow_add_space (content->flow, 4);
      pawl_flow_add_text (content->flow, PAWL_LETTER_NOTE, text);
    }
}

/* ---- photos ---- */

#define PHOTOS_PER_ROW 3
#define PHOTO_SIDE_PX 640

static void
draw_photo (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  pawl_photo_draw (data, cr, x, y, width, height);
}

static void
free_photo (gpointer data)
{
  cairo_surface_destroy (data);
}

/* The picture, or a sentence in its place. */
static void
add_picture (const PawlContent *content, PawlCell *cell, double width, double height, const PawlEntry *entry)
{
  const char *digest = pawl_entry_get (entry, "digest");
  g_autoptr (GBytes) bytes = content->load_kept && digest ? content->load_kept (digest, content->load_data) : NULL;
  g_autoptr (GError) error = NULL;
  cairo_surface_t *surface = bytes ? pawl_photo_load (bytes, PHOTO_SIDE_PX, &error) : NULL;

  if (surface)
    pawl_cell_add_art (cell, width, height, draw_photo, surface, free_photo);
  else
    {
      g_autofree char *sentence = g_strdup_printf ("Picture not shown: %s.", error ? error->message : "its bytes are not in the record");

      pawl_cell_add_text (cell, PAWL_LETTER_CELL, sentence, 0);
    }
  pawl_cell_add_gap (cell, 2);
}

/* The step by its number and command; for who does not have the procedure before him its number and the time, in one line. */
static char *
say_where (const PawlContent *content, const PawlEntry *photo)
{
  const PawlStepState *step = pawl_job_lookup_step (content->job, pawl_entry_get_subject (photo));

  if (step && pawl_content_is_for_customer (content))
    {
      g_autofree char *time = pawl_words_time_beside (pawl_entry_peek_at (photo), content->opened);

      return g_strdup_printf ("Step %s, %s", step->step->number, time);
    }
  return pawl_words_subject (content->job, pawl_entry_get_subject (photo));
}

/* What was written under it; else, for who does not see what the step was, what was being done. */
static const char *
peek_caption (const PawlContent *content, const PawlEntry *photo)
{
  const PawlStepState *step = pawl_job_lookup_step (content->job, pawl_entry_get_subject (photo));
  const char *caption = pawl_entry_get (photo, "caption");

  return caption || !step || !pawl_content_is_for_customer (content) ? caption : step->step->command;
}

static PawlCell *
make_photo_cell (const PawlContent *content, double width, double height, const PawlEntry *entry)
{
  PawlCell *cell = pawl_cell_new (pawl_flow_get_context (content->flow), width);
  g_autofree char *where = say_where (content, entry);
  g_autofree char *time = pawl_words_time_beside (pawl_entry_peek_at (entry), content->opened);
  g_autofree char *by = pawl_content_is_for_customer (content) ? NULL : g_strdup_printf ("%s, %s", time, pawl_entry_get_person (entry));

  add_picture (content, cell, width, height, entry);
  pawl_cell_add_text (cell, PAWL_LETTER_CELL, peek_caption (content, entry), 0);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, where, 0);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, by, 0);
  return cell;
}

void
pawl_content_add_photo_row (const PawlContent *content, GPtrArray *photos, guint first, guint per_row, double height_pt)
{
  const double gutter = 12;
  const PawlRowStyle style = { .padding = pawl_flow_is_tight (content->flow) ? 2.5 : 5 };
  double width = (pawl_flow_get_width (content->flow) - gutter * (per_row - 1)) / per_row;
  g_autofree PawlCell **cells = g_new0 (PawlCell *, per_row);
  g_autofree double *x = g_new0 (double, per_row);
  guint n = 0;

  for (guint i = first; i < photos->len && n < per_row; i++, n++)
    {
      cells[n] = make_photo_cell (content, width, height_pt, g_ptr_array_index (photos, i));
      x[n] = n * (width + gutter);
    }
  pawl_flow_take_cells (content->flow, cells, x, n, &style);
}

GPtrArray *
pawl_content_list_photos (const PawlContent *content)
{
  GPtrArray *entries = pawl_job_get_entries (content->job);
  GPtrArray *photos = g_ptr_array_new ();

  for (guint i = 0; i < entries->len; i++)
    {
      PawlEntry *entry = g_ptr_array_index (entries, i);

      if (pawl_entry_get_kind (entry) == PAWL_ENTRY_PHOTO && !pawl_job_is_undone (content->job, entry))
        g_ptr_array_add (photos, entry);
    }
  return photos;
}

void
pawl_content_add_photos (const PawlContent *content)
{
  g_autoptr (GPtrArray) photos = pawl_content_list_photos (content);
  const double height = 110;

  if (photos->len == 0)
    return;
  pawl_flow_add_heading (content->flow, "Photos");
  for (guint i = 0; i < photos->len; i += PHOTOS_PER_ROW)
    pawl_content_add_photo_row (content, photos, i, PHOTOS_PER_ROW, height);
}
