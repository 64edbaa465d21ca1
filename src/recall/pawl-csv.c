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
