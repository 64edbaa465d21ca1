#include "record/pawl-index.h"

#define CLEAR                                                                                                          \
  "DELETE FROM opening; DELETE FROM said; DELETE FROM touched;"                                                   \
  "INSERT INTO said_words (said_words) VALUES ('delete-all');"

#define OPENING "SELECT job, opened, procedure, revision, title, unit, serial, work_order, customer FROM opening"
#define SAID    "SELECT job, entry, place, text FROM said"
#define TOUCHED "SELECT what, name, day, job, n FROM touched"
#define LESS(A, B) "(SELECT count (*) FROM (SELECT * FROM (" A ") EXCEPT SELECT * FROM (" B ")))"

static const char COUNT_MISSING[] =
  "SELECT " LESS (PAWL_SQL_OPENINGS ("true"), OPENING) " + " LESS (PAWL_SQL_SAID ("true"), SAID) " + " LESS (PAWL_SQL_TOUCHED ("true"), TOUCHED);
static const char COUNT_FALSE[] =
  "SELECT " LESS (OPENING, PAWL_SQL_OPENINGS ("true")) " + " LESS (SAID, PAWL_SQL_SAID ("true")) " + " LESS (TOUCHED, PAWL_SQL_TOUCHED ("true"));

gboolean
pawl_index_rebuild (const PawlDatabase *database,
                    GError            **error)
{
  return pawl_database_run (database, CLEAR PAWL_SQL_ADD_ALL ("true"), error);
}

gboolean
pawl_index_compare (const PawlDatabase *database,
                    gint64             *n_missing,
                    gint64             *n_false,
                    GError            **error)
{
  return pawl_database_query_int (database, COUNT_MISSING, n_missing, error)
         && pawl_database_query_int (database, COUNT_FALSE, n_false, error);
}
