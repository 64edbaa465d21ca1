/*
 * A size with the name of its tolerance, where a book gives one: 25 H7 mm, Ø25 mm g6, 12 mm ISO 2768-m.
 *
 *   class-spec = ["Ø"] number [unit] (class | "ISO" "2768" ["-"] letter) [unit]
 */
#include <string.h>

#include "measure/pawl-iso286.h"
#include "measure/pawl-limits-class-private.h"

/* The most that a class takes: two letters and two digits. */
#define CLASS_MAX 5

static gboolean
ends_class (const char *at)
{
  return !g_ascii_isalnum (*at) && (guchar) *at < 0x80;
}

/* "H7": copied into @name. */
static gboolean
take_iso286 (PawlScan *scan, char name[CLASS_MAX])
{
  const char *at = scan->at;
  gsize n_letters, n_digits;

  at += strspn (at, " ");
  for (n_letters = 0; g_ascii_isalpha (at[n_letters]);)
    n_letters++;
  for (n_digits = 0; g_ascii_isdigit (at[n_letters + n_digits]);)
    n_digits++;
  if (n_letters < 1 || n_letters > 2 || n_digits < 1 || n_digits > 2 || !ends_class (at + n_letters + n_digits))
    return FALSE;
  memcpy (name, at, n_letters + n_digits);
  name[n_letters + n_digits] = '\0';
  scan->at = at + n_letters + n_digits;
  return TRUE;
}

/* "ISO 2768-m", also with the letter of its second part, which says nothing of sizes: "ISO 2768-mK" */
static gboolean
take_iso2768 (PawlScan *scan, char name[CLASS_MAX])
{
  PawlScan ahead = *scan;

  if (!pawl_scan_word (&ahead, "iso") || !pawl_scan_signs (&ahead, "2768"))
    return FALSE;
  if (pawl_scan_signs (&ahead, "-1"))
    pawl_scan_spaces (&ahead);
  pawl_scan_signs (&ahead, "-");
  if (*ahead.at == '\0' || strchr ("fmcv", *ahead.at) == NULL)
    return FALSE;
  name[0] = *ahead.at++;
  name[1] = '\0';
  if (*ahead.at != '\0' && strchr ("HKL", *ahead.at) != NULL)
    ahead.at++;
  if (!ends_class (ahead.at))
    return FALSE;
  *scan = ahead;
  return TRUE;
}

static gboolean
take_class (PawlScan *scan, char name[CLASS_MAX])
{
  return take_iso2768 (scan, name) || take_iso286 (scan, name);
}

/* Leaves @scan where it was when no class stands here. */
static gboolean
take_shape (PawlScan *scan, PawlTerm *nominal, char name[CLASS_MAX])
{
  const PawlUnit *mm = pawl_unit_lookup ("mm");
  PawlScan ahead = *scan;

  nominal->start = ahead.at;
  pawl_scan_diameter (&ahead);
  if (!pawl_scan_is_at_number (&ahead) || !pawl_scan_number (&ahead, nominal->value, &nominal->is_fraction, NULL))
    return FALSE;
  nominal->end = ahead.at;
  nominal->unit = NULL;
  if (!take_class (&ahead, name)
      && !(pawl_scan_unit (&ahead, mm, &nominal->unit, NULL) && nominal->unit != NULL && take_class (&ahead, name)))
    return FALSE;
  if (nominal->unit == NULL && !pawl_scan_unit (&ahead, mm, &nominal->unit, NULL))
    return FALSE;
  /* "1 h15 min" has the shape of a class, and is none. */
  if (nominal->unit != NULL && nominal->unit->dimension != PAWL_DIMENSION_LENGTH)
    return FALSE;
  *scan = ahead;
  return TRUE;
}

/* Sizes of the standards are millimetres: a bare number is taken for such only where these are expected anyway. */
static gboolean
settle_nominal (PawlScan *scan, PawlTerm *nominal, const char *name, const PawlTyping *typing, GError **error)
{
  const PawlUnit *expected = typing != NULL ? typing->default_unit : NULL;

  if (nominal->unit == NULL && expected != NULL && expected->dimension == PAWL_DIMENSION_LENGTH && expected->system == PAWL_SYSTEM_METRIC
      && !typing->is_mixed)
    nominal->unit = expected;
  if (nominal->unit != NULL)
    return TRUE;
  return pawl_plain_fault (&scan->plain, nominal->start, error, PAWL_READING_ERROR_AMBIGUOUS,
                           "a size without a unit before a tolerance class; write for example 25 mm %s%s", strlen (name) > 1 ? "" : "ISO 2768-", name);
}

static gboolean
get_deviations (const char *name, const mpq_t nominal_mm, mpq_t lower_mm, mpq_t upper_mm, GError **error)
{
  if (strlen (name) > 1)
    return pawl_iso286_get_deviations (name, nominal_mm, lower_mm, upper_mm, error);
  if (!pawl_iso2768_get_deviation (name[0], nominal_mm, upper_mm, error))
    return FALSE;
  mpq_neg (lower_mm, upper_mm);
  return TRUE;
}

static gboolean
set_deviations (PawlScan *scan, const char *name, const PawlTerm *nominal, PawlTerm *upper, PawlTerm *lower, GError **error)
{
  g_autoptr(GError) why = NULL;
  mpq_t nominal_mm;
  gboolean is_good;

  upper->unit = lower->unit = pawl_unit_lookup ("mm");
  upper->start = lower->start = nominal->start;
  mpq_init (nominal_mm);
  pawl_unit_to_base (nominal->unit, nominal->value, nominal_mm);
  pawl_unit_from_base (upper->unit, nominal_mm, nominal_mm);
  is_good = get_deviations (name, nominal_mm, lower->value, upper->value, &why);
  mpq_clear (nominal_mm);
  return is_good || pawl_plain_fault (&scan->plain, nominal->start, error, why->code, "%s", why->message);
}

gboolean
pawl_scan_size_class (PawlScan *scan, const PawlTyping *typing, PawlTerm *nominal, PawlTerm *upper, PawlTerm *lower, gboolean *is_class,
                      GError **error)
{
  char name[CLASS_MAX];

  *is_class = take_shape (scan, nominal, name);
  if (!*is_class)
    return TRUE;
  if (*scan->at == '/')
    return pawl_scan_fault (scan, error, PAWL_READING_ERROR_BAD_LIMITS,
                            "this is a fit of two parts; limits are for the one that is measured, as in 25 mm H7 for the hole or 25 mm g6 for the shaft");
  return settle_nominal (scan, nominal, name, typing, error) && set_deviations (scan, name, nominal, upper, lower, error);
}
