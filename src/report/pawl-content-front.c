/* The first page: who, what, by which procedure, and what came of it. */
#include "procedure/pawl-variant.h"
#include "report/pawl-content.h"
#include "report/pawl-words.h"

#include <string.h>

static const char *
get_field (const PawlContent *content, const char *field)
{
  return pawl_job_get_field (content->job, field);
}

static const char *
first_of (const char *a, const char *b)
{
  return a && *a ? a : b;
}

/* Field @field of the opening, or what the shop is to see instead of a gap. */
static const char *
field_or (const PawlContent *content, const char *field, const char *otherwise)
{
  return first_of (get_field (content, field), otherwise);
}

const char *
pawl_content_find_said (const PawlContent *content, const char *id, const char *otherwise)
{
  const PawlAskState *state = pawl_job_lookup_ask (content->job, id);
  const PawlAttempt *last = state && state->ask->kind == PAWL_ASK_NOTE && state->n_current > 0
    ? g_ptr_array_index (state->attempts, state->attempts->len - 1) : NULL;

  return field_or (content, id, last ? pawl_entry_get (last->entry, "answer") : otherwise);
}

gboolean
pawl_content_is_for_customer (const PawlContent *content)
{
  return content->options->print == PAWL_PRINT_CUSTOMER;
}

static char *
make_report_number (const PawlContent *content)
{
  g_autofree char *id = pawl_words_short_id (pawl_job_get_id (content->job));

  return g_strdup_printf ("Report %s · version %u", id, content->options->version);
}

/* ---- letterhead ---- */

#define LOGO_HEIGHT_PT 34.0
#define LOGO_WIDTH_PT  110.0

static void
draw_logo (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  pawl_logo_draw (data, cr, x, y, width, height);
}

static void
free_logo (gpointer data)
{
  pawl_logo_unref (data);
}

static PawlCell *
make_logo (const PawlContent *content, double width)
{
  PawlCell *cell = pawl_cell_new (pawl_flow_get_context (content->flow), width);

  pawl_cell_add_art (cell, width, LOGO_HEIGHT_PT, draw_logo, pawl_logo_ref (content->options->logo), free_logo);
  return cell;
}

static PawlCell *
make_shop (const PawlContent *content, double width)
{
  PawlCell *cell = pawl_cell_new (pawl_flow_get_context (content->flow), width);
  const PawlShop *shop = content->options->shop;

  pawl_cell_add_text (cell, PAWL_LETTER_STRONG, first_of (shop ? shop->name : NULL, get_field (content, "shop")), 0);
  if (shop)
    pawl_cell_add_text (cell, PAWL_LETTER_NOTE, shop->address, 0);
  if (shop && *shop->registration)
    {
      g_autofree char *registration = g_strdup_printf ("Registration no. %s", shop->registration);

      pawl_cell_add_text (cell, PAWL_LETTER_NOTE, registration, 0);
    }
  return cell;
}

/* The logo and the shop at the left, the report's number and kind at the right. */
static void
add_letterhead (const PawlContent *content)
{
  const double share = 0.68, gutter = 10;
  double width = pawl_flow_get_width (content->flow);
  double logo_width = content->options->logo ? MIN (LOGO_WIDTH_PT, LOGO_HEIGHT_PT * pawl_logo_get_aspect (content->options->logo)) : 0;
  double left = logo_width > 0 ? logo_width + gutter : 0;
  g_autofree char *number = make_report_number (content);
  PawlCell *cells[3];
  double x[3];
  guint n = 0;
  const PawlRowStyle style = { .padding = 0 };

  if (logo_width > 0)
    {
      x[n] = 0;
      cells[n++] = make_logo (content, logo_width);
    }
  x[n] = left;
  cells[n++] = make_shop (content, width * share - left);
  x[n] = width * share;
  cells[n] = pawl_cell_new (pawl_flow_get_context (content->flow), width * (1 - share));
  pawl_cell_add_right (cells[n], PAWL_LETTER_STRONG, number);
  pawl_cell_add_right (cells[n++], PAWL_LETTER_NOTE, pawl_content_is_for_customer (content) ? "Summary for the customer" : "Full record");
  pawl_flow_take_cells (content->flow, cells, x, n, &style);
}

static void
add_title (const PawlContent *content)
{
  pawl_flow_add_space (content->flow, pawl_content_is_for_customer (content) ? 7 : 12);
  pawl_flow_add_title (content->flow, content->title);
  pawl_flow_add_text (content->flow, PAWL_LETTER_NOTE, pawl_procedure_get_statement (content->procedure));
  pawl_flow_add_space (content->flow, 5);
}

/* ---- dates ---- */

