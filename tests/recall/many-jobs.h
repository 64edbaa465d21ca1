/*
 * A record of many jobs, made by the library itself: for tests of recall, and to measure it. Units, shops, people, marks and lots are
 * invented, and what is in job n follows from n, so that a test knows what must be found.
 */
#pragma once

#include "record/pawl-record.h"

#define MANY_JOBS_PROCEDURE "st-9-strainer"
#define MANY_JOBS_N_INSTRUMENTS 20
#define MANY_JOBS_N_REVISIONS 4
#define MANY_JOBS_PER_LOT 25

/* What job @n is made of. */
typedef struct {
  char        serial[16], work_order[16], lot[16], revision[4];
  char        instruments[2][8]; /* marks: of the readings with even numbers, of those with odd ones */
  const char *customer, *complaint, *note, *person;
  char        day[12];
} ManyJob;

ManyJob many_job_describe (guint n);
/* Every tenth job: its last reading was taken back and taken again. */
gboolean many_job_has_undone (guint n);

/* Makes the record @path of @n_jobs jobs with @n_readings readings each. Not synced: nobody's work is in it. */
void    many_jobs_make    (const char *path, guint n_jobs, guint n_readings);
