/* A reading taken again by somebody else: the form shows nothing of the first, and both are told once both are in. */
#include "app/pawl-trainer-acts.h"

#include <glib/gi18n.h>
#include "app/pawl-answer.h"
#include "app/pawl-instrument-offer.h"
#include "app/pawl-pairs-view.h"
#include "app/pawl-phrases.h"
#include "app/pawl-trainer-fields.h"
#include "training/pawl-waiting-holds.h"

/* ---- the form ---- */

/* (transfer container) (element-type PawlAskState): the readings of the step that can be taken again */
static GPtrArray *
list_readings (const PawlTrainerScene *scene)
{
  GPtrArray *asks = pawl_job_lookup_step (pawl_bench_get_job (scene->bench), scene->step)->asks, *list = g_ptr_array_new ();

  for (guint i = 0; i < asks->len; i++)
    if (pawl_reading_can_be_measured_again (asks->pdata[i]))
      g_ptr_array_add (list, asks->pdata[i]);
  return list;
}

/* (nullable): the one that is chosen */
static const PawlAskState *
get_reading (PawlFieldForm *form, const PawlTrainerScene *scene)
{
  g_autoptr(GPtrArray) list = list_readings (scene);
  guint place = pawl_field_form_get_choice (form, "reading");

  return place < list->len ? list->pdata[place] : NULL;
}

/* (transfer container) (element-type PawlGauge): borrowed from @instruments */
static GPtrArray *
list_instruments (const PawlRegister *instruments, const PawlTrainerScene *scene, const PawlAsk *ask, guint *chosen)
{
  return pawl_instrument_offer_list (instruments, pawl_bench_get_job (scene->bench), ask, "", chosen);
}

static void
choose_instruments (PawlFieldForm *form, const PawlTrainerScene *scene, const PawlAsk *ask)
{
  g_autoptr(PawlRegister) instruments = pawl_register_load (pawl_bench_get_record (scene->bench), NULL);
  guint chosen = 0;
  g_autoptr(GPtrArray) gauges = list_instruments (instruments, scene, ask, &chosen), words = g_ptr_array_new ();

  for (guint i = 0; i < gauges->len; i++)
    g_ptr_array_add (words, ((PawlGauge *) gauges->pdata[i])->mark);
  g_ptr_array_add (words, (gpointer) _("Another, or not stated"));
  g_ptr_array_add (words, NULL);
  pawl_field_form_set_words (form, "instrument", (const char * const *) words->pdata);
  pawl_field_form_set_choice (form, "instrument", chosen);
  pawl_field_form_set_shown (form, "instrument", gauges->len > 0);
}

/* What may be typed for it: places, outcomes, a unit. (transfer full) */
static char *
describe_typing (const PawlReading *reading)
{
  const char * const *outcomes = pawl_limits_peek_outcomes (reading->limits);
  g_autofree char *names = outcomes != NULL ? g_strjoinv (", ", (char **) outcomes) : NULL;
  GString *places = NULL;

  if (names != NULL)
    return g_strdup_printf (_("One of: %s"), names);
  if (reading->spots->len == 0)
    return reading->typing.default_unit != NULL ? g_strdup_printf (_("In %s, unless another unit is typed"), pawl_unit_get_symbol (reading->typing.default_unit))
                                                : g_strdup ("");
  places = g_string_new (NULL);
  for (guint i = 0; i < reading->spots->len; i++)
    g_string_append_printf (places, "%s%s", i > 0 ? "; " : "", ((PawlReadingSpot *) reading->spots->pdata[i])->name);
  names = g_string_free (places, FALSE);
  return g_strdup_printf (_("Values parted by ;  –  %s"), names);
}

void
pawl_measure_choose (PawlFieldForm *form, const PawlTrainerScene *scene)
{
  const PawlAskState *state = get_reading (form, scene);
  g_autofree char *conditions = NULL, *limits = NULL, *note = NULL, *typing = NULL;

  if (state == NULL)
    return;
  conditions = pawl_phrase_describe_conditions (pawl_bench_get_procedure (scene->bench), state->ask);
  limits = pawl_phrase_describe_limits (state->ask, state->limits);
  note = *conditions != '\0' ? g_strdup_printf ("%s\n%s", conditions, limits) : g_strdup (limits);
  typing = describe_typing (state->ask->reading);
  pawl_field_form_set_note (form, "reading", note);
  pawl_field_form_set_note (form, "value", typing);
  choose_instruments (form, scene, state->ask);
}

void
pawl_measure_open (PawlFieldForm *form, const PawlTrainerScene *scene)
{
  PawlJob *job = pawl_bench_get_job (scene->bench);
  const PawlStep *step = pawl_job_lookup_step (job, scene->step)->step;
  g_autoptr(GPtrArray) readings = list_readings (scene), words = g_ptr_array_new ();
  g_autofree char *place = pawl_place_describe (pawl_job_get_field (job, "unit"), pawl_job_get_field (job, "serial"), pawl_job_get_field (job, "bench"), step->number);
  guint chosen = 0;

  pawl_field_form_begin (form, _("Measure again"), _("Take it"));
  pawl_field_form_add_text (form, place, "row-title");
  for (guint i = 0; i < readings->len; i++)
    {
      const PawlAskState *state = readings->pdata[i];

      if (g_strcmp0 (state->ask->id, scene->ask) == 0)
        chosen = i;
      g_ptr_array_add (words, state->ask->name);
    }
  if (readings->len == 0)
    {
      pawl_field_form_add_text (form, _("No reading of this step can be taken a second time: there is none, or both are in."), "strong");
      return;
    }
  g_ptr_array_add (words, NULL);
  pawl_field_form_add_text (form, _("The same part, by somebody else. The first reading is not shown here; both are, once both are in."), NULL);
  pawl_field_form_add_choice (form, "reading", _("Reading"), (const char * const *) words->pdata);
  pawl_trainer_fields_add (form, pawl_bench_get_record (scene->bench), _("Who measures"), scene->person);
  pawl_field_form_add_choice (form, "instrument", _("Instrument"), (const char *[]) { "", NULL });
  pawl_field_form_add_line (form, "value", _("What was measured"), NULL);
  pawl_field_form_set_choice (form, "reading", chosen);
  pawl_measure_choose (form, scene);
}

