#include "app/pawl-sums-page.h"

#include <glib/gi18n.h>
#include <string.h>
#include "app/pawl-list-line.h"
#include "app/pawl-look.h"
#include "app/pawl-phrases.h"
#include "app/pawl-sum-picture.h"

/* Of text in the picture: its words must find room beside each other. */
#define PICTURE_EMS 23
#define PICTURE_LINES 12
#define WIDEST_PICTURE 440

struct _PawlSumsPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *stack, *list, *scroller, *title, *says, *beside, *picture, *hint, *problem, *answers, *fields, *units, *working, *source, *copy;

  /* owned */
  GHashTable    *drafts; /* (element-type utf8 GHashTable): sum to what was typed for it, by input */
  PawlSumResult *result; /* (nullable) */

  const PawlSum *sum;    /* (nullable) that the form is of */
  PawlTyping     typing;
  guint          turn_id;
};

G_DEFINE_FINAL_TYPE (PawlSumsPage, pawl_sums_page, GTK_TYPE_WIDGET)

/* What was typed for the sum of the form. */
static GHashTable *
get_typed (PawlSumsPage *self)
{
  const char *id = pawl_sum_get_id (self->sum);
  GHashTable *typed = g_hash_table_lookup (self->drafts, id);

  if (typed == NULL)
    {
      typed = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, g_free);
      g_hash_table_insert (self->drafts, (gpointer) id, typed);
    }
  return typed;
}

static void
set_label (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
}

/* ---- the answer ---- */

static GtkWidget *
make_label (const char *text, const char *css_class)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_widget_add_css_class (label, css_class);
  return label;
}

static void
clear_box (GtkWidget *box)
{
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (box)) != NULL)
    gtk_box_remove (GTK_BOX (box), child);
}

static void
append_answer (PawlSumsPage *self, const PawlSumAnswer *answer)
{
  GtkWidget *line = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_box_append (GTK_BOX (line), make_label (answer->title, "secondary"));
  gtk_box_append (GTK_BOX (line), make_label (answer->text, "value"));
  gtk_box_append (GTK_BOX (self->answers), line);
}

static char *
join_working (const PawlSumResult *result)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < result->working->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", (const char *) result->working->pdata[i]);
  return g_string_free (text, FALSE);
}

/* (transfer full): a message begins with the name of its input, as the command has it; here the line's own title stands for it. */
static char *
make_sentence (PawlSumsPage *self, const GError *error)
{
  gboolean is_missing = g_error_matches (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_MISSING);
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (self->sum, &n);

  for (guint i = 0; i < n; i++)
    {
      gsize length = strlen (inputs[i].name);

      if (g_str_has_prefix (error->message, inputs[i].name) && g_str_has_prefix (error->message + length, ": "))
        {
          g_autofree char *message = is_missing ? g_strdup (error->message + length + 2)
                                                : g_strconcat (inputs[i].title, error->message + length, NULL);

          return pawl_phrase_make_sentence (message);
        }
    }
  return pawl_phrase_make_sentence (error->message);
}

/* An input that nothing is said about yet is no mistake of the typist. */
static void
show_trouble (PawlSumsPage *self, const GError *error)
{
  gboolean is_missing = g_error_matches (error, PAWL_SUM_ERROR, PAWL_SUM_ERROR_MISSING);
  g_autofree char *sentence = error != NULL ? make_sentence (self, error) : NULL;

  set_label (self->hint, is_missing ? sentence : NULL);
  set_label (self->problem, error != NULL && !is_missing ? sentence : NULL);
}

static void
solve (PawlSumsPage *self)
{
  g_autoptr(GError) error = NULL;
  g_autofree char *working = NULL;

  g_clear_pointer (&self->result, pawl_sum_result_free);
  self->result = pawl_sum_solve (self->sum, get_typed (self), &self->typing, &error);
  clear_box (self->answers);
  show_trouble (self, error);
  if (self->result != NULL)
    {
      working = join_working (self->result);
      for (guint i = 0; i < self->result->answers->len; i++)
        append_answer (self, self->result->answers->pdata[i]);
    }
  set_label (self->working, working);
  gtk_widget_set_sensitive (self->copy, self->result != NULL);
  gtk_widget_queue_draw (self->picture);
}

/* ---- as text ---- */

