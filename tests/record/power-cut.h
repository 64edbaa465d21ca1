/*
 * A layer between SQLite and the file system that knows what a power cut would leave: what was synced, and of what was not, any part.
 *
 * Until the cut the files are as the program sees them. At the cut each write since the last sync of its file is there, is not, or is torn
 * at 512 bytes, by chance and in any order; a new or deleted name counts only once its folder was synced, or by chance. Syncs themselves
 * only move that line and cost no time, so that thousands of cuts can be tried. Only one, only for tests.
 */
#pragma once

#include <glib.h>

/* From now on SQLite goes through the layer. Call once. */
void     power_cut_install (void);
/* Takes the file at @path, and its journal, as they are for durable; after @n_good more operations that change something, cuts. */
void     power_cut_arm     (const char *path, GRand *rand, guint n_good);
/* Cuts now, if it has not happened yet. */
void     power_cut_now     (void);
gboolean power_cut_was     (void);
/* Puts what is left on the disk. To be called when the record is closed. */
void     power_cut_reboot  (void);
