/*
 * What is written down when a unit is taken in: the fields of an opening that say what came, whose it is and what is wanted. Any of them may be
 * corrected later by an entry of the kind `corrected`, which names what it changes as the opening does; "-" takes a field back.
 * What decides how a job is worked and judged (variant, policy, …) stands in the opening too, but is none of these.
 */
#pragma once

#include "record/pawl-entry.h"

G_BEGIN_DECLS

#define PAWL_INTAKE_TAKEN_BACK "-"

typedef struct {
  const char *id;        /* in the entry: "work-order" */
  const char *name;      /* in a sentence, after "the": "work order" */
  gboolean    is_needed; /* a job is never without */
} PawlIntakeField;

/* In the order in which they are told. */
const PawlIntakeField *pawl_intake_list_fields   (guint *n_fields);
const PawlIntakeField *pawl_intake_lookup_field  (const char *id); /* (nullable) */
/* (transfer full): "unit, serial, work-order, …" */
char                  *pawl_intake_name_fields   (void);
/* (nullable): what @entry, a correction, puts in the place of @field: "" when it takes it back; NULL when it does not name it. */
const char            *pawl_intake_get_corrected (const PawlEntry *entry, const char *field);

G_END_DECLS
