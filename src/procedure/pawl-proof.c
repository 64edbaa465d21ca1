/* The proof-reader: goes on where the strict reader has let a file pass, and lists what is not as it should be. */
#include <string.h>

#include "procedure/pawl-load-private.h"
#include "procedure/pawl-proof-private.h"

G_GNUC_PRINTF (6, 0) static void
add_valist (PawlProof *self, const char *file, PawlSeverity severity, const char *code, int line, const char *format, va_list args)
{
  if (self->findings->len < PAWL_PROOF_MAX_FINDINGS)
    g_ptr_array_add (self->findings, pawl_finding_new (severity, code, file, line, g_strdup_vprintf (format, args)));
  else
    self->is_cut = TRUE;
}

void
pawl_proof_add (PawlProof *self, PawlSeverity severity, const char *code, int line, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  add_valist (self, self->procedure->name, severity, code, line, format, args);
  va_end (args);
}

void
pawl_proof_add_in (PawlProof *self, const char *file, PawlSeverity severity, const char *code, int line, const char *format, ...)
{
  va_list args;

  va_start (args, format);
  add_valist (self, file, severity, code, line, format, args);
  va_end (args);
}

char *
pawl_proof_dup_hint_from (PawlProof *self, const char *typed, GPtrArray *ids, const char *otherwise)
{
  const char *near_one = NULL;

  /* Beyond the cap nobody reads the hint. */
  if (self->findings->len < PAWL_PROOF_MAX_FINDINGS)
    {
      g_ptr_array_add (ids, NULL);
      near_one = pawl_suggest (typed, (const char * const *) ids->pdata);
    }
  return near_one != NULL ? g_strdup_printf ("did you mean \"%s\"?", near_one) : g_strdup (otherwise);
}

char *
pawl_proof_dup_hint (PawlProof *self, const char *typed, GPtrArray *array, const char *otherwise)
{
  g_autoptr(GPtrArray) ids = g_ptr_array_new ();

  for (guint i = 0; i < array->len; i++)
    g_ptr_array_add (ids, *(char **) g_ptr_array_index (array, i));
  return pawl_proof_dup_hint_from (self, typed, ids, otherwise);
}

/* The procedure's own findings first, by line; those of the figure after them. */
static int
compare_findings_cb (gconstpointer a, gconstpointer b, gpointer user_data)
{
  const PawlFinding *finding_a = *(const PawlFinding * const *) a;
  const PawlFinding *finding_b = *(const PawlFinding * const *) b;
  const char *own_file = user_data;
  gboolean is_other_a = strcmp (finding_a->file, own_file) != 0;
  gboolean is_other_b = strcmp (finding_b->file, own_file) != 0;

  if (is_other_a != is_other_b)
    return is_other_a - is_other_b;
  if (finding_a->line != finding_b->line)
    return finding_a->line - finding_b->line;
  return strcmp (finding_a->code, finding_b->code);
}

static void
check_verified (PawlProof *self)
{
  if (self->procedure->verified == PAWL_VERIFIED_NOT)
    pawl_proof_add (self, PAWL_SEVERITY_ADVICE, "verified-not", self->procedure->verified_line,
                    "nobody has gone through this procedure yet; read it against the book, then say how=\"on-paper\", and on-object once it was done");
}

GPtrArray *
pawl_procedure_proof_read (PawlProcedure *self, const PawlRegionList *regions)
{
  PawlProof proof = { .procedure = self, .regions = regions };

  g_return_val_if_fail (PAWL_IS_PROCEDURE (self), NULL);

  proof.findings = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_finding_free);
  check_verified (&proof);
  pawl_proof_check_ids (&proof);
  pawl_proof_check_parts (&proof);
  pawl_proof_check_kit (&proof);
  pawl_proof_check_order (&proof);
  pawl_proof_check_asks (&proof);
  pawl_proof_check_covers (&proof);
  pawl_proof_check_commands (&proof);
  pawl_proof_check_words (&proof);
  g_ptr_array_sort_with_data (proof.findings, compare_findings_cb, self->name);
  if (proof.is_cut)
    g_ptr_array_add (proof.findings,
                     pawl_finding_new (PAWL_SEVERITY_ERROR, "too-many", self->name, 0,
                                       g_strdup ("there are more findings than are listed here; mend these and check again")));
  return proof.findings;
}

/* The code of a finding for what the strict reader refuses. In the order of PawlProcedureError. */
static const char * const refusal_codes[] = { "not-readable", "not-xml", "not-allowed", "schema", "bad-quantity" };

GPtrArray *
pawl_procedure_check_file (const char *path, const PawlRegionList *regions, PawlProcedure **procedure)
{
  g_autoptr(PawlProcedure) loaded = NULL;
  PawlFault fault = { 0 };
  GPtrArray *findings;

  g_return_val_if_fail (path != NULL, NULL);

  loaded = pawl_load_path (path, NULL, &fault);
  if (loaded != NULL)
    findings = pawl_procedure_proof_read (loaded, regions);
  else
    {
      findings = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_finding_free);
      g_ptr_array_add (findings, pawl_finding_new (PAWL_SEVERITY_ERROR, refusal_codes[fault.code], path, fault.line,
                                                   g_steal_pointer (&fault.message)));
    }
  if (procedure != NULL)
    *procedure = g_steal_pointer (&loaded);
  return findings;
}
