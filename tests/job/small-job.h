/* A job on a procedure that stands in the test: its entries in memory, a clock that stands. */
#pragma once

#include <string.h>

#include "job/pawl-job.h"
#include "procedure/pawl-reader.h"

typedef struct {
  PawlProcedure *procedure;
  GPtrArray     *entries;
  GDateTime     *now;
} Fixture;

#define SMALL_JOB_ACCEPTED (-1)

/* @variant: (nullable) */
static inline void
small_job_set_up (Fixture *self, const char *xml, const char *variant)
{
  g_autoptr(GBytes) bytes = g_bytes_new (xml, strlen (xml));
  g_autoptr(GError) error = NULL;
  PawlEntry *opening;

  self->procedure = pawl_procedure_load_bytes (bytes, "small.xml", NULL, &error);
  g_assert_no_error (error);
  self->entries = g_ptr_array_new_with_free_func ((GDestroyNotify) pawl_entry_unref);
  self->now = g_date_time_new_from_iso8601 ("2026-11-25T08:00:00+00:00", NULL);
  opening = pawl_entry_new (PAWL_ENTRY_OPENED, "", "Ann", self->now);
  pawl_entry_set (opening, "variant", variant);
  g_ptr_array_add (self->entries, opening);
}

static inline void
small_job_tear_down (Fixture *self, gconstpointer data)
{
  g_object_unref (self->procedure);
  g_ptr_array_unref (self->entries);
  g_date_time_unref (self->now);
}

static inline PawlJob *
small_job_fold (Fixture *self)
{
  return pawl_job_fold (self->procedure, self->entries, self->now);
}

/* @entry is taken over. Appended when the job says yes: SMALL_JOB_ACCEPTED; else the PawlJobError. */
static inline int
small_job_offer (Fixture *self, PawlEntry *entry)
{
  g_autoptr(PawlJob) job = small_job_fold (self);
  g_autoptr(PawlEntry) taken = entry;
  g_autoptr(GError) error = NULL;

  if (!pawl_job_check (job, taken, &error))
    return error->code;
  g_assert_no_error (error);
  g_ptr_array_add (self->entries, g_steal_pointer (&taken));
  return SMALL_JOB_ACCEPTED;
}
