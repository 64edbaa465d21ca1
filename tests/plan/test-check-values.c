/* schedule.csv: published networks, three-point estimates on a network, one mechanic with soaks. */
#include "check-values.h"
#include "plan/pawl-schedule.h"

/* A network as a row words it. */
typedef struct {
  PawlNetwork *network;
  GPtrArray   *names;  /* (element-type utf8) of the nodes */
  GArray      *spread; /* (element-type double): of three-point estimates, ((p - o) / 6)² */
} Worded;

static Worded *last; /* the network that rows below speak of again */

static void
worded_free (Worded *self)
{
  pawl_network_free (self->network);
  g_ptr_array_unref (self->names);
  g_array_unref (self->spread);
  g_free (self);
}

static guint
find (const Worded *self, const char *name)
{
  guint index;

  if (!g_ptr_array_find_with_equal_func (self->names, name, g_str_equal, &index))
    g_error ("no activity “%s”", name);
  return index;
}

static void
add_needs (Worded *self, guint node, const char *text)
{
  g_auto(GStrv) names = g_strsplit (text, ",", -1);

  for (guint i = 0; names[i] != NULL; i++)
    if (!g_str_equal (g_strstrip (names[i]), "-"))
      pawl_network_add_need (self->network, node, find (self, names[i]));
}

static gint64
read_whole (const char *text)
{
  char *end;
  gint64 value = g_ascii_strtoll (text, &end, 10);

  g_assert_true (end != text && *end == '\0');
  return value;
}

/* o, m, p: six times the expected (o + 4m + p) / 6, so that it is whole. */
static gint64
read_three (Worded *self, const char *text)
{
  g_auto(GStrv) fields = g_strsplit (text, ",", -1);
  gint64 low, likely, high;
  double spread;

  g_assert_cmpuint (g_strv_length (fields), ==, 3);
  low = read_whole (fields[0]);
  likely = read_whole (fields[1]);
  high = read_whole (fields[2]);
  spread = (double) ((high - low) * (high - low)) / 36;
  g_array_append_val (self->spread, spread);
  return low + 4 * likely + high;
}

/* "strip 20 hands (-)", "soak body 60 unattended (strip)", "a 4 (b,c)" or "A 3,5,7 (-)"; what is named later may be needed before: two passes. */
static Worded *
read_network (const char *text)
{
  g_autoptr(GRegex) regex = g_regex_new ("^(.+?) ([\\d,]+)( hands| unattended)? \\(([^)]*)\\)$", 0, 0, NULL);
  g_auto(GStrv) parts = g_strsplit (text, "; ", -1);
  Worded *self = g_new0 (Worded, 1);

  self->network = pawl_network_new ();
  self->names = g_ptr_array_new_with_free_func (g_free);
  self->spread = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint pass = 0; pass < 2; pass++)
    for (guint i = 0; parts[i] != NULL; i++)
      {
        g_autoptr(GMatchInfo) match = NULL;
        g_autofree char *duration = NULL, *kind = NULL, *needs = NULL;

        if (!g_regex_match (regex, parts[i], 0, &match))
          g_error ("“%s” is no activity", parts[i]);
        duration = g_match_info_fetch (match, 2);
        kind = g_match_info_fetch (match, 3);
        needs = g_match_info_fetch (match, 4);
        if (pass == 1)
          add_needs (self, i, needs);
        else
          {
            g_ptr_array_add (self->names, g_match_info_fetch (match, 1));
            if (g_str_equal (kind, " unattended"))
              pawl_network_add_wait (self->network, read_whole (duration), PAWL_NETWORK_NO_MAX);
            else
              pawl_network_add_work (self->network, strchr (duration, ',') != NULL ? read_three (self, duration) : read_whole (duration));
          }
      }
  return self;
}

static void
check_text (const CheckRow *row, const char *got)
{
  if (!g_str_equal (got, row->expected))
    g_error ("%s: %s: “%s”, not “%s” (source: %s)", row->id, row->inputs, got, row->expected, row->source);
}

