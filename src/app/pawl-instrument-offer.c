#include "app/pawl-instrument-offer.h"

#include <glib/gi18n.h>
#include "app/pawl-instrument-words.h"
#include "app/pawl-phrases.h"

/* ---- which ---- */

/* (nullable): the newest answer that was taken with @tool: with its field "tool-serial" when it was an instrument of the register. */
static const PawlEntry *
find_last_use (PawlJob *job, const char *tool)
{
  GPtrArray *entries = pawl_job_get_entries (job);

  for (guint i = entries->len; i > 0; i--)
    if (pawl_entry_get_kind (entries->pdata[i - 1]) == PAWL_ENTRY_ANSWERED && g_strcmp0 (pawl_entry_get (entries->pdata[i - 1], "instrument"), tool) == 0)
      return entries->pdata[i - 1];
  return NULL;
}

static GPtrArray *
list_of_tool (const PawlRegister *instruments, PawlJob *job, const PawlAsk *ask)
{
  const PawlTool *tool = ask->reading->tool != NULL ? pawl_procedure_lookup_tool (pawl_job_get_procedure (job), ask->reading->tool) : NULL;

  if (instruments == NULL || ask->reading->tool == NULL)
    return g_ptr_array_new ();
  return pawl_register_list_of_kind (instruments, ask->reading->tool, tool != NULL ? tool->name : NULL, pawl_job_peek_now (job));
}

/* Its place in @list, or the end of it. */
static guint
find_mark (const GPtrArray *list, const char *mark)
{
  for (guint i = 0; i < list->len; i++)
    if (g_ascii_strcasecmp (((const PawlGauge *) list->pdata[i])->mark, mark) == 0)
      return i;
  return list->len;
}

static void
move_first (GPtrArray *list, guint place)
{
  g_ptr_array_insert (list, 0, g_ptr_array_steal_index (list, place));
}

/* An instrument that was chosen, or typed itself, though the procedure asks for another kind. */
static guint
find_draft (GPtrArray *list, const PawlRegister *instruments, const char *mark)
{
  guint place = find_mark (list, mark);
  const PawlGauge *gauge = instruments != NULL && place == list->len ? pawl_register_lookup (instruments, mark) : NULL;

  if (gauge != NULL)
    g_ptr_array_add (list, (gpointer) gauge);
  return place;
}

GPtrArray *
pawl_instrument_offer_list (const PawlRegister *instruments, PawlJob *job, const PawlAsk *ask, const char *draft, guint *chosen)
{
  GPtrArray *list = list_of_tool (instruments, job, ask);
  const PawlEntry *last = ask->reading->tool != NULL ? find_last_use (job, ask->reading->tool) : NULL;
  const char *mark = last != NULL ? pawl_entry_get (last, "tool-serial") : NULL;
  guint place = mark != NULL ? find_mark (list, mark) : list->len;

  if (place < list->len)
    move_first (list, place);
  if (g_str_equal (draft, PAWL_INSTRUMENT_OTHER))
    *chosen = list->len;
  else if (*draft != '\0')
    *chosen = find_draft (list, instruments, draft);
  else if (last != NULL)
    *chosen = place < list->len ? 0 : list->len;
  else
    *chosen = list->len == 1 ? 0 : list->len;
  return list;
}

/* ---- what is said of it ---- */

static gboolean
is_of_tool (const PawlGauge *gauge, PawlJob *job, const PawlAsk *ask)
{
  const PawlTool *tool = ask->reading->tool != NULL ? pawl_procedure_lookup_tool (pawl_job_get_procedure (job), ask->reading->tool) : NULL;

  return tool == NULL || g_ascii_strcasecmp (gauge->kind, tool->id) == 0 || g_ascii_strcasecmp (gauge->kind, tool->name) == 0;
}

static PawlOverdue
get_policy (PawlJob *job)
{
  return pawl_overdue_from_text (pawl_job_get_field (job, "out-of-date"));
}

gboolean
pawl_instrument_offer_is_doubtful (const PawlGauge *gauge, PawlJob *job, const PawlAsk *ask, GDateTime *at)
{
  PawlStanding standing = pawl_gauge_get_standing (gauge, at);

  return !is_of_tool (gauge, job, ask) || standing == PAWL_STANDING_RETIRED
         || ((standing == PAWL_STANDING_OUT_OF_DATE || standing == PAWL_STANDING_DUE_SOON) && get_policy (job) != PAWL_OVERDUE_SAY);
}

/* (nullable) */
static const char *
get_consequence (PawlStanding standing, PawlOverdue policy)
{
  if (standing == PAWL_STANDING_RETIRED)
    return _("No reading is taken by it: take another.");
  if (standing != PAWL_STANDING_OUT_OF_DATE || policy == PAWL_OVERDUE_SAY)
    return NULL;
  return policy == PAWL_OVERDUE_REFUSE ? _("This job takes no reading by it: calibrate it, or take another.") : _("The report will say so.");
}

char *
pawl_instrument_offer_describe (const PawlGauge *gauge, PawlJob *job, const PawlAsk *ask, GDateTime *at)
{
  const PawlTool *tool = ask->reading->tool != NULL ? pawl_procedure_lookup_tool (pawl_job_get_procedure (job), ask->reading->tool) : NULL;
  PawlStanding standing = pawl_gauge_get_standing (gauge, at);
  const char *consequence = get_consequence (standing, get_policy (job));
  g_autofree char *error = pawl_instrument_describe_error (gauge, '.'), *words = pawl_instrument_describe_standing (gauge, at);
  GString *text = g_string_new (pawl_instrument_get_sign (standing));

  g_string_append_printf (text, " %s", words);
  if (consequence != NULL)
    g_string_append_printf (text, ". %s", consequence);
  else
    g_string_append_printf (text, " · %s", error);
  if (tool != NULL && !is_of_tool (gauge, job, ask))
    g_string_append_printf (text, _("\n%s is entered as “%s”; the procedure asks for %s."), gauge->mark, gauge->kind, tool->name);
  return g_string_free (text, FALSE);
}

char *
pawl_instrument_offer_warn_coarse (const PawlGauge *gauge, PawlJob *job, const PawlAskState *state)
{
  const PawlLimits *limits = state->limits != NULL ? state->limits : state->ask->reading->limits;
  double ratio = 0;

  if (gauge == NULL || gauge->instrument.max_error == NULL)
    return pawl_phrase_warn_coarse (pawl_job_get_procedure (job), state);
  if (pawl_limits_get_kind (limits) == PAWL_LIMITS_CHOICE || !pawl_instrument_is_too_coarse (&gauge->instrument, limits, &ratio))
    return NULL;
  return g_strdup_printf (_("%s is coarse for these limits: its uncertainty is %.0f %% of the tolerance. Take a finer one if there is one."),
                          gauge->mark, ratio * 100.0);
}
