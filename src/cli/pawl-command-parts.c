/* pawl parts: where each part of a job lies, what the kit leaves over, what is missing; and over several jobs, what there is to buy. */
#include <stdio.h>

#include "cli/pawl-cli.h"
#include "cli/pawl-cli-table.h"
#include "job/pawl-job-parts.h"
#include "procedure/pawl-alike.h"
#include "procedure/pawl-mirror.h"
#include "procedure/pawl-trays.h"
#include "report/pawl-buy-list.h"
#include "report/pawl-words.h"

typedef struct {
  char    *record, *variant, *output, *paper;
  gboolean is_buy, is_teardown, is_json, is_csv;
} Options;

static void
clear_options (Options *self)
{
  g_free (self->record);
  g_free (self->variant);
  g_free (self->output);
  g_free (self->paper);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

static const char *
get_or_empty (const PawlEntry *entry, const char *field)
{
  const char *value = entry ? pawl_entry_get (entry, field) : NULL;

  return value ? value : "";
}

/* ---- a job's parts ---- */

static const char *const place_words[] = { "on the unit", "off", "fitted", "not fitted yet" };

static void
print_head (PawlJob *job)
{
  printf ("%s, serial %s, work order %s, job %.8s\n", pawl_job_get_field (job, "unit"),
          *pawl_job_get_field (job, "serial") ? pawl_job_get_field (job, "serial") : "none",
          *pawl_job_get_field (job, "work-order") ? pawl_job_get_field (job, "work-order") : "none", pawl_job_get_id (job));
}

static void
print_part (PawlJob *job, const PawlTrays *trays, const PawlPartState *state)
{
  const PawlTrayPlace *place = pawl_trays_lookup (trays, state->part->id);
  g_autofree char *lies = place ? pawl_tray_place_describe (place) : g_strdup ("");
  g_autofree char *name = state->part->quantity > 1 ? g_strdup_printf ("%s × %u", state->part->name, state->part->quantity) : g_strdup (state->part->name);
  g_autofree char *fate = pawl_words_part (state);
  g_autofree char *lack = state->lack ? pawl_lack_describe (state->lack, pawl_job_peek_now (job)) : NULL;

  printf ("  %4s  %s%*s  %-16s  %-14s  %s%s%s\n", state->part->item, name, (int) MAX (0, 32 - g_utf8_strlen (name, -1)), "", lies, place_words[state->place], fate, lack ? "; " : "", lack ? lack : "");
}

static void
print_alikes (PawlJob *job, const PawlTrays *trays)
{
  GPtrArray *places = pawl_trays_get_places (trays);
  gboolean is_first = TRUE;

  for (guint i = 0; i < places->len; i++)
    {
      const PawlTrayPlace *place = g_ptr_array_index (places, i);
      g_autoptr (GPtrArray) alikes = pawl_alike_list (pawl_job_get_procedure (job), pawl_job_get_variant (job), place->part->id);

      for (guint j = 0; j < alikes->len; j++)
        {
          g_autofree char *words = pawl_alike_describe (g_ptr_array_index (alikes, j));

          if (is_first)
            puts ("\nLook-alikes");
          is_first = FALSE;
          printf ("  %4s  %s: %s\n", place->part->item, place->part->name, words);
        }
    }
}

static void
print_kit (PawlJob *job)
{
  g_autoptr (GPtrArray) kit = pawl_job_list_kit (job), remarks = pawl_job_list_kit_remarks (job);

  if (kit->len > 0)
    printf ("\nKit: %s\n", pawl_procedure_get_kit (pawl_job_get_procedure (job)));
  for (guint i = 0; i < kit->len; i++)
    {
      const PawlKitLine *line = g_ptr_array_index (kit, i);
      g_autofree char *words = pawl_kit_line_describe (line);

      printf ("  %s: %s\n", line->state->ask->name, words);
    }
  if (kit->len > 0)
    printf ("  %u should be left over\n", pawl_job_count_left_over (job));
  for (guint i = 0; i < remarks->len; i++)
    printf ("  not as it should be: %s\n", (const char *) g_ptr_array_index (remarks, i));
}

static void
print_parts (PawlJob *job)
{
  g_autoptr (PawlTrays) trays = pawl_trays_new (pawl_job_get_procedure (job), pawl_job_get_variant (job));
  GPtrArray *parts = pawl_job_get_parts (job);

  print_head (job);
  for (guint i = 0; i < parts->len; i++)
    print_part (job, trays, g_ptr_array_index (parts, i));
  print_alikes (job, trays);
  print_kit (job);
}

static void
add_parts_csv (GString *csv, PawlJob *job)
{
  g_autoptr (PawlTrays) trays = pawl_trays_new (pawl_job_get_procedure (job), pawl_job_get_variant (job));
  GPtrArray *parts = pawl_job_get_parts (job);

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *state = g_ptr_array_index (parts, i);
      const PawlTrayPlace *place = pawl_trays_lookup (trays, state->part->id);
      g_autofree char *quantity = g_strdup_printf ("%u", state->part->quantity);
      g_autofree char *tray = place && place->tray > 0 ? g_strdup_printf ("%u", place->tray) : NULL;
      g_autofree char *number = place && place->tray > 0 ? g_strdup_printf ("%u", place->place) : NULL;
      const PawlEntry *got = state->arrival ? state->arrival : state->disposition;

      pawl_csv_append_line (csv, pawl_job_get_id (job), pawl_job_get_field (job, "work-order"), state->part->item, state->part->id, state->part->name, quantity,
                            tray, number, place_words[state->place], get_or_empty (state->disposition, "choice"), get_or_empty (got, "source"),
                            get_or_empty (got, "from"), get_or_empty (got, "lot"), get_or_empty (state->lack, "state"), get_or_empty (state->lack, "from"),
                            get_or_empty (state->lack, "expected"));
    }
}

