/* A reading: how it is taken, its limits as printed, the line that a gauge types into, the verdict in words. */
#include "app/pawl-reading-row-private.h"

#include <glib/gi18n.h>
#include "app/pawl-conditions.h"
#include "app/pawl-instrument-choice.h"
#include "app/pawl-own-unit.h"
#include "app/pawl-phrases.h"
#include "job/pawl-job-parts.h"
#include "measure/pawl-doubt.h"

G_DEFINE_FINAL_TYPE (PawlReadingRow, pawl_reading_row, PAWL_TYPE_ASK_ROW)

static void
take (PawlReadingRow *self, const char *typed)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  char mark = ask->reading->typing.decimal_mark != 0 ? ask->reading->typing.decimal_mark : '.';
  PawlHand hand = pawl_session_make_hand (pawl_ask_row_get_session (row));
  PawlJob *job = pawl_session_get_job (pawl_ask_row_get_session (row));
  /* Whoever comes to measure again may stand before this. */
  g_autofree char *words = pawl_job_is_blind (job, pawl_job_lookup_ask (job, ask->id)) ? g_strdup_printf (_("%s: taken"), ask->name)
                                                                                       : g_strdup_printf ("%s: %s", ask->name, typed);
  PawlEntry *entry = self->why != NULL ? pawl_answer_new_typed_over (ask, typed, gtk_editable_get_text (GTK_EDITABLE (self->why)), mark, hand)
                                       : pawl_answer_new_reading (ask, typed, ask->reading->tool, mark, hand);

  if (self->why == NULL && self->choice != NULL)
    pawl_entry_set (entry, "tool-serial", pawl_instrument_choice_get_mark (PAWL_INSTRUMENT_CHOICE (self->choice)));
  g_object_ref (self); /* taking it may rebuild the panel */
  self->is_taking = TRUE;
  pawl_ask_row_take (row, entry, words);
  self->is_taking = FALSE;
  g_object_unref (self);
}

/* How many values are complete, of a reading with places: each ends with a ; and the one after the last is on its way. */
static guint
count_values (const char *typed)
{
  guint n = 0;

  for (const char *at = typed; *at != '\0'; at++)
    n += *at == ';';
  return n;
}

/* A gauge types one value and Enter: with places still to come, that goes on to the next of them. */
static gboolean
goes_on (PawlReadingRow *self, const char *typed)
{
  const PawlReading *reading = pawl_ask_row_get_ask (PAWL_ASK_ROW (self))->reading;
  g_autofree char *bare = g_strstrip (g_strdup (typed)), *longer = NULL;

  if (*bare == '\0' || count_values (bare) + 1 >= reading->spots->len || g_str_has_suffix (bare, ";"))
    return FALSE;
  longer = g_strdup_printf ("%s; ", bare);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), longer);
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
  return TRUE;
}

static void
outcome_clicked_cb (GtkButton *button, PawlReadingRow *self)
{
  take (self, g_object_get_data (G_OBJECT (button), "outcome"));
}

/* "top: 88.01 mm · middle: … · low": what is in and what comes next. (transfer full) */
static char *
list_places (const PawlReading *reading, const char *typed)
{
  g_auto(GStrv) values = g_strsplit (typed, ";", -1);
  guint n_values = g_strv_length (values), n = count_values (typed);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < reading->spots->len; i++)
    {
      const PawlReadingSpot *spot = reading->spots->pdata[i];

      g_string_append_printf (text, "%s%s%s", i > 0 ? "  ·  " : "", i == n ? "→ " : i < n ? "✓ " : "", spot->name);
      if (i < n_values && *g_strstrip (values[i]) != '\0')
        g_string_append_printf (text, " %s", values[i]);
    }
  return g_string_free (text, FALSE);
}

