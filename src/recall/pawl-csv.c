#include "recall/pawl-csv.h"

#include <string.h>

/* RFC 4180, section 2, rules 5 to 7. Blanks are part of a field (rule 4). */
static void
append_field (GString    *csv,
              const char *field)
{
  if (field == NULL || strpbrk (field, ",\"\r\n") == NULL)
    {
      g_string_append (csv, field != NULL ? field : "");
      return;
    }
  g_string_append_c (csv, '"');
  for (const char *c = field; *c != '\0'; c++)
    {
      if (*c == '"')
        g_string_append_c (csv, '"');
      g_string_append_c (csv, *c);
    }
  g_string_append_c (csv, '"');
}

void
pawl_csv_append (GString           *csv,
                 const char *const *fields,
                 gsize              n_fields)
{
  gsize before = csv->len;

  for (gsize i = 0; i < n_fields; i++)
    {
      if (i > 0)
        g_string_append_c (csv, ',');
      append_field (csv, fields[i]);
    }
  /* A line of one empty field would be an empty line, which many readers skip. */
  if (csv->len == before)
    g_string_append (csv, "\"\"");
  g_string_append (csv, "\r\n");
}

/* GLib's own way leaves minutes of zero out of the offset ("+01"), which ISO 8601 allows and many readers of instants don't. */
char *
pawl_csv_format_time (GDateTime *time)
{
  gboolean is_whole = time && g_date_time_get_microsecond (time) == 0;

  if (!time)
    return g_strdup ("");
  if (g_date_time_get_utc_offset (time) == 0)
    return g_date_time_format (time, is_whole ? "%Y-%m-%dT%H:%M:%SZ" : "%Y-%m-%dT%H:%M:%S.%fZ");
  return g_date_time_format (time, is_whole ? "%Y-%m-%dT%H:%M:%S%:z" : "%Y-%m-%dT%H:%M:%S.%f%:z");
}