/* When the last step was finished; NULL while steps are open. */
static GDateTime *
find_done (const PawlContent *content)
{
  GPtrArray *steps = pawl_job_get_steps (content->job);
  GDateTime *last = NULL;
  guint total;

  if (pawl_job_count_done (content->job, &total) < total)
    return NULL;
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStepState *state = g_ptr_array_index (steps, i);
      GDateTime *at = state->done ? pawl_entry_peek_at (state->done) : NULL;

      if (at && (!last || g_date_time_compare (at, last) > 0))
        last = at;
    }
  return last;
}

/* Five fields in one line: days will do. */
static void
add_days (const PawlContent *content)
{
  GDateTime *finished = find_done (content);
  g_autofree char *opened = content->opened ? g_date_time_format (content->opened, "%Y-%m-%d") : NULL;
  g_autofree char *done = finished ? g_date_time_format (finished, "%Y-%m-%d") : NULL;
  g_autofree char *issued = g_date_time_format (content->options->issued, "%Y-%m-%d");
  const PawlField fields[] = {
    { "Work order", field_or (content, "work-order", "none"), 2 },
    { "Customer", field_or (content, "customer", "not stated"), 4 },
    { "Received", first_of (get_field (content, "received"), opened), 2 },
    { "Done", first_of (done, "not finished"), 2 },
    { "Issued", issued, 2 },
  };

  pawl_flow_add_rule (content->flow, 0.9, 0);
  pawl_flow_add_fields (content->flow, fields, G_N_ELEMENTS (fields));
}

static void
add_dates (const PawlContent *content)
{
  g_autofree char *opened = pawl_words_time (content->opened);
  g_autofree char *done = pawl_words_time (find_done (content));
  g_autofree char *issued = pawl_words_time (content->options->issued);
  const PawlField fields[] = {
    { "Work order", field_or (content, "work-order", "none"), 4 },
    { "Customer", field_or (content, "customer", "not stated"), 8 },
    { "Received", first_of (get_field (content, "received"), opened), 4 },
    { "Done", first_of (done, "not finished"), 4 },
    { "Issued", issued, 4 },
  };

  pawl_flow_add_rule (content->flow, 0.9, 0);
  pawl_flow_add_fields (content->flow, fields, G_N_ELEMENTS (fields));
}

/* ---- two blocks side by side ---- */

typedef struct {
  const char *title;
  PawlField  *fields; /* label NULL: a sentence of its own */
  guint       n_fields;
} Block;

/* Its label over it; beside it where the page has to hold more. */
static void
add_block_field (const PawlContent *content, PawlCell *cell, const PawlField *field)
{
  gboolean is_one_line = field->label && pawl_content_is_for_customer (content);
  g_autofree char *line = is_one_line ? g_strdup_printf ("%s: %s", field->label, field->value) : NULL;

  pawl_cell_add_gap (cell, is_one_line ? 1.5 : field->label ? 4 : 3);
  pawl_cell_add_text (cell, PAWL_LETTER_LABEL, is_one_line ? NULL : field->label, 0);
  pawl_cell_add_text (cell, PAWL_LETTER_BODY, is_one_line ? line : field->value, 0);
}

static PawlCell *
make_block (const PawlContent *content, const Block *block, double width)
{
  PawlCell *cell = pawl_cell_new (pawl_flow_get_context (content->flow), width);

  for (guint i = 0; i < block->n_fields; i++)
    {
      const PawlField *field = &block->fields[i];

      if (!field->value || !*field->value)
        continue;
      add_block_field (content, cell, field);
    }
  return cell;
}

static void
add_blocks (const PawlContent *content, const Block blocks[2])
{
  const double gutter = 20;
  double width = (pawl_flow_get_width (content->flow) - gutter) / 2;
  const double x[2] = { 0, width + gutter };
  const PawlRowStyle heading = { .space_before = pawl_flow_is_tight (content->flow) ? 6 : 11, .padding = 2.5, .rule_below = 0.9, .rule_grey = 0, .keep_next = TRUE,
                                 .kind = PAWL_ROW_HEADING };
  const PawlRowStyle body = { .padding = 0 };
  PawlCell *cells[2];

  for (guint i = 0; i < 2; i++)
    {
      cells[i] = pawl_cell_new (pawl_flow_get_context (content->flow), width);
      pawl_cell_add_text (cells[i], PAWL_LETTER_HEADING, blocks[i].title, 0);
    }
  pawl_flow_take_cells (content->flow, cells, x, 2, &heading);
  for (guint i = 0; i < 2; i++)
    cells[i] = make_block (content, &blocks[i], width);
  pawl_flow_take_cells (content->flow, cells, x, 2, &body);
}

/* ---- unit and authority ---- */

