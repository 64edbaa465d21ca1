#include "app/pawl-trainer-fields.h"

#include <glib/gi18n.h>

#define NAME "trainer"
#define PIN "trainer-pin"
#define PROVED "pawl-proved-trainer" /* data of the form */

GPtrArray *
pawl_trainers_list (PawlRecord *record, gboolean needs_pin, GError **error)
{
  GPtrArray *people = pawl_people_list (record, error);

  for (guint i = people != NULL ? people->len : 0; i > 0; i--)
    {
      const PawlPerson *person = people->pdata[i - 1];

      if (person->is_retired || !pawl_role_trains (person->role) || (needs_pin && !person->has_pin))
        g_ptr_array_remove_index (people, i - 1);
    }
  return people;
}

void
pawl_trainer_fields_add (PawlFieldForm *form, PawlRecord *record, const char *label, const char *person)
{
  g_autoptr(GPtrArray) trainers = pawl_trainers_list (record, TRUE, NULL);
  g_autoptr(GPtrArray) names = g_ptr_array_new ();
  guint chosen = 0;

  g_object_set_data (G_OBJECT (form), PROVED, NULL);
  for (guint i = 0; trainers != NULL && i < trainers->len; i++)
    {
      char *name = ((PawlPerson *) trainers->pdata[i])->name;

      if (g_strcmp0 (name, person) == 0)
        chosen = i;
      g_ptr_array_add (names, name);
    }
  if (names->len == 0)
    {
      pawl_field_form_add_text (form, _("Nobody in the list of people trains here and has a PIN. Put a trainer in on the page “People” first."), "strong");
      return;
    }
  g_ptr_array_add (names, NULL);
  pawl_field_form_add_choice (form, NAME, label, (const char * const *) names->pdata);
  pawl_field_form_set_choice (form, NAME, chosen);
  pawl_field_form_add_pin (form, PIN, _("Their PIN"));
}

void
pawl_trainer_fields_set_shown (PawlFieldForm *form, gboolean is_shown)
{
  pawl_field_form_set_shown (form, NAME, is_shown);
  pawl_field_form_set_shown (form, PIN, is_shown);
}

char *
pawl_trainer_fields_prove (PawlFieldForm *form, PawlRecord *record, GError **error)
{
  const char *proved = g_object_get_data (G_OBJECT (form), PROVED), *name = pawl_field_form_get (form, NAME), *pin = pawl_field_form_get (form, PIN);

  if (proved != NULL)
    return g_strdup (proved);
  if (*name == '\0')
    {
      g_set_error_literal (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN, _("this needs somebody who trains, with a PIN, in the list of people"));
      return NULL;
    }
  if (*pin == '\0')
    {
      g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_WRONG_PIN, _("this needs the PIN of %s"), name);
      return NULL;
    }
  if (!pawl_people_check_pin (record, name, pin, error))
    return NULL;
  g_object_set_data_full (G_OBJECT (form), PROVED, g_strdup (name), g_free);
  pawl_field_form_set_shown (form, PIN, FALSE);
  pawl_field_form_set_shown (form, NAME, FALSE);
  return g_strdup (name);
}

gboolean
pawl_trainer_may_see_all (PawlRecord *record, const char *person, gboolean *needs_pin)
{
  g_autoptr(PawlPerson) found = *person != '\0' ? pawl_people_lookup (record, person, NULL) : NULL;
  gboolean may = found != NULL && !found->is_retired && pawl_role_trains (found->role);

  *needs_pin = may && found->has_pin;
  return may;
}
