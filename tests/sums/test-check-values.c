/* The bench sums, and formulas as a procedure writes them, against figures from outside: each row names its source in its file. */
#include <stdio.h>

#include "check-values.h"
#include "fit/pawl-difference.h"
#include "sums/pawl-sum.h"

/* What a row asks, and what answers it. $1… in @text and @answer are the groups of @pattern. */
typedef struct {
  const char *pattern;
  const char *sum;    /* (nullable): @text is inputs, "name=value; …"; NULL: a formula */
  const char *text;
  const char *answer; /* title of the sum's answer, several parted by |, as the expected ones are by / */
  const char *unit;   /* that the expected value is in */
} Case;

#define N "(-?[0-9.]+)"

static const Case geometry[] = {
  { "^port radius " N ", bushing hole radius " N ", both on pitch radius " N ", bushing turned " N " deg: open area$", "overlap",
    "port=@2*$1@ mm; hole=@2*$2@ mm; pitch-radius=$3 mm; turned=$4 deg", "Open area", "mm²" },
  { "^port radius " N ", bushing hole radius " N ", pitch radius " N ", turned " N " deg: open fraction of the smaller hole$", "overlap",
    "port=@2*$1@ mm; hole=@2*$2@ mm; pitch-radius=$3 mm; turned=$4 deg", "Open share of the smaller hole", "ratio" },
  { "^bore " N ", shaft " N ", plate angle " N " deg \\(closed angle " N " deg, from square-on\\): open area$", "plate",
    "bore=$1 mm; shaft=$2 mm; angle=$3 deg; shut-angle=$4 deg", "Open area", "mm²" },
  { "^bore " N " mm, closed angle " N ", plate at " N " deg: radial gap", "plate", "bore=$1 mm; shut-angle=$2 deg; angle=$3 deg",
    "Gap at the edge, square to the bore", "mm" },
  { "^float lever: pivot-to-tang " N ", pivot-to-float " N ", float must rise " N ": movement at the tang", "bend",
    "reading=0 mm; wanted=$3 mm; pivot-to-tang=$1 mm; pivot-to-point=$2 mm", "Move the tang by", "mm" },
  { "^same lever " N " / " N ", float rise " N " from level: rotation angle$", "bend",
    "reading=0 mm; wanted=$3 mm; pivot-to-tang=$1 mm; pivot-to-point=$2 mm", "The lever turns by", "deg" },
  { "^arm " N " long bent by " N " deg at its root", "arm", "length=$1 mm; angle=$2 deg", "The tip moves by", "mm" },
  { "^tip out of line by " N " over " N ": bend correction angle$", "arm", "length=$2 mm; out=$1 mm", "Bend by", "deg" },
  { "^timing mark " N " deg before TDC on a flywheel of radius " N ": arc along the rim$", "arc", "diameter=@2*$2@ mm; angle=$1 deg", "Along the rim", "mm" },
  { "^swept " N " cc, clearance " N " cc: compression ratio$", "compression", "swept=$1 cc; left=$2 cc", "Compression ratio", "ratio" },
  { "^stroke " N ", rod " N " centre to centre, crank " N " deg from TDC: piston drop$", "piston", "stroke=$1 mm; rod=$2 mm; crank=$3 deg",
    "Below top dead centre", "mm" },
  { "^sine bar length " N ", angle " N " deg: gauge block stack$", NULL, "$1 mm * sin($2 deg)", NULL, "mm" },
  { "^taper " N " in per foot: included angle", NULL, "2 * atan($1 in / 2 / 1 ft)", NULL, "arcsec" },
  { "^cone included angle " N " deg: depth for diameter " N "$", NULL, "$2 mm / 2 / tan($1 deg / 2)", NULL, "mm" },
  { "^radius " N ", chord " N ": sagitta$", NULL, "$1 mm - sqrt(($1 mm)^2 - ($2 mm / 2)^2)", NULL, "mm" },
  { "^bore opened from " N " to " N ": ratio of areas$", NULL, "($2 mm / $1 mm)^2", NULL, "ratio" },
  { "^annulus, jet " N ", needle " N ": open area$", NULL, "pi / 4 * (($1 mm)^2 - ($2 mm)^2)", NULL, "mm²" },
};

