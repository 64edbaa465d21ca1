#include "app/pawl-people-page.h"

#include <glib/gi18n.h>
#include "app/pawl-list-line.h"
#include "app/pawl-pairs-view.h"
#include "app/pawl-people-acts.h"
#include "app/pawl-people-words.h"
#include "app/pawl-phrases.h"
#include "app/pawl-record-work.h"
#include "app/pawl-trainer-fields.h"

struct _PawlPeoplePage {
  GtkWidget parent_instance;

  /* template children */
  GtkWidget *stack, *add, *skill, *proof, *trainer, *pin, *problem, *empty, *list;
  GtkWidget *title, *facts, *act_stage, *act_rules, *act_pin, *act_role, *act_leave, *follows, *stages, *figures, *life_title, *life;
  GtkWidget *form;

  /* owned */
  PawlRecord   *record; /* (nullable) */
  PawlCrew     *crew;   /* (nullable) */
  char         *person; /* at the bench */
  char         *chosen; /* name of whom is looked at; "" for none */
  GCancellable *cancellable;

  PawlPeopleAct act;    /* that the form is open for */
  gboolean is_proved;   /* whoever is at the bench may see all */
  gboolean is_listing;  /* the skills are listed anew: no choice of the user's */
};

G_DEFINE_FINAL_TYPE (PawlPeoplePage, pawl_people_page, GTK_TYPE_WIDGET)

static void
set_text (GtkWidget *label, const char *text)
{
  gtk_label_set_label (GTK_LABEL (label), text != NULL ? text : "");
  gtk_widget_set_visible (label, text != NULL && *text != '\0');
}

static void
say (PawlPeoplePage *self, const GError *error)
{
  g_autofree char *sentence = error != NULL ? pawl_phrase_make_sentence (error->message) : NULL;

  set_text (self->problem, sentence);
}

static const PawlCrewMember *
get_member (PawlPeoplePage *self)
{
  return self->crew != NULL && *self->chosen != '\0' ? pawl_crew_lookup (self->crew, self->chosen) : NULL;
}

static gboolean
may_see (PawlPeoplePage *self, const PawlCrewMember *member)
{
  return self->is_proved || pawl_crew_lookup (self->crew, self->person) == member;
}

/* ---- the list ---- */

/* (nullable): the skill that is asked after; NULL is all of them */
static const PawlSkill *
get_skill (PawlPeoplePage *self)
{
  guint place = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->skill));

  return self->crew != NULL && place != GTK_INVALID_LIST_POSITION && place > 0 && place <= self->crew->skills->len ? self->crew->skills->pdata[place - 1] : NULL;
}

/* Of one skill: who is how far, since when, and whether more may be due. */
static void
append_skill (GtkWidget *line, const PawlCrewMember *member, const PawlSkill *skill)
{
  const PawlSkillStage *stated = pawl_stages_lookup (member->stages, skill->word);
  g_autofree char *since = stated != NULL ? pawl_skill_stage_describe (stated) : NULL, *suggestion = pawl_crew_member_suggest (member, skill->word);

  pawl_list_line_append (line, since, NULL);
  pawl_list_line_append (line, suggestion, "strong");
  pawl_list_line_append_end (line, stated != NULL ? pawl_stage_get_words (stated->stage) : _("nothing stated"), stated != NULL ? "status-word" : "secondary");
}

static void
append_summary (GtkWidget *line, const PawlCrewMember *member)
{
  g_autofree char *summary = pawl_crew_member_summarise (member);
  guint n = 0;

  pawl_list_line_append (line, summary, NULL);
  for (guint i = 0; i < member->stages->skills->len; i++)
    {
      g_autofree char *suggestion = pawl_crew_member_suggest (member, ((PawlSkillStage *) member->stages->skills->pdata[i])->skill);

      n += suggestion != NULL;
    }
  if (n > 0)
    {
      g_autofree char *text = g_strdup_printf (g_dngettext (NULL, "The next stage may be due in %u skill", "The next stage may be due in %u skills", n), n);

      pawl_list_line_append_end (line, text, "strong");
    }
}

