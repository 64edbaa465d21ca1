#include "app/pawl-gauge-match.h"

#include <string.h>

void
pawl_gauge_match_clear (PawlGaugeMatch *match)
{
  g_clear_pointer (&match->value, g_free);
  g_clear_pointer (&match->mark, g_free);
}

/* ---- who may have ---- */

typedef enum { THE_CHOSEN, OF_THE_KIND, ALL, N_CIRCLES } Circle;

static gboolean
is_of_kind (const PawlGauge *gauge, PawlProcedure *procedure, const PawlAsk *ask)
{
  const char *id = ask != NULL ? ask->reading->tool : NULL;
  const PawlTool *tool = id != NULL ? pawl_procedure_lookup_tool (procedure, id) : NULL;

  return id != NULL && (g_ascii_strcasecmp (gauge->kind, id) == 0 || (tool != NULL && g_ascii_strcasecmp (gauge->kind, tool->name) == 0));
}

static GPtrArray *
list_circle (Circle circle, const PawlRegister *instruments, PawlProcedure *procedure, const PawlAsk *ask, const char *chosen)
{
  GPtrArray *all = pawl_register_list (instruments), *list = g_ptr_array_new ();

  for (guint i = 0; i < all->len; i++)
    {
      PawlGauge *gauge = all->pdata[i];
      gboolean is_in = circle == ALL || (circle == OF_THE_KIND ? is_of_kind (gauge, procedure, ask) : g_strcmp0 (gauge->mark, chosen) == 0);

      if (is_in && gauge->is_typing && !gauge->is_retired)
        g_ptr_array_add (list, gauge);
    }
  return list;
}

static PawlBurst
recognise (const PawlKeyPress *keys, guint n, gint64 now_usec, const GPtrArray *gauges, guint *which, char **reading)
{
  g_autoptr(GPtrArray) forms = g_ptr_array_new ();

  for (guint i = 0; i < gauges->len; i++)
    g_ptr_array_add (forms, &((PawlGauge *) gauges->pdata[i])->burst);
  return pawl_burst_recognise (keys, n, (const PawlBurstForm *const *) forms->pdata, forms->len, now_usec, which, reading);
}

/* ---- what it said ---- */

/* In the line's own decimal mark, with the unit that the gauge is set to. */
static char *
make_value (const char *reading, const PawlBurstForm *form, const PawlAsk *ask)
{
  char mark = ask != NULL && ask->reading->typing.decimal_mark != 0 ? ask->reading->typing.decimal_mark : '.';
  g_autofree char *number = g_strdup (reading);

  if (form->decimal_mark != mark)
    g_strdelimit (number, (const char[]) { form->decimal_mark, '\0' }, mark);
  return form->unit != NULL ? g_strdup_printf ("%s %s", number, pawl_unit_get_symbol (form->unit)) : g_steal_pointer (&number);
}

static gboolean
is_bare (const char *reading, const PawlBurstForm *form)
{
  return *form->prefix == '\0' && *form->suffix == '\0' && strspn (reading, "0123456789") == strlen (reading);
}

/* Those whose form fits by itself. */
static char *
join_marks (const PawlKeyPress *keys, guint n, gint64 now_usec, const GPtrArray *gauges)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < gauges->len; i++)
    {
      g_autoptr(GPtrArray) one = g_ptr_array_new ();
      g_autofree char *reading = NULL;
      guint which;

      g_ptr_array_add (one, gauges->pdata[i]);
      if (recognise (keys, n, now_usec, one, &which, &reading) == PAWL_BURST_GAUGE)
        g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", ((PawlGauge *) gauges->pdata[i])->mark);
    }
  return g_string_free (text, FALSE);
}

void
pawl_gauge_match_make (const PawlKeyPress *keys, guint n, gint64 now_usec, const PawlRegister *instruments, PawlProcedure *procedure,
                       const PawlAsk *ask, const char *chosen, PawlGaugeMatch *match)
{
  *match = (PawlGaugeMatch) { PAWL_BURST_BY_HAND, NULL, NULL, FALSE };
  for (Circle circle = THE_CHOSEN; circle < N_CIRCLES; circle++)
    {
      g_autoptr(GPtrArray) gauges = list_circle (circle, instruments, procedure, ask, chosen);
      g_autofree char *reading = NULL;
      guint which = 0;

      match->burst = recognise (keys, n, now_usec, gauges, &which, &reading);
      if (match->burst != PAWL_BURST_GAUGE && match->burst != PAWL_BURST_SEVERAL)
        continue;
      match->is_bare = is_bare (reading, &((PawlGauge *) gauges->pdata[which])->burst);
      match->value = match->burst == PAWL_BURST_GAUGE ? make_value (reading, &((PawlGauge *) gauges->pdata[which])->burst, ask) : g_strdup (reading);
      match->mark = match->burst == PAWL_BURST_GAUGE ? g_strdup (((PawlGauge *) gauges->pdata[which])->mark) : join_marks (keys, n, now_usec, gauges);
      return;
    }
}
