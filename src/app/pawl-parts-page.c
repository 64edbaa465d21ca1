#include "app/pawl-parts-page.h"

#include <glib/gi18n.h>
#include "app/pawl-buy-line.h"
#include "app/pawl-list-line.h"
#include "app/pawl-phrases.h"
#include "app/pawl-supply-form.h"
#include "app/pawl-tray-words.h"
#include "job/pawl-job-parts.h"

struct _PawlPartsPage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *scroller, *form, *list;

  /* owned */
  PawlSession *session; /* (nullable) */
};

enum { STEP_WANTED, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlPartsPage, pawl_parts_page, GTK_TYPE_WIDGET)

static void
append (PawlPartsPage *self, GtkWidget *row)
{
  gtk_list_box_append (GTK_LIST_BOX (self->list), row);
}

static void
append_heading (PawlPartsPage *self, const char *text)
{
  append (self, pawl_list_line_make_heading (text));
}

/* ---- what is not there ---- */

static void
lack_clicked_cb (GtkButton *button, PawlPartsPage *self)
{
  const char *id = g_object_get_data (G_OBJECT (button), "id"), *name = g_object_get_data (G_OBJECT (button), "name");
  gboolean is_supply = pawl_job_lookup_part (pawl_session_get_job (self->session), id) == NULL;

  pawl_supply_form_open (PAWL_SUPPLY_FORM (self->form), id, name, is_supply, pawl_job_peek_lack (pawl_session_get_job (self->session), id) != NULL);
  gtk_adjustment_set_value (gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (self->scroller)), 0);
}

static GtkWidget *
make_lack_button (PawlPartsPage *self, const char *id, const char *name, gboolean is_supply, gboolean is_lacking)
{
  GtkWidget *button = gtk_button_new_with_label (is_lacking ? _("Say more, or arrived…") : is_supply ? _("Running out…") : _("Not there…"));
  g_autofree char *accessible = g_strdup_printf ("%s: %s", gtk_button_get_label (GTK_BUTTON (button)), name);

  gtk_accessible_update_property (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_PROPERTY_LABEL, accessible, -1);
  gtk_widget_set_halign (button, GTK_ALIGN_END);
  gtk_widget_add_css_class (button, "small");
  g_object_set_data_full (G_OBJECT (button), "id", g_strdup (id), g_free);
  g_object_set_data_full (G_OBJECT (button), "name", g_strdup (name), g_free);
  g_signal_connect (button, "clicked", G_CALLBACK (lack_clicked_cb), self);
  return button;
}

/* What stands at the end of a line stands beside each other, not below: a list of forty parts is long enough. */
static GtkWidget *
make_line (void)
{
  GtkWidget *line = pawl_list_line_new (), *end = gtk_widget_get_last_child (line);

  gtk_orientable_set_orientation (GTK_ORIENTABLE (end), GTK_ORIENTATION_HORIZONTAL);
  gtk_box_set_spacing (GTK_BOX (end), 10);
  return line;
}

static void
append_button (GtkWidget *line, GtkWidget *button)
{
  gtk_widget_set_valign (button, GTK_ALIGN_START);
  pawl_list_line_append_end_widget (line, button);
}

static void
form_answered_cb (PawlSupplyForm *form, PawlPartsPage *self)
{
  g_autoptr(PawlEntry) entry = pawl_supply_form_make_entry (form, pawl_session_make_hand (self->session));
  g_autoptr(GError) error = NULL;

  if (pawl_session_take (self->session, entry, _("Written down"), &error))
    pawl_supply_form_close (form);
  else
    {
      g_autofree char *sentence = pawl_phrase_make_sentence (error->message);

      pawl_supply_form_say (form, sentence);
    }
}

/* ---- a part ---- */