/* "a=0 b=4 …" */
static void
check_each (const CheckRow *row, const gint64 *values)
{
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < last->names->len; i++)
    g_string_append_printf (text, "%s%s=%" G_GINT64_FORMAT, i > 0 ? " " : "", (char *) last->names->pdata[i], values[i]);
  check_text (row, text->str);
}

static void
check_critical (const CheckRow *row, const PawlCriticalPath *path)
{
  g_autoptr(GString) text = g_string_new (NULL);

  for (guint i = 0; i < last->names->len; i++)
    if (path->total_float[i] == 0)
      g_string_append_printf (text, "%s%s", text->len > 0 ? " " : "", (char *) last->names->pdata[i]);
  check_text (row, text->str);
}

static void
begin (const char *text)
{
  g_clear_pointer (&last, worded_free);
  last = read_network (text);
}

/* "network NAME: activity duration (immediate predecessors): … -> what", and rows that say "network NAME -> what" after it. */
static gboolean
check_published (const CheckRow *row)
{
  const char *marker = "(immediate predecessors): ", *list = strstr (row->inputs, marker), *what = strstr (row->inputs, " -> ");
  g_autoptr(PawlCriticalPath) path = NULL;

  g_assert_nonnull (what);
  if (list != NULL)
    {
      g_autofree char *text = g_strndup (list + strlen (marker), (gsize) (what - list) - strlen (marker));

      begin (text);
    }
  path = pawl_critical_path_new (last->network);
  what += 4;
  if (g_str_equal (what, "project duration"))
    check_near_double (row, row->expected, (double) path->duration);
  else if (g_str_has_prefix (what, "activities with zero total float"))
    check_critical (row, path);
  else if (g_str_has_prefix (what, "total float"))
    check_each (row, path->total_float);
  else if (g_str_has_prefix (what, "earliest start"))
    check_each (row, path->earliest);
  else if (g_str_has_prefix (what, "latest start"))
    check_each (row, path->latest);
  else if (g_str_has_prefix (what, "free float"))
    check_each (row, path->free_float);
  else
    g_error ("%s: “%s” is nothing that is checked", row->id, what);
  return TRUE;
}

static gboolean
check_three_point (const CheckRow *row)
{
  g_autoptr(PawlCriticalPath) path = NULL;
  double variance = 0;

  if (g_str_has_prefix (row->inputs, "PERT"))
    {
      const char *list = strstr (row->inputs, "preds): ") + strlen ("preds): ");
      g_autofree char *text = g_strndup (list, (gsize) (strstr (list, " -> ") - list));

      begin (text);
    }
  path = pawl_critical_path_new (last->network);
  for (guint i = 0; i < path->n; i++)
    if (path->total_float[i] == 0)
      variance += g_array_index (last->spread, double, i);
  check_near_double (row, row->expected, g_str_has_prefix (row->inputs, "PERT") ? (double) path->duration / 6 : variance);
  return TRUE;
}

static gboolean
check_mechanic (const CheckRow *row)
{
  const char *list = strstr (row->inputs, "nobody: ") + strlen ("nobody: ");
  g_autofree char *text = g_strndup (list, (gsize) (strstr (list, " -> ") - list));
  g_autoptr(PawlSchedule) schedule = NULL;

  begin (text);
  schedule = pawl_schedule_new (last->network, PAWL_SCHEDULE_EFFORT);
  g_assert_true (schedule->is_least);
  check_near_double (row, row->expected, (double) schedule->makespan);
  return TRUE;
}