static const Case torque[] = {
  { "^wrench length " N " in, straight extension " N " in, wrench setting " N " in-lb", "torque",
    "wrench=$1 in; adapter=$2 in; setting=$3 lbf·in", "The fastener gets", "lbf·in" },
  { "^A = " N " in \\(drive to grip\\), B = " N " in adaptor in line, wanted " N " lb-ft", "torque",
    "wrench=$1 in; adapter=$2 in; torque=$3 lbf·ft", "Set the wrench to", "lbf·ft" },
  { "^L = " N " in, E = " N " in in line, wanted " N " ft-lb", "torque", "wrench=$1 in; adapter=$2 in; torque=$3 lbf·ft", "Set the wrench to", "lbf·ft" },
  { "^adapter " N " at " N " deg .*, wrench length " N ", wanted torque " N " lb ft", "torque",
    "adapter=$1 in; angle=$2 deg; wrench=$3 in; torque=$4 lbf·ft", "Set the wrench to", "lbf·ft" },
  { "^adapter " N " at " N " deg .*, wrench length " N ", wanted torque " N " lb in", "torque",
    "adapter=$1 mm; angle=$2 deg; wrench=$3 mm; torque=$4 lbf·in", "Set the wrench to", "lbf·in" },
  { "^adapter " N " at " N " deg .*, wrench length " N ", wanted torque " N " N m", "torque",
    "adapter=$1 mm; angle=$2 deg; wrench=$3 mm; torque=$4 N m", "Set the wrench to", "N m" },
  { "^T = K\\*D\\*F: K " N ", D " N " in, F " N " lbf$", "clamp", "nut-factor=$1; diameter=$2 in; force=$3 lbf", "It takes", "lbf·in" },
  { "^T = K\\*D\\*F: K " N ", D " N " in, F " N " lbf, in lb-ft$", "clamp", "nut-factor=$1; diameter=$2 in; force=$3 lbf", "It takes", "lbf·ft" },
  { "^T = K\\*D\\*F: K " N ", D " N " in, F " N " lbf, in N m$", "clamp", "nut-factor=$1; diameter=$2 in; force=$3 lbf", "It takes", "N m" },
  { "^T = K\\*d\\*F: K " N ", d " N " mm, F " N " N$", "clamp", "nut-factor=$1; diameter=$2 mm; force=$3 N", "It takes", "N m" },
  { "^clamp force for T = " N " N m, K " N ", d " N " mm$", "clamp", "torque=$1 N m; nut-factor=$2; diameter=$3 mm", "It clamps with", "N" },
  { "^1/2-13 grade 5, preload " N " % of " N " ksi yield on At = " N " in2, K = " N "$", "clamp",
    "share=$1 %; yield=@1000*$2@ psi; stress-area=$3 in²; nut-factor=$4; diameter=1/2 in", "Torque for that share", "lbf·ft" },
  { "^final torque " N ", 3 equal stages: stage values$", "stages", "torque=$1 N m; stages=3", "Round 1|Round 2|Round 3", "N m" },
  { "^nut turned " N " deg on pitch " N " mm: axial advance$", "turns", "turned=$1 deg; pitch=$2 mm", "Changes by", "mm" },
  { "^wrench permissible deviation \\+/-" N " % at " N " N m", "torque", "wrench=300 mm; error=$1 %; torque=$2 N m",
    "It may be as little as|It may be as much as", "N m" },
};

