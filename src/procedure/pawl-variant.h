/*
 * Variants: which of its kind a unit is. They stand in sets of which one each applies: rotation, model, a break at a serial number. What a
 * job's unit is, is the list of their ids, one of each set, with blanks between: "clockwise late". What a step, ask or part is for is
 * such a list too, of those that must all apply; none: for all.
 */
#pragma once

#include "procedure/pawl-procedure.h"

G_BEGIN_DECLS

/* Whether something marked with @of is for @variant; (nullable) both: what is marked with none is for all. */
gboolean    pawl_variant_matches           (const char *of, const char *variant);
/* Whether no unit can be both: the two name different ones of one set. (nullable) both. */
gboolean    pawl_variant_excludes          (PawlProcedure *procedure, const char *a, const char *b);
/* (transfer full) (element-type utf8): every unit there can be, "clockwise early"; one "" when there are no variants. Two hundred at most. */
GPtrArray  *pawl_variant_list_combinations (PawlProcedure *procedure);
/* (transfer full) (nullable): the first of them that something marked with @of is for. @of: (nullable) */
char       *pawl_variant_dup_first         (PawlProcedure *procedure, const char *of);
/* (transfer full): names in the order of the sets, "Clockwise, seen at the drive end; from serial 1200"; an unknown id as it stands. */
char       *pawl_variant_describe          (PawlProcedure *procedure, const char *variant);
/* (nullable): the variant of the set @set that a serial number says: by the last run of digits in it. NULL: it says nothing. */
const PawlVariant *pawl_variant_find_by_serial (PawlProcedure *procedure, guint set, const char *serial);
/**
 * pawl_variant_complete:
 * @variant: (nullable): ids that are known
 * @serial: (nullable)
 * @how: (out) (transfer full) (optional): "Build by the serial number 1407"; "" when nothing was worked out
 *
 * Returns: (transfer full): @variant in the order of the sets, with what the serial number says of sets that it does not name.
 */
char       *pawl_variant_complete          (PawlProcedure *procedure, const char *variant, const char *serial, char **how);
/* Whether @variant names known ids, no two of one set. @problem: (out) (transfer full): what is wrong and what would be right. */
gboolean    pawl_variant_check             (PawlProcedure *procedure, const char *variant, char **problem);
/* (nullable): the limits of a reading that differ by variant, for @variant (nullable); NULL when none of them is for it. */
PawlLimits *pawl_variant_peek_limits       (const PawlReading *reading, const char *variant);

G_END_DECLS
