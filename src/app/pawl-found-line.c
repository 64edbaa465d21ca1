#include "app/pawl-found-line.h"

#include <glib/gi18n.h>
#include "app/pawl-list-line.h"

/* A job that says the word in every note is known by the first of them. */
#define MOST_PLACES 4

static const char *
get_place_name (const char *place)
{
  static const struct { const char *place, *name; } names[] = {
    { "serial", N_("Serial") },
    { "work order", N_("Work order") },
    { "customer", N_("Customer") },
    { "unit", N_("Unit") },
    { "procedure", N_("Procedure") },
    { "revision", N_("Revision") },
    { "complaint", N_("Complaint") },
    { "person", N_("Person") },
    { "part", N_("Part") },
    { "lot", N_("Lot") },
    { "note", N_("Note") },
    { "answer", N_("Written down") },
    { "reason", N_("Reason") },
    { "deviation", N_("Deviation") },
    { "photo", N_("Photo") },
    { "source", N_("Where it came from") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_str_equal (names[i].place, place))
      return _(names[i].name);
  return place;
}

static char *
describe_place (const PawlSaid *said)
{
  return g_strdup_printf ("%s: %s", get_place_name (said->place), said->text);
}

/* Without the words that were found: they stand above. */
static char *
describe_job (const PawlOpening *opening)
{
  GString *text = g_string_new (NULL);

  if (*opening->work_order != '\0')
    g_string_append_printf (text, _("Work order %s · "), opening->work_order);
  if (*opening->serial != '\0')
    g_string_append_printf (text, _("serial %s · "), opening->serial);
  if (*opening->customer != '\0')
    g_string_append_printf (text, "%s · ", opening->customer);
  g_string_append_printf (text, _("opened %.10s"), opening->opened);
  return g_string_free (text, FALSE);
}

GtkWidget *
pawl_found_line_make (const PawlHit *hit)
{
  GtkWidget *line = pawl_list_line_new (), *row;
  g_autofree char *facts = describe_job (hit->opening);
  g_autofree char *first = describe_place (hit->said->pdata[0]);

  pawl_list_line_append (line, hit->opening->unit, "row-title");
  for (guint i = 0; i < MIN (hit->said->len, MOST_PLACES); i++)
    {
      g_autofree char *place = describe_place (hit->said->pdata[i]);

      pawl_list_line_append (line, place, NULL);
    }
  if (hit->said->len > MOST_PLACES)
    {
      guint n = hit->said->len - MOST_PLACES;
      g_autofree char *more = g_strdup_printf (g_dngettext (NULL, "and in %u more place", "and in %u more places", n), n);

      pawl_list_line_append (line, more, "secondary");
    }
  pawl_list_line_append (line, facts, "secondary");
  row = pawl_list_line_wrap (line, hit->opening->unit, first);
  g_object_set_data_full (G_OBJECT (row), "job", g_strdup (hit->opening->job), g_free);
  return row;
}
