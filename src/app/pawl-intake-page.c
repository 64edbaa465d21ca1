#include "app/pawl-intake-page.h"

#include <glib/gi18n.h>
#include "app/pawl-column-layout.h"
#include "app/pawl-intake-form.h"
#include "app/pawl-phrases.h"
#include "procedure/pawl-variant.h"

/* Of what is half typed; no step or ask has a line like these. */
#define DRAFTS "taken-in"

struct _PawlIntakePage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *scroller, *signed_note, *doubt, *variant_box, *variant, *form, *reason, *problem, *correct, *history_box, *history;

  /* owned */
  PawlSession *session; /* (nullable) */

  gboolean is_filling;
};

enum { BACK, N_SIGNALS };
static guint signals[N_SIGNALS];

G_DEFINE_FINAL_TYPE (PawlIntakePage, pawl_intake_page, GTK_TYPE_WIDGET)

static void
set_note (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL);
}

/* ---- words ---- */

static const char *
name_field (const PawlIntakeField *field)
{
  static const char * const names[][2] = {
    { "unit", N_("Unit") }, { "maker", N_("Maker") }, { "model", N_("Model") }, { "serial", N_("Serial number") }, { "work-order", N_("Work order") },
    { "customer", N_("Customer") }, { "received", N_("Received on") }, { "complaint", N_("Complaint") }, { "authority", N_("Authorised") },
    { "identified-by", N_("Identified by") }, { "old-parts", N_("Old parts") }, { "shop", N_("Shop") },
  };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (g_str_equal (names[i][0], field->id))
      return _(names[i][1]);
  g_return_val_if_reached (field->name);
}

/* "Serial number: 4712, was 4711. Ossie Carne, 26 Nov 08:00: the plate was under paint" */
static char *
describe_correction (PawlJob *job, const PawlCorrection *correction)
{
  const PawlEntry *entry = correction->entry;
  g_autofree char *time = pawl_phrase_format_clock (pawl_entry_peek_at (entry), pawl_job_peek_now (job));
  const char *before = *correction->before != '\0' ? correction->before : _("not stated");
  const char *after = *correction->after != '\0' ? correction->after : _("not stated");

  /* Translators: field, what it is, what it was; who corrected it, when, the reason */
  return g_strdup_printf (_("%s: %s, was %s\n%s, %s: %s"), name_field (correction->field), after, before, pawl_entry_get_person (entry), time,
                          pawl_entry_get (entry, "reason"));
}

static char *
describe_history (PawlJob *job)
{
  GPtrArray *corrections = pawl_job_get_corrections (job);
  GString *text = g_string_new (NULL);

  for (guint i = corrections->len; i > 0; i--)
    {
      g_autofree char *line = describe_correction (job, corrections->pdata[i - 1]);

      g_string_append_printf (text, "%s%s", text->len > 0 ? "\n\n" : "", line);
    }
  return g_string_free (text, FALSE);
}

static char *
describe_signed (PawlJob *job)
{
  PawlEntry *signature = pawl_job_peek_signature (job);

  if (signature == NULL)
    return NULL;
  return g_strdup_printf (_("Signed by %s. To correct anything, take the signature back by Undo; the job is signed again after, and its report becomes the next version."),
                          pawl_entry_get_person (signature));
}

static char *
describe_doubt (PawlJob *job)
{
  g_autofree char *told = pawl_job_find_doubt (job);
  g_autofree char *would_be = told != NULL ? pawl_variant_describe (pawl_job_get_procedure (job), told) : NULL;
  g_autofree char *is = pawl_variant_describe (pawl_job_get_procedure (job), pawl_job_get_variant (job));

  if (told == NULL)
    return NULL;
  return g_strdup_printf (_("By the serial number %s the unit is “%s”, and the job is for “%s”. Look at the unit."), pawl_job_get_field (job, "serial"), would_be, is);
}

/* The variant is corrected in a window of its own, which shows what that changes. */
static void
show_variant (PawlIntakePage *self, PawlJob *job)
{
  PawlProcedure *procedure = pawl_job_get_procedure (job);
  g_autofree char *name = pawl_variant_describe (procedure, pawl_job_get_variant (job));
  g_autofree char *text = g_strdup_printf (_("Taken as: %s"), *name != '\0' ? name : _("not said"));

  gtk_label_set_label (GTK_LABEL (self->variant), text);
  gtk_widget_set_visible (self->variant_box, pawl_procedure_get_variants (procedure)->len > 0);
}

/* "Serial number, Customer" */
static char *
name_changes (const PawlEntry *entry)
{
  guint n_fields;
  const PawlIntakeField *fields = pawl_intake_list_fields (&n_fields);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < n_fields; i++)
    if (pawl_intake_get_corrected (entry, fields[i].id) != NULL)
      g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", name_field (&fields[i]));
  return g_string_free (text, FALSE);
}

/* ---- what is half typed ---- */

static void
keep_drafts (PawlIntakePage *self)
{
  PawlIntakeForm *form = PAWL_INTAKE_FORM (self->form);

  if (self->session == NULL || self->is_filling)
    return;
  for (guint i = 0; i < pawl_intake_form_get_n_lines (); i++)
    pawl_session_keep_draft (self->session, DRAFTS, pawl_intake_form_get_field (i), pawl_intake_form_peek_typed (form, i));
  pawl_session_keep_draft (self->session, DRAFTS, "reason", gtk_editable_get_text (GTK_EDITABLE (self->reason)));
}