static const Case practice[] = {
  { "^ring end gap rule " N " in per inch of bore, bore " N " in: minimum gap$", "ring", "share=$1; bore=$2 in", "Least gap", "in" },
  { "^old shim " N " mm, measured clearance " N " mm, wanted " N " mm: exact new shim$", "lash", "shim=$1 mm; measured=$2 mm; wanted=$3 mm", "Shim wanted", "mm" },
  { "^same shim job \\(old " N ", measured " N ", wanted " N "\\), stock " N " to " N " in steps of " N " mm: nearest shim$", "lash",
    "shim=$1 mm; measured=$2 mm; wanted=$3 mm; sizes=@steps $4 $5 $6@ mm", "Nearest at hand", "mm" },
  /* aims at the middle of the limits */
  { "^present shim " N " mm, measured " N " mm, spec " N "-" N " mm \\(exhaust\\), " N " mm steps: shim to fit$", "lash",
    "shim=$1 mm; measured=$2 mm; wanted=@($3+$4)/2@ mm; sizes=@steps 2.5 3.5 $5@ mm", "Nearest at hand", "mm" },
  { "^thrust shim: measured gap " N " mm, standard " N "-" N " mm: gap minus the middle of the standard$", NULL, "$1 mm - mean($2 mm, $3 mm)", NULL, "mm" },
  { "^thrust shim: wanted " N " mm, shims offered " N " to " N " mm in steps of " N ": nearest$", "shim",
    "gap=$1 mm; limits=0..0 mm; sizes=@steps $2 $3 $4@ mm", "Height of the stack", "mm" },
  { "^bore " N " mm, piston " N " mm: clearance$", "clearance", "bore=$1 mm; piston=$2 mm", "Clearance on the diameter", "mm" },
  { "^feeler set ([0-9.,]+) in \\(one of each\\): fewest blades for " N " in$", "blades", "sizes=$1 in; gap=$2 in", "#", "pieces" },
  { "^shims available \\(any number of each\\) ([0-9. ]+), wanted " N " within 0: fewest shims / stack height$", "shim",
    "gap=$2 mm; limits=0..0 mm; sizes=@any $1@ mm", "#|Height of the stack", "pieces|mm" },
  { "^end play: gap " N " without shims, wanted end play " N ": shim stack$", "shim", "gap=$1 mm; limits=$2..$2 mm; sizes=@cut $1 $2@ mm", "Height of the stack", "mm" },
  { "^preload: gap " N " in without shims, wanted preload " N " in: shim stack$", "shim", "gap=$1 in; limits=-$2..-$2 in; sizes=0.0005 x any in",
    "Height of the stack", "in" },
  { "^bore readings top X " N ", top Y " N ", bottom X " N ", bottom Y " N ": out of round", NULL, "max(spread($1 mm, $2 mm), spread($3 mm, $4 mm))", NULL, "mm" },
  { "^bore readings top X " N ", top Y " N ", bottom X " N ", bottom Y " N ": taper", NULL, "max(spread($1 mm, $3 mm), spread($2 mm, $4 mm))", NULL, "mm" },
  { "^dial indicator low " N ", high " N " over one turn", "runout", "lowest=$1 mm; highest=$2 mm", "Total indicator reading|Bend the high side down by", "mm" },
  { "^press fit " N " on diameter " N ", expansion coefficient " N "e-6 /C", "heat", "interference=$1 mm; diameter=$2 mm; expansion=$3 ppm/K",
    "Rise of temperature", "ΔK" },
  { "^gasket " N " in new, " N " % crush: installed thickness$", "gasket", "thickness=$1 in; crush=$2 %", "Crushed", "in" },
  { "^spring rate " N " lbf/in, preload " N " lbf, compressed " N " in: force$", "spring", "rate=$1 lbf/in; preload=$2 lbf; pressed=$3 in", "Force", "lbf" },
  { "^fuel mix " N ":1, " N " US gal of fuel: oil$", "mixture", "fuel=$2 gal US; parts=$1", "Oil", "fl oz US" },
  { "^fuel mix " N ":1, " N " L of fuel: oil$", "mixture", "fuel=$2 L; parts=$1", "Oil", "mL" },
  { "^leak-down: supply " N " psi, cylinder holds " N " psi: leakage$", "leak-down", "supply=$1 psi; held=$2 psi", "Leakage", "%" },
  { "^compression highest " N " psi, lowest " N " psi: lowest as percent of highest$", "compression", "highest=$1 psi; lowest=$2 psi", "Lowest by highest", "%" },
  { "^idle slot showing above a closed plate, limits " N " to " N " thousandths of an inch, in mm$", NULL, "$1 thou|$2 thou", NULL, "mm" },
  { "^float at rest ([0-9]+) ([0-9]+)/([0-9]+) in, float dropped ([0-9]+) ([0-9]+)/([0-9]+) in: travel$", NULL, "($4 + $5/$6 - $1 - $2/$3) * 1 in", NULL, "in" },
  { "^float (?:height|drop) ([0-9]+) ([0-9]+)/([0-9]+) in in mm$", NULL, "($1 + $2/$3) * 1 in", NULL, "mm" },
};