/* The maker's name stands before the model, as on a plate. */
static char *
name_maker (const PawlContent *content)
{
  const char *maker = field_or (content, "maker", pawl_procedure_get_maker (content->procedure));
  const char *model = get_field (content, "model");

  return *model ? g_strdup_printf ("%s, model as on the plate %s", maker, model) : g_strdup (maker);
}

gboolean
pawl_content_is_on_front (const PawlAsk *ask)
{
  return g_strv_contains ((const char *[]) { "identified-by", "condition", "old-parts", "approvals", NULL }, ask->id);
}

/* ---- procedure ---- */

static char *
list_books (PawlProcedure *procedure)
{
  GPtrArray *books = pawl_procedure_get_books (procedure);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < books->len; i++)
    {
      const PawlBook *book = g_ptr_array_index (books, i);

      g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", book->title);
      if (*book->edition)
        g_string_append_printf (text, strstr (book->edition, "edition") ? ", %s" : ", edition %s", book->edition);
      if (*book->publisher)
        g_string_append_printf (text, ", %s", book->publisher);
    }
  if (books->len == 0)
    g_string_append (text, "none named");
  return g_string_free (text, FALSE);
}

static char *
say_verified (PawlProcedure *procedure)
{
  const char *statement = pawl_procedure_get_verified_statement (procedure);
  const char *how = pawl_words_verified (pawl_procedure_get_verified (procedure));

  return *statement ? g_strdup_printf ("%s: %s", how, statement) : g_strdup (how);
}

/* ---- summary ---- */

static char *
count (guint n, const char *none, const char *one, const char *many)
{
  return n == 0 ? g_strdup (none) : n == 1 ? g_strdup (one) : g_strdup_printf ("%u %s", n, many);
}

static char *
count_deviations (PawlJob *job)
{
  g_autoptr (GPtrArray) deviations = pawl_job_list_deviations (job);

  return count (deviations->len, "No deviation from the procedure is recorded.", "1 deviation from the procedure, listed under “Deviations”.",
                "deviations from the procedure, listed under “Deviations”.");
}

static char *
count_missing (PawlJob *job)
{
  g_autoptr (GPtrArray) missing = pawl_results_list_missing (job);

  return count (missing->len, "Nothing that the procedure asks was left unanswered.",
                "1 item was not measured or not confirmed; it is listed under “Not measured, not done”.",
                "items were not measured or not confirmed; they are listed under “Not measured, not done”.");
}

/* Which word it is, and where the customer reads why it is no higher one. */
static char *
say_word (const PawlContent *content)
{
  const PawlWordFinding *highest = pawl_word_gate_peek_highest (content->gate), *earned = content->gate->earned;
  g_autofree char *word = earned ? g_strdup_printf ("“%s” is what the record supports, by the clauses of: %s.", earned->word->title, content->clauses->name)
                                 : g_strdup_printf ("The record supports no word above this, by the clauses of: %s.", content->clauses->name);

  if (!highest)
    return g_steal_pointer (&word);
  return g_strdup_printf ("%s For “%s”, %u of %u clauses lack evidence%s.", word, highest->word->title, highest->n_lacking, highest->findings->len,
                          pawl_content_is_for_customer (content) ? "; the full record lists them" : ", listed under “Word”");
}

/* (transfer full): "Clockwise; from serial 1200 (by the serial number 1407)"; of one that was corrected, why. */
static char *
say_variant (const PawlContent *content)
{
  g_autofree char *variant = pawl_variant_describe (content->procedure, pawl_job_get_variant (content->job));
  GPtrArray *entries = pawl_job_get_entries (content->job);
  const char *how = get_field (content, "variant-how"), *reason = NULL;

  for (guint i = 0; i < entries->len; i++)
    {
      const PawlEntry *entry = g_ptr_array_index (entries, i);

      if (pawl_entry_get_kind (entry) == PAWL_ENTRY_IDENTIFIED && !pawl_job_is_undone (content->job, entry))
        reason = pawl_entry_get (entry, "reason");
    }
  if (reason)
    return g_strdup_printf ("%s (corrected: %s)", variant, reason);
  if (*how && pawl_job_peek_correction (content->job, "serial"))
    return g_strdup_printf ("%s (%s, as it was taken in)", variant, how);
  return *how ? g_strdup_printf ("%s (%s)", variant, how) : g_steal_pointer (&variant);
}

