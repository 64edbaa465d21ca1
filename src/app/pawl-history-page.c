#include "app/pawl-history-page.h"

#include <glib/gi18n.h>
#include "app/pawl-look.h"
#include "app/pawl-phrases.h"
#include "history/pawl-run-chart.h"

#define LINES_HIGH 26
#define LEAST_HEIGHT 320
#define MOST_HEIGHT 640

struct _PawlHistoryPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *scroller, *back, *serial, *charts;

  /* owned */
  PawlSession *session; /* (nullable) until something is shown */
  char        *reading;
};

enum { BACK, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlHistoryPage, pawl_history_page, GTK_TYPE_WIDGET)

/* ---- one chart ---- */

static void
draw_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  PawlHistoryPage *self = PAWL_HISTORY_PAGE (gtk_widget_get_ancestor (GTK_WIDGET (area), PAWL_TYPE_HISTORY_PAGE));
  const PawlRunChartOptions options = {
    .palette = pawl_look_is_dark (GTK_WIDGET (area)) ? PAWL_PALETTE_DARK : PAWL_PALETTE_LIGHT,
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
  g_autofree char *words = pawl_history_describe (history, pawl_session_get_lengths (self->session).decimal_mark);

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
load (PawlHistoryPage *self, const char *reading)
{
  PawlJob *job = pawl_session_get_job (self->session);
  const char *serial = gtk_check_button_get_active (GTK_CHECK_BUTTON (self->serial)) ? pawl_job_get_field (job, "serial") : NULL;
  g_autoptr(GError) error = NULL;
  PawlHistory *history = pawl_history_load (pawl_bench_get_record (pawl_session_get_bench (self->session)), pawl_job_get_id (job), reading, serial,
                                            PAWL_CHART_AS_PRINTED, &error);

  if (history != NULL)
    append_chart (self, history);
  else
    {
      g_autofree char *sentence = pawl_phrase_make_sentence (error->message);

      append_text (self, sentence);
    }
}

static void
apply (PawlHistoryPage *self)
{
  const PawlAskState *state = self->session != NULL ? pawl_job_lookup_ask (pawl_session_get_job (self->session), self->reading) : NULL;
  const GPtrArray *spots = state != NULL && state->ask->reading != NULL ? state->ask->reading->spots : NULL;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->charts)) != NULL)
    gtk_box_remove (GTK_BOX (self->charts), child);
  for (guint i = 0; spots != NULL && i < spots->len; i++)
    {
      g_autofree char *place = g_strdup_printf ("%s.%s", self->reading, ((PawlReadingSpot *) spots->pdata[i])->id);

      load (self, place);
    }
  if (spots != NULL && spots->len == 0)
    load (self, self->reading);
}

void
pawl_history_page_show (PawlHistoryPage *self, PawlSession *session, const char *reading)
{
  const char *serial = pawl_job_get_field (pawl_session_get_job (session), "serial");
  g_autofree char *label = g_strdup_printf (_("Only serial %s"), serial);

  g_set_object (&self->session, session);
  g_free (self->reading);
  self->reading = g_strdup (reading);
  gtk_check_button_set_label (GTK_CHECK_BUTTON (self->serial), label);
  gtk_widget_set_visible (self->serial, *serial != '\0');
  if (*serial == '\0')
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->serial), FALSE);
  apply (self);
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
  apply (self);
}

static void
pawl_history_page_dispose (GObject *object)
{
  PawlHistoryPage *self = PAWL_HISTORY_PAGE (object);

  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  g_clear_object (&self->session);
  g_clear_pointer (&self->reading, g_free);
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
  gtk_widget_class_bind_template_child (widget_class, PawlHistoryPage, serial);
  gtk_widget_class_bind_template_child (widget_class, PawlHistoryPage, charts);
  gtk_widget_class_bind_template_callback (widget_class, back_clicked_cb);
  gtk_widget_class_bind_template_callback (widget_class, serial_toggled_cb);
  signals[BACK] = g_signal_new ("back", PAWL_TYPE_HISTORY_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_history_page_init (PawlHistoryPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
