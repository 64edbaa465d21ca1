#include "procedure/pawl-variant.h"
#include "report/pawl-sheet.h"

#include "drawing/pawl-sketch.h"
#include "procedure/pawl-hidden.h"
#include "procedure/pawl-kit.h"
#include "procedure/pawl-trays.h"
#include "report/pawl-boxes.h"
#include "report/pawl-content.h"
#include "report/pawl-words.h"

/* Columns of a step: its tick, what to do, where to write. */
#define TICK_WIDTH_PT   30.0
#define WRITE_SHARE     0.42
#define GUTTER_PT       12.0

/* Room for figures of 6 mm, written by hand. */
#define BOX_HEIGHT_PT   26.0
#define BOX_WIDTH_PT   112.0
#define SKETCH_HEIGHT_PT 92.0
#define SKETCH_TEXT_PT   6.6
#define POINTS_PER_MM   (72 / 25.4)

typedef struct {
  PawlFlow               *flow;
  PawlProcedure          *procedure;
  const PawlSheetOptions *options;
  double                  text_width, write_x, write_width;
  GPtrArray              *trays; /* (element-type PawlTrays): one for each variant */
  GHashTable             *said; /* of a caution's id the number of the step before which it stands in full */
} Sheet;

static PawlCell *
new_cell (const Sheet *sheet, double width)
{
  return pawl_cell_new (pawl_flow_get_context (sheet->flow), width);
}

/* ---- the head ---- */

typedef struct {
  const char *label;
  guint       span; /* twelfths of the width */
} HeadBox;

/* What a job is opened with. */
static const HeadBox job_boxes[] = {
  { "Work order", 3 }, { "Customer", 6 }, { "Serial no.", 3 },
  { "Complaint, in the customer’s words", 9 }, { "Variant", 3 },
  { "Authorised: what, by whom, up to how much", 9 }, { "Day", 3 },
};

/* Which job a sheet of one phase belongs to, when several lie beside a sink. */
static const HeadBox phase_boxes[] = { { "Work order", 4 }, { "Serial no.", 4 }, { "Day", 4 } };

static void
add_head_boxes (const Sheet *sheet, const HeadBox *boxes, guint n_boxes)
{
  const double gap = 6, twelve = 12;
  double twelfth = (pawl_flow_get_width (sheet->flow) + gap) / twelve;
  const PawlRowStyle style = { .padding = 2 };
  PawlCell *cells[12];
  double x[12];
  guint n = 0, used = 0;

  for (guint i = 0; i < n_boxes; i++)
    {
      double width = boxes[i].span * twelfth - gap;

      x[n] = used * twelfth;
      cells[n] = new_cell (sheet, width);
      pawl_cell_add_box (cells[n++], width, BOX_HEIGHT_PT, boxes[i].label, NULL);
      used += boxes[i].span;
      if (used == 12)
        {
          pawl_flow_take_cells (sheet->flow, cells, x, n, &style);
          n = used = 0;
        }
    }
}

static void
add_front (const Sheet *sheet, const char *title, PawlFigure *figure)
{
  PawlProcedure *procedure = sheet->procedure;
  g_autofree char *what = g_strdup_printf ("%s, revision %s", pawl_procedure_get_title (procedure), pawl_procedure_get_revision (procedure));

  pawl_flow_add_title (sheet->flow, title);
  pawl_flow_add_text (sheet->flow, PAWL_LETTER_BODY, what);
  pawl_flow_add_text (sheet->flow, PAWL_LETTER_NOTE, pawl_procedure_get_statement (procedure));
  pawl_flow_add_space (sheet->flow, 5);
  if (sheet->options->phase)
    add_head_boxes (sheet, phase_boxes, G_N_ELEMENTS (phase_boxes));
  else
    add_head_boxes (sheet, job_boxes, G_N_ELEMENTS (job_boxes));
  pawl_flow_add_space (sheet->flow, 4);
  pawl_flow_add_text (sheet->flow, PAWL_LETTER_NOTE,
                      "Tick what is done, write a reading as the gauge shows it, and the time where it matters. What is written in one width beside a box is its item in "
                      "the answers file that “pawl work --answers” enters. Follow your local rules.");
  if (figure)
    {
      PawlCell *cell = new_cell (sheet, pawl_flow_get_width (sheet->flow));
      const double x = 0;
      const PawlRowStyle style = { .padding = 4 };

      pawl_content_add_exploded (cell, procedure, figure, pawl_flow_get_width (sheet->flow), pawl_flow_get_height (sheet->flow) * 0.4);
      pawl_flow_take_cells (sheet->flow, &cell, &x, 1, &style);
    }
}