static void
append_inputs (PawlSumsPage *self, GString *text)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (self->sum, &n);

  for (guint i = 0; i < n; i++)
    {
      const char *typed = g_hash_table_lookup (get_typed (self), inputs[i].name);

      if (typed != NULL)
        g_string_append_printf (text, "%s: %s\n", inputs[i].title, typed);
    }
}

static char *
make_text (PawlSumsPage *self)
{
  GString *text = g_string_new (NULL);
  g_autofree char *working = join_working (self->result);

  g_string_append_printf (text, "%s\n", pawl_sum_get_title (self->sum));
  append_inputs (self, text);
  g_string_append_c (text, '\n');
  for (guint i = 0; i < self->result->answers->len; i++)
    {
      const PawlSumAnswer *answer = self->result->answers->pdata[i];

      g_string_append_printf (text, "%s: %s\n", answer->title, answer->text);
    }
  g_string_append_printf (text, "\n%s\n\n%s\n", working, gtk_label_get_label (GTK_LABEL (self->source)));
  return g_string_free (text, FALSE);
}

static void
copy_cb (GtkWidget *button, PawlSumsPage *self)
{
  g_autofree char *text = self->result != NULL ? make_text (self) : NULL;

  if (text != NULL)
    gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), text);
}

/* ---- the form ---- */

static void
typed_cb (GtkEditable *editable, PawlSumsPage *self)
{
  const char *name = g_object_get_data (G_OBJECT (editable), "input"), *text = gtk_editable_get_text (editable);

  if (*text != '\0')
    g_hash_table_insert (get_typed (self), (gpointer) name, g_strdup (text));
  else
    g_hash_table_remove (get_typed (self), name);
  solve (self);
}

/* Enter goes to the next line; from the last one to the first. */
static void
next_cb (GtkEntry *entry, PawlSumsPage *self)
{
  int column, row, width, height;
  GtkWidget *next;

  gtk_grid_query_child (GTK_GRID (self->fields), GTK_WIDGET (entry), &column, &row, &width, &height);
  next = gtk_grid_get_child_at (GTK_GRID (self->fields), 1, row + 1);
  gtk_widget_grab_focus (next != NULL ? next : gtk_grid_get_child_at (GTK_GRID (self->fields), 1, 0));
}

static char *
make_placeholder (const PawlSumInput *input)
{
  if (input->from != NULL)
    return g_strdup_printf (input->constant != PAWL_MATERIAL_NOTHING ? _("otherwise as the material has it; for instance %s")
                                                                     : _("otherwise as the thread has it; for instance %s"), input->example);
  if (input->fallback == NULL)
    return g_strdup_printf (_("for instance %s"), input->example);
  if (*input->fallback == '\0')
    return g_strdup_printf (_("may be left out; for instance %s"), input->example);
  return g_strdup_printf (_("otherwise %s"), input->fallback);
}

static void
append_field (PawlSumsPage *self, const PawlSumInput *input, int row)
{
  GtkWidget *label = make_label (input->title, "field-name"), *entry = gtk_entry_new ();
  g_autofree char *placeholder = make_placeholder (input);
  const char *typed = g_hash_table_lookup (get_typed (self), input->name);

  gtk_label_set_max_width_chars (GTK_LABEL (label), 34);
  gtk_entry_set_placeholder_text (GTK_ENTRY (entry), placeholder);
  gtk_editable_set_text (GTK_EDITABLE (entry), typed != NULL ? typed : "");
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), 12);
  gtk_widget_set_hexpand (entry, TRUE);
  gtk_widget_set_valign (entry, GTK_ALIGN_CENTER);
  gtk_accessible_update_property (GTK_ACCESSIBLE (entry), GTK_ACCESSIBLE_PROPERTY_LABEL, input->title, GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, placeholder, -1);
  g_object_set_data (G_OBJECT (entry), "input", (gpointer) input->name);
  g_signal_connect (entry, "changed", G_CALLBACK (typed_cb), self);
  g_signal_connect (entry, "activate", G_CALLBACK (next_cb), self);
  gtk_grid_attach (GTK_GRID (self->fields), label, 0, row, 1, 1);
  gtk_grid_attach (GTK_GRID (self->fields), entry, 1, row, 1, 1);
}

static void
build_fields (PawlSumsPage *self)
{
  guint n;
  const PawlSumInput *inputs = pawl_sum_peek_inputs (self->sum, &n);
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->fields)) != NULL)
    gtk_grid_remove (GTK_GRID (self->fields), child);
  for (guint i = 0; i < n; i++)
    append_field (self, &inputs[i], (int) i);
}

