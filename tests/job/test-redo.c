/* What opens again, against the definition of it taken literally, on random procedures; and that nothing else does. */
#include "job/pawl-variant-change.h"
#include "procedure/pawl-order.h"
#include "procedure/pawl-reader.h"

#define MOST_STEPS 12
#define N_PARTS 4
#define N_ROUNDS 400

/* A random procedure, as the test knows it. Step i asks check c<i>, and measures on a part when it asks about one. */
typedef struct {
  guint    n_steps;
  int      moves[MOST_STEPS][N_PARTS];       /* 1 seated, -1 taken off, 0 left alone */
  gboolean asks[MOST_STEPS][N_PARTS];        /* a reading with a spot on the part */
  gboolean covers_part[MOST_STEPS][N_PARTS];
  gboolean covers_check[MOST_STEPS][MOST_STEPS];
  gboolean reopens[MOST_STEPS][MOST_STEPS];  /* check of row names check of column */
} Model;

static gboolean
one_in (GRand *dice, int n)
{
  return g_rand_int_range (dice, 0, n) == 0;
}

static Model
make_model (GRand *dice)
{
  Model model = { .n_steps = (guint) g_rand_int_range (dice, 4, MOST_STEPS + 1) };

  for (guint i = 0; i < model.n_steps; i++)
    {
      for (guint p = 0; p < N_PARTS; p++)
        {
          model.moves[i][p] = one_in (dice, 4) ? 1 : one_in (dice, 5) ? -1 : 0;
          model.asks[i][p] = one_in (dice, 8);
          model.covers_part[i][p] = one_in (dice, 9);
        }
      for (guint j = 0; j < model.n_steps; j++)
        {
          model.covers_check[i][j] = j < i && one_in (dice, 9);
          model.reopens[i][j] = i != j && one_in (dice, 5);
        }
    }
  return model;
}

/* ---- the same as a file ---- */

static void
append_parts (GString *xml, const char *attribute, const Model *model, guint step, int move)
{
  g_string_append_printf (xml, " %s='", attribute);
  for (guint p = 0; p < N_PARTS; p++)
    if (model->moves[step][p] == move)
      g_string_append_printf (xml, "p%u ", p);
  g_string_append (xml, "'");
}

static void
append_step (GString *xml, const Model *model, guint step)
{
  g_string_append_printf (xml, "<step id='s%u' attended='1 min'", step);
  append_parts (xml, "install", model, step, 1);
  append_parts (xml, "remove", model, step, -1);
  g_string_append (xml, " covers='");
  for (guint p = 0; p < N_PARTS; p++)
    if (model->covers_part[step][p])
      g_string_append_printf (xml, "p%u ", p);
  for (guint j = 0; j < model->n_steps; j++)
    if (model->covers_check[step][j])
      g_string_append_printf (xml, "c%u ", j);
  g_string_append_printf (xml, "'><do>Do it.</do><check id='c%u' kind='visual' name='Check' reopens='", step);
  for (guint j = 0; j < model->n_steps; j++)
    if (model->reopens[step][j])
      g_string_append_printf (xml, "c%u ", j);
  g_string_append (xml, "'>Right?</check>");
  for (guint p = 0; p < N_PARTS; p++)
    if (model->asks[step][p])
      g_string_append_printf (xml, "<reading id='r%u-%u' name='R' limits='1 mm ± 1 mm' unit='mm' source='x'><says>How much?</says><spot id='a' name='A' part='p%u'/>"
                              "</reading>", step, p, p);
  g_string_append (xml, "</step>");
}

