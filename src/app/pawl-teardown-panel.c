#include "app/pawl-teardown-panel.h"

#include <glib/gi18n.h>
#include "app/pawl-list-line.h"
#include "app/pawl-prompt-form.h"
#include "app/pawl-tray-words.h"

#define MORE_IN_SIGHT 70

struct _PawlTeardownPanel {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *box, *scroller, *stated, *list, *form, *back, *next;

  PawlSession *session; /* (nullable) owned */
  PawlTrays   *trays;   /* (nullable) owned */
  PawlBuildUp *film;    /* (nullable) borrowed */
  guint        at;      /* steps undone: the line of this index is under way */
  guint        asked;   /* the form is about this step of the mirror */
};

enum { WALKED, STEPPED, LEFT, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlTeardownPanel, pawl_teardown_panel, GTK_TYPE_WIDGET)

static GPtrArray *
get_mirror (PawlTeardownPanel *self)
{
  return pawl_build_up_get_mirror (self->film);
}

/* ---- a line ---- */

static char *
list_parts (PawlTeardownPanel *self, const PawlMirrorStep *step)
{
  return pawl_tray_words_list_off (pawl_session_get_job (self->session), self->trays, step->parts);
}

/* "Float height", "Cover (this unit’s own mark, asked by step 3)" */
static char *
describe_ask (PawlTeardownPanel *self, const PawlAsk *ask)
{
  const char *note = ask->kind == PAWL_ASK_FIT ? ask->rule->datum_note : NULL;
  const PawlAskState *mark = note != NULL ? pawl_job_lookup_ask (pawl_session_get_job (self->session), note) : NULL;

  if (mark != NULL)
    return g_strdup_printf (_("%s (this unit’s own mark, asked by step %s)"), ask->name, mark->step->number);
  return ask->kind == PAWL_ASK_FIT ? g_strdup_printf (_("%s (this unit’s own mark)"), ask->name) : g_strdup (ask->name);
}

static char *
list_first (PawlTeardownPanel *self, const PawlMirrorStep *step)
{
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < step->first->len; i++)
    {
      g_autofree char *words = describe_ask (self, step->first->pdata[i]);

      g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", words);
    }
  return g_strdup (text->str);
}

/* As the mirror's own warning, in the language of the window. */
static char *
describe_warning (const PawlMirrorStep *step)
{
  g_autoptr(GString) text = g_string_new (step->step->cant_undo);

  for (guint i = 0; i < step->parts->len; i++)
    {
      const PawlPart *part = step->parts->pdata[i];

      if (!part->is_one_way)
        continue;
      g_string_append (text, text->len > 0 ? " " : "");
      g_string_append_printf (text, _("“%s” is spoilt by it."), part->name);
    }
  return text->len > 0 ? g_strdup_printf (_("Mind: %s"), text->str) : NULL;
}

static void
append_notes (PawlTeardownPanel *self, GtkWidget *line, const PawlMirrorStep *step)
{
  const PawlStepState *state = pawl_job_lookup_step (pawl_session_get_job (self->session), step->step->id);

  for (guint i = 0; i < state->notes->len; i++)
    {
      PawlEntry *note = state->notes->pdata[i];
      g_autofree char *text = g_strdup_printf (_("Note by %s: %s"), pawl_entry_get_person (note), pawl_entry_get (note, "text"));

      pawl_list_line_append (line, text, "strong");
    }
}

static void
write_clicked_cb (GtkButton *button, PawlTeardownPanel *self)
{
  GtkWidget *row = gtk_widget_get_ancestor (GTK_WIDGET (button), GTK_TYPE_LIST_BOX_ROW);

  self->asked = (guint) gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (row));
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), GTK_LIST_BOX_ROW (row));
  pawl_prompt_form_open (PAWL_PROMPT_FORM (self->form), PAWL_PROMPT_FOUND);
}

