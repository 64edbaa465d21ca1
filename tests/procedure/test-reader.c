/* The strict reader: what it makes of a good file, and what it refuses. */
#include <string.h>
#include <unistd.h>

#include <glib/gstdio.h>

#include "procedure/pawl-order.h"
#include "snippet.h"

static PawlProcedure *
load_good (const char *language)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "good", "minimal.xml", NULL);
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure = pawl_procedure_load (path, language, &error);

  g_assert_no_error (error);
  return procedure;
}

static const PawlAsk *
get_ask (PawlProcedure *procedure, const char *id, PawlAskKind kind)
{
  const PawlAsk *ask = pawl_procedure_lookup_ask (procedure, id, NULL);

  g_assert_nonnull (ask);
  g_assert_cmpint (ask->kind, ==, kind);
  return ask;
}

static void
test_identity (void)
{
  g_autoptr(PawlProcedure) procedure = load_good (NULL);

  g_assert_cmpstr (pawl_procedure_get_id (procedure), ==, "drain-cock");
  g_assert_cmpstr (pawl_procedure_get_revision (procedure), ==, "1");
  g_assert_cmpstr (pawl_procedure_get_language (procedure), ==, "en");
  g_assert_cmpstr (pawl_procedure_get_title (procedure), ==, "Rebuild of the DC-1 drain cock");
  g_assert_cmpstr (pawl_procedure_get_unit (procedure), ==, "DC-1 drain cock");
  g_assert_cmpstr (pawl_procedure_get_maker (procedure), ==, "Pellow & Daunt");
  g_assert_cmpstr (pawl_procedure_get_model (procedure), ==, "DC-1");
  g_assert_cmpstr (pawl_procedure_get_author (procedure), ==, "Pawl project");
  g_assert_cmpstr (pawl_procedure_get_licence (procedure), ==, "CC0-1.0");
  g_assert_cmpstr (pawl_procedure_get_skill (procedure), ==, "");
  g_assert_cmpstr (pawl_procedure_get_kit (procedure), ==, "DC-1 kit (invented)");
  g_assert_cmpstr (pawl_procedure_get_figure (procedure), ==, "../svg/minimal.svg");
  g_assert_cmpint (pawl_procedure_get_verified (procedure), ==, PAWL_VERIFIED_ON_PAPER);
  g_assert_cmpstr (pawl_procedure_get_verified_statement (procedure), ==, "Read through, nothing built. (Pawl project, 2026-11-20)");
  g_assert_cmpint (pawl_procedure_get_attended_seconds (procedure), ==, 20 * 60);
  g_assert_cmpuint (pawl_procedure_get_books (procedure)->len, ==, 1);
  g_assert_cmpuint (pawl_procedure_get_variants (procedure)->len, ==, 1);
  g_assert_cmpuint (pawl_procedure_get_supplies (procedure)->len, ==, 0);
  g_assert_cmpuint (pawl_procedure_get_phases (procedure)->len, ==, 2);
}

static void
test_digest (void)
{
  g_autoptr(PawlProcedure) procedure = load_good (NULL);
  g_autoptr(GBytes) bytes = pawl_procedure_get_bytes (procedure);
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "good", "minimal.xml", NULL);
  g_autofree char *contents = NULL;
  g_autofree char *digest = NULL;
  gsize length;

  g_assert_true (g_file_get_contents (path, &contents, &length, NULL));
  digest = g_compute_checksum_for_data (G_CHECKSUM_SHA256, (const guchar *) contents, length);
  g_assert_cmpmem (contents, length, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes));
  g_assert_cmpstr (pawl_procedure_get_digest (procedure), ==, digest);
}

