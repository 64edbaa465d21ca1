#include "app/pawl-variant-window.h"

#include <glib/gi18n.h>
#include "app/pawl-list-line.h"
#include "app/pawl-phrases.h"
#include "app/pawl-redo-list.h"
#include "app/pawl-variant-choice.h"
#include "job/pawl-variant-change.h"

struct _PawlVariantWindow {
  GtkWindow parent_instance;

  /* template children */
  GtkWidget *taken, *choice, *reason, *nothing, *list, *redo, *problem, *correct;

  PawlSession *session; /* owned */
};

G_DEFINE_FINAL_TYPE (PawlVariantWindow, pawl_variant_window, GTK_TYPE_WINDOW)

static PawlJob *
get_job (PawlVariantWindow *self)
{
  return pawl_session_get_job (self->session);
}

/* What is left to the serial number is as that says. */
static char *
dup_chosen (PawlVariantWindow *self)
{
  PawlProcedure *procedure = pawl_job_get_procedure (get_job (self));
  g_autofree char *ids = pawl_variant_choice_dup (GTK_BOX (self->choice), procedure);

  return pawl_variant_complete (procedure, ids, pawl_job_get_field (get_job (self), "serial"), NULL);
}

static void
say (PawlVariantWindow *self, const char *problem)
{
  g_autofree char *sentence = problem != NULL ? pawl_phrase_make_sentence (problem) : NULL;

  gtk_label_set_label (GTK_LABEL (self->problem), sentence != NULL ? sentence : "");
  gtk_widget_set_visible (self->problem, sentence != NULL);
}

/* ---- what it changes ---- */

/* As pawl_variant_change_line_describe(), in the language of the window. */
static char *
describe_line (const PawlVariantChangeLine *line)
{
  const char *limits = line->after != NULL ? line->after : line->before;

  if (line->part != NULL)
    return g_strdup_printf (_("Part %s  %s"), line->part->item, line->part->name);
  if (line->ask == NULL)
    return g_strdup_printf (_("Step %s  %s"), line->step->number, line->step->command);
  if (line->kind == PAWL_CHANGE_LIMITS)
    return g_strdup_printf (_("Step %s, “%s”: %s in place of %s"), line->step->number, line->ask->ask->name, line->after != NULL ? line->after : _("no limits"),
                            line->before != NULL ? line->before : _("none"));
  return g_strdup_printf (_("Step %s, “%s”: %s"), line->step->number, line->ask->ask->name, limits != NULL ? limits : line->ask->ask->says);
}

static void
append_row (PawlVariantWindow *self, const char *text)
{
  GtkWidget *line = pawl_list_line_new ();

  pawl_list_line_append (line, text, NULL);
  gtk_list_box_append (GTK_LIST_BOX (self->list), pawl_list_line_wrap (line, text, ""));
}

static void
append_kind (PawlVariantWindow *self, GPtrArray *lines, PawlChangeKind kind, const char *heading)
{
  gboolean is_first = TRUE;

  for (guint i = 0; i < lines->len; i++)
    {
      const PawlVariantChangeLine *line = lines->pdata[i];
      g_autofree char *text = describe_line (line);

      if (line->kind != kind)
        continue;
      if (is_first)
        gtk_list_box_append (GTK_LIST_BOX (self->list), pawl_list_line_make_heading (heading));
      is_first = FALSE;
      append_row (self, text);
    }
}

static void
show_change (PawlVariantWindow *self, const PawlVariantChange *change)
{
  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  pawl_redo_list_apply (PAWL_REDO_LIST (self->redo), change != NULL ? change->redo : NULL, _("Opens again"));
  gtk_widget_set_visible (self->list, change != NULL && change->lines->len > 0);
  gtk_widget_set_visible (self->nothing, change != NULL && change->lines->len == 0);
  if (change == NULL)
    return;
  append_kind (self, change->lines, PAWL_CHANGE_COMES, _("Comes with it"));
  append_kind (self, change->lines, PAWL_CHANGE_GOES, _("Goes with it"));
  append_kind (self, change->lines, PAWL_CHANGE_LIMITS, _("Other limits"));
}

static void
chosen_cb (PawlVariantWindow *self)
{
  g_autofree char *chosen = dup_chosen (self);
  const char *taken = pawl_job_get_variant (get_job (self));
  gboolean is_same = pawl_variant_matches (chosen, taken) && pawl_variant_matches (taken, chosen);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlVariantChange) change = is_same ? NULL : pawl_variant_change_new (get_job (self), chosen, &error);

  show_change (self, change);
  say (self, error != NULL ? error->message : NULL);
  gtk_widget_set_sensitive (self->correct, change != NULL);
}

/* ---- the correction ---- */

static void
correct_cb (PawlVariantWindow *self)
{
  g_autofree char *chosen = dup_chosen (self), *words = NULL;
  g_autoptr(PawlEntry) entry = NULL;
  g_autoptr(GError) error = NULL;

  if (!gtk_widget_get_sensitive (self->correct))
    return;
  entry = pawl_answer_new_identified (chosen, gtk_editable_get_text (GTK_EDITABLE (self->reason)), pawl_session_make_hand (self->session));
  words = pawl_variant_describe (pawl_job_get_procedure (get_job (self)), chosen);
  if (pawl_session_take (self->session, entry, words, &error))
    gtk_window_close (GTK_WINDOW (self));
  else
    {
      say (self, error->message);
      gtk_widget_grab_focus (self->reason);
    }
}

static void
pawl_variant_window_dispose (GObject *object)
{
  g_clear_object (&PAWL_VARIANT_WINDOW (object)->session);
  G_OBJECT_CLASS (pawl_variant_window_parent_class)->dispose (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlVariantWindow, child)

static void
pawl_variant_window_class_init (PawlVariantWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_variant_window_dispose;
  g_type_ensure (PAWL_TYPE_REDO_LIST);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-variant-window.ui");
  BIND (taken);
  BIND (choice);
  BIND (reason);
  BIND (nothing);
  BIND (list);
  BIND (redo);
  BIND (problem);
  BIND (correct);
  gtk_widget_class_bind_template_callback (widget_class, correct_cb);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "window.close", NULL);
}

#undef BIND

static void
pawl_variant_window_init (PawlVariantWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

PawlVariantWindow *
pawl_variant_window_new (GtkWindow *parent, PawlSession *session)
{
  PawlVariantWindow *self = g_object_new (PAWL_TYPE_VARIANT_WINDOW, "transient-for", parent, NULL);
  PawlJob *job = pawl_session_get_job (session);
  PawlProcedure *procedure = pawl_job_get_procedure (job);
  g_autofree char *name = pawl_variant_describe (procedure, pawl_job_get_variant (job));
  g_autofree char *taken = g_strdup_printf (_("Taken as: %s"), *name != '\0' ? name : _("not said"));

  self->session = g_object_ref (session);
  gtk_label_set_label (GTK_LABEL (self->taken), taken);
  pawl_variant_choice_fill (GTK_BOX (self->choice), procedure);
  pawl_variant_choice_select (GTK_BOX (self->choice), procedure, pawl_job_get_variant (job));
  pawl_variant_choice_watch (GTK_BOX (self->choice), G_CALLBACK (chosen_cb), self);
  chosen_cb (self);
  return self;
}
