#include "cli/pawl-cli-pin.h"

#include <stdio.h>
#include <string.h>
#include <termios.h>
#include <unistd.h>

#include "cli/pawl-cli.h"

static gboolean
read_line (char line[PAWL_CLI_MAX_LINE])
{
  gsize length = 0;
  int c;

  while ((c = getchar ()) != EOF && c != '\n')
    if (length < PAWL_CLI_MAX_LINE - 1)
      line[length++] = (char) c;
  line[length] = '\0';
  return c != EOF || length > 0;
}

gboolean
pawl_cli_read_pin (const char *prompt, char pin[PAWL_CLI_MAX_LINE], GError **error)
{
  gboolean is_terminal = isatty (STDIN_FILENO) != 0;
  struct termios before;
  gboolean is_hidden = is_terminal && tcgetattr (STDIN_FILENO, &before) == 0, is_read;

  if (is_hidden)
    {
      struct termios hidden = before;

      hidden.c_lflag &= (tcflag_t) ~ECHO;
      tcsetattr (STDIN_FILENO, TCSAFLUSH, &hidden);
    }
  if (is_terminal)
    fprintf (stderr, "%s: ", prompt);
  is_read = read_line (pin);
  if (is_hidden)
    {
      tcsetattr (STDIN_FILENO, TCSAFLUSH, &before);
      fputc ('\n', stderr);
    }
  if (!is_read)
    g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_PIN, "no PIN was typed; it is read from the terminal, or as a line of standard input");
  return is_read;
}

gboolean
pawl_cli_prove (PawlRecord *record, const char *name, GError **error)
{
  g_autofree char *prompt = g_strdup_printf ("PIN of %s", name);
  char pin[PAWL_CLI_MAX_LINE];
  gboolean is_right = pawl_cli_read_pin (prompt, pin, error) && pawl_people_check_pin (record, name, pin, error);

  explicit_bzero (pin, sizeof pin);
  return is_right;
}

PawlPerson *
pawl_cli_prove_trainer (PawlRecord *record, const char *name, GError **error)
{
  g_autoptr (PawlPerson) person = NULL;

  if (!name)
    {
      g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN, "who says so? Name the trainer with --by");
      return NULL;
    }
  if (!(person = pawl_people_lookup (record, name, error)))
    return NULL;
  if (person->is_retired || !pawl_role_trains (person->role))
    {
      g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN, "%s is no trainer here; “pawl people add NAME --role trainer” makes one", person->name);
      return NULL;
    }
  return pawl_cli_prove (record, person->name, error) ? g_steal_pointer (&person) : NULL;
}