static void
add_parts_json (JsonBuilder *builder, PawlJob *job)
{
  g_autoptr (PawlTrays) trays = pawl_trays_new (pawl_job_get_procedure (job), pawl_job_get_variant (job));
  g_autoptr (GPtrArray) kit = pawl_job_list_kit (job);
  GPtrArray *parts = pawl_job_get_parts (job);

  json_builder_set_member_name (builder, "parts");
  json_builder_begin_array (builder);
  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *state = g_ptr_array_index (parts, i);
      const PawlTrayPlace *place = pawl_trays_lookup (trays, state->part->id);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "item", state->part->item);
      pawl_cli_add_string (builder, "part", state->part->id);
      pawl_cli_add_string (builder, "name", state->part->name);
      pawl_cli_add_int (builder, "quantity", state->part->quantity);
      pawl_cli_add_count (builder, "tray", place && place->tray > 0, place ? place->tray : 0);
      pawl_cli_add_count (builder, "place", place && place->tray > 0, place ? place->place : 0);
      pawl_cli_add_string (builder, "where", place_words[state->place]);
      pawl_cli_add_string (builder, "lacking", state->lack ? pawl_entry_get (state->lack, "state") : NULL);
      pawl_cli_add_string (builder, "expected", state->lack ? pawl_entry_get (state->lack, "expected") : NULL);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  json_builder_set_member_name (builder, "kit");
  json_builder_begin_array (builder);
  for (guint i = 0; i < kit->len; i++)
    {
      const PawlKitLine *line = g_ptr_array_index (kit, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "line", line->state->ask->name);
      pawl_cli_add_int (builder, "brings", line->brings);
      pawl_cli_add_int (builder, "in-hand", line->in_hand);
      pawl_cli_add_int (builder, "need", line->need);
      pawl_cli_add_int (builder, "left-over", line->left);
      pawl_cli_add_int (builder, "short", line->shortage);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/* ---- what there is to buy ---- */

static void
print_wants (PawlJob *job)
{
  g_autoptr (GPtrArray) wants = pawl_job_list_wants (job);

  if (wants->len > 0)
    print_head (job);
  for (guint i = 0; i < wants->len; i++)
    {
      const PawlWant *want = g_ptr_array_index (wants, i);
      g_autofree char *quantity = want->quantity > 0 ? g_strdup_printf ("%u × ", want->quantity) : g_strdup ("");
      g_autofree char *when = want->entry && want->kind == PAWL_WANT_ORDERED ? pawl_lack_describe (want->entry, pawl_job_peek_now (job)) : NULL;

      printf ("  %s%s%s%s: %s%s%s\n", quantity, want->item, *want->item ? " " : "", want->name, when ? when : pawl_want_get_word (want->kind),
              *want->why ? ", " : "", want->why);
    }
}

static void
add_wants_json (JsonBuilder *builder, PawlJob *job)
{
  g_autoptr (GPtrArray) wants = pawl_job_list_wants (job);

  json_builder_set_member_name (builder, "to-buy");
  json_builder_begin_array (builder);
  for (guint i = 0; i < wants->len; i++)
    {
      const PawlWant *want = g_ptr_array_index (wants, i);

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "item", want->item);
      pawl_cli_add_string (builder, "name", want->name);
      pawl_cli_add_int (builder, "quantity", want->quantity);
      pawl_cli_add_string (builder, "what", pawl_want_get_word (want->kind));
      pawl_cli_add_string (builder, "why", want->why);
      pawl_cli_add_string (builder, "from", want->from);
      pawl_cli_add_string (builder, "expected", want->expected);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
}

/* ---- order of teardown ---- */

static char *
list_parts (const PawlTrays *trays, GPtrArray *parts)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPart *part = g_ptr_array_index (parts, i);
      const PawlTrayPlace *place = pawl_trays_lookup (trays, part->id);
      g_autofree char *lies = place ? pawl_tray_place_describe (place) : g_strdup ("");

      g_string_append_printf (text, "%s%s %s%s%s%s", i > 0 ? ", " : "", part->item, part->name, *lies ? " (" : "", lies, *lies ? ")" : "");
    }
  return g_strdup (text->str);
}

