#include "report/pawl-buy-list.h"

#include "job/pawl-job-parts.h"
#include "recall/pawl-csv.h"
#include "report/pawl-table.h"
#include "report/pawl-words.h"

enum { COLUMN_DONE, COLUMN_ITEM, COLUMN_NAME, COLUMN_QUANTITY, COLUMN_WHAT, COLUMN_FROM, N_COLUMNS };

static const PawlColumn columns[N_COLUMNS] = {
  { "Had", 6, PAWL_COLUMN_TEXT },
  { "Item", 7, PAWL_COLUMN_NUMBER },
  { "What", 34, PAWL_COLUMN_TEXT },
  { "Qty", 7, PAWL_COLUMN_NUMBER },
  { "Why", 32, PAWL_COLUMN_TEXT },
  { "From, expected", 30, PAWL_COLUMN_TEXT },
};

static void
add_want (PawlTable *table, PawlJob *job, const PawlWant *want)
{
  g_autofree char *quantity = want->quantity > 0 ? g_strdup_printf ("%u", want->quantity) : NULL;
  g_autofree char *when = want->kind == PAWL_WANT_ORDERED ? pawl_lack_describe (want->entry, pawl_job_peek_now (job)) : g_strdup (want->from);
  g_autofree char *what = pawl_words_outcome (pawl_want_get_word (want->kind));

  pawl_table_begin_row (table);
  pawl_table_add (table, COLUMN_DONE, PAWL_LETTER_CELL, "□");
  pawl_table_add (table, COLUMN_ITEM, PAWL_LETTER_CELL, want->item);
  pawl_table_add (table, COLUMN_NAME, PAWL_LETTER_CELL, want->name);
  pawl_table_add (table, COLUMN_NAME, PAWL_LETTER_NOTE, want->part ? want->part->interchange : NULL);
  pawl_table_add (table, COLUMN_QUANTITY, PAWL_LETTER_CELL, quantity);
  pawl_table_add (table, COLUMN_WHAT, PAWL_LETTER_CELL, what);
  pawl_table_add (table, COLUMN_WHAT, PAWL_LETTER_NOTE, want->why);
  pawl_table_add (table, COLUMN_FROM, PAWL_LETTER_CELL, when);
}

/* "SD-3 sidedraft carburetor, serial PD 30718, work order TS-1042" */
static char *
dup_title (PawlJob *job)
{
  g_autoptr (GString) text = g_string_new (pawl_job_get_field (job, "unit"));

  if (*pawl_job_get_field (job, "serial"))
    g_string_append_printf (text, ", serial %s", pawl_job_get_field (job, "serial"));
  if (*pawl_job_get_field (job, "work-order"))
    g_string_append_printf (text, ", work order %s", pawl_job_get_field (job, "work-order"));
  return g_strdup (text->str);
}

static guint
add_job (PawlFlow *flow, PawlJob *job)
{
  g_autoptr (GPtrArray) wants = pawl_job_list_wants (job);
  g_autoptr (PawlTable) table = pawl_table_new (columns, N_COLUMNS);
  g_autofree char *title = dup_title (job);

  for (guint i = 0; i < wants->len; i++)
    add_want (table, job, g_ptr_array_index (wants, i));
  if (wants->len == 0)
    return 0;
  pawl_flow_add_heading (flow, title);
  pawl_flow_add_table (flow, table);
  return wants->len;
}

PawlPages *
pawl_buy_list_new (GPtrArray *jobs, const PawlBuyListOptions *options)
{
  g_autofree char *day = g_date_time_format (options->issued, "%F");
  g_autofree char *title = g_strdup_printf ("To buy, or to wait for, %s", day);
  const PawlPagesSetting setting = {
    .paper = options->paper, .title = title, .running = title, .issued = options->issued, .language = "en",
    .author = options->shop ? options->shop->name : "", .footer = options->shop ? options->shop->footer : NULL,
  };
  PawlPages *pages = pawl_pages_new (&setting);
  PawlFlow *flow = pawl_pages_get_flow (pages);
  guint n = 0;

  pawl_flow_add_title (flow, title);
  for (guint i = 0; i < jobs->len; i++)
    n += add_job (flow, g_ptr_array_index (jobs, i));
  if (n == 0)
    pawl_flow_add_text (flow, PAWL_LETTER_BODY, "Nothing is missing, to be replaced or running out.");
  return pages;
}

/* ---- as CSV ---- */

static void
add_wants_csv (GString *csv, PawlJob *job)
{
  g_autoptr (GPtrArray) wants = pawl_job_list_wants (job);

  for (guint i = 0; i < wants->len; i++)
    {
      const PawlWant *want = g_ptr_array_index (wants, i);
      g_autofree char *quantity = want->quantity > 0 ? g_strdup_printf ("%u", want->quantity) : NULL;

      pawl_csv_append_line (csv, pawl_job_get_id (job), pawl_job_get_field (job, "unit"), pawl_job_get_field (job, "serial"), pawl_job_get_field (job, "work-order"),
                            want->item, want->name, quantity, pawl_want_get_word (want->kind), want->why, want->from, want->expected);
    }
}

char *
pawl_buy_list_make_csv (GPtrArray *jobs)
{
  GString *csv = g_string_new (NULL);

  pawl_csv_append_line (csv, "job", "unit", "serial", "work-order", "item", "name", "quantity", "what", "why", "from", "expected");
  for (guint i = 0; i < jobs->len; i++)
    add_wants_csv (csv, g_ptr_array_index (jobs, i));
  return g_string_free (csv, FALSE);
}