static GtkWidget *
make_row (PawlPeoplePage *self, const PawlCrewMember *member)
{
  GtkWidget *line = pawl_list_line_new (), *row;
  const PawlSkill *skill = get_skill (self);
  g_autofree char *facts = pawl_crew_member_describe (member), *summary = pawl_crew_member_summarise (member), *description = NULL;
  gboolean is_seen = may_see (self, member);

  pawl_list_line_append (line, member->name, "row-title");
  pawl_list_line_append (line, facts, "secondary");
  if (is_seen && skill != NULL)
    append_skill (line, member, skill);
  else if (is_seen)
    append_summary (line, member);
  description = g_strdup_printf ("%s. %s", facts, is_seen ? summary : "");
  row = pawl_list_line_wrap (line, member->name, description);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (row), is_seen);
  g_object_set_data_full (G_OBJECT (row), "name", g_strdup (member->name), g_free);
  return row;
}

/* -1: nothing is stated of it, or nobody may see that */
static int
get_place (PawlPeoplePage *self, const PawlCrewMember *member, const PawlSkill *skill)
{
  const PawlSkillStage *stated = skill != NULL && may_see (self, member) ? pawl_stages_lookup (member->stages, skill->word) : NULL;

  return stated != NULL ? (int) stated->stage : -1;
}

/* By name; with one skill looked at, those who are farthest first. */
static void
apply_list (PawlPeoplePage *self)
{
  const PawlSkill *skill = get_skill (self);
  guint n = self->crew != NULL ? self->crew->members->len : 0;

  pawl_list_line_clear (GTK_LIST_BOX (self->list));
  for (int place = skill != NULL ? PAWL_STAGE_INDEPENDENT : -1; place >= -1; place--)
    for (guint i = 0; i < n; i++)
      if (get_place (self, self->crew->members->pdata[i], skill) == place)
        gtk_list_box_append (GTK_LIST_BOX (self->list), make_row (self, self->crew->members->pdata[i]));
  gtk_widget_set_visible (self->empty, self->crew != NULL && n == 0);
  gtk_widget_set_sensitive (self->add, self->crew != NULL);
}

static void
list_skills (PawlPeoplePage *self)
{
  g_autoptr(GtkStringList) words = gtk_string_list_new (NULL);
  guint chosen = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->skill));
  guint n = self->crew != NULL ? self->crew->skills->len : 0;

  self->is_listing = TRUE;
  gtk_string_list_append (words, _("All skills"));
  for (guint i = 0; i < n; i++)
    gtk_string_list_take (words, pawl_skill_describe (self->crew->skills->pdata[i]));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->skill), G_LIST_MODEL (words));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->skill), chosen <= n ? chosen : 0);
  self->is_listing = FALSE;
}

static void
skill_chosen_cb (GtkDropDown *choice, GParamSpec *pspec, PawlPeoplePage *self)
{
  if (!self->is_listing)
    apply_list (self);
}

/* ---- one person ---- */

/* Only the stages that somebody is at: what does not apply need not be read. */
static void
apply_follows (PawlPeoplePage *self, const PawlCrewMember *member)
{
  g_autoptr(GString) text = g_string_new (NULL);
  guint n_at[PAWL_N_STAGES];

  pawl_crew_member_count (member, n_at);
  for (guint i = 0; i < PAWL_N_STAGES; i++)
    if (n_at[i] > 0)
      {
        g_autofree char *rules = pawl_stage_describe_rules (member->stages, (PawlStage) i);
        g_autofree char *name = pawl_phrase_capitalise (pawl_stage_get_words ((PawlStage) i));
        g_autofree char *line = g_markup_printf_escaped ("<b>%s:</b> %s", name, rules);

        g_string_append_printf (text, "%s%s", text->len > 0 ? "\n" : "", line);
      }
  gtk_label_set_markup (GTK_LABEL (self->follows), text->str);
  gtk_widget_set_visible (self->follows, text->len > 0);
}

static GtkWidget *
make_stage_row (const PawlCrewMember *member, const PawlSkill *skill, const PawlSkillStage *stated)
{
  GtkWidget *line = pawl_list_line_new ();
  g_autofree char *title = pawl_skill_describe (skill), *since = pawl_skill_stage_describe (stated);
  g_autofree char *run = pawl_skill_run_describe (member->progress != NULL ? pawl_progress_lookup (member->progress, skill->word) : NULL);
  g_autofree char *suggestion = pawl_crew_member_suggest (member, skill->word);
  g_autofree char *description = g_strdup_printf ("%s, %s. %s", pawl_stage_get_words (stated->stage), since, run);

  pawl_list_line_append (line, title, "strong");
  pawl_list_line_append (line, since, "secondary");
  pawl_list_line_append (line, run, "secondary");
  pawl_list_line_append (line, suggestion, "strong");
  pawl_list_line_append_end (line, pawl_stage_get_words (stated->stage), "status-word");
  return pawl_list_line_wrap (line, title, description);
}

