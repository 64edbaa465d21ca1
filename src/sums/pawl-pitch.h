/* The pitch of a screw as it is told at the bench. */
#pragma once

#include "measure/pawl-unit.h"

G_BEGIN_DECLS

/**
 * pawl_pitch_parse:
 * @text: the name of a thread that says its pitch: "M6x1", "1/4-20", "1/4-20 UNC", "#10-32"; or threads in an inch: "20 tpi", "20 per inch"
 * @value: (out): in @unit
 * @unit: (out): mm or in
 *
 * FALSE when it is none of these; it may still be a length.
 */
gboolean pawl_pitch_parse (const char *text, mpq_t value, const PawlUnit **unit);
/* "M6", "1/4 in UNC": the name of a thread that leaves its pitch to a table */
gboolean pawl_pitch_is_unsaid (const char *text);

G_END_DECLS