static void
tell_units (PawlSumsPage *self)
{
  gboolean is_inch = self->typing.default_unit == pawl_unit_lookup ("in");

  set_label (self->units, is_inch ? _("A length without its unit is in inches (menu: Lengths in inches).")
                                  : _("A length without its unit is in millimetres (menu: Lengths in inches)."));
}

/* Beside the picture, whose height they mostly fit; without one below the lines, which must not move while somebody types. */
static void
place_answers (PawlSumsPage *self)
{
  GtkWidget *form = gtk_widget_get_parent (self->beside);

  gtk_box_reorder_child_after (GTK_BOX (form), self->beside, pawl_sum_picture_has (self->sum) ? self->says : self->units);
}

static void
build_form (PawlSumsPage *self)
{
  g_autofree char *source = g_strdup_printf (_("Source: %s.\nHolds for: %s."), pawl_sum_get_source (self->sum), pawl_sum_get_validity (self->sum));

  set_label (self->title, pawl_sum_get_title (self->sum));
  set_label (self->says, pawl_sum_get_says (self->sum));
  set_label (self->source, source);
  gtk_widget_set_visible (self->picture, pawl_sum_picture_has (self->sum));
  place_answers (self);
  if (pawl_sum_picture_has (self->sum))
    gtk_accessible_update_property (GTK_ACCESSIBLE (self->picture), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, pawl_sum_picture_describe (self->sum), -1);
  build_fields (self);
  tell_units (self);
  solve (self);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), 0);
}

/* ---- the picture ---- */

static int
get_picture_width (PawlSumsPage *self)
{
  return MIN ((int) (pawl_look_get_text_pixels (self->picture) * PICTURE_EMS), WIDEST_PICTURE);
}

/* Larger text needs more room. */
static void
size_to_text (PawlSumsPage *self)
{
  gtk_drawing_area_set_content_width (GTK_DRAWING_AREA (self->picture), get_picture_width (self));
  gtk_drawing_area_set_content_height (GTK_DRAWING_AREA (self->picture), (int) (pawl_look_get_text_pixels (self->picture) * PICTURE_LINES));
}

/* Beside the answers where both have room, above them where they don't. Not while widgets are being placed. */
static gboolean
turn_cb (gpointer data)
{
  PawlSumsPage *self = data;
  double width = gtk_adjustment_get_page_size (gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (self->scroller)));
  gboolean is_narrow = width > 0 && width < 2.2 * get_picture_width (self);

  self->turn_id = 0;
  size_to_text (self);
  gtk_orientable_set_orientation (GTK_ORIENTABLE (self->beside), is_narrow ? GTK_ORIENTATION_VERTICAL : GTK_ORIENTATION_HORIZONTAL);
  gtk_widget_set_halign (self->picture, is_narrow ? GTK_ALIGN_START : GTK_ALIGN_FILL);
  return G_SOURCE_REMOVE;
}

static void
width_changed_cb (PawlSumsPage *self)
{
  if (self->turn_id == 0)
    self->turn_id = g_idle_add (turn_cb, self);
}

static void
draw_cb (GtkDrawingArea *area, cairo_t *cr, int width, int height, gpointer data)
{
  PawlSumsPage *self = data;
  PawlSumPicture picture;

  if (self->sum == NULL)
    return;
  if (gtk_drawing_area_get_content_width (area) != get_picture_width (self))
    width_changed_cb (self); /* the text has another size than when room was made for it */
  picture = (PawlSumPicture) {
    .sum = self->sum,
    .typed = get_typed (self),
    .typing = &self->typing,
    .inks = pawl_palette_get_inks (pawl_look_get_palette (GTK_WIDGET (area))),
    .text_size = pawl_look_get_text_pixels (GTK_WIDGET (area)),
  };
  pawl_ink_set_source (&picture.inks.paper, cr, 1);
  cairo_paint (cr);
  pawl_sum_picture_draw (&picture, cr, width, height);
}

/* ---- going about ---- */

void
pawl_sums_page_set_settings (PawlSumsPage *self, const PawlSettings *settings)
{
  self->typing.decimal_mark = settings->decimal_mark;
  self->typing.default_unit = pawl_unit_lookup (settings->is_inch ? "in" : "mm");
  if (self->sum == NULL)
    return;
  tell_units (self);
  solve (self);
}

