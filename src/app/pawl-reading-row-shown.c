/* What came of a reading: its value, the verdict in words and on its limits, and what to do when it is out. */
#include "app/pawl-reading-row-private.h"

#include <glib/gi18n.h>
#include "app/pawl-limits-bar.h"
#include "app/pawl-own-unit.h"
#include "app/pawl-pairs-view.h"
#include "app/pawl-phrases.h"
#include "measure/pawl-shown.h"

void
pawl_reading_row_set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
}

PawlLengths
pawl_reading_row_get_lengths (PawlReadingRow *self)
{
  return pawl_session_get_own_lengths (pawl_ask_row_get_session (PAWL_ASK_ROW (self)));
}

/* The correction worked out, answer by answer; what keeps it from being worked out is no news to a fitter. */
static void
append_worked_out (GString *text, PawlJob *job, const PawlAskState *state)
{
  g_autoptr(PawlSumResult) result = pawl_job_advise (job, state, NULL);

  for (guint i = 0; result != NULL && i < result->answers->len; i++)
    {
      const PawlSumAnswer *answer = result->answers->pdata[i];

      g_string_append_printf (text, "%s%s: %s", text->len > 0 ? "\n" : "", answer->title, answer->text);
    }
}

/* What to bend, by how much, and what to leave alone, only when it is out: before that nobody should bend anything. */
static char *
make_advice (PawlJob *job, const PawlAskState *state, const PawlAttempt *last)
{
  const PawlReading *reading = state->ask->reading;
  g_autoptr(GString) text = g_string_new (NULL);

  if (last->verdict.kind == PAWL_VERDICT_IN || !last->is_whole || last->is_void)
    return NULL;
  if (reading->correct != NULL)
    g_string_append (text, reading->correct);
  append_worked_out (text, job, state);
  if (reading->leave_alone != NULL)
    g_string_append_printf (text, _("%sLeave alone: %s"), text->len > 0 ? "\n" : "", reading->leave_alone);
  return g_strdup (text->str);
}

/* What somebody else measured of the same; each place, and what they come to, when there is more than one thing to look at. */
static char *
list_judged (PawlReadingRow *self, const PawlAskState *state, const PawlAttempt *last)
{
  g_autofree char *second = pawl_pairs_describe_second (state);
  g_autoptr(GString) text = g_string_new (second);

  for (guint i = 0; last->judged->len > 1 && i < last->judged->len; i++)
    {
      const PawlJudged *judged = last->judged->pdata[i];
      const PawlUnit *unit = pawl_own_unit_find (pawl_reading_row_get_lengths (self), pawl_quantity_get_unit (judged->quantity));
      g_autofree char *value = pawl_quantity_format (judged->quantity, '.');
      g_auto(PawlShown) shown = { NULL };

      if (unit != NULL)
        pawl_shown_make (judged->quantity, last->limits, unit, '.', &shown);
      g_string_append_printf (text, "%s%s %s: %s%s%s", text->len > 0 ? "\n" : "", pawl_phrase_get_verdict_sign (judged->verdict.kind), judged->name,
                              unit != NULL ? shown.value : "", unit != NULL ? " · " : "", value);
    }
  return g_strdup (text->str);
}

/* The reading and its uncertainty on its limits. */
static void
show_bar (PawlReadingRow *self, const PawlAttempt *last, const char *words)
{
  GtkWidget *child = gtk_widget_get_first_child (self->bar_box);
  PawlLimitsScale scale;

  if (child != NULL)
    gtk_box_remove (GTK_BOX (self->bar_box), child);
  if (last != NULL && last->quantity != NULL && last->limits != NULL
      && pawl_limits_scale_make (last->limits, NULL, last->quantity, &last->verdict, &scale))
    {
      GtkWidget *bar = pawl_limits_bar_new (&scale, words);
      PawlQuantity *low = pawl_limits_peek_low (last->limits), *high = pawl_limits_peek_high (last->limits);
      const PawlUnit *unit = pawl_own_unit_find (pawl_reading_row_get_lengths (self), pawl_limits_get_unit (last->limits));
      g_auto(PawlShown) shown = { NULL };

      if (unit != NULL)
        pawl_shown_make (last->quantity, last->limits, unit, '.', &shown);
      else
        shown = (PawlShown) { .low = low != NULL ? pawl_quantity_format (low, '.') : NULL, .high = high != NULL ? pawl_quantity_format (high, '.') : NULL };
      pawl_limits_bar_set_ends (PAWL_LIMITS_BAR (bar), shown.low, shown.high);
      gtk_box_append (GTK_BOX (self->bar_box), bar);
    }
}

void
pawl_reading_row_show_last (PawlReadingRow *self, PawlJob *job, const PawlAskState *state)
{
  const PawlAttempt *last = state->attempts->pdata[state->attempts->len - 1];
  g_autofree char *value = pawl_own_unit_describe_value (pawl_reading_row_get_lengths (self), last, '.');
  g_autofree char *words = pawl_phrase_describe_verdict (state->ask, last);
  g_autofree char *verdict = g_strdup_printf ("%s %s", last->is_whole ? pawl_phrase_get_verdict_sign (last->verdict.kind) : "…", words);
  g_autofree char *advice = make_advice (job, state, last), *judged = list_judged (self, state, last);

  pawl_reading_row_set_text (self->value, value);
  pawl_reading_row_set_text (self->verdict, verdict);
  show_bar (self, last, words);
  pawl_reading_row_set_text (self->judged, judged);
  pawl_reading_row_set_text (self->advice, advice);
  pawl_reading_row_set_text (self->cause, pawl_ask_is_looping (state) && !last->is_accepted ? state->ask->reading->cause : NULL);
}

void
pawl_reading_row_echo_taken (PawlReadingRow *self, const PawlAskState *state)
{
  const PawlAttempt *last = state->attempts->pdata[state->attempts->len - 1];
  g_autofree char *value = pawl_own_unit_describe_value (pawl_reading_row_get_lengths (self), last, '.');
  g_autofree char *words = pawl_phrase_describe_verdict (state->ask, last);
  g_autofree char *verdict = g_strdup_printf ("%s %s", last->is_whole ? pawl_phrase_get_verdict_sign (last->verdict.kind) : "…", words);

  pawl_session_echo (pawl_ask_row_get_session (PAWL_ASK_ROW (self)), value, verdict);
}

void
pawl_reading_row_show_nothing (PawlReadingRow *self, const PawlAskState *state)
{
  g_autofree char *wants = state->wants != NULL ? g_strdup_printf (_("Waits for “%s”, which is not measured yet."), state->wants) : NULL;

  pawl_reading_row_set_text (self->value, wants);
  pawl_reading_row_set_text (self->verdict, NULL);
  show_bar (self, NULL, NULL);
  pawl_reading_row_set_text (self->judged, NULL);
  pawl_reading_row_set_text (self->advice, NULL);
  pawl_reading_row_set_text (self->cause, NULL);
}