/* How a number is understood, while it is typed: a slip shows before it is taken. (transfer full) (nullable) */
static char *
echo_value (const PawlReading *reading, const char *typed)
{
  g_autoptr(PawlQuantity) quantity = pawl_quantity_parse (typed, &reading->typing, NULL);
  g_autofree char *value = NULL, *beside = NULL;

  if (quantity == NULL)
    return NULL;
  value = pawl_quantity_format (quantity, '.');
  beside = pawl_quantity_format_beside (quantity, '.');
  return beside != NULL ? g_strdup_printf ("= %s · %s", value, beside) : g_strdup_printf ("= %s", value);
}

/* The place that comes next is shown on the figure while this row can be answered. */
static void
point_at_next (PawlReadingRow *self)
{
  const PawlReading *reading = pawl_ask_row_get_ask (PAWL_ASK_ROW (self))->reading;
  guint n = count_values (gtk_editable_get_text (GTK_EDITABLE (self->entry)));

  if (reading->spots->len > 0)
    pawl_session_point_at (pawl_ask_row_get_session (PAWL_ASK_ROW (self)), n < reading->spots->len ? reading->spots->pdata[n] : NULL);
}

/* Another row may have its own place shown: that stays. */
static void
leave_places (PawlReadingRow *self)
{
  PawlSession *session = pawl_ask_row_get_session (PAWL_ASK_ROW (self));
  const PawlReading *reading = pawl_ask_row_get_ask (PAWL_ASK_ROW (self))->reading;

  for (guint i = 0; i < reading->spots->len; i++)
    if (pawl_session_peek_spot (session) == reading->spots->pdata[i])
      pawl_session_point_at (session, NULL);
}

/* The value that is being typed: the last one, of several. (transfer full) */
static char *
dup_last (const char *typed)
{
  const char *last = strrchr (typed, ';');

  return g_strstrip (g_strdup (last != NULL ? last + 1 : typed));
}

/* (nullable): what it is compared with, as far as it is compared by itself. @typing: (out): how it is read */
static PawlLimits *
find_limits (PawlReadingRow *self, const char *typed, const PawlTyping **typing)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlAskState *state = pawl_job_lookup_ask (pawl_session_get_job (pawl_ask_row_get_session (row)), pawl_ask_row_get_ask (row)->id);
  const PawlReading *reading = state->ask->reading;
  guint n = count_values (typed);
  const PawlReadingSpot *spot = n < reading->spots->len ? reading->spots->pdata[n] : NULL;
  gboolean has_own = spot != NULL && spot->limits != NULL;

  *typing = has_own ? &spot->typing : &reading->typing;
  return has_own ? spot->limits : reading->of == PAWL_OF_EACH ? state->limits : NULL;
}

/* Whether the value being typed can hardly be meant, and what might be: before it is taken, when a slip costs nothing. (transfer full) (nullable) */
static char *
doubt_value (PawlReadingRow *self, const char *typed)
{
  const PawlTyping *typing;
  PawlLimits *limits = find_limits (self, typed, &typing);
  g_autofree char *bare = dup_last (typed);
  g_autoptr(PawlQuantity) quantity = limits != NULL ? pawl_quantity_parse (bare, typing, NULL) : NULL;
  char *sentence = NULL;

  if (quantity == NULL || pawl_unit_get_dimension (pawl_quantity_get_unit (quantity)) != pawl_unit_get_dimension (pawl_limits_get_unit (limits)))
    return NULL;
  pawl_reading_is_absurd (limits, quantity, &sentence);
  return sentence;
}

/* What has no unit, and would be right in the other one, is not taken: which it is, only a person knows. FALSE: there is nothing to ask. */
static gboolean
ask_back (PawlReadingRow *self, const char *typed)
{
  const PawlTyping *typing;
  PawlLimits *limits = find_limits (self, typed, &typing);
  g_autofree char *bare = dup_last (typed);
  g_autofree char *sentence = limits != NULL ? pawl_own_unit_ask_back (pawl_reading_row_get_lengths (self), bare, typing, limits) : NULL;

  if (sentence == NULL)
    return FALSE;
  pawl_reading_row_set_text (self->doubt, NULL); /* which says the same, less exactly */
  pawl_ask_row_say (PAWL_ASK_ROW (self), sentence);
  return TRUE;
}

