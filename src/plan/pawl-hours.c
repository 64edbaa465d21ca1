#include "plan/pawl-hours.h"

#include <stdio.h>

#define DAY (24 * 3600)

G_DEFINE_QUARK (pawl-hours-error-quark, pawl_hours_error)

static gboolean
refuse (const char *part, const char *why, GError **error)
{
  g_set_error (error, PAWL_HOURS_ERROR, PAWL_HOURS_ERROR_BAD, "“%.60s” are no working hours: %s; right is 08:00-17:00 Mon-Fri, or none", part, why);
  return FALSE;
}

/* 0 to 6, from Monday; -1: no day */
static int
find_day (const char *text)
{
  static const char *const days[] = { "mon", "tue", "wed", "thu", "fri", "sat", "sun" };

  for (int i = 0; i < 7; i++)
    if (g_ascii_strcasecmp (text, days[i]) == 0)
      return i;
  return -1;
}

/* "Mon-Fri", "Sat"; "": every day */
static gboolean
parse_days (const char *part, const char *text, int *first, int *n, GError **error)
{
  g_auto(GStrv) ends = g_strsplit (text, "-", 2);
  int last;

  *first = 0;
  *n = 7;
  if (*text == '\0')
    return TRUE;
  *first = find_day (g_strstrip (ends[0]));
  last = ends[1] != NULL ? find_day (g_strstrip (ends[1])) : *first;
  if (*first < 0 || last < 0)
    return refuse (part, "days are Mon, Tue, Wed, Thu, Fri, Sat, Sun", error);
  *n = (last - *first + 7) % 7 + 1;
  return TRUE;
}

/* Whether there is a time, 00:00 to 24:00. */
static gboolean
is_time (int hour, int minute)
{
  return hour >= 0 && minute >= 0 && minute < 60 && hour * 60 + minute <= 24 * 60;
}

static gboolean
parse_part (const char *part, PawlTimes *hours, GError **error)
{
  int from_hour, from_minute, until_hour, until_minute, first, n, end = 0;
  gint64 from, until;

  if (sscanf (part, "%2d:%2d - %2d:%2d%n", &from_hour, &from_minute, &until_hour, &until_minute, &end) != 4 || !is_time (from_hour, from_minute)
      || !is_time (until_hour, until_minute) || (part[end] != '\0' && part[end] != ' '))
    return refuse (part, "a part begins with two times of the day", error);
  {
    g_autofree char *days = g_strstrip (g_strdup (part + end));

    if (!parse_days (part, days, &first, &n, error))
      return FALSE;
  }
  from = from_hour * 3600 + from_minute * 60;
  until = until_hour * 3600 + until_minute * 60;
  if (from == until)
    return refuse (part, "they end when they begin", error);
  for (int i = 0; i < n; i++)
    pawl_times_add (hours, (first + i) * DAY + from, (first + i) * DAY + until + (until < from ? DAY : 0));
  return TRUE;
}

gboolean
pawl_hours_parse (const char *text, PawlTimes **hours, GError **error)
{
  g_auto(GStrv) parts = g_strsplit (text, ",", -1);
  g_autofree char *whole = g_strstrip (g_strdup (text));
  g_autoptr(PawlTimes) times = pawl_times_new (PAWL_HOURS_WEEK);

  *hours = NULL;
  if (*whole == '\0' || g_ascii_strcasecmp (whole, "none") == 0)
    return TRUE;
  for (guint i = 0; parts[i] != NULL; i++)
    if (!parse_part (g_strstrip (parts[i]), times, error))
      return FALSE;
  if (!pawl_times_is_whole (times))
    *hours = g_steal_pointer (&times);
  return TRUE;
}
