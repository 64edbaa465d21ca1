#include "record/pawl-people.h"

#include <crypt.h>
#include <string.h>

#include "record/pawl-record-private.h"

G_DEFINE_QUARK (pawl-people-error-quark, pawl_people_error)

#define MAX_NAME_LENGTH 80 /* characters */

static const char LIST_PEOPLE[] =
  "SELECT p.name, p.role, p.is_retired, n.hash IS NOT NULL FROM person p LEFT JOIN pin n ON n.person = p.key ORDER BY p.is_retired, p.key";
static const char LOOK_UP[] =
  "SELECT p.name, p.role, p.is_retired, n.hash IS NOT NULL FROM person p LEFT JOIN pin n ON n.person = p.key WHERE p.key = ?";
static const char ADD_PERSON[] =
  "INSERT INTO person (key, name, role, is_retired) VALUES (?, ?, ?, 0)"
  " ON CONFLICT (key) DO UPDATE SET name = excluded.name, role = excluded.role, is_retired = 0";
static const char RETIRE_PERSON[] = "UPDATE person SET is_retired = 1 WHERE key = ?";
static const char DELETE_PIN[] = "DELETE FROM pin WHERE person = ?";
static const char SET_PIN[] = "INSERT OR REPLACE INTO pin (person, hash, n_wrong, tried_at) VALUES (?, ?, 0, 0)";
static const char LOAD_PIN[] = "SELECT hash, n_wrong, tried_at FROM pin WHERE person = ?";
static const char COUNT_TRY[] = "UPDATE pin SET n_wrong = n_wrong + 1, tried_at = ? WHERE person = ?";
static const char SET_TRIED_AT[] = "UPDATE pin SET tried_at = ? WHERE person = ?";
static const char FORGET_TRIES[] = "UPDATE pin SET n_wrong = 0, tried_at = 0 WHERE person = ? AND hash = ?";

static const char *const ROLE_NAMES[] = {
  [PAWL_ROLE_FITTER] = "fitter",
  [PAWL_ROLE_TRAINER] = "trainer",
  [PAWL_ROLE_CHECKER] = "checker",
  [PAWL_ROLE_OWNER] = "owner",
};

/* ---- roles and names ---- */

const char *
pawl_role_get_name (PawlRole role)
{
  g_return_val_if_fail (role < G_N_ELEMENTS (ROLE_NAMES), NULL);

  return ROLE_NAMES[role];
}

gboolean
pawl_role_from_name (const char *name,
                     PawlRole   *role)
{
  for (guint i = 0; i < G_N_ELEMENTS (ROLE_NAMES); i++)
    if (g_str_equal (ROLE_NAMES[i], name))
      {
        *role = (PawlRole) i;
        return TRUE;
      }

  return FALSE;
}

gboolean
pawl_role_trains (PawlRole role)
{
  return role == PAWL_ROLE_TRAINER || role == PAWL_ROLE_OWNER;
}

/* (transfer full): equal for names that mean the same person. */
static char *
dup_key (const char *name)
{
  g_autofree char *valid = g_utf8_make_valid (name, -1);
  g_autofree char *normal = g_utf8_normalize (g_strstrip (valid), -1, G_NORMALIZE_ALL_COMPOSE);

  return g_utf8_casefold (normal, -1);
}

static gboolean
check_name (const char *name,
            GError    **error)
{
  g_autofree char *key = dup_key (name);

  for (const char *c = key; *c != '\0'; c = g_utf8_next_char (c))
    if (g_unichar_iscntrl (g_utf8_get_char (c)))
      {
        g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_NAME, "a name is one line of text");
        return FALSE;
      }
  if (*key != '\0' && g_utf8_validate (name, -1, NULL) && g_utf8_strlen (key, -1) <= MAX_NAME_LENGTH)
    return TRUE;

  g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_NAME, "a name has 1 to %d characters", MAX_NAME_LENGTH);
  return FALSE;
}

void
pawl_person_free (PawlPerson *self)
{
  g_free (self->name);
  g_free (self);
}

/* ---- the list ---- */

static PawlPerson *
read_person (sqlite3_stmt *statement)
{
  PawlPerson *self = g_new0 (PawlPerson, 1);

  self->name = g_strdup (pawl_statement_get_text (statement, 0));
  if (!pawl_role_from_name (pawl_statement_get_text (statement, 1), &self->role))
    self->role = PAWL_ROLE_FITTER; /* a role of a later Pawl */
  self->is_retired = sqlite3_column_int (statement, 2) != 0;
  self->has_pin = sqlite3_column_int (statement, 3) != 0;
  return self;
}

GPtrArray *
pawl_people_list (PawlRecord *record,
                  GError    **error)
{
  g_autoptr (GPtrArray) people = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_person_free);
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  g_return_val_if_fail (pawl_record_is_usable (record), NULL);

  if (!(statement = pawl_database_prepare (&record->database, error, LIST_PEOPLE, "")))
    return NULL;
  while ((more = pawl_database_step (&record->database, statement, error)) > 0)
    g_ptr_array_add (people, read_person (statement));

  return more == 0 ? g_steal_pointer (&people) : NULL;
}

