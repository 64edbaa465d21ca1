/* Threads by name: M6, M6x0.75, 1/4-20, #10-32 UNF, 3/8 UNC, 20 tpi. Diameter and pitch; what follows from these is in the bench sum "thread". */
#pragma once

#include "measure/pawl-quantity.h"

G_BEGIN_DECLS

typedef struct {
  PawlQuantity *diameter; /* (nullable): basic major diameter, exact; NULL for so many threads in an inch */
  PawlQuantity *pitch;    /* exact, millimetres or inches */
} PawlThread;

/* Whether @text means to be a thread, and not a length. */
gboolean pawl_thread_looks_like (const char *text);
/**
 * pawl_thread_parse:
 * @text: a name, or threads in an inch
 * @thread: (out): to be cleared by pawl_thread_clear(); empty on error
 * @error: PAWL_READING_ERROR_NOT_A_NUMBER: no thread; _AMBIGUOUS: the name leaves the pitch open, and no series is said
 *
 * Without a pitch: coarse for a metric thread (ISO 261), the series that is said for an inch thread (ASME B1.1).
 */
gboolean pawl_thread_parse      (const char *text, PawlThread *thread, GError **error);
void     pawl_thread_clear      (PawlThread *thread);

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (PawlThread, pawl_thread_clear)

G_END_DECLS
