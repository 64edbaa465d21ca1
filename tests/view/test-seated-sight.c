/* How much of each part others lie over when all are home, by a figure of squares whose shares are known by hand; and what the proof-reader makes of it. */
#include <string.h>

#include "procedure/pawl-reader.h"
#include "view/pawl-seated-sight.h"

/* Squares of 100 as they are drawn; slid home, the lid lies over the left half of the disc, the cap over three quarters of it, and the plug, drawn before
 * it, under it. The knob is drawn after the disc and lies beside it. */
static const char svg[] =
  "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 800 600'>"
  "<g id='plug'><rect x='600' y='400' width='100' height='100' fill='#888'/></g>"
  "<g id='disc'><rect x='100' y='100' width='100' height='100' fill='#888'/></g>"
  "<g id='lid'><rect x='300' y='100' width='50' height='100' fill='#888'/></g>"
  "<g id='cap'><rect x='300' y='300' width='75' height='100' fill='#888'/></g>"
  "<g id='rim'><rect x='500' y='300' width='95' height='100' fill='#888'/></g>"
  "<g id='knob'><rect x='600' y='100' width='100' height='100' fill='#888'/></g>"
  "</svg>";

#define FIT(id, part, more) "<fit id='" id "' kind='mate' part='" part "' source='x' " more "><says>S</says><datum>D</datum><wrong>W</wrong><tell>T</tell><verify>V</verify>" \
  "<piece part='" part "'/><piece part='knob'/></fit>"

/* @more: attributes of the step that fits rim and cap. @fit: of the fit of the disc. */
static PawlProcedure *
load (const char *more, const char *fit)
{
  g_autofree char *text = g_strdup_printf (
    "<procedure xmlns='urn:pawl:procedure:1' id='small' revision='1' xml:lang='en'>"
    "<title>Small</title><unit>Small unit, invented</unit><author>Pawl</author><licence>CC0-1.0</licence><verified how='on-paper'/><attended>1 h</attended>"
    "<tools><none/></tools><supplies><none/></supplies><cautions><none/></cautions><parts>"
    "<part id='plug' item='1' name='Plug' symmetric='yes' slide='-500,-300'/><part id='disc' item='2' name='Disc' symmetric='yes'/>"
    "<part id='lid' item='3' name='Lid' symmetric='yes' slide='-200,0'/><part id='cap' item='4' name='Cap' symmetric='yes' slide='-100,0 -100,-200'/>"
    "<part id='rim' item='5' name='Rim' symmetric='yes' slide='-400,-200'/><part id='knob' item='6' name='Knob' symmetric='yes'/></parts><phase id='all' title='All'>"
    "<step id='off' remove='rim cap lid plug disc knob'><do>Take it off.</do></step>"
    "<step id='disc-in' install='plug disc' needs='off' hold='review'><do>Lay it in.</do>%s</step>"
    "<step id='lid-on' install='lid' needs='disc-in'><do>Lay it on.</do></step>"
    "<step id='rim-on' install='rim knob' needs='lid-on' %s><do>Press it on.</do></step>"
    "<step id='cap-on' install='cap' needs='rim-on'><do>Screw it on.</do></step>"
    "</phase></procedure>", fit, more);
  g_autoptr(GBytes) bytes = g_bytes_new (text, strlen (text));
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure = pawl_procedure_load_bytes (bytes, "small.xml", NULL, &error);

  g_assert_no_error (error);
  return procedure;
}

static PawlFigure *
load_figure (void)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (svg, sizeof svg - 1);
  g_autoptr(GError) error = NULL;
  PawlFigure *figure = pawl_figure_load_bytes (bytes, "small.svg", &error);

  g_assert_no_error (error);
  return figure;
}

