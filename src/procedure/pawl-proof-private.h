/* The proof-reader: what its files share. Each pawl_proof_check_… adds the findings of one subject. */
#pragma once

#include "procedure/pawl-order.h"
#include "procedure/pawl-procedure-private.h"
#include "procedure/pawl-reader.h"
#include "procedure/pawl-words-private.h"

G_BEGIN_DECLS

/* A hostile file is not allowed to fill the memory with its faults. */
#define PAWL_PROOF_MAX_FINDINGS 1000

typedef struct {
  PawlProcedure        *procedure;
  const PawlRegionList *regions;  /* (nullable) */
  GPtrArray            *findings; /* (element-type PawlFinding) */
  gboolean              is_cut;   /* over the cap */
} PawlProof;

void  pawl_proof_add  (PawlProof *self, PawlSeverity severity, const char *code, int line, const char *format, ...) G_GNUC_PRINTF (5, 6);
/* The same, about another file. */
void  pawl_proof_add_in (PawlProof *self, const char *file, PawlSeverity severity, const char *code, int line, const char *format, ...) G_GNUC_PRINTF (6, 7);
/* (transfer full): "did you mean \"…\"?" from the ids of @array, whose structs begin with their id; else @otherwise. */
char *pawl_proof_dup_hint (PawlProof *self, const char *typed, GPtrArray *array, const char *otherwise);
/* The same from the ids themselves; @ids gains a NULL at its end. */
char *pawl_proof_dup_hint_from (PawlProof *self, const char *typed, GPtrArray *ids, const char *otherwise);

PawlFinding *pawl_finding_new (PawlSeverity severity, const char *code, const char *file, int line, char *message_taken);

void  pawl_proof_check_ids     (PawlProof *self); /* pawl-proof-ids.c: duplicates, and ids that lead nowhere */
void  pawl_proof_check_parts   (PawlProof *self); /* pawl-proof-parts.c: regions, kit, removal and installation */
void  pawl_proof_check_kit     (PawlProof *self); /* pawl-proof-kit.c: the kit counted, look-alikes, donors, own marks */
void  pawl_proof_check_order   (PawlProof *self); /* pawl-proof-order.c: cycles, what is covered too early */
void  pawl_proof_check_asks    (PawlProof *self); /* pawl-proof-asks.c: rules, readings, waits, checks */
void  pawl_proof_check_hold    (PawlProof *self, const PawlStep *step, const PawlAsk *ask); /* pawl-proof-holds.c: of a fit */
void  pawl_proof_check_reading (PawlProof *self, const PawlStep *step, const PawlAsk *ask); /* pawl-proof-readings.c */
void  pawl_proof_check_variant_limits (PawlProof *self, const PawlStep *step, const PawlAsk *ask); /* pawl-proof-variants.c: each unit has exactly one */
void  pawl_proof_check_covers  (PawlProof *self); /* pawl-proof-covers.c: what the figure says is hidden, and no step covers */
void  pawl_proof_check_commands (PawlProof *self); /* pawl-proof-commands.c: what is asked first and told by the command */
void  pawl_proof_check_words   (PawlProof *self); /* pawl-proof-words.c: sizes said twice, commands, dangers */

G_END_DECLS
