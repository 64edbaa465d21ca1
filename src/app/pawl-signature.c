#include "app/pawl-signature.h"

#include "record/pawl-people.h"

static gboolean
prove (PawlPromptForm *form, PawlRecord *record, PawlEntry *entry, const PawlPerson *person, GError **error)
{
  const char *pin = pawl_prompt_form_peek_pin (form);

  if (pin == NULL)
    {
      pawl_prompt_form_ask_pin (form, person->name);
      return FALSE;
    }
  if (!pawl_people_check_pin (record, person->name, pin, error))
    {
      pawl_prompt_form_ask_pin (form, person->name);
      return FALSE;
    }
  pawl_entry_set (entry, "by-pin", "yes");
  return TRUE;
}

gboolean
pawl_signature_prove (PawlPromptForm *form, PawlRecord *record, PawlEntry *entry)
{
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlPerson) person = pawl_people_lookup (record, pawl_entry_get_person (entry), &error);
  gboolean is_listed = person != NULL && !person->is_retired;

  if (!is_listed && (error == NULL || g_error_matches (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN)))
    return TRUE;
  if (is_listed && pawl_entry_get_kind (entry) == PAWL_ENTRY_RELEASED)
    pawl_entry_set (entry, "role", pawl_role_get_name (person->role));
  if (is_listed && (!person->has_pin || prove (form, record, entry, person, &error)))
    return TRUE;
  if (error != NULL)
    pawl_prompt_form_say (form, error->message);
  return FALSE;
}
