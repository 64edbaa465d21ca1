/* pawl people: who works here, in what role, and the PINs that they sign with. */
#include <stdio.h>
#include <string.h>

#include "cli/pawl-cli.h"
#include "cli/pawl-cli-pin.h"
#include "cli/pawl-people-stages.h"

typedef struct {
  char    *record;
  char    *role;
  char    *by;
  gboolean is_removed;
  gboolean is_json;
  PawlStageWords stage; /* borrowed */
} Options;

static void
clear_options (Options *self)
{
  g_free (self->record);
  g_free (self->role);
  g_free (self->by);
  g_free (self->stage.reason);
  g_free (self->stage.clean_run);
  for (guint i = 0; i < PAWL_N_TIGHTENINGS; i++)
    g_free (self->stage.rules[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, clear_options)

/* ---- what may be done ---- */

/* Who has a PIN gives it before it is changed or taken away; or an owner gives theirs. */
static gboolean
prove (PawlRecord *record, const PawlPerson *person, const char *by, GError **error)
{
  g_autoptr (PawlPerson) owner = NULL;
  g_autofree char *prompt = NULL;
  char pin[PAWL_CLI_MAX_LINE];
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
  is_right = pawl_cli_read_pin (prompt, pin, error) && pawl_people_check_pin (record, owner ? owner->name : person->name, pin, error);
  explicit_bzero (pin, sizeof pin);
  return is_right;
}

static gboolean
set_pin (PawlRecord *record, const PawlPerson *person, GError **error)
{
  g_autofree char *prompt = g_strdup_printf ("New PIN of %s, %d to %d digits", person->name, PAWL_PIN_MIN_LENGTH, PAWL_PIN_MAX_LENGTH);
  char pin[PAWL_CLI_MAX_LINE], again[PAWL_CLI_MAX_LINE];
  gboolean is_set = pawl_cli_read_pin (prompt, pin, error) && pawl_cli_read_pin ("The same again", again, error);

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
      json_builder_set_member_name (builder, "retired");
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

/* ---- stages: src/cli/pawl-people-stages.c ---- */

static gboolean
show_stages (PawlRecord *record, const char *name, const Options *options, GError **error)
{
  return pawl_people_show_stages (record, name, options->is_json, error);
}

static gboolean
state (PawlRecord *record, const char *name, const Options *options, GError **error)
{
  return pawl_people_state_stage (record, name, options->by, &options->stage, error) && pawl_people_show_stages (record, name, FALSE, error);
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
  { "show", show_stages, PAWL_RECORD_OPEN_READ_ONLY },
  { "stage", state, PAWL_RECORD_OPEN_CREATE },
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
        return error->domain == PAWL_PEOPLE_ERROR || error->domain == PAWL_JOB_ERROR ? PAWL_EXIT_FINDINGS : PAWL_EXIT_COULD_NOT;
      }
  pawl_cli_complain (argv[0], "“%s” is none of list, add, retire, pin, show, stage", verb);
  return PAWL_EXIT_COULD_NOT;
}

int
pawl_command_people (int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "record", 0, 0, G_OPTION_ARG_FILENAME, &options.record, "The record; without it, the one in your data folder", "DB" },
    { "role", 0, 0, G_OPTION_ARG_FILENAME, &options.role, "With add: fitter, trainer, checker or owner", "ROLE" },
    { "by", 0, 0, G_OPTION_ARG_FILENAME, &options.by,
      "With stage: the trainer, who gives their PIN. With pin and retire: an owner, who gives theirs in place of one that was forgotten", "PERSON" },
    { "reason", 0, 0, G_OPTION_ARG_FILENAME, &options.stage.reason, "With stage: why", "TEXT" },
    { "order", 0, 0, G_OPTION_ARG_FILENAME, &options.stage.rules[PAWL_TIGHTEN_ORDER], "With stage NAME STAGE: fixed, advice, or - for what is usual", "RULE" },
    { "ask-first", 0, 0, G_OPTION_ARG_FILENAME, &options.stage.rules[PAWL_TIGHTEN_ASK_FIRST], "The same: yes, no or -", "RULE" },
    { "blind", 0, 0, G_OPTION_ARG_FILENAME, &options.stage.rules[PAWL_TIGHTEN_BLIND], "The same, for readings taken by two: yes, no or -", "RULE" },
    { "holds", 0, 0, G_OPTION_ARG_FILENAME, &options.stage.rules[PAWL_TIGHTEN_HOLDS], "The same, for levels of steps: hold, +1, +2, none or -", "RULE" },
    { "clean-run", 0, 0, G_OPTION_ARG_FILENAME, &options.stage.clean_run, "With stage NAME: so many clean jobs in a row until the next stage is suggested", "N" },
    { "remove", 0, 0, G_OPTION_ARG_NONE, &options.is_removed, "With pin: take it away", NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.is_json, "Print JSON", NULL },
    G_OPTION_ENTRY_NULL
  };

  if (!pawl_cli_parse (&argc, &argv, entries, "[list | add NAME | retire NAME | pin NAME | show NAME | stage NAME SKILL STAGE]",
                       "Who works here, and the PINs that they sign with. PINs are read from the terminal, or a line each from standard input; "
                       "they stay in this record's file and are in no bundle. Stages are entries, and go with the others.", 0, 4))
    return PAWL_EXIT_COULD_NOT;
  options.stage.first = argc > 3 ? argv[3] : NULL;
  options.stage.second = argc > 4 ? argv[4] : NULL;
  return run (argc, argv, &options);
}
