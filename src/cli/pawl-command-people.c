/* pawl people: who works here, in what role, and the PINs that they sign with. */
#include <stdio.h>
#include <string.h>
#include <termios.h>
#include <unistd.h>

#include "cli/pawl-cli.h"
#include "record/pawl-people.h"

#define MAX_LINE 64

typedef struct {
  char    *record;
  char    *role;
  char    *by;
  gboolean is_removed;
  gboolean is_json;
} Options;

static void
clear_options (Options *self)
{
  g_free (self->record);
  g_free (self->role);
  g_free (self->by);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

/* ---- reading a PIN: never an argument, which every process may see ---- */

static gboolean
read_line (char line[MAX_LINE])
{
  gsize length = 0;
  int c;

  while ((c = getchar ()) != EOF && c != '\n')
    if (length < MAX_LINE - 1)
      line[length++] = (char) c;
  line[length] = '\0';
  return c != EOF || length > 0;
}

/* From the terminal without showing it, or a line of standard input. */
static gboolean
read_pin (const char *prompt, char pin[MAX_LINE], GError **error)
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

/* ---- what may be done ---- */

/* Who has a PIN gives it before it is changed or taken away; or an owner gives theirs. */
static gboolean
prove (PawlRecord *record, const PawlPerson *person, const char *by, GError **error)
{
  g_autoptr (PawlPerson) owner = NULL;
  g_autofree char *prompt = NULL;
  char pin[MAX_LINE];
  gboolean is_right;

  if (!person->has_pin)
    return TRUE;
  if (by && !(owner = pawl_people_lookup (record, by, error)))
    return FALSE;
  if (owner && (owner->role != PAWL_ROLE_OWNER || owner->is_retired))
    {
      g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN, "%s is no owner; a PIN is changed by who has it, or by an owner", owner->name);
      return FALSE;
    }
  prompt = g_strdup_printf ("PIN of %s", owner ? owner->name : person->name);
  is_right = read_pin (prompt, pin, error) && pawl_people_check_pin (record, owner ? owner->name : person->name, pin, error);
  explicit_bzero (pin, sizeof pin);
  return is_right;
}

static gboolean
set_pin (PawlRecord *record, const PawlPerson *person, GError **error)
{
  g_autofree char *prompt = g_strdup_printf ("New PIN of %s, %d to %d digits", person->name, PAWL_PIN_MIN_LENGTH, PAWL_PIN_MAX_LENGTH);
  char pin[MAX_LINE], again[MAX_LINE];
  gboolean is_set = read_pin (prompt, pin, error) && read_pin ("The same again", again, error);

  if (is_set && strcmp (pin, again) != 0)
    {
      g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_PIN, "the two are not the same; nothing was changed");
      is_set = FALSE;
    }
  is_set = is_set && pawl_people_set_pin (record, person->name, pin, error);
  explicit_bzero (pin, sizeof pin);
  explicit_bzero (again, sizeof again);
  return is_set;
}

/* ---- verbs ---- */

static void
print_person (const PawlPerson *person)
{
  printf ("%-24s  %-8s  %s\n", person->name, pawl_role_get_name (person->role), person->is_retired ? "left" : person->has_pin ? "has a PIN" : "no PIN");
}

static void
print_json (GPtrArray *people)
{
  g_autoptr (JsonBuilder) builder = json_builder_new ();

  json_builder_begin_array (builder);
  for (guint i = 0; i < people->len; i++)
    {
      const PawlPerson *person = people->pdata[i];

      json_builder_begin_object (builder);
      pawl_cli_add_string (builder, "name", person->name);
      pawl_cli_add_string (builder, "role", pawl_role_get_name (person->role));
      json_builder_set_member_name (builder, "left");
      json_builder_add_boolean_value (builder, person->is_retired);
      json_builder_set_member_name (builder, "has-pin");
      json_builder_add_boolean_value (builder, person->has_pin);
      json_builder_end_object (builder);
    }
  json_builder_end_array (builder);
  pawl_cli_print_json (builder);
}