static void
test_tools_and_cautions (void)
{
  g_autoptr(PawlProcedure) procedure = load_good (NULL);
  const PawlTool *micrometer = pawl_procedure_lookup_tool (procedure, "micrometer");
  const PawlTool *spanner = pawl_procedure_lookup_tool (procedure, "spanner");
  const PawlCaution *drips = pawl_procedure_lookup_caution (procedure, "drips");

  g_assert_true (micrometer->is_measuring);
  g_assert_cmpstr (micrometer->instrument.name, ==, "Micrometer");
  g_assert_cmpfloat_with_epsilon (pawl_quantity_get_double (micrometer->instrument.max_error, pawl_unit_lookup ("mm")), 0.004, 1e-12);
  g_assert_cmpfloat_with_epsilon (pawl_quantity_get_double (micrometer->instrument.step, pawl_unit_lookup ("mm")), 0.001, 1e-12);
  g_assert_false (spanner->is_measuring);
  g_assert_null (spanner->instrument.max_error);
  g_assert_cmpint (drips->signal, ==, PAWL_SIGNAL_NOTICE);
  g_assert_cmpstr (drips->topic, ==, "waste");
  g_assert_cmpstr (drips->avoid, ==, "Hold a tin under it.");
  g_assert_null (pawl_procedure_lookup_caution (procedure, "fire"));
}

static void
test_parts (void)
{
  g_autoptr(PawlProcedure) procedure = load_good (NULL);
  const PawlPart *washer = pawl_procedure_lookup_part (procedure, "washer");

  g_assert_cmpuint (pawl_procedure_get_parts (procedure)->len, ==, 4);
  g_assert_cmpstr (washer->item, ==, "3");
  g_assert_cmpuint (washer->quantity, ==, 1);
  g_assert_cmpuint (washer->n_slide, ==, 2);
  g_assert_cmpfloat (washer->slide[1].y, ==, 10);
  g_assert_cmpstr (washer->regions[0], ==, "washer");
  g_assert_null (washer->regions[1]);
  g_assert_true (washer->is_kit && washer->is_symmetric);
  g_assert_false (washer->is_one_way || washer->is_staying);
  g_assert_true (pawl_procedure_lookup_part (procedure, "body")->is_staying);
}

static void
test_steps (void)
{
  g_autoptr(PawlProcedure) procedure = load_good (NULL);
  const PawlStep *seat = pawl_procedure_lookup_step (procedure, "seat");
  const PawlStep *close = pawl_procedure_lookup_step (procedure, "close");
  const PawlStep *asking;

  g_assert_cmpint (pawl_procedure_get_step_index (procedure, "seat"), ==, 3);
  g_assert_cmpint (pawl_procedure_get_step_index (procedure, "nowhere"), ==, -1);
  g_assert_cmpstr (seat->number, ==, "4");
  g_assert_cmpstr (seat->phase, ==, "reassembly");
  g_assert_cmpstr (seat->command, ==, "Drop the plug into the body.");
  g_assert_cmpstr (seat->info, ==, "");
  g_assert_cmpstr (seat->expect, ==, "It turns by hand.");
  g_assert_cmpint (seat->hold, ==, PAWL_HOLD_REVIEW);
  g_assert_null (seat->cant_undo);
  g_assert_cmpint (pawl_procedure_lookup_step (procedure, "drain")->attended_seconds, ==, 120);
  g_assert_cmpuint (g_strv_length (close->installs), ==, 2);
  g_assert_cmpuint (g_strv_length (close->covers), ==, 2);
  g_assert_cmpint (close->hold, ==, PAWL_HOLD_NONE);
  g_assert_nonnull (pawl_procedure_lookup_ask (procedure, "tight", &asking));
  g_assert_true (asking == close);
}