static void
print_stated (PawlProcedure *procedure, const PawlTrays *trays, const char *variant)
{
  GPtrArray *steps = pawl_procedure_get_steps (procedure);

  puts ("The procedure takes apart in this order:");
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = g_ptr_array_index (steps, i);
      g_autoptr (GPtrArray) parts = g_ptr_array_new ();
      g_autofree char *words = NULL;

      for (char **id = step->removes; pawl_variant_matches (step->variant, variant) && *id; id++)
        if (pawl_procedure_lookup_part (procedure, *id))
          g_ptr_array_add (parts, (gpointer) pawl_procedure_lookup_part (procedure, *id));
      words = list_parts (trays, parts);
      if (parts->len > 0)
        printf ("  %3s  %s\n       %s\n", step->number, step->command, words);
    }
}

static void
print_mirror (PawlProcedure *procedure, const PawlTrays *trays, const char *variant)
{
  g_autoptr (GPtrArray) mirror = pawl_mirror_list (procedure, variant);

  puts ("The procedure has no steps for taking apart. This is its assembly turned round, worked out and tried by nobody:\n"
        "what is pressed, staked or glued comes off otherwise than it went on.");
  for (guint i = 0; i < mirror->len; i++)
    {
      const PawlMirrorStep *step = g_ptr_array_index (mirror, i);
      g_autofree char *words = list_parts (trays, step->parts);

      printf ("  %3u  take off %s\n       undoes step %s: %s\n", i + 1, words, step->step->number, step->step->command);
      for (guint j = 0; j < step->first->len; j++)
        printf ("       before it, write down as found: %s\n", ((const PawlAsk *) g_ptr_array_index (step->first, j))->name);
      if (step->warning)
        printf ("       mind: %s\n", step->warning);
    }
}

static void
print_teardown (PawlProcedure *procedure, const char *variant)
{
  g_autoptr (PawlTrays) trays = pawl_trays_new (procedure, variant);

  printf ("%s\n", pawl_procedure_get_title (procedure));
  if (pawl_mirror_is_stated (procedure, variant))
    print_stated (procedure, trays, variant);
  else
    print_mirror (procedure, trays, variant);
}

/* ---- the jobs ---- */