static PawlProcedure *
make_procedure (const Model *model)
{
  g_autoptr(GString) xml = g_string_new ("<procedure xmlns='urn:pawl:procedure:1' id='r' revision='1' xml:lang='en'><title>R</title><unit>R</unit>"
                                         "<author>Pawl</author><licence>CC0-1.0</licence><verified how='no'>Never.</verified><attended>1 h</attended>"
                                         "<tools><none/></tools><supplies><none/></supplies><cautions><none/></cautions><parts>");
  g_autoptr(GBytes) bytes = NULL;
  g_autoptr(GError) error = NULL;
  PawlProcedure *procedure;

  for (guint p = 0; p < N_PARTS; p++)
    g_string_append_printf (xml, "<part id='p%u' item='%u' name='Part'/>", p, p + 1);
  g_string_append (xml, "</parts><phase id='all' title='All'>");
  for (guint i = 0; i < model->n_steps; i++)
    append_step (xml, model, i);
  g_string_append (xml, "</phase></procedure>");
  bytes = g_bytes_new (xml->str, xml->len);
  procedure = pawl_procedure_load_bytes (bytes, "random.xml", NULL, &error);
  g_assert_no_error (error);
  return procedure;
}

/* ---- the definition ---- */

/* The run of @part's removals and installations that @step's move belongs to: how often the move before it was of the other kind. */
static int
find_run (const Model *model, guint step, guint part)
{
  int run = 0, last = 0;

  for (guint i = 0; i <= step; i++)
    if (model->moves[i][part] != 0)
      {
        run += last != 0 && last != model->moves[i][part];
        last = model->moves[i][part];
      }
  return run;
}

/* @other moves the part in a later run, or asks about it while it still sits as @step seated it. */
static gboolean
is_disturbed (const Model *model, guint other, guint step)
{
  for (guint p = 0; p < N_PARTS && other > step; p++)
    if (model->moves[step][p] != 0)
      {
        gboolean is_later = find_run (model, other, p) > find_run (model, step, p);

        if (is_later && model->moves[other][p] != 0)
          return TRUE;
        if (!is_later && model->moves[step][p] == 1 && model->moves[other][p] != 1 && model->asks[other][p])
          return TRUE;
      }
  return FALSE;
}

/* @cover hides something that @step asks; a covered part hides what its fitting steps ask, and the fitting itself. */
static gboolean
hides_step (const Model *model, guint cover, guint step)
{
  if (cover == step)
    return FALSE;
  for (guint p = 0; p < N_PARTS; p++)
    if (model->covers_part[cover][p] && model->moves[step][p] == 1)
      return TRUE;
  return model->covers_check[cover][step];
}

/* Sets that grow until nothing is added: @asked, of which one check is taken again, and @taken, which are done again whole. */
static void
close_sets (const Model *model, gboolean *asked, gboolean *taken, guint skip)
{
  gboolean has_grown = TRUE;

  while (has_grown)
    {
      has_grown = FALSE;
      for (guint i = 0; i < model->n_steps; i++)
        for (guint j = 0; j < model->n_steps; j++)
          if (!taken[j] && j != skip && ((taken[i] && (hides_step (model, j, i) || is_disturbed (model, j, i))) || (asked[i] && hides_step (model, j, i))))
            taken[j] = has_grown = TRUE;
    }
}

/* ---- the two against each other ---- */

typedef struct {
  PawlProcedure *procedure;
  GPtrArray     *entries;
  GDateTime     *at;
} Bench;

static PawlEntry *
say (Bench *bench, PawlEntryKind kind, const char *subject, const char *field, const char *value)
{
  PawlEntry *entry = pawl_entry_new (kind, subject, "Ann", bench->at);

  if (field != NULL)
    pawl_entry_set (entry, field, value);
  g_ptr_array_add (bench->entries, entry);
  return entry;
}

/* All but @skip is answered and finished. */
static void
do_all (Bench *bench, const Model *model, guint skip)
{
  say (bench, PAWL_ENTRY_OPENED, "", NULL, NULL);
  for (guint i = 0; i < model->n_steps; i++)
    {
      g_autofree char *step = g_strdup_printf ("s%u", i), *check = g_strdup_printf ("c%u", i);

      if (i == skip)
        continue;
      say (bench, PAWL_ENTRY_ANSWERED, check, "answer", "good");
      for (guint p = 0; p < N_PARTS; p++)
        {
          g_autofree char *reading = g_strdup_printf ("r%u-%u", i, p);

          if (model->asks[i][p])
            say (bench, PAWL_ENTRY_ANSWERED, reading, "answer", "1 mm");
        }
      say (bench, PAWL_ENTRY_STEP_DONE, step, NULL, NULL);
    }
}

