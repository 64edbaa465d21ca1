#include "app/pawl-sheet-bar.h"

#include <glib/gi18n.h>
#include "app/pawl-printing.h"

struct _PawlSheetBar {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box, *phase, *status;

  /* owned */
  PawlProcedure        *procedure; /* (nullable) */
  GBytes               *figure;    /* (nullable) */
  GtkFileChooserNative *chooser;   /* (nullable) while it is open */

  /* borrowed */
  const PawlShop * const *shop;
  const PawlRecordHost   *host;
  PawlTrial              *trial;
};

G_DEFINE_FINAL_TYPE (PawlSheetBar, pawl_sheet_bar, GTK_TYPE_WIDGET)

static void
say (PawlSheetBar *self, const char *words)
{
  gtk_label_set_label (GTK_LABEL (self->status), words != NULL ? words : "");
  gtk_widget_set_visible (self->status, words != NULL);
}

/* (nullable): all of it. The first line of the list is no phase. */
static const PawlPhase *
get_phase (PawlSheetBar *self)
{
  GPtrArray *phases = pawl_procedure_get_phases (self->procedure);
  guint selected = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->phase));

  return selected > 0 && selected <= phases->len ? g_ptr_array_index (phases, selected - 1) : NULL;
}

static PawlSheetWish
make_wish (PawlSheetBar *self, GDateTime *issued)
{
  return (PawlSheetWish) { .procedure = self->procedure, .figure = self->figure, .phase = get_phase (self), .shop = *self->shop, .trial = self->trial,
                           .issued = issued };
}

/* ---- printing ---- */

static void
printed_cb (const char *words, gpointer data)
{
  g_autoptr(PawlSheetBar) self = data;

  say (self, words);
}

static void
ready_to_print_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlSheetBar *self = PAWL_SHEET_BAR (source);
  g_autoptr(GError) error = NULL;
  PawlSheaf *sheaf = pawl_sheet_sheaf_finish (result, &error);

  say (self, error != NULL ? error->message : NULL);
  if (sheaf != NULL)
    pawl_printing_ask (sheaf, GTK_WIDGET (self), printed_cb, g_object_ref (self));
}

static void
print_cb (GtkWidget *widget, PawlSheetBar *self)
{
  g_autoptr(GDateTime) now = self->host->now (self->host->data);
  const PawlSheetWish wish = make_wish (self, now);

  say (self, _("The pages are being laid out…"));
  pawl_sheet_sheaf_async (GTK_WIDGET (self), &wish, ready_to_print_cb, NULL);
}

/* ---- saving ---- */

static void
saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlSheetBar *self = PAWL_SHEET_BAR (source);
  g_autoptr(GError) error = NULL;
  guint n_pages = pawl_sheet_save_finish (result, &error);
  g_autofree char *words = error == NULL ? g_strdup_printf (g_dngettext (NULL, "The bench sheet is saved: %u page.", "The bench sheet is saved: %u pages.",
                                                                         n_pages), n_pages) : NULL;

  say (self, error != NULL ? error->message : words);
}

static void
chosen_cb (GtkNativeDialog *chooser, int response, PawlSheetBar *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;
  const char *path = file != NULL ? g_file_peek_path (file) : NULL;

  if (path != NULL && self->procedure != NULL)
    {
      g_autoptr(GDateTime) now = self->host->now (self->host->data);
      const PawlSheetWish wish = make_wish (self, now);

      say (self, _("The pages are being laid out…"));
      pawl_sheet_save_async (GTK_WIDGET (self), &wish, path, saved_cb, NULL);
    }
  g_clear_object (&self->chooser);
}

static char *
make_file_name (PawlSheetBar *self)
{
  const PawlPhase *phase = get_phase (self);
  g_autofree char *stem = g_strdup (pawl_procedure_get_id (self->procedure));

  g_strcanon (stem, "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_", '-');
  return phase != NULL ? g_strdup_printf (_("sheet-%s-%s.pdf"), stem, phase->id) : g_strdup_printf (_("sheet-%s.pdf"), stem);
}

static void
save_cb (GtkWidget *widget, PawlSheetBar *self)
{
  g_autofree char *name = NULL;

  if (self->chooser != NULL)
    return;
  name = make_file_name (self);
  self->chooser = gtk_file_chooser_native_new (_("Save a blank bench sheet"), GTK_WINDOW (gtk_widget_get_root (GTK_WIDGET (self))), GTK_FILE_CHOOSER_ACTION_SAVE,
                                               _("Save"), _("Never mind"));
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (self->chooser), name);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (chosen_cb), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

/* ---- what it is about ---- */

void
pawl_sheet_bar_set_shop (PawlSheetBar *self, const PawlShop * const *shop, const PawlRecordHost *host)
{
  self->shop = shop;
  self->host = host;
}

void
pawl_sheet_bar_set_trial (PawlSheetBar *self, PawlTrial *trial)
{
  self->trial = trial;
}

void
pawl_sheet_bar_set_procedure (PawlSheetBar *self, PawlProcedure *procedure, GBytes *figure)
{
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  GPtrArray *phases = procedure != NULL ? pawl_procedure_get_phases (procedure) : NULL;

  g_set_object (&self->procedure, procedure);
  g_clear_pointer (&self->figure, g_bytes_unref);
  self->figure = figure != NULL ? g_bytes_ref (figure) : NULL;
  gtk_string_list_append (names, _("All phases"));
  for (guint i = 0; phases != NULL && i < phases->len; i++)
    gtk_string_list_append (names, ((PawlPhase *) phases->pdata[i])->title);
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->phase), G_LIST_MODEL (names));
  gtk_widget_set_visible (GTK_WIDGET (self), procedure != NULL);
  say (self, NULL);
}

/* ---- widget ---- */

static void
pawl_sheet_bar_dispose (GObject *object)
{
  PawlSheetBar *self = PAWL_SHEET_BAR (object);

  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  g_clear_object (&self->procedure);
  g_clear_pointer (&self->figure, g_bytes_unref);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_sheet_bar_parent_class)->dispose (object);
}

static void
pawl_sheet_bar_class_init (PawlSheetBarClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_sheet_bar_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-sheet-bar.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlSheetBar, box);
  gtk_widget_class_bind_template_child (widget_class, PawlSheetBar, phase);
  gtk_widget_class_bind_template_child (widget_class, PawlSheetBar, status);
  gtk_widget_class_bind_template_callback (widget_class, print_cb);
  gtk_widget_class_bind_template_callback (widget_class, save_cb);
}

static void
pawl_sheet_bar_init (PawlSheetBar *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