static const Case threads[] = {
  { "^(UN[CF]) (#[0-9]+|[0-9/]+ in): threads per inch$", "thread", "thread=$2 $1", "Threads in an inch", "ratio" },
  { "^(UN[CF]) (#[0-9]+|[0-9/]+ in): tensile stress area$", "thread", "thread=$2 $1", "Stress area", "in²" },
  { "^machine screw number ([0-9]+): basic major diameter$", "thread", "thread=#$1 UNF", "Major diameter", "in" },
  { "^([#0-9/]+-[0-9]+): basic pitch diameter$", "thread", "thread=$1", "Pitch diameter", "in" },
  { "^([#0-9/]+-[0-9]+): minor diameter, internal", "thread", "thread=$1", "Minor diameter of the nut", "in" },
  { "^([#0-9/]+-[0-9]+): minor diameter, external UNR", "thread", "thread=$1", "Root of the screw", "in" },
  { "^(M[0-9.]+ coarse): pitch$", "thread", "thread=$1", "Pitch", "mm" },
  { "^(M[0-9.]+ coarse): pitch diameter d2$", "thread", "thread=$1", "Pitch diameter", "mm" },
  { "^(M[0-9.]+ coarse): minor diameter of nut D1$", "thread", "thread=$1", "Minor diameter of the nut", "mm" },
  { "^(M[0-9.]+ coarse): minor \\(root\\) diameter of screw d3$", "thread", "thread=$1", "Root of the screw", "mm" },
  { "^(M[0-9.]+x[0-9.]+): tensile stress area$", "thread", "thread=$1", "Stress area", "mm²" },
  { "^(M[0-9]+ x [0-9.]+) with " N " mm hole: percent of full thread", "thread", "thread=$1; hole=$2 mm", "The hole leaves a thread, by 1.29904 P, of", "%" },
  { "^tap hole, American National form, D " N " in, " N " tpi, " N " of full thread$", "thread", "thread=$2 tpi; diameter=$1 in; share=$3",
    "Hole to tap, by 1.29904 P", "in" },
  { "^tap hole, Unified form, D " N " in, " N " tpi, " N " of full thread$", "thread", "thread=$2 tpi; diameter=$1 in; share=$3",
    "Hole to tap, by 1.08253 P", "in" },
  { "^([0-9]+-[0-9]+) tap, tap drill " N " in: percentage of full thread$", "thread", "thread=$1; hole=$2 in", "The hole leaves a thread, by 1.29904 P, of", "%" },
  { "^best three-wire diameter for " N " tpi, 60 deg thread$", NULL, "1 in / $1 / 2 / cos(30 deg)", NULL, "in" },
  { "^screw " N " tpi turned " N " turns: advance$", "turns", "pitch=$1 tpi; turned=$2 turns", "Changes by", "in" },
  { "^to move " N " in with a " N " tpi screw: turns$", "turns", "change=$1 in; pitch=$2 tpi", "Turn by", "turns" },
  { "^to move " N " mm with a " N " mm pitch screw: turns$", "turns", "change=$1 mm; pitch=$2 mm", "Turn by", "turns" },
};

