#include "app/pawl-shop-window.h"

#include <glib/gi18n.h>
#include "plan/pawl-hours.h"

struct _PawlShopWindow {
  GtkWindow parent_instance;

  /* template children */
  GtkWidget *status, *name, *address, *registration, *logo, *choose_logo, *warranty, *footer, *policy, *paper, *keep_years, *hours, *clauses, *choose_clauses;

  /* owned */
  GtkFileChooserNative *chooser; /* (nullable) while it is open */

  PawlSettings *settings; /* borrowed */
};

G_DEFINE_FINAL_TYPE (PawlShopWindow, pawl_shop_window, GTK_TYPE_WINDOW)

enum { SAVED, N_SIGNALS };
static guint signals[N_SIGNALS];

/* In the order of the list in the .ui; a shop may have another risk in its file, which stands last then. */
static const char * const policies[] = { "simple", "guard-band", "proof", "risk 5 %" };

static void
say (PawlShopWindow *self, const char *text)
{
  gtk_label_set_label (GTK_LABEL (self->status), text != NULL ? text : "");
  gtk_widget_set_visible (self->status, text != NULL);
}

/* ---- fields ---- */

static void
set_long_text (GtkWidget *view, const char *text)
{
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (view)), text, -1);
}

static void
set_policy (PawlShopWindow *self, const char *policy)
{
  GtkStringList *list = GTK_STRING_LIST (gtk_drop_down_get_model (GTK_DROP_DOWN (self->policy)));
  guint chosen = 0;

  while (chosen < G_N_ELEMENTS (policies) && g_strcmp0 (policies[chosen], policy) != 0)
    chosen++;
  if (*policy == '\0')
    chosen = 0;
  else if (chosen == G_N_ELEMENTS (policies))
    gtk_string_list_append (list, policy);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->policy), chosen);
}

static const char *
get_policy (PawlShopWindow *self)
{
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->policy));
  GtkStringList *list = GTK_STRING_LIST (gtk_drop_down_get_model (GTK_DROP_DOWN (self->policy)));

  return chosen < G_N_ELEMENTS (policies) ? policies[chosen] : gtk_string_list_get_string (list, chosen);
}

static void
fill (PawlShopWindow *self)
{
  const PawlShop *shop = self->settings->shop;

  gtk_editable_set_text (GTK_EDITABLE (self->name), shop->name);
  set_long_text (self->address, shop->address);
  gtk_editable_set_text (GTK_EDITABLE (self->registration), shop->registration);
  gtk_editable_set_text (GTK_EDITABLE (self->logo), shop->logo);
  set_long_text (self->warranty, shop->warranty);
  gtk_editable_set_text (GTK_EDITABLE (self->footer), shop->footer);
  set_policy (self, shop->policy);
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->paper), shop->paper);
  gtk_spin_button_set_value (GTK_SPIN_BUTTON (self->keep_years), shop->keep_years);
  gtk_editable_set_text (GTK_EDITABLE (self->hours), shop->hours);
  gtk_editable_set_text (GTK_EDITABLE (self->clauses), shop->clauses);
  say (self, self->settings->shop_problem);
}

static void
take_text (char **text, GtkWidget *entry)
{
  g_autofree char *stripped = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (entry))));

  pawl_shop_set_text (text, stripped);
}

static void
take_long_text (char **text, GtkWidget *view)
{
  GtkTextBuffer *buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (view));
  GtkTextIter start, end;
  g_autofree char *all = NULL;

  gtk_text_buffer_get_bounds (buffer, &start, &end);
  all = g_strstrip (gtk_text_buffer_get_text (buffer, &start, &end, FALSE));
  pawl_shop_set_text (text, all);
}

/* (transfer full) */
static PawlShop *
read_fields (PawlShopWindow *self)
{
  PawlShop *shop = pawl_shop_copy (self->settings->shop);

  take_text (&shop->name, self->name);
  take_long_text (&shop->address, self->address);
  take_text (&shop->registration, self->registration);
  take_text (&shop->logo, self->logo);
  take_long_text (&shop->warranty, self->warranty);
  take_text (&shop->footer, self->footer);
  pawl_shop_set_text (&shop->policy, get_policy (self));
  shop->paper = (PawlPaper) gtk_drop_down_get_selected (GTK_DROP_DOWN (self->paper));
  shop->keep_years = (guint) gtk_spin_button_get_value_as_int (GTK_SPIN_BUTTON (self->keep_years));
  take_text (&shop->hours, self->hours);
  take_text (&shop->clauses, self->clauses);
  return shop;
}

