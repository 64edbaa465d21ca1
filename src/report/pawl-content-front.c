/* The first page: who, what, by which procedure, and what came of it. */
#include "report/pawl-content.h"
#include "report/pawl-words.h"

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

static char *
make_report_number (const PawlContent *content)
{
  g_autofree char *id = pawl_words_short_id (pawl_job_get_id (content->job));

  return g_strdup_printf ("Report %s · version %u", id, content->options->version);
}

/* The shop at the left, the report's number at the right, the title under both. */
static void
add_letterhead (const PawlContent *content)
{
  const double share = 0.62;
  double width = pawl_flow_get_width (content->flow);
  PangoContext *context = pawl_flow_get_context (content->flow);
  g_autofree char *number = make_report_number (content);
  const char *shop = first_of (content->options->shop_name, get_field (content, "shop"));
  PawlCell *cells[2] = { pawl_cell_new (context, width * share), pawl_cell_new (context, width * (1 - share)) };
  const double x[2] = { 0, width * share };
  const PawlRowStyle style = { .padding = 0 };

  pawl_cell_add_text (cells[0], PAWL_LETTER_STRONG, shop, 0);
  pawl_cell_add_text (cells[0], PAWL_LETTER_NOTE, content->options->shop_address, 0);
  if (content->options->shop_registration && *content->options->shop_registration)
    {
      g_autofree char *registration = g_strdup_printf ("Registration no. %s", content->options->shop_registration);

      pawl_cell_add_text (cells[0], PAWL_LETTER_NOTE, registration, 0);
    }
  pawl_cell_add_right (cells[1], PAWL_LETTER_STRONG, number);
  pawl_flow_take_cells (content->flow, cells, x, 2, &style);
}

static void
add_title (const PawlContent *content)
{
  g_autofree char *title = g_strdup_printf ("Record of work: %s", pawl_procedure_get_unit (content->procedure));

  pawl_flow_add_space (content->flow, 12);
  pawl_flow_add_text (content->flow, PAWL_LETTER_TITLE, title);
  pawl_flow_add_text (content->flow, PAWL_LETTER_NOTE, pawl_procedure_get_statement (content->procedure));
  pawl_flow_add_space (content->flow, 5);
}

/* ---- dates ---- */

static GDateTime *
find_received (const PawlContent *content)
{
  GPtrArray *entries = pawl_job_get_entries (content->job);

  return entries->len > 0 ? pawl_entry_peek_at (g_ptr_array_index (entries, 0)) : NULL;
}

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

static void
add_dates (const PawlContent *content)
{
  g_autofree char *opened = pawl_words_time (find_received (content));
  g_autofree char *done = pawl_words_time (find_done (content));
  g_autofree char *issued = pawl_words_time (content->options->issued);
  const PawlField fields[] = {
    { "Work order", field_or (content, "work-order", "none"), 3 },
    { "Customer", field_or (content, "customer", "not stated"), 9 },
    { "Received", first_of (get_field (content, "received"), opened), 4 },
    { "Done", first_of (done, "not finished"), 4 },
    { "Issued", issued, 4 },
  };

  pawl_flow_add_rule (content->flow, 0.9, 0);
  pawl_flow_add_fields (content->flow, fields, G_N_ELEMENTS (fields));
}

/* ---- unit and authority ---- */

static const char *
find_variant (const PawlContent *content)
{
  GPtrArray *variants = pawl_procedure_get_variants (content->procedure);
  const char *id = get_field (content, "variant");

  for (guint i = 0; i < variants->len; i++)
    {
      const PawlVariant *variant = g_ptr_array_index (variants, i);

      if (g_str_equal (variant->id, id))
        return variant->name;
    }
  return id;
}

static void
add_unit (const PawlContent *content)
{
  const PawlField fields[] = {
    { "Maker", field_or (content, "maker", pawl_procedure_get_maker (content->procedure)), 3 },
    { "Unit", first_of (get_field (content, "unit"), pawl_procedure_get_unit (content->procedure)), 5 },
    { "Serial no.", field_or (content, "serial", "none"), 4 },
    { "Model, as on the plate", get_field (content, "model"), 3 },
    { "Variant", find_variant (content), 4 },
    { "How identified", field_or (content, "identified", "not stated"), 12 },
    { "Condition on arrival", field_or (content, "condition", "not stated"), 12 },
  };

  pawl_flow_add_heading (content->flow, "Unit");
  pawl_flow_add_fields (content->flow, fields, G_N_ELEMENTS (fields));
}

static void
add_request (const PawlContent *content)
{
  const PawlField fields[] = {
    { "Complaint", field_or (content, "complaint", "not stated"), 12 },
    { "Authorised", field_or (content, "authority", "not stated"), 12 },
  };

  pawl_flow_add_heading (content->flow, "Request and authority");
  pawl_flow_add_fields (content->flow, fields, G_N_ELEMENTS (fields));
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
        g_string_append_printf (text, ", edition %s", book->edition);
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

static void
add_procedure (const PawlContent *content)
{
  PawlProcedure *procedure = content->procedure;
  g_autofree char *books = list_books (procedure);
  g_autofree char *verified = say_verified (procedure);
  const PawlField fields[] = {
    { "Title", pawl_procedure_get_title (procedure), 9 },
    { "Revision", pawl_procedure_get_revision (procedure), 3 },
    { "Verification", verified, 12 },
    { "Books", books, 12 },
  };

  pawl_flow_add_heading (content->flow, "Procedure");
  pawl_flow_add_fields (content->flow, fields, G_N_ELEMENTS (fields));
  if (*get_field (content, "procedure"))
    {
      g_autofree char *digest = g_strdup_printf ("SHA-256 %s", get_field (content, "procedure"));

      pawl_flow_add_text (content->flow, PAWL_LETTER_NOTE, digest);
    }
}

/* ---- summary ---- */

static void
add_count (const PawlContent *content, guint n, const char *none, const char *one, const char *many)
{
  g_autofree char *several = n > 1 ? g_strdup_printf ("%u %s", n, many) : NULL;

  pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, n == 0 ? none : n == 1 ? one : several);
}

static void
add_summary (const PawlContent *content)
{
  g_autoptr (GPtrArray) results = pawl_results_of_readings (content->job);
  g_autoptr (GPtrArray) missing = pawl_results_list_missing (content->job);
  g_autoptr (GPtrArray) deviations = pawl_job_list_deviations (content->job);
  g_autofree char *steps = pawl_words_count_steps (content->job);
  g_autofree char *readings = pawl_words_count_readings (results);

  pawl_flow_add_heading (content->flow, "Summary");
  pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, steps);
  pawl_flow_add_item (content->flow, PAWL_LETTER_BODY, readings);
  add_count (content, deviations->len, "No deviation from the procedure is recorded.",
             "1 deviation from the procedure, listed under “Deviations”.",
             "deviations from the procedure, listed under “Deviations”.");
  add_count (content, missing->len, "Nothing that the procedure asks was left unanswered.",
             "1 item was not measured or not confirmed; it is listed under “Not measured, not done”.",
             "items were not measured or not confirmed; they are listed under “Not measured, not done”.");
  pawl_flow_add_item (content->flow, PAWL_LETTER_BODY,
                      pawl_job_peek_signature (content->job) ? "Signed; see “Sign-off”." : "Not signed.");
}

void
pawl_content_add_front (const PawlContent *content)
{
  add_letterhead (content);
  add_title (content);
  add_dates (content);
  add_unit (content);
  add_request (content);
  add_procedure (content);
  add_summary (content);
}