static void
taken_cb (GtkWidget *widget, PawlReadingRow *self)
{
  g_autofree char *typed = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry)));

  if (!ask_back (self, typed) && !goes_on (self, typed))
    take (self, typed);
}

/* The value that is being typed, with its unit, for eyes that are farther off than hands. */
static void
echo_large (PawlReadingRow *self, const char *typed)
{
  const PawlReading *reading = pawl_ask_row_get_ask (PAWL_ASK_ROW (self))->reading;
  g_autofree char *bare = dup_last (typed);
  g_autoptr(PawlQuantity) quantity = pawl_quantity_parse (bare, &reading->typing, NULL);
  g_autofree char *value = quantity != NULL ? pawl_quantity_format (quantity, '.') : NULL;

  pawl_session_echo (pawl_ask_row_get_session (PAWL_ASK_ROW (self)), value != NULL ? value : bare, NULL);
}

static void
show_echo (PawlReadingRow *self)
{
  const PawlReading *reading = pawl_ask_row_get_ask (PAWL_ASK_ROW (self))->reading;
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->entry));
  g_autofree char *text = reading->spots->len > 0 ? list_places (reading, typed) : echo_value (reading, typed), *doubt = doubt_value (self, typed);

  pawl_reading_row_set_text (self->echo, text);
  pawl_reading_row_set_text (self->doubt, doubt);
}

static void
typed_cb (GtkEditable *editable, PawlReadingRow *self)
{
  const char *typed = gtk_editable_get_text (editable);

  pawl_ask_row_say (PAWL_ASK_ROW (self), NULL);
  show_echo (self);
  point_at_next (self);
  if (*typed != '\0' && !g_str_has_suffix (typed, "; "))
    echo_large (self, typed);
}

/* It stands in the line then as if it had been typed: only a person takes it. */
static void
start_clicked_cb (GtkButton *button, PawlReadingRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  PawlJob *job = pawl_session_get_job (pawl_ask_row_get_session (row));
  const char *start = pawl_job_peek_start (job, pawl_job_lookup_ask (job, pawl_ask_row_get_ask (row)->id));

  if (start == NULL)
    return;
  gtk_editable_set_text (GTK_EDITABLE (self->entry), start);
  gtk_widget_grab_focus (self->entry);
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
}

/* Where it stood when the unit came. What is set, as the author says by its start, may be begun from it; what is measured is measured anew. */
static void
show_start (PawlReadingRow *self, PawlJob *job, const PawlAskState *state, gboolean is_wanted)
{
  g_autofree char *start = is_wanted && state->n_current == 0 ? pawl_job_describe_start (job, state) : NULL;
  const PawlAskState *from = start != NULL ? pawl_job_find_start (job, state) : NULL;
  gboolean is_setting = state->ask->reading->start != NULL;
  g_autofree char *text = start != NULL ? g_strdup_printf (_("As found: %s"), start) : NULL;

  if (self->start_box == NULL)
    return;
  pawl_reading_row_set_text (self->start, text);
  gtk_widget_set_visible (self->start_take, is_setting && from != NULL && from->ask->kind == PAWL_ASK_READING);
  gtk_widget_set_visible (self->start_box, text != NULL);
}

static void
build_start (PawlReadingRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);

  self->start_box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  self->start = gtk_label_new (NULL);
  gtk_label_set_wrap (GTK_LABEL (self->start), TRUE);
  gtk_label_set_xalign (GTK_LABEL (self->start), 0);
  gtk_widget_set_hexpand (self->start, TRUE);
  gtk_widget_add_css_class (self->start, "difference");
  self->start_take = pawl_ask_row_make_button (row, _("Begin from it"), G_CALLBACK (start_clicked_cb), self);
  gtk_widget_set_valign (self->start_take, GTK_ALIGN_CENTER);
  gtk_box_append (GTK_BOX (self->start_box), self->start);
  gtk_box_append (GTK_BOX (self->start_box), self->start_take);
  pawl_ask_row_append (row, self->start_box);
}

