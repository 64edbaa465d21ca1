/* A page or two of one person's log book, to print and sign: hours and tasks, what was right at once, how fast it became. */
#pragma once

#include "report/pawl-pages.h"
#include "training/pawl-class.h"

G_BEGIN_DECLS

typedef struct {
  PawlPaper   paper;
  const char *shop;   /* (nullable) */
  GDateTime  *issued;
} PawlLogBookOptions;

/* (transfer full): of @learner of a finished class; not kept. */
PawlPages *pawl_log_book_new (const PawlLearner *learner, const PawlLogBookOptions *options);

G_END_DECLS