/* ---- what an ask wants to be written ---- */

static void
draw_sketch (cairo_t *cr, double x, double y, double width, double height, gpointer data)
{
  const PawlSketchOptions options = { .palette = PAWL_PALETTE_PRINT, .units_per_mm = POINTS_PER_MM, .text_size = SKETCH_TEXT_PT };

  cairo_translate (cr, x, y);
  pawl_sketch_draw (data, &options, cr, width, height);
}

static void
write_ticks_of (PawlCell *cell, const char * const *outcomes)
{
  g_autoptr (GPtrArray) words = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; outcomes && outcomes[i]; i++)
    g_ptr_array_add (words, pawl_words_outcome (outcomes[i]));
  if (words->len == 0)
    {
      pawl_cell_add_box (cell, BOX_WIDTH_PT, BOX_HEIGHT_PT, NULL, NULL);
      return;
    }
  g_ptr_array_add (words, NULL);
  pawl_cell_add_ticks (cell, (const char * const *) words->pdata);
}

/* A box for each place, or for each repeat. */
static void
write_reading (PawlCell *cell, const PawlReading *reading)
{
  const PawlUnit *unit = reading->typing.default_unit ? reading->typing.default_unit : pawl_limits_get_unit (reading->limits);
  const char *symbol = unit ? pawl_unit_get_symbol (unit) : NULL;
  const char * const *outcomes = pawl_limits_peek_outcomes (reading->limits);

  if (reading->derived)
    pawl_cell_add_text (cell, PAWL_LETTER_NOTE, "Worked out from other readings; nothing to write.", 0);
  else if (outcomes)
    write_ticks_of (cell, outcomes);
  else if (reading->spots->len > 0)
    for (guint i = 0; i < reading->spots->len; i++)
      pawl_cell_add_box (cell, BOX_WIDTH_PT, BOX_HEIGHT_PT, ((PawlReadingSpot *) g_ptr_array_index (reading->spots, i))->name, symbol);
  else
    for (guint i = 0; i < MAX (reading->repeats, 1); i++)
      {
        g_autofree char *which = reading->repeats > 1 ? g_strdup_printf ("%u of %u", i + 1, reading->repeats) : NULL;

        pawl_cell_add_box (cell, BOX_WIDTH_PT, BOX_HEIGHT_PT, which, symbol);
      }
}

static void
write_ask (PawlCell *cell, double width, const PawlAsk *ask)
{
  static const char * const ways[] = { "right", "wrong", NULL };

  switch (ask->kind)
    {
    case PAWL_ASK_FIT:
      write_ticks_of (cell, ways);
      break;
    case PAWL_ASK_CHECK:
      if (ask->check->kind != PAWL_CHECK_LEFT_OVER)
        write_ticks_of (cell, pawl_limits_peek_outcomes (ask->check->limits));
      if (pawl_kit_takes_count (ask))
        pawl_cell_add_box (cell, BOX_WIDTH_PT, BOX_HEIGHT_PT, ask->check->kind == PAWL_CHECK_LEFT_OVER ? "pieces" : "or pieces", NULL);
      break;
    case PAWL_ASK_READING:
      write_reading (cell, ask->reading);
      break;
    case PAWL_ASK_WAIT:
      pawl_cell_add_box (cell, BOX_WIDTH_PT, BOX_HEIGHT_PT, "start: day and time", NULL);
      pawl_cell_add_box (cell, BOX_WIDTH_PT, BOX_HEIGHT_PT, "end: day and time", NULL);
      break;
    case PAWL_ASK_DECIDE:
      write_ticks_of (cell, (const char * const *) ask->decide->choices);
      pawl_cell_add_box (cell, width, BOX_HEIGHT_PT, "why, source, lot", NULL);
      break;
    case PAWL_ASK_NOTE:
    default:
      pawl_cell_add_box (cell, width, BOX_HEIGHT_PT, NULL, NULL);
      break;
    }
  if (ask->kind != PAWL_ASK_READING || !ask->reading->derived)
    pawl_cell_add_text (cell, PAWL_LETTER_DIGEST, ask->id, 0);
}

