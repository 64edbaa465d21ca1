#include "procedure/pawl-variant.h"

#include <string.h>

#include "procedure/pawl-procedure-private.h"

#define MOST_COMBINATIONS 200

static char **
split (const char *variant)
{
  g_autofree char *stripped = g_strstrip (g_strdup (variant != NULL ? variant : ""));

  return g_strsplit (stripped, " ", -1);
}

gboolean
pawl_variant_matches (const char *of, const char *variant)
{
  g_auto(GStrv) wanted = split (of), given = split (variant);

  for (char **id = wanted; *id != NULL; id++)
    if (**id != '\0' && !g_strv_contains ((const char * const *) given, *id))
      return FALSE;
  return TRUE;
}

static const PawlVariant *
find (PawlProcedure *procedure, const char *id)
{
  for (guint i = 0; i < procedure->variants->len; i++)
    if (strcmp (((PawlVariant *) procedure->variants->pdata[i])->id, id) == 0)
      return procedure->variants->pdata[i];
  return NULL;
}

/* (nullable): the first of @ids that is of this set. */
static const PawlVariant *
find_of_set (PawlProcedure *procedure, char **ids, guint set)
{
  for (; *ids != NULL; ids++)
    {
      const PawlVariant *variant = find (procedure, *ids);

      if (variant != NULL && variant->set == set)
        return variant;
    }
  return NULL;
}

gboolean
pawl_variant_excludes (PawlProcedure *procedure, const char *a, const char *b)
{
  g_auto(GStrv) left = split (a), right = split (b);

  for (guint set = 0; set < procedure->variant_sets->len; set++)
    {
      const PawlVariant *one = find_of_set (procedure, left, set), *other = find_of_set (procedure, right, set);

      if (one != NULL && other != NULL && one != other)
        return TRUE;
    }
  return FALSE;
}

GPtrArray *
pawl_variant_list_combinations (PawlProcedure *procedure)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);

  g_ptr_array_add (list, g_strdup (""));
  for (guint set = 0; set < procedure->variant_sets->len; set++)
    {
      GPtrArray *longer = g_ptr_array_new_with_free_func (g_free);

      for (guint i = 0; i < list->len; i++)
        for (guint j = 0; j < procedure->variants->len && longer->len < MOST_COMBINATIONS; j++)
          {
            const PawlVariant *variant = procedure->variants->pdata[j];
            const char *before = list->pdata[i];

            if (variant->set == set)
              g_ptr_array_add (longer, g_strdup_printf ("%s%s%s", before, *before != '\0' ? " " : "", variant->id));
          }
      g_ptr_array_unref (list);
      list = longer;
    }
  return list;
}

char *
pawl_variant_dup_first (PawlProcedure *procedure, const char *of)
{
  g_autoptr(GPtrArray) all = pawl_variant_list_combinations (procedure);

  for (guint i = 0; i < all->len; i++)
    if (pawl_variant_matches (of, all->pdata[i]))
      return g_strdup (all->pdata[i]);
  return NULL;
}

char *
pawl_variant_describe (PawlProcedure *procedure, const char *variant)
{
  g_auto(GStrv) ids = split (variant);
  GString *text = g_string_new (NULL);

  for (guint set = 0; set < procedure->variant_sets->len; set++)
    {
      const PawlVariant *one = find_of_set (procedure, ids, set);

      if (one != NULL)
        g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", one->name);
    }
  for (char **id = ids; *id != NULL; id++)
    if (**id != '\0' && find (procedure, *id) == NULL)
      g_string_append_printf (text, "%s%s", text->len > 0 ? "; " : "", *id);
  return g_string_free (text, FALSE);
}

/* ---- by serial number ---- */

/* "M1-1407 B" is number 1407: letters round it tell other things. Too long a number says nothing. */
static gboolean
read_serial (const char *serial, guint64 *number)
{
  const char *from = NULL;
  char *end;
  size_t length = serial != NULL ? strlen (serial) : 0;

  for (size_t i = length; i > 0; i--)
    if (g_ascii_isdigit (serial[i - 1]))
      from = serial + i - 1;
    else if (from != NULL)
      break;
  if (from == NULL)
    return FALSE;
  *number = g_ascii_strtoull (from, &end, 10);
  return end - from <= 18;
}