/* What a number without a unit counts: as large as the number. */
static void
append_unit (PawlReadingRow *self, const PawlUnit *unit)
{
  GtkWidget *label = gtk_label_new (pawl_unit_get_symbol (unit));
  g_autofree char *expected = g_strdup_printf (_("in %s, unless a unit is typed"), pawl_unit_get_symbol (unit));

  gtk_widget_add_css_class (label, "unit");
  gtk_box_append (GTK_BOX (self->line), label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, expected, -1);
}

static void
build_line (PawlReadingRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  const PawlUnit *unit = ask->reading->typing.default_unit;
  GtkWidget *button = pawl_ask_row_make_button (row, _("Take"), G_CALLBACK (taken_cb), self);
  gboolean is_one_unit = unit != NULL && !ask->reading->typing.is_mixed;
  g_autofree char *name = g_strdup_printf (_("Reading: %s"), ask->name);
  g_autofree char *prompt = ask->reading->spots->len > 0 ? g_strdup (_("Values parted by ;"))
                            : is_one_unit ? g_strdup_printf (_("Reading in %s"), pawl_unit_get_symbol (unit)) : g_strdup (_("Type the reading"));

  if (ask->reading->derived == NULL)
    pawl_ask_row_append (row, self->choice = pawl_instrument_choice_new (pawl_ask_row_get_session (row), ask));
  self->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 10);
  self->entry = gtk_entry_new ();
  gtk_widget_set_hexpand (self->entry, TRUE);
  gtk_editable_set_width_chars (GTK_EDITABLE (self->entry), 8);
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->entry), prompt);
  gtk_widget_add_css_class (self->entry, "reading");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->entry), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (self->entry, "activate", G_CALLBACK (taken_cb), self);
  gtk_box_append (GTK_BOX (self->line), self->entry);
  if (is_one_unit)
    append_unit (self, unit);
  self->n_attempts = pawl_job_lookup_ask (pawl_session_get_job (pawl_ask_row_get_session (row)), ask->id)->attempts->len;
  pawl_ask_row_keep_typed (row, GTK_EDITABLE (self->entry), "answer");
  gtk_widget_add_css_class (button, "answer");
  gtk_box_append (GTK_BOX (self->line), button);
  pawl_ask_row_append (row, self->line);
  self->echo = pawl_ask_row_append_text (row, NULL, "secondary");
  self->doubt = pawl_ask_row_append_text (row, NULL, "difference");
  g_signal_connect (self->entry, "changed", G_CALLBACK (typed_cb), self); /* only now has it something to show; what was typed before is in already */
  show_echo (self);
  if (*gtk_editable_get_text (GTK_EDITABLE (self->entry)) != '\0')
    point_at_next (self);
}

static void
show_input (PawlReadingRow *self, gboolean is_wanted)
{
  GtkWidget *input = self->line != NULL ? self->line : self->outcomes;
  gboolean has_line = is_wanted && (self->over == NULL || self->is_over);

  gtk_widget_set_visible (input, has_line);
  if (self->over != NULL)
    {
      gtk_widget_set_visible (self->over, is_wanted && !self->is_over);
      gtk_widget_set_visible (self->why, has_line);
    }
  if (self->echo != NULL)
    {
      gtk_widget_set_visible (self->echo, has_line && *gtk_label_get_label (GTK_LABEL (self->echo)) != '\0');
      gtk_widget_set_visible (self->doubt, has_line && *gtk_label_get_label (GTK_LABEL (self->doubt)) != '\0');
    }
}

static void
over_clicked_cb (GtkButton *button, PawlReadingRow *self)
{
  self->is_over = TRUE;
  show_input (self, TRUE);
  gtk_widget_grab_focus (self->entry);
}