static gboolean
set_unknown (const char *name,
             GError    **error)
{
  g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_UNKNOWN, "nobody called “%.80s” is in the list of people", name);
  return FALSE;
}

PawlPerson *
pawl_people_lookup (PawlRecord *record,
                    const char *name,
                    GError    **error)
{
  g_autofree char *key = NULL;
  g_autoptr (sqlite3_stmt) statement = NULL;
  int more;

  g_return_val_if_fail (pawl_record_is_usable (record) && name != NULL, NULL);

  key = dup_key (name);
  if (!(statement = pawl_database_prepare (&record->database, error, LOOK_UP, "s", key))
      || (more = pawl_database_step (&record->database, statement, error)) < 0)
    return NULL;
  if (more > 0)
    return read_person (statement);

  set_unknown (name, error);
  return NULL;
}

gboolean
pawl_people_add (PawlRecord *record,
                 const char *name,
                 PawlRole    role,
                 GError    **error)
{
  g_autofree char *key = NULL;
  g_autofree char *plain = NULL;

  g_return_val_if_fail (pawl_record_is_usable (record) && name != NULL, FALSE);
  g_return_val_if_fail (role < G_N_ELEMENTS (ROLE_NAMES), FALSE);

  if (!check_name (name, error) || !pawl_record_check_writable (record, error))
    return FALSE;

  key = dup_key (name);
  plain = g_strstrip (g_strdup (name));
  return pawl_database_execute (&record->database, error, ADD_PERSON, "sss", key, plain, ROLE_NAMES[role]);
}

/* In a transaction: those who may still do something here. */
static gboolean
require_present (PawlRecord *record,
                 const char *name,
                 GError    **error)
{
  g_autoptr (PawlPerson) person = pawl_people_lookup (record, name, error);

  if (person == NULL)
    return FALSE;
  return !person->is_retired || set_unknown (name, error);
}

gboolean
pawl_people_retire (PawlRecord *record,
                    const char *name,
                    GError    **error)
{
  g_autoptr (PawlTransaction) transaction = NULL;
  g_autofree char *key = NULL;

  g_return_val_if_fail (pawl_record_is_usable (record) && name != NULL, FALSE);

  key = dup_key (name);
  return pawl_record_check_writable (record, error)
         && (transaction = pawl_transaction_begin (&record->database, PAWL_TRANSACTION_WRITE, error)) != NULL
         && require_present (record, name, error)
         && pawl_database_execute (&record->database, error, RETIRE_PERSON, "s", key)
         && pawl_database_execute (&record->database, error, DELETE_PIN, "s", key)
         && pawl_transaction_commit (g_steal_pointer (&transaction), error);
}

/* ---- PINs ---- */

/* One digit again and again, or a stair: what is tried first. */
static gboolean
is_easy (const char *pin)
{
  int step = pin[1] - pin[0];

  for (guint i = 1; pin[i] != '\0'; i++)
    if (pin[i] - pin[i - 1] != step)
      return FALSE;
  return step >= -1 && step <= 1;
}

static gboolean
check_pin_form (const char *pin,
                GError    **error)
{
  gsize length = strlen (pin);

  if (strspn (pin, "0123456789") != length || length < PAWL_PIN_MIN_LENGTH || length > PAWL_PIN_MAX_LENGTH)
    g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_PIN, "a PIN has %d to %d digits and nothing else", PAWL_PIN_MIN_LENGTH, PAWL_PIN_MAX_LENGTH);
  else if (is_easy (pin))
    g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_BAD_PIN, "that PIN is what anybody would try first; take one that is no row of digits");
  else
    return TRUE;
  return FALSE;
}

/* (transfer full) (nullable): the hash of @pin by @setting, which is another hash or a fresh salt. */
static char *
hash_pin (const char *pin,
          const char *setting)
{
  g_autofree struct crypt_data *data = g_new0 (struct crypt_data, 1); /* 32 KiB */
  const char *hash = crypt_rn (pin, setting, data, sizeof *data);
  char *copy = g_strdup (hash);

  explicit_bzero (data, sizeof *data);
  return copy;
}

/* yescrypt with the library's own cost and random bytes of the system. */
static char *
dup_new_hash (const char *pin,
              GError    **error)
{
  char salt[CRYPT_GENSALT_OUTPUT_SIZE];
  char *hash = crypt_gensalt_rn ("$y$", 0, NULL, 0, salt, sizeof salt) != NULL ? hash_pin (pin, salt) : NULL;

  if (hash == NULL)
    g_set_error (error, PAWL_RECORD_ERROR, PAWL_RECORD_ERROR_IO, "the PIN can't be hashed: this system's libcrypt has no yescrypt");
  return hash;
}

