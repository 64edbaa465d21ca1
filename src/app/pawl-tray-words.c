#include "app/pawl-tray-words.h"

#include <math.h>

#include <glib/gi18n.h>
#include "app/pawl-phrases.h"
#include "job/pawl-job-parts.h"

char *
pawl_tray_words_describe_place (const PawlTrayPlace *place)
{
  return place->tray > 0 ? g_strdup_printf (_("tray %u, place %u"), place->tray, place->place) : g_strdup (_("old parts"));
}

static void
append_line (GString *text, PawlProcedure *procedure, const char *id, const char *arrow, const char *where)
{
  char *ids[] = { (char *) id, NULL };
  g_autofree char *name = pawl_phrase_list_parts (procedure, ids);

  g_string_append_printf (text, "%s%s %s %s", text->len > 0 ? "\n" : "", name, arrow, where);
}

static void
append_laid (GString *text, PawlJob *job, const PawlTrays *trays, const char *id)
{
  const PawlTrayPlace *place = pawl_trays_lookup (trays, id);
  g_autofree char *where = place != NULL ? pawl_tray_words_describe_place (place) : NULL;

  if (where != NULL)
    append_line (text, pawl_job_get_procedure (job), id, "→", where);
}

char *
pawl_tray_words_list_laid (PawlJob *job, const PawlTrays *trays, const PawlStep *step)
{
  g_autoptr(GString) text = g_string_new (NULL);

  for (char **id = step->removes; *id != NULL; id++)
    append_laid (text, job, trays, *id);
  return g_strdup (text->str);
}

char *
pawl_tray_words_list_off (PawlJob *job, const PawlTrays *trays, GPtrArray *parts)
{
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < parts->len; i++)
    append_laid (text, job, trays, ((PawlPart *) parts->pdata[i])->id);
  return g_strdup (text->str);
}

char *
pawl_tray_words_describe_lack (const PawlEntry *lack, GDateTime *now)
{
  const char *state = pawl_entry_get (lack, "state"), *from = pawl_entry_get (lack, "from"), *expected = pawl_entry_get (lack, "expected");
  g_autofree char *today = g_date_time_format (now, "%F");
  g_autoptr(GString) text = g_string_new (g_strcmp0 (state, "ordered") == 0 ? _("ordered") : g_strcmp0 (state, "low") == 0 ? _("running out") : _("missing"));

  if (from != NULL)
    g_string_append_printf (text, _(" from %s"), from);
  if (expected != NULL)
    g_string_append_printf (text, g_strcmp0 (expected, today) < 0 ? _(", overdue since %s") : _(", expected %s"), expected);
  return g_strdup (text->str);
}

/* Decided to be another, or come since: not the one from the tray. */
static char *
describe_source (PawlJob *job, const PawlPartState *part, const PawlTrayPlace *place)
{
  gboolean is_replaced = part->disposition != NULL && g_strcmp0 (pawl_entry_get (part->disposition, "choice"), "replace") == 0;
  const PawlEntry *got = part->arrival != NULL ? part->arrival : is_replaced ? part->disposition : NULL;
  const char *source = got != NULL ? pawl_entry_get (got, "source") : NULL, *lot = got != NULL ? pawl_entry_get (got, "lot") : NULL;

  if (part->lack != NULL)
    return pawl_tray_words_describe_lack (part->lack, pawl_job_peek_now (job));
  if (source != NULL && !g_str_has_prefix (source, "kit"))
    return lot != NULL ? g_strdup_printf (_("%s, lot %s"), source, lot) : g_strdup (source);
  if (part->part->is_kit && part->disposition == NULL)
    return g_strdup (_("new, from the kit"));
  if (source != NULL || place == NULL)
    return g_strdup (source != NULL ? _("new, from the kit") : _("the bench"));
  return pawl_tray_words_describe_place (place);
}

char *
pawl_tray_words_list_fetched (PawlJob *job, const PawlTrays *trays, const PawlStep *step)
{
  g_autoptr(GString) text = g_string_new (NULL);

  for (char **id = step->installs; *id != NULL; id++)
    {
      const PawlPartState *part = pawl_job_lookup_part (job, *id);
      g_autofree char *where = part != NULL ? describe_source (job, part, pawl_trays_lookup (trays, *id)) : NULL;

      if (where != NULL)
        append_line (text, pawl_job_get_procedure (job), *id, "←", where);
    }
  return g_strdup (text->str);
}

char *
pawl_tray_words_describe_alike (const PawlAlike *alike, const PawlSketchOptions *lengths)
{
  const char *hows[] = { _("told by a mark only"), _("by gauge, not by eye"), _("by rule, not by eye"), _("seen by eye") };
  double difference = pawl_alike_get_difference_mm (alike);
  const char *what = alike->rule->dimension_name != NULL && *alike->rule->dimension_name != '\0' ? alike->rule->dimension_name : _("size");
  g_autofree char *own = NULL, *more = NULL, *title = pawl_phrase_capitalise (what);

  if (pawl_alike_get_by (alike) == PAWL_ALIKE_BY_MARK)
    return g_strdup_printf (_("Looks like “%s”: told by a mark only"), alike->other->name);
  own = pawl_sketch_format_size (alike->part->dimension, lengths);
  more = pawl_sketch_format_size (fabs (difference), lengths);
  return g_strdup_printf (difference > 0 ? _("%s %s, %s more than “%s”: %s") : _("%s %s, %s less than “%s”: %s"), title, own, more, alike->other->name,
                          hows[pawl_alike_get_by (alike)]);
}
