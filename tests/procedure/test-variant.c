/* Variants: sets of which one each applies, and what a serial number says. */
#include "procedure/pawl-variant.h"

#include "procedure/pawl-reader.h"

static const char text[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='v' revision='1' xml:lang='en'><title>V</title><unit>V, invented</unit><author>Pawl</author>"
  "<licence>CC0-1.0</licence><verified how='on-paper'/><attended>1 h</attended>"
  "<variants name='Rotation'><variant id='cw' name='Clockwise'/><variant id='ccw' name='Anticlockwise'/></variants>"
  "<variants name='Build' by='serial'><variant id='early' name='To serial 1199' to='1199'/><variant id='middle' name='1200 to 2000' from='1200' to='2000'/>"
  "<variant id='late' name='From serial 2001' from='2001'/></variants>"
  "<tools><none/></tools><supplies><none/></supplies><cautions><none/></cautions><parts><part id='a' item='1' name='A' stays='yes'/></parts>"
  "<phase id='all' title='All'><step id='s'><do>Do it.</do></step></phase></procedure>";

static PawlProcedure *
load (void)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (text, sizeof text - 1);
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure = pawl_procedure_load_bytes (bytes, "v.xml", NULL, &error);

  g_assert_no_error (error);
  return procedure;
}

static void
test_matches (void)
{
  static const struct { const char *of, *variant; gboolean is_right; } rows[] = {
    { NULL, NULL, TRUE }, { NULL, "cw late", TRUE }, { "", "cw", TRUE }, { "cw", "cw", TRUE }, { "cw", "late cw", TRUE }, { "cw late", "cw late", TRUE },
    { "late cw", "cw late", TRUE }, { "cw late", "cw early", FALSE }, { "cw", "ccw", FALSE }, { "cw", "", FALSE }, { "cw", NULL, FALSE }, { "c", "cw", FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_cmpint (pawl_variant_matches (rows[i].of, rows[i].variant), ==, rows[i].is_right);
}

static void
test_sets (void)
{
  g_autoptr(PawlProcedure) procedure = load ();
  g_autoptr(GPtrArray) all = pawl_variant_list_combinations (procedure);
  g_autofree char *first = pawl_variant_dup_first (procedure, "middle ccw"), *none = pawl_variant_dup_first (procedure, "cw ccw");
  g_autofree char *words = pawl_variant_describe (procedure, "late cw");

  g_assert_cmpuint (all->len, ==, 6);
  g_assert_cmpstr (all->pdata[0], ==, "cw early");
  g_assert_cmpstr (all->pdata[5], ==, "ccw late");
  g_assert_cmpstr (first, ==, "ccw middle");
  g_assert_null (none);
  g_assert_cmpstr (words, ==, "Clockwise; From serial 2001");
  g_assert_true (pawl_variant_excludes (procedure, "cw", "ccw late"));
  g_assert_true (pawl_variant_excludes (procedure, "cw early", "cw late"));
  g_assert_false (pawl_variant_excludes (procedure, "cw", "late"));
  g_assert_false (pawl_variant_excludes (procedure, "cw", NULL));
}

static void
test_serial (void)
{
  static const struct { const char *serial, *given, *becomes, *how; } rows[] = {
    { "1199", "cw", "cw early", "Build by the serial number 1199" },
    { "1200", "cw", "cw middle", "Build by the serial number 1200" },
    { "M1-2001 B", "cw", "cw late", "Build by the serial number M1-2001 B" },
    { "none found", "cw", "cw", "" }, { "", "cw", "cw", "" }, { NULL, "", "", "" },
    { "1199", "late ccw", "ccw late", "" }, /* what a person says goes before the number */
    { "12345678901234567890", "cw", "cw", "" }, { "1", "odd", "early odd", "Build by the serial number 1" },
  };
  g_autoptr(PawlProcedure) procedure = load ();

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *how = NULL;
      g_autofree char *variant = pawl_variant_complete (procedure, rows[i].given, rows[i].serial, &how);

      g_assert_cmpstr (variant, ==, rows[i].becomes);
      g_assert_cmpstr (how, ==, rows[i].how);
    }
}

static void
test_check (void)
{
  g_autoptr(PawlProcedure) procedure = load ();
  g_autofree char *unknown = NULL, *twice = NULL, *fine = NULL;

  g_assert_true (pawl_variant_check (procedure, "late cw", &fine));
  g_assert_true (pawl_variant_check (procedure, "", &fine));
  g_assert_false (pawl_variant_check (procedure, "cw lat", &unknown));
  g_assert_cmpstr (unknown, ==, "there is no variant “lat”; it is cw or ccw; and early or middle or late");
  g_assert_false (pawl_variant_check (procedure, "cw ccw", &twice));
  g_assert_cmpstr (twice, ==, "“cw” and “ccw” exclude each other; name one of them");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/procedure/variant/matches", test_matches);
  g_test_add_func ("/procedure/variant/sets", test_sets);
  g_test_add_func ("/procedure/variant/serial", test_serial);
  g_test_add_func ("/procedure/variant/check", test_check);
  return g_test_run ();
}
