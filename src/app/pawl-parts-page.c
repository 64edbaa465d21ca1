#include "app/pawl-parts-page.h"

#include <glib/gi18n.h>
#include "app/pawl-list-line.h"
#include "app/pawl-phrases.h"

struct _PawlPartsPage {
  GtkWidget parent_instance;
  GtkWidget *scroller, *list;
};

enum { STEP_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlPartsPage, pawl_parts_page, GTK_TYPE_WIDGET)

static char *
describe_disposition (const PawlPartState *part)
{
  g_autoptr(GString) text = g_string_new (NULL);
  const char *fields[] = { "reason", "source", "from", "lot" };
  g_autofree char *choice = NULL;

  if (part->disposition == NULL)
    return g_strdup (part->part->is_kit ? _("new from the kit") : "");
  choice = pawl_phrase_format_outcome (pawl_entry_get (part->disposition, "choice"));
  g_string_append (text, choice);
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      const char *value = pawl_entry_get (part->disposition, fields[i]);

      if (value != NULL)
        g_string_append_printf (text, " · %s", value);
    }
  return g_strdup (text->str);
}

/* The step that fits it, or the one that takes it off: where Enter goes. */
static const char *
find_step (PawlJob *job, const PawlPart *part)
{
  GPtrArray *steps = pawl_job_get_steps (job);
  const char *taking_off = NULL;

  for (guint i = 0; i < steps->len; i++)
    {
      const PawlStep *step = ((PawlStepState *) steps->pdata[i])->step;

      if (g_strv_contains ((const char * const *) step->installs, part->id))
        return step->id;
      if (taking_off == NULL && g_strv_contains ((const char * const *) step->removes, part->id))
        taking_off = step->id;
    }
  return taking_off;
}

static GtkWidget *
make_row (PawlJob *job, const PawlPartState *part)
{
  GtkWidget *line = pawl_list_line_new (), *row;
  g_autofree char *title = part->part->quantity > 1 ? g_strdup_printf ("%s  %s × %u", part->part->item, part->part->name, part->part->quantity)
                                                   : g_strdup_printf ("%s  %s", part->part->item, part->part->name);
  g_autofree char *disposition = describe_disposition (part);
  g_autofree char *place = pawl_phrase_format_outcome (pawl_phrase_get_place (part->place));
  g_autofree char *words = g_strdup_printf ("%s. %s", place, disposition);

  pawl_list_line_append (line, title, "strong");
  pawl_list_line_append (line, disposition, "secondary");
  pawl_list_line_append_end (line, place, "status-word");
  row = pawl_list_line_wrap (line, title, words);
  g_object_set_data_full (G_OBJECT (row), "step", g_strdup (find_step (job, part->part)), g_free);
  return row;
}

void
pawl_parts_page_apply (PawlPartsPage *self, PawlJob *job)
{
  GPtrArray *parts = job != NULL ? pawl_job_get_parts (job) : NULL;

  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  for (guint i = 0; parts != NULL && i < parts->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (job, parts->pdata[i]));
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlPartsPage *self)
{
  const char *step = g_object_get_data (G_OBJECT (row), "step");

  if (step != NULL)
    g_signal_emit (self, signals[STEP_WANTED], 0, step);
}

static void
pawl_parts_page_dispose (GObject *object)
{
  g_clear_pointer (&PAWL_PARTS_PAGE (object)->scroller, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_parts_page_parent_class)->dispose (object);
}

static void
pawl_parts_page_class_init (PawlPartsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_parts_page_dispose;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-parts-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlPartsPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PawlPartsPage, list);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  signals[STEP_WANTED] = g_signal_new ("step-wanted", PAWL_TYPE_PARTS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pawl_parts_page_init (PawlPartsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
