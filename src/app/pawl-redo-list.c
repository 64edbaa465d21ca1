#include "app/pawl-redo-list.h"

#include <string.h>

#include <glib/gi18n.h>

/* So many lines are shown whole; more of them are scrolled, in this height. */
#define MOST_LINES 4
#define SCROLLED_HEIGHT 170

struct _PawlRedoList {
  GtkWidget parent_instance;

  GtkWidget *box, *heading, *scroller, *few, *many, *stays; /* lines stand in @few, or in @many within @scroller */
};

G_DEFINE_FINAL_TYPE (PawlRedoList, pawl_redo_list, GTK_TYPE_WIDGET)

/* As pawl_redo_line_describe_why(), in the language of the window. */
static char *
describe_why (const PawlRedoCause *cause)
{
  switch (cause->kind)
    {
    case PAWL_REDO_COVERS:
      return g_strdup_printf (_("covers step %s"), cause->step->number);
    case PAWL_REDO_DISTURBED:
      return g_strdup_printf (_("disturbed: step %s moves “%s”"), cause->step->number, cause->part->name);
    case PAWL_REDO_COUPLED:
      return g_strdup_printf (_("coupled: “%s” changes “%s”"), cause->corrected->name, cause->coupled->name);
    case PAWL_REDO_VARIANT:
      return g_strdup (_("asks otherwise of this variant"));
    case PAWL_REDO_ASKED:
      return g_strdup (_("is done again"));
    case PAWL_REDO_NONE:
    default:
      return g_strdup (_("is taken back"));
    }
}

char *
pawl_redo_list_describe (const PawlRedoLine *line)
{
  const PawlStep *step = line->state->step;
  g_autofree char *why = describe_why (&line->state->redo);
  g_autofree char *chain = pawl_redo_line_describe_chain (line);
  /* The command is a sentence; here its full stop goes. */
  int length = (int) strlen (step->command) - g_str_has_suffix (step->command, ".");
  g_autofree char *text = g_strdup_printf ("↺ %s  %.*s (%s%s%s)", step->number, length, step->command, why, *chain != '\0' ? "; " : "", chain);

  return step->cant_undo != NULL ? g_strdup_printf (_("%s. It can’t be undone: %s"), text, step->cant_undo) : g_steal_pointer (&text);
}

static void
append_line (GtkWidget *lines, const PawlRedoLine *line)
{
  g_autofree char *text = pawl_redo_list_describe (line);
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_box_append (GTK_BOX (lines), label);
}

static void
remove_lines (GtkWidget *lines)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (lines)) != NULL)
    gtk_box_remove (GTK_BOX (lines), child);
}

/* The step that a person does again is no news. */
static guint
count_lines (const PawlRedoPlan *plan)
{
  guint n = 0;

  for (guint i = 0; i < plan->opens->len; i++)
    n += ((PawlRedoLine *) plan->opens->pdata[i])->state->redo.kind != PAWL_REDO_ASKED;
  return n;
}

void
pawl_redo_list_apply (PawlRedoList *self, const PawlRedoPlan *plan, const char *heading)
{
  g_autofree char *numbers = plan != NULL ? pawl_redo_plan_describe_stays (plan) : NULL;
  g_autofree char *stays = numbers != NULL && *numbers != '\0' ? g_strdup_printf (_("Stays done: %s"), numbers) : NULL;
  guint n = plan != NULL ? count_lines (plan) : 0;

  remove_lines (self->few);
  remove_lines (self->many);
  gtk_widget_set_visible (GTK_WIDGET (self), plan != NULL);
  if (plan == NULL)
    return;
  for (guint i = 0; i < plan->opens->len; i++)
    {
      const PawlRedoLine *line = plan->opens->pdata[i];

      if (line->state->redo.kind != PAWL_REDO_ASKED)
        append_line (n > MOST_LINES ? self->many : self->few, line);
    }
  gtk_label_set_label (GTK_LABEL (self->heading), n > 0 ? heading : _("Nothing else opens again."));
  gtk_widget_set_visible (self->few, n > 0 && n <= MOST_LINES);
  gtk_widget_set_visible (self->scroller, n > MOST_LINES);
  gtk_label_set_label (GTK_LABEL (self->stays), stays != NULL ? stays : "");
  gtk_widget_set_visible (self->stays, stays != NULL);
}

static void
pawl_redo_list_dispose (GObject *object)
{
  g_clear_pointer (&PAWL_REDO_LIST (object)->box, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_redo_list_parent_class)->dispose (object);
}

static void
pawl_redo_list_class_init (PawlRedoListClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pawl_redo_list_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (GTK_WIDGET_CLASS (klass), GTK_ACCESSIBLE_ROLE_GROUP);
}

static GtkWidget *
make_label (const char *css_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  if (css_class != NULL)
    gtk_widget_add_css_class (label, css_class);
  return label;
}

static void
pawl_redo_list_init (PawlRedoList *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 4);
  self->heading = make_label ("ask-name");
  self->scroller = gtk_scrolled_window_new ();
  self->few = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  self->many = gtk_box_new (GTK_ORIENTATION_VERTICAL, 3);
  self->stays = make_label ("secondary");
  gtk_scrolled_window_set_policy (GTK_SCROLLED_WINDOW (self->scroller), GTK_POLICY_NEVER, GTK_POLICY_AUTOMATIC);
  gtk_scrolled_window_set_min_content_height (GTK_SCROLLED_WINDOW (self->scroller), SCROLLED_HEIGHT);
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->scroller), self->many);
  gtk_widget_add_css_class (GTK_WIDGET (self), "redo-list");
  gtk_box_append (GTK_BOX (self->box), self->heading);
  gtk_box_append (GTK_BOX (self->box), self->few);
  gtk_box_append (GTK_BOX (self->box), self->scroller);
  gtk_box_append (GTK_BOX (self->box), self->stays);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
  gtk_widget_set_visible (GTK_WIDGET (self), FALSE);
}