static const Case bearing[] = {
  { "^F " N " lb, L " N " in, D " N " in: bearing pressure$", NULL, "$1 lbf / ($2 in * $3 in)", NULL, "psi" },
  { "^diametral clearance " N " in: radial clearance$", NULL, "$1 in / 2", NULL, "in" },
  { "^R " N " in, Cr " N " in: R/Cr$", NULL, "$1 in / $2 in", NULL, "ratio" },
  { "^viscosity " N "e-6 reyn, " N " rev/s, R/Cr " N ", p " N " psi: Sommerfeld number$", NULL, "$3^2 * ($1 / 1000000 * 1 psi * 1 s) * ($2 / 1 s) / $4 psi", NULL, "ratio" },
  { "^S " N ", p " N " psi, " N " rev/s, R/Cr " N ": required viscosity$", NULL, "$1 * $2 psi / ($3 / 1 s) / $4^2 / (1 psi * 1 s) * 1000000", NULL, "ratio" },
  { "^" N " lb in at " N " rpm: friction power$", NULL, "$1 lbf·in * 2 * pi * $2 / 60 s", NULL, "hp" },
  { "r " N " in, c " N " in, mu " N "e-6 reyn, N " N " rev/s, W " N " lbf, l = d = " N " in: Sommerfeld number$", NULL,
    "($1 in / $2 in)^2 * ($3 / 1000000 * 1 psi * 1 s) * ($4 / 1 s) / ($5 lbf / ($6 in * $6 in))", NULL, "ratio" },
  { "^Hersey .*: mu " N " Pa s, N " N " rev/s, P " N "e6 Pa$", NULL, "($1 Pa * 1 s) * ($2 / 1 s) / ($3 * 1000000 Pa)", NULL, "ratio" },
  { "^f " N ", F " N " lb, R " N " in: friction torque$", NULL, "$1 * $2 lbf * $3 in", NULL, "lbf·in" },
};

/* ---- filling in ---- */

/* Between two @: a product, a mean, or sizes in steps. What the groups stand for has been put in. */
static char *
work_out (const char *text)
{
  double a, b, c;
  GString *list = g_string_new (NULL);

  if (sscanf (text, "steps %lf %lf %lf", &a, &b, &c) == 3)
    for (guint i = 0; a + i * c <= b + c / 2; i++)
      g_string_append_printf (list, "%s%.4f", i > 0 ? ", " : "", a + i * c);
  else if (sscanf (text, "cut %lf %lf", &a, &b) == 2)
    g_string_append_printf (list, "%.6f x any", (a - b) / 5);
  else if (sscanf (text, "(%lf+%lf)/2", &a, &b) == 2)
    g_string_append_printf (list, "%.6f", (a + b) / 2);
  else if (sscanf (text, "%lf*%lf", &a, &b) == 2)
    g_string_append_printf (list, "%.10g", a * b);
  else
    {
      g_auto(GStrv) sizes = g_strsplit (text + strlen ("any "), " ", -1);

      g_assert_true (g_str_has_prefix (text, "any "));
      for (guint i = 0; sizes[i] != NULL; i++)
        g_string_append_printf (list, "%s%s x any", i > 0 ? ", " : "", sizes[i]);
    }
  return g_string_free (list, FALSE);
}

static char *
fill_in (const char *text, GMatchInfo *match)
{
  g_autoptr(GString) filled = g_string_new (NULL);
  g_auto(GStrv) pieces = NULL;
  GString *whole = g_string_new (NULL);

  for (const char *at = text; *at != '\0'; at++)
    if (*at == '$')
      {
        g_autofree char *group = g_match_info_fetch (match, *++at - '0');

        g_string_append (filled, group);
      }
    else
      g_string_append_c (filled, *at);
  pieces = g_strsplit (filled->str, "@", -1);
  for (guint i = 0; pieces[i] != NULL; i++)
    {
      g_autofree char *worked = i % 2 == 1 ? work_out (pieces[i]) : g_strdup (pieces[i]);

      g_string_append (whole, worked);
    }
  return g_string_free (whole, FALSE);
}

/* ---- sums and formulas ---- */

static PawlSumResult *
solve (const CheckRow *row, const Case *it, const char *inputs)
{
  g_autoptr(GHashTable) typed = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  g_auto(GStrv) pairs = g_strsplit (inputs, "; ", -1);
  g_autoptr(GError) error = NULL;
  PawlSumResult *result;

  for (guint i = 0; pairs[i] != NULL; i++)
    {
      char *value = strchr (pairs[i], '=');

      *value++ = '\0';
      g_hash_table_insert (typed, g_strdup (pairs[i]), g_strdup (value));
    }
  result = pawl_sum_solve (pawl_sum_lookup (it->sum), typed, NULL, &error);
  if (result == NULL)
    g_error ("%s: %s", row->id, error->message);
  return result;
}