static void
append_first (PawlTeardownPanel *self, GtkWidget *line, const PawlMirrorStep *step)
{
  g_autofree char *first = list_first (self, step);
  g_autofree char *text = g_strdup_printf (_("Before it, write down as found: %s"), first), *name = g_strdup_printf (_("Write down as found: %s"), first);
  GtkWidget *button = gtk_button_new_with_label (_("Write it down…"));

  pawl_list_line_append (line, text, "strong");
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  gtk_widget_add_css_class (button, "small");
  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, name, -1);
  g_signal_connect (button, "clicked", G_CALLBACK (write_clicked_cb), self);
  pawl_list_line_append_widget (line, button);
}

static GtkWidget *
make_row (PawlTeardownPanel *self, const PawlMirrorStep *step, guint number)
{
  GtkWidget *line = pawl_list_line_new ();
  g_autofree char *parts = list_parts (self, step), *count = g_strdup_printf ("%u", number);
  g_autofree char *undoes = g_strdup_printf (_("Undoes step %s: %s"), step->step->number, step->step->command);
  g_autofree char *warning = describe_warning (step);

  pawl_list_line_append (line, parts, "row-title");
  pawl_list_line_append (line, warning, "strong");
  if (step->first->len > 0)
    append_first (self, line, step);
  append_notes (self, line, step);
  pawl_list_line_append (line, undoes, "secondary");
  pawl_list_line_append_end (line, count, "status-word");
  return pawl_list_line_wrap (line, parts, undoes);
}

/* ---- where it stands ---- */

/* Once the list has its place: the line that is under way is in sight, and what comes after it begins to be. */
static void
bring_in_sight (PawlTeardownPanel *self, GtkWidget *row)
{
  GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller));
  graphene_rect_t bounds;

  if (gtk_widget_compute_bounds (row, gtk_widget_get_first_child (gtk_widget_get_first_child (self->scroller)), &bounds))
    gtk_adjustment_clamp_page (adjustment, bounds.origin.y, bounds.origin.y + bounds.size.height + MORE_IN_SIGHT);
}

static void
row_selected_cb (GtkListBox *list, GtkListBoxRow *row, PawlTeardownPanel *self)
{
  if (row != NULL && (guint) gtk_list_box_row_get_index (row) != self->at)
    g_signal_emit (self, signals[WALKED], 0, (guint) gtk_list_box_row_get_index (row));
}

void
pawl_teardown_panel_show_at (PawlTeardownPanel *self, double position)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), (int) position);

  self->at = (guint) position;
  gtk_list_box_select_row (GTK_LIST_BOX (self->list), row);
  if (row != NULL)
    bring_in_sight (self, GTK_WIDGET (row));
  gtk_widget_set_sensitive (self->back, self->at > 0);
  gtk_widget_set_sensitive (self->next, self->film != NULL && self->at < get_mirror (self)->len);
}

char *
pawl_teardown_panel_describe (PawlTeardownPanel *self, double position)
{
  GPtrArray *mirror = get_mirror (self);
  guint at = (guint) position;
  g_autofree char *parts = at < mirror->len ? list_parts (self, mirror->pdata[at]) : NULL;

  if (parts == NULL)
    return g_strdup (_("All that was fitted is off"));
  return g_strdup_printf (_("%u of %u, off: %s"), at + 1, mirror->len, parts);
}

void
pawl_teardown_panel_go (PawlTeardownPanel *self)
{
  gtk_widget_grab_focus (self->next);
}

/* ---- what is written down ---- */

static void
answered_cb (PawlPromptForm *form, PawlTeardownPanel *self)
{
  const PawlMirrorStep *step = get_mirror (self)->pdata[self->asked];
  g_autofree char *typed = g_strstrip (g_strdup (pawl_prompt_form_get_line (form, 0)));
  g_autofree char *text = *typed != '\0' ? g_strdup_printf (_("As found: %s"), typed) : g_strdup ("");
  g_autoptr(PawlEntry) entry = pawl_answer_new_note (step->step, text, pawl_session_make_hand (self->session));
  g_autoptr(GError) error = NULL;

  if (pawl_session_take (self->session, entry, _("Written down"), &error))
    pawl_prompt_form_close (form);
  else
    pawl_prompt_form_say (form, error->message);
}

