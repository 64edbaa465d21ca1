/* What is written once and stands for several: see pawl-each.c. */
#pragma once

#include "procedure/pawl-xml-private.h"

G_BEGIN_DECLS

#define PAWL_EACH_MAX_NAMES 24
#define PAWL_EACH_MAX_DEPTH 2

/**
 * pawl_each_expand:
 *
 * Writes every <each> of @doc out, in place.
 *
 * Returns: (transfer full) (nullable) (element-type xmlNode utf8): of each element written out which one it is, "cylinder 2"; %NULL with
 *   @fault set.
 */
GHashTable *pawl_each_expand (xmlDoc *doc, PawlFault *fault);

G_END_DECLS
