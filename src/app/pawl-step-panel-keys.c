/* Where the keyboard goes in the step panel, and where what a gauge types goes. */
#include "app/pawl-step-panel-private.h"

#include "app/pawl-ask-row.h"

#define REVEAL_MARGIN 14

/* ---- scrolling to what is next ---- */

/* The whole row, not only the line in it that has the keyboard: its limits and its verdict belong together. */
static gboolean
reveal_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  PawlStepPanel *self = PAWL_STEP_PANEL (widget);
  GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));
  graphene_rect_t bounds;

  self->reveal_id = 0;
  if (self->revealed != NULL && gtk_widget_compute_bounds (self->revealed, gtk_widget_get_parent (self->content), &bounds))
    gtk_adjustment_clamp_page (adjustment, gtk_adjustment_get_value (adjustment) + bounds.origin.y - REVEAL_MARGIN,
                               gtk_adjustment_get_value (adjustment) + bounds.origin.y
                               + MIN (bounds.size.height + REVEAL_MARGIN, gtk_adjustment_get_page_size (adjustment) - REVEAL_MARGIN));
  g_clear_weak_pointer (&self->revealed);
  return G_SOURCE_REMOVE;
}

/* In the frame after the next layout, when the row has its size. */
static gboolean
wait_for_layout_cb (GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
  PAWL_STEP_PANEL (widget)->reveal_id = gtk_widget_add_tick_callback (widget, reveal_cb, NULL, NULL);
  return G_SOURCE_REMOVE;
}

void
pawl_step_panel_reveal (PawlStepPanel *self, GtkWidget *row)
{
  g_set_weak_pointer (&self->revealed, row);
  if (self->reveal_id == 0)
    self->reveal_id = gtk_widget_add_tick_callback (GTK_WIDGET (self), wait_for_layout_cb, NULL, NULL);
}

/* ---- where the keyboard goes ---- */

static PawlAskRow *
find_row (PawlStepPanel *self, const PawlAskState *state)
{
  for (GtkWidget *row = gtk_widget_get_first_child (self->asks); row != NULL; row = gtk_widget_get_next_sibling (row))
    if (state != NULL && pawl_ask_row_get_ask (PAWL_ASK_ROW (row)) == state->ask)
      return PAWL_ASK_ROW (row);
  return NULL;
}

void
pawl_step_panel_rest (PawlStepPanel *self)
{
  gtk_widget_grab_focus (self->advance);
}

void
pawl_step_panel_go_to (PawlStepPanel *self, const PawlAskState *ask)
{
  PawlAskRow *row = find_row (self, ask);

  if (row == NULL)
    {
      gtk_widget_grab_focus (self->advance);
      return;
    }
  pawl_ask_row_go (row);
  pawl_step_panel_reveal (self, GTK_WIDGET (row));
}

void
pawl_step_panel_go (PawlStepPanel *self)
{
  g_autoptr(PawlStepPage) page = self->job != NULL ? pawl_step_page_new (self->job, self->step_id) : NULL;

  pawl_step_panel_go_to (self, page != NULL && !page->is_over ? page->first_open : NULL);
}

/* Digits begin a value anew; of a reading with places, those that are in stay. */
static void
append_typed (GtkEditable *line, const char *text)
{
  g_autofree char *before = g_strchomp (g_strdup (gtk_editable_get_text (line)));
  g_autofree char *longer = g_str_has_suffix (before, ";") ? g_strdup_printf ("%s %s", before, text) : g_strdup (text);

  gtk_editable_set_text (line, longer);
  gtk_editable_set_position (line, -1);
}

gboolean
pawl_step_panel_type_reading (PawlStepPanel *self, const char *text)
{
  g_autoptr(PawlStepPage) page = self->job != NULL ? pawl_step_page_new (self->job, self->step_id) : NULL;
  const PawlAskState *wanted = page == NULL || page->is_over ? NULL : page->first_reading != NULL ? page->first_reading : page->first_count;
  PawlAskRow *row = find_row (self, wanted);
  GtkWidget *focus;

  if (row == NULL)
    return FALSE;
  pawl_ask_row_go (row);
  pawl_step_panel_reveal (self, GTK_WIDGET (row));
  focus = gtk_root_get_focus (gtk_widget_get_root (GTK_WIDGET (self)));
  if (!GTK_IS_EDITABLE (focus))
    return FALSE;
  append_typed (GTK_EDITABLE (focus), text);
  return TRUE;
}

/* ---- what a gauge types ---- */

void
pawl_step_panel_begin_burst (PawlStepPanel *self)
{
  for (GtkWidget *row = gtk_widget_get_first_child (self->asks); row != NULL; row = gtk_widget_get_next_sibling (row))
    pawl_ask_row_begin_burst (PAWL_ASK_ROW (row));
}

static PawlAskRow *
find_row_of_focus (PawlStepPanel *self, GtkWidget *focus)
{
  GtkWidget *row = focus != NULL && gtk_widget_is_ancestor (focus, self->asks) ? gtk_widget_get_ancestor (focus, PAWL_TYPE_ASK_ROW) : NULL;

  return row != NULL && pawl_ask_row_get_ask (PAWL_ASK_ROW (row))->kind == PAWL_ASK_READING ? PAWL_ASK_ROW (row) : NULL;
}

static PawlAskRow *
find_row_of_reading (PawlStepPanel *self, GtkWidget *focus)
{
  PawlAskRow *row = find_row_of_focus (self, focus);
  g_autoptr(PawlStepPage) page = row == NULL && self->job != NULL ? pawl_step_page_new (self->job, self->step_id) : NULL;

  return page != NULL && !page->is_over ? find_row (self, page->first_reading) : row;
}

const PawlAsk *
pawl_step_panel_find_reading (PawlStepPanel *self, GtkWidget *focus, char **chosen)
{
  PawlAskRow *row = find_row_of_reading (self, focus);

  *chosen = row != NULL ? g_strdup (pawl_ask_row_get_instrument (row)) : NULL;
  return row != NULL ? pawl_ask_row_get_ask (row) : NULL;
}

gboolean
pawl_step_panel_is_in_reading (PawlStepPanel *self, GtkWidget *focus)
{
  return find_row_of_focus (self, focus) != NULL;
}

gboolean
pawl_step_panel_take_burst (PawlStepPanel *self, GtkWidget *focus, const char *value, const char *mark, const char *doubt)
{
  PawlAskRow *row = find_row_of_reading (self, focus);

  if (row == NULL)
    return FALSE;
  pawl_step_panel_reveal (self, GTK_WIDGET (row));
  return pawl_ask_row_take_burst (row, value, mark, doubt);
}

gboolean
pawl_step_panel_press (PawlStepPanel *self, GtkWidget *focus, guint keyval, gint64 at_usec)
{
  GtkWidget *row = focus != NULL && gtk_widget_is_ancestor (focus, self->asks) ? gtk_widget_get_ancestor (focus, PAWL_TYPE_ASK_ROW) : NULL;

  return row != NULL && pawl_ask_row_press (PAWL_ASK_ROW (row), keyval, at_usec);
}