/* ---- what an ask says ---- */

static void
say_variant (const Sheet *sheet, PawlCell *cell, const char *variant)
{
  g_autofree char *name = variant ? pawl_variant_describe (sheet->procedure, variant) : NULL;
  g_autofree char *only = name ? g_strdup_printf ("Only for: %s", name) : NULL;

  pawl_cell_add_text (cell, PAWL_LETTER_STRONG, only, 0);
}

static void
say_reading (const Sheet *sheet, PawlCell *cell, const PawlReading *reading)
{
  const PawlTool *tool = reading->tool ? pawl_procedure_lookup_tool (sheet->procedure, reading->tool) : NULL;
  g_autofree char *described = pawl_limits_describe (reading->limits), *conditions = pawl_words_conditions (reading);
  g_autofree char *limits = g_strdup_printf ("Limits: %s", described);
  g_autofree char *with = tool ? g_strdup_printf ("With: %s", tool->name) : NULL;

  pawl_cell_add_text (cell, PAWL_LETTER_CELL_STRONG, limits, 0);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, conditions, 0);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, with, 0);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, reading->correct, 0);
}

/* What is asked of a donor's part alone, and how many a line of the kit brings. */
static void
say_when (const Sheet *sheet, PawlCell *cell, const PawlAsk *ask)
{
  const PawlPart *donor = ask->donor ? pawl_procedure_lookup_part (sheet->procedure, ask->donor) : NULL;
  g_autofree char *only = donor ? g_strdup_printf ("Only of a %s from a donor", donor->name) : NULL;
  g_autofree char *brings = pawl_kit_is_line (ask) ? g_strdup_printf ("%u by the list", ask->check->quantity) : NULL;

  pawl_cell_add_text (cell, PAWL_LETTER_STRONG, only, 0);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, brings, 0);
}

static void
say_ask (const Sheet *sheet, PawlCell *cell, const PawlAsk *ask)
{
  g_autofree char *wait = ask->kind == PAWL_ASK_WAIT ? pawl_words_wait_limits (ask->wait) : NULL;
  g_autofree char *how_long = wait ? g_strdup_printf ("In %s, %s", ask->wait->agent, wait) : NULL;

  pawl_cell_add_text (cell, PAWL_LETTER_CELL_STRONG, ask->name, 0);
  say_variant (sheet, cell, ask->variant);
  say_when (sheet, cell, ask);
  if (ask->kind == PAWL_ASK_FIT)
    {
      pawl_cell_add_text (cell, PAWL_LETTER_CELL, ask->rule->says, 0);
      pawl_cell_add_text (cell, PAWL_LETTER_NOTE, ask->rule->verify, 0);
      pawl_cell_add_gap (cell, 2);
      pawl_cell_add_art (cell, sheet->text_width, SKETCH_HEIGHT_PT, draw_sketch, ask->rule, NULL);
      return;
    }
  pawl_cell_add_text (cell, PAWL_LETTER_CELL, ask->says, 0);
  pawl_cell_add_text (cell, PAWL_LETTER_CELL_STRONG, how_long, 0);
  if (ask->kind == PAWL_ASK_READING)
    say_reading (sheet, cell, ask->reading);
}

/* ---- steps ---- */