gboolean
pawl_people_set_pin (PawlRecord *record,
                     const char *name,
                     const char *pin,
                     GError    **error)
{
  g_autoptr (PawlTransaction) transaction = NULL;
  g_autofree char *key = NULL;
  g_autofree char *hash = NULL;

  g_return_val_if_fail (pawl_record_is_usable (record) && name != NULL, FALSE);

  key = dup_key (name);
  if (!pawl_record_check_writable (record, error)
      || (pin != NULL && (!check_pin_form (pin, error) || !(hash = dup_new_hash (pin, error))))
      || !(transaction = pawl_transaction_begin (&record->database, PAWL_TRANSACTION_WRITE, error))
      || !require_present (record, name, error))
    return FALSE;

  return (pin != NULL ? pawl_database_execute (&record->database, error, SET_PIN, "ss", key, hash)
                      : pawl_database_execute (&record->database, error, DELETE_PIN, "s", key))
         && pawl_transaction_commit (g_steal_pointer (&transaction), error);
}

static gint64
get_delay_usec (gint64 n_wrong)
{
  gint64 delay_sec = PAWL_PIN_FIRST_DELAY_SEC;

  if (n_wrong < PAWL_PIN_FREE_TRIES)
    return 0;
  for (gint64 i = PAWL_PIN_FREE_TRIES; i < n_wrong && delay_sec < PAWL_PIN_LONGEST_DELAY_SEC; i++)
    delay_sec *= 2;
  return MIN (delay_sec, PAWL_PIN_LONGEST_DELAY_SEC) * G_USEC_PER_SEC;
}

static gint64
read_clock_usec (PawlRecord *record)
{
  g_autoptr (GDateTime) now = pawl_record_dup_now (record);

  return pawl_time_get_usec (now);
}

/* "5 seconds", "2 minutes": rounded up. */
static char *
describe_wait (gint64 usec)
{
  gint64 sec = (usec + G_USEC_PER_SEC - 1) / G_USEC_PER_SEC;
  gint64 n = sec < 120 ? sec : (sec + 59) / 60;

  return g_strdup_printf ("%" G_GINT64_FORMAT " %s%s", n, sec < 120 ? "second" : "minute", n == 1 ? "" : "s");
}

/*
 * Counts the try, so that it is on disk before the PIN is looked at. @hash: (out) (transfer full): what it has to come to.
 * A clock that was put back would make the wait longer, not shorter: it begins anew then.
 */
static gboolean
count_try (PawlRecord *record,
           const char *name,
           const char *key,
           char      **hash,
           GError    **error)
{
  const PawlDatabase *database = &record->database;
  g_autoptr (PawlTransaction) transaction = NULL;
  g_autoptr (sqlite3_stmt) statement = NULL;
  gint64 now = read_clock_usec (record);
  gint64 tried_at, left;
  int more;

  if (!(transaction = pawl_transaction_begin (database, PAWL_TRANSACTION_WRITE, error)) || !require_present (record, name, error)
      || !(statement = pawl_database_prepare (database, error, LOAD_PIN, "s", key)) || (more = pawl_database_step (database, statement, error)) < 0)
    return FALSE;
  if (more == 0)
    {
      g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_NO_PIN, "%s has no PIN; “pawl people pin” gives one", name);
      return FALSE;
    }

  tried_at = sqlite3_column_int64 (statement, 2);
  left = get_delay_usec (sqlite3_column_int64 (statement, 1)) - MAX (now - tried_at, 0);
  *hash = g_strdup (pawl_statement_get_text (statement, 0));
  g_clear_pointer (&statement, sqlite3_finalize);
  if (left <= 0)
    return pawl_database_execute (database, error, COUNT_TRY, "is", now, key) && pawl_transaction_commit (g_steal_pointer (&transaction), error);

  if (now >= tried_at || (pawl_database_execute (database, error, SET_TRIED_AT, "is", now, key)
                          && pawl_transaction_commit (g_steal_pointer (&transaction), error)))
    {
      g_autofree char *wait = describe_wait (left);

      g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_WAIT, "too many wrong PINs for %s; try again in %s", name, wait);
    }
  return FALSE;
}

/* In a time that does not tell how much of it was right. */
static gboolean
is_equal (const char *a,
          const char *b)
{
  gsize length = strlen (a);
  guint8 difference = 0;

  if (strlen (b) != length)
    return FALSE;
  for (gsize i = 0; i < length; i++)
    difference |= (guint8) (a[i] ^ b[i]);
  return difference == 0;
}

gboolean
pawl_people_check_pin (PawlRecord *record,
                       const char *name,
                       const char *pin,
                       GError    **error)
{
  g_autofree char *key = NULL;
  g_autofree char *hash = NULL;
  g_autofree char *tried = NULL;

  g_return_val_if_fail (pawl_record_is_usable (record) && name != NULL && pin != NULL, FALSE);

  key = dup_key (name);
  if (!pawl_record_check_writable (record, error) || !count_try (record, name, key, &hash, error))
    return FALSE;

  tried = hash_pin (pin, hash);
  if (tried != NULL && is_equal (tried, hash))
    return pawl_database_execute (&record->database, error, FORGET_TRIES, "ss", key, hash);

  g_set_error (error, PAWL_PEOPLE_ERROR, PAWL_PEOPLE_ERROR_WRONG_PIN, "that is not the PIN of %s", name);
  return FALSE;
}
