/* The answers file that goes with a blank bench sheet. */
#include "job/pawl-bench-sheet.h"
#include "procedure/pawl-hidden.h"
#include "report/pawl-sheet.h"

static void
add_row (GString *csv, const char *step, const char *item, const char *instrument)
{
  g_string_append_printf (csv, ",%s,%s," PAWL_BENCH_SHEET_OPEN ",%s,,,,,,\r\n", step, item, instrument ? instrument : "");
}

static void
add_opening (GString *csv)
{
  static const char * const fields[] = { "work-order", "customer", "serial", "complaint", "authority", "variant" };

  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    add_row (csv, "job", fields[i], NULL);
}

/* As many rows as there are answers: repeats of a reading, begin and end of a wait. What is worked out has none. */
static guint
count_rows (const PawlAsk *ask)
{
  if (ask->kind == PAWL_ASK_READING)
    return ask->reading->derived ? 0 : MAX (ask->reading->repeats, 1);
  return ask->kind == PAWL_ASK_WAIT ? 2 : 1;
}

static void
add_step (GString *csv, PawlProcedure *procedure, const PawlStep *step)
{
  g_autoptr (GPtrArray) traps = pawl_hidden_list_traps (procedure, step);

  if (traps->len > 0)
    add_row (csv, step->id, "photo", NULL);
  for (guint i = 0; i < step->asks->len; i++)
    {
      const PawlAsk *ask = g_ptr_array_index (step->asks, i);

      for (guint j = 0; j < count_rows (ask); j++)
        add_row (csv, step->id, ask->id, ask->kind == PAWL_ASK_READING ? ask->reading->tool : NULL);
    }
  add_row (csv, step->id, "done", NULL);
  if (step->hold != PAWL_HOLD_NONE)
    add_row (csv, step->id, "release", NULL);
}

char *
pawl_sheet_make_csv (PawlProcedure *procedure, const PawlPhase *phase)
{
  GPtrArray *steps = pawl_procedure_get_steps (procedure);
  GString *csv = g_string_new ("at,step,item,answer,instrument,person,source,lot,deviation,accepted-by,note\r\n");

  if (!phase)
    add_opening (csv);
  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = g_ptr_array_index (steps, i);

      if (!phase || g_str_equal (step->phase, phase->id))
        add_step (csv, procedure, step);
    }
  if (!phase)
    add_row (csv, "", "sign", NULL);
  return g_string_free (csv, FALSE);
}
