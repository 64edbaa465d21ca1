/* What the tests of bundles share. */
#pragma once

#include "bundle/pawl-bundle-private.h"
#include "record-fixture.h"

/* A record with a job of 8 entries and a photo, a second job of 2, and an instrument. */
void        bundle_fill      (Fixture *fixture, PawlRecord *record, char **job_id);
char       *bundle_dup_place (Fixture *fixture, const char *name); /* a path in the fixture's folder */
PawlRecord *bundle_open_at   (Fixture *fixture, const char *path);
/* @chains: (nullable): all. Asserts that it works. */
void        bundle_write     (PawlRecord *record, const char *const *chains, const char *path);
GBytes     *bundle_load_file (const char *path);