static Bench
bench_new (const Model *model)
{
  return (Bench) { make_procedure (model), g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref),
                   g_date_time_new_from_iso8601 ("2026-11-25T08:00:00+00:00", NULL) };
}

static void
bench_clear (Bench *bench)
{
  g_object_unref (bench->procedure);
  g_ptr_array_unref (bench->entries);
  g_date_time_unref (bench->at);
}

static PawlJob *
fold (const Bench *bench)
{
  return pawl_job_fold (bench->procedure, bench->entries, bench->at);
}

/* Every line's chain goes from a step that is first cause, each the cause of the next, to the line's own. */
static void
assert_chain (const PawlRedoLine *line)
{
  const PawlStep *cause = line->state->redo.step;

  g_assert_cmpint (line->state->redo.kind, !=, PAWL_REDO_NONE);
  g_assert_nonnull (line->state->redo_reason);
  if (cause == NULL)
    {
      g_assert_cmpint (line->state->redo.kind, ==, PAWL_REDO_ASKED);
      g_assert_cmpuint (line->chain->len, ==, 0);
      return;
    }
  for (guint i = line->chain->len; i > 0; i--)
    {
      const PawlStepState *state = line->chain->pdata[i - 1];

      g_assert_true (state->step == cause);
      cause = state->redo.step;
    }
  g_assert_null (cause);
}

static void
assert_opens (const Model *model, const PawlRedoPlan *plan, const gboolean *asked, const gboolean *taken, guint skip)
{
  guint at = 0;

  for (guint i = 0; i < model->n_steps; i++)
    if (i != skip && (taken[i] || asked[i]))
      {
        const PawlRedoLine *line;

        g_assert_cmpuint (at, <, plan->opens->len);
        line = plan->opens->pdata[at++];
        g_assert_cmpint (pawl_procedure_get_step_index (pawl_job_get_procedure (plan->after), line->state->step->id), ==, (int) i);
        assert_chain (line);
      }
  g_assert_cmpuint (at, ==, plan->opens->len);
  g_assert_cmpuint (plan->opens->len + plan->stays->len, ==, model->n_steps - (skip < model->n_steps));
}

/* What was foretold is what then is. */
static void
assert_came_true (const Bench *bench, PawlJob *before, const PawlRedoPlan *plan)
{
  g_autoptr(PawlJob) after = fold (bench);
  g_autoptr(PawlRedoPlan) came = pawl_redo_plan_compare (before, after);

  g_assert_cmpuint (came->opens->len, ==, plan->opens->len);
  for (guint i = 0; i < came->opens->len; i++)
    {
      const PawlRedoLine *a = came->opens->pdata[i], *b = plan->opens->pdata[i];

      g_assert_cmpstr (a->state->step->id, ==, b->state->step->id);
      g_assert_cmpint (a->state->redo.kind, ==, b->state->redo.kind);
    }
}

static void
test_step (void)
{
  g_autoptr(GRand) dice = g_rand_new_with_seed (61);
  guint n_opened = 0, n_stayed = 0;

  for (guint round = 0; round < N_ROUNDS; round++)
    {
      Model model = make_model (dice);
      Bench bench = bench_new (&model);
      guint again = (guint) g_rand_int_range (dice, 0, (int) model.n_steps);
      gboolean asked[MOST_STEPS] = { FALSE }, taken[MOST_STEPS] = { FALSE };
      g_autofree char *id = g_strdup_printf ("s%u", again);
      g_autoptr(PawlJob) job = NULL;
      g_autoptr(PawlRedoPlan) plan = NULL;
      g_autoptr(GError) error = NULL;

      do_all (&bench, &model, G_MAXUINT);
      job = fold (&bench);
      plan = pawl_redo_plan_new_for_step (job, id, &error);
      g_assert_no_error (error);
      taken[again] = TRUE;
      close_sets (&model, asked, taken, G_MAXUINT);
      assert_opens (&model, plan, asked, taken, G_MAXUINT);
      say (&bench, PAWL_ENTRY_REOPENED, id, "reason", "It leaked.");
      assert_came_true (&bench, job, plan);
      n_opened += plan->opens->len - 1;
      n_stayed += plan->stays->len;
      bench_clear (&bench);
    }
  /* Neither all nor nothing, else the rounds prove little. */
  g_assert_cmpuint (n_opened, >, N_ROUNDS / 2);
  g_assert_cmpuint (n_stayed, >, N_ROUNDS);
}