static const PawlSumAnswer *
find_answer (const CheckRow *row, const PawlSumResult *result, const char *title)
{
  for (guint i = 0; i < result->answers->len; i++)
    if (g_str_equal (((PawlSumAnswer *) result->answers->pdata[i])->title, title))
      return result->answers->pdata[i];
  g_error ("%s: the sum has no answer “%s”", row->id, title);
}

/* "2 × 0.1 mm + 0.05 mm" is three pieces. */
static guint
count_pieces (const char *stack)
{
  g_auto(GStrv) parts = g_strsplit (stack, " + ", -1);
  guint n = 0;

  for (guint i = 0; parts[i] != NULL; i++)
    n += strstr (parts[i], " × ") != NULL ? (guint) strtoul (parts[i], NULL, 10) : 1;
  return n;
}

static void
check_answer (const CheckRow *row, const PawlSumResult *result, const char *title, const char *expected, const char *unit)
{
  if (g_str_equal (title, "#"))
    check_near_double (row, expected, count_pieces (find_answer (row, result, "Take")->text));
  else
    check_near_quantity (row, expected, find_answer (row, result, title)->quantity, pawl_unit_lookup (unit));
}

static void
check_sum (const CheckRow *row, const Case *it, const char *inputs)
{
  g_autoptr(PawlSumResult) result = solve (row, it, inputs);
  g_auto(GStrv) titles = g_strsplit (it->answer, "|", -1), units = g_strsplit (it->unit, "|", -1);
  g_auto(GStrv) expected = g_strsplit (row->expected, strchr (row->expected, '/') != NULL ? " / " : " ", -1);

  if (titles[1] == NULL) /* a fraction holds a space as well */
    {
      check_answer (row, result, titles[0], row->expected, it->unit);
      return;
    }
  for (guint i = 0; titles[i] != NULL; i++)
    check_answer (row, result, titles[i], expected[i], units[units[1] != NULL ? i : 0]);
}

static PawlQuantity *
evaluate (const CheckRow *row, const char *text, const PawlUnit *unit)
{
  static const char * const none[] = { NULL };
  g_autoptr(GError) error = NULL;
  g_autoptr(PawlFormula) formula = pawl_formula_parse (text, none, &error);
  PawlQuantity *quantity = formula != NULL && pawl_formula_check (formula, NULL, unit, &error)
                             ? pawl_formula_evaluate (formula, NULL, unit, NULL, NULL, &error) : NULL;

  if (quantity == NULL)
    g_error ("%s: “%s”: %s", row->id, text, error->message);
  return quantity;
}

/* 2:23:13 */
static void
check_arc (const CheckRow *row, const PawlQuantity *quantity)
{
  int degrees, minutes, seconds;

  g_assert_cmpint (sscanf (row->expected, "%d:%d:%d", &degrees, &minutes, &seconds), ==, 3);
  g_assert_cmpfloat (round (pawl_quantity_get_double (quantity, pawl_unit_lookup ("arcsec"))), ==, degrees * 3600 + minutes * 60 + seconds);
}

static void
check_formula (const CheckRow *row, const Case *it, const char *text)
{
  g_auto(GStrv) texts = g_strsplit (text, "|", -1);
  g_auto(GStrv) expected = g_strsplit (row->expected, " / ", -1);
  const PawlUnit *unit = pawl_unit_lookup (it->unit);

  for (guint i = 0; texts[i] != NULL; i++)
    {
      g_autoptr(PawlQuantity) quantity = evaluate (row, texts[i], unit);

      if (strchr (row->expected, ':') != NULL)
        check_arc (row, quantity);
      else
        check_near_quantity (row, expected[i], quantity, unit);
    }
}