/* Only what is stated of themselves, by what the skill is of. */
static void
apply_stages (PawlPeoplePage *self, const PawlCrewMember *member)
{
  PawlSkillKind heading = PAWL_N_SKILL_KINDS;

  pawl_list_line_clear (GTK_LIST_BOX (self->stages));
  for (guint i = 0; i < self->crew->skills->len; i++)
    {
      const PawlSkill *skill = self->crew->skills->pdata[i];
      const PawlSkillStage *stated = pawl_stages_lookup (member->stages, skill->word);

      if (stated == NULL || !g_str_equal (stated->skill, skill->word))
        continue;
      if (skill->kind != heading && skill->kind != PAWL_SKILL_OF_ALL)
        gtk_list_box_append (GTK_LIST_BOX (self->stages), pawl_list_line_make_heading (pawl_skill_kind_get_words (skill->kind)));
      heading = skill->kind;
      gtk_list_box_append (GTK_LIST_BOX (self->stages), make_stage_row (member, skill, stated));
    }
  if (heading == PAWL_N_SKILL_KINDS)
    gtk_list_box_append (GTK_LIST_BOX (self->stages), pawl_list_line_make_heading (_("No stage is stated: jobs go as the procedure has them.")));
}

static const char *
get_title (const char *word, gpointer data)
{
  const PawlSkill *skill = pawl_crew_lookup_skill (data, word);

  return skill != NULL ? skill->title : word;
}

static void
apply_figures (PawlPeoplePage *self, const PawlCrewMember *member)
{
  const PawlProgress *progress = member->progress;
  GtkWidget *child;

  while ((child = gtk_widget_get_first_child (self->figures)) != NULL)
    gtk_box_remove (GTK_BOX (self->figures), child);
  gtk_widget_show (self->figures);
  pawl_pairs_view_append (self->figures, progress, get_title, self->crew);
  pawl_found_view_append (self->figures, progress);
  gtk_widget_set_visible (self->figures, gtk_widget_get_first_child (self->figures) != NULL);
}

/* "sense: alone", or the rules that were changed. (transfer full) */
static char *
describe_stated (PawlPeoplePage *self, const PawlEntry *entry)
{
  const char *word = pawl_entry_get (entry, "skill"), *clean_run = pawl_entry_get (entry, "clean-run"), *name = pawl_entry_get (entry, "stage");
  const PawlSkill *skill = word != NULL ? pawl_crew_lookup_skill (self->crew, word) : NULL;
  g_autofree char *title = skill != NULL ? pawl_skill_describe (skill) : g_strdup (word != NULL ? word : "");
  PawlStage stage;

  if (clean_run != NULL)
    return g_strdup_printf (_("%s clean jobs in a row until more is suggested"), clean_run);
  if (name == NULL || !pawl_stage_from_name (name, &stage))
    return g_strdup ("");
  return *title != '\0' ? g_strdup_printf (_("%s: %s"), title, pawl_stage_get_words (stage))
                        : g_strdup_printf (_("What follows from “%s” was changed"), pawl_stage_get_words (stage));
}

static void
apply_life (PawlPeoplePage *self, const PawlCrewMember *member)
{
  GPtrArray *entries = member->stages->entries;

  pawl_list_line_clear (GTK_LIST_BOX (self->life));
  for (guint i = entries->len; i > 0; i--)
    {
      const PawlEntry *entry = entries->pdata[i - 1];
      GtkWidget *line = pawl_list_line_new ();
      g_autofree char *day = g_date_time_format (pawl_entry_peek_at (entry), "%Y-%m-%d"), *what = describe_stated (self, entry);
      g_autofree char *title = g_strdup_printf ("%s  %s", day, what);
      const char *reason = pawl_entry_get (entry, "reason");

      pawl_list_line_append (line, title, NULL);
      pawl_list_line_append (line, reason, "secondary");
      pawl_list_line_append_end (line, pawl_entry_get_person (entry), "secondary");
      gtk_list_box_append (GTK_LIST_BOX (self->life), pawl_list_line_wrap (line, title, reason != NULL ? reason : ""));
    }
  gtk_widget_set_visible (self->life, entries->len > 0);
  gtk_widget_set_visible (self->life_title, entries->len > 0);
}

