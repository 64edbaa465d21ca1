/* What the tests of sharing have in common: benches with clocks and ids of their own, and both kinds of store. */
#pragma once

#include "record-fixture.h"
#include "share/pawl-share.h"

/* A kind of store, and what a test does to it past Pawl. All assert that they work. */
typedef struct {
  const char *name;
  char *(*make)   (Fixture *fixture);                       /* (transfer full): the address of a store that is new and empty */
  char *(*query)  (const char *address, const char *sql);   /* (transfer full): of the tables @entry, @kept: a value */
  void  (*tamper) (const char *address, const char *sql);   /* the same, and the guards look away */
  const char *put_back;                                     /* for that: as from a backup of when no job had more than two entries */
} Driver;

extern const Driver drivers[];
extern const guint  n_drivers;

void share_drivers_set_up    (void); /* starts the server, where there is one to be tested with */
void share_drivers_tear_down (void);

/* A bench: its copy, which is opened as long as the struct lives. */
typedef struct {
  PawlRecordHost host;
  GDateTime     *now;
  guint          n_ids, number;
  char          *path;
  PawlRecord    *copy;
  PawlStore     *store;
  PawlShare     *share;
} Bench;

void   bench_set_up (Bench *self, Fixture *fixture, guint number, const char *address);
void   bench_clear  (Bench *self);
char  *bench_open_job (Bench *self, const char *serial);
void   bench_note   (Bench *self, const char *job_id, const char *text);
void   bench_photo  (Bench *self, const char *job_id, const char *picture);
/* Opens the store anew, as the program does when it starts. */
void   bench_restart (Bench *self, const char *address);
/* Asserts that it works, that nothing waits after it, and that the copy is sound. */
PawlShareCount bench_sync (Bench *self);
/* Asserts that it fails with @code, in one sentence that begins with the address; (transfer full): the sentence. */
char  *bench_fail_to_sync (Bench *self, PawlStoreError code);
PawlCopyState bench_load_state (Bench *self); /* to be cleared */

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Bench, bench_clear)