static void
test_asks (void)
{
  g_autoptr(PawlProcedure) procedure = load_good (NULL);
  const PawlAsk *size = get_ask (procedure, "plug-size", PAWL_ASK_READING);
  const PawlAsk *turns = get_ask (procedure, "plug-turns", PAWL_ASK_CHECK);
  const PawlAsk *soak = get_ask (procedure, "soak", PAWL_ASK_WAIT);
  const PawlAsk *again = get_ask (procedure, "plug-again", PAWL_ASK_DECIDE);
  const PawlAsk *mark = get_ask (procedure, "mark", PAWL_ASK_NOTE);

  g_assert_cmpstr (pawl_limits_get_text (size->reading->limits), ==, "9.9..10.1 mm");
  g_assert_true (size->reading->typing.default_unit == pawl_unit_lookup ("mm"));
  g_assert_false (size->reading->typing.is_mixed);
  g_assert_cmpuint (size->reading->repeats, ==, 1);
  g_assert_cmpstr (size->reading->tool, ==, "micrometer");
  g_assert_true (size->reading->is_as_found);
  g_assert_cmpstr (size->says, ==, "Measure the large end.");
  g_assert_cmpstr (size->source, ==, "sheet p. 1");

  g_assert_cmpint (turns->check->kind, ==, PAWL_CHECK_FREE);
  g_assert_cmpstr (pawl_limits_peek_outcomes (turns->check->limits)[1], ==, "drags");
  g_assert_cmpstr (pawl_limits_peek_acceptable (turns->check->limits)[0], ==, "free");
  g_assert_cmpstr (turns->says, ==, "Turn the plug through one turn.");

  g_assert_cmpint (soak->wait->min_seconds, ==, 600);
  g_assert_cmpint (soak->wait->max_seconds, ==, 7200);
  g_assert_cmpstr (soak->wait->agent, ==, "paraffin");
  g_assert_false (soak->wait->is_limited_by_agent);
  g_assert_cmpstr (again->decide->part, ==, "plug");
  g_assert_cmpstr (again->decide->choices[1], ==, "replace");
  g_assert_cmpstr (mark->name, ==, "Match mark");
}

static void
test_fit (void)
{
  g_autoptr(PawlProcedure) procedure = load_good (NULL);
  const PawlAsk *ask = get_ask (procedure, "plug-way", PAWL_ASK_FIT);
  const PawlRule *rule = ask->rule;

  g_assert_cmpstr (ask->name, ==, "Plug");
  g_assert_cmpint (rule->kind, ==, PAWL_RULE_SENSE);
  g_assert_cmpstr (rule->part, ==, "plug");
  g_assert_cmpint (rule->if_wrong, ==, PAWL_IF_WRONG_BLOCKED);
  g_assert_cmpint (rule->verify_by, ==, PAWL_VERIFY_SIGHT);
  g_assert_cmpstr (rule->consequence, ==, "It does not enter.");
  g_assert_cmpfloat (rule->shape->seat, ==, 20);
  g_assert_true (rule->shape->is_turned);
  g_assert_cmpuint (rule->shape->n_points, ==, 4);
  g_assert_cmpuint (rule->shape->features->len, ==, 1);
  g_assert_cmpint (rule->line, ==, ask->line);
}

static void
test_languages (void)
{
  g_autoptr(PawlProcedure) welsh = load_good ("cy");
  g_autoptr(PawlProcedure) french = load_good ("fr");

  g_assert_cmpstr (pawl_procedure_get_title (welsh), ==, "Ailadeiladu tap draenio DC-1");
  g_assert_cmpstr (pawl_procedure_lookup_step (welsh, "drain")->command, ==, "Tynnwch y nyten a'r wasier.");
  /* What is not said in Welsh stays as it was first said. */
  g_assert_cmpstr (pawl_procedure_lookup_step (welsh, "lift")->command, ==, "Lift out the plug.");
  g_assert_cmpstr (pawl_procedure_get_title (french), ==, "Rebuild of the DC-1 drain cock");
}

static void
test_figure_path (void)
{
  g_autoptr(PawlProcedure) procedure = load_good (NULL);
  g_autoptr(GError) error = NULL;
  g_autofree char *path = pawl_procedure_dup_figure_path (procedure, &error);

  g_assert_no_error (error);
  g_assert_true (g_file_test (path, G_FILE_TEST_IS_REGULAR));
}

/* ---- what the author need not say, and may say ---- */

static void
test_defaults (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load ("<step id='one'><do>One.</do><check id='c' kind='kit' name='C'>C?</check>"
                                                     "<wait id='w' name='W'>W</wait></step>\n");
  const PawlStep *step = pawl_procedure_lookup_step (procedure, "one");
  const PawlCheck *check = get_ask (procedure, "c", PAWL_ASK_CHECK)->check;
  const PawlWait *wait = get_ask (procedure, "w", PAWL_ASK_WAIT)->wait;

  g_assert_cmpstr (step->lane, ==, "");
  g_assert_cmpint (step->attended_seconds, ==, 0);
  g_assert_null (step->variant);
  g_assert_null (step->needs[0]);
  g_assert_cmpuint (g_strv_length ((char **) pawl_limits_peek_outcomes (check->limits)), ==, 3);
  g_assert_cmpstr (pawl_limits_peek_acceptable (check->limits)[1], ==, "not-needed");
  g_assert_cmpint (wait->min_seconds, ==, 0);
  g_assert_cmpint (wait->max_seconds, ==, 0);
  g_assert_cmpstr (wait->agent, ==, "");
  g_assert_cmpstr (pawl_procedure_get_figure (procedure), ==, "");
  g_assert_cmpstr (pawl_procedure_get_maker (procedure), ==, "");
}