/* A derived reading has its line out of sight: who types over what was worked out has to mean it, and to say why. */
static void
build_over (PawlReadingRow *self)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);

  self->over = pawl_ask_row_make_button (row, _("Type over it…"), G_CALLBACK (over_clicked_cb), self);
  gtk_widget_set_halign (self->over, GTK_ALIGN_START);
  gtk_widget_add_css_class (self->over, "over");
  pawl_ask_row_append (row, self->over);
  build_line (self);
  self->why = gtk_entry_new ();
  gtk_widget_add_css_class (self->why, "why");
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->why), _("Why another value than was worked out"));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->why), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Why another value than was worked out"), -1);
  g_signal_connect (self->why, "activate", G_CALLBACK (taken_cb), self);
  pawl_ask_row_append (row, self->why);
}

/* Feel and visual readings are named, not typed. */
static void
build_outcomes (PawlReadingRow *self, const char * const *outcomes)
{
  PawlAskRow *row = PAWL_ASK_ROW (self);

  self->outcomes = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  gtk_box_set_homogeneous (GTK_BOX (self->outcomes), TRUE);
  for (guint i = 0; outcomes[i] != NULL; i++)
    {
      g_autofree char *word = pawl_phrase_format_outcome (outcomes[i]);
      GtkWidget *button = pawl_ask_row_make_button (row, word, G_CALLBACK (outcome_clicked_cb), self);

      g_object_set_data_full (G_OBJECT (button), "outcome", g_strdup (outcomes[i]), g_free);
      gtk_box_append (GTK_BOX (self->outcomes), button);
    }
  pawl_ask_row_append (row, self->outcomes);
}

static void
pawl_reading_row_build (PawlAskRow *row)
{
  PawlReadingRow *self = PAWL_READING_ROW (row);
  const PawlAsk *ask = pawl_ask_row_get_ask (row);
  PawlProcedure *procedure = pawl_bench_get_procedure (pawl_session_get_bench (pawl_ask_row_get_session (row)));
  const char * const *outcomes = pawl_limits_peek_outcomes (ask->reading->limits);
  g_autofree char *other = pawl_phrase_describe_other_limits (ask);

  self->conditions = pawl_conditions_new (procedure, ask);
  pawl_ask_row_append (row, self->conditions);
  self->limits = pawl_ask_row_append_text (row, NULL, "limits");
  pawl_ask_row_append_text (row, other, NULL);
  if (ask->reading->is_as_found)
    pawl_ask_row_append_text (row, _("As found: recorded and judged, and stops nothing."), "secondary");
  if (outcomes != NULL)
    build_outcomes (self, outcomes);
  else if (ask->reading->derived == NULL)
    {
      build_start (self);
      build_line (self);
    }
  else
    build_over (self);
  self->value = pawl_ask_row_append_text (row, NULL, "value");
  self->verdict = pawl_ask_row_append_text (row, NULL, "verdict");
  self->bar_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);
  pawl_ask_row_append (row, self->bar_box);
  self->judged = pawl_ask_row_append_text (row, NULL, "secondary");
  self->advice = pawl_ask_row_append_text (row, NULL, "advice");
  self->cause = pawl_ask_row_append_text (row, NULL, "difference");
}

static void
empty (PawlReadingRow *self)
{
  self->is_over = FALSE;
  gtk_editable_set_text (GTK_EDITABLE (self->entry), "");
  if (self->why != NULL)
    gtk_editable_set_text (GTK_EDITABLE (self->why), "");
}

