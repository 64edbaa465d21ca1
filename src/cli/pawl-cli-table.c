#include "cli/pawl-cli-table.h"

#include <stdio.h>

void
pawl_cli_print_opening (const PawlOpening *opening)
{
  printf ("%.8s  %.10s  %s, serial %s, work order %s, %s", opening->job, opening->opened, opening->unit,
          *opening->serial ? opening->serial : "none", *opening->work_order ? opening->work_order : "none",
          *opening->customer ? opening->customer : "no customer stated");
}

char *
pawl_cli_format_opened (const PawlOpening *opening)
{
  g_autoptr (GDateTime) time = g_date_time_new_from_iso8601 (opening->opened, NULL);

  return time != NULL ? pawl_csv_format_time (time) : g_strdup (opening->opened);
}

void
pawl_cli_add_opening (JsonBuilder *builder, const PawlOpening *opening)
{
  g_autofree char *opened = pawl_cli_format_opened (opening);
  static const char *const members[] = { PAWL_CLI_OPENING_COLUMNS };
  const char *const values[] = { PAWL_CLI_OPENING_FIELDS (opening, opened) };

  for (guint i = 0; i < G_N_ELEMENTS (members); i++)
    pawl_cli_add_string (builder, members[i], values[i]);
}

gboolean
pawl_cli_check_table_options (const char *command, gboolean is_json, gboolean is_csv)
{
  if (!is_json || !is_csv)
    return TRUE;
  pawl_cli_complain (command, "--json or --csv: one of them");
  return FALSE;
}