static void
test_correction (void)
{
  g_autoptr(GRand) dice = g_rand_new_with_seed (62);
  guint n_opened = 0;

  for (guint round = 0; round < N_ROUNDS; round++)
    {
      Model model = make_model (dice);
      Bench bench = bench_new (&model);
      guint wrong = (guint) g_rand_int_range (dice, 0, (int) model.n_steps);
      gboolean asked[MOST_STEPS] = { FALSE }, taken[MOST_STEPS] = { FALSE };
      g_autofree char *id = g_strdup_printf ("c%u", wrong);
      g_autoptr(PawlJob) job = NULL;
      g_autoptr(PawlRedoPlan) plan = NULL;

      do_all (&bench, &model, wrong);
      say (&bench, PAWL_ENTRY_ANSWERED, id, "answer", "bad");
      job = fold (&bench);
      plan = pawl_redo_plan_new_for_correction (job, pawl_job_lookup_ask (job, id));
      for (guint j = 0; j < model.n_steps; j++)
        asked[j] = model.reopens[wrong][j];
      /* A covered check hides itself alone; a covered part all that its fitting asks, this check too: the same sets. */
      close_sets (&model, asked, taken, wrong);
      for (guint p = 0; p < plan->opens->len; p++)
        g_assert_nonnull (((PawlRedoLine *) plan->opens->pdata[p])->state->redo_reason);
      for (guint i = 0, at = 0; i < model.n_steps; i++)
        if (i != wrong && (asked[i] || taken[i]))
          {
            const PawlRedoLine *line = at < plan->opens->len ? plan->opens->pdata[at] : NULL;

            g_assert_nonnull (line);
            g_assert_cmpint (pawl_procedure_get_step_index (bench.procedure, line->state->step->id), ==, (int) i);
            at++;
            g_assert_true (i + 1 < model.n_steps || at == plan->opens->len);
          }
      say (&bench, PAWL_ENTRY_ANSWERED, id, "answer", "good");
      assert_came_true (&bench, job, plan);
      n_opened += plan->opens->len;
      bench_clear (&bench);
    }
  g_assert_cmpuint (n_opened, >, N_ROUNDS / 2);
}