/* By hand: shares of the disc's square; a cell is 1/60 of its side, so an edge may be a cell off. */
static void
test_shares (void)
{
  static const struct { const char *part; const char *others[4]; double share; } rows[] = {
    { "disc", { NULL }, 0 },
    { "disc", { "disc", NULL }, 0 },
    { "disc", { "lid", NULL }, 0.5 },
    { "disc", { "cap", NULL }, 0.75 },
    { "disc", { "lid", "cap", NULL }, 0.75 }, /* one over the other counts once */
    { "disc", { "rim", "lid", NULL }, 0.95 },
    { "disc", { "knob", NULL }, 0 },
    { "disc", { "plug", NULL }, 0 },          /* under it */
    { "plug", { "disc", NULL }, 1 },
    { "lid", { "cap", NULL }, 1 },
    { "cap", { "lid", NULL }, 0 },
  };
  g_autoptr(PawlProcedure) procedure = load ("", "");
  g_autoptr(PawlFigure) figure = load_figure ();
  g_autoptr(PawlSeatedSight) sight = pawl_seated_sight_new (procedure, figure);

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    g_assert_cmpfloat_with_epsilon (pawl_seated_sight_get_hidden (sight, rows[i].part, rows[i].others), rows[i].share, 0.02);
  g_assert_cmpfloat (pawl_seated_sight_get_hidden (sight, "nobody", rows[0].others), <, 0);
}

static double
get_hidden (const char *part, const char * const *others, gpointer sight)
{
  return pawl_seated_sight_get_hidden (sight, part, others);
}

/* (transfer full): the step and words of each cover that is suggested, one a line. */
static char *
suggest (const char *more, const char *fit)
{
  static const char * const ids[] = { "plug", "disc", "lid", "cap", "rim", "knob", NULL };
  g_autoptr(PawlProcedure) procedure = load (more, fit);
  g_autoptr(PawlFigure) figure = load_figure ();
  g_autoptr(PawlSeatedSight) sight = pawl_seated_sight_new (procedure, figure);
  const PawlRegionList regions = { .ids = ids, .file = "small.svg", .get_hidden = get_hidden, .hidden_data = sight };
  g_autoptr(GPtrArray) findings = pawl_procedure_proof_read (procedure, &regions);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < findings->len; i++)
    {
      const PawlFinding *finding = findings->pdata[i];

      if (!g_str_equal (finding->code, "covers-suggested"))
        continue;
      g_assert_cmpint (finding->severity, ==, PAWL_SEVERITY_ADVICE);
      g_string_append_printf (text, "%s\n", finding->message);
    }
  return g_string_free (text, FALSE);
}

#define DISC_MATE FIT ("disc-mate", "disc", "if-wrong='hides'")

/* The lid leaves half of the disc in sight, the rim next to nothing: the rim's step is the one, and the cap's comes too late to hide it. */
static void
test_suggested (void)
{
  g_autofree char *text = suggest ("", DISC_MATE);

  g_assert_true (g_str_has_prefix (text, "by the figure, step \"rim-on\" hides what \"disc-mate\" of step \"disc-in\" asks about: 95 % of 2 (Disc)"));
  g_assert_nonnull (strstr (text, "mostly under 5 (Rim), and 50 % before"));
  g_assert_null (strstr (text, "cap-on"));
}

static void
test_said (void)
{
  static const struct { const char *more, *fit; } rows[] = {
    { "covers='disc-mate'", DISC_MATE },
    { "leaves-visible='disc-mate'", DISC_MATE },
    { "", FIT ("disc-mate", "disc", "if-wrong='blocked'") },  /* stopped by itself */
    { "", FIT ("plug-mate", "plug", "if-wrong='hides'") },    /* under the disc from the first: that is its own step's */
    { "", FIT ("lid-mate", "lid", "if-wrong='hides'") },      /* not in its place yet */
    { "remove='disc'", DISC_MATE },                           /* taken off for another look */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autofree char *text = suggest (rows[i].more, rows[i].fit);

      g_assert_cmpstr (text, ==, "");
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/view/seated-sight/shares", test_shares);
  g_test_add_func ("/view/seated-sight/suggested", test_suggested);
  g_test_add_func ("/view/seated-sight/said", test_said);
  return g_test_run ();
}