/* Clauses that can't be read would leave every report without a title; that is better known now. */
static gboolean
check_clauses (PawlShopWindow *self, const PawlShop *shop)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlClauses) clauses = *shop->clauses != '\0' ? pawl_clauses_load (shop->clauses, &error) : NULL;

  if (error != NULL)
    say (self, error->message);
  return error == NULL;
}

/* Hours that can't be understood would be told at every plan. */
static gboolean
check_hours (PawlShopWindow *self, const PawlShop *shop)
{
  g_autoptr(GError) error = NULL;
  PawlTimes *hours = NULL;

  if (!pawl_hours_parse (shop->hours, &hours, &error))
    say (self, error->message);
  g_clear_pointer (&hours, pawl_times_free);
  return error == NULL;
}

gboolean
pawl_shop_window_save (PawlShopWindow *self)
{
  g_autoptr(PawlShop) shop = read_fields (self);
  g_autoptr(GError) error = NULL;

  if (!check_clauses (self, shop) || !check_hours (self, shop))
    return FALSE;
  pawl_shop_free (self->settings->shop);
  self->settings->shop = g_steal_pointer (&shop);
  if (!pawl_settings_save_shop (self->settings, &error))
    {
      say (self, error->message);
      return FALSE;
    }
  say (self, NULL);
  g_signal_emit (self, signals[SAVED], 0);
  return TRUE;
}

/* ---- buttons ---- */

static void
save_cb (GtkButton *button, PawlShopWindow *self)
{
  if (pawl_shop_window_save (self))
    gtk_window_destroy (GTK_WINDOW (self));
}

/* Closing keeps what was typed; what can't be kept keeps the window open, once: who closes it again means it. */
static gboolean
close_request_cb (PawlShopWindow *self)
{
  gboolean is_said = gtk_widget_get_visible (self->status);

  return !pawl_shop_window_save (self) && !is_said;
}

static void
chosen_cb (GtkNativeDialog *chooser, int response, PawlShopWindow *self)
{
  g_autoptr(GFile) file = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser)) : NULL;
  GtkWidget *entry = g_object_get_data (G_OBJECT (chooser), "entry");

  if (file != NULL && g_file_peek_path (file) != NULL)
    gtk_editable_set_text (GTK_EDITABLE (entry), g_file_peek_path (file));
  g_clear_object (&self->chooser);
}

static void
choose_cb (GtkWidget *button, PawlShopWindow *self)
{
  GtkWidget *entry = button == self->choose_logo ? self->logo : self->clauses;

  if (self->chooser != NULL)
    return;
  self->chooser = gtk_file_chooser_native_new (_("Choose a file"), GTK_WINDOW (self), GTK_FILE_CHOOSER_ACTION_OPEN, _("Choose"), _("Never mind"));
  g_object_set_data (G_OBJECT (self->chooser), "entry", entry);
  g_signal_connect_object (self->chooser, "response", G_CALLBACK (chosen_cb), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (self->chooser));
}

/* ---- widget ---- */

static void
pawl_shop_window_dispose (GObject *object)
{
  PawlShopWindow *self = PAWL_SHOP_WINDOW (object);

  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  G_OBJECT_CLASS (pawl_shop_window_parent_class)->dispose (object);
}

static void
pawl_shop_window_class_init (PawlShopWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_shop_window_dispose;
  signals[SAVED] = g_signal_new ("saved", PAWL_TYPE_SHOP_WINDOW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-shop-window.ui");
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, status);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, name);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, address);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, registration);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, logo);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, choose_logo);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, warranty);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, footer);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, policy);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, paper);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, keep_years);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, hours);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, clauses);
  gtk_widget_class_bind_template_child (widget_class, PawlShopWindow, choose_clauses);
  gtk_widget_class_bind_template_callback (widget_class, save_cb);
  gtk_widget_class_bind_template_callback (widget_class, choose_cb);
  gtk_widget_class_bind_template_callback (widget_class, close_request_cb);
}

static void
pawl_shop_window_init (PawlShopWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

PawlShopWindow *
pawl_shop_window_new (GtkWindow *parent, PawlSettings *settings)
{
  PawlShopWindow *self = g_object_new (PAWL_TYPE_SHOP_WINDOW, "transient-for", parent, NULL);

  self->settings = settings;
  fill (self);
  return self;
}
