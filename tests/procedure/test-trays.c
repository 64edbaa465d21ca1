/* Trays, look-alikes, the kit against what is fitted, and teardown as the mirror of assembly. All units are invented. */
#include <string.h>

#include "procedure/pawl-alike.h"
#include "procedure/pawl-kit.h"
#include "procedure/pawl-mirror.h"
#include "procedure/pawl-reader.h"
#include "procedure/pawl-trays.h"

static PawlProcedure *
load (const char *parts, const char *steps)
{
  g_autofree char *text = g_strconcat ("<procedure xmlns='urn:pawl:procedure:1' id='p' revision='1' xml:lang='en'><title>T</title><unit>Unit, invented</unit>"
                                       "<author>Pawl project</author><licence>CC0-1.0</licence><verified how='on-paper'/><attended>1 h</attended>"
                                       "<variants><variant id='rh' name='RH'/><variant id='lh' name='LH'/></variants><tools><none/></tools><supplies><none/></supplies>"
                                       "<cautions><none/></cautions><kit name='Kit (invented)'/><parts>", parts, "</parts><phase id='only' title='Only'>", steps,
                                       "</phase></procedure>", NULL);
  g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure = pawl_procedure_load_bytes (bytes, "p.xml", NULL, &error);

  g_assert_no_error (error);
  return procedure;
}

#define PART(id, item, more) "<part id='" id "' item='" item "' name='" id "' symmetric='yes' " more "/>"
#define STEP(id, more) "<step id='" id "' " more "><do>X.</do></step>"

static void
assert_place (const PawlTrays *trays, const char *part, const char *wanted)
{
  const PawlTrayPlace *place = pawl_trays_lookup (trays, part);
  g_autofree char *words = NULL;

  g_assert_nonnull (place);
  words = pawl_tray_place_describe (place);
  g_assert_cmpstr (words, ==, wanted);
}

#define ALIKE "<alike><compare>length</compare><candidate part='short' size='12 mm'/><candidate part='long' size='14 mm'/></alike>"

static void
test_places (void)
{
  g_autoptr(PawlProcedure) procedure = load (PART ("short", "1", "group='cover' quantity='4'") PART ("long", "2", "group='cover'") PART ("cover", "3", "group='cover'")
                                             PART ("gasket", "4", "group='cover' kit='yes'") PART ("jet", "5", "group='body'") PART ("rh-cam", "6", "group='body'")
                                             PART ("body", "7", "stays='yes'") ALIKE,
                                             STEP ("off", "remove='short long cover gasket'") STEP ("jet-out", "remove='jet'")
                                             STEP ("cam-out", "remove='rh-cam' variant='rh'") STEP ("on", "install='short long cover gasket jet rh-cam'"));
  g_autoptr(PawlTrays) trays = pawl_trays_new (procedure, "rh"), other = pawl_trays_new (procedure, "lh");

  assert_place (trays, "short", "tray 1, place 1");
  assert_place (trays, "long", "tray 1, place 3"); /* 2 touches 1; the cover fills it */
  assert_place (trays, "cover", "tray 1, place 2");
  assert_place (trays, "gasket", "old parts");
  assert_place (trays, "jet", "tray 2, place 1");
  assert_place (trays, "rh-cam", "tray 2, place 2");
  g_assert_cmpuint (pawl_trays_count (trays), ==, 2);
  g_assert_cmpstr (pawl_trays_get_group (trays, 2), ==, "body");
  g_assert_null (pawl_trays_lookup (trays, "body"));
  g_assert_null (pawl_trays_lookup (other, "rh-cam"));
}

/* A kit part that a step has fitted, and another takes off again, is new and keeps a place. */
static void
test_tried_on (void)
{
  g_autoptr(PawlProcedure) procedure = load (PART ("shim", "1", "kit='yes'"), STEP ("try", "install='shim'") STEP ("off", "remove='shim'") STEP ("on", "install='shim'"));
  g_autoptr(PawlTrays) trays = pawl_trays_new (procedure, "");

  assert_place (trays, "shim", "tray 1, place 1");
}

