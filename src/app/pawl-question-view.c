#include "app/pawl-question-view.h"

#include <glib/gi18n.h>
#include "app/pawl-look.h"
#include "app/pawl-sketch-view.h"
#include "register/pawl-burst.h"

/* Each as wide as the panel, one below the other: side by side, words that say what an arrow means would find no room. */
#define LINES_HIGH 15
#define LEAST_HEIGHT 195
#define MOST_HEIGHT 360
#define LEAST_WIDTH 240

struct _PawlQuestionView {
  GtkWidget parent_instance;

  /* children */
  GtkWidget *box, *buttons[2], *pictures[2];

  /* owned */
  PawlSession *session;

  const PawlRule *rule; /* borrowed */
  PawlQuestion    question;
  PawlSketchOptions lengths; /* in which sizes are written */
  gboolean        is_open;
  guint           pending_id; /* a digit that waits for what may follow it */
  gboolean        is_pending_second;
  gint64          pressed_usec; /* the last key */
};

enum { CHOSEN, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlQuestionView, pawl_question_view, GTK_TYPE_WIDGET)

/* ---- pictures ---- */

static void
draw_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  PawlQuestionView *self = data;
  PawlSketchOptions options = pawl_sketch_view_make_options (GTK_WIDGET (area), self->session);
  PawlInks inks = pawl_palette_get_inks (options.palette);

  pawl_ink_set_source (&inks.paper, cr, 1);
  cairo_paint (cr);
  pawl_sketch_draw_question (self->rule, &self->question, GTK_WIDGET (area) == self->pictures[1], &options, cr, width, height);
}

static void
size_to_text (GtkWidget *area)
{
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (area), (int) CLAMP (pawl_look_get_text_pixels (area) * LINES_HIGH, LEAST_HEIGHT, MOST_HEIGHT));
}

/* ---- choosing ---- */

static void
clicked_cb (GtkButton *button, PawlQuestionView *self)
{
  g_signal_emit (self, signals[CHOSEN], 0, GTK_WIDGET (button) == self->buttons[1]);
}

static gboolean
alone_cb (gpointer data)
{
  PawlQuestionView *self = data;

  self->pending_id = 0;
  if (self->is_open && gtk_widget_get_mapped (GTK_WIDGET (self)))
    g_signal_emit (self, signals[CHOSEN], 0, self->is_pending_second);
  return G_SOURCE_REMOVE;
}

gboolean
pawl_question_view_press (PawlQuestionView *self, guint keyval, gint64 at_usec)
{
  gboolean is_first = keyval == GDK_KEY_1 || keyval == GDK_KEY_KP_1, is_second = keyval == GDK_KEY_2 || keyval == GDK_KEY_KP_2;
  gboolean is_alone = self->pressed_usec == 0 || at_usec - self->pressed_usec > PAWL_BURST_PAUSE_USEC;

  g_clear_handle_id (&self->pending_id, g_source_remove);
  self->pressed_usec = at_usec;
  if (!self->is_open)
    return FALSE;
  if (keyval == GDK_KEY_Left || keyval == GDK_KEY_Up)
    return gtk_widget_grab_focus (self->buttons[0]);
  if (keyval == GDK_KEY_Right || keyval == GDK_KEY_Down)
    return gtk_widget_grab_focus (self->buttons[1]);
  if ((!is_first && !is_second) || !is_alone)
    return FALSE;
  self->is_pending_second = is_second;
  self->pending_id = g_timeout_add (PAWL_BURST_PAUSE_USEC / 1000, alone_cb, self);
  return TRUE;
}

/* ---- state to widgets ---- */

PawlQuestion
pawl_question_view_get_question (PawlQuestionView *self)
{
  return self->question;
}

static gboolean
is_as_drawn (PawlQuestionView *self, const PawlQuestion *question, const PawlSketchOptions *lengths)
{
  return self->question.is_right_first == question->is_right_first && self->question.views[0] == question->views[0]
         && self->question.views[1] == question->views[1] && self->lengths.unit == lengths->unit && self->lengths.decimal_mark == lengths->decimal_mark;
}

/* Planning a picture takes some hundredths of a second, and the clock applies the state again and again: drawn anew only when it is another one. */
void
pawl_question_view_apply (PawlQuestionView *self, const PawlQuestion *question, gboolean is_open)
{
  PawlSketchOptions lengths = pawl_session_get_lengths (self->session);
  gboolean is_same = is_as_drawn (self, question, &lengths);

  self->question = *question;
  self->lengths = lengths;
  self->is_open = is_open;
  for (int i = 0; i < 2; i++)
    {
      gtk_widget_set_sensitive (self->buttons[i], is_open);
      if (!is_same)
        gtk_widget_queue_draw (self->pictures[i]);
    }
}

/* ---- widget ---- */

static void
pawl_question_view_dispose (GObject *object)
{
  PawlQuestionView *self = PAWL_QUESTION_VIEW (object);

  g_clear_handle_id (&self->pending_id, g_source_remove);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (pawl_question_view_parent_class)->dispose (object);
}

static void
pawl_question_view_class_init (PawlQuestionViewClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = pawl_question_view_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BIN_LAYOUT);
  signals[CHOSEN] = g_signal_new ("chosen", PAWL_TYPE_QUESTION_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_BOOLEAN);
}

static void
pawl_question_view_init (PawlQuestionView *self)
{
  self->box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 10);
  gtk_box_set_homogeneous (GTK_BOX (self->box), TRUE);
  gtk_widget_set_parent (self->box, GTK_WIDGET (self));
}

/* Beside its number, which is also its key. The picture has no words for who can't see it: any would be the answer. */
static void
add_button (PawlQuestionView *self, int n, const char *title)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8), *number = gtk_label_new (n == 0 ? "1" : "2");
  g_autofree char *name = g_strdup_printf (n == 0 ? _("First picture: %s") : _("Second picture: %s"), title);

  self->pictures[n] = g_object_new (GTK_TYPE_DRAWING_AREA, "accessible-role", GTK_ACCESSIBLE_ROLE_PRESENTATION, NULL);
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (self->pictures[n]), LEAST_WIDTH);
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (self->pictures[n]), LEAST_HEIGHT);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->pictures[n]), draw_cb, self, NULL);
  g_signal_connect (self->pictures[n], "realize", G_CALLBACK (size_to_text), NULL);
  g_signal_connect (self->pictures[n], "map", G_CALLBACK (size_to_text), NULL);
  gtk_widget_add_css_class (self->pictures[n], "sketch");
  gtk_widget_set_hexpand (self->pictures[n], TRUE);
  gtk_widget_set_overflow (self->pictures[n], GTK_OVERFLOW_HIDDEN);
  gtk_box_append (GTK_BOX (box), number);
  gtk_box_append (GTK_BOX (box), self->pictures[n]);
  self->buttons[n] = gtk_button_new ();
  gtk_button_set_child (GTK_BUTTON (self->buttons[n]), box);
  gtk_widget_add_css_class (self->buttons[n], "answer");
  gtk_widget_add_css_class (self->buttons[n], "choice");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->buttons[n]), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (self->buttons[n], "clicked", G_CALLBACK (clicked_cb), self);
  gtk_box_append (GTK_BOX (self->box), self->buttons[n]);
}

GtkWidget *
pawl_question_view_new (const PawlRule *rule, const char *title, PawlSession *session)
{
  PawlQuestionView *self = g_object_new (PAWL_TYPE_QUESTION_VIEW, NULL);

  self->rule = rule;
  self->session = g_object_ref (session);
  for (int i = 0; i < 2; i++)
    add_button (self, i, title);
  return GTK_WIDGET (self);
}