static const char *
get_signal_word (PawlSignal signal)
{
  static const char * const words[] = {
    [PAWL_SIGNAL_DANGER] = "DANGER", [PAWL_SIGNAL_WARNING] = "WARNING", [PAWL_SIGNAL_CAUTION] = "CAUTION", [PAWL_SIGNAL_NOTICE] = "NOTICE",
  };

  return words[signal];
}

/* In full the first time; after that its hazard, and where the rest stands. */
static char *
word_caution (const Sheet *sheet, const PawlCaution *caution, const PawlStep *step)
{
  const char *signal = get_signal_word (caution->signal), *first = g_hash_table_lookup (sheet->said, caution->id);

  if (first)
    return g_strdup_printf ("%s: %s As before step %s.", signal, caution->hazard, first);
  g_hash_table_insert (sheet->said, caution->id, step->number);
  return g_strdup_printf ("%s: %s %s %s", signal, caution->hazard, caution->consequence, caution->avoid);
}

static void
say_cautions (const Sheet *sheet, PawlCell *cell, const PawlStep *step)
{
  for (guint i = 0; step->cautions[i]; i++)
    {
      const PawlCaution *caution = pawl_procedure_lookup_caution (sheet->procedure, step->cautions[i]);
      g_autofree char *text = caution ? word_caution (sheet, caution, step) : NULL;

      pawl_cell_add_text (cell, PAWL_LETTER_CELL_STRONG, text, 0);
    }
  if (step->cautions[0])
    pawl_cell_add_gap (cell, 2);
}

/* The cautions stand before the command that they guard. */
/* (transfer full) (nullable): NULL where the variants do not agree, or there is none. */
static char *
find_place (const Sheet *sheet, const char *part_id)
{
  g_autofree char *place = NULL;

  for (guint i = 0; i < sheet->trays->len; i++)
    {
      const PawlTrayPlace *found = pawl_trays_lookup (g_ptr_array_index (sheet->trays, i), part_id);
      g_autofree char *words = found ? pawl_tray_place_describe (found) : NULL;

      if (!words || (place && !g_str_equal (words, place)))
        return NULL;
      g_free (place);
      place = g_steal_pointer (&words);
    }
  return g_steal_pointer (&place);
}

/* Where each part is laid or fetched, in a line. @is_new: what the kit brings is not fetched from the old parts. */
static void
say_places (const Sheet *sheet, PawlCell *cell, const char *lead, char **parts, gboolean is_new)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (char **id = parts; *id; id++)
    {
      const PawlPart *part = pawl_procedure_lookup_part (sheet->procedure, *id);
      g_autofree char *place = part && is_new && part->is_kit ? g_strdup ("new, from the kit") : part ? find_place (sheet, *id) : NULL;

      if (place)
        g_string_append_printf (text, "%s%s %s: %s", text->len > 0 ? "; " : lead, part->item, part->name, place);
    }
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, text->str, 0);
}

static PawlCell *
make_command (const Sheet *sheet, const PawlStep *step)
{
  PawlCell *cell = new_cell (sheet, sheet->text_width);
  g_autofree char *command = g_strdup_printf ("%s. %s", step->number, step->command);

  say_cautions (sheet, cell, step);
  pawl_cell_add_text (cell, PAWL_LETTER_STRONG, command, 0);
  say_variant (sheet, cell, step->variant);
  pawl_cell_add_text (cell, PAWL_LETTER_CELL, step->info, 0);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, step->expect, 0);
  pawl_cell_add_text (cell, PAWL_LETTER_NOTE, step->cant_undo, 0);
  say_places (sheet, cell, "Lay ", step->removes, FALSE);
  say_places (sheet, cell, "Take ", step->installs, TRUE);
  return cell;
}