static gboolean
add_job (GPtrArray *benches, PawlRecord *record, const char *id, GError **error)
{
  PawlBench *bench = pawl_bench_resume (record, id, NULL, error);

  if (bench)
    g_ptr_array_add (benches, bench);
  return bench != NULL;
}

/* (transfer full) (element-type PawlBench): those that are named, or all that are not signed. */
static GPtrArray *
open_jobs (const Options *options, char **names, GError **error)
{
  g_autoptr (PawlRecord) record = pawl_cli_open_record (options->record, PAWL_RECORD_OPEN_READ_ONLY, error);
  g_autoptr (GPtrArray) benches = g_ptr_array_new_with_free_func (g_object_unref);
  g_autoptr (GPtrArray) lines = NULL;

  if (!record)
    return NULL;
  for (guint i = 0; names[i]; i++)
    {
      g_autofree char *id = pawl_record_find_job (record, names[i], error);

      if (!id || !add_job (benches, record, id, error))
        return NULL;
    }
  if (names[0])
    return g_steal_pointer (&benches);
  if (!(lines = pawl_record_list_jobs (record, error)))
    return NULL;
  for (guint i = lines->len; i > 0; i--) /* the longest untouched first */
    {
      const PawlJobLine *line = g_ptr_array_index (lines, i - 1);

      if (!line->is_signed && !add_job (benches, record, line->id, error))
        return NULL;
    }
  return g_steal_pointer (&benches);
}

/* (transfer full) (element-type PawlJob): borrowed from @benches. */
static GPtrArray *
list_jobs (GPtrArray *benches)
{
  GPtrArray *jobs = g_ptr_array_new ();

  for (guint i = 0; i < benches->len; i++)
    g_ptr_array_add (jobs, pawl_bench_get_job (g_ptr_array_index (benches, i)));
  return jobs;
}

static char *
make_parts_csv (GPtrArray *jobs)
{
  GString *csv = g_string_new (NULL);

  pawl_csv_append_line (csv, "job", "work-order", "item", "part", "name", "quantity", "tray", "place", "where", "choice", "source", "from", "lot", "lacking",
                        "ordered-from", "expected");
  for (guint i = 0; i < jobs->len; i++)
    add_parts_csv (csv, g_ptr_array_index (jobs, i));
  return g_string_free (csv, FALSE);
}

static void
print_csv (GPtrArray *benches, gboolean is_buy)
{
  g_autoptr (GPtrArray) jobs = list_jobs (benches);
  g_autofree char *csv = (is_buy ? pawl_buy_list_make_csv : make_parts_csv) (jobs);

  fputs (csv, stdout);
}

static void
print_json (GPtrArray *benches, gboolean is_buy)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < benches->len; i++)
    {
      PawlJob *job = pawl_bench_get_job (g_ptr_array_index (benches, i));

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "job", pawl_job_get_id (job));
      pawl_cli_add_string (builder, "unit", pawl_job_get_field (job, "unit"));
      pawl_cli_add_string (builder, "serial", pawl_job_get_field (job, "serial"));
      pawl_cli_add_string (builder, "work-order", pawl_job_get_field (job, "work-order"));
      (is_buy ? add_wants_json : add_parts_json) (builder, job);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  pawl_cli_print_json (builder);
}

static void
print_text (GPtrArray *benches, gboolean is_buy)
{
  guint n = 0;

  for (guint i = 0; i < benches->len; i++)
    {
      PawlJob *job = pawl_bench_get_job (g_ptr_array_index (benches, i));
      g_autoptr (GPtrArray) wants = pawl_job_list_wants (job);

      n += wants->len;
      if (is_buy)
        print_wants (job);
      else
        {
          if (i > 0)
            puts ("");
          print_parts (job);
        }
    }
  if (is_buy && n == 0)
    puts ("nothing to buy, to order or to wait for");
  else if (benches->len == 0)
    puts ("no job is open; name one that was signed");
}