/* The unit of a number typed without one: the stated one, else that of the limits; when those mix inch and metric it is asked back. */
static void
test_typing (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (
    "<step id='one'><do>One.</do>"
    "<reading id='mm' name='N' limits='1..2 mm'><says>S</says></reading>"
    "<reading id='thou' name='N' limits='25..31 thou' unit='in'><says>S</says></reading>"
    "<reading id='bare' name='N' limits='1..2' unit='mm' other-limits='0.9..2' repeats='3' reopens='mm thou' same-as='mm'><says>S</says></reading>"
    "<reading id='mixed' name='N' limits='1 in ± 0.5 mm'><says>S</says></reading></step>\n");
  const PawlReading *bare = get_ask (procedure, "bare", PAWL_ASK_READING)->reading;
  const PawlReading *mixed = get_ask (procedure, "mixed", PAWL_ASK_READING)->reading;

  g_assert_true (get_ask (procedure, "mm", PAWL_ASK_READING)->reading->typing.default_unit == pawl_unit_lookup ("mm"));
  g_assert_true (get_ask (procedure, "thou", PAWL_ASK_READING)->reading->typing.default_unit == pawl_unit_lookup ("in"));
  g_assert_true (bare->typing.default_unit == pawl_unit_lookup ("mm"));
  g_assert_nonnull (bare->other_limits);
  g_assert_cmpuint (bare->repeats, ==, 3);
  g_assert_cmpstr (bare->reopens[1], ==, "thou");
  g_assert_cmpstr (bare->same_as, ==, "mm");
  g_assert_true (mixed->typing.is_mixed);
  g_assert_null (mixed->typing.default_unit);
}

#define RULE(kind, geometry) \
  "<fit id='" kind "' kind='" kind "' part='a' if-wrong='hides' verify='gauge' as-found='yes' variant='rh'>" \
  "<says>S.</says><datum>D</datum><wrong>W</wrong><tell>T</tell><verify>V</verify>" geometry "</fit>"

/* Every kind with its geometry, in millimetres and degrees whatever it was written in. */
static const char rules[] =
  "<step id='one'><do>One.</do>"
  RULE ("sense", "<outline seat='1 in' points='0,0 10,0 10,5'><hole x='1' y='2' size='1/16 in' label='way'/><bevel x='0' y='0' size='1'/></outline>")
  RULE ("side", "<line x='1' y='2' angle='90'/><feature x='9' y='4'/>")
  RULE ("index", "<offset of='angle' radius='7 mm' wrong='180 deg' tolerance='3' period='0'/><turned points='0,1 5,1 5,0'/>")
  RULE ("spread", "<gaps inside='8' outside='13 mm' right='90 270' wrong='90 90' apart='120 deg'/><keep-clear from='-30' to='30'/><keep-clear from='80' to='100'/>")
  RULE ("which", "<candidate part='b' name='Long' place='boss' size='7/8 in'/><candidate part='c' size='12.7'/><compare>length under the head</compare>")
  RULE ("order", "<layer part='b' thickness='1.6 mm' mistake='twice'/><layer part='c' thickness='0.8 mm'><outline points='0,0 1,0 1,1'/></layer>")
  RULE ("mate", "<piece part='b' name='Seat'/><piece part='c'/>")
  "<fit id='either' kind='either' part='a'><says>S.</says><symmetry>Both ends are alike.</symmetry></fit></step>\n";