static void
add_unit_and_request (const PawlContent *content)
{
  g_autofree char *variant = say_variant (content), *maker = name_maker (content);
  PawlField unit[] = {
    { "Unit", first_of (get_field (content, "unit"), pawl_procedure_get_unit (content->procedure)), 0 },
    { "Maker", maker, 0 },
    { "Serial no.", field_or (content, "serial", "none"), 0 },
    { "Variant", variant, 0 },
    { "How identified", pawl_content_find_said (content, "identified-by", "not stated"), 0 },
  };
  PawlField request[] = {
    { "Complaint", field_or (content, "complaint", "not stated"), 0 },
    { "Authorised", field_or (content, "authority", "not stated"), 0 },
    { "Further approvals", pawl_content_find_said (content, "approvals", NULL), 0 },
    { "Condition on arrival", pawl_content_find_said (content, "condition", "not stated"), 0 },
    { "Old parts", pawl_content_find_said (content, "old-parts", "not stated"), 0 },
  };
  const Block blocks[2] = {
    { "Unit", unit, G_N_ELEMENTS (unit) },
    { "Request and arrival", request, G_N_ELEMENTS (request) },
  };

  add_blocks (content, blocks);
}

/* Sentences of what came of it; the array borrows the const ones. (element-type utf8), NULL-terminated. */
static GPtrArray *
list_summary (const PawlContent *content)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (content->job);
  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);

  g_ptr_array_add (sentences, say_word (content));
  g_ptr_array_add (sentences, pawl_words_count_steps (content->job));
  g_ptr_array_add (sentences, pawl_words_count_readings (results));
  g_ptr_array_add (sentences, count_deviations (content->job));
  g_ptr_array_add (sentences, count_missing (content->job));
  g_ptr_array_add (sentences, g_strdup (pawl_job_peek_signature (content->job) ? "Signed; see “Sign-off”." : "Not signed."));
  g_ptr_array_add (sentences, NULL);
  return sentences;
}

static void
add_procedure_and_summary (const PawlContent *content)
{
  PawlProcedure *procedure = content->procedure;
  g_autoptr (GPtrArray) sentences = list_summary (content);
  g_autofree char *books = list_books (procedure), *verified = say_verified (procedure);
  g_autofree char *title = g_strdup_printf ("%s, revision %s", pawl_procedure_get_title (procedure), pawl_procedure_get_revision (procedure));
  g_autofree PawlField *right = g_new0 (PawlField, sentences->len);
  PawlField left[] = {
    { "Title", title, 0 },
    { "Books", books, 0 },
    { "Verification", verified, 0 },
  };
  Block blocks[2] = { { "Procedure", left, G_N_ELEMENTS (left) }, { "Summary", right, sentences->len } };

  for (guint i = 0; i < sentences->len; i++)
    right[i].value = g_ptr_array_index (sentences, i);
  add_blocks (content, blocks);
}

/* The same sentences as one paragraph, and by what the work was done as another. */
static void
add_summary (const PawlContent *content)
{
  PawlProcedure *procedure = content->procedure;
  g_autoptr (GPtrArray) sentences = list_summary (content);
  g_autofree char *text = g_strjoinv (" ", (char **) sentences->pdata);
  g_autofree char *books = list_books (procedure);
  g_autofree char *method = g_strdup_printf ("Procedure: %s, revision %s, %s. Books: %s.", pawl_procedure_get_title (procedure), pawl_procedure_get_revision (procedure),
                                             pawl_words_verified (pawl_procedure_get_verified (procedure)), books);

  pawl_flow_add_heading (content->flow, "Summary");
  pawl_flow_add_text (content->flow, PAWL_LETTER_BODY, text);
  pawl_flow_add_space (content->flow, 2);
  pawl_flow_add_text (content->flow, PAWL_LETTER_NOTE, method);
}

/* What the tables and the record lean on: which file, which clock. */
static void
add_small_print (const PawlContent *content)
{
  g_autofree char *digest = *get_field (content, "procedure") ? g_strdup_printf ("SHA-256 of the procedure: %s", get_field (content, "procedure")) : NULL;
  g_autofree char *offset = content->opened ? g_date_time_format (content->opened, "%:z") : NULL;
  g_autofree char *note = offset ? g_strdup_printf ("Times in the tables are at UTC%s unless another offset stands beside them.", offset) : NULL;

  pawl_flow_add_space (content->flow, 5);
  pawl_flow_add_text (content->flow, PAWL_LETTER_NOTE, digest);
  pawl_flow_add_text (content->flow, PAWL_LETTER_NOTE, note);
}

void
pawl_content_add_front (const PawlContent *content)
{
  add_letterhead (content);
  add_title (content);
  if (pawl_content_is_for_customer (content))
    add_days (content);
  else
    add_dates (content);
  add_unit_and_request (content);
  pawl_content_add_corrections (content);
  if (pawl_content_is_for_customer (content))
    {
      add_summary (content);
      return;
    }
  add_procedure_and_summary (content);
  add_small_print (content);
}
