/* A layer between SQLite and the file system that fails, or dies, at the operation it is told to. Only one, only for tests. */
#pragma once

#include <glib.h>

typedef enum {
  FAULT_FULL,         /* a write finds no room */
  FAULT_IO,           /* any operation fails before it does anything */
  FAULT_IO_AFTER,     /* any operation is done, and then reported as failed */
  FAULT_DEATH,        /* the process is killed before the operation */
  FAULT_DEATH_TORN,   /* the process is killed when half of a write is done */
} Fault;

/* From now on SQLite goes through the layer. Call once. Syncs are only counted: a killed process does not test the disk. */
void     faulty_disk_install (void);
/* Lets @n_good operations that change something (write, truncate, sync, delete) pass, then brings @fault about, once. */
void     faulty_disk_arm     (Fault fault, guint n_good);
/* Whether the fault came about since it was armed; nothing fails after this. */
gboolean faulty_disk_disarm  (void);