/* Who and when; and where somebody else has to look, who that was. */
static PawlCell *
make_done (const Sheet *sheet, const PawlStep *step)
{
  static const char * const holds[] = {
    [PAWL_HOLD_REVIEW] = "reviewed by", [PAWL_HOLD_WITNESS] = "witnessed by", [PAWL_HOLD_HOLD] = "HOLD: released by",
  };
  PawlCell *cell = new_cell (sheet, sheet->write_width);
  g_autofree char *item = g_strdup_printf (step->hold == PAWL_HOLD_NONE ? "%s · done" : "%s · done, release", step->id);

  pawl_cell_add_box (cell, step->hold == PAWL_HOLD_NONE ? BOX_WIDTH_PT : sheet->write_width, BOX_HEIGHT_PT - 5, "by, time", NULL);
  if (step->hold != PAWL_HOLD_NONE)
    pawl_cell_add_box (cell, sheet->write_width, BOX_HEIGHT_PT, holds[step->hold], NULL);
  pawl_cell_add_text (cell, PAWL_LETTER_DIGEST, item, 0);
  return cell;
}

static void
add_ask (const Sheet *sheet, const PawlAsk *ask, gboolean is_last)
{
  PawlCell *cells[2] = { new_cell (sheet, sheet->text_width), new_cell (sheet, sheet->write_width) };
  const double x[2] = { TICK_WIDTH_PT, sheet->write_x };
  const PawlRowStyle style = { .padding = 3, .rule_below = is_last ? 0.5 : 0, .rule_grey = 0.5, .keep_next = FALSE };

  say_ask (sheet, cells[0], ask);
  write_ask (cells[1], sheet->write_width, ask);
  pawl_flow_take_cells (sheet->flow, cells, x, 2, &style);
}

/* What is to be photographed before this step hides it; what the step fits and hides itself, once it is in. */
static void
add_photos (const Sheet *sheet, const PawlStep *step)
{
  static const char * const ways[] = { "photo taken", "on without", NULL };
  g_autoptr (GPtrArray) traps = pawl_hidden_list_traps (sheet->procedure, step);
  g_autofree char *what = pawl_hidden_describe (sheet->procedure, traps);
  g_autofree char *text = g_strdup_printf ("Before this step hides it, a photo of %s", what);
  PawlCell *cells[2];
  const double x[2] = { TICK_WIDTH_PT, sheet->write_x };
  const PawlRowStyle style = { .padding = 3, .rule_below = step->asks->len == 0 ? 0.5 : 0, .rule_grey = 0.5, .keep_next = step->asks->len > 0 };
  g_autofree char *item = g_strdup_printf ("%s · photo, no-photo", step->id);

  if (traps->len == 0)
    return;
  cells[0] = new_cell (sheet, sheet->text_width);
  cells[1] = new_cell (sheet, sheet->write_width);
  pawl_cell_add_text (cells[0], PAWL_LETTER_CELL_STRONG, text, 0);
  pawl_cell_add_ticks (cells[1], ways);
  pawl_cell_add_text (cells[1], PAWL_LETTER_DIGEST, item, 0);
  pawl_flow_take_cells (sheet->flow, cells, x, 2, &style);
}

static gboolean
hides_any (const Sheet *sheet, const PawlStep *step)
{
  g_autoptr (GPtrArray) traps = pawl_hidden_list_traps (sheet->procedure, step);

  return traps->len > 0;
}

static void
add_step (const Sheet *sheet, const PawlStep *step)
{
  gboolean goes_on = step->asks->len > 0 || hides_any (sheet, step);
  PawlCell *cells[3] = { new_cell (sheet, TICK_WIDTH_PT), make_command (sheet, step), make_done (sheet, step) };
  g_autofree char *continued = g_strdup_printf ("%s. %s (continued)", step->number, step->command);
  const double x[3] = { 0, TICK_WIDTH_PT, sheet->write_x };
  const PawlRowStyle style = { .space_before = 2, .padding = 4, .rule_below = goes_on ? 0 : 0.5, .rule_grey = 0.5, .keep_next = goes_on };

  pawl_cell_add_tick (cells[0]);
  pawl_flow_take_cells (sheet->flow, cells, x, 3, &style);
  add_photos (sheet, step);
  for (guint i = 0; i < step->asks->len; i++)
    {
      add_ask (sheet, g_ptr_array_index (step->asks, i), i + 1 == step->asks->len);
      if (i == 0 && step->asks->len > 1)
        pawl_flow_set_continued (sheet->flow, continued);
    }
  pawl_flow_set_repeated (sheet->flow, NULL);
}