static void
test_rules (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (rules);
  const PawlRule *sense = get_ask (procedure, "sense", PAWL_ASK_FIT)->rule;
  const PawlRule *side = get_ask (procedure, "side", PAWL_ASK_FIT)->rule;
  const PawlRule *index = get_ask (procedure, "index", PAWL_ASK_FIT)->rule;

  g_assert_cmpint (sense->if_wrong, ==, PAWL_IF_WRONG_HIDES);
  g_assert_cmpint (sense->verify_by, ==, PAWL_VERIFY_GAUGE);
  g_assert_true (sense->is_as_found);
  g_assert_cmpstr (sense->variant, ==, "rh");
  g_assert_false (sense->shape->is_turned);
  g_assert_cmpfloat_with_epsilon (sense->shape->seat, 25.4, 1e-12);
  g_assert_cmpfloat_with_epsilon (g_array_index (sense->shape->features, PawlFeature, 0).size, 25.4 / 16, 1e-12);
  g_assert_cmpstr (g_array_index (sense->shape->features, PawlFeature, 0).label, ==, "way");
  g_assert_cmpint (g_array_index (sense->shape->features, PawlFeature, 1).kind, ==, PAWL_FEATURE_BEVEL);

  g_assert_cmpfloat (side->line_angle, ==, 90);
  g_assert_cmpfloat (side->feature_point.x, ==, 9);

  g_assert_cmpint (index->index_kind, ==, PAWL_INDEX_ANGLE);
  g_assert_cmpfloat (index->radius, ==, 7);
  g_assert_cmpfloat (index->wrong, ==, 180);
  g_assert_cmpfloat (index->tolerance, ==, 3);
  g_assert_true (index->shape->is_turned);
}

static void
test_rules_of_several (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load (rules);
  const PawlRule *spread = get_ask (procedure, "spread", PAWL_ASK_FIT)->rule;
  const PawlRule *which = get_ask (procedure, "which", PAWL_ASK_FIT)->rule;
  const PawlRule *order = get_ask (procedure, "order", PAWL_ASK_FIT)->rule;
  const PawlRule *mate = get_ask (procedure, "mate", PAWL_ASK_FIT)->rule;
  const PawlRule *either = get_ask (procedure, "either", PAWL_ASK_FIT)->rule;
  const PawlCandidate *longer = g_ptr_array_index (which->candidates, 0);

  g_assert_cmpuint (spread->n_angles, ==, 2);
  g_assert_cmpfloat (spread->angles[1], ==, 270);
  g_assert_cmpuint (spread->n_wrong_angles, ==, 2);
  g_assert_cmpfloat (spread->min_separation, ==, 120);
  g_assert_cmpuint (spread->n_forbidden, ==, 4);
  g_assert_cmpfloat (spread->forbidden[0], ==, -30);
  g_assert_cmpfloat (spread->outside, ==, 13);

  g_assert_cmpstr (longer->place, ==, "boss");
  g_assert_cmpfloat_with_epsilon (longer->dimension, 22.225, 1e-12);
  g_assert_cmpstr (which->dimension_name, ==, "length under the head");

  g_assert_cmpuint (order->candidates->len, ==, 2);
  g_assert_cmpint (((PawlCandidate *) g_ptr_array_index (order->candidates, 0))->mistake, ==, PAWL_LAYER_TWICE);
  g_assert_cmpint (((PawlCandidate *) g_ptr_array_index (order->candidates, 1))->mistake, ==, PAWL_LAYER_IN_PLACE);
  g_assert_nonnull (((PawlCandidate *) g_ptr_array_index (order->candidates, 1))->shape);
  g_assert_cmpstr (((PawlCandidate *) g_ptr_array_index (mate->candidates, 0))->name, ==, "Seat");
  g_assert_cmpstr (either->symmetry, ==, "Both ends are alike.");
  g_assert_cmpint (either->if_wrong, ==, PAWL_IF_WRONG_BLOCKED);
}

/* ---- what would be right ---- */

