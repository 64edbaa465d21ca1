/* What precedes what, and what each step covers. */
#include <string.h>

#include "procedure/pawl-order.h"
#include "snippet.h"

/* Ids parted by spaces. (transfer full) */
static char *
join_steps (GPtrArray *steps)
{
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < steps->len; i++)
    g_string_append_printf (text, "%s%s", i == 0 ? "" : " ", ((const PawlStep *) g_ptr_array_index (steps, i))->id);
  return g_string_free (text, FALSE);
}

static void
assert_needs (PawlProcedure *procedure, const char *step, const char *wanted)
{
  g_autoptr(GPtrArray) needs = pawl_order_list_needs (procedure, pawl_procedure_lookup_step (procedure, step));
  g_autofree char *text = join_steps (needs);

  g_assert_cmpstr (text, ==, wanted);
}

static void
assert_followers (PawlProcedure *procedure, const char *step, const char *wanted)
{
  g_autoptr(GPtrArray) followers = pawl_order_list_followers (procedure, pawl_procedure_lookup_step (procedure, step));
  g_autofree char *text = join_steps (followers);

  g_assert_cmpstr (text, ==, wanted);
}

static void
assert_covered (PawlProcedure *procedure, const char *step, const char *wanted)
{
  g_autoptr(GPtrArray) covered = pawl_order_list_covered (procedure, pawl_procedure_lookup_step (procedure, step));
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < covered->len; i++)
    g_string_append_printf (text, "%s%s", i == 0 ? "" : " ", ((const PawlAsk *) g_ptr_array_index (covered, i))->id);
  g_assert_cmpstr (text->str, ==, wanted);
  g_string_free (text, TRUE);
}

static void
assert_cycle (PawlProcedure *procedure, const char *wanted)
{
  g_autoptr(GPtrArray) cycle = pawl_order_find_cycle (procedure);
  g_autofree char *text = cycle != NULL ? join_steps (cycle) : NULL;

  g_assert_cmpstr (text, ==, wanted);
}

/* A stated need given twice, and one that the parts require as well, counts once. */
static void
test_stated (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (
    "<step id='off' remove='a'><do>Off.</do></step>\n"
    "<step id='wash' needs='off off'><do>Wash.</do></step>\n"
    "<step id='on' needs='wash off nowhere' install='a'><do>On.</do></step>\n");

  assert_needs (procedure, "off", "");
  assert_needs (procedure, "wash", "off");
  assert_needs (procedure, "on", "off wash");
  assert_followers (procedure, "off", "wash on");
  assert_followers (procedure, "on", "");
  assert_cycle (procedure, NULL);
}

/* Comes off, is tried on, comes off, goes on for good: each waits for the one before it, and for no other. */
static void
test_runs (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (
    "<step id='off' remove='a'><do>Off.</do></step>\n"
    "<step id='try' install='a'><do>Try.</do></step>\n"
    "<step id='off-again' remove='a'><do>Off again.</do></step>\n"
    "<step id='on' install='a'><do>On.</do></step>\n");

  assert_needs (procedure, "try", "off");
  assert_needs (procedure, "off-again", "try");
  assert_needs (procedure, "on", "off-again");
  assert_followers (procedure, "off", "try off-again on");
}

/* Two ways to take it off, one for each variant: whichever was done, the installation waits for it. */
static void
test_variants (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (
    "<step id='off-rh' variant='rh' remove='a'><do>Off.</do></step>\n"
    "<step id='off-lh' variant='lh' remove='a'><do>Off.</do></step>\n"
    "<step id='on' install='a'><do>On.</do></step>\n");

  assert_needs (procedure, "on", "off-rh off-lh");
}

static void
test_swapped (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (
    "<step id='on' install='a'><do>On.</do></step>\n"
    "<step id='off' remove='a'><do>Off.</do></step>\n");

  assert_needs (procedure, "on", "off");
  assert_needs (procedure, "off", "");
  assert_cycle (procedure, NULL);
}