/* ---- the panel ---- */

void
pawl_teardown_panel_apply (PawlTeardownPanel *self)
{
  guint at = self->at;

  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  for (guint i = 0; self->film != NULL && i < get_mirror (self)->len; i++)
    gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (self, get_mirror (self)->pdata[i], i + 1));
  pawl_teardown_panel_show_at (self, at);
}

void
pawl_teardown_panel_set_film (PawlTeardownPanel *self, PawlSession *session, PawlBuildUp *film)
{
  PawlJob *job = film != NULL ? pawl_session_get_job (session) : NULL;
  PawlProcedure *procedure = job != NULL ? pawl_job_get_procedure (job) : NULL;

  self->film = film;
  self->at = 0;
  g_set_object (&self->session, session);
  g_clear_pointer (&self->trays, pawl_trays_free);
  if (procedure != NULL)
    self->trays = pawl_trays_new (procedure, pawl_job_get_variant (job));
  gtk_widget_set_visible (self->stated, procedure != NULL && pawl_mirror_is_stated (procedure, pawl_job_get_variant (job)));
  pawl_prompt_form_close (PAWL_PROMPT_FORM (self->form));
  pawl_teardown_panel_apply (self);
}

static void
next_cb (PawlTeardownPanel *self)
{
  g_signal_emit (self, signals[STEPPED], 0, 1);
}

static void
back_cb (PawlTeardownPanel *self)
{
  g_signal_emit (self, signals[STEPPED], 0, -1);
}

static void
leave_cb (PawlTeardownPanel *self)
{
  g_signal_emit (self, signals[LEFT], 0);
}

static void
pawl_teardown_panel_dispose (GObject *object)
{
  PawlTeardownPanel *self = PAWL_TEARDOWN_PANEL (object);

  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->trays, pawl_trays_free);
  g_clear_object (&self->session);
  G_OBJECT_CLASS (pawl_teardown_panel_parent_class)->dispose (object);
}

static void
pawl_teardown_panel_class_init (PawlTeardownPanelClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_teardown_panel_dispose;
  g_type_ensure (PAWL_TYPE_PROMPT_FORM);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-teardown-panel.ui");
  gtk_widget_class_bind_template_child (widget_class, PawlTeardownPanel, box);
  gtk_widget_class_bind_template_child (widget_class, PawlTeardownPanel, scroller);
  gtk_widget_class_bind_template_child (widget_class, PawlTeardownPanel, stated);
  gtk_widget_class_bind_template_child (widget_class, PawlTeardownPanel, list);
  gtk_widget_class_bind_template_child (widget_class, PawlTeardownPanel, form);
  gtk_widget_class_bind_template_child (widget_class, PawlTeardownPanel, back);
  gtk_widget_class_bind_template_child (widget_class, PawlTeardownPanel, next);
  gtk_widget_class_bind_template_callback (widget_class, row_selected_cb);
  gtk_widget_class_bind_template_callback (widget_class, answered_cb);
  gtk_widget_class_bind_template_callback (widget_class, next_cb);
  gtk_widget_class_bind_template_callback (widget_class, back_cb);
  gtk_widget_class_bind_template_callback (widget_class, leave_cb);
  signals[WALKED] = g_signal_new ("walked", PAWL_TYPE_TEARDOWN_PANEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_UINT);
  signals[STEPPED] = g_signal_new ("stepped", PAWL_TYPE_TEARDOWN_PANEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  signals[LEFT] = g_signal_new ("left", PAWL_TYPE_TEARDOWN_PANEL, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
pawl_teardown_panel_init (PawlTeardownPanel *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