static int
write_list (const char *command, const Options *options, GPtrArray *benches)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlShop) shop = pawl_cli_load_shop (&error);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  PawlBuyListOptions wanted = { .paper = shop ? shop->paper : PAWL_PAPER_A4, .shop = shop, .issued = now };
  g_autoptr (GPtrArray) jobs = list_jobs (benches);
  g_autoptr (PawlPages) pages = NULL;
  g_autoptr (GBytes) pdf = NULL;

  if (!shop || !pawl_cli_read_paper (options->paper, &wanted.paper, &error))
    return pawl_cli_fail (command, error);
  pages = pawl_buy_list_new (jobs, &wanted);
  if (!(pdf = pawl_pages_make_pdf (pages, &error)) || !pawl_pages_write (pdf, options->output, &error))
    return pawl_cli_fail (command, error);
  printf ("%s: %u %s\n", options->output, pawl_pages_get_n (pages), pawl_pages_get_n (pages) == 1 ? "page" : "pages");
  return PAWL_EXIT_FINE;
}

/* ---- the command ---- */

/* A procedure file, or a job of the record. */
static int
show_teardown (const char *command, const Options *options, const char *what)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (PawlProcedure) procedure = g_str_has_suffix (what, ".xml") ? pawl_procedure_load (what, NULL, &error) : NULL;
  g_autoptr (PawlBench) bench = NULL;

  if (procedure)
    {
      print_teardown (procedure, options->variant ? options->variant : "");
      return PAWL_EXIT_FINE;
    }
  if (error || !(bench = pawl_cli_open_job (options->record, what, &error)))
    return pawl_cli_fail (command, error);
  print_teardown (pawl_bench_get_procedure (bench), pawl_job_get_variant (pawl_bench_get_job (bench)));
  return PAWL_EXIT_FINE;
}

static int
show_jobs (const char *command, const Options *options, char **names)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (GPtrArray) benches = open_jobs (options, names, &error);

  if (!benches)
    return pawl_cli_fail (command, error);
  if (options->output)
    return write_list (command, options, benches);
  if (options->is_csv)
    print_csv (benches, options->is_buy);
  else if (options->is_json)
    print_json (benches, options->is_buy);
  else
    print_text (benches, options->is_buy);
  return PAWL_EXIT_FINE;
}

int
pawl_command_parts (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "buy", 0, 0, G_OPTION_ARG_NONE, &options.is_buy, "What there is to buy, to order or to wait for", NULL },
    { "teardown", 0, 0, G_OPTION_ARG_NONE, &options.is_teardown, "The order in which parts come off, of a procedure file or a job", NULL },
    { "variant", 0, 0, G_OPTION_ARG_FILENAME, &options.variant, "With --teardown and a file: for this variant", "ID" },
    { "output", 'o', 0, G_OPTION_ARG_FILENAME, &options.output, "With --buy: print the list as this PDF", "OUT.pdf" },
    { "paper", 0, 0, G_OPTION_ARG_FILENAME, &options.paper, "a4 or letter; without it, the shop's", "PAPER" },
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    { "csv", 0, 0, G_OPTION_ARG_NONE, &options.is_csv, "Print a table as CSV", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print as JSON", NULL },
    G_OPTION_ENTRY_NULL
  };

  if (!pawl_cli_parse (&argc, &argv, entries, "[JOB…|FILE]",
                       "Shows where each part lies, what the kit leaves over and what is missing; of all jobs that are not signed when none is named.", 0, -1)
      || !pawl_cli_check_table_options (argv[0], options.is_json, options.is_csv))
    return PAWL_EXIT_COULD_NOT;
  if (options.output && (!options.is_buy || options.is_csv || options.is_json))
    {
      pawl_cli_complain (argv[0], "-o prints what there is to buy, as a PDF: say --buy, without --csv or --json");
      return PAWL_EXIT_COULD_NOT;
    }
  if (!options.is_teardown)
    return show_jobs (argv[0], &options, argv + 1);
  if (argc != 2 || options.is_csv || options.is_json || options.is_buy)
    {
      pawl_cli_complain (argv[0], "--teardown is of one procedure file or one job, and printed as text");
      return PAWL_EXIT_COULD_NOT;
    }
  return show_teardown (argv[0], &options, argv[1]);
}
