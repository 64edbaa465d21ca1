#include "app/pawl-share-line.h"

#include <glib/gi18n.h>
#include "share/pawl-address.h"
#include "share/pawl-share-keeper.h"

struct _PawlShareLine {
  GtkBox parent_instance;

  GtkWidget       *label;  /* a child */
  PawlShareKeeper *keeper; /* (nullable) while the record is no shared one */
  guint            n_came;
};

G_DEFINE_FINAL_TYPE (PawlShareLine, pawl_share_line, GTK_TYPE_BOX)

enum { CAME, N_SIGNALS };
static guint signals[N_SIGNALS];

/* ---- words ---- */

/* "14:02", with its day when that is another one. */
static char *
format_since (gint64 usec)
{
  g_autoptr(GDateTime) utc = g_date_time_new_from_unix_utc (usec / G_USEC_PER_SEC);
  g_autoptr(GDateTime) since = g_date_time_to_local (utc);
  g_autoptr(GDateTime) now = g_date_time_new_now_local ();
  g_autofree char *day = g_date_time_format (since, "%Y-%m-%d"), *today = g_date_time_format (now, "%Y-%m-%d");

  return g_date_time_format (since, g_str_equal (day, today) ? "%H:%M" : "%Y-%m-%d %H:%M");
}

static char *
describe_away (const PawlShareNews *news)
{
  g_autofree char *since = format_since (news->away_usec);
  g_autofree char *waiting = news->n_waiting == 0 ? g_strdup (_("nothing waits"))
    : g_strdup_printf (g_dngettext (NULL, "%u entry waits", "%u entries wait", news->n_waiting), news->n_waiting);

  if (news->is_away)
    return g_strdup_printf (_("Server away since %s: %s"), since, waiting);
  return g_strdup_printf (_("Not shared since %s: %s. %s"), since, waiting, news->problem != NULL ? news->problem : "");
}

static char *
describe (const PawlShareNews *news, const char *address)
{
  if (!news->has_tried)
    return g_strdup_printf (_("%s: looking for the server…"), address);
  if (news->problem != NULL && news->away_usec == 0) /* the copy itself */
    return g_strdup (news->problem);
  if (news->away_usec != 0)
    return describe_away (news);
  if (news->n_waiting > 0)
    return g_strdup_printf (g_dngettext (NULL, "%s: %u entry is on its way", "%s: %u entries are on their way", news->n_waiting), address, news->n_waiting);
  return g_strdup_printf (_("%s: the server has all of it"), address);
}

static void
apply (PawlShareLine *self)
{
  const PawlShareNews *news = pawl_share_keeper_peek (self->keeper);
  g_autofree char *words = describe (news, pawl_share_keeper_get_address (self->keeper));
  g_autofree char *refused = news->n_refused > 0
    ? g_strdup_printf (g_dngettext (NULL, "%u job is not taken from the server: %s", "%u jobs are not taken from the server; the first: %s", news->n_refused),
                       news->n_refused, news->refusal) : NULL;
  g_autofree char *text = refused != NULL ? g_strdup_printf ("%s\n%s", words, refused) : g_strdup (words);

  gtk_label_set_label (GTK_LABEL (self->label), text);
  gtk_widget_set_tooltip_text (self->label, news->problem);
  gtk_widget_set_visible (GTK_WIDGET (self), TRUE);
}

static void
keeper_changed_cb (PawlShareLine *self)
{
  guint n_came = pawl_share_keeper_peek (self->keeper)->n_came;

  apply (self);
  if (n_came == self->n_came)
    return;
  self->n_came = n_came;
  g_signal_emit (self, signals[CAME], 0);
}

/* ---- the record ---- */

void
pawl_share_line_stop (PawlShareLine *self)
{
  if (self->keeper != NULL)
    g_signal_handlers_disconnect_by_data (self->keeper, self);
  g_clear_object (&self->keeper);
  self->n_came = 0;
}

PawlRecord *
pawl_share_line_open (PawlShareLine *self, const char *place, PawlRecordOpen how, const PawlRecordHost *host, GError **error)
{
  PawlRecord *record;

  pawl_share_line_stop (self);
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
  gtk_label_set_label (GTK_LABEL (self->label), "");
  if (!pawl_address_is_one (place))
    return pawl_record_open (place, how, host, error);

  if (!(record = pawl_address_open_copy (place, NULL, how, host, error)))
    return NULL;
  self->keeper = pawl_share_keeper_new (place, pawl_record_get_path (record), host, error);
  if (self->keeper == NULL)
    {
      g_object_unref (record);
      return NULL;
    }
  g_signal_connect_object (self->keeper, "changed", G_CALLBACK (keeper_changed_cb), self, G_CONNECT_SWAPPED);
  apply (self);
  return record;
}

void
pawl_share_line_tell (PawlShareLine *self)
{
  if (self->keeper != NULL)
    pawl_share_keeper_tell (self->keeper);
}

const char *
pawl_share_line_get_text (PawlShareLine *self)
{
  return gtk_label_get_label (GTK_LABEL (self->label));
}

static void
pawl_share_line_dispose (GObject *object)
{
  pawl_share_line_stop (PAWL_SHARE_LINE (object));
  G_OBJECT_CLASS (pawl_share_line_parent_class)->dispose (object);
}

static void
pawl_share_line_class_init (PawlShareLineClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pawl_share_line_dispose;
  signals[CAME] = g_signal_new ("came", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_share_line_init (PawlShareLine *self)
{
  self->label = gtk_label_new ("");
  gtk_label_set_xalign (GTK_LABEL (self->label), 0);
  gtk_label_set_wrap (GTK_LABEL (self->label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (self->label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_set_hexpand (self->label, TRUE);
  gtk_box_append (GTK_BOX (self), self->label);
  gtk_widget_add_css_class (GTK_WIDGET (self), "share-line");
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}
