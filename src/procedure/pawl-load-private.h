/* Loading without GError, for whoever wants the line as a number. */
#pragma once

#include "procedure/pawl-reader-private.h"

G_BEGIN_DECLS

/* (transfer full) (nullable): NULL with @fault set. */
PawlProcedure *pawl_load_bytes (GBytes *bytes, const char *name, const char *language, PawlFault *fault);
PawlProcedure *pawl_load_path  (const char *path, const char *language, PawlFault *fault);

G_END_DECLS
