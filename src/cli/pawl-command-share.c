/* pawl share: how a bench's copy and the shop's server stand to one another, and what a server needs. */
#include <stdio.h>

#include "cli/pawl-cli-share.h"
#include "cli/pawl-cli.h"
#include "share/pawl-address.h"
#include "share/pawl-store-sql.h"

static int
print_sql (void)
{
  puts ("-- To be run once in the shop's database, by its owner: psql --dbname=DATABASE --file=THIS\n");
  fputs (pawl_store_sql_peek_tables (), stdout);
  puts ("\n-- What a bench is allowed: to read and to add. The group is made beforehand: CREATE ROLE bench");
  fputs (pawl_store_sql_peek_grants (), stdout);
  return PAWL_EXIT_FINE;
}

int
pawl_command_share (int argc, char **argv)
{
  g_autofree char *address = NULL;
  gboolean is_sql = FALSE, is_again = FALSE;
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &address, "The shop's record: postgresql:///DATABASE", "ADDRESS" },
    { "sql", 0, 0, G_OPTION_ARG_NONE, &is_sql, "Print the SQL that makes the tables of a server, and what a bench is granted", NULL },
    { "again", 0, 0, G_OPTION_ARG_NONE, &is_again, "Compare all of it with the server anew, also when it is another one than before", NULL },
    G_OPTION_ENTRY_NULL
  };
  g_autoptr (GError) error = NULL;

  if (!pawl_cli_parse (&argc, &argv, entries, NULL, "Brings this bench's copy of the shop's record and the server together, and says how they stand.", 0, 0))
    return PAWL_EXIT_COULD_NOT;
  if (is_sql)
    return print_sql ();
  if (address == NULL || !pawl_address_is_one (address))
    {
      pawl_cli_complain (argv[0], "which server? Say --record postgresql://USER@HOST/DATABASE");
      return PAWL_EXIT_COULD_NOT;
    }
  if (!pawl_cli_share_begin (address, is_again, &error))
    return pawl_cli_fail (argv[0], error);
  return pawl_cli_share_print () ? PAWL_EXIT_FINE : PAWL_EXIT_FINDINGS;
}