static gboolean
check_cases (const CheckRow *row, const Case *cases, gsize n)
{
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr(GRegex) regex = g_regex_new (cases[i].pattern, 0, 0, NULL);
      g_autoptr(GMatchInfo) match = NULL;
      g_autofree char *text = NULL;

      if (!g_regex_match (regex, row->inputs, 0, &match))
        continue;
      text = fill_in (cases[i].text, match);
      if (cases[i].sum != NULL)
        check_sum (row, &cases[i], text);
      else
        check_formula (row, &cases[i], text);
      return TRUE;
    }
  return FALSE;
}

/* Rows of another part, by what they begin with; a row that is neither checked nor named here fails. */
static gboolean
leave (const CheckRow *row, const char * const *others)
{
  for (; *others != NULL; others++)
    if (g_str_has_prefix (row->id, *others))
      return FALSE;
  g_error ("%s: %s: nothing checks this row", row->id, row->inputs);
}

/* ---- the files ---- */

/* Circles by their common area, which the sums call; the rotations are found again from the open share. */
static double
find_half (double radius)
{
  double low = 0, high = 2 * radius;

  for (guint i = 0; i < 60; i++)
    {
      double middle = (low + high) / 2;

      if (pawl_lens_area (radius, radius, middle) > G_PI * radius * radius / 2)
        low = middle;
      else
        high = middle;
    }
  return low;
}

static double
get_turn (double offset, double pitch_radius)
{
  return 2 * asin (offset / 2 / pitch_radius) * 180 / G_PI;
}

static gboolean
check_geometry (const CheckRow *row)
{
  static const char * const others[] = { NULL };
  double a, b, c;

  if (sscanf (row->inputs, "circles r=%lf, %*1[rR]=%lf, centre distance %lf: overlap area", &a, &b, &c) == 3)
    check_near_double (row, row->expected, pawl_lens_area (a, b, c));
  else if (g_str_has_prefix (row->inputs, "two unit circles"))
    check_near_double (row, row->expected, find_half (1));
  else if (sscanf (row->inputs, "equal holes r %lf on pitch radius %lf: rotation that leaves half", &a, &b) == 2 && strstr (row->inputs, "half") != NULL)
    check_near_double (row, row->expected, get_turn (find_half (a), b));
  else if (sscanf (row->inputs, "equal holes r %lf on pitch radius %lf: rotation that just closes", &a, &b) == 2)
    check_near_double (row, row->expected, get_turn (2 * a, b));
  else
    return check_cases (row, geometry, G_N_ELEMENTS (geometry)) || leave (row, others);
  return TRUE;
}

static gboolean
check_torque (const CheckRow *row)
{
  static const char * const others[] = { NULL };

  return check_cases (row, torque, G_N_ELEMENTS (torque)) || leave (row, others);
}

static gboolean
check_practice (const CheckRow *row)
{
  /* verdicts and an interval, which tests/measure has */
  static const char * const others[] = { "PRA-019", "PRA-021", "PRA-031", NULL };

  return check_cases (row, practice, G_N_ELEMENTS (practice)) || leave (row, others);
}

static gboolean
check_threads (const CheckRow *row)
{
  static const char * const others[] = { NULL };

  return check_cases (row, threads, G_N_ELEMENTS (threads)) || leave (row, others);
}

static gboolean
check_bearing (const CheckRow *row)
{
  static const char * const others[] = { NULL };

  return check_cases (row, bearing, G_N_ELEMENTS (bearing)) || leave (row, others);
}

static void test_geometry (void) { check_values ("geometry.csv", check_geometry); }
static void test_torque (void)   { check_values ("torque.csv", check_torque); }
static void test_practice (void) { check_values ("practice.csv", check_practice); }
static void test_threads (void)  { check_values ("threads.csv", check_threads); }
static void test_bearing (void)  { check_values ("bearing.csv", check_bearing); }

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/sums/check-values/geometry", test_geometry);
  g_test_add_func ("/sums/check-values/torque", test_torque);
  g_test_add_func ("/sums/check-values/practice", test_practice);
  g_test_add_func ("/sums/check-values/threads", test_threads);
  g_test_add_func ("/sums/check-values/bearing", test_bearing);
  return g_test_run ();
}