/* "soak1: sum of all durations / hands-on time / critical path", of the row before. */
static gboolean
check_bounds (const CheckRow *row)
{
  g_autoptr(PawlCriticalPath) path = pawl_critical_path_new (last->network);
  g_autoptr(PawlSchedule) schedule = pawl_schedule_new (last->network, PAWL_SCHEDULE_EFFORT);
  gint64 sum = 0, hands = 0;
  g_autofree char *text = NULL;

  for (guint i = 0; i < path->n; i++)
    {
      gint64 duration = pawl_network_get_duration (last->network, i);

      sum += duration;
      hands += pawl_network_is_wait (last->network, i) ? 0 : duration;
    }
  text = g_strdup_printf ("%" G_GINT64_FORMAT " / %" G_GINT64_FORMAT " / %" G_GINT64_FORMAT, sum, hands, path->duration);
  check_text (row, text);
  g_assert_cmpint (schedule->bound, >=, MAX (hands, path->duration)); /* ours is no weaker than these two */
  return TRUE;
}

/* "edges A->B, B->C, C->A: acyclic?" or "precedence A->B, …: redundant edges (…)" */
static void
begin_edges (const CheckRow *row)
{
  const char *list = strchr (row->inputs, ' ') + 1;
  g_autofree char *text = g_strndup (list, (gsize) (strchr (list, ':') - list));
  g_auto(GStrv) edges = g_strsplit (text, ", ", -1);

  g_clear_pointer (&last, worded_free);
  last = read_network ("A 1 (-); B 1 (-); C 1 (-); D 1 (-)");
  for (guint i = 0; edges[i] != NULL; i++)
    {
      g_auto(GStrv) ends = g_strsplit (edges[i], "->", 2);

      pawl_network_add_need (last->network, find (last, ends[1]), find (last, ends[0]));
    }
}

static gboolean
check_cycle (const CheckRow *row)
{
  g_autoptr(GArray) cycle = NULL;

  begin_edges (row);
  cycle = pawl_network_find_cycle (last->network);
  g_assert_cmpstr (row->expected, ==, "no (cycle A B C)");
  g_assert_nonnull (cycle);
  g_assert_cmpuint (cycle->len, ==, 4); /* A, B and C, and the first again */
  for (guint i = 0; i < cycle->len; i++)
    g_assert_cmpuint (g_array_index (cycle, guint, i), !=, find (last, "D"));
  return TRUE;
}

static gboolean
check_redundant (const CheckRow *row)
{
  g_autoptr(GString) text = g_string_new (NULL);

  begin_edges (row);
  for (guint before = 0; before < 4; before++)
    for (guint node = 0; node < 4; node++)
      {
        const GArray *needs = pawl_network_peek_needs (last->network, node);

        for (guint i = 0; i < needs->len; i++)
          if (g_array_index (needs, guint, i) == before && pawl_network_is_redundant (last->network, node, before))
            g_string_append_printf (text, "%s%s->%s", text->len > 0 ? " " : "", (char *) last->names->pdata[before], (char *) last->names->pdata[node]);
      }
  check_text (row, text->str);
  return TRUE;
}

static const struct {
  const char *begins;
  gboolean  (*check) (const CheckRow *row);
} kinds[] = {
  { "network ", check_published },
  { "PERT ", check_three_point },
  { "same PERT network", check_three_point },
  { "one mechanic; ", check_mechanic },
  { "soak", check_bounds },
  { "edges ", check_cycle },
  { "precedence ", check_redundant },
  /* A procedure states one time for a step, not three. */
  { "three-point estimate ", NULL },
  /* Several workers: a bench has one pair of hands. That a list can be worse for more hands is why the search stands behind the lists. */
  { "list scheduling in order ", NULL },
  /* How many orders there are is asked by nothing here. */
  { "number of valid orders ", NULL },
};

static gboolean
check_row (const CheckRow *row)
{
  for (guint i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_str_has_prefix (row->inputs, kinds[i].begins))
      return kinds[i].check != NULL && kinds[i].check (row);
  g_error ("%s: “%s” is neither checked nor named as another's", row->id, row->inputs);
}

static void
test_rows (void)
{
  check_values ("schedule.csv", check_row);
  g_clear_pointer (&last, worded_free);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/plan/check-values", test_rows);
  return g_test_run ();
}