static void
apply_member (PawlPeoplePage *self)
{
  const PawlCrewMember *member = get_member (self);
  g_autofree char *facts = NULL;
  gboolean is_here;

  if (member == NULL)
    return;
  facts = pawl_crew_member_describe (member);
  is_here = member->person != NULL && !member->person->is_retired;
  gtk_label_set_label (GTK_LABEL (self->title), member->name);
  set_text (self->facts, facts);
  gtk_widget_set_visible (self->act_stage, self->is_proved && is_here);
  gtk_widget_set_visible (self->act_rules, self->is_proved && is_here);
  gtk_widget_set_visible (self->act_pin, is_here);
  gtk_button_set_label (GTK_BUTTON (self->act_pin), is_here && member->person->has_pin ? _("Change the PIN…") : _("Set a PIN…"));
  gtk_widget_set_visible (self->act_role, self->is_proved && member->person != NULL);
  gtk_widget_set_visible (self->act_leave, is_here);
  apply_follows (self, member);
  apply_stages (self, member);
  apply_figures (self, member);
  apply_life (self, member);
}

/* ---- what is known ---- */

static void
apply_all (PawlPeoplePage *self)
{
  list_skills (self);
  apply_list (self);
  apply_member (self);
}

static void
loaded_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  PawlPeoplePage *self = PAWL_PEOPLE_PAGE (source);
  g_autoptr(GError) error = NULL;
  PawlCrew *crew = pawl_record_work_finish (result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return;
  if (crew == NULL)
    {
      say (self, error);
      return;
    }
  g_clear_pointer (&self->crew, pawl_crew_free);
  self->crew = crew;
  if (!g_str_equal (gtk_stack_get_visible_child_name (GTK_STACK (self->stack)), "form")) /* its choices stand on what is there */
    apply_all (self);
}

static gpointer
fold_crew (PawlRecord *record, GError **error)
{
  return pawl_crew_load_with_jobs (record, error);
}

static void
forget (PawlPeoplePage *self)
{
  g_cancellable_cancel (self->cancellable);
  g_clear_object (&self->cancellable);
  g_clear_pointer (&self->crew, pawl_crew_free);
}

/* Names and stages at once, and how far the jobs speak for the next stage when they are folded. */
static void
load (PawlPeoplePage *self)
{
  g_autoptr(GError) error = NULL;

  forget (self);
  if (self->record != NULL)
    self->crew = pawl_crew_load (self->record, &error);
  say (self, error);
  apply_all (self);
  if (self->crew == NULL)
    return;
  self->cancellable = g_cancellable_new ();
  pawl_record_work_start (GTK_WIDGET (self), self->record, fold_crew, (GDestroyNotify) pawl_crew_free, self->cancellable, loaded_cb, NULL);
}

/* ---- who sees what ---- */

/* As long as nobody trains here there is nobody to keep anything from. */
static gboolean
has_trainer (PawlPeoplePage *self)
{
  g_autoptr(GPtrArray) trainers = self->record != NULL ? pawl_trainers_list (self->record, FALSE, NULL) : NULL;

  return trainers != NULL && trainers->len > 0;
}

/* Whoever trains and is at the bench is meant; else one of those who can prove it. */
static void
ask_who_it_is (PawlPeoplePage *self)
{
  g_autoptr(GPtrArray) trainers = self->record != NULL ? pawl_trainers_list (self->record, TRUE, NULL) : NULL;
  g_autoptr(GtkStringList) names = gtk_string_list_new (NULL);
  gboolean needs_pin = FALSE, may_see_all = self->record != NULL && pawl_trainer_may_see_all (self->record, self->person, &needs_pin);
  guint chosen = 0, n = trainers != NULL ? trainers->len : 0;

  for (guint i = 0; i < n; i++)
    {
      const char *name = ((PawlPerson *) trainers->pdata[i])->name;

      if (g_str_equal (name, self->person))
        chosen = i;
      gtk_string_list_append (names, name);
    }
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->trainer), G_LIST_MODEL (names));
  gtk_drop_down_set_selected (GTK_DROP_DOWN (self->trainer), chosen);
  self->is_proved = (may_see_all && !needs_pin) || !has_trainer (self);
  gtk_editable_set_text (GTK_EDITABLE (self->pin), "");
  gtk_widget_set_visible (self->proof, !self->is_proved && n > 0);
}