/* The sentence, not only its line: these are the faults that people make. */
static const struct { const char *step; const char *says; } schema_faults[] = {
  { "<step id='s' holds='hold'><do>D</do></step>", "unknown attribute \"holds\" on <step>; did you mean hold?" },
  { "<step id='s' colour='red'><do>D</do></step>", "unknown attribute \"colour\" on <step>; it takes id, lane, attended" },
  { "<step id='s'><d>D</d></step>", "unknown element <d> in <step>; did you mean do?" },
  { "<step><do>D</do></step>", "<step> lacks the attribute id; give it an id" },
  { "<step id='s' hold='yes'><do>D</do></step>", "<step> has hold=\"yes\"; it should be \"hold\", \"witness\" or \"review\"" },
  { "<step id='s'><do>D</do><check id='c' kind='look' name='N'>P</check></step>",
    "<check> has kind=\"look\"; it should be \"free\", \"passage\", \"leak\", \"visual\", \"kit\" or \"left-over\"" },
  { "<step id='s'><do>D</do><decide id='c' part='a' choices='reuse scrap'>P</decide></step>",
    "<decide> has choices=\"reuse scrap\"; it should be \"reuse\", \"repair\", \"replace\" or several of these with spaces between" },
  { "<step id='s'><do>D</do><decide id='c' part='a' choices=''>P</decide></step>", "<decide> has choices=\"\"; it should be \"reuse\"" },
  { "<step id='s'><do>D</do><reading id='c' name='N' limits='1..2 mm' repeats='0'><says>S</says></reading></step>",
    "<reading> has repeats=\"0\"; it should be a whole number from 1 to 10000" },
  { "<step id='s'><do>D</do><reading id='c' name='N' limits='1..2 mm'>S</reading></step>", "<reading> lacks <says>; add it" },
  { "<step id='s234567890123456789012345678901234567890123456789012345678901234x'><do>D</do></step>",
    "<step> has id=\"s23456789012345678901234567890123456789012345678901234567890…\"; it should be an id" },
  { "<step id='s'><do>D</do><note id='n' name=' '>P</note></step>", "<note> has name=\"\"; it should be some words" },
  { "<step id='s'><do>D</do><note id='n' name='N'>P<says>Q</says></note></step>",
    "<note> has words of its own, \"P\", and elements as well; keep one or the other" },
  { "<step id='s' needs='a,b'><do>D</do></step>", "<step> has needs=\"a,b\"; it should be an id" },
  { "<step id='s'><info>I</info><do>D</do></step>", "<do> stands too late in <step>; move it before <info>" },
  { "<step id='s'><do xml:lang='e n'>D</do></step>", "<do> has xml:lang=\"e n\"; it should be a language code like en or pt-BR" },
  { "<step id='s'><do>D</do><x:y xmlns:x='urn:other'/></step>", "<y> belongs to another namespace" },
  { "<step id='s'><do>D <b>bold</b></do></step>", "unknown element <b> in <do>; it takes none" },
  { "<step id='s'><do>D</do><fit id='f' kind='sense' if-wrong='hides'><says>S</says><turned points='0,0 1,1'/><outline points='0,0 1,1 1,0'/></fit></step>",
    "<outline> would be the second of its kind in this <fit>; keep one" },
  { "<step id='s'><do>D</do><fit id='f' kind='mate' if-wrong='hides'><says>S</says><layer part='a'/></fit></step>",
    "<layer> means nothing to a fit rule of kind mate; that one takes <turned>, <outline>, <piece>" },
};