/* The words: a cover over a float, and what was measured on the float. */
static void
test_words (void)
{
  Model model = { .n_steps = 4 };
  Bench bench = { NULL, NULL, NULL };
  g_autoptr(PawlJob) job = NULL;
  g_autoptr(PawlRedoPlan) plan = NULL, undo = NULL;
  g_autoptr(GError) error = NULL;
  g_autofree char *stays = NULL, *why_asked = NULL, *why_disturbed = NULL, *why_covers = NULL, *chain = NULL;

  model.moves[0][0] = -1;
  model.moves[1][0] = 1;
  model.asks[2][0] = TRUE;
  model.covers_check[3][2] = TRUE;
  bench = bench_new (&model);
  do_all (&bench, &model, G_MAXUINT);
  job = fold (&bench);
  plan = pawl_redo_plan_new_for_step (job, "s1", &error);
  g_assert_no_error (error);
  g_assert_cmpuint (plan->opens->len, ==, 3);
  why_asked = pawl_redo_cause_describe (&((PawlRedoLine *) plan->opens->pdata[0])->state->redo);
  why_disturbed = pawl_redo_cause_describe (&((PawlRedoLine *) plan->opens->pdata[1])->state->redo);
  why_covers = pawl_redo_cause_describe (&((PawlRedoLine *) plan->opens->pdata[2])->state->redo);
  chain = pawl_redo_line_describe_chain (plan->opens->pdata[2]);
  stays = pawl_redo_plan_describe_stays (plan);
  g_assert_cmpstr (why_asked, ==, "is done again");
  g_assert_cmpstr (why_disturbed, ==, "disturbed: step 2 moves “Part”");
  g_assert_cmpstr (why_covers, ==, "covers step 3");
  g_assert_cmpstr (chain, ==, "2 → 3 → 4");
  g_assert_cmpstr (stays, ==, "1");
  g_assert_null (pawl_redo_plan_new_for_step (job, "s9", &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_UNKNOWN);
  bench_clear (&bench);
}

/* ---- another variant than was taken ---- */

/* (transfer full): what the correction would change, "goes ask hand-cw; comes part ring; spring-in opens" */
static char *
list_changes (Bench *bench, const char *variant)
{
  g_autoptr(PawlJob) job = fold (bench);
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlVariantChange) change = pawl_variant_change_new (job, variant, &error);
  GString *text = g_string_new (NULL);

  g_assert_no_error (error);
  for (guint i = 0; i < change->lines->len; i++)
    {
      const PawlVariantChangeLine *line = change->lines->pdata[i];
      const char *what = line->part != NULL ? "part" : line->ask != NULL ? "ask" : "step";
      const char *id = line->part != NULL ? line->part->id : line->ask != NULL ? line->ask->ask->id : line->step->id;

      g_string_append_printf (text, "%s %s %s; ", pawl_change_kind_get_word (line->kind), what, id);
    }
  for (guint i = 0; i < change->redo->opens->len; i++)
    g_string_append_printf (text, "%s opens; ", ((PawlRedoLine *) change->redo->opens->pdata[i])->state->step->id);
  return g_string_free (text, FALSE);
}

static const char variants_xml[] =
  "<procedure xmlns='urn:pawl:procedure:1' id='v' revision='1' xml:lang='en'><title>V</title><unit>V</unit><author>Pawl</author><licence>CC0-1.0</licence>"
  "<verified how='no'>Never.</verified><attended>1 h</attended><variants><variant id='cw' name='CW'/><variant id='ccw' name='CCW'/></variants>"
  "<variants by='serial'><variant id='early' name='Early' to='99'/><variant id='late' name='Late' from='100'/></variants>"
  "<tools><none/></tools><supplies><none/></supplies><cautions><none/></cautions>"
  "<parts><part id='spring' item='1' name='Spring'/><part id='shim' item='2' name='Shim' variant='late'/><part id='cover' item='3' name='Cover'/></parts>"
  "<phase id='all' title='All'>"
  "<step id='look'><do>Look.</do><check id='seen' kind='visual' name='Seen'>Good?</check></step>"
  "<step id='spring-in' install='spring'><do>Put the spring in.</do><check id='hand-cw' kind='visual' name='Hand' variant='cw'>Good?</check>"
  "<check id='hand-ccw' kind='visual' name='Hand' variant='ccw'>Good?</check></step>"
  "<step id='shim-in' install='shim' variant='late'><do>Put the shim in.</do></step>"
  "<step id='cover-on' install='cover' covers='shim'><do>Put the cover on.</do></step>"
  "</phase></procedure>";

