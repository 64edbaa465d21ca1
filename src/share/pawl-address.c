#include "share/pawl-address.h"

#include "record/pawl-copy.h"
#include "share/pawl-store-sqlite.h"
#ifdef HAVE_POSTGRESQL
#include "share/pawl-postgres.h"
#include "share/pawl-store-postgres.h"
#endif

#define SQLITE "sqlite://"

static gboolean
is_postgres (const char *text)
{
  return g_str_has_prefix (text, "postgresql://") || g_str_has_prefix (text, "postgres://");
}

gboolean
pawl_address_is_one (const char *text)
{
  return is_postgres (text) || g_str_has_prefix (text, SQLITE);
}

#ifndef HAVE_POSTGRESQL
static gboolean
refuse_postgres (GError **error)
{
  g_set_error_literal (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_ADDRESS, "this Pawl was built without PostgreSQL, and can't use a server's record");
  return FALSE;
}
#endif

/* (transfer full): the path in sqlite:///PATH. */
static char *
dup_file (const char *address,
          GError    **error)
{
  g_autofree char *path = g_uri_unescape_string (address + strlen (SQLITE), NULL);

  if (path != NULL && g_path_is_absolute (path))
    return g_steal_pointer (&path);
  g_set_error_literal (error, PAWL_STORE_ERROR, PAWL_STORE_ERROR_ADDRESS, "the address of a shared file is written sqlite:///FOLDER/FILE, from the root on");
  return NULL;
}

PawlStore *
pawl_address_new_store (const char *address,
                        GError    **error)
{
  g_autofree char *path = NULL;

  g_return_val_if_fail (pawl_address_is_one (address), NULL);

  if (is_postgres (address))
#ifdef HAVE_POSTGRESQL
    return pawl_store_postgres_new (address, error);
#else
    {
      refuse_postgres (error);
      return NULL;
    }
#endif
  path = dup_file (address, error);
  return path != NULL ? pawl_store_sqlite_new (path, address) : NULL;
}

static char *
dup_telling (const char *address,
             GError    **error)
{
  if (!is_postgres (address))
    return dup_file (address, error);
#ifdef HAVE_POSTGRESQL
  return pawl_postgres_dup_place (address, error);
#else
  refuse_postgres (error);
  return NULL;
#endif
}

char *
pawl_address_dup_copy_path (const char *address,
                            const char *data_home,
                            GError    **error)
{
  g_autofree char *telling = dup_telling (address, error);
  g_autofree char *digest = telling != NULL ? g_compute_checksum_for_string (G_CHECKSUM_SHA256, telling, -1) : NULL;
  g_autofree char *name = digest != NULL ? g_strdup_printf ("%.16s.db", digest) : NULL;

  return name != NULL ? g_build_filename (data_home != NULL ? data_home : g_get_user_data_dir (), "pawl", "copies", name, NULL) : NULL;
}

PawlRecord *
pawl_address_open_copy (const char           *address,
                        const char           *data_home,
                        PawlRecordOpen        how,
                        const PawlRecordHost *host,
                        GError              **error)
{
  g_autoptr (PawlStore) store = pawl_address_new_store (address, error);
  g_autofree char *path = store != NULL ? pawl_address_dup_copy_path (address, data_home, error) : NULL;
  g_autoptr (PawlRecord) copy = NULL;

  if (path == NULL)
    return NULL;
  if (how == PAWL_RECORD_OPEN_READ_ONLY && g_file_test (path, G_FILE_TEST_EXISTS))
    return pawl_record_open (path, how, host, error);
  if (!(copy = pawl_record_open (path, PAWL_RECORD_OPEN_CREATE, host, error)) || !pawl_copy_begin (copy, pawl_store_get_address (store), error))
    return NULL;
  if (how == PAWL_RECORD_OPEN_CREATE)
    return g_steal_pointer (&copy);

  g_clear_object (&copy);
  return pawl_record_open (path, how, host, error);
}