/* What is written once stands for each, with its own values and the lines of the file; and the same file always gives the same. */
static void
test_each (void)
{
  g_autofree char *path = g_test_build_filename (G_TEST_DIST, "data", "good", "each.xml", NULL);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load (path, NULL, &error);
  static const char * const steps[] = { "pull-1", "bore-1", "piston-in-1", "pull-2", "bore-2", "piston-in-2" };
  const PawlAsk *top, *same_line, *taper;
  const PawlStep *asking;
  g_autoptr(GPtrArray) covered = NULL;

  g_assert_no_error (error);
  g_assert_cmpuint (pawl_procedure_get_steps (procedure)->len, ==, G_N_ELEMENTS (steps));
  for (guint i = 0; i < G_N_ELEMENTS (steps); i++)
    g_assert_cmpstr (((PawlStep *) g_ptr_array_index (pawl_procedure_get_steps (procedure), i))->id, ==, steps[i]);
  g_assert_cmpstr (pawl_procedure_lookup_step (procedure, "pull-2")->command, ==, "Pull the piston out of cylinder 2.");
  g_assert_cmpstr (pawl_procedure_lookup_step (procedure, "pull-2")->which, ==, "cylinder 2");
  g_assert_cmpint (pawl_procedure_lookup_step (procedure, "pull-2")->line, ==, pawl_procedure_lookup_step (procedure, "pull-1")->line);
  g_assert_cmpstr (pawl_procedure_lookup_part (procedure, "piston-1")->item, ==, "21");
  g_assert_cmpstr (pawl_procedure_lookup_part (procedure, "block")->which, ==, NULL);
  top = pawl_procedure_lookup_ask (procedure, "bore-2-top", &asking);
  same_line = pawl_procedure_lookup_ask (procedure, "bore-1-low", NULL);
  taper = pawl_procedure_lookup_ask (procedure, "taper-2", NULL);
  g_assert_cmpstr (asking->id, ==, "bore-2");
  g_assert_cmpstr (top->which, ==, "cylinder 2, level top");
  g_assert_cmpstr (pawl_limits_get_text (top->reading->limits), ==, "50.00..50.05 mm");
  g_assert_cmpstr (pawl_limits_get_text (same_line->reading->limits), ==, "50.00..50.03 mm");
  g_assert_cmpstr (top->source, ==, "sheet p. 1, relieved for the oil hole");
  g_assert_cmpint (top->line, ==, same_line->line);
  g_assert_cmpstr (taper->reading->derived->text, ==, "abs(bore-2-top - bore-2-low)");
  /* By place in the procedure: lines do not tell them apart. */
  covered = pawl_order_list_covered (procedure, pawl_procedure_lookup_step (procedure, "piston-in-2"));
  g_assert_cmpuint (covered->len, ==, 3);
  g_assert_true (covered->pdata[0] == top && covered->pdata[2] == taper);
}

/* The square of what an <each> may hold is counted, not only what stands in the file. */
static void
test_each_is_capped (void)
{
  g_autoptr(GString) steps = g_string_new ("<each of='a' names='1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24'>"
                                           "<each of='b' names='1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17 18 19 20 21 22 23 24'>");
  g_autofree char *text = NULL;
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GError) error = NULL;

  for (guint i = 0; i < 200; i++)
    g_string_append_printf (steps, "<step id='s%u-{a}-{b}'><do>Do {a} of {b}.</do></step>", i);
  g_string_append (steps, "</each></each>");
  text = snippet_text (steps->str);
  bytes = g_bytes_new (text, strlen (text));
  g_assert_null (pawl_procedure_load_bytes (bytes, "s.xml", NULL, &error));
  g_assert_error (error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_SCHEMA);
  g_assert_nonnull (strstr (error->message, "written out there are over 100000 elements"));
}

static void
test_schema_messages (void)
{
  for (gsize i = 0; i < G_N_ELEMENTS (schema_faults); i++)
    {
      g_autofree char *text = snippet_text (schema_faults[i].step);
      g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));
      g_autoptr(GError) error = NULL;
      g_autoptr(PawlProcedure) procedure = pawl_procedure_load_bytes (bytes, "s.xml", NULL, &error);
      g_autofree char *wanted = g_strdup_printf ("s.xml:10: %s", schema_faults[i].says);

      g_assert_null (procedure);
      g_assert_error (error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_SCHEMA);
      g_test_message ("%s", error->message);
      g_assert_true (g_str_has_prefix (error->message, wanted));
    }
}

/* A quantity of another kind than wanted, named as a trade would say it. */
static void
test_other_dimension (void)
{
  static const struct { const char *step, *message; } cases[] = {
    { "<step id='s'><do>D</do><reading id='c' name='N' limits='1..2 deg' unit='mm'><says>S</says></reading></step>",
      "its limits \"1..2 deg\" are for an angle; give a unit of the same kind" },
    { "<step id='s'><do>D</do><fit id='f' kind='index' part='a' if-wrong='fails'><says>S.</says><datum>D</datum><wrong>W</wrong><tell>T</tell><offset of='hole' diameter='4 deg' wrong='1 mm'/></fit></step>",
      "this is an angle; it should be a length" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *text = snippet_text (cases[i].step);
      g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));
      g_autoptr(GError) error = NULL;

      g_assert_null (pawl_procedure_load_bytes (bytes, "s.xml", NULL, &error));
      g_assert_error (error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_BAD_QUANTITY);
      g_assert_nonnull (strstr (error->message, cases[i].message));
    }
}

