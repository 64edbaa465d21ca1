#include "app/pawl-history-page.h"

#include <glib/gi18n.h>
#include "app/pawl-history-task.h"
#include "app/pawl-history-words.h"
#include "app/pawl-look.h"
#include "app/pawl-phrases.h"
#include "job/pawl-results.h"

#define LINES_HIGH 26
#define LEAST_HEIGHT 320
#define MOST_HEIGHT 640

struct _PawlHistoryPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *scroller, *back, *readings, *serial, *charts;

  /* owned */
  PawlSession  *session;     /* (nullable) until something is shown */
  char         *reading;
  GStrv         ids;         /* (nullable) of the readings, as the list has them */
  GCancellable *cancellable; /* of what is being loaded */

  gboolean is_showing; /* within pawl_history_page_show(): no choice of the user's */
};

enum { BACK, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlHistoryPage, pawl_history_page, GTK_TYPE_WIDGET)

/* ---- one chart ---- */

static void
draw_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  PawlHistoryPage *self = PAWL_HISTORY_PAGE (gtk_widget_get_ancestor (GTK_WIDGET (area), PAWL_TYPE_HISTORY_PAGE));
  const PawlRunChartWords words = pawl_history_words_of_chart ();
  const PawlRunChartOptions options = {
    .words = &words,
    .palette = pawl_look_get_palette (GTK_WIDGET (area)),
    .text = pawl_look_get_text_pixels (GTK_WIDGET (area)),
    .decimal_mark = pawl_session_get_lengths (self->session).decimal_mark,
    .job = pawl_job_get_id (pawl_session_get_job (self->session)),
  };

  pawl_run_chart_draw (data, &options, cr, width, height);
}

static void
size_to_text_cb (GtkWidget *area)
{
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), (int) CLAMP (pawl_look_get_text_pixels (area) * LINES_HIGH, LEAST_HEIGHT, MOST_HEIGHT));
}

static void
append_text (PawlHistoryPage *self, const char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_box_append (GTK_BOX (self->charts), label);
}

static void
append_chart (PawlHistoryPage *self, PawlHistory *history) /* (transfer full) history */
{
  GtkWidget *area = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_IMG, NULL);
  g_autofree char *words = pawl_history_words_describe (history, pawl_session_get_lengths (self->session).decimal_mark);

  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (area), 300);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), LEAST_HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (area), draw_cb, history, (GDestroyNotify) pawl_history_free);
  g_signal_connect (area, "map", G_CALLBACK (size_to_text_cb), NULL);
  gtk_accessible_update_property (GTK_ACCESSIBLE (area), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Run chart"), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, words, -1);
  gtk_box_append (GTK_BOX (self->charts), area);
  append_text (self, words);
}

/* ---- the page ---- */

static void
clear_charts (PawlHistoryPage *self)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->charts)) != NULL)
    gtk_box_remove (GTK_BOX (self->charts), child);
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlHistoryPage *self = PAWL_HISTORY_PAGE (source);
  g_autoptr(GError) error = NULL;
  g_autoptr(GPtrArray) histories = pawl_history_load_finish (result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED) || self->session == NULL)
    return; /* stale: something else was asked for since */
  clear_charts (self);
  if (error != NULL)
    {
      g_autofree char *sentence = pawl_phrase_make_sentence (error->message);

      append_text (self, sentence);
      return;
    }
  while (histories->len > 0)
    append_chart (self, g_ptr_array_steal_index (histories, 0));
}

/* (transfer full): the reading, or each of its places */
static GStrv
list_wanted (PawlHistoryPage *self)
{
  const PawlAskState *state = pawl_job_lookup_ask (pawl_session_get_job (self->session), self->reading);
  g_autoptr(GStrvBuilder) wanted = g_strv_builder_new ();

  if (state == NULL || state->ask->reading == NULL)
    return g_strv_builder_end (wanted);
  for (guint i = 0; i < state->ask->reading->spots->len; i++)
    {
      g_autofree char *place = g_strdup_printf ("%s.%s", self->reading, ((PawlReadingSpot *) state->ask->reading->spots->pdata[i])->id);

      g_strv_builder_add (wanted, place);
    }
  if (state->ask->reading->spots->len == 0)
    g_strv_builder_add (wanted, self->reading);
  return g_strv_builder_end (wanted);
}

static void
stop_loading (PawlHistoryPage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
}

