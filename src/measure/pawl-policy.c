#include "measure/pawl-policy.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

static const char * const words[] = {
  [PAWL_DECIDES_SIMPLY] = "simple", [PAWL_DECIDES_BY_U] = "guard-band", [PAWL_DECIDES_BY_PROOF] = "proof", [PAWL_DECIDES_BY_RISK] = "risk",
};

/* "5 %", "0.5%": whole thousandths, over none and under a half. */
static gboolean
parse_risk (const char *text, guint *risk)
{
  char *end;
  double percent = g_ascii_strtod (text, &end), thousandths = percent * 10;

  if (end == text || !(thousandths >= 1 && thousandths <= 499) || fabs (thousandths - round (thousandths)) > 1e-9)
    return FALSE;
  *risk = (guint) lround (thousandths);
  while (g_ascii_isspace (*end))
    end++;
  return g_str_equal (end, "%");
}

gboolean
pawl_policy_parse (const char *text, PawlPolicy *policy)
{
  g_return_val_if_fail (policy != NULL, FALSE);
  *policy = PAWL_POLICY_SIMPLE;
  for (guint i = 0; text != NULL && i < PAWL_DECIDES_BY_RISK; i++)
    if (g_str_equal (text, words[i]))
      {
        policy->kind = (PawlPolicyKind) i;
        return TRUE;
      }
  if (text == NULL || !g_str_has_prefix (text, "risk ") || !parse_risk (text + strlen ("risk "), &policy->risk))
    {
      policy->risk = 0;
      return FALSE;
    }
  policy->kind = PAWL_DECIDES_BY_RISK;
  return TRUE;
}

/* "5 %", "0.5 %" */
static char *
format_risk (guint thousandths)
{
  return thousandths % 10 == 0 ? g_strdup_printf ("%u %%", thousandths / 10) : g_strdup_printf ("%u.%u %%", thousandths / 10, thousandths % 10);
}

char *
pawl_policy_format (PawlPolicy policy)
{
  g_autofree char *risk = NULL;

  g_return_val_if_fail ((guint) policy.kind < G_N_ELEMENTS (words), NULL);
  if (policy.kind != PAWL_DECIDES_BY_RISK)
    return g_strdup (words[policy.kind]);
  risk = format_risk (policy.risk);
  return g_strdup_printf ("risk %s", risk);
}

char *
pawl_policy_describe (PawlPolicy policy)
{
  g_autofree char *risk = format_risk (policy.risk), *rest = format_risk (1000 - policy.risk);

  switch (policy.kind)
    {
    case PAWL_DECIDES_BY_U:
      return g_strdup ("Guard band: a reading nearer to a limit, on either side, than its expanded uncertainty U (95 %; k = 2 where nothing was repeated) "
                       "is too close to call (ILAC-G8).");
    case PAWL_DECIDES_BY_PROOF:
      return g_strdup ("Proof: a reading is in, or out, only when that is proved to 95 % at the limit: it lies 1.65 standard uncertainties or more (over "
                       "1.65 after a few repeats) inside, or outside; between, it is too close to call (ISO 14253-1).");
    case PAWL_DECIDES_BY_RISK:
      return g_strdup_printf ("Stated risk: a reading is in when it conforms with a probability of %s or more, out when with %s or less, and else too close to "
                              "call (JCGM 106; normal distribution).", rest, risk);
    case PAWL_DECIDES_SIMPLY:
    default:
      return g_strdup ("Simple acceptance: a reading on or inside its limits is in; no guard band is taken off for the uncertainty of the instrument "
                       "(ILAC-G8).");
    }
}