static void
pin_activate_cb (GtkPasswordEntry *entry, PawlPeoplePage *self)
{
  g_autoptr(GError) error = NULL;
  GtkStringObject *trainer = gtk_drop_down_get_selected_item (GTK_DROP_DOWN (self->trainer));

  if (self->record == NULL || trainer == NULL)
    return;
  self->is_proved = pawl_people_check_pin (self->record, gtk_string_object_get_string (trainer), gtk_editable_get_text (GTK_EDITABLE (entry)), &error);
  gtk_editable_set_text (GTK_EDITABLE (entry), "");
  say (self, error);
  if (!self->is_proved)
    return;
  gtk_widget_hide (self->proof);
  apply_all (self);
  pawl_people_page_go (self);
}

void
pawl_people_page_apply (PawlPeoplePage *self, PawlRecord *record, const char *person)
{
  g_set_object (&self->record, record);
  g_free (self->person);
  self->person = g_strdup (person);
  pawl_field_form_close (PAWL_FIELD_FORM (self->form));
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
  ask_who_it_is (self);
  load (self);
}

/* ---- going about ---- */

static const char *
get_shown (PawlPeoplePage *self)
{
  return gtk_stack_get_visible_child_name (GTK_STACK (self->stack));
}

void
pawl_people_page_go (PawlPeoplePage *self)
{
  GtkListBoxRow *row = gtk_list_box_get_row_at_index (GTK_LIST_BOX (self->list), 0);

  if (g_str_equal (get_shown (self), "form"))
    pawl_field_form_go (PAWL_FIELD_FORM (self->form));
  else if (g_str_equal (get_shown (self), "person"))
    gtk_widget_child_focus (self->stack, GTK_DIR_TAB_FORWARD);
  else if (gtk_widget_get_visible (self->proof))
    gtk_widget_grab_focus (self->pin);
  else
    gtk_widget_grab_focus (row != NULL ? GTK_WIDGET (row) : self->add);
}

static void
show (PawlPeoplePage *self, const char *page)
{
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), page);
  pawl_people_page_go (self);
}

static void
row_activated_cb (GtkListBox *list, GtkListBoxRow *row, PawlPeoplePage *self)
{
  g_free (self->chosen);
  self->chosen = g_strdup (g_object_get_data (G_OBJECT (row), "name"));
  apply_member (self);
  show (self, "person");
}

static void
back_cb (GtkWidget *button, PawlPeoplePage *self)
{
  show (self, "list");
}

/* ---- the form ---- */

static PawlPeopleScene
make_scene (PawlPeoplePage *self)
{
  return (PawlPeopleScene) { self->record, self->crew, self->act != PAWL_PEOPLE_ADD ? get_member (self) : NULL, self->person };
}

static void
open_form (PawlPeoplePage *self, PawlPeopleAct act)
{
  PawlPeopleScene scene;

  self->act = act;
  scene = make_scene (self);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "form");
  pawl_people_act_open (PAWL_FIELD_FORM (self->form), act, &scene);
}

static void add_cb (GtkWidget *button, PawlPeoplePage *self)   { open_form (self, PAWL_PEOPLE_ADD); }
static void stage_cb (GtkWidget *button, PawlPeoplePage *self) { open_form (self, PAWL_PEOPLE_STAGE); }
static void rules_cb (GtkWidget *button, PawlPeoplePage *self) { open_form (self, PAWL_PEOPLE_RULES); }
static void set_pin_cb (GtkWidget *button, PawlPeoplePage *self) { open_form (self, PAWL_PEOPLE_PIN); }
static void role_cb (GtkWidget *button, PawlPeoplePage *self)  { open_form (self, PAWL_PEOPLE_ROLE); }
static void leave_cb (GtkWidget *button, PawlPeoplePage *self) { open_form (self, PAWL_PEOPLE_LEAVE); }

static void
form_chosen_cb (PawlFieldForm *form, const char *id, PawlPeoplePage *self)
{
  PawlPeopleScene scene = make_scene (self);

  pawl_people_act_choose (form, self->act, id, &scene);
}