void
pawl_sums_page_show (PawlSumsPage *self, const char *id)
{
  const PawlSum *sum = id != NULL ? pawl_sum_lookup (id) : NULL;

  if (sum != NULL)
    {
      self->sum = sum;
      build_form (self);
    }
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), sum != NULL ? "form" : "list");
  pawl_sums_page_go (self);
}

/* The line of the sum that was last looked at, or the first. */
static GtkWidget *
find_row (PawlSumsPage *self)
{
  int place = 0;

  for (guint i = 0; self->sum != NULL && pawl_sum_peek_nth (i) != NULL; i++)
    if (pawl_sum_peek_nth (i) == self->sum)
      place = (int) i;
  return GTK_WIDGET (gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), place));
}

void
pawl_sums_page_go (PawlSumsPage *self)
{
  gboolean is_form = g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "form") == 0;

  gtk_widget_grab_focus (is_form ? gtk_grid_get_child_at (GTK_GRID (self->fields), 1, 0) : find_row (self));
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlSumsPage *self)
{
  pawl_sums_page_show (self, pawl_sum_get_id (pawl_sum_peek_nth ((guint) gtk_list_box_row_get_index (row))));
}

static void
back_cb (GtkWidget *button, PawlSumsPage *self)
{
  pawl_sums_page_show (self, NULL);
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  PawlSumsPage *self = PAWL_SUMS_PAGE (widget);

  if (g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "form") != 0)
    return FALSE;
  pawl_sums_page_show (self, NULL);
  return TRUE;
}

static gboolean
copy_key_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  copy_cb (NULL, PAWL_SUMS_PAGE (widget));
  return TRUE;
}

static void
build_list (PawlSumsPage *self)
{
  const PawlSum *sum;

  for (guint i = 0; (sum = pawl_sum_peek_nth (i)) != NULL; i++)
    {
      GtkWidget *line = pawl_list_line_new ();

      pawl_list_line_append (line, pawl_sum_get_title (sum), "row-title");
      pawl_list_line_append (line, pawl_sum_get_says (sum), "secondary");
      gtk_list_box_append (GTK_LIST_BOX (self->list), pawl_list_line_wrap (line, pawl_sum_get_title (sum), pawl_sum_get_says (sum)));
    }
}

/* ---- object ---- */

static void
pawl_sums_page_dispose (GObject *object)
{
  g_clear_handle_id (&PAWL_SUMS_PAGE (object)->turn_id, g_source_remove);
  g_clear_pointer (&PAWL_SUMS_PAGE (object)->stack, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_sums_page_parent_class)->dispose (object);
}

static void
pawl_sums_page_finalize (GObject *object)
{
  PawlSumsPage *self = PAWL_SUMS_PAGE (object);

  g_hash_table_unref (self->drafts);
  g_clear_pointer (&self->result, pawl_sum_result_free);
  G_OBJECT_CLASS (pawl_sums_page_parent_class)->finalize (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlSumsPage, child)

static void
bind_children (GtkWidgetClass *widget_class)
{
  BIND (stack);
  BIND (list);
  BIND (scroller);
  BIND (title);
  BIND (says);
  BIND (beside);
  BIND (picture);
  BIND (hint);
  BIND (problem);
  BIND (answers);
  BIND (fields);
  BIND (units);
  BIND (working);
  BIND (source);
  BIND (copy);
}

#undef BIND

static void
pawl_sums_page_class_init (PawlSumsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_sums_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_sums_page_finalize;
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-sums-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  bind_children (widget_class);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, back_cb);
  gtk_widget_class_bind_template_callback (widget_class, copy_cb);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, escape_cb, NULL);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_C, GDK_CONTROL_MASK | GDK_SHIFT_MASK, copy_key_cb, NULL);
}

static void
pawl_sums_page_init (PawlSumsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
  self->drafts = g_hash_table_new_full (g_str_hash, g_str_equal, NULL, (GDestroyNotify) g_hash_table_unref);
  gtk_drawing_area_set_draw_func (GTK_DRAWING_AREA (self->picture), draw_cb, self, NULL);
  g_signal_connect_swapped (self->picture, "map", G_CALLBACK (size_to_text), self);
  g_signal_connect_swapped (gtk_scrolled_window_get_hadjustment (GTK_SCROLLED_WINDOW (self->scroller)), "notify::page-size",
                            G_CALLBACK (width_changed_cb), self);
  build_list (self);
}
