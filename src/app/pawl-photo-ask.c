#include "app/pawl-photo-ask.h"

#include <glib/gi18n.h>

struct _PawlPhotoAsk {
  GtkWidget parent_instance;

  GtkWidget *box, *what, *reason;
  char *asked; /* (nullable): what is on show */
};

G_DEFINE_FINAL_TYPE (PawlPhotoAsk, pawl_photo_ask, GTK_TYPE_WIDGET)

gboolean
pawl_photo_ask_apply (PawlPhotoAsk *self, PawlJob *job, const PawlStepState *step)
{
  g_autoptr(GPtrArray) wanted = pawl_step_list_photos_wanted (step);
  g_autofree char *names = pawl_photos_describe (job, wanted);
  g_autofree char *text = wanted->len > 0 ? g_strdup_printf (_("After step %s nobody can see any more which way round it is: %s."), step->step->number, names) : NULL;
  gboolean is_new = text != NULL && g_strcmp0 (text, self->asked) != 0;

  if (is_new)
    {
      gtk_label_set_label (GTK_LABEL (self->what), text);
      gtk_editable_set_text (GTK_EDITABLE (self->reason), "");
    }
  g_free (self->asked);
  self->asked = g_steal_pointer (&text);
  gtk_widget_set_visible (GTK_WIDGET (self), self->asked != NULL);
  return is_new;
}

const char *
pawl_photo_ask_get_reason (PawlPhotoAsk *self)
{
  return gtk_editable_get_text (GTK_EDITABLE (self->reason));
}

static void
reason_activated_cb (GtkEntry *entry, PawlPhotoAsk *self)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.no-photo", NULL);
}

static void
pawl_photo_ask_dispose (GObject *object)
{
  PawlPhotoAsk *self = PAWL_PHOTO_ASK (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->asked, g_free);
  G_OBJECT_CLASS (pawl_photo_ask_parent_class)->dispose (object);
}

static void
pawl_photo_ask_class_init (PawlPhotoAskClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_photo_ask_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-photo-ask.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlPhotoAsk, box);
  gtk_widget_class_bind_template_child (widget_class, PawlPhotoAsk, what);
  gtk_widget_class_bind_template_child (widget_class, PawlPhotoAsk, reason);
  gtk_widget_class_bind_template_callback (widget_class, reason_activated_cb);
}

static void
pawl_photo_ask_init (PawlPhotoAsk *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