static gboolean
list (PawlRecord *record, const char *name, const Options *options, GError **error)
{
  g_autoptr (GPtrArray) people = pawl_people_list (record, error);

  if (!people)
    return FALSE;
  if (options->is_json)
    print_json (people);
  for (guint i = 0; i < people->len && !options->is_json; i++)
    print_person (people->pdata[i]);
  return TRUE;
}

static gboolean
show (PawlRecord *record, const char *name, GError **error)
{
  g_autoptr (PawlPerson) person = pawl_people_lookup (record, name, error);

  if (person)
    print_person (person);
  return person != NULL;
}

static gboolean
add (PawlRecord *record, const char *name, const Options *options, GError **error)
{
  PawlRole role;

  if (!options->role || !pawl_role_from_name (options->role, &role))
    {
      g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN, "in what role? Say --role fitter, trainer, checker or owner");
      return FALSE;
    }
  return pawl_people_add (record, name, role, error) && show (record, name, error);
}

static gboolean
retire (PawlRecord *record, const char *name, const Options *options, GError **error)
{
  g_autoptr (PawlPerson) person = pawl_people_lookup (record, name, error);

  return person && prove (record, person, options->by, error) && pawl_people_retire (record, name, error) && show (record, name, error);
}

static gboolean
change_pin (PawlRecord *record, const char *name, const Options *options, GError **error)
{
  g_autoptr (PawlPerson) person = pawl_people_lookup (record, name, error);

  return person && prove (record, person, options->by, error)
         && (options->is_removed ? pawl_people_set_pin (record, name, NULL, error) : set_pin (record, person, error)) && show (record, name, error);
}

static const struct {
  const char *name;
  gboolean (*run) (PawlRecord *record, const char *name, const Options *options, GError **error);
  PawlRecordOpen how;
} VERBS[] = {
  { "list", list, PAWL_RECORD_OPEN_READ_ONLY },
  { "add", add, PAWL_RECORD_OPEN_CREATE },
  { "retire", retire, PAWL_RECORD_OPEN_CREATE },
  { "pin", change_pin, PAWL_RECORD_OPEN_CREATE },
};

static int
run (int argc, char **argv, const Options *options)
{
  const char *verb = argc > 1 ? argv[1] : "list";
  g_autoptr (GError) error = NULL;

  for (guint i = 0; i < G_N_ELEMENTS (VERBS); i++)
    if (g_str_equal (VERBS[i].name, verb))
      {
        g_autoptr (PawlRecord) record = NULL;

        if (i > 0 && argc < 3)
          {
            pawl_cli_complain (argv[0], "who? Say the name, for instance pawl people %s 'Morwenna Pascoe'", verb);
            return PAWL_EXIT_COULD_NOT;
          }
        record = pawl_cli_open_record (options->record, VERBS[i].how, &error);
        if (record && VERBS[i].run (record, argc > 2 ? argv[2] : NULL, options, &error))
          return PAWL_EXIT_FINE;
        pawl_cli_fail (argv[0], error);
        return error->domain == PAWL_PEOPLE_ERROR ? PAWL_EXIT_FINDINGS : PAWL_EXIT_COULD_NOT;
      }
  pawl_cli_complain (argv[0], "“%s” is none of list, add, retire, pin", verb);
  return PAWL_EXIT_COULD_NOT;
}

int
pawl_command_people (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    { "role", 0, 0, G_OPTION_ARG_FILENAME, &options.role, "With add: fitter, trainer, checker or owner", "ROLE" },
    { "by", 0, 0, G_OPTION_ARG_FILENAME, &options.by, "With pin and retire: an owner, who gives their own PIN in place of one that was forgotten", "OWNER" },
    { "remove", 0, 0, G_OPTION_ARG_NONE, &options.is_removed, "With pin: take it away", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print JSON", NULL },
    G_OPTION_ENTRY_NULL
  };

  if (!pawl_cli_parse (&argc, &argv, entries, "[list | add NAME | retire NAME | pin NAME]",
                       "Who works here, and the PINs that they sign with. PINs are read from the terminal, or a line each from standard input; "
                       "they stay in this record's file and are in no bundle.", 0, 2))
    return PAWL_EXIT_COULD_NOT;
  return run (argc, argv, &options);
}