static void
changed_cb (GtkWidget *widget, PawlIntakePage *self)
{
  set_note (self->problem, NULL);
  keep_drafts (self);
}

static void
fetch_drafts (PawlIntakePage *self)
{
  for (guint i = 0; i < pawl_intake_form_get_n_lines (); i++)
    {
      const char *typed = pawl_session_peek_draft (self->session, DRAFTS, pawl_intake_form_get_field (i));

      if (*typed != '\0')
        pawl_intake_form_type (PAWL_INTAKE_FORM (self->form), i, typed);
    }
  gtk_editable_set_text (GTK_EDITABLE (self->reason), pawl_session_peek_draft (self->session, DRAFTS, "reason"));
}

/* ---- state ---- */

void
pawl_intake_page_apply (PawlIntakePage *self)
{
  PawlJob *job = pawl_session_get_job (self->session);
  gboolean is_signed = pawl_job_peek_signature (job) != NULL;
  g_autofree char *history = describe_history (job), *signed_note = describe_signed (job), *doubt = describe_doubt (job);

  self->is_filling = TRUE;
  pawl_intake_form_follow (PAWL_INTAKE_FORM (self->form), job);
  self->is_filling = FALSE;
  set_note (self->signed_note, signed_note);
  set_note (self->doubt, doubt);
  show_variant (self, job);
  gtk_widget_set_sensitive (self->correct, !is_signed);
  gtk_label_set_label (GTK_LABEL (self->history), history);
  gtk_widget_set_visible (self->history_box, *history != '\0');
}

void
pawl_intake_page_set_session (PawlIntakePage *self, PawlSession *session)
{
  if (!g_set_object (&self->session, session) || session == NULL)
    return;
  self->is_filling = TRUE;
  pawl_intake_form_forget (PAWL_INTAKE_FORM (self->form)); /* what was typed for the last job is kept there */
  pawl_intake_form_follow (PAWL_INTAKE_FORM (self->form), pawl_session_get_job (session));
  fetch_drafts (self);
  self->is_filling = FALSE;
  set_note (self->problem, NULL);
}

void
pawl_intake_page_go (PawlIntakePage *self)
{
  pawl_intake_form_go (PAWL_INTAKE_FORM (self->form));
}

/* ---- buttons ---- */

static void
say (PawlIntakePage *self, const char *problem)
{
  g_autofree char *sentence = pawl_phrase_make_sentence (problem);

  set_note (self->problem, sentence);
}

/* What is typed stays until it is on disk. */
static void
correct_cb (GtkWidget *widget, PawlIntakePage *self)
{
  PawlIntake intake = pawl_intake_form_get (PAWL_INTAKE_FORM (self->form));
  g_autofree char *reason = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->reason))));
  g_autoptr(PawlEntry) entry = pawl_answer_new_correction (pawl_session_get_job (self->session), &intake, reason, pawl_session_make_hand (self->session));
  g_autofree char *names = entry != NULL ? name_changes (entry) : NULL;
  g_autofree char *words = g_strdup_printf (_("Corrected: %s"), names);
  g_autoptr(GError) error = NULL;

  if (entry == NULL)
    say (self, _("Nothing is another than it was; type over what is wrong"));
  else if (*reason == '\0')
    {
      say (self, _("A correction needs its reason: how it is known now"));
      gtk_widget_grab_focus (self->reason);
    }
  else if (!pawl_session_take (self->session, entry, words, &error))
    say (self, error->message);
  else
    {
      gtk_editable_set_text (GTK_EDITABLE (self->reason), "");
      keep_drafts (self);
    }
}

static void
back_cb (GtkWidget *button, PawlIntakePage *self)
{
  g_signal_emit (self, signals[BACK], 0);
}

/* ---- widget ---- */

static void
pawl_intake_page_dispose (GObject *object)
{
  PawlIntakePage *self = PAWL_INTAKE_PAGE (object);

  g_clear_object (&self->session);
  g_clear_pointer (&self->scroller, gtk_widget_unparent);
  G_OBJECT_CLASS (pawl_intake_page_parent_class)->dispose (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlIntakePage, child)

static void
pawl_intake_page_class_init (PawlIntakePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_intake_page_dispose;
  g_type_ensure (PAWL_TYPE_COLUMN_LAYOUT);
  g_type_ensure (PAWL_TYPE_INTAKE_FORM);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-intake-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  BIND (scroller);
  BIND (signed_note);
  BIND (doubt);
  BIND (variant_box);
  BIND (variant);
  BIND (form);
  BIND (reason);
  BIND (problem);
  BIND (correct);
  BIND (history_box);
  BIND (history);
  gtk_widget_class_bind_template_callback (widget_class, changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, correct_cb);
  gtk_widget_class_bind_template_callback (widget_class, back_cb);
  signals[BACK] = g_signal_new ("back", PAWL_TYPE_INTAKE_PAGE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

#undef BIND

static void
pawl_intake_page_init (PawlIntakePage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}