/* Each ask may say its prompt in several languages. */
static void
test_prompt_languages (void)
{
  g_autofree char *text = snippet_text ("<step id='one'><do>One.</do><note id='n' name='N'><says>Mark.</says><says xml:lang='cy'>Marc.</says></note></step>\n");
  g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr(PawlProcedure) english = pawl_procedure_load_bytes (bytes, "n.xml", "en", NULL);
  g_autoptr(PawlProcedure) welsh = pawl_procedure_load_bytes (bytes, "n.xml", "cy", NULL);

  g_assert_cmpstr (get_ask (english, "n", PAWL_ASK_NOTE)->says, ==, "Mark.");
  g_assert_cmpstr (get_ask (welsh, "n", PAWL_ASK_NOTE)->says, ==, "Marc.");
}

/* A link beside the procedure that leads elsewhere is not followed; one to a file that is missing is for whoever opens it. */
static void
test_figure_link (void)
{
  g_autofree char *folder = g_dir_make_tmp ("pawl-link-XXXXXX", NULL);
  g_autofree char *figure = g_build_filename (folder, "figure.svg", NULL);
  g_autofree char *name = g_build_filename (folder, "link.xml", NULL);
  g_autofree char *text = snippet_text ("<step id='one'><do>One.</do></step>\n");
  g_auto(GStrv) halves = g_strsplit (text, "<kit", 2);
  g_autofree char *with_figure = g_strjoin ("<figure file='figure.svg'/><kit", halves[0], halves[1], NULL);
  g_autoptr(GBytes) bytes = g_bytes_new (with_figure, strlen (with_figure));
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlProcedure) procedure = pawl_procedure_load_bytes (bytes, name, NULL, &error);
  g_autofree char *missing = NULL;
  g_autofree char *linked = NULL;

  g_assert_no_error (error);
  missing = pawl_procedure_dup_figure_path (procedure, &error);
  g_assert_no_error (error);
  g_assert_cmpstr (missing, ==, figure);

  g_assert_cmpint (symlink ("/etc/hostname", figure), ==, 0);
  linked = pawl_procedure_dup_figure_path (procedure, &error);
  g_unlink (figure);
  g_rmdir (folder);
  g_assert_null (linked);
  g_assert_error (error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_NOT_ALLOWED);
}

static void
test_no_figure (void)
{
  g_autoptr(PawlProcedure) procedure = snippet_load ("<step id='one'><do>One.</do></step>\n");
  g_autoptr(GError) error = NULL;

  g_assert_null (pawl_procedure_dup_figure_path (procedure, &error));
  g_assert_error (error, PAWL_PROCEDURE_ERROR, PAWL_PROCEDURE_ERROR_IO);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/procedure/reader/identity", test_identity);
  g_test_add_func ("/procedure/reader/digest", test_digest);
  g_test_add_func ("/procedure/reader/tools-and-cautions", test_tools_and_cautions);
  g_test_add_func ("/procedure/reader/parts", test_parts);
  g_test_add_func ("/procedure/reader/steps", test_steps);
  g_test_add_func ("/procedure/reader/asks", test_asks);
  g_test_add_func ("/procedure/reader/fit", test_fit);
  g_test_add_func ("/procedure/reader/languages", test_languages);
  g_test_add_func ("/procedure/reader/figure-path", test_figure_path);
  g_test_add_func ("/procedure/reader/figure-link", test_figure_link);
  g_test_add_func ("/procedure/reader/no-figure", test_no_figure);
  g_test_add_func ("/procedure/reader/defaults", test_defaults);
  g_test_add_func ("/procedure/reader/typing", test_typing);
  g_test_add_func ("/procedure/reader/rules", test_rules);
  g_test_add_func ("/procedure/reader/rules-of-several", test_rules_of_several);
  g_test_add_func ("/procedure/reader/schema-messages", test_schema_messages);
  g_test_add_func ("/procedure/reader/each", test_each);
  g_test_add_func ("/procedure/reader/each-capped", test_each_is_capped);
  g_test_add_func ("/procedure/reader/prompt-languages", test_prompt_languages);
  g_test_add_func ("/procedure/reader/other-dimension", test_other_dimension);
  return g_test_run ();
}