static void
load (PawlHistoryPage *self)
{
  g_auto(GStrv) wanted = list_wanted (self);
  gboolean is_of_serial = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->serial));

  stop_loading (self);
  clear_charts (self);
  if (wanted[0] == NULL)
    {
      append_text (self, _("This procedure asks no reading that has a number."));
      return;
    }
  append_text (self, _("Reading the jobs…"));
  self->cancellable = g_cancellable_new ();
  pawl_history_load_async (GTK_WIDGET (self), self->session, (const char * const *) wanted,
                           is_of_serial ? pawl_job_get_field (pawl_session_get_job (self->session), "serial") : NULL, self->cancellable, loaded_cb, NULL);
}

/* ---- which reading ---- */

/* Those that have a number, in procedure order. */
static void
list_readings (PawlHistoryPage *self)
{
  g_autoptr(GPtrArray) results = pawl_results_of_readings (pawl_session_get_job (self->session));
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  g_autoptr(GStrvBuilder) ids = g_strv_builder_new ();

  for (guint i = 0; i < results->len; i++)
    {
      const PawlAsk *ask = ((const PawlResult *) results->pdata[i])->as_left->ask;

      if (pawl_limits_get_kind (ask->reading->limits) == PAWL_LIMITS_CHOICE)
        continue;
      gtk_string_list_append (names, ask->name);
      g_strv_builder_add (ids, ask->id);
    }
  g_strfreev (self->ids);
  self->ids = g_strv_builder_end (ids);
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->readings), G_LIST_MODEL (names));
}

/* @reading: (nullable) */
static void
choose (PawlHistoryPage *self, const char *reading)
{
  guint place = 0;

  while (reading != NULL && self->ids[place] != NULL && !g_str_equal (self->ids[place], reading))
    place++;
  g_free (self->reading);
  self->reading = g_strdup (self->ids[place] != NULL ? self->ids[place] : reading != NULL ? reading : "");
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->readings), self->ids[place] != NULL ? place : GTK_INVALID_LIST_POSITION);
}

static void
chosen_cb (GtkDropDown *readings, GParamSpec *pspec, PawlHistoryPage *self)
{
  guint place = gtk_drop_down_get_selected (readings);

  if (self->is_showing || self->ids == NULL || place >= g_strv_length (self->ids))
    return;
  g_free (self->reading);
  self->reading = g_strdup (self->ids[place]);
  load (self);
}

void
pawl_history_page_show (PawlHistoryPage *self, PawlSession *session, const char *reading)
{
  const char *serial = pawl_job_get_field (pawl_session_get_job (session), "serial");
  g_autofree char *label = g_strdup_printf (_("Only serial %s"), serial);

  g_set_object (&self->session, session);
  self->is_showing = TRUE;
  list_readings (self);
  choose (self, reading);
  gtk_check_button_set_label (GTK_CHECK_BUTTON (self->serial), label);
  gtk_widget_set_visible (self->serial, *serial != '\0');
  if (*serial == '\0')
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->serial), FALSE);
  self->is_showing = FALSE;
  load (self);
}

void
pawl_history_page_go (PawlHistoryPage *self)
{
  gtk_widget_grab_focus (self->back);
}

static void
back_clicked_cb (GtkButton *button, PawlHistoryPage *self)
{
  g_signal_emit (self, signals[BACK], 0);
}

static void
serial_toggled_cb (GtkCheckButton *button, PawlHistoryPage *self)
{
  if (!self->is_showing)
    load (self);
}

static void
pawl_history_page_dispose (GObject *object)
{
  PawlHistoryPage *self = PAWL_HISTORY_PAGE (object);

  stop_loading (self);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  g_clear_object (&self->session);
  g_clear_pointer (&self->reading, g_free);
  g_clear_pointer (&self->ids, g_strfreev);
  G_OBJECT_CLASS (pawl_history_page_parent_class)->dispose (object);
}

static void
pawl_history_page_class_init (PawlHistoryPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_history_page_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-history-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlHistoryPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PawlHistoryPage, back);
  gtk_widget_class_bind_template_child (widget_class, PawlHistoryPage, readings);
  gtk_widget_class_bind_template_child (widget_class, PawlHistoryPage, serial);
  gtk_widget_class_bind_template_child (widget_class, PawlHistoryPage, charts);
  gtk_widget_class_bind_template_callback (widget_class, back_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, serial_toggled_cb);
  gtk_widget_class_bind_template_callback (widget_class, chosen_cb);
  signals[BACK] = g_signal_new ("back", PAWL_TYPE_HISTORY_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_history_page_init (PawlHistoryPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