/* ---- what is told ---- */

static PawlTold *
tell_both (const PawlAskState *state)
{
  GString *large = g_string_new (NULL);
  g_autofree char *words = pawl_pairs_describe_difference (state), *both = NULL;

  for (guint i = 0; i < 2; i++)
    {
      g_autofree char *value = pawl_phrase_describe_value (state->paired[i], '.');

      g_string_append_printf (large, "%s%s: %s", i > 0 ? "\n" : "", pawl_entry_get_person (state->paired[i]->entry), value);
    }
  both = g_string_free (large, FALSE);
  return pawl_told_new (state->ask->name, both, words != NULL ? words : _("Both are in."));
}

/* ---- taking ---- */

static PawlEntry *
make_remeasured (PawlFieldForm *form, const PawlTrainerScene *scene, const PawlAskState *state, const char *trainer)
{
  g_autoptr(GDateTime) now = pawl_bench_now (scene->bench);
  g_autoptr(PawlRegister) instruments = pawl_register_load (pawl_bench_get_record (scene->bench), NULL);
  guint chosen, place = pawl_field_form_get_choice (form, "instrument");
  g_autoptr(GPtrArray) gauges = list_instruments (instruments, scene, state->ask, &chosen);
  const PawlReading *reading = state->ask->reading;
  const char mark[] = { reading->typing.decimal_mark, '\0' };
  PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_REMEASURED, state->ask->id, trainer, now);

  pawl_entry_set (entry, "answer", pawl_field_form_get (form, "value"));
  pawl_entry_set (entry, "instrument", reading->tool);
  pawl_entry_set (entry, "tool-serial", place < gauges->len ? ((PawlGauge *) gauges->pdata[place])->mark : NULL);
  pawl_entry_set (entry, "decimal-mark", *mark != '\0' && *mark != '.' ? mark : NULL);
  pawl_entry_set (entry, "by-pin", "yes");
  return entry;
}

/* Before the first is in, the second is kept from whoever takes that: the job is told to take readings of this skill by two. */
static gboolean
keep_hidden (const PawlTrainerScene *scene, const PawlAskState *state, const char *trainer, GError **error)
{
  PawlJob *job = pawl_bench_get_job (scene->bench);
  g_autofree char *skill = pawl_ask_dup_skill (state->ask), *list = NULL;
  const char *before = pawl_job_get_tightening (job, PAWL_TIGHTEN_BLIND);
  g_autoptr(GDateTime) now = pawl_bench_now (scene->bench);
  g_autoptr(PawlEntry) entry = NULL;

  if (state->n_current > 0 || skill == NULL || pawl_job_is_blind (job, state))
    return TRUE;
  list = *before != '\0' && !g_str_equal (before, "no") ? g_strdup_printf ("%s %s", before, skill) : g_strdup (skill);
  entry = pawl_entry_new (PAWL_ENTRY_TIGHTENED, "", trainer, now);
  pawl_entry_set (entry, "blind", list);
  pawl_entry_set (entry, "reason", "the second reading was taken before the first");
  pawl_entry_set (entry, "by-pin", "yes");
  return pawl_bench_append_one (scene->bench, entry, error);
}

/* Of a set of repeats each is taken by itself, and the form stays for the next one. */
static PawlTold *
tell_taken (PawlFieldForm *form, const PawlAskState *state)
{
  guint n = state->again->attempts->len;
  const PawlAttempt *last = n > 0 ? state->again->attempts->pdata[n - 1] : NULL;
  g_autofree char *words = NULL;

  if (state->paired[0] != NULL)
    return tell_both (state);
  if (last == NULL || last->is_whole)
    return pawl_told_new (_("It is in"), NULL, _("Nobody sees it until the other reading is in too."));
  words = g_strdup_printf (_("%u of %u taken: the next one"), last->n_in_set, state->ask->reading->repeats);
  pawl_field_form_set (form, "value", "");
  pawl_field_form_set_note (form, "value", words);
  pawl_field_form_go_on (form);
  return NULL;
}

PawlTold *
pawl_measure_take (PawlFieldForm *form, const PawlTrainerScene *scene, GError **error)
{
  const PawlAskState *state = get_reading (form, scene);
  g_autofree char *trainer = NULL, *ask = state != NULL ? g_strdup (state->ask->id) : NULL;
  g_autoptr(PawlEntry) entry = NULL;

  if (state == NULL || *pawl_field_form_get (form, "value") == '\0')
    {
      g_set_error_literal (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER, _("what was measured? Type the value"));
      return NULL;
    }
  if (!(trainer = pawl_trainer_fields_prove (form, pawl_bench_get_record (scene->bench), error)))
    return NULL;
  entry = make_remeasured (form, scene, state, trainer);
  if (!pawl_job_check (pawl_bench_get_job (scene->bench), entry, error) || !keep_hidden (scene, state, trainer, error)
      || !pawl_bench_append_one (scene->bench, entry, error))
    return NULL;
  return tell_taken (form, pawl_job_lookup_ask (pawl_bench_get_job (scene->bench), ask));
}