static void
test_touch (void)
{
  static const struct { guint a, b; gboolean touch; } cases[] = {
    { 1, 2, TRUE }, { 1, 5, TRUE }, { 1, 6, TRUE }, { 1, 3, FALSE }, { 1, 1, FALSE }, { 4, 5, FALSE }, { 4, 7, TRUE }, { 12, 7, TRUE }, { 12, 9, FALSE }, { 5, 13, FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpint (pawl_tray_places_touch (cases[i].a, cases[i].b), ==, cases[i].touch);
      g_assert_cmpint (pawl_tray_places_touch (cases[i].b, cases[i].a), ==, cases[i].touch);
    }
}

/* Random units: each part has one place of its own, and no two that look alike touch. */
static void
test_random (void)
{
  for (guint round = 0; round < 40; round++)
    {
      g_autoptr(GString) parts = g_string_new (NULL), removes = g_string_new (NULL);
      g_autoptr(PawlProcedure) procedure = NULL;
      g_autoptr(PawlTrays) trays = NULL;
      g_autofree char *steps = NULL;
      guint n = (guint) g_test_rand_int_range (2, 40), n_sets = (guint) g_test_rand_int_range (0, 4);
      GPtrArray *places;

      for (guint i = 0; i < n; i++)
        {
          g_string_append_printf (parts, "<part id='p%u' item='%u' name='P' symmetric='yes' group='g%d'/>", i, i + 1, g_test_rand_int_range (0, 3));
          g_string_append_printf (removes, "%sp%u", i > 0 ? " " : "", i);
        }
      for (guint i = 0; i < n_sets; i++)
        {
          g_string_append (parts, "<alike><compare>length</compare>");
          for (guint j = 0; j < 4; j++)
            g_string_append_printf (parts, "<candidate part='p%d' size='%u mm'/>", g_test_rand_int_range (0, (int) n), 10 + j);
          g_string_append (parts, "</alike>");
        }
      steps = g_strdup_printf ("<step id='off' remove='%s'><do>X.</do></step><step id='on' install='%s'><do>X.</do></step>", removes->str, removes->str);
      procedure = load (parts->str, steps);
      trays = pawl_trays_new (procedure, "");
      places = pawl_trays_get_places (trays);
      g_assert_cmpuint (places->len, ==, n);
      for (guint i = 0; i < n; i++)
        for (guint j = 0; j < i; j++)
          {
            const PawlTrayPlace *a = places->pdata[i], *b = places->pdata[j];
            g_autoptr(GPtrArray) alikes = pawl_alike_list (procedure, "", a->part->id);

            g_assert_false (a->tray == b->tray && a->place == b->place);
            g_assert_cmpuint (a->place, >=, 1);
            g_assert_cmpuint (a->place, <=, PAWL_TRAY_PLACES);
            if (a->tray == b->tray && pawl_tray_places_touch (a->place, b->place))
              g_assert_false (pawl_alike_list_has (alikes, b->part->id));
            if (g_strcmp0 (a->part->group, b->part->group) != 0)
              g_assert_cmpuint (a->tray, !=, b->tray);
          }
    }
}

/* ---- look-alikes ---- */

/* At 350 mm an eye is trusted with 0.51 mm (5 minutes of arc), and with 4 % of a length: fit/pawl-difference.h has the sources. */
static void
test_alikes (void)
{
  static const struct { const char *a, *b; PawlAlikeBy by; const char *words; } cases[] = {
    { "22.2 mm", "12.7 mm", PAWL_ALIKE_BY_EYE, "length 22.2 mm, 9.5 mm more than “b”: seen by eye" },
    { "12.7 mm", "22.2 mm", PAWL_ALIKE_BY_EYE, "length 12.7 mm, 9.5 mm less than “b”: seen by eye" },
    { "80 mm", "78 mm", PAWL_ALIKE_BY_RULE, "length 80.0 mm, 2.0 mm more than “b”: by rule, not by eye" },
    { "1.18 mm", "0.79 mm", PAWL_ALIKE_BY_GAUGE, "length 1.2 mm, 0.39 mm more than “b”: by gauge, not by eye" },
    { "10 mm", "10 mm", PAWL_ALIKE_BY_MARK, "looks like “b”: told by a mark only" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *parts = g_strdup_printf (PART ("a", "1", "") PART ("b", "2", "") "<alike><compare>length</compare><candidate part='a' size='%s'/>"
                                                "<candidate part='b' size='%s'/></alike>", cases[i].a, cases[i].b);
      g_autoptr(PawlProcedure) procedure = load (parts, STEP ("on", "install='a b'"));
      g_autoptr(GPtrArray) alikes = pawl_alike_list (procedure, "", "a");
      g_autofree char *words = NULL;

      g_assert_cmpuint (alikes->len, ==, 1);
      words = pawl_alike_describe (alikes->pdata[0]);
      g_assert_cmpint (pawl_alike_get_by (alikes->pdata[0]), ==, cases[i].by);
      g_assert_cmpstr (words, ==, cases[i].words);
    }
}

/* A fit of the kind which declares its candidates, in the variant that it is for. */
static void
test_alikes_of_fit (void)
{
  g_autoptr(PawlProcedure) procedure = load (PART ("a", "1", "") PART ("b", "2", "") PART ("c", "3", ""),
    "<step id='on' install='a b c'><do>X.</do><fit id='f' kind='which' part='a' if-wrong='hides' variant='rh'><says>S</says><datum>D</datum><wrong>W</wrong><tell>T</tell>"
    "<verify>V</verify><candidate part='a' size='1 mm'/><candidate part='b' size='2 mm'/><compare>bore</compare></fit></step>");
  g_autoptr(GPtrArray) right = pawl_alike_list (procedure, "rh", "b"), left = pawl_alike_list (procedure, "lh", "b"), none = pawl_alike_list (procedure, "rh", "c");

  g_assert_cmpuint (right->len, ==, 1);
  g_assert_true (pawl_alike_list_has (right, "a"));
  g_assert_cmpfloat (pawl_alike_get_difference_mm (right->pdata[0]), ==, 1.0);
  g_assert_cmpuint (left->len, ==, 0);
  g_assert_cmpuint (none->len, ==, 0);
}

/* ---- the kit ---- */

static void
test_kit (void)
{
  g_autoptr(PawlProcedure) procedure = load (PART ("a", "1", "kit='yes' quantity='2'") PART ("b", "2", "kit='yes'"),
    "<step id='k'><do>X.</do><check id='line' kind='kit' name='L' parts='a b' quantity='4' spare='1'>Q</check>"
    "<check id='other' kind='kit' name='O' quantity='1' use='no'>Q</check><check id='plain' kind='kit' name='P'>Q</check></step>"
    STEP ("try", "install='a'") STEP ("off", "remove='a'") STEP ("on", "install='a'") STEP ("rh-on", "install='b' variant='rh'"));
  g_autoptr(GPtrArray) lines = pawl_kit_list_lines (procedure, "rh");
  const PawlAsk *line = pawl_procedure_lookup_ask (procedure, "line", NULL), *other = pawl_procedure_lookup_ask (procedure, "other", NULL);

  g_assert_cmpuint (lines->len, ==, 2);
  g_assert_cmpuint (pawl_kit_count_need (procedure, line, "rh"), ==, 3);
  g_assert_cmpuint (pawl_kit_count_need (procedure, line, "lh"), ==, 2);
  g_assert_cmpuint (pawl_kit_count_most (procedure, line), ==, 3);
  g_assert_cmpuint (pawl_kit_count_need (procedure, other, "rh"), ==, 0);
  g_assert_true (pawl_kit_find_line (procedure, "rh", "b") == line);
  g_assert_null (pawl_kit_find_line (procedure, "rh", "c"));
  g_assert_false (pawl_kit_takes_count (pawl_procedure_lookup_ask (procedure, "plain", NULL)));
}

/* ---- the mirror ---- */

static void
test_mirror (void)
{
  static const char * const order[] = { "cover", "lid", "jet", "seat" };
  g_autoptr(PawlProcedure) procedure = load (PART ("seat", "1", "") PART ("washer", "2", "") PART ("jet", "3", "") PART ("cover", "4", "one-way='yes'") PART ("lid", "5", ""),
    "<step id='seat' install='washer seat'><do>X.</do></step>"
    "<step id='lid' install='lid' needs='seat'><do>X.</do></step>"
    "<step id='jet' install='jet'><do>X.</do><cant-undo>It is staked.</cant-undo></step>"
    "<step id='cover' install='cover' needs='jet seat lid'><do>X.</do><reading id='r' name='R' limits='1..2 mm' source='A'><says>S</says></reading>"
    "<reading id='t' name='T' limits='4..5 N m' source='A'><says>S</says></reading></step>");
  g_autoptr(GPtrArray) mirror = pawl_mirror_list (procedure, "");
  const PawlMirrorStep *first = mirror->pdata[0], *last;
  g_autoptr(PawlTrays) trays = pawl_trays_new (procedure, "");

  g_assert_false (pawl_mirror_is_stated (procedure, ""));
  g_assert_cmpuint (mirror->len, ==, G_N_ELEMENTS (order));
  g_assert_cmpstr (first->step->id, ==, order[0]);
  g_assert_cmpstr (((PawlMirrorStep *) mirror->pdata[1])->step->id, ==, "jet"); /* the later of the two that may */
  g_assert_cmpstr (((PawlMirrorStep *) mirror->pdata[1])->warning, ==, "It is staked.");
  g_assert_cmpstr (((PawlMirrorStep *) mirror->pdata[2])->step->id, ==, "lid");
  g_assert_nonnull (strstr (first->warning, "spoilt by removal"));
  g_assert_cmpuint (first->first->len, ==, 1); /* the length, not the torque */
  g_assert_cmpstr (((PawlAsk *) first->first->pdata[0])->id, ==, "r");
  last = mirror->pdata[3];
  g_assert_cmpstr (last->step->id, ==, "seat");
  g_assert_cmpstr (((PawlPart *) last->parts->pdata[0])->id, ==, "seat"); /* what was fitted last comes off first */
  assert_place (trays, "cover", "old parts");
  assert_place (trays, "jet", "tray 1, place 1");
  assert_place (trays, "washer", "tray 1, place 4");
}

/* Random precedence: nothing comes off before what stands on it, and each part comes off once. */
static void
test_mirror_random (void)
{
  for (guint round = 0; round < 40; round++)
    {
      g_autoptr(GString) parts = g_string_new (NULL), steps = g_string_new (NULL);
      g_autoptr(PawlProcedure) procedure = NULL;
      g_autoptr(GPtrArray) mirror = NULL;
      g_autoptr(GHashTable) off = g_hash_table_new (NULL, NULL);
      guint n = (guint) g_test_rand_int_range (1, 20);

      for (guint i = 0; i < n; i++)
        {
          g_autoptr(GString) needs = g_string_new (NULL);

          for (guint j = 0; j < n; j++) /* any that the random order of ranks puts before: also later ones of the file */
            if ((j * 7 + round) % n < (i * 7 + round) % n && g_test_rand_int_range (0, 4) == 0)
              g_string_append_printf (needs, "%ss%u", needs->len > 0 ? " " : "", j);
          g_string_append_printf (parts, "<part id='p%u' item='%u' name='P' symmetric='yes'/>", i, i + 1);
          g_string_append_printf (steps, "<step id='s%u' install='p%u'%s%s%s><do>X.</do></step>", i, i, needs->len > 0 ? " needs='" : "", needs->str, needs->len > 0 ? "'" : "");
        }
      procedure = load (parts->str, steps->str);
      mirror = pawl_mirror_list (procedure, "");
      g_assert_cmpuint (mirror->len, ==, n);
      for (guint i = 0; i < n; i++)
        {
          const PawlMirrorStep *step = mirror->pdata[i];

          for (char **id = step->step->needs; *id != NULL; id++)
            g_assert_false (g_hash_table_contains (off, pawl_procedure_lookup_step (procedure, *id)));
          g_assert_true (g_hash_table_add (off, (gpointer) step->step));
        }
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/trays/places", test_places);
  g_test_add_func ("/trays/tried-on", test_tried_on);
  g_test_add_func ("/trays/touch", test_touch);
  g_test_add_func ("/trays/random", test_random);
  g_test_add_func ("/trays/alikes", test_alikes);
  g_test_add_func ("/trays/alikes-of-fit", test_alikes_of_fit);
  g_test_add_func ("/trays/kit", test_kit);
  g_test_add_func ("/trays/mirror", test_mirror);
  g_test_add_func ("/trays/mirror-random", test_mirror_random);
  return g_test_run ();
}