const PawlVariant *
pawl_variant_find_by_serial (PawlProcedure *procedure, guint set, const char *serial)
{
  guint64 number;

  g_return_val_if_fail (set < procedure->variant_sets->len, NULL);

  if (!((PawlVariantSet *) procedure->variant_sets->pdata[set])->is_by_serial || !read_serial (serial, &number))
    return NULL;
  for (guint i = 0; i < procedure->variants->len; i++)
    {
      const PawlVariant *variant = procedure->variants->pdata[i];

      if (variant->set == set && number >= variant->from && (variant->to == 0 || number <= variant->to))
        return variant;
    }
  return NULL;
}

char *
pawl_variant_complete (PawlProcedure *procedure, const char *variant, const char *serial, char **how)
{
  g_auto(GStrv) ids = split (variant);
  GString *text = g_string_new (NULL), *why = g_string_new (NULL);

  for (guint set = 0; set < procedure->variant_sets->len; set++)
    {
      const PawlVariant *given = find_of_set (procedure, ids, set);
      const PawlVariant *one = given != NULL ? given : pawl_variant_find_by_serial (procedure, set, serial);

      if (one != NULL)
        g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", one->id);
      if (one != NULL && given == NULL)
        {
          const PawlVariantSet *of = procedure->variant_sets->pdata[set];

          g_string_append_printf (why, "%s%s by the serial number %s", why->len > 0 ? "; " : "", *of->name != '\0' ? of->name : one->name, serial);
        }
    }
  /* What the procedure does not know stays, to be refused or shown as it was said. */
  for (char **id = ids; *id != NULL; id++)
    if (**id != '\0' && find (procedure, *id) == NULL)
      g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", *id);
  if (how != NULL)
    *how = g_string_free (g_steal_pointer (&why), FALSE);
  else
    g_string_free (g_steal_pointer (&why), TRUE);
  return g_string_free (text, FALSE);
}

static char *
list_ids (PawlProcedure *procedure, guint set)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < procedure->variants->len; i++)
    if (((PawlVariant *) procedure->variants->pdata[i])->set == set)
      g_string_append_printf (text, "%s%s", text->len > 0 ? " or " : "", ((PawlVariant *) procedure->variants->pdata[i])->id);
  return g_string_free (text, FALSE);
}

static char *
list_all (PawlProcedure *procedure)
{
  GString *text = g_string_new (NULL);

  for (guint set = 0; set < procedure->variant_sets->len; set++)
    {
      g_autofree char *ids = list_ids (procedure, set);

      g_string_append_printf (text, "%s%s", set > 0 ? "; and " : "", ids);
    }
  return g_string_free (text, FALSE);
}

gboolean
pawl_variant_check (PawlProcedure *procedure, const char *variant, char **problem)
{
  g_auto(GStrv) ids = split (variant);

  for (char **id = ids; *id != NULL; id++)
    {
      const PawlVariant *one = **id != '\0' ? find (procedure, *id) : NULL;
      const PawlVariant *first = one != NULL ? find_of_set (procedure, ids, one->set) : NULL;
      g_autofree char *choice = NULL;

      if (**id != '\0' && one == NULL)
        {
          choice = list_all (procedure);
          *problem = *choice != '\0' ? g_strdup_printf ("there is no variant “%s”; it is %s", *id, choice)
                                     : g_strdup_printf ("there is no variant “%s”: this procedure has none", *id);
          return FALSE;
        }
      if (one != first)
        {
          *problem = g_strdup_printf ("“%s” and “%s” exclude each other; name one of them", first->id, one->id);
          return FALSE;
        }
    }
  return TRUE;
}

PawlLimits *
pawl_variant_peek_limits (const PawlReading *reading, const char *variant)
{
  for (guint i = 0; i < reading->by_variant->len; i++)
    {
      const PawlVariantLimits *one = reading->by_variant->pdata[i];

      if (pawl_variant_matches (one->variant, variant))
        return one->limits;
    }
  return NULL;
}