static void
pawl_reading_row_update (PawlAskRow *row, PawlJob *job, const PawlAskState *state, gboolean is_open, gboolean is_unfolded)
{
  PawlReadingRow *self = PAWL_READING_ROW (row);
  const PawlAttempt *last = state->n_current > 0 ? state->attempts->pdata[state->attempts->len - 1] : NULL;
  g_autofree char *limits = pawl_own_unit_describe_limits (pawl_reading_row_get_lengths (self), state->ask, state->limits, last != NULL ? last->quantity : NULL, '.');

  pawl_reading_row_set_text (self->limits, limits);
  /* What is typed over adds no attempt: it replaces the one that was worked out. */
  if (self->entry != NULL && (self->is_taking || state->attempts->len > self->n_attempts))
    empty (self);
  if (self->is_taking && self->entry != NULL && state->n_current > 0)
    pawl_reading_row_echo_taken (self, state);
  self->n_attempts = state->attempts->len;
  show_input (self, is_open && is_unfolded);
  show_start (self, job, state, is_open && is_unfolded);
  if (self->choice != NULL)
    pawl_instrument_choice_update (PAWL_INSTRUMENT_CHOICE (self->choice), job, state, is_open && is_unfolded);
  if (self->entry != NULL && state->ask->reading->spots->len > 0)
    {
      if (is_open && is_unfolded)
        point_at_next (self);
      else
        leave_places (self);
    }
  gtk_widget_set_visible (self->bar_box, is_unfolded);
  gtk_widget_set_visible (self->conditions, is_unfolded && gtk_widget_get_first_child (self->conditions) != NULL);
  if (state->n_current > 0)
    pawl_reading_row_show_last (self, job, state);
  else
    pawl_reading_row_show_nothing (self, state);
}

static GtkWidget *
pawl_reading_row_get_focus (PawlAskRow *row)
{
  PawlReadingRow *self = PAWL_READING_ROW (row);

  return self->over == NULL || self->is_over ? self->entry : NULL;
}

/* ---- what a gauge types ---- */

static void
pawl_reading_row_begin_burst (PawlAskRow *row)
{
  PawlReadingRow *self = PAWL_READING_ROW (row);

  g_free (self->before);
  self->before = self->entry != NULL ? g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->entry))) : NULL;
}

/* A value that was half typed gives way; those of other places stay. */
static gboolean
pawl_reading_row_take_burst (PawlAskRow *row, const char *value, const char *mark, const char *doubt)
{
  PawlReadingRow *self = PAWL_READING_ROW (row);
  const char *last = self->before != NULL ? strrchr (self->before, ';') : NULL;
  g_autofree char *kept = last != NULL ? g_strndup (self->before, (gsize) (last + 1 - self->before)) : g_strdup ("");
  g_autofree char *typed = g_strdup_printf ("%s%s%s", kept, *kept != '\0' ? " " : "", value);

  if (self->entry == NULL || !gtk_widget_get_visible (self->line))
    return FALSE;
  gtk_widget_grab_focus (self->entry);
  gtk_editable_set_text (GTK_EDITABLE (self->entry), typed);
  gtk_editable_set_position (GTK_EDITABLE (self->entry), -1);
  if (mark != NULL && self->choice != NULL)
    pawl_instrument_choice_take (PAWL_INSTRUMENT_CHOICE (self->choice), mark);
  if (doubt == NULL)
    taken_cb (self->entry, self);
  return TRUE;
}

static const char *
pawl_reading_row_get_instrument (PawlAskRow *row)
{
  PawlReadingRow *self = PAWL_READING_ROW (row);

  return self->choice != NULL ? pawl_instrument_choice_get_mark (PAWL_INSTRUMENT_CHOICE (self->choice)) : NULL;
}

static void
pawl_reading_row_finalize (GObject *object)
{
  g_free (PAWL_READING_ROW (object)->before);
  G_OBJECT_CLASS (pawl_reading_row_parent_class)->finalize (object);
}

static void
pawl_reading_row_class_init (PawlReadingRowClass *klass)
{
  PAWL_ASK_ROW_CLASS (klass)->build = pawl_reading_row_build;
  PAWL_ASK_ROW_CLASS (klass)->update = pawl_reading_row_update;
  PAWL_ASK_ROW_CLASS (klass)->get_focus = pawl_reading_row_get_focus;
  PAWL_ASK_ROW_CLASS (klass)->begin_burst = pawl_reading_row_begin_burst;
  PAWL_ASK_ROW_CLASS (klass)->take_burst = pawl_reading_row_take_burst;
  PAWL_ASK_ROW_CLASS (klass)->get_instrument = pawl_reading_row_get_instrument;
  G_OBJECT_CLASS (klass)->finalize = pawl_reading_row_finalize;
}

static void
pawl_reading_row_init (PawlReadingRow *self)
{
}