static void
form_left_cb (PawlFieldForm *form, PawlPeoplePage *self)
{
  apply_all (self);
  show (self, get_member (self) != NULL && self->act != PAWL_PEOPLE_ADD ? "person" : "list");
}

/* A PIN or a role may have changed what whoever is at the bench may see; but who saw it already goes on seeing it. */
static void
form_answered_cb (PawlFieldForm *form, PawlPeoplePage *self)
{
  PawlPeopleScene scene = make_scene (self);
  g_autoptr(GError) error = NULL;
  g_autofree char *name = pawl_people_act_take (form, self->act, &scene, &error);

  if (name == NULL)
    {
      pawl_field_form_say (form, error->message);
      return;
    }
  pawl_field_form_close (form);
  g_free (self->chosen);
  self->chosen = g_steal_pointer (&name);
  gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "person");
  load (self);
  if (get_member (self) == NULL || !may_see (self, get_member (self)))
    gtk_stack_set_visible_child_name (GTK_STACK (self->stack), "list");
  pawl_people_page_go (self);
}

static gboolean
escape_cb (GtkWidget *widget, GVariant *arguments, gpointer data)
{
  PawlPeoplePage *self = PAWL_PEOPLE_PAGE (widget);

  if (!g_str_equal (get_shown (self), "person"))
    return FALSE;
  show (self, "list");
  return TRUE;
}

/* ---- widget ---- */

static void
pawl_people_page_dispose (GObject *object)
{
  PawlPeoplePage *self = PAWL_PEOPLE_PAGE (object);

  forget (self);
  g_clear_pointer (&self->stack, gtk_widget_unparent);
  g_clear_object (&self->record);
  G_OBJECT_CLASS (pawl_people_page_parent_class)->dispose (object);
}

static void
pawl_people_page_finalize (GObject *object)
{
  PawlPeoplePage *self = PAWL_PEOPLE_PAGE (object);

  g_free (self->person);
  g_free (self->chosen);
  G_OBJECT_CLASS (pawl_people_page_parent_class)->finalize (object);
}

#define BIND(child) gtk_widget_class_bind_template_child (widget_class, PawlPeoplePage, child)
#define BIND_CALLBACK(callback) gtk_widget_class_bind_template_callback (widget_class, callback)

static void
bind_children (GtkWidgetClass *widget_class)
{
  BIND (stack);
  BIND (add);
  BIND (skill);
  BIND (proof);
  BIND (trainer);
  BIND (pin);
  BIND (problem);
  BIND (empty);
  BIND (list);
  BIND (title);
  BIND (facts);
  BIND (act_stage);
  BIND (act_rules);
  BIND (act_pin);
  BIND (act_role);
  BIND (act_leave);
  BIND (follows);
  BIND (stages);
  BIND (figures);
  BIND (life_title);
  BIND (life);
  BIND (form);
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
  BIND_CALLBACK (skill_chosen_cb);
  BIND_CALLBACK (pin_activate_cb);
  BIND_CALLBACK (row_activated_cb);
  BIND_CALLBACK (back_cb);
  BIND_CALLBACK (add_cb);
  BIND_CALLBACK (stage_cb);
  BIND_CALLBACK (rules_cb);
  BIND_CALLBACK (set_pin_cb);
  BIND_CALLBACK (role_cb);
  BIND_CALLBACK (leave_cb);
  BIND_CALLBACK (form_chosen_cb);
  BIND_CALLBACK (form_left_cb);
  BIND_CALLBACK (form_answered_cb);
}

#undef BIND
#undef BIND_CALLBACK

static void
pawl_people_page_class_init (PawlPeoplePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = pawl_people_page_dispose;
  G_OBJECT_CLASS (klass)->finalize = pawl_people_page_finalize;
  g_type_ensure (PAWL_TYPE_FIELD_FORM);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/pawl/Pawl/pawl-people-page.ui");
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  bind_children (widget_class);
  bind_callbacks (widget_class);
  gtk_widget_class_add_binding (widget_class, GDK_KEY_Escape, 0, escape_cb, NULL);
}

static void
pawl_people_page_init (PawlPeoplePage *self)
{
  self->person = g_strdup ("");
  self->chosen = g_strdup ("");
  gtk_widget_init_template (GTK_WIDGET (self));
}
