#pragma once

#include "solids/pawl-solids.h"

G_BEGIN_DECLS

GPtrArray *pawl_solids_axis_lines (const PawlSolids *solids);

G_END_DECLS
