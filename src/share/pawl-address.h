/* Where a shop's shared set is, and where a bench's copy of it is. */
#pragma once

#include "share/pawl-store.h"

G_BEGIN_DECLS

/* postgresql://… (or postgres://…) is a database, sqlite:///FOLDER/FILE a record on a folder that the benches share. Anything else is a path. */
gboolean    pawl_address_is_one       (const char *text);
/* PAWL_STORE_ERROR_ADDRESS when it can't be read, or when Pawl was built without what it needs. The store is not opened. */
PawlStore  *pawl_address_new_store    (const char *address, GError **error);
/* (transfer full): $XDG_DATA_HOME/pawl/copies/DIGEST.db, or the same under @data_home when given; of all that tells the set, and no password. */
char       *pawl_address_dup_copy_path (const char *address, const char *data_home, GError **error);
/*
 * Opens the copy as pawl_record_open() would. It is made, empty, when it isn't there, also to be read: then nothing of the set has come yet.
 */
PawlRecord *pawl_address_open_copy    (const char *address, const char *data_home, PawlRecordOpen how, const PawlRecordHost *host, GError **error);

G_END_DECLS
