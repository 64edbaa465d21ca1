#include "speed-table.h"

#include <json-glib/json-glib.h>

SpeedTable *
speed_table_new (const char *figure, double redraw_msec)
{
  SpeedTable *self = g_new0 (SpeedTable, 1);

  self->figure = g_path_get_basename (figure);
  self->redraw_msec = redraw_msec;
  self->rows = g_array_new (FALSE, FALSE, sizeof (SpeedRow));
  return self;
}

void
speed_table_free (SpeedTable *self)
{
  g_free (self->figure);
  g_array_unref (self->rows);
  g_free (self);
}

void
speed_table_add (SpeedTable *self, const char *key, const char *what, double value, const char *unit, SpeedGoal goal)
{
  SpeedRow row = { .key = key, .what = what, .unit = unit, .value = value, .goal = goal };

  if (g_str_equal (unit, "ms"))
    row.ratio = value / self->redraw_msec;
  g_array_append_val (self->rows, row);
}

void
speed_table_note_cpu (SpeedTable *self, double msec)
{
  g_array_index (self->rows, SpeedRow, self->rows->len - 1).cpu_msec = msec;
}

gboolean
speed_row_is_met (const SpeedRow *row)
{
  const SpeedGoal *goal = &row->goal;

  return (goal->most == 0 || row->value <= goal->most) && (goal->least == 0 || row->value >= goal->least)
         && (goal->most_ratio == 0 || row->ratio <= goal->most_ratio);
}

char *
speed_row_dup_goal (const SpeedRow *row)
{
  GString *words = g_string_new (NULL);

  if (row->goal.most > 0)
    g_string_append_printf (words, "≤ %g %s", row->goal.most, row->unit);
  if (row->goal.least > 0)
    g_string_append_printf (words, "≥ %g %s", row->goal.least, row->unit);
  if (row->goal.most_ratio > 0)
    g_string_append_printf (words, "%s≤ %g of a redraw", words->len > 0 ? ", " : "", row->goal.most_ratio);
  return g_string_free (words, FALSE);
}

void
speed_table_print (SpeedTable *self)
{
  g_print ("%-12s %-50s %10s %-8s %10s %10s  %-30s %s\n", "figure", "what", "value", "", "to redraw", "processor", "goal", "met");
  for (guint i = 0; i < self->rows->len; i++)
    {
      const SpeedRow *row = &g_array_index (self->rows, SpeedRow, i);
      g_autofree char *goal = speed_row_dup_goal (row);
      g_autofree char *ratio = row->ratio > 0 ? g_strdup_printf ("%.4f", row->ratio) : g_strdup ("");
      g_autofree char *cpu = row->cpu_msec > 0 ? g_strdup_printf ("%.1f ms", row->cpu_msec) : g_strdup ("");

      g_print ("%-12s %-50s %10.*f %-8s %10s %10s  %-30s %s\n", self->figure, row->what, row->value < 100 ? 1 : 0, row->value, row->unit, ratio, cpu, goal,
               *goal == '\0' ? "" : speed_row_is_met (row) ? "yes" : "no");
    }
}

static void
add_member (JsonBuilder *builder, const char *name, const char *text)
{
  json_builder_set_member_name (builder, name);
  json_builder_add_string_value (builder, text);
}

static void
add_row (JsonBuilder *builder, const SpeedRow *row)
{
  g_autofree char *goal = speed_row_dup_goal (row);

  json_builder_begin_object (builder);
  add_member (builder, "key", row->key);
  add_member (builder, "what", row->what);
  add_member (builder, "unit", row->unit);
  json_builder_set_member_name (builder, "value");
  json_builder_add_double_value (builder, row->value);
  if (row->ratio > 0)
    {
      json_builder_set_member_name (builder, "ratio");
      json_builder_add_double_value (builder, row->ratio);
    }
  if (row->cpu_msec > 0)
    {
      json_builder_set_member_name (builder, "processor");
      json_builder_add_double_value (builder, row->cpu_msec);
    }
  if (*goal != '\0')
    {
      add_member (builder, "goal", goal);
      json_builder_set_member_name (builder, "met");
      json_builder_add_boolean_value (builder, speed_row_is_met (row));
    }
  json_builder_end_object (builder);
}

void
speed_table_print_json (SpeedTable *self)
{
  g_autoptr(JsonBuilder) builder = json_builder_new ();
  g_autoptr(JsonNode) root = NULL;
  g_autofree char *text = NULL;

  json_builder_begin_object (builder);
  add_member (builder, "figure", self->figure);
  json_builder_set_member_name (builder, "rows");
  json_builder_begin_array (builder);
  for (guint i = 0; i < self->rows->len; i++)
    add_row (builder, &g_array_index (self->rows, SpeedRow, i));
  json_builder_end_array (builder);
  json_builder_end_object (builder);
  root = json_builder_get_root (builder);
  text = json_to_string (root, TRUE);
  g_print ("%s\n", text);
}