static char *
describe_disposition (const PawlPartState *part)
{
  g_autoptr(GString) text = g_string_new (NULL);
  const char *fields[] = { "reason", "source", "from", "lot" };
  const PawlEntry *got = part->arrival != NULL ? part->arrival : part->disposition;
  g_autofree char *choice = NULL;

  if (got == NULL)
    return g_strdup (part->part->is_kit ? _("new from the kit") : "");
  choice = part->arrival != NULL ? g_strdup (_("Arrived")) : pawl_phrase_format_outcome (pawl_entry_get (got, "choice"));
  g_string_append (text, choice);
  for (guint i = 0; i < G_N_ELEMENTS (fields); i++)
    {
      const char *value = pawl_entry_get (got, fields[i]);

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

static void
append_alikes (PawlPartsPage *self, GtkWidget *line, const PawlPart *part)
{
  PawlJob *job = pawl_session_get_job (self->session);
  PawlSketchOptions lengths = pawl_session_get_lengths (self->session);
  g_autoptr(GPtrArray) alikes = pawl_alike_list (pawl_job_get_procedure (job), pawl_job_get_variant (job), part->id);

  for (guint i = 0; i < alikes->len; i++)
    {
      g_autofree char *words = pawl_tray_words_describe_alike (alikes->pdata[i], &lengths);

      pawl_list_line_append (line, words, NULL);
    }
}

/* @place: (nullable): it never lies in a tray */
static void
append_part (PawlPartsPage *self, const PawlPartState *part, const PawlTrayPlace *place)
{
  PawlJob *job = pawl_session_get_job (self->session);
  GtkWidget *line = make_line (), *row;
  g_autofree char *name = part->part->quantity > 1 ? g_strdup_printf ("%s  %s × %u", part->part->item, part->part->name, part->part->quantity)
                                                   : g_strdup_printf ("%s  %s", part->part->item, part->part->name);
  g_autofree char *number = place != NULL && place->tray > 0 ? g_strdup_printf (_("Place %u"), place->place) : NULL;
  g_autofree char *disposition = describe_disposition (part);
  g_autofree char *lack = part->lack != NULL ? pawl_tray_words_describe_lack (part->lack, pawl_job_peek_now (job)) : NULL;
  g_autofree char *where = pawl_phrase_format_outcome (lack != NULL ? lack : pawl_phrase_get_place (part->place));
  g_autofree char *facts = g_strjoin (number != NULL && *disposition != '\0' ? " · " : "", number != NULL ? number : "", disposition, NULL);
  g_autofree char *words = g_strdup_printf ("%s. %s", where, facts);

  pawl_list_line_append (line, name, "strong");
  pawl_list_line_append (line, disposition, "secondary");
  append_alikes (self, line, part->part);
  pawl_list_line_append_end (line, number, NULL);
  pawl_list_line_append_end (line, where, "status-word");
  if (part->place != PAWL_PLACE_SEATED && !part->part->is_staying)
    append_button (line, make_lack_button (self, part->part->id, name, FALSE, part->lack != NULL));
  row = pawl_list_line_wrap (line, name, words);
  g_object_set_data_full (G_OBJECT (row), "step", g_strdup (find_step (job, part->part)), g_free);
  append (self, row);
}

/* A sub-assembly is named after a part of it, or has a word of its own. */
static char *
describe_tray (PawlPartsPage *self, const PawlTrays *trays, guint tray)
{
  const char *group = pawl_trays_get_group (trays, tray);
  const PawlPartState *part = pawl_job_lookup_part (pawl_session_get_job (self->session), group);

  if (*group == '\0')
    return g_strdup_printf (_("Tray %u"), tray);
  return g_strdup_printf (_("Tray %u · %s"), tray, part != NULL ? part->part->name : group);
}

static int
compare_places_cb (gconstpointer a, gconstpointer b)
{
  const PawlTrayPlace *left = *(const PawlTrayPlace * const *) a, *right = *(const PawlTrayPlace * const *) b;

  return (int) left->place - (int) right->place;
}

/* The parts of one tray by their places; of tray 0, the old parts, by the order in which they come off. */
static void
append_tray (PawlPartsPage *self, const PawlTrays *trays, guint tray)
{
  GPtrArray *places = pawl_trays_get_places (trays);
  g_autoptr(GPtrArray) own = g_ptr_array_new ();
  g_autofree char *title = tray > 0 ? describe_tray (self, trays, tray) : g_strdup (_("Spoilt or replaced from the kit: the old ones lie with the old parts"));

  for (guint i = 0; i < places->len; i++)
    if (((PawlTrayPlace *) places->pdata[i])->tray == tray)
      g_ptr_array_add (own, places->pdata[i]);
  if (own->len == 0)
    return;
  g_ptr_array_sort (own, compare_places_cb);
  append_heading (self, title);
  for (guint i = 0; i < own->len; i++)
    append_part (self, pawl_job_lookup_part (pawl_session_get_job (self->session), ((PawlTrayPlace *) own->pdata[i])->part->id), own->pdata[i]);
}

static void
append_untrayed (PawlPartsPage *self, const PawlTrays *trays)
{
  GPtrArray *parts = pawl_job_get_parts (pawl_session_get_job (self->session));
  gboolean is_first = TRUE;

  for (guint i = 0; i < parts->len; i++)
    {
      const PawlPartState *part = parts->pdata[i];

      if (pawl_trays_lookup (trays, part->part->id) != NULL)
        continue;
      if (is_first)
        append_heading (self, _("In no tray"));
      is_first = FALSE;
      append_part (self, part, NULL);
    }
}

/* ---- what there is to buy ---- */

static void
append_want (PawlPartsPage *self, const PawlWant *want)
{
  PawlJob *job = pawl_session_get_job (self->session);
  GtkWidget *line = pawl_list_line_new (), *row;
  g_autofree char *quantity = want->quantity > 1 ? g_strdup_printf (" × %u", want->quantity) : g_strdup ("");
  g_autofree char *title = g_strdup_printf ("%s%s%s%s", want->item, *want->item != '\0' ? "  " : "", want->name, quantity);
  g_autofree char *when = want->kind == PAWL_WANT_ORDERED ? pawl_tray_words_describe_lack (want->entry, pawl_job_peek_now (job)) : NULL;

  pawl_list_line_append (line, title, "strong");
  pawl_list_line_append (line, when, "secondary");
  pawl_list_line_append (line, want->why, "secondary");
  pawl_list_line_append_end (line, pawl_buy_get_word (want->kind), "status-word");
  row = pawl_list_line_wrap (line, title, pawl_buy_get_word (want->kind));
  if (want->part != NULL)
    g_object_set_data_full (G_OBJECT (row), "step", g_strdup (find_step (job, want->part)), g_free);
  append (self, row);
}

static void
append_wants (PawlPartsPage *self)
{
  g_autoptr(GPtrArray) wants = pawl_job_list_wants (pawl_session_get_job (self->session));

  if (wants->len > 0)
    append_heading (self, _("To buy, or to wait for"));
  for (guint i = 0; i < wants->len; i++)
    append_want (self, wants->pdata[i]);
}

/* ---- the kit ---- */

static char *
describe_kit_line (const PawlKitLine *line)
{
  g_autoptr(GString) text = g_string_new (NULL);

  g_string_append_printf (text, _("%u in hand"), line->in_hand);
  if (line->state->ask->check->is_unused)
    g_string_append (text, _(" · not for this unit"));
  else
    g_string_append_printf (text, _(" · %u needed"), line->need);
  if (line->shortage > 0)
    g_string_append_printf (text, _(" · %u short"), line->shortage);
  if (line->left > 0)
    g_string_append_printf (text, _(" · %u left over"), line->left);
  return g_strdup (text->str);
}

static void
append_kit_line (PawlPartsPage *self, const PawlKitLine *kit)
{
  GtkWidget *line = pawl_list_line_new (), *row;
  g_autofree char *words = describe_kit_line (kit);
  const char *standing = kit->state->n_current == 0 ? _("Not looked at") : kit->shortage > 0 ? _("Short") : kit->in_hand != kit->brings ? _("Not as listed") : _("As listed");

  pawl_list_line_append (line, kit->state->ask->name, "strong");
  pawl_list_line_append (line, words, "secondary");
  pawl_list_line_append_end (line, standing, "status-word");
  row = pawl_list_line_wrap (line, kit->state->ask->name, words);
  g_object_set_data_full (G_OBJECT (row), "step", g_strdup (kit->state->step->id), g_free);
  append (self, row);
}

static void
append_kit (PawlPartsPage *self)
{
  PawlJob *job = pawl_session_get_job (self->session);
  g_autoptr(GPtrArray) kit = pawl_job_list_kit (job);
  guint left = pawl_job_count_left_over (job);
  g_autofree char *title = g_strdup_printf (_("%s · %u should be left over"), pawl_procedure_get_kit (pawl_job_get_procedure (job)), left);

  if (kit->len > 0)
    append_heading (self, title);
  for (guint i = 0; i < kit->len; i++)
    append_kit_line (self, kit->pdata[i]);
}

/* ---- supplies ---- */

static void
append_supplies (PawlPartsPage *self)
{
  PawlJob *job = pawl_session_get_job (self->session);
  GPtrArray *supplies = pawl_procedure_get_supplies (pawl_job_get_procedure (job));

  if (supplies->len > 0)
    append_heading (self, _("Supplies"));
  for (guint i = 0; i < supplies->len; i++)
    {
      const PawlSupply *supply = supplies->pdata[i];
      const PawlEntry *lack = pawl_job_peek_lack (job, supply->id);
      g_autofree char *words = lack != NULL ? pawl_tray_words_describe_lack (lack, pawl_job_peek_now (job)) : NULL;
      GtkWidget *line = make_line ();

      pawl_list_line_append (line, supply->name, "strong");
      pawl_list_line_append_end (line, words, "status-word");
      append_button (line, make_lack_button (self, supply->id, supply->name, TRUE, lack != NULL));
      append (self, pawl_list_line_wrap (line, supply->name, words != NULL ? words : ""));
    }
}

/* ---- the page ---- */

void
pawl_parts_page_apply (PawlPartsPage *self)
{
  PawlJob *job = self->session != NULL ? pawl_session_get_job (self->session) : NULL;
  g_autoptr(PawlTrays) trays = NULL;

  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  if (job == NULL)
    return;
  trays = pawl_trays_new (pawl_job_get_procedure (job), pawl_job_get_variant (job));
  append_wants (self);
  for (guint tray = 1; tray <= pawl_trays_count (trays); tray++)
    append_tray (self, trays, tray);
  append_tray (self, trays, 0);
  append_untrayed (self, trays);
  append_kit (self);
  append_supplies (self);
}

void
pawl_parts_page_set_session (PawlPartsPage *self, PawlSession *session)
{
  g_set_object (&self->session, session);
  pawl_supply_form_close (PAWL_SUPPLY_FORM (self->form));
  pawl_parts_page_apply (self);
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
  g_clear_object (&PAWL_PARTS_PAGE (object)->session);
  G_OBJECT_CLASS (pawl_parts_page_parent_class)->dispose (object);
}

static void
pawl_parts_page_class_init (PawlPartsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_parts_page_dispose;
  g_type_ensure (PAWL_TYPE_SUPPLY_FORM);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-parts-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_bind_template_child (widget_class, PawlPartsPage, scroller);
  gtk_widget_class_bind_template_child (widget_class, PawlPartsPage, form);
  gtk_widget_class_bind_template_child (widget_class, PawlPartsPage, list);
  gtk_widget_class_bind_template_callback (widget_class, row_activated_cb);
  gtk_widget_class_bind_template_callback (widget_class, form_answered_cb);
  signals[STEP_WANTED] = g_signal_new ("step-wanted", PAWL_TYPE_PARTS_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 1, G_TYPE_STRING);
}

static void
pawl_parts_page_init (PawlPartsPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
