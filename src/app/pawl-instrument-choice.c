#include "app/pawl-instrument-choice.h"

#include <glib/gi18n.h>
#include "app/pawl-instrument-offer.h"
#include "app/pawl-instrument-words.h"

#define DRAFT "instrument"

struct _PawlInstrumentChoice {
  GtkWidget parent_instance;

  /* children */
  GtkWidget *box, *line, *list, *standing, *coarse;

  /* owned */
  PawlSession *session;
  GStrv        marks; /* in the order of the list, without the last line of it */
  char        *lines; /* what the list shows, joined */

  const PawlAsk *ask; /* borrowed from the procedure, which the session holds */
  gboolean is_applying;
};

G_DEFINE_FINAL_TYPE (PawlInstrumentChoice, pawl_instrument_choice, GTK_TYPE_WIDGET)

static void
set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
}

const char *
pawl_instrument_choice_get_mark (PawlInstrumentChoice *self)
{
  guint place = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->list));

  return self->marks != NULL && place < g_strv_length (self->marks) ? self->marks[place] : NULL;
}

/* ---- state to widgets ---- */

/* The list stays as long as it says the same, so that it may be open meanwhile. */
static void
apply_list (PawlInstrumentChoice *self, const GPtrArray *gauges, guint chosen, GDateTime *now)
{
  g_autoptr(GStrvBuilder) lines = g_strv_builder_new (), marks = g_strv_builder_new ();
  g_auto(GStrv) all = NULL;
  g_autofree char *joined = NULL;

  for (guint i = 0; i < gauges->len; i++)
    {
      const PawlGauge *gauge = gauges->pdata[i];
      g_autofree char *line = g_strdup_printf ("%s %s", pawl_instrument_get_sign (pawl_gauge_get_standing (gauge, now)), gauge->mark);

      g_strv_builder_add (lines, line);
      g_strv_builder_add (marks, gauge->mark);
    }
  g_strv_builder_add (lines, _("Another, or not stated"));
  all = g_strv_builder_end (lines);
  joined = g_strjoinv ("\n", all);
  self->is_applying = TRUE;
  if (g_strcmp0 (joined, self->lines) != 0)
    {
      g_autoptr(GtkStringList) model = gtk_string_list_new ((const char * const *) all);

      g_strfreev (self->marks);
      self->marks = g_strv_builder_end (marks);
      g_free (self->lines);
      self->lines = g_steal_pointer (&joined);
      gtk_drop_down_set_model (GTK_DROP_DOWN (self->list), G_LIST_MODEL (model));
    }
  if (gtk_drop_down_get_selected (GTK_DROP_DOWN (self->list)) != chosen)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->list), chosen);
  self->is_applying = FALSE;
}

static void
apply_standing (PawlInstrumentChoice *self, const PawlGauge *gauge, PawlJob *job, GDateTime *now)
{
  g_autofree char *words = gauge != NULL ? pawl_instrument_offer_describe (gauge, job, self->ask, now) : NULL;
  gboolean is_doubtful = gauge != NULL && pawl_instrument_offer_is_doubtful (gauge, job, self->ask, now);

  gtk_widget_remove_css_class (self->standing, is_doubtful ? "secondary" : "difference");
  gtk_widget_add_css_class (self->standing, is_doubtful ? "difference" : "secondary");
  set_text (self->standing, words);
}

void
pawl_instrument_choice_update (PawlInstrumentChoice *self, PawlJob *job, const PawlAskState *state, gboolean is_open)
{
  GDateTime *now = pawl_job_peek_now (job);
  guint chosen;
  g_autoptr(GPtrArray) gauges = pawl_instrument_offer_list (pawl_session_peek_register (self->session), job, self->ask,
                                                            pawl_session_peek_draft (self->session, self->ask->id, DRAFT), &chosen);
  const PawlGauge *gauge = chosen < gauges->len ? gauges->pdata[chosen] : NULL;
  g_autofree char *coarse = is_open ? pawl_instrument_offer_warn_coarse (gauge, job, state) : NULL;

  gtk_widget_set_visible (GTK_WIDGET (self), is_open && (gauges->len > 0 || coarse != NULL));
  gtk_widget_set_visible (self->line, gauges->len > 0);
  apply_list (self, gauges, chosen, now);
  apply_standing (self, gauge, job, now);
  set_text (self->coarse, coarse);
}

static void
apply_again (PawlInstrumentChoice *self)
{
  PawlJob *job = pawl_session_get_job (self->session);

  pawl_instrument_choice_update (self, job, pawl_job_lookup_ask (job, self->ask->id), TRUE);
}

static void
selected_cb (GtkDropDown *list, GParamSpec *pspec, PawlInstrumentChoice *self)
{
  const char *mark = pawl_instrument_choice_get_mark (self);

  if (self->is_applying)
    return;
  pawl_session_keep_draft (self->session, self->ask->id, DRAFT, mark != NULL ? mark : PAWL_INSTRUMENT_OTHER);
  apply_again (self);
}

void
pawl_instrument_choice_take (PawlInstrumentChoice *self, const char *mark)
{
  pawl_session_keep_draft (self->session, self->ask->id, DRAFT, mark);
  apply_again (self);
}

/* ---- widget ---- */

static void
pawl_instrument_choice_dispose (GObject *object)
{
  PawlInstrumentChoice *self = PAWL_INSTRUMENT_CHOICE (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (pawl_instrument_choice_parent_class)->dispose (object);
}

static void
pawl_instrument_choice_finalize (GObject *object)
{
  PawlInstrumentChoice *self = PAWL_INSTRUMENT_CHOICE (object);

  g_strfreev (self->marks);
  g_free (self->lines);
  G_OBJECT_CLASS (pawl_instrument_choice_parent_class)->finalize (object);
}

static void
pawl_instrument_choice_class_init (PawlInstrumentChoiceClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pawl_instrument_choice_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_instrument_choice_finalize;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
}

static GtkWidget *
append_text (PawlInstrumentChoice *self, const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_widget_add_css_class (label, css_class);
  gtk_widget_hide (label);
  gtk_box_append (GTK_BOX (self->box), label);
  return label;
}

static void
pawl_instrument_choice_init (PawlInstrumentChoice *self)
{
  GtkWidget *with = gtk_label_new (_("With"));

  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  self->line = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 12);
  self->list = gtk_drop_down_new (NULL, NULL);
  gtk_widget_set_hexpand (self->list, TRUE);
  gtk_widget_add_css_class (with, "secondary");
  gtk_box_append (GTK_BOX (self->line), with);
  gtk_box_append (GTK_BOX (self->line), self->list);
  gtk_box_append (GTK_BOX (self->box), self->line);
  self->standing = append_text (self, "secondary");
  self->coarse = append_text (self, "difference");
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

GtkWidget *
pawl_instrument_choice_new (PawlSession *session, const PawlAsk *ask)
{
  PawlInstrumentChoice *self = g_object_new (PAWL_TYPE_INSTRUMENT_CHOICE, NULL);
  g_autofree char *name = g_strdup_printf (_("Instrument: %s"), ask->name);

  self->session = g_object_ref (session);
  self->ask = ask;
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->list), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (self->list, "notify::selected", G_CALLBACK (selected_cb), self);
  apply_again (self);
  return GTK_WIDGET (self);
}
