#include "record/pawl-record.h"

static GDateTime *
read_wall_clock (gpointer data)
{
  return g_date_time_new_now_local ();
}

static char *
make_random_id (gpointer data)
{
  return g_uuid_string_random ();
}

/**
 * pawl_record_host_get_system:
 *
 * Returns: (transfer none): the wall clock in the local time zone, and random UUIDs
 */
const PawlRecordHost *
pawl_record_host_get_system (void)
{
  static const PawlRecordHost system_host = { .now = read_wall_clock, .new_id = make_random_id };

  return &system_host;
}

/**
 * pawl_record_dup_default_path:
 * @data_home: (nullable): the user's data folder; NULL for that of the XDG base directory specification
 *
 * Returns: (transfer full): where the user's record is kept
 */
char *
pawl_record_dup_default_path (const char *data_home)
{
  return g_build_filename (data_home != NULL ? data_home : g_get_user_data_dir (), "pawl", "record.db", NULL);
}
