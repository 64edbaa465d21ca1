/* Jobs of an invented procedure, as many and as long as wanted: for the picture of the lanes, and to measure with. */
#pragma once

#include "plan/pawl-work-plan.h"
#include "procedure/pawl-reader.h"

/* Every tenth step begins a soak, after which its lane goes on; the first of each lane needs the step before it. */
static inline PawlProcedure *
make_procedure (guint n_steps)
{
  static const char *const lanes[] = { "", "housing", "rotor", "cover" };
  g_autoptr(GString) text = g_string_new ("<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<procedure xmlns=\"urn:pawl:procedure:1\" id=\"long\" revision=\"1\" xml:lang=\"en\">"
    "<title>Long job</title><unit maker=\"Pellow &amp; Daunt\" model=\"LJ-1\">LJ-1 unit</unit><statement>Invented unit, for tests.</statement>"
    "<author>Pawl project</author><licence>CC0-1.0</licence><book id=\"sheet\" title=\"Invented sheet\" edition=\"1\"/>"
    "<verified how=\"on-paper\" by=\"Pawl project\" date=\"2026-11-25\">Nothing built.</verified><attended>1 h</attended><tools><none/></tools><supplies><none/></supplies>"
    "<cautions><none/></cautions><parts><part id=\"body\" item=\"1\" name=\"Body\" stays=\"yes\"/></parts><phase id=\"all\" title=\"All\">");
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure;

  for (guint i = 0; i < n_steps; i++)
    {
      g_string_append_printf (text, "<step id=\"s%u\" attended=\"%u min\"", i, 3 + i * 7 % 11);
      if (*lanes[i % 4] != '\0')
        g_string_append_printf (text, " lane=\"%s\"", lanes[i % 4]);
      if (i > 0)
        g_string_append_printf (text, " needs=\"s%u%s\"", i < 4 ? i - 1 : i - 4, i % 9 == 8 ? " s0" : "");
      g_string_append_printf (text, "><do>Do what the sheet says at %u.</do>", i);
      if (i % 10 == 5)
        g_string_append_printf (text, "<wait id=\"w%u\" name=\"Soak %u\" min=\"40 min\" max=\"3 h\" agent=\"bath %u\" agent-limit=\"yes\" source=\"sheet\">When in, when out?</wait>",
                                i, i, i % 3);
      g_string_append (text, "</step>");
    }
  g_string_append (text, "</phase></procedure>");
  bytes = g_bytes_new (text->str, text->len);
  procedure = pawl_procedure_load_bytes (bytes, "long.xml", NULL, &error);
  g_assert_no_error (error);
  return procedure;
}

/* @procedure as often as wanted, from eight o'clock; worked out. */
static inline PawlWorkPlan *
make_work_plan (PawlProcedure *procedure, guint n_jobs)
{
  g_autoptr(GDateTime) start = g_date_time_new_utc (2026, 11, 25, 8, 0, 0);
  PawlWorkPlan *plan = pawl_work_plan_new (start);
  g_autoptr(GError) error = NULL;

  for (guint i = 0; i < n_jobs; i++)
    {
      g_autofree char *title = g_strdup_printf ("LJ-1, work order %u", i + 1);

      pawl_work_plan_add_procedure (plan, procedure, NULL, title, &error);
      g_assert_no_error (error);
    }
  pawl_work_plan_work_out (plan, PAWL_SCHEDULE_EFFORT);
  return plan;
}
