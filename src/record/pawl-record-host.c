#include "record/pawl-record.h"

#include <sys/random.h>

static GDateTime *
read_wall_clock (gpointer data)
{
  return g_date_time_new_now_local ();
}

/*
 * A UUID of version 4 (RFC 4122, section 4.4), its bits from the system. g_uuid_string_random() draws from a generator of this
 * process: two children of one process that had drawn before would go on with the same ids.
 */
static char *
make_random_id (gpointer data)
{
  guint8 b[16];

  /* Up to 256 bytes come whole; a kernel without the call is older than the floor. */
  if (getrandom (b, sizeof b, 0) != sizeof b)
    return g_uuid_string_random ();

  b[6] = (b[6] & 0x0f) | 0x40;
  b[8] = (b[8] & 0x3f) | 0x80;
  return g_strdup_printf ("%02x%02x%02x%02x-%02x%02x-%02x%02x-%02x%02x-%02x%02x%02x%02x%02x%02x",
                          b[0], b[1], b[2], b[3], b[4], b[5], b[6], b[7], b[8], b[9], b[10], b[11], b[12], b[13], b[14], b[15]);
}

/**
 * pawl_record_host_get_system:
 *
 * Returns: (transfer none): the wall clock in the local time zone, and random UUIDs in lower case
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