/* (transfer full): words of what the correction to @variant opens, "spring-in:variant cover-on:covers" */
static char *
list_opened (Bench *bench, const char *variant)
{
  g_autoptr(PawlJob) before = fold (bench), after = NULL;
  g_autoptr(PawlRedoPlan) plan = NULL;
  GString *text = g_string_new (NULL);
  g_autoptr(GError) error = NULL;
  PawlEntry *entry = pawl_entry_new (PAWL_ENTRY_IDENTIFIED, "", "Ann", bench->at);

  pawl_entry_set (entry, "variant", variant);
  g_assert_false (pawl_job_check (before, entry, &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NEEDS_REASON);
  g_clear_error (&error);
  pawl_entry_set (entry, "reason", "The plate was under paint.");
  g_assert_true (pawl_job_check (before, entry, &error));
  g_assert_no_error (error);
  g_ptr_array_add (bench->entries, entry);
  after = fold (bench);
  plan = pawl_redo_plan_compare (before, after);
  for (guint i = 0; i < plan->opens->len; i++)
    {
      const PawlRedoLine *line = plan->opens->pdata[i];

      g_string_append_printf (text, "%s%s:%s", i > 0 ? " " : "", line->state->step->id, pawl_redo_kind_get_word (line->state->redo.kind));
    }
  g_assert_cmpstr (pawl_job_get_variant (after), ==, variant);
  return g_string_free (text, FALSE);
}

static void
test_variant (void)
{
  g_autoptr(GBytes) bytes = g_bytes_new_static (variants_xml, sizeof variants_xml - 1);
  g_autoptr(GError) error = NULL;
  Bench bench = { pawl_procedure_load_bytes (bytes, "v.xml", NULL, &error), g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref),
                  g_date_time_new_from_iso8601 ("2026-11-25T08:00:00+00:00", NULL) };
  g_autoptr(PawlJob) job = NULL;
  g_autoptr(PawlEntry) same = NULL;
  g_autofree char *would = NULL, *hand = NULL, *build = NULL, *both = NULL;

  g_assert_no_error (error);
  say (&bench, PAWL_ENTRY_OPENED, "", "variant", "cw early");
  say (&bench, PAWL_ENTRY_ANSWERED, "seen", "answer", "good");
  say (&bench, PAWL_ENTRY_STEP_DONE, "look", NULL, NULL);
  say (&bench, PAWL_ENTRY_ANSWERED, "hand-cw", "answer", "good");
  say (&bench, PAWL_ENTRY_STEP_DONE, "spring-in", NULL, NULL);
  say (&bench, PAWL_ENTRY_STEP_DONE, "cover-on", NULL, NULL);
  job = fold (&bench);
  g_assert_cmpint (pawl_job_lookup_step (job, "shim-in")->status, ==, PAWL_STEP_NOT_APPLICABLE);
  same = pawl_entry_new (PAWL_ENTRY_IDENTIFIED, "", "Ann", bench.at);
  pawl_entry_set (same, "variant", "early cw");
  g_assert_false (pawl_job_check (job, same, &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN);
  g_clear_error (&error);

  would = list_changes (&bench, "ccw late");
  g_assert_cmpstr (would, ==, "goes ask hand-cw; comes ask hand-ccw; comes step shim-in; comes part shim; spring-in opens; cover-on opens; ");
  g_assert_null (pawl_variant_change_new (job, "early cw", &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_NOT_OPEN);
  g_clear_error (&error);
  g_assert_null (pawl_variant_change_new (job, "sideways", &error));
  g_assert_error (error, PAWL_JOB_ERROR, PAWL_JOB_ERROR_BAD_ANSWER);
  hand = list_opened (&bench, "ccw early"); /* the step asks for the other hand; the cover hides the shim alone */
  g_assert_cmpstr (hand, ==, "spring-in:variant");
  build = list_opened (&bench, "ccw late"); /* the shim is to be put in, and the cover is over it */
  g_assert_cmpstr (build, ==, "cover-on:covers");
  both = list_opened (&bench, "cw early");
  g_assert_cmpstr (both, ==, ""); /* what was to be done again stays so, nothing more was done since */
  bench_clear (&bench);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/redo/step", test_step);
  g_test_add_func ("/redo/correction", test_correction);
  g_test_add_func ("/redo/words", test_words);
  g_test_add_func ("/redo/variant", test_variant);
  return g_test_run ();
}
