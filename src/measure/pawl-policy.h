/* Decision rules: how close to a limit is too close to call. A shop chooses one, and every report prints it. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
  PAWL_DECIDES_SIMPLY,    /* simple acceptance: no guard band (ILAC-G8) */
  PAWL_DECIDES_BY_U,      /* guard band of one expanded uncertainty U, 95 %, at each limit, both ways (ILAC-G8) */
  PAWL_DECIDES_BY_PROOF,  /* guard band of 1.65 u: conformity, or the want of it, proved to 95 % at one limit (ISO 14253-1) */
  PAWL_DECIDES_BY_RISK,   /* conformance probability (JCGM 106) at least 1 - risk, or at most risk */
} PawlPolicyKind;

/* Plain data, to be copied. */
typedef struct {
  PawlPolicyKind kind;
  guint          risk; /* in thousandths, for _BY_RISK: 1 to 499 */
} PawlPolicy;

#define PAWL_POLICY_SIMPLE     ((PawlPolicy) { PAWL_DECIDES_SIMPLY, 0 })
#define PAWL_POLICY_GUARD_BAND ((PawlPolicy) { PAWL_DECIDES_BY_U, 0 })
#define PAWL_POLICY_PROOF      ((PawlPolicy) { PAWL_DECIDES_BY_PROOF, 0 })

/* "simple", "guard-band", "proof", "risk 5 %": as records and settings keep it. FALSE when it is none of them; @policy is simple then. */
gboolean pawl_policy_parse    (const char *text, PawlPolicy *policy);
char    *pawl_policy_format   (PawlPolicy policy); /* (transfer full) */
/* (transfer full): a sentence that states the rule, to be printed with every report */
char    *pawl_policy_describe (PawlPolicy policy);

G_END_DECLS