/* From the kit: nothing to take off first, and a trial fit is taken off after it was tried. */
static void
test_kit (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (
    "<step id='try' install='d'><do>Try.</do></step>\n"
    "<step id='off' remove='d'><do>Off.</do></step>\n"
    "<step id='on' install='d'><do>On.</do></step>\n");

  assert_needs (procedure, "try", "");
  assert_needs (procedure, "off", "try");
  assert_needs (procedure, "on", "off");
}

static const char covering[] =
  "<step id='look'><do>Look.</do><check id='clean' kind='visual' name='Clean'>Clean?</check><note id='number' name='Number'>Number?</note></step>\n"
  "<step id='fit-d' install='d'><do>Fit.</do><check id='turns' kind='free' name='Turns'>Turns?</check><note id='lot' name='Lot'>Lot?</note></step>\n"
  "<step id='close' covers='d clean own gone'><do>Close.</do><note id='own' name='Own'>Own?</note></step>\n"
  "<step id='seal' covers='turns'><do>Seal.</do></step>\n";

static void
test_covered (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (covering);

  assert_covered (procedure, "look", "");
  assert_covered (procedure, "close", "clean turns lot own");
  assert_covered (procedure, "seal", "turns");
  assert_needs (procedure, "close", "look fit-d");
  assert_needs (procedure, "seal", "fit-d");
}

static void
test_find_cover (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (covering);

  g_assert_cmpstr (pawl_order_find_cover (procedure, "turns")->id, ==, "close");
  g_assert_cmpstr (pawl_order_find_cover (procedure, "own")->id, ==, "close");
  g_assert_null (pawl_order_find_cover (procedure, "number"));
  g_assert_null (pawl_order_find_cover (procedure, "nowhere"));
}

/* From the step that comes first in the file, back to it; each needs the one that follows. */
static void
test_cycle (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (
    "<step id='start'><do>Start.</do></step>\n"
    "<step id='one' needs='start three'><do>One.</do></step>\n"
    "<step id='two' needs='one'><do>Two.</do></step>\n"
    "<step id='three' needs='two'><do>Three.</do></step>\n"
    "<step id='last' needs='three'><do>Last.</do></step>\n");

  assert_cycle (procedure, "one three two one");
  assert_followers (procedure, "one", "two three last");
}

static void
test_needs_itself (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load ("<step id='one' needs='one'><do>One.</do></step>\n");
  g_autoptr(GPtrArray) findings = pawl_procedure_proof_read (procedure, NULL);

  assert_needs (procedure, "one", "");
  assert_cycle (procedure, NULL);
  g_assert_cmpuint (findings->len, >, 0);
}

/* An ask that waits for the step that hides it. */
static void
test_cycle_by_cover (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (
    "<step id='close' covers='gap'><do>Close.</do></step>\n"
    "<step id='measure' needs='close'><do>Measure.</do><note id='gap' name='Gap'>Gap?</note></step>\n");

  assert_cycle (procedure, "close measure close");
}

static void
test_items (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load ("<step id='one'><do>One.</do></step>\n");
  GPtrArray *parts = pawl_procedure_get_parts (procedure);

  g_assert_cmpstr (((PawlPart *) g_ptr_array_index (parts, 2))->item, ==, "9A");
  g_assert_cmpstr (((PawlPart *) g_ptr_array_index (parts, 3))->item, ==, "10");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/procedure/order/stated", test_stated);
  g_test_add_func ("/procedure/order/runs", test_runs);
  g_test_add_func ("/procedure/order/variants", test_variants);
  g_test_add_func ("/procedure/order/swapped", test_swapped);
  g_test_add_func ("/procedure/order/kit", test_kit);
  g_test_add_func ("/procedure/order/covered", test_covered);
  g_test_add_func ("/procedure/order/find-cover", test_find_cover);
  g_test_add_func ("/procedure/order/cycle", test_cycle);
  g_test_add_func ("/procedure/order/needs-itself", test_needs_itself);
  g_test_add_func ("/procedure/order/cycle-by-cover", test_cycle_by_cover);
  g_test_add_func ("/procedure/order/items", test_items);
  return g_test_run ();
}