static void
add_steps (const Sheet *sheet)
{
  GPtrArray *steps = pawl_procedure_get_steps (sheet->procedure);
  const char *phase = NULL;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = g_ptr_array_index (steps, i);

      if (sheet->options->phase && !g_str_equal (step->phase, sheet->options->phase->id))
        continue;
      if (g_strcmp0 (phase, step->phase) != 0)
        pawl_flow_add_heading (sheet->flow, pawl_procedure_lookup_phase (sheet->procedure, step->phase)->title);
      phase = step->phase;
      add_step (sheet, step);
    }
}

static void
add_sign (const Sheet *sheet)
{
  PawlCell *cells[2] = { new_cell (sheet, sheet->text_width), new_cell (sheet, sheet->write_width) };
  const double x[2] = { TICK_WIDTH_PT, sheet->write_x };
  const PawlRowStyle style = { .padding = 4 };

  pawl_flow_add_heading (sheet->flow, "Sign-off");
  pawl_cell_add_text (cells[0], PAWL_LETTER_CELL, "Who signs for the work, in which role, when, and with what statement.", 0);
  pawl_cell_add_box (cells[1], sheet->write_width, BOX_HEIGHT_PT, "name, role", NULL);
  pawl_cell_add_box (cells[1], sheet->write_width, BOX_HEIGHT_PT, "statement", NULL);
  pawl_cell_add_box (cells[1], sheet->write_width, BOX_HEIGHT_PT, "day and time, signature", NULL);
  pawl_cell_add_text (cells[1], PAWL_LETTER_DIGEST, "sign", 0);
  pawl_flow_take_cells (sheet->flow, cells, x, 2, &style);
}

static GPtrArray *
list_trays (PawlProcedure *procedure)
{
  GPtrArray *variants = pawl_procedure_get_variants (procedure);
  GPtrArray *trays = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_trays_free);

  for (guint i = 0; i < variants->len; i++)
    g_ptr_array_add (trays, pawl_trays_new (procedure, ((PawlVariant *) g_ptr_array_index (variants, i))->id));
  if (variants->len == 0)
    g_ptr_array_add (trays, pawl_trays_new (procedure, ""));
  return trays;
}

PawlPages *
pawl_sheet_new (PawlProcedure *procedure, PawlFigure *figure, const PawlSheetOptions *options)
{
  g_autofree char *title = options->phase ? g_strdup_printf ("Bench sheet: %s, %s", pawl_procedure_get_unit (procedure), options->phase->title)
                                          : g_strdup_printf ("Bench sheet: %s", pawl_procedure_get_unit (procedure));
  const PawlPagesSetting setting = {
    .paper = options->paper, .title = title, .running = title, .issued = options->issued, .language = pawl_procedure_get_language (procedure),
    .author = options->shop ? options->shop->name : "", .footer = options->shop ? options->shop->footer : NULL,
  };
  PawlPages *pages = pawl_pages_new (&setting);
  g_autoptr (GHashTable) said = g_hash_table_new (g_str_hash, g_str_equal);
  Sheet sheet = { .flow = pawl_pages_get_flow (pages), .procedure = procedure, .options = options, .said = said };
  g_autoptr (GPtrArray) trays = list_trays (procedure);
  double width = pawl_flow_get_width (sheet.flow);

  sheet.trays = trays;
  sheet.write_width = width * WRITE_SHARE - GUTTER_PT;
  sheet.write_x = width - sheet.write_width;
  sheet.text_width = sheet.write_x - GUTTER_PT - TICK_WIDTH_PT;
  add_front (&sheet, title, figure);
  add_steps (&sheet);
  if (!options->phase)
    add_sign (&sheet);
  return pages;
}
